//! Sums by one feature of a drawing or of a screw hole.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::ledger::{Entry, ScrewHoles};

/// What stands for a feature that nobody stated.
pub(super) const UNKNOWN: &str = "not known";

/// Sums over some drawings or screw holes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, JsonSchema)]
pub struct Sum {
    /// Drawings.
    pub drawings: u64,
    /// Screw holes.
    pub screw_holes: u64,
    /// Verdicts in-band.
    pub in_band: u64,
    /// Verdicts straddles.
    pub straddles: u64,
    /// Verdicts tight.
    pub tight: u64,
    /// Verdicts loose.
    pub loose: u64,
    /// Verdicts undetermined.
    pub undetermined: u64,
    /// Findings of level fail that are not waived. By features of a hole they are not counted.
    pub fail: u64,
    /// Findings of level warn that are not waived.
    pub warn: u64,
    /// Findings of level note that are not waived.
    pub note: u64,
    /// Findings that are waived.
    pub waived: u64,
}

/// One value of a feature, with its sums.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Group {
    /// The value.
    pub value: String,
    /// Its sums.
    #[serde(flatten)]
    pub sum: Sum,
}

/// A rule that found something.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ByRule {
    /// The rule.
    pub rule: String,
    /// Drawings on which it found something that is not waived.
    pub drawings: u64,
    /// Findings of level fail that are not waived.
    pub fail: u64,
    /// Findings of level warn that are not waived.
    pub warn: u64,
    /// Findings of level note that are not waived.
    pub note: u64,
    /// Findings that are waived.
    pub waived: u64,
}

/// Sums by feature.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, JsonSchema)]
pub struct Groups {
    /// Findings by rule, the most frequent failures first.
    pub rule: Vec<ByRule>,
    /// Screw holes by thread.
    pub thread: Vec<Group>,
    /// By material.
    pub material: Vec<Group>,
    /// By process.
    pub process: Vec<Group>,
    /// By thickness of the metal over the diameter of the screw.
    pub thickness_over_diameter: Vec<Group>,
    /// Drawings by folder.
    pub folder: Vec<Group>,
    /// Drawings by the year in which they were last saved.
    pub year: Vec<Group>,
}

impl Sum {
    /// The sums of one drawing.
    pub fn of(entry: &Entry) -> Sum {
        let mut sum = Sum { drawings: 1, ..Sum::default() };
        for holes in &entry.screw_holes {
            sum.take(holes);
        }
        for found in &entry.findings {
            let counter = match (found.waived.is_some(), found.level.as_str()) {
                (true, _) => &mut sum.waived,
                (false, "fail") => &mut sum.fail,
                (false, "warn") => &mut sum.warn,
                (false, _) => &mut sum.note,
            };
            *counter += found.count;
        }
        sum
    }

    fn take(&mut self, holes: &ScrewHoles) {
        self.screw_holes += holes.count;
        match holes.verdict.as_deref() {
            Some("in-band") => self.in_band += holes.count,
            Some("straddles") => self.straddles += holes.count,
            Some("tight") => self.tight += holes.count,
            Some("loose") => self.loose += holes.count,
            Some("undetermined") => self.undetermined += holes.count,
            _ => {}
        }
    }

    fn join(&mut self, other: &Sum) {
        self.drawings += other.drawings;
        self.screw_holes += other.screw_holes;
        self.in_band += other.in_band;
        self.straddles += other.straddles;
        self.tight += other.tight;
        self.loose += other.loose;
        self.undetermined += other.undetermined;
        self.fail += other.fail;
        self.warn += other.warn;
        self.note += other.note;
        self.waived += other.waived;
    }
}

/// Sums in the making.
#[derive(Debug, Default)]
pub(super) struct Tables {
    rule: BTreeMap<String, ByRule>,
    thread: BTreeMap<String, Sum>,
    material: BTreeMap<String, Sum>,
    process: BTreeMap<String, Sum>,
    thickness_over_diameter: BTreeMap<usize, Sum>,
    folder: BTreeMap<String, Sum>,
    year: BTreeMap<String, Sum>,
}

/// Thickness over diameter: the upper end of each class but the last, and how the classes are called.
const SLENDERNESS: [f64; 5] = [0.25, 0.5, 1.0, 1.5, 2.0];
const SLENDERNESS_NAMES: [&str; 7] =
    ["below 0.25", "0.25 to 0.5", "0.5 to 1", "1 to 1.5", "1.5 to 2", "2 and more", UNKNOWN];

