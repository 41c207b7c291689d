//! A card to a person: folded with the ID outside, handed over, never taken into the room.

use std::collections::BTreeMap;

use maud::{Markup, html};

use super::frame::bands;
use super::paper::{Tenths, lines, packed};
use super::{Page, Part, Place, Print};
use crate::night::{EnsembleIx, PersonIx};
use crate::show::View;
use crate::show::mine::{About, Mine, everybody};
use crate::show::text::plain;
use crate::show::view::NONE;

/// Size of the type on a card and the height of a line.
const TYPE: (Tenths, Tenths) = (31, 39);
/// Left free at each edge of a card.
const EDGE: Tenths = 60;
/// The ID, the night, the issue.
const HEAD: Tenths = 190;
/// A band of warning.
const BAND: Tenths = 60;
/// An entry without its lines of text: door-in, OUT-BY, boxes.
const ENTRY: Tenths = 240;
/// Before going in, when to stop, the foot.
const FOOT: Tenths = 430;

/// The mark of somebody's first card, for links.
pub fn mark(ix: PersonIx) -> String {
    format!("card-{}", ix.0 + 1)
}

/// One card: whose, which of how many, what stands on it.
struct Card {
    person: PersonIx,
    nth: (usize, usize),
    enters: bool,
    changed: bool,
    blocks: Vec<Markup>,
}

/// The pages, several cards to each.
pub fn pages<'p>(print: &'p Print<'p>) -> Vec<Page<'p>> {
    let (_, _, to_a_line, on_page) = print.paper.cards();
    let cards = cards(print).into_iter().map(|card| (1, card)).collect();
    let page = |cards: Vec<Card>| Page { part: Part::Cards, body: Box::new(move |place| sheet(print, place, &cards)) };
    packed(cards, to_a_line * on_page, usize::MAX, |_| true).into_iter().map(page).collect()
}

fn cards(print: &Print<'_>) -> Vec<Card> {
    let (mut all, changed) = (nights(print), changed(print));
    let of = |person| {
        let Night { enters, blocks } = all.remove(&person).unwrap_or_default();
        let none = || vec![vec![html! { p { (NONE) ": no duty tonight" } }]];
        let sides = packed(blocks, room(print), usize::MAX, |_| true);
        let sides = if sides.is_empty() { none() } else { sides };
        let count = sides.len();
        let changed = changed.contains(&person);
        let card = move |(ix, blocks)| Card { person, nth: (ix + 1, count), enters, changed, blocks };
        sides.into_iter().enumerate().map(card).collect::<Vec<_>>()
    };
    print.view.night.roster.person_indices().flat_map(of).collect()
}

/// What somebody does, as it stands on their cards.
#[derive(Default)]
struct Night {
    enters: bool,
    blocks: Vec<(Tenths, Markup)>,
}

fn nights(print: &Print<'_>) -> BTreeMap<PersonIx, Night> {
    let night = |lines: &[Mine]| Night {
        enters: lines.iter().any(|line| !matches!(line.about, About::Duty(_))),
        blocks: lines.iter().map(|line| block(print, line)).collect(),
    };
    everybody(&print.view).into_iter().map(|(ix, lines)| (ix, night(&lines))).collect()
}

/// The people whose card is not word for word as it was, where a sheet before was given.
pub fn changed(print: &Print<'_>) -> Vec<PersonIx> {
    let Some(before) = print.view_before() else { return Vec::new() };
    let (old, new) = (nights(&Print { view: before, ..print.clone() }), nights(print));
    let words = |nights: &BTreeMap<PersonIx, Night>, ix: &PersonIx| {
        let blocks = nights.get(ix).map_or(&[][..], |night| &night.blocks);
        blocks.iter().map(|(_, markup)| markup.0.clone()).collect::<String>()
    };
    print.view.night.roster.person_indices().filter(|ix| words(&old, ix) != words(&new, ix)).collect()
}

/// Height left for what somebody does.
fn room(print: &Print<'_>) -> Tenths {
    let bands = Tenths::try_from(bands(print).len()).unwrap_or(0);
    print.paper.card_height() - 2 * EDGE - HEAD - bands * BAND - FOOT
}

fn block(print: &Print<'_>, line: &Mine) -> (Tenths, Markup) {
    let view = &print.view;
    match line.about {
        About::Entry(place) => entry(print, line, place),
        About::Post(place) => {
            let role = view.rota.posts[place].role;
            let kit = view.night.post_ensemble(role);
            let more = [Some(kit_words(view, view.rota.posts[place].person, kit, None)), line.after.clone()];
            worded(print, &view.wall().span(line.span), &line.text, &more.into_iter().flatten().collect::<Vec<_>>())
        }
        About::Duty(_) => worded(print, &view.wall().span(line.span), &line.text, &[]),
    }
}

fn worded(print: &Print<'_>, span: &str, text: &str, more: &[String]) -> (Tenths, Markup) {
    let height = [format!("{span} {text}")].iter().chain(more).map(|words| measured(print, words)).sum::<Tenths>();
    let markup = html! { div.duty { p { b { (span) } " " (text) } @for words in more { p { (words) } } } };
    (height + 12, markup)
}

