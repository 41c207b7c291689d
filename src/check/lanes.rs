//! Lanes: one person at a time, cleaning between, closures, waiting places (C9).

use super::By;
use super::facts::{Facts, Of, Removal};
use super::faults::Faults;
use super::page::Page;
use super::sweep::counted;
use crate::night::{Entry, LaneIx, Minute, PersonIx, PostRole, Rule, Span};

pub(super) const C9: Page = Page {
    does: "A lane is used by one person at a time, cleaned between people, and not while it is shut; no more people \
           wait for a lane than there are places.",
    why: "What one person sheds is not to be trodden in by the next.",
    formula: "next t_fs >= t_off + t in the same lane (t_off, where it is the own removal at once of the assistant of \
              the one before); [t_fs, t_off) outside closures; waiting <= places",
    counts: "Minutes too early, minutes inside a closure, people too many, removals without a lane. Waiting is from \
             the door out to the start of removal.",
    source: "One by one, in a queue: Nursing Review, 10 October 2014, seen. Cleaning the removal floor often: summary \
             of the 2015 CDC revision, seen second hand. The figures are the unit's.",
};

/// C9 for every lane and for those waiting.
pub(super) fn lanes(facts: &Facts, faults: &mut Faults) {
    lane_named(facts, faults);
    let mut uses: Vec<(LaneIx, &Removal)> = facts.removals.iter().filter_map(|r| Some((r.lane?, r))).collect();
    uses.sort_by_key(|(lane, _)| *lane);
    for uses in uses.chunk_by(|a, b| a.0 == b.0) {
        cleaned_between(facts, faults, uses);
        for &(lane, removal) in uses {
            open(facts, faults, lane, removal);
        }
    }
    waiting(facts, faults);
}

fn lane_named(facts: &Facts, faults: &mut Faults) {
    for removal in facts.removals.iter().filter(|r| r.lane.is_none()) {
        let outside_lanes = matches!(removal.of, Of::Post(p) if facts.rota.posts[p].role == PostRole::Observer);
        if !outside_lanes {
            faults.add(Rule::C9, removal.span, &[removal.wearer], Some(By::Count(1)), || {
                format!("The removal of {} at {} has no lane.", facts.id(removal.wearer), facts.at(removal.span.from))
            });
        }
    }
}

/// Looks at the removals of one lane in order of their start.
fn cleaned_between(facts: &Facts, faults: &mut Faults, uses: &[(LaneIx, &Removal)]) {
    let mut before: Option<(Minute, &Removal)> = None;
    for &(lane, next) in uses {
        if let Some((free, last)) = before {
            let free = if at_once(facts, last, next) { last.span.to } else { free };
            let by = free - next.span.from;
            if by.0 > 0 {
                let (people, span) = ([next.wearer, last.wearer], Span::new(next.span.from, free));
                faults.add(Rule::C9, span, &people, Some(By::Minutes(by)), || not_free(facts, lane, last, next, free));
            }
        }
        let free = next.span.to + facts.limits.cleaning;
        if before.is_none_or(|(until, _)| until <= free) {
            before = Some((free, next));
        }
    }
}

fn not_free(facts: &Facts, lane: LaneIx, last: &Removal, next: &Removal, free: Minute) -> String {
    let name = &facts.roster.lanes[lane.0].id;
    let (id, from, by) = (facts.id(next.wearer), facts.at(next.span.from), free - next.span.from);
    let (last, free) = (facts.id(last.wearer), facts.at(free));
    format!("Lane {name} is not free for {id} at {from}: after {last} and cleaning at {free}, {by} min short.")
}

fn at_once(facts: &Facts, last: &Removal, next: &Removal) -> bool {
    match (last.of, next.of) {
        (Of::Entry(e), Of::Post(p)) => facts.at_once[p] == Some(e),
        _ => false,
    }
}

fn open(facts: &Facts, faults: &mut Faults, lane: LaneIx, removal: &Removal) {
    let lane = &facts.roster.lanes[lane.0];
    for closure in &lane.closures {
        let shared = closure.intersection(removal.span);
        if !shared.is_empty() {
            faults.add(Rule::C9, shared, &[removal.wearer], Some(By::Minutes(shared.length())), || {
                let (id, shut) = (facts.id(removal.wearer), facts.times(*closure));
                format!("Lane {} is shut {shut}, during the removal of {id} {}.", lane.id, facts.times(removal.span))
            });
        }
    }
}

fn waiting(facts: &Facts, faults: &mut Faults) {
    let wait = |e: &Entry| Span::new(e.door_out, e.removal);
    let queue: Vec<(Span, PersonIx)> =
        facts.rota.entries.iter().map(|e| (wait(e), e.person)).filter(|(span, _)| !span.is_empty()).collect();
    let places = facts.limits.waiting_places;
    for (span, waiting) in counted(queue.iter().map(|(span, _)| *span)) {
        if waiting <= places {
            continue;
        }
        let people: Vec<PersonIx> = queue.iter().filter(|(wait, _)| wait.overlaps(span)).map(|(_, p)| *p).collect();
        faults.add(Rule::C9, span, &people, Some(By::Count(waiting - places)), || {
            let length = span.length();
            format!("{waiting} people wait for a lane {}, {length} min, with {places} places.", facts.times(span))
        });
    }
}
