//! The line as it is to be predicted: a checked job in SI, with nothing optional left.
//!
//! What stands here can be marched: every number is finite and inside its accepted range, flows are positive where they
//! divide, and shares add up. A `Line` is made by [`crate::check::check`] from a [`crate::job::Job`]; the modules that
//! march it rely on that and say so.

use crate::furnace::Wall;
use crate::gas::Mixture;
use crate::material::Material;
use heapless::{String, Vec};

/// Most stages of a line.
pub const STAGES: usize = 6;
/// Most zones of a furnace.
pub const ZONES: usize = 8;
/// Most points of a measured wall profile.
pub const PROFILE_POINTS: usize = 32;
/// Most species: a group III parent with its fragment, up to three of group V, up to three dopants, two spare.
pub const SPECIES: usize = 10;
/// Most group-V precursors of a job.
pub const GROUP_V: usize = 3;
/// Most dopants of a job.
pub const DOPANTS: usize = 3;
/// Most feeds of a stage.
pub const FEEDS: usize = 7;
/// Most charges that are followed behind a classifier.
pub const CHARGES: usize = 6;
/// Gauss nodes of a seed group's size distribution: 3 suffice to 1e-5 in the mean length.
pub const NODES: usize = 3;
/// Equal-probability points of a seed group's size distribution.
pub const QUANTILES: usize = 128;

/// A whole line in SI.
#[derive(Clone, Debug)]
pub struct Line {
    /// What the operator calls the job.
    pub title: String<200>,
    /// Carrier gas, mole fractions that sum to 1.
    pub carrier: Mixture,
    /// Absolute pressure in every stage, Pa.
    pub pressure: f64,
    /// What grows.
    pub material: Material,
    /// Species that are followed: the group III parent first, its fragment second, then group V, then dopants.
    pub species: Vec<Species, SPECIES>,
    /// Seeds as they enter the first stage.
    pub seeds: Seeds,
    /// Molar flow that carries the seeds into the first stage, mol/s.
    pub aerosol: f64,
    /// Stages in the order of flow.
    pub stages: Vec<Stage, STAGES>,
    /// Kinetics of growth.
    pub growth: Growth,
    /// Whether precursors diffuse in a temperature gradient.
    pub thermal_diffusion: bool,
    /// Factor on the diffusion coefficients of all precursors, –; 1, but where their uncertainty is asked for.
    pub diffusion_factor: f64,
    /// What is ordered.
    pub order: Option<Order>,
    /// What the operator should know although nothing is refused.
    pub warnings: Vec<Warning, 48>,
}

/// The part a species plays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Group III precursor as it is fed.
    Parent,
    /// What its pyrolysis leaves; the reactive one. Its feed is 0.
    Fragment,
    /// Group V precursor.
    GroupV,
    /// Dopant.
    Dopant,
}

/// A trace gas that is followed through the line.
#[derive(Clone, Debug)]
pub struct Species {
    /// Name as in the job file; the fragment's is its parent's with `*` behind it.
    pub name: String<8>,
    /// The part it plays.
    pub part: Part,
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
    /// Lennard-Jones collision diameter, m.
    pub collision_diameter: f64,
    /// Lennard-Jones well depth over k_B, K.
    pub well_depth: f64,
    /// Reaction probability on the wall at the reference temperature, γ_ref.
    pub wall_probability: f64,
    /// Activation energy of that probability, J/mol.
    pub wall_activation: f64,
    /// How it dopes; only dopants.
    pub doping: Option<DopantKinetics>,
}

/// How a dopant enters the wire: N∞ = N_ref (ρ/ρ_ref)^m exp(−(E_d/R)(1/T − 1/T_ref)), at most N_max.
#[derive(Clone, Copy, Debug)]
pub struct DopantKinetics {
    /// Whether it is an acceptor (p) rather than a donor (n).
    pub acceptor: bool,
    /// N_ref, 1/m³.
    pub reference: f64,
    /// ρ_ref, dopant over group III, –.
    pub ratio: f64,
    /// m, –.
    pub order: f64,
    /// E_d, J/mol; may be negative.
    pub activation: f64,
    /// N_max, 1/m³.
    pub limit: f64,
    /// ℓ_d/d, memory length of the seed in wire diameters, –.
    pub memory_diameters: f64,
}

