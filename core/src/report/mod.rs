//! What a prediction answers, in trade units: the report.
//!
//! A harvest is judged into a [`Report`]; the page, the command line and the tests show the same one. It takes nothing
//! but figures: the sentences come from [`crate::verdict`], [`crate::caution`] and [`crate::explain`].
//!
//! Fields carry their unit in their name. A figure that does not apply is `None` and is written as `null`; a length of 0
//! is a figure. Serialised, a report is the JSON of the format [`FORMAT`].
//!
//! A report is large (some 400 kB), so it is never returned by value: whoever owns it calls [`Report::clear`] and has it
//! filled in place. [`Slots`] and [`Given`] hold the large parts for that.
//!
//! | in code | meaning |
//! | --- | --- |
//! | [`Slots`] | up to `N` large parts, one after the other, each filled where it stands |
//! | [`Given`] | a large part that is there or is `null` |
//! | [`Named`] | figures by the name of a precursor, a JSON object in the order in which they were put in |
//!
//! Not here yet: most of the plant, the junction and the chance of the verdict; they are left out or `null`.
//!
//! Covered by the tests of this module and by `tests/tests/words.rs`.

pub mod figure;
mod part;
mod wires;

pub use figure::{figure, figures};
pub use part::{Clear, Given, Named, Slots};
pub use wires::{
    Along, Carriers, Diameter, DopantAlong, Histogram, PopulationRow, Segment, SpreadFrom, Transition, Wires, letter,
};

use crate::caution::Caution;
use crate::line::{DOPANTS, SPECIES, STAGES};
use crate::verdict::Verdict;
use heapless::{String, Vec};
use serde::Serialize;

/// The format of a report.
pub const FORMAT: &str = "wire-growth-report/1";
/// Most stations of a profile, the inlet among them.
pub const STATIONS: usize = 101;
/// Most rings of a profile.
pub const RINGS: usize = 24;
/// Most bins of a histogram.
pub const BINS: usize = 64;
/// Most points along the mean wire.
pub const ALONG: usize = STAGES * STATIONS;
/// Most rows of the population: groups of kept stages times paths times classes.
pub const POPULATION: usize = 6 * 8 * 18;
/// Most warnings: those of the line and those of the prediction.
pub const WARNINGS: usize = 64;
/// Most cautions.
pub const CAUTIONS: usize = 16;

/// The report of one prediction.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    /// Always [`FORMAT`].
    pub format: &'static str,
    /// Where the gas turns back, if it does; then no other figure is given.
    pub refused: Option<Refused>,
    /// What the operator should know although the job is not refused.
    pub warnings: Vec<Warning, WARNINGS>,
    /// Grids and numerical errors.
    pub numerics: Option<Numerics>,
    /// Seeds as they enter the first stage.
    pub seeds: Option<Seeds>,
    /// One entry a stage, in the order of flow.
    pub stages: Slots<Stage, STAGES>,
    /// Where each species went over the whole line.
    pub balance: Vec<LineBalance, SPECIES>,
    /// The wires that leave.
    pub wires: Given<Wires>,
    /// The line as a plant.
    pub plant: Option<Plant>,
    /// The junction of the wires; not predicted yet.
    pub junction: Option<Junction>,
    /// The order against the wires; `None` where the job has no order.
    pub verdict: Option<Verdict>,
    /// Hazards that this job calls for.
    pub cautions: Vec<Caution, CAUTIONS>,
}

impl Report {
    /// An empty report, to be filled in place.
    #[must_use]
    // Made once, at compile time where it can be, and then filled where it stands.
    #[allow(clippy::large_stack_arrays)]
    pub const fn new() -> Self {
        Self {
            format: FORMAT,
            refused: None,
            warnings: Vec::new(),
            numerics: None,
            seeds: None,
            stages: Slots::new([const { Stage::new() }; STAGES]),
            balance: Vec::new(),
            wires: Given::new(Wires::new()),
            plant: None,
            junction: None,
            verdict: None,
            cautions: Vec::new(),
        }
    }

