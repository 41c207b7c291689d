//! What is written to files comes back as it was.

mod larch;

use anteroom::night::{Minutes, PersonIx, Relief, Span, Stint};
use anteroom::show::{csv, json, rota_toml};
use larch::{Larch, at};
use serde_json::Value;

fn rota(larch: &Larch) -> toml::Table {
    rota_toml::write(&larch.night, &larch.rota).parse().expect("the rota file is TOML")
}

fn rows(larch: &Larch) -> Vec<csv_crate::StringRecord> {
    let text = csv::write(&larch.view()).expect("CSV can be written");
    let mut reader = csv_crate::Reader::from_reader(text.as_bytes());
    assert_eq!(reader.headers().expect("a header"), csv::HEADER.as_slice());
    reader.records().map(|row| row.expect("a row")).collect()
}

fn document(larch: &Larch) -> Value {
    serde_json::from_str(&json::write(&larch.view()).expect("JSON can be written")).expect("it is JSON")
}

use ::csv as csv_crate;

#[test]
fn the_rota_file_word_for_word() {
    let larch = Larch::new();
    let text = rota_toml::write(&larch.night, &larch.rota);
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/show/rota.toml");
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        std::fs::write(&path, &text).expect("the fixtures folder can be written");
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(text == expected, "rota.toml differs from:\n{expected}\nnow:\n{text}");
}

#[test]
fn the_json_has_the_relief_style_where_the_unit_forces_one() {
    let mut larch = Larch::new();
    assert!(document(&larch)["limits"].get("relief").is_none());
    larch.night.limits.relief = Relief::InPairs;
    assert_eq!(document(&larch)["limits"]["relief"], "in-pairs");
}

#[test]
fn the_rota_file_says_every_time_and_leaves_out_who_is_not_there() {
    let mut larch = Larch::new();
    larch.rota.entries[0].assistant = None;
    let file = rota(&larch);
    let entry = &file["entry"][0];
    assert_eq!(file["issue"].as_integer(), Some(1));
    assert_eq!(entry["in"].as_str(), Some("20:00"));
    assert_eq!(entry["lane"].as_str(), Some("1"));
    assert!(entry.get("assistant").is_none());
    assert_eq!(file["entry"][3]["off"].as_str(), Some("01:30"));
    assert_eq!(file["post"][0]["as"].as_str(), Some("assistant"));
    assert_eq!(file["break"][0]["to"].as_str(), Some("00:00"));
    assert_eq!(file["task"][0]["task"].as_str(), Some("line change"));
}

#[test]
fn times_that_could_be_misread_have_their_date() {
    let mut larch = Larch::new();
    larch.rota.entries[0].don = at(18, 55);
    assert_eq!(rota(&larch)["entry"][0]["don"].as_str(), Some("2031-03-04T18:55"), "before the shift");
    larch.rota.entries[0].don = at(19, 0);
    assert_eq!(rota(&larch)["entry"][0]["don"].as_str(), Some("19:00"), "the first minute");
    larch.rota.entries[0].don = at(43, 0);
    assert_eq!(rota(&larch)["entry"][0]["don"].as_str(), Some("2031-03-05T19:00"), "the next evening");
    larch.night.roster.shift.to = at(43, 1);
    assert_eq!(rota(&larch)["entry"][1]["in"].as_str(), Some("2031-03-04T20:00"), "a shift over 24 hours");
}

#[test]
fn an_hour_that_happens_twice_has_its_offset() {
    let mut larch = Larch::new();
    larch.move_by(Minutes(32_512_350 - 390 - larch::START.0));
    let file = rota(&larch);
    // RO's removal is 6 h 05 after 19:00 by the clock of summer.
    assert_eq!(file["entry"][3]["removal"].as_str(), Some("2031-10-26T01:05+01:00"));
    assert_eq!(file["entry"][3]["in"].as_str(), Some("21:50"));
}

#[test]
fn hostile_names_come_back_from_the_rota_file() {
    let larch = larch::hostile();
    let file = rota(&larch);
    for (ix, name) in larch::HOSTILE.iter().take(4).enumerate() {
        assert_eq!(file["entry"][ix]["person"].as_str(), Some(*name));
    }
    assert_eq!(file["entry"][0]["room"].as_str(), Some(larch.night.roster.rooms[0].id.as_str()));
    assert_eq!(file["roster"].as_str(), Some(larch.night.roster.name.as_str()));
}

