//! The report in the shape of its JSON form. Lengths are in mm and rounded to 1e-6, engagement in percent and rounded to
//! 0.01, money in the unit of the costs and rounded to 1e-6.

use schemars::JsonSchema;
use serde::Serialize;

use super::rank::{Sums, holes};
use super::words::message;
use super::{CAUTION, Converted};
use crate::check::{BandResult, EngagementResult, GuideHoleResult, ProblemResult, Report, Tool};
use crate::conversion::saving::{Amount, BreakEven, Joint, PerHole, Saving, Term};
use crate::conversion::{Group, Guide, NewHole, Reason};
use crate::practice::{Answer, Costs, Origin};
use crate::shared::SharedText;
use crate::units::{Length, Unit};

/// What tapped holes could become. Every length is in mm and its key ends in `_mm`; engagement is in percent on the basis
/// named beside it; money is in the currency of the costs.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ConversionReport {
    /// Version of this format: 1.
    pub format: u32,
    /// The program.
    pub tool: Tool,
    /// What none of this says.
    pub cautions: String,
    /// The costs; null without any.
    pub costs: Option<CostsResult>,
    /// How the saving of a hole is worked out.
    pub formula: Vec<FormulaResult>,
    /// Sums over all drawings.
    pub totals: ConversionTotals,
    /// The drawings with a tapped hole, and those that could not be read whole, the greatest saving first; without costs
    /// by the count of candidates.
    pub drawings: Vec<ConvertedDrawing>,
}

/// The costs that were used.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CostsResult {
    /// Name of the money.
    pub currency: String,
    /// The file that states them.
    pub file: String,
    /// JSON pointer in it.
    pub pointer: String,
}

/// A term of the saving of a hole.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FormulaResult {
    /// Its name.
    pub term: String,
    /// `gain` or `cost`.
    pub kind: String,
    /// How it is worked out, by the keys of the costs.
    pub of: String,
}

/// Sums over all drawings.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ConversionTotals {
    /// Drawings.
    pub drawings: u64,
    /// Of these, not readable.
    pub unreadable: u64,
    /// Of these, read with losses.
    pub partly_read: u64,
    /// Of these, with a tapped hole.
    pub with_tapped_holes: u64,
    /// Tapped holes that a rolling screw could replace.
    pub candidate: u64,
    /// Tapped holes of which something must be found out or changed first.
    pub doubtful: u64,
    /// Tapped holes that stay.
    pub no: u64,
    /// Callouts of taps that no hole answers.
    pub callouts_without_hole: u64,
    /// Joints of the candidates (thread, metal and thickness), each once; null without costs.
    pub joints: Option<u64>,
    /// Drawings with candidates whose yearly saving is known; null without costs.
    pub saving_known: Option<u64>,
    /// Drawings with candidates whose yearly saving is not known; null without costs.
    pub saving_not_known: Option<u64>,
    /// The yearly saving of those whose is known, before the proving.
    pub yearly: AmountResult,
    /// What proving all joints costs; null where that is not known.
    pub proving: Option<f64>,
    /// The yearly saving less the proving.
    pub first_year: AmountResult,
}

/// An amount of money.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct AmountResult {
    /// The amount; null where it is not known, because a cost is not stated.
    pub value: Option<f64>,
    /// Whether it may be more, because a gain is not stated.
    pub at_least: bool,
}

/// One drawing.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ConvertedDrawing {
    /// As given on the command line or found under it, with `/`.
    pub path: String,
    /// `blake3:` and the hexadecimal digest of the file's bytes; empty if it could not be opened.
    pub digest: String,
    /// `read`, `partly-read` or `unreadable`.
    pub state: String,
    /// What was wrong with the file.
    pub problems: Vec<ProblemResult>,
    /// Part number, from the hole list.
    pub part: Option<String>,
    /// Holes that a rolling screw could replace.
    pub candidate: u64,
    /// Holes of which something must be found out or changed first.
    pub doubtful: u64,
    /// Holes that stay tapped.
    pub no: u64,
    /// Its tapped holes; those that are alike stand together.
    pub groups: Vec<GroupResult>,
    /// What it saves; null without costs.
    pub saving: Option<SavingResult>,
}

