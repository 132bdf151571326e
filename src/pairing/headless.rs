//! Hole tables without header words: rows that begin with a tag and hold a cell that states a hole, under one another.
//! What a cell holds is told by what it says alone; a number that could be a depth or a quantity is left alone. A row is
//! one of a table if another stands by it, if it is placed as one block, or under a title that says so.

use super::tables::{Column, statement};
use super::tags;
use super::texts::Statement;
use crate::callout::{Callout, Words};

/// Letter heights between two cells of one row at most: empty cells may lie between them.
const GAP: f64 = 40.0;
/// Letter heights between two rows at most.
const PITCH: f64 = 4.0;

/// What is written over a table of holes. Common practice, from memory.
const TITLES: &[&str] = &[
    "HOLE TABLE",
    "HOLE CHART",
    "HOLE SCHEDULE",
    "DRILL TABLE",
    "DRILL CHART",
    "BOHRUNGSTABELLE",
    "BOHRTABELLE",
    "LOCHTABELLE",
    "TABLEAU DES TROUS",
    "TABLEAU DE PERÇAGE",
    "TABELLA FORI",
    "TABLA DE AGUJEROS",
    "TABLA DE TALADROS",
    "孔表",
    "穴表",
];

/// A row that may be one of a table.
struct Found {
    cells: Vec<usize>,
    columns: Vec<Column>,
    /// Which cell states the hole.
    hole: usize,
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
    let mut others: Vec<Vec<usize>> = Vec::new();
    for mut free in lines {
        free.retain(|&s| !used[s]);
        let before = found.len();
        found.extend(
            (0..free.len()).filter_map(|first| row(statements, &free[first..], Callout::states_hole)),
        );
        if found.len() == before && free.len() > 1 {
            others.push(free);
        }
    }
    let mut take = |one: &Found, used: &mut [bool]| {
        if one.cells.iter().any(|&s| used[s]) {
            return false;
        }
        let cells: Vec<&str> = one.cells.iter().map(|&s| statements[s].callout.text.as_str()).collect();
        let first = &statements[one.cells[0]];
        let said = statement(&cells, &one.columns, first.origin, first.at, first.height, words);
        let says = said.is_some();
        rows.extend(said);
        if says {
            one.cells.iter().for_each(|&s| used[s] = true);
        }
        says
    };
    let mut taken: Vec<&Found> = Vec::new();
    for (k, one) in found.iter().enumerate() {
        let beside =
            || found.iter().enumerate().any(|(o, other)| o != k && stands_by(statements, one, other));
        let sure = beside() || one_block(statements, &one.cells) || titled(statements, one);
        if sure && take(one, used) {
            taken.push(one);
        }
    }
    if taken.is_empty() {
        return;
    }
    // Where rows say what a column is, a size without its mark is one (`No. 18`), if it stands in that column.
    let mut more: Vec<Found> = others
        .iter()
        .flat_map(|line| {
            (0..line.len()).filter_map(|first| row(statements, &line[first..], |c| c.size.is_some()))
        })
        .collect();
    let mut sure: Vec<Found> = Vec::new();
    loop {
        let rows = taken.iter().copied().chain(&sure);
        let next = rows
            .flat_map(|row| (0..more.len()).map(move |m| (row, m)))
            .find(|&(row, m)| row.hole == more[m].hole && stands_by(statements, row, &more[m]));
        let Some((_, next)) = next else { break };
        let one = more.swap_remove(next);
        if take(&one, used) {
            sure.push(one);
        }
    }
}

/// Whether two rows are under one another.
fn stands_by(statements: &[Statement], a: &Found, b: &Found) -> bool {
    let (a, b) = (&statements[a.cells[0]], &statements[b.cells[0]]);
    let height = a.height;
    let apart = (a.bounds.min.y - b.bounds.min.y).abs();
    a.origin.space == b.origin.space
        && (a.bounds.min.x - b.bounds.min.x).abs() <= 0.5 * height
        && (a.height - b.height).abs() <= 0.1 * height
        && apart > 0.5 * height
        && apart <= PITCH * height
}

