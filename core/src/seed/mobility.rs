//! How fast a seed moves through the gas: pushed by a field, by collisions, by weight or by a warmer side.
//!
//! Takes a diameter, the gas viscosity and the mean free path; gives coefficients that the classifier, the losses and the
//! drift of the seeds multiply with a field or a gradient.
//!
//! (1) Cc = 1 + Kn [A + B exp(−C/Kn)],  Kn = 2λ/d
//! (2) Z = n e Cc/(3π μ d)
//! (3) D = k_B T Cc/(3π μ d)
//! (4) w = ρ d² g Cc/(18 μ)
//! (5) v = −K_th ν ∂ln T/∂r,  K_th = 2 C_s Cc (k/k_p + C_t Kn)/[(1 + 3 C_m Kn)(1 + 2 k/k_p + 2 C_t Kn)]
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | d | `diameter` | m |
//! | Kn | `knudsen` | – |
//! | λ | `mean_free_path` | m |
//! | μ | `viscosity` | Pa s |
//! | Cc | `slip` | – |
//! | n | `charges` | – |
//! | k/k_p | `conductivity_ratio`, gas over seed | – |
//! | ρ | `density`, of the seed | kg/m³ |
//!
//! Range: creeping motion, Re of the particle far below 1 (1e-6 here). (1) was measured for Kn 0.5–83 and has the right
//! limit at Kn → 0; at Kn → ∞ it runs on as a straight line.
//!
//! Not modelled: seeds that are not spheres (a shape factor turns a mobility diameter into a compact one elsewhere), and
//! slip that depends on the gas or on the surface (2–4 % between published sets of constants).
//!
//! Sources: [1] Kim, Mulholland, Kukuck & Pui 2005, J. Res. NIST 110, 31 (abstract read; the values ISO 15900 takes).
//! [2] Hinds 1999, Aerosol Technology, 2nd ed. (from memory). [3] Talbot, Cheng, Schefer & Willis 1980, J. Fluid Mech. 101,
//! 737 (from memory). Checks: slip.csv, kinetics.csv (thermophoretic coefficient).

use crate::units::{BOLTZMANN, ELEMENTARY_CHARGE, GRAVITY};
use core::f64::consts::PI;

/// Constants of a slip correction (1).
struct Slip {
    a: f64,
    b: f64,
    c: f64,
}

/// Kim et al. 2005 [1], λ = 67.30 nm in air at 296.15 K and 101 325 Pa.
const KIM: Slip = Slip { a: 1.165, b: 0.483, c: 0.997 };
/// The constants that belong to Talbot's formula [3].
const TALBOT: Slip = Slip { a: 1.20, b: 0.41, c: 0.88 };
/// Thermal slip C_s, temperature jump C_t and momentum exchange C_m of [3].
const THERMAL_SLIP: f64 = 1.17;
const TEMPERATURE_JUMP: f64 = 2.18;
const MOMENTUM_EXCHANGE: f64 = 1.14;

impl Slip {
    fn correction(&self, knudsen: f64) -> f64 {
        // exp(−C/0) is 0 through exp(−∞); no case of its own.
        1.0 + knudsen * (self.a + self.b * libm::exp(-self.c / knudsen))
    }
}

/// Slip correction of a sphere in a gas (1).
///
/// Cc = 1 + Kn [1.165 + 0.483 exp(−0.997/Kn)],  Kn = 2λ/d
///
/// * `knudsen` — Kn, –; 0 or more (at 0: 1)
///
/// Returns Cc, –, at least 1.
///
/// # Accuracy
/// 2 % claimed at Kn 0.5–83; other published constants differ by up to 4 %.
///
/// # Source
/// [1], the values of ISO 15900. Checks S001–S061.
#[must_use]
pub fn slip_correction(knudsen: f64) -> f64 {
    KIM.correction(knudsen)
}

/// Exponent with which the slip correction grows with Kn, d ln Cc/d ln Kn.
///
/// Kn [A + B exp(−C/Kn)(1 + C/Kn)]/Cc
///
/// * `knudsen` — Kn, –; above 0
///
/// Returns the exponent, –; from 0 (large spheres) to 1 (small ones), at most 1.04 on the way.
#[must_use]
pub(crate) fn slip_exponent(knudsen: f64) -> f64 {
    let Slip { a, b, c } = KIM;
    let x = c / knudsen;
    knudsen * (a + b * libm::exp(-x) * (1.0 + x)) / KIM.correction(knudsen)
}

/// Electrical mobility of a sphere (2).
///
/// Z = n e Cc/(3π μ d)
///
/// * `charges` — n, elementary charges, –; may be a mean
/// * `diameter` — d, m; above 0
/// * `viscosity` — μ, Pa s; above 0
/// * `slip` — Cc, –
///
/// Returns Z, m²/(V s).
///
/// # Source
/// [2], Millikan's form of Stokes' law. Checks S012–S060.
#[must_use]
pub fn mobility(charges: f64, diameter: f64, viscosity: f64, slip: f64) -> f64 {
    charges * ELEMENTARY_CHARGE * slip / (3.0 * PI * viscosity * diameter)
}

