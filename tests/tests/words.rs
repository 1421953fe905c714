//! Words of a report: the verdict's sentences and reasons, the cautions, and where each figure comes from.
//!
//! Source: `core/REPORT.md`'s list of figures, as the types of `loftwire_core::report` hold it; `checks/safety.csv` for limits; the
//! whole jobs in `checks/jobs` for reports to walk through.

use loftwire_core::caution::table as hazards;
use loftwire_core::explain::{self, FACTORS, Input, table};
use loftwire_core::line::Line;
use loftwire_core::predict::Predictor;
use loftwire_core::report::figure::{figure, figures};
use loftwire_core::report::{At, Carriers, Refused, Report};
use loftwire_core::verdict::words::{refusal, sentence};
use loftwire_core::verdict::{CHARACTERS, Kind, Reason, Signs, Verdict, verdict};
use loftwire_tests::checks;
use loftwire_tests::prediction::{line, with_room};
use serde_json::Value;
use std::collections::BTreeSet;

const EXAMPLE: &str = include_str!("../checks/jobs/example.json");
const CLASSIFIED: &str = include_str!("../checks/jobs/classifier_population.json");
const MIXED: &str = include_str!("../checks/jobs/up_flow_mixed.json");

/// Hands the line and the report of a job to `look`, on a thread with room.
fn predicted<T: Send>(job: &str, look: impl FnOnce(&Line, &Report) -> T + Send) -> T {
    with_room(|| {
        let line = line(job).expect("the job is good");
        let mut predictor = Box::new(Predictor::new());
        look(&line, predictor.predict(&line))
    })
}

/// The example's report, changed, and its verdict.
fn judged(change: impl FnOnce(&mut Line, &mut Report, &mut Signs) + Send) -> Verdict {
    with_room(|| {
        let mut line = line(EXAMPLE).expect("the job is good");
        let mut predictor = Box::new(Predictor::new());
        let mut report = Box::new(predictor.predict(&line).clone());
        let mut signs = Signs::default();
        change(&mut line, &mut report, &mut signs);
        verdict(&line, &report, &signs).expect("there is an order and a prediction")
    })
}

/// Cuts the mean of a segment down, so that it is outside its order.
fn shorten(report: &mut Report, stage: usize, length: f64) {
    let segments = &mut report.wires.get_mut().expect("there are wires").segments;
    segments.get_mut(stage).expect("there is the segment").length_nm.mean = length;
}

fn set_net(report: &mut Report, stage: usize, net: f64) {
    let segments = &mut report.wires.get_mut().expect("there are wires").segments;
    let segment = segments.get_mut(stage).expect("there is the segment");
    segment.net_per_cm3 = Some(Carriers { mean: net, start: net, end: net });
}

fn reason_of(verdict: &Verdict, kind: Kind) -> Option<Reason> {
    verdict.items.iter().find(|item| item.kind == kind).expect("the item is judged").reason
}

/// Paths of all numbers in a JSON value.
fn leaves(value: &Value, path: &str, found: &mut Vec<(String, f64)>) {
    match value {
        Value::Number(number) => found.push((path.to_owned(), number.as_f64().expect("it is finite"))),
        Value::Array(list) => {
            list.iter().enumerate().for_each(|(at, part)| leaves(part, &format!("{path}[{at}]"), found));
        }
        Value::Object(parts) => parts.iter().for_each(|(name, part)| {
            let point = if path.is_empty() { "" } else { "." };
            leaves(part, &format!("{path}{point}{name}"), found);
        }),
        Value::Null | Value::Bool(_) | Value::String(_) => {}
    }
}

#[test]
fn every_figure_has_its_row_and_every_row_its_figure() {
    let mut seen = BTreeSet::new();
    let mut look = |report: &Report| {
        figures(report, &mut |path, _| match explain::explain(path) {
            Some(row) => {
                seen.insert(row.path);
            }
            None => panic!("{path} is not explained"),
        });
    };
    for job in [EXAMPLE, CLASSIFIED, MIXED] {
        let report = predicted(job, |_, report| Box::new(report.clone()));
        look(&report);
    }
    let refused = with_room(|| {
        let mut report = Box::new(Report::new());
        report.refused = Some(Refused {
            path: "stages[0]".try_into().expect("it is short"),
            z_mm: 12.0,
            at: At::Wall,
            grashof_over_reynolds: 60.0,
            text: "gas turns back".try_into().expect("it is short"),
        });
        report
    });
    look(&refused);
    let missing: Vec<_> = table::rows().map(|row| row.path).filter(|path| !seen.contains(path)).collect();
    // The chance comes with the uncertainty.
    assert_eq!(missing, ["verdict.chance"]);
}

