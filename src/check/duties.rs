//! One person, one duty at a time, and one way through the unit (A7, C10).

use super::By;
use super::facts::{Assist, Duty, Facts, Kind, Of, Watch};
use super::faults::Faults;
use super::page::Page;
use crate::night::{LaneIx, Minute, Minutes, Rule, Span};

pub(super) const A7: Page = Page {
    does: "A person has one duty at a time, with the changeover between two different ones.",
    why: "Someone who is expected in two places is missing from one of them.",
    formula: "next start >= max(end of the duty with reset and cleaning, its last item off + changeover)",
    counts: "Minutes short. Duties are entries, spells on post, watching donnings, watching removals and assisting \
             outside a post; the same duty at another lane is a different one. On post the same holds between \
             removals. Two donnings watched at once are C6, two removals C1 or C3.",
    source: super::page::COMMON_PRACTICE,
};

pub(super) const C10: Page = Page {
    does: "Nobody starts on a new entry before the last item of the one before is off.",
    why: "Clean side, donning, room, lane, clean side: one direction only. Going back carries what is on the suit.",
    formula: "next t_ds >= t_off of the same person's entry before",
    counts: "Minutes too early.",
    source: "No crossover of staff, separate areas for putting on and taking off: Bettercare, Ebola Prevention and \
             Control, chapter 3, 3-21 and 3-24, seen.",
};

/// C10: entries of one person follow each other.
pub(super) fn one_way(facts: &Facts, faults: &mut Faults) {
    for pair in facts.by_person.chunk_by(|&a, &b| facts.wears[a].person == facts.wears[b].person) {
        let mut latest = None;
        for wear in pair.iter().map(|&w| &facts.wears[w]).filter(|w| matches!(w.of, Of::Entry(_))) {
            let Some(off) = latest.replace(latest.map_or(wear.off, |l: Minute| l.max(wear.off))) else { continue };
            if wear.don < off {
                let by = off - wear.don;
                faults.add(Rule::C10, wear.dressed(), &[wear.person], Some(By::Minutes(by)), || {
                    let id = facts.id(wear.person);
                    format!(
                        "{id} starts donning at {} before the last item is off at {}.",
                        facts.at(wear.don),
                        facts.at(off)
                    )
                });
            }
        }
    }
}

/// A7 between duties, between removals watched and between removals assisted.
pub(super) fn one_at_a_time(facts: &Facts, faults: &mut Faults) {
    for duties in facts.duties.chunk_by(|a, b| a.person == b.person) {
        for (i, first) in duties.iter().enumerate() {
            let conflict = duties[i + 1..]
                .iter()
                .take_while(|next| next.busy.from < free_after(facts, first))
                .find_map(|next| short(facts, first, next).map(|by| (next, by)));
            if let Some((next, by)) = conflict {
                report(facts, faults, first, next, by);
            }
        }
    }
    watches_apart(facts, faults);
    assists_apart(facts, faults);
}

/// When the person could start on anything whatever.
fn free_after(facts: &Facts, duty: &Duty) -> Minute {
    duty.busy.to.max(duty.over + facts.limits.changeover)
}

/// How many minutes are missing between two duties, if any.
fn short(facts: &Facts, first: &Duty, next: &Duty) -> Option<Minutes> {
    let free = match (first.kind, next.kind) {
        // Each of these pairs has a rule of its own.
        (Kind::Entry, Kind::Entry)
        | (Kind::DonningWatch, Kind::DonningWatch)
        | (Kind::RemovalWatch, Kind::RemovalWatch)
        | (Kind::Assist, Kind::Assist) => return None,
        (Kind::Post(one), Kind::Post(other)) if one == other => first.busy.to,
        _ => free_after(facts, first),
    };
    let by = free - next.busy.from;
    (by.0 > 0).then_some(by)
}

