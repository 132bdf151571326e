//! What a thread carries, as text: strip areas, failure loads and the metal that makes the screw the weakest. Guidance;
//! the JSON form has every source in full.

use std::io;

use super::text::size;
use super::working::long;
use crate::report::page::{Page, Tone};
use crate::report::text::numbers::trimmed;
use crate::rules::words::number;
use crate::trade::{Loads, Member, SHEAR_SHARE, Status};
use crate::units::{TorqueUnit, Unit};
use crate::verdict::Strip;
use crate::verdict::calculator::Question;

/// Strip areas, failure loads and the metal that makes the screw the weakest, as guidance.
pub(super) fn write(question: &Question, strip: &Strip, page: &mut Page<'_>) -> io::Result<()> {
    let unit = question.thread.unit;
    let (hole, over) = (size(strip.hole, unit), long(strip.engagement, unit));
    page.blank()?;
    page.prose(0, &format!("Strength, guidance only, for Ø{hole} over {over}:"))?;
    page.table(2, &members(strip, unit))?;
    match &strip.loads {
        Some(loads) => page.prose(2, &weakest(loads, unit))?,
        None => page.prose(
            2,
            &format!(
                "The metal strips before the screw's thread if the screw's shear strength is more than {:.2} times the \
                 metal's.",
                strip.metal_strips_above()
            ),
        )?,
    }
    if let Some(torque) = strip.screw.torque_nm {
        let torque = torque_text(torque, unit);
        page.prose(2, &format!("The screw breaks at a torque of {torque} or more; seat well under it."))?;
    }
    for (of, said) in sources(strip) {
        page.labelled(2, (Tone::Plain, of), 10, &said)?;
    }
    Ok(())
}

/// Area and load of each member.
fn members(strip: &Strip, unit: Unit) -> Vec<Vec<String>> {
    let at = |pick: fn(&Loads) -> (f64, f64)| {
        strip.loads.as_ref().map(|l| range(pick(l), unit)).unwrap_or_default()
    };
    let rows = [
        ("metal strips", strip.nut_area_mm2, at(|l| l.metal_n)),
        ("screw thread strips", strip.screw_area_mm2, at(|l| l.screw_thread_n)),
        ("screw breaks", strip.stress_area_mm2, load(strip.screw.tensile_n, unit)),
    ];
    let areas = rows.each_ref().map(|row| area_text(row.1, unit));
    let wide = areas.iter().map(|a| a.chars().count()).max().unwrap_or(0);
    rows.into_iter()
        .zip(areas)
        .map(|((name, _, load), area)| vec![name.to_owned(), format!("{area:>wide$}"), load])
        .collect()
}

fn weakest(loads: &Loads, unit: Unit) -> String {
    let name = |member: Member| match member {
        Member::Metal => "the thread in the metal",
        Member::ScrewThread => "the screw's thread",
        Member::Screw => "the screw itself",
    };
    let first = match loads.first {
        (a, b) if a == b => name(a).to_owned(),
        (a, b) => format!("{} or {}", name(a), name(b)),
    };
    let (short, longer) = loads.screw_first_from;
    let (short, longer) = (number(short, unit), long(longer, unit));
    format!("First to fail: {first}; the screw breaks first from {short} to {longer} of thread up.")
}

/// Where each number comes from, a short line each.
fn sources(strip: &Strip) -> Vec<(&'static str, String)> {
    let (from, to) = Strip::VALID;
    let (low, high) = SHEAR_SHARE;
    let outside = if strip.valid { "" } else { "; not this hole, so no loads" };
    let mut rows =
        vec![("areas", format!("own reduction (common practice), {from} to {to} % rolled{outside}"))];
    if let Some(metal) = &strip.metal {
        let whose = if metal.status == Status::User { "given" } else { metal.status.words() };
        rows.push(("metal", format!("{:.0} MPa tensile ({whose})", metal.tensile_mpa)));
        rows.push(("shear", format!("{low} (FED-STD-H28/2B) to {high} of tensile")));
    }
    let screw = &strip.screw;
    let load = short(&screw.source);
    let torque = screw.torque_source.as_deref().map(short).filter(|torque| *torque != load);
    let torque = torque.map(|torque| format!("; torque {torque}")).unwrap_or_default();
    rows.push(("screw", format!("{load}{torque} ({})", screw.status.words())));
    rows
}

/// The name of a source, without what it says.
fn short(source: &str) -> &str {
    source.split([',', ';']).next().and_then(|s| s.split(" least ").next()).unwrap_or(source)
}

/// A load in the unit of the trade: kN with metric threads, lbf with inch ones.
pub(super) fn load(newtons: f64, unit: Unit) -> String {
    match unit {
        Unit::Mm => format!("{:.1} kN", newtons / 1e3),
        Unit::Inch => format!("{:.0} lbf", newtons / 4.448_222),
    }
}

fn range((low, high): (f64, f64), unit: Unit) -> String {
    match unit {
        Unit::Mm => format!("{:.1} to {:.1} kN", low / 1e3, high / 1e3),
        Unit::Inch => format!("{:.0} to {:.0} lbf", low / 4.448_222, high / 4.448_222),
    }
}

fn torque_text(nm: f64, unit: Unit) -> String {
    match unit {
        Unit::Mm => format!("{} N·m", trimmed(nm, 1)),
        Unit::Inch => format!("{:.0} lbf·in", nm / TorqueUnit::PoundInch.in_nm()),
    }
}

/// An area in the square of a unit.
fn area_text(mm2: f64, unit: Unit) -> String {
    match unit {
        Unit::Mm => format!("{mm2:.1} mm²"),
        Unit::Inch => format!("{:.4} in²", mm2 / 25.4f64.powi(2)).replacen("0.", ".", 1),
    }
}
