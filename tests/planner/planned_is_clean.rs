//! Larger nights at random, under all rules together and with little effort: whatever is planned passes the check.

use anteroom::check::measure;
use anteroom::night::{
    Apart, Breaks, CleanDuty, CleanedBy, EarlyExit, ExcludedPair, FitTest, Forbidden, LastRemoval, LoggedDuty,
    LoggedWear, LowHours, Minutes, Need, Night, PersonIx, Pin, PinTo, Presence, Recency, Respirator, RespiratorStock,
    Role, RollingWear, Room, RoomIx, SignOff, Standby, Task, TaskIx, Watching, WearFrom,
};
use anteroom::plan::{Effort, Level, Planned, plan};

use crate::nights::{
    D, F, Unwatched, add_lanes, add_people, day, doffing_kit, empty_night, measured, room_ensemble, span, t,
};
use crate::random::Dice;

/// Little work: what counts is what comes out of a search that is cut short.
const LITTLE: Effort = Effort { work: 1_500, seconds: None };

/// A night under construction. Figures are multiples of the grid, or any minutes where `uneven`.
struct Larger {
    night: Night,
    dice: Dice,
    uneven: bool,
}

impl Larger {
    /// Minutes between two bounds, for what takes some time in every unit.
    fn lasting(&mut self, from: i64, to: i64) -> Minutes {
        self.minutes(from, to).max(self.night.limits.grid)
    }

    /// Minutes between two bounds.
    fn minutes(&mut self, from: i64, to: i64) -> Minutes {
        let figure = Minutes(self.dice.roll(from, to));
        if self.uneven { figure } else { figure.down_to_grid(self.night.limits.grid) }
    }

    fn set_limits(&mut self) {
        let mut limits = self.night.limits.clone();
        limits.cumulative_wear = self.minutes(200, 500);
        limits.changeover = self.minutes(0, 20);
        limits.shower = self.minutes(0, 20);
        limits.shift_gap = Minutes(600);
        limits.inside_rest = [CleanDuty::DonningObserver, CleanDuty::DoffingObserver]
            .into_iter()
            .filter(|_| self.dice.once_in(2))
            .collect();
        limits.min_inside = self.dice.count(1, 2);
        limits.overlap = self.minutes(0, 20);
        limits.min_stay = limits.overlap.max(self.minutes(0, 30));
        limits.donning_capacity = self.dice.count(1, 2);
        limits.waiting_places = self.dice.count(0, 1);
        limits.observer_ready = self.minutes(0, 15);
        limits.observer_reset = self.minutes(0, 15);
        limits.cleaning = self.minutes(0, 20);
        limits.cleaned_by = if self.dice.once_in(2) { CleanedBy::Assistant } else { CleanedBy::Other };
        limits.assistant_kit = self.dice.once_in(2).then_some(D);
        limits.observer_kit = self.dice.once_in(4).then_some(D);
        limits.wear_from = [WearFrom::Sealed, WearFrom::DonningStart, WearFrom::DoorIn]
            [usize::try_from(self.dice.roll(0, 2)).expect("not negative")];
        let (max, pause) = (self.minutes(90, 180), self.lasting(10, 30));
        limits.watching = self.dice.once_in(2).then_some(Watching { max, pause });
        let (length, work_max) = (self.lasting(15, 40), self.minutes(150, 300));
        let recovery_counts = self.dice.once_in(2);
        limits.breaks = self.dice.once_in(2).then_some(Breaks { length, work_max, recovery_counts });
        limits.coordinator = self.dice.once_in(3);
        let (responders, report) = (self.dice.count(1, 2), self.dice.once_in(2));
        limits.standby = self.dice.once_in(3).then_some(Standby { responders, report });
        let (within, report) = (self.minutes(0, 40), self.dice.once_in(2));
        limits.early_exit = self.dice.once_in(3).then_some(EarlyExit { within, report });
        limits.spare = if self.dice.once_in(2) { self.minutes(10, 40) } else { Minutes(0) };
        for row in &mut limits.rest {
            row.fill_with(|| self.minutes(0, 90));
        }
        self.night.limits = limits;
    }

