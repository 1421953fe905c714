//! How many seeds the way costs: to the wall of a tube, to each other, to their own charge.
//!
//! Takes coefficients of motion from [`mod@super::mobility`]; gives the coefficients that the march integrates along the paths,
//! and the bound for a tube without sheath.
//!
//! (1) d(1/S)/dz = (2K + Z_q q e/ε0) η c/u, S the share of seeds still single and in flight
//! (2) K = 4π D d/[d/(d + √2 g) + 8D/(√2 c̄ d)], half the Fuchs kernel of equal spheres, so that dN/dt = −K N²
//! (3) g = [(d + l)³ − (d² + l²)^{3/2}]/(3 d l) − d,  l = 8D/(π c̄),  c̄ = sqrt(8 k_B T/(π m))
//! (4) dN/dt = −(Z_q q e/ε0) N²
//! (5) P = 1 − 2.5638 ξ^{2/3} + 1.2 ξ + 0.1767 ξ^{4/3} below ξ = 0.04, Σ w_i exp(−a_i ξ) above;  ξ = π∫D dz/Q
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | d | `diameter` | m |
//! | D | `diffusion` | m²/s |
//! | Z_q | `mobility`, of q charges | m²/(V s) |
//! | q | `charges` | – |
//! | ξ | `xi` | – |
//!
//! Range: (2) holds from the free-molecular to the continuum regime. Not modelled: attraction by van der Waals forces
//! (up to some 2 times more at 10 nm), repulsion of seeds of one sign when they meet, collisions of unequal seeds. In (2)
//! every meeting sticks. The sheath keeps seeds off the wall: (5) is a bound and is not counted.
//!
//! Sources: [1] Fuchs 1964 as in Seinfeld & Pandis 2006, table 13.1 (from memory). [2] Hinds 1999, table 12.1 (from memory).
//! [3] Gauss's law. [4] Gormley & Kennedy 1949, constants as printed in handbooks (from memory).
//! Checks: kinetics.csv (kernels), classifier.csv (dispersion), pipe.csv (penetration).

use crate::units::{BOLTZMANN, ELEMENTARY_CHARGE, VACUUM_PERMITTIVITY};
use core::f64::consts::{PI, SQRT_2};

/// Coagulation coefficient of equal spheres (2): half the Fuchs kernel, so that dN/dt = −K N².
///
/// K = 4π D d/[d/(d + √2 g) + 8D/(√2 c̄ d)]
///
/// * `diameter` — d, m; above 0
/// * `density` — of the seed, kg/m³; above 0
/// * `temperature` — T, K; above 0
/// * `diffusion` — D of the seed, m²/s; above 0
///
/// Returns K, m³/s; 4 k_B T/(3μ) Cc for large spheres, 2 d² sqrt(π k_B T/m) for small ones.
///
/// # Accuracy
/// Against [2] 8 %, its rounding included.
///
/// # Source
/// [1], both spheres' jump distance by √2 g. A factor-two trap: tables give the kernel or half of it. Checks K152–K188.
#[must_use]
pub fn coagulation_coefficient(diameter: f64, density: f64, temperature: f64, diffusion: f64) -> f64 {
    let mass = density * PI / 6.0 * diameter * diameter * diameter;
    let speed = crate::root::sqrt(8.0 * BOLTZMANN * temperature / (PI * mass));
    // (3) with x = l/d and s = √(1 + x²), free of the difference of cubes: (s³ − 1)/x = x (s² + s + 1)/(1 + s).
    let x = 8.0 * diffusion / (PI * speed * diameter);
    let s = crate::root::sqrt(1.0 + x * x);
    let jump = diameter * (x + x * x / 3.0 - x * (s * s + s + 1.0) / (3.0 * (1.0 + s)));
    4.0 * PI * diffusion * diameter
        / (diameter / (diameter + SQRT_2 * jump) + 8.0 * diffusion / (SQRT_2 * speed * diameter))
}

/// Coefficient of electrostatic dispersion of seeds of one sign (4).
///
/// dN/dt = −(Z_q q e/ε0) N²
///
/// * `mobility` — Z_q, mobility of a seed with its q charges, m²/(V s)
/// * `charges` — q, –; 0 or more, may be a mean
///
/// Returns Z_q q e/ε0, m³/s; 0 for neutralised seeds.
///
/// # Source
/// [3]: div E = N q e/ε0, and seeds move with Z_q E. Checks D169–D172.
#[must_use]
pub fn dispersion_coefficient(mobility: f64, charges: f64) -> f64 {
    mobility * charges * ELEMENTARY_CHARGE / VACUUM_PERMITTIVITY
}

