//! Velocity across a tube for the temperature that stands across it, buoyancy included.
//!
//! At each z the velocity is that of a long vertical tube with the temperature as it is there:
//!
//! ```text
//! (1/r) d/dr( r μ du/dr ) = P ∓ (ρ − ρ_m) g,   u(R) = 0, du/dr = 0 on the axis; upper sign: down flow     (1)
//! u = Q U_1 ± g U_2,   U_1 = ∫_r^R r′/(2μ) dr′,   U_2 = ∫_r^R B/(r′μ) dr′,   B = ∫_0^r (ρ − ρ_m) r′ dr′    (2)
//! Q = −P = [ṅ ∓ g ΣΦ_2]/ΣΦ_1                                                                              (3)
//! ```
//!
//! With μ, ρ and c constant inside a ring (inner edge a, outer edge b, q = r², δ = ρ_i − ρ_m, b_i = B_a − δ q_a/2) both are
//! exact sums: inwards U_1 grows by (q_b − q_a)/(4μ), U_2 by [b_i ln(r_b/r_a) + δ(q_b − q_a)/4]/μ, and the ring's flow is
//! Φ = 2πc { (U_b q_b − U_a q_a)/2 + I/(2μ) }, I_1 = (q_b² − q_a²)/8, I_2 = b_i(q_b − q_a)/2 + δ(q_b² − q_a²)/8.
//!
//! The edges of the rings stand where each ring carries its share: with F = ΣΦ/ṅ at the present edges and
//! Y = 1 − √(1 − F), the new q at a ring's own Y is interpolated linearly between the present ones. Isothermal one such step
//! is exact; in a march that starts from the edges upstream one step in each of two passes suffices.
//!
//! | symbol | in code | unit |
//! | --- | --- | --- |
//! | q of the outer edges | `edge` | m² |
//! | Y of the outer edges | `Rings::depth` | – |
//! | u at the outer edges, on the axis | `velocity`, `axis` | m/s |
//! | Q | `drive` | Pa/m |
//!
//! Range: laminar flow. Where Q ≤ 0, or u ≤ 0 on the axis or any edge, the gas turns back and no velocity is given.
//! Not modelled: inertia (the entrance of a tube; its length is reported). Checked against: the isothermal parabola, and the two series for
//! small temperature differences, in the tests below.

use crate::root::sqrt;
use crate::units::{GAS_CONSTANT, GRAVITY};
use core::f64::consts::PI;
use libm::{exp, log};

/// The rings of a stage: what stays the same along it.
#[derive(Clone, Copy, Debug)]
pub struct Rings<const R: usize> {
    /// Share ΔF of the molar flow in each ring; sums to 1.
    pub share: [f64; R],
    /// Y = 1 − √(1 − F) at each outer edge; 1 at the wall.
    pub depth: [f64; R],
    /// q at each outer edge for the isothermal parabola, m².
    pub parabola: [f64; R],
}

/// F of a depth Y: F = 1 − (1 − Y)².
#[inline]
#[must_use]
pub fn share_of_depth(depth: f64) -> f64 {
    depth * (2.0 - depth)
}

/// Y of a share F of the flow, 0 to 1: Y = 1 − √(1 − F).
#[inline]
#[must_use]
pub fn depth_of_share(share: f64) -> f64 {
    1.0 - sqrt((1.0 - share).max(0.0))
}

impl<const R: usize> Rings<R> {
    /// Lays `core` rings over the seeded share `f` of the flow and the others over the sheath.
    ///
    /// Core rings end at F = f (i/n)², which is near-uniform in r. In the isothermal parabola the sheath's edges stand at
    /// r_f + (R − r_f)(1 − e^{−1.6 j/n})/(1 − e^{−1.6}), thinner towards the wall.
    ///
    /// * `radius` — R, m. * `f` — share of the flow that carries seeds, above 0 and below 1. * `core` — from 1 to R − 1.
    #[must_use]
    pub fn new(radius: f64, f: f64, core: usize) -> Self {
        let mut rings = Self { share: [0.0; R], depth: [1.0; R], parabola: [radius * radius; R] };
        let inner = radius * sqrt(depth_of_share(f));
        let sheath = R.saturating_sub(core);
        let mut inside = 0.0;
        for i in 0..R {
            let depth = if i + 1 == R {
                1.0
            } else if i < core {
                let part = (i + 1) as f64 / core as f64;
                depth_of_share(f * part * part)
            } else {
                let part = (i + 1 - core) as f64 / sheath as f64;
                let r = inner + (radius - inner) * (1.0 - exp(-1.6 * part)) / (1.0 - exp(-1.6));
                let s = r / radius;
                s * s
            };
            let share = share_of_depth(depth);
            rings.depth[i] = depth;
            rings.parabola[i] = depth * radius * radius;
            rings.share[i] = share - inside;
            inside = share;
        }
        rings
    }
}

