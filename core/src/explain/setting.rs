//! Numbers of the line that stand in equations, in the units in which people set them.

use crate::line::{Line, Stage};
use crate::units::{MBAR, SCCM, celsius};

/// A number of the line.
#[derive(Clone, Copy, Debug)]
pub struct Setting {
    /// Symbol of the model.
    pub symbol: &'static str,
    /// What it is, in words.
    pub name: &'static str,
    /// Unit.
    pub unit: &'static str,
    /// Its value in a line; the number is the stage, where it has one. `None` where it does not apply.
    pub value: fn(&Line, usize) -> Option<f64>,
}

/// Places at which the wall temperature is averaged.
const PLACES: u32 = 256;

/// Length-average of the wall temperature, K, by the midpoint rule.
fn wall_mean(stage: &Stage) -> f64 {
    let step = stage.length / f64::from(PLACES);
    let sum: f64 = (0..PLACES).map(|place| stage.wall.temperature((f64::from(place) + 0.5) * step)).sum();
    sum / f64::from(PLACES)
}

/// A value of a stage.
fn of(line: &Line, stage: usize, value: fn(&Stage) -> f64) -> Option<f64> {
    line.stages.get(stage).map(value)
}

/// A property of the carrier at the length-average of a stage's wall temperature.
fn property(line: &Line, stage: usize, value: fn(&Line, f64) -> f64) -> Option<f64> {
    line.stages.get(stage).map(|stage| value(line, wall_mean(stage)))
}

/// Names, symbols and units of the settings, a row each.
macro_rules! settings {
    ($($id:ident, $symbol:literal, $name:literal, $unit:literal, $value:expr;)*) => {
        $(
            #[doc = concat!($symbol, ", ", $name, ", ", $unit, ".")]
            pub static $id: Setting = Setting { symbol: $symbol, name: $name, unit: $unit, value: $value };
        )*
    };
}

settings! {
    PRESSURE, "p", "pressure", "mbar", |line, _| Some(line.pressure / MBAR);
    MOLAR_MASS, "M", "molar mass of the carrier", "g/mol", |line, _| Some(line.carrier.molar_mass() * 1e3);
    AEROSOL, "Q_a", "aerosol flow", "sccm", |line, _| Some(line.aerosol / SCCM);
    TUBE_DIAMETER, "2R", "tube diameter", "mm", |line, stage| of(line, stage, |stage| stage.diameter * 1e3);
    TUBE_LENGTH, "ℓ", "heated length", "mm", |line, stage| of(line, stage, |stage| stage.length * 1e3);
    INLET, "T_in", "gas at the inlet", "°C", |line, stage| of(line, stage, |stage| celsius(stage.inlet));
    WALL_MEAN, "T̄_w", "length-average of the wall", "°C", |line, stage| of(line, stage, |stage| celsius(wall_mean(stage)));
    VISCOSITY, "μ", "viscosity at T̄_w", "µPa s",
        |line, stage| property(line, stage, |line, warm| line.carrier.viscosity(warm) * 1e6);
    KINEMATIC, "ν", "kinematic viscosity at T̄_w", "cm²/s",
        |line, stage| property(line, stage, |line, warm| {
            line.carrier.viscosity(warm) / line.carrier.mass_density(warm, line.pressure) * 1e4
        });
    CONDUCTIVITY, "k", "heat conductivity at T̄_w", "mW/m K",
        |line, stage| property(line, stage, |line, warm| line.carrier.conductivity(warm) * 1e3);
    HEAT_CAPACITY, "c_p", "molar heat capacity at T̄_w", "J/mol K",
        |line, stage| property(line, stage, |line, warm| line.carrier.molar_heat_capacity(warm));
    MEDIAN_SEED, "d_seed", "median compact seed diameter", "nm", |line, _| Some(line.seeds.median_diameter * 1e9);
    SEED_RATE, "n_s", "seeds per second", "1/s", |line, _| Some(line.seeds.rate);
    REFERENCE_TEMPERATURE, "T_ref", "reference temperature", "°C", |line, _| Some(celsius(line.growth.reference_temperature));
    REFERENCE_GROUP_III, "p_III,ref", "reference group III", "Pa", |line, _| Some(line.growth.reference_group_iii);
    REFERENCE_V_III, "q_ref", "reference V/III", "–", |line, _| Some(line.growth.reference_v_iii);
    REFERENCE_DIAMETER, "d_ref", "reference diameter", "nm", |line, _| Some(line.growth.reference_diameter * 1e9);
    AXIAL_RATE, "v_ref", "axial rate at the reference", "µm/s", |line, _| Some(line.growth.axial_rate * 1e6);
    AXIAL_ACTIVATION, "E_a", "activation energy of the axial rate", "kJ/mol", |line, _| Some(line.growth.axial_activation * 1e-3);
    GROUP_III_ORDER, "a", "order in group III", "–", |line, _| Some(line.growth.group_iii_order);
    V_III_HALF, "q_half", "V/III at half of the rate", "–", |line, _| Some(line.growth.v_iii_half);
    CRITICAL_DIAMETER, "d_c", "critical diameter", "nm", |line, _| Some(line.growth.critical_diameter * 1e9);
    STICKING, "α", "sticking probability", "–", |line, _| Some(line.growth.sticking);
    COLLECTION_LENGTH, "λ_s", "collection length of the sidewall", "nm", |line, _| Some(line.growth.collection_length * 1e9);
    RADIAL_RATE, "v_rad,ref", "radial rate at the reference", "nm/s", |line, _| Some(line.growth.radial_rate * 1e9);
    RADIAL_ACTIVATION, "E_rad", "activation energy of the radial rate", "kJ/mol", |line, _| Some(line.growth.radial_activation * 1e-3);
    GROUP_III_SHARE, "x_sat", "group III share of the filled seed", "–", |line, _| Some(line.growth.group_iii_share);
    CONTACT_ANGLE, "β", "contact angle", "°", |line, _| Some(line.growth.contact_angle * 180.0 / core::f64::consts::PI);
    PYROLYSIS_FREQUENCY, "A", "frequency of the pyrolysis", "1/s", |line, _| Some(line.growth.pyrolysis_frequency);
    PYROLYSIS_ACTIVATION, "E", "activation energy of the pyrolysis", "kJ/mol", |line, _| Some(line.growth.pyrolysis_activation * 1e-3);
    PAIR_VOLUME, "Ω", "volume of a III–V pair", "nm³", |line, _| Some(line.material.pair_volume() * 1e27);
    WIRES_WANTED, "N", "wires ordered", "–", |line, _| line.order.as_ref().and_then(|order| order.wires);
}
