//! The smallest change that closes a gap, tried before it is claimed.
//!
//! Each change is made to a copy of the night, the rota is re-planned around
//! the gap with everything else held, and the result goes through the check.
//! Only a change after which the gap is gone, nothing else is worse and no
//! rule is broken is named.

use chrono::Days;

use super::why::Short;
use super::{Gap, Severity};
use crate::check::{Missed, Review, TaskOutcome, review};
use crate::night::{
    EnsembleIx, FitTest, KitSize, Lane, Minutes, Need, Night, Person, PersonalLimits, Relief, Role, Rota, SignOff,
    Span, WornIn,
};
use crate::plan::{MUST_COUNTS, WANTED_COUNTS, mend, side_by_side};

/// Gaps for which a change is looked for; the worst come first.
const GAPS_LOOKED_AT: usize = 3;

/// Gaps closer together than this may be closed by one person's one stretch.
const TOGETHER: Minutes = Minutes(360);

/// A change to the night.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Change {
    /// Two more kits of an ensemble, in the size there are most of.
    Kits(EnsembleIx),
    /// Two more units of a respirator model that comes back into use, in the size there are most of.
    Respirators(usize),
    /// One more person in a role.
    Person(Role),
    /// One more lane.
    Lane,
    /// Two more entrants.
    Pair,
    /// Relief one by one and in pairs, as it comes.
    Relief,
}

/// Fills in the fix of each gap and returns changes that close several at once.
pub fn add_fixes(
    night: &Night,
    rota: &Rota,
    review: &Review,
    gaps: &mut [Gap],
    shorts: &[Option<Short>],
) -> Vec<String> {
    let before = review.measures.missed();
    let closing = closing(night, rota, &before, gaps, shorts);
    let mut found = Vec::new();
    for (ix, (gap, &short)) in gaps.iter_mut().zip(shorts).enumerate() {
        if short.is_none() {
            continue;
        }
        if ix >= GAPS_LOOKED_AT {
            gap.fix = Some("not looked for: worse gaps come first".to_owned());
            continue;
        }
        if let Some(change) = closing[ix] {
            gap.fix = Some(format!("{}: closes it, tried", words(night, change, stretch(night, gap.span))));
            found.push((ix, change));
        }
    }
    several(night, rota, &before, gaps, &found)
}

/// For each gap looked at, the first change that closes it; the gaps side by side.
fn closing(night: &Night, rota: &Rota, before: &Missed, gaps: &[Gap], shorts: &[Option<Short>]) -> Vec<Option<Change>> {
    let first = |gap: &Gap, short| {
        changes(night, short).into_iter().find(|&c| closes(night, rota, before, c, std::slice::from_ref(gap)))
    };
    let looked_at = gaps.iter().zip(shorts).take(GAPS_LOOKED_AT);
    side_by_side(looked_at.map(|(gap, &short)| move || short.and_then(|short| first(gap, short))))
}

/// One change for all gaps that the same kind of change closes one by one.
fn several(night: &Night, rota: &Rota, before: &Missed, gaps: &[Gap], found: &[(usize, Change)]) -> Vec<String> {
    let Some(&(first, change)) = found.first() else { return vec![] };
    let same: Vec<usize> = found.iter().filter(|f| f.1 == change).map(|f| f.0).collect();
    let chosen: Vec<Gap> = same.iter().map(|&ix| gaps[ix].clone()).collect();
    let around = hull(&chosen, gaps[first].span);
    if same.len() < 2 || around.length() > TOGETHER || !closes(night, rota, before, change, &chosen) {
        return vec![];
    }
    let numbers: Vec<String> = same.iter().map(|ix| (ix + 1).to_string()).collect();
    vec![format!("{} closes gaps {}, tried", words(night, change, stretch(night, around)), numbers.join(" and "))]
}

fn hull(gaps: &[Gap], first: Span) -> Span {
    gaps.iter().fold(first, |all, gap| Span::new(all.from.min(gap.span.from), all.to.max(gap.span.to)))
}

