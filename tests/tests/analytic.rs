//! Limits that have a closed form, through the real march: heat and traces in a tube, residence, deposit, wires.
//!
//! Every line here is isothermal or nearly so, with one stage of argon; what a limit needs (no wall reaction, no depletion, a rate
//! out of reach) is set in the job.

use loftwire_core::furnace::{Wall, Zone};
use loftwire_core::gas::Trace;
use loftwire_core::line::Line;
use loftwire_core::march::March;
use loftwire_core::predict::Predictor;
use loftwire_core::properties::Properties;
use loftwire_core::section::{Balance, Difference, Faces};
use loftwire_core::seed;
use loftwire_core::units::{AVOGADRO, BOLTZMANN, GAS_CONSTANT};
use loftwire_tests::checks::{Row, rows};
use loftwire_tests::follow::{follow, weight};
use loftwire_tests::prediction::{line, value, with_room};
use serde_json::{Value, json};
use std::f64::consts::PI;

/// Temperature of the isothermal lines, °C and K.
const WARM_C: f64 = 450.0;
const WARM: f64 = WARM_C + 273.15;

/// A job of one isothermal stage, 400 mm of a 20 mm tube, whose walls take nothing and whose precursor does not break.
fn plain() -> Value {
    json!({
        "format": "wire-growth-job/1",
        "carrier": { "Ar": 1.0 },
        "pressure_mbar": 1000,
        "material": "InP",
        "seeds": { "mobility_diameter_nm": 50, "spread_gsd": 1.0, "concentration_per_cm3": 1, "charges": 0, "drift": "none" },
        "aerosol_sccm": 300,
        "stages": [stage()],
        "kinetics": {
            "axial": { "group_iii_order": 0, "v_iii_half": 0, "critical_diameter_nm": 0, "activation_kj_per_mol": 0 },
            "reference": { "temperature_c": WARM_C, "group_iii_pa": 4, "v_iii": 100, "diameter_nm": 60 },
            "radial": { "rate_nm_per_s": 0, "activation_kj_per_mol": 0 },
            "pyrolysis": { "frequency_per_s": 0 },
            "wall": { "parent_probability": 0, "fragment_probability": 0, "activation_kj_per_mol": 0,
                      "group_v_probability": 0, "group_v_activation_kj_per_mol": 0, "dopant_probability": 0 },
            "dopants": { "DEZn": { "reference_per_cm3": 1e18, "reference_ratio": 0.02, "order": 0, "activation_kj_per_mol": 0,
                                   "limit_per_cm3": 1e20, "memory_diameters": 0.5, "wall_probability": 0 } },
        },
    })
}

/// A stage of it.
fn stage() -> Value {
    json!({
        "tube_diameter_mm": 20,
        "inlet_c": WARM_C,
        "zones": [{ "length_mm": 400, "wall_c": WARM_C }],
        "blend_mm": 0,
        "carrier_sccm": 700,
        "feeds": [
            { "precursor": "TMIn", "bubbler": { "bath_c": 20, "bath_mbar": 1000, "carrier_sccm": 100, "line_c": 40 } },
            { "precursor": "PH3", "flow_sccm": 50, "share": 1.0 },
        ],
    })
}

/// A feed of the acceptor.
fn zinc() -> Value {
    json!({ "precursor": "DEZn", "bubbler": { "bath_c": 0, "bath_mbar": 1000, "carrier_sccm": 5, "line_c": 40 } })
}

fn checked(job: &Value) -> Box<Line> {
    line(&job.to_string()).unwrap_or_else(|why| panic!("{why}"))
}

fn predicted(job: &Value) -> Value {
    with_room(|| {
        let mut predictor = Box::new(Predictor::new());
        let report = predictor.predict(&checked(job));
        serde_json::to_value(report).unwrap_or_else(|why| panic!("{why}"))
    })
}

/// A figure of a report.
fn figure(report: &Value, path: &str) -> f64 {
    value(report, path).and_then(Value::as_f64).unwrap_or_else(|| panic!("{path} is no figure"))
}

/// Holds a figure against its closed form, and prints both.
fn near(what: &str, got: f64, want: f64, tolerance: f64) {
    let error = (got / want - 1.0).abs();
    println!("{what:60} {got:>14.7e} {want:>14.7e}  {error:.1e}");
    assert!(error <= tolerance, "{what}: got {got:e}, want {want:e}, off by {error:.1e}, tolerance {tolerance:.1e}");
}

