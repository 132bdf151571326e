//! What must be found out to decide an open verdict: the fewest of material, thickness, process and coating stage, and
//! which of their values decide it. Knows no table; it only compares what would come of each value.

use super::Verdict;
use super::bands::{Case, STAGE};
use super::interval::{self, Possibilities};
use crate::joint::Stage;
use crate::practice::{Between, push_thickness};
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

/// One part of a value.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Part {
    Stage(Stage),
    Material(Material),
    Process(Option<Process>),
    Thickness(Between),
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
    let with =
        |wanted: Outcome| values.iter().filter(move |(_, outcome)| *outcome == wanted).map(|(v, _)| *v);
    let said = [
        (Outcome::Is(Verdict::InBand), "would make it in-band"),
        (Outcome::Is(Verdict::Straddles), "would bring its nominal, but not its limits, into the band"),
        (Outcome::Is(Verdict::Tight), "would make it tight"),
        (Outcome::Is(Verdict::Loose), "would make it loose"),
        (Outcome::TakesNoThread, "takes no thread"),
    ];
    // Most such sentences are no longer.
    let mut sentence = String::with_capacity(160);
    sentence.push_str(&asked.names().join(" and "));
    let mut between = ": ";
    for (outcome, does) in said {
        let values = merged(with(outcome));
        if !values.is_empty() {
            sentence.push_str(between);
            push_any_of(&mut sentence, &values, unit);
            sentence.push(' ');
            sentence.push_str(does);
            between = "; ";
        }
    }
    let mut out = vec![sentence];
    let open: Vec<Value> = with(Outcome::Open).collect();
    if !open.is_empty() {
        out.push(further(cases, &open, asked, missing, unit));
    }
    out
}

/// What is needed beside the values that leave the verdict open.
fn further(cases: &[Case], open: &[Value], asked: Asked, missing: &[&str], unit: Unit) -> String {
    let rest: Vec<&str> = missing.iter().copied().filter(|name| !asked.names().contains(name)).collect();
    let mut values = String::new();
    push_any_of(&mut values, &merged(open.iter().copied()), unit);
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
        let tried = sets.iter().filter(|s| s.count() == size).map(|asked| (*asked, asked.outcomes(cases)));
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

/// What comes of cases that may all be, whatever else is unknown; none without any.
fn outcome<'a>(cases: impl IntoIterator<Item = &'a Case>) -> Option<Outcome> {
    let (mut any, mut takes_thread) = (false, false);
    let cases = cases.into_iter().inspect(|case| {
        any = true;
        takes_thread |= case.found.is_some();
    });
    let decided = match verdict(cases) {
        _ if !takes_thread => Outcome::TakesNoThread,
        Verdict::Undetermined => Outcome::Open,
        decided => Outcome::Is(decided),
    };
    any.then_some(decided)
}

/// Puts down what comes of each value that is `so_far` and has one part of each of `facets`, if any case is one of it. Each
/// part narrows the cases that the next one looks at.
fn narrow(cases: &[&Case], facets: &[Vec<Part>], so_far: Value, outcomes: &mut Vec<(Value, Outcome)>) {
    let Some((facet, rest)) = facets.split_first() else { return };
    for part in facet {
        let value = so_far.with(*part);
        let inside = cases.iter().copied().filter(|case| part.allows(case));
        if rest.is_empty() {
            outcomes.extend(outcome(inside).map(|outcome| (value, outcome)));
        } else {
            narrow(&inside.collect::<Vec<_>>(), rest, value, outcomes);
        }
    }
}

