//! `audit`: a library checked drawing by drawing into a ledger, going on where an earlier run stopped; then its picture.

use std::collections::{HashMap, HashSet};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};

use super::accept;
use super::audit_args::AuditArgs;
use super::inputs::Inputs;
use super::order;
use super::output::{self, Refused};
use super::{pictures, progress};
use crate::batch::{self, Files, Run, Taking, shown_path};
use crate::check::DrawingResult;
use crate::ledger::{Entry, InputsDigest, Known, Ledger, Opened, Sight, gone, relative};

/// Runs `audit`; the exit code.
pub(super) fn run(args: &AuditArgs) -> Result<u8, Refused> {
    let files = order::begin(&args.picture.write)?;
    let inputs = Inputs::find(&args.paths, &args.holes, args.policy.as_deref(), &args.joint)?;
    let waivers = args.waivers.as_deref().map(accept::read).transpose()?;
    let waivers =
        waivers.map(|waivers| (Arc::new(waivers), args.today.unwrap_or_else(crate::waivers::today)));
    let Opened { ledger, known, repairs } = Ledger::open(&args.ledger).map_err(Refused::because)?;
    output::tell(repairs);
    // Lists are matched with all drawings, so that what they say does not depend on the shard.
    let mine = |path: &PathBuf| args.shard.is_none_or(|shard| shard.takes(&relative(path, &args.paths)));
    let drawings: Arc<Vec<PathBuf>> =
        Arc::new(inputs.drawings.iter().filter(|path| mine(path)).cloned().collect());
    let run = Run {
        drawings: Arc::clone(&drawings),
        files: Arc::clone(&inputs.files),
        lists: Arc::clone(&inputs.lists),
        policies: Arc::clone(&inputs.policies),
        trials: Arc::clone(&inputs.trials),
        defaults: Arc::clone(&inputs.defaults),
        waivers: waivers.clone(),
        pictured: false,
        converting: false,
        digested: true,
        jobs: args.jobs,
        time_limit: args.time_limit.0,
    };
    let digests =
        InputsDigest::new(&inputs.lists, &inputs.policies, &inputs.trials, &inputs.defaults, waivers);
    let gone = gone(&known, &shown(&drawings), &args.paths, args.shard);
    let work = Work {
        ledger,
        files: Arc::clone(&inputs.files),
        known,
        digests,
        counts: Counts::default(),
        broken: OnceLock::new(),
    };
    let show = progress::show(args.progress, args.picture.quiet);
    let (work, _) = progress::during(show, drawings.len() as u64, |counts| batch::each(&run, counts, work));
    let Work { ledger, counts, broken, .. } = work;
    let forgotten = gone.iter().try_for_each(|path| ledger.forget(path));
    let closed = broken.into_inner().map_or(forgotten, Err).and_then(|()| ledger.close());
    closed.map_err(|e| {
        Refused::because(format!("{}: the ledger cannot be written: {e}", args.ledger.display()))
    })?;
    if !args.picture.quiet {
        output::tell([counts.said(&args.ledger, drawings.len(), gone.len())]);
    }
    pictures::finish(std::slice::from_ref(&args.ledger), &args.picture, files)
}

fn shown(drawings: &[PathBuf]) -> HashSet<String> {
    drawings.iter().map(|path| shown_path(path)).collect()
}

/// A run at work. Shared by all threads.
struct Work {
    ledger: Ledger,
    files: Arc<Files>,
    known: HashMap<String, Known>,
    digests: InputsDigest,
    counts: Counts,
    /// Why the ledger cannot be appended to any more.
    broken: OnceLock<io::Error>,
}

/// How many drawings were kept as the ledger knew them, and why the others were checked.
#[derive(Debug, Default)]
struct Counts {
    kept: AtomicU64,
    changed: AtomicU64,
    other_inputs: AtomicU64,
    new: AtomicU64,
}

impl Taking for Work {
    type Kept = ();

    /// Whether a drawing need not be checked: the ledger knows it as it is, or cannot take more.
    fn known(&self, path: &Path, bytes: &[u8]) -> Option<()> {
        if self.broken.get().is_some() {
            return Some(());
        }
        let known = self.known.get(&shown_path(path))?;
        let kept = known.content_is(bytes) && known.inputs_are(&self.digests.of(path));
        kept.then(|| {
            self.counts.kept.fetch_add(1, Ordering::Relaxed);
        })
    }

    /// Appends the result to the ledger.
    fn take(&self, path: &Path, result: DrawingResult) {
        let facts = self.files.facts(path);
        let sight = Sight { bytes: facts.bytes, year: facts.year, inputs: self.digests.of(path) };
        let counter = match self.known.get(&result.path) {
            None => &self.counts.new,
            Some(known) if known.digest_is(&result.digest) => &self.counts.other_inputs,
            Some(_) => &self.counts.changed,
        };
        counter.fetch_add(1, Ordering::Relaxed);
        if let Err(error) = self.ledger.append(&Entry::of(&result, sight)) {
            // The first reason is the one to tell.
            let _ = self.broken.set(error);
        }
    }
}

impl Counts {
    fn said(&self, ledger: &Path, drawings: usize, gone: usize) -> String {
        let [kept, changed, other, new] = [&self.kept, &self.changed, &self.other_inputs, &self.new]
            .map(|count| count.load(Ordering::Relaxed));
        format!(
            "{}: {drawings} drawings: {kept} known and unchanged, {changed} changed, {other} checked again \
             because a list, policy, option or the program changed, {new} new; {gone} gone",
            ledger.display()
        )
    }
}
