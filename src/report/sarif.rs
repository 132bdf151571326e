//! A report as SARIF 2.1.0 (OASIS standard), for code review and quality servers: the text of each rule once, a result
//! for each finding, waived ones as suppressed. Files are named relative to where the program was started.

use std::io::{self, Write};
use std::path::Path;

use serde::Serialize;
use serde_json::{Map, Value, json};

use super::clean::flowing;
use super::json;
use super::said::said;
use crate::check::{DrawingResult, FindingResult, HoleResult, Tool, Totals};
use crate::finding::Level;
use crate::rules::{RULES, Rule};

/// How deep results stand: in the log, its runs, the run and its results.
pub const RESULT_DEPTH: usize = 4;

/// Version of the way fingerprints are made.
const FINGERPRINT: &str = "boreband/v1";

/// The log without results, which are its last list.
pub fn frame(tool: &Tool, totals: &Totals) -> impl Serialize + use<> {
    json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": tool.name,
                "semanticVersion": tool.version,
                "shortDescription": { "text": "Checks the holes on DXF drawings that thread-rolling screws form their thread in" },
                "fullDescription": { "text": super::text::CAUTION },
                "rules": RULES.iter().map(rule).collect::<Vec<_>>(),
            } },
            "invocations": [{ "executionSuccessful": totals.unreadable + totals.partly_read == 0 }],
            "columnKind": "unicodeCodePoints",
            "results": [],
        }],
    })
}

/// Writes the results of one drawing with commas between them; nothing if there are none.
///
/// # Errors
/// Those of the writer.
pub fn drawing(result: &DrawingResult, out: &mut dyn Write) -> io::Result<()> {
    let holes: std::collections::HashMap<&str, &HoleResult> =
        result.holes.iter().map(|hole| (hole.id.as_str(), hole)).collect();
    for (index, finding) in result.findings.iter().enumerate() {
        if index > 0 {
            write!(out, ",\n{:1$}", "", 2 * RESULT_DEPTH)?;
        }
        let hole = finding.hole.as_deref().and_then(|id| holes.get(id).copied());
        json::item(&one(result, finding, hole), RESULT_DEPTH, out)?;
    }
    Ok(())
}

fn rule(rule: &Rule) -> Value {
    let requirement = super::explain::requirement(rule);
    json!({
        "id": rule.name,
        "shortDescription": { "text": requirement },
        "help": { "text": rule.text, "markdown": rule.text },
        "defaultConfiguration": { "level": level(rule.level.name()) },
    })
}

fn one(drawing: &DrawingResult, finding: &FindingResult, hole: Option<&HoleResult>) -> Value {
    let mut result = Map::new();
    let mut put = |key: &str, value: Value| result.insert(key.to_owned(), value);
    put("ruleId", json!(finding.rule));
    if let Ok(index) = RULES.binary_search_by(|rule| rule.name.cmp(&finding.rule)) {
        put("ruleIndex", json!(index));
    }
    put("level", json!(level(&finding.level)));
    put("message", json!({ "text": said(finding) }));
    put("locations", json!([location(drawing, finding, hole)]));
    put("partialFingerprints", json!({ FINGERPRINT: fingerprint(drawing, finding, hole) }));
    if let Some(reason) = &finding.waived {
        put(
            "suppressions",
            json!([{ "kind": "external", "status": "accepted", "justification": flowing(reason) }]),
        );
    }
    Value::Object(result)
}

fn location(drawing: &DrawingResult, finding: &FindingResult, hole: Option<&HoleResult>) -> Value {
    let mut place = json!({ "artifactLocation": { "uri": uri(&drawing.path) } });
    if let Some(line) = finding.line.filter(|&line| line > 0) {
        place["region"] = json!({ "startLine": line });
    }
    let mut location = json!({ "physicalLocation": place });
    if let Some(hole) = hole {
        let tag = hole.tag.iter().map(|tag| format!(", tag {tag}"));
        let name: String = std::iter::once(hole.id.to_string()).chain(tag).collect();
        location["logicalLocations"] = json!([{ "name": flowing(&name), "kind": "element" }]);
    }
    location
}

