//! Model space, layouts and viewports.

use boreband::drawing::Viewport;
use boreband::geometry::Point;

use super::{assert_circles, file, pairs, whole};

const MODERN: &str = "0 SECTION\n2 TABLES\n0 TABLE\n2 BLOCK_RECORD\n\
    0 BLOCK_RECORD\n5 1F\n2 *Model_Space\n0 BLOCK_RECORD\n5 2A\n2 *Paper_Space\n0 BLOCK_RECORD\n5 2B\n2 *Paper_Space0\n0 ENDTAB\n0 ENDSEC\n\
    0 SECTION\n2 BLOCKS\n0 BLOCK\n330 1F\n2 *Model_Space\n10 0\n20 0\n0 ENDBLK\n0 BLOCK\n330 2A\n2 *Paper_Space\n10 0\n20 0\n0 ENDBLK\n\
    0 BLOCK\n330 2B\n2 *Paper_Space0\n10 0\n20 0\n0 CIRCLE\n330 2B\n67 1\n10 3\n20 3\n40 1\n0 ENDBLK\n0 ENDSEC\n\
    0 SECTION\n2 ENTITIES\n0 CIRCLE\n330 1F\n10 1\n20 1\n40 1\n0 CIRCLE\n330 2A\n67 1\n10 2\n20 2\n40 1\n\
    0 VIEWPORT\n330 2A\n67 1\n10 100\n20 50\n40 200\n41 100\n68 1\n69 1\n12 0\n22 0\n45 100\n\
    0 VIEWPORT\n330 2A\n67 1\n10 100\n20 50\n40 60\n41 30\n68 2\n69 2\n12 7\n22 8\n17 10\n27 20\n45 40\n0 ENDSEC\n\
    0 SECTION\n2 OBJECTS\n0 LAYOUT\n5 50\n330 1A\n100 AcDbPlotSettings\n1 page\n100 AcDbLayout\n1 Second\n71 2\n330 2B\n\
    0 LAYOUT\n100 AcDbPlotSettings\n1\n100 AcDbLayout\n1 Sheet A\n71 1\n330 2A\n\
    0 LAYOUT\n100 AcDbPlotSettings\n1\n100 AcDbLayout\n1 Model\n71 0\n330 1F\n0 ENDSEC\n0 EOF";

#[test]
fn layouts_by_name_and_owner() {
    let reading = whole(&pairs(MODERN));
    let names: Vec<&str> = reading.drawing.spaces.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["model", "Sheet A", "Second"]);
    assert_circles(&reading, &[(1.0, 1.0, 2.0), (2.0, 2.0, 2.0), (3.0, 3.0, 2.0)]);
    for circle in &reading.drawing.circles {
        // Drawn so that the abscissa names the space.
        assert_eq!(f64::from(circle.origin.space) + 1.0, circle.center.x);
    }
}

#[test]
fn viewports_have_a_scale_and_the_sheet_itself_is_none() {
    let reading = whole(&pairs(MODERN));
    let [view] = &reading.drawing.viewports[..] else {
        panic!("one viewport");
    };
    assert_eq!((view.space, view.scale, view.size), (1, 0.75, (60.0, 30.0)));
    assert_eq!((view.model_center.x, view.model_center.y), (17.0, 28.0));
}

#[test]
fn old_files_have_one_paper_space() {
    let reading = whole(&pairs(
        "0 SECTION\n2 ENTITIES\n0 CIRCLE\n10 1\n20 1\n40 1\n0 CIRCLE\n67 1\n10 2\n20 2\n40 1\n\
         0 VIEWPORT\n67 1\n10 5\n20 5\n40 10\n41 10\n68 2\n69 2\n1001 ACAD\n1000 MVIEW\n1002 {\n1070 16\n1010 1\n1020 2\n1030 0\n1010 0\n1020 0\n1030 1\n1040 0\n1040 20\n1040 3\n1040 4\n1002 }\n0 ENDSEC\n0 EOF",
    ));
    assert_eq!(reading.drawing.spaces.len(), 2);
    assert_eq!(reading.drawing.circles[1].origin.space, 1);
    assert_eq!(reading.drawing.viewports[0].scale, 0.5);
    assert_eq!(reading.drawing.viewports[0].model_center.x, 4.0);
}

/// The groups of a VIEWPORT as ezdxf writes them for a view of model space turned by 30° at half size.
const TURNED: &str = "0 VIEWPORT\n5 32\n67 1\n10 100\n20 50\n30 0\n40 60\n41 40\n68 2\n69 3\n12 7\n22 8\n16 0\n26 0\n36 1\n17 10\n27 20\n37 0\n45 80\n51 30\n331 2F\n90 0";

