//! A size distribution as what the march needs: three nodes with weights, and equal-probability sizes.
//!
//! Takes a median and a geometric standard deviation, or the passed distribution of the classifier; gives nodes in ln d with
//! which means and variances are formed, and quantiles in ln d with which percentiles and a histogram are.
//!
//! (1) Gauss–Hermite: ln d_m, ln d_m ± √3 ln σ_g with weights 2/3, 1/6, 1/6
//! (2) quantiles: ln d_m + ln σ_g Φ⁻¹[(k + ½)/128]
//! (3) Gauss rule of any distribution from its moments m_0…m_5 about the mean, scaled to variance 1: nodes are the roots of
//!     the third orthogonal polynomial x³ + b x² + c x + d, weights reproduce m_0, m_1, m_2
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | d_m | `median` | m |
//! | σ_g | `deviation`, geometric standard deviation | – |
//! | m_3, m_4, m_5 | `third`, `fourth`, `fifth` | – |
//!
//! Range: σ_g 1 (all nodes coincide) to 2.5. Three nodes are exact for polynomials of degree 5 in ln d: 1e-5 in the mean
//! length of wires. They are not a histogram.
//!
//! Sources: [1] Abramowitz & Stegun 1964, 25.4.46 (Gauss–Hermite), 26.2.23 (start of the quantile). [2] Golub & Welsch 1969
//! for what a Gauss rule is; three nodes are found in closed form. Checks: statistics.csv (normal quantiles).

use crate::line::{NODES, QUANTILES, SeedGroup};
use core::f64::consts::{FRAC_1_SQRT_2, PI};

/// Coefficients of the rational start of the normal quantile, error below 4.5e-4 [1, 26.2.23].
const START_TOP: [f64; 3] = [2.515_517, 0.802_853, 0.010_328];
const START_BOTTOM: [f64; 3] = [1.432_788, 0.189_269, 0.001_308];
/// Halley steps of the normal quantile: each turns an error ε into about ε³, so 4.5e-4 needs two; one for rounding.
const STEPS: usize = 3;
/// Halvings of the median: 1e-13 of the range of ln d.
const HALVINGS: usize = 44;
/// Distance from ½ within which the quantile is found from erf, which keeps the digits of a small argument.
const CENTRE: f64 = 0.25;

/// Quantile of the standard normal distribution, Φ⁻¹(p).
///
/// Halley's step on Φ(x) − p, Φ(x) = ½ erfc(−x/√2), from a rational start
///
/// * `p` — probability, –; −∞ at 0 and below, ∞ at 1 and above
///
/// Returns x, –.
///
/// # Accuracy
/// 1e-15 relative wherever p itself has its digits.
///
/// # Examples
/// Φ⁻¹(0.975) = 1.959 963 984 540 054.
///
/// # Source
/// [1] for the start; Halley 1694 for the step. Checks: statistics.csv.
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    if p <= 0.0 {
        return f64::NEG_INFINITY;
    }
    if p >= 1.0 {
        return f64::INFINITY;
    }
    // 1 − p and p − ½ are exact here: nothing is lost by the reflection.
    let upper = p > 0.5;
    let tail = if upper { 1.0 - p } else { p };
    let off_centre = 0.5 - tail;
    let [a0, a1, a2] = START_TOP;
    let [b1, b2, b3] = START_BOTTOM;
    let t = crate::root::sqrt(-2.0 * libm::log(tail));
    let mut x = t - (a0 + t * (a1 + t * a2)) / (1.0 + t * (b1 + t * (b2 + t * b3)));
    for _ in 0..STEPS {
        // x > 0 is the distance from the centre; excess is the probability beyond x less the one wanted.
        let excess = if off_centre < CENTRE {
            off_centre - 0.5 * libm::erf(x * FRAC_1_SQRT_2)
        } else {
            0.5 * libm::erfc(x * FRAC_1_SQRT_2) - tail
        };
        let newton = excess * crate::root::sqrt(2.0 * PI) * libm::exp(0.5 * x * x);
        x += newton / (1.0 - 0.5 * x * newton);
    }
    if upper { x } else { -x }
}

/// Nodes and quantiles of a log-normal distribution (1), (2).
///
/// * `median` — d_m, m; above 0
/// * `deviation` — σ_g, –; 1 and more
///
/// Returns (ln d, weight) of three nodes, rising, and ln d at the probabilities (k + ½)/128, rising.
///
/// # Source
/// [1, 25.4.46].
#[must_use]
pub fn log_normal(median: f64, deviation: f64) -> ([(f64, f64); NODES], [f64; QUANTILES]) {
    let (centre, sigma) = (libm::log(median), libm::log(deviation));
    let step = crate::root::sqrt(3.0) * sigma;
    let nodes = [(centre - step, 1.0 / 6.0), (centre, 2.0 / 3.0), (centre + step, 1.0 / 6.0)];
    let mut quantiles = [centre; QUANTILES];
    for (probability, place) in probabilities().zip(quantiles.iter_mut()) {
        *place = centre + sigma * normal_quantile(probability);
    }
    (nodes, quantiles)
}

