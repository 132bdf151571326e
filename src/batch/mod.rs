//! Many drawings in parallel to results in the order of the drawings. Owns the threads and the progress counter; prints
//! nothing and never decides what is right.
//!
//! As many threads as there are jobs read, check and hand over one drawing after another (`crew`), while the calling thread
//! watches that none takes too long; where reading is slow, some more read ahead (`ahead`). These are plain threads: those of
//! a pool cannot be left behind when a drawing takes too long.

mod ahead;
mod archive;
mod buffer;
mod crew;
mod discover;
mod exit;
mod post;
mod source;

pub use discover::{Discovery, PathFault, discover, shown_path};
pub use exit::exit_code;
pub use source::{Facts, Files};

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicU64;
use std::time::Duration;

use jiff::civil::Date;

use crate::check::{Against, DrawingResult, Report, Waiving, check, unopened};
use crate::hole_list::HoleLists;
use crate::joint::Defaults;
use crate::settings::Policies;
use crate::trial::Trials;
use crate::waivers::Waivers;
pub use buffer::Buffer;
use crew::Means;
use source::Source;

/// What a run is asked to do. What it holds is shared with the threads that check, since one that is left behind may
/// outlive the run.
#[derive(Debug, Clone)]
pub struct Run {
    /// The drawings, sorted.
    pub drawings: Arc<Vec<PathBuf>>,
    /// What gives their bytes.
    pub files: Arc<Files>,
    /// The hole lists.
    pub lists: Arc<HoleLists>,
    /// The policies.
    pub policies: Arc<Policies>,
    /// The trial records that the lists name.
    pub trials: Arc<Trials>,
    /// What the command line says.
    pub defaults: Arc<Defaults>,
    /// What was accepted, if a file says so, and the day on which that is asked.
    pub waivers: Option<(Arc<Waivers>, Date)>,
    /// Whether drawings with findings shall have a picture.
    pub pictured: bool,
    /// Whether tapped holes shall be looked at for what a rolling screw could replace.
    pub converting: bool,
    /// Whether results shall state the digests of their files.
    pub digested: bool,
    /// How many drawings are checked at the same time; 0 for one a core.
    pub jobs: usize,
    /// How long the reading, and how long the check, of a drawing may take before it is left behind as unreadable; none
    /// for as long as it takes. This is the only thing by which a report depends on the clock.
    pub time_limit: Option<Duration>,
}

/// Counts that a progress display reads while a run goes on.
#[derive(Debug, Default)]
pub struct Progress {
    /// Drawings done.
    pub done: AtomicU64,
    /// Findings so far.
    pub findings: AtomicU64,
}

/// Takes what comes of the drawings of a run. Shared by all threads, and owned by the run while it lasts, since a thread
/// that is left behind may outlive it.
pub trait Taking: Send + Sync + 'static {
    /// What is kept of a drawing.
    type Kept: Send + 'static;

    /// What is kept of a drawing that need not be checked, by its path and the bytes of its file; none if it must be.
    fn known(&self, _path: &Path, _bytes: &[u8]) -> Option<Self::Kept> {
        None
    }

    /// Takes the result of a drawing, on the thread that checked it.
    fn take(&self, path: &Path, result: DrawingResult) -> Self::Kept;
}

impl<F, K> Taking for F
where
    F: Fn(&Path, DrawingResult) -> K + Send + Sync + 'static,
    K: Send + 'static,
{
    type Kept = K;

    fn take(&self, path: &Path, result: DrawingResult) -> K {
        self(path, result)
    }
}

/// Checks every drawing of a run. The report depends on the inputs only, not on the number of threads.
pub fn run(run: &Run, progress: &Arc<Progress>) -> Report {
    Report::of(each(run, progress, |_: &Path, result| result).1)
}

/// Checks every drawing of a run, unless it is known, and gives each result at once to `taking`, so that a caller need not
/// hold the results of a whole library. What it keeps comes back in the order of the drawings, whatever the number of
/// threads, and `taking` itself.
///
/// # Panics
/// If `taking` does.
pub fn each<T: Taking>(run: &Run, progress: &Arc<Progress>, taking: T) -> (T, Vec<T::Kept>) {
    let means = Means { source: Arc::clone(&run.files) as Arc<dyn Source>, check: checked };
    crew::each(means, run, progress, taking)
}

/// Checks the bytes of one drawing; takes those that are too many for their memory to be kept. A panic costs that drawing
/// only.
fn checked(run: &Run, path: &Path, bytes: &mut Buffer) -> DrawingResult {
    let checked = guarded(|| {
        let rows = run.lists.rows_for(path);
        let against = Against { rows: rows.as_ref(), ..against(run, path) };
        if bytes.is_kept() {
            check(&shown_path(path), &*bytes, against)
        } else {
            check(&shown_path(path), std::mem::take(bytes), against)
        }
    });
    checked.unwrap_or_else(|said| broken_off(run, path, &said))
}

/// What a drawing is checked against, its rows left out.
fn against<'a>(run: &'a Run, path: &Path) -> Against<'a> {
    let waiving = run.waivers.as_ref().map(|(waivers, today)| Waiving {
        file: &waivers.file,
        waivers: waivers.of(path),
        today: *today,
    });
    Against {
        rows: None,
        defaults: &run.defaults,
        policy: run.policies.for_drawing(path),
        trials: &run.trials,
        waiving,
        pictured: run.pictured,
        converting: run.converting,
        reasoned: false,
        digested: run.digested,
    }
}

/// The result of a drawing of which there is nothing to check, for `reason`.
fn without_bytes(run: &Run, path: &Path, reason: &str) -> DrawingResult {
    unopened(&shown_path(path), reason, against(run, path))
}

fn broken_off(run: &Run, path: &Path, said: &str) -> DrawingResult {
    let reason = format!("the check of this drawing broke off by a fault of the program: {said}");
    without_bytes(run, path, &reason)
}

/// The result of a drawing whose reading or check took too long. No measured time is in it.
fn late(run: &Run, path: &Path, what: &str) -> DrawingResult {
    let limit = run.time_limit.unwrap_or_default().as_secs_f64();
    let reason = format!(
        "the {what} of this drawing had not ended after {limit} s and was left behind; --time-limit allows it more time"
    );
    without_bytes(run, path, &reason)
}

/// Does some work; what a panic in it said, if there is one.
fn guarded<T>(work: impl FnOnce() -> T) -> Result<T, String> {
    catch_unwind(AssertUnwindSafe(work)).map_err(|panic| {
        let text = panic.downcast_ref::<String>().map(String::as_str);
        text.or_else(|| panic.downcast_ref::<&str>().copied()).unwrap_or("it left no message").to_owned()
    })
}

#[cfg(test)]
mod tests;
