//! Everyone who helps: assistants, observers, their spells on post.

use anteroom::check::{is_clean, measure};
use anteroom::night::{
    Apart, BreakTaken, CleanDuty, CleanedBy, EnsembleIx, Entry, LaneIx, Minute, Night, PersonIx, Post, PostRole, Role,
    RoomIx, Rota, Stint,
};

use super::duties::{Duty, Kind, donnings_fit, go_together, load, pauses_enough};
use super::people::{At, People};
use super::visits::Visit;
use super::{breaks, no_better, showers, values};

/// What helpers add to the value of a rota, in the order of the levels.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Cost {
    /// Level 1: minutes without rescue, where the unit reports them. Known once everybody is found.
    pub rescue: i64,
    /// Spells on post.
    pub posts: i64,
    /// Minutes short of the unit's spare, minutes waited, removals in low hours.
    pub entries: [i64; 3],
    /// Largest cumulative wear of one person, hundredths of a minute.
    pub wear: i64,
    /// Largest load of one person, minutes.
    pub load: i64,
}

/// A spell in a doffing-area kit.
#[derive(Clone, Copy, Debug)]
struct Spell {
    person: usize,
    role: PostRole,
    don: At,
    donned: At,
    removal: At,
    off: At,
    lane: Option<usize>,
    centi: i64,
    /// The visit whose removal this own removal follows at once.
    after: Option<usize>,
    observer: Option<usize>,
    donning_observer: Option<usize>,
}

/// The helpers of one visit.
#[derive(Clone, Copy, Default, Debug)]
struct Help {
    assistant: Option<usize>,
    observer: Option<usize>,
    donning_observer: Option<usize>,
}

/// Searches through all helpers for one set of entries after another and keeps the cheapest.
pub struct Helpers<'a> {
    night: &'a Night,
    people: &'a People<'a>,
    steps: u64,
    pub best: Option<(Cost, Rota)>,
    visits: Vec<Visit>,
    help: Vec<Help>,
    spells: Vec<Spell>,
    duties: Vec<Vec<Duty>>,
}

/// A watch to be given to somebody.
#[derive(Clone, Copy)]
struct Watch {
    wearer: usize,
    /// `[t_fs, t_off)`.
    span: (At, At),
    lane: Option<usize>,
    /// Whether it is watched in the observers' kit, where there is one.
    in_kit: bool,
}

impl<'a> Helpers<'a> {
    pub fn new(night: &'a Night, people: &'a People<'a>, steps: u64) -> Self {
        Self { night, people, steps, best: None, visits: vec![], help: vec![], spells: vec![], duties: vec![] }
    }

    /// Looks for helpers that cost less than the best so far; `None` when that takes too many steps.
    pub fn look_for_better(&mut self, visits: &[Visit]) -> Option<()> {
        self.visits = visits.to_vec();
        self.visits.sort_by_key(|v| (v.removal, v.person));
        self.help = vec![Help::default(); visits.len()];
        self.duties = vec![vec![]; self.people.all().len()];
        for v in visits {
            self.duties[v.person].push(Duty {
                kind: Kind::Entry,
                from: v.don,
                to: v.off,
                span: (v.don, v.off),
                lane: None,
                worn: Some(v.ensemble),
                on_post: false,
            });
        }
        self.assist(0)
    }

    fn step(&mut self) -> Option<bool> {
        self.steps = self.steps.checked_sub(1)?;
        Some(no_better(self.cost(), self.best.as_ref()))
    }

    fn cost(&self) -> Cost {
        let carried = |p: usize| self.night.roster.people[p].worn_before.0 * 100;
        let wear = self.people.all().map(|p| carried(p) + self.worn(p)).max().unwrap_or(0);
        let load = self.duties.iter().map(|d| load(d)).max().unwrap_or(0);
        let entries = values::of_ways(self.night, &self.visits);
        Cost { rescue: 0, posts: i64::try_from(self.spells.len()).expect("a few spells"), entries, wear, load }
    }

    fn worn(&self, person: usize) -> i64 {
        let entries = self.visits.iter().filter(|v| v.person == person).map(|v| v.centi);
        let spells = self.spells.iter().filter(|s| s.person == person).map(|s| s.centi);
        entries.chain(spells).sum()
    }

