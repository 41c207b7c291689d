//! Sign-offs and fit tests from a spreadsheet, in the place of what the roster says.
//!
//! Kind by kind: a person with sign-offs in the file has those and no others, whatever the roster says; the same for fit
//! tests. Of a person, or a kind, that the file does not have, the roster's stay. Unknown is not signed off.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::night::{ConstraintSet, FitTest, PersonIx, Role, Roster, SignOff};

use super::csv_text::{self, Field, Slip};
use super::finding::Mistakes;
use super::keys;
use super::mistake::{Mistake, PersonMistake, SheetMistake, SignOffAdvice, SignOffMistake};
use super::names::Names;
use super::near;
use super::people::role;
use super::shape;
use super::source::{File, Source, Spot};
use super::time;

/// The most people that a note names.
const MOST_NAMED: usize = 12;

/// Reads the file and puts what it says onto the people of the roster.
pub(super) fn read(
    source: &Source,
    people: &Names,
    roster: Option<&mut Roster>,
    set: Option<&ConstraintSet>,
    out: &mut Mistakes,
) {
    if !shape::is_readable(File::SignOffs, source, out) {
        return;
    }
    let (rows, slips) = csv_text::rows(source.text());
    slips.into_iter().for_each(|slip| add_slip(slip, out));
    let Some((headings, rows)) = rows.split_first() else {
        out.add(whole(), Mistake::Sheet(SheetMistake::Empty));
        return;
    };
    let Some(columns) = Columns::of(headings, out) else { return };
    if rows.is_empty() {
        out.add(whole(), Mistake::Sheet(SheetMistake::Empty));
    }
    let night = roster.as_ref().map(|roster| roster.clock.date(roster.shift.from));
    let mut found = Found { respirators: set.map(respirators), night, ..Found::default() };
    found.says_done = columns.places.contains_key("last_done");
    for row in rows {
        found.add(&columns, row, people, out);
    }
    found.check_preceptors(out);
    // What is taken from where is worth saying only of files that can be used.
    if let Some(roster) = roster.filter(|_| !out.any_error()) {
        found.put_onto(roster, people, out);
    }
}

fn respirators(set: &ConstraintSet) -> Vec<String> {
    set.ensembles.iter().flat_map(|ensemble| ensemble.respirators.clone()).collect()
}

/// What concerns the file as a whole.
const fn whole() -> Spot {
    Spot { file: File::SignOffs, from: 0, to: 0 }
}

fn spot(field: &Field) -> Spot {
    Spot { file: File::SignOffs, from: field.from, to: field.to }
}

fn add_slip(slip: Slip, out: &mut Mistakes) {
    let (at, mistake) = match slip {
        Slip::NotClosed(at) => (at, SheetMistake::NotClosed),
        Slip::AfterQuote(at) => (at, SheetMistake::AfterQuote),
    };
    out.add(Spot { file: File::SignOffs, from: at, to: at + 1 }, Mistake::Sheet(mistake));
}

/// Which column holds what.
struct Columns {
    places: BTreeMap<&'static str, usize>,
    count: usize,
}

impl Columns {
    /// `None` when a column that every row needs is missing.
    fn of(headings: &[Field], out: &mut Mistakes) -> Option<Self> {
        let mut places = BTreeMap::new();
        for (place, heading) in headings.iter().enumerate().filter(|(_, heading)| !heading.text.is_empty()) {
            let name = heading.text.to_lowercase();
            let Some(key) = keys::SIGN_OFFS.find(&name) else {
                let nearest = near::key(&name, &keys::SIGN_OFFS);
                let unknown = SheetMistake::UnknownColumn { heading: heading.text.clone(), nearest };
                out.add(spot(heading), Mistake::Sheet(unknown));
                continue;
            };
            if places.insert(key.name, place).is_some() {
                out.add(spot(heading), Mistake::Sheet(SheetMistake::ColumnTwice { heading: key.name }));
            }
        }
        let needed = ["id", "kind", "valid_through"];
        let missing: Vec<_> = needed.into_iter().filter(|name| !places.contains_key(name)).collect();
        for heading in &missing {
            let first = headings.first().map_or_else(whole, spot);
            out.add(first, Mistake::Sheet(SheetMistake::NoColumn { heading }));
        }
        missing.is_empty().then_some(Self { places, count: headings.len() })
    }
}

/// One row as its columns have it.
struct Row<'a> {
    columns: &'a Columns,
    fields: &'a [Field],
}

impl Row<'_> {
    /// The field of a column, if anything is in it.
    fn field(&self, heading: &str) -> Option<&Field> {
        self.fields.get(*self.columns.places.get(heading)?).filter(|field| !field.text.is_empty())
    }

    /// A place to mark where a field is missing: the first thing in the row.
    fn start(&self) -> Spot {
        self.fields.iter().find(|field| !field.text.is_empty()).map_or_else(whole, spot)
    }
}

