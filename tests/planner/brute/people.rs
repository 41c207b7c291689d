//! What each person may do, read off the night in plain minutes.

use anteroom::night::{Apart, CleanDuty, EnsembleIx, Minute, Night, PersonIx, Role};

/// Plain minutes since the epoch.
pub type At = i64;

/// Facts about people that the search asks for again and again.
pub struct People<'a> {
    night: &'a Night,
    pub grid: i64,
    /// The shift.
    pub from: At,
    pub to: At,
    /// Who has too many nights in a row, or too many hours in a week, with tonight (F8).
    over: Vec<bool>,
}

/// Counted minute by minute, in UTC: minutes on duty of the last seven days, and days back from tonight with a minute
/// of duty in the hours that make a night.
fn is_over(night: &Night, person: usize) -> bool {
    let (limits, roster) = (&night.limits, &night.roster);
    let duty = roster.people[person].on_duty;
    let logged = roster.duty_log.iter().filter(|logged| logged.person == PersonIx(person)).map(|logged| logged.span);
    let spans: Vec<_> = logged.chain([duty]).collect();
    let on_duty = |at: &At| spans.iter().any(|span| span.contains(Minute(*at)));
    let in_week = (duty.to.0 - 10_080..duty.to.0).filter(on_duty).count();
    let too_long = limits.week_max.is_some_and(|most| in_week > usize::try_from(most.0).expect("not negative"));
    let too_many = limits.nights_in_a_row.is_some_and(|limit| {
        let seconds = |time: chrono::NaiveTime| i64::from(chrono::Timelike::num_seconds_from_midnight(&time));
        let (from, to) = (seconds(limit.from) / 60, seconds(limit.to) / 60);
        assert!(from < to, "the nights of these tests lie in one day");
        let works = |day: i64| (day * 1440 + from..day * 1440 + to).any(|at| on_duty(&at));
        let tonight = duty.from.0.div_euclid(1440);
        let in_a_row = (0..=60).take_while(|back| works(tonight - back)).count();
        in_a_row > usize::try_from(limit.max).expect("few")
    });
    too_long || too_many
}

impl<'a> People<'a> {
    pub fn new(night: &'a Night) -> Self {
        let shift = night.roster.shift;
        let over = (0..night.roster.people.len()).map(|person| is_over(night, person)).collect();
        Self { night, grid: night.limits.grid.0, from: shift.from.0, to: shift.to.0, over }
    }

    pub fn all(&self) -> std::ops::Range<usize> {
        0..self.night.roster.people.len()
    }

    /// Points of the grid in `[from, to]`, inside the shift.
    pub fn points(&self, from: At, to: At) -> impl Iterator<Item = At> + use<> {
        let (start, grid, to) = (self.from, self.grid, to.min(self.to));
        let first = start + (from.max(start) - start + grid - 1).div_euclid(grid) * grid;
        (0..).map(move |i| first + i * grid).take_while(move |&at| at <= to)
    }

    /// On duty and rested since the last shift (A3, F4); never, with too many nights or hours (F8).
    pub fn duty_from(&self, person: usize) -> At {
        if self.over[person] {
            return i64::MAX / 4;
        }
        let p = &self.night.roster.people[person];
        let gap = p.last_off_duty.map_or(i64::MIN, |off| (off + self.night.limits.shift_gap).0);
        p.on_duty.from.0.max(gap)
    }

    pub fn duty_to(&self, person: usize) -> At {
        self.night.roster.people[person].on_duty.to.0
    }

    /// The end of the last day of a sign-off, if it is held (A1), or of the days for which it was lately done (A9).
    pub fn signed(&self, person: usize, role: Role) -> Option<At> {
        let held = self.night.roster.people[person].sign_offs.iter().filter(|s| s.role == role);
        let signed = held.clone().map(|s| self.night.roster.end_of_day(s.valid_through).0).max()?;
        let Some(asked) = self.night.limits.recency.iter().find(|asked| asked.role == role) else {
            return Some(signed);
        };
        // The nights of these tests are in UTC, where every day has 1440 minutes.
        let done = held.filter_map(|s| s.last_done).max()?;
        Some(signed.min(self.night.roster.end_of_day(done).0 + i64::from(asked.days) * 1440))
    }

    /// Whether a person enters only beside a preceptor: supervised, and not entrant in date as the shift starts (A5).
    pub fn supervised(&self, person: usize) -> bool {
        let alone = self.signed(person, Role::Entrant).is_some_and(|end| end > self.from);
        !alone && self.signed(person, Role::SupervisedEntrant).is_some()
    }

