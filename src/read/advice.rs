//! What the user should know before planning: nothing is wrong with the files,
//! but the night will not go as hoped.

use std::collections::BTreeSet;

use crate::night::{EnsembleIx, Minute, Night, Person, PersonIx, Role, Span, WornIn};

use super::finding::Mistakes;
use super::mistake::{Advice, DaysAdvice, Mistake};
use super::record::Record;
use super::source::Spot;
use super::time::written;

/// Looks at a night that could be read. `roster` is the file it came from.
pub(super) fn give(night: &Night, roster: &Record, out: &mut Mistakes) {
    for (ix, table) in night.roster.person_indices().zip(roster.tables("person")) {
        let person = night.roster.person(ix);
        let spot = table.spot_of("id");
        sign_offs(night, person, spot, out);
        fit_tests(night, person, spot, out);
        shift_gap(night, person, table, out);
        hours(night, ix, table, out);
    }
    preceptors(night, roster, out);
    skills(night, roster, out);
    cover(night, roster, out);
}

/// The part of the shift in which a person is on duty.
fn on_shift(night: &Night, person: &Person) -> Span {
    night.roster.shift.intersection(person.on_duty)
}

fn sign_offs(night: &Night, person: &Person, spot: Spot, out: &mut Mistakes) {
    let duty = on_shift(night, person);
    if duty.is_empty() {
        return;
    }
    for role in Role::ALL {
        let Some(last) = person.signed_through(role) else { continue };
        recency(night, person, role, spot, out);
        let end = night.roster.end_of_day(last);
        let id = person.id.clone();
        if end <= duty.from {
            out.add(spot, Mistake::Advice(Advice::SignOffOver { person: id, role, last }));
        } else if end < duty.to {
            out.add(spot, Mistake::Advice(Advice::SignOffEnds { person: id, role, last }));
        }
    }
}

/// Tells of a role that was not done lately enough, or nobody knows when (A9).
fn recency(night: &Night, person: &Person, role: Role, spot: Spot, out: &mut Mistakes) {
    let (duty, id) = (on_shift(night, person), person.id.clone());
    let Some(days) = night.limits.recency_of(role) else { return };
    let (Some(done), Some(last)) = (person.last_done(role), night.recent_through(person, role)) else {
        out.add(spot, Mistake::Advice(Advice::Days(DaysAdvice::RecencyUnknown { person: id, role, days })));
        return;
    };
    let end = night.roster.end_of_day(last);
    if end <= duty.from {
        out.add(spot, Mistake::Advice(Advice::Days(DaysAdvice::RecencyOver { person: id, role, done, days, last })));
    } else if end < duty.to {
        out.add(spot, Mistake::Advice(Advice::Days(DaysAdvice::RecencyEnds { person: id, role, done, days, last })));
    }
}

/// Tells of nights in a row and hours in a week that are over with tonight's duty (F8).
fn hours(night: &Night, ix: PersonIx, table: &Record, out: &mut Mistakes) {
    let person = night.roster.person(ix);
    if on_shift(night, person).is_empty() {
        return;
    }
    let (nights, week) = (night.nights_in_a_row(ix), night.on_duty_in_week(ix));
    if let Some(limit) = night.limits.nights_in_a_row.filter(|limit| nights > limit.max) {
        let many = DaysAdvice::TooManyNights { person: person.id.clone(), nights, most: limit.max };
        out.add(table.spot_of("id"), Mistake::Advice(Advice::Days(many)));
    }
    if let Some(most) = night.limits.week_max.filter(|&most| week > most) {
        let many = DaysAdvice::TooManyHours { person: person.id.clone(), week, most };
        out.add(table.spot_of("id"), Mistake::Advice(Advice::Days(many)));
    }
}

/// Tells of respirators whose last test is over, where the unit asks for one.
fn fit_tests(night: &Night, person: &Person, spot: Spot, out: &mut Mistakes) {
    let duty = on_shift(night, person);
    let tested = night.limits.ensembles.iter().filter(|ensemble| ensemble.fit_test);
    let mut models: Vec<&String> = tested.flat_map(|ensemble| &ensemble.respirators).collect();
    models.sort();
    models.dedup();
    for model in models {
        let days = person.fit_tests.iter().filter(|test| test.respirator == *model).map(|test| test.valid_through);
        let Some(last) = days.max() else { continue };
        if night.roster.end_of_day(last) <= duty.from && !duty.is_empty() {
            let over = Advice::FitTestOver { person: person.id.clone(), respirator: model.clone(), last };
            out.add(spot, Mistake::Advice(over));
        }
    }
}

