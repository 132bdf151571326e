//! Where the title block is, and what its label and value pairs say. Attributes are read by `texts`.

use std::collections::HashSet;
use std::sync::LazyLock;

use foldhash::fast::RandomState;

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

/// Most letter heights, of labels or of what fills their fields, between two labels of one title block: a field between
/// them may be wide, and labels are often small.
const LABEL_GAP: f64 = 25.0;
/// Most of them above or below a line that holds label and value: no field lies between, and the lines of a view's own
/// material and thickness may stand over the title block.
const LINE_GAP: f64 = 8.0;

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
            if self.inserts.get(id.index()).copied().unwrap_or(false) {
                return true;
            }
            insert = drawing.inserts.get(id.index()).and_then(|i| i.origin.insert);
        }
        false
    }
}

/// Finds title blocks by their attributes, their block names and their labels.
pub(super) fn find(drawing: &Drawing, statements: &[Statement], words: &Words) -> Title {
    let is_label: Vec<bool> = statements.iter().map(is_text_label).collect();
    let labels: Vec<Label<'_>> = labels(statements, &is_label);
    Title {
        inserts: title_inserts(drawing),
        regions: label_regions(drawing, &labels),
        pairs: pairs(&labels, words),
    }
}

fn title_inserts(drawing: &Drawing) -> Vec<bool> {
    let mut labels = vec![0_u32; drawing.inserts.len()];
    for text in &drawing.texts {
        if let (TextKind::Attribute { tag }, Some(id)) = (&text.kind, text.origin.insert)
            && let Some(n) = labels.get_mut(id.index())
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
    static WITHOUT_STOP: LazyLock<HashSet<&str, RandomState>> =
        LazyLock::new(|| LABELS.iter().map(|l| l.trim_end_matches('.')).collect());
    let bare = text.trim().trim_end_matches([':', '.']).trim().to_uppercase();
    WITHOUT_STOP.contains(bare.as_str()) || Words::built_in().is_label(&bare)
}

fn is_text_label(s: &Statement) -> bool {
    matches!(s.carrier, Carrier::Text(_)) && s.callout.text.len() <= 24 && is_label_of_field(&s.callout.text)
}

/// A label with the text that fills its field, if one does.
struct Label<'s> {
    text: &'s Statement,
    value: Option<&'s Statement>,
}

impl Label<'_> {
    /// Height of the larger letters of the field.
    fn height(&self) -> f64 {
        self.value.map_or(0.0, |value| value.height).max(self.text.height)
    }
}

/// The labels of all title blocks. A label such as `MATERIAL` takes its value from the nearest text to its right or
/// below it, unless it holds it itself.
fn labels<'s>(statements: &'s [Statement], is_label: &[bool]) -> Vec<Label<'s>> {
    let all = || statements.iter().zip(is_label);
    let value_of = |label: &Statement| {
        let values = all().filter(|(v, is_label)| {
            v.origin.space == label.origin.space && matches!(v.carrier, Carrier::Text(_)) && !**is_label
        });
        let near = values.filter_map(|(v, _)| value_distance(label, v).map(|d| (d, v)));
        near.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, value)| value)
    };
    all()
        .filter_map(|(text, is_label)| match is_label {
            true => Some(Label { text, value: value_of(text) }),
            false => with_value(text, is_label_of_field).then_some(Label { text, value: None }),
        })
        .collect()
}

/// Boxes round at least three labels each that stand close to one another, with what fills their fields, small compared
/// with the sheet. A revision table in another corner is a group of its own: one box round both would hold the views
/// between them.
fn label_regions(drawing: &Drawing, labels: &[Label<'_>]) -> Vec<(SpaceId, Bounds)> {
    let mut regions = Vec::new();
    for space in 0..drawing.spaces.len() {
        let space = space as SpaceId;
        let labels: Vec<&Label<'_>> = labels.iter().filter(|l| l.text.origin.space == space).collect();
        if labels.len() < 3 {
            continue;
        }
        let sheet = sheet_area(drawing, space, &labels);
        for group in neighbours(&labels).iter().filter(|g| is_block(g)) {
            let mut region = Bounds::EMPTY;
            for text in group.iter().flat_map(|label| std::iter::once(label.text).chain(label.value)) {
                region.add(Point::new(text.bounds.min.x - text.height, text.bounds.min.y - text.height));
                region.add(Point::new(text.bounds.max.x + text.height, text.bounds.max.y + text.height));
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
fn is_block(group: &[&Label<'_>]) -> bool {
    let fields = group.iter().filter(|label| is_text_label(label.text)).count();
    let of_sheet = |text: &str| is_label_of_field(text) && !Words::built_in().is_label(text);
    fields >= 3
        || group.len() >= 3 && group.iter().filter(|label| with_value(label.text, of_sheet)).count() >= 2
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
fn sheet_area(drawing: &Drawing, space: SpaceId, labels: &[&Label<'_>]) -> f64 {
    let mut all = Bounds::EMPTY;
    for l in labels {
        all.add(l.text.bounds.min);
        all.add(l.text.bounds.max);
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
fn neighbours<'l, 's>(labels: &[&'l Label<'s>]) -> Vec<Vec<&'l Label<'s>>> {
    let mut groups: Vec<Vec<&Label<'_>>> = Vec::new();
    for &label in labels {
        let near = |other: &&Label<'_>| {
            let height = label.height().max(other.height());
            let lines = !is_text_label(label.text) || !is_text_label(other.text);
            let (a, b) = (&label.text.bounds, &other.text.bounds);
            let dx = (a.min.x - b.max.x).max(b.min.x - a.max.x).max(0.0);
            let dy = (a.min.y - b.max.y).max(b.min.y - a.max.y).max(0.0);
            dx.hypot(dy) <= LABEL_GAP * height && (!lines || dy <= LINE_GAP * height)
        };
        let (joined, rest): (Vec<_>, Vec<_>) = groups.into_iter().partition(|g| g.iter().any(near));
        groups = rest;
        let mut group: Vec<&Label<'_>> = joined.into_iter().flatten().collect();
        group.push(label);
        groups.push(group);
    }
    groups
}

/// What labels say with what fills their fields.
fn pairs(labels: &[Label<'_>], words: &Words) -> Vec<Note> {
    let filled = labels.iter().filter_map(|label| Some((label.text, label.value?)));
    let notes = filled.map(|(label, value)| {
        let tag = label.callout.text.trim().trim_end_matches(':');
        note::read_attribute_with(tag, &value.callout.text, words)
    });
    notes.filter(|note| !note.is_empty()).collect()
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
