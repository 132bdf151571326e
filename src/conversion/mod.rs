//! Tapped holes that a thread-rolling screw could replace: each with the grounds for and against it, and the hole to call
//! out instead. What that saves is worked out in [`saving`]. Writes nothing and knows of no other drawing.

mod depth;
mod hole;
pub mod saving;
#[cfg(test)]
mod tests;
mod thread;
mod words;

use crate::callout::Callout;
use crate::drawing::Drawing;
use crate::joint::{Screw, ScrewForm};
use crate::pairing::{Hole, Paired, Stated};
use crate::practice::{Answer, Ground, Practice};
use crate::shared::SharedText;
use crate::trade::{GuideHole, Material, Process, Status, Thread};
use crate::units::{Length, Unit};
use crate::verdict::HoleBand;

/// What a drawing's tapped holes could become.
#[derive(Debug, Clone, PartialEq)]
pub struct Conversion {
    /// The unit that its lengths are said in.
    pub unit: Unit,
    /// Its tapped holes; those that are alike stand together, the best answer first.
    pub groups: Vec<Group>,
}

/// Tapped holes that are alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// What is said of them: the worst answer of the grounds.
    pub answer: Answer,
    /// The grounds, the worst first.
    pub reasons: Vec<Reason>,
    /// The callout as it stands.
    pub callout: String,
    /// The thread; none for one that is not known or of another kind.
    pub thread: Option<Thread>,
    /// The thread as the callout names it, with its class.
    pub named: String,
    /// The holes, `H1` ….
    pub holes: Vec<SharedText>,
    /// How many holes of the part they count for.
    pub count: u32,
    /// Metal.
    pub material: Option<Material>,
    /// Thickness of the metal.
    pub thickness: Option<Length>,
    /// How the hole is made.
    pub process: Option<Process>,
    /// Length that the thread would be formed over, as far as it is known.
    pub length: Option<Length>,
    /// The hole to call out; none where it cannot be told.
    pub new_hole: Option<NewHole>,
    /// The standard's guide hole for this thread, metal and length.
    pub guide: Option<Guide>,
}

/// A ground for or against a conversion, with its numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason {
    /// The ground.
    pub ground: Ground,
    /// What follows from it.
    pub answer: Answer,
    /// What was found.
    pub fact: Fact,
    /// Where the ground comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

/// What was found, for a ground to rest on.
#[derive(Debug, Clone, PartialEq)]
pub enum Fact {
    /// Nothing beyond the ground itself.
    Nothing,
    /// Words of the drawing or of a table.
    Words(String),
    /// A length beside the one that it is compared with.
    Lengths(Length, Length),
    /// One length.
    Length(Length),
    /// What is stated beside what was found.
    Counts(u32, u32),
    /// A share in percent beside the one that it is compared with.
    Percent(f64, f64),
}

/// The hole to call out.
#[derive(Debug, Clone, PartialEq)]
pub struct NewHole {
    /// Diameter.
    pub diameter: Length,
    /// Smallest and largest, where a tolerance that can be made stays in the band.
    pub limits: Option<(Length, Length)>,
    /// The drill of that size, if there is one.
    pub drill: Option<String>,
    /// The callout to write, in the notation of the drawing.
    pub callout: String,
    /// Rolled engagement at the diameter (percent).
    pub engagement: f64,
    /// The same at the smallest and the largest hole (percent).
    pub at_limits: Option<(f64, f64)>,
    /// The band.
    pub band: HoleBand,
}

/// A guide hole of the standard.
#[derive(Debug, Clone, PartialEq)]
pub struct Guide {
    /// The row of the table.
    pub row: GuideHole,
    /// Largest hole of its fit.
    pub largest: Option<Length>,
    /// Rolled engagement at the guide hole (percent).
    pub engagement: f64,
    /// The same at the largest hole (percent).
    pub at_largest: Option<f64>,
}

/// Grounds, as they are found.
struct Grounds<'a> {
    practice: &'a Practice,
    reasons: Vec<Reason>,
}