/// Makes the stage of a line so long that what moves with `spread` (c D, or k/c_p; mol/(m s)) comes to x* = z/(d Pe) at its exit.
fn lengthen(line: &mut Line, spread: f64, x_star: f64) {
    let stage = &mut line.stages[0];
    // x* = π spread z/(4 ṅ)
    let length = 4.0 * stage.flow * x_star / (PI * spread);
    let temperature = stage.wall.temperature(0.0);
    stage.wall = Wall::zones([Zone { length, temperature }].into_iter().collect(), 0.0, temperature);
    stage.length = length;
}

/// A figure on the desk's two grids, extrapolated.
fn on_both(line: &Line, of: impl Fn(&Line, &Properties, bool) -> f64) -> f64 {
    let mut properties = Box::new(Properties::new());
    properties.fill(line);
    let (coarse, fine) = (of(line, &properties, false), of(line, &properties, true));
    fine + (fine - coarse) / 3.0
}

/// Rows of the pipe's check file of one quantity (its start), with x* (or ξ = 4 x*) and value.
fn pipe(quantity: &str) -> Vec<(&'static Row, f64, f64)> {
    let of_quantity = rows().iter().filter(|row| row.file == "pipe.csv" && row.quantity.starts_with(quantity));
    let listed: Vec<_> = of_quantity
        .filter_map(|row| {
            let length = row.number("x_star=z/(d Re Pr)").or(row.number("x_star=D z/(U d^2)"));
            let length = length.or(row.number("xi=pi D L/Q").map(|xi| xi / 4.0))?;
            Some((row, length, row.want()?))
        })
        .collect();
    assert!(!listed.is_empty(), "no rows for {quantity}");
    listed
}

/// c D of a species of a line, mol/(m s).
fn spreading(line: &Line, name: &str) -> f64 {
    let species = line.species.iter().find(|species| species.name == name).unwrap_or_else(|| panic!("no {name}"));
    let trace = Trace {
        molar_mass: species.molar_mass,
        collision_diameter: species.collision_diameter,
        well_depth: species.well_depth,
    };
    line.pressure / (GAS_CONSTANT * WARM) * trace.diffusion(&line.carrier, WARM, line.pressure)
}

/// Mean molecular speed of a species at the temperature of the line, m/s.
fn mean_speed(line: &Line, name: &str) -> f64 {
    let mass = line.species.iter().find(|species| species.name == name).map_or(f64::NAN, |species| species.molar_mass);
    (8.0 * GAS_CONSTANT * WARM / (PI * mass)).sqrt()
}

/// Share of a species that leaves the stage of a line.
fn left(line: &Line, name: &str) -> f64 {
    let s = line.species.iter().position(|species| species.name == name).unwrap_or_else(|| panic!("no {name}"));
    on_both(line, |line, properties, fine| {
        let run = |outlet: f64, entered: f64| outlet / entered;
        if fine {
            let mut march = Box::new(March::<24, 8, 3, 11>::new());
            march.run(line, properties, 20).unwrap_or_else(|refusal| panic!("{refusal:?}"));
            run(march.harvest.stages[0].outlet[s], march.harvest.stages[0].entered[s])
        } else {
            let mut march = Box::new(March::<12, 4, 3, 11>::new());
            march.run(line, properties, 10).unwrap_or_else(|refusal| panic!("{refusal:?}"));
            run(march.harvest.stages[0].outlet[s], march.harvest.stages[0].entered[s])
        }
    })
}

/// Source: checks/pipe.csv, Graetz series to 40 digits: bulk temperature, x* from 0.01, through a stage whose wall is 0.1 K warmer, so
/// that properties are constant; with the parabola given, and with the velocity developed.
#[test]
fn bulk_temperature_follows_graetz() {
    with_room(|| {
        for velocity in ["parabolic", "developed"] {
            let mut job = plain();
            job["stages"][0]["velocity"] = json!(velocity);
            job["stages"][0]["inlet_c"] = json!(WARM_C - 0.1);
            let mut line = checked(&job);
            let spread = line.carrier.conductivity(WARM) / line.carrier.molar_heat_capacity(WARM);
            for (row, x_star, want) in pipe("bulk (flow-average) temperature").into_iter().filter(|row| row.1 >= 0.01) {
                lengthen(&mut line, spread, x_star);
                let got = on_both(&line, |line, properties, fine| {
                    let mut bulk = 0.0;
                    let mut note = |temperature: f64| bulk = (temperature - WARM) / -0.1;
                    let end = if fine {
                        follow::<24, 8, 3>(line, properties, 200, |here| note(here.passage.bulk(&here.now.temperature)))
                    } else {
                        follow::<12, 4, 3>(line, properties, 100, |here| note(here.passage.bulk(&here.now.temperature)))
                    };
                    assert!(end.is_ok());
                    bulk
                });
                near(&format!("{} {velocity} x* = {x_star}", row.id), got, want, 1e-3);
            }
        }
    });
}