#[test]
fn a_path_finds_what_stands_at_it_in_the_json() {
    predicted(EXAMPLE, |_, report| {
        let json = serde_json::to_value(report).expect("a report can be written");
        let mut found = Vec::new();
        leaves(&json, "", &mut found);
        let mut walked = BTreeSet::new();
        figures(report, &mut |path, value| {
            walked.insert((path.to_owned(), value.to_bits()));
        });
        assert_eq!(walked, found.iter().map(|(path, value)| (path.clone(), value.to_bits())).collect());
        for (path, value) in found.iter().step_by(97) {
            assert_eq!(figure(report, path), Some(*value), "{path}");
        }
        assert_eq!(figure(report, "wires.length_nm"), None);
        assert_eq!(figure(report, "wires.length_nm.mean.more"), None);
        assert_eq!(figure(report, ""), None);
    });
}

#[test]
fn no_row_is_empty_or_refers_to_nothing() {
    let mut paths = BTreeSet::new();
    for row in table::rows() {
        assert!(paths.insert(row.path), "{} stands twice", row.path);
        assert!(row.inputs.len() <= FACTORS, "{} has too many inputs", row.path);
        for text in [row.symbol, row.name, row.unit, row.equation, row.range, row.source, row.section] {
            assert!(!text.is_empty() && text.trim() == text, "{} has an empty word", row.path);
        }
        let number = row.section.split(',').next().and_then(|number| number.parse::<u8>().ok());
        assert!(number.is_some_and(|number| number <= 14), "{} stands nowhere in the model", row.path);
        for input in row.inputs {
            if let Input::Figure(path) | Input::Each(path) = input {
                assert!(
                    table::rows().any(|other| other.path == *path),
                    "{} rests on {path}, which has no row",
                    row.path
                );
            }
        }
    }
}

#[test]
fn todays_values_give_the_figure() {
    predicted(EXAMPLE, |line, report| {
        let today = |path: &str| {
            let row = explain::explain(path).expect("it is explained");
            explain::today(row, path, line, report).iter().map(|factor| factor.value).collect::<Vec<_>>()
        };
        let near = |path: &str, want: f64| {
            let got = figure(report, path).expect("it is a figure");
            assert!((got / want - 1.0).abs() < 2e-3, "{path}: {got}, from its factors {want}");
        };
        let [velocity, bore, viscosity] = today("stages[1].flow.reynolds")[..] else { panic!("Re has three factors") };
        near("stages[1].flow.reynolds", velocity * bore * 1e-3 / (viscosity * 1e-4));
        let [viscosity, heat, mass, conductivity] = today("stages[0].flow.prandtl")[..] else { panic!("Pr has four") };
        near("stages[0].flow.prandtl", viscosity * 1e-6 * heat / (mass * 1e-3 * conductivity * 1e-3));
        let [reynolds, prandtl] = today("stages[2].flow.peclet_heat")[..] else { panic!("Pe has two factors") };
        near("stages[2].flow.peclet_heat", reynolds * prandtl);
        let [buoyancy, reynolds] = today("stages[0].flow.richardson")[..] else { panic!("Gr/Re² has two factors") };
        near("stages[0].flow.richardson", buoyancy / reynolds);
        let [reynolds, bore] = today("stages[0].flow.entrance_hydraulic_mm")[..] else { panic!("it has two factors") };
        near("stages[0].flow.entrance_hydraulic_mm", bore * (0.6 / (1.0 + 0.035 * reynolds) + 0.056 * reynolds));
        let [reynolds, prandtl, bore] = today("stages[0].flow.entrance_thermal_mm")[..] else { panic!("it has three") };
        near("stages[0].flow.entrance_thermal_mm", 0.05 * reynolds * prandtl * bore);
        near("wires.length_nm.mean", today("wires.length_nm.mean").iter().sum());
        let [wires, rate] = today("plant.run_time_h")[..] else { panic!("the run has two factors") };
        near("plant.run_time_h", wires / rate / 3600.0);
        let [five, three] = today("stages[0].inlet.v_iii")[..] else { panic!("V/III has two factors") };
        near("stages[0].inlet.v_iii", five / three);
        let [sd, mean] = today("wires.segments[1].length_nm.cv")[..] else { panic!("cv has two factors") };
        near("wires.segments[1].length_nm.cv", sd / mean);
    });
}

