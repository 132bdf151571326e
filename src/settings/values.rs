//! The kinds of value that only a policy is made of: sizes of drills, limits by name, words by meaning.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::{Map, Value, json};

use crate::callout::{Meaning, UserWord, Words};
use crate::practice::{Answer, Ground, Limit, Stocked, ground_rows, limit_rows};
use crate::reading::{At, Choice, Choose, Placed, Tree, Written, nearest};
use crate::trade::read_length;
use crate::units::{Length, Unit};

/// Sizes of drills or punches, rising, each once.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sizes(pub(super) Vec<Stocked>);

const SIZE: &str = "a size with its unit, such as \"3.6mm\", \".142in\", \"7/32\", \"#25\" or \"B\"";

impl Written for Sizes {
    fn expected() -> String {
        format!("an array of one or more, each {SIZE}")
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let items = at.items(&Self::expected())?;
        if items.is_empty() {
            return at.unexpected(&Self::expected());
        }
        let mut sizes: Vec<Stocked> = items.iter().filter_map(size).collect();
        sizes.sort_by(|a, b| a.diameter.mm().total_cmp(&b.diameter.mm()));
        sizes.dedup_by(|b, a| (a.diameter - b.diameter).abs() < Length::mm_const(1e-6));
        Some(Sizes(sizes))
    }
}

fn size(at: &At<'_>) -> Option<Stocked> {
    let Tree::Text(text) = at.tree() else { return at.unexpected(SIZE) };
    match read_length(text, Unit::Mm, None) {
        Ok(read) if read.length > Length::ZERO && read.length < Length::mm_const(1000.0) => match read.unit {
            Some(unit) => Some(Stocked { name: text.trim().to_owned(), diameter: read.length, unit }),
            None => at.unexpected(SIZE),
        },
        _ => at.unexpected(SIZE),
    }
}

impl JsonSchema for Sizes {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Sizes".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let item =
            json!({ "type": "string", "minLength": 1, "examples": ["3.6mm", ".142in", "7/32", "#25", "B"] });
        json_schema!({ "type": "array", "minItems": 1, "items": item })
    }
}

/// Limits by their name, each within what is possible.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LimitValues(pub(super) Vec<Placed<(Limit, f64)>>);

impl Written for LimitValues {
    fn expected() -> String {
        "an object of limits by name, such as {\"least-metal\": 2.5}".to_owned()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let members = at.members(&Self::expected())?;
        let read: Vec<Placed<(Limit, f64)>> =
            members.iter().filter_map(|(name, at)| limit_value(name, at)).collect();
        let value = |limit: Limit| {
            let set = read.iter().find(|p| p.value.0 == limit);
            set.map_or(limit.row().value, |p| p.value.1)
        };
        for (low, high) in PAIRS {
            if value(low) > value(high) {
                at.fault(format!(
                    "found {} {} above {} {}, expected it no greater",
                    low.name(),
                    value(low),
                    high.name(),
                    value(high)
                ));
            }
        }
        Some(LimitValues(read))
    }
}

/// Limits of which the first must not be greater than the second.
const PAIRS: [(Limit, Limit); 2] =
    [(Limit::ShortestPoint, Limit::LongestPoint), (Limit::CutThreadLeast, Limit::CutThreadMost)];

fn limit_value(name: &str, at: &At<'_>) -> Option<Placed<(Limit, f64)>> {
    let Some(limit) = Limit::from_name(name) else {
        let names: Vec<String> = limit_rows().iter().map(|row| row.limit.name()).collect();
        let near = nearest(name, names.iter().map(String::as_str));
        let meant = near.map(|near| format!("did you mean \"{near}\"? ")).unwrap_or_default();
        let shown: String = name.chars().take(60).collect();
        at.fault(format!("unknown limit \"{shown}\"; {meant}expected one of {}", names.join(", ")));
        return None;
    };
    let row = limit.row();
    match at.tree() {
        Tree::Number(value) if (row.least..=row.most).contains(value) => {
            Some(Placed { pointer: at.pointer(), value: (limit, *value) })
        }
        _ => at.unexpected(&format!(
            "a number from {} to {} ({}): {}",
            row.least,
            row.most,
            row.unit.name(),
            row.meaning
        )),
    }
}

