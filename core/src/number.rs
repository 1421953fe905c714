//! Numbers as they are read: digits, powers of ten, units.
//!
//! A value is written to the place of its standard uncertainty at two digits (JCGM 100:2008, 7.2.6), or with three digits
//! where it has none. Minus is −, a power of ten is × 10ⁿ, five digits and more are parted by a thin space, and lengths
//! are in nm to 9 999 and in µm behind that. A number that is not finite is a dash; there is none in a report.
//!
//! Rounding is to the nearest, halves away from zero, in f64: the last digit of a half may fall either way.

use core::fmt::{self, Display, Formatter, Write};

/// Thin space, between groups of three digits.
const THIN: char = '\u{2009}';
/// Powers of ten that are exact in f64.
const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20,
    1e21, 1e22,
];

/// A value with a number of significant digits: 1028, 60.4, 0.0312, 3.02 × 10¹⁸.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Digits {
    /// What is written.
    pub value: f64,
    /// Significant digits, 1 to 15; digits before the point are always written.
    pub digits: u8,
}

/// A value with three digits.
#[must_use]
pub const fn three(value: f64) -> Digits {
    Digits { value, digits: 3 }
}

/// A value with two digits.
#[must_use]
pub const fn two(value: f64) -> Digits {
    Digits { value, digits: 2 }
}

/// A value with a fixed number of decimals: 120, 3.1, −0.05.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decimals {
    /// What is written.
    pub value: f64,
    /// Decimals, 0 to 12.
    pub decimals: u8,
}

/// A value with no decimals.
#[must_use]
pub const fn whole(value: f64) -> Decimals {
    Decimals { value, decimals: 0 }
}

/// A value with the spread of the wires behind it: 1028 ± 64, to the place of the spread at two digits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlusMinus {
    /// The value.
    pub value: f64,
    /// One standard deviation; 0 is not written.
    pub spread: f64,
}

/// A value to the place of its spread at two digits; with three digits where there is none.
#[must_use]
pub fn placed(value: f64, spread: f64) -> Placed {
    Placed { value, spread }
}

/// A value to the place of a spread that is not written: 86 beside 714 ± 22.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// What is written.
    pub value: f64,
    /// What gives its last place.
    pub spread: f64,
}

/// A length with its unit: 1 028 nm as 1028 nm, 12.34 µm from 10 000 nm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Length(pub f64);

/// A set-point: as few decimals as show it, at most four.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetPoint(pub f64);

/// A set-point of any size: as few digits as show it, at most four, with its power of ten: 3 × 10¹⁸.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetPointDigits(pub f64);

/// A share in per cent at two digits: 2.9 %, 14 %, 100 %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share(pub f64);

/// The power of ten of the first digit: 10¹⁸ of 3 × 10¹⁸; 1 of 0.
#[must_use]
pub fn power(value: f64) -> f64 {
    if value.is_finite() && value != 0.0 { scaled(1.0, rounded_exponent(value, 4)) } else { 1.0 }
}

impl Display for SetPointDigits {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let first = self.0.abs() / power(self.0);
        for digits in 1..4_u8 {
            let scaled = first * tens(i32::from(digits) - 1);
            if (scaled - libm::round(scaled)).abs() <= 1e-9 * scaled {
                return Digits { value: self.0, digits }.fmt(f);
            }
        }
        Digits { value: self.0, digits: 4 }.fmt(f)
    }
}

impl Display for Share {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let percent = self.0 * 100.0;
        // Below a hundredth of a per cent two digits would be noise.
        if percent.abs() < 0.01 {
            return f.write_str(if percent == 0.0 { "0 %" } else { "under 0.01 %" });
        }
        write!(f, "{} %", two(percent))
    }
}

impl Display for Digits {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let digits = i32::from(self.digits.clamp(1, 15));
        if !self.value.is_finite() {
            return f.write_str("–");
        }
        if self.value == 0.0 {
            return f.write_str("0");
        }
        let exponent = rounded_exponent(self.value, digits);
        if (-3..5).contains(&exponent) {
            return decimal(f, self.value, (digits - 1 - exponent).max(0));
        }
        // Scaled in two steps, so that the power stays among the exact ones.
        decimal(f, scaled(self.value, -exponent), digits - 1)?;
        f.write_str(" × 10")?;
        superscript(f, exponent)
    }
}

impl Display for Decimals {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        decimal(f, self.value, i32::from(self.decimals.min(12)))
    }
}

impl Display for PlusMinus {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if !(self.spread.is_finite() && self.spread > 0.0) {
            return three(self.value).fmt(f);
        }
        let places = places(self.spread);
        decimal(f, self.value, places)?;
        f.write_str(" ± ")?;
        decimal(f, self.spread, places)
    }
}