/// Probabilities at which [`crate::line::SeedGroup::quantiles`] stand: (k + ½)/128.
pub(crate) fn probabilities() -> impl Iterator<Item = f64> {
    (0..QUANTILES).map(|k| (k as f64 + 0.5) / QUANTILES as f64)
}

/// Gauss rule of three nodes for a distribution with given standardised moments (3).
///
/// x³ + b x² + c x + d orthogonal to 1, x, x²; weights from m_0 = 1, m_1 = 0, m_2 = 1
///
/// * `third`, `fourth`, `fifth` — moments about the mean over the power of the standard deviation, –; fourth − third² above 1
///
/// Returns (x, weight), rising, with x in standard deviations from the mean; weights sum to 1. Where the distribution has
/// only two points (fourth − third² = 1), the three-node rule does not exist: the normal one is given.
///
/// # Source
/// [2]; roots by the trigonometric form of the cubic (all three are real).
#[must_use]
pub fn gauss_rule(third: f64, fourth: f64, fifth: f64) -> [(f64, f64); NODES] {
    let root3 = crate::root::sqrt(3.0);
    let normal = [(-root3, 1.0 / 6.0), (0.0, 2.0 / 3.0), (root3, 1.0 / 6.0)];
    // ⟨p, 1⟩ = 0: third + b + d = 0;  ⟨p, x⟩ = 0: fourth + b third + c = 0;  ⟨p, x²⟩ = 0: fifth + b fourth + c third + d = 0.
    let determinant = fourth - third * third - 1.0;
    let three_points = determinant > 1e-9;
    if !three_points {
        return normal;
    }
    let b = -(fifth - third * fourth - third) / determinant;
    let c = -fourth - b * third;
    let d = -third - b;
    // x = y − b/3:  y³ + p y + q = 0 with p < 0.
    let shift = b / 3.0;
    let p = c - b * shift;
    let q = shift * (2.0 * shift * shift - c) + d;
    let three_roots = p < 0.0;
    if !three_roots {
        return normal;
    }
    let radius = 2.0 * crate::root::sqrt(-p / 3.0);
    let cosine = (3.0 * q / (p * radius)).clamp(-1.0, 1.0);
    let angle = libm::acos(cosine) / 3.0;
    let turn = 2.0 * PI / 3.0;
    let root = |k: f64| radius * libm::cos(angle - k * turn) - shift;
    // With the angle in 0…π/3 the three roots fall from k = 0 over k = 1 to k = 2.
    let (low, middle, high) = (root(2.0), root(1.0), root(0.0));
    // Weight of a node: ∫(x − x_j)(x − x_k)/[(x_i − x_j)(x_i − x_k)] = (1 + x_j x_k)/[…].
    let weight = |own: f64, one: f64, other: f64| (1.0 + one * other) / ((own - one) * (own - other));
    [(low, weight(low, middle, high)), (middle, weight(middle, low, high)), (high, weight(high, low, middle))]
}

/// Median compact diameter over seed groups.
///
/// Σ share P(d) = ½, with the probabilities P of each group linear in ln d between its quantiles
///
/// * `groups` — at least one; shares sum to 1
///
/// Returns d, m.
#[must_use]
pub fn median(groups: &[SeedGroup]) -> f64 {
    let places = || groups.iter().flat_map(|group| group.quantiles.iter().copied());
    let (mut low, mut high) = (places().fold(f64::INFINITY, f64::min), places().fold(f64::NEG_INFINITY, f64::max));
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        let below: f64 = groups.iter().map(|group| group.share * probability(group, middle)).sum();
        if below < 0.5 { low = middle } else { high = middle }
    }
    libm::exp(0.5 * (low + high))
}

