//! Axes: where round numbers stand, and which place a number has.

use super::layout::Point;

/// A scale from numbers to pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    from: (f64, f32),
    per_unit: f64,
}

impl Scale {
    /// The scale on which `low` stands at `start` and `high` at `end`. Where both are the same, or
    /// no numbers, everything stands at `start`.
    pub fn new((low, high): (f64, f64), (start, end): (f32, f32)) -> Self {
        let per_unit = f64::from(end - start) / (high - low);
        Self {
            from: (if low.is_finite() { low } else { 0.0 }, start),
            per_unit: if per_unit.is_finite() { per_unit } else { 0.0 },
        }
    }

    /// The place of a number; that of the low end where it is none.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a place in pixels, cut to what a layout can hold"
    )]
    pub fn place(&self, number: f64) -> f32 {
        let (low, start) = self.from;
        let off = (number - low) * self.per_unit;
        let off = if off.is_finite() { off } else { 0.0 };
        start + off.clamp(-1e5, 1e5) as f32
    }
}

/// Round numbers from the least to the greatest that lie within `low` to `high`, about `wanted` of
/// them, with the distance between two: 1, 2 or 5 times a power of ten.
pub fn ticks(low: f64, high: f64, wanted: u32) -> (Vec<f64>, f64) {
    let span = high - low;
    if !span.is_finite() || span <= 0.0 || wanted == 0 {
        return (Vec::new(), 1.0);
    }
    let rough = span / f64::from(wanted);
    let power = 10f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .map(|times| times * power)
        .into_iter()
        .find(|step| *step >= rough * 0.999)
        .unwrap_or(rough);
    let first = (low / step).ceil();
    let ticks = (0..=2 * wanted).map(|n| (first + f64::from(n)) * step);
    (
        ticks
            .take_while(|tick| *tick <= high + step * 1e-9)
            .collect(),
        step,
    )
}

/// Days between two shapes of an axis of days, so that `span` days have at most `most` steps: whole
/// weeks beyond a few days, about whole months and years beyond those.
pub fn day_step(span: i64, most: i64) -> i64 {
    const STEPS: [i64; 11] = [1, 2, 7, 14, 28, 56, 91, 182, 364, 728, 1820];
    let enough = |step: &i64| span / step <= most;
    STEPS
        .into_iter()
        .find(enough)
        .unwrap_or(span / most.max(1) + 1)
}

/// Points without those that share a column of pixels with their neighbours on both sides.
pub fn thinned(points: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for (place, point) in points.iter().enumerate() {
        let last = place + 1 == points.len();
        if last || kept.last().is_none_or(|before| point.x - before.x >= 1.0) {
            kept.push(*point);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_inside() {
        let cases: [(f64, f64, &[f64]); 4] = [
            (0.0, 22.0, &[0.0, 5.0, 10.0, 15.0, 20.0]),
            (87.0, 111.0, &[90.0, 95.0, 100.0, 105.0, 110.0]),
            (0.0, 5.0, &[0.0, 1.0, 2.0, 3.0, 4.0, 5.0]),
            (99.9, 100.2, &[99.9, 100.0, 100.1, 100.2]),
        ];
        for (low, high, expected) in cases {
            let (found, _) = ticks(low, high, 5);
            let near = found
                .iter()
                .zip(expected)
                .all(|(a, b)| (a - b).abs() < 1e-9);
            assert!(near && found.len() >= 3, "{low} to {high}: {found:?}");
        }
        assert!(ticks(5.0, 5.0, 5).0.is_empty());
        assert!(ticks(0.0, f64::INFINITY, 5).0.is_empty());
        assert!(ticks(f64::NAN, 1.0, 5).0.is_empty());
    }

    #[test]
    fn days_are_marked_by_weeks_then_months_then_years() {
        let cases = [
            (0, 1),
            (5, 1),
            (9, 2),
            (30, 7),
            (60, 14),
            (300, 56),
            (900, 182),
            (9000, 1820),
        ];
        for (span, step) in cases {
            assert_eq!(day_step(span, 5), step, "{span} days");
        }
    }

    #[test]
    fn a_scale_runs_from_end_to_end_and_takes_anything() {
        let scale = Scale::new((10.0, 20.0), (100.0, 0.0));
        assert!((scale.place(10.0) - 100.0).abs() < 1e-6);
        assert!((scale.place(20.0) - 0.0).abs() < 1e-6);
        assert!((scale.place(15.0) - 50.0).abs() < 1e-6);
        for odd in [f64::NAN, f64::INFINITY, f64::MAX, f64::MIN] {
            assert!(scale.place(odd).is_finite(), "{odd}");
            assert!(Scale::new((odd, odd), (0.0, 1.0)).place(3.0).is_finite());
        }
    }
}
