//! Everybody's duties in order of time.

use std::collections::BTreeMap;

use super::entries::passed;
use crate::night::{EnsembleIx, Entry, Minute, Minutes, PersonIx, Post, PostRole, Span};
use crate::show::View;
use crate::show::duties::{Doing, Stretch, donning_of_post, stretches};
use crate::show::text::{hanging, heading, padded, paragraph};
use crate::show::view::NONE;

/// A block to a person: what they may do, then every duty.
#[must_use]
pub fn people(view: &View<'_>) -> String {
    let roster = &view.night.roster;
    if roster.people.is_empty() {
        return heading("PEOPLE") + &paragraph("NONE: nobody is on this roster.");
    }
    let helping = helping(view);
    let block = |ix| person(view, ix, helping.get(&ix).map_or(&[], Vec::as_slice));
    heading("PEOPLE") + &roster.person_indices().map(block).collect::<Vec<_>>().join("\n")
}

/// A line of someone's night: when it starts, and the text.
type Line = (Minute, String);

fn person(view: &View<'_>, ix: PersonIx, helping: &[Stretch]) -> String {
    let mut lines: Vec<Line> = helping.iter().map(|s| (s.span.from, stretch(view, s))).collect();
    let entries = view.rota.entries.iter().enumerate().filter(|(_, e)| e.person == ix);
    lines.extend(entries.map(|(place, e)| (e.don, entry(view, place, e))));
    let posts = view.rota.posts.iter().filter(|p| p.person == ix);
    lines.extend(posts.map(|p| (p.don, post(view, p))));
    lines.sort();
    title(view, ix) + &listed(view, &lines)
}

fn listed(view: &View<'_>, lines: &[Line]) -> String {
    if lines.is_empty() {
        return paragraph("NONE: no duty tonight");
    }
    let mut out = String::new();
    let mut last = None;
    for (at, text) in lines {
        let mark = passed(view, last, *at);
        out += mark.trim_start_matches('\n').trim_end_matches('\n');
        out += if mark.trim().is_empty() { "" } else { "\n" };
        out += text;
        last = Some(*at);
    }
    out
}

fn title(view: &View<'_>, ix: PersonIx) -> String {
    let duty = view.night.roster.person(ix).on_duty;
    let may = view.explained.eligibility.iter().find(|(who, _)| *who == ix);
    let may = may.map_or_else(String::new, |(_, words)| format!("; {words}"));
    hanging(&format!("{}  ", padded(&view.person(ix), 3)), &format!("on duty {}{may}", view.wall().span(duty)))
}

/// Watching, assisting, coordinating, standing by, breaks and showers, by person. Own kits are told entry by entry and post by post.
fn helping(view: &View<'_>) -> BTreeMap<PersonIx, Vec<Stretch>> {
    let mut by_person: BTreeMap<_, Vec<_>> = BTreeMap::new();
    for s in stretches(view.night, view.rota) {
        let shown = [
            Doing::Assisting,
            Doing::WatchingDonning,
            Doing::WatchingRemoval,
            Doing::Coordinating,
            Doing::StandingBy,
            Doing::WouldWatchExit,
            Doing::WouldAssistExit,
            Doing::Break,
            Doing::Shower,
        ];
        if shown.contains(&s.doing) {
            add(by_person.entry(s.person).or_default(), s);
        }
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

fn line(view: &View<'_>, span: Span, text: &str) -> String {
    hanging(&format!("  {}  ", view.wall().span(span)), text)
}

fn stretch(view: &View<'_>, s: &Stretch) -> String {
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
        | Doing::PostObserver => String::new(),
    };
    line(view, s.span, &text)
}

/// When an observer is to be at the lane, for the removal of an entrant.
fn ready(view: &View<'_>, s: &Stretch) -> String {
    let ready = view.night.limits.observer_ready;
    if s.entry.is_none() || ready == Minutes::ZERO {
        return String::new();
    }
    format!("; be there {}", view.wall().time(s.span.from - ready))
}

fn entry(view: &View<'_>, place: usize, e: &Entry) -> String {
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
    line(view, Span::new(e.don, e.off), &text) + &then(view, e.person, view.night.room_ensemble(e.person), e.off)
}

fn post(view: &View<'_>, p: &Post) -> String {
    let wall = view.wall();
    let role = match p.role {
        PostRole::Assistant => "assistant",
        PostRole::Observer => "observer",
    };
    let lane = p.lane.map_or_else(String::new, |lane| format!(", lane {}", view.lane(Some(lane))));
    let text = format!(
        "ON POST as {role} from {}; own removal {}{lane}, watched by {}",
        wall.time(donning_of_post(view.night, p).to),
        wall.time(p.removal),
        view.person_or_none(p.observer),
    );
    line(view, Span::new(p.don, p.off), &text) + &then(view, p.person, view.night.post_ensemble(p.role), p.off)
}

/// What the person may do again, and when, after the last item is off.
fn then(view: &View<'_>, person: PersonIx, worn: Option<EnsembleIx>, off: Minute) -> String {
    let Some(worn) = worn else { return String::new() };
    let duty = off + view.night.limits.ensemble(worn).recovery;
    let text = format!("No duty until {}. {}", view.wall().time(duty), no_kit(view, person, worn, off));
    hanging("               ", &text)
}

/// The first minute at which each kit may be put on again.
fn no_kit(view: &View<'_>, person: PersonIx, worn: EnsembleIx, off: Minute) -> String {
    let limits = &view.night.limits;
    let kits: Vec<_> = view.night.roster.person(person).kits.iter().map(|k| k.ensemble).collect();
    let until = |next: EnsembleIx| view.wall().time(off + rest(view, person, worn, next).up_to_grid(limits.grid));
    let Some((&first, others)) = kits.split_first() else {
        return String::new();
    };
    // The form follows the unit's figures alone, so that it gives nobody away.
    if others.iter().all(|&next| limits.rest_between(worn, next) == limits.rest_between(worn, first)) {
        return format!("No PPE until {}.", until(first));
    }
    let each = |&kit: &EnsembleIx| format!("No {} until {}.", limits.ensemble(kit).id, until(kit));
    kits.iter().map(each).collect::<Vec<_>>().join(" ")
}

/// Whichever is longest counts. What follows from a personal limit shows only as
/// a time, as it must: a shorter one would send somebody in too early.
fn rest(view: &View<'_>, person: PersonIx, worn: EnsembleIx, next: EnsembleIx) -> Minutes {
    let limits = &view.night.limits;
    let own = view.night.roster.person(person).own.rest.unwrap_or(Minutes::ZERO);
    limits.rest_between(worn, next).max(limits.ensemble(worn).recovery).max(own)
}
