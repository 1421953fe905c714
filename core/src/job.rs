//! The job file as it is written: the line, its set-points, the kinetics and the order, with the defaults of what may be
//! left out.
//!
//! First on the way of the material: a text is read into a [`Job`], [`crate::check::check`] makes a [`crate::line::Line`]
//! of it. Nothing is checked here but the structure: names of fields, types, how many entries a list holds, keys that
//! stand twice. Numbers are kept as they were typed, in the trade units that their names carry, and what was left out
//! stays out, so that a job which is saved again says no more and no less than the one that was opened.
//!
//! | in code | holds |
//! | --- | --- |
//! | [`Job`] | the whole file |
//! | [`SetPoint`] | the path of one thing that can be set, such as `stages[1].zones[0].wall_c` |
//! | [`Kind`], [`Limit`] | what an instrument of a kind can be set to |
//! | [`Accuracy`] | instruments with every default filled in |
//! | [`Named`] | a map with the names that the job gave |
//!
//! Range: at most as many entries as the constants of [`crate::line`] say; title and names 200 bytes, the note 2000. What
//! is longer is refused when it is read. A job takes about 40 kB.
//!
//! Covered by `tests/tests/job_file.rs`, one accepted and one refused example for each row of the format.

mod kinetics;
mod order;
mod setting;
mod shape;

pub use kinetics::{
    Axial, CORRELATIONS, Correlation, DopantNumbers, Kinetics, Pyrolysis, Radial, Reference, SeedNumbers, Supply,
    Uncertainty, WallNumbers,
};
pub use order::{Batch, Collector, CollectorKind, Order, PRICES, Plant, Price, Segment, WantedDoping};
pub use setting::{Accuracy, FullScale, Instruments, Kind, LIMITS, Limit, Range, SetPoint};
pub use shape::{Key, Named};

use crate::feed::table::Precursor;
use crate::line::{FEEDS, PROFILE_POINTS, STAGES, ZONES};
use crate::material::Material;
use heapless::{String, Vec};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use shape::{list, objects, optional_list, optional_text, text, word, words};

/// Longest title or name, bytes.
pub const NAME_BYTES: usize = 200;
/// Longest note, bytes.
pub const NOTE_BYTES: usize = 2000;
/// Longest path that is a key, bytes; `stages[5].feeds[6].bubbler.carrier_sccm` has 38.
pub const PATH_BYTES: usize = 48;

/// A job as it stands in its file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Job {
    /// Which format this is.
    pub format: Format,
    /// What the operator calls the job.
    #[serde(default, skip_serializing_if = "str::is_empty", deserialize_with = "text")]
    pub title: String<NAME_BYTES>,
    /// Free text.
    #[serde(default, skip_serializing_if = "str::is_empty", deserialize_with = "text")]
    pub note: String<NOTE_BYTES>,
    /// Carrier gas.
    pub carrier: Fractions,
    /// Absolute pressure in every stage, mbar.
    pub pressure_mbar: f64,
    /// What grows.
    #[serde(deserialize_with = "word")]
    pub material: Material,
    /// The seeds.
    pub seeds: Seeds,
    /// The classifier that they leave, if their sizes are to be computed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub classifier: Option<Classifier>,
    /// Flow that carries the seeds into the first stage, sccm.
    pub aerosol_sccm: f64,
    /// Stages in the order of flow.
    #[serde(deserialize_with = "list")]
    pub stages: Vec<Stage, STAGES>,
    /// What moves the precursors.
    #[serde(default, skip_serializing_if = "Transport::is_empty")]
    pub transport: Transport,
    /// Kinetic numbers that differ from the built-in set.
    #[serde(default, skip_serializing_if = "Kinetics::is_empty")]
    pub kinetics: Kinetics,
    /// Accuracies of the instruments.
    #[serde(default, skip_serializing_if = "Instruments::is_empty")]
    pub instruments: Instruments,
    /// What the instruments can be set to, by kind or by path.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub limits: Named<String<PATH_BYTES>, Limit, LIMITS>,
    /// What is ordered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub order: Option<Order>,
    /// How the wires are collected.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub collector: Option<Collector>,
    /// Figures for cost and comparison.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plant: Option<Plant>,
}

/// The formats that are read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// The first.
    First,
}

/// Mole fractions of the carrier gases; what is left out is 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Fractions {
    /// Hydrogen.
    #[serde(rename = "H2", skip_serializing_if = "Option::is_none")]
    pub h2: Option<f64>,
    /// Nitrogen.
    #[serde(rename = "N2", skip_serializing_if = "Option::is_none")]
    pub n2: Option<f64>,
    /// Argon.
    #[serde(rename = "Ar", skip_serializing_if = "Option::is_none")]
    pub ar: Option<f64>,
    /// Helium.
    #[serde(rename = "He", skip_serializing_if = "Option::is_none")]
    pub he: Option<f64>,
}

