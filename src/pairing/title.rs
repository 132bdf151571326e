//! Where the title block is, and what its label and value pairs say. Attributes are read by `texts`.

use std::collections::HashSet;
use std::sync::LazyLock;

use super::texts::{Carrier, Statement};
use crate::callout::Words;
use crate::callout::note::{self, Note};
use crate::drawing::{Drawing, InsertId, SpaceId, TextKind};
use crate::geometry::{Bounds, Point};

/// Words that label the fields of title blocks.
const LABELS: &[&str] = &[
    "TITLE",
    "DRAWN",
    "DRAWN BY",
    "CHECKED",
    "DATE",
    "SCALE",
    "MATERIAL",
    "MATL",
    "SHEET",
    "REV",
    "REVISION",
    "SIZE",
    "DRAWING NO",
    "DWG NO",
    "DWG. NO.",
    "PART NO",
    "PART NUMBER",
    "THICKNESS",
    "THK",
    "FINISH",
    "UNITS",
    "TOLERANCES",
    "TOLERANCE",
    "WEIGHT",
    "APPROVED",
    "PROJECTION",
    "NAME",
    "DATUM",
    "MASSSTAB",
    "MAßSTAB",
    "WERKSTOFF",
    "BLATT",
    "GEZ.",
    "GEZEICHNET",
    "BEARB.",
    "GEPR.",
    "BENENNUNG",
    "ZEICHNUNGSNUMMER",
    "DICKE",
    "MATERIAU",
    "MATIÈRE",
    "ECHELLE",
    "ÉCHELLE",
    "EPAISSEUR",
    "ÉPAISSEUR",
    "MATERIALE",
    "SCALA",
    "SPESSORE",
    "ESCALA",
    "ESPESOR",
    "TITRE",
    "DESSINE",
    "DESSINÉ",
    "FINITION",
    "N° PLAN",
    "IND",
    "TITOLO",
    "DISEGNATO",
    "FINITURA",
    "N. DISEGNO",
    "DATA",
    "TITULO",
    "TÍTULO",
    "DIBUJADO",
    "ACABADO",
    "FECHA",
    "N. PLANO",
    "ZEICHNUNGS-NR",
    "ZEICHNUNGSNR",
    "OBERFLÄCHE",
    "ÄNDERUNG",
    "名称",
    "图号",
    "日期",
    "设计",
    "版本",
    "表面处理",
    "品名",
    "図番",
    "日付",
    "製図",
    "改訂",
    "表面処理",
];

/// Parts of block names that mark sheets and title blocks.
const BLOCK_WORDS: &[&str] =
    &["TITLE", "FRAME", "BORDER", "RAHMEN", "SCHRIFT", "LOGO", "PROJECTION", "CARTOUCHE"];

/// Most letter heights between two labels of one title block: a field between them may be wide.
const LABEL_GAP: f64 = 25.0;

/// The title block of a drawing.
#[derive(Debug, Default)]
pub(super) struct Title {
    regions: Vec<(SpaceId, Bounds)>,
    inserts: Vec<bool>,
    /// What pairs of a label and a value beside it say.
    pub(super) pairs: Vec<Note>,
}

impl Title {
    /// Whether a place lies in the title block.
    pub(super) fn holds(&self, space: SpaceId, p: Point) -> bool {
        self.regions.iter().any(|(s, b)| *s == space && b.holds(p, 0.0))
    }

    /// Whether a space has a title block, and so is a sheet with a border of its own.
    pub(super) fn is_sheet(&self, space: SpaceId) -> bool {
        self.regions.iter().any(|(s, _)| *s == space)
    }

    /// Whether a block placement, or one round it, is a title block or a sheet.
    pub(super) fn is_in(&self, drawing: &Drawing, mut insert: Option<InsertId>) -> bool {
        // A chain of placements is no longer than their number, so damaged data cannot loop.
        for _ in 0..=drawing.inserts.len() {
            let Some(id) = insert else { return false };
            if self.inserts.get(id as usize).copied().unwrap_or(false) {
                return true;
            }
            insert = drawing.inserts.get(id as usize).and_then(|i| i.origin.insert);
        }
        false
    }
}

/// Finds title blocks by their attributes, their block names and their labels.
pub(super) fn find(drawing: &Drawing, statements: &[Statement], words: &Words) -> Title {
    let labels: Vec<bool> = statements.iter().map(is_text_label).collect();
    Title {
        inserts: title_inserts(drawing),
        regions: label_regions(drawing, statements, &labels),
        pairs: pairs(statements, &labels, words),
    }
}

fn title_inserts(drawing: &Drawing) -> Vec<bool> {
    let mut labels = vec![0_u32; drawing.inserts.len()];
    for text in &drawing.texts {
        if let (TextKind::Attribute { tag }, Some(id)) = (&text.kind, text.origin.insert)
            && let Some(n) = labels.get_mut(id as usize)
            && is_label_of_field(&tag.replace('_', " "))
        {
            *n += 1;
        }
    }
    drawing
        .inserts
        .iter()
        .zip(labels)
        .map(|(insert, n)| {
            let name = insert.block.to_uppercase();
            n >= 3 || BLOCK_WORDS.iter().any(|w| name.contains(w))
        })
        .collect()
}

fn is_label_of_field(text: &str) -> bool {
    static WITHOUT_STOP: LazyLock<HashSet<&str>> =
        LazyLock::new(|| LABELS.iter().map(|l| l.trim_end_matches('.')).collect());
    let bare = text.trim().trim_end_matches([':', '.']).trim().to_uppercase();
    WITHOUT_STOP.contains(bare.as_str()) || note::is_label(&bare)
}

