//! Viscosity, conductivity, mean free path, diffusion and thermal diffusion; equations (1), (2), (4), (5), (6) of the
//! [module](super).

use super::table::Conductivity;
use super::{Carrier, Mixture, Trace};
use crate::root::sqrt;
use crate::units::{AVOGADRO, BOLTZMANN, GAS_CONSTANT};
use core::f64::consts::PI;
use libm::{exp, log, pow};

/// Pa s in one micropoise.
const MICROPOISE: f64 = 1e-7;

/// A transport fit in the form of NASA's file (1).
///
/// ln f = A ln T + B/T + C/T² + D
///
/// * `coefficients` — A, –; B, K; C, K²; D, –
/// * `temperature` — T, K; above 0
///
/// Returns f in the unit of the fit: micropoise for viscosity.
///
/// # Source
/// McBride, Gordon & Reno 1993; checks `gas.csv`, NASA fit.
#[must_use]
pub fn fit(coefficients: [f64; 4], temperature: f64) -> f64 {
    let [a, b, c, d] = coefficients;
    exp(a * log(temperature) + b / temperature + c / (temperature * temperature) + d)
}

/// Viscosity of a pure gas (1).
///
/// ln(μ/µP) = A ln T + B/T + C/T² + D
///
/// * `carrier` — the gas
/// * `temperature` — T, K; 200 to 1500; the row of 200 to 1000 K is used at all of them
///
/// Returns μ, Pa s.
///
/// # Accuracy
/// Within 1 % of reference equations from 250 to 1500 K.
///
/// # Examples
/// Hydrogen at 300 K: 8.974e-6 Pa s.
///
/// # Source
/// McBride, Gordon & Reno 1993; checks `gas.csv`, viscosity.
#[must_use]
pub fn viscosity(carrier: Carrier, temperature: f64) -> f64 {
    MICROPOISE * fit(carrier.row().viscosity, temperature)
}

/// Thermal conductivity of a pure gas (2).
///
/// Ar, He: k = (15/4) R μ/M. N2: k = 1.511 μ/µPa·s + 2.117 τ⁻¹ − 3.332 τ⁻⁰·⁷ mW/(m K), τ = 126.192 K/T.
/// H2: k = Σ a_i t^i / Σ b_i t^i W/(m K), t = T/33.145 K
///
/// * `carrier` — the gas
/// * `temperature` — T, K; 200 to 1500
///
/// Returns k, W/(m K), in the limit of low pressure.
///
/// # Accuracy
/// Within 1 % of reference equations from 250 to 1500 K.
///
/// # Source
/// Lemmon & Jacobsen 2004 (N2), Assael et al. 2011 (H2), their dilute-gas terms; checks `gas.csv`, thermal conductivity.
#[must_use]
pub fn conductivity(carrier: Carrier, temperature: f64) -> f64 {
    conductivity_with(carrier, temperature, viscosity(carrier, temperature))
}

/// [`conductivity`] where the viscosity is known already; it costs an exponential and a logarithm.
fn conductivity_with(carrier: Carrier, temperature: f64, viscosity: f64) -> f64 {
    let row = carrier.row();
    match row.conductivity {
        Conductivity::Monatomic => 15.0 / 4.0 * GAS_CONSTANT * viscosity / row.molar_mass,
        Conductivity::Reduced { critical_temperature, coefficients: [a, b, c] } => {
            let reduced = critical_temperature / temperature;
            1e-3 * (a * viscosity * 1e6 + b / reduced + c * pow(reduced, -0.7))
        }
        Conductivity::Rational { critical_temperature, numerator, denominator } => {
            let reduced = temperature / critical_temperature;
            polynomial(&numerator, reduced) / polynomial(&denominator, reduced)
        }
    }
}

/// Σ c_i x^i by Horner's form.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * x + coefficient)
}

