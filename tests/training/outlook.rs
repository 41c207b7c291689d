//! What lapses, what is lost by it, on whom nights rest, and the smallest set of sign-offs.
//!
//! A fit test is good for a year at most: WAC 296-307-60605 (Washington State, seen): "at least every 12 months". Its
//! last day is the unit's to write; here one made on 25 November 2026 with the last day 24 November 2027 is good on that
//! day and not on the next, whichever of the two days of sources a unit takes.

use std::collections::BTreeSet;
use std::convert::Infallible;
use std::fs;
use std::path::Path;

use anteroom::check::review;
use anteroom::night::{FitTest, Minutes, Night, PersonIx, Role, SignOff};
use anteroom::plan::{Effort, Watch, cover};
use anteroom::read::{self, Source};
use anteroom::show::ahead::{Ahead, answer};
use anteroom::training::{Band, Coming, Held, Kind, Outlook, ToDo, Tried, look_ahead};
use chrono::{Days, NaiveDate};

use super::common::{DW, EN, GH, JT, KB, MR, PS, VF, day, plain_night, presence, t};
use super::{anteroom, text};

struct Alone;

impl Watch for Alone {
    fn progress(&mut self, _: i64, _: i64) {}
    fn stop(&self) -> bool {
        false
    }
}

pub fn ahead(nights: &[Coming], today: NaiveDate, spare: usize) -> Outlook {
    let plan = &mut |night: &Night| {
        let planned = cover(night, Effort { work: 3_000, seconds: None }, &mut Alone);
        let review = review(night, &planned.rota);
        assert!(review.faults.is_empty(), "{:#?}", review.faults);
        Ok::<_, Infallible>(Tried { rota: planned.rota, review, levels: planned.levels })
    };
    look_ahead(nights, today, spare, plan).expect("nothing fails").expect("proven")
}

pub fn coming(night: Night) -> Coming {
    Coming { file: "a.toml".into(), night }
}

/// A visit of two that needs nobody twice: KB, MR, JT, PS go in; DW, GH watch removals; EN donnings;
/// AL, HC and VF hold nothing yet.
pub fn evening() -> Night {
    let mut night = plain_night();
    night.roster.presence = vec![presence(60, 120, 2)];
    // One lane: people come out one after the other, and whoever watches one removal is free for the next.
    night.roster.lanes.truncate(1);
    let far = day(2031, 12, 31);
    let hold = |roles: &[Role]| {
        roles.iter().map(|&role| SignOff { role, valid_through: far, last_done: None }).collect::<Vec<_>>()
    };
    for (ix, person) in night.roster.people.iter_mut().enumerate() {
        person.on_duty = anteroom::night::Span::new(t(0), t(360));
        person.sign_offs = match PersonIx(ix) {
            KB | MR | JT | PS => hold(&[Role::Entrant]),
            DW | GH => hold(&[Role::DoffingObserver]),
            EN => hold(&[Role::DonningObserver]),
            // AL, HC and VF: who may be trained.
            _ => vec![],
        };
    }
    night.roster.shift = anteroom::night::Span::new(t(0), t(360));
    night
}

pub fn set(night: &mut Night, who: PersonIx, role: Role, last: NaiveDate) {
    let person = &mut night.roster.people[who.0];
    person.sign_offs.retain(|s| s.role != role);
    person.sign_offs.push(SignOff { role, valid_through: last, last_done: None });
}

/// The same night so many days later.
pub fn later(night: &Night, days: i64) -> Night {
    let mut new = night.clone();
    let by = Minutes(days * 24 * 60);
    let moved = |span: anteroom::night::Span| anteroom::night::Span::new(span.from + by, span.to + by);
    new.roster.shift = moved(new.roster.shift);
    new.roster.people.iter_mut().for_each(|p| p.on_duty = moved(p.on_duty));
    new.roster.presence.iter_mut().for_each(|p| p.span = moved(p.span));
    new
}

