//! The plot of a trial: how drive and failure torque are distributed, their statistical limits, and the seating window
//! between them with its middle. Each panel says in words what its lines are, so that it reads without colour.

use std::borrow::Cow;
use std::fmt::Write as _;

use super::{Evaluated, verdict};
use crate::report::clean::flowing;
use crate::rules::words;
use crate::statistics::Sample;
use crate::trial::{Evaluation, Trial};

/// Width and height of a panel, and the box of its axes within.
const WIDTH: f64 = 800.0;
const HEIGHT: f64 = 380.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 770.0;
const TOP: f64 = 128.0;
const BASE: f64 = 296.0;
/// Room for the words beside a line.
const ROOM: f64 = 170.0;

/// Points along a curve.
const POINTS: u32 = 160;

/// The picture of these trials, one panel under the other.
pub(super) fn svg(trials: &[Evaluated]) -> String {
    let height = HEIGHT * trials.len() as f64;
    let mut out = String::new();
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {height}\" width=\"{WIDTH}\" \
         height=\"{height}\" font-family=\"sans-serif\" font-size=\"12\">\n\
         <rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>"
    );
    for (index, (trial, evaluation)) in trials.iter().enumerate() {
        let _ = writeln!(out, "<g transform=\"translate(0 {})\">", HEIGHT * index as f64);
        Panel::new(trial, evaluation).draw(&mut out);
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

struct Panel<'a> {
    trial: &'a Trial,
    evaluation: &'a Evaluation,
    /// Torque at the right edge (N·m).
    greatest: f64,
    /// Density at the top.
    densest: f64,
}

impl<'a> Panel<'a> {
    fn new(trial: &'a Trial, evaluation: &'a Evaluation) -> Self {
        let e = evaluation;
        let runs = trial.runs.iter().map(|run| run.failure.nm());
        let ends = runs.chain([e.failure.mean + 3.5 * e.failure.sd, e.drive_limit]);
        let greatest = 1.03 * ends.fold(0.0, f64::max);
        let densest =
            [&e.drive, &e.failure].map(|s| density(s, s.mean, greatest)).into_iter().fold(0.0, f64::max);
        Panel { trial, evaluation, greatest, densest }
    }

    fn x(&self, torque: f64) -> f64 {
        LEFT + (RIGHT - LEFT) * (torque / self.greatest).clamp(0.0, 1.0)
    }

    fn y(&self, density: f64) -> f64 {
        BASE - (BASE - TOP - 4.0) * density / self.densest
    }

    fn value(&self, torque: f64) -> String {
        format!("{:.2}", torque / self.trial.torque_unit.in_nm())
    }

    fn draw(&self, out: &mut String) {
        self.head(out);
        self.window(out);
        self.distribution("drive", &self.evaluation.drive, 52.0, "#1f5fa8", out);
        let e = self.evaluation;
        let near = self.x(e.failure.mean) - self.x(e.drive.mean) < ROOM;
        self.distribution("failure", &e.failure, if near { 70.0 } else { 52.0 }, "#a8401f", out);
        self.runs(out);
        self.limits(out);
        self.axis(out);
    }

    fn head(&self, out: &mut String) {
        let (t, e) = (self.trial, self.evaluation);
        let name = t.test.as_deref().map_or(Cow::from(&t.file), flowing);
        let thickness = words::length(t.thickness, t.unit);
        let joint = format!("{} in {thickness} {}", t.screw.thread.name, t.material.words());
        let ratio = format!(
            "{} runs; failure to drive torque {:.2} of means ({} needed), {:.2} of limits: {}",
            e.drive.count,
            e.ratio_of_means,
            words::short(e.limits.ratio),
            e.ratio_of_limits,
            verdict(e)
        );
        text(
            out,
            (LEFT, 24.0),
            "start",
            "font-size=\"15\" font-weight=\"bold\"",
            &format!("{name}: {joint}"),
        );
        text(out, (LEFT, 43.0), "start", "fill=\"#333333\"", &ratio);
    }

    fn window(&self, out: &mut String) {
        let Some((low, high)) = self.evaluation.window() else {
            let said = "no seating window: the limits of drive and failure cross";
            text(out, (RIGHT, 66.0), "end", "fill=\"#333333\"", said);
            return;
        };
        let (a, b) = (self.x(low), self.x(high));
        let _ = writeln!(
            out,
            "<rect x=\"{a:.1}\" y=\"{TOP}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"#e9f2e4\"/>",
            b - a,
            BASE - TOP
        );
        let middle = f64::midpoint(low, high);
        let said = format!("seating window, middle {}", self.value(middle));
        self.upright((middle, 72.0), true, ("#2d6a2d", "6 3 1 3"), &said, out);
    }

