//! A library as a workbook: a summary, the sums by each feature, how engagement lies, the causes, all drawings with the
//! most expected harm first, duplicates, and drawings that were not read whole. Nothing in it is a formula.

use std::io::{self, Seek, Write};

use rust_xlsxwriter::{Format, FormatAlign, Workbook, Worksheet, XlsxError};

use super::features::{features, not_judged};
use super::rank::Ranking;
use super::table::{COLUMNS, drawings};
use crate::ledger::Joined;
use crate::library::{BIN_WIDTH, BINS, Picture, Sum};
use crate::report::clean::{flowing, visible};
use crate::report::table::Cell;
use crate::report::text::CAUTION;
use crate::report::xlsx::{broken, properties, within};

/// Most rows of a sheet below its header; what is more is said to be left out. Common spreadsheets take some more.
const MOST_ROWS: u32 = 1_000_000;

/// Writes the workbook of the ledgers that the picture was made of.
///
/// # Errors
/// Those of the writer and of the temporary files that sheets are kept in, and if a line of the ledgers cannot be read
/// any more.
pub fn write(picture: &Picture, joined: &mut Joined, out: &mut dyn Write) -> io::Result<()> {
    write_most(picture, joined, MOST_ROWS, out)
}

fn write_most(picture: &Picture, joined: &mut Joined, most: u32, out: &mut dyn Write) -> io::Result<()> {
    let ranking = Ranking::of(picture, joined)?;
    let mut workbook = Workbook::new();
    workbook.set_properties(&properties("Holes of a library", &picture.tool).map_err(broken)?);
    let mut sheets = sums(&mut workbook, picture, most).map_err(broken)?;
    let head = COLUMNS.iter().map(|column| (column.name, column.letters));
    let mut all = Sheet::begin(&mut workbook, "Drawings", head, most).map_err(broken)?;
    drawings(&ranking, joined, most as usize, |row| {
        all.add(COLUMNS.iter().map(|column| (column.cell)(row))).map_err(broken)
    })?;
    all.left_out = picture.totals.drawings.saturating_sub(u64::from(most));
    sheets.push(all);
    sheets.extend(lists(&mut workbook, picture, most).map_err(broken)?);
    summary(workbook.add_worksheet(), picture, &sheets).map_err(broken)?;
    for sheet in sheets {
        workbook.push_worksheet(sheet.end().map_err(broken)?);
    }
    let mut file = tempfile::tempfile()?;
    workbook.save_to_writer(&mut file).map_err(broken)?;
    file.rewind()?;
    io::copy(&mut file, out).map(drop)
}

/// Sums by feature, engagement and causes.
fn sums(workbook: &mut Workbook, picture: &Picture, most: u32) -> Result<Vec<Sheet>, XlsxError> {
    let head = [
        ("feature", 24),
        ("value", 40),
        ("drawings", 10),
        ("screw_holes", 12),
        ("tight", 9),
        ("loose", 9),
        ("straddles", 10),
        ("undetermined", 13),
        ("in_band", 9),
        ("fails", 9),
        ("warnings", 9),
        ("notes", 9),
        ("waived", 9),
    ];
    let mut by = Sheet::begin(workbook, "By feature", head, most)?;
    for rule in &picture.by.rule {
        let none = [const { Cell::Nothing }; 6];
        let counts = [rule.fail, rule.warn, rule.note, rule.waived].map(number);
        let named = [Cell::Text("rule".into()), text(&rule.rule), number(rule.drawings)];
        by.add(named.into_iter().chain(none).chain(counts))?;
    }
    for feature in features(&picture.by) {
        for group in feature.groups {
            let Sum { drawings, screw_holes, tight, loose, straddles, undetermined, in_band, .. } = group.sum;
            let named = [Cell::Text(feature.name.into()), Cell::Text(visible(&group.value))];
            let holes = [drawings, screw_holes, tight, loose, straddles, undetermined, in_band].map(number);
            let Sum { fail, warn, note, waived, .. } = group.sum;
            let counts = [fail, warn, note, waived];
            let counts = counts.map(|count| if feature.of_drawings { number(count) } else { Cell::Nothing });
            by.add(named.into_iter().chain(holes).chain(counts))?;
        }
    }
    Ok(vec![by, engagement(workbook, picture, most)?, causes(workbook, picture, most)?])
}