impl Fractions {
    /// Name and fraction of each gas, in the order H2, N2, Ar, He.
    #[must_use]
    pub const fn named(&self) -> [(&'static str, Option<f64>); 4] {
        [("H2", self.h2), ("N2", self.n2), ("Ar", self.ar), ("He", self.he)]
    }

    /// The fractions in that order, 0 where one was left out.
    #[must_use]
    pub fn shares(&self) -> [f64; 4] {
        self.named().map(|(_, share)| share.unwrap_or(0.0))
    }
}

/// The seeds as they leave the classifier and enter the first stage.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Seeds {
    /// What they are made of; gold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub metal: Option<SeedMetal>,
    /// Median mobility diameter, nm; not beside a classifier.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mobility_diameter_nm: Option<f64>,
    /// Geometric standard deviation of it, –; not beside a classifier.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spread_gsd: Option<f64>,
    /// Seeds per cm³ of aerosol at 273.15 K and 1013.25 mbar.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub concentration_per_cm3: Option<f64>,
    /// Instead of it, the current that they carry.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub electrometer: Option<Electrometer>,
    /// Mean number of charges of one sign that a seed carries.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charges: Option<f64>,
    /// Whether they drift.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drift: Option<Drift>,
    /// Mobility diameter over compact diameter, –; 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shape_factor: Option<f64>,
}

/// Metals of seeds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeedMetal {
    /// Gold.
    Au,
}

/// Whether seeds drift in a temperature gradient.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drift {
    /// They drift to the cold side.
    Thermophoretic,
    /// They stay on their streamlines.
    None,
}

/// A current of all seeds in a side flow of the aerosol.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Electrometer {
    /// Current, fA.
    pub current_fa: f64,
    /// Side flow, sccm.
    pub flow_sccm: f64,
}

/// A cylindrical differential mobility analyser and the source before it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Classifier {
    /// Radius of the inner electrode, mm.
    pub inner_radius_mm: f64,
    /// Radius of the outer electrode, mm.
    pub outer_radius_mm: f64,
    /// Length between inlet and outlet slit, mm.
    pub length_mm: f64,
    /// Sheath flow, standard litres a minute.
    pub sheath_slm: f64,
    /// Aerosol flow, which is also the sample flow, standard litres a minute.
    pub aerosol_slm: f64,
    /// Temperature of its gas, °C.
    pub temperature_c: f64,
    /// Amount of the voltage, V.
    pub voltage_v: f64,
    /// Sign of the seeds that pass; positive.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub polarity: Option<Polarity>,
    /// Its gas; the job's carrier.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub carrier: Option<Fractions>,
    /// Median mobility diameter of the source, nm.
    pub source_median_nm: f64,
    /// Geometric standard deviation of the source, –.
    pub source_gsd: f64,
    /// Absolute pressure in it, mbar; that of the line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pressure_mbar: Option<f64>,
}

/// Sign of a charge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Polarity {
    /// Positive.
    Positive,
    /// Negative.
    Negative,
}

/// A tube furnace with what enters at its inlet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Stage {
    /// Name; `stage N`.
    #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "optional_text")]
    pub name: Option<String<NAME_BYTES>>,
    /// Inner diameter of the tube, mm.
    pub tube_diameter_mm: f64,
    /// Which way the gas flows; down.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flow: Option<Direction>,
    /// What happens to the streamlines at its inlet; kept.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub streamlines: Option<Streamlines>,
    /// Which velocity the gas has; developed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub velocity: Option<Velocity>,
    /// Gas temperature at the inlet, °C.
    pub inlet_c: f64,
    /// Heating zones, unless `profile`.
    #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "optional_list")]
    pub zones: Option<Vec<Zone, ZONES>>,
    /// Length over which neighbouring zones blend, mm; 40.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blend_mm: Option<f64>,
    /// Wall temperature at both ends, °C; that of the inlet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flange_c: Option<f64>,
    /// Wall temperature as measured, instead of zones.
    #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "optional_list")]
    pub profile: Option<Vec<Point, PROFILE_POINTS>>,
    /// Carrier gas added at the inlet, without seeds, sccm; 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub carrier_sccm: Option<f64>,
    /// What is added with it.
    #[serde(deserialize_with = "list")]
    pub feeds: Vec<Feed, FEEDS>,
}

/// A heating zone.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Zone {
    /// Length, mm.
    pub length_mm: f64,
    /// Set-point of the wall, °C.
    pub wall_c: f64,
}

