//! What is seen on a drawing as text: each callout with its holes, what has no partner and why, and what every other
//! circle was taken for. Says nothing about right and wrong.

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::clean::{flowing, visible};
use super::page::{Page, Tone};
use super::text::numbers::{coordinate, length, shown, unit_named};
use super::text::words::{counted, from, ids, joint, material};
use super::text::{Detail, Look};
use crate::callout::{Callout, Part};
use crate::check::{CalloutSeen, Examined, HoleResult, SeenDrawing};
use crate::pairing::{SeenRow, UnitVote};
use crate::rules::row_name;
use crate::units::Unit;

const INDENT: usize = 2;
const INNER: usize = 6;

/// Writes one drawing. `examined` is what `seen` was made from; it adds the reasons.
///
/// # Errors
/// Those of the writer.
pub fn write(seen: &SeenDrawing, examined: &Examined, look: &Look, out: &mut dyn Write) -> io::Result<()> {
    let mut page = Page::new(out, look.width, look.colour);
    let view = View { seen, examined, unit: unit_named(&seen.unit), verbose: look.detail == Detail::Verbose };
    page.split(&visible(&seen.path), &view.header())?;
    view.sheet(&mut page)?;
    view.problems(&mut page)?;
    for (index, callout) in seen.callouts.iter().enumerate().filter(|(_, c)| !c.holes.is_empty()) {
        view.callout(index, callout, &mut page)?;
    }
    view.unpaired_holes(&mut page)?;
    view.unpaired_callouts(&mut page)?;
    view.rows(&mut page)?;
    view.circles(&mut page)
}

struct View<'a> {
    seen: &'a SeenDrawing,
    examined: &'a Examined,
    unit: Unit,
    verbose: bool,
}

