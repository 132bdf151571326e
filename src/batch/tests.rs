use super::*;
use std::io;
use std::sync::Mutex;
use std::sync::atomic::Ordering;
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
        digested: true,
        time_limit: Some(Duration::from_secs(600)),
    })
}

fn run_on(drawings: &[PathBuf], jobs: usize, progress: &Arc<Progress>) -> Report {
    with_run(drawings, jobs, |this| run(this, progress))
}

fn report(paths: &[PathBuf], jobs: usize) -> Report {
    let found = discover(paths);
    assert_eq!(found.faults, []);
    let progress = Arc::default();
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
    let report = run_on(&[good, lost], 2, &Arc::default());
    assert_eq!((report.totals.drawings, report.totals.unreadable), (2, 1));
    let lost = &report.drawings[1];
    assert_eq!((lost.state.as_str(), lost.digest.as_str()), ("unreadable", ""));
    assert!(lost.findings[0].message.starts_with("the file cannot be read: "), "{:?}", lost.findings);
    assert_eq!(lost.findings[0].rule, "drawing-unreadable");
    assert_eq!(exit_code(&report.totals, None), 2);
}

#[test]
fn a_run_without_drawings_gives_an_empty_report() {
    let report = run_on(&[], 0, &Arc::default());
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
fn a_file_that_is_too_large_is_named_and_not_read() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("terrain.dxf");
    // One long gap, which takes no room on the disk.
    std::fs::File::create(&path).and_then(|file| file.set_len(200 << 30)).unwrap();
    let report = run_on(&[path], 1, &Arc::default());
    assert_eq!(report.totals.unreadable, 1);
    let message = &report.drawings[0].findings[0].message;
    assert!(message.contains("it has 214748364800 bytes, more than the 2147483648"), "{message}");
}

#[cfg(unix)]
#[test]
fn what_is_no_regular_file_is_named_and_not_waited_for() {
    let dir = tempfile::tempdir().unwrap();
    let pipe = dir.path().join("pipe.dxf");
    // A socket is no regular file either, and needs no program to make.
    let _socket = std::os::unix::net::UnixListener::bind(&pipe).unwrap();
    let found = discover(&[dir.path().to_path_buf()]);
    let report = run_on(&found.drawings, 1, &Arc::default());
    assert_eq!(report.totals.unreadable, 1);
    assert!(report.drawings[0].findings[0].message.contains("no regular file"));
    assert_eq!(discover(&[pipe]).faults.len(), 1, "given by name it is an error of the arguments");
}

/// Knows drawings of one size (bytes).
struct Small(usize);

impl Taking for Small {
    type Kept = String;

    fn known(&self, path: &Path, bytes: &[u8]) -> Option<String> {
        (bytes.len() == self.0).then(|| format!("{} is known", path.display()))
    }

    fn take(&self, _: &Path, result: DrawingResult) -> String {
        result.path
    }
}

#[test]
fn a_drawing_that_is_known_is_not_checked() {
    let dir = library();
    let found = discover(&[dir.path().to_path_buf()]);
    let progress = Arc::default();
    let (_, results) =
        with_run(&found.drawings, 2, |this| each(this, &progress, Small(drawing_text(5).len())));
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

    fn read(&self, path: &Path, buffer: &mut Buffer) -> io::Result<()> {
        if self.hanging.iter().any(|name| path.ends_with(name)) {
            let _ = self.gate.lock().map(|gate| gate.recv());
        }
        assert!(!path.ends_with("fault.dxf"), "the reader has a fault");
        buffer.cleared().extend_from_slice(drawing_text(3).as_bytes());
        Ok(())
    }
}