#[test]
fn a_row_to_every_duty() {
    let rows = rows(&Larch::new());
    let of =
        |id: &str| rows.iter().filter(|r| &r[0] == id).map(|r| (r[1].to_owned(), r[6].to_owned())).collect::<Vec<_>>();
    let words =
        |list: &[(&str, &str)]| list.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect::<Vec<_>>();
    assert_eq!(
        of("MR"),
        words(&[("donning", "20"), ("in room", "120"), ("waiting for lane", "35"), ("removal", "25")])
    );
    assert!(rows.iter().flatten().all(|cell| !cell.is_empty()), "never an empty cell");
    let inside = rows.iter().find(|r| &r[0] == "KB" && &r[1] == "in room").expect("KB goes in");
    assert_eq!((&inside[4], &inside[8]), ("2031-03-04T20:00+00:00", "MR FN RO"));
    assert_eq!(&inside[9], "2031-03-04T22:20+00:00");
}

#[test]
fn no_cell_runs_in_a_spreadsheet() {
    let rows = rows(&larch::hostile());
    for cell in rows.iter().flatten() {
        assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']), "{cell:?}");
    }
    assert!(rows.iter().any(|r| &r[0] == "'=cmd|' /C calc'!A0"));
    assert!(rows.iter().any(|r| &r[0] == larch::HOSTILE[1]), "harmless names stay as they are");
}

#[test]
fn json_says_all_of_it() {
    let doc = document(&Larch::new());
    assert_eq!(doc["format"], 1);
    assert_eq!((&doc["training"], &doc["review_overdue"]), (&Value::Bool(true), &Value::Bool(false)));
    assert_eq!(doc["night"]["from"], "2031-03-04T19:00+00:00");
    assert_eq!(doc["entries"][1]["out_by"], "2031-03-04T22:20+00:00");
    assert_eq!(doc["entries"][1]["spare_min"], 20);
    assert_eq!(doc["gaps"][0]["severity"], "PATIENT ALONE");
    assert_eq!(doc["levels"][0]["level"], "uncovered");
    assert_eq!((&doc["levels"][0]["cannot_be_below"], &doc["levels"][0]["proven_best"]), (&120.into(), &false.into()));
    assert_eq!((&doc["tasks"][0]["done"], &doc["tasks"][1]["start"]), (&true.into(), &Value::Null));
    assert_eq!(doc["not_checked"][0]["what"], "E1 standby responders");
}

#[test]
fn json_says_nothing_of_how_far_a_personal_limit_is_missed() {
    let mut larch = Larch::new();
    larch.review.faults = larch::faults();
    assert_eq!(document(&larch)["faults"][0]["by_min"], 15);
    assert_eq!(document(&larch)["faults"][1]["by_count"], 1);
    larch.review.faults[0].rule = anteroom::night::Rule::A8;
    assert_eq!(document(&larch)["faults"][0]["by_min"], Value::Null);
}

#[test]
fn hostile_names_come_back_from_json() {
    let larch = larch::hostile();
    let doc = document(&larch);
    for (ix, name) in larch::HOSTILE.iter().take(4).enumerate() {
        assert_eq!(doc["entries"][ix]["person"], *name);
    }
}

#[test]
fn personal_limits_are_in_no_file() {
    let mut larch = Larch::new();
    larch.night.roster.people[0].own.max_wear = Some(Minutes(7777));
    let texts = [
        rota_toml::write(&larch.night, &larch.rota),
        csv::write(&larch.view()).expect("CSV can be written"),
        json::write(&larch.view()).expect("JSON can be written"),
    ];
    assert!(texts.iter().all(|text| !text.contains("7777") && !text.contains("137")));
    assert_eq!(larch.night.roster.person(PersonIx(0)).own.max_wear, Some(Minutes(7777)));
}

#[test]
fn showers_are_in_every_file_where_the_rota_has_them() {
    let mut larch = Larch::new();
    assert_eq!(document(&larch)["showers"].as_array().map(Vec::len), Some(0));
    larch.rota.showers = vec![Stint { person: PersonIx(0), span: Span::new(at(30, 0), at(30, 15)) }];
    let id = &larch.night.roster.people[0].id;
    let shower = &document(&larch)["showers"][0];
    assert_eq!((shower["person"].as_str(), shower["to"].as_str()), (Some(id.as_str()), Some("2031-03-05T06:15+00:00")));
    let rows = rows(&larch);
    let row = rows.iter().find(|row| &row[1] == "shower").expect("a row for the shower");
    assert_eq!((&row[0], &row[6]), (id.as_str(), "15"));
    assert_eq!(rota(&larch)["shower"][0]["from"].as_str(), Some("06:00"));
}
