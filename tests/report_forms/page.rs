//! The page for people: pinned, whole, agreeing with the report on every sum, and with nothing of a drawing live in it.

use std::collections::HashSet;

use boreband::check::{CalloutPlace, Mark, Pen, Picture, PictureSheet, PictureView, Report, SeenHole, Shape};
use boreband::geometry::{Bounds, Point};
use boreband::report::clean;
use boreband::report::sheaf::Form;
use boreband::shared::SharedText;
use quick_xml::events::Event;

use super::{bound, golden, sample};

/// Markup, quotes that leave an attribute, and characters that act.
const HOSTILE: &str =
    "\"><script>alert(1)</script><!--<img src=x onerror='alert(2)'>' onload=\"x\u{202e}\n\u{7}\u{2028}";

/// An element with its attributes.
type Element = (String, Vec<(String, String)>);

/// A sheet with an outline, a hole, an arc, a leader and its callout.
fn picture() -> Picture {
    let text = Bounds { min: Point::new(170.0, 60.0), max: Point::new(200.0, 64.0) };
    let corners = [(100.0, 10.0), (180.0, 10.0), (180.0, 55.0), (100.0, 55.0), (100.0, 10.0)];
    let shapes = vec![
        Shape::Path(Pen::Edge, corners.map(|(x, y)| Point::new(x, y)).to_vec()),
        Shape::Circle(Pen::Edge, Point::new(120.0, 45.0), 1.65),
        Shape::Line(Pen::Centre, [Point::new(115.0, 45.0), Point::new(125.0, 45.0)]),
        Shape::Arc { center: Point::new(120.0, 45.0), radius: 2.0, start_deg: 0.0, sweep_deg: 270.0 },
        Shape::Path(Pen::Note, vec![Point::new(121.0, 46.0), Point::new(165.0, 62.0)]),
        Shape::Text {
            content: "4X Ø3.3 +0.05/-0\nTHRU".into(),
            bounds: text,
            height: 1.7,
            rotation_deg: 0.0,
        },
        Shape::Text { content: "DETAIL <A>".into(), bounds: text, height: 2.0, rotation_deg: 90.0 },
    ];
    let whole = Bounds { min: Point::new(-15.0, 5.0), max: Point::new(200.0, 64.0) };
    let model = PictureSheet {
        name: "model".into(),
        parts: vec![5, 2],
        shapes,
        views: Vec::new(),
        body: whole,
        beyond: 2,
        left_out: 3,
    };
    Picture {
        sheets: vec![model, layout()],
        callouts: vec![CalloutPlace { hole: "H1".into(), sheet: 0, bounds: text }],
        marks: vec![Mark { finding: 11, sheet: 0, bounds: text }],
        seen: vec![SeenHole { hole: "H1".into(), sheet: 1, at: Point::new(40.0, 60.0), scale: 2.0 }],
    }
}

/// A sheet with a frame and two windows on model space: one turned, with a boundary of its own and without the texts.
fn layout() -> PictureSheet {
    let straight = PictureView {
        center: Point::new(50.0, 50.0),
        size: (80.0, 60.0),
        model_center: Point::new(125.0, 40.0),
        scale: 2.0,
        twist_deg: 0.0,
        clip: Vec::new(),
        parts: vec![0, 1],
    };
    let corners = [(100.0, 20.0), (140.0, 20.0), (120.0, 60.0)];
    let turned = PictureView {
        center: Point::new(120.0, 40.0),
        size: (40.0, 40.0),
        twist_deg: 30.0,
        clip: corners.map(|(x, y)| Point::new(x, y)).to_vec(),
        parts: vec![0],
        ..straight.clone()
    };
    PictureSheet {
        name: "A3".into(),
        shapes: vec![Shape::Line(Pen::Edge, [Point::new(0.0, 0.0), Point::new(200.0, 100.0)])],
        parts: vec![1],
        views: vec![straight, turned],
        body: Bounds { min: Point::new(0.0, 0.0), max: Point::new(200.0, 100.0) },
        beyond: 0,
        left_out: 0,
    }
}

/// The sample report with a picture of its first drawing.
fn report() -> Report {
    let mut report = sample::report();
    report.drawings[0].picture = Some(Box::new(picture()));
    report
}

/// The page without its own style and script, which are no XML, and without what is only there for browsers.
fn as_xml(page: &str) -> String {
    let without = |page: &str, start: &str, end: &str| {
        let (before, rest) = page.split_once(start).unwrap();
        format!("{before}{}", rest.split_once(end).unwrap().1)
    };
    let page = page.strip_prefix("<!DOCTYPE html>\n").unwrap();
    without(&without(page, "<style>", "</style>"), "<script>", "</script>")
}

