//! Which diameter and which tolerance are judged, and the limits of size that follow.

use super::*;

#[test]
fn which_diameter_and_which_tolerance() {
    let mut paired = sheet_of(Unit::Mm);
    let mut hole = hole("M4", mm(7.2), steel(1.5, None));
    hole.view_scale = 2.0;
    let limits = by_trade(&hole, &paired).limits;
    close(limits.nominal.mm(), 3.6, 1e-12);
    assert_eq!((limits.source, limits.tolerance_source), (DiameterSource::Drawn, ToleranceSource::None));
    assert_eq!((limits.min, limits.max), (limits.nominal, limits.nominal));

    hole.making.process = Some(Process::Punched);
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.tolerance_source, ToleranceSource::Process);
    assert!(limits.tolerance_text.contains("punched") && limits.tolerance_text.contains("common practice"));
    close(limits.max.mm(), 3.65, 1e-9);

    paired.sheet.tolerances = vec![
        GeneralTolerance::Iso2768('m'),
        GeneralTolerance::Decimals {
            places: 2,
            plus_minus: Quantity { value: 0.02, unit: None, decimals: 2 },
        },
    ];
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.tolerance_source, ToleranceSource::Drawing);
    close(limits.max.mm(), 3.7, 1e-9); // ISO 2768-m ±0.1 at 3 to 6 mm (memory)
    hole.listed = Some(StatedSize { nominal: Some(mm(3.61)), decimals: 2, ..StatedSize::default() });
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.source, DiameterSource::List);
    close(limits.min.mm(), 3.59, 1e-9); // by two decimals

    hole.called = Some(StatedSize { nominal: Some(mm(3.6)), decimals: 1, ..StatedSize::default() });
    hole.listed = Some(size(3.61, 0.05, 0.01, 2, Unit::Mm));
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!((limits.source, limits.tolerance_source), (DiameterSource::Callout, ToleranceSource::List));
    close(limits.min.mm(), 3.59, 1e-9); // the list's deviations on the callout's nominal
    close(limits.max.mm(), 3.65, 1e-9);

    hole.called = Some(size(3.6, 0.02, 0.02, 1, Unit::Mm));
    assert_eq!(by_trade(&hole, &paired).limits.tolerance_source, ToleranceSource::Callout);
}

#[test]
fn limits_and_fits() {
    let paired = sheet_of(Unit::Mm);
    let mut hole = hole("M4", mm(3.3), steel(1.5, None));
    hole.called = Some(StatedSize {
        tolerance: Some(Tolerance::Limits { min: mm(3.58), max: mm(3.62) }),
        ..StatedSize::default()
    });
    let limits = by_trade(&hole, &paired).limits;
    close(limits.nominal.mm(), 3.6, 1e-9); // the middle
    hole.called = Some(StatedSize {
        nominal: Some(mm(3.6)),
        tolerance: Some(Tolerance::Fit("H11".to_owned())),
        ..StatedSize::default()
    });
    let limits = by_trade(&hole, &paired).limits;
    close(limits.max.mm(), 3.675, 1e-9); // ISO 286 H11 +75 µm, published
    close(limits.nominal.mm(), 3.6, 1e-9);
    // A list's limits that leave out the callout's nominal are not used, and that is said.
    hole.called = Some(StatedSize { nominal: Some(mm(3.3)), ..StatedSize::default() });
    hole.listed = Some(StatedSize {
        tolerance: Some(Tolerance::Limits { min: mm(3.58), max: mm(3.62) }),
        ..StatedSize::default()
    });
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.tolerance_source, ToleranceSource::None);
    assert!(limits.tolerance_text.contains("leave out"));
}

#[test]
fn one_limit_leaves_the_other_open() {
    // `Ø3.6 MAX` under a title block of ±0.1: the general tolerance does not hold, and no smallest is made up.
    let mut paired = sheet_of(Unit::Mm);
    paired.sheet.tolerances = vec![GeneralTolerance::Iso2768('m')];
    let mut hole = hole("M4", mm(3.6), steel(1.5, Some(Process::Punched)));
    hole.called = Some(StatedSize {
        nominal: Some(mm(3.6)),
        tolerance: Some(Tolerance::Largest),
        ..StatedSize::default()
    });
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.tolerance_source, ToleranceSource::None);
    assert_eq!((limits.min, limits.max), (mm(3.6), mm(3.6)));
    assert_eq!(limits.tolerance_text, "3.6 is the largest size and no smallest is stated (callout)");
}
