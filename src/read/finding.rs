//! What reading has to say to the user, with the place it concerns.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use super::draw;
use super::mistake::{KeyMistake, Mistake, PrivateMistake, Severity, TextMistake, ValueMistake};
use super::source::{File, LineIndex, Source, Spot};
use super::words::{self, Lines};

/// The most findings that are told of in one run. Beyond this the file is
/// something else than was meant, and more would not help.
const MOST_TOLD: usize = 100;

/// One mistake, warning or note: what is wrong, what it would cause, how to put it right.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Finding {
    /// How much it weighs.
    pub severity: Severity,
    /// A short name that stays the same from release to release, e.g. `duplicate-id`.
    pub code: &'static str,
    /// The file, named as the user typed it.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// The character of the line, from 1, where the file has several things on one line.
    pub column: Option<usize>,
    /// What is wrong.
    pub what: String,
    /// What it would cause.
    pub effect: String,
    /// How to put it right.
    pub fix: String,
    picture: Vec<String>,
}

impl Finding {
    /// The finding as text of at most 80 columns: the message, then the user's
    /// own line with the place marked. Lines of the private file are not shown.
    #[must_use]
    pub fn render(&self) -> String {
        let mark = match self.severity {
            Severity::Error => "",
            Severity::Warning => "warning: ",
            Severity::Note => "note: ",
        };
        let column = self.column.map_or_else(String::new, |column| format!(":{column}"));
        let head = format!("{}:{}{column}: {mark}{}", self.file, self.line, self.what);
        let parts = [head.as_str(), &self.effect, &self.fix];
        let message = parts.iter().filter(|p| !p.is_empty()).copied().collect::<Vec<_>>().join(" ");
        let mut text = draw::wrapped(&format!("{message} [{}]", self.code));
        for line in &self.picture {
            text.push_str(line);
            text.push('\n');
        }
        text
    }
}

/// All findings of one run, worst first, then by file and line.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Findings {
    list: Vec<Finding>,
    errors: usize,
    left_out: usize,
}

impl Findings {
    /// The findings, worst first.
    pub fn iter(&self) -> impl Iterator<Item = &Finding> {
        self.list.iter()
    }

    /// How many findings are errors.
    #[must_use]
    pub const fn errors(&self) -> usize {
        self.errors
    }

    /// Whether there is nothing to say.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// All of them as text, an empty line between.
    #[must_use]
    pub fn render(&self) -> String {
        let mut text = self.list.iter().map(Finding::render).collect::<Vec<_>>().join("\n");
        if self.left_out > 0 {
            // Writing into a String cannot fail.
            let _ = writeln!(text, "\nand {} more. Put these right first.", self.left_out);
        }
        text
    }
}

/// A mistake at a place, before it is put into words.
struct Raw {
    mistake: Mistake,
    breaks_text: bool,
    at: Spot,
    also: Option<Spot>,
}

/// Collects mistakes while reading goes on.
#[derive(Default)]
pub(super) struct Mistakes {
    list: Vec<Raw>,
    broken: BTreeSet<File>,
}

impl Mistakes {
    /// Notes a mistake at a place.
    pub(super) fn add(&mut self, at: Spot, mistake: Mistake) {
        self.push(at, None, mistake);
    }

    /// Notes a mistake that concerns two places.
    pub(super) fn add_with(&mut self, at: Spot, also: Spot, mistake: Mistake) {
        self.push(at, Some(also), mistake);
    }

    fn push(&mut self, at: Spot, also: Option<Spot>, mistake: Mistake) {
        let breaks_text = mistake.breaks_text();
        if breaks_text {
            self.broken.insert(at.file);
        }
        let mistake = if at.file == File::Private { without_quotes(mistake) } else { mistake };
        self.list.push(Raw { mistake, breaks_text, at, also });
    }

    /// Whether anything forbids going on.
    pub(super) fn any_error(&self) -> bool {
        self.list.iter().any(|raw| raw.mistake.severity() == Severity::Error)
    }

    /// Whether there are already more mistakes than will be told of, so that
    /// looking for near misses is not worth the time.
    pub(super) fn is_flooded(&self) -> bool {
        self.list.len() > MOST_TOLD
    }

