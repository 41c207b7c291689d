//! What a night loses when something lapses: planned both ways.

use super::lapse::{Kind, lapses_before};
use super::outlook::{Planner, Tried};
use super::renewed::renewed;
use crate::night::{Night, Person, Role};
use crate::plan::Level;
use chrono::NaiveDate;

/// One night's loss by one kind of lapse, everything else renewed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Loss {
    /// What lapses.
    pub kind: Kind,
    /// Person-minutes of presence that are short then and would not be otherwise.
    pub minutes: i64,
    /// Tasks that are not done then and would be otherwise.
    pub tasks: i64,
    /// Whether it is proven that no rota loses nothing; else none was found.
    pub proven: bool,
}

/// The losses of a night by each kind of lapse that is still to come on `today`.
pub(super) fn losses<E>(night: &Night, today: NaiveDate, planner: &mut Planner<'_, E>) -> Result<Vec<Loss>, E> {
    let to_come = |kind: Kind| {
        let people = night.roster.people.iter();
        people
            .flat_map(|p| super::lapse::everything(night, p).map(move |(held, last)| (p, held, last)))
            .any(|(person, held, last)| held.kind() == kind && last >= today && lapses_before(night, person, last))
    };
    let kinds: Vec<Kind> = Kind::ALL.into_iter().filter(|&kind| to_come(kind)).collect();
    if kinds.is_empty() {
        return Ok(Vec::new());
    }
    let with = planner.cover(&renewed(night, |_, last| last >= today))?;
    let mut losses = Vec::new();
    for kind in kinds {
        let only = renewed(night, |held, last| last >= today && held.kind() != kind);
        let then = planner.cover(&only)?;
        losses.extend(loss(kind, &with, &then, nobody_holds(&only, kind)));
    }
    Ok(losses)
}

/// `None` when nothing is lost. A rota under fewer sign-offs is one under more: a search that was less lucky with
/// more must not make a loss smaller, nor one that was luckier a gain.
fn loss(kind: Kind, with: &Tried, then: &Tried, nobody: bool) -> Option<Loss> {
    let (missed, before) = (then.missed(), with.missed());
    (missed > before).then(|| Loss {
        kind,
        minutes: (missed.person_minutes() - before.person_minutes()).0.max(0),
        tasks: (i64::from(missed.tasks()) - i64::from(before.tasks())).max(0),
        proven: nobody || is_proven_worse(with, then),
    })
}

/// Whether nobody on duty is in date for it at the start of the shift: then nobody goes in, whatever is planned.
fn nobody_holds(night: &Night, kind: Kind) -> bool {
    let role = match kind {
        Kind::WatchDonnings => Role::DonningObserver,
        Kind::WatchRemovals => Role::DoffingObserver,
        Kind::Assist => Role::Assistant,
        Kind::Enter => return false,
    };
    !somebody_holds(night, role)
}

/// Whether somebody on the roster is in date for a role at the start of the shift.
pub(super) fn somebody_holds(night: &Night, role: Role) -> bool {
    let start = night.roster.shift.from;
    let in_date = |p: &Person| night.good_until(p, role).is_some_and(|until| until > start);
    night.roster.people.iter().any(in_date)
}

/// Whether the first level at which the two differ cannot be as low as with the sign-offs.
fn is_proven_worse(with: &Tried, then: &Tried) -> bool {
    let value = |level: Level| with.levels.iter().find(|l| l.level == level).map(|l| l.value);
    let of_missed = then.levels.iter().filter(|l| l.level.is_missed());
    let first = of_missed.filter_map(|l| Some((l, value(l.level)?))).find(|(l, value)| l.value != *value);
    first.is_some_and(|(level, value)| level.at_least > value)
}
