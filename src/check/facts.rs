//! What a rota amounts to: wears, removals, watches, help and duties, to the minute.
//!
//! Worked out once; every rule reads it.

use chrono::NaiveDate;

use crate::night::{
    CleanedBy, ConstraintSet, Ensemble, EnsembleIx, Entry, LaneIx, Minute, Minutes, Night, PersonIx, Post, PostRole,
    Role, Roster, Rota, Span, WearFrom, WornIn,
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
    /// A local day after which nothing in the rota ends.
    last_day: NaiveDate,
}

/// Stands in where the unit has no ensemble for a row of the rota, so that the rest can be checked.
static BARE: Ensemble = Ensemble {
    id: String::new(),
    worn_in: WornIn::DoffingArea,
    respirators: Vec::new(),
    fit_test: false,
    donning: Minutes::ZERO,
    sealed: Minutes::ZERO,
    donning_watched: false,
    removal: Minutes::ZERO,
    removal_watched: false,
    assistant: false,
    max_wear: Minutes(1 << 40),
    margin: Minutes::ZERO,
    recovery: Minutes::ZERO,
    cumulative_percent: 0,
};

impl<'a> Facts<'a> {
    /// Works out what `rota` amounts to. Its times must be within years of the shift.
    pub(super) fn of(night: &'a Night, rota: &'a Rota) -> Self {
        let mut facts = Self {
            night,
            roster: &night.roster,
            limits: &night.limits,
            rota,
            wears: Vec::with_capacity(rota.entries.len() + rota.posts.len()),
            by_person: Vec::new(),
            removals: Vec::with_capacity(rota.entries.len() + rota.posts.len()),
            donnings: Vec::with_capacity(rota.entries.len() + rota.posts.len()),
            watches: Vec::new(),
            assists: Vec::new(),
            duties: Vec::new(),
            own_after: vec![None; rota.entries.len()],
            at_once: vec![None; rota.posts.len()],
            last_day: NaiveDate::MIN,
        };
        facts.find_wears();
        facts.find_own_removals_at_once();
        facts.find_removals();
        facts.find_donnings();
        facts.find_watches();
        facts.find_assists();
        facts.find_duties();
        facts.find_last_day();
        facts
    }

    fn find_wears(&mut self) {
        for (i, entry) in self.rota.entries.iter().enumerate() {
            let wear = self.wear_of_entry(i, entry);
            self.wears.push(wear);
        }
        for (p, post) in self.rota.posts.iter().enumerate() {
            let wear = self.wear_of_post(p, post);
            self.wears.push(wear);
        }
        self.by_person = (0..self.wears.len()).collect();
        let wears = &self.wears;
        self.by_person.sort_by_key(|&w| (wears[w].person, wears[w].don, wears[w].off, w));
    }

