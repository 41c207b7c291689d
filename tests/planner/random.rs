//! Tiny nights at random, by family of rules: few people, few slots, every duration a whole number of slots.

use anteroom::night::{
    Apart, Breaks, CleanDuty, CleanedBy, EarlyExit, EnsembleIx, ExcludedPair, FitTest, Forbidden, Huddle, KitSize,
    KitStock, LastRemoval, LoggedDuty, LoggedWear, LowHours, Minutes, Need, Night, NightsInARow, PersonIx, Pin, PinTo,
    Presence, Recency, Relief, Respirator, RespiratorStock, Role, RollingWear, Room, RoomIx, Rule, SignOff, SkillCover,
    Span, Standby, Task, TaskIx, Watching, WearFrom, WornIn,
};

use chrono::NaiveTime;

use crate::nights::{D, F, add_lanes, add_people, day, doffing_kit, empty_night, room_ensemble, t};

/// Numbers from a seed: splitmix64.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number in `from..=to`.
    pub fn roll(&mut self, from: i64, to: i64) -> i64 {
        let sides = u64::try_from(to - from + 1).expect("from is not above to");
        from + i64::try_from(self.next() % sides).expect("a small number")
    }

    pub fn count(&mut self, from: u32, to: u32) -> u32 {
        u32::try_from(self.roll(from.into(), to.into())).expect("a small number")
    }

    /// True once in `times`.
    pub fn once_in(&mut self, times: i64) -> bool {
        self.roll(1, times) == 1
    }
}

/// A tiny night under construction: lengths are given in slots.
pub struct Tiny {
    pub night: Night,
    pub dice: Dice,
    grid: i64,
    pub slots: i64,
}

impl Tiny {
    /// Two entrants and two who watch, one lane, one room, presence over part of the night.
    pub fn new(seed: u64) -> Self {
        let mut dice = Dice::new(seed);
        let grid = if dice.once_in(2) { 20 } else { 30 };
        let slots = dice.roll(6, 7);
        let wear = dice.roll(2, 5);
        let sealed = dice.roll(0, 1);
        let room = room_ensemble(sealed * grid, grid, grid, (sealed + 1 + wear) * grid);
        let mut night = empty_night(grid, slots * grid, room, doffing_kit(0, grid, grid, 6 * grid));
        night.limits.cleaning = Minutes(dice.roll(0, 1) * grid);
        night.limits.waiting_places = 0;
        night.limits.donning_capacity = dice.count(1, 2);
        night.limits.rest = vec![vec![Minutes(0); 2]; 2];
        add_lanes(&mut night, 1);
        add_people(&mut night, 2, &[Role::Entrant]);
        add_people(&mut night, 1, &[Role::DonningObserver]);
        add_people(&mut night, 1, &[Role::DoffingObserver]);
        let mut tiny = Self { night, dice, grid, slots };
        tiny.ask_for_presence();
        tiny.mix_roles();
        tiny
    }

    /// So many slots in minutes.
    pub fn long(&self, slots: i64) -> Minutes {
        Minutes(slots * self.grid)
    }

    fn rolled(&mut self, from: i64, to: i64) -> Minutes {
        Minutes(self.dice.roll(from, to) * self.grid)
    }

    fn span(&self, from: i64, to: i64) -> Span {
        Span::new(t(from * self.grid), t(to * self.grid))
    }

    fn ask_for_presence(&mut self) {
        let from = self.dice.roll(1, 2);
        let to = self.dice.roll(from + 2, self.slots - 1);
        let middle = self.dice.roll(from + 1, to - 1);
        let mut ask = |from, to, people, class| {
            let span = Span::new(t(from * self.grid), t(to * self.grid));
            self.night.roster.presence.push(Presence { room: RoomIx(0), span, people, class });
        };
        let (first, second) = (self.dice.count(1, 2), self.dice.count(1, 2));
        match self.dice.roll(1, 3) {
            1 => ask(from, to, first, 1),
            2 => {
                ask(from, middle, first, 1);
                ask(middle, to, second, 2);
            }
            _ => {
                ask(from, middle, first, 2);
                ask(middle, to, second, 1);
            }
        }
    }

    /// Some people hold a second role, some nights have one more entrant or another lane.
    fn mix_roles(&mut self) {
        let through = day(12, 31);
        for person in 0..self.night.roster.people.len() {
            for role in [Role::DonningObserver, Role::DoffingObserver] {
                let held = self.night.roster.people[person].sign_offs.iter().any(|s| s.role == role);
                if !held && self.dice.once_in(3) {
                    self.night.roster.people[person].sign_offs.push(SignOff {
                        role,
                        valid_through: through,
                        last_done: None,
                    });
                }
            }
        }
    }

    fn one_more(&mut self, roles: &[Role]) {
        add_people(&mut self.night, 1, roles);
    }

    fn somebody(&mut self) -> usize {
        let last = i64::try_from(self.night.roster.people.len()).expect("a few people") - 1;
        usize::try_from(self.dice.roll(0, last)).expect("not negative")
    }

    fn anybody_may(&mut self, role: Role, once_in: i64) {
        for person in 0..self.night.roster.people.len() {
            let held = self.night.roster.people[person].sign_offs.iter().any(|s| s.role == role);
            if !held && self.dice.once_in(once_in) {
                self.night.roster.people[person].sign_offs.push(SignOff {
                    role,
                    valid_through: day(12, 31),
                    last_done: None,
                });
            }
        }
    }

    fn assistants(&mut self) {
        self.night.limits.ensembles[F.0].assistant = true;
        self.night.limits.assistant_kit = Some(D);
        self.one_more(&[Role::Assistant]);
        self.anybody_may(Role::Assistant, 4);
    }

    fn observers_in_kit(&mut self) {
        self.night.limits.observer_kit = Some(D);
        self.night.limits.ensembles[D.0].max_wear = self.rolled(2, 5);
    }
}

