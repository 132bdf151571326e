//! What the rules on neighbours share: what stands round a hole, where its drawing is to scale, and what a collar asks
//! of the metal about it.

use super::{ScrewHole, Subject, words};
use crate::pairing::Surroundings;
use crate::practice::Limit;
use crate::trade::Process;
use crate::units::Length;

/// A hole drawn further than this from its size, as a share of it, stands in a view that is not to scale.
const TO_SCALE: f64 = 0.1;

/// A distance that is needed, and the rule that asks for it, in words: `1.5 diameters of M4`.
#[derive(Debug, Clone)]
pub(super) struct Needed {
    pub(super) least: Length,
    pub(super) rule: String,
}

impl Needed {
    /// The one that asks for more; the first of equals.
    pub(super) fn or_more(self, other: Option<Needed>) -> Needed {
        match other {
            Some(other) if other.least > self.least => other,
            _ => self,
        }
    }
}

impl<'a> Subject<'a> {
    /// What stands round a hole; none where it is not drawn to scale, since no length near it can be believed then.
    pub(super) fn surroundings(&self, it: &ScrewHole<'_>) -> Option<&'a Surroundings> {
        let nominal = it.judged.limits.nominal;
        let drawn = it.hole.drawn / it.hole.view_scale;
        let to_scale = (drawn - nominal).abs() <= nominal * TO_SCALE;
        self.paired.surroundings.get(it.index).filter(|_| to_scale)
    }
}

impl ScrewHole<'_> {
    /// Thickness of the sheet that a collar is drawn from; none for a hole without one, and where it is not known.
    pub(super) fn collared_sheet(&self) -> Option<Length> {
        let stated = self.row.is_some_and(|row| row.collar.is_some());
        let extruded = self.hole.making.process == Some(Process::Extruded);
        self.hole.making.thickness.filter(|_| stated || extruded)
    }

    /// What is needed from the centre to an edge.
    pub(super) fn edge_needed(&self) -> Needed {
        let (limits, thread) = (&self.practice.limits, &self.screw.thread);
        let plain = Needed {
            least: limits.length(Limit::EdgeDistance, thread),
            rule: format!(
                "{} diameters of {}{}",
                words::short(limits.value(Limit::EdgeDistance)),
                thread.name,
                limits.by_whom(Limit::EdgeDistance)
            ),
        };
        let collared = self.collared_sheet().map(|sheet| Needed {
            least: sheet * limits.value(Limit::CollarEdge) + thread.major / 2.0,
            rule: format!(
                "{} thicknesses of the sheet{} and half the diameter of {}, for a collar,",
                words::count(limits.value(Limit::CollarEdge)),
                limits.by_whom(Limit::CollarEdge),
                thread.name
            ),
        });
        plain.or_more(collared)
    }

    /// What is needed from centre to centre beside another screw hole.
    pub(super) fn spacing_needed(&self, other: &ScrewHole<'_>) -> Needed {
        let limits = &self.practice.limits;
        let (own, its) = (&self.screw.thread, &other.screw.thread);
        let larger = if its.major > own.major { its } else { own };
        let plain = Needed {
            least: limits.length(Limit::HoleSpacing, larger),
            rule: format!(
                "{} diameters{}",
                words::short(limits.value(Limit::HoleSpacing)),
                limits.by_whom(Limit::HoleSpacing)
            ),
        };
        let sheets = self.collared_sheet().zip(other.collared_sheet());
        let collared = sheets.map(|(own, its)| Needed {
            least: own.max(its) * limits.value(Limit::CollarSpacing),
            rule: format!(
                "{} thicknesses of the sheet between collars{}",
                words::count(limits.value(Limit::CollarSpacing)),
                limits.by_whom(Limit::CollarSpacing)
            ),
        });
        plain.or_more(collared)
    }
}
