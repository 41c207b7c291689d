//! Names for an early exit (C8): whoever could see to it, the same people for as long as can be.
//!
//! The solution says that in every slot somebody could. Who else could, all
//! duties staying as they are, is read off the rows, and of all of them those
//! are named who make for the fewest changes.

use std::collections::BTreeSet;

use crate::night::{Night, PersonIx, PostRole, Span, Stint};

use super::grid::Slot;
use super::model::{EXIT_ROLES, ExitMinutes, Model, soonest_exit};
use super::program::{Col, in_slot};

/// Observers and assistants for an early exit, in order of time.
pub fn stints(night: &Night, model: &Model, point: &[i64], stays: &[Span]) -> [Vec<Stint>; 2] {
    let Some(reach) = model.exit_reach(night) else { return [vec![], vec![]] };
    let could = Could { cols: could_be_one(model, point), night, model };
    let mut naming = Naming { could, reach, named: [vec![], vec![]], last: [None; 2] };
    for slot in 0..model.grid.slots {
        let span = Span::new(model.grid.minute(slot), model.grid.minute(slot + 1));
        if stays.iter().any(|stay| stay.overlaps(span)) {
            naming.name(slot);
        }
    }
    naming.named.map(|named| merged(model, &named))
}

/// Which columns of people and lanes about early exits could be 1, one at a time, all else staying as it is.
fn could_be_one(model: &Model, point: &[i64]) -> BTreeSet<Col> {
    let people = model.duties.iter().flat_map(|duties| EXIT_ROLES.map(|role| duties.exit_help(role)));
    let people = people.flat_map(|help| help.columns().collect::<Vec<_>>());
    let asked: BTreeSet<Col> = people.chain(model.rescue.lanes.iter().flatten().copied()).collect();
    let mut could = asked.clone();
    for row in &model.program.rows {
        let Some(most) = row.most else { continue };
        let grows = || row.terms().filter(|(col, times)| *times > 0 && asked.contains(col));
        if grows().next().is_none() {
            continue;
        }
        let others = row.terms().filter(|(col, _)| !asked.contains(col));
        let sum: i64 = others.map(|(col, times)| times * point[col.0]).sum();
        for (col, _) in grows().filter(|(_, times)| sum + times > most) {
            could.remove(&col);
        }
    }
    could
}

/// Who could see to an early exit, and in which lanes.
struct Could<'a> {
    cols: BTreeSet<Col>,
    night: &'a Night,
    model: &'a Model,
}

/// Somebody who could start in a slot, and from which slot on they have to be named.
#[derive(Clone, Copy)]
struct Able {
    person: PersonIx,
    from: Slot,
    /// The last slot up to which they could go on without a pause.
    lasts: Slot,
}

impl Could<'_> {
    fn a_lane(&self, slot: Slot, minutes: ExitMinutes) -> bool {
        let lanes = self.model.rescue.lanes.get(usize::try_from(slot).unwrap_or(usize::MAX)).into_iter().flatten();
        lanes
            .enumerate()
            .any(|(lane, col)| self.cols.contains(col) && self.model.exit_lane_open(self.night, lane, slot, minutes))
    }

    fn is(&self, cols: &[Option<Col>], slot: Slot) -> bool {
        in_slot(cols, slot).is_some_and(|col| self.cols.contains(&col))
    }

    /// Those who could start in a slot if they begin to dress in `since` or later.
    fn able(&self, role: PostRole, slot: Slot, minutes: ExitMinutes, since: Slot) -> Vec<Able> {
        let donning = self.model.exit_donning(self.night, role);
        let fresh = slot - soonest_exit(donning, minutes) >= since;
        let mut all = Vec::new();
        for (place, (group, duties)) in self.model.staffed().enumerate() {
            let help = duties.exit_help(role);
            let dressed = self.is(help.dressed_for(minutes), slot);
            let free = fresh
                && self.model.fresh_lasts(self.night, place, role, slot, minutes)
                && (slot - donning..=slot).all(|slot| self.is(&help.free, slot));
            if dressed || free {
                let from = if dressed { slot } else { slot - donning };
                let goes_on = |&slot: &Slot| self.is(&help.free, slot) || self.is(&help.dressed, slot);
                let lasts = (slot..self.model.grid.slots).take_while(goes_on).last().unwrap_or(slot);
                all.push(Able { person: group.members[0], from, lasts });
            }
        }
        all
    }
}

struct Naming<'a> {
    could: Could<'a>,
    reach: Slot,
    /// By part: who, in which slot.
    named: [Vec<(PersonIx, Slot)>; 2],
    last: [Option<PersonIx>; 2],
}

/// Changes of people, then how long it takes, then how soon the next change has to come.
type Cost = (usize, Slot, Slot);

impl Naming<'_> {
    /// Names whoever could see to somebody who comes out in a slot: those named last, if they can.
    fn name(&mut self, slot: Slot) {
        let pairs = (slot..=slot + self.reach).flat_map(|at| self.pairs(slot, at));
        let Some((pair, at)) = pairs.min_by_key(|(pair, at)| self.cost(pair, *at)) else { return };
        for (part, able) in pair.into_iter().enumerate() {
            self.named[part].extend((able.from..=at).map(|slot| (able.person, slot)));
            self.last[part] = Some(able.person);
        }
    }

    /// Those who could start together in `at` for somebody who comes out in `slot`: an observer, and an assistant
    /// where one is needed.
    fn pairs(&self, slot: Slot, at: Slot) -> Vec<(Vec<Able>, Slot)> {
        // In a later slot the first minute is enough.
        let minutes: &[_] = if at == slot { &[ExitMinutes::Any] } else { &[ExitMinutes::Any, ExitMinutes::First] };
        let mut all = Vec::new();
        for &minutes in minutes {
            if !self.could.a_lane(at, minutes) {
                continue;
            }
            let [watching, assisting] = EXIT_ROLES.map(|role| self.could.able(role, at, minutes, slot));
            if !self.could.night.limits.longest_exit().1 {
                all.extend(watching.into_iter().map(|watches| (vec![watches], at)));
                continue;
            }
            for watches in watching {
                let others = assisting.iter().filter(|assists| assists.person != watches.person);
                all.extend(others.map(|&assists| (vec![watches, assists], at)));
            }
        }
        all
    }

    fn cost(&self, pair: &[Able], at: Slot) -> Cost {
        let changes = pair.iter().zip(self.last).filter(|(able, last)| *last != Some(able.person)).count();
        (changes, at, -pair.iter().map(|able| able.lasts).min().unwrap_or(at))
    }
}

/// Slots that touch make one stint.
fn merged(model: &Model, named: &[(PersonIx, Slot)]) -> Vec<Stint> {
    let each: BTreeSet<(PersonIx, Slot)> = named.iter().copied().collect();
    let mut stints: Vec<Stint> = Vec::new();
    for (person, slot) in each {
        let (from, to) = (model.grid.minute(slot), model.grid.minute(slot + 1));
        match stints.last_mut() {
            Some(last) if last.person == person && last.span.to == from => last.span.to = to,
            _ => stints.push(Stint { person, span: Span::new(from, to) }),
        }
    }
    stints
}
