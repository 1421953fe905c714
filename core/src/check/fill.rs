//! A job without a fault is filled into a line: SI, nothing optional left.

use super::gas::{Added, Gas, mixture};
use super::rates::group_iii;
use super::stages::wall;
use super::warn;
use crate::fault::{Fault, Faults, cut};
use crate::feed::table::{Precursor, Role};
use crate::job::{self, Direction, Job, Streamlines, Velocity, WantedDoping};
use crate::kinetics::{Number, OfDopant, Shared};
use crate::line::{
    DopantKinetics, Doping, Growth, Line, Order, OrderSegment, Part, SPECIES, STAGES, Seeds, Species, Stage,
};
use crate::units::{MBAR, SCCM, kelvin};
use core::f64::consts::PI;
use heapless::{String, Vec};

const MM: f64 = 1e-3;
const NM: f64 = 1e-9;
const UM: f64 = 1e-6;
const KJ: f64 = 1e3;
/// Per cm³ in per m³.
const PER_CM3: f64 = 1e6;
/// cm² and nm².
const CM2: f64 = 1e-4;
const NM2: f64 = 1e-18;
/// Least memory length that divides, in wire diameters: shorter than an atom, so none.
const LEAST_MEMORY: f64 = 1e-6;
/// Least collection length that divides, m: shorter than an atom, so none.
const LEAST_COLLECTION: f64 = 1e-12;

/// The line of a job.
///
/// # Errors
/// One fault, of the job as a whole, should something be missing that the check has let pass; none is known.
#[allow(clippy::result_large_err, reason = "faults are listed where no heap is; a line is as large")]
pub(super) fn line(job: &Job, seeds: Seeds, gas: &Gas) -> Result<Line, Faults> {
    resolved(job, seeds, gas).ok_or_else(|| Faults::from(Fault::new("", "", "cannot be resolved into a line", "")))
}

fn resolved(job: &Job, seeds: Seeds, gas: &Gas) -> Option<Line> {
    let followed = followed(job)?;
    let parent = *followed.first()?;
    let aerosol = SCCM * job.aerosol_sccm;
    let stages = stages(job, gas, &followed, aerosol)?;
    let warnings = warn::warnings(job, gas, &stages);
    Some(Line {
        title: job.title.clone(),
        carrier: mixture(&job.carrier),
        pressure: MBAR * job.pressure_mbar,
        material: job.material,
        species: species(job, &followed)?,
        seeds,
        aerosol,
        stages,
        growth: growth(job, parent)?,
        thermal_diffusion: job.transport.thermal_diffusion.unwrap_or(true),
        diffusion_factor: 1.0,
        order: job.order.as_ref().map(order),
        warnings,
    })
}

/// Precursors in the order in which they are followed: group III, group V, dopants, each by first appearance. The fragment
/// has its place behind the first, but no feed.
fn followed(job: &Job) -> Option<Vec<Precursor, SPECIES>> {
    let mut followed = Vec::new();
    followed.push(group_iii(job)?).ok()?;
    for dopants in [false, true] {
        for feed in job.stages.iter().flat_map(|stage| &stage.feeds) {
            let wanted = match feed.precursor.role() {
                Role::GroupIII(_) => false,
                Role::GroupV(_) => !dopants,
                Role::Acceptor | Role::Donor => dopants,
            };
            if wanted && !followed.contains(&feed.precursor) {
                followed.push(feed.precursor).ok()?;
            }
        }
    }
    Some(followed)
}

fn species(job: &Job, followed: &[Precursor]) -> Option<Vec<Species, SPECIES>> {
    let mut species = Vec::new();
    for precursor in followed {
        species.push(one_species(job, *precursor)?).ok()?;
        if let Some(molar_mass) = precursor.fragment_molar_mass() {
            species.push(fragment(job, *precursor, molar_mass)?).ok()?;
        }
    }
    Some(species)
}

fn one_species(job: &Job, precursor: Precursor) -> Option<Species> {
    let number = |number: Shared| value(job, Number::Shared(number));
    let (part, wall_probability, wall_activation) = match precursor.role() {
        Role::GroupIII(_) => (Part::Parent, number(Shared::ParentProbability)?, KJ * number(Shared::WallActivation)?),
        Role::GroupV(_) => (Part::GroupV, number(Shared::GroupVProbability)?, KJ * number(Shared::GroupVActivation)?),
        Role::Acceptor | Role::Donor => {
            let own = value(job, Number::Dopant(precursor, OfDopant::WallProbability));
            (Part::Dopant, own.or_else(|| number(Shared::DopantProbability))?, 0.0)
        }
    };
    Some(Species {
        name: String::try_from(precursor.name()).ok()?,
        part,
        molar_mass: precursor.molar_mass(),
        collision_diameter: precursor.collision_diameter(),
        well_depth: precursor.well_depth(),
        wall_probability,
        wall_activation,
        doping: match part {
            Part::Dopant => Some(doping(job, precursor)?),
            Part::Parent | Part::Fragment | Part::GroupV => None,
        },
    })
}

/// What the pyrolysis of the group III precursor leaves.
fn fragment(job: &Job, parent: Precursor, molar_mass: f64) -> Option<Species> {
    Some(Species {
        name: cut(format_args!("{}*", parent.name())),
        part: Part::Fragment,
        molar_mass,
        collision_diameter: parent.collision_diameter(),
        well_depth: parent.well_depth(),
        wall_probability: value(job, Number::Shared(Shared::FragmentProbability))?,
        wall_activation: KJ * value(job, Number::Shared(Shared::WallActivation))?,
        doping: None,
    })
}

