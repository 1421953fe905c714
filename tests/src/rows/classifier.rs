//! Rows of `classifier.csv`: mobilities, voltages, transfer functions, passed distributions.

use crate::checks::{Disagreement, Entry, Row};
use loftwire_core::line::SeedGroup;
use loftwire_core::seed::classifier::{
    Annulus, Classified, Classifier, Medium, Polarity, Source, transfer_function, volume_flow,
};
use loftwire_core::seed::dispersion_coefficient;
use loftwire_core::units::SCCM;

const FILE: &str = "classifier.csv";

/// Air as ISO 15900 has it at 296.15 K and 101 325 Pa.
pub const AIR: Medium = Medium { temperature: 296.15, viscosity: 1.83245e-5, mean_free_path: 67.30e-9 };
/// One litre a minute, m³/s.
const LITRE_PER_MINUTE: f64 = 1e-3 / 60.0;
/// Temperature of the charge fractions in these rows, K.
const NEUTRALISER: f64 = 298.0;

/// Entries of the file.
pub const ENTRIES: &[Entry] = &[
    Entry::computed(FILE, "centroid mobility", centroid),
    Entry::computed(FILE, "diameter selected, one charge, air 296.15 K 101325 Pa", |row| {
        Some(AIR.diameter(centroid(row)?, 1.0) * 1e9)
    }),
    Entry::computed(FILE, "voltage for a diameter, one charge", |row| {
        voltage(row, row.number("Q_sheath_lpm")?, row.number("Q_excess_lpm")?)
    }),
    Entry::computed(FILE, "diameter of the n-fold charged particle that passes together with*", |row| {
        let mobility = AIR.mobility(row.number("d1_nm")? * 1e-9, 1.0);
        Some(AIR.diameter(mobility, row.number("n")?) * 1e9)
    }),
    Entry::computed(FILE, "sheath flow inside the classifier from standard flow", |row| {
        let molar = row.number("flow_slm")? * 1000.0 * SCCM;
        Some(volume_flow(molar, row.number("T_K")?, row.number("p_Pa")?) / LITRE_PER_MINUTE)
    }),
    Entry::computed(FILE, "non-diffusing transfer function", transfer),
    Entry::computed(FILE, "area under the transfer function, over beta", area),
    Entry::computed(FILE, "geometry factor G", |row| Some(annulus(row)?.geometry_factor(row.number("beta")?))),
    Entry::computed(FILE, "sigma of the diffusing transfer function at Ztilde=1", |row| {
        Some(classifier(row)?.spread().sqrt())
    }),
    Entry::computed(FILE, "diffusing transfer function, sigma^2 taken at Ztilde*", |row| {
        Some(transfer_at(&classifier(row)?, row.number("Ztilde")?))
    }),
    Entry::computed(FILE, "width at half height, in Ztilde", half_width),
    Entry::computed(FILE, "diffusing transfer function for a given sigma", transfer),
    Entry::computed(FILE, "area under the diffusing transfer function, over beta (fixed sigma)", area),
    Entry::computed(FILE, "passed share of the source number, singly charged", |row| {
        let classified = classify(row)?;
        Some(classified.passed.share * group(&classified, 1)?.share)
    }),
    Entry::computed(FILE, "share of passed particles that carry 2 charges", |row| {
        Some(group(&classify(row)?, 2)?.share)
    }),
    Entry::computed(FILE, "share of passed particles that carry 3 charges", |row| {
        Some(group(&classify(row)?, 3)?.share)
    }),
    Entry::computed(FILE, "geometric mean diameter of the passed singly charged particles", |row| {
        Some(geometric(group(&classify(row)?, 1)?).0 * 1e9)
    }),
    Entry::computed(FILE, "geometric standard deviation of the passed singly charged particles", |row| {
        Some(geometric(group(&classify(row)?, 1)?).1)
    }),
    Entry::computed(FILE, "geometric mean diameter of the passed doubly charged particles", |row| {
        Some(geometric(group(&classify(row)?, 2)?).0 * 1e9)
    }),
    Entry::computed(FILE, "electrostatic dispersion coefficient Z e/eps0*", |row| {
        Some(dispersion_coefficient(AIR.mobility(row.number("d_nm")? * 1e-9, 1.0), 1.0))
    }),
];

