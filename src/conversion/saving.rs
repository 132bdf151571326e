//! What a conversion saves, by the shop's own costs: for a hole, for a part, in a year, and after how many parts the
//! joint tests are paid. A cost that is not stated is never guessed: a gain that is missing makes a saving one of at
//! least so much, a missing cost makes it not known. Ranks nothing.

use super::{Conversion, Group};
use crate::practice::{Answer, CostItems, Costs};

/// A term of the saving.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Term {
    /// Time of tapping, at its rate.
    TappingTime,
    /// Price of a tap over the holes that it lasts for.
    TapWear,
    /// Removing chips and coolant.
    Cleaning,
    /// Gauging.
    Gauging,
    /// Scrap and broken taps.
    Scrap,
    /// What the screw costs more.
    ScrewPremium,
    /// Time that driving takes longer, at its rate.
    DriveTime,
    /// Joint tests.
    Proving,
    /// Parts a year.
    YearlyParts,
}

impl Term {
    /// The terms of one hole, gains first.
    pub const OF_HOLE: [Term; 7] = [
        Term::TappingTime,
        Term::TapWear,
        Term::Cleaning,
        Term::Gauging,
        Term::Scrap,
        Term::ScrewPremium,
        Term::DriveTime,
    ];

    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Term::TappingTime => "tapping-time",
            Term::TapWear => "tap-wear",
            Term::Cleaning => "cleaning",
            Term::Gauging => "gauging",
            Term::Scrap => "scrap",
            Term::ScrewPremium => "screw-premium",
            Term::DriveTime => "drive-time",
            Term::Proving => "proving",
            Term::YearlyParts => "yearly-parts",
        }
    }

    /// How it is worked out, by the keys of the costs.
    pub const fn formula(self) -> &'static str {
        match self {
            Term::TappingTime => "tapping_seconds × tapping_rate / 3600",
            Term::TapWear => "tap_price / holes_per_tap",
            Term::Cleaning => "cleaning",
            Term::Gauging => "gauging",
            Term::Scrap => "scrap",
            Term::ScrewPremium => "screw_premium",
            Term::DriveTime => "drive_seconds × drive_rate / 3600",
            Term::Proving => "proving × joints (thread, metal and thickness)",
            Term::YearlyParts => "yearly",
        }
    }

    /// Whether it is saved with the tap, not spent on the screw.
    pub const fn is_gain(self) -> bool {
        matches!(self, Term::TappingTime | Term::TapWear | Term::Cleaning | Term::Gauging | Term::Scrap)
    }

    /// Its value for one hole; none where a key is not stated.
    fn of_hole(self, items: &CostItems) -> Option<f64> {
        match self {
            Term::TappingTime => Some(items.tapping_seconds? * items.tapping_rate? / 3600.0),
            Term::TapWear => Some(items.tap_price? / items.holes_per_tap.filter(|n| *n > 0.0)?),
            Term::Cleaning => items.cleaning,
            Term::Gauging => items.gauging,
            Term::Scrap => items.scrap,
            Term::ScrewPremium => items.screw_premium,
            Term::DriveTime => Some(items.drive_seconds? * items.drive_rate? / 3600.0),
            Term::Proving | Term::YearlyParts => None,
        }
    }
}

/// An amount of the shop's money.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// Just so much.
    Exactly(f64),
    /// So much or more: a gain is not stated.
    AtLeast(f64),
    /// A cost is not stated.
    NotKnown,
}

impl Amount {
    /// The number, if there is one.
    pub const fn value(self) -> Option<f64> {
        match self {
            Amount::Exactly(value) | Amount::AtLeast(value) => Some(value),
            Amount::NotKnown => None,
        }
    }

    /// Whether it may be more.
    pub const fn is_at_least(self) -> bool {
        matches!(self, Amount::AtLeast(_))
    }

    /// The same with another number.
    fn map(self, change: impl Fn(f64) -> f64) -> Amount {
        match self {
            Amount::Exactly(value) => Amount::Exactly(change(value)),
            Amount::AtLeast(value) => Amount::AtLeast(change(value)),
            Amount::NotKnown => Amount::NotKnown,
        }
    }

