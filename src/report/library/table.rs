//! What tables show of the drawings of a library: a row a drawing, in the columns of all forms that are rows of cells.

use std::io;

use super::rank::Ranking;
use crate::ledger::{Entry, Found, Joined, YearSource};
use crate::library::{Picture, Sum, worst};
use crate::report::clean::{flowing, visible};
use crate::report::table::Cell;

/// A drawing with what was made of it.
pub(super) struct Row<'a> {
    entry: &'a Entry,
    /// Place in the order, from 1, harm and sums; none of a duplicate, so that sums of a column are those of the picture.
    counts: Option<(u64, f64, Sum)>,
    worst: Option<&'a Found>,
    same_as: Option<&'a str>,
}

/// A column.
pub(super) struct Column {
    pub(super) name: &'static str,
    /// Letters that its cells usually need.
    pub(super) letters: u16,
    pub(super) cell: for<'a> fn(&Row<'a>) -> Cell<'a>,
}

const fn column(name: &'static str, letters: u16, cell: for<'a> fn(&Row<'a>) -> Cell<'a>) -> Column {
    Column { name, letters, cell }
}

/// The columns. Names are those of the tables of a check where they mean the same.
pub(super) static COLUMNS: &[Column] = &[
    column("rank", 7, |row| row.counts.map_or(Cell::Nothing, |(rank, _, _)| Cell::Number(rank as f64))),
    column("drawing", 40, |row| Cell::Text(visible(&row.entry.path))),
    column("part", 14, |row| words(row.entry.part.as_deref())),
    column("harm", 8, |row| row.counts.map_or(Cell::Nothing, |(_, harm, _)| Cell::Number(harm))),
    column("rule", 24, |row| words(row.worst.map(|found| found.rule.as_str()))),
    column("level", 7, |row| words(row.worst.map(|found| found.level.as_str()))),
    column("message", 70, |row| words(row.worst.map(|found| found.message.as_str()))),
    column("remedy", 40, |row| words(row.worst.and_then(|found| found.remedy.as_deref()))),
    column("holes", 7, |row| row.counts.map_or(Cell::Nothing, |_| Cell::Number(row.entry.holes as f64))),
    column("screw_holes", 12, |row| count(row, |sum| sum.screw_holes)),
    column("tight", 7, |row| count(row, |sum| sum.tight)),
    column("loose", 7, |row| count(row, |sum| sum.loose)),
    column("straddles", 10, |row| count(row, |sum| sum.straddles)),
    column("undetermined", 13, |row| count(row, |sum| sum.undetermined)),
    column("in_band", 8, |row| count(row, |sum| sum.in_band)),
    column("fails", 7, |row| count(row, |sum| sum.fail)),
    column("warnings", 9, |row| count(row, |sum| sum.warn)),
    column("notes", 7, |row| count(row, |sum| sum.note)),
    column("waived", 8, |row| count(row, |sum| sum.waived)),
    column("state", 11, |row| text(&row.entry.state)),
    column("problem", 40, |row| words(row.entry.problem.as_deref())),
    column("year", 7, |row| row.entry.year.map_or(Cell::Nothing, |year| Cell::Number(f64::from(year)))),
    column("year_source", 12, |row| words(row.entry.year_source.map(year_source))),
    column("unit", 6, |row| text(&row.entry.unit)),
];

/// The column by which duplicates say what they are.
pub(super) static SAME_AS: Column =
    column("same_as", 40, |row| row.same_as.map_or(Cell::Nothing, |path| Cell::Text(visible(path))));

/// Gives a row for each drawing that counts to `each`, the most harm first, at most `most`.
///
/// # Errors
/// If a line cannot be read, or by `each`.
pub(super) fn drawings(
    ranking: &Ranking,
    joined: &mut Joined,
    most: usize,
    mut each: impl FnMut(&Row<'_>) -> io::Result<()>,
) -> io::Result<()> {
    for (rank, (harm, place)) in (1..).zip(&ranking.counted).take(most) {
        let entry = joined.get(*place as usize).map_err(io::Error::other)?;
        let counts = Some((rank, *harm, Sum::of(&entry)));
        each(&Row { entry: &entry, counts, worst: worst(&entry), same_as: None })?;
    }
    Ok(())
}

/// Gives a row for each duplicate to `each`, by path.
///
/// # Errors
/// If a line cannot be read, or by `each`.
pub(super) fn duplicates(
    ranking: &Ranking,
    picture: &Picture,
    joined: &mut Joined,
    mut each: impl FnMut(&Row<'_>) -> io::Result<()>,
) -> io::Result<()> {
    for (place, duplicate) in ranking.duplicates.iter().zip(&picture.duplicates) {
        let entry = joined.get(*place as usize).map_err(io::Error::other)?;
        each(&Row { entry: &entry, counts: None, worst: None, same_as: Some(&duplicate.same_as) })?;
    }
    Ok(())
}

fn year_source(source: YearSource) -> &'static str {
    match source {
        YearSource::Drawing => "drawing",
        YearSource::File => "file",
    }
}

fn count(row: &Row<'_>, of: impl Fn(&Sum) -> u64) -> Cell<'static> {
    row.counts.map_or(Cell::Nothing, |(_, _, sum)| Cell::Number(of(&sum) as f64))
}

fn text(text: &str) -> Cell<'_> {
    Cell::Text(flowing(text))
}

fn words(words: Option<&str>) -> Cell<'_> {
    words.map_or(Cell::Nothing, text)
}
