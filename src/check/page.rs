//! The page of each rule: what it does, why, the formula, what is counted, the source.

use std::fmt::Write as _;

use super::{
    apart, available, breaks, donning, doors, duties, early_exit, entry, helpers, hours, lanes, low_hours, outby, pins,
    presence, removal, rescue, respirators, rest, rolling, room,
};
use super::{showers, sign_off, skill, stock, supervised, tasks, watching, wear};
use crate::night::Rule;

/// One rule in words, under fixed headings. The text stands beside the code that checks it.
pub(super) struct Page {
    /// What it does.
    pub(super) does: &'static str,
    /// Why.
    pub(super) why: &'static str,
    /// Formula.
    pub(super) formula: &'static str,
    /// What the check counts.
    pub(super) counts: &'static str,
    /// Source.
    pub(super) source: &'static str,
}

/// Said of rules that no published source states.
pub(super) const COMMON_PRACTICE: &str = "Common practice, no source.";

const fn page(rule: Rule) -> &'static Page {
    match rule {
        Rule::A1 => &sign_off::A1,
        Rule::A2 => &sign_off::A2,
        Rule::A3 => &available::A3,
        Rule::A4 => &available::A4,
        Rule::A5 => &supervised::A5,
        Rule::A6 => &apart::A6,
        Rule::A7 => &duties::A7,
        Rule::A8 => &wear::A8,
        Rule::A9 => &sign_off::A9,
        Rule::B1 => &entry::B1,
        Rule::B2 => &wear::B2,
        Rule::B3 => &outby::B3,
        Rule::B4 => &rest::B4,
        Rule::B5 => &rest::B5,
        Rule::B6 => &wear::B6,
        Rule::B7 => &rolling::B7,
        Rule::B8 => &entry::B8,
        Rule::B9 => &entry::B9,
        Rule::B10 => &low_hours::B10,
        Rule::C1 => &removal::C1,
        Rule::C2 => &removal::C2,
        Rule::C3 => &helpers::C3,
        Rule::C4 => &removal::C4,
        Rule::C5 => &helpers::C5,
        Rule::C6 => &donning::C6,
        Rule::C7 => &removal::C7,
        Rule::C8 => &early_exit::C8,
        Rule::C9 => &lanes::C9,
        Rule::C10 => &duties::C10,
        Rule::C11 => &watching::C11,
        Rule::D1 => &room::D1,
        Rule::D2 => &room::D2,
        Rule::D3 => &room::D3,
        Rule::D4 => &presence::D4,
        Rule::D5 => &tasks::D5,
        Rule::D6 => &skill::D6,
        Rule::D8 => &doors::D8,
        Rule::E1 => &rescue::E1,
        Rule::F1 => &available::F1,
        Rule::F2 => &showers::F2,
        Rule::F3 => &breaks::F3,
        Rule::F4 => &available::F4,
        Rule::F7 => &rescue::F7,
        Rule::F8 => &hours::F8,
        Rule::G1 => &stock::G1,
        Rule::G2 => &respirators::G2,
        Rule::H6 => &pins::H6,
    }
}

/// Every rule the check knows, one page each, in Markdown.
#[must_use]
pub fn rule_pages() -> String {
    let mut text = String::from(
        "# What the check looks at\n\n\
         Every minute is half-open, `[start, end)`: touching is not overlapping. The limits are the unit's own.\n\
         The symbols are those of the constraint set: `W` longest wear, `m` margin, `C` wear in the shift, `r` rest,\n\
         `o` relief overlap, `d` donning, `f` removal, `t` cleaning, `V` longest watch, `b` the pause that ends a\n\
         watch.\n",
    );
    for &rule in Rule::ALL {
        let Page { does, why, formula, counts, source } = page(rule);
        // Writing to a string cannot fail.
        let _ = write!(
            text,
            "\n## {} {}\n\n### What it does\n{does}\n\n### Why\n{why}\n\n### Formula\n`{formula}`\n\n\
             ### What the check counts\n{counts}\n\n### Source\n{source}\n",
            rule.id(),
            rule.words(),
        );
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_printed_pages_are_these_pages() {
        let printed = include_str!("rules.md");
        assert!(printed == rule_pages(), "rules.md is out of date: run the ignored test write_the_printed_pages");
    }

    #[test]
    #[ignore = "writes src/check/rules.md"]
    fn write_the_printed_pages() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/src/check/rules.md");
        std::fs::write(path, rule_pages()).expect("src/check/rules.md can be written");
    }
}
