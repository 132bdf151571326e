//! A hole against its band as a scale of diameters: what is allowed above the line, what was found below it.

use std::fmt::Write as _;

use super::escape;
use crate::check::HoleResult;
use crate::report::text::numbers::{diameter, met, places_for, shown, trimmed};
use crate::trade::Basis;
use crate::units::Unit;

/// Width of the picture, and where the scale lies in it.
const WIDTH: f64 = 460.0;
const LEFT: f64 = 112.0;
const RIGHT: f64 = WIDTH - 96.0;
/// Width of a letter.
const LETTER: f64 = 9.4;

/// The gauge of a judged hole; nothing where no band is known.
pub(super) fn gauge(hole: &HoleResult, unit: Unit) -> String {
    let (Some(screw), Some(band), Some(_)) = (&hole.screw, &hole.band, &hole.engagement) else {
        return String::new();
    };
    let d = met(hole);
    let places = places_for(&d, Some(band), unit);
    let target = screw.major_mm - band.target / 100.0 * Basis::Rolled.factor() * screw.pitch_mm;
    let all = [band.hole_min_mm, band.hole_max_mm, d.min_mm, d.max_mm];
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let x = |mm: f64| LEFT + (mm - least) / (most - least).max(1e-9) * (RIGHT - LEFT);
    let (from, to) = (x(band.hole_min_mm), x(band.hole_max_mm));
    let size = |mm: f64| diameter(mm, unit, places);
    let percent = |value: f64| format!("{} %", trimmed(value, 1));
    let found = shown(hole, unit);
    let told =
        format!("found {}", if hole.coating.is_some() { size(d.nominal_mm) } else { found.found.clone() });
    let share = found.engagement.clone().unwrap_or_default();
    let mut svg = format!(
        "<figure class=\"gauge\"><svg viewBox=\"0 0 {WIDTH} 178\" role=\"img\" aria-label=\"{}\">\n",
        escape::text(&format!(
            "Allowed {} to {}, {} to {}. {told}, {share}.",
            size(band.hole_min_mm),
            size(band.hole_max_mm),
            percent(band.max),
            percent(band.min)
        ))
    );
    let mut text = |x: f64, y: f64, anchor: &str, class: &str, said: &str| {
        let _ = writeln!(
            svg,
            "<text x=\"{x:.1}\" y=\"{y}\" text-anchor=\"{anchor}\" class=\"{class}\">{}</text>",
            escape::text(said)
        );
    };
    let centred = |x: f64, said: &str| {
        let half = said.chars().count() as f64 * LETTER / 2.0;
        x.clamp(half.min(WIDTH / 2.0), (WIDTH - half).max(WIDTH / 2.0))
    };
    let aim = format!("allowed, target {}, {}", size(target), percent(band.target));
    text(centred(x(target), &aim), 14.0, "middle", "allowed", &aim);
    text(from - 4.0, 36.0, "end", "allowed", &format!("from {}", size(band.hole_min_mm)));
    text(from - 4.0, 53.0, "end", "allowed", &percent(band.max));
    text(to + 4.0, 36.0, "start", "allowed", &format!("to {}", size(band.hole_max_mm)));
    text(to + 4.0, 53.0, "start", "allowed", &percent(band.min));
    text(centred(x(d.nominal_mm), &told), 126.0, "middle", "found", &told);
    text(centred(x(d.nominal_mm), &share), 144.0, "middle", "found", &share);
    text(2.0, 172.0, "start", "side", "← smaller hole, tight");
    text(WIDTH - 2.0, 172.0, "end", "side", "larger hole, loose →");
    let (smallest, largest, nominal) = (x(d.min_mm), x(d.max_mm), x(d.nominal_mm));
    let _ = write!(
        svg,
        "<path class=\"band\" d=\"M{from:.1} 24V78H{to:.1}V24\"/>\n<path class=\"scale\" d=\"M2 78H{:.1}\"/>\n\
         <path class=\"target\" d=\"M{1:.1} 60l7 9-7 9-7-9z\"/>\n\
         <path class=\"limits\" d=\"M{smallest:.1} 84v20M{largest:.1} 84v20M{smallest:.1} 94H{largest:.1}\"/>\n\
         <path class=\"nominal\" d=\"M{nominal:.1} 78l8 14h-5v16h-6v-16h-5z\"/>\n</svg></figure>\n",
        WIDTH - 2.0,
        x(target),
    );
    svg
}
