//! What goes on the wall: entries, tasks and gaps in order of time.

use super::table::aligned;
use crate::night::{Entry, Minute, Span, Stint};
use crate::show::relief::relieved_by;
use crate::show::text::{INDENT, columns, hanging, heading, paragraph, plain, rule};
use crate::show::view::NONE;
use crate::show::{View, WIDTH};

/// The widest that each column of a person's row may be; the lane has what is left.
const MOST: [usize; 7] = [4, 14, 6, 6, 13, 8, 9];

/// One block to an entry, with gaps and tasks in place between them.
#[must_use]
pub fn entries(view: &View<'_>) -> String {
    let mut out = heading("ENTRIES");
    let rows = rows(view);
    if rows.is_empty() {
        return out + &paragraph("NONE: nobody is planned into a room, and nothing is short.");
    }
    let people: Vec<_> = (0..view.rota.entries.len()).map(|ix| person(view, ix)).collect();
    let widths = widths(&people);
    out += &clean_side(view);
    let mut last = None;
    for (at, row) in rows {
        out += &passed(view, last, at);
        out += &match row {
            Row::Entry(group) => entry(view, &group, &widths),
            Row::Task(ix) => task(view, ix),
            Row::Gap(ix) => gap(view, ix),
        };
        last = Some(at);
    }
    out
}

/// Who coordinates and who stands by, where the unit asks for them.
fn clean_side(view: &View<'_>) -> String {
    let limits = &view.night.limits;
    let stints = |stints: &[Stint]| {
        let each: Vec<String> =
            stints.iter().map(|s| format!("{} {}", view.wall().span(s.span), view.person(s.person))).collect();
        if each.is_empty() { NONE.to_owned() } else { each.join(", ") }
    };
    let mut out = String::new();
    if limits.coordinator {
        out += &hanging("  coordinator  ", &stints(&view.rota.coordinators));
    }
    if let Some(standby) = limits.standby {
        out += &hanging("  standby now  ", &stints(&view.rota.standby));
        if standby.report {
            out += &paragraph(
                "This unit reports a shortage of standby instead of keeping people out: where NO RESCUE stands, people \
                 are inside and nobody could go in for them.",
            );
        }
    }
    if let Some(exit) = limits.early_exit {
        out += &hanging("  early exit: observer   ", &stints(&view.rota.exit_observers));
        if limits.longest_exit().1 {
            out += &hanging("  early exit: assistant  ", &stints(&view.rota.exit_assistants));
        }
        if exit.report {
            out += &paragraph(
                "This unit reports where nobody could see to an early exit instead of keeping people out: NO RESCUE \
                 stands there too.",
            );
        }
    }
    if out.is_empty() { out } else { out + "\n" }
}

/// A row of the section. The order breaks ties of time: a gap is read first.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Row {
    /// A gap, by its place among the gaps.
    Gap(usize),
    /// An entry: places in the rota.
    Entry(Vec<usize>),
    /// A task that is done, by its place in the rota.
    Task(usize),
}

fn rows(view: &View<'_>) -> Vec<(Minute, Row)> {
    let gaps = view.explained.gaps.iter().enumerate().map(|(ix, gap)| (gap.span.from, Row::Gap(ix)));
    let entries = view.groups().into_iter().filter_map(|g| Some((view.first_in(&g)?, Row::Entry(g))));
    let tasks = view.rota.tasks.iter().enumerate().map(|(ix, task)| (task.start, Row::Task(ix)));
    let mut rows: Vec<_> = gaps.chain(entries).chain(tasks).collect();
    rows.sort();
    rows
}

/// The blank line between two rows, or the line that says midnight has passed.
pub fn passed(view: &View<'_>, last: Option<Minute>, at: Minute) -> String {
    let Some(last) = last else { return String::new() };
    let lines: String = view.wall().passes(last, at).iter().map(|line| rule(line)).collect();
    if lines.is_empty() { "\n".to_owned() } else { format!("\n{lines}\n") }
}

fn entry(view: &View<'_>, group: &[usize], widths: &[usize]) -> String {
    let first = &view.rota.entries[group[0]];
    let rows: Vec<_> = group.iter().map(|&ix| person(view, ix)).collect();
    headline(view, group, first) + &aligned(widths, &HEADER, &rows) + &respirators(view, group) + &relief(view, group)
}

