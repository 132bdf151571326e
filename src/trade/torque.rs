//! Torque and clamp arithmetic: tightening torque, torsional shear, clamp stress. Plausibility only; a joint's torques
//! come from a test.

use std::f64::consts::PI;

use crate::units::Length;

/// Tightening torque for a clamp load (N·mm): F (0.16 P + 0.58 d2 µG + DKm/2 µK), the short form of VDI 2230 as
/// recalled (memory). `load_n` is F (N), `head` DKm the mean bearing diameter, the rest friction under the thread and
/// under the head. Validity: a machine thread that is already formed; forming torque comes on top.
///
/// ```
/// use boreband::trade::tightening_torque_nmm;
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// let torque = tightening_torque_nmm(8000.0, mm(1.0), mm(5.35), 0.14, mm(9.0), 0.14);
/// assert!((torque - 9795.4).abs() < 0.1); // 8000 (0.16 + 0.43442 + 0.63), by hand
/// ```
pub fn tightening_torque_nmm(
    load_n: f64,
    pitch: Length,
    pitch_diameter: Length,
    thread_friction: f64,
    head: Length,
    head_friction: f64,
) -> f64 {
    load_n
        * (0.16 * pitch.mm() + 0.58 * pitch_diameter.mm() * thread_friction + head.mm() / 2.0 * head_friction)
}

/// Shear stress at the root of a screw under torque (MPa): 16 T / (π d3³) (mechanics). `torque_nm` in N·m.
///
/// ```
/// use boreband::trade::torsional_shear_mpa;
/// use boreband::units::Length;
/// let shear = torsional_shear_mpa(15.0, Length::from_mm(4.7731).unwrap());
/// assert!((shear - 702.5).abs() < 0.1); // 16 × 15000 / (π 4.7731³), by hand
/// ```
pub fn torsional_shear_mpa(torque_nm: f64, root: Length) -> f64 {
    16.0 * torque_nm * 1e3 / (PI * root.mm().powi(3))
}

/// Tensile stress that a clamp load makes (load over area, in their units: N and mm² give MPa, lbf and in² psi).
///
/// ```
/// use boreband::trade::clamp_stress;
/// assert!((clamp_stress(1600.0, 0.03182) - 50_283.0).abs() < 1.0); // psi, by hand
/// ```
pub fn clamp_stress(load: f64, area: f64) -> f64 {
    load / area
}