/// One family of rules: how to make nights in which it matters, and how to turn it off.
pub struct Family {
    pub name: &'static str,
    pub make: fn(&mut Tiny),
    pub turn_off: fn(&mut Night),
}

/// Every family.
pub const FAMILIES: &[Family] = &[
    Family { name: "longest wear and waiting", make: wear, turn_off: wear_off },
    Family { name: "rest", make: rest, turn_off: rest_off },
    Family { name: "recovery and duties inside rest", make: recovery, turn_off: recovery_off },
    Family { name: "cumulative wear", make: cumulative, turn_off: cumulative_off },
    Family { name: "wear over days", make: rolling_wear, turn_off: |night| without(night, Rule::B7) },
    Family { name: "entries in the shift", make: entries, turn_off: |night| without(night, Rule::B8) },
    Family { name: "personal limits", make: personal, turn_off: personal_off },
    Family { name: "carried in", make: carried_in, turn_off: carried_in_off },
    Family { name: "relief overlap", make: overlap, turn_off: overlap_off },
    Family { name: "two-person rule", make: pairs, turn_off: pairs_off },
    Family { name: "room maximum", make: room_maximum, turn_off: room_maximum_off },
    Family { name: "relief in pairs", make: in_pairs, turn_off: |night| without(night, Rule::D8) },
    Family { name: "relief one by one", make: one_by_one, turn_off: |night| without(night, Rule::D8) },
    Family { name: "lanes and closures", make: lanes, turn_off: lanes_off },
    Family { name: "ready and reset", make: ready, turn_off: ready_off },
    Family { name: "changeover", make: changeover, turn_off: changeover_off },
    Family { name: "donning capacity", make: donning, turn_off: donning_off },
    Family { name: "assistants in a kit", make: assistants, turn_off: assistants_off },
    Family { name: "assistants who clean", make: cleaners, turn_off: cleaners_off },
    Family { name: "assistants without a kit", make: bare_assistants, turn_off: assistants_off },
    Family { name: "observers in a kit", make: kitted_observers, turn_off: kitted_observers_off },
    Family { name: "everybody in a kit", make: everybody_in_kit, turn_off: everybody_in_kit_off },
    Family { name: "watching", make: watching, turn_off: watching_off },
    Family { name: "low hours", make: low_hours, turn_off: low_hours_off },
    Family { name: "spare", make: spare, turn_off: spare_off },
    Family { name: "breaks", make: breaks, turn_off: breaks_off },
    Family { name: "sign-offs", make: sign_offs, turn_off: sign_offs_off },
    Family { name: "last done", make: last_done, turn_off: |night| without(night, Rule::A9) },
    Family { name: "fit tests", make: fit_tests, turn_off: fit_tests_off },
    Family { name: "respirators in turn", make: respirators, turn_off: |night| without(night, Rule::G2) },
    Family { name: "on duty", make: on_duty, turn_off: on_duty_off },
    Family { name: "nights and hours", make: nights_and_hours, turn_off: |night| without(night, Rule::F8) },
    Family { name: "shower places", make: showers, turn_off: |night| without(night, Rule::F2) },
    Family { name: "flags", make: flags, turn_off: flags_off },
    Family { name: "supervised entrants", make: supervised, turn_off: |night| without(night, Rule::A5) },
    Family { name: "kept apart", make: apart, turn_off: apart_off },
    Family { name: "kits", make: kits, turn_off: kits_off },
    Family { name: "coordinator", make: coordinator, turn_off: |night| without(night, Rule::F7) },
    Family { name: "standby", make: standby, turn_off: |night| without(night, Rule::E1) },
    Family { name: "standby reported", make: standby_reported, turn_off: |night| without(night, Rule::E1) },
    Family { name: "early exit", make: early_exit, turn_off: |night| without(night, Rule::C8) },
    Family { name: "early exit reported", make: early_exit_reported, turn_off: |night| without(night, Rule::C8) },
    Family { name: "huddles", make: huddles, turn_off: |night| without(night, Rule::F1) },
    Family { name: "pins", make: pins, turn_off: pins_off },
    Family { name: "forbidden", make: forbidden, turn_off: |night| without(night, Rule::H6) },
    Family { name: "tasks", make: tasks, turn_off: tasks_off },
    Family { name: "skill cover", make: skill_cover, turn_off: skill_cover_off },
    Family { name: "two rooms", make: two_rooms, turn_off: two_rooms_off },
    Family { name: "two ensembles", make: two_ensembles, turn_off: two_ensembles_off },
    Family { name: "a bit of everything", make: mixture, turn_off: mixture_off },
];

/// Turns a rule off as the program itself does where it says what a rule costs.
fn without(night: &mut Night, rule: Rule) {
    *night = night.without(rule).expect("a rule that can be turned off");
}

fn wear(tiny: &mut Tiny) {
    let limits = &mut tiny.night.limits;
    limits.waiting_places = tiny.dice.count(0, 1);
    limits.ensembles[F.0].margin = Minutes(tiny.dice.roll(0, 1) * limits.grid.0);
    limits.wear_from = [WearFrom::Sealed, WearFrom::DonningStart, WearFrom::DoorIn]
        [usize::try_from(tiny.dice.roll(0, 2)).expect("not negative")];
}

fn wear_off(night: &mut Night) {
    night.limits.ensembles[F.0].max_wear = Minutes(10_000);
}

fn rest(tiny: &mut Tiny) {
    tiny.night.limits.rest[F.0][F.0] = tiny.rolled(1, 2);
}

fn rest_off(night: &mut Night) {
    night.limits.rest = vec![vec![Minutes(0); 3]; 3];
}

fn recovery(tiny: &mut Tiny) {
    rest(tiny);
    tiny.night.limits.ensembles[F.0].recovery = tiny.rolled(1, 2);
    for duty in [CleanDuty::DonningObserver, CleanDuty::DoffingObserver] {
        if tiny.dice.once_in(2) {
            tiny.night.limits.inside_rest.push(duty);
        }
    }
    tiny.anybody_may(Role::DonningObserver, 2);
    tiny.night.roster.people.pop();
    tiny.anybody_may(Role::DoffingObserver, 2);
}

