//! How long the sheet of a large night takes: 96 people over 24 hours, to be under 2 s and under 5 MB.
//!
//! `cargo bench --bench sheet`

#[expect(dead_code, reason = "the night made by hand serves several tests, each in part")]
#[path = "../tests/larch/mod.rs"]
mod larch;
#[path = "../tests/sheet/nights.rs"]
mod nights;

use std::collections::BTreeSet;
use std::time::{Duration, Instant};

use anteroom::show::sheet::{self, Paper, Part, Print};

/// The most that one document may take.
const MOST: Duration = Duration::from_secs(2);

#[expect(clippy::print_stdout, reason = "a bench says what it measured")]
fn main() {
    let larch = nights::large();
    let parts = BTreeSet::from(Part::ALL);
    let printed = larch::at(18, 45);
    for paper in Paper::ALL {
        let print =
            Print { view: larch.view(), paper, parts: parts.clone(), issue: 1, replaces: None, printed, before: None };
        let started = Instant::now();
        let bytes = sheet::html(&print).len();
        let took = started.elapsed();
        println!("{}: {} ms, {} kB", paper.word(), took.as_millis(), bytes / 1000);
        assert!(took < MOST && bytes < 5_000_000, "too slow or too large");
    }
    let long = nights::long_night(20);
    let print = Print { view: long.view(), paper: Paper::A4, parts, issue: 1, replaces: None, printed, before: None };
    println!("20 pairs on a4: {} pages", sheet::page_counts(&print).iter().map(|(_, pages)| pages).sum::<usize>());
}
