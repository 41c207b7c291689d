//! Questions as people write them, right and wrong, and the exact words they are told.
//!
//! Each case changes a right file in one place. The words are kept in `tests/fixtures/input/question.txt`; run with
//! `ANTEROOM_GOLDEN=write` to write them anew.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use anteroom::night::{EnsembleIx, Lever, Minutes, Night, Question, Relief, Role};
use anteroom::read::{self, Source};
use chrono::NaiveDate;

fn fixture(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/input").join(name)
}

fn text(name: &str) -> String {
    fs::read_to_string(fixture(name)).expect("base file")
}

fn night() -> Night {
    let source = |name: &str| Source::new(name, text(name).as_bytes());
    let today = NaiveDate::from_ymd_opt(2031, 3, 1).expect("a day");
    read::night(&source("roster.toml"), &source("limits.toml"), None, today).expect("right").0
}

fn read_as(text: &str) -> Result<Question, String> {
    let read = read::question(&Source::new("question.toml", text.as_bytes()), &night());
    read.map(|(question, _)| question).map_err(|findings| findings.render())
}

#[test]
fn what_is_written_is_what_is_asked() {
    let question = read_as(&text("question.toml")).unwrap_or_else(|told| panic!("{told}"));
    let [entrants, watchers] = question.groups.as_slice() else { panic!("two groups") };
    assert_eq!((entrants.from, entrants.to, watchers.from, watchers.to), (0, 2, 1, 1));
    assert_eq!(watchers.roles, [Role::DonningObserver, Role::DoffingObserver]);
    assert_eq!(entrants.one.signed_through(Role::Entrant), NaiveDate::from_ymd_opt(2031, 9, 30));
    assert_eq!(entrants.one.signed_through(Role::Assistant), None);
    assert_eq!(watchers.one.signed_through(Role::DoffingObserver), NaiveDate::from_ymd_opt(2031, 12, 31));
    let levers: Vec<_> = question.tried.iter().map(|tried| (tried.lever.clone(), tried.values.clone())).collect();
    let units = Lever::Respirators { model: "RA".into(), size: "M".into() };
    assert_eq!(
        levers,
        [(Lever::Lanes, vec![1, 2]), (Lever::MaxWear(EnsembleIx(0)), vec![120, 180]), (units, vec![2, 4])]
    );
    assert_eq!(question.combinations(), 3 * 8);
}

#[test]
fn a_crew_is_put_beside_the_people_or_in_their_place() {
    let (night, mut question) = (night(), read_as(&text("question.toml")).expect("right"));
    let mut crew = question.crew(vec![2, 1]);
    crew.settings = vec![2, 120, 4];
    let with = crew.night(&night);
    let ids: BTreeSet<&str> = with.roster.people.iter().map(|person| person.id.as_str()).collect();
    assert_eq!(ids, BTreeSet::from(["KB", "MR", "TN", "E1", "E2", "N1"]));
    assert_eq!((with.roster.lanes.len(), with.limits.ensembles[0].max_wear), (2, Minutes(120)));
    assert_eq!((with.roster.lanes[0].closures.len(), with.roster.lanes[1].closures.len()), (1, 0));
    assert_eq!(with.roster.respirator_units("RA", Some("M"), night.roster.shift.from), 4);
    assert_eq!(with.roster.apart.len(), 1);
    // Whoever is new is rested and has no limit of their own, whatever the one they are like has.
    let new = with.roster.people.last().expect("somebody");
    assert!(new.enter_today && new.last_removal.is_none() && new.worn_before == Minutes::ZERO);

    question.keep_people = false;
    let alone = question.crew(vec![1, 0]).night(&night);
    let ids: Vec<&str> = alone.roster.people.iter().map(|person| person.id.as_str()).collect();
    assert_eq!(ids, ["E1"]);
    assert!(alone.roster.apart.is_empty(), "nothing names those who are gone");
    assert_eq!(alone.roster.presence, night.roster.presence);
}

#[test]
fn relief_styles_are_tried_in_one_order_whatever_the_file_says() {
    let told = text("question.toml").replace("lanes = [1, 2]", "relief = [\"one-by-one\", \"in-pairs\"]");
    let question = read_as(&told).unwrap_or_else(|told| panic!("{told}"));
    assert_eq!(question.tried[0], anteroom::night::Tried { lever: Lever::Relief, values: vec![0, 1] });
    let styles = [0, 1].map(|value| {
        let mut crew = question.crew(vec![0, 1]);
        crew.settings[0] = value;
        crew.night(&night()).limits.relief
    });
    assert_eq!(styles, [Relief::InPairs, Relief::OneByOne]);
}

