//! The committed schemas are those that the types give, and they are sound JSON Schemas.

use std::path::Path;

use boreband::report::schema::{NAMES, schema};

/// Set to renew the committed files instead of comparing with them.
const RENEW: &str = "BOREBAND_RENEW";

#[test]
fn schemas_are_those_that_the_types_give() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas");
    let mut stale = Vec::new();
    for name in NAMES {
        let file = folder.join(format!("{name}.schema.json"));
        let fresh = schema(name).expect("every name has a schema");
        if std::env::var_os(RENEW).is_some() {
            std::fs::write(&file, &fresh).expect("the schema can be written");
        }
        if std::fs::read_to_string(&file).ok().as_deref() != Some(fresh.as_str()) {
            stale.push(file);
        }
    }
    assert!(stale.is_empty(), "not as the types are now: {stale:?}; renew with {RENEW}=1 cargo test schemas");
}

#[test]
fn schemas_are_valid_2020_12_and_describe_every_property() {
    for name in NAMES {
        let value: serde_json::Value = serde_json::from_str(&schema(name).unwrap()).unwrap();
        assert_eq!(value["$schema"], "https://json-schema.org/draft/2020-12/schema");
        assert_eq!(value["$id"], format!("urn:boreband:schema:{name}:1"));
        jsonschema::meta::validate(&value).unwrap_or_else(|e| panic!("{name}: {e}"));
        jsonschema::validator_for(&value).unwrap_or_else(|e| panic!("{name}: {e}"));
        let mut seen = 0;
        every_object(&value, &mut |object| {
            for (key, property) in object {
                seen += 1;
                assert!(property["description"].as_str().is_some_and(|d| d.len() > 3), "{name}: {key}");
            }
        });
        assert!(seen >= 3, "{name}: only {seen} properties");
    }
}

#[test]
fn schemas_of_what_people_write_refuse_unknown_keys() {
    for name in ["costs", "hole-list", "policy"] {
        let value: serde_json::Value = serde_json::from_str(&schema(name).unwrap()).unwrap();
        let mut closed = 0;
        every_schema(&value, &mut |schema| {
            if schema.get("type").is_some_and(|t| t == "object") && schema.get("properties").is_some() {
                assert_eq!(schema["additionalProperties"], false, "{name}: {schema:?}");
                closed += 1;
            }
        });
        assert!(closed >= 1);
    }
}

#[test]
fn schemas_describe_the_report_that_the_program_writes() {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let run = std::process::Command::new(env!("CARGO_BIN_EXE_boreband"))
        .args(["check", "--format", "json"])
        .arg(samples)
        .output()
        .expect("the program runs");
    let mut report: serde_json::Value = serde_json::from_slice(&run.stdout).expect("the report is JSON");
    let validator =
        jsonschema::validator_for(&serde_json::from_str(&schema("report").unwrap()).unwrap()).unwrap();
    assert!(report["drawings"].as_array().is_some_and(|drawings| drawings.len() > 5));
    assert!(report["totals"]["holes"].as_u64().is_some_and(|holes| holes > 20));
    let wrong: Vec<String> = validator.iter_errors(&report).map(|e| e.to_string()).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    // A key that is left out where null should stand would break a script that reads it.
    report["drawings"][0].as_object_mut().unwrap().remove("part");
    assert!(!validator.is_valid(&report));
}

#[test]
fn schemas_have_no_other_names() {
    assert_eq!(schema("hole_list"), None);
}

/// Calls `look` with the `properties` of every object that is described, not those of mere conditions.
fn every_object(
    value: &serde_json::Value,
    look: &mut dyn FnMut(&serde_json::Map<String, serde_json::Value>),
) {
    every_schema(value, &mut |schema| {
        if schema.get("type").is_some_and(|t| t == "object")
            && let Some(properties) = schema.get("properties").and_then(|p| p.as_object())
        {
            look(properties);
        }
    });
}

fn every_schema(
    value: &serde_json::Value,
    look: &mut dyn FnMut(&serde_json::Map<String, serde_json::Value>),
) {
    match value {
        serde_json::Value::Object(members) => {
            look(members);
            members.values().for_each(|v| every_schema(v, look));
        }
        serde_json::Value::Array(items) => items.iter().for_each(|v| every_schema(v, look)),
        _ => {}
    }
}
