//! The built-in kinetic numbers.
//!
//! Illustrative, from memory and published ranges; calibrate before use.
//!
//! | table | a row holds |
//! | --- | --- |
//! | [`SHARED`] | one number of the line for each material |
//! | [`DOPANTS`] | the numbers of one dopant in one material |
//! | [`PYROLYSIS`] | the pyrolysis of one group III precursor in hydrogen and in an inert carrier |
//! | [`STANDARD_ERRORS`] | the standard error of one number for each material |
//!
//! Units are those of the fields' names in the job file. Each row ends with its source. Check: the published sets,
//! `tests/checks/kinetics.builtin.json`, are compared row by row.

use super::Shared;
use crate::feed::table::Precursor;
use crate::job::DopantNumbers;
use crate::material::Material;

/// A value for each material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Values {
    /// Gallium arsenide.
    pub gaas: f64,
    /// Indium phosphide.
    pub inp: f64,
    /// Gallium phosphide.
    pub gap: f64,
    /// Indium arsenide.
    pub inas: f64,
}

impl Values {
    /// The value of a material.
    #[must_use]
    pub const fn of(&self, material: Material) -> f64 {
        match material {
            Material::GaAs => self.gaas,
            Material::InP => self.inp,
            Material::GaP => self.gap,
            Material::InAs => self.inas,
        }
    }
}

/// One number of the line.
#[derive(Clone, Copy, Debug)]
pub struct SharedRow {
    /// Which one.
    pub number: Shared,
    /// Its values, in the unit of its field.
    pub values: Values,
    /// Where they come from.
    pub source: &'static str,
}

/// The numbers of one dopant in one material.
#[derive(Clone, Copy, Debug)]
pub struct DopantRow {
    /// What grows.
    pub material: Material,
    /// The dopant.
    pub dopant: Precursor,
    /// Its numbers; without a wall probability, that of all dopants holds.
    pub numbers: DopantNumbers,
    /// Where they come from.
    pub source: &'static str,
}

/// A pyrolysis, k = A exp(−E/RT).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrhenius {
    /// A, 1/s.
    pub frequency_per_s: f64,
    /// E, kJ/mol.
    pub activation_kj_per_mol: f64,
}

/// The pyrolysis of one group III precursor.
#[derive(Clone, Copy, Debug)]
pub struct PyrolysisRow {
    /// The precursor.
    pub precursor: Precursor,
    /// Where at least half of the carrier is H2.
    pub hydrogen: Arrhenius,
    /// Elsewhere.
    pub inert: Arrhenius,
    /// Where they come from.
    pub source: &'static str,
}

const fn shared(number: Shared, [gaas, inp, gap, inas]: [f64; 4], source: &'static str) -> SharedRow {
    SharedRow { number, values: Values { gaas, inp, gap, inas }, source }
}

const MEMORY: &str = "from memory, order of magnitude";

/// Numbers of the line: GaAs, InP, GaP, InAs.
pub const SHARED: [SharedRow; 21] = [
    shared(Shared::AxialRate, [1.0, 1.0, 0.9, 0.8], "near 1 µm/s in flight: common practice, no source"),
    shared(
        Shared::AxialActivation,
        [90.0, 90.0, 85.0, 110.0],
        "GaAs: 84–96, Paiano et al. 2006 (gold seeds, substrate, 375–500 °C); others from memory, order of magnitude",
    ),
    shared(Shared::GroupIiiOrder, [1.0, 1.0, 1.0, 0.8], MEMORY),
    shared(Shared::VIiiHalf, [3.0, 5.0, 10.0, 8.0], MEMORY),
    shared(Shared::CriticalDiameter, [8.0, 8.0, 12.0, 10.0], MEMORY),
    shared(
        Shared::ReferenceTemperature,
        [525.0, 450.0, 580.0, 440.0],
        "chosen; InP within 400–510 °C, where such wires were grown (published.csv E012)",
    ),
    shared(Shared::ReferenceGroupIii, [6.0, 4.0, 6.0, 6.0], "chosen"),
    shared(Shared::ReferenceVIii, [20.0, 100.0, 60.0, 60.0], "chosen; InP within V/III 44–700 (published.csv E012)"),
    shared(Shared::ReferenceDiameter, [60.0, 60.0, 60.0, 40.0], "chosen"),
    shared(Shared::Sticking, [0.5, 0.5, 0.3, 0.5], MEMORY),
    shared(
        Shared::CollectionLength,
        [150.0, 150.0, 120.0, 100.0],
        "InP: length free of diameter at 420 °C, falling with it at 480 °C, Guo et al. 2011; others from memory, order of magnitude",
    ),
    shared(Shared::RadialRate, [0.8, 0.8, 1.0, 1.0], MEMORY),
    shared(
        Shared::RadialActivation,
        [90.0, 110.0, 120.0, 130.0],
        "GaAs: 84–96, Paiano et al. 2006 (gold seeds, substrate, 375–500 °C); others from memory, order of magnitude",
    ),
    shared(Shared::FilledShare, [0.35, 0.35, 0.3, 0.3], MEMORY),
    shared(Shared::ContactAngle, [110.0, 115.0, 115.0, 110.0], MEMORY),
    shared(Shared::ParentProbability, [1e-6, 2e-6, 1e-6, 3e-6], MEMORY),
    shared(
        Shared::FragmentProbability,
        [2e-5, 2e-5, 2e-5, 2e-5],
        "walls passivated by the hydride, set so that micrometre wires grow with the built-in pyrolysis; bare or coated walls 1e-3 to 1e-2 (illustrative)",
    ),
    shared(Shared::WallActivation, [60.0, 60.0, 50.0, 50.0], MEMORY),
    shared(Shared::GroupVProbability, [1e-9, 1e-9, 1e-9, 1e-9], MEMORY),
    shared(
        Shared::GroupVActivation,
        [142.0, 142.0, 142.0, 142.0],
        "arsine on quartz, 34 kcal/mol, DenBaars et al. 1986; 75 on GaAs-coated walls",
    ),
    shared(Shared::DopantProbability, [3e-4, 5e-4, 3e-4, 5e-4], MEMORY),
];

