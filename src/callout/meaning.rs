//! What a word of a drawing may mean, and the names of these meanings in files. Knows no words.

use crate::trade::Process;

/// What a word means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Meaning {
    /// `SHAFT`, `PIN`: its diameter is no hole's.
    Solid,
    /// `ALL HOLES`.
    AllHoles,
    /// `ANGULAR`: tolerances of angles.
    Angular,
    /// `CLEARANCE HOLE`.
    Clearance,
    /// `AFTER`: beside a coating.
    After,
    /// `BEFORE`: beside a coating.
    Before,
    /// `PLATING`, `PAINT`: a layer that is not the sheet.
    Coating,
    /// `C'BORE`.
    Counterbore,
    /// `CSK`.
    Countersink,
    /// `DEEP`, `TIEFE`.
    Deep,
    /// `DEG`.
    Degrees,
    /// `DETAIL`, `EINZELHEIT`: the title of an enlarged part of a view.
    Detail,
    /// `DIA`.
    Diameter,
    /// `DIMENSIONS`.
    Dimensions,
    /// The number in words.
    Eight,
    /// `EQ SP`.
    EquallySpaced,
    /// The number in words.
    Five,
    /// `FOR`.
    For,
    /// The number in words.
    Four,
    /// `FRACTIONS`.
    Fractions,
    /// `FULL THREAD`: the depth beside it is the thread's.
    FullThread,
    /// `GA`.
    Gauge,
    /// `HOLE`, `BOHRUNG`.
    Hole,
    /// `INCH`.
    Inch,
    /// Connecting words that change nothing.
    Join,
    /// `LH`.
    LeftHand,
    /// `LG`, `LONG`: how long a screw is.
    Long,
    /// `MATERIAL`, `WERKSTOFF`.
    Material,
    /// `MAX`.
    Max,
    /// `MM`.
    Millimetre,
    /// `MIN`.
    Min,
    /// `PILOT`, `KERNLOCH`.
    Pilot,
    /// `GASKET`, `FILM`: a part that is not the sheet.
    OtherPart,
    /// `B.C.`, `LK`.
    PitchCircle,
    /// `PLCS`, `OFF`.
    Place,
    /// `PLACE DECIMAL`.
    PlaceDecimal,
    /// Holes cored.
    ProcessCored,
    /// Holes drilled.
    ProcessDrilled,
    /// Holes extruded.
    ProcessExtruded,
    /// Holes laser.
    ProcessLaser,
    /// Holes plasma.
    ProcessPlasma,
    /// Holes punched.
    ProcessPunched,
    /// Holes reamed.
    ProcessReamed,
    /// Holes waterjet.
    ProcessWaterjet,
    /// `QTY`.
    Quantity,
    /// `RAD`.
    Radius,
    /// `RH`.
    RightHand,
    /// `SCALE`.
    Scale,
    /// `SCREW`, `BOLT`.
    Screw,
    /// Thread-cutting screws.
    ScrewCutting,
    /// Thread-rolling screws.
    ScrewRolling,
    /// Spaced-thread screws.
    ScrewSpaced,
    /// `UNC`.
    Series,
    /// `SHEET`, `BLECH`.
    Sheet,
    /// The number in words.
    Six,
    /// `SPOTFACE`.
    Spotface,
    /// `TAP`, `GEWINDE`.
    Tap,
    /// `TAP DRILL`.
    TapDrill,
    /// `TAPPED HOLE`, `GEWINDEBOHRUNG`: may be counted.
    TappedHole,
    /// `THK`.
    Thickness,
    /// The number in words.
    Three,
    /// `THRU`.
    Through,
    /// `TOLERANCE`.
    Tolerance,
    /// The number in words.
    Two,
    /// `TYP`.
    Typical,
    /// `UNITS`.
    Units,
    /// `UNLESS NOTED`.
    UnlessNoted,
}

