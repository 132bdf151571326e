//! Written forms of hole callouts and what each must read as: `forms.csv`. The readings were set down by hand from
//! what each form means to a drafter; `basis` names the standard that has the form, or says common practice.

use std::fmt::Write as _;

use super::{Callout, Entry, Part, Quantity, Size, WrittenTolerance, read};
use crate::units::Unit;

#[derive(serde::Deserialize)]
struct Form {
    text: String,
    reads: String,
    hole: String,
    basis: String,
}

fn forms() -> Vec<Form> {
    let mut reader = csv::Reader::from_reader(include_str!("forms.csv").as_bytes());
    reader.deserialize().map(|row| row.expect("a row of four columns")).collect()
}

fn quantity(q: Quantity) -> String {
    let unit = match q.unit {
        Some(Unit::Inch) => "in",
        Some(Unit::Mm) => "mm",
        None => "",
    };
    format!("{}{unit}", q.value)
}

fn size(callout: &Callout) -> Option<String> {
    let sign = if callout.marked_diameter { "Ø" } else { "" };
    Some(match callout.size.as_ref()? {
        Size::Diameter(q) => format!("{sign}{}", quantity(*q)),
        Size::Drill { name, diameter } => format!("{name}:{}", quantity(*diameter)),
        Size::Radius(q) => format!("R{}", quantity(*q)),
        Size::Limits(low, high) => format!("{sign}{}..{}", quantity(*low), quantity(*high)),
    })
}

fn entry(entry: Entry) -> String {
    let diameter = entry.diameter.map(|d| format!("Ø{}", quantity(d))).unwrap_or_default();
    let depth = entry.depth.map(|d| format!("x{}", quantity(d))).unwrap_or_default();
    let angle = entry.angle.map(|a| format!("@{}", a.degrees())).unwrap_or_default();
    diameter + &depth + &angle
}

fn deviation(q: Quantity) -> String {
    if q.value > 0.0 { format!("+{}", quantity(q)) } else { quantity(q) }
}

/// A reading on one line, in a fixed order.
fn describe(c: &Callout) -> String {
    let mut out = String::new();
    let mut put = |key: &str, value: Option<String>| {
        if let Some(value) = value {
            let _ = write!(out, "{key}={value} ");
        }
    };
    put("count", c.count.map(|n| n.to_string()));
    put("all", c.general.then(String::new));
    put("size", size(c));
    put("second", c.second.map(quantity));
    match &c.tolerance {
        Some(WrittenTolerance::Fit(fit)) => put("fit", Some(fit.clone())),
        Some(WrittenTolerance::Deviations { upper, lower }) => {
            put("tol", Some(format!("{}/{}", deviation(*upper), deviation(*lower))));
        }
        None => {}
    }
    put("depth", c.depth.map(quantity));
    put("through", c.through.then(String::new));
    if let Some(named) = &c.thread {
        put("thread", Some(named.thread.name.clone()));
        put("class", named.class.clone());
        put("lh", named.left_hand.then(String::new));
        put("tdepth", named.depth.map(quantity));
    }
    put("tapped", c.tapped.then(String::new));
    put("cbore", c.counterbore.map(entry));
    put("csk", c.countersink.map(entry));
    put("process", c.process.map(|p| p.name().to_owned()));
    put("screw", c.screw.map(|s| s.name().to_owned()));
    put("tag", c.tag.clone());
    put("thk", c.thickness.map(quantity));
    let unread: Vec<&str> = c.unread().collect();
    put("unread", (!unread.is_empty()).then(|| unread.join(" ").replace(' ', "_")));
    out.trim_end().replace("= ", " ").trim_end_matches('=').to_owned()
}

#[test]
fn every_form_reads_as_set_down() {
    let forms = forms();
    assert!(forms.len() >= 300, "{} forms", forms.len());
    let mut faults = String::new();
    for form in &forms {
        let text = form.text.replace("\\n", "\n");
        let callout = read(&text);
        let hole = if callout.states_hole() { "yes" } else { "no" };
        let reads = describe(&callout);
        if reads != form.reads || hole != form.hole {
            let _ = writeln!(
                faults,
                "{}\n  wanted {} [{}]\n  got    {reads} [{hole}]",
                form.text, form.reads, form.hole
            );
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
}

/// Notes, part lists and title blocks: ordinary texts of drawings (common practice) that state no hole.
#[test]
fn other_texts_of_a_drawing_state_no_hole() {
    let mut reader = csv::Reader::from_reader(include_str!("not_holes.csv").as_bytes());
    let texts: Vec<(String,)> = reader.deserialize().map(|row| row.expect("a row of one column")).collect();
    assert!(texts.len() >= 150, "{} texts", texts.len());
    let taken: Vec<&str> = texts.iter().map(|t| t.0.as_str()).filter(|t| read(t).states_hole()).collect();
    assert!(taken.is_empty(), "{taken:?}");
}

#[test]
fn every_form_says_what_it_rests_on() {
    for form in forms() {
        let known = ["ASME ", "ISO ", "DIN ", "JIS ", "common practice"];
        assert!(known.iter().any(|k| form.basis.starts_with(k)), "{}: {}", form.text, form.basis);
    }
}

#[test]
fn no_form_stands_twice() {
    let mut seen = std::collections::HashSet::new();
    for form in forms() {
        assert!(seen.insert(form.text.clone()), "{}", form.text);
    }
}

#[test]
fn unread_pieces_are_marked_so() {
    let read = read("4X Ø5 FLUMMOX");
    let unread: Vec<_> =
        read.spans.iter().filter(|s| s.part == Part::Unread).map(|s| &read.text[s.range.clone()]).collect();
    assert_eq!(unread, ["FLUMMOX"]);
}
