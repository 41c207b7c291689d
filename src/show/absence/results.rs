//! Files between runs: the list of nights, and what a share of the cases came to.
//!
//! Neither names a person: whoever has roster, limits and the other inputs works out who is missing in which case.

use std::fmt::Write as _;

use crate::staffing::absence::list::{Crew, List};
use crate::staffing::absence::outcome::{Outcome, Proof};
use crate::staffing::absence::part::MadeFrom;
use crate::staffing::absence::work::{Known, Settled, Share};

/// What a share came to, as [`crate::read`] reads it: what it was made from, the share, a row to a case, and a last row
/// with their number, by which a file that was cut off is known.
#[must_use]
pub fn results(made_from: &MadeFrom, share: Share, known: &Known) -> String {
    let mut text = "anteroom absence results,1\n".to_owned();
    for (name, value) in made_from {
        // Writing into a String cannot fail.
        let _ = writeln!(text, "{name},{value}");
    }
    let _ = writeln!(text, "share,{},{}", share.number(), share.of());
    let _ = writeln!(text, "case,how,certain,rescue,uncovered,must,skill,wanted");
    for (case, settled) in known {
        let _ = match settled {
            Settled::Follows => writeln!(text, "{case},follows,,,,,,"),
            Settled::Planned(outcome) => writeln!(text, "{case},planned,{}", row(outcome)),
        };
    }
    let _ = writeln!(text, "end,{}", known.len());
    text
}

fn row(outcome: &Outcome) -> String {
    let missed = &outcome.missed;
    let certain = match outcome.proof {
        Proof::None => "no",
        Proof::Gap => "gap",
        Proof::Amount => "amount",
    };
    let uncovered: Vec<String> = missed.uncovered.iter().map(ToString::to_string).collect();
    format!("{certain},{},{},{},{},{}", missed.rescue, uncovered.join(" "), missed.must, missed.skill, missed.wanted)
}

/// The nights: `crew`, `night`, `missing` (people), `case`.
#[must_use]
pub fn nights(crews: &[Crew], list: &List) -> String {
    let mut text = "crew,night,missing,case\n".to_owned();
    for (place, crew) in crews.iter().enumerate() {
        for (night, &case) in list.nights(place).iter().enumerate() {
            let missing = list.cases()[case].len() - crew.without.len();
            let _ = writeln!(text, "{},{},{missing},{case}", place + 1, night + 1);
        }
    }
    text
}

/// The cases: `case`, `not_there` (people of the roster), `nights` (of all crews).
#[must_use]
pub fn cases(list: &List) -> String {
    let mut text = "case,not_there,nights\n".to_owned();
    for (case, (missing, nights)) in list.cases().iter().zip(list.counts()).enumerate() {
        let _ = writeln!(text, "{case},{},{nights}", missing.len());
    }
    text
}

/// What the list was made from: `name`, `value`.
#[must_use]
pub fn made_from(made_from: &MadeFrom) -> String {
    let rows = made_from.iter().map(|(name, value)| format!("{name},{value}\n"));
    std::iter::once("name,value\n".to_owned()).chain(rows).collect::<Vec<_>>().concat()
}
