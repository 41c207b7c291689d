//! Draws a message and the user's own line, at most 80 columns wide.

use unicode_width::UnicodeWidthChar as _;
use unicode_width::UnicodeWidthStr as _;

use super::source::{LineIndex, Spot};

/// Columns of a message and of a drawn line.
const COLUMNS: usize = 80;
/// Columns a tab stop is wide.
const TAB: usize = 4;
/// Columns before the user's text: line number and bar.
const MARGIN: usize = 8;

/// Breaks a message into lines; all but the first are set in by two.
pub(super) fn wrapped(message: &str) -> String {
    let mut text = String::new();
    let mut column = 0;
    for word in message.split(' ').filter(|word| !word.is_empty()) {
        let width = word.width();
        if column > 0 && column + 1 + width > COLUMNS {
            text.push_str("\n  ");
            column = 2;
        } else if column > 0 {
            text.push(' ');
            column += 1;
        }
        text.push_str(word);
        column += width;
    }
    text.push('\n');
    text
}

/// The marked line, and above or below it the line it is compared with.
pub(super) fn picture(lines: &LineIndex<'_>, at: Spot, also: Option<Spot>) -> Vec<String> {
    let mut marked = vec![(at, '^')];
    if let Some(also) = also.filter(|also| lines.number(also.from) != lines.number(at.from)) {
        marked.push((also, '-'));
    }
    marked.sort_by_key(|(spot, _)| spot.from);
    marked.into_iter().flat_map(|(spot, mark)| marked_line(lines, spot, mark)).collect()
}

fn marked_line(lines: &LineIndex<'_>, spot: Spot, mark: char) -> [String; 2] {
    let number = lines.number(spot.from);
    let start = lines.start(number);
    let (from, to) = (spot.from - start, spot.to.saturating_sub(start));
    let cells = cropped(window(lines.line(number), from, to));
    let text: String = cells.iter().map(|cell| cell.shown.as_str()).collect();
    let marks: String = cells.iter().map(|cell| mark_under(cell, mark)).collect();
    let marks = if marks.trim().is_empty() { format!("{marks}{mark}") } else { marks };
    [format!("{number:>5} | {}", text.trim_end()).trim_end().to_owned(), format!("      | {}", marks.trim_end())]
}

/// The cells around the marked bytes: of a line of a million characters, only those that may be shown.
fn window(line: &str, from: usize, to: usize) -> Vec<Cell> {
    const NEAR: usize = 512;
    let first = line.floor_char_boundary(from.saturating_sub(NEAR));
    let last = line.ceil_char_boundary(from.saturating_add(NEAR));
    let near = line.get(first..last.max(first)).unwrap_or("");
    let mut cells = cells(near, from - first, to.saturating_sub(first));
    if last < line.len() {
        cells.push(dots());
    }
    cells
}

fn mark_under(cell: &Cell, mark: char) -> String {
    let sign = if cell.marked { mark } else { ' ' };
    std::iter::repeat_n(sign, cell.width).collect()
}

/// One character of the user's line as it is shown.
#[derive(Clone)]
struct Cell {
    shown: String,
    width: usize,
    marked: bool,
}

/// The line's characters with tabs as spaces and invisible ones made visible;
/// those in the bytes `[from, to)` are marked, at least one if there is one.
fn cells(line: &str, from: usize, to: usize) -> Vec<Cell> {
    let to = to.max(from.saturating_add(1));
    let mut column = 0;
    let mut cells = Vec::new();
    for (at, c) in line.char_indices() {
        let marked = at + c.len_utf8() > from && at < to;
        let cell = cell(c, column, marked);
        column += cell.width;
        cells.push(cell);
    }
    cells
}

fn cell(c: char, column: usize, marked: bool) -> Cell {
    if c == '\t' {
        let width = TAB - column % TAB;
        return Cell { shown: " ".repeat(width), width, marked };
    }
    let shown = if is_invisible(c) { '\u{fffd}' } else { c };
    Cell { shown: shown.to_string(), width: shown.width().unwrap_or(1), marked }
}

/// Characters that would move the cursor or turn the text round.
fn is_invisible(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

/// A window of the line that fits and holds the first marked cell.
fn cropped(cells: Vec<Cell>) -> Vec<Cell> {
    let room = COLUMNS - MARGIN;
    if cells.iter().map(|cell| cell.width).sum::<usize>() <= room {
        return cells;
    }
    let marked = cells.iter().position(|cell| cell.marked).unwrap_or(cells.len());
    // A quarter of the room fits before the mark even when every character is two columns wide.
    let from = marked.saturating_sub(room / 4);
    let dots_width = dots().width;
    let mut left = room - dots_width - if from > 0 { dots_width } else { 0 };
    let kept: Vec<Cell> = cells
        .iter()
        .skip(from)
        .take_while(|cell| {
            let fits = cell.width <= left;
            left = left.saturating_sub(cell.width);
            fits
        })
        .cloned()
        .collect();
    let after = from + kept.len() < cells.len();
    let before = (from > 0).then(dots);
    before.into_iter().chain(kept).chain(after.then(dots)).collect()
}

fn dots() -> Cell {
    Cell { shown: "...".to_owned(), width: 3, marked: false }
}

/// A user's text for a message: in quotes, on one line, not too long.
pub(super) fn quoted(text: &str) -> String {
    const MOST: usize = 40;
    let mut shown: String = text.chars().take(MOST).map(|c| if is_invisible(c) { '\u{fffd}' } else { c }).collect();
    if text.chars().nth(MOST).is_some() {
        shown.push_str("...");
    }
    format!("\"{shown}\"")
}
