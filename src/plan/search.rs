//! The order of the search: level after level, each held while the next is improved.
//!
//! Entrants alone come first, every helper taken for granted: what they cannot
//! do, nobody can. Then everybody, people who are alike as numbers; then
//! everybody by name. Each stage starts from what the one before came to, and
//! what one showed to be out of reach is out of reach for the next. Small
//! programs are solved whole; larger ones by windows of time that slide over
//! the night.

use crate::night::Night;

use super::budget::{Besides, Budget, Share};
use super::encode::{entrants_of, point_of};
use super::handout::Follow;
use super::level::{Level, LevelResult};
use super::loose::{LOOSE, Look};
use super::model::{Grouping, Model};
use super::part::{Fate, Part, hold_unrelated};
use super::program::{Column, Place, Program, SMALL, Sum};
use super::side_by_side::in_turn;
use super::slide::Waiting;
use super::solve::{Limit, Solved, Way, minimise};
use super::start::better;
use super::thin::on_beat;
use super::{Effort, Planned, Watch, names};

/// Programs of up to this many columns are solved whole before anything else is tried.
const TINY: usize = 600;

/// Columns of a model of single people above which a rota is only built, not handed to the solver.
const LARGE: usize = 120_000;

/// How many columns a model of single people has to have, for so many of people counted together, for these to be looked
/// at first.
const MUCH_SMALLER: (usize, usize) = (15, 8);

/// Columns of a model of single people above which windows are so narrow that they gain little.
const WIDE: usize = 25_000;

/// Work units allowed for what entrants alone cannot do, where a rota was built.
const ONLY_BOUNDS: u64 = 2_500;

/// Work units allowed at least for people counted together: with less not even a first relaxation is solved.
const COUNTED: u64 = 1_000;

/// Work units allowed at least for what is missed, where people are looked at by name at once: to hand names over would
/// take more.
const BY_NAME: u64 = 5_000;

/// Work units allowed for the breaks of one person.
const BREAKS: u64 = 300;

/// Which levels a search settles.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Aim {
    /// All of them: a rota for the wall.
    Rota,
    /// What is missed, and no more: whether a crew is enough.
    Cover,
}

/// Plans a night.
pub fn search(night: &Night, aim: Aim, effort: Effort, watch: &mut dyn Watch) -> Planned {
    let mut search = Search::new(night, aim, effort, watch);
    let mut single = Stage::new(night, Grouping::Single, vec![]);
    let mut alike = (!single.is_large()).then(|| Stage::new(night, Grouping::Alike, vec![]));
    // A night of people who all differ is looked at by name at once.
    let counted = alike.as_ref().is_some_and(|alike| alike.is_worthwhile(night, &single));
    let besides = match &alike {
        None => Besides::Nothing,
        Some(_) if !counted && single.is_wide() => Besides::Names,
        Some(alike) if counted && search.may_look_at_once(&alike.model) => Besides::Whole,
        Some(_) => Besides::Counts,
    };
    // A rota in which nobody does anything is nothing to start from.
    let anything = |point: &Vec<i64>| single.model.anything_in(point, 0..single.model.grid.slots);
    let mut built = search.built(&single.model, besides).filter(anything);
    if aim == Aim::Cover
        && let Some(mut point) = built.take_if(|point| single.model.misses_nothing(night, point))
    {
        search.settle_levels(&mut single, None, &mut point, None);
        return search.planned(single, point);
    }
    let mut entrants = Stage::new(night, Grouping::Entrants, vec![]);
    // What a night built in pairs misses need not be for want of helpers: both ways are looked at then.
    let taken_as_is = built.as_ref().filter(|_| !night.limits.relief.is_forced());
    let to_reach = taken_as_is.map(|point| single.model.uncovered_by_class(night, point));
    let as_built = taken_as_is.and_then(|point| entrants_of(night, (&single.model, point), &entrants.model));
    entrants.is_built = as_built.is_some();
    let mut through_doors = as_built.clone().unwrap_or_else(|| Search::nobody_enters(&entrants.model));
    let reached = search.settle_levels(&mut entrants, None, &mut through_doors, to_reach.as_deref());

    let mut point = match &mut alike {
        Some(alike) if counted || built.is_none() => {
            alike.known = entrants.results;
            search.by_counts(alike, &mut single, built, (&entrants.model, &through_doors, reached))
        }
        _ => {
            single.known = entrants.results;
            single.is_first = !single.is_large();
            let ranking = |point: &Vec<i64>| entrants.model.ranking(night, point);
            let gained = as_built.is_some_and(|as_built| ranking(&through_doors) < ranking(&as_built));
            let handed = (reached && gained && single.is_first)
                .then(|| search.hand_over(&entrants.model, &through_doors, &single.model, &Follow::HELPERS))
                .flatten();
            better(night, &single.model, [built, handed])
        }
    };
    search.found(&single.model, &point);
    let counted = alike.as_ref().map(|alike| &alike.model);
    search.settle_levels(&mut single, counted, &mut point, None);
    search.planned(single, point)
}