/// Changes to try, smallest first: of the kind that is short where one is.
fn changes(night: &Night, short: Short) -> Vec<Change> {
    let respirators = (0..night.limits.respirators.len()).map(Change::Respirators);
    // What the unit has signed comes last: the charge nurse may not change it.
    let relief = night.limits.relief.is_forced().then_some(Change::Relief);
    let all: Vec<Change> = match short {
        Short::Role(Role::Entrant) => respirators.chain([Change::Person(Role::Entrant), Change::Pair]).collect(),
        Short::Role(role) => vec![Change::Person(role)],
        Short::Lane => vec![Change::Lane],
        Short::Together => {
            let kits = (0..night.limits.ensembles.len()).map(EnsembleIx);
            let kits = kits.filter(|&e| night.roster.kits.iter().any(|k| k.ensemble == e)).map(Change::Kits);
            let people = [Role::DoffingObserver, Role::Assistant, Role::Entrant].map(Change::Person);
            kits.chain(respirators).chain(people).chain([Change::Lane]).collect()
        }
    };
    all.into_iter().chain(relief).collect()
}

/// Whether the change closes these gaps and makes nothing else worse.
fn closes(night: &Night, rota: &Rota, before: &Missed, change: Change, gaps: &[Gap]) -> bool {
    let Some(first) = gaps.first() else { return false };
    let around = hull(gaps, first.span);
    let changed = changed(night, change, stretch(night, around));
    let less = gaps.iter().map(|gap| weight(night, gap)).sum();
    let Some(mended) = mend(&changed, rota, around, less) else { return false };
    let after = review(&changed, &mended);
    let missed = after.measures.missed();
    let uncovered = missed.person_minutes() <= before.person_minutes();
    let care = missed.pins <= before.pins && uncovered && missed.must <= before.must;
    let no_worse =
        care && missed.rescue <= before.rescue && missed.skill <= before.skill && missed.wanted <= before.wanted;
    after.faults.is_empty() && no_worse && gaps.iter().all(|gap| !still_there(&after, gap))
}

fn weight(night: &Night, gap: &Gap) -> i64 {
    match (gap.severity, gap.short, gap.task) {
        (Severity::PatientAlone | Severity::SkillMissing, Some((needed, inside)), _) => {
            gap.span.length().0 * i64::from(needed - inside.min(needed))
        }
        (_, _, Some(task)) if night.roster.tasks[task.0].need == Need::Must => MUST_COUNTS,
        (_, _, Some(_)) => WANTED_COUNTS,
        _ => 0,
    }
}

fn still_there(after: &Review, gap: &Gap) -> bool {
    match (gap.task, &gap.skill) {
        (Some(task), _) => after.tasks.contains(&(task, TaskOutcome::Missed)),
        (None, Some(skill)) => {
            let mut missing = after.skill_shortages.iter().filter(|s| s.room == gap.room && s.skill == *skill);
            missing.any(|s| s.span.overlaps(gap.span))
        }
        (None, None) => after.shortages.iter().any(|s| s.room == gap.room && s.span.overlaps(gap.span)),
    }
}

/// When one more person would be there: from donning before the gap to the last shower after it.
fn stretch(night: &Night, gap: Span) -> Span {
    let longest =
        |of: fn(&crate::night::Ensemble) -> Minutes| night.limits.ensembles.iter().map(of).max().unwrap_or_default();
    let donning = longest(|e| e.donning);
    let removal = longest(|e| e.removal);
    let from = gap.from - donning - donning - Minutes(30);
    let to = gap.to + removal + removal + night.limits.cleaning + night.limits.shower + Minutes(45);
    let quarter = Minutes(15);
    let start = night.roster.shift.from;
    Span::new(start + (from - start).down_to_grid(quarter), start + (to - start).up_to_grid(quarter))
        .intersection(night.roster.shift)
}

