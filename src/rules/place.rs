//! What rules share: the screw holes of a subject and findings at their place.

use super::{Rule, Subject};
use crate::drawing::{LayerId, Origin};
use crate::finding::{Finding, Place, RuleName};
use crate::joint::{Row, Screw};
use crate::pairing::{Hole, Paired, SeenCallout};
use crate::practice::Practice;
use crate::shared::SharedText;
use crate::units::Unit;
use crate::verdict::{Judged, Judgements};

/// A screw hole with all that is known of it.
#[derive(Debug, Clone, Copy)]
pub struct ScrewHole<'a> {
    /// Index into the holes of the drawing.
    pub index: usize,
    /// The hole.
    pub hole: &'a Hole,
    /// Its judgement.
    pub judged: &'a Judged,
    /// The number of that: holes that are alike have one and the same.
    pub judgement: usize,
    /// Its screw.
    pub screw: &'a Screw,
    /// Its row of the hole list.
    pub row: Option<&'a Row>,
    /// What the shop decides.
    pub practice: &'a Practice,
}

impl<'a> ScrewHole<'a> {
    /// Every hole of a judged drawing that is meant for a self-forming screw.
    pub fn all(paired: &'a Paired, judged: &'a Judgements, practice: &'a Practice) -> Vec<ScrewHole<'a>> {
        let holes = paired.holes.iter().zip(judged.iter()).enumerate();
        let screws = holes.filter_map(|(index, (hole, (judgement, judged)))| {
            let screw = hole.screw.as_ref()?;
            let row = hole.row.and_then(|row| paired.rows.get(row)).map(|seen| &seen.row);
            Some(ScrewHole { index, hole, judged, judgement, screw, row, practice })
        });
        screws.collect()
    }
}

impl<'a> Subject<'a> {
    /// The drawing's unit.
    pub fn unit(&self) -> Unit {
        self.paired.unit.unit
    }

    /// Every hole that is meant for a self-forming screw.
    pub fn screw_holes(&self) -> impl Iterator<Item = ScrewHole<'a>> {
        self.screws.iter().copied()
    }

    /// The callout of a hole.
    pub fn callout_of(&self, hole: &Hole) -> Option<&'a SeenCallout> {
        let callouts: &'a [SeenCallout] = &self.paired.callouts;
        hole.callout.and_then(|index| callouts.get(index))
    }

    /// Name of a layer; none if the drawing does not know it.
    pub fn layer_name(&self, layer: LayerId) -> Option<&'a str> {
        let layers = &self.drawing.layers;
        usize::try_from(layer).ok().and_then(|index| layers.get(index)).map(|layer| layer.name.as_str())
    }

    fn origin_place(&self, origin: &Origin) -> Place {
        Place {
            handle: origin.handle_text(),
            layer: self.layer_name(origin.layer).map(SharedText::copied),
            line: (origin.line > 0).then_some(origin.line.into()),
            ..Place::default()
        }
    }

    /// The place of a hole: its centre and layer, with the handle and line of its callout if it has one, because
    /// the callout is what a drafter edits.
    pub fn hole_place(&self, hole: &Hole) -> Place {
        let callout = self.callout_of(hole).map(|seen| &seen.origin);
        let edited = callout.filter(|origin| origin.handle.is_some() || origin.line > 0);
        let edited = edited.unwrap_or(&hole.origin);
        Place {
            hole: Some(hole.id.clone()),
            at: Some((hole.at.x, hole.at.y)),
            handle: edited.handle_text(),
            layer: self.layer_name(hole.origin.layer).map(SharedText::copied),
            line: (edited.line > 0).then_some(edited.line.into()),
        }
    }
}

impl Rule {
    fn finding(&self, place: Place, message: impl Into<SharedText>) -> Finding {
        Finding { rule: RuleName(self.name), place, message: message.into(), remedy: None }
    }

    /// A finding about one hole.
    pub fn at_hole(&self, subject: &Subject<'_>, hole: &Hole, message: impl Into<SharedText>) -> Finding {
        self.finding(subject.hole_place(hole), message)
    }

    /// A finding of the whole drawing that an entity of it shows.
    pub fn at_entity(
        &self,
        subject: &Subject<'_>,
        origin: &Origin,
        message: impl Into<SharedText>,
    ) -> Finding {
        self.finding(subject.origin_place(origin), message)
    }

    /// A finding of the whole drawing.
    pub fn at_drawing(&self, message: impl Into<SharedText>) -> Finding {
        self.finding(Place::default(), message)
    }

    /// A finding of the whole drawing at a line of its file; 0 if it has none.
    pub fn at_line(&self, line: u64, message: impl Into<SharedText>) -> Finding {
        self.finding(Place { line: (line > 0).then_some(line), ..Place::default() }, message)
    }
}

/// A row of a hole list, named for people: `row 2 of lid.holes.json (tag B, M5)`.
pub fn row_name(row: &Row) -> String {
    let number = row.pointer.rsplit('/').next().and_then(|last| last.parse::<usize>().ok());
    let file = row.list.rsplit('/').next().unwrap_or_default();
    let mut facts = Vec::new();
    if let Some(tag) = &row.tag {
        facts.push(format!("tag {tag}"));
    }
    if let Some(screw) = &row.screw {
        facts.push(screw.thread.name.clone());
    }
    let mut name = number.map_or_else(|| "a row".to_owned(), |number| format!("row {}", number + 1));
    if !file.is_empty() {
        name = format!("{name} of {file}");
    }
    if facts.is_empty() { name } else { format!("{name} ({})", facts.join(", ")) }
}
