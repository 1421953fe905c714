//! Data of the elements, of gold and of the III–V pairs; no arithmetic.
//!
//! Sources of the columns: molar masses: standard atomic weights, conventional or abridged values (IUPAC). Densities: as in
//! handbooks (from memory): gold solid at 20 °C, gallium and indium liquid at their melting points. Lattice constants at
//! 300 K: Vurgaftman, Meyer & Ram-Mohan 2001, J. Appl. Phys. 89, 5815.

/// One element.
#[derive(Clone, Copy, Debug)]
pub struct ElementRow {
    /// Symbol.
    pub name: &'static str,
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
}

/// Gallium.
pub const GALLIUM: ElementRow = ElementRow { name: "Ga", molar_mass: 69.723e-3 };
/// Indium.
pub const INDIUM: ElementRow = ElementRow { name: "In", molar_mass: 114.818e-3 };
/// Arsenic.
pub const ARSENIC: ElementRow = ElementRow { name: "As", molar_mass: 74.921_595e-3 };
/// Phosphorus.
pub const PHOSPHORUS: ElementRow = ElementRow { name: "P", molar_mass: 30.973_761_998e-3 };

/// A metal that the seed may hold.
#[derive(Clone, Copy, Debug)]
pub struct Metal {
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
    /// Mass density, kg/m³.
    pub mass_density: f64,
}

/// Gold, the seed: 19.30 g/cm³.
pub const GOLD: Metal = Metal { molar_mass: 196.966_570e-3, mass_density: GOLD_DENSITY };
/// Mass density of gold, kg/m³.
pub const GOLD_DENSITY: f64 = 19_300.0;
/// Thermal conductivity of gold at 20 °C, W/(m K): handbooks (from memory).
pub const GOLD_CONDUCTIVITY: f64 = 317.0;
/// Liquid gallium: 6.08 g/cm³.
pub const LIQUID_GALLIUM: Metal = Metal { molar_mass: GALLIUM.molar_mass, mass_density: 6_080.0 };
/// Liquid indium: 7.02 g/cm³.
pub const LIQUID_INDIUM: Metal = Metal { molar_mass: INDIUM.molar_mass, mass_density: 7_020.0 };

/// One III–V material.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Formula, as the job file writes it.
    pub name: &'static str,
    /// Lattice constant of zinc blende at 300 K, m.
    pub lattice_constant: f64,
    /// Where it was read.
    pub source: &'static str,
}

/// Gallium arsenide.
pub const GALLIUM_ARSENIDE: Row = Row { name: "GaAs", lattice_constant: 5.653_25e-10, source: VURGAFTMAN };
/// Indium phosphide.
pub const INDIUM_PHOSPHIDE: Row = Row { name: "InP", lattice_constant: 5.869_7e-10, source: VURGAFTMAN };
/// Gallium phosphide.
pub const GALLIUM_PHOSPHIDE: Row = Row { name: "GaP", lattice_constant: 5.450_5e-10, source: VURGAFTMAN };
/// Indium arsenide.
pub const INDIUM_ARSENIDE: Row = Row { name: "InAs", lattice_constant: 6.058_3e-10, source: VURGAFTMAN };

/// Source of the lattice constants.
const VURGAFTMAN: &str = "Vurgaftman, Meyer & Ram-Mohan 2001, 300 K";