    fn limits(&self, out: &mut String) {
        let e = self.evaluation;
        let share = words::short(100.0 * e.limits.coverage);
        let drive = format!("{share} % drive below {}", self.value(e.drive_limit));
        self.upright((e.drive_limit, 94.0), false, ("#1f5fa8", "5 3"), &drive, out);
        let failure = format!("{share} % fail above {}", self.value(e.failure_limit));
        self.upright((e.failure_limit, 116.0), true, ("#a8401f", "5 3"), &failure, out);
        if let Some(seating) = e.seating.filter(|s| s.stated) {
            let x = self.x(seating.torque);
            let (a, b) =
                (self.x(seating.torque - seating.plus_minus), self.x(seating.torque + seating.plus_minus));
            let y = BASE - 12.0;
            let _ = writeln!(
                out,
                "<path d=\"M{a:.1} {y}H{b:.1}M{x:.1} {}V{}\" stroke=\"#000000\" stroke-width=\"2\"/>",
                y - 6.0,
                y + 6.0
            );
            text(out, (b + 8.0, y + 4.0), "start", "", &format!("tool {}", self.value(seating.torque)));
        }
    }

    /// A dashed upright line with its words at a height of their own, on the side that is asked for if there is room.
    fn upright(
        &self,
        (torque, at): (f64, f64),
        rightwards: bool,
        (colour, dashes): (&str, &str),
        said: &str,
        out: &mut String,
    ) {
        if !(0.0..=self.greatest).contains(&torque) {
            return;
        }
        let x = self.x(torque);
        let _ = writeln!(
            out,
            "<path d=\"M{x:.1} {:.1}V{BASE}\" stroke=\"{colour}\" stroke-width=\"1.5\" stroke-dasharray=\"{dashes}\"/>",
            at - 10.0
        );
        let right = if rightwards { x < RIGHT - ROOM } else { x < LEFT + ROOM };
        let (x, anchor) = if right { (x + 5.0, "start") } else { (x - 5.0, "end") };
        text(out, (x, at), anchor, &format!("fill=\"{colour}\""), said);
    }

    fn distribution(&self, name: &str, sample: &Sample, below: f64, colour: &str, out: &mut String) {
        let (from, to) = (sample.mean - 4.0 * sample.sd, sample.mean + 4.0 * sample.sd);
        let step = (to - from) / f64::from(POINTS);
        let mut path = String::new();
        for k in 0..=POINTS {
            let torque = from + step * f64::from(k);
            if sample.sd > 0.0 && (0.0..=self.greatest).contains(&torque) {
                let (x, y) = (self.x(torque), self.y(density(sample, torque, self.greatest)));
                let _ = write!(path, "{}{x:.1} {y:.1}", if path.is_empty() { "M" } else { "L" });
            }
        }
        let _ = writeln!(
            out,
            "<path d=\"{path}\" fill=\"{colour}\" fill-opacity=\"0.15\" stroke=\"{colour}\" stroke-width=\"2\"/>"
        );
        let said = format!("{name} {} ± {}", self.value(sample.mean), self.value(sample.sd));
        let look = format!("fill=\"{colour}\" font-weight=\"bold\"");
        // Under the axis, where no line crosses it.
        text(out, (self.x(sample.mean), BASE + below), "middle", &look, &said);
    }

    /// A tick for each run, under the axis.
    fn runs(&self, out: &mut String) {
        for (colour, torques) in [
            ("#1f5fa8", self.trial.runs.iter().map(|r| r.drive.nm()).collect::<Vec<_>>()),
            ("#a8401f", self.trial.runs.iter().map(|r| r.failure.nm()).collect()),
        ] {
            let ticks: String =
                torques.iter().map(|t| format!("M{:.1} {}v10", self.x(*t), BASE + 24.0)).collect();
            let _ = writeln!(out, "<path d=\"{ticks}\" stroke=\"{colour}\" stroke-opacity=\"0.7\"/>");
        }
    }

    fn axis(&self, out: &mut String) {
        let _ = writeln!(out, "<path d=\"M{LEFT} {BASE}H{RIGHT}\" stroke=\"#000000\"/>");
        let unit = self.trial.torque_unit;
        let step = round_step(self.greatest / unit.in_nm() / 8.0);
        let decimals = (-step.log10().floor()).max(0.0) as usize;
        let mut k = 0.0;
        while k * step * unit.in_nm() <= self.greatest {
            let x = self.x(k * step * unit.in_nm());
            let _ = writeln!(out, "<path d=\"M{x:.1} {BASE}v5\" stroke=\"#000000\"/>");
            text(out, (x, BASE + 18.0), "middle", "", &format!("{:.decimals$}", k * step));
            k += 1.0;
        }
        text(
            out,
            (RIGHT, BASE + 72.0),
            "end",
            "fill=\"#333333\"",
            &format!("torque ({unit}); a tick is a run"),
        );
    }
}

/// The normal density of a sample; one narrower than a pixel is drawn a pixel wide, so that it can be seen.
fn density(sample: &Sample, at: f64, greatest: f64) -> f64 {
    let sd = sample.sd.max(greatest / (RIGHT - LEFT));
    let z = (at - sample.mean) / sd;
    (-0.5 * z * z).exp() / sd
}

/// The next of 1, 2 and 5 times a power of ten.
fn round_step(least: f64) -> f64 {
    let power = 10_f64.powf(least.max(1e-9).log10().floor());
    [1.0, 2.0, 5.0, 10.0].map(|m| m * power).into_iter().find(|step| *step >= least).unwrap_or(power)
}

fn text(out: &mut String, (x, y): (f64, f64), anchor: &str, look: &str, said: &str) {
    let said = said.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    let _ = writeln!(out, "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\" {look}>{said}</text>");
}
