//! Two harvests judged into a report.
//!
//! Takes a [`Line`] and what the march left on a coarse and on a fine grid; fills a [`Report`]. Both the march and the rings are second order and
//! the fine grid is twice as fine in both, so every figure that both grids give is
//!
//! ```text
//! φ = φ_fine + (φ_fine − φ_coarse)/3                                                                     (1)
//! ```
//!
//! Where that would make a positive amount negative, the fine grid's stands. Shapes (percentiles, histograms, the population) are those of the fine
//! grid, moved and stretched to the mean and standard deviation of (1). With one harvest given twice, (1) is that harvest.
//!
//! Figures are given in the trade units of the report. The order of the fields follows it: stages in `stages.rs`, wires in `wires.rs`.

mod stages;
mod warnings;
mod wires;

use crate::caution::cautions;
use crate::harvest::Harvest;
use crate::line::{Line, SPECIES, STAGES};
use crate::march::Refusal;
use crate::number::whole;
use crate::report::{At, LineBalance, Numerics, Plant, Refused, Report, Seeds, Warning};
use crate::root::sqrt;
use crate::seed;
use crate::statistics::{Moments, Quantity, Shape, Table, Wires};
use crate::units::{AVOGADRO, SCCM};
use crate::verdict::{Signs, StageSigns, verdict};
use core::fmt::Write;
use heapless::String;
use libm::exp;

/// mol/s to µmol/min.
const UMOL_PER_MIN: f64 = 60e6;
/// m to nm.
const NM: f64 = 1e9;

/// A line with its two harvests.
#[derive(Debug)]
pub struct Pair<'a, const R: usize, const P: usize, const S: usize, const Q: usize, const C: usize, const N: usize> {
    /// The line.
    pub line: &'a Line,
    /// The coarse grid: `R` rings, `P` paths.
    pub coarse: &'a Harvest<R, P, C, N>,
    /// The fine grid: `S` rings, `Q` paths.
    pub fine: &'a Harvest<S, Q, C, N>,
    /// Stations of a stage on the fine grid.
    pub stations: u32,
}

/// (1).
#[inline]
#[must_use]
pub fn extrapolated(coarse: f64, fine: f64) -> f64 {
    fine + (fine - coarse) / 3.0
}

/// (1) for an amount that cannot be negative.
#[inline]
#[must_use]
pub fn amount(coarse: f64, fine: f64) -> f64 {
    let value = extrapolated(coarse, fine);
    if value >= 0.0 {
        value
    } else if fine < 0.0 {
        // What is left of a trace that is spent may be rounding on either side of nothing; NaN stays what it is.
        0.0
    } else {
        fine
    }
}

/// A figure on both grids, extrapolated: `both!(self, |harvest| …)`.
macro_rules! both {
    ($pair:expr, |$harvest:ident| $figure:expr) => {
        $crate::judge::extrapolated(
            {
                let $harvest = $pair.coarse;
                $figure
            },
            {
                let $harvest = $pair.fine;
                $figure
            },
        )
    };
}

/// The same for an amount.
macro_rules! both_amounts {
    ($pair:expr, |$harvest:ident| $figure:expr) => {
        $crate::judge::amount(
            {
                let $harvest = $pair.coarse;
                $figure
            },
            {
                let $harvest = $pair.fine;
                $figure
            },
        )
    };
}
pub(crate) use {both, both_amounts};

/// Figures of a wire, a table a group of kept stages, gathered from a harvest.
#[derive(Clone, Debug)]
pub(crate) struct Gathered<const P: usize, const C: usize> {
    table: [Table<P, C>; STAGES],
    position: [[f64; P]; STAGES],
    groups: usize,
}

