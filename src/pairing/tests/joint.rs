//! Screw, metal and size of a hole.

use super::*;
use crate::joint::{Making, Stage};

fn option(thread: &str) -> Defaults {
    let making = Making { thickness: Some(mm(1.5)), process: Some(Process::Punched), ..Making::default() };
    Defaults { thread: Some(Thread::parse(thread).expect("a thread of the tables")), making }
}

#[test]
fn a_callout_that_names_a_forming_screw_makes_a_screw_hole() {
    let drawing =
        plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 FOR M4 THREAD ROLLING SCREW").drawing();
    let paired = alone(&drawing);
    let screws: Vec<bool> = paired.holes.iter().map(|h| h.screw.is_some()).collect();
    assert_eq!(screws, [true, true, false, true, true]);
}

#[test]
fn the_option_speaks_for_holes_that_fit_its_thread() {
    let paired = pair(&plate().drawing(), None, &option("M4"));
    let screws: Vec<bool> = paired.holes.iter().map(|h| h.screw.is_some()).collect();
    assert_eq!(screws, [true, true, false, true, true]);
    assert_eq!(paired.holes[0].thickness_source, ThicknessSource::Option);
    assert_eq!(paired.holes[0].making.process, Some(Process::Punched));
}

#[test]
fn the_option_does_not_speak_where_a_list_covers_the_drawing() {
    let list = DrawingRows::default();
    let paired = pair(&plate().drawing(), Some(&list), &option("M4"));
    assert!(paired.holes.iter().all(|h| h.screw.is_none()));
}

#[test]
fn a_hole_tapped_for_another_thread_is_no_screw_hole() {
    let screws = |callout: &str, defaults: &Defaults| {
        let drawing = plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), callout).drawing();
        pair(&drawing, None, defaults).holes.iter().filter(|h| h.screw.is_some()).count()
    };
    assert_eq!(screws("4X Ø3.6 M4 TAP", &Defaults::default()), 0, "nobody names a screw");
    assert_eq!(screws("4X Ø3.6 M3.5 TAP", &option("M4")), 0);
    // The screw is said to be M4, so a tap of M4 is a mistake that must be found, not a hole to pass over.
    assert_eq!(screws("4X Ø3.6 M4 TAP", &option("M4")), 4);
}

#[test]
fn a_hole_of_the_major_diameter_leaves_nothing_to_form() {
    let drawing = Sheet::new().circle(0.0, 0.0, 4.0).circle(20.0, 0.0, 3.95).drawing();
    let paired = pair(&drawing, None, &option("M4"));
    let screws: Vec<bool> = paired.holes.iter().map(|h| h.screw.is_some()).collect();
    assert_eq!(screws, [false, true], "a dowel's hole was judged as a screw hole");
}

#[test]
fn limits_and_deviations_on_one_side_are_kept_as_limits() {
    let drawing = plate().leader(rim(50.0, 30.0, 4.0), (60.0, 70.0), "Ø8 +0.2/+0.1").drawing();
    let called = alone(&drawing).holes[2].called.clone().expect("a size");
    let Some(crate::joint::Tolerance::Limits { min, max }) = called.tolerance else {
        panic!("limits expected: {called:?}");
    };
    // 8 + 0.1 and 8 + 0.2.
    assert!((min.mm() - 8.1).abs() < 1e-9 && (max.mm() - 8.2).abs() < 1e-9);
}

/// The sheet once had no thickness and no material where only the command line or the callouts stated them.
#[test]
fn the_sheet_is_completed_from_callouts_and_the_command_line() {
    let mut defaults = option("M4");
    defaults.making.material = Some(Material::Brass);
    let sheet = pair(&plate().drawing(), None, &defaults).sheet;
    assert_eq!(sheet.thickness, Some((mm(1.5), ThicknessSource::Option)));
    assert_eq!(sheet.material, Some(Material::Brass));
    let two_thick = plate().leader(
        rim(90.0, 50.0, 1.8),
        (110.0, 70.0),
        "4X Ø3.6 THRU FOR M4 THREAD ROLLING SCREW, 2 THK",
    );
    let sheet = pair(&two_thick.drawing(), None, &defaults).sheet;
    assert_eq!(sheet.thickness, Some((mm(2.0), ThicknessSource::Callout)));
}

