//! Everybody's night in one line each.

use super::table::table;
use crate::night::{Minute, Minutes, PersonIx, Span};
use crate::show::View;
use crate::show::duties::{Doing, Stretch, stretches};
use crate::show::text::{INDENT, WIDTH, columns, hanging, heading, padded, paragraph};

/// Minutes to a column, the first that fits.
const STEPS: [i64; 9] = [5, 10, 15, 20, 30, 60, 120, 240, 480];

/// The widest name at the left.
const LABEL_MAX: usize = 6;

/// One row to a person, the hours above and the key below.
#[must_use]
pub fn timeline(view: &View<'_>) -> String {
    let roster = &view.night.roster;
    let Some(scale) = Scale::of(view) else {
        return heading("TIMELINE") + &paragraph("Not drawn: the shift is too long for one line, or empty.");
    };
    let all = stretches(view.night, view.rota);
    let row = |ix| row(view, &scale, ix, &all);
    let title = heading(&format!("TIMELINE, {} MINUTES TO A LETTER", scale.step));
    title
        + &scale.hours(view)
        + &roster.person_indices().map(row).collect::<String>()
        + "\n"
        + &key(!view.rota.showers.is_empty())
}

/// How minutes are laid out in columns.
struct Scale {
    span: Span,
    step: i64,
    label: usize,
}

impl Scale {
    fn of(view: &View<'_>) -> Option<Self> {
        let (roster, span) = (&view.night.roster, view.night.roster.shift);
        let longest = roster.person_indices().map(|ix| columns(&view.person(ix))).max().unwrap_or(0);
        let label = longest.clamp(3, LABEL_MAX) + 1;
        let room = i64::try_from(WIDTH - label).ok()?;
        let step = STEPS.into_iter().find(|step| span.length().up_to_grid(Minutes(*step)).0 / step <= room)?;
        (!span.is_empty()).then_some(Self { span, step, label })
    }

    fn cells(&self) -> impl Iterator<Item = Span> + use<> {
        let Self { span, step, .. } = *self;
        let starts = (0..).map(move |n| span.from + Minutes(n * step)).take_while(move |&from| from < span.to);
        starts.map(move |from| Span::new(from, (from + Minutes(step)).min(span.to)))
    }

    /// The full hour that falls into a cell, if one does.
    fn hour_in(view: &View<'_>, cell: Span) -> Option<Minute> {
        let clock = view.night.roster.clock;
        (cell.from.0..cell.to.0).map(Minute).find(|&at| clock.minute_of_hour(at) == 0)
    }

    /// Two lines: the hours as figures, and a bar where each begins.
    fn hours(&self, view: &View<'_>) -> String {
        let (mut figures, mut bars) = (" ".repeat(self.label), " ".repeat(self.label));
        for cell in self.cells() {
            let hour = Self::hour_in(view, cell).map(|at| view.night.roster.clock.hhmm(at));
            let place = columns(&bars);
            bars.push(match hour.as_deref() {
                Some("00:00") => 'M',
                Some(_) => '|',
                None => ' ',
            });
            if let Some(hour) = hour.filter(|_| place > columns(&figures) || columns(&figures) == self.label) {
                figures = padded(&figures, place) + &hour[..2];
            }
        }
        format!("{}\n{}\n", cut(&figures).trim_end(), bars.trim_end())
    }
}

fn cut(text: &str) -> String {
    text.chars().take(WIDTH).collect()
}

fn row(view: &View<'_>, scale: &Scale, ix: PersonIx, all: &[Stretch]) -> String {
    let duty = view.night.roster.person(ix).on_duty;
    let mine: Vec<_> = all.iter().filter(|s| s.person == ix).collect();
    let marks: String = scale.cells().map(|cell| mark(cell, duty, &mine)).collect();
    let mut label = view.person(ix);
    while columns(&label) >= scale.label {
        label.pop();
    }
    format!("{}{}\n", padded(&label, scale.label), marks.trim_end())
}

/// The duty that fills most of the cell. A duty is never hidden behind time off.
fn mark(cell: Span, duty: Span, mine: &[&Stretch]) -> char {
    let mut minutes = [0_i64; DOING.len()];
    for at in (cell.from.0..cell.to.0).map(Minute) {
        if let Some(doing) = mine.iter().filter(|s| s.span.contains(at)).map(|s| rank(s.doing)).min() {
            minutes[doing] += 1;
        }
    }
    let most = minutes.iter().copied().max().unwrap_or(0);
    match minutes.iter().position(|&m| m == most) {
        Some(place) if most > 0 => letter(DOING[place]),
        _ if duty.overlaps(cell) => '.',
        _ => ' ',
    }
}

/// What hides what when one person has two things in one minute, first wins.
const DOING: [Doing; 16] = [
    Doing::InRoom,
    Doing::WaitingForLane,
    Doing::Removal,
    Doing::AtDoor,
    Doing::Donning,
    Doing::WatchingRemoval,
    Doing::Assisting,
    Doing::WatchingDonning,
    Doing::PostAssistant,
    Doing::PostObserver,
    Doing::Break,
    Doing::Shower,
    Doing::Coordinating,
    Doing::StandingBy,
    Doing::WouldWatchExit,
    Doing::WouldAssistExit,
];

fn rank(doing: Doing) -> usize {
    DOING.iter().position(|&d| d == doing).unwrap_or(DOING.len() - 1)
}

const fn letter(doing: Doing) -> char {
    match doing {
        Doing::Donning => 'd',
        Doing::AtDoor => 'h',
        Doing::InRoom => 'R',
        Doing::WaitingForLane => 'w',
        Doing::Removal => 'x',
        Doing::WatchingDonning | Doing::WatchingRemoval => 'o',
        Doing::Assisting => 'a',
        Doing::PostAssistant | Doing::PostObserver => 'p',
        Doing::Break => 'b',
        Doing::Shower => 'u',
        Doing::Coordinating => 'c',
        Doing::StandingBy => 's',
        Doing::WouldWatchExit | Doing::WouldAssistExit => 'e',
    }
}

/// What the letters stand for; showers only where the rota has any.
fn key(showers: bool) -> String {
    let keys = [
        ["d donning", "R in the room", "x own removal"],
        ["h dressed, at the door", "w dressed, waits for a lane", "p dressed, on post"],
        ["a assists a removal", "o watches donning or removal", "b break"],
        ["c coordinates", "s stands by", "e free for an early exit"],
        [". on duty, nothing planned", "(blank) off duty", "M midnight"],
        [if showers { "u shower" } else { "" }, "", ""],
    ];
    let rows: Vec<Vec<String>> = keys.iter().map(|row| row.iter().map(|&k| k.to_owned()).collect()).collect();
    let note = "A letter stands for what fills most of its minutes; the exact times are under PEOPLE.";
    table(&[], &rows) + &hanging(&" ".repeat(INDENT), note)
}
