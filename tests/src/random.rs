//! Random jobs, made from numbers between 0 and 1.
//!
//! A job is a way through choices; each takes the next number. 0 chooses the plainest: one stage, hydrogen, a single zone,
//! built-in kinetics. So a shorter list of smaller numbers is a plainer job, and a generator that shrinks numbers shrinks jobs.
//!
//! [`Draw::job`] keeps to what a laboratory would set, so that most jobs are neither refused nor turn back.

use serde_json::{Map, Value, json};

/// Numbers that choose.
#[derive(Clone, Debug)]
pub struct Draw<'a> {
    numbers: &'a [f64],
    next: usize,
}

/// More numbers than a job takes.
pub const NUMBERS: usize = 256;

impl<'a> Draw<'a> {
    /// From a list; behind its end every number is 0.
    #[must_use]
    pub const fn new(numbers: &'a [f64]) -> Self {
        Self { numbers, next: 0 }
    }

    /// The next number, 0 to below 1.
    pub fn unit(&mut self) -> f64 {
        let unit = self.numbers.get(self.next).copied().unwrap_or(0.0);
        self.next += 1;
        unit
    }

    /// Whether something that has this chance happens; 0 means that it does not.
    pub fn chance(&mut self, share: f64) -> bool {
        self.unit() >= 1.0 - share
    }

    /// Evenly between two values, four digits.
    pub fn even(&mut self, low: f64, high: f64) -> f64 {
        rounded(low + (high - low) * self.unit())
    }

    /// Evenly by the logarithm between two values, four digits.
    pub fn wide(&mut self, low: f64, high: f64) -> f64 {
        rounded(low * (high / low).powf(self.unit()))
    }

