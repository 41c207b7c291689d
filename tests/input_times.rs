//! Local times on nights on which the clocks change (F5), and times without a date in rotas.

use std::fs;
use std::path::PathBuf;

use anteroom::night::{Minutes, Night, Rota};
use anteroom::read::{self, Source};
use chrono::NaiveDate;

fn base(name: &str) -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/input").join(name);
    fs::read_to_string(path).expect("base file")
}

/// The base night moved to another evening and morning, without its demand.
fn night(evening: &str, morning: &str) -> Night {
    let text = base("roster.toml");
    let (people, _) = text.split_once("[[presence]]").expect("presence");
    let text = format!("{people}[[lane]]\nid = \"1\"\n").replace("2031-03-04T07:30", "none");
    let text = text.replace("2031-03-04T16:00", &format!("{evening}T16:00"));
    let text = text.replace("2031-03-04T", &format!("{evening}T")).replace("2031-03-05T", &format!("{morning}T"));
    let today = NaiveDate::from_ymd_opt(2031, 3, 1).expect("a day");
    let (roster, limits) = (Source::new("r", text.as_bytes()), Source::new("l", base("limits.toml").as_bytes()));
    read::night(&roster, &limits, None, today).unwrap_or_else(|findings| panic!("{}", findings.render())).0
}

fn rota(night: &Night, break_from: &str, break_to: &str) -> Result<Rota, String> {
    let text = format!(
        "format = 1\nroster = \"{}\"\nconstraint_set = \"temperate v1\"\nissue = 1\n\
         [[break]]\nperson = \"KB\"\nfrom = \"{break_from}\"\nto = \"{break_to}\"\n",
        night.roster.name
    );
    read::rota(&Source::new("rota", text.as_bytes()), night).map(|(rota, _)| rota).map_err(|findings| findings.render())
}

#[test]
fn an_autumn_night_has_an_hour_more() {
    // 19:00 BST to 07:30 GMT: 12 h 30 min on the wall and one hour more in truth.
    let night = night("2031-10-25", "2031-10-26");
    assert_eq!(night.roster.shift.length(), Minutes(13 * 60 + 30));
}

#[test]
fn a_spring_night_has_an_hour_less() {
    let night = night("2031-03-29", "2031-03-30");
    assert_eq!(night.roster.shift.length(), Minutes(11 * 60 + 30));
}

#[test]
fn a_bare_time_that_happens_twice_is_asked_about() {
    let night = night("2031-10-25", "2031-10-26");
    let told = rota(&night, "00:30", "01:30").expect_err("01:30 happens twice");
    assert!(told.contains("01:30 happens twice on 26 Oct 2031 in Europe/London"), "{told}");
}

#[test]
fn an_offset_tells_the_two_apart() {
    let night = night("2031-10-25", "2031-10-26");
    let first = rota(&night, "00:30", "01:30+01:00").expect("the first 01:30");
    let second = rota(&night, "00:30", "2031-10-26T01:30+00:00").expect("the second 01:30");
    assert_eq!(first.breaks[0].span.length(), Minutes(60));
    assert_eq!(second.breaks[0].span.length(), Minutes(120));
}

#[test]
fn a_bare_time_that_never_happens_is_asked_about() {
    let night = night("2031-03-29", "2031-03-30");
    let told = rota(&night, "00:30", "01:30").expect_err("01:30 never happens");
    assert!(told.contains("01:30 does not happen on 30 Mar 2031"), "{told}");
    assert_eq!(rota(&night, "00:30", "02:30").expect("an hour").breaks[0].span.length(), Minutes(60));
}

#[test]
fn a_bare_time_is_the_first_at_or_after_the_start_of_the_shift() {
    let night = night("2031-03-04", "2031-03-05");
    let rota = rota(&night, "19:00", "18:55").expect("a very long break");
    assert_eq!(rota.breaks[0].span.from, night.roster.shift.from);
    assert_eq!(rota.breaks[0].span.length(), Minutes(24 * 60 - 5));
}

#[test]
fn a_zone_that_changes_its_clocks_by_half_an_hour() {
    let night = {
        let text = base("roster.toml").replace("Europe/London", "Australia/Lord_Howe");
        let (people, _) = text.split_once("[[presence]]").expect("presence");
        let text = people.replace("2031-03-04T", "2031-04-05T").replace("2031-03-05T", "2031-04-06T");
        let today = NaiveDate::from_ymd_opt(2031, 3, 1).expect("a day");
        let (roster, limits) = (Source::new("r", text.as_bytes()), Source::new("l", base("limits.toml").as_bytes()));
        read::night(&roster, &limits, None, today).unwrap_or_else(|findings| panic!("{}", findings.render())).0
    };
    // On 6 April 2031 the clocks go back from 02:00 to 01:30.
    assert_eq!(night.roster.shift.length(), Minutes(13 * 60));
    let told = rota(&night, "00:30", "01:45").expect_err("01:45 happens twice");
    assert!(told.contains("+11:00 for the first") && told.contains("+10:30"), "{told}");
}
