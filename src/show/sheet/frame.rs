//! What stands on every page: whose night, which issue, what must not be overlooked, page n of m.

use maud::{Markup, html};

use super::paper::Tenths;
use super::{Part, Place, Print};
use crate::night::Minute;
use crate::show::text::plain;
use crate::show::warnings::{OVERDUE, TRAINING, faults_in_words, overdue, training};

/// Height of the head of a page.
pub const HEAD: Tenths = 180;
/// Height of one band of warning.
pub const BAND: Tenths = 80;
/// Height of the foot of a page that is not the wall sheet's.
pub const FOOT: Tenths = 130;

/// `DO NOT USE`, `TRAINING - NOT FOR USE`, `REVIEW OVERDUE`: each a band over the whole page.
pub fn bands(print: &Print<'_>) -> Vec<(&'static str, String)> {
    let view = &print.view;
    let (rota, night) = (view.rota, view.night);
    let faults = print.faults();
    let others = rota.roster != night.roster.name || rota.constraint_set != night.limits.name;
    let all = [
        (faults > 0, "DO NOT USE", format!("FAULTS {faults}: the check found {}.", faults_in_words(faults))),
        (view.is_training(), TRAINING, training(view)),
        (view.review_is_overdue(), OVERDUE, overdue(view)),
        (others, "OTHER NAME", "the rota was made for another roster or constraint set. It may mislead.".to_owned()),
    ];
    all.into_iter().filter(|(is_so, ..)| *is_so).map(|(_, word, text)| (word, text)).collect()
}

/// How much the head and the bands take.
pub fn top_height(print: &Print<'_>) -> Tenths {
    HEAD + BAND * Tenths::try_from(bands(print).len()).unwrap_or(0)
}

/// One page, framed.
pub fn page(print: &Print<'_>, part: Part, place: Place, title: &str, body: &Markup, foot: &Markup) -> Markup {
    html! {
        article .page .(part.word()) aria-label={ (part.title()) ", page " (place.number) " of " (place.of) } {
            (head(print, place, title))
            (warning(print))
            (body)
            footer.foot { (foot) }
        }
    }
}

/// The bands themselves.
pub fn warning(print: &Print<'_>) -> Markup {
    html! {
        @for (word, text) in bands(print) {
            p.band { strong { (word) } " " span { (text) } }
        }
    }
}

/// Issue and time stand in two corners (trade page 3.1).
fn head(print: &Print<'_>, place: Place, title: &str) -> Markup {
    let roster = &print.view.night.roster;
    html! {
        header.head {
            (corner(print, place))
            div.title {
                h3 { (plain(&roster.unit)) ": " (title) }
                p { (days(print)) }
            }
            (corner(print, place))
        }
    }
}

fn corner(print: &Print<'_>, place: Place) -> Markup {
    html! {
        div.corner {
            p.issue { "ISSUE " (print.issue) }
            p { "printed " (stamp(print, print.printed)) }
            p { @if let Some(old) = print.replaces { b { "REPLACES ISSUE " (old) } " · " } "page " (place.number) " of " (place.of) }
        }
    }
}

/// `Tue 4 Mar 18:45`.
pub fn stamp(print: &Print<'_>, at: Minute) -> String {
    let wall = print.view.wall();
    let day = wall.day(at);
    format!("{} {}", day.rsplit_once(' ').map_or(day.as_str(), |(day, _year)| day), wall.time(at))
}

fn days(print: &Print<'_>) -> String {
    let (wall, shift) = (print.view.wall(), print.view.night.roster.shift);
    format!("{} to {}", wall.day_and_time(shift.from), wall.day_and_time(shift.to))
}

/// The foot of every page but the wall sheet's.
pub fn short_foot(print: &Print<'_>, place: Place) -> Markup {
    html! {
        p { b { (print.verdict()) } " · " (approval(print)) " · issue " (print.issue) ", page " (place.number) " of " (place.of) }
        p { b { "PLANNING AID ONLY." } " Your unit's procedures and your own judgement come first. OUT-BY is the latest time, not a target." }
    }
}

/// `limits temperate v1, approved by ... on ...`.
pub fn approval(print: &Print<'_>) -> String {
    let (limits, approval) = (&print.view.night.limits, &print.view.night.limits.approval);
    format!("limits {}, approved by {} on {}", cut(&limits.name), cut(&approval.by), approval.on.format("%-d %b %Y"))
}

/// Long names are cut where room is short; the page of limits has them whole.
pub fn cut(text: &str) -> String {
    const MOST: usize = 40;
    let text = plain(text);
    if text.chars().count() <= MOST { text } else { text.chars().take(MOST - 1).chain(['…']).collect() }
}

/// The head of the document on the screen: what it is, where its parts are, and "find me".
pub fn opening(print: &Print<'_>) -> Markup {
    let roster = &print.view.night.roster;
    let cards = print.parts.contains(&Part::Cards);
    html! {
        header.opening {
            h1 { "Room entries, " (plain(&roster.unit)) ", issue " (print.issue) }
            p { (days(print)) " · printed " (stamp(print, print.printed)) " · " b { (print.verdict()) } }
            (warning(print))
            p { b { "PLANNING AID ONLY." } " Your unit's procedures and your own judgement come first." }
            nav aria-label="Parts of this sheet" {
                ul.links {
                    @for part in &print.parts { li { a href={ "#" (part.word()) } { (part.title()) } } }
                }
            }
            @if cards {
                nav aria-label="Find me" {
                    p { b { "Find me:" } }
                    ul.links {
                        @for ix in roster.person_indices() {
                            li { a href={ "#" (super::cards::mark(ix)) } { (print.view.person(ix)) } }
                        }
                    }
                }
            }
        }
    }
}