fn is_text_label(s: &Statement) -> bool {
    matches!(s.carrier, Carrier::Text(_)) && s.callout.text.len() <= 24 && is_label_of_field(&s.callout.text)
}

/// Boxes round at least three labels each that stand close to one another, small compared with the sheet. A
/// revision table in another corner is a group of its own: one box round both would hold the views between them.
fn label_regions(drawing: &Drawing, statements: &[Statement], is_label: &[bool]) -> Vec<(SpaceId, Bounds)> {
    let mut regions = Vec::new();
    for space in 0..drawing.spaces.len() {
        let space = space as SpaceId;
        let labels = (statements.iter().zip(is_label))
            .filter(|(s, label)| s.origin.space == space && (**label || with_value(s, is_label_of_field)));
        let labels: Vec<&Statement> = labels.map(|(s, _)| s).collect();
        if labels.len() < 3 {
            continue;
        }
        let sheet = sheet_area(drawing, space, &labels);
        for group in neighbours(&labels).iter().filter(|g| is_block(g)) {
            let mut region = Bounds::EMPTY;
            for l in group {
                region.add(Point::new(l.bounds.min.x - l.height, l.bounds.min.y - l.height));
                region.add(Point::new(l.bounds.max.x + l.height, l.bounds.max.y + l.height));
            }
            if area(&region) <= 0.2 * sheet {
                regions.push((space, region));
            }
        }
    }
    regions
}

/// Whether labels that stand together are those of a title block: three fields, or three lines with label and value of
/// which two say who drew the sheet and when, for a view may have lines of its material, thickness and scale too.
fn is_block(group: &[&Statement]) -> bool {
    let fields = group.iter().filter(|s| is_text_label(s)).count();
    let of_sheet = |text: &str| is_label_of_field(text) && !note::is_label(text);
    fields >= 3 || group.len() >= 3 && group.iter().filter(|s| with_value(s, of_sheet)).count() >= 2
}

/// Whether a text is a label and its value on one line, `DATE: 2024-05-17`, and the label is of a kind.
fn with_value(s: &Statement, kind: fn(&str) -> bool) -> bool {
    let text = s.callout.text.trim();
    matches!(s.carrier, Carrier::Text(_))
        && !text.contains('\n')
        && text
            .split_once([':', '：'])
            .is_some_and(|(label, value)| label.len() <= 24 && !value.trim().is_empty() && kind(label))
}

fn area(b: &Bounds) -> f64 {
    (b.max.x - b.min.x) * (b.max.y - b.min.y)
}

/// Area of the box round all lines and labels of a space.
fn sheet_area(drawing: &Drawing, space: SpaceId, labels: &[&Statement]) -> f64 {
    let mut all = Bounds::EMPTY;
    for l in labels {
        all.add(l.bounds.min);
        all.add(l.bounds.max);
    }
    for s in drawing.segments.iter().filter(|s| s.origin.visible && s.origin.space == space) {
        all.add(s.from);
        all.add(s.to);
    }
    for o in drawing.outlines.iter().filter(|o| o.origin.visible && o.origin.space == space) {
        drawing.corners_of(o).iter().for_each(|corner| all.add(*corner));
    }
    area(&all)
}

/// Labels in groups whose members follow one another within [`LABEL_GAP`].
fn neighbours<'s>(labels: &[&'s Statement]) -> Vec<Vec<&'s Statement>> {
    let mut groups: Vec<Vec<&Statement>> = Vec::new();
    for &label in labels {
        let near = |other: &&Statement| {
            let reach = LABEL_GAP * label.height.max(other.height);
            let (a, b) = (&label.bounds, &other.bounds);
            let dx = (a.min.x - b.max.x).max(b.min.x - a.max.x).max(0.0);
            let dy = (a.min.y - b.max.y).max(b.min.y - a.max.y).max(0.0);
            dx.hypot(dy) <= reach
        };
        let (joined, rest): (Vec<_>, Vec<_>) = groups.into_iter().partition(|g| g.iter().any(near));
        groups = rest;
        let mut group: Vec<&Statement> = joined.into_iter().flatten().collect();
        group.push(label);
        groups.push(group);
    }
    groups
}

/// A label such as `MATERIAL` takes its value from the nearest text to its right or below it.
fn pairs(statements: &[Statement], is_label: &[bool], words: &Words) -> Vec<Note> {
    let mut notes = Vec::new();
    let all = || statements.iter().zip(is_label);
    for (label, _) in all().filter(|(_, is_label)| **is_label) {
        let value = all()
            .filter(|(v, is_label)| {
                v.origin.space == label.origin.space && matches!(v.carrier, Carrier::Text(_)) && !**is_label
            })
            .filter_map(|(v, _)| value_distance(label, v).map(|d| (d, v)))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((_, value)) = value {
            let tag = label.callout.text.trim().trim_end_matches(':');
            let note = note::read_attribute_with(tag, &value.callout.text, words);
            if !note.is_empty() {
                notes.push(note);
            }
        }
    }
    notes
}

fn value_distance(label: &Statement, value: &Statement) -> Option<f64> {
    let h = label.height.max(value.height);
    let right = value.bounds.min.x - label.bounds.max.x;
    let below = label.bounds.min.y - value.bounds.max.y;
    let same_line = (value.bounds.min.y - label.bounds.min.y).abs() <= 0.8 * h;
    // A value is often set in a little from the left edge of its label.
    let overlaps = value.bounds.min.x <= label.bounds.max.x + h && value.bounds.max.x >= label.bounds.min.x;
    if same_line && right >= -0.5 * h && right <= 16.0 * h {
        return Some(right.max(0.0));
    }
    (overlaps && below >= -0.5 * h && below <= 3.0 * h).then(|| below.max(0.0) + h)
}