#[test]
fn an_unknown_figure_is_answered_with_near_names() {
    assert!(explain::explain("wires.lenght_nm.mean").is_none());
    assert_eq!(explain::nearest("wires.lenght_nm.mean").first(), Some(&"wires.length_nm.mean"));
    assert_eq!(explain::nearest("stages[0].flow.reynold").first(), Some(&"stages[].flow.reynolds"));
    assert_eq!(explain::nearest("prandtl").first(), Some(&"stages[].flow.prandtl"));
    assert_eq!(explain::nearest("").len(), 5);
    assert_eq!(explain::nearest(&"ß[".repeat(500)).len(), 5);
}

/// Source: `checks/safety.csv`, the row that each limit names.
#[test]
fn limits_are_those_of_their_rows() {
    let mut shown = 0;
    for hazard in hazards::all() {
        assert!(!hazard.does.is_empty() && !hazard.mind.is_empty() && !hazard.source.is_empty(), "{}", hazard.name);
        for limit in hazard.limits {
            let row = checks::row(limit.check).unwrap_or_else(|| panic!("{}: no row {}", hazard.name, limit.check));
            assert_eq!(row.want(), Some(limit.value), "{} {}", hazard.name, limit.check);
            assert_eq!(row.unit, limit.unit, "{} {}", hazard.name, limit.check);
            let of = row.text("substance").expect("a limit has a substance");
            assert!(hazard.name.ends_with(of), "{} shows the limit of {of}", hazard.name);
            let issuer = limit.issuer.split(',').next().expect("it has a name");
            assert!(row.source.contains(issuer) || row.quantity.contains(issuer), "{}: {issuer}", limit.check);
            if let Some(year) = limit.year {
                let year = year.to_string();
                assert!(row.source.contains(&year) || row.quantity.contains(&year), "{}: {year}", limit.check);
            }
            shown += 1;
        }
    }
    assert!(shown >= 30, "{shown} limits are shown");
}

#[test]
fn a_job_calls_for_its_own_cautions() {
    let names = |job: &str| {
        predicted(job, |_, report| {
            report.cautions.iter().map(|caution| (caution.path.to_string(), caution.hazard.name)).collect::<Vec<_>>()
        })
    };
    let example = names(EXAMPLE);
    for wanted in [
        ("stages[0].feeds", "pyrophoric alkyl"),
        ("stages[0].feeds", "phosphine"),
        ("stages[2].feeds", "tetraethyltin"),
        ("carrier.H2", "hydrogen"),
        ("stages[0].zones", "hot tubes"),
        ("collector", "airborne wires"),
    ] {
        assert!(example.iter().any(|(path, name)| (path.as_str(), *name) == wanted), "{wanted:?} in {example:?}");
    }
    assert!(!example.iter().any(|(_, name)| *name == "high voltage"));
    assert!(names(CLASSIFIED).iter().any(|(_, name)| *name == "high voltage"));
    assert!(!names(CLASSIFIED).iter().any(|(_, name)| *name == "hydrogen"));
    predicted(EXAMPLE, |_, report| {
        let phosphine = report.cautions.iter().find(|caution| caution.hazard.name == "phosphine").expect("it is fed");
        // 20 + 10 + 10 sccm to 0.05 ppm.
        let air = phosphine.air_to_dilute_m3_per_min.expect("it flows and has a limit");
        assert!((air / 800.0 - 1.0).abs() < 1e-9, "{air} m³/min");
        let json = serde_json::to_value(&report.cautions).expect("cautions can be written");
        for caution in json.as_array().expect("they are a list") {
            let decide = caution["decide"].as_str().expect("it stands with each");
            assert!(decide.contains("Local codes") && decide.contains("no number here is an interlock"));
        }
    });
}

