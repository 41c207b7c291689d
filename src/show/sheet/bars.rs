//! What the timeline draws: a row to each person, room and lane, with bars in the order in which they are drawn.

use super::frame::cut;
use super::svg::Fill;
use crate::night::{EnsembleIx, Minute, PersonIx, Span};
use crate::show::View;
use crate::show::duties::{Doing, Stretch, stretches};
use crate::show::text::plain;

/// A row: its name and its bars.
pub struct Row {
    pub name: String,
    pub bars: Bars,
}

/// Stretches with their fill, word and letter.
pub type Bars = Vec<(Span, Fill, String, String)>;

/// A row to a person, then to rooms and lanes.
pub fn rows(view: &View<'_>) -> Vec<Row> {
    let all = stretches(view.night, view.rota);
    let mut rows: Vec<Row> = view.night.roster.person_indices().map(|ix| person(view, ix, &all)).collect();
    for (ix, _) in view.night.roster.rooms.iter().enumerate() {
        rows.extend(room(view, ix, &all));
    }
    rows.extend((0..view.night.roster.lanes.len()).map(|ix| lane(view, ix, &all)));
    rows
}

fn person(view: &View<'_>, ix: PersonIx, all: &[Stretch]) -> Row {
    let first = all.partition_point(|s| s.person < ix);
    let mine = all[first..].iter().take_while(|s| s.person == ix);
    let mut bars = rests(view, ix);
    bars.extend(mine.map(|s| {
        let (fill, word, letter) = look(s.doing);
        let word = s.room.map_or_else(|| word.to_owned(), |room| format!("{word} {}", view.room(room)));
        (s.span, fill, word, letter.to_owned())
    }));
    // What is drawn later hides what is drawn before.
    bars.sort_by_key(|(span, fill, ..)| (depth(*fill), *span));
    Row { name: view.person(ix), bars: in_view(bars) }
}

/// Rest and time on post are drawn where nothing lies on them, so that their words can be read.
fn in_view(bars: Bars) -> Bars {
    let above: Vec<(u8, Span)> = bars.iter().map(|(span, fill, ..)| (depth(*fill), *span)).collect();
    let seen = |(span, fill, word, letter): (Span, Fill, String, String)| {
        let covered = above.iter().filter(|(over, _)| *over > depth(fill) && matches!(fill, Fill::Rest | Fill::Low));
        let mut pieces = vec![span];
        for (_, cover) in covered {
            pieces = pieces.into_iter().flat_map(|piece| without(piece, *cover)).collect();
        }
        pieces.into_iter().map(|piece| (piece, fill, word.clone(), letter.clone())).collect::<Vec<_>>()
    };
    bars.into_iter().flat_map(seen).collect()
}

/// What is left of a stretch beside another.
fn without(piece: Span, cover: Span) -> Vec<Span> {
    let (before, after) =
        (Span::new(piece.from, piece.to.min(cover.from)), Span::new(piece.from.max(cover.to), piece.to));
    [before, after].into_iter().filter(|span| !span.is_empty()).collect()
}

/// Rest by the unit's own figures: a personal one could be read off the wall (J5).
fn rests(view: &View<'_>, ix: PersonIx) -> Bars {
    let limits = &view.night.limits;
    let rest = |worn: EnsembleIx| limits.full_rest(worn);
    let entries = view.rota.entries.iter().filter(|e| e.person == ix);
    let entries = entries.filter_map(|e| Some((e.off, view.night.room_ensemble(e.person)?)));
    let posts = view.rota.posts.iter().filter(|p| p.person == ix);
    let posts = posts.filter_map(|p| Some((p.off, view.night.post_ensemble(p.role)?)));
    let bar = |(off, worn)| (Span::new(off, off + rest(worn)), Fill::Rest, "REST".to_owned(), "r".to_owned());
    entries.chain(posts).map(bar).filter(|(span, ..)| !span.is_empty()).collect()
}

const fn depth(fill: Fill) -> u8 {
    match fill {
        Fill::Rest => 0,
        Fill::Line | Fill::Dashed | Fill::DashDot => 1,
        Fill::Low => 2,
        _ => 3,
    }
}

