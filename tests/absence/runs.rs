//! The command itself: several processes, files between them, and answers byte for byte.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use tempfile::TempDir;

/// The quiet night cut down to its first visit, so that a night is planned in a moment.
fn folder() -> TempDir {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let roster = fs::read_to_string(here.join("rosters/quiet-night.toml")).expect("the example");
    let (head, rest) = roster.split_once("# Something done inside, once.").expect("tasks");
    let (_, stock) = rest.split_once("# Doffing lanes.").expect("lanes");
    let short = format!("{head}# Doffing lanes.{stock}").replace("2031-03-05T07:30", "2031-03-04T23:00");
    fs::write(folder.path().join("roster.toml"), short).expect("a roster");
    fs::copy(here.join("constraints/temperate.toml"), folder.path().join("limits.toml")).expect("limits");
    folder
}

fn run(folder: &Path, more: &str) -> Output {
    let arguments = format!("absence roster.toml limits.toml --today 2031-03-04 {more}");
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    command.args(arguments.split_whitespace()).current_dir(folder).output().expect("anteroom starts")
}

fn good(folder: &Path, more: &str) -> String {
    let output = run(folder, more);
    let (out, err) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    assert_eq!(output.status.code(), Some(0), "{more}\n{out}{err}");
    out.into_owned()
}

/// The words of a refusal, as one line.
fn refused(folder: &Path, more: &str) -> String {
    let output = run(folder, more);
    assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0), "{more}");
    String::from_utf8_lossy(&output.stderr).split_whitespace().collect::<Vec<_>>().join(" ")
}

const SAME: &str = "--missing-percent 30 --nights 60 --effort 1000";

fn files(folder: &Path, name: &str) -> [Vec<u8>; 3] {
    ["csv", "json", "html"].map(|kind| fs::read(folder.join(format!("{name}.{kind}"))).expect("a file of the answer"))
}

fn answers(name: &str) -> String {
    format!("--csv {name}.csv --json {name}.json --out {name}.html")
}

#[test]
fn shares_of_several_processes_gathered_are_the_single_run_byte_for_byte() {
    let folder = folder();
    let path = folder.path();
    let single = good(path, &format!("{SAME} {} --results whole.csv", answers("single")));
    std::thread::scope(|scope| {
        for number in 1..=3 {
            scope.spawn(move || good(path, &format!("{SAME} --share {number}/3 --results {number}.csv")));
        }
    });
    let gathered = good(path, &format!("{SAME} {} --gather 2.csv 3.csv 1.csv", answers("gathered")));
    assert_eq!(single, gathered);
    assert_eq!(files(path, "single"), files(path, "gathered"));
    // And again from the start, and from what a single run kept.
    assert_eq!(good(path, SAME), single);
    assert_eq!(good(path, &format!("{SAME} --gather whole.csv")), single);
    assert!(single.lines().all(|line| line.chars().count() <= 80), "{single}");
    let page = String::from_utf8(files(path, "single")[2].clone()).expect("text");
    assert!(
        ["<script", "http", "url(", "@import"].iter().all(|word| !page.contains(word)),
        "the page stands by itself"
    );
    assert!(page.matches("<svg").count() == 2 && page.contains("TRAINING - NOT FOR USE"));
    answers_name_nobody(path, &single);
    what_does_not_belong_together_is_refused(path);
    an_interrupted_share_goes_on(path);
}

/// No id of the roster stands in any answer or results file.
fn answers_name_nobody(folder: &Path, answer: &str) {
    let roster = fs::read_to_string(folder.join("roster.toml")).expect("the roster");
    let ids: Vec<&str> = roster.lines().filter_map(|line| line.strip_prefix("id = \"")?.get(..2)).collect();
    assert!(ids.contains(&"KB") && ids.contains(&"HC"));
    let kept = fs::read_to_string(folder.join("1.csv")).expect("results");
    let files = files(folder, "single").map(|bytes| String::from_utf8(bytes).expect("text"));
    for text in files.iter().map(String::as_str).chain([answer, &kept]) {
        let mut words = text.split(|c: char| !c.is_ascii_alphanumeric());
        assert_eq!(words.find(|word| word.len() == 2 && ids.contains(word)), None);
    }
}

