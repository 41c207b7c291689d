//! Breaks for whoever has a duty (F3).

use std::collections::BTreeSet;

use anteroom::night::{Breaks, Minute, Night, Span};

use super::duties::Duty;
use super::people::{At, People};

/// Breaks that satisfy the rule, or `None` when there are none.
pub fn place(night: &Night, people: &People<'_>, person: usize, duties: &[Duty]) -> Option<Vec<Span>> {
    let Some(rule) = night.limits.breaks.filter(|_| !duties.is_empty()) else { return Some(vec![]) };
    let on_duty = night.roster.people[person].on_duty.intersection(night.roster.shift);
    let search = Search { night, people, person, duties, rule, end: on_duty.to.0 };
    let mut tried = BTreeSet::new();
    search.from(on_duty.from.0, &mut tried)
}

struct Search<'a> {
    night: &'a Night,
    people: &'a People<'a>,
    person: usize,
    duties: &'a [Duty],
    rule: Breaks,
    end: At,
}

impl Search<'_> {
    /// Breaks from `since`, when work began or the last break ended, to the end.
    fn from(&self, since: At, tried: &mut BTreeSet<At>) -> Option<Vec<Span>> {
        if self.end - since <= self.rule.work_max.0 {
            return Some(vec![]);
        }
        if !tried.insert(since) {
            return None;
        }
        for from in self.people.points(since, since + self.rule.work_max.0) {
            for to in self.people.points(from + self.rule.length.0, self.end).filter(|&to| to > since) {
                if self.free(from, to)
                    && let Some(mut later) = self.from(to, tried)
                {
                    later.insert(0, Span::new(Minute(from), Minute(to)));
                    return Some(later);
                }
            }
        }
        None
    }

    fn free(&self, from: At, to: At) -> bool {
        let clear = |a: At, b: At| to <= a || b <= from;
        let span = Span::new(Minute(from), Minute(to));
        let windows = &self.night.roster.break_windows;
        let in_window = windows.is_empty() || windows.iter().any(|w| w.covers(span));
        let idle = self.duties.iter().filter(|d| !d.on_post).all(|d| clear(d.from, d.to));
        let recovery = |e: anteroom::night::EnsembleIx| self.night.limits.ensemble(e).recovery.0;
        let worn = self.duties.iter().filter_map(|d| Some((d.span.1, d.worn?)));
        let before = self.night.roster.people[self.person].last_removal.map(|l| (l.off.0, l.ensemble));
        let mut all = worn.chain(before);
        let recovered = self.rule.recovery_counts || all.all(|(off, worn)| clear(off, off + recovery(worn)));
        in_window && idle && recovered
    }
}
