//! How one wire grows.
//!
//! Takes what is met on a path (temperature, mole fractions), gives rates. Geometry first: the seed takes up a group III share
//! x_sat and sits as a spherical cap with contact angle β on the wire,
//!
//! ```text
//! V_cap = (π d³/24)(2 − 3cosβ + cos³β)/sin³β = (π d_seed³/6)[1 + x_sat/(1 − x_sat) V_III/V_Au]             (1)
//! Λ_inc = x_sat/(1 − x_sat) N_Au Ω/(π d²/4),   dΛ/dt = v,   L = max(0, Λ − Λ_inc)                          (2)
//! v_kin = v_ref exp(−(E_a/R)(1/T − 1/T_ref)) (p_III/p_III,ref)^a h(q) ((1 − d_c/d)/(1 − d_c/d_ref))²       (3)
//! h(q) = [q/(q + q_half)] [(q_ref + q_half)/q_ref],   q = p_V/p_III
//! v_sup = Ω J [2/(1 + cosβ) + (4 λ_s/d) tanh(L/λ_s)]                                                       (4)
//! J = Σ over parent and fragment (D n/a)(1 + Kn)/(1 + (4/(3α) + 0.377)Kn + 4Kn²/(3α)),  a = d/2, Kn = 3D/(c̄ a)
//! 1/v = 1/v_kin + 1/v_sup                                                                                  (5)
//! v_rad = v_rad,ref exp(−(E_rad/R)(1/T − 1/T_ref)) (p_III/p_III,ref) h(q)                                  (6)
//! N∞ = N_ref (ρ/ρ_ref)^m exp(−(E_d/R)(1/T − 1/T_ref)), at most N_max;   ρ = p_dop/max(p_III, p_III,ref/100) (7)
//! dN/dΛ = (N∞ − N)/ℓ_d                                                                                     (8)
//! ```
//!
//! (8) is integrated exactly over a step with N∞ linear in Λ ([`Memory`]). A dopant that is not there dopes nothing, whatever its order m.
//!
//! Range: d above d_c, else nothing grows; β above 90°. Not modelled: kinking, crystal phase, desorption.
//!
//! Sources: (3) Gibbs–Thomson in the form of Givargizov 1975, J. Cryst. Growth 31, 20; (4) Fuchs & Sutugin 1970, High-dispersed aerosols;
//! all from memory. Checks: K088–K148.

use crate::line::{DopantKinetics, Growth};
use crate::material::Material;
use crate::root::sqrt;
use crate::units::{AVOGADRO, BOLTZMANN, GAS_CONSTANT};
use core::f64::consts::PI;
use libm::{cbrt, cos, exp, expm1, pow, sin, tanh};

/// Fuchs–Sutugin factor on the continuum flux to a sphere (4).
///
/// * `knudsen` — Kn = 3D/(c̄ a), –; from 0. * `sticking` — α, –; above 0, at most 1; 0 gives 0.
///
/// Returns the factor, –: 1 in the continuum, 3α/(4Kn) among free molecules.
#[inline]
#[must_use]
pub fn fuchs_sutugin(knudsen: f64, sticking: f64) -> f64 {
    // Times α above and below, so that a sticking probability of 0 needs no division.
    sticking * (1.0 + knudsen) / (sticking + (4.0 / 3.0 + 0.377 * sticking) * knudsen + 4.0 / 3.0 * knudsen * knudsen)
}

/// Volume of a spherical cap over the cube of its base diameter (1), V_cap/d³.
///
/// * `contact_angle` — β, rad; above 0, below π.
#[must_use]
pub fn cap_volume_ratio(contact_angle: f64) -> f64 {
    let (c, s) = (cos(contact_angle), sin(contact_angle));
    PI / 24.0 * (2.0 - 3.0 * c + c * c * c) / (s * s * s)
}

/// Surface of a spherical cap over its base, 2/(1 + cos β).
///
/// * `contact_angle` — β, rad; below π.
#[must_use]
pub fn cap_area_ratio(contact_angle: f64) -> f64 {
    2.0 / (1.0 + cos(contact_angle))
}