#[test]
fn a_met_order_names_its_tightest_part() {
    let verdict = judged(|_, _, _| {});
    assert!(verdict.met);
    assert!(verdict.text.starts_with("Inside the order. Tightest is "), "{}", verdict.text);
    assert_eq!(verdict.items.len(), 7);
    assert!(verdict.items.iter().all(|item| item.met && item.margin.is_some_and(|margin| margin >= 0.0)));
    assert_eq!(verdict.chance, None);
    let close = judged(|_, report, _| shorten(report, 1, 1100.0));
    assert_eq!(close.text, "Inside the order. Tightest is absorber: 50 nm to spare.");
}

#[test]
fn limits_of_the_order_belong_to_it() {
    for (length, met) in [(1050.0, true), (1049.9, false), (1350.0, true), (1350.1, false)] {
        let verdict = judged(move |_, report, _| shorten(report, 1, length));
        let item = verdict.items.iter().find(|item| item.kind == Kind::Length(1)).expect("it is judged");
        // 1e-9 m and back may cost the last bit.
        let nudged = item.margin.expect("it grew").abs() < 1e-9;
        assert!(item.met == met || nudged, "{length} nm");
    }
    for (net, met) in [(-1.51e18, true), (-1.49e18, false), (-5.99e18, true), (-6.01e18, false), (3e18, false)] {
        let verdict = judged(move |_, report, _| set_net(report, 0, net));
        let item = verdict.items.iter().find(|item| item.kind == Kind::Carriers(0)).expect("it is judged");
        assert_eq!(item.met, met, "{net} per cm³");
    }
}

#[test]
fn faults_are_said_worst_first() {
    let short = judged(|_, report, _| shorten(report, 1, 1028.0));
    assert!(!short.met);
    assert!(short.text.starts_with("Absorber 22 nm too short."), "{}", short.text);
    let light = judged(|_, report, _| set_net(report, 0, -1.4e18));
    assert!(light.text.starts_with("p contact doped too lightly: 1.4 of 3 × 10¹⁸."), "{}", light.text);
    let dirty = judged(|_, report, _| set_net(report, 1, 2e17));
    assert!(dirty.text.starts_with("Absorber not clean enough: 2.0 × 10¹⁷, at most 5 × 10¹⁶."), "{}", dirty.text);
    let wrong = judged(|_, report, _| set_net(report, 2, -4e18));
    assert!(wrong.text.starts_with("n contact came out p: 4.0 × 10¹⁸."), "{}", wrong.text);
    let both = judged(|_, report, _| {
        shorten(report, 1, 1028.0);
        set_net(report, 0, -0.7e18);
    });
    let start = "p contact doped too lightly: 0.70 of 3 × 10¹⁸ and absorber 22 nm too short.";
    assert!(both.text.starts_with(start), "{}", both.text);
    let thick = judged(|_, report, _| {
        report.wires.get_mut().expect("there are wires").diameter_nm.tip.mean = 71.0;
        report.seeds.as_mut().expect("there are seeds").multiply_charged_share = Some(0.11);
    });
    assert_eq!(thick.text, "Wires 8.0 nm too thick. 11 % of seeds carry two charges.");
    let wide = judged(|line, report, _| {
        line.order.as_mut().expect("there is an order").spread_cv = Some(0.08);
        report.wires.get_mut().expect("there are wires").length_nm.cv = Some(0.12);
    });
    assert_eq!(wide.text, "Spread 12 %, at most 8.0 %.");
}

