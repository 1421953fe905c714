//! What a bubbler gives: vapour pressure, molar pick-up, where the vapour would condense, how long a charge lasts.
//!
//! Takes a bath temperature, the pressure over the bath and the carrier through it; gives the molar flow of the precursor.
//!
//! (1) log10(p_v/Torr) = B − A/T
//! (2) ṅ = ṅ_carrier p_v/(p_bath − p_v)
//! (3) T_sat = A/(B − log10(p/Torr))
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | B, A | `pair.constant`, `pair.slope` | –, K |
//! | T | `temperature` | K |
//! | p_v | `vapour_pressure` | Pa |
//! | p_bath | `bath_pressure`, over the bath | Pa |
//! | ṅ_carrier | `carrier` | mol/s |
//!
//! Range: the gas leaves saturated, which holds for liquids at usual flows; a solid (TMIn) that has caked gives less. The
//! vapour pressure must stay under the pressure over the bath: else there is no answer.
//!
//! Not modelled: cooling of the bath by evaporation, hydrostatic pressure in the liquid (some 5 mbar), the heel that is left
//! in a bubbler (10–20 % of its charge).
//!
//! Sources: [1] the table's rows. [2] Dalton's law. Checks: vapour.csv.

use super::table::VapourPair;
use crate::units::TORR;

impl VapourPair {
    /// Vapour pressure (1).
    ///
    /// log10(p_v/Torr) = B − A/T
    ///
    /// * `temperature` — T, K; above 0
    ///
    /// Returns p_v, Pa.
    ///
    /// # Examples
    /// TMGa at 0 °C: 9125 Pa (68.4 Torr).
    ///
    /// # Source
    /// [1]. Checks V003–V107.
    #[must_use]
    pub fn pressure(&self, temperature: f64) -> f64 {
        TORR * libm::exp10(self.constant - self.slope / temperature)
    }

    /// Temperature at which the vapour is saturated at a partial pressure (3); it condenses where it is colder.
    ///
    /// T_sat = A/(B − log10(p/Torr))
    ///
    /// * `pressure` — partial pressure, Pa; above 0 and under the pressure at infinite temperature (10^B Torr)
    ///
    /// Returns T_sat, K.
    ///
    /// # Source
    /// (1) solved for T.
    #[must_use]
    pub fn saturation_temperature(&self, pressure: f64) -> f64 {
        self.slope / (self.constant - libm::log10(pressure / TORR))
    }
}

/// Molar pick-up of a carrier that leaves a bubbler saturated (2).
///
/// ṅ = ṅ_carrier p_v/(p_bath − p_v)
///
/// * `carrier` — ṅ_carrier, mol/s; 0 or more
/// * `vapour_pressure` — p_v at the bath's temperature, Pa
/// * `bath_pressure` — p_bath, Pa
///
/// Returns ṅ, mol/s; `None` where p_v is not under p_bath: the bath boils and the flow is not set by the carrier.
///
/// # Source
/// [2]. Checks V185–V188.
#[must_use]
pub fn pick_up(carrier: f64, vapour_pressure: f64, bath_pressure: f64) -> Option<f64> {
    (vapour_pressure < bath_pressure).then(|| carrier * vapour_pressure / (bath_pressure - vapour_pressure))
}

/// Whether the vapour condenses in the line behind the bubbler.
///
/// The gas leaves the bath saturated, with the partial pressure p_v(T_bath), and from the bath to the valve that lets its
/// pressure down the line stands at the bath's own pressure; dilution and the lower pressure of the stage help only behind
/// that valve. So the vapour is over-saturated wherever the line is colder than the bath, p_v(T_line) < p_v(T_bath), whatever
/// the substance. Equal temperatures are just saturated and pass.
///
/// * `bath` — temperature of the bath, K
/// * `line` — coldest place of the line behind it, K
///
/// Returns whether it condenses.
#[must_use]
pub fn condenses(bath: f64, line: f64) -> bool {
    line < bath
}

/// How long a charge lasts at a steady draw, to the last molecule.
///
/// t = m/(M ṅ)
///
/// * `charge` — m, kg
/// * `molar_mass` — M, kg/mol; above 0
/// * `draw` — ṅ, what leaves the bath, mol/s, vented part included
///
/// Returns t, s; `None` where nothing is drawn.
#[must_use]
pub fn lasting_time(charge: f64, molar_mass: f64, draw: f64) -> Option<f64> {
    (draw > 0.0).then(|| charge / (molar_mass * draw))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::feed::table::Precursor;

    /// Source: (3) undoes (1).
    #[test]
    fn saturation_temperature_undoes_vapour_pressure() {
        for pair in Precursor::ALL.into_iter().filter_map(Precursor::vapour) {
            for temperature in [250.0, 293.15, 340.0] {
                let back = pair.saturation_temperature(pair.pressure(temperature));
                assert!((back / temperature - 1.0).abs() < 1e-13, "{back} {temperature}");
            }
        }
    }

    /// Source: Dalton's law: the share of vapour in the gas that leaves is p_v/p_bath.
    #[test]
    fn gas_leaves_with_the_share_of_its_vapour_pressure() {
        let picked = pick_up(1.0, 9000.0, 100_000.0).unwrap_or(f64::NAN);
        assert!((picked / (1.0 + picked) - 0.09).abs() < 1e-15);
    }

    /// Source: a bath that boils has no pick-up.
    #[test]
    fn a_boiling_bath_is_refused() {
        assert_eq!(pick_up(1.0, 100_000.0, 100_000.0), None);
        assert_eq!(pick_up(1.0, 2e5, 1e5), None);
        assert_eq!(pick_up(1.0, f64::NAN, 1e5), None);
    }

    /// Source: the rule of [`condenses`], its edge included.
    #[test]
    fn a_line_colder_than_the_bath_condenses() {
        assert!(condenses(298.15, 295.15));
        assert!(!condenses(295.15, 295.15) && !condenses(273.15, 295.15));
    }

    /// Source: 114.827 g of TMGa at 1 µmol/s last 1e6 s.
    #[test]
    fn a_charge_lasts_as_long_as_it_holds_moles() {
        let time = lasting_time(0.114_827, Precursor::TMGa.molar_mass(), 1e-6).unwrap_or(f64::NAN);
        assert!((time / 1e6 - 1.0).abs() < 1e-12);
        assert_eq!(lasting_time(0.1, 0.1, 0.0), None);
    }
}
