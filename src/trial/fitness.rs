//! Whether a trial was made for a hole as it stands now. Another thread, metal, thickness, finish or size makes a
//! record stale, and what is not known about the hole is never taken to be as it was tested.

use super::Trial;
use crate::decimals::trimmed;
use crate::joint::{Making, ScrewForm};
use crate::trade::Thread;
use crate::units::{Length, Unit};

/// Share of the pitch by which a hole may lie outside of the sizes that were tested (1.5 percent of rolled
/// engagement): holes are measured no better.
const HOLE_SLACK: f64 = 0.01;
/// Share by which the metal may be thinner or thicker than what was tested: sheet of one nominal varies as much.
const THICKNESS_SLACK: f64 = 0.05;
/// Share by which the hardness may differ.
const HARDNESS_SLACK: f64 = 0.1;

/// A hole as a trial must have tested it.
#[derive(Debug, Clone, Copy)]
pub struct Tested<'a> {
    /// Thread of its screw.
    pub thread: &'a Thread,
    /// How the screw makes its thread.
    pub form: ScrewForm,
    /// Metal and making.
    pub making: &'a Making,
    /// Smallest and largest hole.
    pub hole: (Length, Length),
    /// Finish of the screw, where the list states one.
    pub finish: Option<&'a str>,
    /// Lubricant, where the list states one.
    pub lubricant: Option<&'a str>,
}

/// Why a record does not stand for a hole: one sentence each.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Stale {
    /// The reasons; none if the record stands for the hole.
    pub reasons: Vec<String>,
}

impl Trial {
    /// What of this record is not as in the hole. Lengths are written in `unit`.
    pub fn stale_for(&self, hole: &Tested<'_>, unit: Unit) -> Stale {
        let mut reasons = Vec::new();
        let mut differ = |what: &str, tested: &str, now: &str| {
            reasons.push(format!("it tested {what} {tested}, the hole has {now}"));
        };
        if hole.thread.major != self.screw.thread.major || hole.thread.pitch != self.screw.thread.pitch {
            differ("the thread", &self.screw.thread.name, &hole.thread.name);
        }
        if hole.form != self.screw.form {
            differ("a screw of the form", self.screw.form.name(), hole.form.name());
        }
        match hole.making.material {
            Some(material) if material == self.material => {}
            Some(material) => differ("the material", self.material.name(), material.name()),
            None => differ("the material", self.material.name(), "an unknown one"),
        }
        if let (Some(tested), Some(now)) = (self.process, hole.making.process)
            && tested != now
        {
            differ("holes that were", tested.name(), now.name());
        }
        if let (Some(tested), Some(now)) = (self.hardness_hb, hole.making.hardness_hb)
            && (now - tested).abs() > HARDNESS_SLACK * tested
        {
            differ("a hardness of", &format!("{tested} HB"), &format!("{now} HB"));
        }
        let texts =
            [("the finish", &self.finish, hole.finish), ("the lubricant", &self.lubricant, hole.lubricant)];
        for (what, tested, now) in texts {
            if let Some(now) = now
                && !tested.as_deref().is_some_and(|tested| same_words(tested, now))
            {
                differ(what, tested.as_deref().unwrap_or("not stated"), now);
            }
        }
        reasons.extend(self.thickness_differs(hole.making.thickness, unit));
        reasons.extend(self.hole_differs(hole, unit));
        Stale { reasons }
    }

    fn thickness_differs(&self, now: Option<Length>, unit: Unit) -> Option<String> {
        let all = || self.runs.iter().map(|run| run.thickness);
        let low = all().fold(self.thickness, Length::min);
        let high = all().fold(self.thickness, Length::max);
        let tested = span((low, high), unit);
        let Some(now) = now else {
            return Some(format!("it tested metal of {tested}, the thickness at the hole is not known"));
        };
        let within = now >= low * (1.0 - THICKNESS_SLACK) && now <= high * (1.0 + THICKNESS_SLACK);
        (!within).then(|| format!("it tested metal of {tested}, the hole has {}", written(now, unit)))
    }

    fn hole_differs(&self, hole: &Tested<'_>, unit: Unit) -> Option<String> {
        let slack = self.screw.thread.pitch * HOLE_SLACK;
        let measured = || self.runs.iter().filter_map(|run| run.hole);
        let first = measured().next();
        let Some(first) = first else { return Some("it does not say which holes it tested".to_owned()) };
        let (low, high) = (measured().fold(first, Length::min), measured().fold(first, Length::max));
        let within = hole.hole.0 >= low - slack && hole.hole.1 <= high + slack;
        (!within).then(|| {
            let (tested, now) = (span((low, high), unit), span(hole.hole, unit));
            format!("it tested holes of {tested}, the hole may be {now}")
        })
    }
}

/// The same text but for case and blanks.
fn same_words(a: &str, b: &str) -> bool {
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    plain(a) == plain(b)
}

fn span((low, high): (Length, Length), unit: Unit) -> String {
    if high - low < Length::mm_const(1e-6) {
        return written(low, unit);
    }
    format!("{} to {}", written(low, unit), written(high, unit))
}

fn written(length: Length, unit: Unit) -> String {
    let decimals = if unit == Unit::Mm { 3 } else { 4 };
    format!("{} {unit}", trimmed(length.value_in(unit), decimals))
}
