//! A policy as people write it: at once the strict reading and the JSON Schema.

use super::costs::CostTable;
use super::values::{GroundAnswers, LimitValues, Sizes, WordMeanings};
use crate::finding::Level;
use crate::practice::{BandRow, CapabilityRow, GuideHoles, Origin, RequiredTrial, check_pattern};
use crate::reading::{
    AnyText, Bound, Choice, Choose, Format, LengthAboveZero, Map, MaterialName, NumberLimits, Object,
    PathText, Percent, Placed, ThreadName, check_band_edges, number, written,
};
use crate::trade::Process;
use crate::units::{Length, Unit};

written! {
    /// A policy: what a shop decides for its drawings.
    pub(super) struct PolicyFile {
        /// The schema that this file follows, for editors. Not used otherwise.
        "$schema" => schema: optional AnyText,
        /// Version of the format: 1.
        "format" => format: required Format,
        /// The level of rules by their name, instead of their own: `fail`, `warn`, `note`, or `off`.
        "levels" => levels: optional Map<Choose<RuleLevel>>,
        /// Bands of engagement, over the trade's. Of those that fit a joint the first holds.
        "bands" => bands: optional Vec<Placed<BandEntry>>,
        /// Drills that the shop keeps; the hole to call out is one of these. Every drill of the tables if not stated.
        "drills" => drills: optional Placed<Sizes>,
        /// Punches that the shop keeps; the hole to call out for a punched hole is one of these. Steps of 0.05 mm or
        /// .001 in if not stated.
        "punches" => punches: optional Placed<Sizes>,
        /// The numbers that rules compare with, by name.
        "limits" => limits: optional LimitValues,
        /// Words of one's own in callouts and notes, each with the name of its meaning.
        "words" => words: optional WordMeanings,
        /// Whether a guide hole of DIN 7500-2 with its H11 is accepted with a note (`accept`, which it is if not
        /// stated) or judged by the band as any other hole (`judge`).
        "guide_holes" => guide_holes: optional Placed<Choose<GuideHoles>>,
        /// How the holes of a process come out, where a hole list states no measured diameters.
        "capability" => capability: optional Vec<Placed<CapabilityEntry>>,
        /// The holes that a trial record is asked for.
        "trials" => trials: optional Vec<Placed<RequiredRow>>,
        /// What follows from each ground for or against a rolling screw in a tapped hole, by its name: `candidate`,
        /// `doubtful` or `no`.
        "conversion" => conversion: optional GroundAnswers,
        /// What tapping a hole, driving a screw and proving a joint cost, as in a file of costs.
        "costs" => costs: optional Placed<CostTable>,
    }
    checked by check_policy
}

written! {
    /// A band of engagement, percent on the rolled basis, for the joints that all of its conditions fit. A condition that is
    /// not stated fits all.
    pub(super) struct BandEntry {
        /// Material, by a name or a common drawing name.
        "material" => material: optional MaterialName,
        /// Thread.
        "thread" => thread: optional ThreadName,
        /// How the hole is made.
        "process" => process: optional Choose<Process>,
        /// Thickness over diameter is more than this.
        "over" => over: optional Ratio,
        /// Thickness over diameter is no more than this, above `over`.
        "to" => to: optional Ratio,
        /// Least engagement allowed (percent).
        "min" => min: required Percent,
        /// Greatest engagement allowed (percent), above `min`.
        "max" => max: required Percent,
        /// Engagement to aim at (percent), from `min` to `max`. The middle if not stated.
        "target" => target: optional Percent,
    }
    checked by check_band_entry
}

written! {
    /// How the holes of a process come out.
    pub(super) struct CapabilityEntry {
        /// The process, each once.
        "process" => process: required Choose<Process>,
        /// The unit of both lengths.
        "unit" => unit: required Choose<Unit>,
        /// How far the mean diameter is over the nominal; negative if under. 0 if not stated.
        "offset" => offset: optional Offset,
        /// Standard deviation of the diameters.
        "sd" => sd: required LengthAboveZero,
    }
}

number! {
    /// Thickness over diameter.
    pub(super) struct Ratio = NumberLimits {
        from: Bound::Excluding(0.0),
        to: Bound::Including(20.0),
        whole: false,
        expected: "a thickness over diameter above 0 and at most 20",
    };
}

number! {
    /// A difference of diameters.
    pub(super) struct Offset = NumberLimits {
        from: Bound::Including(-10.0),
        to: Bound::Including(10.0),
        whole: false,
        expected: "a difference from -10 to 10 in the unit beside it",
    };
}

