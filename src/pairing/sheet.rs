//! What the sheet says for all its holes: thickness, material, process and general tolerances, by source, and
//! where two sources contradict each other.

use super::parts::{are_several, of_views, view_of_note};
use super::scene::Scene;
use super::texts::{Carrier, Statement};
use super::unit::Units;
use super::{Conflict, Sheet, ThicknessSource};
use crate::callout::note::{GeneralTolerance, Note};
use crate::callout::{Quantity, WrittenCoating};
use crate::drawing::TextKind;
use crate::joint::{Coating, DrawingRows};
use crate::trade::{Material, Process, SheetMetal, gauge};
use crate::units::{Length, Unit};

/// One statement of thickness.
#[derive(Debug, Clone)]
struct Said {
    thickness: Length,
    source: ThicknessSource,
    /// The view that a note stands in.
    view: Option<usize>,
    text: String,
}

/// The sheet, with what it says in single views.
#[derive(Debug, Default)]
pub(super) struct SheetFacts {
    pub(super) sheet: Sheet,
    pub(super) process: Option<Process>,
    /// What the notes say of the coating: how thick it is, and whether sizes hold before it or after it.
    pub(super) coating: WrittenCoating,
    pub(super) conflicts: Vec<Conflict>,
    /// Thickness that the drawing itself states, without the list.
    pub(super) drawn: Option<(Length, ThicknessSource)>,
    /// Thickness that a note at a view states.
    of_view: Vec<Option<Length>>,
    /// Material that a note at a view states.
    metal_of_view: Vec<Option<Material>>,
}

impl SheetFacts {
    /// The drawing's thickness for holes of a view.
    pub(super) fn thickness_in(&self, view: usize) -> Option<(Length, ThicknessSource)> {
        let note = self.of_view.get(view).copied().flatten().map(|t| (t, ThicknessSource::Note));
        note.or(self.drawn)
    }

    /// The material for holes of a view, as the drawing states it; the list's is taken before it.
    pub(super) fn material_in(&self, view: usize) -> Option<Material> {
        self.metal_of_view.get(view).copied().flatten().or(self.sheet.material)
    }

    /// The coating of a hole whose callout says this of it: the callout's thickness and stage, else those of the notes.
    /// Where nothing says whether the size holds before or after it, that stays open.
    pub(super) fn coating(&self, called: Option<WrittenCoating>, units: &Units) -> Option<Coating> {
        let thickness = called.and_then(|coating| coating.thickness).or(self.coating.thickness)?;
        let stated = called.and_then(|coating| coating.stage).or(self.coating.stage);
        Some(Coating { thickness: units.length(thickness)?, stated })
    }
}

/// Thicknesses contradict each other beyond two percent and 0.02 mm.
pub(super) fn contradict(a: Length, b: Length) -> bool {
    let difference = (a - b).abs().mm();
    difference > 0.02 && difference > 0.02 * a.max(b).mm()
}

/// Gathers the facts of the sheet.
pub(super) fn gather(scene: &Scene<'_>, rows: Option<&DrawingRows>) -> SheetFacts {
    let metals = materials(scene);
    let noted = scene.statements.iter().enumerate();
    let noted = noted.filter(|(s, statement)| states_thickness(statement) && !is_title(scene, *s));
    let noted = noted.filter_map(|(_, note)| view_of_note(scene, note));
    let several = are_several(scene, metals.iter().filter_map(|(_, view)| *view).chain(noted));
    let metal_of_view = of_views(scene, several, metals.iter().filter_map(|(m, v)| Some(((*v)?, *m))));
    let listed = rows.map(|r| &r.making);
    let metal = listed.and_then(|m| m.material).or_else(|| material(scene, &metals, &metal_of_view));
    let said = thicknesses(scene, metal, &metal_of_view);
    let mut facts = SheetFacts {
        process: notes(scene).find_map(|(n, _)| n.process),
        coating: coating(scene),
        of_view: of_views(scene, several, said.iter().filter_map(|s| Some((s.view?, s.thickness)))),
        metal_of_view,
        drawn: strongest(scene, &said),
        ..SheetFacts::default()
    };
    conflicts(scene, &said, rows, &mut facts);
    let from_list = listed.and_then(|m| m.thickness).map(|t| (t, ThicknessSource::List));
    facts.sheet = Sheet {
        thickness: from_list.or(facts.drawn),
        material: metal,
        tolerances: tolerances(scene),
        part: rows.and_then(|r| r.part.clone()),
    };
    facts
}

