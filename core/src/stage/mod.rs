//! One stage, station by station: heat, flow and paths first, then species and the wires that grow on the paths.
//!
//! Takes a [`Section`] one and two stations upstream, gives the next one. The order at a station is T, then velocity and edges (both twice: Γ
//! and edges from the last pass, the first time from upstream), then the paths; none of these knows of precursors or wires. Then
//! species and wires, twice: uptake enters as (taken/φ) φ, implicit in φ; the wire's own length in tanh(L/λ_s) is extrapolated
//! from upstream the first time.
//!
//! ```text
//! Γ_T = k, carried ṅ ΔF c_p;   Γ_s = c D_s, a = α_s ln(T_i+1/T_i), carried ṅ ΔF                          (1)
//! parent → fragment: k = A exp(−E/RT), S = ∓ k c x_parent                                               (2)
//! taken of group III for each metre: N_path/u [(π d²/4) v + A v_rad]/(Ω N_A), parent and fragment as their flux J   (3)
//! taken of group V: the same while it grows, in proportion to the mole fractions; of a dopant: N∞ times the grown volume
//! d(1/S)/dz = (2K + Z_q q e/ε0) η c/u                                                                    (4)
//! ```
//!
//! What wall and wires took is carried per species by the same difference in z as the mole fractions, so that the balance closes.
//!
//! The sidewall grows from where the wire begins. Its rate is the same for all classes of a path, so the layer is carried for the path from
//! the stage's inlet (`coat`), and where the wire begins it is remembered (`bare`): a step in time would lose up to a station there.
//! Likewise A = π d L + ∫2πL v_rad dt, whose first term needs no integration.
//!
//! Range: what [`Line`] proves. Where gas would turn back the stage ends with a [`Turn`].

use crate::drift::{Across, Spot};
use crate::flow::{self, Gas, Place, Rings, Velocity, share_of_depth};
use crate::line::{DOPANTS, Line, Part, SPECIES, Stage};
use crate::properties::Properties;
use crate::root::sqrt;
use crate::section::{Balance, Difference, Faces, Ride};
use crate::units::GAS_CONSTANT;
use crate::wire::{Class, Law, Shared, Warm};
use core::f64::consts::PI;

mod growth;

pub use growth::Bench;

/// Closest that the edge of the seeded core comes to the wall, as a share of the flow.
const FULL: f64 = 1.0 - 1e-9;

/// The gas turned back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// z from the inlet of the stage, m.
    pub z: f64,
    /// Where across the tube.
    pub place: Place,
    /// Gr/Re of the section: wall less axis, properties at the flow-mean temperature.
    pub grashof_over_reynolds: f64,
}

