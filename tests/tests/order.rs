//! The march is of second order, across the tube and along it: halving the rings' width, the station's, or both, leaves a quarter
//! of the error.
//!
//! The table that each test prints: figures on four grids, the error against the extrapolated two finest, and by how much it falls.

use loftwire_core::line::Line;
use loftwire_core::march::March;
use loftwire_core::properties::Properties;
use loftwire_core::statistics::{Quantity, Wires};
use loftwire_tests::prediction::{line, with_room};
use loftwire_tests::solved::JOBS;

/// Records along a stage.
const RECORDS: usize = 26;
/// What is looked at.
const FIGURES: [&str; 6] = [
    "mean length, nm",
    "sd of length, nm",
    "group III out, µmol/min",
    "group III on wall",
    "seeds' time, s",
    "coat, nm",
];

/// Place of the standard deviation among them.
const DEVIATION: usize = 1;

/// The figures of a one-stage line on `R` rings, `P` of them with seeds, and 25 · `stride` stations.
fn figures<const R: usize, const P: usize>(line: &Line, stride: usize) -> [f64; 6] {
    let mut properties = Box::new(Properties::new());
    properties.fill(line);
    let mut march = Box::new(March::<R, P, 3, RECORDS>::new());
    march.run(line, &properties, stride).unwrap_or_else(|refusal| panic!("{refusal:?}"));
    let harvest = &march.harvest;
    let record = &harvest.stages[0];
    let wires = Wires::of(line, harvest);
    let of = |table: [[f64; 3]; P]| wires.moments(&Quantity { groups: &[table], position: &[record.position] });
    let length = of(record.length);
    [
        length.mean * 1e9,
        length.variance.sqrt() * 1e9,
        (record.outlet[0] + record.outlet[1]) * 60e6,
        (record.on_wall[0] + record.on_wall[1]) * 60e6,
        of(record.time.map(|time| [time; 3])).mean,
        of(record.coat.map(|coat| [coat; 3])).mean * 1e9,
    ]
}

/// By how much an error may fall where it should by 4: some fall faster while terms of higher order still count.
const WITHIN: std::ops::RangeInclusive<f64> = 3.0..=6.0;
/// Change from one grid to the next below which a figure is there, relative: errors that cancel fall unevenly when they are small.
const THERE: f64 = 5e-6;
/// The same for the standard deviation, which is the difference of what nearly cancels.
const DEVIATION_THERE: f64 = 5e-5;

/// Prints the table and holds by how much every figure's error falls at last against 4.
fn falls_by_four(title: &str, grids: [&str; 4], values: [[f64; 6]; 4]) {
    println!("{title}");
    println!("    {:24} {}", "", grids.map(|grid| format!("{grid:>22}")).join(""));
    let mut faults = Vec::new();
    for (n, name) in FIGURES.iter().enumerate() {
        let of: [f64; 4] = std::array::from_fn(|grid| values[grid][n]);
        let limit = of[3] + (of[3] - of[2]) / 3.0;
        let columns = of.map(|value| format!("{value:>13.6} {:>8.1e}", (value / limit - 1.0).abs())).join("");
        // Differences of neighbours need no limit.
        let step = [of[1] - of[0], of[2] - of[1], of[3] - of[2]];
        let falls = [step[0] / step[1], step[1] / step[2]];
        println!("    {name:24} {columns}   falls by {:.2}, {:.2}", falls[0], falls[1]);
        let is_there = (step[2] / limit).abs() < if n == DEVIATION { DEVIATION_THERE } else { THERE };
        if !WITHIN.contains(&falls[1]) && !is_there {
            faults.push(format!("{name}: falls by {:.2}", falls[1]));
        }
    }
    assert!(faults.is_empty(), "{title}: {}", faults.join(", "));
}

fn solved(name: &str) -> Box<Line> {
    let job = JOBS.iter().find(|job| job.0 == name).unwrap_or_else(|| panic!("no job {name}"));
    line(job.1).unwrap_or_else(|why| panic!("{why}"))
}

/// Source: section 7 of the model: both the march and the rings are second order.
#[test]
fn rings_are_of_second_order() {
    with_room(|| {
        for name in ["parabolic_no_drift", "inas_single"] {
            let line = solved(name);
            let values = [
                figures::<12, 4>(&line, 32),
                figures::<24, 8>(&line, 32),
                figures::<48, 16>(&line, 32),
                figures::<96, 32>(&line, 32),
            ];
            falls_by_four(&format!("{name}: across, 800 stations"), ["4 + 8", "8 + 16", "16 + 32", "32 + 64"], values);
        }
    });
}

/// Source: section 7 of the model.
#[test]
fn stations_are_of_second_order() {
    with_room(|| {
        for name in ["parabolic_no_drift", "inas_single"] {
            let line = solved(name);
            let values = [4, 8, 16, 32].map(|stride| figures::<24, 8>(&line, stride));
            falls_by_four(&format!("{name}: along, 8 + 16 rings"), ["100", "200", "400", "800"], values);
        }
    });
}

/// Source: section 7 of the model: so the pair of grids can be extrapolated.
#[test]
fn both_together_are_of_second_order() {
    with_room(|| {
        for name in ["parabolic_no_drift", "inas_single"] {
            let line = solved(name);
            let values = [
                figures::<12, 4>(&line, 4),
                figures::<24, 8>(&line, 8),
                figures::<48, 16>(&line, 16),
                figures::<96, 32>(&line, 32),
            ];
            let grids = ["4 + 8 × 100", "8 + 16 × 200", "16 + 32 × 400", "32 + 64 × 800"];
            falls_by_four(&format!("{name}: both"), grids, values);
        }
    });
}
