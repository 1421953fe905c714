//! Jobs at the ends of what is accepted: whatever is set, the prediction ends, and its report holds no NaN and no infinity.
//!
//! Rates of metres a second and walls of a thousand degrees make no sensible wires; that figures are sensible for sensible jobs is
//! the balance suite's.
//!
//! Each setting goes to both ends of its range by itself, then several at once, drawn at random; `LOFTWIRE_CASES` says how many.

use loftwire_core::predict::Predictor;
use loftwire_tests::prediction::{line, with_room};
use loftwire_tests::sound::Sound;
use proptest::collection::vec;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use serde_json::{Value, json};

/// Random combinations unless `LOFTWIRE_CASES` says otherwise.
const CASES: u32 = 150;
/// Start of the random numbers.
const SEED: [u8; 32] = *b"both ends of all ranges, at once";

/// A job with everything in it that can be set: two stages, a bubbler, cylinders, a dopant, double dilution, an order.
fn base() -> Value {
    let stage = json!({
        "tube_diameter_mm": 30,
        "inlet_c": 150,
        "flange_c": 150,
        "blend_mm": 20,
        "zones": [{ "length_mm": 200, "wall_c": 450 }, { "length_mm": 200, "wall_c": 440 }],
        "carrier_sccm": 2000,
        "feeds": [
            { "precursor": "TMIn", "bubbler": { "bath_c": 20, "bath_mbar": 1000, "carrier_sccm": 80, "line_c": 40 } },
            { "precursor": "PH3", "flow_sccm": 20, "share": 1.0 },
            { "precursor": "SiH4", "flow_sccm": 20, "share": 0.01, "push_sccm": 200, "inject_sccm": 50 },
            { "precursor": "DEZn", "bubbler": { "bath_c": 0, "bath_mbar": 1000, "carrier_sccm": 5, "line_c": 40 } },
        ],
    });
    let segment = json!({ "length_nm": 500, "tolerance_nm": 100, "doping": "p", "carriers_per_cm3": 1e18 });
    json!({
        "format": "wire-growth-job/1",
        "carrier": { "H2": 1.0 },
        "pressure_mbar": 1000,
        "material": "InP",
        "seeds": { "mobility_diameter_nm": 50, "spread_gsd": 1.1, "concentration_per_cm3": 1e5 },
        "aerosol_sccm": 600,
        "stages": [stage.clone(), stage],
        "kinetics": {},
        "order": { "diameter_nm": 60, "segments": [segment.clone(), segment], "wires": 1e9 },
    })
}

/// A classifier, which takes the place of the sizes.
fn classifier() -> Value {
    json!({
        "inner_radius_mm": 9.37, "outer_radius_mm": 19.61, "length_mm": 443.7, "sheath_slm": 10, "aerosol_slm": 1, "temperature_c": 22,
        "voltage_v": 500, "carrier": { "N2": 1.0 }, "pressure_mbar": 1000, "source_median_nm": 40, "source_gsd": 1.6,
    })
}

