//! What a march on one grid leaves behind: one record a stage, SI.
//!
//! The statistics of it are in [`crate::statistics`]; two harvests are judged into a report by [`crate::judge`].

use crate::flow;
use crate::line::{DOPANTS, Line, SPECIES, STAGES};
use crate::march::{classes, positions};
use crate::root::sqrt;
use crate::stage::{Passage, Section, flies};
use crate::units::GAS_CONSTANT;
use crate::wire::Class;
use core::f64::consts::{LN_2, PI};

/// A march's harvest: `R` rings, `P` paths, up to `C` classes, `N` records along each stage.
#[derive(Clone, Debug)]
pub struct Harvest<const R: usize, const P: usize, const C: usize, const N: usize> {
    /// Seed classes.
    pub classes: [Class; C],
    /// Number of seed classes.
    pub count: usize,
    /// The class nearest the median seed.
    pub middle: usize,
    /// Share of the seeds on each path, –; sums to 1.
    pub weight: [f64; P],
    /// One record a stage.
    pub stages: [StageHarvest<R, P, C, N>; STAGES],
}

/// What one stage did.
#[derive(Clone, Debug)]
pub struct StageHarvest<const R: usize, const P: usize, const C: usize, const N: usize> {
    /// ψ at which each path started in this stage, were it dealt anew here, –.
    pub position: [f64; P],
    /// Whether each path still flies at the exit.
    pub flying: [bool; P],
    /// Length grown in this stage, m.
    pub length: [[f64; C]; P],
    /// Doping where this stage's segment begins and ends, 1/m³.
    pub doping: [[[[f64; C]; P]; DOPANTS]; 2],
    /// ∫N dL over the segment, 1/m².
    pub content: [[[f64; C]; P]; DOPANTS],
    /// ∫v_rad dt over this stage, m.
    pub coat: [f64; P],
    /// That integral where the wire began, if it began here; else 0, m.
    pub bare: [[f64; C]; P],
    /// Volume of the whole wire at the exit, sidewall included, and the volume that filled the seed, m³.
    pub volume: [[[f64; C]; P]; 2],
    /// Time of each path in this stage, s.
    pub time: [f64; P],
    /// Time of each path hotter than where exp(−E_a/RT) is half of its largest, s.
    pub hot_time: [f64; P],
    /// Time on the axis, s.
    pub axis_time: f64,
    /// Moles in the tube over molar flow, s.
    pub gas_time: f64,
    /// S at the inlet and at the exit, –.
    pub single: [[f64; P]; 2],
    /// Shares of the seeds lost by meeting and by dispersion up to the inlet and up to the exit, –.
    pub lost: [[[f64; P]; 2]; 2],
    /// ∫D dt of the median seed on each path, m².
    pub spread: [f64; P],
    /// π ∫D dz/Q, –.
    pub exposure: f64,
    /// Molar flow of each species at the inlet, at the outlet, into the wall, into wires, mol/s.
    pub entered: [f64; SPECIES],
    /// See `entered`.
    pub outlet: [f64; SPECIES],
    /// See `entered`.
    pub on_wall: [f64; SPECIES],
    /// See `entered`.
    pub in_wires: [f64; SPECIES],
    /// Enthalpy mean of what arrives, K.
    pub mixed_inlet: f64,
    /// Length-average of the wall temperature, K.
    pub mean_wall: f64,
    /// Largest difference of wall and axis on the way, K.
    pub difference: f64,
    /// Least wall shear over that of the isothermal flow, –.
    pub least_shear: f64,
    /// Least and largest u(0)/2U, –.
    pub axis_velocity: [f64; 2],
    /// Largest drift of the core's edge inwards, m.
    pub drift: f64,
    /// Whether N_max or the floor of p_III was reached while wires grew.
    pub strained: bool,
    /// v_sup/v_kin of the middle class, mean over paths and over the length it grows here, –; 0 where nothing grew.
    pub supply_over_kinetic: f64,
    grown_sum: f64,
    /// Along the stage.
    pub trace: Trace<R, P, N>,
}