impl Asked {
    /// Every set of what is missing, but the empty one.
    fn all(missing: &[&str]) -> Vec<Asked> {
        let may = |name: &str| if missing.contains(&name) { &[false, true][..] } else { &[false] };
        let mut sets = Vec::new();
        for &stage in may(STAGE) {
            for &process in may("process") {
                for &material in may("material") {
                    for &thickness in may("thickness") {
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

    /// Every value that some case is one of, as coarse as the bands tell them apart, with what comes of it.
    fn outcomes(self, cases: &[Case]) -> Vec<(Value, Outcome)> {
        let mut facets = Vec::with_capacity(4);
        if self.stage {
            facets.push(once(cases.iter().filter_map(|c| c.stage).map(Part::Stage)));
        }
        if self.material {
            facets.push(once(cases.iter().filter_map(|c| c.material).map(Part::Material)));
        }
        if self.process {
            facets.push(once(cases.iter().map(|c| Part::Process(c.process))));
        }
        if self.thickness {
            facets.push(cells(cases).map(Part::Thickness).collect());
        }
        let mut outcomes = Vec::new();
        narrow(&cases.iter().collect::<Vec<_>>(), &facets, Value::default(), &mut outcomes);
        outcomes
    }
}

/// Each part once, in order.
fn once(all: impl Iterator<Item = Part>) -> Vec<Part> {
    let mut once: Vec<Part> = Vec::new();
    for part in all {
        if !once.contains(&part) {
            once.push(part);
        }
    }
    once
}

/// The thicknesses between the borders of all cases, rising.
fn cells(cases: &[Case]) -> impl Iterator<Item = Between> {
    let ends = cases.iter().filter_map(|c| c.thickness).flat_map(|(start, end)| [start, end]);
    let mut borders: Vec<_> = ends.flatten().collect();
    borders.sort_by(|a, b| a.mm().total_cmp(&b.mm()));
    borders.dedup_by(|a, b| (*a - *b).abs() <= interval::TOLERANCE);
    let starts = std::iter::once(None).chain(borders.clone().into_iter().map(Some));
    let ends = borders.into_iter().map(Some).chain([None]);
    starts.zip(ends)
}

impl Part {
    /// Whether a case is one of this part.
    fn allows(self, case: &Case) -> bool {
        match self {
            Part::Stage(stage) => case.stage == Some(stage),
            Part::Material(material) => case.material == Some(material),
            Part::Process(process) => case.process == process,
            Part::Thickness((start, end)) => case.thickness.is_none_or(|(own_start, own_end)| {
                let slack = interval::TOLERANCE;
                own_start.is_none_or(|own| start.is_some_and(|start| start >= own - slack))
                    && own_end.is_none_or(|own| end.is_some_and(|end| end <= own + slack))
            }),
        }
    }
}

impl Value {
    /// The same with one part more.
    fn with(self, part: Part) -> Value {
        match part {
            Part::Stage(stage) => Value { stage: Some(stage), ..self },
            Part::Material(material) => Value { material: Some(material), ..self },
            Part::Process(process) => Value { process: Some(process), ..self },
            Part::Thickness(thickness) => Value { thickness: Some(thickness), ..self },
        }
    }

    /// Whether a case is one of this value.
    fn allows(&self, case: &Case) -> bool {
        let parts = [
            self.stage.map(Part::Stage),
            self.material.map(Part::Material),
            self.process.map(Part::Process),
            self.thickness.map(Part::Thickness),
        ];
        parts.into_iter().flatten().all(|part| part.allows(case))
    }

    /// Puts it in words behind `out`: `low-carbon-steel 0.8 to 1.6 mm punched`.
    fn push_words(&self, out: &mut String, unit: Unit) {
        let start = out.len();
        let mut part = |put: &dyn Fn(&mut String)| {
            if out.len() > start {
                out.push(' ');
            }
            put(out);
        };
        if let Some(material) = self.material {
            part(&|out| out.push_str(material.name()));
        }
        if let Some(thickness) = self.thickness {
            part(&|out| {
                if !push_thickness(out, thickness, unit) {
                    out.push_str("any thickness");
                }
            });
        }
        if let Some(process) = self.process {
            part(&|out| out.push_str(process.map_or("another process", Process::name)));
        }
        if let Some(stage) = self.stage {
            part(&|out| {
                out.push('\'');
                out.push_str(stage.name());
                out.push_str(" coating'");
            });
        }
    }
}

/// Values of which thicknesses that meet are one.
fn merged(values: impl Iterator<Item = Value>) -> Vec<Value> {
    let mut kept: Vec<Value> = Vec::new();
    for value in values {
        if let Some(last) = kept.last_mut()
            && (last.material, last.process, last.stage) == (value.material, value.process, value.stage)
            && let (Some((start, Some(middle))), Some((Some(next), end))) = (last.thickness, value.thickness)
            && (next - middle).abs() <= interval::TOLERANCE
        {
            last.thickness = Some((start, end));
        } else {
            kept.push(value);
        }
    }
    kept
}

/// Puts values behind `out`: `a, b or c`.
fn push_any_of(out: &mut String, values: &[Value], unit: Unit) {
    for (nth, value) in values.iter().enumerate() {
        out.push_str(match nth {
            0 => "",
            _ if nth + 1 == values.len() => " or ",
            _ => ", ",
        });
        value.push_words(out, unit);
    }
    if values.is_empty() {
        out.push_str("no value");
    }
}
