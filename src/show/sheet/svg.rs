//! Bars drawn so that a photocopy in black and white still tells them apart.
//!
//! Everything is counted in tenths of a millimetre, which are the units of the picture.

use maud::{Markup, PreEscaped, html};

use super::paper::Tenths;

/// How a bar is filled.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Fill {
    /// Solid black: in the room.
    Solid,
    /// Upright lines: waits for a lane.
    Upright,
    /// Slanted lines: removal.
    Slanted,
    /// Level lines: dressed, at the door.
    Level,
    /// Slanted both ways: assists.
    Crossed,
    /// Dots: in the shower, a lane being cleaned.
    Dots,
    /// An outline: donning.
    Outline,
    /// A heavy outline: watches.
    Heavy,
    /// A thin, low outline: on post.
    Low,
    /// Round ends: a break.
    Round,
    /// A dashed outline: stands by.
    Dashed,
    /// A dash and a dot: free for an early exit.
    DashDot,
    /// A dotted line: at rest.
    Rest,
    /// A line with ends: in charge.
    Line,
    /// A crossed box: not covered, or shut.
    Gap,
}

/// A bar with its word and the letter that stands for it where the bar is short.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Bar {
    pub x: Tenths,
    pub width: Tenths,
    pub fill: Fill,
    pub word: String,
    pub letter: String,
}

/// Height of a bar, and of the line of letters below it.
pub const BAR: Tenths = 54;
/// Height of a whole row.
pub const ROW: Tenths = 92;
/// Width of a letter of the type in bars.
const LETTER: Tenths = 25;

/// The rules for the picture; colours come from the page around it.
pub const STYLE: &str = "
.plan text{font:700 32px 'DejaVu Sans',Verdana,Arial,sans-serif;fill:var(--ink)}
.plan .inv{fill:var(--paper)}.plan .name{font-size:46px}.plan .hour{font-size:38px}
.plan .plate{fill:var(--paper)}.plan .ink{fill:var(--ink)}
.plan .o{fill:none;stroke:var(--ink);stroke-width:6}.plan .w{fill:var(--paper);stroke:var(--ink);stroke-width:6}
.plan .h{fill:var(--paper);stroke:var(--ink);stroke-width:14}
.plan .l{stroke:var(--ink);stroke-width:6}.plan .m{stroke:var(--ink);stroke-width:14}
.plan .grid{stroke:var(--ink);stroke-width:5;stroke-dasharray:5 25}
.plan .dash{fill:none;stroke:var(--ink);stroke-width:7;stroke-dasharray:24 14}
.plan .dashdot{fill:none;stroke:var(--ink);stroke-width:7;stroke-dasharray:30 12 6 12}
.plan .rest{stroke:var(--ink);stroke-width:11;stroke-dasharray:0 22;stroke-linecap:round}
";

/// One bar in the row whose top is `y`.
pub fn bar(bar: &Bar, y: Tenths) -> Markup {
    let Bar { x, width, fill, .. } = bar;
    let (x, width) = (*x, (*width).max(6));
    html! {
        g {
            title { (bar.word) }
            (shape(*fill, x, y, width))
            (words(bar, y))
        }
    }
}

fn shape(fill: Fill, x: Tenths, y: Tenths, width: Tenths) -> Markup {
    let end = x + width;
    let middle = y + BAR / 2;
    let hatch = |lines: String| {
        html! { rect.w x=(x) y=(y) width=(width) height=(BAR) {} path.l d=(lines) {} }
    };
    match fill {
        Fill::Solid => html! { rect.ink x=(x) y=(y) width=(width) height=(BAR) {} },
        Fill::Upright => hatch(upright(x, y, width)),
        Fill::Slanted => hatch(slanted(x, y, width, 14, true)),
        Fill::Level => hatch(level(x, y, width)),
        Fill::Crossed => hatch(slanted(x, y, width, 17, true) + &slanted(x, y, width, 17, false)),
        Fill::Dots => hatch(dots(x, y, width)),
        Fill::Outline => html! { rect.w x=(x) y=(y) width=(width) height=(BAR) {} },
        Fill::Heavy => html! { rect.h x=(x + 4) y=(y + 4) width=((width - 8).max(6)) height=(BAR - 8) {} },
        Fill::Low => html! { path.o d={ "M" (x) " " (y + BAR) "V" (middle) "H" (end) "V" (y + BAR) } {} },
        Fill::Round => html! { rect.w x=(x) y=(y) width=(width) height=(BAR) rx=(BAR / 2) {} },
        Fill::Dashed => html! { rect.dash x=(x) y=(y) width=(width) height=(BAR) {} },
        Fill::DashDot => html! { rect.dashdot x=(x) y=(y + 10) width=(width) height=(BAR - 20) {} },
        Fill::Rest => html! { path.rest d={ "M" (x + 8) " " (middle) "H" ((end - 4).max(x + 9)) } {} },
        Fill::Line => {
            html! { path.o d={ "M" (x) " " (y) "V" (y + BAR) "M" (x) " " (y + 8) "H" (end) "M" (end) " " (y) "V" (y + BAR) } {} }
        }
        Fill::Gap => html! {
            rect.h x=(x + 4) y=(y + 4) width=((width - 8).max(6)) height=(BAR - 8) {}
            path.l d={ "M" (x) " " (y) "L" (end) " " (y + BAR) "M" (x) " " (y + BAR) "L" (end) " " (y) } {}
        },
    }
}

