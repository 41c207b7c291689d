//! Who leads from the clean side, and who could go in now (F7, E1).

use super::By;
use super::RescueShortage;
use super::facts::{Facts, Wear};
use super::faults::Faults;
use super::low_hours::latest_off_of;
use super::page::{COMMON_PRACTICE, Page};
use super::room::stay;
use super::set_aside::{Able, served};
use super::sign_off::fits_until;
use crate::night::{EnsembleIx, Minute, Minutes, PersonIx, Role, Rule, Span, Stint};

pub(super) const E1: Page = Page {
    does: "While anyone is inside a room, as many people as the unit asks for stand by: they could start donning now.",
    why: "Somebody who falls inside is fetched by people who are rested and have a kit, or by nobody.",
    formula: "at every minute with anyone inside: named, free, rested, in date, fitted and on duty through now + \
              donning + least stay + removal + shower, wear left for that, a kit and a respirator left for each >= n",
    counts: "Minutes in which fewer of those named could go in, and how many are missing. Where the unit reports a \
             shortage instead of refusing it, they are counted at level 1 and are no fault. Whoever coordinates in \
             that minute does not stand by.",
    source: COMMON_PRACTICE,
};

pub(super) const F7: Page = Page {
    does: "While anyone is inside a room, a named coordinator leads from the clean side and does nothing else.",
    why: "Somebody has to see the whole, and be found.",
    formula: "at every minute with anyone inside: one named, in date, on duty, rested, free of duty, break and shower",
    counts: "Stretches without one. A person named while busy, on break, in the shower, at rest, off duty or not in date does not \
             count in that minute.",
    source: "On-site manager at all times: CDC, PPE for unstable patients with viral haemorrhagic fever, from memory.",
};

/// F7 and, where the unit refuses a shortage, E1.
pub(super) fn rescue(facts: &Facts, faults: &mut Faults) {
    if facts.limits.coordinator {
        for span in stretches(facts, |at| coordinators(facts, at).next().is_none().then_some(())) {
            faults.add(Rule::F7, span.0, &[], None, || {
                format!("Somebody is inside {} and nobody coordinates.", facts.times(span.0))
            });
        }
    }
    if facts.limits.standby.is_some_and(|standby| !standby.report) {
        for short in shortages(facts) {
            let missing = short.needed - short.there;
            faults.add(Rule::E1, short.span, &[], Some(By::Count(missing)), || {
                let RescueShortage { span, needed, there } = short;
                format!("Somebody is inside {}; {needed} should stand by, {there} can.", facts.times(span))
            });
        }
    }
}

/// Stretches with somebody inside and too few who stand by.
pub(super) fn shortages(facts: &Facts) -> Vec<RescueShortage> {
    let Some(standby) = facts.limits.standby else { return vec![] };
    let needed = standby.responders;
    let there = |at| Some(standing_by(facts, at)).filter(|&there| there < needed);
    let found = stretches(facts, there);
    found.into_iter().map(|(span, there)| RescueShortage { span, needed, there }).collect()
}

/// The longest stretches of minutes with somebody inside in which `found` says the same.
fn stretches<T: PartialEq + Copy>(facts: &Facts, found: impl Fn(Minute) -> Option<T>) -> Vec<(Span, T)> {
    let mut all: Vec<(Span, T)> = Vec::new();
    for inside in inside(facts) {
        for at in (inside.from.0..inside.to.0).map(Minute) {
            let Some(what) = found(at) else { continue };
            match all.last_mut() {
                Some((span, same)) if span.to == at && *same == what => span.to = at + Minutes(1),
                _ => all.push((Span::new(at, at + Minutes(1)), what)),
            }
        }
    }
    all
}

/// When anyone is inside any room.
pub(super) fn inside(facts: &Facts) -> Vec<Span> {
    let mut stays: Vec<Span> = facts.rota.entries.iter().map(stay).filter(|span| !span.is_empty()).collect();
    stays.sort_unstable();
    let mut all: Vec<Span> = Vec::new();
    for span in stays {
        match all.last_mut() {
            Some(last) if span.from <= last.to => last.to = last.to.max(span.to),
            _ => all.push(span),
        }
    }
    all
}

pub(super) fn named(stints: &[Stint], at: Minute) -> impl Iterator<Item = PersonIx> {
    let mut people: Vec<PersonIx> = stints.iter().filter(|s| s.span.contains(at)).map(|s| s.person).collect();
    people.sort_unstable();
    people.dedup();
    people.into_iter()
}

/// Those named who do coordinate at a minute.
fn coordinators<'f>(facts: &'f Facts<'_>, at: Minute) -> impl Iterator<Item = PersonIx> + 'f {
    named(&facts.rota.coordinators, at).filter(move |&person| {
        let in_date = facts.past_in_date(person, Role::Coordinator, at + Minutes(1)).is_ok_and(|past| past.0 == 0);
        in_date && is_free(facts, person, at) && is_rested(facts, person, at, |worn| facts.limits.full_rest(worn))
    })
}

