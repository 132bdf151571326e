//! Hole tables: table entities, and loose texts in rows and columns under header words. Each row becomes a
//! statement with the tags that it speaks of.

use std::sync::Arc;

use super::headless;
use super::tags;
use super::texts::{Carrier, Statement};
use crate::callout::{self, Callout, Part, Quantity, Size, Span, Words};
use crate::drawing::{Drawing, Origin};
use crate::geometry::{Bounds, Point};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Column {
    Tag,
    Size,
    Quantity,
    Thread,
    Depth,
    /// A whole callout (`DESCRIPTION`).
    Words,
    /// Where the hole is, from the table's origin.
    X,
    Y,
    Other,
}

// Header words in English, German, French, Italian, Spanish, Chinese and Japanese; common practice.
const TAG_WORDS: &[&str] = &[
    "HOLE",
    "HOLES",
    "TAG",
    "LOCH",
    "BOHRUNG",
    "POS",
    "SYM",
    "SYMBOL",
    "ID",
    "TROU",
    "REP",
    "REPÈRE",
    "FORO",
    "RIF",
    "AGUJERO",
    "TALADRO",
    "标记",
    "孔",
    "孔号",
    "编号",
    "穴",
    "穴番",
    "穴番号",
    "記号",
];
const SIZE_WORDS: &[&str] = &[
    "DIA",
    "DIAMETER",
    "SIZE",
    "Ø",
    "DURCHMESSER",
    "DRILL",
    "DIAMETRE",
    "DIAMÈTRE",
    "DIAMETRO",
    "DIÁMETRO",
    "直径",
    "尺寸",
    "孔径",
    "径",
    "穴径",
];
const QUANTITY_WORDS: &[&str] = &[
    "QTY",
    "QUANTITY",
    "ANZAHL",
    "STK",
    "NO OFF",
    "OFF",
    "QTE",
    "QTÉ",
    "NOMBRE",
    "QTA",
    "QTÀ",
    "QUANTITA",
    "QUANTITÀ",
    "CANT",
    "CANTIDAD",
    "数量",
    "個数",
];
const THREAD_WORDS: &[&str] =
    &["THREAD", "GEWINDE", "TAP", "FILETAGE", "TARAUDAGE", "FILETTATURA", "ROSCA", "螺纹", "ネジ", "ねじ"];
const DEPTH_WORDS: &[&str] = &[
    "DEPTH",
    "TIEFE",
    "DEEP",
    "PROF",
    "PROFONDEUR",
    "PROFONDITA",
    "PROFONDITÀ",
    "PROFUNDIDAD",
    "深度",
    "深さ",
];
const WORDS_WORDS: &[&str] = &[
    "DESCRIPTION",
    "BESCHREIBUNG",
    "DESCRIZIONE",
    "DESCRIPCION",
    "DESCRIPCIÓN",
    "CALLOUT",
    "NOTE",
    "REMARKS",
    "说明",
    "備考",
];

/// Statements of all hole tables, and which of the given statements were cells of them.
pub(super) fn collect(
    drawing: &Drawing,
    statements: &[Statement],
    height: f64,
    words: &Words,
) -> (Vec<Statement>, Vec<bool>) {
    let mut rows = Vec::new();
    for table in drawing.tables.iter().filter(|t| t.origin.visible) {
        let cells: Vec<Vec<&str>> =
            table.rows.iter().map(|r| r.iter().map(String::as_str).collect()).collect();
        let head = (0..cells.len()).find(|&r| is_header(&cells[r]));
        let under = head.map(|head| columns(&cells[head]));
        for row in &cells[head.map_or(0, |head| head + 1)..] {
            let columns = under.clone().or_else(|| headless::columns(row, words));
            let said = columns.and_then(|c| statement(row, &c, table.origin, table.at, height, words));
            rows.extend(said);
        }
    }
    let mut used = vec![false; statements.len()];
    let lines = lines(statements);
    loose(statements, &lines, &mut used, &mut rows, words);
    headless::collect(statements, lines, &mut used, &mut rows, words);
    (rows, used)
}

fn column_of(word: &str) -> Column {
    let upper = word.trim().trim_end_matches([':', '.']).to_uppercase();
    let parts: Vec<&str> = upper.split(|c: char| !c.is_alphanumeric() && c != 'Ø').collect();
    let has =
        |words: &[&str]| words.iter().any(|w| parts.contains(w) || w.contains(' ') && upper.contains(w));
    let words = || upper.split(|c: char| !c.is_alphanumeric());
    if words().any(|w| matches!(w, "X" | "XLOC" | "XPOS" | "XDIM")) {
        return Column::X;
    }
    if words().any(|w| matches!(w, "Y" | "YLOC" | "YPOS" | "YDIM")) {
        return Column::Y;
    }
    // `THREAD DEPTH` is a depth, `HOLE DIA` a diameter, `DRILL DEPTH` a depth: the last word rules.
    if has(DEPTH_WORDS) {
        // The depth of a thread is not the depth of the hole.
        if has(THREAD_WORDS) { Column::Other } else { Column::Depth }
    } else if has(QUANTITY_WORDS) {
        Column::Quantity
    } else if has(THREAD_WORDS) {
        Column::Thread
    } else if has(SIZE_WORDS) {
        Column::Size
    } else if has(WORDS_WORDS) {
        Column::Words
    } else if has(TAG_WORDS) {
        Column::Tag
    } else {
        Column::Other
    }
}

