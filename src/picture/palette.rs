//! The colours: chalk on slate.
//!
//! Chosen by measure, not by taste alone, and held to it in the tests beside this file:
//!
//! - every text stands at 4.5 : 1 or more against what is behind it, every shape that says something
//!   at 3 : 1 or more (success criteria 1.4.3 and 1.4.11 of the Web Content Accessibility Guidelines
//!   2.2, W3C Recommendation 2023; the ratio is that of their section on relative luminance);
//! - what lies under, in and over a band differs in lightness as well as in hue, amber against blue,
//!   so that the three stay apart for those who lack a kind of cone (simulated by the matrices of
//!   Machado, Oliveira and Fernandes 2009) and in a black-and-white print; each also has a shape.
//!
//! The ground is dark and opaque: against a light theme it is a slate, against a dark one a card.

/// A colour, as sRGB bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Colour(pub u8, pub u8, pub u8);

/// Behind everything.
pub const SLATE: Colour = Colour(0x1e, 0x2a, 0x30);
/// A field on it: the band, a cell that is in its band.
pub const FIELD: Colour = Colour(0x33, 0x44, 0x4c);
/// Lines that only lead the eye.
pub const RULE: Colour = Colour(0x48, 0x5a, 0x62);
/// Texts, and the line of a lift.
pub const CHALK: Colour = Colour(0xf5, 0xf1, 0xe6);
/// Texts of second rank.
pub const DUST: Colour = Colour(0xbd, 0xc9, 0xc8);
/// What was before; edges of fields.
pub const FAINT: Colour = Colour(0x93, 0xa3, 0xa6);
/// Less than the band has.
pub const UNDER: Colour = Colour(0xf2, 0xa9, 0x3b);
/// In the band.
pub const WITHIN: Colour = Colour(0xe3, 0xea, 0xd9);
/// More than the band has.
pub const OVER: Colour = Colour(0x75, 0x9c, 0xf0);
/// Texts on the three above.
pub const INK: Colour = Colour(0x12, 0x18, 0x1c);

