//! Who may do what: sign-offs, how lately a role was done, fit tests, kits and sizes (A1, A2, A9).

use super::By;
use super::facts::{Facts, Of, Wear};
use super::faults::Faults;
use super::page::Page;
use crate::night::{EnsembleIx, Minute, Minutes, PersonIx, Role, Rule, Span};

pub(super) const A1: Page = Page {
    does: "A duty is done only by someone signed off for it, in date at the end of that duty.",
    why: "A sign-off that lapses half-way through a removal is no sign-off at the moment it matters.",
    formula: "end of duty <= local 24:00 of valid_through",
    counts: "Minutes past 24:00 of the last day. An entrant's duty ends with the own removal; so does that of an \
             assistant or observer in a kit. A donning observer's ends with the donning, an observer's without a kit \
             with the removal watched, an assistant's without a kit with the removal and the cleaning that is theirs.",
    source: "Competence shown before care: CDC guidance of 20 October 2014, seen second hand in the AIHA Synergist \
             summary. The dates are the unit's.",
};

pub(super) const A2: Page = Page {
    does: "Whoever is dressed is signed off for that ensemble and size, and wears a respirator model and size that \
           fits, in date, of which there are some.",
    why: "A respirator that was not fitted to this face does not protect it.",
    formula: "the (model, size) that the rota says, or some of the ensemble: fit test valid at t_off, and stock > 0",
    counts: "Nothing in minutes: it holds or it does not. Where the ensemble needs no fit test, some of its models \
             must be in stock. Kits themselves are counted under G1.",
    source: "Fit test at least every 12 months, same model and size: WAC 296-307-60605 (Washington State), seen. \
             29 CFR 1910.134(f)(2), seen second hand.",
};

pub(super) const A9: Page = Page {
    does: "A duty is done only by someone who did or drilled it within as many days as the unit says for that role.",
    why: "A hand that has not done it for months is not the hand that was signed off.",
    formula: "end of duty <= local 24:00 of (last_done + days)",
    counts: "Minutes past 24:00 of that day, a second date beside the sign-off; the duty ends where A1 says. Last done \
             on the 1st with 30 days is good through the 31st. Where the unit asks for a role and the day is not \
             known, the role is not held. A role of which the unit does not ask is NOT CHECKED.",
    source: "Regular refresher courses: ECDC, safe use of personal protective equipment, October 2014, seen; no \
             interval is given there. The days are the unit's.",
};

/// A1 and A9 for every duty of the rota.
pub(super) fn signed_off(facts: &Facts, faults: &mut Faults) {
    for wear in &facts.wears {
        covered(facts, faults, wear.person, worn_as(facts, wear), wear.dressed(), wear.off);
    }
    for donning in &facts.donnings {
        if let Some(observer) = donning.observer {
            covered(facts, faults, observer, Role::DonningObserver, donning.span, donning.span.to);
        }
    }
    for watch in facts.watches.iter().filter(|w| w.post.is_none()) {
        covered(facts, faults, watch.observer, Role::DoffingObserver, watch.removal, watch.removal.to);
    }
    for assist in facts.assists.iter().filter(|a| a.post.is_none()) {
        covered(facts, faults, assist.assistant, Role::Assistant, assist.removal, assist.until);
    }
}

fn worn_as(facts: &Facts, wear: &Wear) -> Role {
    match wear.of {
        Of::Entry(_) => facts.night.enters_as(wear.person),
        Of::Post(p) => facts.rota.posts[p].role.sign_off(),
    }
}