/// Settings with the values at and near the ends of their ranges. Paths are JSON pointers; where a list stands in the path, all its
/// entries are set.
fn settings() -> Vec<(&'static str, Vec<Value>)> {
    let amount = || vec![json!(0), json!(1e-12), json!(1e12), json!(1e30)];
    let positive = || vec![json!(1.1e-30), json!(1e-9), json!(1e9), json!(1e30)];
    let share = || vec![json!(0), json!(1e-12), json!(1)];
    let activation = || vec![json!(0), json!(600)];
    let order = || vec![json!(0), json!(3)];
    let temperature = || vec![json!(-50), json!(1000)];
    vec![
        (
            "/carrier",
            vec![json!({"N2": 1.0}), json!({"Ar": 1.0}), json!({"He": 1.0}), json!({"H2": 1e-9, "Ar": 0.999_999_999})],
        ),
        ("/pressure_mbar", vec![json!(50), json!(2000)]),
        ("/aerosol_sccm", vec![json!(1), json!(20_000)]),
        ("/transport", vec![json!({ "thermal_diffusion": false })]),
        ("/seeds/mobility_diameter_nm", vec![json!(2), json!(500)]),
        ("/seeds/spread_gsd", vec![json!(1), json!(1.000_000_1), json!(2.5)]),
        ("/seeds/concentration_per_cm3", vec![json!(1), json!(1e9)]),
        ("/seeds/charges", vec![json!(0), json!(10)]),
        ("/seeds/drift", vec![json!("none")]),
        ("/seeds/shape_factor", vec![json!(0.5), json!(3)]),
        ("/stages/*/tube_diameter_mm", vec![json!(5), json!(200)]),
        ("/stages/*/flow", vec![json!("up")]),
        ("/stages/*/velocity", vec![json!("parabolic")]),
        ("/stages/1/streamlines", vec![json!("mixed")]),
        ("/stages/*/inlet_c", temperature()),
        ("/stages/*/flange_c", temperature()),
        ("/stages/*/blend_mm", vec![json!(0), json!(1e-9), json!(500)]),
        ("/stages/*/zones/*/wall_c", temperature()),
        ("/stages/0/zones/0/wall_c", temperature()),
        ("/stages/*/zones/*/length_mm", vec![json!(10), json!(2000)]),
        ("/stages/*/carrier_sccm", vec![json!(0), json!(31.6), json!(100_000)]),
        ("/stages/1/feeds", vec![json!([])]),
        ("/stages/*/feeds/0/bubbler/bath_c", vec![json!(-40), json!(39)]),
        ("/stages/*/feeds/0/bubbler/carrier_sccm", vec![json!(0), json!(100_000)]),
        ("/stages/*/feeds/1/flow_sccm", vec![json!(0), json!(100_000)]),
        ("/stages/*/feeds/1/share", share()),
        ("/stages/*/feeds/2/inject_sccm", vec![json!(0), json!(220)]),
        ("/kinetics/axial/rate_um_per_s", amount()),
        ("/kinetics/axial/activation_kj_per_mol", activation()),
        ("/kinetics/axial/group_iii_order", order()),
        ("/kinetics/axial/v_iii_half", amount()),
        ("/kinetics/axial/critical_diameter_nm", vec![json!(0), json!(59.999)]),
        ("/kinetics/reference/temperature_c", temperature()),
        ("/kinetics/reference/group_iii_pa", positive()),
        ("/kinetics/reference/v_iii", positive()),
        ("/kinetics/reference/diameter_nm", vec![json!(8.001), json!(1e9), json!(1e30)]),
        ("/kinetics/supply/sticking", share()),
        ("/kinetics/supply/collection_length_nm", amount()),
        ("/kinetics/radial/rate_nm_per_s", amount()),
        ("/kinetics/radial/activation_kj_per_mol", activation()),
        ("/kinetics/seed/group_iii_share", vec![json!(0), json!(1e-12), json!(0.999_999)]),
        ("/kinetics/seed/contact_angle_deg", vec![json!(90.000_001), json!(179.999)]),
        ("/kinetics/pyrolysis/frequency_per_s", vec![json!(0), json!(1e25)]),
        ("/kinetics/pyrolysis/activation_kj_per_mol", activation()),
        ("/kinetics/wall/parent_probability", share()),
        ("/kinetics/wall/fragment_probability", share()),
        ("/kinetics/wall/activation_kj_per_mol", activation()),
        ("/kinetics/wall/group_v_probability", share()),
        ("/kinetics/wall/group_v_activation_kj_per_mol", activation()),
        ("/kinetics/wall/dopant_probability", share()),
        ("/kinetics/dopants/DEZn/reference_per_cm3", amount()),
        ("/kinetics/dopants/DEZn/reference_ratio", positive()),
        ("/kinetics/dopants/DEZn/order", order()),
        ("/kinetics/dopants/DEZn/activation_kj_per_mol", vec![json!(-600), json!(600)]),
        ("/kinetics/dopants/DEZn/limit_per_cm3", amount()),
        ("/kinetics/dopants/DEZn/memory_diameters", amount()),
        ("/order/spread_cv", vec![json!(0), json!(1e30)]),
        ("/order/wires", positive()),
    ]
}

