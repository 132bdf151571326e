//! A thread that does one piece of work at a time and can be left behind when a piece does not end. What the work is, it
//! does not know.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, sync_channel};
use std::time::Duration;

/// Stack of each thread (bytes): as large as a main thread's, because nested blocks are read by recursion.
pub(super) const STACK: usize = 8 << 20;

/// The work of a hand. It owns all that it needs, since a thread that is left behind may outlive the run.
pub(super) type Work<J, R> = Arc<dyn Fn(J) -> R + Send + Sync>;

/// A thread at work for one owner, and started anew when it had to be left behind.
pub(super) struct Hand<J, R> {
    work: Work<J, R>,
    thread: Option<Thread<J, R>>,
}

struct Thread<J, R> {
    jobs: SyncSender<J>,
    results: Receiver<R>,
}

/// The work did not end in time, and its thread was left behind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Late;

impl<J: Send + 'static, R: Send + 'static> Hand<J, R> {
    pub(super) fn new(work: Work<J, R>) -> Self {
        Hand { work, thread: None }
    }

    /// Does one piece of work, and waits for it no longer than `limit`.
    ///
    /// Without a limit, and where no thread can be started, it is done on the calling thread, however long it takes.
    ///
    /// # Errors
    /// If it did not end in time. The thread that does it ends when the work does, or with the program.
    pub(super) fn work(&mut self, job: J, limit: Option<Duration>) -> Result<R, Late> {
        let Some(limit) = limit else { return Ok((self.work)(job)) };
        if self.thread.is_none() {
            self.thread = start(Arc::clone(&self.work));
        }
        let Some(thread) = &self.thread else { return Ok((self.work)(job)) };
        if let Err(unsent) = thread.jobs.send(job) {
            // Only a panic that its work did not catch ends a thread early.
            self.thread = None;
            return Ok((self.work)(unsent.0));
        }
        let outcome = match thread.results.recv_timeout(limit) {
            Ok(result) => return Ok(result),
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => Late,
        };
        self.thread = None;
        Err(outcome)
    }
}

fn start<J: Send + 'static, R: Send + 'static>(work: Work<J, R>) -> Option<Thread<J, R>> {
    let (jobs, to_do) = sync_channel::<J>(1);
    let (done, results) = sync_channel(1);
    let toil = move || {
        for job in to_do {
            if done.send(work(job)).is_err() {
                return;
            }
        }
    };
    std::thread::Builder::new().stack_size(STACK).spawn(toil).ok()?;
    Some(Thread { jobs, results })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Mutex;
    use std::sync::mpsc::channel;

    const LONG: Option<Duration> = Some(Duration::from_secs(60));

    #[test]
    fn work_that_hangs_is_left_behind_and_the_next_is_done() {
        let (open, gate) = channel::<()>();
        let gate = Mutex::new(gate);
        // 0 waits until the gate opens, which it does when this test is over.
        let mut hand = Hand::new(Arc::new(move |n: u32| {
            if n == 0 {
                let _ = gate.lock().map(|gate| gate.recv());
            }
            2 * n
        }));
        assert_eq!(hand.work(3, LONG), Ok(6));
        assert_eq!(hand.work(0, Some(Duration::from_millis(20))), Err(Late));
        assert_eq!(hand.work(4, LONG), Ok(8));
        drop(open);
    }

    #[test]
    fn without_a_limit_the_work_is_done_on_the_calling_thread() {
        let here = std::thread::current().id();
        let mut hand = Hand::new(Arc::new(|()| std::thread::current().id()));
        assert_eq!(hand.work((), None), Ok(here));
        assert_ne!(hand.work((), LONG), Ok(here));
    }
}
