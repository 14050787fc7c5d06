//! JSON Schemas of the two formats, generated from the types that read them, so that editors can complete and check.

use schemars::{JsonSchema, generate::SchemaSettings};
use serde_json::Value;

use crate::{job::format::JobFile, pattern::format::PatternFile};

/// The JSON Schema (draft 2020-12) of a pattern file, as JSON text that ends with a line break.
pub fn pattern_schema() -> String {
    schema_of::<PatternFile>("Pattern file (ellwand-pattern-1)")
}

/// The JSON Schema (draft 2020-12) of a job file, as JSON text that ends with a line break.
pub fn job_schema() -> String {
    schema_of::<JobFile>("Job file (ellwand-job-1)")
}

fn schema_of<T: JsonSchema>(title: &str) -> String {
    let mut schema = SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<T>();
    schema.insert("title".to_owned(), title.into());
    let mut schema = schema.to_value();
    drop_null(&mut schema);
    format!("{schema:#}\n")
}

/// TOML has no null: a key that may be left out is one that is not required, and its value is never null.
fn drop_null(schema: &mut Value) {
    match schema {
        Value::Object(map) => {
            if let Some(Value::Array(types)) = map.get_mut("type") {
                types.retain(|kind| kind != "null");
                if let [only] = types.as_slice() {
                    let only = only.clone();
                    map.insert("type".to_owned(), only);
                }
            }
            if let Some(Value::Array(any)) = map.get_mut("anyOf") {
                any.retain(|one| one.get("type").is_none_or(|kind| kind != "null"));
                if let [Value::Object(only)] = any.as_slice() {
                    let only = only.clone();
                    map.remove("anyOf");
                    map.extend(only);
                }
            }
            if let Some(Value::Array(words)) = map.get_mut("enum") {
                words.retain(|word| !word.is_null());
            }
            map.values_mut().for_each(drop_null);
        }
        Value::Array(items) => items.iter_mut().for_each(drop_null),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::{
        Limits,
        document::{FromTable, asked_keys},
        findings::Findings,
        job::{
            design_format::{BarEntry, BorderEntry, DesignEntry, RepeatEntry},
            fit_format::{AllowanceEntry, AlterEntry, CutFromEntry, LengthenEntry, WidenEntry},
            format::{FabricEntry, FlawEntry, ShrinkageEntry},
            garment_format::GarmentEntry,
            matching_format::{AddEntry, BorderRuleEntry, LineEntry, MatchingEntry, MotifEntry, PiecePointEntry},
            remnant_format::RemnantEntry,
            supply_format::BuyNotionEntry,
        },
        pattern::{
            drawing_format::{DrawnEntry, EdgeEntry, NotchEntry},
            format::{CutEntry, PieceEntry, ViewEntry},
            like_format::{ChangeEntry, InsteadEntry, MoveEntry, NewEdgeEntry},
            measure_format::TakenEntry,
            option_format::OptionEntry,
            picked_format::DrawingFileEntry,
            seam_format::{SeamEntry, SeamSideEntry},
            shape_format::{
                Circle, CircleSkirt, Curtain, JoinedStrip, Oval, Rectangle, RingSector, ShapeEntry, Strip, Trapezoid,
            },
            size_format::{AlongEntry, GirthEntry, GirthPartEntry, LengthEntry, SizeEntry},
            suits_format::SuitsEntry,
            supply_format::{NotionEntry, TrimEntry},
        },
        source::Source,
    };

    /// The reader asks for exactly the keys that the schema lists: neither can drift from the other.
    fn assert_same_keys<T: FromTable + JsonSchema>() {
        let schema: Value = serde_json::from_str(&schema_of::<T>("")).unwrap();
        let listed: BTreeSet<&str> = schema["properties"].as_object().unwrap().keys().map(String::as_str).collect();
        let mut findings = Findings::new(Source::new("", ""), &Limits::default());
        let (asked, required) = asked_keys::<T>(&mut findings);
        assert_eq!(listed, asked.into_iter().collect(), "keys of {}", T::WHAT);
        let must: BTreeSet<&str> =
            schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
        assert!(must.iter().all(|key| required.contains(key)), "required keys of {}: {must:?}, {required:?}", T::WHAT);
    }

    #[test]
    fn schema_and_reader_know_the_same_keys() {
        assert_same_keys::<PatternFile>();
        assert_same_keys::<ViewEntry>();
        assert_same_keys::<PieceEntry>();
        assert_same_keys::<ChangeEntry>();
        assert_same_keys::<InsteadEntry>();
        assert_same_keys::<MoveEntry>();
        assert_same_keys::<NewEdgeEntry>();
        assert_same_keys::<DrawnEntry>();
        assert_same_keys::<SizeEntry>();
        assert_same_keys::<GirthEntry>();
        assert_same_keys::<GirthPartEntry>();
        assert_same_keys::<LengthEntry>();
        assert_same_keys::<AlongEntry>();
        assert_same_keys::<OptionEntry>();
        assert_same_keys::<NotionEntry>();
        assert_same_keys::<SuitsEntry>();
        assert_same_keys::<TrimEntry>();
        assert_same_keys::<BuyNotionEntry>();
        assert_same_keys::<DrawingFileEntry>();
        assert_same_keys::<CutEntry>();
        assert_same_keys::<EdgeEntry>();
        assert_same_keys::<NotchEntry>();
        assert_same_keys::<ShapeEntry>();
        assert_same_keys::<Rectangle>();
        assert_same_keys::<Trapezoid>();
        assert_same_keys::<RingSector>();
        assert_same_keys::<Strip>();
        assert_same_keys::<CircleSkirt>();
        assert_same_keys::<Circle>();
        assert_same_keys::<Oval>();
        assert_same_keys::<JoinedStrip>();
        assert_same_keys::<Curtain>();
        assert_same_keys::<TakenEntry>();
        assert_same_keys::<SeamEntry>();
        assert_same_keys::<SeamSideEntry>();
        assert_same_keys::<JobFile>();
        assert_same_keys::<GarmentEntry>();
        assert_same_keys::<AlterEntry>();
        assert_same_keys::<LengthenEntry>();
        assert_same_keys::<WidenEntry>();
        assert_same_keys::<AllowanceEntry>();
        assert_same_keys::<CutFromEntry>();
        assert_same_keys::<FabricEntry>();
        assert_same_keys::<FlawEntry>();
        assert_same_keys::<RemnantEntry>();
        assert_same_keys::<ShrinkageEntry>();
        assert_same_keys::<DesignEntry>();
        assert_same_keys::<RepeatEntry>();
        assert_same_keys::<BarEntry>();
        assert_same_keys::<BorderEntry>();
        assert_same_keys::<MatchingEntry>();
        assert_same_keys::<LineEntry>();
        assert_same_keys::<MotifEntry>();
        assert_same_keys::<BorderRuleEntry>();
        assert_same_keys::<AddEntry>();
        assert_same_keys::<PiecePointEntry>();
    }

    #[test]
    fn no_schema_speaks_of_null() {
        for text in [pattern_schema(), job_schema()] {
            assert!(!text.contains("null"), "{text}");
            assert!(text.contains("\"additionalProperties\": false"));
        }
    }

    #[test]
    fn the_choices_of_the_schema_are_those_of_the_reader() {
        let words = |schema: &Value, property: &Value| -> Vec<String> {
            let of = match property["$ref"].as_str() {
                Some(path) => &schema["$defs"][path.trim_start_matches("#/$defs/")],
                None => property,
            };
            let listed = of["oneOf"].as_array().unwrap_or_else(|| panic!("no choices in {of}"));
            listed.iter().map(|word| word["const"].as_str().unwrap().to_owned()).collect()
        };
        let schema: Value = serde_json::from_str(&pattern_schema()).unwrap();
        let kinds = words(&schema, &schema["$defs"]["SeamEntry"]["properties"]["kind"]);
        let known =
            ["centre front", "centre back", "lapel", "side", "pocket", "sleeve", "collar", "cuff", "yoke", "other"];
        let corners = words(&schema, &schema["$defs"]["EdgeEntry"]["properties"]["corner"]);
        assert_eq!(corners, ["mirrored", "square", "straight on", "mitred"]);
        assert_eq!(kinds, known);
        assert_eq!(words(&schema, &schema["properties"]["kind"]), ["dress", "skirt", "jacket", "coat"]);
        assert_eq!(words(&schema, &schema["properties"]["choose_by"]), ["bust", "hip or waist"]);
        let schema: Value = serde_json::from_str(&job_schema()).unwrap();
        let words = |property: &Value| words(&schema, property);
        let of = |table: &str| schema["$defs"][table]["properties"].clone();
        assert_eq!(words(&of("RepeatEntry")["balance"]), ["even", "uneven"]);
        assert_eq!(words(&of("DesignEntry")["drop"]), ["straight", "half"]);
        assert_eq!(words(&of("BorderEntry")["along"]), ["left selvage", "right selvage", "both selvages"]);
        assert_eq!(words(&of("MatchingEntry")["centre"]), ["on a bar", "midway"]);
        assert_eq!(words(&of("LineEntry")["need"]), ["required", "wished"]);
        assert_eq!(words(&of("AddEntry")["axis"]), ["across", "along", "both"]);
        let fabric = of("FabricEntry");
        assert_eq!(words(&schema["properties"]["units"]), ["in", "cm"]);
        assert_eq!(words(&fabric["nap"]), ["with", "without"]);
        assert_eq!(words(&fabric["right_side"]), ["one", "both"]);
        let ways = ["open", "centre fold", "off centre", "to the middle", "part folded", "crosswise", "cut and turned"];
        assert_eq!(words(&fabric["layout"]), [&ways[..], &["either", "any", "fold"]].concat());
        assert_eq!((words(&fabric["layer"]), &fabric["layer"]["deprecated"]), (words(&fabric["layout"]), &true.into()));
        assert_eq!(words(&fabric["price_per"]), ["yd", "m"]);
    }

    /// An editor that checks a quantity knows it by name, in words, and by how it is written.
    #[test]
    fn every_quantity_has_its_words_and_its_pattern() {
        let schemas = [pattern_schema(), job_schema()].map(|text| serde_json::from_str::<Value>(&text).unwrap());
        for (name, described, ends) in [
            ("Length", "A length with its unit, such as \"60 in\"", "|[\"'″′”’“‘]{1,2})\\.?\\s*$"),
            ("SignedLength", "A length with its unit, below zero to take away", "|[\"'″′”’“‘]{1,2})\\.?\\s*$"),
            ("Share", "A share in per cent", "(%|per cent|percent)\\s*$"),
            ("Angle", "An angle in degrees", "(deg|degree|degrees|°)\\s*$"),
            ("Money", "An amount of money as a decimal number in quotes", "(\\.[0-9]+)?\\s*$"),
        ] {
            let known: Vec<&Value> =
                schemas.iter().map(|schema| &schema["$defs"][name]).filter(|of| !of.is_null()).collect();
            assert!(!known.is_empty(), "{name}");
            for of in known {
                assert_eq!(of["type"], "string");
                let (description, pattern) = (of["description"].as_str().unwrap(), of["pattern"].as_str().unwrap());
                assert!(description.starts_with(described), "{name}: {description}");
                assert!(pattern.ends_with(ends) && pattern.contains("[0-9"), "{name}: {pattern}");
            }
        }
    }
}
