//! Places what stands in model space while the scan goes on, a few entities at a time: what was read is still in the
//! cache, and a large drawing is never held as read and as placed at the same time. Leaves all to the end from where the
//! place of a thing depends on what the scan has not seen yet.

use super::place::Placer;
use super::spaces::{Papers, is_space};
use super::views::all_clips_stand_in;
use crate::drawing::Drawing;
use crate::dxf::raw::Raw;
use crate::dxf::scan::TakesEntities;
use crate::dxf::text::codepage::Decoder;

/// What was placed early.
pub(in crate::dxf) struct Early<'i, 'a> {
    idle: &'i Idle<'a>,
    /// With what it placed so far, and nothing to look at; none before anything was placed.
    placer: Option<Placer<'i, 'a>>,
    papers: Papers,
    /// How many of the settings are known to be of model space, and how many sections to have nothing left.
    settings: usize,
    sections: usize,
    /// Whether no more may be taken.
    closed: bool,
}

/// What a placer looks at between two batches: nothing.
pub(in crate::dxf) struct Idle<'a> {
    raw: Raw<'a>,
    decoder: Decoder<'a>,
}

impl Default for Idle<'_> {
    fn default() -> Self {
        Idle { raw: Raw::default(), decoder: Decoder::new(None, None, None) }
    }
}

impl<'i, 'a> Early<'i, 'a> {
    /// Nothing placed yet.
    pub(in crate::dxf) fn new(idle: &'i Idle<'a>) -> Self {
        Early { idle, placer: None, papers: Papers::default(), settings: 0, sections: 0, closed: false }
    }

    /// Whether what was placed is what would have been placed in the end, now that all is scanned.
    pub(in crate::dxf) fn holds(&self, raw: &Raw<'a>) -> bool {
        self.placer.is_none() || all_clips_stand_in(raw)
    }

    /// The placer with what it placed so far.
    pub(super) fn go_on<'s>(self, raw: &'s Raw<'a>, decoder: &'s Decoder<'a>) -> Placer<'s, 'a> {
        match self.placer {
            Some(placer) => placer.looking_at(raw, decoder),
            None => {
                let mut placer = Placer::new(raw, decoder);
                // Most vertices and most entities give one segment at most. Room that is never touched costs nothing, a
                // list that grows by copying does.
                placer.drawing.segments.reserve(raw.vertices.len() + raw.entities.len());
                placer
            }
        }
    }

    /// Whether the entities of a batch come next in the drawing and stand in model space, whatever the scan meets later.
    fn may_take(&mut self, raw: &Raw<'a>) -> bool {
        if self.placer.is_none() {
            self.papers = Papers::new(raw);
            // What stands in the blocks of spaces comes first.
            self.closed |= raw.blocks.iter().any(|block| is_space(&block.key) && !block.entities.is_empty());
        }
        let mut new_settings = raw.settings[self.settings..].iter();
        let mut new_sections = raw.main[self.sections..].iter();
        self.closed |= !new_settings.all(|setting| self.papers.surely_in_model(setting))
            || new_sections.any(|left| !left.is_empty());
        (self.settings, self.sections) = (raw.settings.len(), raw.main.len());
        !self.closed
    }
}

impl<'i, 'a> TakesEntities<'a> for Early<'i, 'a> {
    fn take(&mut self, raw: &Raw<'a>, decoder: &Decoder<'a>, first: usize, more: f64) -> bool {
        if self.closed || !self.may_take(raw) {
            return false;
        }
        let mut placer = match self.placer.take() {
            Some(placer) => placer.looking_at(raw, decoder),
            None => Placer::new(raw, decoder),
        };
        make_room(&mut placer.drawing, more);
        if placer.drawing.segments.is_empty() {
            // Hardly any entity gives more than one.
            let entities = raw.entities.len() - first;
            placer.drawing.segments.reserve_exact(entities + coming(entities, more));
        }
        placer.place_roots(first..raw.entities.len(), |_| 0);
        let Idle { raw: no_raw, decoder: no_decoder } = self.idle;
        self.placer = Some(placer.looking_at(no_raw, no_decoder));
        true
    }
}

/// Makes room in the lists of a drawing for what is still to come, `more` times what they hold now.
fn make_room(drawing: &mut Drawing, more: f64) {
    room(&mut drawing.segments, more);
    room(&mut drawing.circles, more);
    room(&mut drawing.arcs, more);
    room(&mut drawing.texts, more);
    room(&mut drawing.dimensions, more);
    room(&mut drawing.leaders, more);
    room(&mut drawing.corners, more);
}

/// Makes room in one step that many copies, each twice as large, would make; but never for more than 256 times what there
/// is. Room that is never touched costs nothing.
fn room<T>(list: &mut Vec<T>, more: f64) {
    // The next few batches find room.
    let enough = list.capacity() - list.len() > list.len().min(4 * FEW);
    if enough || list.len() < FEW {
        return;
    }
    list.reserve_exact(coming(list.len(), more));
}

/// How many things are still to come where so many have come; a tenth more, because no part of a drawing is quite like another.
fn coming(so_far: usize, more: f64) -> usize {
    ((1.1 * more).clamp(0.1, 256.0) * so_far as f64) as usize
}

/// From a list of fewer things nothing is foretold.
const FEW: usize = 64;
