//! How many of something at once, over time.

use crate::night::{Minute, Span};

/// Each stretch in which the number of `spans` at once stays the same and is
/// not zero, with that number, in order of time.
pub(super) fn counted(spans: impl Iterator<Item = Span>) -> Vec<(Span, u32)> {
    let mut changes: Vec<(Minute, i32)> = Vec::new();
    for span in spans.filter(|s| !s.is_empty()) {
        changes.push((span.from, 1));
        changes.push((span.to, -1));
    }
    changes.sort_unstable();
    let mut stretches: Vec<(Span, u32)> = Vec::new();
    let mut now = 0_i32;
    for (i, &(at, change)) in changes.iter().enumerate() {
        now += change;
        let Some(&(until, _)) = changes.get(i + 1) else { break };
        let number = u32::try_from(now).unwrap_or(0);
        if until > at && number > 0 {
            join(&mut stretches, Span::new(at, until), number);
        }
    }
    stretches
}

/// Adds a stretch, as part of the last one where that touches it and has the same number.
fn join(stretches: &mut Vec<(Span, u32)>, span: Span, number: u32) {
    match stretches.last_mut() {
        Some((last, same)) if last.to == span.from && *same == number => last.to = span.to,
        _ => stretches.push((span, number)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn span(from: i64, to: i64) -> Span {
        Span::new(Minute(from), Minute(to))
    }

    #[test]
    fn touching_spans_of_one_make_one_stretch() {
        let found = counted([span(0, 10), span(10, 20)].into_iter());
        assert_eq!(found, [(span(0, 20), 1)]);
    }

    #[test]
    fn shared_minutes_count_twice_and_empty_spans_not_at_all() {
        let found = counted([span(0, 10), span(5, 20), span(7, 7), span(9, 3)].into_iter());
        assert_eq!(found, [(span(0, 5), 1), (span(5, 10), 2), (span(10, 20), 1)]);
    }
}
