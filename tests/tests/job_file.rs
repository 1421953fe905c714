//! The job file: what is accepted, what is refused and in which words, and what a job becomes.
//!
//! Source: the format of the job file, version 1, row by row in `loftwire_tests::job_rows`; the flows and pressures of the
//! whole jobs in `checks/jobs`; the built-in kinetics in `checks/kinetics.builtin.json`.

#[path = "../../demo/line/src/read.rs"]
#[allow(dead_code, unused_imports, reason = "the command line's own reader, of which a test needs a part")]
mod read;

use loftwire_core::check::check;
use loftwire_core::check::table::BOUNDS;
use loftwire_core::fault::Faults;
use loftwire_core::feed::table::Precursor;
use loftwire_core::job::{FullScale, Job, Kind, SetPoint};
use loftwire_core::kinetics::{Number, Origin, Shared, table};
use loftwire_core::line::{Line, Part};
use loftwire_core::material::Material;
use loftwire_core::units::SCCM;
use loftwire_tests::job_rows::{BOUNDED, Base, FULL, HALF_BOUNDED, ROWS, at, changed, put};
use proptest::prelude::*;
use serde::de::value::{MapDeserializer, SeqDeserializer};
use serde::de::{Deserializer, IntoDeserializer, Visitor};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::f64::consts::{FRAC_PI_2, PI};

/// The six whole jobs, with their answers.
const JOBS: [(&str, &str, &str); 6] = [
    ("example", include_str!("../checks/jobs/example.json"), include_str!("../checks/jobs/example.out.json")),
    (
        "inas_single",
        include_str!("../checks/jobs/inas_single.json"),
        include_str!("../checks/jobs/inas_single.out.json"),
    ),
    (
        "gaas_pn_n2h2",
        include_str!("../checks/jobs/gaas_pn_n2h2.json"),
        include_str!("../checks/jobs/gaas_pn_n2h2.out.json"),
    ),
    (
        "up_flow_mixed",
        include_str!("../checks/jobs/up_flow_mixed.json"),
        include_str!("../checks/jobs/up_flow_mixed.out.json"),
    ),
    (
        "classifier_population",
        include_str!("../checks/jobs/classifier_population.json"),
        include_str!("../checks/jobs/classifier_population.out.json"),
    ),
    (
        "parabolic_no_drift",
        include_str!("../checks/jobs/parabolic_no_drift.json"),
        include_str!("../checks/jobs/parabolic_no_drift.out.json"),
    ),
];

fn line(job: &Value) -> Result<Box<Line>, Box<Faults>> {
    read::line_of_bytes(job.to_string().as_bytes())
}

fn sentences(faults: &Faults) -> Vec<String> {
    faults.iter().map(ToString::to_string).collect()
}

fn job(text: &str) -> Box<Job> {
    loftwire_read::job(text).unwrap_or_else(|faults| panic!("{faults}"))
}

fn near(got: f64, want: f64, tolerance: f64, what: &str) {
    assert!((got - want).abs() <= tolerance * want.abs(), "{what}: got {got}, want {want}");
}

/// Source: job-file format, every row.
#[test]
fn each_row_accepts_and_refuses_as_the_format_says() {
    for row in ROWS {
        assert!(!row.accepted.is_empty() && !row.refused.is_empty(), "{}: needs both", row.row);
        for changes in row.accepted {
            if let Err(faults) = line(&changed(row.base, changes)) {
                panic!("{}: {changes:?} must be accepted: {faults}", row.row);
            }
        }
        for (changes, path, words) in row.refused {
            let Err(faults) = line(&changed(row.base, changes)) else {
                panic!("{}: {changes:?} must be refused", row.row);
            };
            let good = faults.iter().any(|fault| fault.path == *path && fault.to_string().contains(words));
            assert!(good, "{}: {changes:?} must be refused at {path} with \"{words}\", not\n{faults}", row.row);
        }
    }
}

/// Every field of the format stands in one of two whole jobs, is refused under another name, and has its row.
#[test]
fn each_field_has_a_row() {
    let mut fields = BTreeSet::new();
    for text in FULL {
        line(&serde_json::from_str(text).unwrap()).unwrap_or_else(|faults| panic!("{faults}"));
        leaves(&serde_json::from_str(text).unwrap(), String::new(), &mut fields);
    }
    let named: BTreeSet<String> =
        ROWS.iter().flat_map(|row| row.row.split([' ', ','])).map(ToOwned::to_owned).collect();
    for field in fields {
        let general: String = field.chars().filter(|letter| !letter.is_ascii_digit()).collect();
        let covered = named.iter().any(|name| {
            let start: String = name.chars().filter(|letter| !letter.is_ascii_digit()).collect();
            !start.is_empty() && (general.starts_with(&start) || general.ends_with(&format!(".{start}")))
        });
        assert!(covered, "{field} has no row");
    }
}

/// Paths of everything in a job that is no list or object.
fn leaves(value: &Value, path: String, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                // A key that is a path itself stands between quotation marks.
                let name = if name.contains('.') { format!("\"{name}\"") } else { name.clone() };
                let path = if path.is_empty() { name } else { format!("{path}.{name}") };
                leaves(value, path, found);
            }
        }
        Value::Array(entries) => {
            for (index, value) in entries.iter().enumerate() {
                leaves(value, format!("{path}[{index}]"), found);
            }
        }
        _ => drop(found.insert(path)),
    }
}

