//! The kinds of value that files of people are made of: numbers with limits, words of a list, texts, paths, points.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::json;

use super::{At, Tree, Written, nearest};
use crate::geometry::Point;

/// One end of a range of numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bound {
    /// No limit at this end.
    Open,
    /// The value itself is allowed.
    Including(f64),
    /// The value itself is not allowed.
    Excluding(f64),
}

/// Which numbers are possible, and how a message says so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NumberLimits {
    /// Lower end.
    pub from: Bound,
    /// Upper end.
    pub to: Bound,
    /// Whether only whole numbers are possible.
    pub whole: bool,
    /// What is expected, in words.
    pub expected: &'static str,
}

impl NumberLimits {
    /// Whether the number is possible.
    pub fn allow(&self, value: f64) -> bool {
        let above = match self.from {
            Bound::Open => true,
            Bound::Including(least) => value >= least,
            Bound::Excluding(least) => value > least,
        };
        let below = match self.to {
            Bound::Open => true,
            Bound::Including(most) => value <= most,
            Bound::Excluding(most) => value < most,
        };
        above && below && value.is_finite() && (!self.whole || value.fract() == 0.0)
    }

    /// Reads a number within the limits.
    pub fn read(&self, at: &At<'_>) -> Option<f64> {
        match at.tree() {
            Tree::Number(value) if self.allow(*value) => Some(*value),
            _ => at.unexpected(self.expected),
        }
    }
}

/// The JSON Schema of a number within limits.
pub fn number_schema(limits: &NumberLimits) -> Schema {
    let mut schema = json_schema!({ "type": if limits.whole { "integer" } else { "number" } });
    match limits.from {
        Bound::Open => {}
        Bound::Including(least) => _ = schema.insert("minimum".to_owned(), whole_if_it_is(least)),
        Bound::Excluding(least) => _ = schema.insert("exclusiveMinimum".to_owned(), whole_if_it_is(least)),
    }
    match limits.to {
        Bound::Open => {}
        Bound::Including(most) => _ = schema.insert("maximum".to_owned(), whole_if_it_is(most)),
        Bound::Excluding(most) => _ = schema.insert("exclusiveMaximum".to_owned(), whole_if_it_is(most)),
    }
    schema
}

/// `0` reads better than `0.0` in a schema.
fn whole_if_it_is(value: f64) -> serde_json::Value {
    if value.fract() == 0.0 && value.abs() < 1e15 { json!(value as i64) } else { json!(value) }
}

/// Defines a number that people write, with its limits.
macro_rules! number {
    ($(#[doc = $doc:literal])+ $vis:vis struct $name:ident = $limits:expr;) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, Copy, PartialEq)]
        $vis struct $name($vis f64);

        impl $name {
            /// Which numbers are possible.
            $vis const LIMITS: $crate::reading::NumberLimits = $limits;
        }

        impl $crate::reading::Written for $name {
            fn expected() -> String {
                Self::LIMITS.expected.to_owned()
            }

            fn read(at: &$crate::reading::At<'_>) -> Option<Self> {
                Self::LIMITS.read(at).map($name)
            }
        }

        impl schemars::JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                $crate::reading::number_schema(&Self::LIMITS)
            }
        }
    };
}
pub(crate) use number;

/// A set of words, each of which means a value.
pub trait Choice: Copy + 'static {
    /// The values, in the order that messages and schemas list them.
    const ALL: &'static [Self];

    /// The word for a value.
    fn word(self) -> &'static str;
}

/// One word of a set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choose<T>(pub T);

impl<T: Choice> Written for Choose<T> {
    fn expected() -> String {
        match T::ALL {
            [only] => format!("\"{}\"", only.word()),
            all => format!("one of {}", all.iter().map(|v| v.word()).collect::<Vec<_>>().join(", ")),
        }
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let expected = Self::expected();
        let Tree::Text(text) = at.tree() else { return at.unexpected(&expected) };
        if let Some(value) = T::ALL.iter().find(|v| v.word() == text) {
            return Some(Choose(*value));
        }
        match nearest(text, T::ALL.iter().map(|v| v.word())) {
            Some(near) => at.unexpected(&format!("{expected}; did you mean \"{near}\"?")),
            None => at.unexpected(&expected),
        }
    }
}

impl<T: Choice> JsonSchema for Choose<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Choice".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let words: Vec<&str> = T::ALL.iter().map(|v| v.word()).collect();
        json_schema!({ "type": "string", "enum": words })
    }
}

