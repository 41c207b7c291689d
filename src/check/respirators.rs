//! Respirators that come back into use: which is worn, for how long, and how many at once (G2).

use std::collections::BTreeMap;

use super::By;
use super::facts::{Facts, Wear};
use super::faults::Faults;
use super::page::Page;
use super::reach::within_reach;
use super::sweep::counted;
use crate::night::{Minute, Minutes, Night, PersonIx, Respirator, Rota, Rule, Span};

pub(super) const G2: Page = Page {
    does: "A respirator unit is in use from the moment it is put on until it is clean, checked and charged again; no \
           more are in use than there are, and none runs longer than its charge less the unit's margin.",
    why: "Counted over the night there may seem to be enough, while at one hour all of them are worn, in the wash or \
          on charge. A unit that stops inside is an emergency.",
    formula: "in use [t_on, t_off + reprocessing + charge), by model and size, at every minute <= units that are \
              ready by then; t_off - t_on <= run time - margin; t_on = end of donning - sealed part",
    counts: "Wears that do not say which model is worn, where the ensemble lists one whose units come back; minutes \
             of run time over; units too many, from the moment at which they run out. Where the ensemble needs no fit \
             test, sizes are counted together. Models of which the constraint set says nothing are only asked for \
             under A2.",
    source: "Common practice, no source. That time in use and not the count decides is arithmetic.",
};

/// One unit in use.
struct Use<'a> {
    wear: &'a Wear<'a>,
    span: Span,
}

/// Model and size; no size where any will do.
type Kind<'a> = (&'a str, Option<&'a str>);

/// G2 for every wear.
pub(super) fn in_turn(facts: &Facts, faults: &mut Faults) {
    if facts.limits.respirators.is_empty() {
        return;
    }
    for wear in &facts.wears {
        let asked = wear.ensemble.is_some_and(|ensemble| facts.limits.says_respirator(ensemble));
        if asked && wear.respirator.is_none() {
            faults.add(Rule::G2, wear.dressed(), &[wear.person], None, || {
                format!(
                    "{} dons at {}: the rota does not say which respirator.",
                    facts.id(wear.person),
                    facts.at(wear.don)
                )
            });
        }
        runs_long_enough(facts, faults, wear);
    }
    for ((model, size), uses) in in_use(facts) {
        enough(facts, faults, (model, size), &uses);
    }
}

/// The model that a wear says, where its units come back.
fn model<'f>(facts: &Facts<'f>, wear: &Wear<'f>) -> Option<&'f Respirator> {
    facts.limits.respirator(wear.respirator?)
}

fn runs_long_enough(facts: &Facts, faults: &mut Faults, wear: &Wear) {
    let Some(most) = model(facts, wear).and_then(Respirator::longest_run) else { return };
    let span = Span::new(wear.respirator_on(), wear.off);
    let by = span.length() - most;
    if by.0 > 0 {
        faults.add(Rule::G2, span, &[wear.person], Some(By::Minutes(by)), || {
            let (id, times, model) = (facts.id(wear.person), facts.times(span), wear.respirator.unwrap_or_default());
            format!(
                "{id} wears respirator {model} {times}, {} min: {by} min over the {most} it may run.",
                span.length()
            )
        });
    }
}

fn in_use<'f>(facts: &'f Facts<'f>) -> BTreeMap<Kind<'f>, Vec<Use<'f>>> {
    let mut all: BTreeMap<Kind<'f>, Vec<Use<'f>>> = BTreeMap::new();
    for wear in &facts.wears {
        let (Some(respirator), Some(ensemble)) = (model(facts, wear), wear.ensemble) else { continue };
        // Whoever cannot wear it is a fault of A2.
        let Ok(fit) = facts.night.respirator_size(wear.person, ensemble, &respirator.model) else { continue };
        let span = Span::new(wear.respirator_on(), wear.off + respirator.turnaround());
        all.entry((&respirator.model, fit.map(|fit| fit.size.as_str()))).or_default().push(Use { wear, span });
    }
    for uses in all.values_mut() {
        uses.sort_by_key(|one| (one.span.from, one.wear.of));
    }
    all
}

