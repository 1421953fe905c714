//! Reaction of a trace gas on the wall of a tube.
//!
//! ```text
//! flux = k_w n,   k_w = [γ/(1 − γ/2)] c̄/4,   γ = γ_ref exp(−(E_γ/R)(1/T − 1/T_ref)), at most 1           (1)
//! loss = x_n w κB(a)/(κB(−a) + w),   w = 2πR k_w p/(R_gas T_w)                                           (2)
//! ```
//!
//! (1) is the reaction of a gas that reaches the wall by diffusion [1]; n, T and c̄ are those at the wall. (2) puts it in series
//! with the last half ring, whose flux is κ[B(a)x_n − B(−a)x_w] = w x_w, a = α ln(T_w/T_n).
//!
//! Range: any γ from 0 to 1. Not modelled: coverage, saturation, what the deposit does to γ.
//!
//! Sources: [1] Motz & Wise 1960, J. Chem. Phys. 32, 1893. Checks: K083–K087, P111–P166.

use crate::units::GAS_CONSTANT;
use libm::exp;

/// Speed of a reaction on a wall (1), k_w.
///
/// * `probability` — γ, –; 0 to 1. * `mean_speed` — c̄ at the wall, m/s.
///
/// Returns k_w, m/s.
#[must_use]
pub fn reaction_speed(probability: f64, mean_speed: f64) -> f64 {
    probability / (1.0 - 0.5 * probability) * mean_speed / 4.0
}

/// Reaction probability at a wall temperature: γ_ref exp(−(E/R)(1/T − 1/T_ref)), at most 1.
///
/// * `reference` — γ_ref at T_ref, –. * `activation` — E, J/mol. * `temperature`, `reference_temperature` — K.
#[must_use]
pub fn probability(reference: f64, activation: f64, temperature: f64, reference_temperature: f64) -> f64 {
    (reference * exp(-activation / GAS_CONSTANT * (1.0 / temperature - 1.0 / reference_temperature))).min(1.0)
}

/// Loss to the wall for each unit of mole fraction in the last ring (2), mol/(s m).
///
/// * `reacting` — w, mol/(s m). * `outward`, `inward` — κB(a) and κB(−a) of the last half ring, mol/(s m); above 0.
#[must_use]
pub fn loss(reacting: f64, outward: f64, inward: f64) -> f64 {
    reacting * outward / (inward + reacting)
}
