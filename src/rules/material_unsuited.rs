#![doc = include_str!("material-unsuited.md")]

use super::{Rule, ScrewHole, Subject, words};
use crate::finding::{Finding, Level};
use crate::joint::ScrewForm;
use crate::trade::{Material, Status};

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "material-unsuited", level: Level::Fail, text: include_str!("material-unsuited.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let forming = subject.screw_holes().filter(|it| it.screw.form != ScrewForm::Cutting);
    forming
        .filter_map(|it| {
            let (reason, status) = why(&it)?;
            let thread = &it.screw.thread.name;
            let message = format!("no thread can be formed here for {thread}: {reason} ({})", basis(status));
            Some(
                RULE.at_hole(subject, it.hole, message)
                    .with_remedy("use a tapped thread and a machine screw, or another metal"),
            )
        })
        .collect()
}

/// The reason and how well it is founded; none if the metal will do.
fn why(it: &ScrewHole<'_>) -> Option<(String, Status)> {
    // Of a metal that is not named the limit of steel is asked for, because unknown is never a pass.
    let material = it.hole.making.material.unwrap_or(Material::LowCarbonSteel);
    let hard =
        it.hole.making.hardness_hb.and_then(|hb| it.practice.too_hard(material, hb).map(|limit| (hb, limit)));
    let (reason, status) = match (&it.judged.unsuitable, &hard) {
        (Some((reason, status)), _) => (words::line(reason), *status),
        (None, Some((_, limit))) => (limit.reason.clone(), limit.status),
        (None, None) => return None,
    };
    match hard {
        Some((hardness, _)) => {
            Some((format!("{} HB is stated, and {reason}", words::short(hardness)), status))
        }
        None => Some((reason, status)),
    }
}

fn basis(status: Status) -> &'static str {
    match status {
        Status::Published => "published",
        Status::CommonPractice => "common practice",
        Status::Memory => "from memory, not verified",
        Status::User => "by the user",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;

    fn scene() -> Scene {
        let mut scene = Scene::metric();
        scene.screw_hole(3.6);
        scene
    }

    #[test]
    fn a_metal_that_does_not_flow_is_found() {
        let mut scene = scene();
        scene.judged[0].unsuitable = Some(("grey iron is brittle".to_owned(), Status::CommonPractice));
        assert_eq!(
            scene.messages(&RULE),
            ["no thread can be formed here for M4: grey iron is brittle (common practice)"]
        );
    }

    #[test]
    fn steel_above_the_hardness_limit_is_found_and_its_basis_named() {
        // The limit of about 190 HB is recalled, not published.
        let mut scene = scene();
        scene.paired.holes[0].making.hardness_hb = Some(230.0);
        let message = scene.messages(&RULE).remove(0);
        assert!(
            message.contains("230 HB is stated") && message.ends_with("(from memory, not verified)"),
            "{message}"
        );
        scene.paired.holes[0].making.hardness_hb = Some(120.0);
        assert_eq!(scene.run(&RULE), []);
    }

    #[test]
    fn silent_on_ductile_metal_of_unknown_hardness() {
        assert_eq!(scene().run(&RULE), []);
    }
}