    /// Takes every figure out, without moving the report.
    pub fn clear(&mut self) {
        self.refused = None;
        self.warnings.clear();
        self.cautions.clear();
        self.clear_figures();
    }

    /// Takes the figures out and leaves warnings and cautions: what a refused report is.
    pub fn clear_figures(&mut self) {
        self.numerics = None;
        self.seeds = None;
        self.stages.clear();
        self.balance.clear();
        self.wires.clear();
        self.plant = None;
        self.junction = None;
        self.verdict = None;
    }

    /// Adds a warning; a full list drops it.
    pub fn warn(&mut self, warning: Warning) {
        // A full list already tells more than anybody reads; the first ones are the ones that count.
        let _ = self.warnings.push(warning);
    }
}

impl Default for Report {
    fn default() -> Self {
        Self::new()
    }
}

/// Where and why no prediction is made.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Refused {
    /// Path of the stage.
    pub path: String<96>,
    /// Where the gas turns back, mm from the inlet.
    pub z_mm: f64,
    /// At which radius.
    pub at: At,
    /// Gr/Re of that section: wall less axis, properties at the flow-mean temperature there.
    pub grashof_over_reynolds: f64,
    /// One sentence.
    pub text: String<240>,
}

/// Radius at which gas turns back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum At {
    /// At the wall.
    Wall,
    /// On the axis.
    Axis,
    /// Between the two.
    Between,
}

/// Something the operator should know although the job is not refused.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Warning {
    /// Path of the field or of the figure that it concerns.
    pub path: String<96>,
    /// One sentence.
    pub text: String<240>,
}

impl From<&crate::line::Warning> for Warning {
    fn from(warning: &crate::line::Warning) -> Self {
        Self { path: warning.path.clone(), text: warning.text.clone() }
    }
}

/// Grids and numerical errors.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Numerics {
    /// Rings of the finer grid, core and sheath.
    pub rings: u32,
    /// Stations a stage of the finer grid.
    pub stations: u32,
    /// Seed-size classes, over all charges.
    pub classes: u32,
    /// A third of the difference of the two grids' mean lengths.
    pub length_error_nm: f64,
    /// Worst closure of a species' balance, of what was fed.
    pub balance_error: f64,
    /// What the wires hold against what the gas lost to them, less 1.
    pub wires_against_gas: f64,
}

/// A quantity over all wires (or seeds), weighted by their number.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Spread {
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub sd: f64,
    /// Coefficient of variation sd/mean, –; `None` where the mean is 0.
    pub cv: Option<f64>,
    /// 5th percentile.
    pub p05: f64,
    /// 25th percentile.
    pub p25: f64,
    /// Median.
    pub p50: f64,
    /// 75th percentile.
    pub p75: f64,
    /// 95th percentile.
    pub p95: f64,
}

impl Spread {
    /// Nothing spread about nothing: mean, deviation and percentiles 0, no coefficient of variation.
    #[must_use]
    pub const fn new() -> Self {
        Self { mean: 0.0, sd: 0.0, cv: None, p05: 0.0, p25: 0.0, p50: 0.0, p75: 0.0, p95: 0.0 }
    }
}

/// Seeds as they enter the first stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Seeds {
    /// Compact diameter.
    pub diameter_nm: Spread,
    /// Share with more than one charge, of what a classifier passes; `None` without one.
    pub multiply_charged_share: Option<f64>,
    /// Diameter of the wire that a seed of each size grows.
    pub wire_diameter_nm: Spread,
    /// Share of the source's particles that the classifier passes; `None` without one.
    pub passed_share: Option<f64>,
    /// Number density in the aerosol flow at 273.15 K and 1013.25 mbar.
    pub concentration_per_cm3: f64,
    /// Mean number of charges of one sign.
    pub charges: f64,
    /// Mobility diameter of one charge at the centroid mobility; `None` without a classifier.
    pub selected_nm: Option<f64>,
    /// Centroid mobility; `None` without a classifier.
    pub centroid_mobility_m2_per_v_s: Option<f64>,
}