/// Words of a number outside its own range.
const OUTSIDE: [&str; 6] =
    ["is not a number", "is not finite", "is negative", "is too low", "is too high", "is below absolute zero"];

fn is_outside(faults: &Faults, path: &str) -> bool {
    faults.iter().any(|fault| fault.path == path && OUTSIDE.contains(&fault.reason.as_str()))
}

fn with_number(base: Base, path: &str, number: f64) -> Value {
    let mut job = base.job();
    put(&mut job, path, Some(json!(number)));
    job
}

/// Source: job-file format, ranges: ends are accepted, the next number outside is not.
#[test]
fn ranges_hold_with_their_ends() {
    for (base, path, from, to) in BOUNDED {
        for end in [from, to] {
            if let Err(faults) = line(&with_number(*base, path, *end)) {
                assert!(!is_outside(&faults, path), "{path}: {end} is an end: {faults}");
            }
        }
        for outside in [from.next_down(), to.next_up()] {
            let faults = line(&with_number(*base, path, outside)).expect_err(path);
            assert!(is_outside(&faults, path), "{path}: {outside} is outside, not {faults}");
        }
    }
    for (base, path, accepted, refused) in HALF_BOUNDED {
        for number in *accepted {
            if let Err(faults) = line(&with_number(*base, path, *number)) {
                panic!("{path}: {number} is inside: {faults}");
            }
        }
        for number in *refused {
            let faults = line(&with_number(*base, path, *number)).expect_err(path);
            assert!(faults.iter().any(|fault| fault.path == *path), "{path}: {number} is outside, not {faults}");
        }
    }
}

/// Source: job-file format: everything is finite and, but for temperatures, correlations and ends of limits, not negative.
#[test]
fn no_number_is_without_a_lower_end() {
    for (base, text) in [(Base::Full, FULL[0]), (Base::Other, FULL[1])] {
        let whole: Value = serde_json::from_str(text).unwrap();
        let mut paths = BTreeSet::new();
        leaves(&whole, String::new(), &mut paths);
        let numbers = paths.iter().filter(|path| at(&whole, path).is_some_and(Value::is_number));
        for path in numbers.filter(|path| !path.starts_with("limits.")) {
            let faults = line(&with_number(base, path, -1e9)).expect_err(path);
            assert!(is_outside(&faults, &path.replace('"', "")), "{path}: {faults}");
            let kinetic = path.strip_prefix("kinetics.").is_some_and(|path| Number::from_path(path).is_some());
            let listed = BOUNDED.iter().any(|row| row.1 == path) || HALF_BOUNDED.iter().any(|row| row.1 == path);
            assert!(listed || !kinetic, "{path} has no range in the list");
        }
    }
}

/// Each range has its words, and no two quantities share a name.
#[test]
fn ranges_are_documented() {
    let names: BTreeSet<&str> = BOUNDS.iter().map(|bound| bound.name).collect();
    assert_eq!(names.len(), BOUNDS.len());
    assert!(BOUNDS.iter().all(|bound| !bound.to_string().is_empty() && bound.from < bound.to));
}

/// Source: job-file format: all faults of a file are listed at once, in its order.
#[test]
fn all_faults_are_listed_at_once() {
    let changes = [
        ("pressure_mbar", json!(1)),
        ("seeds.shape_factor", json!(9)),
        ("stages[0].inlet_c", json!(-500)),
        ("stages[1].zones[0].wall_c", json!(-400)),
        ("stages[2].feeds[2].bubbler.bath_c", json!(100)),
        ("kinetics.supply.sticking", json!(2)),
        ("order.segments[0].length_nm", json!(0)),
        ("plant.cleaning_um", json!(-1)),
    ];
    let mut job = Base::Example.job();
    for (path, value) in &changes {
        put(&mut job, path, Some(value.clone()));
    }
    let faults = line(&job).expect_err("eight faults");
    let paths: Vec<&str> = faults.iter().map(|fault| fault.path.as_str()).collect();
    assert_eq!(paths, changes.map(|(path, _)| path));
}

/// A job with more faults than there is room for says how many more.
#[test]
fn very_many_faults_are_counted() {
    let mut job = Base::Example.job();
    let stage = json!({
        "tube_diameter_mm": 0, "inlet_c": -999, "blend_mm": -1, "carrier_sccm": -1,
        "zones": vec![json!({"length_mm": 0, "wall_c": -999}); 8],
        "feeds": []
    });
    put(&mut job, "stages", Some(Value::Array(vec![stage; 6])));
    let faults = line(&job).expect_err("many faults");
    assert_eq!(faults.iter().count(), 64);
    assert!(faults.more() > 50 && faults.to_string().ends_with(&format!("and {} more", faults.more())));
}

