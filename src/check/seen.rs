//! What the program sees on a drawing: every circle, callout and hole, as `holes` prints it. Plain data in the shape
//! of its JSON; nothing is judged here.

use schemars::JsonSchema;
use serde::Serialize;

use super::{Examined, HoleResult, ProblemResult, build};
use crate::callout::{Callout, Entry, Quantity, Size, WrittenTolerance};
use crate::drawing::Circular;
use crate::pairing::{SeenCallout, SeenCircle};
use crate::shared::SharedText;
use crate::units::{Length, Unit};

/// A drawing, seen.
#[derive(Debug, Clone, PartialEq, Default, Serialize, JsonSchema)]
pub struct SeenDrawing {
    /// As given on the command line, with `/`.
    pub path: String,
    /// `read`, `partly-read` or `unreadable`.
    pub state: String,
    /// What was wrong with the file.
    pub problems: Vec<ProblemResult>,
    /// `mm` or `in`.
    pub unit: String,
    /// `header`, `list`, `callouts`, `option` or `assumed`.
    pub unit_source: String,
    /// Thickness of the sheet (mm).
    pub thickness_mm: Option<f64>,
    /// Material of the sheet.
    pub material: Option<String>,
    /// Every hole, in drawing order of its view.
    pub holes: Vec<HoleResult>,
    /// Every closed circular shape, once per place where it appears.
    pub circles: Vec<CircleResult>,
    /// Every callout.
    pub callouts: Vec<CalloutSeen>,
}

/// A closed circular shape, and what it was taken for.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CircleResult {
    /// Abscissa of the centre, drawing units, as in the file.
    pub x: f64,
    /// Ordinate of the centre, drawing units, as in the file.
    pub y: f64,
    /// Diameter, drawing units, as in the file.
    pub diameter: f64,
    /// Handle of the entity.
    pub handle: Option<SharedText>,
    /// Its layer.
    pub layer: String,
    /// `model` or the layout's name.
    pub space: String,
    /// `circle`, `arcs`, `polyline`, `ellipse`, `spline` or `polygon`.
    pub made_of: String,
    /// False when its layer is off or frozen, or it is marked invisible.
    pub visible: bool,
    /// What it was taken for, for example `hole` or `balloon`.
    pub role: String,
    /// The hole it is or belongs to.
    pub hole: Option<SharedText>,
}

/// A callout, what it was read as, and its holes.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CalloutSeen {
    /// Decoded text.
    pub text: String,
    /// Handle of the entity that carries it.
    pub handle: Option<SharedText>,
    /// Abscissa, drawing units.
    pub x: f64,
    /// Ordinate, drawing units.
    pub y: f64,
    /// What it says.
    pub reads: Reads,
    /// Its holes.
    pub holes: Vec<SharedText>,
    /// Why it has no hole, or not as many as it counts.
    pub left: Option<String>,
}

/// What a callout says. What it does not say is null.
#[derive(Debug, Clone, PartialEq, Default, Serialize, JsonSchema)]
pub struct Reads {
    /// How many holes.
    pub count: Option<u32>,
    /// Whether it speaks of all holes.
    pub general: bool,
    /// Nominal diameter (mm).
    pub diameter_mm: Option<f64>,
    /// Allowed above the nominal (mm).
    pub plus_mm: Option<f64>,
    /// Allowed below the nominal (mm), positive downwards.
    pub minus_mm: Option<f64>,
    /// Smallest hole, where limits are written (mm).
    pub min_mm: Option<f64>,
    /// Largest hole, where limits are written (mm).
    pub max_mm: Option<f64>,
    /// Fit, for example `H11`.
    pub fit: Option<String>,
    /// Name of the drill, for example `#2`.
    pub drill: Option<String>,
    /// The size repeated in the other unit (mm).
    pub second_mm: Option<f64>,
    /// Depth of a blind hole (mm).
    pub depth_mm: Option<f64>,
    /// Through.
    pub through: bool,
    /// Thread named, for a tap or a screw.
    pub thread: Option<String>,
    /// Thread class, for example `2B`.
    pub thread_class: Option<String>,
    /// Depth of full thread (mm).
    pub thread_depth_mm: Option<f64>,
    /// Whether a tapped thread is called out.
    pub tapped: bool,
    /// Counterbore or spotface: its diameter (mm).
    pub counterbore_mm: Option<f64>,
    /// Its depth (mm).
    pub counterbore_depth_mm: Option<f64>,
    /// Countersink: its diameter at the face (mm).
    pub countersink_mm: Option<f64>,
    /// Its included angle (degrees).
    pub countersink_deg: Option<f64>,
    /// How the hole is made.
    pub process: Option<String>,
    /// `rolling`, `cutting` or `spaced`, where a self-forming screw is named.
    pub screw_form: Option<String>,
    /// Length of the screw that is named, which is no depth (mm).
    pub screw_length_mm: Option<f64>,
    /// Tag.
    pub tag: Option<String>,
    /// Thickness named in it (mm).
    pub thickness_mm: Option<f64>,
    /// Pieces of the text that were not understood.
    pub unread: Vec<String>,
}

