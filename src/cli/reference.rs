//! `anteroom keys` and `anteroom rules`.

use super::console::Console;
use super::parts::Parts;
use super::status::{Failure, Status};
use crate::night::Rule;
use crate::show::page::on_screen;

/// Prints every key of the files.
pub fn keys(parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    console.answer(&on_screen(&parts.key_reference())).map(|()| Status::Covered)
}

/// Prints one rule's page, or all of them.
pub fn rules(id: Option<&str>, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let pages = parts.rule_pages();
    let text = match id {
        None => pages,
        Some(id) => page(&pages, rule(id)?),
    };
    console.answer(&on_screen(&text)).map(|()| Status::Covered)
}

/// The rule of an id, however it is written.
pub fn rule(id: &str) -> Result<Rule, Failure> {
    Rule::ALL.iter().copied().find(|rule| rule.id().eq_ignore_ascii_case(id)).ok_or_else(|| {
        let known: Vec<_> = Rule::ALL.iter().map(|rule| rule.id()).collect();
        Failure::refused(format!("There is no rule \"{}\". There are: {}.", id.escape_default(), known.join(", ")))
    })
}

/// The part of `pages` under the heading of `rule`, up to the next rule.
fn page(pages: &str, rule: Rule) -> String {
    let start = format!("## {} ", rule.id());
    let lines = pages.lines().skip_while(|line| !line.starts_with(&start));
    let own = lines.enumerate().take_while(|(ix, line)| *ix == 0 || !line.starts_with("## "));
    let own: Vec<_> = own.map(|(_, line)| line).collect();
    own.join("\n").trim_end().to_owned() + "\n"
}