/// The state at one station.
#[derive(Clone, Copy, Debug)]
pub struct Section<const R: usize, const P: usize, const C: usize> {
    /// T of each ring, K.
    pub temperature: [f64; R],
    /// Edges of the rings and velocity there.
    pub velocity: Velocity<R>,
    /// Mole fraction of each species in each ring, –.
    pub share: [[f64; R]; SPECIES],
    /// F of each path, –.
    pub path: [f64; P],
    /// F of the outer edge of each path's seeds, –.
    pub border: [f64; P],
    /// What each path meets.
    pub spot: [Spot; P],
    /// Time since the stage's inlet on each path, s.
    pub time: [f64; P],
    /// The same on the axis, s.
    pub axis_time: f64,
    /// Moles of gas between the inlet and here over the molar flow, s.
    pub gas_time: f64,
    /// 1/S on each path since the first stage, –.
    pub crowd: [f64; P],
    /// Shares of the seeds lost by meeting and by dispersion since the first stage, –.
    pub lost: [[f64; P]; 2],
    /// ∫D dt of the median seed on each path in this stage, m².
    pub spread: [f64; P],
    /// π ∫D dz/Q in this stage, –.
    pub exposure: f64,
    /// Taken by the wall since the stage's inlet, mol/s.
    pub on_wall: [f64; SPECIES],
    /// Taken by the wires since the stage's inlet, mol/s.
    pub in_wires: [f64; SPECIES],
    /// Deposited by the wall for each metre, parent and fragment of group III, mol/(s m).
    pub deposit: f64,
    /// ∫v_rad dt on each path since the stage's inlet, m.
    pub coat: [f64; P],
    /// v on each path of the middle class, m/s.
    pub rate: [f64; P],
    /// v_sup/v_kin on each path of the middle class, –.
    pub supply: [f64; P],
    /// h(q) on each path, –.
    pub bracket: [f64; P],
    /// Λ of each class on each path, m.
    pub running: [[f64; C]; P],
    /// `coat` where the wire began, m.
    pub bare: [[f64; C]; P],
    /// ∫2πL v_rad dt, m².
    pub side: [[f64; C]; P],
    /// ∫A v_rad dt, m³.
    pub flank: [[f64; C]; P],
    /// N∞ of each dopant on each path, 1/m³.
    pub wanted: [[f64; P]; DOPANTS],
    /// N at the tip, 1/m³.
    pub doping: [[[f64; C]; P]; DOPANTS],
    /// N where this stage's segment begins, 1/m³; where it has not begun, that of the seed.
    pub birth: [[[f64; C]; P]; DOPANTS],
    /// ∫N dL in this stage, 1/m².
    pub content: [[[f64; C]; P]; DOPANTS],
    /// Whether N_max or the floor of p_III was reached while wires grew.
    pub strained: bool,
}

impl<const R: usize, const P: usize, const C: usize> Section<R, P, C> {
    /// Nothing known yet.
    pub const EMPTY: Self = Self {
        temperature: [0.0; R],
        velocity: Velocity::STILL,
        share: [[0.0; R]; SPECIES],
        path: [0.0; P],
        border: [0.0; P],
        spot: [Spot { radius: 0.0, temperature: 0.0, slope: 0.0, velocity: 0.0, ring: 0, weight: 0.0 }; P],
        time: [0.0; P],
        axis_time: 0.0,
        gas_time: 0.0,
        crowd: [1.0; P],
        lost: [[0.0; P]; 2],
        spread: [0.0; P],
        exposure: 0.0,
        on_wall: [0.0; SPECIES],
        in_wires: [0.0; SPECIES],
        deposit: 0.0,
        coat: [0.0; P],
        rate: [0.0; P],
        supply: [0.0; P],
        bracket: [0.0; P],
        running: [[0.0; C]; P],
        bare: [[0.0; C]; P],
        side: [[0.0; C]; P],
        flank: [[0.0; C]; P],
        wanted: [[0.0; P]; DOPANTS],
        doping: [[[0.0; C]; P]; DOPANTS],
        birth: [[[0.0; C]; P]; DOPANTS],
        content: [[[0.0; C]; P]; DOPANTS],
        strained: false,
    };
}

/// Whether a path still flies, or has reached the wall.
#[inline]
#[must_use]
pub fn flies(path: f64) -> bool {
    path < FULL
}

/// What stays the same along a stage.
#[derive(Clone, Copy, Debug)]
pub struct Passage<'a, const R: usize, const P: usize, const C: usize> {
    /// The line.
    pub line: &'a Line,
    /// The stage.
    pub stage: &'a Stage,
    /// Property table of the line.
    pub properties: &'a Properties,
    /// Law of growth.
    pub law: &'a Law,
    /// Seed classes; those from `count` on are not used.
    pub classes: &'a [Class; C],
    /// Number of seed classes.
    pub count: usize,
    /// The class nearest the median seed.
    pub middle: usize,
    /// Seeds per second on each path.
    pub seeds: &'a [f64; P],
    /// Rings.
    pub rings: Rings<R>,
    /// 1/Δt, 1/s; 0 for the steady march.
    pub per_time: f64,
}