impl<const P: usize, const C: usize> Gathered<P, C> {
    pub(crate) fn quantity(&self) -> Quantity<'_, P, C> {
        let groups = self.groups.min(STAGES);
        Quantity {
            groups: self.table.get(..groups).unwrap_or(&[]),
            position: self.position.get(..groups).unwrap_or(&[]),
        }
    }

    /// Adds to every wire what its class decides.
    pub(crate) fn add(mut self, of_class: impl Fn(usize) -> f64) -> Self {
        if let Some(table) = self.table.first_mut() {
            for row in table {
                for (k, value) in row.iter_mut().enumerate() {
                    *value += of_class(k);
                }
            }
        }
        self
    }
}

/// Which group of kept stages a stage belongs to.
pub(crate) fn group(line: &Line, stage: usize) -> usize {
    line.stages.iter().take(stage + 1).filter(|stage| stage.mixed).count()
}

impl<const R: usize, const P: usize, const C: usize, const N: usize> Harvest<R, P, C, N> {
    /// A figure of stages `from` up to `to`, by stage, path and class, summed within groups of kept stages.
    pub(crate) fn gather(
        &self,
        line: &Line,
        stages: core::ops::Range<usize>,
        of: impl Fn(usize, usize, usize) -> f64,
    ) -> Gathered<P, C> {
        let mut out = Gathered { table: [[[0.0; C]; P]; STAGES], position: [[0.0; P]; STAGES], groups: 0 };
        let first = group(line, stages.start);
        let mut last = None;
        for (number, stage) in self.stages.iter().enumerate().take(line.stages.len()) {
            if !stages.contains(&number) {
                continue;
            }
            let slot = group(line, number) - first;
            let (Some(table), Some(position)) = (out.table.get_mut(slot), out.position.get_mut(slot)) else { continue };
            if last != Some(slot) {
                // A later group's paths were dealt by its first stage; in a group that is entered half-way the order of
                // the paths is the same.
                *position = stage.position;
                last = Some(slot);
                out.groups = slot + 1;
            }
            for (p, row) in table.iter_mut().enumerate() {
                for (k, value) in row.iter_mut().enumerate().take(self.count) {
                    *value += of(number, p, k);
                }
            }
        }
        out
    }

    /// Length grown in stages `from` up to `to`.
    pub(crate) fn lengths(&self, line: &Line, stages: core::ops::Range<usize>) -> Gathered<P, C> {
        self.gather(line, stages, |s, p, k| self.stages[s.min(STAGES - 1)].length[p][k])
    }

    /// What the stages laid on the sidewall, as a radius.
    pub(crate) fn coats(&self, line: &Line, stages: core::ops::Range<usize>) -> Gathered<P, C> {
        self.gather(line, stages, |s, p, k| {
            let stage = &self.stages[s.min(STAGES - 1)];
            stage.coat[p] - stage.bare[p][k]
        })
    }

    /// Mean over wires of a gathered figure.
    pub(crate) fn mean(&self, line: &Line, gathered: &Gathered<P, C>) -> f64 {
        Wires::of(line, self).moments(&gathered.quantity()).mean
    }

    /// Mean over the seeds of a figure of each path.
    pub(crate) fn over_paths(&self, values: &[f64; P]) -> f64 {
        let mut sum = 0.0;
        for p in 0..P {
            sum += self.weight[p] * values[p];
        }
        sum
    }

    /// Mean number of single seeds, of 1, at the inlet (0) or the exit (1) of a stage: lost paths carry none.
    pub(crate) fn single(&self, stage: usize, end: usize) -> f64 {
        let Some(record) = self.stages.get(stage) else { return 0.0 };
        let Some(single) = record.single.get(end) else { return 0.0 };
        let mut sum = 0.0;
        for p in 0..P {
            let flies = record.flying[p] || end == 0;
            sum += if flies { self.weight[p] * single[p] } else { 0.0 };
        }
        sum
    }
}

/// Moments on both grids, extrapolated, with the shape of the fine one.
#[derive(Clone, Debug)]
pub(crate) struct Fitted {
    pub(crate) moments: Moments,
    shape: Shape,
}

