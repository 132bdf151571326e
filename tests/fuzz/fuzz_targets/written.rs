//! Any bytes as each of the files that people write: hole list, policy, trial record, waivers. Refused with faults that
//! name the file, or read.
#![no_main]

use boreband::hole_list::HoleLists;
use boreband::rules::RULES;
use boreband::settings::Policy;
use boreband::trial::Trial;
use boreband::waivers::Waivers;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let path = std::env::temp_dir().join(format!("boreband-fuzz-{}.json", std::process::id()));
    std::fs::write(&path, bytes).expect("a file can be written");
    let rules: Vec<&str> = RULES.iter().map(|rule| rule.name).collect();
    let refusals = [
        HoleLists::load(std::slice::from_ref(&path), &[]).err(),
        Policy::load(&path, &rules).err(),
        Trial::load(&path).err(),
        Waivers::load(&path, &rules).err(),
    ];
    for faults in refusals.into_iter().flatten() {
        assert!(!faults.is_empty() && faults.iter().all(|fault| !fault.message.is_empty()));
    }
});