/// Source: checks/pipe.csv, Graetz series to 40 digits: local Nusselt number on the diameter, −d ln θ_m/dx* /4 along one stage.
#[test]
fn nusselt_number_follows_graetz() {
    with_room(|| {
        let mut job = plain();
        job["stages"][0]["inlet_c"] = json!(WARM_C - 0.1);
        let mut line = checked(&job);
        let spread = line.carrier.conductivity(WARM) / line.carrier.molar_heat_capacity(WARM);
        let end = 0.3;
        lengthen(&mut line, spread, end);
        let local = |x_star: f64, stations: usize, bulk: &[f64]| {
            // Central difference of the logarithm about the station.
            let n = (x_star / end * stations as f64).round() as usize;
            let step = end / stations as f64;
            (bulk[n - 1] / bulk[n + 1]).ln() / (8.0 * step)
        };
        let mut properties = Box::new(Properties::new());
        properties.fill(&line);
        let (mut coarse, mut fine) = (Vec::new(), Vec::new());
        let theta = |temperature: f64| (temperature - WARM) / -0.1;
        let ends = [
            follow::<24, 8, 3>(&line, &properties, 300, |here| {
                coarse.push(theta(here.passage.bulk(&here.now.temperature)));
            }),
            follow::<48, 16, 3>(&line, &properties, 600, |here| {
                fine.push(theta(here.passage.bulk(&here.now.temperature)));
            }),
        ];
        assert!(ends.iter().all(Result::is_ok));
        for (row, x_star, want) in
            pipe("local Nusselt number on diameter").into_iter().filter(|row| (0.02..0.25).contains(&row.1))
        {
            let (a, b) = (local(x_star, 300, &coarse), local(x_star, 600, &fine));
            near(&format!("{} x* = {x_star}", row.id), b + (b - a) / 3.0, want, 5e-4);
        }
    });
}

/// Source: heat in plug flow, wall given: θ_m = Σ (4/j_n²) exp(−4 j_n² x*), j_n the zeros of J_0 (Abramowitz & Stegun 1964, table 9.5);
/// Nu = j_1² = 5.783. No stage flows like a plug; the kernel does, where each ring carries as much as its area.
#[test]
fn kernel_knows_plug_flow() {
    const ZEROS: [f64; 5] = [2.404_825_557_7, 5.520_078_110_3, 8.653_727_912_9, 11.791_534_439_0, 14.930_917_708_5];
    let exact = |x_star: f64| -> f64 { ZEROS.iter().map(|j| 4.0 / (j * j) * (-4.0 * j * j * x_star).exp()).sum() };
    let coarse = plug::<48>(0.05, 800);
    let fine = plug::<96>(0.05, 1600);
    near("plug flow, x* = 0.05", fine + (fine - coarse) / 3.0, exact(0.05), 1e-4);
    let coarse = (plug::<48>(0.1, 1600) / plug::<48>(0.11, 1760)).ln() / 0.04;
    let fine = (plug::<96>(0.1, 3200) / plug::<96>(0.11, 3520)).ln() / 0.04;
    near("plug flow, Nu", fine + (fine - coarse) / 3.0, ZEROS[0] * ZEROS[0], 1e-4);
}

/// Bulk of a field that enters as 1 and meets a wall at 0, flowing as a plug, at x* = a z/(U d²).
fn plug<const R: usize>(x_star: f64, stations: usize) -> f64 {
    // In units of R, a and U: z up to 4 x*; carried ΔF π, κ = 2π r/(distance of the rings' middles).
    let edge: [f64; R] = std::array::from_fn(|i| (i + 1) as f64 / R as f64);
    let share: [f64; R] =
        std::array::from_fn(|i| edge[i] * edge[i] - if i == 0 { 0.0 } else { edge[i - 1] * edge[i - 1] });
    let carried = share.map(|share| PI * share);
    let gap = |i: usize| if i + 1 < R { 1.0 } else { 0.5 } / R as f64;
    let kappa: [f64; R] = std::array::from_fn(|i| 2.0 * PI * edge[i] / gap(i));
    let faces = Faces { outward: kappa, inward: kappa };
    let step = 4.0 * x_star / stations as f64;
    let (mut one, mut two, mut now) = ([1.0; R], [1.0; R], [0.0; R]);
    for station in 0..stations {
        let balance = Balance {
            difference: if station == 0 { Difference::first(step) } else { Difference::later(step) },
            carried: &carried,
            held: &[0.0; R],
            faces: &faces,
            wall: 0.0,
            taken: &[0.0; R],
            given: &[0.0; R],
            one: &one,
            two: &two,
            before: &one,
        };
        balance.solve(&mut now);
        (two, one) = (one, now);
    }
    share.iter().zip(&one).map(|(share, value)| share * value).sum()
}

