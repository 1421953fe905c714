//! Levers: what moves the wires is what the model does when it is moved.

use loftwire_core::check::check;
use loftwire_core::job::{Job, SetPoint};
use loftwire_core::levers::{Input, Levers};
use loftwire_core::predict::Predictor;
use loftwire_tests::prediction::with_room;

/// Invented demo job.
const DEMO: &str = include_str!("../../demo/jobs/three-stage.json");

fn demo() -> Job {
    serde_json::from_str(DEMO).expect("the demo job is a job")
}

fn levers(job: &Job) -> Box<Levers> {
    let line = check(job).expect("it is accepted");
    let mut predictor = Box::new(Predictor::new());
    let mut levers = Box::new(Levers::new());
    predictor.predict(&line);
    levers.start(job, &line, predictor.report());
    // Bounded by its own count of steps.
    for _ in 0..2000 {
        if levers.progress().finished() {
            break;
        }
        levers.step(&mut predictor);
    }
    assert!(levers.progress().finished());
    levers
}

fn length(predictor: &mut Predictor, job: &Job, segment: usize) -> f64 {
    let line = check(job).expect("it is accepted");
    predictor
        .predict(&line)
        .wires
        .get()
        .expect("there are wires")
        .segments
        .get(segment)
        .expect("a segment a stage")
        .length_nm
        .mean
}

/// Source: definition of a derivative; both grids against the coarse one, 2 % or 1e-3 of the largest effect.
#[test]
fn effects_are_the_slopes_of_the_prediction() {
    with_room(|| {
        let job = demo();
        let levers = levers(&job);
        let mut predictor = Box::new(Predictor::new());
        let wanted = [
            (SetPoint::Wall(1, 1), 2.0),
            (SetPoint::BubblerCarrier(1, 0), 1.0),
            (SetPoint::Bath(1, 0), 0.2),
            (SetPoint::Carrier(1), 10.0),
            (SetPoint::Wall(0, 0), 2.0),
            (SetPoint::Aerosol, 9.0),
        ];
        let absorber = 2; // length of p contact, its doping, length of absorber
        for (point, step) in wanted {
            let lever = levers.levers.iter().find(|lever| lever.input == Input::Set(point)).unwrap();
            let mut at = |change: f64| {
                let mut job = job.clone();
                let moved = point.value(&job).unwrap() + change;
                assert!(point.set(&mut job, moved));
                length(&mut predictor, &job, 1)
            };
            let slope = (at(step) - at(-step)) / (2.0 * step);
            let effect = lever.effects[absorber];
            println!("{point}: {effect:.4} on one grid, {slope:.4} on both");
            assert!((effect - slope).abs() <= 0.02 * slope.abs() + 1e-3, "{point}: {effect} against {slope}");
        }
    });
}

/// Source: JCGM 100:2008, 5.1.2: u² is the sum of (effect · u)² for independent inputs, and shares add up to 1.
#[test]
fn budget_adds_up() {
    with_room(|| {
        let levers = levers(&demo());
        for (f, figure) in levers.figures.iter().enumerate() {
            let sum: f64 = levers.levers.iter().map(|lever| (lever.effects[f] * lever.u).powi(2)).sum();
            assert!(
                (figure.u - sum.sqrt()).abs() <= 1e-9 * figure.u,
                "{}: {} against {}",
                figure.path,
                figure.u,
                sum.sqrt()
            );
            let shares: f64 = levers.levers.iter().map(|lever| lever.share[f]).sum();
            assert!((shares - 1.0).abs() < 1e-9 || figure.u == 0.0, "{}: shares {shares}", figure.path);
        }
    });
}