    /// Runs `then` with the duty given to `person`, if it fits what they have already.
    fn with(&mut self, person: usize, duty: Duty, then: impl FnOnce(&mut Self) -> Option<()>) -> Option<()> {
        let fits = self.duties[person].iter().all(|d| go_together(self.night, self.people, person, d, &duty));
        if !fits {
            return Some(());
        }
        self.duties[person].push(duty);
        let done = then(self);
        self.duties[person].pop();
        done
    }

    /// Somebody for each removal that needs an assistant.
    fn assist(&mut self, next: usize) -> Option<()> {
        if self.step()? {
            return Some(());
        }
        let Some(&visit) = self.visits.get(next) else {
            return if self.lanes_hold() { self.watch_entrant(0) } else { Some(()) };
        };
        if !self.night.limits.ensemble(visit.ensemble).assistant {
            return self.assist(next + 1);
        }
        for person in self.people.all() {
            if person == visit.person || self.people.apart(person, visit.person, Apart::Assistant) {
                continue;
            }
            self.help[next].assistant = Some(person);
            match self.night.limits.assistant_kit {
                None => self.assist_without_kit(next, person)?,
                Some(kit) => self.assist_on_post(next, person, kit)?,
            }
            self.help[next].assistant = None;
        }
        Some(())
    }

    fn cleans_until(&self, visit: &Visit) -> At {
        let own = self.night.limits.cleaned_by == CleanedBy::Assistant;
        visit.off + if own { self.night.limits.cleaning.0 } else { 0 }
    }

    fn assist_without_kit(&mut self, next: usize, person: usize) -> Option<()> {
        let visit = self.visits[next];
        let until = self.cleans_until(&visit);
        let allowed = self.night.roster.people[person].doffing_area_today
            && self.people.signed(person, Role::Assistant).is_some_and(|end| until <= end)
            && self.people.clean_from(person, None) <= visit.removal
            && until <= self.people.duty_to(person);
        if !allowed {
            return Some(());
        }
        self.with(person, assisting(&visit, until, false), |s| s.assist(next + 1))
    }

    fn assist_on_post(&mut self, next: usize, person: usize, kit: EnsembleIx) -> Option<()> {
        for place in 0..self.spells.len() {
            let spell = self.spells[place];
            if spell.person == person && spell.role == PostRole::Assistant {
                self.assist_during(next, place)?;
            }
        }
        let visit = self.visits[next];
        for lane in 0..self.night.roster.lanes.len() {
            self.each_spell(person, Role::Assistant, kit, (visit.removal, visit.off), Some(lane), &mut |s, place| {
                s.assist_during(next, place)
            })?;
        }
        Some(())
    }

    /// Assists a visit in a spell that is already there.
    fn assist_during(&mut self, next: usize, place: usize) -> Option<()> {
        let (visit, spell) = (self.visits[next], self.spells[place]);
        let at_once = spell.removal == visit.off && spell.lane == Some(visit.lane);
        let until = if at_once { visit.off } else { self.cleans_until(&visit) };
        if visit.removal < spell.donned || spell.removal < until {
            return Some(());
        }
        if at_once {
            self.spells[place].after = Some(next);
        }
        let done = self.with(spell.person, assisting(&visit, until, true), |s| s.assist(next + 1));
        self.spells[place].after = spell.after;
        done
    }