/// Source: checks/pipe.csv, exact series; Gormley & Kennedy 1949. A dopant whose every molecule reacts on the wall leaves as a
/// particle that diffuses to it.
#[test]
fn an_absorbing_wall_is_that_of_gormley_and_kennedy() {
    with_room(|| {
        let mut job = plain();
        job["stages"][0]["feeds"].as_array_mut().into_iter().for_each(|feeds| feeds.push(zinc()));
        job["kinetics"]["dopants"]["DEZn"]["wall_probability"] = json!(1.0);
        let mut line = checked(&job);
        let spread = spreading(&line, "DEZn");
        for (row, x_star, want) in pipe("diffusion penetration of a tube, exact series") {
            lengthen(&mut line, spread, x_star);
            let got = left(&line, "DEZn");
            near(&format!("{} ξ = {}", row.id, 4.0 * x_star), got, want, 1e-3);
            // The fit itself is printed to that.
            near(&format!("{} the fit", row.id), seed::penetration(4.0 * x_star), want, 1e-3);
        }
    });
}

/// Source: checks/pipe.csv, series with a first-order wall reaction; γ from Da = k_w R/D and k_w = [γ/(1 − γ/2)] c̄/4
/// (Motz & Wise 1960). From a wall that limits (Da 0.01) to transport that does (Da 100).
#[test]
fn a_reacting_wall_takes_what_the_series_says() {
    with_room(|| {
        let mut job = plain();
        job["stages"][0]["feeds"].as_array_mut().into_iter().for_each(|feeds| feeds.push(zinc()));
        let spread = spreading(&checked(&job), "DEZn");
        let speed = mean_speed(&checked(&job), "DEZn");
        let density = 1e5 / (GAS_CONSTANT * WARM);
        for (row, x_star, want) in pipe("share of the feed left, flow average") {
            let damkohler = row.number("Da=k_w R/D").unwrap_or(f64::NAN);
            let ratio = 4.0 * damkohler * spread / density / 0.01 / speed;
            job["kinetics"]["dopants"]["DEZn"]["wall_probability"] = json!(ratio / (1.0 + 0.5 * ratio));
            let mut line = checked(&job);
            lengthen(&mut line, spread, x_star);
            near(&format!("{} Da = {damkohler}, x* = {x_star}", row.id), left(&line, "DEZn"), want, 5e-4);
        }
    });
}

/// Source: section 5 of the model, wall-limited: a wall that takes little takes the same everywhere, k_w n, and what is left falls
/// as exp(−2πR k_w c z/ṅ).
#[test]
fn a_slow_wall_takes_the_same_everywhere() {
    let mut job = plain();
    job["kinetics"]["wall"]["parent_probability"] = json!(1e-7);
    let report = predicted(&job);
    let line = with_room(|| checked(&job));
    let speed = mean_speed(&line, "TMIn");
    let wall_speed = 1e-7 / (1.0 - 0.5e-7) * speed / 4.0;
    let partial = figure(&report, "stages[0].inlet.group_iii_pa");
    // m/s of deposit: flux × volume of a mole of pairs.
    let thickness = wall_speed * partial / (GAS_CONSTANT * WARM) * line.material.pair_volume() * AVOGADRO * 3.6e9;
    let density = 1e5 / (GAS_CONSTANT * WARM);
    let spent = 2.0 * PI * 0.01 * wall_speed * density / line.stages[0].flow;
    for record in [1, 50, 100] {
        let z = figure(&report, &format!("stages[0].profile.z_mm[{record}]")) * 1e-3;
        let got = figure(&report, &format!("stages[0].profile.wall_deposit_um_per_h[{record}]"));
        near(&format!("deposit at z = {z} m"), got, thickness * (-spent * z).exp(), 2e-3);
    }
    near("left at the exit", figure(&report, "stages[0].balance[0].leaving"), (-spent * 0.4).exp(), 1e-5);
}

