//! Progress of a run on standard error: drawings done, rate, findings so far, time left. Drawn only once a run
//! takes longer than a moment, and cleared before the results.

use std::io::Write;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::args::When;
use super::terminal;
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

/// How to show progress, by what was asked and where standard error goes.
pub(super) fn show(when: When, quiet: bool) -> Show {
    match when {
        When::Never => Show::Nothing,
        When::Always if terminal::errors_on_terminal() => Show::Bar,
        When::Always => Show::Lines,
        When::Auto if quiet || !terminal::errors_on_terminal() => Show::Nothing,
        When::Auto => Show::Bar,
    }
}

/// Does `work` while its progress is shown.
pub(super) fn during<T>(show: Show, total: u64, work: impl FnOnce(&Arc<Progress>) -> T) -> T {
    let progress = Arc::<Progress>::default();
    if show == Show::Nothing {
        return work(&progress);
    }
    std::thread::scope(|scope| {
        let (stop, stopped) = channel::<()>();
        let shown = &*progress;
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
    if let Ok(style) = ProgressStyle::with_template("{wide_bar} {msg}") {
        bar.set_style(style.progress_chars("#- "));
    }
    loop {
        bar.set_message(said(progress, total, begun.elapsed()));
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
        let _ = writeln!(std::io::stderr(), "boreband: {}", said(progress, total, begun.elapsed()));
        wait = LINE_EVERY;
    }
}

/// `5610 of 8000 drawings, 157 a second, 7226 findings, 15 s left`.
fn said(progress: &Progress, total: u64, elapsed: Duration) -> String {
    let done = progress.done.load(Ordering::Relaxed);
    let findings = progress.findings.load(Ordering::Relaxed);
    let rate = done as f64 / elapsed.as_secs_f64();
    let left = total.saturating_sub(done) as f64 / rate;
    format!(
        "{done} of {total} drawings, {} a second, {findings} {}, {}",
        if rate.is_finite() { format!("{rate:.0}") } else { "0".to_owned() },
        if findings == 1 { "finding" } else { "findings" },
        time_left(left)
    )
}

/// Seconds as a person says them.
fn time_left(seconds: f64) -> String {
    if !seconds.is_finite() {
        "time left unknown".to_owned()
    } else if seconds < 120.0 {
        format!("{seconds:.0} s left")
    } else if seconds < 7200.0 {
        format!("{:.0} min left", seconds / 60.0)
    } else {
        format!("{:.1} h left", seconds / 3600.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rate_and_time_left_follow_from_what_is_done() {
        let progress = Progress::default();
        progress.done.store(100, Ordering::Relaxed);
        progress.findings.store(1, Ordering::Relaxed);
        // 100 in 2 s are 50 a second; 900 more take 18 s.
        assert_eq!(
            said(&progress, 1000, Duration::from_secs(2)),
            "100 of 1000 drawings, 50 a second, 1 finding, 18 s left"
        );
        let none = said(&Progress::default(), 5, Duration::from_secs(1));
        assert!(none.ends_with("0 a second, 0 findings, time left unknown"), "{none}");
    }

    #[test]
    fn long_times_are_rounded() {
        assert_eq!(time_left(119.4), "119 s left");
        assert_eq!(time_left(600.0), "10 min left");
        assert_eq!(time_left(9000.0), "2.5 h left");
    }

    #[test]
    fn the_work_is_done_however_it_is_shown() {
        for show in [Show::Nothing, Show::Bar, Show::Lines] {
            assert_eq!(during(show, 3, |p| p.done.fetch_add(3, Ordering::Relaxed) + 4), 4);
        }
    }
}
