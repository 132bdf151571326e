//! From the file of a record, and the traces beside it, to a [`Trial`].

use std::path::Path;

use super::trace::Trace;
use super::wire::{Record, RunRow};
use super::{Run, Trial, peaks};
use crate::joint::{Screw, ScrewForm};
use crate::reading::{Fault, LengthAboveZero, Placed, display_path, read_file};
use crate::units::{Length, Torque, TorqueUnit, Unit};

pub(super) fn load(path: &Path) -> Result<Trial, Vec<Fault>> {
    let file = display_path(path);
    let record: Record = read_file(path)?;
    let unusable = || vec![Fault::whole(&file, "could not be used as a trial record")];
    let (Some(unit), Some(torque_unit)) = (record.unit.map(|u| u.0), record.torque_unit.map(|u| u.0)) else {
        return Err(unusable());
    };
    let folder = path.parent().unwrap_or(Path::new(""));
    let joint = record.joint.as_ref().ok_or_else(unusable)?;
    let thickness = length(joint.thickness, unit).ok_or_else(unusable)?;
    let maker = Maker { file: &file, folder, unit, torque_unit, thickness };
    let mut faults = Vec::new();
    let mut runs = Vec::new();
    for (index, row) in record.runs.iter().flatten().enumerate() {
        match maker.run(index, row) {
            Ok(run) => runs.push(run),
            Err(more) => faults.extend(more),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let text = |text: &Option<crate::reading::Text>| text.as_ref().map(|t| t.0.trim().to_owned());
    let screw = joint.screw.as_ref().ok_or_else(unusable)?;
    Ok(Trial {
        test: text(&record.test),
        part: text(&record.part),
        note: record.note.as_ref().map(|t| t.0.clone()),
        unit,
        torque_unit,
        screw: Screw {
            thread: screw.thread.as_ref().ok_or_else(unusable)?.0.clone(),
            length: length(screw.length, unit),
            form: screw.form.map_or(ScrewForm::Rolling, |f| f.0),
        },
        material: joint.material.ok_or_else(unusable)?.0,
        thickness,
        hardness_hb: joint.hardness_hb.map(|h| h.0),
        process: joint.process.map(|p| p.0),
        finish: text(&joint.finish),
        lubricant: text(&joint.lubricant),
        driver_rpm: joint.driver_rpm.map(|s| s.0),
        tool: record.tool.as_ref().and_then(|tool| {
            let off = tool.plus_minus.map_or(0.0, |t| t.0);
            Some((torque(tool.torque?.0, torque_unit)?, torque(off, torque_unit)?))
        }),
        runs,
        file,
    })
}

/// What all runs of a record share.
struct Maker<'a> {
    file: &'a str,
    folder: &'a Path,
    unit: Unit,
    torque_unit: TorqueUnit,
    thickness: Length,
}

impl Maker<'_> {
    fn run(&self, index: usize, row: &Placed<RunRow>) -> Result<Run, Vec<Fault>> {
        let value = &row.value;
        let mode = value.mode.map(|m| m.0);
        let (drive, failure, found) = match &value.trace {
            Some(trace) => {
                let found = self.trace(&trace.0, &row.pointer, mode)?;
                (newton_metres(found.drive), newton_metres(found.failure), Some(found))
            }
            None => {
                let stated = |t: Option<f64>| t.and_then(|t| torque(t, self.torque_unit));
                (stated(value.drive.map(|t| t.0)), stated(value.failure.map(|t| t.0)), None)
            }
        };
        let (Some(drive), Some(failure)) = (drive, failure) else {
            return Err(vec![self.fault(&row.pointer, "expected the torque of drive and of failure")]);
        };
        Ok(Run {
            name: value.run.as_ref().map_or_else(|| (index + 1).to_string(), |t| t.0.trim().to_owned()),
            hole: length(value.hole, self.unit),
            thickness: length(value.thickness, self.unit).unwrap_or(self.thickness),
            drive,
            failure,
            mode,
            peaks: found,
        })
    }

    fn trace(
        &self,
        name: &str,
        pointer: &str,
        mode: Option<super::Mode>,
    ) -> Result<peaks::Peaks, Vec<Fault>> {
        let path = self.folder.join(name);
        let at = format!("{pointer}/trace");
        let bytes = std::fs::read(&path).map_err(|e| {
            vec![self.fault(&at, &format!("the trace {} cannot be read: {e}", display_path(&path)))]
        })?;
        let trace = Trace::read(&bytes, self.torque_unit).map_err(|faults| {
            let told = |fault: String| self.fault(&at, &format!("the trace {name}: {fault}"));
            faults.into_iter().map(told).collect::<Vec<_>>()
        })?;
        let found = peaks::find(&trace, mode)
            .map_err(|fault| vec![self.fault(&at, &format!("the trace {name}: {fault}"))])?;
        if found.drive <= 0.0 || found.failure < found.drive {
            let said =
                format!("the trace {name}: expected torques above 0, the failure above the forming peak");
            return Err(vec![self.fault(&at, &said)]);
        }
        Ok(found)
    }

    fn fault(&self, pointer: &str, message: &str) -> Fault {
        Fault { file: self.file.to_owned(), pointer: pointer.to_owned(), message: message.to_owned() }
    }
}

fn length(written: Option<LengthAboveZero>, unit: Unit) -> Option<Length> {
    Length::new(written?.0, unit).ok()
}

fn torque(value: f64, unit: TorqueUnit) -> Option<Torque> {
    Torque::new(value, unit).ok()
}

fn newton_metres(value: f64) -> Option<Torque> {
    torque(value, TorqueUnit::NewtonMetre)
}
