//! Columns and rows about who sees to an early exit (C8).
//!
//! In every slot a column of each group counts those free to watch, and to
//! assist; others those dressed on post with nothing to do. A removal could be
//! started in a slot by a free lane, one of the first and one of the second;
//! while anyone is inside, it could be in one of the slots that the unit's
//! minutes reach. Whoever comes out in an earlier slot needs the first minute
//! of it only; whoever comes out in that same slot may need any minute of it.

use crate::night::{EnsembleIx, Night, PostRole, Rule, Span};

use super::super::ability::Wearing;
use super::super::grid::Slot;
use super::super::program::{Col, Place, Sum, in_slot};
use super::duties::{Duties, Posting};
use super::{Grouping, Model};

/// People of a group who could help with an early exit in a slot, by slot; empty where nobody may.
#[derive(Clone, Debug, Default)]
pub struct ExitHelp {
    /// Free, and not dressed for it.
    pub free: Vec<Option<Col>>,
    /// Dressed on post with nothing to do, where a kit is worn for it.
    pub dressed: Vec<Option<Col>>,
    /// Those of them who could start in any minute of the slot.
    pub dressed_throughout: Vec<Option<Col>>,
    /// From this slot on a removal ends in time only if it starts with the slot.
    pub last: Slot,
}

/// In which minutes of a slot a removal could start.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Minutes {
    /// In any.
    Any,
    /// In the first one.
    First,
}

impl ExitHelp {
    /// Those dressed who could start in a slot.
    pub const fn dressed_for(&self, minutes: Minutes) -> &Vec<Option<Col>> {
        match minutes {
            Minutes::Any => &self.dressed_throughout,
            Minutes::First => &self.dressed,
        }
    }

    /// The column of those free in a slot.
    pub fn free_in(&self, slot: Slot) -> Option<Col> {
        in_slot(&self.free, slot)
    }

    /// Every column.
    pub fn columns(&self) -> impl Iterator<Item = Col> {
        self.free.iter().chain(&self.dressed).chain(&self.dressed_throughout).flatten().copied()
    }
}

/// Both parts in an early exit.
pub const ROLES: [PostRole; 2] = [PostRole::Observer, PostRole::Assistant];

impl Duties {
    /// Who of the group could take a part in an early exit.
    #[must_use]
    pub const fn exit_help(&self, role: PostRole) -> &ExitHelp {
        match role {
            PostRole::Observer => &self.exit_watch,
            PostRole::Assistant => &self.exit_assist,
        }
    }

    fn posting(&self, role: PostRole) -> Option<&Posting> {
        match role {
            PostRole::Observer => self.observing.as_ref(),
            PostRole::Assistant => self.assisting.as_ref(),
        }
    }
}

/// What one part in an early exit takes, in slots.
struct Needs {
    kit: Option<EnsembleIx>,
    /// Donning before it, for somebody who is not dressed.
    donning: Slot,
    /// The removal itself.
    removal: Slot,
    /// Their own removal after it.
    own: Slot,
}

impl Model {
    /// Slots that the unit's minutes reach.
    pub fn exit_reach(&self, night: &Night) -> Option<Slot> {
        night.limits.early_exit.map(|exit| self.grid.down(exit.within))
    }

    /// Slots of donning before a part in an early exit.
    pub fn exit_donning(&self, night: &Night, role: PostRole) -> Slot {
        self.exit_needs(night, role).donning
    }

    fn exit_needs(&self, night: &Night, role: PostRole) -> Needs {
        let kit = night.post_ensemble(role);
        let slots = |of: fn(&crate::night::Ensemble) -> crate::night::Minutes| {
            kit.map_or(0, |kit| self.grid.up(of(night.limits.ensemble(kit))))
        };
        let (donning, own) = (slots(|e| e.donning), slots(|e| e.removal));
        Needs { kit, donning, removal: self.grid.up(night.limits.longest_exit().0), own }
    }

