//! The result of a drawing and of a run, as it is reported: plain data in the shape of the JSON report.
//!
//! Lengths are in mm and rounded to 1e-6, engagement in percent and rounded to 0.01, both when the value is built.
//! What the holes of a pattern have in common is shared by their results, since there are many of them.

use std::ops::{Deref, DerefMut};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::shared::{Shared, SharedText};

/// A run, reported.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
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
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Tool {
    /// `boreband`.
    pub name: String,
    /// Its version.
    pub version: String,
}

/// Sums over all drawings. Waived findings count only in `waived`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
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
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
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
    /// The year in which the drawing says it was last saved, for a picture of a whole library. No part of the JSON
    /// report.
    #[serde(skip)]
    pub saved_in: Option<i16>,
    /// What it looks like, where that was asked for and something was found. No part of the JSON report.
    #[serde(skip)]
    pub picture: Option<Box<super::Picture>>,
    /// Which tapped holes could take a rolling screw, where that was asked for. No part of the JSON report.
    #[serde(skip)]
    pub conversion: Option<Box<crate::conversion::Conversion>>,
}

/// A problem of a file, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CalloutResult {
    /// Decoded text.
    pub text: SharedText,
    /// Handle of the entity that carries it.
    pub handle: Option<SharedText>,
}

/// A screw, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ScrewResult {
    /// Designation.
    pub thread: SharedText,
    /// Basic major diameter (mm).
    pub major_mm: f64,
    /// Pitch (mm).
    pub pitch_mm: f64,
    /// `rolling`, `cutting` or `spaced`.
    pub form: SharedText,
}

/// A size with its limits, reported.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct DiameterResult {
    /// Nominal (mm).
    pub nominal_mm: f64,
    /// Smallest (mm).
    pub min_mm: f64,
    /// Largest (mm).
    pub max_mm: f64,
    /// `callout`, `list` or `drawn`.
    pub source: SharedText,
    /// `callout`, `list`, `drawing`, `process` or `none`.
    pub tolerance_source: SharedText,
}

/// Engagement, reported (percent).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EngagementResult {
    /// `rolled`.
    pub basis: SharedText,
    /// At the nominal.
    pub nominal: f64,
    /// At the smallest hole.
    pub at_min: f64,
    /// At the largest hole.
    pub at_max: f64,
}

/// A band, reported (percent, rolled).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
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
    pub source: SharedText,
    /// `published`, `common_practice`, `memory` or `user`.
    pub status: SharedText,
}

/// Advice, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AdviceResult {
    /// The diameter to call out (mm).
    pub diameter_mm: f64,
    /// A stocked drill of that size.
    pub drill: Option<SharedText>,
    /// The callout to write.
    pub callout: SharedText,
}

/// A hole, reported.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct HoleResult {
    /// `H1` …
    pub id: SharedText,
    /// Abscissa, drawing units.
    pub x: f64,
    /// Ordinate, drawing units.
    pub y: f64,
    /// `model` or the layout's name.
    pub space: SharedText,
    /// As drawn, before the view's scale (mm).
    pub drawn_diameter_mm: f64,
    /// Drawn over true size.
    pub view_scale: f64,
    /// Layer of the circle.
    pub layer: SharedText,
    /// Handle of the circle.
    pub handle: Option<SharedText>,
    /// Tag.
    pub tag: Option<String>,
    /// Callout.
    pub callout: Option<CalloutResult>,
    /// Strongest evidence of the pairing.
    pub paired_by: SharedText,
    /// How sure, 0 to 1.
    pub confidence: f64,
    /// What is for it. A hole dereferences to it.
    #[serde(flatten)]
    pub joint: Shared<JointResult>,
    /// Rules on what stands round a screw hole that could not be judged here, and why.
    pub not_judged: Vec<NotJudgedResult>,
}

