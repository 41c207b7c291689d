//! README.md tells the truth: its commands run, and what it shows is what they say.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use tempfile::TempDir;

const README: &str = include_str!("../README.md");
const CI: &str = include_str!("../.ci/run");

/// A fenced block: its language and its lines.
struct Block {
    language: &'static str,
    lines: Vec<&'static str>,
}

fn blocks() -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    for line in README.lines() {
        match (line.strip_prefix("```"), open.take()) {
            (Some(language), None) => open = Some(Block { language, lines: vec![] }),
            (Some(_), Some(block)) => blocks.push(block),
            (None, Some(mut block)) => {
                block.lines.push(line);
                open = Some(block);
            }
            (None, None) => {}
        }
    }
    assert!(open.is_none(), "a block of README.md is not closed");
    blocks
}

/// The lines of a shell block, and of the excerpt that follows it.
fn shown() -> Vec<(Vec<&'static str>, Option<Vec<&'static str>>)> {
    let mut shown: Vec<(Vec<&str>, Option<Vec<&str>>)> = Vec::new();
    for block in blocks() {
        match block.language {
            "sh" => shown.push((block.lines, None)),
            "text" => shown.last_mut().expect("a command comes first").1 = Some(block.lines),
            "toml" => {}
            other => panic!("README.md has a block in {other:?}"),
        }
    }
    shown
}

/// A folder as a clone has it, as far as the commands look at it.
fn clone() -> TempDir {
    let clone = tempfile::tempdir().expect("a folder for the test");
    for folder in ["rosters", "constraints"] {
        fs::create_dir(clone.path().join(folder)).expect("a folder");
        copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), &clone.path().join(folder));
    }
    clone
}

/// Copies what is in a folder, and in the folders in it.
fn copy(from: &Path, to: &Path) {
    for file in fs::read_dir(from).expect("the examples") {
        let file = file.expect("an example").path();
        let to = to.join(file.file_name().expect("a name"));
        if file.is_dir() {
            fs::create_dir(&to).expect("a folder");
            copy(&file, &to);
        } else {
            fs::copy(&file, to).expect("copied");
        }
    }
}

fn anteroom(arguments: &str, folder: &Path) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    command.args(arguments.split_whitespace()).current_dir(folder).output().expect("anteroom starts")
}

/// `sed s/a/b/ from > to`: in every line the first `a` becomes `b`.
fn sed(arguments: &str, folder: &Path) {
    let words: Vec<&str> = arguments.split_whitespace().collect();
    let [script, from, ">", to] = words[..] else { panic!("not understood: sed {arguments}") };
    let ["s", a, b, ""] = script.split('/').collect::<Vec<_>>()[..] else { panic!("not understood: {script}") };
    let text = fs::read_to_string(folder.join(from)).expect("the file to change");
    assert_eq!(text.matches(a).count(), 1, "{script} is to change one place of {from}");
    fs::write(folder.join(to), text.replace(a, b)).expect("the changed file");
}

/// Runs the lines of a block and gives the last answer of anteroom.
fn run(lines: &[&str], folder: &Path) -> Option<(String, Output)> {
    let mut last = None;
    for line in lines {
        if let Some(arguments) = line.strip_prefix("anteroom ") {
            last = Some((arguments.to_owned(), anteroom(arguments, folder)));
        } else if let Some(arguments) = line.strip_prefix("sed ") {
            sed(arguments, folder);
        } else {
            assert!(line.contains("cargo ") || line.starts_with("alias "), "nothing tests: {line}");
        }
    }
    last
}

/// What stays the same in a rota that is planned otherwise: figures and IDs do not count.
fn shape(line: &str) -> String {
    let word = |word: &str| {
        let id = word.len() == 2 && word.chars().all(|c| c.is_ascii_uppercase());
        if id { "ID".to_owned() } else { word.replace(|c: char| c.is_ascii_digit(), "9").replace("99", "9") }
    };
    line.split_whitespace().map(word).collect::<Vec<_>>().join(" ")
}

/// The excerpt's lines stand in the answer in this order; `...` stands for any lines.
fn assert_contains(answer: &str, excerpt: &[&str], same: impl Fn(&str) -> String) {
    let mut lines = answer.lines();
    for wanted in excerpt.iter().filter(|line| **line != "...") {
        let found = lines.any(|line| same(line) == same(wanted));
        assert!(found, "README.md shows:\n{wanted}\nwhich is not there, or not there in this order:\n{answer}");
    }
}

