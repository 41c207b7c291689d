//! The words of the answer, the same on the screen and on paper.

use super::{How, View};
use crate::night::Role;
use crate::staffing::absence::answer::{Answer, State, Tally};
use crate::staffing::absence::draw::Chance;
use crate::staffing::interval::{self, Between};

/// The question.
pub const QUESTION: &str = "With people missing as often as they are, how often does the crew cover the night?";

/// What has to be kept in mind with the answer.
pub const CAUTIONS: [&str; 5] = [
    "A minimum is not an establishment: leave, training, turnover and a hard week are not in these figures.",
    "Absences are taken to be independent of each other. In an outbreak they are not: people fall ill together, and \
     nights with many missing are then more frequent than here.",
    "Everybody is taken to be missing from the start or there to the end. Who goes home during a shift costs more.",
    "These figures are about crews and roles. They say nothing about any one person and must not be used to judge \
     anybody's absence.",
    "Covered means that a rota was found and checked in which nothing that the roster asks for is missed. Pins are \
     left aside: they are settled for one night.",
];

/// Why a role may not be there.
pub const FEW_HOLDERS: &str = "A role that fewer than three hold is not shown: it would speak of a person.";

/// How the intervals are made.
pub const METHOD: &str = "Between: the truth lies between these two figures in 95 of 100 such draws; for the share of \
                          nights by Wilson's interval (1927), for the mean and for differences by 1.96 standard \
                          errors. It tells what chance in the draw may do, and nothing of whether the percentages \
                          put in are right.";

/// `93.4 %`. Never 0 for something, never 100 for not all.
#[must_use]
pub fn share(count: u32, of: u32) -> String {
    let tenths = match interval::share(count, of) {
        None => return "-".to_owned(),
        Some(_) if count == 0 => 0,
        Some(_) if count == of => 1000,
        Some(share) => ((share.value + 5) / 10).clamp(1, 999),
    };
    format!("{}.{} %", tenths / 10, tenths % 10)
}

/// `91.7 to 94.8 %`: ten-thousandths, the ends rounded outwards.
#[must_use]
pub fn share_between(between: Option<Between>) -> String {
    let Some(between) = between else { return "-".to_owned() };
    let (low, high) = (between.low.div_euclid(10), between.high.div_euclid(10) + i64::from(between.high % 10 != 0));
    format!("{} to {} %", tenths(low), tenths(high))
}

/// `12.3`: hundredths, to the nearest tenth.
#[must_use]
pub fn mean(between: Option<Between>) -> String {
    between.map_or_else(|| "-".to_owned(), |between| tenths((between.value + 5).div_euclid(10)))
}

/// `9.1 to 15.6`: hundredths, the ends rounded outwards; no less than nothing.
#[must_use]
pub fn mean_between(between: Option<Between>) -> String {
    let Some(between) = between else { return "-".to_owned() };
    let high = between.high.div_euclid(10) + i64::from(between.high.rem_euclid(10) != 0);
    format!("{} to {}", tenths(between.low.div_euclid(10).max(0)), tenths(high))
}

fn tenths(tenths: i64) -> String {
    let sign = if tenths < 0 { "-" } else { "" };
    format!("{sign}{}.{}", tenths.abs() / 10, tenths.abs() % 10)
}

/// `6.25 %` of a chance that is kept in ten-thousandths, and `3 of 40` of any other.
#[must_use]
pub fn chance(chance: Chance) -> String {
    if chance.of() != 10_000 {
        return format!("{} of {}", chance.times(), chance.of());
    }
    let (whole, part) = (chance.times() / 100, chance.times() % 100);
    let part = format!(".{part:02}");
    format!("{whole}{} %", part.trim_end_matches('0').trim_end_matches('.'))
}