/// One model with what has been settled on it.
struct Stage {
    model: Model,
    results: Vec<LevelResult>,
    /// The sum of each result, in the same order.
    sums: Vec<Sum>,
    /// What the relaxation before came to.
    known: Vec<LevelResult>,
    /// Whether it is entrants alone who start as they were built.
    is_built: bool,
    /// Whether no stage before looked at everybody.
    is_first: bool,
    /// What a look at the night as a whole came to, where there was one.
    look: Option<Look>,
}

impl Stage {
    fn new(night: &Night, grouping: Grouping, known: Vec<LevelResult>) -> Self {
        let model = Model::build(night, grouping);
        let is_first = grouping == Grouping::Alike;
        Self { model, results: vec![], sums: vec![], known, is_built: false, is_first, look: None }
    }

    /// Whether so many people are alike that counting them together is worth while. Relief that is settled needs it: what
    /// is built then misses more than it has to.
    fn is_worthwhile(&self, night: &Night, single: &Self) -> bool {
        let (counted, by_name) = (self.model.program.columns.len(), single.model.program.columns.len());
        night.limits.relief.is_forced() || MUCH_SMALLER.0 * counted <= MUCH_SMALLER.1 * by_name
    }

    /// Whether windows of single people are narrow.
    fn is_wide(&self) -> bool {
        self.model.program.columns.len() > WIDE
    }

    /// Whether it is of single people and so large that the solver comes to nothing in the time there is.
    fn is_large(&self) -> bool {
        self.model.grouping == Grouping::Single && self.model.program.columns.len() > LARGE
    }

    /// Whether people counted together are enough for everything, and not too many to count their removals at once.
    fn is_loose(&self) -> bool {
        let settled = self.results.iter().all(LevelResult::proven);
        self.is_first && settled && self.model.program.columns.len() <= LOOSE
    }

    /// The value this level came to in the relaxation before.
    fn known_value(&self, level: Level) -> Option<i64> {
        self.known.iter().find(|r| r.level == level).map(|r| r.value)
    }

    /// Whether a level cannot but be nothing: without a gap none is the longest.
    fn nothing_left(&self, level: Level) -> bool {
        let Level::LongestStretch(class) = level else { return false };
        self.results.iter().any(|r| r.level == Level::Uncovered(class) && r.value == 0)
    }

    /// What removals cannot be below where all care came out as nothing missed.
    fn fewest(&self, level: Level) -> Option<i64> {
        let mut care = self.results.iter().filter(|result| result.level.is_care());
        let removals = self.results.iter().find(|result| result.level == Level::Removals).map(|result| result.value);
        let fewest = self.look.as_ref().and_then(|look| look.fewest).filter(|_| care.all(|result| result.value == 0));
        fewest.and_then(|fewest| fewest.of(level, removals))
    }

