//! Which lists are read and which drawings they cover.

use std::path::{Path, PathBuf};

use super::super::HoleLists;
use crate::reading::Fault;
use crate::units::Length;

/// A folder with files, removed at its end.
struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        Folder(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, text).unwrap();
        path
    }

    fn drawing(&self, name: &str) -> PathBuf {
        self.write(name, "0\nEOF\n")
    }
}

/// A list whose entries are patterns, each with one row of its own tag.
fn list(entries: &[(&str, &str)]) -> String {
    let entries: Vec<String> = entries
        .iter()
        .map(|(drawing, tag)| format!(r#"{{"drawing": "{drawing}", "holes": [{{"tag": "{tag}"}}]}}"#))
        .collect();
    format!(r#"{{"format": 1, "unit": "mm", "drawings": [{}]}}"#, entries.join(","))
}

fn tags(lists: &HoleLists, drawing: &Path) -> Option<Vec<String>> {
    Some(lists.rows_for(drawing)?.rows.into_iter().filter_map(|row| row.tag).collect())
}

fn faults(result: Result<HoleLists, Vec<Fault>>) -> Vec<Fault> {
    result.err().unwrap_or_default()
}

#[test]
fn finds_the_lists_beside_a_drawing() {
    let folder = Folder::new();
    let (lid, base) = (folder.drawing("a/lid.dxf"), folder.drawing("a/base.DXF"));
    folder.write("a/lid.holes.json", &list(&[("lid.dxf", "own")]));
    folder.write("a/holes.json", &list(&[("*.dxf", "all")]));
    folder.write("a/other.holes.json", "this list belongs to no drawing of the run and is not read");
    folder.write("holes.json", "nor is this one: no drawing of the run lies beside it");
    let lists = HoleLists::load(&[], &[base.clone(), lid.clone()]).unwrap();
    assert_eq!(tags(&lists, &lid), Some(vec!["own".into(), "all".into()]));
    assert_eq!(tags(&lists, &base), Some(vec!["all".into()]), "the ending may be in capitals");
    assert_eq!(lists.files().count(), 2);
}

#[test]
fn a_drawing_without_a_list_has_no_rows() {
    let folder = Folder::new();
    let lid = folder.drawing("lid.dxf");
    let lists = HoleLists::load(&[], std::slice::from_ref(&lid)).unwrap();
    assert_eq!(lists.rows_for(&lid), None);
}

#[test]
fn named_lists_take_the_place_of_those_beside() {
    let folder = Folder::new();
    let lid = folder.drawing("lid.dxf");
    folder.write("lid.holes.json", "not read");
    let named = folder.write("lists/deep/one.json", &list(&[("../../lid.dxf", "named")]));
    let lists = HoleLists::load(&[named], std::slice::from_ref(&lid)).unwrap();
    assert_eq!(tags(&lists, &lid), Some(vec!["named".into()]));
    // A folder stands for the lists in it and below it; a policy among them is none.
    folder.write("lists/boreband.json", "a policy");
    let lists = HoleLists::load(&[folder.path("lists")], std::slice::from_ref(&lid)).unwrap();
    assert_eq!(tags(&lists, &lid), Some(vec!["named".into()]));
}

#[test]
fn a_list_named_twice_is_read_once() {
    let folder = Folder::new();
    let lid = folder.drawing("lid.dxf");
    let named = folder.write("one.json", &list(&[("lid.dxf", "A")]));
    let again = folder.path("./one.json");
    let lists = HoleLists::load(&[named, again, folder.path("")], std::slice::from_ref(&lid)).unwrap();
    assert_eq!(tags(&lists, &lid), Some(vec!["A".into()]));
}

#[test]
fn named_paths_that_give_no_list_are_faults() {
    let folder = Folder::new();
    std::fs::create_dir(folder.path("empty")).unwrap();
    let missing = faults(HoleLists::load(&[folder.path("no.json")], &[]));
    assert!(missing[0].message.contains("there is no such file"), "{missing:?}");
    let empty = faults(HoleLists::load(&[folder.path("empty")], &[]));
    assert!(empty[0].message.contains("found no *.json file"), "{empty:?}");
}

#[test]
fn all_faults_of_all_lists_are_told() {
    let folder = Folder::new();
    let one = folder.write("one.json", "{");
    let two = folder.write("two.json", r#"{"format": 1, "unit": "mm", "drawing": []}"#);
    let found = faults(HoleLists::load(&[one, two, folder.path("three.json")], &[]));
    let names: Vec<&str> = found.iter().map(|f| f.file.rsplit('/').next().unwrap()).collect();
    assert_eq!(names, ["one.json", "two.json", "two.json", "three.json"], "{found:?}");
}

#[test]
fn patterns_are_relative_to_their_list() {
    let folder = Folder::new();
    let drawings = ["top.dxf", "a/x.dxf", "a/y.dxf", "a/deep/x.dxf", "b/x.dxf", "b/part[1].dxf"]
        .map(|name| folder.drawing(name));
    let covers = |pattern: &str| -> Vec<usize> {
        let file = folder.write("a/list.json", &list(&[(pattern, "A")]));
        let lists = HoleLists::load(&[file], &drawings).unwrap();
        (0..drawings.len()).filter(|i| lists.rows_for(&drawings[*i]).is_some()).collect()
    };
    assert_eq!(covers("x.dxf"), [1], "the one beside the list, though others bear the name");
    assert_eq!(covers("./x.dxf"), [1]);
    assert_eq!(covers("X.DXF"), [1], "letter case does not matter");
    assert_eq!(covers("*.dxf"), [1, 2], "a star stays within its folder");
    assert_eq!(covers("?.dxf"), [1, 2]);
    assert_eq!(covers("[!x].dxf"), [2]);
    assert_eq!(covers("{x,y}.dxf"), [1, 2]);
    assert_eq!(covers("**/x.dxf"), [1, 3]);
    assert_eq!(covers("deep/*"), [3]);
    assert_eq!(covers("../b/x.dxf"), [4]);
    assert_eq!(covers("../*/x.dxf"), [1, 4]);
    assert_eq!(covers("../**/*.dxf"), [0, 1, 2, 3, 4, 5]);
    assert_eq!(covers("../b/part[1].dxf"), [5], "a name with brackets may stand for itself");
    assert_eq!(covers("top.dxf"), [0], "a bare name also means the one drawing of that name");
    assert_eq!(covers("TOP.dxf"), [0]);
    assert_eq!(covers("../b/top.dxf"), [0; 0], "a name with a folder does not");
    assert_eq!(covers("none.dxf"), [0; 0]);
}

#[test]
fn a_bare_name_that_two_drawings_bear_is_an_error_that_names_both() {
    let folder = Folder::new();
    let drawings = [folder.drawing("a/x.dxf"), folder.drawing("b/x.dxf")];
    let file = folder.write("lists/l.json", &list(&[("x.dxf", "A")]));
    let found = faults(HoleLists::load(&[file], &drawings));
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].pointer, "/drawings/0/drawing");
    assert!(found[0].message.contains("a/x.dxf and ") && found[0].message.contains("b/x.dxf"), "{found:?}");
}

#[test]
fn a_drawing_beside_its_list_is_not_mistaken_for_one_of_that_name_elsewhere() {
    let folder = Folder::new();
    folder.drawing("b/x.dxf");
    let run = [folder.drawing("a/x.dxf"), folder.drawing("b/y.dxf")];
    folder.write("b/holes.json", &list(&[("x.dxf", "A"), ("y.dxf", "B")]));
    let lists = HoleLists::load(&[], &run).unwrap();
    assert_eq!(lists.rows_for(&run[0]), None, "b/holes.json speaks of b/x.dxf, which is not part of the run");
    assert_eq!(tags(&lists, &run[1]), Some(vec!["B".into()]));
    assert_eq!(lists.unmatched().len(), 1);
    assert_eq!(lists.unmatched()[0].pointer, "/drawings/0/drawing");
}

#[test]
fn a_list_named_after_a_drawing_must_cover_it() {
    let folder = Folder::new();
    let lid = folder.drawing("lid.dxf");
    folder.write("lid.holes.json", &list(&[("lidd.dxf", "A")]));
    let found = faults(HoleLists::load(&[], &[lid]));
    assert_eq!(found.len(), 1);
    assert!(
        found[0].message.contains("no entry covers") && found[0].message.contains("\"lidd.dxf\""),
        "{found:?}"
    );
}

#[test]
fn the_same_tag_in_two_lists_is_an_error() {
    let folder = Folder::new();
    let lid = folder.drawing("lid.dxf");
    folder.write("lid.holes.json", &list(&[("lid.dxf", "A")]));
    folder.write("holes.json", &list(&[("lid.dxf", "B"), ("*.dxf", "A")]));
    let found = faults(HoleLists::load(&[], &[lid]));
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].file.ends_with("/holes.json") && found[0].pointer == "/drawings/1/holes/0/tag");
    assert!(found[0].message.contains("lid.holes.json: /drawings/0/holes/0"), "{found:?}");
}