    fn wear_of_entry(&self, i: usize, entry: &Entry) -> Wear<'a> {
        let ensemble = self.night.room_ensemble(entry.person).or_else(|| self.any_room_ensemble());
        let kit = self.kit(ensemble);
        let before = ensemble.map_or(Some(Minutes::ZERO), |e| self.limits.donning_before_wear(e));
        Wear {
            person: entry.person,
            of: Of::Entry(i),
            kit,
            ensemble,
            don: entry.don,
            donned: entry.don + kit.donning,
            start: before.map_or(entry.door_in, |before| entry.don + before),
            removal: entry.removal,
            off: entry.off,
        }
    }

    fn wear_of_post(&self, p: usize, post: &Post) -> Wear<'a> {
        let ensemble = self.night.post_ensemble(post.role);
        let kit = self.kit(ensemble);
        let before = match self.limits.wear_from {
            WearFrom::DonningStart => Minutes::ZERO,
            WearFrom::Sealed | WearFrom::DoorIn => kit.donning - kit.sealed,
        };
        Wear {
            person: post.person,
            of: Of::Post(p),
            kit,
            ensemble,
            don: post.don,
            donned: post.don + kit.donning,
            start: post.don + before,
            removal: post.removal,
            off: post.off,
        }
    }

    /// For someone signed off for no room ensemble, the unit's first, so that the rest can be checked.
    fn any_room_ensemble(&self) -> Option<EnsembleIx> {
        self.limits.ensembles.iter().position(|e| e.worn_in == WornIn::Room).map(EnsembleIx)
    }

    fn kit(&self, ensemble: Option<EnsembleIx>) -> &'a Ensemble {
        let limits = self.limits;
        ensemble.map_or(&BARE, |e| limits.ensemble(e))
    }

    fn find_own_removals_at_once(&mut self) {
        for (p, post) in self.rota.posts.iter().enumerate() {
            if post.role != PostRole::Assistant || post.lane.is_none() {
                continue;
            }
            let before = self
                .rota
                .entries
                .iter()
                .position(|e| e.assistant == Some(post.person) && e.off == post.removal && e.lane == post.lane);
            if let Some(entry) = before {
                self.at_once[p] = Some(entry);
                self.own_after[entry] = Some(p);
            }
        }
    }

    fn find_removals(&mut self) {
        for (i, e) in self.rota.entries.iter().enumerate() {
            self.removals.push(Removal {
                of: Of::Entry(i),
                wearer: e.person,
                span: Span::new(e.removal, e.off),
                lane: e.lane,
                observer: e.observer,
                assistant: e.assistant,
                watched: true,
            });
        }
        for (p, post) in self.rota.posts.iter().enumerate() {
            let kit = self.wear(Of::Post(p)).kit;
            self.removals.push(Removal {
                of: Of::Post(p),
                wearer: post.person,
                span: Span::new(post.removal, post.off),
                lane: post.lane,
                observer: post.observer,
                assistant: None,
                watched: post.role == PostRole::Assistant || kit.removal_watched,
            });
        }
        self.removals.sort_by_key(|r| (r.span, r.of));
    }

    fn find_donnings(&mut self) {
        let observers = self.rota.entries.iter().map(|e| e.donning_observer);
        let observers = observers.chain(self.rota.posts.iter().map(|p| p.donning_observer));
        self.donnings = self
            .wears
            .iter()
            .zip(observers)
            .map(|(wear, observer)| Donning {
                wearer: wear.person,
                observer,
                span: Span::new(wear.don, wear.donned),
                watched: matches!(wear.of, Of::Entry(_)) || wear.kit.donning_watched,
            })
            .collect();
    }

    fn find_watches(&mut self) {
        for removal in &self.removals {
            let Some(observer) = removal.observer else { continue };
            let chained = self.same_observer_before(removal.of, observer);
            let ready = if chained { Minutes::ZERO } else { self.limits.observer_ready };
            let continues = self.same_observer_after(removal.of, observer);
            let reset = if continues { Minutes::ZERO } else { self.limits.observer_reset };
            let busy = Span::new(removal.span.from - ready, removal.span.to + reset);
            let needs_kit = self.limits.observer_kit.is_some() && !self.is_observer_post(removal.of);
            self.watches.push(Watch {
                observer,
                wearer: removal.wearer,
                removal: removal.span,
                busy,
                lane: removal.lane,
                post: self.spell(observer, PostRole::Observer, busy),
                needs_kit,
                same_person: observer == removal.wearer || Some(observer) == removal.assistant,
            });
        }
        self.watches.sort_by_key(|w| (w.observer, w.removal));
    }

    fn same_observer_before(&self, of: Of, observer: PersonIx) -> bool {
        let Of::Post(p) = of else { return false };
        self.at_once[p].is_some_and(|e| self.rota.entries[e].observer == Some(observer))
    }

    fn same_observer_after(&self, of: Of, observer: PersonIx) -> bool {
        let Of::Entry(e) = of else { return false };
        self.own_after[e].is_some_and(|p| self.rota.posts[p].observer == Some(observer))
    }

    fn is_observer_post(&self, of: Of) -> bool {
        matches!(of, Of::Post(p) if self.rota.posts[p].role == PostRole::Observer)
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

    fn find_assists(&mut self) {
        let cleans = self.limits.cleaned_by == CleanedBy::Assistant;
        for (i, e) in self.rota.entries.iter().enumerate() {
            let Some(assistant) = e.assistant else { continue };
            let cleaning = if cleans && self.own_after[i].is_none() { self.limits.cleaning } else { Minutes::ZERO };
            let removal = Span::new(e.removal, e.off);
            self.assists.push(Assist {
                assistant,
                wearer: e.person,
                removal,
                until: e.off + cleaning,
                lane: e.lane,
                post: self.spell(assistant, PostRole::Assistant, removal),
            });
        }
        self.assists.sort_by_key(|a| (a.assistant, a.removal));
    }

    fn find_duties(&mut self) {
        let mut duties = Vec::with_capacity(self.wears.len() * 3);
        for wear in &self.wears {
            let kind = match wear.of {
                Of::Entry(_) => Kind::Entry,
                Of::Post(p) => Kind::Post(self.rota.posts[p].role),
            };
            duties.push(Duty { person: wear.person, kind, busy: wear.dressed(), over: wear.off });
        }
        for donning in &self.donnings {
            let Some(person) = donning.observer.filter(|&o| o != donning.wearer) else { continue };
            duties.push(Duty { person, kind: Kind::DonningWatch, busy: donning.span, over: donning.span.to });
        }
        for watch in self.watches.iter().filter(|w| w.post.is_none() && !w.same_person) {
            let over = watch.removal.to;
            duties.push(Duty { person: watch.observer, kind: Kind::RemovalWatch, busy: watch.busy, over });
        }
        for assist in self.assists.iter().filter(|a| a.post.is_none() && a.assistant != a.wearer) {
            let busy = Span::new(assist.removal.from, assist.until);
            duties.push(Duty { person: assist.assistant, kind: Kind::Assist, busy, over: assist.until });
        }
        duties.sort_by_key(|d| (d.person, d.busy));
        self.duties = duties;
    }

    fn find_last_day(&mut self) {
        let ends = self.wears.iter().map(|w| w.off.max(w.donned)).chain(self.assists.iter().map(|a| a.until));
        self.last_day = ends.max().map_or(NaiveDate::MIN, |end| self.roster.clock.date(end));
    }

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

    /// How far `end` lies past the sign-off of `person` as `role`: nothing when it
    /// is covered, `Err` when the role is not held at all.
    pub(super) fn past_sign_off(&self, person: PersonIx, role: Role, end: Minute) -> Result<Minutes, NotHeld> {
        let through = self.roster.person(person).signed_through(role).ok_or(NotHeld)?;
        Ok(self.past_day(through, end))
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

/// The role is not signed off at all.
pub(super) struct NotHeld;

impl Wear<'_> {
    /// From the start of donning to the last item off.
    pub(super) const fn dressed(&self) -> Span {
        Span::new(self.don, self.off)
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