/// The same of the classifier's settings.
fn classifier_settings() -> Vec<(&'static str, Vec<Value>)> {
    vec![
        ("/classifier/inner_radius_mm", vec![json!(1), json!(19.5)]),
        ("/classifier/outer_radius_mm", vec![json!(9.5), json!(200)]),
        ("/classifier/length_mm", vec![json!(5), json!(2000)]),
        ("/classifier/sheath_slm", vec![json!(1.001), json!(100)]),
        ("/classifier/aerosol_slm", vec![json!(0.01), json!(9.999)]),
        ("/classifier/temperature_c", vec![json!(-50), json!(1000)]),
        ("/classifier/voltage_v", vec![json!(1), json!(30_000)]),
        ("/classifier/polarity", vec![json!("negative")]),
        ("/classifier/pressure_mbar", vec![json!(500), json!(2000)]),
        ("/classifier/source_median_nm", vec![json!(2), json!(500)]),
        ("/classifier/source_gsd", vec![json!(1), json!(1.000_001), json!(2.5)]),
    ]
}

/// Sets what stands at a pointer, `*` being every entry of a list; objects on the way are made.
fn set(job: &mut Value, pointer: &str, value: &Value) {
    let Some(rest) = pointer.strip_prefix('/') else {
        job.clone_from(value);
        return;
    };
    let (key, behind) = rest.find('/').map_or((rest, ""), |slash| rest.split_at(slash));
    match job {
        Value::Array(list) if key == "*" => list.iter_mut().for_each(|entry| set(entry, behind, value)),
        Value::Array(list) => {
            if let Some(entry) = key.parse::<usize>().ok().and_then(|place| list.get_mut(place)) {
                set(entry, behind, value);
            }
        }
        _ => set(&mut job[key], behind, value),
    }
}

/// What became of a job.
#[derive(Default)]
struct Counts {
    predicted: u32,
    turned: u32,
    refused: Vec<String>,
}

/// Predicts a job at an end of something; what is not sound is a fault.
fn predict(predictor: &mut Predictor, job: &Value, what: &str, counts: &mut Counts) -> Vec<String> {
    let line = match line(&job.to_string()) {
        Ok(line) => line,
        Err(why) => {
            counts.refused.push(format!("{what}: {why}"));
            return Vec::new();
        }
    };
    let report = predictor.predict(&line);
    if report.refused.is_some() {
        counts.turned += 1;
    } else {
        counts.predicted += 1;
    }
    let faults = Sound::of(report).not_finite();
    faults.into_iter().map(|fault| format!("{what}: {}", fault.chars().take(400).collect::<String>())).collect()
}

