//! The coming nights in words: for the screen, spreadsheets, scripts, paper.

mod files;
mod screen;

pub use files::{HEADER, csv, json};
pub use screen::screen;

use chrono::NaiveDate;

use super::words::date;
use crate::check::NotChecked;
use crate::night::{Night, Role};
use crate::training::{Band, Coming, Held, Kind, Lapse, Loss, NightAhead, Outlook, RoleAhead, SignOffToDo, ToDo};

/// What is shown.
#[derive(Clone, Copy)]
pub struct Ahead<'a> {
    /// The nights, in order of time.
    pub nights: &'a [Coming],
    /// What was found out about them.
    pub found: &'a Outlook,
    /// The day from which days are counted.
    pub today: NaiveDate,
    /// Rosters of the folder that are over.
    pub past: usize,
}

impl Ahead<'_> {
    /// The local day on which a night starts.
    #[must_use]
    pub fn day(&self, night: usize) -> NaiveDate {
        let roster = &self.nights[night].night.roster;
        roster.clock.date(roster.shift.from)
    }

    /// `15 Mar, 24 Mar`, or NONE.
    #[must_use]
    pub fn days(&self, nights: &[usize]) -> String {
        let days: Vec<String> = nights.iter().map(|&night| self.day(night).format("%-d %b").to_string()).collect();
        if days.is_empty() { super::view::NONE.to_owned() } else { days.join(", ") }
    }

    /// Whether a file that this was made from is marked EXAMPLE.
    #[must_use]
    pub fn is_training(&self) -> bool {
        self.nights.iter().any(|coming| coming.night.roster.example || coming.night.limits.example)
    }

    /// The last of the nights. All have the same limits; where they are due for review before it, every answer says so.
    #[must_use]
    pub fn last(&self) -> &Night {
        &self.nights[self.nights.len().saturating_sub(1)].night
    }

    /// The nights from the first to the last.
    #[must_use]
    pub fn when(&self) -> String {
        let last = self.nights.len().saturating_sub(1);
        let past = if self.past == 0 { String::new() } else { format!("; {} more are over", self.past) };
        format!("{}, {} to {}{past}", nights(self.nights.len()), date(self.day(0)), date(self.day(last)))
    }
}

fn nights(count: usize) -> String {
    if count == 1 { "1 night".to_owned() } else { format!("{count} nights") }
}

/// What is held: `doffing observer`, `recency as doffing observer`, `fit test RA size M`.
#[must_use]
pub fn held(held: &Held) -> String {
    match held {
        Held::Role(role) => role_words(*role),
        Held::Recent(role) => format!("recency as {}", role_words(*role)),
        Held::Fit { respirator, size } => format!("fit test {respirator} size {size}"),
    }
}

/// `doffing observer`.
#[must_use]
pub fn role_words(role: Role) -> String {
    role.word().replace('-', " ")
}

/// How soon: `OVER`, `7`, `14`, `30`, `later`.
#[must_use]
pub const fn within(band: Band) -> &'static str {
    match band {
        Band::Over => "OVER",
        Band::Within7 => "7",
        Band::Within14 => "14",
        Band::Within30 => "30",
        Band::Later => "later",
    }
}

/// What a night has then.
#[must_use]
pub const fn loses(kind: Kind) -> &'static str {
    match kind {
        Kind::WatchRemovals => "a removal without observer",
        Kind::Assist => "a removal without assistant",
        Kind::WatchDonnings => "a donning without observer",
        Kind::Enter => "an entry that nobody can make",
    }
}

/// What people of a role may do.
#[must_use]
pub const fn may(role: Role) -> &'static str {
    match role {
        Role::DonningObserver => "may watch donnings",
        Role::DoffingObserver => "may watch removals",
        Role::Assistant => "may assist removals",
        Role::Entrant | Role::SupervisedEntrant | Role::Preceptor => "may go in",
        Role::Coordinator => "may coordinate",
    }
}

/// The answer: what is lost if nothing is renewed, and what it takes.
#[must_use]
pub fn answer(ahead: &Ahead<'_>) -> Vec<String> {
    let mut lines: Vec<String> = Kind::ALL.into_iter().filter_map(|kind| if_these_lapse(ahead, kind)).collect();
    if lines.is_empty() {
        lines.push(
            "Nothing that lapses from today on costs a coming night a removal, a donning or an entry.".to_owned(),
        );
    }
    lines.push(smallest(&ahead.found.enough.sign_offs, ahead.found.spare));
    if !ahead.found.enough.short.is_empty() {
        lines.push("It is not enough for every night: see where more people are needed.".to_owned());
    }
    lines
}

/// `If these 3 lapse, 4 of 14 nights have a removal without observer.` `None` where no night loses by it.
fn if_these_lapse(ahead: &Ahead<'_>, kind: Kind) -> Option<String> {
    let is_of_it = |lapse: &&Lapse| lapse.held.kind() == kind && lapse.days_left >= 0 && !lapse.nights.is_empty();
    let count = ahead.found.lapses.iter().filter(is_of_it).count();
    let lost = ahead.found.nights.iter().filter(|night| night.losses.iter().any(|l| l.kind == kind)).count();
    let all = ahead.nights.len();
    let open = ahead.found.nights.iter().flat_map(|night| &night.losses).any(|l| l.kind == kind && !l.proven);
    let open = if open { " That was tried and is not proven for every one." } else { "" };
    let these = if count == 1 { "If this one lapses".to_owned() } else { format!("If these {count} lapse") };
    let have = if lost == 1 { "has" } else { "have" };
    (lost > 0).then(|| format!("{these}, {lost} of {} {have} {}.{open}", nights(all), loses(kind)))
}