/// Source: checks/pipe.csv, Graetz series to 40 digits, transport-limited: a wall that takes all it meets gets Sh D c_m/d, with
/// Sh(x*) and c_m(x*) those of heat.
#[test]
fn a_fast_wall_takes_what_transport_brings() {
    with_room(|| {
        let mut job = plain();
        job["kinetics"]["wall"]["parent_probability"] = json!(1.0);
        let mut line = checked(&job);
        let spread = spreading(&line, "TMIn");
        let bulk = pipe("bulk (flow-average) temperature");
        for (row, x_star, transfer) in
            pipe("local Nusselt number on diameter").into_iter().filter(|row| (0.02..=0.3).contains(&row.1))
        {
            let share = bulk.iter().find(|other| other.1 == x_star).map_or(f64::NAN, |other| other.2);
            lengthen(&mut line, spread, x_star);
            let entered = line.stages[0].fed[0] / line.stages[0].flow;
            let want = PI * transfer * spread * share * entered;
            let got = on_both(&line, |line, properties, fine| {
                let mut deposit = 0.0;
                let end = if fine {
                    follow::<24, 8, 3>(line, properties, 200, |here| deposit = here.now.deposit)
                } else {
                    follow::<12, 4, 3>(line, properties, 100, |here| deposit = here.now.deposit)
                };
                assert!(end.is_ok());
                deposit
            });
            near(&format!("{} x* = {x_star}: deposit, mol/(s m)", row.id), got, want, 1e-3);
        }
    });
}

/// Source: section 4 of the model, P083 and the rows behind it: for a core share f of the flow, x = 1 − √(1 − f): mean τ x/f, second
/// moment −τ²/(2f) ln(1 − x).
#[test]
fn a_core_stays_as_its_moments_say() {
    for f in [0.1, 0.3, 0.5, 0.8, 0.9] {
        let mut job = plain();
        // What is fed is 152 sccm and a little vapour.
        job["aerosol_sccm"] = json!(1000.0);
        job["stages"][0]["carrier_sccm"] = json!(1000.0 / f - 1000.0);
        job["stages"][0]["feeds"] = json!([
            { "precursor": "TMIn", "bubbler": { "bath_c": 20, "bath_mbar": 1000, "carrier_sccm": 1, "line_c": 40 } },
        ]);
        let report = predicted(&job);
        let f = figure(&report, "stages[0].flow.aerosol_share");
        let x = 1.0 - (1.0 - f).sqrt();
        let tau = figure(&report, "stages[0].residence_s.mean_gas");
        let line = with_room(|| checked(&job));
        let volume = PI * 0.01 * 0.01 * 0.4 * line.pressure / (GAS_CONSTANT * WARM);
        near(&format!("f = {f:.4}: τ"), tau, volume / line.stages[0].flow, 1e-6);
        near(&format!("f = {f:.4}: least"), figure(&report, "stages[0].residence_s.shortest"), 0.5 * tau, 1e-6);
        near(&format!("f = {f:.4}: mean"), figure(&report, "stages[0].residence_s.seeds.mean"), tau * x / f, 1e-6);
        let square = -tau * tau / (2.0 * f) * (1.0 - x).ln();
        let deviation = (square - (tau * x / f) * (tau * x / f)).sqrt();
        near(&format!("f = {f:.4}: sd"), figure(&report, "stages[0].residence_s.seeds.sd"), deviation, 0.01);
    }
}

/// The volume of a cap of base diameter 1 and contact angle β, from its height: V = πh(3a² + h²)/6, h = a tan(β/2).
fn cap_volume(angle: f64) -> f64 {
    let (a, h) = (0.5, 0.5 * (0.5 * angle).tan());
    PI * h * (3.0 * a * a + h * h) / 6.0
}

/// Diameter of the wire under a gold seed that takes up a share x of indium, over the seed's; and Λ_inc over that diameter.
fn wire_of_seed(share: f64, angle: f64, pair_volume: f64) -> (f64, f64) {
    // g/mol over g/cm³: gold and indium, cm³/mol.
    let (gold, indium) = (196.966_57 / 19.30, 114.818 / 7.02);
    let taken = share / (1.0 - share);
    let seed = PI / 6.0;
    let diameter = (seed * (1.0 + taken * indium / gold) / cap_volume(angle)).cbrt();
    let pairs = taken * seed / (gold * 1e-6) * AVOGADRO;
    (diameter, pairs * pair_volume / (PI / 4.0 * diameter * diameter) / diameter)
}

