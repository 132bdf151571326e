use super::*;

fn place(at: [f64; 2], size_mm: [f64; 3]) -> Option<HolePlace> {
    Some(HolePlace { tag: Some("A".to_owned()), at, size_mm })
}

fn tight(hole: Option<HolePlace>) -> Named<'static> {
    Named { rule: "engagement-above-band", hole, message: "H1 is tight" }
}

fn accepted(finding: &Named<'_>) -> Waiver {
    let mut baseline = Baseline::default();
    baseline.accept(Path::new("parts/lid.dxf"), Path::new("waivers.json"), finding, &[]);
    baseline.waivers.remove(0)
}

/// Common practice: what was accepted is this hole at this size, so no change of it stays accepted.
#[test]
fn a_waiver_covers_its_hole_and_no_other_size_place_tag_or_rule() {
    let found = tight(place([20.003, 15.0], [3.3, 3.3, 3.35]));
    let waiver = accepted(&found);
    assert!(waiver.covers(&found), "rounded as it was written");
    assert!(waiver.covers(&tight(place([20.001, 15.004], [3.3, 3.3, 3.35]))), "exported anew");
    for other in [
        tight(place([20.003, 15.0], [3.35, 3.3, 3.4])),
        tight(place([20.003, 15.0], [3.3, 3.3, 3.36])),
        tight(place([20.03, 15.0], [3.3, 3.3, 3.35])),
        tight(None),
        Named { rule: "cut-thread-size", ..found.clone() },
    ] {
        assert!(!waiver.covers(&other), "{other:?}");
    }
    let mut untagged = found.clone();
    untagged.hole.as_mut().unwrap().tag = None;
    assert!(!waiver.covers(&untagged));
}

#[test]
fn a_finding_of_a_drawing_is_known_by_its_words() {
    let found = Named { rule: "count-differs", hole: None, message: "4 said, 5 found" };
    let waiver = accepted(&found);
    assert!(waiver.covers(&found));
    assert!(!waiver.covers(&Named { message: "4 said, 6 found", ..found }));
}

#[test]
fn a_baseline_reads_back_and_keeps_what_people_wrote() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("lists/waivers.json");
    std::fs::create_dir(file.parent().unwrap()).unwrap();
    let drawing = folder.path().join("parts/lid.dxf");
    let findings = [
        tight(place([20.0, 15.0], [3.3, 3.3, 3.35])),
        Named { rule: "count-differs", hole: None, message: "4\n5" },
    ];
    let rules = ["engagement-above-band", "count-differs"];
    let written = |before: &[Waiver]| {
        let mut baseline = Baseline::default();
        findings.iter().for_each(|finding| baseline.accept(&drawing, &file, finding, before));
        serde_json::to_string_pretty(&baseline.file()).unwrap()
    };
    std::fs::write(&file, written(&[])).unwrap();
    let read = Waivers::load(&file, &rules).unwrap();
    let own = read.of(&drawing);
    assert_eq!(own.len(), 2);
    assert_eq!(own[0].drawing, "../parts/lid.dxf");
    assert!(findings.iter().all(|finding| own.iter().any(|waiver| waiver.covers(finding))));
    assert!(read.of(&folder.path().join("lid.dxf")).is_empty());

    let told =
        own.iter().cloned().map(|w| Waiver { reason: "tried".to_owned(), expires: day("2027-01-31"), ..w });
    let again = written(&told.collect::<Vec<_>>());
    assert_eq!(again.matches("\"reason\": \"tried\"").count(), 2);
    assert_eq!(again.matches("\"expires\": \"2027-01-31\"").count(), 2);

    let wrong = Waivers::load(&file, &["count-differs"]).unwrap_err();
    assert_eq!((wrong.len(), wrong[0].pointer.as_str()), (1, "/waivers/0/rule"));
}

#[test]
fn a_waiver_counts_through_its_last_day() {
    let waiver = Waiver { expires: day("2027-01-31"), ..accepted(&tight(None)) };
    assert!(!waiver.is_expired(day("2027-01-31").unwrap()));
    assert!(waiver.is_expired(day("2027-02-01").unwrap()));
    assert!(!Waiver { expires: None, ..waiver }.is_expired(day("9000-01-01").unwrap()));
    for wrong in ["2027-02-29", "31.1.2027", "2027-1-31", "20270131", ""] {
        assert_eq!(day(wrong), None, "{wrong}");
    }
}

#[test]
fn a_row_is_of_a_hole_or_of_a_drawing() {
    let file = |row: &str| {
        let text = format!(
            r#"{{ "format": 1, "waivers": [{{ "rule": "r", "drawing": "a.dxf", "reason": "b", "who": "c"{row} }}] }}"#
        );
        crate::reading::read_bytes::<wire::WaiverFile>("w.json", text.as_bytes()).map(drop)
    };
    assert!(file(r#", "message": "m""#).is_ok());
    assert!(file(r#", "x": 1, "y": -2, "diameter_mm": 3, "min_mm": 3, "max_mm": 3.1"#).is_ok());
    for wrong in [
        "",
        r#", "x": 1"#,
        r#", "x": 1, "y": 2"#,
        r#", "message": "m", "tag": "A""#,
        r#", "message": "m", "expires": "soon""#,
    ] {
        assert_eq!(file(wrong).unwrap_err().len(), 1, "{wrong}");
    }
}
