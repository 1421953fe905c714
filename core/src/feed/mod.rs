//! Feed: what a bubbler or a cylinder sends into a stage.
//!
//! Takes the set-points of one feed; gives molar flows of precursor and carrier at the inlet. [`table`] holds the precursors,
//! [`bubbler`] what a bath gives; here stands what happens to the mixture on its way: a push flow that dilutes it, and an
//! inject flow that takes only part of it.
//!
//! (1) bubbler: carrier ṅ_c, precursor ṅ_c p_v/(p_bath − p_v)
//! (2) cylinder of mole fraction y: precursor y ṅ, carrier (1 − y) ṅ
//! (3) double dilution: of the mixture and the push flow, ṅ_inject/(total) enters the stage, the rest is vented
//!
//! Not modelled: time that a change needs through the lines; adsorption in them.

pub mod bubbler;
pub mod table;

pub use table::Precursor;

/// A flow of carrier with a precursor in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stream {
    /// Carrier, mol/s.
    pub carrier: f64,
    /// Precursor, mol/s.
    pub precursor: f64,
}

impl Stream {
    /// What leaves a bubbler (1).
    ///
    /// * `carrier` — through the bath, mol/s; 0 or more
    /// * `vapour_pressure` — at the bath's temperature, Pa
    /// * `bath_pressure` — over the bath, Pa
    ///
    /// Returns the stream; `None` where the bath boils.
    #[must_use]
    pub fn bubbler(carrier: f64, vapour_pressure: f64, bath_pressure: f64) -> Option<Self> {
        bubbler::pick_up(carrier, vapour_pressure, bath_pressure).map(|precursor| Self { carrier, precursor })
    }

    /// What leaves a cylinder (2).
    ///
    /// * `flow` — all of its gas, mol/s; 0 or more
    /// * `share` — mole fraction of the precursor, –; 0 to 1
    #[must_use]
    pub fn cylinder(flow: f64, share: f64) -> Self {
        Self { carrier: flow * (1.0 - share), precursor: flow * share }
    }

    /// Everything that flows, mol/s.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.carrier + self.precursor
    }

    /// What enters the stage behind a push and an inject flow (3).
    ///
    /// * `push` — carrier mixed in, mol/s; 0 or more
    /// * `inject` — of that mixture into the stage, mol/s; 0 or more
    ///
    /// Returns the stream that enters; `None` where more is to be injected than there is.
    #[must_use]
    pub fn injected(&self, push: f64, inject: f64) -> Option<Self> {
        let available = self.total() + push;
        if inject <= 0.0 {
            return Some(Self { carrier: 0.0, precursor: 0.0 });
        }
        (inject <= available).then(|| {
            let share = inject / available;
            Self { carrier: (self.carrier + push) * share, precursor: self.precursor * share }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: balance of (3): what enters adds up to the inject flow, with the mixture's composition.
    #[test]
    fn double_dilution_keeps_the_composition_of_the_mixture() {
        let made = Stream { carrier: 8.0, precursor: 2.0 };
        let entered = made.injected(30.0, 4.0).unwrap_or(made);
        assert!((entered.total() - 4.0).abs() < 1e-15 && (entered.precursor - 0.2).abs() < 1e-15);
    }

    /// Source: there is no more than there is; all of it may be injected; none of it too.
    #[test]
    fn no_more_is_injected_than_there_is() {
        let made = Stream { carrier: 8.0, precursor: 2.0 };
        assert_eq!(made.injected(5.0, 15.1), None);
        assert_eq!(made.injected(0.0, 10.0), Some(made));
        assert_eq!(made.injected(5.0, 0.0), Some(Stream { carrier: 0.0, precursor: 0.0 }));
    }

    /// Source: (2): a pure cylinder brings no carrier.
    #[test]
    fn a_cylinder_is_split_by_its_share() {
        let stream = Stream::cylinder(2.0, 0.25);
        assert_eq!(stream, Stream { carrier: 1.5, precursor: 0.5 });
        assert!(Stream::cylinder(2.0, 1.0).carrier <= 0.0);
    }
}