/// Where along a radius the gas turns back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// At the wall: heated gas that flows down, cooled gas that flows up.
    Wall,
    /// On the axis.
    Axis,
    /// Between the two.
    Between,
}

/// Velocity at one station.
#[derive(Clone, Copy, Debug)]
pub struct Velocity<const R: usize> {
    /// q at the outer edge of each ring, m².
    pub edge: [f64; R],
    /// u at those edges, m/s.
    pub at_edge: [f64; R],
    /// u on the axis, m/s.
    pub axis: f64,
    /// U = ṅ/(c_m πR²), c_m the mean of c over the area: the mean velocity of the isothermal flow of that density, m/s.
    pub mean: f64,
    /// Q, Pa/m.
    pub drive: f64,
}

impl<const R: usize> Velocity<R> {
    /// Nothing known yet.
    pub const STILL: Self = Self { edge: [0.0; R], at_edge: [0.0; R], axis: 0.0, mean: 0.0, drive: 0.0 };
}

/// The gas at a station, as far as the velocity needs it.
#[derive(Clone, Copy, Debug)]
pub struct Gas<'a, const R: usize> {
    /// T of each ring, K.
    pub temperature: &'a [f64; R],
    /// μ of each ring, Pa s.
    pub viscosity: &'a [f64; R],
    /// p/R_gas, mol K/m³: c = this/T.
    pub molar_density_times_temperature: f64,
    /// M, kg/mol.
    pub molar_mass: f64,
    /// ṅ, mol/s.
    pub flow: f64,
    /// +1 for down flow, −1 for up flow.
    pub down: f64,
}

/// The isothermal parabola c u = 2(ṅ/πR²)(1 − s) with the edges where they always stand.
pub fn parabola<const R: usize>(rings: &Rings<R>, gas: &Gas<R>, wall: f64, out: &mut Velocity<R>) {
    let area = PI * rings.parabola[R - 1];
    out.edge = rings.parabola;
    let most = 2.0 * gas.flow / (area * gas.molar_density_times_temperature);
    let (mut per_temperature, mut inner) = (0.0, 0.0);
    for i in 0..R {
        let outside = if i + 1 == R { wall } else { 0.5 * (gas.temperature[i] + gas.temperature[i + 1]) };
        out.at_edge[i] = most * outside * (1.0 - rings.depth[i]);
        per_temperature += (rings.parabola[i] - inner) / gas.temperature[i];
        inner = rings.parabola[i];
    }
    out.axis = most * gas.temperature[0];
    out.mean = gas.flow / (gas.molar_density_times_temperature * per_temperature * PI);
    // That of the isothermal parabola: 8 μ U/R².
    out.drive = 8.0 * gas.viscosity[R - 1] * out.mean / rings.parabola[R - 1];
}

/// U_1, U_2 at the inner edge of each ring and what each ring carries of both.
struct Sums<const R: usize> {
    mean_density: f64,
    u_1: [f64; R],
    u_2: [f64; R],
    flow_1: [f64; R],
    flow_2: [f64; R],
}

