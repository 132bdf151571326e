//! The sums of a run to the exit code of `check` and `audit`.

use crate::check::Totals;
use crate::finding::Level;

/// The exit code of a run by its sums: 2 if any drawing could not be read whole, else 1 if a finding that is not waived is
/// at or above `fail_on`, else 0. With `None` findings alone give 0.
pub fn exit_code(totals: &Totals, fail_on: Option<Level>) -> u8 {
    if totals.unreadable + totals.partly_read > 0 {
        return 2;
    }
    let counted = match fail_on {
        None => 0,
        Some(Level::Fail) => totals.fail,
        Some(Level::Warn) => totals.fail + totals.warn,
        Some(Level::Note) => totals.fail + totals.warn + totals.note,
    };
    u8::from(counted > 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn threshold_decides_between_0_and_1() {
        let warned = Totals { drawings: 1, warn: 1, ..Totals::default() };
        assert_eq!(exit_code(&warned, Some(Level::Fail)), 0);
        assert_eq!(exit_code(&warned, Some(Level::Warn)), 1);
        assert_eq!(exit_code(&warned, Some(Level::Note)), 1);
        assert_eq!(exit_code(&warned, None), 0);
        let failed = Totals { drawings: 1, fail: 2, ..Totals::default() };
        assert_eq!(exit_code(&failed, Some(Level::Fail)), 1);
        assert_eq!(exit_code(&failed, None), 0);
        let noted = Totals { drawings: 1, note: 1, ..Totals::default() };
        assert_eq!(exit_code(&noted, Some(Level::Warn)), 0);
        assert_eq!(exit_code(&noted, Some(Level::Note)), 1);
    }

    #[test]
    fn waived_findings_do_not_count() {
        let waived = Totals { drawings: 1, waived: 3, ..Totals::default() };
        assert_eq!(exit_code(&waived, Some(Level::Note)), 0);
    }

    #[test]
    fn a_drawing_not_read_whole_gives_2_whatever_the_threshold() {
        for totals in [
            Totals { drawings: 2, unreadable: 1, ..Totals::default() },
            Totals { drawings: 2, partly_read: 1, ..Totals::default() },
        ] {
            assert_eq!(exit_code(&totals, None), 2);
            assert_eq!(exit_code(&totals, Some(Level::Fail)), 2);
        }
    }
}
