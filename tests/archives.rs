//! Drawings in archives, as the built program reads them: as in a folder, and nothing of an archive in silence.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use zip::ZipWriter;
use zip::write::SimpleFileOptions;

const SAMPLES: [&str; 5] = [
    "blank/blank-good.dxf",
    "bracket/bracket-thin.dxf",
    "convert/base.dxf",
    "lid/lid-good.dxf",
    "plate/plate-good.dxf",
];
const LIST: &str = r#"{"format": 1, "unit": "mm", "drawings": [{"drawing": "parts.zip/**/*.dxf", "material": "low-carbon-steel",
    "thickness": 1.5, "process": "laser", "holes": []}]}"#;

fn sample(name: &str) -> Vec<u8> {
    std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("samples").join(name)).unwrap()
}

/// Packs files into an archive.
fn pack(archive: &Path, files: &[(&str, &[u8])]) {
    let mut packer = ZipWriter::new(std::fs::File::create(archive).unwrap());
    for (name, content) in files {
        packer.start_file(*name, SimpleFileOptions::default()).unwrap();
        packer.write_all(content).unwrap();
    }
    packer.finish().unwrap();
}

/// A folder with an archive `parts.zip`, and one in which `parts.zip` is a folder with the same files.
fn both() -> [tempfile::TempDir; 2] {
    let folders = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
    let samples: Vec<Vec<u8>> = SAMPLES.iter().map(|name| sample(name)).collect();
    let files: Vec<(&str, &[u8])> = SAMPLES.iter().copied().zip(samples.iter().map(Vec::as_slice)).collect();
    pack(&folders[0].path().join("parts.zip"), &files);
    for (name, content) in files {
        let file = folders[1].path().join("parts.zip").join(name);
        std::fs::create_dir_all(file.parent().unwrap()).unwrap();
        std::fs::write(file, content).unwrap();
    }
    for folder in &folders {
        std::fs::write(folder.path().join("holes.json"), LIST).unwrap();
    }
    folders
}

fn run(folder: &Path, args: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_boreband"));
    command.env_remove("COLUMNS").current_dir(folder).args(args).output().unwrap()
}

