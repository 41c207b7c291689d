//! Tables without rules: arranged by the table library, then set below a heading.

use comfy_table::{ColumnConstraint, ContentArrangement, Table, Width, presets};

use crate::show::text::{INDENT, WIDTH, plain};

/// Blank columns between two columns of a table.
const GUTTER: usize = 2;

/// A table without rules below a heading. Columns take what they need; long cells are broken.
pub fn table(header: &[&str], rows: &[Vec<String>]) -> String {
    drawn(header, rows, None)
}

/// A table whose columns are as wide as `widths` says, so that several line up below each other.
pub fn aligned(widths: &[usize], header: &[&str], rows: &[Vec<String>]) -> String {
    drawn(header, rows, Some(widths))
}

fn drawn(header: &[&str], rows: &[Vec<String>], widths: Option<&[usize]>) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_content_arrangement(ContentArrangement::Dynamic);
    table.set_width(to_u16(WIDTH - INDENT));
    // Header cells are an ordinary first row: all that sets them off is their place.
    if !header.is_empty() {
        table.add_row(header.iter().map(|&h| h.to_owned()).collect::<Vec<_>>());
    }
    for row in rows {
        table.add_row(row.iter().map(|cell| plain(cell)).collect::<Vec<_>>());
    }
    let last = table.column_count().saturating_sub(1);
    for (ix, column) in table.column_iter_mut().enumerate() {
        let gutter = if ix == last { 0 } else { GUTTER };
        column.set_padding((0, to_u16(gutter)));
        if let Some(&width) = widths.and_then(|w| w.get(ix)) {
            column.set_constraint(ColumnConstraint::Absolute(Width::Fixed(to_u16(width + gutter))));
        }
    }
    table.lines().map(|line| format!("{}{line}", " ".repeat(INDENT)).trim_end().to_owned() + "\n").collect()
}

fn to_u16(width: usize) -> u16 {
    u16::try_from(width).unwrap_or(u16::MAX)
}
