//! Works that are timed and counted: the prediction of the demo job, one station of it, and the kernels in that.
//!
//! ```text
//! cargo bench --package loftwire-speed        times by the clock
//! cargo verify speed                          the same, and instructions by callgrind
//! ```
//!
//! Times vary from machine to machine and from minute to minute; instructions do not. Neither is judged.

use loftwire_core::check::check;
use loftwire_core::flow::Rings;
use loftwire_core::line::{Line, SPECIES};
use loftwire_core::march::{classes, law};
use loftwire_core::predict::{CLASSES, Predictor, RECORDS};
use loftwire_core::properties::Properties;
use loftwire_core::section::{Balance, Difference, Faces};
use loftwire_core::stage::{Bench, Passage, Section, Upstream};
use loftwire_core::wire::{Class, Law, Memory};
use std::hint::black_box;

/// Rings of the desk's finer grid.
pub const RINGS: usize = 24;
/// Paths of it.
pub const PATHS: usize = 8;
/// Stations of a stage on it.
pub const STATIONS: usize = 2 * (RECORDS - 1);
/// Seed classes of the demo job.
pub const FEW: usize = 3;
/// Passes over species and wires at a station.
pub const PASSES: usize = 2;

/// The state at a station.
type Here = Section<RINGS, PATHS, CLASSES>;

/// Who is handed something to do, and does it as often as wanted.
pub type Caller<'c> = &'c mut dyn FnMut(&mut dyn FnMut());

/// Something whose cost is told.
pub struct Work {
    /// What it is called.
    pub name: &'static str,
    /// Another work whose cost is taken off, so that the difference is told.
    pub less: Option<&'static str>,
    /// Parts that one run has.
    pub parts: usize,
    /// What such a part is.
    pub part: &'static str,
    /// Prepares it, and hands what does it once to a caller.
    pub prepared: fn(Caller<'_>),
}

/// All works.
pub const WORKS: &[Work] = &[
    Work { name: "prediction", less: None, parts: cells(), part: "ring, station and pass", prepared: prediction },
    Work {
        name: "station",
        less: None,
        parts: RINGS * PASSES,
        part: "ring and pass",
        prepared: |run| station(FEW, run),
    },
    Work {
        name: "station_of_18_classes",
        less: Some("station"),
        parts: (CLASSES - FEW) * PATHS * PASSES,
        part: "class, path and pass more",
        prepared: |run| station(CLASSES, run),
    },
    Work { name: "section_kernel", less: None, parts: RINGS, part: "ring", prepared: section_kernel },
    Work { name: "wire_step", less: None, parts: 1, part: "wire and step", prepared: wire_step },
];

/// Rings, stations and passes of a prediction of the demo job, both grids.
const fn cells() -> usize {
    const STAGES: usize = 3;
    STAGES * (RINGS / 2 * (RECORDS - 1) + RINGS * STATIONS) * PASSES
}

/// The demo job, checked.
///
/// # Panics
/// Where the demo job is none.
#[must_use]
pub fn demo() -> Box<Line> {
    let job = loftwire_read::job(include_str!("../../../demo/jobs/three-stage.json")).expect("the demo job is a job");
    Box::new(check(&job).expect("the demo job is accepted"))
}

/// A whole prediction on the desk's grids.
fn prediction(run: Caller<'_>) {
    let line = demo();
    let mut predictor = Box::new(Predictor::new());
    run(&mut || {
        black_box(predictor.predict(black_box(&line)));
    });
}

/// One station half-way through the first tube, where wires grow, with a number of seed classes.
fn station(count: usize, run: Caller<'_>) {
    let line = demo();
    let mut properties = Box::new(Properties::new());
    properties.fill(&line);
    let law = law(&line);
    let (few, _, middle): ([Class; CLASSES], usize, usize) = classes(&line);
    let mut all = few;
    for (k, class) in all.iter_mut().enumerate() {
        *class = few[k % FEW];
    }
    let stage = line.stages.first().expect("it has a stage");
    let passage = Passage {
        line: &line,
        stage,
        properties: &properties,
        law: &law,
        classes: &all,
        count,
        middle,
        seeds: &[line.seeds.rate / PATHS as f64; PATHS],
        rings: Rings::new(0.5 * stage.diameter, stage.core_share, PATHS),
        per_time: 0.0,
    };
    let mut shares = [0.0; SPECIES];
    for (share, fed) in shares.iter_mut().zip(stage.fed) {
        *share = fed / stage.flow;
    }
    let mut bench = Box::new(Bench::<RINGS>::new());
    let [mut now, mut one, mut two] = [(); 3].map(|()| Box::new(Here::EMPTY));
    passage.deal(&mut one);
    passage.open(&mut one, &shares);
    passage.settle(&mut one, stage.wall.temperature(0.0));
    *two = *one;
    let step = stage.length / STATIONS as f64;
    for station in 1..=STATIONS / 2 {
        passage
            .advance(&mut now, &upstream(&one, &two, station, step), &mut bench)
            .expect("the gas of the demo job does not turn back");
        (now, one, two) = (two, now, one);
    }
    let up = upstream(&one, &two, STATIONS / 2 + 1, step);
    run(&mut || {
        let _ = black_box(passage.advance(&mut now, black_box(&up), &mut bench));
    });
}

/// What a station starts from.
fn upstream<'s>(one: &'s Here, two: &'s Here, station: usize, step: f64) -> Upstream<'s, RINGS, PATHS, CLASSES> {
    let first = station == 1;
    Upstream {
        one,
        two,
        before: one,
        difference: if first { Difference::first(step) } else { Difference::later(step) },
        first,
        z: step * station as f64,
        step,
    }
}

/// The kernel: one field across the rings.
fn section_kernel(run: Caller<'_>) {
    let faces = Faces { outward: [2.0; RINGS], inward: [1.9; RINGS] };
    let (carried, held, taken, given) = ([1.0; RINGS], [0.0; RINGS], [0.1; RINGS], [0.2; RINGS]);
    let (one, two) = ([1.0; RINGS], [1.1; RINGS]);
    let balance = Balance {
        difference: Difference::later(1e-3),
        carried: &carried,
        held: &held,
        faces: &faces,
        wall: 0.0,
        taken: &taken,
        given: &given,
        one: &one,
        two: &two,
        before: &one,
    };
    let mut field = [0.0; RINGS];
    run(&mut || {
        black_box(&balance).solve(black_box(&mut field));
    });
}

/// One step of one wire: how supply reaches it, how fast it grows, what its seed remembers of a dopant.
fn wire_step(run: Caller<'_>) {
    let line = demo();
    let law = law(&line);
    let (classes, _, middle): ([Class; CLASSES], usize, usize) = classes(&line);
    let class = classes[middle];
    let warm = law.warm(720.0, [1e-4, 1.2e-4]);
    let shared = law.shared(&warm, 4e-5, 5e-3);
    run(&mut || {
        let supply = law.supply(black_box(&class), black_box(&warm), black_box(4e-7));
        let rate = Law::axial(shared.kinetic * class.gibbs_thomson, Law::supply_rate(&supply, black_box([3e-5, 1e-5])));
        black_box(Memory::over(rate * 1e-3, black_box(3e-8), 1e24, [2e24, 2.1e24]));
    });
}
