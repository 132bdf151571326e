//! A shop's costs as people write them, in a file of their own or in a policy: at once the strict reading and the JSON
//! Schema. What they are used for is not known here.

use std::path::Path;

use crate::practice::{CostItems, Costs, Origin, Whose, Yearly, check_pattern};
use crate::reading::{
    AnyText, Bound, Fault, Format, NumberLimits, Object, PathText, Placed, Text, ThreadName, display_path,
    number, read_file, schema_document, written,
};

written! {
    /// A file of costs: what tapping a hole, driving a screw and proving a joint cost.
    pub(super) struct CostsFile {
        /// The schema that this file follows, for editors. Not used otherwise.
        "$schema" => schema: optional AnyText,
        /// Version of the format: 1.
        "format" => format: required Format,
        /// The costs.
        "costs" => costs: required Placed<CostTable>,
    }
}

written! {
    /// Costs of a shop, in its own money. What is not stated is not known; state 0 for what costs nothing.
    pub(super) struct CostTable {
        /// Name of the money, written behind every amount. Nothing is converted.
        "currency" => currency: required Text,
        /// What holds for every thread.
        "all" => all: optional Items,
        /// What holds for a thread instead, item by item.
        "threads" => threads: optional Vec<Placed<ThreadItems>>,
        /// How many parts are made in a year. Of those that fit a drawing the first holds.
        "parts" => parts: optional Vec<Placed<PartRow>>,
    }
    checked by check_table
}

written! {
    /// Costs by item, for one hole where nothing else is said.
    pub(super) struct Items {
        /// Time that tapping a hole takes (seconds), retraction and tool change included.
        "tapping_seconds" => tapping_seconds: optional Seconds,
        /// Machine and operator while tapping (money an hour).
        "tapping_rate" => tapping_rate: optional Money,
        /// Price of a tap.
        "tap_price" => tap_price: optional Money,
        /// Holes that a tap lasts for.
        "holes_per_tap" => holes_per_tap: optional Holes,
        /// Removing chips and coolant.
        "cleaning" => cleaning: optional Money,
        /// Gauging of the thread.
        "gauging" => gauging: optional Money,
        /// Scrap and broken taps.
        "scrap" => scrap: optional Money,
        /// What a thread-rolling screw costs more than the screw that it replaces; negative if it costs less.
        "screw_premium" => screw_premium: optional Premium,
        /// Time that driving it takes longer (seconds).
        "drive_seconds" => drive_seconds: optional Seconds,
        /// Operator and tool while driving (money an hour).
        "drive_rate" => drive_rate: optional Money,
        /// Proving one joint by test: one thread in one metal of one thickness.
        "proving" => proving: optional Money,
    }
}

written! {
    /// Costs of one thread.
    pub(super) struct ThreadItems {
        /// The thread, each once.
        "thread" => thread: required ThreadName,
        /// Its costs; the others are those of all threads.
        "items" => items: required Items,
    }
}

written! {
    /// How many parts of a drawing, or of a part number, are made in a year.
    pub(super) struct PartRow {
        /// Path or pattern of drawings, with `/` between folders, from any folder on: `sheet/**`.
        "drawing" => drawing: optional PathText,
        /// Part number, as hole lists state it.
        "part" => part: optional Text,
        /// Parts a year.
        "yearly" => yearly: required Parts,
    }
    checked by check_part
}

number! {
    /// An amount of money.
    pub(super) struct Money = NumberLimits {
        from: Bound::Including(0.0),
        to: Bound::Including(1e9),
        whole: false,
        expected: "an amount of money from 0 to 1000000000",
    };
}

number! {
    /// A difference of prices.
    pub(super) struct Premium = NumberLimits {
        from: Bound::Including(-1e6),
        to: Bound::Including(1e6),
        whole: false,
        expected: "a difference of prices from -1000000 to 1000000",
    };
}

number! {
    /// A time.
    pub(super) struct Seconds = NumberLimits {
        from: Bound::Including(0.0),
        to: Bound::Including(86_400.0),
        whole: false,
        expected: "a time from 0 to 86400 seconds",
    };
}

number! {
    /// A number of holes.
    pub(super) struct Holes = NumberLimits {
        from: Bound::Excluding(0.0),
        to: Bound::Including(1e9),
        whole: false,
        expected: "a number of holes above 0 and at most 1000000000",
    };
}

number! {
    /// Parts a year.
    pub(super) struct Parts = NumberLimits {
        from: Bound::Including(0.0),
        to: Bound::Including(1e12),
        whole: true,
        expected: "a whole number of parts from 0 to 1000000000000",
    };
}

fn check_table(table: &CostTable, object: &Object<'_>) {
    let rows = table.threads.iter().flatten();
    let named: Vec<_> = rows.filter_map(|row| Some((&row.value.thread.as_ref()?.0, &row.pointer))).collect();
    for (nth, (thread, pointer)) in named.iter().enumerate() {
        if named[..nth].iter().any(|(other, _)| other.name == thread.name) {
            object.fault_below(
                format!("{pointer}/thread"),
                format!("found \"{}\" again, expected each thread once", thread.name),
            );
        }
    }
}

fn check_part(row: &PartRow, object: &Object<'_>) {
    match (object.has("drawing"), object.has("part")) {
        (true, true) => object.fault("found drawing and part, expected one of them"),
        (false, false) => object.fault("found neither drawing nor part, expected one of them"),
        _ => {}
    }
    if let Some(pattern) = &row.drawing
        && let Err(reason) = check_pattern(&pattern.0)
    {
        object
            .fault_at("drawing", format!("found \"{}\", expected a path or a pattern: {reason}", pattern.0));
    }
}

