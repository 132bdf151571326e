//! `boreband size`: what was typed and what it means. The values are `verdict::calculator`'s.

use std::path::{Path, PathBuf};

use clap::Args;

use super::args::{TextOrJson, When};
use super::inputs::{given, material, process};
use super::output::{self, Refused};
use super::terminal;
use crate::joint::{Coating, Collar, Stage};
use crate::report::size as form;
use crate::rules::RULES;
use crate::settings::Policies;
use crate::trade::{Material, Thread, read_length};
use crate::units::{Angle, Length};
use crate::verdict::calculator::{Question, answer};
use crate::verdict::table::{Over, table};

/// `boreband size`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES, allow_negative_numbers = true)]
pub(super) struct SizeArgs {
    /// Thread of the screw, such as M4, M5x0.5, 1/4-20 or #8-32
    #[arg(value_name = "THREAD")]
    thread: String,

    /// Diameter of a hole to judge; of its entrance with --draft
    #[arg(long, value_name = "LENGTH", help_heading = "The hole")]
    hole: Option<String>,

    /// How far the hole may be larger
    #[arg(long, value_name = "LENGTH", requires = "hole", help_heading = "The hole")]
    plus: Option<String>,

    /// How far the hole may be smaller
    #[arg(long, value_name = "LENGTH", requires = "hole", help_heading = "The hole")]
    minus: Option<String>,

    /// Draft per side of a cored hole, in degrees
    #[arg(long, value_name = "ANGLE", help_heading = "The hole")]
    draft: Option<String>,

    /// Depth of a blind hole, or of the engagement with --draft
    #[arg(long, value_name = "LENGTH", help_heading = "The hole")]
    depth: Option<String>,

    /// Thickness of a coating on the wall
    #[arg(long, value_name = "LENGTH", help_heading = "The hole")]
    coating: Option<String>,

    /// Whether --hole is the size before or after coating; judged as either if not given
    #[arg(long, value_name = "WHEN", requires = "coating", help_heading = "The hole")]
    coated: Option<Coated>,

    /// Mean of measured diameters
    #[arg(long, value_name = "LENGTH", requires_all = ["hole", "sd"], help_heading = "The hole")]
    mean: Option<String>,

    /// Standard deviation of measured diameters
    #[arg(long, value_name = "LENGTH", requires_all = ["hole", "mean"], help_heading = "The hole")]
    sd: Option<String>,

    /// Height of an extruded collar above the sheet
    #[arg(long, value_name = "LENGTH", help_heading = "The hole")]
    collar: Option<String>,

    /// Outside diameter of the collar
    #[arg(long, value_name = "LENGTH", requires = "collar", help_heading = "The hole")]
    outside: Option<String>,

    /// Diameter that is pierced before extruding
    #[arg(long, value_name = "LENGTH", requires = "collar", help_heading = "The hole")]
    pierce: Option<String>,

    /// Radius at the entry of the collar
    #[arg(long, value_name = "LENGTH", requires = "collar", help_heading = "The hole")]
    entry_radius: Option<String>,

    /// Thickness of the metal, such as 1.5mm, .0598in or 16ga
    #[arg(long, value_name = "LENGTH", help_heading = "The metal")]
    thickness: Option<String>,

    /// Material, such as low-carbon-steel, 5052-H32 or 1.4301
    #[arg(long, value_name = "NAME", help_heading = "The metal")]
    material: Option<String>,

    /// How the hole is made: drilled, punched, laser, plasma, waterjet, reamed,
    /// cored or extruded
    #[arg(long, value_name = "NAME", help_heading = "The metal")]
    process: Option<String>,

    /// Brinell hardness of the metal
    #[arg(long, value_name = "HB", help_heading = "The metal")]
    hardness: Option<String>,

    /// Tensile strength of the metal in MPa; the material's typical one if not given
    #[arg(long, value_name = "MPA", help_heading = "The metal")]
    tensile: Option<String>,

    /// Length of the screw under its head
    #[arg(long, value_name = "LENGTH", requires = "grip", help_heading = "The screw")]
    length: Option<String>,

