//! Kinetic numbers as the job file writes them: the numbers themselves, their standard errors and their correlations.
//!
//! Every number is optional: what is left out comes, leaf by leaf, from the built-in set ([`crate::kinetics`]). The same
//! groups stand once more under `uncertainty`, where they hold standard errors.

use super::shape::{Named, list, objects, text};
use crate::feed::table::Precursor;
use heapless::{String, Vec};
use serde::{Deserialize, Serialize};

/// Most correlations of a job: all pairs of eleven numbers that were calibrated together.
pub const CORRELATIONS: usize = 64;
/// Dopants that have kinetic numbers: those of the feed's table.
pub const DOPANT_NAMES: usize = 5;
/// Longest name of a kinetic number, bytes; `dopants.DEZn.activation_kj_per_mol` has 35.
pub const NUMBER_BYTES: usize = 48;

/// Kinetic numbers of a job.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Kinetics {
    /// Axial rate.
    #[serde(default, skip_serializing_if = "Axial::is_empty")]
    pub axial: Axial,
    /// Where all rates are stated.
    #[serde(default, skip_serializing_if = "Reference::is_empty")]
    pub reference: Reference,
    /// Supply rate.
    #[serde(default, skip_serializing_if = "Supply::is_empty")]
    pub supply: Supply,
    /// Radial rate.
    #[serde(default, skip_serializing_if = "Radial::is_empty")]
    pub radial: Radial,
    /// The filled seed.
    #[serde(default, skip_serializing_if = "SeedNumbers::is_empty")]
    pub seed: SeedNumbers,
    /// Pyrolysis of the group III precursor.
    #[serde(default, skip_serializing_if = "Pyrolysis::is_empty")]
    pub pyrolysis: Pyrolysis,
    /// Reaction on the wall.
    #[serde(default, skip_serializing_if = "WallNumbers::is_empty")]
    pub wall: WallNumbers,
    /// Doping, by dopant.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub dopants: Named<Precursor, DopantNumbers, DOPANT_NAMES>,
    /// Standard errors.
    #[serde(default, skip_serializing_if = "Uncertainty::is_empty")]
    pub uncertainty: Uncertainty,
    /// Correlations after a calibration.
    #[serde(default, skip_serializing_if = "Vec::is_empty", deserialize_with = "list")]
    pub correlation: Vec<Correlation, CORRELATIONS>,
}

/// Standard errors of kinetic numbers, each in the unit of its number.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Uncertainty {
    /// Of the axial rate.
    #[serde(default, skip_serializing_if = "Axial::is_empty")]
    pub axial: Axial,
    /// Of the reference; it is chosen, so it rarely has one.
    #[serde(default, skip_serializing_if = "Reference::is_empty")]
    pub reference: Reference,
    /// Of the supply rate.
    #[serde(default, skip_serializing_if = "Supply::is_empty")]
    pub supply: Supply,
    /// Of the radial rate.
    #[serde(default, skip_serializing_if = "Radial::is_empty")]
    pub radial: Radial,
    /// Of the filled seed.
    #[serde(default, skip_serializing_if = "SeedNumbers::is_empty")]
    pub seed: SeedNumbers,
    /// Of the pyrolysis.
    #[serde(default, skip_serializing_if = "Pyrolysis::is_empty")]
    pub pyrolysis: Pyrolysis,
    /// Of the reaction on the wall.
    #[serde(default, skip_serializing_if = "WallNumbers::is_empty")]
    pub wall: WallNumbers,
    /// Of the doping.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub dopants: Named<Precursor, DopantNumbers, DOPANT_NAMES>,
    /// Of the diffusion coefficients, relative, %; 10.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diffusion_percent: Option<f64>,
}

/// Correlation of two kinetic numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Correlation {
    /// Path of one number under `kinetics`.
    #[serde(deserialize_with = "text")]
    pub a: String<NUMBER_BYTES>,
    /// Path of the other.
    #[serde(deserialize_with = "text")]
    pub b: String<NUMBER_BYTES>,
    /// Correlation coefficient, −1 to 1.
    pub r: f64,
}

/// Makes a group of optional numbers.
macro_rules! numbers {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
        #[serde(remote = "Self", deny_unknown_fields)]
        pub struct $name {
            $(
                $(#[$field_doc])*
                #[serde(skip_serializing_if = "Option::is_none")]
                pub $field: Option<f64>,
            )*
        }

        impl $name {
            /// Whether none was given.
            #[must_use]
            pub const fn is_empty(&self) -> bool {
                $(self.$field.is_none())&&*
            }
        }

        objects!($name);
    };
}

numbers! {
    /// Numbers of the axial rate.
    Axial {
        /// v_ref, µm/s.
        rate_um_per_s,
        /// E_a, kJ/mol.
        activation_kj_per_mol,
        /// a, –.
        group_iii_order,
        /// q_half, –.
        v_iii_half,
        /// d_c, nm.
        critical_diameter_nm,
    }
}

numbers! {
    /// The state at which all rates are stated.
    Reference {
        /// T_ref, °C.
        temperature_c,
        /// p_III,ref, Pa.
        group_iii_pa,
        /// q_ref, –.
        v_iii,
        /// d_ref, nm.
        diameter_nm,
    }
}

numbers! {
    /// Numbers of the supply rate.
    Supply {
        /// α, –.
        sticking,
        /// λ_s, nm.
        collection_length_nm,
    }
}

numbers! {
    /// Numbers of the radial rate.
    Radial {
        /// v_rad,ref, nm/s.
        rate_nm_per_s,
        /// E_rad, kJ/mol.
        activation_kj_per_mol,
    }
}

numbers! {
    /// Numbers of the filled seed.
    SeedNumbers {
        /// x_sat, –.
        group_iii_share,
        /// β, °.
        contact_angle_deg,
    }
}

numbers! {
    /// Numbers of the pyrolysis.
    Pyrolysis {
        /// A, 1/s.
        frequency_per_s,
        /// E, kJ/mol.
        activation_kj_per_mol,
    }
}

numbers! {
    /// Numbers of the reaction on the wall.
    WallNumbers {
        /// γ_ref of the group III precursor, –.
        parent_probability,
        /// γ_ref of its fragment, –.
        fragment_probability,
        /// E_γ of both, kJ/mol.
        activation_kj_per_mol,
        /// γ_ref of group V, –.
        group_v_probability,
        /// E_γ of group V, kJ/mol.
        group_v_activation_kj_per_mol,
        /// γ of dopants that have none of their own, –.
        dopant_probability,
    }
}

numbers! {
    /// Numbers of a dopant.
    DopantNumbers {
        /// γ of this dopant, –.
        wall_probability,
        /// N_ref, 1/cm³.
        reference_per_cm3,
        /// ρ_ref, –.
        reference_ratio,
        /// m, –.
        order,
        /// E_d, kJ/mol.
        activation_kj_per_mol,
        /// N_max, 1/cm³.
        limit_per_cm3,
        /// ℓ_d/d, –.
        memory_diameters,
    }
}

objects!(Kinetics, Uncertainty, Correlation);

impl Kinetics {
    /// Whether nothing was given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl Uncertainty {
    /// Whether nothing was given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
