//! Heat capacity and density of the carrier; equation (3) of the [module](super), and the ideal gas.

use super::{Carrier, Mixture};
use crate::units::GAS_CONSTANT;

/// Temperature at which the two intervals of the heat capacity meet, K.
pub const INTERVAL_BORDER: f64 = 1000.0;

/// Molar heat capacity at constant pressure of a pure gas (3).
///
/// c_p/R = a₁T⁻² + a₂T⁻¹ + a₃ + a₄T + a₅T² + a₆T³ + a₇T⁴, one set of a up to 1000 K, another above
///
/// * `carrier` — the gas
/// * `temperature` — T, K; 200 to 6000
///
/// Returns c_p, J/(mol K).
///
/// # Accuracy
/// 0.1 % of the tables of 1998 from 300 to 1200 K.
///
/// # Examples
/// Hydrogen at 300 K: 28.849 J/(mol K).
///
/// # Source
/// McBride, Zehe & Gordon 2002; checks `gas.csv`, molar heat capacity.
#[must_use]
pub fn molar_heat_capacity(carrier: Carrier, temperature: f64) -> f64 {
    let [below, above] = carrier.row().heat_capacity;
    let [a1, a2, a3, a4, a5, a6, a7] = if temperature > INTERVAL_BORDER { above } else { below };
    let inverse = 1.0 / temperature;
    // Horner's form on both sides of the constant term: the powers of T span 36 decades.
    let rising = temperature * (a4 + temperature * (a5 + temperature * (a6 + temperature * a7)));
    GAS_CONSTANT * (inverse * (a2 + inverse * a1) + a3 + rising)
}

/// Molar density of an ideal gas, mol/m³: c = p/(R T).
///
/// * `temperature` — T, K; above 0
/// * `pressure` — p, Pa
#[must_use]
pub fn molar_density(temperature: f64, pressure: f64) -> f64 {
    pressure / (GAS_CONSTANT * temperature)
}

impl Mixture {
    /// Molar heat capacity of the carrier (3), J/(mol K): c_p = Σ x_i c_p,i.
    ///
    /// * `temperature` — T, K; 200 to 6000
    #[must_use]
    pub fn molar_heat_capacity(&self, temperature: f64) -> f64 {
        self.present().map(|(gas, share)| share * molar_heat_capacity(gas, temperature)).sum()
    }

    /// Mass density of the carrier, kg/m³: ρ = M p/(R T).
    ///
    /// * `temperature` — T, K; above 0
    /// * `pressure` — p, Pa
    #[must_use]
    pub fn mass_density(&self, temperature: f64, pressure: f64) -> f64 {
        self.molar_mass() * molar_density(temperature, pressure)
    }
}

#[cfg(test)]
mod tests {
    use super::{INTERVAL_BORDER, molar_heat_capacity};
    use crate::gas::Carrier;
    use crate::units::GAS_CONSTANT;

    /// Source: McBride, Zehe & Gordon 2002: the intervals are fitted to meet. A wrong digit would open a step.
    #[test]
    fn both_intervals_meet_at_their_border() {
        for gas in Carrier::ALL {
            let below = molar_heat_capacity(gas, INTERVAL_BORDER);
            let above = molar_heat_capacity(gas, INTERVAL_BORDER * (1.0 + 1e-12));
            assert!((above / below - 1.0).abs() < 1e-6, "{gas:?}: {below} {above}");
        }
    }

    /// Source: equipartition: 5/2 R for one atom.
    #[test]
    fn monatomic_gas_has_five_halves_of_the_gas_constant() {
        for gas in [Carrier::Ar, Carrier::He] {
            for temperature in [200.0, 700.0, 1000.0, 1300.0] {
                let ratio = molar_heat_capacity(gas, temperature) / (2.5 * GAS_CONSTANT);
                assert!((ratio - 1.0).abs() < 1e-6, "{gas:?} at {temperature}");
            }
        }
    }
}
