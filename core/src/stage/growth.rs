//! Species and wires at one station, once heat, flow and paths stand.

use super::{Passage, Section, Upstream, flies, radii, read, take};
use crate::line::{DOPANTS, Part, SPECIES, Species};
use crate::root::sqrt;
use crate::section::{Balance, Faces, Ride, bernoulli};
use crate::units::{AVOGADRO, GAS_CONSTANT};
use crate::wall;
use crate::wire::{Law, Memory, Shared, Supply, Warm};
use core::f64::consts::PI;
use libm::{exp, log};

/// What the wires of every path and class are assumed to be while the gas is solved.
struct Guess<const P: usize, const C: usize> {
    /// L, m.
    length: [[f64; C]; P],
    /// ∫2πL v_rad dt, m².
    side: [[f64; C]; P],
    supply: [[Supply; C]; P],
}

/// Most that wires take of a species for each unit of its mole fraction, mol/(s m): all that is there. Where a trace is so spent that a
/// division by it has no number, this has.
const ALL: f64 = 1e200;

/// Rates on the paths for one set of mole fractions, and how what they add to is carried.
struct Growing<const P: usize, const C: usize> {
    ride: [Ride; P],
    axial: [[f64; C]; P],
    shared: [Shared; P],
}

/// What the wires of a path take of group V and grow, for each metre of tube.
struct Uptake {
    path: usize,
    shared: Shared,
    /// Group V, mol/(s m).
    group_v: f64,
    /// Volume grown, m³/(s m).
    volume: f64,
}

/// Room for what is worked out anew at every station; of no meaning between stations.
#[derive(Clone, Debug)]
pub struct Bench<const R: usize> {
    faces: [Faces<R>; SPECIES],
    taken: [[f64; R]; SPECIES],
    broken: [f64; R],
}

impl<const R: usize> Bench<R> {
    /// Empty room.
    #[must_use]
    pub const fn new() -> Self {
        Self { faces: [Faces::CLOSED; SPECIES], taken: [[0.0; R]; SPECIES], broken: [0.0; R] }
    }
}

impl<const R: usize> Default for Bench<R> {
    fn default() -> Self {
        Self::new()
    }
}

/// Fluxes of every species across the faces: κB(a) and κB(−a), κ = 2πrcD/(r̄_i+1 − r̄_i), a = α ln(T_i+1/T_i). The last face is the
/// wall, with its reaction in series.
pub(super) fn species_faces<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    section: &Section<R, P, C>,
    wall: f64,
    faces: &mut [Faces<R>; SPECIES],
) {
    let radius = radii(&section.velocity.edge);
    let species = &passage.line.species;
    let table = passage.properties;
    for i in 0..R {
        let here = section.temperature[i];
        let next = if i + 1 < R { section.temperature[i + 1] } else { wall };
        let place = table.place(0.5 * (here + next));
        let geometry = 2.0 * PI * radius.edge[i] / radius.gap[i];
        let logarithm = if passage.line.thermal_diffusion { log(next / here) } else { 0.0 };
        for (s, face) in faces.iter_mut().enumerate().take(species.len()) {
            let kappa = geometry * table.diffusion(s, &place);
            let a = if passage.line.thermal_diffusion { table.thermal_diffusion(s, &place) * logarithm } else { 0.0 };
            let b = bernoulli(a);
            face.outward[i] = kappa * b;
            face.inward[i] = kappa * (b + a);
        }
    }
    let tube = radius.edge[R - 1];
    for (face, species) in faces.iter_mut().zip(species) {
        let reacting = reacting(passage, species, wall, tube);
        face.outward[R - 1] = wall::loss(reacting, face.outward[R - 1], face.inward[R - 1]);
        face.inward[R - 1] = 0.0;
    }
}

