//! Skills inside a room and where they are missing (D6).

use super::SkillShortage;
use super::facts::Facts;
use super::page::{COMMON_PRACTICE, Page};
use super::room::stay;
use super::sweep::counted;
use crate::night::{Entry, Minute, SkillCover, Span};

pub(super) const D6: Page = Page {
    does: "Says when fewer people with a skill are inside than the skill cover of the room asks for.",
    why: "Enough people without the one who can do it is not cover. A gap is not a fault: entering without a way out \
          would be.",
    formula: "sum over minutes of max(0, people - inside with the skill)",
    counts: "Minutes missing times people, as stretches in which the shortage stays the same. Every minute of the \
             stretch counts, whoever else is inside or required. One person with two skills covers both.",
    source: COMMON_PRACTICE,
};

/// Every shortage of a skill, in order of time, then room, then the roster.
pub(super) fn shortages(facts: &Facts) -> Vec<SkillShortage> {
    let mut found: Vec<SkillShortage> = facts.roster.skill_cover.iter().flat_map(|c| short_in(facts, c)).collect();
    found.sort_by_key(|s| (s.span, s.room));
    found
}

fn short_in(facts: &Facts, cover: &SkillCover) -> Vec<SkillShortage> {
    let has = |e: &&Entry| facts.roster.person(e.person).skills.contains(&cover.skill);
    let skilled = facts.rota.entries.iter().filter(|e| e.room == cover.room).filter(has);
    let inside = counted(skilled.map(|e| stay(e).intersection(cover.span)));
    let mut found = vec![];
    let mut at = cover.span.from;
    for (span, present) in inside {
        note(cover, at, span.from, 0, &mut found);
        note(cover, span.from, span.to, present, &mut found);
        at = span.to;
    }
    note(cover, at, cover.span.to, 0, &mut found);
    found
}

fn note(cover: &SkillCover, from: Minute, to: Minute, present: u32, found: &mut Vec<SkillShortage>) {
    if from < to && present < cover.people {
        let (room, skill, required) = (cover.room, cover.skill.clone(), cover.people);
        found.push(SkillShortage { span: Span::new(from, to), room, skill, required, present });
    }
}
