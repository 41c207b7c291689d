//! Pictures of rows: a line of words, and below it a bar or a range on a scale that all rows share.
//!
//! Everything is counted in tenths of a millimetre, which are the units of the picture. Bars are hatched, and each row
//! says its figure in words, so that a photocopy in black and white loses nothing. A table with the same figures
//! stands beside each picture.

use maud::{Markup, html};

use super::plain;

/// Width of a picture: that of A4 within the margins of the page.
const WIDTH: i64 = 1_800;
/// Room at the left and at the right of the scale, for the strokes at its ends.
const SIDE: i64 = 20;
/// Height of a row: words, bar, and room below.
const ROW: i64 = 150;
/// Where the bar of a row begins, and how high it is.
const BAR: (i64, i64) = (64, 50);
/// Height of the scale below the rows.
const SCALE: i64 = 90;
/// The size of the type: capitals of 3.4 mm.
const TYPE: i64 = 46;

/// What is drawn in a row.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Mark {
    /// From nothing to an amount.
    Bar(i64),
    /// An amount, and the two ends between which it may well lie.
    Range {
        /// The lower end.
        low: i64,
        /// The amount.
        at: i64,
        /// The upper end.
        high: i64,
    },
}

/// One row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// What it is about.
    pub label: String,
    /// The figure in words.
    pub value: String,
    /// The figure drawn.
    pub mark: Mark,
}

/// The scale below the rows: what its end stands for, and which amounts are written at it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Scale {
    /// The amount at the right end; more than nothing.
    pub end: i64,
    /// Amounts and their words, the least first.
    pub ticks: Vec<(i64, String)>,
}

/// A picture with its title for those who do not see it and its caption for those who do.
#[must_use]
pub fn figure(title: &str, rows: &[Row], scale: &Scale) -> Markup {
    let height = ROW * i64::try_from(rows.len()).unwrap_or(0) + SCALE;
    let size = format!("width:{}mm;height:auto", WIDTH / 10);
    html! {
        figure {
            figcaption { (plain(title)) }
            svg viewBox={ "0 0 " (WIDTH) " " (height) } style=(size) role="img" font-size=(TYPE) font-weight="700"
                fill="currentColor" stroke="currentColor" {
                title { (plain(title)) ". The table beside it has the same figures." }
                @for (place, row) in (0..).zip(rows) { (drawn(row, place * ROW, scale)) }
                (foot(height - SCALE, scale))
            }
        }
    }
}

fn drawn(row: &Row, top: i64, scale: &Scale) -> Markup {
    let (bar, high) = (top + BAR.0, BAR.1);
    let middle = bar + high / 2;
    let mark = match row.mark {
        Mark::Bar(amount) => {
            let width = place(amount, scale) - SIDE;
            html! {
                @if width > 0 {
                    rect x=(SIDE) y=(bar) width=(width) height=(high) fill="none" stroke-width="6" {}
                    path d=(hatched(SIDE, bar, width, high)) fill="none" stroke-width="6" {}
                }
            }
        }
        Mark::Range { low, at, high: up } => {
            let (low, at, up) = (place(low, scale), place(at, scale), place(up, scale));
            html! {
                path d={ "M" (low) " " (bar + 6) "V" (bar + high - 6) "M" (low) " " (middle) "H" (up) "M" (up) " " (bar + 6) "V" (bar + high - 6) }
                    fill="none" stroke-width="8" {}
                circle cx=(at) cy=(middle) r="16" stroke="none" {}
            }
        }
    };
    html! {
        text x=(SIDE) y=(top + 48) stroke="none" { (plain(&row.label)) }
        text x=(WIDTH - SIDE) y=(top + 48) text-anchor="end" stroke="none" { (plain(&row.value)) }
        (mark)
    }
}

/// Where an amount lies on the scale.
fn place(amount: i64, scale: &Scale) -> i64 {
    SIDE + amount.clamp(0, scale.end) * (WIDTH - 2 * SIDE) / scale.end.max(1)
}

/// Lines at half a right angle, cut off where the bar ends.
fn hatched(x: i64, y: i64, width: i64, height: i64) -> String {
    let starts = std::iter::successors(Some(20 - height), |at| Some(at + 20)).take_while(|at| *at < width);
    let line = |start: i64| {
        let (from, to) = (start.max(0), (start + height).min(width));
        format!("M{} {}L{} {}", x + from, y + height - (from - start), x + to, y + height - (to - start))
    };
    starts.map(line).collect()
}

fn foot(top: i64, scale: &Scale) -> Markup {
    let anchor = |at: i64| match at {
        0 => "start",
        at if at >= scale.end => "end",
        _ => "middle",
    };
    html! {
        path d={ "M" (SIDE) " " (top + 8) "H" (WIDTH - SIDE) } fill="none" stroke-width="6" {}
        @for (at, words) in &scale.ticks {
            path d={ "M" (place(*at, scale)) " " (top + 8) "v16" } fill="none" stroke-width="6" {}
            text x=(place(*at, scale)) y=(top + 72) text-anchor=(anchor(*at)) stroke="none" { (plain(words)) }
        }
    }
}
