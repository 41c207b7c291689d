//! Lines of plain text, never wider than [`WIDTH`].

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// The width of every screen in columns.
pub const WIDTH: usize = 80;

/// Blank columns at the left of everything below a heading.
pub const INDENT: usize = 2;

/// The widest label that text is hung behind; a wider one is text itself.
const LABEL_MAX: usize = 70;

/// `text` without anything that steers a terminal or turns the direction of
/// reading: each such character becomes a question mark.
pub fn plain(text: &str) -> String {
    text.chars().map(|c| if steers(c) { '?' } else { c }).collect()
}

fn steers(c: char) -> bool {
    c.is_control() || matches!(c, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Columns that `text` takes, counted so that no terminal shows it wider.
pub fn columns(text: &str) -> usize {
    text.width().max(text.chars().map(char_columns).sum())
}

fn char_columns(c: char) -> usize {
    c.width().unwrap_or(1)
}

/// `text` followed by blanks up to `width`.
pub fn padded(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(columns(text))))
}

/// A heading over the full width.
pub fn heading(title: &str) -> String {
    let start = format!("== {title} ");
    format!("{start}{}\n", "=".repeat(WIDTH.saturating_sub(columns(&start))))
}

/// A rule over the full width with words in it.
pub fn rule(words: &str) -> String {
    format!("{:-^WIDTH$}\n", format!(" {words} "))
}

/// `text` behind `label`, broken between words; further lines start below the first word.
pub fn hanging(label: &str, text: &str) -> String {
    let label = plain(label);
    let hang = columns(&label);
    if hang > LABEL_MAX {
        return hanging(&" ".repeat(INDENT), &format!("{label}{text}"));
    }
    let mut lines = broken(&plain(text), WIDTH - hang).into_iter();
    let first = format!("{label}{}", lines.next().unwrap_or_default());
    let rest = lines.map(|line| format!("{}{line}", " ".repeat(hang)));
    std::iter::once(first.trim_end().to_owned()).chain(rest).collect::<Vec<_>>().join("\n") + "\n"
}

/// `text` as a paragraph below a heading.
pub fn paragraph(text: &str) -> String {
    hanging(&" ".repeat(INDENT), text)
}

/// Lines of at most `room` columns.
fn broken(text: &str, room: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        add_word(&mut lines, word, room);
    }
    lines
}

fn add_word(lines: &mut Vec<String>, word: &str, room: usize) {
    let used = lines.last().map_or(0, |l| columns(l));
    if used > 0 && used + 1 + columns(word) <= room {
        push(lines, " ");
    } else if used > 0 {
        lines.push(String::new());
    }
    // A word too long for a line of its own is broken where the line ends.
    let mut used = lines.last().map_or(0, |l| columns(l));
    for c in word.chars() {
        if used + char_columns(c) > room && used > 0 {
            lines.push(String::new());
            used = 0;
        }
        used += char_columns(c);
        push(lines, c.encode_utf8(&mut [0; 4]));
    }
}

fn push(lines: &mut [String], piece: &str) {
    if let Some(line) = lines.last_mut() {
        line.push_str(piece);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_words_and_wide_letters_stay_inside() {
        let text = format!("{} {} end", "x".repeat(200), "\u{1f642}".repeat(90));
        for line in hanging("  label: ", &text).lines() {
            assert!(columns(line) <= WIDTH, "{line}");
        }
    }

    #[test]
    fn nothing_steers_the_terminal() {
        assert_eq!(plain("a\u{1b}[2Jb\nc\u{202e}"), "a?[2Jb?c?");
    }

    #[test]
    fn further_lines_hang_below_the_first_word() {
        let text = "word ".repeat(20);
        let out = hanging("  fix: ", &text);
        let mut lines = out.lines();
        assert!(lines.next().is_some_and(|l| l.starts_with("  fix: word word")));
        assert!(lines.next().is_some_and(|l| l.starts_with("       word")));
    }
}
