//! Findings that people looked at and accepted: which there are, whether one covers a finding, and the file that
//! accepts what a run found. Where a waiver counts is decided by `check`.
//!
//! A waiver names a hole by drawing, tag, place and size, not by handle, so that it outlasts a new export of the
//! drawing; a hole whose size or limits changed is another hole. A finding of a whole drawing is named by its words.

mod wire;

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use jiff::civil::Date;
use serde::Serialize;

use crate::reading::{Fault, clean_path, display_path, read_file_with, schema_document};

/// How far a hole may have moved, in drawing units: places are rounded to hundredths.
const SAME_PLACE: f64 = 0.011;

/// How far a size may differ, in mm: sizes are rounded to thousandths.
const SAME_SIZE: f64 = 0.0011;

/// Where a hole stands and how large it is.
#[derive(Debug, Clone, PartialEq)]
pub struct HolePlace {
    /// Its tag.
    pub tag: Option<String>,
    /// Its place, in drawing units.
    pub at: [f64; 2],
    /// Nominal, smallest and largest diameter (mm).
    pub size_mm: [f64; 3],
}

impl HolePlace {
    /// Whether both are the same hole of the same size.
    fn is(&self, other: &HolePlace) -> bool {
        let near = |a: &[f64], b: &[f64], within: f64| a.iter().zip(b).all(|(a, b)| (a - b).abs() <= within);
        self.tag == other.tag
            && near(&self.at, &other.at, SAME_PLACE)
            && near(&self.size_mm, &other.size_mm, SAME_SIZE)
    }
}

/// What a waiver is held against: a finding, by what names it.
#[derive(Debug, Clone, PartialEq)]
pub struct Named<'a> {
    /// The rule.
    pub rule: &'a str,
    /// The hole; none for a finding of the whole drawing.
    pub hole: Option<HolePlace>,
    /// What it says.
    pub message: &'a str,
}

/// A waiver.
#[derive(Debug, Clone, PartialEq)]
pub struct Waiver {
    /// The rule.
    pub rule: String,
    /// The drawing, relative to the file.
    pub drawing: String,
    /// The hole; none for a finding of the whole drawing.
    pub hole: Option<HolePlace>,
    /// What a finding of the whole drawing says.
    pub message: Option<String>,
    /// Why it is accepted.
    pub reason: String,
    /// Who accepted it.
    pub who: String,
    /// The last day on which it counts.
    pub expires: Option<Date>,
    /// Where it stands in its file.
    pub pointer: String,
}

impl Waiver {
    /// Whether it is about this finding.
    pub fn covers(&self, finding: &Named<'_>) -> bool {
        self.rule == finding.rule
            && match (&self.hole, &finding.hole) {
                (Some(mine), Some(its)) => mine.is(its),
                (None, None) => self.message.as_deref() == Some(finding.message),
                _ => false,
            }
    }

    /// Whether it no longer counts on a day.
    pub fn is_expired(&self, today: Date) -> bool {
        self.expires.is_some_and(|last| last < today)
    }

    /// The reason with who gave it, as reports show it.
    pub fn shown(&self) -> String {
        format!("{} ({})", self.reason, self.who)
    }
}

/// A waiver held against all that was found in its drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held<'a> {
    /// The waiver.
    pub waiver: &'a Waiver,
    /// The file that it stands in.
    pub file: &'a str,
    /// Whether its last day is over, so that it no longer counts.
    pub is_expired: bool,
    /// Whether it is about anything that was found.
    pub is_used: bool,
}

/// The waivers of a run.
#[derive(Debug, Default)]
pub struct Waivers {
    /// The file, as it is shown.
    pub file: String,
    by_drawing: HashMap<PathBuf, Vec<Waiver>>,
}

impl Waivers {
    /// Reads a file of waivers. `rules` are those that can be waived.
    ///
    /// # Errors
    /// All its faults.
    pub fn load(path: &Path, rules: &[&str]) -> Result<Waivers, Vec<Fault>> {
        let read: wire::WaiverFile = read_file_with(path, |root| wire::refuse_unknown_rules(root, rules))?;
        let mut waivers = Waivers { file: display_path(path), ..Waivers::default() };
        for row in read.waivers.iter().flatten() {
            let Some(waiver) = row.value.waiver(&row.pointer) else { continue };
            let drawing = clean_path(&folder_of(path).join(&waiver.drawing));
            waivers.by_drawing.entry(drawing).or_default().push(waiver);
        }
        Ok(waivers)
    }

    /// Those of a drawing, in the order of the file.
    pub fn of(&self, drawing: &Path) -> &[Waiver] {
        self.by_drawing.get(&clean_path(drawing)).map_or(&[], Vec::as_slice)
    }

    /// Those of drawings that are not among these, in no order.
    fn elsewhere(&self, drawings: &[PathBuf]) -> impl Iterator<Item = &Waiver> + use<'_> {
        let here: std::collections::HashSet<PathBuf> = drawings.iter().map(|path| clean_path(path)).collect();
        self.by_drawing.iter().filter(move |(path, _)| !here.contains(*path)).flat_map(|(_, waivers)| waivers)
    }
}

/// A day as files write it: `2027-01-31`.
pub fn day(text: &str) -> Option<Date> {
    text.parse().ok().filter(|day: &Date| day.to_string() == text)
}

