//! What the arguments of `check` mean: threshold, form, detail and progress; then the run itself.

use std::io;
use std::path::Path;
use std::sync::Arc;

use super::accept::Accepting;
use super::args::{CheckArgs, Format};
use super::folders::Folders;
use super::inputs::Inputs;
use super::output::{self, Refused};
use super::{orders, progress, terminal};
use crate::batch::{self, Run, Taking};
use crate::check::{DrawingResult, Totals};
use crate::reading::display_path;
use crate::report::policy::{self, Governed};
use crate::report::sheaf::{Form, Leaf, Sheaf};
use crate::report::text::{Detail, Look};

/// Runs `check`; the exit code.
pub(super) fn run(args: &CheckArgs) -> Result<u8, Refused> {
    let inputs = Inputs::find(&args.paths, &args.holes, args.policy.as_deref(), &args.joint)?;
    if args.show_policy {
        return show_policy(args, &inputs);
    }
    let accepting = Accepting::begin(args)?;
    let fail_on = args.fail_on.level();
    let shown = match args.format {
        Format::Text => Form::Text(look(args)),
        Format::Json => Form::Json,
        Format::Lines => Form::Lines,
    };
    let run = Run {
        drawings: Arc::clone(&inputs.drawings),
        files: Arc::clone(&inputs.files),
        lists: Arc::clone(&inputs.lists),
        policies: Arc::clone(&inputs.policies),
        trials: Arc::clone(&inputs.trials),
        defaults: Arc::clone(&inputs.defaults),
        waivers: accepting.waivers(),
        pictured: orders::pictured(&args.write),
        converting: false,
        digested: shown.states_digests() || orders::digested(&args.write),
        jobs: args.jobs,
        time_limit: args.time_limit.0,
    };
    let total = inputs.drawings.len() as u64;
    let files = orders::begin(&args.write, fail_on)?;
    let folders = Folders::begin(orders::folders(&args.write), &run.drawings, &run.files)?;
    let sheaf = Sheaf::new(std::iter::once(shown).chain(files.iter().map(|(form, _)| *form)).collect());
    let (gathering, leaves) = progress::during(progress::show(args.progress, args.quiet), total, |counts| {
        batch::each(&run, counts, Gathering { accepting, folders, sheaf })
    });
    let Gathering { accepting, folders, mut sheaf } = gathering;
    let leaves = leaves.into_iter().collect::<Result<Vec<_>, _>>();
    let leaves = leaves.map_err(|e| Refused::because(format!("the report could not be written: {e}")))?;
    let totals = sheaf.tally().totals;
    tell_unmatched(args, &inputs, &totals);
    // A file that cannot be written must not cost the others.
    let mut wrong = Refused::default();
    for (nth, (_, file)) in (1..).zip(files) {
        wrong.unless(file.finish(|out| sheaf.write(nth, &leaves, out)));
    }
    if let Some(stale) = wrong.unless(folders.finish()) {
        output::tell(stale);
    }
    wrong.unless(accepting.finish(&inputs.drawings, args.quiet));
    wrong.unless(output::result(|out| sheaf.write(0, &leaves, out)));
    wrong.or_ok()?;
    Ok(batch::exit_code(&totals, fail_on))
}

/// Where the results of the drawings go.
struct Gathering {
    accepting: Accepting,
    folders: Folders,
    sheaf: Sheaf,
}

impl Taking for Gathering {
    type Kept = io::Result<Leaf>;

    fn take(&self, path: &Path, result: DrawingResult) -> io::Result<Leaf> {
        self.accepting.add(path, &result);
        self.folders.add(path, &result);
        self.sheaf.add(&result)
    }
}

/// Shows the policies that govern the drawings; the exit code.
fn show_policy(args: &CheckArgs, inputs: &Inputs) -> Result<u8, Refused> {
    let governing = inputs.policies.governing(&inputs.drawings).into_iter();
    let governed: Vec<Governed<'_>> = governing
        .map(|(policy, drawings)| Governed {
            policy,
            drawings: drawings.into_iter().map(display_path).collect(),
        })
        .collect();
    match args.format {
        Format::Json => output::result(|out| policy::write_json(&governed, out))?,
        Format::Text => {
            let (width, colour) = (terminal::width(), terminal::colour(args.color));
            output::result(|out| policy::write_text(&governed, width, colour, out))?;
        }
        Format::Lines => {
            return Err(Refused::because("--show-policy is written as text or json, not as lines"));
        }
    }
    Ok(0)
}

/// Says on standard error which entries of the lists covered nothing, where that may be why nothing was checked.
fn tell_unmatched(args: &CheckArgs, inputs: &Inputs, totals: &Totals) {
    if args.verbose || (totals.screw_holes == 0 && !args.quiet) {
        output::tell(inputs.lists.unmatched());
    }
}

fn look(args: &CheckArgs) -> Look {
    let detail = match (args.quiet, args.verbose) {
        (true, _) => Detail::Quiet,
        (_, true) => Detail::Verbose,
        _ => Detail::Normal,
    };
    let screw_named = args.joint.screw.is_some();
    Look { width: terminal::width(), colour: terminal::colour(args.color), detail, screw_named }
}