/// Tapped holes that are alike.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GroupResult {
    /// `candidate`, `doubtful` or `no`.
    pub answer: String,
    /// The grounds, the worst first.
    pub reasons: Vec<ReasonResult>,
    /// The callout as it stands.
    pub callout: String,
    /// The thread; null for one that is not known or of another kind.
    pub thread: Option<String>,
    /// The thread as it is called out, with its class.
    pub named: String,
    /// The holes by their id in the report of `check`.
    pub holes: Vec<SharedText>,
    /// How many holes of the part they count for.
    pub count: u32,
    /// Material.
    pub material: Option<String>,
    /// Thickness of the metal (mm).
    pub thickness_mm: Option<f64>,
    /// How they are made.
    pub process: Option<String>,
    /// Length that the thread would be formed over (mm).
    pub length_mm: Option<f64>,
    /// The hole to call out; null where it cannot be told.
    pub new_hole: Option<NewHoleResult>,
    /// The standard's guide hole for this thread, metal and length.
    pub guide_hole: Option<GuideHoleResult>,
    /// What one hole saves; null without costs, and where the tap stays.
    pub saving: Option<HoleSavingResult>,
}

/// A ground for or against a rolling screw.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ReasonResult {
    /// Its name.
    pub ground: String,
    /// What follows from it: `candidate`, `doubtful` or `no`.
    pub answer: String,
    /// What was found, in words.
    pub message: String,
    /// Where the ground comes from.
    pub source: String,
    /// `published`, `common_practice`, `memory` or `user`.
    pub status: String,
}

/// The hole to call out.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct NewHoleResult {
    /// Diameter (mm).
    pub diameter_mm: f64,
    /// Smallest (mm); null where no tolerance that can be made stays in the band.
    pub min_mm: Option<f64>,
    /// Largest (mm); null likewise.
    pub max_mm: Option<f64>,
    /// A stocked drill of that size.
    pub drill: Option<String>,
    /// The callout to write.
    pub callout: String,
    /// Engagement; at the nominal alone where no tolerance is known.
    pub engagement: EngagementResult,
    /// Band.
    pub band: BandResult,
}

/// What one hole saves.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct HoleSavingResult {
    /// Gains less costs.
    pub saving: AmountResult,
    /// Each term; costs are positive numbers.
    pub terms: Vec<TermResult>,
}

/// One term.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TermResult {
    /// Its name.
    pub term: String,
    /// Its value; null where it is not stated.
    pub value: Option<f64>,
}

/// What a drawing saves.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SavingResult {
    /// The candidates of one part.
    pub per_part: AmountResult,
    /// Parts a year; null where that is not stated.
    pub yearly_parts: Option<f64>,
    /// The candidates of a year, before the proving.
    pub yearly: AmountResult,
    /// The joints of the candidates that a test has to prove.
    pub joints: Vec<JointSaving>,
    /// What proving them costs; null where that is not stated.
    pub proving: Option<f64>,
    /// The yearly saving less the proving.
    pub first_year: AmountResult,
    /// `after` (see `break_even_parts`), `never` or `not-known`.
    pub break_even: String,
    /// Parts at which the proving is paid; at most so many where the saving is at least so much.
    pub break_even_parts: Option<u64>,
    /// The doubtful holes of one part, if every doubt were settled; counted nowhere else.
    pub doubtful_per_part: AmountResult,
    /// Terms that are not stated.
    pub not_stated: Vec<String>,
}

/// A joint that a test proves.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct JointSaving {
    /// Thread.
    pub thread: String,
    /// Material.
    pub material: String,
    /// Thickness (mm).
    pub thickness_mm: f64,
    /// What proving it costs; null where that is not stated.
    pub proving: Option<f64>,
}