    /// Adds the columns of people; the rows about one duty at a time then count those who are free.
    pub(super) fn add_exit_columns(&mut self, night: &Night) {
        if night.limits.early_exit.is_none() || self.grouping == Grouping::Entrants {
            return;
        }
        for place in 0..self.groups.len() {
            for role in ROLES {
                let help = self.exit_help_of(night, place, role);
                match role {
                    PostRole::Observer => self.duties[place].exit_watch = help,
                    PostRole::Assistant => self.duties[place].exit_assist = help,
                }
            }
        }
    }

    fn exit_help_of(&mut self, night: &Night, place: usize, role: PostRole) -> ExitHelp {
        let needs = self.exit_needs(night, role);
        if role == PostRole::Assistant && !night.limits.longest_exit().1 {
            return ExitHelp::default();
        }
        let ability = self.groups[place].ability.clone();
        let worn = match role {
            PostRole::Observer => ability.observe_in_kit,
            PostRole::Assistant => ability.assist,
        };
        let unworn = match role {
            PostRole::Observer => ability.exit_observe,
            PostRole::Assistant => ability.assist_without_kit,
        };
        let window = match needs.kit {
            Some(_) => worn.as_ref().map(|worn| worn.window),
            None => unworn,
        };
        let Some(window) = window else { return ExitHelp::default() };
        let last = window.end - needs.removal - needs.own;
        let free = self.exit_slots(night, place, role, (window.first, last));
        let on_post = worn.is_some() && self.duties[place].posting(role).is_some();
        let mut dressed = |last| {
            let slots = (window.first + needs.donning, last);
            if on_post { self.exit_slots(night, place, role, slots) } else { vec![] }
        };
        ExitHelp { free, dressed: dressed(last), dressed_throughout: dressed(last - 1), last }
    }

    fn exit_slots(
        &mut self,
        night: &Night,
        place: usize,
        role: PostRole,
        (first, last): (Slot, Slot),
    ) -> Vec<Option<Col>> {
        let n = self.groups[place].count();
        let shut = self.exits_forbidden(night, place, role);
        let needs = self.exit_needs(night, role);
        let open = |model: &Self, slot: Slot| {
            let to = model.grid.minute(slot + 1 + needs.removal + needs.own);
            !shut.iter().any(|span| span.overlaps(Span::new(model.grid.minute(slot), to)))
        };
        (0..self.grid.slots)
            .map(|slot| {
                let may = (first..=last).contains(&slot) && open(self, slot);
                may.then(|| self.program.whole(0, n, Place::Slot(slot)))
            })
            .collect()
    }

    /// When the roster forbids somebody a part (H6).
    fn exits_forbidden(&self, night: &Night, place: usize, role: PostRole) -> Vec<Span> {
        let Some(person) = self.groups[place].ability.settled else { return vec![] };
        let duty = role.sign_off();
        let mine = night.roster.forbidden.iter().filter(|f| f.person == person && f.roles.contains(&duty));
        mine.map(|f| f.span).collect()
    }

    /// Adds the rows of a night with early-exit cover. `occupied` is 1 in a slot with anyone inside.
    pub(super) fn add_exit_rows(&mut self, night: &Night, occupied: &[Col]) {
        let (Some(exit), Some(reach)) = (night.limits.early_exit, self.exit_reach(night)) else { return };
        for place in 0..self.groups.len() {
            ROLES.into_iter().for_each(|role| self.add_dressed_rows(night, place, role));
        }
        let started = self.add_exit_starts(night, reach);
        for (slot, &occupied) in (0..self.grid.slots).zip(occupied) {
            let mut sum = Sum::new();
            for (lag, minutes, cols) in &started {
                let first = slot + soonest(*lag, *minutes);
                // What could start in any minute of a later slot could start in its first one.
                let last = if *minutes == Minutes::Any { first } else { slot + reach };
                for later in first..=last {
                    in_slot(cols, later).iter().for_each(|&col| sum.add(col, 1));
                }
            }
            sum.add(occupied, -1);
            if exit.report {
                let short = self.program.implied(1, Place::Slot(slot));
                sum.add(short, 1);
                self.rescue.exits.push(short);
            }
            self.program.at_least(sum, 0, Rule::C8);
        }
    }

