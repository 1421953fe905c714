//! The linear budget, and the chance that follows from it.

use super::figure::{FIGURES, Figure};
use super::input::{Input, Lever};
use crate::job::Job;
use crate::kinetics::Number;
use crate::root::sqrt;
use crate::seed::normal_quantile;

/// Wires' lots that the chance is drawn with.
const LOTS: u64 = 4096;

/// V = G U R U Gᵀ.
pub(super) fn covariance(job: &Job, levers: &[Lever]) -> [[f64; FIGURES]; FIGURES] {
    let mut out = [[0.0; FIGURES]; FIGURES];
    let mut add = |a: &Lever, b: &Lever, weight: f64| {
        for (row, effect_a) in out.iter_mut().zip(&a.effects) {
            for (cell, effect_b) in row.iter_mut().zip(&b.effects) {
                *cell += weight * effect_a * a.u * effect_b * b.u;
            }
        }
    };
    for lever in levers {
        add(lever, lever, 1.0);
    }
    let of = |name: &str| {
        let number = Number::from_path(name)?;
        levers.iter().find(|lever| lever.input == Input::Number(number))
    };
    for correlation in &job.kinetics.correlation {
        if let (Some(a), Some(b)) = (of(&correlation.a), of(&correlation.b)) {
            add(a, b, correlation.r);
            add(b, a, correlation.r);
        }
    }
    out
}

/// What each input brings to each figure's variance, correlations apart.
pub(super) fn shares(levers: &mut [Lever], figures: usize) {
    for f in 0..figures {
        let part = |lever: &Lever| {
            let amount = lever.effects.get(f).copied().unwrap_or(0.0) * lever.u;
            amount * amount
        };
        let sum: f64 = levers.iter().map(part).sum();
        for lever in levers.iter_mut() {
            let share = if sum > 0.0 { part(lever) / sum } else { 0.0 };
            if let Some(slot) = lever.share.get_mut(f) {
                *slot = share;
            }
        }
    }
}

/// Lower triangle L with V = L Lᵀ; a direction without variance stays without.
fn root(v: &[[f64; FIGURES]; FIGURES]) -> [[f64; FIGURES]; FIGURES] {
    let mut l = [[0.0; FIGURES]; FIGURES];
    for j in 0..FIGURES {
        let mut diagonal = v[j][j];
        for k in 0..j {
            diagonal -= l[j][k] * l[j][k];
        }
        // What rounding leaves of a figure that others decide.
        let positive = diagonal > 1e-12 * v[j][j];
        l[j][j] = if positive { sqrt(diagonal) } else { 0.0 };
        for i in j + 1..FIGURES {
            let mut sum = v[i][j];
            for k in 0..j {
                sum -= l[i][k] * l[j][k];
            }
            l[i][j] = if positive { sum / l[j][j] } else { 0.0 };
        }
    }
    l
}

/// Number k of SplitMix64 (Steele, Lea & Flood 2014) from seed 0: the same on every machine, whichever comes first.
fn split_mix(k: u64) -> u64 {
    let mut z = k.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// A number between 0 and 1 from a random word: neither end is reached.
fn uniform(word: u64) -> f64 {
    ((word >> 11) as f64 + 0.5) / (1u64 << 53) as f64
}

/// Chance that every ordered figure of a lot is inside; `None` where nothing is ordered.
pub(super) fn chance(figures: &[Figure], covariance: &[[f64; FIGURES]; FIGURES]) -> Option<f64> {
    if !figures.iter().any(|figure| figure.low.is_some()) {
        return None;
    }
    let l = root(covariance);
    let mut inside = 0u64;
    for lot in 0..LOTS {
        let mut z = [0.0; FIGURES];
        for (k, z) in (0u64..).zip(&mut z) {
            *z = normal_quantile(uniform(split_mix(lot * FIGURES as u64 + k)));
        }
        let mut good = true;
        for (figure, row) in figures.iter().zip(&l) {
            let mut value = figure.value;
            for (weight, z) in row.iter().zip(&z) {
                value += weight * z;
            }
            good &= figure.low.is_none_or(|low| value >= low) && figure.high.is_none_or(|high| value <= high);
        }
        inside += u64::from(good);
    }
    Some(inside as f64 / LOTS as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use heapless::String;

    /// Source: SplitMix64 of seed 1234567 gives 6457827717110365317 first (checks T362); seed and counter only add up.
    #[test]
    fn words_are_those_of_split_mix() {
        let mut z = 1_234_567u64.wrapping_add(0x9e37_79b9_7f4a_7c15);
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        assert_eq!(z ^ (z >> 31), 6_457_827_717_110_365_317);
        assert_ne!(split_mix(0), split_mix(1));
    }

    /// Source: normal distribution, P(|x| ≤ u) = 0.6827; two independent figures: its square.
    #[test]
    fn chance_of_one_standard_uncertainty() {
        let figure = |u: f64| Figure {
            path: String::new(),
            unit: "nm",
            value: 10.0,
            low: Some(9.0),
            high: Some(11.0),
            u,
            kind: super::super::figure::Kind::Diameter,
            name: String::new(),
        };
        let mut v = [[0.0; FIGURES]; FIGURES];
        v[0][0] = 1.0;
        assert!((chance(&[figure(1.0)], &v).unwrap() - 0.6827).abs() < 0.02);
        v[1][1] = 1.0;
        assert!((chance(&[figure(1.0), figure(1.0)], &v).unwrap() - 0.4661).abs() < 0.02);
        v[0][1] = 1.0;
        v[1][0] = 1.0;
        assert!((chance(&[figure(1.0), figure(1.0)], &v).unwrap() - 0.6827).abs() < 0.02);
    }
}