fn recovery_off(night: &mut Night) {
    rest_off(night);
    night.limits.ensembles[F.0].recovery = Minutes(0);
}

fn cumulative(tiny: &mut Tiny) {
    tiny.night.limits.cumulative_wear = tiny.rolled(3, 6);
    tiny.night.limits.ensembles[F.0].cumulative_percent = tiny.dice.roll(1, 4) * 50;
}

fn cumulative_off(night: &mut Night) {
    night.limits.cumulative_wear = Minutes(10_000);
}

fn entries(tiny: &mut Tiny) {
    tiny.night.limits.entries_max = Some(1);
    tiny.night.limits.ensembles[F.0].max_wear = tiny.rolled(2, 3);
    match tiny.dice.roll(1, 3) {
        1 => tiny.one_more(&[Role::Entrant]),
        2 => tiny.night.limits.waiting_places = 1,
        // Two, where a night of short entries could hold three.
        _ => tiny.night.limits.entries_max = Some(2),
    }
}

fn personal(tiny: &mut Tiny) {
    let person = tiny.somebody();
    let (wear, cumulative, rest) = (tiny.rolled(2, 4), tiny.rolled(2, 5), tiny.rolled(1, 2));
    let own = &mut tiny.night.roster.people[person].own;
    own.max_wear = tiny.dice.once_in(2).then_some(wear);
    own.cumulative_wear = tiny.dice.once_in(2).then_some(cumulative);
    own.rest = tiny.dice.once_in(2).then_some(rest);
}

fn personal_off(night: &mut Night) {
    night.roster.people.iter_mut().for_each(|p| p.own = anteroom::night::PersonalLimits::default());
}

fn carried_in(tiny: &mut Tiny) {
    rest(tiny);
    tiny.night.limits.ensembles[F.0].recovery = tiny.rolled(0, 1);
    tiny.night.limits.cumulative_wear = tiny.rolled(5, 8);
    for _ in 0..2 {
        let (person, ago, worn) = (tiny.somebody(), tiny.dice.roll(0, 2), tiny.rolled(0, 4));
        let ensemble = if tiny.dice.once_in(3) { D } else { F };
        let off = t(-ago * tiny.grid);
        let person = &mut tiny.night.roster.people[person];
        person.last_removal = Some(LastRemoval { off, ensemble });
        person.worn_before = worn;
    }
    tiny.night.limits.rest[D.0][F.0] = tiny.rolled(1, 3);
}

fn carried_in_off(night: &mut Night) {
    for person in &mut night.roster.people {
        person.last_removal = None;
    }
}

fn overlap(tiny: &mut Tiny) {
    let overlap = tiny.dice.roll(1, 2);
    tiny.night.limits.overlap = tiny.long(overlap);
    tiny.night.limits.min_stay = tiny.long(overlap);
    tiny.night.limits.cleaning = Minutes(0);
    tiny.night.limits.ensembles[F.0].max_wear = tiny.rolled(4, 6);
}

fn overlap_off(night: &mut Night) {
    night.limits.overlap = Minutes(0);
}

fn pairs(tiny: &mut Tiny) {
    tiny.night.limits.min_inside = 2;
    tiny.night.limits.donning_capacity = 2;
    tiny.night.limits.waiting_places = tiny.dice.count(0, 1);
    if tiny.dice.once_in(2) {
        add_lanes(&mut tiny.night, 1);
        tiny.one_more(&[Role::DoffingObserver]);
    }
}

fn pairs_off(night: &mut Night) {
    night.limits.min_inside = 1;
}

fn room_maximum(tiny: &mut Tiny) {
    tiny.night.roster.rooms[0].max_inside = 1;
    tiny.night.limits.overlap = tiny.rolled(0, 1);
}

fn room_maximum_off(night: &mut Night) {
    night.roster.rooms[0].max_inside = 10;
}

/// Two may come out together: one of them waits, or there are two lanes and two who watch.
fn in_pairs(tiny: &mut Tiny) {
    tiny.night.limits.relief = Relief::InPairs;
    tiny.night.limits.min_inside = tiny.dice.count(1, 2);
    tiny.night.limits.overlap = tiny.rolled(0, 1);
    tiny.night.limits.waiting_places = 1;
    if tiny.dice.once_in(2) {
        tiny.one_more(&[Role::Entrant]);
    } else {
        tiny.one_more(&[Role::DoffingObserver]);
        add_lanes(&mut tiny.night, 1);
    }
}

/// More people are wanted from a slot on, and two of the three may come on duty just in time for it.
fn one_by_one(tiny: &mut Tiny) {
    tiny.night.limits.relief = Relief::OneByOne;
    tiny.night.limits.min_inside = tiny.dice.count(1, 2);
    tiny.night.limits.overlap = tiny.rolled(0, 1);
    tiny.night.limits.waiting_places = 1;
    tiny.night.limits.donning_capacity = 2;
    tiny.one_more(&[Role::Entrant]);
    let (from, to) = (tiny.dice.roll(2, 3), tiny.slots - tiny.dice.roll(2, 3));
    let people = tiny.dice.count(2, 3);
    let ask = |span, people| Presence { room: RoomIx(0), span, people, class: 1 };
    tiny.night.roster.presence = vec![ask(tiny.span(1, from), 1), ask(tiny.span(from, to.max(from + 1)), people)];
    let on_duty = tiny.span(from - 1, tiny.slots);
    let last = tiny.night.roster.people.len() - 1;
    for person in [1, last] {
        if !tiny.dice.once_in(3) {
            tiny.night.roster.people[person].on_duty = on_duty;
        }
    }
}

fn lanes(tiny: &mut Tiny) {
    tiny.night.limits.cleaning = tiny.rolled(1, 2);
    tiny.night.limits.waiting_places = tiny.dice.count(0, 1);
    if tiny.dice.once_in(3) {
        add_lanes(&mut tiny.night, 1);
    }
    let from = tiny.dice.roll(2, tiny.slots - 1);
    let closure = tiny.span(from, from + 1);
    tiny.night.roster.lanes[0].closures.push(closure);
    tiny.anybody_may(Role::DoffingObserver, 2);
}

