use super::*;
use std::io;
use std::sync::Mutex;
use std::sync::mpsc::{Receiver, channel};

/// A text drawing of `circles` circles, so that files differ in size and content.
fn drawing_text(circles: usize) -> String {
    let mut text = String::from("0\nSECTION\n2\nENTITIES\n");
    for i in 0..circles {
        text.push_str(&format!("0\nCIRCLE\n8\nHOLES\n10\n{}.0\n20\n{}.0\n40\n1.8\n", 10 * i, 7 * (i % 3)));
    }
    text.push_str("0\nENDSEC\n0\nEOF\n");
    text
}

/// A folder with drawings of several sizes, one file that is no drawing and one broken one.
fn library() -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    for i in 0..12 {
        let folder = dir.path().join(format!("part-{}", i % 3));
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join(format!("d{i}.dxf")), drawing_text(5 * (12 - i))).unwrap();
    }
    std::fs::write(dir.path().join("scan.dxf"), "%PDF-1.7\n").unwrap();
    std::fs::write(dir.path().join("cut.dxf"), "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n10\n1.0\n20\n2,5\n")
        .unwrap();
    dir
}

/// Does something with a run over drawings that no list or policy speaks of.
fn with_run<T>(drawings: &[PathBuf], jobs: usize, work: impl FnOnce(&Run) -> T) -> T {
    work(&Run {
        drawings: Arc::new(drawings.to_vec()),
        files: Arc::default(),
        lists: Arc::default(),
        policies: Arc::default(),
        defaults: Arc::default(),
        trials: Arc::default(),
        waivers: None,
        jobs,
        pictured: false,
        converting: false,
        time_limit: Some(Duration::from_secs(600)),
    })
}

fn run_on(drawings: &[PathBuf], jobs: usize, progress: &Progress) -> Report {
    with_run(drawings, jobs, |this| run(this, progress))
}

fn report(paths: &[PathBuf], jobs: usize) -> Report {
    let found = discover(paths);
    assert_eq!(found.faults, []);
    let progress = Progress::default();
    let report = run_on(&found.drawings, jobs, &progress);
    assert_eq!(progress.done.load(Ordering::Relaxed), found.drawings.len() as u64);
    let findings: usize = report.drawings.iter().map(|d| d.findings.len()).sum();
    assert_eq!(progress.findings.load(Ordering::Relaxed), findings as u64);
    report
}

fn bytes(report: &Report) -> String {
    serde_json::to_string(report).unwrap()
}

#[test]
fn one_job_and_many_give_the_same_bytes_in_any_order_of_arguments() {
    let dir = library();
    let whole = vec![dir.path().to_path_buf()];
    let parts: Vec<PathBuf> = ["scan.dxf", "part-2", "part-0", "cut.dxf", "part-1", "part-2"]
        .map(|name| dir.path().join(name))
        .into();
    let one = report(&whole, 1);
    assert_eq!(one.drawings.len(), 14);
    assert!(one.drawings.is_sorted_by(|a, b| a.path < b.path));
    for (paths, jobs) in [(&whole, 4), (&whole, 0), (&parts, 1), (&parts, 7)] {
        assert_eq!(bytes(&report(paths, jobs)), bytes(&one), "{jobs} jobs");
    }
}

#[test]
fn a_file_that_cannot_be_opened_costs_that_drawing_only_and_is_named() {
    let dir = tempfile::tempdir().unwrap();
    let good = dir.path().join("good.dxf");
    std::fs::write(&good, drawing_text(2)).unwrap();
    let lost = dir.path().join("lost.dxf");
    let report = run_on(&[good, lost], 2, &Progress::default());
    assert_eq!((report.totals.drawings, report.totals.unreadable), (2, 1));
    let lost = &report.drawings[1];
    assert_eq!((lost.state.as_str(), lost.digest.as_str()), ("unreadable", ""));
    assert!(lost.findings[0].message.starts_with("the file cannot be read: "), "{:?}", lost.findings);
    assert_eq!(lost.findings[0].rule, "drawing-unreadable");
    assert_eq!(exit_code(&report.totals, None), 2);
}

