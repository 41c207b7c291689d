//! Lower bounds on crews by arithmetic alone, each true of every rota of the night.
//!
//! They take everything in the crew's favour that they do not count: no waiting, no breaks, no low hours, no personal
//! limits, helpers at the right place at every minute. So a crew that they call short is short; one that they do not
//! may be short all the same.

use super::uses::{Overlap, Stretch, Use, hull, parts, stretches};
use crate::night::{Minute, Minutes, Night, Person, Relief, Role, Watching};

/// Why a crew is short.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Bound {
    /// Presence is asked for, and nobody holds a role without which nobody may go in.
    Nobody(Role),
    /// Nobody holds a role, in date and on duty, at the time at which something asked for needs it.
    NobodyThen {
        /// The role.
        role: Role,
        /// From when on, or for observers of donnings until when.
        at: Minute,
    },
    /// Fewer may go in than have to be inside at once.
    AtOnce {
        /// Who may go in.
        entrants: u32,
        /// Who has to be inside at some minute.
        needed: u32,
    },
    /// All entrants together may be inside for fewer person-minutes than are asked for.
    Capacity {
        /// The most that they may be inside, less the overlap of every entry where that is counted.
        have: Minutes,
        /// What is asked for, less the overlap that nobody owes at the end.
        need: Minutes,
    },
    /// One place all the time, and whoever comes out first is not back when the others are used up.
    Rotation {
        /// Who may go in.
        entrants: u32,
        /// Who is needed.
        needed: u32,
    },
    /// One room that is never left alone, nobody passes its door alone, and the first pair is not back when the others
    /// are used up.
    RotationInPairs {
        /// Who may go in.
        entrants: u32,
        /// Who is needed.
        needed: u32,
    },
    /// Helpers of a role have fewer minutes than the fewest entries take.
    Helpers {
        /// The role.
        role: Role,
        /// The most minutes of that work that all of them have.
        have: Minutes,
        /// The least that there is.
        need: Minutes,
    },
}

/// The first bound that shows a night to be short of people, if one does.
#[must_use]
pub fn short(night: &Night) -> Option<Bound> {
    let stretches = stretches(night);
    if stretches.is_empty() && night.roster.tasks.is_empty() {
        return None;
    }
    let uses: Vec<Use> = night.roster.person_indices().filter_map(|ix| Use::of(night, ix)).collect();
    nobody(night, &uses)
        .or_else(|| nobody_then(night, &uses))
        .or_else(|| too_few_for_tasks(night, &uses))
        .or_else(|| short_of_entrants(&stretches, &uses, night.limits.relief))
        .or_else(|| helpers(night, &stretches, &uses))
}

/// The first bound by which these entrants are too few, helpers apart.
#[must_use]
pub fn short_of_entrants(stretches: &[Stretch], uses: &[Use], relief: Relief) -> Option<Bound> {
    at_once(stretches, uses)
        .or_else(|| capacity(stretches, uses, Overlap::Counted))
        .or_else(|| capacity(stretches, uses, Overlap::Left))
        .or_else(|| rotation(stretches, uses))
        .or_else(|| rotation_in_pairs(stretches, uses).filter(|_| relief == Relief::InPairs))
}

/// Nobody goes in without an entrant, two observers and, for this ensemble, an assistant.
fn nobody(night: &Night, uses: &[Use]) -> Option<Bound> {
    if uses.is_empty() {
        return Some(Bound::Nobody(Role::Entrant));
    }
    let always_assisted = uses.iter().all(|usage| night.limits.ensemble(usage.ensemble).assistant);
    let assistant = always_assisted.then_some(Role::Assistant);
    let roles = [Role::DonningObserver, Role::DoffingObserver].into_iter().chain(assistant);
    roles.into_iter().find(|&role| helpers_of(night, role).next().is_none()).map(Bound::Nobody)
}

/// People who hold a helper's role and may have it today.
fn helpers_of(night: &Night, role: Role) -> impl Iterator<Item = &Person> {
    let in_lanes = matches!(role, Role::DoffingObserver | Role::Assistant);
    let people = night.roster.people.iter();
    people.filter(move |p| p.signed_through(role).is_some() && (p.doffing_area_today || !in_lanes))
}

/// The door in at the latest and the door out at the earliest of somebody who is inside for something asked for.
fn asked(night: &Night) -> Vec<(Minute, Minute)> {
    let presence = night.roster.presence.iter().map(|p| (p.span.from, p.span.to));
    let tasks = night.roster.tasks.iter().map(|t| (t.window.to - t.length, t.window.from + t.length));
    presence.chain(tasks).collect()
}

