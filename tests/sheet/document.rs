//! The whole document: what it needs, what a screen reader finds, what is on every page.

use std::collections::BTreeSet;

use anteroom::explain::Explained;
use anteroom::night::{Minutes, PersonalLimits, Rota, Rule};
use anteroom::show::calendar::{self, Issue};
use anteroom::show::sheet::{self, Paper, Print};
use scraper::{ElementRef, Html, Selector};

use super::larch::{self, Larch, at, day};
use super::nights::large;
use super::{all, parsed, print, text, texts};

#[test]
fn it_is_one_file_that_needs_nothing_else() {
    let larch = Larch::new();
    for text in [sheet::html(&print(&larch)), sheet::html(&print(&larch::hostile()))] {
        let lower = text.to_lowercase();
        for word in ["http", "src=", "<script", "@import", "<link", "<iframe", "<img", "url(", "onload", "javascript:"]
        {
            assert!(!lower.contains(word), "{word} is in the sheet");
        }
    }
}

#[test]
fn a_screen_reader_finds_its_way() {
    let html = parsed(&print(&Larch::new()));
    assert_eq!(all(&html, "h1").len(), 1);
    assert_eq!(all(&html, "main").len(), 1);
    assert_eq!(texts(&html, "body > a:first-child"), ["Skip to the sheet"]);
    let ids: Vec<&str> = all(&html, "[id]").iter().filter_map(|e| e.value().id()).collect();
    assert_eq!(ids.len(), ids.iter().collect::<BTreeSet<_>>().len(), "an id stands twice");
    for link in all(&html, "a") {
        let target = link.value().attr("href").and_then(|href| href.strip_prefix('#')).expect("a link inside the page");
        assert!(ids.contains(&target), "#{target} leads nowhere");
    }
    for table in all(&html, "table") {
        let heads: Vec<ElementRef<'_>> = table.select(&Selector::parse("thead th").expect("a selector")).collect();
        assert!(!heads.is_empty() && heads.iter().all(|th| th.value().attr("scope") == Some("col")));
    }
    let levels: Vec<u32> =
        all(&html, "h1, h2, h3, h4").iter().filter_map(|h| h.value().name()[1..].parse().ok()).collect();
    assert!(levels.windows(2).all(|two| two[1] <= two[0] + 1), "a level of headings is left out: {levels:?}");
}

#[test]
fn everybody_finds_their_card_by_a_link() {
    let larch = Larch::new();
    let html = parsed(&print(&larch));
    let links = texts(&html, "nav[aria-label='Find me'] a");
    assert_eq!(links, ["KB", "MR", "FN", "RO", "AL", "JT", "PS", "CH"]);
    for (link, id) in all(&html, "nav[aria-label='Find me'] a").iter().zip(&links) {
        let card = texts(&html, &format!("{} h3", link.value().attr("href").expect("a link")));
        assert_eq!(&card, std::slice::from_ref(id));
    }
}

#[test]
fn hostile_names_stay_text() {
    let (plain, hostile) = (Larch::new(), larch::hostile());
    let names = |larch: &Larch| -> BTreeSet<String> {
        all(&parsed(&print(larch)), "*").iter().map(|e| e.value().name().to_owned()).collect()
    };
    assert_eq!(names(&plain), names(&hostile), "a name became markup");
    let html = parsed(&print(&hostile));
    let cards = all(&html, ".card h3").into_iter().map(|h| h.text().collect::<String>()).collect::<Vec<_>>();
    for name in [larch::HOSTILE[0], larch::HOSTILE[1], larch::HOSTILE[2], larch::HOSTILE[5]] {
        assert!(cards.iter().any(|card| card == name), "{name:?} is not on a card: {cards:?}");
    }
    let text: String = html.root_element().text().collect();
    assert!(!text.contains('\u{202e}') && !text.contains('\u{1b}'), "what turns the direction of reading is taken out");
    assert!(text.contains("<script>alert(1)</script>"), "it can be read as it was written");
}

#[test]
fn faults_leave_no_clean_page() {
    let mut larch = Larch::new();
    larch.review.faults = larch::faults();
    let html = parsed(&print(&larch));
    let pages = all(&html, "article.page");
    assert!(pages.len() >= 5);
    for page in &pages {
        assert!(text(*page).contains("DO NOT USE"), "a clean page: {}", text(*page));
    }
    assert!(texts(&html, ".card").iter().all(|card| card.contains("DO NOT USE") && !card.contains("0 faults")));
    let text = text(html.root_element());
    assert!(
        text.contains("FAULTS 3") && text.contains("checked: 3 faults: DO NOT USE") && !text.contains("checked: 0")
    );
    let svg = sheet::timeline_svg(&print(&larch));
    assert!(svg.contains("DO NOT USE: FAULTS 3"));
    let calendar = calendar::of_unit(&larch.view(), Issue { number: 1, printed: at(18, 45) });
    assert!(calendar.matches("SUMMARY:DO NOT USE (FAULTS): ").count() == calendar.matches("BEGIN:VEVENT").count());
}

