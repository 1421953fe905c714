//! What can move a figure, by how much it is known, and what one unit of it does.

use super::INPUTS;
use super::figure::{FIGURES, Figure, measured};
use crate::check::check;
use crate::feed::table::Precursor;
use crate::job::{Job, Kind, SetPoint};
use crate::kinetics::{Number, diffusion_percent};
use crate::line::{Line, STAGES};
use crate::predict::Predictor;
use core::fmt::{self, Display, Write};
use heapless::{String, Vec};
use libm::log1p;
use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

/// Half-width of a rectangle over its standard deviation, √3.
const RECTANGLE: f64 = 1.732_050_807_568_877_2;

/// Something that moves figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Input {
    /// A set-point of the job.
    Set(SetPoint),
    /// A kinetic number.
    Number(Number),
    /// Diameter of the seeds, %.
    SeedDiameter,
    /// Number of the seeds, %.
    SeedCount,
    /// Diameter of the tube of a stage, mm.
    Tube(u8),
    /// Vapour pressure over the baths of a precursor, %.
    Vapour(Precursor),
    /// Diffusion coefficients of all precursors, %.
    Diffusion,
}

impl Display for Input {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Set(point) => point.fmt(f),
            Self::Number(number) => write!(f, "kinetics.{number}"),
            Self::SeedDiameter => f.write_str("instruments.seed_diameter_percent"),
            Self::SeedCount => f.write_str("instruments.seed_count_percent"),
            Self::Tube(stage) => write!(f, "stages[{stage}].tube_diameter_mm"),
            Self::Vapour(precursor) => write!(f, "instruments.vapour_pressure_percent.{}", precursor.name()),
            Self::Diffusion => f.write_str("kinetics.uncertainty.diffusion_percent"),
        }
    }
}

