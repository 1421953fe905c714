//! Which share of particles leaves a bipolar neutraliser with n charges.
//!
//! Takes a mobility diameter; gives the charge fraction that the classifier multiplies its transfer function with.
//!
//! (1) log10 f(n) = Σ_{i=0…5} a_i(n) (log10 d/nm)^i for n = −2…+2
//! (2) f(n) = 1/sqrt(2π s) exp(−[n − s ln(Z₊/Z₋)]²/(2 s)),  s = 2π ε0 d k_B T/e², beyond
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | n | `charges`, with sign | – |
//! | d | `diameter` | m |
//! | T | `temperature`, of the neutraliser | K |
//! | Z₊/Z₋ | `ION_MOBILITY_RATIO` | – |
//!
//! Range: (1) 1–1000 nm for |n| ≤ 1, 20–1000 nm for |n| = 2, where smaller particles count as never doubly charged. Above
//! 1000 nm (2) takes over for every n; it meets (1) within 4 % there. (2) is meant for 70 nm and more; below, it gives
//! less than 6e-4, and is used. The fits do not add up to 1 (0.99–1.02). The
//! ions are those of air and nitrogen: other gases are a warning of the job.
//!
//! Not modelled: neutralisers that do not reach equilibrium, other ions (some 10 % in f(1)), particles that are not round.
//!
//! Sources: [1] Wiedensohler 1988, J. Aerosol Sci. 19, 387, with the corrected coefficients of ISO 15900:2009 (from memory).
//! [2] Gunn & Woessner 1956, J. Colloid Sci. 11; form and ion mobility ratio 0.875 as in [1]. Checks: charge.csv.

use crate::units::{BOLTZMANN, ELEMENTARY_CHARGE, VACUUM_PERMITTIVITY};
use core::f64::consts::PI;

/// a_0…a_5 of (1) for n = −2, −1, 0, 1, 2 [1].
pub const WIEDENSOHLER: [[f64; 6]; 5] = [
    [-26.3328, 35.9044, -21.4608, 7.0867, -1.3088, 0.1051],
    [-2.3197, 0.6175, 0.6201, -0.1105, -0.1260, 0.0297],
    [-0.0003, -0.1014, 0.3073, -0.3372, 0.1023, -0.0105],
    [-2.3484, 0.6044, 0.4800, 0.0013, -0.1553, 0.0320],
    [-44.4756, 79.3772, -62.8900, 26.4492, -5.7480, 0.5049],
];
/// Z₊/Z₋ of the ions in (2), – [1].
pub const ION_MOBILITY_RATIO: f64 = 0.875;
/// Least diameter of (1) for two charges, m.
pub const LEAST_DOUBLE: f64 = 20e-9;
/// Largest diameter of (1), m.
const LARGEST_FITTED: f64 = 1000e-9;
/// Slack of both bounds: a diameter typed in nm and turned into m may miss them by a rounding.
const SLACK: f64 = 1e-12;

/// Share of the particles with a number of charges at bipolar equilibrium (1), (2).
///
/// log10 f(n) = Σ a_i(n) (log10 d/nm)^i for |n| ≤ 2, Gunn & Woessner beyond
///
/// * `diameter` — d, mobility diameter, m; 1 nm and more
/// * `charges` — n, with sign, –
/// * `temperature` — of the neutraliser, K; only (2) depends on it; 298 K in [1]
///
/// Returns f(n), –, between 0 and 1.
///
/// # Accuracy
/// [1] claims a few per cent against Fuchs' theory inside its range.
///
/// # Examples
/// f(+1) at 100 nm is 0.2138 (table of [1]).
///
/// # Source
/// [1], [2]. Checks Q031–Q191.
#[must_use]
pub fn charge_fraction(diameter: f64, charges: i32, temperature: f64) -> f64 {
    let fitted = usize::try_from(charges + 2).ok().and_then(|row| WIEDENSOHLER.get(row));
    match fitted {
        Some(row) if diameter <= LARGEST_FITTED * (1.0 + SLACK) => {
            if charges.abs() == 2 && diameter < LEAST_DOUBLE * (1.0 - SLACK) {
                return 0.0;
            }
            let x = libm::log10(diameter * 1e9);
            libm::exp10(row.iter().rev().fold(0.0, |sum, &a| sum * x + a))
        }
        _ => gunn_woessner(diameter, charges, temperature),
    }
}

/// Charge fraction after Gunn & Woessner (2).
///
/// f(n) = 1/sqrt(2π s) exp(−[n − s ln(Z₊/Z₋)]²/(2 s)),  s = 2π ε0 d k_B T/e²
///
/// * `diameter` — d, m; above 0
/// * `charges` — n, with sign, –
/// * `temperature` — T, K
///
/// Returns f(n), –.
///
/// # Source
/// [2]. Checks Q136–Q177.
#[must_use]
pub fn gunn_woessner(diameter: f64, charges: i32, temperature: f64) -> f64 {
    let s =
        2.0 * PI * VACUUM_PERMITTIVITY * diameter * BOLTZMANN * temperature / (ELEMENTARY_CHARGE * ELEMENTARY_CHARGE);
    let off = f64::from(charges) - s * libm::log(ION_MOBILITY_RATIO);
    libm::exp(-off * off / (2.0 * s)) / crate::root::sqrt(2.0 * PI * s)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: style of tables: a slipped digit cannot pass; sums by hand from [1].
    #[test]
    fn coefficients_sum_to_their_check_sums() {
        let sums = [-6.0062, -1.2889, -0.0398, -1.3860, -6.7823];
        for (row, want) in WIEDENSOHLER.iter().zip(sums) {
            let got: f64 = row.iter().sum();
            assert!((got - want).abs() < 1e-9, "{got} {want}");
        }
    }

    /// Source: [1], range of the fit for two charges, ends included.
    #[test]
    fn double_charge_begins_at_twenty_nanometres() {
        assert!(charge_fraction(19.9e-9, 2, 298.0) <= 0.0);
        assert!(charge_fraction(20e-9, 2, 298.0) > 1e-4);
        assert!(charge_fraction(20.0 * 1e-9, -2, 298.0) > 1e-4);
    }

    /// Source: (1) and (2) at 1000 nm, where the second takes over.
    #[test]
    fn the_two_laws_meet_at_the_end_of_the_fit() {
        for charges in -2..=2 {
            let fit = charge_fraction(1000e-9, charges, 298.0);
            let tail = charge_fraction(1000.1e-9, charges, 298.0);
            assert!((tail / fit - 1.0).abs() < 0.04, "{charges}: {fit} {tail}");
        }
    }

    /// Source: [1]: negative ions are faster, so more particles become negative.
    #[test]
    fn negative_particles_are_more_than_positive_ones() {
        for charges in 1..=6 {
            let positive = charge_fraction(100e-9, charges, 298.0);
            assert!(charge_fraction(100e-9, -charges, 298.0) > positive);
        }
    }
}