/// Weight of gas j on the way of gas i in a mixture.
///
/// Φ_ij = [1 + √(μ_i/μ_j) (M_j/M_i)^¼]² / √(8(1 + M_i/M_j))
///
/// * `viscosity` — μ_i, μ_j, Pa s; positive
/// * `molar_mass` — M_i, M_j, both in the same unit; positive
///
/// Returns Φ_ij, –; 1 for equal gases.
///
/// # Source
/// Wilke 1950, eq. 14; checks `gas.csv`, Wilke mixture viscosity.
#[must_use]
pub fn wilke_weight(viscosity: (f64, f64), molar_mass: (f64, f64)) -> f64 {
    let root = 1.0 + sqrt(viscosity.0 / viscosity.1 * sqrt(molar_mass.1 / molar_mass.0));
    root * root / sqrt(8.0 * (1.0 + molar_mass.0 / molar_mass.1))
}

/// Mean free path of hard spheres from the viscosity (4).
///
/// λ = (16/5)(μ/p) √(k_B T/(2π m)), that is μ = (5π/32) ρ c̄ λ
///
/// * `viscosity` — μ, Pa s
/// * `molar_mass` — M = N_A m, kg/mol; positive
/// * `temperature` — T, K
/// * `pressure` — p, Pa; above 0
///
/// Returns λ, m.
///
/// # Examples
/// Air at 296.15 K and 101 325 Pa: 67.3 nm, the one to which Kim's slip constants belong.
///
/// # Source
/// Hirschfelder, Curtiss & Bird 1954, hard spheres; checks `gas.csv`, mean free path.
#[must_use]
pub fn mean_free_path(viscosity: f64, molar_mass: f64, temperature: f64, pressure: f64) -> f64 {
    16.0 / 5.0 * (viscosity / pressure) * sqrt(GAS_CONSTANT * temperature / (2.0 * PI * molar_mass))
}

/// Mean molecular speed, m/s: c̄ = √(8 k_B T/(π m)).
///
/// * `molar_mass` — M, kg/mol; positive
/// * `temperature` — T, K
#[must_use]
pub fn mean_speed(molar_mass: f64, temperature: f64) -> f64 {
    sqrt(8.0 * GAS_CONSTANT * temperature / (PI * molar_mass))
}

/// Reduced collision integrals of the Lennard-Jones potential, by their upper indices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Integral {
    /// Ω₁₁, diffusion.
    Omega11,
    /// Ω₂₂, viscosity.
    Omega22,
    /// Ω₁₂.
    Omega12,
    /// Ω₁₃.
    Omega13,
}

impl Integral {
    /// A, B, C, D, E, F, G, H of the integral, –. Neufeld, Janzen & Aziz 1972, table I, without the sine term.
    const fn coefficients(self) -> [f64; 8] {
        match self {
            Self::Omega11 => [1.060_36, 0.156_10, 0.193_00, 0.476_35, 1.035_87, 1.529_96, 1.764_74, 3.894_11],
            Self::Omega22 => [1.161_45, 0.148_74, 0.524_87, 0.773_20, 2.161_78, 2.437_87, 0.0, 0.0],
            Self::Omega12 => [1.002_20, 0.155_30, 0.161_05, 0.727_51, 0.861_25, 2.068_48, 1.951_62, 4.844_92],
            Self::Omega13 => [0.965_73, 0.156_11, 0.440_67, 1.524_20, 2.389_81, 5.080_63, 0.0, 0.0],
        }
    }