#[test]
fn each_reason_has_its_case() {
    let of = |change: fn(&mut Line, &mut Report, &mut Signs)| {
        let verdict = judged(|line, report, signs| {
            shorten(report, 1, 900.0);
            change(line, report, signs);
        });
        assert!(verdict.text.chars().count() <= CHARACTERS);
        let reason = reason_of(&verdict, Kind::Length(1));
        if let Some(reason) = reason {
            assert!(verdict.text.ends_with(&format!("{}.", reason.words())), "{}", verdict.text);
        }
        reason
    };
    assert_eq!(of(|_, _, _| {}), None);
    assert_eq!(of(|_, _, signs| signs.stages[1].left_before_last_zone = Some(0.05)), Some(Reason::UsedUp));
    assert_eq!(
        of(|_, report, _| {
            let rows = &mut report.stages.get_mut(1).expect("there is the stage").balance;
            rows.iter_mut().find(|row| row.species == "TMIn").expect("it is fed").on_wall = 0.7;
        }),
        Some(Reason::Wall)
    );
    assert_eq!(
        of(|_, report, _| {
            let profile = &mut report.stages.get_mut(1).expect("there is the stage").profile;
            profile.seeds_c.iter_mut().for_each(|warm| *warm -= 60.0);
        }),
        Some(Reason::TooCool)
    );
    assert_eq!(
        of(|_, report, _| report.stages.get_mut(1).expect("there is the stage").residence_s.hot_seeds.mean = 0.5),
        Some(Reason::TooLittleTime)
    );
    assert_eq!(
        of(|_, report, _| {
            let profile = &mut report.stages.get_mut(1).expect("there is the stage").profile;
            profile.length_nm_mean.iter_mut().take(60).for_each(|length| *length = 0.0);
        }),
        Some(Reason::FillLate)
    );
    assert_eq!(
        of(|_, report, _| {
            let profile = &mut report.stages.get_mut(1).expect("there is the stage").profile;
            profile.group_v_pa_axis.iter_mut().for_each(|pressure| *pressure *= 0.05);
        }),
        Some(Reason::TooLittleGroupV)
    );
    assert_eq!(of(|line, _, _| line.growth.critical_diameter = 30e-9), Some(Reason::SeedTooSmall));
    assert_eq!(of(|_, _, signs| signs.stages[1].supply_over_kinetic = Some(0.6)), Some(Reason::Supply));
    assert_eq!(
        of(|line, report, _| {
            line.stages[0].flow *= 0.4;
            report.stages.get_mut(1).expect("there is the stage").inlet.group_iii_pa = 1.0;
        }),
        Some(Reason::Diluted)
    );
    let taken = judged(|_, report, _| set_net(report, 0, -1.4e18));
    assert_eq!(reason_of(&taken, Kind::Carriers(0)), Some(Reason::Wall));
}

#[test]
fn nothing_grown_says_why() {
    let none = |change: fn(&mut Line, &mut Report)| {
        judged(|line, report, _| {
            let wires = report.wires.get_mut().expect("there are wires");
            wires.length_nm.mean = 0.0;
            wires.length_nm.cv = None;
            for stage in 0..3 {
                let segment = wires.segments.get_mut(stage).expect("there is the segment");
                segment.length_nm.mean = 0.0;
                segment.net_per_cm3 = None;
            }
            change(line, report);
        })
    };
    let late = none(|_, _| {});
    assert_eq!(late.text, "Nothing grows: seeds do not fill before the last zone.");
    assert!(late.items.iter().filter(|item| item.predicted.is_none()).all(|item| !item.met && item.margin.is_none()));
    assert_eq!(none(|line, _| line.growth.critical_diameter = 70e-9).text, "Nothing grows: seeds are too small.");
    let without = none(|_, report| {
        for stage in 0..3 {
            report.stages.get_mut(stage).expect("there is the stage").inlet.group_v_pa = 0.0;
        }
    });
    assert_eq!(without.text, "Nothing grows: there is no group V.");
}

#[test]
fn a_sentence_is_short_whatever_the_names() {
    for name in [
        "x",
        "a very long name of a stage that nobody would ever read to its end, and some more",
        "管",
        "\u{1b}[31m",
        "",
    ] {
        for length in [0.1, 900.0, 5e5] {
            let verdict = judged(move |line, report, _| {
                for stage in &mut line.stages {
                    stage.name = name.try_into().expect("it fits");
                }
                shorten(report, 1, length);
                set_net(report, 0, -1e3);
                set_net(report, 2, 1e23);
            });
            assert!(!verdict.text.is_empty());
            assert!(verdict.text.chars().count() <= CHARACTERS, "{}", verdict.text);
            assert!(!verdict.text.chars().any(char::is_control), "{:?}", verdict.text);
        }
    }
}