fn engagement(workbook: &mut Workbook, picture: &Picture, most: u32) -> Result<Sheet, XlsxError> {
    let head = [
        ("thread", 16),
        ("band_min", 10),
        ("band_max", 10),
        ("from", 8),
        ("to", 8),
        ("screw_holes", 12),
        ("outside_band", 13),
        ("in_band", 9),
        ("open", 9),
    ];
    let mut sheet = Sheet::begin(workbook, "Engagement", head, most)?;
    for one in &picture.engagement {
        let band =
            one.bands.map_or([Cell::Nothing, Cell::Nothing], |(min, max)| [min, max].map(Cell::Number));
        for bin in (0..BINS).filter(|bin| one.holes[*bin] > 0) {
            let [min, max] = band.clone();
            let from = bin as f64 * BIN_WIDTH;
            // The last has no end.
            let to = if bin + 1 == BINS { Cell::Nothing } else { Cell::Number(from + BIN_WIDTH) };
            let (all, outside, within) = (one.holes[bin], one.outside[bin], one.in_band[bin]);
            let counts = [all, outside, within, all - outside - within].map(number);
            let named = [text(&one.thread), min, max, Cell::Number(from), to];
            sheet.add(named.into_iter().chain(counts))?;
        }
    }
    Ok(sheet)
}

fn causes(workbook: &mut Workbook, picture: &Picture, most: u32) -> Result<Sheet, XlsxError> {
    let head = [("cause", 50), ("what_to_do", 60), ("drawings", 10), ("findings", 10), ("rules", 50)];
    let mut sheet = Sheet::begin(workbook, "Causes", head, most)?;
    for cause in &picture.causes {
        sheet.add([
            text(&cause.cause),
            cause.what_to_do.as_deref().map_or(Cell::Nothing, text),
            number(cause.drawings),
            number(cause.findings),
            Cell::Text(flowing(&cause.rules.join(", "))),
        ])?;
    }
    Ok(sheet)
}

/// Duplicates, and drawings that were not read whole.
fn lists(workbook: &mut Workbook, picture: &Picture, most: u32) -> Result<[Sheet; 2], XlsxError> {
    let mut duplicates = Sheet::begin(workbook, "Duplicates", [("drawing", 60), ("same_as", 60)], most)?;
    for one in &picture.duplicates {
        duplicates.add([Cell::Text(visible(&one.path)), Cell::Text(visible(&one.same_as))])?;
    }
    let head = [("drawing", 60), ("state", 12), ("problem", 80)];
    let mut not_whole = Sheet::begin(workbook, "Not read whole", head, most)?;
    for one in &picture.not_whole {
        not_whole.add([Cell::Text(visible(&one.path)), text(&one.state), text(&one.problem)])?;
    }
    Ok([duplicates, not_whole])
}

