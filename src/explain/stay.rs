//! The longest stay in a room, as arithmetic that a pencil can follow (H7).

use crate::night::{Ensemble, Minutes, Night, RoomIx, Task, WearFrom, WornIn};

/// Says why the task can never be done by the same people, if it cannot:
/// `needs 90 min, longest stay 75 = 150-10-25-15-25`.
pub fn too_long(night: &Night, task: &Task) -> Option<String> {
    if !task.same_people {
        return None;
    }
    let rooms = night.limits.ensembles.iter().filter(|e| e.worn_in == WornIn::Room);
    let best = rooms.map(|kit| longest_stay(night, kit, task.room, task.people, night.roster.lanes.len()));
    let best = best.max_by_key(|stay| stay.0)?;
    if best.0 >= task.length {
        return None;
    }
    let lanes = night.roster.lanes.len();
    let more = night.limits.ensembles.iter().filter(|e| e.worn_in == WornIn::Room);
    let more = more.map(|kit| longest_stay(night, kit, task.room, task.people, lanes + 1).0).max();
    let hint = more.filter(|&stay| stay > best.0).map(|stay| format!(" With one more lane: {stay}."));
    Some(format!(
        "It needs {} min; the longest stay is {} = {}.{}",
        task.length,
        best.0,
        best.1,
        hint.unwrap_or_default()
    ))
}

/// The longest stay in `kit` of people who go in together, and its arithmetic.
/// Where they also have to leave together, the last waits for the lane.
fn longest_stay(night: &Night, kit: &Ensemble, room: RoomIx, people: u32, lanes: usize) -> (Minutes, String) {
    let before = match night.limits.wear_from {
        WearFrom::Sealed => kit.sealed,
        WearFrom::DonningStart => kit.donning,
        WearFrom::DoorIn => Minutes::ZERO,
    };
    let mut steps = vec![kit.max_wear - kit.margin, before, kit.removal];
    let relief = night.roster.rooms[room.0].max_inside > people || night.limits.min_inside < 2;
    if !relief {
        let turns = usize::try_from(people).unwrap_or(usize::MAX).div_ceil(lanes.max(1)).saturating_sub(1);
        for _ in 0..turns {
            steps.extend([night.limits.cleaning, kit.removal]);
        }
    }
    let stay = steps[1..].iter().fold(steps[0], |left, &step| left - step);
    let words: Vec<String> = steps.iter().map(ToString::to_string).collect();
    (stay, words.join("-"))
}