/// w of a species, mol/(s m): what the wall takes for each unit of mole fraction at the wall.
fn reacting<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    species: &Species,
    wall: f64,
    radius: f64,
) -> f64 {
    let reference = passage.line.growth.reference_temperature;
    let probability = wall::probability(species.wall_probability, species.wall_activation, wall, reference);
    let mean_speed = sqrt(8.0 * GAS_CONSTANT * wall / (PI * species.molar_mass));
    2.0 * PI * radius * wall::reaction_speed(probability, mean_speed) * passage.molar_density(wall)
}

/// Group III that the wall takes at an inlet, where the gas is still uniform up to the wall, mol/(s m).
pub(super) fn fresh_deposit<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    section: &Section<R, P, C>,
    wall: f64,
) -> f64 {
    let radius = 0.5 * passage.stage.diameter;
    let species = passage.line.species.iter().zip(&section.share).take(2);
    species.map(|(species, share)| reacting(passage, species, wall, radius) * share[R - 1]).sum()
}

/// Group III that the wall takes, parent and fragment, mol/(s m).
pub(super) fn deposit<const R: usize>(faces: &[Faces<R>; SPECIES], share: &[[f64; R]; SPECIES]) -> f64 {
    faces[0].outward[R - 1] * share[0][R - 1] + faces[1].outward[R - 1] * share[1][R - 1]
}

/// Species and wires at a station, twice.
pub(super) fn grow<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &mut Section<R, P, C>,
    up: &Upstream<R, P, C>,
    wall: f64,
    bench: &mut Bench<R>,
) {
    species_faces(passage, now, wall, &mut bench.faces);
    let warm = passage.warm(now);
    pyrolysis(passage, now, &mut bench.broken);
    for (here, one) in now.share.iter_mut().zip(&up.one.share).take(passage.line.species.len()) {
        *here = *one;
    }
    let mut guess = extrapolated(passage, up, &warm);
    let ride = rides(passage, now, up, 0);
    let mut growing = Growing { ride, axial: [[0.0; C]; P], shared: [Shared::default(); P] };
    take_up(passage, now, &warm, &guess, &mut bench.taken);
    for pass in 0..2 {
        if pass > 0 && passage.per_time > 0.0 {
            growing.ride = rides(passage, now, up, pass);
        }
        solve(passage, now, up, bench, pass);
        rates(passage, now, &warm, &guess, &mut growing);
        lengthen(passage, now, up, &growing, &mut guess);
        if pass == 0 {
            take_up(passage, now, &warm, &guess, &mut bench.taken);
        }
    }
    tally(passage, now, up, bench);
    dress(passage, now, up, &growing);
    remember(passage, now, up, &growing);
}

/// How the quantities of each path are carried in a pass.
fn rides<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &Section<R, P, C>,
    up: &Upstream<R, P, C>,
    pass: usize,
) -> [Ride; P] {
    let mut ride = [Ride::new(&up.difference, 1.0, 0.0); P];
    for p in 0..P {
        if flies(now.path[p]) {
            ride[p] = Ride::new(&up.difference, now.spot[p].velocity, passage.clock(pass));
        }
    }
    ride
}

/// The wires as they are assumed to be the first time: extrapolated from upstream.
fn extrapolated<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    up: &Upstream<R, P, C>,
    warm: &[Warm; P],
) -> Guess<P, C> {
    let mut guess = Guess { length: [[0.0; C]; P], side: [[0.0; C]; P], supply: [[Supply::default(); C]; P] };
    for p in 0..P {
        for k in 0..passage.count.min(C) {
            let ahead = |one: f64, two: f64| if up.first { one } else { 2.0 * one - two };
            let class = &passage.classes[k];
            let length = (ahead(up.one.running[p][k], up.two.running[p][k]) - class.incubation).max(0.0);
            guess.length[p][k] = length;
            guess.side[p][k] = ahead(up.one.side[p][k], up.two.side[p][k]).max(0.0);
            guess.supply[p][k] = passage.law.supply(class, &warm[p], length);
        }
    }
    guess
}

