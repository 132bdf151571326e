//! The calculator's answer as text and as JSON. Calculates nothing anew.

mod json;
mod strength;
mod table;
mod text;
mod working;

use std::io::{self, Write};

use super::page::Page;
use crate::verdict::calculator::{Answer, Question};
use crate::verdict::table::{Over, TableRow};

/// Writes the answer as text for people, in the thread's unit.
///
/// # Errors
/// Those of the writer.
pub fn write_text(
    question: &Question,
    answer: &Answer,
    rows: Option<(Over, &[TableRow])>,
    width: usize,
    colour: bool,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut page = Page::new(out, width, colour);
    match rows {
        Some((over, rows)) => table::write(question, answer, over, rows, &mut page),
        None => text::write(question, answer, &mut page),
    }
}

/// Writes the answer as JSON: lengths in mm, engagement in percent on the rolled basis unless named otherwise.
///
/// # Errors
/// Those of the writer.
pub fn write_json(
    question: &Question,
    answer: &Answer,
    rows: Option<(Over, &[TableRow])>,
    out: &mut dyn Write,
) -> io::Result<()> {
    super::json::write(&json::Size::of(question, answer, rows.map(|(_, rows)| rows)), out)
}

/// The JSON Schema of what [`write_json`] writes.
pub(super) fn schema() -> serde_json::Value {
    crate::reading::schema_document::<json::Size>(
        "size",
        "boreband size",
        "What the calculator answers. Every length is in mm and its key ends in _mm; engagement is in percent on the \
         rolled basis unless another is named.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::Practice;
    use crate::trade::{Material, Thread};
    use crate::units::{Angle, Length};
    use crate::verdict::calculator::answer;

    fn mm(value: f64) -> Length {
        Length::from_mm(value).expect("finite")
    }

    fn m4_in_sheet() -> Question {
        Question {
            hole: Some(mm(3.65)),
            thickness: Some(mm(1.5)),
            material: Some(Material::LowCarbonSteel),
            ..Question::of(Thread::parse("M4").expect("M4"))
        }
    }

    fn json(question: &Question) -> serde_json::Value {
        let mut out = Vec::new();
        write_json(question, &answer(question, &Practice::default()), None, &mut out).expect("a buffer");
        serde_json::from_slice(&out).expect("JSON")
    }

    fn text(question: &Question, width: usize) -> String {
        let mut out = Vec::new();
        let answer = answer(question, &Practice::default());
        write_text(question, &answer, None, width, false, &mut out).expect("a buffer");
        String::from_utf8(out).expect("UTF-8")
    }

    #[test]
    fn json_of_m4_in_sheet() {
        // Basic profile by hand: d2 = 4 − 0.649519 × 0.7 = 3.545337; (4 − 3.65)/0.454663 = 76.98 % rolled, half of
        // it cut, 46.19 basic; holes at 98 and 80 %: 3.554 and 3.636.
        let found = json(&m4_in_sheet());
        assert_eq!((&found["thread"], &found["basis"]), (&"M4".into(), &"rolled".into()));
        assert_eq!(found["pitch_diameter_mm"], 3.545337);
        assert_eq!((&found["band"]["min"], &found["band"]["max"]), (&80.0.into(), &98.0.into()));
        assert!((found["band"]["hole_min_mm"].as_f64().expect("number") - 3.554).abs() < 5e-4);
        assert_eq!(found["band"]["status"], "common_practice");
        let hole = &found["hole"];
        assert_eq!(hole["engagement"], serde_json::json!({ "rolled": 76.98, "cut": 38.49, "basic": 46.19 }));
        assert_eq!(hole["verdict"], "loose");
        assert_eq!(found["advice"]["diameter_mm"], 3.6);
        assert_eq!(found["drills"][2]["name"], "3.6 mm");
        assert_eq!(found["guide_holes"][0]["diameter_mm"], 3.6); // DIN 7500-2:1984, published
        assert_eq!(found["guide_holes"][0]["fit"], "H11");
        assert_eq!(found["strip"]["guidance_only"], true);
        assert!(found.get("along").is_none());
    }

    #[test]
    fn json_along_the_depth() {
        let (draft, thickness) = (Angle::from_degrees(1.0).ok(), Some(mm(10.0)));
        let found = json(&Question { draft, thickness, ..m4_in_sheet() });
        // 3.65 − 20 tan 1° = 3.300899, by hand
        assert_eq!(found["along"][2]["diameter_mm"], 3.300899);
        assert_eq!(found["along_in_band"], false);
    }

    #[test]
    fn unknowns_are_shown_as_such() {
        let question = Question { thickness: None, material: None, ..m4_in_sheet() };
        let found = json(&question);
        assert!(found["band"].is_null() && found["advice"].is_null() && found["strip"].is_null());
        assert_eq!(found["missing"], serde_json::json!(["material", "thickness"]));
        assert_eq!(found["bands"].as_array().map(Vec::len), Some(14));
        let page = text(&question, 80);
        assert!(page.contains("not known without the material and the thickness"));
        let row = page.lines().find(|l| l.contains("1.6 to 2.4 mm")).expect("a row of that thickness");
        let cells: Vec<&str> = row.split("  ").map(str::trim).filter(|c| !c.is_empty()).collect();
        let wanted = ["low-carbon-steel", "1.6 to 2.4 mm", "75 to 93 %", "85 %", "Ø3.577 to Ø3.659"];
        assert_eq!(cells, wanted, "{page}"); // 4 − 0.93 × 0.454663 = 3.577; 4 − 0.75 × 0.454663 = 3.659
    }

    #[test]
    fn text_fits_its_width_and_says_what_counts() {
        for width in [60, 80, 120] {
            let page = text(&m4_in_sheet(), width);
            for line in page.lines() {
                assert!(line.chars().count() <= width, "{width}: {line}");
            }
        }
        let page = text(&m4_in_sheet(), 80);
        for said in [
            "80 to 98 % rolled, target 90 %   hole Ø3.554 to Ø3.636",
            "(common practice)",
            "Ø3.650   77.0 % rolled   38.5 % cut   46.2 % basic",
            "loose: the hole is too large",
            "Ø3.6 +0.03/-0.04   88.0 % rolled   drill 3.6 mm",
            "Strength, guidance only",
            "test your own joint",
        ] {
            assert!(page.contains(said), "{said} is missing in\n{page}");
        }
    }
}
