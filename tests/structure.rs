//! What may import what, held by reading the source. The table is in DEVELOPERS.md too.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Each part of the program and the parts it may use. The flow is one way.
const PARTS: [(&str, &[&str]); 9] = [
    ("night", &[]),
    ("check", &["night"]),
    ("plan", &["night"]),
    ("read", &["night"]),
    ("explain", &["night", "check", "plan"]),
    ("staffing", &["night", "check", "plan", "explain"]),
    ("training", &["night", "check", "plan", "explain"]),
    ("show", &["night", "check", "plan", "explain", "staffing", "training"]),
    ("cli", &["night", "check", "plan", "read", "explain", "staffing", "training", "show"]),
];

/// Libraries that these places alone may know of.
const LIBRARIES: [(&str, &[&str]); 8] = [
    ("good_lp", &["src/plan"]),
    ("highs", &["src/plan"]),
    ("highs_sys", &["src/plan"]),
    ("clap", &["src/cli"]),
    ("ctrlc", &["src/cli"]),
    ("comfy_table", &["src/show/terminal"]),
    ("maud", &["src/show/sheet", "src/show/report"]),
    ("icalendar", &["src/show/calendar.rs"]),
];

/// The one file with `unsafe`: the solver's callback.
const UNSAFE: &str = "src/plan/interrupt.rs";

struct Source {
    /// Path from the project's root, with `/`.
    path: String,
    /// The code without comments and without text in quotes.
    code: String,
}

impl Source {
    /// `plan` for `src/plan/grid.rs`; empty for `src/lib.rs`.
    fn part(&self) -> &str {
        let inside = self.path.strip_prefix("src/").expect("only src is read");
        inside.split_once('/').map_or("", |(part, _)| part)
    }

    /// The module path of the file: `["plan", "model"]` for `src/plan/model/mod.rs`.
    fn module(&self) -> Vec<&str> {
        let inside = self.path.strip_prefix("src/").and_then(|p| p.strip_suffix(".rs")).expect("a file of src");
        inside.split('/').filter(|&name| name != "mod" && name != "lib").collect()
    }
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    collect(&root.join("src"), &mut files);
    assert!(files.len() > 50, "the source was not found");
    let source = |file: PathBuf| {
        let path = file.strip_prefix(root).expect("under the root").to_string_lossy().replace('\\', "/");
        Source { path, code: code_of(&fs::read_to_string(file).expect("source is text")) }
    };
    files.into_iter().map(source).collect()
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder of the source") {
        let path = entry.expect("an entry of the folder").path();
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|ext| ext == "rs") {
            files.push(path);
        }
    }
    files.sort();
}

/// Drops comments and what stands in quotes: neither imports anything.
fn code_of(text: &str) -> String {
    let mut code = String::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let dropped = length_of_no_code(rest);
        if dropped == 0 {
            code.push(c);
        }
        rest = &rest[dropped.max(c.len_utf8())..];
    }
    code
}

/// Bytes of the comment or quotation that `rest` starts with; 0 when it starts with code.
fn length_of_no_code(rest: &str) -> usize {
    let upto = |end: &str, from: usize| rest[from..].find(end).map_or(rest.len(), |at| from + at + end.len());
    if rest.starts_with("//") {
        return rest.find('\n').unwrap_or(rest.len());
    }
    if rest.starts_with("r#\"") {
        return upto("\"#", 3);
    }
    if let Some(quote) = ["'\"'", "'\\\"'"].into_iter().find(|quote| rest.starts_with(quote)) {
        return quote.len();
    }
    if !rest.starts_with('"') {
        return 0;
    }
    let mut escaped = false;
    let closing = rest.char_indices().skip(1).find(|&(_, c)| {
        let closes = c == '"' && !escaped;
        escaped = c == '\\' && !escaped;
        closes
    });
    closing.map_or(rest.len(), |(at, _)| at + 1)
}

fn words(code: &str) -> impl Iterator<Item = &str> {
    code.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|word| !word.is_empty())
}

