//! The rota as a file that people read and edit, and that `check` reads back.

use chrono::{Days, TimeZone};

use super::Wall;
use crate::night::{
    BreakTaken, Entry, LaneIx, Minute, Minutes, Night, PersonIx, Post, PostRole, Rota, Stint, TaskDone,
};

/// The version of this file's format.
pub const FORMAT: u32 = 1;

/// Bare times of day are only used where the shift has each of them once.
const DAY: Minutes = Minutes(24 * 60);

/// Writes `rota` in the format of rota files, with a note on how to edit and check it.
///
/// A time is written `"22:50"` where that can only mean one instant: the first
/// such local time at or after the start of a shift of at most 24 hours. Else it
/// has its date, and its offset where the local time happens twice.
#[must_use]
pub fn write(night: &Night, rota: &Rota) -> String {
    let writer = Writer { night };
    let mut out = note(night) + &head(rota);
    out += &rota.entries.iter().map(|e| writer.entry(e)).collect::<String>();
    out += &rota.posts.iter().map(|p| writer.post(p)).collect::<String>();
    out += &rota.breaks.iter().map(|b| writer.break_taken(b)).collect::<String>();
    out += &rota.tasks.iter().map(|t| writer.task(t)).collect::<String>();
    out += &rota.coordinators.iter().map(|s| writer.stint("coordinator", s)).collect::<String>();
    out += &rota.standby.iter().map(|s| writer.stint("standby", s)).collect::<String>();
    out += &rota.exit_observers.iter().map(|s| writer.stint("exit_observer", s)).collect::<String>();
    out += &rota.exit_assistants.iter().map(|s| writer.stint("exit_assistant", s)).collect::<String>();
    out += &rota.showers.iter().map(|s| writer.stint("shower", s)).collect::<String>();
    out
}

fn note(night: &Night) -> String {
    let training = if night.roster.example || night.limits.example { "# TRAINING - NOT FOR USE\n" } else { "" };
    format!("{training}{NOTE}\n")
}

const NOTE: &str = "\
# A rota of room entries. PLANNING AID ONLY: your unit's procedures and your own
# judgement come first. Anyone may stop an entry or come out early.
#
# To edit: change a time, a name or a lane, or add and take out whole blocks.
# Times are local. \"22:50\" is the first 22:50 of the shift; a date may be given:
# \"2031-03-04T22:50\". Leave a line out where there is nobody: the check says so.
# Nothing is inferred, so change what follows from a change too.
# Then check it against the same roster and limits, before anybody goes in:
#     anteroom check ROTA ROSTER LIMITS
#
# don: donning starts            in, out: through the door
# removal: removal starts        off: last item off
";

fn head(rota: &Rota) -> String {
    line("format", &FORMAT.to_string())
        + &line("roster", &quoted(&rota.roster))
        + &line("constraint_set", &quoted(&rota.constraint_set))
        + &line("issue", &rota.issue.to_string())
}

fn respirator(model: Option<&str>) -> String {
    model.map_or_else(String::new, |model| line("respirator", &quoted(model)))
}

struct Writer<'a> {
    night: &'a Night,
}

impl Writer<'_> {
    fn entry(&self, e: &Entry) -> String {
        let room = &self.night.roster.rooms[e.room.0].id;
        "\n[[entry]]\n".to_owned()
            + &line("number", &e.number.to_string())
            + &self.person("person", Some(e.person))
            + &line("room", &quoted(room))
            + &self.times(&[
                ("don", e.don),
                ("in", e.door_in),
                ("out", e.door_out),
                ("removal", e.removal),
                ("off", e.off),
            ])
            + &self.lane(e.lane)
            + &self.person("donning_observer", e.donning_observer)
            + &self.person("observer", e.observer)
            + &self.person("assistant", e.assistant)
            + &respirator(e.respirator.as_deref())
    }

    fn post(&self, p: &Post) -> String {
        let role = match p.role {
            PostRole::Assistant => "assistant",
            PostRole::Observer => "observer",
        };
        "\n[[post]]\n".to_owned()
            + &self.person("person", Some(p.person))
            + &line("as", &quoted(role))
            + &self.times(&[("don", p.don), ("removal", p.removal), ("off", p.off)])
            + &self.lane(p.lane)
            + &self.person("donning_observer", p.donning_observer)
            + &self.person("observer", p.observer)
            + &respirator(p.respirator.as_deref())
    }

    fn break_taken(&self, b: &BreakTaken) -> String {
        "\n[[break]]\n".to_owned()
            + &self.person("person", Some(b.person))
            + &self.times(&[("from", b.span.from), ("to", b.span.to)])
    }

    fn stint(&self, table: &str, s: &Stint) -> String {
        format!("\n[[{table}]]\n")
            + &self.person("person", Some(s.person))
            + &self.times(&[("from", s.span.from), ("to", s.span.to)])
    }

    fn task(&self, t: &TaskDone) -> String {
        let task = &self.night.roster.tasks[t.task.0].id;
        "\n[[task]]\n".to_owned() + &line("task", &quoted(task)) + &self.times(&[("start", t.start)])
    }

    fn times(&self, times: &[(&str, Minute)]) -> String {
        times.iter().map(|&(key, at)| line(key, &quoted(&self.time(at)))).collect()
    }

    fn person(&self, key: &str, person: Option<PersonIx>) -> String {
        person.map_or_else(String::new, |ix| line(key, &quoted(&self.night.roster.person(ix).id)))
    }

    fn lane(&self, lane: Option<LaneIx>) -> String {
        lane.map_or_else(String::new, |ix| line("lane", &quoted(&self.night.roster.lanes[ix.0].id)))
    }

    fn time(&self, at: Minute) -> String {
        let clock = self.night.roster.clock;
        let wall = Wall::new(clock);
        if wall.happens_twice(at) {
            wall.iso(at)
        } else if self.is_the_first_of_its_name(at) {
            clock.hhmm(at)
        } else {
            clock.local(at).format("%Y-%m-%dT%H:%M").to_string()
        }
    }

    /// Whether `at` is the first instant of the shift, or after its start, that
    /// shows this time of day, and the shift is short enough for bare times.
    fn is_the_first_of_its_name(&self, at: Minute) -> bool {
        let (clock, shift) = (self.night.roster.clock, self.night.roster.shift);
        let (first_day, time) = (clock.date(shift.from), clock.local(at).time());
        let days = (0..=2).filter_map(|n| first_day.checked_add_days(Days::new(n)));
        let mut named = days.filter_map(|day| {
            let shown = clock.zone().from_local_datetime(&day.and_time(time));
            let instants = [shown.earliest(), shown.latest()].into_iter().flatten();
            instants.map(|i| Minute(i.timestamp().div_euclid(60))).find(|&i| i >= shift.from)
        });
        shift.length() <= DAY && named.next() == Some(at)
    }
}

fn line(key: &str, value: &str) -> String {
    format!("{key} = {value}\n")
}

/// `text` as a TOML basic string, on one line whatever is in it.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.chars().map(escaped).collect::<String>())
}

fn escaped(c: char) -> String {
    match c {
        '"' => "\\\"".to_owned(),
        '\\' => "\\\\".to_owned(),
        c if c.is_control() => format!("\\u{:04X}", u32::from(c)),
        c => c.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn any_text_comes_back_from_its_quotes(text in any::<String>()) {
            let table: toml::Table = toml::from_str(&line("key", &quoted(&text))).map_err(|e| TestCaseError::fail(e.to_string()))?;
            prop_assert_eq!(table["key"].as_str(), Some(text.as_str()));
        }
    }
}
