//! Kinetic numbers by name, and where each comes from: the job, or the built-in set.
//!
//! The job's own numbers are laid over the built-in ones leaf by leaf: the set of the material first, then the pyrolysis of
//! the group III precursor in its carrier (hydrogen where the mole fraction of H2 is at least 0.5, else inert), then the
//! job. So every number has a value, and says whether the operator gave it. A dopant counts only where a feed names it.
//!
//! | in code | meaning |
//! | --- | --- |
//! | [`Number`] | one kinetic number; its text, both ways, is its path under `kinetics` |
//! | [`Shared`], [`OfDopant`] | numbers of the line, numbers of a dopant |
//! | [`Origin`] | job or built-in |
//!
//! Range: [`Number::bound`]. The built-in sets are illustrative, from memory and published ranges: they make a first
//! prediction possible and are to be calibrated before it is relied on; a [`crate::line::Line`] made with them warns.
//!
//! Sources: on the rows of [`table`]. Covered by `tests/tests/job_file.rs`, which reads the published sets.

pub mod table;

use crate::check::bound::Bound;
use crate::check::table as bounds;
use crate::feed::table::{Precursor, Role};
use crate::job::{DopantNumbers, Job, Kinetics, Uncertainty, default};
use crate::text::split_once;
use core::fmt;

/// Mole fraction of H2 from which the pyrolysis in hydrogen holds.
const HYDROGEN: f64 = 0.5;

/// One kinetic number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Number {
    /// Of the line.
    Shared(Shared),
    /// Of a dopant.
    Dopant(Precursor, OfDopant),
}

/// Where a number comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The job gives it.
    Job,
    /// The built-in set does.
    BuiltIn,
}

