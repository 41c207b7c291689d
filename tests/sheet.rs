//! The sheet read back: as a browser reads it, as XML, as calendars.

mod larch;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use anteroom::explain::Explained;
use anteroom::night::{Minute, Minutes, Person, PersonIx, Rule, Span, Stint};
use anteroom::show::calendar::{self, Issue};
use anteroom::show::sheet::{self, Before, Paper, Part, Print};
use larch::{Larch, at, day};
use scraper::{ElementRef, Html, Selector};

const ROTA: [&str; 3] = ["rosters/quiet-night.rota.toml", "rosters/quiet-night.toml", "constraints/temperate.toml"];

fn print(larch: &Larch) -> Print<'_> {
    Print {
        view: larch.view(),
        paper: Paper::A3,
        parts: BTreeSet::from(Part::ALL),
        issue: 1,
        replaces: None,
        printed: at(18, 45),
        before: None,
    }
}

fn parsed(print: &Print<'_>) -> Html {
    let html = Html::parse_document(&sheet::html(print));
    assert_eq!(html.errors, [""; 0], "mistakes in the HTML");
    html
}

fn all<'a>(html: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    html.select(&Selector::parse(selector).expect("a selector")).collect()
}

/// The text of an element with single blanks.
fn text(element: ElementRef<'_>) -> String {
    element.text().collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn texts(html: &Html, selector: &str) -> Vec<String> {
    all(html, selector).into_iter().map(text).collect()
}

fn anteroom(words: &[&str], folder: &Path) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    let words = words.iter().map(|word| word.replace('@', &folder.display().to_string()));
    command.args(words).current_dir(env!("CARGO_MANIFEST_DIR")).output().expect("anteroom starts")
}

fn sheet_of(rota: &str, more: &[&str], folder: &Path) -> Output {
    let words: Vec<&str> = ["sheet", rota, ROTA[1], ROTA[2], "--printed", "2031-03-04T18:45"]
        .into_iter()
        .chain(more.iter().copied())
        .collect();
    anteroom(&words, folder)
}

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
        assert_eq!(&card, &[id.clone()]);
    }
}

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

