//! What was probably meant: near misses of keys, words and ids.

use super::keys::Keys;

/// Endings by which people write units. The right ones are `_min` and `_h`.
const UNITS: [&str; 14] = [
    "_minutes", "_minute", "_mins", "_min", "_m", "_hours", "_hour", "_hrs", "_hr", "_h", "_seconds", "_secs", "_sec",
    "_s",
];

/// A key without its unit.
fn stem(key: &str) -> &str {
    UNITS.iter().find_map(|unit| key.strip_suffix(unit)).unwrap_or(key)
}

/// The key of this table that is `name` with another unit, or with none.
pub(super) fn other_unit(name: &str, keys: &'static Keys) -> Option<&'static str> {
    let lower = name.to_lowercase();
    let measured = |key: &&'static str| key.ends_with("_min") || key.ends_with("_h");
    keys.keys.iter().map(|key| key.name).filter(measured).find(|key| stem(key) == stem(&lower))
}

/// The nearest key of this table, if one is near at all.
pub(super) fn key(name: &str, keys: &'static Keys) -> Option<&'static str> {
    word(name, keys.keys.iter().map(|key| key.name))
}

/// The table in which a key of exactly this name stands, as its head is written.
pub(super) fn home_of(name: &str, root: &'static Keys) -> Option<&'static str> {
    let mut homes = vec![root];
    while let Some(keys) = homes.pop() {
        let unique = keys.find(name).is_some_and(|key| !is_common(key.name));
        if unique {
            return Some(keys.head);
        }
        homes.extend(keys.inner());
    }
    None
}

/// Keys that stand in so many tables that their home says nothing.
fn is_common(name: &str) -> bool {
    ["id", "from", "to", "people", "size", "room", "person", "count", "task", "lane", "min"].contains(&name)
}

/// The nearest of `words`, if one is near at all. Words longer than any of ours are not compared.
pub(super) fn word<'a>(name: &str, words: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    const LONGEST: usize = 60;
    const NEAR: f64 = 0.75;
    if name.len() > LONGEST {
        return None;
    }
    let lower = name.to_lowercase();
    let scored = words.map(|word| (strsim::damerau_levenshtein(&lower, &word.to_lowercase()), word));
    let (distance, nearest) = scored.min_by_key(|(distance, _)| *distance)?;
    let alike = strsim::jaro_winkler(&lower, &nearest.to_lowercase());
    (alike >= NEAR && distance * 2 <= nearest.chars().count().max(2)).then_some(nearest)
}
