//! What can be set on a line, what its instruments can be set to, and how well they hold it.
//!
//! A [`SetPoint`] names one number of a job by its path. Its [`Kind`] says which instrument holds it and so which
//! [`Range`] it can be set to: the `limits` of the job by path, else those by kind, else the default of the kind. A flow
//! controller's full scale, where the job gives none, is twice the set-point as the job was opened; [`Job::freeze`] writes
//! it out, so that it stays where it is while the set-point moves.
//!
//! | kind | least, most, step |
//! | --- | --- |
//! | flow | 0, full scale, full scale/1000 |
//! | bath | −20, 40, 0.1 °C |
//! | wall | 20, 700, 1 °C |
//! | pressure | the job's own value; step 1 mbar once a range is given |
//! | voltage | 10, 10 000, 1 V |

use super::shape::{Key, Named, NamedVisitor, objects, words};
use super::{Bubbler, Feed, Job, PATH_BYTES, Stage, Zone};
use crate::feed::table::Precursor;
use crate::text::split_once;
use core::fmt::{self, Write as _};
use core::marker::PhantomData;
use heapless::String;
use serde::de::{Deserializer, Error, MapAccess, Visitor};
use serde::{Deserialize, Serialize, Serializer};

/// Most entries of `limits`.
pub const LIMITS: usize = 64;
/// Most entries of `full_scale_sccm`: the aerosol's, and for each of 6 stages its carrier's and three of each of 7 feeds.
pub const FULL_SCALES: usize = 1 + 6 * (1 + 7 * 3);
/// Share of the full scale that is one step of a flow controller.
const FLOW_STEPS: f64 = 1000.0;
/// Full scale of a flow controller whose set-point is 0, sccm.
const IDLE_FULL_SCALE: f64 = 100.0;
/// How far from a whole number of steps a set-point may be, in steps.
const STEP_TOLERANCE: f64 = 1e-6;

/// Accuracies of the instruments, as written.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Instruments {
    /// Flow, % of the reading; 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flow_percent_of_reading: Option<f64>,
    /// Flow, % of the full scale; 0.2.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flow_percent_of_full_scale: Option<f64>,
    /// Full scale of the flow controllers; 2 × the set-point as opened.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub full_scale_sccm: Option<FullScale>,
    /// Wall temperature, °C; 2.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thermocouple_c: Option<f64>,
    /// Pressure, mbar; 2.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pressure_mbar: Option<f64>,
    /// Bath temperature, °C; 0.1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bath_c: Option<f64>,
    /// Gas temperature at an inlet, °C; 5.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inlet_c: Option<f64>,
    /// Count of the seeds, %; 10.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seed_count_percent: Option<f64>,
    /// Diameter of the seeds, %; 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seed_diameter_percent: Option<f64>,
    /// Tube diameter, mm; 0.1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tube_diameter_mm: Option<f64>,
    /// Vapour pressure over a bath by precursor, %; 10, TMIn 20.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub vapour_pressure_percent: Named<Precursor, f64, { Precursor::ALL.len() }>,
}

impl Instruments {
    /// Whether nothing was given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// Full scale of the flow controllers, sccm.
#[derive(Clone, Debug, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "there is no heap to put the larger one on")]
pub enum FullScale {
    /// The same for all.
    All(f64),
    /// By path.
    Each(Named<String<PATH_BYTES>, f64, FULL_SCALES>),
}

impl Serialize for FullScale {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::All(number) => serializer.serialize_f64(*number),
            Self::Each(paths) => paths.serialize(serializer),
        }
    }
}

impl<'de> Deserialize<'de> for FullScale {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(FullScaleVisitor)
    }
}

struct FullScaleVisitor;

