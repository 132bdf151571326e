//! Any text as a callout and as a note: what was read and what was not stand in the text.
#![no_main]

use boreband::callout;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let read = callout::read(text);
    for piece in read.unread() {
        assert!(text.contains(piece), "{piece:?} is not in the text");
    }
    let _ = callout::note::read(text);
});