    /// The collision integral.
    ///
    /// Ω = A t^−B + C e^−Dt + E e^−Ft + G e^−Ht
    ///
    /// * `reduced_temperature` — t = k_B T/ε, –; 0.3 to 100
    ///
    /// Returns Ω, –; 1 for hard spheres.
    ///
    /// # Accuracy
    /// 0.2 % of the integrals.
    ///
    /// # Source
    /// Neufeld, Janzen & Aziz 1972; checks `kinetics.csv`, Omega11*, Omega22*.
    #[allow(clippy::many_single_char_names, reason = "the letters of the print")]
    #[must_use]
    pub fn at(self, reduced_temperature: f64) -> f64 {
        let t = reduced_temperature;
        let [a, b, c, d, e, f, g, h] = self.coefficients();
        let last = if g > 0.0 { g * exp(-h * t) } else { 0.0 };
        a * pow(t, -b) + c * exp(-d * t) + e * exp(-f * t) + last
    }
}

/// Two kinds of molecules that meet.
#[derive(Clone, Copy, Debug)]
pub struct Pair {
    /// M₁, kg/mol.
    pub molar_mass_1: f64,
    /// M₂, kg/mol.
    pub molar_mass_2: f64,
    /// σ₁₂, m: arithmetic mean.
    pub collision_diameter: f64,
    /// ε₁₂/k_B, K: geometric mean.
    pub well_depth: f64,
}

impl Pair {
    /// The pair of two gases, by the usual rules: σ arithmetic, ε geometric mean.
    #[must_use]
    pub fn new(first: &Trace, second: &Trace) -> Self {
        Self {
            molar_mass_1: first.molar_mass,
            molar_mass_2: second.molar_mass,
            collision_diameter: 0.5 * (first.collision_diameter + second.collision_diameter),
            well_depth: sqrt(first.well_depth * second.well_depth),
        }
    }

    /// Binary diffusion coefficient (5).
    ///
    /// D = 3/(8 n σ² Ω₁₁) √(k_B T/(2π m_r)),  n = p/(k_B T),  m_r = m₁m₂/(m₁ + m₂)
    ///
    /// * `temperature` — T, K; above 0
    /// * `pressure` — p, Pa; above 0
    ///
    /// Returns D, m²/s.
    ///
    /// # Accuracy
    /// ±10 %: 3–6 % low at room temperature and 7–12 % low at 600 K against measured light pairs.
    ///
    /// # Source
    /// Hirschfelder, Curtiss & Bird 1954, eq. 8.2-44, first order; checks `kinetics.csv`, binary diffusion coefficient.
    #[must_use]
    pub fn diffusion(&self, temperature: f64, pressure: f64) -> f64 {
        let number_density = pressure / (BOLTZMANN * temperature);
        let reduced_mass = self.molar_mass_1 * self.molar_mass_2 / (self.molar_mass_1 + self.molar_mass_2) / AVOGADRO;
        let area =
            self.collision_diameter * self.collision_diameter * Integral::Omega11.at(temperature / self.well_depth);
        3.0 / (8.0 * number_density * area) * sqrt(BOLTZMANN * temperature / (2.0 * PI * reduced_mass))
    }
}

impl Carrier {
    /// This gas as one that collides.
    #[must_use]
    pub const fn trace(self) -> Trace {
        let row = self.row();
        Trace { molar_mass: row.molar_mass, collision_diameter: row.collision_diameter, well_depth: row.well_depth }
    }
}

/// Binary diffusion coefficient of a trace in a pure carrier (5), m²/s; see [`Pair::diffusion`].
#[must_use]
pub fn binary_diffusion(trace: &Trace, carrier: Carrier, temperature: f64, pressure: f64) -> f64 {
    Pair::new(trace, &carrier.trace()).diffusion(temperature, pressure)
}

/// Diffusion coefficient in a mixture from those in its gases, Blanc's law (5).
///
/// 1/D = Σ x_k/D_k
///
/// * `parts` — (x_k, –; D_k, m²/s) of each gas; a gas of share 0 is passed over
///
/// Returns D, m²/s; infinite where every share is 0.
///
/// # Source
/// Blanc 1908; checks `kinetics.csv`, Blanc's law.
#[must_use]
pub fn blanc(parts: impl Iterator<Item = (f64, f64)>) -> f64 {
    1.0 / parts.filter(|(share, _)| *share > 0.0).map(|(share, diffusion)| share / diffusion).sum::<f64>()
}

