//! The march once more, station by station, for tests that look at the cross-sections themselves.
//!
//! [`follow`] goes the way of the core's march with the core's own stage, but joins the stages by itself, as section 4 of the
//! model says: the gas mixed to its flow average, paths kept or dealt anew. A test holds the two ways to the same answer.

use loftwire_core::flow::Rings;
use loftwire_core::line::{DOPANTS, Line, SPECIES};
use loftwire_core::march::{classes, law};
use loftwire_core::properties::Properties;
use loftwire_core::section::Difference;
use loftwire_core::stage::{Bench, Passage, Section, Turn, Upstream, flies};

/// Where a march stands.
pub struct Here<'a, const R: usize, const P: usize, const C: usize> {
    /// Number of the stage, from 0.
    pub stage: usize,
    /// Number of the station; 0 at the inlet.
    pub station: usize,
    /// Distance from the inlet, m.
    pub z: f64,
    /// The stage.
    pub passage: &'a Passage<'a, R, P, C>,
    /// The cross-section.
    pub now: &'a Section<R, P, C>,
    /// What it was advanced from; nothing at the inlet.
    pub up: Option<&'a Upstream<'a, R, P, C>>,
}

/// Share of the seeds on path p of `P`: core rings end at shares (i/n)² of the aerosol's flow.
#[must_use]
pub fn weight<const P: usize>(p: usize) -> f64 {
    (2 * p + 1) as f64 / (P * P) as f64
}

/// Marches a line with `stations` stations a stage and shows every cross-section, inlets among them.
///
/// # Errors
/// Where the gas turns back: number of the stage, and how.
pub fn follow<const R: usize, const P: usize, const C: usize>(
    line: &Line,
    properties: &Properties,
    stations: usize,
    mut visit: impl FnMut(&Here<R, P, C>),
) -> Result<(), (usize, Turn)> {
    let law = law(line);
    let (classes, count, middle) = classes::<C>(line);
    let seeds = std::array::from_fn(|p| weight::<P>(p) * line.seeds.rate);
    let mut bench = Box::new(Bench::new());
    let mut sections = Box::new([Section::<R, P, C>::EMPTY; 3]);
    let [a, b, c] = &mut *sections;
    let (mut now, mut one, mut two) = (a, b, c);
    let mut leaving = [0.0; SPECIES];
    let mut above = None;
    for (number, stage) in line.stages.iter().enumerate() {
        let passage = Passage {
            line,
            stage,
            properties,
            law: &law,
            classes: &classes,
            count,
            middle,
            seeds: &seeds,
            rings: Rings::new(0.5 * stage.diameter, stage.core_share, P),
            per_time: 0.0,
        };
        match above {
            None => passage.deal(one),
            Some(_) if stage.mixed => {
                shuffle(one);
                passage.deal(one);
            }
            Some(flow) => keep(one, flow / stage.flow),
        }
        let shares: [f64; SPECIES] = std::array::from_fn(|s| (leaving[s] + stage.fed[s]) / stage.flow);
        passage.open(one, &shares);
        passage.settle(one, stage.wall.temperature(0.0));
        visit(&Here { stage: number, station: 0, z: 0.0, passage: &passage, now: one, up: None });
        let step = stage.length / stations as f64;
        for station in 1..=stations {
            let first = station == 1;
            let up = Upstream {
                one,
                two: if first { one } else { two },
                before: one,
                difference: if first { Difference::first(step) } else { Difference::later(step) },
                first,
                z: step * station as f64,
                step,
            };
            passage.advance(now, &up, &mut bench).map_err(|turn| (number, turn))?;
            visit(&Here { stage: number, station, z: up.z, passage: &passage, now, up: Some(&up) });
            (now, one, two) = (two, now, one);
        }
        for (leaving, field) in leaving.iter_mut().zip(&one.share) {
            *leaving = stage.flow * passage.rings.share.iter().zip(field).map(|(share, x)| share * x).sum::<f64>();
        }
        above = Some(stage.flow);
    }
    Ok(())
}

/// Paths keep the molar flow that they enclose: F becomes F ṅ/ṅ′.
fn keep<const R: usize, const P: usize, const C: usize>(section: &mut Section<R, P, C>, ratio: f64) {
    for share in section.path.iter_mut().chain(&mut section.border).filter(|share| flies(**share)) {
        *share *= ratio;
    }
}

/// Seeds dealt anew: what they carry becomes its mean over those that still fly.
fn shuffle<const R: usize, const P: usize, const C: usize>(section: &mut Section<R, P, C>) {
    let flying: [f64; P] = std::array::from_fn(|p| if flies(section.path[p]) { weight::<P>(p) } else { 0.0 });
    let all: f64 = flying.iter().sum();
    let mean = |values: [f64; P]| flying.iter().zip(values).map(|(weight, value)| weight * value).sum::<f64>() / all;
    section.crowd = [1.0 / mean(section.crowd.map(|crowd| 1.0 / crowd)); P];
    section.lost = section.lost.map(|lost| [mean(lost); P]);
    for k in 0..C {
        let level = |table: &mut [[f64; C]; P]| {
            let mean = mean(table.map(|row| row[k]));
            table.iter_mut().for_each(|row| row[k] = mean);
        };
        level(&mut section.running);
        level(&mut section.side);
        level(&mut section.flank);
        for d in 0..DOPANTS {
            level(&mut section.doping[d]);
        }
    }
}