/// Figures along a stage, at `N` records.
#[derive(Clone, Debug)]
pub struct Trace<const R: usize, const P: usize, const N: usize> {
    /// z, m.
    pub z: [f64; N],
    /// T_w, K.
    pub wall: [f64; N],
    /// T of the innermost ring, K.
    pub axis: [f64; N],
    /// T on the path of the median seed, K.
    pub seeds: [f64; N],
    /// Flow-mean T, K.
    pub bulk: [f64; N],
    /// Radius of the drifted core's edge, m.
    pub core_radius: [f64; N],
    /// Radius of the streamline it started from, m.
    pub streamline_radius: [f64; N],
    /// Time on the path of the median seed since the stage's inlet, s.
    pub time: [f64; N],
    /// Parent and fragment on the axis, Pa.
    pub group_iii: [f64; N],
    /// Fragment on the axis, Pa.
    pub fragment: [f64; N],
    /// Group V on the axis, Pa.
    pub group_v: [f64; N],
    /// Molar flow of group III over that at this stage's inlet, –.
    pub flow_left: [f64; N],
    /// v of the middle class on the innermost path, m/s.
    pub rate: [f64; N],
    /// Mean length of the wire over all paths and classes, m.
    pub length: [f64; N],
    /// Group III that the wall takes, mol/(s m).
    pub deposit: [f64; N],
    /// Mean over the paths of the length that the middle class has grown in this stage, m.
    pub grown: [f64; N],
    /// Mean over the paths of its doping at the tip, 1/m³.
    pub doping: [[f64; N]; DOPANTS],
    /// Mean over the paths of ∫v_rad dt in this stage, m.
    pub coat: [f64; N],
    /// Temperature of each path, K.
    pub path_temperature: [[f64; N]; P],
    /// Time of each path, s.
    pub path_time: [[f64; N]; P],
    /// Middle radius of each ring, m.
    pub ring_radius: [[f64; R]; N],
    /// Group III in each ring over that at this stage's inlet, –.
    pub left: [[f64; R]; N],
}

impl<const R: usize, const P: usize, const N: usize> Trace<R, P, N> {
    const EMPTY: Self = Self {
        z: [0.0; N],
        wall: [0.0; N],
        axis: [0.0; N],
        seeds: [0.0; N],
        bulk: [0.0; N],
        core_radius: [0.0; N],
        streamline_radius: [0.0; N],
        time: [0.0; N],
        group_iii: [0.0; N],
        fragment: [0.0; N],
        group_v: [0.0; N],
        flow_left: [0.0; N],
        rate: [0.0; N],
        length: [0.0; N],
        deposit: [0.0; N],
        grown: [0.0; N],
        doping: [[0.0; N]; DOPANTS],
        coat: [0.0; N],
        path_temperature: [[0.0; N]; P],
        path_time: [[0.0; N]; P],
        ring_radius: [[0.0; R]; N],
        left: [[0.0; R]; N],
    };
}

impl<const R: usize, const P: usize, const C: usize, const N: usize> StageHarvest<R, P, C, N> {
    const EMPTY: Self = Self {
        position: [0.0; P],
        flying: [true; P],
        length: [[0.0; C]; P],
        doping: [[[[0.0; C]; P]; DOPANTS]; 2],
        content: [[[0.0; C]; P]; DOPANTS],
        coat: [0.0; P],
        bare: [[0.0; C]; P],
        volume: [[[0.0; C]; P]; 2],
        time: [0.0; P],
        hot_time: [0.0; P],
        axis_time: 0.0,
        gas_time: 0.0,
        single: [[1.0; P]; 2],
        lost: [[[0.0; P]; 2]; 2],
        spread: [0.0; P],
        exposure: 0.0,
        entered: [0.0; SPECIES],
        outlet: [0.0; SPECIES],
        on_wall: [0.0; SPECIES],
        in_wires: [0.0; SPECIES],
        mixed_inlet: 0.0,
        mean_wall: 0.0,
        difference: 0.0,
        least_shear: f64::MAX,
        axis_velocity: [f64::MAX, 0.0],
        drift: 0.0,
        strained: false,
        supply_over_kinetic: 0.0,
        grown_sum: 0.0,
        trace: Trace::EMPTY,
    };

    /// Notes the inlet.
    pub(crate) fn open(&mut self, section: &Section<R, P, C>, passage: &Passage<R, P, C>) {
        self.position = positions(passage.stage.core_share);
        self.difference = 0.0;
        self.least_shear = f64::MAX;
        self.axis_velocity = [f64::MAX, 0.0];
        self.drift = 0.0;
        self.mean_wall = 0.0;
        self.supply_over_kinetic = 0.0;
        self.grown_sum = 0.0;
        for p in 0..P {
            self.single[0][p] = 1.0 / section.crowd[p];
            for k in 0..C {
                // The segment starts where the wire stands; what grew before is taken off at the exit.
                self.length[p][k] = Self::grown(section, passage, p, k);
            }
        }
        self.lost[0] = section.lost;
        self.note(0, section, passage, 0.0);
    }

    /// L of class k on path p, m.
    fn grown(section: &Section<R, P, C>, passage: &Passage<R, P, C>, p: usize, k: usize) -> f64 {
        if k < passage.count { (section.running[p][k] - passage.classes[k].incubation).max(0.0) } else { 0.0 }
    }

