//! From a coarser grouping of people to a finer one, exactly if that can be done.
//!
//! The counts say how many of a group do what in which slot. The finer program
//! is asked for duties that add up to just that: for helpers to the entrants who
//! go through a door, or for names. Where there are none, for duties that come
//! as near as they can.

use std::collections::{BTreeMap, BTreeSet};

use super::curve::Curve;
use super::grid::Slot;
use super::model::{CurveKey, Event, Model};
use super::part::{Fate, Part};
use super::program::{Program, Sum};
use super::solve::{Limit, minimise};
use super::thin::Doors;

/// Events by curve of the counted model and by slot; absent means none.
pub type Counts = BTreeMap<(CurveKey, Slot), i64>;

/// Slots by which people may go through a door earlier or later than was
/// counted, where helpers cannot be found for the counted times.
const NEAR: Slot = 2;

/// How closely names must follow the counts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Follow {
    /// Every count is met; breaks and showers find their own times.
    Exactly,
    /// No count is passed; breaks and showers find their own times.
    AtMost,
    /// Every count of people through the door is met; the rest is open.
    Doors,
    /// As many people go through the door, each at most [`NEAR`] slots earlier
    /// or later; the rest is open.
    DoorsNear,
    /// No count of people through the door is passed; the rest is open.
    DoorsAtMost,
}

impl Follow {
    /// From people counted to people by name, in the order in which they are tried.
    pub const NAMES: [Self; 2] = [Self::Exactly, Self::AtMost];

    /// From entrants alone to everybody, in the order in which they are tried.
    pub const HELPERS: [Self; 3] = [Self::Doors, Self::DoorsNear, Self::DoorsAtMost];

    /// Whether nothing that was counted may be lost.
    pub const fn is_exact(self) -> bool {
        matches!(self, Self::Exactly | Self::Doors | Self::DoorsNear)
    }

    /// Whether the counts decide about an event, slot by slot or nearly so.
    fn decides(self, event: Event) -> bool {
        match self {
            Self::Exactly | Self::AtMost => !matches!(event, Event::Break | Event::Shower),
            Self::Doors | Self::DoorsNear | Self::DoorsAtMost => matches!(event, Event::DoorIn | Event::DoorOut),
        }
    }

    /// Slots by which an event may come earlier or later than counted.
    pub const fn near(self) -> Slot {
        if matches!(self, Self::DoorsNear) { NEAR } else { 0 }
    }
}

/// Adds up the events of a solution by the groups of `counted`.
pub fn counts(counted: &Model, of: &Model, point: &[i64]) -> Counts {
    let mut counts = Counts::new();
    for (key, curve) in of.curves() {
        let key = counted.key_of_group(key, of);
        for slot in curve.slots() {
            let count = curve.count(point, slot);
            if count > 0 {
                *counts.entry((key, slot)).or_default() += count;
            }
        }
    }
    counts
}

/// When people go through a door by some counts, `near` slots earlier or later.
pub fn doors(counts: &Counts, near: Slot) -> Doors {
    let mut doors = Doors::default();
    for &(key, slot) in counts.keys() {
        match key.event {
            Event::DoorIn => doors.ins.extend(slot - near..=slot + near),
            Event::DoorOut => doors.outs.extend(slot - near..=slot + near),
            _ => {}
        }
    }
    doors
}

/// The finer program with the counts demanded, and what its columns
/// may do: nobody does anything in a slot in which the group does nothing. Where
/// the counts do not decide, events keep to `beat`.
pub fn hand_out(
    counted: &Model,
    counts: &Counts,
    single: &Model,
    follow: Follow,
    beat: &[bool],
) -> (Program, Vec<Fate>) {
    let mut program = single.program.clone();
    let mut fates = vec![Fate::Free; program.columns.len()];
    let mut named: BTreeMap<CurveKey, Vec<&Curve>> = BTreeMap::new();
    for (key, curve) in single.curves() {
        named.entry(counted.key_of_group(key, single)).or_default().push(curve);
    }
    for (key, curves) in named {
        let slots: BTreeSet<Slot> = curves.iter().flat_map(|c| c.slots()).collect();
        if !follow.decides(key.event) {
            for slot in slots.into_iter().filter(|&slot| !counts.contains_key(&(key, slot))) {
                let off_beat = |curve: &&&Curve| curve.column(slot).is_some_and(|col| !beat[col.0]);
                curves.iter().filter(off_beat).for_each(|curve| curve.hold_still(&mut fates, slot));
            }
            continue;
        }
        let between = |from, to| counts.range((key, from)..=(key, to)).map(|(_, count)| count).sum::<i64>();
        for &slot in &slots {
            if between(slot - follow.near(), slot + follow.near()) == 0 {
                curves.iter().for_each(|curve| curve.hold_still(&mut fates, slot));
                continue;
            }
            let mut sum = Sum::new();
            if follow.near() > 0 {
                curves.iter().for_each(|curve| curve.add_upto(&mut sum, slot, 1));
                let upto = |slot| between(Slot::MIN, slot);
                let (least, most) = (upto(slot - follow.near()), upto(slot + follow.near()));
                program.row(sum, Some(least), Some(most), None);
            } else {
                curves.iter().for_each(|curve| curve.add_at(&mut sum, slot, 1));
                let count = between(slot, slot);
                program.row(sum, Some(if follow.is_exact() { count } else { 0 }), Some(count), None);
            }
        }
    }
    (program, fates)
}

/// What came of handing a solution over.
#[derive(Default)]
pub struct Handed {
    /// A point of the finer model.
    pub point: Option<Vec<i64>>,
    /// Work units spent.
    pub work: u64,
}

/// A point of the finer model that follows the counts and has as little of `sum` as is found.
pub fn handed(
    (counted, counts): (&Model, &Counts),
    single: &Model,
    follow: Follow,
    beat: &[bool],
    sum: &Sum,
    limit: &Limit,
) -> Handed {
    let (program, fates) = hand_out(counted, counts, single, follow, beat);
    let Some(part) = Part::cut(&program, sum, &fates) else { return Handed::default() };
    let solved = minimise(&part.program, &part.sum, None, limit);
    Handed { point: solved.point.map(|point| part.whole_point(&point)), work: solved.work }
}