/// A point of a measured wall profile.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Point {
    /// Place along the flow, mm.
    pub z_mm: f64,
    /// Wall temperature there, °C.
    pub wall_c: f64,
}

/// Which way the gas flows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Downwards.
    Down,
    /// Upwards.
    Up,
}

/// What happens to the seeds' streamlines at the inlet of a stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Streamlines {
    /// Each seed stays on its own.
    Kept,
    /// Seeds are dealt anew.
    Mixed,
}

/// Which velocity the gas has across the tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Velocity {
    /// That of a long tube, with buoyancy.
    Developed,
    /// The isothermal parabola.
    Parabolic,
}

/// A precursor that is added at the inlet of a stage.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Feed {
    /// Which one.
    pub precursor: Precursor,
    /// The bubbler that it comes from, unless a cylinder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bubbler: Option<Bubbler>,
    /// Flow from a cylinder, sccm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flow_sccm: Option<f64>,
    /// Mole fraction in that cylinder, –.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub share: Option<f64>,
    /// Carrier that is mixed in, sccm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub push_sccm: Option<f64>,
    /// How much of that mixture enters the stage, sccm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inject_sccm: Option<f64>,
}

/// A bubbler.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Bubbler {
    /// Bath temperature, °C.
    pub bath_c: f64,
    /// Absolute pressure over the bath, mbar.
    pub bath_mbar: f64,
    /// Carrier through it, sccm.
    pub carrier_sccm: f64,
    /// What it holds, g.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charge_g: Option<f64>,
    /// Coldest place of the line behind it, °C; 22.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_c: Option<f64>,
}

/// What moves the precursors besides flow and diffusion.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Transport {
    /// Whether they diffuse in a temperature gradient; true.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thermal_diffusion: Option<bool>,
}

impl Transport {
    /// Whether nothing was given.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.thermal_diffusion.is_none()
    }
}

objects!(Job, Fractions, Seeds, Electrometer, Classifier, Stage, Zone, Point, Feed, Bubbler, Transport);

/// Defaults of what a job file may leave out.
pub mod default {
    /// `seeds.shape_factor`, –.
    pub const SHAPE_FACTOR: f64 = 1.0;
    /// `seeds.charges` where no classifier says otherwise.
    pub const CHARGES: f64 = 1.0;
    /// `stages[].blend_mm`.
    pub const BLEND_MM: f64 = 40.0;
    /// `stages[].feeds[].bubbler.line_c`.
    pub const LINE_C: f64 = 22.0;
    /// `order.diameter_tolerance_nm` over `order.diameter_nm`.
    pub const DIAMETER_TOLERANCE: f64 = 0.05;
    /// `collector.temperature_c`.
    pub const COLLECTOR_C: f64 = 25.0;
    /// `collector.efficiency` of a filter or a liquid, –.
    pub const EFFICIENCY: f64 = 1.0;
    /// `kinetics.uncertainty.diffusion_percent`.
    pub const DIFFUSION_PERCENT: f64 = 10.0;
}

impl Seeds {
    /// `shape_factor`, or its default.
    #[must_use]
    pub fn shape(&self) -> f64 {
        self.shape_factor.unwrap_or(default::SHAPE_FACTOR)
    }
}

impl Stage {
    /// `blend_mm`, or its default.
    #[must_use]
    pub fn blend(&self) -> f64 {
        self.blend_mm.unwrap_or(default::BLEND_MM)
    }

    /// `flange_c`, or its default.
    #[must_use]
    pub fn flange(&self) -> f64 {
        self.flange_c.unwrap_or(self.inlet_c)
    }

    /// `carrier_sccm`, or its default.
    #[must_use]
    pub fn carrier(&self) -> f64 {
        self.carrier_sccm.unwrap_or(0.0)
    }
}

impl Key for Precursor {
    const ACCEPTED: &'static str = Self::NAMES;

    fn of(name: &str) -> Option<Self> {
        Self::from_name(name)
    }

    fn name(&self) -> &str {
        Self::name(*self)
    }
}

impl Serialize for Precursor {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name())
    }
}

impl<'de> Deserialize<'de> for Precursor {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        word(deserializer)
    }
}

impl Key for Material {
    const ACCEPTED: &'static str = "GaAs, InP, GaP, InAs";

    fn of(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|material| material.name() == name)
    }

    fn name(&self) -> &str {
        Self::name(*self)
    }
}

words! {
    Format { First = "wire-growth-job/1" }
    SeedMetal { Au = "Au" }
    Drift { Thermophoretic = "thermophoretic", None = "none" }
    Polarity { Positive = "positive", Negative = "negative" }
    Direction { Down = "down", Up = "up" }
    Streamlines { Kept = "kept", Mixed = "mixed" }
    Velocity { Developed = "developed", Parabolic = "parabolic" }
}
