//! Pages that look as they did: small pictures of three nights, compared with some tolerance.
//!
//! A picture is a plain graymap of cells of 3 mm, 0 for black to 9 for white, so that any viewer shows it and a
//! difference can be read. Fonts differ a little from machine to machine: single cells may differ, a row that moved or
//! a fill that is missing may not. `ANTEROOM_GOLDEN=write` writes them anew.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use anteroom::show::sheet::{self, Paper, Part, Print};

use super::browser::{Picture, Printed, there};
use super::larch::{self, Larch};
use super::nights::long_night;
use super::print;

/// Dots across a cell: 3 mm.
const CELL: u32 = 30;

/// A cell that differs by so much of 9 is another.
const OTHER: u32 = 3;

fn cells(picture: &Picture) -> (u32, Vec<u32>) {
    let (wide, high) = (picture.width / CELL, picture.height / CELL);
    let dots = || (0..CELL).flat_map(|y| (0..CELL).map(move |x| (x, y)));
    let black =
        |column: u32, row: u32| dots().filter(|(x, y)| picture.is_black(column * CELL + x, row * CELL + y)).count();
    let grey = |column, row| 9 - u32::try_from(black(column, row)).expect("few dots") * 9 / (CELL * CELL);
    (wide, (0..high).flat_map(|row| (0..wide).map(move |column| (column, row))).map(|(x, y)| grey(x, y)).collect())
}

fn graymap(wide: u32, cells: &[u32]) -> String {
    let mut text = format!("P2\n{wide} {}\n9\n", cells.len() / wide as usize);
    for row in cells.chunks(wide as usize) {
        let row: Vec<String> = row.iter().map(u32::to_string).collect();
        let _ = writeln!(text, "{}", row.join(" "));
    }
    text
}

fn looks_as_it_did(name: &str, print: &Print<'_>) {
    let (wide, found) = cells(&Printed::new(&sheet::html(print)).picture(1));
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/show").join(name);
    if std::env::var_os("ANTEROOM_GOLDEN").is_some() {
        fs::write(&path, graymap(wide, &found)).expect("the picture is written");
        return;
    }
    let text = fs::read_to_string(&path).expect("the picture is there");
    let mut figures = text.split_whitespace().skip(1).map(|word| word.parse::<u32>().expect("a figure"));
    assert_eq!(figures.next(), Some(wide), "{name} is as wide");
    let kept: Vec<u32> = figures.skip(2).collect();
    assert_eq!(kept.len(), found.len(), "{name} is as high");
    let other = kept.iter().zip(&found).filter(|(kept, found)| kept.abs_diff(**found) >= OTHER).count();
    assert!(other * 100 <= found.len(), "{name}: {other} of {} cells look other than they did", found.len());
}

#[test]
fn three_nights_look_as_they_did() {
    if !there(&["chromium", "pdftoppm"]) {
        return;
    }
    let (plain, long) = (Larch::new(), long_night(20));
    let mut faulty = Larch::new();
    faulty.review.faults = larch::faults();
    for (name, larch, part) in [
        ("wall.pgm", &plain, Part::Wall),
        ("wall-with-faults.pgm", &faulty, Part::Wall),
        ("long-timeline.pgm", &long, Part::Timeline),
    ] {
        looks_as_it_did(name, &Print { paper: Paper::A3, parts: BTreeSet::from([part]), ..print(larch) });
    }
}
