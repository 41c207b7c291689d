//! What the command writes and refuses.

use std::fs;
use std::path::Path;

use anteroom::show::sheet;
use scraper::Html;

use super::larch::Larch;
use super::{ROTA, anteroom, print, sheet_of, text, texts};

#[test]
fn an_explained_gap_is_posted_without_reasons() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("short.html");
    // Nobody goes in at all: every presence is a gap, with a reason for each person.
    let rota =
        "format = 1\nroster = \"Yarrow, night of 11 March 2031\"\nconstraint_set = \"temperate v1\"\nissue = 1\n";
    fs::write(folder.path().join("none.toml"), rota).expect("a rota");
    let words =
        ["sheet", "@/none.toml", "rosters/short-staffed.toml", "constraints/temperate.toml", "--out", "@/short.html"];
    let output = anteroom(&words, folder.path());
    assert_eq!(output.status.code(), Some(1), "{}", String::from_utf8_lossy(&output.stderr));
    let html = Html::parse_document(&fs::read_to_string(out).expect("the sheet"));
    let gaps = texts(&html, "tbody.gap").join("\n");
    assert!(gaps.contains("NO ENTRY"), "{gaps}");
    for reason in ["Not:", "not in date", "not today", "A4", "A1", "may go in"] {
        assert!(!text(html.root_element()).contains(reason), "{reason} is on the sheet: {gaps}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let larch = Larch::new();
    assert_eq!(sheet::html(&print(&larch)), sheet::html(&print(&Larch::new())));
    let folder = tempfile::tempdir().expect("a folder");
    for name in ["a", "b"] {
        let (html, ics) = (format!("@/{name}.html"), format!("@/{name}.ics"));
        assert_eq!(sheet_of(ROTA[0], &["--out", &html, "--calendar", &ics], folder.path()).status.code(), Some(0));
    }
    let bytes = |name: &str| fs::read(folder.path().join(name)).expect("a file");
    assert_eq!(bytes("a.html"), bytes("b.html"));
    assert_eq!(bytes("a.ics"), bytes("b.ics"));
}

#[test]
fn a_rota_with_a_fault_ends_with_three_and_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let rota = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(ROTA[0])).expect("the example");
    fs::write(folder.path().join("bad.toml"), rota.replace("03:50", "03:45")).expect("a rota");
    let output = sheet_of("@/bad.toml", &["--out", "@/bad.html"], folder.path());
    assert_eq!(output.status.code(), Some(3));
    assert!(String::from_utf8_lossy(&output.stdout).contains("checked  FAULTS 3: DO NOT USE"));
    let html = fs::read_to_string(folder.path().join("bad.html")).expect("the sheet");
    assert!(html.contains("FAULTS 3") && !html.contains("checked: 0 faults"));
}

#[test]
fn files_that_are_there_are_kept_and_issues_are_told_apart() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("kept.html"), "mine").expect("a file");
    let refused = |more: &[&str], words: &str| {
        let output = sheet_of(ROTA[0], more, folder.path());
        let error = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{error}");
        assert!(error.contains(words), "{words} is not in: {error}");
    };
    refused(&["--out", "@/kept.html"], "is there already");
    refused(&["--out", "@/new.html", "--replaces", "1"], "replace issue 1");
    refused(&["--out", "@/new.html", "--changed-from", ROTA[0]], "Give --issue 2.");
    refused(&["--calendar", "@/nowhere"], "has no folder");
    refused(&["--out", "@/new.html", "--paper", "b5"], "there is: a4, a3, letter, tabloid");
    refused(&["--parts", "wall"], "--out");
    assert_eq!(fs::read_to_string(folder.path().join("kept.html")).expect("a file"), "mine");
    assert_eq!(fs::read_dir(folder.path()).expect("the folder").count(), 1, "nothing else was written");
}