fn lanes_off(night: &mut Night) {
    night.limits.cleaning = Minutes(0);
    night.roster.lanes.iter_mut().for_each(|l| l.closures.clear());
}

fn ready(tiny: &mut Tiny) {
    tiny.night.limits.observer_ready = tiny.rolled(0, 1);
    tiny.night.limits.observer_reset = tiny.rolled(0, 2);
    tiny.night.roster.people.remove(2);
    tiny.anybody_may(Role::DonningObserver, 2);
}

fn ready_off(night: &mut Night) {
    night.limits.observer_ready = Minutes(0);
    night.limits.observer_reset = Minutes(0);
}

fn changeover(tiny: &mut Tiny) {
    ready(tiny);
    tiny.night.limits.changeover = tiny.rolled(1, 2);
    if tiny.dice.once_in(3) {
        add_lanes(&mut tiny.night, 1);
    }
}

fn changeover_off(night: &mut Night) {
    night.limits.changeover = Minutes(0);
}

fn donning(tiny: &mut Tiny) {
    tiny.night.limits.donning_capacity = 1;
    tiny.night.limits.ensembles[F.0].donning = tiny.rolled(1, 2);
}

fn donning_off(night: &mut Night) {
    night.limits.donning_capacity = 2;
}

fn assistants(tiny: &mut Tiny) {
    tiny.assistants();
    tiny.night.limits.ensembles[D.0].max_wear = tiny.rolled(2, 5);
    tiny.night.limits.ensembles[D.0].donning_watched = tiny.dice.once_in(4);
    tiny.night.limits.ensembles[D.0].cumulative_percent = tiny.dice.roll(0, 2) * 50;
    tiny.night.limits.rest[D.0][D.0] = tiny.rolled(0, 1);
    tiny.night.limits.rest[D.0][F.0] = tiny.rolled(0, 1);
    tiny.night.limits.observer_reset = tiny.rolled(0, 1);
}

fn assistants_off(night: &mut Night) {
    night.limits.ensembles[F.0].assistant = false;
}

fn cleaners(tiny: &mut Tiny) {
    tiny.assistants();
    tiny.night.limits.ensembles[D.0].max_wear = tiny.rolled(4, 6);
    tiny.night.limits.cleaned_by = CleanedBy::Assistant;
    tiny.night.limits.cleaning = tiny.rolled(1, 2);
    tiny.night.limits.waiting_places = tiny.dice.count(0, 1);
    add_lanes(&mut tiny.night, 1);
    if tiny.dice.once_in(2) {
        tiny.night.limits.assistant_kit = None;
    }
}

fn cleaners_off(night: &mut Night) {
    night.limits.cleaned_by = CleanedBy::Other;
}

fn bare_assistants(tiny: &mut Tiny) {
    tiny.assistants();
    tiny.night.limits.assistant_kit = None;
    tiny.night.limits.changeover = tiny.rolled(0, 1);
    if tiny.dice.once_in(2) {
        tiny.night.limits.cleaned_by = CleanedBy::Assistant;
    }
}

fn kitted_observers(tiny: &mut Tiny) {
    tiny.observers_in_kit();
    tiny.night.limits.ensembles[D.0].removal_watched = tiny.dice.once_in(2);
    tiny.night.limits.observer_reset = tiny.rolled(0, 1);
    tiny.night.limits.rest[D.0][D.0] = tiny.rolled(0, 1);
    tiny.anybody_may(Role::DoffingObserver, 2);
}

fn kitted_observers_off(night: &mut Night) {
    night.limits.observer_kit = None;
}

fn everybody_in_kit(tiny: &mut Tiny) {
    tiny.assistants();
    tiny.observers_in_kit();
    tiny.night.limits.ensembles[D.0].max_wear = tiny.rolled(3, 5);
    tiny.night.limits.ensembles[D.0].removal_watched = tiny.dice.once_in(3);
    tiny.anybody_may(Role::DoffingObserver, 3);
}

fn everybody_in_kit_off(night: &mut Night) {
    night.limits.observer_kit = None;
}

fn watching(tiny: &mut Tiny) {
    tiny.night.limits.watching = Some(Watching { max: tiny.rolled(1, 3), pause: tiny.rolled(1, 2) });
    tiny.night.limits.observer_reset = tiny.rolled(0, 1);
    tiny.night.roster.people.remove(2);
    tiny.anybody_may(Role::DonningObserver, 2);
}

fn watching_off(night: &mut Night) {
    night.limits.watching = None;
}

/// Low hours in the middle of the night, with a wear and a watch of their own.
fn low_hours(tiny: &mut Tiny) {
    watching(tiny);
    let most = tiny.night.limits.ensembles.iter().map(|e| e.max_wear).collect::<Vec<_>>();
    let from = tiny.dice.roll(1, tiny.slots - 3);
    let to = tiny.dice.roll(from + 1, from + 3);
    let hours = tiny.span(from, to);
    let clock = tiny.night.roster.clock;
    tiny.night.limits.low_hours = Some(LowHours {
        from: clock.local(hours.from).time(),
        to: clock.local(hours.to).time(),
        watch_max: tiny.rolled(1, 3),
        max_wear: most.iter().map(|&most| tiny.rolled(2, 4).min(most)).collect(),
    });
}

fn low_hours_off(night: &mut Night) {
    let most = night.limits.ensembles.iter().map(|e| e.max_wear).collect();
    if let Some(low) = &mut night.limits.low_hours {
        (low.watch_max, low.max_wear) = (Minutes(10_000), most);
    }
}

fn spare(tiny: &mut Tiny) {
    wear(tiny);
    tiny.night.limits.spare = tiny.rolled(1, 2);
    if tiny.dice.once_in(3) {
        low_hours(tiny);
    }
}

