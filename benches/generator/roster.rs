//! Rosters: drawn, and written down.

use std::fmt::Write as _;

use chrono::{NaiveDate, NaiveDateTime, TimeDelta};

use super::draw::Draw;
use super::named::{Drawn, in_order};
use super::unit::{Demand, Family, Figures, Job, Member, Unit};

/// Letters that cannot be taken for one another or for a digit.
const LETTERS: &[u8] = b"ACDEFGHJKMNPRTUVWXY";

/// The id of the person at a place.
pub fn id(place: usize) -> String {
    let letter = |at: usize| char::from(LETTERS[at % LETTERS.len()]);
    [letter(place / LETTERS.len()), letter(place)].iter().collect()
}

/// The roles at a place among `people`, of whom so many enter, observe and assist. Those who do not enter help first,
/// observers counted from the back; then entrants help too, observers from the back and assistants from the front.
pub fn roles(place: usize, people: usize, [enter, observe, assist]: [usize; 3]) -> Vec<&'static str> {
    let helpers = people - enter;
    let assists = if place >= enter { place - enter < assist } else { assist > helpers && place < assist - helpers };
    let mut roles = vec![];
    roles.extend((place < enter).then_some("entrant"));
    roles.extend((place + observe >= people).then_some(["donning-observer", "doffing-observer"]).into_iter().flatten());
    roles.extend(assists.then_some("assistant"));
    roles
}

/// A part of the shift with a crew of its own.
struct Block {
    from: i64,
    to: i64,
    on_duty: (i64, i64),
    /// Places of its people.
    people: std::ops::Range<usize>,
    entrants: usize,
}

/// Draws a night.
pub fn drawn(name: &'static str, family: Family, asked: &Drawn) -> Unit {
    let mut draw = Draw::new(asked.seed);
    let figures = Figures::of(family);
    let length = i64::try_from(asked.hours).expect("hours are few") * 60;
    let blocks = blocks(asked, length);
    let mut unit = Unit {
        name,
        length,
        people: blocks.iter().flat_map(|block| members(&mut draw, &figures, block)).collect(),
        rooms: asked.rooms,
        max_inside: 4,
        lanes: asked.rooms,
        presence: vec![],
        jobs: vec![],
        kits: [0, 0],
        respirators: 0,
        apart: vec![],
        pin: None,
        forbid: None,
        figures,
    };
    for block in &blocks {
        demand(&mut draw, &mut unit, block, asked.tightness.percent());
    }
    stock(&mut unit, &blocks);
    if family == Family::FullRule {
        single_people(&mut draw, &mut unit, &blocks[0]);
    }
    unit
}

/// Crews of at most twelve hours, each on duty half an hour before and after its part.
fn blocks(asked: &Drawn, length: i64) -> Vec<Block> {
    let crews = asked.hours.div_ceil(12);
    let part = length / i64::try_from(crews).expect("few");
    let block = |crew: usize| {
        let from = part * i64::try_from(crew).expect("few");
        let people = asked.people * crew / crews..asked.people * (crew + 1) / crews;
        let on_duty = ((from - 30).max(0), (from + part + 30).min(length));
        Block { from, to: from + part, on_duty, entrants: share(people.len(), 67), people }
    };
    (0..crews).map(block).collect()
}

/// So many of a hundred, rounded.
const fn share(of: usize, percent: usize) -> usize {
    (of * percent + 50) / 100
}

fn members(draw: &mut Draw, figures: &Figures, block: &Block) -> Vec<Member> {
    let people = block.people.len();
    let every = figures.family == Family::FullRule;
    let may = [block.entrants, share(people, 46).max(3), share(people, 35).max(2)];
    let member = |place: usize| {
        let mut roles = roles(place, people, may);
        if every {
            roles.extend((place == people - 1).then_some("coordinator"));
            roles.extend((place == people - 2).then_some("coordinator"));
            roles.extend((1..=2).contains(&place).then_some("preceptor"));
            if place == 0 {
                roles = vec!["supervised-entrant"];
            }
        }
        let skilled = place % 3 == 1 && place < block.entrants;
        let size = if draw.chance(70) { "M" } else { "L" };
        let carried = every && place % 8 == 3;
        let carried_in = carried.then(|| (draw.stepped(180, 360, 15), draw.stepped(30, 60, 15)));
        Member { id: id(block.people.start + place), on_duty: block.on_duty, roles, size, skilled, carried_in }
    };
    (0..people).map(member).collect()
}

