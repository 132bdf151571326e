//! What must be found out to decide an open verdict: the fewest of material, thickness, process and coating stage, and
//! which of their values decide it. Knows no table; it only compares what would come of each value.

use super::Verdict;
use super::bands::{Case, STAGE};
use super::interval::{self, Possibilities};
use crate::joint::Stage;
use crate::practice::{Between, thickness_words};
use crate::trade::{Material, Process};
use crate::units::Unit;

/// What comes of a value of something unknown, whatever the rest may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Is(Verdict),
    TakesNoThread,
    Open,
}

/// What may be found out, or a value of it. A part that is not looked at is none.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Value {
    material: Option<Material>,
    thickness: Option<Between>,
    /// The outer is none where the process is not looked at, the inner for any process without a band of its own.
    process: Option<Option<Process>>,
    stage: Option<Stage>,
}

/// The unknown things that are looked at together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Asked {
    material: bool,
    thickness: bool,
    process: bool,
    stage: bool,
}

/// The verdict that holds in every case. Undetermined without any, and where it is one if the size holds before
/// coating and another if it holds after it.
pub(super) fn verdict<'a>(cases: impl IntoIterator<Item = &'a Case>) -> Verdict {
    let (mut before, mut after, mut known) = Default::default();
    for case in cases {
        let of_stage: &mut Possibilities = match case.stage {
            Some(Stage::Before) => &mut before,
            Some(Stage::After) => &mut after,
            None => &mut known,
        };
        of_stage.add(case.found);
    }
    let stages = [before, after, known].into_iter().filter_map(|stage| stage.verdict());
    stages.reduce(|a, b| if a == b { a } else { Verdict::Undetermined }).unwrap_or(Verdict::Undetermined)
}

/// What must be found out and which values decide it, for people: one sentence, and a second one where a value
/// leaves the verdict open. `missing` is all that is unknown.
pub(super) fn what_decides(cases: &[Case], missing: &[&str], unit: Unit) -> Vec<String> {
    let Some((asked, values)) = least(cases, missing) else { return Vec::new() };
    let with = |wanted: Outcome| -> Vec<Value> {
        values.iter().filter(|(_, outcome)| *outcome == wanted).map(|(value, _)| *value).collect()
    };
    let said = [
        (Outcome::Is(Verdict::InBand), "would make it in-band"),
        (Outcome::Is(Verdict::Straddles), "would bring its nominal, but not its limits, into the band"),
        (Outcome::Is(Verdict::Tight), "would make it tight"),
        (Outcome::Is(Verdict::Loose), "would make it loose"),
        (Outcome::TakesNoThread, "takes no thread"),
    ];
    let parts = said.into_iter().filter_map(|(outcome, does)| {
        let values = with(outcome);
        (!values.is_empty()).then(|| format!("{} {does}", any_of(&labels(&values, unit))))
    });
    let parts: Vec<String> = parts.collect();
    let mut out = vec![format!("{}: {}", asked.names().join(" and "), parts.join("; "))];
    let open = with(Outcome::Open);
    if !open.is_empty() {
        out.push(further(cases, &open, asked, missing, unit));
    }
    out
}

/// What is needed beside the values that leave the verdict open.
fn further(cases: &[Case], open: &[Value], asked: Asked, missing: &[&str], unit: Unit) -> String {
    let rest: Vec<&str> = missing.iter().copied().filter(|name| !asked.names().contains(name)).collect();
    let values = any_of(&labels(open, unit));
    if let [only] = open {
        let inside: Vec<Case> = cases.iter().filter(|c| only.allows(c)).copied().collect();
        let deeper = what_decides(&inside, &rest, unit);
        if !deeper.is_empty() {
            return format!("with {values} also {}", deeper.join("; "));
        }
    }
    format!("with {values} also {}", rest.join(" and "))
}

/// The fewest unknown things of which a value decides the verdict, with what comes of each value. Of as many the
/// ones that decide whatever their value, then those of which a value puts the hole into the band.
fn least(cases: &[Case], missing: &[&str]) -> Option<(Asked, Vec<(Value, Outcome)>)> {
    let sets = Asked::all(missing);
    let most = sets.iter().map(|s| s.count()).max()?;
    (1..=most).find_map(|size| {
        let tried = sets.iter().filter(|s| s.count() == size).map(|asked| {
            let values = asked.values(cases);
            let outcomes = values.into_iter().filter_map(|value| Some((value, outcome(cases, &value)?)));
            (*asked, outcomes.collect::<Vec<_>>())
        });
        let rank = |outcomes: &[(Value, Outcome)]| {
            let any = |wanted: fn(Outcome) -> bool| outcomes.iter().any(|(_, o)| wanted(*o));
            let always = !any(|o| o == Outcome::Open);
            let inside = any(|o| matches!(o, Outcome::Is(Verdict::InBand | Verdict::Straddles)));
            // The whole of what is missing decides in any case.
            (inside || (always && size == most)).then_some((always, inside))
        };
        let ranked = tried.filter_map(|(asked, outcomes)| Some((rank(&outcomes)?, asked, outcomes)));
        // Of equals the first, as `max_by_key` would take the last.
        ranked.reduce(|best, next| if next.0 > best.0 { next } else { best }).map(|(_, a, o)| (a, o))
    })
}

