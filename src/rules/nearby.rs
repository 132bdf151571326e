//! What the rules on neighbours share: what stands round a hole, where its drawing is to scale, and what a collar asks
//! of the metal about it.

use super::{ScrewHole, Subject, edge_too_close, holes_too_close, sheet_too_thin, words};
use crate::pairing::{Hole, Surroundings};
use crate::practice::Limit;
use crate::trade::Process;
use crate::units::Length;
use crate::verdict::Judged;

/// A hole drawn further than this from its size, as a share of it, stands in a view that is not to scale.
const TO_SCALE: f64 = 0.1;

/// A distance that is needed, and the rule that asks for it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Needed {
    pub(super) least: Length,
    by: NeededBy,
}

/// A rule that asks for a distance. It is put into words only where the distance is too small.
#[derive(Debug, Clone, Copy)]
enum NeededBy {
    Edge,
    CollarEdge,
    Spacing,
    CollarSpacing,
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

/// A rule that could not be judged at a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotJudged {
    /// The rule.
    pub rule: &'static str,
    /// Why.
    pub reason: &'static str,
}

/// What could not be judged of the metal at a hole and round it; nothing for a hole that is for no screw. Silence of the
/// rules that are named here means that all is well only where this is empty.
pub fn not_judged(hole: &Hole, judged: &Judged, around: Option<&Surroundings>) -> Vec<NotJudged> {
    const EDGE: &str = edge_too_close::RULE.name;
    if hole.screw.is_none() {
        return Vec::new();
    }
    let of = |rules: &[&'static str], reason| {
        rules.iter().map(|rule| NotJudged { rule, reason }).collect::<Vec<_>>()
    };
    let mut not_judged = match around {
        None => of(&[EDGE, holes_too_close::RULE.name], "what stands round it is not known"),
        Some(_) if !to_scale(hole, judged) => {
            of(&[EDGE, holes_too_close::RULE.name], "it is drawn more than 10 % off its size")
        }
        Some(around) => {
            let edge = around.edge_unknown.map(|reason| NotJudged { rule: EDGE, reason });
            let reason = "another hole crosses it";
            let crossed = around.crossed.then_some(NotJudged { rule: holes_too_close::RULE.name, reason });
            edge.into_iter().chain(crossed).collect()
        }
    };
    let extruded = hole.making.process == Some(Process::Extruded) && hole.making.thickness.is_some();
    if extruded && judged.collar.is_none() {
        not_judged.extend(of(&[sheet_too_thin::RULE.name], "it is extruded, and its collar is not stated"));
    }
    not_judged
}

fn to_scale(hole: &Hole, judged: &Judged) -> bool {
    let nominal = judged.limits.nominal;
    (hole.drawn / hole.view_scale - nominal).abs() <= nominal * TO_SCALE
}

impl<'a> Subject<'a> {
    /// What stands round a hole; none where it is not drawn to scale, since no length near it can be believed then.
    pub(super) fn surroundings(&self, it: &ScrewHole<'_>) -> Option<&'a Surroundings> {
        self.paired.surroundings.get(it.index).filter(|_| to_scale(it.hole, it.judged))
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
        let plain = Needed { least: limits.length(Limit::EdgeDistance, thread), by: NeededBy::Edge };
        let collared = self.collared_sheet().map(|sheet| Needed {
            least: sheet * limits.value(Limit::CollarEdge) + thread.major / 2.0,
            by: NeededBy::CollarEdge,
        });
        plain.or_more(collared)
    }

    /// The rule that asks for a distance, in words: `1.5 diameters of M4`.
    pub(super) fn rule(&self, needed: &Needed) -> String {
        let (limits, thread) = (&self.practice.limits, &self.screw.thread.name);
        let short = |limit: Limit| words::short(limits.value(limit));
        let count = |limit: Limit| words::count(limits.value(limit));
        match needed.by {
            NeededBy::Edge => {
                let limit = Limit::EdgeDistance;
                format!("{} diameters of {thread}{}", short(limit), limits.by_whom(limit))
            }
            NeededBy::CollarEdge => {
                let limit = Limit::CollarEdge;
                format!(
                    "{} thicknesses of the sheet{} and half the diameter of {thread}, for a collar,",
                    count(limit),
                    limits.by_whom(limit)
                )
            }
            NeededBy::Spacing => {
                format!("{} diameters{}", short(Limit::HoleSpacing), limits.by_whom(Limit::HoleSpacing))
            }
            NeededBy::CollarSpacing => {
                let limit = Limit::CollarSpacing;
                format!("{} thicknesses of the sheet between collars{}", count(limit), limits.by_whom(limit))
            }
        }
    }

    /// What is needed from centre to centre beside another screw hole.
    pub(super) fn spacing_needed(&self, other: &ScrewHole<'_>) -> Needed {
        let limits = &self.practice.limits;
        let (own, its) = (&self.screw.thread, &other.screw.thread);
        let larger = if its.major > own.major { its } else { own };
        let plain = Needed { least: limits.length(Limit::HoleSpacing, larger), by: NeededBy::Spacing };
        let sheets = self.collared_sheet().zip(other.collared_sheet());
        let collared = sheets.map(|(own, its)| Needed {
            least: own.max(its) * limits.value(Limit::CollarSpacing),
            by: NeededBy::CollarSpacing,
        });
        plain.or_more(collared)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;

    #[test]
    fn what_could_not_be_judged_is_said_for_each_rule() {
        let mut scene = Scene::metric();
        let index = scene.screw_hole(3.6);
        let said = |scene: &Scene, around: Option<&Surroundings>| -> Vec<&str> {
            let (hole, judged) = (&scene.paired.holes[index], &scene.judged[index]);
            not_judged(hole, judged, around).iter().map(|it| it.rule).collect()
        };
        let known = Surroundings::default();
        assert_eq!(said(&scene, Some(&known)), [""; 0]);
        assert_eq!(said(&scene, None), ["edge-too-close", "holes-too-close"]);
        let open =
            Surroundings { edge_unknown: Some("no outline"), crossed: true, ..Surroundings::default() };
        assert_eq!(said(&scene, Some(&open)), ["edge-too-close", "holes-too-close"]);
        scene.paired.holes[index].making.process = Some(Process::Extruded);
        assert_eq!(said(&scene, Some(&known)), ["sheet-too-thin"]);
        // Without a thickness another rule speaks, and no rule of a hole that is for no screw.
        scene.paired.holes[index].making.thickness = None;
        assert_eq!(said(&scene, Some(&known)), [""; 0]);
        scene.paired.holes[index].screw = None;
        assert_eq!(said(&scene, None), [""; 0]);
    }
}
