//! Constants, and the borders between trade units and SI.
//!
//! Inside the core every number is SI. Trade units (°C, sccm, mbar, nm) stand only in the job file, in the report and on
//! a screen, and cross here.
//!
//! Sources: exact constants of the SI (2019 revision, CODATA 2018); standard flow at 273.15 K and 101 325 Pa (SEMI E12).

/// Boltzmann constant, J/K (exact).
pub const BOLTZMANN: f64 = 1.380_649e-23;
/// Avogadro constant, 1/mol (exact).
pub const AVOGADRO: f64 = 6.022_140_76e23;
/// Molar gas constant, J/(mol K) (exact: the product of the two above).
pub const GAS_CONSTANT: f64 = 8.314_462_618_153_24;
/// Elementary charge, C (exact).
pub const ELEMENTARY_CHARGE: f64 = 1.602_176_634e-19;
/// Electric constant, F/m (CODATA 2018).
pub const VACUUM_PERMITTIVITY: f64 = 8.854_187_812_8e-12;
/// Standard acceleration of gravity, m/s² (exact by convention).
pub const GRAVITY: f64 = 9.80665;
/// 0 °C, K (exact).
pub const ZERO_CELSIUS: f64 = 273.15;
/// Standard pressure of flow controllers, Pa (SEMI E12).
pub const STANDARD_PRESSURE: f64 = 101_325.0;
/// Molar flow of one sccm, mol/s: 1e-6 m³ a minute at 273.15 K and 101 325 Pa, 7.4358e-7.
pub const SCCM: f64 = 1e-6 / 60.0 * STANDARD_PRESSURE / (GAS_CONSTANT * ZERO_CELSIUS);
/// One Torr, Pa: 101 325/760.
pub const TORR: f64 = STANDARD_PRESSURE / 760.0;
/// One mbar, Pa.
pub const MBAR: f64 = 100.0;

/// Kelvin from °C.
#[must_use]
pub const fn kelvin(celsius: f64) -> f64 {
    celsius + ZERO_CELSIUS
}

/// °C from kelvin.
#[must_use]
pub const fn celsius(kelvin: f64) -> f64 {
    kelvin - ZERO_CELSIUS
}
