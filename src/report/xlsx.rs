//! A report as a workbook (Office Open XML): a summary, the drawings, the holes and the findings, each sheet with a
//! frozen header and filters. Nothing in it is a formula: words of a drawing are written as words.

use std::io::{self, Write};

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, FormatAlign, Workbook, Worksheet, XlsxError};

use super::table::{Cell, Column, DRAWING, FINDING, HOLE, Row, SHEET, findings, holes, sheet};
use super::text::CAUTION;
use crate::check::{DrawingResult, Tool, Totals};

/// Rows of a sheet with its header; common spreadsheets take no more, so that a further sheet goes on.
pub(super) const MOST_ROWS: u32 = 1 << 20;

/// Letters of a cell; common spreadsheets take no more.
const MOST_LETTERS: usize = 32_767;

/// What a table of the workbook is made of.
struct Table {
    name: &'static str,
    columns: fn() -> Vec<&'static Column>,
    rows: for<'a> fn(&'a DrawingResult) -> Vec<Row<'a>>,
}

static TABLES: [Table; 3] = [
    Table { name: "Drawings", columns: || DRAWING.iter().chain(SHEET).collect(), rows: sheet },
    Table { name: "Holes", columns: || DRAWING[..1].iter().chain(HOLE).collect(), rows: holes },
    Table {
        name: "Findings",
        columns: || DRAWING[..1].iter().chain(&HOLE[..2]).chain(FINDING).chain(&HOLE[2..]).collect(),
        rows: findings,
    },
];

/// Writes the workbook of drawings that come one after another, so that they need not be held at once.
///
/// # Errors
/// Those of the writer, of the temporary files that sheets are kept in, and of the drawings.
pub fn write(
    (tool, totals): (&Tool, &Totals),
    drawings: impl Iterator<Item = io::Result<DrawingResult>>,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut workbook = Workbook::new();
    workbook.set_properties(&properties("Holes checked", tool).map_err(broken)?);
    summary(workbook.add_worksheet(), tool, totals).map_err(broken)?;
    let mut begun =
        TABLES.iter().map(|table| Sheet::begin(&mut workbook, table)).collect::<Result<Vec<_>, _>>();
    let mut full = Vec::new();
    for drawing in drawings {
        let drawing = drawing?;
        for sheet in begun.as_mut().map_err(|e| io::Error::other(e.to_string()))? {
            for row in (sheet.table.rows)(&drawing) {
                if sheet.next == MOST_ROWS {
                    let further = Sheet::begin(&mut workbook, sheet.table).map_err(broken)?;
                    full.push(std::mem::replace(sheet, further));
                    let part = full.iter().filter(|s| s.table.name == sheet.table.name).count() + 1;
                    sheet.sheet.set_name(format!("{} {part}", sheet.table.name)).map_err(broken)?;
                }
                sheet.add(&row).map_err(broken)?;
            }
        }
    }
    for sheet in begun.map_err(broken)?.into_iter().chain(full) {
        workbook.push_worksheet(sheet.end().map_err(broken)?);
    }
    out.write_all(&workbook.save_to_buffer().map_err(broken)?)
}

/// A workbook that cannot be made, as an error of writing.
pub(super) fn broken(error: XlsxError) -> io::Error {
    io::Error::other(error.to_string())
}

/// The day is that of the format, not of the run: the same report is the same bytes.
pub(super) fn properties(title: &str, tool: &Tool) -> Result<DocProperties, XlsxError> {
    let made = ExcelDateTime::from_ymd(2000, 1, 1)?;
    Ok(DocProperties::new().set_title(title).set_author(&tool.name).set_creation_datetime(&made))
}

fn summary(sheet: &mut Worksheet, tool: &Tool, totals: &Totals) -> Result<(), XlsxError> {
    sheet.set_name("Summary")?;
    let head = Format::new().set_bold().set_font_size(14);
    sheet.write_string_with_format(0, 0, "Holes for thread-rolling screws", &head)?;
    sheet.write_string(1, 0, format!("{} {}", tool.name, tool.version))?;
    let wrapped = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    sheet.merge_range(2, 0, 2, 3, CAUTION, &wrapped)?;
    sheet.set_row_height(2, 48)?;
    sheet.set_column_width(0, 30)?;
    let rows = [
        ("drawings", totals.drawings),
        ("drawings unreadable", totals.unreadable),
        ("drawings partly read", totals.partly_read),
        ("holes", totals.holes),
        ("holes for self-forming screws", totals.screw_holes),
        ("in band", totals.in_band),
        ("straddles", totals.straddles),
        ("tight", totals.tight),
        ("loose", totals.loose),
        ("undetermined", totals.undetermined),
        ("findings of level fail", totals.fail),
        ("findings of level warn", totals.warn),
        ("findings of level note", totals.note),
        ("findings waived", totals.waived),
    ];
    for (row, (name, count)) in (4..).zip(rows) {
        sheet.write_string(row, 0, name)?;
        sheet.write_number(row, 1, count as f64)?;
    }
    Ok(())
}

/// A sheet that rows are added to.
struct Sheet {
    table: &'static Table,
    sheet: Worksheet,
    columns: Vec<&'static Column>,
    next: u32,
}

impl Sheet {
    fn begin(workbook: &mut Workbook, table: &'static Table) -> Result<Sheet, XlsxError> {
        let mut sheet = workbook.new_worksheet_with_constant_memory()?;
        sheet.set_name(table.name)?;
        sheet.set_freeze_panes(1, 1)?;
        let bold = Format::new().set_bold();
        let columns = (table.columns)();
        for (index, column) in (0..).zip(&columns) {
            sheet.set_column_width(index, f64::from(column.letters.max(column.name.len() as u16 + 3)))?;
            sheet.write_string_with_format(0, index, column.name, &bold)?;
        }
        Ok(Sheet { table, sheet, columns, next: 1 })
    }

    fn add(&mut self, row: &Row<'_>) -> Result<(), XlsxError> {
        for (index, column) in (0..).zip(&self.columns) {
            match (column.cell)(row) {
                Cell::Nothing => {}
                Cell::Number(value) => {
                    self.sheet.write_number(self.next, index, value)?;
                }
                Cell::Text(text) => {
                    self.sheet.write_string(self.next, index, within(&text))?;
                }
            }
        }
        self.next += 1;
        Ok(())
    }

    fn end(mut self) -> Result<Worksheet, XlsxError> {
        let last = u16::try_from(self.columns.len()).unwrap_or(u16::MAX).saturating_sub(1);
        self.sheet.autofilter(0, 0, self.next - 1, last)?;
        Ok(self.sheet)
    }
}

/// A text that fits into a cell, cut with a word that says so.
pub(super) fn within(text: &str) -> String {
    // Spreadsheets count UTF-16 units; no letter has more of them than bytes.
    if text.len() <= MOST_LETTERS {
        return text.to_owned();
    }
    let end = (0..MOST_LETTERS - 20).rev().find(|&at| text.is_char_boundary(at)).unwrap_or(0);
    format!("{} … (cut)", &text[..end])
}
