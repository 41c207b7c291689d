//! Proof that every donning and removal is watched, and what spoils it.
//!
//! The observer is not the assistant and watches one removal at a time: CDC guidance of 27 August 2015 as summarised in
//! OR Manager, 18 July 2016 (seen second hand); CDC trained-observer training, pages 10 and 18 (seen).

use std::fs;

use anteroom::check::review;
use anteroom::night::{BreakTaken, CleanDuty, Minutes, Night, Role, Rota, Rule};
use anteroom::show::observed::verdict;
use anteroom::training::{Ground, Proof, Watched, What, proof};

use super::common::{
    AL, DW, F, HC, KB, MR, PS, accepted, assisted_night, assisted_visit, day, pair, plain_night, plain_visit, rota_of,
    span, t,
};
use super::{anteroom, text};

fn looked_at(night: &Night, rota: &Rota) -> Proof {
    proof(night, rota, &review(night, rota))
}

/// The rules against the one donning or removal that starts at `from` with this wearer.
fn against(night: &Night, rota: &Rota, what: What, wearer: anteroom::night::PersonIx) -> Vec<Rule> {
    let review = review(night, rota);
    let proof = proof(night, rota, &review);
    let one = proof.all.iter().find(|one| one.what == what && one.wearer == wearer).expect("it is in the list");
    one.faults.iter().map(|&ix| review.faults[ix].rule).collect()
}

fn spoilt(proof: &Proof) -> Vec<(What, usize)> {
    proof.all.iter().filter(|one| !one.faults.is_empty()).map(|one| (one.what, one.wearer.0)).collect()
}

#[test]
fn a_clean_rota_is_proof() {
    let (night, rota) = (assisted_night(), assisted_visit());
    accepted(&night, &rota);
    let proof = looked_at(&night, &rota);
    assert!(proof.holds() && proof.others == 0);
    // Two donnings of entrants; two removals of entrants and two of their assistants. By hand from the rota.
    assert_eq!(
        verdict(&proof),
        "PROOF: 2 of 2 donnings and 4 of 4 removals are watched by somebody in date, rested and free."
    );
}

#[test]
fn each_says_who_until_when_and_how_long_on_watch() {
    let (mut night, mut rota) = (assisted_night(), assisted_visit());
    let dates = [(DW, Role::DoffingObserver, day(2031, 6, 1)), (AL, Role::Assistant, day(2031, 7, 2))];
    for (who, role, until) in dates {
        let sign_off = night.roster.people[who.0].sign_offs.iter_mut().find(|s| s.role == role);
        sign_off.expect("everybody holds everything").valid_through = until;
    }
    rota.breaks.push(BreakTaken { person: DW, span: span(60, 90) });
    let proof = looked_at(&night, &rota);
    let of = |wearer| proof.all.iter().find(|o| o.what == What::Removal && o.wearer == wearer).expect("in the list");
    let kb: &Watched = of(KB);
    assert_eq!((kb.observer, kb.assistant), (Some(DW), Some(AL)));
    assert_eq!(kb.observer_until(&night), Some(day(2031, 6, 1)));
    assert_eq!(kb.assistant_until(&night), Some(day(2031, 7, 2)));
    // Ready 5 min before the removal of 20 min; then the assistant's own at once, 15 min more.
    assert_eq!(kb.on_watch, Some(Minutes(25)));
    assert_eq!(of(AL).on_watch, Some(Minutes(40)));
    assert_eq!(kb.last_break, Some(t(90)));
    assert_eq!(of(MR).last_break, None);
}

#[test]
fn nothing_planned_proves_nothing() {
    let proof = looked_at(&plain_night(), &rota_of([]));
    assert!(proof.holds());
    assert_eq!(verdict(&proof), "NOTHING TO PROVE: no donning and no removal is planned.");
}

#[test]
fn a_removal_with_nobody_named_is_no_proof() {
    let (night, mut rota) = (assisted_night(), assisted_visit());
    rota.entries[0].observer = None;
    let wearer = rota.entries[0].person;
    assert_eq!(against(&night, &rota, What::Removal, wearer), [Rule::C1]);
    assert!(verdict(&looked_at(&night, &rota)).starts_with("NO PROOF: 1 of 4 removals and 0 of 2 donnings are not"));
}

#[test]
fn a_donning_with_nobody_named_is_no_proof() {
    let (night, mut rota) = (plain_night(), plain_visit());
    rota.entries[0].donning_observer = None;
    let wearer = rota.entries[0].person;
    assert_eq!(against(&night, &rota, What::Donning, wearer), [Rule::C6]);
    assert_eq!(against(&night, &rota, What::Removal, wearer), []);
}

