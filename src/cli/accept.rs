//! `--waivers`, `--write-waivers` and `--today`: what was accepted before, and accepting what a run finds.

use std::cell::LazyCell;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use jiff::civil::Date;

use super::args::CheckArgs;
use super::output::{self, Refused};
use super::whole_file::WholeFile;
use crate::check::{DrawingResult, named};
use crate::report::json;
use crate::rules::RULES;
use crate::settings::FIXED_RULES;
use crate::waivers::{Baseline, Waivers, today};

/// What the arguments say of waivers.
pub(super) struct Accepting {
    before: Option<(Arc<Waivers>, Date)>,
    file: Option<Accepted>,
}

/// A baseline in the making.
struct Accepted {
    file: WholeFile,
    /// What the file said before, whose reasons stay.
    earlier: Waivers,
    today: Date,
    baseline: Mutex<Baseline>,
}

impl Accepting {
    /// Reads what was accepted, and begins the file of what will be.
    ///
    /// # Errors
    /// All that is wrong with either.
    pub(super) fn begin(args: &CheckArgs) -> Result<Accepting, Refused> {
        let mut wrong = Refused::default();
        // Asked only where it counts: which day it is here takes a look at all time zones that the system knows.
        let day = LazyCell::new(|| args.today.unwrap_or_else(today));
        let before = args.waivers.as_deref().and_then(|path| wrong.unless(read(path)));
        let before = before.map(|waivers| (Arc::new(waivers), *day));
        let file = args.write_waivers.as_deref().and_then(|path| {
            // A pipe or a device holds no earlier waivers, and may never end.
            let earlier = if path.is_file() { wrong.unless(read(path))? } else { Waivers::default() };
            let file = wrong.unless(WholeFile::begin(path))?;
            Some(Accepted { file, earlier, today: *day, baseline: Mutex::default() })
        });
        wrong.or_ok()?;
        Ok(Accepting { before, file })
    }

    /// The waivers that count in this run.
    pub(super) fn waivers(&self) -> Option<(Arc<Waivers>, Date)> {
        self.before.clone()
    }

    /// Accepts what was found in a drawing, if that was asked.
    pub(super) fn add(&self, path: &Path, result: &DrawingResult) {
        let Some(accepted) = &self.file else { return };
        let known = accepted
            .earlier
            .of(path)
            .iter()
            .chain(self.before.iter().flat_map(|(before, _)| before.of(path)));
        let known: Vec<_> = known.filter(|waiver| !waiver.is_expired(accepted.today)).cloned().collect();
        let mut baseline = accepted.baseline.lock().unwrap_or_else(PoisonError::into_inner);
        for (_, finding) in named(result).filter(|(_, finding)| can_be_waived(finding.rule)) {
            baseline.accept(path, accepted.file.path(), &finding, &known);
        }
    }

    /// Writes the file, if one was asked for, and says how much stands in it.
    ///
    /// # Errors
    /// If it cannot be written.
    pub(super) fn finish(self, drawings: &[PathBuf], quiet: bool) -> Result<(), Refused> {
        let Some(Accepted { file, earlier, baseline, .. }) = self.file else { return Ok(()) };
        let mut baseline = baseline.into_inner().unwrap_or_else(PoisonError::into_inner);
        baseline.keep(&earlier, drawings);
        let said = format!("{} waivers in {}", baseline.count(), file.path().display());
        file.finish(|out| json::write(&baseline.file(), out))?;
        if !quiet {
            output::tell([said]);
        }
        Ok(())
    }
}

/// Reads a file of waivers.
///
/// # Errors
/// All its faults.
pub(super) fn read(path: &Path) -> Result<Waivers, Refused> {
    let rules: Vec<&str> = RULES.iter().map(|rule| rule.name).filter(|name| can_be_waived(name)).collect();
    Waivers::load(path, &rules).map_err(Refused::all)
}

/// No waiver hides a drawing that was not read whole, and none is about another.
fn can_be_waived(rule: &str) -> bool {
    !FIXED_RULES.contains(&rule) && !rule.starts_with("waiver-")
}