fn report(facts: &Facts, faults: &mut Faults, first: &Duty, next: &Duty, by: Minutes) {
    let span = Span::new(next.busy.from, next.busy.from + by);
    faults.add(Rule::A7, span, &[first.person], Some(By::Minutes(by)), || {
        format!(
            "{} is {} {} and {} from {}: {by} min short{}.",
            facts.id(first.person),
            word(first.kind),
            facts.times(first.busy),
            word(next.kind),
            facts.at(next.busy.from),
            if next.busy.from < first.busy.to { "" } else { " of the changeover" }
        )
    });
}

const fn word(kind: Kind) -> &'static str {
    match kind {
        Kind::Entry => "on an entry",
        Kind::Post(_) => "on post",
        Kind::DonningWatch => "watching a donning",
        Kind::RemovalWatch => "watching a removal",
        Kind::Assist => "assisting a removal",
    }
}

/// Between removals in different lanes at least the changeover.
fn between_lanes(facts: &Facts, first: Option<LaneIx>, next: Option<LaneIx>) -> Minutes {
    let moves = matches!((first, next), (Some(a), Some(b)) if a != b);
    if moves { facts.limits.changeover } else { Minutes::ZERO }
}

fn watches_apart(facts: &Facts, faults: &mut Faults) {
    for watches in facts.watches.chunk_by(|a, b| a.observer == b.observer) {
        for (i, next) in watches.iter().enumerate() {
            // Removals watched at the same time are a fault of C1.
            let by =
                watches[..i].iter().filter(|w| w.removal.to <= next.removal.from).map(|w| pause_short(facts, w, next));
            let Some(by) = by.max().filter(|by| by.0 > 0) else { continue };
            faults.add(Rule::A7, next.busy, &[next.observer], Some(By::Minutes(by)), || {
                let id = facts.id(next.observer);
                format!(
                    "{id} cannot be ready for the removal of {} at {}: {by} min short after the one before.",
                    facts.id(next.wearer),
                    facts.at(next.removal.from)
                )
            });
        }
    }
}

fn pause_short(facts: &Facts, first: &Watch, next: &Watch) -> Minutes {
    let free = first.busy.to.max(first.removal.to + between_lanes(facts, first.lane, next.lane));
    free - next.busy.from
}

fn assists_apart(facts: &Facts, faults: &mut Faults) {
    for assists in facts.assists.chunk_by(|a, b| a.assistant == b.assistant) {
        for (i, next) in assists.iter().enumerate() {
            let earlier = assists[..i].iter().filter(|a| a.removal.to <= next.removal.from);
            let by = earlier.map(|a| a.until + between_lanes(facts, a.lane, next.lane) - next.removal.from);
            let Some(by) = by.max().filter(|by| by.0 > 0) else { continue };
            let span = Span::new(next.removal.from, next.removal.from + by);
            faults.add(Rule::A7, span, &[next.assistant], Some(By::Minutes(by)), || {
                let id = facts.id(next.assistant);
                format!(
                    "{id} cannot assist the removal of {} at {}: {by} min short after the one before.",
                    facts.id(next.wearer),
                    facts.at(next.removal.from)
                )
            });
        }
        for assist in assists {
            cleans_before_own_removal(facts, faults, assist);
        }
    }
}

/// An assistant who cleans the lane removes the own kit only after that (row 31).
fn cleans_before_own_removal(facts: &Facts, faults: &mut Faults, assist: &Assist) {
    let Some(own) = assist.post.map(|p| facts.rota.posts[p].removal) else { return };
    let by = assist.until - own;
    // An own removal before the end of the removal assisted is a fault of C3.
    if by.0 > 0 && assist.removal.to <= own {
        faults.add(Rule::A7, Span::new(own, assist.until), &[assist.assistant], Some(By::Minutes(by)), || {
            let id = facts.id(assist.assistant);
            format!(
                "{id} is still cleaning the lane at {}, when the own removal starts: {by} min short.",
                facts.at(own)
            )
        });
    }
}
