//! What the calculator is asked. Answers nothing.

use super::super::{Metal, bands, coating};
use crate::joint::{Coating, Collar, Making};
use crate::practice::{Limits as PracticeLimits, Practice};
use crate::trade::{Material, Process, Thread};
use crate::units::{Angle, Length};

/// What is asked. Everything but the thread may be unknown.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Thread of the screw.
    pub thread: Thread,
    /// Diameter of a hole; of its entrance where it has draft.
    pub hole: Option<Length>,
    /// Upper and lower deviation of that hole, magnitudes; none if no tolerance is stated.
    pub tolerance: Option<(Length, Length)>,
    /// Thickness of the metal.
    pub thickness: Option<Length>,
    /// Material.
    pub material: Option<Material>,
    /// How the hole is made.
    pub process: Option<Process>,
    /// Draft per side of a cored hole.
    pub draft: Option<Angle>,
    /// Depth of a blind hole, or of the engagement in a cored one.
    pub depth: Option<Length>,
    /// Collar of an extruded hole.
    pub collar: Option<Collar>,
    /// Coating on the wall.
    pub coating: Option<Coating>,
    /// Brinell hardness of the metal.
    pub hardness_hb: Option<f64>,
    /// Measured mean and standard deviation of diameters.
    pub capability: Option<(Length, Length)>,
    /// Length of the screw under its head.
    pub length: Option<Length>,
    /// Thickness of what the screw clamps.
    pub grip: Option<Length>,
    /// Tensile strength of the metal (MPa); the material's typical one if not given.
    pub tensile_mpa: Option<f64>,
}

impl Question {
    /// A thread and nothing else.
    pub fn of(thread: Thread) -> Question {
        Question {
            thread,
            hole: None,
            tolerance: None,
            thickness: None,
            material: None,
            process: None,
            draft: None,
            depth: None,
            collar: None,
            coating: None,
            hardness_hb: None,
            capability: None,
            length: None,
            grip: None,
            tensile_mpa: None,
        }
    }

    /// The lengths that the thread is formed over.
    pub(super) fn metal(&self, limits: &PracticeLimits) -> Metal {
        Metal::from_parts(
            &self.thread,
            (self.thickness, self.collar),
            self.depth,
            Length::ZERO,
            (self.length, self.grip),
            limits,
        )
    }

    /// What is known of the metal and the making.
    pub(super) fn making(&self) -> Making {
        Making {
            material: self.material,
            thickness: self.thickness,
            process: self.process,
            coating: self.coating,
            band: None,
            hardness_hb: self.hardness_hb,
        }
    }

    /// The joint that a band is looked up for.
    pub(super) fn joint<'a>(&'a self, metal: &Metal, practice: &'a Practice) -> bands::Joint<'a> {
        bands::Joint {
            thread: &self.thread,
            material: self.material,
            thickness: self.thickness.and_then(|_| metal.length()),
            process: self.process,
            user_band: None,
            hardness_hb: self.hardness_hb,
            practice,
        }
    }

    /// The smallest and the largest hole that the screw may meet where this one is called out: the coated one, if the
    /// size is before coating.
    pub fn met(&self, stated: Length) -> (Length, Length) {
        let (least, most) = self.takes();
        (stated - most, stated - least)
    }

    /// The least and the most that a coating takes from the stated diameter.
    pub(in crate::verdict) fn takes(&self) -> (Length, Length) {
        coating::takes(self.coating)
    }
}
