//! What a finding says in one line, for the forms that have one line for it.

use super::clean::flowing;
use crate::check::FindingResult;

/// The message and what to do instead.
pub(super) fn said(finding: &FindingResult) -> String {
    let mut text = finding.message.trim_end_matches('.').to_owned();
    if let Some(remedy) = &finding.remedy {
        text.push_str("; ");
        text.push_str(remedy.trim_end_matches('.'));
    }
    flowing(&text).into_owned()
}

/// The same with the hole before it, where the message does not name it, and with the reason why it no longer counts.
pub(super) fn said_in_full(finding: &FindingResult) -> String {
    let hole = finding.hole.as_deref().filter(|hole| !names(&finding.message, hole));
    let place = hole.map_or_else(String::new, |hole| format!("{hole}: "));
    let waived = finding.waived.as_ref().map_or_else(String::new, |reason| format!(" [waived: {reason}]"));
    flowing(&format!("{place}{}{waived}", said(finding))).into_owned()
}

/// Whether a message names a hole: `H1` does not stand in `H12`.
fn names(message: &str, hole: &str) -> bool {
    message.split(|c: char| !c.is_alphanumeric()).any(|word| word == hole)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hole_is_named_once() {
        let mut finding = FindingResult {
            hole: Some("H1".into()),
            message: "the wall to H12 is thin.".into(),
            remedy: Some("move it.".into()),
            ..FindingResult::default()
        };
        assert_eq!(said_in_full(&finding), "H1: the wall to H12 is thin; move it");
        finding.message = "H1 is tight".into();
        finding.waived = Some("tried".into());
        assert_eq!(said_in_full(&finding), "H1 is tight; move it [waived: tried]");
    }
}
