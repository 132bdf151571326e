//! `--write overlay=DIR` and `--write marked=DIR` as a drafter meets them: which files are written, that no drawing is
//! written over, and that a marked copy is checked as its drawing was.

use std::path::Path;
use std::process::{Command, Output};

fn check(folder: &Path, args: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_boreband"));
    command.env_remove("COLUMNS").current_dir(folder).arg("check").args(args).output().unwrap()
}

fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// A folder with a lid that has findings and one that has none.
fn lids() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/lid");
    std::fs::create_dir(folder.path().join("lid")).unwrap();
    for name in [
        "lid-good.dxf",
        "lid-good.holes.json",
        "lid-tap-drill.dxf",
        "lid-tap-drill.holes.json",
        "boreband.json",
    ] {
        std::fs::copy(samples.join(name), folder.path().join("lid").join(name)).unwrap();
    }
    folder
}

#[test]
fn an_overlay_is_written_for_each_drawing_with_findings() {
    let folder = lids();
    let output = check(folder.path(), &["lid", "--write", "overlay=out/marks"]);
    assert_eq!(output.status.code(), Some(1), "{}", stderr(&output));
    assert!(!folder.path().join("out/marks/lid/lid-good.dxf").exists());
    let overlay = dxf::Drawing::load_file(folder.path().join("out/marks/lid/lid-tap-drill.dxf")).unwrap();
    // The sample's $INSUNITS is 4, millimetres.
    assert_eq!(overlay.header.default_drawing_units, dxf::enums::Units::Millimeters);
    let entities: Vec<_> = overlay.entities().collect();
    assert!(entities.iter().all(|entity| entity.common.layer.starts_with("BOREBAND_")));
    // samples/README.md: the four corner holes at (70 or 210, 165 or 265) … are found; a ring is four arcs.
    // samples/README.md: the findings are on 4 holes; a ring is four arcs.
    let arcs = entities.iter().filter(|e| matches!(e.specific, dxf::entities::EntityType::Arc(_)));
    assert_eq!(arcs.count(), 16);
}

#[test]
fn a_drawing_is_never_written_over() {
    let folder = lids();
    let drawing = folder.path().join("lid/lid-tap-drill.dxf");
    let before = std::fs::read(&drawing).unwrap();
    let own = check(folder.path(), &["lid", "--write", "overlay=."]);
    assert_eq!(own.status.code(), Some(2));
    assert!(stderr(&own).contains("is itself a drawing to be checked"), "{}", stderr(&own));
    for form in ["overlay=lid", "marked=lid"] {
        let absolute = check(folder.path(), &[drawing.to_str().unwrap(), "--write", form]);
        assert_eq!(absolute.status.code(), Some(2));
        assert!(stderr(&absolute).contains("is itself a drawing to be checked"), "{}", stderr(&absolute));
    }
    assert_eq!(std::fs::read(&drawing).unwrap(), before);
    // One that is not among those checked.
    std::fs::create_dir_all(folder.path().join("released/lid")).unwrap();
    std::fs::write(folder.path().join("released/lid/lid-tap-drill.dxf"), "not ours").unwrap();
    let other = check(folder.path(), &["lid", "--write", "overlay=released"]);
    assert_eq!(other.status.code(), Some(2));
    assert!(stderr(&other).contains("is not written over"), "{}", stderr(&other));
    assert_eq!(std::fs::read(folder.path().join("released/lid/lid-tap-drill.dxf")).unwrap(), b"not ours");
}

