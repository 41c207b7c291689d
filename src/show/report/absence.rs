//! The page: how often a crew covers the night.

use maud::{Markup, html};

use super::chart::{Mark, Row, Scale, figure};
use super::{Report, Section, html as page_of, table};
use crate::show::absence::{View, words};
use crate::staffing::absence::answer::{Answer, State, Tally};
use crate::staffing::interval;

/// Rows of one picture: so many fit on a page of A4 with their caption.
const ROWS: usize = 14;

/// Bars of amounts above nothing, at most.
const BARS: i64 = 8;

/// The whole document.
#[must_use]
pub fn page(view: &View<'_>) -> String {
    let mut sections = vec![Section::new("covered", "How often the night is covered", covered(view))];
    if view.crews.len() > 1 {
        sections.push(Section::new("steps", "What each step brings, on the same nights", steps(view)));
    }
    sections.push(Section::new("short", "Person-minutes short", short(view)));
    if let [only] = view.answers.crews.as_slice() {
        sections.push(Section::new("missed", "What is missed", missed(only)));
        sections.push(Section::new("missing", "By how many are missing", by_missing(only)));
        sections.push(Section::new("roles", "By role", by_role(only)));
    }
    sections.push(Section::new(
        "how",
        "How it was worked out",
        html! { p { (words::work(view)) } p { (words::METHOD) } },
    ));
    page_of(&Report {
        question: words::QUESTION.to_owned(),
        about: format!("{}: {}.", view.night.roster.name, words::how(view)),
        answer: words::answer(view),
        night: view.night,
        example: view.example || view.night.roster.example,
        today: view.today,
        sections,
        cautions: words::CAUTIONS.to_vec(),
    })
}

fn covered(view: &View<'_>) -> Markup {
    let pairs = || view.crews.iter().zip(&view.answers.crews);
    let rows: Vec<Row> = pairs()
        .map(|(crew, answer)| {
            let all = answer.all;
            let share = interval::share(all.covered, all.nights);
            let mark = share.map_or(Mark::Bar(0), |b| Mark::Range { low: b.low, at: b.value, high: b.high });
            let value = format!("{} ({})", words::share(all.covered, all.nights), words::share_between(share));
            Row { label: crew.name.clone(), value, mark }
        })
        .collect();
    let scale = Scale { end: 10_000, ticks: (0..=4).map(|q| (q * 2_500, format!("{} %", q * 25))).collect() };
    let table_rows: Vec<Markup> = pairs()
        .map(|(crew, answer)| {
            let all = answer.all;
            html! { tr {
                th scope="row" { (crew.name) }
                td.n { (answer.people) }
                td.n { (words::share(all.covered, all.nights)) }
                td.n { (words::share_between(interval::share(all.covered, all.nights))) }
                td.n { (answer.in_state(State::Unproven)) }
            } }
        })
        .collect();
    let columns = ["crew", "people", "nights covered", "between", "nights not settled"];
    html! {
        @for some in rows.chunks(ROWS) {
            (figure("Share of nights covered: a dot, and the two ends between which it may well lie", some, &scale))
        }
        (table("Nights covered", &columns, &table_rows))
        @for (crew, answer) in pairs() {
            @if let Some(text) = words::unproven(answer) { p { @if view.crews.len() > 1 { b { (crew.name) ": " } } (text) } }
        }
    }
}

/// Each crew beside the one before it.
fn steps(view: &View<'_>) -> Markup {
    let pairs = view.answers.crews.windows(2).zip(view.crews.windows(2));
    let rows: Vec<Markup> = pairs
        .map(|(answers, crews)| {
            let (one, other) = (answers[1].covered(), answers[0].covered());
            html! { tr {
                th scope="row" { (crews[1].name) " for " (crews[0].name) }
                td.n { (one.iter().zip(&other).filter(|(a, b)| **a && !**b).count()) }
                td.n { (one.iter().zip(&other).filter(|(a, b)| !**a && **b).count()) }
                td.n { (words::share_between(interval::difference(&one, &other))) }
            } }
        })
        .collect();
    table("On the same nights", &["crew", "nights more", "fewer", "of nights, between"], &rows)
}

