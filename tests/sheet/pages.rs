//! The sheet printed and looked at: pages, millimetres, black and white, a screen reader's rules.

use std::collections::BTreeSet;

use anteroom::show::sheet::{self, Paper, Part, Print};

use super::browser::{PdfPage, Picture, Printed, Word, run, there};
use super::larch::{self, Larch};
use super::nights::long_night;
use super::print;

const PRINTERS: [&str; 3] = ["chromium", "pdftotext", "pdftoppm"];

/// Points to a millimetre.
const POINTS: f64 = 72.0 / 25.4;

fn printed(print: &Print<'_>) -> Printed {
    Printed::new(&sheet::html(print))
}

fn only(larch: &Larch, paper: Paper, parts: &[Part]) -> Printed {
    printed(&Print { paper, parts: parts.iter().copied().collect::<BTreeSet<_>>(), ..print(larch) })
}

/// Width and height in millimetres, long side across.
fn size(paper: Paper) -> (f64, f64) {
    let (width, height) = paper.across();
    let mm = |tenths: i64| f64::from(i32::try_from(tenths).expect("a size of paper")) / 10.0;
    (mm(width), mm(height))
}

#[test]
fn every_paper_has_as_many_pages_as_it_says() {
    if !there(&PRINTERS) {
        return;
    }
    // What one person does in one entry may be higher than a card where names have 200 letters: the card grows then.
    let without_cards: BTreeSet<Part> = Part::ALL.into_iter().filter(|part| *part != Part::Cards).collect();
    let all = BTreeSet::from(Part::ALL);
    for (larch, parts) in [(Larch::new(), &all), (long_night(20), &all), (larch::hostile(), &without_cards)] {
        for paper in Paper::ALL {
            let print = Print { paper, parts: parts.clone(), ..print(&larch) };
            let said: usize = sheet::page_counts(&print).iter().map(|(_, pages)| pages).sum();
            let pages = printed(&print).pages();
            let heads =
                || pages.iter().map(|page| page.text().chars().take(90).collect::<String>()).collect::<Vec<_>>();
            assert_eq!(pages.len(), said, "{paper:?}: {:#?}", heads());
            for (ix, page) in pages.iter().enumerate() {
                let number = format!("{} of {said}", ix + 1);
                assert!(page.text().contains(&number), "page {number} is not where it should be");
            }
            let (width, height) = size(paper);
            let (found, high) = (pages[0].width / POINTS, pages[0].height / POINTS);
            assert!((found - width).abs() < 1.0 && (high - height).abs() < 1.0, "{paper:?}: {found} by {high} mm");
        }
    }
}

#[test]
fn no_row_is_split_over_two_pages() {
    if !there(&PRINTERS) {
        return;
    }
    let larch = long_night(20);
    for paper in Paper::ALL {
        let pages = only(&larch, paper, &[Part::Wall]).pages();
        let mut rows = 0;
        for page in &pages {
            let labels: Vec<&Word> = page.words.iter().filter(|word| word.text == "OUT-BY").collect();
            // One label at the head of the column, one in the caution, one in each row.
            rows += labels.len() - 2;
            // Both people of each row have their boxes on the same page as its label.
            assert_eq!(page.words.iter().filter(|word| word.text == "init").count(), 2 * (labels.len() - 2));
            assert!(labels.len() > 2 && page.words.iter().all(|word| word.bottom < page.height), "{paper:?}");
        }
        assert_eq!(rows, 20, "{paper:?}");
    }
}

#[test]
fn a_card_grows_rather_than_lose_a_word() {
    if !there(&PRINTERS) {
        return;
    }
    let larch = larch::hostile();
    let print = Print { parts: BTreeSet::from([Part::Cards]), ..print(&larch) };
    let text = printed(&print).pages().iter().map(PdfPage::text).collect::<Vec<_>>().join(" ");
    let cards = sheet::html(&print).matches("STOP and come out").count();
    assert!(cards >= 8, "{cards} cards");
    assert_eq!(text.matches("STOP and come out").count(), cards);
    // The last words of each card: on it, or on the page after.
    assert_eq!(text.matches("1 of 1.").count() + text.matches("of 2.").count(), cards, "{text}");
}

