//! Seeds: how they move, how they are charged, what the classifier lets through, and what is lost on the way.
//!
//! Takes a diameter or a source of diameters, and the gas around it; gives the coefficients and the size groups with which
//! the first stage begins. In the order of the material's way: [`charge`] (bipolar equilibrium in the neutraliser),
//! [`classifier`] (the sizes that pass), [`population`] (a size distribution as nodes and quantiles), [`mod@mobility`] (motion of
//! one seed in the gas), [`loss`] (what the cloud loses on the way).
//!
//! Inner functions rely on what [`crate::line::Line`] proved: finite numbers, diameters and viscosities above 0.

pub mod charge;
pub mod classifier;
pub mod loss;
pub mod mobility;
pub mod population;

pub use charge::charge_fraction;
pub use loss::{coagulation_coefficient, dispersion_coefficient, penetration};
pub use mobility::{diffusion, mobility, settling, slip_correction, thermophoretic_coefficient};
pub use population::normal_quantile;
