//! Hole tables without header words: rows that begin with a tag and hold a cell that states a hole, under one another.
//! What a cell holds is told by what it says alone; a number that could be a depth or a quantity is left alone.

use super::tables::{Column, statement};
use super::tags;
use super::texts::Statement;
use crate::callout::Words;

/// Letter heights between two cells of one row at most: empty cells may lie between them.
const GAP: f64 = 40.0;
/// Letter heights between two rows at most.
const PITCH: f64 = 4.0;

/// A row that may be one of a table.
struct Found {
    cells: Vec<usize>,
    columns: Vec<Column>,
}

/// Adds the rows of all such tables and marks their cells as used. `lines` are the texts that stand level, from left to
/// right.
pub(super) fn collect(
    statements: &[Statement],
    lines: Vec<Vec<usize>>,
    used: &mut [bool],
    rows: &mut Vec<Statement>,
    words: &Words,
) {
    let mut found: Vec<Found> = Vec::new();
    for mut free in lines {
        free.retain(|&s| !used[s]);
        found.extend((0..free.len()).filter_map(|first| row(statements, &free[first..])));
    }
    let stands_by = |a: &Found, b: &Found| {
        let (a, b) = (&statements[a.cells[0]], &statements[b.cells[0]]);
        let height = a.height;
        let apart = (a.bounds.min.y - b.bounds.min.y).abs();
        a.origin.space == b.origin.space
            && (a.bounds.min.x - b.bounds.min.x).abs() <= 0.5 * height
            && (a.height - b.height).abs() <= 0.1 * height
            && apart > 0.5 * height
            && apart <= PITCH * height
    };
    for (k, one) in found.iter().enumerate() {
        let alone = !found.iter().enumerate().any(|(o, other)| o != k && stands_by(one, other));
        if alone && !one_block(statements, &one.cells) || one.cells.iter().any(|&s| used[s]) {
            continue;
        }
        let cells: Vec<&str> = one.cells.iter().map(|&s| statements[s].callout.text.as_str()).collect();
        let first = &statements[one.cells[0]];
        if let Some(said) = statement(&cells, &one.columns, first.origin, first.at, first.height, words) {
            rows.push(said);
            for &s in &one.cells {
                used[s] = true;
            }
        }
    }
}

/// Whether all cells are attributes of one block: a row that is placed as such needs no second one.
fn one_block(statements: &[Statement], cells: &[usize]) -> bool {
    let block = |&s: &usize| statements[s].origin.insert;
    cells.first().is_some_and(|first| block(first).is_some())
        && cells.iter().all(|s| block(s) == block(&cells[0]))
}

/// The row that begins at the first of the texts of a line, from left to right.
fn row(statements: &[Statement], line: &[usize]) -> Option<Found> {
    let &first = line.first()?;
    let text = statements[first].callout.text.as_str();
    if !text.starts_with(|c: char| c.is_ascii_alphanumeric()) || text.len() > 40 {
        return None;
    }
    // Looked at first: most lines of a sheet are one text, or hold no hole.
    if !line[1..].iter().any(|&s| statements[s].callout.states_hole()) {
        return None;
    }
    // Tags are a few letters and figures each: a callout in front of the line is none.
    if text.contains(['Ø', '.', '%']) && !text.contains("..") {
        return None;
    }
    let named = tags::expand(text);
    if named.is_empty() || named.iter().any(|t| tags::as_tag(t).is_none()) {
        return None;
    }
    let mut cells = vec![first];
    for &s in &line[1..] {
        let last = &statements[*cells.last()?];
        let gap = statements[s].bounds.min.x - last.bounds.max.x;
        if gap > GAP * last.height || statements[s].origin.space != last.origin.space {
            break;
        }
        cells.push(s);
    }
    let hole = (1..cells.len()).find(|&c| statements[cells[c]].callout.states_hole())?;
    let columns = cells.iter().enumerate().map(|(c, &s)| {
        let text = statements[s].callout.text.trim();
        let number = text.replace(',', ".").replace('−', "-").parse::<f64>().is_ok();
        match c {
            0 => Column::Tag,
            // Two numbers between the tag and the hole are a place.
            1 if hole == 3 && number => Column::X,
            2 if hole == 3 && number => Column::Y,
            _ if text.parse() == Ok(named.len()) && named.len() > 1 => Column::Quantity,
            _ if number => Column::Other,
            _ => Column::Words,
        }
    });
    let columns = columns.collect();
    Some(Found { cells, columns })
}