/// What a hole is for, how it is made and judged, reported as part of it. Holes that are alike share one.
// What few holes have stands apart, so that the many others are small.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct JointResult {
    /// The screw; null for a hole that is no screw hole, as are the fields below that rest on it.
    pub screw: Option<ScrewResult>,
    /// Material.
    pub material: Option<SharedText>,
    /// Thickness of the metal (mm).
    pub thickness_mm: Option<f64>,
    /// Where the thickness was taken from: `list`, `callout`, `title-block`, `note`, `option` or `none`.
    pub thickness_source: SharedText,
    /// How it is made.
    pub process: Option<SharedText>,
    /// Size and limits.
    pub diameter: DiameterResult,
    /// Engagement; that of the coated hole where a coating is stated, and over both holes where it is not said whether
    /// the size is before coating.
    pub engagement: Option<EngagementResult>,
    /// Band.
    pub band: Option<BandResult>,
    /// `in-band`, `straddles`, `tight`, `loose` or `undetermined`.
    pub verdict: Option<SharedText>,
    /// What must be found out to decide an undetermined verdict, and which values decide it, in words.
    pub undecided: Vec<SharedText>,
    /// What to call out.
    pub advice: Option<AdviceResult>,
    /// The standard's guide holes for this screw, metal and length; shown beside the advice.
    pub guide_holes: Vec<GuideHoleResult>,
    /// The one that this hole is with its fit, where the policy accepts guide holes: that it leaves its band is then told
    /// in a note only.
    pub accepted_guide_hole: Option<Box<GuideHoleResult>>,
    /// The hole before and after coating, where one is stated.
    pub coating: Option<Box<CoatingResult>>,
    /// Metal, screw length and full thread, for a screw hole.
    pub lengths: Option<Box<LengthsResult>>,
    /// A hole with draft along its depth.
    pub along: Option<Box<AlongResult>>,
    /// The collar of an extruded hole, by volume balance.
    pub collar: Option<Box<CollarResult>>,
    /// Expected share of holes outside the band; beside the verdict, never part of it.
    pub capability: Option<Box<CapabilityResult>>,
}

impl Deref for HoleResult {
    type Target = JointResult;

    fn deref(&self) -> &JointResult {
        &self.joint
    }
}

impl DerefMut for HoleResult {
    fn deref_mut(&mut self) -> &mut JointResult {
        &mut self.joint
    }
}

/// A guide hole of the standard, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GuideHoleResult {
    /// The standard.
    pub source: SharedText,
    /// How well that is founded: `published`, `common_practice` or `memory`.
    pub status: SharedText,
    /// Column: `St`, `Al` or `Cu`.
    pub metal: SharedText,
    /// Guide hole (mm).
    pub diameter_mm: f64,
    /// Its fit.
    pub fit: SharedText,
    /// Rolled engagement at the guide hole (percent).
    pub engagement: f64,
    /// The same at the largest hole of the fit (percent).
    pub engagement_at_max: Option<f64>,
    /// Why the printed value is doubted, if it is.
    pub suspect: Option<SharedText>,
}

/// A rule that could not be judged at a hole, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NotJudgedResult {
    /// The rule.
    pub rule: SharedText,
    /// Why.
    pub reason: SharedText,
}

/// A coated hole, reported. The verdict is that of the hole after coating; where it is not said when the stated size
/// holds, the one that holds for both.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CoatingResult {
    /// Thickness on the wall (mm).
    pub thickness_mm: f64,
    /// Whether the stated diameter holds `before` or `after` coating; `unknown` where that is not said.
    pub stated: SharedText,
    /// Diameter before coating; the stated one where it is unknown when that holds (mm).
    pub before_mm: f64,
    /// Diameter after coating; of the stated one, if it were before coating, where that is unknown (mm).
    pub after_mm: f64,
    /// Engagement of the uncoated hole.
    pub engagement_before: EngagementResult,
    /// Engagement of the coated hole, which the screw meets.
    pub engagement_after: EngagementResult,
}

