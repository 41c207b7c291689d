//! The caution.

use crate::show::View;
use crate::show::text::{heading, paragraph, plain};
use crate::show::words;

/// What this rota is and is not.
#[must_use]
pub fn caution(view: &View<'_>) -> String {
    let approval = &view.night.limits.approval;
    let on = approval.on.format("%-d %b %Y").to_string();
    let paragraphs = words::caution(&plain(&approval.by), &on, &format!("issue {}", view.rota.issue));
    heading("CAUTION") + &paragraphs.iter().map(|p| paragraph(p)).collect::<String>()
}
