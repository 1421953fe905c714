//! Statistics of what leaves: means, spreads, percentiles and histograms over all wires.
//!
//! A figure of a wire is a sum over groups of kept stages, each a function of the seed size (class) and of the share ψ of the seeds inside its
//! path there: [`Quantity`]. Within a class the groups are independent, since `mixed` junctions deal the seeds anew:
//!
//! ```text
//! Var = Var_d(E_ψ x) + E_d[ Σ_groups Var_ψ(x_group) ],   V_streamline = Σ_groups Var_ψ(E_d x_group),   V_size = Var_d(E_ψ x)   (1)
//! Var_ψ(x) = Σ_p w_p [(x_p − x̄)² + (x_out − x_in)²/12]                                                   (2)
//! ```
//!
//! the last term because x varies inside a ring: its slope is that between neighbouring paths. Percentiles and histograms come from [`SAMPLES`]
//! wires laid evenly over size and paths: ψ of each group by a Kronecker sequence, x linear in ψ between the paths, the size by its
//! quantile, x by the parabola through the Gauss nodes in ln d. They give the shape; mean and standard deviation are those of (1).
//!
//! Range: any finite figures. Sources: (1) law of total variance. Kronecker sequence: Niederreiter 1992, Random Number Generation and Quasi-Monte Carlo
//! Methods (from memory).

use crate::harvest::Harvest;
use crate::line::{Line, NODES, QUANTILES, STAGES};
use crate::root::sqrt;

/// Wires that a distribution is drawn with.
pub const SAMPLES: usize = 2048;
/// Bins in which percentiles are counted.
const FINE: usize = 512;

/// Fractional parts of √2, √3, √5, √7, √11 and √13: the steps of the sequence in each group.
const STEPS: [f64; STAGES] = [
    0.414_213_562_373_095_05,
    0.732_050_807_568_877_3,
    0.236_067_977_499_789_7,
    0.645_751_311_064_590_6,
    0.316_624_790_355_399_85,
    0.605_551_275_463_989_3,
];

/// Figures of one group by path and class.
pub type Table<const P: usize, const C: usize> = [[f64; C]; P];

/// What is the same for all quantities of a harvest.
#[derive(Clone, Copy, Debug)]
pub struct Wires<'a, const P: usize, const C: usize> {
    /// Share of the seeds on each path, –; those that were lost weigh nothing; sums to 1.
    pub weight: [f64; P],
    /// Weights of the seed classes, –.
    pub class: [f64; C],
    /// ln of the seed diameter of each class.
    pub ln_seed: [f64; C],
    /// Number of classes.
    pub count: usize,
    /// The line.
    pub line: &'a Line,
}

/// A figure of a wire: a sum over groups.
#[derive(Clone, Copy, Debug)]
pub struct Quantity<'a, const P: usize, const C: usize> {
    /// One table a group.
    pub groups: &'a [Table<P, C>],
    /// ψ of each path in each group.
    pub position: &'a [[f64; P]],
}

/// Mean and variances (1).
#[derive(Clone, Copy, Debug, Default)]
pub struct Moments {
    /// Mean.
    pub mean: f64,
    /// Variance.
    pub variance: f64,
    /// V_streamline.
    pub paths: f64,
    /// V_size.
    pub size: f64,
}

impl<'a, const P: usize, const C: usize> Wires<'a, P, C> {
    /// The wires that a harvest on `R` rings with `N` records describes; `stages` of them.
    #[must_use]
    pub fn of<const R: usize, const N: usize>(line: &'a Line, harvest: &Harvest<R, P, C, N>) -> Self {
        let mut weight = harvest.weight;
        if let Some(last) = line.stages.len().checked_sub(1).and_then(|n| harvest.stages.get(n)) {
            let mut sum = 0.0;
            for p in 0..P {
                weight[p] = if last.flying[p] { weight[p] } else { 0.0 };
                sum += weight[p];
            }
            if sum > 0.0 {
                for w in &mut weight {
                    *w /= sum;
                }
            }
        }
        Self {
            weight,
            class: harvest.classes.map(|class| class.weight),
            ln_seed: harvest.classes.map(|class| class.ln_seed),
            count: harvest.count.min(C),
            line,
        }
    }

    /// Mean over the paths of one class of one table.
    fn path_mean(&self, table: &Table<P, C>, k: usize) -> f64 {
        let mut sum = 0.0;
        for p in 0..P {
            sum += self.weight[p] * table[p].get(k).copied().unwrap_or(0.0);
        }
        sum
    }

