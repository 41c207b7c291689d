//! The night as a mixed-integer linear program over counting curves.
//!
//! People who are alike form a [`Group`] and are counted, not named. With
//! groups of one the program is exact; with larger ones it is a relaxation
//! (every rota satisfies it, not every solution can be handed out by name), so
//! its bounds are valid either way. Lanes are grouped the same way.

mod breaks;
mod doors;
mod duties;
mod early_exit;
mod entries;
mod jobs;
mod kept_apart;
mod objective;
mod people;
mod pins;
mod removals;
mod rescue;
mod rolling;
mod rooms;
mod showers;
mod skills;
mod stock;
mod supervised;
mod through;
mod wear;

use crate::night::{EnsembleIx, LaneIx, Night, PersonIx, Span};

use super::ability::{Ability, ability};
use super::curve::Curve;
use super::grid::{Grid, Slot};
use super::program::{Col, Program, Sum};
pub use duties::{Duties, Entering, Event, Posting};
pub use early_exit::{Minutes as ExitMinutes, ROLES as EXIT_ROLES, soonest as soonest_exit};
pub use rescue::{Rescue, is_needed as is_rescue_needed};
pub use rooms::Room;

/// People who are interchangeable tonight, counted together.
#[derive(Clone, Debug)]
pub struct Group {
    /// Who.
    pub members: Vec<PersonIx>,
    /// What each of them may do.
    pub ability: Ability,
}

impl Group {
    /// How many.
    #[must_use]
    pub fn count(&self) -> i64 {
        i64::try_from(self.members.len()).expect("a roster holds fewer people than i64")
    }
}

/// Lanes with the same closures, counted together.
#[derive(Clone, Debug)]
pub struct LaneGroup {
    /// Which.
    pub members: Vec<LaneIx>,
    /// Their closures.
    pub closures: Vec<Span>,
}

/// Names one curve of a model: whose it is, of what kind, and where.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct CurveKey {
    /// Place of the group of people.
    pub group: usize,
    /// Kind of event.
    pub event: Event,
    /// Room, or ensemble, where the event has one.
    pub of: usize,
    /// Place of the group of lanes, where the event has one.
    pub lane: usize,
}

/// How people and lanes are grouped.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Grouping {
    /// Only those who enter, and only what matters for entering: smallest, every
    /// helper taken for granted, a relaxation.
    Entrants,
    /// Interchangeable people and lanes together: small, a relaxation.
    Alike,
    /// Everyone and every lane alone: exact.
    Single,
}

/// The program of a night with the meaning of its columns.
#[derive(Clone, Debug)]
pub struct Model {
    /// The grid.
    pub grid: Grid,
    /// How its people are grouped.
    pub grouping: Grouping,
    /// Columns and rows.
    pub program: Program,
    /// Groups of people, in order of their first member.
    pub groups: Vec<Group>,
    /// Groups of lanes, in order of their first member.
    pub lanes: Vec<LaneGroup>,
    /// Room ensembles that somebody may enter in.
    pub ensembles: Vec<EnsembleIx>,
    /// The duties of each group, parallel to `groups`.
    pub duties: Vec<Duties>,
    /// Rooms, in the roster's order.
    pub rooms: Vec<Room>,
    /// Who coordinates and who stands by.
    pub rescue: Rescue,
    /// Tonight's low hours.
    pub low_hours: Vec<Span>,
    /// For each task of the roster: its possible starts.
    pub tasks: Vec<Vec<(Slot, Col)>>,
    /// For each pin of the roster: 1 where it is kept.
    pub pins: Vec<Col>,
    /// People with a skill missing in one slot of a room, and the minutes of it that are asked for.
    pub skills: Vec<(Col, i64)>,
}

impl Model {
    /// Builds the program of a night.
    #[must_use]
    pub fn build(night: &Night, grouping: Grouping) -> Self {
        Self::build_with(night, grouping, &[])
    }