/// The names of the meanings in `words.csv`.
pub(super) const NAMES: &[(&str, Meaning)] = &[
    ("solid", Meaning::Solid),
    ("all-holes", Meaning::AllHoles),
    ("angular", Meaning::Angular),
    ("clearance", Meaning::Clearance),
    ("after", Meaning::After),
    ("before", Meaning::Before),
    ("coating", Meaning::Coating),
    ("counterbore", Meaning::Counterbore),
    ("countersink", Meaning::Countersink),
    ("deep", Meaning::Deep),
    ("degrees", Meaning::Degrees),
    ("detail", Meaning::Detail),
    ("diameter", Meaning::Diameter),
    ("dimensions", Meaning::Dimensions),
    ("eight", Meaning::Eight),
    ("equally-spaced", Meaning::EquallySpaced),
    ("five", Meaning::Five),
    ("for", Meaning::For),
    ("four", Meaning::Four),
    ("fractions", Meaning::Fractions),
    ("full-thread", Meaning::FullThread),
    ("gauge", Meaning::Gauge),
    ("hole", Meaning::Hole),
    ("inch", Meaning::Inch),
    ("join", Meaning::Join),
    ("left-hand", Meaning::LeftHand),
    ("long", Meaning::Long),
    ("material", Meaning::Material),
    ("max", Meaning::Max),
    ("millimetre", Meaning::Millimetre),
    ("min", Meaning::Min),
    ("other-part", Meaning::OtherPart),
    ("pilot", Meaning::Pilot),
    ("pitch-circle", Meaning::PitchCircle),
    ("place", Meaning::Place),
    ("place-decimal", Meaning::PlaceDecimal),
    ("process-cored", Meaning::ProcessCored),
    ("process-drilled", Meaning::ProcessDrilled),
    ("process-extruded", Meaning::ProcessExtruded),
    ("process-laser", Meaning::ProcessLaser),
    ("process-plasma", Meaning::ProcessPlasma),
    ("process-punched", Meaning::ProcessPunched),
    ("process-reamed", Meaning::ProcessReamed),
    ("process-waterjet", Meaning::ProcessWaterjet),
    ("quantity", Meaning::Quantity),
    ("radius", Meaning::Radius),
    ("right-hand", Meaning::RightHand),
    ("scale", Meaning::Scale),
    ("screw", Meaning::Screw),
    ("screw-cutting", Meaning::ScrewCutting),
    ("screw-rolling", Meaning::ScrewRolling),
    ("screw-spaced", Meaning::ScrewSpaced),
    ("series", Meaning::Series),
    ("sheet", Meaning::Sheet),
    ("six", Meaning::Six),
    ("spotface", Meaning::Spotface),
    ("tap", Meaning::Tap),
    ("tap-drill", Meaning::TapDrill),
    ("tapped-hole", Meaning::TappedHole),
    ("thickness", Meaning::Thickness),
    ("three", Meaning::Three),
    ("through", Meaning::Through),
    ("tolerance", Meaning::Tolerance),
    ("two", Meaning::Two),
    ("typical", Meaning::Typical),
    ("units", Meaning::Units),
    ("unless-noted", Meaning::UnlessNoted),
];

impl Meaning {
    /// The names of all meanings, as `words.csv` and users' words write them, in order.
    pub fn names() -> impl Iterator<Item = &'static str> {
        let mut names: Vec<&str> = NAMES.iter().map(|(name, _)| *name).collect();
        names.sort_unstable();
        names.into_iter()
    }

    /// Reads a meaning by its name in the data file.
    pub fn from_name(name: &str) -> Option<Meaning> {
        NAMES.iter().find(|(n, _)| *n == name).map(|(_, m)| *m)
    }

    /// The process that it names.
    pub(super) const fn process(self) -> Option<Process> {
        match self {
            Meaning::ProcessCored => Some(Process::Cored),
            Meaning::ProcessDrilled => Some(Process::Drilled),
            Meaning::ProcessExtruded => Some(Process::Extruded),
            Meaning::ProcessLaser => Some(Process::Laser),
            Meaning::ProcessPlasma => Some(Process::Plasma),
            Meaning::ProcessPunched => Some(Process::Punched),
            Meaning::ProcessReamed => Some(Process::Reamed),
            Meaning::ProcessWaterjet => Some(Process::Waterjet),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meanings_have_one_name_each() {
        let names: Vec<&str> = Meaning::names().collect();
        assert!(names.windows(2).all(|w| w[0] < w[1]));
    }
}
