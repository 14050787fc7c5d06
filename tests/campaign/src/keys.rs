//! Which keys and words of the two file formats a campaign has tried, against those the schemas know.

use std::collections::BTreeSet;

use serde_json::Value as Json;
use toml::Value;

use crate::make::Scene;

/// Every key and every word that the schemas of both formats know.
pub(crate) fn known() -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for schema in [ellwand_files::pattern_schema(), ellwand_files::job_schema()] {
        in_schema(&serde_json::from_str(&schema).unwrap_or(Json::Null), &mut found);
    }
    found
}

fn in_schema(schema: &Json, found: &mut BTreeSet<String>) {
    match schema {
        Json::Object(map) => {
            for (key, inner) in map {
                match (key.as_str(), inner) {
                    ("properties", Json::Object(keys)) => found.extend(keys.keys().cloned()),
                    ("const", Json::String(word)) => drop(found.insert(word.clone())),
                    ("enum", Json::Array(words)) => {
                        found.extend(words.iter().filter_map(|word| word.as_str().map(str::to_owned)));
                    }
                    _ => {}
                }
                in_schema(inner, found);
            }
        }
        Json::Array(list) => list.iter().for_each(|inner| in_schema(inner, found)),
        _ => {}
    }
}

/// Every key and every text of both files of a scene.
pub(crate) fn used(scene: &Scene, found: &mut BTreeSet<String>) {
    for file in [&scene.pattern, &scene.job] {
        in_file(&Value::Table(file.clone()), found);
    }
}

fn in_file(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Table(table) => {
            for (key, inner) in table {
                found.insert(key.clone());
                in_file(inner, found);
            }
        }
        Value::Array(list) => list.iter().for_each(|inner| in_file(inner, found)),
        Value::String(text) => drop(found.insert(text.clone())),
        _ => {}
    }
}
