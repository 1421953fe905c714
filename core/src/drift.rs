//! The paths of the seeds: where a share of the flow stands, what is met there, how seeds drift across streamlines.
//!
//! A ring's seeds keep together on one path. It starts at the middle of the ring by area and drifts with the thermophoretic
//! velocity −K_th ν ∂ln T/∂r, that is
//!
//! ```text
//! dF/dz = −(2π r c/ṅ) K_th ν ∂ln T/∂r                                                                    (1)
//! ```
//!
//! with F the share of the flow inside it. What stands at F: r by interpolation linear in Y = 1 − √(1 − F) (q against Y of the ring
//! edges); T and mole fractions linear in q between the middles q̄ of the rings, flat inside the first and, for mole fractions, outside
//! the last (T goes on to T_w at the wall); u linear in q between the edges; ∂T/∂r linear in r between the edges, where it is
//! (T_i+1 − T_i)/(r̄_i+1 − r̄_i), 0 on the axis.
//!
//! Range: F from 0 to below 1; a path that reaches 1 is lost to the wall. Not modelled: Brownian motion across streamlines (reported).

use crate::flow::{Rings, Velocity, depth_of_share};
use crate::properties::Properties;
use crate::root::sqrt;
use core::f64::consts::PI;

/// The temperature field at one station with the radii it stands at.
#[derive(Clone, Copy, Debug)]
pub struct Across<'a, const R: usize> {
    /// What stays the same along the stage.
    pub rings: &'a Rings<R>,
    /// Edges and velocity.
    pub velocity: &'a Velocity<R>,
    /// T of each ring, K.
    pub temperature: &'a [f64; R],
    /// T_w, K.
    pub wall: f64,
    /// Whether the velocity is the isothermal parabola.
    pub parabolic: bool,
    /// p/R_gas, mol K/m³.
    pub molar_density_times_temperature: f64,
    /// ṅ, mol/s.
    pub flow: f64,
}

/// What is met at one share of the flow.
#[derive(Clone, Copy, Debug, Default)]
pub struct Spot {
    /// r, m.
    pub radius: f64,
    /// T, K.
    pub temperature: f64,
    /// ∂T/∂r, K/m.
    pub slope: f64,
    /// u, m/s.
    pub velocity: f64,
    /// Ring whose middle lies inwards, or the first.
    pub ring: usize,
    /// Weight of the next ring outwards, 0 to 1; mole fractions are (1 − weight) of `ring` and weight of the next.
    pub weight: f64,
}

