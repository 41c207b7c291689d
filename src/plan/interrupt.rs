//! The one place with `unsafe`: HiGHS asks here, now and then, whether to stop.

#![expect(unsafe_code, reason = "the solver's C interface takes a function pointer and untyped data")]

use std::ffi::{c_char, c_int, c_void};
use std::time::Instant;

use highs_sys::{
    Highs_setCallback, Highs_startCallback, HighsCallbackDataIn, HighsCallbackDataOut, kHighsCallbackIpmInterrupt,
    kHighsCallbackMipInterrupt, kHighsCallbackSimplexInterrupt,
};

/// When to stop a solve.
pub struct Stop<'a> {
    /// Work allowed: pivots of the simplex method, and rounds of the search for
    /// cuts at their own price. The same on every machine.
    pub work: u64,
    /// What one round is charged.
    pub per_round: u64,
    /// A wall-clock stop.
    pub until: Option<Instant>,
    /// Whether the user wants to stop.
    pub asked: &'a (dyn Fn() -> bool + Sync),
    /// Set to why the solve was stopped.
    pub stopped: Option<Stopped>,
    /// Pivots seen so far.
    pub pivots: u64,
    /// Rounds seen so far.
    pub rounds: u64,
}

impl Stop<'_> {
    /// Work seen so far.
    pub fn seen(&self) -> u64 {
        self.pivots + self.rounds * self.per_round
    }
}

/// Why a solve was stopped early.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stopped {
    /// The work allowed is used up.
    Work,
    /// The clock ran out.
    Clock,
    /// The user asked.
    Asked,
}

/// Has `model` ask `stop` at its interrupt points. `stop` must outlive the solve.
pub fn listen(model: &mut highs::Model, stop: &mut Stop<'_>) {
    let data: *mut Stop<'_> = stop;
    // SAFETY: the pointer is the live HiGHS object of `model`; `data` is read
    // only while that object solves, and the caller keeps `stop` alive and
    // untouched until then.
    unsafe {
        let highs = model.as_mut_ptr();
        Highs_setCallback(highs, Some(answer), data.cast::<c_void>());
        Highs_startCallback(highs, kHighsCallbackMipInterrupt);
        Highs_startCallback(highs, kHighsCallbackSimplexInterrupt);
        Highs_startCallback(highs, kHighsCallbackIpmInterrupt);
    }
}

unsafe extern "C" fn answer(
    kind: c_int,
    _message: *const c_char,
    out: *const HighsCallbackDataOut,
    back: *mut HighsCallbackDataIn,
    data: *mut c_void,
) {
    if out.is_null() || back.is_null() || data.is_null() {
        return;
    }
    // SAFETY: HiGHS passes its own live structures, and `data` is the `Stop`
    // handed over in `listen`, alive for the whole solve and used by no one else.
    let (out, back, stop) = unsafe { (&*out, &mut *back, &mut *data.cast::<Stop<'_>>()) };
    let pivots = if kind == kHighsCallbackMipInterrupt {
        stop.rounds += 1;
        u64::try_from(out.mip_total_lp_iterations).unwrap_or(0)
    } else {
        u64::try_from(out.simplex_iteration_count).unwrap_or(0)
    };
    stop.pivots = stop.pivots.max(pivots);
    let why = if stop.seen() > stop.work {
        Some(Stopped::Work)
    } else if stop.until.is_some_and(|until| Instant::now() >= until) {
        Some(Stopped::Clock)
    } else if (stop.asked)() {
        Some(Stopped::Asked)
    } else {
        None
    };
    if why.is_some() {
        stop.stopped = stop.stopped.or(why);
        back.user_interrupt = 1;
    }
}