/// Defines a kind of text: what is expected, its check, and the pattern that says the same in a schema.
macro_rules! text {
    ($(#[doc = $doc:literal])+ $name:ident, $expected:literal, $check:expr, $schema:tt) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, PartialEq, Eq)]
        pub struct $name(pub String);

        impl Written for $name {
            fn expected() -> String {
                $expected.to_owned()
            }

            fn read(at: &At<'_>) -> Option<Self> {
                let check: fn(&str) -> bool = $check;
                match at.tree() {
                    Tree::Text(text) if check(text) => Some($name(text.clone())),
                    _ => at.unexpected($expected),
                }
            }
        }

        impl JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!($schema)
            }
        }
    };
}

text! {
    /// Text that says something.
    Text, "text that is not blank", |text| text.chars().any(|c| !blank(c)), { "type": "string", "pattern": "[^ \\t\\r\\n]" }
}

text! {
    /// Any text, also an empty one.
    AnyText, "text", |_| true, { "type": "string" }
}

text! {
    /// A path or pattern with `/` between folders on every system.
    PathText, "a path with / between its folders", |text| text.chars().any(|c| !blank(c)) && !text.contains('\\'),
    { "type": "string", "pattern": "^[^\\\\]*[^ \\t\\r\\n\\\\][^\\\\]*$" }
}

/// Blank in a text: only what the patterns above also name, since `\s` differs between pattern dialects.
fn blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\r' | '\n')
}

/// A value together with the JSON pointer it was read at.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed<T> {
    /// JSON pointer.
    pub pointer: String,
    /// The value.
    pub value: T,
}

impl<T: Written> Written for Placed<T> {
    fn expected() -> String {
        T::expected()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        T::read(at).map(|value| Placed { pointer: at.pointer(), value })
    }
}

impl<T: JsonSchema> JsonSchema for Placed<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }

    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }

    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

/// Points `[x, y]`, at least one, none twice.
#[derive(Debug, Clone, PartialEq)]
pub struct Coordinates(pub Vec<Point>);

impl Written for Coordinates {
    fn expected() -> String {
        "an array of one or more points [x, y]".to_owned()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let expected = Self::expected();
        let items = at.items(&expected)?;
        if items.is_empty() {
            return at.unexpected(&expected);
        }
        let mut seen = std::collections::HashMap::new();
        let mut points = Vec::with_capacity(items.len());
        let mut sound = true;
        for (index, item) in items.iter().enumerate() {
            let Some(point) = point(item) else {
                sound = false;
                continue;
            };
            // Adding 0 makes one of the two zeros.
            let bits = ((point.x + 0.0).to_bits(), (point.y + 0.0).to_bits());
            if let Some(first) = seen.insert(bits, index) {
                item.fault(format!(
                    "the point [{}, {}] also stands at {first}, expected each point once",
                    point.x, point.y
                ));
            }
            points.push(point);
        }
        sound.then_some(Coordinates(points))
    }
}

fn point(at: &At<'_>) -> Option<Point> {
    const EXPECTED: &str = "a point [x, y] of two finite numbers";
    let items = at.items(EXPECTED)?;
    let [x, y] = items.as_slice() else { return at.unexpected(EXPECTED) };
    let (x, y) = (COORDINATE.read(x), COORDINATE.read(y));
    Some(Point::new(x?, y?))
}

const COORDINATE: NumberLimits =
    NumberLimits { from: Bound::Open, to: Bound::Open, whole: false, expected: "a finite number" };

impl JsonSchema for Coordinates {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Coordinates".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "array",
            "minItems": 1,
            "uniqueItems": true,
            "items": { "type": "array", "items": { "type": "number" }, "minItems": 2, "maxItems": 2 }
        })
    }
}

/// An object with any keys, each with a value of one type. Whoever reads it checks the keys.
#[derive(Debug, Clone, PartialEq)]
pub struct Map<T>(pub Vec<(String, Placed<T>)>);

impl<T: Written> Written for Map<T> {
    fn expected() -> String {
        format!("an object, each value {}", T::expected())
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let members = at.members(&Self::expected())?;
        Some(Map(members
            .iter()
            .filter_map(|(key, at)| Some(((*key).to_owned(), Placed::read(at)?)))
            .collect()))
    }
}

impl<T: JsonSchema> JsonSchema for Map<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        format!("MapOf{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let value = generator.subschema_for::<T>();
        json_schema!({ "type": "object", "additionalProperties": value })
    }
}