/// One stage.
#[derive(Clone, Debug, Serialize)]
pub struct Stage {
    /// Name as in the job.
    pub name: String<200>,
    /// How the gas flows.
    pub flow: Flow,
    /// How far the seeds drift across the streamlines.
    pub drift_mm: Drift,
    /// How long gas and seeds stay.
    pub residence_s: Residence,
    /// The mixed gas at the inlet.
    pub inlet: Inlet,
    /// Figures along the tube.
    pub profile: Profile,
    /// The seeds' way through the stage.
    pub seeds: StageSeeds,
    /// Where each species went.
    pub balance: Vec<StageBalance, SPECIES>,
}

impl Stage {
    /// An empty stage.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            name: String::new(),
            flow: Flow::new(),
            drift_mm: Drift { largest: 0.0, at_exit: 0.0, brownian_mm: 0.0 },
            residence_s: Residence { mean_gas: 0.0, shortest: 0.0, seeds: Spread::new(), hot_seeds: Spread::new() },
            inlet: Inlet::new(),
            profile: Profile::new(),
            seeds: StageSeeds::new(),
            balance: Vec::new(),
        }
    }
}

impl Default for Stage {
    fn default() -> Self {
        Self::new()
    }
}

impl Clear for Stage {
    fn clear(&mut self) {
        self.name.clear();
        self.flow = Flow::new();
        self.drift_mm = Drift::default();
        self.residence_s = Residence::default();
        self.inlet.clear();
        self.profile.clear();
        self.seeds = StageSeeds::new();
        self.balance.clear();
    }
}

/// How the gas flows; properties at the length-average of the wall temperature.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Flow {
    /// All gas in the stage.
    pub total_sccm: f64,
    /// Share of it that carries the seeds.
    pub aerosol_share: f64,
    /// Radius of the core that carries the seeds, at the inlet.
    pub core_radius_mm: f64,
    /// Velocity, mean over the area.
    pub mean_velocity_m_per_s: f64,
    /// Re.
    pub reynolds: f64,
    /// Pr.
    pub prandtl: f64,
    /// Pe of heat.
    pub peclet_heat: f64,
    /// Gr/Re, with the largest difference of wall and axis on the way.
    pub grashof_over_reynolds: f64,
    /// Gr/Re².
    pub richardson: f64,
    /// Least wall shear over that of the isothermal parabola.
    pub least_wall_shear: f64,
    /// Velocity on the axis over that of the isothermal parabola.
    pub axis_velocity: Extremes,
    /// Length over which the velocity profile forms.
    pub entrance_hydraulic_mm: f64,
    /// Length over which the temperature profile forms.
    pub entrance_thermal_mm: f64,
}

impl Flow {
    /// All figures 0.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            total_sccm: 0.0,
            aerosol_share: 0.0,
            core_radius_mm: 0.0,
            mean_velocity_m_per_s: 0.0,
            reynolds: 0.0,
            prandtl: 0.0,
            peclet_heat: 0.0,
            grashof_over_reynolds: 0.0,
            richardson: 0.0,
            least_wall_shear: 0.0,
            axis_velocity: Extremes { least: 0.0, most: 0.0 },
            entrance_hydraulic_mm: 0.0,
            entrance_thermal_mm: 0.0,
        }
    }
}

/// Least and most along a stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Extremes {
    /// Least.
    pub least: f64,
    /// Most.
    pub most: f64,
}

/// Drift of the seeded core's edge, inwards.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Drift {
    /// Largest on the way.
    pub largest: f64,
    /// At the exit.
    pub at_exit: f64,
    /// What diffusion would spread a wire by in the stage; not counted.
    pub brownian_mm: f64,
}