/// Diameter of the wire under a seed (1), m.
///
/// * `seed_diameter` — d_seed, m. * `group_iii_share` — x_sat, –; below 1. * `contact_angle` — β, rad. * `volume_ratio` — V_III/V_Au, molar volumes, –.
#[must_use]
pub fn wire_diameter(seed_diameter: f64, group_iii_share: f64, contact_angle: f64, volume_ratio: f64) -> f64 {
    let swollen = 1.0 + group_iii_share / (1.0 - group_iii_share) * volume_ratio;
    seed_diameter * cbrt(PI / 6.0 * swollen / cap_volume_ratio(contact_angle))
}

/// What is the same for every wire of a seed class.
#[derive(Clone, Copy, Debug, Default)]
pub struct Class {
    /// ln of the compact seed diameter in m.
    pub ln_seed: f64,
    /// Share of all seeds, –.
    pub weight: f64,
    /// d, m.
    pub diameter: f64,
    /// π d²/4, m².
    pub area: f64,
    /// Λ_inc, m.
    pub incubation: f64,
    /// ((1 − d_c/d)/(1 − d_c/d_ref))², 0 for d ≤ d_c.
    pub gibbs_thomson: f64,
}

impl Class {
    /// The class of a seed of compact diameter e^`ln_seed` (m).
    #[must_use]
    pub fn new(ln_seed: f64, weight: f64, growth: &Growth, material: Material) -> Self {
        let seed = exp(ln_seed);
        let ratio = material.group_iii_molar_volume() / crate::material::GOLD_MOLAR_VOLUME;
        let diameter = wire_diameter(seed, growth.group_iii_share, growth.contact_angle, ratio);
        let area = PI / 4.0 * diameter * diameter;
        let gold_atoms = PI / 6.0 * seed * seed * seed / crate::material::GOLD_MOLAR_VOLUME * AVOGADRO;
        let x = growth.group_iii_share;
        let incubation = x / (1.0 - x) * gold_atoms * material.pair_volume() / area;
        let room = 1.0 - growth.critical_diameter / diameter;
        let reference = 1.0 - growth.critical_diameter / growth.reference_diameter;
        let gibbs_thomson = if room > 0.0 { (room / reference) * (room / reference) } else { 0.0 };
        Self { ln_seed, weight, diameter, area, incubation, gibbs_thomson }
    }
}

/// What is the same for every wire of a job.
#[derive(Clone, Copy, Debug)]
pub struct Law {
    /// The kinetic numbers.
    pub growth: Growth,
    /// Ω, m³.
    pub pair_volume: f64,
    /// 2/(1 + cos β), –.
    pub cap_area: f64,
    /// p, Pa.
    pub pressure: f64,
    /// √(8R/(πM)) of parent and fragment: c̄ = this √T, m/s K^½.
    pub speed: [f64; 2],
}

/// What a path's temperature alone decides.
#[derive(Clone, Copy, Debug, Default)]
pub struct Warm {
    /// T, K.
    pub temperature: f64,
    /// v_ref exp(…), m/s.
    pub axial: f64,
    /// v_rad,ref exp(…), m/s.
    pub radial: f64,
    /// D of parent and fragment, m²/s.
    pub diffusion: [f64; 2],
    /// λ = 3D/c̄ of parent and fragment: Kn = λ/a, m.
    pub free_path: [f64; 2],
    /// Number density of the gas, 1/m³.
    pub density: f64,
}

/// Rates that all classes share at a place.
#[derive(Clone, Copy, Debug, Default)]
pub struct Shared {
    /// v_kin over the factor of Gibbs and Thomson, m/s.
    pub kinetic: f64,
    /// v_rad, m/s.
    pub radial: f64,
    /// h(q), –.
    pub bracket: f64,
    /// p_III, Pa.
    pub group_iii: f64,
}

/// How supply reaches one class at a temperature: Ω J = Σ `reach` x.
#[derive(Clone, Copy, Debug, Default)]
pub struct Supply {
    /// Ω J [cap] for each unit of mole fraction of parent and fragment, m/s, without the collection along the wire.
    pub cap: [f64; 2],
    /// Share that the sidewall adds, (4λ_s/d)/[2/(1 + cosβ)] tanh(L/λ_s), –.
    pub side: f64,
}

