//! Which seeds a cylindrical mobility classifier lets through.
//!
//! Takes a log-normal source behind a neutraliser, the classifier's geometry, flows, voltage and gas; gives the size groups
//! that enter the first stage, one a charge, since a seed with two charges passes with a larger diameter and grows a thicker
//! wire.
//!
//! (1) Z* = (Q_sh + Q_exc) ln(R_2/R_1)/(4π V L); balanced: Q_exc = Q_sh, sample flow = aerosol flow Q_a
//! (2) Ω = σ/[√2 β(1 − δ)] {E[(Z̃ − 1 − β)/√2σ] + E[(Z̃ − 1 + β)/√2σ] − E[(Z̃ − 1 − βδ)/√2σ] − E[(Z̃ − 1 + βδ)/√2σ]},
//!     E(x) = x erf x + e^{−x²}/√π,  Z̃ = Z/Z*
//! (3) σ² = G k_B T Z̃ ln(R_2/R_1)/(n e V),  G = 4(1 + β)²/(1 − γ)² ∫_γ^1 ω ũ² dω + (1 − γ) R_2²/L²,  γ = (R_1/R_2)²
//! (4) ũ ∝ 1 − ω − (1 − γ) ln ω/ln γ with mean 1 over ω = (r/R_2)², the annular Poiseuille profile
//! (5) passed, per ln d: Σ_n p(ln d) f(±n, d) Ω(Z(d, n)/Z*), p the source's normal density of ln d
//!
//! (3) is σ² = (2D/w)(2π/Q_sh)² ∫[(u r)² + w²] r dr, w = Q_sh/(2πL), u the profile of flow Q_sh + Q_a, with D = Z k_B T/(n e)
//! taken at the particle's own mobility.
//!
//! | symbol | name in code | unit |
//! | --- | --- | --- |
//! | R_1, R_2, L | `inner_radius`, `outer_radius`, `length` | m |
//! | Q_sh, Q_a | `sheath`, `aerosol`, at the classifier's temperature and pressure | m³/s |
//! | V | `voltage` | V |
//! | β, δ | `beta` Q_a/Q_sh, `delta` (sample − aerosol)/(sample + aerosol) | – |
//! | σ | `sigma`, spread by diffusion in Z̃ | – |
//! | Z* | `centroid_mobility` | m²/(V s) |
//! | n | `charges` | – |
//!
//! Range: 1 nm to 5 µm; beyond, nothing is counted. β below 1. Up to six charges; shares under 1e-4 are dropped and the rest
//! scaled to 1.
//!
//! Not modelled: losses inside the classifier, fields and flows at its ends, turbulence, image forces, a source that has
//! already lost its multiply charged particles.
//!
//! Sources: [1] Knutson & Whitby 1975. [2] Stolzenburg 1988; Stolzenburg & McMurry 2008, Aerosol Sci. Technol. 42, 421 (form
//! from memory; G derived anew from the flow, the closed form agrees to 28 digits). [3] SEMI E12 for standard flow.
//! Checks: classifier.csv, and the whole job `classifier_population`.

use super::charge::{LEAST_DOUBLE, charge_fraction};
use super::mobility::{mobility, slip_correction, slip_exponent};
use super::population::{gauss_rule, median, probabilities};
use crate::gas::Mixture;
use crate::line::{CHARGES, NODES, Passed, QUANTILES, SeedGroup};
use crate::units::{BOLTZMANN, ELEMENTARY_CHARGE, GAS_CONSTANT};
use core::f64::consts::{PI, SQRT_2};
use heapless::Vec;

