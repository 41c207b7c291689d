//! The levels of the objective as sums over columns (trade page 5.3).

use std::ops::Range;

use crate::night::{Minutes, Need, Night, Rule, Span, TaskIx};

use super::super::ability::Wearing;
use super::super::curve::Curve;
use super::super::grid::Slot;
use super::super::level::Level;
use super::super::program::{Col, Place, Sum};
use super::rooms::Demand;
use super::{Grouping, Model};

impl Model {
    /// The levels that matter tonight, in order. Levels about single people
    /// need a model of single people.
    #[must_use]
    pub fn levels(night: &Night, grouping: Grouping) -> Vec<Level> {
        let classes = night.roster.classes();
        let wants = |need| night.roster.tasks.iter().any(|t| t.need == need);
        let mut levels: Vec<Level> = Vec::new();
        if !night.roster.pins.is_empty() {
            levels.push(Level::PinsMissed);
        }
        let (standby, exit) = (night.limits.standby, night.limits.early_exit);
        if standby.is_some_and(|standby| standby.report) || exit.is_some_and(|exit| exit.report) {
            levels.push(Level::RescueMissing);
        }
        levels.extend(classes.iter().map(|&c| Level::Uncovered(c)));
        levels.extend(classes.iter().map(|&c| Level::LongestStretch(c)));
        if wants(Need::Must) {
            levels.push(Level::MustMissed);
        }
        if !night.roster.skill_cover.is_empty() {
            levels.push(Level::SkillMissing);
        }
        if wants(Need::Must) {
            levels.push(Level::MustLate);
        }
        if wants(Need::Wanted) {
            levels.push(Level::WantedMissed);
        }
        levels.push(Level::Removals);
        if grouping != Grouping::Entrants {
            levels.push(Level::HelperRemovals);
        }
        if night.limits.spare.0 > 0 {
            levels.push(Level::SpareShort);
        }
        levels.push(Level::Waits);
        if night.limits.low_hours.is_some() {
            levels.push(Level::LowHours);
        }
        if grouping != Grouping::Entrants && night.limits.breaks.is_some() && !night.roster.preferred_breaks.is_empty()
        {
            levels.push(Level::BreaksOutside);
        }
        if grouping == Grouping::Single {
            levels.extend([Level::LargestWear, Level::LargestLoad]);
        }
        levels.push(Level::MinutesDressed);
        if grouping != Grouping::Entrants && night.limits.breaks.is_some() {
            levels.push(Level::Breaks);
        }
        levels
    }

    /// The sum that a level minimises. Adds columns and rows for levels that
    /// take a largest value.
    pub fn objective(&mut self, night: &Night, level: Level) -> Sum {
        match level {
            Level::PinsMissed => self.pins_missed(),
            Level::RescueMissing => self.rescue_missing(),
            Level::Uncovered(class) => self.uncovered(class),
            Level::LongestStretch(class) => self.longest_stretch(class, usize::MAX),
            Level::MustMissed => self.missed(night, Need::Must),
            Level::SkillMissing => self.skill_missing(),
            Level::WantedMissed => self.missed(night, Need::Wanted),
            Level::MustLate => self.late(night),
            Level::Removals => self.entries(),
            Level::HelperRemovals => self.posts(),
            Level::LargestWear => self.largest_wear(night),
            Level::LargestLoad => self.largest_load(night),
            Level::SpareShort => self.spare_short(night),
            Level::Waits => self.all_waits(night),
            Level::LowHours => self.removals_in_low_hours(),
            Level::BreaksOutside => self.breaks_outside(night),
            Level::MinutesDressed => self.minutes_dressed(),
            Level::Breaks => self.breaks(),
        }
    }

    /// The same where nothing worse than `point` is looked for: programs of long runs stay small.
    pub fn objective_from(&mut self, night: &Night, level: Level, point: &[i64]) -> Sum {
        match level {
            Level::LongestStretch(class) => self.longest_stretch(class, self.longest_at(class, point)),
            _ => self.objective(night, level),
        }
    }

