//! From a coarser grouping of people to a finer one, exactly if that can be done.
//!
//! The counts say how many of a group do what in which slot. The finer program
//! is asked for duties that add up to just that: for helpers to the entrants who
//! go through a door, or for names. Where there are none, for duties that come
//! as near as they can.

use std::collections::{BTreeMap, BTreeSet};

use super::curve::Curve;
use super::model::{CurveKey, Event, Model};
use super::part::Fate;
use super::program::{Program, Sum};
use super::thin::Doors;

/// Events by curve of the counted model and by slot; absent means none.
pub type Counts = BTreeMap<(CurveKey, i32), i64>;

/// How closely names must follow the counts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Follow {
    /// Every count is met; breaks find their own times.
    Exactly,
    /// No count is passed; breaks find their own times.
    AtMost,
    /// Every count of people through the door is met; the rest is open.
    Doors,
    /// No count of people through the door is passed; the rest is open.
    DoorsAtMost,
}

impl Follow {
    /// From people counted to people by name, in the order in which they are tried.
    pub const NAMES: [Self; 2] = [Self::Exactly, Self::AtMost];

    /// From entrants alone to everybody, in the order in which they are tried.
    pub const HELPERS: [Self; 2] = [Self::Doors, Self::DoorsAtMost];

    /// Whether nothing that was counted may be lost.
    pub const fn is_exact(self) -> bool {
        matches!(self, Self::Exactly | Self::Doors)
    }

    /// Least and most events where the counts say `count`; `None` where they do not decide.
    fn sides(self, event: Event, count: i64) -> Option<(i64, i64)> {
        let through_door = matches!(event, Event::DoorIn | Event::DoorOut);
        match self {
            Self::Exactly => (event != Event::Break).then_some((count, count)),
            Self::AtMost => (event != Event::Break).then_some((0, count)),
            Self::Doors => through_door.then_some((count, count)),
            Self::DoorsAtMost => through_door.then_some((0, count)),
        }
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

/// When people go through a door by some counts.
pub fn doors(counts: &Counts) -> Doors {
    let mut doors = Doors::default();
    for &(key, slot) in counts.keys() {
        match key.event {
            Event::DoorIn => doors.ins.insert(slot),
            Event::DoorOut => doors.outs.insert(slot),
            _ => false,
        };
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
        let slots: BTreeSet<i32> = curves.iter().flat_map(|c| c.slots()).collect();
        for slot in slots {
            let count = counts.get(&(key, slot)).copied().unwrap_or(0);
            match follow.sides(key.event, count) {
                Some((_, 0)) => curves.iter().for_each(|curve| curve.hold_still(&mut fates, slot)),
                Some((least, most)) => {
                    let mut sum = Sum::new();
                    curves.iter().for_each(|curve| curve.add_at(&mut sum, slot, 1));
                    program.row(sum, Some(least), Some(most), None);
                }
                None if count > 0 => {}
                None => {
                    let off_beat = |curve: &&&Curve| curve.column(slot).is_some_and(|col| !beat[col.0]);
                    curves.iter().filter(off_beat).for_each(|curve| curve.hold_still(&mut fates, slot));
                }
            }
        }
    }
    (program, fates)
}
