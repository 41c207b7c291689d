//! Skills that are to be inside a room all the time (D6).

use crate::night::{RoomIx, SkillCover};

use super::demand::{check_inside, check_twice, room_name};
use super::finding::Mistakes;
use super::mistake::{Advice, Mistake, StretchMistake};
use super::record::Record;
use super::roster::{Context, span};

/// Every stretch of skill cover.
pub(super) fn read(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<SkillCover>> {
    let tables = record.tables("skill_cover");
    let all: Vec<_> = tables.iter().map(|table| one(table, context, out)).collect();
    let known = || all.iter().zip(tables).filter_map(|(cover, table)| Some((cover.as_ref()?, table)));
    known().for_each(|(cover, table)| check_room(cover, table, record, out));
    let asked = known().map(|(c, table)| ((c.room, c.skill.clone()), c.span, c.people, table.spot)).collect();
    check_twice(asked, context.clock, out, |(room, skill), when, people| StretchMistake::SkillTwice {
        room: room_name(record, *room),
        skill: skill.clone(),
        when,
        people,
    });
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
