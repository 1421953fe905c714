//! The kernel in the limit of many rings: heat and traces in a round tube with parabolic flow, for the analytic rows.
//!
//! Everything is in units of the tube: radius, mean velocity, molar density and diffusivity are 1, so that ṅ = π and
//! x* = D z/(U d²) = z/4. Rings are of equal width. Radial balances are those of `core`'s [`Balance`]; what is taken from
//! them is extrapolated over several numbers of rings and stations, so that a row is met to its own digits and not to those
//! of one grid.

use loftwire_core::section::{Balance, Difference, Faces};
use loftwire_core::wall;
use std::f64::consts::PI;

/// What the wall does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wall {
    /// Holds 0: a wall of given temperature, or one that takes all.
    Given,
    /// Takes by a first-order reaction, Da = k_w R/D.
    Reacting(f64),
}

/// A tube of `R` rings.
pub struct Tube<const R: usize> {
    carried: [f64; R],
    faces: Faces<R>,
    /// κ of the half ring at the wall.
    last: f64,
}

/// Distance of the shift from the mode it aims at: on it, a pivot would be nothing.
const BESIDE: f64 = 1e-7;

/// What is found behind a length of tube.
#[derive(Clone, Copy, Debug)]
pub struct Found {
    /// Flow average over that at the inlet.
    pub bulk: f64,
    /// On the axis.
    pub centre: f64,
    /// Flux to the wall for each area, times R/D.
    pub flux: f64,
}

/// A mode of the tube: φ = R(r) exp(−λ² z/2).
pub struct Mode<const R: usize> {
    /// λ².
    pub square: f64,
    field: [f64; R],
}

impl<const R: usize> Tube<R> {
    /// A tube with that wall.
    #[must_use]
    pub fn new(wall: Wall) -> Self {
        let width = 1.0 / R as f64;
        let mut carried = [0.0; R];
        let mut kappa = [0.0; R];
        let mut inner = 0.0;
        for (i, (carried, kappa)) in carried.iter_mut().zip(&mut kappa).enumerate() {
            let outer = (i + 1) as f64 * width;
            // π[F(b) − F(a)] with F = 1 − (1 − r²)², without the difference of nearly equal numbers.
            let (a, b) = (inner * inner, outer * outer);
            *carried = PI * (b - a) * (2.0 - a - b);
            *kappa = 2.0 * PI * outer / width;
            inner = outer;
        }
        let last = 4.0 * PI / width;
        let mut faces = Faces { outward: kappa, inward: kappa };
        faces.outward[R - 1] = match wall {
            Wall::Given => last,
            Wall::Reacting(number) => wall::loss(2.0 * PI * number, last, last),
        };
        faces.inward[R - 1] = 0.0;
        Self { carried, faces, last }
    }

    fn solve(&self, difference: Difference, one: &[f64; R], two: &[f64; R], field: &mut [f64; R]) {
        let nothing = [0.0; R];
        let balance = Balance {
            difference,
            carried: &self.carried,
            held: &nothing,
            faces: &self.faces,
            wall: 0.0,
            taken: &nothing,
            given: &nothing,
            one,
            two,
            before: &nothing,
        };
        balance.solve(field);
    }

    fn average(&self, field: &[f64; R]) -> f64 {
        self.carried.iter().zip(field).map(|(carried, value)| carried * value).sum::<f64>() / PI
    }

    fn found(&self, field: &[f64; R]) -> Found {
        Found {
            bulk: self.average(field),
            // Even in r: the parabola through the first two rings.
            centre: (9.0 * field[0] - field[1]) / 8.0,
            flux: self.faces.outward[R - 1] * field[R - 1] / (2.0 * PI),
        }
    }

    /// Marches 1 at the inlet over a length x*, in that many stations.
    #[must_use]
    pub fn march(&self, length: f64, stations: u32) -> Found {
        let step = 4.0 * length / f64::from(stations);
        let (mut two, mut one, mut field) = ([1.0; R], [1.0; R], [1.0; R]);
        for station in 0..stations {
            let difference = if station == 0 { Difference::first(step) } else { Difference::later(step) };
            self.solve(difference, &one, &two, &mut field);
            two = one;
            one = field;
        }
        self.found(&one)
    }

