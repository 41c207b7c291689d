//! What a rule costs tonight: two nights side by side, level by level.

use super::terminal::table::table as drawn;
use super::text::{heading, paragraph};
use super::words;
use crate::night::Rule;
use crate::plan::{Level, LevelResult};

/// Every level with the rule and without it.
#[must_use]
pub fn table(rule: Rule, with: &[LevelResult], without: &[LevelResult]) -> String {
    let mut all: Vec<Level> = with.iter().map(|result| result.level).collect();
    // A level that only one of the two has stands where that night has it.
    for (place, result) in without.iter().enumerate() {
        if !all.contains(&result.level) {
            all.insert(place.min(all.len()), result.level);
        }
    }
    let rows: Vec<_> = all.into_iter().map(|level| row(level, found(with, level), found(without, level))).collect();
    heading("WHAT A RULE COSTS TONIGHT")
        + &paragraph(&format!("{} {}", rule.id(), rule.words()))
        + "\n"
        + &drawn(&["in this order", "with it", "without", "difference"], &rows)
        + "\n"
        + &paragraph(&told(with, without))
        + &paragraph(
            "No rota is shown: the one without the rule is not to be worked by. PLANNING AID ONLY: your unit's \
             procedures and your own judgement come first.",
        )
}

fn found(results: &[LevelResult], level: Level) -> Option<LevelResult> {
    results.iter().find(|result| result.level == level).copied()
}

fn row(level: Level, with: Option<LevelResult>, without: Option<LevelResult>) -> Vec<String> {
    let amount = |result: Option<LevelResult>| {
        result.map_or_else(
            || "-".to_owned(),
            |r| {
                let open = if r.proven() { "" } else { " *" };
                words::amount(level, r.value) + open
            },
        )
    };
    let difference = with.zip(without).map_or(0, |(with, without)| with.value - without.value);
    let difference = match difference {
        0 => String::new(),
        more => format!("{more:+}"),
    };
    vec![words::level(level), amount(with), amount(without), difference]
}

/// The first level that differs decides; a best-found figure may hide a difference or make one.
fn told(with: &[LevelResult], without: &[LevelResult]) -> String {
    let first = with.iter().find_map(|a| found(without, a.level).filter(|b| a.value != b.value).map(|b| (*a, b)));
    let open = with.iter().chain(without).any(|r| !r.proven());
    let mut text = match first {
        None => "The rule costs nothing that is counted.".to_owned(),
        Some((a, b)) => format!(
            "The first line that differs decides: {} {} with the rule, {} without.",
            words::level(a.level),
            words::amount(a.level, a.value),
            words::amount(b.level, b.value)
        ),
    };
    if open {
        text.push_str(" Figures with * are the best found, not proven best: a small difference may be the search's.");
    }
    text
}
