//! The table and the workbook.

use std::collections::HashMap;
use std::io::Cursor;

use boreband::ledger::Entry;
use boreband::report::clean;
use calamine::{Data, Reader, Xlsx};

use super::sample::{Library, entries, hostile};
use super::{CSV, HOSTILE, XLSX, bytes, golden, text};

type Row = HashMap<String, String>;

fn csv_rows(entries: &[Entry]) -> Vec<Row> {
    csv::Reader::from_reader(text(entries, CSV).as_bytes()).deserialize().map(Result::unwrap).collect()
}

fn sheet(entries: &[Entry], name: &str) -> Vec<Row> {
    let mut book = Xlsx::new(Cursor::new(bytes(entries, XLSX))).unwrap();
    let range = book.worksheet_range(name).unwrap();
    let mut rows = range.rows();
    let names: Vec<String> = rows.next().unwrap().iter().map(ToString::to_string).collect();
    rows.map(|row| names.iter().cloned().zip(row.iter().map(ToString::to_string)).collect()).collect()
}

fn sum(rows: &[Row], column: &str) -> u64 {
    rows.iter().map(|row| row[column].parse::<u64>().unwrap_or(0)).sum()
}

#[test]
fn csv_of_a_library() {
    golden("library.csv", &text(&entries(), CSV));
}

/// By hand: 5 failures at 0.9; a failure of the whole drawing at 0.9; 2 warnings at 0.9 and a quarter; 1 such.
#[test]
fn drawings_stand_by_expected_harm_and_duplicates_last() {
    let rows = csv_rows(&entries());
    let order: Vec<(&str, &str)> =
        rows.iter().map(|row| (row["drawing"].as_str(), row["harm"].as_str())).collect();
    assert_eq!(
        order,
        [
            ("lids/lid.dxf", "4.5"),
            ("scan.dxf", "0.9"),
            ("rails/rail.dxf", "0.45"),
            ("rails/old/unknown.dxf", "0.23"),
            ("rails/plate.dxf", "0"),
            ("torn.dxf", "0"),
            ("lids/zz copy of lid.dxf", ""),
        ]
    );
    assert_eq!(rows[6]["same_as"], "lids/lid.dxf");
    assert_eq!(rows[0]["remedy"], "call out Ø3.6 +0.03/0");
    assert_eq!(rows[2]["rule"], "tolerance-leaves-band", "what is waived is not the worst");
}

#[test]
fn sums_of_table_and_workbook_are_those_of_the_picture() {
    let all = entries();
    let t = Library::of(&all).picture.totals;
    let columns = [
        ("holes", t.holes),
        ("screw_holes", t.screw_holes),
        ("tight", t.tight),
        ("loose", t.loose),
        ("straddles", t.straddles),
        ("undetermined", t.undetermined),
        ("in_band", t.in_band),
        ("fails", t.fail),
        ("warnings", t.warn),
        ("notes", t.note),
        ("waived", t.waived),
    ];
    assert_eq!((t.drawings, t.screw_holes, t.fail, t.warn, t.waived), (6, 12, 6, 3, 4), "by hand");
    let (csv, drawings) = (csv_rows(&all), sheet(&all, "Drawings"));
    assert_eq!((csv.len() as u64, drawings.len() as u64), (t.drawings + 1, t.drawings));
    let by = sheet(&all, "By feature");
    let of =
        |feature: &str| -> Vec<Row> { by.iter().filter(|row| row["feature"] == feature).cloned().collect() };
    for (column, count) in columns {
        assert_eq!(sum(&csv, column), count, "{column}");
        assert_eq!(sum(&drawings, column), count, "{column}");
        if column != "holes" {
            assert_eq!((sum(&of("folder"), column), sum(&of("year"), column)), (count, count), "{column}");
        }
    }
    for feature in ["thread", "material", "process", "thickness over diameter"] {
        assert_eq!(sum(&of(feature), "screw_holes"), t.screw_holes, "{feature}");
    }
    assert_eq!((sum(&of("rule"), "fails"), sum(&of("rule"), "waived")), (t.fail, t.waived));
    let engagement = sheet(&all, "Engagement");
    assert_eq!(sum(&engagement, "screw_holes"), t.screw_holes);
    assert_eq!(sum(&engagement, "outside_band"), t.tight + t.loose);
    assert_eq!(sum(&engagement, "in_band"), t.in_band);
    assert_eq!(sum(&engagement, "open"), t.straddles + t.undetermined);
    assert_eq!((sheet(&all, "Duplicates").len(), sheet(&all, "Not read whole").len()), (1, 2));
    assert_eq!(sheet(&all, "Causes").len(), 5);
}

