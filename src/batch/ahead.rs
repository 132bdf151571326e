//! Gives the drawings of a run to those who check them. Knows nothing of what is in them.
//!
//! Who will check a drawing reads it, for as long as files come at once: then no thread has to be woken for it, and its
//! bytes are still in the cache of the core. Where reading is slow, some threads read ahead, so that the cores are not idle
//! and one file that hangs does not hold up the others. Memory is bounded: what is read ahead is at most [`BYTES`] and
//! [`Ahead::most`] drawings; beyond that a drawing is read only for somebody who waits with empty hands.

use std::collections::VecDeque;
use std::io;
use std::path::PathBuf;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use super::buffer::Buffer;
use super::guarded;
use super::source::Source;

/// Most bytes that are read ahead, over all threads.
const BYTES: u64 = 16 << 20;
/// Drawings from this size (bytes) are read before the others. A smaller one is checked in some hundredths of a second.
const LARGE: u64 = 1 << 20;
/// Fewest and most threads that read ahead. They wait far more than they work.
const READERS: (usize, usize) = (4, 32);
/// A file that comes from the memory of the system takes some hundredths of a millisecond to open, and far less than a
/// nanosecond a byte.
const AT_ONCE: Duration = Duration::from_micros(100);
/// How many drawings are read ahead after two in a row whose reading was slow.
const AHEAD_AFTER_SLOW: usize = 64;
/// A thread that has read for so long is not waited for: another takes its place among those that check.
pub(super) const LONG: Duration = Duration::from_millis(50);

/// A drawing that was read, or could not be.
#[derive(Debug)]
struct Drawn {
    /// Its index in the run.
    index: usize,
    /// Its bytes; else the reason of the system.
    bytes: io::Result<Buffer>,
}

/// What comes next for one who checks.
#[derive(Debug)]
pub(super) enum Next {
    /// The drawing of this index, its bytes in the buffer unless they could not be had.
    Read(usize, io::Result<()>),
    /// There is no more.
    Over,
    /// The reading took so long that another thread was to take the place of this one, which ends.
    Replaced,
}

/// What was found of readings that take long.
#[derive(Debug, Default)]
pub(super) struct Look {
    /// The drawings whose reading has not ended in time and is left behind.
    pub(super) late: Vec<usize>,
    /// How many of those who check are to be replaced, because they are held up by reading.
    pub(super) replace: usize,
    /// When another would be late.
    pub(super) due: Option<Instant>,
}

/// The drawings of a run in the order in which they are read. Shared by all threads.
pub(super) struct Ahead {
    source: Arc<dyn Source>,
    drawings: Arc<Vec<PathBuf>>,
    limit: Option<Duration>,
    /// How many threads read ahead, where any do.
    readers: usize,
    /// Most drawings that are read ahead.
    most: usize,
    state: Mutex<State>,
    /// Told when a drawing was read ahead, or none will be.
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
    /// Whether the reading that ended last was slow.
    slow: bool,
    /// How many more drawings are to be read ahead.
    credit: usize,
    /// Whether the threads that read ahead were started.
    started: bool,
    /// Readers that are at work or wait for room.
    readers: usize,
    tickets: u64,
    buffers: Vec<Buffer>,
    closed: bool,
}

/// A drawing that a thread reads at this moment.
struct Reading {
    /// No two are alike, so that a thread that was left behind knows it.
    ticket: u64,
    index: usize,
    size: u64,
    since: Instant,
    /// Whether the thread that reads it will check it too.
    own: bool,
}

impl Ahead {
    /// The drawings of a run for so many `jobs`.
    pub(super) fn new(
        source: Arc<dyn Source>,
        drawings: Arc<Vec<PathBuf>>,
        jobs: usize,
        limit: Option<Duration>,
    ) -> Arc<Ahead> {
        let order = largest_first(&*source, &drawings);
        Arc::new(Ahead {
            source,
            drawings,
            limit,
            readers: jobs.clamp(READERS.0, READERS.1).min(order.len()),
            most: 4 * jobs.max(2),
            state: Mutex::new(State { order, ..State::default() }),
            ready: Condvar::new(),
            room: Condvar::new(),
        })
    }