/// k c A of the pyrolysis in each ring: what parent it breaks for each unit of mole fraction, mol/(s m).
fn pyrolysis<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &Section<R, P, C>,
    broken: &mut [f64; R],
) {
    let growth = &passage.line.growth;
    let mut inner = 0.0;
    for i in 0..R {
        let temperature = now.temperature[i];
        let rate = growth.pyrolysis_frequency * exp(-growth.pyrolysis_activation / (GAS_CONSTANT * temperature));
        broken[i] = rate * passage.molar_density(temperature) * PI * (now.velocity.edge[i] - inner);
        inner = now.velocity.edge[i];
    }
}

/// Rates on every path at the present mole fractions.
fn rates<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &Section<R, P, C>,
    warm: &[Warm; P],
    guess: &Guess<P, C>,
    out: &mut Growing<P, C>,
) {
    for p in 0..P {
        if !flies(now.path[p]) {
            continue;
        }
        let (shared, group_iii) = passage.shared(&now.share, &now.spot[p], &warm[p]);
        out.shared[p] = shared;
        for k in 0..passage.count.min(C) {
            let kinetic = shared.kinetic * passage.classes[k].gibbs_thomson;
            out.axial[p][k] = Law::axial(kinetic, Law::supply_rate(&guess.supply[p][k], group_iii));
        }
    }
}

/// What the wires take from the rings for each unit of mole fraction there.
fn take_up<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &Section<R, P, C>,
    warm: &[Warm; P],
    guess: &Guess<P, C>,
    taken: &mut [[f64; R]; SPECIES],
) {
    for field in taken.iter_mut().take(passage.line.species.len()) {
        *field = [0.0; R];
    }
    let per_pair = 1.0 / (passage.law.pair_volume * AVOGADRO);
    for p in 0..P {
        if !flies(now.path[p]) {
            continue;
        }
        let spot = &now.spot[p];
        let (shared, group_iii) = passage.shared(&now.share, spot, &warm[p]);
        let wires_per_metre = passage.seeds[p] / spot.velocity;
        // Taken for each unit of mole fraction of parent and fragment; group V and grown volume altogether.
        let (mut parent, mut fragment, mut group_v, mut grown) = (0.0, 0.0, 0.0, 0.0);
        for k in 0..passage.count.min(C) {
            let class = &passage.classes[k];
            let supply = &guess.supply[p][k];
            let axial = Law::axial(shared.kinetic * class.gibbs_thomson, Law::supply_rate(supply, group_iii));
            let length = guess.length[p][k];
            let area = if length > 0.0 { PI * class.diameter * length + guess.side[p][k] } else { 0.0 };
            let volume = (class.area * axial + area * shared.radial) * class.weight * wires_per_metre;
            let arriving = supply.cap[0] * group_iii[0] + supply.cap[1] * group_iii[1];
            if arriving > 0.0 {
                let each = volume * per_pair / arriving;
                parent += each * supply.cap[0];
                fragment += each * supply.cap[1];
            }
            grown += volume;
            if length > 0.0 {
                group_v += volume * per_pair;
            }
        }
        take(&mut taken[0], spot, parent);
        take(&mut taken[1], spot, fragment);
        share_out(passage, now, &Uptake { path: p, shared, group_v, volume: grown }, taken);
    }
}

/// What is taken of group V and of dopants on path p.
fn share_out<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &Section<R, P, C>,
    uptake: &Uptake,
    taken: &mut [[f64; R]; SPECIES],
) {
    let spot = &now.spot[uptake.path];
    let mut present = 0.0;
    for (species, field) in passage.line.species.iter().zip(&now.share) {
        if species.part == Part::GroupV {
            present += read(field, spot);
        }
    }
    for ((species, field), taken) in passage.line.species.iter().zip(&now.share).zip(taken) {
        if species.part == Part::GroupV && present > 0.0 {
            take(taken, spot, (uptake.group_v / present).min(ALL));
        }
        if let Some(kinetics) = &species.doping {
            let share = read(field, spot);
            let partial = passage.line.pressure * share;
            let (wanted, _) = passage.law.doping(kinetics, spot.temperature, partial, uptake.shared.group_iii);
            if share > 0.0 {
                take(taken, spot, (wanted * uptake.volume / (AVOGADRO * share)).min(ALL));
            }
        }
    }
}