    /// The modes, in order: inverse iteration about what the coarser tube gave, or from the lowest up.
    #[must_use]
    pub fn modes(&self, guesses: Option<&[f64]>, count: usize) -> Vec<Mode<R>> {
        let mut modes: Vec<Mode<R>> = Vec::new();
        for n in 0..count {
            let mut field = [0.0; R];
            for (i, value) in field.iter_mut().enumerate() {
                *value = 1.0 + (n as f64 * PI * (i as f64 + 0.5) / R as f64).cos();
            }
            // The lowest mode that is left comes forward; then the shift closes in on it.
            let steps = if guesses.is_some() { 0 } else { 60 };
            for _ in 0..steps {
                self.sharpen(0.0, &modes, &mut field);
            }
            let mut shift =
                guesses.and_then(|guesses| guesses.get(n).copied()).unwrap_or_else(|| self.quotient(&field));
            for _ in 0..4 {
                self.sharpen(0.5 * (1.0 - BESIDE) * shift, &modes, &mut field);
                shift = self.quotient(&field);
            }
            modes.push(Mode { square: shift, field });
        }
        modes
    }

    /// One step of inverse iteration about a decay, kept apart from the modes that are known, scaled to Σ carried φ² = 1.
    fn sharpen(&self, decay: f64, known: &[Mode<R>], field: &mut [f64; R]) {
        let old = *field;
        self.solve(Difference { here: -decay, one: -1.0, two: 0.0 }, &old, &old, field);
        for mode in known {
            let part = self.product(&mode.field, field);
            field.iter_mut().zip(&mode.field).for_each(|(value, other)| *value -= part * other);
        }
        let scale = 1.0 / self.product(field, field).sqrt();
        field.iter_mut().for_each(|value| *value *= scale);
    }

    fn product(&self, one: &[f64; R], other: &[f64; R]) -> f64 {
        self.carried.iter().zip(one).zip(other).map(|((carried, a), b)| carried * a * b).sum()
    }

    /// λ² = 2 Σ κ(φ_i − φ_i+1)²/Σ carried φ²: a sum of squares, so that no digits are lost.
    fn quotient(&self, field: &[f64; R]) -> f64 {
        let mut sum = self.faces.outward[R - 1] * field[R - 1] * field[R - 1];
        for (pair, kappa) in field.windows(2).zip(&self.faces.outward) {
            sum += kappa * (pair[0] - pair[1]) * (pair[0] - pair[1]);
        }
        2.0 * sum / self.product(field, field)
    }

    /// Weight of a mode in the flow average.
    #[must_use]
    pub fn weight(&self, mode: &Mode<R>) -> f64 {
        let average = self.average(&mode.field);
        PI * average * average / self.product(&mode.field, &mode.field)
    }

    /// Nusselt or Sherwood number of a field, on the diameter and on bulk less wall.
    fn transfer(&self, field: &[f64; R]) -> f64 {
        let found = self.found(field);
        // What the last half ring carries: flux = κ(φ_n − φ_w)/(2π).
        let at_wall = field[R - 1] - 2.0 * PI * found.flux / self.last;
        2.0 * found.flux / (found.bulk - at_wall)
    }

    /// Nusselt or Sherwood number of a mode.
    #[must_use]
    pub fn developed(&self, mode: &Mode<R>) -> f64 {
        self.transfer(&mode.field)
    }

    /// Nusselt number where the flux is the same all along the tube.
    #[must_use]
    pub fn constant_flux(&self) -> f64 {
        let (ones, mut field) = ([1.0; R], [0.0; R]);
        self.solve(Difference { here: 0.0, one: -1.0, two: 0.0 }, &ones, &ones, &mut field);
        self.transfer(&field)
    }
}

/// The limit of values on grids of which each is twice as fine as the one before, the error falling with the powers 2, 3, 4 …
/// of the width.
#[must_use]
pub fn limit(values: &[f64]) -> f64 {
    let mut row = values.to_vec();
    let mut power = 4.0;
    while row.len() > 1 {
        row = row.windows(2).map(|pair| pair[1] + (pair[1] - pair[0]) / (power - 1.0)).collect();
        power *= 2.0;
    }
    row.first().copied().unwrap_or(f64::NAN)
}
