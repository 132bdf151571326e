//! What several kinds of file state alike: threads, materials, lengths, hardness, bands.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::{At, Bound, NumberLimits, Object, Tree, Written, nearest, number, written};
use crate::joint::UserBand;
use crate::trade::{Material, Thread};

/// The version of the format.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Format;

impl Written for Format {
    fn expected() -> String {
        "1, the version of the format that this program reads".to_owned()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        match at.tree() {
            Tree::Number(version) if *version == 1.0 => Some(Format),
            _ => at.unexpected(&Self::expected()),
        }
    }
}

impl JsonSchema for Format {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Format".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "const": 1 })
    }
}

/// A thread designation.
#[derive(Debug, Clone, PartialEq)]
pub struct ThreadName(pub Thread);

impl Written for ThreadName {
    fn expected() -> String {
        "a thread such as M4, M4x0.7, 1/4-20 or #8-32".to_owned()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let Tree::Text(text) = at.tree() else { return at.unexpected(&Self::expected()) };
        match Thread::parse(text) {
            Ok(thread) => Some(ThreadName(thread)),
            Err(error) => {
                at.fault(format!("found {}, {}", at.tree().shown(), error.expected));
                None
            }
        }
    }
}

impl JsonSchema for ThreadName {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Thread".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "minLength": 1, "examples": ["M4", "M4x0.7", "1/4-20", "#8-32"] })
    }
}

/// A material by its name or a name that drawings give it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MaterialName(pub Material);

impl Written for MaterialName {
    fn expected() -> String {
        let names = Material::ALL.map(Material::name).join(", ");
        format!("one of {names}, or a common drawing name of one (DC01, CRS, A380)")
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let Tree::Text(text) = at.tree() else { return at.unexpected(&Self::expected()) };
        let by_name = Material::ALL.into_iter().find(|m| m.name() == text);
        if let Some(material) = by_name.or_else(|| Material::parse(text)) {
            return Some(MaterialName(material));
        }
        match nearest(text, Material::ALL.map(Material::name)) {
            Some(near) => at.unexpected(&format!("{}; did you mean \"{near}\"?", Self::expected())),
            None => at.unexpected(&Self::expected()),
        }
    }
}

impl JsonSchema for MaterialName {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Material".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        // Drawing names are too many to list, so the names are examples and not an enumeration.
        json_schema!({ "type": "string", "minLength": 1, "examples": Material::ALL.map(Material::name) })
    }
}

number! {
    /// Thread engagement, percent on the rolled basis.
    pub struct Percent = NumberLimits {
        from: Bound::Including(0.0),
        to: Bound::Including(200.0),
        whole: false,
        expected: "a percentage from 0 to 200",
    };
}

/// No length of a joint or a sheet reaches this, in either unit; beyond it a unit or a decimal point is wrong.
const LONGEST: f64 = 10_000.0;

number! {
    /// A length that cannot be nothing, in the file's unit.
    pub struct LengthAboveZero = NumberLimits {
        from: Bound::Excluding(0.0),
        to: Bound::Including(LONGEST),
        whole: false,
        expected: "a length above 0 and at most 10000 in the file's unit",
    };
}

number! {
    /// A length that may be nothing, in the file's unit.
    pub struct LengthFromZero = NumberLimits {
        from: Bound::Including(0.0),
        to: Bound::Including(LONGEST),
        whole: false,
        expected: "a magnitude of 0 or more and at most 10000 in the file's unit",
    };
}

number! {
    /// Brinell hardness.
    pub struct Brinell = NumberLimits {
        from: Bound::Excluding(0.0),
        // The Brinell scale ends at about 650 HBW (ISO 6506-1; from memory).
        to: Bound::Including(650.0),
        whole: false,
        expected: "a Brinell hardness above 0 and at most 650",
    };
}

written! {
    /// The thread engagement that is allowed, in percent on the rolled basis (100 % is a hole at the pitch diameter).
    pub struct Band {
        /// Least engagement allowed (percent).
        "min" => min: required Percent,
        /// Greatest engagement allowed (percent), above `min`.
        "max" => max: required Percent,
        /// Engagement to aim at (percent), from `min` to `max`. The middle if not stated.
        "target" => target: optional Percent,
    }
    checked by check_band
}

fn check_band(band: &Band, object: &Object<'_>) {
    check_band_edges(band.min, band.max, band.target, object);
}

/// Records what is impossible in the edges and the target of a band, held under the keys `min`, `max` and `target`.
pub fn check_band_edges(
    min: Option<Percent>,
    max: Option<Percent>,
    target: Option<Percent>,
    object: &Object<'_>,
) {
    let (Some(Percent(min)), Some(Percent(max))) = (min, max) else { return };
    if min >= max {
        object.fault_at("max", format!("found max {max} beside min {min}, expected max above min"));
        return;
    }
    if let Some(Percent(target)) = target
        && !(min..=max).contains(&target)
    {
        object.fault_at("target", format!("found {target}, expected a target from min {min} to max {max}"));
    }
}

impl Band {
    /// The band as the model holds it; none if the file had a fault here.
    pub fn to_user_band(&self) -> Option<UserBand> {
        Some(UserBand { min: self.min?.0, max: self.max?.0, target: self.target.map(|t| t.0) })
    }
}