    fn set_kits(&mut self) {
        let (long, short) = (self.minutes(60, 180), self.minutes(70, 150));
        let mut room = room_ensemble(0, self.lasting(15, 30).0, self.lasting(15, 30).0, long.0);
        room.sealed = self.minutes(0, room.donning.0);
        room.assistant = self.dice.once_in(2);
        room.margin = self.minutes(0, 20);
        room.recovery = self.minutes(0, 30);
        room.respirators = vec!["RA".into()];
        room.fit_test = self.dice.once_in(2);
        let mut kit = doffing_kit(0, self.lasting(10, 20).0, self.lasting(10, 20).0, short.0);
        kit.donning_watched = self.dice.once_in(4);
        kit.removal_watched = self.dice.once_in(2);
        kit.cumulative_percent = self.dice.roll(0, 4) * 25;
        self.night.limits.ensembles = vec![room, kit];
        if self.night.limits.watching.is_some() && self.dice.once_in(2) {
            let from = t(self.minutes(60, 200).0);
            let to = from + self.minutes(60, 120);
            let low = [long, short].map(|wear| wear.min(self.minutes(60, 120))).to_vec();
            let clock = self.night.roster.clock;
            self.night.limits.low_hours = Some(LowHours {
                from: clock.local(from).time(),
                to: clock.local(to).time(),
                watch_max: self.minutes(50, 100),
                max_wear: low,
            });
        }
        self.set_respirators();
        for kit in &mut self.night.roster.kits {
            (kit.count, kit.reserve) = (self.dice.count(2, 12), self.dice.count(0, 1));
        }
    }

    /// Three of RA, in turn in some nights; in some also a few of RB, which not everybody can wear.
    fn set_respirators(&mut self) {
        let stock = |model: &str, count, ready_from| RespiratorStock {
            respirator: model.into(),
            size: "M".into(),
            count,
            ready_from,
        };
        self.night.roster.respirators = vec![stock("RA", 3, None)];
        if self.dice.once_in(2) {
            let (reprocess, charge) = (self.minutes(0, 60), self.minutes(0, 120));
            let run = self.dice.once_in(2).then_some(Minutes(400));
            let run_margin = self.minutes(0, 40);
            let respirator = Respirator { model: "RA".into(), run, run_margin, reprocess, charge };
            self.night.limits.respirators = vec![respirator];
            let ready_from = Some(t(self.minutes(0, 200).0));
            let later = stock("RA", self.dice.count(0, 3), ready_from);
            self.night.roster.respirators.push(later);
        }
        if self.dice.once_in(3) {
            let (window, max) = (Minutes(24 * 60), self.minutes(100, 400));
            self.night.limits.rolling_wear = vec![RollingWear { window, max }];
            self.night.roster.wear_log_from = Some(t(-2 * 24 * 60));
        }
        for role in Role::ALL {
            if self.dice.once_in(6) {
                self.night.limits.recency.push(Recency { role, days: 30 });
            }
        }
        if self.dice.once_in(4) {
            self.night.limits.week_max = Some(Minutes(24 * 60));
            self.night.roster.duty_log_from = Some(t(-8 * 24 * 60));
        }
        if self.dice.once_in(2) {
            self.night.limits.ensembles[F.0].respirators.push("RB".into());
            let few = stock("RB", self.dice.count(0, 2), None);
            self.night.roster.respirators.push(few);
        }
    }

    fn add_everybody(&mut self, how_many: i64, length: i64) {
        for person in 0..how_many {
            let roles: Vec<Role> = Role::ALL.into_iter().filter(|_| self.dice.once_in(2)).collect();
            add_people(&mut self.night, 1, if person < 3 { &Role::ALL } else { &roles });
            self.one_person(length);
        }
        for scope in [Apart::Room, Apart::Observer, Apart::Assistant] {
            let [one, other] =
                [(); 2].map(|()| PersonIx(usize::try_from(self.dice.roll(0, how_many - 1)).expect("small")));
            if one != other {
                self.night.roster.apart.push(ExcludedPair { one, other, scopes: vec![scope] });
            }
        }
    }

