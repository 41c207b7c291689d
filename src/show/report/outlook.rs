//! The page of the coming nights.

use maud::{Markup, html};

use super::{Report, Section, not_checked, table};
use crate::night::Role;
use crate::show::ahead::{
    Ahead, HOW, answer, comes_to, disagreements, fewest, held, rests_on, role_words, to_do, too_few, within,
};
use crate::show::text::plain;
use crate::show::words::date;
use crate::training::{Lapse, NightAhead, SignOffToDo};

/// The page.
#[must_use]
pub fn page(ahead: &Ahead<'_>) -> String {
    let first = &ahead.nights[0].night;
    super::html(&Report {
        question: "Which sign-offs lapse, which nights lose a removal by it, and whom to renew or train?".to_owned(),
        about: format!("{}, {}", first.roster.unit, ahead.when()),
        answer: answer(ahead).join(" "),
        night: ahead.last(),
        example: ahead.is_training(),
        today: ahead.today,
        sections: vec![
            Section::new("set", "Smallest set to renew or train", smallest(ahead)),
            Section::new("lapses", "What lapses, in order of its last day", lapses(ahead)),
            Section::new("nights", "Night by night, if nothing is renewed", nights(ahead)),
            not_checked(&ahead.found.not_checked),
        ],
        cautions: HOW.to_vec(),
    })
}

fn lapses(ahead: &Ahead<'_>) -> Markup {
    let row = |lapse: &Lapse| {
        html! {
            tr {
                th scope="row" { (date(lapse.last)) }
                td.n { @if lapse.days_left < 0 { "-" } @else { (lapse.days_left) } }
                td { (within(lapse.band())) }
                td { (plain(&lapse.person)) }
                td { (plain(&held(&lapse.held))) }
                td { (ahead.days(&lapse.nights)) }
            }
        }
    };
    let columns = ["last day", "days left", "within", "who", "what", "nights not covered to the end"];
    let rows: Vec<Markup> = ahead.found.lapses.iter().map(row).collect();
    html! {
        @if rows.is_empty() { p { "NONE within 30 days, and none before the end of a coming night." } }
        @else { (table("Sign-offs and fit tests", &columns, &rows)) }
        @for line in disagreements(ahead) { p { (plain(&line)) } }
    }
}

fn nights(ahead: &Ahead<'_>) -> Markup {
    let row = |(ix, night): (usize, &NightAhead)| {
        html! {
            tr {
                th scope="row" { (date(ahead.day(ix))) }
                td { (plain(&ahead.nights[ix].night.roster.name)) }
                @for role in [Role::DoffingObserver, Role::Assistant, Role::DonningObserver] {
                    td.n { (fewest(night, role)) }
                }
                td .gap[!night.losses.is_empty()] { (comes_to(night)) }
                td { (rests_on(night)) }
            }
        }
    };
    let columns = [
        "night",
        "roster",
        "fewest who can watch a removal",
        "fewest who can assist",
        "fewest who can watch a donning",
        "comes to",
        "rests on",
    ];
    let rows: Vec<Markup> = ahead.found.nights.iter().enumerate().map(row).collect();
    html! {
        (table("Each night", &columns, &rows))
        p { "Asked for are " (1 + ahead.found.spare) " at each watch and spell." }
    }
}

fn smallest(ahead: &Ahead<'_>) -> Markup {
    let row = |s: &SignOffToDo| {
        html! {
            tr {
                th scope="row" { (date(s.by)) }
                td { b { (to_do(s)) } }
                td { (role_words(s.role)) }
                td { (plain(&s.person)) }
            }
        }
    };
    let rows: Vec<Markup> = ahead.found.enough.sign_offs.iter().map(row).collect();
    html! {
        @if rows.is_empty() { p { "NONE is needed." } }
        @else { (table("In order of the day by which each is to be in force", &["by", "to do", "role", "who"], &rows)) }
        @for line in too_few(ahead) { p { b { "Short: " } (line) } }
    }
}