    /// Thickness of what the screw clamps
    #[arg(long, value_name = "LENGTH", requires = "length", help_heading = "The screw")]
    grip: Option<String>,

    /// Policy file; without it the nearest boreband.json upward from the working folder
    #[arg(long, value_name = "FILE")]
    policy: Option<PathBuf>,

    /// A row for each usual thickness, or for each drill about the band
    #[arg(long, value_name = "OVER")]
    table: Option<TableOver>,

    /// What is written to standard output
    #[arg(long, value_name = "FORM", default_value = "text")]
    format: TextOrJson,

    /// When to add colour; NO_COLOR in the environment turns it off unless this says 'always'
    #[arg(long, value_name = "WHEN", default_value = "auto")]
    color: When,
}

/// `--coated`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Coated {
    /// The size is before coating; the screw meets a smaller hole.
    Before,
    /// The size is after coating.
    After,
}

impl Coated {
    const fn stage(self) -> Stage {
        match self {
            Coated::Before => Stage::Before,
            Coated::After => Stage::After,
        }
    }
}

/// `--table`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum TableOver {
    /// Usual thicknesses of sheet and plate.
    Thickness,
    /// Drills about the band.
    Drills,
}

impl TableOver {
    const fn over(self) -> Over {
        match self {
            TableOver::Thickness => Over::Thickness,
            TableOver::Drills => Over::Drills,
        }
    }
}

const EXAMPLES: &str = "\
Examples:
  boreband size M4 --thickness 1.5 --material low-carbon-steel
      the band, the hole to call out, drills and guide holes
  boreband size 1/4-20 --thickness 16ga --material CRS --hole .224 --plus .003
      also whether that hole suits; no --minus means none
  boreband size M6 --material A380 --thickness 12 --hole 5.6 --draft 0.5 --depth 12
      a cored hole along its depth
  boreband size M4 --thickness 1 --material DC01 --process extruded --collar 1
      the thread with its collar, and what to pierce
  boreband size M5 --material low-carbon-steel --table thickness
      hole, engagement and strength over usual thicknesses

Lengths: 3.65mm, .224in, 7/32in, #2 and B (drills), 16ga (a sheet gauge, with
--material). A bare number takes the unit of the thread.
What is not given is unknown: every band that is possible is shown.
Exit codes: 0 answered, 2 an argument could not be read.";

/// Runs `size`; the exit code.
pub(super) fn run(args: &SizeArgs) -> Result<u8, Refused> {
    let mut wrong = Refused::default();
    let question = wrong.unless(question(args));
    let rules: Vec<&str> = RULES.iter().map(|r| r.name).collect();
    let policy = Policies::of_folder(args.policy.as_deref(), Path::new(""), &rules);
    let policy = wrong.unless(policy.map_err(Refused::all));
    let Some((question, policy)) = question.zip(policy) else { return Err(wrong) };
    let practice = policy.practice;
    let answer = answer(&question, &practice);
    let (width, colour) = (terminal::width(), terminal::colour(args.color));
    let rows = args.table.map(|over| (over.over(), table(&question, over.over(), &practice)));
    let rows = rows.as_ref().map(|(over, rows)| (*over, rows.as_slice()));
    output::result(|out| match args.format {
        TextOrJson::Text => form::write_text(&question, &answer, rows, width, colour, out),
        TextOrJson::Json => form::write_json(&question, &answer, rows, out),
    })?;
    Ok(0)
}

