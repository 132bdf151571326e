//! What texts were read as, kept for the next time they are met: the sheets of a library say the same things again and
//! again. Kept within a bound, so that no library fills the memory; what is read never depends on what is kept.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use foldhash::fast::RandomState;

/// Longer texts (bytes) are read each time: they are notes of one sheet.
const LONGEST: usize = 200;
/// When as many texts are kept, all are forgotten.
const MOST: usize = 2_000;

/// What is known of each text.
type Known<T> = HashMap<Box<str>, Arc<T>, RandomState>;

/// Texts and what they were read as.
#[derive(Debug)]
pub(super) struct Memory<T> {
    known: Mutex<Known<T>>,
}

impl<T> Memory<T> {
    /// What a text was read as, or is now by `read`.
    pub(super) fn of(&self, text: &str, read: impl FnOnce() -> T) -> Arc<T> {
        if text.len() > LONGEST {
            return Arc::new(read());
        }
        if let Some(known) = self.lock().get(text) {
            return Arc::clone(known);
        }
        let value = Arc::new(read());
        let mut known = self.lock();
        if known.len() >= MOST {
            known.clear();
        }
        known.insert(text.into(), Arc::clone(&value));
        value
    }

    fn lock(&self) -> MutexGuard<'_, Known<T>> {
        // Every state between two calls is whole, also after a panic.
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl<T> Default for Memory<T> {
    fn default() -> Self {
        Memory { known: Mutex::default() }
    }
}

impl<T> Clone for Memory<T> {
    /// An empty one: other words read other things.
    fn clone(&self) -> Self {
        Memory::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_read_once_until_too_many_are_kept() {
        let memory = Memory::default();
        let mut reads = 0;
        let mut read = |text: &str| {
            *memory.of(text, || {
                reads += 1;
                text.len()
            })
        };
        assert_eq!((read("Ø5"), read("Ø5"), read("4X Ø5")), (3, 3, 6));
        for n in 0..MOST {
            read(&format!("BR-{n}"));
        }
        assert_eq!(read("Ø5"), 3);
        assert_eq!(reads, 2 + MOST + 1);
        assert_eq!(memory.lock().len(), 3, "the last but one, the last and Ø5");
    }

    #[test]
    fn long_texts_are_not_kept() {
        let memory = Memory::default();
        let long = "A".repeat(LONGEST + 1);
        assert_eq!(*memory.of(&long, || 1), 1);
        assert_eq!(*memory.of(&long, || 2), 2);
    }
}