/// How long gas and seeds stay in a stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Residence {
    /// Moles in the tube over the molar flow.
    pub mean_gas: f64,
    /// Of the quickest gas, on the axis.
    pub shortest: f64,
    /// Of the seeds on their paths.
    pub seeds: Spread,
    /// The part of it where the kinetic rate is at least half of its largest on that path.
    pub hot_seeds: Spread,
}

/// The mixed gas at a stage's inlet.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Inlet {
    /// Enthalpy mean of what arrives, added gas at 25 °C.
    pub mixed_c: f64,
    /// Group III, parent and fragment.
    pub group_iii_pa: f64,
    /// Group V.
    pub group_v_pa: f64,
    /// V/III; `None` without group III.
    pub v_iii: Option<f64>,
    /// Dopants.
    pub dopant_pa: Named<f64, DOPANTS>,
    /// Dopants over group III; an entry is `None` without group III.
    pub dopant_iii: Named<Option<f64>, DOPANTS>,
}

impl Inlet {
    /// All figures 0.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            mixed_c: 0.0,
            group_iii_pa: 0.0,
            group_v_pa: 0.0,
            v_iii: None,
            dopant_pa: Named::new(),
            dopant_iii: Named::new(),
        }
    }
}

impl Clear for Inlet {
    fn clear(&mut self) {
        self.mixed_c = 0.0;
        self.group_iii_pa = 0.0;
        self.group_v_pa = 0.0;
        self.v_iii = None;
        self.dopant_pa.clear();
        self.dopant_iii.clear();
    }
}

/// One number a station.
pub type Column = Vec<f64, STATIONS>;
/// One number a ring at each station.
pub type Field = Vec<Vec<f64, RINGS>, STATIONS>;

/// Figures along a tube; every column has one entry a station.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Profile {
    /// Station, from the inlet.
    pub z_mm: Column,
    /// Wall.
    pub wall_c: Column,
    /// Innermost ring.
    pub axis_c: Column,
    /// Gas on the median seed path.
    pub seeds_c: Column,
    /// Mean of the gas, weighted with the molar flow.
    pub bulk_c: Column,
    /// Radius of the seeded core.
    pub core_radius_mm: Column,
    /// Radius of the streamline on which the core's edge started.
    pub streamline_radius_mm: Column,
    /// Time since the inlet on the median seed path.
    pub seed_time_s: Column,
    /// Group III, parent and fragment, innermost ring.
    pub group_iii_pa_axis: Column,
    /// Fragment alone, innermost ring.
    pub fragment_pa_axis: Column,
    /// Group V, innermost ring.
    pub group_v_pa_axis: Column,
    /// Axial rate of a wire of the median class, innermost path.
    pub rate_um_per_s_axis: Column,
    /// Mean length of the wires so far, earlier stages included.
    pub length_nm_mean: Column,
    /// Thickness that the wall gains, counted as III–V pairs.
    pub wall_deposit_um_per_h: Column,
    /// Group III left in the gas.
    pub group_iii_left: GroupIiiLeft,
}

impl Profile {
    /// No station.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            z_mm: Vec::new(),
            wall_c: Vec::new(),
            axis_c: Vec::new(),
            seeds_c: Vec::new(),
            bulk_c: Vec::new(),
            core_radius_mm: Vec::new(),
            streamline_radius_mm: Vec::new(),
            seed_time_s: Vec::new(),
            group_iii_pa_axis: Vec::new(),
            fragment_pa_axis: Vec::new(),
            group_v_pa_axis: Vec::new(),
            rate_um_per_s_axis: Vec::new(),
            length_nm_mean: Vec::new(),
            wall_deposit_um_per_h: Vec::new(),
            group_iii_left: GroupIiiLeft { r_mm: Vec::new(), share: Vec::new() },
        }
    }

    /// The columns with their names, in the order in which they are written.
    #[must_use]
    pub fn columns(&self) -> [(&'static str, &Column); 14] {
        [
            ("z_mm", &self.z_mm),
            ("wall_c", &self.wall_c),
            ("axis_c", &self.axis_c),
            ("seeds_c", &self.seeds_c),
            ("bulk_c", &self.bulk_c),
            ("core_radius_mm", &self.core_radius_mm),
            ("streamline_radius_mm", &self.streamline_radius_mm),
            ("seed_time_s", &self.seed_time_s),
            ("group_iii_pa_axis", &self.group_iii_pa_axis),
            ("fragment_pa_axis", &self.fragment_pa_axis),
            ("group_v_pa_axis", &self.group_v_pa_axis),
            ("rate_um_per_s_axis", &self.rate_um_per_s_axis),
            ("length_nm_mean", &self.length_nm_mean),
            ("wall_deposit_um_per_h", &self.wall_deposit_um_per_h),
        ]
    }
}

