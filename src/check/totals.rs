//! Results of drawings to a report with its sums. Used for a run and for joined ledgers alike.

use super::{DrawingResult, Report, Tool, Totals};

/// Version of the report's format.
const FORMAT: u32 = 1;

impl Report {
    /// The report of these results, in their order.
    pub fn of(drawings: Vec<DrawingResult>) -> Report {
        let mut totals = Totals::default();
        for drawing in &drawings {
            totals.add(drawing);
        }
        Report { format: FORMAT, tool: Tool::this(), totals, drawings }
    }
}

impl Tool {
    /// This program.
    pub fn this() -> Tool {
        Tool { name: env!("CARGO_PKG_NAME").to_owned(), version: env!("CARGO_PKG_VERSION").to_owned() }
    }
}

impl Totals {
    /// Counts one more drawing.
    pub fn add(&mut self, drawing: &DrawingResult) {
        self.drawings += 1;
        self.unreadable += u64::from(drawing.state == "unreadable");
        self.partly_read += u64::from(drawing.state == "partly-read");
        for hole in &drawing.holes {
            self.holes += 1;
            self.screw_holes += u64::from(hole.screw.is_some());
            match hole.verdict.as_deref() {
                Some("in-band") => self.in_band += 1,
                Some("straddles") => self.straddles += 1,
                Some("tight") => self.tight += 1,
                Some("loose") => self.loose += 1,
                Some("undetermined") => self.undetermined += 1,
                _ => {}
            }
        }
        for finding in &drawing.findings {
            match (&finding.waived, finding.level.as_str()) {
                (Some(_), _) => self.waived += 1,
                (None, "fail") => self.fail += 1,
                (None, "warn") => self.warn += 1,
                (None, _) => self.note += 1,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::FindingResult;
    use crate::drawing::ReadState;
    use crate::shared::SharedText;
    use crate::verdict::Verdict;

    #[test]
    fn names_counted_are_those_that_results_carry() {
        for state in [ReadState::Read, ReadState::PartlyRead, ReadState::Unreadable] {
            let mut totals = Totals::default();
            totals.add(&DrawingResult { state: state.name().to_owned(), ..DrawingResult::default() });
            assert_eq!(totals.unreadable + totals.partly_read, u64::from(state != ReadState::Read));
        }
        let verdicts =
            [Verdict::InBand, Verdict::Straddles, Verdict::Tight, Verdict::Loose, Verdict::Undetermined];
        assert_eq!(
            verdicts.map(Verdict::name),
            ["in-band", "straddles", "tight", "loose", "undetermined"],
            "the names that `add` counts"
        );
    }

    #[test]
    fn waived_findings_count_only_as_waived() {
        let finding = |level: &str, waived: Option<&str>| FindingResult {
            rule: "engagement-above-band".into(),
            level: level.to_owned().into(),
            waived: waived.map(SharedText::copied),
            ..FindingResult::default()
        };
        let drawing = DrawingResult {
            findings: vec![
                finding("fail", None),
                finding("fail", Some("trial 12")),
                finding("warn", None),
                finding("note", None),
            ],
            ..DrawingResult::default()
        };
        let totals = Report::of(vec![drawing.clone(), drawing]).totals;
        assert_eq!((totals.drawings, totals.fail, totals.warn, totals.note, totals.waived), (2, 2, 2, 2, 2));
    }
}
