//! Sign-offs and fit tests from a spreadsheet: every form, every mistake word for word.

use std::fs;

use anteroom::night::{Night, Role};
use anteroom::read::{self, Beside, Findings, Reading, Source};
use chrono::NaiveDate;

use super::common::day;
use super::{anteroom, text};

const GOOD: &str = "id,kind,role,respirator,size,valid_through\n\
                    KB,sign-off,entrant,,,2031-03-31\n\
                    KB,sign-off,doffing-observer,,,2031-04-30\n\
                    KB,fit-test,,RA,M,2031-05-31\n";

fn read(csv: &str) -> Reading<Night> {
    read_bytes(csv.as_bytes())
}

fn read_bytes(csv: &[u8]) -> Reading<Night> {
    read_onto(&fs::read_to_string("rosters/quiet-night.toml").expect("an example"), csv)
}

fn read_onto(roster: &str, csv: &[u8]) -> Reading<Night> {
    let sign_offs = Source::new("sign-offs.csv", csv);
    let beside = Beside { sign_offs: Some(&sign_offs), ..Beside::default() };
    let limits = fs::read("constraints/temperate.toml").expect("an example");
    let (roster, limits) = (Source::new("r.toml", roster.as_bytes()), Source::new("l.toml", &limits));
    read::night_with(&roster, &limits, beside, day(2031, 3, 1))
}

fn accepted(csv: &str) -> (Night, Findings) {
    match read(csv) {
        Ok(read) => read,
        Err(findings) => panic!("{csv}\nrefused:\n{}", findings.render()),
    }
}

/// What is said of the file of sign-offs, in the order in which it is told.
fn said(findings: &Findings) -> String {
    let of_it = findings.iter().filter(|f| f.file == "sign-offs.csv");
    of_it.map(anteroom::read::Finding::render).collect::<Vec<_>>().join("\n")
}

fn held(night: &Night, id: &str) -> Vec<(&'static str, NaiveDate)> {
    let person = night.roster.people.iter().find(|p| p.id == id).expect("on the roster");
    person.sign_offs.iter().map(|s| (s.role.word(), s.valid_through)).collect()
}

#[test]
fn it_takes_the_place_of_the_roster_kind_by_kind() {
    let (night, findings) = accepted(GOOD);
    assert_eq!(held(&night, "KB"), [("entrant", day(2031, 3, 31)), ("doffing-observer", day(2031, 4, 30))]);
    let kb = &night.roster.people[0];
    assert_eq!(kb.signed_through(Role::Assistant), None, "the roster's other roles are gone");
    assert_eq!(kb.fit_tests.len(), 1);
    assert_eq!(kb.fit_tests[0].valid_through, day(2031, 5, 31));
    // Nobody else is in the file.
    assert_eq!(held(&night, "MR").len(), 4);
    let words = said(&findings).replace("\n  ", " ");
    assert!(words.contains("sign-offs of 1 and fit tests of 1 on this roster are taken from this file."), "{words}");
    assert!(words.contains("Not in the file, so as the roster says: MR, JT, PS, DW, GT, AL, FN, HC."), "{words}");
}

#[test]
fn a_kind_that_is_not_in_the_file_stays() {
    let (night, _) = accepted("id,kind,respirator,size,valid_through\nKB,fit-test,RA,M,2031-03-04\n");
    assert_eq!(held(&night, "KB").len(), 4);
    assert_eq!(night.roster.people[0].fit_tests[0].valid_through, day(2031, 3, 4));
}

#[test]
fn as_spreadsheets_write_it() {
    let (night, _) = accepted(GOOD);
    let forms = [
        format!("\u{feff}{}", GOOD.replace('\n', "\r\n")),
        GOOD.replace(',', ";"),
        GOOD.replace(',', "\t"),
        format!("\n\n{}\n;;\n", GOOD.replace(',', ";").replace('\n', "\n\n")),
        format!("sep=;\r\n{}", GOOD.replace(',', ";").replace('\n', "\r\n")),
        GOOD.replace("KB", "\"KB\"").replace("2031-04-30", "\"2031-04-30\""),
        GOOD.replace("id,kind", "ID, Kind").replace("sign-off", " Sign-Off "),
        // Fields at the end of a row that are empty may be left out; the order of columns is free.
        "valid_through,id,kind,size,respirator,role\n2031-03-31,KB,sign-off,,,entrant\n\
         2031-04-30,KB,sign-off,,,doffing-observer\n2031-05-31,KB,fit-test,M,RA\n"
            .to_owned(),
    ];
    for form in forms {
        assert_eq!(accepted(&form).0, night, "{form}");
    }
}