/// Somebody has been donned before each thing asked for, and comes out after it: helpers are there for that.
fn nobody_then(night: &Night, uses: &[Use]) -> Option<Bound> {
    let worn = || uses.iter().map(|usage| night.limits.ensemble(usage.ensemble));
    let removal = worn().map(|e| e.removal).min()?;
    let (donning, wear) = (worn().map(|e| e.donning).min()?, worn().map(|e| e.max_wear + e.donning).max()?);
    let in_date = |p: &Person, role, until: Minute| night.good_until(p, role).is_some_and(|end| end >= until);
    let assistant = worn().all(|e| e.assistant).then_some(Role::Assistant);
    let (dons, removes) = (Role::DonningObserver, [Role::DoffingObserver].into_iter().chain(assistant));
    asked(night).into_iter().find_map(|(latest_in, earliest_out)| {
        let off = earliest_out + removal;
        let sees_out = |role| helpers_of(night, role).any(|p| p.on_duty.to >= off && in_date(p, role, off));
        // A donning lies no further back than the longest wear and what of it comes before wear.
        let sees_in = |p: &Person| p.on_duty.from + donning <= latest_in && in_date(p, dons, latest_in - wear);
        let gone = removes.clone().find(|&role| !sees_out(role)).map(|role| (role, earliest_out));
        let not_yet = (!helpers_of(night, dons).any(sees_in)).then_some((dons, latest_in));
        gone.or(not_yet).map(|(role, at)| Bound::NobodyThen { role, at })
    })
}

/// Fewer may go in than one task takes.
fn too_few_for_tasks(night: &Night, uses: &[Use]) -> Option<Bound> {
    let needed = night.roster.tasks.iter().map(|task| task.people.max(night.limits.min_inside)).max()?;
    let entrants = count(uses.len());
    (entrants < needed).then_some(Bound::AtOnce { entrants, needed })
}

/// At the first minute of a stretch and at its last: who may be inside then.
fn at_once(stretches: &[Stretch], uses: &[Use]) -> Option<Bound> {
    stretches.iter().find_map(|stretch| {
        let at = |minute: Minute| count(uses.iter().filter(|usage| usage.window.contains(minute)).count());
        let entrants = at(stretch.span.from).min(at(stretch.span.to - Minutes(1)));
        (entrants < stretch.inside).then_some(Bound::AtOnce { entrants, needed: stretch.inside })
    })
}

/// Person-minutes inside, against those asked for.
///
/// With the overlap: whoever leaves before the end has been inside for `o` minutes beside those who carry on, and they
/// are enough for the room, so these `o` minutes add nothing. Of those who stay to the end as many as are asked for owe
/// nothing, and the others add nothing at all once these are in. Hence people x (H - o) <= the sum of (stay - o). It
/// holds for a room with one stretch, everybody away for longer than `o`.
fn capacity(stretches: &[Stretch], uses: &[Use], overlap: Overlap) -> Option<Bound> {
    let need = need(stretches, uses, overlap).filter(|_| !stretches.is_empty())?;
    let hull = hull(stretches);
    let have = uses.iter().map(|usage| usage.most(hull, overlap).0).sum();
    (have < need).then_some(Bound::Capacity { have, need })
}

/// What is asked for; `None` where the overlap cannot be counted.
#[must_use]
pub fn need(stretches: &[Stretch], uses: &[Use], overlap: Overlap) -> Option<Minutes> {
    let counted = overlap == Overlap::Counted;
    if counted && !(stretches.iter().all(|s| s.alone) && uses.iter().all(Use::away_long_enough)) {
        return None;
    }
    let owed = if counted { uses.iter().map(|u| u.overlap).max().unwrap_or_default() } else { Minutes::ZERO };
    let people = |s: &Stretch| if counted { s.people } else { s.inside };
    let one = |s: &Stretch| i64::from(people(s)) * (s.span.length() - owed).0.max(0);
    Some(Minutes(stretches.iter().map(one).sum()))
}

/// One place all the time: `N = min(ceil((H - o) / (c - o)), ceil(P / (c - o)))`, trade page section 7.
///
/// Until somebody goes in again each has been in once, and N stays cover at most N (c - o) + o. While the first to
/// return is away, for `between` at least, the others cover that and the overlap at both ends with N - 1 stays.
fn rotation(stretches: &[Stretch], uses: &[Use]) -> Option<Bound> {
    let [post] = stretches else { return None };
    let longest = uses.iter().map(|u| u.stay).max()?;
    let away = uses.iter().map(|u| u.between).min()?;
    let overlap = uses.first()?.overlap;
    if post.inside != 1 || longest <= overlap {
        return None;
    }
    let net = longest - overlap;
    let once = parts(post.span.length() - overlap, net);
    let needed = once.min(parts(longest + away, net));
    let entrants = count(uses.len());
    (entrants < needed).then_some(Bound::Rotation { entrants, needed })
}