    /// From when and until when a person may be dressed in `ensemble` as `role`: donning start to last item off.
    pub fn may_wear(&self, person: usize, role: Role, ensemble: EnsembleIx) -> Option<(At, At)> {
        let p = &self.night.roster.people[person];
        let enters = matches!(role, Role::Entrant | Role::SupervisedEntrant);
        let allowed = if enters { p.enter_today } else { p.doffing_area_today };
        let sized = p.kits.iter().any(|k| k.ensemble == ensemble);
        if !allowed || !sized {
            return None;
        }
        let until = self.signed(person, role)?.min(self.fitted(person, ensemble)?);
        let rested = p.last_removal.map_or(i64::MIN, |last| last.off.0 + self.rest(person, last.ensemble, ensemble));
        let from = self.duty_from(person).max(rested);
        Some((from, until.min(self.duty_to(person) - self.night.limits.shower.0)))
    }

    fn fitted(&self, person: usize, ensemble: EnsembleIx) -> Option<At> {
        let kit = self.night.limits.ensemble(ensemble);
        let stock = self.night.roster.respirators.iter();
        let stocked: Vec<_> = stock.filter(|r| r.count > 0 && kit.respirators.contains(&r.respirator)).collect();
        if kit.respirators.is_empty() || (!kit.fit_test && !stocked.is_empty()) {
            return Some(i64::MAX / 4);
        }
        let tests = self.night.roster.people[person].fit_tests.iter();
        let good = tests.filter(|t| stocked.iter().any(|r| r.respirator == t.respirator && r.size == t.size));
        good.filter(|_| kit.fit_test).map(|t| self.night.roster.end_of_day(t.valid_through).0).max()
    }

    fn own_rest(&self, person: usize) -> i64 {
        self.night.roster.people[person].own.rest.map_or(0, |r| r.0)
    }

    /// From the last item off one ensemble to the next donning (B4, B5, A8).
    pub fn rest(&self, person: usize, worn: EnsembleIx, next: EnsembleIx) -> i64 {
        let limits = &self.night.limits;
        limits.rest[worn.0][next.0].0.max(limits.ensembles[worn.0].recovery.0).max(self.own_rest(person))
    }

    /// From the last item off to a duty without a kit; `None` for assisting, which no unit may list (B5).
    pub fn rest_before_duty(&self, person: usize, worn: EnsembleIx, duty: Option<CleanDuty>) -> i64 {
        let limits = &self.night.limits;
        let recovery = limits.ensembles[worn.0].recovery.0;
        if duty.is_some_and(|d| limits.inside_rest.contains(&d)) {
            return recovery;
        }
        recovery.max(limits.rest[worn.0][worn.0].0).max(self.own_rest(person))
    }

    /// When rest before such a duty is over after what was worn before the shift.
    pub fn clean_from(&self, person: usize, duty: Option<CleanDuty>) -> At {
        let last = self.night.roster.people[person].last_removal;
        let rested = last.map_or(i64::MIN, |l| l.off.0 + self.rest_before_duty(person, l.ensemble, duty));
        self.duty_from(person).max(rested)
    }

    /// Longest wear of one ensemble: limit less margin, or the person's own less margin (B2, A8).
    pub fn max_wear(&self, person: usize, ensemble: EnsembleIx) -> i64 {
        let kit = self.night.limits.ensemble(ensemble);
        let own = self.night.roster.people[person].own.max_wear.map_or(i64::MAX, |w| w.0);
        kit.max_wear.0.min(own) - kit.margin.0
    }

    /// Cumulative wear that is left, in hundredths of a minute (B6, A8).
    pub fn wear_left(&self, person: usize) -> i64 {
        let p = &self.night.roster.people[person];
        let own = p.own.cumulative_wear.map_or(i64::MAX / 200, |c| c.0);
        (self.night.limits.cumulative_wear.0.min(own) - p.worn_before.0) * 100
    }

    pub fn apart(&self, one: usize, other: usize, scope: Apart) -> bool {
        self.night.roster.kept_apart(PersonIx(one), PersonIx(other), scope)
    }

    /// Whether a lane is open all the time (C9).
    pub fn lane_open(&self, lane: usize, from: At, to: At) -> bool {
        let closures = &self.night.roster.lanes[lane].closures;
        closures.iter().all(|c| c.to <= Minute(from) || Minute(to) <= c.from)
    }
}