/// All species at the station, the parent before its fragment.
fn solve<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &mut Section<R, P, C>,
    up: &Upstream<R, P, C>,
    bench: &Bench<R>,
    pass: usize,
) {
    let mut carried = [0.0; R];
    let mut held = [0.0; R];
    let mut inner = 0.0;
    for i in 0..R {
        carried[i] = passage.stage.flow * passage.rings.share[i];
        let area = PI * (now.velocity.edge[i] - inner);
        held[i] = passage.clock(pass) * passage.molar_density(now.temperature[i]) * area;
        inner = now.velocity.edge[i];
    }
    let mut given = [0.0; R];
    for (s, species) in passage.line.species.iter().enumerate().take(SPECIES) {
        let mut taken = bench.taken[s];
        if species.part == Part::Parent {
            for i in 0..R {
                taken[i] += bench.broken[i];
            }
        }
        let balance = Balance {
            difference: up.difference,
            carried: &carried,
            held: &held,
            faces: &bench.faces[s],
            wall: 0.0,
            taken: &taken,
            given: if species.part == Part::Fragment { &given } else { &[0.0; R] },
            one: &up.one.share[s],
            two: &up.two.share[s],
            before: &up.before.share[s],
        };
        balance.solve(&mut now.share[s]);
        if species.part == Part::Parent {
            for i in 0..R {
                given[i] = bench.broken[i] * now.share[s][i];
            }
        }
    }
}

/// Running length and radial part of the sidewall for the rates found; they are the guess of what comes next.
fn lengthen<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &mut Section<R, P, C>,
    up: &Upstream<R, P, C>,
    growing: &Growing<P, C>,
    guess: &mut Guess<P, C>,
) {
    for p in 0..P {
        let flying = flies(now.path[p]);
        for k in 0..passage.count.min(C) {
            let (one, two, before) = (&up.one, &up.two, &up.before);
            if !flying {
                now.running[p][k] = one.running[p][k];
                now.side[p][k] = one.side[p][k];
                continue;
            }
            let class = &passage.classes[k];
            let running =
                growing.ride[p].carry(growing.axial[p][k], one.running[p][k], two.running[p][k], before.running[p][k]);
            now.running[p][k] = running;
            let length = (running - class.incubation).max(0.0);
            let widening = 2.0 * PI * length * growing.shared[p].radial;
            now.side[p][k] = growing.ride[p].carry(widening, one.side[p][k], two.side[p][k], before.side[p][k]);
            guess.length[p][k] = length;
            guess.side[p][k] = now.side[p][k].max(0.0);
            guess.supply[p][k].side = passage.law.side(class, length);
        }
    }
}

/// What wall and wires took of each species.
fn tally<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &mut Section<R, P, C>,
    up: &Upstream<R, P, C>,
    bench: &Bench<R>,
) {
    let d = &up.difference;
    for s in 0..passage.line.species.len().min(SPECIES) {
        let to_wall = bench.faces[s].outward[R - 1] * now.share[s][R - 1];
        let mut to_wires = 0.0;
        for i in 0..R {
            to_wires += bench.taken[s][i] * now.share[s][i];
        }
        now.on_wall[s] = (to_wall - d.one * up.one.on_wall[s] - d.two * up.two.on_wall[s]) / d.here;
        now.in_wires[s] = (to_wires - d.one * up.one.in_wires[s] - d.two * up.two.in_wires[s]) / d.here;
    }
    now.deposit = deposit(&bench.faces, &now.share);
}

