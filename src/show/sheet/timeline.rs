//! The night drawn by time: a row to a person, then to rooms and lanes.

use maud::{Markup, html};

use super::bars::{Row, look, rows};
use super::frame::{self, bands, short_foot, top_height};
use super::paper::{Tenths, packed};
use super::svg::{Bar, Fill, ROW, bar, picture};
use super::{Page, Part, Place, Print};
use crate::night::{Minute, Minutes, Span};
use crate::show::duties::{Doing, stretches};
use crate::show::text::plain;

/// Width of the names at the left.
const LABEL: Tenths = 260;
/// Height of the hours above.
const HOURS: Tenths = 110;
/// Height of a line of the key, and the width of one of its samples with its words.
const KEY: (Tenths, Tenths) = (80, 640);

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
    let measured = rows(&print.view).into_iter().map(|row| (ROW, row)).collect();
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
    let rows = rows(&print.view);
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