    /// What a relaxation showed this level cannot be below. It only holds
    /// while every level before came out as it did there.
    fn known_bound(&self, level: Level) -> Option<i64> {
        let place = self.results.len();
        let known = self.known.get(place).filter(|k| k.level == level)?;
        let same = |(here, there): (&LevelResult, &LevelResult)| here.level == there.level && here.value == there.value;
        self.results.iter().zip(&self.known).all(same).then_some(known.at_least)
    }
}

/// A search under way.
pub(super) struct Search<'a> {
    pub(super) night: &'a Night,
    pub(super) aim: Aim,
    pub(super) budget: Budget,
    pub(super) watch: &'a mut dyn Watch,
}

impl<'a> Search<'a> {
    /// A search of which nothing has been done yet.
    pub(super) fn new(night: &'a Night, aim: Aim, effort: Effort, watch: &'a mut dyn Watch) -> Self {
        Self { night, aim, budget: Budget::new(effort), watch }
    }

    /// A rota by way of counting people who are alike together, from the one that was built, or from entrants alone
    /// where they reached what was built.
    fn by_counts(
        &mut self,
        alike: &mut Stage,
        single: &mut Stage,
        built: Option<Vec<i64>>,
        (entrants, through_doors, reached): (&Model, &[i64], bool),
    ) -> Vec<i64> {
        let (night, mut built) = (self.night, built);
        let rota = built.as_ref().map(|point| names::rota(night, &single.model, point));
        let as_counted = rota.and_then(|rota| point_of(night, &alike.model, &rota));
        let handed = (reached || as_counted.is_none())
            .then(|| self.hand_over(entrants, through_doors, &alike.model, &Follow::HELPERS))
            .flatten();
        let mut counted = better(night, &alike.model, [handed, as_counted]);
        let (care, rest): (Vec<Level>, Vec<Level>) =
            self.levels(Grouping::Alike).into_iter().partition(|level| level.is_care());
        self.give_shares(alike, &counted);
        alike.look = self.at_once(&alike.model, &mut counted);
        self.settle(alike, &care, None, &mut counted, None);
        if self.aim == Aim::Rota && alike.is_loose() {
            // Their removals take long to settle: whoever waits has a rota meanwhile.
            let early = self.exactly_named(&alike.model, &counted, &single.model).ok();
            early.iter().for_each(|point| self.found(&single.model, point));
            built = Some(better(night, &single.model, [early, built]));
            if alike.look.is_none() {
                alike.look = self.at_once(&alike.model, &mut counted);
            }
            for relaxed in alike.look.iter().flat_map(|look| look.relaxed.chunks(2)) {
                let removals = alike.model.entries().value(&counted);
                if alike.fewest(Level::Removals).is_some_and(|fewest| fewest < removals) {
                    self.beside(&alike.model, relaxed, &mut counted);
                }
            }
        }
        self.settle(alike, &rest, None, &mut counted, None);
        single.known.clone_from(&alike.results);
        self.named(&alike.model, &counted, &single.model, built)
    }

    /// The rota with no duties and everybody's breaks: it always exists.
    pub(super) fn nobody_enters(model: &Model) -> Vec<i64> {
        let mut fates: Vec<Fate> = model.program.columns.iter().map(|c| held_duty(c.place, 0)).collect();
        for col in model.duties.iter().flat_map(|d| d.breaks.columns()) {
            fates[col.0] = Fate::Free;
        }
        let part = Part::cut(&model.program, &model.breaks(), &fates).expect("a night without duties breaks no rule");
        let solved = minimise(&part.program, &part.sum, None, &Limit::none());
        part.whole_point(&solved.point.expect("breaks without duties can be placed"))
    }

    /// Says that a complete rota is known, and what it leaves uncovered.
    pub(super) fn found(&mut self, single: &Model, point: &[i64]) {
        let uncovered = single.uncovered_by_class(self.night, point).into_iter().sum();
        self.watch.progress(uncovered, 0);
        let rota = names::rota(self.night, single, point);
        self.watch.found(&rota);
    }

