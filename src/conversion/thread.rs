//! What the thread of a callout says of a conversion: its kind, hand, class and size. Looks at no metal.

use super::{Fact, Grounds};
use crate::callout::Callout;
use crate::joint::Screw;
use crate::pairing::Hole;
use crate::practice::{Ground, Limit};
use crate::trade::{ClassKind, Thread, rolled_thread, thread_class};

/// The thread as the callout names it: `M4-6H`, `M5-LH`, `G1/4`.
pub(super) fn named(callout: &Callout) -> String {
    match (&callout.thread, &callout.other_thread) {
        (Some(named), _) => {
            let class = named.class.as_ref().map(|class| format!("-{class}")).unwrap_or_default();
            format!("{}{class}{}", named.thread.name, if named.left_hand { "-LH" } else { "" })
        }
        (None, Some(other)) => other.clone(),
        (None, None) => "?".to_owned(),
    }
}

/// The grounds that lie in the thread.
pub(super) fn grounds(callout: &Callout, screw: Option<&Screw>, grounds: &mut Grounds<'_>) {
    if screw.is_some() {
        grounds.add(Ground::AlreadyRolling, Fact::Nothing);
    }
    if let Some(other) = &callout.other_thread {
        grounds.add(Ground::OtherThread, Fact::Words(other.clone()));
        return;
    }
    let Some(named) = &callout.thread else {
        grounds.add(Ground::ThreadUnknown, Fact::Nothing);
        return;
    };
    if named.left_hand {
        grounds.add(Ground::LeftHand, Fact::Nothing);
    }
    class(named.class.as_deref(), grounds);
    size(&named.thread, grounds);
}

/// A tapped hole is drawn as its tap drill, its minor or its major diameter, or somewhat larger with a chamfer.
const DRAWN_OVER_MAJOR: std::ops::RangeInclusive<f64> = 0.7..=1.1;

/// What the drawn circle says of the thread.
pub(super) fn drawn(hole: &Hole, thread: &Thread, grounds: &mut Grounds<'_>) {
    let true_size = hole.drawn / hole.view_scale;
    if !DRAWN_OVER_MAJOR.contains(&(true_size / thread.major)) {
        grounds.add(Ground::DrawnDiffers, Fact::Lengths(true_size, thread.major));
    }
}

fn class(class: Option<&str>, grounds: &mut Grounds<'_>) {
    let Some(name) = class else {
        grounds.add(Ground::ClassNone, Fact::Nothing);
        return;
    };
    let fact = Fact::Words(name.to_owned());
    match thread_class(name) {
        None => grounds.add(Ground::ClassUnknown, fact),
        Some(row) => {
            let ground = match row.kind {
                ClassKind::Usual => Ground::ClassUsual,
                ClassKind::Close => Ground::ClassClose,
                ClassKind::Loose => Ground::ClassLoose,
                ClassKind::Interference => Ground::ClassInterference,
            };
            grounds.add_from(ground, fact, (row.source.clone(), row.status));
        }
    }
}

fn size(thread: &Thread, grounds: &mut Grounds<'_>) {
    let limits = &grounds.practice.limits;
    let slack = 1e-6;
    for (limit, ground, out) in
        [(Limit::SmallestRolled, Ground::ThreadSmall, -1.0), (Limit::LargestRolled, Ground::ThreadLarge, 1.0)]
    {
        let edge = limits.length(limit, thread);
        if out * (thread.major - edge).mm() > slack {
            let from = (limits.origin(limit).words(), limits.status(limit));
            grounds.add_from(ground, Fact::Lengths(thread.major, edge), from);
            return;
        }
    }
    let name = Fact::Words(thread.name.clone());
    match rolled_thread(thread) {
        Some(row) => grounds.add_from(Ground::ThreadCustomary, name, (row.source.clone(), row.status)),
        None => grounds.add(Ground::ThreadUncommon, name),
    }
}
