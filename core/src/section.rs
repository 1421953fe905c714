//! The kernel: one implicit step of one field across the rings of a tube.
//!
//! Rings are fixed shares ΔF_i of the molar flow, so gas does not cross their edges. Over ring i
//!
//! ```text
//! (c A_i/Δt)(φ_i − φ_i,before) + ṅ ΔF_i ∂φ_i/∂z = N_i−½ − N_i+½ − σ_i φ_i + S_i                          (1)
//! N_i+½ = κ [B(a) φ_i − B(−a) φ_i+1],   κ = 2π r Γ/(r̄_i+1 − r̄_i),   B(a) = a/(e^a − 1)                  (2)
//! ∂φ/∂z ≈ (3φ − 4φ_1 + φ_2)/(2Δz);   at the first station of a stage (φ − φ_1)/Δz                        (3)
//! ```
//!
//! with φ_1, φ_2 one and two stations upstream. (2) is the exact flux of a stretch with constant Γ and d ln T^α/dr [1]: what
//! leaves a ring enters the next, and as B > 0 no mole fraction falls below nothing.
//!
//! | symbol | in code | unit |
//! | --- | --- | --- |
//! | ṅ ΔF_i, times c_p for T | `carried` | mol/s, W/K |
//! | c A_i/Δt, times c_p for T | `held` | the same per metre |
//! | κ B(a), κ B(−a) | `Faces` | the same per metre |
//! | σ_i, S_i | `taken`, `given` | the same per metre, times φ |
//!
//! 1/Δt = 0 is the steady march; `before` is then multiplied by nothing.
//!
//! Sources: [1] Scharfetter & Gummel 1969, IEEE Trans. Electron Devices 16, 64 (from memory).

use libm::expm1;

/// Weights of φ, φ_1 and φ_2 in ∂φ/∂z (3), 1/m.
#[derive(Clone, Copy, Debug)]
pub struct Difference {
    /// Of the station itself.
    pub here: f64,
    /// Of the one upstream.
    pub one: f64,
    /// Of the one before that.
    pub two: f64,
}

impl Difference {
    /// At the first station behind an inlet, a distance `step` (m) away from it.
    #[must_use]
    pub fn first(step: f64) -> Self {
        Self { here: 1.0 / step, one: -1.0 / step, two: 0.0 }
    }

    /// At every later station.
    #[must_use]
    pub fn later(step: f64) -> Self {
        Self { here: 1.5 / step, one: -2.0 / step, two: 0.5 / step }
    }
}

/// Bernoulli's function B(a) = a/(e^a − 1).
///
/// * `a` — α ln(T_i+1/T_i), –; any.
///
/// Returns B(a), –; above 0. B(−a) = B(a) + a.
///
/// # Accuracy
/// Below 0.1 the series 1 − a/2 + a²/12 − a⁴/720 + a⁶/30240 − a⁸/1209600 stands in, whose next term is below 3e-18: faster
/// than `expm1`, and without its cancellation in the limit.
#[inline]
#[must_use]
pub fn bernoulli(a: f64) -> f64 {
    if a.abs() < 0.1 {
        let s = a * a;
        return 1.0 - 0.5 * a + s * (1.0 / 12.0 - s * (1.0 / 720.0 - s * (1.0 / 30_240.0 - s / 1_209_600.0)));
    }
    a / expm1(a)
}

/// Fluxes across the outer faces of the rings: N = outward φ_i − inward φ_i+1; behind the last ring stands the wall.
#[derive(Clone, Copy, Debug)]
pub struct Faces<const R: usize> {
    /// κ B(a).
    pub outward: [f64; R],
    /// κ B(−a).
    pub inward: [f64; R],
}

impl<const R: usize> Faces<R> {
    /// Faces that let nothing through.
    pub const CLOSED: Self = Self { outward: [0.0; R], inward: [0.0; R] };
}

/// One field at one station: everything in (1) but the unknown.
#[derive(Clone, Copy, Debug)]
pub struct Balance<'a, const R: usize> {
    /// ∂/∂z.
    pub difference: Difference,
    /// ṅ ΔF_i (times c_p for T).
    pub carried: &'a [f64; R],
    /// c A_i/Δt (times c_p for T).
    pub held: &'a [f64; R],
    /// Fluxes across faces.
    pub faces: &'a Faces<R>,
    /// φ at the wall, times nothing where the wall's `inward` is 0.
    pub wall: f64,
    /// σ_i: what is taken, in proportion to φ_i.
    pub taken: &'a [f64; R],
    /// S_i: what is given.
    pub given: &'a [f64; R],
    /// One station upstream.
    pub one: &'a [f64; R],
    /// Two stations upstream.
    pub two: &'a [f64; R],
    /// One time step ago.
    pub before: &'a [f64; R],
}

