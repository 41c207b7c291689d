//! What is not covered, worst first, and what would close it.

use crate::explain::Gap;
use crate::show::View;
use crate::show::text::{hanging, heading, paragraph, plain};

/// Every gap with its severity word, what is short and the smallest change that closes it.
#[must_use]
pub fn gaps(view: &View<'_>) -> String {
    let gaps = &view.explained.gaps;
    let title = heading("GAPS, WORST FIRST");
    if gaps.is_empty() {
        let words = if view.has_gaps() {
            "Not explained. The check counts what is not covered: see there."
        } else {
            "NONE: everything asked for is covered."
        };
        return title + &paragraph(words);
    }
    let blocks: String = gaps.iter().enumerate().map(|(ix, gap)| block(view, ix + 1, gap)).collect();
    title + &blocks + &fixes(view)
}

fn block(view: &View<'_>, number: usize, gap: &Gap) -> String {
    let label = format!("GAP {number:<2} ## {} {} ##  ", gap.word(), view.wall().span(gap.span));
    let subject = match (gap.task, gap.class, &gap.skill) {
        (Some(task), _, _) => format!(": {}", view.task(task)),
        (None, Some(class), _) => format!(", class {class}"),
        (None, None, Some(skill)) => format!(": {}", plain(skill)),
        (None, None, None) => String::new(),
    };
    let fix = gap.fix.as_deref().unwrap_or("no single change that was tried closes it");
    hanging(&label, &format!("room {}{subject}", view.room(gap.room)))
        + &short(gap)
        + &hanging("       why: ", &gap.what)
        + &hanging("       fix: ", fix)
}

fn short(gap: &Gap) -> String {
    let Some((needed, inside)) = gap.short else {
        return String::new();
    };
    let inside = if inside == 0 { "nobody".to_owned() } else { inside.to_string() };
    let minutes = gap.span.length();
    hanging("       short: ", &format!("{needed} needed, {inside} inside, for {minutes} min"))
}

fn fixes(view: &View<'_>) -> String {
    let fixes = &view.explained.fixes;
    if fixes.is_empty() {
        return String::new();
    }
    let lines: String = fixes.iter().map(|fix| hanging("  -> ", fix)).collect();
    format!("\n{lines}")
}
