//! The arithmetic, a line to a step, with the unit's own figures put in.

use super::CrewsView;
use super::words::because;
use crate::night::{Minutes, Night, Relief, Role, WearFrom};
use crate::staffing::{Arithmetic, Bound, Overlap, Stretch, StyleBound, Work};

/// One step: what it is, the sum, what it comes to.
pub struct Line {
    /// What is reckoned.
    pub what: String,
    /// The sum.
    pub sum: String,
    /// What it comes to.
    pub is: String,
}

fn line(what: &str, sum: String, is: String) -> Line {
    Line { what: what.to_owned(), sum, is }
}

/// Every step, in order; none where there is nothing to reckon.
pub fn lines(view: &CrewsView<'_>) -> Vec<Line> {
    let Some(hand) = &view.answer.arithmetic else { return vec![] };
    let mut lines = entry(view.night, hand);
    lines.extend(hand.stretches.iter().zip(&hand.entries).map(|(s, &n)| stretch(view.night, hand, s, n)));
    lines.push(line(
        "entries of the night",
        "places x entries, all stretches".to_owned(),
        hand.all_entries.to_string(),
    ));
    lines.extend(people(view, hand));
    lines.extend(hand.work.iter().map(helper));
    lines
}

/// One entry of one person.
fn entry(night: &Night, hand: &Arithmetic) -> Vec<Line> {
    let (entrant, ensemble) = (&hand.entrant, night.limits.ensemble(hand.entrant.ensemble));
    let dressed = match night.limits.wear_from {
        WearFrom::Sealed => format!(" - {} sealed", ensemble.sealed),
        WearFrom::DonningStart => format!(" - {} donning", ensemble.donning),
        WearFrom::DoorIn => String::new(),
    };
    let margin = if ensemble.margin > Minutes::ZERO { format!(" - {} margin", ensemble.margin) } else { String::new() };
    let grid = night.limits.grid;
    let exact = ensemble.max_wear - ensemble.margin - entrant.around;
    let rounded = if exact == entrant.stay { String::new() } else { format!(" = {exact}, on the grid of {grid}") };
    let rest = night.limits.full_rest(entrant.ensemble);
    vec![
        line(
            "longest stay c",
            format!("{} longest wear{margin}{dressed} - {} removal{rounded}", ensemble.max_wear, ensemble.removal),
            format!("{} min", entrant.stay),
        ),
        line(
            "what a stay adds",
            format!("{} - {} overlap with the relief", entrant.stay, entrant.overlap),
            format!("{} min", hand.net),
        ),
        line(
            "door to door P",
            format!(
                "{} stay + {} removal + {rest} rest + {} donning",
                entrant.stay, ensemble.removal, ensemble.donning
            ),
            format!("{} min", hand.cycle),
        ),
    ]
}

fn stretch(night: &Night, hand: &Arithmetic, stretch: &Stretch, entries: u32) -> Line {
    let (clock, overlap) = (night.roster.clock, hand.entrant.overlap);
    let (from, to) = (clock.hhmm(stretch.span.from), clock.hhmm(stretch.span.to));
    let length = stretch.span.length() - overlap;
    line(
        &format!("entries, a place {from}-{to}"),
        format!("({} - {overlap}) / {} = {}", stretch.span.length(), hand.net, hundredths(length, hand.net)),
        format!("{entries}, for {} inside", stretch.inside),
    )
}

fn people(view: &CrewsView<'_>, hand: &Arithmetic) -> Vec<Line> {
    let (night, entrant, net) = (view.night, &hand.entrant, hand.net);
    let owed = if hand.overlap == Overlap::Counted { entrant.overlap } else { Minutes::ZERO };
    let a_turn = if hand.overlap == Overlap::Counted { "overlaps off" } else { "overlaps left aside" };
    let held = night.limits.ensemble(entrant.ensemble).removal + night.limits.cleaning;
    let mut lines = vec![
        line("asked for", format!("person-minutes, {a_turn}"), format!("{} min", hand.need)),
        line("one person adds at most", most_of_one(hand, owed), format!("{} min", hand.each)),
    ];
    if hand.each > Minutes::ZERO {
        let sum = format!("{} / {} = {}", hand.need, hand.each, hundredths(hand.need, hand.each));
        lines.push(line("entrants, by wear and time", sum, hand.by_wear.to_string()));
    }
    lines.extend(long_run(hand, !view.answer.by_style.is_empty()));
    lines.extend([line(
        "lanes in the long run",
        format!("{} x {held} / {net} = {}", hand.posts, hundredths(times(held, hand.posts), net)),
        hand.lanes.to_string(),
    )]);
    lines.extend(at_least(view, hand));
    lines
}

/// The fewest entrants that no arithmetic rules out; of each relief style where several are tried.
fn at_least(view: &CrewsView<'_>, hand: &Arithmetic) -> Vec<Line> {
    let why = |bound: &Option<Bound>| {
        let said = bound.as_ref().map(|bound| format!("with one fewer: {}", because(view, bound)));
        said.unwrap_or_else(|| "nobody is asked for".to_owned())
    };
    let styles = &view.answer.by_style;
    if styles.is_empty() {
        return vec![line("ENTRANTS, AT LEAST", why(&hand.because), hand.least.to_string())];
    }
    let one = |style: &StyleBound| {
        let what = format!("ENTRANTS, AT LEAST, {}", style.relief.word());
        line(&what, why(&style.because), style.least.to_string())
    };
    styles.iter().map(one).collect()
}

