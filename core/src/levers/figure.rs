//! The figures that are ordered, and where they may lie.

use crate::harvest::Harvest;
use crate::line::{DOPANTS, Doping, Line, STAGES};
use crate::report::Report;
use crate::root::sqrt;
use crate::statistics::Wires;
use core::fmt::Write;
use heapless::{String, Vec};
use libm::log2;
use serde::Serialize;

/// Most figures: a length and a doping a stage, diameter and spread.
pub const FIGURES: usize = 2 * STAGES + 2;
/// m to nm.
const NM: f64 = 1e9;
/// 1/m³ to 1/cm³.
const PER_CM3: f64 = 1e-6;

/// What a figure is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Mean length of a segment.
    Length(usize),
    /// Mean net doping of a segment, donors less acceptors.
    Net(usize),
    /// Mean tip diameter.
    Diameter,
    /// Coefficient of variation of the whole length.
    Spread,
}

/// A figure of the wires.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// Path in the report.
    pub path: String<48>,
    /// Unit; empty for a ratio.
    pub unit: &'static str,
    /// As predicted on both grids.
    pub value: f64,
    /// Least that is accepted; `None` where nothing is ordered.
    pub low: Option<f64>,
    /// Most that is accepted.
    pub high: Option<f64>,
    /// Standard uncertainty of the mean.
    pub u: f64,
    /// What it is.
    #[serde(skip)]
    pub kind: Kind,
    /// Name of its stage; empty for the whole wire.
    #[serde(skip)]
    pub name: String<200>,
}

impl Figure {
    /// Whether it is accepted, or nothing is ordered.
    #[must_use]
    pub fn inside(&self) -> bool {
        self.low.is_none_or(|low| self.value >= low) && self.high.is_none_or(|high| self.value <= high)
    }

    /// Where it may lie, a share `room` of the width inside; everything where nothing is ordered.
    #[must_use]
    pub(super) fn room(&self, room: f64) -> (f64, f64) {
        let (low, high) = (self.low.unwrap_or(f64::MIN), self.high.unwrap_or(f64::MAX));
        let width = if self.low.is_some() && self.high.is_some() { high - low } else { 0.0 };
        (low + room * width, high - room * width)
    }

    /// How far inside it is: 1 in the middle, 0 at a limit, negative outside; `None` where nothing is ordered. The measure of the verdict's items,
    /// doping in factors of two.
    #[must_use]
    pub fn slack(&self) -> Option<f64> {
        let (low, high) = (self.low?, self.high?);
        let middle = 0.5 * (low + high);
        Some(match self.kind {
            Kind::Spread => 1.0 - self.value / high,
            // From half to twice of the ordered, which is the geometric mean of the limits.
            Kind::Net(_) if low * high > 0.0 => {
                let ratio = self.value / sqrt(low * high).copysign(low);
                if ratio > 0.0 { 1.0 - log2(ratio).abs() } else { f64::MIN }
            }
            _ => 1.0 - (self.value - middle).abs() / (0.5 * (high - low)),
        })
    }
}

fn figure(kind: Kind, unit: &'static str, value: f64, limits: Option<(f64, f64)>) -> Figure {
    let mut path = String::new();
    // 48 bytes hold the longest of these.
    let _ = match kind {
        Kind::Length(stage) => write!(path, "wires.segments[{stage}].length_nm.mean"),
        Kind::Net(stage) => write!(path, "wires.segments[{stage}].net_per_cm3.mean"),
        Kind::Diameter => write!(path, "wires.diameter_nm.tip.mean"),
        Kind::Spread => write!(path, "wires.length_nm.cv"),
    };
    let (low, high) = (limits.map(|limits| limits.0), limits.map(|limits| limits.1));
    Figure { path, unit, value, low, high, u: 0.0, kind, name: String::new() }
}