/// Presence in every room for as long as the percentage asks, two people or more, and a job in every room.
fn demand(draw: &mut Draw, unit: &mut Unit, block: &Block, percent: i64) {
    let figures = unit.figures.clone();
    // Time to dress at the start of the shift and to undress, helpers too, at its end.
    let first = if block.from == 0 { 45 } else { block.from };
    let last = if block.to == unit.length { block.to - 90 } else { block.to };
    let entrants = i64::try_from(block.entrants).expect("few");
    let could = entrants * figures.net_of_one(block.on_duty.1 - block.on_duty.0) * percent / 100;
    let rooms = i64::try_from(unit.rooms).expect("few");
    let people = if could > rooms * 2 * (last - first) { 3 } else { 2 };
    let long = (could / (rooms * people) / 15 * 15).clamp(60, (last - first) / 15 * 15);
    for room in 0..unit.rooms {
        let from = draw.stepped(first, last - long, 15);
        unit.presence.push(Demand { room, span: (from, from + long), people, class: room % 2 + 1 });
        unit.jobs.push(job(draw, &figures, room, (first, last)));
    }
}

fn job(draw: &mut Draw, figures: &Figures, room: usize, (first, last): (i64, i64)) -> Job {
    let length = draw.stepped(figures.longest_stay() / 4, figures.longest_stay() / 2, 5) / 5 * 5;
    let from = draw.stepped(first, last - 150, 15);
    let wanted = from + draw.stepped(0, 60, 15);
    let (skilled, must) = (draw.chance(30), draw.chance(60));
    Job { room, window: (from, from + 150), wanted, length, skilled, must, same_people: draw.chance(30) }
}

/// Kits for two in three of the entries that are thinkable, in each size; half as many respirators as entrants.
fn stock(unit: &mut Unit, blocks: &[Block]) {
    let figures = &unit.figures;
    let thinkable = |block: &Block| {
        let turns = figures.net_of_one(block.on_duty.1 - block.on_duty.0) / (figures.longest_stay() - figures.overlap);
        (turns + 1) * i64::try_from(block.entrants).expect("few")
    };
    let entries: i64 = blocks.iter().map(thinkable).sum();
    let entrants: usize = blocks.iter().map(|block| block.entrants).sum();
    unit.kits = [entries * 2 / 3 + 2, entries * 2 / 3 + 2];
    unit.respirators = i64::try_from(entrants).expect("few") / 2 + 2;
}

/// What a full-rule night says about single people. Places 1 and 2 of a crew are preceptors, 0 is supervised.
fn single_people(draw: &mut Draw, unit: &mut Unit, first: &Block) {
    let entrant = |place: usize| first.people.start + 3 + place % (first.entrants - 3);
    unit.apart = vec![(entrant(0), entrant(1))];
    if first.entrants > 8 {
        unit.apart.push((entrant(2), entrant(4)));
        let from = draw.stepped(first.from + 120, first.to - 240, 15);
        unit.forbid = Some((entrant(5), (from, from + 120)));
    }
    let own = |job: &Job| job.window.0 < first.to && !job.skilled;
    unit.pin = unit.jobs.iter().position(own).map(|job| (entrant(3), job));
}

/// A local time of the roster file.
fn at(minutes: i64) -> String {
    let start: NaiveDateTime =
        NaiveDate::from_ymd_opt(2031, 3, 4).and_then(|day| day.and_hms_opt(19, 0, 0)).expect("a day of the calendar");
    (start + TimeDelta::minutes(minutes)).format("%Y-%m-%dT%H:%M").to_string()
}

/// `roster.toml`.
pub fn text(unit: &Unit) -> String {
    let mut out = format!(
        "# Written by the benchmark: night \"{0}\". Everyone and everything is invented.\n\
         format = 1\nname = \"{0}, benchmark\"\nexample = true\nconstraint_set = \"{1}\"\nunit = \"Benchmark\"\n\
         zone = \"UTC\"\nfrom = \"{2}\"\nto = \"{3}\"\n",
        unit.name,
        unit.figures.name,
        at(0),
        at(unit.length),
    );
    let every = unit.figures.family == Family::FullRule;
    if every {
        let _ = write!(out, "wear_log_from = \"{}\"\nshower_places = {}\n", at(-9 * 1440), unit.rooms + 1);
    }
    unit.people.iter().for_each(|member| out += &person(member));
    out += &rooms(unit);
    unit.presence.iter().for_each(|demand| out += &presence(demand));
    unit.jobs.iter().enumerate().for_each(|(place, job)| out += &task(place, job));
    out += &shelf(unit);
    if every {
        out += &rules_of_single_people(unit);
    }
    out
}

fn person(member: &Member) -> String {
    let carried = member.carried_in.map_or_else(
        || "last_removal = \"none\"\n".to_owned(),
        |(before, worn)| format!("last_removal = \"{}\"\nlast_kit = \"F\"\nworn_before_min = {worn}\n", at(-before)),
    );
    let roles = member.roles.iter().map(|role| format!("\"{role}\"")).collect::<Vec<_>>().join(", ");
    let size = member.size;
    format!(
        "\n[[person]]\nid = \"{}\"\non_duty = \"{}\"\noff_duty = \"{}\"\nlast_off_duty = \"none\"\n{carried}\
         enter_today = true\ndoffing_area_today = true\nskills = [{}]\nkits = {{ F = \"{size}\", D = \"{size}\" }}\n\
         sign_offs = [{{ roles = [{roles}], valid_through = \"2032-03-31\" }}]\n\
         fit_tests = [{{ respirator = \"RA\", size = \"M\", valid_through = \"2032-03-31\" }}]\n",
        member.id,
        at(member.on_duty.0),
        at(member.on_duty.1),
        if member.skilled { "\"airway\"" } else { "" },
    )
}

