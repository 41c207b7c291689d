//! How entrants may be inside, and what is asked of them: the figures that the arithmetic is made of.

use crate::night::{EnsembleIx, Minutes, Night, Person, PersonIx, Presence, Role, Span, WearFrom};

/// A stretch in which a room is never to be short: neighbouring stretches of the roster that ask for as many are one.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stretch {
    /// From when to when.
    pub span: Span,
    /// How many are asked for.
    pub people: u32,
    /// How many have to be inside: no fewer than the unit lets be inside at all.
    pub inside: u32,
    /// Whether it is the only one of its room, so that overlaps can be counted.
    pub(super) alone: bool,
}

/// The stretches of presence of a night, by room and time.
#[must_use]
pub fn stretches(night: &Night) -> Vec<Stretch> {
    let mut all: Vec<Presence> = night.roster.presence.iter().copied().filter(|p| !p.span.is_empty()).collect();
    all.sort_by_key(|p| (p.room, p.span));
    let mut merged: Vec<Presence> = Vec::new();
    for next in all {
        match merged.last_mut() {
            Some(last) if (last.room, last.people, last.span.to) == (next.room, next.people, next.span.from) => {
                last.span.to = next.span.to;
            }
            _ => merged.push(next),
        }
    }
    let alone = |one: &Presence| merged.iter().filter(|other| other.room == one.room).count() == 1;
    let stretch = |one: &Presence| Stretch {
        span: one.span,
        people: one.people,
        inside: one.people.max(night.limits.min_inside),
        alone: alone(one),
    };
    merged.iter().map(stretch).collect()
}

/// How one person may be inside, in figures of the unit.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Use {
    /// What they wear.
    pub ensemble: EnsembleIx,
    /// `c`: the longest stay.
    pub stay: Minutes,
    /// Wear of an entry that is not spent inside: the part dressed before the door, and removal.
    pub around: Minutes,
    /// From the door out to the next door in: removal, rest, donning.
    pub between: Minutes,
    /// `o`: overlap.
    pub overlap: Minutes,
    /// The wear left in this shift; `None` where this ensemble adds nothing to it.
    pub wear_left: Option<Minutes>,
    /// The most entries, if the unit has a limit.
    entries_max: Option<u32>,
    /// When this person may be inside.
    pub(super) window: Span,
}

/// Whether the overlap of an entry is counted.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Overlap {
    /// Every entry owes it but those at the end.
    Counted,
    /// Nobody does.
    Left,
}

impl Use {
    /// `None` where the person may not go in at all.
    #[must_use]
    pub fn of(night: &Night, ix: PersonIx) -> Option<Self> {
        let person = night.roster.person(ix);
        let signed = [Role::Entrant, Role::SupervisedEntrant].iter().any(|&r| night.good_through(person, r).is_some());
        let worn = night.room_ensemble(ix).filter(|_| signed && person.enter_today)?;
        let usage = Self::wearing(night, person, worn);
        (usage.stay > Minutes::ZERO).then_some(usage)
    }

    fn wearing(night: &Night, person: &Person, worn: EnsembleIx) -> Self {
        let (limits, ensemble) = (&night.limits, night.limits.ensemble(worn));
        let dressed = match limits.wear_from {
            WearFrom::Sealed => ensemble.sealed,
            WearFrom::DonningStart => ensemble.donning,
            WearFrom::DoorIn => Minutes::ZERO,
        };
        let around = dressed + ensemble.removal;
        let stay = (ensemble.max_wear - ensemble.margin - around).down_to_grid(limits.grid);
        let signed = [Role::Entrant, Role::SupervisedEntrant].into_iter().filter_map(|r| night.good_until(person, r));
        let in_date = signed.max().unwrap_or(person.on_duty.from);
        let left = (limits.cumulative_wear - person.worn_before).0 * 100;
        let duty = person.on_duty;
        Self {
            ensemble: worn,
            stay,
            around,
            between: ensemble.removal + limits.full_rest(worn) + ensemble.donning,
            overlap: limits.overlap,
            wear_left: (ensemble.cumulative_percent > 0).then(|| Minutes(left / ensemble.cumulative_percent)),
            entries_max: limits.entries_max,
            window: Span::new(duty.from + ensemble.donning, (duty.to - limits.shower).min(in_date) - ensemble.removal),
        }
    }

    /// The most minutes that this person covers in so many entries, all of them from the first minute of `hull` to
    /// its last; negative where so many do not fit.
    #[must_use]
    pub fn covered(&self, entries: i64, hull: Span, overlap: Overlap) -> Minutes {
        let owed = if overlap == Overlap::Counted { self.overlap.0 * entries } else { 0 };
        let by_stay = self.stay.0 * entries;
        let by_time = self.window.intersection(hull).length().0 - self.between.0 * (entries - 1);
        let by_wear = self.wear_left.map_or(i64::MAX / 2, |left| left.0 - self.around.0 * entries);
        Minutes(by_stay.min(by_time).min(by_wear) - owed)
    }

    /// The most minutes that this person covers, and in how many entries.
    #[must_use]
    pub fn most(&self, hull: Span, overlap: Overlap) -> (Minutes, i64) {
        let limit = self.entries_max.map_or(i64::MAX, i64::from);
        // Every further entry takes at least the time between two, so that there is an end to it.
        let fits = hull.length().0 / self.between.0.max(1) + 2;
        let all = (1..=limit.min(fits)).map(|entries| (self.covered(entries, hull, overlap), entries));
        all.fold((Minutes::ZERO, 0), |best, next| if next.0 > best.0 { next } else { best })
    }

    /// Whether a person is back later than those who relieve them may still overlap.
    pub(super) fn away_long_enough(&self) -> bool {
        self.between >= self.overlap
    }
}

/// From the first minute of presence to the last.
///
/// # Panics
/// Without any stretch.
#[must_use]
pub fn hull(stretches: &[Stretch]) -> Span {
    let first = stretches.iter().map(|s| s.span.from).min().expect("there is a stretch");
    let last = stretches.iter().map(|s| s.span.to).max().expect("there is a stretch");
    Span::new(first, last)
}

/// How many parts of a length make up a whole: rounded up.
#[must_use]
pub fn parts(whole: Minutes, part: Minutes) -> u32 {
    let whole = whole.0.max(0);
    u32::try_from(whole.div_euclid(part.0) + i64::from(whole.rem_euclid(part.0) > 0)).unwrap_or(u32::MAX)
}
