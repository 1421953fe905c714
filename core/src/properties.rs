//! Gas and seed properties that depend on temperature alone, tabulated once a job.
//!
//! Takes the [`Line`], gives [`Properties`]: at any temperature between the coldest and the warmest wall or inlet of the
//! line, the properties that the march needs in every ring at every station. They are interpolated by the cubic through
//! the four nearest of [`NODES`] evenly spaced temperatures. Outside that range (where no gas can be) the ends are
//! extended by the same cubics.
//!
//! | symbol | in code | unit |
//! | --- | --- | --- |
//! | k | `conductivity` | W/(m K) |
//! | c_p | `heat_capacity` | J/(mol K) |
//! | μ | `viscosity` | Pa s |
//! | K_th ν | `thermophoresis` | m²/s |
//! | 2K | `coagulation` | m³/s |
//! | Z_q q e/ε0 | `dispersion` | m³/s |
//! | D of the median seed | `brownian` | m²/s |
//! | c D of a species | `diffusion` | mol/(m s) |
//! | α of a species | `thermal_diffusion` | – |
//!
//! Accuracy: the cubic is within 1e-6 of the formulas behind it (a unit test holds it to that, and it is far better
//! where c_p has no kink).

use crate::gas::Trace;
use crate::line::{Line, SPECIES};
use crate::material::{GOLD_CONDUCTIVITY, GOLD_DENSITY};
use crate::seed;
use crate::units::GAS_CONSTANT;

/// Nodes of the table.
pub const NODES: usize = 160;
/// Columns that are no species'.
const COMMON: usize = 7;
const COLUMNS: usize = COMMON + 2 * SPECIES;

/// A place in the table: where a temperature stands among the nodes, with the weights of the four nearest.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    node: usize,
    weight: [f64; 4],
}

/// The table.
#[derive(Clone, Debug)]
pub struct Properties {
    lowest: f64,
    per_kelvin: f64,
    column: [[f64; NODES]; COLUMNS],
}

impl Properties {
    /// An empty table, to be filled by [`Properties::fill`].
    #[must_use]
    #[allow(clippy::large_stack_arrays, reason = "made once, in place")]
    pub const fn new() -> Self {
        Self { lowest: 0.0, per_kelvin: 1.0, column: [[0.0; NODES]; COLUMNS] }
    }

    /// Fills the table for a line.
    pub fn fill(&mut self, line: &Line) {
        let (mut low, mut high) = (f64::MAX, f64::MIN);
        for stage in &line.stages {
            let (a, b) = stage.wall.range();
            low = low.min(a).min(stage.inlet);
            high = high.max(b).max(stage.inlet);
        }
        // A line of one temperature still needs a table of some width.
        let width = (high - low).max(8.0);
        let step = width / (NODES - 3) as f64;
        self.lowest = low - step;
        self.per_kelvin = 1.0 / step;
        for node in 0..NODES {
            let temperature = self.lowest + node as f64 * step;
            self.fill_node(line, node, temperature);
        }
    }

    fn fill_node(&mut self, line: &Line, node: usize, temperature: f64) {
        let gas = &line.carrier;
        let pressure = line.pressure;
        let diameter = line.seeds.median_diameter;
        let viscosity = gas.viscosity(temperature);
        let conductivity = gas.conductivity(temperature);
        let free_path = gas.mean_free_path(temperature, pressure);
        let slip = seed::slip_correction(2.0 * free_path / diameter);
        let mass_density = pressure * gas.molar_mass() / (GAS_CONSTANT * temperature);
        let thermophoretic = seed::thermophoretic_coefficient(diameter, free_path, conductivity / GOLD_CONDUCTIVITY);
        let brownian = seed::diffusion(temperature, diameter, viscosity, slip);
        let coagulation = seed::coagulation_coefficient(diameter, GOLD_DENSITY, temperature, brownian);
        let mobility = seed::mobility(line.seeds.charges, diameter, viscosity, slip);
        let common = [
            conductivity,
            gas.molar_heat_capacity(temperature),
            viscosity,
            if line.seeds.drift { thermophoretic * viscosity / mass_density } else { 0.0 },
            2.0 * coagulation,
            seed::dispersion_coefficient(mobility, line.seeds.charges),
            brownian,
        ];
        let molar_density = pressure / (GAS_CONSTANT * temperature);
        for (column, value) in self.column.iter_mut().zip(common) {
            column[node] = value;
        }
        for (s, species) in line.species.iter().enumerate() {
            let trace = Trace {
                molar_mass: species.molar_mass,
                collision_diameter: species.collision_diameter,
                well_depth: species.well_depth,
            };
            let alpha = if line.thermal_diffusion { trace.thermal_diffusion_factor(gas, temperature) } else { 0.0 };
            if let Some(column) = self.column.get_mut(COMMON + 2 * s) {
                column[node] = line.diffusion_factor * molar_density * trace.diffusion(gas, temperature, pressure);
            }
            if let Some(column) = self.column.get_mut(COMMON + 2 * s + 1) {
                column[node] = alpha;
            }
        }
    }