#[test]
fn an_assistants_own_removal_with_nobody_named_is_no_proof() {
    let (night, mut rota) = (assisted_night(), assisted_visit());
    rota.posts[0].observer = None;
    assert_eq!(against(&night, &rota, What::Removal, AL), [Rule::C4]);
    assert_eq!(spoilt(&looked_at(&night, &rota)), [(What::Removal, AL.0)]);
}

#[test]
fn an_observer_out_of_date_at_the_end_is_no_proof() {
    let (mut night, rota) = (plain_night(), plain_visit());
    let lapse = |night: &mut Night, until| {
        let person = &mut night.roster.people[DW.0];
        person.sign_offs.iter_mut().filter(|s| s.role == Role::DoffingObserver).for_each(|s| s.valid_through = until);
    };
    // The removals end on the evening of 4 March: that day is the last on which they are covered.
    lapse(&mut night, day(2031, 3, 4));
    assert!(looked_at(&night, &rota).holds());
    lapse(&mut night, day(2031, 3, 3));
    let wearer = rota.entries.iter().find(|e| e.observer == Some(DW)).expect("one is watched by DW").person;
    assert_eq!(against(&night, &rota, What::Removal, wearer), [Rule::A1]);
    let review = review(&night, &rota);
    let proof = proof(&night, &rota, &review);
    let one = proof.all.iter().find(|one| !one.faults.is_empty()).expect("one is spoilt");
    assert!(one.is_spoilt(&review, Ground::InDate) && !one.is_spoilt(&review, Ground::Free));
}

#[test]
fn one_observer_at_two_lanes_is_no_proof_for_either() {
    let (night, mut rota) = (plain_night(), plain_visit());
    rota.entries.iter_mut().for_each(|e| e.observer = Some(DW));
    for wearer in [KB, MR] {
        assert_eq!(against(&night, &rota, What::Removal, wearer), [Rule::C1]);
    }
}

#[test]
fn an_observer_who_is_the_assistant_is_no_proof() {
    let (night, mut rota) = (assisted_night(), assisted_visit());
    let at = rota.entries.iter().position(|e| e.assistant == Some(AL)).expect("AL assists");
    rota.entries[at].observer = Some(AL);
    let wearer = rota.entries[at].person;
    assert_eq!(against(&night, &rota, What::Removal, wearer), [Rule::C2]);
    let review = review(&night, &rota);
    let proof = proof(&night, &rota, &review);
    assert!(proof.all.iter().any(|one| one.is_spoilt(&review, Ground::Distinct)));
}

/// KB comes out at 21:00 and is off at 21:20: 30 min of recovery end at 21:50.
#[test]
fn an_observer_in_recovery_is_no_proof() {
    let (mut night, mut rota) = (plain_night(), plain_visit());
    night.limits.inside_rest.push(CleanDuty::DoffingObserver);
    let later = |out: i64| {
        let mut visit = pair(PS, anteroom::night::PersonIx(2), out - 90, out);
        visit[0].observer = Some(KB);
        visit.to_vec()
    };
    // Ready five minutes before: 21:55 is the first removal KB may watch.
    let mut good = rota.clone();
    good.entries.extend(later(175));
    good.put_in_order();
    assert!(looked_at(&night, &good).holds(), "{:?}", review(&night, &good).faults);
    rota.entries.extend(later(170));
    rota.put_in_order();
    assert_eq!(against(&night, &rota, What::Removal, PS), [Rule::B5]);
}

#[test]
fn an_observer_with_another_duty_is_no_proof() {
    let (night, mut rota) = (plain_night(), plain_visit());
    // EN watches the donnings at 19:40; here EN also watches a removal that ends as the next donning starts.
    let mut second = pair(PS, anteroom::night::PersonIx(2), 138, 220);
    second[0].donning_observer = Some(DW);
    rota.entries.extend(second);
    rota.put_in_order();
    // DW watches the removal 21:00-21:20 and writes up until 21:25, and here a donning from 21:18.
    assert_eq!(against(&night, &rota, What::Donning, PS), [Rule::A7]);
    assert!(!against(&night, &rota, What::Removal, KB).is_empty());
}

#[test]
fn who_watches_too_long_spoils_the_last_and_not_the_first() {
    let (mut night, rota) = (assisted_night(), assisted_visit());
    night.limits.watching = Some(anteroom::night::Watching { max: Minutes(40), pause: Minutes(15) });
    // On watch 20:55-21:40 with the reset after the assistant's own removal: 45 min, 5 too many.
    let spoilt = spoilt(&looked_at(&night, &rota));
    assert_eq!(spoilt, [(What::Removal, AL.0), (What::Removal, HC.0)]);
}

#[test]
fn what_has_nothing_to_do_with_watching_is_said_beside_the_proof() {
    let (mut night, rota) = (plain_night(), plain_visit());
    night.limits.ensembles[F.0].max_wear = Minutes(60);
    let proof = looked_at(&night, &rota);
    assert!(proof.holds() && proof.others > 0);
    let said = anteroom::show::observed::others(&proof).expect("it is said");
    assert!(said.starts_with("DO NOT USE this rota all the same"), "{said}");
}

