//! What the march saw that the operator should know.

use super::Pair;
use crate::number::{Share, whole};
use crate::report::{Report, Stage, Warning};
use core::fmt::Write;
use heapless::String;

/// Pe of heat below which conduction along the tube, left out of the model, moves the growth.
const PECLET: f64 = 20.0;
/// Re above which a tube is no longer surely laminar.
const REYNOLDS: f64 = 2000.0;
/// Change of the axis velocity against the parabola from which buoyancy is named.
const AXIS: f64 = 0.1;
/// Loss of wall shear from which buoyancy is named.
const SHEAR: f64 = 0.5;
/// Difference of `inlet_c` and what arrives, K, from which it is named.
const INLET: f64 = 50.0;
/// Share of group III left at the outlet, below which the stage is starved.
const STARVED: f64 = 0.05;

impl<const R: usize, const P: usize, const S: usize, const Q: usize, const C: usize, const N: usize>
    Pair<'_, R, P, S, Q, C, N>
{
    /// Adds the warnings that come from the march.
    pub(super) fn warn(&self, report: &mut Report) {
        for n in 0..self.line.stages.len() {
            let Some(stage) = report.stages.get(n) else { return };
            let mut found: heapless::Vec<Warning, 10> = heapless::Vec::new();
            let mut say = |field: &str, text: core::fmt::Arguments<'_>| {
                let mut warning = Warning { path: String::new(), text: String::new() };
                // Both have room for the sentences of this file.
                let _ = write!(warning.path, "stages[{n}]{field}");
                let _ = warning.text.write_fmt(text);
                let _ = found.push(warning);
            };
            flow(stage, &mut say);
            self.gas(n, stage, &mut say);
            self.seeds_lost(n, &mut say);
            for warning in found {
                report.warn(warning);
            }
        }
    }

    fn gas(&self, n: usize, stage: &Stage, say: &mut dyn FnMut(&str, core::fmt::Arguments<'_>)) {
        let Some(line) = self.line.stages.get(n) else { return };
        let inlet = crate::units::celsius(line.inlet);
        let off = inlet - stage.inlet.mixed_c;
        if off.abs() > INLET && n > 0 {
            let kind = if off > 0.0 { "hotter" } else { "cooler" };
            say(
                ".inlet_c",
                format_args!(
                    "{} °C is {} K {kind} than the gas that arrives: it needs a mixer that brings it there",
                    whole(inlet),
                    whole(off.abs())
                ),
            );
        }
        if let Some(group_iii) = stage.balance.first()
            && group_iii.entered_umol_per_min > 0.0
            && group_iii.leaving < STARVED
        {
            say(".feeds", format_args!("starved: only {} of the group III leaves the stage", Share(group_iii.leaving)));
        }
        if self.fine.stages.get(n).is_some_and(|record| record.strained) {
            say(
                ".feeds",
                format_args!(
                    "doping reaches its limit, or group III is spent while wires grow: the doping there is not to be relied on"
                ),
            );
        }
    }

    fn seeds_lost(&self, n: usize, say: &mut dyn FnMut(&str, core::fmt::Arguments<'_>)) {
        if let Some(record) = self.fine.stages.get(n) {
            let lost = record.flying.iter().filter(|flies| !**flies).count();
            if lost > 0 {
                say("", format_args!("{lost} of {Q} seed paths reach the wall: their wires are lost and not counted"));
            }
        }
    }
}

fn flow(stage: &Stage, say: &mut dyn FnMut(&str, core::fmt::Arguments<'_>)) {
    let flow = &stage.flow;
    if flow.peclet_heat < PECLET {
        say(
            ".flow.peclet_heat",
            format_args!(
                "Pe of heat {} is under 20: conduction along the tube, left out, may change the growth by some 2 %",
                whole(flow.peclet_heat)
            ),
        );
    }
    if flow.reynolds > REYNOLDS {
        say(".flow.reynolds", format_args!("Re {} is above 2000: the flow may not be laminar", whole(flow.reynolds)));
    }
    let axis = (1.0 - flow.axis_velocity.least).max(flow.axis_velocity.most - 1.0);
    let shear = 1.0 - flow.least_wall_shear;
    if axis > AXIS || shear > SHEAR {
        say(
            ".flow.grashof_over_reynolds",
            format_args!(
                "buoyant: the axis velocity is off the parabola by up to {} %, wall shear down to {} %",
                whole(axis * 100.0),
                whole(flow.least_wall_shear * 100.0)
            ),
        );
    }
}