/// Steps of the grid in ln d on which the passed distribution of one charge is summed. Both ends are nil, so the trapezoidal
/// sum is exact to 1e-9 where diffusion rounds the transfer function, and to 1e-5 where it is a bare triangle.
const STEPS: usize = 256;
/// Half-width of what is summed beyond the triangle and of the source, in standard deviations: 1e-12 of the peak.
const REACH: f64 = 7.5;
/// Share of the passed seeds below which a charge is dropped.
const LEAST_SHARE: f64 = 1e-4;
/// Share of the source below which the classifier passes nothing that could be counted.
const NOTHING: f64 = 1e-12;
/// Smallest and largest mobility diameter that is counted, m: the charge fit begins at 1 nm.
const SMALLEST: f64 = 1e-9;
const LARGEST: f64 = 5e-6;
/// Newton steps from a mobility to a diameter; the start is within 10 %, four steps reach the last digit.
const NEWTON: usize = 6;
/// Panels of the five-point Gauss–Legendre rule for the flow profile.
const PANELS: usize = 32;
/// Its nodes on −1…1 and weights.
const LEGENDRE: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_08),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.906_179_845_938_664, 0.236_926_885_056_189_08),
];

/// The gas inside a classifier, as far as seeds feel it.
#[derive(Clone, Copy, Debug)]
pub struct Medium {
    /// Temperature, K.
    pub temperature: f64,
    /// Viscosity μ, Pa s.
    pub viscosity: f64,
    /// Mean free path λ, m.
    pub mean_free_path: f64,
}

impl Medium {
    /// A carrier at a temperature and a pressure.
    ///
    /// * `carrier` — mole fractions
    /// * `temperature` — T, K
    /// * `pressure` — p, Pa
    #[must_use]
    pub fn of(carrier: &Mixture, temperature: f64, pressure: f64) -> Self {
        Self {
            temperature,
            viscosity: carrier.viscosity(temperature),
            mean_free_path: carrier.mean_free_path(temperature, pressure),
        }
    }

    /// Electrical mobility of a sphere with n charges in this gas.
    ///
    /// * `diameter` — m; above 0
    /// * `charges` — n, –
    ///
    /// Returns Z, m²/(V s).
    #[must_use]
    pub fn mobility(&self, diameter: f64, charges: f64) -> f64 {
        let slip = slip_correction(2.0 * self.mean_free_path / diameter);
        mobility(charges, diameter, self.viscosity, slip)
    }

    /// Diameter of a sphere with n charges and a given mobility.
    ///
    /// n e Cc(2λ/d)/(3π μ d) = Z, by Newton's method in ln d: the mobility falls with d at a slope between −1 and −2.1
    ///
    /// * `mobility` — Z, m²/(V s); above 0
    /// * `charges` — n, –; above 0
    ///
    /// Returns d, m.
    ///
    /// # Accuracy
    /// 1e-14.
    ///
    /// # Source
    /// Checks D002–D010 and D012–D025.
    #[must_use]
    pub fn diameter(&self, mobility: f64, charges: f64) -> f64 {
        // Cc = 1 + 1.648 Kn, the law of small spheres, is 14 % off at most: a quadratic for the start.
        let inverse = 3.0 * PI * self.viscosity * mobility / (charges * ELEMENTARY_CHARGE);
        let mut diameter =
            (1.0 + crate::root::sqrt(1.0 + 4.0 * 3.296 * self.mean_free_path * inverse)) / (2.0 * inverse);
        for _ in 0..NEWTON {
            let knudsen = 2.0 * self.mean_free_path / diameter;
            let excess = libm::log(slip_correction(knudsen) / (diameter * inverse));
            diameter *= libm::exp(excess / (1.0 + slip_exponent(knudsen)));
        }
        diameter
    }
}

/// Where the particles fly: between two cylinders.
#[derive(Clone, Copy, Debug)]
pub struct Annulus {
    /// R_1, m.
    pub inner_radius: f64,
    /// R_2, m; above R_1.
    pub outer_radius: f64,
    /// L, m.
    pub length: f64,
}

impl Annulus {
    /// Centroid mobility (1).
    ///
    /// Z* = (Q_sh + Q_exc) ln(R_2/R_1)/(4π V L)
    ///
    /// * `sheath`, `excess` — Q_sh, Q_exc, m³/s inside the classifier
    /// * `voltage` — V, V; above 0
    ///
    /// Returns Z*, m²/(V s). The voltage for a mobility is the same formula with Z* and V exchanged.
    ///
    /// # Source
    /// [1]. Checks D001–D023.
    #[must_use]
    pub fn centroid_mobility(&self, sheath: f64, excess: f64, voltage: f64) -> f64 {
        (sheath + excess) * self.log_ratio() / (4.0 * PI * voltage * self.length)
    }