#[test]
fn unknown_is_not_signed_off_and_is_said() {
    for unknown in ["", "unknown", "Unknown"] {
        let (night, findings) = accepted(&GOOD.replace("2031-04-30", unknown));
        assert_eq!(held(&night, "KB"), [("entrant", day(2031, 3, 31))]);
        let words = said(&findings).replace("\n  ", " ");
        assert!(
            words.contains("warning: \"KB\": doffing observer has no last day. Unknown is not in date: it"),
            "{words}"
        );
    }
    let (night, findings) = accepted(&GOOD.replace("2031-05-31", ""));
    assert!(night.roster.people[0].fit_tests.is_empty());
    assert!(said(&findings).contains("fit test for RA size M has no last day"));
}

/// Valid through the night's last day covers all of it; one day less ends at midnight, and that is said.
#[test]
fn the_last_day_is_good_to_24_00() {
    let told = |day: &str| said_of_all(&accepted(&GOOD.replace("2031-03-31", day)).1);
    assert!(!told("2031-03-05").contains("entrant valid through"));
    assert!(told("2031-03-04").contains("KB: entrant valid through 4 Mar 2031."));
    assert!(told("2031-03-03").contains("KB: entrant was valid through 3 Mar 2031."));
}

/// A column for it tells when a role was last done, or that nobody knows; without one the roster's days stay (A9).
#[test]
fn when_a_role_was_last_done() {
    let done = |csv: &str| accepted(csv).0.roster.people[0].last_done(Role::Entrant);
    let head = "id,kind,role,valid_through,last_done\n";
    assert_eq!(done(&format!("{head}KB,sign-off,entrant,2031-03-31,2031-02-03\n")), Some(day(2031, 2, 3)));
    // The day of the shift is no day to come.
    assert_eq!(done(&format!("{head}KB,sign-off,entrant,2031-03-31,2031-03-04\n")), Some(day(2031, 3, 4)));
    for unknown in ["", "unknown"] {
        assert_eq!(done(&format!("{head}KB,sign-off,entrant,2031-03-31,{unknown}\n")), None);
    }
    let roster = fs::read_to_string("rosters/quiet-night.toml").expect("an example");
    let roster = roster.replacen("\"assistant\"], valid", "\"assistant\"], last_done = \"2031-02-09\", valid", 1);
    let with =
        |csv: &str| read_onto(&roster, csv.as_bytes()).expect("accepted").0.roster.people[0].last_done(Role::Entrant);
    assert_eq!(with("id,kind,role,valid_through\nKB,sign-off,entrant,2031-03-31\n"), Some(day(2031, 2, 9)));
    assert_eq!(with(&format!("{head}KB,sign-off,entrant,2031-03-31,\n")), None);
}

fn said_of_all(findings: &Findings) -> String {
    findings.render().replace("\n  ", " ")
}

#[test]
fn people_who_are_not_here_are_named() {
    let (_, findings) =
        accepted(&format!("{GOOD}XX,sign-off,entrant,,,2031-03-31\nK8,sign-off,entrant,,,2031-03-31\n"));
    let words = said(&findings).replace("\n  ", " ");
    assert!(words.contains("2 in this file are not on this roster: K8, XX."), "{words}");
}

