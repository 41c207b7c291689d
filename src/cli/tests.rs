//! The front end's own ways, with parts that answer as they are told.

#[expect(dead_code, reason = "the night made by hand serves several tests, each in part")]
#[path = "../../tests/larch/mod.rs"]
mod larch;

use std::fs;
use std::path::Path;

use clap::Parser;

use super::args::Args;
use super::console::Console;
use super::files::Given;
use super::parts::{NightFiles, Parts, Read};
use super::status::Status;
use crate::check::{By, Fault, Review};
use crate::explain::Explained;
use crate::night::{Group, Minute, Minutes, Night, Question, Role, Rota, Rule, Span};
use crate::plan::{Effort, Ended, Planned, Watch};
use crate::staffing::{Answer, Scope, Wrong};
use larch::{Larch, at};

/// Answers with the night made by hand.
struct Fake {
    larch: Larch,
    refuse: bool,
}

impl Fake {
    fn new() -> Self {
        Self { larch: Larch::new(), refuse: false }
    }

    fn without_gaps() -> Self {
        let mut fake = Self::new();
        fake.larch.review.shortages.clear();
        fake.larch.review.tasks.clear();
        fake.larch.explained = Explained::default();
        fake
    }

    fn faulty() -> Self {
        let mut fake = Self::new();
        let span = Span::new(at(22, 0), at(22, 15));
        let what = "KB dons at 22:00, at rest until 22:15.".to_owned();
        fake.larch.review.faults =
            vec![Fault { span, rule: Rule::B4, people: vec![], by: Some(By::Minutes(Minutes(15))), what }];
        fake
    }
}

impl Parts for Fake {
    fn night(&self, _: &NightFiles) -> Read<Night> {
        if self.refuse {
            Err("roster.toml:3: unknown key".into())
        } else {
            Ok((self.larch.night.clone(), "warning: x".into()))
        }
    }
    fn rota(&self, _: &Given, _: &Night) -> Read<Rota> {
        Ok((self.larch.rota.clone(), String::new()))
    }
    fn plan(&self, _: &Night, _: Effort, _: &mut dyn Watch) -> Planned {
        Planned { rota: self.larch.rota.clone(), levels: self.larch.levels.clone(), ended: Ended::ByUser }
    }
    fn question(&self, _: &Given, night: &Night) -> Read<Question> {
        let one = night.roster.people[0].clone();
        let group = Group { id: "entrants".into(), roles: vec![Role::Entrant], from: 0, to: 1, one };
        let question =
            Question { name: "q".into(), example: true, keep_people: true, groups: vec![group], tried: vec![] };
        Ok((question, "note: y".into()))
    }
    fn crews(&self, night: &Night, _: &Question, _: Scope, _: Effort, _: &dyn Watch) -> Result<Answer, Box<Wrong>> {
        Err(Box::new(Wrong { night: night.clone(), rota: self.larch.rota.clone() }))
    }
    fn review(&self, _: &Night, _: &Rota) -> Review {
        self.larch.review.clone()
    }
    fn out_by(&self, _: &Night, _: &Rota) -> Vec<Minute> {
        self.larch.out_by.clone()
    }
    fn explain(&self, _: &Night, _: &Rota, _: &Review) -> Explained {
        self.larch.explained.clone()
    }
    fn key_reference(&self) -> String {
        "keys\n".into()
    }
    fn rule_pages(&self) -> String {
        "# Rules\n\n## A1 signed off\ntext\n\n## A2 fit test\nmore\n".into()
    }
}

/// A folder with a roster, limits and a rota in it.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder for the test");
    for name in ["roster.toml", "limits.toml", "rota.toml"] {
        fs::write(folder.path().join(name), "x").expect("a file for the test");
    }
    folder
}

/// Runs with arguments in which `@` stands for the folder: status, answer, notes.
fn run(fake: &Fake, folder: &Path, words: &str) -> (Status, String, String) {
    let words = words.replace('@', &folder.display().to_string());
    let args = Args::try_parse_from(std::iter::once("anteroom").chain(words.split(' '))).expect("good arguments");
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let status = super::act(&args, fake, &mut Console::quiet(&mut out, &mut err));
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (status, text(out), text(err))
}

