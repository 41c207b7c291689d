//! The coming nights on the screen.

use super::{
    Ahead, HOW, answer, comes_to, disagreements, fewest, held, nights, rests_on, role_words, to_do, too_few, within,
};
use crate::night::Role;
use crate::show::terminal::table::table;
use crate::show::terminal::{bands, unchecked};
use crate::show::text::{hanging, heading, paragraph, plain};
use crate::show::words::{PLANNING_AID, date};
use crate::training::Lapse;

/// The answer first, then lapses, nights, and what it takes.
#[must_use]
pub fn screen(ahead: &Ahead<'_>) -> String {
    let answer: String = answer(ahead).iter().map(|line| hanging("", line)).collect();
    heading("OUTLOOK")
        + &head(ahead)
        + "\n"
        + &answer
        + "\n"
        + &lapses(ahead)
        + "\n"
        + &night_by_night(ahead)
        + "\n"
        + &smallest(ahead)
        + "\n"
        + &HOW.iter().map(|line| paragraph(line)).collect::<String>()
        + "\n"
        + &unchecked(&ahead.found.not_checked)
        + "\n"
        + &hanging("", PLANNING_AID)
}

fn head(ahead: &Ahead<'_>) -> String {
    let first = &ahead.nights[0].night;
    let bands = bands(ahead.is_training(), ahead.last(), ahead.today);
    let gap = if ahead.is_training() { "\n" } else { "" };
    hanging("  unit    ", &first.roster.unit)
        + &hanging("  nights  ", &ahead.when())
        + &hanging("  today   ", &date(ahead.today))
        + &hanging("  limits  ", &first.limits.name)
        + gap
        + &bands
}

fn lapses(ahead: &Ahead<'_>) -> String {
    let title = heading("WHAT LAPSES, IN ORDER OF ITS LAST DAY");
    if ahead.found.lapses.is_empty() {
        return title + &paragraph("NONE within 30 days, and none before the end of a coming night.");
    }
    let row = |lapse: &Lapse| {
        let days = if lapse.days_left < 0 { "-".to_owned() } else { lapse.days_left.to_string() };
        vec![
            date(lapse.last),
            days,
            within(lapse.band()).to_owned(),
            lapse.person.clone(),
            held(&lapse.held),
            ahead.days(&lapse.nights),
        ]
    };
    let rows: Vec<_> = ahead.found.lapses.iter().map(row).collect();
    title
        + &table(&["last day", "days", "within", "who", "what", "nights not covered to the end"], &rows)
        + &disagreements(ahead).iter().map(|line| paragraph(&plain(line))).collect::<String>()
}

fn night_by_night(ahead: &Ahead<'_>) -> String {
    let rows = ahead.found.nights.iter().enumerate().map(|(ix, night)| {
        let figures = [Role::DoffingObserver, Role::Assistant, Role::DonningObserver].map(|role| fewest(night, role));
        let [removals, assist, donnings] = figures;
        vec![date(ahead.day(ix)), removals, assist, donnings, comes_to(night), rests_on(night)]
    });
    heading("NIGHT BY NIGHT, IF NOTHING IS RENEWED")
        + &table(&["night", "rem.", "ass.", "don.", "comes to", "rests on"], &rows.collect::<Vec<_>>())
        + "\n"
        + &paragraph(&format!(
            "rem., ass., don.: fewest who can watch a removal, assist, watch a donning. Asked for: {}.",
            1 + ahead.found.spare
        ))
}

fn smallest(ahead: &Ahead<'_>) -> String {
    let title = heading("SMALLEST SET TO RENEW OR TRAIN");
    let enough = &ahead.found.enough;
    let mut text = title;
    if enough.sign_offs.is_empty() {
        text += &paragraph(&format!("NONE is needed for {}.", nights(ahead.nights.len())));
    } else {
        let row = |s: &crate::training::SignOffToDo| {
            vec![date(s.by), to_do(s).to_owned(), role_words(s.role), s.person.clone()]
        };
        text += &table(&["by", "to do", "role", "who"], &enough.sign_offs.iter().map(row).collect::<Vec<_>>());
    }
    text + &too_few(ahead).iter().map(|line| hanging("  short: ", line)).collect::<String>()
}