impl View<'_> {
    fn header(&self) -> String {
        if self.seen.state == "unreadable" {
            return "unreadable".to_owned();
        }
        let holes = counted(self.seen.holes.len() as u64, "hole");
        let callouts = counted(self.seen.callouts.len() as u64, "callout");
        let partly = if self.seen.state == "partly-read" { "partly read, " } else { "" };
        let paired = self.seen.holes.iter().filter(|h| h.paired_by != "drawn").count();
        format!("{partly}{holes}, {paired} paired, {callouts}")
    }

    /// Unit, thickness and material of the sheet, and who says so.
    fn sheet(&self, page: &mut Page<'_>) -> io::Result<()> {
        if self.seen.state == "unreadable" {
            return Ok(());
        }
        let mut cells = vec![format!("unit {}, {}", self.unit, from(&self.seen.unit_source))];
        cells.push(self.seen.thickness_mm.map_or("thickness unknown".to_owned(), |t| {
            let source = self.examined.paired.sheet.thickness.map_or("none", |(_, s)| s.name());
            format!("thickness {}, {}", length(t, self.unit), from(source))
        }));
        cells.push(self.seen.material.as_deref().map_or("material unknown".to_owned(), material));
        page.packed(&" ".repeat(INDENT), INDENT, INDENT, &cells)?;
        let reading = &self.examined.paired.unit;
        if self.verbose || reading.doubtful {
            let says = |v: &UnitVote| format!("{} by {}", v.unit, flowing(&v.who));
            let votes: Vec<String> = reading.votes.iter().map(says).collect();
            if !votes.is_empty() {
                page.prose(INDENT, &format!("unit: {}", votes.join("; ")))?;
            }
        }
        Ok(())
    }

    fn problems(&self, page: &mut Page<'_>) -> io::Result<()> {
        for problem in self.seen.problems.iter().filter(|p| p.loss || self.verbose) {
            let word = if problem.loss { "lost" } else { "seen" };
            let text = format!("line {}: {}", problem.line, flowing(&problem.message));
            page.labelled(INDENT, (Tone::Strong, word), INNER + 2, &text)?;
        }
        Ok(())
    }

    fn callout(&self, index: usize, callout: &CalloutSeen, page: &mut Page<'_>) -> io::Result<()> {
        page.blank()?;
        let place = self.place(callout.x, callout.y);
        page.labelled(0, (Tone::Strong, "callout"), 9, &format!("{}   at {place}", flowing(&callout.text)))?;
        self.reading(index, callout, page)?;
        let holes: Vec<&HoleResult> =
            self.seen.holes.iter().filter(|h| callout.holes.contains(&h.id)).collect();
        self.holes(&holes, page)
    }

    /// What was not understood and what is amiss; with `--verbose` what each piece was read as.
    fn reading(&self, index: usize, callout: &CalloutSeen, page: &mut Page<'_>) -> io::Result<()> {
        if let Some(seen) = self.examined.paired.callouts.get(index).filter(|_| self.verbose) {
            page.prose(INNER, &format!("read as {}", pieces(&seen.callout)))?;
        } else if !callout.reads.unread.is_empty() {
            let unread: Vec<String> =
                callout.reads.unread.iter().map(|u| format!("'{}'", flowing(u))).collect();
            page.prose(INNER, &format!("not understood: {}", unread.join(", ")))?;
        }
        if let Some(left) = &callout.left {
            page.prose(INNER, &flowing(left))?;
        }
        Ok(())
    }

    /// Holes in rows, under what they have in common.
    fn holes(&self, holes: &[&HoleResult], page: &mut Page<'_>) -> io::Result<()> {
        for same in holes.chunk_by(|a, b| self.common(a) == self.common(b)) {
            page.packed(&" ".repeat(INNER), INNER, INNER, &self.common(same[0]))?;
            let rows: Vec<Vec<String>> = same.iter().map(|h| self.hole(h)).collect();
            if !self.verbose {
                page.table(INDENT, &rows)?;
                continue;
            }
            for (row, hole) in rows.iter().zip(same) {
                page.packed(&" ".repeat(INDENT), INDENT, INDENT, row)?;
                for reason in self.reasons(hole) {
                    page.prose(INNER, &reason)?;
                }
            }
        }
        Ok(())
    }

    fn common(&self, hole: &HoleResult) -> Vec<String> {
        let mut cells: Vec<String> = joint(hole, self.unit).map(|j| format!("for {j}")).into_iter().collect();
        cells.push(format!("layer {}", flowing(&hole.layer)));
        if hole.space != "model" {
            cells.push(format!("on {}", flowing(&hole.space)));
        }
        cells.extend(hole.tag.as_deref().map(|t| format!("tag {}", flowing(t))));
        cells
    }

    fn hole(&self, hole: &HoleResult) -> Vec<String> {
        let mut cells = vec![hole.id.to_string(), self.place(hole.x, hole.y)];
        cells.push(shown(hole, self.unit).found);
        cells.extend(hole.verdict.as_deref().map(str::to_owned));
        cells.push(if hole.paired_by == "drawn" {
            "as drawn".to_owned()
        } else {
            format!("by {}, {:.2}", visible(&hole.paired_by), hole.confidence)
        });
        cells
    }

    fn reasons(&self, hole: &HoleResult) -> Vec<String> {
        let paired = self.examined.paired.holes.iter().find(|h| h.id == hole.id);
        let terms = paired.map_or(&[][..], |h| &h.reasons);
        terms
            .iter()
            .map(|t| format!("{}, cost {:.3}: {}", t.name, t.cost, flowing(&t.detail.to_string())))
            .collect()
    }

    fn unpaired_holes(&self, page: &mut Page<'_>) -> io::Result<()> {
        let called: Vec<&str> =
            self.seen.callouts.iter().flat_map(|c| &c.holes).map(|id| id.as_str()).collect();
        let alone: Vec<&HoleResult> =
            self.seen.holes.iter().filter(|h| !called.contains(&h.id.as_str())).collect();
        if alone.is_empty() {
            return Ok(());
        }
        page.blank()?;
        page.labelled(0, (Tone::Strong, "holes without a callout"), 0, "")?;
        self.holes(&alone, page)
    }

    fn unpaired_callouts(&self, page: &mut Page<'_>) -> io::Result<()> {
        let mut first = true;
        for (index, callout) in self.seen.callouts.iter().enumerate().filter(|(_, c)| c.holes.is_empty()) {
            if std::mem::take(&mut first) {
                page.blank()?;
                page.labelled(0, (Tone::Strong, "callouts without a hole"), 0, "")?;
            }
            let place = self.place(callout.x, callout.y);
            page.prose(INDENT, &format!("{}   at {place}", flowing(&callout.text)))?;
            self.reading(index, callout, page)?;
        }
        Ok(())
    }

    fn rows(&self, page: &mut Page<'_>) -> io::Result<()> {
        let rows = &self.examined.paired.rows;
        if rows.is_empty() {
            return Ok(());
        }
        page.blank()?;
        page.labelled(0, (Tone::Strong, "rows of the hole list"), 0, "")?;
        let cells: Vec<Vec<String>> = rows.iter().map(|r| self.row(r)).collect();
        page.table(INDENT, &cells)?;
        for row in rows {
            if let Some(left) = &row.left {
                page.prose(INDENT, &format!("{}: {}", flowing(&row_name(&row.row)), flowing(left)))?;
            }
        }
        Ok(())
    }

    fn row(&self, seen: &SeenRow) -> Vec<String> {
        let holes: Vec<&HoleResult> = seen.holes.iter().filter_map(|i| self.seen.holes.get(*i)).collect();
        let found = match holes.len() {
            0 => "no hole".to_owned(),
            1 => format!("1 hole: {}", ids(&holes)),
            n => format!("{n} holes: {}", ids(&holes)),
        };
        let by = if holes.is_empty() { String::new() } else { format!("by {}", seen.by.name()) };
        vec![flowing(&row_name(&seen.row)).into_owned(), found, by]
    }

    /// What circles that are no holes were taken for: counted, with `--verbose` each.
    fn circles(&self, page: &mut Page<'_>) -> io::Result<()> {
        let mut by_role: BTreeMap<&str, Vec<Vec<String>>> = BTreeMap::new();
        for circle in self.seen.circles.iter().filter(|c| c.role != "hole") {
            let mut cells = vec![self.place(circle.x, circle.y)];
            cells.push(format!("Ø{}", coordinate(circle.diameter, self.unit)));
            cells.push(format!("layer {}", flowing(&circle.layer)));
            cells.push(format!("from {}", visible(&circle.made_of)));
            cells.push(circle.hole.as_deref().map(|h| format!("of {h}")).unwrap_or_default());
            by_role.entry(&circle.role).or_default().push(cells);
        }
        if by_role.is_empty() {
            return Ok(());
        }
        page.blank()?;
        if !self.verbose {
            let counts: Vec<String> = by_role.iter().map(|(r, c)| format!("{} {r}", c.len())).collect();
            return page.prose(0, &format!("circles that are no holes: {}", counts.join(", ")));
        }
        page.labelled(0, (Tone::Strong, "circles that are no holes"), 0, "")?;
        for (role, cells) in by_role {
            page.prose(INDENT, role)?;
            page.table(INNER, &cells)?;
        }
        Ok(())
    }

    fn place(&self, x: f64, y: f64) -> String {
        format!("x {}  y {}", coordinate(x, self.unit), coordinate(y, self.unit))
    }
}

/// `count '4X', size 'Ø3.3', not understood 'FOO'`.
fn pieces(callout: &Callout) -> String {
    let mut pieces = Vec::new();
    for span in callout.spans.iter().filter(|s| s.part != Part::Filler) {
        let text = callout.text.get(span.range.clone()).unwrap_or_default();
        pieces.push(format!("{} '{}'", part_word(span.part), flowing(text)));
    }
    pieces.join(", ")
}

const fn part_word(part: Part) -> &'static str {
    match part {
        Part::Count => "count",
        Part::Size => "size",
        Part::Tolerance => "tolerance",
        Part::SecondUnit => "size in the other unit",
        Part::PitchCircle => "pitch circle",
        Part::Depth => "depth",
        Part::Entry => "entry",
        Part::Thread => "thread",
        Part::Tapped => "tapped",
        Part::Process => "process",
        Part::Screw => "screw",
        Part::Tag => "tag",
        Part::Thickness => "thickness",
        Part::Coating => "coating",
        Part::General => "general",
        Part::Filler => "filler",
        Part::Unread => "not understood",
    }
}
