//! What a rota amounts to: wears, removals, watches, help and duties, to the minute.
//!
//! Worked out once; every rule reads it.

use chrono::{Days, NaiveDate};

use crate::night::{
    ConstraintSet, Ensemble, EnsembleIx, LaneIx, Minute, Minutes, Night, PersonIx, PostRole, Role, Roster, Rota, Span,
};

/// Which row of the rota something comes from.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Of {
    /// An index into [`Rota::entries`].
    Entry(usize),
    /// An index into [`Rota::posts`].
    Post(usize),
}

/// One person dressed, from the start of donning to the last item off.
pub(super) struct Wear<'a> {
    pub(super) person: PersonIx,
    pub(super) of: Of,
    pub(super) kit: &'a Ensemble,
    /// `None` where the unit has no ensemble for this: another fault says so.
    pub(super) ensemble: Option<EnsembleIx>,
    /// The model: the one the rota says, or the only one the kit is worn with.
    pub(super) respirator: Option<&'a str>,
    pub(super) don: Minute,
    pub(super) donned: Minute,
    /// The minute from which wear counts (B1).
    pub(super) start: Minute,
    pub(super) removal: Minute,
    pub(super) off: Minute,
}

/// One person taking an ensemble off.
pub(super) struct Removal {
    pub(super) of: Of,
    pub(super) wearer: PersonIx,
    /// `[t_fs, t_off)`.
    pub(super) span: Span,
    pub(super) lane: Option<LaneIx>,
    pub(super) observer: Option<PersonIx>,
    pub(super) assistant: Option<PersonIx>,
    /// Whether the unit has it watched.
    pub(super) watched: bool,
}

/// A donning with its observer.
pub(super) struct Donning {
    pub(super) wearer: PersonIx,
    pub(super) observer: Option<PersonIx>,
    pub(super) span: Span,
    pub(super) watched: bool,
}

/// One removal as its observer sees it.
pub(super) struct Watch {
    pub(super) observer: PersonIx,
    pub(super) wearer: PersonIx,
    /// `[t_fs, t_off)`.
    pub(super) removal: Span,
    /// With ready and reset time where they apply.
    pub(super) busy: Span,
    pub(super) lane: Option<LaneIx>,
    /// The observer's own spell in a kit, where observers wear one.
    pub(super) post: Option<usize>,
    /// Whether it can only be watched in a kit: not an observer's own removal, which is outside the lanes.
    pub(super) needs_kit: bool,
    /// Observer, wearer and assistant are not three people (C2): no duty beside that.
    pub(super) same_person: bool,
}

/// One removal as its assistant sees it.
pub(super) struct Assist {
    pub(super) assistant: PersonIx,
    pub(super) wearer: PersonIx,
    pub(super) removal: Span,
    /// The end of it, cleaning included where that is the assistant's.
    pub(super) until: Minute,
    pub(super) lane: Option<LaneIx>,
    /// The assistant's own spell in a kit, where assistants wear one.
    pub(super) post: Option<usize>,
}

/// What keeps a person busy.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Kind {
    Entry,
    Post(PostRole),
    DonningWatch,
    RemovalWatch,
    Assist,
}

/// One duty of one person.
pub(super) struct Duty {
    pub(super) person: PersonIx,
    pub(super) kind: Kind,
    /// Busy, ready and reset time and cleaning included.
    pub(super) busy: Span,
    /// From when changeover counts: the end without reset time.
    pub(super) over: Minute,
}

/// Everything the rules read.
pub(super) struct Facts<'a> {
    pub(super) night: &'a Night,
    pub(super) roster: &'a Roster,
    pub(super) limits: &'a ConstraintSet,
    pub(super) rota: &'a Rota,
    /// Entries in order, then posts in order.
    pub(super) wears: Vec<Wear<'a>>,
    /// Indices into `wears` by person, then donning.
    pub(super) by_person: Vec<usize>,
    /// By start.
    pub(super) removals: Vec<Removal>,
    /// Entries in order, then posts in order.
    pub(super) donnings: Vec<Donning>,
    /// By observer, then start.
    pub(super) watches: Vec<Watch>,
    /// By assistant, then start.
    pub(super) assists: Vec<Assist>,
    /// By person, then start.
    pub(super) duties: Vec<Duty>,
    /// For each entry the post whose own removal follows at once in the same lane.
    pub(super) own_after: Vec<Option<usize>>,
    /// For each post the entry whose removal its own follows at once in the same lane.
    pub(super) at_once: Vec<Option<usize>>,
    /// Tonight's low hours.
    pub(super) low_hours: Vec<Span>,
    /// For each person whether nights in a row or hours in a week leave no duty tonight (F8).
    pub(super) worn_out: Vec<bool>,
    /// A local day after which nothing in the rota ends.
    pub(super) last_day: NaiveDate,
}