impl Grounds<'_> {
    fn add(&mut self, ground: Ground, fact: Fact) {
        let (source, status) = self.practice.grounds.source(ground);
        let answer = self.practice.grounds.answer(ground);
        self.reasons.push(Reason { ground, answer, fact, source, status });
    }

    /// As [`Grounds::add`], with the source of the very row or limit that it rests on.
    fn add_from(&mut self, ground: Ground, fact: Fact, (source, status): (String, Status)) {
        self.add(ground, fact);
        if let Some(last) = self.reasons.last_mut().filter(|last| last.status != Status::User) {
            (last.source, last.status) = (source, status);
        }
    }
}

/// Looks at every tapped hole of a drawing, and at callouts of taps that no hole answers.
pub fn convert(drawing: &Drawing, paired: &Paired, practice: &Practice) -> Conversion {
    let mut groups: Vec<Group> = Vec::new();
    let tapped: Vec<&Hole> = paired.holes.iter().filter(|hole| called(hole, paired).is_some()).collect();
    let unanswered =
        || paired.callouts.iter().filter(|seen| is_tapped(&seen.callout) && seen.holes.is_empty());
    let cautions = if tapped.is_empty() && unanswered().next().is_none() {
        Vec::new()
    } else {
        words::cautions(drawing)
    };
    let mut callouts: Vec<Option<usize>> = Vec::new();
    for hole in tapped {
        let Some(group) = group(hole, paired, practice, &cautions) else { continue };
        let like = groups
            .iter()
            .zip(&callouts)
            .position(|(other, callout)| *callout == hole.callout && alike(other, &group));
        match like {
            Some(nth) => groups[nth].holes.extend(group.holes),
            None => {
                groups.push(group);
                callouts.push(hole.callout);
            }
        }
    }
    count(&mut groups, &callouts, paired, practice);
    groups.extend(unanswered().map(|seen| without_hole(&seen.callout, paired, practice, &cautions)));
    for group in &mut groups {
        group.reasons.sort_by_key(|reason| (std::cmp::Reverse(reason.answer), reason.ground));
        group.answer = group.reasons.iter().map(|r| r.answer).max().unwrap_or(Answer::Doubtful);
        if group.answer == Answer::No {
            // No hole is offered where the tap stays.
            (group.new_hole, group.guide) = (None, None);
        }
    }
    groups.sort_by_key(|group| group.answer);
    Conversion { unit: paired.unit.unit, groups }
}

/// The callout of a tapped hole.
fn called<'a>(hole: &Hole, paired: &'a Paired) -> Option<&'a Callout> {
    let callout = &paired.callouts.get(hole.callout?)?.callout;
    is_tapped(callout).then_some(callout)
}

/// Whether a callout asks for a tapped thread. `TAPPING SCREW` names a screw, and no thread to cut.
fn is_tapped(callout: &Callout) -> bool {
    let threaded = callout.thread.is_some() || callout.other_thread.is_some();
    callout.tapped && (threaded || callout.screw.is_none())
}

/// Whether two groups of one callout differ in their holes only.
fn alike(a: &Group, b: &Group) -> bool {
    let same = |g: &Group| Group { holes: Vec::new(), ..g.clone() };
    same(a) == same(b)
}