impl Fitted {
    pub(crate) fn spread(&self, scale: f64) -> crate::report::Spread {
        let mean = self.moments.mean * scale;
        let deviation = self.deviation() * scale;
        let at = |share: f64| self.percentile(share) * scale;
        crate::report::Spread {
            mean,
            sd: deviation,
            cv: (mean > 0.0).then(|| deviation / mean),
            p05: at(0.05),
            p25: at(0.25),
            p50: at(0.5),
            p75: at(0.75),
            p95: at(0.95),
        }
    }

    pub(crate) fn deviation(&self) -> f64 {
        sqrt(self.moments.variance.max(0.0))
    }

    fn stretch(&self) -> f64 {
        // A shape without width stays where it is.
        if self.shape.deviation > 0.0 { self.deviation() / self.shape.deviation } else { 0.0 }
    }

    pub(crate) fn percentile(&self, share: f64) -> f64 {
        (self.moments.mean + (self.shape.percentile(share) - self.shape.mean) * self.stretch()).max(0.0)
    }

    /// Share of the wires between two values.
    pub(crate) fn share_between(&self, low: f64, high: f64) -> f64 {
        let stretch = self.stretch();
        if !(stretch > 0.0) {
            return if (low..=high).contains(&self.moments.mean) { 1.0 } else { 0.0 };
        }
        let back = |value: f64| self.shape.mean + (value - self.moments.mean) / stretch;
        self.shape.share_below(back(high)) - self.shape.share_below(back(low))
    }
}

