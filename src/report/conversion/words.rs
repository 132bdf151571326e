//! The grounds for and against a conversion in words, and amounts of money. Decides nothing.

use crate::conversion::saving::Amount;
use crate::conversion::{Fact, Group, Reason};
use crate::practice::Ground;
use crate::rules::words::{self, length, quoted, short};
use crate::units::Unit;

/// What a ground says of these holes, with its numbers.
pub(super) fn message(reason: &Reason, group: &Group, unit: Unit) -> String {
    let meaning = &reason.ground.row().meaning;
    // The limit or table that it rests on stands as its source.
    let plain = meaning.split(" (limit").next().unwrap_or(meaning);
    match &reason.fact {
        Fact::Nothing => plain.to_owned(),
        Fact::Words(text) => match reason.ground {
            Ground::MetalUnsuitable => text.clone(),
            Ground::MetalFormable => metal(group, text),
            Ground::WordsCode | Ground::WordsCritical => format!("{plain}: {}", quoted(text)),
            _ => format!("{plain}: {text}"),
        },
        Fact::Length(value) => match reason.ground {
            Ground::BlindRoom => {
                format!("{plain}: {} of full thread beside point and clearance", length(*value, unit))
            }
            _ => format!("{plain}: {}", length(*value, unit)),
        },
        Fact::Lengths(found, edge) => lengths(reason.ground, plain, group, (*found, *edge), unit),
        Fact::Counts(stated, found) => format!("{plain}: {stated} stated, {found} found"),
        Fact::Percent(found, edge) => format!("{plain}: {found:.0} % sure, {} needed", short(*edge)),
    }
}

fn metal(group: &Group, name: &str) -> String {
    match &group.new_hole {
        Some(hole) => format!(
            "{name} takes a formed thread at {} to {} % rolled",
            short(hole.band.band.min),
            short(hole.band.band.max)
        ),
        None => format!("{name} takes a formed thread"),
    }
}

fn lengths(
    ground: Ground,
    plain: &str,
    group: &Group,
    (found, edge): (crate::units::Length, crate::units::Length),
    unit: Unit,
) -> String {
    let said = |l| length(l, unit);
    let pitches = |l: crate::units::Length| {
        let pitch = group.thread.as_ref().map(|t| t.pitch.mm()).filter(|p| *p > 0.0);
        // As it is shown, so that 2.0000001 reads as two.
        let shown = |p: f64| (l.mm() / p * 100.0).round() / 100.0;
        pitch.map(|p| format!(", {}", words::pitches(shown(p)))).unwrap_or_default()
    };
    match ground {
        Ground::MetalEnough | Ground::MetalThin => {
            format!("{plain}: {}{}, at least {}", said(found), pitches(found), said(edge))
        }
        Ground::MetalDeep => format!("{plain}: {} where {} are enough", said(found), said(edge)),
        Ground::BlindShort | Ground::BlindShallow => {
            format!("{plain}: {} left, {} wanted", said(found), said(edge))
        }
        Ground::DrawnDiffers => {
            format!("{plain}: {} for {}", words::diameter(found, unit), words::diameter(edge, unit))
        }
        Ground::ThreadSmall => format!("{plain}: {} under {}", said(found), said(edge)),
        Ground::ThreadLarge => format!("{plain}: {} over {}", said(found), said(edge)),
        _ => format!("{plain}: {}, {}", said(found), said(edge)),
    }
}

/// Money of one hole or part: up to four decimals that say something, two at least.
pub(super) fn small(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.strip_suffix("00").or(text.strip_suffix('0')).unwrap_or(&text);
    if text == "-0.00" { "0.00".to_owned() } else { text.to_owned() }
}

/// Money of a year.
pub(super) fn large(value: f64) -> String {
    let text = format!("{value:.2}");
    if text == "-0.00" { "0.00".to_owned() } else { text }
}

/// An amount with what is known of it: `at least 0.12`, `not known`.
pub(super) fn amount(amount: Amount, show: fn(f64) -> String, currency: &str) -> String {
    match amount {
        Amount::Exactly(value) => format!("{} {currency}", show(value)),
        Amount::AtLeast(value) => format!("at least {} {currency}", show(value)),
        Amount::NotKnown => "not known".to_owned(),
    }
}

/// Where a group is: `4 × M4-6H in 2 mm low-carbon steel, punched`.
pub(super) fn joint(group: &Group, unit: Unit) -> String {
    let mut text = format!("{} × {}", group.count, words::line(&group.named));
    match (group.thickness, group.material) {
        (Some(thickness), Some(material)) => {
            text += &format!(" in {} {}", length(thickness, unit), material.words());
        }
        (Some(thickness), None) => text += &format!(" in {} of unknown metal", length(thickness, unit)),
        (None, Some(material)) => text += &format!(" in {}", material.words()),
        (None, None) => text += " in unknown metal",
    }
    if let Some(process) = group.process {
        text += &format!(", {}", process.name());
    }
    text
}