/// Who wears which respirator, where the rota says.
fn respirators(view: &View<'_>, group: &[usize]) -> String {
    let worn = |&ix: &usize| {
        let entry = &view.rota.entries[ix];
        entry.respirator.as_ref().map(|model| format!("{} {}", view.person(entry.person), plain(model)))
    };
    let worn: Vec<_> = group.iter().filter_map(worn).collect();
    if worn.is_empty() { String::new() } else { hanging("  respirators: ", &worn.join(", ")) }
}

/// The five facts: number, door, OUT-BY, planned out, spare; then the room.
fn headline(view: &View<'_>, group: &[usize], first: &Entry) -> String {
    let wall = view.wall();
    let time = |at: Option<Minute>| at.map_or_else(|| NONE.to_owned(), |at| wall.time(at));
    let out_by = time(group.iter().filter_map(|&ix| view.out_by(ix)).min());
    let out = time(group.iter().map(|&ix| view.rota.entries[ix].door_out).min());
    let spare = group.iter().filter_map(|&ix| view.spare(ix)).min();
    let spare = spare.map_or_else(|| NONE.to_owned(), |s| format!("{s} min"));
    let facts = format!("in {}  OUT-BY >> {out_by} <<  plan out {out}  spare {spare}", time(view.first_in(group)));
    hanging(&format!("ENTRY {:<2} {facts}  ", first.number), &format!("room {}", view.room(first.room)))
}

const HEADER: [&str; 8] = ["who", "donning", "out", "OUT-BY", "removal", "observer", "assistant", "lane"];

/// Columns of a person's row. The same for every entry, so that they line up.
fn widths(rows: &[Vec<String>]) -> [usize; 8] {
    let widest = |column: usize, least: usize, most: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).map(|cell| columns(cell));
        cells.chain([columns(HEADER[column]), least]).max().unwrap_or(least).min(most)
    };
    let mut widths = [0; 8];
    for (column, width) in widths.iter_mut().enumerate().take(7) {
        *width = widest(column, if column == 0 { 3 } else { 0 }, MOST[column]);
    }
    let gutters = INDENT * HEADER.len();
    widths[7] = WIDTH.saturating_sub(widths.iter().sum::<usize>() + gutters).max(1);
    widths
}

fn person(view: &View<'_>, ix: usize) -> Vec<String> {
    let (wall, entry) = (view.wall(), &view.rota.entries[ix]);
    vec![
        view.person(entry.person),
        format!("{} by {}", wall.time(entry.don), view.person_or_none(entry.donning_observer)),
        wall.time(entry.door_out),
        view.out_by(ix).map_or_else(|| NONE.to_owned(), |at| wall.time(at)),
        format!("{}-{}", wall.time(entry.removal), wall.time(entry.off)),
        view.person_or_none(entry.observer),
        view.person_or_none(entry.assistant),
        view.lane(entry.lane),
    ]
}

fn relief(view: &View<'_>, group: &[usize]) -> String {
    let relief = |&ix: &usize| {
        let by = relieved_by(view.rota, ix)?;
        let entry = &view.rota.entries[by];
        Some(format!("{} in {}", view.person(entry.person), view.wall().time(entry.door_in)))
    };
    let names: Vec<_> = group.iter().filter_map(relief).collect();
    hanging("  relief: ", &if names.is_empty() { NONE.to_owned() } else { names.join(", ") })
}

fn task(view: &View<'_>, ix: usize) -> String {
    let done = view.rota.tasks[ix];
    let task = &view.night.roster.tasks[done.task.0];
    let span = Span::new(done.start, done.start + task.length);
    let words = format!("room {}: {}", view.room(task.room), view.task(done.task));
    hanging(&format!("TASK     {}  ", view.wall().span(span)), &words)
}

fn gap(view: &View<'_>, ix: usize) -> String {
    let gap = &view.explained.gaps[ix];
    let label = format!("GAP {:<2}   ## {} {} ##  ", ix + 1, gap.word(), view.wall().span(gap.span));
    hanging(&label, &format!("room {}", view.room(gap.room))) + &hanging("         ", &gap.what)
}
