//! First entries beside a preceptor: where they fit, tried, and what is lacking where none does.

use std::convert::Infallible;
use std::fs;

use anteroom::check::review;
use anteroom::night::{LowHours, Minutes, Night, PersonIx, Role, RoomIx, Rota, SignOff};
use anteroom::plan::{Effort, Watch, cover};
use anteroom::training::{FirstEntry, Found, Lack, Tried, first_entries};
use chrono::NaiveTime;

use super::common::{DW, EN, GH, JT, KB, MR, PS, accepted, day, pair, plain_night, plain_visit, presence, rota_of, t};
use super::{anteroom, text};

struct Alone;

impl Watch for Alone {
    fn progress(&mut self, _: i64, _: i64) {}
    fn stop(&self) -> bool {
        false
    }
}

fn looked_for(night: &Night, rota: &Rota) -> Vec<FirstEntry> {
    let review_of = accepted(night, rota);
    let plan = &mut |night: &Night| {
        let planned = cover(night, Effort { work: 15_000, seconds: None }, &mut Alone);
        let review = review(night, &planned.rota);
        assert!(review.faults.is_empty(), "{:#?}", review.faults);
        Ok::<_, Infallible>(Tried { rota: planned.rota, review, levels: planned.levels })
    };
    first_entries(night, rota, &review_of, plan).expect("nothing fails")
}

/// KB, a preceptor, and MR go in 20:00-21:00; PS enters only beside a preceptor. Two are asked for, in class 2.
fn night() -> Night {
    let mut night = plain_night();
    let far = day(2031, 12, 31);
    let hold = |roles: &[Role]| {
        roles.iter().map(|&role| SignOff { role, valid_through: far, last_done: None }).collect::<Vec<_>>()
    };
    for (ix, person) in night.roster.people.iter_mut().enumerate() {
        person.sign_offs = match PersonIx(ix) {
            KB => hold(&[Role::Entrant, Role::Preceptor]),
            MR | JT => hold(&[Role::Entrant]),
            PS => hold(&[Role::SupervisedEntrant]),
            DW | GH => hold(&[Role::DoffingObserver]),
            EN => hold(&[Role::DonningObserver]),
            _ => vec![],
        };
        person.on_duty = anteroom::night::Span::new(t(0), t(300));
    }
    night.roster.shift = anteroom::night::Span::new(t(0), t(300));
    night.roster.presence = vec![anteroom::night::Presence { class: 2, ..presence(60, 120, 2) }];
    night
}

#[test]
fn a_stay_beside_a_preceptor_is_tried_and_fits() {
    let found = looked_for(&night(), &plain_visit());
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].person, PS);
    let Found::Fits(stay) = &found[0].found else { panic!("{found:?}") };
    assert_eq!((stay.room, stay.span.from, stay.class, stay.preceptor), (RoomIx(0), t(60), Some(2), KB));
    // 20:00 is after 19:00.
    assert!(!stay.by_day);
}

#[test]
fn one_that_is_planned_is_not_looked_for() {
    let rota = rota_of(pair(KB, PS, 40, 120));
    let found = looked_for(&night(), &rota);
    assert!(
        matches!(&found[0].found, Found::Planned(stay) if stay.preceptor == KB && stay.span.from == t(60)),
        "{found:?}"
    );
}

#[test]
fn what_is_lacking_is_said() {
    let lack = |night: &Night| match &looked_for(night, &plain_visit())[0].found {
        Found::None(lacks) => lacks.clone(),
        found => panic!("{found:?}"),
    };
    let mut acute = night();
    acute.roster.presence[0].class = 1;
    assert_eq!(lack(&acute), [Lack::Acute(1)]);
    // Dressed 19:40-21:20 or later: low hours from 21:15 share a minute with it.
    let mut low = night();
    let at = |h, m| NaiveTime::from_hms_opt(h, m, 0).expect("a time");
    let max_wear = vec![Minutes(180), Minutes(120)];
    low.limits.low_hours = Some(LowHours { from: at(21, 15), to: at(23, 0), watch_max: Minutes(120), max_wear });
    assert_eq!(lack(&low), [Lack::LowHours(1)]);
    let mut full = night();
    full.roster.rooms[0].max_inside = 2;
    assert_eq!(lack(&full), [Lack::Full(1)]);
    let mut alone = night();
    alone.roster.people[KB.0].sign_offs.retain(|s| s.role != Role::Preceptor);
    assert_eq!(lack(&alone), [Lack::NoPreceptor]);
}

#[test]
fn preceptors_who_do_not_go_in_are_no_help() {
    let found = looked_for(&night(), &rota_of(pair(MR, JT, 40, 120)));
    assert_eq!(found[0].found, Found::None(vec![Lack::NoStay]));
}

/// Whoever may not enter tonight gets no entry, and nothing is said of why.
#[test]
fn no_reason_is_given_that_is_about_the_person() {
    let mut night = night();
    night.roster.people[PS.0].enter_today = false;
    let found = looked_for(&night, &plain_visit());
    assert_eq!(found[0].found, Found::None(vec![Lack::Tried(1)]));
}

#[test]
fn nobody_supervised_is_no_question() {
    assert!(looked_for(&plain_night_without_supervision(), &plain_visit()).is_empty());
}

fn plain_night_without_supervision() -> Night {
    let mut night = night();
    night.roster.people[PS.0].sign_offs = vec![];
    night
}

/// The example: TN goes in in the evening beside MR. FP is kept apart from MR, and KB's stay is in class 1.
#[test]
fn the_command_on_the_example() {
    let folder = tempfile::tempdir().expect("a folder");
    let words = "first-entries rosters/first-entries.toml constraints/temperate.toml --today 2031-05-01 \
                 --csv @/f.csv --json @/f.json --out @/f.html";
    let output = anteroom(words, folder.path());
    let said = text(&output.stdout);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", text(&output.stderr));
    assert!(said.contains("\n  TN  ") && said.contains("\n  FP  "), "{said}");
    assert!(said.lines().all(|line| line.chars().count() <= 80), "{said}");
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).expect("it was written");
    assert_eq!(read("f.csv").lines().count(), 3);
    let json: serde_json::Value = serde_json::from_str(&read("f.json")).expect("JSON");
    assert_eq!(json["first_entries"].as_array().map(Vec::len), Some(2));
    assert_eq!(scraper::Html::parse_document(&read("f.html")).errors, [""; 0]);
}

#[test]
fn a_rota_with_faults_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let rota =
        fs::read_to_string("rosters/quiet-night.rota.toml").expect("the example").replace("\"03:50\"", "\"03:45\"");
    fs::write(folder.path().join("r.toml"), rota).expect("a rota");
    let words = "first-entries rosters/quiet-night.toml constraints/temperate.toml --rota @/r.toml --today 2031-03-01";
    let output = anteroom(words, folder.path());
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("the check finds"), "{}", text(&output.stderr));
}