/// Thermal diffusion factor of a trace 1 in a pure gas 2 (6).
///
/// α = −(6C* − 5) S/[6Λ(1 + V)],  Λ = √((1 + r)/(2r)) (σ₂/σ₁₂)² Ω₂₂(T/ε₂)/Ω₂₂(T/ε₁₂),  r = M₁/M₂
/// S = Λ(1 + r)/(2r) − 15(r − 1)/(8A*) − 1,  V = 4A*/15 − (12B*/5 + 1)/(12r) + (r − 1)²/(2r)
/// A* = Ω₂₂/Ω₁₁,  B* = (5Ω₁₂ − 4Ω₁₃)/Ω₁₁,  C* = Ω₁₂/Ω₁₁ at T/ε₁₂
///
/// * `trace`, `gas` — 1 and 2
/// * `temperature` — T, K; above 0
///
/// Returns α, –; positive: the trace goes to the cold side.
///
/// # Accuracy
/// Without internal motion 1.3 % in H2 and N2, 2.1 % in Ar and He, from 300 to 900 K; ±10 % with it, light hydrides in N2
/// and Ar off by up to 0.03.
///
/// # Examples
/// Trimethylindium in H2 at 600 K: 1.085.
///
/// # Source
/// Hirschfelder, Curtiss & Bird 1954, eq. 8.2-50, first order at x₁ → 0; checks `kinetics.csv`, thermal diffusion factor.
#[must_use]
pub fn thermal_diffusion_factor(trace: &Trace, gas: &Trace, temperature: f64) -> f64 {
    let pair = Pair::new(trace, gas);
    let r = trace.molar_mass / gas.molar_mass;
    let t = temperature / pair.well_depth;
    let omega11 = Integral::Omega11.at(t);
    let omega22 = Integral::Omega22.at(t);
    let omega12 = Integral::Omega12.at(t);
    let a_star = omega22 / omega11;
    let b_star = (5.0 * omega12 - 4.0 * Integral::Omega13.at(t)) / omega11;
    let c_star = omega12 / omega11;
    let size = gas.collision_diameter / pair.collision_diameter;
    let lambda =
        sqrt((1.0 + r) / (2.0 * r)) * size * size * Integral::Omega22.at(temperature / gas.well_depth) / omega22;
    let s = lambda * (1.0 + r) / (2.0 * r) - 15.0 * (r - 1.0) / (8.0 * a_star) - 1.0;
    let v = 4.0 * a_star / 15.0 - (12.0 * b_star / 5.0 + 1.0) / (12.0 * r) + (r - 1.0) * (r - 1.0) / (2.0 * r);
    -(6.0 * c_star - 5.0) * s / (6.0 * lambda * (1.0 + v))
}

impl Mixture {
    /// Viscosity of the carrier (1), Pa s: μ = Σ x_i μ_i / Σ_j x_j Φ_ij.
    ///
    /// * `temperature` — T, K; 200 to 1500
    ///
    /// # Accuracy
    /// Pure gas 1 %; up to 10 % too high with hydrogen in a heavier gas.
    ///
    /// # Source
    /// Wilke 1950; checks `gas.csv`, mixture viscosity.
    #[must_use]
    pub fn viscosity(&self, temperature: f64) -> f64 {
        let viscosities = self.viscosities(temperature);
        self.weighted(viscosities, viscosities)
    }

