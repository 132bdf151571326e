use super::*;
use crate::practice::Practice;
use crate::rules::scene::{Scene, band, mm};
use crate::verdict::{Engagement, Verdict};

/// One tight M4 hole, by hand: Ø3.3 +0.05/0 is 153.96 % to 142.96 % of 0.4546633 mm.
fn examined() -> Examined {
    let mut scene = Scene::metric();
    let hole = scene.screw_hole(3.3);
    let engagement = Engagement { nominal: 153.960_3, at_min: 153.960_3, at_max: 142.963_2 };
    scene.judge(hole, (3.3, 3.3, 3.35), engagement, band(80.0, 98.0, mm(3.554_43), mm(3.636_269_4)));
    scene.judged[hole].verdict = Some(Verdict::Tight);
    scene.advise(hole, mm(3.6), "Ø3.6 +0.03/0");
    scene.callout(crate::callout::Callout { text: "Ø3.3 +0.05/0".to_owned(), ..Default::default() }, &[hole]);
    Examined {
        state: scene.state,
        problems: scene.problems,
        drawing: scene.drawing,
        paired: scene.paired,
        judged: scene.judged,
    }
}

fn result() -> DrawingResult {
    let examined = examined();
    let findings = gate::findings(
        &examined.subject("lid.dxf", &Practice::default(), &Trials::default()),
        &Policy::default(),
    );
    build::drawing("lid.dxf", "blake3:0".to_owned(), &examined, None, findings)
}

fn keys(value: &serde_json::Value) -> Vec<String> {
    value.as_object().map(|o| o.keys().cloned().collect()).unwrap_or_default()
}

#[test]
fn keys_of_the_report_stand_in_the_documented_order() {
    let json = serde_json::to_value(Report::of(vec![result()])).unwrap();
    assert_eq!(keys(&json), ["format", "tool", "totals", "drawings"]);
    let drawing = &json["drawings"][0];
    let expected = [
        "path",
        "digest",
        "state",
        "problems",
        "unit",
        "unit_source",
        "part",
        "material",
        "thickness_mm",
        "thickness_source",
        "holes",
        "findings",
    ];
    assert_eq!(keys(drawing), expected);
    let expected = [
        "id",
        "x",
        "y",
        "space",
        "drawn_diameter_mm",
        "view_scale",
        "layer",
        "handle",
        "tag",
        "callout",
        "paired_by",
        "confidence",
        "screw",
        "material",
        "thickness_mm",
        "thickness_source",
        "process",
        "diameter",
        "engagement",
        "band",
        "verdict",
        "undecided",
        "advice",
        "guide_holes",
        "accepted_guide_hole",
        "coating",
        "lengths",
        "along",
        "collar",
        "capability",
        "not_judged",
    ];
    assert_eq!(keys(&drawing["holes"][0]), expected);
    let expected = ["min", "target", "max", "hole_min_mm", "hole_max_mm", "source", "status"];
    assert_eq!(keys(&drawing["holes"][0]["band"]), expected);
    let expected =
        ["rule", "level", "hole", "x", "y", "handle", "layer", "line", "message", "remedy", "waived"];
    assert_eq!(keys(&drawing["findings"][0]), expected);
    let expected = [
        "drawings",
        "unreadable",
        "partly_read",
        "holes",
        "screw_holes",
        "in_band",
        "straddles",
        "tight",
        "loose",
        "undetermined",
        "fail",
        "warn",
        "note",
        "waived",
    ];
    assert_eq!(keys(&json["totals"]), expected);
}

#[test]
fn lengths_are_rounded_to_a_millionth_and_percents_to_a_hundredth() {
    let hole = result().holes.remove(0);
    let engagement = hole.engagement.as_ref().unwrap();
    assert_eq!((engagement.nominal, engagement.at_min, engagement.at_max), (153.96, 153.96, 142.96));
    assert_eq!(hole.band.as_ref().unwrap().hole_max_mm, 3.636_269);
    assert_eq!(hole.drawn_diameter_mm, 3.3);
}

#[test]
fn totals_count_what_the_results_say() {
    let totals = Report::of(vec![result(), result()]).totals;
    assert_eq!((totals.drawings, totals.holes, totals.screw_holes, totals.tight), (2, 2, 2, 2));
    assert_eq!((totals.fail, totals.warn, totals.note), (2, 0, 0));
}

/// A drawing against no list, no option and no policy.
fn against_nothing(look: impl FnOnce(Against<'_>) -> DrawingResult) -> DrawingResult {
    let (defaults, policy) = (Defaults::default(), Policy::default());
    look(Against {
        rows: None,
        defaults: &defaults,
        policy: &policy,
        trials: &Trials::default(),
        waiving: None,
        pictured: false,
        converting: false,
        reasoned: false,
        digested: true,
    })
}

#[test]
fn a_file_that_cannot_be_had_is_unreadable_with_the_reason() {
    let result = against_nothing(|against| unopened("lid.dxf", "permission denied", against));
    assert_eq!((result.state.as_str(), result.digest.as_str()), ("unreadable", ""));
    assert_eq!(result.findings.len(), 1);
    assert_eq!((result.findings[0].rule.as_str(), result.findings[0].line), ("drawing-unreadable", None));
    assert_eq!(result.findings[0].message, "permission denied");
    assert_eq!((result.holes.len(), result.thickness_source.as_str()), (0, "none"));
}

#[test]
fn a_file_that_is_no_drawing_is_unreadable_and_has_its_digest() {
    let result = against_nothing(|against| check("empty.dxf", b"", against));
    assert_eq!(result.state, "unreadable");
    assert_eq!(result.findings.iter().map(|f| f.rule.as_str()).collect::<Vec<_>>(), ["drawing-unreadable"]);
    // Published: the digest of no bytes in the test vectors of BLAKE3.
    let digest = "blake3:af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262";
    assert_eq!(result.digest, digest);
}

#[test]
fn a_drawing_cut_short_is_partly_read_with_the_line_of_the_loss() {
    let text = "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n10\n1.0\n20\n2,5\n40\n1.8\n0\nENDSEC\n0\nEOF\n";
    let result = against_nothing(|against| check("bad.dxf", text.as_bytes(), against));
    assert_eq!(result.state, "partly-read");
    // `2,5` stands on line 10.
    let lines: Vec<_> = result.findings.iter().map(|f| (f.rule.as_str(), f.line)).collect();
    assert_eq!(lines, [("drawing-partly-read", Some(10))]);
}
