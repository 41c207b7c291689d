//! One person's night in words: the same on the screen, on the card and in the calendar.

use std::collections::BTreeMap;

use super::duties::{Doing, Stretch, stretches};
use super::view::NONE;
use super::{View, after};
use crate::night::{EnsembleIx, Entry, Minute, Minutes, PersonIx, Post, PostRole, Span};

/// What a line of somebody's night is about.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum About {
    /// An entry, by its place in the rota.
    Entry(usize),
    /// A spell on post, by its place in the rota.
    Post(usize),
    /// Anything else.
    Duty(Doing),
}

/// One line of somebody's night.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mine {
    /// When.
    pub span: Span,
    /// What it is about.
    pub about: About,
    /// In words.
    pub text: String,
    /// What they may do again and when, after a kit.
    pub after: Option<String>,
}

/// Everybody's lines in order of time. People without a duty are not in it.
#[must_use]
pub fn everybody(view: &View<'_>) -> BTreeMap<PersonIx, Vec<Mine>> {
    let mut all: BTreeMap<PersonIx, Vec<Mine>> = BTreeMap::new();
    for (ix, helping) in helping(view) {
        all.entry(ix).or_default().extend(helping.iter().filter_map(|s| stretch(view, s)));
    }
    for (place, e) in view.rota.entries.iter().enumerate() {
        all.entry(e.person).or_default().push(entry(view, place, e));
    }
    for (place, p) in view.rota.posts.iter().enumerate() {
        all.entry(p.person).or_default().push(post(view, place, p));
    }
    for lines in all.values_mut() {
        lines.sort_by_cached_key(|line| (line.span.from, view.wall().span(line.span), line.text.clone()));
    }
    all
}

/// Stretches by person, in order of time.
fn helping(view: &View<'_>) -> BTreeMap<PersonIx, Vec<Stretch>> {
    let mut by_person: BTreeMap<_, Vec<_>> = BTreeMap::new();
    for s in stretches(view.night, view.rota) {
        add(by_person.entry(s.person).or_default(), s);
    }
    by_person
}

/// Two donnings watched at once are one line.
fn add(mine: &mut Vec<Stretch>, next: Stretch) {
    match mine.last_mut() {
        Some(last) if (last.doing, last.span, last.lane) == (next.doing, next.span, next.lane) => {
            last.with.extend(next.with);
        }
        _ => mine.push(next),
    }
}

/// Watching, assisting, coordinating, standing by, breaks and showers. Own kits are told entry by entry and post by post.
fn stretch(view: &View<'_>, s: &Stretch) -> Option<Mine> {
    let (whom, lane) = (view.people(&s.with), view.lane(s.lane));
    let text = match s.doing {
        Doing::Assisting => format!("assists removal of {whom}, lane {lane}"),
        Doing::WatchingDonning => format!("watches donning of {whom}"),
        Doing::WatchingRemoval if s.lane.is_none() => format!("watches removal of {whom}{}", ready(view, s)),
        Doing::WatchingRemoval => format!("watches removal of {whom}, lane {lane}{}", ready(view, s)),
        Doing::Coordinating => "COORDINATES".to_owned(),
        Doing::StandingBy => "STANDS BY: free, rested, kit laid out".to_owned(),
        Doing::WouldWatchExit => "EARLY EXIT: free to watch it".to_owned(),
        Doing::WouldAssistExit => "EARLY EXIT: free to assist it".to_owned(),
        Doing::Break => "BREAK".to_owned(),
        Doing::Shower => "SHOWER".to_owned(),
        Doing::Donning
        | Doing::AtDoor
        | Doing::InRoom
        | Doing::WaitingForLane
        | Doing::Removal
        | Doing::PostAssistant
        | Doing::PostObserver => return None,
    };
    Some(Mine { span: s.span, about: About::Duty(s.doing), text, after: None })
}

/// When an observer is to be at the lane, for the removal of an entrant.
fn ready(view: &View<'_>, s: &Stretch) -> String {
    let ready = view.night.limits.observer_ready;
    if s.entry.is_none() || ready == Minutes::ZERO {
        return String::new();
    }
    format!("; be there {}", view.wall().time(s.span.from - ready))
}

fn entry(view: &View<'_>, place: usize, e: &Entry) -> Mine {
    let wall = view.wall();
    let out_by = view.out_by(place).map_or_else(|| NONE.to_owned(), |at| wall.time(at));
    let text = format!(
        "ENTRY {}, room {}: in {}, out {}, OUT-BY {out_by}; removal {}, lane {}",
        e.number,
        view.room(e.room),
        wall.time(e.door_in),
        wall.time(e.door_out),
        wall.time(e.removal),
        view.lane(e.lane),
    );
    let after = then(view, e.person, view.night.room_ensemble(e.person), e.off);
    Mine { span: Span::new(e.don, e.off), about: About::Entry(place), text, after }
}

fn post(view: &View<'_>, place: usize, p: &Post) -> Mine {
    let wall = view.wall();
    let role = match p.role {
        PostRole::Assistant => "assistant",
        PostRole::Observer => "observer",
    };
    let lane = p.lane.map_or_else(String::new, |lane| format!(", lane {}", view.lane(Some(lane))));
    let text = format!(
        "ON POST as {role} from {}; own removal {}{lane}, watched by {}",
        wall.time(view.night.donning_of_post(p).to),
        wall.time(p.removal),
        view.person_or_none(p.observer),
    );
    let after = then(view, p.person, view.night.post_ensemble(p.role), p.off);
    Mine { span: Span::new(p.don, p.off), about: About::Post(place), text, after }
}

/// What the person may do again, and when, after the last item is off.
fn then(view: &View<'_>, person: PersonIx, worn: Option<EnsembleIx>, off: Minute) -> Option<String> {
    let worn = worn?;
    Some(format!("{} {}", after::no_duty(view, worn, off), after::no_kit(view, person, worn, off)))
}
