//! The square root, by the processor where it is known to have one.
//!
//! IEEE 754 wants a square root rounded correctly, so there is one answer and every way to it gives the same bits. Without
//! std only `libm` has one. It knows the instruction of some processors, but not that of WebAssembly, where half of a
//! prediction went into working it out from integers. With the feature `std` it is one instruction there too.
//!
//! Source: IEEE 754-2019, 5.4.1.

/// The square root.
///
/// * `number` — any; NaN below 0
#[inline]
#[must_use]
pub fn sqrt(number: f64) -> f64 {
    #[cfg(feature = "std")]
    {
        #[allow(clippy::disallowed_methods, reason = "one answer, and std is here")]
        number.sqrt()
    }
    #[cfg(not(feature = "std"))]
    libm::sqrt(number)
}

#[cfg(test)]
mod tests {
    use super::sqrt;

    /// Whichever way was built gives the bits of the other; the ends of the range among them.
    #[test]
    fn both_ways_give_the_same_bits() {
        let mut bits: u64 = 1;
        for _ in 0..100_000 {
            bits = bits.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let number = f64::from_bits(bits >> 1);
            if number.is_finite() {
                assert_eq!(sqrt(number).to_bits(), libm::sqrt(number).to_bits(), "{number:e}");
            }
        }
        for number in [0.0, f64::MIN_POSITIVE, 5e-324, f64::MAX, 1.0, 2.0] {
            assert_eq!(sqrt(number).to_bits(), libm::sqrt(number).to_bits(), "{number:e}");
        }
    }
}
