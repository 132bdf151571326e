//! The working of the calculator's answer as text: lengths, collar, coating, draft, expected share.

use std::io;

use super::text::{hanging, labelled, rolled, size};
use crate::report::page::Page;
use crate::report::text::numbers::trimmed;
use crate::rules::words::{number, share};
use crate::units::{Length, Unit};
use crate::verdict::calculator::{Answer, HoleAnswer, Question};
use crate::verdict::{Along, Capability};

/// A length with its unit.
pub(super) fn long(value: Length, unit: Unit) -> String {
    format!("{} {unit}", number(value, unit))
}

/// The hardness beside the recalled limits.
pub(super) fn hardness(hb: f64) -> String {
    format!(
        "{} HB, under a screw of 450 HV or more at its surface; guide holes of steel are for about 135 HB or less \
         (recalled, not verified)",
        trimmed(hb, 1)
    )
}

/// Metal and screw, where more is known than a thickness.
pub(super) fn lengths(question: &Question, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    let (metal, t) = (&answer.metal, &question.thread);
    let engaged = metal.engaged();
    if let Some(engaged) = engaged.filter(|e| Some(*e) != question.thickness) {
        let of = [
            question.thickness.map(|t_| format!("sheet {}", long(t_, t.unit))),
            question.collar.map(|c| format!("collar {}", long(c.height, t.unit))),
            question.collar.and_then(|c| c.entry_radius).map(|r| format!("less radius {}", long(r, t.unit))),
            question.depth.map(|d| format!("hole {} deep", long(d, t.unit))),
            metal.reach.map(|r| format!("screw reaches {}", long(r, t.unit))),
        ];
        let of: Vec<String> = of.into_iter().flatten().collect();
        let turns = trimmed(engaged / t.pitch, 1);
        let text = format!("over {}, {turns} turns   ({})", long(engaged, t.unit), of.join(", "));
        labelled(page, "engaged", &text)?;
    }
    if let Some((needed, depth)) = answer.needed_depth.zip(question.depth) {
        let text = format!(
            "too shallow: the screw and its clearance need {}, the hole is {} deep",
            long(needed, t.unit),
            long(depth, t.unit)
        );
        labelled(page, "depth", &text)?;
    }
    if let Some((least, most)) = metal.full_thread {
        let turns = |length: Length| trimmed(length / t.pitch, 1);
        let text = format!(
            "{} to {} of full thread behind the point, {} to {} turns",
            number(least, t.unit),
            long(most, t.unit),
            turns(least),
            turns(most)
        );
        let wanted =
            metal.length().map_or(String::new(), |m| format!("; the metal could hold {}", long(m, t.unit)));
        labelled(page, "screw", &format!("{text}{wanted}"))?;
    }
    Ok(())
}

/// The collar: what to pierce, and the height that the metal gives.
pub(super) fn collar(question: &Question, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    let Some((collar, balance)) = question.collar.zip(answer.collar.as_ref()) else { return Ok(()) };
    let unit = question.thread.unit;
    let wall = format!(
        "outside Ø{}, wall thinned by {:.0} %{}",
        size(balance.outside, unit),
        100.0 * balance.thinning,
        if collar.outside.is_some() { "" } else { " (the most that is usual)" }
    );
    let Some(greatest) = balance.greatest_height else {
        return labelled(
            page,
            "collar",
            "cannot be drawn: pierce, hole and outside must each be larger than the one before",
        );
    };
    let most = format!(
        "Ø{} pierced gives at most {} of height",
        size(balance.smallest_pierce, unit),
        long(greatest, unit)
    );
    if collar.height > greatest {
        labelled(page, "collar", &format!("too tall   {wall}"))?;
        return hanging(page, &most);
    }
    let pierce = balance.pierce.map_or(String::new(), |p| format!("pierce Ø{}   ", size(p, unit)));
    labelled(page, "collar", &format!("{pierce}{wall}"))?;
    hanging(page, &most)
}

/// The hole before and after coating.
pub(super) fn coating(question: &Question, hole: &HoleAnswer, page: &mut Page<'_>) -> io::Result<()> {
    let Some(coating) = &hole.coating else { return Ok(()) };
    let t = &question.thread;
    let side = |limits: &crate::verdict::Limits| {
        format!("Ø{} {}", size(limits.nominal, t.unit), rolled(t, limits.nominal))
    };
    let (before, after) = (side(&coating.before), side(&coating.after));
    let sides = match coating.coating.stated {
        Some(stage) => format!("before {before}   after {after}   (size stated {} it)", stage.name()),
        None => format!("{before} as stated   {after} if that is before coating"),
    };
    labelled(page, "coating", &format!("{} on the wall   {sides}", long(coating.coating.thickness, t.unit)))
}

/// The expected share outside the band.
pub(super) fn expected(capability: &Capability, unit: Unit) -> String {
    let shares = &capability.shares;
    let whose = if capability.measured {
        format!("measured mean Ø{}, sd {}", size(capability.mean, unit), size(capability.sd, unit))
    } else {
        capability.source.clone()
    };
    format!(
        "expected outside the band: {} ({} too small, {} too large)   {whose}",
        share(shares.outside()),
        share(shares.below),
        share(shares.above)
    )
}

/// A cored hole along its depth.
pub(super) fn along(question: &Question, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    let Some(along) = &answer.along else { return Ok(()) };
    let t = &question.thread;
    page.blank()?;
    page.prose(0, &format!("Along the depth, draft {}° per side:", trimmed(along.draft.degrees(), 3)))?;
    let rows: Vec<Vec<String>> = ["entrance", "middle", "bottom"]
        .iter()
        .zip(&along.points)
        .map(|(place, point)| {
            vec![
                (*place).to_owned(),
                format!("{} down", long(point.depth, t.unit)),
                format!("Ø{}", size(point.diameter, t.unit)),
                format!("{:.1} %", point.engagement),
            ]
        })
        .collect();
    page.table(2, &rows)?;
    for line in said(along, t.unit) {
        page.prose(2, &line)?;
    }
    Ok(())
}

/// What follows from a hole along its depth.
fn said(along: &Along, unit: Unit) -> Vec<String> {
    let mut lines = Vec::new();
    let with_limits = format!("{:.1} to {:.1} % with its tolerance", along.least, along.most);
    match (along.in_band, along.limits_in_band) {
        (None, _) => lines.push("No band is known to compare it with.".to_owned()),
        (Some(true), Some(true)) => lines.push(format!("All of it is in the band, {with_limits}.")),
        (Some(true), _) => {
            lines.push(format!("The nominal stays in the band, a limit does not: {with_limits}."))
        }
        (Some(false), _) => lines.push("It leaves the band.".to_owned()),
    }
    if let Some(longest) = along.longest {
        lines.push(format!(
            "From this entrance the band ends {} deep.",
            long(along.points[0].depth + longest, unit)
        ));
    }
    if along.limits_in_band == Some(false) {
        lines.push(match (along.entrance, along.longest_at_best, along.most_draft) {
            (Some(entrance), _, _) => {
                format!("An entrance of Ø{} keeps all of it in the band.", size(entrance, unit))
            }
            (None, Some(longest), Some(draft)) => format!(
                "No entrance keeps all of it in the band: at most {} at this draft, or all of it at {}° or less.",
                long(longest, unit),
                trimmed(draft.degrees(), 2)
            ),
            (None, _, _) => "The tolerance alone fills the band.".to_owned(),
        });
    }
    lines
}
