//! Any bytes as a drawing, checked as a whole for a screw that the command line names: pairing, rules and report take
//! whatever the reader gives.
#![no_main]

use boreband::check::{Against, check};
use boreband::joint::Defaults;
use boreband::settings::Policy;
use boreband::trade::Thread;
use boreband::trial::Trials;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let thread = Some(Thread::parse("M4").expect("a thread"));
    let defaults = Defaults { thread, ..Defaults::default() };
    let against = Against { rows: None, defaults: &defaults, policy: &Policy::default(), trials: &Trials::default(), waiving: None, pictured: true, converting: true, reasoned: true, digested: true };
    let result = check("fuzz.dxf", bytes, against);
    let report = serde_json::to_value(&result).expect("a result is plain data");
    // A number that is none becomes null, where the schema asks for a number.
    for hole in report["holes"].as_array().expect("a list") {
        for key in ["x", "y", "drawn_diameter_mm", "view_scale", "confidence"] {
            assert!(hole[key].is_number(), "{key}: {hole}");
        }
    }
});
