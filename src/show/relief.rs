//! Who comes in for whom.

use crate::night::{RoomIx, Rota};

/// Who comes in for the entry at `ix`: one arrival relieves one leaver, the first the first.
#[must_use]
pub fn relieved_by(rota: &Rota, ix: usize) -> Option<usize> {
    pairs(rota, rota.entries[ix].room).into_iter().find(|&(leaver, _)| leaver == ix).map(|(_, relief)| relief)
}

fn pairs(rota: &Rota, room: RoomIx) -> Vec<(usize, usize)> {
    let all = &rota.entries;
    let mut leavers: Vec<usize> = (0..all.len()).filter(|&ix| all[ix].room == room).collect();
    let mut arrivals = leavers.clone();
    leavers.sort_by_key(|&ix| (all[ix].door_out, ix));
    arrivals.sort_by_key(|&ix| (all[ix].door_in, ix));
    let mut pairs = Vec::new();
    for leaver in leavers {
        let (came, goes) = (all[leaver].door_in, all[leaver].door_out);
        let fits = |&ix: &usize| came < all[ix].door_in && all[ix].door_in <= goes && goes < all[ix].door_out;
        if let Some(place) = arrivals.iter().position(fits) {
            pairs.push((leaver, arrivals.remove(place)));
        }
    }
    pairs
}
