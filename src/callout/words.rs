//! The words of drawings in seven languages and what they mean. The words are data (`words.csv`); this module
//! loads them once and finds the longest one that begins at a place.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock};

use super::meaning::Meaning;
#[cfg(test)]
use super::meaning::NAMES;
use super::memory::Memory;
use super::normal::{Glyph, Glyphs, normalise};
use super::note::{self, Note};
use super::{Callout, read_with};

/// A word that someone adds to those of the program.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UserWord {
    /// The word or phrase as drawings write it. Case and accents do not matter; a blank stands for blanks, line ends
    /// and hyphens; a final full stop is optional.
    pub word: String,
    /// Name of its meaning, one of [`Meaning::names`]: `through`, `screw-rolling`.
    pub meaning: String,
}

/// A row of words that could not be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WordError {
    /// The meaning is none of those known.
    #[error("word '{word}' has the unknown meaning '{meaning}'")]
    UnknownMeaning {
        /// The word.
        word: String,
        /// The meaning given.
        meaning: String,
    },
    /// Nothing is left of the word after normalising.
    #[error("a word of meaning '{meaning}' is empty")]
    Empty {
        /// The meaning given.
        meaning: String,
    },
    /// The word is only digits and punctuation, which numbers and tolerances are made of.
    #[error("word '{word}' has no letter")]
    NoLetter {
        /// The word.
        word: String,
    },
}

#[derive(Clone)]
struct Word {
    glyphs: Vec<char>,
    meaning: Meaning,
}

impl Word {
    /// The word and its first character.
    fn of(word: &str, meaning: &str) -> Result<(char, Word), WordError> {
        let known = Meaning::from_name(meaning).ok_or_else(|| WordError::UnknownMeaning {
            word: word.to_owned(),
            meaning: meaning.to_owned(),
        })?;
        let glyphs: Vec<char> = normalise(word.trim()).chars().collect();
        let first = *glyphs.first().ok_or_else(|| WordError::Empty { meaning: meaning.to_owned() })?;
        if !glyphs.iter().any(|c| c.is_alphabetic() || !(c.is_ascii() || c.is_numeric())) {
            return Err(WordError::NoLetter { word: word.to_owned() });
        }
        Ok((first, Word { glyphs, meaning: known }))
    }
}

/// The words that begin with one character.
#[derive(Clone, Default)]
struct Bucket {
    words: Vec<Word>,
    /// The character that must follow the first one, for each word; [`ANY`] where several may.
    seconds: Vec<char>,
}

impl Bucket {
    /// Puts the longest words first, so that THRU ALL is found before THRU; of as long ones the first added.
    fn arrange(&mut self) {
        self.words.sort_by_key(|word| std::cmp::Reverse(word.glyphs.len()));
        self.seconds = self.words.iter().map(second).collect();
    }
}

/// Stands for any second character.
const ANY: char = '\u{0}';

/// A set of words, looked up by their first two characters.
#[derive(Clone, Default)]
pub struct Words {
    by_ascii: Vec<Bucket>,
    by_other: HashMap<char, Bucket>,
    callouts: Memory<Callout>,
    notes: Memory<Note>,
    labels: Memory<bool>,
}

impl std::fmt::Debug for Words {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let buckets = self.by_ascii.iter().chain(self.by_other.values());
        let count: usize = buckets.map(|bucket| bucket.words.len()).sum();
        f.debug_struct("Words").field("words", &count).finish()
    }
}