    /// Thermal conductivity of the carrier (2), W/(m K): k = Σ x_i k_i / Σ_j x_j Φ_ij.
    ///
    /// * `temperature` — T, K; 200 to 1500
    ///
    /// # Accuracy
    /// Pure gas 1 %; nitrogen with argon 8 %; hydrogen in a heavier gas 8 to 17 % above multicomponent kinetic theory.
    ///
    /// # Source
    /// Mason & Saxena 1958 with Wilke's Φ and the factor 1; checks `gas.csv`, mixture thermal conductivity.
    #[must_use]
    pub fn conductivity(&self, temperature: f64) -> f64 {
        let viscosities = self.viscosities(temperature);
        let mut conductivities = [0.0; 4];
        for (((conductivity, viscosity), gas), share) in
            conductivities.iter_mut().zip(viscosities).zip(Carrier::ALL).zip(self.share)
        {
            if share > 0.0 {
                *conductivity = conductivity_with(gas, temperature, viscosity);
            }
        }
        self.weighted(conductivities, viscosities)
    }

    /// Viscosity of each gas that is there, Pa s; 0 for the others, which nobody reads.
    fn viscosities(&self, temperature: f64) -> [f64; 4] {
        let mut viscosities = [0.0; 4];
        for ((value, gas), share) in viscosities.iter_mut().zip(Carrier::ALL).zip(self.share) {
            if share > 0.0 {
                *value = viscosity(gas, temperature);
            }
        }
        viscosities
    }

    /// Σ x_i f_i / Σ_j x_j Φ_ij over the gases that are there.
    fn weighted(&self, property: [f64; 4], viscosities: [f64; 4]) -> f64 {
        let mut sum = 0.0;
        for (((share, value), own), gas) in self.share.iter().zip(property).zip(viscosities).zip(Carrier::ALL) {
            if *share > 0.0 {
                let mut crowd = 0.0;
                for ((other_share, other), other_gas) in self.share.iter().zip(viscosities).zip(Carrier::ALL) {
                    if *other_share > 0.0 {
                        crowd += other_share * wilke_weight((own, other), (gas.molar_mass(), other_gas.molar_mass()));
                    }
                }
                sum += share * value / crowd;
            }
        }
        sum
    }

    /// Mean free path in the carrier (4), m; see [`mean_free_path`].
    ///
    /// * `temperature` — T, K; 200 to 1500
    /// * `pressure` — p, Pa; above 0
    #[must_use]
    pub fn mean_free_path(&self, temperature: f64, pressure: f64) -> f64 {
        mean_free_path(self.viscosity(temperature), self.molar_mass(), temperature, pressure)
    }
}

impl Trace {
    /// Diffusion coefficient of the trace in the carrier (5), m²/s, by Blanc's law.
    ///
    /// * `carrier` — shares
    /// * `temperature` — T, K; above 0
    /// * `pressure` — p, Pa; above 0
    ///
    /// # Accuracy
    /// ±10 %, as of [`Pair::diffusion`].
    #[must_use]
    pub fn diffusion(&self, carrier: &Mixture, temperature: f64, pressure: f64) -> f64 {
        blanc(carrier.present().map(|(gas, share)| (share, binary_diffusion(self, gas, temperature, pressure))))
    }

    /// Thermal diffusion factor of the trace in the carrier (6), –; positive: to the cold side.
    ///
    /// α = Σ(x_k α_k/D_k)/Σ(x_k/D_k)
    ///
    /// * `carrier` — shares; a gas of share 0 is passed over
    /// * `temperature` — T, K; above 0
    ///
    /// # Accuracy
    /// ±10 % in a pure carrier; in a mixed one that has separated by its own thermal diffusion 8 % low in H2–N2, 16 % low in
    /// H2–Ar, 10 % high in H2–He.
    #[must_use]
    pub fn thermal_diffusion_factor(&self, carrier: &Mixture, temperature: f64) -> f64 {
        let mut above = 0.0;
        let mut below = 0.0;
        for (gas, share) in carrier.present() {
            // The pressure falls out of the ratio; 1 Pa stands for any.
            let weight = share / binary_diffusion(self, gas, temperature, 1.0);
            above += weight * thermal_diffusion_factor(self, &gas.trace(), temperature);
            below += weight;
        }
        above / below
    }

