//! One report, made by hand, that every form is tested with. The engagement and band of the M4 and M5 holes follow
//! from 100(D-d)/(0.649519 P) by hand; everything else only has to look like a report.

use boreband::check::{
    AdviceResult, BandResult, CalloutResult, DiameterResult, DrawingResult, EngagementResult, FindingResult,
    GuideHoleResult, HoleResult, JointResult, NotJudgedResult, ProblemResult, Report, ScrewResult, Tool,
    Totals,
};
use boreband::shared::SharedText;

/// A name with everything that must not reach a terminal.
pub(crate) const HOSTILE: &str = "ev\u{1b}[31mil\n\u{202e}fxd\u{7}\u{9b}2J";

/// The report: four holes of one wrong callout, one too large, one that straddles in inch, one undetermined, a clean
/// drawing, a partly read, an unreadable and a hostile one.
pub(crate) fn report() -> Report {
    let drawings = vec![bracket(), clean(), cover(), hostile(), partly(), unreadable()];
    Report {
        format: 1,
        tool: Tool { name: "boreband".into(), version: "0.0.0".into() },
        totals: Totals {
            drawings: 6,
            unreadable: 1,
            partly_read: 1,
            holes: 11,
            screw_holes: 10,
            in_band: 2,
            straddles: 1,
            tight: 5,
            loose: 1,
            undetermined: 1,
            fail: 12,
            warn: 5,
            note: 5,
            waived: 1,
        },
        drawings,
    }
}

/// Only the clean drawing.
pub(crate) fn clean_report() -> Report {
    let totals = Totals { drawings: 1, holes: 2, screw_holes: 2, in_band: 2, ..Totals::default() };
    Report { format: 1, tool: report().tool, totals, drawings: vec![clean()] }
}

fn drawing(path: &str) -> DrawingResult {
    DrawingResult {
        path: path.into(),
        digest: "blake3:00".into(),
        state: "read".into(),
        unit: "mm".into(),
        unit_source: "header".into(),
        material: Some("low-carbon-steel".into()),
        thickness_mm: Some(1.5),
        thickness_source: "list".into(),
        ..DrawingResult::default()
    }
}

/// A hole in band: M4 in 1.5 mm, Ø3.6 ±0.02, 87.98 % at 3.60 = 100 * 0.4 / 0.454663.
fn hole(id: &str, x: f64, y: f64) -> HoleResult {
    HoleResult {
        id: SharedText::copied(id),
        x,
        y,
        space: "model".into(),
        drawn_diameter_mm: 3.6,
        view_scale: 1.0,
        layer: "HOLES".into(),
        handle: Some("2F".into()),
        tag: Some("A".into()),
        callout: Some(CalloutResult { text: "4X Ø3.6 ±0.02 THRU".into(), handle: Some("41".into()) }),
        paired_by: "leader".into(),
        confidence: 0.98,
        joint: JointResult {
            screw: Some(ScrewResult {
                thread: "M4".into(),
                major_mm: 4.0,
                pitch_mm: 0.7,
                form: "rolling".into(),
            }),
            material: Some("low-carbon-steel".into()),
            thickness_mm: Some(1.5),
            thickness_source: "list".into(),
            process: Some("punched".into()),
            diameter: size(3.6, 3.58, 3.62),
            engagement: Some(engagement(87.98, 92.38, 83.58)),
            band: Some(band(80.0, 98.0, 3.554430, 3.636270)),
            verdict: Some("in-band".into()),
            undecided: Vec::new(),
            advice: None,
            // DIN 7500-2:1984, published: 3.6 H11, 0.400 and 0.325 over 0.454663.
            guide_holes: vec![GuideHoleResult {
                source: "DIN 7500-2:1984-12 guide holes".into(),
                status: "published".into(),
                metal: "St".into(),
                diameter_mm: 3.6,
                fit: "H11".into(),
                engagement: 87.98,
                engagement_at_max: Some(71.48),
                suspect: None,
            }],
            accepted_guide_hole: None,
            coating: None,
            lengths: None,
            along: None,
            collar: None,
            capability: None,
        }
        .into(),
        not_judged: Vec::new(),
    }
}

fn size(nominal: f64, min: f64, max: f64) -> DiameterResult {
    DiameterResult {
        nominal_mm: nominal,
        min_mm: min,
        max_mm: max,
        source: "callout".into(),
        tolerance_source: "callout".into(),
    }
}

fn engagement(nominal: f64, at_min: f64, at_max: f64) -> EngagementResult {
    EngagementResult { basis: "rolled".into(), nominal, at_min, at_max }
}

fn band(min: f64, max: f64, hole_min_mm: f64, hole_max_mm: f64) -> BandResult {
    BandResult {
        min,
        target: 90.0,
        max,
        hole_min_mm,
        hole_max_mm,
        source: "thickness over diameter, low-carbon steel".into(),
        status: "common_practice".into(),
    }
}

