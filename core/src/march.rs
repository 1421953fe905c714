//! Stages in series: the line marched into a harvest, on one grid.
//!
//! Takes a [`Line`] and its [`Properties`], gives a [`Harvest`]. At a junction the gas is mixed to its flow average, parent and fragment each,
//! and starts at the stage's `inlet`. A path keeps the molar flow it encloses: F becomes F ṅ/ṅ′. Where the seeds are `mixed`, they are dealt
//! anew over the core, evenly by flow, and the wire's state becomes its mean over the paths, weighted by the seeds they carry.
//!
//! The grid: `R` rings of which `P` carry seeds, up to `C` seed classes, `N` records along each stage (the inlet among them) every `stride`
//! stations. A record is what the report shows.
//!
//! Range: what [`Line`] proves. The march ends early only where gas turns back.

use crate::flow::{Rings, depth_of_share};
use crate::harvest::Harvest;
use crate::line::{DOPANTS, Line, NODES, SPECIES};
use crate::properties::Properties;
use crate::root::sqrt;
use crate::section::Difference;
use crate::stage::{Bench, Passage, Section, Turn, Upstream, flies};
use crate::units::GAS_CONSTANT;
use crate::wire::{Class, Law};
use core::f64::consts::PI;

/// Where a prediction ended: the stage, and how its gas turned back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Refusal {
    /// Number of the stage, from 0.
    pub stage: usize,
    /// How and where.
    pub turn: Turn,
}

/// A march on one grid: three cross-sections and what is recorded on the way.
#[derive(Debug)]
pub struct March<const R: usize, const P: usize, const C: usize, const N: usize> {
    sections: [Section<R, P, C>; 3],
    bench: Bench<R>,
    /// What was recorded.
    pub harvest: Harvest<R, P, C, N>,
}

impl<const R: usize, const P: usize, const C: usize, const N: usize> Default for March<R, P, C, N> {
    fn default() -> Self {
        Self::new()
    }
}

impl<const R: usize, const P: usize, const C: usize, const N: usize> March<R, P, C, N> {
    /// An empty march.
    #[must_use]
    pub const fn new() -> Self {
        Self { sections: [Section::EMPTY; 3], bench: Bench::new(), harvest: Harvest::new() }
    }

    /// Marches the line.
    ///
    /// * `stride` — stations from one record to the next, at least 1: a stage has (N − 1) · stride stations.
    ///
    /// # Errors
    /// Where the gas of a stage turns back; the harvest is then of no use.
    pub fn run(&mut self, line: &Line, properties: &Properties, stride: usize) -> Result<(), Refusal> {
        let harvest = &mut self.harvest;
        harvest.start(line);
        let law = law(line);
        let seeds = harvest.weight.map(|weight| weight * line.seeds.rate);
        let (classes, count, middle) = (harvest.classes, harvest.count, harvest.middle);
        let [a, b, c] = &mut self.sections;
        let (mut now, mut one, mut two) = (a, b, c);
        *one = Section::EMPTY;
        let mut leaving = [0.0; SPECIES];
        let mut above: Option<(f64, f64)> = None;
        for (number, (stage, record)) in line.stages.iter().zip(&mut harvest.stages).enumerate() {
            let rings = Rings::new(0.5 * stage.diameter, stage.core_share, P);
            let passage = Passage {
                line,
                stage,
                properties,
                law: &law,
                classes: &classes,
                count,
                middle,
                seeds: &seeds,
                rings,
                per_time: 0.0,
            };
            let mut shares = [0.0; SPECIES];
            for s in 0..SPECIES {
                let entering = leaving[s] + stage.fed[s];
                record.entered[s] = entering;
                shares[s] = entering / stage.flow;
            }
            record.mixed_inlet = arriving(line, stage.flow, above);
            join(one, above.map(|(flow, _)| flow), &passage, &harvest.weight);
            passage.open(one, &shares);
            passage.settle(one, stage.wall.temperature(0.0));
            record.open(one, &passage);
            let step = stage.length / ((N - 1) * stride.max(1)) as f64;
            let mut station = 0_u32;
            for n in 1..N {
                for _ in 0..stride.max(1) {
                    station += 1;
                    let first = station == 1;
                    let up = Upstream {
                        one,
                        two: if first { one } else { two },
                        before: one,
                        difference: if first { Difference::first(step) } else { Difference::later(step) },
                        first,
                        z: step * f64::from(station),
                        step,
                    };
                    passage.advance(now, &up, &mut self.bench).map_err(|turn| Refusal { stage: number, turn })?;
                    record.watch(now, &passage, up.z);
                    (now, one, two) = (two, now, one);
                }
                record.note(n, one, &passage, step * f64::from(station));
            }
            record.close(one, &passage);
            leaving = record.outlet;
            above = Some((stage.flow, passage.bulk(&one.temperature)));
        }
        Ok(())
    }
}

/// The law of growth of a line.
#[must_use]
pub fn law(line: &Line) -> Law {
    let speed =
        |s: usize| line.species.get(s).map_or(1.0, |species| sqrt(8.0 * GAS_CONSTANT / (PI * species.molar_mass)));
    Law {
        growth: line.growth,
        pair_volume: line.material.pair_volume(),
        cap_area: crate::wire::cap_area_ratio(line.growth.contact_angle),
        pressure: line.pressure,
        speed: [speed(0), speed(1)],
    }
}