/// Standard errors: GaAs, InP, GaP, InAs.
pub const STANDARD_ERRORS: [SharedRow; 2] = [
    shared(Shared::AxialRate, [0.3, 0.3, 0.27, 0.24], "illustrative"),
    shared(Shared::AxialActivation, [10.0, 10.0, 10.0, 10.0], "illustrative"),
];

/// Pyrolysis.
pub const PYROLYSIS: [PyrolysisRow; 3] = [
    PyrolysisRow {
        precursor: Precursor::TMGa,
        hydrogen: Arrhenius { frequency_per_s: 7.0897e16, activation_kj_per_mol: 240.9984 },
        inert: Arrhenius { frequency_per_s: 3.4674e15, activation_kj_per_mol: 248.948 },
        source: "H2: ln k = 38.8 − 57.6 kcal/mol/RT, gas phase without surface (published.csv E023); inert: Jacko & Price 1963, 10^15.54, 59.5 kcal/mol, toluene carrier (from memory)",
    },
    PyrolysisRow {
        precursor: Precursor::TEGa,
        hydrogen: Arrhenius { frequency_per_s: 1e15, activation_kj_per_mol: 159.0 },
        inert: Arrhenius { frequency_per_s: 1e15, activation_kj_per_mol: 173.5 },
        source: "set so that half is gone in 1 s in the middle of the ranges of Yoshida et al. 1985 (220–330 °C in H2, 270–380 °C in N2), frequency 1e15",
    },
    PyrolysisRow {
        precursor: Precursor::TMIn,
        hydrogen: Arrhenius { frequency_per_s: 5.2481e15, activation_kj_per_mol: 185.0 },
        inert: Arrhenius { frequency_per_s: 5.2481e15, activation_kj_per_mol: 197.4848 },
        source: "inert: Jacko & Price 1964, 10^15.72, 47.2 kcal/mol, first methyl, toluene carrier (from memory); H2: same frequency, activation lowered by 12.5 kJ/mol, half gone some 40 K earlier (from memory)",
    },
];

