//! Who could take over a watch, or a spell as assistant: each tried in the rota and put to the check.

use crate::check::is_clean;
use crate::night::{BreakTaken, Entry, Minute, Minutes, Night, PersonIx, PostRole, Role, Rota, Span};

/// What one person does as one piece: watching a donning, watching a removal, or a spell on post.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Piece {
    /// The sign-off it takes.
    pub(super) role: Role,
    /// Who does it in the rota.
    pub(super) by: PersonIx,
    /// When.
    pub(super) span: Span,
    place: Place,
}

/// Where in the rota it stands.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Place {
    DonningOfEntry(usize),
    DonningOfPost(usize),
    RemovalOfEntry(usize),
    RemovalOfPost(usize),
    AssistAt(usize),
    Spell(usize),
}

/// Every piece of a rota, in order of time.
pub(super) fn pieces(night: &Night, rota: &Rota) -> Vec<Piece> {
    let mut all = Vec::new();
    let mut add = |role, by: Option<PersonIx>, span, place| {
        all.extend(by.map(|by| Piece { role, by, span, place }));
    };
    let kit = |role| night.post_ensemble(role).is_some();
    for (ix, e) in rota.entries.iter().enumerate() {
        let removal = Span::new(e.removal, e.off);
        add(Role::DonningObserver, e.donning_observer, night.donning_of_entry(e), Place::DonningOfEntry(ix));
        if !kit(PostRole::Observer) {
            add(Role::DoffingObserver, e.observer, removal, Place::RemovalOfEntry(ix));
        }
        if !kit(PostRole::Assistant) {
            add(Role::Assistant, e.assistant, removal, Place::AssistAt(ix));
        }
    }
    for (ix, p) in rota.posts.iter().enumerate() {
        add(Role::DonningObserver, p.donning_observer, night.donning_of_post(p), Place::DonningOfPost(ix));
        add(p.role.sign_off(), Some(p.person), Span::new(p.don, p.off), Place::Spell(ix));
        // Where observers wear a kit, an assistant's removal is watched by one on post, and goes with that spell.
        if !kit(PostRole::Observer) || p.role == PostRole::Observer {
            add(Role::DoffingObserver, p.observer, Span::new(p.removal, p.off), Place::RemovalOfPost(ix));
        }
    }
    all.sort_by_key(|piece| (piece.span, piece.role, piece.by, piece.place));
    all
}

/// The rota with somebody else doing this piece.
pub(super) fn handed_over(night: &Night, rota: &Rota, piece: &Piece, to: PersonIx) -> Rota {
    let mut new = rota.clone();
    match piece.place {
        Place::DonningOfEntry(ix) => new.entries[ix].donning_observer = Some(to),
        Place::DonningOfPost(ix) => new.posts[ix].donning_observer = Some(to),
        Place::RemovalOfEntry(ix) => new.entries[ix].observer = Some(to),
        Place::RemovalOfPost(ix) => new.posts[ix].observer = Some(to),
        Place::AssistAt(ix) => new.entries[ix].assistant = Some(to),
        Place::Spell(ix) => hand_over_spell(&mut new, ix, to),
    }
    if !has_duty(rota, to) {
        give_breaks(night, &mut new, to, piece.span);
    }
    new
}

/// The spell, what is done in it, and the shower after it.
fn hand_over_spell(rota: &mut Rota, ix: usize, to: PersonIx) {
    let (by, role) = (rota.posts[ix].person, rota.posts[ix].role);
    let spell = Span::new(rota.posts[ix].don, rota.posts[ix].off);
    rota.posts[ix].person = to;
    for entry in rota.entries.iter_mut().filter(|e| spell.covers(Span::new(e.removal, e.off))) {
        let helper = match role {
            PostRole::Assistant => &mut entry.assistant,
            PostRole::Observer => &mut entry.observer,
        };
        if *helper == Some(by) {
            *helper = Some(to);
        }
    }
    if role == PostRole::Observer {
        let watched = |p: &&mut crate::night::Post| {
            p.role == PostRole::Assistant && p.observer == Some(by) && spell.covers(Span::new(p.removal, p.off))
        };
        rota.posts.iter_mut().filter(watched).for_each(|p| p.observer = Some(to));
    }
    let shower = rota.showers.iter_mut().filter(|s| s.person == by && s.span.from >= spell.to);
    if let Some(shower) = shower.min_by_key(|s| s.span.from) {
        shower.person = to;
    }
}

fn has_duty(rota: &Rota, person: PersonIx) -> bool {
    let helps = |e: &Entry| [e.donning_observer, e.observer, e.assistant].contains(&Some(person));
    rota.entries.iter().any(|e| e.person == person || helps(e))
        || rota
            .posts
            .iter()
            .any(|p| p.person == person || p.donning_observer == Some(person) || p.observer == Some(person))
}

/// Breaks for somebody who had no duty and so needed none: each as late as the unit's longest stretch allows, or
/// before the piece. The check says whether they will do.
fn give_breaks(night: &Night, rota: &mut Rota, person: PersonIx, piece: Span) {
    let Some(rule) = night.limits.breaks else { return };
    let duty = night.roster.person(person).on_duty.intersection(night.roster.shift);
    let longest = night.limits.ensembles.iter().map(|kit| kit.recovery).max().unwrap_or(Minutes::ZERO);
    let taken =
        Span::new(piece.from - night.limits.observer_ready, piece.to + longest.max(night.limits.observer_reset));
    let windows = &night.roster.break_windows;
    let fits = |span: Span| !span.overlaps(taken) && (windows.is_empty() || windows.iter().any(|w| w.covers(span)));
    rota.breaks.retain(|b| b.person != person);
    let mut since = duty.from;
    while duty.to - since > rule.work_max {
        let latest: Minute = since + rule.work_max;
        let starts = (since.0..=latest.0).rev().map(|at| Span::new(Minute(at), Minute(at) + rule.length));
        let Some(span) = starts.into_iter().find(|&span| fits(span)) else { return };
        rota.breaks.push(BreakTaken { person, span });
        since = span.to;
    }
}

/// The people who could do this piece under the sign-offs of `night`, whoever does it in the rota among them.
pub(super) fn able(night: &Night, rota: &Rota, piece: &Piece) -> Vec<PersonIx> {
    let could = |&to: &PersonIx| is_clean(night, &handed_over(night, rota, piece, to));
    night.roster.person_indices().filter(could).collect()
}
