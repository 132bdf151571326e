//! Where two statements of thickness, metal, process or coating contradict each other: hole list, callout, title block and notes.
//! Which of them holds is decided elsewhere.

use super::resolve::Sources;
use super::scene::Scene;
use super::sheet::{NamedMetal, Said, StatedIn};
use super::unit::Units;
use super::{Conflict, Stated, ThicknessSource};
use crate::callout::{Callout, Stage, WrittenCoating};
use crate::joint::{Coating, DrawingRows, Row};
use crate::trade::{Material, Process};
use crate::units::{Length, Unit};

/// The list, as one that states something.
const HOLE_LIST: &str = "hole list";

/// Thicknesses contradict each other beyond two percent and 0.02 mm.
pub(super) fn contradict(a: Length, b: Length) -> bool {
    let difference = (a - b).abs().mm();
    difference > 0.02 && difference > 0.02 * a.max(b).mm()
}

/// Metals contradict each other, but for two of one kind: a drawing that says no more than steel or aluminium means any.
fn metals_contradict(a: Material, b: Material) -> bool {
    let kind = |metal: Material| match metal {
        Material::StructuralSteel => Material::LowCarbonSteel,
        Material::AluminiumDieCast => Material::AluminiumWrought,
        other => other,
    };
    kind(a) != kind(b)
}

/// Ways to make a hole contradict each other, but where the one goes before the other at the same hole: what is cut, punched or
/// drilled may be reamed, and a collar is pierced with a punch.
fn processes_contradict(a: Process, b: Process) -> bool {
    let both = |one, other| [(one, other), (other, one)].contains(&(a, b));
    let reamed = (a == Process::Reamed || b == Process::Reamed) && ![a, b].contains(&Process::Cored);
    a != b && !reamed && !both(Process::Punched, Process::Extruded)
}

/// The share of the thicker one of two coatings by which the other may be thinner: many are stated as a range.
const COATING_RANGE: f64 = 0.25;

/// What is said of a coating, in lengths: how thick it is, and when sizes hold.
type Coat = (Option<Length>, Option<Stage>);

/// Coatings contradict each other where sizes hold before the one and after the other, or where one is much thicker.
fn coatings_contradict(a: Coat, b: Coat) -> bool {
    let thickness = a.0.zip(b.0).is_some_and(|(a, b)| {
        let slack = a.max(b) * (COATING_RANGE + 1e-9);
        (a - b).abs() > slack
    });
    thickness || a.1.zip(b.1).is_some_and(|(a, b)| a != b)
}

/// What a list's coating and that of a callout or note say, if they contradict each other.
fn coatings_say(
    units: &Units,
    listed: Coating,
    drawn: WrittenCoating,
    who: &'static str,
) -> Option<[String; 2]> {
    let listed = (Some(listed.thickness), listed.stated);
    let drawn = (drawn.thickness.and_then(|t| units.length(t)), drawn.stage);
    let words = |(thickness, stage): Coat| {
        let thickness = thickness.map(|t| in_unit(t, units.reading.unit));
        let stage = stage.map(|stage| format!("sizes {} it", stage.name()));
        thickness.into_iter().chain(stage).collect::<Vec<_>>().join(" with ")
    };
    coatings_contradict(listed, drawn)
        .then(|| [format!("{HOLE_LIST}: {}", words(listed)), format!("{who}: {}", words(drawn))])
}

/// The coating that notes state for all holes against the list's.
pub(super) fn of_coating(
    units: &Units,
    noted: WrittenCoating,
    rows: Option<&DrawingRows>,
) -> Option<Conflict> {
    let says = coatings_say(units, rows.and_then(|r| r.making.coating)?, noted, "note")?;
    Some(Conflict { about: Stated::Coating, says: says.into(), hole: None })
}

/// The process that notes state for all holes against the list's.
pub(super) fn of_process(noted: Option<Process>, rows: Option<&DrawingRows>) -> Option<Conflict> {
    let listed = rows.and_then(|r| r.making.process)?;
    let noted = noted.filter(|noted| processes_contradict(listed, *noted))?;
    let says = vec![format!("{HOLE_LIST}: {}", listed.name()), format!("note: {}", noted.name())];
    Some(Conflict { about: Stated::Process, says, hole: None })
}

