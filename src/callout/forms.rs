//! Written forms of hole callouts and what each must read as (`forms.csv`), and texts that state no hole
//! (`not_holes.csv`). The readings were set down by hand from what each form means to a drafter; `source` names the
//! standard that has the form, or says common practice. An empty cell says that nothing may be read there.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use proptest::prelude::*;

use super::{Callout, Entry, Part, Quantity, Size, WrittenTolerance, read};
use crate::units::Unit;

/// A row by its column names.
type Row = BTreeMap<String, String>;

fn rows(table: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    reader.deserialize().map(|row| row.expect("a whole row")).collect()
}

fn forms() -> Vec<Row> {
    rows(include_str!("forms.csv"))
}

fn not_holes() -> Vec<Row> {
    rows(include_str!("not_holes.csv"))
}

fn text_of(row: &Row) -> String {
    row["text"].replace("\\n", "\n")
}

fn unit(q: Quantity) -> &'static str {
    match q.unit {
        Some(Unit::Inch) => "in",
        Some(Unit::Mm) => "mm",
        None => "",
    }
}

/// The size as the table writes it, and its unit.
fn size(callout: &Callout) -> Option<(String, &'static str)> {
    let sign = if callout.marked_diameter { "Ø" } else { "" };
    Some(match callout.size.as_ref()? {
        Size::Diameter(q) => (format!("{sign}{}", q.value), unit(*q)),
        Size::Drill { name, diameter } => (format!("{name} {}", diameter.value), unit(*diameter)),
        Size::Radius(q) => (format!("R{}", q.value), unit(*q)),
        Size::Limits(low, high) => (format!("{sign}{}..{}", low.value, high.value), unit(*low)),
    })
}

/// `Ø8x3`; `yes` where an entry is named without a size.
fn entry(entry: Entry) -> String {
    let diameter = entry.diameter.map(|d| format!("Ø{}", d.value)).unwrap_or_default();
    let depth = entry.depth.map(|d| format!("x{}", d.value)).unwrap_or_default();
    let size = diameter + &depth;
    if size.is_empty() { "yes".to_owned() } else { size }
}

/// `rolling`, `rolling x10`, `x16` where only its length is named.
fn screw(c: &Callout) -> Option<String> {
    let form = c.screw.map(|s| s.name().to_owned());
    let length = c.screw_length.map(|l| format!("x{}", l.value));
    let parts: Vec<String> = form.into_iter().chain(length).collect();
    (!parts.is_empty()).then(|| parts.join(" "))
}

fn deviation(q: Quantity) -> String {
    if q.value > 0.0 { format!("+{}", q.value) } else { q.value.to_string() }
}

/// A reading in the table's columns; empty cells are left out.
fn cells(c: &Callout) -> Row {
    let mut out = Row::new();
    let mut put = |column: &str, value: Option<String>| {
        if let Some(value) = value.filter(|v| !v.is_empty()) {
            out.insert(column.to_owned(), value);
        }
    };
    let yes = |says: bool| says.then(|| "yes".to_owned());
    let value = |q: Quantity| q.value.to_string();
    put("count", c.count.map(|n| n.to_string()));
    put("general", yes(c.general));
    put("size", size(c).map(|s| s.0));
    put("unit", size(c).map(|s| s.1.to_owned()));
    put("second", c.second.map(value));
    match &c.tolerance {
        Some(WrittenTolerance::Fit(fit)) => put("fit", Some(fit.clone())),
        Some(WrittenTolerance::Deviations { upper, lower }) => {
            put("upper", Some(deviation(*upper)));
            put("lower", Some(deviation(*lower)));
        }
        Some(WrittenTolerance::Largest) => put("limit", Some("max".to_owned())),
        Some(WrittenTolerance::Smallest) => put("limit", Some("min".to_owned())),
        None => {}
    }
    put("other_thread", c.other_thread.clone());
    put("depth", c.depth.map(value));
    put("through", yes(c.through));
    if let Some(named) = &c.thread {
        put("thread", Some(named.thread.name.clone()));
        put("class", named.class.clone());
        put("hand", named.left_hand.then(|| "left".to_owned()));
        put("thread_depth", named.depth.map(value));
    }
    put("tapped", yes(c.tapped));
    put("counterbore", c.counterbore.map(entry));
    put("countersink", c.countersink.map(entry));
    let angle = c.countersink.or(c.counterbore).and_then(|e| e.angle);
    put("angle", angle.map(|a| a.degrees().to_string()));
    put("process", c.process.map(|p| p.name().to_owned()));
    put("screw", screw(c));
    put("tag", c.tag.clone());
    put("thickness", c.thickness.map(value));
    let coating = c.coating.unwrap_or_default();
    put("coating", coating.thickness.map(|t| format!("{}mm", t.value)));
    put("stage", coating.stage.map(|s| format!("{s:?}").to_lowercase()));
    put("hole", yes(c.states_hole()));
    put("unread", Some(c.unread().collect::<Vec<_>>().join(" ").replace(' ', "_")));
    out
}

