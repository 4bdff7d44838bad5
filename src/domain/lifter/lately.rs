//! How a lift went of late, for [`crate::domain::coaching::progress`].

use super::line::{Fit, Line};

/// Days after which a day's capacity has lost 63 % of its weight in the course of things.
const COURSE_DAYS: f64 = 42.0;
/// So many first days count only by this share: what changes then is the knowledge of the lifter.
const GETTING_TO_KNOW: (u32, f64) = (5, 0.1);
/// Share of the weight of earlier days' deviations, and of earlier sets' surprises, that survives
/// the next: the last three days or so count, and the last five sets.
const LATELY: (f64, f64) = (0.6, 0.8);

/// How it went of late, kept for [`crate::domain::coaching::progress`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Lately {
    /// Day of the first set ever, days from the common era.
    pub(super) first_day: i32,
    /// Days with work sets that are over.
    pub(super) days: u32,
    /// Log of the maximum on the days that are over, less the first day's, the day's form included.
    pub(super) line: Line,
    /// Where the line counts from, log.
    pub(super) origin: f64,
    /// Weight of the last days' deviations from the line before them, and their weighted sum.
    pub(super) form: (f64, f64),
    /// Weight of the surprises, and their weighted sum.
    pub(super) surprise: (f64, f64),
}

impl Lately {
    /// With a day that is over: `gap` days after the one before, with this log of the maximum.
    pub(super) fn with_day(self, gap: f64, capacity: f64) -> Self {
        let origin = if self.days == 0 {
            capacity
        } else {
            self.origin
        };
        let value = capacity - origin;
        let (first, share) = GETTING_TO_KNOW;
        let weight = if self.days < first { share } else { 1.0 };
        let kept = LATELY.0;
        let form = match self.line.fit().filter(|_| self.days >= 3) {
            None => self.form,
            Some(fit) => {
                let off = value - fit.level - fit.slope * gap;
                (self.form.0 * kept + 1.0, self.form.1 * kept + off)
            }
        };
        Self {
            days: self.days.saturating_add(1),
            line: self
                .line
                .with(gap, value, weight, (-gap / COURSE_DAYS).exp()),
            origin,
            form,
            ..self
        }
    }

    /// With the surprise of a rated set.
    pub(super) fn with_surprise(self, surprise: f64) -> Self {
        let (weight, sum) = self.surprise;
        let kept = LATELY.1;
        Self {
            surprise: (weight * kept + 1.0, sum * kept + surprise),
            ..self
        }
    }

    /// The line through the days, times in days.
    pub(crate) fn fit(&self) -> Option<Fit> {
        self.line.fit()
    }

    /// Mean deviation of the last days from the line before them, log, and its weight in days.
    pub(crate) fn form(&self) -> (f64, f64) {
        let (weight, sum) = self.form;
        (sum / weight.max(1.0), weight)
    }

    /// Mean surprise of the last rated sets, standard deviations of their forecasts.
    pub(crate) fn surprise(&self) -> f64 {
        self.surprise.1 / self.surprise.0.max(1.0)
    }

    /// Days with work sets.
    pub(crate) const fn days(&self) -> u32 {
        self.days
    }
}