/// Thicknesses stated for the whole sheet against each other and against the list.
pub(super) fn of_thickness(
    scene: &Scene<'_>,
    said: &[Said],
    rows: Option<&DrawingRows>,
    of_view: &[Option<Length>],
) -> Option<Conflict> {
    let general = said.iter().filter(|s| !is_local(s.view, of_view)).map(|s| (s.thickness, s.place));
    let all = contradictory(rows.and_then(|r| r.making.thickness), general, contradict)?;
    let unit = scene.units.reading.unit;
    let says = all.into_iter().map(|(t, place)| format!("{}: {}", who(scene, place), in_unit(t, unit)));
    Some(Conflict { about: Stated::Thickness, says: says.collect(), hole: None })
}

/// Metals surely stated for the whole sheet against each other and against the list.
pub(super) fn of_metal(
    scene: &Scene<'_>,
    named: &[NamedMetal],
    rows: Option<&DrawingRows>,
    of_view: &[Option<Material>],
) -> Option<Conflict> {
    let general = named.iter().filter(|n| n.is_sure_of_all(of_view)).map(|n| (n.metal, n.place));
    let all = contradictory(rows.and_then(|r| r.making.material), general, metals_contradict)?;
    let says = all.into_iter().map(|(metal, place)| format!("{}: {}", who(scene, place), metal.words()));
    Some(Conflict { about: Stated::Material, says: says.collect(), hole: None })
}

/// Who states something: a place of the drawing, else the list.
fn who(scene: &Scene<'_>, place: Option<StatedIn>) -> String {
    place.map_or_else(|| HOLE_LIST.to_owned(), |place| place.words(scene))
}

/// Whether a statement stands at a view of which alone it speaks.
pub(super) fn is_local<T>(view: Option<usize>, of_view: &[Option<T>]) -> bool {
    view.is_some_and(|v| of_view[v].is_some())
}

/// What the list and the drawing state, of statements that agree the first; none where all agree.
fn contradictory<T: Copy>(
    listed: Option<T>,
    said: impl Iterator<Item = (T, StatedIn)>,
    contradict: impl Fn(T, T) -> bool,
) -> Option<Vec<(T, Option<StatedIn>)>> {
    let mut all: Vec<(T, Option<StatedIn>)> = listed.map(|it| (it, None)).into_iter().collect();
    for (it, place) in said {
        if all.iter().all(|(other, _)| contradict(*other, it)) {
            all.push((it, Some(place)));
        }
    }
    (all.len() > 1).then_some(all)
}

/// A callout's own thickness, process and coating against the list's or the sheet's, and what a row says against the sheet. A row
/// that departs from its list does so on purpose, and a callout that departs from a note for all holes.
pub(super) fn at_hole(
    sources: &Sources<'_>,
    spot: usize,
    number: usize,
    callout: Option<&Callout>,
    row: Option<&Row>,
) -> impl Iterator<Item = Conflict> {
    let view = sources.scene.spots[spot].view;
    let thickness = thickness_at(sources, view, callout, row).map(|says| (Stated::Thickness, says));
    let metal = metal_at(sources, row).map(|says| (Stated::Material, says));
    let process = process_at(sources, callout, row).map(|says| (Stated::Process, says));
    let coating = coating_at(sources, callout, row).map(|says| (Stated::Coating, says));
    let all = thickness.into_iter().chain(metal).chain(process).chain(coating);
    all.map(move |(about, says)| Conflict { about, says: says.into(), hole: Some(number) })
}

fn thickness_at(
    sources: &Sources<'_>,
    view: usize,
    callout: Option<&Callout>,
    row: Option<&Row>,
) -> Option<[String; 2]> {
    let scene = sources.scene;
    let unit = scene.units.reading.unit;
    let on_callout = callout.and_then(|c| c.thickness).and_then(|q| scene.units.length(q));
    let on_sheet = sources.facts.thickness_in(view).map(|(t, source)| (t, source_words(source)));
    let general = sources.rows.and_then(|r| r.making.thickness);
    let of_row = row.and_then(|r| r.making.thickness).map(|t| (t, HOLE_LIST));
    let [(one, who), (other, whose)] = match on_callout {
        Some(called) => [of_row.or(on_sheet)?, (called, "callout")],
        None => [of_row.filter(|_| general.is_none())?, on_sheet?],
    };
    contradict(one, other)
        .then(|| [format!("{who}: {}", in_unit(one, unit)), format!("{whose}: {}", in_unit(other, unit))])
}

