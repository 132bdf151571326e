//! A trial record as people write it. Each structure here is at once the strict reading and the JSON Schema.

use crate::joint::ScrewForm;
use crate::reading::{
    AnyText, Bound, Brinell, Choice, Choose, Format, LengthAboveZero, MaterialName, NumberLimits, Object,
    PathText, Placed, Text, ThreadName, number, written,
};
use crate::trade::Process;
use crate::units::{TorqueUnit, Unit};

use super::Mode;

written! {
    /// A trial record: what a joint test measured, for one screw in one metal.
    pub(super) struct Record {
        /// The schema that this file follows, for editors. Not used otherwise.
        "$schema" => schema: optional AnyText,
        /// Version of the format: 1.
        "format" => format: required Format,
        /// The unit of every length in the file, `mm` or `in`.
        "unit" => unit: required Choose<Unit>,
        /// The unit of every torque in the file, and of traces that name none: `Nm` or `lbf-in`.
        "torque_unit" => torque_unit: required Choose<TorqueUnit>,
        /// Name or number of the test.
        "test" => test: optional Text,
        /// Part number.
        "part" => part: optional Text,
        /// Free text.
        "note" => note: optional AnyText,
        /// The joint that was tested.
        "joint" => joint: required Joint,
        /// What the assembly tool is set to, if that is known.
        "tool" => tool: optional Tool,
        /// The runs, one for each screw driven to failure. Two at least.
        "runs" => runs: required Vec<Placed<RunRow>>,
    }
    checked by check_record
}

written! {
    /// The joint that was tested.
    pub(super) struct Joint {
        /// The screw.
        "screw" => screw: required TestedScrew,
        /// Material: a name, or a common drawing name such as `DC01` or `A380`.
        "material" => material: required MaterialName,
        /// Nominal thickness of the metal.
        "thickness" => thickness: required LengthAboveZero,
        /// Measured Brinell hardness of the metal.
        "hardness_hb" => hardness_hb: optional Brinell,
        /// How the holes were made.
        "process" => process: optional Choose<Process>,
        /// Finish of the screw and, where there is one, of the hole: `zinc 8 µm, clear`. `none` for bare ones.
        "finish" => finish: optional Text,
        /// Wax or other lubricant on the screw: `wax`, `none`.
        "lubricant" => lubricant: optional Text,
        /// Speed of the driver (turns a minute).
        "driver_rpm" => driver_rpm: optional Speed,
    }
}

written! {
    /// The screw that was driven.
    pub(super) struct TestedScrew {
        /// Thread: `M4`, `M4x0.7`, `1/4-20`, `#8-32`.
        "thread" => thread: required ThreadName,
        /// Length under the head.
        "length" => length: optional LengthAboveZero,
        /// How it makes its thread: `rolling` (the default), `cutting`, or `spaced` for a spaced thread.
        "form" => form: optional Choose<ScrewForm>,
    }
}

written! {
    /// What the assembly tool is set to.
    pub(super) struct Tool {
        /// Torque at which it stops.
        "torque" => torque: required TorqueAboveZero,
        /// How far off it may stop, as a magnitude. 0 if not stated.
        "plus_minus" => plus_minus: optional TorqueFromZero,
    }
}

written! {
    /// One screw driven to failure. It states `drive` and `failure`, or names a `trace` that they are found from.
    pub(super) struct RunRow {
        /// Name or number of the run.
        "run" => run: optional Text,
        /// Measured diameter of the hole.
        "hole" => hole: optional LengthAboveZero,
        /// Measured thickness of the metal, if it is not the joint's.
        "thickness" => thickness: optional LengthAboveZero,
        /// Greatest torque while the thread was formed, before the head was seated.
        "drive" => drive: optional TorqueAboveZero,
        /// Torque at which the joint failed.
        "failure" => failure: optional TorqueAboveZero,
        /// Path of a CSV file relative to this one, with the columns angle and torque of this run.
        "trace" => trace: optional PathText,
        /// What failed: `strip` (the formed thread), `screw-break`, or `head` (recess or head).
        "mode" => mode: optional Choose<Mode>,
    }
    checked by check_run
}

number! {
    /// A torque that cannot be nothing, in the file's unit of torque.
    pub(super) struct TorqueAboveZero = NumberLimits {
        from: Bound::Excluding(0.0),
        to: Bound::Including(100_000.0),
        whole: false,
        expected: "a torque above 0 and at most 100000 in the file's unit of torque",
    };
}

number! {
    /// A torque that may be nothing, in the file's unit of torque.
    pub(super) struct TorqueFromZero = NumberLimits {
        from: Bound::Including(0.0),
        to: Bound::Including(100_000.0),
        whole: false,
        expected: "a torque of 0 or more and at most 100000 in the file's unit of torque",
    };
}

number! {
    /// Turns a minute.
    pub(super) struct Speed = NumberLimits {
        from: Bound::Excluding(0.0),
        to: Bound::Including(20_000.0),
        whole: false,
        expected: "a speed above 0 and at most 20000 turns a minute",
    };
}

impl Choice for TorqueUnit {
    const ALL: &'static [Self] = &[TorqueUnit::NewtonMetre, TorqueUnit::PoundInch];

    fn word(self) -> &'static str {
        match self {
            TorqueUnit::NewtonMetre => "Nm",
            TorqueUnit::PoundInch => "lbf-in",
        }
    }
}

impl Choice for Mode {
    const ALL: &'static [Self] = &Mode::ALL;

    fn word(self) -> &'static str {
        self.name()
    }
}

/// Fewer runs than this have no spread.
const LEAST_RUNS: usize = 2;

fn check_record(record: &Record, object: &Object<'_>) {
    if let Some(runs) = record.runs.as_ref().filter(|runs| runs.len() < LEAST_RUNS) {
        let found = runs.len();
        object.fault_at(
            "runs",
            format!("found {found}, expected {LEAST_RUNS} runs at least, for fewer have no spread"),
        );
    }
}

fn check_run(run: &RunRow, object: &Object<'_>) {
    let stated = object.has("drive") || object.has("failure");
    if object.has("trace") && stated {
        object.fault("found a trace beside torques, expected drive and failure, or a trace");
    } else if !object.has("trace") {
        for key in ["drive", "failure"].iter().filter(|key| !object.has(key)) {
            object.fault_at(key, "missing, expected the torque of a run that names no trace");
        }
    }
    if let (Some(drive), Some(failure)) = (run.drive, run.failure)
        && failure.0 < drive.0
    {
        object.fault_at(
            "failure",
            format!("found {}, expected no less than the drive torque {}", failure.0, drive.0),
        );
    }
}

/// Puts into the schema what can be said there of a record as a whole.
pub(super) fn add_to_schema(schema: &mut serde_json::Value) {
    if let Some(runs) = schema.pointer_mut("/properties/runs") {
        runs["minItems"] = LEAST_RUNS.into();
    }
    if let Some(run) = schema.pointer_mut("/$defs/RunRow") {
        run["oneOf"] = serde_json::json!([
            { "required": ["trace"], "properties": { "drive": false, "failure": false } },
            { "required": ["drive", "failure"], "properties": { "trace": false } }
        ]);
    }
}
