//! One drawing to one result: read, pair, judge, run the rules, apply levels. Pure, given bytes and settings.
//!
//! This is the only place where a policy meets a finding; it opens no file and knows nothing of other drawings.

mod build;
mod gate;
mod picture;
mod result;
mod seen;
mod totals;
mod version;
mod waive;
pub(crate) mod working;

pub use picture::{CalloutPlace, Mark, Pen, Picture, PictureSheet, PictureView, SeenHole, Shape, drawn};
pub use result::*;
pub use seen::{CalloutSeen, CircleResult, Reads, SeenDrawing, seen};
pub use version::version;
pub use waive::{Waiving, named};

use crate::callout::Words;
use crate::conversion::convert;
use crate::drawing::{Drawing, LayerId, Problem, ReadState};
use crate::dxf;
use crate::joint::{Defaults, DrawingRows};
use crate::pairing::{Manner, Paired, pair, pair_with};
use crate::practice::Practice;
use crate::rules::{ScrewHole, Subject};
use crate::settings::Policy;
use crate::trial::Trials;
use crate::verdict::{Judgements, judge_all};

/// What a drawing is checked against.
#[derive(Debug, Clone, Copy)]
pub struct Against<'a> {
    /// What hole lists say of it.
    pub rows: Option<&'a DrawingRows>,
    /// What the command line says.
    pub defaults: &'a Defaults,
    /// The policy.
    pub policy: &'a Policy,
    /// The trial records that the lists name.
    pub trials: &'a Trials,
    /// What was accepted, if a file says so.
    pub waiving: Option<Waiving<'a>>,
    /// Whether the result of a drawing with findings shall hold its picture.
    pub pictured: bool,
    /// Whether the result shall say which tapped holes could take a rolling screw.
    pub converting: bool,
    /// Whether all shall be known that was seen, and why each hole is paired as it is.
    pub reasoned: bool,
    /// Whether the result shall state the digest of the bytes, which few forms show.
    pub digested: bool,
}

/// A drawing, read, paired and judged: all that the rules look at and that `holes` shows.
#[derive(Debug)]
pub struct Examined {
    /// How far it was read.
    pub state: ReadState,
    /// What was wrong with the file, by place.
    pub problems: Vec<Problem>,
    /// What the file shows; empty if it is unreadable, and without its shapes and texts if nobody asks for them.
    pub drawing: Drawing,
    /// The same with everything joined.
    pub paired: Paired,
    /// The judgement of each of `paired.holes`.
    pub judged: Judgements,
}

impl Examined {
    /// The subject of the rules.
    pub fn subject<'a>(&'a self, path: &'a str, practice: &'a Practice, trials: &'a Trials) -> Subject<'a> {
        Subject {
            path,
            state: self.state,
            problems: &self.problems,
            drawing: &self.drawing,
            paired: &self.paired,
            judged: &self.judged,
            screws: ScrewHole::all(&self.paired, &self.judged, practice),
            practice,
            trials,
            waivers: &[],
        }
    }

    /// Name of a layer; none if the drawing does not know it.
    pub fn layer_name(&self, layer: LayerId) -> Option<&str> {
        let index = usize::try_from(layer).ok()?;
        self.drawing.layers.get(index).map(|layer| layer.name.as_str())
    }

    /// A drawing of which nothing could be read, for this reason.
    fn unreadable(problem: Problem) -> Self {
        let drawing = Drawing::default();
        let paired = pair(&drawing, None, &Defaults::default());
        Examined {
            state: ReadState::Unreadable,
            problems: vec![problem],
            drawing,
            paired,
            judged: Judgements::default(),
        }
    }
}

/// Reads, pairs and judges a drawing, given the bytes of its file. Bytes that are handed over, as those of a large file are,
/// are forgotten once they are read: pairing wants their memory.
pub fn examine(bytes: impl AsRef<[u8]>, against: Against<'_>) -> Examined {
    let reading = dxf::read(bytes.as_ref());
    drop(bytes);
    match reading {
        Ok(reading) => examined(reading, against),
        Err(problem) => Examined::unreadable(problem),
    }
}

fn examined(reading: dxf::Reading, against: Against<'_>) -> Examined {
    let mut problems = reading.problems;
    problems.sort();
    let lost = problems.iter().any(|problem| problem.loss);
    let state = if lost { ReadState::PartlyRead } else { ReadState::Read };
    let words = against.policy.own_words().unwrap_or_else(|| Words::built_in());
    let mut drawing = reading.drawing;
    let manner = Manner { words, reasoned: against.reasoned };
    let paired = pair_with(&drawing, against.rows, against.defaults, manner);
    if !(against.pictured || against.reasoned) {
        drawing = drawing.without_shapes();
        if !against.converting {
            drawing.texts = Vec::new();
        }
    }
    let judged = judge_all(&paired, &against.policy.practice);
    Examined { state, problems, drawing, paired, judged }
}

/// Checks one drawing, given the bytes of its file, as [`examine`] does. `path` is only written into the result.
pub fn check(path: &str, bytes: impl AsRef<[u8]>, against: Against<'_>) -> DrawingResult {
    let digest = against.digested.then(|| format!("blake3:{}", blake3::hash(bytes.as_ref()).to_hex()));
    let examined = examine(bytes, against);
    let digest = digest.unwrap_or_default();
    result(path, digest, &examined, against)
}

fn result(path: &str, digest: String, examined: &Examined, against: Against<'_>) -> DrawingResult {
    let subject = || examined.subject(path, &against.policy.practice, against.trials);
    let findings = gate::findings(&subject(), against.policy);
    let mut result = build::drawing(path, digest, examined, against.rows, findings);
    if let Some(waiving) = against.waiving {
        let held = waive::apply(&mut result, &waiving);
        let about = gate::about_waivers(&Subject { waivers: &held, ..subject() }, against.policy);
        result.findings.extend(about);
    }
    if against.pictured && !result.findings.is_empty() && examined.state != ReadState::Unreadable {
        result.picture = Some(Box::new(picture::picture(examined, &result.findings)));
    }
    if against.converting {
        let practice = &against.policy.practice;
        result.conversion = Some(Box::new(convert(&examined.drawing, &examined.paired, practice)));
    }
    result
}

/// The result of a drawing whose bytes could not be had, for `reason`. Its digest is empty.
pub fn unopened(path: &str, reason: &str, against: Against<'_>) -> DrawingResult {
    let problem = Problem { line: 0, offset: 0, message: reason.to_owned(), loss: true };
    let examined = Examined::unreadable(problem);
    result(path, String::new(), &examined, against)
}

#[cfg(test)]
mod tests;
