//! The whole jobs of `checks/jobs`, and where each figure of their solutions stands with us.
//!
//! To add a figure: a [`Row`] in [`ROWS`], `here` its path in the solution, `there` its path in the report; what the report
//! does not hold is computed from the harvests or from what was watched on the way.

use crate::compare::{At, Comparison, How, Kind, Leaf, Row, leaves};
use crate::prediction::{PathFigure, Prediction, value};
use crate::watched::{PLACES, SHARES, Watched, watch};
use loftwire_core::gas::Trace;
use loftwire_core::judge::extrapolated;
use loftwire_core::line::Part;
use loftwire_core::march::positions;
use loftwire_core::predict::RECORDS;
use loftwire_core::statistics::{Quantity, Shape, Wires};
use loftwire_core::units::SCCM;
use serde_json::Value;
use std::collections::BTreeMap;

macro_rules! solved {
    ($name:literal) => {
        (
            $name,
            include_str!(concat!("../checks/jobs/", $name, ".json")),
            include_str!(concat!("../checks/jobs/", $name, ".out.json")),
        )
    };
}
/// The solved jobs: name, job, solution.
pub const JOBS: [(&str, &str, &str); 6] = [
    solved!("example"),
    solved!("inas_single"),
    solved!("gaas_pn_n2h2"),
    solved!("up_flow_mixed"),
    solved!("classifier_population"),
    solved!("parabolic_no_drift"),
];

/// Later capabilities that rows wait for, each with the file or folder of `core/src` whose presence means that it is there.
pub const LATER: [(&str, &[&str]); 2] =
    [("plant", &["plant.rs", "plant"]), ("junction", &["material/junction.rs", "material/junction"])];

/// A solved job with our prediction of it.
pub struct Case {
    /// What we predict.
    pub prediction: Prediction,
    /// What was seen on the way.
    pub watched: Vec<Watched>,
    /// The job as it is written.
    pub job: Value,
}

impl Case {
    /// Predicts a job; to be called with room.
    ///
    /// # Panics
    /// If it cannot be predicted.
    #[must_use]
    pub fn new(name: &str, job: &str) -> Self {
        let prediction = Prediction::of(job).unwrap_or_else(|why| panic!("{name}: {why}"));
        let watched = watch(&prediction);
        let job = serde_json::from_str(job).unwrap_or_else(|why| panic!("{name}: {why}"));
        Self { prediction, watched, job }
    }

    fn report(&self, path: &str) -> Option<f64> {
        self.prediction.figure(path)
    }

    /// Number of a species in the line.
    #[must_use]
    pub fn species(&self, name: &str) -> Option<usize> {
        self.prediction.line.species.iter().position(|species| species.name == name)
    }

    fn stage(&self, n: usize) -> Option<&loftwire_core::line::Stage> {
        self.prediction.line.stages.get(n)
    }

    /// An entry of a balance of the report, by species.
    fn balance(&self, list: &str, species: &str, field: &str) -> Option<f64> {
        let entries = value(&self.prediction.report, list)?.as_array()?;
        entries.iter().find(|entry| entry["species"] == species)?[field].as_f64()
    }

    /// The column of a profile of the report at one of the places watched.
    fn profile(&self, at: &At, column: &str) -> Option<f64> {
        let record = at.place(1) * ((RECORDS - 1) / (PLACES - 1));
        self.report(&format!("stages[{}].profile.{column}[{record}]", at.place(0)))
    }

    /// The last entry of a column.
    fn outlet(&self, at: &At, column: &str) -> Option<f64> {
        self.report(&format!("stages[{}].profile.{column}[{}]", at.place(0), RECORDS - 1))
    }

    /// What became of a species in a stage: outlet, wall, wires, mol/s.
    fn went(&self, at: &At, to: usize) -> Option<f64> {
        let species = self.species(&at.name)?;
        Some(self.prediction.both(|grid| grid.went(at.place(0), species)[to]))
    }