/// What comes of a value, whatever else is unknown; none if no case is one of it.
fn outcome(cases: &[Case], value: &Value) -> Option<Outcome> {
    let (mut any, mut takes_thread) = (false, false);
    let inside = cases.iter().filter(|c| value.allows(c)).inspect(|c| {
        any = true;
        takes_thread |= c.found.is_some();
    });
    let decided = match verdict(inside) {
        _ if !takes_thread => Outcome::TakesNoThread,
        Verdict::Undetermined => Outcome::Open,
        decided => Outcome::Is(decided),
    };
    any.then_some(decided)
}

impl Asked {
    /// Every set of what is missing, but the empty one.
    fn all(missing: &[&str]) -> Vec<Asked> {
        let may = |name: &str| if missing.contains(&name) { vec![false, true] } else { vec![false] };
        let mut sets = Vec::new();
        for stage in may(STAGE) {
            for process in may("process") {
                for material in may("material") {
                    for thickness in may("thickness") {
                        if material || thickness || process || stage {
                            sets.push(Asked { material, thickness, process, stage });
                        }
                    }
                }
            }
        }
        sets
    }

    fn count(self) -> usize {
        [self.material, self.thickness, self.process, self.stage].into_iter().map(usize::from).sum()
    }

    fn names(self) -> Vec<&'static str> {
        let all = [
            (self.material, "material"),
            (self.thickness, "thickness"),
            (self.process, "process"),
            (self.stage, STAGE),
        ];
        all.into_iter().filter(|(asked, _)| *asked).map(|(_, name)| name).collect()
    }

    /// Every value, as coarse as the bands tell them apart, and together with others that it may not go with.
    fn values(self, cases: &[Case]) -> Vec<Value> {
        let materials = looked_at(self.material, cases.iter().filter_map(|c| c.material));
        let processes = looked_at(self.process, cases.iter().map(|c| c.process));
        let cells = if self.thickness { cells(cases) } else { Vec::new() };
        let thicknesses = looked_at(self.thickness, cells.into_iter());
        let stages = looked_at(self.stage, cases.iter().filter_map(|c| c.stage));
        let mut values = Vec::new();
        for stage in stages {
            for material in &materials {
                for process in &processes {
                    for thickness in &thicknesses {
                        let (material, thickness, process) = (*material, *thickness, *process);
                        values.push(Value { material, thickness, process, stage });
                    }
                }
            }
        }
        values
    }
}

/// Each value once, in order; only "not looked at" if it is not asked for.
fn looked_at<T: PartialEq + Copy>(asked: bool, all: impl Iterator<Item = T>) -> Vec<Option<T>> {
    if !asked {
        return vec![None];
    }
    let mut once: Vec<Option<T>> = Vec::new();
    for value in all {
        if !once.contains(&Some(value)) {
            once.push(Some(value));
        }
    }
    once
}

/// The thicknesses between the borders of all cases, rising.
fn cells(cases: &[Case]) -> Vec<Between> {
    let ends = cases.iter().filter_map(|c| c.thickness).flat_map(|(start, end)| [start, end]);
    let mut borders: Vec<_> = ends.flatten().collect();
    borders.sort_by(|a, b| a.mm().total_cmp(&b.mm()));
    borders.dedup_by(|a, b| (*a - *b).abs() <= interval::TOLERANCE);
    let starts = std::iter::once(None).chain(borders.iter().copied().map(Some));
    let ends = borders.iter().copied().map(Some).chain([None]);
    starts.zip(ends).collect()
}

impl Value {
    /// Whether a case is one of this value.
    fn allows(&self, case: &Case) -> bool {
        let (slack, own) = (interval::TOLERANCE, case.thickness.unwrap_or((None, None)));
        let covered = self.thickness.is_none_or(|(start, end)| {
            let from = own.0.is_none_or(|own| start.is_some_and(|start| start >= own - slack));
            let to = own.1.is_none_or(|own| end.is_some_and(|end| end <= own + slack));
            from && to
        });
        covered
            && self.material.is_none_or(|m| Some(m) == case.material)
            && self.process.is_none_or(|p| p == case.process)
            && self.stage.is_none_or(|s| Some(s) == case.stage)
    }

    fn label(&self, unit: Unit) -> String {
        let parts = [
            self.material.map(|m| m.name().to_owned()),
            self.thickness.map(|t| thickness_words(t, unit).unwrap_or_else(|| "any thickness".to_owned())),
            self.process.map(|p| p.map_or_else(|| "another process".to_owned(), |p| p.name().to_owned())),
            self.stage.map(|stage| format!("'{} coating'", stage.name())),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
    }
}

/// Values in words, thicknesses that meet being one.
fn labels(values: &[Value], unit: Unit) -> Vec<String> {
    let mut kept: Vec<Value> = Vec::new();
    for value in values {
        if let Some(last) = kept.last_mut()
            && (last.material, last.process, last.stage) == (value.material, value.process, value.stage)
            && let (Some((start, Some(middle))), Some((Some(next), end))) = (last.thickness, value.thickness)
            && (next - middle).abs() <= interval::TOLERANCE
        {
            last.thickness = Some((start, end));
        } else {
            kept.push(*value);
        }
    }
    kept.iter().map(|value| value.label(unit)).collect()
}

/// `a, b or c`.
fn any_of(items: &[String]) -> String {
    match items.split_last() {
        None => "no value".to_owned(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}
