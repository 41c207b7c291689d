//! The exact words on the screen.

mod larch;

use std::collections::BTreeSet;
use std::path::Path;

use anteroom::night::{Minute, Minutes, PersonIx, Relief, Span, Stint};
use anteroom::plan::Ended;
use anteroom::show::{Section, WIDTH, terminal};
use larch::{Larch, at, day};
use unicode_width::UnicodeWidthStr;

/// Compares with the file; `ANTEROOM_GOLDEN=write` writes it instead.
fn golden(name: &str, text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/show").join(name);
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        std::fs::write(&path, text).expect("the fixtures folder can be written");
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(text == expected, "{name} differs from:\n{expected}\nnow:\n{text}");
}

fn everything(larch: &Larch) -> String {
    terminal::render(&larch.view(), &BTreeSet::from(Section::ALL))
}

fn assert_fits(text: &str) {
    for line in text.lines() {
        assert!(line.width() <= WIDTH && line.chars().count() <= WIDTH, "too wide: {line}");
        assert!(!line.contains(char::is_control), "steers the terminal: {line:?}");
    }
}

#[test]
fn header() {
    golden("header.txt", &terminal::header(&Larch::new().view()));
}

#[test]
fn limits() {
    golden("limits.txt", &terminal::limits(&Larch::new().view()));
}

#[test]
fn the_relief_style_is_said_where_the_unit_forces_one() {
    let mut larch = Larch::new();
    assert!(!terminal::limits(&larch.view()).contains("  relief: "));
    larch.night.limits.relief = Relief::InPairs;
    let told = terminal::limits(&larch.view());
    assert!(told.contains("\n  relief: in pairs, nobody passes the door alone\n"), "{told}");
    larch.night.limits.relief = Relief::OneByOne;
    let told = terminal::limits(&larch.view());
    assert!(
        told.contains("\n  relief: one by one, no two pass the door together while others stay inside\n"),
        "{told}"
    );
    assert_fits(&told);
}

#[test]
fn entries() {
    golden("entries.txt", &terminal::entries(&Larch::new().view()));
}

#[test]
fn people() {
    golden("people.txt", &terminal::people(&Larch::new().view()));
}

#[test]
fn timeline() {
    golden("timeline.txt", &terminal::timeline(&Larch::new().view()));
}

#[test]
fn gaps() {
    golden("gaps.txt", &terminal::gaps(&Larch::new().view()));
}

#[test]
fn totals() {
    golden("totals.txt", &terminal::totals(&Larch::new().view()));
}

#[test]
fn caution() {
    golden("caution.txt", &terminal::caution(&Larch::new().view()));
}

#[test]
fn check_with_nothing_and_with_faults() {
    let mut larch = Larch::new();
    let mut text = terminal::verdict(&larch.view()) + &terminal::not_checked(&larch.view());
    larch.review.faults = larch::faults();
    text += &terminal::verdict(&larch.view());
    golden("check.txt", &text);
}

#[test]
fn header_when_everything_is_to_be_told() {
    let mut larch = Larch::new();
    larch.night.limits.approval.review_by = day(2031, 2, 1);
    larch.rota.roster = "Larch, night of 3 March 2031".into();
    larch.review.faults = larch::faults();
    larch.ended = Ended::ByUser;
    golden("header_warnings.txt", &terminal::header(&larch.view()));
}

#[test]
fn an_empty_night_is_a_result() {
    let mut larch = Larch::new();
    larch.night.roster.people.clear();
    larch.rota.entries.clear();
    larch.rota.posts.clear();
    larch.rota.breaks.clear();
    larch.rota.tasks.clear();
    larch.explained = anteroom::explain::Explained::default();
    larch.review.shortages.clear();
    larch.review.tasks.clear();
    golden("empty.txt", &everything(&larch));
}

#[test]
fn a_rota_with_holes_has_no_empty_cell() {
    let mut larch = Larch::new();
    for entry in &mut larch.rota.entries {
        (entry.lane, entry.donning_observer, entry.observer, entry.assistant) = (None, None, None, None);
    }
    larch.out_by.clear();
    golden("holes.txt", &terminal::entries(&larch.view()));
}

#[test]
fn showers_are_shown_where_the_rota_has_them() {
    let mut larch = Larch::new();
    let before = everything(&larch);
    assert!(!before.contains("SHOWER") && !before.contains("u shower"), "{before}");
    larch.night.roster.shower_places = Some(1);
    larch.rota.showers = vec![Stint { person: PersonIx(0), span: Span::new(at(30, 0), at(30, 15)) }];
    let text = everything(&larch);
    assert_fits(&text);
    for words in ["  06:00-06:15  SHOWER\n", "u shower\n", ".uu.", "  shower places: 1, for 15 each\n"] {
        assert!(text.contains(words), "{words:?} is not in\n{text}");
    }
}

#[test]
fn the_night_the_clocks_go_back() {
    let mut larch = Larch::new();
    // 2031-10-25T19:00 in London, an hour before the same time of day by UTC.
    let later = Minutes(32_512_350 - 390 - larch::START.0);
    larch.move_by(later);
    let text = terminal::header(&larch.view()) + &terminal::entries(&larch.view()) + &terminal::timeline(&larch.view());
    assert_fits(&text);
    golden("clocks_go_back.txt", &text);
}

#[test]
fn too_few_inside_is_not_called_alone() {
    let mut larch = Larch::new();
    larch.explained.gaps[0].short = Some((2, 1));
    let text = everything(&larch);
    assert!(text.contains("SHORT INSIDE") && !text.contains("PATIENT ALONE"), "{text}");
}

#[test]
fn a_pair_is_printed_with_the_earlier_out_by() {
    let larch = Larch::new();
    let view = larch.view();
    assert_eq!((view.out_by(0), view.out_by(1)), (Some(at(22, 20)), Some(at(22, 20))));
    assert_eq!(view.spare(1), Some(Minutes(20)));
}

#[test]
fn people_who_leave_apart_have_their_own_out_by() {
    let mut larch = Larch::new();
    larch.rota.entries[1].door_out = at(22, 5);
    let view = larch.view();
    assert_eq!((view.out_by(0), view.out_by(1)), (Some(at(22, 20)), Some(at(22, 40))));
}

#[test]
fn personal_limits_are_never_quoted() {
    let text = everything(&Larch::new());
    assert!(!text.contains("137"), "RO's rest is 137 min");
    assert!(text.contains("No F until 03:50."), "it shows as a time on the grid:\n{text}");
}

#[test]
fn a_personal_limit_is_missed_by_nothing_said() {
    let mut larch = Larch::new();
    larch.review.faults = larch::faults();
    larch.review.faults[0].rule = anteroom::night::Rule::A8;
    assert!(!terminal::verdict(&larch.view()).contains("15 min"));
}

#[test]
fn nothing_is_wider_than_the_screen() {
    assert_fits(&everything(&Larch::new()));
    let hostile = larch::hostile();
    assert_fits(&everything(&hostile));
    let mut long = Larch::new();
    long.night.roster.shift = Span::new(larch::START, Minute(larch::START.0 + 9 * 24 * 60));
    assert_fits(&everything(&long));
}

#[test]
fn bold_only_adds_its_own_codes() {
    let text = everything(&Larch::new());
    let bold = terminal::emboldened(&text);
    assert!(bold.contains("\u{1b}[1mENTRY 1"));
    assert_eq!(bold.replace("\u{1b}[1m", "").replace("\u{1b}[0m", ""), text);
}
