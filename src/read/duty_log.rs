//! The log of earlier shifts, for limits on nights in a row and hours in a week (F8).

use crate::night::{LoggedDuty, Person, PersonIx, Span};

use super::finding::Mistakes;
use super::mistake::{Mistake, StretchMistake};
use super::record::Record;
use super::roster::{Context, span};
use super::source::Spot;
use super::time::written;

/// Every shift of the log, or `None` when one could not be read. `people` are those of the roster, where they could be.
pub(super) fn read(
    record: &Record,
    people: Option<&[Person]>,
    context: &Context<'_>,
    out: &mut Mistakes,
) -> Option<Vec<LoggedDuty>> {
    let logged = |table: &Record, out: &mut Mistakes| {
        let person = context.people.require_in(table, "person", out);
        let span = span(table, ("on_duty", "off_duty"), context.clock, out);
        Some((LoggedDuty { person: PersonIx(person?), span: span? }, table.spot_of("off_duty")))
    };
    let all: Vec<_> = record.tables("duty_log").iter().map(|table| logged(table, out)).collect();
    let all: Vec<(LoggedDuty, Spot)> = all.into_iter().collect::<Option<_>>()?;
    for (ix, person) in people.unwrap_or_default().iter().enumerate() {
        let mine: Vec<(Span, Spot)> =
            all.iter().filter(|(logged, _)| logged.person == PersonIx(ix)).map(|(l, spot)| (l.span, *spot)).collect();
        check_order(person, mine.clone(), context, out);
        check_last(record, (ix, person), &mine, context, out);
    }
    Some(all.into_iter().map(|(logged, _)| logged).collect())
}

/// One after another, and over before tonight's: else a minute would count twice.
fn check_order(person: &Person, mut mine: Vec<(Span, Spot)>, context: &Context<'_>, out: &mut Mistakes) {
    for (span, spot) in mine.iter().filter(|(span, _)| span.to > person.on_duty.from) {
        let (off, start) = (written(span.to, context.clock), written(person.on_duty.from, context.clock));
        out.add(*spot, Mistake::Stretch(StretchMistake::LoggedInDuty { off, start }));
    }
    mine.sort_by_key(|(span, _)| *span);
    for pair in mine.windows(2).filter(|pair| pair[0].0.overlaps(pair[1].0)) {
        let twice = StretchMistake::LoggedTwice { person: person.id.clone() };
        out.add_with(pair[1].1, pair[0].1, Mistake::Stretch(twice));
    }
}

/// The log and `last_off_duty` are two statements about the last shift. Where the log is whole they are the same:
/// a shift left out of it would make a week too short.
fn check_last(
    record: &Record,
    (ix, person): (usize, &Person),
    mine: &[(Span, Spot)],
    context: &Context<'_>,
    out: &mut Mistakes,
) {
    let Some(whole) = record.instant("duty_log_from") else { return };
    let reached = |last| last >= whole.value;
    let (last, logged) = (person.last_off_duty, mine.iter().map(|(span, _)| span.to).max());
    if last == logged || !(last.is_some_and(reached) || logged.is_some_and(reached)) {
        return;
    }
    let say = |at: Option<_>| at.map_or_else(|| "none".to_owned(), |at| written(at, context.clock));
    let (last, logged) = (say(last), say(logged));
    let spot = record.tables("person").get(ix).map_or(record.spot, |table| table.spot_of("last_off_duty"));
    out.add(spot, Mistake::Stretch(StretchMistake::LogDisagrees { person: person.id.clone(), last, logged }));
}