/// What a person holds of one role or respirator: its last day, where it was told.
type Until = Option<NaiveDate>;

/// Everything told of one person, each with its last day and its place.
type Told<K> = BTreeMap<K, (Until, Spot)>;

/// What the file says, by person.
#[derive(Default)]
struct Found {
    signed: BTreeMap<String, Told<Role>>,
    /// By model and size.
    fitted: BTreeMap<String, Told<(String, String)>>,
    /// Where each person is first named.
    first: BTreeMap<String, Spot>,
    /// The models that the unit's ensembles are worn with, where the limits could be read.
    respirators: Option<Vec<String>>,
    /// The day on which the shift starts, where the roster could be read.
    night: Option<NaiveDate>,
    /// When each role was last done, by person.
    done: BTreeMap<(String, Role), NaiveDate>,
    /// Whether the file has a column for that.
    says_done: bool,
}

impl Found {
    fn add(&mut self, columns: &Columns, fields: &[Field], people: &Names, out: &mut Mistakes) {
        let row = Row { columns, fields };
        if let Some(more) = fields.get(columns.count..).and_then(|rest| rest.iter().find(|f| !f.text.is_empty())) {
            out.add(spot(more), Mistake::Sheet(SheetMistake::NoHeading));
        }
        let Some(id) = row.field("id") else {
            out.add(row.start(), Mistake::Sheet(SheetMistake::NoPerson));
            return;
        };
        self.first.entry(id.text.clone()).or_insert_with(|| spot(id));
        let until = day(&row, "valid_through", out);
        match row.field("kind").map(|kind| (kind, kind.text.to_lowercase())) {
            Some((_, kind)) if kind == keys::SIGN_OFF => self.add_sign_off(id, &row, until, people, out),
            Some((_, kind)) if kind == keys::FIT_TEST => self.add_fit_test(id, &row, until, people, out),
            found => {
                let (at, text) =
                    found.map_or_else(|| (row.start(), String::new()), |(kind, _)| (spot(kind), kind.text.clone()));
                let nearest = near::word(&text, keys::KINDS.iter().copied());
                out.add(at, Mistake::Sheet(SheetMistake::Kind { text, nearest }));
            }
        }
    }

    fn add_sign_off(&mut self, id: &Field, row: &Row<'_>, until: Day, people: &Names, out: &mut Mistakes) {
        let person = id.text.clone();
        not_of_this_kind(row, keys::SIGN_OFF, &["respirator", "size"], out);
        let Some(word) = row.field("role") else {
            out.add(row.start(), Mistake::SignOff(SignOffMistake::NoRole { person }));
            return;
        };
        let Some(role) = role(&word.text.to_lowercase()) else {
            let nearest = near::word(&word.text.to_lowercase(), Role::ALL.map(Role::word).into_iter());
            out.add(spot(word), Mistake::SignOff(SignOffMistake::UnknownRole { text: word.text.clone(), nearest }));
            return;
        };
        let done = self.done(row, out);
        self.done.extend(done.map(|done| ((person.clone(), role), done)));
        let Day::Told(until, at) = until else { return };
        if until.is_none() && people.find(&person).is_some() {
            let unknown = SignOffAdvice::UnknownDay { person: person.clone(), what: role.word().replace('-', " ") };
            out.add(at, Mistake::SignOffAdvice(unknown));
        }
        let held = self.signed.entry(person.clone()).or_default();
        if let Some((_, first)) = held.insert(role, (until, spot(word))) {
            let what = role.word().to_owned();
            out.add_with(spot(word), first, Mistake::SignOff(SignOffMistake::Twice { person, what }));
        }
    }

    /// The day on which the role of a row was last done; `None` where it is not known, or no day.
    fn done(&self, row: &Row<'_>, out: &mut Mistakes) -> Option<NaiveDate> {
        let Day::Told(Some(done), at) = day(row, "last_done", out) else { return None };
        match self.night.filter(|&night| done > night) {
            None => Some(done),
            Some(night) => {
                out.add(at, Mistake::Person(PersonMistake::DoneToCome { done, night }));
                None
            }
        }
    }

