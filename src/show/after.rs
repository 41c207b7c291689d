//! What somebody may do again after the last item is off, and when.

use super::View;
use crate::night::{EnsembleIx, Minute, Minutes, PersonIx};

/// `No duty until 22:25.`
#[must_use]
pub fn no_duty(view: &View<'_>, worn: EnsembleIx, off: Minute) -> String {
    let duty = off + view.night.limits.ensemble(worn).recovery;
    format!("No duty until {}.", view.wall().time(duty))
}

/// The first minute at which each kit may be put on again.
#[must_use]
pub fn no_kit(view: &View<'_>, person: PersonIx, worn: EnsembleIx, off: Minute) -> String {
    let limits = &view.night.limits;
    let kits: Vec<_> = view.night.roster.person(person).kits.iter().map(|k| k.ensemble).collect();
    let until = |next: EnsembleIx| view.wall().time(off + rest(view, person, worn, next).up_to_grid(limits.grid));
    let Some((&first, others)) = kits.split_first() else {
        return String::new();
    };
    // The form follows the unit's figures alone, so that it gives nobody away.
    if others.iter().all(|&next| limits.rest_between(worn, next) == limits.rest_between(worn, first)) {
        return format!("No PPE until {}.", until(first));
    }
    let each = |&kit: &EnsembleIx| format!("No {} until {}.", limits.ensemble(kit).id, until(kit));
    kits.iter().map(each).collect::<Vec<_>>().join(" ")
}

/// Whichever is longest counts. What follows from a personal limit shows only as
/// a time, as it must: a shorter one would send somebody in too early.
fn rest(view: &View<'_>, person: PersonIx, worn: EnsembleIx, next: EnsembleIx) -> Minutes {
    let limits = &view.night.limits;
    let own = view.night.roster.person(person).own.rest.unwrap_or(Minutes::ZERO);
    limits.rest_between(worn, next).max(limits.ensemble(worn).recovery).max(own)
}