const PLAN: &str = "plan @/roster.toml @/limits.toml --today 2031-03-04";
const CHECK: &str = "check @/rota.toml @/roster.toml @/limits.toml";

#[test]
fn a_crew_whose_rota_fails_the_check_is_a_mistake_of_the_program() {
    let folder = folder();
    let asked = "crews @/rota.toml @/roster.toml @/limits.toml --today 2031-03-04 --csv @/crews.csv";
    let (status, out, err) = run(&Fake::faulty(), folder.path(), asked);
    assert_eq!((status.code(), out.as_str()), (70, ""));
    assert!(err.contains("INTERNAL ERROR: the planned rota failed the independent check."), "{err}");
    assert!(err.contains("note: y") && !folder.path().join("crews.csv").exists());
}

#[test]
fn gaps_end_with_one_and_the_hand_that_stopped_is_named() {
    let folder = folder();
    let (status, out, err) = run(&Fake::new(), folder.path(), PLAN);
    assert_eq!(status.code(), 1);
    assert!(out.contains("\nSTOPPED BY HAND: best rota so far."), "{out}");
    assert_eq!(err, "warning: x\n");
}

#[test]
fn a_covered_night_ends_with_nought() {
    let folder = folder();
    assert_eq!(run(&Fake::without_gaps(), folder.path(), PLAN).0.code(), 0);
    assert_eq!(run(&Fake::without_gaps(), folder.path(), CHECK).0.code(), 0);
}

#[test]
fn a_faulty_rota_ends_with_three_when_checked() {
    let folder = folder();
    let (status, out, _) = run(&Fake::faulty(), folder.path(), &format!("{CHECK} --show check"));
    assert_eq!(status.code(), 3);
    assert!(out.contains("DO NOT USE: the check found 1 fault."), "{out}");
    assert!(out.contains("B4 rest before the next wear: missed by 15 min"), "{out}");
}

#[test]
fn a_faulty_planned_rota_is_loud_and_shown_to_nobody() {
    let folder = folder();
    let (status, out, err) = run(&Fake::faulty(), folder.path(), &format!("{PLAN} --out @/new.toml"));
    assert_eq!((status.code(), out.as_str()), (70, ""));
    assert!(err.contains("INTERNAL ERROR: the planned rota failed the independent check."), "{err}");
    assert!(err.contains("B4 rest before the next wear"), "{err}");
    assert!(!folder.path().join("new.toml").exists());
}

#[test]
fn bad_input_ends_with_two_and_writes_nothing() {
    let folder = folder();
    let fake = Fake { refuse: true, ..Fake::new() };
    let (status, out, err) = run(&fake, folder.path(), &format!("{PLAN} --json @/new.json"));
    assert_eq!((status.code(), out.as_str(), err.as_str()), (2, "", "roster.toml:3: unknown key\n"));
    assert!(!folder.path().join("new.json").exists());
}

#[test]
fn a_file_that_is_missing_is_named() {
    let folder = folder();
    let (status, _, err) = run(&Fake::new(), folder.path(), "plan @/none.toml @/limits.toml");
    assert_eq!(status.code(), 2);
    assert!(err.contains("none.toml: cannot be read"), "{err}");
}

#[test]
fn every_file_is_written_whole() {
    let folder = folder();
    let (status, ..) =
        run(&Fake::new(), folder.path(), &format!("{PLAN} --out @/a.toml --csv @/a.csv --json @/a.json"));
    assert_eq!(status, Status::Gaps);
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).expect("the file is there");
    assert!(read("a.toml").contains("[[entry]]"));
    assert!(read("a.csv").starts_with("person,duty,"));
    assert!(read("a.json").ends_with("}\n"));
    assert_eq!(fs::read_dir(folder.path()).expect("the folder").count(), 6, "nothing is left behind");
}

