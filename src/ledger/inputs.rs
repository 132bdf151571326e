//! What a result rests on beside the drawing, as a digest: when it changes, the drawing is checked again.

use std::fmt::{self, Debug, Write};
use std::path::Path;
use std::sync::{Arc, Mutex};

use jiff::civil::Date;

use crate::check::version;
use crate::hole_list::HoleLists;
use crate::joint::Defaults;
use crate::settings::{Policies, Policy};
use crate::trial::{Limits, Trials};
use crate::waivers::Waivers;

/// Makes the digests of a run. Shared by all threads.
///
/// What is digested is the content as it was understood, so that a list or policy that was only laid out anew, or moved
/// rows of other drawings, changes nothing.
pub struct InputsDigest {
    /// The program and what the command line says.
    common: blake3::Hasher,
    lists: Arc<HoleLists>,
    policies: Arc<Policies>,
    trials: Arc<Trials>,
    waivers: Option<(Arc<Waivers>, Date)>,
    /// Digest of each policy that was met, by its place in memory.
    of_policies: Mutex<Vec<(usize, blake3::Hash)>>,
}

impl InputsDigest {
    /// For a run over these.
    pub fn new(
        lists: &Arc<HoleLists>,
        policies: &Arc<Policies>,
        trials: &Arc<Trials>,
        defaults: &Defaults,
        waivers: Option<(Arc<Waivers>, Date)>,
    ) -> Self {
        let mut common = Feed(blake3::Hasher::new());
        common.all("program", &version());
        common.all("options", defaults);
        InputsDigest {
            common: common.0,
            lists: Arc::clone(lists),
            policies: Arc::clone(policies),
            trials: Arc::clone(trials),
            waivers,
            of_policies: Mutex::default(),
        }
    }

    /// The digest for a drawing, given by the same path as to the lists and policies: 32 hexadecimal digits.
    pub fn of(&self, drawing: &Path) -> String {
        let policy = self.policies.for_drawing(drawing);
        let mut feed = Feed(self.common.clone());
        feed.0.update(self.of_policy(policy).as_bytes());
        if let Some(rows) = self.lists.rows_for(drawing) {
            feed.all("rows", &rows);
            let limits = Limits::of(&policy.practice);
            for (trial, _) in rows.rows.iter().filter_map(|row| self.trials.of(row, limits)) {
                feed.all("trial", trial);
            }
        }
        if let Some((waivers, today)) = &self.waivers {
            for waiver in waivers.of(drawing) {
                feed.all("waiver", &(waiver, waiver.is_expired(*today)));
            }
        }
        let mut text = feed.0.finalize().to_hex().to_string();
        text.truncate(32);
        text
    }

    fn of_policy(&self, policy: &Policy) -> blake3::Hash {
        let place = std::ptr::from_ref(policy).addr();
        let mut known = self.of_policies.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        if let Some((_, hash)) = known.iter().find(|(other, _)| *other == place) {
            return *hash;
        }
        let mut feed = Feed(blake3::Hasher::new());
        feed.all("policy", policy);
        let hash = feed.0.finalize();
        known.push((place, hash));
        hash
    }
}

impl Debug for InputsDigest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("InputsDigest").finish_non_exhaustive()
    }
}

/// Writes what a value holds into a digest. Within one version of the program, which is digested too, the same value is
/// always written the same.
struct Feed(blake3::Hasher);

impl Feed {
    fn all(&mut self, name: &str, value: &dyn Debug) {
        // Writing into a digest does not fail.
        let _ = writeln!(self, "{name} {value:?}");
    }
}

impl Write for Feed {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0.update(text.as_bytes());
        Ok(())
    }
}