    /// Every new spell of a person that is on post for `need`.
    fn each_spell(
        &mut self,
        person: usize,
        role: Role,
        kit: EnsembleIx,
        need: (At, At),
        lane: Option<usize>,
        then: &mut dyn FnMut(&mut Self, usize) -> Option<()>,
    ) -> Option<()> {
        let Some((from, to)) = self.people.may_wear(person, role, kit) else { return Some(()) };
        let worn = self.night.limits.ensemble(kit);
        let before = self.night.limits.donning_before_wear(kit).expect("helpers pass no door").0;
        for don in self.people.points(from, need.0 - worn.donning.0) {
            for removal in self.people.points(need.1.max(don + worn.donning.0), to - worn.removal.0) {
                let off = removal + worn.removal.0;
                let wear = off - don - before;
                let centi = wear * worn.cumulative_percent;
                let fits = off <= self.people.to
                    && wear <= self.people.max_wear(person, kit)
                    && self.worn(person) + centi <= self.people.wear_left(person)
                    && lane.is_none_or(|l| self.people.lane_open(l, removal, off))
                    && self.kit_left(person, kit);
                if fits {
                    let role = if role == Role::Assistant { PostRole::Assistant } else { PostRole::Observer };
                    let donned = don + worn.donning.0;
                    self.spells.push(Spell {
                        person,
                        role,
                        don,
                        donned,
                        removal,
                        off,
                        lane,
                        centi,
                        after: None,
                        observer: None,
                        donning_observer: None,
                    });
                    let place = self.spells.len() - 1;
                    let span = (don, off);
                    let post = Kind::Post(role);
                    let duty =
                        Duty { kind: post, from: don, to: off, span, lane: None, worn: Some(kit), on_post: false };
                    self.with(person, duty, |s| then(s, place))?;
                    self.spells.pop();
                }
            }
        }
        Some(())
    }

    fn size(&self, person: usize, kit: EnsembleIx) -> &str {
        let kits = &self.night.roster.people[person].kits;
        kits.iter().find(|k| k.ensemble == kit).map_or("", |k| k.size.as_str())
    }

    fn kit_left(&self, person: usize, kit: EnsembleIx) -> bool {
        let size = self.size(person, kit);
        let worn = |s: &Spell| self.night.post_ensemble(s.role) == Some(kit) && self.size(s.person, kit) == size;
        let used = self.spells.iter().filter(|s| worn(s)).count();
        used < self.night.roster.usable_kits(kit, size) as usize
    }

    /// Own removals of assistants in the lanes between the others (C9).
    fn lanes_hold(&self) -> bool {
        let visits = self.visits.iter().enumerate().map(|(i, v)| ((v.removal, v.off), Some(v.lane), Some(i), None));
        let spells = self.spells.iter().map(|s| ((s.removal, s.off), s.lane, None, s.after));
        let uses: Vec<_> = visits.chain(spells).filter(|u| u.1.is_some()).collect();
        let cleaning = self.night.limits.cleaning.0;
        uses.iter().enumerate().all(|(i, one)| {
            uses[i + 1..].iter().filter(|other| other.1 == one.1).all(|other| {
                let follows =
                    |a: &((At, At), Option<usize>, Option<usize>, Option<usize>),
                     b: &((At, At), Option<usize>, Option<usize>, Option<usize>)| {
                        let at_once = a.2.is_some() && b.3 == a.2;
                        a.0.1 + if at_once { 0 } else { cleaning } <= b.0.0
                    };
                follows(one, other) || follows(other, one)
            })
        })
    }

    /// Somebody for each entrant's removal, and for the assistant's own where it follows at once.
    fn watch_entrant(&mut self, next: usize) -> Option<()> {
        if self.step()? {
            return Some(());
        }
        let Some(&visit) = self.visits.get(next) else { return self.watch_assistant(0) };
        let span = (visit.removal, visit.off);
        let watch = Watch { wearer: visit.person, span, lane: Some(visit.lane), in_kit: true };
        let own = self.spells.iter().position(|s| s.after == Some(next));
        for person in self.people.all() {
            if Some(person) == self.help[next].assistant {
                continue;
            }
            self.help[next].observer = Some(person);
            self.watched(person, watch, &mut |s| if own.is_none() { s.watch_entrant(next + 1) } else { Some(()) })?;
            if let Some(place) = own {
                self.watch_own_at_once(next, place, person, watch)?;
            }
            self.help[next].observer = None;
        }
        Some(())
    }

    fn watch_own_at_once(&mut self, next: usize, place: usize, person: usize, watch: Watch) -> Option<()> {
        let spell = self.spells[place];
        if person != spell.person && !self.people.apart(person, spell.person, Apart::Observer) {
            self.spells[place].observer = Some(person);
            let both = Watch { span: (watch.span.0, spell.off), ..watch };
            self.watched(person, both, &mut |s| s.watch_entrant(next + 1))?;
        }
        self.watched(person, watch, &mut |s| {
            let own = Watch { wearer: spell.person, span: (spell.removal, spell.off), ..watch };
            for second in s.people.all().filter(|&second| second != person) {
                s.spells[place].observer = Some(second);
                s.watched(second, own, &mut |s| s.watch_entrant(next + 1))?;
            }
            Some(())
        })?;
        self.spells[place].observer = None;
        Some(())
    }

