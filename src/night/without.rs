//! A night with one rule turned off, to see what the rule costs. Never to be worked by.

use super::{Minutes, Night, PersonalLimits, Relief, Role, Rule};

/// Longer than any shift, more than any stock.
const NO_LIMIT: Minutes = Minutes(4 * 7 * 24 * 60);
const PLENTY: u32 = 1_000;

impl Night {
    /// The same night without one rule; `None` for a rule that cannot be
    /// turned off: without it there is no night to plan.
    #[must_use]
    pub fn without(&self, rule: Rule) -> Option<Self> {
        let mut night = self.clone();
        let (limits, roster) = (&mut night.limits, &mut night.roster);
        match rule {
            Rule::A3 => limits.shower = Minutes::ZERO,
            Rule::A4 => roster.people.iter_mut().for_each(|p| (p.enter_today, p.doffing_area_today) = (true, true)),
            Rule::A5 => {
                let all = roster.people.iter_mut().flat_map(|p| &mut p.sign_offs);
                all.filter(|s| s.role == Role::SupervisedEntrant).for_each(|s| s.role = Role::Entrant);
            }
            Rule::A6 => roster.apart.clear(),
            Rule::A7 => limits.changeover = Minutes::ZERO,
            Rule::A8 => roster.people.iter_mut().for_each(|p| p.own = PersonalLimits::default()),
            Rule::A9 => limits.recency.clear(),
            Rule::B2 => limits.ensembles.iter_mut().for_each(|e| (e.max_wear, e.margin) = (NO_LIMIT, Minutes::ZERO)),
            Rule::B4 => limits.rest.iter_mut().for_each(|row| row.fill(Minutes::ZERO)),
            Rule::B5 => limits.ensembles.iter_mut().for_each(|e| e.recovery = Minutes::ZERO),
            Rule::B6 => limits.cumulative_wear = NO_LIMIT,
            Rule::B7 => limits.rolling_wear.clear(),
            Rule::B8 => limits.entries_max = None,
            Rule::B9 => limits.min_stay = limits.overlap,
            Rule::B10 => limits.low_hours = None,
            Rule::C3 => limits.ensembles.iter_mut().for_each(|e| e.assistant = false),
            Rule::C5 => limits.observer_kit = None,
            Rule::C8 => limits.early_exit = None,
            Rule::C9 => limits.cleaning = Minutes::ZERO,
            Rule::C11 => (limits.watching, limits.low_hours) = (None, None),
            Rule::D1 => limits.min_inside = 1,
            Rule::D2 => roster.rooms.iter_mut().for_each(|room| room.max_inside = PLENTY),
            Rule::D3 => limits.overlap = Minutes::ZERO,
            Rule::D6 => roster.skill_cover.clear(),
            Rule::D8 => limits.relief = Relief::Either,
            Rule::E1 => limits.standby = None,
            Rule::F1 => roster.huddles.clear(),
            Rule::F2 => roster.shower_places = None,
            Rule::F3 => limits.breaks = None,
            Rule::F4 => limits.shift_gap = Minutes::ZERO,
            Rule::F7 => limits.coordinator = false,
            Rule::F8 => (limits.nights_in_a_row, limits.week_max) = (None, None),
            Rule::G1 => roster.kits.iter_mut().for_each(|kit| (kit.count, kit.reserve) = (PLENTY, 0)),
            Rule::G2 => limits.respirators.clear(),
            Rule::H6 => {
                roster.pins.clear();
                roster.forbidden.clear();
            }
            Rule::A1
            | Rule::A2
            | Rule::B1
            | Rule::B3
            | Rule::C1
            | Rule::C2
            | Rule::C4
            | Rule::C6
            | Rule::C7
            | Rule::C10
            | Rule::D4
            | Rule::D5 => return None,
        }
        Some(night)
    }
}