/// Common practice: a drawing says whether its sizes hold before or after coating; where it does not, neither is assumed.
#[test]
fn a_coating_counts_whether_or_not_the_drawing_says_when_its_sizes_hold() {
    let coating = |callout: &str, note: &str| {
        let drawing =
            plate().text(300.0, 20.0, note).leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), callout).drawing();
        let coating = alone(&drawing).holes[0].making.coating;
        coating.map(|c| ((c.thickness.mm() * 1e6).round() / 1e6, c.stated))
    };
    assert_eq!(
        coating("4X Ø3.6", "ZINC PLATED 8 µm, SIZES BEFORE PLATING"),
        Some((0.008, Some(Stage::Before)))
    );
    assert_eq!(coating("4X Ø3.6 AFTER PLATING", "ZINC PLATED 8 µm"), Some((0.008, Some(Stage::After))));
    assert_eq!(coating("4X Ø3.6", "ZINC PLATED 8 µm"), Some((0.008, None)), "not said when the sizes hold");
    assert_eq!(coating("4X Ø3.6 PAINT 60 µm", "SIZES BEFORE PAINTING"), Some((0.06, Some(Stage::Before))));
    assert_eq!(coating("4X Ø3.6 AFTER PLATING", "NOTES"), None, "not said how thick");
}

/// The `AFTER PLATING` of one hole once held for all of them, and its 60 µm of paint.
#[test]
fn what_a_callout_says_of_a_coating_holds_for_its_own_holes() {
    let coating = |callout: &str, note: &str| {
        let own = plate().leader(rim(50.0, 30.0, 4.0), (60.0, 70.0), callout);
        let sheet = own.text(300.0, 20.0, note).leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 THRU");
        let holes = alone(&sheet.drawing()).holes;
        let coating = |hole: usize| holes[hole].making.coating.map(|c| (c.thickness, c.stated));
        assert_eq!((holes[0].drawn, holes[2].drawn), (mm(3.6), mm(8.0)));
        (coating(0), coating(2))
    };
    assert_eq!(
        coating("Ø8 THRU AFTER PLATING", "ZINC PLATED 8 µm"),
        (Some((mm(0.008), None)), Some((mm(0.008), Some(Stage::After))))
    );
    assert_eq!(coating("Ø8 THRU PAINT 60 µm", "NOTES"), (None, Some((mm(0.06), None))));
}

/// The length of `M4x10` was once kept as the depth of a thread, and a depth behind the screw's thread was lost for the
/// hole.
#[test]
fn the_length_of_the_screw_that_a_callout_names_is_no_depth() {
    let of = |text: &str, rows: Option<Row>| {
        let drawing = plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), text).drawing();
        let paired = rows.map_or_else(|| alone(&drawing), |row| with(&drawing, vec![row]));
        let hole = paired.holes.iter().find(|h| h.screw.is_some()).expect("a screw hole");
        (hole.screw.as_ref().and_then(|s| s.length), hole.depth)
    };
    let text = "4X Ø3.6 ↧12 FOR M4x10 THREAD ROLLING SCREW";
    assert_eq!(of(text, None), (Some(mm(10.0)), Some(mm(12.0))));
    assert_eq!(of("4X Ø3.6 FOR M4 THREAD ROLLING SCREW ↧12", None), (None, Some(mm(12.0))));
    // A list says no other length; its own goes first.
    let row = |length| Row { screw: m4().map(|s| Screw { length, ..s }), size: sized(3.6), ..Row::default() };
    assert_eq!(of(text, Some(row(None))).0, Some(mm(10.0)));
    assert_eq!(of(text, Some(row(Some(mm(16.0))))).0, Some(mm(16.0)));
}