impl Law {
    /// exp(−(E/R)(1/T − 1/T_ref)).
    #[inline]
    #[must_use]
    pub fn arrhenius(&self, activation: f64, temperature: f64) -> f64 {
        exp(-activation / GAS_CONSTANT * (1.0 / temperature - 1.0 / self.growth.reference_temperature))
    }

    /// What a temperature alone decides.
    ///
    /// * `diffusion` — c D of parent and fragment, mol/(m s).
    #[must_use]
    pub fn warm(&self, temperature: f64, diffusion: [f64; 2]) -> Warm {
        let g = &self.growth;
        let molar_density = self.pressure / (GAS_CONSTANT * temperature);
        let root = sqrt(temperature);
        let diffusion = diffusion.map(|d| d / molar_density);
        Warm {
            temperature,
            axial: g.axial_rate * self.arrhenius(g.axial_activation, temperature),
            radial: g.radial_rate * self.arrhenius(g.radial_activation, temperature),
            diffusion,
            free_path: [3.0 * diffusion[0] / (self.speed[0] * root), 3.0 * diffusion[1] / (self.speed[1] * root)],
            density: self.pressure / (BOLTZMANN * temperature),
        }
    }

    /// What all classes share at a place: (3) without the factor of Gibbs and Thomson, and (6).
    ///
    /// * `group_iii`, `group_v` — sums of mole fractions, –.
    #[inline]
    #[must_use]
    pub fn shared(&self, warm: &Warm, group_iii: f64, group_v: f64) -> Shared {
        let g = &self.growth;
        let group_iii = self.pressure * group_iii;
        let group_v = self.pressure * group_v;
        // q/(q + q_half) as p_V/(p_V + q_half p_III), so that neither may be missing.
        let sum = group_v + g.v_iii_half * group_iii;
        let met = if sum > 0.0 { group_v / sum } else { 0.0 };
        let bracket = met * (g.reference_v_iii + g.v_iii_half) / g.reference_v_iii;
        let ratio = group_iii / g.reference_group_iii;
        let ratio = if ratio > 0.0 { ratio } else { 0.0 };
        let supplied = raised(ratio, g.group_iii_order);
        Shared { kinetic: warm.axial * supplied * bracket, radial: warm.radial * ratio * bracket, bracket, group_iii }
    }

    /// How supply reaches a wire of length L (m) (4).
    #[inline]
    #[must_use]
    pub fn supply(&self, class: &Class, warm: &Warm, length: f64) -> Supply {
        let radius = 0.5 * class.diameter;
        let mut cap = [0.0; 2];
        for i in 0..2 {
            let flux = warm.diffusion[i] * warm.density / radius
                * fuchs_sutugin(warm.free_path[i] / radius, self.growth.sticking);
            cap[i] = self.pair_volume * self.cap_area * flux;
        }
        Supply { cap, side: self.side(class, length) }
    }

    /// Share that the sidewall adds to what the cap takes, –.
    #[inline]
    #[must_use]
    pub fn side(&self, class: &Class, length: f64) -> f64 {
        let collection = self.growth.collection_length;
        if collection > 0.0 && length > 0.0 {
            4.0 * collection / (class.diameter * self.cap_area) * tanh(length / collection)
        } else {
            0.0
        }
    }

    /// v_sup, m/s (4).
    #[inline]
    #[must_use]
    pub fn supply_rate(supply: &Supply, group_iii: [f64; 2]) -> f64 {
        (supply.cap[0] * group_iii[0] + supply.cap[1] * group_iii[1]) * (1.0 + supply.side)
    }

    /// v, m/s (5).
    #[inline]
    #[must_use]
    pub fn axial(kinetic: f64, supply: f64) -> f64 {
        let sum = kinetic + supply;
        if sum > 0.0 { kinetic * supply / sum } else { 0.0 }
    }

