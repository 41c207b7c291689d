//! The assistant's help and the observer's kit (C3, C5).

use super::By;
use super::facts::{Assist, Facts, Of, Watch};
use super::faults::Faults;
use super::page::Page;
use crate::night::{Minutes, PostRole, Rule, Span};

pub(super) const C3: Page = Page {
    does: "Where the ensemble needs one, an assistant is there for the whole removal, dressed in the unit's kit, and \
           helps nobody else meanwhile.",
    why: "Some ensembles cannot be taken off alone without touching the outside.",
    formula: "[t_fs, t_off) inside [donning done, own removal) of the assistant's spell on post; no shared minute \
              with another of the same assistant",
    counts: "Each removal without an assistant or whose assistant has no spell on post then; minutes of it not \
             covered; minutes shared. The assistant's own wear, rest, kit and removal are B2, B4, G1 and C4.",
    source: "An assistant is needed with a powered respirator or a coverall: CDC, Trained Observer, page 18, seen.",
};

pub(super) const C5: Page = Page {
    does: "Where the unit has observers wear a kit, whoever watches removals is on post in one, ready and reset time \
           included; the own removal is watched where the unit says so.",
    why: "The observer stands beside the lane: what reaches the assistant can reach the observer.",
    formula: "[t_fs - ready, t_off + reset) inside [donning done, own removal) of the observer's spell on post",
    counts: "Each removal watched without a kit; minutes not covered; each own removal without an observer where the \
             unit has it watched. Whoever watches an observer's own removal, which is outside the lanes, needs none.",
    source: "Observers wear gown or coverall, face shield, two pairs of gloves: CDC, Trained Observer, page 10, seen.",
};

/// C3: assistants named, dressed and there.
pub(super) fn assisted(facts: &Facts, faults: &mut Faults) {
    for (i, entry) in facts.rota.entries.iter().enumerate() {
        if facts.wear(Of::Entry(i)).kit.assistant && entry.assistant.is_none() {
            let removal = Span::new(entry.removal, entry.off);
            faults.add(Rule::C3, removal, &[entry.person], Some(By::Count(1)), || {
                format!("The removal of {} at {} has no assistant.", facts.id(entry.person), facts.at(entry.removal))
            });
        }
    }
    for assist in facts.assists.iter().filter(|a| a.assistant != a.wearer) {
        assistant_dressed(facts, faults, assist);
    }
    one_assist_at_a_time(facts, faults);
}

fn assistant_dressed(facts: &Facts, faults: &mut Faults, assist: &Assist) {
    if facts.limits.assistant_kit.is_none() {
        return;
    }
    let there = assist.post.map(|p| facts.on_post(p));
    let by = there.map_or(assist.removal.length(), |there| outside(there, assist.removal));
    if there.is_some() && by.0 <= 0 {
        return;
    }
    faults.add(Rule::C3, assist.removal, &[assist.assistant, assist.wearer], Some(By::Minutes(by)), || {
        let (id, wearer) = (facts.id(assist.assistant), facts.id(assist.wearer));
        let removal = facts.times(assist.removal);
        match there {
            None => format!("{id} assists the removal of {wearer} {removal} but is not dressed for it."),
            Some(there) => {
                format!("{id} assists the removal of {wearer} {removal} but is on post {}.", facts.times(there))
            }
        }
    });
}

/// The most that `part` sticks out of `whole` at either end; zero when it is inside.
fn outside(whole: Span, part: Span) -> Minutes {
    (whole.from - part.from).max(part.to - whole.to).max(Minutes::ZERO)
}

fn one_assist_at_a_time(facts: &Facts, faults: &mut Faults) {
    for assists in facts.assists.chunk_by(|a, b| a.assistant == b.assistant) {
        for (i, next) in assists.iter().enumerate() {
            let clash = assists[..i].iter().find(|first| first.removal.overlaps(next.removal));
            let Some(first) = clash else { continue };
            let shared = first.removal.intersection(next.removal);
            let people = [next.assistant, first.wearer, next.wearer];
            faults.add(Rule::C3, shared, &people, Some(By::Minutes(shared.length())), || {
                let [assistant, one, other] = people.map(|p| facts.id(p));
                format!("{assistant} assists {one} and {other} at the same time, {}.", facts.times(shared))
            });
        }
    }
}

/// C3 and C5: nobody is on post in a kit that the unit does not have.
pub(super) fn kit_for_post(facts: &Facts, faults: &mut Faults) {
    for (p, post) in facts.rota.posts.iter().enumerate() {
        let wear = facts.wear(Of::Post(p));
        if wear.ensemble.is_some() {
            continue;
        }
        let (rule, who) = match post.role {
            PostRole::Assistant => (Rule::C3, "assistants"),
            PostRole::Observer => (Rule::C5, "observers"),
        };
        faults.add(rule, wear.dressed(), &[post.person], None, || {
            format!(
                "{} is on post {}, but this unit has no kit for {who}.",
                facts.id(post.person),
                facts.times(wear.dressed())
            )
        });
    }
}

/// C5: whoever watches removals is in the observer's kit.
pub(super) fn observer_dressed(facts: &Facts, faults: &mut Faults) {
    for watch in facts.watches.iter().filter(|w| w.needs_kit && !w.same_person) {
        let there = watch.post.map(|p| facts.on_post(p));
        let by = there.map_or(watch.busy.length(), |there| outside(there, watch.busy));
        if there.is_none() || by.0 > 0 {
            let people = [watch.observer, watch.wearer];
            faults.add(Rule::C5, watch.busy, &people, Some(By::Minutes(by)), || not_dressed(facts, watch, there));
        }
    }
}

fn not_dressed(facts: &Facts, watch: &Watch, there: Option<Span>) -> String {
    let (id, wearer, busy) = (facts.id(watch.observer), facts.id(watch.wearer), facts.times(watch.busy));
    match there {
        None => format!("{id} watches the removal of {wearer} {busy} but is not dressed for it."),
        Some(there) => {
            format!("{id} is busy with the removal of {wearer} {busy} but is on post {}.", facts.times(there))
        }
    }
}
