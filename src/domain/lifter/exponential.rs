//! e to some power, in steps that a processor takes for several numbers at once, which the platform's function does not.

/// log₂ e, and ln 2 in two parts, the first of which times a whole number is exact.
const LOG2_E: f64 = std::f64::consts::LOG2_E;
const LN_2: (f64, f64) = (0.693_147_180_369_123_8, 1.908_214_929_270_587_7e-10);
/// Added to a number and taken off again it leaves a whole one, which then stands in the last bits.
const WHOLE: f64 = 6_755_399_441_055_744.0;
/// Powers beyond are taken as these: the results are near the least and the greatest number there is.
const SPAN: (f64, f64) = (-708.0, 709.0);
/// 1/n!, from the 13th down: on half of ln 2 either side of 0 the rest is less than a last digit.
const TERMS: [f64; 14] = terms();

const fn terms() -> [f64; 14] {
    let mut terms = [1.0; 14];
    let (mut n, mut factorial) = (1, 1.0);
    while n < 14 {
        factorial *= n as f64;
        terms[13 - n] = 1.0 / factorial;
        n += 1;
    }
    terms
}

/// eˣ, to a few units of the last digit.
///
/// ```text
/// eˣ = 2ᵏ e^(x − k ln 2),   k = x / ln 2 rounded
/// ```
#[inline]
pub(super) fn exp(x: f64) -> f64 {
    let x = x.max(SPAN.0).min(SPAN.1);
    let shifted = x * LOG2_E + WHOLE;
    let k = shifted - WHOLE;
    let rest = (x - k * LN_2.0) - k * LN_2.1;
    let mut sum = TERMS[0];
    for term in &TERMS[1..] {
        sum = sum * rest + term;
    }
    let power = (shifted.to_bits() << 52).wrapping_add(1023 << 52);
    sum * f64::from_bits(power)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_the_platforms_but_for_the_last_digits() {
        for n in -70_000..=70_000 {
            let x = f64::from(n) * 0.01;
            let off = (exp(x) / x.exp() - 1.0).abs();
            assert!(off < 4.0 * f64::EPSILON, "{x}: {off}");
        }
        assert_eq!(exp(0.0).to_bits(), 1.0_f64.to_bits());
        assert!(exp(-1e9) < 1e-300 && exp(1e9) > 1e300);
    }
}
