//! Nights in a row and hours in a week, shifts before tonight included (F8).

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};

use super::By;
use super::NotChecked;
use super::facts::Facts;
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use super::unchecked::why_unread;
use crate::night::{Minute, Minutes, Night, NightsInARow, PersonIx, Rule, Span, WEEK};

pub(super) const F8: Page = Page {
    does: "Nobody has a duty who comes out of tonight with more nights in a row, or more hours on duty in a week, than \
           the unit allows.",
    why: "Tiredness adds up from night to night, and nobody feels how much.",
    formula: "nights in a row up to the last one of tonight's duty <= max; time on duty in (off_duty - 7 x 24 h, \
              off_duty] from the log and tonight <= week_max",
    counts: "Once a person with any duty on the rota: nights too many, and minutes too many. A duty is a night if it \
             shares a minute with the hours that the unit names; nights are in a row on days one after another. \
             Tonight counts as the roster has it, from on duty to off duty, in elapsed minutes, also where the clocks \
             change. Whoever is over coordinates, stands by and sees to an early exit for nobody. What the log does \
             not reach back to is NOT CHECKED, never taken for zero: what is known is checked all the same.",
    source: COMMON_PRACTICE,
};

/// F8 for everyone with a duty.
pub(super) fn not_too_much(facts: &Facts, faults: &mut Faults) {
    for person in facts.roster.person_indices().filter(|&person| !facts.duties_of(person).is_empty()) {
        let (id, duty) = (facts.id(person), facts.roster.person(person).on_duty);
        if let Some((limit, over)) = nights_over(facts, person) {
            faults.add(Rule::F8, duty, &[person], Some(By::Count(over)), || {
                let (most, all) = (limit.max, limit.max + over);
                format!("{id} comes out of this duty with {all} nights in a row, {over} more than the {most} allowed.")
            });
        }
        if let Some(over) = minutes_over(facts, person) {
            faults.add(Rule::F8, duty, &[person], Some(By::Minutes(over)), || {
                let most = facts.limits.week_max.unwrap_or(Minutes::ZERO);
                let (at, day) = (facts.at(duty.to), facts.roster.clock.date(duty.to).format("%-d %b"));
                format!(
                    "{id} is on duty for {} in the 7 days to {day} {at}, {over} min more than the {} allowed.",
                    (most + over).in_hours(),
                    most.in_hours()
                )
            });
        }
    }
}

/// Whether a person may have no duty at all tonight.
pub(super) fn is_over(facts: &Facts, person: PersonIx) -> bool {
    nights_over(facts, person).is_some() || minutes_over(facts, person).is_some()
}

/// By how many nights tonight's duty is over the unit's limit.
fn nights_over(facts: &Facts, person: PersonIx) -> Option<(NightsInARow, u32)> {
    let limit = facts.limits.nights_in_a_row?;
    let nights = |span: Span| {
        let all = facts.roster.clock.daily(limit.from, limit.to, span);
        all.into_iter().map(|night| facts.roster.clock.date(night.from)).collect::<Vec<NaiveDate>>()
    };
    let tonight = nights(facts.roster.person(person).on_duty);
    let last = *tonight.iter().max()?;
    let earlier = logged(facts.night, person).flat_map(nights);
    let worked: BTreeSet<NaiveDate> = earlier.chain(tonight).collect();
    let day_before = |day: &NaiveDate| day.checked_sub_days(Days::new(1)).filter(|before| worked.contains(before));
    let in_a_row = std::iter::successors(Some(last), day_before).count();
    let over = u32::try_from(in_a_row).unwrap_or(u32::MAX).saturating_sub(limit.max);
    (over > 0).then_some((limit, over))
}

/// By how much the week that ends with tonight's duty is over the unit's limit.
fn minutes_over(facts: &Facts, person: PersonIx) -> Option<Minutes> {
    let most = facts.limits.week_max?;
    let duty = facts.roster.person(person).on_duty;
    let week_from = week_before(duty.to);
    let earlier = logged(facts.night, person).map(|span| (span.to - span.from.max(week_from)).max(Minutes::ZERO));
    let over = earlier.sum::<Minutes>() + (duty.to - duty.from.max(week_from)) - most;
    (over > Minutes::ZERO).then_some(over)
}

fn week_before(at: Minute) -> Minute {
    at - WEEK
}

fn logged(night: &Night, person: PersonIx) -> impl Iterator<Item = Span> {
    night.roster.duty_log.iter().filter(move |logged| logged.person == person).map(|logged| logged.span)
}

/// What the unit limits and the log does not reach back to.
pub(super) fn not_checked(night: &Night) -> Vec<NotChecked> {
    let duties = night.roster.people.iter().map(|person| person.on_duty);
    let all = duties.fold(night.roster.shift, |all, duty| Span::new(all.from.min(duty.from), all.to.max(duty.to)));
    let nights = night.limits.nights_in_a_row.and_then(|limit| nights_from(night, limit, all));
    let week = night.limits.week_max.map(|_| week_before(night.roster.shift.from));
    let needed = [("F8 nights in a row", nights), ("F8 hours in a week", week)];
    let unread = |from: Minute| night.roster.duty_log_from.is_none_or(|log| log > from);
    needed
        .into_iter()
        .filter(|(_, from)| from.is_some_and(unread))
        .map(|(what, _)| NotChecked { what: what.to_owned(), why: why_unread(night, night.roster.duty_log_from) })
        .collect()
}

/// From when the log has to be whole: the start of the night that would be one too many. `None` where no minute of
/// tonight is in the hours that make a night.
fn nights_from(night: &Night, limit: NightsInARow, tonight: Span) -> Option<Minute> {
    let clock = night.roster.clock;
    let first = clock.daily(limit.from, limit.to, tonight).first().map(|span| clock.date(span.from))?;
    let day = first.checked_sub_days(Days::new(u64::from(limit.max)))?;
    let around = Span::new(tonight.from - Minutes((i64::from(limit.max) + 3) * 24 * 60), tonight.to);
    let nights = clock.daily(limit.from, limit.to, around);
    nights.into_iter().find(|span| clock.date(span.from) >= day).map(|span| span.from)
}