    /// Geometry factor G of the spread by diffusion (3).
    ///
    /// G = 4(1 + β)²/(1 − γ)² ∫_γ^1 ω ũ² dω + (1 − γ) R_2²/L²
    ///
    /// * `beta` — β, –
    ///
    /// Returns G, –.
    ///
    /// # Accuracy
    /// 1e-13; 2e-11 at a ratio of radii of 200.
    ///
    /// # Source
    /// [2]. Checks D063–D066.
    #[must_use]
    pub fn geometry_factor(&self, beta: f64) -> f64 {
        let fall = -2.0 * self.log_ratio();
        let closed = -libm::expm1(fall);
        // ω = γ^t makes the profile 1 − γ^t − (1 − γ) t, without a logarithm, smooth on 0…1.
        let (mut mean, mut square) = (0.0, 0.0);
        for panel in 0..PANELS {
            for (node, weight) in LEGENDRE {
                let t = (panel as f64 + 0.5 + 0.5 * node) / PANELS as f64;
                let shape = -libm::expm1(fall * t) - closed * t;
                let omega = libm::exp(fall * t);
                mean += weight * omega * shape;
                square += weight * omega * omega * shape * shape;
            }
        }
        // ũ = shape (1 − γ)/∫shape dω; each sum still lacks −ln γ/(2 PANELS).
        let step = -fall / (2.0 * PANELS as f64);
        let integral = square * step * (closed / (mean * step)) * (closed / (mean * step));
        let reach = self.outer_radius / self.length;
        4.0 * (1.0 + beta) * (1.0 + beta) / (closed * closed) * integral + closed * reach * reach
    }

    fn log_ratio(&self) -> f64 {
        libm::log(self.outer_radius / self.inner_radius)
    }
}

/// Volume flow of a gas at a temperature and a pressure.
///
/// Q = ṅ R T/p
///
/// * `molar` — ṅ, mol/s
/// * `temperature` — T, K
/// * `pressure` — p, Pa
///
/// Returns Q, m³/s.
///
/// # Source
/// Ideal gas. Check D026.
#[must_use]
pub fn volume_flow(molar: f64, temperature: f64, pressure: f64) -> f64 {
    molar * GAS_CONSTANT * temperature / pressure
}

/// Transfer function (2): share of the particles of a mobility that leave with the sample flow.
///
/// Ω = σ/[√2 β(1 − δ)] {E[(Z̃ − 1 − β)/√2σ] + E[(Z̃ − 1 + β)/√2σ] − E[(Z̃ − 1 − βδ)/√2σ] − E[(Z̃ − 1 + βδ)/√2σ]}
///
/// * `reduced` — Z̃ = Z/Z*, –
/// * `beta` — β, –; above 0
/// * `delta` — δ, –; between −1 and 1, 0 where sample and aerosol flow are equal
/// * `sigma` — σ at this Z̃, –; 0: the triangle of particles that do not diffuse
///
/// Returns Ω, –, between 0 and 1/(1 − δ); its area over Z̃ is β(1 + δ).
///
/// # Accuracy
/// 1e-15/σ absolute.
///
/// # Source
/// [1], [2]. Checks D027–D144.
#[must_use]
pub fn transfer_function(reduced: f64, beta: f64, delta: f64, sigma: f64) -> f64 {
    let scale = SQRT_2 * sigma;
    let rounded = |edge: f64| {
        let off = reduced - edge;
        // σ√2 E(off/σ√2) is |off| to the last digit beyond 6, and at σ = 0.
        if off.abs() >= 6.0 * scale {
            return off.abs();
        }
        let x = off / scale;
        scale * (x * libm::erf(x) + libm::exp(-x * x) / crate::root::sqrt(PI))
    };
    let outer = rounded(1.0 + beta) + rounded(1.0 - beta);
    let inner = rounded(1.0 + beta * delta) + rounded(1.0 - beta * delta);
    ((outer - inner) / (2.0 * beta * (1.0 - delta))).max(0.0)
}

