//! The ranges of a job's numbers, one row a quantity.
//!
//! | column | holds |
//! | --- | --- |
//! | name | what is bounded |
//! | from, to | the range; both ends accepted unless the row says otherwise |
//! | unit | that of the field's name |
//!
//! Source: the ranges of the job file's format, version 1. Where it says no more than finite and not negative, the rows
//! [`AMOUNT`] and [`POSITIVE`] stand, the second where the number divides; both end at 1e30, so that products of
//! them stay finite.

use super::bound::{Bound, Ends, Floor, HUGE, TINY};

/// Pressure of the line and of a bath.
pub const PRESSURE: Bound = Bound::amount("pressure", 50.0, 2000.0, "mbar");
/// Pressure in the classifier.
pub const CLASSIFIER_PRESSURE: Bound = Bound::amount("pressure in the classifier", 500.0, 2000.0, "mbar");
/// Gas, wall and flange temperature.
pub const TEMPERATURE: Bound = Bound::temperature("gas, wall and flange temperature", -50.0, 1000.0);
/// Bath temperature.
pub const BATH: Bound = Bound::temperature("bath temperature", -40.0, 80.0);
/// Coldest place of the line behind a bath.
pub const LINE: Bound = Bound::temperature("line behind a bath", -40.0, 150.0);
/// Tube diameter.
pub const TUBE_DIAMETER: Bound = Bound::amount("tube diameter", 5.0, 200.0, "mm");
/// Zone length.
pub const ZONE_LENGTH: Bound = Bound::amount("zone length", 10.0, 2000.0, "mm");
/// Length over which zones blend.
pub const BLEND: Bound = Bound::amount("blend", 0.0, 500.0, "mm");
/// Length of a measured profile.
pub const PROFILE_LENGTH: Bound = Bound::amount("profile length", 10.0, 5000.0, "mm");
/// Any flow.
pub const FLOW: Bound = Bound::amount("flow", 0.0, 100_000.0, "sccm");
/// Flow that carries the seeds.
pub const AEROSOL_FLOW: Bound = Bound::amount("aerosol flow", 1.0, 100_000.0, "sccm");
/// Flow that divides: that of an electrometer.
pub const SIDE_FLOW: Bound = Bound::amount("side flow", TINY, 100_000.0, "sccm");
/// Sheath and aerosol flow of the classifier.
pub const CLASSIFIER_FLOW: Bound = Bound::amount("classifier flow", 0.01, 100.0, "slm");
/// Diameter of a seed, and of an ordered wire.
pub const DIAMETER: Bound = Bound::amount("diameter", 2.0, 500.0, "nm");
/// Geometric standard deviation.
pub const SPREAD: Bound = Bound::amount("geometric standard deviation", 1.0, 2.5, "");
/// Seeds in a volume of aerosol.
pub const CONCENTRATION: Bound = Bound::amount("concentration", 1.0, 1e9, "per cm³");
/// Mobility diameter over compact diameter.
pub const SHAPE_FACTOR: Bound = Bound::amount("shape factor", 0.5, 3.0, "");
/// Charges of a seed.
pub const CHARGES: Bound = Bound::amount("charges", 0.0, 10.0, "");
/// Radii of the classifier.
pub const RADIUS: Bound = Bound::amount("classifier radius", 1.0, 200.0, "mm");
/// Length of the classifier.
pub const CLASSIFIER_LENGTH: Bound = Bound::amount("classifier length", 5.0, 2000.0, "mm");
/// Voltage of the classifier.
pub const VOLTAGE: Bound = Bound::amount("classifier voltage", 1.0, 30_000.0, "V");
/// Ordered length and its tolerance.
pub const ORDERED_LENGTH: Bound = Bound::amount("ordered length and tolerance", 1.0, 1e6, "nm");
/// Carriers in an ordered segment.
pub const CARRIERS: Bound = Bound::amount("carriers", 1e12, 1e22, "per cm³");
/// Shares and probabilities.
pub const SHARE: Bound = Bound::amount("share or probability", 0.0, 1.0, "");
/// Orders of a rate.
pub const ORDER: Bound = Bound::amount("order of a rate", 0.0, 3.0, "");
/// Activation energies.
pub const ACTIVATION: Bound = Bound::amount("activation energy", 0.0, 600.0, "kJ/mol");
/// Activation energy of doping, which falls with temperature where it is negative.
pub const DOPING_ACTIVATION: Bound =
    Bound { name: "activation energy of doping", from: -600.0, floor: Floor::None, ..ACTIVATION };
/// Frequency of the pyrolysis.
pub const FREQUENCY: Bound = Bound::amount("frequency", 0.0, 1e25, "per s");
/// Group III share of the filled seed; all of it would leave no metal.
pub const FILLED_SHARE: Bound = Bound { name: "group III share of the filled seed", ends: Ends::BelowTo, ..SHARE };
/// Contact angle of the seed on the wire.
pub const CONTACT_ANGLE: Bound =
    Bound { name: "contact angle", from: 90.0, to: 180.0, ends: Ends::Between, unit: "°", floor: Floor::None };
/// Correlation coefficient.
pub const CORRELATION: Bound = Bound { name: "correlation", from: -1.0, floor: Floor::None, ..SHARE };
/// What is only said to be finite and not negative.
pub const AMOUNT: Bound = Bound::amount("amount", 0.0, HUGE, "");
/// The same where it divides.
pub const POSITIVE: Bound = Bound::amount("amount that divides", TINY, HUGE, "");
/// What may have either sign: ends of a limit.
pub const NUMBER: Bound = Bound { name: "number", from: -HUGE, floor: Floor::None, ..AMOUNT };

/// All rows, for documentation.
pub const BOUNDS: [&Bound; 34] = [
    &PRESSURE,
    &CLASSIFIER_PRESSURE,
    &TEMPERATURE,
    &BATH,
    &LINE,
    &TUBE_DIAMETER,
    &ZONE_LENGTH,
    &BLEND,
    &PROFILE_LENGTH,
    &FLOW,
    &AEROSOL_FLOW,
    &SIDE_FLOW,
    &CLASSIFIER_FLOW,
    &DIAMETER,
    &SPREAD,
    &CONCENTRATION,
    &SHAPE_FACTOR,
    &CHARGES,
    &RADIUS,
    &CLASSIFIER_LENGTH,
    &VOLTAGE,
    &ORDERED_LENGTH,
    &CARRIERS,
    &SHARE,
    &ORDER,
    &ACTIVATION,
    &DOPING_ACTIVATION,
    &FREQUENCY,
    &FILLED_SHARE,
    &CONTACT_ANGLE,
    &CORRELATION,
    &AMOUNT,
    &POSITIVE,
    &NUMBER,
];
