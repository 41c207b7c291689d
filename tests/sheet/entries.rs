//! The wall sheet row by row.

use std::collections::BTreeMap;

use anteroom::night::{LowHours, Minutes, PersonIx, Span, Stint};
use anteroom::show::sheet::{Before, Paper, Print};
use scraper::Selector;

use super::larch::{Larch, at};
use super::nights::long_night;
use super::{all, parsed, print, text, texts};

#[test]
fn the_facts_of_an_entry_stand_in_their_order() {
    let html = parsed(&print(&Larch::new()));
    let first = all(&html, "tbody.entry")[0];
    let words = text(first);
    let order = [
        "1 room 1",
        "20:00",
        "plan out 22:00",
        "spare 20 min",
        "OUT-BY 22:20",
        "KB",
        "FN 21:50",
        "AL",
        "JT",
        "1 in out off",
    ];
    let mut from = 0;
    for fact in order {
        let found =
            words[from..].find(fact).unwrap_or_else(|| panic!("{fact} is not there or not in its order: {words}"));
        from += found + fact.len();
    }
    assert_eq!(texts(&html, "table.entries thead th")[2], "OUT-BY");
}

#[test]
fn no_cell_is_empty() {
    let mut larch = Larch::new();
    for entry in &mut larch.rota.entries {
        (entry.lane, entry.donning_observer, entry.observer, entry.assistant) = (None, None, None, None);
    }
    larch.out_by.clear();
    let html = parsed(&print(&larch));
    for cell in all(&html, "td, tbody th, dd") {
        assert!(!text(cell).is_empty(), "an empty cell: {}", cell.html());
    }
    assert!(texts(&html, "td.observer").iter().all(|words| words == "NONE"));
    assert!(texts(&html, "td.by").iter().all(|words| words == "OUT-BY NONE"));
}

#[test]
fn a_page_holds_at_most_eight_entries_and_smaller_paper_fewer() {
    let larch = long_night(20);
    let mut most = BTreeMap::new();
    for paper in Paper::ALL {
        let html = parsed(&Print { paper, ..print(&larch) });
        let rows: Vec<usize> = all(&html, "#wall > article")
            .iter()
            .map(|page| page.select(&Selector::parse("tbody.entry").expect("a selector")).count())
            .collect();
        assert_eq!(rows.iter().sum::<usize>(), 20, "{paper:?}");
        most.insert(paper.word(), rows.into_iter().max().unwrap_or(0));
    }
    assert!(most["a3"] <= 8 && most["a3"] >= 6 && most["tabloid"] <= most["a3"], "{most:?}");
    assert!(most["a4"] >= 2 && most["a4"] < most["tabloid"] && most["letter"] < most["tabloid"], "{most:?}");
}

#[test]
fn pages_of_the_wall_sheet_follow_each_other_in_time() {
    let larch = long_night(20);
    let html = parsed(&print(&larch));
    let titles = texts(&html, "#wall h3");
    let spans: Vec<(&str, &str)> =
        titles.iter().filter_map(|title| title.rsplit_once(' ')?.1.split_once('-')).collect();
    assert_eq!(spans.len(), titles.len());
    assert_eq!((spans[0].0, spans[spans.len() - 1].1), ("19:00", "07:30"));
    assert!(spans.windows(2).all(|two| two[0].1 == two[1].0), "{spans:?}");
}

#[test]
fn midnight_is_a_heavy_row_and_low_hours_are_said() {
    let mut larch = Larch::new();
    larch.night.limits.low_hours = Some(LowHours {
        from: chrono::NaiveTime::from_hms_opt(0, 0, 0).expect("a time"),
        to: chrono::NaiveTime::from_hms_opt(5, 0, 0).expect("a time"),
        watch_max: Minutes(60),
        max_wear: vec![Minutes(150), Minutes(90)],
    });
    let html = parsed(&print(&larch));
    assert_eq!(texts(&html, "tbody.passing"), ["— MIDNIGHT: Tue -> Wed —"]);
    assert_eq!(texts(&html, "tbody.low .number"), ["2"], "entry 1 is over before");
    assert!(texts(&html, "tbody.low")[0].contains("LOW HOURS"));
    assert!(texts(&html, "svg text").iter().any(|words| words == "LOW HOURS"));
}