    /// Both together.
    #[must_use]
    pub fn plus(self, other: Amount) -> Amount {
        match (self.value(), other.value()) {
            (Some(a), Some(b)) if self.is_at_least() || other.is_at_least() => Amount::AtLeast(a + b),
            (Some(a), Some(b)) => Amount::Exactly(a + b),
            _ => Amount::NotKnown,
        }
    }

    /// So many times as much; `times` is 0 or more.
    #[must_use]
    pub fn times(self, times: f64) -> Amount {
        self.map(|value| value * times)
    }

    /// Less what is spent, or not known if that is not.
    #[must_use]
    pub fn less(self, spent: Option<f64>) -> Amount {
        spent.map_or(Amount::NotKnown, |spent| self.map(|value| value - spent))
    }
}

/// The saving at one hole.
#[derive(Debug, Clone, PartialEq)]
pub struct PerHole {
    /// Each term, in the order of [`Term::OF_HOLE`]; costs are positive numbers. None where it is not stated.
    pub terms: Vec<(Term, Option<f64>)>,
    /// Gains less costs.
    pub saving: Amount,
}

/// A joint that a test proves: thread, metal, thickness in micrometres.
pub type Joint = (String, &'static str, i64);

/// When the joint tests are paid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BreakEven {
    /// After so many parts; fewer may do where the saving is one of at least so much.
    Parts(u64),
    /// Never: each part costs more than before, or no less.
    Never,
    /// A cost is not stated.
    NotKnown,
}

/// What holes of one answer save.
#[derive(Debug, Clone, PartialEq)]
pub struct Sum {
    /// Holes of one part.
    pub holes: u32,
    /// For one part.
    pub per_part: Amount,
    /// For the parts of a year, before the joint tests.
    pub yearly: Amount,
}

/// What a drawing's conversion saves.
#[derive(Debug, Clone, PartialEq)]
pub struct Saving {
    /// For each group of the conversion; none where the tap stays.
    pub groups: Vec<Option<PerHole>>,
    /// The candidates.
    pub candidates: Sum,
    /// The doubtful holes, if every doubt were settled. Not part of what follows.
    pub doubtful: Sum,
    /// Parts a year, and the row of the costs that states them.
    pub yearly_parts: Option<(usize, f64)>,
    /// The joints of the candidates, each once, with what proving it costs.
    pub joints: Vec<(Joint, Option<f64>)>,
    /// What proving all of them costs.
    pub proving: Option<f64>,
    /// The first year: the yearly saving less the proving.
    pub first_year: Amount,
    /// Parts at which the proving is paid.
    pub break_even: BreakEven,
    /// Terms that are not stated.
    pub missing: Vec<Term>,
}

/// The saving at a hole by these costs.
///
/// ```
/// use boreband::conversion::saving::{Amount, per_hole};
/// use boreband::practice::CostItems;
/// // By hand: 12 s at 45 an hour are 0.150, cleaning 0.010; a premium of 0.030, 1 s at 45 an hour is 0.0125.
/// let items = CostItems {
///     tapping_seconds: Some(12.0), tapping_rate: Some(45.0), tap_price: Some(0.0), holes_per_tap: Some(1.0),
///     cleaning: Some(0.01), gauging: Some(0.0), scrap: Some(0.0), screw_premium: Some(0.03),
///     drive_seconds: Some(1.0), drive_rate: Some(45.0), proving: None,
/// };
/// assert!((per_hole(&items).saving.value().unwrap() - 0.1175).abs() < 1e-12);
/// ```
pub fn per_hole(items: &CostItems) -> PerHole {
    let terms: Vec<(Term, Option<f64>)> =
        Term::OF_HOLE.into_iter().map(|term| (term, term.of_hole(items))).collect();
    let mut saving = Amount::Exactly(0.0);
    for (term, value) in &terms {
        saving = match (value, term.is_gain()) {
            (Some(value), true) => saving.plus(Amount::Exactly(*value)),
            (None, true) => saving.plus(Amount::AtLeast(0.0)),
            (value, false) => saving.less(*value),
        };
    }
    PerHole { terms, saving }
}