impl Words {
    /// The words that come with the program.
    pub fn built_in() -> &'static Words {
        static WORDS: LazyLock<Words> = LazyLock::new(|| {
            let mut words = Words::default();
            for (word, meaning, _) in built_in_rows() {
                // The tests hold every row to a known meaning; a row that had none would only stay unread.
                if let Ok((first, word)) = Word::of(word, meaning) {
                    words.bucket_mut(first).words.push(word);
                }
            }
            words.by_ascii.iter_mut().chain(words.by_other.values_mut()).for_each(Bucket::arrange);
            words
        });
        &WORDS
    }

    /// The words that come with the program and a user's own; a word that is already known takes the user's meaning.
    /// Made once for a run and handed to [`read_with`](super::read_with),
    /// [`note::read_with`](super::note::read_with) and
    /// [`note::read_attribute_with`](super::note::read_attribute_with).
    ///
    /// ```
    /// use boreband::callout::{UserWord, Words, read_with};
    /// let otwory = UserWord { word: "otwory".to_owned(), meaning: "hole".to_owned() };
    /// let words = Words::with(&[otwory]).expect("a known meaning");
    /// assert_eq!(read_with("4 OTWORY Ø5", &words).count, Some(4));
    /// ```
    ///
    /// # Errors
    /// Every word that cannot be used, by its index in `user`.
    pub fn with(user: &[UserWord]) -> Result<Words, Vec<(usize, WordError)>> {
        let mut words = Words::built_in().clone();
        let added = user.iter().enumerate().map(|(i, u)| (i, words.add(&u.word, &u.meaning)));
        let faults: Vec<_> = added.filter_map(|(i, added)| Some((i, added.err()?))).collect();
        if faults.is_empty() { Ok(words) } else { Err(faults) }
    }

    /// A text as [`read_with`] reads it, or read it before.
    pub fn callout(&self, text: &str) -> Arc<Callout> {
        self.callouts.of(text, || read_with(text, self))
    }

    /// A text as [`note::read_with`] reads it, or read it before.
    pub fn note(&self, text: &str) -> Arc<Note> {
        self.notes.of(text, || note::read_with(text, self))
    }

    /// Whether a text is a label as [`note::is_label_with`] tells it, or was when it was asked about before.
    pub fn is_label(&self, text: &str) -> bool {
        *self.labels.of(text, || note::is_label_with(text, self))
    }

    /// Adds a word; a word that is already known takes the new meaning.
    ///
    /// # Errors
    /// [`WordError`] for an unknown meaning, an empty word or one without a letter.
    pub fn add(&mut self, word: &str, meaning: &str) -> Result<(), WordError> {
        let (first, word) = Word::of(word, meaning)?;
        // What was read without the word may be read otherwise with it.
        (self.callouts, self.notes) = (Memory::default(), Memory::default());
        self.labels = Memory::default();
        let bucket = self.bucket_mut(first);
        bucket.words.retain(|w| w.glyphs != word.glyphs);
        bucket.words.push(word);
        bucket.arrange();
        Ok(())
    }

    /// The glyphs of a text, with the words that begin at them: every form asks again and again for the word at a place.
    pub(super) fn glyphs(&self, text: &str) -> Glyphs {
        let mut glyphs = Glyphs::of(text);
        for at in 0..glyphs.as_slice().len() {
            let word = self.longest(glyphs.as_slice(), at);
            // No text is so long that the number of its glyphs has no room.
            glyphs.as_mut_slice()[at].word = word.map(|(end, meaning)| (meaning, (end - at) as u32));
        }
        glyphs
    }

    /// The longest word that begins at `at`, and the glyph after it.
    pub(super) fn longest(&self, glyphs: &[Glyph], at: usize) -> Option<(usize, Meaning)> {
        let first = glyphs.get(at)?.ch;
        if is_latin(first) && at > 0 && is_latin(glyphs[at - 1].ch) {
            return None;
        }
        let bucket = self.bucket(first)?;
        let next = glyphs.get(at + 1).map_or(ANY, |g| g.ch);
        bucket.seconds.iter().zip(&bucket.words).find_map(|(&second, w)| {
            if second != next && second != ANY {
                return None;
            }
            Some((fits(&w.glyphs, glyphs, at)?, w.meaning))
        })
    }

    fn bucket(&self, first: char) -> Option<&Bucket> {
        if first.is_ascii() { self.by_ascii.get(first as usize) } else { self.by_other.get(&first) }
    }

    fn bucket_mut(&mut self, first: char) -> &mut Bucket {
        if !first.is_ascii() {
            return self.by_other.entry(first).or_default();
        }
        let place = first as usize;
        if self.by_ascii.len() <= place {
            self.by_ascii.resize_with(place + 1, Bucket::default);
        }
        &mut self.by_ascii[place]
    }
}

/// What must follow the first character of a word; blanks, hyphens and full stops are written in many ways.
fn second(word: &Word) -> char {
    word.glyphs.get(1).copied().filter(|c| !matches!(c, ' ' | '-' | '.')).unwrap_or(ANY)
}

/// The rows of `words.csv`: word, meaning, language. No field of it is quoted, which a reader of any CSV would have
/// to look for each time the program starts.
fn built_in_rows() -> impl Iterator<Item = (&'static str, &'static str, &'static str)> {
    include_str!("words.csv").lines().skip(1).filter_map(|line| {
        let (word, rest) = line.split_once(',')?;
        let (meaning, language) = rest.split_once(',')?;
        Some((word, meaning, language))
    })
}

/// Latin letters keep words apart; signs and ideographs do not.
pub(super) fn is_latin(c: char) -> bool {
    c.is_ascii_alphabetic()
}

