//! Progress of a run on standard error: drawings done, rate, findings so far, time left. Drawn only once a run
//! takes longer than a moment, and cleared before the results.

use std::io::Write;
use std::sync::atomic::Ordering;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::batch::Progress;

/// Runs shorter than this show nothing.
const MOMENT: Duration = Duration::from_millis(700);
/// Between two looks at the counters.
const TICK: Duration = Duration::from_millis(120);
/// Between two lines where standard error is no terminal.
const LINE_EVERY: Duration = Duration::from_secs(5);

/// How progress is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Show {
    /// Not at all.
    Nothing,
    /// A bar that redraws itself.
    Bar,
    /// A line now and then, for logs.
    Lines,
}

/// Does `work` while its progress is shown.
pub(super) fn during<T>(show: Show, total: u64, work: impl FnOnce(&Progress) -> T) -> T {
    let progress = Progress::default();
    if show == Show::Nothing {
        return work(&progress);
    }
    std::thread::scope(|scope| {
        let (stop, stopped) = channel::<()>();
        let shown = &progress;
        let watcher = scope.spawn(move || match show {
            Show::Lines => lines(shown, total, &stopped),
            _ => bar(shown, total, &stopped),
        });
        let result = work(&progress);
        drop(stop);
        let _ = watcher.join();
        result
    })
}

/// Waits; false once the work has ended.
fn goes_on(stopped: &Receiver<()>, wait: Duration) -> bool {
    stopped.recv_timeout(wait) == Err(RecvTimeoutError::Timeout)
}

fn bar(progress: &Progress, total: u64, stopped: &Receiver<()>) {
    let begun = Instant::now();
    if !goes_on(stopped, MOMENT) {
        return;
    }
    let bar = ProgressBar::with_draw_target(Some(total), ProgressDrawTarget::stderr());
    let form = "{bar:24} {pos} of {len} drawings   {per_sec}   {msg}   {eta} left";
    if let Ok(style) = ProgressStyle::with_template(form) {
        let rate = |state: &indicatif::ProgressState, out: &mut dyn std::fmt::Write| {
            let _ = write!(out, "{:.0} a second", state.per_sec());
        };
        bar.set_style(style.progress_chars("=- ").with_key("per_sec", rate));
    }
    bar.set_elapsed(begun.elapsed());
    loop {
        bar.set_message(findings(progress));
        bar.set_position(progress.done.load(Ordering::Relaxed));
        if !goes_on(stopped, TICK) {
            break;
        }
    }
    bar.finish_and_clear();
}

fn lines(progress: &Progress, total: u64, stopped: &Receiver<()>) {
    let begun = Instant::now();
    let mut wait = MOMENT;
    while goes_on(stopped, wait) {
        let done = progress.done.load(Ordering::Relaxed);
        let rate = done as f64 / begun.elapsed().as_secs_f64();
        let left = (total.saturating_sub(done)) as f64 / rate;
        let left =
            if left.is_finite() { format!("{left:.0} s left") } else { "time left unknown".to_owned() };
        let said = findings(progress);
        let _ = writeln!(
            std::io::stderr(),
            "boreband: {done} of {total} drawings, {rate:.0} a second, {said}, {left}"
        );
        wait = LINE_EVERY;
    }
}

fn findings(progress: &Progress) -> String {
    match progress.findings.load(Ordering::Relaxed) {
        1 => "1 finding".to_owned(),
        n => format!("{n} findings"),
    }
}
