//! boreband checks the holes on DXF drawings that thread-rolling screws form their thread in.
//!
//! Data flows one way, and a module uses only modules of a lower level than its own
//! (`tests/levels.rs` fails on an import that goes the other way):
//!
//! | level | module | its one sentence |
//! | --- | --- | --- |
//! | 0 | [`units`] | lengths and angles as types; the only place where mm and inch meet |
//! | 0 | [`decimals`] | numbers with a fixed count of decimals |
//! | 0 | [`shared`] | texts and other values that many values hold at once |
//! | 0 | [`statistics`] | means, spreads and statistical limits of small samples |
//! | 1 | [`finding`] | what can be said about a drawing: rule, level, place, message |
//! | 1 | [`geometry`] | points, boxes and affine maps |
//! | 1 | [`trade`] | what the trade knows: threads, engagement, bands, tolerances, drills, gauges |
//! | 2 | [`drawing`] | the neutral drawing: circles, texts, leaders, dimensions in world coordinates |
//! | 2 | [`joint`] | what people ask of a hole: screw, material, thickness, process, row of a list |
//! | 2 | [`near`] | which of many places are near to one |
//! | 2 | [`practice`] | what a shop decides over the trade: limits, each with where it came from |
//! | 3 | [`dxf`] | bytes to a drawing and the problems met |
//! | 3 | [`callout`] | text to a callout value with spans |
//! | 3 | [`reading`] | JSON that people write, strictly: each value with its place, all faults at once |
//! | 4 | [`hole_list`] | finds, reads and validates hole lists |
//! | 4 | [`settings`] | finds, reads and validates the policy |
//! | 4 | [`trial`] | reads and evaluates joint tests, and tells which hole one was made for |
//! | 4 | [`waivers`] | findings that people accepted, and the file that says so |
//! | 4 | [`pairing`] | joins circles, callouts, list rows and thickness |
//! | 5 | [`verdict`] | one paired hole to limits of size, engagement, band, verdict and advice |
//! | 6 | [`conversion`] | tapped holes that a thread-rolling screw could replace, and what that saves |
//! | 6 | [`rules`] | the rules: each looks at a judged hole or drawing and returns findings |
//! | 7 | [`check`] | one drawing to one result: read, pair, judge, run rules, apply levels |
//! | 8 | [`batch`] | many drawings in parallel to results in their order |
//! | 8 | [`ledger`] | the file of one line a drawing by which an audit goes on where it stopped |
//! | 9 | [`library`] | the picture of a whole library, added up from the lines of ledgers |
//! | 10 | [`report`] | the finished report to each form |
//! | 11 | [`cli`] | arguments, terminal, progress bar, exit code |
#![deny(clippy::print_stdout, clippy::print_stderr)]

pub mod batch;
pub mod callout;
pub mod check;
pub mod cli;
pub mod conversion;
pub mod decimals;
pub mod drawing;
pub mod dxf;
pub mod finding;
pub mod geometry;
pub mod hole_list;
pub mod joint;
pub mod ledger;
pub mod library;
pub mod near;
pub mod pairing;
pub mod practice;
pub mod reading;
pub mod report;
pub mod rules;
pub mod settings;
pub mod shared;
pub mod statistics;
pub mod trade;
pub mod trial;
pub mod units;
pub mod verdict;
pub mod waivers;