fn columns(header: &[&str]) -> Vec<Column> {
    header.iter().map(|c| column_of(c)).collect()
}

/// A tag column and a column that states a hole, in words short enough for a header.
fn is_header(cells: &[&str]) -> bool {
    if cells.len() < 2 {
        return false;
    }
    // `Ø .500` beside `THROUGH 6 HOLES` is a callout in pieces: what states numbers heads no column.
    let word = |c: &&&str| c.chars().count() <= 24 && !c.contains(|d: char| d.is_ascii_digit());
    let columns: Vec<Column> = cells.iter().filter(word).map(|c| column_of(c)).collect();
    columns.contains(&Column::Tag)
        && columns.iter().any(|c| matches!(c, Column::Size | Column::Thread | Column::Words))
}

/// One row as a statement; none if it names no hole or no size.
pub(super) fn statement(
    cells: &[&str],
    columns: &[Column],
    origin: Origin,
    at: Point,
    height: f64,
    words: &Words,
) -> Option<Statement> {
    let mut out = Callout::default();
    let mut tags = Vec::new();
    let (mut x, mut y) = (None, None);
    for (cell, column) in cells.iter().zip(columns) {
        let cell = cell.trim();
        if cell.is_empty() || cell == "-" {
            continue;
        }
        if !out.text.is_empty() {
            push(&mut out, "  ", Part::Filler);
        }
        match column {
            Column::X => x = x.or(coordinate(cell)),
            Column::Y => y = y.or(coordinate(cell)),
            _ => {}
        }
        let spans = if *column == Column::Tag {
            tags = tags::expand(cell);
            whole(cell, Part::Tag)
        } else {
            take(&mut out, cell, *column, words)
        };
        push_spans(&mut out, cell, spans);
    }
    out.tag = tags.first().cloned();
    out.marked_diameter |= out.size.is_some();
    let says = !tags.is_empty() && out.states_hole();
    let bounds = Bounds { min: at, max: at };
    says.then_some(Statement {
        carrier: Carrier::TableRow,
        texts: Vec::new(),
        callout: out.into(),
        note: Arc::default(),
        origin,
        at,
        bounds,
        height,
        tags,
        place: x.zip(y),
    })
}

/// A cell that is one piece.
fn whole(cell: &str, part: Part) -> Vec<Span> {
    vec![Span { range: 0..cell.len(), part }]
}

/// What a cell says, by its column, and what its pieces were read as.
fn take(out: &mut Callout, cell: &str, column: Column, words: &Words) -> Vec<Span> {
    let read = callout::read_with(cell, words);
    let (understood, part) = match column {
        Column::Quantity => {
            out.count = cell.trim_end_matches(['x', 'X', '×']).trim().parse().ok().or(read.count);
            (out.count.is_some(), Part::Count)
        }
        // A whole callout in a cell keeps its pieces: size and tolerance are written anew each for itself.
        Column::Size if read.size.is_some() || read.thread.is_some() => {
            let spans = read.spans.clone();
            merge(out, read);
            return spans;
        }
        Column::Size => {
            out.size = out.size.take().or(number(cell).map(Size::Diameter));
            (out.size.is_some(), Part::Size)
        }
        Column::Thread => {
            out.tapped |= read.thread.is_some() && read.screw.is_none();
            out.screw = out.screw.or(read.screw);
            out.thread = out.thread.take().or(read.thread);
            (out.thread.is_some(), Part::Thread)
        }
        Column::Depth => {
            out.through |= read.through;
            out.depth = out.depth.or(read.depth).or_else(|| number(cell));
            (out.depth.is_some() || out.through, Part::Depth)
        }
        Column::Words => {
            let spans = read.spans.clone();
            merge(out, read);
            return spans;
        }
        Column::Tag | Column::X | Column::Y | Column::Other => (true, Part::Filler),
    };
    whole(cell, if understood { part } else { Part::Unread })
}

fn push_spans(out: &mut Callout, cell: &str, spans: Vec<Span>) {
    let start = out.text.len();
    out.text.push_str(cell);
    let moved =
        spans.into_iter().map(|s| Span { range: s.range.start + start..s.range.end + start, part: s.part });
    out.spans.extend(moved);
}

fn push(out: &mut Callout, text: &str, part: Part) {
    let start = out.text.len();
    out.text.push_str(text);
    out.spans.push(Span { range: start..out.text.len(), part });
}

