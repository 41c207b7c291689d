//! What people get wrong in the files, and the exact words they are told.
//!
//! Each case changes a right file in one place. The words are kept in
//! `tests/fixtures/input/*.txt`; run with `ANTEROOM_GOLDEN=write` to write them anew.

mod input;

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use anteroom::night::{EnsembleIx, LaneIx, Minutes, PersonIx, Role};
use anteroom::read::{self, Findings, Source};
use chrono::NaiveDate;

use input::cases::{self, Case, Edit};

/// The day on which the cases are read.
fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2031, 3, 1).expect("a day")
}

fn fixture(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/input").join(name)
}

/// A base file with the edits that are meant for it.
fn edited(name: &str, edits: &[Edit]) -> Source {
    let mut text = fs::read_to_string(fixture(name)).expect("base file");
    for edit in edits.iter().filter(|edit| edit.file == name) {
        assert!(edit.from.is_empty() || text.contains(edit.from), "{name} has no {:?}", edit.from);
        text = if edit.from.is_empty() { edit.to.to_owned() } else { text.replacen(edit.from, edit.to, 1) };
    }
    Source::new(name, text.as_bytes())
}

/// Reads all files of a case; the rota only when the night can be read.
fn told(case: &Case) -> String {
    let private = edited("private.toml", case.edits);
    let private = case.edits.iter().any(|edit| edit.file == "private.toml").then_some(&private);
    let night = read::night(&edited("roster.toml", case.edits), &edited("limits.toml", case.edits), private, today());
    match night {
        Err(findings) => findings.render(),
        Ok((night, findings)) => {
            let rota = read::rota(&edited("rota.toml", case.edits), &night);
            let about_rota = rota.map_or_else(|findings| findings, |(_, findings)| findings);
            [findings.render(), about_rota.render()]
                .into_iter()
                .filter(|text| !text.is_empty())
                .collect::<Vec<_>>()
                .join("\n")
        }
    }
}

fn golden(group: &str, cases: &[Case]) {
    let sections: Vec<String> = cases.iter().map(|case| format!("=== {}\n{}\n", case.name, told(case))).collect();
    let text = sections.concat();
    compare(group, &text);
}

fn compare(group: &str, text: &str) {
    let path = fixture(&format!("{group}.txt"));
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        fs::write(&path, text).expect("written");
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == text, "{} differs; now:\n{text}", path.display());
}

#[test]
fn the_base_files_have_nothing_to_say() {
    let night = read::night(
        &edited("roster.toml", &[]),
        &edited("limits.toml", &[]),
        Some(&edited("private.toml", &[])),
        today(),
    );
    let (night, findings) = night.unwrap_or_else(|findings| panic!("{}", findings.render()));
    assert!(findings.is_empty(), "{}", findings.render());
    let (rota, findings) = read::rota(&edited("rota.toml", &[]), &night).unwrap_or_else(|f| panic!("{}", f.render()));
    assert!(findings.is_empty(), "{}", findings.render());
    assert_eq!(rota.entries.iter().map(|entry| entry.number).collect::<Vec<_>>(), [3, 7]);
}

#[test]
fn what_is_written_is_what_is_read() {
    let private = edited("private.toml", &[]);
    let limits = edited("limits.toml", &[]);
    let (night, _) = read::night(&edited("roster.toml", &[]), &limits, Some(&private), today()).expect("right");
    let [kb, tn, mr] = night.roster.people.as_slice() else { panic!("three people") };
    assert_eq!((kb.own.max_wear, kb.own.cumulative_wear), (Some(Minutes(90)), Some(Minutes(240))));
    assert_eq!((kb.own.rest, tn.own.max_wear), (Some(Minutes(150)), None));
    assert_eq!(kb.skills, ["line"]);
    assert_eq!(kb.signed_through(Role::Assistant), NaiveDate::from_ymd_opt(2031, 9, 30));
    assert_eq!(kb.signed_through(Role::DonningObserver), NaiveDate::from_ymd_opt(2031, 6, 30));
    assert_eq!(
        (kb.size_in(EnsembleIx(0)), kb.size_in(EnsembleIx(1)), mr.size_in(EnsembleIx(0))),
        (Some("M"), Some("M"), None)
    );
    assert_eq!((tn.worn_before, tn.last_removal.map(|last| last.ensemble)), (Minutes(60), Some(EnsembleIx(0))));
    assert_eq!(night.roster.shift.from - tn.last_removal.expect("a removal").off, Minutes(180));
    assert_eq!(night.roster.lanes[0].closures.len(), 1);
    assert_eq!(night.roster.usable_kits(EnsembleIx(0), "M"), 12);
    assert_eq!(
        (night.limits.shift_gap, night.limits.rest_between(EnsembleIx(0), EnsembleIx(1))),
        (Minutes(660), Minutes(60))
    );
    assert_eq!(night.limits.sources, ["invented for the example rosters"]);

    let (rota, _) = read::rota(&edited("rota.toml", &[]), &night).expect("right");
    let [first, second] = rota.entries.as_slice() else { panic!("two entries") };
    assert_eq!((first.lane, first.assistant, first.observer), (Some(LaneIx(0)), None, Some(PersonIx(2))));
    assert_eq!((second.lane, second.observer, second.donning_observer), (None, None, None));
    assert_eq!((first.door_out - first.door_in, second.off - first.off), (Minutes(120), Minutes(255)));
    assert_eq!((rota.posts.len(), rota.breaks.len(), rota.tasks.len()), (1, 1, 1));
}

