//! The coming nights: what lapses, which nights lose by it, on whom they rest, and whom to renew or train.

use chrono::NaiveDate;

use super::enough::{Enough, enough};
use super::lapse::{Held, Lapse, disagreements, lapses};
use super::loss::{Loss, losses};
use super::renewed::{HELPING, as_it_is, everybody_helps, renewed};
use super::rests::{Rests, rests};
use super::takeover::{able, handed_over, pieces};
use crate::check::{Fault, Missed, NotChecked, Review, review};
use crate::night::{Night, PersonIx, Role, Rota, Rule, WornIn};
use crate::plan::LevelResult;

/// One coming night.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Coming {
    /// The file it was read from.
    pub file: String,
    /// Roster and limits.
    pub night: Night,
}

/// A rota that was planned and checked.
#[derive(Clone, Debug)]
pub struct Tried {
    /// The rota.
    pub rota: Rota,
    /// What the check says: no fault, or it would not be here.
    pub review: Review,
    /// How good each level is known to be.
    pub levels: Vec<LevelResult>,
}

impl Tried {
    /// What the rota misses, as the check counts it.
    pub(super) fn missed(&self) -> Missed {
        self.review.measures.missed()
    }
}

/// Plans a night as far as cover goes and checks it.
pub(super) struct Planner<'a, E> {
    cover: &'a mut dyn FnMut(&Night) -> Result<Tried, E>,
    /// Nights of this roster that were planned already.
    known: Vec<(Night, Tried)>,
}

impl<E> Planner<'_, E> {
    /// The same night is planned once.
    pub(super) fn cover(&mut self, night: &Night) -> Result<Tried, E> {
        if let Some((_, tried)) = self.known.iter().find(|(known, _)| known == night) {
            return Ok(tried.clone());
        }
        let tried = if nobody_can_come_out(night) { nothing_planned(night) } else { (self.cover)(night)? };
        self.known.push((night.clone(), tried.clone()));
        Ok(tried)
    }
}

/// Whether nobody on duty is in date for something that every entry takes, at the start of the shift: then nothing can
/// be planned, and looking for a rota would only take time.
fn nobody_can_come_out(night: &Night) -> bool {
    let assisted = night.limits.ensembles.iter().filter(|kit| kit.worn_in == WornIn::Room).all(|kit| kit.assistant);
    let holds = |role| super::loss::somebody_holds(night, role);
    !holds(Role::DonningObserver) || !holds(Role::DoffingObserver) || (assisted && !holds(Role::Assistant))
}

/// The rota of a night on which nobody goes in, looked at by the check like any other.
fn nothing_planned(night: &Night) -> Tried {
    let (roster, constraint_set) = (night.roster.name.clone(), night.limits.name.clone());
    let rota = Rota { roster, constraint_set, issue: 1, ..Rota::default() };
    let review = review(night, &rota);
    Tried { rota, review, levels: Vec::new() }
}

/// One watch or spell, and who can do it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Piece {
    pub(super) role: Role,
    /// In date, rested and free, whoever does it in the rota among them.
    pub(super) can: Vec<PersonIx>,
    /// Rested and free, and not in date.
    pub(super) could: Vec<PersonIx>,
}

/// Every watch and spell of the rota that a night is to have.
pub(super) struct Ready {
    pub(super) pieces: Vec<Piece>,
}

/// One role on one coming night.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RoleAhead {
    /// The role.
    pub role: Role,
    /// Watches, or spells as assistant.
    pub pieces: usize,
    /// How many people can do each, fewest of all of them: in date, rested and free.
    pub fewest: usize,
}

/// What is ahead of one night.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NightAhead {
    /// What it loses by lapses that are still to come, each kind alone.
    pub losses: Vec<Loss>,
    /// Person-minutes and tasks missing if nothing is renewed.
    pub missing: (i64, i64),
    /// On how many people it rests, by role, if nothing is renewed.
    pub rests: Vec<Rests>,
    /// How many can do each watch and spell, by role, if nothing is renewed.
    pub roles: Vec<RoleAhead>,
}

