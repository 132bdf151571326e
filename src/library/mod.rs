//! The picture of a whole library, added up from the lines of ledgers one at a time: totals and shares by verdict, rule,
//! thread, metal and so on, how engagement lies in its bands, the common causes, the drawings to look at first, and
//! drawings that are there twice. Plain data; how it looks is decided in `report`.
//!
//! Lines must come in the order of their paths. Nothing here depends on how many runs or ledgers they came from, so
//! that joined shards give the picture of one run byte for byte.

mod causes;
mod engagement;
mod groups;
mod harm;
#[cfg(test)]
mod tests;

use std::collections::HashMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::check::{Tool, Totals};
use crate::ledger::{Entry, YearSource};
use crate::shared::SharedText;

pub use causes::Cause;
pub use engagement::{BIN_WIDTH, BINS, Engagement};
pub use groups::{ByRule, Group, Groups, Sum};
pub use harm::{harm, shown_harm, worst};

/// Version of the format of the JSON form.
const FORMAT: u32 = 1;

/// Most drawings that the picture names as the first to look at; the CSV and the workbook name all.
pub const MOST_WORST: usize = 200;

/// A library, pictured.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Picture {
    /// Version of this format: 1.
    pub format: u32,
    /// The program.
    pub tool: Tool,
    /// Sums over all drawings but duplicates. Waived findings count only in `waived`.
    pub totals: Totals,
    /// Bytes of these drawings.
    pub bytes: u64,
    /// Drawings whose content and all else that their result rests on are those of another one; each is counted once, under
    /// the path that sorts first.
    pub duplicates: Vec<Duplicate>,
    /// Drawings that could not be read whole, and why.
    pub not_whole: Vec<NotWhole>,
    /// By each of several features.
    pub by: Groups,
    /// Rolled engagement by thread.
    pub engagement: Vec<Engagement>,
    /// What lies behind the findings, the most frequent first.
    pub causes: Vec<Cause>,
    /// Drawings on which something fails or warns that is not waived: those with any expected harm.
    pub harmful: u64,
    /// The drawings to look at first, by expected harm.
    pub worst: Vec<Worst>,
}

/// A drawing that is there twice.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Duplicate {
    /// Its path.
    pub path: String,
    /// The path under which it is counted.
    pub same_as: String,
}

/// A drawing that could not be read whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct NotWhole {
    /// Its path.
    pub path: String,
    /// `partly-read` or `unreadable`.
    pub state: String,
    /// What was wrong.
    pub problem: String,
}

/// A drawing to look at first.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Worst {
    /// Its path.
    pub path: String,
    /// Part number.
    pub part: Option<String>,
    /// Expected harm: how many holes or drawings fail, each counted as far as its pairing is sure; a warning counts a
    /// quarter.
    pub harm: f64,
    /// Screw holes.
    pub screw_holes: u64,
    /// Findings of level fail that are not waived.
    pub fail: u64,
    /// Findings of level warn that are not waived.
    pub warn: u64,
    /// The worst of what was found, in one sentence.
    pub message: SharedText,
    /// What to write or do instead.
    pub remedy: Option<SharedText>,
}

/// A picture in the making.
#[derive(Debug, Default)]
pub struct Painter {
    totals: Totals,
    bytes: u64,
    /// Where each content was met first, by content and inputs.
    met: HashMap<blake3::Hash, u32>,
    firsts: Vec<Box<str>>,
    duplicates: Vec<Duplicate>,
    not_whole: Vec<NotWhole>,
    by: groups::Tables,
    engagement: engagement::Tables,
    causes: causes::Tables,
    worst: harm::Ranking,
}

/// What became of a line that was added.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Added {
    /// It counts, with this much expected harm.
    Counted(f64),
    /// It is the drawing of an earlier line.
    Duplicate,
}

impl Painter {
    /// Nothing yet.
    pub fn new() -> Painter {
        Painter::default()
    }

    /// Adds a drawing.
    pub fn add(&mut self, entry: &Entry) -> Added {
        if self.is_duplicate(entry) {
            return Added::Duplicate;
        }
        let sum = Sum::of(entry);
        self.bytes += entry.bytes;
        self.totals = added(self.totals, entry, &sum);
        if entry.state != "read" {
            self.not_whole.push(NotWhole {
                path: entry.path.clone(),
                state: entry.state.clone(),
                problem: entry.problem.clone().unwrap_or_default(),
            });
        }
        self.by.add(entry, &sum);
        self.engagement.add(entry);
        self.causes.add(entry);
        let harm = harm(entry);
        self.worst.add(entry, &sum, harm);
        Added::Counted(harm)
    }

    fn is_duplicate(&mut self, entry: &Entry) -> bool {
        if entry.digest.is_empty() {
            return false;
        }
        let key = blake3::hash(format!("{} {}", entry.digest, entry.inputs).as_bytes());
        if let Some(first) = self.met.get(&key) {
            let same_as = self.firsts[*first as usize].to_string();
            self.duplicates.push(Duplicate { path: entry.path.clone(), same_as });
            return true;
        }
        self.met.insert(key, self.firsts.len() as u32);
        self.firsts.push(entry.path.as_str().into());
        false
    }

    /// The sums so far.
    pub fn totals(&self) -> &Totals {
        &self.totals
    }

    /// The picture of all that was added.
    pub fn finish(self) -> Picture {
        let (harmful, worst) = self.worst.finish();
        Picture {
            format: FORMAT,
            tool: Tool::this(),
            totals: self.totals,
            bytes: self.bytes,
            duplicates: self.duplicates,
            not_whole: self.not_whole,
            by: self.by.finish(),
            engagement: self.engagement.finish(),
            causes: self.causes.finish(),
            harmful,
            worst,
        }
    }
}

fn added(mut totals: Totals, entry: &Entry, sum: &Sum) -> Totals {
    totals.drawings += 1;
    totals.unreadable += u64::from(entry.state == "unreadable");
    totals.partly_read += u64::from(entry.state == "partly-read");
    totals.holes += entry.holes;
    totals.screw_holes += sum.screw_holes;
    totals.in_band += sum.in_band;
    totals.straddles += sum.straddles;
    totals.tight += sum.tight;
    totals.loose += sum.loose;
    totals.undetermined += sum.undetermined;
    totals.fail += sum.fail;
    totals.warn += sum.warn;
    totals.note += sum.note;
    totals.waived += sum.waived;
    totals
}

/// The year of a drawing as it is shown, and who says so.
fn year(entry: &Entry) -> String {
    match (entry.year, entry.year_source) {
        (Some(year), Some(YearSource::Drawing)) => year.to_string(),
        (Some(year), _) => format!("{year} (time of the file)"),
        (None, _) => groups::UNKNOWN.to_owned(),
    }
}
