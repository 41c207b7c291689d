//! The private file: limits of single people, stricter than the unit's (A8).
//!
//! No finding about it quotes a name, a figure or a line of the file.

use std::collections::BTreeMap;

use crate::night::{ConstraintSet, EnsembleIx, Minutes, PersonIx, PersonalLimits, Roster};

use super::finding::Mistakes;
use super::keys;
use super::mistake::{Mistake, PrivateMistake};
use super::names::Names;
use super::record::Record;
use super::shape::{self, Shaper};
use super::source::{File, Source};
use super::time::Wall;

/// Of whom the file may have limits.
#[derive(Clone, Copy)]
pub(super) struct People<'a> {
    /// The people of the roster.
    pub(super) here: &'a Names,
    /// Those of other rosters: their limits are passed over here.
    pub(super) elsewhere: &'a [String],
}

/// Reads the file and puts its limits onto the people of the roster.
pub(super) fn read(
    source: &Source,
    people: People<'_>,
    roster: Option<&mut Roster>,
    set: Option<&ConstraintSet>,
    out: &mut Mistakes,
) {
    let table = shape::parse(File::Private, source, out);
    let wall = Wall { zone: chrono_tz::UTC, shift: None };
    let record = Shaper { file: File::Private, root: &keys::PRIVATE, wall }.shape(&table, out);
    let owners = owners(&record, people, out);
    let (Some(roster), Some(set)) = (roster, set) else { return };
    for (entry, (table, owner)) in record.tables("limit").iter().zip(owners).enumerate() {
        let Some(owner) = owner else { continue };
        let own = limits(table);
        if is_looser(own, roster, owner, set) {
            out.add(table.spot, Mistake::Private(PrivateMistake::Looser { entry: entry + 1 }));
        }
        if let Some(person) = roster.people.get_mut(owner.0) {
            person.own = own;
        }
    }
}

fn owners(record: &Record, people: People<'_>, out: &mut Mistakes) -> Vec<Option<PersonIx>> {
    let mut first = BTreeMap::new();
    let mut owners = Vec::new();
    for (position, table) in record.tables("limit").iter().enumerate() {
        let entry = position + 1;
        if ["max_wear_min", "cumulative_max_min", "rest_min"].iter().all(|key| !table.has(key)) {
            out.add(table.spot, Mistake::Private(PrivateMistake::NoLimit { entry }));
        }
        let owner = table.text("person").and_then(|id| {
            let found = people.here.find(id.value);
            let elsewhere = people.elsewhere.iter().any(|other| other == id.value);
            if found.is_none() && people.here.is_complete() && !elsewhere {
                out.add(id.spot, Mistake::Private(PrivateMistake::UnknownPerson { entry }));
            }
            found
        });
        if let Some(&first) = owner.and_then(|owner| first.get(&owner)) {
            out.add(table.spot, Mistake::Private(PrivateMistake::PersonTwice { entry, first }));
        } else if let Some(owner) = owner {
            first.insert(owner, entry);
        }
        owners.push(owner.map(PersonIx));
    }
    owners
}

fn limits(table: &Record) -> PersonalLimits {
    PersonalLimits {
        max_wear: table.minutes("max_wear_min"),
        cumulative_wear: table.minutes("cumulative_max_min"),
        rest: table.minutes("rest_min"),
    }
}

/// A limit is refused when it is looser than the unit's for everything this
/// person may wear. One that is stricter for one ensemble only is kept: the
/// unit's own limit holds for the others.
fn is_looser(own: PersonalLimits, roster: &Roster, owner: PersonIx, set: &ConstraintSet) -> bool {
    let worn: Vec<EnsembleIx> = match roster.people.get(owner.0).map(|person| &person.kits) {
        Some(kits) if !kits.is_empty() => kits.iter().map(|kit| kit.ensemble).collect(),
        _ => (0..set.ensembles.len()).map(EnsembleIx).collect(),
    };
    let longest = worn.iter().map(|&ensemble| set.ensemble(ensemble).max_wear).max();
    let shortest = worn.iter().flat_map(|&a| worn.iter().map(move |&b| set.rest_between(a, b))).min();
    let over = |limit: Option<Minutes>, most: Option<Minutes>| matches!((limit, most), (Some(l), Some(m)) if l > m);
    over(own.max_wear, longest) || over(own.cumulative_wear, Some(set.cumulative_wear)) || over(shortest, own.rest)
}