/// The figures of a report, with what is ordered of them.
pub(super) fn figures(line: &Line, report: &Report) -> Vec<Figure, FIGURES> {
    let mut out = Vec::new();
    let Some(wires) = report.wires.get() else { return out };
    let order = line.order.as_ref();
    let mut add = |figure: Figure| {
        // FIGURES has room for all.
        let _ = out.push(figure);
    };
    for (n, (segment, stage)) in wires.segments.iter().zip(&line.stages).enumerate() {
        let ordered = order.and_then(|order| order.segments.get(n).copied().flatten());
        let length = ordered
            .map(|segment| ((segment.length - segment.tolerance) * NM, (segment.length + segment.tolerance) * NM));
        add(Figure { name: stage.name.clone(), ..figure(Kind::Length(n), "nm", segment.length_nm.mean, length) });
        let net = segment.net_per_cm3.map_or(0.0, |net| net.mean);
        let carriers = ordered.map(|segment| {
            let wanted = segment.carriers * PER_CM3;
            match segment.doping {
                Doping::P => (-2.0 * wanted, -0.5 * wanted),
                Doping::N => (0.5 * wanted, 2.0 * wanted),
                Doping::I => (-wanted, wanted),
            }
        });
        add(Figure { name: stage.name.clone(), ..figure(Kind::Net(n), "1/cm³", net, carriers) });
    }
    let diameter = order.map(|order| {
        ((order.diameter - order.diameter_tolerance) * NM, (order.diameter + order.diameter_tolerance) * NM)
    });
    add(figure(Kind::Diameter, "nm", wires.diameter_nm.tip.mean, diameter));
    let spread = order.and_then(|order| order.spread_cv).map(|limit| (0.0, limit));
    add(figure(Kind::Spread, "", wires.length_nm.cv.unwrap_or(0.0), spread));
    out
}

/// The figure nearest to a limit, or farthest outside.
pub(super) fn tightest(figures: &[Figure]) -> Option<usize> {
    let mut found: Option<(usize, f64)> = None;
    for (f, figure) in figures.iter().enumerate() {
        let Some(slack) = figure.slack() else { continue };
        if found.is_none_or(|(_, least)| slack < least) {
            found = Some((f, slack));
        }
    }
    found.map(|(f, _)| f)
}

/// The same figures on one grid.
pub(super) fn measured<const R: usize, const P: usize, const C: usize, const N: usize>(
    line: &Line,
    harvest: &Harvest<R, P, C, N>,
    figures: &[Figure],
) -> [f64; FIGURES] {
    let mut out = [0.0; FIGURES];
    let stages = line.stages.len().min(STAGES);
    for (value, figure) in out.iter_mut().zip(figures) {
        *value = match figure.kind {
            Kind::Length(n) => harvest.mean(line, &harvest.lengths(line, n..n + 1)) * NM,
            Kind::Net(n) => net(line, harvest, n) * PER_CM3,
            Kind::Diameter => {
                let mut sum = 0.0;
                for class in harvest.classes.iter().take(harvest.count) {
                    sum += class.weight * class.diameter;
                }
                sum * NM
            }
            Kind::Spread => {
                let all = harvest.lengths(line, 0..stages);
                let moments = Wires::of(line, harvest).moments(&all.quantity());
                if moments.mean > 0.0 { sqrt(moments.variance.max(0.0)) / moments.mean } else { 0.0 }
            }
        };
    }
    out
}

/// Mean net doping of segment `n`, 1/m³.
fn net<const R: usize, const P: usize, const C: usize, const N: usize>(
    line: &Line,
    harvest: &Harvest<R, P, C, N>,
    n: usize,
) -> f64 {
    let length = harvest.mean(line, &harvest.lengths(line, n..n + 1));
    if !(length > 0.0) {
        return 0.0;
    }
    let mut net = 0.0;
    let dopants = line.species.iter().filter_map(|species| species.doping.as_ref());
    for (d, kinetics) in dopants.enumerate().take(DOPANTS) {
        let content = harvest.gather(line, n..n + 1, |s, p, k| harvest.stages[s.min(STAGES - 1)].content[d][p][k]);
        let mean = harvest.mean(line, &content) / length;
        net += if kinetics.acceptor { -mean } else { mean };
    }
    net
}
