//! A callout value as canonical text, which reads back as the same value. Chooses no numbers and rounds none: a
//! quantity keeps its decimals, and gets more where they do not hold its value.

use super::{Callout, Entry, NamedThread, Quantity, Size, Stage, WrittenTolerance};
use crate::joint::ScrewForm;
use crate::trade::Process;
use crate::units::Unit;

/// More decimal places than any drawing has.
const MOST_DECIMALS: usize = 6;
/// Sixty-fourths are the finest fractions of drills and drawings.
const FINEST_FRACTION: f64 = 64.0;

impl Callout {
    /// The callout as text for a drawing in `unit`: inches lose the zero before the point, millimetres keep it
    /// (as ASME Y14.5 writes both).
    ///
    /// ```
    /// use boreband::{callout, units::Unit};
    /// let read = callout::read("Ø3,65 +0,05 0 durchgehend (4x)");
    /// assert_eq!(read.print(Unit::Mm), "4X Ø3.65 +0.05/0 THRU");
    /// ```
    pub fn print(&self, unit: Unit) -> String {
        let mut parts: Vec<String> = Vec::new();
        parts.extend(
            self.tag
                .as_ref()
                .map(|tag| if self.is_tag_alone() { tag.clone() } else { format!("HOLE {tag}") }),
        );
        parts.extend(self.count.map(|n| format!("{n}X")));
        parts.extend(self.size.as_ref().map(|size| self.size_text(size, unit)));
        parts.extend(self.second.map(|q| format!("[{}]", number(q, unit))));
        parts.extend(self.tolerance.as_ref().map(|t| tolerance(t, unit)));
        parts.extend(self.process.map(|p| process_word(p).to_owned()));
        parts.extend(self.through.then(|| "THRU".to_owned()));
        parts.extend(self.depth.map(|d| format!("↧{}", number(d, unit))));
        parts.extend(self.countersink.map(|e| format!("⌵{}", entry(e, unit))));
        parts.extend(self.counterbore.map(|e| format!("⌴{}", entry(e, unit))));
        parts.extend(self.other_thread.clone());
        parts.extend(self.thread_text(unit));
        parts.extend(self.thickness.map(|t| format!("THK {}", number(t, unit))));
        parts.extend(self.coating.and_then(|c| c.thickness).map(|t| format!("{} µm", micrometres(t))));
        parts.extend(self.coating.and_then(|c| c.stage).map(|stage| match stage {
            Stage::Before => "BEFORE COATING".to_owned(),
            Stage::After => "AFTER COATING".to_owned(),
        }));
        parts.extend(self.general.then(|| "TYP".to_owned()));
        parts.join(" ")
    }

    fn is_tag_alone(&self) -> bool {
        let rest = Callout { tag: None, text: String::new(), spans: Vec::new(), ..self.clone() };
        rest == Callout::default()
    }

    fn size_text(&self, size: &Size, unit: Unit) -> String {
        let sign = if self.marked_diameter { "Ø" } else { "" };
        match size {
            Size::Diameter(q) => format!("{sign}{}", number(*q, unit)),
            Size::Drill { name, diameter } => {
                let name = if name.starts_with('#') { name.clone() } else { format!("\"{name}\"") };
                let bare = Quantity { unit: None, ..*diameter };
                let bracket = self.marked_diameter && !self.marks_drill();
                if bracket { format!("{name} (Ø{})", number(bare, unit)) } else { name }
            }
            Size::Radius(q) => format!("R{}", number(*q, unit)),
            Size::Limits(low, high) => format!("{sign}{}/{}", number(*low, unit), number(*high, unit)),
        }
    }

    /// Whether what stands beside a drill's name says that it is a hole's; else its diameter has to.
    fn marks_drill(&self) -> bool {
        let cut = self.process.is_some_and(|p| !matches!(p, Process::Cored | Process::Extruded));
        let counted = self.count.is_some() && self.screw.is_none() && self.thread.is_none();
        let entry = self.counterbore.is_some() || self.countersink.is_some();
        cut || self.through || self.depth.is_some() || entry || counted
    }