    /// Mean molecular speed of the trace, m/s: c̄ = √(8 k_B T/(π m)).
    ///
    /// * `temperature` — T, K
    #[must_use]
    pub fn mean_speed(&self, temperature: f64) -> f64 {
        mean_speed(self.molar_mass, temperature)
    }
}

#[cfg(test)]
mod tests {
    use super::{Integral, blanc, conductivity, thermal_diffusion_factor, viscosity, wilke_weight};
    use crate::gas::{Carrier, Mixture, Trace};

    const TMIN: Trace = Trace { molar_mass: 159.922e-3, collision_diameter: 5.62e-10, well_depth: 494.0 };

    /// A mixture of one gas is that gas, whatever rule mixes it.
    #[test]
    fn mixture_of_one_gas_is_that_gas() {
        for gas in Carrier::ALL {
            let pure = Mixture::of(gas);
            for t in [250.0, 700.0, 1300.0] {
                assert!((pure.viscosity(t) / viscosity(gas, t) - 1.0).abs() < 1e-14);
                assert!((pure.conductivity(t) / conductivity(gas, t) - 1.0).abs() < 1e-14);
                let alpha = thermal_diffusion_factor(&TMIN, &gas.trace(), t);
                assert!((TMIN.thermal_diffusion_factor(&pure, t) / alpha - 1.0).abs() < 1e-14);
            }
        }
    }

    /// Source: Wilke 1950: equal gases weigh 1.
    #[test]
    fn equal_gases_weigh_one() {
        assert!((wilke_weight((2e-5, 2e-5), (0.028, 0.028)) - 1.0).abs() < 1e-15);
    }

    /// A gas that is not there changes nothing, even where its own number would be none.
    #[test]
    fn absent_gas_is_passed_over() {
        let d = blanc([(1.0, 3e-5), (0.0, 0.0), (0.0, f64::NAN)].into_iter());
        assert!((d / 3e-5 - 1.0).abs() < 1e-15);
        assert!(Mixture { share: [0.0, 1.0, 0.0, 0.0] }.viscosity(300.0).is_finite());
    }

    /// Source: ideal gas: D falls as 1/p, and the factor does not know p.
    #[test]
    fn diffusion_is_inverse_in_pressure() {
        let carrier = Mixture { share: [0.6, 0.4, 0.0, 0.0] };
        let ratio = TMIN.diffusion(&carrier, 700.0, 1e4) / TMIN.diffusion(&carrier, 700.0, 1e5);
        assert!((ratio - 10.0).abs() < 1e-12);
    }

    /// Properties rise with temperature over the whole range, and the mixture lies between its gases in D.
    #[test]
    fn hotter_gas_carries_more() {
        let carrier = Mixture { share: [0.5, 0.5, 0.0, 0.0] };
        let mut last = (0.0, 0.0, 0.0);
        for step in 0..110 {
            let t = 200.0 + 10.0 * f64::from(step);
            let now = (carrier.viscosity(t), carrier.conductivity(t), TMIN.diffusion(&carrier, t, 1e5));
            assert!(now.0 > last.0 && now.1 > last.1 && now.2 > last.2, "at {t} K");
            let light = TMIN.diffusion(&Mixture::of(Carrier::H2), t, 1e5);
            let heavy = TMIN.diffusion(&Mixture::of(Carrier::N2), t, 1e5);
            assert!(heavy < now.2 && now.2 < light);
            last = now;
        }
    }

    /// Source: Neufeld, Janzen & Aziz 1972: every integral falls with temperature.
    #[test]
    fn collision_integrals_fall_with_temperature() {
        for integral in [Integral::Omega11, Integral::Omega22, Integral::Omega12, Integral::Omega13] {
            let mut last = f64::INFINITY;
            for step in 3..1000 {
                let now = integral.at(0.1 * f64::from(step));
                assert!(now > 0.0 && now < last);
                last = now;
            }
        }
    }
}
