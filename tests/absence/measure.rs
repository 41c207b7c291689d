
use anteroom::plan::Effort;
use anteroom::read::{self, Source};
use anteroom::staffing::absence::{draw::*, list::*, outcome::*};
#[test]
fn measure() {
    let f = |p: &str| Source::new(p, &std::fs::read(p).unwrap());
    let today = chrono::NaiveDate::from_ymd_opt(2031, 3, 1).unwrap();
    let (night, _) = read::night(&f("rosters/quiet-night.toml"), &f("constraints/temperate.toml"), None, today).unwrap();
    let chance = Chance::new(600, 10000).unwrap();
    let list = List::drawn(&night.roster, &[Crew { name: "".into(), without: Default::default() }], &vec![chance; night.roster.people.len()], Draws::new(1), 1000);
    let work: u64 = std::env::var("WORK").ok().and_then(|w| w.parse().ok()).unwrap_or(5000);
    println!("cases {}", list.cases().len());
    for (c, m) in list.cases().iter().enumerate() {
        let t = std::time::Instant::now();
        let o = outcome(&night.with_missing(m), Effort { work, seconds: None }).unwrap();
        println!("{c} x{} missing {:?} {:?} {:?} in {:?}", list.counts()[c], m.iter().map(|p| night.roster.person(*p).id.as_str()).collect::<Vec<_>>(), o.missed, o.proof, t.elapsed());
    }
}
