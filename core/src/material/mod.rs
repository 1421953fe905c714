//! What grows: the four III–V materials, what a pair of their atoms weighs and fills, and what the seed is made of.
//!
//! The checked job names a [`Material`]; the wire asks it for the volume of a pair, the cap for molar volumes, the plant for
//! masses.
//!
//! 1. Ω = a³/4: volume of one III–V pair, four of them in the cubic cell [1]
//! 2. V = M/ρ: molar volume of a metal
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | a | `lattice_constant` | m |
//! | Ω | `pair_volume` | m³ |
//! | M | `pair_molar_mass`, `molar_mass` | kg/mol |
//! | V_III, V_Au | `group_iii_molar_volume`, [`GOLD_MOLAR_VOLUME`] | m³/mol |
//!
//! Range: 300 K; the lattice grows by 0.3 % up to 800 K, which is left out, as is the volume of mixing in the seed.
//!
//! Sources: [1] Vurgaftman, Meyer & Ram-Mohan 2001, J. Appl. Phys. 89, 5815. Checks: `semiconductors.csv`, lattice constant
//! and pair volume; `kinetics.csv`, wire diameter.

use crate::units::AVOGADRO;
use serde::{Deserialize, Serialize};

pub mod table;

pub use table::{GOLD, GOLD_CONDUCTIVITY, GOLD_DENSITY, Metal};

/// Molar volume of gold (2), m³/mol: 10.21 cm³/mol.
pub const GOLD_MOLAR_VOLUME: f64 = GOLD.molar_volume();

/// An element of groups III and V.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Element {
    /// Gallium, group III.
    Ga,
    /// Indium, group III.
    In,
    /// Arsenic, group V.
    As,
    /// Phosphorus, group V.
    P,
}

impl Element {
    /// The row of data.
    #[must_use]
    pub const fn row(self) -> &'static table::ElementRow {
        match self {
            Self::Ga => &table::GALLIUM,
            Self::In => &table::INDIUM,
            Self::As => &table::ARSENIC,
            Self::P => &table::PHOSPHORUS,
        }
    }

    /// Molar mass, kg/mol.
    #[must_use]
    pub const fn molar_mass(self) -> f64 {
        self.row().molar_mass
    }

    /// Symbol of the element.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.row().name
    }
}

impl Metal {
    /// Molar volume (2), m³/mol.
    #[must_use]
    pub const fn molar_volume(&self) -> f64 {
        self.molar_mass / self.mass_density
    }
}

/// A III–V material.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Material {
    /// Gallium arsenide.
    GaAs,
    /// Indium phosphide.
    InP,
    /// Gallium phosphide.
    GaP,
    /// Indium arsenide.
    InAs,
}

impl Material {
    /// All materials.
    pub const ALL: [Self; 4] = [Self::GaAs, Self::InP, Self::GaP, Self::InAs];

    /// The row of data.
    #[must_use]
    pub const fn row(self) -> &'static table::Row {
        match self {
            Self::GaAs => &table::GALLIUM_ARSENIDE,
            Self::InP => &table::INDIUM_PHOSPHIDE,
            Self::GaP => &table::GALLIUM_PHOSPHIDE,
            Self::InAs => &table::INDIUM_ARSENIDE,
        }
    }

    /// Formula, as the job file writes it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.row().name
    }

    /// Its element of group III.
    #[must_use]
    pub const fn group_iii(self) -> Element {
        match self {
            Self::GaAs | Self::GaP => Element::Ga,
            Self::InP | Self::InAs => Element::In,
        }
    }

    /// Its element of group V.
    #[must_use]
    pub const fn group_v(self) -> Element {
        match self {
            Self::GaAs | Self::InAs => Element::As,
            Self::InP | Self::GaP => Element::P,
        }
    }

    /// Lattice constant at 300 K, m.
    #[must_use]
    pub const fn lattice_constant(self) -> f64 {
        self.row().lattice_constant
    }

    /// Volume of one III–V pair at 300 K (1), m³.
    ///
    /// Ω = a³/4
    ///
    /// # Examples
    /// GaAs: 4.5168e-29 m³.
    #[must_use]
    pub const fn pair_volume(self) -> f64 {
        let a = self.lattice_constant();
        a * a * a / 4.0
    }

    /// Mass of a mole of III–V pairs, kg/mol.
    #[must_use]
    pub const fn pair_molar_mass(self) -> f64 {
        self.group_iii().molar_mass() + self.group_v().molar_mass()
    }

    /// Mass density of the crystal at 300 K, kg/m³.
    #[must_use]
    pub const fn mass_density(self) -> f64 {
        self.pair_molar_mass() / (AVOGADRO * self.pair_volume())
    }

    /// Its element of group III as a liquid, as it is in the seed.
    #[must_use]
    pub const fn liquid(self) -> &'static Metal {
        match self.group_iii() {
            Element::In => &table::LIQUID_INDIUM,
            _ => &table::LIQUID_GALLIUM,
        }
    }

    /// Molar volume of its element of group III as a liquid (2), m³/mol.
    #[must_use]
    pub const fn group_iii_molar_volume(self) -> f64 {
        self.liquid().molar_volume()
    }
}

#[cfg(test)]
mod tests {
    use super::{GOLD, Material};

    /// The name is that of its two elements, so that no row can be exchanged.
    #[test]
    fn name_is_made_of_the_elements() {
        for material in Material::ALL {
            let (iii, v) = (material.group_iii().name(), material.group_v().name());
            assert_eq!(material.name().strip_prefix(iii), Some(v));
        }
    }

    /// Source: handbooks (from memory): crystal densities 5317, 4810, 4138, 5680 kg/m³; they differ by 0.5 % among
    /// themselves (InP 4787 by X-rays). A slipped third digit of a lattice constant would show.
    #[test]
    fn crystals_weigh_what_handbooks_say() {
        let printed = [5317.0, 4810.0, 4138.0, 5680.0];
        for (material, density) in Material::ALL.into_iter().zip(printed) {
            assert!((material.mass_density() / density - 1.0).abs() < 6e-3, "{material:?}");
        }
    }

    /// Source: handbooks: a mole of gold fills 10.2 cm³, liquid gallium 11.5, liquid indium 16.4.
    #[test]
    fn molar_volumes_are_those_of_the_metals() {
        assert!((GOLD.molar_volume() / 10.206e-6 - 1.0).abs() < 1e-3);
        assert!((Material::GaP.group_iii_molar_volume() / 11.47e-6 - 1.0).abs() < 1e-3);
        assert!((Material::InP.group_iii_molar_volume() / 16.36e-6 - 1.0).abs() < 1e-3);
    }
}