/// 7, 14 and 30 days exactly, and one day over each.
#[test]
fn the_bands_at_their_borders() {
    let bands = [
        (-1, Band::Over),
        (0, Band::Within7),
        (7, Band::Within7),
        (8, Band::Within14),
        (14, Band::Within14),
        (15, Band::Within30),
        (30, Band::Within30),
        (31, Band::Later),
    ];
    for (days, band) in bands {
        assert_eq!(Band::of(days), band, "{days} days");
    }
}

/// The list holds what is good for 30 days more, and not for 31, unless a coming duty is longer.
#[test]
fn what_is_listed() {
    let today = day(2031, 3, 4);
    let listed = |days: u64| {
        let mut night = evening();
        set(&mut night, DW, Role::DoffingObserver, today + Days::new(days));
        ahead(&[coming(night)], today, 0).lapses.iter().map(|l| (l.person.clone(), l.days_left)).collect::<Vec<_>>()
    };
    assert_eq!(listed(30), [("DW".to_owned(), 30)]);
    assert_eq!(listed(31), []);
    let mut night = later(&evening(), 60);
    set(&mut night, DW, Role::DoffingObserver, today + Days::new(59));
    let found = ahead(&[coming(night)], today, 0).lapses;
    assert_eq!((found.len(), found[0].band(), found[0].nights.as_slice()), (1, Band::Later, &[0][..]));
}

/// The duty is 19:00-01:00. Good through the night's last day covers it; one day less ends at midnight.
#[test]
fn a_night_is_covered_through_its_last_day() {
    let today = day(2031, 3, 1);
    let nights = |last: NaiveDate| {
        let mut night = evening();
        set(&mut night, DW, Role::DoffingObserver, last);
        ahead(&[coming(night)], today, 0).lapses[0].nights.clone()
    };
    assert_eq!(nights(day(2031, 3, 5)), [0; 0]);
    assert_eq!(nights(day(2031, 3, 4)), [0]);
}

#[test]
fn fit_tests_lapse_like_sign_offs() {
    let mut night = later(&evening(), 0);
    night.roster.people[KB.0].fit_tests =
        vec![FitTest { respirator: "RA".into(), size: "M".into(), valid_through: day(2031, 3, 3) }];
    let found = ahead(&[coming(night)], day(2031, 3, 1), 0);
    let fit = Held::Fit { respirator: "RA".into(), size: "M".into() };
    assert_eq!(found.lapses.iter().map(|l| (&l.held, l.nights.len())).collect::<Vec<_>>(), [(&fit, 1)]);
    // JT and PS are left to go in beside MR.
    assert!(found.nights[0].losses.is_empty());
}

/// DW and GH lapse on different days: with one left the night is covered, with none it is not.
#[test]
fn what_nights_lose_by_lapses() {
    let today = day(2031, 3, 3);
    let mut nights: Vec<Night> = [0, 3, 6].iter().map(|&days| later(&evening(), days)).collect();
    for night in &mut nights {
        set(night, DW, Role::DoffingObserver, day(2031, 3, 5));
        set(night, GH, Role::DoffingObserver, day(2031, 3, 8));
    }
    let nights: Vec<Coming> = nights.into_iter().map(coming).collect();
    let found = ahead(&nights, today, 0);
    let lost: Vec<Vec<Kind>> = found.nights.iter().map(|n| n.losses.iter().map(|l| l.kind).collect()).collect();
    assert_eq!(lost, [vec![], vec![], vec![Kind::WatchRemovals]]);
    // Two people for an hour.
    assert_eq!((found.nights[2].losses[0].minutes, found.nights[2].losses[0].proven), (120, true));
    assert_eq!(found.nights[2].missing, (120, 0));
    let shown = Ahead { nights: &nights, found: &found, today, past: 0 };
    assert_eq!(answer(&shown)[0], "If these 2 lapse, 1 of 3 nights has a removal without observer.");
    // Somebody already out of date is not "to come": nothing is lost that is not lost already.
    let after = ahead(&nights, day(2031, 3, 9), 0);
    assert!(after.nights.iter().all(|n| n.losses.is_empty()));
    assert_eq!(after.nights[2].missing, (120, 0));
}

