//! Histories of absence and results files: what is read, and the exact words for what cannot be.

use std::fs;
use std::path::Path;

use anteroom::night::Minutes;
use anteroom::read::{self, ResultRow, Source};

fn history(text: &str) -> Source {
    Source::new("history.csv", text.as_bytes())
}

/// Whatever a spreadsheet makes of it, it is the same history.
#[test]
fn spreadsheets_write_the_same_history_in_many_ways() {
    let right = read::history(&history("person,shifts,absences\nKB,40,3\nMR,20,0\n")).expect("right").0;
    assert_eq!(right["KB"], (3, 40));
    for text in [
        "\u{feff}person,shifts,absences\r\nKB,40,3\r\nMR,20,0",
        "person;shifts;absences\nKB;40;3\n\nMR;20;0\n",
        "Person\tAbsences\tShifts\tnote\nKB\t3\t40\tx\nMR\t0\t20\t\n",
        "\"person\",\"shifts\",\"absences\"\n\"KB\",\"40\", 3\n MR , 20,\"0\"\n",
        "person,note,shifts,absences\nKB,\"a \"\"b\"\", c\nd\",40,3\nMR,,20,0\n",
    ] {
        assert_eq!(read::history(&history(text)).map_err(|f| f.render()).expect(text).0, right);
    }
}

#[test]
fn a_row_to_a_shift_is_counted() {
    let text = "person,date,absent\nKB,2031-01-01,no\nKB,2031-01-02,Yes\nMR,2031-01-01,0\nKB,2031-01-05,no\n";
    let read = read::history(&history(text)).expect("right").0;
    assert_eq!((read["KB"], read["MR"]), ((1, 3), (0, 1)));
}

const RESULTS: &str = "anteroom absence results,1\nroster,ab\nshare,2,3\n\
    case,how,certain,rescue,uncovered,must,skill,wanted\n1,planned,gap,0,40 5,1,0,2\n4,follows,,,,,,\nend,2\n";

#[test]
fn results_are_read_as_they_are_written() {
    let read = read::results(&Source::new("r.csv", RESULTS.as_bytes())).map_err(|f| f.render()).expect("right").0;
    assert_eq!((read.share, read.made_from), ((2, 3), vec![("roster".to_owned(), "ab".to_owned())]));
    let planned = ResultRow::Planned {
        certain: "gap".into(),
        minutes: [Minutes(0), Minutes(0)],
        counts: [1, 2],
        uncovered: vec![Minutes(40), Minutes(5)],
    };
    assert_eq!(read.cases.into_iter().collect::<Vec<_>>(), [(1, planned), (4, ResultRow::Follows)]);
}

/// Each mistake with what is told of it, kept in `tests/fixtures/input/rows.txt`; run with `ANTEROOM_GOLDEN=write` to
/// write it anew.
#[test]
fn mistakes_are_told_word_for_word() {
    let long = "person,shifts,absences\n".to_owned() + &"K,4,1\n".repeat(100_001);
    let histories = [
        ("nothing at all", ""),
        ("only the names of the columns", "person,shifts,absences\n"),
        ("no names of columns", "KB,40,3\n"),
        ("a column twice", "person,shifts,absences,shifts\nKB,40,3,40\n"),
        ("a field left out", "person,shifts,absences\nKB,40\nMR,,1\n"),
        ("no counts", "person,shifts,absences\nKB,many,3\nMR,40,-1\nJT,40,1.5\n"),
        ("more absences than shifts, and no shifts", "person,shifts,absences\nKB,3,4\nMR,0,0\n"),
        ("a person twice", "person,shifts,absences\nKB,40,3\nMR,40,1\nKB,20,1\n"),
        ("a shift twice", "person,date,absent\nKB,2031-01-01,no\nKB,2031-01-01,yes\n"),
        ("neither yes nor no", "person,date,absent\nKB,2031-01-01,ill\n"),
        ("an open quote", "person,shifts,absences\n\"KB,40,3\n"),
        ("text after a quote", "person,shifts,absences\n\"K\"B,40,3\n"),
        ("too many rows", long.as_str()),
    ];
    let results = [
        ("no results file", "person,shifts\n".to_owned()),
        ("cut off", RESULTS.replace("end,2\n", "")),
        ("a row lost", RESULTS.replace("4,follows,,,,,,\n", "")),
        ("cut off before the cases", "anteroom absence results,1\nroster,ab\n".to_owned()),
        ("a figure changed into a word", RESULTS.replace("40 5", "many")),
        ("a case twice", RESULTS.replace("4,follows", "1,follows")),
    ];
    let mut text = String::new();
    for (name, file) in histories {
        let told = read::history(&history(file)).expect_err(name).render();
        assert!(!told.contains(" | "), "nothing of a history is quoted: {told}");
        text.extend(["=== ", name, "\n", &told, "\n"]);
    }
    for (name, file) in results {
        let told = read::results(&Source::new("results.csv", file.as_bytes())).expect_err(name).render();
        text.extend(["=== ", name, "\n", &told, "\n"]);
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/input/rows.txt");
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        fs::write(&path, &text).expect("written");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(fs::read_to_string(&path).unwrap_or_default() == text, "{} differs; now:\n{text}", path.display());
}
