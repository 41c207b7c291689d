//! Who or what is short: the check is asked "what if this person did it?", so
//! that every reason given is a rule.

use super::pairs;
use crate::check::{Fault, review};
use crate::night::{
    Ensemble, Entry, LaneIx, Minute, Minutes, Night, PersonIx, Post, PostRole, Relief, Role, RoomIx, Rota, Rule, Span,
};

/// What nobody covers.
pub struct Need<'a> {
    /// Where.
    pub room: RoomIx,
    /// When.
    pub span: Span,
    /// How many more people.
    pub people: u32,
    /// The skill they need, if any.
    pub skill: Option<&'a str>,
}

/// Of somebody who would be the one to go in.
const GOING_IN: &str = "would be the one to go in";

/// At most so many names are given before "and n more".
const NAMES: usize = 4;

/// What is short.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Short {
    /// People to do one duty.
    Role(Role),
    /// A lane.
    Lane,
    /// Nothing alone: rests, helpers and lanes do not fit together.
    Together,
}

impl Short {
    /// In words that name nobody.
    pub const fn posted(self) -> &'static str {
        match self {
            Self::Role(Role::Entrant | Role::SupervisedEntrant) => "too few entrants",
            Self::Role(Role::Preceptor) => "too few preceptors",
            Self::Role(Role::DoffingObserver) => "no doffing observer",
            Self::Role(Role::DonningObserver) => "no donning observer",
            Self::Role(Role::Assistant) => "no doffing assistant",
            Self::Role(Role::Coordinator) => "no coordinator",
            Self::Lane => "no lane free",
            Self::Together => "people, rests, helpers, lanes and stock do not fit together then",
        }
    }
}

/// What is short, in one plain sentence or two.
pub fn why(night: &Night, rota: &Rota, need: &Need<'_>) -> (Short, String) {
    let trial = Trial { night, rota, before: review(night, rota).faults };
    let needed = usize::try_from(need.people.max(1)).unwrap_or(usize::MAX);
    let together = usize::try_from(night.limits.min_inside).unwrap_or(needed);
    let entrants = trial.asked(Role::Entrant, |person| trial.entry(need, person));
    // Where the unit asks for pairs, nobody goes in to others alone either (D8).
    let pair = usize::try_from(night.limits.relief.together()).unwrap_or(1);
    let least = needed.max(pair).max(if anyone_inside(rota, need) { 0 } else { together });
    if entrants.free.len() < least {
        return (
            Short::Role(Role::Entrant),
            entrants.sentence(night, "may go in") + &pairs::few_partners(night, need.span),
        );
    }
    if let Some(unminded) = pairs::unminded(night, rota, need, &entrants.free, least) {
        return (Short::Role(Role::Preceptor), unminded + &pairs::few_partners(night, need.span));
    }
    if let Some(short) = trial.shelf_runs_out(need, &entrants.free, least) {
        return (Short::Together, short);
    }
    let out = trial.way_out(need, entrants.free[0]);
    let observers = trial.asked(Role::DoffingObserver, |person| trial.watched(&out, person));
    if observers.free.is_empty() {
        return (Short::Role(Role::DoffingObserver), observers.sentence(night, "can watch removals"));
    }
    if out.kit_needs_assistant {
        let assistants = trial.asked(Role::Assistant, |person| trial.assisted(&out, person));
        if assistants.free.is_empty() {
            return (Short::Role(Role::Assistant), assistants.sentence(night, "can assist removals"));
        }
    }
    let donning = trial.asked(Role::DonningObserver, |person| trial.donning_watched(&out, person));
    if donning.free.is_empty() {
        return (Short::Role(Role::DonningObserver), donning.sentence(night, "can watch donnings"));
    }
    if !trial.a_lane_is_free(&out) {
        return (Short::Lane, "No lane is free for the removals that would follow.".to_owned());
    }
    let words = "People are free one by one, but their rests, helpers and lanes do not fit together then.";
    (Short::Together, words.to_owned() + relief_words(night) + &pairs::few_partners(night, need.span))
}