/// First names after `crate::`, or after enough `super::` to reach the root.
fn parts_used(source: &Source) -> BTreeSet<String> {
    let mut used = BTreeSet::new();
    for (at, _) in source.code.match_indices("crate::") {
        used.extend(first_names(&source.code[at + "crate::".len()..]));
    }
    let to_root = "super::".repeat(source.module().len());
    if !to_root.is_empty() {
        for (at, _) in source.code.match_indices(&to_root) {
            used.extend(first_names(&source.code[at + to_root.len()..]));
        }
    }
    used.retain(|name| PARTS.iter().any(|(part, _)| part == name));
    used
}

/// The first names of a path, or of each path in a group in braces.
fn first_names(rest: &str) -> Vec<String> {
    let Some(group) = rest.strip_prefix('{') else {
        return words(rest).next().map(str::to_owned).into_iter().collect();
    };
    let mut depth = 1;
    let mut names = vec![String::new()];
    for c in group.chars() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 1 => names.push(String::new()),
            _ if depth == 1 => names.last_mut().expect("never empty").push(c),
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    names.iter().filter_map(|path| words(path).next().map(str::to_owned)).collect()
}

#[test]
fn parts_import_only_what_comes_before_them() {
    let mut wrong = Vec::new();
    for source in sources() {
        let Some((part, allowed)) = PARTS.iter().find(|(part, _)| *part == source.part()) else {
            assert!(
                matches!(source.path.as_str(), "src/lib.rs" | "src/main.rs"),
                "a part with no row: {}",
                source.path
            );
            continue;
        };
        let others = parts_used(&source).into_iter().filter(|used| used != part && !allowed.contains(&used.as_str()));
        wrong.extend(others.map(|used| format!("{} uses {used}", source.path)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn libraries_stay_in_their_place() {
    let mut wrong = Vec::new();
    for source in sources() {
        for (library, places) in LIBRARIES {
            let path = format!("{library}::");
            let names = source.code.match_indices(&path).any(|(at, _)| is_start_of_path(&source.code, at));
            if names && !places.iter().any(|place| source.path.starts_with(place)) {
                wrong.push(format!("{} uses {library}, which belongs in {}", source.path, places.join(" or ")));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Whether a path starts here, and this is not the end of a longer name or path.
fn is_start_of_path(code: &str, at: usize) -> bool {
    !code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':')
}

#[test]
fn only_the_solvers_callback_is_unsafe() {
    let unsafe_files: Vec<String> =
        sources().into_iter().filter(|s| words(&s.code).any(|word| word == "unsafe")).map(|s| s.path).collect();
    assert_eq!(unsafe_files, [UNSAFE]);
}

#[test]
fn only_the_front_end_prints() {
    let prints =
        |s: &Source| ["println", "print", "eprintln", "eprint"].iter().any(|p| s.code.contains(&format!("{p}!")));
    let printing: Vec<String> =
        sources().into_iter().filter(|s| s.part() != "cli" && prints(s)).map(|s| s.path).collect();
    assert_eq!(printing, [""; 0], "only src/cli prints");
}

#[test]
fn the_reading_of_imports_works() {
    let source = |path: &str, code: &str| Source { path: path.into(), code: code_of(code) };
    let used = |path, code| parts_used(&source(path, code)).into_iter().collect::<Vec<_>>().join(" ");
    assert_eq!(used("src/check/wear.rs", "use crate::plan::Level;"), "plan");
    assert_eq!(used("src/check/wear.rs", "use crate::{night::{Rota, Span}, show};"), "night show");
    assert_eq!(used("src/check/wear.rs", "use super::super::read;"), "read");
    assert_eq!(used("src/check/mod.rs", "use super::cli::run;"), "cli");
    assert_eq!(used("src/check/wear.rs", "// use crate::plan::Level;\nlet a = \"crate::plan\";"), "");
    assert_eq!(used("src/check/wear.rs", "let a = ('\"', \"http://\", \"\\\"\", r#\"\"\"#); use crate::show;"), "show");
}