#[test]
fn a_night_that_rests_on_one_person_says_so_by_role() {
    let rests = |night: Night| {
        let found = ahead(&[coming(night)], day(2031, 3, 1), 0);
        assert_eq!(found.nights[0].missing, (0, 0));
        found.nights[0].rests.iter().map(|r| (r.role, r.people)).collect::<Vec<_>>()
    };
    // One watches donnings; two watch removals, of whom one would do: one after the other through the lane.
    assert_eq!(rests(evening()), [(Role::DonningObserver, 1)]);
    let mut night = evening();
    set(&mut night, GH, Role::DoffingObserver, day(2031, 3, 1));
    assert_eq!(rests(night.clone()), [(Role::DoffingObserver, 1), (Role::DonningObserver, 1)]);
    set(&mut night, VF, Role::DonningObserver, day(2031, 12, 1));
    assert_eq!(rests(night), [(Role::DoffingObserver, 1)]);
}

/// One to spare at each watch: EN alone watches donnings, so one more is trained; DW and GH spare each other.
#[test]
fn the_smallest_set_by_hand() {
    let found = ahead(&[coming(evening())], day(2031, 3, 1), 1);
    let todo: Vec<_> = found.enough.sign_offs.iter().map(|s| (s.role, s.todo, s.by)).collect();
    assert_eq!(todo, [(Role::DonningObserver, ToDo::Train, day(2031, 3, 4))]);
    assert!(found.enough.short.is_empty());
    // Once that is done there is nothing more to do.
    let nights = [coming(evening())];
    let after = ahead(&seen_to(&nights, &found), day(2031, 3, 1), 1);
    assert_eq!((after.enough.sign_offs.len(), after.enough.short.len()), (0, 0));
    // VF held it once: to renew is preferred to training somebody anew.
    let mut night = evening();
    set(&mut night, VF, Role::DonningObserver, day(2030, 12, 31));
    let found = ahead(&[coming(night)], day(2031, 3, 1), 1);
    let todo: Vec<_> = found.enough.sign_offs.iter().map(|s| (s.person.as_str(), s.todo)).collect();
    assert_eq!(todo, [("VF", ToDo::Renew)]);
}

#[test]
fn a_sign_off_is_due_on_the_first_night_that_needs_it() {
    let mut nights: Vec<Night> = [0, 2, 4].iter().map(|&days| later(&evening(), days)).collect();
    for night in &mut nights {
        set(night, VF, Role::DonningObserver, day(2031, 3, 7));
    }
    let nights: Vec<Coming> = nights.into_iter().map(coming).collect();
    let found = ahead(&nights, day(2031, 3, 1), 1);
    // 4 and 6 March are covered to the end of their duties at 01:00; that of 8 March is not.
    let todo: Vec<_> = found.enough.sign_offs.iter().map(|s| (s.person.as_str(), s.todo, s.by)).collect();
    assert_eq!(todo, [("VF", ToDo::Renew, day(2031, 3, 8))]);
}

#[test]
fn more_people_than_there_are_cannot_be_trained() {
    let found = ahead(&[coming(evening())], day(2031, 3, 1), 9);
    assert!(!found.enough.short.is_empty());
    assert!(found.enough.short.iter().all(|&(night, _, by)| night == 0 && by > 0));
}

#[test]
fn rosters_that_disagree_are_named() {
    let mut nights = [evening(), later(&evening(), 2)];
    set(&mut nights[1], DW, Role::DoffingObserver, day(2032, 3, 5));
    let found = ahead(&nights.map(coming), day(2031, 3, 1), 0);
    let expected = ("DW".to_owned(), Held::Role(Role::DoffingObserver), vec![day(2031, 12, 31), day(2032, 3, 5)]);
    assert_eq!(found.disagreements, [expected]);
}

/// A year of days from 25 November 2026 ends with 24 November 2027: an evening that goes on past that midnight is not
/// covered to its end, the one before is. Nobody else's date matters here.
#[test]
fn a_year_of_a_fit_test() {
    let last = day(2026, 11, 25) + Days::new(364);
    assert_eq!(last, day(2027, 11, 24));
    let from_the_tests = (day(2027, 11, 23) - day(2031, 3, 4)).num_days();
    let nights = [0, 1].map(|more| {
        let mut night = later(&evening(), from_the_tests + more);
        night.roster.people[KB.0].fit_tests =
            vec![FitTest { respirator: "RA".into(), size: "M".into(), valid_through: last }];
        coming(night)
    });
    let found = ahead(&nights, day(2027, 11, 17), 0);
    let lapses: Vec<_> = found.lapses.iter().map(|l| (l.person.as_str(), l.days_left, l.nights.as_slice())).collect();
    assert_eq!(lapses, [("KB", 7, &[1][..])]);
}