impl Input {
    /// set-point, kinetics or instrument.
    #[must_use]
    pub const fn group(self) -> &'static str {
        match self {
            Self::Set(_) => "set-point",
            Self::Number(_) | Self::Diffusion => "kinetics",
            Self::SeedDiameter | Self::SeedCount | Self::Tube(_) | Self::Vapour(_) => "instrument",
        }
    }

    fn unit(self) -> &'static str {
        match self {
            Self::Set(point) => point.kind().unit(),
            Self::Number(number) => unit_of(number),
            Self::Tube(_) => "mm",
            Self::SeedDiameter | Self::SeedCount | Self::Vapour(_) | Self::Diffusion => "%",
        }
    }

    fn value(self, job: &Job) -> Option<f64> {
        match self {
            Self::Set(point) => point.value(job),
            Self::Number(number) => number.value(job, group_iii(job)).map(|(value, _)| value),
            Self::Tube(stage) => job.stages.get(usize::from(stage)).map(|stage| stage.tube_diameter_mm),
            Self::SeedDiameter | Self::SeedCount | Self::Vapour(_) | Self::Diffusion => Some(0.0),
        }
    }

    /// Standard uncertainty, in its unit.
    fn uncertainty(self, job: &Job) -> f64 {
        let accuracy = job.accuracy();
        match self {
            Self::Set(point) => {
                let half = match (point, point.kind()) {
                    (SetPoint::Inlet(_), _) => accuracy.inlet_c,
                    (_, Kind::Flow) => {
                        let reading = accuracy.flow_percent_of_reading * point.value(job).unwrap_or(0.0).abs();
                        let scale = accuracy.flow_percent_of_full_scale * job.full_scale(point).unwrap_or(0.0);
                        // A controller that is shut lets nothing through.
                        if reading > 0.0 { (reading + scale) / 100.0 } else { 0.0 }
                    }
                    (_, Kind::Bath) => accuracy.bath_c,
                    (_, Kind::Wall) => accuracy.thermocouple_c,
                    (_, Kind::Pressure) => accuracy.pressure_mbar,
                    // The diameter's accuracy stands for the classifier as a whole.
                    (_, Kind::Voltage) => 0.0,
                };
                half / RECTANGLE
            }
            Self::Number(number) => number.standard_error(job).unwrap_or(0.0),
            Self::SeedDiameter => accuracy.seed_diameter_percent / RECTANGLE,
            Self::SeedCount => accuracy.seed_count_percent / RECTANGLE,
            Self::Tube(_) => accuracy.tube_diameter_mm / RECTANGLE,
            Self::Vapour(precursor) => job.vapour_pressure_percent(precursor),
            Self::Diffusion => diffusion_percent(job),
        }
    }

    /// Step of the instrument, in its unit; 0 where there is none.
    fn step(self, job: &Job) -> f64 {
        match self {
            Self::Set(point) => job.range(point).map_or(0.0, |range| range.step),
            _ => 0.0,
        }
    }

    /// Change over which the difference is taken, in its unit.
    fn stride(self, job: &Job) -> f64 {
        let value = self.value(job).unwrap_or(0.0).abs();
        match self {
            Self::Set(point) => match point.kind() {
                Kind::Wall => 1.0,
                Kind::Bath => 0.2,
                Kind::Flow if value > 0.0 => 0.01 * value,
                Kind::Flow => 0.01 * job.full_scale(point).unwrap_or(100.0),
                Kind::Pressure | Kind::Voltage => 0.005 * value,
            },
            Self::Number(_) => {
                let error = self.uncertainty(job);
                if value > 0.0 { (0.2 * error).min(0.02 * value) } else { 0.2 * error }
            }
            Self::Tube(_) => 0.1,
            Self::SeedDiameter | Self::SeedCount | Self::Vapour(_) | Self::Diffusion => 1.0,
        }
    }

    /// The line with the input changed; `None` where that is no line.
    fn moved(self, job: &Job, change: f64) -> Option<Line> {
        let mut job = job.clone();
        match self {
            Self::Set(point) => {
                let value = point.value(&job)?;
                point.set(&mut job, value + change);
            }
            Self::Number(number) => {
                let (value, _) = number.value(&job, group_iii(&job))?;
                number.set(&mut job, value + change);
            }
            Self::Tube(stage) => job.stages.get_mut(usize::from(stage))?.tube_diameter_mm += change,
            Self::SeedDiameter | Self::SeedCount | Self::Vapour(_) | Self::Diffusion => {}
        }
        let mut line = check(&job).ok()?;
        let factor = 1.0 + change / 100.0;
        match self {
            Self::SeedDiameter => widen(&mut line, change / 100.0),
            Self::SeedCount => line.seeds.rate *= factor,
            Self::Diffusion => line.diffusion_factor = factor,
            Self::Vapour(precursor) => strengthen(&mut line, precursor, factor),
            Self::Set(_) | Self::Number(_) | Self::Tube(_) => {}
        }
        Some(line)
    }
}

/// Unit of a kinetic number, as the name of its field says.
fn unit_of(number: Number) -> &'static str {
    const UNITS: [(&str, &str); 9] = [
        ("_um_per_s", "µm/s"),
        ("_nm_per_s", "nm/s"),
        ("_per_s", "1/s"),
        ("_kj_per_mol", "kJ/mol"),
        ("_per_cm3", "1/cm³"),
        ("_nm", "nm"),
        ("_pa", "Pa"),
        ("_deg", "°"),
        ("_c", "°C"),
    ];
    let field = match number {
        Number::Shared(shared) => shared.path(),
        Number::Dopant(_, of) => of.field(),
    };
    UNITS.iter().find(|(end, _)| field.ends_with(end)).map_or("", |(_, unit)| unit)
}

/// All seed diameters a share larger.
fn widen(line: &mut Line, share: f64) {
    let shift = log1p(share);
    line.seeds.median_diameter *= 1.0 + share;
    for group in &mut line.seeds.groups {
        for (node, _) in &mut group.nodes {
            *node += shift;
        }
        for quantile in &mut group.quantiles {
            *quantile += shift;
        }
    }
}

/// A precursor's vapour stronger by a factor in every stage; it is dilute, so the flow stays.
fn strengthen(line: &mut Line, precursor: Precursor, factor: f64) {
    let Some(place) = line.species.iter().position(|species| species.name == precursor.name()) else { return };
    for stage in &mut line.stages {
        if let Some(fed) = stage.fed.get_mut(place) {
            *fed *= factor;
        }
    }
}

