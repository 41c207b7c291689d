//! The words of an answer about crews.

use super::CrewsView;
use crate::night::{Lever, Relief, Role};
use crate::plan::Ended;
use crate::staffing::{Before, Bound, Effect, Missed, Relaxed, Row, Short, Smallest, Verdict};

/// What has to be kept in mind with every such answer.
pub const CAUTIONS: [&str; 4] = [
    "A MINIMUM IS NOT AN ESTABLISHMENT. It has nobody for sickness, leave, training, a patient who gets worse or a \
     removal that takes longer. It says below how many the work cannot be covered by these rules; it does not say that \
     so many are enough to employ.",
    "A crew that is called short is short by these limits on this roster. One that is called enough has one rota that \
     works to the minute when everything goes to plan.",
    "The figures are of crews, not of people: nobody is compared with anybody, and nothing here is a reason to go in \
     for longer or to rest for less.",
    "The limits are the unit's own; this program neither chose nor verified them. Occupational health, infection \
     prevention, staff representatives and local law come first.",
];

/// `entrants 3, watchers 2`.
pub fn crew(view: &CrewsView<'_>, counts: &[u32]) -> String {
    let groups = view.question.groups.iter().zip(counts);
    groups.map(|(group, count)| format!("{} {count}", group.id)).collect::<Vec<_>>().join(", ")
}

/// What a lever is called above its figures.
pub fn lever(view: &CrewsView<'_>, lever: &Lever) -> String {
    match lever {
        Lever::Lanes => "lanes".to_owned(),
        Lever::MaxInside => "most inside".to_owned(),
        Lever::Relief => "relief".to_owned(),
        Lever::MaxWear(ensemble) => format!("longest wear {}, min", view.night.limits.ensemble(*ensemble).id),
        Lever::Respirators { model, size } => format!("respirators {model} {size}"),
    }
}

/// A figure of a lever: a number, or the word that it stands for.
pub fn setting(lever: &Lever, value: u32) -> String {
    match lever {
        Lever::Relief => Relief::at(value).word().to_owned(),
        Lever::Lanes | Lever::MaxInside | Lever::MaxWear(_) | Lever::Respirators { .. } => value.to_string(),
    }
}

/// Every figure of a choice, in the order of the levers.
pub fn settings<'a>(view: &'a CrewsView<'_>, values: &'a [u32]) -> impl Iterator<Item = String> + 'a {
    view.question.tried.iter().zip(values).map(|(tried, &value)| setting(&tried.lever, value))
}

/// ` with lanes 2, most inside 3`, or nothing.
pub fn with_settings(view: &CrewsView<'_>, settings: &[u32]) -> String {
    let all = view.question.tried.iter().zip(self::settings(view, settings));
    let all: Vec<String> = all.map(|(tried, value)| format!("{} {value}", lever(view, &tried.lever))).collect();
    if all.is_empty() { String::new() } else { format!(", with {}", all.join(", ")) }
}

/// The answer in a sentence or two.
pub fn answer(view: &CrewsView<'_>) -> String {
    let answer = view.answer;
    let all = if view.question.keep_people { "beside the people of the roster " } else { "" };
    let cut = match answer.ended {
        Ended::ByItself => "",
        Ended::ByClock | Ended::ByUser => " STOPPED BEFORE THE END: another run may say more.",
    };
    let Some(found) = answer.leading.map(|ix| &answer.smallest[ix]) else {
        let proven = answer.smallest.iter().all(Smallest::proven) && every_largest_is_short(view);
        let sure = if proven {
            "No crew in the range covers everything: proven."
        } else {
            "No crew in the range was found to cover everything. That there is none is not proven: more --effort may \
             find one."
        };
        return format!("{sure}{cut}");
    };
    let counts = found.counts.as_deref().unwrap_or(&[]);
    let heads: u32 = counts.iter().sum();
    format!(
        "The smallest crew that covers everything {all}has {heads} {}: {}{}. {}{cut}",
        if heads == 1 { "person" } else { "people" },
        crew(view, counts),
        with_settings(view, &found.settings),
        if found.proven() { "No smaller crew in the range does: proven." } else { NOT_PROVEN },
    )
}