impl<const R: usize> Balance<'_, R> {
    /// Solves (1) for φ into `field`: elimination from the axis to the wall and back.
    ///
    /// The matrix is an M-matrix (positive diagonal that outweighs its column), so nothing divides by zero for positive
    /// `carried` and no pivoting is needed.
    pub fn solve(&self, field: &mut [f64; R]) {
        let d = self.difference;
        let mut factor = [0.0; R];
        let (mut from_inner, mut flux_in, mut above) = (0.0, 0.0, 0.0);
        for i in 0..R {
            let upstream = self.carried[i] * (d.one * self.one[i] + d.two * self.two[i]);
            let mut right = self.given[i] + self.held[i] * self.before[i] - upstream;
            let last = i + 1 == R;
            if last {
                right += self.faces.inward[i] * self.wall;
            }
            // `flux_in` and `from_inner` are κB(a) and κB(−a) of the inner face.
            let diagonal = self.carried[i] * d.here + self.held[i] + self.taken[i] + self.faces.outward[i] + from_inner;
            let pivot = diagonal - flux_in * if i == 0 { 0.0 } else { factor[i - 1] };
            let inverse = 1.0 / pivot;
            factor[i] = if last { 0.0 } else { self.faces.inward[i] * inverse };
            above = (right + flux_in * above) * inverse;
            field[i] = above;
            flux_in = self.faces.outward[i];
            from_inner = self.faces.inward[i];
        }
        for i in (0..R.saturating_sub(1)).rev() {
            field[i] += factor[i] * field[i + 1];
        }
    }
}

/// How a quantity that rides on a path is carried: (w − w_before)/Δt + u ∂w/∂z = rate.
#[derive(Clone, Copy, Debug)]
pub struct Ride {
    inverse: f64,
    one: f64,
    two: f64,
    per_time: f64,
}

impl Ride {
    /// * `velocity` — u on the path, m/s; above 0.
    /// * `per_time` — 1/Δt, 1/s; 0 for the steady march.
    #[must_use]
    pub fn new(difference: &Difference, velocity: f64, per_time: f64) -> Self {
        Self {
            inverse: 1.0 / (per_time + velocity * difference.here),
            one: velocity * difference.one,
            two: velocity * difference.two,
            per_time,
        }
    }

    /// w for a rate (per second) and its values upstream and one time step ago.
    #[inline]
    #[must_use]
    pub fn carry(&self, rate: f64, one: f64, two: f64, before: f64) -> f64 {
        (rate + self.per_time * before - self.one * one - self.two * two) * self.inverse
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: definition; the series meets `expm1` where they change over, and both sides obey B(−a) = B(a) + a.
    #[test]
    fn bernoulli_is_one_function() {
        for k in -400..=400 {
            let a = f64::from(k) * 0.01;
            let exact = if a == 0.0 { 1.0 } else { a / expm1(a) };
            assert!((bernoulli(a) - exact).abs() <= 4e-16 * exact.max(1.0), "{a}");
            assert!((bernoulli(-a) - bernoulli(a) - a).abs() < 1e-14);
        }
    }

    /// Source: conservation. What a field loses along z is what crosses the wall and what is taken.
    #[test]
    fn what_leaves_a_ring_enters_the_next() {
        let (carried, held, given) = ([1.0, 2.0, 3.0, 4.0], [0.0; 4], [0.0, 0.1, 0.0, 0.0]);
        let faces = Faces { outward: [2.0, 3.0, 1.5, 0.7], inward: [1.0, 4.0, 1.0, 0.0] };
        let taken = [0.0, 0.2, 0.0, 0.3];
        let (one, two) = ([1.0; 4], [1.1; 4]);
        let difference = Difference::later(0.5);
        let mut field = [0.0; 4];
        Balance {
            difference,
            carried: &carried,
            held: &held,
            faces: &faces,
            wall: 0.0,
            taken: &taken,
            given: &given,
            one: &one,
            two: &two,
            before: &one,
        }
        .solve(&mut field);
        let mut rest = 0.0;
        for i in 0..4 {
            rest += carried[i] * (difference.here * field[i] + difference.one * one[i] + difference.two * two[i]);
            rest += taken[i] * field[i] - given[i];
        }
        rest += faces.outward[3] * field[3];
        assert!(rest.abs() < 1e-14, "{rest}");
    }
}