/// How many of those named could go in now, each with a kit left for them.
fn standing_by(facts: &Facts, at: Minute) -> u32 {
    let able: Vec<Able> = named(&facts.rota.standby, at).filter_map(|person| could_go_in(facts, person, at)).collect();
    let without = |one: Option<PersonIx>| {
        let others: Vec<Able> = able.iter().copied().filter(|a| Some(a.0) != one).collect();
        served(facts, &others, at, |ensemble, size| kits_left(facts, (ensemble, size)))
    };
    if !facts.limits.coordinator {
        return without(None);
    }
    coordinators(facts, at).map(|one| without(Some(one))).max().unwrap_or_else(|| without(None))
}

/// Kits of a size beyond the reserve and all that is planned.
fn kits_left(facts: &Facts, (ensemble, size): (EnsembleIx, &str)) -> u32 {
    let of_size = |person: PersonIx| facts.roster.person(person).size_in(ensemble) == Some(size);
    let used = facts.wears.iter().filter(|w| w.ensemble == Some(ensemble) && of_size(w.person)).count();
    facts.roster.usable_kits(ensemble, size).saturating_sub(u32::try_from(used).unwrap_or(u32::MAX))
}

/// Whether a person could start donning at a minute, stay for the least time and come out; with the kit it takes.
fn could_go_in<'f>(facts: &'f Facts<'_>, person: PersonIx, at: Minute) -> Option<(PersonIx, EnsembleIx, &'f str)> {
    let (roster, limits) = (facts.roster, facts.limits);
    let who = roster.person(person);
    let ensemble = facts.night.room_ensemble(person)?;
    let kit = limits.ensemble(ensemble);
    let size = who.size_in(ensemble)?;
    let off = at + kit.donning + limits.min_stay + kit.removal;
    let in_date = facts.past_in_date(person, Role::Entrant, off).is_ok_and(|past| past.0 == 0);
    let fit =
        who.enter_today && !facts.night.is_supervised(person) && in_date && fits_until(facts, person, ensemble, off);
    let forbidden = roster.forbids(person, Role::Entrant, Span::new(at, off));
    let there = who.on_duty.contains(at) && off + limits.shower <= who.on_duty.to;
    let rested = is_rested(facts, person, at, |worn| limits.rest_between(worn, ensemble));
    let able = fit && there && !forbidden && rested && is_free(facts, person, at) && wear_left(facts, person, at);
    able.then_some((person, ensemble, size))
}

/// On duty, the gap between shifts over, not too many nights or hours, and no duty, break or shower in that minute.
pub(super) fn is_free(facts: &Facts, person: PersonIx, at: Minute) -> bool {
    let who = facts.roster.person(person);
    let back = who.last_off_duty.is_none_or(|last| last + facts.limits.shift_gap <= at);
    let busy = facts.duties_of(person).iter().any(|duty| duty.busy.contains(at));
    let huddle = facts.roster.huddles.iter().any(|h| h.span.contains(at) && h.people.contains(&person));
    let on_break = facts.rota.breaks.iter().any(|b| b.person == person && b.span.contains(at));
    let showers = facts.rota.showers.iter().any(|s| s.person == person && s.span.contains(at));
    let fit = !facts.worn_out[person.0];
    fit && who.on_duty.contains(at) && back && !busy && !huddle && !on_break && !showers
}

/// Out of recovery, and rested after every wear that is over, the last before tonight included.
pub(super) fn is_rested(facts: &Facts, person: PersonIx, at: Minute, rest: impl Fn(EnsembleIx) -> Minutes) -> bool {
    let who = facts.roster.person(person);
    let own = who.own.rest.unwrap_or(Minutes::ZERO);
    let needed = |worn: EnsembleIx| rest(worn).max(facts.limits.ensemble(worn).recovery).max(own);
    let before = who.last_removal.map(|last| (last.off, last.ensemble));
    let tonight = facts.wears_of(person).filter_map(|wear| Some((wear.off, wear.ensemble?)));
    tonight.chain(before).all(|(off, worn)| off > at || at >= off + needed(worn))
}

/// Whether the shortest entry still fits into the wear of the shift, of the person, of the days before, and of low
/// hours it would meet; entries whose donning has not begun are not reserved.
fn wear_left(facts: &Facts, person: PersonIx, at: Minute) -> bool {
    let Some(ensemble) = facts.night.room_ensemble(person) else { return false };
    let (kit, own) = (facts.limits.ensemble(ensemble), facts.roster.person(person).own);
    let before = facts.limits.donning_before_wear(ensemble).unwrap_or(kit.donning);
    let least = kit.donning - before + facts.limits.min_stay + kit.removal;
    let begun = facts.wears_of(person).filter(|wear| wear.don <= at).map(Wear::centi).sum::<i64>();
    let tonight = begun + least.0 * kit.cumulative_percent;
    let worn = facts.roster.person(person).worn_before.0 * 100 + tonight;
    let over_days = facts
        .limits
        .rolling_wear
        .iter()
        .all(|rolling| facts.night.logged_centi(person, rolling.window, at) + tonight <= rolling.max.0 * 100);
    let most = own.cumulative_wear.map_or(facts.limits.cumulative_wear, |o| o.min(facts.limits.cumulative_wear));
    let start = at + before;
    worn <= most.0 * 100 && over_days && start + least <= latest_off_of(facts, person, ensemble, start)
}
