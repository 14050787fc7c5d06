//! Making a failing scene small: parts of the two files are left out and numbers made simple, as long as it still fails the same way.

use std::time::{Duration, Instant};

use toml::{Table, Value};

use crate::{
    make::Scene,
    quantity::{float, length},
};

/// A step from the root of a file to a value in it.
#[derive(Debug, Clone, PartialEq)]
enum Step {
    Key(String),
    Item(usize),
}

/// A way to a value: which file, and the steps.
type Way = (bool, Vec<Step>);

/// The smallest scene found within `time` that still `fails`.
pub(crate) fn shrink(scene: &Scene, time: Duration, fails: &mut dyn FnMut(&Scene) -> bool) -> Scene {
    let began = Instant::now();
    let mut best = scene.clone();
    loop {
        let before = best.clone();
        for way in ways(&best) {
            if began.elapsed() > time {
                return best;
            }
            // An earlier change may have taken what the way led to.
            let changes = match at(&best, &way) {
                Some(value) => simpler(value),
                None => continue,
            };
            for change in changes {
                let mut tried = best.clone();
                apply(&mut tried, &way, change);
                if tried != best && fails(&tried) {
                    best = tried;
                    break;
                }
            }
        }
        if best == before {
            return best;
        }
    }
}

/// What may be done with a value: leave it out, or put another in its place.
enum Change {
    LeaveOut,
    Put(Value),
}

/// Changes that make a value simpler, the boldest first.
fn simpler(value: &Value) -> Vec<Change> {
    let mut changes = vec![Change::LeaveOut];
    match value {
        Value::String(text) => {
            if let Some(mm) = length(text) {
                let mm = float(&mm);
                for simple in ["10 cm".to_owned(), format!("{} cm", (mm / 10.0).round()), format!("{} mm", mm.round())]
                {
                    if simple != *text && !["0 cm", "0 mm"].contains(&simple.as_str()) && simple.len() <= text.len() {
                        changes.push(Change::Put(Value::String(simple)));
                    }
                }
            }
        }
        Value::Integer(number) if *number > 1 && *number < 10 => {
            changes.push(Change::Put(Value::Integer(1)));
            changes.push(Change::Put(Value::Integer(number - 1)));
        }
        Value::Float(number) => {
            for digits in [1.0, 10.0] {
                let round = (number * digits).round() / digits;
                if round != *number {
                    changes.push(Change::Put(Value::Float(round)));
                }
            }
        }
        _ => {}
    }
    changes
}

/// Ways to every value, the outermost first and of these the largest.
fn ways(scene: &Scene) -> Vec<Way> {
    let mut found = Vec::new();
    for (in_job, table) in [(false, &scene.pattern), (true, &scene.job)] {
        collect(&Value::Table(table.clone()), &(in_job, Vec::new()), &mut found);
    }
    found.sort_by_key(|(way, size)| (way.1.len(), std::cmp::Reverse(*size)));
    // From the back, so that leaving out an item does not move those still to come.
    found.into_iter().map(|(way, _)| way).collect()
}

fn collect(value: &Value, way: &Way, found: &mut Vec<(Way, usize)>) {
    let mut go = |step: Step, inner: &Value| {
        let mut steps = way.1.clone();
        steps.push(step);
        let way = (way.0, steps);
        found.push((way.clone(), inner.to_string().len()));
        collect(inner, &way, found);
    };
    match value {
        Value::Table(table) => table.iter().for_each(|(key, inner)| go(Step::Key(key.clone()), inner)),
        Value::Array(list) => list.iter().enumerate().rev().for_each(|(k, inner)| go(Step::Item(k), inner)),
        _ => {}
    }
}

fn at<'s>(scene: &'s Scene, (in_job, steps): &Way) -> Option<&'s Value> {
    let root: &Table = if *in_job { &scene.job } else { &scene.pattern };
    let (first, rest) = steps.split_first()?;
    let Step::Key(key) = first else { return None };
    rest.iter().try_fold(root.get(key)?, |value, step| match step {
        Step::Key(key) => value.get(key),
        Step::Item(number) => value.get(*number),
    })
}

fn apply(scene: &mut Scene, (in_job, steps): &Way, change: Change) {
    let root = if *in_job { &mut scene.job } else { &mut scene.pattern };
    let Some((last, path)) = steps.split_last() else { return };
    let Some((first, rest)) = path.split_first() else {
        if let Step::Key(key) = last {
            in_table(root, key, change);
        }
        return;
    };
    let Step::Key(key) = first else { return };
    let holder = rest.iter().try_fold(root.get_mut(key), |value, step| {
        let value = value?;
        Some(match step {
            Step::Key(key) => value.get_mut(key),
            Step::Item(number) => value.get_mut(*number),
        })
    });
    match (holder.flatten(), last) {
        (Some(Value::Table(table)), Step::Key(key)) => in_table(table, key, change),
        (Some(Value::Array(list)), Step::Item(number)) if *number < list.len() => match change {
            Change::LeaveOut => drop(list.remove(*number)),
            Change::Put(value) => list[*number] = value,
        },
        _ => {}
    }
}

fn in_table(table: &mut Table, key: &str, change: Change) {
    match change {
        Change::LeaveOut => drop(table.remove(key)),
        Change::Put(value) => drop(table.insert(key.to_owned(), value)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_matter_goes() {
        let scene = Scene {
            pattern: "name = \"P\"\npiece = [{ name = \"A\", count = 4 }, { name = \"B\", width = \"12 3/8 in\" }]"
                .parse()
                .unwrap(),
            job: "units = \"in\"\nview = \"A\"".parse().unwrap(),
            sheet: None,
        };
        let small = shrink(&scene, Duration::from_secs(5), &mut |tried| tried.pattern.to_string().contains("\"B\""));
        assert_eq!(small.pattern.to_string().split_whitespace().collect::<String>(), "[[piece]]name=\"B\"");
        assert!(small.job.is_empty());
    }
}
