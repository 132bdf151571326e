//! The schema and the reader agree on what is a hole list, but for what a schema cannot say.

use proptest::prelude::*;
use serde_json::{Value, json};

use super::super::{schema, wire::HoleList};
use crate::reading::{Fault, read_bytes};

/// What a schema cannot say, by the words of the message: it compares no two values, knows no thread, no names that
/// drawings give to materials, and no duplicate keys.
const BEYOND_A_SCHEMA: &[&str] = &[
    "expected a thread such as",
    "expected a diameter of",
    "or a common drawing name of one",
    "expected a path or a pattern",
    "expected each tag once",
    "expected max above min",
    "expected a target from min",
    "expected min not above max",
    "the number of points in at",
    "expected less than the diameter",
];

/// A list that uses every key there is.
fn whole_list() -> Value {
    let making = json!({
        "material": "low-carbon-steel", "thickness": 1.5, "process": "punched",
        "coating": {"thickness": 0.008, "stated": "before"},
        "band": {"min": 65, "max": 90, "target": 80}, "hardness_hb": 110
    });
    let mut row = json!({
        "tag": "A", "count": 2, "screw": {"thread": "M4", "length": 10, "form": "rolling", "finish": "zinc", "lubricant": "wax"}, "grip": 2,
        "diameter": 3.6, "plus": 0.05, "minus": 0, "capability": {"mean": 3.61, "sd": 0.01}, "depth": 8,
        "entrance_diameter": 3.7, "draft_deg": 1, "collar": {"height": 1.2, "outside_diameter": 5, "pierce": 2, "entry_radius": 0}, "edge_finish": "reamed",
        "at": [[1, 2], [3.5, -4]], "layer": "HOLES", "trial": "trials/a.json", "note": ""
    });
    merge(&mut row, &making);
    let mut entry = json!({"drawing": "lid.dxf", "part": "GC-104", "revision": "B"});
    merge(&mut entry, &making);
    entry["holes"] =
        json!([row, {"tag": "B", "limits": [3.6, 3.7]}, {"layer": "X", "diameter": 4, "fit": "H11"}]);
    json!({"$schema": "hole-list.schema.json", "format": 1, "unit": "mm", "drawings": [entry]})
}

fn merge(into: &mut Value, from: &Value) {
    for (key, value) in from.as_object().unwrap() {
        into[key.as_str()] = value.clone();
    }
}

/// Every value that takes the place of a value in turn.
fn replacements() -> Vec<Value> {
    let words =
        ["", " ", "x", "mm", "M4", "before", "H12", "drilled", "spaced", "a\\b", "*.dxf", "[", "DC01"];
    let numbers = [
        -1.0, -1e-9, 0.0, 1e-9, 0.5, 1.0, 2.0, 44.9, 45.0, 200.0, 200.1, 650.0, 651.0, 1e4, 1e5, 1.1e5, 1e300,
    ];
    let mut all = vec![
        Value::Null,
        json!(true),
        json!([]),
        json!({}),
        json!([1]),
        json!([1, 2]),
        json!([[1, 2], [1, 2]]),
    ];
    all.extend(words.map(Value::from));
    all.extend(numbers.map(Value::from));
    all.push(json!(1));
    all.push(json!(-3));
    all
}

/// JSON pointers of every value in a document, the document itself included.
fn pointers(value: &Value, here: String, all: &mut Vec<String>) {
    match value {
        Value::Object(members) => members.iter().for_each(|(k, v)| pointers(v, format!("{here}/{k}"), all)),
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(i, v)| pointers(v, format!("{here}/{i}"), all))
        }
        _ => {}
    }
    all.push(here);
}

/// Every document that differs from the whole list in one place.
fn mutated() -> Vec<Value> {
    let whole = whole_list();
    let mut all_pointers = Vec::new();
    pointers(&whole, String::new(), &mut all_pointers);
    let mut documents = Vec::new();
    for pointer in &all_pointers {
        for replacement in replacements() {
            let mut document = whole.clone();
            *document.pointer_mut(pointer).unwrap() = replacement;
            documents.push(document);
        }
        if let Some((parent, key)) = pointer.rsplit_once('/') {
            let mut document = whole.clone();
            match document.pointer_mut(parent).unwrap() {
                Value::Object(members) => _ = members.shift_remove(key),
                Value::Array(items) => _ = items.remove(key.parse().unwrap()),
                _ => unreachable!("only objects and arrays have members"),
            }
            documents.push(document);
        }
        let mut document = whole.clone();
        match document.pointer_mut(pointer).unwrap() {
            Value::Object(members) => _ = members.insert("diametre".to_owned(), json!(1)),
            Value::Array(items) => items.push(json!([9, 9])),
            _ => continue,
        }
        documents.push(document);
    }
    // Each pair of size statements beside each other.
    for size in
        [json!({"limits": [3, 4]}), json!({"fit": "H11"}), json!({"plus": 0.1}), json!({"diameter": 3})]
    {
        for row in ["/drawings/0/holes/0", "/drawings/0/holes/1", "/drawings/0/holes/2"] {
            let mut document = whole.clone();
            merge(document.pointer_mut(row).unwrap(), &size);
            documents.push(document);
        }
    }
    documents
}

