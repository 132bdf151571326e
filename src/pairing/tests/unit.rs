//! Which unit a drawing is read in.

use super::*;

#[test]
fn a_dimension_factor_of_25_4_is_no_scale() {
    let mut drawing = Sheet::new()
        .insunits(Some(1))
        .circle(0.0, 0.0, 0.2)
        .diameter_dimension(0.0, 0.0, 0.2, "Ø5.08")
        .drawing();
    drawing.dimensions[0].length_factor = 25.4;
    let paired = alone(&drawing);
    assert_eq!((paired.unit.unit, paired.unit.doubtful), (Unit::Inch, false));
    // 0.2 in = 5.08 mm.
    assert_eq!(paired.holes[0].called.as_ref().and_then(|c| c.nominal), Some(mm(5.08)));
    assert_eq!(paired.holes[0].view_scale, 1.0);
}

fn inch_plate(insunits: Option<i64>, text: &str) -> Paired {
    let drawing = Sheet::new()
        .insunits(insunits)
        .outline(0.0, 0.0, 50.0, 30.0)
        .circle(20.0, 20.0, 0.224)
        .leader((20.0, 20.0), (60.0, 40.0), text)
        .drawing();
    alone(&drawing)
}

#[test]
fn the_header_is_believed_where_nothing_contradicts() {
    let unit = alone(&plate().drawing()).unit;
    assert_eq!((unit.unit, unit.source, unit.doubtful), (Unit::Mm, UnitSource::Header, false));
    let unit = alone(&plate().insunits(Some(1)).drawing()).unit;
    assert_eq!((unit.unit, unit.source, unit.doubtful), (Unit::Inch, UnitSource::Header, false));
}

#[test]
fn nothing_said_is_millimetres_assumed() {
    let unit = alone(&plate().insunits(None).drawing()).unit;
    assert_eq!((unit.unit, unit.source, unit.doubtful), (Unit::Mm, UnitSource::Assumed, false));
}

#[test]
fn callouts_decide_where_the_header_is_silent() {
    let unit = inch_plate(None, "Ø.224 THRU").unit;
    assert_eq!((unit.unit, unit.source, unit.doubtful), (Unit::Inch, UnitSource::Callouts, false));
}

#[test]
fn a_header_that_callouts_contradict_is_doubtful_and_the_size_stays_right() {
    let paired = inch_plate(Some(4), "Ø.224 THRU");
    assert_eq!((paired.unit.unit, paired.unit.doubtful), (Unit::Inch, true));
    // 0.224 in = 5.6896 mm, by the definition of the inch.
    let called = paired.holes[0].called.as_ref().and_then(|c| c.nominal).map(Length::mm);
    assert!(called.is_some_and(|mm| (mm - 5.6896).abs() < 1e-9));
}

#[test]
fn inch_callouts_on_circles_drawn_in_millimetres_are_read_in_inches() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(20.0, 20.0, 5.69)
        .leader(rim(20.0, 20.0, 2.845), (60.0, 70.0), "Ø.224 THRU")
        .drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.unit.unit, Unit::Mm);
    let called = paired.holes[0].called.as_ref().and_then(|c| c.nominal).map(Length::mm);
    assert!(called.is_some_and(|mm| (mm - 5.6896).abs() < 1e-9), "{called:?}");
    assert_eq!(paired.holes[0].view_scale, 1.0);
}

#[test]
fn a_thread_beside_the_size_votes() {
    let unit = inch_plate(None, "Ø0.224 FOR 1/4-20 THREAD ROLLING SCREW").unit;
    assert_eq!((unit.unit, unit.source), (Unit::Inch, UnitSource::Callouts));
}

#[test]
fn a_list_in_another_unit_and_the_measurement_flag_are_no_disagreement() {
    let mut drawing = plate().drawing();
    drawing.header.measurement = Some(0);
    let list = DrawingRows { unit: Some(Unit::Inch), ..DrawingRows::default() };
    let unit = pair(&drawing, Some(&list), &Defaults::default()).unit;
    assert_eq!((unit.unit, unit.doubtful), (Unit::Mm, false));
}

#[test]
fn rows_that_fit_in_one_unit_only_vote() {
    let drawing = Sheet::new().insunits(None).circle(0.0, 0.0, 0.142).drawing();
    // 3.6 mm = 0.1417 in: the circle fits M4 and the row in inches only.
    let row = Row { screw: m4(), size: sized(3.6), ..Row::default() };
    let unit = with(&drawing, vec![row]).unit;
    assert_eq!((unit.unit, unit.source), (Unit::Inch, UnitSource::List));
}

#[test]
fn centimetres_do_not_vote() {
    let unit = alone(&plate().insunits(Some(5)).drawing()).unit;
    assert_eq!(unit.source, UnitSource::Assumed);
    assert!(unit.votes.iter().any(|v| v.weight == 0.0 && v.who.contains("INSUNITS 5")));
}

/// A header left at inches once made a hole of 91 mm of a callout that names its M4 screw.
#[test]
fn a_callout_that_fits_its_own_screw_in_one_unit_weighs_more_than_the_header() {
    let text = "4X Ø3.6 +0.03/0 FOR M4 THREAD ROLLING SCREW";
    let sheet = plate().insunits(Some(1)).leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), text);
    let paired = alone(&sheet.drawing());
    assert_eq!((paired.unit.unit, paired.unit.doubtful), (Unit::Mm, true));
    let called = paired.holes.iter().find_map(|h| h.called.as_ref()).and_then(|c| c.nominal);
    assert_eq!(called, Some(mm(3.6)));
}