fn short(view: &View<'_>) -> Markup {
    let several = view.crews.len() > 1;
    let rows: Vec<Markup> = view
        .crews
        .iter()
        .zip(&view.answers.crews)
        .map(|(crew, answer)| {
            let mean = interval::mean(&answer.minutes());
            html! { tr {
                th scope="row" { (crew.name) }
                td.n { (words::mean(mean)) }
                td.n { (words::mean_between(mean)) }
                td.n { (answer.percentile(95)) }
                td.n { (answer.percentile(100)) }
            } }
        })
        .collect();
    let columns = ["crew", "mean of a night", "between", "on 95 of 100 at most", "most"];
    html! {
        (table("Person-minutes of presence short", &columns, &rows))
        @for (crew, answer) in view.crews.iter().zip(&view.answers.crews) {
            @if several { h3 { (crew.name) } }
            (amounts(answer))
        }
    }
}

/// Nights by how many person-minutes are short: none, and stretches of the same width.
fn amounts(answer: &Answer) -> Markup {
    let bins = bins(answer);
    let rows: Vec<Row> = bins
        .iter()
        .map(|(label, nights)| Row {
            label: label.clone(),
            value: format!("{nights} nights"),
            mark: Mark::Bar(i64::from(*nights)),
        })
        .collect();
    let end = i64::from(answer.all.nights);
    let scale = Scale { end, ticks: [0, end / 2, end].map(|at| (at, format!("{at} nights"))).to_vec() };
    let table_rows: Vec<Markup> = bins
        .iter()
        .map(|(label, nights)| {
            html! { tr { th scope="row" { (label) } td.n { (nights) } td.n { (words::share(*nights, answer.all.nights)) } } }
        })
        .collect();
    html! {
        (figure("Nights by person-minutes of presence short", &rows, &scale))
        (table("Nights by person-minutes of presence short", &["person-min short", "nights", "of all"], &table_rows))
    }
}

fn bins(answer: &Answer) -> Vec<(String, u32)> {
    let most = answer.percentile(100);
    // A width that people count in: a multiple of 15 minutes.
    let width = ((most + BARS - 1) / BARS).div_euclid(15) * 15 + 15;
    let within = |low: i64, high: i64| answer.by_minutes.range(low..=high).map(|(_, nights)| nights).sum::<u32>();
    let none = ("none".to_owned(), within(0, 0));
    let others = (0..).map(|place| (place * width + 1, (place + 1) * width)).take_while(|(low, _)| *low <= most);
    std::iter::once(none).chain(others.map(|(low, high)| (format!("{low} to {high}"), within(low, high)))).collect()
}

fn missed(answer: &Answer) -> Markup {
    let rows: Vec<Markup> = words::missed(answer)
        .into_iter()
        .map(|(what, nights)| {
            html! { tr { th scope="row" { (what) } td.n { (nights) } td.n { (words::share(nights, answer.all.nights)) } } }
        })
        .collect();
    table("Nights on which something is missed", &["on a night", "nights", "of all"], &rows)
}

fn cells(tally: Tally) -> Markup {
    html! {
        td.n { (tally.nights) }
        td.n { (tally.covered) }
        td.n { (words::share(tally.covered, tally.nights)) }
        td.n { (words::tally_mean(tally)) }
    }
}

fn by_missing(answer: &Answer) -> Markup {
    let rows: Vec<Markup> = answer
        .by_missing
        .iter()
        .map(|(&count, &tally)| html! { tr { th scope="row" { (words::missing(count)) } (cells(tally)) } })
        .collect();
    table("By how many are missing", &["missing", "nights", "covered", "share", "person-min short, mean"], &rows)
}

fn by_role(answer: &Answer) -> Markup {
    let rows = answer.by_role.iter().flat_map(|(role, holders, tallies)| {
        tallies.iter().map(move |(&count, &tally)| {
            html! { tr {
                th scope="row" { (words::holders(*role)) " (" (holders) ")" }
                td.n { (words::missing(count)) }
                (cells(tally))
            } }
        })
    });
    let columns = ["role (held by)", "missing", "nights", "covered", "share", "person-min short, mean"];
    html! {
        (table("By role", &columns, &rows.collect::<Vec<_>>()))
        p { (words::FEW_HOLDERS) }
    }
}