/// Every element; fails if the page is not well-formed.
fn elements(page: &str) -> Vec<Element> {
    let xml = as_xml(page);
    let mut reader = quick_xml::Reader::from_str(&xml);
    reader.config_mut().check_end_names = true;
    let mut found = Vec::new();
    loop {
        match reader.read_event().unwrap() {
            Event::Start(e) | Event::Empty(e) => {
                let attributes = e.attributes().map(|a| {
                    let a = a.unwrap();
                    let value = a.normalized_value(quick_xml::XmlVersion::Implicit1_0).unwrap();
                    (a.key.as_ref().to_owned(), value.into_owned())
                });
                found.push((e.name().as_ref().to_owned(), attributes.collect()));
            }
            Event::Eof => return found,
            _ => {}
        }
    }
}

fn values<'a>(elements: &'a [Element], name: &'a str) -> impl Iterator<Item = &'a str> {
    elements.iter().flat_map(|e| &e.1).filter(move |(key, _)| key == name).map(|(_, value)| value.as_str())
}

/// More drawings than are put into the page itself.
fn library() -> Report {
    let one = report();
    let mut drawings = Vec::new();
    for nth in 0..12 {
        drawings.extend(one.drawings.iter().map(|d| {
            let mut d = d.clone();
            d.path = format!("{nth}/{}", d.path);
            d
        }));
    }
    Report::of(drawings)
}

#[test]
fn page_of_one_drawing() {
    let page = bound(&Report::of(vec![report().drawings.swap_remove(0)]), Form::Html);
    let (before, rules) = page.split_once("<footer>").unwrap();
    assert!(rules.contains("rule-engagement-above-band"), "the rules follow");
    let (head, body) = before.split_once("</head>").unwrap();
    assert!(head.contains("default-src 'none'"));
    golden("report.html", body);
}

/// A layout shows model space through windows, its holes are ringed there, and a mark leads to the card that says why.
#[test]
fn layouts_are_windows_on_model_space_and_marks_lead_to_cards() {
    let report = report();
    let page = bound(&Report::of(vec![report.drawings[0].clone()]), Form::Html);
    let elements = elements(&page);
    let of = |e: &Element, name: &str| {
        e.1.iter().find(|(key, _)| key == name).map(|(_, value)| value.clone()).unwrap_or_default()
    };
    let key = of(elements.iter().find(|e| of(e, "class") == "drawing").unwrap(), "id");
    let windows: Vec<&Element> = elements.iter().filter(|e| of(e, "class") == "window").collect();
    assert_eq!(windows.len(), 2);
    // The model's grid: 20000 steps along 215 units and a margin of 4 % on both sides; the window is 40 × 30 units about
    // (125, 40): left 105 + 23.6 = 128.6, top 72.6 - 55 = 17.6 units.
    let step = 20_000.0 / 232.2;
    let view: Vec<f64> = of(windows[0], "viewBox").split(' ').map(|v| v.parse().unwrap()).collect();
    for (got, units) in view.iter().zip([128.6, 17.6, 40.0, 30.0]) {
        assert!((got - units * step).abs() <= 1.0, "{view:?}");
    }
    let uses = |name: &str| {
        elements.iter().filter(|e| e.0 == "use" && of(e, "href") == format!("#{key}-{name}")).count()
    };
    // All of it in the first window; without the second part in the other.
    assert_eq!((uses("s0-k0"), uses("s0-k1")), (1, 0));
    assert!(uses("s0") >= 1 && page.contains("rotate(-30 ") && page.contains("<clipPath"));
    let ring = elements.iter().find(|e| of(e, "id") == format!("{key}-H1-s1")).expect("a ring on the layout");
    assert_eq!(
        of(ring, "href"),
        of(elements.iter().find(|e| of(e, "id") == format!("{key}-H1")).unwrap(), "href")
    );
    let mark = elements.iter().find(|e| of(e, "id") == format!("{key}-p1")).expect("a mark");
    let card = of(mark, "href");
    assert!(card.starts_with(&format!("#{key}-f")), "{card}");
    let said = page.split_once(&format!("id=\"{}\"", &card[1..])).unwrap().1;
    let rule = &report.drawings[0].findings[11].rule;
    assert!(
        said.split_once("</article>").unwrap().0.contains(&format!("#rule-{rule}")),
        "the card of {rule}"
    );
    assert!(page.contains("2 shapes lie far outside of this picture"));
}