fn finding(rule: &'static str, level: &'static str, hole: &HoleResult, message: &str) -> FindingResult {
    FindingResult {
        rule: rule.into(),
        level: level.into(),
        hole: Some(hole.id.clone()),
        x: Some(hole.x),
        y: Some(hole.y),
        handle: hole.handle.clone(),
        layer: Some(hole.layer.clone()),
        line: Some(1200),
        message: SharedText::copied(message),
        remedy: None,
        waived: None,
    }
}

fn of_drawing(rule: &'static str, level: &'static str, message: &str) -> FindingResult {
    FindingResult {
        rule: rule.into(),
        level: level.into(),
        message: SharedText::copied(message),
        hole: None,
        x: None,
        y: None,
        handle: None,
        layer: None,
        line: None,
        remedy: None,
        waived: None,
    }
}

fn not_judged(rule: &'static str, reason: &'static str) -> NotJudgedResult {
    NotJudgedResult { rule: rule.into(), reason: reason.into() }
}

fn remedied(mut finding: FindingResult, remedy: &str) -> FindingResult {
    finding.remedy = Some(SharedText::copied(remedy));
    finding
}

/// M4 holes at Ø3.3, the tap drill: 100 * 0.7 / 0.454663 = 153.96 %, at 3.35 142.96 %; one M5 hole at Ø4.75:
/// 100 * 0.25 / 0.519615 = 48.11 %; one plain hole.
fn bracket() -> DrawingResult {
    let mut d = drawing("parts/bracket-07.dxf");
    for (i, (x, y)) in [(120.0, 45.0), (160.0, 45.0), (120.0, 20.0), (160.0, 20.0)].into_iter().enumerate() {
        let mut h = hole(&format!("H{}", i + 1), x, y);
        h.diameter = size(3.3, 3.3, 3.35);
        h.callout = Some(CalloutResult { text: "4X Ø3.3 +0.05/-0\nTHRU".into(), handle: Some("41".into()) });
        h.engagement = Some(engagement(153.96, 153.96, 142.96));
        h.verdict = Some("tight".into());
        h.not_judged = vec![not_judged("edge-too-close", "no closed outline round the hole is found")];
        h.advice = Some(AdviceResult {
            diameter_mm: 3.6,
            drill: Some("3.6 mm".into()),
            callout: "4X Ø3.6 +0.03/0 THRU".into(),
        });
        let message = format!("{} is Ø3.300, 154 % to 143 % rolled, above the band of 80 to 98 %", h.id);
        let tight = finding("engagement-above-band", "fail", &h, &message);
        d.findings.push(remedied(tight, "call out 4X Ø3.6 +0.03/0 THRU"));
        let cause = "this is the tap-drill size (3.3 mm) for a cut M4 thread";
        d.findings.push(finding("cut-thread-size", "fail", &h, cause));
        d.holes.push(h);
    }
    let mut loose = hole("H5", -12.5, 8.0);
    loose.screw =
        Some(ScrewResult { thread: "M5".into(), major_mm: 5.0, pitch_mm: 0.8, form: "rolling".into() });
    loose.diameter = DiameterResult { tolerance_source: "process".into(), ..size(4.75, 4.7, 4.8) };
    loose.callout = Some(CalloutResult { text: "Ø4.75".into(), handle: Some("44".into()) });
    loose.engagement = Some(engagement(48.11, 57.74, 38.49));
    loose.band = Some(band(80.0, 98.0, 4.490778, 4.584308));
    loose.verdict = Some("loose".into());
    loose.not_judged = vec![not_judged("holes-too-close", "another hole crosses it")];
    loose.tag = None;
    loose.confidence = 0.62;
    loose.paired_by = "nearest".into();
    let below = finding("engagement-below-band", "fail", &loose, "H5 is Ø4.750, 48 % rolled");
    d.findings.push(remedied(below, "call out Ø4.55 ±0.03"));
    d.findings.push(finding("drawn-size-differs", "warn", &loose, "H5 is drawn Ø4.5 but called out Ø4.75"));
    d.findings.push(finding(
        "tolerance-unknown",
        "note",
        &loose,
        "no tolerance is stated; ±0.05 mm assumed (punched)",
    ));
    d.holes.push(loose);
    let mut plain = hole("H6", 60.0, 30.0);
    (plain.screw, plain.engagement, plain.band, plain.verdict) = (None, None, None, None);
    plain.paired_by = "drawn".into();
    plain.confidence = 1.0;
    d.holes.push(plain);
    let mut count =
        of_drawing("count-differs", "warn", "'4X Ø3.3 +0.05/-0 THRU' counts 4 holes, but 5 were found");
    (count.handle, count.line, count.layer) = (Some("41".into()), Some(1402), Some("DIM".into()));
    d.findings.push(count);
    let mut accepted = of_drawing("unit-doubtful", "warn", "callouts say inch, the header mm");
    accepted.waived = Some("checked by hand".into());
    d.findings.push(accepted);
    d
}

