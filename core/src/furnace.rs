//! How warm the wall of a tube is along its length.
//!
//! Takes the set-points of the heating zones, or a measured profile, and gives the wall temperature at any place along the
//! flow. The march asks it at every station of every stage.
//!
//! Zones (1):
//!
//! T_w = T_f + (T_1 − T_f) S(z/b) + Σ (T_i+1 − T_i) S((z − z_i)/b + ½) + (T_f − T_n) S((z − L)/b + 1)
//!
//! S(x) = 3x² − 2x³ on 0…1, 0 below, 1 above. With b = 0 the zones meet in steps, and the flange has no effect; at a border
//! the zone behind it holds.
//!
//! Measured profile (2): the monotone cubic of Fritsch & Butland, slope at an inner point
//! d = (w₁ + w₂)/(w₁/δ₁ + w₂/δ₂), w₁ = 2h₂ + h₁, w₂ = h₂ + 2h₁, 0 where δ₁ and δ₂ differ in sign; three-point ends
//! that keep the sign. Between its points it stays between their temperatures.
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | z, L | `position`, `length` | m |
//! | T_i, T_f | `temperature`, `flange` | K |
//! | b | `blend` | m |
//! | h, δ, d | `step`, `secant`, `slope` | m, K/m, K/m |
//!
//! Range: 1 to 8 zones of positive length, or 2 to 32 points with rising places, the first at 0. Before the tube and behind
//! it the temperature at its end holds.
//!
//! Not modelled: heat along the wall (the blend stands for it), and the difference between the set-point and the inner
//! wall.
//!
//! Sources: (2) Fritsch & Butland 1984, SIAM J. Sci. Stat. Comput. 5, 300; ends as in Moler 2004, Numerical Computing, 3.6.
//! Checks: the tests below.

use crate::line::{PROFILE_POINTS, ZONES};
use heapless::Vec;

/// One heating zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zone {
    /// Length, m; positive.
    pub length: f64,
    /// Set-point of the wall, K.
    pub temperature: f64,
}

/// One point of a measured profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Place along the flow, m; rising from 0.
    pub position: f64,
    /// Wall temperature there, K.
    pub temperature: f64,
}

/// Wall temperature along a tube.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    profile: Profile,
    length: f64,
}

/// What the wall temperature follows.
#[allow(clippy::large_enum_variant, reason = "there is no heap to put the larger one on")]
#[derive(Clone, Debug, PartialEq)]
enum Profile {
    /// Set-points, with the blend between them, m, and the flange at both ends, K.
    Zones { zones: Vec<Zone, ZONES>, blend: f64, flange: f64 },
    /// Points, with the slope of the curve in each, K/m.
    Measured { points: Vec<(Point, f64), PROFILE_POINTS> },
}

impl Wall {
    /// Wall of heating zones (1).
    ///
    /// * `zones` — in the order of flow; at least one
    /// * `blend` — b, m; 0 or more
    /// * `flange` — T_f, K; wall temperature at both ends where b > 0
    #[must_use]
    pub fn zones(zones: Vec<Zone, ZONES>, blend: f64, flange: f64) -> Self {
        let length = zones.iter().map(|zone| zone.length).sum();
        Self { profile: Profile::Zones { zones, blend, flange }, length }
    }

    /// Wall as measured (2).
    ///
    /// * `points` — from 0 to the end of the tube, rising; at least two
    #[must_use]
    pub fn measured(points: &Vec<Point, PROFILE_POINTS>) -> Self {
        let length = points.last().map_or(0.0, |point| point.position);
        Self { profile: Profile::Measured { points: with_slopes(points) }, length }
    }

    /// Heated length, m.
    #[must_use]
    pub const fn length(&self) -> f64 {
        self.length
    }

    /// Where the last zone begins, m; `None` with a single zone or a measured profile.
    #[must_use]
    pub fn last_zone(&self) -> Option<f64> {
        match &self.profile {
            Profile::Zones { zones, .. } if zones.len() > 1 => zones.last().map(|zone| self.length - zone.length),
            _ => None,
        }
    }

    /// Wall temperature (1), (2).
    ///
    /// * `position` — z, m, from the inlet of the stage; before 0 and behind the end the end holds
    ///
    /// Returns T_w, K.
    #[must_use]
    pub fn temperature(&self, position: f64) -> f64 {
        match &self.profile {
            Profile::Zones { zones, blend, flange } if *blend > 0.0 => blended(zones, *blend, *flange, position),
            Profile::Zones { zones, .. } => stepped(zones, position),
            Profile::Measured { points } => cubic(points, position),
        }
    }
}

/// Places at which [`Wall::range`] looks beside the set-points.
const LOOKS: u32 = 128;

