//! People kept apart (A6).

use super::By;
use super::facts::Facts;
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use crate::night::{Apart, Entry, PersonIx, Rule, Span};

pub(super) const A6: Page = Page {
    does: "Two people kept apart are not in one room together, or do not watch, or do not assist each other: each \
           only where the roster says so.",
    why: "The unit knows who should not rely on whom. No reason is asked for or kept.",
    formula: "for each pair and scope: no shared minute in the room; neither is the other's observer; neither is the \
              other's assistant",
    counts: "Minutes together in the room; each donning or removal watched, each removal assisted.",
    source: COMMON_PRACTICE,
};

/// A6 in its three scopes.
pub(super) fn kept_apart(facts: &Facts, faults: &mut Faults) {
    if facts.roster.apart.is_empty() {
        return;
    }
    together(facts, faults);
    let donnings = facts.donnings.iter().filter_map(|d| Some((d.observer?, d.wearer, d.span)));
    for (observer, wearer, span) in donnings.chain(facts.watches.iter().map(|w| (w.observer, w.wearer, w.removal))) {
        with(facts, faults, observer, wearer, Apart::Observer, span);
    }
    for assist in &facts.assists {
        with(facts, faults, assist.assistant, assist.wearer, Apart::Assistant, assist.removal);
    }
}

fn together(facts: &Facts, faults: &mut Faults) {
    for pair in facts.roster.apart.iter().filter(|p| p.scopes.contains(&Apart::Room)) {
        for one in facts.rota.entries.iter().filter(|e| e.person == pair.one) {
            for other in facts.rota.entries.iter().filter(|e| e.person == pair.other && e.room == one.room) {
                let shared = stay(one).intersection(stay(other));
                if shared.is_empty() {
                    continue;
                }
                faults.add(Rule::A6, shared, &[pair.one, pair.other], Some(By::Minutes(shared.length())), || {
                    let (one, other) = (facts.id(pair.one), facts.id(pair.other));
                    format!("{one} and {other} are kept apart but share the room {}.", facts.times(shared))
                });
            }
        }
    }
}

const fn stay(entry: &Entry) -> Span {
    Span::new(entry.door_in, entry.door_out)
}

fn with(facts: &Facts, faults: &mut Faults, helper: PersonIx, wearer: PersonIx, scope: Apart, span: Span) {
    if !facts.roster.kept_apart(helper, wearer, scope) {
        return;
    }
    let does = if scope == Apart::Assistant { "assist" } else { "watch" };
    faults.add(Rule::A6, span, &[helper, wearer], None, || {
        format!("{} may not {does} {}, planned {}.", facts.id(helper), facts.id(wearer), facts.times(span))
    });
}
