//! Where somebody who enters only beside a preceptor could make a first entry (A11): tried, not only looked for.

use super::outlook::Tried;
use crate::check::Review;
use crate::night::{Entry, Minute, Night, PersonIx, Pin, PinIx, PinTo, RoomIx, Rota, Span};

/// The acuity class in which nobody makes a first entry: the one that the unit covers before all others.
const FIRST_CLASS: u32 = 1;

/// The most stays that are tried for one person: each is a night planned anew.
const MOST_TRIED: usize = 4;

/// Hours of the day, from and before, in which there are most people about. Common practice, no source: it only decides
/// which of several stays is named.
const DAY: (u32, u32) = (7, 19);

/// A stay beside a preceptor.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stay {
    /// Where.
    pub room: RoomIx,
    /// From door to door.
    pub span: Span,
    /// The acuity class of the presence it helps to cover, if it does.
    pub class: Option<u32>,
    /// Beside whom.
    pub preceptor: PersonIx,
    /// Whether it starts and ends by day.
    pub by_day: bool,
}

/// Why none was found. Nothing of it is about the person.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Lack {
    /// No preceptor is on duty, in date, who may be in one room with them.
    NoPreceptor,
    /// Those preceptors go in at no time of the rota.
    NoStay,
    /// So many stays are in the first acuity class.
    Acute(usize),
    /// So many share a minute with low hours.
    LowHours(usize),
    /// So many fill the room as it is.
    Full(usize),
    /// So many were tried: no rota was found that keeps every rule and misses nothing more.
    Tried(usize),
}

/// What was found for one person.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Found {
    /// The rota has such a stay already.
    Planned(Stay),
    /// A rota with this stay keeps every rule and misses nothing more.
    Fits(Stay),
    /// None, and what is lacking.
    None(Vec<Lack>),
}

/// One supervised entrant.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FirstEntry {
    /// Who.
    pub person: PersonIx,
    /// What was found.
    pub found: Found,
}

/// Looks for a first entry for everybody who enters under supervision tonight. `rota` has no fault; `cover` plans a
/// night as far as cover goes and checks it.
///
/// # Errors
/// What `cover` returns.
pub fn first_entries<E>(
    night: &Night,
    rota: &Rota,
    review: &Review,
    cover: &mut dyn FnMut(&Night) -> Result<Tried, E>,
) -> Result<Vec<FirstEntry>, E> {
    let duty = |ix: &PersonIx| !night.roster.person(*ix).on_duty.intersection(night.roster.shift).is_empty();
    let supervised = night.roster.person_indices().filter(|&ix| night.is_supervised(ix)).filter(duty);
    let mut all = Vec::new();
    for person in supervised {
        all.push(FirstEntry { person, found: found(night, rota, review, person, cover)? });
    }
    Ok(all)
}

fn found<E>(
    night: &Night,
    rota: &Rota,
    review: &Review,
    person: PersonIx,
    cover: &mut dyn FnMut(&Night) -> Result<Tried, E>,
) -> Result<Found, E> {
    let own = rota.entries.iter().filter(|e| e.person == person);
    let own =
        own.filter(|e| !is_acute(night, e) && !is_in_low_hours(night, e)).find_map(|e| beside(night, rota, e, person));
    if let Some(stay) = own {
        return Ok(Found::Planned(stay));
    }
    let (stays, mut lacks) = stays(night, rota, person);
    let mut tried = 0;
    for stay in stays.into_iter().take(MOST_TRIED) {
        tried += 1;
        if let Some(stay) = try_stay(night, review, person, stay, cover)? {
            return Ok(Found::Fits(stay));
        }
    }
    lacks.extend((tried > 0).then_some(Lack::Tried(tried)));
    Ok(Found::None(lacks))
}

/// Stays of preceptors beside whom there is room, the best first, and what is wrong with the others.
fn stays(night: &Night, rota: &Rota, person: PersonIx) -> (Vec<Stay>, Vec<Lack>) {
    let preceptors = night.preceptors_for(person);
    if preceptors.is_empty() {
        return (Vec::new(), vec![Lack::NoPreceptor]);
    }
    let all: Vec<&Entry> = rota.entries.iter().filter(|e| preceptors.contains(&e.person)).collect();
    if all.is_empty() {
        return (Vec::new(), vec![Lack::NoStay]);
    }
    let (mut acute, mut low, mut full) = (0, 0, 0);
    let mut stays = Vec::new();
    for entry in all {
        if is_acute(night, entry) {
            acute += 1;
        } else if is_in_low_hours(night, entry) {
            low += 1;
        } else if is_full(night, rota, entry) {
            full += 1;
        } else {
            stays.push(stay(night, entry, entry.person));
        }
    }
    stays.sort_by_key(|stay| (!stay.by_day, std::cmp::Reverse(stay.class.unwrap_or(u32::MAX)), stay.span));
    let lacks = [(acute, Lack::Acute(acute)), (low, Lack::LowHours(low)), (full, Lack::Full(full))];
    (stays, lacks.into_iter().filter(|(count, _)| *count > 0).map(|(_, lack)| lack).collect())
}

