//! Nights with more on them than the one made by hand, also for the benches.

use anteroom::explain::Explained;
use anteroom::night::{Minutes, Person, PersonIx, Span, Stint};

use super::larch::{self, Larch, at};

/// A night of many pairs, one after another, far apart enough to be an entry each.
pub fn long_night(pairs: i64) -> Larch {
    let mut larch = Larch::new();
    let model = larch.rota.entries[..2].to_vec();
    larch.rota.entries.clear();
    larch.out_by.clear();
    for pair in 0..pairs {
        for entry in &model {
            let mut entry = entry.clone();
            entry.number = u32::try_from(pair).expect("few") + 1;
            for time in [&mut entry.don, &mut entry.door_in, &mut entry.door_out, &mut entry.removal, &mut entry.off] {
                *time = *time + Minutes(pair * 25);
            }
            larch.out_by.push(entry.door_out + Minutes(20));
            larch.rota.entries.push(entry);
        }
    }
    larch.explained = Explained::default();
    larch.review.shortages.clear();
    larch.review.tasks.clear();
    larch.rota.tasks.clear();
    larch
}

/// 96 people over 24 hours: 48 pairs on 12 lanes.
pub fn large() -> Larch {
    let mut larch = long_night(48);
    larch.night.roster.shift = Span::new(larch::START, larch::START + Minutes(24 * 60));
    let person = larch.night.roster.people[0].clone();
    let name = |n: usize| format!("{}{}{}", char::from(b'A' + u8::try_from(n / 10).expect("few")), n % 10, "X");
    larch.night.roster.people =
        (0..96).map(|n| Person { id: name(n), on_duty: larch.night.roster.shift, ..person.clone() }).collect();
    for (ix, entry) in larch.rota.entries.iter_mut().enumerate() {
        entry.person = PersonIx(ix);
        entry.observer = Some(PersonIx((ix + 10) % 96));
        entry.assistant = Some(PersonIx((ix + 20) % 96));
        entry.donning_observer = Some(PersonIx((ix + 30) % 96));
    }
    let names = (0..96).map(|n| Stint { person: PersonIx(n), span: Span::new(at(20, 0), at(30, 0)) });
    larch.rota.standby = names.collect();
    larch
}
