//! What the rota is worth at each level of the objective, as the replay counts it.

use std::collections::BTreeMap;

use super::facts::{Facts, Kind, Wear};
use super::low_hours::latest_off;
use super::{
    Measures, RescueShortage, Shortage, SkillShortage, TaskOutcome, early_exit, pins, presence, rescue, skill, tasks,
};
use crate::night::{Entry, Minute, Minutes, Need, PersonIx, PinIx, RoomIx, Span, TaskIx};

/// What is not covered and what is, found once for the review and its measures.
pub(super) struct Found {
    pub(super) shortages: Vec<Shortage>,
    pub(super) skill_shortages: Vec<SkillShortage>,
    pub(super) tasks: Vec<(TaskIx, TaskOutcome)>,
    pub(super) rescue: Vec<RescueShortage>,
    pub(super) exits: Vec<Span>,
    pub(super) pins: Vec<(PinIx, bool)>,
}

impl Found {
    pub(super) fn of(facts: &Facts) -> Self {
        Self {
            shortages: presence::shortages(facts),
            skill_shortages: skill::shortages(facts),
            tasks: tasks::outcomes(facts),
            rescue: rescue::shortages(facts),
            exits: early_exit::uncovered(facts),
            pins: pins::kept(facts),
        }
    }
}

/// The measures of a rota from what was found in it.
pub(super) fn measured(facts: &Facts, found: &Found) -> Measures {
    let classes = || facts.roster.presence.iter().map(|p| (p.class, Minutes::ZERO)).collect::<BTreeMap<_, _>>();
    let mut measures = Measures {
        pins_missed: count(found.pins.iter().filter(|(_, kept)| !kept).count()),
        rescue_missing: found
            .rescue
            .iter()
            .map(|s| Minutes(i64::from(s.needed - s.there) * s.span.length().0))
            .sum::<Minutes>()
            + found.exits.iter().map(|span| span.length()).sum(),
        uncovered: classes(),
        longest: classes(),
        skill_missing: found
            .skill_shortages
            .iter()
            .map(|s| Minutes(i64::from(s.required - s.present) * s.span.length().0))
            .sum(),
        removals: count(facts.rota.entries.len()),
        helper_removals: count(facts.rota.posts.len()),
        spare_short: entries(facts).map(|(entry, wear)| spare_short(facts, entry, wear)).sum(),
        waits: entries(facts).map(|(entry, wear)| waits(entry, wear)).sum(),
        low_hours: count(facts.rota.entries.iter().filter(|e| in_low_hours(facts, e)).count()),
        breaks_outside: facts.rota.breaks.iter().map(|b| facts.roster.outside_preferred(b.span)).sum(),
        largest_wear_centi: people(facts).map(|p| facts.cumulative_centi(p)).max().unwrap_or(0),
        largest_load: people(facts).map(|p| load(facts, p)).max().unwrap_or(Minutes::ZERO),
        ..Measures::default()
    };
    for short in &found.shortages {
        let missing = i64::from(short.required - short.present);
        *measures.uncovered.entry(short.class).or_default() += Minutes(missing * short.span.length().0);
    }
    longest_runs(&found.shortages, &mut measures.longest);
    for &(ix, outcome) in &found.tasks {
        add_task(facts, &mut measures, ix, outcome);
    }
    measures
}

fn entries<'f>(facts: &'f Facts) -> impl Iterator<Item = (&'f Entry, &'f Wear<'f>)> {
    facts.rota.entries.iter().zip(&facts.wears)
}

/// Minutes of the unit's figure for spare that are used up, by the wearer's own wear alone.
fn spare_short(facts: &Facts, entry: &Entry, wear: &Wear) -> Minutes {
    let Some(kit) = wear.ensemble else { return Minutes::ZERO };
    let low = facts.limits.low_hours_wear(kit).map(|low| low - wear.kit.margin);
    let latest = latest_off(facts, wear.start, wear.kit.max_wear - wear.kit.margin, low);
    (facts.limits.spare - (latest - entry.off)).max(Minutes::ZERO)
}

fn waits(entry: &Entry, wear: &Wear) -> Minutes {
    (entry.door_in - wear.donned).max(Minutes::ZERO) + (entry.removal - entry.door_out).max(Minutes::ZERO)
}

fn in_low_hours(facts: &Facts, entry: &Entry) -> bool {
    facts.low_hours.iter().any(|hours| hours.contains(entry.removal))
}

fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

fn people(facts: &Facts) -> impl Iterator<Item = PersonIx> + use<> {
    facts.roster.person_indices()
}

/// Level 3: shortages of one class and room that touch are one run, whatever their size.
fn longest_runs(shortages: &[Shortage], longest: &mut BTreeMap<u32, Minutes>) {
    let mut by_room: Vec<&Shortage> = shortages.iter().collect();
    by_room.sort_by_key(|s| (s.class, s.room, s.span));
    let mut run: Option<(u32, RoomIx, Minute, Minute)> = None;
    for short in by_room {
        let from = match run {
            Some((class, room, from, to)) if (class, room, to) == (short.class, short.room, short.span.from) => from,
            _ => short.span.from,
        };
        run = Some((short.class, short.room, from, short.span.to));
        let most = longest.entry(short.class).or_default();
        *most = (*most).max(short.span.to - from);
    }
}

fn add_task(facts: &Facts, measures: &mut Measures, ix: TaskIx, outcome: TaskOutcome) {
    match (facts.roster.tasks[ix.0].need, outcome) {
        (Need::Must, TaskOutcome::Done { late }) => measures.must_late += late,
        (Need::Must, TaskOutcome::Missed) => measures.must_missed += 1,
        (Need::Wanted, TaskOutcome::Done { .. }) => {}
        (Need::Wanted, TaskOutcome::Missed) => measures.wanted_missed += 1,
    }
}

/// Level 10: minutes on posts and minutes helping outside a post, each minute once.
fn load(facts: &Facts, person: PersonIx) -> Minutes {
    let mut sum = Minutes::ZERO;
    let mut until = Minute(i64::MIN);
    for duty in facts.duties_of(person).iter().filter(|d| d.kind != Kind::Entry) {
        let from = duty.busy.from.max(until);
        if duty.busy.to > from {
            sum += duty.busy.to - from;
            until = duty.busy.to;
        }
    }
    sum
}
