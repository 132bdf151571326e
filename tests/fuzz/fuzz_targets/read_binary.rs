//! Any bytes behind the signature of a binary file: the reader neither fails nor lets an unusable number through.
#![no_main]

use boreband::dxf;
use libfuzzer_sys::fuzz_target;

const SIGNATURE: &[u8] = b"AutoCAD Binary DXF\r\n\x1a\0";

fuzz_target!(|bytes: &[u8]| {
    let whole = if bytes.starts_with(SIGNATURE) { bytes.to_vec() } else { [SIGNATURE, bytes].concat() };
    if let Ok(reading) = dxf::read(&whole) {
        for circle in &reading.drawing.circles {
            assert!(circle.diameter > 0.0 && circle.diameter.is_finite());
            assert!(circle.center.x.is_finite() && circle.center.y.is_finite());
        }
        for problem in &reading.problems {
            assert!(!problem.message.is_empty() && problem.offset <= whole.len() as u64);
        }
    }
});