impl ConversionReport {
    /// The report without its drawings.
    pub(super) fn of(sums: &Sums, costs: Option<&Costs>) -> ConversionReport {
        let formula = |term: Term| FormulaResult {
            term: term.name().to_owned(),
            kind: if term.is_gain() { "gain" } else { "cost" }.to_owned(),
            of: term.formula().to_owned(),
        };
        ConversionReport {
            format: 1,
            tool: Report::of(Vec::new()).tool,
            cautions: CAUTION.to_owned(),
            costs: costs.map(CostsResult::of),
            formula: Term::OF_HOLE.into_iter().map(formula).collect(),
            totals: ConversionTotals::of(sums, costs),
            drawings: Vec::new(),
        }
    }
}

impl CostsResult {
    fn of(costs: &Costs) -> CostsResult {
        let (file, pointer) = match &costs.origin {
            Origin::File { file, pointer } => (file.clone(), pointer.clone()),
            Origin::Default { .. } => Default::default(),
        };
        CostsResult { currency: costs.currency.clone(), file, pointer }
    }
}

impl ConversionTotals {
    fn of(sums: &Sums, costs: Option<&Costs>) -> ConversionTotals {
        let yearly = sums.yearly.filter(|_| costs.is_some()).unwrap_or(Amount::NotKnown);
        let proving = sums.proving().filter(|_| costs.is_some());
        ConversionTotals {
            drawings: sums.drawings,
            unreadable: sums.unreadable,
            partly_read: sums.partly_read,
            with_tapped_holes: sums.tapped,
            candidate: sums.candidate,
            doubtful: sums.doubtful,
            no: sums.no,
            callouts_without_hole: sums.unanswered,
            joints: costs.map(|_| sums.joints.len() as u64),
            saving_known: costs.map(|_| sums.known),
            saving_not_known: costs.map(|_| sums.not_known),
            yearly: AmountResult::of(yearly),
            proving: proving.map(fine),
            first_year: AmountResult::of(yearly.less(proving)),
        }
    }
}

impl AmountResult {
    fn of(amount: Amount) -> AmountResult {
        AmountResult { value: amount.value().map(fine), at_least: amount.is_at_least() }
    }
}

impl ConvertedDrawing {
    pub(super) fn of(converted: &Converted<'_>) -> ConvertedDrawing {
        let drawing = converted.drawing;
        let unit = converted.conversion.unit;
        let saving = converted.saving();
        let groups = converted.conversion.groups.iter().enumerate().map(|(nth, group)| {
            let of_hole = saving.and_then(|s| s.groups.get(nth)?.as_ref());
            GroupResult::of(group, of_hole, unit)
        });
        ConvertedDrawing {
            path: drawing.path.clone(),
            digest: drawing.digest.clone(),
            state: drawing.state.clone(),
            problems: drawing.problems.clone(),
            part: drawing.part.clone(),
            candidate: holes(converted, Answer::Candidate),
            doubtful: holes(converted, Answer::Doubtful),
            no: holes(converted, Answer::No),
            groups: groups.collect(),
            saving: saving.map(SavingResult::of),
        }
    }
}

impl GroupResult {
    fn of(group: &Group, of_hole: Option<&PerHole>, unit: Unit) -> GroupResult {
        GroupResult {
            answer: group.answer.name().to_owned(),
            reasons: group.reasons.iter().map(|reason| ReasonResult::of(reason, group, unit)).collect(),
            callout: group.callout.clone(),
            thread: group.thread.as_ref().map(|thread| thread.name.clone()),
            named: group.named.clone(),
            holes: group.holes.clone(),
            count: group.count,
            material: group.material.map(|m| m.name().to_owned()),
            thickness_mm: group.thickness.map(mm),
            process: group.process.map(|p| p.name().to_owned()),
            length_mm: group.length.map(mm),
            new_hole: group.new_hole.as_ref().map(NewHoleResult::of),
            guide_hole: group.guide.as_ref().map(guide),
            saving: of_hole.map(|of_hole| HoleSavingResult {
                saving: AmountResult::of(of_hole.saving),
                terms: (of_hole.terms.iter())
                    .map(|(term, value)| TermResult { term: term.name().to_owned(), value: value.map(fine) })
                    .collect(),
            }),
        }
    }
}

