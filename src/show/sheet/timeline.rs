//! The night drawn by time: a row to a person, then to rooms and lanes.

use maud::{Markup, html};

use super::frame::{self, bands, short_foot, top_height};
use super::paper::{Tenths, packed};
use super::svg::{Bar, Fill, ROW, bar, picture};
use super::{Page, Part, Place, Print};
use crate::night::{EnsembleIx, Minute, Minutes, PersonIx, Span};
use crate::show::View;
use crate::show::duties::{Doing, Stretch, stretches};
use crate::show::text::plain;

/// Width of the names at the left.
const LABEL: Tenths = 260;
/// Height of the hours above.
const HOURS: Tenths = 110;
/// Height of a line of the key, and the width of one of its samples with its words.
const KEY: (Tenths, Tenths) = (80, 640);

/// A row: its name and its bars.
struct Row {
    name: String,
    bars: Bars,
}

/// How minutes become places on the paper.
#[derive(Clone, Copy)]
struct Scale {
    span: Span,
    width: Tenths,
}

impl Scale {
    /// The shift, or longer where somebody has a duty outside it.
    fn of(print: &Print<'_>) -> Self {
        let view = &print.view;
        let duties = view.rota.entries.iter().map(|e| Span::new(e.don, e.off));
        let posts = view.rota.posts.iter().map(|p| Span::new(p.don, p.off));
        let near = view.night.roster.people.iter().map(|p| p.on_duty).fold(view.night.roster.shift, around);
        let span = duties.chain(posts).map(|s| s.intersection(near)).filter(|s| !s.is_empty());
        Self { span: span.fold(view.night.roster.shift, around), width: print.paper.inside().0 - LABEL - 20 }
    }

    fn x(self, at: Minute) -> Tenths {
        let at = at.max(self.span.from).min(self.span.to);
        LABEL + (at - self.span.from).0 * self.width / self.span.length().0.max(1)
    }
}

fn around(all: Span, one: Span) -> Span {
    Span::new(all.from.min(one.from), all.to.max(one.to))
}

/// The pages.
pub fn pages<'p>(print: &'p Print<'p>) -> Vec<Page<'p>> {
    let room = print.paper.inside().1 - top_height(print) - frame::FOOT - HOURS - key_height(print) - 60;
    let measured = rows(print).into_iter().map(|row| (ROW, row)).collect();
    let mut pages = packed(measured, room, usize::MAX, |_| true);
    if pages.is_empty() {
        pages.push(Vec::new());
    }
    let page = |rows: Vec<Row>| Page { part: Part::Timeline, body: Box::new(move |place| sheet(print, place, &rows)) };
    pages.into_iter().map(page).collect()
}

fn sheet(print: &Print<'_>, place: Place, rows: &[Row]) -> Markup {
    let (width, _) = print.paper.inside();
    let height = HOURS + ROW * Tenths::try_from(rows.len()).unwrap_or(0) + key_height(print);
    let (first, last) = (rows.first().map_or("", |row| &row.name), rows.last().map_or("", |row| &row.name));
    let label = format!("Timeline from {first} to {last}; the same is in words on the cards and the observers' sheet");
    let inside = drawn(print, rows, 0);
    let body = html! {
        div.scroll tabindex="0" role="region" aria-label={ "Timeline, page " (place.number) } {
            (picture(width, height, &label, false, &inside))
        }
    };
    frame::page(print, Part::Timeline, place, "who is where", &body, &short_foot(print, place))
}

/// The whole timeline as a file of its own, with what must not be overlooked above it.
pub fn alone(print: &Print<'_>) -> String {
    let rows = rows(print);
    let heads = heads(print);
    let top = 75 * Tenths::try_from(heads.len()).unwrap_or(0) + 20;
    let height = top + HOURS + ROW * Tenths::try_from(rows.len()).unwrap_or(0) + key_height(print);
    let (width, _) = print.paper.inside();
    let label = format!("Timeline, {}, issue {}", plain(&print.view.night.roster.unit), print.issue);
    let inside = html! {
        @for (ix, line) in heads.iter().enumerate() {
            text.name x="10" y=(60 + 75 * Tenths::try_from(ix).unwrap_or(0)) { (line) }
        }
        (drawn(print, &rows, top))
    };
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}\n",
        picture(width, height, &label, true, &inside).into_string()
    )
}

fn heads(print: &Print<'_>) -> Vec<String> {
    let (wall, shift) = (print.view.wall(), print.view.night.roster.shift);
    let mut heads = vec![format!(
        "{}  {}  ISSUE {}  printed {}  {}",
        frame::cut(&print.view.night.roster.unit),
        wall.day(shift.from),
        print.issue,
        frame::stamp(print, print.printed),
        print.verdict()
    )];
    heads.extend(bands(print).into_iter().map(|(word, text)| format!("{word}: {text}")));
    heads.push("PLANNING AID ONLY: unit procedures and your own judgement come first.".to_owned());
    heads
}