    /// Time of seeds at one end of the core, as rings of the solution's grids put their paths: the last ring's middle comes
    /// nearer to the core's edge the more rings there are, so its time on their two grids is extrapolated as they do.
    fn end_time(&self, stage: usize, last: bool) -> Option<f64> {
        let f = self.stage(stage)?.core_share;
        let place = |ends: [f64; 2]| if last { ends[1] } else { ends[0] };
        let (few, many) = (positions::<12>(f), positions::<24>(f));
        let (few, many) = (place([few[0], few[11]]), place([many[0], many[23]]));
        let coarse = &self.prediction.coarse.harvest.stages[stage];
        let fine = &self.prediction.fine.harvest.stages[stage];
        let at = |psi: f64| {
            let coarse = parabola(&positions::<4>(f), &coarse.time, psi, last);
            extrapolated(coarse, parabola(&positions::<8>(f), &fine.time, psi, last))
        };
        Some(extrapolated(at(few), at(many)))
    }

    /// A percentile of the whole length, nm: the shape of the fine grid about the report's mean and deviation.
    fn percentile(&self, percent: f64) -> Option<f64> {
        let named = self.report(&format!("wires.length_nm.p{percent:02}"));
        if named.is_some() {
            return named;
        }
        let (line, harvest) = (&self.prediction.line, &self.prediction.fine.harvest);
        let (mut tables, mut at) = (Vec::new(), Vec::new());
        for (stage, record) in line.stages.iter().zip(&harvest.stages) {
            if tables.is_empty() || stage.mixed {
                tables.push(record.length);
                at.push(record.position);
            } else if let Some(table) = tables.last_mut() {
                let sums = table.iter_mut().flatten().zip(record.length.iter().flatten());
                sums.for_each(|(sum, length)| *sum += length);
            }
        }
        let shape = Shape::of(&Wires::of(line, harvest), &Quantity { groups: &tables, position: &at });
        let (mean, deviation) = (self.report("wires.length_nm.mean")?, self.report("wires.length_nm.sd")?);
        Some(mean + (shape.percentile(percent / 100.0) - shape.mean) * deviation / shape.deviation)
    }

    /// Moments of the seeds' time over all stages, s.
    fn whole_time(&self) -> (f64, f64) {
        let line = &self.prediction.line;
        let stages = 0..line.stages.len();
        let mean = self.prediction.both(|grid| grid.moments(line, stages.clone(), PathFigure::Time).mean);
        let deviation =
            self.prediction.both(|grid| grid.moments(line, stages.clone(), PathFigure::Time).variance.sqrt());
        (mean, deviation)
    }

    /// Pe of a species: U 2R/D at the length-average of the wall temperature.
    fn peclet_mass(&self, at: &At) -> Option<f64> {
        let line = &self.prediction.line;
        let (stage, species) = (self.stage(at.place(0))?, line.species.get(self.species(&at.name)?)?);
        let trace = Trace {
            molar_mass: species.molar_mass,
            collision_diameter: species.collision_diameter,
            well_depth: species.well_depth,
        };
        let temperature = self.prediction.both(|grid| grid.mean_wall(at.place(0)));
        let velocity = self.report(&format!("stages[{}].flow.mean_velocity_m_per_s", at.place(0)))?;
        Some(velocity * stage.diameter / trace.diffusion(&line.carrier, temperature, line.pressure))
    }

    /// Mole fractions of parent and fragment apart at an inlet, as partial pressures.
    fn inlet(&self, at: &At) -> Option<f64> {
        let (stage, species) = (self.stage(at.place(0))?, self.species(&at.name)?);
        let above = match at.place(0).checked_sub(1) {
            Some(above) => self.prediction.both(|grid| grid.went(above, species)[0]),
            None => 0.0,
        };
        Some(self.prediction.line.pressure * (above + stage.fed[species]) / stage.flow)
    }
}

/// The value at `x` of the parabola through the first or last three points.
fn parabola<const P: usize>(x: &[f64; P], y: &[f64; P], at: f64, last: bool) -> f64 {
    let first = if last { P - 3 } else { 0 };
    let (x, y) = (&x[first..first + 3], &y[first..first + 3]);
    let term = |i: usize, j: usize, k: usize| y[i] * (at - x[j]) * (at - x[k]) / ((x[i] - x[j]) * (x[i] - x[k]));
    term(0, 1, 2) + term(1, 0, 2) + term(2, 0, 1)
}