/// Today, where the program runs.
pub fn today() -> Date {
    jiff::ZonedDateTime::now().date()
}

/// The folder that paths of a file are relative to.
fn folder_of(file: &Path) -> &Path {
    file.parent().unwrap_or(Path::new(""))
}

/// A waiver for each finding that a run found: what a baseline is made of.
#[derive(Debug, Default)]
pub struct Baseline {
    waivers: Vec<Waiver>,
}

impl Baseline {
    /// Accepts a finding of a drawing. What `before` says of it (its reason, who gave it, how long it counts) stays.
    pub fn accept(&mut self, drawing: &Path, file: &Path, finding: &Named<'_>, before: &[Waiver]) {
        let mut waiver = match before.iter().find(|waiver| waiver.covers(finding)) {
            Some(known) => known.clone(),
            None => Waiver {
                rule: finding.rule.to_owned(),
                drawing: relative(drawing, file),
                hole: finding.hole.clone(),
                message: finding.hole.is_none().then(|| finding.message.to_owned()),
                reason: "accepted as it was found".to_owned(),
                who: "baseline".to_owned(),
                expires: None,
                pointer: String::new(),
            },
        };
        if let Some(hole) = &mut waiver.hole {
            hole.at = hole.at.map(|x| round(x, 100.0));
            hole.size_mm = hole.size_mm.map(|d| round(d, 1000.0));
        }
        self.waivers.push(waiver);
    }

    /// Takes over what `before` says of drawings that this run did not see.
    pub fn keep(&mut self, before: &Waivers, drawings: &[PathBuf]) {
        self.waivers.extend(before.elsewhere(drawings).cloned());
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.waivers.len()
    }

    /// What was accepted, in no order.
    pub fn into_waivers(self) -> impl Iterator<Item = Waiver> {
        self.waivers.into_iter()
    }

    /// The file's value, sorted by drawing, place and rule, each once.
    pub fn file(mut self) -> impl Serialize {
        let key = |w: &Waiver| {
            let at = w.hole.as_ref().map(|hole| hole.at.map(|x| (x * 100.0).round() as i64));
            (w.drawing.clone(), w.hole.is_none(), at, w.rule.clone(), w.message.clone())
        };
        self.waivers.sort_by_key(key);
        self.waivers.dedup_by(|a, b| {
            Waiver { pointer: String::new(), ..a.clone() } == Waiver { pointer: String::new(), ..b.clone() }
        });
        File { format: 1, waivers: self.waivers.iter().map(Written::of).collect() }
    }
}

fn round(value: f64, steps: f64) -> f64 {
    (value * steps).round() / steps
}

/// A drawing's path as seen from the folder of a file.
fn relative(drawing: &Path, file: &Path) -> String {
    let (drawing, folder) = (clean_path(drawing), clean_path(folder_of(&clean_path(file))));
    let shared = drawing.components().zip(folder.components()).take_while(|(a, b)| a == b).count();
    let up = folder.components().skip(shared).map(|_| "..".to_owned());
    let down = drawing.components().skip(shared).map(|part| part.as_os_str().to_string_lossy().into_owned());
    // Nothing shared: another drive, which no relative path reaches.
    if shared == 0 { display_path(&drawing) } else { up.chain(down).collect::<Vec<_>>().join("/") }
}

/// The file as it is written; read back by `wire`.
#[derive(Serialize)]
struct File {
    format: u32,
    waivers: Vec<Written>,
}

#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
struct Written {
    rule: String,
    drawing: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    tag: Option<String>,
    #[serde(flatten)]
    place: Option<WrittenPlace>,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<String>,
    reason: String,
    who: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    expires: Option<String>,
}

#[derive(Serialize)]
struct WrittenPlace {
    x: f64,
    y: f64,
    diameter_mm: f64,
    min_mm: f64,
    max_mm: f64,
}

impl Written {
    fn of(waiver: &Waiver) -> Written {
        let place = waiver.hole.as_ref().map(|hole| {
            let ([x, y], [diameter_mm, min_mm, max_mm]) = (hole.at, hole.size_mm);
            WrittenPlace { x, y, diameter_mm, min_mm, max_mm }
        });
        Written {
            rule: waiver.rule.clone(),
            drawing: waiver.drawing.clone(),
            tag: waiver.hole.as_ref().and_then(|hole| hole.tag.clone()),
            place,
            message: waiver.message.clone(),
            reason: waiver.reason.clone(),
            who: waiver.who.clone(),
            expires: waiver.expires.map(|day| day.to_string()),
        }
    }
}

/// The JSON Schema of a file of waivers.
pub fn schema() -> serde_json::Value {
    schema_document::<wire::WaiverFile>(
        "waivers",
        "boreband waivers",
        "Findings that were looked at and accepted. They stay in every report, marked, and no longer count.",
    )
}

#[cfg(test)]
mod tests;

/// A waiver for tests of other modules.
#[cfg(test)]
pub(crate) fn sample() -> Waiver {
    Waiver {
        rule: "engagement-above-band".to_owned(),
        drawing: "lid.dxf".to_owned(),
        hole: None,
        message: Some("too small".to_owned()),
        reason: "tried".to_owned(),
        who: "a person".to_owned(),
        expires: None,
        pointer: "/waivers/0".to_owned(),
    }
}