#[test]
fn a_run_without_drawings_gives_an_empty_report() {
    let report = run_on(&[], 0, &Progress::default());
    assert_eq!(report.totals.drawings, 0);
    assert_eq!(exit_code(&report.totals, Some(crate::finding::Level::Note)), 0);
}

#[test]
fn a_panic_is_caught_with_what_it_said() {
    assert_eq!(guarded(|| 7), Ok(7));
    assert_eq!(guarded(|| panic!("index {} of 2", 3)), Err::<(), _>("index 3 of 2".to_owned()));
    assert_eq!(guarded(|| panic!("plain")), Err::<(), _>("plain".to_owned()));
}

#[cfg(unix)]
#[test]
fn what_is_no_regular_file_is_named_and_not_waited_for() {
    let dir = tempfile::tempdir().unwrap();
    let pipe = dir.path().join("pipe.dxf");
    // A socket is no regular file either, and needs no program to make.
    let _socket = std::os::unix::net::UnixListener::bind(&pipe).unwrap();
    let found = discover(&[dir.path().to_path_buf()]);
    let report = run_on(&found.drawings, 1, &Progress::default());
    assert_eq!(report.totals.unreadable, 1);
    assert!(report.drawings[0].findings[0].message.contains("no regular file"));
    assert_eq!(discover(&[pipe]).faults.len(), 1, "given by name it is an error of the arguments");
}

#[test]
fn a_drawing_that_is_known_is_not_checked() {
    let dir = library();
    let found = discover(&[dir.path().to_path_buf()]);
    let progress = Progress::default();
    let small = drawing_text(5).len();
    let results = with_run(&found.drawings, 2, |this| {
        let known = |path: &Path, bytes: &[u8]| {
            (bytes.len() == small).then(|| format!("{} is known", path.display()))
        };
        each_unless(this, &progress, known, |_, result| result.path)
    });
    let told: Vec<&String> = results.iter().filter(|result| result.ends_with("d11.dxf is known")).collect();
    assert_eq!((told.len(), results.len()), (1, found.drawings.len()));
    assert_eq!(results.iter().filter(|result| result.ends_with("is known")).count(), 1);
    assert_eq!(progress.done.load(Ordering::Relaxed), found.drawings.len() as u64);
}

/// A library in memory, in which the reading of some drawings hangs until the test is over.
struct Shelf {
    hanging: &'static [&'static str],
    gate: Mutex<Receiver<()>>,
}

impl Source for Shelf {
    fn size(&self, _: &Path) -> u64 {
        1000
    }

    fn read(&self, path: &Path, buffer: &mut Vec<u8>) -> io::Result<()> {
        if self.hanging.iter().any(|name| path.ends_with(name)) {
            let _ = self.gate.lock().map(|gate| gate.recv());
        }
        buffer.clear();
        buffer.extend_from_slice(drawing_text(3).as_bytes());
        Ok(())
    }
}

#[test]
fn drawings_whose_reading_hangs_are_left_behind_and_all_others_are_checked() {
    let drawings: Vec<PathBuf> = (100..160).map(|n| PathBuf::from(format!("d{n}.dxf"))).collect();
    // More of them than there are threads that read.
    let hanging = &["d100.dxf", "d101.dxf", "d102.dxf", "d103.dxf", "d104.dxf", "d130.dxf", "d159.dxf"];
    for jobs in [1, 3] {
        let (open, gate) = channel();
        let shelf = Arc::new(Shelf { hanging, gate: Mutex::new(gate) });
        let results = with_run(&drawings, jobs, |this| {
            let this = Run { time_limit: Some(Duration::from_millis(300)), ..this.clone() };
            each_from(shelf, &this, &Progress::default(), &|_, _| None, &|_, result| result)
        });
        assert_eq!(results.len(), 60);
        let late: Vec<&str> =
            results.iter().filter(|r| r.state == "unreadable").map(|r| r.path.as_str()).collect();
        assert_eq!(late, hanging);
        assert_eq!(
            results[0].findings[0].message,
            "the reading of this drawing had not ended after 0.3 s and was left behind; --time-limit allows it more time"
        );
        assert_eq!(
            (results[0].findings[0].rule.as_str(), results[1].findings.len()),
            ("drawing-unreadable", 1)
        );
        assert_eq!(results[5].holes.len(), 3);
        drop(open);
    }
}