impl Colour {
    /// Relative luminance, 0 to 1.
    ///
    /// ```text
    /// L = 0.2126 R + 0.7152 G + 0.0722 B      c = ((s + 0.055)/1.055)^2.4, s/12.92 up to 0.04045
    /// ```
    ///
    /// *Source*: Web Content Accessibility Guidelines 2.2, W3C Recommendation 2023, definition of
    /// relative luminance (which prints the older bound 0.03928; no byte lies between the two).
    pub fn luminance(self) -> f64 {
        let [r, g, b] = self.linear();
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// The three channels in proportion to light, 0 to 1.
    pub fn linear(self) -> [f64; 3] {
        [self.0, self.1, self.2].map(|byte| {
            let s = f64::from(byte) / 255.0;
            if s <= 0.04045 {
                s / 12.92
            } else {
                ((s + 0.055) / 1.055).powf(2.4)
            }
        })
    }

    /// Contrast ratio of two colours, 1 to 21.
    ///
    /// ```text
    /// (L₁ + 0.05) / (L₂ + 0.05), the lighter one above
    /// ```
    ///
    /// *Source*: as [`Colour::luminance`], definition of contrast ratio.
    pub fn contrast(self, other: Self) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Least difference of two colours that must be told apart, CIE 1976 ΔE. Neighbours in a figure
    /// are told apart from some 10 on; common practice, no source.
    const APART: f64 = 25.0;

    /// Matrices of full deficiency, on linear channels. *Source*: Machado GM, Oliveira MM, Fernandes
    /// LAF 2009, IEEE Trans Vis Comput Graph 15(6):1291-1298, table of severity 1.0 (from memory).
    const DEFICIENCIES: [(&str, [[f64; 3]; 3]); 3] = [
        (
            "protanopia",
            [
                [0.152_286, 1.052_583, -0.204_868],
                [0.114_503, 0.786_281, 0.099_216],
                [-0.003_882, -0.048_116, 1.051_998],
            ],
        ),
        (
            "deuteranopia",
            [
                [0.367_322, 0.860_646, -0.227_968],
                [0.280_085, 0.672_501, 0.047_413],
                [-0.011_820, 0.042_940, 0.968_881],
            ],
        ),
        (
            "tritanopia",
            [
                [1.255_528, -0.076_749, -0.178_779],
                [-0.078_411, 0.930_809, 0.147_602],
                [0.004_733, 0.691_367, 0.303_900],
            ],
        ),
    ];
    const PLAIN: [[f64; 3]; 3] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    /// No colour at all: luminance in each channel.
    const GREY: [[f64; 3]; 3] = [[0.2126, 0.7152, 0.0722]; 3];

    fn times(matrix: &[[f64; 3]; 3], v: [f64; 3]) -> [f64; 3] {
        matrix.map(|row| row.iter().zip(v).map(|(a, b)| a * b).sum())
    }

    /// CIE L*a*b* of linear sRGB under D65. *Source*: IEC 61966-2-1 and CIE 15 (from memory).
    fn lab(linear: [f64; 3]) -> [f64; 3] {
        let to_xyz = [
            [0.4124, 0.3576, 0.1805],
            [0.2126, 0.7152, 0.0722],
            [0.0193, 0.1192, 0.9505],
        ];
        let clamped = linear.map(|c| c.clamp(0.0, 1.0));
        let xyz = times(&to_xyz, clamped);
        let white = [0.9505, 1.0, 1.089];
        let mut f = [0.0; 3];
        for (place, (value, white)) in f.iter_mut().zip(xyz.iter().zip(white)) {
            let t: f64 = value / white;
            *place = if t > 0.008_856 {
                t.cbrt()
            } else {
                7.787 * t + 16.0 / 116.0
            };
        }
        [
            116.0 * f[1] - 16.0,
            500.0 * (f[0] - f[1]),
            200.0 * (f[1] - f[2]),
        ]
    }

    fn apart(a: Colour, b: Colour, seen: &[[f64; 3]; 3]) -> f64 {
        let [a, b] = [a, b].map(|colour| lab(times(seen, colour.linear())));
        let squares = a.iter().zip(b).map(|(a, b)| (a - b) * (a - b));
        squares.sum::<f64>().sqrt()
    }

    #[test]
    fn contrast_is_that_of_the_guidelines() {
        // Black on white is 21 : 1 by definition; #777 on white is the well-known 4.48 that just
        // fails (both WCAG 2.2, understanding 1.4.3, from memory).
        let white = Colour(255, 255, 255);
        assert!((Colour(0, 0, 0).contrast(white) - 21.0).abs() < 1e-9);
        assert!((Colour(0x77, 0x77, 0x77).contrast(white) - 4.48).abs() < 0.005);
        assert!((white.contrast(white) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn differences_are_those_of_the_colour_space() {
        // L*a*b* of sRGB red under D65 is 53.24, 80.09, 67.20 (common reference value, from memory).
        let red = lab(Colour(255, 0, 0).linear());
        for (found, expected) in red.iter().zip([53.24, 80.09, 67.20]) {
            assert!((found - expected).abs() < 0.1, "{red:?}");
        }
    }

    #[test]
    fn greys_stay_grey_whoever_sees_them() {
        for (name, matrix) in DEFICIENCIES {
            for row in matrix {
                assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-5, "{name}");
            }
        }
    }

    #[test]
    fn texts_can_be_read_and_marks_be_seen() {
        let texts = [
            (CHALK, SLATE),
            (DUST, SLATE),
            (CHALK, FIELD),
            (INK, UNDER),
            (INK, WITHIN),
            (INK, OVER),
        ];
        for (text, ground) in texts {
            let ratio = text.contrast(ground);
            assert!(ratio >= 4.5, "{text:?} on {ground:?}: {ratio:.2}");
        }
        for shape in [UNDER, WITHIN, OVER, FAINT, CHALK] {
            for ground in [SLATE, FIELD] {
                let ratio = shape.contrast(ground);
                assert!(ratio >= 3.0, "{shape:?} on {ground:?}: {ratio:.2}");
            }
        }
    }

    #[test]
    fn no_two_series_collapse_whoever_sees_them() {
        let series = [UNDER, WITHIN, OVER, FIELD];
        let eyes = DEFICIENCIES.into_iter().chain([("all cones", PLAIN)]);
        for (name, seen) in eyes {
            for (place, a) in series.iter().enumerate() {
                for b in &series[place + 1..] {
                    let found = apart(*a, *b, &seen);
                    assert!(
                        found >= APART,
                        "{name}: {a:?} and {b:?} are {found:.1} apart"
                    );
                }
            }
        }
    }

    #[test]
    fn a_print_without_colours_keeps_the_three_apart() {
        let series = [UNDER, WITHIN, OVER];
        for (place, a) in series.iter().enumerate() {
            for b in &series[place + 1..] {
                let found = apart(*a, *b, &GREY);
                assert!(found >= 8.0, "{a:?} and {b:?} are {found:.1} apart");
            }
        }
    }

    #[test]
    fn a_pair_that_collapses_is_found_out() {
        // Red and green of one lightness: what this test is for.
        let (red, green) = (Colour(0xd0, 0x60, 0x50), Colour(0x80, 0x8c, 0x4a));
        let deuteranopia = &DEFICIENCIES[1].1;
        assert!(apart(red, green, &PLAIN) > APART);
        assert!(apart(red, green, deuteranopia) < APART);
    }
}