    /// Settles level after level, or only the first ones where `to_reach` is not reached by uncovered presence: then
    /// helpers bind, and what entrants alone could do says no more than a bound. Says whether all were settled.
    fn settle_levels(
        &mut self,
        stage: &mut Stage,
        counted: Option<&Model>,
        point: &mut Vec<i64>,
        to_reach: Option<&[i64]>,
    ) -> bool {
        self.give_shares(stage, point);
        let levels = self.levels(stage.model.grouping);
        self.settle(stage, &levels, counted, point, to_reach)
    }

    /// Gives a stage its shares of the work, but for tie-breaks.
    fn give_shares(&mut self, stage: &Stage, point: &[i64]) {
        match stage.model.grouping {
            Grouping::Entrants => {
                self.budget.give(Share::Entrants);
                self.budget.at_least(COUNTED);
            }
            Grouping::Alike => {
                self.budget.give(Share::Counted);
                self.budget.at_least(COUNTED);
            }
            Grouping::Single => {
                self.budget.give(Share::Named);
                if stage.is_first {
                    let counted = [Share::Counted, Share::CountedTies, Share::Unnamed];
                    counted.into_iter().for_each(|share| self.budget.give(share));
                }
                if !stage.model.misses_nothing(self.night, point) {
                    self.budget.give(Share::NamedCare);
                    if stage.is_first {
                        self.budget.at_least(BY_NAME);
                    }
                }
            }
        }
    }

    /// Settles some levels, those before being settled: see [`Self::settle_levels`].
    fn settle(
        &mut self,
        stage: &mut Stage,
        levels: &[Level],
        counted: Option<&Model>,
        point: &mut Vec<i64>,
        to_reach: Option<&[i64]>,
    ) -> bool {
        let ties = match stage.model.grouping {
            Grouping::Entrants => Share::EntrantsTies,
            Grouping::Alike => Share::CountedTies,
            Grouping::Single => Share::NamedTies,
        };
        let first_fine = levels.iter().copied().find(|level| level.is_fine());
        for &level in levels {
            if Some(level) == first_fine {
                self.budget.give(ties);
            }
            let sum = if stage.nothing_left(level) {
                Sum::new()
            } else {
                stage.model.objective_from(self.night, level, point)
            };
            Self::complete(&stage.model.program, &sum, point);
            Self::measure(&stage.model.program, &sum, point);
            // No level can be below nothing at all, whatever the columns' bounds say.
            let known = stage.known_bound(level).max(stage.fewest(level)).unwrap_or(0);
            let floor = stage.model.program.least(&sum).max(0).max(known);
            let before = sum.value(point);
            let at_least = self.improve(stage, level, &sum, counted, point, floor);
            let value = sum.value(point);
            let bound = level.reported(at_least.min(value));
            stage.results.push(LevelResult { level, value: level.reported(value), at_least: bound });
            stage.model.program.at_most(sum.clone(), value, None);
            stage.sums.push(sum);
            if stage.model.grouping == Grouping::Single && level.is_missed() && value < before {
                self.found(&stage.model, point);
            }
            if let Level::Uncovered(_) = level {
                self.watch.progress(value, at_least.min(value));
                let classes = stage.results.iter().filter(|r| matches!(r.level, Level::Uncovered(_)));
                let uncovered: Vec<i64> = classes.map(|r| r.value).collect();
                if stage.is_built && value > at_least {
                    return false;
                }
                if to_reach.is_some_and(|to_reach| to_reach.len() == uncovered.len() && uncovered.as_slice() < to_reach)
                {
                    return false;
                }
            }
        }
        true
    }

    /// The levels to settle on a model, in order.
    fn levels(&self, grouping: Grouping) -> Vec<Level> {
        let mut levels = Model::levels(self.night, grouping);
        levels.retain(|level| self.aim == Aim::Rota || level.is_missed());
        levels
    }

    /// The rota of a point of single people, and what each level came to in it.
    fn planned(&self, mut single: Stage, mut point: Vec<i64>) -> Planned {
        Self::settle_facts(&mut single, &mut point);
        let rota = names::rota(self.night, &single.model, &point);
        Planned { rota, levels: single.results, ended: self.budget.ended() }
    }