fn what_does_not_belong_together_is_refused(folder: &Path) {
    let gather = |more: &str, files: &str| refused(folder, &format!("{more} --gather {files}"));
    assert!(gather(SAME, "1.csv 3.csv").contains("No file has share 2 of 3. Run what is missing, and name all files."));
    assert!(gather(SAME, "1.csv 1.csv 2.csv 3.csv").contains("1.csv: share 1 is in 1.csv too. Name one of the two."));
    let seed = gather(&format!("{SAME} --seed 2"), "1.csv 2.csv 3.csv");
    assert!(seed.contains("1.csv: made from something else than is given now. Not the same: seed."), "{seed}");
    let effort = gather("--missing-percent 30 --nights 60 --effort 2000", "1.csv 2.csv 3.csv");
    assert!(effort.contains("Not the same: effort."), "{effort}");
    let percent = gather("--missing-percent 31 --nights 60 --effort 1000", "1.csv 2.csv 3.csv");
    assert!(percent.contains("Not the same: how often people are missing."), "{percent}");
    let roster = fs::read_to_string(folder.join("roster.toml")).expect("the roster");
    fs::write(folder.join("roster.toml"), roster.clone() + "\n# another\n").expect("a roster");
    assert!(gather(SAME, "1.csv 2.csv 3.csv").contains("Not the same: roster."));
    fs::write(folder.join("roster.toml"), roster).expect("a roster");
    let kept = refused(folder, &format!("{SAME} --share 1/3 --results 1.csv"));
    assert!(kept.contains("1.csv: is there already, and is kept."), "{kept}");
    let other = refused(folder, &format!("{SAME} --share 2/3 --results 1.csv --resume"));
    assert!(other.contains("it has share 1 of 3, and share 2 of 3 is to be worked on."), "{other}");
}

/// A share that ended early goes on, and comes to the same file.
fn an_interrupted_share_goes_on(folder: &Path) {
    let whole = fs::read_to_string(folder.join("1.csv")).expect("results");
    let head = whole.lines().position(|line| line.starts_with("case,")).expect("a head") + 1;
    let lines: Vec<&str> = whole.lines().collect();
    let cases = lines.len() - 1 - head;
    assert!(cases > 6, "{whole}");
    // The cases with most people missing come first and stand last.
    let kept = [&lines[..head], &lines[head + cases - 4..head + cases], &["end,4"]].concat().join("\n") + "\n";
    fs::write(folder.join("1.csv"), kept).expect("cut");
    let unfinished = refused(folder, &format!("{SAME} --gather 1.csv 2.csv 3.csv"));
    assert!(unfinished.contains(&format!("1.csv: not finished: 4 of {cases} cases.")), "{unfinished}");
    good(folder, &format!("{SAME} --share 1/3 --results 1.csv --resume"));
    assert_eq!(fs::read_to_string(folder.join("1.csv")).expect("results"), whole);
}

#[test]
fn the_list_is_written_and_says_who_only_by_number() {
    let folder = folder();
    let path = folder.path();
    good(path, &format!("{SAME} --write-nights list"));
    let read = |name: &str| fs::read_to_string(path.join("list").join(name)).expect("a file of the list");
    let (nights, cases) = (read("nights.csv"), read("cases.csv"));
    assert!(nights.starts_with("crew,night,missing,case\n1,1,") && nights.lines().count() == 61, "{nights}");
    let counted: u32 = cases
        .lines()
        .skip(1)
        .map(|line| line.rsplit(',').next().expect("nights").parse::<u32>().expect("a number"))
        .sum();
    assert_eq!(counted, 60);
    assert!(read("made-from.csv").contains("\nseed,1\n"));
    assert!(refused(path, &format!("{SAME} --write-nights list")).contains("is there already, and is kept."));
}

