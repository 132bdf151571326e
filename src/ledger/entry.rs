//! What a ledger says of one drawing: all that the picture of a library needs, and no more, so that a million lines can
//! be read in a moment.

use std::collections::HashMap;

use foldhash::fast::RandomState;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::check::{DrawingResult, FindingResult, HoleResult, ScrewResult};
use crate::shared::SharedText;

/// A drawing, as its line of the ledger states it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Entry {
    /// As given on the command line or found under it, with `/`.
    pub path: String,
    /// `blake3:` and the hexadecimal digest of the file's bytes; empty if it could not be opened.
    pub digest: String,
    /// Digest of all else that the result rests on: rows of hole lists, policy, trial records, waivers, options and the
    /// version of the program.
    pub inputs: String,
    /// Size of the file (bytes).
    pub bytes: u64,
    /// The year in which it was last saved, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub year: Option<i16>,
    /// Who says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub year_source: Option<YearSource>,
    /// `read`, `partly-read` or `unreadable`.
    pub state: String,
    /// Number of things that were wrong with the file.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub problems: u64,
    /// The first of them by which something was lost, else the first, with its line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub problem: Option<String>,
    /// Part number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// `mm` or `in`.
    pub unit: String,
    /// Number of holes, screw holes included.
    pub holes: u64,
    /// Screw holes, those that are the same in all that is stated here together.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub screw_holes: Vec<ScrewHoles>,
    /// Findings, those that say the same together.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub findings: Vec<Found>,
}

/// Who says when a drawing was last saved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum YearSource {
    /// The drawing's header.
    Drawing,
    /// The time of the file.
    File,
}

/// Screw holes of one drawing that are alike.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct ScrewHoles {
    /// How many.
    pub count: u64,
    /// The first of them: `H1` …
    pub first: SharedText,
    /// Tag.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tag: Option<String>,
    /// Designation of the screw's thread.
    pub thread: String,
    /// Material.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<String>,
    /// Thickness of the metal (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness_mm: Option<f64>,
    /// Thickness of the metal over the diameter of the screw.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness_over_diameter: Option<f64>,
    /// How they are made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub process: Option<String>,
    /// Nominal diameter (mm).
    pub diameter_mm: f64,
    /// Smallest (mm).
    pub min_mm: f64,
    /// Largest (mm).
    pub max_mm: f64,
    /// Rolled engagement at the nominal (percent).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub engagement: Option<f64>,
    /// Band, least and greatest (percent, rolled).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band: Option<(f64, f64)>,
    /// `in-band`, `straddles`, `tight`, `loose` or `undetermined`; none where no verdict is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub verdict: Option<String>,
    /// How sure the pairing is, 0 to 1.
    pub confidence: f64,
    /// What to call out instead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub advice: Option<String>,
}

/// Findings of one drawing that say the same.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Found {
    /// The rule.
    pub rule: String,
    /// `fail`, `warn` or `note`.
    pub level: String,
    /// How many.
    pub count: u64,
    /// The first hole; none for a finding of the whole drawing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole: Option<SharedText>,
    /// How sure the pairing of their holes is, the mean; 1 for a finding of the whole drawing.
    pub confidence: f64,
    /// One sentence with the numbers.
    pub message: SharedText,
    /// What to write or do instead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remedy: Option<SharedText>,
    /// Why it no longer counts; none if it counts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub waived: Option<SharedText>,
}

/// What is known of a drawing's file beside its result.
#[derive(Debug, Clone, Default)]
pub struct Sight {
    /// Size (bytes).
    pub bytes: u64,
    /// The year of the file's own time.
    pub year: Option<i16>,
    /// Digest of what else the result rests on.
    pub inputs: String,
}

impl Entry {
    /// The line of a result.
    pub fn of(result: &DrawingResult, sight: Sight) -> Entry {
        let by_drawing = result.saved_in.map(|year| (year, YearSource::Drawing));
        let year = by_drawing.or(sight.year.map(|year| (year, YearSource::File)));
        let worst = result.problems.iter().find(|problem| problem.loss).or(result.problems.first());
        Entry {
            path: result.path.clone(),
            digest: result.digest.clone(),
            inputs: sight.inputs,
            bytes: sight.bytes,
            year: year.map(|(year, _)| year),
            year_source: year.map(|(_, source)| source),
            state: result.state.clone(),
            problems: result.problems.len() as u64,
            problem: worst.map(|problem| match problem.line {
                0 => problem.message.clone(),
                line => format!("line {line}: {}", problem.message),
            }),
            part: result.part.clone(),
            unit: result.unit.clone(),
            holes: result.holes.len() as u64,
            screw_holes: screw_holes(&result.holes),
            findings: findings(result),
        }
    }
}