/// Every way leads somewhere, and no name stands twice.
#[test]
fn links_lead_to_what_is_there() {
    for (report, apart) in [(report(), false), (library(), true)] {
        let page = bound(&report, Form::Html);
        assert_eq!(page.contains("<script type=\"text/plain\""), apart);
        let elements = elements(&page);
        let ids: Vec<&str> = values(&elements, "id").collect();
        let known: HashSet<&str> = ids.iter().copied().collect();
        assert_eq!(known.len(), ids.len(), "a name stands twice");
        let links: Vec<&str> = values(&elements, "href").collect();
        assert!(links.len() > 40);
        for link in links {
            let name = link.strip_prefix('#').unwrap_or_else(|| panic!("{link} leaves the page"));
            assert!(known.contains(name), "{link} leads nowhere");
        }
    }
}

#[test]
fn sums_of_the_page_agree() {
    for report in [report(), library()] {
        let t = report.totals;
        let page = bound(&report, Form::Html);
        let elements = elements(&page);
        // Unread, fail, warn and note of each row.
        let mut sums = [0; 4];
        for order in values(&elements, "data-order") {
            for (sum, count) in sums.iter_mut().zip(order.split(' ')) {
                *sum += count.parse::<u64>().unwrap();
            }
        }
        assert_eq!(sums, [2 * t.unreadable + t.partly_read, t.fail, t.warn, t.note]);
        assert_eq!(values(&elements, "data-order").count() as u64, t.drawings);
        let sheets = values(&elements, "class").filter(|class| *class == "drawing").count() as u64;
        assert_eq!(sheets, t.drawings);
        for said in [
            format!("{} checked, {} unreadable, {} partly read", t.drawings, t.unreadable, t.partly_read),
            format!("{} found, {} for self-forming screws", t.holes, t.screw_holes),
            format!(
                "{} in band, {} straddle, {} tight (too small), {} loose (too large), {} undetermined",
                t.in_band, t.straddles, t.tight, t.loose, t.undetermined
            ),
            format!("{} fail, {} warn, {} note, {} waived", t.fail, t.warn, t.note, t.waived),
        ] {
            assert!(page.contains(&said), "{said}");
        }
    }
}

fn hostile(report: Report) -> Report {
    with_word(report, HOSTILE)
}

/// A word in every place where a report shows one of a drawing, a list or a file name.
pub(super) fn with_word(mut report: Report, word: &str) -> Report {
    for d in &mut report.drawings {
        let path = word;
        let word = || word.to_owned();
        let shared = || SharedText::from(word());
        d.path.push_str(path);
        (d.part, d.material) = (Some(word()), Some(word()));
        for hole in &mut d.holes {
            (hole.tag, hole.layer, hole.space) = (Some(word()), shared(), shared());
            (hole.process, hole.paired_by) = (Some(shared()), shared());
            hole.callout.iter_mut().for_each(|c| c.text = shared());
            hole.advice.iter_mut().for_each(|a| a.callout = shared());
            hole.band.iter_mut().for_each(|b| (b.source, b.status) = (shared(), shared()));
            hole.screw.iter_mut().for_each(|s| (s.thread, s.form) = (shared(), shared()));
        }
        for f in &mut d.findings {
            (f.message, f.remedy, f.layer) = (shared(), Some(shared()), Some(shared()));
            f.waived = f.waived.as_ref().map(|_| shared());
        }
        d.problems.iter_mut().for_each(|p| p.message = word());
        for sheet in d.picture.iter_mut().flat_map(|p| &mut p.sheets) {
            sheet.name = word();
            for shape in &mut sheet.shapes {
                if let Shape::Text { content, .. } = shape {
                    *content = word();
                }
            }
        }
    }
    report
}

#[test]
fn nothing_of_a_drawing_is_live_in_the_page() {
    for (report, kept) in [(hostile(report()), 0), (hostile(library()), 72)] {
        let page = bound(&report, Form::Html);
        let live: Vec<char> = page.chars().filter(|c| clean::is_live(*c) && *c != '\n').collect();
        assert!(live.is_empty(), "{live:?}");
        // The page's own script and the sheets that are kept; nothing that could end or begin one.
        assert_eq!(page.matches("<script").count(), 1 + kept);
        assert_eq!(page.matches("</script").count(), 1 + kept);
        assert!(!page.contains("<!--"));
        let elements = elements(&page);
        assert!(elements.iter().all(|e| e.0 != "img"));
        for (key, _) in elements.iter().flat_map(|e| &e.1) {
            assert!(!key.starts_with("on") && key != "src" && key != "style", "{key}");
        }
        assert!(page.contains("&lt;script&gt;alert(1)"), "it is shown");
    }
}

#[test]
fn a_page_without_drawings_is_whole() {
    let page = bound(&Report::of(Vec::new()), Form::Html);
    assert!(page.contains("no screw hole was checked") && page.ends_with("</html>\n"));
    assert!(elements(&page).len() > 20);
}