    /// People dressed on post, with nothing to do and wear left for a removal and their own.
    fn add_dressed_rows(&mut self, night: &Night, place: usize, role: PostRole) {
        let duties = self.duties[place].clone();
        let needs = self.exit_needs(night, role);
        let Some(posting) = duties.posting(role) else { return };
        for minutes in [Minutes::Any, Minutes::First] {
            let later = needs.removal + needs.own + Slot::from(minutes == Minutes::Any);
            for (slot, col) in (0..self.grid.slots).zip(duties.exit_help(role).dressed_for(minutes)) {
                let Some(col) = *col else { continue };
                let mut busy = Sum::new();
                busy.add(col, 1);
                for lane in 0..self.lanes.len() {
                    match role {
                        PostRole::Observer => self.add_watching_lane(night, &duties, &mut busy, lane, slot),
                        PostRole::Assistant => busy.add_sum(&self.assisting_lane(night, &duties, lane, slot), 1),
                    }
                }
                posting.don.add_upto(&mut busy, slot - posting.wearing.donning, -1);
                posting.removals().for_each(|curve| curve.add_upto(&mut busy, slot, 1));
                self.program.at_most(busy, 0, Rule::C8);
                let mut fresh = Sum::new();
                fresh.add(col, 1);
                let earliest = self.earliest_don(&posting.wearing, slot + later);
                posting.don.add_between(&mut fresh, earliest - 1, slot - posting.wearing.donning, -1);
                self.program.at_most(fresh, 0, Rule::C8);
            }
        }
    }

    /// The earliest start of donning after which the kit may be worn until `off` (B2, B10).
    fn earliest_don(&self, wearing: &Wearing, off: Slot) -> Slot {
        let earliest = off - wearing.worn_from() - wearing.max_wear.max(0);
        (earliest..=off).find(|&don| self.latest_off(wearing, don + wearing.worn_from()) >= off).unwrap_or(off)
    }

    /// Whether those of a group who are free, and dress just before where a kit is worn for it, could start in a slot:
    /// it all ends in time, and within the wear of the kit (B2, B10).
    pub fn fresh_lasts(&self, night: &Night, place: usize, role: PostRole, slot: Slot, minutes: Minutes) -> bool {
        let (duties, ability) = (&self.duties[place], &self.groups[place].ability);
        let needs = self.exit_needs(night, role);
        let worn = match role {
            PostRole::Observer => &ability.observe_in_kit,
            PostRole::Assistant => &ability.assist,
        };
        let fits = |slot: Slot| {
            let from = |worn: &Wearing| slot - needs.donning + worn.worn_from();
            let off = slot + needs.removal + needs.own;
            worn.as_ref().is_none_or(|worn| self.latest_off(worn, from(worn)) >= off)
        };
        match minutes {
            Minutes::First => fits(slot),
            Minutes::Any => slot < duties.exit_help(role).last && fits(slot) && fits(slot + 1),
        }
    }