    /// The thread with what it is for: tapped, or a screw's.
    fn thread_text(&self, unit: Unit) -> Option<String> {
        let length = self.screw_length.map(|l| format!(" X {} LG", number(l, unit))).unwrap_or_default();
        let named = self.thread.as_ref().map(|t| thread(t, self.tapped, unit) + &length);
        let tap = if self.tapped {
            named.clone().map_or("TAP".to_owned(), |t| format!("{t} TAP"))
        } else {
            String::new()
        };
        let kind = match self.screw {
            Some(ScrewForm::Rolling) => "THREAD ROLLING SCREW",
            Some(ScrewForm::Cutting) => "THREAD CUTTING SCREW",
            Some(ScrewForm::Spaced) => "SHEET METAL SCREW",
            None => "SCREW",
        };
        match (self.tapped, self.screw, named) {
            (true, None, Some(named)) => Some(named),
            (true, None, None) if self.other_thread.is_some() => None,
            (true, None, None) => Some(tap),
            (true, Some(_), _) => Some(format!("{tap} FOR {kind}")),
            (false, _, Some(named)) => Some(format!("FOR {named} {kind}")),
            (false, Some(_), None) => Some(format!("FOR {kind}{length}")),
            (false, None, None) => None,
        }
    }
}

/// A coating's thickness, which is in millimetres, without the noise of the factor.
fn micrometres(thickness: Quantity) -> f64 {
    (thickness.value * 1e6).round() / 1e3
}

/// A quantity with its decimals, its unit if it states one, or as a fraction.
fn number(q: Quantity, unit: Unit) -> String {
    let fraction = q.unit == Some(Unit::Inch) && q.decimals == 0 && q.value.fract() != 0.0;
    if fraction && let Some(text) = fraction_text(q.value) {
        return text;
    }
    let mark = match q.unit {
        Some(Unit::Inch) => "\"",
        Some(Unit::Mm) => "mm",
        None => "",
    };
    format!("{}{mark}", decimal(q, unit))
}

fn decimal(q: Quantity, unit: Unit) -> String {
    let holds = |places: &usize| format!("{:.places$}", q.value).parse() == Ok(q.value);
    let least = usize::from(q.decimals);
    let places = (least..=MOST_DECIMALS.max(least)).find(holds).unwrap_or(MOST_DECIMALS.max(least));
    let text = format!("{:.places$}", q.value);
    match text.strip_prefix("0.") {
        Some(rest) if q.unit.unwrap_or(unit) == Unit::Inch => format!(".{rest}"),
        _ => text,
    }
}

/// `7/32`, `1 1/2`; none if the value is no whole number of 64ths.
fn fraction_text(value: f64) -> Option<String> {
    let (whole, mut above, mut below) = (value.trunc(), value.fract() * FINEST_FRACTION, FINEST_FRACTION);
    if above.fract() != 0.0 {
        return None;
    }
    while above % 2.0 == 0.0 {
        (above, below) = (above / 2.0, below / 2.0);
    }
    Some(if whole > 0.0 { format!("{whole} {above}/{below}") } else { format!("{above}/{below}") })
}

fn tolerance(tolerance: &WrittenTolerance, unit: Unit) -> String {
    let (upper, lower) = match tolerance {
        WrittenTolerance::Fit(fit) => return fit.clone(),
        WrittenTolerance::Largest => return "MAX".to_owned(),
        WrittenTolerance::Smallest => return "MIN".to_owned(),
        WrittenTolerance::Deviations { upper, lower } => (*upper, *lower),
    };
    if upper.value == -lower.value && upper.value != 0.0 {
        return format!("±{}", number(upper, unit));
    }
    format!("{}/{}", deviation(upper, unit), deviation(lower, unit))
}

/// `+0.05`, `-0.02`, `0`.
fn deviation(q: Quantity, unit: Unit) -> String {
    let size = number(Quantity { value: q.value.abs(), ..q }, unit);
    match q.value {
        v if v > 0.0 => format!("+{size}"),
        v if v < 0.0 => format!("-{size}"),
        _ => size,
    }
}