#[test]
fn new_ids_look_like_no_other() {
    let (mut night, mut question) = (night(), read_as(&text("question.toml")).expect("right"));
    for (person, id) in night.roster.people.iter_mut().zip(["E1", "ES", "N1"]) {
        id.clone_into(&mut person.id);
    }
    question.groups[0].to = 120;
    let ids = question.ids(&night).expect("enough ids").concat();
    // E5 would look like ES.
    assert_eq!((ids[0].as_str(), ids[2].as_str(), ids[3].as_str()), ("E2", "E4", "E6"));
    let looks: BTreeSet<String> = ids.iter().map(|id| anteroom::night::looks(id)).collect();
    assert_eq!(looks.len(), ids.len());
    assert!(ids.iter().all(|id| (2..=3).contains(&id.len())), "{ids:?}");
}

/// What is wrong, and one change to the right file; an empty `from` replaces the whole file.
const CASES: &[(&str, &str, &str)] = &[
    ("a head count without roles", "lanes = [1, 2]", "staff = 8"),
    ("a head count alone", "", "format = 1\nname = \"q\"\nkeep_people = true\nstaff = 8\n"),
    ("no group", "", "format = 1\nname = \"q\"\nkeep_people = true\n"),
    ("a group without roles", "roles = [\"entrant\"]\n", ""),
    ("a group with no role in the list", "roles = [\"entrant\"]", "roles = []"),
    ("a word that is no role", "roles = [\"entrant\"]", "roles = [\"nurse\"]"),
    ("preceptors who are not entrants", "roles = [\"entrant\"]", "roles = [\"preceptor\"]"),
    ("a range backwards", "from = 0\nto = 2", "from = 3\nto = 2"),
    ("a range without its end", "from = 0\nto = 2", "from = 0"),
    ("a number and a range", "people = 1", "people = 1\nfrom = 1\nto = 2"),
    ("below nobody", "from = 0", "from = -1"),
    ("like somebody who is not there", "like = \"KB\"", "like = \"KX\""),
    ("like somebody without the role", "valid_through = \"2031-12-31\"\n", ""),
    ("only the start of duty", "people = 1", "people = 1\non_duty = \"2031-03-04T19:00\""),
    (
        "duty that ends before it starts",
        "people = 1",
        "people = 1\non_duty = \"2031-03-05T07:00\"\noff_duty = \"2031-03-04T19:00\"",
    ),
    ("two groups of one name", "id = \"watchers\"", "id = \"entrants\""),
    ("no number of lanes", "lanes = [1, 2]", "lanes = []"),
    ("a number of lanes twice", "lanes = [1, 2]", "lanes = [1, 1]"),
    ("lanes in words", "lanes = [1, 2]", "lanes = [\"one\"]"),
    ("no relief style", "lanes = [1, 2]", "relief = []"),
    ("a relief style that is none", "lanes = [1, 2]", "relief = [\"in-pairs\", \"in pairs\"]"),
    ("a relief style twice", "lanes = [1, 2]", "relief = [\"either\", \"either\"]"),
    ("an ensemble that is not there", "ensemble = \"F\"", "ensemble = \"G\""),
    ("a longest wear that nobody could wear", "max_wear_min = [120, 180]", "max_wear_min = [20, 180]"),
    ("a respirator that is not there", "model = \"RA\"", "model = \"RX\""),
    ("a size that is not there", "size = \"M\"", "size = \"XL\""),
    ("no respirators at all", "respirators = [2, 4]", "respirators = [0]"),
    ("too many crews", "to = 2", "to = 300"),
    ("too many people", "people = 1", "people = 600"),
    ("a misspelt key", "keep_people", "keep_poeple"),
];

#[test]
fn every_mistake_is_told_in_these_words() {
    let base = text("question.toml");
    let told = CASES.iter().map(|(name, from, to)| {
        assert!(from.is_empty() || base.contains(from), "the base has no {from:?}");
        let changed = if from.is_empty() { (*to).to_owned() } else { base.replacen(from, to, 1) };
        format!("=== {name}\n{}\n", read_as(&changed).expect_err(name))
    });
    let told: String = told.collect();
    let path = fixture("question.txt");
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        fs::write(&path, &told).expect("written");
    }
    assert!(fs::read_to_string(&path).unwrap_or_default() == told, "{} differs; now:\n{told}", path.display());
    assert!(told.lines().all(|line| line.chars().count() <= 80));
    // Trade page, section 4, message 15, word for word.
    let said = told.replace("\n  ", " ");
    assert!(said.contains("\"staff = 8\" does not say who may observe. Give counts per role, with overlaps."));
}

#[test]
fn any_bytes_are_told_of_and_none_panics() {
    let base = text("question.toml");
    for at in 0..base.len() {
        for bad in [&b"\xff"[..], b"]", b"\"", b"-", b"=99999999999"] {
            let bytes = [&base.as_bytes()[..at], bad, &base.as_bytes()[at..]].concat();
            let read = read::question(&Source::new("question.toml", &bytes), &night_once());
            if let Err(findings) = read {
                assert!(findings.errors() > 0 && !findings.render().contains("[not-read]"), "{}", findings.render());
            }
        }
    }
}

fn night_once() -> Night {
    use std::sync::OnceLock;
    static NIGHT: OnceLock<Night> = OnceLock::new();
    NIGHT.get_or_init(night).clone()
}
