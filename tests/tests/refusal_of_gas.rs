//! Jobs whose gas turns back: where it does, what the report says of it, and that it says nothing else.

use loftwire_core::flow::{Gas, Place, Rings, Velocity, develop};
use loftwire_core::judge::refuse;
use loftwire_core::march::Refusal;
use loftwire_core::predict::{Coarse, Fine, Predictor};
use loftwire_core::properties::Properties;
use loftwire_core::report::Report;
use loftwire_core::stage::Turn;
use loftwire_core::units::GAS_CONSTANT;
use loftwire_core::verdict::words;
use loftwire_tests::prediction::{COARSE_STATIONS, line, value, with_room};
use serde_json::{Value, json};

/// A slow stage in argon: the gas enters at one temperature and the wall is at another.
fn stage(flow: &str, inlet_c: f64, wall_c: f64, carrier_sccm: f64) -> Value {
    json!({
        "tube_diameter_mm": 30,
        "flow": flow,
        "inlet_c": inlet_c,
        "zones": [{ "length_mm": 400, "wall_c": wall_c }],
        "blend_mm": 80,
        "carrier_sccm": carrier_sccm,
        "feeds": [
            { "precursor": "TMGa", "bubbler": { "bath_c": -10, "bath_mbar": 1000, "carrier_sccm": 5 } },
            { "precursor": "AsH3", "flow_sccm": 10, "share": 1.0 },
        ],
    })
}

fn job(stages: &[Value]) -> String {
    let job = json!({
        "format": "wire-growth-job/1",
        "carrier": { "Ar": 1.0 },
        "pressure_mbar": 1000,
        "material": "GaAs",
        "seeds": { "mobility_diameter_nm": 50, "spread_gsd": 1.1, "concentration_per_cm3": 1e5 },
        "aerosol_sccm": 200,
        "stages": stages,
        "order": { "diameter_nm": 55, "segments": stages.iter().map(|_| Value::Null).collect::<Vec<_>>() },
    });
    job.to_string()
}

/// The report of a job, as its JSON says it.
fn predicted(job: &str) -> Value {
    let line = line(job).unwrap_or_else(|why| panic!("{why}"));
    let mut predictor = Box::new(Predictor::new());
    serde_json::to_value(predictor.predict(&line)).unwrap_or_else(|why| panic!("{why}"))
}

/// Where the gas of a job turns back.
fn turned(job: &str) -> Value {
    let report = with_room(|| predicted(job));
    nothing_else(&report);
    report["refused"].clone()
}

/// A refused report gives no other figure.
fn nothing_else(report: &Value) {
    for (field, value) in report.as_object().into_iter().flatten() {
        match field.as_str() {
            // What the job alone tells remains in the cautions: words, no figures.
            "format" | "refused" | "cautions" => {}
            "warnings" => {
                let entries = value.as_array().into_iter().flatten().filter_map(Value::as_object).flatten();
                assert!(entries.clone().all(|(_, words)| words.is_string()), "{field}: {value}");
            }
            _ => assert!(value.is_null() || value.as_array().is_some_and(Vec::is_empty), "{field}: {value}"),
        }
    }
}

/// The text of a refusal is that of the job file's page.
fn text(refused: &Value) {
    let (z, ratio) =
        (refused["z_mm"].as_f64().unwrap_or(f64::NAN), refused["grashof_over_reynolds"].as_f64().unwrap_or(f64::NAN));
    assert!(z > 0.0 && ratio > 0.0, "{refused}");
    assert_eq!(refused["text"], format!("gas turns back at z = {z:.0} mm (Gr/Re = {ratio:.0}); not predicted"));
}

/// Source: section 4 of the model: heated and down, cooled and up turn at the wall.
#[test]
fn gas_turns_back_at_the_wall() {
    for (flow, inlet_c, wall_c) in [("down", 30.0, 500.0), ("up", 500.0, 30.0)] {
        let refused = turned(&job(&[stage(flow, inlet_c, wall_c, 300.0)]));
        assert_eq!(refused["at"], "wall", "{flow}: {refused}");
        assert_eq!(refused["path"], "stages[0]");
        text(&refused);
    }
}

/// Source: section 4 of the model: heated and up, cooled and down turn on the axis.
#[test]
fn gas_turns_back_on_the_axis() {
    for (flow, inlet_c, wall_c) in [("up", 30.0, 500.0), ("down", 500.0, 30.0)] {
        let refused = turned(&job(&[stage(flow, inlet_c, wall_c, 150.0)]));
        assert_eq!(refused["at"], "axis", "{flow}: {refused}");
        text(&refused);
    }
}

