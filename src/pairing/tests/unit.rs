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
