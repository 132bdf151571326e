//! Any bytes as an archive: what is found in it lies below it, and each drawing is read whole or refused.
#![no_main]

use std::path::Component;

use boreband::batch::discover;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let archive = std::env::temp_dir().join(format!("boreband-fuzz-{}.zip", std::process::id()));
    std::fs::write(&archive, bytes).expect("a file can be written");
    let found = discover(std::slice::from_ref(&archive));
    assert_eq!(found.drawings.is_empty(), found.faults.len() == 1);
    for drawing in &found.drawings {
        let below = drawing.strip_prefix(&archive).expect("it lies below the archive");
        assert!(below.components().all(|part| matches!(part, Component::Normal(_))));
        let stated = found.files.facts(drawing).bytes;
        if stated > 1 << 24 {
            continue;
        }
        match found.files.read(drawing) {
            Ok(read) => assert_eq!(read.len() as u64, stated),
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    }
});
