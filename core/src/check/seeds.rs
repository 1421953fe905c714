//! Seeds and classifier.

use super::bound::Bound;
use super::{Checker, gas, table};
use crate::fault::Typed;
use crate::job::{self, Electrometer, default};
use crate::line::{SeedGroup, Seeds};
use crate::seed::classifier::{Annulus, Classified, Classifier, Medium, Polarity, Source, volume_flow};
use crate::seed::population::log_normal;
use crate::units::{ELEMENTARY_CHARGE, MBAR, SCCM, kelvin};
use heapless::Vec;

/// Least gap between the electrodes of a classifier, mm.
const LEAST_GAP: f64 = 0.1;
/// nm, mm and standard litres a minute in SI, fA.
const NM: f64 = 1e-9;
const MM: f64 = 1e-3;
const SLM: f64 = 1000.0 * SCCM;
const FA: f64 = 1e-15;

impl Checker<'_> {
    /// Seeds as they enter the first stage; `None` where something is wrong with them.
    pub(super) fn seeds(&mut self) -> Option<Seeds> {
        let job = self.job;
        let seeds = &job.seeds;
        let shape = self.optional(format_args!("seeds.shape_factor"), seeds.shape_factor, &table::SHAPE_FACTOR);
        let charges = self.optional(format_args!("seeds.charges"), seeds.charges, &table::CHARGES);
        let sizes = match &job.classifier {
            None => self.given_sizes(),
            Some(classifier) => {
                self.no_sizes_beside_a_classifier();
                // The carrier is the job's unless given; the job's own faults are named by the line.
                let carrier = classifier.carrier.unwrap_or(job.carrier);
                let good = self.classifier_numbers(classifier) && carrier_is_good(&carrier);
                if good && shape { self.classified(classifier, &carrier) } else { None }
            }
        };
        let carried = seeds.charges.or(sizes.as_ref().map(|sizes| sizes.charges));
        let concentration = self.concentration(carried.filter(|_| charges));
        let sizes = sizes.filter(|_| shape && charges)?;
        Some(Seeds {
            // Seeds per cm³ times standard cm³ a minute.
            rate: concentration? * job.aerosol_sccm / 60.0,
            charges: carried?,
            drift: seeds.drift != Some(job::Drift::None),
            median_diameter: sizes.median,
            groups: sizes.groups,
            classifier: sizes.passed,
        })
    }

    /// Sizes of a log-normal distribution.
    fn given_sizes(&mut self) -> Option<Sizes> {
        let seeds = &self.job.seeds;
        let median = self.required("seeds.mobility_diameter_nm", seeds.mobility_diameter_nm, &table::DIAMETER);
        let deviation = self.required("seeds.spread_gsd", seeds.spread_gsd, &table::SPREAD);
        let median = NM * median? / seeds.shape();
        let (nodes, quantiles) = log_normal(median, deviation?);
        let mut groups = Vec::new();
        // The list has room for several.
        let _ = groups.push(SeedGroup { share: 1.0, charge: 0, nodes, quantiles });
        Some(Sizes { groups, median, charges: default::CHARGES, passed: None })
    }

    /// A number that is needed where there is no classifier.
    fn required(&mut self, path: &str, value: Option<f64>, bound: &Bound) -> Option<f64> {
        let Some(value) = value else {
            self.missing(format_args!("{path}"), format_args!("{bound}, or a classifier"));
            return None;
        };
        self.number(format_args!("{path}"), value, bound).then_some(value)
    }

    fn no_sizes_beside_a_classifier(&mut self) {
        let seeds = &self.job.seeds;
        for (path, value) in
            [("seeds.mobility_diameter_nm", seeds.mobility_diameter_nm), ("seeds.spread_gsd", seeds.spread_gsd)]
        {
            if let Some(value) = value {
                self.fault(
                    format_args!("{path}"),
                    Typed(value),
                    "stands beside a classifier, which computes it",
                    "one of the two",
                );
            }
        }
    }

    fn classifier_numbers(&mut self, classifier: &job::Classifier) -> bool {
        let mut good = true;
        for (field, value, bound) in [
            ("inner_radius_mm", classifier.inner_radius_mm, &table::RADIUS),
            ("outer_radius_mm", classifier.outer_radius_mm, &table::RADIUS),
            ("length_mm", classifier.length_mm, &table::CLASSIFIER_LENGTH),
            ("sheath_slm", classifier.sheath_slm, &table::CLASSIFIER_FLOW),
            ("aerosol_slm", classifier.aerosol_slm, &table::CLASSIFIER_FLOW),
            ("temperature_c", classifier.temperature_c, &table::TEMPERATURE),
            ("voltage_v", classifier.voltage_v, &table::VOLTAGE),
            ("source_median_nm", classifier.source_median_nm, &table::DIAMETER),
            ("source_gsd", classifier.source_gsd, &table::SPREAD),
        ] {
            good &= self.number(format_args!("classifier.{field}"), value, bound);
        }
        let pressure = classifier.pressure_mbar.unwrap_or(self.job.pressure_mbar);
        // A pressure of the line that is wrong by itself is named there.
        if classifier.pressure_mbar.is_some() || table::PRESSURE.holds(pressure) {
            good &= self.number(format_args!("classifier.pressure_mbar"), pressure, &table::CLASSIFIER_PRESSURE);
        } else {
            good = false;
        }
        if let Some(carrier) = &classifier.carrier {
            good &= self.carrier(format_args!("classifier.carrier"), carrier);
        }
        good && self.classifier_shape(classifier)
    }

    /// What its numbers must be to one another.
    fn classifier_shape(&mut self, classifier: &job::Classifier) -> bool {
        let least = classifier.inner_radius_mm + LEAST_GAP;
        let gap = classifier.outer_radius_mm >= least;
        if !gap {
            self.fault(
                format_args!("classifier.outer_radius_mm"),
                Typed(classifier.outer_radius_mm),
                "leaves no gap to the inner electrode",
                format_args!("{} to {} mm", Typed(least), Typed(table::RADIUS.to)),
            );
        }
        let sheathed = classifier.aerosol_slm < classifier.sheath_slm;
        if !sheathed {
            self.fault(
                format_args!("classifier.aerosol_slm"),
                Typed(classifier.aerosol_slm),
                "is not less than the sheath flow",
                format_args!("below {} slm", Typed(classifier.sheath_slm)),
            );
        }
        gap && sheathed
    }

    /// Sizes that a classifier lets through.
    fn classified(&mut self, classifier: &job::Classifier, carrier: &job::Fractions) -> Option<Sizes> {
        let temperature = kelvin(classifier.temperature_c);
        let pressure = MBAR * classifier.pressure_mbar.unwrap_or(self.job.pressure_mbar);
        let flow = |slm: f64| volume_flow(SLM * slm, temperature, pressure);
        let analyser = Classifier {
            annulus: Annulus {
                inner_radius: MM * classifier.inner_radius_mm,
                outer_radius: MM * classifier.outer_radius_mm,
                length: MM * classifier.length_mm,
            },
            medium: Medium::of(&gas::mixture(carrier), temperature, pressure),
            sheath: flow(classifier.sheath_slm),
            aerosol: flow(classifier.aerosol_slm),
            voltage: classifier.voltage_v,
            polarity: match classifier.polarity {
                Some(job::Polarity::Negative) => Polarity::Negative,
                Some(job::Polarity::Positive) | None => Polarity::Positive,
            },
            neutraliser: temperature,
        };
        let source = Source { median: NM * classifier.source_median_nm, deviation: classifier.source_gsd };
        let passed = analyser.classify(&source, self.job.seeds.shape()).filter(is_finite);
        if passed.is_none() {
            self.fault(
                format_args!("classifier.voltage_v"),
                Typed(classifier.voltage_v),
                format_args!("lets nothing pass of a source around {} nm", Typed(classifier.source_median_nm)),
                "a voltage, or a source, at which seeds pass",
            );
        }
        let Classified { passed, groups, charges, median_diameter } = passed?;
        Some(Sizes { groups, median: median_diameter, charges, passed: Some(passed) })
    }

    /// Seeds per cm³ of aerosol; `None` where something is wrong with it.
    ///
    /// * `charges` — mean charges of a seed; `None` where they are not known, which has its fault
    fn concentration(&mut self, charges: Option<f64>) -> Option<f64> {
        let seeds = &self.job.seeds;
        match (seeds.concentration_per_cm3, &seeds.electrometer) {
            (Some(concentration), None) => self
                .number(format_args!("seeds.concentration_per_cm3"), concentration, &table::CONCENTRATION)
                .then_some(concentration),
            (None, Some(electrometer)) => self.counted(electrometer, charges),
            (Some(concentration), Some(electrometer)) => {
                self.number(format_args!("seeds.concentration_per_cm3"), concentration, &table::CONCENTRATION);
                self.electrometer_numbers(electrometer);
                self.fault(
                    format_args!("seeds.electrometer"),
                    "",
                    "stands beside concentration_per_cm3",
                    "one of the two",
                );
                None
            }
            (None, None) => {
                let bound = table::CONCENTRATION;
                self.missing(format_args!("seeds.concentration_per_cm3"), format_args!("{bound}, or an electrometer"));
                None
            }
        }
    }

    fn electrometer_numbers(&mut self, electrometer: &Electrometer) -> bool {
        let current =
            self.number(format_args!("seeds.electrometer.current_fa"), electrometer.current_fa, &table::AMOUNT);
        self.number(format_args!("seeds.electrometer.flow_sccm"), electrometer.flow_sccm, &table::SIDE_FLOW) && current
    }

    /// N = I/(q e Q), per cm³ at standard temperature and pressure.
    fn counted(&mut self, electrometer: &Electrometer, charges: Option<f64>) -> Option<f64> {
        let good = self.electrometer_numbers(electrometer);
        let charges = charges?;
        if charges <= 0.0 {
            self.fault(
                format_args!("seeds.electrometer"),
                "",
                "counts nothing where seeds carry 0 charges",
                "charges above 0, or concentration_per_cm3",
            );
            return None;
        }
        if !good {
            return None;
        }
        let per_second = electrometer.flow_sccm / 60.0;
        let concentration = FA * electrometer.current_fa / (charges * ELEMENTARY_CHARGE * per_second);
        if table::CONCENTRATION.holds(concentration) {
            return Some(concentration);
        }
        self.fault(
            format_args!("seeds.electrometer.current_fa"),
            Typed(electrometer.current_fa),
            format_args!("counts {} seeds per cm³", Typed(concentration)),
            format_args!("a current that counts {}", table::CONCENTRATION),
        );
        None
    }
}

/// Sizes of the seeds.
struct Sizes {
    groups: Vec<SeedGroup, { crate::line::CHARGES }>,
    /// Median compact diameter, m.
    median: f64,
    /// Mean charges where the job does not say.
    charges: f64,
    passed: Option<crate::line::Passed>,
}

fn carrier_is_good(carrier: &job::Fractions) -> bool {
    let shares = carrier.shares();
    let sum: f64 = shares.iter().sum();
    shares.iter().all(|share| table::SHARE.holds(*share)) && (sum - 1.0).abs() <= gas::SUM_TOLERANCE
}

/// Whether every figure of a classifier is finite.
fn is_finite(classified: &Classified) -> bool {
    let passed = &classified.passed;
    let sizes = classified.groups.iter().all(|group| {
        group.share.is_finite()
            && group.nodes.iter().all(|node| node.0.is_finite() && node.1.is_finite())
            && group.quantiles.iter().all(|size| size.is_finite())
    });
    sizes
        && classified.charges.is_finite()
        && classified.median_diameter > 0.0
        && passed.share > 0.0
        && passed.selected.is_finite()
        && passed.centroid_mobility.is_finite()
}