    fn add_fit_test(&mut self, id: &Field, row: &Row<'_>, until: Day, people: &Names, out: &mut Mistakes) {
        let person = id.text.clone();
        not_of_this_kind(row, keys::FIT_TEST, &["role", "last_done"], out);
        let (model, size) = (row.field("respirator"), row.field("size"));
        let (Some(model), Some(size)) = (model, size) else {
            let missing = if model.is_none() { "respirator" } else { "size" };
            out.add(row.start(), Mistake::SignOff(SignOffMistake::FitTestWithout { person, missing }));
            return;
        };
        let known = self.respirators.as_ref().filter(|known| !known.contains(&model.text));
        if let Some(known) = known {
            let nearest = near::word(&model.text, known.iter().map(String::as_str)).map(str::to_owned);
            let other = SignOffAdvice::OtherRespirator { model: model.text.clone(), nearest };
            out.add(spot(model), Mistake::SignOffAdvice(other));
        }
        let Day::Told(until, at) = until else { return };
        let what = format!("{} size {}", model.text, size.text);
        if until.is_none() && people.find(&person).is_some() {
            let unknown = SignOffAdvice::UnknownDay { person: person.clone(), what: format!("fit test for {what}") };
            out.add(at, Mistake::SignOffAdvice(unknown));
        }
        let held = self.fitted.entry(person.clone()).or_default();
        if let Some((_, first)) = held.insert((model.text.clone(), size.text.clone()), (until, spot(model))) {
            out.add_with(spot(model), first, Mistake::SignOff(SignOffMistake::Twice { person, what }));
        }
    }

    /// A preceptor is also signed off as entrant.
    fn check_preceptors(&self, out: &mut Mistakes) {
        for (person, held) in &self.signed {
            if let (Some((_, at)), None) = (held.get(&Role::Preceptor), held.get(&Role::Entrant)) {
                let alone = PersonMistake::PreceptorNotEntrant { person: person.clone() };
                out.add(*at, Mistake::Person(alone));
            }
        }
    }

    fn put_onto(&self, roster: &mut Roster, people: &Names, out: &mut Mistakes) {
        let (mut signed, mut fitted, mut left) = (0, 0, Vec::new());
        for person in &mut roster.people {
            if let Some(held) = self.signed.get(&person.id) {
                let known = held.iter().filter_map(|(&role, &(until, _))| Some((role, until?)));
                let told = |role| self.done.get(&(person.id.clone(), role)).copied();
                let last_done = |role| if self.says_done { told(role) } else { person.last_done(role) };
                let new =
                    known.map(|(role, valid_through)| SignOff { role, valid_through, last_done: last_done(role) });
                person.sign_offs = new.collect();
                signed += 1;
            }
            if let Some(held) = self.fitted.get(&person.id) {
                let known = held.iter().filter_map(|((model, size), &(until, _))| Some((model, size, until?)));
                let test = |(model, size, valid_through): (&String, &String, _)| FitTest {
                    respirator: model.clone(),
                    size: size.clone(),
                    valid_through,
                };
                person.fit_tests = known.map(test).collect();
                fitted += 1;
            }
            if !self.first.contains_key(&person.id) {
                left.push(person.id.clone());
            }
        }
        left.truncate(MOST_NAMED);
        out.add(whole(), Mistake::SignOffAdvice(SignOffAdvice::Taken { signed, fitted, left }));
        self.tell_of_strangers(people, out);
    }

    /// A file of the whole unit names people who are not here tonight; a slip in an ID looks the same.
    fn tell_of_strangers(&self, people: &Names, out: &mut Mistakes) {
        let strangers = self.first.iter().filter(|(id, _)| people.find(id).map(PersonIx).is_none());
        let mut ids: Vec<String> = strangers.clone().map(|(id, _)| id.clone()).collect();
        let (count, first) = (ids.len(), strangers.map(|(_, at)| *at).min());
        ids.truncate(MOST_NAMED);
        if let Some(first) = first {
            out.add(first, Mistake::SignOffAdvice(SignOffAdvice::NotOnRoster { ids, count }));
        }
    }
}

/// The last day of a row.
#[derive(Clone, Copy)]
enum Day {
    /// What is written is no day; told of already.
    Wrong,
    /// A day, or that it is not known, and where that stands.
    Told(Until, Spot),
}

fn day(row: &Row<'_>, heading: &str, out: &mut Mistakes) -> Day {
    let Some(field) = row.field(heading) else { return Day::Told(None, row.start()) };
    if field.text.eq_ignore_ascii_case("unknown") {
        return Day::Told(None, spot(field));
    }
    match time::date(&field.text) {
        Ok(day) => Day::Told(Some(day), spot(field)),
        Err(mistake) => {
            out.add(spot(field), Mistake::Time(mistake));
            Day::Wrong
        }
    }
}

fn not_of_this_kind(row: &Row<'_>, kind: &'static str, headings: &[&'static str], out: &mut Mistakes) {
    for &heading in headings {
        if let Some(field) = row.field(heading) {
            out.add(spot(field), Mistake::SignOff(SignOffMistake::NotOfThisKind { kind, heading }));
        }
    }
}