    /// A level that was not settled may have come out better while later ones
    /// were improved, and columns that only measure may have been left above
    /// what they measure: reads every level again off the duties as they are.
    fn settle_facts(stage: &mut Stage, point: &mut Vec<i64>) {
        for (result, sum) in stage.results.iter_mut().zip(&stage.sums) {
            let program = &mut stage.model.program;
            Self::measure(program, sum, point);
            result.value = result.level.reported(sum.value(point));
            result.at_least = result.at_least.min(result.value);
            program.at_most(sum.clone(), sum.value(point), None);
        }
    }

    /// Sets columns that only measure to the least that the duties, held, allow.
    fn measure(program: &Program, sum: &Sum, point: &mut Vec<i64>) {
        let held = |(column, &value): (&Column, &i64)| held_duty(column.place, value);
        let mut fates: Vec<Fate> = program.columns.iter().zip(point.iter()).map(held).collect();
        if sum.terms.iter().all(|(col, _)| fates[col.0] != Fate::Free) {
            return;
        }
        hold_unrelated(program, sum, point, &mut fates);
        let Some(part) = Part::cut(program, sum, &fates) else { return };
        if let Some(measured) = minimise(&part.program, &part.sum, None, &Limit::none()).point {
            *point = part.whole_point(&measured);
        }
    }

    /// Gives values to columns that a level has just added.
    fn complete(program: &Program, sum: &Sum, point: &mut Vec<i64>) {
        if point.len() == program.columns.len() {
            return;
        }
        let held = point.iter().map(|&v| Fate::Held(v));
        let fates: Vec<Fate> = held.chain(std::iter::repeat(Fate::Free)).take(program.columns.len()).collect();
        let part = Part::cut(program, sum, &fates).expect("new columns only measure what is there");
        let solved = minimise(&part.program, &part.sum, None, &Limit::none());
        *point = part.whole_point(&solved.point.expect("new columns only measure what is there"));
    }

    /// Improves `point` and returns what the sum cannot be below.
    fn improve(
        &mut self,
        stage: &Stage,
        level: Level,
        sum: &Sum,
        counted: Option<&Model>,
        point: &mut Vec<i64>,
        floor: i64,
    ) -> i64 {
        let model = &stage.model;
        let program = &model.program;
        if sum.value(point) <= floor || (stage.is_large() && !level.is_about_breaks()) {
            return floor;
        }
        // Nothing is gained by names that counts did not already gain; care is looked at anew all the same, where it
        // may be that the counts were not looked at for long enough.
        let as_counted = model.grouping == Grouping::Single
            && !level.is_missed()
            && stage.known_value(level) == Some(sum.value(point));
        if level.is_fine() && !as_counted {
            self.shift(model, level, sum, point, floor);
        }
        if stage.is_built && matches!(level, Level::Uncovered(_)) {
            // Whether entrants alone could do more is of no use: only what they cannot do is.
            let floor = floor.max(self.relaxed(program, sum).unwrap_or(i64::MIN));
            if program.columns.len() > SMALL || sum.value(point) <= floor {
                return floor;
            }
            let solved = self.solve(program, sum, Some(point), ONLY_BOUNDS.min(self.budget.whole()));
            return floor.max(solved.at_least.unwrap_or(i64::MIN));
        }
        if sum.value(point) > floor && model.grouping == Grouping::Entrants && program.columns.len() > TINY {
            self.pass(model, level, (sum, Some(&on_beat(self.night, model)), Waiting::NoMore), point, floor);
            if sum.value(point) <= floor {
                return floor;
            }
        }
        if program.columns.len() <= SMALL || (level == Level::Removals && stage.is_loose()) {
            let solved = self.solve(program, sum, Some(point), self.budget.whole());
            if let Some(better) = solved.point.filter(|p| sum.value(p) < sum.value(point)) {
                *point = better;
            }
            let floor = floor.max(solved.at_least.unwrap_or(i64::MIN));
            if solved.stopped.is_some() && level.is_local() && !level.is_fine() && sum.value(point) > floor {
                // Too hard to settle at once: better rotas may still be found window by window.
                self.slide(model, level, sum, point, floor);
            }
            return floor;
        }
        let mut floor = floor;
        if model.grouping == Grouping::Entrants {
            floor = floor.max(self.relaxed(program, sum).unwrap_or(i64::MIN));
        }
        if let Some(counted) = counted.filter(|_| level.is_about_one_person()) {
            self.rename(counted, model, (level, sum), point, floor);
        }
        if level.is_about_breaks() {
            self.best_breaks(model, sum, point);
        } else if level.is_local() && !level.is_fine() && !as_counted {
            self.slide(model, level, sum, point, floor);
            if stage.is_first
                && let Level::Uncovered(class) = level
                && sum.value(point) > floor
            {
                floor = floor.max(self.least(&stage.results, (counted.unwrap_or(model), class), (model, sum)));
            }
        }
        floor
    }