/// Source: (1/r) d(r μ du/dr)/dr = P + (ρ − ρ_m) g for a cold ring between 0.4 R and 0.8 R, solved on 400 rings: of all places the
/// velocity first falls to nothing at 0.66 R, while axis and wall still flow.
///
/// No job is known whose gas turns there first: a wall that makes such a ring turns the gas at itself before.
#[test]
fn gas_turns_back_between_wall_and_axis() {
    let rings = Rings::<96>::new(0.015, 0.4, 48);
    let mut temperature = [500.0; 96];
    let mut inner = 0.0;
    for (t, edge) in temperature.iter_mut().zip(&rings.parabola) {
        let middle = (0.5 * (inner + edge)).sqrt() / 0.015;
        *t = if (0.4..0.8).contains(&middle) { 400.0 } else { 500.0 };
        inner = *edge;
    }
    let viscosity = [3e-5; 96];
    let turns = |flow: f64| {
        let gas = Gas {
            temperature: &temperature,
            viscosity: &viscosity,
            molar_density_times_temperature: 1e5 / GAS_CONSTANT,
            molar_mass: 0.04,
            flow,
            down: -1.0,
        };
        let mut velocity = Velocity::STILL;
        let mut edge = rings.parabola;
        // The edges settle within a few steps.
        for _ in 0..20 {
            develop(&rings, &edge, &gas, &mut velocity).err().map_or(Ok(()), Err)?;
            edge = velocity.edge;
        }
        Ok(())
    };
    let (mut turning, mut flowing) = (1e-6, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (turning + flowing);
        *(if turns(middle).is_err() { &mut turning } else { &mut flowing }) = middle;
    }
    assert_eq!(turns(turning), Err(Place::Between));
    assert_eq!(turns(flowing), Ok(()));
}

/// All three places have their word in the report.
#[test]
fn every_place_has_its_word() {
    with_room(|| {
        let line = line(&job(&[stage("up", 300.0, 300.0, 3000.0)])).unwrap_or_else(|why| panic!("{why}"));
        let mut report = Box::new(Report::new());
        for (place, word) in [(Place::Wall, "wall"), (Place::Axis, "axis"), (Place::Between, "between")] {
            let turn = Turn { z: 0.0124, place, grashof_over_reynolds: 60.3 };
            refuse(&line, &Refusal { stage: 0, turn }, &mut report);
            let written = serde_json::to_value(&*report).unwrap_or_else(|why| panic!("{why}"));
            nothing_else(&written);
            assert_eq!(written["refused"]["at"], word);
            assert_eq!(written["refused"]["text"], "gas turns back at z = 12 mm (Gr/Re = 60); not predicted");
        }
    });
}

/// The sentence for a person names the stage, begins as the job file's page has it, and says what helps.
#[test]
fn the_sentence_names_the_stage_and_what_helps() {
    let sentence = with_room(|| {
        let stages = [stage("up", 300.0, 320.0, 1500.0), stage("up", 500.0, 30.0, 0.0)];
        let line = line(&job(&stages)).unwrap_or_else(|why| panic!("{why}"));
        let mut predictor = Box::new(Predictor::new());
        words::refusal(predictor.predict(&line)).to_string()
    });
    assert!(sentence.starts_with("stages[1]: gas turns back at z = "), "{sentence}");
    for word in ["not predicted", "narrower tube", "inlet", "step", "upwards"] {
        assert!(sentence.contains(word), "{word} is not in: {sentence}");
    }
}

/// Source: checks/jobs/README.md: z of a refusal agrees within one station.
#[test]
fn both_grids_find_the_same_place() {
    with_room(|| {
        let mut properties = Box::new(Properties::new());
        let (mut coarse, mut fine) = (Box::new(Coarse::new()), Box::new(Fine::new()));
        for (flow, inlet_c, wall_c, sccm) in [
            ("down", 30.0, 500.0, 300.0),
            ("up", 500.0, 30.0, 300.0),
            ("up", 30.0, 500.0, 150.0),
            ("down", 500.0, 30.0, 150.0),
        ] {
            let line = line(&job(&[stage(flow, inlet_c, wall_c, sccm)])).unwrap_or_else(|why| panic!("{why}"));
            properties.fill(&line);
            let a = coarse.run(&line, &properties, 1).map_err(|refusal| refusal.turn);
            let b = fine.run(&line, &properties, 2).map_err(|refusal| refusal.turn);
            let (Err(a), Err(b)) = (a, b) else { panic!("{flow}: only one of the grids turns back") };
            let station = line.stages[0].length / COARSE_STATIONS as f64;
            assert!((a.z - b.z).abs() <= 1.001 * station, "{flow}: {} and {} m", a.z, b.z);
            assert_eq!(a.place, b.place, "{flow}");
        }
    });
}

/// Where gas turns back at the wall its shear has fallen to nothing: between the slowest flow that is predicted and the fastest
/// that is refused there is no gap.
#[test]
fn shear_falls_to_nothing_where_gas_turns() {
    with_room(|| {
        let (mut refused, mut predicted_at) = (300.0, 20_000.0);
        let mut shear = f64::NAN;
        for _ in 0..24 {
            let middle = 0.5 * (refused + predicted_at);
            let report = predicted(&job(&[stage("down", 30.0, 60.0, middle)]));
            match value(&report, "stages[0].flow.least_wall_shear").and_then(Value::as_f64) {
                Some(least) => (predicted_at, shear) = (middle, least),
                None => refused = middle,
            }
        }
        assert!((0.0..0.03).contains(&shear), "least wall shear {shear} at {predicted_at} sccm");
    });
}

/// The isothermal parabola knows nothing of buoyancy.
#[test]
fn a_parabola_never_turns_back() {
    let mut stage = stage("down", 30.0, 500.0, 300.0);
    stage["velocity"] = json!("parabolic");
    let report = with_room(|| predicted(&job(&[stage])));
    assert!(report["refused"].is_null(), "{}", report["refused"]);
    assert!(value(&report, "wires.length_nm.mean").is_some_and(Value::is_number));
}