fn drawn(print: &Print<'_>, rows: &[Row], top: Tenths) -> Markup {
    let scale = Scale::of(print);
    let bottom = top + HOURS + ROW * Tenths::try_from(rows.len()).unwrap_or(0);
    html! {
        (hours(print, scale, top, bottom))
        @for (ix, row) in rows.iter().enumerate() {
            (row_drawn(scale, row, top + HOURS + ROW * Tenths::try_from(ix).unwrap_or(0)))
        }
        (key(print, bottom + 24))
    }
}

fn row_drawn(scale: Scale, row: &Row, y: Tenths) -> Markup {
    html! {
        text.name x="10" y=(y + 44) { (row.name) }
        @for (span, fill, word, letter) in &row.bars {
            @let x = scale.x(span.from);
            (bar(&Bar { x, width: scale.x(span.to) - x, fill: *fill, word: word.clone(), letter: letter.clone() }, y))
        }
    }
}

/// Every full hour with its figures; midnight and the changing of the clocks are heavy; low hours have a bracket and words.
fn hours(print: &Print<'_>, scale: Scale, top: Tenths, bottom: Tenths) -> Markup {
    let view = &print.view;
    let clock = view.night.roster.clock;
    let hours: Vec<Minute> =
        (scale.span.from.0..=scale.span.to.0).map(Minute).filter(|&at| clock.minute_of_hour(at) == 0).collect();
    let every = if scale.width / Tenths::try_from(hours.len().max(1)).unwrap_or(1) < 150 { 2 } else { 1 };
    html! {
        @for (ix, &at) in hours.iter().enumerate() {
            @let x = scale.x(at);
            @let heavy = !view.wall().passes(at - Minutes(1), at).is_empty();
            path .m[heavy] .grid[!heavy] d={ "M" (x) " " (top + 62) "V" (bottom) } {}
            @if ix % every == 0 { text.hour x=(x) y=(top + 52) text-anchor="middle" { (view.wall().time(at)) } }
        }
        @for low in view.night.low_hours() {
            @let (from, to) = (scale.x(low.from), scale.x(low.to));
            @let middle = from + (to - from) / 2;
            @if from < to {
                path.o d={ "M" (from) " " (top + 100) "V" (top + 84) "H" (to) "V" (top + 100) } {}
                rect.plate x=(middle - 140) y=(top + 68) width="280" height="34" {}
                text x=(middle) y=(top + 97) text-anchor="middle" { "LOW HOURS" }
            }
        }
    }
}

fn rows(print: &Print<'_>) -> Vec<Row> {
    let view = &print.view;
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

type Bars = Vec<(Span, Fill, String, String)>;

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
const fn look(doing: Doing) -> (Fill, &'static str, &'static str) {
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
    let name = frame::cut(&view.night.roster.rooms[ix].id).chars().take(5).collect::<String>();
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

/// Every look that the night has, with its words.
fn samples(print: &Print<'_>) -> Vec<(Fill, String, &'static str)> {
    let all = stretches(print.view.night, print.view.rota);
    let mut doings: Vec<Doing> = all.iter().map(|s| s.doing).collect();
    doings.sort_unstable();
    doings.dedup();
    let mut samples: Vec<(Fill, String, &'static str)> = Vec::new();
    for doing in doings {
        let (fill, word, letter) = look(doing);
        if samples.iter().all(|(_, _, known)| *known != letter) {
            samples.push((fill, word.to_lowercase(), letter));
        }
    }
    samples.push((Fill::Rest, "at rest, by the unit's figure".to_owned(), "r"));
    if !print.view.review.shortages.is_empty() {
        samples.push((Fill::Gap, "gap: presence short".to_owned(), "G"));
    }
    samples
}

fn to_a_line(print: &Print<'_>) -> usize {
    usize::try_from(print.paper.inside().0 / KEY.1).unwrap_or(1).max(1)
}

fn key_height(print: &Print<'_>) -> Tenths {
    24 + KEY.0 * Tenths::try_from(samples(print).len().div_ceil(to_a_line(print))).unwrap_or(1)
}

fn key(print: &Print<'_>, top: Tenths) -> Markup {
    let columns = to_a_line(print);
    html! {
        @for (ix, (fill, words, letter)) in samples(print).iter().enumerate() {
            @let x = 10 + KEY.1 * Tenths::try_from(ix % columns).unwrap_or(0);
            @let y = top + KEY.0 * Tenths::try_from(ix / columns).unwrap_or(0);
            (bar(&Bar { x, width: 90, fill: *fill, word: (*letter).to_owned(), letter: (*letter).to_owned() }, y))
            text x=(x + 106) y=(y + 40) { (words) }
        }
    }
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
