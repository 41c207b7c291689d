//! What is on the shelf.

use std::collections::BTreeMap;

use crate::night::{EnsembleIx, KitStock, Minute, RespiratorStock};

use super::draw::quoted;
use super::finding::Mistakes;
use super::mistake::{Mistake, RoomMistake};
use super::record::Record;
use super::roster::Context;
use super::source::Spot;

/// Kits by ensemble and size.
pub(super) fn kits(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<KitStock>> {
    check_once(record.tables("kit"), "ensemble", "kits", out);
    let kits: Vec<_> = record.tables("kit").iter().map(|table| kit(table, context, out)).collect();
    kits.into_iter().collect()
}

fn kit(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<KitStock> {
    let ensemble = context.limits.ensembles.require_in(table, "ensemble", out);
    if !table.has("size") {
        let ensemble = table.name("ensemble").unwrap_or_default();
        let count = table.whole("count").map(|count| count.value);
        out.add(table.spot, Mistake::Room(RoomMistake::KitWithoutSize { ensemble, count }));
    }
    let (count, reserve) = (table.count("count"), table.count("reserve"));
    if let (Some(count), Some(reserve)) = (count, reserve)
        && reserve > count
    {
        out.add(table.spot_of("reserve"), Mistake::Room(RoomMistake::ReserveOverCount { reserve, count }));
    }
    Some(KitStock { ensemble: EnsembleIx(ensemble?), size: table.name("size")?, count: count?, reserve: reserve? })
}

/// Respirators by model and size.
pub(super) fn respirators(record: &Record, out: &mut Mistakes) -> Option<Vec<RespiratorStock>> {
    check_once(record.tables("respirator"), "model", "respirators", out);
    record
        .tables("respirator")
        .iter()
        .map(|table| {
            Some(RespiratorStock {
                respirator: table.name("model")?,
                size: table.name("size")?,
                count: table.count("count")?,
                ready_from: if table.has("ready_from") { Some(table.instant("ready_from")?.value) } else { None },
            })
        })
        .collect()
}

/// Two counts of the same thing: neither their sum nor one of them is guessed.
fn check_once(tables: &[Record], key: &str, noun: &str, out: &mut Mistakes) {
    let mut first: BTreeMap<(&str, &str, Option<Minute>), Spot> = BTreeMap::new();
    for table in tables {
        let (Some(model), Some(size)) = (table.text(key), table.text("size")) else { continue };
        let ready = if table.has("ready_from") { table.instant("ready_from").map(|at| at.value) } else { None };
        let same = (model.value, size.value, ready);
        if let Some(&earlier) = first.get(&same) {
            let what = format!("stock of {noun} {}, size {},", quoted(model.value), quoted(size.value));
            out.add_with(size.spot, earlier, Mistake::Room(RoomMistake::StockTwice { what }));
        } else {
            first.insert(same, size.spot);
        }
    }
}