    /// Care and pins missed, all classes and tasks in one figure: only to steer the
    /// hand-out of names, never reported.
    pub fn care_missed(&self, night: &Night) -> Sum {
        let mut sum = Sum::new();
        let classes = night.roster.classes();
        classes.iter().for_each(|&class| sum.add_sum(&self.uncovered(class), 1));
        sum.add_sum(&self.pins_missed(), super::super::MUST_COUNTS);
        sum.add_sum(&self.rescue_missing(), super::super::RESCUE_COUNTS);
        for (need, minutes) in [(Need::Must, super::super::MUST_COUNTS), (Need::Wanted, super::super::WANTED_COUNTS)] {
            sum.add_sum(&self.missed(night, need), minutes);
        }
        sum.add_sum(&self.skill_missing(), 1);
        sum
    }

    /// Uncovered person-minutes of each acuity class at a point, the first class first.
    pub fn uncovered_by_class(&self, night: &Night, point: &[i64]) -> Vec<i64> {
        let classes = night.roster.classes();
        classes.into_iter().map(|class| self.uncovered(class).value(point)).collect()
    }

    /// What a point comes to at the levels that need no columns of their own, in their order.
    pub fn ranking(&self, night: &Night, point: &[i64]) -> Vec<i64> {
        let mut ranking = vec![self.pins_missed().value(point), self.rescue_missing().value(point)];
        ranking.extend(self.uncovered_by_class(night, point));
        let must = self.missed(night, Need::Must).value(point);
        let wanted = self.missed(night, Need::Wanted).value(point);
        ranking.extend([must, self.skill_missing().value(point), self.late(night).value(point), wanted]);
        ranking.extend([self.entries().value(point), self.posts().value(point)]);
        ranking
    }

    /// Whether everything asked for is there: pins, rescue, presence, skills and tasks.
    pub fn misses_nothing(&self, night: &Night, point: &[i64]) -> bool {
        self.pins_missed().value(point) == 0
            && self.rescue_missing().value(point) == 0
            && self.skill_missing().value(point) == 0
            && self.uncovered_by_class(night, point).iter().all(|&short| short == 0)
            && [Need::Must, Need::Wanted].iter().all(|&need| self.missed(night, need).value(point) == 0)
    }

    /// Whether no more than one in so many person-minutes asked for is missed at a point.
    pub fn misses_one_in(&self, night: &Night, point: &[i64], one_in: i64) -> bool {
        let asked = |&class: &u32| self.program.most(&self.uncovered(class));
        let asked: i64 = night.roster.classes().iter().map(asked).sum();
        self.uncovered_by_class(night, point).iter().sum::<i64>() * one_in <= asked
    }

    /// Uncovered person-minutes of one acuity class.
    pub fn uncovered(&self, class: u32) -> Sum {
        let mut sum = Sum::new();
        for demand in self.rooms.iter().flat_map(|r| r.demand.iter().flatten()).filter(|d| d.class == class) {
            sum.add(demand.short, demand.minutes);
        }
        sum
    }

    /// Minutes of the longest run of shortage. `longer[k]` is 1 when a run of more than `k` slots is left anywhere; the
    /// sum of them is the longest run. A run of more than `most` slots is ruled out.
    fn longest_stretch(&mut self, class: u32, most: usize) -> Sum {
        let slots = self.rooms.iter().flat_map(|r| runs(&r.demand, class)).map(|run| run.len()).max().unwrap_or(0);
        let longer: Vec<Col> = (0..slots.min(most)).map(|_| self.program.whole(0, 1, Place::Night)).collect();
        for pair in longer.windows(2) {
            let mut sum = Sum::new();
            sum.add(pair[1], 1);
            sum.add(pair[0], -1);
            self.program.at_most(sum, 0, Rule::D4);
        }
        for room in self.rooms.clone() {
            for run in runs(&room.demand, class) {
                let lacking: Vec<Col> = run.iter().map(|slot| self.lacking(slot)).collect();
                for length in 0..=longer.len() {
                    for window in lacking.windows(length + 1) {
                        let mut sum = Sum::new();
                        window.iter().for_each(|&l| sum.add(l, 1));
                        longer.get(length).into_iter().for_each(|&col| sum.add(col, -1));
                        let allowed = i64::try_from(length).unwrap_or(i64::MAX);
                        self.program.at_most(sum, allowed, Rule::D4);
                    }
                }
            }
        }
        let mut sum = Sum::new();
        longer.iter().for_each(|&col| sum.add(col, self.grid.minutes(1)));
        sum
    }