/// How each thing looks: its fill, its word, its letter.
pub const fn look(doing: Doing) -> (Fill, &'static str, &'static str) {
    match doing {
        Doing::Donning => (Fill::Outline, "DONNING", "D"),
        Doing::AtDoor => (Fill::Level, "AT DOOR", "H"),
        Doing::InRoom => (Fill::Solid, "ROOM", "R"),
        Doing::WaitingForLane => (Fill::Upright, "LANE WAIT", "W"),
        Doing::Removal => (Fill::Slanted, "DOFFING", "X"),
        Doing::PostAssistant | Doing::PostObserver => (Fill::Low, "ON POST", "P"),
        Doing::Assisting => (Fill::Crossed, "ASSIST", "A"),
        Doing::WatchingDonning | Doing::WatchingRemoval => (Fill::Heavy, "WATCH", "O"),
        Doing::Coordinating => (Fill::Line, "IN CHARGE", "C"),
        Doing::StandingBy => (Fill::Dashed, "STANDBY", "S"),
        Doing::WouldWatchExit | Doing::WouldAssistExit => (Fill::DashDot, "EARLY EXIT", "E"),
        Doing::Break => (Fill::Round, "BREAK", "B"),
        Doing::Shower => (Fill::Dots, "SHOWER", "U"),
    }
}

/// A room takes as many rows as people are inside at once; what is short stands in the first of them.
fn room(view: &View<'_>, ix: usize, all: &[Stretch]) -> Vec<Row> {
    let mut inside: Vec<&Stretch> = all.iter().filter(|s| s.room.is_some_and(|room| room.0 == ix)).collect();
    inside.sort_by_key(|s| (s.span, s.person));
    let shortages = view.review.shortages.iter().filter(|short| short.room.0 == ix);
    let gap = |span| (span, Fill::Gap, "GAP".to_owned(), "G".to_owned());
    let mut rows: Vec<(Vec<_>, Minute)> = Vec::new();
    for stay in inside {
        let bar = (stay.span, Fill::Solid, view.person(stay.person), view.person(stay.person));
        match rows.iter_mut().find(|(_, free)| *free <= stay.span.from) {
            Some((bars, free)) => {
                bars.push(bar);
                *free = stay.span.to;
            }
            None => rows.push((vec![bar], stay.span.to)),
        }
    }
    if rows.is_empty() {
        rows.push((Vec::new(), view.night.roster.shift.from));
    }
    let gaps: Vec<_> = shortages.map(|short| gap(short.span)).collect();
    let name = cut(&view.night.roster.rooms[ix].id).chars().take(5).collect::<String>();
    let mut all: Vec<Row> = rows.into_iter().map(|(bars, _)| Row { name: format!("room {name}"), bars }).collect();
    if !gaps.is_empty() {
        all.push(Row { name: format!("gap {name}"), bars: gaps });
    }
    all
}

fn lane(view: &View<'_>, ix: usize, all: &[Stretch]) -> Row {
    let lane = &view.night.roster.lanes[ix];
    let removals = all.iter().filter(|s| s.doing == Doing::Removal && s.lane.is_some_and(|lane| lane.0 == ix));
    let mut bars = Vec::new();
    for s in removals {
        bars.push((s.span, Fill::Slanted, view.person(s.person), view.person(s.person)));
    }
    let shut = lane.closures.iter().map(|&span| (span, Fill::Gap, "SHUT".to_owned(), "SHUT".to_owned()));
    bars.extend(shut);
    Row { name: format!("lane {}", plain(&lane.id).chars().take(5).collect::<String>()), bars }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_doing_has_a_look_of_its_own_or_shares_its_letter() {
        let all = [
            Doing::Donning,
            Doing::AtDoor,
            Doing::InRoom,
            Doing::WaitingForLane,
            Doing::Removal,
            Doing::Break,
            Doing::Shower,
        ];
        for (ix, a) in all.iter().enumerate() {
            for b in &all[ix + 1..] {
                assert!(look(*a).0 != look(*b).0 && look(*a).2 != look(*b).2, "{a:?} and {b:?} look alike");
            }
        }
    }
}