#[test]
fn an_overlay_of_an_earlier_check_is_replaced_or_named() {
    let folder = lids();
    let args = ["lid", "--write", "overlay=out"];
    let first = check(folder.path(), &args);
    let written = folder.path().join("out/lid/lid-tap-drill.dxf");
    let bytes = std::fs::read(&written).unwrap();
    let second = check(folder.path(), &args);
    assert_eq!((first.status.code(), second.status.code()), (Some(1), Some(1)), "{}", stderr(&second));
    assert_eq!(std::fs::read(&written).unwrap(), bytes, "the bytes depend on the inputs only");
    std::fs::copy(folder.path().join("lid/lid-good.dxf"), folder.path().join("lid/lid-tap-drill.dxf"))
        .unwrap();
    std::fs::copy(
        folder.path().join("lid/lid-good.holes.json"),
        folder.path().join("lid/lid-tap-drill.holes.json"),
    )
    .unwrap();
    let list = folder.path().join("lid/lid-tap-drill.holes.json");
    let named = std::fs::read_to_string(&list).unwrap().replace("lid-good", "lid-tap-drill");
    std::fs::write(&list, named).unwrap();
    let third = check(folder.path(), &args);
    assert_eq!(third.status.code(), Some(0), "{}", stderr(&third));
    assert!(stderr(&third).contains("left from an earlier check"), "{}", stderr(&third));
}

/// What a check finds, without the bytes and the places in the file.
fn found(folder: &Path) -> Vec<serde_json::Value> {
    let output = check(folder, &["lid", "--format", "json"]);
    let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let mut drawings = report["drawings"].as_array().unwrap().clone();
    for drawing in &mut drawings {
        let drawing = drawing.as_object_mut().unwrap();
        drawing.remove("digest");
        drawing.remove("problems");
        for finding in drawing["findings"].as_array_mut().unwrap() {
            finding.as_object_mut().unwrap().remove("line");
        }
    }
    drawings
}

#[test]
fn a_marked_copy_is_checked_as_its_drawing_was() {
    let folder = lids();
    let drawing = folder.path().join("lid/lid-tap-drill.dxf");
    let before = (std::fs::read(&drawing).unwrap(), found(folder.path()));
    let output = check(folder.path(), &["lid", "--write", "marked=out"]);
    assert_eq!(output.status.code(), Some(1), "{}", stderr(&output));
    assert!(!folder.path().join("out/lid/lid-good.dxf").exists());
    assert_eq!(std::fs::read(&drawing).unwrap(), before.0);
    let copy = folder.path().join("out/lid/lid-tap-drill.dxf");
    let marked = dxf::Drawing::load_file(&copy).unwrap();
    let ours = |entity: &&dxf::entities::Entity| entity.common.layer.starts_with("BOREBAND_");
    let arcs = |entity: &&dxf::entities::Entity| matches!(entity.specific, dxf::entities::EntityType::Arc(_));
    // samples/README.md: the findings are on 4 holes; a ring is four arcs.
    assert_eq!(marked.entities().filter(ours).filter(arcs).count(), 16);
    std::fs::copy(&copy, &drawing).unwrap();
    assert_eq!(found(folder.path()), before.1);
    let seen = check(folder.path(), &["lid", "--format", "json"]);
    assert!(String::from_utf8_lossy(&seen.stdout).contains("marks of an earlier check"));
    // No second set of marks over the first.
    let again = check(folder.path(), &["lid", "--write", "marked=again"]);
    assert_eq!(again.status.code(), Some(2));
    assert!(stderr(&again).contains("lid-tap-drill.dxf: no marked copy is written: it holds marks"));
}

#[test]
fn what_cannot_be_marked_is_named_and_the_rest_is_written() {
    let folder = lids();
    let path = |name: &str| folder.path().join("lid").join(name);
    // A second drawing with the same findings, of which a line has no end point any more.
    let text = std::fs::read_to_string(path("lid-tap-drill.dxf")).unwrap();
    let last = text.rfind("\nLINE\n").unwrap();
    let at = last + text[last..].find("\n 21\n").unwrap() + 5;
    let end = at + text[at..].find('\n').unwrap();
    std::fs::write(path("torn.dxf"), format!("{}not a number{}", &text[..at], &text[end..])).unwrap();
    let output = check(folder.path(), &["lid", "--write", "marked=out", "--write", "overlay=over"]);
    assert_eq!(output.status.code(), Some(2));
    let said = stderr(&output);
    assert!(said.contains("lid/torn.dxf: no marked copy is written: it was not read whole"), "{said}");
    assert!(!folder.path().join("out/lid/torn.dxf").exists());
    assert!(folder.path().join("out/lid/lid-tap-drill.dxf").exists());
    assert!(folder.path().join("over/lid/torn.dxf").exists(), "marks of their own can be written");
}
