//! The table of nights.

use super::Files;
use super::draw::Draw;
use super::roster;
use super::trial;
use super::unit::{Family, Tightness};

/// A row of the table of trials.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Trial {
    pub name: &'static str,
    pub people: usize,
    pub rooms: usize,
    /// Donning, removal, rest and longest wear.
    pub minutes: (i64, i64, i64, i64),
    /// How many may enter, observe, assist.
    pub may: [usize; 3],
}

/// A night drawn from a seed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Drawn {
    pub people: usize,
    pub rooms: usize,
    pub hours: usize,
    pub tightness: Tightness,
    pub seed: u64,
}

/// Where the text of a night comes from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum From {
    Trial(Trial),
    Drawn(Drawn),
    Example { roster: &'static str, limits: &'static str },
}

/// A night of the benchmark.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Named {
    /// Its name.
    pub name: &'static str,
    /// Its family.
    pub family: Family,
    from: From,
}

impl Named {
    /// How tight it is meant to be, where it was drawn to be so.
    pub const fn tightness(&self) -> Option<Tightness> {
        match self.from {
            From::Drawn(drawn) => Some(drawn.tightness),
            From::Trial(_) | From::Example { .. } => None,
        }
    }

    /// People, rooms and hours it is meant to have, where they were asked for.
    pub const fn size(&self) -> Option<(usize, usize, usize)> {
        match self.from {
            From::Drawn(drawn) => Some((drawn.people, drawn.rooms, drawn.hours)),
            From::Trial(trial) => Some((trial.people, trial.rooms, 12)),
            From::Example { .. } => None,
        }
    }

    /// Its files. Order 0 is the night itself; any other is the same night with its people, and rooms for as much as
    /// a solver knows, listed in another order, so that luck shows.
    ///
    /// # Errors
    /// An example that cannot be read.
    pub fn files(&self, order: u64) -> Result<Files, String> {
        let unit = match self.from {
            From::Example { roster, limits } => {
                let files = Files::of_example(roster, limits)?;
                return Ok(Files { roster: roster::reordered(&files.roster, order), ..files });
            }
            From::Trial(trial) => trial::unit(&trial),
            From::Drawn(drawn) => roster::drawn(self.name, self.family, &drawn),
        };
        let files = Files { roster: roster::text(&unit), limits: super::limits::text(&unit.figures) };
        Ok(Files { roster: roster::reordered(&files.roster, order), ..files })
    }
}

/// Puts things in the order of that number; 0 leaves them.
pub fn in_order<T>(things: &mut [T], order: u64) {
    if order > 0 {
        Draw::new(order).shuffle(things);
    }
}

/// Every night, in order of family and size.
pub fn all() -> Vec<Named> {
    let trials = TRIALS.map(|trial| Named { name: trial.name, family: trial_family(&trial), from: From::Trial(trial) });
    let drawn = DRAWN.map(|(name, family, people, rooms, hours, tightness, seed)| {
        let drawn = Drawn { people, rooms, hours, tightness, seed };
        Named { name, family, from: From::Drawn(drawn) }
    });
    let examples = EXAMPLES.map(|(name, roster, limits)| {
        let from = From::Example { roster, limits };
        Named { name, family: Family::Example, from }
    });
    trials.into_iter().chain(drawn).chain(examples).collect()
}

fn trial_family(trial: &Trial) -> Family {
    if trial.minutes.3 < 90 { Family::Hot } else { Family::Temperate }
}

const TRIALS: [Trial; 4] = [
    Trial { name: "trial-small", people: 8, rooms: 1, minutes: (20, 25, 60, 120), may: [6, 4, 4] },
    Trial { name: "trial-temperate", people: 12, rooms: 1, minutes: (20, 25, 60, 180), may: [9, 7, 6] },
    Trial { name: "trial-two-room", people: 20, rooms: 2, minutes: (20, 25, 60, 180), may: [14, 10, 7] },
    Trial { name: "trial-hot", people: 24, rooms: 2, minutes: (15, 15, 60, 60), may: [16, 11, 8] },
];

type Row = (&'static str, Family, usize, usize, usize, Tightness, u64);

/// Name, family, people, rooms, hours, tightness, seed. A row is never changed, only added: results are compared by it.
const DRAWN: [Row; 21] = {
    use Family::{FullRule, Hot, Temperate};
    use Tightness::{Impossible, Loose, Tight};
    [
        ("birch", Temperate, 6, 1, 8, Loose, 101),
        ("rush", Temperate, 10, 1, 12, Tight, 102),
        ("sedge", Temperate, 16, 2, 12, Loose, 103),
        ("willow", Temperate, 16, 2, 12, Impossible, 104),
        ("aspen", Temperate, 24, 2, 12, Tight, 105),
        ("hornbeam", Temperate, 32, 3, 16, Loose, 106),
        ("linden", Temperate, 48, 4, 24, Tight, 107),
        ("spruce", Temperate, 64, 4, 48, Loose, 108),
        ("cedar", Temperate, 96, 8, 24, Tight, 109),
        ("thyme", Hot, 8, 1, 8, Loose, 201),
        ("sage", Hot, 16, 1, 12, Tight, 202),
        ("myrtle", Hot, 24, 2, 12, Tight, 203),
        ("agave", Hot, 24, 2, 12, Impossible, 204),
        ("olive", Hot, 48, 4, 24, Tight, 205),
        ("carob", Hot, 96, 8, 24, Tight, 206),
        ("clover", FullRule, 12, 1, 8, Loose, 301),
        ("vetch", FullRule, 16, 2, 12, Loose, 302),
        ("lupin", FullRule, 24, 2, 12, Tight, 303),
        ("gorse", FullRule, 24, 2, 12, Impossible, 304),
        ("broom", FullRule, 48, 4, 24, Tight, 305),
        ("laburnum", FullRule, 96, 8, 24, Tight, 306),
    ]
};

/// Name, roster, constraint set.
const EXAMPLES: [(&str, &str, &str); 10] = [
    ("quiet-night", "quiet-night", "temperate"),
    ("two-rooms", "two-rooms", "temperate"),
    ("short-staffed", "short-staffed", "temperate"),
    ("first-entries", "first-entries", "temperate"),
    ("handover", "handover", "temperate"),
    ("hot-day", "hot-day", "hot"),
    ("clock-change-night", "clock-change-night", "respirator-classes"),
    ("short-wear-afternoon", "short-wear-afternoon", "forty-five-twenty"),
    ("short-of-respirators", "short-of-respirators", "powered"),
    ("every-rule", "every-rule", "every-rule"),
];