/// A place of a list that lay inside a pitch circle took that circle for its own, which fitted the screw in
/// millimetres, and a part drawn in inches at half its size was read in millimetres.
#[test]
fn a_circle_round_a_place_of_the_list_off_its_centre_does_not_vote() {
    let row = || Row { screw: m4(), size: sized(3.6), at: vec![Point::new(0.5, 0.0)], ..Row::default() };
    let votes = |sheet: Sheet| with(&sheet.drawing(), vec![row()]).unit.votes;
    let on_it = Sheet::new().insunits(None).centre_circle(0.5, 0.0, 3.4);
    assert!(votes(on_it.circle(0.5, 0.0, 0.07)).iter().any(|v| v.who.contains("circles fit M4")));
    let around = Sheet::new().insunits(None).centre_circle(0.0, 0.0, 3.4);
    let votes = votes(around.circle(0.5, 0.0, 0.07));
    assert!(!votes.iter().any(|v| v.who.contains("circles fit M4")), "{votes:?}");
}

/// A plate with one hole and nothing that says a unit, of a size and at a factor of its dimension.
fn bare_plate(width: f64, hole: f64, factor: Option<f64>) -> Drawing {
    let mut sheet = Sheet::new().insunits(None).outline(0.0, 0.0, width, 0.6 * width);
    sheet = sheet.circle(0.5 * width, 0.3 * width, hole);
    if factor.is_some() {
        sheet = sheet.diameter_dimension(0.5 * width, 0.3 * width, hole, "");
    }
    let mut drawing = sheet.drawing();
    drawing.dimensions.iter_mut().for_each(|d| d.length_factor = factor.unwrap_or(1.0));
    drawing
}

/// Of parts from 5 mm to 5 m with holes from 0.3 to 500 mm only those count that are so in one unit alone.
#[test]
fn the_size_of_the_part_breaks_the_silence_of_everything_else() {
    let of = |width, hole, factor| {
        let unit = alone(&bare_plate(width, hole, factor)).unit;
        let votes: Vec<Unit> =
            unit.votes.iter().filter(|v| v.who.contains("plausible part size")).map(|v| v.unit).collect();
        (unit.unit, unit.source, votes)
    };
    let assumed = |unit, votes: &[Unit]| (unit, UnitSource::Assumed, votes.to_vec());
    // 3 in = 76 mm, and nobody makes plates of 3 mm; 0.25 mm is no hole, 1/4 in is.
    assert_eq!(of(3.0, 0.25, None), assumed(Unit::Inch, &[Unit::Inch]));
    assert_eq!(of(12.0, 0.25, None), assumed(Unit::Inch, &[Unit::Inch]));
    // 400 in = 10 m.
    assert_eq!(of(400.0, 6.0, None), assumed(Unit::Mm, &[Unit::Mm]));
    // 50 mm and 50 in may both be.
    assert_eq!(of(50.0, 6.0, None), assumed(Unit::Mm, &[]));
    // At 1:10 a plate drawn 40 long is one of 400.
    assert_eq!(of(40.0, 0.6, Some(10.0)).2, [Unit::Mm]);
    assert_eq!(of(40.0, 0.6, Some(1.0)).2, []);
    // Drawn in millimetres and dimensioned in inches: a factor that is no scale.
    assert_eq!(of(400.0, 6.0, Some(1.0 / 25.4)).2, [Unit::Mm]);
}

/// A scale that is stated may be the plot's alone, so the part has to be plausible with and without it.
#[test]
fn a_stated_scale_may_be_the_plots_alone() {
    let votes = |stated: &str| {
        let sheet = Sheet::new().insunits(None).outline(0.0, 0.0, 3.0, 2.0).circle(1.0, 1.0, 0.35);
        let unit = alone(&sheet.text(100.0, -50.0, stated).drawing()).unit;
        unit.votes.iter().filter(|v| v.who.contains("plausible part size")).count()
    };
    assert_eq!((votes("SCALE 1:1"), votes("SCALE 1:2")), (1, 0), "3 at 1:2 would be a part of 6 mm");
}

#[test]
fn the_size_of_the_part_makes_doubt_with_another_vote_only() {
    let of = |insunits, measurement| {
        let mut drawing = bare_plate(3.0, 0.25, None);
        (drawing.header.insunits, drawing.header.measurement) = (Some(insunits), Some(measurement));
        let unit = alone(&drawing).unit;
        (unit.unit, unit.source, unit.doubtful)
    };
    assert_eq!(of(4, 1), (Unit::Mm, UnitSource::Header, false), "the size of the part alone");
    assert_eq!(of(4, 0), (Unit::Mm, UnitSource::Header, true), "$MEASUREMENT says inches too");
    assert_eq!(of(1, 1), (Unit::Inch, UnitSource::Header, false), "$MEASUREMENT alone");
}

/// An exploded dimension of an old program shows a comma; that `,625` leaves out the zero is no habit of millimetres.
#[test]
fn a_comma_without_a_zero_before_it_does_not_vote() {
    let votes =
        |text: &str| inch_plate(None, text).unit.votes.iter().any(|v| v.who.contains("decimal comma"));
    assert!(votes("Ø0,625 THRU"));
    assert!(!votes("Ø,625 THRU"));
}
