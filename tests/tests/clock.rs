//! The kernel with a clock: with steady inputs the live train relaxes to the steady march on its own grid.

use loftwire_core::flow::Rings;
use loftwire_core::line::{Line, SPECIES};
use loftwire_core::march::{classes, law};
use loftwire_core::properties::Properties;
use loftwire_core::section::Difference;
use loftwire_core::stage::{Bench, Passage, Section, Upstream};
use loftwire_tests::prediction::{line, with_room};

const RINGS: usize = 9;
const PATHS: usize = 3;
const CLASSES: usize = 3;
const STATIONS: usize = 60;
/// Invented job with one stage of growth, a fragment, group V and depletion by the wall.
const JOB: &str = include_str!("../checks/jobs/inas_single.json");
/// Invented job whose first stage dopes.
const DOPED: &str = include_str!("../checks/jobs/gaas_pn_n2h2.json");

type Station = Section<RINGS, PATHS, CLASSES>;

/// The first stage of a line as a train of stations, advanced `steps` times by 1/Δt; 0 marches once.
fn train(line: &Line, per_time: f64, steps: usize) -> Vec<Station> {
    let mut properties = Box::new(Properties::new());
    properties.fill(line);
    let law = law(line);
    let (classes, count, middle) = classes::<CLASSES>(line);
    let stage = &line.stages[0];
    let mut seeds = [0.0; PATHS];
    for (p, seeds) in seeds.iter_mut().enumerate() {
        *seeds = line.seeds.rate * (2 * p + 1) as f64 / (PATHS * PATHS) as f64;
    }
    let rings = Rings::new(0.5 * stage.diameter, stage.core_share, PATHS);
    let passage = Passage {
        line,
        stage,
        properties: &properties,
        law: &law,
        classes: &classes,
        count,
        middle,
        seeds: &seeds,
        rings,
        per_time,
    };
    let mut shares = [0.0; SPECIES];
    for (share, fed) in shares.iter_mut().zip(stage.fed) {
        *share = fed / stage.flow;
    }
    let mut inlet = Station::EMPTY;
    passage.deal(&mut inlet);
    passage.open(&mut inlet, &shares);
    passage.settle(&mut inlet, stage.wall.temperature(0.0));
    // A train that starts cold and empty: every station as the inlet.
    let mut stations = vec![inlet; STATIONS + 1];
    let step = stage.length / STATIONS as f64;
    let mut bench = Bench::new();
    for _ in 0..steps.max(1) {
        for n in 1..=STATIONS {
            let first = n == 1;
            let before = stations[n];
            let (one, two) = (stations[n - 1], stations[n.saturating_sub(2)]);
            let up = Upstream {
                one: &one,
                two: if first { &one } else { &two },
                before: &before,
                difference: if first { Difference::first(step) } else { Difference::later(step) },
                first,
                z: step * n as f64,
                step,
            };
            passage.advance(&mut stations[n], &up, &mut bench).expect("the gas does not turn back");
        }
    }
    stations
}

/// Everything that a station carries, by name.
fn carried(station: &Station, species: usize) -> Vec<(&'static str, f64)> {
    let mut out = Vec::new();
    out.extend(station.temperature.map(|value| ("temperature", value)));
    out.extend(station.velocity.edge.map(|value| ("edge", value)));
    for field in station.share.iter().take(species) {
        out.extend(field.map(|value| ("mole fraction", value)));
    }
    out.extend(station.path.map(|value| ("path", value)));
    out.extend(station.border.map(|value| ("border", value)));
    out.extend(station.time.map(|value| ("time", value)));
    out.extend(station.crowd.map(|value| ("crowd", value)));
    out.extend(station.coat.map(|value| ("coat", value)));
    out.extend(station.running.as_flattened().iter().map(|value| ("running length", *value)));
    out.extend(station.side.as_flattened().iter().map(|value| ("sidewall", *value)));
    out.extend(station.flank.as_flattened().iter().map(|value| ("sidewall volume", *value)));
    out.extend(station.doping[0].as_flattened().iter().map(|value| ("doping", *value)));
    out.extend(station.content[0].as_flattened().iter().map(|value| ("dopant content", *value)));
    out
}

/// The largest difference of any quantity at any station, of the largest of its kind, and the largest relative one of the length that leaves.
fn apart(live: &[Station], steady: &[Station], species: usize) -> f64 {
    let mut largest = std::collections::BTreeMap::new();
    for station in steady {
        for (name, value) in carried(station, species) {
            let most = largest.entry(name).or_insert(0.0_f64);
            *most = most.max(value.abs());
        }
    }
    let mut worst = 0.0_f64;
    for (a, b) in live.iter().zip(steady) {
        for ((name, a), (_, b)) in carried(a, species).into_iter().zip(carried(b, species)) {
            let off = (a - b).abs() / largest[name].max(f64::MIN_POSITIVE);
            assert!(off.is_finite(), "{name}: {a} against {b}");
            worst = worst.max(off);
        }
    }
    worst
}

/// Source: the steady state of (c A/Δt)(φ − φ_before) + … is that without the term; held to 1e-9 of the largest of each kind.
#[test]
fn steady_inputs_relax_to_the_steady_march() {
    with_room(|| {
        for text in [JOB, DOPED] {
            let line = line(text).unwrap();
            let species = line.species.len();
            let steady = train(&line, 0.0, 1);
            // The slowest gas, at the wall, needs some minutes to leave.
            for (interval, steps) in [(1.0, 1500), (10.0, 300), (60.0, 200)] {
                let early = apart(&train(&line, 1.0 / interval, 1), &steady, species);
                let late = apart(&train(&line, 1.0 / interval, steps), &steady, species);
                println!("a step of {interval} s: {early:.1e} after one, {late:.1e} after {steps}");
                assert!(early > 1e-6, "the clock does nothing");
                assert!(late < 1e-9, "{late:.2e} with a step of {interval} s");
            }
        }
    });
}
