//! People: duty, what came before, flags, sign-offs.

use chrono::NaiveDate;

use crate::night::{
    Clock, EnsembleIx, FitTest, KitSize, LastRemoval, Minute, Minutes, Person, PersonalLimits, Role, SignOff, Span,
};

use super::finding::Mistakes;
use super::keys;
use super::limits::names;
use super::mistake::{Mistake, PersonMistake, StretchMistake};
use super::record::{Maybe, Record};
use super::roster::{Context, MOST_LENGTH, span};
use super::shape::missing_when;
use super::source::At;
use super::time::written;

/// Everyone, or `None` when someone could not be read.
pub(super) fn read(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Person>> {
    let crews: Vec<_> = record.tables("crew").iter().map(|crew| duty(crew, context.clock, out)).collect();
    let people: Vec<_> = record.tables("person").iter().map(|table| person(table, &crews, context, out)).collect();
    people.into_iter().collect()
}

fn person(table: &Record, crews: &[Option<Span>], context: &Context<'_>, out: &mut Mistakes) -> Option<Person> {
    let on_duty = on_duty(table, crews, context, out);
    check_before(table, on_duty, context, out);
    let last_removal = last_removal(table, context, out);
    let sign_offs = sign_offs(table, context, out);
    let kits = kits(table, context, out);
    let (last_removal, worn_before) = last_removal?;
    Some(Person {
        id: table.name("id")?,
        on_duty: on_duty?,
        last_off_duty: table.instant_or_none("last_off_duty")?.some().map(|at| at.value),
        last_removal,
        worn_before,
        enter_today: table.flag("enter_today")?,
        doffing_area_today: table.flag("doffing_area_today")?,
        sign_offs: sign_offs?,
        fit_tests: fit_tests(table)?,
        kits: kits?,
        skills: names(table, "skills"),
        own: PersonalLimits::default(),
    })
}

/// The name for messages; a person without a readable id is still worth a finding.
fn id(table: &Record) -> String {
    table.name("id").unwrap_or_else(|| "?".to_owned())
}

fn duty(table: &Record, clock: Clock, out: &mut Mistakes) -> Option<Span> {
    let span = span(table, ("on_duty", "off_duty"), clock, out)?;
    if span.length() > MOST_LENGTH {
        let long = StretchMistake::DutyTooLong { person_or_crew: id(table) };
        out.add(table.spot_of("off_duty"), Mistake::Stretch(long));
    }
    Some(span)
}

/// Duty comes from a crew or is the person's own, never both.
fn on_duty(table: &Record, crews: &[Option<Span>], context: &Context<'_>, out: &mut Mistakes) -> Option<Span> {
    let own = table.has("on_duty") || table.has("off_duty");
    match (table.has("crew"), own) {
        (true, true) => {
            out.add(table.spot_of("crew"), Mistake::Person(PersonMistake::CrewAndOwn { person: id(table) }));
            None
        }
        (true, false) => crews.get(context.crews.require_in(table, "crew", out)?).copied().flatten(),
        (false, true) => {
            if !(table.has("on_duty") && table.has("off_duty")) {
                out.add(table.spot, Mistake::Person(PersonMistake::NoDuty { person: id(table) }));
            }
            duty(table, context.clock, out)
        }
        (false, false) => {
            out.add(table.spot, Mistake::Person(PersonMistake::NoDuty { person: id(table) }));
            None
        }
    }
}

/// What came before this duty ended before it, or, for those already on duty, before the shift.
fn check_before(table: &Record, on_duty: Option<Span>, context: &Context<'_>, out: &mut Mistakes) {
    let (Some(on_duty), Some(shift)) = (on_duty, context.shift) else { return };
    let latest = [("last_off_duty", on_duty.from), ("last_removal", on_duty.from.max(shift.from))];
    for (key, latest) in latest {
        if let Some(Maybe::Some(at)) = table.instant_or_none(key)
            && at.value > latest
        {
            out.add(at.spot, Mistake::Person(after_start(table, key, at, latest, context.clock)));
        }
    }
}

fn after_start(table: &Record, key: &'static str, at: At<Minute>, latest: Minute, clock: Clock) -> PersonMistake {
    let (at, start) = (written(at.value, clock), written(latest, clock));
    PersonMistake::AfterStart { person: id(table), key, at, start }
}

/// The last removal and the wear carried in; both keys follow from a time of removal.
fn last_removal(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<(Option<LastRemoval>, Minutes)> {
    let kit = context.limits.ensembles.require_in(table, "last_kit", out);
    match table.instant_or_none("last_removal")? {
        Maybe::Nothing => {
            for key in ["last_kit", "worn_before_min"] {
                if table.has(key) && table.minutes(key) != Some(Minutes::ZERO) {
                    let loose = PersonMistake::NothingToFollow { person: id(table), key };
                    out.add(table.spot_of(key), Mistake::Person(loose));
                }
            }
            Some((None, Minutes::ZERO))
        }
        Maybe::Some(off) => {
            for key in ["last_kit", "worn_before_min"] {
                missing_when(table, &keys::PERSON_KEYS, key, out);
            }
            let removal = LastRemoval { off: off.value, ensemble: EnsembleIx(kit?) };
            Some((Some(removal), table.minutes("worn_before_min")?))
        }
    }
}

fn sign_offs(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<SignOff>> {
    let mut all = Some(Vec::new());
    for sign_off in table.tables("sign_offs") {
        let roles = sign_off.words("roles");
        if !sign_off.has("roles") || roles.as_ref().is_some_and(Vec::is_empty) {
            let without = PersonMistake::SignOffWithoutRole { person: id(table) };
            out.add(sign_off.spot, Mistake::Person(without));
        }
        let last_done = sign_off.day("last_done").filter(|done| !is_to_come(*done, context, out));
        let (Some(roles), Some(day)) = (roles, sign_off.day("valid_through")) else {
            all = None;
            continue;
        };
        if let Some(all) = &mut all {
            let (valid_through, last_done) = (day.value, last_done.map(|done| done.value));
            let roles = roles.iter().filter_map(|word| role(word.value));
            all.extend(roles.map(|role| SignOff { role, valid_through, last_done }));
        }
    }
    check_preceptor(table, all.as_deref(), out);
    all
}

/// What is done after the shift has started is not done yet: no plan counts on it.
fn is_to_come(done: At<NaiveDate>, context: &Context<'_>, out: &mut Mistakes) -> bool {
    let Some(night) = context.shift.map(|shift| context.clock.date(shift.from)).filter(|&night| done.value > night)
    else {
        return false;
    };
    out.add(done.spot, Mistake::Person(PersonMistake::DoneToCome { done: done.value, night }));
    true
}

/// A preceptor is also signed off as entrant.
fn check_preceptor(table: &Record, all: Option<&[SignOff]>, out: &mut Mistakes) {
    let holds = |role| all.is_some_and(|all| all.iter().any(|s| s.role == role));
    if holds(Role::Preceptor) && !holds(Role::Entrant) {
        let alone = PersonMistake::PreceptorNotEntrant { person: id(table) };
        out.add(table.spot_of("sign_offs"), Mistake::Person(alone));
    }
}

/// The role of a word.
pub(super) fn role(word: &str) -> Option<Role> {
    Role::ALL.into_iter().find(|role| role.word() == word)
}

fn fit_tests(table: &Record) -> Option<Vec<FitTest>> {
    table
        .tables("fit_tests")
        .iter()
        .map(|test| {
            Some(FitTest {
                respirator: test.name("respirator")?,
                size: test.name("size")?,
                valid_through: test.day("valid_through")?.value,
            })
        })
        .collect()
}

fn kits(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<KitSize>> {
    let kits: Vec<_> = table
        .sizes("kits")?
        .iter()
        .map(|(ensemble, size)| {
            let name = At { value: ensemble.value.as_str(), spot: ensemble.spot };
            let ensemble = EnsembleIx(context.limits.ensembles.require(name, out)?);
            Some(KitSize { ensemble, size: size.value.clone() })
        })
        .collect();
    kits.into_iter().collect()
}
