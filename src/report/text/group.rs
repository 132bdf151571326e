//! Gathers the findings of a drawing into what is shown together: the same thing said of several holes once, and
//! all that is said of the same holes under one place. No finding and no hole is lost by it.

use std::borrow::Cow;
use std::collections::HashMap;
use std::hash::{Hash, Hasher};

use foldhash::fast::RandomState;

use crate::check::{DrawingResult, FindingResult, HoleResult, JointResult};

/// The rules whose message is the line of numbers itself.
pub(in crate::report) const NUMBERED: [&str; 3] =
    ["engagement-above-band", "engagement-below-band", "tolerance-leaves-band"];
/// The rule that gives the cause of a hole that is too small.
pub(in crate::report) const CAUSE: &str = "cut-thread-size";

/// One thing said, and of which holes.
#[derive(Debug)]
pub(in crate::report) struct Said<'a> {
    /// The finding; the first one where it was said of several holes.
    pub(in crate::report) finding: &'a FindingResult,
    /// Its message, and whether it names no single hole.
    pub(in crate::report) message: Cow<'a, str>,
    /// Its remedy.
    pub(in crate::report) remedy: Option<Cow<'a, str>>,
    /// The holes, in drawing order; empty for a finding that is about none.
    pub(in crate::report) holes: Vec<&'a HoleResult>,
    /// Where else the same was said of no hole.
    pub(in crate::report) also: Vec<&'a FindingResult>,
}

impl Said<'_> {
    /// Whether the line of numbers says it.
    pub(in crate::report) fn is_numbered(&self) -> bool {
        NUMBERED.contains(&self.finding.rule.as_str())
            && self.holes.first().is_some_and(|h| h.band.is_some() && h.engagement.is_some())
    }

    fn is_lead(&self) -> bool {
        self.is_numbered() || self.finding.rule == CAUSE
    }
}

/// Everything said of the same holes, the worst first.
#[derive(Debug)]
pub(in crate::report) struct Group<'a> {
    /// What is said.
    pub(in crate::report) said: Vec<Said<'a>>,
}

impl<'a> Group<'a> {
    /// The holes.
    pub(in crate::report) fn holes(&self) -> &[&'a HoleResult] {
        self.said.first().map_or(&[], |s| &s.holes)
    }

    /// Whether nothing but notes is said.
    pub(in crate::report) fn only_notes(&self) -> bool {
        self.said.iter().all(|s| s.finding.level == "note")
    }

    fn rank(&self) -> u8 {
        self.said.iter().map(|s| rank(&s.finding.level)).min().unwrap_or(u8::MAX)
    }
}

/// The order of levels, worst first.
pub(in crate::report) fn rank(level: &str) -> u8 {
    match level {
        "fail" => 0,
        "warn" => 1,
        _ => 2,
    }
}

/// Gathers those findings of a drawing that `shown` lets through: worst level first, then by place.
pub(in crate::report) fn gather<'a>(
    drawing: &'a DrawingResult,
    shown: impl Fn(&FindingResult) -> bool,
) -> Vec<Group<'a>> {
    if !drawing.findings.iter().any(&shown) {
        return Vec::new();
    }
    let holes: HashMap<&str, &HoleResult, RandomState> =
        drawing.holes.iter().map(|h| (h.id.as_str(), h)).collect();
    let mut said: Vec<Said<'a>> = Vec::new();
    let mut known: HashMap<Key<'_>, usize, RandomState> = HashMap::default();
    for finding in drawing.findings.iter().filter(|f| shown(f)) {
        let hole = finding.hole.as_deref().and_then(|id| holes.get(id).copied());
        let at = *known.entry(key(finding, hole)).or_insert(said.len());
        if at == said.len() {
            said.push(first(finding, hole));
        } else if let Some(hole) = hole {
            said[at].holes.push(hole);
        } else {
            said[at].also.push(finding);
        }
    }
    said.iter_mut().for_each(name_holes);
    by_holes(said)
}

fn first<'a>(finding: &'a FindingResult, hole: Option<&'a HoleResult>) -> Said<'a> {
    Said {
        finding,
        message: finding.message.as_str().into(),
        remedy: finding.remedy.as_deref().map(Cow::from),
        holes: hole.into_iter().collect(),
        also: Vec::new(),
    }
}

