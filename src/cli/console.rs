//! Standard output and standard error.

use std::io::{self, ErrorKind, IsTerminal, Write};

use super::parts::Read;
use super::status::Failure;
use crate::show::terminal;

/// Where the answer and the notes go.
pub struct Console<'a> {
    out: Box<dyn Write + 'a>,
    err: Box<dyn Write + 'a>,
    /// Whether the answer may have lines in bold.
    bold: bool,
    /// Whether somebody watches: progress is shown, and Ctrl-C takes the best rota so far.
    pub live: bool,
    /// Whether Ctrl-C is ours to catch.
    pub interruptible: bool,
}

impl Console<'static> {
    /// The process's own.
    pub fn standard() -> Self {
        let no_color = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        Self {
            out: Box::new(io::stdout()),
            err: Box::new(io::stderr()),
            bold: io::stdout().is_terminal() && !no_color,
            live: io::stderr().is_terminal(),
            interruptible: true,
        }
    }
}

#[cfg(test)]
impl<'a> Console<'a> {
    /// Writes into two buffers; nobody watches.
    pub fn quiet(out: &'a mut Vec<u8>, err: &'a mut Vec<u8>) -> Self {
        Self { out: Box::new(out), err: Box::new(err), bold: false, live: false, interruptible: false }
    }
}

impl Console<'_> {
    /// Writes the answer.
    pub fn answer(&mut self, text: &str) -> Result<(), Failure> {
        let painted = if self.bold { terminal::emboldened(text) } else { text.to_owned() };
        let written = self.out.write_all(painted.as_bytes()).and_then(|()| self.out.flush());
        match written {
            // Whoever reads has seen enough, as `head` has: no mistake.
            Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
            Err(error) => Err(Failure::refused(format!("The answer cannot be written: {error}."))),
            Ok(()) => Ok(()),
        }
    }

    /// Writes a note to the user beside the answer.
    pub fn note(&mut self, text: &str) {
        let end = if text.ends_with('\n') { "" } else { "\n" };
        // When standard error is gone there is nowhere left to say so; the status still tells.
        let _ = write!(self.err, "{text}{end}");
    }

    /// What was read, its warnings told; or what has to be put right first.
    pub fn noted<T>(&mut self, read: Read<T>) -> Result<T, Failure> {
        let (value, warnings) = read.map_err(Failure::Refused)?;
        self.note_if_any(&warnings);
        Ok(value)
    }

    /// Writes a note if there is anything to say.
    pub fn note_if_any(&mut self, text: &str) {
        if !text.is_empty() {
            self.note(text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Broken(ErrorKind);

    impl Write for Broken {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(self.0.into())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    fn answered(kind: ErrorKind) -> Result<(), Failure> {
        let (out, err) = (Box::new(Broken(kind)), Box::new(Broken(kind)));
        let mut console = Console { out, err, bold: false, live: false, interruptible: false };
        console.note("nobody hears this");
        console.answer("text")
    }

    #[test]
    fn a_reader_that_has_seen_enough_is_no_mistake() {
        assert_eq!(answered(ErrorKind::BrokenPipe), Ok(()));
    }

    #[test]
    fn a_full_disk_is_told() {
        assert!(
            matches!(answered(ErrorKind::StorageFull), Err(Failure::Refused(words)) if words.contains("cannot be written"))
        );
    }
}