    /// Var_ψ of one column (2).
    fn path_variance(&self, values: &[f64; P], position: &[f64; P]) -> f64 {
        let mut mean = 0.0;
        for p in 0..P {
            mean += self.weight[p] * values[p];
        }
        let mut sum = 0.0;
        for p in 0..P {
            let across = slope(values, position, p) * ring_width::<P>(p);
            let off = values[p] - mean;
            sum += self.weight[p] * (off * off + across * across / 12.0);
        }
        sum
    }

    /// Mean and variances of a quantity (1).
    #[must_use]
    pub fn moments(&self, quantity: &Quantity<P, C>) -> Moments {
        let count = self.count.min(C);
        let mut by_class = [0.0; C];
        let mut out = Moments::default();
        for k in 0..count {
            for table in quantity.groups {
                by_class[k] += self.path_mean(table, k);
            }
            out.mean += self.class[k] * by_class[k];
        }
        for k in 0..count {
            let off = by_class[k] - out.mean;
            out.size += self.class[k] * off * off;
        }
        let mut within = 0.0;
        for (table, position) in quantity.groups.iter().zip(quantity.position) {
            let mut mean = [0.0; P];
            for k in 0..count {
                let mut column = [0.0; P];
                for p in 0..P {
                    column[p] = table[p][k];
                    mean[p] += self.class[k] * column[p];
                }
                within += self.class[k] * self.path_variance(&column, position);
            }
            out.paths += self.path_variance(&mean, position);
        }
        out.variance = out.size + within;
        out
    }

    /// Calls `each` with the figure of each of [`SAMPLES`] wires.
    pub fn draw(&self, quantity: &Quantity<P, C>, mut each: impl FnMut(f64)) {
        let groups = &self.line.seeds.groups;
        let (mut group, mut first, mut below) = (0, 0, 0.0);
        for i in 0..SAMPLES {
            let u = (i as f64 + 0.5) / SAMPLES as f64;
            while group + 1 < groups.len() && u > below + groups.get(group).map_or(0.0, |g| g.share) {
                below += groups.get(group).map_or(0.0, |g| g.share);
                group += 1;
                first += NODES;
            }
            let Some(seeds) = groups.get(group) else { return };
            let within = ((u - below) / seeds.share).clamp(0.0, 1.0);
            let lagrange = lagrange(&seeds.nodes, quantile(&seeds.quantiles, within));
            let mut value = 0.0;
            for ((table, position), step) in quantity.groups.iter().zip(quantity.position).zip(STEPS) {
                // Path share of this wire in this group; u itself is the size.
                let turn = (i as f64 + 0.5) * step;
                #[allow(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "below the number of samples"
                )]
                let psi = turn - (turn as u64) as f64;
                let (p, part) = self.between(position, psi);
                for (j, weight) in lagrange.iter().enumerate() {
                    let k = (first + j).min(C - 1);
                    value += weight * (table[p][k] + part * (table[p + 1][k] - table[p][k]));
                }
            }
            each(value);
        }
    }

    /// The pair of paths about a share ψ of the seeds, and where between: outside the first and last it goes on as between the last two.
    fn between(&self, position: &[f64; P], psi: f64) -> (usize, f64) {
        let mut p = 0;
        while p + 2 < P && position[p + 1] < psi && self.weight[p + 2] > 0.0 {
            p += 1;
        }
        let p = p.min(P.saturating_sub(2));
        (p, (psi - position[p]) / (position[p + 1] - position[p]))
    }
}

/// Width of ring p in ψ.
const fn ring_width<const P: usize>(p: usize) -> f64 {
    (2 * p + 1) as f64 / (P * P) as f64
}

/// dx/dψ at path p: that of the parabola through it and its neighbours, through the nearest three paths at the ends.
fn slope<const P: usize>(values: &[f64; P], position: &[f64; P], p: usize) -> f64 {
    if P < 3 {
        let (a, b) = (0, P - 1);
        return if a == b { 0.0 } else { (values[b] - values[a]) / (position[b] - position[a]) };
    }
    let m = p.clamp(1, P - 2);
    let (a, b, c) = (position[m - 1], position[m], position[m + 1]);
    let first = (values[m] - values[m - 1]) / (b - a);
    let second = (values[m + 1] - values[m]) / (c - b);
    let bend = (second - first) / (c - a);
    // Derivative of x_a + first (ψ − a) + bend (ψ − a)(ψ − b).
    first + bend * (2.0 * position[p.min(P - 1)] - a - b)
}