/// What the arguments mean; all that is wrong with them at once.
fn question(args: &SizeArgs) -> Result<Question, Refused> {
    let mut wrong = Refused::default();
    let material = given(args.material.as_deref(), "--material", &mut wrong, material);
    let process = given(args.process.as_deref(), "--process", &mut wrong, process);
    let draft = given(args.draft.as_deref(), "--draft", &mut wrong, angle);
    let thread = wrong.unless(Thread::parse(&args.thread).map_err(Refused::because));
    let Some(thread) = thread else { return Err(wrong) };
    let mut length = |text: &Option<String>, option: &str, zero_allowed: bool| {
        given(text.as_deref(), option, &mut wrong, |t| size(t, &thread, material, zero_allowed))
    };
    let hole = length(&args.hole, "--hole", false);
    let thickness = length(&args.thickness, "--thickness", false);
    let depth = length(&args.depth, "--depth", false);
    let plus = length(&args.plus, "--plus", true);
    let minus = length(&args.minus, "--minus", true);
    let coating = length(&args.coating, "--coating", false);
    let mean = length(&args.mean, "--mean", false);
    let sd = length(&args.sd, "--sd", false);
    let collar = length(&args.collar, "--collar", false).map(|height| Collar { height, ..Collar::default() });
    let outside = length(&args.outside, "--outside", false);
    let pierce = length(&args.pierce, "--pierce", false);
    let entry_radius = length(&args.entry_radius, "--entry-radius", true);
    let screw_length = length(&args.length, "--length", false);
    let grip = length(&args.grip, "--grip", true);
    let hardness_hb = given(args.hardness.as_deref(), "--hardness", &mut wrong, hardness);
    let tensile_mpa = given(args.tensile.as_deref(), "--tensile", &mut wrong, tensile);
    if let (Some(hole), Some(minus)) = (hole, minus)
        && minus >= hole
    {
        wrong.add(["--minus: expected less than the hole"]);
    }
    if draft.is_some() && depth.is_none() && thickness.is_none() {
        wrong.add(["--draft: expected --depth or --thickness beside it"]);
    }
    wrong.or_ok()?;
    let stated = plus.is_some() || minus.is_some();
    let tolerance = stated.then(|| (plus.unwrap_or(Length::ZERO), minus.unwrap_or(Length::ZERO)));
    let stated = args.coated.map(Coated::stage);
    Ok(Question {
        hole,
        tolerance,
        thickness,
        material,
        process,
        draft,
        depth,
        collar: collar.map(|c| Collar { outside, pierce, entry_radius, ..c }),
        coating: coating.map(|thickness| Coating { thickness, stated }),
        hardness_hb,
        capability: mean.zip(sd),
        length: screw_length,
        grip,
        tensile_mpa,
        ..Question::of(thread)
    })
}

/// A length in the unit of the thread where it names none.
fn size(
    text: &str,
    thread: &Thread,
    material: Option<Material>,
    zero_allowed: bool,
) -> Result<Length, String> {
    let read = read_length(text, thread.unit, material).map_err(|e| e.to_string())?;
    if zero_allowed || read.length > Length::ZERO {
        Ok(read.length)
    } else {
        Err(format!("'{text}' is too small: expected a length of more than 0"))
    }
}

/// A Brinell hardness.
fn hardness(text: &str) -> Result<f64, String> {
    // The Brinell scale ends at about 650 HBW (ISO 6506-1; from memory).
    number(text, 650.0).ok_or_else(|| format!("'{text}' is no Brinell hardness: expected above 0 to 650"))
}

/// A tensile strength in MPa.
fn tensile(text: &str) -> Result<f64, String> {
    number(text, 3000.0)
        .ok_or_else(|| format!("'{text}' is no tensile strength: expected above 0 to 3000 MPa"))
}

/// A number above 0 and up to `most`.
fn number(text: &str, most: f64) -> Option<f64> {
    text.trim().replace(',', ".").parse().ok().filter(|v| *v > 0.0 && *v <= most)
}

/// A draft angle: `1`, `0.5deg`, `0,5°`.
fn angle(text: &str) -> Result<Angle, String> {
    let number = text.trim().trim_end_matches('°').trim_end_matches("deg").trim().replace(',', ".");
    let degrees = number.parse().ok().filter(|d| (0.0..=45.0).contains(d));
    let angle = degrees.and_then(|d| Angle::from_degrees(d).ok());
    angle.ok_or_else(|| format!("'{text}' is no draft angle: expected 0 to 45 degrees, such as 0.5"))
}
