//! Supervised entrants for whom there are too few preceptors (A5).

use std::collections::BTreeMap;

use super::why::Need;
use crate::night::{Entry, Night, PersonIx, Rota, Span};

/// Says so when, of those free to go in, fewer than `least` can, because the
/// others are supervised and too few preceptors are free or inside.
pub fn unminded(night: &Night, rota: &Rota, need: &Need<'_>, free: &[PersonIx], least: usize) -> Option<String> {
    let inside = |e: &&Entry| e.room == need.room && Span::new(e.door_in, e.door_out).contains(need.span.from);
    let here: Vec<PersonIx> = rota.entries.iter().filter(inside).map(|e| e.person).collect();
    let (supervised, alone): (Vec<_>, Vec<_>) = free.iter().copied().partition(|&p| night.is_supervised(p));
    let minding = |p: PersonIx| {
        let of = night.preceptors_for(p);
        of.into_iter().filter(|preceptor| alone.contains(preceptor) || here.contains(preceptor)).collect::<Vec<_>>()
    };
    let mut preceptors: Vec<PersonIx> = supervised.iter().flat_map(|&p| minding(p)).collect();
    preceptors.sort_unstable();
    preceptors.dedup();
    let minded = supervised.iter().filter(|&&p| !minding(p).is_empty()).count().min(preceptors.len());
    if alone.len() + minded >= least {
        return None;
    }
    let may = match &alone[..] {
        [] => "Nobody may go in alone then.".to_owned(),
        some => format!("Only {} may go in alone then.", ids(night, some)),
    };
    let supervised = ids(night, &supervised);
    Some(format!("{may} Supervised, and without a preceptor free for each: {supervised}."))
}

/// ` N1 and N2 can each only enter with E3.` for supervised entrants on duty in
/// `span` who are more than the preceptors that all of them depend on.
pub fn few_partners(night: &Night, span: Span) -> String {
    let roster = &night.roster;
    let mut by_partners: BTreeMap<Vec<PersonIx>, Vec<PersonIx>> = BTreeMap::new();
    for person in roster.person_indices() {
        let there = roster.person(person).on_duty.overlaps(span) && roster.person(person).enter_today;
        if there && night.is_supervised(person) {
            by_partners.entry(night.preceptors_for(person)).or_default().push(person);
        }
    }
    let few = by_partners.into_iter().filter(|(partners, supervised)| partners.len() < supervised.len());
    let few = few.filter(|(partners, _)| !partners.is_empty());
    let words = few.map(|(partners, supervised)| {
        [" ", &ids(night, &supervised), " can each only enter with ", &ids(night, &partners), "."].concat()
    });
    words.collect()
}

/// `N1`, `N1 and N2`, `N1, N2 and N3`.
fn ids(night: &Night, people: &[PersonIx]) -> String {
    let ids: Vec<&str> = people.iter().map(|&p| night.roster.person(p).id.as_str()).collect();
    match ids.split_last() {
        None => String::new(),
        Some((last, [])) => (*last).to_owned(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
    }
}
