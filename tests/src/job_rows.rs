//! The job file's format, row by row: what is accepted and what is refused.
//!
//! A row of the format is a [`Row`]: changes to a whole job that are accepted, and changes that are refused with the path
//! of the fault and some of its words. [`BOUNDED`] lists every number with a range of its own, [`FULL`] jobs that
//! between them have every field there is. The suite that reads them is `tests/job_file.rs`.

use serde_json::{Map, Value};

/// A job that is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// Three stages, InP in H2.
    Example,
    /// Seeds from a classifier, GaAs in N2.
    Classifier,
    /// Two stages, GaAs in a mixed carrier, with a collector.
    Mixed,
    /// [`FULL`], the first.
    Full,
    /// [`FULL`], the second.
    Other,
}

impl Base {
    /// The job.
    ///
    /// # Panics
    /// Never: these texts are JSON, which the suite shows.
    #[must_use]
    pub fn job(self) -> Value {
        let text = match self {
            Self::Example => include_str!("../checks/jobs/example.json"),
            Self::Classifier => include_str!("../checks/jobs/classifier_population.json"),
            Self::Mixed => include_str!("../checks/jobs/gaas_pn_n2h2.json"),
            Self::Full => FULL[0],
            Self::Other => FULL[1],
        };
        serde_json::from_str(text).expect("a job of the suite is JSON")
    }
}

/// Changes to a job: path and JSON; `gone` takes the field away, `@N` is a text of N bytes.
pub type Changes = &'static [(&'static str, &'static str)];

/// Changes that are refused: with them the path of the fault, and words of its sentence.
pub type Refusal = (Changes, &'static str, &'static str);

/// One row of the format.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// What the row is about.
    pub row: &'static str,
    /// The job that is changed.
    pub base: Base,
    /// What is accepted.
    pub accepted: &'static [Changes],
    /// What is refused.
    pub refused: &'static [Refusal],
}

/// The job with changes.
///
/// # Panics
/// Where a change of the suite does not fit its job.
#[must_use]
pub fn changed(base: Base, changes: Changes) -> Value {
    let mut job = base.job();
    for (path, json) in changes {
        put(&mut job, path, value(json));
    }
    job
}

fn value(json: &str) -> Option<Value> {
    if json == "gone" {
        return None;
    }
    if let Some(bytes) = json.strip_prefix('@') {
        return Some(Value::String("x".repeat(bytes.parse().expect("a number of bytes"))));
    }
    Some(serde_json::from_str(json).expect("a change of the suite is JSON"))
}

/// Puts a value at a path such as `stages[0].zones[1].wall_c`, or takes it away. A key may hold a path itself, between
/// quotation marks.
///
/// # Panics
/// Where the path leads nowhere.
pub fn put(job: &mut Value, path: &str, value: Option<Value>) {
    let steps = steps(path);
    let (last, way) = steps.split_last().expect("a path has a step");
    let mut at = job;
    for step in way {
        at = match step {
            Step::Key(key) => at
                .as_object_mut()
                .expect("an object on the way")
                .entry(key.clone())
                .or_insert_with(|| Value::Object(Map::new())),
            Step::Index(index) => at.get_mut(*index).expect("an entry on the way"),
        };
    }
    match (last, value) {
        (Step::Key(key), Some(value)) => drop(at.as_object_mut().expect("an object").insert(key.clone(), value)),
        (Step::Key(key), None) => drop(at.as_object_mut().expect("an object").remove(key)),
        (Step::Index(index), value) => {
            let list = at.as_array_mut().expect("a list");
            match value {
                Some(value) if *index < list.len() => list[*index] = value,
                Some(value) => list.push(value),
                None => drop(list.remove(*index)),
            }
        }
    }
}

/// What stands at a path.
#[must_use]
pub fn at<'j>(job: &'j Value, path: &str) -> Option<&'j Value> {
    steps(path).iter().try_fold(job, |at, step| match step {
        Step::Key(key) => at.get(key),
        Step::Index(index) => at.get(*index),
    })
}

enum Step {
    Key(String),
    Index(usize),
}

fn steps(path: &str) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut rest = path;
    while !rest.is_empty() {
        if let Some(quoted) = rest.strip_prefix('"') {
            let (key, behind) = quoted.split_once('"').expect("a closing quotation mark");
            steps.push(Step::Key(key.to_owned()));
            rest = behind.strip_prefix('.').unwrap_or(behind);
            continue;
        }
        let end = rest.find('.').unwrap_or(rest.len());
        let (segment, behind) = rest.split_at(end);
        rest = behind.strip_prefix('.').unwrap_or(behind);
        let mut parts = segment.split('[');
        steps.extend(parts.next().filter(|name| !name.is_empty()).map(|name| Step::Key(name.to_owned())));
        steps.extend(parts.map(|index| Step::Index(index.trim_end_matches(']').parse().expect("an index"))));
    }
    steps
}

use Base::{Classifier, Example, Full, Mixed, Other};

