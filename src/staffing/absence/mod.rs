//! With people missing as often as they are, how often does a crew cover the night?
//!
//! `people, chances, seed -> List (nights, cases) -> Job (planned and checked, all or a share) -> Known -> Answer`
//!
//! Nights are drawn ([`draw`]); those on which the same people are missing are one case, which is planned once
//! ([`work`]). Whoever has the inputs has the list, so that shares of the cases can be settled anywhere and put
//! together again ([`answer`]).

pub mod answer;
pub mod digest;
pub mod draw;
pub mod list;
pub mod outcome;
pub mod part;
pub mod work;