    /// Follows extremes at every station.
    pub(crate) fn watch(&mut self, section: &Section<R, P, C>, passage: &Passage<R, P, C>, z: f64) {
        let wall = passage.stage.wall.temperature(z);
        self.difference = self.difference.max((wall - section.temperature[0]).abs());
        let velocity = &section.velocity;
        let square = velocity.edge[R - 1];
        let viscosity = passage.properties.viscosity(&passage.properties.place(wall));
        // The parabola is its own measure.
        let of_parabola = |ratio: f64| if passage.stage.parabolic { 1.0 } else { ratio };
        self.least_shear =
            self.least_shear.min(of_parabola(velocity.drive * square / (8.0 * viscosity * velocity.mean)));
        let axis = of_parabola(velocity.axis / (2.0 * velocity.mean));
        self.axis_velocity = [self.axis_velocity[0].min(axis), self.axis_velocity[1].max(axis)];
        let across = passage.across(section, wall);
        let edge = across.radius(section.border[P - 1]);
        self.drift = self.drift.max(across.radius(passage.stage.core_share) - edge);
        for p in 0..P {
            if flies(section.path[p]) && section.rate[p] > 0.0 {
                // A length that grows here, v dz/u, of all seeds of the path.
                let grown = passage.seeds[p] * section.rate[p] / section.spot[p].velocity;
                // Far above 1 the ratio says no more than that supply does not limit.
                self.supply_over_kinetic += grown * section.supply[p].min(1e6);
                self.grown_sum += grown;
            }
        }
    }

    /// Notes record `n`.
    pub(crate) fn note(&mut self, n: usize, section: &Section<R, P, C>, passage: &Passage<R, P, C>, z: f64) {
        let n = n.min(N - 1);
        let wall = passage.stage.wall.temperature(z);
        let across = passage.across(section, wall);
        let t = &mut self.trace;
        t.z[n] = z;
        t.wall[n] = wall;
        t.axis[n] = section.temperature[0];
        t.bulk[n] = passage.bulk(&section.temperature);
        t.core_radius[n] = across.radius(section.border[P - 1]);
        t.streamline_radius[n] = across.radius(passage.stage.core_share);
        let mut temperature = [0.0; P];
        for p in 0..P {
            temperature[p] = section.spot[p].temperature;
            t.path_temperature[p][n] = temperature[p];
            t.path_time[p][n] = section.time[p];
        }
        t.seeds[n] = median(&self.position, &temperature);
        t.time[n] = median(&self.position, &section.time);
        let pressure = passage.line.pressure;
        t.group_iii[n] = pressure * (section.share[0][0] + section.share[1][0]);
        t.fragment[n] = pressure * section.share[1][0];
        let (mut group_v, mut inlet) = (0.0, 0.0);
        for (s, species) in passage.line.species.iter().enumerate().take(SPECIES) {
            if species.part == crate::line::Part::GroupV {
                group_v += section.share[s][0];
            }
            if s < 2 {
                inlet += self.entered[s] / passage.stage.flow;
            }
        }
        t.group_v[n] = pressure * group_v;
        t.rate[n] = section.rate[0];
        t.deposit[n] = section.deposit;
        let (mut inner, mut flow) = (0.0, 0.0);
        for i in 0..R {
            flow += passage.rings.share[i] * (section.share[0][i] + section.share[1][i]);
            let outer = sqrt(section.velocity.edge[i]);
            t.ring_radius[n][i] = 0.5 * (inner + outer);
            inner = outer;
            let here = section.share[0][i] + section.share[1][i];
            t.left[n][i] = if inlet > 0.0 { here / inlet } else { 0.0 };
        }
        t.flow_left[n] = if inlet > 0.0 { flow / inlet } else { 0.0 };
        self.note_wires(n, section, passage);
    }

    fn note_wires(&mut self, n: usize, section: &Section<R, P, C>, passage: &Passage<R, P, C>) {
        let middle = passage.middle.min(C - 1);
        let (mut length, mut grown, mut coat, mut flying) = (0.0, 0.0, 0.0, 0.0);
        let mut doping = [0.0; DOPANTS];
        for p in 0..P {
            if !flies(section.path[p]) {
                continue;
            }
            let weight = passage.seeds[p];
            flying += weight;
            for k in 0..passage.count.min(C) {
                length += weight * passage.classes[k].weight * Self::grown(section, passage, p, k);
            }
            // Until the exit `length` holds what the wire had at the inlet.
            grown += weight * (Self::grown(section, passage, p, middle) - self.length[p][middle]);
            coat += weight * section.coat[p];
            for d in 0..DOPANTS {
                doping[d] += weight * section.doping[d][p][middle];
            }
        }
        let scale = if flying > 0.0 { 1.0 / flying } else { 0.0 };
        self.trace.length[n] = length * scale;
        self.trace.grown[n] = grown * scale;
        self.trace.coat[n] = coat * scale;
        for d in 0..DOPANTS {
            self.trace.doping[d][n] = doping[d] * scale;
        }
    }