impl JsonSchema for LimitValues {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Limits".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let mut properties = Map::new();
        for row in limit_rows() {
            let text = format!(
                "{} ({}). Default {}: {} ({}).",
                sentence(&row.meaning),
                row.unit.name(),
                row.value,
                row.source,
                row.status.words()
            );
            let schema =
                json!({ "description": text, "type": "number", "minimum": row.least, "maximum": row.most });
            properties.insert(row.limit.name(), schema);
        }
        json_schema!({ "type": "object", "properties": Value::Object(properties), "additionalProperties": false })
    }
}

/// With a capital first letter.
fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// Words of drawings, each with the name of its meaning.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct WordMeanings(pub(super) Vec<Placed<UserWord>>);

impl Written for WordMeanings {
    fn expected() -> String {
        "an object of words, each with the name of its meaning, such as {\"OTWORY\": \"hole\"}".to_owned()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let members = at.members(&Self::expected())?;
        Some(WordMeanings(members.iter().filter_map(|(word, at)| word_meaning(word, at)).collect()))
    }
}

fn word_meaning(word: &str, at: &At<'_>) -> Option<Placed<UserWord>> {
    let names = || Meaning::names().collect::<Vec<_>>().join(", ");
    let Tree::Text(meaning) = at.tree() else {
        return at.unexpected(&format!("the name of a meaning, one of {}", names()));
    };
    if Meaning::from_name(meaning).is_none() {
        let near = nearest(meaning, Meaning::names());
        let meant = near.map(|near| format!("; did you mean \"{near}\"?")).unwrap_or_default();
        return at.unexpected(&format!("one of {}{meant}", names()));
    }
    let user = UserWord { word: word.to_owned(), meaning: meaning.clone() };
    match Words::with(std::slice::from_ref(&user)) {
        Ok(_) => Some(Placed { pointer: at.pointer(), value: user }),
        Err(faults) => {
            let reasons: Vec<String> = faults.iter().map(|(_, fault)| fault.to_string()).collect();
            at.fault(format!("{}, expected a word with a letter", reasons.join("; ")));
            None
        }
    }
}

impl JsonSchema for WordMeanings {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Words".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let names: Vec<&str> = Meaning::names().collect();
        json_schema!({ "type": "object", "additionalProperties": { "type": "string", "enum": names } })
    }
}

/// What follows from grounds, each by its name.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct GroundAnswers(pub(super) Vec<Placed<(Ground, Answer)>>);

impl Choice for Answer {
    const ALL: &'static [Self] = &Answer::ALL;

    fn word(self) -> &'static str {
        self.name()
    }
}

impl Written for GroundAnswers {
    fn expected() -> String {
        "an object of grounds by name, such as {\"class-close\": \"no\"}".to_owned()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let members = at.members(&Self::expected())?;
        Some(GroundAnswers(members.iter().filter_map(|(name, at)| ground_answer(name, at)).collect()))
    }
}

fn ground_answer(name: &str, at: &At<'_>) -> Option<Placed<(Ground, Answer)>> {
    let open = || ground_rows().iter().filter(|row| !row.is_fixed()).map(|row| row.ground.name());
    match Ground::from_name(name) {
        Some(ground) if ground.row().is_fixed() => {
            at.fault(format!("found \"{name}\", which no policy can change, expected another ground"));
            None
        }
        Some(ground) => {
            let answer: Choose<Answer> = Written::read(at)?;
            Some(Placed { pointer: at.pointer(), value: (ground, answer.0) })
        }
        None => {
            let names: Vec<String> = open().collect();
            let near = nearest(name, names.iter().map(String::as_str));
            let meant = near.map(|near| format!("did you mean \"{near}\"? ")).unwrap_or_default();
            let shown: String = name.chars().take(60).collect();
            at.fault(format!("unknown ground \"{shown}\"; {meant}expected one of {}", names.join(", ")));
            None
        }
    }
}

impl JsonSchema for GroundAnswers {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Grounds".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let mut properties = Map::new();
        for row in ground_rows().iter().filter(|row| !row.is_fixed()) {
            let text = format!(
                "{}. Default {}: {} ({}).",
                sentence(&row.meaning),
                row.answer.name(),
                row.source,
                row.status.words()
            );
            let answers = Answer::ALL.map(Answer::name);
            properties
                .insert(row.ground.name(), json!({ "description": text, "type": "string", "enum": answers }));
        }
        json_schema!({ "type": "object", "properties": Value::Object(properties), "additionalProperties": false })
    }
}
