//! The caution.

use chrono::NaiveDate;

use crate::night::{ConstraintSet, Night};
use crate::show::View;
use crate::show::text::{hanging, heading, paragraph, plain};
use crate::show::warnings::of_answer;
use crate::show::words;

/// What must not be overlooked of an answer that is no rota, a line each.
#[must_use]
pub fn bands(example: bool, night: &Night, today: NaiveDate) -> String {
    of_answer(example, night, today).iter().map(|(word, text)| hanging("", &format!("{word}: {text}"))).collect()
}

/// What has to be kept in mind with an answer that is no rota.
#[must_use]
pub fn caution_of_answer(cautions: &[&str], limits: &ConstraintSet) -> String {
    let by_whom = format!(
        "The limits are this unit's own, approved by {} on {}. This program neither chose nor verified them.",
        limits.approval.by,
        words::date(limits.approval.on)
    );
    let first = "PLANNING AID ONLY. Your unit's procedures, occupational health and your own judgement come first.";
    let all = std::iter::once(first).chain(cautions.iter().copied()).chain([by_whom.as_str()]);
    heading("CAUTION") + &all.map(paragraph).collect::<String>()
}

/// What this rota is and is not.
#[must_use]
pub fn caution(view: &View<'_>) -> String {
    let approval = &view.night.limits.approval;
    let on = approval.on.format("%-d %b %Y").to_string();
    let paragraphs = words::caution(&plain(&approval.by), &on, &format!("issue {}", view.rota.issue));
    heading("CAUTION") + &paragraphs.iter().map(|p| paragraph(p)).collect::<String>()
}
