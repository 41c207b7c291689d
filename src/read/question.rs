//! A question about crews: from its file to the crews it asks about.

use crate::night::{EnsembleIx, Group, Lever, Minutes, Night, Person, Question, Relief, Role, SignOff, Tried};

use super::finding::Mistakes;
use super::keys;
use super::mistake::{Advice, CrewMistake, Mistake};
use super::names::Names;
use super::people::role;
use super::record::Record;
use super::roster::{MOST_PEOPLE, span};
use super::shape::{self, Shaper};
use super::source::{File, Source};
use super::time::Wall;

/// The most crews that one question may ask about.
const MOST_CREWS: u64 = 2_000;

/// Reads a question that is asked of a night.
pub(super) fn read(source: &Source, night: &Night, out: &mut Mistakes) -> Option<Question> {
    let table = shape::parse(File::Question, source, out);
    let wall = Wall { zone: night.roster.clock.zone(), shift: None };
    let record = Shaper { file: File::Question, root: &keys::QUESTION, wall }.shape(&table, out);
    if record.flag("example") == Some(true) {
        out.add(record.spot_of("example"), Mistake::Advice(Advice::Example { noun: "question" }));
    }
    check_head_count(&record, out);
    let groups = groups(&record, night, out);
    let tried = [
        lever(&record, "lanes", Some(Lever::Lanes), out),
        lever(&record, "max_inside", Some(Lever::MaxInside), out),
        relief(&record, out),
        longest_wear(&record, night, out),
        units(&record, night, out),
    ];
    let question = Question {
        name: record.name("name")?,
        example: record.flag("example").unwrap_or(false),
        keep_people: record.flag("keep_people")?,
        groups: groups?,
        tried: tried.into_iter().flatten().collect(),
    };
    check_size(&record, &question, night, out);
    Some(question)
}

/// A head count says nothing, alone or beside groups.
fn check_head_count(record: &Record, out: &mut Mistakes) {
    if record.has("staff") {
        let staff = record.whole("staff").map_or(0, |staff| staff.value);
        out.add(record.spot_of("staff"), Mistake::Crew(CrewMistake::HeadCount { staff }));
    } else if !record.has("group") {
        out.add(record.spot, Mistake::Crew(CrewMistake::NoGroup));
    }
}

fn check_size(record: &Record, question: &Question, night: &Night, out: &mut Mistakes) {
    let combinations = question.combinations();
    if combinations > MOST_CREWS {
        let many = CrewMistake::TooMany { combinations, most: MOST_CREWS };
        out.add(record.spot, Mistake::Crew(many));
    }
    let kept = if question.keep_people { night.roster.people.len() } else { 0 };
    let new = question.groups.iter().map(|group| u64::from(group.to)).sum::<u64>();
    let people = new.saturating_add(u64::try_from(kept).unwrap_or(u64::MAX));
    if people > u64::try_from(MOST_PEOPLE).unwrap_or(u64::MAX) {
        out.add(record.spot, Mistake::Crew(CrewMistake::TooManyPeople { people, most: MOST_PEOPLE }));
    }
}

fn groups(record: &Record, night: &Night, out: &mut Mistakes) -> Option<Vec<Group>> {
    // Not lazily: every group is looked at even after a wrong one.
    let _unique = Names::of(record, "group", "in the question", out);
    let people = night.roster.people.iter().map(|person| person.id.as_str());
    let people = Names::known("person", "on the roster", people);
    let all: Vec<_> = record.tables("group").iter().map(|table| group(table, night, &people, out)).collect();
    all.into_iter().collect()
}

fn group(table: &Record, night: &Night, people: &Names, out: &mut Mistakes) -> Option<Group> {
    let id = table.name("id");
    let named = id.clone().unwrap_or_else(|| "?".to_owned());
    let roles = roles(table, &named, out);
    let count = count(table, &named, out);
    let model = people.require_in(table, "like", out).map(|place| &night.roster.people[place]);
    let one = model.map(|model| one(table, model, roles.as_deref().unwrap_or(&[]), &named, night, out));
    let (from, to) = count?;
    Some(Group { id: id?, roles: roles?, from, to, one: one?? })
}

fn roles(table: &Record, group: &str, out: &mut Mistakes) -> Option<Vec<Role>> {
    let words = table.words("roles");
    if !table.has("roles") || words.as_ref().is_some_and(Vec::is_empty) {
        out.add(table.spot_of("roles"), Mistake::Crew(CrewMistake::NoRoles { group: group.to_owned() }));
        return None;
    }
    let roles: Vec<Role> = words?.into_iter().filter_map(|word| role(word.value)).collect();
    if roles.contains(&Role::Preceptor) && !roles.contains(&Role::Entrant) {
        let alone = CrewMistake::PreceptorNotEntrant { group: group.to_owned() };
        out.add(table.spot_of("roles"), Mistake::Crew(alone));
    }
    Some(roles)
}

