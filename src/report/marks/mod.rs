//! Findings as marks on the drawing: a ring and a number at each hole, beside one hole of each group what to call out
//! instead, and beside the sheet all that was found, in full. Writes no file.

mod groups;
mod place;

use crate::check::{DrawingResult, FindingResult, Shape as Shown, drawn};
use crate::drawing::{Drawing, SpaceId};
use crate::dxf::marking::{Align, Mark, Shape, harmless};
use crate::finding::Level;
use crate::geometry::{Bounds, Point};

use super::clean::flowing;
use groups::{Group, Spot, groups};
use place::{Sheet, text_width};

/// Letters of a line of the block.
const WIDTH: usize = 60;
/// Distances of a label from its ring that are tried, in letter heights.
const LABEL_GAPS: [f64; 10] = [2.5, 4.0, 6.0, 9.0, 13.0, 18.0, 24.0, 32.0, 42.0, 54.0];

/// The marks of one drawing; none where nothing counts. `drawing` is what was read of the same file.
pub fn marks(result: &DrawingResult, drawing: &Drawing) -> Vec<Mark> {
    let counting: Vec<&FindingResult> = result.findings.iter().filter(|f| f.waived.is_none()).collect();
    if counting.is_empty() {
        return Vec::new();
    }
    let groups = groups(result, drawing, &counting);
    let whole: Vec<&FindingResult> =
        counting.iter().copied().filter(|f| f.hole.is_none() && f.x.is_none()).collect();
    let shapes = drawn(drawing);
    let drawn_in = |index: SpaceId| -> Vec<&Shown> {
        let here = shapes.iter().filter(|(space, _)| *space == usize::from(index));
        here.map(|(_, shape)| shape).collect()
    };
    // What is said of the whole drawing is written into the first space with anything in it.
    let spaces = 0..SpaceId::try_from(drawing.spaces.len()).unwrap_or(SpaceId::MAX);
    let home = spaces.into_iter().find(|space| !place::extents(&drawn_in(*space)).is_empty()).unwrap_or(0);
    let mut all = Vec::new();
    for (index, space) in (0..).zip(&drawing.spaces) {
        let here: Vec<&Group<'_>> = groups.iter().filter(|g| g.space == index).collect();
        let whole: &[_] = if index == home { &whole } else { &[] };
        if here.is_empty() && whole.is_empty() {
            continue;
        }
        let mut page = Page { space: &space.name, sheet: Sheet::of(&drawn_in(index)), marks: &mut all };
        page.holes(&here);
        page.block(result, whole, &here);
    }
    if drawing.spaces.is_empty() {
        let mut page = Page { space: "model", sheet: Sheet::of(&[]), marks: &mut all };
        page.block(result, &whole, &[]);
    }
    all
}

/// The level of a finding.
fn level(finding: &FindingResult) -> Level {
    Level::parse(&finding.level).unwrap_or(Level::Fail)
}

/// One space while marks are put into it.
struct Page<'a> {
    space: &'a str,
    sheet: Sheet,
    marks: &'a mut Vec<Mark>,
}

