//! The arithmetic of section 7 of the trade page with the unit's own figures: what a finance officer can follow with a
//! pencil, beside what was planned.

use super::hand::{self, Bound};
use super::uses::{self, Overlap, Stretch, Use};
use crate::night::{Minutes, Night, Relief, Role};

/// Everything the arithmetic of one night comes to. All entrants are taken to be like the first.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Arithmetic {
    /// How one of them may be inside.
    pub entrant: Use,
    /// The stretches of presence, by room and time.
    pub stretches: Vec<Stretch>,
    /// `c - o`: what one stay adds; above nothing.
    pub net: Minutes,
    /// `P`: from one door in to the next of the same person.
    pub cycle: Minutes,
    /// `k`: the most people that have to be inside at the same minute, all rooms together.
    pub posts: u32,
    /// Entries for one place of each stretch, in their order.
    pub entries: Vec<u32>,
    /// Entries of the night: every place of every stretch.
    pub all_entries: u32,
    /// Whether the overlap of every entry is counted in what follows.
    pub overlap: Overlap,
    /// Person-minutes asked for, less the overlap that nobody owes at the end.
    pub need: Minutes,
    /// How long one person may be inside from the first minute of presence to the last, by duty and sign-off.
    pub time: Minutes,
    /// The most that one person adds.
    pub each: Minutes,
    /// In how many entries.
    pub in_entries: i64,
    /// Entrants, if wear in the shift and time are all that count.
    pub by_wear: u32,
    /// Entrants in the long run, where one relieves one.
    pub one_by_one: u32,
    /// Entrants in the long run, where all inside are relieved at once.
    pub paired: u32,
    /// Entrants in the long run, where two or more are relieved at once, but not always all (D8).
    pub in_pairs: u32,
    /// The unit's relief style: which of the three counts.
    pub relief: Relief,
    /// Lanes in the long run.
    pub lanes: u32,
    /// The fewest entrants that no arithmetic rules out, on this night.
    pub least: u32,
    /// Why one fewer is ruled out.
    pub because: Option<Bound>,
    /// The work that the entries bring for helpers.
    pub work: Vec<Work>,
}

/// Work of one role of helpers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Work {
    /// The role.
    pub role: Role,
    /// The fewest entries.
    pub entries: i64,
    /// Minutes of each.
    pub each: Minutes,
    /// The most minutes of it that one helper has who is on duty from the first minute of presence to the end of the
    /// shift.
    pub one_has: Minutes,
}

/// The most entrants that the arithmetic goes to.
const MOST: usize = 500;

impl Arithmetic {
    /// Of a night; `None` where no presence is asked for, where nobody may go in, or where a stay is no longer than
    /// the overlap.
    #[must_use]
    pub fn of(night: &Night) -> Option<Self> {
        let stretches = uses::stretches(night);
        let entrant = night.roster.person_indices().find_map(|ix| Use::of(night, ix))?;
        let net = entrant.stay - entrant.overlap;
        if stretches.is_empty() || net <= Minutes::ZERO {
            return None;
        }
        let entries: Vec<u32> =
            stretches.iter().map(|s| uses::parts(s.span.length() - entrant.overlap, net).max(1)).collect();
        let all_entries = stretches.iter().zip(&entries).map(|(s, &e)| s.inside * e).sum();
        let hull = uses::hull(&stretches);
        let one = std::slice::from_ref(&entrant);
        // Overlaps cannot be counted where a room has several stretches, or where more go in than are asked for.
        let more_inside = stretches.iter().any(|s| s.inside > s.people);
        let counted = hand::need(&stretches, one, Overlap::Counted).filter(|_| !more_inside);
        let overlap = if counted.is_some() { Overlap::Counted } else { Overlap::Left };
        let need = counted.or_else(|| hand::need(&stretches, one, Overlap::Left))?;
        let (each, in_entries) = entrant.most(hull, overlap);
        let cycle = entrant.stay + entrant.between;
        let posts = most_at_once(&stretches);
        let turns = entries.iter().copied().max().unwrap_or(1);
        let (least, because) = least(&stretches, entrant, night.limits.relief);
        let paired = posts * uses::parts(cycle, net).min(turns);
        // Two places relieved together are one place of pairs.
        let pairs = posts.div_ceil(2);
        let by_pairs = 2 * uses::parts(Minutes(cycle.0 * i64::from(pairs)), net).min(pairs * turns);
        Some(Self {
            entrant,
            net,
            cycle,
            posts,
            all_entries,
            overlap,
            need,
            time: entrant.window.intersection(hull).length(),
            each,
            in_entries,
            by_wear: if each > Minutes::ZERO { uses::parts(need, each) } else { u32::MAX },
            one_by_one: uses::parts(Minutes(cycle.0 * i64::from(posts)), net).min(posts * turns),
            paired,
            in_pairs: if posts < 2 { by_pairs } else { by_pairs.min(paired) },
            relief: night.limits.relief,
            lanes: lanes(night, entrant, posts, net),
            least,
            because,
            work: work(night, &stretches, entrant),
            entries,
            stretches,
        })
    }
}

/// The most people asked for in one minute: it begins with some stretch.
fn most_at_once(stretches: &[Stretch]) -> u32 {
    let at = |s: &Stretch| stretches.iter().filter(|o| o.span.contains(s.span.from)).map(|o| o.inside).sum();
    stretches.iter().map(at).max().unwrap_or(0)
}

fn lanes(night: &Night, entrant: Use, posts: u32, net: Minutes) -> u32 {
    let held = night.limits.ensemble(entrant.ensemble).removal + night.limits.cleaning;
    uses::parts(Minutes(held.0 * i64::from(posts)), net)
}

/// The fewest entrants alike that are not shown to be too few, and why one fewer is.
fn least(stretches: &[Stretch], entrant: Use, relief: Relief) -> (u32, Option<Bound>) {
    let mut because = None;
    for many in 0..=MOST {
        match hand::short_of_entrants(stretches, &vec![entrant; many], relief) {
            Some(bound) => because = Some(bound),
            None => return (u32::try_from(many).unwrap_or(u32::MAX), because),
        }
    }
    (u32::MAX, because)
}

fn work(night: &Night, stretches: &[Stretch], entrant: Use) -> Vec<Work> {
    let uses = std::slice::from_ref(&entrant);
    let entries = hand::fewest_entries(stretches, uses);
    let to_the_end = night.roster.shift.to - uses::hull(stretches).from;
    let roles = [Role::DonningObserver, Role::DoffingObserver, Role::Assistant];
    let work = |role| Work {
        role,
        entries,
        each: hand::help(night, role, uses),
        one_has: match role {
            Role::Assistant => to_the_end,
            _ => hand::watchable(to_the_end, night.limits.watching),
        },
    };
    roles.into_iter().map(work).filter(|work| work.each > Minutes::ZERO).collect()
}
