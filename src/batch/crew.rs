//! The threads that read, check and hand over drawings, and the one that watches them. What a check is, it does not know.
//!
//! A thread does all that a drawing needs, so that none has to be woken for it. What takes longer than its time is taken
//! away from its thread (`post`), which is left behind and replaced: it owns all that it needs, its late result counts for
//! nothing, and it ends when its work does or with the program.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::Path;
use std::sync::atomic::Ordering;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError, RwLock};
use std::time::Instant;

use super::ahead::{Ahead, LONG, Next};
use super::buffer::Buffer;
use super::post::Post;
use super::source::Source;
use super::{Progress, Run, Taking, broken_off, guarded, late, without_bytes};
use crate::check::DrawingResult;

/// Stack of each thread (bytes): as large as a main thread's, because nested blocks are read by recursion.
const STACK: usize = 8 << 20;

/// Where drawings come from, and what gives the result of one.
pub(super) struct Means {
    pub(super) source: Arc<dyn Source>,
    pub(super) check: fn(&Run, &Path, &mut Buffer) -> DrawingResult,
}

/// Does what [`super::each`] says, by these means.
pub(super) fn each<T: Taking>(
    means: Means,
    run: &Run,
    progress: &Arc<Progress>,
    taking: T,
) -> (T, Vec<T::Kept>) {
    let cores = || std::thread::available_parallelism().map_or(1, usize::from);
    let jobs = if run.jobs == 0 { cores() } else { run.jobs };
    let jobs = jobs.min(run.drawings.len());
    let ahead = Ahead::new(means.source, Arc::clone(&run.drawings), jobs, run.time_limit);
    let crew = Arc::new(Crew {
        check: means.check,
        run: run.clone(),
        progress: Arc::clone(progress),
        ahead,
        taking: RwLock::new(Some(taking)),
        posts: Mutex::default(),
        state: Mutex::new(State { kept: Vec::with_capacity(run.drawings.len()), at_work: 0, panic: None }),
        told: Condvar::new(),
    });
    crew.start(jobs);
    crew.watch();
    crew.ahead.close();
    // Waits for those who are about to hand over, if there was a panic, and for nobody who was left behind.
    let taking = crew.taking.write().unwrap_or_else(PoisonError::into_inner).take();
    let mut state = crew.locked();
    if let Some(panic) = state.panic.take() {
        drop(state);
        resume_unwind(panic);
    }
    let Some(taking) = taking else { unreachable!("nobody else takes it out") };
    let mut kept = std::mem::take(&mut state.kept);
    kept.sort_unstable_by_key(|&(index, _)| index);
    (taking, kept.into_iter().map(|(_, kept)| kept).collect())
}

/// The threads of a run. Shared by them all, and by those that were left behind.
struct Crew<T: Taking> {
    check: fn(&Run, &Path, &mut Buffer) -> DrawingResult,
    run: Run,
    progress: Arc<Progress>,
    ahead: Arc<Ahead>,
    /// None once the run is over.
    taking: RwLock<Option<T>>,
    posts: Mutex<Vec<Arc<Post>>>,
    state: Mutex<State<T::Kept>>,
    /// Told when all is done, or nobody is at work any more.
    told: Condvar,
}

struct State<K> {
    /// What is kept of the drawings that are done.
    kept: Vec<(usize, K)>,
    /// Threads that check and were not left behind.
    at_work: usize,
    /// The first panic of who takes the results.
    panic: Option<Box<dyn Any + Send>>,
}

impl<T: Taking> Crew<T> {
    /// Starts threads that check; fewer, if no more can be had.
    fn start(self: &Arc<Self>, count: usize) {
        for _ in 0..count {
            let (crew, post) = (Arc::clone(self), Arc::new(Post::default()));
            self.posts.lock().unwrap_or_else(PoisonError::into_inner).push(Arc::clone(&post));
            self.locked().at_work += 1;
            let work = move || {
                crew.work(&post);
                crew.posts().retain(|other| !Arc::ptr_eq(other, &post));
            };
            if std::thread::Builder::new().stack_size(STACK).spawn(work).is_err() {
                self.locked().at_work -= 1;
                return;
            }
        }
    }