impl<const R: usize, const P: usize, const S: usize, const Q: usize, const C: usize, const N: usize>
    Pair<'_, R, P, S, Q, C, N>
{
    /// Fills a report, warnings, cautions and verdict among it.
    pub fn judge(&self, report: &mut Report) {
        report.clear();
        for warning in &self.line.warnings {
            report.warn(Warning::from(warning));
        }
        report.cautions = cautions(self.line);
        report.numerics = Some(self.numerics());
        report.seeds = Some(self.seeds());
        self.stages(report);
        self.balance(report);
        self.wires(report);
        self.plant(report);
        self.warn(report);
        report.verdict = verdict(self.line, report, &self.signs());
    }

    /// Moments and shape of a gathered figure.
    pub(crate) fn fit(&self, coarse: &Gathered<P, C>, fine: &Gathered<Q, C>) -> Fitted {
        let a = Wires::of(self.line, self.coarse).moments(&coarse.quantity());
        let wires = Wires::of(self.line, self.fine);
        let b = wires.moments(&fine.quantity());
        let moments = Moments {
            mean: amount(a.mean, b.mean),
            variance: {
                // Standard deviations are what is extrapolated, as they are what is compared.
                let deviation = amount(sqrt(a.variance.max(0.0)), sqrt(b.variance.max(0.0)));
                deviation * deviation
            },
            paths: amount(a.paths, b.paths),
            size: amount(a.size, b.size),
        };
        Fitted { moments, shape: Shape::of(&wires, &fine.quantity()) }
    }

    fn stage_count(&self) -> usize {
        self.line.stages.len().min(STAGES)
    }

    fn numerics(&self) -> Numerics {
        let all = 0..self.stage_count();
        let length = |mean: f64| mean * NM;
        let coarse = length(self.coarse.mean(self.line, &self.coarse.lengths(self.line, all.clone())));
        let fine = length(self.fine.mean(self.line, &self.fine.lengths(self.line, all)));
        let mut balance_error = 0.0_f64;
        for s in 0..self.line.species.len().min(SPECIES) {
            balance_error = balance_error.max(closure(self.coarse, self.line, s).abs());
            balance_error = balance_error.max(closure(self.fine, self.line, s).abs());
        }
        Numerics {
            rings: u32::try_from(S).unwrap_or(u32::MAX),
            stations: self.stations,
            classes: u32::try_from(self.fine.count).unwrap_or(u32::MAX),
            length_error_nm: (fine - coarse).abs() / 3.0,
            balance_error,
            wires_against_gas: both!(self, |h| against_gas(h, self.line)).abs(),
        }
    }

    fn seeds(&self) -> Seeds {
        let line = self.line;
        // A figure of the seed alone, the same on all paths; both grids agree on it.
        let of = |figure: &dyn Fn(f64) -> f64| {
            let fine = self
                .fine
                .gather(line, 0..1, |_, _, _| 0.0)
                .add(|k| self.fine.classes.get(k).map_or(0.0, |class| figure(class.ln_seed)));
            let wires = Wires::of(line, self.fine);
            let moments = wires.moments(&fine.quantity());
            Fitted { moments, shape: Shape::of(&wires, &fine.quantity()) }.spread(NM)
        };
        let growth = &line.growth;
        let ratio = line.material.group_iii_molar_volume() / crate::material::GOLD_MOLAR_VOLUME;
        let wire = |ln_seed: f64| {
            crate::wire::wire_diameter(exp(ln_seed), growth.group_iii_share, growth.contact_angle, ratio)
        };
        let classifier = line.seeds.classifier.as_ref();
        Seeds {
            diameter_nm: of(&exp),
            multiply_charged_share: classifier.map(|passed| passed.multiply_charged_share),
            wire_diameter_nm: of(&wire),
            passed_share: classifier.map(|passed| passed.share),
            // seeds/s over cm³/s at standard conditions
            concentration_per_cm3: line.seeds.rate / (line.aerosol / SCCM / 60.0),
            charges: line.seeds.charges,
            selected_nm: classifier.map(|passed| passed.selected * NM),
            centroid_mobility_m2_per_v_s: classifier.map(|passed| passed.centroid_mobility),
        }
    }

    fn balance(&self, report: &mut Report) {
        for (s, species) in self.line.species.iter().enumerate().take(SPECIES) {
            if species.part == crate::line::Part::Fragment {
                continue;
            }
            let fed = fed(self.line, s);
            let part = |value: f64| if fed > 0.0 { value / fed } else { 0.0 };
            let sums = |taken: [f64; 3], place: usize| taken.get(place).copied().unwrap_or(0.0);
            let wires = both_amounts!(self, |h| part(sums(gone(h, self.line, s), 0)));
            let wall = both_amounts!(self, |h| part(sums(gone(h, self.line, s), 1)));
            let exhaust = both_amounts!(self, |h| part(sums(gone(h, self.line, s), 2)));
            let closure = both!(self, |h| closure(h, self.line, s));
            // SPECIES entries are room for all.
            let _ = report.balance.push(LineBalance {
                species: species.name.clone(),
                fed_umol_per_min: fed * UMOL_PER_MIN,
                in_wires: wires,
                on_wall: wall,
                exhaust,
                closure,
            });
        }
    }

    fn plant(&self, report: &mut Report) {
        let last = self.stage_count().saturating_sub(1);
        let wires_per_s = self.line.seeds.rate * both_amounts!(self, |h| h.single(last, 1));
        let wanted = self.line.order.as_ref().and_then(|order| order.wires);
        let run_time_h = wanted.filter(|_| wires_per_s > 0.0).map(|wires| wires / wires_per_s / 3600.0);
        report.plant = Some(Plant { wires_per_s, run_time_h });
    }

    fn signs(&self) -> Signs {
        let mut signs = Signs::default();
        for (n, (signs, stage)) in signs.stages.iter_mut().zip(&self.line.stages).enumerate() {
            let (Some(record), Some(wall)) = (self.fine.stages.get(n), stage.wall.last_zone()) else {
                continue;
            };
            let trace = &record.trace;
            let place = (0..N).rev().find(|place| trace.z[*place] <= wall);
            *signs = StageSigns {
                left_before_last_zone: place
                    .map(|place| trace.flow_left[place])
                    .filter(|_| record.entered[0] + record.entered[1] > 0.0),
                supply_over_kinetic: None,
            };
        }
        for (signs, record) in signs.stages.iter_mut().zip(&self.fine.stages).take(self.stage_count()) {
            signs.supply_over_kinetic = Some(record.supply_over_kinetic).filter(|ratio| *ratio > 0.0);
        }
        signs
    }
}