    /// Notes the exit.
    pub(crate) fn close(&mut self, section: &Section<R, P, C>, passage: &Passage<R, P, C>) {
        for p in 0..P {
            self.flying[p] = flies(section.path[p]);
            self.single[1][p] = 1.0 / section.crowd[p];
            for k in 0..passage.count.min(C) {
                let class = &passage.classes[k];
                let length = Self::grown(section, passage, p, k);
                self.length[p][k] = length - self.length[p][k];
                self.volume[0][p][k] = class.area * length + section.flank[p][k];
                self.volume[1][p][k] = class.area * section.running[p][k].min(class.incubation);
            }
        }
        if self.grown_sum > 0.0 {
            self.supply_over_kinetic /= self.grown_sum;
        }
        self.lost[1] = section.lost;
        self.doping = [section.birth, section.doping];
        self.content = section.content;
        self.coat = section.coat;
        self.bare = section.bare;
        self.time = section.time;
        self.axis_time = section.axis_time;
        self.gas_time = section.gas_time;
        self.spread = section.spread;
        self.exposure = section.exposure;
        self.on_wall = section.on_wall;
        self.in_wires = section.in_wires;
        self.strained = section.strained;
        for s in 0..SPECIES {
            let mut sum = 0.0;
            for i in 0..R {
                sum += passage.rings.share[i] * section.share[s][i];
            }
            self.outlet[s] = passage.stage.flow * sum;
        }
        let t = &self.trace;
        for n in 1..N {
            self.mean_wall += 0.5 * (t.wall[n] + t.wall[n - 1]) * (t.z[n] - t.z[n - 1]) / passage.stage.length;
        }
        for p in 0..P {
            self.hot_time[p] = hot(&t.path_temperature[p], &t.path_time[p], passage.line.growth.axial_activation);
        }
    }

    /// Gr/Re, Re and more at the length-average of the wall temperature.
    #[must_use]
    pub fn grashof_over_reynolds(&self, line: &Line, radius: f64, flow: f64) -> f64 {
        let density = line.pressure / (GAS_CONSTANT * self.mean_wall);
        let kinematic = line.carrier.viscosity(self.mean_wall) / (density * line.carrier.molar_mass());
        let mean = flow / (density * PI * radius * radius);
        flow::grashof_over_reynolds(self.difference, self.mean_wall, kinematic, radius, mean)
    }
}

impl<const R: usize, const P: usize, const C: usize, const N: usize> Harvest<R, P, C, N> {
    /// An empty harvest.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            classes: [Class {
                ln_seed: 0.0,
                weight: 0.0,
                diameter: 0.0,
                area: 0.0,
                incubation: 0.0,
                gibbs_thomson: 0.0,
            }; C],
            count: 0,
            middle: 0,
            weight: [0.0; P],
            stages: [const { StageHarvest::EMPTY }; STAGES],
        }
    }

    /// Sets classes and weights for a line.
    pub(crate) fn start(&mut self, line: &Line) {
        (self.classes, self.count, self.middle) = classes(line);
        for (p, weight) in self.weight.iter_mut().enumerate() {
            // Core rings end at shares (i/n)² of the aerosol's flow.
            *weight = (2 * p + 1) as f64 / (P * P) as f64;
        }
    }
}

impl<const R: usize, const P: usize, const C: usize, const N: usize> Default for Harvest<R, P, C, N> {
    fn default() -> Self {
        Self::new()
    }
}

/// The value at the median seed, ψ = ½, linear in ψ between the paths.
fn median<const P: usize>(position: &[f64; P], values: &[f64; P]) -> f64 {
    let mut p = 1;
    while p + 1 < P && position[p] < 0.5 {
        p += 1;
    }
    if P == 1 {
        return values[0];
    }
    let part = (0.5 - position[p - 1]) / (position[p] - position[p - 1]);
    values[p - 1] + part * (values[p] - values[p - 1])
}

/// Time spent hotter than where exp(−E/RT) is half its largest, linear in T between records, s.
fn hot<const N: usize>(temperature: &[f64; N], time: &[f64; N], activation: f64) -> f64 {
    let mut most = 0.0_f64;
    for t in temperature {
        most = most.max(*t);
    }
    // 1/T = 1/T_max + R ln 2/E; an activation of 0 makes every place hot.
    let threshold = if activation > 0.0 { 1.0 / (1.0 / most + GAS_CONSTANT * LN_2 / activation) } else { 0.0 };
    let mut sum = 0.0;
    for n in 1..N {
        let (a, b) = (temperature[n - 1], temperature[n]);
        let (low, high) = (a.min(b), a.max(b));
        let part = if low >= threshold {
            1.0
        } else if high <= threshold {
            0.0
        } else {
            (high - threshold) / (high - low)
        };
        sum += part * (time[n] - time[n - 1]);
    }
    sum
}
