//! The wall sheet: read from two metres, at three in the morning, from a photocopy.

use maud::{Markup, html};

use super::changes::Old;
use super::frame::{self, approval, top_height};
use super::paper::{Paper, Tenths, lines, packed};
use super::rows::{EntryRow, GapRow, PersonRow, Row, rows, stretch};
use super::strip::{STRIP, strip};
use super::{Page, Part, Place, Print, limits};
use crate::night::{Minute, PersonIx, Span};
use crate::show::view::NONE;

/// The most entries on one page, whatever its size.
const MOST: usize = 8;
/// Least height of an entry: OUT-BY in capitals of 12 mm, its label, and the lines around them.
const ENTRY: Tenths = 215;
/// Height of one person of an entry in the smaller and the larger type.
const PERSON: [Tenths; 2] = [85, 107];
/// Height of the names of the columns.
const COLUMNS: Tenths = 60;
/// Height of the rule at midnight.
const PASSING: Tenths = 75;
/// Size of the type for arm's length, with capitals of 3.3 mm, and the height of a line of it.
const READ: (Tenths, Tenths) = (46, 56);
/// Size of the small type at the foot, and the height of a line of it.
const SMALL: (Tenths, Tenths) = (34, 42);

/// The pages, split by time.
pub fn pages<'p>(print: &'p Print<'p>) -> Vec<Page<'p>> {
    let old = Old::of(print);
    let measured = rows(print).into_iter().map(|(at, row)| (height(print, &row), (at, row))).collect();
    let room = print.paper.inside().1 - top_height(print) - STRIP - COLUMNS - foot_height(print);
    let mut pages = packed(measured, room, MOST, |(_, row)| matches!(row, Row::Entry(_)));
    if pages.is_empty() {
        pages.push(Vec::new());
    }
    let starts: Vec<Minute> = pages.iter().skip(1).filter_map(|page| Some(page.first()?.0)).collect();
    let shift = print.view.night.roster.shift;
    let old = std::rc::Rc::new(old);
    let page = |(ix, rows): (usize, Vec<(Minute, Row)>)| {
        let from = if ix == 0 { shift.from } else { starts[ix - 1] };
        let (span, old) = (stretch(&print.view, from, starts.get(ix).copied()), old.clone());
        Page { part: Part::Wall, body: Box::new(move |place| sheet(print, place, span, &rows, (*old).as_ref())) }
    };
    pages.into_iter().enumerate().map(page).collect()
}

fn height(print: &Print<'_>, row: &Row) -> Tenths {
    let width = print.paper.inside().0 - 60;
    match row {
        Row::Entry(entry) => {
            let people: Tenths = entry.people.iter().map(|person| person_height(print.paper, person)).sum();
            let notes = if entry.notes.is_empty() { 0 } else { 8 + READ.1 * lines(&notes(entry), width, READ.0) };
            people.max(ENTRY) + notes
        }
        Row::Gap(gap) => 40 + 78 + READ.1 * lines(&gap.words, width, READ.0),
        Row::Gone(words) => 40 + READ.1 * lines(words, width, 56),
        Row::Passing(_) => PASSING,
    }
}

/// A relief whose ID and time do not stand side by side takes more lines.
fn person_height(paper: Paper, person: &PersonRow) -> Tenths {
    let size = type_size(paper);
    let wide = widths(paper).iter().find(|(name, _)| *name == "relief").map_or(1, |(_, width)| *width - 24);
    // Letters of the bold face are a sixth wider; a line of them is a twentieth higher than the type.
    let relief = lines(&person.relief, wide, size * 7 / 6) * size * 21 / 20;
    relief.max(PERSON[usize::from(paper.is_large())])
}

/// Size of names and times beside OUT-BY.
pub const fn type_size(paper: Paper) -> Tenths {
    if paper.is_large() { 78 } else { 62 }
}

fn foot_height(print: &Print<'_>) -> Tenths {
    let width = print.paper.inside().0;
    let caution = lines(&limits::caution(print).join("  "), width, READ.0);
    let signed = format!("{} issue 1000, page 1000 of 1000, in bold letters", signature(print));
    let small = [limits::in_a_line(&print.view, frame::cut), limits::not_checked(&print.view), signed];
    READ.1 * caution + small.iter().map(|text| SMALL.1 * lines(text, width, SMALL.0)).sum::<Tenths>() + 70
}

fn notes(entry: &EntryRow) -> String {
    entry.notes.join("  |  ")
}

/// The check's verdict and who approved the limits.
fn signature(print: &Print<'_>) -> String {
    format!("{}; {}", print.verdict(), approval(print))
}

fn sheet(print: &Print<'_>, place: Place, span: Span, rows: &[(Minute, Row)], old: Option<&Old>) -> Markup {
    let title = format!("entries {}", print.view.wall().span(span));
    let body = html! {
        (strip(print, span))
        div.scroll tabindex="0" role="region" aria-label={ (title) ", table" } {
            table.entries {
                caption.unseen { (title) }
                thead { tr {
                    @for (class, name) in COLUMN { th scope="col" .(class) { (name) } }
                } }
                @if rows.is_empty() { tbody { tr { td.empty colspan="12" { "NONE: nobody is planned into a room, and nothing is short." } } } }
                @for (_, row) in rows { (row_of(print, row, old)) }
            }
        }
    };
    frame::page(print, Part::Wall, place, &title, &body, &foot(print, place))
}