fn spare_off(night: &mut Night) {
    night.limits.spare = Minutes(1);
}

fn breaks(tiny: &mut Tiny) {
    let recovery_counts = tiny.dice.once_in(2);
    tiny.night.limits.breaks = Some(Breaks { length: tiny.rolled(1, 2), work_max: tiny.rolled(2, 4), recovery_counts });
    tiny.night.limits.ensembles[F.0].recovery = tiny.rolled(0, 1);
    if tiny.dice.once_in(2) {
        let from = tiny.dice.roll(0, 2);
        let windows = [tiny.span(from, from + 3), tiny.span(from + 3, tiny.slots)];
        tiny.night.roster.break_windows = windows.to_vec();
    }
    for _ in 0..2 {
        let (person, late, early) = (tiny.somebody(), tiny.dice.roll(0, 2), tiny.dice.roll(0, 2));
        tiny.night.roster.people[person].on_duty = tiny.span(late, tiny.slots - early);
    }
}

fn breaks_off(night: &mut Night) {
    night.limits.breaks = None;
}

fn sign_offs(tiny: &mut Tiny) {
    // Midnight falls on a point of the grid in the middle of the night.
    let before = tiny.long(tiny.slots / 2 + 1);
    move_night(&mut tiny.night, Minutes(360) - before);
    for _ in 0..3 {
        let person = tiny.somebody();
        let offs = &mut tiny.night.roster.people[person].sign_offs;
        for sign_off in offs {
            if tiny.dice.once_in(2) {
                sign_off.valid_through = day(3, 4);
            }
        }
    }
}

/// Every time of the night later by so much.
fn move_night(night: &mut Night, by: Minutes) {
    let later = |span: &mut Span| *span = Span::new(span.from + by, span.to + by);
    later(&mut night.roster.shift);
    night.roster.people.iter_mut().for_each(|p| later(&mut p.on_duty));
    night.roster.presence.iter_mut().for_each(|p| later(&mut p.span));
}

/// Some roles are to be done within 30 days; some people's 30 days end at midnight, some nobody knows.
fn last_done(tiny: &mut Tiny) {
    let before = tiny.long(tiny.slots / 2 + 1);
    move_night(&mut tiny.night, Minutes(360) - before);
    tiny.anybody_may(Role::SupervisedEntrant, 3);
    for role in Role::ALL {
        if tiny.dice.once_in(2) {
            tiny.night.limits.recency.push(Recency { role, days: 30 });
        }
    }
    for person in &mut tiny.night.roster.people {
        for sign_off in &mut person.sign_offs {
            sign_off.last_done = match tiny.dice.roll(1, 8) {
                1 => None,
                // 28 days of February: 30 days end on 4 March, and on 3 March, before the night.
                2..=3 => Some(day(2, 2)),
                4 => Some(day(2, 1)),
                _ => Some(day(2, 20)),
            };
        }
    }
}

fn sign_offs_off(night: &mut Night) {
    for sign_off in night.roster.people.iter_mut().flat_map(|p| &mut p.sign_offs) {
        sign_off.valid_through = day(12, 31);
    }
}

fn fit_tests(tiny: &mut Tiny) {
    let before = tiny.long(tiny.slots / 2 + 1);
    move_night(&mut tiny.night, Minutes(360) - before);
    let room = &mut tiny.night.limits.ensembles[F.0];
    room.respirators = vec!["RA".into(), "RB".into()];
    room.fit_test = tiny.dice.roll(1, 4) > 1;
    for model in ["RA", "RB"] {
        let count = tiny.dice.count(0, 2);
        tiny.night.roster.respirators.push(RespiratorStock {
            respirator: model.into(),
            size: "M".into(),
            count,
            ready_from: None,
        });
    }
    for person in &mut tiny.night.roster.people {
        for model in ["RA", "RB"] {
            let size = if tiny.dice.once_in(5) { "S" } else { "M" };
            let valid_through = if tiny.dice.once_in(2) { day(3, 4) } else { day(12, 31) };
            if tiny.dice.once_in(2) {
                person.fit_tests.push(FitTest { respirator: model.into(), size: size.into(), valid_through });
            }
        }
    }
}

fn fit_tests_off(night: &mut Night) {
    night.limits.ensembles[F.0].respirators.clear();
}

/// At most so many slots of wear in a day, and some wear the day before that leaves the day bit by bit tonight.
fn rolling_wear(tiny: &mut Tiny) {
    let window = Minutes(24 * 60);
    tiny.night.limits.rolling_wear = vec![RollingWear { window, max: tiny.rolled(2, 6) }];
    tiny.night.roster.wear_log_from = Some(t(-2 * 24 * 60));
    for person in 0..tiny.night.roster.people.len() {
        if tiny.dice.once_in(2) {
            let (from, length) = (tiny.dice.roll(-2, tiny.slots - 1), tiny.dice.roll(1, 3));
            let span = tiny.span(from, from + length);
            let span = Span::new(span.from - window, span.to - window);
            let ensemble = if tiny.dice.once_in(2) { F } else { D };
            tiny.night.roster.wear_log.push(LoggedWear { person: PersonIx(person), ensemble, span });
        }
    }
    tiny.night.limits.ensembles[D.0].cumulative_percent = 50;
    tiny.night.limits.rest[F.0][F.0] = Minutes(0);
    tiny.night.limits.ensembles[F.0].recovery = Minutes(0);
    match tiny.dice.roll(1, 4) {
        1 => tiny.assistants(),
        2 => tiny.night.limits.standby = Some(Standby { responders: 1, report: false }),
        _ => {}
    }
}