    /// The same with some people on their own, whoever they are like.
    #[must_use]
    pub fn build_with(night: &Night, grouping: Grouping, alone: &[PersonIx]) -> Self {
        let grid = Grid::of(night);
        let groups = group_people(night, &grid, grouping, alone);
        let lanes = group_lanes(night, grouping);
        let mut ensembles: Vec<_> = groups.iter().filter_map(|g| Some(g.ability.enter.as_ref()?.ensemble)).collect();
        ensembles.sort_unstable();
        ensembles.dedup();
        let program = Program::default();
        let (duties, rooms, tasks, pins, skills) = (vec![], vec![], vec![], vec![], vec![]);
        let low_hours = night.low_hours();
        let mut model = Self {
            grid,
            grouping,
            program,
            groups,
            lanes,
            ensembles,
            duties,
            rooms,
            rescue: Rescue::default(),
            low_hours,
            tasks,
            pins,
            skills,
        };
        model.add_duties(night);
        model.add_rescue_columns(night);
        model.add_exit_columns(night);
        model.add_shower_columns(night);
        model.add_people_rows(night);
        model.add_entries_rows(night);
        model.add_rolling_rows(night);
        match grouping {
            Grouping::Entrants => model.add_lane_rows(night),
            Grouping::Alike | Grouping::Single => {
                model.add_break_rows(night);
                model.add_removal_rows(night);
                model.add_through_rows(night);
            }
        }
        model.add_shower_rows(night);
        model.add_rooms(night);
        model.add_preceptor_rows(night);
        model.add_tasks(night);
        model.add_skill_rows(night);
        model.add_stock_rows(night);
        model.add_settled(night);
        model.add_rescue_rows(night);
        model
    }

    /// Groups with their duties.
    pub fn staffed(&self) -> impl Iterator<Item = (&Group, &Duties)> {
        self.groups.iter().zip(&self.duties)
    }

    /// Whether any event happens in some slots, breaks aside.
    #[must_use]
    pub fn anything_in(&self, point: &[i64], slots: std::ops::Range<Slot>) -> bool {
        let mut curves = self.curves().into_iter().filter(|(key, _)| key.event != Event::Break);
        curves.any(|(_, curve)| curve.slots().any(|slot| slots.contains(&slot) && curve.count(point, slot) > 0))
    }

    /// Every curve with its key.
    #[must_use]
    pub fn curves(&self) -> Vec<(CurveKey, &Curve)> {
        let mut all = Vec::new();
        for (group, duties) in self.duties.iter().enumerate() {
            let curves = duties.curves().into_iter();
            all.extend(curves.map(|(event, of, lane, curve)| (CurveKey { group, event, of, lane }, curve)));
        }
        all
    }

    /// The key, here, of a curve of a model of single people.
    #[must_use]
    pub fn key_of_group(&self, key: CurveKey, single: &Self) -> CurveKey {
        let person = single.groups[key.group].members[0];
        let group = self.groups.iter().position(|g| g.members.contains(&person)).unwrap_or(key.group);
        let lane =
            single.lanes.get(key.lane).map_or(key.lane, |lane| self.lane_of(lane.members[0]).unwrap_or(key.lane));
        CurveKey { group, lane, ..key }
    }
}

/// Adds every curve's events in one slot.
fn add_at(sum: &mut Sum, curve: &Curve, slot: Slot, times: i64) {
    curve.add_at(sum, slot, times);
}

fn group_people(night: &Night, grid: &Grid, grouping: Grouping, alone: &[PersonIx]) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for person in night.roster.person_indices() {
        let ability = match grouping {
            Grouping::Entrants => ability(night, grid, person).for_entering(),
            Grouping::Alike | Grouping::Single => Some(ability(night, grid, person)),
        };
        let Some(ability) = ability else { continue };
        let on_its_own = |who: &PersonIx| grouping == Grouping::Single || alone.contains(who);
        let twin = groups.iter_mut().find(|g| !g.members.iter().any(on_its_own) && g.ability == ability);
        match twin.filter(|_| !on_its_own(&person)) {
            Some(group) => group.members.push(person),
            None => groups.push(Group { members: vec![person], ability }),
        }
    }
    groups
}

fn group_lanes(night: &Night, grouping: Grouping) -> Vec<LaneGroup> {
    let mut groups: Vec<LaneGroup> = Vec::new();
    for (ix, lane) in night.roster.lanes.iter().enumerate() {
        let twin = groups.iter_mut().find(|g| grouping != Grouping::Single && g.closures == lane.closures);
        match twin {
            Some(group) => group.members.push(LaneIx(ix)),
            None => groups.push(LaneGroup { members: vec![LaneIx(ix)], closures: lane.closures.clone() }),
        }
    }
    groups
}