// Hatchings are drawn line by line: what a browser makes of patterns on paper is large and coarse.

fn upright(x: Tenths, y: Tenths, width: Tenths) -> String {
    joined(steps(x + 11, x + width, 16).map(|at| format!("M{at} {y}v{BAR}")))
}

fn level(x: Tenths, y: Tenths, width: Tenths) -> String {
    joined(steps(y + 11, y + BAR, 16).map(|at| format!("M{x} {at}h{width}")))
}

/// Lines at half a right angle, cut off where the bar ends; `rising` to the right or falling.
fn slanted(x: Tenths, y: Tenths, width: Tenths, apart: Tenths, rising: bool) -> String {
    let line = |start: Tenths| {
        let (from, to) = (start.max(0), (start + BAR).min(width));
        let height = |at: Tenths| if rising { y + BAR - (at - start) } else { y + (at - start) };
        format!("M{} {}L{} {}", x + from, height(from), x + to, height(to))
    };
    joined(steps(apart - BAR, width, apart).map(line))
}

/// Dots are short strokes, so that they are as black as the lines.
fn dots(x: Tenths, y: Tenths, width: Tenths) -> String {
    let rows = || steps(y + 9, y + BAR, 18);
    joined(steps(x + 9, x + width - 4, 18).flat_map(|at| rows().map(move |row| format!("M{at} {row}h7"))))
}

fn joined(strokes: impl Iterator<Item = String>) -> String {
    strokes.collect::<Vec<_>>().concat()
}

fn steps(from: Tenths, to: Tenths, by: Tenths) -> impl Iterator<Item = Tenths> {
    std::iter::successors(Some(from), move |at| Some(at + by)).take_while(move |at| *at < to)
}

/// The word where it fits, else the letter, else the letter below.
fn words(bar: &Bar, y: Tenths) -> Markup {
    let length = |text: &str| Tenths::try_from(text.chars().count()).unwrap_or(1000) * LETTER;
    let inside = bar.width - 16;
    let (text, below) =
        if length(&bar.word) <= inside { (&bar.word, false) } else { (&bar.letter, length(&bar.letter) > inside + 8) };
    let (centre, wide) = (bar.x + bar.width / 2, length(text) + 10);
    if below {
        return html! { text x=(centre) y=(y + BAR + 29) text-anchor="middle" { (text) } };
    }
    html! {
        @if bar.fill == Fill::Solid {
            text.inv x=(centre) y=(y + BAR / 2 + 12) text-anchor="middle" { (text) }
        } @else {
            rect.plate x=(centre - wide / 2) y=(y + 9) width=(wide) height=(BAR - 18) {}
            text x=(centre) y=(y + BAR / 2 + 12) text-anchor="middle" { (text) }
        }
    }
}

/// A whole picture. Inside a page it is part of HTML; `file` makes it stand by itself.
pub fn picture(width: Tenths, height: Tenths, label: &str, file: bool, inside: &Markup) -> Markup {
    let view_box = format!("0 0 {width} {height}");
    let (wide, high) = (super::mm(width), super::mm(height));
    if file {
        let style = STYLE.replace("var(--ink)", "#000").replace("var(--paper)", "#fff");
        return html! {
            svg.plan xmlns="http://www.w3.org/2000/svg" viewBox=(view_box) width=(wide) height=(high) role="img" aria-label=(label) {
                title { (label) }
                style { (PreEscaped(style)) }
                rect.plate width=(width) height=(height) {}
                (inside)
            }
        };
    }
    html! { svg.plan viewBox=(view_box) style={ "width:" (wide) ";height:" (high) } role="img" aria-label=(label) { (inside) } }
}
