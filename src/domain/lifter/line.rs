//! A straight line through what comes in over time, in constant memory: least squares that forgets.
//!
//! What the numbers are, and what the slope means, is told where it is used: [`crate::domain::coaching::progress`].

/// Weighted sums of the points so far; times are measured from the latest, so that they stay small.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Line {
    weight: f64,
    time: f64,
    value: f64,
    time_time: f64,
    time_value: f64,
    value_value: f64,
}

/// What a line comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Value at the latest time.
    pub level: f64,
    /// Change of the value by unit of time.
    pub slope: f64,
    /// Residual sum of squares, by weight.
    pub residual: f64,
    /// Weighted sum of squared distances of the times from their mean.
    pub leverage: f64,
    /// Weight of the points: their number where nothing is forgotten.
    pub weight: f64,
}

impl Line {
    /// The line with another point of this weight (0 and more), `later` after the last one (0 and
    /// more); earlier ones keep the share `kept` of their weight (0 to 1).
    #[must_use]
    pub fn with(&self, later: f64, value: f64, weight: f64, kept: f64) -> Self {
        let moved = self.later(later);
        Self {
            weight: moved.weight * kept + weight,
            time: moved.time * kept,
            value: moved.value * kept + weight * value,
            time_time: moved.time_time * kept,
            time_value: moved.time_value * kept,
            value_value: moved.value_value * kept + weight * value * value,
        }
    }

    /// The same points, seen from a later time.
    fn later(&self, by: f64) -> Self {
        Self {
            time: self.time - by * self.weight,
            time_time: self.time_time - 2.0 * by * self.time + by * by * self.weight,
            time_value: self.time_value - by * self.value,
            ..*self
        }
    }

    /// The line of least squares; `None` with fewer than two times.
    ///
    /// ```text
    /// slope = Σw(t − t̄)(y − ȳ) / Σw(t − t̄)²      level = ȳ − slope t̄, at t = 0: the latest
    /// ```
    ///
    /// *Valid for*: any times and values of like size; sums of squares lose digits where values lie
    /// far from 0 for their spread. *Source*: least squares; checked with the Norris data of the
    /// Statistical Reference Datasets (National Institute of Standards and Technology).
    ///
    /// ```
    /// use chalkbell::domain::lifter::line::Line;
    /// let points = [(0.0, 1.0), (2.0, 5.0), (1.0, 7.0)];
    /// let line = points.iter().fold(Line::default(), |line, (t, y)| line.with(*t, *y, 1.0, 1.0));
    /// let fit = line.fit().unwrap();
    /// assert!((fit.slope - 2.0).abs() < 1e-12 && (fit.level - 7.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn fit(&self) -> Option<Fit> {
        if self.weight <= 0.0 {
            return None;
        }
        let (time, value) = (self.time / self.weight, self.value / self.weight);
        let leverage = self.time_time - self.weight * time * time;
        if leverage <= 1e-9 {
            return None;
        }
        let slope = (self.time_value - self.weight * time * value) / leverage;
        let squares = self.value_value - self.weight * value * value;
        Some(Fit {
            level: value - slope * time,
            slope,
            residual: (squares - slope * slope * leverage).max(0.0),
            leverage,
            weight: self.weight,
        })
    }

    /// The sums, to be kept.
    pub(crate) const fn sums(&self) -> [f64; 6] {
        [
            self.weight,
            self.time,
            self.value,
            self.time_time,
            self.time_value,
            self.value_value,
        ]
    }

    /// The line with these sums.
    pub(crate) const fn of(sums: [f64; 6]) -> Self {
        let [weight, time, value, time_time, time_value, value_value] = sums;
        Self {
            weight,
            time,
            value,
            time_time,
            time_value,
            value_value,
        }
    }
}