/// `people`, or `from` and `to`; never both.
fn count(table: &Record, group: &str, out: &mut Mistakes) -> Option<(u32, u32)> {
    let (people, from, to) = (table.has("people"), table.has("from"), table.has("to"));
    if people == (from || to) || from != to {
        out.add(table.spot, Mistake::Crew(CrewMistake::HowMany { group: group.to_owned() }));
        return None;
    }
    if people {
        return table.count("people").map(|count| (count, count));
    }
    let (least, most) = (table.count("from")?, table.count("to")?);
    if least > most {
        let backwards = CrewMistake::Backwards { group: group.to_owned(), from: least, to: most };
        out.add(table.spot_of("to"), Mistake::Crew(backwards));
        return None;
    }
    Some((least, most))
}

/// One of the group: the model with these roles and times on duty.
fn one(
    table: &Record,
    model: &Person,
    roles: &[Role],
    group: &str,
    night: &Night,
    out: &mut Mistakes,
) -> Option<Person> {
    let mut person = Group::like(model, roles);
    if table.has("valid_through") {
        let valid_through = table.day("valid_through")?.value;
        let last_done = Some(valid_through);
        person.sign_offs = roles.iter().map(|&role| SignOff { role, valid_through, last_done }).collect();
    }
    for &role in roles.iter().filter(|&&role| person.signed_through(role).is_none()) {
        let (group, like) = (group.to_owned(), model.id.clone());
        out.add(table.spot_of("like"), Mistake::Crew(CrewMistake::LikeWithoutRole { group, like, role }));
    }
    match (table.has("on_duty"), table.has("off_duty")) {
        (false, false) => {}
        (true, true) => person.on_duty = span(table, ("on_duty", "off_duty"), night.roster.clock, out)?,
        _ => {
            out.add(table.spot, Mistake::Crew(CrewMistake::HalfDuty { group: group.to_owned() }));
            return None;
        }
    }
    Some(person)
}

/// The figures of a list in rising order; nothing where the key is absent or what it is about is unknown.
fn lever(record: &Record, key: &'static str, lever: Option<Lever>, out: &mut Mistakes) -> Option<Tried> {
    let values = record.wholes(key)?;
    if values.is_empty() {
        out.add(record.spot_of(key), Mistake::Crew(CrewMistake::NothingToTry { key }));
        return None;
    }
    let mut values: Vec<u32> = values.iter().filter_map(|at| u32::try_from(at.value).ok()).collect();
    values.sort_unstable();
    Some(Tried { lever: lever?, values })
}

/// Relief styles, in the order of [`Relief::ALL`] whatever the order of the file.
fn relief(record: &Record, out: &mut Mistakes) -> Option<Tried> {
    let words = record.words("relief")?;
    if words.is_empty() {
        out.add(record.spot_of("relief"), Mistake::Crew(CrewMistake::NothingToTry { key: "relief" }));
        return None;
    }
    let asked = |relief: &Relief| words.iter().any(|word| word.value == relief.word());
    let values = (0..).zip(&Relief::ALL).filter(|(_, relief)| asked(relief)).map(|(place, _)| place).collect();
    Some(Tried { lever: Lever::Relief, values })
}

fn longest_wear(record: &Record, night: &Night, out: &mut Mistakes) -> Option<Tried> {
    let table = record.table("longest_wear")?;
    let ensembles = night.limits.ensembles.iter().map(|ensemble| ensemble.id.as_str());
    let ensembles = Names::known("ensemble", "in the constraint set", ensembles);
    let ensemble = ensembles.require_in(table, "ensemble", out).map(EnsembleIx);
    if let Some(worn) = ensemble {
        let least = shortest_wear(night, worn);
        for at in table.wholes("max_wear_min").unwrap_or_default() {
            if at.value < least.0 {
                let short = CrewMistake::WearTooShort { max: Minutes(at.value), least };
                out.add(at.spot, Mistake::Crew(short));
            }
        }
    }
    lever(table, "max_wear_min", ensemble.map(Lever::MaxWear), out)
}

/// The wear of the shortest use of an ensemble, by the unit's other figures.
fn shortest_wear(night: &Night, worn: EnsembleIx) -> Minutes {
    let (limits, ensemble) = (&night.limits, night.limits.ensemble(worn));
    let dressed = limits.donning_before_wear(worn).map_or(Minutes::ZERO, |before| ensemble.donning - before);
    dressed + limits.min_stay + ensemble.removal + ensemble.margin
}

fn units(record: &Record, night: &Night, out: &mut Mistakes) -> Option<Tried> {
    let table = record.table("units")?;
    let stock = &night.roster.respirators;
    let models = Names::known("model", "on the roster", stock.iter().map(|row| row.respirator.as_str()));
    let known = models.require_in(table, "model", out).is_some();
    let model = table.name("model").filter(|_| known);
    let here = stock.iter().filter(|row| Some(&row.respirator) == model.as_ref());
    let sizes = Names::known("size", "of this model on the roster", here.map(|row| row.size.as_str()));
    let size = if known { sizes.require_in(table, "size", out).and_then(|_| table.name("size")) } else { None };
    let units = model.zip(size).map(|(model, size)| Lever::Respirators { model, size });
    lever(table, "respirators", units, out)
}