    /// Waits until all drawings are done, and tells of those that take too long.
    fn watch(self: &Arc<Self>) {
        loop {
            let now = Instant::now();
            let look = self.ahead.look(now);
            let (late_checks, check_due) = self.late_checks(now);
            let replace = look.replace + late_checks.len();
            self.locked().at_work -= replace;
            self.start(replace);
            for index in look.late {
                self.take(index, late(&self.run, &self.run.drawings[index], "reading"));
            }
            for index in late_checks {
                self.take(index, late(&self.run, &self.run.drawings[index], "check"));
            }
            let state = self.locked();
            if state.panic.is_some() || state.kept.len() == self.run.drawings.len() {
                return;
            }
            if state.at_work == 0 {
                drop(state);
                // No thread could be started. The work is still done, on this one, however long it takes.
                self.locked().at_work += 1;
                self.work(&Post::default());
                continue;
            }
            let due = look.due.into_iter().chain(check_due).min();
            let wait = due.map_or(LONG, |due| LONG.min(due.saturating_duration_since(now)));
            drop(self.told.wait_timeout(state, wait).unwrap_or_else(PoisonError::into_inner));
        }
    }

    /// Takes the drawings away whose check has not ended in time; also when another would be late.
    fn late_checks(&self, now: Instant) -> (Vec<usize>, Option<Instant>) {
        let Some(limit) = self.run.time_limit else { return (Vec::new(), None) };
        let mut late = Vec::new();
        let mut posts = self.posts();
        posts.retain(|post| post.relieve(now, limit).map(|index| late.push(index)).is_none());
        let oldest = posts.iter().filter_map(|post| post.since()).min();
        (late, oldest.and_then(|oldest| oldest.checked_add(limit)))
    }

    /// Reads, checks and hands over one drawing after another, until there is none or the thread was left behind.
    fn work(&self, post: &Post) {
        let mut buffer = Buffer::default();
        loop {
            let (index, read) = match self.ahead.next(&mut buffer) {
                Next::Read(index, read) => (index, read),
                Next::Over => break,
                Next::Replaced => return,
            };
            let path = &self.run.drawings[index];
            let known = || self.with(|taking| taking.known(path, &buffer)).flatten();
            let result = match read.map(|()| guarded(known)) {
                Ok(Ok(Some(kept))) => {
                    self.keep(index, kept);
                    continue;
                }
                Ok(Ok(None)) => {
                    post.begin(index);
                    let result = (self.check)(&self.run, path, &mut buffer);
                    if !post.end() {
                        return;
                    }
                    result
                }
                Ok(Err(said)) => broken_off(&self.run, path, &said),
                Err(reason) => without_bytes(&self.run, path, &format!("the file cannot be read: {reason}")),
            };
            self.take(index, result);
        }
        let mut state = self.locked();
        state.at_work -= 1;
        if state.at_work == 0 {
            self.told.notify_one();
        }
    }

    /// Hands over the result of a drawing. A panic there is the end of the run.
    fn take(&self, index: usize, result: DrawingResult) {
        self.progress.findings.fetch_add(result.findings.len() as u64, Ordering::Relaxed);
        let take = || self.with(|taking| taking.take(&self.run.drawings[index], result));
        match catch_unwind(AssertUnwindSafe(take)) {
            Ok(Some(kept)) => self.keep(index, kept),
            Ok(None) => {}
            Err(panic) => {
                self.ahead.close();
                self.locked().panic.get_or_insert(panic);
                self.told.notify_one();
            }
        }
    }

    fn keep(&self, index: usize, kept: T::Kept) {
        self.progress.done.fetch_add(1, Ordering::Relaxed);
        let mut state = self.locked();
        state.kept.push((index, kept));
        if state.kept.len() == self.run.drawings.len() {
            self.told.notify_one();
        }
    }

    /// Does something with who takes the results; nothing once the run is over.
    fn with<R>(&self, work: impl FnOnce(&T) -> R) -> Option<R> {
        self.taking.read().unwrap_or_else(PoisonError::into_inner).as_ref().map(work)
    }

    fn posts(&self) -> MutexGuard<'_, Vec<Arc<Post>>> {
        self.posts.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn locked(&self) -> MutexGuard<'_, State<T::Kept>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
