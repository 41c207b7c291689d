//! What is taken from the shelf.

use std::collections::BTreeMap;

use super::View;
use crate::night::EnsembleIx;

/// One kit to an entry and one to a spell on post, in the person's size (G1).
#[must_use]
pub fn kits_used<'a>(view: &View<'a>) -> BTreeMap<(EnsembleIx, &'a str), u32> {
    let night = view.night;
    let entries = view.rota.entries.iter().map(|e| (e.person, night.room_ensemble(e.person)));
    let posts = view.rota.posts.iter().map(|p| (p.person, night.post_ensemble(p.role)));
    let mut used = BTreeMap::new();
    for (person, kit) in entries.chain(posts) {
        let size = kit.and_then(|kit| Some((kit, night.roster.person(person).size_in(kit)?)));
        if let Some(key) = size {
            *used.entry(key).or_insert(0) += 1;
        }
    }
    used
}