/// The results of sixty drawings of a shelf, `d100.dxf` to `d159.dxf`, with little time for each, and what they keep hanging.
fn shelf_results(
    hanging: &'static [&'static str],
    jobs: usize,
    limit: Option<Duration>,
    check: fn(&Run, &Path, &mut Buffer) -> DrawingResult,
) -> Vec<DrawingResult> {
    let drawings: Vec<PathBuf> = (100..160).map(|n| PathBuf::from(format!("d{n}.dxf"))).collect();
    let (open, gate) = channel();
    let means = Means { source: Arc::new(Shelf { hanging, gate: Mutex::new(gate) }), check };
    let (_, results) = with_run(&drawings, jobs, |this| {
        let this = Run { time_limit: limit, ..this.clone() };
        crew::each(means, &this, &Arc::default(), |_: &Path, result: DrawingResult| result)
    });
    drop(open);
    assert!(results.iter().map(|r| Path::new(&r.path)).eq(&drawings), "each drawing once, in their order");
    results
}

fn unreadable(results: &[DrawingResult]) -> Vec<&str> {
    results.iter().filter(|r| r.state == "unreadable").map(|r| r.path.as_str()).collect()
}

const LITTLE: Option<Duration> = Some(Duration::from_millis(500));

#[test]
fn drawings_whose_reading_hangs_are_left_behind_and_all_others_are_checked() {
    // More of them than there are threads that read.
    let hanging = &["d100.dxf", "d101.dxf", "d102.dxf", "d103.dxf", "d104.dxf", "d130.dxf", "d159.dxf"];
    for jobs in [1, 3] {
        let results = shelf_results(hanging, jobs, LITTLE, checked);
        assert_eq!(unreadable(&results), hanging);
        assert_eq!(
            results[0].findings[0].message,
            "the reading of this drawing had not ended after 0.5 s and was left behind; --time-limit allows it more time"
        );
        assert_eq!(
            (results[0].findings[0].rule.as_str(), results[1].findings.len()),
            ("drawing-unreadable", 1)
        );
        assert_eq!(results[5].holes.len(), 3);
    }
}

#[test]
fn drawings_whose_check_hangs_are_left_behind_and_all_others_are_checked() {
    let check = |run: &Run, path: &Path, bytes: &mut Buffer| {
        if path.ends_with("d100.dxf") || path.ends_with("d131.dxf") || path.ends_with("d159.dxf") {
            // Longer than the test takes; what comes of it then is not waited for.
            std::thread::sleep(Duration::from_secs(20));
        }
        checked(run, path, bytes)
    };
    for jobs in [1, 3] {
        let begun = std::time::Instant::now();
        let results = shelf_results(&[], jobs, LITTLE, check);
        assert_eq!(unreadable(&results), ["d100.dxf", "d131.dxf", "d159.dxf"]);
        assert_eq!(
            results[31].findings[0].message,
            "the check of this drawing had not ended after 0.5 s and was left behind; --time-limit allows it more time"
        );
        assert!(results.iter().all(|r| r.state == "unreadable" || r.holes.len() == 3));
        assert!(begun.elapsed() < Duration::from_secs(20), "nobody waits for what was left behind");
    }
}

#[test]
fn a_result_that_comes_too_late_counts_for_nothing() {
    // Each takes longer than its time, but ends while the others are still checked.
    let check = |run: &Run, path: &Path, bytes: &mut Buffer| {
        if path.ends_with("d100.dxf") || path.ends_with("d101.dxf") {
            std::thread::sleep(Duration::from_millis(700));
        }
        checked(run, path, bytes)
    };
    let results = shelf_results(&[], 2, LITTLE, check);
    assert_eq!(unreadable(&results), ["d100.dxf", "d101.dxf"]);
}

/// A library in memory that takes its time for each drawing, and counts how many are read at once.
#[derive(Default)]
struct Far {
    reading: AtomicU64,
    most: AtomicU64,
}

impl Source for Far {
    fn size(&self, _: &Path) -> u64 {
        1000
    }

