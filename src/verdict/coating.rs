//! A hole before and after coating: the screw meets the one after. Says nothing of which was meant where the drawing
//! does not say it.

use super::{Engagement, Limits};
use crate::joint::Coating;
use crate::trade::{Thread, coated};
use crate::units::Length;

/// A hole before and after it is coated.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatedHole {
    /// Thickness of the coating on the wall.
    pub thickness: Length,
    /// Whether the stated size is the one before coating.
    pub stated_before: bool,
    /// The hole as it is made.
    pub before: Limits,
    /// The hole that the screw meets.
    pub after: Limits,
    /// Engagement of the uncoated hole.
    pub engagement_before: Engagement,
    /// Engagement that the screw meets.
    pub engagement_after: Engagement,
}

impl CoatedHole {
    /// The stated hole and the other one, which is twice the coating larger before or smaller after.
    pub(super) fn of(coating: Coating, stated: &Limits, thread: &Thread) -> CoatedHole {
        let grown = |by: Length| moved(stated, |hole| coated(hole, by));
        let (before, after) = if coating.stated_before {
            (stated.clone(), grown(coating.thickness))
        } else {
            (grown(-coating.thickness), stated.clone())
        };
        CoatedHole {
            thickness: coating.thickness,
            stated_before: coating.stated_before,
            engagement_before: Engagement::of(thread, &before),
            engagement_after: Engagement::of(thread, &after),
            before,
            after,
        }
    }

    /// What the coating takes from the stated diameter.
    pub fn shrinks_by(&self) -> Length {
        if self.stated_before { self.thickness * 2.0 } else { Length::ZERO }
    }
}

fn moved(limits: &Limits, by: impl Fn(Length) -> Length) -> Limits {
    Limits { nominal: by(limits.nominal), min: by(limits.min), max: by(limits.max), ..limits.clone() }
}
