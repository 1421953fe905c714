//! Hazards that a job calls for, with limits as published and the arithmetic of dilution and purging.
//!
//! Takes the line; gives one [`Caution`] a hazard, with the path of the field where it is set. A caution has two lines
//! (what it does, what to mind), the limits with issuer and year, and always the sentence [`DECIDE`].
//!
//! ```text
//! Q = q/x                        (1)   air to dilute a leak q to a mole fraction x
//! c/c_0 = exp(−n)                (2)   n volume changes, perfect mixing
//! c/c_0 = r^−k                   (3)   k cycles of pumping down by r and refilling
//! ρ = x · 1e6 · M/24.45          (4)   mg/m³ from a mole fraction at 25 °C and 1 atm, M in g/mol
//! V_H2 = x_LFL V                 (5)   gas that brings a room V to the lower flammable limit
//! ```
//!
//! | symbol | in code | unit |
//! | --- | --- | --- |
//! | q, Q | leak, result of [`air_to_dilute`] | any volume or molar flow, the same for both |
//! | x | limit, share | – |
//! | n, k | [`volume_changes`], [`pump_cycles`] | – |
//! | V | room | m³ |
//!
//! Perfect mixing is the kind case: dead corners keep more. Nothing here knows of scrubbers, alarms or rooms, and nothing
//! here is an interlock.
//!
//! Sources: on each row of [`table`]; (1) to (5) are arithmetic. Checks X001 to X049 (`tests/checks/safety.csv`).

pub mod table;

pub use table::{Hazard, Limit};

use crate::line::{Line, Stage};
use crate::units::{SCCM, celsius};
use core::fmt::Write;
use heapless::{String, Vec};
use serde::ser::{Serialize, SerializeStruct, Serializer};

use crate::report::CAUTIONS;

/// What stands behind every caution.
pub const DECIDE: &str =
    "Local codes, the supplier's safety data sheet and licensed practice decide; no number here is an interlock.";

/// Surface temperature above which a touch burns, °C: common practice, no source.
const HOT: f64 = 60.0;

/// A hazard of this job.
#[derive(Clone, Debug)]
pub struct Caution {
    /// Path of the field where the hazard is set.
    pub path: String<96>,
    /// Which hazard.
    pub hazard: &'static Hazard,
    /// What the job feeds of it over the whole line; `None` where nothing flows.
    pub flow_sccm: Option<f64>,
    /// Air that dilutes all of that flow to the lowest limit; `None` without flow or limit.
    pub air_to_dilute_m3_per_min: Option<f64>,
}

impl Caution {
    fn new(path: String<96>, hazard: &'static Hazard, flow_sccm: Option<f64>) -> Self {
        let air = flow_sccm.zip(hazard.lowest()).map(|(flow, limit)| air_to_dilute(flow * 1e-6, limit));
        Self { path, hazard, flow_sccm, air_to_dilute_m3_per_min: air }
    }
}

impl Serialize for Caution {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut caution = serializer.serialize_struct("Caution", 8)?;
        caution.serialize_field("path", &self.path)?;
        caution.serialize_field("hazard", self.hazard.name)?;
        caution.serialize_field("does", self.hazard.does)?;
        caution.serialize_field("mind", self.hazard.mind)?;
        caution.serialize_field("decide", DECIDE)?;
        caution.serialize_field("flow_sccm", &self.flow_sccm)?;
        caution.serialize_field("air_to_dilute_m3_per_min", &self.air_to_dilute_m3_per_min)?;
        caution.serialize_field("limits", self.hazard.limits)?;
        caution.end()
    }
}

/// The cautions that a line calls for: what is fed in the order of its species, then carrier, voltage, heat, collecting.
#[must_use]
pub fn cautions(line: &Line) -> Vec<Caution, CAUTIONS> {
    let mut cautions = Vec::new();
    for (index, species) in line.species.iter().enumerate() {
        let fed = |stage: &Stage| stage.fed.get(index).copied().unwrap_or(0.0);
        let flow = line.stages.iter().map(fed).sum::<f64>() / SCCM;
        let first = line.stages.iter().position(|stage| fed(stage) > 0.0);
        if let (Some(hazard), Some(first)) = (table::of(&species.name), first) {
            // Ten species and five more: CAUTIONS has room for all.
            let _ = cautions.push(Caution::new(in_stage(first, "feeds"), hazard, Some(flow)));
        }
    }
    let hydrogen = line.carrier.share.first().copied().unwrap_or(0.0);
    if hydrogen > 0.0 {
        let flow = line.stages.last().map(|stage| stage.flow * hydrogen / SCCM);
        let _ = cautions.push(Caution::new(path("carrier.H2"), &table::HYDROGEN, flow));
    }
    if line.seeds.classifier.is_some() {
        let _ = cautions.push(Caution::new(path("classifier.voltage_v"), &table::VOLTAGE, None));
    }
    if let Some(stage) = line.stages.iter().position(hot) {
        let _ = cautions.push(Caution::new(in_stage(stage, "zones"), &table::HEAT, None));
    }
    let _ = cautions.push(Caution::new(path("collector"), &table::WIRES, None));
    cautions
}