/// Source: checks/jobs: total flow, aerosol share and inlet pressures of the first stage, seeds a second, charges.
#[test]
fn flows_match_the_whole_jobs() {
    for (name, text, answer) in JOBS {
        let line = read::line_of_bytes(text.as_bytes()).unwrap_or_else(|faults| panic!("{name}: {faults}"));
        let answer: Value = serde_json::from_str(answer).unwrap();
        let number = |path: &str| at(&answer, path).and_then(Value::as_f64).unwrap_or_else(|| panic!("{name}: {path}"));
        let stage = &line.stages[0];
        near(stage.flow / SCCM, number("stages[0].total_sccm"), 1e-6, name);
        near(stage.core_share, number("stages[0].aerosol_share"), 1e-6, name);
        near(stage.length, number("stages[0].length_mm") * 1e-3, 1e-12, name);
        for (species, fed) in line.species.iter().zip(stage.fed) {
            let want = number(&format!("stages[0].inlet_partial_pressure_pa.{}", species.name));
            near(line.pressure * fed / stage.flow, want, 1e-6, &species.name);
        }
        near(line.seeds.rate, number("seeds.per_s"), 1e-6, name);
        near(line.seeds.charges, number("seeds.charges"), 1e-6, name);
        // What later stages lose to their walls is not known before the march.
        for (index, stage) in line.stages.iter().enumerate() {
            near(stage.flow / SCCM, number(&format!("stages[{index}].total_sccm")), 1e-4, name);
        }
    }
}

/// Source: checks/jobs/classifier_population: groups by charge.
#[test]
#[allow(clippy::disallowed_methods, reason = "held against a printed value, not against bits")]
fn groups_match_the_classifier_job() {
    let line = read::line_of_bytes(JOBS[4].1.as_bytes()).unwrap_or_else(|faults| panic!("{faults}"));
    let answer: Value = serde_json::from_str(JOBS[4].2).unwrap();
    let groups = at(&answer, "seeds.charge_groups").and_then(Value::as_array).unwrap();
    assert_eq!(line.seeds.groups.len(), groups.len());
    for (got, want) in line.seeds.groups.iter().zip(groups) {
        near(got.share, want["share"].as_f64().unwrap(), 1e-5, "share");
        let mean: f64 = got.nodes.iter().map(|(size, weight)| weight * size.exp()).sum();
        near(mean * 1e9, want["mean_nm"].as_f64().unwrap(), 1e-4, "mean size");
    }
    let passed = line.seeds.classifier.unwrap();
    near(passed.selected * 1e9, answer["classifier"]["size_nm"].as_f64().unwrap(), 1e-6, "selected size");
    near(passed.share, answer["classifier"]["passed_fraction"].as_f64().unwrap(), 1e-4, "passed share");
}

/// What a job leaves out has the default that the format states.
#[test]
fn defaults_are_those_of_the_format() {
    let parabolic = read::line_of_bytes(JOBS[5].1.as_bytes()).unwrap_or_else(|faults| panic!("{faults}"));
    assert!(!parabolic.thermal_diffusion && !parabolic.seeds.drift && parabolic.stages[0].parabolic);
    let line = read::line_of_bytes(JOBS[0].1.as_bytes()).unwrap_or_else(|faults| panic!("{faults}"));
    assert!(line.thermal_diffusion && line.seeds.drift && !line.stages[0].parabolic && !line.stages[0].upward);
    near(line.seeds.charges, 1.0, 0.0, "charges");
    let order = line.order.as_ref().unwrap();
    near(order.diameter_tolerance, 3e-9, 1e-12, "5 % of 60 nm");
    near(order.wires.unwrap(), 100e-4 / (500e-9 * 500e-9), 1e-12, "one wire a pitch²");
    let names: Vec<_> = line.species.iter().map(|species| (species.name.as_str(), species.part)).collect();
    let want = [
        ("TMIn", Part::Parent),
        ("TMIn*", Part::Fragment),
        ("PH3", Part::GroupV),
        ("DEZn", Part::Dopant),
        ("TESn", Part::Dopant),
    ];
    assert_eq!(names, want);
    let inas = read::line_of_bytes(JOBS[1].1.as_bytes()).unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(inas.stages[0].name, "stage 1");
    near(inas.stages[0].wall.temperature(0.0), 273.15 + 60.0, 1e-12, "flange as the inlet");
    near(inas.seeds.median_diameter, 30e-9 / 1.1, 1e-12, "compact diameter");
    let read = job(JOBS[1].1);
    assert_eq!(read.accuracy().thermocouple_c.to_bits(), 2f64.to_bits());
    near(read.vapour_pressure_percent(Precursor::TMIn), 20.0, 1e-12, "TMIn");
    near(read.vapour_pressure_percent(Precursor::DEZn), 10.0, 1e-12, "DEZn");
}

/// N = I/(q e Q): 1 pA in 1000 sccm at one charge is 374 491 seeds per cm³.
#[test]
fn an_electrometer_counts() {
    let mut job = Base::Example.job();
    put(&mut job, "seeds.concentration_per_cm3", None);
    put(&mut job, "seeds.electrometer", Some(json!({"current_fa": 1000, "flow_sccm": 1000})));
    let counted = line(&job).unwrap_or_else(|faults| panic!("{faults}"));
    let concentration = 1e-12 / (1.602_176_634e-19 * 1000.0 / 60.0);
    near(counted.seeds.rate, concentration * 900.0 / 60.0, 1e-12, "seeds a second");
    put(&mut job, "seeds.charges", Some(json!(2)));
    let doubly = line(&job).unwrap_or_else(|faults| panic!("{faults}"));
    near(doubly.seeds.rate, counted.seeds.rate / 2.0, 1e-12, "twice the charge, half the seeds");
    let mut classified = Base::Classifier.job();
    put(&mut classified, "seeds.concentration_per_cm3", None);
    put(&mut classified, "seeds.electrometer", Some(json!({"current_fa": 1000, "flow_sccm": 1000})));
    let classified = line(&classified).unwrap_or_else(|faults| panic!("{faults}"));
    near(classified.seeds.rate * classified.seeds.charges, concentration * 1200.0 / 60.0, 1e-12, "mean charge");
}