/// Why one person does not go in where a pin wants them: the rule that they would break as the rota stands, or that
/// others are missing around them.
pub fn why_not(night: &Night, rota: &Rota, need: &Need<'_>, person: PersonIx) -> String {
    let trial = Trial { night, rota, before: review(night, rota).faults };
    let id = &night.roster.person(person).id;
    match trial.entry(need, person).map(|rota| trial.first_fault(&rota, person)) {
        Err(words) => format!("{id}: {words}."),
        Ok(Some(rule)) => format!("Rule {}: {id} is {} then, as the rota stands.", rule.id(), reason(rule)),
        Ok(None) => why(night, rota, need).1,
    }
}

/// What the unit's relief style asks of those who would fit in one by one.
const fn relief_words(night: &Night) -> &'static str {
    match night.limits.relief {
        Relief::InPairs => " The unit asks for relief in pairs: nobody passes the door alone.",
        Relief::OneByOne => " The unit asks for relief one by one: no two pass the door together while others stay.",
        Relief::Either => "",
    }
}

fn anyone_inside(rota: &Rota, need: &Need<'_>) -> bool {
    rota.entries.iter().any(|e| e.room == need.room && Span::new(e.door_in, e.door_out).overlaps(need.span))
}

/// Who could do a duty and why the others could not.
struct Asked {
    free: Vec<PersonIx>,
    not: Vec<(PersonIx, String)>,
    nobody_signed_off: bool,
}

impl Asked {
    fn sentence(&self, night: &Night, does: &str) -> String {
        if self.nobody_signed_off {
            return format!("Nobody on the roster {does}.");
        }
        let id = |person: &PersonIx| night.roster.person(*person).id.clone();
        let mut words = match &self.free[..] {
            [] => format!("Nobody free {does}."),
            free => format!("Only {} {does} then.", free.iter().map(id).collect::<Vec<_>>().join(", ")),
        };
        let reasons = self.not.iter().take(NAMES);
        let reasons: Vec<String> = reasons.map(|(p, reason)| format!("{} ({reason})", id(p))).collect();
        if !reasons.is_empty() {
            words.push_str(" Not: ");
            words.push_str(&reasons.join(", "));
            match self.not.len().saturating_sub(NAMES) {
                0 => words.push('.'),
                more => words.push_str(&[" and ", &more.to_string(), " more."].concat()),
            }
        }
        words
    }
}

/// Why a rule keeps somebody from a duty, in a few words; never a personal limit.
fn reason(rule: Rule) -> &'static str {
    match rule {
        Rule::A1 => "not in date",
        Rule::A9 => "not done lately",
        Rule::A2 => "respirator, kit or size",
        Rule::A3 => "off duty",
        Rule::A4 => "not today",
        Rule::A7 | Rule::C1 | Rule::C3 | Rule::C6 | Rule::C10 => "on another duty",
        Rule::B2 => "wear too long",
        Rule::B10 => "wear too long in low hours",
        Rule::B4 => "at rest",
        Rule::B5 => "in recovery or rest",
        Rule::B6 => "wear of the shift used up",
        Rule::B7 => "wear of the days before",
        Rule::B8 => "entries of the shift used up",
        Rule::C11 => "watching too long",
        Rule::F2 => "in the shower",
        Rule::F3 => "on break",
        Rule::F4 => "gap since last shift",
        Rule::F8 => "too many nights or hours",
        Rule::G1 => "no kit left",
        Rule::G2 => "no respirator ready",
        Rule::H6 => "forbidden tonight",
        Rule::C8 => "free for an early exit",
        Rule::E1 => "standing by",
        Rule::F7 => "coordinating",
        Rule::F1 => "in the huddle",
        Rule::A5
        | Rule::A6
        | Rule::A8
        | Rule::B1
        | Rule::B3
        | Rule::B9
        | Rule::C2
        | Rule::C4
        | Rule::C5
        | Rule::C7
        | Rule::C9
        | Rule::D1
        | Rule::D2
        | Rule::D3
        | Rule::D4
        | Rule::D5
        | Rule::D6
        | Rule::D8 => "not available then",
    }
}

/// The way out of one more entry.
struct WayOut {
    entry: Entry,
    kit_needs_assistant: bool,
}