impl Clear for Profile {
    fn clear(&mut self) {
        self.z_mm.clear();
        self.wall_c.clear();
        self.axis_c.clear();
        self.seeds_c.clear();
        self.bulk_c.clear();
        self.core_radius_mm.clear();
        self.streamline_radius_mm.clear();
        self.seed_time_s.clear();
        self.group_iii_pa_axis.clear();
        self.fragment_pa_axis.clear();
        self.group_v_pa_axis.clear();
        self.rate_um_per_s_axis.clear();
        self.length_nm_mean.clear();
        self.wall_deposit_um_per_h.clear();
        self.group_iii_left.r_mm.clear();
        self.group_iii_left.share.clear();
    }
}

/// Group III left in the gas, ring by ring at each station.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct GroupIiiLeft {
    /// Middle of the ring.
    pub r_mm: Field,
    /// Mole fraction there over that of the stage's inlet, parent and fragment.
    pub share: Field,
}

/// The seeds' way through a stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct StageSeeds {
    /// Single seeds that enter.
    pub per_s_in: f64,
    /// Single seeds or wires that leave.
    pub per_s_out: f64,
    /// Share of those that entered and met another.
    pub coagulated_share: f64,
    /// Share of those that entered and were driven out of the core by their charge.
    pub dispersed_share: f64,
    /// Share that would reach the wall without a sheath: a bound, not counted.
    pub unsheathed_wall_share: f64,
    /// Settling velocity of the median seed, with the flow counted positive downwards.
    pub settling_mm_per_s: f64,
}

impl StageSeeds {
    /// All figures 0.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            per_s_in: 0.0,
            per_s_out: 0.0,
            coagulated_share: 0.0,
            dispersed_share: 0.0,
            unsheathed_wall_share: 0.0,
            settling_mm_per_s: 0.0,
        }
    }
}

/// Where a species went in one stage, parent and fragment together; fractions of what entered the stage.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct StageBalance {
    /// Name of the precursor.
    pub species: String<8>,
    /// What entered: from the stage above and fed here.
    pub entered_umol_per_min: f64,
    /// Fraction in the wires.
    pub in_wires: f64,
    /// Fraction on the wall.
    pub on_wall: f64,
    /// Fraction that leaves with the gas.
    pub leaving: f64,
    /// The sum of the three, less 1.
    pub closure: f64,
}

/// Where a species went over the whole line, parent and fragment together; fractions of what was fed.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct LineBalance {
    /// Name of the precursor.
    pub species: String<8>,
    /// What was fed over all stages.
    pub fed_umol_per_min: f64,
    /// Fraction in the wires.
    pub in_wires: f64,
    /// Fraction on the walls.
    pub on_wall: f64,
    /// Fraction in the exhaust.
    pub exhaust: f64,
    /// The sum of the three, less 1.
    pub closure: f64,
}

/// The line as a plant; more of it comes with its capability.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Plant {
    /// Wires that leave single and in flight.
    pub wires_per_s: f64,
    /// Time for the ordered number of wires; `None` without one.
    pub run_time_h: Option<f64>,
}

/// The junction of the wires; there is none yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Junction {}
