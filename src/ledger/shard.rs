//! The parts of a library that are audited apart from each other, by machines that know nothing of one another.

use std::fmt;
use std::path::{Path, PathBuf};
use std::str::FromStr;

/// The part `number` (from 1) of `of` parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shard {
    number: u64,
    of: u64,
}

impl Shard {
    /// Whether a drawing, by its path below the folder that was given, is in this part. The part of a path is the same on
    /// every machine: the first eight bytes of the BLAKE3 digest of the path (UTF-8, with `/`), the lowest first, modulo
    /// the number of parts.
    ///
    /// ```
    /// # use boreband::ledger::Shard;
    /// let shards: Vec<Shard> = (1..=3).map(|k| format!("{k}/3").parse().unwrap()).collect();
    /// assert_eq!(shards.iter().filter(|shard| shard.takes("frames/lid.dxf")).count(), 1);
    /// ```
    pub fn takes(self, relative: &str) -> bool {
        let digest = blake3::hash(relative.as_bytes());
        let (first, _) = digest.as_bytes().split_first_chunk::<8>().unwrap_or((&[0; 8], &[]));
        u64::from_le_bytes(*first) % self.of == self.number - 1
    }
}

impl FromStr for Shard {
    type Err = String;

    fn from_str(text: &str) -> Result<Shard, String> {
        let wrong = || format!("'{text}' is no shard; expected K/N with K from 1 to N, such as 3/8");
        let (number, of) = text.split_once('/').ok_or_else(wrong)?;
        let whole = |part: &str| part.parse::<u64>().map_err(|_| wrong());
        let shard = Shard { number: whole(number)?, of: whole(of)? };
        if (1..=shard.of).contains(&shard.number) { Ok(shard) } else { Err(wrong()) }
    }
}

impl fmt::Display for Shard {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.number, self.of)
    }
}

/// The path of a drawing below the one of `roots` that holds it, with `/`; of a drawing given by itself, its name. The
/// longest root counts, so that it does not matter in which order they were given.
pub fn relative(drawing: &Path, roots: &[PathBuf]) -> String {
    let below = roots.iter().filter_map(|root| drawing.strip_prefix(root).ok());
    let shortest = below.min_by_key(|below| below.components().count());
    let below = shortest.filter(|below| !below.as_os_str().is_empty());
    let named = below.or_else(|| drawing.file_name().map(Path::new)).unwrap_or(drawing);
    named.to_string_lossy().replace(std::path::MAIN_SEPARATOR, "/")
}