fn sums<const R: usize>(edge: &[f64; R], gas: &Gas<R>) -> Sums<R> {
    let mut mean_density = 0.0;
    let mut inner = 0.0;
    for i in 0..R {
        mean_density += (edge[i] - inner) / gas.temperature[i];
        inner = edge[i];
    }
    let per_temperature = gas.molar_density_times_temperature * gas.molar_mass;
    mean_density *= per_temperature / edge[R - 1];

    // B at the inner edge of each ring, from the axis outwards.
    let mut below = [0.0; R];
    let (mut b, mut inner) = (0.0, 0.0);
    for i in 0..R {
        below[i] = b;
        b += (per_temperature / gas.temperature[i] - mean_density) * (edge[i] - inner) / 2.0;
        inner = edge[i];
    }

    let mut out = Sums { mean_density, u_1: [0.0; R], u_2: [0.0; R], flow_1: [0.0; R], flow_2: [0.0; R] };
    let (mut u_1, mut u_2) = (0.0, 0.0);
    for i in (0..R).rev() {
        let q_b = edge[i];
        let q_a = if i == 0 { 0.0 } else { edge[i - 1] };
        let (mu, width) = (gas.viscosity[i], q_b - q_a);
        let delta = per_temperature / gas.temperature[i] - mean_density;
        let b_i = if i == 0 { 0.0 } else { below[i] - delta * q_a / 2.0 };
        // ln(r_b/r_a) = ½ ln(q_b/q_a)
        let logarithm = if i == 0 { 0.0 } else { 0.5 * log(q_b / q_a) };
        let a_1 = u_1 + width / (4.0 * mu);
        let a_2 = u_2 + (b_i * logarithm + delta * width / 4.0) / mu;
        let squares = (q_b * q_b - q_a * q_a) / 8.0;
        let per_area = 2.0 * PI * gas.molar_density_times_temperature / gas.temperature[i];
        out.flow_1[i] = per_area * ((u_1 * q_b - a_1 * q_a) / 2.0 + squares / (2.0 * mu));
        out.flow_2[i] = per_area * ((u_2 * q_b - a_2 * q_a) / 2.0 + (b_i * width / 2.0 + delta * squares) / (2.0 * mu));
        u_1 = a_1;
        u_2 = a_2;
        out.u_1[i] = u_1;
        out.u_2[i] = u_2;
    }
    out
}

