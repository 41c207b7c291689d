//! Meal and rest breaks (F3).

use super::By;
use super::facts::Facts;
use super::faults::Faults;
use super::page::Page;
use crate::night::{BreakTaken, Breaks, Minute, Minutes, PersonIx, Rule, Span};

pub(super) const F3: Page = Page {
    does: "Whoever has a duty has breaks: long enough, free of duty, outside recovery, in the unit's windows, and \
           never further apart than the unit allows.",
    why: "Breaks that are not on the sheet do not happen.",
    formula: "length >= least; no duty in it; from on-duty or the end of a break to the next break or off-duty <= \
              work_max",
    counts: "For each break minutes short, or shared with a duty or with recovery; for each stretch without one \
             minutes too long. Rest before the next wear may be a break; recovery only if the unit says so. Nothing \
             is asked of people without a duty.",
    source: "A break where the day is longer than 6 h: Directive 2003/88/EC, Article 4, seen second hand. The figures \
             are the unit's.",
};

/// F3 for every break in the rota and everyone with a duty.
pub(super) fn breaks(facts: &Facts, faults: &mut Faults) {
    for taken in &facts.rota.breaks {
        long_enough(facts, faults, taken);
        on_duty(facts, faults, taken);
        free_of_duty(facts, faults, taken);
        out_of_recovery(facts, faults, taken);
        in_window(facts, faults, taken);
    }
    let Some(rule) = facts.limits.breaks else { return };
    for duties in facts.duties.chunk_by(|a, b| a.person == b.person) {
        often_enough(facts, faults, rule, duties[0].person);
    }
}

fn fault(facts: &Facts, faults: &mut Faults, taken: &BreakTaken, by: Option<Minutes>, why: impl FnOnce() -> String) {
    faults.add(Rule::F3, taken.span, &[taken.person], by.map(By::Minutes), || {
        format!("The break of {} {} {}.", facts.id(taken.person), facts.times(taken.span), why())
    });
}

fn long_enough(facts: &Facts, faults: &mut Faults, taken: &BreakTaken) {
    let least = facts.limits.breaks.map_or(Minutes(1), |rule| rule.length);
    let by = least - taken.span.length();
    if by.0 > 0 {
        fault(facts, faults, taken, Some(by), || format!("is {by} min shorter than {least}"));
    }
}

fn on_duty(facts: &Facts, faults: &mut Faults, taken: &BreakTaken) {
    let there = facts.roster.person(taken.person).on_duty;
    if !there.covers(taken.span) {
        fault(facts, faults, taken, None, || format!("is not inside the time on duty, {}", facts.times(there)));
    }
}

fn free_of_duty(facts: &Facts, faults: &mut Faults, taken: &BreakTaken) {
    let duties = facts.duties_of(taken.person);
    if let Some(duty) = duties.iter().find(|d| d.busy.overlaps(taken.span)) {
        let shared = duty.busy.intersection(taken.span).length();
        fault(facts, faults, taken, Some(shared), || {
            format!("shares {shared} min with a duty {}", facts.times(duty.busy))
        });
    }
}

fn out_of_recovery(facts: &Facts, faults: &mut Faults, taken: &BreakTaken) {
    if facts.limits.breaks.is_some_and(|rule| rule.recovery_counts) {
        return;
    }
    let before = facts.roster.person(taken.person).last_removal;
    let before = before.map(|last| (last.off, facts.limits.ensemble(last.ensemble).recovery));
    let tonight = facts.wears_of(taken.person).map(|wear| (wear.off, wear.kit.recovery));
    for (off, recovery) in before.into_iter().chain(tonight) {
        let shared = Span::new(off, off + recovery).intersection(taken.span);
        if !shared.is_empty() {
            fault(facts, faults, taken, Some(shared.length()), || {
                format!("shares {} min with recovery, which ends {}", shared.length(), facts.at(off + recovery))
            });
        }
    }
}

fn in_window(facts: &Facts, faults: &mut Faults, taken: &BreakTaken) {
    let windows = &facts.roster.break_windows;
    if !windows.is_empty() && !windows.iter().any(|w| w.covers(taken.span)) {
        fault(facts, faults, taken, None, || "lies in no break window".to_owned());
    }
}

/// Looks at the stretches between on-duty, breaks and off-duty, as far as they lie in the shift that is planned:
/// what somebody did before or does after it is not on this rota.
fn often_enough(facts: &Facts, faults: &mut Faults, rule: Breaks, person: PersonIx) {
    let there = facts.roster.person(person).on_duty.intersection(facts.roster.shift);
    let mine = facts.rota.breaks.iter().filter(|b| b.person == person && !b.span.is_empty());
    let mut taken: Vec<Span> = mine.map(|b| b.span).collect();
    taken.sort_unstable();
    let mut since = there.from;
    for span in taken {
        not_too_long(facts, faults, rule, person, since, span.from);
        since = since.max(span.to);
    }
    not_too_long(facts, faults, rule, person, since, there.to);
}

fn not_too_long(facts: &Facts, faults: &mut Faults, rule: Breaks, person: PersonIx, from: Minute, to: Minute) {
    let by = to - from - rule.work_max;
    if by.0 > 0 {
        let span = Span::new(from, to);
        faults.add(Rule::F3, span, &[person], Some(By::Minutes(by)), || {
            let (id, times, length) = (facts.id(person), facts.times(span), span.length());
            format!("{id} has no break {times}, {length} min: {by} min longer than {}.", rule.work_max)
        });
    }
}