const fn inside(entry: &Entry) -> Span {
    Span::new(entry.door_in, entry.door_out)
}

fn stay(night: &Night, entry: &Entry, preceptor: PersonIx) -> Stay {
    let span = inside(entry);
    Stay { room: entry.room, span, class: class(night, entry), preceptor, by_day: is_by_day(night, span) }
}

/// The most urgent class of presence in the room meanwhile.
fn class(night: &Night, entry: &Entry) -> Option<u32> {
    let presence = night.roster.presence.iter();
    presence.filter(|p| p.room == entry.room && p.span.overlaps(inside(entry))).map(|p| p.class).min()
}

fn is_acute(night: &Night, entry: &Entry) -> bool {
    class(night, entry).is_some_and(|class| class <= FIRST_CLASS)
}

fn is_in_low_hours(night: &Night, entry: &Entry) -> bool {
    night.low_hours().iter().any(|low| low.overlaps(Span::new(entry.don, entry.off)))
}

/// Whether one more would be too many in some minute. The number inside only rises at a door.
fn is_full(night: &Night, rota: &Rota, entry: &Entry) -> bool {
    let span = inside(entry);
    let others = || rota.entries.iter().filter(|e| e.room == entry.room);
    let now = |at: Minute| others().filter(|e| inside(e).contains(at)).count();
    let doors = others().map(|e| e.door_in).chain([span.from]).filter(|&at| span.contains(at));
    let most = night.roster.rooms[entry.room.0].max_inside;
    doors.map(now).max().is_some_and(|most_now| u32::try_from(most_now).unwrap_or(u32::MAX) >= most)
}

fn is_by_day(night: &Night, span: Span) -> bool {
    let hour = |at: Minute| chrono::Timelike::hour(&night.roster.clock.local(at));
    let same_day = night.roster.clock.date(span.from) == night.roster.clock.date(span.to);
    same_day && hour(span.from) >= DAY.0 && (span.to == span.from || hour(Minute(span.to.0 - 1)) < DAY.1)
}

/// The stay of an entry of this person beside a preceptor who is inside all the while.
fn beside(night: &Night, rota: &Rota, entry: &Entry, person: PersonIx) -> Option<Stay> {
    let preceptors = night.preceptors_for(person);
    let with = rota.entries.iter().filter(|e| e.room == entry.room && preceptors.contains(&e.person));
    let found = with
        .filter(|e| inside(e).overlaps(inside(entry)))
        .max_by_key(|e| (inside(e).intersection(inside(entry)).length(), std::cmp::Reverse(e.person)));
    found.map(|with| stay(night, entry, with.person))
}

/// Plans the night with the person pinned to this door at this time: a rota that keeps the pin, keeps every rule and
/// misses nothing more is the proof. The stay is as that rota has it.
fn try_stay<E>(
    night: &Night,
    review: &Review,
    person: PersonIx,
    stay: Stay,
    cover: &mut dyn FnMut(&Night) -> Result<Tried, E>,
) -> Result<Option<Stay>, E> {
    let mut pinned = night.clone();
    let pin = PinIx(pinned.roster.pins.len());
    pinned.roster.pins.push(Pin { person, to: PinTo::Entry { room: stay.room, door_in: stay.span.from } });
    let tried = cover(&pinned)?;
    let kept = tried.review.pins.iter().any(|&(ix, kept)| ix == pin && kept);
    if !kept || tried.missed() > review.measures.missed() {
        return Ok(None);
    }
    let at_the_door = |e: &&Entry| e.person == person && e.room == stay.room && e.door_in == stay.span.from;
    let entry = tried.rota.entries.iter().find(at_the_door);
    // What is asked of the stay is asked of the one that was planned, too.
    let entry = entry.filter(|e| !is_acute(night, e) && !is_in_low_hours(night, e));
    Ok(entry.and_then(|entry| beside(night, &tried.rota, entry, person)))
}
