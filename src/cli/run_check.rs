//! What the arguments of `check` mean: drawings, lists, policy, threshold and form; then the run itself.

use std::path::{Path, PathBuf};

use super::args::{CheckArgs, FailOn, Format, JointArgs, When};
use super::output::{self, Refused};
use super::progress::Show;
use super::{progress, terminal};
use crate::batch::{self, Run};
use crate::check::Report;
use crate::finding::Level;
use crate::hole_list::HoleLists;
use crate::joint::{Defaults, Making};
use crate::report::text::{Detail, Look};
use crate::report::{json, lines, text};
use crate::trade::{Material, Process, Thread};

/// Runs `check`; the exit code.
pub(super) fn run(args: &CheckArgs) -> Result<u8, Refused> {
    let plan = Plan::from(args)?;
    let run = Run { drawings: &plan.drawings, lists: &plan.lists, defaults: &plan.defaults, jobs: args.jobs };
    let total = plan.drawings.len() as u64;
    let report = progress::during(show(args), total, |counts| batch::run(&run, counts));
    output::result(|out| match args.format {
        Format::Text => text::write(&report, &look(args), out),
        Format::Json => json::write(&report, out),
        Format::Lines => lines::write(&report, out),
    })?;
    Ok(exit_code(&report, threshold(args.fail_on)))
}

/// All that a run needs, found and validated.
struct Plan {
    drawings: Vec<PathBuf>,
    lists: HoleLists,
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
        wrong.or_ok()?;
        Ok(Plan { drawings, lists, defaults })
    }
}

/// The drawings under the paths.
fn drawings(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Refused> {
    let mut found = Vec::new();
    let is_dxf = |p: &Path| p.extension().is_some_and(|e| e.eq_ignore_ascii_case("dxf"));
    for path in paths {
        if path.is_dir() {
            let walk = walkdir::WalkDir::new(path).into_iter().filter_map(Result::ok);
            found.extend(walk.map(walkdir::DirEntry::into_path).filter(|p| p.is_file() && is_dxf(p)));
        } else if path.is_file() {
            found.push(path.clone());
        } else {
            return Err(Refused::because(format!("{}: there is no such file or folder", path.display())));
        }
    }
    found.sort();
    found.dedup();
    if found.is_empty() {
        Err(Refused::because("there is no drawing (*.dxf) under the paths given"))
    } else {
        Ok(found)
    }
}

fn exit_code(report: &Report, fail_on: Option<Level>) -> u8 {
    let t = &report.totals;
    let counted = match fail_on {
        _ if t.unreadable + t.partly_read > 0 => return 2,
        None => 0,
        Some(Level::Fail) => t.fail,
        Some(Level::Warn) => t.fail + t.warn,
        Some(Level::Note) => t.fail + t.warn + t.note,
    };
    u8::from(counted > 0)
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