    fn one_person(&mut self, length: i64) {
        let late = if self.dice.once_in(3) { self.minutes(0, 100).0 } else { 0 };
        let early = if self.dice.once_in(3) { self.minutes(0, 100).0 } else { 0 };
        let off = t(-self.minutes(0, 200).0);
        let (worn, rest) = (self.minutes(0, 100), self.minutes(60, 150));
        let (wear, cumulative) = (self.minutes(60, 120), self.minutes(100, 300));
        let ensemble = if self.dice.once_in(2) { F } else { D };
        let both = self.dice.once_in(2);
        if !self.night.limits.rolling_wear.is_empty() && self.dice.once_in(2) {
            let (from, length) = (self.minutes(0, 300).0 - 24 * 60, self.minutes(30, 200).0);
            let span = span(from, (from + length).min(0));
            let person = PersonIx(self.night.roster.people.len() - 1);
            self.night.roster.wear_log.push(LoggedWear { person, ensemble, span });
        }
        let Self { night, dice, .. } = self;
        let person = night.roster.people.last_mut().expect("just added");
        person.on_duty = span(late, length - early);
        person.last_off_duty = dice.once_in(3).then_some(t(-590));
        person.last_removal = dice.once_in(3).then_some(LastRemoval { off, ensemble });
        person.worn_before = if dice.once_in(3) { worn } else { Minutes(0) };
        person.enter_today = !dice.once_in(6);
        person.doffing_area_today = !dice.once_in(6);
        let valid_through = if dice.once_in(4) { day(3, 4) } else { day(12, 31) };
        person.fit_tests = vec![FitTest { respirator: "RA".into(), size: "M".into(), valid_through }];
        if both {
            person.fit_tests.push(FitTest { respirator: "RB".into(), size: "M".into(), valid_through: day(12, 31) });
        }
        if dice.once_in(3) {
            let role = Role::ALL[usize::try_from(dice.roll(0, 3)).expect("not negative")];
            person.sign_offs.retain(|s| s.role != role);
            person.sign_offs.push(SignOff { role, valid_through: day(3, 4), last_done: None });
        }
        for sign_off in &mut person.sign_offs {
            sign_off.last_done = [Some(day(2, 2)), Some(day(2, 20)), Some(day(3, 1)), None]
                [usize::try_from(dice.roll(0, 9)).expect("not negative").min(2 + usize::from(dice.once_in(8)))];
        }
        if dice.once_in(5) {
            let person = PersonIx(night.roster.people.len() - 1);
            night.roster.duty_log.push(LoggedDuty { person, span: span(-2400, -1440) });
        }
        let person = night.roster.people.last_mut().expect("just added");
        person.skills = if dice.once_in(2) { vec!["lines".into()] } else { vec![] };
        person.own.max_wear = dice.once_in(6).then_some(wear);
        person.own.cumulative_wear = dice.once_in(6).then_some(cumulative);
        person.own.rest = dice.once_in(6).then_some(rest);
    }

    fn add_demand(&mut self, length: i64) {
        let rooms = self.dice.roll(1, 2);
        self.night.roster.rooms.clear();
        for room in 0..rooms {
            let id = (room + 1).to_string();
            self.night.roster.rooms.push(Room { id, max_inside: self.dice.count(2, 4) });
            let room = RoomIx(usize::try_from(room).expect("not negative"));
            let edge = (length / 6).min(90);
            let (from, to) = (self.minutes(30, edge).0, length - self.minutes(30, edge).0);
            let middle = self.minutes(from + 30, to - 30).0;
            for (from, to) in [(from, middle), (middle, to)] {
                let people = self.dice.count(0, 2);
                let class = self.dice.count(1, 2);
                self.night.roster.presence.push(Presence { room, span: span(from, to), people, class });
            }
            let (from, task_length) = (self.minutes(60, 120).0, self.lasting(20, 60));
            let to = from + task_length.0 + self.minutes(0, 60).0;
            let wanted = t(from + self.minutes(0, 20).0);
            self.night.roster.tasks.push(Task {
                id: format!("T{}", room.0),
                room,
                window: span(from, to),
                wanted,
                length: task_length,
                people: self.dice.count(1, 2),
                skill: self.dice.once_in(2).then(|| "lines".to_owned()),
                need: if self.dice.once_in(2) { Need::Must } else { Need::Wanted },
                same_people: self.dice.once_in(2),
                extra: self.dice.once_in(3),
            });
        }
        let lanes = usize::try_from(self.dice.roll(1, 2)).expect("small");
        add_lanes(&mut self.night, lanes);
        if self.dice.once_in(2) {
            let from = self.minutes(100, 200).0;
            self.night.roster.lanes[0].closures.push(span(from, from + 37));
        }
        self.settle_some(length);
        if self.dice.once_in(3) {
            self.night.roster.preferred_breaks = vec![span(length / 3, length / 2)];
        }
        if self.dice.once_in(2) {
            self.night.roster.break_windows = vec![span(0, length / 2), span(length / 2, length)];
        }
    }
}

impl Larger {
    /// Pins and forbidden duties, kept or not.
    fn settle_some(&mut self, length: i64) {
        let grid = self.night.limits.grid.0;
        let last = i64::try_from(self.night.roster.people.len()).expect("a few people") - 1;
        for _ in 0..2 {
            let [pinned, forbidden] =
                [(); 2].map(|()| PersonIx(usize::try_from(self.dice.roll(0, last)).expect("not negative")));
            let door_in = t(self.dice.roll(2, length / grid - 4) * grid);
            let entry = PinTo::Entry { room: RoomIx(0), door_in };
            let to = if self.dice.once_in(2) { PinTo::Task(TaskIx(0)) } else { entry };
            if self.dice.once_in(2) {
                self.night.roster.pins.push(Pin { person: pinned, to });
            }
            let from = self.minutes(0, length - 60).0;
            let roles = Role::ALL.into_iter().filter(|_| self.dice.once_in(2)).collect();
            if self.dice.once_in(2) {
                let span = span(from, from + 60);
                self.night.roster.forbidden.push(Forbidden { person: forbidden, roles, span });
            }
        }
    }
}