fn screw_holes(holes: &[HoleResult]) -> Vec<ScrewHoles> {
    let mut all: Vec<ScrewHoles> = Vec::new();
    for hole in holes {
        let Some(screw) = &hole.screw else { continue };
        match all.iter_mut().find(|known| known.are_like(hole, screw)) {
            Some(known) => known.count += 1,
            None => all.push(ScrewHoles::of(hole, screw)),
        }
    }
    all
}

impl ScrewHoles {
    /// One hole alone.
    fn of(hole: &HoleResult, screw: &ScrewResult) -> ScrewHoles {
        let text = |text: &Option<SharedText>| text.as_deref().map(str::to_owned);
        ScrewHoles {
            count: 1,
            first: hole.id.clone(),
            tag: hole.tag.clone(),
            thread: screw.thread.to_string(),
            material: text(&hole.material),
            thickness_mm: hole.thickness_mm,
            thickness_over_diameter: over_diameter(hole, screw),
            process: text(&hole.process),
            diameter_mm: hole.diameter.nominal_mm,
            min_mm: hole.diameter.min_mm,
            max_mm: hole.diameter.max_mm,
            engagement: nominal_engagement(hole),
            band: band(hole),
            verdict: text(&hole.verdict),
            confidence: hole.confidence,
            advice: advised(hole).map(str::to_owned),
        }
    }

    /// Whether a hole is the same in all that is stated.
    fn are_like(&self, hole: &HoleResult, screw: &ScrewResult) -> bool {
        // Named one by one, so that what is stated one day is not forgotten here.
        let ScrewHoles {
            count: _,
            first: _,
            tag,
            thread,
            material,
            thickness_mm,
            thickness_over_diameter,
            process,
            diameter_mm,
            min_mm,
            max_mm,
            engagement,
            band: own_band,
            verdict,
            confidence,
            advice,
        } = self;
        let size = &hole.diameter;
        (*tag == hole.tag && *thread == screw.thread)
            && (material.as_deref(), process.as_deref())
                == (hole.material.as_deref(), hole.process.as_deref())
            && (*thickness_mm, *thickness_over_diameter) == (hole.thickness_mm, over_diameter(hole, screw))
            && (*diameter_mm, *min_mm, *max_mm) == (size.nominal_mm, size.min_mm, size.max_mm)
            && (*engagement, *own_band) == (nominal_engagement(hole), band(hole))
            && (verdict.as_deref(), advice.as_deref()) == (hole.verdict.as_deref(), advised(hole))
            && *confidence == hole.confidence
    }
}

fn over_diameter(hole: &HoleResult, screw: &ScrewResult) -> Option<f64> {
    hole.thickness_mm.map(|thickness| hundredths(thickness / screw.major_mm))
}

fn nominal_engagement(hole: &HoleResult) -> Option<f64> {
    hole.engagement.as_ref().map(|engagement| engagement.nominal)
}

fn band(hole: &HoleResult) -> Option<(f64, f64)> {
    hole.band.as_ref().map(|band| (band.min, band.max))
}

fn advised(hole: &HoleResult) -> Option<&str> {
    hole.advice.as_ref().map(|advice| advice.callout.as_str())
}

fn findings(result: &DrawingResult) -> Vec<Found> {
    let mut all: Vec<Found> = Vec::new();
    let mut sure: Vec<f64> = Vec::new();
    let holes = result.holes.iter().map(|hole| (hole.id.as_str(), hole.confidence));
    let holes: HashMap<&str, f64, RandomState> = holes.rev().collect();
    for finding in &result.findings {
        let of_hole = finding.hole.as_deref().and_then(|id| holes.get(id));
        let confidence = of_hole.copied().unwrap_or(1.0);
        match all.iter().position(|known| says_the_same(known, finding)) {
            Some(at) => {
                all[at].count += 1;
                sure[at] += confidence;
            }
            None => {
                sure.push(confidence);
                all.push(Found {
                    rule: finding.rule.to_string(),
                    level: finding.level.to_string(),
                    count: 1,
                    hole: finding.hole.clone(),
                    confidence: 1.0,
                    message: finding.message.clone(),
                    remedy: finding.remedy.clone(),
                    waived: finding.waived.clone(),
                });
            }
        }
    }
    for (found, sum) in all.iter_mut().zip(sure) {
        found.confidence = hundredths(sum / found.count as f64);
    }
    all
}

fn says_the_same(known: &Found, finding: &FindingResult) -> bool {
    known.rule == finding.rule
        && known.level == finding.level
        && known.message == finding.message
        && known.remedy == finding.remedy
        && known.waived == finding.waived
}

fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the signature that serde asks for")]
fn is_zero(count: &u64) -> bool {
    *count == 0
}