impl Wall {
    /// Coldest and warmest wall temperature, K.
    ///
    /// Set-points, flange and points bound the wall, except where an end zone is shorter than half the blend: the steps then
    /// overlap and the sum (1) may pass them. So the wall is looked at along its length as well.
    #[must_use]
    pub fn range(&self) -> (f64, f64) {
        let along = (0..=LOOKS).map(|look| self.temperature(self.length * f64::from(look) / f64::from(LOOKS)));
        let (low, high) = bounds(along);
        let (coldest, warmest) = match &self.profile {
            Profile::Zones { zones, .. } => bounds(zones.iter().map(|zone| zone.temperature)),
            Profile::Measured { points } => bounds(points.iter().map(|(point, _)| point.temperature)),
        };
        (low.min(coldest), high.max(warmest))
    }
}

/// Least and largest of some numbers.
fn bounds(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
}

/// S(x) = 3x² − 2x³ on 0…1, 0 below, 1 above.
fn smooth_step(x: f64) -> f64 {
    let x = x.clamp(0.0, 1.0);
    x * x * (3.0 - 2.0 * x)
}

/// Zones that blend, and the flange at both ends (1).
fn blended(zones: &[Zone], blend: f64, flange: f64, position: f64) -> f64 {
    let mut temperature = flange;
    let mut before = flange;
    let mut border = 0.0;
    // The first step lies wholly inside the tube, the others about their border.
    let mut shift = 0.0;
    for zone in zones {
        temperature += (zone.temperature - before) * smooth_step((position - border) / blend + shift);
        before = zone.temperature;
        border += zone.length;
        shift = 0.5;
    }
    temperature + (flange - before) * smooth_step((position - border) / blend + 1.0)
}

/// Zones that meet in steps.
fn stepped(zones: &[Zone], position: f64) -> f64 {
    let mut border = 0.0;
    let mut temperature = 0.0;
    for (index, zone) in zones.iter().enumerate() {
        if index == 0 || position >= border {
            temperature = zone.temperature;
        }
        border += zone.length;
    }
    temperature
}

/// The points with the slope of the monotone cubic in each (2).
fn with_slopes(points: &[Point]) -> Vec<(Point, f64), PROFILE_POINTS> {
    let mut sloped = Vec::new();
    for (index, point) in points.iter().enumerate() {
        let back = |steps: usize| index.checked_sub(steps).and_then(|place| points.get(place));
        let before = back(1).map(|other| interval(other, point));
        let after = points.get(index + 1).map(|other| interval(point, other));
        let slope = match (before, after) {
            (Some(before), Some(after)) => inner_slope(before, after),
            (None, Some(next)) => match points.get(index + 2).zip(points.get(index + 1)) {
                Some((third, second)) => end_slope(next, interval(second, third)),
                None => next.secant,
            },
            (Some(last), None) => match back(2).zip(back(1)) {
                Some((third, second)) => end_slope(last, interval(third, second)),
                None => last.secant,
            },
            (None, None) => 0.0,
        };
        // Source and target hold the same number of points, so there is room.
        let _ = sloped.push((*point, slope));
    }
    sloped
}

/// The stretch between two neighbouring points.
#[derive(Clone, Copy)]
struct Interval {
    /// h, m.
    step: f64,
    /// δ, K/m.
    secant: f64,
}

fn interval(from: &Point, to: &Point) -> Interval {
    let step = to.position - from.position;
    Interval { step, secant: (to.temperature - from.temperature) / step }
}

/// Weighted harmonic mean of the slopes on both sides; 0 where the profile turns.
fn inner_slope(before: Interval, after: Interval) -> f64 {
    if before.secant * after.secant <= 0.0 {
        return 0.0;
    }
    let first = 2.0 * after.step + before.step;
    let second = after.step + 2.0 * before.step;
    (first + second) / (first / before.secant + second / after.secant)
}

/// Three-point slope at an end; it keeps the sign of the end's own stretch and at most three times its slope where the
/// profile turns behind it.
fn end_slope(own: Interval, next: Interval) -> f64 {
    let slope = ((2.0 * own.step + next.step) * own.secant - own.step * next.secant) / (own.step + next.step);
    if slope * own.secant <= 0.0 {
        0.0
    } else if own.secant * next.secant <= 0.0 && slope.abs() > 3.0 * own.secant.abs() {
        3.0 * own.secant
    } else {
        slope
    }
}

/// The cubic through two neighbouring points with their slopes.
fn cubic(points: &[(Point, f64)], position: f64) -> f64 {
    let mut previous: Option<&(Point, f64)> = None;
    for current in points {
        if position <= current.0.position {
            return previous.map_or(current.0.temperature, |from| hermite(from, current, position));
        }
        previous = Some(current);
    }
    previous.map_or(0.0, |last| last.0.temperature)
}

fn hermite(from: &(Point, f64), to: &(Point, f64), position: f64) -> f64 {
    let Interval { step, .. } = interval(&from.0, &to.0);
    let x = (position - from.0.position) / step;
    let rise = smooth_step(x);
    let left = x * (1.0 - x) * (1.0 - x);
    let right = x * x * (1.0 - x);
    from.0.temperature * (1.0 - rise) + to.0.temperature * rise + step * (from.1 * left - to.1 * right)
}