impl<'a> Facts<'a> {
    /// The wear of one row of the rota.
    pub(super) fn wear(&self, of: Of) -> &Wear<'a> {
        match of {
            Of::Entry(i) => &self.wears[i],
            Of::Post(p) => &self.wears[self.rota.entries.len() + p],
        }
    }

    /// All wears of `person`, by donning.
    pub(super) fn wears_of(&self, person: PersonIx) -> impl Iterator<Item = &Wear<'a>> + Clone {
        let from = self.by_person.partition_point(|&w| self.wears[w].person < person);
        let to = self.by_person.partition_point(|&w| self.wears[w].person <= person);
        self.by_person[from..to].iter().map(|&w| &self.wears[w])
    }

    /// All duties of `person`, by start.
    pub(super) fn duties_of(&self, person: PersonIx) -> &[Duty] {
        let from = self.duties.partition_point(|d| d.person < person);
        let to = self.duties.partition_point(|d| d.person <= person);
        &self.duties[from..to]
    }

    /// The spell of `person` on post as `role` that covers `busy`, or failing that one that shares a minute with it.
    pub(super) fn spell(&self, person: PersonIx, role: PostRole, busy: Span) -> Option<usize> {
        let posts = &self.rota.posts;
        let mine = || (0..posts.len()).filter(|&p| posts[p].person == person && posts[p].role == role);
        mine()
            .find(|&p| self.on_post(p).covers(busy))
            .or_else(|| mine().find(|&p| self.wear(Of::Post(p)).dressed().overlaps(busy)))
    }

    /// On post: dressed and not yet removing.
    pub(super) fn on_post(&self, p: usize) -> Span {
        let wear = self.wear(Of::Post(p));
        Span::new(wear.donned, wear.removal)
    }

    /// The last day on which `person` is both signed off as `role` (A1) and lately enough in it (A9), read from the
    /// roster and the limits here and not asked of the night.
    pub(super) fn in_date_through(&self, person: PersonIx, role: Role) -> Result<NaiveDate, NotHeld> {
        let signed = self.roster.person(person).signed_through(role).ok_or(NotHeld)?;
        match self.recent_through(person, role) {
            None => Ok(signed),
            Some(Last { through, .. }) => Ok(signed.min(through.ok_or(NotHeld)?)),
        }
    }

    /// How far `end` lies past that day: nothing when it is covered, `Err` when the role is not held at all, or when
    /// it was last done is asked for and not known.
    pub(super) fn past_in_date(&self, person: PersonIx, role: Role, end: Minute) -> Result<Minutes, NotHeld> {
        Ok(self.past_day(self.in_date_through(person, role)?, end))
    }

    /// When a role was last done, where the unit asks for that.
    pub(super) fn recent_through(&self, person: PersonIx, role: Role) -> Option<Last> {
        let days = self.limits.recency.iter().find(|recency| recency.role == role)?.days;
        let held = self.roster.person(person).sign_offs.iter().filter(|held| held.role == role);
        let done = held.filter_map(|held| held.last_done).max();
        let through = done.map(|done| done.checked_add_days(Days::new(u64::from(days))).unwrap_or(NaiveDate::MAX));
        Some(Last { days, done, through })
    }

    /// How far `end` lies past local 24:00 of `day`; zero when it does not.
    pub(super) fn past_day(&self, day: NaiveDate, end: Minute) -> Minutes {
        if day >= self.last_day {
            return Minutes::ZERO;
        }
        (end - self.roster.end_of_day(day)).max(Minutes::ZERO)
    }

    /// Cumulative wear of `person` in hundredths of a minute, carried-in wear included (B6).
    pub(super) fn cumulative_centi(&self, person: PersonIx) -> i64 {
        let carried = self.roster.person(person).worn_before.0 * 100;
        carried + self.wears_of(person).map(Wear::centi).sum::<i64>()
    }

    /// The id of a person.
    pub(super) fn id(&self, person: PersonIx) -> &'a str {
        &self.roster.people[person.0].id
    }

    /// `22:50`, local.
    pub(super) fn at(&self, at: Minute) -> String {
        self.roster.clock.hhmm(at)
    }

    /// `22:30-22:50`, local.
    pub(super) fn times(&self, span: Span) -> String {
        format!("{}-{}", self.at(span.from), self.at(span.to))
    }
}

/// When somebody last did or drilled a role, and for how long that is lately enough (A9).
pub(super) struct Last {
    /// For so many days after.
    pub(super) days: u32,
    /// On which day, if that is known.
    pub(super) done: Option<NaiveDate>,
    /// The last of those days.
    pub(super) through: Option<NaiveDate>,
}

/// The role is not signed off at all.
pub(super) struct NotHeld;

impl Wear<'_> {
    /// From the start of donning to the last item off.
    pub(super) const fn dressed(&self) -> Span {
        Span::new(self.don, self.off)
    }

    /// The minute in which the respirator is put on: donning less its sealed part.
    pub(super) fn respirator_on(&self) -> Minute {
        self.donned - self.kit.sealed
    }

    /// The minutes that count as wear.
    pub(super) const fn worn(&self) -> Span {
        Span::new(self.start, self.off)
    }

    /// What it adds to cumulative wear, in hundredths of a minute.
    pub(super) fn centi(&self) -> i64 {
        self.worn().length().0.max(0) * self.kit.cumulative_percent
    }
}
