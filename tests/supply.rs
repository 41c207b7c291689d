//! How long the kits last: against the arithmetic of trade page 7 (S1), at the limits, and against the check.

#[expect(dead_code, reason = "small nights serve several tests, each in part")]
mod common;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use anteroom::check::review;
use anteroom::night::{Night, Post, PostRole, Rota, Rule};
use anteroom::staffing::supply::{Reached, Shelf, Supply, supply};

use common::{AL, D, DW, EN, F, GH, HC, JT, KB, MR, PS, VF, assisted_night, entry, post, rota_of, t};

/// S1 "Larch" (trade page 7): five visits of 60 minutes by a pair, door-in at 19:50, 22:00, 00:10, 02:20, 04:30, donning
/// 20 before; one assistant and one observer in kit D at each. Worked by hand there: 5 x 2 = 10 F, 5 x 2 = 10 D.
fn larch() -> (Night, Rota) {
    let mut night = assisted_night();
    night.limits.observer_kit = Some(D);
    night.roster.kits[F.0].count = 10;
    night.roster.kits[D.0].count = 10;
    let mut rota = rota_of([]);
    let pairs = [(KB, MR), (JT, PS), (DW, EN), (VF, GH), (KB, MR)];
    for (visit, (one, other)) in (0..).zip(pairs) {
        let don = 30 + 130 * visit;
        rota.entries.extend([entry(one, don, don + 80), entry(other, don, don + 80)]);
        rota.posts.push(post(AL, don + 60, don + 130, 0, DW));
        rota.posts.push(Post { role: PostRole::Observer, ..post(HC, don + 65, don + 130, 0, DW) });
    }
    rota.put_in_order();
    (night, rota)
}

fn shelf(supply: &Supply, kit: anteroom::night::EnsembleIx) -> &Shelf {
    supply.shelves.iter().find(|shelf| shelf.ensemble == kit).expect("a shelf")
}

#[test]
fn s1_takes_ten_of_each() {
    let (night, rota) = larch();
    let supply = supply(&night, &rota);
    let (f, d) = (shelf(&supply, F), shelf(&supply, D));
    assert_eq!((f.used(), f.entrants.len(), f.helpers.len(), f.left()), (10, 10, 0, 0));
    assert_eq!((d.used(), d.entrants.len(), d.helpers.len(), d.left()), (10, 0, 10, 0));
    // Exactly enough: the shelf is empty with the last donning, and nothing runs out.
    assert_eq!((f.reached(), f.runs_out()), (Reached::At(t(550)), None));
    assert_eq!((d.reached(), d.runs_out()), (Reached::At(t(615)), None));
    assert_eq!((f.nights(0), d.nights(0)), (Some(1), Some(1)));
}

#[test]
fn s1_with_nine_doffing_kits_runs_out_at_the_last_visit() {
    let (mut night, rota) = larch();
    night.roster.kits[D.0].count = 9;
    let d = shelf(&supply(&night, &rota), D).clone();
    // The assistant of the last visit takes the ninth at 550 + 60, the observer would take the tenth at 550 + 65.
    assert_eq!((d.reached(), d.runs_out(), d.left(), d.nights(0)), (Reached::At(t(610)), Some(t(615)), -1, Some(0)));
}

#[test]
fn the_reserve_is_reached_exactly() {
    let (mut night, rota) = larch();
    for (count, reserve, reached, out) in [
        (13, 2, Reached::Not, None),
        (12, 2, Reached::At(t(550)), None),
        (11, 2, Reached::At(t(550)), Some(t(550))),
        (10, 2, Reached::At(t(420)), Some(t(550))),
        (2, 2, Reached::AtStart, Some(t(30))),
        (1, 2, Reached::AtStart, Some(t(30))),
    ] {
        (night.roster.kits[F.0].count, night.roster.kits[F.0].reserve) = (count, reserve);
        let f = shelf(&supply(&night, &rota), F).clone();
        assert_eq!((f.reached(), f.runs_out()), (reached, out), "{count} less {reserve}");
    }
}

#[test]
fn what_is_left_at_an_hour_counts_what_was_taken_before_it() {
    let (night, rota) = larch();
    let f = shelf(&supply(&night, &rota), F).clone();
    let left: Vec<i64> = [0, 30, 31, 160, 161, 750].map(|at| f.left_at(t(at))).to_vec();
    assert_eq!(left, [10, 10, 8, 8, 6, 0]);
}