    /// One of a list.
    pub fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[((self.unit() * of.len() as f64) as usize).min(of.len() - 1)]
    }

    /// A whole number from 1.
    pub fn count(&mut self, most: usize) -> usize {
        1 + ((self.unit() * most as f64) as usize).min(most - 1)
    }

    /// A job.
    pub fn job(&mut self) -> Value {
        let carrier = self.carrier();
        let heavy = carrier.iter().any(|(gas, share)| (gas == "N2" || gas == "Ar") && share.as_f64() > Some(0.4));
        let material = self.one(&["InP", "GaAs", "GaP", "InAs"]);
        let mut job = json!({
            "format": "wire-growth-job/1",
            "carrier": carrier,
            "pressure_mbar": if self.chance(0.4) { self.even(300.0, 1500.0) } else { 1000.0 },
            "material": material,
            "aerosol_sccm": self.wide(300.0, 2500.0),
        });
        self.seeds(&mut job);
        let group_iii = match material {
            "InP" | "InAs" => "TMIn",
            _ => self.one(&["TMGa", "TEGa"]),
        };
        let group_v = if material.ends_with('P') { ["PH3", "TBP"] } else { ["AsH3", "TBAs"] };
        let fed = Fed { group_iii, group_v, dopants: self.dopants(), heavy };
        let stages: Vec<Value> = (0..self.count(4)).map(|n| self.stage(n, &fed)).collect();
        job["stages"] = Value::Array(stages);
        if self.chance(0.2) {
            job["transport"] = json!({ "thermal_diffusion": false });
        }
        let kinetics = self.kinetics(&fed);
        job["kinetics"] = kinetics;
        job
    }

    /// Pure gases and mixtures.
    fn carrier(&mut self) -> Map<String, Value> {
        let pure = ["H2", "H2", "N2", "He", "Ar"];
        let first = self.one(&pure);
        let mut carrier = Map::new();
        if self.chance(0.4) {
            let share = self.even(0.05, 0.95);
            let second = self.one(&["N2", "H2", "Ar", "He"]);
            if second != first {
                carrier.insert(first.to_owned(), json!(share));
                carrier.insert(second.to_owned(), json!(1.0 - share));
                return carrier;
            }
        }
        carrier.insert(first.to_owned(), json!(1.0));
        carrier
    }

    fn seeds(&mut self, job: &mut Value) {
        let mut seeds = Map::new();
        if self.chance(0.25) {
            let voltage = self.wide(200.0, 3000.0);
            job["classifier"] = json!({
                "inner_radius_mm": 9.37,
                "outer_radius_mm": 19.61,
                "length_mm": 443.7,
                "sheath_slm": self.even(5.0, 15.0),
                "aerosol_slm": self.even(0.5, 2.0),
                "temperature_c": 22,
                "voltage_v": voltage,
                "carrier": { "N2": 1.0 },
                "pressure_mbar": 1000,
                "source_median_nm": self.even(25.0, 90.0),
                "source_gsd": self.even(1.3, 1.8),
            });
        } else {
            seeds.insert("mobility_diameter_nm".into(), json!(self.wide(20.0, 120.0)));
            seeds.insert("spread_gsd".into(), json!(self.even(1.0, 1.3)));
        }
        if self.chance(0.15) {
            seeds.insert("electrometer".into(), json!({ "current_fa": self.wide(50.0, 5000.0), "flow_sccm": 300 }));
        } else {
            seeds.insert("concentration_per_cm3".into(), json!(self.wide(1e4, 3e6)));
            if self.chance(0.3) {
                seeds.insert("charges".into(), json!(self.one(&[0.0, 1.0, 2.0])));
            }
        }
        if self.chance(0.2) {
            seeds.insert("drift".into(), json!("none"));
        }
        if self.chance(0.2) {
            seeds.insert("shape_factor".into(), json!(self.even(1.0, 1.3)));
        }
        job["seeds"] = Value::Object(seeds);
    }

    fn dopants(&mut self) -> Vec<&'static str> {
        let mut left = vec!["DEZn", "TESn", "SiH4", "H2S", "DMZn"];
        let wanted = ((self.unit() * 4.0) as usize).min(3);
        (0..wanted)
            .map(|_| {
                let place = ((self.unit() * left.len() as f64) as usize).min(left.len() - 1);
                left.remove(place)
            })
            .collect()
    }

    fn stage(&mut self, n: usize, fed: &Fed) -> Value {
        let parabolic = self.chance(0.25);
        // What flows up is helped by a warm wall; what flows down in a heavy gas soon turns back.
        let up = self.chance(if fed.heavy { 0.8 } else { 0.3 });
        let inlet = if n == 0 && self.chance(0.5) { self.even(20.0, 150.0) } else { self.even(150.0, 400.0) };
        let tube = if fed.heavy && !parabolic { self.even(10.0, 26.0) } else { self.even(14.0, 40.0) };
        let mut stage = json!({ "tube_diameter_mm": tube, "inlet_c": inlet });
        if up {
            stage["flow"] = json!("up");
        }
        if self.chance(0.35) {
            stage["streamlines"] = json!("mixed");
        }
        if parabolic {
            stage["velocity"] = json!("parabolic");
        }
        self.wall(&mut stage);
        if n == 0 || self.chance(0.8) {
            stage["carrier_sccm"] = json!(self.even(300.0, 4000.0));
        }
        let mut feeds = Vec::new();
        if n == 0 || self.chance(0.7) {
            feeds.push(self.bubbler(fed.group_iii));
            feeds.push(self.group_v(fed.group_v));
            if self.chance(0.15) {
                feeds.push(self.group_v(fed.group_v));
            }
            for dopant in &fed.dopants {
                if n == 0 || self.chance(0.5) {
                    let feed = match *dopant {
                        "SiH4" | "H2S" => self.cylinder(dopant, [0.2, 20.0], [1e-4, 0.02]),
                        _ => self.bubbler(dopant),
                    };
                    feeds.push(feed);
                }
            }
        }
        stage["feeds"] = Value::Array(feeds);
        stage
    }

    fn wall(&mut self, stage: &mut Value) {
        if self.chance(0.15) {
            let points = 2 + self.count(5);
            let mut z = 0.0;
            let mut profile = Vec::new();
            for _ in 0..points {
                profile.push(json!({ "z_mm": rounded(z), "wall_c": self.even(300.0, 600.0) }));
                z += self.even(40.0, 200.0);
            }
            stage["profile"] = Value::Array(profile);
            return;
        }
        let zones: Vec<Value> = (0..self.count(3))
            .map(|_| json!({ "length_mm": self.even(80.0, 350.0), "wall_c": self.even(380.0, 600.0) }))
            .collect();
        stage["zones"] = Value::Array(zones);
        if self.chance(0.5) {
            stage["blend_mm"] = json!(self.even(0.0, 100.0));
        }
        if self.chance(0.3) {
            let inlet = stage["inlet_c"].as_f64().unwrap_or(0.0);
            stage["flange_c"] = json!(self.even(inlet - 40.0, inlet + 60.0));
        }
    }

    /// A bubbler of any precursor that is a liquid or a solid.
    fn bubbler(&mut self, precursor: &str) -> Value {
        let bath = self.even(-10.0, 25.0);
        let mut feed = json!({ "precursor": precursor, "bubbler": {
            "bath_c": bath,
            "bath_mbar": self.even(900.0, 1600.0),
            "carrier_sccm": if precursor == "TMIn" { self.wide(20.0, 300.0) } else { self.wide(2.0, 40.0) },
            "line_c": 60,
        } });
        self.diluted(&mut feed);
        feed
    }

    fn group_v(&mut self, names: [&str; 2]) -> Value {
        if self.chance(0.2) { self.bubbler(names[1]) } else { self.cylinder(names[0], [3.0, 60.0], [0.1, 1.0]) }
    }

    fn cylinder(&mut self, precursor: &str, flow: [f64; 2], share: [f64; 2]) -> Value {
        let (flow, share) = (self.wide(flow[0], flow[1]), self.wide(share[0], share[1]));
        let mut feed = json!({ "precursor": precursor, "flow_sccm": flow, "share": share });
        self.diluted(&mut feed);
        feed
    }

    /// Double dilution.
    fn diluted(&mut self, feed: &mut Value) {
        if self.chance(0.15) {
            let push = self.even(100.0, 600.0);
            feed["push_sccm"] = json!(push);
            feed["inject_sccm"] = json!(rounded(push * self.unit()));
        }
    }

    /// Numbers of the growth, and of every dopant, since not each has built-in ones.
    fn kinetics(&mut self, fed: &Fed) -> Value {
        let mut kinetics = json!({});
        for dopant in &fed.dopants {
            kinetics["dopants"][dopant] = json!({
                "wall_probability": self.wide(1e-5, 1e-2),
                "reference_per_cm3": self.wide(1e17, 1e19),
                "reference_ratio": self.wide(1e-4, 0.1),
                "order": self.even(0.5, 1.5),
                "activation_kj_per_mol": self.even(-60.0, 60.0),
                "limit_per_cm3": 5e19,
                "memory_diameters": self.even(0.0, 1.0),
            });
        }
        if self.chance(0.6) {
            kinetics["axial"] = json!({
                "rate_um_per_s": self.wide(0.2, 4.0),
                "activation_kj_per_mol": self.even(40.0, 140.0),
                "group_iii_order": self.even(0.5, 1.5),
            });
            kinetics["supply"] =
                json!({ "sticking": self.wide(0.05, 1.0), "collection_length_nm": self.wide(30.0, 1000.0) });
            kinetics["radial"] = json!({ "rate_nm_per_s": self.wide(0.05, 4.0) });
            kinetics["pyrolysis"] = json!({
                "frequency_per_s": self.wide(1e13, 1e15),
                "activation_kj_per_mol": self.even(180.0, 230.0),
            });
            kinetics["wall"] = json!({
                "parent_probability": self.wide(1e-7, 1e-4),
                "fragment_probability": self.wide(1e-5, 1.0),
                "group_v_probability": self.wide(1e-10, 1e-6),
            });
        }
        kinetics
    }
}

/// What a line is fed with.
struct Fed {
    group_iii: &'static str,
    group_v: [&'static str; 2],
    dopants: Vec<&'static str>,
    /// Whether the carrier is so heavy that buoyancy rules.
    heavy: bool,
}

/// To four digits, so that a job can be read.
fn rounded(value: f64) -> f64 {
    format!("{value:.3e}").parse().unwrap_or(value)
}
