//! Any bytes as a file: the reader neither fails nor lets an unusable number through.
#![no_main]

use boreband::dxf;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    if let Ok(reading) = dxf::read(bytes) {
        for circle in &reading.drawing.circles {
            assert!(circle.diameter > 0.0 && circle.diameter.is_finite());
            assert!(circle.center.x.is_finite() && circle.center.y.is_finite());
        }
        for problem in &reading.problems {
            assert!(!problem.message.is_empty() && problem.offset <= bytes.len() as u64);
        }
    }
});