/// What a cell says beside what other cells said already.
fn merge(out: &mut Callout, read: Callout) {
    out.count = out.count.or(read.count);
    out.size = out.size.take().or(read.size);
    out.second = out.second.or(read.second);
    out.tolerance = out.tolerance.take().or(read.tolerance);
    out.depth = out.depth.or(read.depth);
    out.through |= read.through;
    out.thread = out.thread.take().or(read.thread);
    out.tapped |= read.tapped;
    out.counterbore = out.counterbore.or(read.counterbore);
    out.countersink = out.countersink.or(read.countersink);
    out.process = out.process.or(read.process);
    out.screw = out.screw.or(read.screw);
    out.thickness = out.thickness.or(read.thickness);
}

fn number(cell: &str) -> Option<Quantity> {
    let bare = cell.trim().replace(',', ".");
    let value: f64 = bare.parse().ok().filter(|v: &f64| v.is_finite() && *v > 0.0)?;
    let decimals = bare.split_once('.').map_or(0, |(_, d)| d.len().min(8) as u8);
    Some(Quantity { value, unit: None, decimals })
}

/// A place along an axis: a number that may be zero or negative.
fn coordinate(cell: &str) -> Option<Quantity> {
    let bare = cell.trim().replace(',', ".").replace('−', "-");
    let value: f64 = bare.parse().ok().filter(|v: &f64| v.is_finite())?;
    Some(Quantity { value, unit: None, decimals: 0 })
}

/// Tables of loose texts: a line of header words, then lines of texts under them.
fn loose(
    statements: &[Statement],
    lines: &[Vec<usize>],
    used: &mut [bool],
    rows: &mut Vec<Statement>,
    words: &Words,
) {
    for (k, line) in lines.iter().enumerate().filter(|(_, line)| line.len() > 1) {
        let cells: Vec<&str> = line.iter().map(|&s| statements[s].callout.text.as_str()).collect();
        if line.iter().any(|&s| used[s]) || !is_header(&cells) {
            continue;
        }
        let columns = columns(&cells);
        let head: Vec<&Statement> = line.iter().map(|&s| &statements[s]).collect();
        let mut above = head[0].bounds.min.y;
        let mut pitch: Option<f64> = None;
        for next in &lines[k + 1..] {
            let in_columns: Vec<(usize, usize)> =
                next.iter().filter_map(|&s| column_under(&head, &statements[s]).map(|c| (c, s))).collect();
            let Some(&(_, first)) = in_columns.first() else { continue };
            let top = statements[first].bounds.max.y;
            let gap = above - top;
            if statements[first].origin.space != head[0].origin.space
                || gap > 2.0 * pitch.unwrap_or(2.5 * head[0].height)
            {
                break;
            }
            pitch = pitch.or(Some(gap.max(0.5 * head[0].height)));
            above = statements[first].bounds.min.y;
            let mut cells = vec![""; columns.len()];
            for &(c, s) in &in_columns {
                cells[c] = &statements[s].callout.text;
            }
            let origin = statements[first].origin;
            if let Some(row) =
                statement(&cells, &columns, origin, statements[first].at, head[0].height, words)
            {
                rows.push(row);
                for &(_, s) in &in_columns {
                    used[s] = true;
                }
            }
        }
        for &s in line {
            used[s] = true;
        }
    }
}

/// Single-line texts gathered into lines by their base, each line from left to right, lines from top to bottom.
fn lines(statements: &[Statement]) -> Vec<Vec<usize>> {
    let mut ids: Vec<usize> = (0..statements.len())
        .filter(|&s| {
            matches!(statements[s].carrier, Carrier::Text(_)) && statements[s].callout.text.len() <= 60
        })
        .collect();
    let base = |s: usize| statements[s].bounds.min.y;
    ids.sort_by(|&a, &b| {
        (statements[a].origin.space.cmp(&statements[b].origin.space))
            .then_with(|| base(b).total_cmp(&base(a)))
            .then_with(|| a.cmp(&b))
    });
    let mut lines: Vec<Vec<usize>> = Vec::new();
    for s in ids {
        match lines.last_mut() {
            Some(line)
                if statements[line[0]].origin.space == statements[s].origin.space
                    && (base(line[0]) - base(s)).abs() <= 0.4 * statements[s].height =>
            {
                line.push(s);
            }
            _ => lines.push(vec![s]),
        }
    }
    for line in &mut lines {
        line.sort_by(|&a, &b| {
            statements[a].bounds.min.x.total_cmp(&statements[b].bounds.min.x).then(a.cmp(&b))
        });
    }
    lines
}

/// The column whose header stands nearest above a text, if it stands under the table at all.
fn column_under(head: &[&Statement], text: &Statement) -> Option<usize> {
    let left = head.first()?.bounds.min.x - 4.0 * text.height;
    let right = head.last()?.bounds.max.x + 8.0 * text.height;
    let middle = |b: &Bounds| f64::midpoint(b.min.x, b.max.x);
    if text.bounds.min.x < left || text.bounds.min.x > right {
        return None;
    }
    let distance = |h: &Statement| {
        let by_left = (h.bounds.min.x - text.bounds.min.x).abs();
        let by_middle = (middle(&h.bounds) - middle(&text.bounds)).abs();
        by_left.min(by_middle)
    };
    (0..head.len()).min_by(|&a, &b| distance(head[a]).total_cmp(&distance(head[b])))
}