/// Everything ahead.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Outlook {
    /// What is over or lapses, in order of its last day.
    pub lapses: Vec<Lapse>,
    /// Who holds what until different days by different rosters.
    pub disagreements: Vec<(String, Held, Vec<NaiveDate>)>,
    /// Each night, in order.
    pub nights: Vec<NightAhead>,
    /// How many people to spare were asked for.
    pub spare: usize,
    /// What gives every night so many.
    pub enough: Enough,
    /// What the check did not look at on some night, each once.
    pub not_checked: Vec<NotChecked>,
}

/// Looks ahead over nights in order of time. `cover` plans a night as far as cover goes and checks it.
///
/// # Errors
/// What `cover` returns; `None` inside when the smallest set could not be proven, which is a mistake of this program.
pub fn look_ahead<E>(
    nights: &[Coming],
    today: NaiveDate,
    spare: usize,
    cover: &mut dyn FnMut(&Night) -> Result<Tried, E>,
) -> Result<Option<Outlook>, E> {
    let (mut ahead, mut ready, mut not_checked) = (Vec::new(), Vec::new(), Vec::new());
    for coming in nights {
        let mut planner = Planner { cover: &mut *cover, known: Vec::new() };
        let night = &coming.night;
        let now = planner.cover(night)?;
        not_checked.extend(now.review.not_checked.clone());
        let these = all_ready(night, &wanted(night, &now, &mut planner)?);
        ahead.push(NightAhead {
            losses: losses(night, today, &mut planner)?,
            missing: missing(&now),
            rests: rests(night, &now, &mut planner)?,
            roles: HELPING.into_iter().filter_map(|role| of_role(&these, role)).collect(),
        });
        ready.push(these);
    }
    not_checked.sort();
    not_checked.dedup();
    Ok(enough(nights, &ready, spare).map(|enough| Outlook {
        lapses: lapses(nights, today),
        disagreements: disagreements(nights),
        nights: ahead,
        spare,
        enough,
        not_checked,
    }))
}

fn missing(tried: &Tried) -> (i64, i64) {
    let missed = tried.missed();
    (missed.person_minutes().0, i64::from(missed.tasks()))
}

/// The rota that the night is to have: as it is if that misses nothing; else with everything renewed that was ever
/// held; else as if everybody on the roster were signed off to watch and assist.
fn wanted<E>(night: &Night, now: &Tried, planner: &mut Planner<'_, E>) -> Result<Rota, E> {
    let mut best = now.clone();
    for better in [renewed(night, |_, _| true), everybody_helps(&renewed(night, |_, _| true))] {
        if best.missed().is_nothing() {
            break;
        }
        let tried = planner.cover(&better)?;
        if tried.missed() < best.missed() {
            best = tried;
        }
    }
    Ok(best.rota)
}

/// For every watch and spell of a rota who can do it by tonight's sign-offs, and who could with another.
fn all_ready(night: &Night, rota: &Rota) -> Ready {
    // What entrants hold is not asked here: the rota may count on what is still to be renewed.
    let open = everybody_helps(&renewed(night, |_, _| true));
    let own: Vec<Vec<Night>> = (0..night.roster.people.len())
        .map(|at| HELPING.iter().map(|&role| as_it_is(&open, night, at, role)).collect())
        .collect();
    let pieces = pieces(&open, rota).into_iter().map(|piece| {
        let role = HELPING.iter().position(|&role| role == piece.role).unwrap_or(0);
        let is_in_date = |&person: &PersonIx| {
            let new = handed_over(&open, rota, &piece, person);
            let of_dates = |f: &Fault| matches!(f.rule, Rule::A1 | Rule::A9);
            let lapsed = |f: &Fault| of_dates(f) && f.people.contains(&person) && f.span.overlaps(piece.span);
            // Only this piece is asked about: the same person may have others, later, out of date.
            !review(&own[person.0][role], &new).faults.iter().any(lapsed)
        };
        let (can, could) = able(&open, rota, &piece).into_iter().partition(is_in_date);
        Piece { role: piece.role, can, could }
    });
    Ready { pieces: pieces.collect() }
}

fn of_role(ready: &Ready, role: Role) -> Option<RoleAhead> {
    let pieces = ready.pieces.iter().filter(|piece| piece.role == role);
    let fewest = pieces.clone().map(|piece| piece.can.len()).min()?;
    Some(RoleAhead { role, pieces: pieces.count(), fewest })
}
