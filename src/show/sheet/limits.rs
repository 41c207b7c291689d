//! The limits used, in a few lines, and what was not checked.

use super::Print;
use crate::night::{ConstraintSet, EnsembleIx};
use crate::show::View;
use crate::show::text::plain;
use crate::show::words;

/// W, margin, f, r, C, lanes and from when wear counts, in one line.
/// Names of kits as `name` writes them: whole, or cut where room is short.
pub fn in_a_line(view: &View<'_>, name: fn(&str) -> String) -> String {
    let set = &view.night.limits;
    let kits = (0..set.ensembles.len()).map(|ix| kit(set, EnsembleIx(ix), name)).collect::<Vec<_>>().join("; ");
    let relief = words::relief(set.relief).map_or_else(String::new, |words| format!(" Relief {words}."));
    format!(
        "Limits used, in minutes: {kits}; wear in the shift C {}; lane cleaning {}; lanes {}; spare under {} is TIGHT. {}{relief}",
        set.cumulative_wear,
        set.cleaning,
        view.night.roster.lanes.len(),
        set.spare,
        words::wear_from(set.wear_from),
    )
}

fn kit(set: &ConstraintSet, ix: EnsembleIx, name: fn(&str) -> String) -> String {
    let kit = set.ensemble(ix);
    let rests = (0..set.ensembles.len()).map(|next| {
        let next = EnsembleIx(next);
        format!("{} before {}", set.rest_between(ix, next), name(&set.ensemble(next).id))
    });
    let low = set.low_hours_wear(ix).map_or_else(String::new, |low| format!(" (low hours {low})"));
    format!(
        "kit {}: wear W {}{low} less margin {}, removal f {}, recovery {}, rest r {}",
        name(&kit.id),
        kit.max_wear,
        kit.margin,
        kit.removal,
        kit.recovery,
        rests.collect::<Vec<_>>().join(", ")
    )
}

/// `NOT CHECKED: ...`, or that everything was.
pub fn not_checked(view: &View<'_>) -> String {
    let all: Vec<String> = view.review.not_checked.iter().map(|n| plain(&n.what)).collect();
    if all.is_empty() { "NOT CHECKED: NONE".to_owned() } else { format!("NOT CHECKED: {}", all.join("; ")) }
}

/// The caution of the wall sheet, a paragraph each.
pub fn caution(print: &Print<'_>) -> Vec<String> {
    let approval = &print.view.night.limits.approval;
    let on = approval.on.format("%-d %b %Y").to_string();
    let valid_as = format!("issue {}, printed {}", print.issue, super::frame::stamp(print, print.printed));
    words::caution(&super::frame::cut(&approval.by), &on, &valid_as).to_vec()
}