#[test]
fn a_contradiction_of_two_patterns_is_told_once_for_many_drawings() {
    let folder = Folder::new();
    let run = ["a.dxf", "b.dxf", "c.dxf"].map(|name| folder.drawing(name));
    folder.write("holes.json", &list(&[("*.dxf", "A"), ("?.dxf", "A")]));
    assert_eq!(faults(HoleLists::load(&[], &run)).len(), 1);
}

#[test]
fn facts_of_a_drawing_are_joined_over_lists_and_must_agree() {
    let folder = Folder::new();
    let run = [folder.drawing("lid.dxf")];
    let own = |facts: &str| {
        format!(
            r#"{{"format": 1, "unit": "mm", "drawings": [{{"drawing": "lid.dxf", {facts} "holes": [{{"tag": "A"}}]}}]}}"#
        )
    };
    folder.write(
        "holes.json",
        r#"{"format": 1, "unit": "in", "drawings": [{"drawing": "*.dxf", "part": "GC-1", "thickness": 0.0625, "holes": []}]}"#,
    );
    // 1/16 in is 1.5875 mm.
    folder.write("lid.holes.json", &own(r#""thickness": 1.5875, "process": "punched","#));
    let rows = HoleLists::load(&[], &run).unwrap().rows_for(&run[0]).unwrap();
    assert_eq!(rows.part.as_deref(), Some("GC-1"));
    assert_eq!(rows.unit, None, "one list is in mm, the other in inch");
    assert_eq!(rows.rows[0].unit, Some(crate::units::Unit::Mm));

    folder.write("lid.holes.json", &own(""));
    let rows = HoleLists::load(&[], &run).unwrap().rows_for(&run[0]).unwrap();
    assert_eq!(rows.rows[0].making.thickness, Some(Length::mm_const(1.5875)), "stated by the other list");

    folder.write("lid.holes.json", &own(r#""thickness": 2.0,"#));
    let found = faults(HoleLists::load(&[], &run));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].pointer, "/drawings/0/thickness");
    assert!(found[0].message.contains("1.5875 mm") && found[0].message.contains("2 mm"), "{found:?}");
}

#[test]
fn a_relative_list_covers_relative_drawings() {
    // Without any file: the paths of a run are compared, not opened.
    let index_of = |drawing: &str, folder: &str, pattern: &str| {
        let drawings = [PathBuf::from(drawing)];
        let index = super::super::matching::Index::new(&drawings);
        let pattern = super::super::pattern::Pattern::new(pattern).unwrap();
        index.covered(&pattern, Path::new(folder)) == super::super::matching::Covered::Drawings(vec![0])
    };
    assert!(index_of("no-such-folder/lid.dxf", "no-such-folder", "lid.dxf"));
    assert!(index_of("./no-such-folder/../lid.dxf", "", "lid.dxf"));
    assert!(index_of("lid.dxf", "lists", "../*.dxf"));
    assert!(!index_of("lid.dxf", "lists", "*.dxf"));
}
