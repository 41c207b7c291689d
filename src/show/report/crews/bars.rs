//! Person-minutes uncovered against heads: a bar to a number of heads, hatched, with its figure in words beside it.
//!
//! Units are millimetres on paper.

use std::collections::BTreeMap;

use maud::{Markup, html};

use super::super::table;
use crate::show::crews::CrewsView;

/// The longest bar.
const LONGEST: i64 = 110;
/// From one bar to the next.
const PITCH: i64 = 8;
/// Where bars start; before it stand the heads.
const START: i64 = 30;
/// The width of A4 between its margins.
const WIDTH: i64 = 182;
/// More bars than this do not go on one page.
const MOST: usize = 28;

/// The least that any crew of so many heads misses, the levers as in the answer; `None` where nothing was planned.
pub(super) fn by_heads(view: &CrewsView<'_>) -> Option<Markup> {
    let bars = least_by_heads(view);
    let most = bars.values().copied().max().filter(|_| bars.len() <= MOST)?;
    let height = PITCH * i64::try_from(bars.len()).unwrap_or(0) + 4;
    let title = "The fewest person-minutes uncovered, by the number of people";
    let rows: Vec<Markup> =
        bars.iter().map(|(heads, minutes)| html! { tr { th scope="row" { (heads) } td.n { (minutes) } } }).collect();
    Some(html! {
        figure {
            figcaption { (title) }
            svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="bars-title" width={ (WIDTH) "mm" }
                viewBox={ "0 0 " (WIDTH) " " (height) } {
                title #bars-title { (title) ": the table below has the same figures." }
                defs {
                    pattern #bars-hatch width="3" height="3" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                        rect width="1.2" height="3" fill="#000" {}
                    }
                }
                g font-size="4.8" font-family="DejaVu Sans, Verdana, Arial, sans-serif" {
                    @for (place, (heads, minutes)) in (0i64..).zip(&bars) { (bar(place * PITCH, *heads, *minutes, most)) }
                }
            }
        }
        (table(title, &["people", "person-minutes uncovered"], &rows))
        p { "Only crews that were planned, or of which a smaller one was, have a figure here." }
    })
}

fn bar(top: i64, heads: u32, minutes: i64, most: i64) -> Markup {
    let length = if most > 0 { minutes * LONGEST / most } else { 0 };
    let words = if minutes == 0 { "0: none".to_owned() } else { minutes.to_string() };
    html! {
        text x=(START - 3) y=(top + 6) text-anchor="end" { (heads) }
        line x1=(START) y1=(top) x2=(START) y2=(top + PITCH) stroke="#000" stroke-width="0.6" {}
        @if length > 0 {
            rect x=(START) y=(top + 1) width=(length) height=(PITCH - 2) fill="url(#bars-hatch)" stroke="#000" stroke-width="0.6" {}
        }
        text x=(START + length + 3) y=(top + 6) font-weight="700" { (words) }
    }
}

fn least_by_heads(view: &CrewsView<'_>) -> BTreeMap<u32, i64> {
    let answer = view.answer;
    let settings =
        answer.leading.map(|ix| &answer.smallest[ix].settings).or_else(|| answer.smallest.last().map(|s| &s.settings));
    let mut least = BTreeMap::new();
    for row in answer.rows.iter().filter(|row| Some(&row.settings) == settings) {
        let Some(minutes) = row.uncovered() else { continue };
        let here = least.entry(row.heads()).or_insert(minutes);
        *here = minutes.min(*here);
    }
    least
}
