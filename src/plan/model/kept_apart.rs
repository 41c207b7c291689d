//! Rows about people who are kept apart: neither watches or assists the other (A6).

use crate::night::{Apart, EnsembleIx, Night, PersonIx, Rule};

use super::super::curve::Curve;
use super::super::grid::Slot;
use super::super::program::Sum;
use super::duties::Duties;
use super::removals::{Start, add_donned, add_removed};
use super::{Group, Model, add_at};

impl Model {
    /// Adds the rows about watching and assisting; those about rooms stand with the rooms.
    pub(super) fn add_helpers_kept_apart(&mut self, night: &Night) {
        self.add_removals_kept_apart(night);
        self.add_watches_kept_apart(night);
    }

    /// People kept apart do not watch or assist each other's removal (A6).
    fn add_removals_kept_apart(&mut self, night: &Night) {
        for (wearer, helper, scope) in self.kept_apart(night) {
            for lane in 0..self.lanes.len() {
                // In a group of several lanes the two may be at different ones.
                if self.lanes[lane].members.len() > 1 {
                    continue;
                }
                for slot in 0..self.grid.slots {
                    for kind in 0..self.ensembles.len() {
                        self.add_removal_kept_apart((wearer, helper, scope), Start { kind, lane, slot });
                    }
                    self.add_own_removal_kept_apart(night, (wearer, helper, scope), lane, slot);
                }
            }
        }
    }

    /// Ordered pairs of groups of one that are kept apart.
    fn kept_apart(&self, night: &Night) -> Vec<(usize, usize, Apart)> {
        let alone = |place: usize| self.groups[place].ability.unlike_others;
        let mut pairs = Vec::new();
        for one in 0..self.groups.len() {
            for other in 0..self.groups.len() {
                let (Some(a), Some(b)) = (alone(one), alone(other)) else { continue };
                let scopes = [Apart::Room, Apart::Observer, Apart::Assistant];
                pairs.extend(scopes.into_iter().filter(|&s| night.roster.kept_apart(a, b, s)).map(|s| (one, other, s)));
            }
        }
        pairs
    }

    fn add_removal_kept_apart(&mut self, (wearer, helper, scope): (usize, usize, Apart), start: Start) {
        let Some(entering) = &self.duties[wearer].entering else { return };
        if entering.wearing.ensemble != self.ensembles[start.kind] {
            return;
        }
        let mut sum = Sum::new();
        let duties = &self.duties[helper];
        match (scope, &duties.watches) {
            (Apart::Observer, Some(watches)) => {
                add_at(&mut sum, &watches.entrant[start.kind][start.lane], start.slot, 1);
                add_at(&mut sum, &watches.both[start.kind][start.lane], start.slot, 1);
            }
            (Apart::Assistant, _) if !duties.assists.is_empty() => {
                add_at(&mut sum, &duties.assists[start.kind][start.lane], start.slot, 1);
            }
            _ => return,
        }
        add_removed(&mut sum, entering, start);
        self.program.at_most(sum, 1, Rule::A6);
    }

    fn add_own_removal_kept_apart(
        &mut self,
        night: &Night,
        (wearer, helper, scope): (usize, usize, Apart),
        lane: usize,
        slot: Slot,
    ) {
        let (Some(posting), Some(watches)) = (&self.duties[wearer].assisting, &self.duties[helper].watches) else {
            return;
        };
        if scope != Apart::Observer {
            return;
        }
        let mut sum = Sum::new();
        add_at(&mut sum, &posting.later[lane], slot, 1);
        add_at(&mut sum, &watches.assistant[lane], slot, 1);
        for kind in 0..self.ensembles.len() {
            add_at(&mut sum, &posting.at_once[kind][lane], slot, 1);
            add_at(&mut sum, &watches.both[kind][lane], slot - self.removal_slots(night, kind), 1);
        }
        self.program.at_most(sum, 1, Rule::A6);
    }

    /// Whoever is watched from a slot on, donning or undressing after a spell as observer, finds enough observers they
    /// are not kept apart from (A6): Hall's condition over every few of them.
    fn add_watches_kept_apart(&mut self, night: &Night) {
        let mut wearers: Vec<usize> =
            self.kept_apart(night).into_iter().filter(|p| p.2 == Apart::Observer).map(|p| p.0).collect();
        wearers.dedup();
        for some in small_subsets(&wearers) {
            for slot in 0..self.grid.slots {
                for ensemble in (0..night.limits.ensembles.len()).map(EnsembleIx) {
                    if night.limits.ensemble(ensemble).donning_watched {
                        let watched = |sum: &mut Sum, duties: &Duties| add_donned(sum, duties, ensemble, slot);
                        self.add_watch_kept_apart(night, &some, slot, watched, |d| d.watches_donning.get(ensemble.0));
                    }
                }
                if self.duties.iter().any(|duties| !duties.watches_observer.is_empty()) {
                    let undressing = |sum: &mut Sum, duties: &Duties| {
                        duties.observing.iter().for_each(|posting| add_at(sum, &posting.later[0], slot, 1));
                    };
                    self.add_watch_kept_apart(night, &some, slot, undressing, |d| Some(&d.watches_observer));
                }
            }
        }
    }

    fn add_watch_kept_apart(
        &mut self,
        night: &Night,
        wearers: &[usize],
        slot: Slot,
        add_watched: impl Fn(&mut Sum, &Duties),
        watching: impl Fn(&Duties) -> Option<&Curve>,
    ) {
        let who = |group: &Group| group.ability.unlike_others;
        let mut sum = Sum::new();
        wearers.iter().for_each(|&wearer| add_watched(&mut sum, &self.duties[wearer]));
        for (group, duties) in self.staffed() {
            let forbidden = |wearer: PersonIx| {
                who(group).is_some_and(|observer| night.roster.kept_apart(wearer, observer, Apart::Observer))
            };
            let of_use = wearers.iter().filter_map(|&w| who(&self.groups[w])).any(|wearer| !forbidden(wearer));
            if let Some(curve) = watching(duties).filter(|_| of_use) {
                add_at(&mut sum, curve, slot, -1);
            }
        }
        self.program.at_most(sum, 0, Rule::A6);
    }
}

/// Subsets of one, two and three: more people than that never are watched from one slot on in practice,
/// and the hand-out of names would say so.
fn small_subsets(of: &[usize]) -> Vec<Vec<usize>> {
    let mut subsets: Vec<Vec<usize>> = of.iter().map(|&a| vec![a]).collect();
    for (i, &a) in of.iter().enumerate() {
        for (j, &b) in of.iter().enumerate().skip(i + 1) {
            subsets.push(vec![a, b]);
            subsets.extend(of[j + 1..].iter().map(|&c| vec![a, b, c]));
        }
    }
    subsets
}