    /// For each number of slots that somebody may have to dress before it: whether a removal could start in a slot.
    fn add_exit_starts(&mut self, night: &Night, reach: Slot) -> Vec<(Slot, Minutes, Vec<Option<Col>>)> {
        let assisted = night.limits.longest_exit().1;
        let roles: Vec<PostRole> = ROLES.into_iter().filter(|&r| assisted || r == PostRole::Observer).collect();
        let roles = if self.grouping == Grouping::Entrants { vec![] } else { roles };
        let mut lags: Vec<Slot> = roles.iter().map(|&role| self.exit_donning(night, role)).chain([0]).collect();
        lags.sort_unstable();
        lags.dedup();
        let fresh: Vec<Vec<Vec<(usize, Col)>>> = roles.iter().map(|&role| self.add_fresh(night, role, reach)).collect();
        self.rescue.lanes = (0..self.grid.slots).map(|slot| self.add_free_lanes(night, slot)).collect();
        let mut all = Vec::new();
        for minutes in [Minutes::Any, Minutes::First] {
            for &lag in lags.iter().filter(|&&lag| soonest(lag, minutes) <= reach) {
                let mut cols = Vec::new();
                for slot in 0..self.grid.slots {
                    let place = usize::try_from(slot).unwrap_or(usize::MAX);
                    let mut needed = vec![self.free_lanes(night, slot, minutes)];
                    for (&role, fresh) in roles.iter().zip(&fresh) {
                        let mut able = self.all_at(slot, |duties| duties.exit_help(role).dressed_for(minutes));
                        let lasts = |of: usize| self.fresh_lasts(night, of, role, slot, minutes);
                        if self.exit_donning(night, role) <= lag {
                            fresh[place].iter().filter(|f| lasts(f.0)).for_each(|&(_, col)| able.add(col, 1));
                        }
                        needed.push(able);
                    }
                    let start = self.program.whole(0, 1, Place::Slot(slot));
                    for mut able in needed {
                        able.add(start, -1);
                        self.program.at_least(able, 0, Rule::C8);
                    }
                    cols.push(Some(start));
                }
                all.push((lag, minutes, cols));
            }
        }
        all
    }

    /// For each group of lanes in a slot, how many are not held: at most so many (C9).
    fn add_free_lanes(&mut self, night: &Night, slot: Slot) -> Vec<Col> {
        let mut free = Vec::new();
        for lane in 0..self.lanes.len() {
            let lanes = i64::try_from(self.lanes[lane].members.len()).unwrap_or(i64::MAX);
            let mut held = self.lane_held(night, lane, slot);
            let col = self.program.whole(0, lanes, Place::Slot(slot));
            held.add(col, 1);
            free.push(col);
            self.program.at_most(held, lanes, Rule::C8);
        }
        free
    }

    /// Lanes in which a removal could start in a slot: not held, and not shut before its end.
    fn free_lanes(&self, night: &Night, slot: Slot, minutes: Minutes) -> Sum {
        let mut free = Sum::new();
        let here = self.rescue.lanes.get(usize::try_from(slot).unwrap_or(usize::MAX)).into_iter().flatten();
        for (lane, &col) in here.enumerate() {
            if self.exit_lane_open(night, lane, slot, minutes) {
                free.add(col, 1);
            }
        }
        free
    }

    /// Whether a lane stays open to the end of a removal that starts in a slot (C9).
    pub fn exit_lane_open(&self, night: &Night, lane: usize, slot: Slot, minutes: Minutes) -> bool {
        let length = self.exit_needs(night, PostRole::Observer).removal;
        self.lane_open(lane, slot, length + Slot::from(minutes == Minutes::Any))
    }

    /// By slot, a column for the group at a place of those who have been free since they would have begun to dress.
    fn add_fresh(&mut self, night: &Night, role: PostRole, reach: Slot) -> Vec<Vec<(usize, Col)>> {
        let donning = self.exit_needs(night, role).donning;
        let mut by_slot = Vec::new();
        for slot in 0..self.grid.slots {
            let mut here = Vec::new();
            for place in (0..self.groups.len()).filter(|_| donning <= reach) {
                let help = self.duties[place].exit_help(role);
                let since: Option<Vec<Col>> = (slot - donning..=slot).map(|s| help.free_in(s)).collect();
                match since.as_deref() {
                    None => {}
                    Some([col]) => here.push((place, *col)),
                    Some(since) => {
                        let fresh = self.program.whole(0, self.groups[place].count(), Place::Slot(slot));
                        for &col in since {
                            let mut sum = Sum::new();
                            sum.add(fresh, 1);
                            sum.add(col, -1);
                            self.program.at_most(sum, 0, Rule::C8);
                        }
                        here.push((place, fresh));
                    }
                }
            }
            by_slot.push(here);
        }
        by_slot
    }
}

/// How many slots after the one in which somebody comes out a removal could start, if a helper has to dress first.
pub fn soonest(lag: Slot, minutes: Minutes) -> Slot {
    lag + Slot::from(minutes == Minutes::First)
}
