use std::collections::{HashMap, HashSet};
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use proptest::prelude::*;

use super::*;
use crate::check::{
    DiameterResult, DrawingResult, EngagementResult, FindingResult, HoleResult, JointResult, ProblemResult,
    ScrewResult,
};
use crate::shared::SharedText;

/// A folder of its own.
fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}

fn entry(path: &str, content: u8, inputs: u8) -> Entry {
    Entry {
        path: path.to_owned(),
        digest: format!("blake3:{}", format!("{content:02x}").repeat(32)),
        inputs: format!("{inputs:02x}").repeat(16),
        state: "read".to_owned(),
        unit: "mm".to_owned(),
        ..Entry::default()
    }
}

fn open(path: &Path) -> Opened {
    Ledger::open(path).expect("the ledger opens")
}

fn entries(path: &Path) -> Vec<Entry> {
    let mut all = Vec::new();
    let mut joined = Joined::of(&[path.to_owned()]).expect("it can be read");
    joined
        .for_each(|entry| {
            all.push(entry);
            Ok(())
        })
        .expect("all lines can be read");
    all
}

#[test]
fn the_last_line_of_a_path_counts_and_what_is_gone_does_not() {
    let folder = folder();
    let path = folder.path().join("a.ledger");
    let opened = open(&path);
    assert!(opened.known.is_empty() && opened.repairs.is_empty());
    for one in [entry("b.dxf", 1, 1), entry("a.dxf", 2, 1), entry("b.dxf", 3, 1), entry("c.dxf", 4, 1)] {
        opened.ledger.append(&one).unwrap();
    }
    opened.ledger.forget("c.dxf").unwrap();
    opened.ledger.close().unwrap();
    assert_eq!(entries(&path), [entry("a.dxf", 2, 1), entry("b.dxf", 3, 1)]);
    let mut joined = Joined::of(std::slice::from_ref(&path)).unwrap();
    assert_eq!(joined.get(1), Ok(entry("b.dxf", 3, 1)));
    assert!(joined.get(2).unwrap_err().contains("no drawing 2"));
    drop(joined);
    let again = open(&path);
    let mut known: Vec<_> = again.known.iter().collect();
    known.sort_by_key(|(path, _)| *path);
    let expected = |content: u8| u128::from_be_bytes([content; 16]);
    assert_eq!(known[1], (&"b.dxf".to_owned(), &Known { content: expected(3), inputs: expected(1) }));
    assert_eq!(known.len(), 2);
}

/// What a power cut leaves: the beginning of the last line.
#[test]
fn a_last_line_that_was_cut_short_is_taken_away_wherever_it_was_cut() {
    let folder = folder();
    let path = folder.path().join("a.ledger");
    let opened = open(&path);
    opened.ledger.append(&entry("a.dxf", 1, 1)).unwrap();
    let whole = fs::metadata(&path).unwrap().len();
    opened.ledger.append(&entry("b.dxf", 2, 1)).unwrap();
    drop(opened);
    let bytes = fs::read(&path).unwrap();
    for cut in 0..bytes.len() {
        fs::write(&path, &bytes[..cut]).unwrap();
        let opened = open(&path);
        let at_an_end = cut == 0 || bytes[cut - 1] == b'\n';
        assert_eq!(opened.repairs.is_empty(), at_an_end, "{cut}: {:?}", opened.repairs);
        assert_eq!(opened.known.contains_key("a.dxf"), cut as u64 >= whole, "{cut}");
        assert!(!opened.known.contains_key("b.dxf"), "{cut}");
        opened.ledger.append(&entry("b.dxf", 3, 1)).unwrap();
        drop(opened);
        assert_eq!(entries(&path).last(), Some(&entry("b.dxf", 3, 1)), "{cut}");
    }
}

#[test]
fn a_damaged_line_is_named_and_costs_its_own_drawing_only() {
    let folder = folder();
    let path = folder.path().join("a.ledger");
    let opened = open(&path);
    for name in ["a.dxf", "b.dxf", "c.dxf"] {
        opened.ledger.append(&entry(name, 1, 1)).unwrap();
    }
    drop(opened);
    let text = fs::read_to_string(&path).unwrap().replace("{\"path\":\"b.dxf\"", "{\"path\":\"b.d\u{0}");
    fs::write(&path, text).unwrap();
    let opened = open(&path);
    assert_eq!(opened.repairs.len(), 1);
    assert!(opened.repairs[0].contains("line 3 is damaged"), "{:?}", opened.repairs);
    assert_eq!(opened.known.len(), 2);
    drop(opened);
    let joined = Joined::of(std::slice::from_ref(&path)).unwrap();
    assert_eq!((joined.len(), joined.damage.len()), (2, 1));
}