/// Diffusion coefficient of a sphere (3).
///
/// D = k_B T Cc/(3π μ d)
///
/// * `temperature` — T, K
/// * `diameter` — d, m; above 0
/// * `viscosity` — μ, Pa s; above 0
/// * `slip` — Cc, –
///
/// Returns D, m²/s.
///
/// # Source
/// Einstein's relation with [1]. Checks S013–S061.
#[must_use]
pub fn diffusion(temperature: f64, diameter: f64, viscosity: f64, slip: f64) -> f64 {
    BOLTZMANN * temperature * slip / (3.0 * PI * viscosity * diameter)
}

/// Settling velocity of a sphere (4); the buoyancy of the gas is left out (1e-4 of it at most).
///
/// w = ρ d² g Cc/(18 μ)
///
/// * `diameter` — d, m; 0 or more
/// * `density` — ρ of the seed, kg/m³
/// * `viscosity` — μ, Pa s; above 0
/// * `slip` — Cc, –
///
/// Returns w, m/s, downwards.
///
/// # Source
/// Stokes' law with slip, [2]. Checks S064, S093, S094.
#[must_use]
pub fn settling(diameter: f64, density: f64, viscosity: f64, slip: f64) -> f64 {
    density * diameter * diameter * GRAVITY * slip / (18.0 * viscosity)
}

/// Thermophoretic coefficient K_th of a sphere (5); the seed drifts from warm to cold by v = −K_th ν ∂ln T/∂r.
///
/// K_th = 2 C_s Cc (k/k_p + C_t Kn)/[(1 + 3 C_m Kn)(1 + 2 k/k_p + 2 C_t Kn)],  Cc = 1 + Kn [1.20 + 0.41 exp(−0.88/Kn)]
///
/// * `diameter` — d, m; above 0
/// * `mean_free_path` — λ, m; 0 or more
/// * `conductivity_ratio` — k/k_p, gas over seed, –; 5e-4 for gold in hydrogen
///
/// Returns K_th, –; between 0 and 0.56 for a metal.
///
/// # Accuracy
/// About 10 % against measurements at all Kn; within 3 % of Waldmann's free-molecular limit 0.554.
///
/// # Source
/// [3], with his own slip constants and not those of (1), which would shift it by up to 2.4 %. Checks K359–K364.
#[must_use]
pub fn thermophoretic_coefficient(diameter: f64, mean_free_path: f64, conductivity_ratio: f64) -> f64 {
    let knudsen = 2.0 * mean_free_path / diameter;
    let jump = conductivity_ratio + TEMPERATURE_JUMP * knudsen;
    2.0 * THERMAL_SLIP * TALBOT.correction(knudsen) * jump
        / ((1.0 + 3.0 * MOMENTUM_EXCHANGE * knudsen) * (1.0 + 2.0 * jump))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, want: f64, tolerance: f64) -> bool {
        ((got - want) / want).abs() <= tolerance
    }

    /// Source: (1) at its ends.
    #[test]
    fn slip_vanishes_for_large_spheres_and_is_linear_for_small_ones() {
        assert_eq!(slip_correction(0.0).to_bits(), 1.0f64.to_bits());
        assert!(slip_correction(1e-3) > 1.0);
        assert!(near(slip_correction(1e6), 1.648e6, 1e-5));
    }

    /// Source: Einstein's relation D = Z k_B T/e.
    #[test]
    fn mobility_and_diffusion_obey_einstein() {
        let (viscosity, slip) = (1.8e-5, 3.0);
        let z = mobility(1.0, 50e-9, viscosity, slip);
        let d = diffusion(300.0, 50e-9, viscosity, slip);
        assert!(near(d, z * BOLTZMANN * 300.0 / ELEMENTARY_CHARGE, 1e-15));
    }

    /// Source: [3], limit C_s (1.20 + 0.41)/(3 C_m) at Kn → ∞; C_s k/k_p · 2/(1 + 2 k/k_p) at Kn → 0.
    #[test]
    fn thermophoresis_has_its_two_limits() {
        assert!(near(thermophoretic_coefficient(1e-9, 1e-2, 1e-4), 1.17 * 1.61 / (3.0 * 1.14), 1e-6));
        assert!(near(thermophoretic_coefficient(1.0, 1e-12, 0.1), 2.0 * 1.17 * 0.1 / 1.2, 1e-9));
    }

    /// Source: [1], the check rows' air; a seed twice as heavy falls twice as fast.
    #[test]
    fn settling_is_proportional_to_density() {
        let slow = settling(60e-9, 9650.0, 1.79e-5, 3.2);
        assert!(near(settling(60e-9, 19300.0, 1.79e-5, 3.2), 2.0 * slow, 1e-15));
    }
}
