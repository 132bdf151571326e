//! Values that people write: one definition gives both the strict reading and the JSON Schema.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde_json::{Map as JsonMap, Value, json};

use super::At;

/// A value that people write.
pub trait Written: Sized + JsonSchema {
    /// What is expected, for messages: `a length above 0`.
    fn expected() -> String;

    /// Reads the value. Every fault is recorded at its place; none is returned if the value cannot be used.
    fn read(at: &At<'_>) -> Option<Self>;
}

impl<T: Written> Written for Vec<T> {
    fn expected() -> String {
        format!("an array, each item {}", T::expected())
    }

    fn read(at: &At<'_>) -> Option<Self> {
        // A wrong item is left out of the list, but its fault makes the whole file be refused.
        Some(at.items(&Self::expected())?.iter().filter_map(T::read).collect())
    }
}

/// One property of an object that people write.
#[derive(Debug)]
pub struct Property {
    /// Its key.
    pub key: &'static str,
    /// Whether it must be there.
    pub required: bool,
    /// What its value may be.
    pub schema: Schema,
    /// What it means.
    pub doc: &'static str,
}

/// The schema of an object with these properties and no others.
pub fn object_schema(doc: &str, properties: Vec<Property>) -> Schema {
    let required: Vec<&str> = properties.iter().filter(|p| p.required).map(|p| p.key).collect();
    let mut described = JsonMap::new();
    for property in &properties {
        let mut schema = property.schema.clone();
        schema.insert("description".to_owned(), one_paragraph(property.doc).into());
        described.insert(property.key.to_owned(), schema.to_value());
    }
    let mut schema = JsonMap::new();
    schema.insert("description".to_owned(), one_paragraph(doc).into());
    schema.insert("type".to_owned(), json!("object"));
    schema.insert("properties".to_owned(), Value::Object(described));
    if !required.is_empty() {
        schema.insert("required".to_owned(), json!(required));
    }
    schema.insert("additionalProperties".to_owned(), json!(false));
    schema.into()
}

/// The whole schema document of a type (JSON Schema 2020-12), under `urn:boreband:schema:<name>:1`.
pub fn schema_document<T: JsonSchema>(name: &str, title: &str, description: &str) -> Value {
    // As it is written out: in a report a value that is absent stands as null, so its key is required. What people
    // write says for itself which keys are required.
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let schema = settings.into_generator().into_root_schema_for::<T>().to_value();
    let mut document = JsonMap::new();
    document.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    document.insert("$id".to_owned(), json!(format!("urn:boreband:schema:{name}:1")));
    document.insert("title".to_owned(), json!(title));
    document.insert("description".to_owned(), json!(description));
    if let Value::Object(members) = schema {
        for (key, value) in members {
            document.entry(key).or_insert(value);
        }
    }
    Value::Object(document)
}

/// Doc comments come line by line; a schema's description is one paragraph.
fn one_paragraph(doc: &str) -> String {
    doc.lines().map(str::trim).filter(|line| !line.is_empty()).collect::<Vec<_>>().join(" ")
}

/// The schema of an object property, with its own documentation beside that of its type.
pub(crate) fn property<T: JsonSchema>(
    generator: &mut SchemaGenerator,
    key: &'static str,
    required: bool,
    doc: &'static str,
) -> Property {
    Property { key, required, schema: generator.subschema_for::<T>(), doc }
}

/// Defines an object that people write: the struct, its strict reading and its JSON Schema, from one list of fields.
///
/// Each field is `"key" => name: required Type` or `optional Type`, with its documentation before it; every field is
/// held as an `Option`, because a file with faults is read to its end. A function after the struct looks at what one
/// field alone cannot tell.
macro_rules! written {
    (
        $(#[doc = $doc:literal])+
        $vis:vis struct $name:ident {
            $($(#[doc = $field_doc:literal])+ $key:literal => $field:ident: $need:ident $type:ty,)+
        }
        $(checked by $check:path)?
    ) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, PartialEq)]
        $vis struct $name {
            $($(#[doc = $field_doc])+ $vis $field: Option<$type>,)+
        }

        impl $crate::reading::Written for $name {
            fn expected() -> String {
                concat!("an object with the keys ", $($key, ", "),+).trim_end_matches(", ").to_owned()
            }

            fn read(at: &$crate::reading::At<'_>) -> Option<Self> {
                let object = at.object(&[$($key),+])?;
                let value = $name { $($field: object.$need($key),)+ };
                $($check(&value, &object);)?
                Some(value)
            }
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let properties = vec![$($crate::reading::property::<$type>(
                    generator,
                    $key,
                    stringify!($need) == "required",
                    concat!($($field_doc, "\n"),+),
                )),+];
                $crate::reading::object_schema(concat!($($doc, "\n"),+), properties)
            }
        }
    };
}
pub(crate) use written;
