//! The rows, one a figure of the report, in the order of its JSON.
//!
//! Columns: path, symbol, name, unit, equation, inputs, range, source, section of the model. No arithmetic here.

mod line;
mod spread;
mod stage;
mod wires;

use super::Row;

/// All rows, in the order of the report.
pub fn rows() -> impl Iterator<Item = &'static Row> {
    let groups: [&'static [Row]; 16] = [
        line::REFUSED,
        line::NUMERICS,
        line::SEEDS,
        &spread::SEED_DIAMETER,
        &spread::WIRE_DIAMETER,
        stage::STAGE,
        &spread::SEED_RESIDENCE,
        &spread::HOT_RESIDENCE,
        stage::PROFILE,
        stage::BALANCE,
        &spread::LENGTH,
        &spread::TIP,
        &spread::BASE,
        &spread::SEGMENT,
        wires::WIRES,
        line::ANSWER,
    ];
    groups.into_iter().flatten()
}
