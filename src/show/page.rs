//! A page of reference for the terminal, from the same page as it stands in the project's folders.

use super::text::{INDENT, columns, hanging, heading, padded, paragraph};

/// Columns for the first cell of a row; what it means hangs behind them.
const FIRST_CELL: usize = 22;

/// Sets a page written with `#` headings, paragraphs and tables of four columns
/// (key, value, required, meaning) for a screen.
#[must_use]
pub fn on_screen(page: &str) -> String {
    let mut out = String::new();
    let mut words: Vec<&str> = Vec::new();
    for line in page.lines().chain([""]) {
        let starts_anew = line.is_empty() || line.starts_with(['#', '|']);
        if starts_anew && !words.is_empty() {
            out += &paragraph(&without_marks(&words.join(" ")));
            words.clear();
        }
        if starts_anew { out += &special(line) } else { words.push(line) }
    }
    while out.ends_with("\n\n") {
        out.pop();
    }
    out
}

/// A heading, a row or an empty line.
fn special(line: &str) -> String {
    if let Some(title) = line.strip_prefix("### ") {
        return format!("{}\n", without_marks(title));
    }
    if line.starts_with('#') {
        return heading(&without_marks(line.trim_start_matches(['#', ' '])));
    }
    let cells: Vec<&str> = line.trim_matches('|').split(" | ").map(str::trim).collect();
    match cells[..] {
        ["key", ..] => String::new(),
        [key, value, required, meaning] => row(key, value, required, meaning),
        _ if line.starts_with('|') => String::new(),
        _ => "\n".to_owned(),
    }
}

/// The key, then what it means, then what may stand there. Only what is not required says so.
fn row(key: &str, value: &str, required: &str, meaning: &str) -> String {
    let needed = match required {
        "yes" => String::new(),
        "no" => "; may be left out".to_owned(),
        case => format!("; required {case}"),
    };
    let text = without_marks(&format!("{meaning} ({value}{needed})"));
    let label = format!("{}{}", " ".repeat(INDENT), without_marks(key));
    if columns(&label) < FIRST_CELL + INDENT {
        hanging(&padded(&label, FIRST_CELL + INDENT), &text)
    } else {
        format!("{label}\n{}", hanging(&" ".repeat(FIRST_CELL + INDENT), &text))
    }
}

fn without_marks(text: &str) -> String {
    text.replace('`', "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::show::WIDTH;

    #[test]
    fn every_page_fits_the_screen() {
        for page in [crate::check::rule_pages(), include_str!("../../constraints/KEYS.md").to_owned()] {
            let shown = on_screen(&page);
            assert!(shown.lines().all(|line| columns(line) <= WIDTH), "{shown}");
            assert!(!shown.contains('|') && !shown.contains('`') && !shown.contains('#'), "{shown}");
        }
    }

    #[test]
    fn a_page_of_each_kind_of_line() {
        let page = "# Keys\n\nTwo lines\nof text.\n\n### `[wear]`\n\n| key | value | required | meaning |\n|---|---|---|---|\n\
                    | `from` | \"a\" or \"b\" | yes | the start |\n| `to_the_very_last_minute` | time | no | the end |\n";
        let rest = "\n  Two lines of text.\n\n[wear]\n\n  from                  the start (\"a\" or \"b\")\n  \
                    to_the_very_last_minute\n                        the end (time; may be left out)\n";
        assert_eq!(on_screen(page), heading("Keys") + rest);
    }
}