/// The three sections that an advance starts from.
#[derive(Clone, Copy, Debug)]
pub struct Upstream<'a, const R: usize, const P: usize, const C: usize> {
    /// One station upstream.
    pub one: &'a Section<R, P, C>,
    /// Two stations upstream; at the first station behind an inlet, the inlet once more.
    pub two: &'a Section<R, P, C>,
    /// The station one time step ago; whatever is finite in the steady march.
    pub before: &'a Section<R, P, C>,
    /// ∂/∂z there.
    pub difference: Difference,
    /// Whether this is the first station behind the inlet.
    pub first: bool,
    /// z of the station, m.
    pub z: f64,
    /// Distance from the station upstream, m.
    pub step: f64,
}

impl<const R: usize, const P: usize, const C: usize> Passage<'_, R, P, C> {
    fn gas<'b>(&self, temperature: &'b [f64; R], viscosity: &'b [f64; R]) -> Gas<'b, R> {
        Gas {
            temperature,
            viscosity,
            molar_density_times_temperature: self.line.pressure / GAS_CONSTANT,
            molar_mass: self.line.carrier.molar_mass(),
            flow: self.stage.flow,
            down: if self.stage.upward { -1.0 } else { 1.0 },
        }
    }

    /// The temperature and velocity field as the paths read it.
    #[must_use]
    pub fn across<'b>(&'b self, section: &'b Section<R, P, C>, wall: f64) -> Across<'b, R> {
        Across {
            rings: &self.rings,
            velocity: &section.velocity,
            temperature: &section.temperature,
            wall,
            parabolic: self.stage.parabolic,
            molar_density_times_temperature: self.line.pressure / GAS_CONSTANT,
            flow: self.stage.flow,
        }
    }

    /// Fills the inlet: uniform gas at `stage.inlet`, the parabola, `shares` of each species. Paths, wires and losses are left
    /// as they are; see [`Passage::settle`].
    pub fn open(&self, section: &mut Section<R, P, C>, shares: &[f64; SPECIES]) {
        section.temperature = [self.stage.inlet; R];
        let viscosity = [self.properties.viscosity(&self.properties.place(self.stage.inlet)); R];
        for (field, share) in section.share.iter_mut().zip(shares) {
            *field = [*share; R];
        }
        let gas = self.gas(&section.temperature, &viscosity);
        flow::parabola(&self.rings, &gas, self.stage.inlet, &mut section.velocity);
        section.time = [0.0; P];
        section.axis_time = 0.0;
        section.gas_time = 0.0;
        section.spread = [0.0; P];
        section.exposure = 0.0;
        section.on_wall = [0.0; SPECIES];
        section.in_wires = [0.0; SPECIES];
        section.coat = [0.0; P];
        section.bare = [[0.0; C]; P];
        section.birth = section.doping;
        section.content = [[[0.0; C]; P]; DOPANTS];
        section.strained = false;
    }

    /// Sets the paths on the middles of the core's rings, by area.
    pub fn deal(&self, section: &mut Section<R, P, C>) {
        let mut inner = 0.0;
        for p in 0..P {
            let depth = self.rings.depth.get(p).copied().unwrap_or(1.0);
            section.path[p] = share_of_depth(0.5 * (inner + depth));
            section.border[p] = share_of_depth(depth);
            inner = depth;
        }
    }

    /// What the paths meet at the inlet: to be called when gas and paths stand.
    pub fn settle(&self, section: &mut Section<R, P, C>, wall: f64) {
        for p in 0..P {
            section.spot[p] = self.across(section, wall).spot(section.path[p]);
        }
        let warm = self.warm(section);
        for p in 0..P {
            let (shared, group_iii) = self.shared(&section.share, &section.spot[p], &warm[p]);
            let class = &self.classes[self.middle.min(C - 1)];
            let length = (section.running[p][self.middle.min(C - 1)] - class.incubation).max(0.0);
            let supply = Law::supply_rate(&self.law.supply(class, &warm[p], length), group_iii);
            section.rate[p] = Law::axial(shared.kinetic * class.gibbs_thomson, supply);
            self.want(section, p, &shared);
        }
        section.deposit = growth::fresh_deposit(self, section, wall);
    }

    /// N∞ on path p.
    fn want(&self, section: &mut Section<R, P, C>, p: usize, shared: &Shared) {
        let mut d = 0;
        for (s, species) in self.line.species.iter().enumerate() {
            if let (Some(kinetics), Some(field)) = (&species.doping, section.share.get(s)) {
                let spot = &section.spot[p];
                let partial = self.line.pressure * read(field, spot);
                let (wanted, strained) = self.law.doping(kinetics, spot.temperature, partial, shared.group_iii);
                if let Some(row) = section.wanted.get_mut(d) {
                    row[p] = wanted;
                }
                section.strained |= strained && section.rate[p] > 0.0;
                d += 1;
            }
        }
    }

    fn warm(&self, section: &Section<R, P, C>) -> [Warm; P] {
        let mut warm = [Warm::default(); P];
        for p in 0..P {
            let temperature = section.spot[p].temperature;
            let place = self.properties.place(temperature);
            let diffusion = [self.properties.diffusion(0, &place), self.properties.diffusion(1, &place)];
            warm[p] = self.law.warm(temperature, diffusion);
        }
        warm
    }

    /// What all classes share on a path, and the mole fractions of parent and fragment there.
    #[inline]
    fn shared(&self, share: &[[f64; R]; SPECIES], spot: &Spot, warm: &Warm) -> (Shared, [f64; 2]) {
        let group_iii = [read(&share[0], spot), read(&share[1], spot)];
        let mut group_v = 0.0;
        for (species, field) in self.line.species.iter().zip(share) {
            if species.part == Part::GroupV {
                group_v += read(field, spot);
            }
        }
        (self.law.shared(warm, group_iii[0] + group_iii[1], group_v), group_iii)
    }

    /// Advances one station.
    ///
    /// # Errors
    /// Where the gas turns back; `now` is then of no use.
    pub fn advance(
        &self,
        now: &mut Section<R, P, C>,
        up: &Upstream<R, P, C>,
        bench: &mut Bench<R>,
    ) -> Result<(), Turn> {
        let wall = self.stage.wall.temperature(up.z);
        self.heat(now, up, wall)?;
        self.follow(now, up, wall);
        growth::grow(self, now, up, wall, bench);
        Ok(())
    }

    /// Temperature, velocity and edges.
    fn heat(&self, now: &mut Section<R, P, C>, up: &Upstream<R, P, C>, wall: f64) -> Result<(), Turn> {
        let mut velocity = up.one.velocity;
        let mut temperature = up.one.temperature;
        for pass in 0..2 {
            let radius = radii(&velocity.edge);
            let mut faces = Faces::<R>::CLOSED;
            let (mut carried, mut held) = ([0.0; R], [0.0; R]);
            let mut inner = 0.0;
            for i in 0..R {
                let next = if i + 1 < R { temperature[i + 1] } else { wall };
                let conductivity = self.properties.conductivity(&self.properties.place(0.5 * (temperature[i] + next)));
                let kappa = 2.0 * PI * radius.edge[i] * conductivity / radius.gap[i];
                faces.outward[i] = kappa;
                faces.inward[i] = kappa;
                let heat_capacity = self.properties.heat_capacity(&self.properties.place(temperature[i]));
                carried[i] = self.stage.flow * self.rings.share[i] * heat_capacity;
                let area = PI * (velocity.edge[i] - inner);
                held[i] = self.clock(pass) * self.molar_density(temperature[i]) * area * heat_capacity;
                inner = velocity.edge[i];
            }
            let balance = Balance {
                difference: up.difference,
                carried: &carried,
                held: &held,
                faces: &faces,
                wall,
                taken: &[0.0; R],
                given: &[0.0; R],
                one: &up.one.temperature,
                two: &up.two.temperature,
                before: &up.before.temperature,
            };
            balance.solve(&mut temperature);
            let mut viscosity = [0.0; R];
            for i in 0..R {
                viscosity[i] = self.properties.viscosity(&self.properties.place(temperature[i]));
            }
            let gas = self.gas(&temperature, &viscosity);
            if self.stage.parabolic {
                flow::parabola(&self.rings, &gas, wall, &mut velocity);
            } else {
                let edge = velocity.edge;
                // In the first pass T still has the edges from upstream: only the second decides.
                if let (Err(place), 1) = (flow::develop(&self.rings, &edge, &gas, &mut velocity), pass) {
                    return Err(self.turn(&temperature, &velocity, up.z, place));
                }
            }
        }
        now.temperature = temperature;
        now.velocity = velocity;
        Ok(())
    }

    fn turn(&self, temperature: &[f64; R], velocity: &Velocity<R>, z: f64, place: Place) -> Turn {
        let wall = self.stage.wall.temperature(z);
        let bulk = self.bulk(temperature);
        let viscosity = self.properties.viscosity(&self.properties.place(bulk));
        let mass_density = self.molar_density(bulk) * self.line.carrier.molar_mass();
        let area = PI * velocity.edge[R - 1];
        let mean = self.stage.flow / (self.molar_density(bulk) * area);
        let difference = (wall - temperature[0]).abs();
        let ratio =
            flow::grashof_over_reynolds(difference, bulk, viscosity / mass_density, sqrt(velocity.edge[R - 1]), mean);
        Turn { z, place, grashof_over_reynolds: ratio }
    }

    /// 1/Δt in a pass. The first pass is a guess of what coefficients are taken at: it comes from upstream alone and knows nothing of the
    /// step before, else the train would not relax to the steady march.
    #[inline]
    pub(crate) fn clock(&self, pass: usize) -> f64 {
        if pass == 0 { 0.0 } else { self.per_time }
    }

    /// Flow-mean temperature, K.
    #[must_use]
    pub fn bulk(&self, temperature: &[f64; R]) -> f64 {
        let mut sum = 0.0;
        for i in 0..R {
            sum += self.rings.share[i] * temperature[i];
        }
        sum
    }

    /// c, mol/m³.
    #[inline]
    #[must_use]
    pub fn molar_density(&self, temperature: f64) -> f64 {
        self.line.pressure / (GAS_CONSTANT * temperature)
    }

    /// Paths, borders, times and losses of the seeds.
    fn follow(&self, now: &mut Section<R, P, C>, up: &Upstream<R, P, C>, wall: f64) {
        let (mut path, mut border) = ([0.0; P], [0.0; P]);
        for p in 0..P {
            path[p] = self.ride_share(now, up, wall, [up.one.path[p], up.two.path[p], up.before.path[p]]);
            border[p] = self.ride_share(now, up, wall, [up.one.border[p], up.two.border[p], up.before.border[p]]);
        }
        now.path = path;
        now.border = border;
        let mut inner = 0.0;
        for p in 0..P {
            let spot = self.across(now, wall).spot(now.path[p]);
            now.spot[p] = spot;
            let occupied = (now.border[p] - inner).max(1e-12);
            inner = now.border[p];
            if !flies(now.path[p]) {
                // Lost to the wall: what the path had is kept as it was.
                now.time[p] = up.one.time[p];
                now.crowd[p] = up.one.crowd[p];
                now.spread[p] = up.one.spread[p];
                now.lost[0][p] = up.one.lost[0][p];
                now.lost[1][p] = up.one.lost[1][p];
                continue;
            }
            let ride = Ride::new(&up.difference, spot.velocity, self.per_time);
            now.time[p] = ride.carry(1.0, up.one.time[p], up.two.time[p], up.before.time[p]);
            let place = self.properties.place(spot.temperature);
            now.spread[p] =
                ride.carry(self.properties.brownian(&place), up.one.spread[p], up.two.spread[p], up.before.spread[p]);
            // Seeds per volume where they are: η c.
            let crowding = self.seeds[p] / (self.stage.flow * occupied) * self.molar_density(spot.temperature);
            let (meeting, leaving) = (self.properties.coagulation(&place), self.properties.dispersion(&place));
            now.crowd[p] =
                ride.carry((meeting + leaving) * crowding, up.one.crowd[p], up.two.crowd[p], up.before.crowd[p]);
            let single = 1.0 / now.crowd[p];
            for (k, rate) in [meeting, leaving].into_iter().enumerate() {
                let gone = rate * crowding * single * single;
                now.lost[k][p] = ride.carry(gone, up.one.lost[k][p], up.two.lost[k][p], up.before.lost[k][p]);
            }
        }
        let axis = Ride::new(&up.difference, now.velocity.axis, self.per_time);
        now.axis_time = axis.carry(1.0, up.one.axis_time, up.two.axis_time, up.before.axis_time);
        self.pass_gas(now, up);
    }

    /// F of a path or border: (w − w_before)/Δt + u ∂w/∂z = u dF/dz, implicit in F by two passes from an extrapolation.
    fn ride_share(&self, now: &Section<R, P, C>, up: &Upstream<R, P, C>, wall: f64, known: [f64; 3]) -> f64 {
        let [one, two, before] = known;
        if !flies(one) {
            return one;
        }
        let mut share = if up.first { one } else { (2.0 * one - two).clamp(0.0, FULL) };
        if !self.line.seeds.drift && self.per_time == 0.0 {
            return one;
        }
        let across = self.across(now, wall);
        for pass in 0..2 {
            let spot = across.spot(share);
            let ride = Ride::new(&up.difference, spot.velocity, self.clock(pass));
            let rate = spot.velocity * across.drift(&spot, self.properties);
            share = ride.carry(rate, one, two, before).clamp(0.0, 1.0);
            if !flies(share) {
                return 1.0;
            }
        }
        share
    }

    /// How long the gas has been on its way, and what an unsheathed wall would have seen.
    fn pass_gas(&self, now: &mut Section<R, P, C>, up: &Upstream<R, P, C>) {
        let d = &up.difference;
        let (mut moles, mut inner) = (0.0, 0.0);
        for i in 0..R {
            moles += self.molar_density(now.temperature[i]) * PI * (now.velocity.edge[i] - inner);
            inner = now.velocity.edge[i];
        }
        let rate = moles / self.stage.flow;
        now.gas_time = (rate - d.one * up.one.gas_time - d.two * up.two.gas_time) / d.here;
        let bulk = self.bulk(&now.temperature);
        let brownian = self.properties.brownian(&self.properties.place(bulk));
        let exposed = PI * brownian * self.molar_density(bulk) / self.stage.flow;
        now.exposure = (exposed - d.one * up.one.exposure - d.two * up.two.exposure) / d.here;
    }
}