/// Source: job-file format: a mixture of bubbler and push flow of which only a part is injected.
#[test]
fn double_dilution_injects_its_share() {
    let mut job = Base::Example.job();
    let plain = line(&job).unwrap_or_else(|faults| panic!("{faults}"));
    put(&mut job, "stages[0].feeds[2].push_sccm", Some(json!(495)));
    put(&mut job, "stages[0].feeds[2].inject_sccm", Some(json!(50)));
    let diluted = line(&job).unwrap_or_else(|faults| panic!("{faults}"));
    let zinc = 3;
    let made = plain.stages[0].fed[zinc];
    let mixture = 500.0 * SCCM + made;
    near(diluted.stages[0].fed[zinc], made * 50.0 * SCCM / mixture, 1e-12, "dopant that enters");
    let flow = plain.stages[0].flow - made - 5.0 * SCCM + 50.0 * SCCM;
    near(diluted.stages[0].flow, flow, 1e-12, "flow of the stage");
}

/// Source: checks/kinetics.builtin.json, every number of it.
#[test]
fn built_in_kinetics_are_the_published_sets() {
    let published: Value = serde_json::from_str(include_str!("../checks/kinetics.builtin.json")).unwrap();
    let mut numbers = 0;
    for material in Material::ALL {
        let set = &published["materials"][material.name()];
        let mut leaves_of_set = BTreeSet::new();
        leaves(set, String::new(), &mut leaves_of_set);
        let mut job = job(JOBS[5].1);
        job.material = material;
        for path in leaves_of_set {
            let want = at(set, &path).and_then(Value::as_f64).unwrap();
            let got = match path.strip_prefix("uncertainty.") {
                Some(path) => Number::from_path(path).and_then(|number| number.standard_error(&job)),
                None => Number::from_path(&path).and_then(|number| number.value(&job, None)).map(|(value, origin)| {
                    assert_eq!(origin, Origin::BuiltIn);
                    value
                }),
            };
            assert_eq!(got.map(f64::to_bits), Some(want.to_bits()), "{} {path}: {got:?}, {want}", material.name());
            numbers += 1;
        }
    }
    let rows = 4 * (table::SHARED.len() + table::STANDARD_ERRORS.len());
    let of_dopants = table::DOPANTS.iter().map(|row| if row.numbers.wall_probability.is_some() { 7 } else { 6 });
    assert_eq!(numbers, rows + of_dopants.sum::<usize>(), "no number more and none less");
    for row in table::PYROLYSIS {
        let pair = &published["pyrolysis"][row.precursor.name()];
        for (carrier, got) in [("hydrogen", row.hydrogen), ("inert", row.inert)] {
            assert_eq!(pair[carrier]["frequency_per_s"].as_f64(), Some(got.frequency_per_s));
            assert_eq!(pair[carrier]["activation_kj_per_mol"].as_f64(), Some(got.activation_kj_per_mol));
        }
    }
    assert_eq!(published["pyrolysis"].as_object().map(serde_json::Map::len), Some(table::PYROLYSIS.len()));
}

/// Source: job-file format: hydrogen from a mole fraction of H2 of 0.5 on, else inert; the job's own numbers above it.
#[test]
fn pyrolysis_follows_the_carrier() {
    let activation = |carrier: Value, own: Option<f64>| {
        let mut job = Base::Classifier.job();
        put(&mut job, "carrier", Some(carrier));
        if let Some(own) = own {
            put(&mut job, "kinetics.pyrolysis.activation_kj_per_mol", Some(json!(own)));
        }
        line(&job).unwrap_or_else(|faults| panic!("{faults}")).growth.pyrolysis_activation
    };
    near(activation(json!({"H2": 0.5, "N2": 0.5}), None), 240_998.4, 1e-12, "hydrogen");
    near(activation(json!({"H2": 0.49, "N2": 0.51}), None), 248_948.0, 1e-12, "inert");
    near(activation(json!({"H2": 1}), Some(200.0)), 200_000.0, 1e-12, "own");
}

/// A dopant's own wall probability goes before the shared one, the job's before the built-in.
#[test]
fn wall_probability_of_a_dopant() {
    let mut job = Base::Example.job();
    let of_zinc = |job: &Value| line(job).unwrap_or_else(|faults| panic!("{faults}")).species[3].wall_probability;
    near(of_zinc(&job), 5e-4, 0.0, "shared");
    put(&mut job, "kinetics.dopants.DEZn.wall_probability", Some(json!(0.25)));
    near(of_zinc(&job), 0.25, 0.0, "own");
    put(&mut job, "stages[0].feeds[2]", Some(json!({"precursor": "SiH4", "flow_sccm": 1, "share": 0.01})));
    near(of_zinc(&job), 1e-7, 0.0, "built-in, of silane");
}

