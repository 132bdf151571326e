//! A trace of torque over angle, from a CSV file to numbers. What the curve means is told in `peaks`.

use csv::{ReaderBuilder, StringRecord};

use crate::units::TorqueUnit;

/// A recorded curve, angles never falling by more than [`MOST_BACK`].
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Trace {
    /// Angle (degrees) and torque (N·m) of each sample, in the order of the file.
    pub(super) samples: Vec<(f64, f64)>,
}

/// Samples below this tell no curve.
const LEAST_SAMPLES: usize = 20;

/// Degrees that an encoder may seem to turn back between two samples.
const MOST_BACK: f64 = 5.0;

/// More faults of one trace than this say nothing new.
const MOST_FAULTS: usize = 5;

impl Trace {
    /// Reads a trace. The first line names the columns: one begins with `angle` (degrees, or turns where it says
    /// `turn` or `rev`), one with `torque` (`lbf` or `Nm` in it names the unit, else `unit` holds). Columns are
    /// divided by comma, semicolon or tab; with semicolons and tabs a decimal comma is read too.
    ///
    /// # Errors
    /// Each fault with its line.
    pub(super) fn read(bytes: &[u8], unit: TorqueUnit) -> Result<Trace, Vec<String>> {
        let text = String::from_utf8_lossy(bytes);
        let text = text.trim_start_matches('\u{feff}');
        let head = text.lines().next().unwrap_or_default();
        let delimiter = [b';', b'\t'].into_iter().find(|d| head.as_bytes().contains(d)).unwrap_or(b',');
        let mut reader = ReaderBuilder::new()
            .delimiter(delimiter)
            .flexible(true)
            .has_headers(false)
            .from_reader(text.as_bytes());
        let mut rows = reader.records();
        let head = match rows.next() {
            Some(Ok(head)) => head,
            _ => return Err(vec!["line 1: found nothing, expected the names of the columns".to_owned()]),
        };
        let columns = Columns::find(&head, unit).map_err(|fault| vec![format!("line 1: {fault}")])?;
        let mut trace = Trace::default();
        let mut faults = Vec::new();
        for row in rows {
            match row.map_err(|e| e.to_string()).and_then(|row| columns.sample(&row, delimiter != b',')) {
                Ok(sample) => trace.samples.push(sample),
                Err(fault) => faults.push(fault),
            }
        }
        let more = faults.len().saturating_sub(MOST_FAULTS);
        if more > 0 {
            faults.truncate(MOST_FAULTS);
            faults.push(format!("{more} further lines are no samples"));
        }
        if faults.is_empty() {
            faults.extend(trace.fault());
        }
        if faults.is_empty() { Ok(trace) } else { Err(faults) }
    }

    /// What is wrong with the curve as a whole.
    fn fault(&self) -> Option<String> {
        let samples = &self.samples;
        if samples.len() < LEAST_SAMPLES {
            return Some(format!("found {} samples, expected {LEAST_SAMPLES} at least", samples.len()));
        }
        let back = samples.windows(2).position(|pair| pair[1].0 < pair[0].0 - MOST_BACK)?;
        Some(format!(
            "the angle falls from {} to {}° after sample {}, expected it to rise",
            samples[back].0,
            samples[back + 1].0,
            back + 1
        ))
    }
}

/// Where the numbers of a row stand, and what they are to be multiplied by.
#[derive(Debug)]
struct Columns {
    angle: (usize, f64),
    torque: (usize, f64),
}

impl Columns {
    fn find(head: &StringRecord, unit: TorqueUnit) -> Result<Columns, String> {
        let names: Vec<String> = head.iter().map(|name| name.trim().to_lowercase()).collect();
        let column = |word: &str| {
            let mut found = (0..names.len()).filter(|&i| names[i].starts_with(word));
            match (found.next(), found.next()) {
                (Some(i), None) => Ok(i),
                (None, _) => Err(format!("found no column {word}, expected the columns angle and torque")),
                (Some(_), Some(_)) => Err(format!("found two columns {word}, expected one")),
            }
        };
        let (angle, torque) = (column("angle")?, column("torque")?);
        let in_turns = ["turn", "rev"].iter().any(|word| names[angle].contains(word));
        let said: String = names[torque].chars().filter(|c| c.is_alphanumeric()).collect();
        let unit = match said.strip_prefix("torque").unwrap_or_default() {
            "" => unit,
            "nm" => TorqueUnit::NewtonMetre,
            "lbfin" | "inlbf" | "lbin" | "inlb" | "inlbs" => TorqueUnit::PoundInch,
            _ => {
                return Err(format!(
                    "found the column \"{}\", expected torque, torque_nm or torque_lbf_in",
                    names[torque]
                ));
            }
        };
        Ok(Columns { angle: (angle, if in_turns { 360.0 } else { 1.0 }), torque: (torque, unit.in_nm()) })
    }

    fn sample(&self, row: &StringRecord, decimal_comma: bool) -> Result<(f64, f64), String> {
        let line = row.position().map_or(0, csv::Position::line);
        let number = |(column, factor): (usize, f64)| {
            let text = row.get(column).unwrap_or_default().trim();
            let read = if decimal_comma { text.replace(',', ".").parse() } else { text.parse::<f64>() };
            let value = read.ok().map(|v| v * factor).filter(|v| v.is_finite());
            let shown: String = text.chars().take(30).collect();
            value.ok_or_else(|| format!("line {line}: found \"{shown}\", expected a number"))
        };
        Ok((number(self.angle)?, number(self.torque)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(head: &str, row: impl Fn(usize) -> String) -> String {
        let rows: Vec<String> = (0..25).map(row).collect();
        format!("{head}\n{}\n", rows.join("\n"))
    }

    #[test]
    fn units_and_separators_are_read_from_the_first_line() {
        let plain = rows("angle,torque", |i| format!("{i},1.5"));
        let trace = Trace::read(plain.as_bytes(), TorqueUnit::NewtonMetre).unwrap();
        assert_eq!((trace.samples.len(), trace.samples[3]), (25, (3.0, 1.5)));
        // By hand: a quarter turn is 90°, 10 lbf·in is 1.129848 N·m.
        let other = rows("Time;Torque (lbf·in);Angle [turns]", |i| format!("x;10,0;{}", i as f64 * 0.25));
        let trace = Trace::read(other.as_bytes(), TorqueUnit::NewtonMetre).unwrap();
        assert_eq!(trace.samples[1].0, 90.0);
        assert!((trace.samples[1].1 - 1.129_848).abs() < 1e-6);
    }

    #[test]
    fn every_bad_line_is_told() {
        let text =
            rows("angle,torque", |i| if i == 4 || i == 9 { "7,abc".to_owned() } else { format!("{i},1") });
        let faults = Trace::read(text.as_bytes(), TorqueUnit::NewtonMetre).unwrap_err();
        assert_eq!(
            faults,
            ["line 6: found \"abc\", expected a number", "line 11: found \"abc\", expected a number"]
        );
        let refused =
            |text: &str| Trace::read(text.as_bytes(), TorqueUnit::NewtonMetre).unwrap_err()[0].clone();
        assert!(refused("").contains("names of the columns"));
        assert!(refused("a,b\n1,2\n").contains("no column angle"));
        assert!(refused("angle,torque kgf\n1,2\n").contains("torque_lbf_in"));
        assert!(refused("angle,torque\n1,2\n").contains("found 1 samples"));
        assert!(
            refused(&rows("angle,torque", |i| format!("{},1", 900 - 100 * i as i64)))
                .contains("expected it to rise")
        );
    }
}