/// The time that stands below the label OUT-BY: the tallest word of the page.
fn out_by(page: &PdfPage) -> &Word {
    let height = |word: &&Word| word.bottom - word.top;
    let times = page.words.iter().filter(|word| word.text.len() == 5 && word.text.as_bytes()[2] == b':');
    times.max_by(|a, b| height(a).total_cmp(&height(b))).expect("a time")
}

/// Millimetres from the highest to the lowest dot of the longest run of rows with ink in them.
fn ink_height(picture: &Picture, word: &Word) -> f64 {
    let points = |dot: &u32| f64::from(*dot) / 10.0 * POINTS;
    let across: Vec<u32> = (0..picture.width).filter(|x| (word.left..word.right).contains(&points(x))).collect();
    let (mut longest, mut run) = (0_u32, 0_u32);
    for y in (0..picture.height).filter(|y| (word.top..word.bottom).contains(&points(y))) {
        run = if across.iter().any(|&x| picture.is_black(x, y)) { run + 1 } else { 0 };
        longest = longest.max(run);
    }
    f64::from(longest) / 10.0
}

#[test]
fn out_by_is_twelve_millimetres_high_and_the_largest_thing() {
    if !there(&PRINTERS) {
        return;
    }
    for paper in Paper::ALL {
        let printed = only(&Larch::new(), paper, &[Part::Wall]);
        let pages = printed.pages();
        let word = out_by(&pages[0]);
        let height = ink_height(&printed.picture(1), word);
        assert!((12.0..14.0).contains(&height), "{paper:?}: {} is {height} mm high", word.text);
        let larger = pages[0].words.iter().find(|other| other.bottom - other.top > word.bottom - word.top);
        assert!(larger.is_none(), "{paper:?}: something is larger than OUT-BY");
    }
}

#[test]
fn in_black_and_white_all_of_it_can_still_be_read() {
    if !there(&PRINTERS) || !there(&["tesseract"]) {
        return;
    }
    let mut larch = Larch::new();
    larch.review.faults = larch::faults();
    let printed = only(&larch, Paper::A3, &[Part::Wall]);
    printed.picture(1);
    let text = run("tesseract", &[&printed.name("page.pbm"), "-", "--psm", "11"]);
    for word in [
        "DO NOT USE",
        "FAULTS 3",
        "TRAINING",
        "ISSUE 1",
        "GAP 1",
        "PATIENT ALONE",
        "NO ENTRY",
        "22:20",
        "20:00",
        "OBSERVER",
        "ASSISTANT",
        "MIDNIGHT",
        "PLANNING AID ONLY",
        "NONE",
    ] {
        assert!(text.contains(word), "{word} cannot be read from the black and white page:\n{text}");
    }
}

#[test]
fn names_of_any_kind_do_not_make_the_paper_wider() {
    if !there(&PRINTERS) {
        return;
    }
    let printed = only(&larch::hostile(), Paper::A4, &[Part::Wall]);
    let pages = printed.pages();
    let word = out_by(&pages[0]);
    let height = ink_height(&printed.picture(1), word);
    assert!(height >= 12.0, "the page was made smaller to take a long name: {height} mm");
}

#[test]
fn a_screen_reader_a_phone_and_a_dark_screen_are_served() {
    if !there(&["chromium", "node", "axe-core"]) {
        return;
    }
    let mut larch = Larch::new();
    larch.review.faults = larch::faults();
    for larch in [Larch::new(), larch, larch::hostile()] {
        let printed = printed(&print(&larch));
        let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/sheet/look.cjs");
        let said: serde_json::Value =
            serde_json::from_str(&run("node", &[script, &printed.name("sheet.html")])).expect("JSON");
        assert!(said["rules"].as_u64() > Some(60), "the rules were not looked at: {said}");
        assert_eq!(said["messages"].as_array().map(Vec::len), Some(0), "{said}");
        let page = format!("file://{}", printed.name("sheet.html"));
        let requests = said["requests"].as_array().expect("a list");
        assert!(requests.iter().all(|url| *url == page), "a request leaves the page: {said}");
        assert_eq!(said["violations"].as_array().map(Vec::len), Some(0), "{:#}", said["violations"]);
        assert_eq!(said["wide"].as_array().map(Vec::len), Some(0), "wider than the screen: {}", said["wide"]);
        assert_eq!(said["darkPaper"], "rgb(255, 255, 255)", "a dark screen prints white");
        assert_eq!(said["focus"], "Skip to the sheet", "the first key goes to the way past the links");
    }
}
