//! What the arguments of `check` mean: drawings, lists, policy, threshold and form; then the run itself.

use std::path::PathBuf;

use super::args::{CheckArgs, FailOn, Format, JointArgs, When};
use super::output::{self, Refused};
use super::progress::Show;
use super::{progress, terminal};
use crate::batch::{self, Run};
use crate::finding::Level;
use crate::hole_list::HoleLists;
use crate::joint::{Defaults, Making};
use crate::report::text::{Detail, Look};
use crate::report::{json, lines, text};
use crate::rules::RULES;
use crate::settings::Policies;
use crate::trade::{Material, Process, Thread};

/// Runs `check`; the exit code.
pub(super) fn run(args: &CheckArgs) -> Result<u8, Refused> {
    let plan = Plan::from(args)?;
    let run = Run {
        drawings: &plan.drawings,
        lists: &plan.lists,
        policies: &plan.policies,
        defaults: &plan.defaults,
        jobs: args.jobs,
    };
    let total = plan.drawings.len() as u64;
    let report = progress::during(show(args), total, |counts| batch::run(&run, counts));
    output::result(|out| match args.format {
        Format::Text => text::write(&report, &look(args), out),
        Format::Json => json::write(&report, out),
        Format::Lines => lines::write(&report, out),
    })?;
    Ok(batch::exit_code(&report, threshold(args.fail_on)))
}

/// All that a run needs, found and validated.
struct Plan {
    drawings: Vec<PathBuf>,
    lists: HoleLists,
    policies: Policies,
    defaults: Defaults,
}

impl Plan {
    /// Finds and reads everything that the arguments name. All that is wrong with any of it is told at once.
    fn from(args: &CheckArgs) -> Result<Plan, Refused> {
        let mut wrong = Refused::default();
        let defaults = wrong.unless(defaults(&args.joint)).unwrap_or_default();
        let drawings = wrong.unless(drawings(&args.paths)).unwrap_or_default();
        let lists = HoleLists::load(&args.holes, &drawings).map_err(Refused::all);
        let lists = wrong.unless(lists).unwrap_or_default();
        let rules: Vec<&str> = RULES.iter().map(|rule| rule.name).collect();
        let policies = Policies::load(args.policy.as_deref(), &drawings, &rules).map_err(Refused::all);
        let policies = wrong.unless(policies).unwrap_or_default();
        wrong.or_ok()?;
        Ok(Plan { drawings, lists, policies, defaults })
    }
}

/// The drawings under the paths.
fn drawings(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Refused> {
    let found = batch::discover(paths);
    if found.faults.is_empty() { Ok(found.drawings) } else { Err(Refused::all(found.faults)) }
}

/// What the command line says of the joint.
pub(super) fn defaults(args: &JointArgs) -> Result<Defaults, Refused> {
    let mut wrong = Refused::default();
    let thread = args
        .screw
        .as_deref()
        .map(|t| Thread::parse(t).map_err(|e| Refused::because(format!("--screw: {e}"))));
    let thread = thread.and_then(|t| wrong.unless(t));
    let material = args.material.as_deref().map(|m| {
        Material::parse(m).ok_or_else(|| {
            Refused::because(format!(
                "--material: '{m}' is no known material, such as low-carbon-steel, 5052-H32 or 1.4301"
            ))
        })
    });
    let process = args.process.as_deref().map(|p| {
        Process::parse(p).ok_or_else(|| {
            Refused::because(format!(
                "--process: '{p}' is none of drilled, punched, laser, plasma, waterjet, reamed, cored, extruded"
            ))
        })
    });
    let material = material.and_then(|m| wrong.unless(m));
    let process = process.and_then(|p| wrong.unless(p));
    wrong.or_ok()?;
    Ok(Defaults { thread, making: Making { material, process, ..Making::default() } })
}

fn threshold(fail_on: FailOn) -> Option<Level> {
    match fail_on {
        FailOn::Fail => Some(Level::Fail),
        FailOn::Warn => Some(Level::Warn),
        FailOn::Note => Some(Level::Note),
        FailOn::Never => None,
    }
}

fn look(args: &CheckArgs) -> Look {
    let detail = match (args.quiet, args.verbose) {
        (true, _) => Detail::Quiet,
        (_, true) => Detail::Verbose,
        _ => Detail::Normal,
    };
    Look { width: terminal::width(), colour: terminal::colour(args.color), detail }
}

fn show(args: &CheckArgs) -> Show {
    match args.progress {
        When::Never => Show::Nothing,
        When::Always if terminal::errors_on_terminal() => Show::Bar,
        When::Always => Show::Lines,
        When::Auto if args.quiet || !terminal::errors_on_terminal() => Show::Nothing,
        When::Auto => Show::Bar,
    }
}