#[test]
fn a_file_that_is_no_ledger_is_left_as_it_is() {
    let folder = folder();
    for (name, text) in
        [("a.txt", "hello\n"), ("b.json", "{\"format\": 1}\n"), ("c", "{\"path\":\"a.dxf\"}\n"), ("d", "x")]
    {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        let refused = Ledger::open(&path).unwrap_err();
        assert!(refused.contains("is no ledger"), "{refused}");
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
        assert!(Joined::of(&[path]).is_err());
    }
    let newer = folder.path().join("newer");
    fs::write(&newer, "{\"boreband_ledger\":2}\n").unwrap();
    assert!(Ledger::open(&newer).unwrap_err().contains("format 2"));
    assert!(Ledger::open(folder.path()).is_err());
    assert!(Joined::of(&[folder.path().join("none")]).is_err());
}

#[test]
fn two_runs_on_one_ledger_exclude_each_other() {
    let folder = folder();
    let path = folder.path().join("a.ledger");
    let first = open(&path);
    let refused = Ledger::open(&path).unwrap_err();
    assert!(refused.contains("another run"), "{refused}");
    assert!(Joined::of(std::slice::from_ref(&path)).unwrap_err()[0].contains("another run"));
    first.ledger.close().unwrap();
    assert!(Ledger::open(&path).is_ok());
}

#[test]
fn joined_ledgers_hold_each_drawing_once_and_contradict_each_other_aloud() {
    let folder = folder();
    let paths: Vec<PathBuf> = ["1", "2", "3"].iter().map(|name| folder.path().join(name)).collect();
    let lines = [
        vec![entry("b.dxf", 1, 1), entry("d.dxf", 2, 1)],
        vec![entry("a.dxf", 3, 1), entry("d.dxf", 2, 1)],
        vec![entry("b.dxf", 1, 9)],
    ];
    for (path, lines) in paths.iter().zip(&lines) {
        let opened = open(path);
        lines.iter().for_each(|line| opened.ledger.append(line).unwrap());
    }
    let mut seen = Vec::new();
    let mut joined = Joined::of(&paths[..2]).unwrap();
    joined
        .for_each(|entry| {
            seen.push(entry.path);
            Ok(())
        })
        .unwrap();
    assert_eq!(seen, ["a.dxf", "b.dxf", "d.dxf"]);
    let wrong = Joined::of(&paths).unwrap_err();
    assert_eq!(wrong.len(), 1);
    assert!(wrong[0].starts_with("b.dxf") && wrong[0].contains('1') && wrong[0].contains('3'), "{wrong:?}");
}

#[test]
fn only_drawings_of_the_roots_and_of_the_shard_can_be_gone() {
    let some = Known { content: 1, inputs: 1 };
    let known: HashMap<String, Known> =
        ["lib/a.dxf", "lib/b.dxf", "library/c.dxf", "other/d.dxf"].map(|path| (path.to_owned(), some)).into();
    let found = HashSet::from(["lib/a.dxf".to_owned()]);
    let roots = [PathBuf::from("lib")];
    assert_eq!(gone(&known, &found, &roots, None), ["lib/b.dxf"]);
    let by_shard: Vec<String> =
        (1..=3).flat_map(|k| gone(&known, &found, &roots, format!("{k}/3").parse().ok())).collect();
    assert_eq!(by_shard, ["lib/b.dxf"]);
}

#[test]
fn a_drawing_is_in_one_shard_whatever_its_root() {
    let shards: Vec<Shard> = (1..=7).map(|k| format!("{k}/7").parse().unwrap()).collect();
    let mut counts = [0; 7];
    for n in 0..7000 {
        let path = format!("frames/{}/part-{n}.dxf", n % 13);
        let taken: Vec<usize> = (0..7).filter(|k| shards[*k].takes(&path)).collect();
        assert_eq!(taken.len(), 1);
        counts[taken[0]] += 1;
    }
    // Seven times a thousand: a shard that is off by more than five standard deviations (29) is no chance.
    assert!(counts.iter().all(|count| (850..1150).contains(count)), "{counts:?}");
    let roots = [PathBuf::from("lib"), PathBuf::from("lib/frames"), PathBuf::from("lid.dxf")];
    assert_eq!(relative(Path::new("lib/frames/a.dxf"), &roots), "a.dxf");
    assert_eq!(relative(Path::new("lib/b.dxf"), &roots), "b.dxf");
    assert_eq!(relative(Path::new("lid.dxf"), &roots), "lid.dxf");
    for wrong in ["0/3", "4/3", "1", "/", "1/0", "-1/2", "a/b", "1/2/3"] {
        assert!(wrong.parse::<Shard>().is_err(), "{wrong}");
    }
}

/// Other machines and later versions must sort alike. Expected by the package blake3 of PyPI: the first eight bytes of
/// the digest, lowest first, modulo the number of shards.
#[test]
fn the_shard_of_a_path_never_changes() {
    let number =
        |path: &str, of: u64| (1..=of).find(|k| format!("{k}/{of}").parse::<Shard>().unwrap().takes(path));
    assert_eq!(number("lid.dxf", 7), Some(6));
    assert_eq!(number("frames/lid.dxf", 1000), Some(142));
}