/// Source: section 6 of the model; a spherical cap by elementary geometry.
#[test]
fn a_filled_seed_sits_as_a_cap() {
    for (share, degrees) in [(0.0, 90.001), (0.0, 120.0), (0.35, 115.0), (0.6, 140.0)] {
        let mut job = plain();
        job["seeds"]["spread_gsd"] = json!(1.1);
        job["kinetics"]["seed"] = json!({ "group_iii_share": share, "contact_angle_deg": degrees });
        let report = predicted(&job);
        let (want, _) = wire_of_seed(share, f64::to_radians(degrees), 1.0);
        for of in ["mean", "sd", "p50"] {
            let (wire, seed) = (format!("seeds.wire_diameter_nm.{of}"), format!("seeds.diameter_nm.{of}"));
            let got = figure(&report, &wire) / figure(&report, &seed);
            near(&format!("x = {share}, β = {degrees}°: wire over seed, {of}"), got, want, 2e-5);
        }
    }
}

/// Lengths and times of the paths of a job on a fine grid: (t, L).
fn paths(job: &Value) -> (Box<Line>, Vec<(f64, f64)>) {
    with_room(|| {
        let line = checked(job);
        let mut properties = Box::new(Properties::new());
        properties.fill(&line);
        let mut paths = Vec::new();
        let end = follow::<24, 8, 3>(&line, &properties, 200, |here| {
            let class = here.passage.classes[here.passage.middle];
            let length = |p: usize| (here.now.running[p][here.passage.middle] - class.incubation).max(0.0);
            paths = (0..8).map(|p| (here.now.time[p], length(p))).collect();
        });
        assert!(end.is_ok(), "{end:?}");
        (line, paths)
    })
}

/// Source: section 6 of the model with supply out of reach: L = v t − Λ_inc on every path, and so of the mean.
#[test]
fn a_kinetic_wire_grows_at_its_rate() {
    let mut job = plain();
    // 2 nm/s against a supply of more than 50 µm/s.
    job["kinetics"]["axial"]["rate_um_per_s"] = json!(0.002);
    job["kinetics"]["supply"] = json!({ "sticking": 1.0, "collection_length_nm": 1000 });
    job["kinetics"]["seed"] = json!({ "group_iii_share": 0.01, "contact_angle_deg": 115 });
    job["stages"][0]["feeds"][0]["bubbler"] =
        json!({ "bath_c": 60, "bath_mbar": 1000, "carrier_sccm": 300, "line_c": 80 });
    let (line, paths) = paths(&job);
    let (ratio, incubation) = wire_of_seed(0.01, f64::to_radians(115.0), line.material.pair_volume());
    let incubation = incubation * ratio * 50e-9;
    for (p, (time, length)) in paths.iter().enumerate() {
        near(&format!("path {p}: L at t = {time:.3} s"), *length, 2e-9 * time - incubation, 2e-5);
    }
    let report = predicted(&job);
    let want = 2.0 * figure(&report, "stages[0].residence_s.seeds.mean") - incubation * 1e9;
    near("mean length, nm", figure(&report, "wires.length_nm.mean"), want, 2e-4);
    let want = 2.0 * figure(&report, "stages[0].residence_s.seeds.sd");
    near("sd of length, nm", figure(&report, "wires.length_nm.sd"), want, 2e-4);
}

/// Flux of supply to a sphere of radius a, Σ over what is there (only the parent), 1/(m² s), written from Fuchs & Sutugin 1970:
/// (D n/a)(1 + Kn)/(1 + (4/(3α) + 0.377)Kn + 4Kn²/(3α)), Kn = 3D/(c̄ a).
fn supply(line: &Line, partial: f64, radius: f64, sticking: f64) -> f64 {
    let diffusion = spreading(line, "TMIn") / (line.pressure / (GAS_CONSTANT * WARM));
    let knudsen = 3.0 * diffusion / (mean_speed(line, "TMIn") * radius);
    let hindered = 1.0 + (4.0 / (3.0 * sticking) + 0.377) * knudsen + 4.0 * knudsen * knudsen / (3.0 * sticking);
    diffusion * partial / (BOLTZMANN * WARM) / radius * (1.0 + knudsen) / hindered
}