/// The figures of a solution, and those of the report that are sums or shares of them (under `sums`).
///
/// # Panics
/// If the solution is no JSON, or an uncertainty is of none of its figures.
#[must_use]
pub fn figures(name: &str, case: &Case, solution: &str) -> (Vec<Leaf>, BTreeMap<String, f64>) {
    let solution: Value = serde_json::from_str(solution).unwrap_or_else(|why| panic!("{name}: {why}"));
    let mut figures = leaves(&solution, "numerics.relative_uncertainty");
    let mut uncertainty = BTreeMap::new();
    for (path, relative) in solution["numerics"]["relative_uncertainty"].as_object().into_iter().flatten() {
        assert!(figures.iter().any(|leaf| leaf.path == *path), "{name}: uncertainty of {path}, which is no figure");
        uncertainty.insert(path.clone(), relative.as_f64().unwrap_or(f64::NAN));
    }
    for (n, stage) in solution["stages"].as_array().into_iter().flatten().enumerate() {
        figures.extend(sums(case, n, stage));
    }
    (figures, uncertainty)
}

/// What the report says of a stage and the solution only in parts.
fn sums(case: &Case, n: usize, stage: &Value) -> Vec<Leaf> {
    let number = |field: &str, name: &str| stage[field][name].as_f64().unwrap_or(0.0);
    let mut out = Vec::new();
    let mut push = |path: String, value: f64| out.push(Leaf { path: format!("sums[{n}].{path}"), value: value.into() });
    let (mut group_iii, mut group_v) = (0.0, 0.0);
    for species in &case.prediction.line.species {
        let partial = number("inlet_partial_pressure_pa", &species.name);
        match species.part {
            Part::Parent | Part::Fragment => group_iii += partial,
            Part::GroupV => group_v += partial,
            Part::Dopant => push(format!("dopant_pa.{}", species.name), partial),
        }
        if species.part == Part::Fragment {
            continue;
        }
        let fragment = format!("{}*", species.name);
        let both = |field: &str| number(field, &species.name) + number(field, &fragment);
        let parts = [both("uptake_mol_per_s"), both("wall_mol_per_s"), both("outlet_mol_per_s")];
        let entered: f64 = parts.iter().sum();
        push(format!("entered_umol_per_min.{}", species.name), entered * 60e6);
        for (field, part) in ["in_wires", "on_wall", "leaving"].into_iter().zip(parts) {
            push(format!("{field}.{}", species.name), if entered > 0.0 { part / entered } else { 0.0 });
        }
    }
    push("group_iii_pa".to_owned(), group_iii);
    push("group_v_pa".to_owned(), group_v);
    out
}

/// A comparison of a case.
#[must_use]
pub fn comparison(case: &Case, uncertainty: BTreeMap<String, f64>) -> Comparison<'_, Case> {
    Comparison { rows: ROWS, case, report: Case::report, uncertainty }
}

const fn same(here: &'static str, there: &'static str, kind: Kind) -> Row<Case> {
    Row { here, there, kind, how: How::Report }
}

const fn made(
    here: &'static str,
    there: &'static str,
    kind: Kind,
    compute: fn(&Case, &At) -> Option<f64>,
) -> Row<Case> {
    Row { here, there, kind, how: How::Computed(compute) }
}

const fn words(here: &'static str, there: &'static str, words: fn(&Case, &At) -> Option<String>) -> Row<Case> {
    Row { here, there, kind: Kind::Given, how: How::Words(words) }
}

const fn later(here: &'static str, module: &'static str) -> Row<Case> {
    Row { here, there: module, kind: Kind::Mean, how: How::Later(module) }
}

const fn about(here: &'static str, what: &'static str) -> Row<Case> {
    Row { here, there: what, kind: Kind::Given, how: How::About }
}

