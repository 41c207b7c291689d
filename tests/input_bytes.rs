//! Whatever the bytes, reading ends soon, does not panic, and is never silent about a failure.

use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use anteroom::night::Night;
use anteroom::read::{self, Reading, Severity, Source};
use chrono::NaiveDate;
use proptest::prelude::*;

fn here(path: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn base(name: &str) -> Vec<u8> {
    fs::read(here("tests/fixtures/input").join(name)).expect("base file")
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2031, 3, 1).expect("a day")
}

fn night(roster: &[u8], limits: &[u8], private: &[u8]) -> Reading<Night> {
    let private = Source::new("private.toml", private);
    read::night(&Source::new("roster.toml", roster), &Source::new("limits.toml", limits), Some(&private), today())
}

fn base_night() -> Night {
    night(&base("roster.toml"), &base("limits.toml"), &base("private.toml")).expect("base files are right").0
}

/// A refusal says at least one thing, and everything can be put into words.
fn is_told<T>(reading: &Reading<T>) {
    match reading {
        Ok((_, findings)) => assert!(findings.iter().all(|f| f.severity != Severity::Error), "{}", findings.render()),
        Err(findings) => assert!(findings.errors() > 0 && !findings.render().is_empty()),
    }
}

/// The same file in every place, so that each reader sees every kind of wrong bytes.
fn read_everywhere(bytes: &[u8], base_night: &Night) {
    is_told(&night(bytes, &base("limits.toml"), b"format = 1\n"));
    is_told(&night(&base("roster.toml"), bytes, b"format = 1\n"));
    is_told(&night(&base("roster.toml"), &base("limits.toml"), bytes));
    is_told(&read::rota(&Source::new("rota.toml", bytes), base_night));
}

/// What a hand that slips does to a file.
#[derive(Clone, Debug)]
enum Slip {
    Cut(usize, usize),
    Insert(usize, String),
    Double(usize, usize),
    Byte(usize, u8),
}

fn slip() -> impl Strategy<Value = Slip> {
    let pieces = [
        "\"",
        "[",
        "]",
        "{",
        "}",
        "=",
        "\n",
        "'",
        "\"\"\"",
        ".",
        "-",
        "#",
        "0",
        "99999999999999999999",
        "1e9",
        "\\u{",
        "\t",
        "ラ",
        "none",
        "\u{202e}",
        "24:00",
        "2031-03-30T01:30",
        "[[person]]\n",
        "[[entry]]\n",
        "[[ensemble]]\n",
        "\0",
    ];
    prop_oneof![
        (any::<usize>(), 0..60_usize).prop_map(|(at, length)| Slip::Cut(at, length)),
        (any::<usize>(), prop::sample::select(pieces.to_vec()))
            .prop_map(|(at, text)| Slip::Insert(at, text.to_owned())),
        (any::<usize>(), 0..400_usize).prop_map(|(at, length)| Slip::Double(at, length)),
        (any::<usize>(), any::<u8>()).prop_map(|(at, byte)| Slip::Byte(at, byte)),
    ]
}

fn slipped(mut bytes: Vec<u8>, slips: &[Slip]) -> Vec<u8> {
    for slip in slips {
        let length = bytes.len().max(1);
        match slip {
            Slip::Cut(at, count) => {
                drop(bytes.drain((at % length).min(bytes.len())..(at % length + count).min(bytes.len())));
            }
            Slip::Insert(at, text) => drop(bytes.splice(at % length..at % length, text.bytes())),
            Slip::Double(at, count) => {
                let piece = bytes[(at % length).min(bytes.len())..(at % length + count).min(bytes.len())].to_vec();
                drop(bytes.splice(at % length..at % length, piece));
            }
            Slip::Byte(at, byte) => bytes[at % length] = *byte,
        }
        if bytes.is_empty() {
            bytes.push(b'\n');
        }
    }
    bytes
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        read_everywhere(&bytes, &base_night());
    }

    #[test]
    fn any_text_that_looks_like_toml(text in "([a-z_.]{1,9} ?= ?([0-9:T-]{1,16}|\"[^\"]{0,9}\"|\\[[^\\]]{0,9}\\]|\\{[a-z=, 1]{0,9}\\})|\\[{1,2}[a-z.]{1,8}\\]{1,2}|[ -~]{0,9})(\n|, ?)".prop_flat_map(|_| prop::collection::vec("([a-z_.]{1,9} ?= ?([0-9:T-]{1,16}|\"[^\"]{0,9}\"|\\[[^\\]]{0,9}\\])|\\[{1,2}[a-z.]{1,8}\\]{1,2}|[ -~]{0,9})\n", 0..20)).prop_map(|lines| lines.concat())) {
        read_everywhere(text.as_bytes(), &base_night());
    }

    #[test]
    fn files_in_which_a_hand_slipped(slips in prop::collection::vec(slip(), 1..6)) {
        let (roster, limits) = (base("roster.toml"), base("limits.toml"));
        is_told(&night(&slipped(roster.clone(), &slips), &limits, b"format = 1\n"));
        is_told(&night(&roster, &slipped(limits.clone(), &slips), b"format = 1\n"));
        is_told(&night(&roster, &limits, &slipped(base("private.toml"), &slips)));
        is_told(&read::rota(&Source::new("rota.toml", &slipped(base("rota.toml"), &slips)), &base_night()));
    }
}

