//! Which hole to call out: a size that shops have, near the target, with the widest tolerance that stays in the
//! band. How it is written is `notation`'s work.

use super::{HoleBand, Limits, ToleranceSource, Verdict};
use crate::practice::{Limit, Practice, Stock, Stocked};
use crate::trade::{Basis, Process, Thread, drills_between, hole_for};
use crate::units::{Length, Unit};

/// A tolerance narrower than this in all is no hole that a shop can make. On drawings in inches it is at least .001
/// in, the finest step that tolerances are written in there.
fn least_tolerance(wanted: &Wanted<'_>) -> Length {
    let least = Length::mm_const(1.0) * wanted.practice.limits.value(Limit::NarrowestTolerance);
    match wanted.unit {
        Unit::Mm => least,
        Unit::Inch => least.max(Length::mm_const(0.0254)),
    }
}

/// What the hole has now and how it is made.
#[derive(Debug, Clone)]
pub(super) struct Wanted<'a> {
    /// The size to keep because it is right.
    pub(super) keep: Option<Length>,
    /// Deviations that hold, up and down; none if no tolerance is known.
    pub(super) tolerance: Option<(Length, Length)>,
    /// Process.
    pub(super) process: Option<Process>,
    /// The unit that the callout is written in.
    pub(super) unit: Unit,
    /// How far the stated hole is larger than the one that the band speaks of.
    pub(super) larger: Larger,
    /// What the shop decides: its drills and punches.
    pub(super) practice: &'a Practice,
}

/// What is between the hole that is called out and those that the screw meets: a coating that comes on top, and the
/// draft down to the ends and the middle of the engaged length.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Larger {
    /// Than the smallest hole met, at the end of the engaged length.
    pub(super) than_least: Length,
    /// Than the one half way, where the target is aimed at.
    pub(super) than_middle: Length,
    /// Than the largest, at the start.
    pub(super) than_most: Length,
}

impl Larger {
    /// By the least and the most that a coating takes everywhere and what the draft takes on the way down; `slope` is
    /// the loss of diameter over depth, zero without draft.
    pub(super) fn by((least, most): (Length, Length), slope: f64, start: Length, engaged: Length) -> Larger {
        Larger {
            than_least: most + (start + engaged) * slope,
            than_middle: (least + most) / 2.0 + (start + engaged / 2.0) * slope,
            than_most: least + start * slope,
        }
    }
}

/// The hole to call out.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Choice {
    pub(super) diameter: Length,
    /// The stocked drill of that size, if there is one.
    pub(super) drill: Option<String>,
    /// Up and down, magnitudes; none where no tolerance that can be made stays in the band.
    pub(super) tolerance: Option<(Length, Length)>,
    /// Whether the tolerance is the one that holds already.
    pub(super) kept: bool,
}

impl<'a> Wanted<'a> {
    /// What a hole on a drawing has.
    pub(super) fn of_hole(
        limits: &Limits,
        verdict: Option<Verdict>,
        process: Option<Process>,
        unit: Unit,
        larger: Larger,
        practice: &'a Practice,
    ) -> Wanted<'a> {
        let known = limits.tolerance_source != ToleranceSource::None;
        Wanted {
            keep: (verdict == Some(Verdict::InBand)).then_some(limits.nominal),
            tolerance: known.then_some((limits.max - limits.nominal, limits.nominal - limits.min)),
            process,
            unit,
            larger,
            practice,
        }
    }
}

impl Wanted<'_> {
    /// The sizes that the shop keeps for the process, if it says so.
    fn stock(&self) -> Option<&Stock> {
        match self.process {
            None | Some(Process::Drilled) => self.practice.drills.as_ref(),
            Some(Process::Punched) => self.practice.punches.as_ref(),
            Some(_) => None,
        }
    }

    /// The drill of exactly that size: the shop's where it says what it keeps, else the stocked or special one of the
    /// tables, those of the unit first.
    fn drill_named(&self, diameter: Length) -> Option<String> {
        if let Some(stock) = &self.practice.drills {
            let same: Vec<&Stocked> = stock.between(diameter, diameter).collect();
            let of_unit = same.iter().find(|s| s.unit == self.unit);
            return of_unit.or(same.first()).map(|s| s.name.clone());
        }
        let same: Vec<_> = drills_between(diameter, diameter).collect();
        let of_unit = same.iter().find(|d| d.series.unit() == self.unit);
        of_unit.or(same.first()).map(|d| d.name.clone())
    }
}

/// Chooses the hole to call out: the present one if it is right, else the nearest to the target of the sizes
/// that the process has in the band and that hold the tolerance, else the nearest with the widest tolerance that
/// stays in the band. None where the draft takes up more than the band.
pub(super) fn choose(thread: &Thread, band: &HoleBand, wanted: &Wanted<'_>) -> Option<Choice> {
    let target = hole_for(thread, band.band.target, Basis::Rolled) + wanted.larger.than_middle;
    // What is called out is the entrance before coating; the band is that of the coated hole over its depth.
    let band = &HoleBand {
        band: band.band.clone(),
        hole_min: band.hole_min + wanted.larger.than_least,
        hole_max: band.hole_max + wanted.larger.than_most,
    };
    if band.hole_min > band.hole_max {
        return None;
    }
    if let Some(present) = wanted.keep.filter(|present| band.holds(*present)) {
        return Some(sized(present, band, wanted));
    }
    for sizes in tiers(band, wanted) {
        let choices: Vec<Choice> = sizes.into_iter().map(|d| sized(d, band, wanted)).collect();
        if let Some(choice) = best(&choices, target) {
            return Some(choice.clone());
        }
    }
    let step = if wanted.unit == Unit::Mm { 0.001 } else { 0.0001 };
    let rounded = stepped(target, step, wanted.unit, f64::round);
    Some(Choice { diameter: rounded, drill: wanted.drill_named(rounded), tolerance: None, kept: false })
}