#[test]
fn text_and_keys() {
    golden("text", cases::TEXT);
}

#[test]
fn values() {
    golden("values", cases::VALUES);
}

#[test]
fn times() {
    golden("times", cases::TIMES);
}

#[test]
fn limits() {
    golden("limits", cases::LIMITS);
}

#[test]
fn names_and_people() {
    golden("people", cases::PEOPLE);
}

#[test]
fn rooms_and_stock() {
    golden("rooms", cases::ROOMS);
}

#[test]
fn private_limits() {
    golden("private", cases::PRIVATE);
}

#[test]
fn rotas() {
    golden("rotas", cases::ROTAS);
}

#[test]
fn advice() {
    golden("advice", cases::ADVICE);
}

#[test]
fn bytes_that_are_no_text() {
    let broken = Source::new("roster.toml", b"format = 1\nname = \"L\xe4rche\"\n");
    let large = Source::new("roster.toml", &vec![b'#'; read::MOST_BYTES + 1]);
    let limits = edited("limits.toml", &[]);
    let told = [broken, large, crowd()]
        .map(|roster| read::night(&roster, &limits, None, today()).expect_err("refused").render());
    compare("bytes", &told.join("\n"));
}

/// A right roster of 501 people, one too many.
fn crowd() -> Source {
    let base = edited("roster.toml", &[]);
    let (head, rest) = base.text().split_once("[[room]]").expect("rooms");
    let letters = b"ACEFGHJKMNPRTUVWXY34679";
    let mut text = head.to_owned();
    for number in 0..498_usize {
        let id: String =
            [number / 400, number / 20 % 20, number % 20].map(|at| char::from(letters[at])).iter().collect();
        text.push_str(&person(&id));
    }
    Source::new("roster.toml", format!("{text}[[room]]{rest}").as_bytes())
}

fn person(id: &str) -> String {
    format!(
        "[[person]]\nid = \"{id}\"\ncrew = \"night\"\nlast_off_duty = \"none\"\nlast_removal = \"none\"\n\
         enter_today = true\ndoffing_area_today = true\nskills = []\nkits = {{}}\nsign_offs = []\nfit_tests = []\n\n"
    )
}

#[test]
fn every_code_has_a_case() {
    let mut seen = String::new();
    for entry in fs::read_dir(fixture("")).expect("fixtures") {
        let path = entry.expect("entry").path();
        if path.extension().is_some_and(|extension| extension == "txt") {
            // A code may be broken off at the end of a line, never inside.
            seen.push_str(&fs::read_to_string(path).expect("golden"));
        }
    }
    let codes = codes();
    assert!(codes.len() > 60, "{codes:?}");
    let unseen: Vec<_> = codes.iter().filter(|code| !seen.contains(&format!("[{code}]"))).collect();
    assert!(unseen.is_empty(), "no case for {unseen:?}");
}

/// Every code in the sources: the first text in each call of `words`.
fn codes() -> BTreeSet<String> {
    let mut codes = BTreeSet::new();
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/read/words");
    for entry in fs::read_dir(folder).expect("sources") {
        let text = fs::read_to_string(entry.expect("entry").path()).expect("source");
        for call in text.split("words(").skip(1).filter_map(|call| call.trim_start().strip_prefix('"')) {
            codes.extend(call.split('"').next().map(str::to_owned));
        }
    }
    // The defect of the program that no file is known to bring about.
    codes.remove("not-read");
    codes
}

#[test]
fn no_line_is_wider_than_eighty_columns() {
    for group in [cases::TEXT, cases::VALUES, cases::TIMES, cases::LIMITS, cases::PEOPLE, cases::ROOMS, cases::ROTAS] {
        for line in group.iter().flat_map(|case| told(case).lines().map(str::to_owned).collect::<Vec<_>>()) {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
}

/// The private file holds the unusual figure 77 and the roster the person KB.
#[test]
fn nothing_of_the_private_file_is_shown() {
    for case in cases::PRIVATE {
        let text = told(case);
        let shown = text.lines().filter(|line| line.contains("77") || line.contains("KB") || line.contains("ZZ"));
        assert_eq!(shown.count(), 0, "{text}");
    }
    let private = edited("private.toml", &[]);
    let night = read::night(&edited("roster.toml", &[]), &edited("limits.toml", &[]), Some(&private), today());
    let shown = format!("{night:?}");
    assert!(shown.contains("PersonalLimits(not shown)"), "{shown}");
}

#[test]
fn all_mistakes_of_one_run_are_told_worst_first() {
    let roster = edited("roster.toml", cases::MANY);
    let limits = edited("limits.toml", cases::MANY);
    let findings: Findings = read::night(&roster, &limits, None, today()).expect_err("many mistakes");
    let places: Vec<_> = findings.iter().map(|f| (f.severity, f.file.as_str(), f.line)).collect();
    let mut sorted = places.clone();
    sorted.sort_by_key(|&(severity, file, line)| (severity, file == "limits.toml", line));
    assert_eq!(places, sorted);
    assert!(findings.errors() >= cases::MANY.len(), "{}", findings.render());
}