    /// The next drawing, read into `buffer`, whose former content is lost.
    pub(super) fn next(self: &Arc<Self>, buffer: &mut Buffer) -> Next {
        if !buffer.is_kept() {
            *buffer = Buffer::default();
        }
        let mut state = self.locked();
        loop {
            if let Some((size, drawn)) = state.ready.pop_front() {
                state.bytes -= size;
                if self.has_room(&state) && state.ready.len() <= self.most / 2 {
                    self.room.notify_one();
                }
                let bytes = drawn.bytes.map(|bytes| std::mem::replace(buffer, bytes));
                return Next::Read(drawn.index, bytes.map(|spare| state.keep(spare, self.most)));
            }
            if state.closed {
                return Next::Over;
            }
            if state.next < state.order.len() {
                if state.credit == 0 || state.readers == 0 {
                    return self.read_own(state, buffer);
                }
            } else if state.reading.iter().all(|reading| reading.own) {
                return Next::Over;
            }
            state.waiting += 1;
            self.room.notify_one();
            state = self.ready.wait(state).unwrap_or_else(PoisonError::into_inner);
            state.waiting -= 1;
        }
    }

    /// Finds the readings that take long: who is late is left behind, and who checks no more for reading is to be replaced.
    pub(super) fn look(self: &Arc<Self>, now: Instant) -> Look {
        let mut look = Look::default();
        let mut state = self.locked();
        let took = |reading: &Reading| now.saturating_duration_since(reading.since);
        let is_late = |reading: &Reading| self.limit.is_some_and(|limit| took(reading) >= limit);
        while let Some(nth) = state.reading.iter().position(is_late) {
            let late = state.reading.swap_remove(nth);
            state.bytes -= late.size;
            if late.own {
                look.replace += 1;
            } else {
                state.readers -= 1;
                self.start_reader(&mut state);
            }
            look.late.push(late.index);
        }
        let mut others = 0;
        for reading in state.reading.iter_mut().filter(|reading| reading.own && took(reading) >= LONG) {
            reading.own = false;
            others += 1;
        }
        state.readers += others;
        look.replace += others;
        if look.replace > 0 || !look.late.is_empty() {
            self.read_ahead(&mut state);
            // Some may wait for what will not come.
            self.ready.notify_all();
        }
        let oldest = state.reading.iter().map(|reading| reading.since).min();
        look.due = oldest.and_then(|oldest| oldest.checked_add(self.limit?));
        look
    }

    /// Ends the threads that read, as soon as what they read lets them, and gives no more drawings.
    pub(super) fn close(&self) {
        self.locked().closed = true;
        self.room.notify_all();
        self.ready.notify_all();
    }

    /// Reads the next drawing on the thread that will check it.
    fn read_own(self: &Arc<Self>, mut state: MutexGuard<'_, State>, buffer: &mut Buffer) -> Next {
        let Some((ticket, index)) = state.begin(true) else { return Next::Over };
        drop(state);
        let outcome = self.read(index, buffer);
        let mut state = self.locked();
        let Some(reading) = self.end(&mut state, ticket) else { return Next::Replaced };
        if reading.own {
            state.bytes -= reading.size;
            return Next::Read(index, outcome);
        }
        // Another checks in place of this thread, which goes on as one that reads ahead.
        let bytes = outcome.map(|()| std::mem::take(buffer));
        self.put(&mut state, reading.size, Drawn { index, bytes });
        drop(state);
        self.read_on();
        Next::Replaced
    }