impl<'de> Visitor<'de> for FullScaleVisitor {
    type Value = FullScale;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number, or an object of numbers by path")
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<FullScale, E> {
        Ok(FullScale::All(number))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<FullScale, E> {
        Ok(FullScale::All(number as f64))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<FullScale, E> {
        Ok(FullScale::All(number as f64))
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<FullScale, A::Error> {
        NamedVisitor(PhantomData).visit_map(map).map(FullScale::Each)
    }
}

/// What an instrument can be set to, as written; what is left out is the default's.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(remote = "Self", deny_unknown_fields)]
pub struct Limit {
    /// Least.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min: Option<f64>,
    /// Most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max: Option<f64>,
    /// Step from the least on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub step: Option<f64>,
}

objects!(Instruments, Limit);

/// What an instrument can be set to, in the unit of its set-point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Least.
    pub min: f64,
    /// Most; not below the least.
    pub max: f64,
    /// Step from the least on; positive.
    pub step: f64,
}

impl Range {
    /// Whether a value can be set: min ≤ x ≤ max and (x − min)/step whole within 1e-6.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        let steps = (value - self.min) / self.step;
        self.min <= value && value <= self.max && (steps - libm::rint(steps)).abs() <= STEP_TOLERANCE
    }

    /// The value nearest to one that can be set.
    ///
    /// * `value` — any finite number, in the unit of the set-point
    #[must_use]
    pub fn nearest(&self, value: f64) -> f64 {
        let most = libm::floor((self.max - self.min) / self.step + STEP_TOLERANCE);
        let steps = libm::rint((value - self.min) / self.step).min(most).max(0.0);
        self.min + steps * self.step
    }
}

/// Kinds of instruments, which are also keys of `limits`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Flow controller, sccm.
    Flow,
    /// Bath thermostat, °C.
    Bath,
    /// Temperature controller of a wall, a flange or an inlet, °C.
    Wall,
    /// Pressure controller, mbar.
    Pressure,
    /// Supply of the classifier, V.
    Voltage,
}

words! {
    Kind { Flow = "flow", Bath = "bath", Wall = "wall", Pressure = "pressure", Voltage = "voltage" }
}

impl Kind {
    /// All kinds.
    pub const ALL: [Self; 5] = [Self::Flow, Self::Bath, Self::Wall, Self::Pressure, Self::Voltage];

    /// Why its instrument does not take a value: it is above (or below) what this says; the limit itself is to follow.
    #[must_use]
    pub const fn objection(self, above: bool) -> &'static str {
        match (above, self) {
            (true, Self::Flow) => "is above this controller's full scale",
            (true, _) => "is above the most that can be set here",
            (false, _) => "is below the least that can be set here",
        }
    }

    /// Unit of its set-points.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Flow => "sccm",
            Self::Bath | Self::Wall => "°C",
            Self::Pressure => "mbar",
            Self::Voltage => "V",
        }
    }
}

/// One number of a job that can be set on the line; stages, zones and feeds count from 0.
///
/// Its text, both ways, is the path of the field: `stages[1].zones[0].wall_c`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetPoint {
    /// `pressure_mbar`
    Pressure,
    /// `aerosol_sccm`
    Aerosol,
    /// `classifier.voltage_v`
    Voltage,
    /// `stages[].inlet_c`
    Inlet(u8),
    /// `stages[].flange_c`, of a stage with zones
    Flange(u8),
    /// `stages[].carrier_sccm`
    Carrier(u8),
    /// `stages[].zones[].wall_c`
    Wall(u8, u8),
    /// `stages[].feeds[].flow_sccm`
    Cylinder(u8, u8),
    /// `stages[].feeds[].push_sccm`
    Push(u8, u8),
    /// `stages[].feeds[].inject_sccm`
    Inject(u8, u8),
    /// `stages[].feeds[].bubbler.carrier_sccm`
    BubblerCarrier(u8, u8),
    /// `stages[].feeds[].bubbler.bath_c`
    Bath(u8, u8),
}

impl SetPoint {
    /// What holds it.
    #[must_use]
    pub const fn kind(self) -> Kind {
        match self {
            Self::Pressure => Kind::Pressure,
            Self::Voltage => Kind::Voltage,
            Self::Bath(..) => Kind::Bath,
            Self::Inlet(_) | Self::Flange(_) | Self::Wall(..) => Kind::Wall,
            Self::Aerosol
            | Self::Carrier(_)
            | Self::Cylinder(..)
            | Self::Push(..)
            | Self::Inject(..)
            | Self::BubblerCarrier(..) => Kind::Flow,
        }
    }

