//! Which faults of the check stand against which donning or removal.

use super::proof::{Watched, What};
use crate::check::{By, Fault, Review};
use crate::night::{Night, Rota, Rule, Span};

/// In which way a fault spoils the watching.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Ground {
    /// Somebody who watches or assists is not named, or not there, or not dressed for it.
    There,
    /// Out of date, not signed off, or not done lately enough.
    InDate,
    /// Wearer, observer and assistant are not three people.
    Distinct,
    /// Busy with something else, or not to be had then.
    Free,
    /// Not rested, or too long on watch, in a kit or without a break.
    Rested,
}

impl Ground {
    /// Every ground, in order.
    pub const ALL: [Self; 5] = [Self::There, Self::InDate, Self::Distinct, Self::Free, Self::Rested];
}

/// The ground on which a rule, broken by whoever watches or assists, spoils it. `None` for rules about
/// something else.
pub(super) const fn ground(rule: Rule) -> Option<Ground> {
    match rule {
        Rule::C1 | Rule::C3 | Rule::C4 | Rule::C5 | Rule::C6 => Some(Ground::There),
        Rule::A1 | Rule::A2 | Rule::A9 => Some(Ground::InDate),
        Rule::C2 => Some(Ground::Distinct),
        Rule::A3 | Rule::A4 | Rule::A6 | Rule::A7 | Rule::F1 | Rule::F2 | Rule::H6 => Some(Ground::Free),
        Rule::A8
        | Rule::B2
        | Rule::B4
        | Rule::B5
        | Rule::B6
        | Rule::B7
        | Rule::B10
        | Rule::C11
        | Rule::F3
        | Rule::F4
        | Rule::F8 => Some(Ground::Rested),
        // What the entry itself, the lane, the room, the stock and the night are like is not about watching. C7
        // says once more of an entry what C1, C3 or C9 say of its removal.
        Rule::A5
        | Rule::B1
        | Rule::B3
        | Rule::B8
        | Rule::B9
        | Rule::C7
        | Rule::C8
        | Rule::C9
        | Rule::C10
        | Rule::D1
        | Rule::D2
        | Rule::D3
        | Rule::D4
        | Rule::D5
        | Rule::D6
        | Rule::D8
        | Rule::E1
        | Rule::F7
        | Rule::G1
        | Rule::G2 => None,
    }
}

/// Whether there is no proof with such a fault, wherever it belongs. When times are out of order (B1), what is
/// watched from when to when is not certain.
const fn is_of_watching(rule: Rule) -> bool {
    matches!(rule, Rule::B1 | Rule::C1 | Rule::C2 | Rule::C3 | Rule::C4 | Rule::C5 | Rule::C6 | Rule::C11)
}

/// Notes each fault at what it spoils. Gives the faults of watching that spoil nothing in the list, and how many
/// faults are of other kinds.
pub(super) fn laid_beside(night: &Night, rota: &Rota, review: &Review, all: &mut [Watched]) -> (Vec<usize>, usize) {
    let (mut beside, mut others) = (Vec::new(), 0);
    for (ix, fault) in review.faults.iter().enumerate() {
        // What shares a minute with a donning or removal itself is of that one; only failing that it is of the
        // minutes before and after, in which the observer gets ready and writes up.
        let kinds: [fn(&Night, &Watched) -> Span; 2] = [of_itself, around];
        let spoilt = kinds.iter().map(|minutes| spoilt(rota, fault, all, |one| minutes(night, one)));
        match spoilt.into_iter().find(|spoilt| !spoilt.is_empty()) {
            Some(spoilt) => spoilt.into_iter().for_each(|place| all[place].faults.push(ix)),
            None if is_of_watching(fault.rule) => beside.push(ix),
            None => others += 1,
        }
    }
    (beside, others)
}

fn spoilt(rota: &Rota, fault: &Fault, all: &[Watched], busy: impl Fn(&Watched) -> Span) -> Vec<usize> {
    let stands = |place: &usize| stands_against(rota, fault, &all[*place], busy(&all[*place]));
    (0..all.len()).filter(stands).collect()
}

fn stands_against(rota: &Rota, fault: &Fault, one: &Watched, busy: Span) -> bool {
    let helps = fault.people.iter().any(|&p| one.observer == Some(p) || one.assistant == Some(p));
    let is_wearer = fault.people.contains(&one.wearer);
    let alone = fault.people.len() == 1;
    let here = fault.span.overlaps(one.span);
    let removal = one.what == What::Removal;
    match fault.rule {
        // The wearer alone where nobody is named, or the observer and everybody watched at once.
        Rule::C1 | Rule::C4 => removal && here && is_wearer && (alone || helps),
        Rule::C6 => !removal && here && is_wearer && (alone || helps),
        Rule::C2 => removal && helps && fault.span == one.span,
        // A helper alone where the unit has no kit for the post.
        Rule::C3 | Rule::C5 => removal && here && (is_wearer && (alone || helps) || alone && helps),
        Rule::A6 => helps && is_wearer && here,
        rule => ground(rule).is_some() && helps && minutes(rota, fault).overlaps(busy),
    }
}

/// From its first minute to its last.
const fn of_itself(_: &Night, one: &Watched) -> Span {
    one.span
}

/// The observer is there before a removal and writes up after it.
fn around(night: &Night, one: &Watched) -> Span {
    match one.what {
        What::Donning => one.span,
        What::Removal => {
            Span::new(one.span.from - night.limits.observer_ready, one.span.to + night.limits.observer_reset)
        }
    }
}

/// The minutes of a fault in which what is done is not as it should be: of a stretch that has become too long, its end.
fn minutes(rota: &Rota, fault: &Fault) -> Span {
    let is_break = || rota.breaks.iter().any(|b| fault.people.contains(&b.person) && b.span == fault.span);
    let is_stretch = match fault.rule {
        Rule::C11 | Rule::B2 => true,
        Rule::F3 => !is_break(),
        _ => false,
    };
    match fault.by {
        Some(By::Minutes(by)) if is_stretch => Span::new(fault.span.to - by, fault.span.to),
        _ => fault.span,
    }
}