/// What is seen on an examined drawing. `path` is only written into the result.
pub fn seen(path: &str, examined: &Examined) -> SeenDrawing {
    let paired = &examined.paired;
    SeenDrawing {
        path: path.to_owned(),
        state: examined.state.name().to_owned(),
        problems: examined.problems.iter().map(build::problem).collect(),
        unit: paired.unit.unit.name().to_owned(),
        unit_source: paired.unit.source.name().to_owned(),
        thickness_mm: paired.sheet.thickness.map(|(length, _)| build::mm(length)),
        material: paired.sheet.material.map(|material| material.name().to_owned()),
        holes: build::holes(examined),
        circles: paired.circles.iter().filter_map(|seen| circle(seen, examined)).collect(),
        callouts: paired.callouts.iter().map(|seen| callout(seen, examined)).collect(),
    }
}

fn hole_id(index: usize, examined: &Examined) -> Option<SharedText> {
    examined.paired.holes.get(index).map(|hole| hole.id.clone())
}

fn circle(seen: &SeenCircle, examined: &Examined) -> Option<CircleResult> {
    let drawing = &examined.drawing;
    let circle: &Circular = drawing.circles.get(seen.circle)?;
    let origin = &circle.origin;
    let space = drawing.spaces.get(usize::from(origin.space));
    Some(CircleResult {
        x: circle.center.x,
        y: circle.center.y,
        diameter: circle.diameter,
        handle: origin.handle_text(),
        layer: examined.layer_name(origin.layer).unwrap_or("0").to_owned(),
        space: space.map_or_else(|| "model".to_owned(), |space| space.name.clone()),
        made_of: circle.made_of.name().to_owned(),
        visible: origin.visible,
        role: seen.role.name().to_owned(),
        hole: seen.hole.and_then(|index| hole_id(index, examined)),
    })
}

fn callout(seen: &SeenCallout, examined: &Examined) -> CalloutSeen {
    CalloutSeen {
        text: seen.callout.text.clone(),
        handle: seen.origin.handle_text(),
        x: seen.at.x,
        y: seen.at.y,
        reads: reads(&seen.callout, examined.paired.unit.unit),
        holes: seen.holes.iter().filter_map(|&index| hole_id(index, examined)).collect(),
        left: seen.left.clone(),
    }
}

/// What a callout says, in mm; its bare numbers are in the drawing's unit.
fn reads(callout: &Callout, unit: Unit) -> Reads {
    let mm = |quantity: Quantity| quantity.length(unit).map(build::mm);
    let (diameter_mm, min_mm, max_mm, drill) = match &callout.size {
        Some(Size::Diameter(size)) => (mm(*size), None, None, None),
        Some(Size::Drill { name, diameter }) => (mm(*diameter), None, None, Some(name.clone())),
        Some(Size::Radius(radius)) => (radius.length(unit).map(twice), None, None, None),
        Some(Size::Limits(min, max)) => (None, mm(*min), mm(*max), None),
        None => (None, None, None, None),
    };
    let (plus_mm, minus_mm, fit) = match &callout.tolerance {
        Some(WrittenTolerance::Deviations { upper, lower }) => {
            (mm(*upper), lower.length(unit).map(|lower| build::mm(-lower)), None)
        }
        Some(WrittenTolerance::Fit(fit)) => (None, None, Some(fit.clone())),
        Some(WrittenTolerance::Largest | WrittenTolerance::Smallest) | None => (None, None, None),
    };
    let diameter_of = |entry: Option<Entry>| entry.and_then(|entry| entry.diameter).and_then(mm);
    let limit = callout.tolerance.as_ref();
    let thread = callout.thread.as_ref();
    Reads {
        count: callout.count,
        general: callout.general,
        diameter_mm,
        plus_mm,
        minus_mm,
        min_mm: min_mm.or(diameter_mm.filter(|_| limit == Some(&WrittenTolerance::Smallest))),
        max_mm: max_mm.or(diameter_mm.filter(|_| limit == Some(&WrittenTolerance::Largest))),
        fit,
        drill,
        second_mm: callout.second.and_then(mm),
        depth_mm: callout.depth.and_then(mm),
        through: callout.through,
        thread: thread.map(|named| named.thread.name.clone()).or_else(|| callout.other_thread.clone()),
        thread_class: thread.and_then(|named| named.class.clone()),
        thread_depth_mm: thread.and_then(|named| named.depth).and_then(mm),
        tapped: callout.tapped,
        counterbore_mm: diameter_of(callout.counterbore),
        counterbore_depth_mm: callout.counterbore.and_then(|entry| entry.depth).and_then(mm),
        countersink_mm: diameter_of(callout.countersink),
        countersink_deg: callout.countersink.and_then(|entry| entry.angle).map(|angle| angle.degrees()),
        process: callout.process.map(|process| process.name().to_owned()),
        screw_form: callout.screw.map(|form| form.name().to_owned()),
        screw_length_mm: callout.screw_length.and_then(mm),
        tag: callout.tag.clone(),
        thickness_mm: callout.thickness.and_then(mm),
        unread: callout.unread().map(str::to_owned).collect(),
    }
}