    /// N∞ of a dopant (7), 1/m³, and whether N_max or the floor of p_III was reached.
    ///
    /// * `dopant` — partial pressure, Pa. * `group_iii` — p_III, Pa.
    #[must_use]
    pub fn doping(&self, kinetics: &DopantKinetics, temperature: f64, dopant: f64, group_iii: f64) -> (f64, bool) {
        if !(dopant > 0.0) {
            return (0.0, false);
        }
        let floor = self.growth.reference_group_iii / 100.0;
        let ratio = dopant / group_iii.max(floor);
        let free = kinetics.reference
            * raised(ratio / kinetics.ratio, kinetics.order)
            * self.arrhenius(kinetics.activation, temperature);
        if free > kinetics.limit { (kinetics.limit, true) } else { (free, group_iii < floor) }
    }
}

/// base^exponent for a base from 0; 1 for an exponent of 0 but 0 where nothing is there.
#[inline]
#[allow(clippy::float_cmp, reason = "1 as it is written in a job")]
fn raised(base: f64, exponent: f64) -> f64 {
    if !(base > 0.0) {
        0.0
    } else if exponent == 1.0 {
        base // what `pow` gives, sooner
    } else {
        pow(base, exponent)
    }
}

/// Doping over one step of the running length (8), with N∞ linear in Λ.
#[derive(Clone, Copy, Debug)]
pub struct Memory {
    /// N at the end of the step, 1/m³.
    pub end: f64,
    /// ∫N dΛ over the step, 1/m².
    pub content: f64,
}

impl Memory {
    /// * `step` — ΔΛ, m; from 0. * `memory` — ℓ_d, m; 0: the seed remembers nothing. * `start` — N before, 1/m³. * `wanted` — N∞ at both ends, 1/m³.
    #[must_use]
    pub fn over(step: f64, memory: f64, start: f64, wanted: [f64; 2]) -> Self {
        let mean = 0.5 * (wanted[0] + wanted[1]) * step;
        if !(step > 0.0) {
            return Self { end: start, content: 0.0 };
        }
        if !(memory > 0.0) {
            return Self { end: wanted[1], content: mean };
        }
        let y = step / memory;
        let gone = -expm1(-y); // 1 − e^−y
        // N = N∞ − s ℓ (1 − e^−y) + (N_1 − N∞_1) e^−y, s the slope of N∞; (1 − e^−y)/y → 1 − y/2 for small steps.
        let over_y = if y < 1e-8 { 1.0 - 0.5 * y } else { gone / y };
        let end = wanted[1] - (wanted[1] - wanted[0]) * over_y + (start - wanted[0]) * (1.0 - gone);
        // From (8): ∫N dΛ = ∫N∞ dΛ − ℓ (N − N_1).
        Self { end, content: mean - memory * (end - start) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: dN/dΛ = (N∞ − N)/ℓ with N∞ constant: N∞(1 − e^−y); 10–90 % of the change lie 2.2 ℓ apart.
    #[test]
    fn memory_forgets_exponentially() {
        let m = Memory::over(30.0, 30.0, 0.0, [5.0, 5.0]);
        assert!((m.end - 5.0 * (1.0 - exp(-1.0))).abs() < 1e-14);
        let steps = (0..1000).fold(Memory { end: 0.0, content: 0.0 }, |m, _| {
            let next = Memory::over(0.03, 30.0, m.end, [5.0, 5.0]);
            Memory { end: next.end, content: m.content + next.content }
        });
        assert!((steps.end - m.end).abs() < 1e-12);
        assert!((steps.content - m.content).abs() < 1e-10);
    }

    /// A step of N∞ that is linear in Λ does not depend on how it is cut.
    #[test]
    fn memory_is_exact_for_a_linear_supply() {
        let whole = Memory::over(40.0, 25.0, 1.0, [2.0, 6.0]);
        let first = Memory::over(10.0, 25.0, 1.0, [2.0, 3.0]);
        let second = Memory::over(30.0, 25.0, first.end, [3.0, 6.0]);
        assert!((whole.end - second.end).abs() < 1e-13);
        assert!((whole.content - first.content - second.content).abs() < 1e-11);
    }
}