/// One model in one size or two, few of them, some on charge at first.
fn respirators(tiny: &mut Tiny) {
    let room = &mut tiny.night.limits.ensembles[F.0];
    room.respirators = vec!["RA".into()];
    room.fit_test = tiny.dice.roll(1, 3) > 1;
    let least = room.sealed + room.removal + tiny.night.limits.min_stay;
    let run = least + tiny.rolled(0, 3);
    let (reprocess, charge) = (tiny.rolled(0, 1), tiny.rolled(0, 2));
    let run = (tiny.dice.roll(1, 2) == 1).then_some(run);
    let respirator = Respirator { model: "RA".into(), run, run_margin: Minutes(0), reprocess, charge };
    tiny.night.limits.respirators = vec![respirator];
    tiny.night.limits.wear_from = [WearFrom::Sealed, WearFrom::DonningStart, WearFrom::DoorIn]
        [usize::try_from(tiny.dice.roll(0, 2)).expect("not negative")];
    for size in ["M", "S"] {
        let (count, late) = (tiny.dice.count(0, 2), tiny.dice.once_in(3));
        let ready_from = late.then(|| tiny.span(1, 3).to);
        let stock = RespiratorStock { respirator: "RA".into(), size: size.into(), count, ready_from };
        tiny.night.roster.respirators.push(stock);
    }
    for person in &mut tiny.night.roster.people {
        let size = if tiny.dice.once_in(3) { "S" } else { "M" };
        let valid_through = day(12, 31);
        person.fit_tests.push(FitTest { respirator: "RA".into(), size: size.into(), valid_through });
    }
    if tiny.dice.once_in(2) {
        tiny.one_more(&[Role::Entrant]);
        let valid_through = day(12, 31);
        let test = FitTest { respirator: "RA".into(), size: "M".into(), valid_through };
        tiny.night.roster.people.last_mut().expect("just added").fit_tests.push(test);
    }
    if tiny.dice.once_in(3) {
        tiny.night.limits.standby = Some(Standby { responders: 1, report: false });
    }
    tiny.night.limits.rest[F.0][F.0] = Minutes(0);
    tiny.night.limits.ensembles[F.0].recovery = Minutes(0);
}

fn on_duty(tiny: &mut Tiny) {
    tiny.night.limits.shower = tiny.rolled(0, 1);
    tiny.night.limits.shift_gap = tiny.long(2);
    for _ in 0..3 {
        let (person, late, early) = (tiny.somebody(), tiny.dice.roll(-1, 2), tiny.dice.roll(-1, 2));
        let last = t(-tiny.dice.roll(0, 2) * tiny.grid);
        let on_duty = tiny.span(late, tiny.slots - early);
        let person = &mut tiny.night.roster.people[person];
        person.on_duty = on_duty;
        person.last_off_duty = tiny.dice.once_in(2).then_some(last);
    }
}

/// Up to three nights in a row, or so many hours in a week; some people have worked the nights before.
fn nights_and_hours(tiny: &mut Tiny) {
    let hour = |hour| NaiveTime::from_hms_opt(hour, 0, 0).expect("an hour");
    if tiny.dice.once_in(2) {
        // The shift starts at 18:00 and lasts two hours at least.
        let max = tiny.dice.count(1, 3);
        tiny.night.limits.nights_in_a_row = Some(NightsInARow { max, from: hour(19), to: hour(20) });
    } else {
        tiny.night.limits.week_max = Some(tiny.rolled(tiny.slots, 3 * tiny.slots));
    }
    tiny.night.roster.duty_log_from = Some(t(-9 * 1440));
    tiny.anybody_may(Role::DoffingObserver, 2);
    tiny.one_more(&[Role::Entrant]);
    for person in 0..tiny.night.roster.people.len() {
        for day in 1..=7 {
            if tiny.dice.once_in(if day == 1 { 2 } else { 3 }) {
                let (from, length) = (tiny.dice.roll(0, 3), tiny.dice.roll(1, tiny.slots));
                let span = tiny.span(from, from + length);
                let span = Span::new(span.from - Minutes(day * 1440), span.to - Minutes(day * 1440));
                tiny.night.roster.duty_log.push(LoggedDuty { person: PersonIx(person), span });
            }
        }
    }
    if tiny.dice.once_in(3) {
        tiny.night.limits.standby = Some(Standby { responders: 1, report: false });
    }
}

fn on_duty_off(night: &mut Night) {
    night.limits.shower = Minutes(0);
    for person in &mut night.roster.people {
        person.on_duty = night.roster.shift;
        person.last_off_duty = None;
    }
}

/// One place for all; some are on duty past the end of the shift.
fn showers(tiny: &mut Tiny) {
    tiny.night.limits.shower = tiny.rolled(1, 2);
    tiny.night.roster.shower_places = Some(1);
    tiny.night.limits.ensembles[F.0].recovery = tiny.rolled(0, 1);
    tiny.night.limits.waiting_places = tiny.dice.count(0, 1);
    match tiny.dice.roll(1, 4) {
        1 => tiny.assistants(),
        2 => tiny.one_more(&[Role::Entrant]),
        3 => {
            add_lanes(&mut tiny.night, 1);
            tiny.one_more(&[Role::DoffingObserver]);
        }
        _ => tiny.anybody_may(Role::DoffingObserver, 2),
    }
    for person in 0..tiny.night.roster.people.len() {
        let late = tiny.dice.roll(0, 2);
        tiny.night.roster.people[person].on_duty = tiny.span(0, tiny.slots + late);
    }
}

fn flags(tiny: &mut Tiny) {
    tiny.anybody_may(Role::DoffingObserver, 2);
    for person in &mut tiny.night.roster.people {
        person.enter_today = !tiny.dice.once_in(3);
        person.doffing_area_today = !tiny.dice.once_in(3);
    }
}

fn flags_off(night: &mut Night) {
    for person in &mut night.roster.people {
        person.enter_today = true;
        person.doffing_area_today = true;
    }
}

fn apart(tiny: &mut Tiny) {
    if tiny.dice.once_in(3) {
        tiny.assistants();
    }
    tiny.anybody_may(Role::DonningObserver, 2);
    tiny.anybody_may(Role::DoffingObserver, 2);
    for scope in [Apart::Room, Apart::Observer, Apart::Observer, Apart::Assistant] {
        let (one, other) = (PersonIx(tiny.somebody()), PersonIx(tiny.somebody()));
        if one != other {
            let scopes = if tiny.dice.once_in(3) { vec![scope, Apart::Room] } else { vec![scope] };
            tiny.night.roster.apart.push(ExcludedPair { one, other, scopes });
        }
    }
}

