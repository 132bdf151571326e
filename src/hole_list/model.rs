//! A hole list as written to rows as the program uses them: lengths with their unit, the drawing's facts filled in.

use super::pattern::Pattern;
use super::values::{Coating as WrittenCoating, EdgeFinish};
use super::wire::{Collar as WrittenCollar, DrawingEntry, HoleList, HoleRow, ScrewRow};
use crate::joint::{Coating, Collar, Making, Row, Screw, ScrewForm, StatedSize, Tolerance};
use crate::reading::{LengthAboveZero, LengthFromZero, Placed, Text};
use crate::units::{Angle, Length, Unit};

/// One list, read.
#[derive(Debug)]
pub(super) struct List {
    /// The file, as faults and rows name it.
    pub(super) file: String,
    /// The unit of its lengths.
    pub(super) unit: Unit,
    /// Its entries.
    pub(super) entries: Vec<Entry>,
}

/// What a list says of the drawings that one pattern matches.
#[derive(Debug)]
pub(super) struct Entry {
    /// JSON pointer of the entry.
    pub(super) pointer: String,
    /// Which drawings it covers.
    pub(super) pattern: Pattern,
    /// Part number.
    pub(super) part: Option<String>,
    /// Revision.
    pub(super) revision: Option<String>,
    /// Metal and making of the whole drawing.
    pub(super) making: Making,
    /// Its rows, the drawing's facts filled in.
    pub(super) rows: Vec<Row>,
}

/// The list as the program uses it; none if it was read with faults.
pub(super) fn list(file: &str, written: &HoleList) -> Option<List> {
    let unit = written.unit?.0;
    let entries = written.drawings.as_ref()?.iter().map(|e| entry(file, unit, e)).collect::<Option<_>>()?;
    Some(List { file: file.to_owned(), unit, entries })
}

fn entry(file: &str, unit: Unit, written: &Placed<DrawingEntry>) -> Option<Entry> {
    let value = &written.value;
    let making = Making {
        material: value.material.map(|m| m.0),
        thickness: above_zero(value.thickness, unit),
        process: value.process.map(|p| p.0),
        coating: value.coating.as_ref().and_then(|c| coating(c, unit)),
        band: value.band.as_ref().and_then(|b| b.to_user_band()),
        hardness_hb: value.hardness_hb.map(|h| h.0),
    };
    let rows = value.holes.as_ref()?.iter().map(|r| row(file, unit, &making, r)).collect();
    Some(Entry {
        pointer: written.pointer.clone(),
        pattern: Pattern::new(&value.drawing.as_ref()?.0).ok()?,
        part: value.part.as_ref().map(|t| t.0.clone()),
        revision: value.revision.as_ref().map(|t| t.0.clone()),
        making,
        rows,
    })
}

fn row(file: &str, unit: Unit, drawing: &Making, written: &Placed<HoleRow>) -> Row {
    let value = &written.value;
    let at = value.at.as_ref().map(|at| at.0.clone()).unwrap_or_default();
    Row {
        pointer: written.pointer.clone(),
        list: file.to_owned(),
        unit: Some(unit),
        tag: value.tag.as_ref().map(|t| t.0.trim().to_owned()),
        count: value.count.map(|c| c.0 as u32).or_else(|| u32::try_from(at.len()).ok().filter(|n| *n > 0)),
        screw: value.screw.as_ref().and_then(|s| screw(s, unit)),
        finish: screw_text(value, |screw| screw.finish.as_ref()),
        lubricant: screw_text(value, |screw| screw.lubricant.as_ref()),
        grip: from_zero(value.grip, unit),
        size: size(value, unit),
        capability: value
            .capability
            .as_ref()
            .and_then(|c| Some((above_zero(c.mean, unit)?, above_zero(c.sd, unit)?))),
        depth: above_zero(value.depth, unit),
        entrance_diameter: above_zero(value.entrance_diameter, unit),
        draft: value.draft_deg.and_then(|d| Angle::from_degrees(d.0).ok()),
        collar: value.collar.as_ref().and_then(|c| collar(c, unit)),
        edge_reamed: value.edge_finish.map(|e| e.0 == EdgeFinish::Reamed),
        at,
        layer: value.layer.as_ref().map(|t| t.0.clone()),
        trial: value.trial.as_ref().map(|t| t.0.clone()),
        note: value.note.as_ref().map(|t| t.0.clone()),
        making: Making {
            material: value.material.map(|m| m.0).or(drawing.material),
            thickness: above_zero(value.thickness, unit).or(drawing.thickness),
            process: value.process.map(|p| p.0).or(drawing.process),
            coating: value.coating.as_ref().and_then(|c| coating(c, unit)).or(drawing.coating),
            band: value.band.as_ref().and_then(|b| b.to_user_band()).or(drawing.band),
            hardness_hb: value.hardness_hb.map(|h| h.0).or(drawing.hardness_hb),
        },
    }
}

fn screw(written: &ScrewRow, unit: Unit) -> Option<Screw> {
    Some(Screw {
        thread: written.thread.as_ref()?.0.clone(),
        length: above_zero(written.length, unit),
        form: written.form.map_or(ScrewForm::Rolling, |f| f.0),
    })
}

/// What a row says in words of its screw.
fn screw_text(row: &HoleRow, of: impl Fn(&ScrewRow) -> Option<&Text>) -> Option<String> {
    row.screw.as_ref().and_then(of).map(|text| text.0.trim().to_owned())
}

/// The size of a row. A JSON number does not keep the decimals it was written with, so they stay unknown.
fn size(row: &HoleRow, unit: Unit) -> StatedSize {
    let plus_minus = || {
        (row.plus.is_some() || row.minus.is_some()).then(|| Tolerance::PlusMinus {
            plus: from_zero(row.plus, unit).unwrap_or(Length::ZERO),
            minus: from_zero(row.minus, unit).unwrap_or(Length::ZERO),
        })
    };
    let limits = row.limits.and_then(|limits| {
        Some(Tolerance::Limits {
            min: Length::new(limits.min, unit).ok()?,
            max: Length::new(limits.max, unit).ok()?,
        })
    });
    let fit = row.fit.map(|fit| Tolerance::Fit(fit.0.0.to_owned()));
    let tolerance = limits.or(fit).or_else(plus_minus);
    let nominal = above_zero(row.diameter, unit);
    let stated = nominal.is_some() || tolerance.is_some();
    StatedSize { nominal, tolerance, decimals: 0, unit: stated.then_some(unit) }
}

fn coating(written: &WrittenCoating, unit: Unit) -> Option<Coating> {
    Some(Coating {
        thickness: above_zero(written.thickness, unit)?,
        stated: written.stated.map(|stated| stated.0),
    })
}

fn collar(written: &WrittenCollar, unit: Unit) -> Option<Collar> {
    Some(Collar {
        height: above_zero(written.height, unit)?,
        outside: above_zero(written.outside_diameter, unit),
        pierce: above_zero(written.pierce, unit),
        entry_radius: from_zero(written.entry_radius, unit),
    })
}

fn above_zero(written: Option<LengthAboveZero>, unit: Unit) -> Option<Length> {
    Length::new(written?.0, unit).ok()
}

fn from_zero(written: Option<LengthFromZero>, unit: Unit) -> Option<Length> {
    Length::new(written?.0, unit).ok()
}