    /// Reads one drawing after another ahead, until there is none or this thread was left behind.
    fn read_on(self: &Arc<Self>) {
        let mut state = self.locked();
        loop {
            while !state.closed && state.next < state.order.len() && !self.has_room(&state) {
                state = self.room.wait(state).unwrap_or_else(PoisonError::into_inner);
            }
            if state.closed {
                break;
            }
            let Some((ticket, index)) = state.begin(false) else { break };
            state.credit -= 1;
            if self.has_room(&state) {
                self.room.notify_one();
            }
            if state.credit == 0 {
                // Who waits reads for himself again.
                self.ready.notify_all();
            }
            let mut buffer = state.buffers.pop().unwrap_or_default();
            drop(state);
            let outcome = self.read(index, &mut buffer);
            state = self.locked();
            let Some(reading) = self.end(&mut state, ticket) else { return };
            self.put(&mut state, reading.size, Drawn { index, bytes: outcome.map(|()| buffer) });
        }
        state.readers -= 1;
        // The others end too, and who waits sees that nothing is left.
        self.room.notify_one();
        self.ready.notify_all();
    }

    /// Reads a drawing. A panic costs that drawing only.
    fn read(&self, index: usize, buffer: &mut Buffer) -> io::Result<()> {
        let read = guarded(|| self.source.read(&self.drawings[index], buffer));
        read.unwrap_or_else(|said| {
            Err(io::Error::other(format!("reading it broke off by a fault of the program: {said}")))
        })
    }

    /// Takes a reading that has ended off the list; none if it was left behind.
    fn end(self: &Arc<Self>, state: &mut State, ticket: u64) -> Option<Reading> {
        let nth = state.reading.iter().position(|reading| reading.ticket == ticket)?;
        let reading = state.reading.swap_remove(nth);
        let slow = reading.since.elapsed() > AT_ONCE + Duration::from_nanos(reading.size);
        // One alone may only have had to wait for a core, which other threads would make scarcer.
        if std::mem::replace(&mut state.slow, slow) && slow {
            self.read_ahead(state);
        }
        Some(reading)
    }

    /// Puts a drawing to those that are ready.
    fn put(&self, state: &mut State, size: u64, drawn: Drawn) {
        state.ready.push_back((size, drawn));
        if state.waiting > 0 {
            self.ready.notify_one();
        }
    }

    /// From now on some drawings are read ahead.
    fn read_ahead(self: &Arc<Self>, state: &mut State) {
        if state.closed || state.next == state.order.len() {
            return;
        }
        state.credit = AHEAD_AFTER_SLOW;
        if !std::mem::replace(&mut state.started, true) {
            for _ in 0..self.readers {
                self.start_reader(state);
            }
        }
        self.room.notify_one();
    }

    fn start_reader(self: &Arc<Self>, state: &mut State) {
        let ahead = Arc::clone(self);
        if std::thread::Builder::new().spawn(move || ahead.read_on()).is_ok() {
            state.readers += 1;
        }
    }

    /// Whether the next drawing may be read ahead.
    fn has_room(&self, state: &State) -> bool {
        let Some(&(size, _)) = state.order.get(state.next) else { return false };
        let ahead = state.reading.iter().filter(|reading| !reading.own).count() + state.ready.len();
        state.credit > 0 && (ahead < state.waiting || (ahead < self.most && state.bytes + size <= BYTES))
    }

    fn locked(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl State {
    /// Takes the next drawing of the order to be read; ticket and index.
    fn begin(&mut self, own: bool) -> Option<(u64, usize)> {
        let &(size, index) = self.order.get(self.next)?;
        self.next += 1;
        self.tickets += 1;
        self.bytes += size;
        self.reading.push(Reading { ticket: self.tickets, index, size, since: Instant::now(), own });
        Some((self.tickets, index))
    }

    /// Keeps a buffer for the next drawing that is read ahead.
    fn keep(&mut self, buffer: Buffer, most: usize) {
        if !buffer.is_new() && buffer.is_kept() && self.buffers.len() < most {
            self.buffers.push(buffer);
        }
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
