//! What is given: the night, the crews, how often people are missing, and from that the list of nights.

use std::fmt::Write as _;

use chrono::NaiveDate;

use crate::cli::args::AbsenceArgs;
use crate::cli::console::Console;
use crate::cli::files::{Given as File, given};
use crate::cli::parts::{NightFiles, Parts, source, told};
use crate::cli::plan::files;
use crate::cli::status::Failure;
use crate::night::{Night, PersonIx};
use crate::read::{self, History};
use crate::show::absence::How;
use crate::staffing::absence::digest::digest;
use crate::staffing::absence::draw::{Chance, Draws};
use crate::staffing::absence::list::{Crew, List, Missing};
use crate::staffing::absence::part::MadeFrom;
use crate::staffing::crew::Question;

/// The most crews of one question: each is drawn and counted by itself.
const MOST_CREWS: u64 = 100;

/// Everything that the work starts from.
pub struct Given {
    /// The night with everybody of every crew there.
    pub night: Night,
    /// The crews, as parts of that roster.
    pub crews: Vec<Crew>,
    /// How often people are missing, for the answer.
    pub how: How,
    /// The nights and the cases among them.
    pub list: List,
    /// What all of it was made from.
    pub made_from: MadeFrom,
    /// Whether the question is an example.
    pub example: bool,
}

/// Reads all files.
pub fn read(
    args: &AbsenceArgs,
    today: NaiveDate,
    parts: &dyn Parts,
    console: &mut Console<'_>,
) -> Result<Given, Failure> {
    let files = files(&args.night, today)?;
    let roster = console.noted(parts.night(&files))?;
    let question = args.question.as_deref().map(given).transpose()?;
    let asked = question.as_ref().map(|file| console.noted(parts.question(file, &roster))).transpose()?;
    let (night, crews) = match &asked {
        None => (roster, vec![Crew { name: "the roster".to_owned(), without: Missing::new() }]),
        Some(asked) => crews(asked, &roster)?,
    };
    let history = args.history.as_deref().map(given).transpose()?;
    let history = history.as_ref().map(|file| console.noted(told(read::history(&source(file))))).transpose()?;
    let chances = chances(&night, history.as_ref(), args, console)?;
    let others = history.as_ref().map(|known| strangers(&night, known).len());
    let how = match (others, args.missing_percent) {
        (Some(others), chance) => How::History { others, chance },
        (None, Some(chance)) => How::Alike(chance),
        (None, None) => return Err(Failure::refused("Give --missing-percent or --history. Nothing was planned.")),
    };
    let list = List::drawn(&night.roster, &crews, &chances, Draws::new(args.seed), args.nights);
    let made_from = made_from(args, &files, question.as_ref(), &night, &chances);
    Ok(Given { night, crews, how, list, made_from, example: asked.is_some_and(|asked| asked.example) })
}

/// The roster with most people of every group, and each crew of the question as a part of it.
fn crews(question: &Question, roster: &Night) -> Result<(Night, Vec<Crew>), Failure> {
    let several = question.tried.iter().any(|tried| tried.values.len() > 1);
    let crews = question.combinations();
    if several || crews > MOST_CREWS {
        return Err(Failure::refused(format!(
            "The question asks about {}. Here only numbers of people are tried, in {MOST_CREWS} crews at most. Nothing \
             was planned. Take one figure for each of the others, or a narrower range.",
            if several { "more than people".to_owned() } else { format!("{crews} crews") }
        )));
    }
    let most = question.groups.iter().map(|group| group.to).collect();
    let night = question.crew(most).night(roster);
    let Some(ids) = question.ids(roster) else {
        return Err(Failure::refused("The question asks about more people than there are IDs. Nothing was planned."));
    };
    let place = |id: &String| night.roster.people.iter().position(|person| person.id == *id).map(PersonIx);
    let places: Vec<Vec<PersonIx>> = ids.iter().map(|group| group.iter().filter_map(place).collect()).collect();
    let named = |counts: &Vec<u32>| {
        let parts = question.groups.iter().zip(counts).map(|(group, count)| format!("{} {}", count, group.id));
        let beyond = places.iter().zip(counts).flat_map(|(group, &count)| group.iter().skip(count as usize));
        Crew { name: parts.collect::<Vec<_>>().join(", "), without: beyond.copied().collect() }
    };
    let crews = question.every_count().iter().map(named).collect();
    Ok((night, crews))
}

/// People who are not in the history.
fn strangers<'n>(night: &'n Night, history: &History) -> Vec<&'n str> {
    let ids = night.roster.people.iter().map(|person| person.id.as_str());
    ids.filter(|id| !history.contains_key(*id)).collect()
}

/// How often each person of the roster is missing, in its order.
fn chances(
    night: &Night,
    history: Option<&History>,
    args: &AbsenceArgs,
    console: &mut Console<'_>,
) -> Result<Vec<Chance>, Failure> {
    let strangers = history.map_or_else(Vec::new, |history| strangers(night, history));
    if !strangers.is_empty() {
        let who = strangers.join(", ");
        if args.missing_percent.is_none() {
            return Err(Failure::refused(format!(
                "Not in the history: {who}. How often they are missing is not guessed. Nothing was planned. Add a row \
                 for each, or give --missing-percent for those who are not in it."
            )));
        }
        console.note(&format!("note: not in the history, taken to be missing as --missing-percent says: {who}."));
    }
    let of = |id: &str| {
        let known = history.and_then(|history| history.get(id));
        known.and_then(|&(missed, shifts)| Chance::new(missed, shifts)).or(args.missing_percent)
    };
    let all: Option<Vec<Chance>> = night.roster.people.iter().map(|person| of(&person.id)).collect();
    all.ok_or_else(|| Failure::refused("Give --missing-percent or --history. Nothing was planned."))
}

/// Everything that decides what a case comes to, and which cases there are, each under a name.
fn made_from(
    args: &AbsenceArgs,
    files: &NightFiles,
    question: Option<&File>,
    night: &Night,
    chances: &[Chance],
) -> MadeFrom {
    let mut shares = String::new();
    for (person, chance) in night.roster.people.iter().zip(chances) {
        // Writing into a String cannot fail.
        let _ = write!(shares, "{} {} {};", person.id, chance.times(), chance.of());
    }
    let mut all = vec![("release".to_owned(), env!("CARGO_PKG_VERSION").to_owned())];
    let files = [
        ("roster", Some(&files.roster)),
        ("limits", Some(&files.limits)),
        ("private limits", files.private.as_ref()),
        ("sign-offs", files.sign_offs.as_ref()),
        ("question", question),
    ];
    let mark = |file: Option<&File>| file.map_or_else(|| "none".to_owned(), |file| digest(&file.bytes));
    all.extend(files.map(|(name, file)| (name.to_owned(), mark(file))));
    all.push(("how often people are missing".to_owned(), digest(shares.as_bytes())));
    let numbers = [("nights", u64::from(args.nights)), ("seed", args.seed), ("effort", args.effort)];
    all.extend(numbers.map(|(name, number)| (name.to_owned(), number.to_string())));
    all
}