    /// The set-point with a path, whether a job has it or not.
    ///
    /// * `path` — as in a fault, without blanks or leading zeros
    #[must_use]
    pub fn from_path(path: &str) -> Option<Self> {
        match path {
            "pressure_mbar" => return Some(Self::Pressure),
            "aerosol_sccm" => return Some(Self::Aerosol),
            "classifier.voltage_v" => return Some(Self::Voltage),
            _ => {}
        }
        let (stage, field) = indexed(path, "stages[")?;
        match field {
            "inlet_c" => return Some(Self::Inlet(stage)),
            "flange_c" => return Some(Self::Flange(stage)),
            "carrier_sccm" => return Some(Self::Carrier(stage)),
            _ => {}
        }
        if let Some((zone, field)) = indexed(field, "zones[") {
            return (field == "wall_c").then_some(Self::Wall(stage, zone));
        }
        let (feed, field) = indexed(field, "feeds[")?;
        match field {
            "flow_sccm" => Some(Self::Cylinder(stage, feed)),
            "push_sccm" => Some(Self::Push(stage, feed)),
            "inject_sccm" => Some(Self::Inject(stage, feed)),
            "bubbler.carrier_sccm" => Some(Self::BubblerCarrier(stage, feed)),
            "bubbler.bath_c" => Some(Self::Bath(stage, feed)),
            _ => None,
        }
    }

    /// Its value in a job, in the unit of its kind.
    ///
    /// Returns `None` if the job does not have it. A default counts as set.
    #[must_use]
    pub fn value(self, job: &Job) -> Option<f64> {
        let stage = |index: u8| job.stages.get(usize::from(index));
        let feed = |index: u8, feed: u8| stage(index).and_then(|stage| stage.feeds.get(usize::from(feed)));
        match self {
            Self::Pressure => Some(job.pressure_mbar),
            Self::Aerosol => Some(job.aerosol_sccm),
            Self::Voltage => job.classifier.as_ref().map(|classifier| classifier.voltage_v),
            Self::Inlet(index) => stage(index).map(|stage| stage.inlet_c),
            Self::Flange(index) => stage(index).filter(|stage| stage.zones.is_some()).map(Stage::flange),
            Self::Carrier(index) => stage(index).map(Stage::carrier),
            Self::Wall(index, zone) => {
                stage(index)?.zones.as_ref()?.get(usize::from(zone)).map(|zone: &Zone| zone.wall_c)
            }
            Self::Cylinder(index, number) => feed(index, number)?.flow_sccm,
            Self::Push(index, number) => feed(index, number)?.push_sccm,
            Self::Inject(index, number) => feed(index, number)?.inject_sccm,
            Self::BubblerCarrier(index, number) => {
                feed(index, number)?.bubbler.map(|bubbler: Bubbler| bubbler.carrier_sccm)
            }
            Self::Bath(index, number) => feed(index, number)?.bubbler.map(|bubbler: Bubbler| bubbler.bath_c),
        }
    }

    /// Sets it in a job.
    ///
    /// * `value` — in the unit of its kind; not checked here
    ///
    /// Returns whether the job has it; if not, nothing was changed.
    pub fn set(self, job: &mut Job, value: f64) -> bool {
        if self.value(job).is_none() {
            return false;
        }
        match self.place(job) {
            Some(Place::Given(number)) => *number = value,
            Some(Place::Optional(number)) => *number = Some(value),
            None => return false,
        }
        true
    }

    /// Where it stands in a job.
    fn place(self, job: &mut Job) -> Option<Place<'_>> {
        let place = match self {
            Self::Pressure => Place::Given(&mut job.pressure_mbar),
            Self::Aerosol => Place::Given(&mut job.aerosol_sccm),
            Self::Voltage => Place::Given(&mut job.classifier.as_mut()?.voltage_v),
            Self::Inlet(index) => Place::Given(&mut stage_mut(job, index)?.inlet_c),
            Self::Flange(index) => Place::Optional(&mut stage_mut(job, index)?.flange_c),
            Self::Carrier(index) => Place::Optional(&mut stage_mut(job, index)?.carrier_sccm),
            Self::Wall(index, zone) => {
                let zones = stage_mut(job, index)?.zones.as_mut()?;
                Place::Given(&mut zones.get_mut(usize::from(zone))?.wall_c)
            }
            Self::Cylinder(index, feed) => Place::Optional(&mut feed_mut(job, index, feed)?.flow_sccm),
            Self::Push(index, feed) => Place::Optional(&mut feed_mut(job, index, feed)?.push_sccm),
            Self::Inject(index, feed) => Place::Optional(&mut feed_mut(job, index, feed)?.inject_sccm),
            Self::BubblerCarrier(index, feed) => {
                Place::Given(&mut feed_mut(job, index, feed)?.bubbler.as_mut()?.carrier_sccm)
            }
            Self::Bath(index, feed) => Place::Given(&mut feed_mut(job, index, feed)?.bubbler.as_mut()?.bath_c),
        };
        Some(place)
    }

    /// Every set-point of a job, in the order of its file.
    pub fn of(job: &Job) -> impl Iterator<Item = Self> + '_ {
        let line = [Self::Pressure, Self::Voltage, Self::Aerosol];
        let stages = (0u8..).zip(&job.stages).flat_map(|(index, stage)| {
            let own = [Self::Inlet(index), Self::Flange(index), Self::Carrier(index)];
            let zones = (0u8..).zip(stage.zones.iter().flatten()).map(move |(zone, _)| Self::Wall(index, zone));
            let feeds = (0u8..).zip(&stage.feeds).flat_map(move |(feed, _)| {
                [
                    Self::Bath(index, feed),
                    Self::BubblerCarrier(index, feed),
                    Self::Cylinder(index, feed),
                    Self::Push(index, feed),
                    Self::Inject(index, feed),
                ]
            });
            own.into_iter().chain(zones).chain(feeds)
        });
        line.into_iter().chain(stages).filter(|point| point.value(job).is_some())
    }
}

