//! Several things at once, one for each processor.

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
