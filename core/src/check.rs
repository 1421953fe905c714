//! A job is checked into a line: every fault of it is named at once, or nothing optional is left.
//!
//! Takes a [`Job`], as it was written, and gives a [`Line`], in SI, with every number inside its range, so that what
//! marches the line need not ask. Numbers that no reader of texts could have let pass, NaN and infinity, are refused like
//! any other.
//!
//! The way through a job is that of its file. For each part the numbers are held against their rows in [`table`], then
//! the part's own rules are asked where its numbers allow it; only a job without a fault is filled into a line.
//!
//! Rules where the format leaves a choice:
//!
//! * Fractions of a carrier sum to 1 within 1e-6, and are then scaled to sum to 1 exactly.
//! * A classifier's outer radius is at least 0.1 mm above its inner one, and less aerosol than sheath flows through it.
//! * A measured profile rises by at least 0.001 mm from point to point. Zones shorter than half a blend, at the ends of a
//!   tube, are accepted unless the wall would leave the range of wall temperatures.
//! * Some stage feeds a group III precursor, all the same one; the first stage has at least one feed. Group V may be absent:
//!   nothing grows then, which the prediction shows.
//! * `mixed` at the first stage changes nothing: there is nothing yet to deal anew.
//! * What vapour the walls take on the way is not known before the march: the flow of a later stage is all that was added.
//! * A bath picks up at most 100 000 sccm, the most of any flow.
//! * `line_c` given: the vapour as it leaves the bath (behind `push_sccm`, if there is one) must not be above saturation
//!   there, which without a push means a line no colder than the bath. `line_c` left out: 22 °C is an assumption, so it is
//!   refused only where the vapour would condense even in all the gas that is added at the inlet; where it would condense
//!   undiluted, the line warns.
//! * The aerosol's share of a stage's flow is named at that stage's `carrier_sccm`.
//! * An order may name neither wires nor an area.
//! * A collector without a kind is a plate. A plate needs its area, gap, voltage and the charge of a wire; fields of
//!   another kind are refused.
//! * A path in `limits` or `full_scale_sccm` must be a set-point that the job has; fields that an entry leaves out come
//!   from the default of its kind.
//! * A price is named by precursor, carrier gas or `Au`, and is either for a gram or for a litre.
//! * A memory length or a collection length of 0 is taken as 1e-6 diameters or 1e-3 nm, since it divides.
//!
//! Covered by `tests/tests/job_file.rs`.

pub mod bound;
mod fill;
mod gas;
mod rates;
mod seeds;
mod settings;
mod stages;
pub mod table;
mod warn;

use crate::fault::{Fault, Faults, Typed};
use crate::job::{Fractions, Job};
use crate::line::Line;
use bound::Bound;
use core::fmt::{Arguments, Display};

/// Checks a job into a line.
///
/// # Errors
/// All faults of the job, each with the path of its field, the value as typed and what is accepted. None of them can be of
/// structure: those are found as the job is read.
#[allow(clippy::result_large_err, reason = "faults are listed where no heap is; a line is as large")]
pub fn check(job: &Job) -> Result<Line, Faults> {
    let mut checker = Checker { job, faults: Faults::new() };
    checker.line();
    let seeds = checker.seeds();
    let gas = checker.stages();
    checker.rates();
    checker.settings();
    match (checker.faults.is_empty(), seeds, gas) {
        (true, Some(seeds), Some(gas)) => fill::line(job, seeds, &gas),
        // A part that could not be resolved has said why.
        _ => Err(checker.faults),
    }
}

/// A job under check, and what is wrong with it so far.
struct Checker<'j> {
    job: &'j Job,
    faults: Faults,
}

impl Checker<'_> {
    /// Notes a fault.
    fn fault(&mut self, path: Arguments<'_>, value: impl Display, reason: impl Display, accepted: impl Display) {
        self.faults.push(Fault::new(path, value, reason, accepted));
    }

    /// Holds a number against its row.
    ///
    /// Returns whether it is accepted.
    fn number(&mut self, path: Arguments<'_>, value: f64, bound: &Bound) -> bool {
        match bound.objection(value) {
            Some(reason) => {
                self.fault(path, Typed(value), reason, bound);
                false
            }
            None => true,
        }
    }

    /// Holds a number that may be left out against its row.
    ///
    /// Returns whether it is accepted or left out.
    fn optional(&mut self, path: Arguments<'_>, value: Option<f64>, bound: &Bound) -> bool {
        value.is_none_or(|value| self.number(path, value, bound))
    }

    /// Notes that a field is missing.
    fn missing(&mut self, path: Arguments<'_>, accepted: impl Display) {
        self.fault(path, "", "is missing", accepted);
    }

    /// What holds for the whole line.
    fn line(&mut self) {
        self.carrier(format_args!("carrier"), &self.job.carrier);
        self.number(format_args!("pressure_mbar"), self.job.pressure_mbar, &table::PRESSURE);
        self.number(format_args!("aerosol_sccm"), self.job.aerosol_sccm, &table::AEROSOL_FLOW);
    }

    /// Mole fractions that sum to 1.
    ///
    /// Returns whether they do.
    fn carrier(&mut self, path: Arguments<'_>, fractions: &Fractions) -> bool {
        let mut good = true;
        for (name, share) in fractions.named() {
            good &= self.optional(format_args!("{path}.{name}"), share, &table::SHARE);
        }
        let sum: f64 = fractions.shares().iter().sum();
        if good && (sum - 1.0).abs() > gas::SUM_TOLERANCE {
            self.fault(
                path,
                "",
                format_args!("has fractions that sum to {}", Typed(sum)),
                "mole fractions that sum to 1",
            );
            good = false;
        }
        good
    }
}