/// Whether the title of a table stands over a row.
fn titled(statements: &[Statement], row: &Found) -> bool {
    let (first, last) = (&statements[row.cells[0]], &statements[row.cells[row.cells.len() - 1]]);
    let over = |title: &Statement| {
        let rise = title.bounds.min.y - first.bounds.min.y;
        let middle = title.middle().x;
        title.origin.space == first.origin.space
            && rise > 0.5 * first.height
            && rise <= PITCH * first.height
            && middle > first.bounds.min.x - first.height
            && middle < last.bounds.max.x + first.height
    };
    let is_title = |text: &str| {
        let text = text.trim().trim_end_matches(':').to_uppercase();
        TITLES.contains(&text.as_str())
    };
    statements.iter().any(|s| over(s) && is_title(&s.callout.text))
}

/// Whether all cells are attributes of one block: a row that is placed as such needs no second one.
fn one_block(statements: &[Statement], cells: &[usize]) -> bool {
    let block = |&s: &usize| statements[s].origin.insert;
    cells.first().is_some_and(|first| block(first).is_some())
        && cells.iter().all(|s| block(s) == block(&cells[0]))
}

/// The row that begins at the first of the texts of a line, from left to right; `states` tells which cell may state a hole.
fn row(statements: &[Statement], line: &[usize], states: impl Fn(&Callout) -> bool) -> Option<Found> {
    let &first = line.first()?;
    // Looked at first: most lines of a sheet are one text, or hold no hole.
    if !line[1..].iter().any(|&s| states(&statements[s].callout)) {
        return None;
    }
    let named = named(&statements[first].callout.text)?;
    let mut cells = vec![first];
    for &s in &line[1..] {
        let last = &statements[*cells.last()?];
        let gap = statements[s].bounds.min.x - last.bounds.max.x;
        if gap > GAP * last.height || statements[s].origin.space != last.origin.space {
            break;
        }
        cells.push(s);
    }
    let hole = (1..cells.len()).find(|&c| states(&statements[cells[c]].callout))?;
    let texts = cells.iter().map(|&s| statements[s].callout.text.as_str());
    let columns = told_by_content(texts, named, hole);
    Some(Found { cells, columns, hole })
}

/// What the cells of a row of a table entity are that has no header; none if it is no row of holes.
pub(super) fn columns(cells: &[&str], words: &Words) -> Option<Vec<Column>> {
    let named = named(cells.first()?.trim())?;
    let hole = (1..cells.len()).find(|&c| words.callout(cells[c]).states_hole())?;
    Some(told_by_content(cells.iter().copied(), named, hole))
}

/// How many holes the first cell of a row names; none if it is no tag.
fn named(text: &str) -> Option<usize> {
    if !text.starts_with(|c: char| c.is_ascii_alphanumeric()) || text.len() > 40 {
        return None;
    }
    // Tags are a few letters and figures each: a callout in front of the line is none.
    if text.contains(['Ø', '.', '%']) && !text.contains("..") {
        return None;
    }
    let named = tags::expand(text);
    let are_tags = !named.is_empty() && named.iter().all(|t| tags::as_tag(t).is_some());
    are_tags.then_some(named.len())
}

fn told_by_content<'a>(cells: impl Iterator<Item = &'a str>, named: usize, hole: usize) -> Vec<Column> {
    let column = |(c, text): (usize, &str)| {
        let text = text.trim();
        let number = text.replace(',', ".").replace('−', "-").parse::<f64>().is_ok();
        match c {
            0 => Column::Tag,
            // Two numbers between the tag and the hole are a place.
            1 if hole == 3 && number => Column::X,
            2 if hole == 3 && number => Column::Y,
            _ if text.parse() == Ok(named) && named > 1 => Column::Quantity,
            _ if number => Column::Other,
            _ => Column::Words,
        }
    };
    cells.enumerate().map(column).collect()
}