    /// Where a text is broken, forgets what may only be seen because of that.
    fn drop_fallout(&mut self, sources: &[Indexed<'_>]) {
        if self.broken.is_empty() {
            return;
        }
        let broken: BTreeSet<(File, usize)> =
            self.list.iter().filter(|raw| raw.breaks_text).map(|raw| (raw.at.file, line(raw.at, sources))).collect();
        self.list.retain(|raw| {
            let on_broken_line = broken.contains(&(raw.at.file, line(raw.at, sources)));
            raw.breaks_text || !(on_broken_line || raw.mistake.may_be_fallout())
        });
    }

    /// Puts everything into words, worst first.
    pub(super) fn into_findings(mut self, sources: &[(File, &Source)]) -> Findings {
        let indexed: Vec<_> = sources.iter().map(|(f, s)| (*f, *s, LineIndex::new(s.text()))).collect();
        self.drop_fallout(&indexed);
        self.list.sort_by_key(|raw| (raw.mistake.severity(), raw.at.file, raw.at.from, raw.at.to));
        let errors = self.list.iter().filter(|raw| raw.mistake.severity() == Severity::Error).count();
        let left_out = self.list.len().saturating_sub(MOST_TOLD);
        self.list.truncate(MOST_TOLD);
        let list = self.list.iter().filter_map(|raw| told(raw, &indexed)).collect();
        Findings { list, errors, left_out }
    }
}

/// The line of a place, from 1.
fn line(spot: Spot, sources: &[Indexed<'_>]) -> usize {
    sources.iter().find(|(file, ..)| *file == spot.file).map_or(1, |(.., lines)| lines.number(spot.from))
}

type Indexed<'a> = (File, &'a Source, LineIndex<'a>);

/// Every spot is made from one of the sources, so a file is always found.
fn told(raw: &Raw, sources: &[Indexed<'_>]) -> Option<Finding> {
    let (file, source, lines) = sources.iter().find(|(file, ..)| *file == raw.at.file)?;
    let line = lines.number(raw.at.from);
    let also = raw.also.filter(|also| also.file == *file);
    let words = words::of(&raw.mistake, Lines { here: line, there: also.map(|spot| lines.number(spot.from)) });
    // What is wrong with a file as a whole has no line to be drawn under.
    let whole_file = raw.at.to == 0;
    let unquoted = matches!(file, File::Private | File::History);
    let picture = if whole_file || unquoted { Vec::new() } else { draw::picture(lines, raw.at, also) };
    Some(Finding {
        severity: raw.mistake.severity(),
        code: words.code,
        file: source.name().to_owned(),
        line,
        column: (*file == File::SignOffs).then(|| lines.column(raw.at.from)),
        what: words.what,
        effect: words.effect,
        fix: words.fix,
        picture,
    })
}

/// A mistake in the private file, with nothing of the file in it.
fn without_quotes(mistake: Mistake) -> Mistake {
    let what = match mistake {
        Mistake::Text(text) => match text {
            TextMistake::Syntax { .. } => "this is not TOML",
            TextMistake::NotText => "this is not text in UTF-8",
            TextMistake::TooLarge { .. } => "the file is too large",
            TextMistake::KeyTwice { .. } => "a key is written twice",
            TextMistake::Format { .. } => "this is not format 1",
            TextMistake::Unexplained => "the file could not be read",
        },
        Mistake::Key(key) => match key {
            KeyMistake::UnknownKey { .. } | KeyMistake::WrongUnit { .. } => "there is no such key",
            KeyMistake::MissingKey { .. } | KeyMistake::MissingOther { .. } => "a required key is missing",
            KeyMistake::TableForm { .. } => "limits are written as [[limit]] tables",
        },
        Mistake::Value(value) => match value {
            ValueMistake::WrongType { .. } | ValueMistake::Unquoted { .. } => "a value is of the wrong type",
            ValueMistake::OutOfRange { .. } => "a number is out of range",
            ValueMistake::NotAWord { .. }
            | ValueMistake::BadText { .. }
            | ValueMistake::Reserved { .. }
            | ValueMistake::Twice { .. } => "a text cannot be used here",
        },
        other => return other,
    };
    Mistake::Private(PrivateMistake::Shape { what })
}