fn shift_gap(night: &Night, person: &Person, table: &Record, out: &mut Mistakes) {
    let Some(off) = person.last_off_duty else { return };
    let earliest: Minute = off + night.limits.shift_gap;
    let duty = on_shift(night, person);
    if earliest > duty.from && !duty.is_empty() {
        let earliest = written(earliest, night.roster.clock);
        let short = Advice::GapTooShort { person: person.id.clone(), earliest };
        out.add(table.spot_of("last_off_duty"), Mistake::Advice(short));
    }
}

/// Whether everybody who enters only beside a preceptor has one tonight (A5).
fn preceptors(night: &Night, roster: &Record, out: &mut Mistakes) {
    for (ix, table) in night.roster.person_indices().zip(roster.tables("person")) {
        let person = night.roster.person(ix);
        let may = may_act(night, ix, Role::SupervisedEntrant) && night.is_supervised(ix);
        if may && night.preceptors_for(ix).is_empty() {
            out.add(table.spot_of("id"), Mistake::Advice(Advice::NoPreceptor { person: person.id.clone() }));
        }
    }
}

fn skills(night: &Night, roster: &Record, out: &mut Mistakes) {
    let held: BTreeSet<&String> = night.roster.people.iter().flat_map(|person| &person.skills).collect();
    for (task, table) in night.roster.tasks.iter().zip(roster.tables("task")) {
        let Some(skill) = &task.skill else { continue };
        if !held.contains(skill) {
            out.add(table.spot_of("skill"), Mistake::Advice(Advice::NoSkill { skill: skill.clone() }));
        }
    }
    for (cover, table) in night.roster.skill_cover.iter().zip(roster.tables("skill_cover")) {
        if !held.contains(&cover.skill) {
            let skill = cover.skill.clone();
            out.add(table.spot_of("skill"), Mistake::Advice(Advice::NoSkillCover { skill }));
        }
    }
}

/// Whether a person may act in a role at some minute of the shift.
fn may_act(night: &Night, ix: PersonIx, role: Role) -> bool {
    let person = night.roster.person(ix);
    let allowed = match role {
        Role::Entrant | Role::SupervisedEntrant | Role::Preceptor => {
            person.enter_today && person.kits.iter().any(|kit| is_room(night, kit.ensemble))
        }
        Role::DoffingObserver | Role::Assistant => person.doffing_area_today,
        Role::DonningObserver | Role::Coordinator => true,
    };
    let duty = on_shift(night, person);
    let signed = night.good_until(person, role).is_some_and(|until| until > duty.from);
    allowed && signed && !duty.is_empty() && !night.works_too_much(ix)
}

fn is_room(night: &Night, ensemble: EnsembleIx) -> bool {
    night.limits.ensemble(ensemble).worn_in == WornIn::Room
}

/// Whether every role has someone, and a removal two different people.
fn cover(night: &Night, roster: &Record, out: &mut Mistakes) {
    let spot = roster.spot_of("name");
    let able = |role| night.roster.person_indices().filter(move |&ix| may_act(night, ix, role)).collect::<Vec<_>>();
    if able(Role::Entrant).is_empty() {
        out.add(spot, Mistake::Advice(Advice::NooneEnters));
        return;
    }
    if night.roster.lanes.is_empty() {
        out.add(spot, Mistake::Advice(Advice::NoLane));
    }
    let assisted = night.limits.ensembles.iter().any(|ensemble| ensemble.assistant);
    let needed = [Role::DonningObserver, Role::DoffingObserver, Role::Assistant];
    for role in needed.into_iter().filter(|role| *role != Role::Assistant || assisted) {
        if able(role).is_empty() {
            out.add(spot, Mistake::Advice(Advice::NooneHolds { role }));
        }
    }
    let (observers, assistants) = (able(Role::DoffingObserver), able(Role::Assistant));
    if let ([observer], [assistant], true) = (observers.as_slice(), assistants.as_slice(), assisted)
        && observer == assistant
    {
        let person = night.roster.person(*observer).id.clone();
        out.add(spot, Mistake::Advice(Advice::OneForBoth { person }));
    }
}
