//! The observers' sheet: every donning and removal, who watches and assists it, and for how long they have watched (J8).

use std::collections::BTreeMap;

use maud::{Markup, html};

use super::frame::{self, short_foot, top_height};
use super::paper::{Tenths, packed};
use super::{Page, Part, Place, Print};
use crate::check::{OnWatch, on_watch};
use crate::night::{LaneIx, Minute, PersonIx, Role, Span};
use crate::show::View;
use crate::show::duties::{donning_of_entry, donning_of_post};
use crate::show::view::NONE;

/// Height of a row.
const ROW: Tenths = 84;
/// Height of the names of the columns, which may take two lines.
const COLUMNS: Tenths = 130;

/// A donning or a removal.
struct Event {
    span: Span,
    what: &'static str,
    of: PersonIx,
    lane: Option<LaneIx>,
    observer: Option<PersonIx>,
    role: Role,
    /// Whether the removal asks for an assistant.
    assisted: bool,
    assistant: Option<PersonIx>,
}

/// The pages.
pub fn pages<'p>(print: &'p Print<'p>) -> Vec<Page<'p>> {
    let watches: BTreeMap<_, _> = on_watch(print.view.night, print.view.rota)
        .into_iter()
        .map(|watch| ((watch.observer, watch.wearer, watch.busy.to), watch))
        .collect();
    let rows = events(&print.view).iter().map(|event| (ROW, row(&print.view, event, &watches))).collect();
    let room = print.paper.inside().1 - top_height(print) - COLUMNS - frame::FOOT;
    let mut pages = packed(rows, room, usize::MAX, |_| true);
    if pages.is_empty() {
        pages.push(vec![html! { tr { td colspan="10" { (NONE) ": no donning and no removal is planned" } } }]);
    }
    let page =
        |rows: Vec<Markup>| Page { part: Part::Observers, body: Box::new(move |place| sheet(print, place, &rows)) };
    pages.into_iter().map(page).collect()
}

fn events(view: &View<'_>) -> Vec<Event> {
    let mut all = Vec::new();
    for e in &view.rota.entries {
        let helped = view.night.room_ensemble(e.person).is_some_and(|kit| view.night.limits.ensemble(kit).assistant);
        let (donning, removal) = (donning_of_entry(view.night, e), Span::new(e.removal, e.off));
        all.push(donned(donning, e.person, e.donning_observer));
        let assisted = helped || e.assistant.is_some();
        all.push(Event { assisted, assistant: e.assistant, ..removed(removal, e.person, e.observer, e.lane) });
    }
    for p in &view.rota.posts {
        let kit = view.night.post_ensemble(p.role).map(|kit| view.night.limits.ensemble(kit));
        let is_assistant = p.role == crate::night::PostRole::Assistant;
        if p.donning_observer.is_some() || kit.is_some_and(|kit| kit.donning_watched) {
            all.push(donned(donning_of_post(view.night, p), p.person, p.donning_observer));
        }
        if p.observer.is_some() || is_assistant || kit.is_some_and(|kit| kit.removal_watched) {
            all.push(removed(Span::new(p.removal, p.off), p.person, p.observer, p.lane));
        }
    }
    all.sort_by_key(|event| (event.span, event.what, event.of));
    all
}

fn donned(span: Span, of: PersonIx, observer: Option<PersonIx>) -> Event {
    Event {
        span,
        what: "donning",
        of,
        lane: None,
        observer,
        role: Role::DonningObserver,
        assisted: false,
        assistant: None,
    }
}

fn removed(span: Span, of: PersonIx, observer: Option<PersonIx>, lane: Option<LaneIx>) -> Event {
    Event { what: "REMOVAL", lane, role: Role::DoffingObserver, ..donned(span, of, observer) }
}

type Watches = BTreeMap<(PersonIx, PersonIx, Minute), OnWatch>;

fn row(view: &View<'_>, event: &Event, watches: &Watches) -> Markup {
    let assistant = if event.assisted {
        (view.person_or_none(event.assistant), in_date(view, event.assistant, Role::Assistant))
    } else {
        ("none asked for".to_owned(), "-".to_owned())
    };
    html! {
        tr {
            th scope="row" { (view.wall().span(event.span)) }
            td { (event.what) }
            td { (view.person(event.of)) }
            td { (event.lane.map_or_else(|| "-".to_owned(), |lane| view.lane(Some(lane)))) }
            td.strong { (view.person_or_none(event.observer)) }
            td { (in_date(view, event.observer, event.role)) }
            td { (watched(view, event, watches)) }
            td { (last_break(view, event)) }
            td .strong[assistant.1 != "-"] { (assistant.0) }
            td { (assistant.1) }
        }
    }
}

/// The last day of the sign-off.
fn in_date(view: &View<'_>, who: Option<PersonIx>, role: Role) -> String {
    let day = who.and_then(|who| view.night.roster.person(who).signed_through(role));
    day.map_or_else(|| NONE.to_owned(), |day| day.format("%-d %b %Y").to_string())
}

/// Minutes on watch when it is over, shorter pauses included.
fn watched(view: &View<'_>, event: &Event, watches: &Watches) -> String {
    let reset = view.night.limits.observer_reset;
    let found = event.observer.and_then(|who| {
        // The reset follows a removal, except where the assistant's own comes at once.
        [event.span.to + reset, event.span.to].into_iter().find_map(|end| watches.get(&(who, event.of, end)))
    });
    found.map_or_else(|| NONE.to_owned(), |watch| format!("{} min", event.span.to - watch.since))
}

fn last_break(view: &View<'_>, event: &Event) -> String {
    let Some(who) = event.observer else { return NONE.to_owned() };
    let ended = view.rota.breaks.iter().filter(|taken| taken.person == who && taken.span.to <= event.span.from);
    let on_duty = view.night.roster.person(who).on_duty.from;
    ended.map(|taken| taken.span.to).max().map_or_else(
        || format!("NONE since {}", view.wall().time(on_duty)),
        |end| format!("to {}", view.wall().time(end)),
    )
}

fn sheet(print: &Print<'_>, place: Place, rows: &[Markup]) -> Markup {
    let names = [
        "time",
        "what",
        "of",
        "lane",
        "OBSERVER",
        "in date until",
        "on watch at its end",
        "last break",
        "ASSISTANT",
        "in date until",
    ];
    let body = html! {
        div.scroll tabindex="0" role="region" aria-label={ "Donnings and removals, page " (place.number) } {
            table.list {
                caption.unseen { "Every donning and removal" }
                thead { tr { @for name in names { th scope="col" { (name) } } } }
                tbody { @for row in rows { (row) } }
            }
        }
    };
    frame::page(print, Part::Observers, place, "every donning and removal", &body, &short_foot(print, place))
}