/// ln d at a probability, linear between the equal-probability points.
fn quantile(quantiles: &[f64; QUANTILES], probability: f64) -> f64 {
    let place = probability * QUANTILES as f64 - 0.5;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "saturates, and is brought inside")]
    let k = (place.max(0.0) as usize).min(QUANTILES - 2);
    let part = (place - k as f64).clamp(0.0, 1.0);
    quantiles[k] + part * (quantiles[k + 1] - quantiles[k])
}

/// Weights of the nodes in the parabola through them at `x`; where the nodes coincide, the middle one alone.
fn lagrange(nodes: &[(f64, f64); NODES], x: f64) -> [f64; NODES] {
    let [a, b, c] = nodes.map(|node| node.0);
    let (ab, bc, ac) = (b - a, c - b, c - a);
    if !(ab > 1e-12) || !(bc > 1e-12) {
        return [0.0, 1.0, 0.0];
    }
    [(x - b) * (x - c) / (ab * ac), -(x - a) * (x - c) / (ab * bc), (x - a) * (x - b) / (ac * bc)]
}

/// A distribution counted in even bins between its least and largest value.
#[derive(Clone, Debug)]
pub struct Shape {
    low: f64,
    width: f64,
    count: [u32; FINE],
    /// Mean of the wires drawn.
    pub mean: f64,
    /// Standard deviation of the wires drawn.
    pub deviation: f64,
}

impl Shape {
    /// Draws a quantity.
    #[must_use]
    pub fn of<const P: usize, const C: usize>(wires: &Wires<P, C>, quantity: &Quantity<P, C>) -> Self {
        let mut drawn = [0.0; SAMPLES];
        let mut slots = drawn.iter_mut();
        let (mut low, mut high, mut sum) = (f64::MAX, f64::MIN, 0.0);
        wires.draw(quantity, |x| {
            low = low.min(x);
            high = high.max(x);
            sum += x;
            if let Some(slot) = slots.next() {
                *slot = x;
            }
        });
        let mean = sum / SAMPLES as f64;
        let width = (high - low) / FINE as f64;
        let per_width = if width > 0.0 { 1.0 / width } else { 0.0 };
        let mut shape = Self { low, width, count: [0; FINE], mean, deviation: 0.0 };
        let mut squares = 0.0;
        for x in drawn {
            squares += (x - mean) * (x - mean);
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "saturates, and is asked for by `get`"
            )]
            let bin = ((x - low) * per_width) as usize;
            if let Some(count) = shape.count.get_mut(bin.min(FINE - 1)) {
                *count += 1;
            }
        }
        shape.deviation = sqrt(squares / SAMPLES as f64);
        shape
    }

    /// The value below which a share of the wires lies, linear inside a bin.
    #[must_use]
    pub fn percentile(&self, share: f64) -> f64 {
        let wanted = share * SAMPLES as f64;
        let mut below = 0.0;
        for (bin, count) in self.count.iter().enumerate() {
            let here = f64::from(*count);
            if below + here >= wanted && here > 0.0 {
                return self.low + self.width * (bin as f64 + (wanted - below) / here);
            }
            below += here;
        }
        self.low + self.width * FINE as f64
    }

    /// The share of the wires below a value, linear inside a bin.
    #[must_use]
    pub fn share_below(&self, value: f64) -> f64 {
        if !(self.width > 0.0) {
            return if value >= self.low { 1.0 } else { 0.0 };
        }
        let place = (value - self.low) / self.width;
        let mut below = 0.0;
        for (bin, count) in self.count.iter().enumerate() {
            let inside = (place - bin as f64).clamp(0.0, 1.0);
            below += inside * f64::from(*count);
        }
        below / SAMPLES as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: interpolation by a parabola is exact for a parabola.
    #[test]
    fn three_nodes_carry_a_parabola() {
        let nodes = [(-1.0, 0.2), (0.5, 0.6), (2.0, 0.2)];
        let f = |x: f64| 3.0 - x + 0.7 * x * x;
        for x in [-2.0, 0.0, 0.5, 1.3, 4.0] {
            let w = lagrange(&nodes, x);
            let sum: f64 = w.iter().zip(nodes).map(|(w, n)| w * f(n.0)).sum();
            assert!((sum - f(x)).abs() < 1e-12);
        }
    }
}