/// Where `word` ends if it stands at `at`. A blank in the word stands for blanks, line ends and hyphens; a full
/// stop in the word may be missing, and one after the word belongs to it.
fn fits(word: &[char], glyphs: &[Glyph], mut at: usize) -> Option<usize> {
    for &c in word {
        let here = glyphs.get(at).map(|g| g.ch);
        match c {
            ' ' | '-' => {
                let start = at;
                while glyphs.get(at).is_some_and(|g| matches!(g.ch, ' ' | '\n' | '-' | '.')) {
                    at += 1;
                }
                if at == start && c == ' ' {
                    return None;
                }
            }
            '.' if here != Some('.') => {}
            _ if here == Some(c) => at += 1,
            _ => return None,
        }
    }
    let last = *word.last()?;
    let next = glyphs.get(at).map(|g| g.ch);
    let runs_on =
        |c: char| (is_latin(last) && is_latin(c)) || (last.is_ascii_digit() && c.is_ascii_alphanumeric());
    if next.is_some_and(runs_on) {
        return None;
    }
    let stop = next == Some('.') && (is_latin(last) || last == '.');
    let number_after = glyphs.get(at + 1).is_some_and(|g| g.ch.is_ascii_digit());
    Some(if stop && !number_after { at + 1 } else { at })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn longest(text: &str) -> Option<(usize, Meaning)> {
        Words::built_in().longest(Glyphs::of(text).as_slice(), 0)
    }

    #[test]
    fn every_row_has_a_known_meaning_and_language() {
        let mut rows = 0;
        let mut words = Words::default();
        for (word, meaning, language) in built_in_rows() {
            assert_eq!(words.add(word, meaning), Ok(()), "{word}");
            assert!(!word.contains('"'), "{word} is quoted");
            assert!(["any", "de", "en", "es", "fr", "it", "ja", "zh"].contains(&language), "{word}");
            rows += 1;
        }
        assert_eq!(rows, include_str!("words.csv").lines().count() - 1, "every line is a row");
        for (name, meaning) in NAMES {
            assert!(built_in_rows().any(|(_, m, _)| m == *name), "{meaning:?} has a word");
        }
    }

    #[test]
    fn no_word_stands_twice() {
        let mut seen = std::collections::HashSet::new();
        for (word, _, _) in built_in_rows() {
            assert!(seen.insert(normalise(word)), "{word} stands twice");
        }
    }

    #[test]
    fn the_longest_word_wins() {
        assert_eq!(longest("THRU ALL"), Some((8, Meaning::Through)));
        assert_eq!(longest("self-tapping screw"), Some((12, Meaning::ScrewRolling)));
        assert_eq!(longest("tapping"), Some((7, Meaning::Tap)));
    }

    #[test]
    fn words_end_at_letters_but_not_at_digits() {
        assert_eq!(longest("DIAPER"), None);
        assert_eq!(longest("DP12"), Some((2, Meaning::Deep)));
        assert_eq!(longest("TYPE 12"), None);
        assert_eq!(longest("DIA.").map(|w| w.0), Some(4));
        assert_eq!(longest("DIA.5").map(|w| w.0), Some(3), "the stop belongs to .5");
    }

    #[test]
    fn a_word_can_be_added() {
        let mut words = Words::default();
        assert_eq!(words.add("otwory", "hole"), Ok(()));
        assert!(words.add("otwory", "holly").is_err());
        assert_eq!(words.longest(Glyphs::of("OTWORY").as_slice(), 0), Some((6, Meaning::Hole)));
    }

    fn user(word: &str, meaning: &str) -> UserWord {
        UserWord { word: word.to_owned(), meaning: meaning.to_owned() }
    }

    #[test]
    fn a_users_words_are_read_in_callouts_and_notes() {
        use super::super::{note, read_with};
        let words = Words::with(&[
            user("otwory", "hole"),
            user("przelotowy", "through"),
            user("grubość", "thickness"),
            user("wszystkie otwory", "all-holes"),
            user("materiał", "material"),
        ]);
        let words = words.unwrap_or_else(|faults| panic!("{faults:?}"));
        let callout = read_with("4 otwory Ø5 przelotowy", &words);
        assert_eq!((callout.count, callout.through, callout.unread().count()), (Some(4), true, 0));
        assert!(read_with("Wszystkie otwory Ø5", &words).general);
        assert_eq!(note::read_with("grubość 2", &words).thickness.map(|t| t.value), Some(2.0));
        assert_eq!(note::read_attribute_with("GRUBOŚĆ", "2", &words).thickness.map(|t| t.value), Some(2.0));
        assert!(note::is_label_with("materiał:", &words));
        assert_eq!(read_with("4X Ø5 THRU", &words).count, Some(4), "the program's words stay");
    }

    #[test]
    fn every_fault_of_a_users_words_is_named() {
        let faults =
            Words::with(&[user("a", "holly"), user("b", "hole"), user(" ", "hole"), user("5.", "hole")]);
        let at: Vec<usize> = faults.err().unwrap_or_default().iter().map(|f| f.0).collect();
        assert_eq!(at, [0, 2, 3]);
    }
}
