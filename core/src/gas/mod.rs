//! How the carrier gas carries: what flows in every tube, and how a trace of precursor moves in it.
//!
//! First of the physics that a line meets: takes temperature and pressure and the shares of the carrier, gives viscosity,
//! conductivity, heat capacity and mean free path of the carrier ([`Mixture`]) and diffusion, thermal diffusion factor and
//! mean molecular speed of a trace in it ([`Trace`]).
//!
//! Equations, in the order of the files:
//!
//! 1. ln(μ/µP) = A ln T + B/T + C/T² + D for a pure gas [1]; μ = Σ x_i μ_i / Σ_j x_j Φ_ij for a mixture [2]
//! 2. k of a pure gas as the row says [3, 4]; k = Σ x_i k_i / Σ_j x_j Φ_ij for a mixture [5]
//! 3. c_p/R = a₁T⁻² + a₂T⁻¹ + a₃ + a₄T + a₅T² + a₆T³ + a₇T⁴ [6]; M and c_p of a mixture by mole fraction
//! 4. λ = (16/5)(μ/p) √(k_B T/(2π m))
//! 5. D = 3/(8 n σ² Ω₁₁) √(k_B T/(2π m_r)) [7, 8]; 1/D = Σ x_k/D_k [9]
//! 6. α of a trace by the first order of Chapman and Enskog [7]; α = Σ(x_k α_k/D_k)/Σ(x_k/D_k)
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | T, p | `temperature`, `pressure` | K, Pa |
//! | x | `share` | – |
//! | M | `molar_mass` | kg/mol |
//! | μ, k, c_p | `viscosity`, `conductivity`, `molar_heat_capacity` | Pa s, W/(m K), J/(mol K) |
//! | λ | `mean_free_path` | m |
//! | σ, ε/k_B | `collision_diameter`, `well_depth` | m, K |
//! | Ω₁₁, Ω₂₂, Ω₁₂, Ω₁₃ | [`transport::Integral`] | – |
//! | D, α | `diffusion`, `thermal_diffusion_factor` | m²/s, – |
//!
//! Range: 200 to 1300 K. Viscosity takes the 200 to 1000 K row of its source at every temperature; viscosity and
//! conductivity of the pure gases stay within 1 % of reference equations from 250 to 1500 K. Nothing is refused here: a
//! [`crate::line::Line`] has its temperatures and shares inside their range.
//!
//! Not modelled: precursors in the properties of the carrier (they are dilute and count in the molar flow alone; in hydrogen
//! a thousandth of a heavy alkyl adds some 6 % to the mean molar mass); pressure dependence (ideal gas; 0.1 % at 1 bar);
//! the separation of a mixed carrier by its own thermal diffusion. Expected error: viscosity and conductivity of hydrogen in
//! a heavier gas up to 10 and 17 % too high, binary diffusion ±10 %, thermal diffusion factor ±10 % in a pure carrier.
//!
//! Sources: [1] McBride, Gordon & Reno 1993, NASA TM-4513. [2] Wilke 1950, J. Chem. Phys. 18, 517. [3] Lemmon & Jacobsen
//! 2004, Int. J. Thermophys. 25, 21. [4] Assael et al. 2011, J. Phys. Chem. Ref. Data 40, 033101. [5] Mason & Saxena 1958,
//! Phys. Fluids 1, 361. [6] McBride, Zehe & Gordon 2002, NASA/TP-2002-211556. [7] Hirschfelder, Curtiss & Bird 1954,
//! Molecular Theory of Gases and Liquids. [8] Neufeld, Janzen & Aziz 1972, J. Chem. Phys. 57, 1100. [9] Blanc 1908, J. Phys.
//! Théor. Appl. 7, 825.
//!
//! Checks: `gas.csv`, and `kinetics.csv` for collision integrals, diffusion and thermal diffusion.

use serde::{Deserialize, Serialize};

pub mod table;
pub mod thermo;
pub mod transport;

/// A pure carrier gas.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Carrier {
    /// Hydrogen.
    H2,
    /// Nitrogen.
    N2,
    /// Argon.
    Ar,
    /// Helium.
    He,
}

impl Carrier {
    /// All carriers, in the order of [`Mixture::share`].
    pub const ALL: [Self; 4] = [Self::H2, Self::N2, Self::Ar, Self::He];

    /// The row of data of this gas.
    #[must_use]
    pub const fn row(self) -> &'static table::Row {
        match self {
            Self::H2 => &table::HYDROGEN,
            Self::N2 => &table::NITROGEN,
            Self::Ar => &table::ARGON,
            Self::He => &table::HELIUM,
        }
    }

    /// Molar mass, kg/mol.
    #[must_use]
    pub const fn molar_mass(self) -> f64 {
        self.row().molar_mass
    }
}

/// A carrier gas of one or several of the four, by mole fraction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixture {
    /// Mole fractions in the order of [`Carrier::ALL`], –; 0 to 1, they sum to 1.
    pub share: [f64; 4],
}

impl Mixture {
    /// The pure gas.
    #[must_use]
    pub const fn of(carrier: Carrier) -> Self {
        let share = match carrier {
            Carrier::H2 => [1.0, 0.0, 0.0, 0.0],
            Carrier::N2 => [0.0, 1.0, 0.0, 0.0],
            Carrier::Ar => [0.0, 0.0, 1.0, 0.0],
            Carrier::He => [0.0, 0.0, 0.0, 1.0],
        };
        Self { share }
    }

    /// The gases that are there at all, with their shares. A gas of share 0 is passed over everywhere, so that it can
    /// neither divide nor cost time.
    pub fn present(&self) -> impl Iterator<Item = (Carrier, f64)> + '_ {
        Carrier::ALL
            .iter()
            .zip(self.share.iter())
            .filter(|(_, share)| **share > 0.0)
            .map(|(carrier, share)| (*carrier, *share))
    }

    /// Mean molar mass, kg/mol: M = Σ x_i M_i.
    #[must_use]
    pub fn molar_mass(&self) -> f64 {
        self.present().map(|(gas, share)| share * gas.molar_mass()).sum()
    }
}

/// A trace gas in a carrier: a precursor, its fragment, or a dopant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trace {
    /// Molar mass, kg/mol; positive.
    pub molar_mass: f64,
    /// Lennard-Jones collision diameter σ, m; positive.
    pub collision_diameter: f64,
    /// Lennard-Jones well depth over k_B, ε/k_B, K; positive.
    pub well_depth: f64,
}

#[cfg(test)]
mod tests {
    use super::{Carrier, Mixture};

    /// Source: the rule of mixtures; all four in equal parts.
    #[test]
    fn mean_molar_mass_is_the_mean() {
        let mixture = Mixture { share: [0.25; 4] };
        let mean = (2.015_88 + 28.0134 + 39.948 + 4.002_602) * 0.25e-3;
        assert!((mixture.molar_mass() - mean).abs() < 1e-15);
    }

    /// A pure gas is the mixture that holds nothing else.
    #[test]
    fn pure_gas_holds_one_gas() {
        for gas in Carrier::ALL {
            assert!(Mixture::of(gas).present().eq([(gas, 1.0)]));
        }
    }
}
