//! A bounded quantity: its name, its range, and the words of a value outside it.

use core::fmt;

use crate::fault::Typed;

/// Least value of a quantity that is only said to be above 0: it divides, and what it divides must stay finite.
pub const TINY: f64 = 1e-30;
/// Largest value of a quantity that has no upper end of its own: products of a few of them must stay finite.
pub const HUGE: f64 = 1e30;

/// A bounded quantity. One row of it makes the check, the words of a fault and the documentation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// What is bounded.
    pub name: &'static str,
    /// Least value that is accepted.
    pub from: f64,
    /// Largest value that is accepted.
    pub to: f64,
    /// Whether the ends are accepted.
    pub ends: Ends,
    /// Unit, as a fault says it; empty for a number without one.
    pub unit: &'static str,
    /// What a value below the range may be as well.
    pub floor: Floor,
}

/// Whether the ends of a range are accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// Both are.
    Included,
    /// The least is, the largest is not.
    BelowTo,
    /// Neither is.
    Between,
}

/// A border below which a value makes no sense at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Floor {
    /// There is none.
    None,
    /// Amounts are not negative.
    Zero,
    /// −273.15 °C.
    AbsoluteZero,
}

impl Bound {
    /// A bound with both ends accepted, for an amount.
    pub(super) const fn amount(name: &'static str, from: f64, to: f64, unit: &'static str) -> Self {
        Self { name, from, to, ends: Ends::Included, unit, floor: Floor::Zero }
    }

    /// A bound with both ends accepted, for a temperature in °C.
    pub(super) const fn temperature(name: &'static str, from: f64, to: f64) -> Self {
        Self { name, from, to, ends: Ends::Included, unit: "°C", floor: Floor::AbsoluteZero }
    }

    /// Whether a value is accepted; NaN is not.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        self.objection(value).is_none()
    }

    /// Why a value is not accepted, in words that go on behind it; `None` if it is.
    #[must_use]
    pub fn objection(&self, value: f64) -> Option<&'static str> {
        let below = match self.ends {
            Ends::Included | Ends::BelowTo => value < self.from,
            Ends::Between => value <= self.from,
        };
        let above = match self.ends {
            Ends::Included => value > self.to,
            Ends::BelowTo | Ends::Between => value >= self.to,
        };
        if value.is_nan() {
            Some("is not a number")
        } else if value.is_infinite() {
            Some("is not finite")
        } else if self.floor == Floor::AbsoluteZero && value < -273.15 {
            Some("is below absolute zero")
        } else if self.floor == Floor::Zero && value < 0.0 {
            Some("is negative")
        } else if below {
            Some("is too low")
        } else if above {
            Some("is too high")
        } else {
            None
        }
    }
}

/// The range in words: `-50 to 1000 °C`.
impl fmt::Display for Bound {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (least, largest) = (self.from <= TINY && self.from > 0.0, self.to >= HUGE);
        let (from, to) = (Typed(self.from), Typed(self.to));
        match (self.ends, least, largest) {
            (_, true, true) => f.write_str("above 0")?,
            (_, true, false) => write!(f, "above 0, to {to}")?,
            (_, false, true) => write!(f, "{from} or more")?,
            (Ends::Included, false, false) => write!(f, "{from} to {to}")?,
            (Ends::BelowTo, false, false) => write!(f, "{from} to below {to}")?,
            (Ends::Between, false, false) => write!(f, "above {from} and below {to}")?,
        }
        if self.unit.is_empty() { Ok(()) } else { write!(f, " {}", self.unit) }
    }
}