/// Reads a file of costs.
///
/// # Errors
/// All its faults.
pub fn load_costs(path: &Path) -> Result<Costs, Vec<Fault>> {
    let file = display_path(path);
    let written: CostsFile = read_file(path)?;
    let costs = written.costs.as_ref().and_then(|placed| placed.value.costs(&file, &placed.pointer));
    costs.ok_or_else(|| vec![Fault::whole(&file, "could not be used as costs")])
}

/// The JSON Schema of a file of costs.
pub fn costs_schema() -> serde_json::Value {
    let mut schema = schema_document::<CostsFile>(
        "costs",
        "boreband costs",
        "What tapping a hole, driving a screw and proving a joint cost a shop, for `boreband convert`.",
    );
    close_part_rows(&mut schema);
    schema
}

/// Puts into a schema that a row states a drawing or a part and not both.
pub(super) fn close_part_rows(schema: &mut serde_json::Value) {
    if let Some(row) = schema.pointer_mut("/$defs/PartRow") {
        row["oneOf"] = serde_json::json!([{ "required": ["drawing"] }, { "required": ["part"] }]);
    }
}

impl CostTable {
    /// The costs that a file states here; none if the file had a fault here.
    pub(super) fn costs(&self, file: &str, pointer: &str) -> Option<Costs> {
        let at = |pointer: &str| Origin::File { file: file.to_owned(), pointer: pointer.to_owned() };
        let of_thread =
            |row: &ThreadItems| Some((row.thread.as_ref()?.0.clone(), row.items.as_ref()?.items()));
        let yearly = |row: &Placed<PartRow>| {
            let (drawing, part) = (row.value.drawing.as_ref(), row.value.part.as_ref());
            let whose = drawing.map(|d| Whose::Drawing(d.0.clone()));
            Some(Yearly {
                whose: whose.or_else(|| Some(Whose::Part(part?.0.trim().to_owned())))?,
                parts: row.value.yearly?.0,
                origin: at(&row.pointer),
            })
        };
        Some(Costs {
            currency: self.currency.as_ref()?.0.trim().to_owned(),
            items: self.all.as_ref().map(Items::items).unwrap_or_default(),
            by_thread: self.threads.iter().flatten().filter_map(|row| of_thread(&row.value)).collect(),
            yearly: self.parts.iter().flatten().filter_map(yearly).collect(),
            origin: at(pointer),
        })
    }
}

impl Items {
    fn items(&self) -> CostItems {
        CostItems {
            tapping_seconds: self.tapping_seconds.map(|v| v.0),
            tapping_rate: self.tapping_rate.map(|v| v.0),
            tap_price: self.tap_price.map(|v| v.0),
            holes_per_tap: self.holes_per_tap.map(|v| v.0),
            cleaning: self.cleaning.map(|v| v.0),
            gauging: self.gauging.map(|v| v.0),
            scrap: self.scrap.map(|v| v.0),
            screw_premium: self.screw_premium.map(|v| v.0),
            drive_seconds: self.drive_seconds.map(|v| v.0),
            drive_rate: self.drive_rate.map(|v| v.0),
            proving: self.proving.map(|v| v.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::Thread;

    fn read(text: &str) -> Result<Costs, Vec<String>> {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("costs.json");
        std::fs::write(&path, text).unwrap();
        load_costs(&path).map_err(|faults| faults.into_iter().map(|f| f.pointer).collect())
    }

    #[test]
    fn a_file_of_costs() {
        let costs = read(
            r#"{ "format": 1, "costs": { "currency": "EUR", "all": { "cleaning": 0.01, "screw_premium": -0.02 },
                 "threads": [{ "thread": "M4", "items": { "cleaning": 0 } }],
                 "parts": [{ "drawing": "lid*.dxf", "yearly": 20000 }, { "part": "GC-1", "yearly": 5 }] } }"#,
        )
        .unwrap();
        assert_eq!((costs.currency.as_str(), costs.items.screw_premium), ("EUR", Some(-0.02)));
        assert_eq!(costs.of(&Thread::parse("M4").unwrap()).cleaning, Some(0.0));
        assert_eq!(costs.of(&Thread::parse("M5").unwrap()).cleaning, Some(0.01));
        assert_eq!(costs.yearly_of("a/lid-2.dxf", None).map(|(_, row)| row.parts), Some(20_000.0));
        assert_eq!(costs.yearly_of("b.dxf", Some("GC-1")).map(|(nth, _)| nth), Some(1));
    }

    #[test]
    fn all_faults_are_told_at_once_each_with_its_place() {
        let faults = read(
            r#"{ "format": 1, "costs": { "currency": " ", "all": { "cleaning": -1, "tapping_second": 3,
                 "holes_per_tap": 0 }, "threads": [{ "thread": "M4", "items": {} }, { "thread": "M4x0.7", "items": {} }],
                 "parts": [{ "yearly": 1.5, "part": "A", "drawing": "b" }, { "yearly": 1 }, { "drawing": "a/[b", "yearly": 1 }] } }"#,
        )
        .unwrap_err();
        let mut faults: Vec<&str> = faults.iter().map(String::as_str).collect();
        faults.sort_unstable();
        assert_eq!(
            faults,
            [
                "/costs/all/cleaning",
                "/costs/all/holes_per_tap",
                "/costs/all/tapping_second",
                "/costs/currency",
                "/costs/parts/0",
                "/costs/parts/0/yearly",
                "/costs/parts/1",
                "/costs/parts/2/drawing",
                "/costs/threads/1/thread",
            ]
        );
    }
}