/// Sign of the seeds that pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Polarity {
    /// Positively charged.
    Positive,
    /// Negatively charged.
    Negative,
}

/// Particles before the classifier: log-normal in the mobility diameter.
#[derive(Clone, Copy, Debug)]
pub struct Source {
    /// Median mobility diameter, m.
    pub median: f64,
    /// Geometric standard deviation, –; 1 and more.
    pub deviation: f64,
}

/// A classifier with its set-points; sheath and excess flow are equal, and so are sample and aerosol flow.
#[derive(Clone, Copy, Debug)]
pub struct Classifier {
    /// Geometry.
    pub annulus: Annulus,
    /// Gas inside.
    pub medium: Medium,
    /// Q_sh, m³/s inside.
    pub sheath: f64,
    /// Q_a, m³/s inside; below Q_sh.
    pub aerosol: f64,
    /// V, V; above 0.
    pub voltage: f64,
    /// Sign of what passes.
    pub polarity: Polarity,
    /// Temperature of the neutraliser before it, K: that of the classifier unless known otherwise. It moves the share of
    /// three and more charges, by 5 % a 3 K.
    pub neutraliser: f64,
}

/// What leaves a classifier.
#[derive(Clone, Debug)]
pub struct Classified {
    /// Figures of the classifier.
    pub passed: Passed,
    /// One group a charge, rising; shares sum to 1.
    pub groups: Vec<SeedGroup, CHARGES>,
    /// Mean number of charges of a seed, –.
    pub charges: f64,
    /// Median compact diameter over all seeds, m.
    pub median_diameter: f64,
}

impl Classifier {
    /// Centroid mobility Z* (1), m²/(V s).
    #[must_use]
    pub fn centroid_mobility(&self) -> f64 {
        self.annulus.centroid_mobility(self.sheath, self.sheath, self.voltage)
    }

    /// σ²/Z̃ of one charge (3), –: σ² at the centroid mobility.
    ///
    /// # Source
    /// [2]. Checks D067–D120.
    #[must_use]
    pub fn spread(&self) -> f64 {
        self.annulus.geometry_factor(self.beta()) * BOLTZMANN * self.medium.temperature * self.annulus.log_ratio()
            / (ELEMENTARY_CHARGE * self.voltage)
    }

    /// β = Q_a/Q_sh, –.
    #[must_use]
    pub fn beta(&self) -> f64 {
        self.aerosol / self.sheath
    }

    /// The seeds that pass (5).
    ///
    /// * `source` — what enters the neutraliser before the classifier
    /// * `shape_factor` — mobility diameter over compact diameter, –; above 0
    ///
    /// Returns the groups and what the classifier says of itself; `None` where less than 1e-12 of the source passes.
    ///
    /// # Accuracy
    /// 1e-5 in share, geometric mean and geometric standard deviation of each charge.
    ///
    /// # Source
    /// [1], [2]. Checks D145–D168.
    #[must_use]
    pub fn classify(&self, source: &Source, shape_factor: f64) -> Option<Classified> {
        let centroid = self.centroid_mobility();
        let spread = self.spread();
        let offset = -libm::log(shape_factor);
        let mut groups: Vec<SeedGroup, CHARGES> = Vec::new();
        for charges in (1u8..).take(CHARGES) {
            let band = Band { classifier: self, source, centroid, spread: spread / f64::from(charges), charges };
            if let Some(group) = band.group(offset) {
                // The bound of the loop is the capacity: there is room.
                let _ = groups.push(group);
            }
        }
        let all: f64 = groups.iter().map(|group| group.share).sum();
        if all < NOTHING {
            return None;
        }
        groups.retain(|group| group.share >= LEAST_SHARE * all);
        let kept: f64 = groups.iter().map(|group| group.share).sum();
        let (mut charges, mut multiply) = (0.0, 0.0);
        for group in &mut groups {
            group.share /= kept;
            charges += group.share * f64::from(group.charge);
            multiply += if group.charge > 1 { group.share } else { 0.0 };
        }
        let passed = Passed {
            share: all,
            selected: self.medium.diameter(centroid, 1.0),
            centroid_mobility: centroid,
            multiply_charged_share: multiply,
        };
        let median_diameter = median(&groups);
        Some(Classified { passed, groups, charges, median_diameter })
    }
}