    /// What the sum cannot be below when people may be split: quick to know, often weak.
    fn relaxed(&mut self, program: &Program, sum: &Sum) -> Option<i64> {
        self.solve_by(Way::Relaxed, program, sum, None, self.budget.whole()).at_least
    }

    fn solve(&mut self, program: &Program, sum: &Sum, start: Option<&[i64]>, work: u64) -> Solved {
        self.solve_by(Way::AtLength, program, sum, start, work)
    }

    /// Solves a program whole, or its relaxation.
    pub(super) fn solve_by(
        &mut self,
        way: Way,
        program: &Program,
        sum: &Sum,
        start: Option<&[i64]>,
        work: u64,
    ) -> Solved {
        let watch = &*self.watch;
        let asked = || watch.stop();
        let limit = Limit { work, until: self.budget.until(), way, asked: &asked };
        let solved = minimise(program, sum, start, &limit);
        self.budget.spend(solved.work, solved.stopped);
        solved
    }

    /// Solves several programs side by side, each within so much work.
    pub(super) fn solve_each<'p>(
        &mut self,
        way: Way,
        programs: impl IntoIterator<Item = (&'p Program, &'p Sum, u64)>,
    ) -> Vec<Solved> {
        let (until, watch) = (self.budget.until(), &*self.watch);
        let asked = || watch.stop();
        let limit = |work| Limit { work, until, way, asked: &asked };
        let solve = |(program, sum, work)| minimise(program, sum, None, &limit(work));
        let solve = &solve;
        let solved = in_turn(self.budget.processors(), programs.into_iter().map(|program| move || solve(program)));
        self.budget.spend_side_by_side(&solved.iter().map(|s| (s.work, s.stopped)).collect::<Vec<_>>());
        solved
    }

    /// The best breaks with all duties held. One person's breaks have nothing
    /// to do with another's, so each is a small program of its own.
    fn best_breaks(&mut self, model: &Model, sum: &Sum, point: &mut [i64]) {
        let held: Vec<Fate> = point.iter().map(|&value| Fate::Held(value)).collect();
        for breaks in model.duties.iter().map(|duties| &duties.breaks) {
            let mut fates = held.clone();
            breaks.columns().iter().for_each(|col| fates[col.0] = Fate::Free);
            let Some(part) = Part::cut(&model.program, sum, &fates) else { continue };
            // Quick, and a bad break is on the wall all night: this limit is the search's own.
            let limit = Limit { work: BREAKS, until: self.budget.until(), way: Way::Briefly, asked: &|| false };
            let solved = minimise(&part.program, &part.sum, None, &limit);
            self.budget.spend(solved.work, solved.stopped);
            let Some(fewer) = solved.point.map(|fewer| part.whole_point(&fewer)) else { continue };
            breaks.columns().iter().for_each(|col| point[col.0] = fewer[col.0]);
        }
    }
}

/// A duty keeps its value; what only measures duties is free to follow.
fn held_duty(place: Place, value: i64) -> Fate {
    match place {
        Place::Total { .. } => Fate::Held(value),
        Place::Slot(_) | Place::Night => Fate::Free,
    }
}