/// All notes, those of the title block first, with whether they are.
fn notes<'s>(scene: &'s Scene<'_>) -> impl Iterator<Item = (&'s Note, bool)> {
    let pairs = scene.title.pairs.iter().map(|n| (n, true));
    let in_title = |s: usize| is_title(scene, s);
    let ids = 0..scene.statements.len();
    let first = ids.clone().filter(move |&s| in_title(s)).map(move |s| (&*scene.statements[s].note, true));
    let rest = ids.filter(move |&s| !in_title(s)).map(move |s| (&*scene.statements[s].note, false));
    pairs.chain(first).chain(rest)
}

/// Whether a statement is part of the title block: by place, by block, or as a titled attribute.
fn is_title(scene: &Scene<'_>, s: usize) -> bool {
    let statement = &scene.statements[s];
    let Carrier::Text(t) = statement.carrier else { return false };
    let text = &scene.drawing.texts[t];
    let attribute_note = matches!(text.kind, TextKind::Attribute { .. }) && !statement.note.is_empty();
    attribute_note
        || scene.title.is_in(scene.drawing, text.origin.insert)
        || scene.title.holds(statement.origin.space, statement.at)
}

/// The materials that title block and notes name, the title block's first, with the view that a note stands at.
fn materials(scene: &Scene<'_>) -> Vec<(Material, Option<usize>)> {
    let pairs = scene.title.pairs.iter().filter_map(|n| Some((n.material?, None)));
    let mut in_title = Vec::new();
    let mut beside = Vec::new();
    for (s, statement) in scene.statements.iter().enumerate() {
        let Some(material) = statement.note.material else { continue };
        if is_title(scene, s) {
            in_title.push((material, None));
        } else {
            // What a hole's callout names is an insert or a screw of that hole, and says nothing of its view.
            let of_hole = statement.callout.states_hole() && !statement.callout.general;
            let view = if of_hole { None } else { view_of_note(scene, statement) };
            beside.push((material, view));
        }
    }
    pairs.chain(in_title).chain(beside).collect()
}

/// The material for what no note at a view speaks of: the first that is named for the whole sheet, else the one that all
/// notes at views name. Where those name several, nothing tells which is that of another view.
fn material(
    scene: &Scene<'_>,
    named: &[(Material, Option<usize>)],
    of_view: &[Option<Material>],
) -> Option<Material> {
    let local = |view: Option<usize>| view.is_some_and(|v| of_view[v].is_some());
    (named.iter().find(|(_, view)| !local(*view)))
        .or_else(|| agreed(scene, named, |(_, view)| *view, |a, b| a.0 == b.0))
        .map(|(material, _)| *material)
}

/// What all statements at views with holes say, or all of them if none stands at such a view; none where they differ.
fn agreed<'s, T>(
    scene: &Scene<'_>,
    said: &'s [T],
    view: impl Fn(&T) -> Option<usize>,
    same: impl Fn(&T, &T) -> bool,
) -> Option<&'s T> {
    let at_holes = |s: &&T| view(s).is_some_and(|v| scene.by_view.any(v));
    let first = said.iter().find(at_holes);
    match first {
        Some(first) => said.iter().filter(at_holes).all(|other| same(first, other)).then_some(first),
        None => said.first().filter(|first| said.iter().all(|other| same(first, other))),
    }
}

/// What notes say of the coating. Its thickness and when sizes hold may stand in two of them; one that says both is
/// taken before those that say one.
fn coating(scene: &Scene<'_>) -> WrittenCoating {
    let said = || notes(scene).filter_map(|(note, _)| note.coating);
    let whole = said().find(|coating| coating.thickness.is_some() && coating.stage.is_some());
    whole.unwrap_or_else(|| WrittenCoating {
        thickness: said().find_map(|coating| coating.thickness),
        stage: said().find_map(|coating| coating.stage),
    })
}

fn thicknesses(scene: &Scene<'_>, metal: Option<Material>, metal_of_view: &[Option<Material>]) -> Vec<Said> {
    let mut said = Vec::new();
    for note in &scene.title.pairs {
        if let Some(thickness) = thickness_of(scene, note, metal) {
            said.push(Said {
                thickness,
                source: ThicknessSource::TitleBlock,
                view: None,
                text: "title block".to_owned(),
            });
        }
    }
    for (s, statement) in scene.statements.iter().enumerate() {
        if !states_thickness(statement) {
            continue;
        }
        let title = is_title(scene, s);
        let source = if title { ThicknessSource::TitleBlock } else { ThicknessSource::Note };
        let view = (!title).then(|| view_of_note(scene, statement)).flatten();
        let metal = view.and_then(|v| metal_of_view[v]).or(metal);
        let Some(thickness) = thickness_of(scene, &statement.note, metal) else { continue };
        let line = statement.callout.text.lines().next().unwrap_or_default();
        let place = if title { "title block" } else { "note" };
        said.push(Said { thickness, source, view, text: format!("{place} '{line}'") });
    }
    said
}

