//! Model space, layouts and viewports.

use super::{assert_circles, pairs, whole};

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
