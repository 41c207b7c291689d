//! The table of results, in Markdown.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;

use crate::args::Args;
use crate::generator::{Named, Tightness, all};
use crate::outcome::{Outcome, Who};
use crate::summary::{OfNight, as_float, geometric_mean, middle, times_sooner};

/// All of it: machine, nights, and what they say together.
///
/// # Errors
/// A machine that does not say what it is.
pub fn text(record: &[Outcome], args: &Args) -> Result<String, String> {
    let mut out = format!("# Results\n\n{}\n", machine(args)?);
    let nights = all();
    let measured: Vec<(&Named, OfNight)> = nights
        .iter()
        .map(|night| (night, OfNight::of(record, night.name)))
        .filter(|(_, runs)| !runs.runs.is_empty())
        .collect();
    out += &at_a_glance(&measured, args.longest());
    for (night, runs) in &measured {
        out += &of_night(night, runs, &args.marks());
    }
    out += &together(&measured, args.longest() * 1000);
    Ok(out + &growth(&measured))
}

fn machine(args: &Args) -> Result<String, String> {
    let info = fs::read_to_string("/proc/cpuinfo").map_err(|error| format!("/proc/cpuinfo: {error}"))?;
    let model = info.lines().find_map(|line| line.strip_prefix("model name")).unwrap_or(": not told");
    let cores = std::thread::available_parallelism().map_err(|error| error.to_string())?;
    let day = args.date.map_or_else(|| "not given".to_owned(), |date| date.to_string());
    let model = model.trim_start_matches([' ', '\t', ':']);
    Ok(format!("Machine: {cores} cores, {model}. Day: {day}. What the columns mean: README.md beside this file.\n"))
}

/// A line for each night: this program beside the best of the others.
fn at_a_glance(nights: &[(&Named, OfNight)], longest: u64) -> String {
    let mut out = String::from("## At a glance\n\n");
    let _ = writeln!(out, "| night | first, s | after {longest} s | best opponent after {longest} s | times sooner |");
    let _ = writeln!(out, "|---|---|---|---|---|");
    for (night, runs) in nights {
        let ours = values(runs.at(Who::Ours, longest * 1000).as_deref());
        let best = runs.best_of_opponents(longest * 1000);
        let best =
            best.map_or_else(|| "none".to_owned(), |(who, v, _)| format!("{}: {}", who.word(), values(Some(&v))));
        let sooner = times_sooner(runs, longest * 1000);
        let sooner = sooner.map_or_else(
            || "-".to_owned(),
            |(times, reached)| if reached { format!("{times:.1}") } else { "never reached".to_owned() },
        );
        let first = seconds(runs.first(Who::Ours));
        let _ = writeln!(out, "| {} | {first} | {ours} | {best} | {sooner} |", night.name);
    }
    out + "\n"
}

fn of_night(night: &Named, runs: &OfNight, marks: &[u32]) -> String {
    let tightness = night.tightness().map_or("as it is", Tightness::word);
    let size = night.size().map_or_else(String::new, |(people, rooms, hours)| {
        format!(", people: {people}, rooms: {rooms}, hours: {hours}")
    });
    let levels = runs.runs[0].levels.join(" / ");
    let mut out = format!("## {}\n\n{}, {tightness}{size}. Levels: {levels}.\n\n", night.name, night.family.word());
    let at: String = marks.iter().map(|mark| format!(" at {mark} s |")).collect::<Vec<_>>().concat();
    let _ = writeln!(out, "| who | first, s |{at} bound | best opponent's, s | MiB | check, ms | runs |");
    let _ = writeln!(out, "|---|---|{}---|---|---|---|---|", "---|".repeat(marks.len()));
    for who in runs.everybody() {
        out += &row(runs, who, marks);
        out += &counted_row(runs, who, marks);
    }
    let disagreements: usize = runs.runs.iter().map(|run| run.disagreements.len()).sum();
    if disagreements > 0 {
        let _ = writeln!(out, "\nDISAGREEMENTS: {disagreements}. See the record.");
    }
    out + "\n"
}