fn folder() -> Vec<Coming> {
    let limits = Source::new("temperate.toml", &fs::read("constraints/temperate.toml").expect("limits"));
    let mut files: Vec<_> =
        fs::read_dir("rosters/coming").expect("the folder").map(|f| f.expect("a file").path()).collect();
    files.retain(|path| path.extension().is_some_and(|ext| ext == "toml"));
    files.sort();
    let night = |path: &Path| {
        let file = path.display().to_string();
        match read::night(&Source::new(&file, &fs::read(path).expect("a roster")), &limits, None, day(2031, 3, 8)) {
            Ok((night, _)) => Coming { file, night },
            Err(findings) => panic!("{}", findings.render()),
        }
    };
    files.iter().map(|path| night(path)).collect()
}

/// Does what the outlook asks for.
fn seen_to(nights: &[Coming], found: &Outlook) -> Vec<Coming> {
    let mut nights = nights.to_vec();
    for todo in &found.enough.sign_offs {
        for coming in &mut nights {
            let roster = &mut coming.night.roster;
            if roster.clock.date(roster.shift.from) < todo.by {
                continue;
            }
            let person = roster.people.iter_mut().find(|p| p.id == todo.person);
            if let Some(person) = person {
                person.sign_offs.retain(|s| s.role != todo.role);
                let (role, valid_through) = (todo.role, day(2032, 12, 31));
                person.sign_offs.push(SignOff { role, valid_through, last_done: Some(todo.by) });
            }
        }
    }
    nights
}

/// On the example folder: what is lost is lost on the last evening, and with what is asked for nothing is.
#[test]
fn the_folder_of_coming_evenings() {
    let nights = folder();
    assert_eq!(nights.len(), 6);
    let found = ahead(&nights, day(2031, 3, 8), 1);
    assert!(!found.enough.sign_offs.is_empty());
    let covered: BTreeSet<usize> = (0..6).filter(|&n| found.nights[n].missing == (0, 0)).collect();
    assert_eq!(covered, BTreeSet::from([0, 1, 2, 3, 4]));
    let all = ahead(&seen_to(&nights, &found), day(2031, 3, 8), 1);
    let was_short = |o: &Outlook| o.nights.iter().map(|n| n.missing).collect::<Vec<_>>();
    assert!(was_short(&all).iter().all(|missing| *missing == (0, 0)));
}

const COMMAND: &str = "outlook rosters/coming constraints/temperate.toml --today 2031-03-08";

#[test]
fn the_command_gives_the_sentence_and_files() {
    let folder = tempfile::tempdir().expect("a folder");
    let words = format!("{COMMAND} --csv @/o.csv --json @/o.json --out @/o.html");
    let output = anteroom(&words, folder.path());
    assert_eq!(output.status.code(), Some(1), "{}", text(&output.stderr));
    let said = text(&output.stdout);
    assert!(said.contains("\nIf these 2 lapse, 1 of 6 nights has a removal without observer.\n"), "{said}");
    assert!(said.lines().all(|line| line.chars().count() <= 80), "{said}");
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).expect("it was written");
    let mut reader = csv::Reader::from_path(folder.path().join("o.csv")).expect("CSV");
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    let kinds = |kind: &str| rows.iter().filter(|row| &row[0] == kind).count();
    assert_eq!((kinds("lapse"), kinds("night")), (4, 18));
    let json: serde_json::Value = serde_json::from_str(&read("o.json")).expect("JSON");
    assert_eq!(json["lapses"].as_array().map(Vec::len), Some(4));
    assert_eq!(json["smallest_set"]["sign_offs"].as_array().map(Vec::len), Some(kinds("sign-off")));
    let html = scraper::Html::parse_document(&read("o.html"));
    assert_eq!(html.errors, [""; 0]);
}

