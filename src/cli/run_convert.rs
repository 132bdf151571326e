//! What the arguments of `convert` mean: tapped holes looked at, ranked by what a rolling screw would save, and written.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use super::args::{JointArgs, TextOrJson, When};
use super::inputs::Inputs;
use super::order::{self, Order};
use super::output::{self, Refused};
use super::progress;
use super::terminal;
use crate::batch::{self, Run, Taking};
use crate::check::DrawingResult;
use crate::practice::{Costs, Whose};
use crate::report::conversion::{Form, Ranked, Ranking};
use crate::settings::{Policies, load_costs};

/// `boreband convert`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ConvertArgs {
    /// Drawings, or folders or archives (*.zip) to look for *.dxf in (in any letter case)
    #[arg(value_name = "PATH", required = true)]
    paths: Vec<PathBuf>,

    /// What tapping, driving and proving cost, and how many parts are made ('boreband schema costs')
    ///
    /// Without this option the costs of the policy count; without any no saving is told.
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    costs: Option<PathBuf>,

    /// Policy file; without it the nearest boreband.json upward from the drawing
    ///
    /// Its 'conversion' says what follows from each ground, its 'limits' the numbers, its 'costs' what --costs says.
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    policy: Option<PathBuf>,

    /// Hole list, or a folder of them, for part, material, thickness and process; may be given more than once
    ///
    /// Without this option the lists are looked for beside each drawing: first <drawing>.holes.json, then
    /// holes.json in its folder.
    #[arg(long, value_name = "PATH", help_heading = "What the holes are in")]
    holes: Vec<PathBuf>,

    /// Thickness of the metal for drawings that state none, such as 1.5mm, .0598in or 16ga
    #[arg(long, value_name = "LENGTH", help_heading = "What the holes are in")]
    thickness: Option<String>,

    /// Material for drawings that state none, such as low-carbon-steel, 5052-H32 or 1.4301
    #[arg(long, value_name = "NAME", help_heading = "What the holes are in")]
    material: Option<String>,

    /// How the holes are made: drilled, punched, laser, plasma, waterjet, reamed, cored or extruded
    #[arg(long, value_name = "NAME", help_heading = "What the holes are in")]
    process: Option<String>,

    /// What is written to standard output
    #[arg(long, value_name = "FORM", default_value = "text", help_heading = "Output")]
    format: TextOrJson,

    /// Also write a report into a file; FORM is json or csv; may be given more than once
    #[arg(long, value_name = "FORM=FILE", value_parser = order::read::<FileForm>, help_heading = "Output")]
    write: Vec<Order<FileForm>>,

    /// How many drawings to look at at the same time; 0 for one a processor core
    #[arg(long, short, value_name = "N", default_value_t = 0, help_heading = "Running")]
    jobs: usize,

    /// How long the reading, or the check, of one drawing may take, such as 10s, 500ms or 2min; none for no limit
    ///
    /// A drawing that takes longer is reported as unreadable and left behind, the others are checked, and the run ends
    /// with 2. Apart from this limit no report depends on the clock.
    #[arg(long, value_name = "DURATION", default_value = "10s", value_parser = super::time_limit::read, help_heading = "Running")]
    time_limit: super::time_limit::TimeLimit,

    /// When to add colour; NO_COLOR in the environment turns it off unless this says 'always'
    #[arg(long, value_name = "WHEN", default_value = "auto", help_heading = "Output")]
    color: When,

    /// When to show progress on standard error
    #[arg(long, value_name = "WHEN", default_value = "auto", help_heading = "Running")]
    progress: When,
}

const EXAMPLES: &str = "\
Examples:
  boreband convert drawings/
      tapped holes that a rolling screw could replace, and the holes to call out
  boreband convert drawings/ --costs costs.json
      the same with what it saves, the greatest saving first
  boreband convert lid.dxf --thickness 2mm --material DC01
      for a drawing that states neither
  boreband convert drawings/ --costs costs.json --write csv=savings.csv
      also a table

A hole is a candidate, doubtful, or no; each ground for and against is named.
Exit codes: 0 done, 2 a drawing could not be read whole, or bad arguments.";

/// A form that can be written into a file.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum FileForm {
    /// JSON.
    Json,
    /// Comma-separated values, a part a row.
    Csv,
}

impl From<FileForm> for Form {
    fn from(form: FileForm) -> Form {
        match form {
            FileForm::Json => Form::Json,
            FileForm::Csv => Form::Csv,
        }
    }
}