/// Kinetics of growth, all at the shared reference.
#[derive(Clone, Copy, Debug)]
pub struct Growth {
    /// T_ref, K.
    pub reference_temperature: f64,
    /// p_III,ref, Pa.
    pub reference_group_iii: f64,
    /// q_ref, V/III, –.
    pub reference_v_iii: f64,
    /// d_ref, m.
    pub reference_diameter: f64,
    /// v_ref, m/s.
    pub axial_rate: f64,
    /// E_a, J/mol.
    pub axial_activation: f64,
    /// a, –.
    pub group_iii_order: f64,
    /// q_half, –.
    pub v_iii_half: f64,
    /// d_c, m.
    pub critical_diameter: f64,
    /// α, sticking probability of parent and fragment on the seed and the wire, –.
    pub sticking: f64,
    /// λ_s, m.
    pub collection_length: f64,
    /// v_rad,ref, m/s.
    pub radial_rate: f64,
    /// E_rad, J/mol.
    pub radial_activation: f64,
    /// x_sat, group III share of the filled seed, –; below 1.
    pub group_iii_share: f64,
    /// β, contact angle of the seed on the wire, rad; above π/2.
    pub contact_angle: f64,
    /// A of the pyrolysis of the group III parent, 1/s.
    pub pyrolysis_frequency: f64,
    /// E of it, J/mol.
    pub pyrolysis_activation: f64,
}

/// Seeds as they enter the first stage.
#[derive(Clone, Debug)]
pub struct Seeds {
    /// Seeds per second.
    pub rate: f64,
    /// Mean number of elementary charges of one sign a seed carries, 0 for neutralised.
    pub charges: f64,
    /// Whether seeds drift in a temperature gradient.
    pub drift: bool,
    /// Median compact diameter over all seeds, m.
    pub median_diameter: f64,
    /// Seed groups: one where the size distribution is given, one a charge behind a classifier; shares sum to 1.
    pub groups: Vec<SeedGroup, CHARGES>,
    /// What the classifier says of itself, if there is one.
    pub classifier: Option<Passed>,
}

/// Figures of the classifier.
#[derive(Clone, Copy, Debug)]
pub struct Passed {
    /// Share of the source's particles that pass, –.
    pub share: f64,
    /// Mobility diameter of one charge at the centroid mobility, m.
    pub selected: f64,
    /// Centroid mobility, m²/(V s).
    pub centroid_mobility: f64,
    /// Share of the passed seeds with more than one charge, –.
    pub multiply_charged_share: f64,
}

/// Seeds of one size distribution.
#[derive(Clone, Debug)]
pub struct SeedGroup {
    /// Share of all seeds, –.
    pub share: f64,
    /// Charges each carries as it leaves the classifier; 0 where the distribution was given.
    pub charge: u8,
    /// Gauss rule of the distribution in ln d: (ln of the compact diameter in m, weight); weights sum to 1, nodes rise.
    /// Nodes may coincide where the spread is nil.
    pub nodes: [(f64, f64); NODES],
    /// ln of the compact diameter (in m) at the probabilities (k + ½)/QUANTILES, rising.
    pub quantiles: [f64; QUANTILES],
}

/// A tube furnace with what enters at its inlet.
#[derive(Clone, Debug)]
pub struct Stage {
    /// Name.
    pub name: String<200>,
    /// Inner diameter of the tube, m.
    pub diameter: f64,
    /// Heated length, m.
    pub length: f64,
    /// Whether the gas flows upwards.
    pub upward: bool,
    /// Whether the seeds are dealt anew over the core at this inlet; false in the first stage.
    pub mixed: bool,
    /// Whether the velocity is the isothermal parabola instead of the developed flow.
    pub parabolic: bool,
    /// Gas temperature at the inlet, K.
    pub inlet: f64,
    /// Wall temperature along z.
    pub wall: Wall,
    /// Molar flow of everything in this stage, mol/s: what came from above and what is added here.
    pub flow: f64,
    /// Share f of that flow that carries the seeds: aerosol over total; at most 0.95.
    pub core_share: f64,
    /// Molar flow of each species added at this inlet, mol/s.
    pub fed: [f64; SPECIES],
}

/// What is ordered, in SI.
#[derive(Clone, Debug)]
pub struct Order {
    /// Mean tip diameter, m.
    pub diameter: f64,
    /// Half-width of what is accepted of it, m.
    pub diameter_tolerance: f64,
    /// Largest coefficient of variation of the whole length that is accepted, if judged.
    pub spread_cv: Option<f64>,
    /// One entry a stage; `None` for a stage that is to grow nothing counted.
    pub segments: Vec<Option<OrderSegment>, STAGES>,
    /// Wires wanted: as given, or area over pitch².
    pub wires: Option<f64>,
}

/// One ordered segment.
#[derive(Clone, Copy, Debug)]
pub struct OrderSegment {
    /// Length, m.
    pub length: f64,
    /// Half-width of what is accepted of its mean, m.
    pub tolerance: f64,
    /// Doping wanted.
    pub doping: Doping,
    /// Net carriers, 1/m³: for p and n wanted within a factor of 2, for i the most allowed.
    pub carriers: f64,
}

/// Kind of doping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doping {
    /// Acceptors outweigh.
    P,
    /// Donors outweigh.
    N,
    /// Undoped.
    I,
}

/// Something the operator should know although the job is not refused.
#[derive(Clone, Debug, PartialEq)]
pub struct Warning {
    /// Path of the field or of the figure that it concerns.
    pub path: String<96>,
    /// One sentence.
    pub text: String<240>,
}
