//! What the summary of the text form says of all drawings, counted one drawing at a time and in any order.

use std::collections::{BTreeMap, BTreeSet};

use super::words;
use crate::check::{BandResult, DrawingResult, HoleResult, Report, Totals};
use crate::report::clean::flowing;

/// Sums over drawings.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tally {
    /// The sums that the report states.
    pub totals: Totals,
    /// Drawings that were read and have no screw hole.
    pub(super) without_screw_hole: u64,
    /// Holes that something on the drawing or in a list speaks of.
    pub(super) paired: u64,
    /// Screw holes that were judged as drawn.
    pub(super) drawn: u64,
    /// Screw holes with a confidence.
    pub(super) rated: u64,
    /// Their lowest confidence, in hundredths.
    pub(super) lowest: Option<u64>,
    /// Their confidences together, in hundredths: whole numbers have the same sum in any order.
    pub(super) confidence: u64,
    /// Where bands come from, as it is shown.
    pub(super) sources: BTreeSet<String>,
    /// What stands behind them, as it is shown.
    pub(super) statuses: BTreeSet<String>,
    /// Screw holes at which a rule could not be judged, by its name.
    pub(super) not_judged: BTreeMap<String, u64>,
}

impl Tally {
    /// Of a whole report.
    pub fn of(report: &Report) -> Tally {
        let mut tally = Tally::default();
        report.drawings.iter().for_each(|drawing| tally.add(drawing));
        Tally { totals: report.totals, ..tally }
    }

    /// Counts one more drawing.
    pub fn add(&mut self, drawing: &DrawingResult) {
        self.totals.add(drawing);
        let none = drawing.state != "unreadable" && drawing.holes.iter().all(|h| h.screw.is_none());
        self.without_screw_hole += u64::from(none);
        for hole in &drawing.holes {
            self.paired += u64::from(hole.paired_by != "drawn");
            if hole.screw.is_some() {
                self.rate(hole);
            }
            for rule in hole.not_judged.iter().map(|it| &*it.rule) {
                match self.not_judged.get_mut(rule) {
                    Some(holes) => *holes += 1,
                    None => drop(self.not_judged.insert(rule.to_owned(), 1)),
                }
            }
        }
        self.sources.extend(bands(drawing));
        for band in drawing.holes.iter().filter_map(|h| h.band.as_ref()) {
            let status = words::status(&band.status);
            self.statuses.insert(status);
        }
    }

    fn rate(&mut self, hole: &HoleResult) {
        if hole.paired_by == "drawn" {
            self.drawn += 1;
            return;
        }
        let hundredths = (hole.confidence * 100.0).round() as u64;
        self.lowest = Some(self.lowest.map_or(hundredths, |lowest| lowest.min(hundredths)));
        self.confidence += hundredths;
        self.rated += 1;
    }
}

/// Each source of a band once.
pub(super) fn bands(drawing: &DrawingResult) -> Vec<String> {
    let mut met: Vec<&BandResult> = Vec::new();
    let mut shown: Vec<String> = Vec::new();
    for band in drawing.holes.iter().filter_map(|h| h.band.as_ref()) {
        if met.iter().any(|m| (&m.source, &m.status) == (&band.source, &band.status)) {
            continue;
        }
        met.push(band);
        let text = format!("{} ({})", flowing(&band.source), words::status(&band.status));
        if !shown.contains(&text) {
            shown.push(text);
        }
    }
    shown
}
