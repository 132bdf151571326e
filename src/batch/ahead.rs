//! Reads drawings ahead of those who check them, so that a slow disk does not leave the cores idle and one file that
//! hangs does not hold up the others. Knows nothing of what is in them.
//!
//! Memory is bounded: what is read ahead is at most [`BYTES`] and [`Ahead::most`] drawings; beyond that a drawing is read
//! only for somebody who waits with empty hands.

use std::collections::VecDeque;
use std::io;
use std::path::PathBuf;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use super::source::Source;

/// Most bytes that are read ahead, over all threads.
const BYTES: u64 = 16 << 20;
/// Drawings from this size (bytes) are read before the others. A smaller one is checked in some hundredths of a second.
const LARGE: u64 = 1 << 20;
/// Buffers up to this size (bytes) are kept for the next drawing.
const KEPT: usize = 1 << 20;
/// Fewest and most threads that read ahead. They wait far more than they work.
const READERS: (usize, usize) = (4, 32);

/// A drawing that was read, or could not be.
#[derive(Debug)]
pub(super) struct Drawn {
    /// Its index in the run.
    pub(super) index: usize,
    /// Its bytes; else why there are none.
    pub(super) bytes: Result<Vec<u8>, Unread>,
}

/// Why there are no bytes of a drawing.
#[derive(Debug)]
pub(super) enum Unread {
    /// The system's reason.
    Failed(io::Error),
    /// Its reading did not end in time, and the thread that reads it was left behind.
    Late,
}

/// The drawings of a run, read ahead in a given order. Shared by all threads.
pub(super) struct Ahead {
    source: Arc<dyn Source>,
    drawings: Arc<Vec<PathBuf>>,
    limit: Option<Duration>,
    /// Most drawings that are read ahead.
    most: usize,
    state: Mutex<State>,
    /// Told when a drawing was read.
    ready: Condvar,
    /// Told when there is room for another.
    room: Condvar,
}

#[derive(Default)]
struct State {
    /// Index and size of the drawings, the next one first.
    order: Vec<(u64, usize)>,
    next: usize,
    reading: Vec<Reading>,
    ready: VecDeque<(u64, Drawn)>,
    /// Bytes of what is being read and what is ready.
    bytes: u64,
    /// How many wait with empty hands.
    waiting: usize,
    /// Readers that are at work or wait for room.
    readers: usize,
    tickets: u64,
    buffers: Vec<Vec<u8>>,
    closed: bool,
}

/// A drawing that a thread reads at this moment.
struct Reading {
    /// No two are alike, so that a thread that was left behind knows it.
    ticket: u64,
    index: usize,
    size: u64,
    since: Instant,
}

impl Ahead {
    /// Starts to read the drawings of a run for so many `jobs`.
    pub(super) fn start(
        source: Arc<dyn Source>,
        drawings: Arc<Vec<PathBuf>>,
        jobs: usize,
        limit: Option<Duration>,
    ) -> Arc<Ahead> {
        let order = largest_first(&*source, &drawings);
        let readers = jobs.clamp(READERS.0, READERS.1).min(order.len());
        let ahead = Arc::new(Ahead {
            source,
            drawings,
            limit,
            most: 4 * jobs.max(2),
            state: Mutex::new(State { order, ..State::default() }),
            ready: Condvar::new(),
            room: Condvar::new(),
        });
        for _ in 0..readers {
            ahead.start_reader(&mut ahead.locked());
        }
        ahead
    }

    /// The next drawing that was read; none when there is no more.
    pub(super) fn next(self: &Arc<Self>) -> Option<Drawn> {
        let mut state = self.locked();
        loop {
            if let Some(late) = self.late(&mut state) {
                return Some(late);
            }
            if let Some((size, drawn)) = state.ready.pop_front() {
                state.bytes -= size;
                if state.ready.len() <= self.most / 2 {
                    self.room.notify_one();
                }
                return Some(drawn);
            }
            if state.next == state.order.len() && state.reading.is_empty() {
                return None;
            }
            if state.readers == 0 {
                // No thread could be started: it is still read, on this one.
                let reading = state.begin()?;
                state.bytes -= reading.size;
                drop(state);
                return Some(self.read(reading.index, Vec::new()));
            }
            state.waiting += 1;
            self.room.notify_one();
            state = self.wait(state);
            state.waiting -= 1;
        }
    }

