//! Rows of `statistics.csv`: the normal and the log-normal distribution now; certified regressions, quantiles of counting
//! and budgets with what needs them.

use crate::checks::{Disagreement, Entry, Row};
use loftwire_core::seed::normal_quantile;

const FILE: &str = "statistics.csv";

const CLOSED: &str =
    "a closed form that the core does not hold: it forms means by three Gauss nodes, tested under the rows";

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "standard normal quantile", |row| Some(normal_quantile(row.number("p")?))),
    Entry::computed(FILE, "log-normal quantile", log_normal_quantile),
    Entry::orientation(FILE, "log-normal mean", CLOSED),
    Entry::orientation(FILE, "log-normal coefficient of variation", CLOSED),
    Entry::orientation(FILE, "Hatch-Choate moment median*", CLOSED),
    Entry::later(FILE, "certified parameter", "calibration"),
    Entry::later(FILE, "certified standard deviation of parameter", "calibration"),
    Entry::later(FILE, "certified residual sum of squares", "calibration"),
    Entry::later(FILE, "certified residual standard deviation", "calibration"),
    Entry::later(FILE, "degrees of freedom", "calibration"),
    Entry::later(FILE, "standard normal distribution function", "lot"),
    Entry::later(FILE, "Student t quantile", "lot"),
    Entry::later(FILE, "chi-square quantile", "lot"),
    Entry::later(FILE, "F quantile", "lot"),
    Entry::later(FILE, "least number to count*", "lot"),
    Entry::later(FILE, "mean", "lot"),
    Entry::later(FILE, "standard deviation", "lot"),
    Entry::later(FILE, "lower 95 % limit*", "lot"),
    Entry::later(FILE, "upper 95 % limit*", "lot"),
    Entry::later(FILE, "component of u_c(l), nm", "budget"),
    Entry::later(FILE, "combined standard uncertainty", "budget"),
    Entry::later(FILE, "result l", "budget"),
    Entry::later(FILE, "effective degrees of freedom, truncated", "budget"),
    Entry::later(FILE, "expanded uncertainty U_99", "budget"),
    Entry::later(FILE, "Welch-Satterthwaite", "budget"),
    Entry::later(FILE, "GUM and MCM*", "budget"),
    Entry::later(FILE, "MCM, four rectangular*", "budget"),
    Entry::later(FILE, "exact half width*", "budget"),
    Entry::later(FILE, "mass calibration*", "budget"),
    Entry::later(FILE, "relative uncertainty of Q = k p/sqrt(T)*", "budget"),
    Entry::later(FILE, "SplitMix64 output", "budget"),
    Entry::later(FILE, "PCG64 raw output*", "budget"),
    Entry::later(FILE, "Philox4x64-10 raw output*", "budget"),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[];

fn log_normal_quantile(row: &Row) -> Option<f64> {
    let spread = row.number("gsd")?.ln();
    Some(row.number("median")? * (spread * normal_quantile(row.number("p")?)).exp())
}

#[cfg(test)]
mod tests {
    use crate::checks::{Row, rows};
    use loftwire_core::seed::population::log_normal;

    /// Source: T319 and T326. Three nodes are exact to degree 5 in ln d, so the error is of the order of ln⁶ σ_g.
    #[test]
    fn three_nodes_give_the_mean_of_a_log_normal() {
        let mean = |row: &&Row| row.quantity == "log-normal mean";
        for row in rows().iter().filter(mean) {
            let (Some(median), Some(gsd), Some(want)) = (row.number("median"), row.number("gsd"), row.want()) else {
                panic!("{} cannot be read", row.id);
            };
            let got: f64 = log_normal(median, gsd).0.iter().map(|(logarithm, weight)| weight * logarithm.exp()).sum();
            let allowed = 0.01 * gsd.ln().powi(6) + 1e-10;
            assert!((got / want - 1.0).abs() < allowed, "{}: {got}, not {want}", row.id);
        }
    }
}