/// The passed distribution of one charge.
struct Band<'a> {
    classifier: &'a Classifier,
    source: &'a Source,
    /// Z*, m²/(V s).
    centroid: f64,
    /// σ²/Z̃ of this charge, –.
    spread: f64,
    charges: u8,
}

impl Band<'_> {
    /// f(±n, d) Ω(Z(d, n)/Z*): share of the particles of a size that pass with this charge.
    fn share(&self, diameter: f64) -> f64 {
        let reduced = self.classifier.medium.mobility(diameter, f64::from(self.charges)) / self.centroid;
        let sigma = crate::root::sqrt(self.spread * reduced);
        let sign = match self.classifier.polarity {
            Polarity::Positive => 1,
            Polarity::Negative => -1,
        };
        charge_fraction(diameter, sign * i32::from(self.charges), self.classifier.neutraliser)
            * transfer_function(reduced, self.classifier.beta(), 0.0, sigma)
    }

    /// Ends of what is summed, as ln d less the ln of the source's median; nothing where they cross.
    fn window(&self, width: f64) -> (f64, f64) {
        let beta = self.classifier.beta();
        // Z̃ = 1 ± β ± REACH σ0 √Z̃, solved for √Z̃.
        let far = REACH * crate::root::sqrt(self.spread);
        let fastest = 0.5 * (far + crate::root::sqrt(far * far + 4.0 * (1.0 + beta)));
        let slowest = 0.5 * (crate::root::sqrt(far * far + 4.0 * (1.0 - beta).max(0.0)) - far);
        let size = |root: f64| {
            let mobility = self.centroid * (root * root).max(1e-6);
            self.classifier.medium.diameter(mobility, f64::from(self.charges)).clamp(SMALLEST, LARGEST)
        };
        let least = if self.charges == 2 { LEAST_DOUBLE } else { SMALLEST };
        let centre = libm::log(self.source.median);
        let low = libm::log(size(fastest).max(least)) - centre;
        let high = libm::log(size(slowest)) - centre;
        (low.max(-REACH * width), high.min(REACH * width))
    }

    /// The group of this charge, its share that of the source's particles; `None` where nothing passes.
    fn group(&self, offset: f64) -> Option<SeedGroup> {
        let centre = libm::log(self.source.median);
        let width = libm::log(self.source.deviation);
        if width <= 0.0 {
            return self.single(centre + offset);
        }
        let (low, high) = self.window(width);
        if high <= low {
            return None;
        }
        let step = (high - low) / STEPS as f64;
        let mut density = [0.0; STEPS + 1];
        for (k, place) in density.iter_mut().enumerate() {
            let y = low + step * k as f64;
            let z = y / width;
            *place = self.share(libm::exp(centre + y)) * libm::exp(-0.5 * z * z);
        }
        let distribution = Distribution { low, step, density };
        let total = distribution.total();
        (total > 0.0).then(|| SeedGroup {
            share: total / (width * crate::root::sqrt(2.0 * PI)),
            charge: self.charges,
            nodes: distribution.nodes(total, centre + offset),
            quantiles: distribution.quantiles(total, centre + offset),
        })
    }

    /// A source of one size.
    fn single(&self, ln_compact: f64) -> Option<SeedGroup> {
        let share = self.share(self.source.median);
        let [low, middle, high] = gauss_rule(0.0, 3.0, 0.0);
        (share > 0.0).then_some(SeedGroup {
            share,
            charge: self.charges,
            nodes: [(ln_compact, low.1), (ln_compact, middle.1), (ln_compact, high.1)],
            quantiles: [ln_compact; QUANTILES],
        })
    }
}