/// Every row of the format.
pub const ROWS: &[Row] = &[
    Row {
        row: "format",
        base: Example,
        accepted: &[&[], &[("format", r#""wire-growth-job/1""#)]],
        refused: &[
            (&[("format", r#""wire-growth-job/2""#)], "format", "is not known; accepted: wire-growth-job/1"),
            (&[("format", "gone")], "format", "is missing"),
            (&[("format", r#"{"wire-growth-job/1": null}"#)], "format", "is an object"),
            (&[("colour", "1")], "colour", "is not a field"),
        ],
    },
    Row {
        row: "title",
        base: Example,
        accepted: &[&[("title", "gone")], &[("title", "@200")], &[("title", r#""""#)]],
        refused: &[
            (&[("title", "@201")], "title", "accepted: text of at most 200 bytes"),
            (&[("title", "5")], "title", "5 is a number; accepted: text"),
        ],
    },
    Row {
        row: "note",
        base: Example,
        accepted: &[&[("note", "gone")], &[("note", "@2000")]],
        refused: &[(&[("note", "@2001")], "note", "accepted: text of at most 2000 bytes")],
    },
    Row {
        row: "carrier",
        base: Example,
        accepted: &[
            &[("carrier", r#"{"H2": 0.75, "N2": 0.25}"#)],
            &[("carrier", r#"{"Ar": 0.5, "He": 0.5, "H2": 0}"#)],
            &[("carrier", r#"{"H2": 0.3333333, "N2": 0.6666667}"#)],
        ],
        refused: &[
            (&[("carrier", "gone")], "carrier", "is missing"),
            (&[("carrier", r#"{"H2": 0.5}"#)], "carrier", "sum to 0.5"),
            (&[("carrier", "{}")], "carrier", "sum to 0"),
            (&[("carrier", r#"{"O2": 1}"#)], "carrier.O2", "accepted: H2, N2, Ar, He"),
            (&[("carrier", r#"{"H2": 1.5, "N2": -0.5}"#)], "carrier.N2", "-0.5 is negative"),
            (&[("carrier", "[1, 0, 0, 0]")], "carrier", "is a list; accepted: an object"),
        ],
    },
    Row {
        row: "pressure_mbar",
        base: Full,
        accepted: &[&[("pressure_mbar", "50")], &[("pressure_mbar", "2000")]],
        refused: &[
            (&[("pressure_mbar", "49.9")], "pressure_mbar", "49.9 is too low; accepted: 50 to 2000 mbar"),
            (&[("pressure_mbar", "-1")], "pressure_mbar", "-1 is negative"),
            (&[("pressure_mbar", "gone")], "pressure_mbar", "is missing"),
            (&[("pressure_mbar", r#""high""#)], "pressure_mbar", r#""high" is text; accepted: a number"#),
            (&[("pressure_mbar", "true")], "pressure_mbar", "accepted: a number"),
            (&[("pressure_mbar", "null")], "pressure_mbar", "accepted: a number"),
        ],
    },
    Row {
        row: "material",
        base: Example,
        accepted: &[&[("material", r#""InP""#)]],
        refused: &[
            (&[("material", r#""GaN""#)], "material", "accepted: GaAs, InP, GaP, InAs"),
            (&[("material", "gone")], "material", "is missing"),
            (&[("material", r#""InAs""#)], "stages[0].feeds[1].precursor", r#""PH3" brings no element of InAs"#),
        ],
    },
    Row {
        row: "seeds.metal",
        base: Example,
        accepted: &[&[("seeds.metal", "gone")], &[("seeds.metal", r#""Au""#)]],
        refused: &[(&[("seeds.metal", r#""Ag""#)], "seeds.metal", "accepted: Au")],
    },
    Row {
        row: "seeds.mobility_diameter_nm, seeds.spread_gsd",
        base: Example,
        accepted: &[&[("seeds.mobility_diameter_nm", "2")], &[("seeds.spread_gsd", "1")]],
        refused: &[
            (&[("seeds.mobility_diameter_nm", "gone")], "seeds.mobility_diameter_nm", "or a classifier"),
            (&[("seeds.spread_gsd", "gone")], "seeds.spread_gsd", "is missing"),
            (&[("seeds.mobility_diameter_nm", "501")], "seeds.mobility_diameter_nm", "accepted: 2 to 500 nm"),
            (&[("seeds.spread_gsd", "0.99")], "seeds.spread_gsd", "accepted: 1 to 2.5"),
        ],
    },
    Row {
        row: "seeds.concentration_per_cm3",
        base: Example,
        accepted: &[&[("seeds.concentration_per_cm3", "1e9")]],
        refused: &[
            (&[("seeds.concentration_per_cm3", "gone")], "seeds.concentration_per_cm3", "or an electrometer"),
            (&[("seeds.concentration_per_cm3", "2e9")], "seeds.concentration_per_cm3", "accepted: 1 to 1e9 per cm³"),
        ],
    },
    Row {
        row: "seeds.electrometer",
        base: Other,
        accepted: &[&[("seeds.electrometer.current_fa", "500")], &[("seeds.electrometer.flow_sccm", "0.5")]],
        refused: &[
            (&[("seeds.charges", "0")], "seeds.electrometer", "seeds carry 0 charges"),
            (&[("seeds.concentration_per_cm3", "1e6")], "seeds.electrometer", "beside concentration_per_cm3"),
            (&[("seeds.electrometer.flow_sccm", "0")], "seeds.electrometer.flow_sccm", "above 0"),
            (&[("seeds.electrometer.current_fa", "0")], "seeds.electrometer.current_fa", "counts 0 seeds"),
            (&[("seeds.electrometer.current_fa", "1e12")], "seeds.electrometer.current_fa", "1 to 1e9 per cm³"),
            (&[("seeds.electrometer.current_fa", "gone")], "seeds.electrometer.current_fa", "is missing"),
        ],
    },
    Row {
        row: "seeds.charges",
        base: Example,
        accepted: &[&[("seeds.charges", "0")], &[("seeds.charges", "10")]],
        refused: &[(&[("seeds.charges", "10.5")], "seeds.charges", "accepted: 0 to 10")],
    },
    Row {
        row: "seeds.drift",
        base: Example,
        accepted: &[&[("seeds.drift", r#""none""#)], &[("seeds.drift", r#""thermophoretic""#)]],
        refused: &[(&[("seeds.drift", r#""some""#)], "seeds.drift", "accepted: thermophoretic, none")],
    },
    Row {
        row: "seeds.shape_factor",
        base: Example,
        accepted: &[&[("seeds.shape_factor", "0.5")], &[("seeds.shape_factor", "3")]],
        refused: &[(&[("seeds.shape_factor", "0.4")], "seeds.shape_factor", "accepted: 0.5 to 3")],
    },
    Row {
        row: "classifier",
        base: Classifier,
        accepted: &[
            &[],
            &[("classifier.polarity", r#""negative""#)],
            &[("classifier.carrier", r#"{"N2": 1}"#), ("classifier.pressure_mbar", "990")],
            &[("seeds.charges", "0")],
        ],
        refused: &[
            (&[("seeds.mobility_diameter_nm", "50")], "seeds.mobility_diameter_nm", "beside a classifier"),
            (&[("seeds.spread_gsd", "1.1")], "seeds.spread_gsd", "beside a classifier"),
            (&[("classifier.voltage_v", "-560")], "classifier.voltage_v", "accepted: 1 to 30000 V"),
            (&[("classifier.voltage_v", "gone")], "classifier.voltage_v", "is missing"),
            (&[("classifier.polarity", r#""up""#)], "classifier.polarity", "accepted: positive, negative"),
            (&[("classifier.outer_radius_mm", "9")], "classifier.outer_radius_mm", "leaves no gap"),
            (&[("classifier.sheath_slm", "1.2")], "classifier.aerosol_slm", "is not less than the sheath flow"),
            (&[("classifier.pressure_mbar", "400")], "classifier.pressure_mbar", "accepted: 500 to 2000 mbar"),
            (&[("pressure_mbar", "400")], "classifier.pressure_mbar", "400 is too low"),
            (&[("classifier.carrier", r#"{"N2": 0.5}"#)], "classifier.carrier", "sum to 0.5"),
            (&[("classifier.temperature_c", "-60")], "classifier.temperature_c", "accepted: -50 to 1000 °C"),
            (
                &[
                    ("classifier.source_gsd", "1.01"),
                    ("classifier.source_median_nm", "400"),
                    ("classifier.voltage_v", "1"),
                ],
                "classifier.voltage_v",
                "lets nothing pass",
            ),
        ],
    },
    Row {
        row: "aerosol_sccm",
        base: Example,
        accepted: &[&[("aerosol_sccm", "1")]],
        refused: &[
            (&[("aerosol_sccm", "0")], "aerosol_sccm", "accepted: 1 to 100000 sccm"),
            (&[("aerosol_sccm", "100000")], "stages[0].carrier_sccm", "above 0.95"),
            (&[("aerosol_sccm", "gone")], "aerosol_sccm", "is missing"),
        ],
    },
    Row {
        row: "stages[]",
        base: Mixed,
        accepted: &[&[], &[("stages[1]", "gone"), ("order", "gone")]],
        refused: &[
            (&[("stages", "[]"), ("order", "gone")], "stages", "is empty; accepted: 1 to 6 stages"),
            (&[("stages", "gone")], "stages", "is missing"),
            (&[("stages", "{}")], "stages", "is an object; accepted: a list of at most 6"),
            (&[("stages[0]", "[19, 160]")], "stages[0]", "is a list; accepted: an object"),
        ],
    },
    Row {
        row: "stages[].name",
        base: Example,
        accepted: &[&[("stages[0].name", "gone")], &[("stages[0].name", "@200")]],
        refused: &[(&[("stages[0].name", "@201")], "stages[0].name", "at most 200 bytes")],
    },
    Row {
        row: "stages[].tube_diameter_mm",
        base: Example,
        accepted: &[&[("stages[0].tube_diameter_mm", "5")], &[("stages[0].tube_diameter_mm", "200")]],
        refused: &[(&[("stages[0].tube_diameter_mm", "4.9")], "stages[0].tube_diameter_mm", "accepted: 5 to 200 mm")],
    },
    Row {
        row: "stages[].flow",
        base: Example,
        accepted: &[&[("stages[0].flow", r#""up""#)], &[("stages[0].flow", r#""down""#)]],
        refused: &[(&[("stages[0].flow", r#""left""#)], "stages[0].flow", "accepted: down, up")],
    },
    Row {
        row: "stages[].streamlines",
        base: Example,
        accepted: &[&[("stages[1].streamlines", r#""mixed""#)], &[("stages[0].streamlines", r#""kept""#)]],
        refused: &[(&[("stages[1].streamlines", r#""cut""#)], "stages[1].streamlines", "accepted: kept, mixed")],
    },
    Row {
        row: "stages[].velocity",
        base: Example,
        accepted: &[&[("stages[0].velocity", r#""parabolic""#)], &[("stages[0].velocity", r#""developed""#)]],
        refused: &[(&[("stages[0].velocity", r#""plug""#)], "stages[0].velocity", "accepted: developed, parabolic")],
    },
    Row {
        row: "stages[].inlet_c",
        base: Example,
        accepted: &[&[("stages[0].inlet_c", "-50")], &[("stages[0].inlet_c", "1000")]],
        refused: &[
            (&[("stages[0].inlet_c", "-300")], "stages[0].inlet_c", "-300 is below absolute zero"),
            (&[("stages[0].inlet_c", "gone")], "stages[0].inlet_c", "is missing"),
        ],
    },
    Row {
        row: "stages[].zones[]",
        base: Example,
        accepted: &[
            &[("stages[1].zones", r#"[{"length_mm": 10, "wall_c": 440}]"#)],
            &[("stages[1].zones[0].length_mm", "2000")],
        ],
        refused: &[
            (
                &[("stages[1].zones[0].wall_c", "-400")],
                "stages[1].zones[0].wall_c",
                "-400 is below absolute zero; accepted: -50 to 1000 °C",
            ),
            (&[("stages[1].zones[0].length_mm", "9")], "stages[1].zones[0].length_mm", "accepted: 10 to 2000 mm"),
            (&[("stages[1].zones", "gone")], "stages[1].zones", "is missing"),
            (&[("stages[1].zones", "[]")], "stages[1].zones", "is empty"),
            (&[("stages[1].zones[0]", "[150, 440]")], "stages[1].zones[0]", "accepted: an object"),
            (&[("stages[1].zones[0].width", "5")], "stages[1].zones[0].width", "accepted: length_mm or wall_c"),
        ],
    },
    Row {
        row: "stages[].blend_mm",
        base: Example,
        accepted: &[&[("stages[0].blend_mm", "0")], &[("stages[1].blend_mm", "gone")]],
        refused: &[
            (&[("stages[0].blend_mm", "501")], "stages[0].blend_mm", "accepted: 0 to 500 mm"),
            (
                &[("stages[0].blend_mm", "500"), ("stages[0].flange_c", "-40"), ("stages[0].zones[0].length_mm", "10")],
                "stages[0].blend_mm",
                "brings the wall to",
            ),
        ],
    },
    Row {
        row: "stages[].flange_c",
        base: Example,
        accepted: &[&[("stages[0].flange_c", "gone")], &[("stages[0].flange_c", "100")]],
        refused: &[(&[("stages[0].flange_c", "1001")], "stages[0].flange_c", "1001 is too high")],
    },
    Row {
        row: "stages[].profile[]",
        base: Other,
        accepted: &[&[("stages[0].profile", r#"[{"z_mm": 0, "wall_c": 100}, {"z_mm": 10, "wall_c": 440}]"#)]],
        refused: &[
            (&[("stages[0].profile", r#"[{"z_mm": 0, "wall_c": 100}]"#)], "stages[0].profile", "2 to 32 points"),
            (&[("stages[0].profile[0].z_mm", "1")], "stages[0].profile[0].z_mm", "is not the inlet"),
            (&[("stages[0].profile[1].z_mm", "0")], "stages[0].profile[1].z_mm", "does not rise"),
            (&[("stages[0].profile[2].z_mm", "5001")], "stages[0].profile[2].z_mm", "accepted: 10 to 5000 mm"),
            (&[("stages[0].profile[1].wall_c", "2000")], "stages[0].profile[1].wall_c", "2000 is too high"),
            (&[("stages[0].blend_mm", "40")], "stages[0].blend_mm", "beside a measured profile"),
            (&[("stages[0].flange_c", "40")], "stages[0].flange_c", "beside a measured profile"),
            (&[("stages[0].zones", r#"[{"length_mm": 500, "wall_c": 440}]"#)], "stages[0].profile", "beside zones"),
        ],
    },
    Row {
        row: "stages[].carrier_sccm",
        base: Example,
        accepted: &[&[("stages[1].carrier_sccm", "gone")], &[("stages[0].carrier_sccm", "100000")]],
        refused: &[
            (
                &[("stages[0].carrier_sccm", "-1")],
                "stages[0].carrier_sccm",
                "-1 is negative; accepted: 0 to 100000 sccm",
            ),
            (&[("aerosol_sccm", "90000")], "stages[0].carrier_sccm", "or more, or less aerosol_sccm"),
        ],
    },
    Row {
        row: "stages[].feeds[]",
        base: Example,
        accepted: &[
            &[("stages[1].feeds", "[]")],
            &[("stages[0].feeds[2]", "gone")],
            &[("stages[0].feeds[0].bubbler.carrier_sccm", "0")],
            &[
                ("stages[0].feeds[2].bubbler", "gone"),
                ("stages[0].feeds[2].flow_sccm", "5"),
                ("stages[0].feeds[2].share", "0.01"),
            ],
        ],
        refused: &[
            (&[("stages[1].feeds", "gone")], "stages[1].feeds", "is missing"),
            (&[("stages[0].feeds", "[]")], "stages[0].feeds", "is empty"),
            (
                &[("stages[0].feeds[0]", "gone"), ("stages[1].feeds[0]", "gone"), ("stages[2].feeds[0]", "gone")],
                "stages[0].feeds",
                "brings nothing of group III",
            ),
        ],
    },
    Row {
        row: "stages[].feeds[].precursor",
        base: Mixed,
        accepted: &[&[("stages[0].feeds[0].precursor", r#""TEGa""#), ("stages[1].feeds[0].precursor", r#""TEGa""#)]],
        refused: &[
            (&[("stages[0].feeds[0].precursor", r#""TMAl""#)], "stages[0].feeds[0].precursor", "accepted: TMGa, TEGa"),
            (
                &[("stages[1].feeds[0].precursor", r#""TEGa""#)],
                "stages[1].feeds[0].precursor",
                "is a second group III precursor; accepted: TMGa",
            ),
            (
                &[("stages[0].feeds[0].precursor", r#""TMIn""#)],
                "stages[0].feeds[0].precursor",
                r#""TMIn" brings no element of GaAs; accepted: TMGa, TEGa, AsH3, TBAs, or a dopant"#,
            ),
            (
                &[
                    ("stages[0].feeds[3]", r#"{"precursor": "SiH4", "flow_sccm": 1, "share": 0.01}"#),
                    ("stages[0].feeds[4]", r#"{"precursor": "H2S", "flow_sccm": 1, "share": 0.01}"#),
                ],
                "stages[1].feeds[2].precursor",
                "is one dopant too many; accepted: at most 3",
            ),
        ],
    },
    Row {
        row: "stages[].feeds[].bubbler",
        base: Example,
        accepted: &[
            &[("stages[0].feeds[0].bubbler.charge_g", "50")],
            &[("stages[0].feeds[0].bubbler.line_c", "20")],
            &[("stages[2].feeds[2].bubbler.line_c", "30")],
        ],
        refused: &[
            (
                &[("stages[0].feeds[1].bubbler", r#"{"bath_c": 0, "bath_mbar": 1000, "carrier_sccm": 5}"#)],
                "stages[0].feeds[1].bubbler",
                "cannot hold PH3",
            ),
            (&[("stages[0].feeds[0].flow_sccm", "5")], "stages[0].feeds[0].bubbler", "beside a cylinder's"),
            (&[("stages[0].feeds[0].bubbler", "gone")], "stages[0].feeds[0].bubbler", "or flow_sccm with share"),
            (&[("stages[0].feeds[0].bubbler.bath_mbar", "gone")], "stages[0].feeds[0].bubbler.bath_mbar", "is missing"),
            (&[("stages[0].feeds[0].bubbler.bath_c", "81")], "stages[0].feeds[0].bubbler.bath_c", "-40 to 80 °C"),
            (&[("stages[0].feeds[0].bubbler.line_c", "-41")], "stages[0].feeds[0].bubbler.line_c", "-40 to 150 °C"),
            (&[("stages[0].feeds[0].bubbler.line_c", "10")], "stages[0].feeds[0].bubbler.line_c", "condense"),
            (
                &[
                    ("stages[0].feeds[0].bubbler.bath_c", "80"),
                    ("stages[0].feeds[0].bubbler.carrier_sccm", "20000"),
                    ("stages[0].carrier_sccm", "0"),
                ],
                "stages[0].feeds[0].bubbler.line_c",
                "22 lets TMIn from a bath at 80 °C condense",
            ),
            (
                &[("stages[0].feeds[0].bubbler.bath_c", "75"), ("stages[0].feeds[0].bubbler.bath_mbar", "50")],
                "stages[0].feeds[0].bubbler.bath_mbar",
                "is not above the",
            ),
            (&[("stages[0].feeds[0].bubbler.charge_g", "-1")], "stages[0].feeds[0].bubbler.charge_g", "is negative"),
        ],
    },
    Row {
        row: "stages[].feeds[].flow_sccm with share",
        base: Example,
        accepted: &[&[("stages[0].feeds[1].flow_sccm", "0")], &[("stages[0].feeds[1].share", "0.05")]],
        refused: &[
            (&[("stages[0].feeds[1].share", "gone")], "stages[0].feeds[1].share", "is missing"),
            (&[("stages[0].feeds[1].flow_sccm", "gone")], "stages[0].feeds[1].flow_sccm", "is missing"),
            (&[("stages[0].feeds[1].share", "1.1")], "stages[0].feeds[1].share", "accepted: 0 to 1"),
            (&[("stages[0].feeds[1].flow_sccm", "100001")], "stages[0].feeds[1].flow_sccm", "is too high"),
        ],
    },
    Row {
        row: "stages[].feeds[].push_sccm, inject_sccm",
        base: Example,
        accepted: &[
            &[("stages[0].feeds[2].push_sccm", "500"), ("stages[0].feeds[2].inject_sccm", "10")],
            &[("stages[0].feeds[1].push_sccm", "0"), ("stages[0].feeds[1].inject_sccm", "20")],
        ],
        refused: &[
            (&[("stages[0].feeds[2].push_sccm", "500")], "stages[0].feeds[2].inject_sccm", "is missing"),
            (&[("stages[0].feeds[2].inject_sccm", "5")], "stages[0].feeds[2].push_sccm", "is missing"),
            (
                &[("stages[0].feeds[1].push_sccm", "10"), ("stages[0].feeds[1].inject_sccm", "30.1")],
                "stages[0].feeds[1].inject_sccm",
                "is more than there is; accepted: 0 to 30 sccm",
            ),
        ],
    },
    Row {
        row: "transport.thermal_diffusion",
        base: Example,
        accepted: &[&[("transport", "{}")], &[("transport.thermal_diffusion", "false")]],
        refused: &[(&[("transport.thermal_diffusion", "0")], "transport.thermal_diffusion", "accepted: true or false")],
    },
    Row {
        row: "kinetics",
        base: Example,
        accepted: &[&[("kinetics", "gone")], &[("kinetics", "{}")], &[("kinetics.axial.rate_um_per_s", "gone")]],
        refused: &[
            (&[("kinetics.axial.rate", "1")], "kinetics.axial.rate", "is not a field"),
            (&[("kinetics.dopants.TMIn", "{}")], "kinetics.dopants.TMIn", "is no dopant"),
            (&[("kinetics.dopants.XX", "{}")], "kinetics.dopants.XX", "is not a field"),
            (
                &[("kinetics.axial.critical_diameter_nm", "60")],
                "kinetics.axial.critical_diameter_nm",
                "below 60 nm, kinetics.reference.diameter_nm",
            ),
        ],
    },
    Row {
        row: "kinetics.uncertainty",
        base: Example,
        accepted: &[
            &[("kinetics.uncertainty.diffusion_percent", "5")],
            &[("kinetics.uncertainty.dopants", r#"{"DEZn": {"order": 0.1}}"#)],
            &[("kinetics.uncertainty", "gone")],
        ],
        refused: &[
            (
                &[("kinetics.uncertainty.axial.rate_um_per_s", "-1")],
                "kinetics.uncertainty.axial.rate_um_per_s",
                "is negative",
            ),
            (&[("kinetics.uncertainty.colour", "1")], "kinetics.uncertainty.colour", "is not a field"),
            (
                &[("kinetics.uncertainty.diffusion_percent", "-1")],
                "kinetics.uncertainty.diffusion_percent",
                "is negative",
            ),
        ],
    },
    Row {
        row: "kinetics.correlation[]",
        base: Example,
        accepted: &[
            &[("kinetics.correlation", "[]")],
            &[("kinetics.correlation", r#"[{"a": "axial.rate_um_per_s", "b": "dopants.DEZn.order", "r": -1}]"#)],
        ],
        refused: &[
            (
                &[("kinetics.correlation", r#"[{"a": "axial.rate_um_per_s", "b": "axial.rate", "r": 0}]"#)],
                "kinetics.correlation[0].b",
                r#""axial.rate" is no kinetic number"#,
            ),
            (
                &[("kinetics.correlation", r#"[{"a": "axial.rate_um_per_s", "b": "axial.rate_um_per_s", "r": 0}]"#)],
                "kinetics.correlation[0].b",
                "correlated with itself",
            ),
            (
                &[(
                    "kinetics.correlation",
                    r#"[{"a": "axial.rate_um_per_s", "b": "wall.dopant_probability", "r": 1.1}]"#,
                )],
                "kinetics.correlation[0].r",
                "accepted: -1 to 1",
            ),
            (
                &[(
                    "kinetics.correlation",
                    r#"[{"a": "supply.sticking", "b": "wall.dopant_probability", "r": 0},
                        {"b": "supply.sticking", "a": "wall.dopant_probability", "r": 0}]"#,
                )],
                "kinetics.correlation[1]",
                "stands there already",
            ),
        ],
    },
    Row {
        row: "instruments",
        base: Example,
        accepted: &[
            &[("instruments", "{}")],
            &[("instruments.full_scale_sccm", "5000")],
            &[("instruments.full_scale_sccm.\"stages[0].carrier_sccm\"", "5000")],
            &[("instruments.vapour_pressure_percent.TMIn", "20")],
        ],
        refused: &[
            (&[("instruments.bath", "1")], "instruments.bath", "is not a field"),
            (&[("instruments.bath_c", "-1")], "instruments.bath_c", "is negative"),
            (&[("instruments.full_scale_sccm", "0")], "instruments.full_scale_sccm", "above 0"),
            (&[("instruments.full_scale_sccm", r#""big""#)], "instruments.full_scale_sccm", "a number, or an object"),
            (
                &[("instruments.full_scale_sccm.\"stages[7].carrier_sccm\"", "5000")],
                "instruments.full_scale_sccm.stages[7].carrier_sccm",
                "is no flow of this job",
            ),
            (
                &[("instruments.full_scale_sccm.pressure_mbar", "5000")],
                "instruments.full_scale_sccm.pressure_mbar",
                "is no flow of this job",
            ),
            (
                &[("instruments.vapour_pressure_percent.PH3", "20")],
                "instruments.vapour_pressure_percent.PH3",
                "has no bath",
            ),
        ],
    },
    Row {
        row: "limits",
        base: Example,
        accepted: &[
            &[("limits", "{}")],
            &[("limits.flow", r#"{"step": 0.5}"#)],
            &[("limits.bath", r#"{"min": -10, "max": 35, "step": 0.5}"#)],
            &[("limits.wall", r#"{"max": 600}"#)],
            &[("limits.pressure", r#"{"min": 900, "max": 1100}"#)],
            &[("limits.voltage", r#"{"min": 100}"#)],
            &[("limits.\"stages[0].zones[2].wall_c\"", r#"{"min": 100}"#), ("limits.wall", r#"{"max": 600}"#)],
            &[("limits.\"stages[0].inlet_c\"", r#"{"min": 100}"#)],
        ],
        refused: &[
            (&[("limits.speed", "{}")], "limits.speed", "is no kind and no set-point of this job"),
            (&[("limits.\"stages[3].inlet_c\"", "{}")], "limits.stages[3].inlet_c", "no set-point of this job"),
            (&[("limits.\"classifier.voltage_v\"", "{}")], "limits.classifier.voltage_v", "no set-point of this job"),
            (&[("limits.bath", r#"{"min": 50}"#)], "limits.bath.min", "50 is above the largest; accepted: at most 40"),
            (&[("limits.voltage", r#"{"min": 5, "max": 4}"#)], "limits.voltage.min", "is above the largest"),
            (&[("limits.wall", r#"{"step": 0}"#)], "limits.wall.step", "accepted: above 0"),
            (&[("limits.wall", r#"{"step": -1}"#)], "limits.wall.step", "is negative"),
            (&[("limits.wall", r#"{"least": 1}"#)], "limits.wall.least", "accepted: min, max, step"),
        ],
    },
    Row {
        row: "order",
        base: Example,
        accepted: &[
            &[("order", "gone")],
            &[("order.segments[1]", "null")],
            &[("order.area_cm2", "gone"), ("order.pitch_nm", "gone"), ("order.wires", "1e12")],
            &[("order.area_cm2", "gone"), ("order.pitch_nm", "gone")],
            &[("order.diameter_tolerance_nm", "2"), ("order.spread_cv", "0.1")],
        ],
        refused: &[
            (&[("order.diameter_nm", "gone")], "order.diameter_nm", "is missing"),
            (&[("order.diameter_nm", "1")], "order.diameter_nm", "accepted: 2 to 500 nm"),
            (&[("order.diameter_tolerance_nm", "-1")], "order.diameter_tolerance_nm", "is negative"),
            (&[("order.spread_cv", "-0.1")], "order.spread_cv", "is negative"),
            (&[("order.segments[2]", "gone")], "order.segments", "has 2 segments for 3 stages"),
            (&[("order.segments[0].length_nm", "0.5")], "order.segments[0].length_nm", "accepted: 1 to 1e6 nm"),
            (&[("order.segments[0].tolerance_nm", "0")], "order.segments[0].tolerance_nm", "is too low"),
            (&[("order.segments[0].doping", r#""q""#)], "order.segments[0].doping", "accepted: p, n, i"),
            (&[("order.segments[0].carriers_per_cm3", "1e11")], "order.segments[0].carriers_per_cm3", "1e12 to 1e22"),
            (&[("order.wires", "1e12")], "order.wires", "one of the two"),
            (&[("order.pitch_nm", "gone")], "order.pitch_nm", "is missing"),
            (&[("order.area_cm2", "gone")], "order.area_cm2", "is missing"),
        ],
    },
    Row {
        row: "collector",
        base: Mixed,
        accepted: &[
            &[],
            &[("collector.kind", r#""plate""#), ("collector.temperature_c", "60")],
            &[("collector", r#"{"kind": "liquid", "volume_ml": 20, "efficiency": 0.9}"#)],
            &[("collector", r#"{"kind": "filter"}"#)],
        ],
        refused: &[
            (&[("collector.kind", r#""bag""#)], "collector.kind", "accepted: plate, filter, liquid"),
            (&[("collector.gap_mm", "0")], "collector.gap_mm", "above 0"),
            (&[("collector.voltage_v", "gone")], "collector.voltage_v", "a plate needs it"),
            (&[("collector.volume_ml", "5")], "collector.volume_ml", "does not belong to a plate"),
            (&[("collector", r#"{"kind": "filter", "efficiency": 1.5}"#)], "collector.efficiency", "accepted: 0 to 1"),
            (&[("collector.temperature_c", "-60")], "collector.temperature_c", "accepted: -50 to 1000 °C"),
        ],
    },
    Row {
        row: "plant",
        base: Example,
        accepted: &[
            &[("plant", "{}")],
            &[("plant.prices", r#"{"TMIn": {"per_g": 12}, "H2": {"per_l": 0.01}, "Au": {"per_g": 70}}"#)],
            &[("plant.cleaning_um", "500")],
            &[(
                "plant.batch",
                r#"{"wafer_mm": 50, "wafers": 3, "pitch_nm": 500, "rate_nm_per_s": 5, "cycle_min": 90}"#,
            )],
        ],
        refused: &[
            (&[("plant.prices", r#"{"TMIn": {}}"#)], "plant.prices.TMIn", "needs one price"),
            (
                &[("plant.prices", r#"{"TMIn": {"per_g": 1, "per_l": 1}}"#)],
                "plant.prices.TMIn",
                "either per_g or per_l",
            ),
            (&[("plant.prices", r#"{"TMIn": 5}"#)], "plant.prices.TMIn", "5 is a number; accepted: an object"),
            (&[("plant.prices", r#"{"water": {"per_l": 1}}"#)], "plant.prices.water", "is nothing that a line uses"),
            (&[("plant.prices", r#"{"H2": {"per_l": -1}}"#)], "plant.prices.H2.per_l", "is negative"),
            (&[("plant.cleaning_um", "0")], "plant.cleaning_um", "above 0"),
            (&[("plant.batch", r#"{"wafer_mm": 50}"#)], "plant.batch.wafers", "is missing"),
            (
                &[(
                    "plant.batch",
                    r#"{"wafer_mm": 50, "wafers": 3, "pitch_nm": 0, "rate_nm_per_s": 5, "cycle_min": 90}"#,
                )],
                "plant.batch.pitch_nm",
                "above 0",
            ),
        ],
    },
];

/// A number with a range of its own: job, path, least, largest.
pub type Bounded = (Base, &'static str, f64, f64);

/// Every number that has a range of its own, both ends accepted.
pub const BOUNDED: &[Bounded] = &[
    (Full, "carrier.H2", 0.0, 1.0),
    (Full, "pressure_mbar", 50.0, 2000.0),
    (Full, "aerosol_sccm", 1.0, 100_000.0),
    (Full, "seeds.mobility_diameter_nm", 2.0, 500.0),
    (Full, "seeds.spread_gsd", 1.0, 2.5),
    (Full, "seeds.concentration_per_cm3", 1.0, 1e9),
    (Full, "seeds.charges", 0.0, 10.0),
    (Full, "seeds.shape_factor", 0.5, 3.0),
    (Other, "classifier.inner_radius_mm", 1.0, 200.0),
    (Other, "classifier.outer_radius_mm", 1.0, 200.0),
    (Other, "classifier.length_mm", 5.0, 2000.0),
    (Other, "classifier.sheath_slm", 0.01, 100.0),
    (Other, "classifier.aerosol_slm", 0.01, 100.0),
    (Other, "classifier.temperature_c", -50.0, 1000.0),
    (Other, "classifier.voltage_v", 1.0, 30_000.0),
    (Other, "classifier.source_median_nm", 2.0, 500.0),
    (Other, "classifier.source_gsd", 1.0, 2.5),
    (Other, "classifier.pressure_mbar", 500.0, 2000.0),
    (Full, "stages[0].tube_diameter_mm", 5.0, 200.0),
    (Full, "stages[0].inlet_c", -50.0, 1000.0),
    (Full, "stages[0].zones[0].length_mm", 10.0, 2000.0),
    (Full, "stages[0].zones[0].wall_c", -50.0, 1000.0),
    (Full, "stages[0].blend_mm", 0.0, 500.0),
    (Full, "stages[0].flange_c", -50.0, 1000.0),
    (Full, "stages[0].carrier_sccm", 0.0, 100_000.0),
    (Other, "stages[0].profile[2].z_mm", 10.0, 5000.0),
    (Other, "stages[0].profile[0].wall_c", -50.0, 1000.0),
    (Full, "stages[0].feeds[0].bubbler.bath_c", -40.0, 80.0),
    (Full, "stages[0].feeds[0].bubbler.bath_mbar", 50.0, 2000.0),
    (Full, "stages[0].feeds[0].bubbler.carrier_sccm", 0.0, 100_000.0),
    (Full, "stages[0].feeds[0].bubbler.line_c", -40.0, 150.0),
    (Full, "stages[0].feeds[1].flow_sccm", 0.0, 100_000.0),
    (Full, "stages[0].feeds[1].share", 0.0, 1.0),
    (Full, "stages[0].feeds[2].push_sccm", 0.0, 100_000.0),
    (Full, "stages[0].feeds[2].inject_sccm", 0.0, 100_000.0),
    (Full, "order.diameter_nm", 2.0, 500.0),
    (Full, "order.segments[0].length_nm", 1.0, 1e6),
    (Full, "order.segments[0].tolerance_nm", 1.0, 1e6),
    (Full, "order.segments[0].carriers_per_cm3", 1e12, 1e22),
    (Other, "collector.efficiency", 0.0, 1.0),
    (Full, "collector.temperature_c", -50.0, 1000.0),
    (Full, "kinetics.axial.activation_kj_per_mol", 0.0, 600.0),
    (Full, "kinetics.axial.group_iii_order", 0.0, 3.0),
    (Full, "kinetics.reference.temperature_c", -50.0, 1000.0),
    (Full, "kinetics.supply.sticking", 0.0, 1.0),
    (Full, "kinetics.radial.activation_kj_per_mol", 0.0, 600.0),
    (Full, "kinetics.pyrolysis.frequency_per_s", 0.0, 1e25),
    (Full, "kinetics.pyrolysis.activation_kj_per_mol", 0.0, 600.0),
    (Full, "kinetics.wall.parent_probability", 0.0, 1.0),
    (Full, "kinetics.wall.fragment_probability", 0.0, 1.0),
    (Full, "kinetics.wall.activation_kj_per_mol", 0.0, 600.0),
    (Full, "kinetics.wall.group_v_probability", 0.0, 1.0),
    (Full, "kinetics.wall.group_v_activation_kj_per_mol", 0.0, 600.0),
    (Full, "kinetics.wall.dopant_probability", 0.0, 1.0),
    (Full, "kinetics.dopants.DEZn.wall_probability", 0.0, 1.0),
    (Full, "kinetics.dopants.DEZn.order", 0.0, 3.0),
    (Full, "kinetics.dopants.DEZn.activation_kj_per_mol", -600.0, 600.0),
    (Full, "kinetics.correlation[0].r", -1.0, 1.0),
];

/// Numbers whose ends are not both accepted: job, path, accepted, refused.
pub const HALF_BOUNDED: &[(Base, &str, &[f64], &[f64])] = &[
    (Full, "kinetics.seed.group_iii_share", &[0.0, 0.99], &[1.0, -0.1]),
    (Full, "kinetics.seed.contact_angle_deg", &[90.1, 179.9], &[90.0, 180.0, 45.0]),
    (Full, "kinetics.axial.rate_um_per_s", &[0.0, 1e6], &[-1.0]),
    (Full, "kinetics.axial.v_iii_half", &[0.0, 1e6], &[-1.0]),
    (Full, "kinetics.axial.critical_diameter_nm", &[0.0, 59.0], &[-1.0, 60.0]),
    (Full, "kinetics.reference.group_iii_pa", &[1e-3, 1e5], &[0.0, -1.0]),
    (Full, "kinetics.reference.v_iii", &[1e-3, 1e5], &[0.0, -1.0]),
    (Full, "kinetics.reference.diameter_nm", &[20.0, 500.0], &[0.0, -1.0]),
    (Full, "kinetics.supply.collection_length_nm", &[0.0, 1e6], &[-1.0]),
    (Full, "kinetics.radial.rate_nm_per_s", &[0.0, 1e3], &[-1.0]),
    (Full, "kinetics.dopants.DEZn.reference_per_cm3", &[0.0, 1e22], &[-1.0]),
    (Full, "kinetics.dopants.DEZn.reference_ratio", &[1e-6, 10.0], &[0.0, -1.0]),
    (Full, "kinetics.dopants.DEZn.limit_per_cm3", &[0.0, 1e22], &[-1.0]),
    (Full, "kinetics.dopants.DEZn.memory_diameters", &[0.0, 10.0], &[-1.0]),
];

/// Two jobs that between them have every field of the format.
pub const FULL: [&str; 2] = [
    r#"{
  "format": "wire-growth-job/1", "title": "all", "note": "every field",
  "carrier": {"H2": 1, "N2": 0, "Ar": 0, "He": 0}, "pressure_mbar": 1000, "material": "InP",
  "seeds": {"metal": "Au", "mobility_diameter_nm": 50, "spread_gsd": 1.05, "concentration_per_cm3": 6e5, "charges": 1,
            "drift": "thermophoretic", "shape_factor": 1.1},
  "aerosol_sccm": 900,
  "stages": [{
    "name": "first", "tube_diameter_mm": 32, "flow": "down", "streamlines": "kept", "velocity": "developed", "inlet_c": 120,
    "zones": [{"length_mm": 150, "wall_c": 450}, {"length_mm": 300, "wall_c": 440}], "blend_mm": 80, "flange_c": 120,
    "carrier_sccm": 2900,
    "feeds": [
      {"precursor": "TMIn", "bubbler": {"bath_c": 20, "bath_mbar": 1000, "carrier_sccm": 111, "charge_g": 50, "line_c": 30}},
      {"precursor": "PH3", "flow_sccm": 20, "share": 0.9},
      {"precursor": "DEZn", "bubbler": {"bath_c": -5, "bath_mbar": 1000, "carrier_sccm": 5}, "push_sccm": 500,
       "inject_sccm": 10}]
  }],
  "transport": {"thermal_diffusion": true},
  "kinetics": {
    "axial": {"rate_um_per_s": 1, "activation_kj_per_mol": 90, "group_iii_order": 1, "v_iii_half": 5,
              "critical_diameter_nm": 8},
    "reference": {"temperature_c": 450, "group_iii_pa": 4, "v_iii": 100, "diameter_nm": 60},
    "supply": {"sticking": 0.5, "collection_length_nm": 150},
    "radial": {"rate_nm_per_s": 0.8, "activation_kj_per_mol": 110},
    "seed": {"group_iii_share": 0.35, "contact_angle_deg": 115},
    "pyrolysis": {"frequency_per_s": 1e14, "activation_kj_per_mol": 205},
    "wall": {"parent_probability": 2e-6, "fragment_probability": 0.02, "activation_kj_per_mol": 60,
             "group_v_probability": 1e-9, "group_v_activation_kj_per_mol": 142, "dopant_probability": 5e-4},
    "dopants": {"DEZn": {"wall_probability": 1e-3, "reference_per_cm3": 3e18, "reference_ratio": 0.02, "order": 1,
                         "activation_kj_per_mol": 0, "limit_per_cm3": 5e19, "memory_diameters": 0.5}},
    "uncertainty": {
      "axial": {"rate_um_per_s": 0.08, "activation_kj_per_mol": 6, "group_iii_order": 0.1, "v_iii_half": 1,
                "critical_diameter_nm": 1},
      "reference": {"temperature_c": 1, "group_iii_pa": 0.1, "v_iii": 1, "diameter_nm": 1},
      "supply": {"sticking": 0.1, "collection_length_nm": 20},
      "radial": {"rate_nm_per_s": 0.1, "activation_kj_per_mol": 10},
      "seed": {"group_iii_share": 0.05, "contact_angle_deg": 5},
      "pyrolysis": {"frequency_per_s": 1e13, "activation_kj_per_mol": 5},
      "wall": {"parent_probability": 1e-6, "fragment_probability": 0.01, "activation_kj_per_mol": 10,
               "group_v_probability": 1e-9, "group_v_activation_kj_per_mol": 10, "dopant_probability": 1e-4},
      "dopants": {"DEZn": {"wall_probability": 1e-4, "reference_per_cm3": 1e18, "reference_ratio": 0.01, "order": 0.1,
                           "activation_kj_per_mol": 5, "limit_per_cm3": 1e19, "memory_diameters": 0.1}},
      "diffusion_percent": 10},
    "correlation": [{"a": "axial.rate_um_per_s", "b": "axial.activation_kj_per_mol", "r": -0.4}]
  },
  "instruments": {
    "flow_percent_of_reading": 1, "flow_percent_of_full_scale": 0.2, "full_scale_sccm": 5000, "thermocouple_c": 2,
    "pressure_mbar": 2, "bath_c": 0.1, "inlet_c": 5, "seed_count_percent": 10, "seed_diameter_percent": 1,
    "tube_diameter_mm": 0.1, "vapour_pressure_percent": {"TMIn": 20}},
  "limits": {"bath": {"min": -20, "max": 40, "step": 0.1}, "stages[0].zones[1].wall_c": {"max": 600}},
  "order": {"diameter_nm": 60, "diameter_tolerance_nm": 3, "spread_cv": 0.1,
            "segments": [{"length_nm": 700, "tolerance_nm": 100, "doping": "p", "carriers_per_cm3": 3e18}],
            "area_cm2": 100, "pitch_nm": 500},
  "collector": {"kind": "plate", "plate_area_cm2": 400, "gap_mm": 20, "voltage_v": 8000, "wire_charge": 5,
                "temperature_c": 25},
  "plant": {"prices": {"TMIn": {"per_g": 12}, "H2": {"per_l": 0.01}}, "cleaning_um": 500,
            "batch": {"wafer_mm": 50, "wafers": 3, "pitch_nm": 500, "rate_nm_per_s": 5, "cycle_min": 90}}
}"#,
    r#"{
  "format": "wire-growth-job/1", "carrier": {"N2": 1}, "pressure_mbar": 1000, "material": "GaAs",
  "seeds": {"electrometer": {"current_fa": 1000, "flow_sccm": 1000}, "charges": 1.1},
  "classifier": {"inner_radius_mm": 9, "outer_radius_mm": 19, "length_mm": 400, "sheath_slm": 10, "aerosol_slm": 1.2,
                 "temperature_c": 23, "voltage_v": 560, "polarity": "negative", "carrier": {"N2": 1}, "source_median_nm": 60,
                 "source_gsd": 1.6, "pressure_mbar": 1000},
  "aerosol_sccm": 1200,
  "stages": [{
    "tube_diameter_mm": 18, "inlet_c": 120,
    "profile": [{"z_mm": 0, "wall_c": 120}, {"z_mm": 200, "wall_c": 500}, {"z_mm": 600, "wall_c": 510}],
    "carrier_sccm": 1800,
    "feeds": [
      {"precursor": "TMGa", "bubbler": {"bath_c": -10, "bath_mbar": 1000, "carrier_sccm": 12}},
      {"precursor": "AsH3", "flow_sccm": 20, "share": 1}]
  }],
  "instruments": {"full_scale_sccm": {"stages[0].feeds[1].flow_sccm": 100}},
  "order": {"diameter_nm": 60, "segments": [null], "wires": 1e12},
  "collector": {"kind": "liquid", "volume_ml": 20, "efficiency": 0.95}
}"#,
];
