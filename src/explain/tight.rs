//! Entries that are covered with too little to spare (levels 7, TIGHT).

use super::{Gap, Severity};
use crate::check::out_by;
use crate::night::{Entry, Minutes, Night, Rota, Span};

/// One gap for each entry with less between planned out and OUT-BY than the
/// unit's figure, by time. People who go in together are one entry.
pub fn tight(night: &Night, rota: &Rota) -> Vec<Gap> {
    let figure = night.limits.spare;
    let latest = out_by(night, rota);
    let spare: Vec<(&Entry, Minutes)> =
        rota.entries.iter().zip(&latest).map(|(entry, &out_by)| (entry, out_by - entry.door_out)).collect();
    let together = spare.chunk_by(|a, b| a.0.number == b.0.number);
    let entries = together.filter_map(|all| all.iter().min_by_key(|(_, spare)| *spare)).copied();
    let mut gaps: Vec<Gap> =
        entries.filter(|(_, spare)| *spare < figure).map(|(entry, spare)| gap(night, entry, spare)).collect();
    gaps.sort_by_key(|gap| (gap.span, gap.room));
    gaps
}

fn gap(night: &Night, entry: &Entry, spare: Minutes) -> Gap {
    let figure = night.limits.spare;
    let (out, earlier) = (night.roster.clock.hhmm(entry.door_out), figure - spare);
    let what = format!(
        "Entry {} is planned out at {out} with {spare} min to spare; the unit's figure is {figure}.",
        entry.number
    );
    Gap {
        severity: Severity::Tight,
        span: Span::new(entry.door_out, entry.door_out + figure),
        room: entry.room,
        class: None,
        task: None,
        skill: None,
        posted: what.clone(),
        what,
        short: None,
        fix: Some(format!("out {earlier} min earlier, if the care allows; not tried")),
    }
}
