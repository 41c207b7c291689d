//! Calendars, read by a parser that is not the writer's.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use anteroom::night::{Minute, Minutes};
use anteroom::show::calendar::{self, Issue};

use super::larch::{self, Larch, at};
use super::{ROTA, sheet_of};

/// Properties of every event of a calendar, as an independent parser reads them.
fn events(text: &str) -> Vec<BTreeMap<String, String>> {
    for line in text.split("\r\n") {
        assert!(line.len() <= 75 && !line.contains('\n'), "not folded as RFC 5545 asks: {line:?}");
    }
    let calendars: Vec<_> = ical::IcalParser::new(text.as_bytes()).collect::<Result<_, _>>().expect("a calendar");
    assert_eq!(calendars.len(), 1);
    let event = |event: &ical::parser::ical::component::IcalEvent| {
        event.properties.iter().map(|p| (p.name.clone(), p.value.clone().unwrap_or_default())).collect()
    };
    calendars[0].events.iter().map(event).collect()
}

#[test]
fn calendars_are_read_by_another_parser() {
    let larch = Larch::new();
    let issue = Issue { number: 3, printed: at(18, 45) };
    let unit = events(&calendar::of_unit(&larch.view(), issue));
    let mut count = 0;
    for (_, text) in calendar::of_people(&larch.view(), issue) {
        count += events(&text).len();
    }
    assert_eq!(unit.len(), count, "the unit's calendar is everybody's");
    let uids: BTreeSet<&String> = unit.iter().map(|event| &event["UID"]).collect();
    assert_eq!(uids.len(), unit.len(), "a UID stands twice");
    let entry = unit.iter().find(|e| e["SUMMARY"].contains("RO: ENTRY 2")).expect("the entry of RO");
    assert_eq!(
        entry["SUMMARY"],
        "TRAINING - NOT FOR USE: RO: ENTRY 2\\, room 1: in 21:50\\, out 00:30\\, OUT-BY 01:00\\; removal 01:05\\, lane 2"
    );
    assert_eq!((entry["DTSTART"].as_str(), entry["DTEND"].as_str()), ("20310304T213000Z", "20310305T013000Z"));
    assert_eq!((entry["DTSTAMP"].as_str(), entry["SEQUENCE"].as_str()), ("20310304T184500Z", "3"));
}

#[test]
fn calendars_are_right_on_the_night_the_clocks_go_back() {
    let mut larch = Larch::new();
    // 2031-10-25T19:00 in London, which is 18:00 by UTC.
    larch.move_by(Minutes(32_512_350 - 390 - larch::START.0));
    let issue = Issue { number: 1, printed: Minute(32_512_350 - 400) };
    let events = events(&calendar::of_unit(&larch.view(), issue));
    let entry = events.iter().find(|e| e["SUMMARY"].contains("RO: ENTRY 2")).expect("the entry of RO");
    assert_eq!((entry["DTSTART"].as_str(), entry["DTEND"].as_str()), ("20311025T203000Z", "20311026T003000Z"));
    assert!(entry["SUMMARY"].contains("removal 01:05A"), "{}", entry["SUMMARY"]);
}

#[test]
fn hostile_names_stay_in_their_line_of_a_calendar() {
    let larch = larch::hostile();
    let text = calendar::of_unit(&larch.view(), Issue { number: 1, printed: at(18, 45) });
    let all = events(&text);
    assert_eq!(all.len(), text.matches("BEGIN:VEVENT").count());
    assert!(all.iter().all(|event| event.keys().all(|key| key.chars().all(|c| c.is_ascii_uppercase() || c == '-'))));
}

#[test]
fn a_folder_of_calendars_has_a_file_to_a_person() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = sheet_of(ROTA[0], &["--calendar", "@", "--csv", "@/duties.csv"], folder.path());
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let text = fs::read_to_string(folder.path().join("KB.ics")).expect("the calendar of KB");
    assert!(events(&text).iter().all(|event| event["SUMMARY"].contains("KB: ")));
    assert!(folder.path().join("whole-unit.ics").exists());
    let csv = fs::read_to_string(folder.path().join("duties.csv")).expect("the duties");
    assert!(csv.starts_with("person,duty,"));
}
