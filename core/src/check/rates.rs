//! Kinetics: numbers, standard errors, correlations, and that every dopant has its numbers.

use super::{Checker, table};
use crate::fault::{Quoted, Typed};
use crate::feed::table::{Precursor, Role};
use crate::job::{Correlation, Job};
use crate::kinetics::{Number, OfDopant, Shared, Tree, is_dopant};

impl Checker<'_> {
    /// All kinetic numbers of a job.
    pub(super) fn rates(&mut self) {
        let kinetics = &self.job.kinetics;
        for number in Number::all() {
            if let Some(value) = kinetics.number(number) {
                self.number(format_args!("kinetics.{number}"), value, number.bound());
            }
            if let Some(value) = kinetics.uncertainty.number(number) {
                self.number(format_args!("kinetics.uncertainty.{number}"), value, &table::AMOUNT);
            }
        }
        let percent = kinetics.uncertainty.diffusion_percent;
        self.optional(format_args!("kinetics.uncertainty.diffusion_percent"), percent, &table::AMOUNT);
        for (tree, dopants) in [("", &kinetics.dopants), ("uncertainty.", &kinetics.uncertainty.dopants)] {
            for (precursor, _) in dopants.iter().filter(|entry| !is_dopant(*entry.0)) {
                let name = precursor.name();
                self.fault(format_args!("kinetics.{tree}dopants.{name}"), "", "is no dopant", "a dopant");
            }
        }
        self.reference_grows();
        for (index, correlation) in kinetics.correlation.iter().enumerate() {
            self.correlation(index, correlation);
        }
        self.fed_dopants();
    }

    /// At the reference diameter something grows: the rate is stated there.
    fn reference_grows(&mut self) {
        let value = |number: Shared| Number::Shared(number).value(self.job, None).map(|(value, _)| value);
        let pair = value(Shared::ReferenceDiameter).zip(value(Shared::CriticalDiameter));
        let Some((reference, critical)) = pair else {
            return;
        };
        // Numbers that are wrong by themselves have been named.
        let good = table::POSITIVE.holds(reference) && table::AMOUNT.holds(critical);
        if good && critical >= reference {
            self.fault(
                format_args!("kinetics.axial.critical_diameter_nm"),
                Typed(critical),
                "is not below the diameter at which the rate is stated",
                format_args!("0 to below {} nm, kinetics.reference.diameter_nm", Typed(reference)),
            );
        }
    }

    fn correlation(&mut self, index: usize, correlation: &Correlation) {
        let Correlation { a, b, r } = correlation;
        let mut known = true;
        for (side, name) in [("a", a), ("b", b)] {
            if Number::from_path(name).is_none() {
                let path = format_args!("kinetics.correlation[{index}].{side}");
                self.fault(path, Quoted(name), "is no kinetic number", "a path such as axial.rate_um_per_s");
                known = false;
            }
        }
        self.number(format_args!("kinetics.correlation[{index}].r"), *r, &table::CORRELATION);
        if known && a == b {
            let path = format_args!("kinetics.correlation[{index}].b");
            self.fault(path, Quoted(b), "is correlated with itself", "another number than a");
        }
        let earlier = self.job.kinetics.correlation.iter().take(index);
        let again = |other: &Correlation| (&other.a == a && &other.b == b) || (&other.a == b && &other.b == a);
        if earlier.clone().any(again) {
            let path = format_args!("kinetics.correlation[{index}]");
            self.fault(path, "", "is a pair that stands there already", "each pair once");
        }
    }

    /// A dopant that is fed has all its numbers.
    fn fed_dopants(&mut self) {
        let job = self.job;
        for dopant in Precursor::ALL.into_iter().filter(|precursor| is_fed(job, *precursor) && is_dopant(*precursor)) {
            for of in OfDopant::ALL.into_iter().filter(|of| *of != OfDopant::WallProbability) {
                if Number::Dopant(dopant, of).value(job, None).is_none() {
                    let path = format_args!("kinetics.{}", Number::Dopant(dopant, of));
                    self.missing(path, format_args!("{}; this dopant is fed and has no built-in value", of.bound()));
                }
            }
        }
    }
}

/// Whether a feed of a job names a precursor.
pub(super) fn is_fed(job: &Job, precursor: Precursor) -> bool {
    job.stages.iter().flat_map(|stage| &stage.feeds).any(|feed| feed.precursor == precursor)
}

/// The group III precursor of a job: the first that a feed names.
pub(super) fn group_iii(job: &Job) -> Option<Precursor> {
    let mut fed = job.stages.iter().flat_map(|stage| &stage.feeds).map(|feed| feed.precursor);
    fed.find(|precursor| matches!(precursor.role(), Role::GroupIII(_)))
}