#[test]
fn a_fault_is_told_without_saying_whose() {
    let mut larch = Larch::new();
    larch.review.faults = larch::faults();
    larch.review.faults[1].rule = Rule::A8;
    let html = parsed(&print(&larch));
    let words = texts(&html, "#gaps p").join("\n");
    assert!(words.contains("FAULT 1: B4"), "{words}");
    assert!(words.contains("FAULT 2: see it on the screen."), "{words}");
    assert!(!words.contains("at rest until 00:25"), "the sentence of the check names people: {words}");
}

#[test]
fn training_and_review_are_on_every_page() {
    let mut larch = Larch::new();
    larch.night.limits.approval.review_by = day(2031, 2, 1);
    let html = parsed(&print(&larch));
    for page in all(&html, "article.page") {
        let words = text(page);
        assert!(words.contains("TRAINING - NOT FOR USE") && words.contains("REVIEW OVERDUE"), "{words}");
    }
    (larch.night.roster.example, larch.night.limits.example) = (false, false);
    larch.night.limits.approval.review_by = day(2032, 2, 1);
    let text = text(parsed(&print(&larch)).root_element());
    assert!(!text.contains("TRAINING") && !text.contains("OVERDUE"));
}

#[test]
fn pages_are_counted_and_numbered_through() {
    let larch = Larch::new();
    for paper in Paper::ALL {
        let print = Print { paper, ..print(&larch) };
        let html = parsed(&print);
        let counts = sheet::page_counts(&print);
        let pages = all(&html, "article.page").len();
        assert_eq!(pages, counts.iter().map(|(_, pages)| pages).sum::<usize>());
        for (part, count) in counts {
            assert_eq!(all(&html, &format!("#{} > article", part.word())).len(), count, "{part:?} on {paper:?}");
        }
        for (ix, page) in all(&html, "article.page").into_iter().enumerate() {
            let number = format!("age {} of {pages}", ix + 1);
            assert!(text(page).contains(&number), "{number} is not on its page");
        }
        assert_eq!(all(&html, "tbody.entry").len(), 2, "every entry once");
    }
}

#[test]
fn no_personal_limit_is_printed_anywhere() {
    let mut larch = Larch::new();
    larch.night.roster.people[3].own.rest = Some(Minutes(137));
    larch.night.roster.people[0].own.max_wear = Some(Minutes(7777));
    let print = print(&larch);
    let issue = Issue { number: 1, printed: at(18, 45) };
    let mut files = vec![sheet::html(&print), sheet::timeline_svg(&print), calendar::of_unit(&larch.view(), issue)];
    files.extend(calendar::of_people(&larch.view(), issue).into_iter().map(|(_, text)| text));
    for file in files {
        assert!(!file.contains("7777") && !file.contains("137 min"));
    }
    // On the wall everybody's rest is the unit's, whatever their own is; the card has their own time.
    let mut without = Larch::new();
    without.night.roster.people[3].own = PersonalLimits::default();
    assert_eq!(sheet::timeline_svg(&print), sheet::timeline_svg(&super::print(&without)));
    assert!(texts(&parsed(&print), ".card").iter().any(|card| card.contains("No F until 03:50.")));
}

#[test]
fn a_large_night_stays_small() {
    let larch = large();
    let html = sheet::html(&print(&larch));
    assert!(html.len() < 5_000_000, "{} bytes", html.len());
    assert_eq!(all(&Html::parse_document(&html), "tbody.entry").len(), 48);
}

#[test]
fn an_empty_night_is_a_sheet_too() {
    let mut larch = Larch::new();
    larch.night.roster.people.clear();
    larch.rota = Rota {
        roster: larch.rota.roster.clone(),
        constraint_set: larch.rota.constraint_set.clone(),
        issue: 1,
        ..Default::default()
    };
    larch.out_by.clear();
    larch.explained = Explained::default();
    let html = parsed(&print(&larch));
    assert!(text(html.root_element()).contains("NONE: nobody is planned into a room"));
    assert!(text(html.root_element()).contains("GAPS: see the check"), "the check counts by itself");
}
