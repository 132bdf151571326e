//! Any bytes behind the first line of a ledger: what can be read of it is the same after it was mended, and what is
//! appended then is read back.
#![no_main]

use std::path::PathBuf;

use boreband::ledger::{Entry, Joined, Ledger};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let path = std::env::temp_dir().join(format!("boreband-fuzz-{}.ledger", std::process::id()));
    let content = [b"{\"boreband_ledger\":1}\n", bytes].concat();
    std::fs::write(&path, content).expect("a file can be written");
    let before = entries(&path);
    let opened = Ledger::open(&path).expect("its first line is sound");
    let new = Entry { path: "new".to_owned(), inputs: "0".repeat(32), ..Entry::default() };
    opened.ledger.append(&new).expect("it can be appended to");
    opened.ledger.close().expect("it can be closed");
    let after = entries(&path);
    if let (Some(before), Some(after)) = (before, after) {
        let others = |all: Vec<Entry>| all.into_iter().filter(|entry| entry.path != "new").collect::<Vec<_>>();
        assert!(after.contains(&new));
        assert_eq!(others(before), others(after));
    }
});

/// All entries; none if a line that looks sound is not.
fn entries(path: &PathBuf) -> Option<Vec<Entry>> {
    let mut joined = Joined::of(std::slice::from_ref(path)).expect("its first line is sound");
    let mut all = Vec::new();
    joined
        .for_each(|entry| {
            all.push(entry);
            Ok(())
        })
        .ok()?;
    Some(all)
}
