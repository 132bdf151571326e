//! What a ledger says of one drawing: all that the picture of a library needs, and no more, so that a million lines can
//! be read in a moment.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::check::{DrawingResult, FindingResult, HoleResult};

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
    pub first: String,
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
    pub hole: Option<String>,
    /// How sure the pairing of their holes is, the mean; 1 for a finding of the whole drawing.
    pub confidence: f64,
    /// One sentence with the numbers.
    pub message: String,
    /// What to write or do instead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remedy: Option<String>,
    /// Why it no longer counts; none if it counts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub waived: Option<String>,
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
        let one = ScrewHoles {
            count: 1,
            first: hole.id.clone(),
            tag: hole.tag.clone(),
            thread: screw.thread.clone(),
            material: hole.material.clone(),
            thickness_mm: hole.thickness_mm,
            thickness_over_diameter: hole
                .thickness_mm
                .map(|thickness| hundredths(thickness / screw.major_mm)),
            process: hole.process.clone(),
            diameter_mm: hole.diameter.nominal_mm,
            min_mm: hole.diameter.min_mm,
            max_mm: hole.diameter.max_mm,
            engagement: hole.engagement.as_ref().map(|engagement| engagement.nominal),
            band: hole.band.as_ref().map(|band| (band.min, band.max)),
            verdict: hole.verdict.clone(),
            confidence: hole.confidence,
            advice: hole.advice.as_ref().map(|advice| advice.callout.clone()),
        };
        let alike = all
            .iter_mut()
            .find(|known| ScrewHoles { count: 1, first: one.first.clone(), ..(*known).clone() } == one);
        match alike {
            Some(known) => known.count += 1,
            None => all.push(one),
        }
    }
    all
}

fn findings(result: &DrawingResult) -> Vec<Found> {
    let mut all: Vec<Found> = Vec::new();
    let mut sure: Vec<f64> = Vec::new();
    for finding in &result.findings {
        let hole = finding.hole.as_ref().and_then(|id| result.holes.iter().find(|hole| hole.id == *id));
        let confidence = hole.map_or(1.0, |hole| hole.confidence);
        match all.iter().position(|known| says_the_same(known, finding)) {
            Some(at) => {
                all[at].count += 1;
                sure[at] += confidence;
            }
            None => {
                sure.push(confidence);
                all.push(Found {
                    rule: finding.rule.clone(),
                    level: finding.level.clone(),
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