#[test]
fn gaps_name_nobody_and_say_what_follows() {
    let larch = Larch::new();
    let html = parsed(&print(&larch));
    let rows = texts(&html, "tbody.gap");
    assert_eq!(
        rows[1],
        "GAP 1 PATIENT ALONE 00:30-02:00 room 1, 2 needed, 0 inside. NO ENTRY 00:30-02:00: too few entrants"
    );
    assert!(rows[0].starts_with("GAP 2 TASK NOT COVERED 22:00-01:00 room 1, task turning."), "{}", rows[0]);
    let words = text(html.root_element());
    for private in ["KB and MR are at rest until", "may enter", "not signed off", "no kit size"] {
        assert!(!words.contains(private), "{private} is on the sheet");
    }
    assert!(texts(&html, "dd .count").iter().all(|count| count == "GAPS 2"));
}

#[test]
fn what_differs_from_the_sheet_before_is_marked() {
    let (old, mut new) = (Larch::new(), Larch::new());
    new.rota.entries[2].observer = Some(PersonIx(7));
    let before = Some(Before { rota: &old.rota, out_by: &old.out_by });
    let html = parsed(&Print { issue: 2, replaces: Some(1), before, ..print(&new) });
    assert_eq!(texts(&html, "tbody.entry.changed .number"), ["2"]);
    assert_eq!(texts(&html, "tbody.entry .mark"), ["CHANGED"]);
    assert_eq!(texts(&html, ".card.changed .id"), ["FN", "AL", "CH"].map(str::to_owned).to_vec());
    assert!(texts(&html, ".corner").iter().all(|corner| corner.contains("REPLACES ISSUE 1")));
    let html = parsed(&Print { before, ..print(&old) });
    assert!(texts(&html, ".changed").is_empty(), "nothing differs from itself");
}

#[test]
fn an_entry_that_is_no_more_is_said_to_be_withdrawn() {
    let (old, mut new) = (Larch::new(), Larch::new());
    new.rota.entries.truncate(2);
    new.out_by.truncate(2);
    let before = Some(Before { rota: &old.rota, out_by: &old.out_by });
    let html = parsed(&Print { issue: 2, before, ..print(&new) });
    let rows = texts(&html, "tbody.gone");
    assert_eq!(rows, ["CHANGED WITHDRAWN: entry 2 of the sheet before, room 1, in 21:50: FN, RO"]);
}

#[test]
fn little_spare_has_a_heavy_box_and_a_word() {
    let mut larch = Larch::new();
    larch.night.limits.spare = Minutes(25);
    let html = parsed(&print(&larch));
    assert_eq!(texts(&html, "td.in .heavy"), ["spare 20 min TIGHT"]);
}

#[test]
fn the_strip_has_four_boxes() {
    let mut larch = Larch::new();
    larch.night.limits.coordinator = true;
    larch.rota.coordinators = vec![Stint { person: PersonIx(7), span: Span::new(at(20, 0), at(24, 30)) }];
    let html = parsed(&print(&larch));
    assert_eq!(
        texts(&html, "#wall article:nth-of-type(1) dt"),
        ["In charge", "Standby now", "Kits left at 07:30", "Gaps, check"]
    );
    let boxes = texts(&html, "#wall article:nth-of-type(1) dd");
    assert_eq!(boxes[0], "20:00-00:30 CH");
    assert!(boxes[1].starts_with("NONE"));
    // 14 less four entries, 6 less two spells on post.
    assert_eq!(boxes[2], "F M 10 (keep 2) D M 4");
    assert!(boxes[3].starts_with("GAPS 2"));
}

#[test]
fn the_foot_says_the_relief_style_where_the_unit_forces_one() {
    let mut larch = Larch::new();
    larch.night.limits.relief = anteroom::night::Relief::InPairs;
    let html = parsed(&print(&larch));
    let feet = texts(&html, "#wall .foot");
    assert!(feet.iter().all(|foot| foot.contains("Relief in pairs, nobody passes the door alone.")), "{feet:?}");
}

#[test]
fn the_foot_has_limits_approval_verdict_and_what_was_not_checked() {
    let html = parsed(&print(&Larch::new()));
    for foot in texts(&html, "#wall .foot") {
        for words in [
            "PLANNING AID ONLY.",
            "Anyone may stop an entry or come out early",
            "No observer, no assistant or no lane: no entry.",
            "Valid only as issue 1, printed Tue 4 Mar 18:45.",
            "checked: 0 faults; limits temperate v1, approved by EXAMPLE, nobody on 10 Jan 2031",
            "kit F: wear W 180 less margin 5, removal f 25, recovery 30, rest r 120 before F, 60 before D",
            "Wear counted from sealed",
            "NOT CHECKED: E1 standby responders",
        ] {
            assert!(foot.contains(words), "{words} is not in: {foot}");
        }
    }
}
