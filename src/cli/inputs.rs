//! What `check` and `holes` work on: drawings, hole lists, policies, and the joint that the command line gives.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::JointArgs;
use super::output::Refused;
use crate::batch::{self, Files};
use crate::hole_list::HoleLists;
use crate::joint::{Defaults, Making};
use crate::rules::RULES;
use crate::settings::Policies;
use crate::trade::{Material, Process, Thread, read_length};
use crate::trial::Trials;
use crate::units::{Length, Unit};

/// Everything that the arguments name, found and validated.
pub(super) struct Inputs {
    /// The drawings, each once, sorted; never none.
    pub(super) drawings: Arc<Vec<PathBuf>>,
    /// What gives their bytes.
    pub(super) files: Arc<Files>,
    /// The hole lists.
    pub(super) lists: Arc<HoleLists>,
    /// The policies.
    pub(super) policies: Arc<Policies>,
    /// The trial records that the lists name.
    pub(super) trials: Arc<Trials>,
    /// What the command line says of the joint.
    pub(super) defaults: Arc<Defaults>,
}

impl Inputs {
    /// Finds and reads it all.
    ///
    /// # Errors
    /// All that is wrong with any of it, at once.
    pub(super) fn find(
        paths: &[PathBuf],
        holes: &[PathBuf],
        policy: Option<&Path>,
        joint: &JointArgs,
    ) -> Result<Inputs, Refused> {
        let mut wrong = Refused::default();
        let defaults = defaults(joint, &mut wrong);
        let found = batch::discover(paths);
        wrong.add(&found.faults);
        let rules: Vec<&str> = RULES.iter().map(|r| r.name).collect();
        let drawings = found.drawings;
        let lists = wrong.unless(HoleLists::load(holes, &drawings).map_err(Refused::all));
        let policies = wrong.unless(Policies::load(policy, &drawings, &rules).map_err(Refused::all));
        let rows = lists.iter().flat_map(HoleLists::rows);
        let trials = wrong.unless(Trials::load(rows).map_err(Refused::all));
        wrong.or_ok()?;
        Ok(Inputs {
            trials: Arc::new(trials.unwrap_or_default()),
            drawings: Arc::new(drawings),
            files: found.files,
            lists: Arc::new(lists.unwrap_or_default()),
            policies: Arc::new(policies.unwrap_or_default()),
            defaults: Arc::new(defaults),
        })
    }
}

/// What the command line says of the joint.
fn defaults(args: &JointArgs, wrong: &mut Refused) -> Defaults {
    let thread =
        given(args.screw.as_deref(), "--screw", wrong, |t| Thread::parse(t).map_err(|e| e.to_string()));
    let material = given(args.material.as_deref(), "--material", wrong, material);
    let process = given(args.process.as_deref(), "--process", wrong, process);
    let unit = thread.as_ref().map(|t| t.unit);
    let thickness = given(args.thickness.as_deref(), "--thickness", wrong, |t| thickness(t, unit, material));
    Defaults { thread, making: Making { material, thickness, process, ..Making::default() } }
}

/// A material by any of its names.
pub(super) fn material(text: &str) -> Result<Material, String> {
    let known = Material::parse(text);
    known
        .ok_or_else(|| format!("'{text}' is no known material, such as low-carbon-steel, 5052-H32 or 1.4301"))
}

/// A process by its name.
pub(super) fn process(text: &str) -> Result<Process, String> {
    let none_of = "none of drilled, punched, laser, plasma, waterjet, reamed, cored, extruded";
    Process::parse(text).ok_or_else(|| format!("'{text}' is {none_of}"))
}

/// The value of an option, if it is given and can be read.
pub(super) fn given<T>(
    text: Option<&str>,
    option: &str,
    wrong: &mut Refused,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    let outcome = read(text?).map_err(|reason| Refused::because(format!("{option}: {reason}")));
    wrong.unless(outcome)
}

/// A bare number takes the unit of the thread; without a thread it could be either.
fn thickness(text: &str, unit: Option<Unit>, material: Option<Material>) -> Result<Length, String> {
    let read = read_length(text, unit.unwrap_or(Unit::Mm), material).map_err(|e| e.to_string())?;
    if read.unit.is_none() && unit.is_none() {
        return Err(format!("'{text}' could be mm or inch; write {text}mm or {text}in"));
    }
    if read.length <= Length::ZERO {
        return Err(format!("'{text}' is no thickness; it must be more than 0"));
    }
    Ok(read.length)
}