/// The developed flow (2), (3) at the present edges, and the edges where each ring carries its share.
///
/// * `edge` — q of the present edges, m²; rising, the last R².
///
/// Fills `out` with the new edges and u at them.
///
/// # Errors
/// Where the gas turns back; `out` then keeps the present edges.
pub fn develop<const R: usize>(
    rings: &Rings<R>,
    edge: &[f64; R],
    gas: &Gas<R>,
    out: &mut Velocity<R>,
) -> Result<(), Place> {
    let sums = sums(edge, gas);
    let (mut total_1, mut total_2) = (0.0, 0.0);
    for i in 0..R {
        total_1 += sums.flow_1[i];
        total_2 += sums.flow_2[i];
    }
    let lift = gas.down * GRAVITY;
    let drive = (gas.flow - lift * total_2) / total_1;
    out.drive = drive;
    out.edge = *edge;
    if !(drive > 0.0) {
        return Err(Place::Wall);
    }
    // u at the outer edge of ring i is that at the inner edge of ring i + 1.
    let mut present = [0.0; R];
    let mut depth = [0.0; R];
    let (mut inside, mut turned) = (0.0, false);
    for i in 0..R {
        let flow = drive * sums.flow_1[i] + lift * sums.flow_2[i];
        inside += flow;
        depth[i] = depth_of_share(inside / gas.flow);
        if i + 1 < R {
            present[i] = drive * sums.u_1[i + 1] + lift * sums.u_2[i + 1];
            turned |= !(present[i] > 0.0);
        }
    }
    out.axis = drive * sums.u_1[0] + lift * sums.u_2[0];
    if !(out.axis > 0.0) {
        return Err(Place::Axis);
    }
    if turned {
        return Err(Place::Between);
    }
    depth[R - 1] = 1.0;
    out.mean = gas.flow * gas.molar_mass / (sums.mean_density * PI * edge[R - 1]);

    let mut j = 0;
    for i in 0..R {
        if i + 1 == R {
            out.edge[i] = edge[i];
            out.at_edge[i] = 0.0;
            continue;
        }
        while j + 1 < R && depth[j] < rings.depth[i] {
            j += 1;
        }
        let (depth_a, q_a, u_a) =
            if j == 0 { (0.0, 0.0, out.axis) } else { (depth[j - 1], edge[j - 1], present[j - 1]) };
        let part = ((rings.depth[i] - depth_a) / (depth[j] - depth_a).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        out.edge[i] = q_a + part * (edge[j] - q_a);
        out.at_edge[i] = u_a + part * (present[j] - u_a);
    }
    Ok(())
}

/// Gr/Re = g β ΔT (2R)²/(ν U) with β = 1/T.
///
/// * `difference` — ΔT, K. * `temperature` — K. * `kinematic` — ν, m²/s. * `mean` — U, m/s.
#[must_use]
pub fn grashof_over_reynolds(difference: f64, temperature: f64, kinematic: f64, radius: f64, mean: f64) -> f64 {
    GRAVITY * (difference / temperature) * 4.0 * radius * radius / (kinematic * mean)
}

/// p/R_gas, mol K/m³.
#[must_use]
pub fn molar_density_times_temperature(pressure: f64) -> f64 {
    pressure / GAS_CONSTANT
}

#[cfg(test)]
mod tests {
    use super::*;

    const RADIUS: f64 = 0.016;

    fn gas<'a, const R: usize>(temperature: &'a [f64; R], viscosity: &'a [f64; R], down: f64) -> Gas<'a, R> {
        Gas {
            temperature,
            viscosity,
            molar_density_times_temperature: 1e5 / GAS_CONSTANT,
            molar_mass: 2.016e-3,
            flow: 3e-3,
            down,
        }
    }

    /// Source: Hagen–Poiseuille, u = 2U(1 − s), c u = 2ṅ/(πR²)(1 − s).
    #[test]
    fn isothermal_gas_flows_in_a_parabola() {
        let rings = Rings::<24>::new(RADIUS, 0.23, 8);
        let (t, mu) = ([700.0; 24], [1.7e-5; 24]);
        let gas = gas(&t, &mu, 1.0);
        let mut v = Velocity::STILL;
        develop(&rings, &rings.parabola, &gas, &mut v).unwrap();
        let u = gas.flow * 700.0 / (gas.molar_density_times_temperature * PI * RADIUS * RADIUS);
        assert!((v.mean / u - 1.0).abs() < 1e-12);
        assert!((v.axis / (2.0 * u) - 1.0).abs() < 1e-12);
        for i in 0..24 {
            assert!((v.edge[i] / rings.parabola[i] - 1.0).abs() < 1e-12, "{i}");
            assert!((v.at_edge[i] - 2.0 * u * (1.0 - rings.depth[i])).abs() < 1e-12 * u, "{i}");
        }
        let wall_shear = v.drive * RADIUS * RADIUS / (8.0 * 1.7e-5 * u);
        assert!((wall_shear - 1.0).abs() < 1e-12);
    }

    /// Source: Boussinesq expansion for T parabolic, u(0) = 2U[1 ± (Gr/Re)/384], wall shear 1 ∓ (Gr/Re)/192 of the parabola's.
    #[test]
    fn buoyancy_bends_the_parabola_as_the_series_says() {
        let rings = Rings::<96>::new(RADIUS, 0.4, 48);
        let mu = [1.7e-5; 96];
        for down in [1.0, -1.0] {
            let mut t = [0.0; 96];
            for (i, t) in t.iter_mut().enumerate() {
                let a = if i == 0 { 0.0 } else { rings.depth[i - 1] };
                *t = 700.0 + 0.01 * 0.5 * (rings.depth[i] + a);
            }
            let mut gas = gas(&t, &mu, down);
            // So slow that buoyancy outweighs what the density itself does to the profile.
            gas.flow = 3e-6;
            let mut v = Velocity::STILL;
            develop(&rings, &rings.parabola, &gas, &mut v).unwrap();
            let density = gas.molar_density_times_temperature * 2.016e-3 / 700.0;
            let ratio = grashof_over_reynolds(0.01, 700.0, 1.7e-5 / density, RADIUS, v.mean);
            let axis = (v.axis / (2.0 * v.mean) - 1.0) * 384.0 / ratio * down;
            let shear = (1.0 - v.drive * RADIUS * RADIUS / (8.0 * 1.7e-5 * v.mean)) * 192.0 / ratio * down;
            assert!((axis - 1.0).abs() < 0.02, "axis {axis}");
            assert!((shear - 1.0).abs() < 0.02, "wall {shear}");
        }
    }

    /// A strongly heated gas that flows down is lifted along the wall: no velocity is given.
    #[test]
    fn hot_wall_turns_a_slow_down_flow_back() {
        let rings = Rings::<24>::new(RADIUS, 0.23, 8);
        let mut t = [300.0; 24];
        t[20..].fill(900.0);
        let mu = [1.7e-5; 24];
        let mut gas = gas(&t, &mu, 1.0);
        gas.flow = 3e-5;
        let mut v = Velocity::STILL;
        assert!(develop(&rings, &rings.parabola, &gas, &mut v).is_err());
    }
}
