//! The longest stay in a room, as arithmetic that a pencil can follow (H7).

use crate::night::{Ensemble, Minutes, Night, Respirator, Task, WearFrom, WornIn};

/// Says why the task can never be done by the same people, if it cannot:
/// `needs 90 min, longest stay 75 = 150-10-25-15-25`.
pub fn too_long(night: &Night, task: &Task) -> Option<String> {
    if !task.same_people {
        return None;
    }
    let lanes = night.roster.lanes.len();
    let best = room_kits(night).map(|kit| longest_stay(night, kit, task.people, lanes)).max_by_key(|stay| stay.0)?;
    if best.0 >= task.length {
        return None;
    }
    let more = room_kits(night).map(|kit| longest_stay(night, kit, task.people, lanes + 1).0).max();
    let hint = more.filter(|&stay| stay > best.0).map(|stay| format!(" With one more lane: {stay}."));
    Some(format!(
        "It needs {} min; the longest stay is {} = {}.{}",
        task.length,
        best.0,
        best.1,
        hint.unwrap_or_default()
    ))
}

fn room_kits(night: &Night) -> impl Iterator<Item = &Ensemble> {
    night.limits.ensembles.iter().filter(|e| e.worn_in == WornIn::Room)
}

/// The longest wear of an ensemble, counted from `before` the door: by its own limit and by the charge of the
/// respirator that runs longest (G2).
fn longest_wear(night: &Night, kit: &Ensemble, before: Minutes) -> Minutes {
    let own = kit.max_wear - kit.margin;
    let runs = kit.respirators.iter().map(|model| night.limits.respirator(model).and_then(Respirator::longest_run));
    let longest = runs.map(|run| run.unwrap_or(own)).max();
    longest.map_or(own, |run| own.min(run - kit.sealed + before))
}

/// The longest stay together of so many people, the last of whom to leave wears
/// `kit`, and its arithmetic. All are inside to the end, relief or not, so the
/// last one waits until the lanes have served the others, in whichever kit comes
/// off soonest.
fn longest_stay(night: &Night, kit: &Ensemble, people: u32, lanes: usize) -> (Minutes, String) {
    let before = match night.limits.wear_from {
        WearFrom::Sealed => kit.sealed,
        WearFrom::DonningStart => kit.donning,
        WearFrom::DoorIn => Minutes::ZERO,
    };
    let mut steps = vec![longest_wear(night, kit, before), before, kit.removal];
    let soonest = room_kits(night).map(|kit| kit.removal).min().unwrap_or(kit.removal);
    let turns = usize::try_from(people).unwrap_or(usize::MAX).div_ceil(lanes.max(1)).saturating_sub(1);
    for _ in 0..turns {
        steps.extend([night.limits.cleaning, soonest]);
    }
    let stay = steps[1..].iter().fold(steps[0], |left, &step| left - step);
    let words = steps.iter().filter(|&&step| step > Minutes::ZERO).map(ToString::to_string);
    (stay, words.collect::<Vec<_>>().join("-"))
}
