use proptest::prelude::*;

use super::{AnyText, Choice, Choose, Fault, Map, Tree, Written, parse, read_bytes, written};

#[derive(Debug, Clone, Copy, PartialEq)]
enum Colour {
    Red,
    Green,
}

impl Choice for Colour {
    const ALL: &'static [Self] = &[Colour::Red, Colour::Green];

    fn word(self) -> &'static str {
        match self {
            Colour::Red => "red",
            Colour::Green => "green",
        }
    }
}

written! {
    /// A thing of these tests.
    struct Thing {
        /// Its name.
        "name" => name: required AnyText,
        /// Its colour.
        "colour" => colour: optional Choose<Colour>,
        /// Its parts.
        "parts" => parts: optional Vec<Thing>,
        /// Its marks.
        "marks" => marks: optional Map<Choose<Colour>>,
    }
}

fn faults(text: &str) -> Vec<(String, String)> {
    match read_bytes::<Thing>("thing.json", text.as_bytes()) {
        Ok(_) => Vec::new(),
        Err(faults) => faults.into_iter().map(|f| (f.pointer, f.message)).collect(),
    }
}

fn only(text: &str) -> (String, String) {
    let mut all = faults(text);
    assert_eq!(all.len(), 1, "{all:?}");
    all.remove(0)
}

#[test]
fn reads_a_sound_file() {
    let text = r#"{"name": "n", "colour": "green", "parts": [{"name": ""}], "marks": {"a": "red"}}"#;
    let thing: Thing = read_bytes("thing.json", text.as_bytes()).unwrap();
    assert_eq!(thing.name, Some(AnyText("n".to_owned())));
    assert_eq!(thing.colour, Some(Choose(Colour::Green)));
    assert_eq!(thing.parts.unwrap().len(), 1);
    let marks = thing.marks.unwrap().0;
    assert_eq!((marks[0].0.as_str(), marks[0].1.pointer.as_str()), ("a", "/marks/a"));
}

#[test]
fn passes_over_a_byte_order_mark() {
    assert!(read_bytes::<Thing>("t", b"\xef\xbb\xbf{\"name\": \"n\"}").is_ok());
}

#[test]
fn tells_line_and_column_of_what_is_no_json() {
    let (pointer, message) = only("{\n  \"name\": \"n\",\n  \"colour\" \"red\"\n}");
    assert_eq!(pointer, "");
    // The string that should be a colon begins at the 12th character of the third line (counted by hand).
    assert!(message.starts_with("line 3, column 12: no JSON: expected `:`"), "{message}");
    assert!(only("{\"name\": \"n\",}").1.contains("trailing comma"));
    assert!(only("{\n// why\n\"name\": \"n\"}").1.contains("JSON has no comments"));
    assert!(only("").1.contains("the file is empty"));
    assert!(only("{\"name\": \"n\"} {}").1.contains("trailing characters"));
    let utf16 = read_bytes::<Thing>("t", b"\xff\xfe{\0").unwrap_err();
    assert!(utf16[0].message.contains("UTF-16"));
    let latin = read_bytes::<Thing>("t", b"{\n\"name\": \"\xe4\"}").unwrap_err();
    assert!(latin[0].message.starts_with("line 2: byte 11 is not UTF-8"), "{latin:?}");
}

#[test]
fn nesting_without_end_is_a_fault_and_no_crash() {
    assert!(only(&"[".repeat(100_000)).1.contains("recursion limit"));
}

#[test]
fn collects_every_fault() {
    let text = r#"{"naem": 1, "colour": "grean", "parts": [{"name": 2}, 3], "marks": {"a/b": 4}}"#;
    let found = faults(text);
    let pointers: Vec<&str> = found.iter().map(|(p, _)| p.as_str()).collect();
    assert_eq!(pointers, ["/naem", "/name", "/colour", "/parts/0/name", "/parts/1", "/marks/a~1b"]);
    assert!(found[0].1.contains("did you mean \"name\"?"), "{}", found[0].1);
    assert!(found[0].1.contains("name, colour, parts, marks"), "{}", found[0].1);
    assert_eq!(found[1].1, "missing, expected text");
    assert_eq!(found[2].1, "found \"grean\", expected one of red, green; did you mean \"green\"?");
    assert_eq!(found[3].1, "found 2, expected text");
}

#[test]
fn a_key_that_stands_twice_is_a_fault_at_any_depth() {
    let found = faults(r#"{"name": "a", "name": "b", "parts": [{"name": "c", "name": "d"}]}"#);
    let pointers: Vec<&str> = found.iter().map(|(p, _)| p.as_str()).collect();
    assert_eq!(pointers, ["/name", "/parts/0/name"]);
    assert!(found[0].1.contains("more than once"));
}

#[test]
fn numbers_that_are_none_do_not_hide_other_faults() {
    for token in ["NaN", "-Infinity", "1e999", "-1e400", "inf"] {
        let found = faults(&format!(r#"{{"name": {token}, "colour": "blue", "x": "NaN, \" 1e999"}}"#));
        let pointers: Vec<&str> = found.iter().map(|(p, _)| p.as_str()).collect();
        assert_eq!(pointers, ["/x", "/name", "/colour"], "{token}");
        assert_eq!(found[1].1, format!("found {token}, expected text"));
    }
    // As text it is text.
    assert_eq!(faults(r#"{"name": "NaN"}"#), []);
}

#[test]
fn control_characters_of_a_file_reach_no_terminal() {
    let fault = Fault { file: "a\u{1b}[31m".into(), pointer: "/\u{202e}".into(), message: "x\ny".into() };
    assert_eq!(fault.to_string(), "a\\u{1b}[31m: /\\u{202e}: x\\u{a}y");
}

/// Any JSON value, with keys that the reader of things knows among them.
fn any_json() -> impl Strategy<Value = serde_json::Value> {
    let leaf = prop_oneof![
        Just(serde_json::Value::Null),
        any::<bool>().prop_map(Into::into),
        any::<f64>().prop_map(Into::into),
        any::<i64>().prop_map(Into::into),
        ".*".prop_map(Into::into),
        "red|green|name".prop_map(Into::into),
    ];
    leaf.prop_recursive(6, 64, 8, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..8).prop_map(serde_json::Value::from),
            prop::collection::vec(("name|colour|parts|marks|.*", inner), 0..8)
                .prop_map(|members| serde_json::Value::Object(members.into_iter().collect())),
        ]
    })
}

proptest! {
    #[test]
    fn any_bytes_are_read_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        if let Err(faults) = read_bytes::<Thing>("t", &bytes) {
            prop_assert!(!faults.is_empty());
        }
    }

    #[test]
    fn any_json_is_read_or_refused(value in any_json()) {
        if let Err(faults) = read_bytes::<Thing>("t", value.to_string().as_bytes()) {
            prop_assert!(!faults.is_empty());
        }
    }

    #[test]
    fn a_tree_keeps_every_pair(keys in prop::collection::vec("[ab]", 0..6)) {
        let text = format!("{{{}}}", keys.iter().map(|k| format!("\"{k}\":1")).collect::<Vec<_>>().join(","));
        let pairs = keys.into_iter().map(|k| (k, Tree::Number(1.0))).collect();
        prop_assert_eq!(parse("t", text.as_bytes()), Ok(Tree::Object(pairs)));
    }
}

#[test]
fn expectation_of_an_object_names_its_keys() {
    assert_eq!(Thing::expected(), "an object with the keys name, colour, parts, marks");
}