const NOT_PROVEN: &str = "Whether a smaller one does is not proven: for some of them no such rota was found, and none \
                          was ruled out. More --effort may settle it.";

fn every_largest_is_short(view: &CrewsView<'_>) -> bool {
    let largest = |s: &Smallest| view.answer.rows.iter().find(|r| r.counts == s.largest && r.settings == s.settings);
    view.answer.smallest.iter().all(|s| largest(s).is_some_and(|row| row.verdict.is_short()))
}

/// How it is known that the crews before an answer are short, for one choice of figures of the levers.
pub fn known_before(view: &CrewsView<'_>, smallest: &Smallest) -> String {
    let which = with_settings(view, &smallest.settings);
    let asked = if smallest.counts.is_some() { "Crews that come before it" } else { "Crews asked about" };
    format!("{asked}{which}: {}.", how_known(smallest))
}

/// How it is known that no smaller crew covers.
pub fn how_known(smallest: &Smallest) -> String {
    let Before { by_hand, by_search, follows, open } = smallest.before;
    let all = [
        (by_hand, "by arithmetic"),
        (by_search, "by a complete search"),
        (follows, "since a larger crew is short"),
        (open, "found short and not proven"),
    ];
    let said: Vec<String> = all.iter().filter(|(n, _)| *n > 0).map(|(n, how)| format!("{n} {how}")).collect();
    if said.is_empty() { "none".to_owned() } else { said.join(", ") }
}

/// Whether a crew covers, and how that is known.
pub fn truth(view: &CrewsView<'_>, verdict: &Verdict) -> String {
    match verdict {
        Verdict::Enough => "covers: planned, checked".to_owned(),
        Verdict::EnoughAs(smaller) => format!("covers, since {} do", bare(view, smaller)),
        Verdict::Short(Short::ByHand(bound)) => format!("short: {}", because(view, bound)),
        Verdict::Short(Short::BySearch) => "short: proven".to_owned(),
        Verdict::Short(Short::Follows(larger)) => format!("short, since {} are", bare(view, larger)),
        Verdict::Open => "short so far, not proven".to_owned(),
    }
}

/// The counts of a point alone: `3 2 1`.
fn bare(view: &CrewsView<'_>, point: &[u32]) -> String {
    let counts = point.iter().take(view.question.groups.len()).map(u32::to_string).collect::<Vec<_>>().join("+");
    let levers = settings(view, &point[view.question.groups.len()..]).collect::<Vec<_>>().join(", ");
    if levers.is_empty() { counts } else { format!("{counts} ({levers})") }
}

/// A bound in words, with its figures.
pub fn because(view: &CrewsView<'_>, bound: &Bound) -> String {
    match bound {
        Bound::NobodyThen { role, at } => {
            let when = if *role == Role::DonningObserver { "before" } else { "from" };
            format!("nobody is {} {when} {}", a_role(*role), view.night.roster.clock.hhmm(*at))
        }
        Bound::Nobody(role) => format!("nobody is {}", a_role(*role)),
        Bound::AtOnce { entrants, needed } => format!("{entrants} may enter, {needed} must be inside at once"),
        Bound::Capacity { have, need } => format!("entrants can cover {have} of {need} person-min"),
        Bound::Rotation { entrants, needed } => {
            format!("{entrants} may enter, {needed} are needed until the first is back")
        }
        Bound::RotationInPairs { entrants, needed } => {
            format!("{entrants} may enter, {needed} are needed in pairs until the first are back")
        }
        Bound::Helpers { role, have, need } => {
            format!("{} work {need} min, time for it {have} min", role.word())
        }
    }
}