/// What is fed of a species over the whole line, mol/s; of a parent, what breaks to its fragment among it.
fn fed(line: &Line, s: usize) -> f64 {
    line.stages.iter().map(|stage| stage.fed.get(s).copied().unwrap_or(0.0)).sum()
}

/// In wires, on walls and in the exhaust, mol/s; parent and fragment together.
fn gone<const R: usize, const P: usize, const C: usize, const N: usize>(
    harvest: &Harvest<R, P, C, N>,
    line: &Line,
    s: usize,
) -> [f64; 3] {
    let fragment = s == 0;
    let sum = |values: &[f64; SPECIES]| values.get(s).copied().unwrap_or(0.0) + if fragment { values[1] } else { 0.0 };
    let mut out = [0.0; 3];
    for record in harvest.stages.iter().take(line.stages.len()) {
        out[0] += sum(&record.in_wires);
        out[1] += sum(&record.on_wall);
        out[2] = sum(&record.outlet);
    }
    out
}

/// How far a species' balance over the line is from closing, of what was fed.
fn closure<const R: usize, const P: usize, const C: usize, const N: usize>(
    harvest: &Harvest<R, P, C, N>,
    line: &Line,
    s: usize,
) -> f64 {
    let fed = fed(line, s);
    if !(fed > 0.0) || s == 1 {
        return 0.0;
    }
    let [wires, wall, exhaust] = gone(harvest, line, s);
    (wires + wall + exhaust) / fed - 1.0
}

/// What the wires hold of group III against what the gas lost to them, less 1.
fn against_gas<const R: usize, const P: usize, const C: usize, const N: usize>(
    harvest: &Harvest<R, P, C, N>,
    line: &Line,
) -> f64 {
    let Some(last) = line.stages.len().checked_sub(1).and_then(|n| harvest.stages.get(n)) else { return 0.0 };
    let mut volume = 0.0;
    for p in 0..P {
        for k in 0..harvest.count.min(C) {
            let both = last.volume[0][p][k] + last.volume[1][p][k];
            volume += harvest.weight[p] * harvest.classes[k].weight * both;
        }
    }
    let held = line.seeds.rate * volume / (line.material.pair_volume() * AVOGADRO);
    let [taken, ..] = gone(harvest, line, 0);
    if taken > 0.0 { held / taken - 1.0 } else { 0.0 }
}

/// Fills a report for a line whose gas turns back: nothing but that, the warnings of the job and the cautions.
pub fn refuse(line: &Line, refusal: &Refusal, report: &mut Report) {
    report.clear();
    for warning in &line.warnings {
        report.warn(Warning::from(warning));
    }
    report.cautions = cautions(line);
    let mut path = String::new();
    let mut text = String::new();
    let z = refusal.turn.z * 1e3;
    let ratio = refusal.turn.grashof_over_reynolds;
    // Both have room for any number.
    let _ = write!(path, "stages[{}]", refusal.stage);
    let _ = write!(text, "gas turns back at z = {} mm (Gr/Re = {}); not predicted", whole(z), whole(ratio));
    let at = match refusal.turn.place {
        crate::flow::Place::Wall => At::Wall,
        crate::flow::Place::Axis => At::Axis,
        crate::flow::Place::Between => At::Between,
    };
    report.refused = Some(Refused { path, z_mm: z, at, grashof_over_reynolds: ratio, text });
}

/// Share of the flow-averaged loss of seeds to an unsheathed wall.
pub(crate) fn unsheathed(exposure: f64) -> f64 {
    1.0 - seed::penetration(exposure)
}