/// Dopants.
pub const DOPANTS: [DopantRow; 20] = [
    DopantRow {
        material: Material::GaAs,
        dopant: Precursor::DEZn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(5e18),
            reference_ratio: Some(0.01),
            order: Some(0.8),
            activation_kj_per_mol: Some(20.0),
            limit_per_cm3: Some(1e20),
            memory_diameters: Some(0.5),
        },
        source: "up to about 1e20 per cm³: common practice, no source; the rest from memory",
    },
    DopantRow {
        material: Material::GaAs,
        dopant: Precursor::DMZn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(5e18),
            reference_ratio: Some(0.01),
            order: Some(0.8),
            activation_kj_per_mol: Some(20.0),
            limit_per_cm3: Some(1e20),
            memory_diameters: Some(0.5),
        },
        source: "up to about 1e20 per cm³: common practice, no source; the rest from memory",
    },
    DopantRow {
        material: Material::GaAs,
        dopant: Precursor::TESn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(2e18),
            reference_ratio: Some(0.03),
            order: Some(1.0),
            activation_kj_per_mol: Some(0.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.4),
        },
        source: "7e17 to 2e18 per cm³, Gutsche et al. 2011; the rest from memory",
    },
    DopantRow {
        material: Material::GaAs,
        dopant: Precursor::H2S,
        numbers: DopantNumbers {
            wall_probability: Some(1e-6),
            reference_per_cm3: Some(2e18),
            reference_ratio: Some(0.1),
            order: Some(1.0),
            activation_kj_per_mol: Some(-20.0),
            limit_per_cm3: Some(1e19),
            memory_diameters: Some(0.4),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::GaAs,
        dopant: Precursor::SiH4,
        numbers: DopantNumbers {
            wall_probability: Some(1e-7),
            reference_per_cm3: Some(1e18),
            reference_ratio: Some(0.01),
            order: Some(1.0),
            activation_kj_per_mol: Some(100.0),
            limit_per_cm3: Some(8e18),
            memory_diameters: Some(0.4),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InP,
        dopant: Precursor::DEZn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(3e18),
            reference_ratio: Some(0.02),
            order: Some(1.0),
            activation_kj_per_mol: Some(0.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InP,
        dopant: Precursor::DMZn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(3e18),
            reference_ratio: Some(0.02),
            order: Some(1.0),
            activation_kj_per_mol: Some(0.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InP,
        dopant: Precursor::TESn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(5e18),
            reference_ratio: Some(0.05),
            order: Some(1.0),
            activation_kj_per_mol: Some(0.0),
            limit_per_cm3: Some(5e19),
            memory_diameters: Some(0.3),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InP,
        dopant: Precursor::H2S,
        numbers: DopantNumbers {
            wall_probability: Some(1e-6),
            reference_per_cm3: Some(5e18),
            reference_ratio: Some(0.05),
            order: Some(1.0),
            activation_kj_per_mol: Some(-20.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.3),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InP,
        dopant: Precursor::SiH4,
        numbers: DopantNumbers {
            wall_probability: Some(1e-7),
            reference_per_cm3: Some(1e18),
            reference_ratio: Some(0.01),
            order: Some(1.0),
            activation_kj_per_mol: Some(100.0),
            limit_per_cm3: Some(1e19),
            memory_diameters: Some(0.3),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::GaP,
        dopant: Precursor::DEZn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(3e18),
            reference_ratio: Some(0.02),
            order: Some(0.8),
            activation_kj_per_mol: Some(20.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::GaP,
        dopant: Precursor::DMZn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(3e18),
            reference_ratio: Some(0.02),
            order: Some(0.8),
            activation_kj_per_mol: Some(20.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::GaP,
        dopant: Precursor::TESn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(2e18),
            reference_ratio: Some(0.02),
            order: Some(0.8),
            activation_kj_per_mol: Some(20.0),
            limit_per_cm3: Some(8e18),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::GaP,
        dopant: Precursor::H2S,
        numbers: DopantNumbers {
            wall_probability: Some(1e-6),
            reference_per_cm3: Some(2e18),
            reference_ratio: Some(0.1),
            order: Some(1.0),
            activation_kj_per_mol: Some(-20.0),
            limit_per_cm3: Some(8e18),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::GaP,
        dopant: Precursor::SiH4,
        numbers: DopantNumbers {
            wall_probability: Some(1e-7),
            reference_per_cm3: Some(1e18),
            reference_ratio: Some(0.01),
            order: Some(1.0),
            activation_kj_per_mol: Some(100.0),
            limit_per_cm3: Some(8e18),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InAs,
        dopant: Precursor::DEZn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(1e18),
            reference_ratio: Some(0.02),
            order: Some(1.0),
            activation_kj_per_mol: Some(0.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InAs,
        dopant: Precursor::DMZn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(1e18),
            reference_ratio: Some(0.02),
            order: Some(1.0),
            activation_kj_per_mol: Some(0.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.5),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InAs,
        dopant: Precursor::TESn,
        numbers: DopantNumbers {
            wall_probability: None,
            reference_per_cm3: Some(5e18),
            reference_ratio: Some(0.05),
            order: Some(1.0),
            activation_kj_per_mol: Some(0.0),
            limit_per_cm3: Some(5e19),
            memory_diameters: Some(0.4),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InAs,
        dopant: Precursor::H2S,
        numbers: DopantNumbers {
            wall_probability: Some(1e-6),
            reference_per_cm3: Some(5e18),
            reference_ratio: Some(0.05),
            order: Some(1.0),
            activation_kj_per_mol: Some(-20.0),
            limit_per_cm3: Some(5e19),
            memory_diameters: Some(0.4),
        },
        source: MEMORY,
    },
    DopantRow {
        material: Material::InAs,
        dopant: Precursor::SiH4,
        numbers: DopantNumbers {
            wall_probability: Some(1e-7),
            reference_per_cm3: Some(2e18),
            reference_ratio: Some(0.01),
            order: Some(1.0),
            activation_kj_per_mol: Some(80.0),
            limit_per_cm3: Some(2e19),
            memory_diameters: Some(0.4),
        },
        source: MEMORY,
    },
];