impl ReasonResult {
    fn of(reason: &Reason, group: &Group, unit: Unit) -> ReasonResult {
        ReasonResult {
            ground: reason.ground.name(),
            answer: reason.answer.name().to_owned(),
            message: message(reason, group, unit),
            source: reason.source.clone(),
            status: reason.status.name().to_owned(),
        }
    }
}

impl NewHoleResult {
    fn of(hole: &NewHole) -> NewHoleResult {
        let (tight, loose) = hole.at_limits.unwrap_or((hole.engagement, hole.engagement));
        let band = &hole.band;
        NewHoleResult {
            diameter_mm: mm(hole.diameter),
            min_mm: hole.limits.map(|(small, _)| mm(small)),
            max_mm: hole.limits.map(|(_, large)| mm(large)),
            drill: hole.drill.clone(),
            callout: hole.callout.clone(),
            engagement: EngagementResult {
                basis: "rolled".into(),
                nominal: percent(hole.engagement),
                at_min: percent(tight),
                at_max: percent(loose),
            },
            band: BandResult {
                min: band.band.min,
                target: band.band.target,
                max: band.band.max,
                hole_min_mm: mm(band.hole_min),
                hole_max_mm: mm(band.hole_max),
                source: band.band.source.clone(),
                status: band.band.status.name().into(),
            },
        }
    }
}

fn guide(guide: &Guide) -> GuideHoleResult {
    GuideHoleResult {
        source: guide.row.source.clone(),
        status: guide.row.status.name().into(),
        metal: guide.row.metal.sign().into(),
        diameter_mm: mm(guide.row.hole),
        fit: guide.row.fit.clone(),
        engagement: percent(guide.engagement),
        engagement_at_max: guide.at_largest.map(percent),
        suspect: guide.row.suspect.clone(),
    }
}

impl SavingResult {
    fn of(saving: &Saving) -> SavingResult {
        let (break_even, parts) = match saving.break_even {
            BreakEven::Parts(parts) => ("after", Some(parts)),
            BreakEven::Never => ("never", None),
            BreakEven::NotKnown => ("not-known", None),
        };
        let joint = |((thread, material, micrometres), proving): &(Joint, Option<f64>)| JointSaving {
            thread: thread.clone(),
            material: (*material).to_owned(),
            thickness_mm: *micrometres as f64 / 1000.0,
            proving: proving.map(fine),
        };
        SavingResult {
            per_part: AmountResult::of(saving.candidates.per_part),
            yearly_parts: saving.yearly_parts.map(|(_, parts)| parts),
            yearly: AmountResult::of(saving.candidates.yearly),
            joints: saving.joints.iter().map(joint).collect(),
            proving: saving.proving.map(fine),
            first_year: AmountResult::of(saving.first_year),
            break_even: break_even.to_owned(),
            break_even_parts: parts,
            doubtful_per_part: AmountResult::of(saving.doubtful.per_part),
            not_stated: saving.missing.iter().map(|term| term.name().to_owned()).collect(),
        }
    }
}

/// Millimetres, rounded to 1e-6.
pub(super) fn mm(length: Length) -> f64 {
    fine(length.mm())
}

/// Percent, rounded to 0.01.
pub(super) fn percent(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}

/// Rounded to 1e-6, and no negative zero.
pub(super) fn fine(value: f64) -> f64 {
    (value * 1e6).round() / 1e6 + 0.0
}
