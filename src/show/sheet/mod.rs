//! The sheet for the wall, the timeline, the observers' sheet, gaps and cards: one HTML file that needs nothing else.
//!
//! No script, no network. Words and hatching carry everything; colour nothing.
//! Never a patient, a personal limit or a reason why somebody may not (J5).

mod bars;
mod cards;
mod changes;
mod frame;
mod gaps;
mod limits;
mod observers;
mod paper;
mod rows;
mod strip;
mod svg;
mod timeline;
mod wall;

use std::collections::BTreeSet;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::View;
use super::text::plain;
use super::warnings::faults_in_words;
use crate::night::{Minute, Rota};
pub use paper::Paper;

/// A part of the document, in the order in which they stand in it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Part {
    /// Entries and gaps in order of time, for the wall.
    Wall,
    /// People, rooms and lanes by time.
    Timeline,
    /// Every donning and removal with who watches it.
    Observers,
    /// Gaps and faults, changes, limits, what was not checked.
    Gaps,
    /// A card to a person.
    Cards,
}

impl Part {
    /// Every part, in order.
    pub const ALL: [Self; 5] = [Self::Wall, Self::Timeline, Self::Observers, Self::Gaps, Self::Cards];

    /// The word by which it is asked for, and its mark in the document.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Wall => "wall",
            Self::Timeline => "timeline",
            Self::Observers => "observers",
            Self::Gaps => "gaps",
            Self::Cards => "cards",
        }
    }

    const fn title(self) -> &'static str {
        match self {
            Self::Wall => "Entries",
            Self::Timeline => "Timeline",
            Self::Observers => "Observers",
            Self::Gaps => "Gaps, limits, check",
            Self::Cards => "Cards",
        }
    }
}

/// What this sheet takes the place of.
#[derive(Clone, Copy, Debug)]
pub struct Before<'a> {
    /// The rota of that sheet.
    pub rota: &'a Rota,
    /// Its OUT-BY, parallel to its entries.
    pub out_by: &'a [Minute],
}

/// A night and how it is to be printed.
#[derive(Clone, Debug)]
pub struct Print<'a> {
    /// What is printed.
    pub view: View<'a>,
    /// On what.
    pub paper: Paper,
    /// Which parts of it.
    pub parts: BTreeSet<Part>,
    /// The number of this sheet (I6).
    pub issue: u32,
    /// The number of the sheet that is void from now on.
    pub replaces: Option<u32>,
    /// The time of printing (section 9, row 45).
    pub printed: Minute,
    /// The rota before, to mark what is new.
    pub before: Option<Before<'a>>,
}

impl Print<'_> {
    /// The rota before, seen like this one.
    fn view_before(&self) -> Option<View<'_>> {
        let before = self.before?;
        Some(View { rota: before.rota, out_by: before.out_by, ..self.view })
    }

    fn faults(&self) -> usize {
        self.view.review.faults.len()
    }

    /// `checked: 0 faults`; with faults it can be read nowhere without what follows from them.
    fn verdict(&self) -> String {
        let words = format!("checked: {}", faults_in_words(self.faults()));
        if self.faults() > 0 { format!("{words}: DO NOT USE") } else { words }
    }
}

/// One printed page: the part it belongs to and what stands on it, frame included.
pub struct Page<'p> {
    part: Part,
    body: Box<dyn Fn(Place) -> Markup + 'p>,
}

/// Which page this is.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    number: usize,
    of: usize,
}

/// How many pages each part takes, in order.
#[must_use]
pub fn page_counts(print: &Print<'_>) -> Vec<(Part, usize)> {
    print.parts.iter().map(|&part| (part, pages_of(print, part).len())).collect()
}

fn pages_of<'p>(print: &'p Print<'p>, part: Part) -> Vec<Page<'p>> {
    match part {
        Part::Wall => wall::pages(print),
        Part::Timeline => timeline::pages(print),
        Part::Observers => observers::pages(print),
        Part::Gaps => gaps::pages(print),
        Part::Cards => cards::pages(print),
    }
}

/// The whole document.
#[must_use]
pub fn html(print: &Print<'_>) -> String {
    let pages: Vec<Page<'_>> = print.parts.iter().flat_map(|&part| pages_of(print, part)).collect();
    let (of, unit) = (pages.len(), plain(&print.view.night.roster.unit));
    let sheets = |part: Part| {
        let mine = pages.iter().enumerate().filter(move |(_, page)| page.part == part);
        mine.map(move |(ix, page)| (page.body)(Place { number: ix + 1, of })).collect::<Vec<_>>()
    };
    let markup = html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="description" content="PLANNING AID ONLY. The unit's procedures and licensed judgement come first.";
                meta name="color-scheme" content="light dark";
                title { "Room entries, " (unit) ", issue " (print.issue) }
                style { (PreEscaped(style(print.paper))) }
            }
            body .faulty[print.faults() > 0] {
                a.skip href="#sheets" { "Skip to the sheet" }
                (frame::opening(print))
                main #sheets tabindex="-1" {
                    @for &part in &print.parts {
                        section #(part.word()) .part aria-labelledby={ (part.word()) "-title" } {
                            h2.screen #{ (part.word()) "-title" } { (part.title()) }
                            @for sheet in sheets(part) { (sheet) }
                        }
                    }
                }
            }
        }
    };
    markup.into_string() + "\n"
}

/// The timeline alone, as an SVG file.
#[must_use]
pub fn timeline_svg(print: &Print<'_>) -> String {
    timeline::alone(print)
}

/// The rules for screen and paper, with the size of the paper filled in.
fn style(paper: Paper) -> String {
    let (width, height) = paper.across();
    let (card_width, card_height, ..) = paper.cards();
    let sizes = [
        ("page-width", width),
        ("page-height", height),
        ("inside-width", paper.inside().0),
        ("cards-width", card_width),
        ("cards-height", card_height),
        ("card-width", paper.card_width()),
        ("card-height", paper.card_height()),
        ("type-size", wall::type_size(paper)),
    ];
    let css = include_str!("sheet.css").to_owned() + svg::STYLE;
    let sizes = sizes.into_iter().chain(wall::widths(paper));
    sizes.fold(css, |css, (name, tenths)| css.replace(&format!("[{name}]"), &mm(tenths)))
}

/// `12.5mm`.
fn mm(tenths: paper::Tenths) -> String {
    format!("{}.{}mm", tenths / 10, tenths % 10)
}