#[test]
fn a_history_counts_for_those_in_it() {
    let folder = folder();
    let path = folder.path();
    let ids = ["KB", "MR", "JT", "PS", "DW", "GT", "AL", "FN"];
    let rows = ids.map(|id| format!("{id};40;0\n")).concat();
    fs::write(path.join("h.csv"), format!("\u{feff}person;shifts;absences\n{rows}")).expect("a history");
    let wrong = refused(path, "--history h.csv --nights 40 --effort 1000");
    assert!(wrong.contains("Not in the history: HC. How often they are missing is not guessed."), "{wrong}");
    // Nobody else is ever missing, so that the nights are of two kinds.
    let answer = good(path, "--history h.csv --missing-percent 50 --nights 40 --effort 1000");
    assert!(answer.contains("40 nights, seed 1: 2 different sets of people missing."), "{answer}");
    fs::write(path.join("h.csv"), "person,shifts,absences\nKB,40,41\n").expect("a history");
    let wrong = refused(path, "--history h.csv --nights 40");
    assert!(wrong.contains("h.csv:2: there are more absences than shifts, or no shifts."), "{wrong}");
}

/// One more of a group never covers fewer nights, since the nights are the same.
#[test]
fn crews_are_compared_on_the_same_nights() {
    let folder = folder();
    let path = folder.path();
    let question = "format = 1\nname = \"how many who enter\"\nexample = true\nkeep_people = false\n\
        [[group]]\nid = \"entering\"\nroles = [\"entrant\"]\nlike = \"KB\"\nfrom = 2\nto = 4\n\
        [[group]]\nid = \"helping\"\nroles = [\"donning-observer\", \"doffing-observer\", \"assistant\"]\nlike = \"HC\"\npeople = 4\n";
    fs::write(path.join("q.toml"), question).expect("a question");
    good(path, "--missing-percent 20 --nights 60 --effort 1000 --question q.toml --csv n.csv --out n.html");
    let rows = fs::read_to_string(path.join("n.csv")).expect("nights");
    let of = |crew: &str| -> Vec<bool> {
        let mine = rows.lines().filter(|line| line.starts_with(&format!("\"{crew}\"")));
        mine.map(|line| line.split(',').nth(4) == Some("yes")).collect()
    };
    let crews = ["2 entering, 4 helping", "3 entering, 4 helping", "4 entering, 4 helping"].map(of);
    let covered = crews.each_ref().map(|nights| nights.iter().filter(|covered| **covered).count());
    assert_eq!(crews.each_ref().map(Vec::len), [60; 3], "{rows}");
    assert!(covered[0] < covered[1] && covered[1] <= covered[2] && covered[0] > 0, "{covered:?}");
    for pair in crews.windows(2) {
        assert!(pair[0].iter().zip(&pair[1]).all(|(fewer, more)| more >= fewer));
    }
}

/// Who may watch hangs on the file of sign-offs too: a share made with another must not be gathered.
#[test]
fn shares_made_with_other_sign_offs_are_refused() {
    let folder = folder();
    let path = folder.path();
    let sign_offs = "id,kind,role,valid_through\nAL,sign-off,assistant,2031-12-31\n";
    fs::write(path.join("sign-offs.csv"), sign_offs).expect("sign-offs");
    good(path, &format!("{SAME} --sign-offs sign-offs.csv --share 1/1 --results 1.csv"));
    let told = refused(path, &format!("{SAME} --gather 1.csv"));
    assert!(told.contains("1.csv: made from something else than is given now. Not the same: sign-offs."), "{told}");
    good(path, &format!("{SAME} --sign-offs sign-offs.csv --gather 1.csv"));
}
