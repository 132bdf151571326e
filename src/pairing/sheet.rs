//! What the sheet says for all its holes: thickness, material, process and general tolerances, by source, and
//! where two sources contradict each other.

use super::conflicts::{self, contradict, is_local};
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
use crate::units::Length;

/// One statement of thickness.
#[derive(Debug, Clone)]
pub(super) struct Said {
    pub(super) thickness: Length,
    source: ThicknessSource,
    /// The view that a note stands in.
    pub(super) view: Option<usize>,
    pub(super) place: StatedIn,
}

/// One statement of the metal.
#[derive(Debug, Clone)]
pub(super) struct NamedMetal {
    pub(super) metal: Material,
    /// The view that a note stands in.
    pub(super) view: Option<usize>,
    /// Whether it stands in the title block or behind a label, and so is no metal of another thing.
    pub(super) is_sure: bool,
    pub(super) place: StatedIn,
}

/// Where something is stated.
#[derive(Debug, Clone, Copy)]
pub(super) enum StatedIn {
    /// A field of the title block and its value.
    Pair,
    /// A statement of the title block.
    Title(usize),
    /// Another statement.
    Note(usize),
}

impl StatedIn {
    /// In words, for people: `title block 'THK 2'`.
    pub(super) fn words(self, scene: &Scene<'_>) -> String {
        let (place, statement) = match self {
            StatedIn::Pair => return "title block".to_owned(),
            StatedIn::Title(statement) => ("title block", statement),
            StatedIn::Note(statement) => ("note", statement),
        };
        let line = scene.statements[statement].callout.text.lines().next().unwrap_or_default();
        format!("{place} '{line}'")
    }
}

impl NamedMetal {
    /// Whether it is surely the metal of the whole sheet.
    pub(super) fn is_sure_of_all(&self, of_view: &[Option<Material>]) -> bool {
        self.is_sure && !is_local(self.view, of_view)
    }
}

/// The sheet, with what it says in single views.
#[derive(Debug, Default)]
pub(super) struct SheetFacts {
    pub(super) sheet: Sheet,
    pub(super) process: Option<Process>,
    /// What the notes say of the coating: how thick it is, and whether sizes hold before it or after it.
    pub(super) coating: WrittenCoating,
    pub(super) conflicts: Vec<Conflict>,
    /// The metal that the drawing surely states for the whole sheet, without the list.
    pub(super) surely_of: Option<NamedMetal>,
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

/// Gathers the facts of the sheet.
pub(super) fn gather(scene: &Scene<'_>, rows: Option<&DrawingRows>) -> SheetFacts {
    let metals = materials(scene);
    let noted = scene.statements.iter().enumerate();
    let noted = noted.filter(|(s, statement)| states_thickness(statement) && !is_title(scene, *s));
    let noted = noted.filter_map(|(_, note)| view_of_note(scene, note));
    let several = are_several(scene, metals.iter().filter_map(|named| named.view).chain(noted));
    let metal_of_view =
        of_views(scene, several, metals.iter().filter_map(|named| Some((named.view?, named.metal))));
    let listed = rows.map(|r| &r.making);
    let metal = listed.and_then(|m| m.material).or_else(|| material(scene, &metals, &metal_of_view));
    let said = thicknesses(scene, metal, &metal_of_view);
    let of_view = of_views(scene, several, said.iter().filter_map(|s| Some((s.view?, s.thickness))));
    let process = notes(scene).find_map(|(n, _)| n.process);
    let coating = coating(scene);
    let conflicts = conflicts::of_thickness(scene, &said, rows, &of_view)
        .into_iter()
        .chain(conflicts::of_metal(scene, &metals, rows, &metal_of_view))
        .chain(conflicts::of_process(process, rows))
        .chain(conflicts::of_coating(&scene.units, coating, rows));
    let surely_of = metals.iter().find(|named| named.is_sure_of_all(&metal_of_view)).cloned();
    let mut facts = SheetFacts {
        conflicts: conflicts.collect(),
        surely_of,
        process,
        coating,
        of_view,
        metal_of_view,
        drawn: strongest(scene, &said),
        ..SheetFacts::default()
    };
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
    pairs.chain(statements(scene).map(|(statement, in_title)| (&*statement.note, in_title)))
}

/// All statements, those of the title block first, with whether they are.
fn statements<'s>(scene: &'s Scene<'_>) -> impl Iterator<Item = (&'s Statement, bool)> {
    let in_title = |s: usize| is_title(scene, s);
    let ids = 0..scene.statements.len();
    let first = ids.clone().filter(move |&s| in_title(s)).map(move |s| (&scene.statements[s], true));
    let rest = ids.filter(move |&s| !in_title(s)).map(move |s| (&scene.statements[s], false));
    first.chain(rest)
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

/// The metals that title block and notes name, the title block's first, with the view that a note stands at.
fn materials(scene: &Scene<'_>) -> Vec<NamedMetal> {
    let of_title = |metal, place| NamedMetal { metal, view: None, is_sure: true, place };
    let pairs = scene.title.pairs.iter().filter_map(|n| Some(of_title(n.material?, StatedIn::Pair)));
    let mut in_title = Vec::new();
    let mut beside = Vec::new();
    for (s, statement) in scene.statements.iter().enumerate() {
        let Some(metal) = statement.note.material else { continue };
        if is_title(scene, s) {
            in_title.push(of_title(metal, StatedIn::Title(s)));
        } else {
            // What a hole's callout names is an insert or a screw of that hole, and says nothing of its view.
            let of_hole = statement.callout.states_hole() && !statement.callout.general;
            let view = if of_hole { None } else { view_of_note(scene, statement) };
            let is_sure = statement.note.material_labelled && !of_hole;
            beside.push(NamedMetal { metal, view, is_sure, place: StatedIn::Note(s) });
        }
    }
    pairs.chain(in_title).chain(beside).collect()
}

/// The material for what no note at a view speaks of: the first that is named for the whole sheet, else the one that all
/// notes at views name. Where those name several, nothing tells which is that of another view.
fn material(scene: &Scene<'_>, named: &[NamedMetal], of_view: &[Option<Material>]) -> Option<Material> {
    (named.iter().find(|named| !is_local(named.view, of_view)))
        .or_else(|| agreed(scene, named, |named| named.view, |a, b| a.metal == b.metal))
        .map(|named| named.metal)
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
/// taken before those that say one. What a callout says of the coating it says of its own holes.
fn coating(scene: &Scene<'_>) -> WrittenCoating {
    let of_all = || statements(scene).filter(|(statement, _)| !statement.callout.states_hole());
    let pairs = || scene.title.pairs.iter();
    let said = || pairs().chain(of_all().map(|(statement, _)| &*statement.note)).filter_map(|n| n.coating);
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
                place: StatedIn::Pair,
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
        let place = if title { StatedIn::Title(s) } else { StatedIn::Note(s) };
        said.push(Said { thickness, source, view, place });
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
