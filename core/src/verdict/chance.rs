//! The sentence of a verdict once the uncertainty is known.

use super::{Reason, Text};
use crate::number::{Share, two};
use core::fmt::{self, Display, Formatter, Write};

/// Chance from which the order is surely met.
const SURELY: f64 = 0.8;
/// How a verdict inside the order begins.
const INSIDE: &str = "Inside the order.";

/// Standard uncertainty of the tightest figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// Standard uncertainty, in the unit.
    pub u: f64,
    /// Unit of the figure; empty for a ratio.
    pub unit: &'static str,
}

impl Display for Known {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.unit.is_empty() {
            write!(f, "known to ± {}", Share(self.u))
        } else {
            // Doping is said without its unit, as in the rest of the sentence.
            let unit = if self.unit == "nm" { " nm" } else { "" };
            write!(f, "known to ± {}{unit}", two(self.u))
        }
    }
}

/// A chance in words: whole in 100, "less than 1", "over 99".
struct InHundred(f64);

impl Display for InHundred {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let percent = self.0 * 100.0;
        if percent < 1.0 {
            f.write_str("less than 1 in 100")
        } else if percent > 99.0 {
            f.write_str("over 99 in 100")
        } else {
            write!(f, "{} in 100", crate::number::whole(percent))
        }
    }
}

/// The verdict with what is known of it.
///
/// * `verdict` — the sentence that rests on means. * `met` — whether it is inside. * `known` — of the figure it names. * `chance` — 0 to 1.
#[must_use]
pub fn with_chance(verdict: &str, met: bool, known: Known, chance: f64) -> Text {
    let mut text = Text::new();
    let base = verdict.trim_end_matches('.');
    let tightest = verdict.strip_prefix(INSIDE).map(|rest| rest.trim().trim_end_matches('.'));
    let written = match (met, tightest) {
        (true, Some(tightest)) if chance >= SURELY && !tightest.is_empty() => {
            write!(text, "{INSIDE} {tightest}, {known}.")
        }
        (true, Some(tightest)) if chance < SURELY && !tightest.is_empty() => {
            write!(text, "Inside, not surely. {tightest}, {known}: {} that the lot meets the order.", InHundred(chance))
        }
        _ => write!(text, "{base}. {} that the lot meets the order.", Capital(InHundred(chance))),
    };
    // 480 bytes hold both parts; a cut sentence would still be read.
    let _ = written;
    text
}

/// The verdict with another reason: that of the limit, if it names one, gives way.
///
/// * `verdict` — state, then perhaps the sentence of `named`. * `reason` — a whole sentence.
#[must_use]
pub fn with_reason(verdict: &str, named: Option<Reason>, reason: &str) -> Text {
    let mut state = verdict.trim_end_matches('.');
    if let Some(rest) = named.and_then(|named| state.strip_suffix(named.words())) {
        state = rest.trim_end().trim_end_matches('.');
    }
    let mut text = Text::new();
    // 480 bytes hold both; a cut sentence would still be read.
    let _ = write!(text, "{state}. {reason}");
    text
}

/// A chance at the start of a sentence.
struct Capital(InHundred);

impl Display for Capital {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let percent = self.0.0 * 100.0;
        if percent < 1.0 {
            f.write_str("Less than 1 in 100")
        } else if percent > 99.0 {
            f.write_str("Over 99 in 100")
        } else {
            self.0.fmt(f)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The three states of a verdict.
    #[test]
    fn a_chance_says_how_surely() {
        let known = Known { u: 96.0, unit: "nm" };
        let inside = "Inside the order. Tightest is absorber: 147 nm to spare.";
        assert_eq!(
            with_chance(inside, true, known, 0.9).as_str(),
            "Inside the order. Tightest is absorber: 147 nm to spare, known to ± 96 nm."
        );
        assert_eq!(
            with_chance(inside, true, known, 0.62).as_str(),
            "Inside, not surely. Tightest is absorber: 147 nm to spare, known to ± 96 nm: 62 in 100 that the lot meets the order."
        );
        assert_eq!(
            with_chance("Absorber 22 nm too short.", false, known, 0.001).as_str(),
            "Absorber 22 nm too short. Less than 1 in 100 that the lot meets the order."
        );
    }
}