/// Lengths at a screw hole, reported. Null where something needed is not known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LengthsResult {
    /// Depth of a counterbore or countersink, taken off what follows (mm).
    pub sunk_mm: f64,
    /// Length in which a thread can be formed: sheet and collar, or a blind hole's depth (mm).
    pub metal_mm: Option<f64>,
    /// How far the screw reaches below the surface, point included (mm).
    pub reach_mm: Option<f64>,
    /// Length over which the thread is engaged (mm).
    pub engaged_mm: Option<f64>,
    /// Pitches over which it is engaged.
    pub engaged_pitches: Option<f64>,
    /// Full thread that the screw brings into the hole behind a point of 3.5 pitches (mm).
    pub full_thread_least_mm: Option<f64>,
    /// The same behind a point of 2 pitches (mm).
    pub full_thread_most_mm: Option<f64>,
}

/// A place along the depth, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AlongPointResult {
    /// Below the surface (mm).
    pub depth_mm: f64,
    /// Diameter of the nominal hole there (mm).
    pub diameter_mm: f64,
    /// Rolled engagement there (percent).
    pub engagement: f64,
}

/// A hole with draft along its engaged length, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AlongResult {
    /// Draft per side (degrees).
    pub draft_deg: f64,
    /// Start, middle and end of the engaged length.
    pub points: Vec<AlongPointResult>,
    /// Engagement of the smallest hole at the end (percent).
    pub most: f64,
    /// Engagement of the largest hole at the start (percent).
    pub least: f64,
    /// Whether the nominal stays in the band; null where no band is known.
    pub in_band: Option<bool>,
    /// Whether both limits of size do.
    pub limits_in_band: Option<bool>,
    /// Engaged length from this start to where the nominal leaves the band (mm).
    pub longest_mm: Option<f64>,
    /// Engaged length that the best entrance could keep with this tolerance and draft (mm).
    pub longest_at_best_mm: Option<f64>,
    /// An entrance that keeps this engaged length in the band; null where none does (mm).
    pub entrance_mm: Option<f64>,
    /// Greatest draft with which some entrance does; null where the tolerance alone fills the band (degrees).
    pub most_draft_deg: Option<f64>,
}

/// A collar by volume balance, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CollarResult {
    /// Height stated (mm).
    pub height_mm: f64,
    /// Outside diameter, stated or by the greatest usual thinning of the wall (mm).
    pub outside_mm: f64,
    /// `list` or `assumed`.
    pub outside_source: SharedText,
    /// Share of the sheet's thickness that the wall loses there (percent).
    pub thinning: f64,
    /// Greatest height that the metal gives; null where the sizes are not in order (mm).
    pub greatest_height_mm: Option<f64>,
    /// The pierce that gives the stated height; null where none does (mm).
    pub pierce_mm: Option<f64>,
    /// Radius at the entry that is taken off the thread; null where it is not stated (mm).
    pub entry_radius_mm: Option<f64>,
}

/// Expected share of holes outside the band, reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CapabilityResult {
    /// Mean diameter (mm).
    pub mean_mm: f64,
    /// Standard deviation (mm).
    pub sd_mm: f64,
    /// `measured` or `process`.
    pub source: SharedText,
    /// Where mean and standard deviation come from, in words.
    pub text: SharedText,
    /// Share that is too small, tight (percent).
    pub tight: f64,
    /// Share that is too large, loose (percent).
    pub loose: f64,
    /// Both together (percent).
    pub outside: f64,
}

/// A finding, reported.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct FindingResult {
    /// The rule.
    pub rule: SharedText,
    /// `fail`, `warn` or `note`.
    pub level: SharedText,
    /// The hole; null for a finding of the whole drawing.
    pub hole: Option<SharedText>,
    /// Abscissa, drawing units.
    pub x: Option<f64>,
    /// Ordinate, drawing units.
    pub y: Option<f64>,
    /// Handle of the entity.
    pub handle: Option<SharedText>,
    /// Layer of the entity.
    pub layer: Option<SharedText>,
    /// 1-based line in a text DXF file; null where there is none.
    pub line: Option<u64>,
    /// One sentence with the numbers.
    pub message: SharedText,
    /// What to write or do instead.
    pub remedy: Option<SharedText>,
    /// Why it no longer counts; null if it counts.
    pub waived: Option<SharedText>,
}