/// What one hole is, as a group of its own.
fn group(hole: &Hole, paired: &Paired, practice: &Practice, cautions: &[words::Caution]) -> Option<Group> {
    let callout = called(hole, paired)?;
    let mut grounds = Grounds { practice, reasons: Vec::new() };
    thread::grounds(callout, hole.screw.as_ref(), &mut grounds);
    words::grounds(callout, cautions, &mut grounds);
    doubts(hole, paired, &mut grounds);
    let named = callout.thread.as_ref();
    if let Some(named) = named {
        thread::drawn(hole, &named.thread, &mut grounds);
    }
    let depths = depth::Depths::of(hole, callout, paired);
    depths.grounds(named.map(|n| &n.thread), &mut grounds);
    let mut group = Group {
        answer: Answer::Doubtful,
        reasons: Vec::new(),
        callout: callout.text.clone(),
        thread: named.map(|n| n.thread.clone()),
        named: thread::named(callout),
        holes: vec![hole.id.clone()],
        count: 1,
        material: hole.making.material,
        thickness: hole.making.thickness,
        process: hole.making.process,
        length: depths.engaged(),
        new_hole: None,
        guide: None,
    };
    if let Some(named) = named {
        let mut own = hole.clone();
        own.screw = Some(Screw { thread: named.thread.clone(), length: None, form: ScrewForm::Rolling });
        depths.put_into(&mut own);
        hole::judge(&own, paired, &mut group, &mut grounds);
    }
    group.reasons = grounds.reasons;
    Some(group)
}

/// What makes the reading of the drawing itself doubtful.
fn doubts(hole: &Hole, paired: &Paired, grounds: &mut Grounds<'_>) {
    if paired.unit.doubtful {
        grounds.add(Ground::UnitDoubtful, Fact::Nothing);
    }
    let least = grounds.practice.limits.value(crate::practice::Limit::LeastConfidence);
    if 100.0 * hole.confidence < least {
        grounds.add(Ground::PairingDoubtful, Fact::Percent(100.0 * hole.confidence, least));
    }
    let index = paired.holes.iter().position(|other| other.id == hole.id);
    for conflict in
        paired.conflicts.iter().filter(|conflict| conflict.hole.is_none() || conflict.hole == index)
    {
        let ground = match conflict.about {
            Stated::Thickness => Ground::ThicknessConflict,
            Stated::Material => Ground::MetalConflict,
            Stated::Process => Ground::ProcessConflict,
            Stated::Coating => Ground::CoatingConflict,
        };
        grounds.add(ground, Fact::Nothing);
    }
}

/// Counts the holes of each group. Where a callout states another number than was found, the smaller one counts.
fn count(groups: &mut [Group], callouts: &[Option<usize>], paired: &Paired, practice: &Practice) {
    for group in groups.iter_mut() {
        group.count = u32::try_from(group.holes.len()).unwrap_or(u32::MAX);
    }
    for (nth, callout) in callouts.iter().enumerate() {
        let Some(seen) = callout.and_then(|c| paired.callouts.get(c)) else { continue };
        let Some(stated) = seen.callout.count else { continue };
        let found: u32 =
            (groups.iter().zip(callouts)).filter(|(_, c)| *c == callout).map(|(g, _)| g.count).sum();
        // The groups of one callout are counted once, at the first of them.
        if found == stated || callouts[..nth].contains(callout) {
            continue;
        }
        let mut left = stated;
        for (group, _) in groups.iter_mut().zip(callouts).filter(|(_, c)| *c == callout) {
            group.count = group.count.min(left);
            left -= group.count;
            let mut grounds = Grounds { practice, reasons: Vec::new() };
            grounds.add(Ground::CountDiffers, Fact::Counts(stated, found));
            group.reasons.extend(grounds.reasons);
        }
    }
}

/// A callout of a tap that no hole on the drawing answers.
fn without_hole(
    callout: &Callout,
    paired: &Paired,
    practice: &Practice,
    cautions: &[words::Caution],
) -> Group {
    let mut grounds = Grounds { practice, reasons: Vec::new() };
    grounds.add(Ground::HoleNotFound, Fact::Nothing);
    thread::grounds(callout, None, &mut grounds);
    words::grounds(callout, cautions, &mut grounds);
    Group {
        answer: Answer::Doubtful,
        reasons: grounds.reasons,
        callout: callout.text.clone(),
        thread: callout.thread.as_ref().map(|named| named.thread.clone()),
        named: thread::named(callout),
        holes: Vec::new(),
        count: 0,
        material: paired.sheet.material,
        thickness: paired.sheet.thickness.map(|(thickness, _)| thickness),
        process: None,
        length: None,
        new_hole: None,
        guide: None,
    }
}
