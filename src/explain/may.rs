//! What each person may do tonight, and the plain rule where not.

use crate::check::review;
use crate::night::{Entry, LaneIx, Minute, Minutes, Night, PersonIx, Post, PostRole, Role, RoomIx, Rota, Rule, WornIn};

/// `may enter, watch donnings; not assist (A2 fit test, kit and size)`.
pub fn may(night: &Night, person: PersonIx) -> String {
    let mut can = Vec::new();
    let mut cannot = Vec::new();
    let other = [Role::Entrant, Role::SupervisedEntrant].into_iter().find(|&r| r != night.enters_as(person));
    for role in Role::ALL.into_iter().filter(|&role| Some(role) != other) {
        let verb = match role {
            Role::Entrant => "enter",
            Role::DonningObserver => "watch donnings",
            Role::DoffingObserver => "watch removals",
            Role::Assistant => "assist",
            Role::SupervisedEntrant => "enter beside a preceptor",
            Role::Preceptor => "be preceptor",
            Role::Coordinator => "coordinate",
        };
        match against(night, person, role) {
            None => can.push(verb.to_owned()),
            Some(Against::NotSignedOff) => {}
            Some(Against::Breaks(rule)) => cannot.push(format!("{verb} ({} {})", rule.id(), rule.words())),
        }
    }
    let can = if can.is_empty() { "may do no duty".to_owned() } else { format!("may {}", can.join(", ")) };
    if cannot.is_empty() { can } else { format!("{can}; not {}", cannot.join(", ")) }
}

/// What stands against a person in a role.
enum Against {
    NotSignedOff,
    Breaks(Rule),
}

/// The rules that are about a person before anything is planned.
const ASKED: [Rule; 8] = [Rule::A1, Rule::A2, Rule::A3, Rule::A4, Rule::A9, Rule::F4, Rule::F8, Rule::G1];

/// Asks the check about a first duty of the night, with nothing else planned.
fn against(night: &Night, person: PersonIx, role: Role) -> Option<Against> {
    if night.roster.person(person).signed_through(role).is_none() {
        return Some(Against::NotSignedOff);
    }
    let Some(rota) = alone(night, person, role) else { return Some(Against::Breaks(Rule::A2)) };
    if role == Role::SupervisedEntrant && night.preceptors_for(person).is_empty() {
        return Some(Against::Breaks(Rule::A5));
    }
    if let Some(rule) = rota.entries.iter().find_map(|e| lapsed_by(night, person, role, e.off)) {
        return Some(Against::Breaks(rule));
    }
    let faults = review(night, &rota).faults;
    let own = faults.iter().filter(|f| f.people.contains(&person)).map(|f| f.rule);
    own.filter(|rule| ASKED.contains(rule)).min().map(Against::Breaks)
}

/// Which date of a preceptor is over by the end of an entry; of other roles the check is asked.
fn lapsed_by(night: &Night, person: PersonIx, role: Role, end: Minute) -> Option<Rule> {
    let who = Some(night.roster.person(person)).filter(|_| role == Role::Preceptor)?;
    if who.signed_through(role).is_none_or(|day| end > night.roster.end_of_day(day)) {
        return Some(Rule::A1);
    }
    night.good_until(who, role).is_none_or(|until| end > until).then_some(Rule::A9)
}

fn alone(night: &Night, person: PersonIx, role: Role) -> Option<Rota> {
    let from = first_minute(night, person);
    let mut rota = Rota::default();
    let other = night.roster.person_indices().find(|&p| p != person)?;
    match role {
        Role::Entrant | Role::SupervisedEntrant | Role::Preceptor => rota.entries.push(entry(night, person, from)?),
        // To lead from the clean side nothing but the sign-off is asked.
        Role::Coordinator => {}
        Role::DonningObserver => {
            let watched = Entry { donning_observer: Some(person), ..some_entry(night, other, from)? };
            rota.entries.push(watched);
        }
        Role::DoffingObserver => {
            let mut watched = some_entry(night, other, from - Minutes(12 * 60))?;
            let length = watched.off - watched.removal;
            watched.removal = from + night.limits.observer_ready;
            watched.off = watched.removal + length;
            rota.entries.push(Entry { observer: Some(person), ..watched });
        }
        Role::Assistant => {
            let kit = night.post_ensemble(PostRole::Assistant)?;
            night.roster.person(person).size_in(kit)?;
            let kit = night.limits.ensemble(kit);
            let removal = from + kit.donning;
            let post = Post {
                person,
                role: PostRole::Assistant,
                don: from,
                removal,
                off: removal + kit.removal,
                lane: None,
                donning_observer: None,
                observer: None,
                respirator: night.first_respirator(person, night.post_ensemble(PostRole::Assistant)),
            };
            rota.posts.push(post);
        }
    }
    Some(rota)
}

fn first_minute(night: &Night, person: PersonIx) -> Minute {
    let person = night.roster.person(person);
    let on = person.on_duty.from.max(night.roster.shift.from);
    let gap = person.last_off_duty.map_or(on, |off| off + night.limits.shift_gap);
    // A gap that ends during the shift only makes the first duty later.
    if gap < person.on_duty.to { on.max(gap) } else { on }
}

fn entry(night: &Night, person: PersonIx, from: Minute) -> Option<Entry> {
    night.room_ensemble(person)?;
    some_entry(night, person, from)
}

/// The shortest entry of a person, or one as short as theirs would be.
fn some_entry(night: &Night, person: PersonIx, from: Minute) -> Option<Entry> {
    let mut kits = night.limits.ensembles.iter().filter(|e| e.worn_in == WornIn::Room);
    let kit = night.room_ensemble(person).map(|e| night.limits.ensemble(e)).or_else(|| kits.next())?;
    let door_in = from + kit.donning;
    let door_out = door_in + night.limits.min_stay;
    Some(Entry {
        number: 0,
        person,
        room: RoomIx(0),
        don: from,
        door_in,
        door_out,
        removal: door_out,
        off: door_out + kit.removal,
        lane: (!night.roster.lanes.is_empty()).then_some(LaneIx(0)),
        donning_observer: None,
        observer: None,
        assistant: None,
        respirator: night.first_respirator(person, night.room_ensemble(person)),
    })
}
