//! Rows of the spreads: eight a quantity.

use super::super::Input::{Each, Figure, Setting};
use super::super::{Row, setting};

/// The eight rows of a spread: path, symbol, name, unit, how the quantity is found, range, source, section, and what stands
/// in the mean.
macro_rules! spread {
    ($(#[$doc:meta])* $id:ident, $path:tt, $symbol:literal, $name:literal, $unit:literal, $found:literal,
     $range:literal, $source:literal, $section:literal, $($from:expr),*) => {
        $(#[$doc])*
        pub(super) static $id: [Row; 8] = [
            Row {
                inputs: &[$($from),*],
                ..part!($path, "mean", $symbol, "mean", "mean of the ", $name, $unit,
                    "x̄ = Σ w x", $found, $range, $source, $section)
            },
            part!($path, "sd", $symbol, "sd", "standard deviation of the ", $name, $unit,
                "s = sqrt(Σ w (x − x̄)²)", $found, $range, $source, $section),
            part!($path, "cv", $symbol, "cv", "coefficient of variation of the ", $name, "–",
                "cv = s/x̄", $found, $range, $source, $section),
            part!($path, "p05", $symbol, "5 %", "5th percentile of the ", $name, $unit,
                "the x below which 5 % of the weights lie", $found, $range, $source, $section),
            part!($path, "p25", $symbol, "25 %", "25th percentile of the ", $name, $unit,
                "the x below which 25 % of the weights lie", $found, $range, $source, $section),
            part!($path, "p50", $symbol, "50 %", "median of the ", $name, $unit,
                "the x below which half of the weights lie", $found, $range, $source, $section),
            part!($path, "p75", $symbol, "75 %", "75th percentile of the ", $name, $unit,
                "the x below which 75 % of the weights lie", $found, $range, $source, $section),
            part!($path, "p95", $symbol, "95 %", "95th percentile of the ", $name, $unit,
                "the x below which 95 % of the weights lie", $found, $range, $source, $section),
        ];
    };
}

/// One of them.
macro_rules! part {
    ($path:tt, $field:tt, $symbol:literal, $mark:literal, $words:literal, $name:literal, $unit:literal,
     $equation:literal, $found:literal, $range:literal, $source:literal, $section:literal) => {
        Row {
            path: concat!($path, ".", $field),
            symbol: concat!($symbol, " (", $mark, ")"),
            name: concat!($words, $name),
            unit: $unit,
            equation: concat!($equation, "; ", $found),
            inputs: inputs!($path, $field),
            range: $range,
            source: $source,
            section: $section,
        }
    };
}

/// A standard deviation and a coefficient of variation rest on the others; the rest on the population.
macro_rules! inputs {
    ($path:tt, "cv") => {
        &[Figure(concat!($path, ".sd")), Figure(concat!($path, ".mean"))]
    };
    ($path:tt, $field:tt) => {
        &[]
    };
}

spread! {
    /// Compact diameter of the seeds.
    SEED_DIAMETER, "seeds.diameter_nm", "d_seed", "compact seed diameter", "nm",
    "x = d_mobility/shape factor over all seed classes, w their share; behind a classifier the passed distribution",
    "log-normal, geometric standard deviation 1 to 2.5; behind a classifier up to six charges",
    "log-normal: Hinds 1999, ch. 4; classifier: Stolzenburg 1988", "2, seed aerosol",
    Setting(&setting::MEDIAN_SEED)
}

spread! {
    /// Diameter of the wire that each seed grows.
    WIRE_DIAMETER, "seeds.wire_diameter_nm", "d", "wire diameter", "nm",
    "(π d³/24)(2 − 3 cos β + cos³β)/sin³β = (π d_seed³/6)[1 + x_sat/(1 − x_sat) · V_III/V_Au], w the seeds' share",
    "spherical cap with β above 90°; ideal mixing of the volumes",
    "geometry of a spherical cap; molar volumes of the liquids", "6, a wire grows",
    Figure("seeds.diameter_nm.mean"), Setting(&setting::CONTACT_ANGLE), Setting(&setting::GROUP_III_SHARE)
}

spread! {
    /// Residence time of the seeds.
    SEED_RESIDENCE, "stages[].residence_s.seeds", "t", "residence time of the seeds", "s",
    "x = ∫dz/u on each seed path, w the seeds on it",
    "laminar; a core share f of the flow below 0.95",
    "developed flow of section 4; moments of a core share as check", "4, flow in a stage",
    Setting(&setting::TUBE_LENGTH), Figure("stages[].flow.mean_velocity_m_per_s"), Figure("stages[].residence_s.mean_gas")
}

spread! {
    /// Residence time of the seeds where it is hot.
    HOT_RESIDENCE, "stages[].residence_s.hot_seeds", "t_hot", "time of the seeds where it is hot", "s",
    "x = ∫dz/u where exp(−E_a/R T) is at least half of its largest on that path, w the seeds on it",
    "as the residence time; E_a of the axial rate",
    "definition of this report", "4, flow in a stage",
    Figure("stages[].residence_s.seeds.mean"), Setting(&setting::AXIAL_ACTIVATION)
}

spread! {
    /// Length of the whole wire.
    LENGTH, "wires.length_nm", "L", "length of the whole wire", "nm",
    "dΛ/dt = v, L = max(0, Λ − Λ_inc), 1/v = 1/v_kin + 1/v_sup on each path and class; w the wires on it; in a ring of paths (L_out − L_in)²/12 is added to the variance",
    "kinetics as calibrated: without lots of your own they are illustrative",
    "kinetic rate: Givargizov 1975; supply: Fuchs & Sutugin 1970; two grids extrapolated", "7, what comes out",
    Each("wires.segments[].length_nm.mean")
}

spread! {
    /// Diameter at the tip.
    TIP, "wires.diameter_nm.tip", "d_tip", "diameter under the seed", "nm",
    "x = d of each class, w its share",
    "spherical cap with β above 90°",
    "geometry of a spherical cap; molar volumes of the liquids", "6, a wire grows",
    Figure("seeds.diameter_nm.mean"), Setting(&setting::CONTACT_ANGLE), Setting(&setting::GROUP_III_SHARE)
}

spread! {
    /// Diameter at the base.
    BASE, "wires.diameter_nm.base", "d_base", "diameter at the base", "nm",
    "x = d + 2 ∫v_rad dt since growth began, v_rad = v_rad,ref exp(−(E_rad/R)(1/T − 1/T_ref)) (p_III/p_III,ref) · V/III bracket, w the wires",
    "thin shells: no facets",
    "rate law of the model, calibrated on tapers", "6, a wire grows",
    Figure("wires.diameter_nm.tip.mean"), Setting(&setting::RADIAL_RATE), Setting(&setting::RADIAL_ACTIVATION)
}

spread! {
    /// Length of a segment.
    SEGMENT, "wires.segments[].length_nm", "L_k", "length of the segment", "nm",
    "what grows in stage k on each path and class, w the wires on it",
    "kinetics as calibrated: without lots of your own they are illustrative",
    "kinetic rate: Givargizov 1975; supply: Fuchs & Sutugin 1970; two grids extrapolated", "7, what comes out",
    Setting(&setting::AXIAL_RATE), Setting(&setting::AXIAL_ACTIVATION), Figure("stages[].residence_s.hot_seeds.mean"), Figure("stages[].inlet.group_iii_pa"), Setting(&setting::STICKING), Setting(&setting::COLLECTION_LENGTH)
}
