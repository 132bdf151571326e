//! How a hole is made.

/// A process that makes a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
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
    /// Every process, in the order of the documentation.
    pub const ALL: [Process; 8] = [
        Process::Drilled,
        Process::Punched,
        Process::Laser,
        Process::Plasma,
        Process::Waterjet,
        Process::Reamed,
        Process::Cored,
        Process::Extruded,
    ];

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

    /// Reads a name as in hole lists, in any letter case; none if unknown. Words of drawings are read by
    /// `callout`.
    pub fn parse(text: &str) -> Option<Process> {
        let name = text.trim().to_lowercase();
        Process::ALL.into_iter().find(|p| p.name() == name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_read_back() {
        for process in Process::ALL {
            assert_eq!(Process::parse(process.name()), Some(process));
        }
        assert_eq!(Process::parse(" Punched "), Some(Process::Punched));
        assert_eq!(Process::parse("chewed"), None);
        assert_eq!(Process::parse(""), None);
    }
}