/// With the renewals from the spreadsheet nothing is lost.
#[test]
fn renewals_from_a_spreadsheet_count() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = anteroom(&format!("{COMMAND} --spare 0 --sign-offs rosters/coming/sign-offs.csv"), folder.path());
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stdout));
    let said = text(&output.stdout);
    assert!(said.contains("Nothing that lapses from today on costs a coming night a removal"), "{said}");
}

/// Limits of people who are on some of the rosters are kept and never shown; somebody on none of them is refused.
#[test]
fn stricter_limits_are_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let limit = |id: &str| format!("\n[[limit]]\nperson = \"{id}\"\ncumulative_max_min = 37\n");
    // That nobody fits needs no long look.
    let brief = format!("{COMMAND} --effort 1");
    let private = |ids: &[&str]| {
        let text = "format = 1\n".to_owned() + &ids.iter().map(|id| limit(id)).collect::<String>();
        fs::write(folder.path().join("p.toml"), text).expect("a file");
        anteroom(&format!("{brief} --private @/p.toml"), folder.path())
    };
    // Without these limits only the last evening misses all, for want of an observer: a brief look covers the others.
    let without = anteroom(&brief, folder.path());
    assert_eq!(text(&without.stdout).matches("180 person-min short").count(), 1, "{}", text(&without.stdout));
    let output = private(&["KB", "MR", "JT", "PS", "AL", "FN", "GT", "DW", "HC"]);
    assert_eq!(output.status.code(), Some(1), "{}", text(&output.stderr));
    let said = text(&output.stdout);
    // Nobody can go in and come out within it: three hours of one person inside are missing each evening.
    assert_eq!(said.matches("180 person-min short").count(), 6, "{said}");
    assert!(!said.contains("37") && !text(&output.stderr).contains("37"), "{said}");
    let output = private(&["KB", "XX"]);
    let told = text(&output.stderr);
    assert_eq!((output.status.code(), output.stdout.is_empty()), (Some(2), true), "{told}");
    assert!(told.contains("p.toml") && !told.contains("XX"), "{told}");
}

/// Limits that are good today and due for review before the last of the nights say so, as a rota of that night would.
#[test]
fn a_review_that_is_due_before_the_night_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let limits = fs::read_to_string("constraints/temperate.toml").expect("limits");
    let said = |review_by: &str| {
        let due = limits.replace("2032-01-10", review_by);
        assert_ne!(due, limits);
        fs::write(folder.path().join("l.toml"), due).expect("a file");
        let output = anteroom("outlook rosters/coming @/l.toml --today 2031-03-08 --out @/o.html", folder.path());
        assert_eq!(output.status.code(), Some(1), "{}", text(&output.stderr));
        let page = fs::read_to_string(folder.path().join("o.html")).expect("a page");
        fs::remove_file(folder.path().join("o.html")).expect("the page is there");
        [text(&output.stdout), page].map(|text| text.contains("REVIEW OVERDUE"))
    };
    // The last evening is that of 24 March.
    assert_eq!(said("2031-03-24"), [false, false]);
    assert_eq!(said("2031-03-23"), [true, true]);
}

#[test]
fn folders_that_cannot_be_used_are_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let refused = |words: &str, why: &str| {
        let output = anteroom(words, folder.path());
        let said = text(&output.stderr);
        assert_eq!((output.status.code(), output.stdout.is_empty()), (Some(2), true), "{said}");
        assert!(said.contains(why), "{said}");
    };
    refused("outlook @/nowhere constraints/temperate.toml", "cannot be read");
    refused("outlook @ constraints/temperate.toml", "there is no roster in this folder");
    refused(
        "outlook rosters/coming constraints/temperate.toml --today 2031-04-01",
        "every night in this folder is before",
    );
    for name in ["a.toml", "b.toml"] {
        fs::write(folder.path().join(name), "format = 1\nnmae = \"x\"\n").expect("a roster");
    }
    // Both files are told of at once.
    refused("outlook @ constraints/temperate.toml", "a.toml:2: unknown key");
    refused("outlook @ constraints/temperate.toml", "b.toml:2: unknown key");
}