#[test]
fn every_form_reads_as_set_down() {
    let forms = forms();
    assert!(forms.len() >= 500, "{} forms", forms.len());
    let mut faults = String::new();
    for form in &forms {
        let got = cells(&read(&text_of(form)));
        let mut wanted = form.clone();
        wanted.retain(|column, value| !value.is_empty() && column != "text" && column != "source");
        for column in wanted.keys().chain(got.keys()).collect::<std::collections::BTreeSet<_>>() {
            let (want, is) = (wanted.get(column), got.get(column));
            if want != is {
                let _ = writeln!(faults, "{}: {column} wanted {want:?}, read {is:?}", form["text"]);
            }
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
}

/// Notes, parts lists, title blocks and part numbers: ordinary texts of drawings (common practice).
#[test]
fn other_texts_of_a_drawing_state_no_hole() {
    let texts = not_holes();
    assert!(texts.len() >= 300, "{} texts", texts.len());
    let mut faults = String::new();
    for row in &texts {
        let read = read(&text_of(row));
        if read.states_hole() {
            let _ = writeln!(faults, "{}: {:?} {:?}", row["text"], read.size, read.thread);
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
}

#[test]
fn every_form_says_what_it_rests_on() {
    for form in forms() {
        let known = ["ASME ", "ISO ", "DIN ", "BS ", "JIS ", "common practice"];
        assert!(known.iter().any(|k| form["source"].starts_with(k)), "{}: {}", form["text"], form["source"]);
    }
}

#[test]
fn no_form_stands_twice() {
    for table in [forms(), not_holes()] {
        let mut seen = std::collections::HashSet::new();
        for form in table {
            assert!(seen.insert(form["text"].clone()), "{}", form["text"]);
        }
    }
}

#[test]
fn unread_pieces_are_marked_so() {
    let read = read("4X Ø5 FLUMMOX");
    let unread: Vec<_> =
        read.spans.iter().filter(|s| s.part == Part::Unread).map(|s| &read.text[s.range.clone()]).collect();
    assert_eq!(unread, ["FLUMMOX"]);
}

/// Whether the spans follow each other without a gap from the first byte to the last.
fn covers(callout: &Callout, text: &str) -> Result<(), TestCaseError> {
    prop_assert_eq!(&callout.text, text);
    let mut at = 0;
    for span in &callout.spans {
        prop_assert_eq!(span.range.start, at, "{:?}", text);
        prop_assert!(span.range.end > at, "{:?}", text);
        prop_assert!(text.is_char_boundary(span.range.end), "{:?}", text);
        at = span.range.end;
    }
    prop_assert_eq!(at, text.len(), "{:?}", text);
    Ok(())
}

/// What the grammar knows, what it does not, and what lies between.
fn pieces() -> impl Strategy<Value = String> {
    let fixed = prop::sample::select(vec![
        "4X",
        "(4)",
        "4-",
        "Ø",
        "%%c",
        "%%129",
        "%%p",
        "\\U+2205",
        "\\P",
        "3.65",
        "3,65",
        ".224",
        "7/32",
        "1-1/2",
        "½",
        "#2",
        "#8-32",
        "M4",
        "x0.7",
        "-6H",
        "UNC-2B",
        "H11",
        "±",
        "+0.05",
        "/-0",
        " 0",
        "THRU",
        "↧",
        "12",
        "DEEP",
        "⌴",
        "⌵",
        "82°",
        "CSK",
        "TAP",
        "DRILL",
        "THREAD ROLLING SCREW",
        "[5.69]",
        "[",
        "]",
        "(",
        ")",
        "dia1=",
        "rad2=",
        "d1=",
        "DIA",
        "R",
        "D",
        "A:",
        "ALL HOLES",
        "TYP",
        "B.C.",
        "t=",
        "深",
        "4ヶ所",
        "通孔",
        "ß",
        "é",
        "\u{301}",
        "\u{200b}",
        "\n",
        "\t",
        " ",
        "\"",
        "'",
        "=",
        "*",
        "\\",
        "%%",
        "\\U+",
        "99999999999999999999",
        "0",
        "ﬀ",
        "İ",
        "Ｍ４",
        "🙂",
    ]);
    prop_oneof![4 => fixed.prop_map(str::to_owned), 1 => any::<String>()]
}

proptest! {
    #[test]
    fn any_text_is_read_and_covered(text in any::<String>()) {
        covers(&read(&text), &text)?;
    }

    #[test]
    fn any_row_of_pieces_is_read_and_covered(
        pieces in prop::collection::vec(pieces(), 0..12),
        joined in prop::sample::select(vec!["", " "]),
    ) {
        let text = pieces.join(joined);
        let callout = read(&text);
        covers(&callout, &text)?;
        if let Some(Size::Diameter(q) | Size::Radius(q) | Size::Drill { diameter: q, .. }) = callout.size {
            prop_assert!(q.value.is_finite() && q.value > 0.0, "{:?}", text);
        }
    }
}

#[test]
fn every_form_is_covered() {
    for row in forms().into_iter().chain(not_holes()) {
        let text = text_of(&row);
        assert!(covers(&read(&text), &text).is_ok(), "{text}");
    }
}