/// One more entry takes a full kit, and a doffing kit each for assistant and observer. 40 - 5 = 35: at 10 a night three
/// nights, at 10 + 2 two, 11 left over; doffing kits at 10 + 4 two, 7 left over. By hand.
#[test]
fn unplanned_entries_take_their_helpers_kits_too() {
    let (mut night, rota) = larch();
    for kit in &mut night.roster.kits {
        (kit.count, kit.reserve) = (40, 5);
    }
    let both = supply(&night, &rota);
    let (f, d) = (shelf(&both, F), shelf(&both, D));
    assert_eq!((f.nights(0), f.a_night(2), f.nights(2)), (Some(3), 12, Some(2)));
    assert_eq!((d.nights(0), d.a_night(2), d.nights(2)), (Some(3), 14, Some(2)));
    night.limits.observer_kit = None;
    night.limits.ensembles[F.0].assistant = false;
    let none = supply(&night, &rota);
    assert_eq!((shelf(&none, F).each_unplanned, shelf(&none, D).each_unplanned), (1, 0));
}

/// The check counts kits by its own way (G1): it finds a fault where this says runs out, from the same donning on.
#[test]
fn it_runs_out_where_the_check_says_so() {
    let (mut night, rota) = larch();
    let mut running_out = 0;
    for count in 0..=12 {
        for reserve in 0..=3 {
            for kit in &mut night.roster.kits {
                (kit.count, kit.reserve) = (count, reserve);
            }
            let found = review(&night, &rota).faults;
            let mut faults: Vec<_> = found.iter().filter(|f| f.rule == Rule::G1).map(|f| f.span.from).collect();
            let both = supply(&night, &rota);
            let mut ours: Vec<_> = both.shelves.iter().filter_map(Shelf::runs_out).collect();
            faults.sort_unstable();
            ours.sort_unstable();
            assert_eq!(ours, faults, "{count} less {reserve}");
            running_out += ours.len();
        }
    }
    assert!(running_out > 50);
}

#[test]
fn who_has_no_size_is_on_no_shelf_and_said() {
    let (mut night, rota) = larch();
    night.roster.people[KB.0].kits.clear();
    let supply = supply(&night, &rota);
    assert_eq!((supply.no_size, shelf(&supply, F).used()), (2, 8));
}

fn run(arguments: &str) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    command
        .args(arguments.split_whitespace())
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("anteroom starts")
}

const QUIET: &str =
    "supply rosters/quiet-night.rota.toml rosters/quiet-night.toml constraints/temperate.toml --today 2031-03-04";

/// The rota made by hand has three entries in size L and five in M, and four spells on post.
#[test]
fn the_example_says_what_the_hand_says() {
    let output = run(&format!("{QUIET} --unplanned 2"));
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert_eq!(output.status.code(), Some(0), "{text}");
    for line in [
        "  F L  6      2          3     3     not tonight      no",
        "  F M  as planned      (12 - 2) / 5 = 2 nights           6 Mar 2031",
        "  F M  2 more entries  (12 - 2) / (5 + 2) = 1 night, 3   5 Mar 2031",
    ] {
        assert!(text.lines().any(|shown| shown == line), "{line}\n{text}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
}

#[test]
fn a_rota_that_runs_out_is_told_and_files_say_the_same() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let at = |name: &str| folder.path().join(name).display().to_string();
    let roster =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("rosters/quiet-night.toml")).expect("it");
    let short = roster.replacen("size = \"L\"\ncount = 6", "size = \"L\"\ncount = 4", 1);
    fs::write(at("short.toml"), short).expect("a roster");
    let rota = "rosters/quiet-night.rota.toml";
    let (csv, json, page) = (at("s.csv"), at("s.json"), at("s.html"));
    let output = run(&format!(
        "supply {rota} {} constraints/temperate.toml --today 2031-03-04 --csv {csv} --json {json} --out {page}",
        at("short.toml")
    ));
    let text = String::from_utf8_lossy(&output.stdout).split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(output.status.code(), Some(3), "{text}");
    let told = "Kit F L: 4 there, 2 kept back; the rota needs 3 (3 for entrants, 0 for helpers). Runs out at 04:40.";
    assert!(text.contains(told) && text.contains("DO NOT USE: the check found 1 fault in this rota."), "{text}");
    let read = |path: &str| fs::read_to_string(path).expect("a file of the answer");
    assert!(read(&page).contains(told), "the page says so too");
    assert!(read(&json).contains("\"runs_out\": \"2031-03-05T04:40+00:00\""), "{}", read(&json));
    assert!(read(&csv).contains("F,L,2031-03-05T05:00+00:00,1,2\n"), "{}", read(&csv));
    // Never over a file that is there.
    let again = run(&format!("{QUIET} --csv {csv}"));
    assert_eq!(again.status.code(), Some(2));
}
