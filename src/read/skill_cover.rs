//! Skills that are to be inside a room all the time (D6).

use crate::night::{Clock, RoomIx, SkillCover};

use super::demand::check_inside;
use super::finding::Mistakes;
use super::mistake::{Advice, Mistake, StretchMistake};
use super::record::Record;
use super::roster::{Context, span};

/// Every stretch of skill cover.
pub(super) fn read(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<SkillCover>> {
    let tables = record.tables("skill_cover");
    let all: Vec<_> = tables.iter().map(|table| one(table, context, out)).collect();
    for (place, (cover, table)) in all.iter().zip(tables).enumerate() {
        let Some(cover) = cover else { continue };
        check_room(cover, table, record, out);
        for (earlier, there) in all[..place].iter().zip(tables).filter_map(|(c, t)| Some((c.as_ref()?, t))) {
            if let Some(twice) = given_twice(earlier, cover, record, context.clock) {
                out.add_with(table.spot, there.spot, Mistake::Stretch(twice));
            }
        }
    }
    all.into_iter().collect()
}

fn one(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<SkillCover> {
    let room = context.rooms.require_in(table, "room", out);
    let span = span(table, ("from", "to"), context.clock, out);
    check_inside(table, span, "skill cover", context, out);
    Some(SkillCover { room: RoomIx(room?), span: span?, skill: table.name("skill")?, people: table.count("people")? })
}

fn check_room(cover: &SkillCover, table: &Record, record: &Record, out: &mut Mistakes) {
    let Some(room) = record.tables("room").get(cover.room.0) else { return };
    if let (Some(id), Some(most)) = (room.name("id"), room.count("max_inside"))
        && cover.people > most
    {
        let noun = format!("skill {}", super::draw::quoted(&cover.skill));
        let advice = Advice::MoreThanRoom { noun, people: cover.people, room: id, most };
        out.add(table.spot_of("people"), Mistake::Advice(advice));
    }
}

/// One room and skill at one minute twice: which of them is meant is not guessed.
fn given_twice(one: &SkillCover, other: &SkillCover, record: &Record, clock: Clock) -> Option<StretchMistake> {
    let shared = one.span.intersection(other.span);
    if shared.is_empty() || one.room != other.room || one.skill != other.skill {
        return None;
    }
    let room = record.tables("room").get(one.room.0).and_then(|room| room.name("id")).unwrap_or_default();
    let when = format!("{}-{}", clock.hhmm(shared.from), clock.hhmm(shared.to));
    Some(StretchMistake::SkillTwice { room, skill: one.skill.clone(), when, people: (one.people, other.people) })
}