/// Source: JCGM 100:2008, 5.2.2: with correlation r the cross term 2 r c_a u_a c_b u_b joins.
#[test]
fn correlated_numbers_count_their_cross_term() {
    with_room(|| {
        let mut text: serde_json::Value = serde_json::from_str(DEMO).expect("the demo job is a job");
        let independent = levers(&demo());
        text["kinetics"]["correlation"] =
            serde_json::json!([{ "a": "axial.rate_um_per_s", "b": "axial.activation_kj_per_mol", "r": -0.9 }]);
        let job: Job = serde_json::from_str(&text.to_string()).unwrap();
        let correlated = levers(&job);
        let named = |name: &str| {
            let found = independent.levers.iter().find(|lever| lever.input.to_string() == name);
            found.unwrap_or_else(|| panic!("no {name}"))
        };
        let (rate, activation) = (named("kinetics.axial.rate_um_per_s"), named("kinetics.axial.activation_kj_per_mol"));
        for (f, (before, after)) in independent.figures.iter().zip(&correlated.figures).enumerate() {
            let cross = 2.0 * -0.9 * rate.effects[f] * rate.u * activation.effects[f] * activation.u;
            let wanted = (before.u * before.u + cross).max(0.0).sqrt();
            assert!(
                (after.u - wanted).abs() <= 1e-6 * before.u + 1e-12,
                "{}: {} against {wanted}",
                before.path,
                after.u
            );
        }
    });
}

/// A change that is said to bring the order back is one number of the job, can be set, and does.
#[test]
fn what_brings_it_back_does() {
    with_room(|| {
        let mut text: serde_json::Value = serde_json::from_str(DEMO).expect("the demo job is a job");
        text["order"]["segments"][1]["length_nm"] = 1450.into();
        text["order"]["segments"][1]["tolerance_nm"] = 100.into();
        let mut job: Job = serde_json::from_str(&text.to_string()).unwrap();
        let levers = levers(&job);
        let back = levers.bring_back.clone().expect("a longer absorber is in reach of one wall");
        let point = SetPoint::from_path(&back.path).unwrap();
        assert!(job.range(point).unwrap().holds(back.to));
        assert_eq!(point.value(&job), Some(back.from));
        assert!(point.set(&mut job, back.to));
        let line = check(&job).unwrap();
        let mut predictor = Box::new(Predictor::new());
        assert!(predictor.predict(&line).verdict.as_ref().unwrap().met, "{back:?}");
        assert!(levers.text.contains("in 100"), "{}", levers.text);
    });
}

/// An order that no single set-point reaches is said to be out of reach, in a bounded number of steps.
#[test]
fn an_order_out_of_reach_stays_so() {
    with_room(|| {
        let mut text: serde_json::Value = serde_json::from_str(DEMO).expect("the demo job is a job");
        text["order"]["segments"][1]["length_nm"] = 90_000.into();
        let job: Job = serde_json::from_str(&text.to_string()).unwrap();
        let levers = levers(&job);
        assert!(levers.bring_back.is_none());
        assert_eq!(levers.chance, Some(0.0));
    });
}

/// The changes since a pinned recipe are named by what they did to the figure, not by their size.
#[test]
fn a_pinned_recipe_names_what_changed() {
    with_room(|| {
        let pinned = demo();
        let mut job = demo();
        // A tenth less TMIn in the absorber, and a flow of no consequence.
        assert!(SetPoint::BubblerCarrier(1, 0).set(&mut job, 30.0));
        assert!(SetPoint::Cylinder(2, 1).set(&mut job, 10.5));
        let levers = levers(&job);
        let absorber = 2;
        let text = loftwire_core::verdict::since(&levers, absorber, &pinned, &job);
        assert_eq!(text.as_str(), "Since the pin: less TMIn in absorber.");
        let nothing = loftwire_core::verdict::since(&levers, absorber, &job, &job);
        assert!(nothing.is_empty());
    });
}

/// Outside the order, what was changed since the pin is the first reason, and the limit's gives way to it.
#[test]
fn a_pinned_recipe_explains_a_verdict_outside() {
    with_room(|| {
        let pinned = demo();
        let mut job = demo();
        assert!(SetPoint::Wall(1, 1).set(&mut job, 405.0));
        let line = check(&job).unwrap();
        let mut predictor = Box::new(Predictor::new());
        let mut levers = Box::new(Levers::new());
        levers.start(&job, &line, predictor.predict(&line));
        levers.pin(&pinned);
        for _ in 0..2000 {
            if levers.known() {
                break;
            }
            levers.step(&mut predictor);
        }
        let text = levers.text.as_str();
        assert!(
            text.starts_with("Absorber ")
                && text.contains(" nm too short. Since the pin: a cooler zone 2 in absorber."),
            "{text}"
        );
        assert!(!text.contains("Too little time"), "{text}");
        assert!(text.ends_with(" in 100 that the lot meets the order."), "{text}");
    });
}
