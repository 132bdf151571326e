//! How a verdict was reached: what went in, the formula with the numbers put in, and where the band comes from.

use std::fmt::Write as _;

use super::escape;
use crate::check::HoleResult;
use crate::report::text::numbers::{length, met, places_for, trimmed, value};
use crate::report::text::words;
use crate::trade::Basis;
use crate::units::Unit;

/// The working of a screw hole; nothing for another.
pub(super) fn working(hole: &HoleResult, unit: Unit) -> String {
    let Some(screw) = &hole.screw else { return String::new() };
    let mut html = "<details class=\"working\"><summary>The working</summary>\n<dl>\n".to_owned();
    let mut put = |name: &str, text: &str| {
        let _ = writeln!(html, "<div><dt>{name}</dt><dd>{}</dd></div>", escape::text(text));
    };
    put("Screw", &format!("{}, {} thread", screw.thread, screw.form));
    put("D, major diameter", &length(screw.major_mm, unit));
    put("P, pitch", &length(screw.pitch_mm, unit));
    let unknown = || "not known".to_owned();
    put("Material", &hole.material.as_deref().map_or_else(unknown, words::material));
    put(
        "Thickness",
        &hole.thickness_mm.map_or_else(unknown, |t| {
            format!("{}, {}", length(t, unit), words::from(&hole.thickness_source))
        }),
    );
    put("Process", hole.process.as_deref().unwrap_or("not known"));
    put("Size", &format!("{}; tolerance: {}", words::from(&hole.diameter.source), tolerance(hole)));
    put("Pairing", &format!("by {}, {:.2} sure", hole.paired_by, hole.confidence));
    if let Some(band) = &hole.band {
        put(
            "Band",
            &format!(
                "{} to {} %, target {} %",
                trimmed(band.min, 2),
                trimmed(band.max, 2),
                trimmed(band.target, 2)
            ),
        );
        put("Source of the band", &format!("{} ({})", band.source, words::status(&band.status)));
    }
    if let Some(coating) = &hole.coating {
        put(
            "Coating",
            &format!("{} on the wall, {}", length(coating.thickness_mm, unit), words::stage(&coating.stated)),
        );
    }
    html.push_str("</dl>\n");
    html.push_str(&formula(hole, unit));
    html.push_str("</details>\n");
    html
}

fn tolerance(hole: &HoleResult) -> &'static str {
    words::tolerance_word(&hole.diameter.tolerance_source).unwrap_or("stated with it")
}

/// The formula, then the numbers of the smallest, nominal and largest hole.
fn formula(hole: &HoleResult, unit: Unit) -> String {
    let (Some(screw), Some(engagement)) = (&hole.screw, &hole.engagement) else { return String::new() };
    let d = met(hole);
    let places = places_for(&d, hole.band.as_ref(), unit);
    let factor = trimmed(Basis::Rolled.factor(), 6);
    let (major, pitch) = (value(screw.major_mm, unit, places), value(screw.pitch_mm, unit, places));
    let mut html = format!(
        "<p class=\"formula\">rolled engagement = 100 (D − d) / ({factor} P), d being the hole</p>\n\
         <table class=\"numbers\"><tbody>"
    );
    let rows = [
        ("smallest", d.min_mm, engagement.at_min),
        ("nominal", d.nominal_mm, engagement.nominal),
        ("largest", d.max_mm, engagement.at_max),
    ];
    for (name, mm, percent) in rows {
        let _ = write!(
            html,
            "<tr><th scope=\"row\">{name}</th><td>100 ({major} − {}) / ({factor} × {pitch}) = {} %</td></tr>",
            value(mm, unit, places),
            trimmed(percent, 2)
        );
    }
    html.push_str("</tbody></table>\n");
    html
}
