//! What holes share, and what is only kept where it was asked for.

use super::*;

#[test]
fn holes_of_which_the_same_is_said_share_it() {
    // Two callouts in the same words, and one hole beside them that nothing is said of.
    let drawing = Sheet::new()
        .circle(20.0, 30.0, 3.6)
        .circle(80.0, 30.0, 3.6)
        .circle(50.0, 10.0, 3.6)
        .leader((21.8, 30.0), (35.0, 70.0), "Ø3.6 THRU")
        .leader((80.0, 31.8), (95.0, 70.0), "Ø3.6 THRU")
        .drawing();
    let defaults = Defaults { thread: Thread::parse("M4").ok(), ..Defaults::default() };
    let paired = pair(&drawing, None, &defaults);
    let [first, second, third] = paired.holes.as_slice() else { panic!("{:?}", paired.holes) };
    assert_ne!(first.callout, second.callout);
    assert!(first.joint.is(&second.joint) && !first.joint.is(&third.joint));
    assert_eq!((first.screw.is_some(), first.called.is_some()), (true, true));
    assert_eq!((third.screw.is_some(), third.called.is_some()), (true, false));
}

#[test]
fn without_reasons_all_else_is_the_same() {
    let drawing = plate()
        .leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "3X Ø3.6 THRU")
        .text(55.0, 31.0, "C")
        .text(0.0, -30.0, "Ø8 TYP")
        .drawing();
    let mut reasoned = alone(&drawing);
    assert!(reasoned.holes.iter().any(|hole| !hole.reasons.is_empty()));
    assert_eq!(reasoned.circles.len(), 5);
    reasoned.holes.iter_mut().for_each(|hole| hole.reasons = Box::default());
    reasoned.circles.clear();
    let manner = Manner { words: Words::built_in(), reasoned: false };
    assert_eq!(pair_with(&drawing, None, &Defaults::default(), manner), reasoned);
}

/// 2,500 of these took more than 100 s and 3 GB: each callout was weighed against each hole with the tag.
#[test]
fn callouts_that_say_the_same_of_one_tag_are_one_for_its_holes() {
    let mut sheet = Sheet::new();
    for part in 0..30 {
        let x = 40.0 * f64::from(part);
        sheet = sheet.outline(x, 0.0, x + 20.0, 15.0).text(x + 5.0, 6.0, "A: Ø3.6 2X");
        for y in [4.0, 11.0] {
            sheet = sheet.circle(x + 4.0, y, 3.6).text(x + 6.5, y, "A");
        }
    }
    let paired = alone(&sheet.drawing());
    assert_eq!(by(&paired), ["tag"; 60]);
    assert_eq!(paired.holes.iter().map(|hole| hole.callout).collect::<Vec<_>>(), [Some(0); 60]);
    let others = paired.callouts[1..].iter().map(|callout| callout.left.as_deref());
    assert!(
        others.clone().count() == 29
            && others.clone().all(|left| left == Some("its hole is claimed by 'A: Ø3.6 2X'"))
    );
}