fn path(text: &str) -> String<96> {
    // All paths here are far shorter than 96 bytes.
    String::try_from(text).unwrap_or_default()
}

fn in_stage(stage: usize, field: &str) -> String<96> {
    let mut path = String::new();
    let _ = write!(path, "stages[{stage}].{field}");
    path
}

/// Whether the wall is anywhere above [`HOT`], looked at in 65 places.
fn hot(stage: &Stage) -> bool {
    (0..=64_u8).any(|place| celsius(stage.wall.temperature(stage.length * f64::from(place) / 64.0)) > HOT)
}

/// Air to dilute a leak to a limit, perfect mixing (1).
///
/// Q = q/x
///
/// * `leak` — q, any flow; not negative
/// * `limit` — x, mole fraction; above 0
///
/// Returns Q, in the unit of the leak; infinite for a limit of 0.
///
/// # Errors
/// None: every finite input has an answer.
///
/// # Examples
/// 20 cm³/min of arsine to 5 ppb: 4000 m³/min. No room is aired like that: dilution does not replace a scrubber.
///
/// # Source
/// Arithmetic; check X046.
#[must_use]
pub fn air_to_dilute(leak: f64, limit: f64) -> f64 {
    leak / limit
}

/// Volume changes to purge to a residual share, perfect mixing (2).
///
/// n = −ln(c/c_0)
///
/// * `share` — c/c_0, –; above 0, at most 1
///
/// Returns n, –; infinite for a share of 0.
///
/// # Errors
/// None.
///
/// # Examples
/// To 1e-4: 9.2 volumes.
///
/// # Source
/// Arithmetic; check X047.
#[must_use]
pub fn volume_changes(share: f64) -> f64 {
    -libm::log(share)
}

/// Share that is left after a number of volume changes, perfect mixing (2).
///
/// c/c_0 = exp(−n)
///
/// * `changes` — n, –; not negative
///
/// Returns c/c_0, –.
///
/// # Errors
/// None.
///
/// # Source
/// Arithmetic; check X047.
#[must_use]
pub fn share_left(changes: f64) -> f64 {
    libm::exp(-changes)
}

/// Cycles of pumping down and refilling to a residual share (3).
///
/// k = ⌈−ln(c/c_0)/ln r⌉
///
/// * `share` — c/c_0, –; above 0, at most 1
/// * `ratio` — r, pressure before over pressure after pumping, –; above 1
///
/// Returns k, whole, –.
///
/// # Errors
/// None.
///
/// # Examples
/// To 1e-4 with a ratio of 20: 4 cycles.
///
/// # Source
/// Arithmetic; check X048.
#[must_use]
pub fn pump_cycles(share: f64, ratio: f64) -> f64 {
    libm::ceil(volume_changes(share) / libm::log(ratio))
}

/// Mass density of a trace in air at 25 °C and 1 atm (4).
///
/// ρ = x · 1e6 · M/24.45
///
/// * `ppm` — 1e6 x, –
/// * `molar_mass` — M, kg/mol
///
/// Returns ρ, mg/m³.
///
/// # Errors
/// None.
///
/// # Examples
/// 0.05 ppm of arsine: 0.16 mg/m³.
///
/// # Source
/// The convention of 24.45 l/mol; check X045.
#[must_use]
pub fn milligrams_per_cubic_metre(ppm: f64, molar_mass: f64) -> f64 {
    ppm * molar_mass * 1000.0 / 24.45
}

/// Flammable gas that brings a room to its lower flammable limit (5).
///
/// V_gas = x_LFL V
///
/// * `room` — V, m³
/// * `limit` — x_LFL, mole fraction
///
/// Returns V_gas, m³.
///
/// # Errors
/// None.
///
/// # Examples
/// Hydrogen in a room of 50 m³: 2 m³.
///
/// # Source
/// Arithmetic; check X049.
#[must_use]
pub fn gas_to_flammable(room: f64, limit: f64) -> f64 {
    room * limit
}