fn apart_off(night: &mut Night) {
    night.roster.apart.clear();
}

fn supervised(tiny: &mut Tiny) {
    // Midnight falls on a point of the grid in the middle of the night: some preceptors are in date until then.
    let before = tiny.long(tiny.slots / 2 + 1);
    move_night(&mut tiny.night, Minutes(360) - before);
    match tiny.dice.roll(1, 4) {
        1 => tiny.one_more(&[Role::Entrant]),
        2 => tiny.one_more(&[Role::Entrant, Role::Preceptor]),
        3 => tiny.one_more(&[Role::SupervisedEntrant]),
        _ => {}
    }
    tiny.night.limits.waiting_places = tiny.dice.count(0, 1);
    tiny.night.limits.donning_capacity = 2;
    tiny.night.roster.people[0].sign_offs[0].role = Role::SupervisedEntrant;
    let valid_through = if tiny.dice.once_in(2) { day(3, 4) } else { day(12, 31) };
    tiny.night.roster.people[1].sign_offs.push(SignOff { role: Role::Preceptor, valid_through, last_done: None });
}

fn kits(tiny: &mut Tiny) {
    if tiny.dice.once_in(3) {
        tiny.assistants();
    }
    for kit in &mut tiny.night.roster.kits {
        kit.count = tiny.dice.count(0, 3);
        kit.reserve = tiny.dice.count(0, 1);
    }
    let small = KitStock { size: "S".into(), count: tiny.dice.count(0, 2), reserve: 0, ensemble: F };
    tiny.night.roster.kits.push(small);
    let person = tiny.somebody();
    tiny.night.roster.people[person].kits[0].size = "S".into();
}

fn kits_off(night: &mut Night) {
    night.roster.kits.iter_mut().for_each(|k| (k.count, k.reserve) = (100, 0));
}

/// Everybody may lead, some of them only.
fn coordinator(tiny: &mut Tiny) {
    tiny.night.limits.coordinator = true;
    for person in &mut tiny.night.roster.people {
        person.sign_offs.retain(|s| s.role != Role::Coordinator);
    }
    tiny.anybody_may(Role::Coordinator, 2);
    tiny.night.limits.rest[F.0][F.0] = tiny.rolled(0, 2);
    tiny.night.limits.ensembles[F.0].recovery = tiny.rolled(0, 1);
    if tiny.dice.once_in(2) {
        tiny.one_more(&[Role::Coordinator]);
    }
}

fn standby(tiny: &mut Tiny) {
    tiny.night.limits.standby = Some(Standby { responders: 1, report: false });
    tiny.night.limits.rest[F.0][F.0] = tiny.rolled(0, 2);
    tiny.night.limits.ensembles[F.0].recovery = tiny.rolled(0, 1);
    tiny.night.limits.cumulative_wear = tiny.rolled(5, 9);
    tiny.one_more(&[Role::Entrant]);
    if tiny.dice.once_in(2) {
        for kit in &mut tiny.night.roster.kits {
            kit.count = tiny.dice.count(1, 4);
        }
    }
    if tiny.dice.once_in(3) {
        coordinator(tiny);
    }
    if tiny.dice.once_in(3) {
        low_hours(tiny);
    }
}

fn standby_reported(tiny: &mut Tiny) {
    standby(tiny);
    tiny.night.limits.standby = Some(Standby { responders: 1, report: true });
}

/// A removal nobody planned can start within a slot or two. Whoever wears a kit for it has time to put it on: a spell
/// on post that helps nobody, only to be there, is not among the rotas tried.
fn early_exit(tiny: &mut Tiny) {
    let kitted = tiny.dice.once_in(3);
    let within = tiny.rolled(i64::from(kitted), 2);
    tiny.night.limits.early_exit = Some(EarlyExit { within, report: false });
    tiny.anybody_may(Role::DoffingObserver, 2);
    tiny.night.limits.rest[F.0][F.0] = tiny.rolled(0, 2);
    tiny.night.limits.ensembles[F.0].recovery = tiny.rolled(0, 1);
    if kitted {
        tiny.assistants();
    } else if tiny.dice.once_in(3) {
        bare_assistants(tiny);
    }
    if tiny.dice.once_in(2) {
        add_lanes(&mut tiny.night, 1);
    }
    if tiny.dice.once_in(3) {
        let from = tiny.dice.roll(2, tiny.slots - 1);
        let closure = tiny.span(from, from + 1);
        tiny.night.roster.lanes[0].closures.push(closure);
    }
}

fn early_exit_reported(tiny: &mut Tiny) {
    early_exit(tiny);
    tiny.night.limits.early_exit = tiny.night.limits.early_exit.map(|exit| EarlyExit { report: true, ..exit });
}

/// Some people in a huddle for a slot or two.
fn huddles(tiny: &mut Tiny) {
    tiny.one_more(&[Role::Entrant]);
    let from = tiny.dice.roll(0, tiny.slots - 3);
    let to = tiny.dice.roll(from + 1, from + 2);
    let people = (0..tiny.night.roster.people.len()).filter(|_| tiny.dice.once_in(2)).map(PersonIx).collect();
    let span = tiny.span(from, to);
    tiny.night.roster.huddles.push(Huddle { people, span });
}

fn pins(tiny: &mut Tiny) {
    tasks(tiny);
    for _ in 0..2 {
        let person = PersonIx(tiny.somebody());
        let task = tiny.dice.count(0, 1) as usize;
        let to = if tiny.dice.once_in(2) && task < tiny.night.roster.tasks.len() {
            PinTo::Task(TaskIx(task))
        } else {
            PinTo::Entry { room: RoomIx(0), door_in: t(tiny.dice.roll(1, tiny.slots - 2) * tiny.grid) }
        };
        tiny.night.roster.pins.push(Pin { person, to });
    }
}

