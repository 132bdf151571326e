//! A hole before and after coating: the screw meets the one after. Where it is not said which of them the stated size
//! is, it may be either, and both are looked at.

use super::{Engagement, Limits};
use crate::joint::{Coating, Stage};
use crate::trade::{Thread, coated};
use crate::units::Length;

/// A hole before and after it is coated.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatedHole {
    /// The coating.
    pub coating: Coating,
    /// The hole as it is made: as stated, where it is not said whether the size is before or after coating.
    pub before: Limits,
    /// The hole with the coating on: the smaller of both, where that is not said.
    pub after: Limits,
    /// Engagement of the hole before coating.
    pub engagement_before: Engagement,
    /// Engagement of the hole after it.
    pub engagement_after: Engagement,
}

/// A hole that the screw may meet: as stated, or with a coating taken off.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Met {
    /// What the stated size would have to be for it; none where that is known, or there is no coating.
    pub(super) stage: Option<Stage>,
    pub(super) limits: Limits,
}

impl CoatedHole {
    /// The stated hole and the other one, which is twice the coating larger before or smaller after.
    pub(super) fn of(coating: Coating, stated: &Limits, thread: &Thread) -> CoatedHole {
        let grown = |by: Length| moved(stated, |hole| coated(hole, by));
        let (before, after) = match coating.stated {
            Some(Stage::Before) | None => (stated.clone(), grown(coating.thickness)),
            Some(Stage::After) => (grown(-coating.thickness), stated.clone()),
        };
        CoatedHole {
            coating,
            engagement_before: Engagement::of(thread, &before),
            engagement_after: Engagement::of(thread, &after),
            before,
            after,
        }
    }

    /// Smallest and largest hole that the screw may meet, with the nominal as stated where it may be either.
    fn span(&self) -> Limits {
        match self.coating.stated {
            Some(_) => self.after.clone(),
            None => Limits { min: self.after.min, ..self.before.clone() },
        }
    }
}

/// The hole that the screw meets, from the smallest that it may be to the largest.
pub(super) fn span(coating: Option<&CoatedHole>, stated: &Limits) -> Limits {
    coating.map_or_else(|| stated.clone(), CoatedHole::span)
}

/// The holes that the screw may meet: one, or two where it is not said when the size of a coated hole holds.
pub(super) fn met(coating: Option<&CoatedHole>, stated: &Limits) -> Vec<Met> {
    match coating {
        None => vec![Met { stage: None, limits: stated.clone() }],
        Some(hole) if hole.coating.stated.is_some() => {
            vec![Met { stage: None, limits: hole.after.clone() }]
        }
        // Stated before coating, the screw meets the smaller hole.
        Some(hole) => vec![
            Met { stage: Some(Stage::Before), limits: hole.after.clone() },
            Met { stage: Some(Stage::After), limits: hole.before.clone() },
        ],
    }
}

fn moved(limits: &Limits, by: impl Fn(Length) -> Length) -> Limits {
    Limits { nominal: by(limits.nominal), min: by(limits.min), max: by(limits.max), ..limits.clone() }
}

/// The least and the most that a coating takes from a stated diameter.
pub(super) fn takes(coating: Option<Coating>) -> (Length, Length) {
    coating.map_or((Length::ZERO, Length::ZERO), |coating| coating.takes())
}