fn enough(facts: &Facts, faults: &mut Faults, (model, size): Kind, uses: &[Use]) {
    let mut before = 0;
    for (place, one) in uses.iter().enumerate() {
        let at = one.span.from;
        // The last of those put on in one minute speaks for them.
        if uses.get(place + 1).is_some_and(|next| next.span.from == at) {
            continue;
        }
        let worn: Vec<&Use> = uses[..=place].iter().filter(|other| other.span.contains(at)).collect();
        let there = facts.roster.respirator_units(model, size, at);
        let over = u32::try_from(worn.len()).unwrap_or(u32::MAX).saturating_sub(there);
        if over > before {
            let people: Vec<PersonIx> = worn.iter().rev().take(over as usize).map(|other| other.wear.person).collect();
            let back = worn.iter().map(|other| other.span.to).min().unwrap_or(at);
            faults.add(Rule::G2, Span::new(at, back), &people, Some(By::Count(over)), || {
                let size = size.map_or_else(String::new, |size| format!(" size {size}"));
                let (id, next) = (facts.id(one.wear.person), facts.at(back));
                format!(
                    "Respirator {model}{size} runs out at {} ({id}): {} in use, {there} ready; the next one is back at \
                     {next}.",
                    facts.at(at),
                    worn.len()
                )
            });
        }
        before = over;
    }
}

/// When most units of one model and size are in use at once, worn, in the wash or on charge.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MostInUse {
    /// The model.
    pub model: String,
    /// The size; `None` where sizes are counted together.
    pub size: Option<String>,
    /// Units in use.
    pub in_use: u32,
    /// Units that are ready by then.
    pub ready: u32,
    /// The first minute of it.
    pub at: Minute,
}

/// By model and size, when most units are in use at once (G2).
#[must_use]
pub fn most_in_use(night: &Night, rota: &Rota) -> Vec<MostInUse> {
    let rota = within_reach(night, rota);
    let facts = Facts::of(night, &rota);
    let most = |((model, size), uses): (Kind, Vec<Use>)| {
        let stretches = counted(uses.iter().map(|one| one.span));
        // Of two that are as high the first.
        let (span, in_use) = stretches.into_iter().rev().max_by_key(|(_, number)| *number)?;
        let ready = night.roster.respirator_units(model, size, span.from);
        let (model, size) = (model.to_owned(), size.map(str::to_owned));
        Some(MostInUse { model, size, in_use, ready, at: span.from })
    };
    in_use(&facts).into_iter().filter_map(most).collect()
}

/// Units of a model and size that are ready and not in use in a minute.
pub(super) fn left(facts: &Facts, (model, size): Kind, at: Minute) -> u32 {
    let Some(respirator) = facts.limits.respirator(model) else { return u32::MAX };
    let worn = facts.wears.iter().filter(|wear| wear.respirator == Some(model)).filter(|wear| {
        let fit = wear.ensemble.and_then(|e| facts.night.respirator_size(wear.person, e, model).ok());
        let same = fit.is_some_and(|fit| fit.map(|fit| fit.size.as_str()) == size);
        same && Span::new(wear.respirator_on(), wear.off + respirator.turnaround()).contains(at)
    });
    let worn = u32::try_from(worn.count()).unwrap_or(u32::MAX);
    facts.roster.respirator_units(model, size, at).saturating_sub(worn)
}

/// The latest end of a wear that the charge of its respirator allows, if any does.
pub(super) fn latest_off(facts: &Facts, wear: &Wear) -> Option<Minute> {
    let most: Minutes = model(facts, wear)?.longest_run()?;
    Some(wear.respirator_on() + most)
}