/// The same as ezdxf writes it for R12.
const TURNED_R12: &str = "0 VIEWPORT\n67 1\n10 100\n20 50\n30 0\n40 60\n41 40\n68 2\n69 3\n1001 ACAD\n1000 MVIEW\n1002 {\n1070 16\n\
    1010 10\n1020 20\n1030 0\n1010 0\n1020 0\n1030 1\n1040 30\n1040 80\n1040 7\n1040 8\n1040 50\n1040 0\n1040 0\n1070 0\n1003 HOLES\n1002 }";

const LAYERS: &str =
    "0 TABLE\n2 LAYER\n0 LAYER\n5 2F\n2 Holes\n70 0\n62 7\n0 LAYER\n5 30\n2 Notes\n70 0\n62 7\n0 ENDTAB";

fn views(entities: &str) -> (Vec<Viewport>, Vec<String>) {
    let reading = whole(&file("AC1032", LAYERS, "", entities));
    let notes = reading.problems.into_iter().map(|p| p.message).collect();
    (reading.drawing.viewports, notes)
}

/// The turn of a view was once lost, so that a callout on the sheet pointed beside its hole.
#[test]
fn a_turned_view_is_turned_back() {
    for text in [TURNED, TURNED_R12] {
        let view = &views(text).0[0];
        assert_eq!((view.scale, view.twist_deg, view.from_above), (0.5, 30.0, true));
        // From ezdxf: get_transformation_matrix() of this viewport.
        for (model, paper) in [
            ((40.0, 30.0), (106.990_381_056_766_58, 57.830_127_018_922_19)),
            ((0.0, 0.0), (97.169_872_981_077_8, 34.839_745_962_155_61)),
            ((20.0, 10.0), (103.330_127_018_922_18, 44.169_872_981_077_8)),
        ] {
            let (model, paper) = (Point::new(model.0, model.1), Point::new(paper.0, paper.1));
            assert!(view.paper_point(model).expect("shown").distance(paper) < 1e-9);
            assert!(view.model_point(paper).expect("shown").distance(model) < 1e-9);
        }
        assert_eq!(view.model_point(Point::new(131.0, 50.0)), None);
        // The layer frozen in this viewport only, by its handle or its name.
        assert_eq!((view.shows(1), view.shows(2)), (false, true));
    }
    assert!(views(&TURNED.replace("331 ", "341 ")).0[0].frozen == [1]);
    // Extended data keep angles as they are, which an old program holds in radians: π/6.
    let radians = TURNED_R12.replace("1040 30\n", "1040 0.5235987755982988\n");
    assert!((views(&radians).0[0].twist_deg - 30.0).abs() < 1e-9);
    assert_eq!(views(&TURNED_R12.replace("1040 30\n", "1040 2\n")).0[0].twist_deg, 2.0);
}

#[test]
fn a_clipped_view_shows_what_is_within_its_boundary() {
    let clipped =
        "0 VIEWPORT\n67 1\n10 200\n20 50\n40 60\n41 40\n68 3\n69 4\n12 0\n22 0\n45 40\n90 65536\n340 34\n";
    // A triangle, as ezdxf places it behind the viewport.
    let triangle = "0 LWPOLYLINE\n5 34\n67 1\n90 3\n70 1\n10 180\n20 40\n10 220\n20 40\n10 200\n20 65";
    let view = &views(&format!("{clipped}{triangle}")).0[0];
    assert_eq!(view.model_point(Point::new(200.0, 50.0)), Some(Point::new(0.0, 0.0)));
    assert_eq!(view.model_point(Point::new(182.0, 60.0)), None);
    assert_eq!(view.paper_point(Point::new(-18.0, 10.0)), None);
    // A circle by two bulges, radius 10, and by itself.
    for round in [
        "0 LWPOLYLINE\n5 34\n67 1\n90 2\n70 1\n10 190\n20 50\n42 1\n10 210\n20 50\n42 1",
        "0 CIRCLE\n5 34\n67 1\n10 200\n20 50\n40 10",
    ] {
        let view = &views(&format!("{clipped}{round}")).0[0];
        assert!(view.model_point(Point::new(206.5, 57.0)).is_some());
        assert!(view.model_point(Point::new(207.5, 57.5)).is_none());
    }
    // A boundary that is missing leaves the rectangle.
    assert!(views(clipped).0[0].model_point(Point::new(182.0, 60.0)).is_some());
}

#[test]
fn views_that_are_off_or_look_from_aside() {
    assert!(views(&TURNED.replace("90 0", "90 131072")).0.is_empty());
    assert!(views(&TURNED.replace("68 2", "68 0")).0.is_empty());
    for aside in [TURNED.replace("36 1", "36 0").replace("26 0", "26 -1"), TURNED.replace("90 0", "90 1")] {
        let (views, notes) = views(&format!("{aside}\n{aside}"));
        assert!(!views[0].from_above && views[0].model_point(Point::new(100.0, 50.0)).is_none());
        assert_eq!(notes.len(), 1);
        assert!(notes[0].starts_with("2 viewports look at the model from another side"));
    }
    // A direction of any length.
    assert!(views(&TURNED.replace("36 1", "36 2078.058")).0[0].from_above);
}