#[test]
fn files_that_are_there_are_kept_unless_forced() {
    let folder = folder();
    fs::write(folder.path().join("a.toml"), "old").expect("a file for the test");
    let refused = run(&Fake::new(), folder.path(), &format!("{PLAN} --out @/a.toml --csv @/a.csv"));
    assert_eq!(refused.0, Status::Refused);
    assert!(refused.1.is_empty() && refused.2.contains("a.toml: is there already"), "{}", refused.2);
    assert!(!folder.path().join("a.csv").exists());
    assert_eq!(run(&Fake::new(), folder.path(), &format!("{PLAN} --force --out @/a.toml")).0, Status::Gaps);
    assert_ne!(fs::read_to_string(folder.path().join("a.toml")).expect("the file is there"), "old");
}

#[test]
fn no_input_is_ever_written_over() {
    let folder = folder();
    for output in ["@/roster.toml", "@/../{}/limits.toml", "@/rota.toml/../roster.toml"] {
        let name = folder.path().file_name().and_then(|n| n.to_str()).expect("a name");
        let words = format!("{PLAN} --force --out {}", output.replace("{}", name));
        assert_eq!(run(&Fake::new(), folder.path(), &words).0, Status::Refused, "{output}");
    }
    let (status, _, err) = run(&Fake::new(), folder.path(), &format!("{CHECK} --force --json @/rota.toml"));
    assert!(status == Status::Refused && err.contains("is also read"), "{err}");
    assert_eq!(fs::read_to_string(folder.path().join("roster.toml")).expect("the file is there"), "x");
}

#[test]
fn one_file_is_not_two_answers() {
    let folder = folder();
    let (status, _, err) = run(&Fake::new(), folder.path(), &format!("{PLAN} --out @/a --json @/a"));
    assert!(status == Status::Refused && err.contains("is to be written twice"), "{err}");
}

#[test]
fn only_the_sections_asked_for_are_shown() {
    let folder = folder();
    let (_, out, _) = run(&Fake::new(), folder.path(), &format!("{PLAN} --show gaps,entries"));
    let heads: Vec<_> = out.lines().filter(|line| line.starts_with("== ")).collect();
    assert_eq!(heads.len(), 3);
    assert!(heads[1].starts_with("== ENTRIES") && heads[2].starts_with("== GAPS"));
}

#[test]
fn one_rule_or_all_of_them() {
    let folder = folder();
    let (_, one, _) = run(&Fake::new(), folder.path(), "rules a1");
    assert!(one.starts_with("== A1 signed off ===") && one.ends_with("===\n  text\n"), "{one}");
    assert!(run(&Fake::new(), folder.path(), "rules").1.contains("== A2"));
    let (status, _, err) = run(&Fake::new(), folder.path(), "rules Z9");
    assert_eq!(status, Status::Refused);
    assert!(err.starts_with("There is no rule \"Z9\". There are: A1, A2"), "{err}");
    assert_eq!(run(&Fake::new(), folder.path(), "keys").1, "  keys\n");
}

#[test]
fn the_arguments_hold_together() {
    use clap::CommandFactory;
    Args::command().debug_assert();
    for bad in ["plan r l --effort 0", "plan r l --effort huge", "plan r l --show cats", "plan r l --seconds 0"] {
        assert!(Args::try_parse_from(std::iter::once("anteroom").chain(bad.split(' '))).is_err(), "{bad}");
    }
}

fn cost(rule: &str) -> String {
    format!("cost {rule} @/roster.toml @/limits.toml --today 2031-03-04")
}

#[test]
fn what_a_rule_costs_is_shown_without_a_rota() {
    let (status, answer, _) = run(&Fake::new(), folder().path(), &cost("B10"));
    assert_eq!(status, Status::Covered);
    assert!(answer.contains("The rule costs nothing that is counted."), "{answer}");
    assert!(answer.contains("No rota is shown") && !answer.contains("ENTRY"), "{answer}");
}

#[test]
fn a_rule_that_cannot_be_turned_off_is_refused() {
    let (status, _, notes) = run(&Fake::new(), folder().path(), &cost("C1"));
    assert_eq!(status, Status::Refused);
    assert!(notes.contains("cannot be turned off"), "{notes}");
}

#[test]
fn a_cost_is_not_shown_when_the_check_refuses() {
    let (status, answer, notes) = run(&Fake::faulty(), folder().path(), &cost("B10"));
    assert_eq!((status, answer.as_str()), (Status::Internal, ""));
    assert!(notes.contains("INTERNAL ERROR"), "{notes}");
}