fn check_band_entry(entry: &BandEntry, object: &Object<'_>) {
    if let (Some(Ratio(over)), Some(Ratio(to))) = (entry.over, entry.to)
        && over >= to
    {
        object.fault_at("to", format!("found to {to} beside over {over}, expected to above over"));
    }
    check_band_edges(entry.min, entry.max, entry.target, object);
}

/// What no part of a policy can tell by itself.
fn check_policy(policy: &PolicyFile, object: &Object<'_>) {
    let rows = policy.capability.iter().flatten();
    let processes = rows.filter_map(|row| Some((row.value.process?.0, &row.pointer)));
    let mut seen: Vec<Process> = Vec::new();
    for (process, pointer) in processes {
        if seen.contains(&process) {
            object.fault_below(
                format!("{pointer}/process"),
                format!("found \"{}\" again, expected each process once", process.name()),
            );
        }
        seen.push(process);
    }
}

impl BandEntry {
    /// The row that a file sets here; none if the file had a fault here.
    pub(super) fn row(&self, origin: Origin) -> Option<BandRow> {
        let (min, max) = (self.min?.0, self.max?.0);
        Some(BandRow {
            material: self.material.map(|m| m.0),
            thread: self.thread.as_ref().map(|t| t.0.clone()),
            process: self.process.map(|p| p.0),
            over: self.over.map(|r| r.0),
            to: self.to.map(|r| r.0),
            min,
            target: self.target.map_or(f64::midpoint(min, max), |t| t.0),
            max,
            origin,
        })
    }
}

impl CapabilityEntry {
    /// What a file says of a process here; none if the file had a fault here.
    pub(super) fn row(&self, origin: Origin) -> Option<CapabilityRow> {
        let unit = self.unit?.0;
        let offset = Length::new(self.offset.map_or(0.0, |o| o.0), unit).ok()?;
        let sd = Length::new(self.sd?.0, unit).ok()?;
        Some(CapabilityRow { process: self.process?.0, offset, sd, origin })
    }
}

impl Choice for GuideHoles {
    const ALL: &'static [Self] = &[GuideHoles::Accept, GuideHoles::Judge];

    fn word(self) -> &'static str {
        match self {
            GuideHoles::Accept => "accept",
            GuideHoles::Judge => "judge",
        }
    }
}

written! {
    /// Holes that a trial record is asked for: those of all that is named here; of every drawing, material and thread where
    /// nothing is.
    pub(super) struct RequiredRow {
        /// Path or pattern of drawings, with `/` between folders, from any folder on: `castings/**`.
        "drawing" => drawing: optional PathText,
        /// Materials, by a name or a common drawing name.
        "materials" => materials: optional Vec<MaterialName>,
        /// Threads, such as `M4` or `1/4-20`.
        "threads" => threads: optional Vec<ThreadName>,
    }
    checked by check_required
}

fn check_required(row: &RequiredRow, object: &Object<'_>) {
    if let Some(pattern) = &row.drawing
        && let Err(reason) = check_pattern(&pattern.0)
    {
        object
            .fault_at("drawing", format!("found \"{}\", expected a path or a pattern: {reason}", pattern.0));
    }
}

impl RequiredRow {
    /// The demand that a file makes here.
    pub(super) fn required(&self, file: &str, pointer: &str) -> RequiredTrial {
        RequiredTrial {
            drawing: self.drawing.as_ref().map(|pattern| pattern.0.clone()),
            materials: self.materials.iter().flatten().map(|m| m.0).collect(),
            threads: self.threads.iter().flatten().map(|t| t.0.clone()).collect(),
            origin: Origin::File { file: file.to_owned(), pointer: pointer.to_owned() },
        }
    }
}

/// What a policy makes of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RuleLevel {
    /// Findings of this level.
    At(Level),
    /// No findings.
    Off,
}

impl RuleLevel {
    /// The level; none if the rule is off.
    pub(super) fn level(self) -> Option<Level> {
        match self {
            RuleLevel::At(level) => Some(level),
            RuleLevel::Off => None,
        }
    }
}

impl Choice for RuleLevel {
    const ALL: &'static [Self] =
        &[RuleLevel::At(Level::Fail), RuleLevel::At(Level::Warn), RuleLevel::At(Level::Note), RuleLevel::Off];

    fn word(self) -> &'static str {
        match self {
            RuleLevel::At(level) => level.name(),
            RuleLevel::Off => "off",
        }
    }
}
