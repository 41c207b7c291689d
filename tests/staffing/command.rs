//! The command, as a shell sees it, on the examples of the repository.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use anteroom::read::{self, Source};
use chrono::NaiveDate;
use scraper::{Html, Selector};

const ASKED: [&str; 3] =
    ["rosters/short-staffed.question.toml", "rosters/short-staffed.toml", "constraints/temperate.toml"];

fn crews(more: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    command.arg("crews").args(ASKED).args(["--today", "2031-03-01", "--smallest", "--effort", "1000"]).args(more);
    command.current_dir(env!("CARGO_MANIFEST_DIR")).output().expect("anteroom starts")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("text")
}

#[test]
fn one_observer_more_is_enough_and_every_form_says_so() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = |name: &str| folder.path().join(name).display().to_string();
    let (page, csv, json) = (path("crews.html"), path("crews.csv"), path("crews.json"));
    let output = crews(&["--out", &page, "--csv", &csv, "--json", &json]);
    let screen = text(&output.stdout);
    assert_eq!(output.status.code(), Some(0), "{screen}{}", text(&output.stderr));
    let flowing = screen.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "has 1 person: observers 1, entrants 0. No smaller crew in the range does: proven.",
        "short: nobody is a doffing-observer from",
        "A MINIMUM IS NOT AN ESTABLISHMENT.",
        "TRAINING - NOT FOR USE",
        "one more doffing-observer nothing missed",
    ] {
        assert!(flowing.contains(said), "{said} is not in:\n{screen}");
    }
    assert!(screen.lines().all(|line| line.chars().count() <= 80), "{screen}");
    written(&page, &csv, &json);
    // What is there is kept, and nothing is planned for it.
    let again = crews(&["--csv", &csv]);
    assert_eq!(again.status.code(), Some(2));
    assert!(text(&again.stderr).contains("is there already"));
}

fn written(page: &str, csv: &str, json: &str) {
    let csv = fs::read_to_string(csv).expect("written");
    assert!(
        csv.starts_with("observers,entrants,heads,covers,uncovered_person_min,tasks_not_done,proven_best,known_how\n")
    );
    assert!(csv.lines().any(|line| line.starts_with("1,0,1,yes,0,0,yes,")), "{csv}");
    let json: serde_json::Value = serde_json::from_str(&fs::read_to_string(json).expect("written")).expect("JSON");
    assert_eq!(json["smallest"][0]["counts"], serde_json::json!([1, 0]));
    assert_eq!((&json["smallest"][0]["proven"], &json["training"]), (&true.into(), &true.into()));
    let page = fs::read_to_string(page).expect("written");
    let document = Html::parse_document(&page);
    assert_eq!(document.errors, Vec::<std::borrow::Cow<str>>::new());
    let all = |selector: &str| document.select(&Selector::parse(selector).expect("a selector")).count();
    assert_eq!((all("script"), all("link"), all("img"), all("h1")), (0, 0, 0, 1));
    assert_eq!((all("svg[role=img] > title"), all("figure"), all("figure + .scroll table")), (2, 2, 2));
    for forbidden in ["http://", "https://"] {
        let links = page.replace("http://www.w3.org/2000/svg", "");
        assert!(!links.contains(forbidden), "{forbidden}");
    }
    // Type of 4.8 mm has capitals of 3.5 mm (0.73 em in DejaVu Sans, from memory), at the size at which it is printed.
    assert_eq!(page.matches("font-size=\"").count(), 2);
    assert_eq!(page.matches("font-size=\"4.8\"").count(), 2);
}

#[test]
fn a_question_with_mistakes_is_refused() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let question = folder.path().join("question.toml");
    fs::write(&question, "format = 1\nname = \"q\"\nkeep_people = false\nstaff = 8\n").expect("written");
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    command.arg("crews").arg(&question).args(&ASKED[1..]).current_dir(env!("CARGO_MANIFEST_DIR"));
    let output = command.output().expect("anteroom starts");
    assert_eq!(output.status.code(), Some(2));
    let told = text(&output.stderr).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("\"staff = 8\" does not say who may observe. Give counts per role, with overlaps."),
        "{told}"
    );
    assert!(output.stdout.is_empty());
}

/// Each example can be asked of its roster.
#[test]
fn every_example_is_read_and_marked() {
    let source = |path: &str| {
        let bytes = fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).expect("the example is there");
        Source::new(path, &bytes)
    };
    let today = NaiveDate::from_ymd_opt(2031, 3, 1).expect("a day");
    for (roster, limits) in [("short-staffed", "temperate"), ("short-wear-afternoon", "forty-five-twenty")] {
        let (roster_file, limits) = (format!("rosters/{roster}.toml"), format!("constraints/{limits}.toml"));
        let (night, _) = read::night(&source(&roster_file), &source(&limits), None, today).expect("right");
        let question = read::question(&source(&format!("rosters/{roster}.question.toml")), &night);
        let (question, _) = question.unwrap_or_else(|findings| panic!("{}", findings.render()));
        assert!(question.example, "{roster}");
    }
}