    /// Slots of the longest run of shortage at a point.
    fn longest_at(&self, class: u32, point: &[i64]) -> usize {
        let short = |slot: &Vec<Demand>| slot.iter().any(|demand| point[demand.short.0] > 0);
        let runs = self.rooms.iter().flat_map(|room| runs(&room.demand, class));
        let longest = |run: Vec<Vec<Demand>>| run.split(|slot| !short(slot)).map(<[_]>::len).max().unwrap_or(0);
        runs.map(longest).max().unwrap_or(0)
    }

    /// 1 where somebody is missing.
    fn lacking(&mut self, slot: &[Demand]) -> Col {
        let lacking = self.program.whole(0, 1, Place::Night);
        for demand in slot {
            let mut sum = Sum::new();
            sum.add(demand.short, 1);
            sum.add(lacking, -demand.required);
            self.program.at_most(sum, 0, Rule::D4);
        }
        lacking
    }

    fn skill_missing(&self) -> Sum {
        let mut sum = Sum::new();
        self.skills.iter().for_each(|&(short, minutes)| sum.add(short, minutes));
        sum
    }

    fn missed(&self, night: &Night, need: Need) -> Sum {
        let mut sum = Sum::new();
        for (ix, _) in night.roster.tasks.iter().enumerate().filter(|(_, t)| t.need == need) {
            sum.constant += 1;
            self.tasks[ix].iter().for_each(|&(_, col)| sum.add(col, -1));
        }
        sum
    }

    pub fn late(&self, night: &Night) -> Sum {
        let mut sum = Sum::new();
        for (ix, task) in night.roster.tasks.iter().enumerate().filter(|(_, t)| t.need == Need::Must) {
            for &(slot, col) in &self.tasks[TaskIx(ix).0] {
                sum.add(col, (self.grid.minute(slot) - task.wanted).0.max(0));
            }
        }
        sum
    }

    pub fn entries(&self) -> Sum {
        let mut sum = Sum::new();
        let visits = self.duties.iter().filter_map(|d| d.entering.as_ref()).flat_map(|e| &e.rooms);
        visits.for_each(|v| v.don.add_all(&mut sum, 1));
        sum
    }

    pub fn posts(&self) -> Sum {
        let mut sum = Sum::new();
        let posts = self.duties.iter().flat_map(|d| d.assisting.iter().chain(&d.observing));
        posts.for_each(|p| p.don.add_all(&mut sum, 1));
        sum
    }

    fn largest_wear(&mut self, night: &Night) -> Sum {
        let sums = (0..self.groups.len()).map(|place| {
            let mut worn = self.worn_by(night, place);
            worn.constant += night.roster.person(self.groups[place].members[0]).worn_before.0 * 100;
            worn
        });
        let sums = sums.collect();
        self.largest_of(sums, Rule::B6)
    }

    fn largest_load(&mut self, night: &Night) -> Sum {
        let sums = (0..self.groups.len()).map(|place| self.load_of(night, place)).collect();
        self.largest_of(sums, Rule::A7)
    }

    /// The largest of several sums, as a new column.
    fn largest_of(&mut self, sums: Vec<Sum>, rule: Rule) -> Sum {
        let top = self.program.whole(0, i64::from(u32::MAX), Place::Night);
        for mut sum in sums.into_iter().filter(|s| !s.terms.is_empty() || s.constant > 0) {
            sum.add(top, -1);
            self.program.at_most(sum, 0, rule);
        }
        let mut sum = Sum::new();
        sum.add(top, 1);
        sum
    }

