//! How much metal a formed thread would find: thickness and collar of a through hole, and what point and clearance of the
//! screw leave of a blind one. Compares it with the limits; chooses no hole.

use super::{Fact, Grounds};
use crate::callout::{Callout, Quantity};
use crate::joint::Collar;
use crate::pairing::{Hole, Paired};
use crate::practice::{Ground, Limit};
use crate::trade::Thread;
use crate::units::Length;
use crate::verdict::Metal;

/// Lengths that are the same (mm).
const SLACK: f64 = 1e-6;

/// The depths of a tapped hole. What is not stated is none.
#[derive(Debug, Clone, Copy)]
pub(super) struct Depths {
    through: bool,
    /// Depth of the hole itself.
    hole: Option<Length>,
    /// Depth of full thread that is called out.
    thread: Option<Length>,
    thickness: Option<Length>,
    collar: Option<Collar>,
    sunk: Length,
}

impl Depths {
    /// What callout, list and sheet say.
    pub(super) fn of(hole: &Hole, callout: &Callout, paired: &Paired) -> Depths {
        let unit = paired.unit.unit;
        let length = |q: Option<Quantity>| q.and_then(|q| q.length(unit)).filter(|l| *l > Length::ZERO);
        let row = hole.row.and_then(|r| paired.rows.get(r)).map(|seen| &seen.row);
        let thickness = hole.making.thickness;
        let thread = length(callout.thread.as_ref().and_then(|t| t.depth));
        // A thread as deep as the metal goes through it.
        let through = callout.through || thread.zip(thickness).is_some_and(|(t, metal)| t >= metal);
        Depths {
            through,
            hole: hole.depth.filter(|_| !through),
            thread,
            thickness,
            collar: row.and_then(|r| r.collar),
            sunk: hole.entry.and_then(|(_, _, depth)| depth).unwrap_or(Length::ZERO),
        }
    }

    /// Whether it ends in the metal.
    fn is_blind(&self) -> bool {
        !self.through && (self.hole.is_some() || self.thread.is_some())
    }

    /// Length of hole that a thread can be formed in, as far as it is known: of a blind hole whose own depth is not
    /// stated, that of its thread.
    fn metal(&self) -> Option<Length> {
        let collar = self.collar.map_or(Length::ZERO, |collar| {
            (collar.height - collar.entry_radius.unwrap_or(Length::ZERO)).max(Length::ZERO)
        });
        let below = |length: Length| (length - self.sunk).max(Length::ZERO);
        Metal {
            through: self.thickness.map(|t| below(t + collar)),
            blind: self.hole.or(self.thread.filter(|_| self.is_blind())).map(below),
            sunk: self.sunk,
            ..Metal::default()
        }
        .length()
    }

    /// Length of thread that is asked for: what is called out, else all the metal.
    pub(super) fn engaged(&self) -> Option<Length> {
        match (self.thread, self.metal()) {
            (Some(thread), Some(metal)) => Some(thread.min(metal)),
            (thread, metal) => metal.or(thread),
        }
    }

    /// Puts the depths where a hole for a screw states them. A blind hole needs no thickness: there is metal at least as
    /// far as it goes.
    pub(super) fn put_into(&self, hole: &mut Hole) {
        hole.depth = if self.is_blind() { self.hole.or(self.thread) } else { None };
        hole.making.thickness = self.thickness.or(hole.depth);
    }

    /// The grounds that lie in the depths.
    pub(super) fn grounds(&self, thread: Option<&Thread>, grounds: &mut Grounds<'_>) {
        let Some(thread) = thread else { return };
        let Some(metal) = self.metal() else {
            grounds.add(Ground::ThicknessUnknown, Fact::Nothing);
            return;
        };
        if !self.through && !self.is_blind() {
            grounds.add(Ground::ThroughAssumed, Fact::Nothing);
        }
        self.long_enough(metal, thread, grounds);
        self.not_too_long(thread, grounds);
        if self.is_blind() {
            self.room_for_point(thread, grounds);
        }
    }

    fn long_enough(&self, metal: Length, thread: &Thread, grounds: &mut Grounds<'_>) {
        let limits = &grounds.practice.limits;
        let least = limits.length(Limit::LeastMetal, thread);
        let from = (limits.origin(Limit::LeastMetal).words(), limits.status(Limit::LeastMetal));
        let enough = metal.mm() >= least.mm() - SLACK;
        let ground = if enough { Ground::MetalEnough } else { Ground::MetalThin };
        grounds.add_from(ground, Fact::Lengths(metal, least), from);
    }

    fn not_too_long(&self, thread: &Thread, grounds: &mut Grounds<'_>) {
        let limits = &grounds.practice.limits;
        let most = limits.length(Limit::LongestEngagement, thread);
        let Some(asked) = self.engaged() else { return };
        if asked.mm() > most.mm() + SLACK {
            let limit = Limit::LongestEngagement;
            let from = (limits.origin(limit).words(), limits.status(limit));
            grounds.add_from(Ground::MetalDeep, Fact::Lengths(asked, most), from);
        }
    }

    /// What point and clearance leave of a blind hole.
    fn room_for_point(&self, thread: &Thread, grounds: &mut Grounds<'_>) {
        let limits = &grounds.practice.limits;
        let (short, long) = limits.point(thread);
        let clearance = limits.length(Limit::BlindClearance, thread);
        let least = limits.length(Limit::LeastMetal, thread);
        let limit = Limit::LongestPoint;
        let from = (limits.origin(limit).words(), limits.status(limit));
        let Some(depth) = self.hole else {
            grounds.add(Ground::BlindDepthUnknown, Fact::Nothing);
            return;
        };
        let left = |point: Length| (depth - self.sunk - point - clearance).max(Length::ZERO);
        let wanted = self.thread.map_or(least, |thread| thread.max(least));
        let (ground, fact) = if left(short).mm() < least.mm() - SLACK {
            (Ground::BlindShallow, Fact::Lengths(left(short), least))
        } else if left(long).mm() < wanted.mm() - SLACK {
            (Ground::BlindShort, Fact::Lengths(left(long), wanted))
        } else {
            (Ground::BlindRoom, Fact::Length(left(long)))
        };
        grounds.add_from(ground, fact, from);
    }
}