/// A job that is saved says no more and no less than the one that was opened.
#[test]
fn saving_gives_back_the_job() {
    for text in JOBS.iter().map(|(_, text, _)| *text).chain(FULL) {
        let opened = job(text);
        let saved = serde_json::to_string(&*opened).unwrap();
        assert_eq!(job(&saved), opened);
        let (mut want, mut got): (Value, Value) =
            (serde_json::from_str(text).unwrap(), serde_json::from_str(&saved).unwrap());
        // Groups that hold nothing are left out.
        without_nothing(&mut want);
        without_nothing(&mut got);
        assert_eq!(got, want);
    }
}

/// Numbers as f64, empty objects away.
fn without_nothing(value: &mut Value) {
    match value {
        Value::Object(fields) => {
            fields.values_mut().for_each(without_nothing);
            fields.retain(|_, value| value.as_object().is_none_or(|fields| !fields.is_empty()));
        }
        Value::Array(entries) => entries.iter_mut().for_each(without_nothing),
        Value::Number(number) => *value = json!(number.as_f64()),
        _ => {}
    }
}

/// Source: job-file format: the full scale of a flow is frozen as the job is opened.
#[test]
fn full_scales_are_frozen() {
    let mut opened = job(JOBS[0].1);
    let aerosol = SetPoint::from_path("aerosol_sccm").unwrap();
    let added = SetPoint::from_path("stages[1].carrier_sccm").unwrap();
    opened.stages[2].carrier_sccm = Some(0.0);
    opened.freeze();
    assert!(aerosol.set(&mut opened, 5.0) && added.set(&mut opened, 7.0));
    assert_eq!(opened.full_scale(aerosol), Some(1800.0));
    assert_eq!(opened.full_scale(added), Some(800.0));
    assert_eq!(opened.full_scale(SetPoint::Carrier(2)), Some(100.0));
    assert_eq!(opened.full_scale(SetPoint::Pressure), None);
    let before = opened.clone();
    opened.freeze();
    assert_eq!(opened, before, "freezing twice changes nothing");
    let saved = serde_json::to_string(&*opened).unwrap();
    assert_eq!(job(&saved), opened);
    check(&opened).unwrap_or_else(|faults| panic!("{faults}"));
    let flows = SetPoint::of(&opened).filter(|point| point.kind() == Kind::Flow).count();
    let Some(FullScale::Each(paths)) = &opened.instruments.full_scale_sccm else { panic!("by path") };
    assert_eq!(paths.iter().count(), flows);
    let mut alike = job(FULL[0]);
    alike.freeze();
    assert_eq!(alike.instruments.full_scale_sccm, Some(FullScale::All(5000.0)), "one number for all stays");
}

/// Each set-point is found by the path that it prints, can be set, and lies in a range.
#[test]
fn set_points_are_named_by_their_paths() {
    for text in JOBS.iter().map(|(_, text, _)| *text).chain(FULL) {
        let mut opened = job(text);
        let points: Vec<SetPoint> = SetPoint::of(&opened).collect();
        for point in points {
            let path = point.to_string();
            assert_eq!(SetPoint::from_path(&path), Some(point), "{path}");
            let range = opened.range(point).unwrap();
            assert!(range.min <= range.max && range.step > 0.0, "{path}");
            assert!(range.holds(range.nearest(1e9)) && range.holds(range.nearest(-1e9)), "{path}");
            assert!(point.set(&mut opened, 1.25));
            assert_eq!(point.value(&opened), Some(1.25), "{path}");
        }
    }
    for path in ["stages[00].inlet_c", "stages[10].inlet_c", "stages[-1].inlet_c", "stages[0]inlet_c", "", "title"] {
        assert_eq!(SetPoint::from_path(path), None, "{path}");
    }
}

/// Source: job-file format, limits: path before kind, what an entry leaves out from the default of the kind.
#[test]
fn a_path_goes_before_its_kind() {
    let mut value = Base::Example.job();
    put(
        &mut value,
        "limits",
        Some(json!({"wall": {"max": 600, "step": 5}, "stages[0].zones[0].wall_c": {"min": 100}})),
    );
    let opened = job(&value.to_string());
    let by_path = opened.range(SetPoint::Wall(0, 0)).unwrap();
    assert_eq!((by_path.min, by_path.max, by_path.step), (100.0, 700.0, 1.0));
    let by_kind = opened.range(SetPoint::Wall(0, 1)).unwrap();
    assert_eq!((by_kind.min, by_kind.max, by_kind.step), (20.0, 600.0, 5.0));
    let pressure = opened.range(SetPoint::Pressure).unwrap();
    assert_eq!((pressure.min, pressure.max), (1000.0, 1000.0), "not free unless given");
}

fn warned(job: &Value, path: &str, words: &str) -> bool {
    let line = line(job).unwrap_or_else(|faults| panic!("{faults}"));
    line.warnings.iter().any(|warning| warning.path == path && warning.text.contains(words))
}

