//! Puts marks into a drawing: layers at the end of the layer table, entities at the end of their space. Every other byte
//! stays as it was, except the value of `$HANDSEED` where handles were taken.

use std::ops::Range;

use super::pairs::{Form, Pairs};
use super::survey::{Survey, survey};
use super::{Align, LAYER_PREFIX, Mark, Shape, colour_of, layer_of};
use crate::dxf::resolve::Spaces;
use crate::dxf::scan::scan_all;
use crate::dxf::sniff::{self, sniff};
use crate::dxf::tags::{BinaryTags, Tags, TextTags, wide_codes};
use crate::finding::Level;
use crate::geometry::Point;

/// The drawing of `bytes` with marks in it.
///
/// # Errors
/// Why they cannot be put into it without harm: a pair that is not as it should be, a table or section that is not closed
/// or stands there twice, a space that is not found, or marks of an earlier check.
pub fn insert(bytes: &[u8], marks: &[Mark]) -> Result<Vec<u8>, String> {
    if !marks.iter().all(|mark| mark.shape.is_finite()) {
        return Err("a mark has no place".to_owned());
    }
    // Padding to a block size is no content.
    let end = bytes.iter().rposition(|b| *b != 0).map_or(0, |n| n + 1);
    let (survey, spaces, form) = match sniff(bytes).map_err(|problem| problem.message)? {
        sniff::Form::Binary if wide_codes(bytes) => surveyed(|| BinaryTags::<2>::new(bytes), true)?,
        sniff::Form::Binary => surveyed(|| BinaryTags::<1>::new(bytes), false)?,
        sniff::Form::Text(start) => {
            let text = &bytes[..end];
            let spaces = Spaces::new(&scan_all(TextTags::new(text, start), Some(text)).raw);
            let survey = survey(TextTags::new(text, start))?;
            let utf8 = survey.version >= b"AC1021".as_slice() && std::str::from_utf8(text).is_ok();
            (survey, spaces, Form::of_text(&text[start..], utf8))
        }
    };
    let mut writer = Writer {
        r13: survey.version >= b"AC1012".as_slice(),
        owners: survey.version >= b"AC1015".as_slice(),
        next: survey.next_handle,
        survey: &survey,
        pairs: Pairs::new(form),
    };
    let mut changes = writer.all(marks, &spaces)?;
    if let (Some(place), Some(next)) = (survey.seed.clone(), writer.next)
        && writer.next != survey.next_handle
    {
        changes.push((place, format!("{next:X}").into_bytes()));
    }
    Ok(assembled(bytes, changes))
}

/// What a binary file holds.
fn surveyed<'a, T: Tags<'a>>(
    tags: impl Fn() -> T,
    wide_codes: bool,
) -> Result<(Survey<'a>, Spaces, Form<'a>), String> {
    let spaces = Spaces::new(&scan_all(tags(), None).raw);
    Ok((survey(tags())?, spaces, Form::Binary { wide_codes }))
}

/// A place of the file, and what stands there instead.
type Change = (Range<usize>, Vec<u8>);

/// The file with each place taken by other bytes.
fn assembled(bytes: &[u8], mut changes: Vec<Change>) -> Vec<u8> {
    changes.sort_by_key(|(place, _)| place.start);
    let mut out = Vec::with_capacity(bytes.len() + changes.iter().map(|(_, new)| new.len()).sum::<usize>());
    let mut from = 0;
    for (place, new) in changes {
        out.extend_from_slice(&bytes[from..place.start]);
        out.extend_from_slice(&new);
        from = place.end;
    }
    out.extend_from_slice(&bytes[from..]);
    out
}

/// Where the entities of a space go.
struct Place {
    at: usize,
    /// Handle of the block record.
    owner: Option<String>,
    on_paper: bool,
}

struct Writer<'a> {
    survey: &'a Survey<'a>,
    /// From R13 on entities name their classes, from R2000 on their owners.
    r13: bool,
    owners: bool,
    /// The next free handle; none in a file without handles.
    next: Option<u64>,
    pairs: Pairs<'a>,
}

