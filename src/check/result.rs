//! The result of a drawing and of a run, as it is reported: plain data in the shape of the JSON report.
//!
//! Lengths are in mm and rounded to 1e-6, engagement in percent and rounded to 0.01, both when the value is built.

use schemars::JsonSchema;
use serde::Serialize;

/// A run, reported.
#[derive(Debug, Clone, PartialEq, Default, Serialize, JsonSchema)]
pub struct Report {
    /// Version of this format: 1.
    pub format: u32,
    /// The program.
    pub tool: Tool,
    /// Sums over all drawings.
    pub totals: Totals,
    /// One result a drawing, sorted by path.
    pub drawings: Vec<DrawingResult>,
}

/// The program that made a report.
#[derive(Debug, Clone, PartialEq, Default, Serialize, JsonSchema)]
pub struct Tool {
    /// `boreband`.
    pub name: String,
    /// Its version.
    pub version: String,
}

/// Sums over all drawings. Waived findings count only in `waived`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, JsonSchema)]
pub struct Totals {
    /// Drawings.
    pub drawings: u64,
    /// Of these, not readable.
    pub unreadable: u64,
    /// Of these, read with losses.
    pub partly_read: u64,
    /// Holes.
    pub holes: u64,
    /// Of these, for a self-forming screw.
    pub screw_holes: u64,
    /// Verdicts in-band.
    pub in_band: u64,
    /// Verdicts straddles.
    pub straddles: u64,
    /// Verdicts tight.
    pub tight: u64,
    /// Verdicts loose.
    pub loose: u64,
    /// Verdicts undetermined.
    pub undetermined: u64,
    /// Findings of level fail.
    pub fail: u64,
    /// Findings of level warn.
    pub warn: u64,
    /// Findings of level note.
    pub note: u64,
    /// Findings waived.
    pub waived: u64,
}

/// One drawing, reported.
#[derive(Debug, Clone, PartialEq, Default, Serialize, JsonSchema)]
pub struct DrawingResult {
    /// As given on the command line or found under it, with `/`.
    pub path: String,
    /// `blake3:` and the hexadecimal digest of the file's bytes; empty if it could not be opened.
    pub digest: String,
    /// `read`, `partly-read` or `unreadable`.
    pub state: String,
    /// What was wrong with the file.
    pub problems: Vec<ProblemResult>,
    /// `mm` or `in`.
    pub unit: String,
    /// `header`, `list`, `callouts`, `option` or `assumed`.
    pub unit_source: String,
    /// Part number, from the hole list.
    pub part: Option<String>,
    /// Material of the sheet.
    pub material: Option<String>,
    /// Thickness of the sheet (mm).
    pub thickness_mm: Option<f64>,
    /// `list`, `callout`, `title-block`, `note`, `option` or `none`.
    pub thickness_source: String,
    /// Every hole, in drawing order of its view.
    pub holes: Vec<HoleResult>,
    /// What was found, by place and rule.
    pub findings: Vec<FindingResult>,
}

/// A problem of a file, reported.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ProblemResult {
    /// 1-based line, 0 in a binary file.
    pub line: u64,
    /// Byte offset.
    pub offset: u64,
    /// What was found and expected.
    pub message: String,
    /// Whether anything was lost by it.
    pub loss: bool,
}

/// A callout, named.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CalloutResult {
    /// Decoded text.
    pub text: String,
    /// Handle of the entity that carries it.
    pub handle: Option<String>,
}

/// A screw, reported.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ScrewResult {
    /// Designation.
    pub thread: String,
    /// Basic major diameter (mm).
    pub major_mm: f64,
    /// Pitch (mm).
    pub pitch_mm: f64,
    /// `rolling`, `cutting` or `spaced`.
    pub form: String,
}

/// A size with its limits, reported.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DiameterResult {
    /// Nominal (mm).
    pub nominal_mm: f64,
    /// Smallest (mm).
    pub min_mm: f64,
    /// Largest (mm).
    pub max_mm: f64,
    /// `callout`, `list` or `drawn`.
    pub source: String,
    /// `callout`, `list`, `drawing`, `process` or `none`.
    pub tolerance_source: String,
}

/// Engagement, reported (percent).
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EngagementResult {
    /// `rolled`.
    pub basis: String,
    /// At the nominal.
    pub nominal: f64,
    /// At the smallest hole.
    pub at_min: f64,
    /// At the largest hole.
    pub at_max: f64,
}

/// A band, reported (percent, rolled).
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BandResult {
    /// Least.
    pub min: f64,
    /// Target.
    pub target: f64,
    /// Greatest.
    pub max: f64,
    /// Smallest hole allowed (mm).
    pub hole_min_mm: f64,
    /// Largest hole allowed (mm).
    pub hole_max_mm: f64,
    /// Where the band comes from.
    pub source: String,
    /// `published`, `common_practice`, `memory` or `user`.
    pub status: String,
}

/// Advice, reported.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct AdviceResult {
    /// The diameter to call out (mm).
    pub diameter_mm: f64,
    /// A stocked drill of that size.
    pub drill: Option<String>,
    /// The callout to write.
    pub callout: String,
}

/// A hole, reported.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct HoleResult {
    /// `H1` …
    pub id: String,
    /// Abscissa, drawing units.
    pub x: f64,
    /// Ordinate, drawing units.
    pub y: f64,
    /// `model` or the layout's name.
    pub space: String,
    /// As drawn, before the view's scale (mm).
    pub drawn_diameter_mm: f64,
    /// Drawn over true size.
    pub view_scale: f64,
    /// Layer of the circle.
    pub layer: String,
    /// Handle of the circle.
    pub handle: Option<String>,
    /// Tag.
    pub tag: Option<String>,
    /// Callout.
    pub callout: Option<CalloutResult>,
    /// Strongest evidence of the pairing.
    pub paired_by: String,
    /// How sure, 0 to 1.
    pub confidence: f64,
    /// The screw; null for a hole that is no screw hole, as are the fields below that rest on it.
    pub screw: Option<ScrewResult>,
    /// Material.
    pub material: Option<String>,
    /// Thickness of the metal (mm).
    pub thickness_mm: Option<f64>,
    /// Where the thickness was taken from: `list`, `callout`, `title-block`, `note`, `option` or `none`.
    pub thickness_source: String,
    /// How it is made.
    pub process: Option<String>,
    /// Size and limits.
    pub diameter: DiameterResult,
    /// Engagement.
    pub engagement: Option<EngagementResult>,
    /// Band.
    pub band: Option<BandResult>,
    /// `in-band`, `straddles`, `tight`, `loose` or `undetermined`.
    pub verdict: Option<String>,
    /// What to call out.
    pub advice: Option<AdviceResult>,
}

/// A finding, reported.
#[derive(Debug, Clone, PartialEq, Default, Serialize, JsonSchema)]
pub struct FindingResult {
    /// The rule.
    pub rule: String,
    /// `fail`, `warn` or `note`.
    pub level: String,
    /// The hole; null for a finding of the whole drawing.
    pub hole: Option<String>,
    /// Abscissa, drawing units.
    pub x: Option<f64>,
    /// Ordinate, drawing units.
    pub y: Option<f64>,
    /// Handle of the entity.
    pub handle: Option<String>,
    /// Layer of the entity.
    pub layer: Option<String>,
    /// 1-based line in a text DXF file; null where there is none.
    pub line: Option<u64>,
    /// One sentence with the numbers.
    pub message: String,
    /// What to write or do instead.
    pub remedy: Option<String>,
    /// Why it no longer counts; null if it counts.
    pub waived: Option<String>,
}