/// How often people are taken to be missing.
#[must_use]
pub fn how(view: &View<'_>) -> String {
    match view.how {
        How::Alike(each) => format!("each person missing on {} of shifts", chance(each)),
        How::History { others: 0, .. } => "each person missing as often as in the history given".to_owned(),
        How::History { others, chance: each } => format!(
            "each person missing as often as in the history given; {others} not in it, taken to be missing on {}",
            each.map_or_else(|| "-".to_owned(), chance)
        ),
    }
}

/// The answer in a line or two.
#[must_use]
pub fn answer(view: &View<'_>) -> String {
    let one = |answer: &Answer| {
        let all = answer.all;
        format!(
            "{} of nights ({} of {}; by chance of the draw it may be {})",
            share(all.covered, all.nights),
            all.covered,
            all.nights,
            share_between(interval::share(all.covered, all.nights))
        )
    };
    let mut text = match view.answers.crews.as_slice() {
        [only] => format!("The crew covers {}.", one(only)),
        crews => {
            let named = crews.iter().zip(view.crews).map(|(answer, crew)| format!("{}: {}", crew.name, one(answer)));
            let ends: Vec<String> = named.collect();
            let (first, last) = (ends.first().cloned().unwrap_or_default(), ends.last().cloned().unwrap_or_default());
            format!("Covered with {first}. Covered with {last}.")
        }
    };
    if view.answers.crews.iter().any(|answer| answer.in_state(State::Unproven) > 0) {
        text.push_str(" Nights may be covered that are not counted as such: see the nights not settled.");
    }
    text
}

/// What is said of a crew in which not every night is settled.
#[must_use]
pub fn unproven(answer: &Answer) -> Option<String> {
    let open = answer.in_state(State::Unproven);
    (open > 0).then(|| {
        format!(
            "{open} of {} nights are not settled: the best rota found misses something, and it is not proven that \
             every rota does. Counted as not covered. If all of them can be covered, it is {}. A larger --effort \
             settles more.",
            answer.all.nights,
            share(answer.all.covered + open, answer.all.nights)
        )
    })
}

/// How the work was done.
#[must_use]
pub fn work(view: &View<'_>) -> String {
    let (answers, nights) = (view.answers, view.nights());
    let crews = answers.crews.len();
    let drawn =
        if crews == 1 { format!("{nights} nights") } else { format!("{nights} nights for each of {crews} crews") };
    format!(
        "{drawn}, seed {}: {} different sets of people missing. {} were planned and checked; {} follow, since a night \
         with more people missing is covered. Effort for each: {} work units.",
        view.seed,
        answers.cases,
        answers.cases - answers.follow,
        answers.follow,
        view.effort
    )
}

/// A row of the table of what is missed: what, and on how many nights.
#[must_use]
pub fn missed(answer: &Answer) -> [(&'static str, u32); 5] {
    [
        ("presence short", answer.short),
        ("standby or early-exit cover missing", answer.rescue),
        ("a must-do task not done", answer.must),
        ("a skill missing inside", answer.skill),
        ("a wanted task not done", answer.wanted),
    ]
}

/// The mean of whole minutes over nights counted together, to the nearest tenth.
#[must_use]
pub fn tally_mean(tally: Tally) -> String {
    let nights = i64::from(tally.nights.max(1));
    tenths((20 * tally.minutes + nights) / (2 * nights))
}

/// How many are missing, the last row for those and more.
#[must_use]
pub fn missing(count: usize) -> String {
    match count {
        0 => "nobody".to_owned(),
        more => more.to_string(),
    }
}

/// A role, for those who hold it.
#[must_use]
pub const fn holders(role: Role) -> &'static str {
    match role {
        Role::Entrant => "entrants",
        Role::DonningObserver => "donning observers",
        Role::DoffingObserver => "doffing observers",
        Role::Assistant => "doffing assistants",
        Role::SupervisedEntrant => "supervised entrants",
        Role::Preceptor => "preceptors",
        Role::Coordinator => "coordinators",
    }
}