fn said(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

#[test]
fn an_archive_is_read_as_the_folder_it_was_made_from() {
    let [archive, folder] = both();
    for args in [
        &["check", ".", "--screw", "M4"][..],
        &["check", "parts.zip", "--screw", "M4", "--format", "json"],
        &["check", "parts.zip/plate", "--screw", "M4", "--format", "lines"],
        &["check", "parts.zip/plate/plate-good.dxf", "--jobs", "1"],
        &["holes", "parts.zip/plate/plate-good.dxf", "--format", "json"],
        &["convert", "parts.zip", "--format", "json"],
    ] {
        let args = [args, &["--holes", "holes.json"]].concat();
        let [packed, loose] = [&archive, &folder].map(|dir| said(&run(dir.path(), &args)));
        assert_eq!(packed, loose, "{args:?}");
        let shown = if args[0] == "convert" {
            "parts.zip/convert/base.dxf"
        } else {
            "parts.zip/plate/plate-good.dxf"
        };
        assert!(packed.1.contains(shown) && packed.0 != Some(2), "{args:?}: {packed:?}");
    }
}

#[test]
fn marks_of_drawings_in_an_archive_go_into_folders_named_after_it() {
    let [archive, folder] = both();
    let args = [
        "check",
        ".",
        "--holes",
        "holes.json",
        "--screw",
        "M4",
        "--write",
        "marked=out",
        "--write",
        "overlay=over",
    ];
    let written = |dir: &Path| {
        run(dir, &args);
        let mut all: Vec<(PathBuf, Vec<u8>)> = Vec::new();
        for entry in
            ["out", "over"].iter().flat_map(|name| walkdir::WalkDir::new(dir.join(name)).sort_by_file_name())
        {
            let entry = entry.unwrap();
            if entry.file_type().is_file() {
                let bytes = std::fs::read(entry.path()).unwrap();
                all.push((entry.path().strip_prefix(dir).unwrap().to_owned(), bytes));
            }
        }
        all
    };
    let packed = written(archive.path());
    assert!(packed.iter().any(|(path, _)| path.starts_with("out/parts.zip")), "{}", packed.len());
    assert_eq!(packed, written(folder.path()));
}

#[test]
fn an_audit_knows_the_drawings_of_an_archive_again() {
    let [archive, _] = both();
    let args = ["audit", ".", "--ledger", "l.ledger", "--progress", "never"];
    assert!(said(&run(archive.path(), &args)).2.contains("5 drawings: 0 known and unchanged"));
    let ledger = std::fs::read_to_string(archive.path().join("l.ledger")).unwrap();
    assert!(ledger.contains("parts.zip/lid/lid-good.dxf"), "{ledger}");
    assert!(said(&run(archive.path(), &args)).2.contains("5 drawings: 5 known and unchanged"));
    let lid = sample("lid/lid-good.dxf");
    pack(&archive.path().join("parts.zip"), &[("lid/lid-good.dxf", &lid), ("new.dxf", &lid)]);
    let third = said(&run(archive.path(), &args)).2;
    assert!(
        third.contains("2 drawings: 1 known and unchanged") && third.contains("1 new; 4 gone"),
        "{third}"
    );
}

/// Whoever sends an archive must not be able to switch rules off or to say what holes are.
#[test]
fn lists_and_policies_count_beside_an_archive_and_never_in_it() {
    let dir = tempfile::tempdir().unwrap();
    let lid = sample("lid/lid-good.dxf");
    let inside = LIST.replace("parts.zip/**/", "");
    let policy = br#"{"format": 1, "no such key": 1}"#;
    pack(
        &dir.path().join("parts.zip"),
        &[
            ("a/lid.dxf", &lid),
            ("a/holes.json", inside.as_bytes()),
            ("a/lid.holes.json", b"{"),
            ("boreband.json", policy),
        ],
    );
    let args = ["check", "parts.zip", "--format", "json"];
    let alone = said(&run(dir.path(), &args));
    assert!(alone.1.contains("parts.zip/a/lid.dxf") && !alone.2.contains("json"), "{alone:?}");
    std::fs::write(dir.path().join("holes.json"), LIST).unwrap();
    assert_ne!(said(&run(dir.path(), &args)).1, alone.1, "the list beside the archive counts");
    std::fs::write(dir.path().join("boreband.json"), policy).unwrap();
    let refused = said(&run(dir.path(), &args));
    assert_eq!(refused.0, Some(2));
    assert!(refused.2.contains("no such key"), "{refused:?}");
}

#[test]
fn what_cannot_be_read_of_an_archive_is_named_and_costs_nothing_else() {
    let dir = tempfile::tempdir().unwrap();
    let lid = sample("lid/lid-good.dxf");
    pack(&dir.path().join("good.zip"), &[("lid.dxf", &lid), ("more.zip", b"PK")]);
    pack(&dir.path().join("other.ZIP"), &[("note.txt", b"none")]);
    std::fs::write(dir.path().join("torn.zip"), b"PK\x03\x04").unwrap();
    let all = said(&run(dir.path(), &["check", ".", "--format", "lines"]));
    assert_eq!(all.0, Some(2));
    for part in [
        "good.zip/more.zip",
        "an archive in an archive is not looked into",
        "torn.zip",
        "the archive is damaged or none",
    ] {
        assert!(all.1.contains(part), "{part}: {all:?}");
    }
    assert!(!all.1.contains("other.ZIP") && !all.2.contains("other.ZIP"), "{all:?}");
    let totals = said(&run(dir.path(), &["check", ".", "--format", "json"])).1;
    let totals: serde_json::Value = serde_json::from_str(&totals).unwrap();
    assert_eq!((&totals["totals"]["drawings"], &totals["totals"]["unreadable"]), (&3.into(), &2.into()));
    for (args, why) in [
        (&["check", "other.ZIP"], "there is no drawing (*.dxf) in this archive"),
        (&["check", "good.zip/no.dxf"], "there is no such drawing in the archive"),
        (&["holes", "good.zip"], "this is an archive; name one drawing in it"),
    ] {
        let refused = said(&run(dir.path(), args));
        assert_eq!(refused.0, Some(2), "{args:?}");
        assert!(refused.2.contains(why), "{args:?}: {refused:?}");
    }
}

#[cfg(unix)]
#[test]
fn an_archive_reached_by_two_ways_is_checked_once() {
    let [archive, _] = both();
    std::os::unix::fs::symlink("parts.zip", archive.path().join("same.zip")).unwrap();
    let report = said(&run(archive.path(), &["check", ".", "parts.zip/lid", "--format", "json"])).1;
    let report: serde_json::Value = serde_json::from_str(&report).unwrap();
    assert_eq!(report["totals"]["drawings"], 5);
}