fn changed(night: &Night, change: Change, when: Span) -> Night {
    let mut night = night.clone();
    match change {
        Change::Kits(ensemble) => {
            let most = night.roster.kits.iter_mut().filter(|k| k.ensemble == ensemble).max_by_key(|k| k.count);
            if let Some(most) = most {
                most.count += 2;
            }
        }
        Change::Respirators(model) => {
            let model = night.limits.respirators[model].model.clone();
            let rows = night.roster.respirators.iter_mut().filter(|r| r.respirator == model);
            if let Some(most) = rows.max_by_key(|r| r.count) {
                most.count += 2;
            }
        }
        Change::Person(role) => add_person(&mut night, role, when),
        Change::Lane => night.roster.lanes.push(Lane { id: "+".to_owned(), closures: vec![] }),
        Change::Pair => {
            add_person(&mut night, Role::Entrant, when);
            add_person(&mut night, Role::Entrant, when);
        }
        Change::Relief => night.limits.relief = Relief::Either,
    }
    night
}

/// One more person who holds one role (an observer watches donnings too, a
/// preceptor enters), is rested, and wears the size there is most of.
fn add_person(night: &mut Night, role: Role, when: Span) {
    let day = night.roster.clock.date(when.to);
    let valid_through = day.checked_add_days(Days::new(1)).unwrap_or(day);
    let fresh = |role| SignOff { role, valid_through, last_done: Some(day) };
    let roles = match role {
        Role::DoffingObserver => vec![Role::DoffingObserver, Role::DonningObserver],
        Role::Preceptor => vec![Role::Preceptor, Role::Entrant],
        other => vec![other],
    };
    let cover = night.roster.skill_cover.iter().map(|c| c.skill.clone());
    let mut skills: Vec<String> = night.roster.tasks.iter().filter_map(|t| t.skill.clone()).chain(cover).collect();
    skills.sort();
    skills.dedup();
    let worn = if matches!(role, Role::Entrant | Role::Preceptor) { WornIn::Room } else { WornIn::DoffingArea };
    let ensembles = (0..night.limits.ensembles.len()).map(EnsembleIx);
    let kits = ensembles.filter(|&e| night.limits.ensemble(e).worn_in == worn);
    let kits: Vec<KitSize> = kits.filter_map(|e| most_stocked(night, e)).collect();
    let fit_tests = night.roster.respirators.iter().filter(|r| r.count > 0);
    let fit_tests =
        fit_tests.map(|r| FitTest { respirator: r.respirator.clone(), size: r.size.clone(), valid_through }).collect();
    night.roster.people.push(Person {
        id: "NEW".to_owned(),
        on_duty: when,
        last_off_duty: None,
        last_removal: None,
        worn_before: Minutes::ZERO,
        enter_today: true,
        doffing_area_today: true,
        sign_offs: roles.into_iter().map(fresh).collect(),
        fit_tests,
        kits,
        skills,
        own: PersonalLimits::default(),
    });
}

/// The size of an ensemble of which most may be used: the newcomer takes from the same shelf.
fn most_stocked(night: &Night, ensemble: EnsembleIx) -> Option<KitSize> {
    let rows = night.roster.kits.iter().filter(|k| k.ensemble == ensemble);
    let most = rows.max_by_key(|k| k.count.saturating_sub(k.reserve))?;
    Some(KitSize { ensemble, size: most.size.clone() })
}

fn words(night: &Night, change: Change, when: Span) -> String {
    let clock = night.roster.clock;
    let times = format!("{}-{}", clock.hhmm(when.from), clock.hhmm(when.to));
    match change {
        Change::Kits(ensemble) => format!("two more {} kits", night.limits.ensemble(ensemble).id),
        Change::Respirators(model) => format!("two more respirators {}", night.limits.respirators[model].model),
        Change::Person(Role::DoffingObserver) => format!("one more doffing observer {times}"),
        Change::Person(Role::DonningObserver) => format!("one more donning observer {times}"),
        Change::Person(Role::Assistant) => format!("one more doffing assistant {times}"),
        Change::Person(Role::Entrant) => format!("one more entrant {times}"),
        Change::Person(Role::SupervisedEntrant) => format!("one more supervised entrant {times}"),
        Change::Person(Role::Coordinator) => format!("one more coordinator {times}"),
        Change::Person(Role::Preceptor) => format!("one more preceptor {times}"),
        Change::Lane => "one more lane".to_owned(),
        Change::Pair => format!("two more entrants {times}"),
        Change::Relief => "relief either way, if the unit allows it".to_owned(),
    }
}