fn rooms(unit: &Unit) -> String {
    let room = |room| format!("\n[[room]]\nid = \"{}\"\nmax_inside = {}\n", room + 1, unit.max_inside);
    let lane = |lane| format!("\n[[lane]]\nid = \"{}\"\n", lane + 1);
    (0..unit.rooms).map(room).chain((0..unit.lanes).map(lane)).collect()
}

fn presence(demand: &Demand) -> String {
    format!(
        "\n[[presence]]\nroom = \"{}\"\nfrom = \"{}\"\nto = \"{}\"\npeople = {}\nclass = {}\n",
        demand.room + 1,
        at(demand.span.0),
        at(demand.span.1),
        demand.people,
        demand.class,
    )
}

fn task(place: usize, job: &Job) -> String {
    format!(
        "\n[[task]]\nid = \"care {}\"\nroom = \"{}\"\nfrom = \"{}\"\nto = \"{}\"\nwanted = \"{}\"\nlength_min = {}\n\
         people = 2\nskill = \"{}\"\nneed = \"{}\"\nsame_people = {}\nextra = false\n",
        place + 1,
        job.room + 1,
        at(job.window.0),
        at(job.window.1),
        at(job.wanted),
        job.length,
        if job.skilled { "airway" } else { "none" },
        if job.must { "must" } else { "wanted" },
        job.same_people,
    )
}

fn shelf(unit: &Unit) -> String {
    let mut out = String::new();
    for (ensemble, count) in ["F", "D"].into_iter().zip(unit.kits) {
        for size in ["M", "L"] {
            let _ =
                write!(out, "\n[[kit]]\nensemble = \"{ensemble}\"\nsize = \"{size}\"\ncount = {count}\nreserve = 2\n");
        }
    }
    out + &format!("\n[[respirator]]\nmodel = \"RA\"\nsize = \"M\"\ncount = {}\n", unit.respirators)
}

fn rules_of_single_people(unit: &Unit) -> String {
    let id = |place: usize| &unit.people[place].id;
    let mut out = String::new();
    for &(one, other) in &unit.apart {
        let _ = write!(out, "\n[[apart]]\npeople = [\"{}\", \"{}\"]\nnever = [\"room\"]\n", id(one), id(other));
    }
    if let Some((person, job)) = unit.pin {
        let _ = write!(out, "\n[[pin]]\nperson = \"{}\"\ntask = \"care {}\"\n", id(person), job + 1);
    }
    if let Some((person, (from, to))) = unit.forbid {
        let (from, to) = (at(from), at(to));
        let _ = write!(
            out,
            "\n[[forbid]]\nperson = \"{}\"\nduties = [\"entrant\"]\nfrom = \"{from}\"\nto = \"{to}\"\n",
            id(person)
        );
    }
    if let Some(demand) = unit.presence.first() {
        let (from, to) = (at(demand.span.0), at(demand.span.0 + 60));
        let room = demand.room + 1;
        let _ = write!(
            out,
            "\n[[skill_cover]]\nroom = \"{room}\"\nfrom = \"{from}\"\nto = \"{to}\"\nskill = \"airway\"\npeople = 1\n"
        );
    }
    let (from, to) = (at(120), at(unit.length - 120));
    let _ = write!(out, "\n[[preferred_break]]\nfrom = \"{from}\"\nto = \"{to}\"\n");
    let worn = (at(-21 * 60), at(-19 * 60));
    let logged = id(1);
    let _ =
        write!(out, "\n[[wear_log]]\nperson = \"{logged}\"\nkit = \"F\"\non = \"{}\"\noff = \"{}\"\n", worn.0, worn.1);
    out
}

/// The same roster with its `[[person]]` tables in another order.
pub fn reordered(text: &str, order: u64) -> String {
    const HEAD: &str = "\n[[person]]\n";
    let Some(first) = text.find(HEAD) else { return text.to_owned() };
    // A table of another kind ends the people: they stand together in every roster.
    let rest = text[first..].find("\n[[room]]").map_or(text.len(), |at| first + at);
    let mut people: Vec<&str> = text[first..rest].split(HEAD).skip(1).collect();
    in_order(&mut people, order);
    let people = people.iter().flat_map(|person| [HEAD, person]);
    std::iter::once(&text[..first]).chain(people).chain([&text[rest..]]).collect()
}
