//! Drawings that a ledger knows and that are not there any more.

use std::collections::{HashMap, HashSet};
use std::path::{Path, PathBuf};

use super::{Known, Shard, relative};

/// The paths, sorted, of drawings that a ledger knows, that stand under `roots` and in the shard, and that are not among
/// the `found`. What stands elsewhere is none of this run's business.
pub fn gone(
    known: &HashMap<String, Known>,
    found: &HashSet<String>,
    roots: &[PathBuf],
    shard: Option<Shard>,
) -> Vec<String> {
    let missing = known.keys().filter(|path| !found.contains(path.as_str())).filter(|path| {
        let drawing = Path::new(path.as_str());
        let under_a_root = roots.iter().any(|root| drawing.starts_with(root));
        under_a_root && shard.is_none_or(|shard| shard.takes(&relative(drawing, roots)))
    });
    let mut missing: Vec<String> = missing.cloned().collect();
    missing.sort();
    missing
}