/// The place is the line and the character; the words are kept in a file.
#[test]
fn mistakes_word_for_word() {
    let row = |row: &str| format!("{GOOD}{row}\n");
    let done = |row: &str| format!("id,kind,role,respirator,size,valid_through,last_done\n{row}\n");
    let cases = [
        ("a day that could be two (message 21)", row("MR,sign-off,entrant,,,03/04/25")),
        ("a sign-off without a role (message 22)", row("MR,sign-off,,,,2031-03-31")),
        ("no such day", row("MR,sign-off,entrant,,,2031-02-30")),
        ("an unknown role", row("MR,sign-off,dofing-observer,,,2031-03-31")),
        ("an unknown kind", row("MR,signoff,entrant,,,2031-03-31")),
        ("no kind", row("MR,,entrant,,,2031-03-31")),
        ("no id", row(",sign-off,entrant,,,2031-03-31")),
        ("a fit test without a model", row("MR,fit-test,,,M,2031-03-31")),
        ("a fit test without a size", row("MR,fit-test,,RA,,2031-03-31")),
        ("a sign-off with a respirator", row("MR,sign-off,entrant,RA,M,2031-03-31")),
        ("a fit test with a role", row("MR,fit-test,entrant,RA,M,2031-03-31")),
        ("a respirator of no ensemble", row("MR,fit-test,,RAA,M,2031-03-31")),
        ("the same role twice", row("KB,sign-off,entrant,,,2031-09-30")),
        ("the same fit test twice", row("KB,fit-test,,RA,M,2031-09-30")),
        ("a preceptor who is no entrant", row("MR,sign-off,preceptor,,,2031-03-31")),
        ("more fields than headings", row("MR,sign-off,entrant,,,2031-03-31,what")),
        ("a quote that is not closed", row("MR,\"sign-off,entrant,,,2031-03-31")),
        ("something after a quote", row("\"MR\"x,sign-off,entrant,,,2031-03-31")),
        ("an unknown column", GOOD.replace("valid_through\n", "valid_through,notes\n")),
        ("a misspelt column", GOOD.replace("valid_through", "valid_trough")),
        ("a column twice", GOOD.replace("respirator,size", "size,size")),
        ("no row", "id,kind,valid_through\n".to_owned()),
        ("nothing at all", String::new()),
        ("a role without a last day", row("MR,sign-off,entrant,,,")),
        ("a fit test without a last day", row("MR,fit-test,,RA,M,unknown")),
        ("somebody who is not here", row("XX,sign-off,entrant,,,2031-03-31")),
        ("a role last done on a day to come", done("KB,sign-off,assistant,,,2031-03-31,2031-03-05")),
        ("a role last done on no day", done("KB,sign-off,assistant,,,2031-03-31,lately")),
        ("a fit test last done", done("KB,fit-test,,RB,M,2031-03-31,2031-03-01")),
        ("several at once", row("MR,sign-off,,,,2031-03-31\nJT,sign-of,entrant,,,31.12.2031\nPS,fit-test,,RA,,soon")),
    ];
    let told = |csv: &str| match read(csv) {
        Ok((_, findings)) | Err(findings) => said(&findings),
    };
    let sections: Vec<String> = cases.iter().map(|(name, csv)| format!("=== {name}\n{}\n", told(csv))).collect();
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/input/sign-offs.txt");
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        fs::write(path, sections.concat()).expect("the fixtures can be written");
    }
    assert_eq!(sections.concat(), fs::read_to_string(path).unwrap_or_default());
}

#[test]
fn bytes_that_are_no_text_are_told() {
    for bytes in [&b"id,kind\n\xff\xfe"[..], &[0xff, 0xfe, b'i', 0]] {
        let findings = read_bytes(bytes).expect_err("refused");
        assert!(findings.render().contains("sign-offs.csv:"), "{}", findings.render());
    }
}

proptest::proptest! {
    #[test]
    fn no_text_makes_the_reader_panic(
        head in proptest::bool::ANY,
        body in "(KB|XX|sign-off|fit-test|entrant|RA|2031-03-31|03/04/25|[,;\"\n\r\t =]){0,30}|\\PC{0,60}",
    ) {
        let csv = if head { format!("id,kind,role,respirator,size,valid_through\n{body}") } else { body };
        let rendered = match read(&csv) {
            Ok((_, findings)) | Err(findings) => findings.render(),
        };
        proptest::prop_assert!(!rendered.is_empty());
    }
}

/// Every command that takes a roster takes it.
#[test]
fn commands_take_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let lapsed = GOOD
        .replace("2031-04-30", "2031-03-04")
        .replace("sign-off,entrant,,,2031-03-31", "sign-off,assistant,,,2031-09-30");
    fs::write(folder.path().join("s.csv"), &lapsed).expect("a file");
    let night = "rosters/quiet-night.toml constraints/temperate.toml --today 2031-03-01 --sign-offs @/s.csv";
    let rota = "rosters/quiet-night.rota.toml";
    // KB watches removals after midnight in this rota, goes in and watches a donning: no sign-off for any of them now.
    for command in ["check", "observers"] {
        let output = anteroom(&format!("{command} {rota} {night}"), folder.path());
        assert_eq!(output.status.code(), Some(3), "{}", text(&output.stderr));
        let words = text(&output.stdout);
        assert!(words.contains("KB's sign-off as doffing-observer ends at 24:00 on 2031-03-04"), "{words}");
        assert!(words.contains("KB is not signed off as donning-observer"), "{words}");
    }
    let output = anteroom(&format!("sheet {rota} {night} --out @/sheet.html"), folder.path());
    assert_eq!(output.status.code(), Some(3));
}