/// So many ensembles that their rest matrix would fill the memory.
fn many_ensembles() -> Vec<u8> {
    let text = String::from_utf8(base("limits.toml")).expect("text");
    let one = text.split("[[ensemble]]").nth(2).and_then(|rest| rest.split("[[rest]]").next()).expect("an ensemble");
    let one = one.split('#').next().unwrap_or(one);
    let each = |n: usize| format!("[[ensemble]]{}", one.replace("\"D\"", &format!("\"E{n}\"")));
    (0..2_000).map(each).collect::<Vec<_>>().concat().into_bytes()
}

/// Files of the largest size that is read, each built to be slow.
#[test]
fn large_and_hostile_files_end_soon() {
    let fill = |piece: &str| piece.repeat(read::MOST_BYTES / piece.len()).into_bytes();
    let counted = |piece: fn(usize) -> String| (0..20_000).map(piece).collect::<String>().into_bytes();
    let files = [
        fill("]\n"),
        fill("]"),
        fill("["),
        fill("[["),
        fill("{a="),
        fill("a.b.c.d.e=1\n"),
        fill("a=1\n"),
        fill("[a]\n"),
        fill("[[person]]\n"),
        fill("[[person]]\nid=1\n"),
        fill("[[a.b]]\n"),
        fill("a."),
        fill("\"\"\"\n"),
        fill("\u{1}"),
        fill("ラ"),
        fill("\\u"),
        fill("'"),
        fill("[[entry]]\nperson=\"KX\"\n"),
        fill("[[rest]]\nafter=\"F\"\n"),
        fill("[[ensemble]]\nid=\"A\"\n"),
        fill("[[limit]]\n"),
        [base("limits.toml"), many_ensembles()].concat(),
        [b"x = [".to_vec(), fill("1,")].concat()[..read::MOST_BYTES].to_vec(),
        [b"skills = [".to_vec(), fill("\"a\",")].concat()[..read::MOST_BYTES].to_vec(),
        counted(|n| format!("max_wear_mim{n} = 3\n")),
        counted(|n| format!("k{n}.a.b.c = 3\n")),
        counted(|n| format!("[[ensemble]]\nid=\"E{n}\"\nworn_in=\"room\"\n")),
        counted(|n| format!("[[presence]]\nroom=\"{n}\"\n")),
        counted(|n| format!("[[entry]]\nobserver=\"X{n}\"\n")),
        counted(|n| format!("[[lane]]\nid=\"{n}\"\n")),
    ];
    let base_night = base_night();
    for bytes in files {
        let started = Instant::now();
        is_told(&night(&bytes, &base("limits.toml"), b"format = 1\n"));
        is_told(&night(&base("roster.toml"), &bytes, b"format = 1\n"));
        is_told(&read::rota(&Source::new("rota.toml", &bytes), &base_night));
        let shown = String::from_utf8_lossy(&bytes[..60]).into_owned();
        assert!(started.elapsed() < Duration::from_secs(15), "{shown:?} took {:?}", started.elapsed());
    }
}

/// `constraints/KEYS.md` is what the program writes, so that it cannot drift from what is read.
#[test]
fn the_reference_page_is_the_list_that_the_reader_uses() {
    let page = read::key_reference();
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        fs::write(here("constraints/KEYS.md"), &page).expect("written");
    }
    assert!(fs::read_to_string(here("constraints/KEYS.md")).expect("page") == page, "write it anew");
}