fn a_role(role: Role) -> String {
    let word = role.word();
    if word.starts_with(['a', 'e']) { format!("an {word}") } else { format!("a {word}") }
}

/// Uncovered person-minutes, `*` where they are not proven best.
pub fn short_figure(row: &Row) -> String {
    figure(row, |missed| missed.person_minutes().0)
}

/// Tasks not done, `*` where that is not proven best.
pub fn tasks(row: &Row) -> String {
    figure(row, |missed| i64::from(missed.tasks()))
}

fn figure(row: &Row, of: impl Fn(&Missed) -> i64) -> String {
    match &row.missed {
        _ if row.verdict.is_enough() => "0".to_owned(),
        Some(missed) if row.proven || of(missed) == 0 => of(missed).to_string(),
        Some(missed) => format!("{} *", of(missed)),
        None => "-".to_owned(),
    }
}

/// `40 person-min uncovered, 1 task not done`.
pub fn amount(missed: &Missed) -> String {
    let all = [
        (missed.pins.into(), if missed.pins == 1 { "pin not kept" } else { "pins not kept" }),
        (missed.rescue.0, "min without standby or early-exit cover"),
        (missed.person_minutes().0, "person-min uncovered"),
        (i64::from(missed.tasks()), if missed.tasks() == 1 { "task not done" } else { "tasks not done" }),
        (missed.skill.0, "min without a skill"),
    ];
    let said: Vec<String> = all.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{n} {what}")).collect();
    if said.is_empty() { "nothing missed".to_owned() } else { said.join(", ") }
}

/// What a relaxation leaves.
pub fn then(view: &CrewsView<'_>, effect: &Effect) -> String {
    match (&effect.cover, &effect.still) {
        (Some(cover), _) => amount(&cover.missed),
        (None, Some(bound)) => format!("still short: {}", because(view, bound)),
        (None, None) => "not looked at".to_owned(),
    }
}

/// How good that is.
pub fn effect_proof(effect: &Effect) -> &'static str {
    match &effect.cover {
        None => "by arithmetic",
        Some(cover) if cover.proven_best => "proven best",
        Some(_) => "best found",
    }
}

/// What is relaxed.
pub fn relaxed(relaxed: Relaxed) -> String {
    match relaxed {
        Relaxed::Person(role) => format!("one more {}", role.word()),
        Relaxed::Lane => "one more lane".to_owned(),
        Relaxed::Rest => "no rest between two wears".to_owned(),
        Relaxed::WearInShift => "no limit on wear in the shift".to_owned(),
        Relaxed::Stock => "kits and respirators without end".to_owned(),
    }
}

/// What binds, in a sentence.
pub fn what_binds(view: &CrewsView<'_>) -> Option<String> {
    let binding = view.answer.binding.as_ref()?;
    let base = binding.row.missed.as_ref()?;
    let closes = binding.effects.iter().filter(|effect| effect.closes());
    let closes: Vec<String> = closes.map(|effect| relaxed(effect.relaxed)).collect();
    let helps = binding.effects.iter().filter(|effect| effect.cover.as_ref().is_some_and(|c| c.missed < *base)).count();
    // Arithmetic and proven figures say that something does not help; a best-found one says only that nothing was found.
    let sure = |effect: &Effect| effect.still.is_some() || effect.cover.as_ref().is_some_and(|c| c.proven_best);
    let all_sure = binding.row.verdict.is_short() && binding.effects.iter().all(sure);
    Some(match (closes.as_slice(), helps) {
        ([], _) if !all_sure => {
            "No rota was found that closes it with one of these alone, and none is ruled out: more \
                                 --effort may find one."
                .to_owned()
        }
        ([], 0) => "Nothing alone makes it less: more than one thing is short.".to_owned(),
        ([], _) => "Nothing alone closes it; what makes it less binds.".to_owned(),
        (all, _) => format!("Each of these alone closes it: {}.", all.join("; ")),
    })
}