/// Radii of the edges and the distances that fluxes cross.
struct Radii<const R: usize> {
    edge: [f64; R],
    gap: [f64; R],
}

/// r of the outer edges, and r̄_i+1 − r̄_i (behind the last ring R − r̄_n).
fn radii<const R: usize>(square: &[f64; R]) -> Radii<R> {
    let mut edge = [0.0; R];
    for i in 0..R {
        edge[i] = sqrt(square[i]);
    }
    let mut gap = [0.0; R];
    for i in 0..R {
        let inner = if i == 0 { 0.0 } else { edge[i - 1] };
        let outer = if i + 1 < R { 0.5 * (edge[i] + edge[i + 1]) } else { edge[i] };
        gap[i] = outer - 0.5 * (inner + edge[i]);
    }
    Radii { edge, gap }
}

/// A field at a spot.
#[inline]
fn read<const R: usize>(field: &[f64; R], spot: &Spot) -> f64 {
    let ring = spot.ring.min(R - 1);
    let next = (ring + 1).min(R - 1);
    field[ring] + spot.weight * (field[next] - field[ring])
}

/// Adds a sink to the two rings that a spot reads.
#[inline]
fn take<const R: usize>(field: &mut [f64; R], spot: &Spot, amount: f64) {
    let ring = spot.ring.min(R - 1);
    let next = (ring + 1).min(R - 1);
    field[ring] += amount * (1.0 - spot.weight);
    field[next] += amount * spot.weight;
}