/// ` Ø8 ↧3`, ` Ø10 X 90°`.
fn entry(entry: Entry, unit: Unit) -> String {
    let diameter = entry.diameter.map(|d| format!(" Ø{}", number(d, unit))).unwrap_or_default();
    let between = if entry.diameter.is_some() { " X" } else { "" };
    let angle = entry.angle.map(|a| format!("{between} {}°", a.degrees())).unwrap_or_default();
    let depth = entry.depth.map(|d| format!(" ↧{}", number(d, unit))).unwrap_or_default();
    diameter + &angle + &depth
}

/// `M4-6H ↧10`, `#8-32-2B`; behind a screw's thread a depth alone would be the hole's.
fn thread(named: &NamedThread, tapped: bool, unit: Unit) -> String {
    let name = &named.thread.name;
    let (size, _) = name.split_once('-').unwrap_or((name, ""));
    let number_size = named.thread.unit == Unit::Inch && size.chars().all(|c| c.is_ascii_digit());
    // A bare number before the hyphen may be a number size or whole inches.
    let (before, after) = match (number_size, named.thread.major.inch() >= 0.5) {
        (true, false) => ("#", ""),
        (true, true) => ("", " UN"),
        _ => ("", ""),
    };
    let class = named.class.as_ref().map(|c| format!("-{c}")).unwrap_or_default();
    let hand = if named.left_hand { "-LH" } else { "" };
    let deep = if tapped { "↧" } else { "FULL THREAD " };
    let depth = named.depth.map(|d| format!(" {deep}{}", number(d, unit))).unwrap_or_default();
    format!("{before}{name}{after}{class}{hand}{depth}")
}

fn process_word(process: Process) -> &'static str {
    match process {
        Process::Drilled => "DRILL",
        Process::Punched => "PUNCH",
        Process::Laser => "LASER CUT",
        Process::Plasma => "PLASMA CUT",
        Process::Waterjet => "WATERJET CUT",
        Process::Reamed => "REAM",
        Process::Cored => "CORED",
        Process::Extruded => "EXTRUDED",
    }
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;

    #[test]
    fn the_usual_callouts() {
        // Left: as drafters write it. Right: the same in the form of ASME Y14.5, by hand.
        for (text, unit, printed) in [
            ("4 PLCS 3.65 DIA +.05 -.00 DURCH", Unit::Mm, "4X Ø3.65 +0.05/0.00 THRU"),
            ("0.224\" DIA ±0.003\"", Unit::Inch, "Ø.224\" ±.003\""),
            ("Ø0.224 ±0.003 [5.69]", Unit::Inch, "Ø.224 [5.69] ±.003"),
            ("1 1/2 DIA", Unit::Inch, "Ø1 1/2"),
            ("NO. 29 DRILL, 8-32 UNC-2B .50 DEEP", Unit::Inch, "#29 DRILL #8-32-2B ↧.50"),
            ("Ø5 DURCH, Ø8 C'BORE 3 TIEF", Unit::Mm, "Ø5 THRU ⌴ Ø8 ↧3"),
            ("Ø3,6 FÜR M4 GEWINDEFURCHEND", Unit::Mm, "Ø3.6 FOR M4 THREAD ROLLING SCREW"),
            ("3,70/3,65 DIA", Unit::Mm, "Ø3.65/3.70"),
        ] {
            assert_eq!(read(text).print(unit), printed, "{text}");
        }
    }

    #[test]
    fn every_form_prints_to_what_reads_the_same() {
        let mut reader = csv::Reader::from_reader(include_str!("forms.csv").as_bytes());
        let plain = |c: &Callout| Callout { text: String::new(), spans: Vec::new(), ..c.clone() };
        let mut forms = 0;
        for row in reader.records() {
            let row = row.expect("a row");
            let first = read(&row[0].replace("\\n", "\n"));
            for unit in [Unit::Mm, Unit::Inch] {
                let printed = first.print(unit);
                assert_eq!(plain(&read(&printed)), plain(&first), "{} printed as {printed}", &row[0]);
            }
            forms += 1;
        }
        assert!(forms > 300, "{forms} forms");
    }
}