/// Entrants in the long run, for the relief styles that the unit allows, or for `all` of them.
fn long_run(hand: &Arithmetic, all: bool) -> Vec<Line> {
    let (posts, cycle, net) = (hand.posts, hand.cycle, hand.net);
    let one_by_one = || {
        line(
            "in the long run, one by one",
            format!("{posts} x {cycle} / {net} = {}", hundredths(times(cycle, posts), net)),
            hand.one_by_one.to_string(),
        )
    };
    let turns = hand.paired / posts.max(1);
    let all_at_once = || {
        line(
            "in the long run, all at once",
            format!("{posts} x {turns}, from {cycle} / {net} = {}", hundredths(cycle, net)),
            hand.paired.to_string(),
        )
    };
    let pairs = posts.div_ceil(2);
    let in_pairs = || {
        line(
            "in the long run, in pairs",
            format!(
                "2 x {}, from {pairs} x {cycle} / {net} = {}",
                hand.in_pairs / 2,
                hundredths(times(cycle, pairs), net)
            ),
            hand.in_pairs.to_string(),
        )
    };
    match hand.relief {
        _ if all && hand.in_pairs != hand.paired => vec![one_by_one(), in_pairs(), all_at_once()],
        Relief::InPairs | Relief::OneByOne if all => vec![one_by_one(), all_at_once()],
        Relief::Either => vec![one_by_one(), all_at_once()],
        Relief::OneByOne => vec![one_by_one()],
        Relief::InPairs if hand.in_pairs == hand.paired => vec![all_at_once()],
        Relief::InPairs if posts < 2 => vec![in_pairs()],
        Relief::InPairs => vec![in_pairs(), all_at_once()],
    }
}

/// What limits one person: stays, time or wear in the shift.
fn most_of_one(hand: &Arithmetic, owed: Minutes) -> String {
    let (entrant, turns) = (&hand.entrant, hand.in_entries);
    let in_turns = if turns == 1 { "1 entry".to_owned() } else { format!("{turns} entries") };
    let off = if owed > Minutes::ZERO { format!(" - {turns} x {owed}") } else { String::new() };
    let (by_stay, by_time) = (entrant.stay.0 * turns, hand.time.0 - entrant.between.0 * (turns - 1));
    let by_wear = entrant.wear_left.map(|left| left.0 - entrant.around.0 * turns);
    match by_wear {
        Some(least) if least <= by_stay.min(by_time) => {
            let left = entrant.wear_left.map_or(0, |left| left.0);
            format!("{in_turns}: {left} wear in the shift - {turns} x {}{off}", entrant.around)
        }
        _ if by_time < by_stay => {
            let away = if turns > 1 { format!(" - {} x {}", turns - 1, entrant.between) } else { String::new() };
            format!("{in_turns}: {}{away}{off}", hand.time)
        }
        _ => format!("{in_turns}: {turns} x {}{off}", entrant.stay),
    }
}

fn helper(work: &Work) -> Line {
    let doing = match work.role {
        Role::DonningObserver => "watching donnings",
        Role::DoffingObserver => "watching removals",
        _ => "assisting removals",
    };
    let total = Minutes(work.entries * work.each.0);
    line(
        doing,
        format!(
            "{} entries at least x {} = {total} min; one helper has {} at most",
            work.entries, work.each, work.one_has
        ),
        format!("{} or more", needed(total, work.one_has)),
    )
}

fn needed(total: Minutes, has: Minutes) -> i64 {
    if has.0 <= 0 { 1 } else { (total.0.div_euclid(has.0) + i64::from(total.0.rem_euclid(has.0) > 0)).max(1) }
}

/// What the arithmetic takes for granted here, and why what was planned may need more.
pub fn remarks(view: &CrewsView<'_>) -> Vec<String> {
    let Some(hand) = &view.answer.arithmetic else {
        return vec![
            "There is no presence to reckon with, nobody who may go in, or no stay longer than the overlap.".to_owned(),
        ];
    };
    let mut all = vec![
        "The last line for entrants holds for every rota of this roster: it takes what it does not count in the crew's \
         favour. The lines for the long run are those of a night without end, full stays and all entrants alike; a \
         night that ends may do with fewer."
            .to_owned(),
    ];
    if hand.overlap == Overlap::Left {
        all.push(
            "Overlaps are left aside where a room has more than one stretch, or where more have to be inside than are \
             asked for: people may then be needed for less than the formula says."
                .to_owned(),
        );
    }
    all.push(
        "Waiting for a lane, breaks, tasks, skills, standby, early exits and helpers who are busy elsewhere are not in \
         it: where the planned crew is larger, one of these is why. WHAT BINDS shows which."
            .to_owned(),
    );
    all
}

/// A quotient with two places, cut off.
fn hundredths(whole: Minutes, part: Minutes) -> String {
    let hundred = whole.0.max(0) * 100 / part.0.max(1);
    format!("{}.{:02}", hundred / 100, hundred % 100)
}

fn times(length: Minutes, by: u32) -> Minutes {
    Minutes(length.0 * i64::from(by))
}
