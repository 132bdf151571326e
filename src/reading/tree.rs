//! JSON text to a tree that keeps what a map would lose: the order of keys and keys that stand twice.

use std::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

use super::{Fault, repair};

/// A JSON value as it stands in the file.
#[derive(Debug, Clone, PartialEq)]
pub enum Tree {
    /// `null`.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A finite number.
    Number(f64),
    /// What stands where a number should but is none that can be computed with: `NaN`, `Infinity`, `1e999`.
    NotFinite(String),
    /// A string.
    Text(String),
    /// An array.
    Array(Vec<Tree>),
    /// An object: its keys in their order, duplicates included.
    Object(Vec<(String, Tree)>),
}

impl Tree {
    /// The value as a message shows it: short, and with nothing that steers a terminal.
    pub fn shown(&self) -> String {
        const LONGEST: usize = 60;
        match self {
            Tree::Null => "null".to_owned(),
            Tree::Bool(value) => value.to_string(),
            Tree::Number(value) if value.abs() < 1e15 => value.to_string(),
            Tree::Number(value) => format!("{value:e}"),
            Tree::NotFinite(text) => text.clone(),
            Tree::Text(text) if text.chars().count() > LONGEST => {
                format!("\"{}…\"", text.chars().take(LONGEST).collect::<String>())
            }
            Tree::Text(text) => format!("\"{text}\""),
            Tree::Array(items) if items.is_empty() => "an empty array".to_owned(),
            Tree::Array(items) if items.len() == 1 => "an array of 1 item".to_owned(),
            Tree::Array(items) => format!("an array of {} items", items.len()),
            Tree::Object(_) => "an object".to_owned(),
        }
    }
}

/// Parses JSON. A byte-order mark before it is passed over; `NaN`, `Infinity` and numbers beyond the range of a
/// double are kept as [`Tree::NotFinite`], so that the typed reading can report them beside all other faults.
///
/// # Errors
/// One fault of the whole file, with line and column, if it is not UTF-8 or not JSON.
pub fn parse(file: &str, bytes: &[u8]) -> Result<Tree, Fault> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes).map_err(|e| not_utf8(file, bytes, e.valid_up_to()))?;
    if text.trim().is_empty() {
        return Err(Fault::whole(file, "the file is empty, expected JSON"));
    }
    serde_json::from_str(text).or_else(|error| {
        // Only a file that is no JSON pays for the second look.
        repair::with_marked_numbers(text)
            .and_then(|marked| serde_json::from_str(&marked).ok())
            .ok_or_else(|| no_json(file, text, &error))
    })
}

fn not_utf8(file: &str, bytes: &[u8], at: usize) -> Fault {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Fault::whole(file, "the text is UTF-16, expected UTF-8: save it as UTF-8");
    }
    let line = 1 + bytes[..at].iter().filter(|b| **b == b'\n').count();
    Fault::whole(file, format!("line {line}: byte {at} is not UTF-8, expected UTF-8 text"))
}

fn no_json(file: &str, text: &str, error: &serde_json::Error) -> Fault {
    let (line, column) = (error.line(), error.column());
    let said = error.to_string();
    let what = said.split(" at line ").next().unwrap_or(&said);
    let rest = text.lines().nth(line.saturating_sub(1)).and_then(|l| l.get(column.saturating_sub(1)..));
    let hint = match rest {
        Some(rest) if rest.starts_with("//") || rest.starts_with("/*") || rest.starts_with('#') => {
            "; JSON has no comments"
        }
        Some(rest) if rest.starts_with('\'') => "; JSON strings stand in double quotes",
        _ => "",
    };
    Fault::whole(file, format!("line {line}, column {column}: no JSON: {what}{hint}"))
}

impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Tree, D::Error> {
        deserializer.deserialize_any(TreeVisitor)
    }
}

struct TreeVisitor;

impl<'de> Visitor<'de> for TreeVisitor {
    type Value = Tree;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Tree, E> {
        Ok(Tree::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Tree, E> {
        Ok(Tree::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Tree, E> {
        Ok(Tree::Number(value as f64))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Tree, E> {
        Ok(Tree::Number(value as f64))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Tree, E> {
        Ok(if value.is_finite() { Tree::Number(value) } else { Tree::NotFinite(value.to_string()) })
    }

    fn visit_str<E>(self, value: &str) -> Result<Tree, E> {
        Ok(match repair::marked(value) {
            Some(number) => Tree::NotFinite(number.to_owned()),
            None => Tree::Text(value.to_owned()),
        })
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Tree, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element()? {
            items.push(item);
        }
        Ok(Tree::Array(items))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Tree, A::Error> {
        let mut pairs = Vec::new();
        while let Some(pair) = map.next_entry()? {
            pairs.push(pair);
        }
        Ok(Tree::Object(pairs))
    }
}