    /// Somebody for each assistant's own removal that does not follow at once.
    fn watch_assistant(&mut self, place: usize) -> Option<()> {
        if self.step()? {
            return Some(());
        }
        let Some(&spell) = self.spells.get(place) else { return self.watch_observer(0) };
        if spell.role == PostRole::Observer || spell.after.is_some() {
            return self.watch_assistant(place + 1);
        }
        let watch = Watch { wearer: spell.person, span: (spell.removal, spell.off), lane: spell.lane, in_kit: true };
        self.watch_spell(place, watch, &mut |s| s.watch_assistant(place + 1))
    }

    /// Somebody for each observer's own removal, where those are watched.
    fn watch_observer(&mut self, place: usize) -> Option<()> {
        if self.step()? {
            return Some(());
        }
        let Some(&spell) = self.spells.get(place) else { return self.watch_donning(0) };
        let watched = self.night.limits.observer_kit.is_some_and(|k| self.night.limits.ensemble(k).removal_watched);
        if spell.role == PostRole::Assistant || !watched {
            return self.watch_observer(place + 1);
        }
        let watch = Watch { wearer: spell.person, span: (spell.removal, spell.off), lane: None, in_kit: false };
        self.watch_spell(place, watch, &mut |s| s.watch_observer(place + 1))
    }

    fn watch_spell(&mut self, place: usize, watch: Watch, then: &mut dyn FnMut(&mut Self) -> Option<()>) -> Option<()> {
        for person in self.people.all() {
            self.spells[place].observer = Some(person);
            self.watched(person, watch, then)?;
        }
        self.spells[place].observer = None;
        Some(())
    }

    /// Runs `then` with `person` watching, in every way that is allowed.
    fn watched(&mut self, person: usize, watch: Watch, then: &mut dyn FnMut(&mut Self) -> Option<()>) -> Option<()> {
        if person == watch.wearer || self.people.apart(person, watch.wearer, Apart::Observer) {
            return Some(());
        }
        let limits = &self.night.limits;
        let (from, to) = (watch.span.0 - limits.observer_ready.0, watch.span.1 + limits.observer_reset.0);
        let duty = Duty { kind: Kind::Watch, from, to, span: watch.span, lane: watch.lane, worn: None, on_post: false };
        let on_post = Duty { on_post: true, ..duty };
        let there = |s: &Spell| s.person == person && s.role == PostRole::Observer;
        if self.spells.iter().any(|s| there(s) && s.donned <= from && to <= s.removal) {
            return self.with(person, on_post, then);
        }
        if let Some(kit) = limits.observer_kit.filter(|_| watch.in_kit) {
            return self.each_spell(person, Role::DoffingObserver, kit, (from, to), None, &mut |s, _| {
                s.with(person, on_post, &mut *then)
            });
        }
        let allowed = self.night.roster.people[person].doffing_area_today
            && self.people.signed(person, Role::DoffingObserver).is_some_and(|end| watch.span.1 <= end)
            && self.people.clean_from(person, Some(CleanDuty::DoffingObserver)) <= from
            && to <= self.people.duty_to(person);
        if allowed { self.with(person, duty, then) } else { Some(()) }
    }