/// Whether it states a thickness of a part or of the sheet; one inside a hole's callout is that hole's.
fn states_thickness(statement: &Statement) -> bool {
    let of_hole = statement.callout.states_hole() && !statement.callout.general;
    !of_hole && (statement.note.thickness.is_some() || statement.note.gauge.is_some())
}

fn thickness_of(scene: &Scene<'_>, note: &Note, metal: Option<Material>) -> Option<Length> {
    if let Some(q) = note.thickness {
        return scene.units.length(q).filter(|t| t.mm() > 0.0);
    }
    let metal = SheetMetal::of(note.material.or(metal)?)?;
    gauge(note.gauge?, metal).map(|g| g.thickness)
}

/// Title block over note, and a note for the whole sheet over those at views. Where those contradict each other, nothing
/// tells which holds for another view.
fn strongest(scene: &Scene<'_>, said: &[Said]) -> Option<(Length, ThicknessSource)> {
    let title = said.iter().find(|s| s.source == ThicknessSource::TitleBlock);
    title
        .or_else(|| said.iter().find(|s| s.view.is_none()))
        .or_else(|| agreed(scene, said, |s| s.view, |a, b| !contradict(a.thickness, b.thickness)))
        .map(|s| (s.thickness, s.source))
}

/// Statements for the whole sheet against each other and against the list.
fn conflicts(scene: &Scene<'_>, said: &[Said], rows: Option<&DrawingRows>, facts: &mut SheetFacts) {
    let local = |s: &&Said| s.view.is_some_and(|v| facts.of_view[v].is_some());
    let general: Vec<&Said> = said.iter().filter(|s| !local(s)).collect();
    let mut says: Vec<(Length, String)> = Vec::new();
    if let Some(thickness) = rows.and_then(|r| r.making.thickness) {
        says.push((thickness, "hole list".to_owned()));
    }
    for s in general {
        if says.iter().all(|(t, _)| contradict(*t, s.thickness)) {
            says.push((s.thickness, s.text.clone()));
        }
    }
    if says.len() > 1 {
        let unit = scene.units.reading.unit;
        let says = says.iter().map(|(t, who)| format!("{who}: {}", in_unit(*t, unit))).collect();
        facts.conflicts.push(Conflict { says, hole: None });
    }
}

/// A length in the drawing's unit, as drawings write it: millimetres without needless zeros, inches without a zero
/// before the point and with three decimals at least.
pub(super) fn in_unit(length: Length, unit: Unit) -> String {
    let text = format!("{:.4}", length.value_in(unit));
    let text = match unit {
        Unit::Mm => text.trim_end_matches('0').trim_end_matches('.'),
        Unit::Inch => {
            let text = text.strip_suffix('0').unwrap_or(&text);
            text.strip_prefix('0').unwrap_or(text)
        }
    };
    format!("{text} {unit}")
}

/// General tolerances, each magnitude with its unit filled in.
fn tolerances(scene: &Scene<'_>) -> Vec<GeneralTolerance> {
    let mut all: Vec<GeneralTolerance> = Vec::new();
    for (note, _) in notes(scene) {
        for tolerance in &note.tolerances {
            let filled = with_unit(scene, tolerance);
            if !all.contains(&filled) {
                all.push(filled);
            }
        }
    }
    all
}

fn with_unit(scene: &Scene<'_>, tolerance: &GeneralTolerance) -> GeneralTolerance {
    let fill = |q: Quantity| Quantity { unit: q.unit.or(Some(scene.units.stated)), ..q };
    match tolerance {
        GeneralTolerance::Iso2768(class) => GeneralTolerance::Iso2768(*class),
        GeneralTolerance::Decimals { places, plus_minus } => {
            GeneralTolerance::Decimals { places: *places, plus_minus: fill(*plus_minus) }
        }
        GeneralTolerance::Flat(q) => GeneralTolerance::Flat(fill(*q)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What rows and thicknesses say once read `Ø0.169 in` and `3.6000 mm`, unlike every other length.
    #[test]
    fn lengths_are_written_as_on_drawings() {
        let shown = |value: f64, unit: Unit| in_unit(Length::new(value, unit).unwrap(), unit);
        assert_eq!(shown(0.169, Unit::Inch), ".169 in");
        assert_eq!(shown(0.0598, Unit::Inch), ".0598 in");
        assert_eq!(shown(1.25, Unit::Inch), "1.250 in");
        assert_eq!(shown(3.6, Unit::Mm), "3.6 mm");
        assert_eq!(shown(0.5, Unit::Mm), "0.5 mm");
    }
}