/// The seed classes of a line: the Gauss nodes of each of its seed groups. Gives the classes, their number, and which is nearest the
/// median seed.
#[must_use]
pub fn classes<const C: usize>(line: &Line) -> ([Class; C], usize, usize) {
    let mut classes = [Class::default(); C];
    let mut count = 0;
    let mut slots = classes.iter_mut();
    for group in &line.seeds.groups {
        for (node, weight) in group.nodes {
            if let Some(slot) = slots.next() {
                *slot = Class::new(node, group.share * weight, &line.growth, line.material);
                count += 1;
            }
        }
    }
    let median = libm::log(line.seeds.median_diameter);
    let (mut middle, mut nearest) = (0, f64::MAX);
    for (k, class) in classes.iter().enumerate().take(count) {
        let distance = (class.ln_seed - median).abs();
        if distance < nearest {
            (middle, nearest) = (k, distance);
        }
    }
    (classes, count.min(NODES * crate::line::CHARGES), middle)
}

/// Enthalpy mean of what arrives at an inlet, K: the gas from above at its flow-mean temperature, all else at 25 °C.
fn arriving(line: &Line, flow: f64, above: Option<(f64, f64)>) -> f64 {
    const ROOM: f64 = 298.15;
    let Some((from_above, hot)) = above else { return ROOM };
    let added = (flow - from_above).max(0.0);
    let mut mixed = (from_above * hot + added * ROOM) / flow;
    // c_p changes little: the means of c_p on both sides settle within a few rounds.
    for _ in 0..4 {
        let warm = from_above * line.carrier.molar_heat_capacity(0.5 * (hot + mixed));
        let cold = added * line.carrier.molar_heat_capacity(0.5 * (ROOM + mixed));
        mixed = (warm * hot + cold * ROOM) / (warm + cold);
    }
    mixed
}

/// Carries paths and wires over a junction into the stage's inlet.
fn join<const R: usize, const P: usize, const C: usize>(
    section: &mut Section<R, P, C>,
    above: Option<f64>,
    passage: &Passage<R, P, C>,
    weight: &[f64; P],
) {
    let Some(above) = above else {
        passage.deal(section);
        return;
    };
    if !passage.stage.mixed {
        for p in 0..P {
            if flies(section.path[p]) {
                section.path[p] *= above / passage.stage.flow;
            }
            if flies(section.border[p]) {
                section.border[p] *= above / passage.stage.flow;
            }
        }
        return;
    }
    let mut mean = Mean::over(section, weight);
    mean.level(&mut section.crowd, |s| 1.0 / s);
    for lost in &mut section.lost {
        mean.level(lost, |s| s);
    }
    for k in 0..C {
        mean.level_column(&mut section.running, k);
        mean.level_column(&mut section.side, k);
        mean.level_column(&mut section.flank, k);
        for d in 0..DOPANTS {
            mean.level_column(&mut section.doping[d], k);
        }
    }
    passage.deal(section);
}

/// Mean over the paths that fly, weighted by the seeds they carry.
struct Mean<const P: usize> {
    weight: [f64; P],
}

impl<const P: usize> Mean<P> {
    fn over<const R: usize, const C: usize>(section: &Section<R, P, C>, weight: &[f64; P]) -> Self {
        let mut flying = [0.0; P];
        let mut sum = 0.0;
        for p in 0..P {
            flying[p] = if flies(section.path[p]) { weight[p] } else { 0.0 };
            sum += flying[p];
        }
        if sum > 0.0 {
            for w in &mut flying {
                *w /= sum;
            }
        }
        Self { weight: flying }
    }

    /// Sets all to the mean of `of(value)`, taken back by `of`, its own inverse: 1/S is levelled through S.
    fn level(&mut self, values: &mut [f64; P], of: impl Fn(f64) -> f64) {
        let mut sum = 0.0;
        for p in 0..P {
            sum += self.weight[p] * of(values[p]);
        }
        *values = [of(sum); P];
    }

    fn level_column<const C: usize>(&mut self, values: &mut [[f64; C]; P], k: usize) {
        let mut sum = 0.0;
        for p in 0..P {
            sum += self.weight[p] * values[p].get(k).copied().unwrap_or(0.0);
        }
        for row in values.iter_mut() {
            if let Some(value) = row.get_mut(k) {
                *value = sum;
            }
        }
    }
}

/// Share ψ of the seeds inside the middle of each path's ring, where the paths start, for a core share f.
#[must_use]
pub fn positions<const P: usize>(f: f64) -> [f64; P] {
    let mut out = [0.0; P];
    let mut inner = 0.0;
    for (p, position) in out.iter_mut().enumerate() {
        let part = (p + 1) as f64 / P as f64;
        let outer = depth_of_share(f * part * part);
        *position = crate::flow::share_of_depth(0.5 * (inner + outer)) / f;
        inner = outer;
    }
    out
}
