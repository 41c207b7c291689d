//! Observers, cards and the timeline.

use std::collections::BTreeSet;
use std::fs;

use anteroom::show::sheet;
use scraper::Html;

use super::larch::{self, Larch};
use super::{ROTA, parsed, print, sheet_of, texts};

#[test]
fn observers_are_shown_with_date_minutes_and_break() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = sheet_of(ROTA[0], &["--out", "@/x.html", "--parts", "observers"], folder.path());
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let html = Html::parse_document(&fs::read_to_string(folder.path().join("x.html")).expect("the sheet"));
    let rows = texts(&html, "table.list tbody tr");
    // MR is there at 00:40, five minutes before the first removal, and pauses for less than a pause that counts.
    let second = "01:20-01:45 REMOVAL JT 1 MR 31 May 2031 65 min to 00:40 AL 31 Oct 2031";
    assert!(rows.iter().any(|row| row == second), "{rows:#?}");
    let donning = "19:40-20:00 donning KB - MR 31 May 2031 20 min NONE since 19:00 none asked for -";
    assert!(rows.iter().any(|row| row == donning), "{rows:#?}");
    assert_eq!(rows.len(), 20, "every donning and removal of the rota");
    assert!(texts(&html, "article.wall, article.cards").is_empty(), "only what was asked for");
}

#[test]
fn a_card_has_what_one_person_needs_and_no_more() {
    let html = parsed(&print(&Larch::new()));
    let cards = texts(&html, ".card");
    let card = cards.iter().find(|card| card.starts_with("RO ")).expect("a card for RO");
    for words in [
        "ISSUE 1",
        "ENTRY 2 , room 1 IN 21:50 OUT-BY 01:00",
        "don 21:30, watched by PS",
        "with KB, MR, FN; plan out 00:30",
        "removal 01:05 lane 2: observer AL, assistant JT",
        "kit F size M",
        "No duty until 02:00.",
        "breach □ yes □ no",
        "I am fit to enter",
        "STOP and come out if unwell, torn, wet, alarm, or unsure.",
        "Not to be taken into the room.",
    ] {
        assert!(card.contains(words), "{words} is not on: {card}");
    }
    assert!(!card.contains("180") && !card.contains("360"), "no limit as a figure: {card}");
    let none = cards.iter().find(|card| card.starts_with("CH ")).expect("a card for CH");
    assert!(none.contains("NONE: no duty tonight"), "{none}");
}

#[test]
fn the_timeline_is_xml_and_every_bar_has_its_word() {
    for larch in [Larch::new(), larch::hostile()] {
        let text = sheet::timeline_svg(&print(&larch));
        let svg = roxmltree::Document::parse(&text).expect("the timeline is XML");
        assert_eq!(svg.root_element().tag_name().namespace(), Some("http://www.w3.org/2000/svg"));
        let bars: Vec<_> = svg.descendants().filter(|n| n.has_tag_name(("http://www.w3.org/2000/svg", "g"))).collect();
        assert!(bars.len() > 30, "{} bars", bars.len());
        for bar in bars {
            let words = |name: &str| {
                bar.children().filter(|n| n.tag_name().name() == name).filter_map(|n| n.text()).collect::<String>()
            };
            assert!(!words("title").is_empty() && !words("text").is_empty(), "a bar without a word");
        }
        let script = svg.descendants().any(|n| matches!(n.tag_name().name(), "script" | "image" | "foreignObject"));
        assert!(!script && !text.contains("<script"));
    }
}

#[test]
fn the_timeline_tells_fills_apart_without_colour() {
    let svg = sheet::timeline_svg(&print(&Larch::new()));
    let words: BTreeSet<&str> = svg.split("<title>").skip(1).filter_map(|rest| rest.split('<').next()).collect();
    for word in ["DONNING", "ROOM 1", "LANE WAIT", "DOFFING", "ASSIST", "WATCH", "ON POST", "BREAK", "REST", "GAP"] {
        assert!(words.contains(word), "{word} is not drawn: {words:?}");
    }
    let colours: BTreeSet<&str> = svg.match_indices('#').map(|(at, _)| &svg[at..at + 4]).collect();
    assert_eq!(colours, BTreeSet::from(["#000", "#fff"]));
}