    /// Minutes on post and minutes watching outside a post.
    fn load_of(&self, night: &Night, place: usize) -> Sum {
        let duties = &self.duties[place];
        let mut sum = Sum::new();
        for posting in duties.assisting.iter().chain(&duties.observing) {
            self.add_dressed(&mut sum, &posting.don, posting.removals(), posting.wearing.removal);
        }
        self.add_watched(night, place, &mut sum);
        sum
    }

    /// Minutes watching outside a post, ready and reset included, each once.
    fn add_watched(&self, night: &Night, place: usize, sum: &mut Sum) {
        let duties = &self.duties[place];
        let step = self.grid.minutes(1);
        let around = self.grid.up(night.limits.observer_ready) + self.grid.up(night.limits.observer_reset);
        let mut count = |curve: &Curve, slots: Slot| curve.add_all(sum, step * i64::from(slots));
        count(&duties.watches_observer, self.observer_removal_slots(night) + around);
        if duties.donning_heads.is_empty() {
            for (curve, ensemble) in duties.watches_donning.iter().zip(&night.limits.ensembles) {
                count(curve, self.grid.up(ensemble.donning));
            }
        }
        if let Some(watches) = duties.watches.as_ref().filter(|_| duties.observing.is_none()) {
            let own = self.own_removal_slots(night) + around;
            for kind in 0..self.ensembles.len() {
                let length = self.removal_slots(night, kind);
                watches.entrant[kind].iter().for_each(|c| count(c, length + around));
                watches.both[kind].iter().for_each(|c| count(c, length + own));
            }
            watches.assistant.iter().for_each(|c| count(c, own));
        }
        for (kind, lanes) in duties.assists.iter().enumerate().filter(|_| duties.assisting.is_none()) {
            let length = self.removal_slots(night, kind) + self.assistant_cleaning_slots(night);
            lanes.iter().for_each(|c| count(c, length));
        }
        duties.donning_heads.iter().flatten().for_each(|&head| sum.add(head, step));
    }