impl Writer<'_> {
    /// All that is put in, each with its place.
    fn all(&mut self, marks: &[Mark], spaces: &Spaces) -> Result<Vec<Change>, String> {
        let mut changes = Vec::new();
        changes.extend(self.layers(marks)?.map(|(at, new)| (at..at, new)));
        let mut names: Vec<&str> = marks.iter().map(|mark| mark.space.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        for name in names {
            let place = self.place(name, spaces)?;
            for mark in marks.iter().filter(|mark| mark.space == name) {
                self.entity(mark, &place)?;
            }
            changes.push((place.at..place.at, self.pairs.take()));
        }
        Ok(changes)
    }

    fn handle(&mut self) -> Result<(), String> {
        if let Some(handle) = self.next {
            self.next = Some(handle.checked_add(1).ok_or("its handles are used up")?);
            self.pairs.name(5, format!("{handle:X}").as_bytes());
        }
        Ok(())
    }

    fn subclass(&mut self, name: &str) {
        if self.r13 {
            self.pairs.name(100, name.as_bytes());
        }
    }

    /// The layers that marks stand on, and where they go. A file of before R13 may do without a layer table.
    fn layers(&mut self, marks: &[Mark]) -> Result<Option<(usize, Vec<u8>)>, String> {
        let Some(table) = &self.survey.layers else {
            let refused = format!("it has no layer table to put the layers {LAYER_PREFIX}… into");
            return if self.r13 { Err(refused) } else { Ok(None) };
        };
        for level in [Level::Fail, Level::Warn, Level::Note] {
            if !marks.iter().any(|mark| mark.level == level) {
                continue;
            }
            self.pairs.name(0, b"LAYER");
            if self.r13 || table.entry_handles {
                self.handle()?;
            }
            if let Some(owner) = table.handle.filter(|_| self.owners) {
                self.pairs.name(330, owner);
            }
            self.subclass("AcDbSymbolTableRecord");
            self.subclass("AcDbLayerTableRecord");
            self.pairs.name(2, layer_of(level).as_bytes());
            self.pairs.int(70, 0);
            self.pairs.int(62, i16::from(colour_of(level)));
            self.pairs.name(6, b"CONTINUOUS");
            for (code, value) in [(390, table.plot_style), (347, table.material)] {
                if let Some(value) = value {
                    self.pairs.name(code, value);
                }
            }
        }
        Ok(Some((table.end, self.pairs.take())))
    }

    fn place(&self, space: &str, spaces: &Spaces) -> Result<Place, String> {
        let survey = self.survey;
        let end = survey.entities_end.ok_or("it has no section ENTITIES")?;
        let (record, block) = spaces
            .home(space)
            .ok_or_else(|| format!("more than one layout, or none, is called '{space}'"))?;
        let owner = Some(record).filter(|record| *record != 0 && self.owners);
        let owner = owner.map(|record| format!("{record:X}"));
        let on_paper = space != "model";
        // Entities of the model and of the layout that was shown last stand in the section of entities.
        if !on_paper || matches!(block, "*PAPER_SPACE" | "$PAPER_SPACE") {
            return Ok(Place { at: end, owner, on_paper });
        }
        let at = survey.block_ends.get(block.as_bytes());
        let at = *at.ok_or_else(|| format!("the layout '{space}' has no block of its own"))?;
        Ok(Place { at, owner, on_paper })
    }

    fn entity(&mut self, mark: &Mark, place: &Place) -> Result<(), String> {
        let (name, subclass) = match mark.shape {
            Shape::Arc { .. } => ("ARC", "AcDbCircle"),
            Shape::Line { .. } => ("LINE", "AcDbLine"),
            Shape::Text { .. } => ("TEXT", "AcDbText"),
        };
        self.pairs.name(0, name.as_bytes());
        if self.r13 || self.survey.entity_handles {
            self.handle()?;
        }
        if let Some(owner) = &place.owner {
            self.pairs.name(330, owner.as_bytes());
        }
        self.subclass("AcDbEntity");
        if place.on_paper {
            self.pairs.int(67, 1);
        }
        self.pairs.name(8, layer_of(mark.level).as_bytes());
        if self.survey.layers.is_none() {
            self.pairs.int(62, i16::from(colour_of(mark.level)));
        }
        self.subclass(subclass);
        self.shape(&mark.shape);
        Ok(())
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Arc { center, radius, start_deg, end_deg } => {
                self.point(10, *center);
                self.pairs.real(40, *radius);
                self.subclass("AcDbArc");
                self.pairs.real(50, *start_deg);
                self.pairs.real(51, *end_deg);
            }
            Shape::Line { from, to } => {
                self.point(10, *from);
                self.point(11, *to);
            }
            Shape::Text { at, align, height, text } => {
                self.point(10, *at);
                self.pairs.real(40, *height);
                self.pairs.words(1, text);
                if let Some(style) = self.survey.text_style {
                    self.pairs.name(7, style);
                }
                if *align == Align::Right {
                    self.pairs.int(72, 2);
                    self.point(11, *at);
                }
                self.subclass("AcDbText");
            }
        }
    }

    fn point(&mut self, code: i16, p: Point) {
        self.pairs.real(code, p.x);
        self.pairs.real(code + 10, p.y);
        self.pairs.real(code + 20, 0.0);
    }
}

impl Shape {
    fn is_finite(&self) -> bool {
        let point = |p: &Point| p.x.is_finite() && p.y.is_finite();
        match self {
            Shape::Arc { center, radius, start_deg, end_deg } => {
                point(center) && radius.is_finite() && start_deg.is_finite() && end_deg.is_finite()
            }
            Shape::Line { from, to } => point(from) && point(to),
            Shape::Text { at, height, .. } => point(at) && height.is_finite(),
        }
    }
}

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;