/// The layer on the sidewall, its volume, and what the report says of the rates.
fn dress<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &mut Section<R, P, C>,
    up: &Upstream<R, P, C>,
    growing: &Growing<P, C>,
) {
    let middle = passage.middle.min(C - 1);
    for p in 0..P {
        if !flies(now.path[p]) {
            now.coat[p] = up.one.coat[p];
            now.bare[p] = up.one.bare[p];
            now.flank[p] = up.one.flank[p];
            now.rate[p] = 0.0;
            continue;
        }
        let radial = growing.shared[p].radial;
        now.coat[p] = growing.ride[p].carry(radial, up.one.coat[p], up.two.coat[p], up.before.coat[p]);
        now.rate[p] = growing.axial[p][middle];
        now.bracket[p] = growing.shared[p].bracket;
        let kinetic = growing.shared[p].kinetic * passage.classes[middle].gibbs_thomson;
        // 1/v = 1/v_kin + 1/v_sup: v_sup/v_kin = v/(v_kin − v).
        now.supply[p] = if kinetic > now.rate[p] { now.rate[p] / (kinetic - now.rate[p]) } else { f64::MAX };
        for k in 0..passage.count.min(C) {
            let class = &passage.classes[k];
            let (one, here) = (up.one.running[p][k], now.running[p][k]);
            now.bare[p][k] = if here <= class.incubation {
                now.coat[p]
            } else if one < class.incubation {
                let part = (class.incubation - one) / (here - one);
                up.one.coat[p] + part * (now.coat[p] - up.one.coat[p])
            } else {
                up.one.bare[p][k]
            };
            let length = (here - class.incubation).max(0.0);
            let area = if length > 0.0 { PI * class.diameter * length + now.side[p][k] } else { 0.0 };
            now.flank[p][k] =
                growing.ride[p].carry(area * radial, up.one.flank[p][k], up.two.flank[p][k], up.before.flank[p][k]);
        }
    }
}

/// Doping of what grew since the station upstream.
fn remember<const R: usize, const P: usize, const C: usize>(
    passage: &Passage<R, P, C>,
    now: &mut Section<R, P, C>,
    up: &Upstream<R, P, C>,
    growing: &Growing<P, C>,
) {
    now.strained = up.one.strained;
    let kinetics = passage.line.species.iter().filter_map(|species| species.doping.as_ref());
    for p in 0..P {
        if flies(now.path[p]) {
            passage.want(now, p, &growing.shared[p]);
        } else {
            for d in 0..DOPANTS {
                now.wanted[d][p] = up.one.wanted[d][p];
            }
        }
    }
    for (d, kinetics) in kinetics.enumerate().take(DOPANTS) {
        for p in 0..P {
            for k in 0..passage.count.min(C) {
                let class = &passage.classes[k];
                let memory = kinetics.memory_diameters * class.diameter;
                let (one, here) = (up.one.running[p][k], now.running[p][k]);
                let (start, wanted) = (up.one.doping[d][p][k], [up.one.wanted[d][p], now.wanted[d][p]]);
                // Only what grows behind the incubation is wire.
                let part = if here > one { ((class.incubation - one) / (here - one)).clamp(0.0, 1.0) } else { 1.0 };
                let between = wanted[0] + part * (wanted[1] - wanted[0]);
                let filling = Memory::over(part * (here - one), memory, start, [wanted[0], between]);
                let wire = Memory::over((1.0 - part) * (here - one), memory, filling.end, [between, wanted[1]]);
                // In time: the wire of this station is that of the station upstream, a step older.
                let advance = now.spot[p].velocity / up.step;
                let sum = passage.per_time + advance;
                let mix = |here: f64, before: f64| {
                    if passage.per_time > 0.0 { (advance * here + passage.per_time * before) / sum } else { here }
                };
                now.birth[d][p][k] = if here <= class.incubation {
                    wire.end
                } else if one < class.incubation {
                    filling.end
                } else {
                    up.one.birth[d][p][k]
                };
                now.doping[d][p][k] = mix(wire.end, up.before.doping[d][p][k]);
                now.content[d][p][k] = mix(up.one.content[d][p][k] + wire.content, up.before.content[d][p][k]);
            }
        }
    }
}
