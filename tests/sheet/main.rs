//! The sheet read back: as a browser reads it, as XML, as calendars, and printed.

mod browser;
mod calendars;
mod document;
mod entries;
mod files;
#[path = "../larch/mod.rs"]
mod larch;
mod nights;
mod pages;
mod parts;
mod pictures;

use std::collections::BTreeSet;
use std::path::Path;
use std::process::{Command, Output};

use anteroom::show::sheet::{self, Paper, Part, Print};
use larch::{Larch, at};
use scraper::{ElementRef, Html, Selector};

const ROTA: [&str; 3] = ["rosters/quiet-night.rota.toml", "rosters/quiet-night.toml", "constraints/temperate.toml"];

fn print(larch: &Larch) -> Print<'_> {
    Print {
        view: larch.view(),
        paper: Paper::A3,
        parts: BTreeSet::from(Part::ALL),
        issue: 1,
        replaces: None,
        printed: at(18, 45),
        before: None,
    }
}

fn parsed(print: &Print<'_>) -> Html {
    let html = Html::parse_document(&sheet::html(print));
    assert_eq!(html.errors, [""; 0], "mistakes in the HTML");
    html
}

fn all<'a>(html: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    html.select(&Selector::parse(selector).expect("a selector")).collect()
}

/// The text of an element with single blanks.
fn text(element: ElementRef<'_>) -> String {
    element.text().collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn texts(html: &Html, selector: &str) -> Vec<String> {
    all(html, selector).into_iter().map(text).collect()
}

fn anteroom(words: &[&str], folder: &Path) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    let words = words.iter().map(|word| word.replace('@', &folder.display().to_string()));
    command.args(words).current_dir(env!("CARGO_MANIFEST_DIR")).output().expect("anteroom starts")
}

fn sheet_of(rota: &str, more: &[&str], folder: &Path) -> Output {
    let words: Vec<&str> = ["sheet", rota, ROTA[1], ROTA[2], "--printed", "2031-03-04T18:45"]
        .into_iter()
        .chain(more.iter().copied())
        .collect();
    anteroom(&words, folder)
}