/// Source: report format, warnings that a job tells by itself.
#[test]
fn a_job_warns_of_what_it_does_not_refuse() {
    let mut value = Base::Example.job();
    assert!(warned(&value, "kinetics", "built-in kinetics are illustrative; calibrate before use (1 number"));
    put(&mut value, "kinetics.wall.group_v_activation_kj_per_mol", Some(json!(142)));
    assert!(!warned(&value, "kinetics", ""));
    put(&mut value, "stages[0].zones[0].wall_c", Some(json!(450.5)));
    assert!(warned(&value, "stages[0].zones[0].wall_c", "450.5 °C cannot be set: 20 to 700 in steps of 1"));
    put(&mut value, "stages[0].flange_c", Some(json!(200)));
    assert!(warned(&value, "stages[0].flange_c", "80 K warmer"));
    assert!(warned(&value, "stages[2].feeds[2].bubbler.line_c", "condenses undiluted"));
    put(&mut value, "stages[2].feeds[2].bubbler.line_c", Some(json!(30)));
    assert!(!warned(&value, "stages[2].feeds[2].bubbler.line_c", ""));
    let mut value = Base::Classifier.job();
    assert!(!warned(&value, "classifier.aerosol_slm", ""));
    put(&mut value, "classifier.aerosol_slm", Some(json!(1.3)));
    assert!(warned(&value, "classifier.aerosol_slm", "1300 sccm leave"));
    put(&mut value, "classifier.carrier", Some(json!({"Ar": 1})));
    assert!(warned(&value, "classifier.carrier", "air and nitrogen"));
}

/// Source: job-file format and the list of bad input: structure, one clear sentence that comes alone.
#[test]
fn bad_texts_are_one_sentence() {
    let good = JOBS[0].1;
    let cut_off = &good[..good.len() / 2];
    let replaced = |from: &str, to: &str| good.replacen(from, to, 1);
    let cases = [
        (cut_off.to_owned(), "the text ends too early"),
        (String::new(), "the text ends too early"),
        ("[".repeat(10_000), "is a list; accepted: an object"),
        (replaced("\"InP\"", &"[".repeat(10_000)), "material: is a list"),
        (format!("{{\"title\": {}", "{\"a\":".repeat(10_000)), "title: is an object; accepted: text"),
        (replaced("\"wall_c\": 450", "\"wall_c\": NaN"), "stages[0].zones[0].wall_c: is not JSON (line 26, column 21)"),
        (replaced("\"wall_c\": 450", "\"wall_c\": -Infinity"), "stages[0].zones[0].wall_c: is not JSON"),
        (replaced("\"wall_c\": 450", "\"wall_c\": 1e400"), "stages[0].zones[0].wall_c: is too large a number"),
        (replaced("\"wall_c\": 450", "\"length_mm\": 450"), "stages[0].zones[0].length_mm: is given twice"),
        (replaced("\"H2\": 1.0", "\"H2\": 1, \"H2\": 1"), "carrier.H2: is given twice"),
        (replaced("\"TESn\": {\n", "\"DEZn\": {\n"), "kinetics.dopants.DEZn: is given twice"),
        (
            replaced("\"wall_c\": 450", "\"wall_c\": \"hot\""),
            "stages[0].zones[0].wall_c: \"hot\" is text; accepted: a number",
        ),
        (format!("{good} x"), "more text stands behind the end of the job"),
        (replaced(",", ",,"), "is not JSON"),
        (replaced("\"InP\"", "\"In\u{0}P\""), "control character"),
        ("null".to_owned(), "is nothing; accepted: an object"),
    ];
    for (text, words) in cases {
        let faults = read::line_of_bytes(text.as_bytes()).expect_err(words);
        let sentence = faults.to_string();
        assert!(sentence.contains(words), "\"{words}\" is not in: {sentence}");
        assert!(faults.iter().count() == 1 && !sentence.contains('\n') && sentence.len() < 400, "{sentence}");
    }
    let faults = read::line_of_bytes(b"{\"title\": \"\xff\"}").expect_err("no UTF-8");
    assert_eq!(faults.to_string(), "the job: is not text in UTF-8 (byte 12); accepted: a job file in JSON");
}

/// A mark of byte order before the text, and white space behind it, are no faults.
#[test]
fn editors_marks_are_passed_over() {
    assert!(read::line_of_bytes(format!("\u{feff}{}\n\n", JOBS[0].1).as_bytes()).is_ok());
}

/// Lists that are too long for the line say how much they hold.
#[test]
fn lists_say_how_much_they_hold() {
    let zone = json!({"length_mm": 100, "wall_c": 440});
    let point = |index: u32| json!({"z_mm": 10 * index, "wall_c": 440});
    let feed = json!({"precursor": "PH3", "flow_sccm": 1, "share": 1});
    let stage = json!({"tube_diameter_mm": 32, "inlet_c": 300, "zones": [zone], "feeds": []});
    for (path, value, words) in [
        ("stages", Value::Array(vec![stage; 7]), "at most 6 entries"),
        ("stages[0].zones", Value::Array(vec![zone; 9]), "at most 8 entries"),
        ("stages[0].profile", Value::Array((0..33).map(point).collect()), "at most 32 entries"),
        ("stages[0].feeds", Value::Array(vec![feed; 8]), "at most 7 entries"),
    ] {
        let mut job = Base::Example.job();
        put(&mut job, path, Some(value));
        let faults = line(&job).expect_err(path);
        assert!(faults.to_string().starts_with(path) && faults.to_string().contains(words), "{faults}");
    }
}