fn measured(print: &Print<'_>, words: &str) -> Tenths {
    TYPE.1 * lines(words, print.paper.card_width() - 2 * EDGE - 40, TYPE.0)
}

fn entry(print: &Print<'_>, line: &Mine, place: usize) -> (Tenths, Markup) {
    let view = &print.view;
    let (wall, entry) = (view.wall(), &view.rota.entries[place]);
    let out_by = view.out_by(place).map_or_else(|| NONE.to_owned(), |at| wall.time(at));
    let kit = view.night.room_ensemble(entry.person);
    let texts = [
        format!("don {}, watched by {}", wall.time(entry.don), view.person_or_none(entry.donning_observer)),
        format!("with {}; plan out {}", partners(view, place), wall.time(entry.door_out)),
        format!(
            "removal {} lane {}: observer {}, assistant {}",
            wall.time(entry.removal),
            view.lane(entry.lane),
            view.person_or_none(entry.observer),
            view.person_or_none(entry.assistant)
        ),
        kit_words(view, entry.person, kit, entry.respirator.as_deref()),
        line.after.clone().unwrap_or_default(),
    ];
    let height = ENTRY + texts.iter().map(|text| measured(print, text)).sum::<Tenths>();
    let markup = html! {
        div.mine {
            p.name { b { "ENTRY " (entry.number) } ", room " (view.room(entry.room)) }
            p.times { "IN " b { (wall.time(entry.door_in)) } " OUT-BY " b.by { (out_by) } }
            @for text in texts.iter().filter(|text| !text.is_empty()) { p { (text) } }
            p.boxes { @for what in ["in", "out", "off"] { span.box { (what) } } span { "breach □ yes □ no" } }
        }
    };
    (height, markup)
}

/// Everybody in the room for some of the same minutes.
fn partners(view: &View<'_>, place: usize) -> String {
    let this = &view.rota.entries[place];
    let others = view.rota.entries.iter().enumerate().filter(|&(other, _)| other != place);
    let with = others.filter(|(_, e)| e.room == this.room && e.door_in < this.door_out && this.door_in < e.door_out);
    let mut people: Vec<PersonIx> = with.map(|(_, e)| e.person).collect();
    people.sort_unstable();
    people.dedup();
    view.people(&people)
}

/// The person's own sizes.
fn kit_words(view: &View<'_>, person: PersonIx, kit: Option<EnsembleIx>, respirator: Option<&str>) -> String {
    let Some(kit) = kit else { return format!("kit {NONE}") };
    let size = view.night.roster.person(person).size_in(kit).unwrap_or(NONE);
    let kit_words = format!("kit {} size {}", view.night.limits.ensemble(kit).id, size);
    let first = view.night.first_respirator(person, Some(kit));
    let Some(model) = respirator.or(first.as_deref()) else { return plain(&kit_words) };
    let fit = view.night.respirator_size(person, kit, model).ok().flatten().map_or(NONE, |fit| fit.size.as_str());
    plain(&format!("{kit_words}; respirator {model} size {fit}"))
}

fn sheet(print: &Print<'_>, place: Place, cards: &[Card]) -> Markup {
    html! {
        article.page.cards aria-label={ "Cards, page " (place.number) " of " (place.of) } {
            @for card in cards { (whole(print, place, card)) }
        }
    }
}

fn whole(print: &Print<'_>, place: Place, card: &Card) -> Markup {
    let (nth, of) = card.nth;
    let first = (nth == 1).then(|| mark(card.person));
    html! {
        section.card .changed[card.changed] id=[first] aria-label={ "Card of " (print.view.person(card.person)) ", " (nth) " of " (of) } {
            header {
                h3.id { (print.view.person(card.person)) }
                div {
                    p { (plain(&print.view.night.roster.unit)) }
                    p { (print.view.wall().day(print.view.night.roster.shift.from)) }
                    p { b { "ISSUE " (print.issue) } @if let Some(old) = print.replaces { " REPLACES ISSUE " (old) } }
                    p { "printed " (super::frame::stamp(print, print.printed)) @if of > 1 { ", card " (nth) " of " (of) } }
                    @if card.changed { p { b { "CHANGED" } } }
                }
            }
            @for (word, _) in bands(print) { p.band { strong { (word) } } }
            div.night { @for block in &card.blocks { (block) } }
            (foot(print, place, card))
        }
    }
}

fn foot(print: &Print<'_>, place: Place, card: &Card) -> Markup {
    html! {
        footer {
            @if card.enters {
                p { b { "Before I go in: " } "□ water □ toilet □ phone and jewellery off □ kit checked □ I am fit to enter: \
                    if not, tell the charge nurse; no reason needed" }
            }
            p.stop { "STOP and come out if unwell, torn, wet, alarm, or unsure." }
            p { "PLANNING AID ONLY: unit procedures and your own judgement come first. OUT-BY is the latest time, not a target. \
                Not to be taken into the room. " (print.verdict()) ". Page " (place.number) " of " (place.of) "." }
        }
    }
}