/// Runs `convert`; the exit code.
pub(super) fn run(args: &ConvertArgs) -> Result<u8, Refused> {
    let joint = JointArgs {
        screw: None,
        thickness: args.thickness.clone(),
        material: args.material.clone(),
        process: args.process.clone(),
    };
    let mut wrong = Refused::default();
    let named = args
        .costs
        .as_deref()
        .and_then(|path| wrong.unless(load_costs(path).map_err(Refused::all)).map(Arc::new));
    let inputs = wrong.unless(Inputs::find(&args.paths, &args.holes, args.policy.as_deref(), &joint));
    let files = wrong.unless(order::begin(&args.write));
    wrong.or_ok()?;
    let (Some(inputs), Some(files)) = (inputs, files) else { return Ok(super::NOT_DONE) };
    let shared = named.as_deref().map_or_else(|| of_policies(&inputs), |costs| Ok(Some(costs)))?;
    let shown = match args.format {
        TextOrJson::Text => Form::Text { width: terminal::width(), colour: terminal::colour(args.color) },
        TextOrJson::Json => Form::Json,
    };
    let ranking =
        Ranking::new(std::iter::once(shown).chain(files.iter().map(|&(form, _)| form.into())).collect());
    let (mut ranking, mut ranked) = rank(args, &inputs, named.as_ref(), ranking)?;
    ranking.sort(&mut ranked);
    // A file that cannot be written must not cost the others.
    let mut wrong = Refused::default();
    for (nth, (_, file)) in (1..).zip(files) {
        wrong.unless(file.finish(|out| ranking.write(nth, &ranked, shared, out)));
    }
    wrong.unless(output::result(|out| ranking.write(0, &ranked, shared, out)));
    wrong.or_ok()?;
    if let Some(costs) = &named {
        output::tell(unused(costs, &ranking.rows_used()));
    }
    Ok(if ranking.has_unread() { super::NOT_DONE } else { 0 })
}

/// Looks at every drawing, in their order.
fn rank(
    args: &ConvertArgs,
    inputs: &Inputs,
    named: Option<&Arc<Costs>>,
    ranking: Ranking,
) -> Result<(Ranking, Vec<Ranked>), Refused> {
    let run = Run {
        drawings: Arc::clone(&inputs.drawings),
        files: Arc::clone(&inputs.files),
        lists: Arc::clone(&inputs.lists),
        policies: Arc::clone(&inputs.policies),
        trials: Arc::clone(&inputs.trials),
        defaults: Arc::clone(&inputs.defaults),
        waivers: None,
        pictured: false,
        converting: true,
        digested: true,
        jobs: args.jobs,
        time_limit: args.time_limit.0,
    };
    let total = inputs.drawings.len() as u64;
    let policies = Arc::clone(&inputs.policies);
    let gathering = Gathering { ranking, policies, named: named.map(Arc::clone) };
    let (gathering, ranked) = progress::during(progress::show(args.progress, false), total, |counts| {
        batch::each(&run, counts, gathering)
    });
    let ranked = ranked.into_iter().collect::<Result<Vec<_>, _>>();
    let ranked = ranked.map_err(|e| Refused::because(format!("the report could not be written: {e}")))?;
    Ok((gathering.ranking, ranked))
}

/// Where the results of the drawings go.
struct Gathering {
    ranking: Ranking,
    policies: Arc<Policies>,
    /// The costs of `--costs`, before those of the policies.
    named: Option<Arc<Costs>>,
}

impl Taking for Gathering {
    type Kept = io::Result<Ranked>;

    fn take(&self, path: &Path, result: DrawingResult) -> io::Result<Ranked> {
        let of_policy = || self.policies.for_drawing(path).practice.costs.as_ref();
        self.ranking.add(&result, self.named.as_deref().or_else(of_policy))
    }
}

/// The costs of the policies of a run: those of the first that states any.
///
/// # Errors
/// If two of them count in other money, for that cannot be ranked together.
fn of_policies(inputs: &Inputs) -> Result<Option<&Costs>, Refused> {
    let governing = inputs.policies.governing(&inputs.drawings);
    let mut costs = governing.into_iter().filter_map(|(policy, _)| policy.practice.costs.as_ref());
    let Some(first) = costs.next() else { return Ok(None) };
    match costs.find(|other| other.currency != first.currency) {
        None => Ok(Some(first)),
        Some(other) => Err(Refused::because(format!(
            "{} counts in {} and {} in {}; expected one money, or --costs",
            first.origin.words(),
            first.currency,
            other.origin.words(),
            other.currency
        ))),
    }
}

/// Rows of parts a year that covered no drawing with a tapped hole.
fn unused(costs: &Costs, used: &[usize]) -> Vec<String> {
    let rows = costs.yearly.iter().enumerate().filter(|(nth, _)| !used.contains(nth));
    rows.map(|(_, row)| {
        let whose = match &row.whose {
            Whose::Drawing(pattern) => format!("drawing {pattern}"),
            Whose::Part(part) => format!("part {part}"),
        };
        let crate::practice::Origin::File { file, pointer } = &row.origin else { return whose };
        format!("{file}: {pointer}: covers no drawing ({whose})")
    })
    .collect()
}