/// Source: section 6 of the model with the kinetic rate out of reach: dL/dt = A + B tanh(L/λ), A = ΩJ 2/(1 + cos β), B = ΩJ 4λ/d, so
/// t = Λ_inc/A + [A L − B λ ln(cosh y + (B/A) sinh y)]/(A² − B²), y = L/λ; without collection L = A t − Λ_inc.
#[test]
fn a_starved_wire_grows_as_it_is_supplied() {
    for collection in [0.0, 40.0, 300.0, 5000.0] {
        let mut job = plain();
        job["kinetics"]["axial"]["rate_um_per_s"] = json!(1e6);
        job["kinetics"]["supply"] = json!({ "sticking": 0.3, "collection_length_nm": collection });
        job["kinetics"]["seed"] = json!({ "group_iii_share": 0.2, "contact_angle_deg": 115 });
        // So little that a wire grows a few of its diameters.
        job["stages"][0]["feeds"][0]["bubbler"]["carrier_sccm"] = json!(6);
        let (line, paths) = paths(&job);
        let partial = line.pressure * line.stages[0].fed[0] / line.stages[0].flow;
        let angle = f64::to_radians(115.0);
        let (ratio, incubation) = wire_of_seed(0.2, angle, line.material.pair_volume());
        let (diameter, incubation) = (ratio * 50e-9, incubation * ratio * 50e-9);
        let arriving = line.material.pair_volume() * supply(&line, partial, 0.5 * diameter, 0.3);
        let (a, lambda) = (arriving * 2.0 / (1.0 + angle.cos()), collection * 1e-9);
        let b = arriving * 4.0 * lambda / diameter;
        for (p, (time, length)) in paths.iter().enumerate().step_by(3) {
            let wanted = if collection > 0.0 {
                let y = length / lambda;
                let logarithm = (y.cosh() + b / a * y.sinh()).ln();
                incubation / a + (a * length - b * lambda * logarithm) / (a * a - b * b)
            } else {
                (length + incubation) / a
            };
            near(&format!("λ_s = {collection} nm, path {p}: t of L = {:.1} nm", length * 1e9), *time, wanted, 1e-3);
        }
    }
}

/// Source: section 6 of the model: dN/dΛ = (N∞ − N)/ℓ_d behind a junction, N∞ constant: from 10 to 90 % of N∞ in 2.2 ℓ_d. The report
/// measures the change to the end of the segment, N∞ (1 − e^(−L/ℓ)): a share of it is reached at x = −ℓ ln(1 − share (1 − e^(−L/ℓ))).
#[test]
fn a_junction_is_as_wide_as_the_seed_remembers() {
    for memory in [0.3, 1.0] {
        let mut job = plain();
        job["kinetics"]["axial"]["rate_um_per_s"] = json!(0.2);
        job["kinetics"]["supply"] = json!({ "sticking": 1.0, "collection_length_nm": 1000 });
        job["kinetics"]["dopants"]["DEZn"]["memory_diameters"] = json!(memory);
        let mut second = stage();
        second["feeds"] = json!([zinc()]);
        second["carrier_sccm"] = json!(0);
        job["stages"] = json!([stage(), second]);
        let report = predicted(&job);
        let ell = memory * figure(&report, "wires.diameter_nm.tip.mean");
        let length = figure(&report, "wires.segments[1].length_nm.mean");
        let reached = 1.0 - (-length / ell).exp();
        let place = |share: f64| -ell * (1.0 - share * reached).ln();
        let transition = "wires.segments[1].transition";
        near(
            &format!("ℓ_d = {ell:.1} nm: offset"),
            figure(&report, &format!("{transition}.offset_nm")),
            place(0.5),
            0.01,
        );
        let width = figure(&report, &format!("{transition}.width_nm"));
        near(&format!("ℓ_d = {ell:.1} nm: width"), width, place(0.9) - place(0.1), 0.01);
        // To the full N∞ it is 2.2 ℓ_d.
        let full = along(&report, 0.9e18) - along(&report, 0.1e18);
        near(&format!("ℓ_d = {ell:.1} nm: width to the full doping"), full, 9.0_f64.ln() * ell, 3e-3);
        let acceptor = figure(&report, "wires.segments[1].dopants.DEZn.mean_per_cm3");
        near(&format!("ℓ_d = {ell:.1} nm: mean doping"), acceptor, (1.0 - ell / length * reached) * 1e18, 1e-3);
    }
}