impl Tables {
    pub(super) fn add(&mut self, entry: &Entry, sum: &Sum) {
        slot(&mut self.folder, folder(&entry.path)).join(sum);
        slot(&mut self.year, &super::year(entry)).join(sum);
        self.add_rules(entry);
        add_holes(&mut self.thread, entry, |holes| Some(&holes.thread));
        add_holes(&mut self.material, entry, |holes| holes.material.as_deref());
        add_holes(&mut self.process, entry, |holes| holes.process.as_deref());
        let mut classes: BTreeMap<usize, Sum> = BTreeMap::new();
        for holes in &entry.screw_holes {
            classes.entry(slenderness(holes)).or_default().take(holes);
        }
        for (class, sum) in classes {
            self.thickness_over_diameter.entry(class).or_default().join(&Sum { drawings: 1, ..sum });
        }
    }

    fn add_rules(&mut self, entry: &Entry) {
        let mut told: Vec<&str> = Vec::new();
        for found in &entry.findings {
            if !self.rule.contains_key(&found.rule) {
                let none =
                    ByRule { rule: found.rule.clone(), drawings: 0, fail: 0, warn: 0, note: 0, waived: 0 };
                self.rule.insert(found.rule.clone(), none);
            }
            let Some(by) = self.rule.get_mut(&found.rule) else { continue };
            if found.waived.is_some() {
                by.waived += found.count;
                continue;
            }
            if !told.contains(&found.rule.as_str()) {
                told.push(&found.rule);
                by.drawings += 1;
            }
            match found.level.as_str() {
                "fail" => by.fail += found.count,
                "warn" => by.warn += found.count,
                _ => by.note += found.count,
            }
        }
    }

    pub(super) fn finish(self) -> Groups {
        let mut rule: Vec<ByRule> = self.rule.into_values().collect();
        rule.sort_by(|a, b| {
            let weight = |by: &ByRule| (by.fail, by.warn, by.note, by.waived);
            weight(b).cmp(&weight(a)).then_with(|| a.rule.cmp(&b.rule))
        });
        let classes = self.thickness_over_diameter.into_iter();
        Groups {
            rule,
            thread: most_holes_first(self.thread),
            material: most_holes_first(self.material),
            process: most_holes_first(self.process),
            thickness_over_diameter: classes
                .map(|(class, sum)| Group { value: SLENDERNESS_NAMES[class].to_owned(), sum })
                .collect(),
            folder: groups(self.folder),
            year: groups(self.year),
        }
    }
}

/// Adds the screw holes of a drawing by one of their features.
fn add_holes(
    table: &mut BTreeMap<String, Sum>,
    entry: &Entry,
    feature: impl Fn(&ScrewHoles) -> Option<&str>,
) {
    let mut of_drawing: Vec<(&str, Sum)> = Vec::new();
    for holes in &entry.screw_holes {
        let value = feature(holes).unwrap_or(UNKNOWN);
        let at = of_drawing.iter().position(|(known, _)| *known == value).unwrap_or_else(|| {
            of_drawing.push((value, Sum { drawings: 1, ..Sum::default() }));
            of_drawing.len() - 1
        });
        of_drawing[at].1.take(holes);
    }
    for (value, sum) in of_drawing {
        slot(table, value).join(&sum);
    }
}

fn slenderness(holes: &ScrewHoles) -> usize {
    match holes.thickness_over_diameter {
        Some(ratio) => SLENDERNESS.iter().filter(|upper| ratio >= **upper).count(),
        None => SLENDERNESS_NAMES.len() - 1,
    }
}

/// The sums of a value, without a copy of it where it is known.
fn slot<'t>(table: &'t mut BTreeMap<String, Sum>, value: &str) -> &'t mut Sum {
    // Two look-ups cost less than a copy of a value that is nearly always known.
    if !table.contains_key(value) {
        table.insert(value.to_owned(), Sum::default());
    }
    table.get_mut(value).unwrap_or_else(|| unreachable!("it was put there"))
}

fn folder(path: &str) -> &str {
    path.rsplit_once('/').map_or(".", |(folder, _)| folder)
}

fn groups(table: BTreeMap<String, Sum>) -> Vec<Group> {
    table.into_iter().map(|(value, sum)| Group { value, sum }).collect()
}

fn most_holes_first(table: BTreeMap<String, Sum>) -> Vec<Group> {
    let mut all = groups(table);
    all.sort_by(|a, b| b.sum.screw_holes.cmp(&a.sum.screw_holes).then_with(|| a.value.cmp(&b.value)));
    all
}
