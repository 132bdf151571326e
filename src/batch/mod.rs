//! Many drawings in parallel to results in the order of the drawings. Owns the threads and the progress counter; prints
//! nothing and never decides what is right.
//!
//! Drawings are read ahead by a few threads (`ahead`), checked by as many as there are jobs (`hand`), and handed to the
//! caller by as many again, each of which waits for its checking thread or works itself, so that as many jobs as were asked
//! for are at work. These are plain threads: those of a pool cannot be left behind when a drawing takes too long.

mod ahead;
mod archive;
mod discover;
mod exit;
mod hand;
mod source;

pub use discover::{Discovery, PathFault, discover, shown_path};
pub use exit::exit_code;
pub use source::{Facts, Files};

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use jiff::civil::Date;

use crate::check::{Against, DrawingResult, Report, Waiving, check, unopened};
use crate::hole_list::HoleLists;
use crate::joint::Defaults;
use crate::settings::Policies;
use crate::trial::Trials;
use crate::waivers::Waivers;
use ahead::{Ahead, Drawn, Unread};
use hand::{Hand, Late, STACK};
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

/// Checks every drawing of a run. The report depends on the inputs only, not on the number of threads.
pub fn run(run: &Run, progress: &Progress) -> Report {
    Report::of(each(run, progress, |_, result| result))
}

/// Checks every drawing of a run and gives each result with the drawing's path at once, on the thread that found it, to `then`, so that a
/// caller need not hold the results of a whole library. What `then` gives comes back in the order of the drawings,
/// whatever the number of threads.
pub fn each<T: Send>(
    run: &Run,
    progress: &Progress,
    then: impl Fn(&Path, DrawingResult) -> T + Sync,
) -> Vec<T> {
    each_unless(run, progress, |_, _| None, then)
}

/// As [`each`], but a drawing for which `known` gives something, from its path and the bytes of its file, is not checked,
/// and counts as done.
pub fn each_unless<T: Send>(
    run: &Run,
    progress: &Progress,
    known: impl Fn(&Path, &[u8]) -> Option<T> + Sync,
    then: impl Fn(&Path, DrawingResult) -> T + Sync,
) -> Vec<T> {
    each_from(Arc::clone(&run.files) as Arc<dyn Source>, run, progress, &known, &then)
}

/// As [`each_unless`], with the bytes of the drawings from anywhere.
fn each_from<T: Send>(
    source: Arc<dyn Source>,
    run: &Run,
    progress: &Progress,
    known: &(impl Fn(&Path, &[u8]) -> Option<T> + Sync),
    then: &(impl Fn(&Path, DrawingResult) -> T + Sync),
) -> Vec<T> {
    let cores = || std::thread::available_parallelism().map_or(1, usize::from);
    let jobs = if run.jobs == 0 { cores() } else { run.jobs };
    let jobs = jobs.min(run.drawings.len()).max(1);
    let ahead = Ahead::start(source, Arc::clone(&run.drawings), jobs, run.time_limit);
    let work = || work(&ahead, run, progress, known, then);
    let mut results: Vec<(usize, T)> = std::thread::scope(|scope| {
        let start = |_| std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, work).ok();
        let owners: Vec<_> = (0..jobs).map_while(start).collect();
        // If no thread could be started the work is still done, on this one.
        let mut results = if owners.is_empty() { work() } else { Vec::new() };
        for owner in owners {
            match owner.join() {
                Ok(more) => results.extend(more),
                Err(panic) => {
                    ahead.close();
                    std::panic::resume_unwind(panic);
                }
            }
        }
        results
    });
    ahead.close();
    results.sort_by_key(|&(index, _)| index);
    results.into_iter().map(|(_, result)| result).collect()
}

/// Has drawings checked, one after another, until there is none.
fn work<T>(
    ahead: &Arc<Ahead>,
    run: &Run,
    progress: &Progress,
    known: &impl Fn(&Path, &[u8]) -> Option<T>,
    then: &impl Fn(&Path, DrawingResult) -> T,
) -> Vec<(usize, T)> {
    let shared = run.clone();
    let mut hand = Hand::new(Arc::new(move |(index, bytes): (usize, Vec<u8>)| {
        let result = Box::new(checked(&shared, &shared.drawings[index], &bytes));
        (result, bytes)
    }));
    let mut results = Vec::new();
    while let Some(Drawn { index, bytes }) = ahead.next() {
        let path = &run.drawings[index];
        let known = bytes.as_ref().ok().map(|bytes| guarded(|| known(path, bytes)));
        let result = match (known, bytes) {
            (Some(Ok(Some(known))), Ok(bytes)) => {
                ahead.give_back(bytes);
                Ok(known)
            }
            (Some(Err(said)), _) => Err(broken_off(run, path, &said)),
            (_, Ok(bytes)) => Err(match hand.work((index, bytes), run.time_limit) {
                Ok((result, bytes)) => {
                    ahead.give_back(bytes);
                    *result
                }
                Err(Late) => late(run, path, "check"),
            }),
            (_, Err(Unread::Late)) => Err(late(run, path, "reading")),
            (_, Err(Unread::Failed(reason))) => {
                Err(without_bytes(run, path, &format!("the file cannot be read: {reason}")))
            }
        };
        progress.done.fetch_add(1, Ordering::Relaxed);
        let outcome = result.unwrap_or_else(|result| {
            progress.findings.fetch_add(result.findings.len() as u64, Ordering::Relaxed);
            then(path, result)
        });
        results.push((index, outcome));
    }
    results
}

/// Checks the bytes of one drawing. A panic costs that drawing only.
fn checked(run: &Run, path: &Path, bytes: &[u8]) -> DrawingResult {
    let checked = guarded(|| {
        let rows = run.lists.rows_for(path);
        check(&shown_path(path), bytes, Against { rows: rows.as_ref(), ..against(run, path) })
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
