//! A short mark of the inputs, by which results of other inputs are told apart.

use super::draw::word;

/// 128 bits, as 32 figures, that differ with near certainty where the bytes differ. It guards against a mix-up, not
/// against somebody who wants to deceive.
#[must_use]
pub fn digest(bytes: &[u8]) -> String {
    format!("{:016x}{:016x}", folded(1, bytes), folded(2, bytes))
}

/// Each eight bytes mixed into what was before, the length first.
fn folded(start: u64, bytes: &[u8]) -> u64 {
    bytes.chunks(8).fold(word(start ^ ((bytes.len() as u64) << 2)), |sum, chunk| {
        let eight = chunk.iter().fold(0, |eight, &byte| (eight << 8) | u64::from(byte));
        word(sum ^ eight)
    })
}

#[cfg(test)]
mod tests {
    use super::digest;

    #[test]
    fn a_digest_changes_with_every_byte_and_with_the_length() {
        let text = b"roster = 1 and more than eight";
        let mut seen = std::collections::BTreeSet::from([digest(text), digest(b""), digest(b"\0")]);
        for place in 0..text.len() {
            let mut other = text.to_vec();
            other[place] ^= 1;
            assert!(seen.insert(digest(&other)));
            assert!(seen.insert(digest(&text[..place])) || place == 0);
        }
    }
}