fn row(runs: &OfNight, who: Who, marks: &[u32]) -> String {
    let mine: Vec<&Outcome> = runs.by(who).collect();
    if let Some(why) = mine.iter().find_map(|run| run.out.as_ref()) {
        return format!("| {} | takes no part: {why} |\n", who.word());
    }
    let last = u64::from(marks.last().copied().unwrap_or(1)) * 1000;
    let at = |mark: &u32| format!(" {} |", values(runs.at(who, u64::from(*mark) * 1000).as_deref()));
    let at: String = marks.iter().map(at).collect::<Vec<_>>().concat();
    let best = runs.best_of_opponents(last);
    let best = best.map_or_else(|| "-".to_owned(), |(_, values, _)| seconds(runs.reached(who, &values)));
    let checks: Vec<u64> = mine.iter().filter_map(|run| run.check_us).collect();
    let check = middle(checks).map_or_else(|| "-".to_owned(), |us| format!("{}.{}", us / 1000, us % 1000 / 100));
    let peak = middle(mine.iter().map(|run| run.peak_kib).collect()).unwrap_or(0) / 1024;
    format!(
        "| {} | {} |{at} {} | {} | {peak} | {check} | {} |\n",
        who.word(),
        seconds(runs.first(who)),
        bounds(mine[0]),
        best,
        mine.len()
    )
}

/// What people counted together came to, where those counts are no rota: nobody is compared with it.
fn counted_row(runs: &OfNight, who: Who, marks: &[u32]) -> String {
    let Some(run) = runs.by(who).find(|run| !run.counted.is_empty()) else { return String::new() };
    let at = |mark: &u32| {
        format!(" {} |", values(run.counted_at(u64::from(*mark) * 1000).map(|found| found.values.as_slice())))
    };
    let at: String = marks.iter().map(at).collect();
    let first = run.counted.iter().map(|found| found.ms).min();
    format!("| {}, counts without names | {} |{at} | | | | |\n", who.word(), seconds(first))
}

fn values(values: Option<&[i64]>) -> String {
    values.map_or_else(|| "none".to_owned(), |v| v.iter().map(i64::to_string).collect::<Vec<_>>().join(" / "))
}

/// The bounds of the first run: those of another order of the people are as good.
fn bounds(run: &Outcome) -> String {
    let one = |bound: &Option<i64>| bound.map_or_else(|| "-".to_owned(), |bound| bound.to_string());
    run.bounds.iter().map(one).collect::<Vec<_>>().join(" / ")
}

fn seconds(ms: Option<u64>) -> String {
    ms.map_or_else(|| "never".to_owned(), |ms| format!("{}.{:02}", ms / 1000, ms % 1000 / 10))
}

/// Over all nights with opponents: how many times sooner, and whether ever worse.
fn together(measured: &[(&Named, OfNight)], last: u64) -> String {
    let ratios: Vec<(f64, bool)> = measured.iter().filter_map(|(_, runs)| times_sooner(runs, last)).collect();
    let figures: Vec<f64> = ratios.iter().map(|&(ratio, _)| ratio).collect();
    let Some(mean) = geometric_mean(&figures) else {
        return "## Together\n\nNo opponent took part.\n\n".to_owned();
    };
    let never = ratios.iter().filter(|(_, reached)| !reached).count();
    format!(
        "## Together\n\nThe result of the best opponent after {} s: reached {mean:.2} times sooner (geometric mean of {} \
         nights); never reached on {never} of them, where the time allowed counts and the true figure is lower.\n\n",
        last / 1000,
        figures.len()
    )
}

/// How the time to a first complete rota grows with each measure of size.
fn growth(measured: &[(&Named, OfNight)]) -> String {
    let mut out = "## Growth\n\nMean time of this program to its first complete rota, and to its last better one \
                   (geometric means).\n\n| | nights | first, s | last, s |\n|---|---|---|---|\n"
        .to_owned();
    for (place, what) in ["people", "rooms", "hours"].into_iter().enumerate() {
        let mut by_size: BTreeMap<usize, Vec<(u64, u64)>> = BTreeMap::new();
        for (night, runs) in measured {
            let Some(((people, rooms, hours), first)) = night.size().zip(runs.first(Who::Ours)) else { continue };
            let lasts = runs.by(Who::Ours).filter_map(|run| run.found.iter().map(|f| f.ms).max()).collect();
            by_size.entry([people, rooms, hours][place]).or_default().push((first, middle(lasts).unwrap_or(first)));
        }
        for (size, times) in by_size {
            let mean = |pick: fn(&(u64, u64)) -> u64| {
                let figures: Vec<f64> = times.iter().map(|pair| as_float(pick(pair))).collect();
                geometric_mean(&figures).unwrap_or(0.0) / 1000.0
            };
            let (first, last) = (mean(|pair| pair.0), mean(|pair| pair.1));
            let _ = writeln!(out, "| {what}: {size} | {} | {first:.2} | {last:.2} |", times.len());
        }
    }
    out
}
