//! The educator's table on the screen.

use super::{others, row, verdict};
use crate::show::View;
use crate::show::terminal::table::table;
use crate::show::terminal::{fault_line, names, not_checked};
use crate::show::text::{hanging, heading, paragraph};
use crate::show::warnings::warnings;
use crate::show::words::PLANNING_AID;
use crate::training::{Proof, Watched};

/// The answer first, then every donning and removal, then what stands against which.
#[must_use]
pub fn screen(view: &View<'_>, proof: &Proof) -> String {
    let warnings: String = warnings(view).iter().map(|w| hanging("", w)).collect();
    let gap = if warnings.is_empty() { "" } else { "\n" };
    heading("OBSERVERS")
        + &names(view)
        + gap
        + &warnings
        + "\n"
        + &hanging("", &verdict(proof))
        + &others(proof).map_or_else(String::new, |text| hanging("", &text))
        + "\n"
        + &everything(view, proof)
        + "\n"
        + &against(view, proof)
        + &not_checked(view)
        + "\n"
        + &hanging("", &format!("{PLANNING_AID} A date in a file is not yet competence."))
}

fn everything(view: &View<'_>, proof: &Proof) -> String {
    let title = heading("EVERY DONNING AND REMOVAL");
    if proof.all.is_empty() {
        return title + &paragraph("NONE is planned.");
    }
    let header = ["time", "what", "lane", "OBSERVER", "watch", "break", "ASSISTANT", "ok"];
    let rows: Vec<Vec<String>> = proof.all.iter().map(|one| cells(view, one)).collect();
    title
        + &table(&header, &rows)
        + "\n"
        + &paragraph(
            "With each name the last day of the sign-off. watch: minutes on watch when it is over, short pauses \
             included. break: when the observer's last break ended. ok: in date, rested, free and not the same \
             person twice.",
        )
}

fn cells(view: &View<'_>, one: &Watched) -> Vec<String> {
    let words = row(view, one);
    let named = |who: &str, until: Option<chrono::NaiveDate>| {
        until.map_or_else(|| format!("{who} -"), |day| format!("{who} {day}"))
    };
    let dash = || "-".to_owned();
    vec![
        words.time,
        format!("{} {}", words.what, words.of),
        words.lane,
        named(&words.observer, one.observer_until(view.night)),
        one.on_watch.map_or_else(dash, |minutes| minutes.to_string()),
        one.last_break.map_or_else(|| "none".to_owned(), |end| view.wall().time(end)),
        if one.assisted { named(&words.assistant, one.assistant_until(view.night)) } else { dash() },
        if one.faults.is_empty() { "yes" } else { "NO" }.to_owned(),
    ]
}

/// Each that is not as it should be, with the rules and times that the check names.
fn against(view: &View<'_>, proof: &Proof) -> String {
    if proof.holds() {
        return String::new();
    }
    let mut text = heading("WHAT STANDS AGAINST IT");
    for one in proof.all.iter().filter(|one| !one.faults.is_empty()) {
        let words = row(view, one);
        text += &paragraph(&format!("{} {} {}", words.time, words.what, words.of));
        text += &faults(view, &one.faults);
        text += "\n";
    }
    if !proof.beside.is_empty() {
        text += &paragraph("Faults that belong to no donning or removal of the list");
        text += &faults(view, &proof.beside);
        text += "\n";
    }
    text
}

fn faults(view: &View<'_>, faults: &[usize]) -> String {
    faults.iter().enumerate().map(|(ix, &fault)| fault_line(view, ix + 1, &view.review.faults[fault])).collect()
}