/// Where the acceptors of the mean wire reach a value, nm from the base.
fn along(report: &Value, wanted: f64) -> f64 {
    let column = |name: &str| -> Vec<f64> {
        let column = value(report, &format!("wires.along.{name}")).and_then(Value::as_array);
        column.into_iter().flatten().filter_map(Value::as_f64).collect()
    };
    let (x, n) = (column("x_nm"), column("acceptors_per_cm3"));
    let i = n.iter().position(|n| *n >= wanted).unwrap_or(0).max(1);
    x[i - 1] + (wanted - n[i - 1]) / (n[i] - n[i - 1]) * (x[i] - x[i - 1])
}

/// Source: section 6 of the model at a constant radial rate: coat of a later stage v_rad t_2, taper of the own one v_rad (t − t_inc);
/// base diameter d + 2 of both.
#[test]
fn a_coat_grows_at_its_rate() {
    let mut job = plain();
    job["kinetics"]["axial"]["rate_um_per_s"] = json!(0.1);
    job["kinetics"]["supply"] = json!({ "sticking": 1.0, "collection_length_nm": 1000 });
    // The radial rate goes with the pressure of group III: stated at what there is.
    job["stages"][0]["feeds"][0]["bubbler"]["carrier_sccm"] = json!(100);
    let mut second = stage();
    second["feeds"] = json!([]);
    second["carrier_sccm"] = json!(0);
    job["stages"] = json!([stage(), second]);
    let partial = {
        let line = with_room(|| checked(&job));
        line.pressure * line.stages[0].fed[0] / line.stages[0].flow
    };
    job["kinetics"]["reference"]["group_iii_pa"] = json!(partial);
    job["kinetics"]["radial"]["rate_nm_per_s"] = json!(0.5);
    let report = predicted(&job);
    let line = with_room(|| checked(&job));
    let angle = line.growth.contact_angle;
    let (ratio, incubation) = wire_of_seed(line.growth.group_iii_share, angle, line.material.pair_volume());
    let diameter = ratio * 50e-9;
    // While the seed fills there is no sidewall to supply it.
    let arriving =
        line.material.pair_volume() * supply(&line, partial, 0.5 * diameter, 1.0) * 2.0 / (1.0 + angle.cos());
    let filling = incubation * diameter * (1.0 / 0.1e-6 + 1.0 / arriving);
    let time = |stage: usize| figure(&report, &format!("stages[{stage}].residence_s.seeds.mean"));
    near("coat of the second stage, nm", figure(&report, "wires.segments[0].coat_nm"), 0.5 * time(1), 2e-4);
    near(
        "own taper of the first, nm",
        figure(&report, "wires.segments[0].own_taper_nm"),
        0.5 * (time(0) - filling),
        5e-4,
    );
    near("own taper of the second, nm", figure(&report, "wires.segments[1].own_taper_nm"), 0.5 * time(1), 2e-4);
    let base = diameter * 1e9 + 2.0 * 0.5 * (time(0) - filling + time(1));
    near("base diameter, nm", figure(&report, "wires.diameter_nm.base.mean"), base, 1e-4);
}

/// Source: section 2 of the model, isothermal: 1/S = 1 + 2K N t on every path, N the seeds where they are.
#[test]
fn a_dense_cloud_thins_out() {
    let mut job = plain();
    job["seeds"]["concentration_per_cm3"] = json!(3e7);
    let (line, paths) = paths(&job);
    let viscosity = line.carrier.viscosity(WARM);
    let diameter = line.seeds.median_diameter;
    let slip = seed::slip_correction(2.0 * line.carrier.mean_free_path(WARM, line.pressure) / diameter);
    let diffusion = seed::diffusion(WARM, diameter, viscosity, slip);
    let kernel = 2.0 * seed::coagulation_coefficient(diameter, 19_300.0, WARM, diffusion);
    // Per mol of aerosol they are as many as they entered with; hot gas is thinner.
    let density = line.seeds.rate / line.aerosol * line.pressure / (GAS_CONSTANT * WARM);
    let single = |(p, (time, _)): (usize, &(f64, f64))| weight::<8>(p) / (1.0 + kernel * density * time);
    let want: f64 = paths.iter().enumerate().map(single).sum();
    let report = predicted(&job);
    let got = figure(&report, "stages[0].seeds.per_s_out") / figure(&report, "stages[0].seeds.per_s_in");
    near("single seeds", got, want, 1e-6);
    near("lost by meeting", figure(&report, "stages[0].seeds.coagulated_share"), 1.0 - want, 1e-5);
}