fn holds(lines: &[&str], excerpt: Option<&Vec<&str>>) {
    let folder = clone();
    let Some((arguments, output)) = run(lines, folder.path()) else { return };
    let answer = String::from_utf8_lossy(&output.stdout) + String::from_utf8_lossy(&output.stderr);
    let status = output.status.code();
    let planned = arguments.starts_with("plan") && status != Some(2);
    assert!(matches!(status, Some(0..=3)), "{arguments}: {}\n{answer}", output.status);
    match excerpt {
        Some(excerpt) if planned => assert_contains(&answer, excerpt, shape),
        Some(excerpt) => assert_contains(&answer, excerpt, str::to_owned),
        None if planned => {}
        None => assert_eq!(status, Some(0), "{arguments}\n{answer}"),
    }
}

/// All commands at once: planning takes its time.
#[test]
fn commands_say_what_is_shown() {
    std::thread::scope(|scope| {
        for (lines, excerpt) in shown() {
            scope.spawn(move || holds(&lines, excerpt.as_ref()));
        }
    });
}

#[test]
fn the_two_commands_are_those_that_are_run_for_every_change() {
    let shell: Vec<&str> = shown().into_iter().flat_map(|(lines, _)| lines).filter(|l| l.contains("cargo ")).collect();
    let [plan, test] = shell[..] else { panic!("there are two commands to start with, not {shell:?}") };
    let plan = plan.rsplit(" && ").next().expect("a command");
    for command in [plan, test] {
        assert!(CI.contains(&format!("\nrun {command}\n")), "not in .ci/run: {command}");
    }
    assert!(plan.starts_with("cargo run --release -- plan ") && test == "cargo test --release");
}

/// What the text says to write into a roster can be read as part of the example that it starts from.
#[test]
fn tables_that_are_shown_belong_in_a_roster() {
    let folder = clone();
    let example = fs::read_to_string(folder.path().join("rosters/quiet-night.toml")).expect("the example");
    let mut seen = 0;
    for block in blocks().iter().filter(|block| block.language == "toml") {
        let roster = format!("{example}\n{}\n", block.lines.join("\n"));
        fs::write(folder.path().join("with.toml"), roster).expect("a roster");
        let output =
            anteroom("check rosters/quiet-night.rota.toml with.toml constraints/temperate.toml", folder.path());
        assert_ne!(output.status.code(), Some(2), "{}", String::from_utf8_lossy(&output.stderr));
        seen += 1;
    }
    assert!(seen > 0, "no table is shown");
}

/// Commands named inside the text exist, with their options.
#[test]
fn every_command_in_the_text_exists() {
    let folder = clone();
    let text = README.replace('\n', " ");
    let inline = text.split('`').skip(1).step_by(2).filter_map(|code| code.trim().strip_prefix("anteroom "));
    let mut seen = 0;
    for arguments in inline {
        let command = arguments.split_whitespace().next().expect("a command");
        let help = anteroom(&format!("{command} --help"), folder.path());
        assert!(help.status.success(), "there is no anteroom {command}");
        let help = String::from_utf8_lossy(&help.stdout).into_owned();
        let options = arguments.split_whitespace().filter(|word| word.starts_with("--"));
        options.for_each(|option| assert!(help.contains(option), "anteroom {command} has no {option}"));
        if matches!(command, "keys" | "rules") {
            assert!(anteroom(arguments, folder.path()).status.success(), "anteroom {arguments}");
        }
        seen += 1;
    }
    assert!(seen >= 4, "the commands in the text were not found");
}

#[test]
fn every_link_leads_somewhere() {
    for target in README.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
        let there = target.starts_with("https://") || Path::new(env!("CARGO_MANIFEST_DIR")).join(target).exists();
        assert!(there, "README.md links to {target}");
    }
}

#[test]
fn every_exit_status_is_named() {
    let help = anteroom("--help", Path::new("."));
    let help = String::from_utf8_lossy(&help.stdout).into_owned();
    for status in ["0", "1", "2", "3", "70"] {
        assert!(README.contains(&format!("\n| {status} | ")) && help.contains(&format!("{status} ")));
    }
}