impl Display for Placed {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.spread.is_finite() && self.spread > 0.0 {
            decimal(f, self.value, places(self.spread))
        } else {
            three(self.value).fmt(f)
        }
    }
}

/// Decimals that show a spread at two digits, at most six.
fn places(spread: f64) -> i32 {
    (1 - rounded_exponent(spread, 2)).clamp(0, 6)
}

impl Display for Length {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if self.0.abs() < 9_999.5 {
            return write!(f, "{} nm", three(self.0));
        }
        decimal(f, self.0 / 1000.0, 2)?;
        f.write_str(" µm")
    }
}

impl Display for SetPoint {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        for decimals in 0..4 {
            let scaled = self.0 * tens(decimals);
            if (scaled - libm::round(scaled)).abs() <= 1e-9 * scaled.abs() {
                return decimal(f, self.0, decimals);
            }
        }
        decimal(f, self.0, 4)
    }
}

/// Power of ten of the first digit once the value is rounded to `digits`: 999.6 to three digits has 3.
fn rounded_exponent(value: f64, digits: i32) -> i32 {
    // A finite f64 has a decimal exponent between −324 and 308.
    #[allow(clippy::cast_possible_truncation)]
    let mut exponent = libm::floor(libm::log10(value.abs())) as i32;
    let first = scaled(value.abs(), -exponent);
    // log10 may be off by one unit in the last place next to a power of ten.
    if first < 1.0 {
        exponent -= 1;
    } else if first >= 10.0 {
        exponent += 1;
    }
    let kept = scaled(value.abs(), digits - 1 - exponent);
    if libm::round(kept) >= tens(digits) { exponent + 1 } else { exponent }
}

/// value · 10^power, the power taken in exact steps.
fn scaled(value: f64, power: i32) -> f64 {
    let mut value = value;
    let mut left = power.unsigned_abs();
    // 324 + 22 is the largest power asked for: 16 steps of 22.
    for _ in 0..16 {
        let step = left.min(22);
        let factor = tens(i32::try_from(step).unwrap_or(0));
        value = if power < 0 { value / factor } else { value * factor };
        left -= step;
    }
    value
}

/// 10^power for 0 to 22.
fn tens(power: i32) -> f64 {
    usize::try_from(power).ok().and_then(|power| TENS.get(power)).copied().unwrap_or(1.0)
}

/// Writes `value` with `places` decimals, groups of three parted from five digits on.
fn decimal(f: &mut Formatter<'_>, value: f64, places: i32) -> fmt::Result {
    if !value.is_finite() {
        return f.write_str("–");
    }
    let unit = tens(places);
    let rounded = libm::round(value.abs() * unit);
    if rounded >= 1e18 {
        // Beyond whole numbers of 64 bits nobody reads decimals.
        return Digits { value, digits: 3 }.fmt(f);
    }
    if value < 0.0 && rounded > 0.0 {
        f.write_char('−')?;
    }
    // Below 1e18, so exact enough and without a sign.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let (rounded, unit) = (rounded as u64, unit as u64);
    let unit = unit.max(1);
    grouped(f, rounded / unit)?;
    fraction(f, rounded % unit, unit)
}

/// Writes `rest` behind a point, with as many digits as `unit` has zeros.
fn fraction(f: &mut Formatter<'_>, rest: u64, unit: u64) -> fmt::Result {
    let mut unit = unit / 10;
    if unit > 0 {
        f.write_char('.')?;
    }
    // A u64 has at most 20 digits.
    for _ in 0..20 {
        if unit == 0 {
            break;
        }
        let digit = u8::try_from(rest / unit % 10).unwrap_or(0);
        f.write_char(char::from(b'0' + digit))?;
        unit /= 10;
    }
    Ok(())
}

/// A value rounded to a number of decimals, 0 to 15; beyond 2^53 it stays as it is.
#[must_use]
pub fn rounded(value: f64, decimals: u8) -> f64 {
    let unit = tens(i32::from(decimals.min(15)));
    libm::round(value * unit) / unit
}

