//! What must hold for every job: the balance of every species closes, wires hold what the gas lost, no figure is missing,
//! infinite or negative, and the same job gives the same bytes.
//!
//! `LOFTWIRE_CASES` says how many random jobs are predicted. A job that fails is made plainer while it still fails, and shown.

use loftwire_core::predict::Predictor;
use loftwire_core::properties::Properties;
use loftwire_tests::follow::follow;
use loftwire_tests::prediction::{FINE_STATIONS, line, with_room};
use loftwire_tests::random::{Draw, NUMBERS};
use loftwire_tests::sound::{self, Sound};
use proptest::collection::vec;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestError, TestRng, TestRunner};
use std::cell::{Cell, RefCell};

/// Random jobs unless `LOFTWIRE_CASES` says otherwise.
const CASES: u32 = 100;
/// Start of the random numbers.
const SEED: [u8; 32] = *b"one seed, printed with the cases";
/// Refused jobs, or jobs that turn back, for each one that is predicted, before the suite gives up.
const REJECTED: u32 = 4;

/// Worst closure of a species, of what was fed or what entered a stage.
const CLOSURE: f64 = 1e-9;
/// What the wires hold against what the gas lost.
const WIRES_AGAINST_GAS: f64 = 2e-3;
/// Largest numerical error of the mean length that is believed, of the length, and in nm.
const LENGTH_ERROR: (f64, f64) = (0.02, 1.0);
/// Mole fractions so small that they are nothing.
const NOTHING: f64 = 1e-15;
/// Furthest that a parent falls below nothing, of its largest in the line: where it breaks within a step or two, the two-station
/// difference in z overshoots once (some 3 % at 200 stations) and comes back. Never seen of anything else.
const UNDERSHOOT: f64 = 0.05;

fn cases() -> u32 {
    std::env::var("LOFTWIRE_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(CASES)
}

/// Runs a property over random jobs; one that gives nothing is not counted.
fn over_jobs(cases: u32, property: impl Fn(&str) -> Option<Vec<String>>) {
    let config =
        Config { cases, max_global_rejects: REJECTED * cases + 10, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &SEED));
    let rejected = Cell::new(0);
    let result = runner.run(&vec(0.0..1.0_f64, NUMBERS), |numbers| {
        let job = Draw::new(&numbers).job().to_string();
        match property(&job) {
            None => {
                rejected.set(rejected.get() + 1);
                Err(TestCaseError::reject("refused, or turns back"))
            }
            Some(faults) if faults.is_empty() => Ok(()),
            Some(faults) => Err(TestCaseError::fail(faults.join("; "))),
        }
    });
    println!(
        "{cases} jobs from the seed {:?}; {} more refused or turning back",
        SEED.escape_ascii().to_string(),
        rejected.get()
    );
    match result {
        Ok(()) => {}
        Err(TestError::Fail(why, numbers)) => panic!("{why}\n{}", Draw::new(&numbers).job()),
        Err(TestError::Abort(why)) => panic!("{why}"),
    }
}

/// Source: section 5 of the model: what is in the wires, on the wall and in the exhaust adds up to what was fed.
#[test]
fn every_job_keeps_its_books() {
    let [closure, against_gas, length] = with_room(|| {
        let worst = RefCell::new([0.0_f64; 3]);
        let predictor = RefCell::new(Box::new(Predictor::new()));
        over_jobs(cases(), |job| {
            // What is refused has its own suite.
            let line = line(job).ok()?;
            let mut predictor = predictor.borrow_mut();
            let report = predictor.predict(&line);
            report.refused.is_none().then_some(())?;
            let sound = Sound::of(report);
            let mut faults = sound.faults();
            books(&sound, &mut worst.borrow_mut(), &mut faults);
            if Sound::of(predictor.predict(&line)).text() != sound.text() {
                faults.push("predicted again it is another report".to_owned());
            }
            Some(faults)
        });
        worst.into_inner()
    });
    println!("worst closure {closure:.1e}, wires against gas {against_gas:.1e}, error of the mean length {length:.1e}");
}

