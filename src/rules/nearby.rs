//! What the rules on neighbours share: what stands round a hole, where its drawing is to scale.

use super::{ScrewHole, Subject};
use crate::pairing::Surroundings;

/// A hole drawn further than this from its size, as a share of it, stands in a view that is not to scale.
const TO_SCALE: f64 = 0.1;

impl<'a> Subject<'a> {
    /// What stands round a hole; none where it is not drawn to scale, since no length near it can be believed then.
    pub(super) fn surroundings(&self, it: &ScrewHole<'_>) -> Option<&'a Surroundings> {
        let nominal = it.judged.limits.nominal;
        let drawn = it.hole.drawn / it.hole.view_scale;
        let to_scale = (drawn - nominal).abs() <= nominal * TO_SCALE;
        self.paired.surroundings.get(it.index).filter(|_| to_scale)
    }
}
