//! Wear over the days before (B7).

use super::By;
use super::NotChecked;
use super::facts::{Facts, Wear};
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use super::unchecked::why_unread;
use crate::night::{Minute, Minutes, Night, PersonIx, RollingWear, Rule, Span};

pub(super) const B7: Page = Page {
    does: "The wear of one person in any stretch as long as the unit says, earlier shifts included, stays within its \
           figure.",
    why: "One night within its limit after another adds up to a week that nobody planned.",
    formula: "at every minute t: wear in (t - window, t] from the log and tonight, times the percent of the ensemble \
              <= max",
    counts: "Minutes over, rounded up, at their largest. What the log does not reach back to is NOT CHECKED, never \
             taken for zero: what is known is checked all the same.",
    source: COMMON_PRACTICE,
};

/// B7 for everyone who wears something tonight.
pub(super) fn over_days(facts: &Facts, faults: &mut Faults) {
    for rolling in &facts.limits.rolling_wear {
        for wears in facts.by_person.chunk_by(|&a, &b| facts.wears[a].person == facts.wears[b].person) {
            let person = facts.wears[wears[0]].person;
            let tonight: Vec<Worn> = facts.wears_of(person).map(worn).collect();
            let Some((at, centi)) = worst(facts, *rolling, person, &tonight) else { continue };
            let over = centi - rolling.max.0 * 100;
            if over > 0 {
                let by = Minutes((over + 99).div_euclid(100));
                faults.add(Rule::B7, Span::new(at - rolling.window, at), &[person], Some(By::Minutes(by)), || {
                    let (id, hours) = (facts.id(person), rolling.window.0 / 60);
                    format!(
                        "{id} wears {by} min more in the {hours} h to {} than the {} allowed.",
                        facts.at(at),
                        rolling.max
                    )
                });
            }
        }
    }
}

/// One wear of tonight: when, and the percent that counts.
type Worn = (Span, i64);

fn worn(wear: &Wear) -> Worn {
    (wear.worn(), wear.kit.cumulative_percent)
}

/// The minute tonight up to which a person has worn most, and how much in hundredths of a minute. The wear in a stretch
/// only stops growing where a wear ends, or where an earlier one begins to leave the stretch.
fn worst(facts: &Facts, rolling: RollingWear, person: PersonIx, tonight: &[Worn]) -> Option<(Minute, i64)> {
    // A wear that does not count breaks nothing, whatever was worn before.
    let first = tonight.iter().filter(|(_, percent)| *percent > 0).map(|(span, _)| span.from).min()?;
    let logged = facts.roster.wear_log.iter().filter(|logged| logged.person == person).map(|logged| logged.span.from);
    let leaving = logged.chain(tonight.iter().map(|(span, _)| span.from)).map(|from| from + rolling.window);
    let moments = tonight.iter().map(|(span, _)| span.to).chain(leaving).filter(|&at| at > first);
    let in_stretch = |at: Minute| {
        let stretch = Span::new(at - rolling.window, at);
        let centi = |&(span, percent): &Worn| span.intersection(stretch).length().0.max(0) * percent;
        facts.night.logged_centi(person, rolling.window, at) + tonight.iter().map(centi).sum::<i64>()
    };
    // Of two as large the first.
    let mut all: Vec<(Minute, i64)> = moments.map(|at| (at, in_stretch(at))).collect();
    all.sort_by_key(|&(at, centi)| (-centi, at));
    all.first().copied()
}

/// The latest end of a wear, `usual` or earlier, with which its wearer keeps every limit over days, all else as planned.
pub(super) fn latest_off(facts: &Facts, wear: &Wear, usual: Minute) -> Minute {
    if facts.limits.rolling_wear.is_empty() || wear.kit.cumulative_percent <= 0 {
        return usual;
    }
    let others = facts.wears_of(wear.person).filter(|other| other.of != wear.of).map(worn);
    let mut tonight: Vec<Worn> = others.chain([worn(wear)]).collect();
    let mut keeps = |off: Minute| {
        let own = tonight.len() - 1;
        tonight[own].0.to = off;
        let within = |rolling: &RollingWear| {
            worst(facts, *rolling, wear.person, &tonight).is_none_or(|(_, centi)| centi <= rolling.max.0 * 100)
        };
        facts.limits.rolling_wear.iter().all(within)
    };
    // A longer wear is in no stretch less: the ends that keep every limit come before those that do not.
    let (mut kept, mut passed) = (wear.start, usual + Minutes(1));
    while kept + Minutes(1) < passed {
        let middle = Minute(kept.0.midpoint(passed.0));
        *(if keeps(middle) { &mut kept } else { &mut passed }) = middle;
    }
    kept
}

/// Windows that the log does not reach back to.
pub(super) fn not_checked(night: &Night) -> Vec<NotChecked> {
    let from = night.roster.shift.from;
    let unread = |rolling: &&RollingWear| night.roster.wear_log_from.is_none_or(|log| log > from - rolling.window);
    let says = |rolling: &RollingWear| NotChecked {
        what: format!("B7 wear over {} hours", rolling.window.0 / 60),
        why: why_unread(night, night.roster.wear_log_from),
    };
    night.limits.rolling_wear.iter().filter(unread).map(says).collect()
}