    fn add_dressed<'a>(
        &self,
        sum: &mut Sum,
        don: &Curve,
        removals: impl Iterator<Item = &'a Curve>,
        removal_slots: Slot,
    ) {
        for curve in removals {
            for slot in curve.slots() {
                curve.add_at(sum, slot, self.grid.minutes(i64::from(slot + removal_slots)));
            }
        }
        for slot in don.slots() {
            don.add_at(sum, slot, -self.grid.minutes(i64::from(slot)));
        }
    }

    /// Minutes of entrants' wear less than the unit's figure for spare before
    /// the latest end that the unit's longest wear allows. In each slot, as many
    /// are inside that stretch as began early enough and are not off yet.
    fn spare_short(&mut self, night: &Night) -> Sum {
        let step = self.grid.minutes(1);
        let spare = self.grid.up(night.limits.spare);
        let mut sum = Sum::new();
        for place in 0..self.groups.len() {
            let Some(entering) = self.duties[place].entering.clone() else { continue };
            let wearing = self.by_unit_limits(night, &entering.wearing);
            for visits in &entering.rooms {
                let (begin, before) = entering.begins(visits);
                for slot in begin.slots().start..self.grid.slots {
                    let early = |from: &Slot| self.latest_off(&wearing, from + before) - spare <= slot;
                    let Some(last) = begin.slots().rev().find(early) else { continue };
                    let mut inside = Sum::new();
                    begin.add_upto(&mut inside, last, 1);
                    visits.removal.iter().for_each(|curve| curve.add_upto(&mut inside, slot - wearing.removal, -1));
                    let tight = self.program.implied(self.groups[place].count(), Place::Slot(slot));
                    inside.add(tight, -1);
                    self.program.at_most(inside, 0, None);
                    sum.add(tight, step);
                }
            }
        }
        sum
    }

    /// The same wear by the unit's limits alone: a personal one must not show in a figure.
    fn by_unit_limits(&self, night: &Night, wearing: &Wearing) -> Wearing {
        let kit = night.limits.ensemble(wearing.ensemble);
        let limit = |wear: Minutes| self.grid.down(wear - kit.margin);
        let low_wear = night.limits.low_hours_wear(wearing.ensemble).map(limit);
        Wearing { max_wear: limit(kit.max_wear), low_wear, ..wearing.clone() }
    }

    fn removals_in_low_hours(&self) -> Sum {
        let mut sum = Sum::new();
        let low = |slot| self.low_hours.iter().any(|hours| hours.contains(self.grid.minute(slot)));
        let visits = self.duties.iter().filter_map(|d| d.entering.as_ref()).flat_map(|e| &e.rooms);
        for curve in visits.flat_map(|v| &v.removal) {
            curve.slots().filter(|&slot| low(slot)).for_each(|slot| curve.add_at(&mut sum, slot, 1));
        }
        sum
    }

    fn breaks_outside(&self, night: &Night) -> Sum {
        let mut sum = Sum::new();
        let Some(rule) = night.limits.breaks else { return sum };
        let length = self.grid.up(rule.length);
        for curve in self.duties.iter().map(|d| &d.breaks) {
            for slot in curve.slots() {
                let taken = Span::new(self.grid.minute(slot), self.grid.minute(slot + length));
                curve.add_at(&mut sum, slot, night.roster.outside_preferred(taken).0);
            }
        }
        sum
    }

    /// All waits of the night, with the minutes by which donning was rounded up to the grid.
    fn all_waits(&self, night: &Night) -> Sum {
        let mut sum = self.waits(0..self.grid.slots);
        for entering in self.duties.iter().filter_map(|d| d.entering.as_ref()) {
            let exact = night.limits.ensemble(entering.wearing.ensemble).donning.0;
            let rounded = self.grid.minutes(i64::from(entering.wearing.donning)) - exact;
            entering.rooms.iter().for_each(|visits| visits.don.add_all(&mut sum, rounded));
        }
        sum
    }

    /// Minutes that people wait in some slots, dressed, at the door or for a lane.
    pub fn waits(&self, slots: Range<Slot>) -> Sum {
        let mut sum = Sum::new();
        let step = self.grid.minutes(1);
        for entering in self.duties.iter().filter_map(|d| d.entering.as_ref()) {
            for (visits, slot) in entering.rooms.iter().flat_map(|v| slots.clone().map(move |slot| (v, slot))) {
                visits.don.add_upto(&mut sum, slot - entering.wearing.donning, step);
                visits.door_in.add_upto(&mut sum, slot, -step);
                visits.door_out.add_upto(&mut sum, slot, step);
                visits.removal.iter().for_each(|curve| curve.add_upto(&mut sum, slot, -step));
            }
        }
        sum
    }

    /// Minutes in any kit.
    pub fn minutes_dressed(&self) -> Sum {
        let mut sum = Sum::new();
        for duties in &self.duties {
            if let Some(entering) = &duties.entering {
                for visits in &entering.rooms {
                    self.add_dressed(&mut sum, &visits.don, visits.removal.iter(), entering.wearing.removal);
                }
            }
            for posting in duties.assisting.iter().chain(&duties.observing) {
                self.add_dressed(&mut sum, &posting.don, posting.removals(), posting.wearing.removal);
            }
        }
        sum
    }

    /// Breaks.
    pub fn breaks(&self) -> Sum {
        let mut sum = Sum::new();
        self.duties.iter().for_each(|duties| duties.breaks.add_all(&mut sum, 1));
        sum
    }
}

/// Unbroken runs of slots with required presence of one class in a room, counted as whole slots.
fn runs(demand: &[Vec<Demand>], class: u32) -> Vec<Vec<Vec<Demand>>> {
    let of_class = |slot: &Vec<Demand>| slot.iter().filter(|d| d.class == class).copied().collect();
    let slots: Vec<Vec<Demand>> = demand.iter().map(of_class).collect();
    slots.split(Vec::is_empty).filter(|run| !run.is_empty()).map(<[_]>::to_vec).collect()
}