fn summary(sheet: &mut Worksheet, picture: &Picture, sheets: &[Sheet]) -> Result<(), XlsxError> {
    sheet.set_name("Summary")?;
    let head = Format::new().set_bold().set_font_size(14);
    sheet.write_string_with_format(0, 0, "Screw holes of a library", &head)?;
    sheet.write_string(1, 0, format!("{} {}", picture.tool.name, picture.tool.version))?;
    let wrapped = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    sheet.merge_range(2, 0, 2, 3, CAUTION, &wrapped)?;
    sheet.set_row_height(2, 64)?;
    sheet.set_column_width(0, 42)?;
    sheet.set_column_width(1, 14)?;
    let share = Format::new().set_num_format("0.0 %");
    let totals = &picture.totals;
    let rows = [
        ("drawings", totals.drawings, None),
        ("drawings unreadable", totals.unreadable, Some(totals.drawings)),
        ("drawings partly read", totals.partly_read, Some(totals.drawings)),
        ("drawings with something to change", picture.harmful, Some(totals.drawings)),
        ("duplicates, not counted", picture.duplicates.len() as u64, None),
        ("bytes of the drawings", picture.bytes, None),
        ("holes", totals.holes, None),
        ("holes for self-forming screws", totals.screw_holes, None),
        ("tight (too small)", totals.tight, Some(totals.screw_holes)),
        ("loose (too large)", totals.loose, Some(totals.screw_holes)),
        ("straddles", totals.straddles, Some(totals.screw_holes)),
        ("undetermined", totals.undetermined, Some(totals.screw_holes)),
        ("not judged", not_judged(totals), Some(totals.screw_holes)),
        ("in band", totals.in_band, Some(totals.screw_holes)),
        ("findings of level fail", totals.fail, None),
        ("findings of level warn", totals.warn, None),
        ("findings of level note", totals.note, None),
        ("findings waived", totals.waived, None),
    ];
    let bold = Format::new().set_bold();
    for (column, name) in (0..).zip(["", "count", "share"]) {
        sheet.write_string_with_format(4, column, name, &bold)?;
    }
    let mut next = 5;
    for (name, count, of) in rows {
        sheet.write_string(next, 0, name)?;
        sheet.write_number(next, 1, count as f64)?;
        if let Some(of) = of.filter(|of| *of > 0) {
            sheet.write_number_with_format(next, 2, count as f64 / of as f64, &share)?;
        }
        next += 1;
    }
    for cut in sheets.iter().filter(|sheet| sheet.left_out > 0) {
        next += 1;
        let said = format!("Sheet {}: {} more rows are left out.", cut.sheet.name(), cut.left_out);
        sheet.write_string_with_format(next, 0, said, &bold)?;
    }
    Ok(())
}

fn number(count: u64) -> Cell<'static> {
    Cell::Number(count as f64)
}

fn text(text: &str) -> Cell<'_> {
    Cell::Text(flowing(text))
}

/// A sheet that rows are added to.
struct Sheet {
    sheet: Worksheet,
    columns: u16,
    next: u32,
    most: u32,
    /// Rows that it has no place for.
    left_out: u64,
}

impl Sheet {
    fn begin(
        workbook: &mut Workbook,
        name: &str,
        head: impl IntoIterator<Item = (&'static str, u16)>,
        most: u32,
    ) -> Result<Sheet, XlsxError> {
        let mut sheet = workbook.new_worksheet_with_constant_memory()?;
        sheet.set_name(name)?;
        sheet.set_freeze_panes(1, 0)?;
        let bold = Format::new().set_bold();
        let mut columns = 0;
        for (name, letters) in head {
            sheet.set_column_width(columns, f64::from(letters.max(name.len() as u16 + 3)))?;
            sheet.write_string_with_format(0, columns, name, &bold)?;
            columns += 1;
        }
        Ok(Sheet { sheet, columns, next: 1, most, left_out: 0 })
    }

    fn add<'a>(&mut self, cells: impl IntoIterator<Item = Cell<'a>>) -> Result<(), XlsxError> {
        if self.next > self.most {
            self.left_out += 1;
            return Ok(());
        }
        for (column, cell) in (0..).zip(cells) {
            match cell {
                Cell::Nothing => {}
                Cell::Number(value) => {
                    self.sheet.write_number(self.next, column, value)?;
                }
                Cell::Text(text) => {
                    self.sheet.write_string(self.next, column, within(&text))?;
                }
            }
        }
        self.next += 1;
        Ok(())
    }

    fn end(mut self) -> Result<Worksheet, XlsxError> {
        self.sheet.autofilter(0, 0, self.next - 1, self.columns.saturating_sub(1))?;
        Ok(self.sheet)
    }
}