fn clean() -> DrawingResult {
    let mut d = drawing("parts/clean.dxf");
    d.holes = vec![hole("H1", 10.0, 10.0), hole("H2", 20.0, 10.0)];
    d.holes[1].confidence = 0.9;
    d
}

/// Inch: 1/4-20 at .224 ±.005 straddles a band of 75 to 85 %: 100 * .026 / .03247595 = 80.06 %, 95.46 and 64.66 %
/// at the limits.
fn cover() -> DrawingResult {
    let mut d = drawing("parts/cover plate.dxf");
    d.unit = "in".into();
    d.thickness_mm = Some(4.7625);
    let mut h = hole("H1", 0.5, 12.25);
    h.screw =
        Some(ScrewResult { thread: "1/4-20".into(), major_mm: 6.35, pitch_mm: 1.27, form: "rolling".into() });
    h.thickness_mm = Some(4.7625);
    h.material = Some("aluminium-die-cast".into());
    h.process = Some("drilled".into());
    h.callout = Some(CalloutResult { text: ".224 ±.005 THRU".into(), handle: None });
    h.diameter = size(5.6896, 5.5626, 5.8166);
    h.engagement = Some(engagement(80.06, 95.46, 64.66));
    h.band = Some(band(75.0, 85.0, 5.648835, 5.731324));
    h.verdict = Some("straddles".into());
    let straddles = finding("tolerance-leaves-band", "warn", &h, "the limits .2190 and .2290 leave the band");
    d.findings.push(remedied(straddles, "state ±.0015 or closer"));
    let mut dark = hole("H2", 2.0, 3.0);
    dark.space = "Sheet 2".into();
    dark.thickness_mm = None;
    dark.band = None;
    dark.verdict = Some("undetermined".into());
    let missing = "the thickness is not known; in band from 1.0 to 2.0 mm, too tight above";
    d.findings.push(finding("engagement-undetermined", "warn", &dark, missing));
    d.findings.push(of_drawing("thickness-unknown", "warn", "neither list nor drawing states the thickness"));
    d.holes = vec![h, dark];
    d
}

fn hostile() -> DrawingResult {
    let mut d = drawing(&format!("parts/{HOSTILE}.dxf"));
    let mut h = hole("H1", 1.0, 2.0);
    h.layer = HOSTILE.into();
    h.tag = Some(HOSTILE.into());
    h.space = HOSTILE.into();
    h.material = Some(HOSTILE.into());
    h.process = Some(HOSTILE.into());
    h.callout = Some(CalloutResult { text: HOSTILE.into(), handle: None });
    h.diameter = size(3.3, 3.3, 3.35);
    h.engagement = Some(engagement(153.96, 153.96, 142.96));
    h.verdict = Some("tight".into());
    if let Some(band) = h.band.as_mut() {
        band.source = HOSTILE.into();
    }
    d.findings.push(remedied(finding("engagement-above-band", "fail", &h, HOSTILE), HOSTILE));
    for (level, rule) in [("note", "hole-without-callout"), ("note", "tolerance-unknown")] {
        let mut f = finding(rule, level, &h, HOSTILE);
        f.layer = Some(HOSTILE.into());
        d.findings.push(f);
    }
    d.findings.push(of_drawing(
        "callout-without-hole",
        "note",
        &format!("'{HOSTILE}' is answered by no circle"),
    ));
    d.holes.push(h);
    d.problems.push(ProblemResult { line: 3, offset: 40, message: HOSTILE.into(), loss: false });
    d
}

fn partly() -> DrawingResult {
    let mut d = drawing("parts/partly.dxf");
    d.state = "partly-read".into();
    d.problems.push(ProblemResult {
        line: 812,
        offset: 9120,
        message: "CIRCLE: group 40 is 'x', a number was expected".into(),
        loss: true,
    });
    let mut f = of_drawing("drawing-partly-read", "fail", "CIRCLE: group 40 is 'x', a number was expected");
    f.line = Some(812);
    d.findings.push(f);
    let mut note = of_drawing("callout-without-hole", "note", "'Ø3.6' is answered by no circle");
    (note.x, note.y, note.layer) = (Some(4.0), Some(5.0), Some("TEXT".into()));
    d.findings.push(note);
    d
}

fn unreadable() -> DrawingResult {
    let mut d = drawing("parts/unreadable.dxf");
    d.state = "unreadable".into();
    d.thickness_mm = None;
    let message = "this is a DWG file (AC1032); save it as DXF";
    d.problems.push(ProblemResult { line: 1, offset: 0, message: message.into(), loss: true });
    let mut f = of_drawing("drawing-unreadable", "fail", message);
    f.line = Some(1);
    d.findings.push(f);
    d
}
