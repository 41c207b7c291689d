//! Rows that hold of names and not of counts: whoever is at something through a stretch is one and the same person.
//!
//! People counted together could hand a removal that is being watched or assisted to one another slot by slot. With
//! groups of one these rows say nothing new.

use crate::night::{Night, Rule};

use super::super::grid::Slot;
use super::super::program::Sum;
use super::jobs::Job;
use super::people::{Part, Person, Rows};
use super::{Grouping, Model};

impl Model {
    /// Adds them for every group of more than one.
    pub(super) fn add_through_rows(&mut self, night: &Night) {
        if self.grouping != Grouping::Alike {
            return;
        }
        let mut rows = Rows::new();
        for place in (0..self.groups.len()).filter(|&place| self.groups[place].count() > 1) {
            let person = Person { night, model: self, group: &self.groups[place], duties: &self.duties[place] };
            person.one_duty_through_rows(&mut rows);
            // Whoever is dressed for an early exit may be so without helping anybody.
            if night.limits.early_exit.is_none() {
                person.post_through_rows(&mut rows);
            }
        }
        rows.into_iter().for_each(|(sum, most, rule)| self.program.at_most(sum, most, rule));
    }
}

impl Person<'_> {
    /// In every stretch that is shorter than the rest between two wears, whoever wears a kit in it, and whoever is at
    /// one and the same other duty all through it, is somebody else (A7).
    fn one_duty_through_rows(&self, rows: &mut Rows) {
        let worn: Vec<Part> = self.parts().into_iter().filter(|&part| self.wearing(part).is_some()).collect();
        let jobs: Vec<Job<'_>> = self.parts().into_iter().flat_map(|part| self.jobs(part)).collect();
        let rest = worn.iter().flat_map(|&from| worn.iter().map(move |&to| self.apart(from, to))).min();
        let Some(longest) = jobs.iter().map(Job::length).max() else { return };
        for stretch in 1..longest.min(rest.unwrap_or(Slot::MAX).saturating_add(1)) {
            for first in 0..self.model.grid.slots - stretch {
                let last = first + stretch;
                let mut sum = Sum::new();
                jobs.iter().for_each(|job| job.add_through(&mut sum, first, last));
                if !sum.terms.is_empty() {
                    worn.iter().for_each(|&part| self.add_worn_in(&mut sum, part, first, last));
                    rows.push((sum, self.group.count(), Rule::A7));
                }
            }
        }
    }

    /// Duties without a kit that take as long as they take.
    fn jobs(&self, part: Part) -> Vec<Job<'_>> {
        match part {
            Part::Donning if self.duties.donning_heads.is_empty() => {
                self.model.donnings_watched(self.night, self.duties)
            }
            Part::Lane(lane) => self.model.watches_in_lane(self.night, self.duties, lane),
            Part::Help(lane) => self.assists(lane),
            Part::Break => vec![self.breaks()],
            Part::Shower => vec![self.showers()],
            _ => vec![],
        }
    }

    /// Assisting removals in a lane group, without what is cleaned afterwards.
    fn assists(&self, lane: usize) -> Vec<Job<'_>> {
        let kinds = self.duties.assists.iter().enumerate();
        let after = |kind| self.model.removal_slots(self.night, kind);
        kinds.map(|(kind, lanes)| Job { events: &lanes[lane], before: 0, after: after(kind) }).collect()
    }

    /// Whoever helps in a kit through a stretch was on post before it and is until it ends (C3, C5).
    fn post_through_rows(&self, rows: &mut Rows) {
        let lanes = 0..self.model.lanes.len();
        let (assists, watches) = (
            lanes.clone().flat_map(|lane| self.assists(lane)),
            lanes.flat_map(|lane| self.model.watches_in_lane(self.night, self.duties, lane)),
        );
        let posts = [
            (&self.duties.assisting, assists.collect::<Vec<_>>(), Rule::C3),
            (&self.duties.observing, watches.collect(), Rule::C5),
        ];
        for (posting, jobs, rule) in posts {
            let (Some(posting), Some(shortest)) = (posting, jobs.iter().map(Job::length).min()) else { continue };
            // A spell that serves somebody is no shorter than what it serves: none begins and ends inside the stretch.
            // Shorter stretches say little more and slow the search down.
            let stretch = shortest - 1;
            for first in 0..self.model.grid.slots - stretch {
                let last = first + stretch;
                let mut sum = Sum::new();
                jobs.iter().for_each(|job| job.add_through(&mut sum, first, last));
                posting.don.add_upto(&mut sum, first - posting.wearing.donning, -1);
                posting.removals().for_each(|removals| removals.add_upto(&mut sum, last, 1));
                rows.push((sum, 0, rule));
            }
        }
    }
}
