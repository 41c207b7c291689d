//! The same as CSV for spreadsheets and as JSON for scripts.
//!
//! CSV, one row to a donning or removal: `from`, `to` (ISO 8601, local time with offset), `what` (`donning`, `removal`),
//! `of`, `lane`, `observer`, `observer_until`, `on_watch_min`, `last_break`, `assistant`, `assistant_until`; then `yes`
//! or `NO` each for `there`, `in_date`, `distinct`, `free`, `rested`; `rules` (ids of what stands against it, blanks
//! between). Where there is none, the cell says `NONE`.
//!
//! JSON: `format`, `caution`, `training`, `review_overdue`, `roster`, `constraint_set`, `issue`, `verdict`, `proof`,
//! `donnings` and `removals` (`good`, `all`), `events` (the columns above, `null` for none, `rules` a list),
//! `beside` (ids of rules), `other_faults`, `not_checked` (`what`, `why`).

use serde::Serialize;

use super::verdict;
use crate::night::{Minute, PersonIx};
use crate::show::View;
use crate::show::csv::{harmless, written};
use crate::show::view::NONE;
use crate::training::{Ground, Proof, Watched, What};

/// The names of the columns, in order.
pub const HEADER: [&str; 17] = [
    "from",
    "to",
    "what",
    "of",
    "lane",
    "observer",
    "observer_until",
    "on_watch_min",
    "last_break",
    "assistant",
    "assistant_until",
    "there",
    "in_date",
    "distinct",
    "free",
    "rested",
    "rules",
];

/// Writes a row for every donning and removal, in order of time.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn csv(view: &View<'_>, proof: &Proof) -> Result<String, ::csv::Error> {
    written(&HEADER, proof.all.iter().map(|one| cells(&event(view, one))))
}

fn cells(event: &Event) -> [String; 17] {
    let text = |text: &Option<String>| text.as_deref().map_or_else(|| NONE.to_owned(), harmless);
    let yes = |good: bool| if good { "yes" } else { "NO" }.to_owned();
    [
        event.from.clone(),
        event.to.clone(),
        event.what.to_owned(),
        harmless(&event.of),
        text(&event.lane),
        text(&event.observer),
        text(&event.observer_until),
        event.on_watch_min.map_or_else(|| NONE.to_owned(), |minutes| minutes.to_string()),
        text(&event.last_break),
        text(&event.assistant),
        text(&event.assistant_until),
        yes(event.there),
        yes(event.in_date),
        yes(event.distinct),
        yes(event.free),
        yes(event.rested),
        if event.rules.is_empty() { NONE.to_owned() } else { event.rules.join(" ") },
    ]
}

#[derive(Serialize)]
#[expect(clippy::struct_excessive_bools, reason = "each is a column of its own")]
struct Event {
    from: String,
    to: String,
    what: &'static str,
    of: String,
    lane: Option<String>,
    observer: Option<String>,
    observer_until: Option<String>,
    on_watch_min: Option<i64>,
    last_break: Option<String>,
    assistant_asked_for: bool,
    assistant: Option<String>,
    assistant_until: Option<String>,
    there: bool,
    in_date: bool,
    distinct: bool,
    free: bool,
    rested: bool,
    rules: Vec<&'static str>,
}

fn event(view: &View<'_>, one: &Watched) -> Event {
    let iso = |at: Minute| view.wall().iso(at);
    let id = |who: Option<PersonIx>| who.map(|who| view.night.roster.person(who).id.clone());
    let good = |ground| !one.is_spoilt(view.review, ground);
    Event {
        from: iso(one.span.from),
        to: iso(one.span.to),
        what: match one.what {
            What::Donning => "donning",
            What::Removal => "removal",
        },
        of: view.night.roster.person(one.wearer).id.clone(),
        lane: one.lane.map(|lane| view.night.roster.lanes[lane.0].id.clone()),
        observer: id(one.observer),
        observer_until: one.observer_until(view.night).map(|day| day.to_string()),
        on_watch_min: one.on_watch.map(|minutes| minutes.0),
        last_break: one.last_break.map(iso),
        assistant_asked_for: one.assisted,
        assistant: id(one.assistant),
        assistant_until: one.assistant_until(view.night).map(|day| day.to_string()),
        there: good(Ground::There),
        in_date: good(Ground::InDate),
        distinct: good(Ground::Distinct),
        free: good(Ground::Free),
        rested: good(Ground::Rested),
        rules: rules(view, &one.faults),
    }
}

/// The ids of the rules, each once.
fn rules(view: &View<'_>, faults: &[usize]) -> Vec<&'static str> {
    let mut rules: Vec<_> = faults.iter().map(|&ix| view.review.faults[ix].rule).collect();
    rules.sort_unstable();
    rules.dedup();
    rules.into_iter().map(crate::night::Rule::id).collect()
}

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    caution: &'static str,
    training: bool,
    review_overdue: bool,
    roster: &'a str,
    constraint_set: &'a str,
    issue: u32,
    verdict: String,
    proof: bool,
    donnings: Counted,
    removals: Counted,
    events: Vec<Event>,
    beside: Vec<&'static str>,
    other_faults: usize,
    not_checked: Vec<Unchecked<'a>>,
}

#[derive(Serialize)]
struct Counted {
    good: usize,
    all: usize,
}

#[derive(Serialize)]
struct Unchecked<'a> {
    what: &'a str,
    why: &'a str,
}

/// Writes the proof, indented, with a newline at the end.
///
/// # Errors
/// When the JSON writer fails, which it does for none of these types.
pub fn json(view: &View<'_>, proof: &Proof) -> Result<String, serde_json::Error> {
    let counted = |what| {
        let count = proof.count(what);
        Counted { good: count.good, all: count.all }
    };
    let document = Document {
        format: crate::show::json::FORMAT,
        caution: crate::show::words::PLANNING_AID,
        training: view.is_training(),
        review_overdue: view.review_is_overdue(),
        roster: &view.night.roster.name,
        constraint_set: &view.night.limits.name,
        issue: view.rota.issue,
        verdict: verdict(proof),
        proof: proof.holds(),
        donnings: counted(What::Donning),
        removals: counted(What::Removal),
        events: proof.all.iter().map(|one| event(view, one)).collect(),
        beside: rules(view, &proof.beside),
        other_faults: proof.others,
        not_checked: view.review.not_checked.iter().map(|n| Unchecked { what: &n.what, why: &n.why }).collect(),
    };
    crate::show::json::indented(&document)
}