struct Trial<'a> {
    night: &'a Night,
    rota: &'a Rota,
    /// Faults that are there without anybody's help.
    before: Vec<Fault>,
}

impl Trial<'_> {
    /// Asks the check about everybody signed off for a role.
    fn asked(&self, role: Role, with: impl Fn(PersonIx) -> Result<Rota, &'static str>) -> Asked {
        let mut answer = Asked { free: vec![], not: vec![], nobody_signed_off: true };
        for person in self.night.roster.person_indices() {
            let role = if role == Role::Entrant { self.night.enters_as(person) } else { role };
            if self.night.roster.person(person).signed_through(role).is_none() {
                continue;
            }
            answer.nobody_signed_off = false;
            match with(person).map(|rota| self.first_fault(&rota, person)) {
                Ok(None) => answer.free.push(person),
                Ok(Some(broken)) => answer.not.push((person, format!("{} {}", broken.id(), reason(broken)))),
                Err(words) => answer.not.push((person, words.to_owned())),
            }
        }
        answer
    }

    /// The first rule that the person themselves would break.
    fn first_fault(&self, rota: &Rota, person: PersonIx) -> Option<Rule> {
        let faults = review(self.night, rota).faults;
        let new = faults.iter().filter(|fault| fault.people.contains(&person) && !self.before.contains(fault));
        new.map(|fault| fault.rule).find(|&rule| concerns_person(rule))
    }

    fn kit(&self, person: PersonIx) -> Option<&Ensemble> {
        self.night.room_ensemble(person).map(|e| self.night.limits.ensemble(e))
    }

    /// The shortest useful entry of a person at the start of the need.
    fn one_entry(&self, need: &Need<'_>, person: PersonIx) -> Result<Entry, &'static str> {
        if !need.skill.is_none_or(|s| self.night.roster.person(person).skills.iter().any(|own| own == s)) {
            return Err("not the skill");
        }
        let kit = self.kit(person).ok_or("A2 no kit for the room")?;
        let respirator = self.night.first_respirator(person, self.night.room_ensemble(person));
        let charge = respirator.as_ref().and_then(|model| self.night.limits.respirator(model)?.longest_run());
        let wear = (kit.max_wear - kit.margin).min(charge.unwrap_or(kit.max_wear));
        let longest = wear - kit.sealed - kit.removal;
        let stay = need.span.length().min(longest).max(self.night.limits.min_stay).max(Minutes(1));
        let door_out = need.span.from + stay;
        Ok(Entry {
            number: 0,
            person,
            room: need.room,
            don: need.span.from - kit.donning,
            door_in: need.span.from,
            door_out,
            removal: door_out,
            off: door_out + kit.removal,
            lane: None,
            donning_observer: None,
            observer: None,
            assistant: None,
            respirator,
        })
    }

    fn entry(&self, need: &Need<'_>, person: PersonIx) -> Result<Rota, &'static str> {
        let entry = self.one_entry(need, person)?;
        Ok(self.and(|rota| rota.entries.push(entry)))
    }

    /// Each of them may go in, and not so many of them at once: what runs out, where that is on the shelf.
    fn shelf_runs_out(&self, need: &Need<'_>, free: &[PersonIx], people: usize) -> Option<String> {
        let mut said = None;
        for some in free.windows(people).filter(|some| some.len() > 1).take(NAMES) {
            let entries: Vec<Entry> =
                some.iter().map(|&person| self.one_entry(need, person)).collect::<Result<_, _>>().ok()?;
            let faults = review(self.night, &self.and(|rota| rota.entries.extend(entries))).faults;
            let on_shelf = |fault: &&Fault| matches!(fault.rule, Rule::G1 | Rule::G2) && !self.before.contains(fault);
            said = Some(faults.iter().find(on_shelf)?.what.clone());
        }
        said
    }

    fn and(&self, change: impl FnOnce(&mut Rota)) -> Rota {
        let mut rota = self.rota.clone();
        change(&mut rota);
        rota
    }

    fn way_out(&self, need: &Need<'_>, person: PersonIx) -> WayOut {
        let entry = self.one_entry(need, person).expect("the check has just accepted this entry");
        let kit_needs_assistant = self.kit(person).is_some_and(|kit| kit.assistant);
        WayOut { entry, kit_needs_assistant }
    }

    fn watched(&self, out: &WayOut, person: PersonIx) -> Result<Rota, &'static str> {
        if person == out.entry.person {
            return Err(GOING_IN);
        }
        let kit = self.night.post_ensemble(PostRole::Observer);
        let post = kit.map(|_| self.post(PostRole::Observer, out.entry.removal, out.entry.off, person));
        Ok(self.and(|rota| {
            rota.posts.extend(post);
            rota.entries.push(Entry { observer: Some(person), ..out.entry.clone() });
        }))
    }

    fn donning_watched(&self, out: &WayOut, person: PersonIx) -> Result<Rota, &'static str> {
        if person == out.entry.person {
            return Err(GOING_IN);
        }
        Ok(self.and(|rota| rota.entries.push(Entry { donning_observer: Some(person), ..out.entry.clone() })))
    }

    fn assisted(&self, out: &WayOut, person: PersonIx) -> Result<Rota, &'static str> {
        if person == out.entry.person {
            return Err(GOING_IN);
        }
        let kit = self.night.post_ensemble(PostRole::Assistant).ok_or("no assistant kit")?;
        self.night.roster.person(person).size_in(kit).ok_or("A2 no kit for the doffing area")?;
        let post = self.post(PostRole::Assistant, out.entry.removal, out.entry.off, person);
        Ok(self.and(|rota| {
            rota.posts.push(post);
            rota.entries.push(Entry { assistant: Some(person), ..out.entry.clone() });
        }))
    }

    fn post(&self, role: PostRole, from: Minute, to: Minute, person: PersonIx) -> Post {
        let kit = self.night.post_ensemble(role).map(|e| self.night.limits.ensemble(e));
        let (donning, removal) = kit.map_or((Minutes::ZERO, Minutes::ZERO), |k| (k.donning, k.removal));
        let limits = &self.night.limits;
        let (ready, reset) = match role {
            PostRole::Observer => (limits.observer_ready, limits.observer_reset),
            PostRole::Assistant => (Minutes::ZERO, Minutes::ZERO),
        };
        let own = to + reset;
        Post {
            person,
            role,
            don: from - ready - donning,
            removal: own,
            off: own + removal,
            lane: None,
            donning_observer: None,
            observer: None,
            respirator: self.night.first_respirator(person, self.night.post_ensemble(role)),
        }
    }

    fn a_lane_is_free(&self, out: &WayOut) -> bool {
        (0..self.night.roster.lanes.len()).any(|lane| {
            let entry = Entry { lane: Some(LaneIx(lane)), ..out.entry.clone() };
            let faults = review(self.night, &self.and(|rota| rota.entries.push(entry))).faults;
            let new = faults.iter().filter(|f| f.rule == Rule::C9 && !self.before.contains(f));
            new.count() == 0
        })
    }
}

