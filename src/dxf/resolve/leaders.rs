//! Placing leaders and multileaders, and tying them to the texts that they annotate.

use super::place::{Context, Placer};
use super::texts::Frame;
use crate::drawing::{InsertId, Leader, Text, TextKind};
use crate::dxf::raw::{Anchor, Chunks, Common, RawLeader, RawMultiLeader};
use crate::dxf::text::mtext::formatted_text;
use crate::geometry::{Affine, Bounds, Vec3};

/// A leader whose annotation is looked up once all texts are placed.
#[derive(Debug, Clone, Copy)]
pub(super) struct PendingLeader {
    leader: usize,
    annotation: u64,
    insert: Option<InsertId>,
}

/// Most texts of one handle that are compared, in the order of the drawing.
const MOST_OF_ONE_HANDLE: usize = 16;

/// Letter width over height in the estimated box of a multileader's text, as for other texts.
const LETTER_WIDTH: f64 = 0.7;

impl<'a> Placer<'_, 'a> {
    pub(super) fn place_leader(
        &mut self,
        common: &Common,
        leader: &RawLeader,
        map: &Affine,
        context: Context,
    ) {
        let origin = self.origin(common, &context);
        if let Some(annotation) = leader.annotation {
            self.pending_leaders.push(PendingLeader {
                leader: self.drawing.leaders.len(),
                annotation,
                insert: context.insert,
            });
        }
        self.drawing.leaders.push(Leader {
            origin,
            vertices: leader.vertices.iter().map(|v| map.point(*v).plan()).collect(),
            annotation: leader.annotation,
            text: None,
        });
    }

    pub(super) fn place_multileader(
        &mut self,
        common: &Common,
        leader: &RawMultiLeader<'a>,
        map: &Affine,
        context: Context,
    ) {
        let origin = self.origin(common, &context);
        let text = self.multileader_content(common, leader, context).map(|content| {
            let at = if leader.text.is_some() { leader.text_at } else { leader.block_at };
            let up = Vec3::UP.cross(leader.along);
            let frame = Frame::new(at, leader.along, up, map);
            let height = leader.height * frame.up_scale;
            let letter = LETTER_WIDTH * leader.height * frame.along_scale;
            let top_left = Anchor { across: 0.0, up: 1.0 };
            let bounds: Bounds = frame.bounds(&content, top_left, (letter, height), 0.0);
            self.push_text(Text {
                origin,
                kind: TextKind::MultiLeader,
                content,
                at: frame.at.plan(),
                bounds,
                height,
                rotation_deg: frame.rotation_deg,
            })
        });
        for arm in &leader.arms {
            self.drawing.leaders.push(Leader {
                origin,
                vertices: arm.iter().map(|v| map.point(*v).plan()).collect(),
                annotation: None,
                text,
            });
        }
    }

    /// The text of a multileader, or those of the attributes of its block.
    fn multileader_content(
        &mut self,
        common: &Common,
        leader: &RawMultiLeader<'a>,
        context: Context,
    ) -> Option<String> {
        let attributes = leader.attributes.iter().map(|bytes| bytes.len());
        let bytes = leader.text.as_ref().map_or(0, Chunks::len) + attributes.sum::<usize>();
        if context.insert.is_some() && !self.may_repeat(common, bytes) {
            return None;
        }
        let content = match &leader.text {
            Some(chunks) => {
                let symbols = leader.style.is_some_and(|s| self.raw.symbol_style_handles.contains(&s));
                formatted_text(&self.joined(common, chunks)?, symbols)
            }
            None => {
                let lines = leader.attributes.iter();
                let lines = lines.map(|bytes| formatted_text(&self.decoder.text(bytes), false));
                lines.collect::<Vec<_>>().join("\n")
            }
        };
        (!content.trim().is_empty()).then_some(content)
    }

    /// Ties each leader to the text whose handle it names, among those that stand in the same INSERT; where a faulty
    /// file gives several that handle, to the one nearest to its tail.
    pub(super) fn tie_leaders(&mut self) {
        let pending_leaders = std::mem::take(&mut self.pending_leaders);
        if pending_leaders.is_empty() {
            return;
        }
        let texts = &self.drawing.texts;
        let mut named: Vec<(u64, Option<InsertId>, usize)> = texts
            .iter()
            .enumerate()
            .filter_map(|(index, text)| Some((text.origin.handle?.get(), text.origin.insert, index)))
            .collect();
        named.sort_unstable();
        for pending in pending_leaders {
            let place = (pending.annotation, pending.insert);
            let first = named.partition_point(|text| (text.0, text.1) < place);
            let same = named[first..].iter().take(MOST_OF_ONE_HANDLE);
            let same = same.take_while(|text| (text.0, text.1) == place).map(|text| text.2);
            if let Some(leader) = self.drawing.leaders.get_mut(pending.leader) {
                let distance =
                    |i: usize| leader.vertices.last().map_or(0.0, |end| texts[i].at.distance(*end));
                leader.text = same.min_by(|a, b| distance(*a).total_cmp(&distance(*b)));
            }
        }
    }
}