/// The ends of every range, one at a time.
#[test]
fn no_end_of_a_range_breaks_the_report() {
    let (faults, counts) = with_room(|| {
        let mut predictor = Box::new(Predictor::new());
        let (mut faults, mut counts) = (Vec::new(), Counts::default());
        let mut classified = base();
        classified["classifier"] = classifier();
        classified["seeds"] = json!({ "concentration_per_cm3": 1e5 });
        let all = settings().into_iter().map(|setting| (base(), setting));
        for (job, (pointer, values)) in
            all.chain(classifier_settings().into_iter().map(|setting| (classified.clone(), setting)))
        {
            for value in values {
                let mut job = job.clone();
                set(&mut job, pointer, &value);
                faults.extend(predict(&mut predictor, &job, &format!("{pointer} = {value}"), &mut counts));
            }
        }
        (faults, counts)
    });
    println!("{} predicted, {} turn back, {} refused:", counts.predicted, counts.turned, counts.refused.len());
    counts.refused.iter().for_each(|what| println!("    {what}"));
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

/// A bug once: where wires went on growing without group V, and so took the last of it, the division by what was left was infinite.
#[test]
fn a_trace_that_is_spent_divides_nothing() {
    let faults = with_room(|| {
        let mut predictor = Box::new(Predictor::new());
        let (mut faults, mut counts) = (Vec::new(), Counts::default());
        let mut job = base();
        set(&mut job, "/stages/*/velocity", &json!("parabolic"));
        set(&mut job, "/stages/*/zones/*/length_mm", &json!(2000));
        set(&mut job, "/stages/*/feeds/1/share", &json!(1e-12));
        set(&mut job, "/seeds/mobility_diameter_nm", &json!(500));
        set(&mut job, "/kinetics/axial", &json!({ "v_iii_half": 0, "group_iii_order": 3 }));
        faults.extend(predict(&mut predictor, &job, "group V spent", &mut counts));
        assert_eq!(counts.predicted, 1);
        faults
    });
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Seeds in nearly all of the gas, along walls that draw them out or push them in: some paths end at the wall.
#[test]
fn seeds_up_to_the_wall_break_nothing() {
    let (faults, counts) = with_room(|| {
        let mut predictor = Box::new(Predictor::new());
        let (mut faults, mut counts) = (Vec::new(), Counts::default());
        for (inlet_c, wall_c) in [(500, -50), (20, 600), (900, 20)] {
            for velocity in ["parabolic", "developed"] {
                for streamlines in ["kept", "mixed"] {
                    let mut job = base();
                    // 155 sccm of feeds in the first stage: a share of 0.9499.
                    set(&mut job, "/aerosol_sccm", &json!(3500));
                    set(&mut job, "/stages/*/carrier_sccm", &json!(0));
                    set(&mut job, "/stages/*/feeds/0/bubbler/carrier_sccm", &json!(109));
                    set(&mut job, "/stages/1/feeds", &json!([]));
                    set(&mut job, "/stages/*/inlet_c", &json!(inlet_c));
                    set(&mut job, "/stages/*/flange_c", &json!(inlet_c));
                    set(&mut job, "/stages/*/zones/*/wall_c", &json!(wall_c));
                    set(&mut job, "/stages/*/velocity", &json!(velocity));
                    set(&mut job, "/stages/1/streamlines", &json!(streamlines));
                    let what = format!("{inlet_c} to {wall_c} °C, {velocity}, {streamlines}");
                    faults.extend(predict(&mut predictor, &job, &what, &mut counts));
                }
            }
        }
        (faults, counts)
    });
    assert!(counts.refused.is_empty(), "{}", counts.refused.join("\n"));
    println!("{} predicted, {} turn back", counts.predicted, counts.turned);
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

/// The ends of several ranges at once, parabolic half of the time so that the gas does not turn back.
#[test]
fn no_ends_together_break_the_report() {
    let cases = std::env::var("LOFTWIRE_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(CASES);
    let (faults, counts) = with_room(|| {
        let mut predictor = Box::new(Predictor::new());
        let (mut faults, mut counts) = (Vec::new(), Counts::default());
        let mut runner = TestRunner::new_with_rng(Config::default(), TestRng::from_seed(RngAlgorithm::ChaCha, &SEED));
        let numbers = vec((0.0..1.0_f64, 0.0..1.0_f64), 2..8);
        let settings = settings();
        while counts.predicted < cases {
            let drawn = numbers.new_tree(&mut runner).map(|tree| tree.current()).unwrap_or_default();
            let mut job = base();
            let mut what = Vec::new();
            for (n, (which, end)) in drawn.iter().enumerate() {
                let (pointer, values) = &settings[(which * settings.len() as f64) as usize];
                let value = &values[(end * values.len() as f64) as usize];
                set(&mut job, pointer, value);
                what.push(format!("{pointer} = {value}"));
                if n == 0 && *end < 0.5 {
                    set(&mut job, "/stages/*/velocity", &json!("parabolic"));
                    what.push("parabolic".to_owned());
                }
            }
            faults.extend(predict(&mut predictor, &job, &what.join(", "), &mut counts));
        }
        (faults, counts)
    });
    println!(
        "{} predicted, {} turn back, {} refused, from the seed {:?}",
        counts.predicted,
        counts.turned,
        counts.refused.len(),
        SEED.escape_ascii().to_string()
    );
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}
