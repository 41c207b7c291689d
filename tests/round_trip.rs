//! What is written as a rota file is read back as the same rota.

#[expect(dead_code, reason = "the night made by hand serves several tests, each in part")]
mod larch;

use anteroom::night::{Minutes, PersonIx, Span, Stint};
use anteroom::read::{self, Source};
use anteroom::show::rota_toml;
use larch::{Larch, START, at};

fn assert_comes_back(larch: &Larch) {
    let text = rota_toml::write(&larch.night, &larch.rota);
    match read::rota(&Source::new("rota.toml", text.as_bytes()), &larch.night) {
        Ok((rota, findings)) => {
            assert_eq!(rota, larch.rota, "{text}");
            assert!(findings.is_empty(), "{}", findings.render());
        }
        Err(findings) => panic!("{}\n{text}", findings.render()),
    }
}

#[test]
fn a_plain_night() {
    assert_comes_back(&Larch::new());
}

#[test]
fn nobody_at_the_lane() {
    let mut larch = Larch::new();
    for entry in &mut larch.rota.entries {
        (entry.lane, entry.donning_observer, entry.observer, entry.assistant) = (None, None, None, None);
    }
    assert_comes_back(&larch);
}

#[test]
fn showers() {
    let mut larch = Larch::new();
    let shower = |person, from, to| Stint { person: PersonIx(person), span: Span::new(from, to) };
    larch.rota.showers = vec![shower(1, at(30, 0), at(30, 15)), shower(0, at(30, 15), at(30, 30))];
    assert_comes_back(&larch);
}

#[test]
fn before_the_shift_and_on_another_day() {
    let mut larch = Larch::new();
    larch.rota.entries[0].don = at(18, 55);
    larch.rota.breaks[0].span.to = at(43, 5);
    assert_comes_back(&larch);
    larch.night.roster.shift.to = at(60, 0);
    assert_comes_back(&larch);
}

#[test]
fn the_nights_the_clocks_change() {
    for start in [32_512_350 - 390, 32_208_540 - 360] {
        let mut larch = Larch::new();
        larch.move_by(Minutes(start - START.0));
        for shift in 0..24 {
            larch.move_by(Minutes(if shift == 0 { 0 } else { 5 }));
            assert_comes_back(&larch);
        }
    }
}
