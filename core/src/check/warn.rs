//! What the operator should know although a job is not refused.
//!
//! Only what the job alone tells: warnings of flow and growth are made where those are known.

use super::gas::{Added, Condensing, Gas, condensing};
use super::rates::{group_iii, is_fed};
use crate::fault::{Typed, cut};
use crate::job::{Job, SetPoint, Velocity, default};
use crate::kinetics::{Number, OfDopant, Origin, Shared, is_dopant};
use crate::line::{Stage, Warning};
use crate::units::kelvin;
use core::fmt::Display;
use heapless::Vec;

/// Most warnings of set-points: room is left for those of flow and growth.
const SET_POINTS: usize = 16;
/// Step from the inlet's gas to the wall there above which the layer at the wall may turn the flow, K.
const HOT_FLANGE: f64 = 50.0;
/// Mole fraction of N2 in the classifier below which the charge fit is outside its gas.
const NITROGEN: f64 = 0.95;
/// Relative difference of the two aerosol flows that is rounding.
const ROUNDING: f64 = 1e-6;

/// Most warnings of a line.
pub(super) const WARNINGS: usize = 48;

/// Warnings of a job that has no fault.
pub(super) fn warnings(job: &Job, gas: &Gas, stages: &[Stage]) -> Vec<Warning, WARNINGS> {
    let mut warnings = Warnings { list: Vec::new() };
    warnings.kinetics(job);
    warnings.classifier(job);
    warnings.flanges(job, stages);
    warnings.lines(job, &gas.stages);
    warnings.set_points(job);
    warnings.list
}

struct Warnings {
    list: Vec<Warning, WARNINGS>,
}

impl Warnings {
    /// Adds a warning; one that finds no room is one of very many.
    fn add(&mut self, path: impl Display, text: impl Display) {
        let _ = self.list.push(Warning { path: cut(path), text: cut(text) });
    }

    /// Numbers that come from the built-in set.
    fn kinetics(&mut self, job: &Job) {
        let group_iii = group_iii(job);
        let counts = |number: &Number| match number {
            Number::Shared(Shared::DopantProbability) => needs_shared_probability(job),
            Number::Shared(_) => true,
            Number::Dopant(dopant, _) => is_fed(job, *dopant),
        };
        let built_in = |number: &Number| matches!(number.value(job, group_iii), Some((_, Origin::BuiltIn)));
        let mut used = Number::all().filter(counts).filter(built_in);
        let Some(first) = used.next() else {
            return;
        };
        let others = used.count();
        let text = "built-in kinetics are illustrative; calibrate before use";
        match others {
            0 => self.add("kinetics", format_args!("{text} (1 number: {first})")),
            _ => self.add("kinetics", format_args!("{text} ({} numbers, the first {first})", others + 1)),
        }
    }

    fn classifier(&mut self, job: &Job) {
        let Some(classifier) = &job.classifier else {
            return;
        };
        let sccm = 1000.0 * classifier.aerosol_slm;
        if (sccm - job.aerosol_sccm).abs() > ROUNDING * job.aerosol_sccm {
            self.add(
                "classifier.aerosol_slm",
                format_args!(
                    "{} sccm leave the classifier and {} sccm enter the first stage",
                    Typed(sccm),
                    Typed(job.aerosol_sccm)
                ),
            );
        }
        let carrier = classifier.carrier.unwrap_or(job.carrier);
        if carrier.n2.unwrap_or(0.0) < NITROGEN {
            self.add(
                "classifier.carrier",
                "charge fractions are fitted to the ions of air and nitrogen; in another gas the share of multiply charged \
                 seeds may differ",
            );
        }
    }

    /// Walls that are much warmer at the inlet than the gas.
    fn flanges(&mut self, job: &Job, stages: &[Stage]) {
        for (index, (stage, resolved)) in job.stages.iter().zip(stages).enumerate() {
            let step = resolved.wall.temperature(0.0) - kelvin(stage.inlet_c);
            if step <= HOT_FLANGE || stage.velocity == Some(Velocity::Parabolic) {
                continue;
            }
            let field = match (&stage.zones, stage.blend() > 0.0) {
                (Some(_), true) => "flange_c",
                (Some(_), false) => "zones[0].wall_c",
                (None, _) => "profile[0].wall_c",
            };
            self.add(
                format_args!("stages[{index}].{field}"),
                format_args!(
                    "the wall is {} K warmer than the gas at the inlet: the thin warm layer there may turn the flow, and its entrance is \
                     judged too strictly",
                    Typed::near(step, 0)
                ),
            );
        }
    }

    /// Lines behind a bath whose coldest place is not known.
    fn lines(&mut self, job: &Job, added: &[Added]) {
        for (index, (stage, added)) in job.stages.iter().zip(added).enumerate() {
            for (number, feed) in stage.feeds.iter().enumerate() {
                let Some(bubbler) = &feed.bubbler else {
                    continue;
                };
                if condensing(job, feed, bubbler, Some(added.total())) == Condensing::Perhaps {
                    self.add(
                        format_args!("stages[{index}].feeds[{number}].bubbler.line_c"),
                        format_args!(
                            "{} from a bath at {} °C condenses undiluted in a line at {} °C, as is assumed; state line_c",
                            feed.precursor.name(),
                            Typed(bubbler.bath_c),
                            Typed(default::LINE_C)
                        ),
                    );
                }
            }
        }
    }

    /// Set-points that their instrument cannot be set to.
    fn set_points(&mut self, job: &Job) {
        let off = |point: &SetPoint| {
            let value = point.value(job).zip(job.range(*point));
            value.is_some_and(|(value, range)| !range.holds(value)) && is_typed(job, *point)
        };
        for (count, point) in SetPoint::of(job).filter(off).enumerate() {
            let Some((value, range)) = point.value(job).zip(job.range(point)) else {
                continue;
            };
            if count == SET_POINTS {
                self.add(point, "this and further set-points cannot be set exactly under the limits");
                return;
            }
            self.add(
                point,
                format_args!(
                    "{} {} cannot be set: {} to {} in steps of {}",
                    Typed(value),
                    point.kind().unit(),
                    Typed(range.min),
                    Typed(range.max),
                    Typed(range.step)
                ),
            );
        }
    }
}

/// Whether a set-point stands in the file; a flange that follows its inlet is not set by itself.
fn is_typed(job: &Job, point: SetPoint) -> bool {
    match point {
        SetPoint::Flange(index) => job.stages.get(usize::from(index)).is_some_and(|stage| stage.flange_c.is_some()),
        _ => true,
    }
}

/// Whether a dopant that is fed has no wall probability of its own.
fn needs_shared_probability(job: &Job) -> bool {
    Number::all().any(|number| match number {
        Number::Dopant(dopant, OfDopant::WallProbability) => {
            is_dopant(dopant) && is_fed(job, dopant) && number.value(job, None).is_none()
        }
        _ => false,
    })
}
