//! What the independent check says, and what it does not.

use crate::check::{Fault, NotChecked};
use crate::night::{Rule, Span};
use crate::show::View;
use crate::show::text::{hanging, heading, paragraph};
use crate::show::warnings::faults_in_words;
use crate::show::words;

/// `checked: 0 faults`, or every fault with its rule.
#[must_use]
pub fn verdict(view: &View<'_>) -> String {
    let faults = &view.review.faults;
    let lines: String = faults.iter().enumerate().map(|(ix, fault)| line(view, ix + 1, fault)).collect();
    heading("CHECK")
        + &hanging("  checked: ", &faults_in_words(faults.len()))
        + &hanging("  counted: ", &counted(view))
        + &lines
}

/// What is not covered, as the check itself counts it.
fn counted(view: &View<'_>) -> String {
    let measures = &view.review.measures;
    let short: i64 = measures.uncovered.values().map(|m| m.0).sum();
    let tasks = measures.must_missed + measures.wanted_missed;
    let skill = if view.night.roster.skill_cover.is_empty() {
        String::new()
    } else {
        format!(", skill missing {} person-min", measures.skill_missing)
    };
    format!("presence short {short} person-min, tasks not done {tasks}{skill}")
}

/// One fault with its rule, time and sentence, under a number.
#[must_use]
pub fn line(view: &View<'_>, number: usize, fault: &Fault) -> String {
    let wall = view.wall();
    let when = format!("{}{}", wall.day_and_time(fault.span.from), until(view, fault));
    let by = amount(fault).map_or_else(String::new, |by| format!(": missed {by}"));
    let who = if fault.people.is_empty() { String::new() } else { format!(" ({})", view.people(&fault.people)) };
    let rule = format!("{} {}", fault.rule.id(), fault.rule.words());
    format!("\n{}", hanging(&format!("{number:>3}  "), &format!("{rule}{by}{who}")))
        + &hanging("     ", &when)
        + &hanging("     ", &fault.what)
}

/// By how much; never of a personal limit.
fn amount(fault: &Fault) -> Option<String> {
    fault.by.filter(|_| fault.rule != Rule::A8).map(words::by)
}

fn until(view: &View<'_>, fault: &Fault) -> String {
    let (wall, Span { from, to }) = (view.wall(), fault.span);
    if fault.span.is_empty() {
        String::new()
    } else if wall.day(from) == wall.day(to) {
        format!(" to {}", wall.time(to))
    } else {
        format!(" to {}", wall.day_and_time(to))
    }
}

/// Rules, or parts of rules, that nobody looked at.
#[must_use]
pub fn not_checked(view: &View<'_>) -> String {
    unchecked(&view.review.not_checked)
}

/// The same, of any list of them.
#[must_use]
pub fn unchecked(all: &[NotChecked]) -> String {
    if all.is_empty() {
        return heading("NOT CHECKED") + &paragraph("NONE: every rule planned for was checked.");
    }
    heading("NOT CHECKED") + &all.iter().map(|n| hanging("  - ", &format!("{}: {}", n.what, n.why))).collect::<String>()
}