/// The nearest to the target that holds the tolerance; else the nearest that leaves room upwards, because drills
/// and punches wear and cut oversize; else the nearest that has any tolerance.
fn best(choices: &[Choice], target: Length) -> Option<&Choice> {
    let off = |c: &Choice| (c.diameter - target).abs().mm();
    let nearest = |fits: &dyn Fn(&Choice) -> bool| {
        let fit = choices.iter().filter(|c| fits(c));
        fit.min_by(|a, b| off(a).total_cmp(&off(b)))
    };
    let upwards = |c: &Choice| c.tolerance.is_some_and(|(plus, _)| plus > Length::ZERO);
    nearest(&|c| c.tolerance.is_some() && c.kept)
        .or_else(|| nearest(&upwards))
        .or_else(|| nearest(&|c| c.tolerance.is_some()))
}

/// Sizes inside the band, the kinds that are preferred first: those that the shop keeps, if it says so; else drills that shops stock in the drawing's unit,
/// special ones, those of the other unit; for other processes steps of 0.05 mm or .001 in; last any size to 0.01 mm
/// or .001 in.
fn tiers(band: &HoleBand, wanted: &Wanted<'_>) -> Vec<Vec<Length>> {
    let unit = wanted.unit;
    let drills = |stocked: bool, of_unit: bool| -> Vec<Length> {
        let all = drills_between(band.hole_min, band.hole_max);
        let kept = all.filter(|d| (d.series.unit() == unit) == of_unit && d.series.stocked() == stocked);
        kept.map(|d| d.diameter).collect()
    };
    let (coarse, fine) = if unit == Unit::Mm { (0.05, 0.01) } else { (0.001, 0.001) };
    if let Some(stock) = wanted.stock() {
        let kept = |of_unit: bool| -> Vec<Length> {
            let all = stock.between(band.hole_min, band.hole_max);
            all.filter(|s| (s.unit == unit) == of_unit).map(|s| s.diameter).collect()
        };
        return vec![kept(true), kept(false), grid(band, fine, unit)];
    }
    match wanted.process {
        None | Some(Process::Drilled) => {
            vec![drills(true, true), drills(false, true), drills(true, false), grid(band, fine, unit)]
        }
        Some(_) => vec![grid(band, coarse, unit), grid(band, fine, unit)],
    }
}

/// The sizes of a step inside the band.
fn grid(band: &HoleBand, step: f64, unit: Unit) -> Vec<Length> {
    let first = (band.hole_min.value_in(unit) / step - 1e-6).ceil();
    let last = (band.hole_max.value_in(unit) / step + 1e-6).floor();
    let count = (last - first).clamp(-1.0, 999.0);
    let sizes = (0..).map(f64::from).take_while(|i| *i <= count);
    sizes.filter_map(|i| Length::new(tidy((first + i) * step), unit).ok()).collect()
}

/// A size with the tolerance that holds there: the wanted one if both limits stay in the band, else as much of it
/// as does, rounded inwards to 0.01 mm or .001 in.
fn sized(diameter: Length, band: &HoleBand, wanted: &Wanted<'_>) -> Choice {
    let unit = wanted.unit;
    let drill = wanted.drill_named(diameter);
    let step = if unit == Unit::Mm { 0.01 } else { 0.001 };
    let most = (
        stepped(band.hole_max - diameter, step, unit, f64::floor),
        stepped(diameter - band.hole_min, step, unit, f64::floor),
    );
    if let Some((plus, minus)) = wanted.tolerance
        && band.holds(diameter + plus)
        && band.holds(diameter - minus)
    {
        let tolerance = Some((written(plus, unit), written(minus, unit)));
        return Choice { diameter, drill, tolerance, kept: true };
    }
    let (plus, minus) = match wanted.tolerance {
        Some((plus, minus)) => {
            let within = |way: Length, most: Length| written(way.min(most).max(Length::ZERO), unit);
            (within(plus, most.0), within(minus, most.1))
        }
        None => (most.0.max(Length::ZERO), most.1.max(Length::ZERO)),
    };
    let can_be_made = plus + minus >= least_tolerance(wanted) - super::interval::TOLERANCE;
    Choice { diameter, drill, tolerance: can_be_made.then_some((plus, minus)), kept: false }
}

/// A length rounded to a step of a unit by `round`; a length a hair below a step counts as on it.
fn stepped(length: Length, step: f64, unit: Unit, round: fn(f64) -> f64) -> Length {
    let steps = round(length.value_in(unit) / step + 1e-6);
    Length::new(tidy(steps * step), unit).unwrap_or(length)
}

/// A deviation as it can be written in a unit: one that was stated in the other unit is rounded inwards, ±0.05 mm
/// to ±.001 in.
fn written(deviation: Length, unit: Unit) -> Length {
    let (fine, step) = if unit == Unit::Mm { (0.001, 0.01) } else { (0.0001, 0.001) };
    let steps = deviation.value_in(unit) / fine;
    let whole = (steps - steps.round()).abs() < 1e-3;
    if whole || deviation < Length::ZERO { deviation } else { stepped(deviation, step, unit, f64::floor) }
}

/// A product of a step without the last bits of binary fractions.
fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}