/// Two findings with the same key say the same, but for the name of the hole.
#[derive(PartialEq, Eq)]
struct Key<'a> {
    rule: &'a str,
    level: &'a str,
    waived: Option<&'a str>,
    message: Cow<'a, str>,
    remedy: Option<Cow<'a, str>>,
    joint: Option<Joint<'a>>,
}

impl Hash for Key<'_> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        // What tells most findings apart; the rest is only compared.
        self.rule.hash(state);
        self.message.hash(state);
        self.joint.hash(state);
    }
}

fn key<'a>(finding: &'a FindingResult, hole: Option<&'a HoleResult>) -> Key<'a> {
    let id = finding.hole.as_deref().unwrap_or_default();
    let numbered = NUMBERED.contains(&finding.rule.as_str());
    Key {
        rule: &finding.rule,
        level: &finding.level,
        waived: finding.waived.as_deref(),
        message: if numbered { Cow::Borrowed("") } else { without_id(&finding.message, id, "\0") },
        remedy: finding.remedy.as_deref().map(|r| without_id(r, id, "\0")),
        joint: hole.map(Joint),
    }
}

/// A hole as what is said of it: without its name, its place and how sure its pairing is.
struct Joint<'a>(&'a HoleResult);

impl PartialEq for Joint<'_> {
    fn eq(&self, other: &Self) -> bool {
        let (Joint(a), Joint(b)) = (self, other);
        (&a.tag, &a.layer, &a.space, &a.callout) == (&b.tag, &b.layer, &b.space, &b.callout)
            && (a.joint.is(&b.joint) || same_joint(a, b))
    }
}

/// Whether what is said of the joints of two holes is the same.
fn same_joint(a: &JointResult, b: &JointResult) -> bool {
    (&a.screw, &a.material, a.thickness_mm, &a.process) == (&b.screw, &b.material, b.thickness_mm, &b.process)
        && (&a.coating, &a.capability) == (&b.coating, &b.capability)
        && (&a.diameter, &a.engagement, &a.band) == (&b.diameter, &b.engagement, &b.band)
        && (&a.verdict, &a.advice) == (&b.verdict, &b.advice)
}

/// No number of a result is other than itself.
impl Eq for Joint<'_> {}

impl Hash for Joint<'_> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        // What tells most holes apart; the rest is only compared.
        let Joint(hole) = self;
        let number = |value: Option<f64>| value.map(f64::to_bits);
        (&hole.tag, hole.callout.as_ref().map(|c| (&c.text, &c.handle))).hash(state);
        (hole.diameter.nominal_mm.to_bits(), number(hole.thickness_mm)).hash(state);
        (number(hole.band.as_ref().map(|band| band.hole_min_mm)), &hole.material).hash(state);
    }
}

/// Of several holes, a message must not name the first as if it were the only one.
fn name_holes(said: &mut Said<'_>) {
    let Some(id) = said.finding.hole.as_deref().filter(|_| said.holes.len() > 1) else { return };
    said.message = without_id(&said.finding.message, id, "each");
    said.remedy = said.finding.remedy.as_deref().map(|r| without_id(r, id, "each"));
}

/// `text` with the whole word `id` replaced.
fn without_id<'t>(text: &'t str, id: &str, instead: &str) -> Cow<'t, str> {
    if id.is_empty() || !text.contains(id) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(id) {
        let after = &rest[at + id.len()..];
        let before_ok = !rest[..at].chars().next_back().is_some_and(char::is_alphanumeric);
        let after_ok = !after.chars().next().is_some_and(char::is_alphanumeric);
        out.push_str(&rest[..at]);
        out.push_str(if before_ok && after_ok { instead } else { id });
        rest = after;
    }
    out.push_str(rest);
    Cow::Owned(out)
}

fn by_holes(said: Vec<Said<'_>>) -> Vec<Group<'_>> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    let mut known: HashMap<Vec<&str>, usize, RandomState> = HashMap::default();
    for one in said {
        let ids: Vec<&str> = one.holes.iter().map(|h| h.id.as_str()).collect();
        if ids.is_empty() {
            groups.push(Group { said: vec![one] });
            continue;
        }
        let at = *known.entry(ids).or_insert(groups.len());
        if at == groups.len() {
            groups.push(Group { said: vec![one] });
        } else {
            groups[at].said.push(one);
        }
    }
    for group in &mut groups {
        group.said.sort_by_key(|s| (rank(&s.finding.level), !s.is_numbered(), !s.is_lead()));
    }
    groups.sort_by_key(Group::rank);
    groups
}
