//! A file of waivers as people write it: at once the strict reading and the JSON Schema.

use std::borrow::Cow;

use jiff::civil::Date;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::Waiver;
use crate::reading::{
    AnyText, At, Bound, Format, LengthAboveZero, NumberLimits, Object, PathText, Placed, Text, Tree, Written,
    number, written,
};

written! {
    /// Findings that were looked at and accepted. They stay in every report, marked, and no longer count.
    pub(super) struct WaiverFile {
        /// The schema that this file follows, for editors. Not used otherwise.
        "$schema" => schema: optional AnyText,
        /// Version of the format: 1.
        "format" => format: required Format,
        /// The waivers.
        "waivers" => waivers: required Vec<Placed<WaiverRow>>,
    }
}

written! {
    /// A finding that was accepted: of a hole, named by its place and size, or of a whole drawing, named by what it says.
    pub(super) struct WaiverRow {
        /// The rule.
        "rule" => rule: required Text,
        /// Path of the drawing, relative to this file, `/` on every system.
        "drawing" => drawing: required PathText,
        /// The hole's tag, if it has one.
        "tag" => tag: optional Text,
        /// The hole's abscissa in the drawing's own coordinates. Hundredths count.
        "x" => x: optional Coordinate,
        /// The hole's ordinate.
        "y" => y: optional Coordinate,
        /// The hole's nominal diameter (mm). A hole of another size is not covered.
        "diameter_mm" => diameter: optional LengthAboveZero,
        /// The hole's smallest diameter (mm).
        "min_mm" => min: optional LengthAboveZero,
        /// The hole's largest diameter (mm).
        "max_mm" => max: optional LengthAboveZero,
        /// For a finding of the whole drawing: what it says.
        "message" => message: optional AnyText,
        /// Why it is accepted.
        "reason" => reason: required Text,
        /// Who accepted it.
        "who" => who: required Text,
        /// Last day on which it counts, as `2027-01-31`. Without one it does not end.
        "expires" => expires: optional Day,
    }
    checked by check_row
}

/// A hole needs a place and all three sizes; a drawing a message.
fn check_row(row: &WaiverRow, object: &Object<'_>) {
    let sizes = [row.diameter.is_some(), row.min.is_some(), row.max.is_some()];
    let place = [row.x.is_some(), row.y.is_some()];
    let of_hole = place == [true; 2] && sizes == [true; 3] && row.message.is_none();
    let of_drawing = place == [false; 2] && sizes == [false; 3] && row.message.is_some() && row.tag.is_none();
    if !of_hole && !of_drawing {
        object.fault(
            "expected either x, y, diameter_mm, min_mm and max_mm, for a hole, or message, for a whole drawing",
        );
    }
}

/// Only the caller knows which rules there are, so the type of a waiver cannot tell.
pub(super) fn refuse_unknown_rules(root: &At<'_>, rules: &[&str]) {
    let members = |at: &At<'_>, wanted: &str, look: &mut dyn FnMut(&At<'_>)| {
        // Other values than objects and arrays the types have told of already.
        if matches!(at.tree(), Tree::Object(_)) {
            let all = at.members("an object").unwrap_or_default();
            all.iter().filter(|(key, _)| *key == wanted).for_each(|(_, at)| look(at));
        }
    };
    members(root, "waivers", &mut |waivers| {
        if !matches!(waivers.tree(), Tree::Array(_)) {
            return;
        }
        for row in waivers.items("an array").unwrap_or_default() {
            members(&row, "rule", &mut |rule| {
                if let Tree::Text(name) = rule.tree()
                    && !rules.contains(&name.as_str())
                {
                    rule.fault(format!("found \"{name}\", expected the name of a rule that can be waived"));
                }
            });
        }
    });
}

impl WaiverRow {
    /// The waiver; none of a row with faults.
    pub(super) fn waiver(&self, pointer: &str) -> Option<Waiver> {
        let sizes = [&self.diameter, &self.min, &self.max];
        let mm = |length: &Option<LengthAboveZero>| length.as_ref().map_or(0.0, |length| length.0);
        Some(Waiver {
            rule: self.rule.as_ref()?.0.clone(),
            drawing: self.drawing.as_ref()?.0.clone(),
            hole: self.x.zip(self.y).map(|(x, y)| super::HolePlace {
                tag: self.tag.as_ref().map(|tag| tag.0.clone()),
                at: [x.0, y.0],
                size_mm: sizes.map(mm),
            }),
            message: self.message.as_ref().map(|text| text.0.clone()),
            reason: self.reason.as_ref()?.0.clone(),
            who: self.who.as_ref()?.0.clone(),
            expires: self.expires.map(|day| day.0),
            pointer: pointer.to_owned(),
        })
    }
}

number! {
    /// A coordinate, in the drawing's own units.
    pub(super) struct Coordinate = NumberLimits {
        from: Bound::Including(-1e15),
        to: Bound::Including(1e15),
        whole: false,
        expected: "a number",
    };
}

/// A day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Day(pub(super) Date);

impl Written for Day {
    fn expected() -> String {
        "a day such as 2027-01-31".to_owned()
    }

    fn read(at: &At<'_>) -> Option<Self> {
        let Tree::Text(text) = at.tree() else { return at.unexpected(&Self::expected()) };
        let day = super::day(text).map(Day);
        day.or_else(|| at.unexpected(&Self::expected()))
    }
}

impl JsonSchema for Day {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Day".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "format": "date" })
    }
}