#[test]
fn times_out_of_order_prove_nothing() {
    let (night, mut rota) = (plain_night(), plain_visit());
    rota.entries[0].off = rota.entries[0].removal - Minutes(5);
    assert!(!looked_at(&night, &rota).holds());
}

#[test]
fn helpers_on_a_post_without_a_kit_are_no_proof() {
    let (mut night, rota) = (assisted_night(), assisted_visit());
    night.limits.assistant_kit = None;
    assert!(!looked_at(&night, &rota).holds());
}

const ROTA: &str = "rosters/quiet-night.rota.toml";
const FILES: &str = "rosters/quiet-night.toml constraints/temperate.toml --today 2031-03-01";

#[test]
fn the_command_ends_with_nought_or_three() {
    let folder = tempfile::tempdir().expect("a folder");
    let good = anteroom(&format!("observers {ROTA} {FILES}"), folder.path());
    assert_eq!(good.status.code(), Some(0));
    // Eight people don, eight come out, and four assistants after them: counted by hand in the file.
    assert!(text(&good.stdout).contains(
        "\nPROOF: 8 of 8 donnings and 12 of 12 removals are watched by somebody in date,\nrested and free.\n"
    ));
    assert!(text(&good.stdout).lines().all(|line| line.chars().count() <= 80));
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/show/observers.txt");
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        fs::write(path, text(&good.stdout)).expect("the fixtures can be written");
    }
    assert_eq!(text(&good.stdout), fs::read_to_string(path).unwrap_or_default());

    let broken = fs::read_to_string(ROTA).expect("the example").replace("\"03:50\"", "\"03:45\"");
    fs::write(folder.path().join("rota.toml"), broken).expect("a rota");
    let bad = anteroom(&format!("observers @/rota.toml {FILES}"), folder.path());
    assert_eq!(bad.status.code(), Some(3));
    let said = text(&bad.stdout);
    assert!(said.contains("\nNO PROOF: 1 of 12 removals and 0 of 8 donnings are not watched"), "{said}");
    assert!(said.contains("  03:45-04:15 REMOVAL MR\n"), "{said}");
    assert!(said.contains("A7 one duty at a time: missed by 5 min (HC)\n     Wed 5 Mar 2031 03:40 to 04:15"), "{said}");
    assert!(said.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn the_files_say_the_same() {
    let folder = tempfile::tempdir().expect("a folder");
    let words = format!("observers {ROTA} {FILES} --csv @/o.csv --json @/o.json --out @/o.html");
    assert_eq!(anteroom(&words, folder.path()).status.code(), Some(0));
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).expect("it was written");
    let csv = read("o.csv");
    let rows: Vec<csv::StringRecord> =
        csv::Reader::from_reader(csv.as_bytes()).records().map(|row| row.expect("a row")).collect();
    assert_eq!(rows.len(), 20);
    assert!(rows.iter().all(|row| (11..16).all(|column| &row[column] == "yes") && &row[16] == "NONE"));
    let json: serde_json::Value = serde_json::from_str(&read("o.json")).expect("JSON");
    assert_eq!(json["proof"], true);
    assert_eq!(json["removals"]["all"], 12);
    assert_eq!(json["events"].as_array().map(Vec::len), Some(20));
    let html = scraper::Html::parse_document(&read("o.html"));
    assert_eq!(html.errors, [""; 0]);
    let rows = scraper::Selector::parse("tbody tr").expect("a selector");
    assert_eq!(html.select(&rows).count(), 20);
    // Nothing is written over.
    assert_eq!(anteroom(&words, folder.path()).status.code(), Some(2));
}

/// Nobody's name beside a fault, no rule about a person's own affairs: as on the sheet for the wall.
#[test]
fn the_page_names_rules_and_times_only() {
    let folder = tempfile::tempdir().expect("a folder");
    let roster = fs::read_to_string("rosters/quiet-night.toml").expect("the example");
    let flagged = roster.replacen("doffing_area_today = true     # false", "doffing_area_today = false     # false", 1);
    assert_ne!(roster, flagged);
    fs::write(folder.path().join("roster.toml"), flagged).expect("a roster");
    let words = format!("observers {ROTA} @/roster.toml constraints/temperate.toml --today 2031-03-01 --out @/o.html");
    let output = anteroom(&words, folder.path());
    assert_eq!(output.status.code(), Some(3));
    assert!(text(&output.stdout).contains("A4"));
    let page = fs::read_to_string(folder.path().join("o.html")).expect("the page");
    assert!(page.contains("NO PROOF") && page.contains("see it on the screen"));
    assert!(!page.contains("A4 ") && !page.contains("not available"));
}