/// The group III precursor of a job.
fn group_iii(job: &Job) -> Option<Precursor> {
    let feeds = job.stages.iter().flat_map(|stage| &stage.feeds);
    feeds.map(|feed| feed.precursor).find(|precursor| precursor.fragment_molar_mass().is_some())
}

/// All inputs of a job: its set-points, then seeds and tubes, baths, and what has a standard error.
pub(super) fn of(job: &Job) -> Vec<Input, INPUTS> {
    let mut out: Vec<Input, INPUTS> = Vec::new();
    let mut add = |input: Input| {
        // INPUTS holds what a job can have.
        let _ = out.push(input);
    };
    for point in SetPoint::of(job) {
        add(Input::Set(point));
    }
    add(Input::SeedDiameter);
    add(Input::SeedCount);
    for (stage, _) in (0u8..).zip(job.stages.iter().take(STAGES)) {
        add(Input::Tube(stage));
    }
    for precursor in Precursor::ALL {
        let feeds = job.stages.iter().flat_map(|stage| &stage.feeds);
        if feeds.clone().any(|feed| feed.precursor == precursor && feed.bubbler.is_some()) {
            add(Input::Vapour(precursor));
        }
    }
    add(Input::Diffusion);
    for number in Number::all() {
        let named = match number {
            Number::Shared(_) => true,
            Number::Dopant(dopant, _) => {
                job.stages.iter().flat_map(|stage| &stage.feeds).any(|feed| feed.precursor == dopant)
            }
        };
        if named && number.standard_error(job).is_some_and(|error| error > 0.0) {
            add(Input::Number(number));
        }
    }
    out
}

/// An input with what one unit of it does.
#[derive(Clone, Debug, PartialEq)]
pub struct Lever {
    /// What it is.
    pub input: Input,
    /// Value, in its unit; 0 for a relative one.
    pub value: f64,
    /// Step of the instrument, in its unit.
    pub step: f64,
    /// Standard uncertainty, in its unit.
    pub u: f64,
    /// Change of each figure for one unit of the input, in the unit of the figure.
    pub effects: Vec<f64, FIGURES>,
    /// Share of each figure's variance that this input brings, –.
    pub share: Vec<f64, FIGURES>,
}

impl Serialize for Lever {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut path: String<64> = String::new();
        // The longest path has 59 bytes.
        let _ = write!(path, "{}", self.input);
        let mut out = serializer.serialize_struct("Lever", 8)?;
        out.serialize_field("path", &path)?;
        out.serialize_field("kind", self.input.group())?;
        out.serialize_field("unit", self.input.unit())?;
        out.serialize_field("value", &self.value)?;
        out.serialize_field("step", &self.step)?;
        out.serialize_field("u", &self.u)?;
        out.serialize_field("effects", &self.effects)?;
        out.serialize_field("share", &self.share)?;
        out.end()
    }
}

/// What one unit of an input does, by a central difference on the coarse grid; one-sided where the other side is no line or turns back, `None`
/// where both are.
pub(super) fn lever(input: Input, job: &Job, figures: &[Figure], predictor: &mut Predictor) -> Option<Lever> {
    let stride = input.stride(job);
    let (value, u) = (input.value(job)?, input.uncertainty(job));
    if !(stride > 0.0) {
        return None;
    }
    let mut at = |change: f64| {
        let line = input.moved(job, change)?;
        let harvest = predictor.sketch(&line).ok()?;
        Some(measured(&line, harvest, figures))
    };
    let (up, down) = (at(stride), at(-stride));
    let (high, low, width) = match (up, down) {
        (Some(up), Some(down)) => (up, down, 2.0 * stride),
        (Some(up), None) => (up, at(0.0)?, stride),
        (None, Some(down)) => (at(0.0)?, down, stride),
        (None, None) => return None,
    };
    let mut effects = Vec::new();
    for (high, low) in high.iter().zip(&low).take(figures.len()) {
        // As many as figures.
        let _ = effects.push((high - low) / width);
    }
    let mut share = Vec::new();
    let _ = share.resize(figures.len(), 0.0);
    Some(Lever { input, value, step: input.step(job), u, effects, share })
}
