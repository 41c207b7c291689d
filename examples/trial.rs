use anteroom::night::*;
use anteroom::plan::{plan, Effort, Watch};
struct Quiet;
impl Watch for Quiet { fn progress(&mut self, u: i64, b: i64) { eprintln!("  progress {u} {b}"); } fn stop(&self) -> bool { false } }
pub struct Spec { pub n: (usize, usize, usize, usize), pub rooms: usize, pub lanes: usize, pub t: (i64,i64,i64,i64), pub hours: i64, pub grid: i64, pub kmin: u32, pub req: u32 }
pub fn night(s: &Spec) -> Night {
    let ens = |id: &str, w, d, f, wear, assistant| Ensemble { id: id.into(), worn_in: w, respirators: vec![], fit_test: false, donning: Minutes(d), sealed: Minutes(if w==WornIn::Room {d/2} else {5}), donning_watched: w==WornIn::Room, removal: Minutes(f), removal_watched: true, assistant, max_wear: Minutes(wear), margin: Minutes(0), recovery: Minutes(15), cumulative_percent: if w==WornIn::Room {100} else {0} };
    let d = chrono::NaiveDate::from_ymd_opt(2031,3,4).unwrap();
    let far = chrono::NaiveDate::from_ymd_opt(2031,9,4).unwrap();
    let limits = ConstraintSet { name: "t".into(), example: true, sources: vec![], approval: Approval { by: "x".into(), on: d, review_by: far }, grid: Minutes(s.grid), wear_from: WearFrom::Sealed, cumulative_wear: Minutes(10*60), changeover: Minutes(5), shower: Minutes(0), shift_gap: Minutes(0), inside_rest: vec![CleanDuty::DonningObserver, CleanDuty::DoffingObserver], min_inside: s.kmin, overlap: Minutes(0), min_stay: Minutes(15), donning_capacity: 1, waiting_places: 2, observer_ready: Minutes(0), observer_reset: Minutes(0), observer_kit: None, assistant_kit: Some(EnsembleIx(1)), cleaning: Minutes(5), cleaned_by: CleanedBy::Other, watching: None, breaks: None,
        ensembles: vec![ens("F", WornIn::Room, s.t.0, s.t.1, s.t.3, true), ens("D", WornIn::DoffingArea, 10, 10, 120, false)],
        rest: vec![vec![Minutes(s.t.2), Minutes(s.t.2)], vec![Minutes(30), Minutes(30)]] };
    let from = Minute(31_000_000 / 60 * 60);
    let to = from + Minutes(60 * s.hours);
    let (n, e, o, a) = s.n;
    let people = (0..n).map(|i| { let mut so = vec![];
        let mut add = |r| so.push(SignOff { role: r, valid_through: far });
        if i < e { add(Role::Entrant); }
        if i >= n - o { add(Role::DoffingObserver); add(Role::DonningObserver); }
        if (i + a/2) % n < a { add(Role::Assistant); }
        Person { id: format!("P{i:02}"), on_duty: Span::new(from, to), last_off_duty: None, last_removal: None, worn_before: Minutes(0), enter_today: true, doffing_area_today: true, sign_offs: so, fit_tests: vec![], kits: vec![KitSize { ensemble: EnsembleIx(0), size: "M".into() }, KitSize { ensemble: EnsembleIx(1), size: "M".into() }], skills: vec![], own: PersonalLimits::default() } }).collect();
    let kit = |e| KitStock { ensemble: EnsembleIx(e), size: "M".into(), count: 1000, reserve: 0 };
    let roster = Roster { name: "t".into(), example: true, constraint_set: "t".into(), unit: "T".into(), clock: Clock::new(chrono_tz::UTC), shift: Span::new(from, to), people,
        rooms: (0..s.rooms).map(|r| Room { id: format!("{r}"), max_inside: 4 }).collect(),
        presence: (0..s.rooms).map(|r| Presence { room: RoomIx(r), span: Span::new(from + Minutes(30), to - Minutes(60)), people: s.req, class: 1 }).collect(),
        tasks: vec![], lanes: (0..s.lanes).map(|l| Lane { id: format!("{l}"), closures: vec![] }).collect(), kits: vec![kit(0), kit(1)], respirators: vec![], apart: vec![], break_windows: vec![] };
    Night { roster, limits }
}
fn main() {
    let which = std::env::args().nth(1).unwrap_or("tiny".into());
    let s = match which.as_str() {
        "tiny" => Spec { n: (5,3,3,2), rooms: 1, lanes: 1, t: (20,25,60,120), hours: 5, grid: 5, kmin: 1, req: 1 },
        "small" => Spec { n: (8,6,4,4), rooms: 1, lanes: 1, t: (20,25,60,120), hours: 12, grid: 5, kmin: 2, req: 2 },
        "temperate" => Spec { n: (12,9,7,6), rooms: 1, lanes: 1, t: (20,25,60,180), hours: 12, grid: 5, kmin: 2, req: 2 },
        "two-room" => Spec { n: (20,14,10,7), rooms: 2, lanes: 2, t: (20,25,60,180), hours: 12, grid: 5, kmin: 2, req: 2 },
        "hot" => Spec { n: (24,16,11,8), rooms: 2, lanes: 2, t: (15,15,60,60), hours: 12, grid: 5, kmin: 2, req: 2 },
        _ => panic!(),
    };
    let t = std::time::Instant::now();
    let work = std::env::args().nth(2).map_or(100_000, |w| w.parse().unwrap());
    let p = plan(&night(&s), Effort { work, seconds: std::env::args().nth(3).map(|x| x.parse().unwrap()) }, &mut Quiet);
    println!("{which} {:?} {:?}", t.elapsed(), p.ended);
    for l in &p.levels { println!("  {:?} {} >= {}", l.level, l.value, l.at_least); }
    println!("{} entries {} posts", p.rota.entries.len(), p.rota.posts.len());
    for e in &p.rota.entries { println!("{} {:?} don {} in {} out {} rem {} off {} lane {:?} {:?} {:?} {:?}", e.number, e.person.0, e.don.0-31_000_000/60*60, e.door_in.0-31_000_000/60*60, e.door_out.0-31_000_000/60*60, e.removal.0-31_000_000/60*60, e.off.0-31_000_000/60*60, e.lane.map(|l| l.0), e.donning_observer.map(|l| l.0), e.observer.map(|l| l.0), e.assistant.map(|l| l.0)); }
}
