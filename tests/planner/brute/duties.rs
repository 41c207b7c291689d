//! What keeps one person busy, and what can follow what.

use anteroom::night::{CleanDuty, EnsembleIx, Night, PostRole};

use super::people::{At, People};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Kind {
    Entry,
    Post(PostRole),
    Donning,
    Watch,
    Assist,
}

/// One duty of one person.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Duty {
    pub kind: Kind,
    /// Busy, ready and reset time and cleaning included.
    pub from: At,
    pub to: At,
    /// What is watched, assisted or worn, without them.
    pub span: (At, At),
    pub lane: Option<usize>,
    /// The ensemble worn for it.
    pub worn: Option<EnsembleIx>,
    /// Watching or assisting on post: only others of the same sort stand in its way.
    pub on_post: bool,
}

impl Duty {
    fn clean(&self) -> Option<CleanDuty> {
        match self.kind {
            Kind::Donning => Some(CleanDuty::DonningObserver),
            Kind::Watch => Some(CleanDuty::DoffingObserver),
            Kind::Entry | Kind::Post(_) | Kind::Assist => None,
        }
    }
}

/// Whether `person` can have both duties (A7, B4, B5, C1, C3); donnings watched at once are counted elsewhere.
pub fn go_together(night: &Night, people: &People<'_>, person: usize, one: &Duty, other: &Duty) -> bool {
    let (first, next) = if (one.from, one.to) <= (other.from, other.to) { (one, other) } else { (other, one) };
    if (first.on_post || next.on_post) && first.kind != next.kind {
        return true;
    }
    let changeover = night.limits.changeover.0;
    let moves = if first.lane == next.lane { 0 } else { changeover };
    match (first.kind, next.kind) {
        (Kind::Donning, Kind::Donning) => true,
        (Kind::Watch, Kind::Watch) => first.to.max(first.span.1 + moves_between(first, next, moves)) <= next.from,
        (Kind::Assist, Kind::Assist) => first.to + moves_between(first, next, moves) <= next.from,
        _ => {
            let same = first.kind == next.kind;
            let over = if first.kind == Kind::Assist { first.to } else { first.span.1 };
            let free = if same { first.to } else { first.to.max(over + changeover) };
            free.max(first.to + owed(people, person, first, next)) <= next.from
        }
    }
}

fn moves_between(first: &Duty, next: &Duty, moves: i64) -> i64 {
    if first.lane.is_some() && next.lane.is_some() { moves } else { 0 }
}

fn owed(people: &People<'_>, person: usize, first: &Duty, next: &Duty) -> i64 {
    let Some(worn) = first.worn else { return 0 };
    next.worn.map_or_else(
        || people.rest_before_duty(person, worn, next.clean()),
        |ensemble| people.rest(person, worn, ensemble),
    )
}

/// Minutes on post and minutes helping outside a post, each once.
pub fn load(duties: &[Duty]) -> i64 {
    let mut spans: Vec<(At, At)> =
        duties.iter().filter(|d| d.kind != Kind::Entry && !d.on_post).map(|d| (d.from, d.to)).collect();
    spans.sort_unstable();
    let (mut sum, mut until) = (0, i64::MIN);
    for (from, to) in spans {
        sum += (to - from.max(until)).max(0);
        until = until.max(to);
    }
    sum
}

/// Whether nobody watches for too long at a stretch (C11).
pub fn pauses_enough(night: &Night, duties: &[Duty]) -> bool {
    let Some(limit) = night.limits.watching else { return true };
    let mut watches: Vec<(At, At)> =
        duties.iter().filter(|d| matches!(d.kind, Kind::Donning | Kind::Watch)).map(|d| (d.from, d.to)).collect();
    watches.sort_unstable();
    let mut stretch: Option<(At, At)> = None;
    for (from, to) in watches {
        let goes_on = stretch.filter(|(_, until)| from - until < limit.pause.0);
        let now = goes_on.map_or((from, to), |(begun, until)| (begun, until.max(to)));
        if now.1 - now.0 > limit.max.0 {
            return false;
        }
        stretch = Some(now);
    }
    true
}

/// Whether no more donnings are watched at once than the unit allows (C6).
pub fn donnings_fit(night: &Night, duties: &[Duty]) -> bool {
    let donnings = || duties.iter().filter(|d| d.kind == Kind::Donning);
    let at_once = |at: At| donnings().filter(|d| d.from <= at && at < d.to).count();
    donnings().all(|d| at_once(d.from) <= night.limits.donning_capacity as usize)
}