#[test]
fn a_report_without_a_verdict_has_its_sentence() {
    predicted(CLASSIFIED, |_, report| {
        assert!(report.verdict.is_none());
        let text = sentence(report);
        assert!(text.starts_with("No order yet. This recipe makes wires of "), "{text}");
    });
    with_room(|| {
        let mut report = Box::new(Report::new());
        assert_eq!(sentence(&report), "");
        report.refused = Some(Refused {
            path: "stages[0]".try_into().expect("it is short"),
            z_mm: 12.34,
            at: At::Wall,
            grashof_over_reynolds: 60.0,
            text: "gas turns back at z = 12 mm (Gr/Re = 60); not predicted".try_into().expect("it is short"),
        });
        assert_eq!(sentence(&report), "No prediction: stages[0]: gas turns back at z = 12 mm, at the wall.");
        assert!(
            refusal(&report)
                .starts_with("stages[0]: gas turns back at z = 12 mm (Gr/Re = 60); not predicted. What helps: ")
        );
    });
}

/// Source: the format of the report, version 1: names of its fields.
#[test]
fn a_report_has_the_fields_of_its_format() {
    predicted(MIXED, |_, report| {
        let json = serde_json::to_value(report).expect("a report can be written");
        let names = |path: &str| {
            let at = path.split('/').filter(|part| !part.is_empty()).fold(&json, |value, part| {
                match part.parse::<usize>() {
                    Ok(place) => &value[place],
                    Err(_) => &value[part],
                }
            });
            at.as_object().unwrap_or_else(|| panic!("{path} is no object")).keys().cloned().collect::<BTreeSet<_>>()
        };
        let set = |names: &str| names.split(' ').map(str::to_owned).collect::<BTreeSet<_>>();
        for (path, fields) in [
            ("", "format refused warnings numerics seeds stages balance wires plant junction verdict cautions"),
            ("numerics", "rings stations classes length_error_nm balance_error wires_against_gas"),
            (
                "seeds",
                "diameter_nm multiply_charged_share wire_diameter_nm passed_share concentration_per_cm3 charges selected_nm centroid_mobility_m2_per_v_s",
            ),
            ("seeds/diameter_nm", "mean sd cv p05 p25 p50 p75 p95"),
            ("stages/0", "name flow drift_mm residence_s inlet profile seeds balance"),
            (
                "stages/0/flow",
                "total_sccm aerosol_share core_radius_mm mean_velocity_m_per_s reynolds prandtl peclet_heat grashof_over_reynolds richardson least_wall_shear axis_velocity entrance_hydraulic_mm entrance_thermal_mm",
            ),
            ("stages/0/flow/axis_velocity", "least most"),
            ("stages/0/drift_mm", "largest at_exit brownian_mm"),
            ("stages/0/residence_s", "mean_gas shortest seeds hot_seeds"),
            ("stages/0/inlet", "mixed_c group_iii_pa group_v_pa v_iii dopant_pa dopant_iii"),
            (
                "stages/0/profile",
                "z_mm wall_c axis_c seeds_c bulk_c core_radius_mm streamline_radius_mm seed_time_s group_iii_pa_axis fragment_pa_axis group_v_pa_axis rate_um_per_s_axis length_nm_mean wall_deposit_um_per_h group_iii_left",
            ),
            ("stages/0/profile/group_iii_left", "r_mm share"),
            (
                "stages/0/seeds",
                "per_s_in per_s_out coagulated_share dispersed_share unsheathed_wall_share settling_mm_per_s",
            ),
            ("stages/0/balance/0", "species entered_umol_per_min in_wires on_wall leaving closure"),
            ("balance/0", "species fed_umol_per_min in_wires on_wall exhaust closure"),
            ("wires", "length_nm diameter_nm segments along histogram spread_from population"),
            ("wires/diameter_nm", "tip base"),
            (
                "wires/segments/1",
                "stage length_nm start_nm doping net_per_cm3 dopants coat_nm own_taper_nm transition histogram share_inside",
            ),
            ("wires/segments/1/net_per_cm3", "mean start end"),
            ("wires/segments/1/dopants/DEZn", "mean_per_cm3 start_per_cm3 end_per_cm3"),
            ("wires/segments/1/transition", "offset_nm width_nm"),
            ("wires/along", "x_nm donors_per_cm3 acceptors_per_cm3 diameter_nm"),
            ("wires/histogram", "edges_nm share"),
            ("wires/spread_from", "paths seed_size both mixing"),
            ("wires/population/0", "stages path class weight length_nm tip_nm base_nm"),
        ] {
            assert_eq!(names(path), set(fields), "{path}");
        }
        assert_eq!(json["format"], "wire-growth-report/1");
    });
}