#[test]
fn holes_and_findings_that_are_alike_share_a_line() {
    let screw = ScrewResult { thread: "M4".into(), major_mm: 4.0, pitch_mm: 0.7, form: "rolling".into() };
    let hole = |id: &str, nominal: f64| HoleResult {
        id: SharedText::copied(id),
        joint: JointResult {
            screw: Some(screw.clone()),
            thickness_mm: Some(1.5),
            diameter: DiameterResult {
                nominal_mm: nominal,
                min_mm: nominal,
                max_mm: nominal,
                ..DiameterResult::default()
            },
            engagement: Some(EngagementResult {
                basis: "rolled".into(),
                nominal: 80.0,
                at_min: 80.0,
                at_max: 80.0,
            }),
            verdict: Some("in-band".into()),
            ..JointResult::default()
        }
        .into(),
        ..HoleResult::default()
    };
    let finding = |hole: &str| FindingResult {
        rule: "thickness-unknown".into(),
        level: "warn".into(),
        hole: Some(SharedText::copied(hole)),
        message: "no thickness".into(),
        ..FindingResult::default()
    };
    let problem = |line: u64, loss: bool| ProblemResult { line, offset: 0, message: "odd".to_owned(), loss };
    let result = DrawingResult {
        path: "a.dxf".to_owned(),
        problems: vec![problem(3, false), problem(9, true)],
        holes: vec![
            hole("H1", 3.6),
            hole("H2", 3.6),
            HoleResult::default(),
            hole("H3", 3.7),
            hole("H4", 3.6),
        ],
        findings: vec![finding("H2"), finding("H3")],
        saved_in: Some(1998),
        ..DrawingResult::default()
    };
    let entry = Entry::of(&result, Sight { bytes: 5, year: Some(2020), inputs: "x".to_owned() });
    let alike: Vec<(u64, &str)> = entry.screw_holes.iter().map(|h| (h.count, h.first.as_str())).collect();
    assert_eq!(alike, [(3, "H1"), (1, "H3")]);
    assert_eq!(entry.screw_holes[0].thickness_over_diameter, Some(0.38));
    assert_eq!((entry.holes, entry.problems), (5, 2));
    assert_eq!(entry.problem.as_deref(), Some("line 9: odd"));
    assert_eq!((entry.year, entry.year_source), (Some(1998), Some(YearSource::Drawing)));
    assert_eq!(entry.findings.len(), 1);
    assert_eq!((entry.findings[0].count, entry.findings[0].hole.as_deref()), (2, Some("H2")));
}

fn any_entry() -> impl Strategy<Value = Entry> {
    let found = ("\\PC*", "[a-z-]{1,9}", 1..9_u64).prop_map(|(message, rule, count)| Found {
        rule,
        level: "warn".into(),
        count,
        message: message.into(),
        ..Found::default()
    });
    let holes = (1..500_u64, "\\PC*", proptest::option::of(0.0..9e3_f64), 0.0..1.0_f64).prop_map(
        |(count, thread, thickness_mm, confidence)| ScrewHoles {
            count,
            thread,
            thickness_mm,
            confidence,
            band: thickness_mm.map(|t| (t, t + 1.0)),
            ..ScrewHoles::default()
        },
    );
    let lists = (proptest::collection::vec(found, 0..4), proptest::collection::vec(holes, 0..4));
    (".*", any::<[u8; 2]>(), proptest::option::of(".*"), lists).prop_map(
        |(path, [content, inputs], problem, (findings, screw_holes))| Entry {
            problem,
            findings,
            screw_holes,
            ..entry(&path, content, inputs)
        },
    )
}

proptest! {
    #[test]
    fn what_is_appended_is_read_back(lines in proptest::collection::vec(any_entry(), 1..6)) {
        let folder = folder();
        let path = folder.path().join("a.ledger");
        let opened = open(&path);
        let mut last: std::collections::BTreeMap<String, Entry> = std::collections::BTreeMap::new();
        for line in lines {
            opened.ledger.append(&line).unwrap();
            last.insert(line.path.clone(), line);
        }
        drop(opened);
        prop_assert_eq!(entries(&path), last.into_values().collect::<Vec<_>>());
    }

    #[test]
    fn no_bytes_bring_the_reader_down(bytes in proptest::collection::vec(any::<u8>(), 0..400), with_head: bool) {
        let folder = folder();
        let path = folder.path().join("a.ledger");
        let mut file = fs::File::create(&path).unwrap();
        if with_head {
            file.write_all(b"{\"boreband_ledger\":1}\n").unwrap();
        }
        file.write_all(&bytes).unwrap();
        drop(file);
        if let Ok(joined) = Joined::of(std::slice::from_ref(&path)) {
            prop_assert!(joined.is_empty());
        }
        let opened = Ledger::open(&path);
        prop_assert!(!with_head || opened.is_ok());
    }
}