/// What the conversion of a drawing saves. `path` and `part` find its parts a year.
pub fn saving(conversion: &Conversion, path: &str, part: Option<&str>, costs: &Costs) -> Saving {
    let of_group = |group: &Group| {
        let thread = group.thread.as_ref().filter(|_| group.answer != Answer::No)?;
        Some(per_hole(&costs.of(thread)))
    };
    let groups: Vec<Option<PerHole>> = conversion.groups.iter().map(of_group).collect();
    let yearly_parts = costs.yearly_of(path, part).map(|(nth, row)| (nth, row.parts));
    let sum = |answer: Answer| {
        let own = conversion.groups.iter().zip(&groups).filter(|(group, _)| group.answer == answer);
        let mut sum = Sum { holes: 0, per_part: Amount::Exactly(0.0), yearly: Amount::NotKnown };
        for (group, saving) in own {
            sum.holes += group.count;
            let of_hole = saving.as_ref().map_or(Amount::NotKnown, |s| s.saving);
            if group.count > 0 {
                sum.per_part = sum.per_part.plus(of_hole.times(f64::from(group.count)));
            }
        }
        sum.yearly = yearly_parts.map_or(Amount::NotKnown, |(_, parts)| sum.per_part.times(parts));
        sum
    };
    let (candidates, doubtful) = (sum(Answer::Candidate), sum(Answer::Doubtful));
    let joints = joints(conversion, costs);
    let proving: Option<f64> = joints.iter().map(|(_, cost)| *cost).sum();
    let missing = missing(conversion, &groups, proving, yearly_parts.is_some());
    Saving {
        first_year: candidates.yearly.less(proving),
        break_even: break_even(candidates.per_part, proving),
        groups,
        candidates,
        doubtful,
        yearly_parts,
        joints,
        proving,
        missing,
    }
}

/// The joints of the candidates, each once.
fn joints(conversion: &Conversion, costs: &Costs) -> Vec<(Joint, Option<f64>)> {
    let mut joints: Vec<(Joint, Option<f64>)> = Vec::new();
    for group in conversion.groups.iter().filter(|g| g.answer == Answer::Candidate && g.count > 0) {
        let (Some(thread), Some(material)) = (&group.thread, group.material) else { continue };
        let Some(thickness) = group.thickness.or(group.length) else { continue };
        // Whole micrometres, so that the same thickness is the same joint whatever unit it was written in.
        let joint = (thread.name.clone(), material.name(), (thickness.mm() * 1000.0).round() as i64);
        if joints.iter().all(|(other, _)| *other != joint) {
            joints.push((joint, costs.of(thread).proving));
        }
    }
    joints
}

/// The fewest parts whose saving is no less than the proving.
fn break_even(per_part: Amount, proving: Option<f64>) -> BreakEven {
    let (Some(each), Some(proving)) = (per_part.value(), proving) else { return BreakEven::NotKnown };
    if each <= 0.0 {
        return if per_part.is_at_least() { BreakEven::NotKnown } else { BreakEven::Never };
    }
    let mut parts = (proving / each - 1e-9).ceil().max(0.0);
    // The last bit of the quotient must not make it a part too few.
    if parts * each < proving - 1e-9 * proving.abs() {
        parts += 1.0;
    }
    if parts < 1e15 { BreakEven::Parts(parts as u64) } else { BreakEven::Never }
}

