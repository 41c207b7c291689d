//! The answer on a terminal.

use super::CrewsView;
use super::hand::{lines, remarks};
use super::words::{self, CAUTIONS};
use crate::plan::Ended;
use crate::show::terminal::table::table;
use crate::show::text::{heading, paragraph, plain};
use crate::show::warnings::of_answer;
use crate::staffing::{Load, Smallest};

/// Every section of the answer.
#[must_use]
pub fn render(view: &CrewsView<'_>) -> String {
    let sections = [question(view), smallest(view), fewer(view), binding(view), by_hand(view), every_crew(view)];
    let caution = heading("CAUTION") + &CAUTIONS.iter().map(|text| paragraph(text)).collect::<String>();
    sections.concat() + &caution
}

fn question(view: &CrewsView<'_>) -> String {
    let (night, question) = (view.night, view.question);
    let people = if question.keep_people { "with the people of the roster" } else { "in the place of its people" };
    let mut text = heading("HOW MANY PEOPLE")
        + &paragraph(&format!("{}: asked of roster {}, {people}.", question.name, night.roster.name))
        + &paragraph(&format!("Limits: {}, approved by {}.", night.limits.name, night.limits.approval.by));
    for (word, words) in of_answer(view.is_example(), night, view.today) {
        text += &paragraph(&format!("{word}: {words}"));
    }
    let groups = question.groups.iter().map(|group| {
        let roles: Vec<&str> = group.roles.iter().map(|role| role.word()).collect();
        vec![group.id.clone(), roles.join(", "), range(group.from, group.to)]
    });
    text + "\n"
        + &table(&["group", "roles", "asked"], &groups.collect::<Vec<_>>())
        + "\n"
        + &paragraph(&words::answer(view))
}

fn range(from: u32, to: u32) -> String {
    if from == to { from.to_string() } else { format!("{from} to {to}") }
}

/// The names of the columns for levers and groups.
fn columns(view: &CrewsView<'_>) -> Vec<String> {
    let levers = view.question.tried.iter().map(|tried| words::lever(view, &tried.lever));
    levers.chain(view.question.groups.iter().map(|group| group.id.clone())).map(|name| plain(&name)).collect()
}

fn cells(view: &CrewsView<'_>, settings: &[u32], counts: &[u32]) -> Vec<String> {
    words::settings(view, settings).chain(counts.iter().map(u32::to_string)).collect()
}

fn drawn(view: &CrewsView<'_>, more: &[&str], rows: &[Vec<String>]) -> String {
    let names = columns(view);
    let header: Vec<&str> = names.iter().map(String::as_str).chain(more.iter().copied()).collect();
    table(&header, rows)
}

fn smallest(view: &CrewsView<'_>) -> String {
    let answer = view.answer;
    let row = |(found, load): (&Smallest, &Option<Load>)| {
        let none = || "-".to_owned();
        let counts = found.counts.as_ref();
        let heads = counts.map_or_else(|| "none".to_owned(), |counts| counts.iter().sum::<u32>().to_string());
        let groups = view.question.groups.iter().enumerate();
        let groups = groups.map(|(ix, _)| counts.map_or_else(none, |counts| counts[ix].to_string()));
        let settings = words::settings(view, &found.settings);
        let takes = [
            heads,
            load.as_ref().map_or_else(none, |load| load.removals.to_string()),
            load.as_ref().map_or_else(none, |load| load.helper_removals.to_string()),
            load.as_ref().map_or_else(none, |load| format!("{} min", load.largest_wear)),
        ];
        settings.chain(groups).chain(takes).collect::<Vec<_>>()
    };
    let rows: Vec<_> = answer.smallest.iter().zip(&answer.loads).map(row).collect();
    heading("THE SMALLEST CREW THAT COVERS")
        + &drawn(view, &["heads", "removals", "helpers'", "most wear"], &rows)
        + "\n"
        + &answer.smallest.iter().map(|found| paragraph(&words::known_before(view, found))).collect::<String>()
        + &paragraph(
            "Fewest heads first; of as many, fewest of the group named first. Removals and the most wear of anybody \
             are those of one whole rota of that crew, the best found.",
        )
}

fn fewer(view: &CrewsView<'_>) -> String {
    if view.answer.fewer.is_empty() {
        return String::new();
    }
    let rows = view.answer.fewer.iter().map(|fewer| {
        vec![
            view.question.groups[fewer.group].id.clone(),
            words::short_figure(&fewer.row),
            words::tasks(&fewer.row),
            words::truth(view, &fewer.row.verdict),
        ]
    });
    heading("WHAT ONE PERSON LESS COSTS")
        + &table(&["one fewer of", "person-min uncovered", "tasks not done", "known how"], &rows.collect::<Vec<_>>())
}

fn binding(view: &CrewsView<'_>) -> String {
    let (Some(binding), Some(said)) = (&view.answer.binding, words::what_binds(view)) else { return String::new() };
    let (row, effects) = (&binding.row, &binding.effects);
    let base = row.missed.as_ref().map_or_else(String::new, words::amount);
    let rows = effects.iter().map(|effect| {
        vec![words::relaxed(effect.relaxed), words::then(view, effect), words::effect_proof(effect).to_owned()]
    });
    heading("WHAT BINDS")
        + &paragraph(&format!(
            "The crew {}{}: {base}. One thing changed at a time:",
            words::crew(view, &row.counts),
            words::with_settings(view, &row.settings)
        ))
        + &table(&["changed alone", "then", "how good"], &rows.collect::<Vec<_>>())
        + "\n"
        + &paragraph(&format!(
            "{said} Without a rule of the unit nobody may work: those lines only show what it costs."
        ))
}

fn by_hand(view: &CrewsView<'_>) -> String {
    let rows: Vec<_> = lines(view).into_iter().map(|line| vec![line.what, line.sum, line.is]).collect();
    let steps = if rows.is_empty() { String::new() } else { table(&["", "reckoned", "comes to"], &rows) + "\n" };
    heading("BY HAND") + &steps + &remarks(view).iter().map(|text| paragraph(text)).collect::<String>()
}

fn every_crew(view: &CrewsView<'_>) -> String {
    let rows = view.answer.rows.iter().map(|row| {
        let mut all = cells(view, &row.settings, &row.counts);
        all.push(words::short_figure(row));
        all.push(words::tasks(row));
        all.push(words::truth(view, &row.verdict));
        all
    });
    let cut = match view.answer.ended {
        Ended::ByItself => String::new(),
        Ended::ByClock | Ended::ByUser => paragraph("STOPPED BEFORE THE END: the figures may be worse than need be."),
    };
    heading("EVERY CREW LOOKED AT")
        + &drawn(view, &["person-min uncovered", "tasks not done", "known how"], &rows.collect::<Vec<_>>())
        + "\n"
        + &paragraph(&format!(
            "{} crews were planned and checked; the others follow: more people of a kind never cover less. Figures \
             with * are the best found, not proven best; - was not planned.",
            view.answer.planned
        ))
        + &cut
}
