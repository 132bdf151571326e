//! What the rules on the band share: the sentence with found and allowed, and what to call out instead.

use super::once::Once;
use super::{Rule, ScrewHole, Subject, words};
use crate::finding::Finding;
use crate::shared::SharedText;
use crate::units::Unit;
use crate::verdict::{HoleBand, Verdict};

/// Findings for every screw hole of a verdict. `otherwise` says what to do where there is no advice.
pub(super) fn of_verdict(
    subject: &Subject<'_>,
    rule: &Rule,
    verdict: Verdict,
    otherwise: impl Fn(&HoleBand, Unit) -> String,
) -> Vec<Finding> {
    let unit = subject.unit();
    let holes = subject.screw_holes().filter(|it| is_at(it, verdict));
    let mut said = Once::for_holes_of(subject);
    holes
        .map(|it| {
            let (message, instead) = said.of(&it, || {
                let instead = call_out(&it)
                    .or_else(|| it.judged.band.as_ref().map(|band| otherwise(band, unit)))
                    .unwrap_or_else(|| state_what_decides(&it));
                (SharedText::from(sentence(&it, verdict, unit)), SharedText::from(instead))
            });
            rule.at_hole(subject, it.hole, message).with_remedy(instead)
        })
        .collect()
}

/// Whether a hole has the verdict and is no accepted guide hole, which another rule tells of.
pub(super) fn is_at(it: &ScrewHole<'_>, verdict: Verdict) -> bool {
    it.judged.verdict == Some(verdict) && it.judged.guide_hole.is_none()
}

/// `call out 4X Ø3.6 +0.03/0 THRU`, where there is advice.
pub(super) fn call_out(it: &ScrewHole<'_>) -> Option<String> {
    let advice = it.judged.advice.as_ref()?;
    let widest = if advice.narrowed { ", the widest tolerance that stays in the band" } else { "" };
    Some(format!("call out {}{widest}", words::line(&advice.callout)))
}

/// What to do where the hole is wrong in any case, but the right one is not known.
fn state_what_decides(it: &ScrewHole<'_>) -> String {
    let making = &it.hole.making;
    let missing = match (making.material, making.thickness) {
        (None, None) => "material and thickness",
        (None, Some(_)) => "the material",
        _ => "the thickness",
    };
    format!("state {missing} in the title block or the hole list; the hole to call out depends on it")
}

/// Size, engagement, thread and what is allowed, in one sentence.
fn sentence(it: &ScrewHole<'_>, verdict: Verdict, unit: Unit) -> String {
    let judged = it.judged;
    let size = words::coated(judged, unit);
    let thread = &it.screw.thread.name;
    let band = judged.band.as_ref();
    let gives = match &judged.engagement {
        Some(engagement) => {
            format!("{size} gives {} for {thread}", words::engagement(engagement, band))
        }
        None => format!("{size} is outside the band for {thread}"),
    };
    let expected = judged.capability.as_ref().map(|c| format!("; {}", words::expected(c, unit)));
    match band {
        Some(band) => {
            format!("{gives}; {}{}", words::allowed(band, unit), expected.unwrap_or_default())
        }
        None if verdict == Verdict::Tight => {
            format!("{gives}, more than is allowed in any metal that it may be")
        }
        None if verdict == Verdict::Loose => {
            format!("{gives}, less than is allowed in any metal that it may be")
        }
        None => gives,
    }
}