/// Closures, and errors that the report states of itself.
fn books(sound: &Sound, worst: &mut [f64; 3], faults: &mut Vec<String>) {
    let figure = |path: &str| sound.figure(path).unwrap_or(f64::NAN);
    let mut hold = |what: &str, value: f64, most: f64| {
        // NaN is no closure.
        if !(value.abs() <= most) {
            faults.push(format!("{what} is {value:e}, above {most:e}"));
        }
        value.abs()
    };
    worst[0] = worst[0].max(hold("numerics.balance_error", figure("numerics.balance_error"), CLOSURE));
    for (path, value) in sound.numbers().filter(|(path, _)| path.ends_with(".closure")) {
        worst[0] = worst[0].max(hold(path, value, CLOSURE));
    }
    let against_gas = figure("numerics.wires_against_gas");
    worst[1] = worst[1].max(hold("numerics.wires_against_gas", against_gas, WIRES_AGAINST_GAS));
    let length = figure("wires.length_nm.mean");
    let most = LENGTH_ERROR.0 * length + LENGTH_ERROR.1;
    let error = hold("numerics.length_error_nm", figure("numerics.length_error_nm"), most);
    if length > 100.0 {
        worst[2] = worst[2].max(error / length);
    }
}

/// Source: section 0 of the model: B > 0, so no mole fraction falls below nothing across a tube. Along it, a parent that is spent
/// within a step may once.
#[test]
fn no_mole_fraction_falls_below_nothing() {
    let worst = with_room(|| {
        let worst = Cell::new(0.0_f64);
        let properties = RefCell::new(Box::new(Properties::new()));
        over_jobs(cases(), |job| {
            let line = line(job).ok()?;
            let mut properties = properties.borrow_mut();
            properties.fill(&line);
            let (mut faults, mut largest) = (Vec::new(), [0.0_f64; loftwire_core::line::SPECIES]);
            follow::<24, 8, 18>(&line, &properties, FINE_STATIONS, |here| {
                for (s, species) in line.species.iter().enumerate() {
                    let field = &here.now.share[s];
                    largest[s] = field.iter().fold(largest[s], |most, share| most.max(*share));
                    let least = field.iter().fold(0.0_f64, |least, share| least.min(*share));
                    // Rounding aside, only the parent may.
                    let room = if s == 0 { UNDERSHOOT } else { 1e-12 };
                    if least < -room * largest[s] - NOTHING {
                        let name = &species.name;
                        faults.push(format!("{name} is {least:e} at station {} of stage {}", here.station, here.stage));
                    } else if largest[s] > NOTHING {
                        worst.set(worst.get().max(-least / largest[s]));
                    }
                }
            })
            .ok()?;
            Some(faults)
        });
        worst.get()
    });
    println!("furthest below nothing: {worst:.1e} of the largest in the line");
}

/// A bug once: wires of seeds too small to grow were in no bin of the histogram, so that its shares did not sum to 1.
#[test]
fn wires_that_do_not_grow_are_counted() {
    let job = serde_json::json!({
        "format": "wire-growth-job/1",
        "carrier": { "H2": 1.0 },
        "pressure_mbar": 1000,
        "material": "GaP",
        "seeds": { "mobility_diameter_nm": 20, "spread_gsd": 1.245, "concentration_per_cm3": 1e4, "charges": 0 },
        "aerosol_sccm": 300,
        "stages": [{
            "tube_diameter_mm": 25.25,
            "inlet_c": 150,
            "flange_c": 110,
            "zones": [{ "length_mm": 131.8, "wall_c": 454.3 }],
            "carrier_sccm": 300,
            "feeds": [
                { "precursor": "TMGa", "bubbler": { "bath_c": -10, "bath_mbar": 900, "carrier_sccm": 2 } },
                { "precursor": "PH3", "flow_sccm": 3, "share": 0.1 },
            ],
        }],
    });
    let (faults, shares) = with_room(|| {
        let line = line(&job.to_string()).unwrap();
        let mut predictor = Box::new(Predictor::new());
        let sound = Sound::of(predictor.predict(&line));
        let shares: Vec<f64> = sound
            .numbers()
            .filter(|(path, _)| path.starts_with("wires.histogram.share["))
            .map(|(_, share)| share)
            .collect();
        (sound.faults(), shares)
    });
    assert_eq!(faults, Vec::<String>::new());
    assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12, "{shares:?}");
}

/// What is sound is found so, and what is not is not: the checks of this suite can fail.
#[test]
fn a_report_that_is_not_sound_is_found_out() {
    let good = r#"{"stages":[{"flow":{"reynolds":3},"inlet":{"v_iii":null}}],"wires":{"segments":[]}}"#;
    assert_eq!(sound::faults_of(good, "Report { reynolds: 3.0 }"), Vec::<String>::new());
    for (bad, words) in [
        (good.replace('3', "-3"), "Report { reynolds: -3.0 }"),
        (good.replace('3', "null"), "Report { reynolds: NaN }"),
        (good.to_owned(), "Report { reynolds: inf }"),
    ] {
        assert_eq!(sound::faults_of(&bad, words).len(), 1, "{bad}");
    }
}