/// The terms that are not stated and that a figure of the candidates or the doubtful holes needs.
fn missing(
    conversion: &Conversion,
    groups: &[Option<PerHole>],
    proving: Option<f64>,
    yearly: bool,
) -> Vec<Term> {
    let mut missing: Vec<Term> = Vec::new();
    let open = conversion.groups.iter().zip(groups).filter_map(|(_, saving)| saving.as_ref());
    for (term, value) in open.flat_map(|saving| &saving.terms) {
        if value.is_none() && !missing.contains(term) {
            missing.push(*term);
        }
    }
    let candidates = conversion.groups.iter().any(|g| g.answer == Answer::Candidate && g.count > 0);
    if candidates && proving.is_none() {
        missing.push(Term::Proving);
    }
    if !yearly && groups.iter().any(Option::is_some) {
        missing.push(Term::YearlyParts);
    }
    missing.sort_unstable();
    missing
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// All terms stated.
    fn items() -> CostItems {
        CostItems {
            tapping_seconds: Some(12.0),
            tapping_rate: Some(45.0),
            tap_price: Some(0.0),
            holes_per_tap: Some(1000.0),
            cleaning: Some(0.01),
            gauging: Some(0.0),
            scrap: Some(0.0),
            screw_premium: Some(0.03),
            drive_seconds: Some(1.0),
            drive_rate: Some(45.0),
            proving: Some(1500.0),
        }
    }

    // By hand: 12 × 45 / 3600 + .010 - .030 - 1 × 45 / 3600 = .1175 a hole; 1500 / .1175 = 12765.96 parts of one hole,
    // and 20,000 of them save 20000 × .1175 - 1500 = 850, which is .0425 each.
    #[test]
    fn the_illustration_of_the_trade() {
        let of_hole = per_hole(&items()).saving;
        assert!((of_hole.value().unwrap() - 0.1175).abs() < 1e-12 && !of_hole.is_at_least());
        assert_eq!(break_even(of_hole, items().proving), BreakEven::Parts(12_766));
        let net = of_hole.times(20_000.0).less(items().proving).value().unwrap();
        assert!((net / 20_000.0 - 0.0425).abs() < 1e-12);
    }

    #[test]
    fn a_missing_gain_leaves_a_least_saving_and_a_missing_cost_none() {
        let without_gain = per_hole(&CostItems { cleaning: None, ..items() }).saving;
        assert_eq!((without_gain.is_at_least(), break_even(without_gain, None)), (true, BreakEven::NotKnown));
        // By hand: .150 - .030 - .0125 = .1075.
        assert!((without_gain.value().unwrap() - 0.1075).abs() < 1e-12);
        let half = per_hole(&CostItems { tapping_rate: None, ..items() }).saving;
        assert!(half.is_at_least(), "a time without its rate is no cost");
        // What may be more than a loss is no loss yet.
        assert!(half.value().unwrap() < 0.0);
        assert_eq!(break_even(half, Some(1.0)), BreakEven::NotKnown);
        for items in [
            CostItems { screw_premium: None, ..items() },
            CostItems { drive_seconds: None, ..items() },
            CostItems { drive_rate: None, ..items() },
        ] {
            assert_eq!(per_hole(&items).saving, Amount::NotKnown);
        }
    }

    #[test]
    fn a_loss_never_pays() {
        let loss = per_hole(&CostItems { screw_premium: Some(0.2), ..items() }).saving;
        assert_eq!(break_even(loss, Some(0.0)), BreakEven::Never);
        assert_eq!(break_even(Amount::Exactly(2.0), Some(0.0)), BreakEven::Parts(0));
        assert_eq!(break_even(Amount::Exactly(2.0), Some(4.0)), BreakEven::Parts(2));
        assert_eq!(break_even(Amount::Exactly(2.0), Some(4.1)), BreakEven::Parts(3));
    }

    proptest! {
        #[test]
        fn the_break_even_pays_and_one_part_less_does_not(each in 1e-4..1e3, proving in 0.0..1e6) {
            let BreakEven::Parts(parts) = break_even(Amount::Exactly(each), Some(proving)) else {
                return Err(TestCaseError::fail("a saving pays at some time"));
            };
            let (paid, slack) = (parts as f64 * each, 1e-6 * (1.0 + proving));
            prop_assert!(paid >= proving - slack);
            prop_assert!(parts == 0 || (parts as f64 - 1.0) * each < proving + slack);
        }

        #[test]
        fn more_holes_never_save_less(seconds in 0.0..100.0, premium in 0.0..0.2, few in 0u32..50, more in 0u32..50) {
            let of_hole = per_hole(&CostItems {
                tapping_seconds: Some(seconds), screw_premium: Some(premium), ..items()
            }).saving;
            prop_assume!(of_hole.value().unwrap() >= 0.0);
            let of = |holes: u32| of_hole.times(f64::from(holes)).value().unwrap();
            prop_assert!(of(few + more) >= of(few));
        }

        #[test]
        fn a_higher_cost_never_saves_more(seconds in 0.0..100.0, premium in 0.0..0.2, dearer in 0.0..0.2) {
            let of = |premium| per_hole(&CostItems {
                tapping_seconds: Some(seconds), screw_premium: Some(premium), ..items()
            }).saving.value().unwrap();
            prop_assert!(of(premium + dearer) <= of(premium));
        }
    }
}