/// Files that cannot be read are one sentence each, and a large one is not read through.
#[test]
fn bad_files_are_one_sentence() {
    let folder = std::env::temp_dir().join(format!("loftwire-job-file-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let sentence = |path: &str| read::file(path).expect_err(path).to_string();
    assert!(sentence(&path("")).ends_with("is a directory, not a job file"));
    assert!(sentence(&path("none.json")).ends_with("there is no such file"));
    std::fs::write(path("large.json"), vec![b' '; 10 << 20]).unwrap();
    assert!(
        sentence(&path("large.json"))
            .ends_with("is larger than 1 MB (1048576 bytes), the most that a job file may hold")
    );
    std::fs::write(path("good.json"), JOBS[0].1).unwrap();
    assert!(read::file(&path("good.json")).is_ok());
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        std::fs::set_permissions(path("good.json"), std::fs::Permissions::from_mode(0o000)).unwrap();
        // A user who may read everything reads it: then the words are tested where they are made.
        if std::fs::File::open(path("good.json")).is_err() {
            assert!(sentence(&path("good.json")).ends_with("there is no permission to read it"));
        }
        // A source without end.
        assert!(sentence("/dev/zero").contains("larger than 1 MB"));
    }
    std::fs::remove_dir_all(&folder).unwrap();
}

/// A value with one number in it that JSON cannot write.
#[derive(Clone, Copy)]
struct With<'de> {
    value: &'de Value,
    number: f64,
}

/// Stands in a [`Value`] for the number that JSON cannot write.
const STAND_IN: f64 = 123_456.789;