/// Makes the enum of the numbers of the line, with its paths, bounds, and its places in a job.
macro_rules! shared {
    ($($(#[$doc:meta])* $name:ident = $group:ident.$field:ident, $bound:ident;)*) => {
        /// A kinetic number that is no dopant's.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Shared {
            $($(#[$doc])* $name,)*
        }

        impl Shared {
            /// All of them, in the order of the format's page.
            pub const ALL: [Self; 23] = [$(Self::$name),*];

            /// Path under `kinetics`.
            #[must_use]
            pub const fn path(self) -> &'static str {
                match self {
                    $(Self::$name => concat!(stringify!($group), ".", stringify!($field)),)*
                }
            }

            /// What is accepted.
            #[must_use]
            pub const fn bound(self) -> &'static Bound {
                match self {
                    $(Self::$name => &bounds::$bound,)*
                }
            }
        }

        impl Tree for Kinetics {
            fn shared(&self, number: Shared) -> Option<f64> {
                match number {
                    $(Shared::$name => self.$group.$field,)*
                }
            }

            fn dopant(&self, precursor: Precursor) -> Option<&DopantNumbers> {
                self.dopants.get(&precursor)
            }
        }

        impl Tree for Uncertainty {
            fn shared(&self, number: Shared) -> Option<f64> {
                match number {
                    $(Shared::$name => self.$group.$field,)*
                }
            }

            fn dopant(&self, precursor: Precursor) -> Option<&DopantNumbers> {
                self.dopants.get(&precursor)
            }
        }

        fn shared_place(kinetics: &mut Kinetics, number: Shared) -> &mut Option<f64> {
            match number {
                $(Shared::$name => &mut kinetics.$group.$field,)*
            }
        }
    };
}

/// A tree of kinetic numbers: the job's own, or its standard errors.
pub(crate) trait Tree {
    /// A number of the line, if it was given.
    fn shared(&self, number: Shared) -> Option<f64>;
    /// The numbers of a dopant, if any were given.
    fn dopant(&self, precursor: Precursor) -> Option<&DopantNumbers>;

    /// Any number, if it was given.
    fn number(&self, number: Number) -> Option<f64> {
        match number {
            Number::Shared(shared) => self.shared(shared),
            Number::Dopant(precursor, of) => self.dopant(precursor).and_then(|numbers| of.of(numbers)),
        }
    }
}

shared! {
    /// v_ref, µm/s.
    AxialRate = axial.rate_um_per_s, AMOUNT;
    /// E_a, kJ/mol.
    AxialActivation = axial.activation_kj_per_mol, ACTIVATION;
    /// a, –.
    GroupIiiOrder = axial.group_iii_order, ORDER;
    /// q_half, –.
    VIiiHalf = axial.v_iii_half, AMOUNT;
    /// d_c, nm.
    CriticalDiameter = axial.critical_diameter_nm, AMOUNT;
    /// T_ref, °C.
    ReferenceTemperature = reference.temperature_c, TEMPERATURE;
    /// p_III,ref, Pa.
    ReferenceGroupIii = reference.group_iii_pa, POSITIVE;
    /// q_ref, –.
    ReferenceVIii = reference.v_iii, POSITIVE;
    /// d_ref, nm.
    ReferenceDiameter = reference.diameter_nm, POSITIVE;
    /// α, –.
    Sticking = supply.sticking, SHARE;
    /// λ_s, nm.
    CollectionLength = supply.collection_length_nm, AMOUNT;
    /// v_rad,ref, nm/s.
    RadialRate = radial.rate_nm_per_s, AMOUNT;
    /// E_rad, kJ/mol.
    RadialActivation = radial.activation_kj_per_mol, ACTIVATION;
    /// x_sat, –.
    FilledShare = seed.group_iii_share, FILLED_SHARE;
    /// β, °.
    ContactAngle = seed.contact_angle_deg, CONTACT_ANGLE;
    /// A, 1/s.
    PyrolysisFrequency = pyrolysis.frequency_per_s, FREQUENCY;
    /// E, kJ/mol.
    PyrolysisActivation = pyrolysis.activation_kj_per_mol, ACTIVATION;
    /// γ_ref of the parent, –.
    ParentProbability = wall.parent_probability, SHARE;
    /// γ_ref of the fragment, –.
    FragmentProbability = wall.fragment_probability, SHARE;
    /// E_γ of both, kJ/mol.
    WallActivation = wall.activation_kj_per_mol, ACTIVATION;
    /// γ_ref of group V, –.
    GroupVProbability = wall.group_v_probability, SHARE;
    /// E_γ of group V, kJ/mol.
    GroupVActivation = wall.group_v_activation_kj_per_mol, ACTIVATION;
    /// γ of dopants that have none of their own, –.
    DopantProbability = wall.dopant_probability, SHARE;
}

/// Makes the enum of the numbers of a dopant.
macro_rules! of_dopant {
    ($($(#[$doc:meta])* $name:ident = $field:ident, $bound:ident;)*) => {
        /// A kinetic number of a dopant.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum OfDopant {
            $($(#[$doc])* $name,)*
        }

        impl OfDopant {
            /// All of them, in the order of the format's page.
            pub const ALL: [Self; 7] = [$(Self::$name),*];

            /// Name of the field under `dopants.NAME`.
            #[must_use]
            pub const fn field(self) -> &'static str {
                match self {
                    $(Self::$name => stringify!($field),)*
                }
            }

            /// What is accepted.
            #[must_use]
            pub const fn bound(self) -> &'static Bound {
                match self {
                    $(Self::$name => &bounds::$bound,)*
                }
            }

            /// Its value among the numbers of a dopant, if it was given.
            #[must_use]
            pub const fn of(self, numbers: &DopantNumbers) -> Option<f64> {
                match self {
                    $(Self::$name => numbers.$field,)*
                }
            }

            fn place(self, numbers: &mut DopantNumbers) -> &mut Option<f64> {
                match self {
                    $(Self::$name => &mut numbers.$field,)*
                }
            }
        }
    };
}

of_dopant! {
    /// γ of this dopant, –.
    WallProbability = wall_probability, SHARE;
    /// N_ref, 1/cm³.
    Reference = reference_per_cm3, AMOUNT;
    /// ρ_ref, –.
    Ratio = reference_ratio, POSITIVE;
    /// m, –.
    Order = order, ORDER;
    /// E_d, kJ/mol.
    Activation = activation_kj_per_mol, DOPING_ACTIVATION;
    /// N_max, 1/cm³.
    Limit = limit_per_cm3, AMOUNT;
    /// ℓ_d/d, –.
    MemoryDiameters = memory_diameters, AMOUNT;
}

impl Number {
    /// Every kinetic number there is, dopants of the feed's table included.
    pub fn all() -> impl Iterator<Item = Self> {
        let dopants = Precursor::ALL.into_iter().filter(|precursor| is_dopant(*precursor));
        let of_dopants = dopants.flat_map(|dopant| OfDopant::ALL.map(|of| Self::Dopant(dopant, of)));
        Shared::ALL.map(Self::Shared).into_iter().chain(of_dopants)
    }

    /// The number with a path under `kinetics`, such as `dopants.DEZn.order`.
    #[must_use]
    pub fn from_path(path: &str) -> Option<Self> {
        if let Some(rest) = path.strip_prefix("dopants.") {
            let (name, field) = split_once(rest, ".")?;
            let dopant = Precursor::from_name(name).filter(|precursor| is_dopant(*precursor))?;
            let of = OfDopant::ALL.into_iter().find(|of| of.field() == field)?;
            return Some(Self::Dopant(dopant, of));
        }
        Shared::ALL.into_iter().find(|shared| shared.path() == path).map(Self::Shared)
    }

    /// What is accepted.
    #[must_use]
    pub const fn bound(self) -> &'static Bound {
        match self {
            Self::Shared(shared) => shared.bound(),
            Self::Dopant(_, of) => of.bound(),
        }
    }

    /// Its value for a job, in the unit of its field, and where that comes from.
    ///
    /// * `group_iii` — the precursor whose pyrolysis is asked for; only that number needs it
    ///
    /// Returns `None` only for `dopants.NAME.wall_probability` where neither the job nor the built-in set has one of its own: then
    /// `wall.dopant_probability` holds.
    #[must_use]
    pub fn value(self, job: &Job, group_iii: Option<Precursor>) -> Option<(f64, Origin)> {
        match job.kinetics.number(self) {
            Some(value) => Some((value, Origin::Job)),
            None => self.built_in(job, group_iii).map(|value| (value, Origin::BuiltIn)),
        }
    }

    /// Its value in the built-in set that a job takes.
    fn built_in(self, job: &Job, group_iii: Option<Precursor>) -> Option<f64> {
        let pyrolysis = || {
            let row = table::PYROLYSIS.iter().find(|row| Some(row.precursor) == group_iii)?;
            let hydrogen = job.carrier.h2.unwrap_or(0.0) >= HYDROGEN;
            Some(if hydrogen { &row.hydrogen } else { &row.inert })
        };
        match self {
            Self::Shared(Shared::PyrolysisFrequency) => pyrolysis().map(|pair| pair.frequency_per_s),
            Self::Shared(Shared::PyrolysisActivation) => pyrolysis().map(|pair| pair.activation_kj_per_mol),
            Self::Shared(shared) => {
                table::SHARED.iter().find(|row| row.number == shared).map(|row| row.values.of(job.material))
            }
            Self::Dopant(dopant, of) => table::DOPANTS
                .iter()
                .find(|row| row.material == job.material && row.dopant == dopant)
                .and_then(|row| of.of(&row.numbers)),
        }
    }

    /// Its standard error for a job, in the unit of its field: the job's, else the built-in one, else none.
    #[must_use]
    pub fn standard_error(self, job: &Job) -> Option<f64> {
        let built_in = || match self {
            Self::Shared(shared) => {
                table::STANDARD_ERRORS.iter().find(|row| row.number == shared).map(|row| row.values.of(job.material))
            }
            Self::Dopant(..) => None,
        };
        job.kinetics.uncertainty.number(self).or_else(built_in)
    }

    /// Sets it in a job.
    ///
    /// * `value` — in the unit of its field; not checked here
    pub fn set(self, job: &mut Job, value: f64) {
        let kinetics = &mut job.kinetics;
        match self {
            Self::Shared(shared) => *shared_place(kinetics, shared) = Some(value),
            Self::Dopant(dopant, of) => {
                let mut numbers = kinetics.dopants.get(&dopant).copied().unwrap_or_default();
                *of.place(&mut numbers) = Some(value);
                // There is room for every dopant of the table.
                let _ = kinetics.dopants.insert(dopant, numbers);
            }
        }
    }
}

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Shared(shared) => f.write_str(shared.path()),
            Self::Dopant(precursor, of) => write!(f, "dopants.{}.{}", precursor.name(), of.field()),
        }
    }
}

/// Relative standard error of the diffusion coefficients of a job, %.
#[must_use]
pub fn diffusion_percent(job: &Job) -> f64 {
    job.kinetics.uncertainty.diffusion_percent.unwrap_or(default::DIFFUSION_PERCENT)
}

/// Whether a precursor dopes.
#[must_use]
pub const fn is_dopant(precursor: Precursor) -> bool {
    matches!(precursor.role(), Role::Acceptor | Role::Donor)
}
