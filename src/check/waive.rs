//! Holds the waivers of a drawing against what was found in it.

use jiff::civil::Date;

use super::{DrawingResult, FindingResult, HoleResult};
use crate::waivers::{Held, HolePlace, Named, Waiver};

/// What was accepted of a drawing, and the day on which that is asked.
#[derive(Debug, Clone, Copy)]
pub struct Waiving<'a> {
    /// The file that says so.
    pub file: &'a str,
    /// Its waivers of this drawing.
    pub waivers: &'a [Waiver],
    /// The day.
    pub today: Date,
}

/// What names each finding of a drawing to a waiver, beside the finding.
pub fn named(result: &DrawingResult) -> impl Iterator<Item = (&FindingResult, Named<'_>)> {
    let holes: std::collections::HashMap<&str, &HoleResult> =
        result.holes.iter().map(|hole| (hole.id.as_str(), hole)).collect();
    result.findings.iter().map(move |finding| {
        let hole = finding.hole.as_deref().and_then(|id| holes.get(id)).map(|hole| HolePlace {
            tag: hole.tag.clone(),
            at: [hole.x, hole.y],
            size_mm: [hole.diameter.nominal_mm, hole.diameter.min_mm, hole.diameter.max_mm],
        });
        (finding, Named { rule: &finding.rule, hole, message: &finding.message })
    })
}

/// Marks the findings that a waiver covers, and tells of each waiver what it covered.
pub(super) fn apply<'a>(result: &mut DrawingResult, waiving: &Waiving<'a>) -> Vec<Held<'a>> {
    // Of a drawing that was not read nothing is known, so no waiver of it is unused.
    if waiving.waivers.is_empty() || result.state == "unreadable" {
        return Vec::new();
    }
    let held = |waiver: &'a Waiver| Held {
        waiver,
        file: waiving.file,
        is_expired: waiver.is_expired(waiving.today),
        is_used: false,
    };
    let mut all: Vec<Held<'_>> = waiving.waivers.iter().map(held).collect();
    let mut reasons = Vec::new();
    for (index, (_, named)) in named(result).enumerate() {
        for held in all.iter_mut().filter(|held| held.waiver.covers(&named)) {
            held.is_used = true;
            if !held.is_expired {
                reasons.push((index, held.waiver.shown().into()));
            }
        }
    }
    for (index, reason) in reasons {
        result.findings[index].waived.get_or_insert(reason);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::waivers::{Baseline, day};
    use std::path::Path;

    fn drawing() -> DrawingResult {
        let finding = FindingResult {
            rule: "count-differs".into(),
            level: "warn".into(),
            message: "4 said, 5 found".into(),
            ..FindingResult::default()
        };
        DrawingResult { state: "read".to_owned(), findings: vec![finding], ..DrawingResult::default() }
    }

    fn waivers(expires: Option<&str>) -> Vec<Waiver> {
        let mut baseline = Baseline::default();
        for (_, named) in named(&drawing()) {
            baseline.accept(Path::new("lid.dxf"), Path::new("w.json"), &named, &[]);
        }
        let expires = expires.and_then(day);
        baseline.into_waivers().map(|waiver| Waiver { expires, ..waiver }).collect()
    }

    fn after(result: &mut DrawingResult, waivers: &[Waiver]) -> Vec<(bool, bool)> {
        let waiving = Waiving { file: "w.json", waivers, today: day("2027-01-31").unwrap() };
        apply(result, &waiving).iter().map(|held| (held.is_used, held.is_expired)).collect()
    }

    #[test]
    fn a_covered_finding_is_marked_and_an_expired_waiver_is_not_unused() {
        let mut result = drawing();
        assert_eq!(after(&mut result, &waivers(None)), [(true, false)]);
        assert_eq!(result.findings[0].waived.as_deref(), Some("accepted as it was found (baseline)"));
        let mut result = drawing();
        assert_eq!(after(&mut result, &waivers(Some("2027-01-30"))), [(true, true)]);
        assert_eq!(result.findings[0].waived, None);
    }

    #[test]
    fn a_waiver_of_what_is_no_longer_found_is_unused_unless_nothing_could_be_found() {
        let mut result = DrawingResult { findings: Vec::new(), ..drawing() };
        assert_eq!(after(&mut result, &waivers(None)), [(false, false)]);
        result.state = "unreadable".to_owned();
        assert_eq!(after(&mut result, &waivers(None)), []);
    }
}