/// A night of four to eight hours across midnight; figures off the grid where `uneven`.
pub fn larger(seed: u64, uneven: bool) -> Night {
    let mut dice = Dice::new(seed);
    let grid = [10, 15][usize::try_from(dice.roll(0, 1)).expect("small")];
    let (people, hours) = (dice.roll(6, 10), dice.roll(4, 8));
    made((dice, uneven), grid, people, hours)
}

/// A night of three hours for a few people, under every rule that the dice take.
fn small(seed: u64, uneven: bool) -> Night {
    let mut dice = Dice::new(seed);
    let people = dice.roll(3, 5);
    made((dice, uneven), 20, people, 3)
}

fn made((dice, uneven): (Dice, bool), grid: i64, people: i64, hours: i64) -> Night {
    let length = hours * 60;
    let night = empty_night(grid, length, room_ensemble(0, 10, 10, 100), doffing_kit(0, 10, 10, 100));
    let mut larger = Larger { night, dice, uneven };
    larger.set_limits();
    larger.set_kits();
    larger.add_everybody(people, length);
    larger.add_demand(length);
    larger.night.roster.shower_places = larger.dice.once_in(3).then(|| larger.dice.count(1, 2));
    larger.night
}

/// What a fault found in a planned rota looks like.
fn faults(night: &Night, planned: &Planned) -> String {
    let faults = anteroom::check::review(night, &planned.rota).faults;
    let lines: Vec<String> = faults.iter().map(|f| format!("{} {:?} {}", f.rule.id(), f.by, f.what)).collect();
    lines.join("\n")
}

/// Plans nights by seed, every second one with uneven figures.
fn plan_all(seeds: std::ops::Range<u64>, make: fn(u64, bool) -> Night) {
    // One night that fails must not hide the others: a long run says all of them at its end.
    let look = |seed| std::panic::catch_unwind(|| plan_one(make, seed)).map_err(|_| seed);
    let (entries, failed): (Vec<_>, Vec<_>) = seeds.map(look).partition(Result::is_ok);
    assert!(failed.is_empty(), "failed, with the reasons above: {failed:?}");
    assert!(entries.into_iter().flatten().sum::<u32>() > 0, "nobody ever entered");
}

/// Plans one night, holds the planner to what the check says of it, and counts entries.
fn plan_one(make: fn(u64, bool) -> Night, seed: u64) -> u32 {
    let night = make(seed, seed % 2 == 1);
    let planned = plan(&night, LITTLE, &mut Unwatched);
    assert_eq!(faults(&night, &planned), "", "seed {seed}");
    values_are_true(&night, &planned, seed);
    if seed.is_multiple_of(3) {
        assert!(planned == plan(&night, LITTLE, &mut Unwatched), "seed {seed}: not the same twice");
    }
    measure(&night, &planned.rota).removals
}

#[test]
fn whatever_is_planned_passes_the_check() {
    plan_all(0..6, larger);
}

#[test]
fn three_hundred_small_nights_under_all_rules() {
    std::thread::scope(|two| {
        two.spawn(|| plan_all(10_000..10_150, small));
        plan_all(10_150..10_300, small);
    });
}

/// Found among the ten thousand: recovery carried in that outlasts the rest before the same ensemble.
#[test]
fn recovery_carried_in_holds_for_the_next_wear() {
    plan_all(25_395..25_405, small);
}

/// Found among the ten thousand: a log above the limit, and tonight only a kit whose wear does not count.
#[test]
fn a_kit_that_does_not_count_may_be_worn_after_too_much_wear() {
    plan_all(20_710..20_720, small);
}

#[test]
#[ignore = "ten thousand nights: more than an hour on two cores"]
fn ten_thousand_small_nights_under_all_rules() {
    std::thread::scope(|two| {
        two.spawn(|| plan_all(20_000..25_000, small));
        plan_all(25_000..30_000, small);
    });
}

#[test]
#[ignore = "hundreds of larger nights: an hour"]
fn hundreds_of_larger_nights() {
    plan_all(1_000..1_300, larger);
}

/// Each level's value is what the check measures. Where figures lie off the grid, the planner may count its
/// own rounding in wear, load and stretches: never less than there is.
fn values_are_true(night: &Night, planned: &Planned, seed: u64) {
    for result in &planned.levels {
        let Some(measured) = measured(night, planned, result.level) else { continue };
        let rounded = matches!(
            result.level,
            Level::LargestWear | Level::LargestLoad | Level::LongestStretch(_) | Level::SpareShort
        );
        if seed % 2 == 1 && rounded {
            assert!(measured <= result.value, "seed {seed}: {measured} at {result:?}");
        } else {
            assert_eq!(measured, result.value, "seed {seed}: {result:?}");
        }
        assert!(result.at_least <= result.value, "seed {seed}: {result:?}");
    }
}