    /// Where a temperature (K) stands in the table.
    #[inline]
    #[must_use]
    pub fn place(&self, temperature: f64) -> Place {
        let position = (temperature - self.lowest) * self.per_kelvin;
        // A cast saturates and takes NaN to 0, so that the node is in the table whatever is asked.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "saturates, and is brought inside")]
        let node = (position as usize).clamp(1, NODES - 3);
        let t = position - node as f64;
        // Lagrange's weights of the nodes at −1, 0, 1, 2.
        let (a, b, c) = (t + 1.0, t - 1.0, t - 2.0);
        let weight = [-t * b * c / 6.0, a * b * c / 2.0, -a * t * c / 2.0, a * t * b / 6.0];
        Place { node, weight }
    }

    #[inline]
    fn read(column: &[f64; NODES], at: &Place) -> f64 {
        let n = at.node.clamp(1, NODES - 3);
        at.weight[0] * column[n - 1]
            + at.weight[1] * column[n]
            + at.weight[2] * column[n + 1]
            + at.weight[3] * column[n + 2]
    }

    /// Thermal conductivity of the carrier, W/(m K).
    #[inline]
    #[must_use]
    pub fn conductivity(&self, at: &Place) -> f64 {
        Self::read(&self.column[0], at)
    }

    /// Molar heat capacity of the carrier, J/(mol K).
    #[inline]
    #[must_use]
    pub fn heat_capacity(&self, at: &Place) -> f64 {
        Self::read(&self.column[1], at)
    }

    /// Viscosity of the carrier, Pa s.
    #[inline]
    #[must_use]
    pub fn viscosity(&self, at: &Place) -> f64 {
        Self::read(&self.column[2], at)
    }

    /// K_th ν of the median seed, m²/s; 0 where seeds are not to drift.
    #[inline]
    #[must_use]
    pub fn thermophoresis(&self, at: &Place) -> f64 {
        Self::read(&self.column[3], at)
    }

    /// 2K of the median seed, m³/s: a meeting takes two seeds.
    #[inline]
    #[must_use]
    pub fn coagulation(&self, at: &Place) -> f64 {
        Self::read(&self.column[4], at)
    }

    /// Z_q q e/ε0 of the median seed, m³/s.
    #[inline]
    #[must_use]
    pub fn dispersion(&self, at: &Place) -> f64 {
        Self::read(&self.column[5], at)
    }

    /// Diffusion coefficient of the median seed, m²/s.
    #[inline]
    #[must_use]
    pub fn brownian(&self, at: &Place) -> f64 {
        Self::read(&self.column[6], at)
    }

    /// c D of species `s` (below [`SPECIES`]), mol/(m s).
    #[inline]
    #[must_use]
    pub fn diffusion(&self, s: usize, at: &Place) -> f64 {
        self.column.get(COMMON + 2 * s).map_or(0.0, |column| Self::read(column, at))
    }

    /// Thermal diffusion factor α of species `s`, –.
    #[inline]
    #[must_use]
    pub fn thermal_diffusion(&self, s: usize, at: &Place) -> f64 {
        self.column.get(COMMON + 2 * s + 1).map_or(0.0, |column| Self::read(column, at))
    }
}

impl Default for Properties {
    fn default() -> Self {
        Self::new()
    }
}