/// A night of many pairs, one after another, far apart enough to be an entry each.
fn long_night(pairs: i64) -> Larch {
    let mut larch = Larch::new();
    let model = larch.rota.entries[..2].to_vec();
    larch.rota.entries.clear();
    larch.out_by.clear();
    for pair in 0..pairs {
        for entry in &model {
            let mut entry = entry.clone();
            entry.number = u32::try_from(pair).expect("few") + 1;
            for time in [&mut entry.don, &mut entry.door_in, &mut entry.door_out, &mut entry.removal, &mut entry.off] {
                *time = *time + Minutes(pair * 25);
            }
            larch.out_by.push(entry.door_out + Minutes(20));
            larch.rota.entries.push(entry);
        }
    }
    larch.explained = Explained::default();
    larch.review.shortages.clear();
    larch.review.tasks.clear();
    larch.rota.tasks.clear();
    larch
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
    larch.night.limits.low_hours = Some(anteroom::night::LowHours {
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
fn an_explained_gap_is_posted_without_reasons() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("short.html");
    // Nobody goes in at all: every presence is a gap, with a reason for each person.
    let rota =
        "format = 1\nroster = \"Yarrow, night of 11 March 2031\"\nconstraint_set = \"temperate v1\"\nissue = 1\n";
    fs::write(folder.path().join("none.toml"), rota).expect("a rota");
    let words =
        ["sheet", "@/none.toml", "rosters/short-staffed.toml", "constraints/temperate.toml", "--out", "@/short.html"];
    let output = anteroom(&words, folder.path());
    assert_eq!(output.status.code(), Some(1), "{}", String::from_utf8_lossy(&output.stderr));
    let html = Html::parse_document(&fs::read_to_string(out).expect("the sheet"));
    let gaps = texts(&html, "tbody.gap").join("\n");
    assert!(gaps.contains("NO ENTRY"), "{gaps}");
    for reason in ["Not:", "not in date", "not today", "A4", "A1", "may go in"] {
        assert!(!text(html.root_element()).contains(reason), "{reason} is on the sheet: {gaps}");
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
    without.night.roster.people[3].own = anteroom::night::PersonalLimits::default();
    assert_eq!(sheet::timeline_svg(&print), sheet::timeline_svg(&self::print(&without)));
    assert!(texts(&parsed(&print), ".card").iter().any(|card| card.contains("No F until 03:50.")));
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

#[test]
fn the_same_input_gives_the_same_bytes() {
    let larch = Larch::new();
    assert_eq!(sheet::html(&print(&larch)), sheet::html(&print(&Larch::new())));
    let folder = tempfile::tempdir().expect("a folder");
    for name in ["a", "b"] {
        let (html, ics) = (format!("@/{name}.html"), format!("@/{name}.ics"));
        assert_eq!(sheet_of(ROTA[0], &["--out", &html, "--calendar", &ics], folder.path()).status.code(), Some(0));
    }
    let bytes = |name: &str| fs::read(folder.path().join(name)).expect("a file");
    assert_eq!(bytes("a.html"), bytes("b.html"));
    assert_eq!(bytes("a.ics"), bytes("b.ics"));
}

#[test]
fn a_rota_with_a_fault_ends_with_three_and_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let rota = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(ROTA[0])).expect("the example");
    fs::write(folder.path().join("bad.toml"), rota.replace("03:50", "03:45")).expect("a rota");
    let output = sheet_of("@/bad.toml", &["--out", "@/bad.html"], folder.path());
    assert_eq!(output.status.code(), Some(3));
    assert!(String::from_utf8_lossy(&output.stdout).contains("checked  FAULTS 3: DO NOT USE"));
    let html = fs::read_to_string(folder.path().join("bad.html")).expect("the sheet");
    assert!(html.contains("FAULTS 3") && !html.contains("checked: 0 faults"));
}

#[test]
fn files_that_are_there_are_kept_and_issues_are_told_apart() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("kept.html"), "mine").expect("a file");
    let refused = |more: &[&str], words: &str| {
        let output = sheet_of(ROTA[0], more, folder.path());
        let error = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{error}");
        assert!(error.contains(words), "{words} is not in: {error}");
    };
    refused(&["--out", "@/kept.html"], "is there already");
    refused(&["--out", "@/new.html", "--replaces", "1"], "replace issue 1");
    refused(&["--out", "@/new.html", "--changed-from", ROTA[0]], "Give --issue 2.");
    refused(&["--calendar", "@/nowhere"], "has no folder");
    refused(&["--out", "@/new.html", "--paper", "b5"], "there is: a4, a3, letter, tabloid");
    refused(&["--parts", "wall"], "--out");
    assert_eq!(fs::read_to_string(folder.path().join("kept.html")).expect("a file"), "mine");
    assert_eq!(fs::read_dir(folder.path()).expect("the folder").count(), 1, "nothing else was written");
}

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

/// 96 people over 24 hours: 48 pairs on 12 lanes.
fn large() -> Larch {
    let mut larch = long_night(48);
    larch.night.roster.shift = Span::new(larch::START, larch::START + Minutes(24 * 60));
    let person = larch.night.roster.people[0].clone();
    let name = |n: usize| format!("{}{}{}", char::from(b'A' + u8::try_from(n / 10).expect("few")), n % 10, "X");
    larch.night.roster.people =
        (0..96).map(|n| Person { id: name(n), on_duty: larch.night.roster.shift, ..person.clone() }).collect();
    for (ix, entry) in larch.rota.entries.iter_mut().enumerate() {
        entry.person = PersonIx(ix);
        entry.observer = Some(PersonIx((ix + 10) % 96));
        entry.assistant = Some(PersonIx((ix + 20) % 96));
        entry.donning_observer = Some(PersonIx((ix + 30) % 96));
    }
    let names = (0..96).map(|n| Stint { person: PersonIx(n), span: Span::new(at(20, 0), at(30, 0)) });
    larch.rota.standby = names.collect();
    larch
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
    larch.rota = anteroom::night::Rota {
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
