//! Lengths, angles and torques as types. The only place where millimetres and inches, newtons and pounds meet.
//!
//! Constructors refuse NaN and infinity, so a value that exists can be computed with.

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// Millimetres in one inch (exact, by definition of the international inch, 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// A number that is no finite number was offered as a length or an angle.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{0} is not a finite number")]
pub struct NotFinite(pub f64);

/// The unit that a length is written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    /// Millimetre.
    Mm,
    /// International inch, 25.4 mm.
    Inch,
}

impl Unit {
    /// Millimetres in one of this unit.
    pub const fn in_mm(self) -> f64 {
        match self {
            Unit::Mm => 1.0,
            Unit::Inch => MM_PER_INCH,
        }
    }

    /// The name used in files and reports: `mm` or `in`.
    pub const fn name(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Inch => "in",
        }
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A length (mm inside), always finite when built by a constructor.
///
/// ```
/// use boreband::units::Length;
/// let hole = Length::from_inch(0.1437).unwrap();
/// assert!((hole.mm() - 3.65).abs() < 0.0005); // exact 25.4; checks.json C155
/// assert!(Length::from_mm(f64::NAN).is_err());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Length(f64);

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0.0);

    /// A length given in millimetres.
    ///
    /// # Errors
    /// [`NotFinite`] for NaN and infinities.
    pub fn from_mm(value: f64) -> Result<Self, NotFinite> {
        if value.is_finite() { Ok(Length(value)) } else { Err(NotFinite(value)) }
    }

    /// A length given in inches.
    ///
    /// # Errors
    /// [`NotFinite`] for NaN and infinities, and for a value whose millimetres overflow.
    pub fn from_inch(value: f64) -> Result<Self, NotFinite> {
        Self::from_mm(value * MM_PER_INCH)
    }

    /// A length given in `unit`.
    ///
    /// # Errors
    /// [`NotFinite`] for NaN and infinities.
    pub fn new(value: f64, unit: Unit) -> Result<Self, NotFinite> {
        Self::from_mm(value * unit.in_mm())
    }

    /// A length known when the program is built, in millimetres. For tables and limits in code.
    ///
    /// # Panics
    /// When built from a value that is not finite (at compile time in a constant).
    pub const fn mm_const(value: f64) -> Self {
        assert!(value.is_finite(), "a length in code is finite");
        Length(value)
    }

    /// The value in millimetres.
    pub const fn mm(self) -> f64 {
        self.0
    }

    /// The value in inches.
    pub const fn inch(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// The value in `unit`.
    pub const fn value_in(self, unit: Unit) -> f64 {
        self.0 / unit.in_mm()
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Length(self.0.abs())
    }

    /// The smaller of two lengths.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        Length(self.0.min(other.0))
    }

    /// The larger of two lengths.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        Length(self.0.max(other.0))
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl Mul<f64> for Length {
    type Output = Length;
    fn mul(self, factor: f64) -> Length {
        Length(self.0 * factor)
    }
}

impl Div<f64> for Length {
    type Output = Length;
    fn div(self, divisor: f64) -> Length {
        Length(self.0 / divisor)
    }
}

impl Div for Length {
    type Output = f64;
    fn div(self, other: Length) -> f64 {
        self.0 / other.0
    }
}

/// A plane angle (degrees inside), always finite when built by the constructor.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Angle(f64);

impl Angle {
    /// An angle given in degrees.
    ///
    /// # Errors
    /// [`NotFinite`] for NaN and infinities.
    pub fn from_degrees(value: f64) -> Result<Self, NotFinite> {
        if value.is_finite() { Ok(Angle(value)) } else { Err(NotFinite(value)) }
    }

    /// The value in degrees.
    pub const fn degrees(self) -> f64 {
        self.0
    }

    /// The value in radians.
    pub fn radians(self) -> f64 {
        self.0.to_radians()
    }
}

/// Newton-metres in one pound-force inch (exact: 4.448 221 615 260 5 N in a pound-force, 0.0254 m in an inch).
pub const NM_PER_LBF_IN: f64 = 4.448_221_615_260_5 * 0.0254;

/// The unit that a torque is written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum TorqueUnit {
    /// Newton-metre.
    NewtonMetre,
    /// Pound-force inch.
    PoundInch,
}

impl TorqueUnit {
    /// Newton-metres in one of this unit.
    pub const fn in_nm(self) -> f64 {
        match self {
            TorqueUnit::NewtonMetre => 1.0,
            TorqueUnit::PoundInch => NM_PER_LBF_IN,
        }
    }

    /// The name used in files and reports: `N·m` or `lbf·in`.
    pub const fn name(self) -> &'static str {
        match self {
            TorqueUnit::NewtonMetre => "N·m",
            TorqueUnit::PoundInch => "lbf·in",
        }
    }
}

impl fmt::Display for TorqueUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A torque (N·m inside), always finite when built by the constructor.
///
/// ```
/// use boreband::units::{Torque, TorqueUnit};
/// // By hand: 144 lbf·in times 0.112985 N·m.
/// assert!((Torque::new(144.0, TorqueUnit::PoundInch).unwrap().nm() - 16.2698).abs() < 1e-4);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Torque(f64);

impl Torque {
    /// A torque given in `unit`.
    ///
    /// # Errors
    /// [`NotFinite`] for NaN and infinities.
    pub fn new(value: f64, unit: TorqueUnit) -> Result<Self, NotFinite> {
        let value = value * unit.in_nm();
        if value.is_finite() { Ok(Torque(value)) } else { Err(NotFinite(value)) }
    }

    /// The value in newton-metres.
    pub const fn nm(self) -> f64 {
        self.0
    }

    /// The value in `unit`.
    pub const fn value_in(self, unit: TorqueUnit) -> f64 {
        self.0 / unit.in_nm()
    }
}