impl<'de> IntoDeserializer<'de, serde::de::value::Error> for With<'de> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for With<'de> {
    type Error = serde::de::value::Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Self::Error> {
        let with = |value| With { value, ..self };
        match self.value {
            Value::Null => visitor.visit_unit(),
            Value::Bool(value) => visitor.visit_bool(*value),
            Value::String(text) => visitor.visit_borrowed_str(text),
            Value::Array(entries) => visitor.visit_seq(SeqDeserializer::new(entries.iter().map(with))),
            Value::Object(fields) => {
                visitor.visit_map(MapDeserializer::new(fields.iter().map(|(name, value)| (name.as_str(), with(value)))))
            }
            Value::Number(number) => {
                let number = number.as_f64().expect("it is a number");
                visitor.visit_f64(if number.to_bits() == STAND_IN.to_bits() { self.number } else { number })
            }
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Self::Error> {
        if self.value.is_null() { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct newtype_struct
        seq tuple tuple_struct map struct enum identifier ignored_any
    }
}

/// Numbers that no text can bring, but a bridge can: each is refused by its path, in every field that holds a number.
#[test]
fn numbers_that_are_none_are_refused_by_path() {
    let mut fields = 0;
    for text in FULL {
        let whole: Value = serde_json::from_str(text).unwrap();
        let mut paths = BTreeSet::new();
        leaves(&whole, String::new(), &mut paths);
        for path in paths.iter().filter(|path| at(&whole, path).is_some_and(Value::is_number)) {
            let mut job = whole.clone();
            put(&mut job, path, Some(json!(STAND_IN)));
            for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let job = <Job as serde::Deserialize>::deserialize(With { value: &job, number }).unwrap();
                let faults = check(&job).expect_err(path);
                let path = path.replace('"', "");
                let named = faults.iter().any(|fault| {
                    fault.path == path.as_str() && ["is not a number", "is not finite"].contains(&fault.reason.as_str())
                });
                assert!(named, "{path}: {number} must be refused there, not\n{faults}");
            }
            fields += 1;
        }
    }
    assert!(fields > 150, "{fields} numbers");
}

/// Whether what a line holds can be marched.
fn assert_sound(line: &Line) {
    let share: f64 = line.carrier.share.iter().sum();
    assert!((share - 1.0).abs() < 1e-12 && line.carrier.share.iter().all(|share| *share >= 0.0));
    assert!(line.pressure > 0.0 && line.aerosol > 0.0 && line.aerosol.is_finite());
    let seeds = &line.seeds;
    assert!(seeds.rate > 0.0 && seeds.rate.is_finite() && seeds.charges >= 0.0 && seeds.median_diameter > 0.0);
    let shares: f64 = seeds.groups.iter().map(|group| group.share).sum();
    assert!((shares - 1.0).abs() < 1e-9, "{shares}");
    for group in &seeds.groups {
        let weights: f64 = group.nodes.iter().map(|node| node.1).sum();
        assert!((weights - 1.0).abs() < 1e-9 && group.quantiles.iter().all(|size| size.is_finite()));
        assert!(group.nodes.windows(2).all(|pair| pair[0].0 <= pair[1].0));
    }
    assert!(line.species.len() >= 2 && line.species[1].part == Part::Fragment);
    let mut flow = line.aerosol;
    for stage in &line.stages {
        assert!(stage.flow >= flow && stage.flow.is_finite() && stage.core_share > 0.0 && stage.core_share <= 0.95);
        flow = stage.flow;
        assert!(stage.fed.iter().all(|fed| *fed >= 0.0 && *fed <= stage.flow));
        assert!(stage.diameter > 0.0 && stage.length >= 0.01 - 1e-12 && stage.inlet > 200.0);
        for sample in 0..=100 {
            let wall = stage.wall.temperature(stage.length * f64::from(sample) / 100.0);
            assert!((223.0..1274.0).contains(&wall), "{wall}");
        }
    }
    let growth = &line.growth;
    assert!(growth.reference_diameter > growth.critical_diameter && growth.collection_length > 0.0);
    assert!(growth.contact_angle > FRAC_PI_2 && growth.contact_angle < PI && growth.group_iii_share < 1.0);
}

/// A change to a job, drawn at random.
#[derive(Clone, Debug)]
enum Change {
    Number(f64),
    Value(Value),
    Gone,
    Copied(usize),
}

fn change() -> impl Strategy<Value = Change> {
    let number = prop_oneof![
        Just(0.0),
        Just(-0.0),
        Just(1.0),
        Just(-1.0),
        Just(1e-300),
        Just(1e300),
        Just(1e30),
        -100.0..1100.0,
        0.0..1.0,
        prop::num::f64::NORMAL,
    ];
    let value = prop_oneof![
        Just(Value::Null),
        Just(json!(true)),
        Just(json!("")),
        Just(json!("TMGa")),
        Just(json!([])),
        Just(json!({})),
        Just(json!([1, [2, {"a": null}]])),
        ".{0,300}".prop_map(Value::String),
    ];
    prop_oneof![
        4 => number.prop_map(Change::Number),
        2 => value.prop_map(Change::Value),
        1 => Just(Change::Gone),
        1 => (0usize..500).prop_map(Change::Copied),
    ]
}

/// Paths of everything in a job, lists and objects included.
fn places(value: &Value) -> Vec<String> {
    let mut leaf = BTreeSet::new();
    leaves(value, String::new(), &mut leaf);
    let mut all: BTreeSet<String> = leaf.clone();
    for path in &leaf {
        for (place, letter) in path.char_indices() {
            if letter == '.' && path[..place].matches('"').count() % 2 == 0 {
                all.insert(path[..place].to_owned());
            }
        }
    }
    all.into_iter().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    /// Whatever stands in a job, it is refused with words or becomes a line that can be marched.
    #[test]
    fn no_change_to_a_job_does_harm(
        which in 0usize..8,
        changes in prop::collection::vec((0usize..500, change()), 1..5),
    ) {
        let text = JOBS.iter().map(|(_, text, _)| *text).chain(FULL).nth(which).unwrap();
        let mut job: Value = serde_json::from_str(text).unwrap();
        for (place, change) in changes {
            let places = places(&job);
            let path = places[place % places.len()].clone();
            let value = match change {
                Change::Number(number) => Some(json!(number)),
                Change::Value(value) => Some(value),
                Change::Gone => None,
                Change::Copied(from) => at(&job, &places[from % places.len()]).cloned(),
            };
            put(&mut job, &path, value);
        }
        match line(&job) {
            Ok(line) => assert_sound(&line),
            Err(faults) => {
                prop_assert!(!faults.is_empty());
                let words = sentences(&faults);
                prop_assert!(words.iter().all(|sentence| !sentence.contains('\n') && sentence.contains(": ")), "{words:?}");
                prop_assert!(serde_json::to_value(&*faults).unwrap().is_array());
            }
        }
    }

    /// Numbers at the ends of their ranges, several at once.
    #[test]
    fn ends_of_ranges_do_no_harm(ends in prop::collection::vec((0usize..BOUNDED.len(), any::<bool>()), 1..8)) {
        for base in [Base::Full, Base::Other] {
            let mut job = base.job();
            for (row, upper) in &ends {
                let (of, path, from, to) = BOUNDED[*row];
                if of == base {
                    put(&mut job, path, Some(json!(if *upper { to } else { from })));
                }
            }
            if let Ok(line) = line(&job) {
                assert_sound(&line);
            }
        }
    }

    /// Bytes that are taken out, put in or changed.
    #[test]
    fn no_change_to_a_text_does_harm(
        which in 0usize..8,
        changes in prop::collection::vec((0usize..8000, any::<u8>(), 0u8..3), 1..6),
    ) {
        let text = JOBS.iter().map(|(_, text, _)| *text).chain(FULL).nth(which).unwrap();
        let mut bytes = text.as_bytes().to_vec();
        for (place, byte, kind) in changes {
            let place = place % bytes.len();
            match kind {
                0 => bytes[place] = byte,
                1 => bytes.insert(place, byte),
                _ => drop(bytes.drain(place..(place + usize::from(byte)).min(bytes.len() - 1).max(place))),
            }
        }
        if let Ok(line) = read::line_of_bytes(&bytes) {
            assert_sound(&line);
        }
    }
}

/// Every kinetic number is found by its path and can be set.
#[test]
fn kinetic_numbers_are_named_by_their_paths() {
    let mut opened = job(JOBS[5].1);
    let mut count = 0;
    for number in Number::all() {
        assert_eq!(Number::from_path(&number.to_string()), Some(number));
        number.set(&mut opened, 0.5);
        assert_eq!(number.value(&opened, None), Some((0.5, Origin::Job)), "{number}");
        count += 1;
    }
    assert_eq!(count, Shared::ALL.len() + 5 * 7);
    let saved = serde_json::to_string(&*opened).unwrap();
    assert_eq!(job(&saved), opened);
}