/// Pins to a time before the shift, which nobody keeps.
fn pins_off(night: &mut Night) {
    night.roster.pins.iter_mut().for_each(|pin| pin.to = PinTo::Entry { room: RoomIx(0), door_in: t(-600) });
}

fn forbidden(tiny: &mut Tiny) {
    if tiny.dice.once_in(2) {
        tiny.assistants();
    }
    for _ in 0..2 {
        let person = PersonIx(tiny.somebody());
        let from = tiny.dice.roll(0, tiny.slots - 1);
        let span = tiny.span(from, tiny.slots.min(from + 2));
        let roles = Role::ALL.into_iter().filter(|_| tiny.dice.once_in(2)).collect();
        tiny.night.roster.forbidden.push(Forbidden { person, roles, span });
    }
}

fn tasks(tiny: &mut Tiny) {
    if tiny.dice.once_in(2) {
        tiny.night.roster.presence.clear();
    }
    for person in &mut tiny.night.roster.people {
        if tiny.dice.once_in(2) {
            person.skills.push("lines".into());
        }
    }
    for which in 0..tiny.dice.roll(1, 2) {
        let from = tiny.dice.roll(1, 3);
        let length = tiny.dice.roll(1, 2);
        let to = tiny.dice.roll(from + length, (from + length + 2).min(tiny.slots));
        let wanted = tiny.dice.roll(from, to - length);
        tiny.night.roster.tasks.push(Task {
            id: format!("T{which}"),
            room: RoomIx(0),
            window: tiny.span(from, to),
            wanted: t(wanted * tiny.grid),
            length: tiny.long(length),
            people: tiny.dice.count(1, 2),
            skill: tiny.dice.once_in(2).then(|| "lines".to_owned()),
            need: if tiny.dice.once_in(2) { Need::Must } else { Need::Wanted },
            same_people: tiny.dice.once_in(2),
            extra: tiny.dice.once_in(3),
        });
    }
}

fn tasks_off(night: &mut Night) {
    for task in &mut night.roster.tasks {
        task.skill = None;
        task.same_people = false;
        task.extra = false;
    }
}

fn skill_cover(tiny: &mut Tiny) {
    match tiny.dice.roll(1, 3) {
        1 => tiny.night.roster.presence.clear(),
        2 => tasks(tiny),
        _ => tiny.one_more(&[Role::Entrant]),
    }
    for person in &mut tiny.night.roster.people {
        for skill in ["airway", "lines"] {
            if tiny.dice.once_in(2) && !person.skills.iter().any(|own| own == skill) {
                person.skills.push(skill.into());
            }
        }
    }
    for skill in ["airway", "lines"] {
        let from = tiny.dice.roll(1, 3);
        let to = tiny.dice.roll(from + 1, tiny.slots - 1);
        let mut span = tiny.span(from, to);
        // A stretch need not keep to the grid.
        span.to = span.to + Minutes(tiny.dice.roll(0, 1) * 7);
        let people = tiny.dice.count(1, 2);
        tiny.night.roster.skill_cover.push(SkillCover { room: RoomIx(0), span, skill: skill.into(), people });
    }
}

/// Anybody will do.
fn skill_cover_off(night: &mut Night) {
    for person in &mut night.roster.people {
        person.skills = vec!["airway".into(), "lines".into()];
    }
}

fn two_rooms(tiny: &mut Tiny) {
    tiny.night.roster.rooms.push(Room { id: "2".into(), max_inside: 2 });
    let from = tiny.dice.roll(1, 3);
    let to = tiny.dice.roll(from + 1, tiny.slots - 1);
    let second = Presence { room: RoomIx(1), span: tiny.span(from, to), people: 1, class: tiny.dice.count(1, 2) };
    tiny.night.roster.presence.push(second);
    tiny.anybody_may(Role::DoffingObserver, 3);
}

fn two_rooms_off(night: &mut Night) {
    for presence in &mut night.roster.presence {
        presence.class = 1;
    }
}

fn two_ensembles(tiny: &mut Tiny) {
    let mut other = room_ensemble(0, tiny.grid, tiny.grid * tiny.dice.roll(1, 2), tiny.grid * tiny.dice.roll(3, 5));
    other.id = "G".into();
    other.worn_in = WornIn::Room;
    tiny.night.limits.ensembles.push(other);
    let second = EnsembleIx(2);
    tiny.night.roster.kits.push(KitStock { ensemble: second, size: "M".into(), count: 9, reserve: 0 });
    tiny.night.limits.rest = vec![vec![Minutes(0); 3]; 3];
    tiny.night.limits.rest[2][2] = tiny.rolled(0, 2);
    if tiny.dice.once_in(2) {
        tiny.assistants();
        tiny.night.limits.ensembles[F.0].assistant = tiny.dice.once_in(2);
        tiny.night.limits.ensembles[2].assistant = !tiny.night.limits.ensembles[F.0].assistant;
    }
    tiny.night.roster.people[1].kits.insert(0, KitSize { ensemble: second, size: "M".into() });
}

fn two_ensembles_off(night: &mut Night) {
    for person in &mut night.roster.people {
        person.kits.retain(|k| k.ensemble != EnsembleIx(2));
    }
}

fn mixture(tiny: &mut Tiny) {
    let simple: [fn(&mut Tiny); 12] =
        [wear, rest, recovery, cumulative, personal, overlap, pairs, lanes, changeover, flags, tasks, breaks];
    for _ in 0..3 {
        let pick = usize::try_from(tiny.dice.roll(0, 11)).expect("not negative");
        // Families that remove somebody expect the first four.
        if tiny.night.roster.people.len() >= 4 {
            simple[pick](tiny);
        }
    }
    tiny.night.roster.people.truncate(4);
}

fn mixture_off(night: &mut Night) {
    wear_off(night);
    rest_off(night);
    breaks_off(night);
}