/// One room with two places or more all the time, and nobody passes its door alone (D8): `2 x min(ceil((H - o) / (c - o)),
/// ceil(P / (c - o)))`. For two places it is the figure of the trade page, section 7; for more it is true and low.
///
/// Those inside at the first minute are the first lot, whoever comes in later in the same minute is a lot of their own:
/// two people at least. When the last of some lots leaves before the end, those who carry on have been there for `o`, so
/// each lot comes `c - o` at most after the one before, the first at the first minute or earlier. Where nobody comes
/// twice, R lots reach to the end: `H <= (R - 1)(c - o) + c`, and 2 R people are needed.
///
/// Else let lot R + 1 be the first with somebody who was in before; they left at x and come back at x + b or later, `P =
/// c + b`. Somebody left with them, and two at least carry on who had been there for `o`; all four had come by x - o,
/// since no stay is shorter than `o`. Let lot j be the last to have come by then.
/// - j >= 2: lot R + 1 comes by `x - o + (R + 1 - j)(c - o)`, so `b + o <= (R - 1)(c - o)`, which is `P <= R (c - o)`;
///   2 R people are needed.
/// - j = 1: all four are of the first lot, 2 (R + 1) people are needed. If all of that lot had come by x - o, then `b + o
///   <= R (c - o)`, which is `P <= (R + 1)(c - o)`.
/// - If some of the first lot came later than x - o, two of them did and are inside at the first minute: 2 (R + 2) people
///   are needed. Lot R + 1 comes by `R (c - o)`, so `b <= R (c - o)` and `P <= R (c - o) + c <= (R + 2)(c - o)` where `c >=
///   2 o`, which is asked for.
fn rotation_in_pairs(stretches: &[Stretch], uses: &[Use]) -> Option<Bound> {
    let [post] = stretches else { return None };
    let longest = uses.iter().map(|u| u.stay).max()?;
    let away = uses.iter().map(|u| u.between).min()?;
    let overlap = uses.first()?.overlap;
    let net = longest - overlap;
    if post.people < 2 || net <= Minutes::ZERO || net < overlap {
        return None;
    }
    let lots = parts(post.span.length() - overlap, net).min(parts(longest + away, net));
    let (entrants, needed) = (count(uses.len()), 2 * lots);
    (entrants < needed).then_some(Bound::RotationInPairs { entrants, needed })
}

fn count(people: usize) -> u32 {
    u32::try_from(people).unwrap_or(u32::MAX)
}

/// The fewest entries that cover all stretches.
#[must_use]
pub fn fewest_entries(stretches: &[Stretch], uses: &[Use]) -> i64 {
    let longest = uses.iter().map(|u| u.stay).max().unwrap_or(Minutes(1));
    let entries = |overlap, owed| need(stretches, uses, overlap).map_or(0, |need| parts(need, longest - owed));
    let overlap = uses.first().map_or(Minutes::ZERO, |u| u.overlap);
    let counted = if longest > overlap { entries(Overlap::Counted, overlap) } else { 0 };
    i64::from(counted.max(entries(Overlap::Left, Minutes::ZERO)))
}

/// The minutes that one entry takes of a helper: the least that any ensemble asks for. Ready, reset and cleaning minutes
/// are left out, since some removals of a run do without.
#[must_use]
pub fn help(night: &Night, role: Role, uses: &[Use]) -> Minutes {
    let limits = &night.limits;
    let worn = || uses.iter().map(|usage| limits.ensemble(usage.ensemble));
    let least = match role {
        Role::DonningObserver => worn().map(|e| e.donning.0 / i64::from(limits.donning_capacity.max(1))).min(),
        Role::DoffingObserver => worn().map(|e| e.removal.0).min(),
        Role::Assistant if worn().all(|e| e.assistant) => worn().map(|e| e.removal.0).min(),
        _ => None,
    };
    Minutes(least.unwrap_or(0))
}

/// The most minutes that one person may watch in so many minutes on duty: a pause after every longest watch (C11).
#[must_use]
pub fn watchable(duty: Minutes, watching: Option<Watching>) -> Minutes {
    let duty = duty.0.max(0);
    let Some(watching) = watching else { return Minutes(duty) };
    let cycle = (watching.max + watching.pause).0.max(1);
    Minutes(duty / cycle * watching.max.0 + (duty % cycle).min(watching.max.0))
}

/// Work of helpers that the fewest entries bring, against the minutes that helpers have.
fn helpers(night: &Night, stretches: &[Stretch], uses: &[Use]) -> Option<Bound> {
    if stretches.is_empty() {
        return None;
    }
    let entries = fewest_entries(stretches, uses);
    [Role::DonningObserver, Role::DoffingObserver, Role::Assistant].into_iter().find_map(|role| {
        let need = Minutes(entries * help(night, role, uses).0);
        let have = helpers_of(night, role).map(|person| helper_minutes(night, role, person, stretches)).sum();
        (have < need).then_some(Bound::Helpers { role, have, need })
    })
}

/// The most minutes that a helper has for that work: removals come after the first minute of presence.
fn helper_minutes(night: &Night, role: Role, person: &Person, stretches: &[Stretch]) -> Minutes {
    let first: Minute = hull(stretches).from;
    let from = if role == Role::DonningObserver { person.on_duty.from } else { person.on_duty.from.max(first) };
    let duty = person.on_duty.to - from;
    if role == Role::Assistant { duty.max(Minutes::ZERO) } else { watchable(duty, night.limits.watching) }
}