fn read(document: &Value) -> Result<HoleList, Vec<Fault>> {
    read_bytes("test.json", document.to_string().as_bytes())
}

/// How the two disagree, if they do beyond what a schema cannot say.
fn disagreement(validator: &jsonschema::Validator, document: &Value) -> Option<String> {
    match (validator.is_valid(document), read(document)) {
        (true, Err(faults)) => {
            let beyond = |f: &Fault| BEYOND_A_SCHEMA.iter().any(|words| f.message.contains(words));
            let odd: Vec<_> = faults.iter().filter(|f| !beyond(f)).map(ToString::to_string).collect();
            (!odd.is_empty()).then(|| format!("only the reader refuses: {odd:?}"))
        }
        (false, Ok(_)) => Some(format!("only the schema refuses: {:?}", validator.validate(document))),
        _ => None,
    }
}

#[test]
fn the_whole_list_is_sound_and_uses_every_key() {
    let schema = schema();
    let whole = whole_list();
    assert_eq!(read(&whole).err(), None);
    assert!(jsonschema::validator_for(&schema).unwrap().is_valid(&whole));
    let text = whole.to_string();
    let described = schema["$defs"].as_object().unwrap().values().chain([&schema]);
    let keys: Vec<&String> = described.flat_map(|d| d["properties"].as_object().unwrap().keys()).collect();
    // Keys of the format, counted by hand: 4 of the file, 10 of an entry, 25 of a row (6 of them the entry's),
    // 5 of a screw, 2 of a capability, 4 of a collar, 2 of a coating, 3 of a band.
    assert_eq!(keys.len(), 4 + 10 + 25 + 5 + 2 + 4 + 2 + 3);
    for key in keys {
        assert!(text.contains(&format!("\"{key}\":")), "{key}");
    }
}

#[test]
fn schema_and_reader_agree_on_every_mutation() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    let documents = mutated();
    assert!(documents.len() > 2_000, "{}", documents.len());
    let (mut accepted, mut refused) = (0, 0);
    for document in &documents {
        if let Some(how) = disagreement(&validator, document) {
            panic!("{how}\n{document:#}");
        }
        if read(document).is_ok() { accepted += 1 } else { refused += 1 }
    }
    assert!(accepted > 100 && refused > 1_000, "{accepted} accepted, {refused} refused");
}

#[test]
fn agreement_can_fail() {
    let mut wrong = schema();
    wrong["$defs"]["HoleRow"]["properties"]["count"]["minimum"] = json!(0);
    let validator = jsonschema::validator_for(&wrong).unwrap();
    assert!(mutated().iter().any(|document| disagreement(&validator, document).is_some()));
}

#[test]
fn sample_lists_are_sound() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    let samples = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let mut read = 0;
    for entry in walkdir::WalkDir::new(samples).into_iter().filter_map(Result::ok) {
        let name = entry.file_name().to_string_lossy();
        if name.ends_with(".holes.json") || name == "holes.json" {
            let bytes = std::fs::read(entry.path()).unwrap();
            let list: Result<HoleList, _> = read_bytes(&name, &bytes);
            assert_eq!(list.err(), None);
            assert!(validator.is_valid(&serde_json::from_slice(&bytes).unwrap()), "{name}");
            read += 1;
        }
    }
    assert!(read > 0, "there are sample lists");
}

/// Hole lists that are nearly right: any part of the whole list replaced by anything.
fn nearly_a_list() -> impl Strategy<Value = Value> {
    let mut all = Vec::new();
    pointers(&whole_list(), String::new(), &mut all);
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        ".*".prop_map(Value::from),
        prop::sample::select(replacements()),
    ];
    let anything = leaf.prop_recursive(4, 32, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::vec(("tag|at|count|holes|drawing|.*", inner), 0..6)
                .prop_map(|members| Value::Object(members.into_iter().collect())),
        ]
    });
    prop::collection::vec((prop::sample::select(all), anything), 1..4).prop_map(|changes| {
        let mut document = whole_list();
        for (pointer, value) in changes {
            if let Some(place) = document.pointer_mut(&pointer) {
                *place = value;
            }
        }
        document
    })
}

proptest! {
    #[test]
    fn any_json_is_read_or_refused_as_the_schema_says(document in nearly_a_list()) {
        let validator = jsonschema::validator_for(&schema()).unwrap();
        prop_assert_eq!(disagreement(&validator, &document), None);
    }
}