    /// Takes back the buffer of a drawing.
    pub(super) fn give_back(&self, buffer: Vec<u8>) {
        let mut state = self.locked();
        if buffer.capacity() <= KEPT && state.buffers.len() < self.most {
            state.buffers.push(buffer);
        }
    }

    /// Ends the threads that read, as soon as what they read lets them.
    pub(super) fn close(&self) {
        self.locked().closed = true;
        self.room.notify_all();
    }

    /// A drawing whose reading has gone on for too long. The thread that reads it is left behind and replaced.
    fn late(self: &Arc<Self>, state: &mut State) -> Option<Drawn> {
        let limit = self.limit?;
        if state.reading.is_empty() {
            return None;
        }
        let now = Instant::now();
        let nth = state.reading.iter().position(|r| now.duration_since(r.since) >= limit)?;
        let late = state.reading.swap_remove(nth);
        state.bytes -= late.size;
        state.readers -= 1;
        self.start_reader(state);
        // Others may wait for what will not come.
        self.ready.notify_all();
        Some(Drawn { index: late.index, bytes: Err(Unread::Late) })
    }

    /// Waits until something was read, or ought to have been.
    fn wait<'a>(&self, state: MutexGuard<'a, State>) -> MutexGuard<'a, State> {
        let oldest = state.reading.iter().map(|reading| reading.since).min();
        let Some(limit) = self.limit else {
            return self.ready.wait(state).unwrap_or_else(PoisonError::into_inner);
        };
        // What is begun after this moment ends its time after it, too.
        let wait = oldest.map_or(limit, |since| limit.saturating_sub(since.elapsed()));
        self.ready.wait_timeout(state, wait).unwrap_or_else(PoisonError::into_inner).0
    }

    fn start_reader(self: &Arc<Self>, state: &mut State) {
        let ahead = Arc::clone(self);
        if std::thread::Builder::new().spawn(move || ahead.read_on()).is_ok() {
            state.readers += 1;
        }
    }

    /// Reads one drawing after another, until there is none or this thread was left behind.
    fn read_on(&self) {
        let mut state = self.locked();
        loop {
            while !state.closed && state.next < state.order.len() && !self.has_room(&state) {
                state = self.room.wait(state).unwrap_or_else(PoisonError::into_inner);
            }
            let Some(reading) = state.begin().filter(|_| !state.closed) else { break };
            let (ticket, index, size) = (reading.ticket, reading.index, reading.size);
            state.reading.push(reading);
            if self.has_room(&state) {
                self.room.notify_one();
            }
            let buffer = state.buffers.pop().unwrap_or_default();
            drop(state);
            let drawn = self.read(index, buffer);
            state = self.locked();
            let Some(nth) = state.reading.iter().position(|r| r.ticket == ticket) else { return };
            state.reading.swap_remove(nth);
            state.ready.push_back((size, drawn));
            if state.waiting > 0 {
                self.ready.notify_one();
            }
        }
        state.readers -= 1;
        // The others end too, and who waits sees that nothing is left.
        self.room.notify_one();
        self.ready.notify_all();
    }

    fn read(&self, index: usize, mut buffer: Vec<u8>) -> Drawn {
        let outcome = self.source.read(&self.drawings[index], &mut buffer);
        Drawn { index, bytes: outcome.map(|()| buffer).map_err(Unread::Failed) }
    }

    /// Whether the next drawing may be read.
    fn has_room(&self, state: &State) -> bool {
        let Some(&(size, _)) = state.order.get(state.next) else { return false };
        let ahead = state.reading.len() + state.ready.len();
        ahead < state.waiting || (ahead < self.most && state.bytes + size <= BYTES)
    }

    fn locked(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl State {
    /// Takes the next drawing of the order.
    fn begin(&mut self) -> Option<Reading> {
        let &(size, index) = self.order.get(self.next)?;
        self.next += 1;
        self.tickets += 1;
        self.bytes += size;
        Some(Reading { ticket: self.tickets, index, size, since: Instant::now() })
    }
}

/// Size and index of the drawings: large ones first, the largest of them before the others, so that no thread is left
/// alone with one at the end; then the rest in their order, in which those of one folder or archive stand together.
fn largest_first(source: &dyn Source, drawings: &[PathBuf]) -> Vec<(u64, usize)> {
    let mut order: Vec<(u64, usize)> = drawings.iter().map(|path| source.size(path)).zip(0..).collect();
    let large = |size: u64| if size < LARGE { 0 } else { size };
    order.sort_by_key(|&(size, index)| (std::cmp::Reverse(large(size)), index));
    order
}
