//! Many drawings in parallel to results in the order of the drawings. Owns rayon and the progress counter; prints
//! nothing and never decides what is right.

mod discover;
mod exit;
mod read;

pub use discover::{Discovery, PathFault, discover, shown_path};
pub use exit::exit_code;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, AtomicUsize, Ordering};

use jiff::civil::Date;

use crate::check::{Against, DrawingResult, Report, Waiving, check, unopened};
use crate::hole_list::HoleLists;
use crate::joint::Defaults;
use crate::settings::Policies;
use crate::trial::Trials;
use crate::waivers::Waivers;

/// Stack of each worker (bytes): as large as a main thread's, because nested blocks are read by recursion.
const WORKER_STACK: usize = 8 << 20;

/// What a run is asked to do.
#[derive(Debug)]
pub struct Run<'a> {
    /// The drawings, sorted.
    pub drawings: &'a [PathBuf],
    /// The hole lists.
    pub lists: &'a HoleLists,
    /// The policies.
    pub policies: &'a Policies,
    /// The trial records that the lists name.
    pub trials: &'a Trials,
    /// What the command line says.
    pub defaults: &'a Defaults,
    /// What was accepted, if a file says so, and the day on which that is asked.
    pub waivers: Option<(&'a Waivers, Date)>,
    /// Whether drawings with findings shall have a picture.
    pub pictured: bool,
    /// Whether tapped holes shall be looked at for what a rolling screw could replace.
    pub converting: bool,
    /// How many threads; 0 for one a core.
    pub jobs: usize,
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
pub fn run(run: &Run<'_>, progress: &Progress) -> Report {
    Report::of(each(run, progress, |_, result| result))
}

/// Checks every drawing of a run and gives each result with the drawing's path at once, on the thread that found it, to `then`, so that a
/// caller need not hold the results of a whole library. What `then` gives comes back in the order of the drawings,
/// whatever the number of threads.
pub fn each<T: Send>(
    run: &Run<'_>,
    progress: &Progress,
    then: impl Fn(&Path, DrawingResult) -> T + Sync,
) -> Vec<T> {
    each_unless(run, progress, |_, _| None, then)
}

/// As [`each`], but a drawing for which `known` gives something, from its path and the bytes of its file, is not checked,
/// and counts as done.
pub fn each_unless<T: Send>(
    run: &Run<'_>,
    progress: &Progress,
    known: impl Fn(&Path, &[u8]) -> Option<T> + Sync,
    then: impl Fn(&Path, DrawingResult) -> T + Sync,
) -> Vec<T> {
    let order = largest_first(run.drawings);
    let next = AtomicUsize::new(0);
    let work = || {
        let mut buffer = Vec::new();
        let mut results = Vec::new();
        while let Some(&index) = order.get(next.fetch_add(1, Ordering::Relaxed)) {
            let path = &run.drawings[index];
            let outcome = one(path, run, &mut buffer, &known);
            progress.done.fetch_add(1, Ordering::Relaxed);
            let result = match outcome {
                Outcome::Known(known) => known,
                Outcome::Checked(result) => {
                    progress.findings.fetch_add(result.findings.len() as u64, Ordering::Relaxed);
                    then(path, *result)
                }
            };
            results.push((index, result));
        }
        results
    };
    let threads = if run.jobs == 0 { rayon::current_num_threads() } else { run.jobs };
    let threads = threads.min(run.drawings.len()).max(1);
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).stack_size(WORKER_STACK).build();
    let mut results: Vec<(usize, T)> = match pool {
        Ok(pool) => pool.broadcast(|_| work()).into_iter().flatten().collect(),
        // No thread could be started: the work is still done, on this one.
        Err(_) => work(),
    };
    results.sort_by_key(|&(index, _)| index);
    results.into_iter().map(|(_, result)| result).collect()
}

/// What became of a drawing.
enum Outcome<T> {
    /// It was known.
    Known(T),
    /// It was checked.
    Checked(Box<DrawingResult>),
}

/// Checks one drawing unless it is known. A panic costs that drawing only.
fn one<T>(
    path: &Path,
    run: &Run<'_>,
    buffer: &mut Vec<u8>,
    known: impl Fn(&Path, &[u8]) -> Option<T>,
) -> Outcome<T> {
    let shown = shown_path(path);
    let policy = run.policies.for_drawing(path);
    let waiving =
        run.waivers.map(|(waivers, today)| Waiving { file: &waivers.file, waivers: waivers.of(path), today });
    let against = Against {
        rows: None,
        defaults: run.defaults,
        policy,
        trials: run.trials,
        waiving,
        pictured: run.pictured,
        converting: run.converting,
    };
    let checked = guarded(|| {
        let rows = run.lists.rows_for(path);
        let against = Against { rows: rows.as_ref(), ..against };
        if let Err(reason) = read::into_buffer(path, buffer) {
            return Outcome::checked(unopened(
                &shown,
                &format!("the file cannot be read: {reason}"),
                against,
            ));
        }
        match known(path, buffer) {
            Some(known) => Outcome::Known(known),
            None => Outcome::checked(check(&shown, buffer, against)),
        }
    });
    checked.unwrap_or_else(|said| {
        let reason = format!("the check of this drawing broke off by a fault of the program: {said}");
        Outcome::checked(unopened(&shown, &reason, against))
    })
}

impl<T> Outcome<T> {
    fn checked(result: DrawingResult) -> Self {
        Outcome::Checked(Box::new(result))
    }
}

/// Does some work; what a panic in it said, if there is one.
fn guarded<T>(work: impl FnOnce() -> T) -> Result<T, String> {
    catch_unwind(AssertUnwindSafe(work)).map_err(|panic| {
        let text = panic.downcast_ref::<String>().map(String::as_str);
        text.or_else(|| panic.downcast_ref::<&str>().copied()).unwrap_or("it left no message").to_owned()
    })
}

/// Indices of the drawings, largest file first, so that no thread is left alone with a large one at the end.
fn largest_first(drawings: &[PathBuf]) -> Vec<usize> {
    let size = |path: &PathBuf| std::fs::metadata(path).map_or(0, |m| m.len());
    let mut order: Vec<(u64, usize)> = drawings.iter().map(size).zip(0..).collect();
    order.sort_by_key(|&(size, index)| (std::cmp::Reverse(size), index));
    order.into_iter().map(|(_, index)| index).collect()
}

#[cfg(test)]
mod tests;