/// Whether a rule is about the person asked and not about who is still missing around them.
fn concerns_person(rule: Rule) -> bool {
    match rule {
        Rule::A1
        | Rule::A2
        | Rule::A3
        | Rule::A4
        | Rule::A6
        | Rule::A7
        | Rule::A8
        | Rule::A9
        | Rule::B2
        | Rule::B4
        | Rule::B5
        | Rule::B6
        | Rule::B7
        | Rule::B8
        | Rule::B10
        | Rule::C10
        | Rule::C11
        | Rule::F1
        | Rule::F4
        | Rule::F8
        | Rule::G1
        | Rule::G2
        | Rule::H6 => true,
        // A preceptor may go in too; somebody else may coordinate or stand by.
        Rule::A5
        | Rule::C8
        | Rule::E1
        | Rule::F7
        | Rule::B1
        | Rule::B3
        | Rule::B9
        | Rule::C1
        | Rule::C2
        | Rule::C3
        | Rule::C4
        | Rule::C5
        | Rule::C6
        | Rule::C7
        | Rule::C9
        | Rule::D1
        | Rule::D2
        | Rule::D3
        | Rule::D4
        | Rule::D5
        | Rule::D6
        | Rule::D8
        // A shower and a break can be moved.
        | Rule::F2
        | Rule::F3 => false,
    }
}