fn doping(job: &Job, dopant: Precursor) -> Option<DopantKinetics> {
    let number = |of: OfDopant| value(job, Number::Dopant(dopant, of));
    Some(DopantKinetics {
        acceptor: dopant.role() == Role::Acceptor,
        reference: PER_CM3 * number(OfDopant::Reference)?,
        ratio: number(OfDopant::Ratio)?,
        order: number(OfDopant::Order)?,
        activation: KJ * number(OfDopant::Activation)?,
        limit: PER_CM3 * number(OfDopant::Limit)?,
        memory_diameters: number(OfDopant::MemoryDiameters)?.max(LEAST_MEMORY),
    })
}

fn growth(job: &Job, parent: Precursor) -> Option<Growth> {
    let number = |number: Shared| Number::Shared(number).value(job, Some(parent)).map(|(value, _)| value);
    Some(Growth {
        reference_temperature: kelvin(number(Shared::ReferenceTemperature)?),
        reference_group_iii: number(Shared::ReferenceGroupIii)?,
        reference_v_iii: number(Shared::ReferenceVIii)?,
        reference_diameter: NM * number(Shared::ReferenceDiameter)?,
        axial_rate: UM * number(Shared::AxialRate)?,
        axial_activation: KJ * number(Shared::AxialActivation)?,
        group_iii_order: number(Shared::GroupIiiOrder)?,
        v_iii_half: number(Shared::VIiiHalf)?,
        critical_diameter: NM * number(Shared::CriticalDiameter)?,
        sticking: number(Shared::Sticking)?,
        collection_length: (NM * number(Shared::CollectionLength)?).max(LEAST_COLLECTION),
        radial_rate: NM * number(Shared::RadialRate)?,
        radial_activation: KJ * number(Shared::RadialActivation)?,
        group_iii_share: number(Shared::FilledShare)?,
        contact_angle: number(Shared::ContactAngle)? * PI / 180.0,
        pyrolysis_frequency: number(Shared::PyrolysisFrequency)?,
        pyrolysis_activation: KJ * number(Shared::PyrolysisActivation)?,
    })
}

/// A kinetic number that is not of the pyrolysis.
fn value(job: &Job, number: Number) -> Option<f64> {
    number.value(job, None).map(|(value, _)| value)
}

fn stages(job: &Job, gas: &Gas, followed: &[Precursor], aerosol: f64) -> Option<Vec<Stage, STAGES>> {
    let mut stages = Vec::new();
    let mut flow = aerosol;
    for (index, (stage, added)) in job.stages.iter().zip(&gas.stages).enumerate() {
        flow += added.total();
        let wall = wall(stage)?;
        stages
            .push(Stage {
                name: match stage.name.as_ref().filter(|name| !name.is_empty()) {
                    Some(name) => name.clone(),
                    None => cut(format_args!("stage {}", index + 1)),
                },
                diameter: MM * stage.tube_diameter_mm,
                length: wall.length(),
                upward: stage.flow == Some(Direction::Up),
                // Nothing has been kept before the first stage, so there is nothing to mix.
                mixed: index > 0 && stage.streamlines == Some(Streamlines::Mixed),
                parabolic: stage.velocity == Some(Velocity::Parabolic),
                inlet: kelvin(stage.inlet_c),
                wall,
                flow,
                core_share: aerosol / flow,
                fed: fed(stage, added, followed),
            })
            .ok()?;
    }
    Some(stages)
}

/// Molar flow of each species that a stage adds, mol/s; the fragment, second, is not fed.
fn fed(stage: &job::Stage, added: &Added, followed: &[Precursor]) -> [f64; SPECIES] {
    let mut fed = [0.0; SPECIES];
    for (feed, stream) in stage.feeds.iter().zip(&added.streams) {
        let place = followed.iter().position(|precursor| *precursor == feed.precursor);
        let index = place.map(|place| if place == 0 { 0 } else { place + 1 });
        if let Some(flow) = index.and_then(|index| fed.get_mut(index)) {
            *flow += stream.precursor;
        }
    }
    fed
}

fn order(order: &job::Order) -> Order {
    let area = order.area_cm2.zip(order.pitch_nm);
    let mut segments = Vec::new();
    for segment in &order.segments {
        // Both lists have the same room.
        let _ = segments.push(segment.as_ref().map(ordered));
    }
    Order {
        diameter: NM * order.diameter_nm,
        diameter_tolerance: NM * order.diameter_tolerance(),
        spread_cv: order.spread_cv,
        segments,
        wires: order.wires.or(area.map(|(area, pitch)| CM2 * area / (NM2 * pitch * pitch))),
    }
}

fn ordered(segment: &job::Segment) -> OrderSegment {
    OrderSegment {
        length: NM * segment.length_nm,
        tolerance: NM * segment.tolerance_nm,
        doping: match segment.doping {
            WantedDoping::P => Doping::P,
            WantedDoping::N => Doping::N,
            WantedDoping::I => Doping::I,
        },
        carriers: PER_CM3 * segment.carriers_per_cm3,
    }
}