fn twice(radius: Length) -> f64 {
    build::mm(radius * 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::ScrewForm;
    use crate::rules::scene::Scene;

    fn quantity(value: f64) -> Quantity {
        Quantity { value, unit: None, decimals: 3 }
    }

    fn examined(scene: Scene) -> Examined {
        Examined {
            state: scene.state,
            problems: scene.problems,
            drawing: scene.drawing,
            paired: scene.paired,
            judged: scene.judged,
        }
    }

    #[test]
    fn bare_numbers_take_the_drawings_unit() {
        let callout = Callout {
            size: Some(Size::Diameter(quantity(0.224))),
            tolerance: Some(WrittenTolerance::Deviations { upper: quantity(0.003), lower: quantity(-0.001) }),
            screw: Some(ScrewForm::Rolling),
            ..Callout::default()
        };
        let reads = reads(&callout, Unit::Inch);
        // By hand: 0.224, 0.003 and 0.001 in times 25.4.
        assert_eq!(
            (reads.diameter_mm, reads.plus_mm, reads.minus_mm),
            (Some(5.6896), Some(0.0762), Some(0.0254))
        );
        assert_eq!(reads.screw_form.as_deref(), Some("rolling"));
    }

    #[test]
    fn limits_have_no_nominal_and_a_radius_is_doubled() {
        let limits = Callout { size: Some(Size::Limits(quantity(3.6), quantity(3.7))), ..Callout::default() };
        let said = reads(&limits, Unit::Mm);
        assert_eq!((said.diameter_mm, said.min_mm, said.max_mm), (None, Some(3.6), Some(3.7)));
        let radius = Callout { size: Some(Size::Radius(quantity(5.0))), ..Callout::default() };
        assert_eq!(reads(&radius, Unit::Mm).diameter_mm, Some(10.0));
    }

    #[test]
    fn circles_and_callouts_name_their_holes_and_every_key_is_written() {
        let mut scene = Scene::metric();
        scene.hole(5.0);
        let hole = scene.screw_hole(3.6);
        scene.callout(Callout { text: "Ø3.6".to_owned(), ..Callout::default() }, &[hole]);
        let seen = seen("lid.dxf", &examined(scene));
        assert_eq!(seen.circles[1].hole.as_deref(), Some("H2"));
        assert_eq!((seen.circles[1].diameter, seen.circles[1].layer.as_str()), (3.6, "HOLES"));
        assert_eq!(seen.callouts[0].holes, ["H2"]);
        let json = serde_json::to_value(&seen).unwrap();
        let keys: Vec<&String> = json.as_object().unwrap().keys().collect();
        let expected = [
            "path",
            "state",
            "problems",
            "unit",
            "unit_source",
            "thickness_mm",
            "material",
            "holes",
            "circles",
            "callouts",
        ];
        assert_eq!(keys, expected);
        for key in [
            "count",
            "diameter_mm",
            "plus_mm",
            "minus_mm",
            "depth_mm",
            "through",
            "thread",
            "tapped",
            "counterbore_mm",
            "countersink_mm",
            "countersink_deg",
            "process",
            "screw_form",
            "screw_length_mm",
            "tag",
        ] {
            assert!(json["callouts"][0]["reads"].as_object().unwrap().contains_key(key), "{key}");
        }
    }
}
