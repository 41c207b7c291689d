//! Several things at once, one for each processor.

use std::sync::{Mutex, PoisonError};

/// Does some things at once and gives their results in order.
///
/// # Panics
/// As one of them does.
pub fn side_by_side<T: Send>(what: impl IntoIterator<Item = impl FnOnce() -> T + Send>) -> Vec<T> {
    std::thread::scope(|threads| {
        let handles: Vec<_> = what.into_iter().map(|what| threads.spawn(what)).collect();
        handles.into_iter().map(|handle| handle.join().expect("none of them panics")).collect()
    })
}

/// Does some things, so many of them at once, each as soon as there is room for it, and gives their results in order.
///
/// # Panics
/// As one of them does.
pub fn in_turn<T: Send>(at_once: usize, what: impl IntoIterator<Item = impl FnOnce() -> T + Send>) -> Vec<T> {
    let what: Vec<_> = what.into_iter().collect();
    let waiting = Mutex::new(what.into_iter().enumerate());
    let next = || waiting.lock().unwrap_or_else(PoisonError::into_inner).next();
    let work = || std::iter::from_fn(|| next().map(|(place, what)| (place, what()))).collect::<Vec<(usize, T)>>();
    let mut done: Vec<(usize, T)> = side_by_side((0..at_once).map(|_| work)).into_iter().flatten().collect();
    done.sort_by_key(|&(place, _)| place);
    done.into_iter().map(|(_, result)| result).collect()
}
