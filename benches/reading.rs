//! One drawing: bytes in memory to what it shows, against the `dxf` crate and against counting the line feeds of the
//! same bytes. Prints a table; the ratios are what counts, because they hold on other machines.

mod common;

use std::hint::black_box;
use std::time::Instant;

use common::{Form, drawing, median};
use memchr::memchr_iter;

/// As in the program, for both readers.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// Sizes, with how often each reader runs in a round.
const SIZES: [(&str, usize, usize); 3] =
    [("100 kB", 100_000, 35), ("2 MB", 2_000_000, 7), ("25 MB", 25_000_000, 3)];

/// Rounds, in each of which the three run one after the other, so that a busy moment of the machine meets all of them.
const ROUNDS: usize = 3;

fn main() {
    println!("| drawing | reader | line feeds counted | `dxf` crate | reader over crate |");
    println!("| --- | ---: | ---: | ---: | ---: |");
    for form in Form::ALL {
        for (name, size, runs) in SIZES {
            row(&format!("{form} {name}"), &drawing(form, size, 1), runs);
        }
    }
}

/// Times the three readers, each some times in a row: both readers as they are when they read file after file.
fn row(name: &str, bytes: &[u8], runs: usize) {
    let circles = boreband::dxf::read(bytes).map(|reading| reading.drawing.circles.len()).unwrap_or(0);
    assert!(circles > 0, "{name}: the reader must find the circles that it is timed on");
    let (mut ours, mut feeds, mut theirs) = (Vec::new(), Vec::new(), Vec::new());
    let mut refused = None;
    for _ in 0..ROUNDS {
        for _ in 0..runs {
            ours.push(seconds(|| drop(black_box(boreband::dxf::read(bytes)))));
        }
        for _ in 0..runs {
            feeds.push(seconds(|| {
                black_box(memchr_iter(b'\n', black_box(bytes)).count());
            }));
        }
        for _ in 0..runs {
            theirs.push(seconds(|| {
                refused = dxf::Drawing::load(&mut &*bytes).map(|read| drop(black_box(read))).err();
            }));
        }
    }
    let rate = |times: Vec<f64>| bytes.len() as f64 / median(times) / 1e9;
    let (ours, feeds) = (rate(ours), rate(feeds));
    let (crate_rate, ratio) = match refused {
        Some(_) => ("refused".to_owned(), "–".to_owned()),
        None => {
            let theirs = rate(theirs);
            (format!("{theirs:.3} GB/s"), format!("{:.1}", ours / theirs))
        }
    };
    println!("| {name} | {ours:.2} GB/s | {feeds:.1} GB/s | {crate_rate} | {ratio} |");
}

fn seconds(work: impl FnOnce()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64()
}
