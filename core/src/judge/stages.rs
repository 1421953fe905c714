//! The stages of a report.

use super::{NM, Pair, UMOL_PER_MIN, amount, both, both_amounts, unsheathed};
use crate::flow::depth_of_share;
use crate::line::{Part, SPECIES, STAGES, Stage as LineStage};
use crate::material::GOLD_DENSITY;
use crate::report::{Column, Drift, Extremes, Flow, Profile, Report, Residence, Stage, StageBalance, StageSeeds};
use crate::root::sqrt;
use crate::seed;
use crate::units::{AVOGADRO, GAS_CONSTANT, SCCM, celsius};
use core::f64::consts::PI;
use heapless::Vec;

impl<const R: usize, const P: usize, const S: usize, const Q: usize, const C: usize, const N: usize>
    Pair<'_, R, P, S, Q, C, N>
{
    /// One entry a stage.
    pub(super) fn stages(&self, report: &mut Report) {
        for (n, stage) in self.line.stages.iter().enumerate().take(STAGES) {
            let Some(out) = report.stages.add() else { return };
            out.name = stage.name.clone();
            out.flow = self.flow(n, stage);
            out.drift_mm = self.drift(n);
            out.residence_s = self.residence(n);
            self.inlet(n, stage, out);
            self.profile(n, stage, &mut out.profile);
            out.seeds = self.seeds_of(n);
            self.balance_of(n, out);
        }
    }

    fn flow(&self, n: usize, stage: &LineStage) -> Flow {
        let line = self.line;
        let radius = 0.5 * stage.diameter;
        let mean_wall = both!(self, |h| h.stages[n].mean_wall);
        let molar_density = line.pressure / (GAS_CONSTANT * mean_wall);
        let mass_density = molar_density * line.carrier.molar_mass();
        let viscosity = line.carrier.viscosity(mean_wall);
        let velocity = stage.flow / (molar_density * PI * radius * radius);
        let reynolds = mass_density * velocity * stage.diameter / viscosity;
        // c_p is molar: Pr = μ (c_p/M)/k
        let prandtl = viscosity * line.carrier.molar_heat_capacity(mean_wall)
            / (line.carrier.molar_mass() * line.carrier.conductivity(mean_wall));
        let ratio = both!(self, |h| h.stages[n].grashof_over_reynolds(line, radius, stage.flow));
        Flow {
            total_sccm: stage.flow / SCCM,
            aerosol_share: stage.core_share,
            core_radius_mm: radius * sqrt(depth_of_share(stage.core_share)) * 1e3,
            mean_velocity_m_per_s: velocity,
            reynolds,
            prandtl,
            peclet_heat: reynolds * prandtl,
            grashof_over_reynolds: ratio,
            richardson: ratio / reynolds,
            least_wall_shear: both_amounts!(self, |h| h.stages[n].least_shear),
            axis_velocity: Extremes {
                least: both_amounts!(self, |h| h.stages[n].axis_velocity[0]),
                most: both_amounts!(self, |h| h.stages[n].axis_velocity[1]),
            },
            entrance_hydraulic_mm: (0.6 / (1.0 + 0.035 * reynolds) + 0.056 * reynolds) * stage.diameter * 1e3,
            entrance_thermal_mm: 0.05 * reynolds * prandtl * stage.diameter * 1e3,
        }
    }

    fn drift(&self, n: usize) -> Drift {
        let exit = N - 1;
        Drift {
            largest: both!(self, |h| h.stages[n].drift) * 1e3,
            at_exit: both!(self, |h| {
                h.stages[n].trace.streamline_radius[exit] - h.stages[n].trace.core_radius[exit]
            }) * 1e3,
            brownian_mm: both!(self, |h| sqrt(2.0 * h.over_paths(&h.stages[n].spread))) * 1e3,
        }
    }

    fn residence(&self, n: usize) -> Residence {
        let line = self.line;
        // Stage 0 stands for the group: one table, with the positions of this stage's core.
        let time = self.fit(
            &self.coarse.gather(line, n..n + 1, |s, p, _| self.coarse.stages[s.min(STAGES - 1)].time[p]),
            &self.fine.gather(line, n..n + 1, |s, p, _| self.fine.stages[s.min(STAGES - 1)].time[p]),
        );
        let hot = self.fit(
            &self.coarse.gather(line, n..n + 1, |s, p, _| self.coarse.stages[s.min(STAGES - 1)].hot_time[p]),
            &self.fine.gather(line, n..n + 1, |s, p, _| self.fine.stages[s.min(STAGES - 1)].hot_time[p]),
        );
        Residence {
            mean_gas: both!(self, |h| h.stages[n].gas_time),
            shortest: both!(self, |h| h.stages[n].axis_time),
            seeds: time.spread(1.0),
            hot_seeds: hot.spread(1.0),
        }
    }

    fn inlet(&self, n: usize, stage: &LineStage, out: &mut Stage) {
        let line = self.line;
        out.inlet.mixed_c = celsius(both!(self, |h| h.stages[n].mixed_inlet));
        let partial = |s: usize| line.pressure / stage.flow * both_amounts!(self, |h| h.stages[n].entered[s]);
        let group_iii = partial(0) + partial(1);
        out.inlet.group_iii_pa = group_iii;
        for (s, species) in line.species.iter().enumerate().take(SPECIES) {
            match species.part {
                Part::Parent | Part::Fragment => {}
                Part::GroupV => out.inlet.group_v_pa += partial(s),
                Part::Dopant => {
                    let over = (group_iii > 0.0).then(|| partial(s) / group_iii);
                    // As many entries as dopants.
                    let _ = out.inlet.dopant_pa.insert(species.name.clone(), partial(s));
                    let _ = out.inlet.dopant_iii.insert(species.name.clone(), over);
                }
            }
        }
        out.inlet.v_iii = (group_iii > 0.0).then(|| out.inlet.group_v_pa / group_iii);
    }

    fn profile(&self, n: usize, stage: &LineStage, out: &mut Profile) {
        let line = self.line;
        // (mol/s m)/(m) × volume of a mole of pairs: m/s of deposit; 3.6e9 µm/h in a m/s.
        let thickness = line.material.pair_volume() * AVOGADRO / (PI * stage.diameter) * 3.6e9;
        for i in 0..N {
            let column = |column: &mut Column, value: f64| {
                // N is at most the room of a column, else the last stations are left out.
                let _ = column.push(value);
            };
            column(&mut out.z_mm, self.fine.stages[n].trace.z[i] * 1e3);
            column(&mut out.wall_c, celsius(self.fine.stages[n].trace.wall[i]));
            column(&mut out.axis_c, celsius(both!(self, |h| h.stages[n].trace.axis[i])));
            column(&mut out.seeds_c, celsius(both!(self, |h| h.stages[n].trace.seeds[i])));
            column(&mut out.bulk_c, celsius(both!(self, |h| h.stages[n].trace.bulk[i])));
            column(&mut out.core_radius_mm, both_amounts!(self, |h| h.stages[n].trace.core_radius[i]) * 1e3);
            column(
                &mut out.streamline_radius_mm,
                both_amounts!(self, |h| h.stages[n].trace.streamline_radius[i]) * 1e3,
            );
            column(&mut out.seed_time_s, both_amounts!(self, |h| h.stages[n].trace.time[i]));
            column(&mut out.group_iii_pa_axis, both_amounts!(self, |h| h.stages[n].trace.group_iii[i]));
            column(&mut out.fragment_pa_axis, both_amounts!(self, |h| h.stages[n].trace.fragment[i]));
            column(&mut out.group_v_pa_axis, both_amounts!(self, |h| h.stages[n].trace.group_v[i]));
            column(&mut out.rate_um_per_s_axis, both_amounts!(self, |h| h.stages[n].trace.rate[i]) * 1e6);
            column(&mut out.length_nm_mean, both_amounts!(self, |h| h.stages[n].trace.length[i]) * NM);
            column(&mut out.wall_deposit_um_per_h, both_amounts!(self, |h| h.stages[n].trace.deposit[i]) * thickness);
            let (mut radius, mut left) = (Vec::new(), Vec::new());
            for ring in 0..S {
                let _ = radius.push(self.fine.stages[n].trace.ring_radius[i][ring] * 1e3);
                let share = self.fine.stages[n].trace.left[i][ring];
                let _ = left.push(amount(share, share));
            }
            let _ = out.group_iii_left.r_mm.push(radius);
            let _ = out.group_iii_left.share.push(left);
        }
    }

    fn seeds_of(&self, n: usize) -> StageSeeds {
        let line = self.line;
        let rate = line.seeds.rate;
        let entered = both_amounts!(self, |h| h.single(n, 0));
        let left = both_amounts!(self, |h| h.single(n, 1));
        // Shares of the seeds of stage 1, taken to those that entered here.
        let lost = |k: usize| {
            let gone = both_amounts!(self, |h| {
                h.over_paths(&h.stages[n.min(STAGES - 1)].lost[1][k.min(1)])
                    - h.over_paths(&h.stages[n.min(STAGES - 1)].lost[0][k.min(1)])
            });
            if entered > 0.0 { gone / entered } else { 0.0 }
        };
        let mean_wall = both!(self, |h| h.stages[n].mean_wall);
        let viscosity = line.carrier.viscosity(mean_wall);
        let diameter = line.seeds.median_diameter;
        let slip = seed::slip_correction(2.0 * line.carrier.mean_free_path(mean_wall, line.pressure) / diameter);
        StageSeeds {
            per_s_in: rate * entered,
            per_s_out: rate * left,
            coagulated_share: lost(0),
            dispersed_share: lost(1),
            unsheathed_wall_share: both_amounts!(self, |h| unsheathed(h.stages[n].exposure)),
            settling_mm_per_s: seed::settling(diameter, GOLD_DENSITY, viscosity, slip) * 1e3,
        }
    }

    fn balance_of(&self, n: usize, out: &mut Stage) {
        for (s, species) in self.line.species.iter().enumerate().take(SPECIES) {
            if species.part == Part::Fragment {
                continue;
            }
            let sum =
                |values: &[f64; SPECIES]| values.get(s).copied().unwrap_or(0.0) + if s == 0 { values[1] } else { 0.0 };
            let entered = both_amounts!(self, |h| sum(&h.stages[n].entered));
            let part = |value: f64| if entered > 0.0 { value / entered } else { 0.0 };
            let in_wires = part(both_amounts!(self, |h| sum(&h.stages[n].in_wires)));
            let on_wall = part(both_amounts!(self, |h| sum(&h.stages[n].on_wall)));
            let leaving = part(both_amounts!(self, |h| sum(&h.stages[n].outlet)));
            let closure = if entered > 0.0 { in_wires + on_wall + leaving - 1.0 } else { 0.0 };
            // SPECIES entries are room for all.
            let _ = out.balance.push(StageBalance {
                species: species.name.clone(),
                entered_umol_per_min: entered * UMOL_PER_MIN,
                in_wires,
                on_wall,
                leaving,
                closure,
            });
        }
    }
}