/// Known disagreements of the file.
pub const DISAGREEMENTS: &[Disagreement] = &[Disagreement {
    rows: &["D012"],
    at_most: 7.0,
    reason: "the row is 6.7e-7 too high: its fixed-point iteration d = n e Cc(d)/(3 pi mu Z) closes in by 4 % a step on small \
             spheres and stopped after 400; put back into the mobility, the row's diameter misses it by 1.3e-6 and ours by \
             less than 1e-15",
}];

fn annulus(row: &Row) -> Option<Annulus> {
    Some(Annulus { inner_radius: row.number("R1_m")?, outer_radius: row.number("R2_m")?, length: row.number("L_m")? })
}

fn centroid(row: &Row) -> Option<f64> {
    let flow = |key| Some(row.number(key)? * LITRE_PER_MINUTE);
    Some(annulus(row)?.centroid_mobility(flow("Q_sheath_lpm")?, flow("Q_excess_lpm")?, row.number("V")?))
}

/// Voltage that selects the row's diameter: the formula of the centroid mobility with both exchanged.
fn voltage(row: &Row, sheath: f64, excess: f64) -> Option<f64> {
    let mobility = AIR.mobility(row.number("d_nm")? * 1e-9, 1.0);
    Some(annulus(row)?.centroid_mobility(sheath * LITRE_PER_MINUTE, excess * LITRE_PER_MINUTE, mobility))
}

fn classifier(row: &Row) -> Option<Classifier> {
    let (sheath, aerosol) = (row.number("Q_sheath_lpm")?, row.number("Q_aerosol_lpm")?);
    Some(Classifier {
        annulus: annulus(row)?,
        medium: AIR,
        sheath: sheath * LITRE_PER_MINUTE,
        aerosol: aerosol * LITRE_PER_MINUTE,
        voltage: voltage(row, sheath, sheath)?,
        polarity: Polarity::Positive,
        neutraliser: NEUTRALISER,
    })
}

fn transfer(row: &Row) -> Option<f64> {
    let sigma = row.number("sigma").unwrap_or(0.0);
    Some(transfer_function(row.number("Ztilde")?, row.number("beta")?, row.number("delta")?, sigma))
}

fn transfer_at(classifier: &Classifier, reduced: f64) -> f64 {
    transfer_function(reduced, classifier.beta(), 0.0, (classifier.spread() * reduced).sqrt())
}

/// Trapezoidal sum from −1 to 3, on a grid that has the corners of the triangle: exact for it, and for what is rounded by a
/// σ of ten steps or more.
fn area(row: &Row) -> Option<f64> {
    let (beta, delta) = (row.number("beta")?, row.number("delta").unwrap_or(0.0));
    let sigma = row.number("sigma").unwrap_or(0.0);
    let sum: f64 = (-1000..=3000).map(|k| transfer_function(f64::from(k) * 1e-3, beta, delta, sigma)).sum();
    Some(sum * 1e-3 / beta)
}

fn half_width(row: &Row) -> Option<f64> {
    let classifier = classifier(row)?;
    let half = transfer_at(&classifier, 1.0) / 2.0;
    let side = |mut inside: f64, mut outside: f64| {
        for _ in 0..60 {
            let middle = f64::midpoint(inside, outside);
            if transfer_at(&classifier, middle) > half { inside = middle } else { outside = middle }
        }
        inside
    };
    Some(side(1.0, 2.0) - side(1.0, 0.3))
}

fn classify(row: &Row) -> Option<Classified> {
    let source = Source { median: row.number("source_median_nm")? * 1e-9, deviation: row.number("source_gsd")? };
    classifier(row)?.classify(&source, 1.0)
}

fn group(classified: &Classified, charge: u8) -> Option<&SeedGroup> {
    classified.groups.iter().find(|group| group.charge == charge)
}

/// Geometric mean, m, and geometric standard deviation from the nodes.
fn geometric(group: &SeedGroup) -> (f64, f64) {
    let mean: f64 = group.nodes.iter().map(|(x, weight)| weight * x).sum();
    let variance: f64 = group.nodes.iter().map(|(x, weight)| weight * (x - mean).powi(2)).sum();
    (mean.exp(), variance.sqrt().exp())
}