fn smallest(sign_offs: &[SignOffToDo], spare: usize) -> String {
    let to_spare = format!("at least {spare} to spare at every watch and every spell as assistant");
    let Some(first) = sign_offs.first() else {
        return format!("Every coming night has {to_spare}, as far as sign-offs go: nothing to renew or train for it.");
    };
    let count = |todo| sign_offs.iter().filter(|s| s.todo == todo).count();
    let (new, drills) = (count(ToDo::Train), count(ToDo::Drill));
    let drill = if drills == 0 { String::new() } else { format!(", {drills} to drill") };
    let noun = if sign_offs.len() == 1 { "sign-off" } else { "sign-offs" };
    format!(
        "The smallest set for {to_spare}: {} {noun}, {} to renew{drill} and {new} to train, the first by {}.",
        sign_offs.len(),
        sign_offs.len() - new - drills,
        date(first.by)
    )
}

/// What one night comes to if nothing is renewed.
#[must_use]
pub fn comes_to(night: &NightAhead) -> String {
    let missing = match night.missing {
        (0, 0) => "covered".to_owned(),
        (minutes, 0) => format!("{minutes} person-min short"),
        (0, tasks) => format!("{tasks} tasks not done"),
        (minutes, tasks) => format!("{minutes} person-min short, {tasks} tasks not done"),
    };
    let losses: Vec<String> = night.losses.iter().map(|loss| loses(loss.kind).to_owned() + sure(loss)).collect();
    if losses.is_empty() { missing } else { format!("{missing}: {}", losses.join(", ")) }
}

/// A search that ended early has not proven that there is no better rota.
const fn sure(loss: &Loss) -> &'static str {
    if loss.proven { "" } else { " (tried, not proven)" }
}

/// `1 person who may watch removals`, or NONE. Never who.
#[must_use]
pub fn rests_on(night: &NightAhead) -> String {
    let of_role = |rests: &crate::training::Rests| match rests.people {
        1 => format!("1 person who {}", may(rests.role)),
        more => format!("{more} people, each needed, who {}", may(rests.role)),
    };
    let all: Vec<String> = night.rests.iter().map(of_role).collect();
    if all.is_empty() { super::view::NONE.to_owned() } else { all.join("; ") }
}

/// How many can do each watch of a role, fewest of all; a dash where none is planned.
#[must_use]
pub fn fewest(night: &NightAhead, role: Role) -> String {
    let found: Option<&RoleAhead> = night.roles.iter().find(|ahead| ahead.role == role);
    found.map_or_else(|| "-".to_owned(), |ahead| ahead.fewest.to_string())
}

/// `renew`, `drill`, `renew and drill`, `train`.
#[must_use]
pub const fn to_do(sign_off: &SignOffToDo) -> &'static str {
    match sign_off.todo {
        ToDo::Renew => "renew",
        ToDo::Drill => "drill",
        ToDo::RenewAndDrill => "renew and drill",
        ToDo::Train => "train",
    }
}

/// Where more people are needed than these rosters have.
#[must_use]
pub fn too_few(ahead: &Ahead<'_>) -> Vec<String> {
    let line = |&(night, role, by): &(usize, Role, usize)| {
        let people = if by == 1 { "1 more person".to_owned() } else { format!("{by} more people") };
        format!(
            "{}: {people} on duty who {}; of those on this roster nobody else could then, even if trained.",
            date(ahead.day(night)),
            may(role)
        )
    };
    ahead.found.enough.short.iter().map(line).collect()
}

/// What nobody looked at: `what: why`.
#[must_use]
pub fn in_lines(not_checked: &[NotChecked]) -> Vec<String> {
    not_checked.iter().map(|n| format!("{}: {}", n.what, n.why)).collect()
}

/// Days that rosters do not agree on.
#[must_use]
pub fn disagreements(ahead: &Ahead<'_>) -> Vec<String> {
    let line = |(person, what, days): &(String, Held, Vec<NaiveDate>)| {
        let days: Vec<String> = days.iter().map(|&day| date(day)).collect();
        format!("{person}, {}: {} in different rosters. Each night goes by its own.", held(what), days.join(" and "))
    };
    ahead.found.disagreements.iter().map(line).collect()
}

/// What to know of these figures.
pub const HOW: [&str; 3] = [
    "Each night was planned as far as cover goes, with and without what lapses, and each rota checked. A removal without \
     observer is never planned: the entry is withheld.",
    "fewest: how many people could do each watch or spell of the planned rota, in date, rested and free, the one in the \
     rota among them; the watch with fewest counts. A person without a kit or a size for it cannot assist.",
    "The smallest set is proven: no smaller one does it. A sign-off counts from the first night of its date on. To drill \
     is to do a role, or practise it, so that it was done lately enough (A9). A date is not yet competence: who is \
     trained is the unit's choice.",
];