#[test]
fn the_summary_counts_what_the_picture_counts() {
    let mut book = Xlsx::new(Cursor::new(bytes(&entries(), XLSX))).unwrap();
    let names = ["Summary", "By feature", "Engagement", "Causes", "Drawings", "Duplicates", "Not read whole"];
    assert_eq!(book.sheet_names(), names);
    let range = book.worksheet_range("Summary").unwrap();
    let count = |name: &str| -> Option<f64> {
        let row = range.rows().find(|row| row[0] == Data::String(name.to_owned()))?;
        row[1].to_string().parse().ok()
    };
    assert_eq!(count("drawings"), Some(6.0));
    assert_eq!(count("drawings with something to change"), Some(4.0));
    assert_eq!(count("duplicates, not counted"), Some(1.0));
    assert_eq!(count("tight (too small)"), Some(4.0));
    assert_eq!(count("findings waived"), Some(4.0));
}

#[test]
fn nothing_of_a_drawing_is_live_in_table_or_workbook() {
    let all = hostile(HOSTILE);
    let csv = text(&all, CSV);
    let live: Vec<char> = csv.chars().filter(|c| clean::is_live(*c) && *c != '\n').collect();
    assert!(live.is_empty(), "{live:?}");
    let rows = csv_rows(&all);
    assert_eq!(rows.len(), 7);
    for row in &rows {
        assert!(row.values().all(|cell| !cell.starts_with(['=', '+', '-', '@', '\t', '\r'])), "{row:?}");
    }
    assert!(rows[0]["drawing"].starts_with("'=HYPERLINK"), "it is shown as text");
    let mut book = Xlsx::new(Cursor::new(bytes(&all, XLSX))).unwrap();
    for name in book.sheet_names() {
        assert!(book.worksheet_formula(&name).unwrap().used_cells().next().is_none(), "{name} has a formula");
        let range = book.worksheet_range(&name).unwrap();
        let texts = range.used_cells().filter_map(|(_, _, cell)| match cell {
            Data::String(text) => Some(text),
            _ => None,
        });
        for text in texts {
            assert!(!text.chars().any(clean::is_live), "{name}: {text:?}");
        }
    }
}

#[test]
fn a_workbook_is_the_same_bytes_for_the_same_library() {
    let first = bytes(&entries(), XLSX);
    std::thread::sleep(std::time::Duration::from_millis(1100));
    assert!(first == bytes(&entries(), XLSX));
}

#[test]
fn a_library_without_drawings_is_a_whole_file() {
    assert_eq!(text(&[], CSV).lines().count(), 1);
    assert!(sheet(&[], "Drawings").is_empty() && sheet(&[], "By feature").is_empty());
}

/// A picture of other ledgers must not be given ranks that are not its own.
#[test]
fn a_picture_of_other_ledgers_is_refused() {
    let all = entries();
    let mut of_all = Library::of(&all);
    let picture = Library::of(&all[1..]).picture;
    let refused = CSV(&picture, &mut of_all.joined, &mut Vec::new()).unwrap_err();
    assert!(refused.to_string().contains("have changed"), "{refused}");
}