/// ξ at which (5) passes from one series to the other.
const BRANCH: f64 = 0.04;
/// Coefficients of the first series of (5), with ξ^{2/3}, ξ, ξ^{4/3}.
const ENTRANCE: [f64; 3] = [2.5638, 1.2, 0.1767];
/// (w_i, a_i) of the second series of (5).
const MODES: [(f64, f64); 3] = [(0.81905, 3.6568), (0.09753, 22.305), (0.0325, 56.961)];

/// Share of the particles that pass a round tube with laminar flow and do not diffuse to its wall (5).
///
/// P = 1 − 2.5638 ξ^{2/3} + 1.2 ξ + 0.1767 ξ^{4/3} below ξ = 0.04, 0.81905 e^{−3.6568 ξ} + 0.09753 e^{−22.305 ξ} + 0.0325 e^{−56.961 ξ} above
///
/// * `xi` — ξ = π∫D dz/Q, –; 0 or more
///
/// Returns P, –, between 0 and 1.
///
/// # Accuracy
/// 0.3 % of the exact series at every ξ; the two halves meet within 4e-4.
///
/// # Source
/// [4]. Checks P066–P081.
#[must_use]
pub fn penetration(xi: f64) -> f64 {
    if xi < BRANCH {
        let [entrance, linear, next] = ENTRANCE;
        let root = libm::cbrt(xi);
        1.0 - entrance * root * root + linear * xi + next * xi * root
    } else {
        MODES.iter().map(|&(weight, rate)| weight * libm::exp(-rate * xi)).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seed::mobility::{diffusion, slip_correction};

    const AIR_VISCOSITY: f64 = 1.83245e-5;
    const AIR_PATH: f64 = 67.30e-9;

    fn near(got: f64, want: f64, tolerance: f64) -> bool {
        ((got - want) / want).abs() <= tolerance
    }

    fn in_air(diameter: f64, density: f64) -> f64 {
        let slip = slip_correction(2.0 * AIR_PATH / diameter);
        coagulation_coefficient(diameter, density, 296.15, diffusion(296.15, diameter, AIR_VISCOSITY, slip))
    }

    /// Source: Smoluchowski 1917: half of 8 k T/(3 μ) in the continuum, Cc → 1.
    #[test]
    fn large_spheres_meet_as_in_a_continuum() {
        let limit = 4.0 * BOLTZMANN * 296.15 / (3.0 * AIR_VISCOSITY);
        assert!(near(in_air(1e-3, 1000.0), limit, 1e-3));
    }

    /// Source: kinetic theory: half of 4 d² sqrt(π k T/m) for free molecules.
    #[test]
    fn small_spheres_meet_as_free_molecules() {
        let diameter = 1e-9;
        let mass = 1000.0 * PI / 6.0 * diameter * diameter * diameter;
        let limit = 2.0 * diameter * diameter * crate::root::sqrt(PI * BOLTZMANN * 296.15 / mass);
        let got = coagulation_coefficient(diameter, 1000.0, 296.15, 1.0);
        assert!(near(got, limit, 1e-6), "{got} {limit}");
    }

    /// Source: (3) as printed.
    #[test]
    fn jump_distance_equals_its_printed_form() {
        for x in [0.05f64, 0.7, 3.0, 20.0] {
            let printed = ((1.0 + x) * (1.0 + x) * (1.0 + x) - libm::pow(1.0 + x * x, 1.5)) / (3.0 * x) - 1.0;
            let s = crate::root::sqrt(1.0 + x * x);
            let ours = x + x * x / 3.0 - x * (s * s + s + 1.0) / (3.0 * (1.0 + s));
            assert!(near(ours, printed, 1e-11), "{x}: {ours} {printed}");
        }
    }

    /// Source: model: 1.8e-15 m³/s at 48 nm in air, one charge; the square of q.
    #[test]
    fn dispersion_grows_with_the_square_of_the_charge() {
        let one = dispersion_coefficient(1e-7, 1.0);
        assert!(near(dispersion_coefficient(2e-7, 2.0), 4.0 * one, 1e-15));
        assert!(dispersion_coefficient(0.0, 0.0).abs() < 1e-300);
    }

    /// Source: [4]: both series at their border.
    #[test]
    fn penetration_starts_at_one_falls_and_has_no_step() {
        assert!((penetration(0.0) - 1.0).abs() < 1e-15);
        let (below, above) = (penetration(BRANCH - 1e-12), penetration(BRANCH));
        assert!((below - above).abs() < 4e-4, "{below} {above}");
        let mut last = 1.0;
        for k in 1..200 {
            let next = penetration(0.01 * f64::from(k));
            assert!(next < last && next > 0.0);
            last = next;
        }
    }
}
