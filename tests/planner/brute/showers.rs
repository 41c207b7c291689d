//! Showers for whoever wore a kit, where places are limited (F2).

use anteroom::night::{BreakTaken, Minute, Night, PersonIx, Span, Stint};

use super::duties::Duty;

/// A shower for each wearer with a place for it, or `None` when there are none. Breaks stay where they are.
pub fn place(night: &Night, duties: &[Vec<Duty>], breaks: &[BreakTaken]) -> Option<Vec<Stint>> {
    let Some(places) = night.shower_places() else { return Some(vec![]) };
    let search = Search { night, duties, breaks, places: places as usize };
    let mut taken = vec![];
    search.from(0, &mut taken).then_some(taken)
}

struct Search<'a> {
    night: &'a Night,
    duties: &'a [Vec<Duty>],
    breaks: &'a [BreakTaken],
    places: usize,
}

impl Search<'_> {
    /// Showers of everyone from one person on, one after another in every way.
    fn from(&self, person: usize, taken: &mut Vec<Stint>) -> bool {
        let Some(duties) = self.duties.get(person) else { return true };
        let Some(off) = duties.iter().filter(|d| d.worn.is_some()).map(|d| d.to).max() else {
            return self.from(person + 1, taken);
        };
        let (grid, length) = (self.night.limits.grid.0, self.night.limits.shower.0);
        let last = self.night.roster.people[person].on_duty.to.0 - length;
        let starts = (0..).map(|step| off + step * grid).take_while(|&start| start <= last);
        for start in starts {
            let span = Span::new(Minute(start), Minute(start + length));
            if self.is_free(person, span) && self.has_place(span, taken) {
                taken.push(Stint { person: PersonIx(person), span });
                if self.from(person + 1, taken) {
                    return true;
                }
                taken.pop();
            }
        }
        false
    }

    fn is_free(&self, person: usize, span: Span) -> bool {
        let busy = |d: &Duty| Span::new(Minute(d.from), Minute(d.to)).overlaps(span);
        let on_break = self.breaks.iter().any(|b| b.person == PersonIx(person) && b.span.overlaps(span));
        !on_break && !self.duties[person].iter().any(busy)
    }

    fn has_place(&self, span: Span, taken: &[Stint]) -> bool {
        let at_once = |at: i64| taken.iter().filter(|s| s.span.contains(Minute(at))).count();
        (span.from.0..span.to.0).all(|at| at_once(at) < self.places)
    }
}