/// What stays the same when a drawing is written anew with other handles: rule, file, place and size.
fn fingerprint(drawing: &DrawingResult, finding: &FindingResult, hole: Option<&HoleResult>) -> String {
    let place = match hole {
        Some(hole) => format!(
            "{}|{:.2}|{:.2}|{:.3}",
            hole.tag.as_deref().unwrap_or_default(),
            hole.x,
            hole.y,
            hole.diameter.nominal_mm
        ),
        // The same may be said of several places.
        None => match finding.x.zip(finding.y) {
            Some((x, y)) => format!("{}|{x:.2}|{y:.2}", finding.message),
            None => finding.message.to_string(),
        },
    };
    let whole = format!("{}|{}|{place}", finding.rule, relative(&drawing.path));
    blake3::hash(whole.as_bytes()).to_hex()[..32].to_owned()
}

/// A path without the `./` that it may begin with, which changes nothing.
fn relative(path: &str) -> &str {
    let mut path = path;
    while let Some(rest) = path.strip_prefix("./").filter(|rest| !rest.is_empty()) {
        path = rest.trim_start_matches('/');
    }
    path
}

/// A path as a URI reference (RFC 3986): relative as it stands, or a `file:` URI.
fn uri(path: &str) -> String {
    let path = relative(path);
    let mut out = String::new();
    if Path::new(path).is_absolute() {
        out.push_str(if path.starts_with('/') { "file://" } else { "file:///" });
    } else if path.split('/').next().is_some_and(|first| first.contains(':')) {
        // A colon in the first segment would make it a scheme.
        out.push_str("./");
    }
    for &byte in path.as_bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/:@!$&'()*+,;=".contains(&byte) {
            out.push(char::from(byte));
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
    }
    out
}

fn level(name: &str) -> &'static str {
    match Level::parse(name) {
        Some(Level::Fail) => "error",
        Some(Level::Warn) => "warning",
        _ => "note",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 3986, sections 2.1 and 4.2: what is not allowed is percent-encoded; a first segment has no colon.
    #[test]
    fn paths_become_uri_references() {
        assert_eq!(uri("drawings/lid 2.dxf"), "drawings/lid%202.dxf");
        assert_eq!(uri("Gehäuse#1.dxf"), "Geh%C3%A4use%231.dxf");
        assert_eq!(uri("a:b.dxf"), "./a:b.dxf");
        assert_eq!(uri("lid\n.dxf"), "lid%0A.dxf");
        assert_eq!(uri("./a/./b.dxf"), "a/./b.dxf");
        assert_eq!(uri("././a:b.dxf"), "./a:b.dxf");
        #[cfg(unix)]
        assert_eq!(uri("/tmp/lid.dxf"), "file:///tmp/lid.dxf");
    }

    /// A fingerprint outlasts a new handle, line and way of giving the path, and differs by place, size and rule.
    #[test]
    fn fingerprints_hold_to_rule_file_place_and_size() {
        let drawing = DrawingResult { path: "a/lid.dxf".into(), ..DrawingResult::default() };
        let hole = HoleResult { id: "H1".into(), x: 10.0, y: 20.0, ..HoleResult::default() };
        let finding = FindingResult { rule: "cut-thread-size".into(), ..FindingResult::default() };
        let own = fingerprint(&drawing, &finding, Some(&hole));
        let again = HoleResult { id: "H7".into(), handle: Some("FF".into()), ..hole.clone() };
        let moved = FindingResult { line: Some(99), handle: Some("FF".into()), ..finding.clone() };
        let dotted = DrawingResult { path: "./a/lid.dxf".into(), ..drawing.clone() };
        assert_eq!(own, fingerprint(&dotted, &moved, Some(&again)));
        let mut other = hole.clone();
        other.diameter.nominal_mm += 0.1;
        assert_ne!(own, fingerprint(&drawing, &finding, Some(&other)), "size");
        let other = HoleResult { x: 10.1, ..hole };
        assert_ne!(own, fingerprint(&drawing, &finding, Some(&other)), "place");
        // Of no hole: the same words at two places.
        let at = |x| FindingResult { message: "M4".into(), x: Some(x), y: Some(0.0), ..finding.clone() };
        assert_ne!(fingerprint(&drawing, &at(1.0), None), fingerprint(&drawing, &at(2.0), None));
    }
}