#[cfg(test)]
mod tests {
    use super::{Point, Wall, Zone};
    use heapless::Vec;

    fn zones(list: &[(f64, f64)], blend: f64, flange: f64) -> Wall {
        Wall::zones(list.iter().map(|&(length, temperature)| Zone { length, temperature }).collect(), blend, flange)
    }

    fn measured(list: &[(f64, f64)]) -> Wall {
        let points: Vec<Point, 32> =
            list.iter().map(|&(position, temperature)| Point { position, temperature }).collect();
        Wall::measured(&points)
    }

    fn near(got: f64, want: f64) {
        assert!((got - want).abs() < 1e-9, "{got}, not {want}");
    }

    /// Source: (1): S(½) = ½, S(0) = 0, S(1) = 1.
    #[test]
    fn zones_blend_about_their_border() {
        let wall = zones(&[(0.2, 700.0), (0.3, 800.0)], 0.04, 300.0);
        near(wall.length(), 0.5);
        near(wall.temperature(0.0), 300.0);
        near(wall.temperature(0.02), 500.0);
        near(wall.temperature(0.04), 700.0);
        near(wall.temperature(0.18), 700.0);
        near(wall.temperature(0.2), 750.0);
        near(wall.temperature(0.22), 800.0);
        near(wall.temperature(0.46), 800.0);
        near(wall.temperature(0.48), 550.0);
        near(wall.temperature(0.5), 300.0);
        near(wall.temperature(0.19), 700.0 + 100.0 * 0.156_25);
    }

    /// Without a blend zones meet in steps and the flange has no effect.
    #[test]
    fn zones_without_blend_are_steps() {
        let wall = zones(&[(0.2, 700.0), (0.3, 800.0)], 0.0, 300.0);
        near(wall.temperature(-1.0), 700.0);
        near(wall.temperature(0.0), 700.0);
        near(wall.temperature(0.199_999), 700.0);
        near(wall.temperature(0.2), 800.0);
        near(wall.temperature(0.5), 800.0);
        near(wall.temperature(9.0), 800.0);
    }

    /// Source: (2) worked by hand for h = 1, 1, 2 and δ = 1, 2, 3: inner slopes 6/(3 + 3/2) = 4/3 and
    /// 9/(5/2 + 4/3) = 54/23, ends ½ and 11/3.
    #[test]
    fn measured_profile_has_the_slopes_of_fritsch_and_butland() {
        let wall = measured(&[(0.0, 0.0), (1.0, 1.0), (2.0, 3.0), (4.0, 9.0)]);
        near(wall.length(), 4.0);
        near(wall.temperature(0.5), 0.5 + (0.5 - 4.0 / 3.0) / 8.0);
        near(wall.temperature(1.5), 2.0 + (4.0 / 3.0 - 54.0 / 23.0) / 8.0);
        near(wall.temperature(3.0), 6.0 + 2.0 * (54.0 / 23.0 - 11.0 / 3.0) / 8.0);
    }

    /// A measured profile goes through its points, stays between them, and is flat outside.
    #[test]
    fn measured_profile_stays_between_its_points() {
        let list = [(0.0, 300.0), (0.1, 690.0), (0.15, 700.0), (0.3, 700.0), (0.32, 500.0), (0.5, 450.0), (0.6, 460.0)];
        let wall = measured(&list);
        for (position, temperature) in list {
            near(wall.temperature(position), temperature);
        }
        for pair in list.windows(2) {
            for step in 0..=100 {
                let position = pair[0].0 + (pair[1].0 - pair[0].0) * f64::from(step) / 100.0;
                let here = wall.temperature(position);
                let (low, high) = (pair[0].1.min(pair[1].1), pair[0].1.max(pair[1].1));
                assert!(here >= low - 1e-9 && here <= high + 1e-9, "{here} at {position}");
            }
        }
        near(wall.temperature(-0.1), 300.0);
        near(wall.temperature(0.7), 460.0);
    }

    /// The range holds the flange where there is a blend, and only the zones where there is none.
    #[test]
    fn range_holds_every_wall_temperature() {
        for (blend, coldest) in [(0.04, 300.0), (0.0, 700.0)] {
            let (low, high) = zones(&[(0.2, 700.0), (0.3, 800.0)], blend, 300.0).range();
            near(low, coldest);
            near(high, 800.0);
        }
        // An end zone shorter than half the blend: the wall passes its set-points, and the range says so.
        let (low, high) = zones(&[(0.01, 700.0), (0.3, 400.0)], 0.2, 300.0).range();
        assert!(low < 300.0 && high > 699.0, "{low} {high}");
    }

    /// Two points are a straight line.
    #[test]
    fn two_points_are_a_line() {
        near(measured(&[(0.0, 300.0), (0.4, 700.0)]).temperature(0.1), 400.0);
    }
}
