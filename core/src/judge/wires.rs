//! The wires of a report.

use super::{Fitted, NM, Pair, both_amounts, group};
use crate::line::{DOPANTS, Doping, STAGES};
use crate::report::{Along, Carriers, DopantAlong, Histogram, PopulationRow, Report, Segment, SpreadFrom, Transition};
use crate::root::sqrt;
use crate::statistics;
use core::f64::consts::SQRT_2;
use heapless::Vec;
use libm::{floor, log10, pow};

/// 1/m³ to 1/cm³.
const PER_CM3: f64 = 1e-6;
/// Net carriers below which a segment is called undoped, 1/cm³ (common practice, no source).
const UNDOPED: f64 = 1e17;
/// √10.
const SQRT_10: f64 = 3.162_277_660_168_379_5;
/// Most bins of a histogram.
const BINS: f64 = 64.0;
/// Change of the net doping at a junction, of the larger side, below which there is no transition.
const NO_CHANGE: f64 = 0.01;

impl<const R: usize, const P: usize, const S: usize, const Q: usize, const C: usize, const N: usize>
    Pair<'_, R, P, S, Q, C, N>
{
    /// Everything about the wires that leave.
    pub(super) fn wires(&self, report: &mut Report) {
        let line = self.line;
        let all = 0..self.stage_count();
        let out = report.wires.give();
        let length = self.fit(&self.coarse.lengths(line, all.clone()), &self.fine.lengths(line, all.clone()));
        out.length_nm = length.spread(NM);
        histogram(&length, &mut out.histogram);
        out.spread_from = self.spread_from(&length);
        let tip_coarse = self.coarse.gather(line, 0..1, |_, _, _| 0.0).add(|k| self.coarse.classes[k].diameter);
        let tip_fine = self.fine.gather(line, 0..1, |_, _, _| 0.0).add(|k| self.fine.classes[k].diameter);
        out.diameter_nm.tip = self.fit(&tip_coarse, &tip_fine).spread(NM);
        let base_coarse = doubled(self.coarse.coats(line, all.clone())).add(|k| self.coarse.classes[k].diameter);
        let base_fine = doubled(self.fine.coats(line, all.clone())).add(|k| self.fine.classes[k].diameter);
        out.diameter_nm.base = self.fit(&base_coarse, &base_fine).spread(NM);
        self.along(&mut out.along);
        let mut start = 0.0;
        for n in all {
            let Some(segment) = out.segments.add() else { return };
            segment.stage = n;
            segment.start_nm = start;
            self.segment(n, segment);
            segment.transition = transition(&out.along, segment, n);
            start += segment.length_nm.mean;
        }
        self.population(&mut out.population);
    }

    fn spread_from(&self, length: &Fitted) -> SpreadFrom {
        let m = &length.moments;
        if !(m.variance > 0.0) {
            return SpreadFrom::default();
        }
        let (paths, size) = (m.paths / m.variance, m.size / m.variance);
        // With all stages kept a seed would meet the same share of the core in each: lengths add along the paths. Extrapolated as the
        // deviation of the length is, so that a line without mixed junctions has 0.
        let kept = both_amounts!(self, |h| {
            let all = h.lengths(self.line, 0..self.stage_count()).joined();
            sqrt(statistics::Wires::of(self.line, h).moments(&all.quantity()).variance.max(0.0))
        });
        let kept = kept * kept;
        SpreadFrom {
            paths: Some(paths),
            seed_size: Some(size),
            both: Some(1.0 - paths - size),
            mixing: Some((kept - m.variance) / m.variance),
        }
    }

    fn segment(&self, n: usize, out: &mut Segment) {
        let line = self.line;
        let length = self.fit(&self.coarse.lengths(line, n..n + 1), &self.fine.lengths(line, n..n + 1));
        out.length_nm = length.spread(NM);
        histogram(&length, &mut out.histogram);
        let later = n + 1..self.stage_count();
        out.coat_nm = both_amounts!(self, |h| h.mean(line, &h.coats(line, later.clone()))) * NM;
        out.own_taper_nm = both_amounts!(self, |h| h.mean(line, &h.coats(line, n..n + 1))) * NM;
        let grew = length.moments.mean > 0.0;
        let ordered = line.order.as_ref().and_then(|order| order.segments.get(n).copied().flatten());
        out.share_inside = ordered.map(|segment| {
            length.share_between(segment.length - segment.tolerance, segment.length + segment.tolerance)
        });
        if !grew {
            return;
        }
        let mut net = Carriers::default();
        for (d, (name, acceptor)) in self.dopants().into_iter().enumerate() {
            let along = self.dopant(n, d);
            let sign = if acceptor { -1.0 } else { 1.0 };
            net.mean += sign * along.mean_per_cm3;
            net.start += sign * along.start_per_cm3;
            net.end += sign * along.end_per_cm3;
            // As many entries as dopants.
            let _ = out.dopants.insert(name, along);
        }
        out.net_per_cm3 = Some(net);
        out.doping = Some(if net.mean.abs() < UNDOPED {
            Doping::I
        } else if net.mean > 0.0 {
            Doping::N
        } else {
            Doping::P
        });
    }

    /// Names of the dopants, and whether each is an acceptor.
    fn dopants(&self) -> Vec<(heapless::String<8>, bool), DOPANTS> {
        let dopants =
            self.line.species.iter().filter_map(|species| {
                species.doping.as_ref().map(|kinetics| (species.name.clone(), kinetics.acceptor))
            });
        let mut list = Vec::new();
        for dopant in dopants.take(DOPANTS) {
            // There is room for as many.
            let _ = list.push(dopant);
        }
        list
    }

    /// Dopant `d` in segment `n`: mean over length, then over wires by length.
    fn dopant(&self, n: usize, d: usize) -> DopantAlong {
        let over = |content: f64, length: f64| if length > 0.0 { content / length } else { 0.0 };
        let at = |end: usize| {
            both_amounts!(self, |h| h.mean(
                self.line,
                &h.gather(self.line, n..n + 1, |s, p, k| h.stages[s.min(STAGES - 1)].doping[end.min(1)]
                    [d.min(DOPANTS - 1)][p][k])
            )) * PER_CM3
        };
        let mean = both_amounts!(self, |h| over(
            h.mean(
                self.line,
                &h.gather(self.line, n..n + 1, |s, p, k| h.stages[s.min(STAGES - 1)].content[d.min(DOPANTS - 1)][p][k])
            ),
            h.mean(self.line, &h.lengths(self.line, n..n + 1))
        ));
        DopantAlong { mean_per_cm3: mean * PER_CM3, start_per_cm3: at(0), end_per_cm3: at(1) }
    }

    /// The mean wire: middle class, mean over the paths, one point a record where the wire grew.
    fn along(&self, out: &mut Along) {
        let stages = self.stage_count();
        let diameter = self.fine.classes[self.fine.middle.min(C - 1)].diameter * NM;
        let mut start = 0.0;
        let mut last = f64::MIN;
        for n in 0..stages {
            let behind: f64 = (n + 1..stages).map(|s| self.coat_at(s, N - 1)).sum();
            let whole = self.coat_at(n, N - 1);
            let grown = |i: usize| both_amounts!(self, |h| h.stages[n].trace.grown[i]) * NM;
            for i in 0..N {
                // The first point of a segment is where it begins: before, only the seed filled.
                let begins = last < start && i + 1 < N && grown(i + 1) > 0.0;
                let x = start + grown(i);
                if !(x > last) || !(begins || grown(i) > 0.0) {
                    continue;
                }
                last = x;
                let (mut donors, mut acceptors) = (0.0, 0.0);
                for (d, (_, acceptor)) in self.dopants().into_iter().enumerate() {
                    let tip = if begins && i == 0 || grown(i) <= 0.0 {
                        self.dopant(n, d).start_per_cm3
                    } else {
                        both_amounts!(self, |h| h.stages[n].trace.doping[d.min(DOPANTS - 1)][i]) * PER_CM3
                    };
                    *(if acceptor { &mut acceptors } else { &mut donors }) += tip;
                }
                // As many points as there is room for; the last ones are left out.
                let _ = out.x_nm.push(x);
                let _ = out.donors_per_cm3.push(donors);
                let _ = out.acceptors_per_cm3.push(acceptors);
                let _ = out.diameter_nm.push(diameter + 2.0 * (behind + whole - self.coat_at(n, i)));
            }
            start += grown(N - 1);
        }
    }

    /// Mean over the paths of what stage `n` has laid on the sidewall by record `i`, nm.
    fn coat_at(&self, n: usize, i: usize) -> f64 {
        both_amounts!(self, |h| h.stages[n.min(STAGES - 1)].trace.coat[i.min(N - 1)]) * NM
    }

    fn population(&self, out: &mut Vec<PopulationRow, { crate::report::POPULATION }>) {
        let line = self.line;
        let stages = self.stage_count();
        let mut first = 0;
        while first < stages {
            let here = group(line, first);
            let end = (first..stages).find(|n| group(line, *n) != here).unwrap_or(stages);
            let weights = statistics::Wires::of(line, self.fine);
            for p in 0..Q {
                for k in 0..self.fine.count.min(C) {
                    let sum = |of: &dyn Fn(usize) -> f64| (first..end).map(of).sum::<f64>();
                    let stage = |n: usize| &self.fine.stages[n.min(STAGES - 1)];
                    let tip = self.fine.classes[k].diameter * NM;
                    // Room for every path and class of every group.
                    let _ = out.push(PopulationRow {
                        stages: places(first, end),
                        path: p,
                        class: k,
                        weight: weights.weight[p] * weights.class[k],
                        length_nm: sum(&|n| stage(n).length[p][k]) * NM,
                        tip_nm: tip,
                        base_nm: tip + 2.0 * sum(&|n| stage(n).coat[p] - stage(n).bare[p][k]) * NM,
                    });
                }
            }
            first = end;
        }
    }
}

