//! Two groups against each other: a cell to a crew, hatched by how much is uncovered, with the number in it.
//!
//! Units are millimetres on paper.

use maud::{Markup, html};

use super::super::table;
use crate::night::Group;
use crate::show::crews::CrewsView;
use crate::show::text::plain;
use crate::staffing::Row;

const CELL: (i64, i64) = (16, 11);
/// Before the first column and above the first row.
const EDGE: (i64, i64) = (18, 16);
/// More columns than this do not go on the paper.
const MOST_ACROSS: u32 = 10;
const MOST_DOWN: u32 = 18;
/// Widths of the lines of a hatching, of 4: from little uncovered to much. Words would not fit; numbers do.
const HATCHES: [&str; 3] = ["0.5", "1.1", "1.9"];

/// The first two groups asked about in more than one number, the others as in the answer; `None` without two such
/// groups, or where they have too many numbers for a page.
pub(super) fn two_groups(view: &CrewsView<'_>) -> Option<Markup> {
    let ranged: Vec<usize> =
        (0..view.question.groups.len()).filter(|&ix| spread(&view.question.groups[ix]) > 1).collect();
    let &[down, across, ..] = ranged.as_slice() else { return None };
    let (rows, columns) = (&view.question.groups[down], &view.question.groups[across]);
    if spread(rows) > MOST_DOWN || spread(columns) > MOST_ACROSS {
        return None;
    }
    let cells = Cells::of(view, down, across);
    let title = format!("Person-minutes uncovered: {} down, {} across{}", rows.id, columns.id, cells.others);
    let header: Vec<String> = (columns.from..=columns.to).map(|count| count.to_string()).collect();
    let header: Vec<&str> = std::iter::once("").chain(header.iter().map(String::as_str)).collect();
    let body: Vec<Markup> = (rows.from..=rows.to)
        .map(|r| html! { tr { th scope="row" { (r) } @for c in columns.from..=columns.to { td.n { (cells.words(r, c)) } } } })
        .collect();
    Some(html! {
        figure { figcaption { (plain(&title)) } (picture(&cells, rows, columns, &title)) }
        (table(&title, &header, &body))
        p { "0 covers everything. The denser the hatching, the more is uncovered. * is the best found, not proven best. \
             \"short\" and ? were not planned: short is proven, ? is not known. T: presence is covered, something else is not." }
    })
}

fn spread(group: &Group) -> u32 {
    group.to - group.from + 1
}

/// What is known, by counts of the two groups.
struct Cells<'a> {
    found: Vec<(u32, u32, &'a Row)>,
    most: i64,
    /// The groups that are held.
    others: String,
}

impl<'a> Cells<'a> {
    fn of(view: &CrewsView<'a>, down: usize, across: usize) -> Self {
        let answer = view.answer;
        let leading = answer.leading.map(|ix| &answer.smallest[ix]).or(answer.smallest.last());
        let held = leading.map(|s| s.counts.clone().unwrap_or_else(|| s.largest.clone())).unwrap_or_default();
        let settings = leading.map(|s| s.settings.clone()).unwrap_or_default();
        let same = |row: &&Row| {
            let others = row.counts.iter().zip(&held).enumerate().filter(|(ix, _)| *ix != down && *ix != across);
            row.settings == settings && others.into_iter().all(|(_, (count, held))| count == held)
        };
        let found: Vec<_> =
            answer.rows.iter().filter(same).map(|row| (row.counts[down], row.counts[across], row)).collect();
        let most = found.iter().filter_map(|(.., row)| row.uncovered()).max().unwrap_or(0);
        let groups =
            view.question.groups.iter().enumerate().zip(&held).filter(|((ix, _), _)| *ix != down && *ix != across);
        let others: Vec<String> = groups.map(|((_, group), count)| format!("{} {count}", group.id)).collect();
        let others = if others.is_empty() { String::new() } else { format!("; {}", others.join(", ")) };
        Self { found, most, others }
    }

    fn row(&self, down: u32, across: u32) -> Option<&'a Row> {
        self.found.iter().find(|(d, a, _)| (*d, *a) == (down, across)).map(|(.., row)| *row)
    }

    fn words(&self, down: u32, across: u32) -> String {
        let Some(row) = self.row(down, across) else { return "?".to_owned() };
        match row.uncovered() {
            _ if row.verdict.is_enough() => "0".to_owned(),
            Some(0) => "T".to_owned(),
            Some(minutes) => format!("{minutes}{}", if row.proven { "" } else { "*" }),
            None if row.verdict.is_short() => "short".to_owned(),
            None => "?".to_owned(),
        }
    }

    /// Which hatching; none for nothing uncovered or nothing known.
    fn hatch(&self, down: u32, across: u32) -> Option<usize> {
        let minutes = self.row(down, across)?.uncovered().filter(|&minutes| minutes > 0)?;
        let parts = i64::try_from(HATCHES.len()).unwrap_or(1);
        usize::try_from(((minutes * parts - 1) / self.most.max(1)).min(parts - 1)).ok()
    }
}

fn picture(cells: &Cells<'_>, rows: &Group, columns: &Group, title: &str) -> Markup {
    let width = EDGE.0 + CELL.0 * i64::from(spread(columns)) + 1;
    let height = EDGE.1 + CELL.1 * i64::from(spread(rows)) + 1;
    let all = (rows.from..=rows.to).flat_map(|r| (columns.from..=columns.to).map(move |c| (r, c)));
    html! {
        svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="map-title" width={ (width) "mm" }
            viewBox={ "0 0 " (width) " " (height) } {
            title #map-title { (plain(title)) ": the table below has the same figures." }
            defs {
                @for (ix, line) in HATCHES.iter().enumerate() {
                    pattern id={ "map-hatch-" (ix) } width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                        rect width=(line) height="4" fill="#000" {}
                    }
                }
            }
            g font-size="4.8" font-family="DejaVu Sans, Verdana, Arial, sans-serif" text-anchor="middle" {
                @for c in columns.from..=columns.to {
                    text x=(EDGE.0 + CELL.0 * i64::from(c - columns.from) + CELL.0 / 2) y=(EDGE.1 - 4) font-weight="700" { (c) }
                }
                @for r in rows.from..=rows.to {
                    text x=(EDGE.0 / 2) y=(EDGE.1 + CELL.1 * i64::from(r - rows.from) + 7) font-weight="700" { (r) }
                }
                @for (r, c) in all { (cell(cells, (r, rows.from), (c, columns.from))) }
            }
        }
    }
}

fn cell(cells: &Cells<'_>, (down, first_down): (u32, u32), (across, first_across): (u32, u32)) -> Markup {
    let (x, y) = (EDGE.0 + CELL.0 * i64::from(across - first_across), EDGE.1 + CELL.1 * i64::from(down - first_down));
    let words = cells.words(down, across);
    let fill = cells.hatch(down, across).map_or_else(|| "#fff".to_owned(), |ix| format!("url(#map-hatch-{ix})"));
    let room = 3 * i64::try_from(words.chars().count()).unwrap_or(0) + 2;
    html! {
        rect x=(x) y=(y) width=(CELL.0) height=(CELL.1) fill=(fill) stroke="#000" stroke-width="0.5" {}
        // The number stands on white, whatever the hatching.
        rect x=(x + (CELL.0 - room) / 2) y=(y + 2) width=(room) height=(CELL.1 - 4) fill="#fff" {}
        text x=(x + CELL.0 / 2) y=(y + 7) font-weight=(if words == "0" { "700" } else { "400" }) { (words) }
    }
}
