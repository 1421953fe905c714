//! What is ordered, how the wires are collected, and figures for cost and comparison, as the job file writes them.

use super::shape::{Named, list, objects, words};
use crate::line::STAGES;
use heapless::{String, Vec};
use serde::{Deserialize, Serialize};

/// Most prices of a job: every precursor and every carrier gas, and gold.
pub const PRICES: usize = 17;

/// What is ordered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Order {
    /// Mean tip diameter, nm.
    pub diameter_nm: f64,
    /// Half-width of what is accepted of it, nm; 5 % of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter_tolerance_nm: Option<f64>,
    /// The most that the coefficient of variation of the whole length may be, –.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spread_cv: Option<f64>,
    /// One entry a stage; `None` for one that is to grow nothing counted.
    #[serde(deserialize_with = "list")]
    pub segments: Vec<Option<Segment>, STAGES>,
    /// Wires wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wires: Option<f64>,
    /// Instead of it, an area to be covered, cm².
    #[serde(skip_serializing_if = "Option::is_none")]
    pub area_cm2: Option<f64>,
    /// Distance of the wires on it, one a square of this side, nm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pitch_nm: Option<f64>,
}

/// An ordered segment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Segment {
    /// Mean length, nm.
    pub length_nm: f64,
    /// Half-width of what is accepted of it, nm.
    pub tolerance_nm: f64,
    /// Doping wanted.
    pub doping: WantedDoping,
    /// Net doping wanted for p and n, the most allowed for i, 1/cm³.
    pub carriers_per_cm3: f64,
}

/// Kind of doping that is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WantedDoping {
    /// Acceptors outweigh.
    P,
    /// Donors outweigh.
    N,
    /// Undoped.
    I,
}

/// How the wires are collected.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Collector {
    /// Which kind; a plate.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<CollectorKind>,
    /// Area of the plate, cm².
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plate_area_cm2: Option<f64>,
    /// Gap before the plate, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gap_mm: Option<f64>,
    /// Voltage over the gap, V.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage_v: Option<f64>,
    /// Elementary charges that a wire carries, –.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wire_charge: Option<f64>,
    /// Gas temperature, °C; 25.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<f64>,
    /// Volume of the liquid, ml.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// Share of the wires that a filter or a liquid keeps, –; 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub efficiency: Option<f64>,
}

/// Kinds of collectors.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CollectorKind {
    /// Electrostatic precipitator.
    Plate,
    /// Filter.
    Filter,
    /// Liquid.
    Liquid,
}

/// Figures for cost and comparison.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Plant {
    /// Prices, by the name of a precursor, of a carrier gas, or of the seed metal.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub prices: Named<String<8>, Price, PRICES>,
    /// Deposit at which a tube is cleaned, µm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cleaning_um: Option<f64>,
    /// The batch process on wafers that the line is compared with.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub batch: Option<Batch>,
}

/// A price, in any currency: for a gram or for a standard litre.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Price {
    /// For a gram.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub per_g: Option<f64>,
    /// For a standard litre.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub per_l: Option<f64>,
}

/// A batch process on wafers.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Batch {
    /// Diameter of a wafer, mm.
    pub wafer_mm: f64,
    /// Wafers a load.
    pub wafers: f64,
    /// Distance of the wires, one a square of this side, nm.
    pub pitch_nm: f64,
    /// Axial rate, nm/s.
    pub rate_nm_per_s: f64,
    /// Time from load to load, min.
    pub cycle_min: f64,
}

objects!(Order, Segment, Collector, Plant, Price, Batch);

words! {
    WantedDoping { P = "p", N = "n", I = "i" }
    CollectorKind { Plate = "plate", Filter = "filter", Liquid = "liquid" }
}

impl Order {
    /// `diameter_tolerance_nm`, or its default.
    #[must_use]
    pub fn diameter_tolerance(&self) -> f64 {
        self.diameter_tolerance_nm.unwrap_or(super::default::DIAMETER_TOLERANCE * self.diameter_nm)
    }
}

impl Collector {
    /// `kind`, or its default.
    #[must_use]
    pub fn resolved_kind(&self) -> CollectorKind {
        self.kind.unwrap_or(CollectorKind::Plate)
    }
}