fn doubled<const P: usize, const C: usize>(mut gathered: super::Gathered<P, C>) -> super::Gathered<P, C> {
    for table in &mut gathered.table {
        for row in table {
            for value in row {
                *value *= 2.0;
            }
        }
    }
    gathered
}

impl<const P: usize, const C: usize> super::Gathered<P, C> {
    /// All groups added along the paths, as if every stage were kept.
    fn joined(mut self) -> Self {
        let mut sum = [[0.0; C]; P];
        for table in self.table.iter().take(self.groups) {
            for (sum, row) in sum.iter_mut().zip(table) {
                for (sum, value) in sum.iter_mut().zip(row) {
                    *sum += value;
                }
            }
        }
        self.table[0] = sum;
        self.groups = 1;
        self
    }
}

/// The number of the series 1, 2, 5, 10 … nearest to `value` by its logarithm.
fn nearest_step(value: f64) -> f64 {
    let decade = pow(10.0, floor(log10(value)));
    let of_decade = value / decade;
    // Geometric means of neighbours: √2, √10, √50.
    let step = if of_decade < SQRT_2 {
        1.0
    } else if of_decade < SQRT_10 {
        2.0
    } else if of_decade < 5.0 * SQRT_2 {
        5.0
    } else {
        10.0
    };
    step * decade
}