fn metal_at(sources: &Sources<'_>, row: Option<&Row>) -> Option<[String; 2]> {
    let general = sources.rows.and_then(|r| r.making.material);
    let of_row = row?.making.material.filter(|_| general.is_none())?;
    let NamedMetal { metal, place, .. } = sources.facts.surely_of.as_ref()?;
    metals_contradict(of_row, *metal).then(|| {
        let drawn = format!("{}: {}", place.words(sources.scene), metal.words());
        [format!("{HOLE_LIST}: {}", of_row.words()), drawn]
    })
}

fn process_at(sources: &Sources<'_>, callout: Option<&Callout>, row: Option<&Row>) -> Option<[String; 2]> {
    let general = sources.rows.and_then(|r| r.making.process);
    let of_row = row.and_then(|r| r.making.process);
    let (listed, drawn, who) = match callout.and_then(|c| c.process) {
        Some(called) => (of_row.or(general)?, called, "callout"),
        None => (of_row.filter(|_| general.is_none())?, sources.facts.process?, "note"),
    };
    processes_contradict(listed, drawn)
        .then(|| [format!("{HOLE_LIST}: {}", listed.name()), format!("{who}: {}", drawn.name())])
}

fn coating_at(sources: &Sources<'_>, callout: Option<&Callout>, row: Option<&Row>) -> Option<[String; 2]> {
    let general = sources.rows.and_then(|r| r.making.coating);
    let of_row = row.and_then(|r| r.making.coating);
    let (listed, drawn, who) = match callout.and_then(|c| c.coating) {
        Some(called) => (of_row.or(general)?, called, "callout"),
        None => (of_row.filter(|_| general.is_none())?, sources.facts.coating, "note"),
    };
    coatings_say(&sources.scene.units, listed, drawn, who)
}

fn source_words(source: ThicknessSource) -> &'static str {
    match source {
        ThicknessSource::TitleBlock => "title block",
        other => other.name(),
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

    #[test]
    fn metals_of_one_kind_do_not_contradict_each_other() {
        use Material::{AluminiumDieCast, AluminiumWrought, LowCarbonSteel, StainlessSteel, StructuralSteel};
        assert!(!metals_contradict(LowCarbonSteel, StructuralSteel));
        assert!(!metals_contradict(AluminiumDieCast, AluminiumWrought));
        assert!(metals_contradict(LowCarbonSteel, StainlessSteel));
        assert!(metals_contradict(StructuralSteel, AluminiumDieCast));
    }

    // Which process may go before which: common practice.
    #[test]
    fn what_goes_before_another_process_does_not_contradict_it() {
        use Process::{Cored, Drilled, Extruded, Laser, Plasma, Punched, Reamed, Waterjet};
        for (one, other) in [(Laser, Reamed), (Reamed, Drilled), (Extruded, Punched), (Laser, Laser)] {
            assert!(!processes_contradict(one, other), "{one:?} {other:?}");
        }
        for (one, other) in
            [(Laser, Punched), (Drilled, Plasma), (Waterjet, Laser), (Cored, Drilled), (Reamed, Cored)]
        {
            assert!(processes_contradict(one, other), "{one:?} {other:?}");
        }
    }

    // By hand: 60 is a quarter less than 80, 59 is more; 5 is less than three quarters of 8.
    #[test]
    fn coatings_contradict_each_other_where_one_is_much_thicker_or_sizes_hold_at_another_time() {
        let coat = |microns: Option<f64>, stage| -> Coat {
            (microns.map(|um| Length::new(um / 1000.0, Unit::Mm).unwrap()), stage)
        };
        let (before, after) = (Some(Stage::Before), Some(Stage::After));
        for (a, b) in [
            (coat(Some(80.0), None), coat(Some(60.0), before)),
            (coat(Some(8.0), before), coat(None, before)),
            (coat(Some(8.0), before), coat(Some(8.0), None)),
            (coat(Some(8.0), before), coat(None, None)),
        ] {
            assert!(!coatings_contradict(a, b) && !coatings_contradict(b, a), "{a:?} {b:?}");
        }
        for (a, b) in [
            (coat(Some(80.0), None), coat(Some(59.0), None)),
            (coat(Some(8.0), before), coat(Some(5.0), before)),
            (coat(Some(8.0), before), coat(None, after)),
        ] {
            assert!(coatings_contradict(a, b) && coatings_contradict(b, a), "{a:?} {b:?}");
        }
    }
}
