//! A small library made by hand, in a ledger, so that forms meet it as an audit leaves it.

use std::path::PathBuf;

use boreband::ledger::{Entry, Found, Joined, Ledger, ScrewHoles, YearSource};
use boreband::library::{Painter, Picture};

/// A ledger, kept as long as its folder is.
pub(crate) struct Library {
    pub(crate) picture: Picture,
    pub(crate) joined: Joined,
    _folder: tempfile::TempDir,
}

impl Library {
    /// Of these drawings.
    pub(crate) fn of(entries: &[Entry]) -> Library {
        let folder = tempfile::tempdir().unwrap();
        let path: PathBuf = folder.path().join("a.ledger");
        let opened = Ledger::open(&path).unwrap();
        entries.iter().for_each(|entry| opened.ledger.append(entry).unwrap());
        opened.ledger.close().unwrap();
        let mut joined = Joined::of(&[path]).unwrap();
        let mut painter = Painter::new();
        joined
            .for_each(|entry| {
                painter.add(&entry);
                Ok(())
            })
            .unwrap();
        Library { picture: painter.finish(), joined, _folder: folder }
    }
}

fn holes(count: u64, thread: &str, verdict: &str, engagement: f64) -> ScrewHoles {
    ScrewHoles {
        count,
        first: "H1".into(),
        thread: thread.to_owned(),
        material: Some("low-carbon-steel".to_owned()),
        thickness_mm: Some(1.5),
        thickness_over_diameter: Some(0.38),
        process: Some("punched".to_owned()),
        engagement: Some(engagement),
        band: Some((80.0, 98.0)),
        verdict: Some(verdict.to_owned()),
        confidence: 0.9,
        ..ScrewHoles::default()
    }
}

fn found(rule: &str, level: &str, count: u64, message: &str, remedy: &str) -> Found {
    Found {
        rule: rule.to_owned(),
        level: level.to_owned(),
        count,
        hole: Some("H1".into()),
        confidence: 0.9,
        message: message.to_owned().into(),
        remedy: Some(remedy.to_owned().into()),
        waived: None,
    }
}

fn entry(path: &str, content: u8) -> Entry {
    Entry {
        path: path.to_owned(),
        digest: format!("blake3:{}", format!("{content:02x}").repeat(32)),
        inputs: "11".repeat(16),
        bytes: 1000,
        year: Some(2004),
        year_source: Some(YearSource::Drawing),
        state: "read".to_owned(),
        part: Some(format!("HB-{content}")),
        unit: "mm".to_owned(),
        holes: 6,
        ..Entry::default()
    }
}

/// Six drawings and a copy: tap drills, a wide tolerance and a waived failure, one in order, one of unknown thickness,
/// one that was read in part, one that was not read.
pub(crate) fn entries() -> Vec<Entry> {
    let tap =
        found("cut-thread-size", "fail", 4, "Ø3.3 is the tap drill size of M4", "call out Ø3.6 +0.03/0");
    let lid = Entry {
        screw_holes: vec![holes(4, "M4", "tight", 154.0), holes(1, "M5", "loose", 61.0)],
        findings: vec![
            tap.clone(),
            found("engagement-below-band", "fail", 1, "61 % of M5 is too little", "call out Ø4.6 +0.03/0"),
        ],
        ..entry("lids/lid.dxf", 1)
    };
    let waived = Found { waived: Some("tested".into()), ..tap };
    let wide = found("tolerance-leaves-band", "warn", 2, "+0.2/0 leaves the band", "narrow the tolerance");
    let rail = Entry {
        screw_holes: vec![holes(2, "M4", "straddles", 95.0)],
        findings: vec![wide, waived],
        year_source: Some(YearSource::File),
        ..entry("rails/rail.dxf", 2)
    };
    let plate = Entry {
        screw_holes: vec![holes(3, "M4", "in-band", 90.0)],
        part: None,
        ..entry("rails/plate.dxf", 3)
    };
    let open = Entry {
        screw_holes: vec![ScrewHoles {
            thickness_mm: None,
            thickness_over_diameter: None,
            band: None,
            ..holes(2, "No. 8-32", "undetermined", 88.0)
        }],
        findings: vec![found("thickness-unknown", "warn", 1, "no thickness is stated", "state it")],
        year: None,
        year_source: None,
        ..entry("rails/old/unknown.dxf", 4)
    };
    let part = Entry {
        state: "partly-read".to_owned(),
        problems: 1,
        problem: Some("line 12: a number was expected".to_owned()),
        ..entry("torn.dxf", 5)
    };
    let broken = Entry {
        digest: String::new(),
        state: "unreadable".to_owned(),
        problem: Some("this is a DWG file".to_owned()),
        holes: 0,
        findings: vec![Found {
            hole: None,
            remedy: None,
            ..found("drawing-unreadable", "fail", 1, "no DXF", "")
        }],
        ..entry("scan.dxf", 6)
    };
    let copy = Entry { path: "lids/zz copy of lid.dxf".to_owned(), ..lid.clone() };
    vec![copy, rail, lid, plate, open, broken, part]
}

/// Words in every place where a form shows one.
pub(crate) fn hostile(word: &str) -> Vec<Entry> {
    let mut all = entries();
    let words = || word.to_owned();
    for entry in &mut all {
        entry.path = format!("{word}/{}{word}", entry.path);
        entry.part = Some(words());
        (entry.unit, entry.problem) = (words(), Some(words()));
        for holes in &mut entry.screw_holes {
            holes.thread.push_str(word);
            (holes.material, holes.process, holes.tag) = (Some(words()), Some(words()), Some(words()));
            holes.advice = Some(words());
        }
        for found in &mut entry.findings {
            (found.message, found.remedy) = (words().into(), Some(words().into()));
            found.rule.push_str(word);
            found.waived = found.waived.as_ref().map(|_| words().into());
        }
    }
    all
}