/// Probability of a group below ln d.
fn probability(group: &SeedGroup, x: f64) -> f64 {
    let rank = group.quantiles.partition_point(|&quantile| quantile < x);
    let (Some(&above), Some(&below)) = (group.quantiles.get(rank), group.quantiles.get(rank.wrapping_sub(1))) else {
        return if rank == 0 { 0.0 } else { 1.0 };
    };
    (rank as f64 - 0.5 + (x - below) / (above - below)) / QUANTILES as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: erfc inverted with 50 digits of arithmetic, printed to 16.
    #[test]
    fn normal_quantiles_match_the_table() {
        let table = [
            (0.975, 1.959_963_984_540_054),
            (0.5 + 1.0 / 256.0, 0.009_791_673_161_345_346),
            (0.75, 0.674_489_750_196_081_7),
            (0.001, -3.090_232_306_167_813_5),
            (1e-10, -6.361_340_902_404_056),
            (1e-300, -37.047_096_299_361_2),
        ];
        for (p, want) in table {
            let got = normal_quantile(p);
            assert!(((got - want) / want).abs() < 2e-15, "{p}: {got} {want}");
        }
        assert!(normal_quantile(0.5).abs() < 1e-300);
        assert!(normal_quantile(0.0) < f64::MIN && normal_quantile(1.0) > f64::MAX);
    }

    /// Source: symmetry of the normal distribution.
    #[test]
    fn quantiles_of_a_log_normal_are_symmetric_and_rise() {
        let (nodes, quantiles) = log_normal(48e-9, 1.6);
        let centre = libm::log(48e-9);
        for (low, high) in quantiles.iter().zip(quantiles.iter().rev()) {
            assert!((low + high - 2.0 * centre).abs() < 1e-14);
        }
        assert!(quantiles.windows(2).all(|pair| pair[0] < pair[1]));
        let (sum, mean) = nodes.iter().fold((0.0, 0.0), |(s, m), &(x, w)| (s + w, m + w * x));
        assert!((sum - 1.0).abs() < 1e-15 && (mean - centre).abs() < 1e-14);
        let variance: f64 = nodes.iter().map(|&(x, w)| w * (x - centre) * (x - centre)).sum();
        assert!((variance - libm::pow(libm::log(1.6), 2.0)).abs() < 1e-14);
    }

    /// Source: a spread of 1 is one size.
    #[test]
    fn a_spread_of_one_is_one_size() {
        let (nodes, quantiles) = log_normal(48e-9, 1.0);
        let centre = libm::log(48e-9);
        assert!(nodes.iter().all(|node| (node.0 - centre).abs() < 1e-15));
        assert!(quantiles.iter().all(|x| (x - centre).abs() < 1e-15));
    }

    fn group(share: f64, median: f64, deviation: f64) -> SeedGroup {
        let (nodes, quantiles) = log_normal(median, deviation);
        SeedGroup { share, charge: 0, nodes, quantiles }
    }

    /// Source: the definition: half of the seeds are smaller.
    #[test]
    fn the_median_of_groups_halves_them() {
        let one = median(&[group(1.0, 48e-9, 1.3)]);
        assert!((one / 48e-9 - 1.0).abs() < 1e-12, "{one}");
        let even = median(&[group(1.0, 48e-9, 1.0)]);
        assert!((even / 48e-9 - 1.0).abs() < 1e-12, "{even}");
        // Nine tenths below, one above: five ninths of the lower group lie below the median.
        let two = median(&[group(0.9, 40e-9, 1.1), group(0.1, 80e-9, 1.1)]);
        let want = 40e-9 * libm::exp(libm::log(1.1) * normal_quantile(5.0 / 9.0));
        assert!((two / want - 1.0).abs() < 1e-5, "{two} {want}");
    }

    /// Source: [1]: moments 0, 3, 0 of the normal distribution give its Gauss–Hermite rule.
    #[test]
    fn normal_moments_give_the_hermite_rule() {
        let rule = gauss_rule(0.0, 3.0, 0.0);
        let root3 = crate::root::sqrt(3.0);
        for ((x, w), (want, weight)) in rule.iter().zip([(-root3, 1.0 / 6.0), (0.0, 2.0 / 3.0), (root3, 1.0 / 6.0)]) {
            assert!((x - want).abs() < 1e-14 && (w - weight).abs() < 1e-14);
        }
    }

    /// Source: the definition: a three-node rule reproduces the moments up to the fifth.
    #[test]
    fn a_skew_rule_reproduces_its_moments() {
        // Exponential distribution less its mean: moments 2, 9, 44.
        for (third, fourth, fifth) in [(2.0, 9.0, 44.0), (-0.3, 2.4, -1.9), (0.02, 2.41, 0.15)] {
            let rule = gauss_rule(third, fourth, fifth);
            let moment = |k: i32| -> f64 { rule.iter().map(|&(x, w)| w * libm::pow(x, f64::from(k))).sum() };
            for (k, want) in [(0, 1.0), (1, 0.0), (2, 1.0), (3, third), (4, fourth), (5, fifth)] {
                assert!((moment(k) - want).abs() < 1e-11, "{k}: {} {want}", moment(k));
            }
            assert!(rule.windows(2).all(|pair| pair[0].0 < pair[1].0) && rule.iter().all(|node| node.1 > 0.0));
        }
    }

    /// Source: two points have no rule of three nodes.
    #[test]
    fn a_rule_that_does_not_exist_falls_back_to_the_normal_one() {
        assert!((gauss_rule(0.0, 1.0, 0.0)[1].1 - 2.0 / 3.0).abs() < 1e-15);
        assert!((gauss_rule(f64::NAN, 1.0, 0.0)[1].1 - 2.0 / 3.0).abs() < 1e-15);
    }
}
