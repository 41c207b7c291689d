//! The answer as JSON for scripts.
//!
//! The shape is stable: keys are added, never renamed, while `format` stays 1. Shares are in ten-thousandths, means in
//! hundredths of a person-minute; `low` and `high` are the ends of an interval, rounded outwards; `null` where there
//! is none.
//!
//! - `format`, `caution`, `training`, `review_overdue`, `roster`, `constraint_set`, `missing` (in words), `nights`,
//!   `seed`, `effort`, `cases`, `follow`
//! - `crews`: `crew`, `people`, `covered`, `covered_share`, `not_settled`, `not_covered`, `minutes_mean`,
//!   `minutes_at_most_on_95_of_100`, `minutes_most`; `missed`: `what`, `nights`; `by_missing`: `missing`, `nights`,
//!   `covered`, `minutes`; `by_role`: `role`, `held_by`, `missing`, `nights`, `covered`, `minutes`; `by_minutes`:
//!   `minutes`, `nights`; `less_crew_before`: nights covered more, as a share, on the same nights

use serde::Serialize;

use super::{View, words};
use crate::staffing::absence::answer::{Answer, State, Tally};
use crate::staffing::interval::{self, Between};

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    caution: Vec<&'static str>,
    training: bool,
    review_overdue: bool,
    roster: &'a str,
    constraint_set: &'a str,
    missing: String,
    nights: u32,
    seed: u64,
    effort: u64,
    cases: usize,
    follow: usize,
    crews: Vec<CrewShape<'a>>,
}

#[derive(Serialize)]
struct CrewShape<'a> {
    crew: &'a str,
    people: usize,
    covered: u32,
    covered_share: Option<BetweenShape>,
    not_settled: u32,
    not_covered: u32,
    minutes_mean: Option<BetweenShape>,
    minutes_at_most_on_95_of_100: i64,
    minutes_most: i64,
    missed: Vec<MissedShape>,
    by_missing: Vec<TallyShape>,
    by_role: Vec<RoleShape>,
    by_minutes: Vec<MinutesShape>,
    less_crew_before: Option<BetweenShape>,
}

#[derive(Serialize)]
struct BetweenShape {
    value: i64,
    low: i64,
    high: i64,
}

#[derive(Serialize)]
struct MissedShape {
    what: &'static str,
    nights: u32,
}

#[derive(Serialize)]
struct TallyShape {
    missing: usize,
    nights: u32,
    covered: u32,
    minutes: i64,
}

#[derive(Serialize)]
struct RoleShape {
    role: &'static str,
    held_by: usize,
    #[serde(flatten)]
    tally: TallyShape,
}

#[derive(Serialize)]
struct MinutesShape {
    minutes: i64,
    nights: u32,
}

/// Writes the answer, indented, with a newline at the end.
///
/// # Errors
/// When the JSON writer fails, which it does for none of these types.
pub fn write(view: &View<'_>) -> Result<String, serde_json::Error> {
    let document = Document {
        format: crate::show::json::FORMAT,
        caution: words::CAUTIONS.to_vec(),
        training: view.is_training(),
        review_overdue: view.review_is_overdue(),
        roster: &view.night.roster.name,
        constraint_set: &view.night.limits.name,
        missing: words::how(view),
        nights: view.nights(),
        seed: view.seed,
        effort: view.effort,
        cases: view.answers.cases,
        follow: view.answers.follow,
        crews: (0..view.crews.len()).map(|place| crew(view, place)).collect(),
    };
    crate::show::json::indented(&document)
}

fn crew<'a>(view: &View<'a>, place: usize) -> CrewShape<'a> {
    let (crew, answer) = (&view.crews[place], &view.answers.crews[place]);
    let before = place.checked_sub(1).map(|before| view.answers.crews[before].covered());
    CrewShape {
        crew: &crew.name,
        people: answer.people,
        covered: answer.all.covered,
        covered_share: interval::share(answer.all.covered, answer.all.nights).map(between),
        not_settled: answer.in_state(State::Unproven),
        not_covered: answer.in_state(State::Gap) + answer.in_state(State::GapProven),
        minutes_mean: interval::mean(&answer.minutes()).map(between),
        minutes_at_most_on_95_of_100: answer.percentile(95),
        minutes_most: answer.percentile(100),
        missed: words::missed(answer).into_iter().map(|(what, nights)| MissedShape { what, nights }).collect(),
        by_missing: answer.by_missing.iter().map(|(&missing, &of)| tally(missing, of)).collect(),
        by_role: by_role(answer),
        by_minutes: answer.by_minutes.iter().map(|(&minutes, &nights)| MinutesShape { minutes, nights }).collect(),
        less_crew_before: before.and_then(|before| interval::difference(&answer.covered(), &before)).map(between),
    }
}

const fn between(between: Between) -> BetweenShape {
    BetweenShape { value: between.value, low: between.low, high: between.high }
}

const fn tally(missing: usize, of: Tally) -> TallyShape {
    TallyShape { missing, nights: of.nights, covered: of.covered, minutes: of.minutes }
}

fn by_role(answer: &Answer) -> Vec<RoleShape> {
    let rows = answer.by_role.iter().flat_map(|(role, held_by, tallies)| {
        let row = |(&missing, &of): (&usize, &Tally)| RoleShape {
            role: role.word(),
            held_by: *held_by,
            tally: tally(missing, of),
        };
        tallies.iter().map(row)
    });
    rows.collect()
}