/// mol/s to µmol/min.
const UMOL_PER_MIN: f64 = 60e6;

use Kind::{Closure, Deviation, End, Given, Mean, Percentile, Share, Temperature};

/// Every kind of figure: here → there.
pub const ROWS: &[Row<Case>] = &[
    words("stages[].name", "stages[].name", |case, at| Some(case.stage(at.place(0))?.name.to_string())),
    made("stages[].length_mm", "line.stages[].length", Given, |case, at| Some(case.stage(at.place(0))?.length * 1e3)),
    made("stages[].molar_flow_mol_per_s", "stages[].flow.total_sccm", Mean, |case, at| {
        Some(case.report(&format!("stages[{}].flow.total_sccm", at.place(0)))? * SCCM)
    }),
    same("stages[].total_sccm", "stages[].flow.total_sccm", Mean),
    same("stages[].aerosol_share", "stages[].flow.aerosol_share", Mean),
    made("stages[].core_radius_share", "stages[].flow.core_radius_mm over R", Mean, |case, at| {
        let radius = case.report(&format!("stages[{}].flow.core_radius_mm", at.place(0)))?;
        Some(radius / (0.5e3 * case.stage(at.place(0))?.diameter))
    }),
    same("stages[].least_wall_shear_ratio", "stages[].flow.least_wall_shear", Mean),
    same("stages[].axis_velocity_ratio.least", "stages[].flow.axis_velocity.least", Mean),
    same("stages[].axis_velocity_ratio.most", "stages[].flow.axis_velocity.most", Mean),
    made("stages[].inlet_partial_pressure_pa.NAME", "harvest.stages[].entered", Mean, Case::inlet),
    same("stages[].v_iii", "stages[].inlet.v_iii", Mean),
    same("stages[].dopant_to_iii.NAME", "stages[].inlet.dopant_iii.NAME", Mean),
    same("stages[].reynolds", "stages[].flow.reynolds", Mean),
    same("stages[].prandtl", "stages[].flow.prandtl", Mean),
    same("stages[].peclet_heat", "stages[].flow.peclet_heat", Mean),
    made("stages[].peclet_mass.NAME", "stages[].flow.mean_velocity_m_per_s and D of the line", Mean, Case::peclet_mass),
    made("stages[].grashof", "stages[].flow.grashof_over_reynolds × reynolds", Mean, |case, at| {
        let flow = format!("stages[{}].flow", at.place(0));
        Some(case.report(&format!("{flow}.grashof_over_reynolds"))? * case.report(&format!("{flow}.reynolds"))?)
    }),
    same("stages[].richardson", "stages[].flow.richardson", Mean),
    same("stages[].grashof_over_reynolds", "stages[].flow.grashof_over_reynolds", Mean),
    same("stages[].entrance_hydrodynamic_mm", "stages[].flow.entrance_hydraulic_mm", Mean),
    same("stages[].entrance_thermal_mm", "stages[].flow.entrance_thermal_mm", Mean),
    same("stages[].gas_residence_mean_s", "stages[].residence_s.mean_gas", Mean),
    same("stages[].seed_residence_mean_s", "stages[].residence_s.seeds.mean", Mean),
    same("stages[].seed_residence_sd_s", "stages[].residence_s.seeds.sd", Deviation),
    made("stages[].seed_residence_min_s", "harvest.stages[].time", Mean, |case, at| case.end_time(at.place(0), false)),
    made("stages[].seed_residence_max_s", "harvest.stages[].time", Mean, |case, at| case.end_time(at.place(0), true)),
    made("stages[].outlet_axis_c", "last of stages[].profile.axis_c", Temperature, |case, at| {
        case.outlet(at, "axis_c")
    }),
    made("stages[].outlet_flow_mean_c", "last of stages[].profile.bulk_c", Temperature, |case, at| {
        case.outlet(at, "bulk_c")
    }),
    made("stages[].outlet_mol_per_s.NAME", "harvest.stages[].outlet", Mean, |case, at| case.went(at, 0)),
    made("stages[].wall_mol_per_s.NAME", "harvest.stages[].on_wall", Mean, |case, at| case.went(at, 1)),
    made("stages[].uptake_mol_per_s.NAME", "harvest.stages[].in_wires", Mean, |case, at| case.went(at, 2)),
    same("stages[].group_iii_use_by_wires", "stages[].balance[0].in_wires", Mean),
    same("stages[].group_iii_lost_to_wall", "stages[].balance[0].on_wall", Mean),
    made(
        "stages[].gormley_kennedy_penetration_if_unsheathed",
        "1 − stages[].seeds.unsheathed_wall_share",
        Share,
        |case, at| Some(1.0 - case.report(&format!("stages[{}].seeds.unsheathed_wall_share", at.place(0)))?),
    ),
    made(
        "stages[].seeds_not_coagulated_nor_dispersed",
        "stages[].seeds.per_s_out over stages[0].seeds.per_s_in",
        Share,
        |case, at| {
            let out = case.report(&format!("stages[{}].seeds.per_s_out", at.place(0)))?;
            Some(out / case.report("stages[0].seeds.per_s_in")?)
        },
    ),
    same("stages[].drift_inward_mm.largest", "stages[].drift_mm.largest", Mean),
    same("stages[].drift_inward_mm.at_exit", "stages[].drift_mm.at_exit", Mean),
    same("stages[].drift_inward_mm.core_radius", "stages[].flow.core_radius_mm", Mean),
    made("stages[].seeded_share_of_flow_at_exit", "section.border", Mean, |case, at| {
        case.watched.get(at.place(0))?.inside.last().copied()
    }),
    made("stages[].profile[].z_mm", "stages[].profile.z_mm", Given, |case, at| case.profile(at, "z_mm")),
    made("stages[].profile[].wall_c", "stages[].profile.wall_c", Temperature, |case, at| case.profile(at, "wall_c")),
    made("stages[].profile[].axis_c", "stages[].profile.axis_c", Temperature, |case, at| case.profile(at, "axis_c")),
    made("stages[].profile[].flow_mean_c", "stages[].profile.bulk_c", Temperature, |case, at| {
        case.profile(at, "bulk_c")
    }),
    made("stages[].profile[].p_iii_core_pa", "section.share on the paths", Mean, |case, at| {
        case.watched.get(at.place(0))?.group_iii.get(at.place(1)).copied()
    }),
    made("stages[].profile[].p_v_core_pa", "section.share on the paths", Mean, |case, at| {
        case.watched.get(at.place(0))?.group_v.get(at.place(1)).copied()
    }),
    made("stages[].profile[].group_iii_pa_axis", "stages[].profile.group_iii_pa_axis", Mean, |case, at| {
        case.profile(at, "group_iii_pa_axis")
    }),
    made("stages[].profile[].fragment_pa_axis", "stages[].profile.fragment_pa_axis", Mean, |case, at| {
        case.profile(at, "fragment_pa_axis")
    }),
    made("stages[].profile[].group_v_pa_axis", "stages[].profile.group_v_pa_axis", Mean, |case, at| {
        case.profile(at, "group_v_pa_axis")
    }),
    made("stages[].profile[].wall_deposit_um_per_h", "stages[].profile.wall_deposit_um_per_h", Mean, |case, at| {
        case.profile(at, "wall_deposit_um_per_h")
    }),
    made("stages[].profile[].length_nm", "stages[].profile.length_nm_mean", Mean, |case, at| {
        case.profile(at, "length_nm_mean")
    }),
    made("stages[].profile[].wall_loss_mol_per_s_m.NAME", "section.on_wall along z", Mean, |case, at| {
        Some(case.watched.get(at.place(0))?.wall.get(at.place(1))?[case.species(&at.name)?])
    }),
    made("balance.NAME.fed", "balance[].fed_umol_per_min", Mean, |case, at| {
        Some(case.balance("balance", &at.name, "fed_umol_per_min")? / UMOL_PER_MIN)
    }),
    made("balance.NAME.wall", "balance[].on_wall × fed", Mean, |case, at| of_feed(case, at, "on_wall")),
    made("balance.NAME.wires", "balance[].in_wires × fed", Mean, |case, at| of_feed(case, at, "in_wires")),
    made("balance.NAME.exhaust", "balance[].exhaust × fed", Mean, |case, at| of_feed(case, at, "exhaust")),
    made("balance.NAME.closure_of_feed", "balance[].closure", Closure, |case, at| {
        case.balance("balance", &at.name, "closure")
    }),
    same("seeds.per_s", "stages[0].seeds.per_s_in", Given),
    made("seeds.per_mol", "stages[0].seeds.per_s_in over line.aerosol", Given, |case, _| {
        Some(case.report("stages[0].seeds.per_s_in")? / case.prediction.line.aerosol)
    }),
    same("seeds.concentration_per_cm3", "seeds.concentration_per_cm3", Given),
    same("seeds.charges", "seeds.charges", Mean),
    words("seeds.charge_groups[].charge", "line.seeds.groups[].charge", |case, at| {
        let charge = case.prediction.line.seeds.groups.get(at.place(0))?.charge;
        Some(if charge == 0 { "null".to_owned() } else { charge.to_string() })
    }),
    made("seeds.charge_groups[].share", "line.seeds.groups[].share", Mean, |case, at| {
        Some(case.prediction.line.seeds.groups.get(at.place(0))?.share)
    }),
    made("seeds.charge_groups[].mean_nm", "line.seeds.groups[].nodes", Mean, |case, at| {
        let nodes = case.prediction.line.seeds.groups.get(at.place(0))?.nodes;
        Some(nodes.iter().map(|(ln_diameter, weight)| weight * ln_diameter.exp()).sum::<f64>() * 1e9)
    }),
    same("seeds.mean_nm", "seeds.diameter_nm.mean", Mean),
    same("classifier.centroid_mobility_m2_per_v_s", "seeds.centroid_mobility_m2_per_v_s", Mean),
    same("classifier.size_nm", "seeds.selected_nm", Mean),
    made("classifier.voltage_v", "job.classifier.voltage_v", Given, |case, _| {
        case.job["classifier"]["voltage_v"].as_f64()
    }),
    same("classifier.passed_fraction", "seeds.passed_share", Mean),
    same("wires.segments[].mean_nm", "wires.segments[].length_nm.mean", Mean),
    same("wires.segments[].sd_nm", "wires.segments[].length_nm.sd", Deviation),
    same("wires.segments[].cv", "wires.segments[].length_nm.cv", Deviation),
    same("wires.segments[].coat_later_nm", "wires.segments[].coat_nm", Mean),
    same("wires.segments[].coat_own_base_nm", "wires.segments[].own_taper_nm", Mean),
    made("wires.segments[].diameter_base_nm", "tip + 2 (coat_nm + own_taper_nm)", Mean, |case, at| {
        let own = case.report(&format!("wires.segments[{}].own_taper_nm", at.place(0)))?;
        Some(2.0 * own + end_diameter(case, at.place(0))?)
    }),
    made("wires.segments[].diameter_end_nm", "tip + 2 coat_nm", Mean, |case, at| end_diameter(case, at.place(0))),
    same("wires.segments[].doping.NAME.mean_per_cm3", "wires.segments[].dopants.NAME.mean_per_cm3", Mean),
    same("wires.segments[].doping.NAME.start_per_cm3", "wires.segments[].dopants.NAME.start_per_cm3", End),
    same("wires.segments[].doping.NAME.end_per_cm3", "wires.segments[].dopants.NAME.end_per_cm3", End),
    same("wires.total.mean_nm", "wires.length_nm.mean", Mean),
    same("wires.total.sd_nm", "wires.length_nm.sd", Deviation),
    same("wires.total.cv", "wires.length_nm.cv", Deviation),
    same("wires.total.variance_share.streamlines", "wires.spread_from.paths", Share),
    same("wires.total.variance_share.seed_size", "wires.spread_from.seed_size", Share),
    same("wires.total.variance_share.both", "wires.spread_from.both", Share),
    made("wires.total.sd_if_all_kept_nm", "wires.spread_from.mixing", Deviation, |case, _| {
        Some(case.report("wires.length_nm.sd")? * (1.0 + case.report("wires.spread_from.mixing")?).sqrt())
    }),
    made("wires.total.percentiles_nm.NAME", "wires.length_nm.p05 …", Percentile, |case, at| {
        case.percentile(at.name.parse().ok()?)
    }),
    same("wires.diameter_tip_nm", "wires.diameter_nm.tip.mean", Mean),
    same("wires.diameter_tip_sd_nm", "wires.diameter_nm.tip.sd", Deviation),
    same("wires.diameter_base_nm", "wires.diameter_nm.base.mean", Mean),
    made("wires.incubation_length_nm", "harvest.classes[].incubation", Mean, |case, _| {
        Some(case.prediction.both(|grid| grid.over_classes(&|class| class.incubation)) * 1e9)
    }),
    made("residence.mean_s", "harvest.stages[].time", Mean, |case, _| Some(case.whole_time().0)),
    made("residence.sd_s", "harvest.stages[].time", Deviation, |case, _| Some(case.whole_time().1)),
    made("residence.min_s", "harvest.stages[].time", Mean, |case, _| {
        (0..case.prediction.line.stages.len()).map(|n| case.end_time(n, false)).sum()
    }),
    made("doping_axis[].share_of_segment[]", "eleven places", Given, |_, at| {
        Some(at.place(1) as f64 / (SHARES - 1) as f64)
    }),
    made("doping_axis[].NAME_per_cm3[0]", "section.doping on the paths", End, doping_along),
    made("doping_axis[].NAME_per_cm3[10]", "section.doping on the paths", End, doping_along),
    made("doping_axis[].NAME_per_cm3[]", "section.doping on the paths", Mean, doping_along),
    made("count.coagulated_share", "stages[].seeds.coagulated_share", Share, |case, _| lost(case, "coagulated_share")),
    made("count.dispersed_share", "stages[].seeds.dispersed_share", Share, |case, _| lost(case, "dispersed_share")),
    made("count.wall_penetration", "harvest.stages[].flying", Share, |case, _| {
        Some(case.prediction.both(|grid| grid.flying(case.prediction.line.stages.len() - 1)))
    }),
    same("count.good_wires_per_s", "plant.wires_per_s", Mean),
    made("content.mean_wire_volume_m3", "harvest.stages[].volume", Mean, |case, _| {
        let line = &case.prediction.line;
        let last = line.stages.len() - 1;
        Some(case.prediction.both(|grid| grid.moments(line, last..last + 1, PathFigure::Volume).mean))
    }),
    made("content.group_iii_in_wires_mol_per_s", "balance[].in_wires × fed", Mean, |case, _| {
        in_wires(case, |part| part == Part::Parent)
    }),
    made("content.group_v_in_wires_mol_per_s", "balance[].in_wires × fed", Mean, |case, _| {
        in_wires(case, |part| part == Part::GroupV)
    }),
    about("numerics.grids[][]", "rings of the solution"),
    about("numerics.classes", "seed classes of the solution"),
    about("numerics.rtol", "tolerance of its integrator"),
    about("numerics.relative_uncertainty", "widens tolerances"),
    about("numerics.balance_worst", "its own closure"),
    same("plant.good_wires_per_s", "plant.wires_per_s", Mean),
    same("plant.run_time_h", "plant.run_time_h", Mean),
    later("plant.semiconductor_g_per_h", "plant"),
    later("plant.seed_metal_mg_per_h", "plant"),
    later("plant.wire_mass_kg", "plant"),
    made("plant.wires_ordered", "line.order.wires", Given, |case, _| case.prediction.line.order.as_ref()?.wires),
    later("plant.area_cm2_per_h", "plant"),
    later("plant.use.NAME.fed_mmol_per_h", "plant"),
    later("plant.use.NAME.in_wires", "plant"),
    later("plant.use.NAME.on_walls", "plant"),
    later("plant.use.NAME.exhaust", "plant"),
    later("plant.exhaust_mole_fraction.NAME", "plant"),
    later("plant.carrier_standard_litres_per_h", "plant"),
    later("plant.collector.mobility_diameter_nm", "plant"),
    later("plant.collector.drift_m_per_s", "plant"),
    later("plant.collector.efficiency", "plant"),
    later("junction.gap_ev", "junction"),
    later("junction.nc_per_cm3", "junction"),
    later("junction.nv_per_cm3", "junction"),
    later("junction.ni_per_cm3", "junction"),
    later("junction.segments[].net_donors_per_cm3", "junction"),
    later("junction.segments[].fermi_above_valence_ev", "junction"),
    later("junction.junctions[].built_in_v", "junction"),
    later("junction.junctions[].kind", "junction"),
    later("junction.junctions[].graded_width_10_90_nm.NAME", "junction"),
    later("junction.junctions[].depletion_nm", "junction"),
    later("junction.junctions[].in_first_nm", "junction"),
    later("junction.junctions[].in_second_nm", "junction"),
    same("sums[].group_iii_pa", "stages[].inlet.group_iii_pa", Mean),
    same("sums[].group_v_pa", "stages[].inlet.group_v_pa", Mean),
    same("sums[].dopant_pa.NAME", "stages[].inlet.dopant_pa.NAME", Mean),
    made("sums[].entered_umol_per_min.NAME", "stages[].balance[].entered_umol_per_min", Mean, |case, at| {
        case.balance(&format!("stages[{}].balance", at.place(0)), &at.name, "entered_umol_per_min")
    }),
    made("sums[].in_wires.NAME", "stages[].balance[].in_wires", Mean, |case, at| {
        case.balance(&format!("stages[{}].balance", at.place(0)), &at.name, "in_wires")
    }),
    made("sums[].on_wall.NAME", "stages[].balance[].on_wall", Mean, |case, at| {
        case.balance(&format!("stages[{}].balance", at.place(0)), &at.name, "on_wall")
    }),
    made("sums[].leaving.NAME", "stages[].balance[].leaving", Mean, |case, at| {
        case.balance(&format!("stages[{}].balance", at.place(0)), &at.name, "leaving")
    }),
];