    /// Somebody for each donning that is watched: visits first, then spells.
    fn watch_donning(&mut self, next: usize) -> Option<()> {
        if self.step()? {
            return Some(());
        }
        let visits = self.visits.len();
        if next == visits + self.spells.len() {
            self.finish();
            return Some(());
        }
        let (wearer, span) = match next.checked_sub(visits) {
            None => (self.visits[next].person, (self.visits[next].don, self.visits[next].donned)),
            Some(place) => {
                let spell = self.spells[place];
                let kit = self.night.post_ensemble(spell.role).expect("a spell is in a kit");
                if !self.night.limits.ensemble(kit).donning_watched {
                    return self.watch_donning(next + 1);
                }
                (spell.person, (spell.don, spell.donned))
            }
        };
        for person in self.people.all() {
            let allowed = person != wearer
                && !self.people.apart(person, wearer, Apart::Observer)
                && self.people.signed(person, Role::DonningObserver).is_some_and(|end| span.1 <= end)
                && self.people.clean_from(person, Some(CleanDuty::DonningObserver)) <= span.0
                && span.1 <= self.people.duty_to(person);
            if !allowed {
                continue;
            }
            match next.checked_sub(visits) {
                None => self.help[next].donning_observer = Some(person),
                Some(place) => self.spells[place].donning_observer = Some(person),
            }
            let (from, to) = span;
            let duty = Duty { kind: Kind::Donning, from, to, span, lane: None, worn: None, on_post: false };
            self.with(person, duty, |s| {
                if donnings_fit(s.night, &s.duties[person]) { s.watch_donning(next + 1) } else { Some(()) }
            })?;
        }
        Some(())
    }

    /// Everyone is found: what is left are the limit on watching, breaks, showers and the check.
    fn finish(&mut self) {
        let mut taken = vec![];
        for person in self.people.all() {
            let duties = &self.duties[person];
            if !pauses_enough(self.night, duties) {
                return;
            }
            let Some(spans) = breaks::place(self.night, self.people, person, duties) else { return };
            taken.extend(spans.into_iter().map(|span| BreakTaken { person: PersonIx(person), span }));
        }
        let Some(showers) = showers::place(self.night, &self.duties, &taken) else { return };
        let rota = Rota { showers, ..self.rota(taken) };
        if is_clean(self.night, &rota) {
            // Everybody is named all night: in each minute the check counts those who can.
            let cost = Cost { rescue: measure(self.night, &rota).rescue_missing.0, ..self.cost() };
            if !no_better(cost, self.best.as_ref()) {
                self.best = Some((cost, rota));
            }
        }
    }

    fn everybody(&self) -> Vec<Stint> {
        let span = self.night.roster.shift;
        self.people.all().map(|person| Stint { person: PersonIx(person), span }).collect()
    }

    fn rota(&self, breaks: Vec<BreakTaken>) -> Rota {
        let mut rota = Rota {
            roster: self.night.roster.name.clone(),
            constraint_set: self.night.limits.name.clone(),
            issue: 1,
            breaks,
            tasks: values::tasks_done(self.night, &self.visits),
            entries: self.visits.iter().zip(&self.help).map(|(v, h)| entry(v, h)).collect(),
            posts: self.spells.iter().map(post).collect(),
            coordinators: self.everybody(),
            standby: self.everybody(),
            exit_observers: self.everybody(),
            exit_assistants: self.everybody(),
            showers: vec![],
        };
        rota.put_in_order();
        rota
    }
}

fn entry(visit: &Visit, help: &Help) -> Entry {
    Entry {
        number: 0,
        person: PersonIx(visit.person),
        room: RoomIx(visit.room),
        don: Minute(visit.don),
        door_in: Minute(visit.door_in),
        door_out: Minute(visit.door_out),
        removal: Minute(visit.removal),
        off: Minute(visit.off),
        lane: Some(LaneIx(visit.lane)),
        donning_observer: help.donning_observer.map(PersonIx),
        observer: help.observer.map(PersonIx),
        assistant: help.assistant.map(PersonIx),
        respirator: None,
    }
}

fn post(spell: &Spell) -> Post {
    Post {
        person: PersonIx(spell.person),
        role: spell.role,
        don: Minute(spell.don),
        removal: Minute(spell.removal),
        off: Minute(spell.off),
        lane: spell.lane.map(LaneIx),
        donning_observer: spell.donning_observer.map(PersonIx),
        observer: spell.observer.map(PersonIx),
        respirator: None,
    }
}

fn assisting(visit: &Visit, to: At, on_post: bool) -> Duty {
    let span = (visit.removal, visit.off);
    Duty { kind: Kind::Assist, from: visit.removal, to, span, lane: Some(visit.lane), worn: None, on_post }
}
