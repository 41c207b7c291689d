//! What is told while the planner looks, and how it is stopped.

use std::io::Write;
use std::sync::atomic::{AtomicU8, Ordering};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use super::console::Console;
use crate::plan::Watch;

/// Shorter work is not told of.
const QUIET: Duration = Duration::from_secs(1);

/// How often the line is written anew.
const REFRESH: Duration = Duration::from_millis(500);

/// Width of the line; the last column stays free so that no terminal wraps.
const LINE: usize = 79;

/// What Ctrl-C does: ends the program, or while the planner looks, ends the looking.
static SEARCH: AtomicU8 = AtomicU8::new(IDLE);
const IDLE: u8 = 0;
const LOOKING: u8 = 1;
const STOPPING: u8 = 2;

/// The shell's status for a program that Ctrl-C ended.
const ENDED_BY_HAND: i32 = 130;

/// Person-minutes short so far, and what they cannot be below.
type News = (i64, i64);

/// The thread that writes the line, and the way to tell it news.
type Ticker = (Sender<News>, JoinHandle<()>);

/// Follows one search.
pub struct Progress {
    ticker: Option<Ticker>,
}

impl Progress {
    /// Starts to follow: on a live console with a line, and with Ctrl-C caught.
    pub fn start(console: &mut Console<'_>) -> Self {
        if console.interruptible {
            SEARCH.store(LOOKING, Ordering::SeqCst);
            if let Err(error) = ctrlc::set_handler(on_interrupt) {
                console.note(&format!("note: Ctrl-C will end the run without a rota: {error}."));
            }
        }
        Self { ticker: console.live.then(start_ticker) }
    }
}

impl Watch for Progress {
    fn progress(&mut self, uncovered: i64, at_least: i64) {
        if let Some((ticker, _)) = &self.ticker {
            // A ticker that is gone only means that nothing more is shown.
            let _ = ticker.send((uncovered, at_least));
        }
    }

    fn stop(&self) -> bool {
        SEARCH.load(Ordering::SeqCst) == STOPPING
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        SEARCH.store(IDLE, Ordering::SeqCst);
        if let Some((sender, ticker)) = self.ticker.take() {
            drop(sender);
            // The ticker ends when its sender is gone; had it panicked, its hook has told.
            let _ = ticker.join();
        }
    }
}

fn on_interrupt() {
    let asked = SEARCH.compare_exchange(LOOKING, STOPPING, Ordering::SeqCst, Ordering::SeqCst);
    if asked.is_err() {
        std::process::exit(ENDED_BY_HAND);
    }
}

fn start_ticker() -> Ticker {
    let (sender, receiver) = mpsc::channel();
    (sender, thread::spawn(move || tick(&receiver)))
}

/// Writes the line anew at its own pace, however often there is news, until the sender is gone.
fn tick(news: &Receiver<News>) {
    let started = Instant::now();
    let (mut known, mut next, mut drawn) = (None, QUIET, false);
    loop {
        match news.recv_timeout(next.saturating_sub(started.elapsed())) {
            Ok(latest) => known = Some(latest),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => break,
        }
        if started.elapsed() >= next {
            draw(&line(started.elapsed().as_secs(), known));
            (next, drawn) = (started.elapsed() + REFRESH, true);
        }
    }
    if drawn {
        draw("");
    }
}

/// Counts pieces of work on a live console.
pub struct Counter {
    live: bool,
    what: &'static str,
}

impl Counter {
    /// Starts to count.
    pub const fn start(console: &Console<'_>, what: &'static str) -> Self {
        Self { live: console.live, what }
    }

    /// So many of all are done.
    pub fn at(&self, done: usize, all: usize) {
        if self.live {
            draw(&format!("{done} of {all} {}", self.what));
        }
    }
}

impl Drop for Counter {
    fn drop(&mut self) {
        if self.live {
            draw("");
        }
    }
}

fn line(seconds: u64, known: Option<News>) -> String {
    if SEARCH.load(Ordering::SeqCst) == STOPPING {
        return format!("{seconds} s  stopping; Ctrl-C again ends without a rota");
    }
    match known {
        None => format!("{seconds} s  looking; Ctrl-C takes the best rota so far"),
        Some((short, least)) if short <= least => {
            format!("{seconds} s  short {short} person-min, proven best; Ctrl-C takes this rota")
        }
        Some((short, least)) => {
            format!("{seconds} s  short {short} person-min, cannot be below {least}; Ctrl-C takes this rota")
        }
    }
}

/// Writes over the line before.
fn draw(line: &str) {
    let mut err = std::io::stderr();
    // When standard error is gone nobody watches any more.
    let _ = write!(err, "\r{line:<LINE$}\r").and_then(|()| err.flush());
}