/// Where a set-point stands in a job.
enum Place<'j> {
    /// It is always written.
    Given(&'j mut f64),
    /// It may be left out.
    Optional(&'j mut Option<f64>),
}

fn stage_mut(job: &mut Job, index: u8) -> Option<&mut Stage> {
    job.stages.get_mut(usize::from(index))
}

fn feed_mut(job: &mut Job, stage: u8, feed: u8) -> Option<&mut Feed> {
    stage_mut(job, stage)?.feeds.get_mut(usize::from(feed))
}

/// Splits `stages[1].zones[0].wall_c` into 1 and `zones[0].wall_c`; no list of set-points is longer than ten.
fn indexed<'p>(path: &'p str, list: &str) -> Option<(u8, &'p str)> {
    let (index, field) = split_once(path.strip_prefix(list)?, "].")?;
    match index.as_bytes() {
        [digit @ b'0'..=b'9'] => Some((digit - b'0', field)),
        _ => None,
    }
}

impl fmt::Display for SetPoint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Pressure => f.write_str("pressure_mbar"),
            Self::Aerosol => f.write_str("aerosol_sccm"),
            Self::Voltage => f.write_str("classifier.voltage_v"),
            Self::Inlet(stage) => write!(f, "stages[{stage}].inlet_c"),
            Self::Flange(stage) => write!(f, "stages[{stage}].flange_c"),
            Self::Carrier(stage) => write!(f, "stages[{stage}].carrier_sccm"),
            Self::Wall(stage, zone) => write!(f, "stages[{stage}].zones[{zone}].wall_c"),
            Self::Cylinder(stage, feed) => write!(f, "stages[{stage}].feeds[{feed}].flow_sccm"),
            Self::Push(stage, feed) => write!(f, "stages[{stage}].feeds[{feed}].push_sccm"),
            Self::Inject(stage, feed) => write!(f, "stages[{stage}].feeds[{feed}].inject_sccm"),
            Self::BubblerCarrier(stage, feed) => write!(f, "stages[{stage}].feeds[{feed}].bubbler.carrier_sccm"),
            Self::Bath(stage, feed) => write!(f, "stages[{stage}].feeds[{feed}].bubbler.bath_c"),
        }
    }
}

/// Accuracies of the instruments, every default filled in; standard uncertainties are made of them elsewhere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// Flow, % of the reading.
    pub flow_percent_of_reading: f64,
    /// Flow, % of the full scale.
    pub flow_percent_of_full_scale: f64,
    /// Wall temperature, °C.
    pub thermocouple_c: f64,
    /// Pressure, mbar.
    pub pressure_mbar: f64,
    /// Bath temperature, °C.
    pub bath_c: f64,
    /// Gas temperature at an inlet, °C.
    pub inlet_c: f64,
    /// Count of the seeds, %.
    pub seed_count_percent: f64,
    /// Diameter of the seeds, %.
    pub seed_diameter_percent: f64,
    /// Tube diameter, mm.
    pub tube_diameter_mm: f64,
}

impl Accuracy {
    /// What holds where a job says nothing.
    pub const DEFAULT: Self = Self {
        flow_percent_of_reading: 1.0,
        flow_percent_of_full_scale: 0.2,
        thermocouple_c: 2.0,
        pressure_mbar: 2.0,
        bath_c: 0.1,
        inlet_c: 5.0,
        seed_count_percent: 10.0,
        seed_diameter_percent: 1.0,
        tube_diameter_mm: 0.1,
    };
}

