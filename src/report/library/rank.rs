//! The drawings of a library in the order in which they are to be looked at. Of each only its place and its harm are
//! held: 16 bytes, so that a million drawings need no more than their ledgers do.

use std::io;

use crate::ledger::{Entry, Joined};
use crate::library::{Duplicate, Picture, harm, shown_harm};

/// The order.
#[derive(Debug)]
pub(super) struct Ranking {
    /// Harm and place in the ledgers of each drawing that counts, the most harm first, then by path.
    pub(super) counted: Vec<(f64, u32)>,
    /// Place in the ledgers of each duplicate, in the order of the picture's.
    pub(super) duplicates: Vec<u32>,
}

impl Ranking {
    /// Ranks all drawings of the ledgers that the picture was made of.
    ///
    /// # Errors
    /// If a line cannot be read, or the ledgers are not those of the picture.
    pub(super) fn of(picture: &Picture, joined: &mut Joined) -> io::Result<Ranking> {
        let mut ranking = Ranking { counted: Vec::with_capacity(joined.len()), duplicates: Vec::new() };
        let mut place = 0;
        joined
            .for_each(|entry| {
                ranking.add(&entry, place, &picture.duplicates);
                place += 1;
                Ok(())
            })
            .map_err(io::Error::other)?;
        let fits = ranking.counted.len() as u64 == picture.totals.drawings
            && ranking.duplicates.len() == picture.duplicates.len();
        if !fits {
            return Err(io::Error::other("the ledgers have changed since the picture was made"));
        }
        // The places are those of the paths in order.
        ranking.counted.sort_unstable_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        Ok(ranking)
    }

    /// Duplicates come in the order of their paths, as the drawings do.
    fn add(&mut self, entry: &Entry, place: u32, duplicates: &[Duplicate]) {
        if duplicates.get(self.duplicates.len()).is_some_and(|next| next.path == entry.path) {
            self.duplicates.push(place);
        } else {
            self.counted.push((shown_harm(harm(entry)), place));
        }
    }
}