impl<const R: usize> Across<'_, R> {
    /// q and r at the middle (by q) and by radius of ring i: (q̄, r̄).
    #[inline]
    fn middle(&self, i: usize) -> (f64, f64) {
        let i = i.min(R - 1);
        let b = self.velocity.edge[i];
        let a = if i == 0 { 0.0 } else { self.velocity.edge[i - 1] };
        (0.5 * (a + b), 0.5 * (sqrt(a) + sqrt(b)))
    }

    /// ∂T/∂r at the outer edge of ring i, K/m.
    fn slope_at_edge(&self, i: usize) -> f64 {
        let i = i.min(R - 1);
        let (_, inner) = self.middle(i);
        if i + 1 >= R {
            let radius = sqrt(self.velocity.edge[R - 1]);
            return (self.wall - self.temperature[R - 1]) / (radius - inner);
        }
        let (_, outer) = self.middle(i + 1);
        (self.temperature[i + 1] - self.temperature[i]) / (outer - inner)
    }

    /// r at a share of the flow, m, for the report: q by the parabola in Y through the edge inwards, the next and the one behind it.
    ///
    /// Drifts are small differences of two such radii, of which one is an edge: the straight line of [`Across::spot`] errs by an amount that
    /// depends on where between edges the other stands, which no extrapolation over grids takes away.
    #[must_use]
    pub fn radius(&self, share: f64) -> f64 {
        let depth = depth_of_share(share);
        let (j, straight) = self.square(depth);
        if j + 2 >= R {
            return sqrt(straight);
        }
        let (a, q_a) = if j == 0 { (0.0, 0.0) } else { (self.rings.depth[j - 1], self.velocity.edge[j - 1]) };
        let (b, q_b) = (self.rings.depth[j], self.velocity.edge[j]);
        let (c, q_c) = (self.rings.depth[j + 1], self.velocity.edge[j + 1]);
        let bend = ((q_c - q_b) / (c - b) - (q_b - q_a) / (b - a)) / (c - a);
        sqrt((straight + bend * (depth - a) * (depth - b)).max(0.0))
    }

    /// The ring that holds a depth Y, with q there.
    fn square(&self, depth: f64) -> (usize, f64) {
        let mut j = 0;
        while j + 1 < R && self.rings.depth[j] < depth {
            j += 1;
        }
        let (depth_a, q_a) = if j == 0 { (0.0, 0.0) } else { (self.rings.depth[j - 1], self.velocity.edge[j - 1]) };
        let part = ((depth - depth_a) / (self.rings.depth[j] - depth_a)).clamp(0.0, 1.0);
        (j, q_a + part * (self.velocity.edge[j] - q_a))
    }

    /// What is met at a share F of the flow.
    ///
    /// * `share` — F, –; 0 to 1.
    #[must_use]
    pub fn spot(&self, share: f64) -> Spot {
        let depth = depth_of_share(share);
        let (j, q) = self.square(depth);
        let radius = sqrt(q);
        let (q_mid, _) = self.middle(j);
        // The pair of rings whose middles lie about q.
        let ring = if q < q_mid { j.saturating_sub(1) } else { j };
        let next = (ring + 1).min(R - 1);
        let (q_a, _) = self.middle(ring);
        let (temperature, weight) = if q <= q_a {
            (self.temperature[ring.min(R - 1)], 0.0)
        } else if ring + 1 >= R {
            let q_w = self.velocity.edge[R - 1];
            let part = ((q - q_a) / (q_w - q_a)).clamp(0.0, 1.0);
            (self.temperature[R - 1] + part * (self.wall - self.temperature[R - 1]), 0.0)
        } else {
            let (q_b, _) = self.middle(next);
            let part = ((q - q_a) / (q_b - q_a)).clamp(0.0, 1.0);
            let (a, b) = (self.temperature[ring.min(R - 1)], self.temperature[next]);
            (a + part * (b - a), part)
        };
        let q_in = if j == 0 { 0.0 } else { self.velocity.edge[j - 1] };
        let q_out = self.velocity.edge[j];
        let velocity = if self.parabolic {
            2.0 * self.flow * temperature / (PI * self.velocity.edge[R - 1] * self.molar_density_times_temperature)
                * (1.0 - depth)
        } else {
            let inner = if j == 0 { self.velocity.axis } else { self.velocity.at_edge[j - 1] };
            inner + (q - q_in) / (q_out - q_in) * (self.velocity.at_edge[j] - inner)
        };
        let inner_slope = if j == 0 { 0.0 } else { self.slope_at_edge(j - 1) };
        let r_in = sqrt(q_in);
        let part = (radius - r_in) / (sqrt(q_out) - r_in);
        let slope = inner_slope + part * (self.slope_at_edge(j) - inner_slope);
        Spot { radius, temperature, slope, velocity, ring, weight }
    }

    /// dF/dz of seeds at a spot (1), 1/m.
    #[must_use]
    pub fn drift(&self, spot: &Spot, properties: &Properties) -> f64 {
        let place = properties.place(spot.temperature);
        let molar_density = self.molar_density_times_temperature / spot.temperature;
        -2.0 * PI * spot.radius * molar_density / self.flow * properties.thermophoresis(&place) * spot.slope
            / spot.temperature
    }
}
