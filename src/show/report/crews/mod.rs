//! The manager's page about crews: to be laid on a desk beside the numbers.

mod bars;
mod map;

use maud::{Markup, html};

use super::{Report, Section, html as page_of, table};
use crate::night::Question;
use crate::plan::Ended;
use crate::show::crews::{
    CAUTIONS, CrewsView, amount, answer, crew, effect_proof, how_known, lever, lines, relaxed, remarks, settings,
    short_figure, tasks, then, truth, what_binds,
};
use crate::show::text::plain;
use crate::staffing::Row;

/// The whole page.
#[must_use]
pub fn page(view: &CrewsView<'_>) -> String {
    page_of(&Report {
        question: format!("How many people does it take? {}", view.question.name),
        about: about(view),
        answer: answer(view),
        night: view.night,
        example: view.is_example(),
        today: view.today,
        sections: sections(view),
        cautions: CAUTIONS.to_vec(),
    })
}

fn about(view: &CrewsView<'_>) -> String {
    let (roster, keep) = (&view.night.roster, view.question.keep_people);
    let people =
        if keep { "people on top of those of the roster" } else { "people in the place of those of the roster" };
    let cut = if view.answer.ended == Ended::ByItself { "" } else { " Stopped before the end." };
    format!("{}: roster {}, {people}. Limits: {}.{cut}", roster.unit, roster.name, view.night.limits.name)
}

fn sections(view: &CrewsView<'_>) -> Vec<Section> {
    let all = [
        ("asked", "What was asked", Some(asked(view.question))),
        ("smallest", "The smallest crew that covers", Some(smallest(view))),
        ("one-fewer", "What one person less costs", fewer(view)),
        ("binds", "What binds", binds(view)),
        ("by-hand", "By hand", Some(by_hand(view))),
        ("by-heads", "Person-minutes uncovered, by heads", bars::by_heads(view)),
        ("two-groups", "Two groups against each other", map::two_groups(view)),
        ("every-crew", "Every crew looked at", Some(every_crew(view))),
    ];
    let present = all.into_iter().filter_map(|(mark, title, body)| Some((mark, title, body?)));
    present.map(|(mark, title, body)| Section::new(mark, title, body)).collect()
}

fn asked(question: &Question) -> Markup {
    let rows: Vec<Markup> = question
        .groups
        .iter()
        .map(|group| {
            let roles: Vec<&str> = group.roles.iter().map(|role| role.word()).collect();
            html! { tr { th scope="row" { (plain(&group.id)) } td { (roles.join(", ")) } td.n { (group.from) } td.n { (group.to) } } }
        })
        .collect();
    table("Groups of people who are alike", &["group", "roles of each", "from", "to"], &rows)
}

/// The names of levers and groups, as columns.
fn columns(view: &CrewsView<'_>, more: &[&str]) -> Vec<String> {
    let levers = view.question.tried.iter().map(|tried| lever(view, &tried.lever));
    let groups = view.question.groups.iter().map(|group| group.id.clone());
    levers.chain(groups).map(|name| plain(&name)).chain(more.iter().map(|&name| name.to_owned())).collect()
}

fn crew_table(view: &CrewsView<'_>, caption: &str, more: &[&str], rows: &[Markup]) -> Markup {
    let names = columns(view, more);
    table(caption, &names.iter().map(String::as_str).collect::<Vec<_>>(), rows)
}

fn smallest(view: &CrewsView<'_>) -> Markup {
    let all = view.answer.smallest.iter().zip(&view.answer.loads);
    let rows: Vec<Markup> = all
        .map(|(found, load)| {
            let heads = found.counts.as_ref().map_or_else(|| "none".to_owned(), |c| c.iter().sum::<u32>().to_string());
            html! { tr {
                @for value in settings(view, &found.settings) { td.n { (value) } }
                @for group in 0..view.question.groups.len() {
                    td.n { (found.counts.as_ref().map_or_else(|| "-".to_owned(), |counts| counts[group].to_string())) }
                }
                td.n { b { (heads) } }
                @match load {
                    Some(load) => { td.n { (load.removals) } td.n { (load.helper_removals) } td.n { (load.largest_wear) " min" } }
                    None => { td.n { "-" } td.n { "-" } td.n { "-" } }
                }
                td { (how_known(found)) }
            } }
        })
        .collect();
    let more = ["heads", "removals", "removals of helpers", "most wear of anybody", "smaller ones are short"];
    html! {
        (crew_table(view, "Fewest heads first; of as many, fewest of the group named first", &more, &rows))
        p { "Removals and the most wear are those of one whole rota of that crew, planned at every level and checked: the best found." }
    }
}

fn fewer(view: &CrewsView<'_>) -> Option<Markup> {
    let rows = view.answer.fewer.iter().map(|fewer| {
        let row = &fewer.row;
        html! { tr {
            th scope="row" { (plain(&view.question.groups[fewer.group].id)) }
            td.n { (short_figure(row)) } td.n { (tasks(row)) } td { (truth(view, &row.verdict)) }
        } }
    });
    let rows: Vec<Markup> = rows.collect();
    let columns = ["one fewer of", "person-minutes uncovered", "tasks not done", "known how"];
    (!rows.is_empty()).then(|| table("The smallest crew with one person less", &columns, &rows))
}

fn binds(view: &CrewsView<'_>) -> Option<Markup> {
    let (binding, said) = (view.answer.binding.as_ref()?, what_binds(view)?);
    let rows: Vec<Markup> = binding
        .effects
        .iter()
        .map(|effect| {
            html! { tr {
                th scope="row" { (relaxed(effect.relaxed)) }
                td { (then(view, effect)) }
                td { @if effect.closes() { b { "closes it" } } }
                td { (effect_proof(effect)) }
            } }
        })
        .collect();
    let base = binding.row.missed.as_ref().map_or_else(String::new, amount);
    Some(html! {
        p { "The crew " (plain(&crew(view, &binding.row.counts))) ": " (base) ". One thing changed at a time." }
        (table("Changed alone", &["changed alone", "then", "", "how good"], &rows))
        p { (said) " Without a rule of the unit nobody may work: those lines only show what it costs." }
    })
}

fn by_hand(view: &CrewsView<'_>) -> Markup {
    let rows: Vec<Markup> = lines(view)
        .into_iter()
        .map(|line| html! { tr { th scope="row" { (line.what) } td { (line.sum) } td.n { b { (line.is) } } } })
        .collect();
    html! {
        @if !rows.is_empty() { (table("To be followed with a pencil; minutes", &["", "reckoned", "comes to"], &rows)) }
        @for text in remarks(view) { p { (text) } }
    }
}

fn every_crew(view: &CrewsView<'_>) -> Markup {
    let row = |row: &Row| {
        html! { tr {
            @for value in settings(view, &row.settings) { td.n { (value) } }
            @for count in &row.counts { td.n { (count) } }
            td.n { (short_figure(row)) } td.n { (tasks(row)) } td { (truth(view, &row.verdict)) }
        } }
    };
    let rows: Vec<Markup> = view.answer.rows.iter().map(row).collect();
    html! {
        (crew_table(view, "Smallest first", &["person-minutes uncovered", "tasks not done", "known how"], &rows))
        p {
            (view.answer.planned) " crews were planned and checked; the others follow: more people of a kind never \
            cover less. Figures with * are the best found, not proven best; - was not planned."
        }
    }
}