impl Job {
    /// Accuracies of its instruments.
    #[must_use]
    pub fn accuracy(&self) -> Accuracy {
        let given = &self.instruments;
        let default = Accuracy::DEFAULT;
        Accuracy {
            flow_percent_of_reading: given.flow_percent_of_reading.unwrap_or(default.flow_percent_of_reading),
            flow_percent_of_full_scale: given.flow_percent_of_full_scale.unwrap_or(default.flow_percent_of_full_scale),
            thermocouple_c: given.thermocouple_c.unwrap_or(default.thermocouple_c),
            pressure_mbar: given.pressure_mbar.unwrap_or(default.pressure_mbar),
            bath_c: given.bath_c.unwrap_or(default.bath_c),
            inlet_c: given.inlet_c.unwrap_or(default.inlet_c),
            seed_count_percent: given.seed_count_percent.unwrap_or(default.seed_count_percent),
            seed_diameter_percent: given.seed_diameter_percent.unwrap_or(default.seed_diameter_percent),
            tube_diameter_mm: given.tube_diameter_mm.unwrap_or(default.tube_diameter_mm),
        }
    }

    /// Relative accuracy of the vapour pressure of a precursor, %: the job's, else that of the precursor's row.
    #[must_use]
    pub fn vapour_pressure_percent(&self, precursor: Precursor) -> f64 {
        let given = self.instruments.vapour_pressure_percent.get(&precursor).copied();
        given.unwrap_or(100.0 * precursor.row().vapour_uncertainty)
    }

    /// Full scale of the controller of a flow, sccm; 2 × the set-point, or 100 for a set-point of 0, where the job gives
    /// none. A set-point that is no flow has none.
    #[must_use]
    pub fn full_scale(&self, point: SetPoint) -> Option<f64> {
        if point.kind() != Kind::Flow {
            return None;
        }
        let value = point.value(self)?;
        let given = match &self.instruments.full_scale_sccm {
            Some(FullScale::All(number)) => Some(*number),
            Some(FullScale::Each(paths)) => paths.named(&path(point)).copied(),
            None => None,
        };
        Some(given.unwrap_or(if value > 0.0 { 2.0 * value } else { IDLE_FULL_SCALE }))
    }

    /// What a set-point can be set to: `limits` by path, else by kind, and what those leave out from the default of the
    /// kind.
    ///
    /// Returns `None` if the job does not have the set-point.
    #[must_use]
    pub fn range(&self, point: SetPoint) -> Option<Range> {
        let default = self.default_range(point)?;
        let given = self.limits.named(&path(point)).or_else(|| self.limits.named(point.kind().name()));
        let given = given.copied().unwrap_or_default();
        Some(Range {
            min: given.min.unwrap_or(default.min),
            max: given.max.unwrap_or(default.max),
            step: given.step.unwrap_or(default.step),
        })
    }

    /// What a set-point can be set to where `limits` say nothing.
    pub(crate) fn default_range(&self, point: SetPoint) -> Option<Range> {
        let value = point.value(self)?;
        Some(match point.kind() {
            Kind::Flow => {
                let full_scale = self.full_scale(point)?;
                Range { min: 0.0, max: full_scale, step: full_scale / FLOW_STEPS }
            }
            Kind::Bath => Range { min: -20.0, max: 40.0, step: 0.1 },
            Kind::Wall => Range { min: 20.0, max: 700.0, step: 1.0 },
            Kind::Pressure => Range { min: value, max: value, step: 1.0 },
            Kind::Voltage => Range { min: 10.0, max: 10_000.0, step: 1.0 },
        })
    }

    /// Writes the full scale of every flow controller into the job, where the job gives none.
    ///
    /// To be called as a job is opened: from then on the full scales stay as they are, whatever happens to the
    /// set-points, and a saved job holds them.
    pub fn freeze(&mut self) {
        if matches!(self.instruments.full_scale_sccm, Some(FullScale::All(_))) {
            return;
        }
        let mut paths = Named::new();
        for point in SetPoint::of(self).filter(|point| point.kind() == Kind::Flow) {
            if let Some(full_scale) = self.full_scale(point) {
                // There is room for every flow that a job can have.
                let _ = paths.insert(path(point), full_scale);
            }
        }
        self.instruments.full_scale_sccm = Some(FullScale::Each(paths));
    }
}

/// Path of a set-point, as it stands as a key.
fn path(point: SetPoint) -> String<PATH_BYTES> {
    let mut path = String::new();
    // The longest has 38 bytes, so there is room.
    let _ = write!(path, "{point}");
    path
}
