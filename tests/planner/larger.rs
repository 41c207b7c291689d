//! Larger nights at random, under all rules together.

use anteroom::night::{
    Apart, Breaks, CleanDuty, CleanedBy, EarlyExit, ExcludedPair, FitTest, Forbidden, LastRemoval, LoggedDuty,
    LoggedWear, LowHours, Minutes, Need, Night, NightsInARow, PersonIx, Pin, PinTo, Presence, Recency, Relief,
    Respirator, RespiratorStock, Role, RollingWear, Room, RoomIx, SignOff, Standby, Task, TaskIx, Watching, WearFrom,
};
use chrono::NaiveTime;

use crate::nights::{D, F, add_lanes, add_people, day, doffing_kit, empty_night, room_ensemble, span, t};
use crate::random::Dice;

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
pub fn small(seed: u64, uneven: bool) -> Night {
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

/// A night with a relief style, and with what the days before leave of it. Dice of their own throw for these, so that
/// a night once found by its seed stays what it was.
pub fn with_style_and_days_before(mut night: Night, seed: u64) -> Night {
    let mut dice = Dice::new(!seed);
    night.limits.relief = match dice.roll(1, 4) {
        1 => Relief::InPairs,
        2 => Relief::OneByOne,
        _ => Relief::Either,
    };
    last_done(&mut night, &mut dice);
    earlier_duties(&mut night, &mut dice);
    night
}

/// The shift starts on 4 March; February has 28 days. So 30 days from 2 February end on the night's midnight.
fn last_done(night: &mut Night, dice: &mut Dice) {
    night.limits.recency =
        Role::ALL.into_iter().filter(|_| dice.once_in(5)).map(|role| Recency { role, days: 30 }).collect();
    for sign_off in night.roster.people.iter_mut().flat_map(|person| &mut person.sign_offs) {
        sign_off.last_done = match dice.roll(1, 10) {
            1 => None,
            2 => Some(day(2, 1)),
            3..=4 => Some(day(2, 2)),
            _ => Some(day(2, 20)),
        };
    }
}

/// Four hours on duty from 18:00, yesterday and the day before; tonight is three hours or more from 18:00.
fn earlier_duties(night: &mut Night, dice: &mut Dice) {
    let hour = |hour| NaiveTime::from_hms_opt(hour, 0, 0).expect("an hour");
    if dice.once_in(3) {
        let max = dice.count(1, 2);
        night.limits.nights_in_a_row = Some(NightsInARow { max, from: hour(20), to: hour(22) });
    }
    if dice.once_in(3) {
        night.limits.week_max = Some(Minutes(60 * dice.roll(6, 12)));
    }
    night.roster.duty_log_from = Some(t(-8 * 24 * 60));
    for person in night.roster.person_indices() {
        for ago in [1, 2].into_iter().filter(|_| dice.once_in(3)) {
            let span = span(-ago * 24 * 60, 240 - ago * 24 * 60);
            night.roster.duty_log.push(LoggedDuty { person, span });
        }
    }
}

/// [`larger`], with a relief style and the days before.
pub fn larger_and_more(seed: u64, uneven: bool) -> Night {
    with_style_and_days_before(larger(seed, uneven), seed)
}

/// [`small`], with a relief style and the days before.
pub fn small_and_more(seed: u64, uneven: bool) -> Night {
    with_style_and_days_before(small(seed, uneven), seed)
}