/// A density on an even grid.
struct Distribution {
    low: f64,
    step: f64,
    density: [f64; STEPS + 1],
}

impl Distribution {
    /// (abscissa, trapezoidal weight times density) of each point.
    fn points(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.density.iter().enumerate().map(|(k, &density)| {
            let half = if k == 0 || k == STEPS { 0.5 } else { 1.0 };
            (self.low + self.step * k as f64, half * self.step * density)
        })
    }

    fn total(&self) -> f64 {
        self.points().map(|(_, weight)| weight).sum()
    }

    /// Gauss rule from the moments about the mean, shifted to an origin.
    fn nodes(&self, total: f64, origin: f64) -> [(f64, f64); NODES] {
        let mean = self.points().map(|(y, weight)| y * weight).sum::<f64>() / total;
        let variance = self.points().map(|(y, weight)| (y - mean) * (y - mean) * weight).sum::<f64>() / total;
        let deviation = crate::root::sqrt(variance);
        let (mut third, mut fourth, mut fifth) = (0.0, 0.0, 0.0);
        for (y, weight) in self.points() {
            let x = (y - mean) / deviation;
            let cube = x * x * x * weight;
            third += cube;
            fourth += cube * x;
            fifth += cube * x * x;
        }
        gauss_rule(third / total, fourth / total, fifth / total)
            .map(|(x, weight)| (origin + mean + deviation * x, weight))
    }

