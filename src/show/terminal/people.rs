//! Everybody's duties in order of time.

use super::entries::passed;
use crate::night::PersonIx;
use crate::show::View;
use crate::show::mine::{Mine, everybody};
use crate::show::text::{hanging, heading, padded, paragraph};

/// A block to a person: what they may do, then every duty.
#[must_use]
pub fn people(view: &View<'_>) -> String {
    let roster = &view.night.roster;
    if roster.people.is_empty() {
        return heading("PEOPLE") + &paragraph("NONE: nobody is on this roster.");
    }
    let all = everybody(view);
    let block = |ix| title(view, ix) + &listed(view, all.get(&ix).map_or(&[], Vec::as_slice));
    heading("PEOPLE") + &roster.person_indices().map(block).collect::<Vec<_>>().join("\n")
}

fn listed(view: &View<'_>, lines: &[Mine]) -> String {
    if lines.is_empty() {
        return paragraph("NONE: no duty tonight");
    }
    let mut out = String::new();
    let mut last = None;
    for mine in lines {
        let mark = passed(view, last, mine.span.from);
        out += mark.trim_start_matches('\n').trim_end_matches('\n');
        out += if mark.trim().is_empty() { "" } else { "\n" };
        out += &line(view, mine);
        last = Some(mine.span.from);
    }
    out
}

fn line(view: &View<'_>, mine: &Mine) -> String {
    let after = mine.after.as_ref().map_or_else(String::new, |after| hanging("               ", after));
    hanging(&format!("  {}  ", view.wall().span(mine.span)), &mine.text) + &after
}

fn title(view: &View<'_>, ix: PersonIx) -> String {
    let duty = view.night.roster.person(ix).on_duty;
    let may = view.explained.eligibility.iter().find(|(who, _)| *who == ix);
    let may = may.map_or_else(String::new, |(_, words)| format!("; {words}"));
    hanging(&format!("{}  ", padded(&view.person(ix), 3)), &format!("on duty {}{may}", view.wall().span(duty)))
}
