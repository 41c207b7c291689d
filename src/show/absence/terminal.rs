//! The answer for a terminal, 80 columns.

use super::{View, words};
use crate::show::terminal::table::table;
use crate::show::terminal::{bands, caution_of_answer};
use crate::show::text::{hanging, heading, paragraph};
use crate::staffing::absence::answer::{Answer, Tally};
use crate::staffing::interval;

/// Everything there is to say.
#[must_use]
pub fn render(view: &View<'_>) -> String {
    let mut parts = vec![head(view), crews(view)];
    if view.crews.len() > 1 {
        parts.push(differences(view));
    }
    // Of several crews the details are those of the first; all of them are in the files.
    if let ([answer], [_]) = (view.answers.crews.as_slice(), view.crews) {
        parts.extend([missed(answer), by_missing(answer), by_role(answer)]);
    }
    parts.extend([how(view), caution_of_answer(&words::CAUTIONS, &view.night.limits)]);
    parts.join("\n")
}

fn head(view: &View<'_>) -> String {
    let roster = &view.night.roster;
    heading("HOW OFTEN THE NIGHT IS COVERED")
        + &hanging("  unit     ", &roster.unit)
        + &hanging("  roster   ", &roster.name)
        + &hanging("  limits   ", &view.night.limits.name)
        + &hanging("  missing  ", &words::how(view))
        + "\n"
        + &bands(view.example || roster.example, view.night, view.today)
        + &hanging("", &words::answer(view))
}

fn crews(view: &View<'_>) -> String {
    let row = |(crew, answer): (&crate::staffing::absence::list::Crew, &Answer)| {
        let all = answer.all;
        let minutes = interval::mean(&answer.minutes());
        vec![
            crew.name.clone(),
            answer.people.to_string(),
            words::share(all.covered, all.nights),
            words::share_between(interval::share(all.covered, all.nights)),
            words::mean(minutes),
            words::mean_between(minutes),
            answer.percentile(95).to_string(),
        ]
    };
    let rows: Vec<_> = view.crews.iter().zip(&view.answers.crews).map(row).collect();
    let columns = ["crew", "people", "covered", "between", "person-min short: mean", "between", "95 of 100 at most"];
    let open: String =
        view.answers.crews.iter().zip(view.crews).filter_map(|(answer, crew)| open(answer, &crew.name, view)).collect();
    table(&columns, &rows) + &open
}

fn open(answer: &Answer, name: &str, view: &View<'_>) -> Option<String> {
    let text = words::unproven(answer)?;
    Some("\n".to_owned() + &paragraph(&if view.crews.len() > 1 { format!("{name}: {text}") } else { text }))
}

/// Each crew beside the one before it, on the same nights.
fn differences(view: &View<'_>) -> String {
    let pairs = view.answers.crews.windows(2).zip(view.crews.windows(2));
    let rows: Vec<_> = pairs
        .map(|(answers, crews)| {
            let (one, other) = (answers[1].covered(), answers[0].covered());
            let count = |a: &[bool], b: &[bool]| a.iter().zip(b).filter(|(a, b)| **a && !**b).count().to_string();
            vec![
                format!("{} for {}", crews[1].name, crews[0].name),
                count(&one, &other),
                count(&other, &one),
                words::share_between(interval::difference(&one, &other)),
            ]
        })
        .collect();
    heading("WHAT EACH STEP BRINGS, ON THE SAME NIGHTS")
        + &table(&["crew", "nights more", "fewer", "of nights, between"], &rows)
}

fn missed(answer: &Answer) -> String {
    let rows: Vec<_> = words::missed(answer)
        .into_iter()
        .map(|(what, nights)| vec![what.to_owned(), nights.to_string(), words::share(nights, answer.all.nights)])
        .collect();
    heading("WHAT IS MISSED") + &table(&["on a night", "nights", "of all"], &rows)
}

fn row(first: Vec<String>, tally: Tally) -> Vec<String> {
    let rest = [
        tally.nights.to_string(),
        tally.covered.to_string(),
        words::share(tally.covered, tally.nights),
        words::tally_mean(tally),
    ];
    first.into_iter().chain(rest).collect()
}

fn by_missing(answer: &Answer) -> String {
    let rows: Vec<_> =
        answer.by_missing.iter().map(|(&count, &tally)| row(vec![words::missing(count)], tally)).collect();
    heading("BY HOW MANY ARE MISSING")
        + &table(&["missing", "nights", "covered", "share", "person-min short, mean"], &rows)
}

fn by_role(answer: &Answer) -> String {
    let rows = answer.by_role.iter().flat_map(|(role, holders, tallies)| {
        tallies.iter().map(move |(&count, &tally)| {
            row(vec![format!("{} ({holders})", words::holders(*role)), words::missing(count)], tally)
        })
    });
    let columns = ["role (held by)", "missing", "nights", "covered", "share", "person-min short, mean"];
    heading("BY ROLE") + &table(&columns, &rows.collect::<Vec<_>>()) + &paragraph(words::FEW_HOLDERS)
}

fn how(view: &View<'_>) -> String {
    heading("HOW IT WAS WORKED OUT") + &paragraph(&words::work(view)) + &paragraph(words::METHOD)
}