    /// Abscissae at the probabilities of a seed group, the density linear between the points.
    fn quantiles(&self, total: f64, origin: f64) -> [f64; QUANTILES] {
        let mut places = [origin; QUANTILES];
        let mut wanted = probabilities().zip(places.iter_mut()).peekable();
        let mut sum = 0.0;
        for (k, (&left, &right)) in self.density.iter().zip(self.density.iter().skip(1)).enumerate() {
            let next = sum + 0.5 * (left + right) * self.step;
            while let Some((probability, place)) = wanted.next_if(|(p, _)| p * total <= next) {
                let rest = (probability * total - sum).max(0.0);
                let root = crate::root::sqrt((left * left + 2.0 * (right - left) * rest / self.step).max(0.0));
                let inside = if rest > 0.0 { 2.0 * rest / (left + root) } else { 0.0 };
                *place = origin + self.low + self.step * k as f64 + inside.min(self.step);
            }
            sum = next;
        }
        // What rounding left over stands at the end.
        for (_, place) in wanted {
            *place = origin + self.low + self.step * STEPS as f64;
        }
        places
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas::Carrier;
    use crate::units::{SCCM, STANDARD_PRESSURE, kelvin};

    fn example() -> Classifier {
        let (temperature, pressure) = (kelvin(23.0), STANDARD_PRESSURE);
        Classifier {
            annulus: Annulus { inner_radius: 9e-3, outer_radius: 19e-3, length: 0.4 },
            medium: Medium::of(&Mixture::of(Carrier::N2), temperature, pressure),
            sheath: volume_flow(10_000.0 * SCCM, temperature, pressure),
            aerosol: volume_flow(1200.0 * SCCM, temperature, pressure),
            voltage: 560.0,
            polarity: Polarity::Positive,
            neutraliser: temperature,
        }
    }

    const SOURCE: Source = Source { median: 60e-9, deviation: 1.6 };

    fn near(got: f64, want: f64, tolerance: f64) -> bool {
        ((got - want) / want).abs() <= tolerance
    }

    fn mean_diameter(group: &SeedGroup) -> f64 {
        group.nodes.iter().map(|&(x, weight)| weight * libm::exp(x)).sum()
    }

    /// Source: jobs/classifier_population.out.json, an independent solution, printed to 7 digits.
    #[test]
    fn the_job_of_the_independent_solution_is_met() {
        let got = example().classify(&SOURCE, 1.0).unwrap();
        assert!(near(got.passed.centroid_mobility, 9.59349e-8, 1e-7) && near(got.passed.selected, 49.79417e-9, 1e-7));
        assert!(near(got.passed.share, 0.009_517_767, 1e-6) && near(got.charges, 1.104_024, 1e-6));
        let wanted = [
            (0.900_983_1, 49.965_81e-9),
            (0.094_170_87, 72.899_62e-9),
            (0.004_685_401, 91.7317e-9),
            (0.000_160_634_5, 108.5359e-9),
        ];
        assert_eq!(got.groups.len(), wanted.len());
        for ((group, (share, diameter)), charge) in got.groups.iter().zip(wanted).zip(1..) {
            assert_eq!(group.charge, charge);
            assert!(near(group.share, share, 1e-6) && near(mean_diameter(group), diameter, 1e-6), "{charge}");
        }
    }

    /// Source: [2] in the form with 4π L D/(Q_sh + Q_a): 2.33 for 9.37, 19.61, 443.7 mm and β = 0.1; G (1 + β)/2 here.
    #[test]
    fn geometry_factor_of_a_known_classifier() {
        let annulus = Annulus { inner_radius: 9.37e-3, outer_radius: 19.61e-3, length: 0.4437 };
        let factor = annulus.geometry_factor(0.1) * 1.1 / 2.0;
        assert!((factor - 2.33).abs() < 5e-3, "{factor}");
    }

    /// Source: a narrow gap is a slit: the mean square of its parabola is 6/5 of the squared mean.
    #[test]
    fn a_narrow_gap_is_a_slit() {
        let annulus = Annulus { inner_radius: 0.0999, outer_radius: 0.1, length: 2.0 };
        let open = 1.0 - 0.999 * 0.999;
        let factor = annulus.geometry_factor(0.2) * open / (4.0 * 1.2 * 1.2);
        assert!(near(factor, 1.2, 2e-3), "{factor}");
    }

    /// Source: (2): without diffusion a triangle, and with little nearly it.
    #[test]
    fn little_diffusion_leaves_the_triangle() {
        for reduced in [0.85, 0.93, 1.0, 1.04, 1.2] {
            let bare = transfer_function(reduced, 0.1, 0.0, 0.0);
            assert!((transfer_function(reduced, 0.1, 0.0, 1e-9) - bare).abs() < 1e-7);
            assert!((bare - (1.0 - (reduced - 1.0_f64).abs() / 0.1).max(0.0)).abs() < 1e-13);
        }
    }

    /// Source: the definition: mobility and diameter undo each other over the range.
    #[test]
    fn diameter_undoes_mobility() {
        let medium = example().medium;
        for diameter in [1e-9, 5e-9, 50e-9, 700e-9, 5e-6] {
            for charges in [1.0, 6.0] {
                let back = medium.diameter(medium.mobility(diameter, charges), charges);
                assert!(near(back, diameter, 1e-13), "{diameter} {back}");
            }
        }
    }

    /// Source: a source of one size passes that size, with the charges whose mobility fits.
    #[test]
    fn a_source_of_one_size_stays_one_size() {
        let classifier = example();
        let selected = classifier.medium.diameter(classifier.centroid_mobility(), 1.0);
        let got = classifier.classify(&Source { median: selected, deviation: 1.0 }, 1.0).unwrap();
        assert_eq!(got.groups.len(), 1);
        assert!(got.groups[0].nodes.iter().all(|node| near(libm::exp(node.0), selected, 1e-12)));
        assert!(near(got.median_diameter, selected, 1e-12) && near(got.charges, 1.0, 1e-15));
        let narrow = classifier.classify(&Source { median: selected, deviation: 1.0 + 1e-9 }, 1.0).unwrap();
        assert!(near(narrow.passed.share, got.passed.share, 1e-6), "{:?} {:?}", narrow.passed, got.passed);
    }

    /// Source: what is far from the classifier's window does not pass.
    #[test]
    fn a_source_out_of_reach_passes_nothing() {
        assert!(example().classify(&Source { median: 5e-9, deviation: 1.1 }, 1.0).is_none());
        assert!(example().classify(&Source { median: 5e-9, deviation: 1.0 }, 1.0).is_none());
    }

    /// Source: compact diameter = mobility diameter over the shape factor.
    #[test]
    fn the_shape_factor_divides_the_diameters() {
        let (round, other) = (example().classify(&SOURCE, 1.0).unwrap(), example().classify(&SOURCE, 1.25).unwrap());
        for (one, two) in round.groups.iter().zip(other.groups.iter()) {
            assert!(near(mean_diameter(one), 1.25 * mean_diameter(two), 1e-12));
        }
        assert!(near(round.median_diameter, 1.25 * other.median_diameter, 1e-9));
        assert!(near(round.passed.selected, other.passed.selected, 1e-15));
    }

    /// Source: nodes and quantiles are of one distribution.
    #[test]
    fn nodes_and_quantiles_have_the_same_mean() {
        for group in &example().classify(&SOURCE, 1.0).unwrap().groups {
            let mean = group.quantiles.iter().map(|&x| libm::exp(x)).sum::<f64>() / QUANTILES as f64;
            assert!(near(mean, mean_diameter(group), 5e-6), "{mean}");
        }
    }

    /// Source: the accepted ranges: whatever they allow has either no answer or a sound one.
    #[test]
    fn corners_of_the_accepted_ranges_are_sound() {
        let mut answered = 0;
        for (carrier, pressure, polarity) in
            [(Carrier::H2, 5e4, Polarity::Positive), (Carrier::Ar, 2e5, Polarity::Negative)]
        {
            for (inner_radius, outer_radius, length) in
                [(1e-3, 0.2, 5e-3), (1e-3, 1.1e-3, 2.0), (9e-3, 19e-3, 0.4), (0.199, 0.2, 5e-3)]
            {
                for (sheath, aerosol) in [(10.0, 9.999), (100.0, 0.01), (0.01, 0.005), (10.0, 1.0), (1.0, 2.0)] {
                    for voltage in [1.0, 60.0, 1000.0, 30_000.0] {
                        let classifier = Classifier {
                            annulus: Annulus { inner_radius, outer_radius, length },
                            medium: Medium::of(&Mixture::of(carrier), 296.15, pressure),
                            sheath: sheath * 1000.0 * SCCM * 0.0243,
                            aerosol: aerosol * 1000.0 * SCCM * 0.0243,
                            voltage,
                            polarity,
                            neutraliser: 296.15,
                        };
                        answered += usize::from(sweep(&classifier));
                    }
                }
            }
        }
        assert!(answered > 50, "{answered}");
    }

    fn sweep(classifier: &Classifier) -> bool {
        let mut answered = false;
        for (median, deviation) in [(2e-9, 1.0), (2e-9, 2.5), (40e-9, 1.05), (60e-9, 1.6), (500e-9, 2.5)] {
            let Some(got) = classifier.classify(&Source { median, deviation }, 1.0) else { continue };
            answered = true;
            let sum: f64 = got.groups.iter().map(|group| group.share).sum();
            assert!((sum - 1.0).abs() < 1e-12 && got.passed.share <= 1.0 && got.charges >= 1.0);
            assert!(got.median_diameter > 0.9e-9 && got.median_diameter < 5.1e-6);
            for group in &got.groups {
                let weights: f64 = group.nodes.iter().map(|node| node.1).sum();
                assert!((weights - 1.0).abs() < 1e-9, "{classifier:?} {median} {group:?}");
                assert!(group.nodes.iter().all(|node| node.0.is_finite() && node.1 > 0.0), "{classifier:?} {group:?}");
                assert!(group.nodes.windows(2).all(|pair| pair[0].0 <= pair[1].0), "{classifier:?}");
                assert!(group.quantiles.windows(2).all(|pair| pair[0] <= pair[1]), "{classifier:?}");
            }
        }
        answered
    }
}
