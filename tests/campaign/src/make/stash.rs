//! A file of remnants that a job takes some from: of its cloths and of others, some of them used or left by a job.
//!
//! A scene holds what stands in it in place of its name in the job; it is written beside the job.

use toml::{Table, Value};

use super::{Taste, cloth, text};
use crate::chance::Chance;

/// The name of the file beside the job.
pub(crate) const STASH_FILE: &str = "case.stash.toml";

/// The key of a job for it.
pub(crate) const STASH: &str = "stash";

/// A stash for a job, now and then.
pub(super) fn stash(chance: &mut Chance, taste: &Taste, job: &Table) -> Option<Value> {
    if !chance.often(0.15) {
        return None;
    }
    let own = job.get("name")?.as_str()?;
    let cloths: Vec<&Table> =
        job.get("fabric")?.as_table()?.iter().filter_map(|(_, fabric)| fabric.as_table()).collect();
    let entries = (1..=chance.whole(1, 4)).filter_map(|number| {
        let of = *chance.pick(&cloths);
        let is_own = chance.often(0.8);
        let Value::Table(mut entry) = cloth::remnant(chance, taste, of, number) else { return None };
        entry.insert("name".to_owned(), text(format!("stashed {number}")));
        let name = if is_own { of.get("name")?.as_str()? } else { "sailcloth" };
        entry.insert("cloth".to_owned(), text(name));
        for key in ["job", "used_by"] {
            if chance.often(0.15) {
                entry.insert(key.to_owned(), text(*chance.pick(&[own, "Another"])));
            }
        }
        Some(Value::Table(entry))
    });
    let entries: Vec<Value> = entries.collect();
    Some(Value::Table(Table::from_iter([("remnant".to_owned(), Value::Array(entries))])))
}

/// The files of a scene's job: what is written as the job, and as its stash where it has one.
pub(crate) fn apart(job: &Table) -> (Table, Option<Table>) {
    let mut job = job.clone();
    let Some(Value::Table(held)) = job.get(STASH).cloned() else { return (job, None) };
    job.insert(STASH.to_owned(), text(STASH_FILE));
    let mut stash = Table::from_iter([("format".to_owned(), text("ellwand-remnants-1"))]);
    stash.extend(held);
    (job, Some(stash))
}

/// A job with its stash in the place of its name: the other way round.
pub(crate) fn held(job: &mut Table, stash: Table) {
    let held: Table = stash.into_iter().filter(|(key, _)| key != "format").collect();
    job.insert(STASH.to_owned(), Value::Table(held));
}