impl Page<'_> {
    fn add(&mut self, level: Level, shape: Shape) {
        self.marks.push(Mark { level, space: self.space.to_owned(), shape });
    }

    fn text(&mut self, level: Level, at: Point, align: Align, text: &str) {
        let height = self.sheet.letter;
        self.add(level, Shape::Text { at, align, height, text: harmless(text) });
    }

    /// Rings first, so that no text is put where one will be.
    fn holes(&mut self, groups: &[&Group<'_>]) {
        self.keep_free_for_block();
        for group in groups {
            for spot in &group.spots {
                self.ring(group.level(), spot);
            }
        }
        for group in groups {
            for spot in &group.spots {
                self.number(group.level(), spot);
            }
        }
        for group in groups {
            self.label(group);
        }
    }

    /// No label shall stand where the block will.
    fn keep_free_for_block(&mut self) {
        let (letter, corner) = (self.sheet.letter, self.sheet.extents);
        let width = text_width(&"x".repeat(WIDTH), letter);
        self.sheet.occupy(Bounds {
            min: Point::new(corner.max.x + 3.0 * letter, corner.min.y.min(corner.max.y - width)),
            max: Point::new(corner.max.x + 6.0 * letter + width, corner.max.y + letter),
        });
    }

    fn ring_radius(&self, spot: &Spot) -> f64 {
        (spot.radius * 1.35).max(spot.radius + 0.6 * self.sheet.letter)
    }

    /// A ring of four arcs, open where centre lines cross it: no program takes it for a hole.
    fn ring(&mut self, level: Level, spot: &Spot) {
        const OPEN_DEG: f64 = 8.0;
        let radius = self.ring_radius(spot);
        for quadrant in [0.0, 90.0, 180.0, 270.0] {
            let (start_deg, end_deg) = (quadrant + OPEN_DEG, quadrant + 90.0 - OPEN_DEG);
            self.add(level, Shape::Arc { center: spot.at, radius, start_deg, end_deg });
        }
        let corner = |sign: f64| Point::new(spot.at.x + sign * radius, spot.at.y + sign * radius);
        self.sheet.occupy(Bounds { min: corner(-1.0), max: corner(1.0) });
    }

    /// The number of the report, close to the ring.
    fn number(&mut self, level: Level, spot: &Spot) {
        if spot.id.is_empty() {
            return;
        }
        let letter = self.sheet.letter;
        let size = (text_width(&spot.id, letter), letter);
        let at = self.sheet.beside(spot.at, self.ring_radius(spot), size, &[0.3, 1.2]);
        if to_the_left(&at, spot.at) {
            self.text(level, Point::new(at.max.x, at.min.y), Align::Right, &spot.id);
        } else {
            self.text(level, at.min, Align::Left, &spot.id);
        }
    }

    /// What to call out and the rules, once for all holes of a group, with a line to the first.
    fn label(&mut self, group: &Group<'_>) {
        let Some(first) = group.spots.first() else { return };
        let letter = self.sheet.letter;
        let lines = group.label();
        let width = lines.iter().map(|(_, text)| text_width(text, letter)).fold(0.0, f64::max);
        let size = (width, letter * (1.6 * lines.len() as f64 - 0.6));
        let radius = self.ring_radius(first);
        let bounds = self.sheet.beside(first.at, radius, size, &LABEL_GAPS);
        self.leg(group.level(), first.at, radius, bounds);
        // The text ends where the line to the ring begins, however wide the letters are.
        let (x, align) = if to_the_left(&bounds, first.at) {
            (bounds.max.x, Align::Right)
        } else {
            (bounds.min.x, Align::Left)
        };
        for (nth, (level, text)) in (0_u32..).zip(&lines) {
            let y = bounds.max.y - letter - 1.6 * letter * f64::from(nth);
            self.text(*level, Point::new(x, y), align, text);
        }
    }

    /// The line from a label to its ring, along the label's side.
    fn leg(&mut self, level: Level, center: Point, radius: f64, label: Bounds) {
        let gap = 0.4 * self.sheet.letter;
        let x = if to_the_left(&label, center) { label.max.x + gap } else { label.min.x - gap };
        let from = Point::new(x, label.max.y);
        let to = Point::new(x, label.min.y);
        self.add(level, Shape::Line { from, to });
        let y = center.y.clamp(to.y, from.y);
        let end = Point::new(x, y);
        let far = end.distance(center);
        if far > radius {
            let share = radius / far;
            let on_ring =
                Point::new(center.x + (end.x - center.x) * share, center.y + (end.y - center.y) * share);
            self.add(level, Shape::Line { from: end, to: on_ring });
        }
    }

    /// All that was found in this space, in full, to the right of the sheet.
    fn block(&mut self, result: &DrawingResult, whole: &[&FindingResult], groups: &[&Group<'_>]) {
        let letter = self.sheet.letter;
        let corner = self.sheet.extents;
        let x = corner.max.x + 4.0 * letter;
        let mut y = corner.max.y - letter;
        let lines = block_lines(result, whole, groups);
        for line in &lines {
            match line {
                Line::Gap => y -= 0.9 * letter,
                Line::Said(level, indent, text) => {
                    self.text(*level, Point::new(x + indent * letter, y), Align::Left, text);
                    y -= 1.6 * letter;
                }
            }
        }
    }
}

/// Whether a text stands to the left of what it is about.
fn to_the_left(text: &Bounds, of: Point) -> bool {
    text.min.x + text.max.x < 2.0 * of.x
}

/// A line of the block.
enum Line {
    Gap,
    /// Level, indentation in letter heights, text.
    Said(Level, f64, String),
}

fn block_lines(result: &DrawingResult, whole: &[&FindingResult], groups: &[&Group<'_>]) -> Vec<Line> {
    let mut lines = Vec::new();
    let levels = whole.iter().map(|f| level(f)).chain(groups.iter().map(|g| g.level()));
    let worst = levels.max().unwrap_or(Level::Note);
    lines.push(Line::Said(worst, 0.0, format!("HOLES TO CORRECT: {}", counted(result))));
    for finding in whole {
        lines.push(Line::Gap);
        said(finding, &mut lines);
    }
    for group in groups {
        lines.push(Line::Gap);
        let heads = std::iter::once(group.ids()).chain(group.call_out()).filter(|text| !text.is_empty());
        for head in heads {
            let wrapped = wrapped(&head).into_iter();
            lines.extend(wrapped.map(|text| Line::Said(group.level(), 0.0, text)));
        }
        for finding in &group.findings {
            said(finding, &mut lines);
        }
    }
    lines
}

/// Rule, message and remedy of a finding.
fn said(finding: &FindingResult, lines: &mut Vec<Line>) {
    let level = level(finding);
    let head = format!("{level}: {}", finding.rule);
    let texts = std::iter::once(&finding.message).chain(&finding.remedy);
    lines.push(Line::Said(level, 0.0, head));
    for text in texts {
        lines.extend(wrapped(&flowing(text)).into_iter().map(|text| Line::Said(level, 2.0, text)));
    }
}

/// `2 fail, 1 warn, 1 waived and not marked`.
fn counted(result: &DrawingResult) -> String {
    let (waived, counting): (Vec<&FindingResult>, Vec<_>) =
        result.findings.iter().partition(|f| f.waived.is_some());
    let mut parts = Vec::new();
    for level in [Level::Fail, Level::Warn, Level::Note] {
        let count = counting.iter().filter(|f| self::level(f) == level).count();
        if count > 0 {
            parts.push(format!("{count} {level}"));
        }
    }
    if !waived.is_empty() {
        parts.push(format!("{} waived and not marked", waived.len()));
    }
    parts.join(", ")
}

/// A text in lines of some [`WIDTH`] letters, cut at blanks; a longer word is cut inside.
fn wrapped(text: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut length = 0;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let letters: Vec<char> = word.chars().collect();
        for piece in letters.chunks(WIDTH) {
            if length > 0 && length + 1 + piece.len() > WIDTH {
                lines.push(String::new());
                length = 0;
            }
            let Some(line) = lines.last_mut() else { continue };
            if length > 0 {
                line.push(' ');
                length += 1;
            }
            line.extend(piece);
            length += piece.len();
        }
    }
    lines
}

#[cfg(test)]
mod tests;