fn covered(facts: &Facts, faults: &mut Faults, person: PersonIx, role: Role, duty: Span, end: Minute) {
    let Some(signed) = facts.roster.person(person).signed_through(role) else {
        faults.add(Rule::A1, duty, &[person], None, || {
            format!("{} is not signed off as {}, planned {}.", facts.id(person), role.word(), facts.times(duty))
        });
        return;
    };
    let past = facts.past_day(signed, end);
    if past.0 > 0 {
        faults.add(Rule::A1, duty, &[person], Some(By::Minutes(past)), || {
            let last = facts.roster.clock.date(end - past - Minutes(1));
            format!(
                "{}'s sign-off as {} ends at 24:00 on {last}; this duty ends {}, {past} min later.",
                facts.id(person),
                role.word(),
                facts.at(end)
            )
        });
    }
    recent(facts, faults, person, role, duty, end);
}

/// A9 for a role that is signed off.
fn recent(facts: &Facts, faults: &mut Faults, person: PersonIx, role: Role, duty: Span, end: Minute) {
    let Some(last) = facts.recent_through(person, role) else { return };
    let (Some(done), Some(through)) = (last.done, last.through) else {
        faults.add(Rule::A9, duty, &[person], None, || {
            format!(
                "It is not known when {} last did {}; within {} days is asked for, planned {}.",
                facts.id(person),
                role.word(),
                last.days,
                facts.times(duty)
            )
        });
        return;
    };
    let past = facts.past_day(through, end);
    if past.0 > 0 {
        faults.add(Rule::A9, duty, &[person], Some(By::Minutes(past)), || {
            format!(
                "{} as {}: last done {done}, recency {} days, good through {through}; this duty ends {}, {past} min \
                 later.",
                facts.id(person),
                role.word(),
                last.days,
                facts.at(end)
            )
        });
    }
}

/// A2 for everyone who is dressed.
pub(super) fn fitted(facts: &Facts, faults: &mut Faults) {
    // A post in a kit that the unit does not have is a fault of C3 or C5.
    let posts_without = |wear: &&Wear| wear.ensemble.is_none() && matches!(wear.of, Of::Post(_));
    for wear in facts.wears.iter().filter(|w| !posts_without(w)) {
        let signed = wear.ensemble.is_some_and(|e| facts.roster.person(wear.person).size_in(e).is_some());
        if !signed {
            faults.add(Rule::A2, wear.dressed(), &[wear.person], None, || {
                format!("{} is signed off for no ensemble to wear at {}.", facts.id(wear.person), facts.at(wear.don))
            });
        } else if !has_respirator(facts, wear) {
            faults.add(Rule::A2, wear.dressed(), &[wear.person], None, || no_respirator(facts, wear));
        }
    }
}

fn no_respirator(facts: &Facts, wear: &Wear) -> String {
    format!(
        "{} has no respirator for {} at {} that is in stock{}.",
        facts.id(wear.person),
        wear.kit.id,
        facts.at(wear.don),
        if wear.kit.fit_test { " and fit-tested to the end of the removal" } else { "" }
    )
}

/// The model that the rota says, or the only one the kit is worn with, fits; of several unsaid ones some does.
fn has_respirator(facts: &Facts, wear: &Wear) -> bool {
    let Some(ensemble) = wear.ensemble else { return true };
    match wear.respirator {
        Some(model) => {
            let listed = wear.kit.respirators.iter().any(|own| own == model);
            listed && model_fits(facts, wear.person, (ensemble, model), wear.off)
        }
        None => fits_until(facts, wear.person, ensemble, wear.off),
    }
}

/// Whether a respirator of the ensemble is in stock, and fits the person in date until `off` where the unit wants it.
pub(super) fn fits_until(facts: &Facts, person: PersonIx, ensemble: EnsembleIx, off: Minute) -> bool {
    let models = &facts.limits.ensemble(ensemble).respirators;
    models.is_empty() || models.iter().any(|model| model_fits(facts, person, (ensemble, model), off))
}

fn model_fits(facts: &Facts, person: PersonIx, (ensemble, model): (EnsembleIx, &str), off: Minute) -> bool {
    let fit = facts.night.respirator_size(person, ensemble, model);
    fit.is_ok_and(|fit| fit.is_none_or(|fit| facts.past_day(fit.valid_through, off).0 == 0))
}
