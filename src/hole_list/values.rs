//! The values of a hole list: lengths with their limits, counts, fits, coatings and the words it knows.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use crate::joint::{ScrewForm, Stage};
use crate::reading::{
    At, Bound, Choice, Choose, LengthAboveZero, NumberLimits, Written, number, number_schema, written,
};
use crate::trade::Process;
use crate::units::Unit;

number! {
    /// How many holes.
    pub(super) struct Count = NumberLimits {
        from: Bound::Including(1.0),
        to: Bound::Including(100_000.0),
        whole: true,
        expected: "a whole number from 1 to 100000",
    };
}

number! {
    /// Draft per side (degrees).
    pub(super) struct Degrees = NumberLimits {
        from: Bound::Including(0.0),
        to: Bound::Excluding(45.0),
        whole: false,
        expected: "an angle from 0 to below 45 degrees",
    };
}

/// Limits of size `[min, max]`, both above 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LimitPair {
    /// Smallest hole, in the file's unit.
    pub(super) min: f64,
    /// Largest hole, in the file's unit.
    pub(super) max: f64,
}

impl Written for LimitPair {
    fn expected() -> String {
        "two lengths [min, max], both above 0 and min not above max".to_owned()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let items = at.items(&Self::expected())?;
        let [min, max] = items.as_slice() else { return at.unexpected(&Self::expected()) };
        let (min, max) = (LengthAboveZero::read(min), LengthAboveZero::read(max));
        let (min, max) = (min?.0, max?.0);
        if min > max {
            at.fault(format!("found [{min}, {max}], expected min not above max"));
            return None;
        }
        Some(LimitPair { min, max })
    }
}

impl JsonSchema for LimitPair {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "LimitPair".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let length = number_schema(&LengthAboveZero::LIMITS);
        json_schema!({ "type": "array", "items": length, "minItems": 2, "maxItems": 2 })
    }
}

/// A fit of ISO 286 that the trade's tables hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct FitName(pub(super) &'static str);

impl Choice for FitName {
    const ALL: &'static [Self] = &[
        FitName("H7"),
        FitName("H8"),
        FitName("H9"),
        FitName("H10"),
        FitName("H11"),
        FitName("H12"),
        FitName("H13"),
    ];

    fn word(self) -> &'static str {
        self.0
    }
}

impl Choice for Stage {
    const ALL: &'static [Self] = &Stage::ALL;

    fn word(self) -> &'static str {
        self.name()
    }
}

/// How the edge of a cut hole is left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum EdgeFinish {
    /// As the cut leaves it.
    AsCut,
    /// Reamed after cutting.
    Reamed,
}

impl Choice for EdgeFinish {
    const ALL: &'static [Self] = &[EdgeFinish::AsCut, EdgeFinish::Reamed];

    fn word(self) -> &'static str {
        match self {
            EdgeFinish::AsCut => "as-cut",
            EdgeFinish::Reamed => "reamed",
        }
    }
}

impl Choice for ScrewForm {
    const ALL: &'static [Self] = &[ScrewForm::Rolling, ScrewForm::Cutting, ScrewForm::Spaced];

    fn word(self) -> &'static str {
        self.name()
    }
}

impl Choice for Unit {
    const ALL: &'static [Self] = &[Unit::Mm, Unit::Inch];

    fn word(self) -> &'static str {
        self.name()
    }
}

impl Choice for Process {
    const ALL: &'static [Self] = &Process::ALL;

    fn word(self) -> &'static str {
        self.name()
    }
}

written! {
    /// A coating on the wall of a hole. The diameter shrinks by twice its thickness.
    pub(super) struct Coating {
        /// Thickness of the coating on the wall.
        "thickness" => thickness: required LengthAboveZero,
        /// Whether the stated diameter holds `before` or `after` coating; either may be meant where it is left out.
        "stated" => stated: optional Choose<Stage>,
    }
}