/// Widths of the columns, the last of which takes what is left: OUT-BY as wide as five figures need, on larger paper
/// more room to write.
pub const fn widths(paper: Paper) -> [(&'static str, Tenths); 9] {
    // In thousandths of the width, but for OUT-BY, whose type is the same on all paper.
    const fn part(inside: Tenths, thousandths: Tenths) -> Tenths {
        inside * thousandths / 1000
    }
    let (inside, _) = paper.inside();
    let [no, door, by, who, relief, observer, assistant, lane, write] = if paper.is_large() {
        [
            part(inside, 65),
            part(inside, 110),
            660,
            part(inside, 75),
            part(inside, 130),
            part(inside, 85),
            part(inside, 90),
            part(inside, 55),
            part(inside, 58),
        ]
    } else {
        [
            part(inside, 70),
            part(inside, 115),
            580,
            part(inside, 75),
            part(inside, 140),
            part(inside, 83),
            part(inside, 88),
            part(inside, 45),
            part(inside, 40),
        ]
    };
    [
        ("no", no),
        ("in", door),
        ("by", by),
        ("who", who),
        ("relief", relief),
        ("observer", observer),
        ("assistant", assistant),
        ("lane", lane),
        ("box", write),
    ]
}

/// The columns in their fixed order, each with the class that gives it its width.
const COLUMN: [(&str, &str); 12] = [
    ("no", "Entry"),
    ("in", "Door-in"),
    ("by", "OUT-BY"),
    ("who", "Inside"),
    ("relief", "Relief"),
    ("observer", "OBSERVER"),
    ("assistant", "ASSISTANT"),
    ("lane", "LANE"),
    ("box", "in"),
    ("box", "out"),
    ("box", "off"),
    ("tick", "signed"),
];

fn row_of(print: &Print<'_>, row: &Row, old: Option<&Old>) -> Markup {
    match row {
        Row::Entry(entry) => entry_rows(print, entry, old.is_some_and(|old| old.lacks(entry))),
        Row::Gap(gap) => gap_row(gap),
        Row::Gone(words) => html! { tbody.gone.changed { tr { td colspan="12" { b { "CHANGED" } " " (words) } } } },
        Row::Passing(words) => html! { tbody.passing { tr { td colspan="12" { "— " (words) " —" } } } },
    }
}

fn gap_row(gap: &GapRow) -> Markup {
    html! {
        tbody.gap { tr { td colspan="12" { p.what { (gap.title) } p { (gap.words) } } } }
    }
}

fn entry_rows(print: &Print<'_>, entry: &EntryRow, changed: bool) -> Markup {
    let people = entry.people.len();
    html! {
        tbody.entry .low[entry.low] .changed[changed] {
            @for (ix, person) in entry.people.iter().enumerate() {
                tr {
                    @if ix == 0 { (facts(entry, people, changed)) }
                    (cells(print, person))
                }
            }
            @if !entry.notes.is_empty() { tr.notes { td colspan="12" { (notes(entry)) } } }
        }
    }
}

/// What all people of the entry have in common.
fn facts(entry: &EntryRow, people: usize, changed: bool) -> Markup {
    html! {
        th.no scope="rowgroup" rowspan=(people) {
            span.number { (entry.number) }
            span.small { "room " (entry.room) }
            @if changed { span.mark { "CHANGED" } }
            @if entry.low { span.mark { "LOW HOURS" } }
        }
        td.in rowspan=(people) {
            span.big { (entry.door_in) }
            span.small { "plan out " (entry.out) }
            span.small .heavy[entry.tight] { "spare " (entry.spare) @if entry.tight { " TIGHT" } }
        }
        td.by rowspan=(people) { span.label { "OUT-BY" } span.time .twice[entry.out_by.len() > 5] { (entry.out_by) } }
    }
}

fn cells(print: &Print<'_>, person: &PersonRow) -> Markup {
    let linked = print.parts.contains(&Part::Cards);
    let none = |text: &str| text == NONE;
    html! {
        td.who { @if linked { a href={ "#" (super::cards::mark(PersonIx(person.place))) } { (person.id) } } @else { (person.id) } }
        td.relief .none[none(&person.relief)] { (person.relief) }
        td.observer .none[none(&person.observer)] { (person.observer) }
        td.assistant .none[none(&person.assistant)] { (person.assistant) }
        td.lane .none[none(&person.lane)] { (person.lane) }
        @for what in ["in", "out", "off"] { td.box { span.small { (what) } } }
        td.tick { span.small { "init" } span.small { "breach □" } }
    }
}

fn foot(print: &Print<'_>, place: Place) -> Markup {
    html! {
        p.caution { @for words in limits::caution(print) { span { (words) } " " } }
        p.small { b { (signature(print)) } " · issue " (print.issue) " · page " (place.number) " of " (place.of) }
        p.small { (limits::in_a_line(&print.view, frame::cut)) }
        p.small { (limits::not_checked(&print.view)) }
    }
}