/// Writes a number as one would type it: with as few digits as it needs, at most fifteen, and with a power of ten (`1.5e22`)
/// below 1e-4 and from 1e6 on. (Twelve digits outside 1e-22 to 1e22, where powers of ten are no longer exact.)
pub(crate) fn typed(f: &mut Formatter<'_>, value: f64) -> fmt::Result {
    if !value.is_finite() {
        let negative = value < 0.0;
        return f.write_str(if value.is_nan() {
            "NaN"
        } else if negative {
            "-inf"
        } else {
            "inf"
        });
    }
    if value.is_sign_negative() {
        f.write_char('-')?;
    }
    let size = value.abs();
    if size == 0.0 {
        return f.write_char('0');
    }
    let first = rounded_exponent(size, 15);
    let digits = if (-22..=22).contains(&first) { 15 } else { 12 };
    let exponent = rounded_exponent(size, digits);
    // Below 1e15, so exact and without a sign.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let mut whole = libm::round(scaled(size, digits - 1 - exponent)) as u64;
    let mut decimals = digits - 1;
    if (1e-4..1e6).contains(&size) {
        decimals -= exponent;
    }
    for _ in 0..20 {
        if !whole.is_multiple_of(10) || decimals <= 0 {
            break;
        }
        whole /= 10;
        decimals -= 1;
    }
    let mut unit = 1_u64;
    for _ in 0..decimals.clamp(0, 19) {
        unit = unit.saturating_mul(10);
    }
    write!(f, "{}", whole / unit.max(1))?;
    fraction(f, whole % unit.max(1), unit)?;
    if (1e-4..1e6).contains(&size) { Ok(()) } else { write!(f, "e{exponent}") }
}

/// Writes a whole number, parted by thin spaces from five digits on.
fn grouped(f: &mut Formatter<'_>, number: u64) -> fmt::Result {
    if number < 10_000 {
        return write!(f, "{number}");
    }
    let mut divisor = 1_000_000_000_000_000_000_u64;
    let mut begun = false;
    // Seven groups of three hold every u64.
    for _ in 0..7 {
        let group = number / divisor % 1000;
        if begun {
            write!(f, "{THIN}{group:03}")?;
        } else if group > 0 {
            write!(f, "{group}")?;
            begun = true;
        }
        divisor = (divisor / 1000).max(1);
    }
    Ok(())
}

/// Writes a whole number in superscript digits.
fn superscript(f: &mut Formatter<'_>, number: i32) -> fmt::Result {
    const DIGITS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    if number < 0 {
        f.write_char('⁻')?;
    }
    let number = number.unsigned_abs();
    let mut divisor = 100;
    let mut begun = false;
    for _ in 0..3 {
        let digit = number / divisor % 10;
        if digit > 0 || begun || divisor == 1 {
            begun = true;
            let place = usize::try_from(digit).unwrap_or(0);
            f.write_char(DIGITS.get(place).copied().unwrap_or('⁰'))?;
        }
        divisor = (divisor / 10).max(1);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use heapless::String;

    fn text(value: impl Display) -> String<64> {
        let mut text = String::new();
        write!(text, "{value}").expect("64 bytes are enough");
        text
    }

    #[test]
    fn three_digits_follow_the_size() {
        for (value, want) in [
            (0.0, "0"),
            (1028.4, "1028"),
            (999.6, "1000"),
            (60.44, "60.4"),
            (0.03124, "0.0312"),
            (0.000_999_6, "0.00100"),
            (-7.0, "−7.00"),
            (12_345.6, "12\u{2009}346"),
            (3.018_675e18, "3.02 × 10¹⁸"),
            (9.999e-7, "1.00 × 10⁻⁶"),
            (1e5, "1.00 × 10⁵"),
            (f64::NAN, "–"),
            (5e-324, "4.94 × 10⁻³²⁴"),
            (f64::MAX, "1.80 × 10³⁰⁸"),
        ] {
            assert_eq!(text(three(value)), want);
        }
    }

    /// Source: JCGM 100:2008, 7.2.6: two digits of the uncertainty, the value to the same place.
    #[test]
    fn a_value_ends_where_its_spread_ends() {
        for (value, spread, want) in [
            (1028.3, 64.2, "1028 ± 64"),
            (60.41, 2.94, "60.4 ± 2.9"),
            (2559.995, 75.019, "2560 ± 75"),
            (2560.0, 99.7, "2560 ± 100"),
            (2560.0, 1234.0, "2560 ± 1234"),
            (2560.0, 0.0, "2560"),
            (3.2, 0.0312, "3.200 ± 0.031"),
        ] {
            assert_eq!(text(PlusMinus { value, spread }), want);
        }
    }

    #[test]
    fn lengths_change_their_unit_at_ten_thousand() {
        for (value, want) in [(9999.0, "9999 nm"), (9999.6, "10.00 µm"), (12_345.0, "12.35 µm"), (0.0, "0 nm")] {
            assert_eq!(text(Length(value)), want);
        }
    }

    #[test]
    fn set_points_keep_their_resolution() {
        for (value, want) in
            [(450.0, "450"), (-5.0, "−5"), (20.1, "20.1"), (0.123_456, "0.1235"), (12_000.0, "12\u{2009}000")]
        {
            assert_eq!(text(SetPoint(value)), want);
        }
    }
}