    fn read(&self, path: &Path, buffer: &mut Buffer) -> io::Result<()> {
        let reading = self.reading.fetch_add(1, Ordering::SeqCst) + 1;
        self.most.fetch_max(reading, Ordering::SeqCst);
        // Some long enough that another thread takes the place of the one that reads.
        let slow = path.to_string_lossy().ends_with("0.dxf");
        std::thread::sleep(if slow { 2 * ahead::LONG } else { Duration::from_millis(2) });
        self.reading.fetch_sub(1, Ordering::SeqCst);
        buffer.cleared().extend_from_slice(drawing_text(2).as_bytes());
        Ok(())
    }
}

#[test]
fn where_reading_is_slow_drawings_are_read_ahead_by_several_threads() {
    let drawings: Vec<PathBuf> = (100..250).map(|n| PathBuf::from(format!("d{n}.dxf"))).collect();
    for (jobs, limit) in [(1, None), (2, Some(Duration::from_secs(60)))] {
        let far = Arc::new(Far::default());
        let means = Means { source: Arc::clone(&far) as Arc<dyn Source>, check: checked };
        let (_, results) = with_run(&drawings, jobs, |this| {
            let this = Run { time_limit: limit, ..this.clone() };
            crew::each(means, &this, &Arc::default(), |_: &Path, result: DrawingResult| result)
        });
        assert!(results.iter().map(|r| Path::new(&r.path)).eq(&drawings));
        assert!(results.iter().all(|r| r.state == "read" && r.holes.len() == 2));
        assert!(far.most.load(Ordering::SeqCst) > jobs as u64, "no more were read at once than are checked");
    }
}

#[test]
fn a_fault_of_the_program_costs_that_drawing_only_whether_in_reading_or_in_what_knows_it() {
    struct Faulty;
    impl Taking for Faulty {
        type Kept = String;
        fn known(&self, path: &Path, _: &[u8]) -> Option<String> {
            assert!(!path.ends_with("b.dxf"), "what knows has a fault");
            None
        }
        fn take(&self, _: &Path, result: DrawingResult) -> String {
            result.findings.first().map(|finding| finding.message.to_string()).unwrap_or_default()
        }
    }
    let drawings = ["a.dxf", "b.dxf", "fault.dxf"].map(PathBuf::from);
    let (_, gate) = channel();
    let means = Means { source: Arc::new(Shelf { hanging: &[], gate: Mutex::new(gate) }), check: checked };
    let (_, said) = with_run(&drawings, 2, |this| crew::each(means, this, &Arc::default(), Faulty));
    assert_eq!(
        said[1],
        "the check of this drawing broke off by a fault of the program: what knows has a fault"
    );
    assert_eq!(
        said[2],
        "the file cannot be read: reading it broke off by a fault of the program: the reader has a fault"
    );
}

#[test]
fn a_panic_of_who_takes_the_results_is_the_callers() {
    let dir = library();
    let found = discover(&[dir.path().to_path_buf()]);
    for jobs in [1, 3] {
        let taken = std::panic::catch_unwind(|| {
            with_run(&found.drawings, jobs, |this| {
                each(this, &Arc::default(), |path: &Path, _: DrawingResult| {
                    assert!(!path.ends_with("cut.dxf"), "no more of this");
                })
            })
        });
        let said = taken.map(|_| ()).unwrap_err();
        assert_eq!(said.downcast_ref::<&str>(), Some(&"no more of this"));
    }
}

#[test]
fn who_takes_the_results_comes_back_with_what_it_holds() {
    #[derive(Default)]
    struct Sum(AtomicU64);
    impl Taking for Sum {
        type Kept = ();
        fn take(&self, _: &Path, result: DrawingResult) {
            self.0.fetch_add(result.holes.len() as u64, Ordering::Relaxed);
        }
    }
    let dir = library();
    let found = discover(&[dir.path().to_path_buf()]);
    let (sum, kept) = with_run(&found.drawings, 3, |this| each(this, &Arc::default(), Sum::default()));
    // 5 circles in the smallest of twelve drawings, 5 more in each next one.
    assert_eq!((sum.0.into_inner(), kept.len()), (5 * 12 * 13 / 2, 14));
}
