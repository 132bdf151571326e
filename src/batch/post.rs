//! What a thread is at, so that another can see that it takes too long, and take the work away.

use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// The post of a thread that does one piece of work after another. Shared by that thread and the one that watches.
#[derive(Debug, Default)]
pub(super) struct Post(Mutex<At>);

#[derive(Debug, Default, Clone, Copy)]
enum At {
    /// Nothing that is timed.
    #[default]
    Ease,
    /// A piece of work, by its number, since a moment.
    Work(usize, Instant),
    /// The work was taken away.
    Relieved,
}

impl Post {
    /// Begins a piece of work.
    pub(super) fn begin(&self, number: usize) {
        *self.locked() = At::Work(number, Instant::now());
    }

    /// Ends it. False if it took too long: then it was taken away, its result counts for nothing, and the thread must end.
    pub(super) fn end(&self) -> bool {
        let mut at = self.locked();
        if matches!(*at, At::Relieved) {
            return false;
        }
        *at = At::Ease;
        true
    }

    /// Takes the work away if it has taken as long as `limit`; its number.
    pub(super) fn relieve(&self, now: Instant, limit: Duration) -> Option<usize> {
        let mut at = self.locked();
        let At::Work(number, since) = *at else { return None };
        if now.saturating_duration_since(since) < limit {
            return None;
        }
        *at = At::Relieved;
        Some(number)
    }

    /// Since when it works, if it does.
    pub(super) fn since(&self) -> Option<Instant> {
        let At::Work(_, since) = *self.locked() else { return None };
        Some(since)
    }

    fn locked(&self) -> MutexGuard<'_, At> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LIMIT: Duration = Duration::from_secs(10);

    #[test]
    fn work_is_taken_away_once_its_time_is_over_and_its_result_counts_for_nothing() {
        let post = Post::default();
        let later = Instant::now() + LIMIT;
        assert_eq!((post.since(), post.relieve(later, LIMIT)), (None, None), "nothing was begun");
        post.begin(7);
        let since = post.since().unwrap();
        assert_eq!(post.relieve(since + LIMIT / 2, LIMIT), None);
        assert!(post.end());
        assert_eq!(post.relieve(since + LIMIT, LIMIT), None, "it ended in time");
        post.begin(8);
        let since = post.since().unwrap();
        assert_eq!(post.relieve(since + LIMIT, LIMIT), Some(8));
        assert_eq!(post.relieve(since + 2 * LIMIT, LIMIT), None, "it is told once");
        assert!(!post.end());
    }
}
