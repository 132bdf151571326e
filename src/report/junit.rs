//! A report as JUnit XML, for build servers: a suite for each drawing; in it a case for the drawing itself and one for
//! each hole that was checked, so that passes show. What counts as failed is what counts for the exit code. A hole
//! whose verdict is not known is skipped, never passed; a drawing that was not read whole is an error.

use std::io::{self, Write};

use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};

use super::by_hole::by_hole;
use super::clean::{flowing, visible};
use super::said::said_in_full;
use crate::check::{DrawingResult, FindingResult, HoleResult};
use crate::finding::Level;

type Xml<'a> = quick_xml::Writer<&'a mut dyn Write>;

/// Rules whose finding is that the work could not be done.
const NOT_DONE: [&str; 2] = ["drawing-unreadable", "drawing-partly-read"];

/// How a case came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Passed,
    Failed,
    Error,
    Skipped,
}

/// A case: a hole, or the drawing where there is none, with all that was found of it.
struct Case<'a> {
    hole: Option<&'a HoleResult>,
    findings: Vec<&'a FindingResult>,
    outcome: Outcome,
}

/// Writes what stands before the suites.
///
/// # Errors
/// Those of the writer.
pub fn begin(out: &mut dyn Write) -> io::Result<()> {
    let mut xml = indented(out);
    xml.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
    xml.write_event(Event::Start(BytesStart::new("testsuites").with_attributes([("name", "boreband")])))
}

/// Writes what stands after the suites.
///
/// # Errors
/// Those of the writer.
pub fn end(out: &mut dyn Write) -> io::Result<()> {
    out.write_all(b"\n</testsuites>\n")
}

/// Writes the suite of one drawing. Findings of level `fail_on` and above are failures; none are, without one.
///
/// # Errors
/// Those of the writer.
pub fn drawing(result: &DrawingResult, fail_on: Option<Level>, out: &mut dyn Write) -> io::Result<()> {
    out.write_all(b"\n")?;
    let cases = cases(result, fail_on);
    let count = |outcome| cases.iter().filter(|case| case.outcome == outcome).count().to_string();
    let mut xml = indented(out);
    let mut suite = BytesStart::new("testsuite");
    suite.push_attribute(("name", &*visible(&result.path)));
    suite.push_attribute(("tests", &*cases.len().to_string()));
    suite.push_attribute(("failures", &*count(Outcome::Failed)));
    suite.push_attribute(("errors", &*count(Outcome::Error)));
    suite.push_attribute(("skipped", &*count(Outcome::Skipped)));
    xml.write_event(Event::Start(suite))?;
    for case in &cases {
        write_case(case, result, &mut xml)?;
    }
    xml.write_event(Event::End(BytesEnd::new("testsuite")))
}

/// The drawing first, then every hole that was checked or of which something was found.
fn cases<'a>(result: &'a DrawingResult, fail_on: Option<Level>) -> Vec<Case<'a>> {
    let mut by_hole = by_hole(result);
    let mut of = |hole: Option<&'a HoleResult>| {
        let findings = by_hole.remove(&hole.map(|hole| hole.id.as_str())).unwrap_or_default();
        let outcome = outcome(hole, &findings, fail_on);
        Case { hole, findings, outcome }
    };
    let mut cases = vec![of(None)];
    cases.extend(result.holes.iter().map(|hole| of(Some(hole))));
    cases.retain(|case| !case.findings.is_empty() || case.hole.is_none_or(|hole| hole.screw.is_some()));
    cases
}

fn outcome(hole: Option<&HoleResult>, findings: &[&FindingResult], fail_on: Option<Level>) -> Outcome {
    let mut counted = findings.iter().filter(|f| f.waived.is_none());
    if counted.clone().any(|f| NOT_DONE.contains(&f.rule.as_str())) {
        Outcome::Error
    } else if counted.any(|f| fail_on.is_some_and(|least| Level::parse(&f.level) >= Some(least))) {
        Outcome::Failed
    } else if hole.is_some_and(|hole| hole.verdict.as_deref() == Some("undetermined")) {
        Outcome::Skipped
    } else {
        Outcome::Passed
    }
}

fn write_case(case: &Case<'_>, result: &DrawingResult, xml: &mut Xml<'_>) -> io::Result<()> {
    let mut start = BytesStart::new("testcase");
    start.push_attribute(("name", &*name(case.hole)));
    start.push_attribute(("classname", &*visible(&result.path)));
    let lead = case.findings.iter().find(|f| f.waived.is_none());
    let message = lead.map_or_else(String::new, |f| flowing(&f.message).into_owned());
    let kind = lead.map_or("", |f| f.rule.as_str());
    let told: Vec<String> =
        case.findings.iter().map(|f| format!("{} {}: {}", f.level, f.rule, said_in_full(f))).collect();
    let element = match case.outcome {
        Outcome::Passed if told.is_empty() => return xml.write_event(Event::Empty(start)),
        Outcome::Passed => BytesStart::new("system-out"),
        Outcome::Failed => {
            BytesStart::new("failure").with_attributes([("message", &*message), ("type", kind)])
        }
        Outcome::Error => BytesStart::new("error").with_attributes([("message", &*message), ("type", kind)]),
        Outcome::Skipped => {
            BytesStart::new("skipped").with_attributes([("message", &*undetermined(&message))])
        }
    };
    xml.write_event(Event::Start(start))?;
    xml.write_event(Event::Start(element.borrow()))?;
    xml.write_event(Event::Text(BytesText::new(&told.join("\n"))))?;
    xml.write_event(Event::End(element.to_end()))?;
    xml.write_event(Event::End(BytesEnd::new("testcase")))
}

fn undetermined(message: &str) -> String {
    if message.is_empty() { "undetermined".to_owned() } else { format!("undetermined: {message}") }
}

/// `H1, M4, tag A`.
fn name(hole: Option<&HoleResult>) -> String {
    let Some(hole) = hole else { return "drawing".to_owned() };
    let screw = hole.screw.iter().map(|screw| format!(", {}", screw.thread));
    let tag = hole.tag.iter().map(|tag| format!(", tag {tag}"));
    flowing(&std::iter::once(hole.id.to_string()).chain(screw).chain(tag).collect::<String>()).into_owned()
}

fn indented(out: &mut dyn Write) -> Xml<'_> {
    quick_xml::Writer::new_with_indent(out, b' ', 2)
}