/// Shares of the wires by length: bins nearest to a quarter of the standard deviation, at most 64.
fn histogram(length: &Fitted, out: &mut Histogram) {
    let mean = length.moments.mean * NM;
    if !(mean > 0.0) {
        return;
    }
    let (low, high) = (length.percentile(0.0) * NM, length.percentile(1.0) * NM);
    let mut width = nearest_step((length.deviation() * NM / 4.0).max(0.1));
    for _ in 0..8 {
        if (floor(high / width) - floor(low / width)) < BINS {
            break;
        }
        width = nearest_step(width * 2.2);
    }
    let first = floor(low / width);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most BINS, at least 0")]
    let bins = (floor(high / width) - first + 1.0).min(BINS) as usize;
    let _ = out.edges_nm.push(first * width);
    for bin in 0..bins {
        let edge = (first + bin as f64) * width;
        // Wires that the stretch brings beyond an end, such as those that did not grow, stand in the bin there.
        let low = if bin == 0 { f64::MIN } else { edge / NM };
        let high = if bin + 1 == bins { f64::MAX } else { (edge + width) / NM };
        let share = length.share_between(low, high);
        let _ = out.edges_nm.push(edge + width);
        let _ = out.share.push(share);
    }
}

/// Net doping of the mean wire at a point.
fn net(along: &Along, i: usize) -> Option<f64> {
    Some(along.donors_per_cm3.get(i)? - along.acceptors_per_cm3.get(i)?)
}

/// Numbers of the stages of a group.
fn places(first: usize, end: usize) -> Vec<usize, STAGES> {
    let mut list = Vec::new();
    for n in first..end {
        // A line has no more stages than there is room for.
        let _ = list.push(n);
    }
    list
}

/// The change of the net doping at a segment's start: from its value at the junction to the value of the segment that is farthest from it,
/// which is the plateau where there is one, and the peak where doping falls off again.
fn transition(along: &Along, segment: &Segment, n: usize) -> Option<Transition> {
    segment.net_per_cm3?;
    if n == 0 {
        return None;
    }
    let first = along.x_nm.iter().rposition(|x| *x <= segment.start_nm)?;
    let before = net(along, first)?;
    let end = segment.start_nm + segment.length_nm.mean;
    let mut level = before;
    for i in first..along.x_nm.len() {
        let (x, here) = (*along.x_nm.get(i)?, net(along, i)?);
        if x <= end && (here - before).abs() > (level - before).abs() {
            level = here;
        }
    }
    let change = level - before;
    if !(change.abs() > NO_CHANGE * level.abs().max(before.abs())) {
        return None;
    }
    let place = |share: f64| -> Option<f64> {
        let wanted = before + share * change;
        for i in first..along.x_nm.len().saturating_sub(1) {
            let (a, b) = (net(along, i)?, net(along, i + 1)?);
            let (x, y) = (*along.x_nm.get(i)?, *along.x_nm.get(i + 1)?);
            if (a - wanted) * (b - wanted) <= 0.0 && (b - a).abs() > 0.0 {
                return Some(x + (wanted - a) / (b - a) * (y - x));
            }
        }
        None
    };
    Some(Transition { offset_nm: place(0.5)? - segment.start_nm, width_nm: place(0.9)? - place(0.1)? })
}