/// A fraction of what was fed of a species, mol/s.
fn of_feed(case: &Case, at: &At, field: &str) -> Option<f64> {
    Some(
        case.balance("balance", &at.name, field)? * case.balance("balance", &at.name, "fed_umol_per_min")?
            / UMOL_PER_MIN,
    )
}

/// What wires took of the species that play a part, mol/s.
fn in_wires(case: &Case, which: fn(Part) -> bool) -> Option<f64> {
    let species = case.prediction.line.species.iter().filter(|species| which(species.part));
    species.map(|species| of_feed(case, &At { place: Vec::new(), name: species.name.to_string() }, "in_wires")).sum()
}

/// Doping at a share of a segment, 1/cm³.
fn doping_along(case: &Case, at: &At) -> Option<f64> {
    let dopants = case.prediction.line.species.iter().filter(|species| species.doping.is_some());
    let d = dopants.map(|species| species.name.as_str()).position(|name| name == at.name)?;
    Some(case.watched.get(at.place(0))?.doping.get(at.place(1))?[d] * 1e-6)
}

/// Diameter at the end of a segment, nm.
fn end_diameter(case: &Case, n: usize) -> Option<f64> {
    Some(case.report("wires.diameter_nm.tip.mean")? + 2.0 * case.report(&format!("wires.segments[{n}].coat_nm"))?)
}

/// A share lost since the first stage, of the seeds that entered it.
fn lost(case: &Case, field: &str) -> Option<f64> {
    let fed = case.report("stages[0].seeds.per_s_in")?;
    let of_stage = |n: usize| {
        let seeds = format!("stages[{n}].seeds");
        Some(case.report(&format!("{seeds}.{field}"))? * case.report(&format!("{seeds}.per_s_in"))? / fed)
    };
    (0..case.prediction.line.stages.len()).map(of_stage).sum()
}
