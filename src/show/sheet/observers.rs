//! The observers' sheet: every donning and removal, who watches and assists it, and for how long they have watched (J8).

use maud::{Markup, html};

use super::frame::{self, short_foot, top_height};
use super::paper::{Tenths, packed};
use super::{Page, Part, Place, Print};
use crate::show::report::observers::{COLUMNS as NAMES, cells};
use crate::show::view::NONE;
use crate::training::proof;

/// Height of a row.
const ROW: Tenths = 84;
/// Height of the names of the columns, which may take two lines.
const COLUMNS: Tenths = 130;

/// The pages.
pub fn pages<'p>(print: &'p Print<'p>) -> Vec<Page<'p>> {
    let view = &print.view;
    let proof = proof(view.night, view.rota, view.review);
    let rows = proof.all.iter().map(|one| (ROW, cells(view, one))).collect();
    let room = print.paper.inside().1 - top_height(print) - COLUMNS - frame::FOOT;
    let mut pages = packed(rows, room, usize::MAX, |_| true);
    if pages.is_empty() {
        pages.push(vec![html! { tr { td colspan="10" { (NONE) ": no donning and no removal is planned" } } }]);
    }
    let page =
        |rows: Vec<Markup>| Page { part: Part::Observers, body: Box::new(move |place| sheet(print, place, &rows)) };
    pages.into_iter().map(page).collect()
}

fn sheet(print: &Print<'_>, place: Place, rows: &[Markup]) -> Markup {
    let body = html! {
        div.scroll tabindex="0" role="region" aria-label={ "Donnings and removals, page " (place.number) } {
            table.list {
                caption.unseen { "Every donning and removal" }
                thead { tr { @for name in NAMES { th scope="col" { (name) } } } }
                tbody { @for row in rows { (row) } }
            }
        }
    };
    frame::page(print, Part::Observers, place, "every donning and removal", &body, &short_foot(print, place))
}
