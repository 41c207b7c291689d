//! Gathers the facts of a rota: the one place that turns its rows into wears, removals, watches and duties.

use chrono::NaiveDate;

use super::facts::{Assist, Donning, Duty, Facts, Kind, Of, Removal, Watch, Wear};
use super::hours;
use crate::night::{
    CleanedBy, Ensemble, EnsembleIx, Entry, Minutes, Night, PersonIx, Post, PostRole, Rota, Span, WearFrom, WornIn,
};

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
            low_hours: night.low_hours(),
            worn_out: Vec::new(),
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
        facts.worn_out = night.roster.person_indices().map(|person| hours::is_over(&facts, person)).collect();
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

    fn wear_of_entry(&self, i: usize, entry: &'a Entry) -> Wear<'a> {
        let ensemble = self.night.room_ensemble(entry.person).or_else(|| self.any_room_ensemble());
        let kit = self.kit(ensemble);
        let before = ensemble.map_or(Some(Minutes::ZERO), |e| self.limits.donning_before_wear(e));
        Wear {
            person: entry.person,
            of: Of::Entry(i),
            kit,
            ensemble,
            respirator: worn_with(kit, entry.respirator.as_deref()),
            don: entry.don,
            donned: entry.don + kit.donning,
            start: before.map_or(entry.door_in, |before| entry.don + before),
            removal: entry.removal,
            off: entry.off,
        }
    }

    fn wear_of_post(&self, p: usize, post: &'a Post) -> Wear<'a> {
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
            respirator: worn_with(kit, post.respirator.as_deref()),
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
}

fn worn_with<'a>(kit: &'a Ensemble, said: Option<&'a str>) -> Option<&'a str> {
    match (said, &kit.respirators[..]) {
        (None, [only]) => Some(only),
        (said, _) => said,
    }
}
