//! The set-points of a job: what the page's stepper rows and refusals need to know of each.

use loftwire_core::check::bound::Bound;
use loftwire_core::check::table;
use loftwire_core::job::{Job, Key, Kind, SetPoint};
use serde::Serialize;

/// What a checked job answers with.
#[derive(Serialize)]
pub struct SetPoints {
    set_points: Vec<Row>,
}

/// One set-point.
#[derive(Serialize)]
struct Row {
    /// Path of the field.
    path: String,
    /// Kind of its instrument, as in `limits`.
    kind: String,
    unit: &'static str,
    value: f64,
    /// What the instrument can be set to.
    min: f64,
    max: f64,
    step: f64,
    /// Whether it can be set to its value.
    settable: bool,
    /// Why it does not take more, or less; the limit is to follow.
    above: &'static str,
    below: &'static str,
    /// What a job may say at all, in words.
    accepted: String,
}

/// All set-points of a job, in the order of its file.
pub fn all(job: &Job) -> SetPoints {
    let row = |point: SetPoint| {
        let (value, range) = (point.value(job)?, job.range(point)?);
        Some(Row {
            path: point.to_string(),
            kind: point.kind().name().to_owned(),
            unit: point.kind().unit(),
            value,
            min: range.min,
            max: range.max,
            step: range.step,
            settable: range.holds(value),
            above: point.kind().objection(true),
            below: point.kind().objection(false),
            accepted: bound(point).to_string(),
        })
    };
    SetPoints { set_points: SetPoint::of(job).filter_map(row).collect() }
}

/// The row of the core's table by which a set-point is checked.
const fn bound(point: SetPoint) -> &'static Bound {
    match (point, point.kind()) {
        (SetPoint::Aerosol, _) => &table::AEROSOL_FLOW,
        (_, Kind::Flow) => &table::FLOW,
        (_, Kind::Bath) => &table::BATH,
        (_, Kind::Wall) => &table::TEMPERATURE,
        (_, Kind::Pressure) => &table::PRESSURE,
        (_, Kind::Voltage) => &table::VOLTAGE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftwire_core::check::check;

    const JOB: &str = include_str!("../../demo/jobs/three-stage.json");

    /// The bound that is told is the one that refuses.
    #[test]
    fn each_set_point_is_refused_in_the_words_that_were_told() {
        let job = loftwire_read::job(JOB).expect("the demo job can be read");
        for point in SetPoint::of(&job) {
            let mut wrong = job.clone();
            assert!(point.set(&mut wrong, -1e9));
            let faults = check(&wrong).expect_err("it is refused");
            let fault = faults.iter().find(|fault| *fault.path == *point.to_string()).expect("its path is named");
            assert_eq!(fault.accepted.as_str(), bound(point).to_string(), "{point}");
        }
    }

    #[test]
    fn every_set_point_of_the_demo_job_has_a_row() {
        let job = loftwire_read::job(JOB).expect("the demo job can be read");
        assert_eq!(all(&job).set_points.len(), SetPoint::of(&job).count());
    }
}
