//! How long the kits last: what a rota takes from the shelf and when, and for how many nights like it that is enough
//! (G1, G3, G5).
//!
//! A kit is taken when its donning starts, one for each entry and each spell on post, in the person's size. What is
//! kept back is not for the plan: it is reached when no more than that is left, and runs out is said of the donning
//! for which only that is left.

use std::collections::BTreeMap;

use crate::check::{MostInUse, most_in_use};
use crate::night::{EnsembleIx, Minute, Night, PersonIx, PostRole, Rota, WornIn};

/// Kits of one ensemble and size, and what a night does to them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Shelf {
    /// The ensemble.
    pub ensemble: EnsembleIx,
    /// The size.
    pub size: String,
    /// How many there are at the start.
    pub count: u32,
    /// How many are kept back.
    pub reserve: u32,
    /// When one is taken by an entrant, in order.
    pub entrants: Vec<Minute>,
    /// When one is taken by a helper, in order.
    pub helpers: Vec<Minute>,
    /// How many one entry that nobody planned may take of it: all of that size, since nobody knows who goes in.
    pub each_unplanned: u32,
}

/// When only what is kept back is left.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Reached {
    /// From the start.
    AtStart,
    /// With the donning that starts then.
    At(Minute),
    /// Not on this night.
    Not,
}

/// What a night takes from the shelf.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Supply {
    /// Every ensemble and size on the roster or in use, in order.
    pub shelves: Vec<Shelf>,
    /// Respirators whose units come back into use: when most are in use.
    pub respirators: Vec<MostInUse>,
    /// Respirator models of the roster that the limits do not count, with size and number.
    pub not_counted: Vec<(String, String, u32)>,
    /// Entries and spells on post of people who have no size of the kit: they are on no shelf.
    pub no_size: u32,
}

impl Shelf {
    /// How many may be used without touching what is kept back.
    #[must_use]
    pub const fn usable(&self) -> u32 {
        self.count.saturating_sub(self.reserve)
    }

    /// How many the night takes.
    #[must_use]
    pub fn used(&self) -> u32 {
        number(self.entrants.len() + self.helpers.len())
    }

    /// When one is taken, in order.
    #[must_use]
    pub fn uses(&self) -> Vec<Minute> {
        let mut uses = [self.entrants.as_slice(), &self.helpers].concat();
        uses.sort_unstable();
        uses
    }

    /// How many are left when a minute starts; below nothing where the rota takes more than there are.
    #[must_use]
    pub fn left_at(&self, at: Minute) -> i64 {
        i64::from(self.count) - i64::from(number(self.uses().partition_point(|&use_| use_ < at)))
    }

    /// How many are left after the last use.
    #[must_use]
    pub fn left(&self) -> i64 {
        i64::from(self.count) - i64::from(self.used())
    }

    /// When only what is kept back is left.
    #[must_use]
    pub fn reached(&self) -> Reached {
        match self.usable().checked_sub(1) {
            None => Reached::AtStart,
            Some(last) => self.uses().get(last as usize).map_or(Reached::Not, |&at| Reached::At(at)),
        }
    }

    /// The donning for which only what is kept back is left, if there is one.
    #[must_use]
    pub fn runs_out(&self) -> Option<Minute> {
        self.uses().get(self.usable() as usize).copied()
    }

    /// How many one night takes, with so many entries that nobody planned.
    #[must_use]
    pub fn a_night(&self, unplanned: u32) -> u32 {
        self.used().saturating_add(self.each_unplanned.saturating_mul(unplanned))
    }

    /// For how many whole nights like this one it is enough, this one included, with so many entries a night that
    /// nobody planned. `None` where a night takes none.
    #[must_use]
    pub fn nights(&self, unplanned: u32) -> Option<u32> {
        self.usable().checked_div(self.a_night(unplanned))
    }
}

/// What a rota takes.
#[must_use]
pub fn supply(night: &Night, rota: &Rota) -> Supply {
    let mut shelves: BTreeMap<(EnsembleIx, String), Shelf> = BTreeMap::new();
    for stock in &night.roster.kits {
        let shelf = on(&mut shelves, night, stock.ensemble, &stock.size);
        shelf.count += stock.count;
        shelf.reserve += stock.reserve;
    }
    let entries = rota.entries.iter().map(|e| (e.person, night.room_ensemble(e.person), e.don, true));
    let posts = rota.posts.iter().map(|p| (p.person, night.post_ensemble(p.role), p.don, false));
    let mut no_size = 0;
    for (person, ensemble, don, enters) in entries.chain(posts) {
        let Some((ensemble, size)) = kit(night, person, ensemble) else {
            no_size += 1;
            continue;
        };
        let shelf = on(&mut shelves, night, ensemble, size);
        if enters { shelf.entrants.push(don) } else { shelf.helpers.push(don) }
    }
    for shelf in shelves.values_mut() {
        shelf.entrants.sort_unstable();
        shelf.helpers.sort_unstable();
    }
    let counted = |model: &str| night.limits.respirator(model).is_some();
    let others = night.roster.respirators.iter().filter(|r| !counted(&r.respirator));
    Supply {
        shelves: shelves.into_values().collect(),
        respirators: most_in_use(night, rota),
        not_counted: others.map(|r| (r.respirator.clone(), r.size.clone(), r.count)).collect(),
        no_size,
    }
}

/// The kit that a person takes, in their size.
fn kit(night: &Night, person: PersonIx, ensemble: Option<EnsembleIx>) -> Option<(EnsembleIx, &str)> {
    let ensemble = ensemble?;
    Some((ensemble, night.roster.person(person).size_in(ensemble)?))
}

/// The shelf of an ensemble and size; an empty one where there is none yet.
fn on<'s>(
    shelves: &'s mut BTreeMap<(EnsembleIx, String), Shelf>,
    night: &Night,
    ensemble: EnsembleIx,
    size: &str,
) -> &'s mut Shelf {
    shelves.entry((ensemble, size.to_owned())).or_insert_with(|| Shelf {
        ensemble,
        size: size.to_owned(),
        count: 0,
        reserve: 0,
        entrants: vec![],
        helpers: vec![],
        each_unplanned: each_unplanned(night, ensemble),
    })
}

/// Kits of an ensemble that one more entry takes: the entrant's, and those of whoever assists and watches the removal
/// where the unit has them dressed.
fn each_unplanned(night: &Night, ensemble: EnsembleIx) -> u32 {
    let limits = &night.limits;
    let enters = limits.ensemble(ensemble).worn_in == WornIn::Room;
    let (_, assisted) = limits.longest_exit();
    let assists = assisted && night.post_ensemble(PostRole::Assistant) == Some(ensemble);
    let watches = night.post_ensemble(PostRole::Observer) == Some(ensemble);
    u32::from(enters) + u32::from(assists) + u32::from(watches)
}

fn number(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
