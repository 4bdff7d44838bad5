//! The Gaussian core of a belief: what is held about one lift and about the lifter together, and
//! how one observation moves all of it. A belief holds a few of these at once, see
//! `mixture`.
//!
//! The lift's figures are kept *given* the lifter's traits, the traits by themselves. What
//! another lift teaches about the traits then reaches this lift without its row being touched.
//! Nothing here knows what the figures mean beyond their order; see [`super::belief`].

use super::recovery::Shape;

/// Figures of one lift.
pub const OWN: usize = 8;
/// Traits of one lifter.
pub const TRAITS: usize = 6;
const ALL: usize = OWN + TRAITS;

/// Log 1RM, trend left out and day's form left out.
pub const LEVEL: usize = 0;
/// Change of the level a week.
pub const TREND: usize = 1;
/// The day's form, log.
pub const DAY: usize = 2;
/// Log steepness of the curve.
pub const CURVE: usize = 3;
/// The first of the figures that shape fatigue, in the order of [`super::recovery::Shape`].
pub const SHAPE: usize = 4;
/// The lifter's parts of the figures that shape fatigue: the first of them.
pub const LIFTER_SHAPE: usize = 0;
/// The lifter's habit of reporting.
pub const LIFTER_HABIT: usize = 4;
/// The lifter's part of [`CURVE`].
pub const LIFTER_CURVE: usize = 5;

/// The traits of a lifter: mean and covariance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Traits {
    /// Means, by trait.
    pub mean: [f64; TRAITS],
    /// Covariances; symmetric.
    pub cov: [[f64; TRAITS]; TRAITS],
}

/// The figures of a lift, given the traits `t`: normal about `base + weight t` with covariance
/// `cov`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Given {
    /// Means where the traits are 0.
    pub base: [f64; OWN],
    /// What each trait adds to each figure.
    pub weight: [[f64; TRAITS]; OWN],
    /// Covariances that the traits leave; symmetric.
    pub cov: [[f64; OWN]; OWN],
}

/// Both together: the lift's figures, then the traits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointGaussian {
    mean: [f64; ALL],
    cov: [[f64; ALL]; ALL],
}

/// A straight way through the belief, along which an observed quantity changes most: at `s`
/// standard deviations every figure is at its mean plus `s` times its entry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    step: [f64; ALL],
}

impl Way {
    /// Step of the figure `index` of the lift for each standard deviation.
    #[must_use]
    pub fn own(&self, index: usize) -> f64 {
        self.step[index]
    }

    /// Step of the trait `index` for each standard deviation.
    #[must_use]
    pub fn lifter(&self, index: usize) -> f64 {
        self.step[OWN + index]
    }
}

impl Given {
    /// Takes a figure back to `mean` with `variance`, forgetting what it had to do with others.
    pub fn reset(&mut self, index: usize, mean: f64, variance: f64) {
        self.base[index] = mean;
        self.weight[index] = [0.0; TRAITS];
        for other in 0..OWN {
            self.cov[index][other] = 0.0;
            self.cov[other][index] = 0.0;
        }
        self.cov[index][index] = variance;
    }

    /// Adds `share` times figure `from` to figure `to`.
    pub fn flow(&mut self, from: usize, to: usize, share: f64) {
        self.base[to] += share * self.base[from];
        for t in 0..TRAITS {
            self.weight[to][t] += share * self.weight[from][t];
        }
        for other in 0..OWN {
            self.cov[to][other] += share * self.cov[from][other];
        }
        for other in 0..OWN {
            self.cov[other][to] += share * self.cov[other][from];
        }
    }

    /// Moves a figure.
    pub fn shift(&mut self, index: usize, by: f64) {
        self.base[index] += by;
    }

    /// Draws a figure towards `mean`, keeping `share` of its distance.
    pub fn shrink(&mut self, index: usize, mean: f64, share: f64) {
        self.base[index] = mean + share * (self.base[index] - mean);
        for t in 0..TRAITS {
            self.weight[index][t] *= share;
        }
        for other in 0..OWN {
            self.cov[index][other] *= share;
            self.cov[other][index] *= share;
        }
    }

    /// Adds variance to a figure.
    pub fn widen(&mut self, index: usize, variance: f64) {
        self.cov[index][index] += variance;
    }

    /// With the traits, both together.
    #[must_use]
    pub fn joined(&self, traits: &Traits) -> JointGaussian {
        let mut mean = [0.0; ALL];
        let mut cov = [[0.0; ALL]; ALL];
        for i in 0..OWN {
            mean[i] = self.base[i] + dot(&self.weight[i], &traits.mean);
            let with_traits = times(&self.weight[i], &traits.cov);
            for t in 0..TRAITS {
                cov[i][OWN + t] = with_traits[t];
                cov[OWN + t][i] = with_traits[t];
            }
            for (j, weight) in self.weight.iter().enumerate() {
                cov[i][j] = self.cov[i][j] + dot(&with_traits, weight);
            }
        }
        for t in 0..TRAITS {
            mean[OWN + t] = traits.mean[t];
            cov[OWN + t][OWN..].copy_from_slice(&traits.cov[t]);
        }
        JointGaussian { mean, cov }
    }
}

impl JointGaussian {
    /// Mean of a figure of the lift.
    #[must_use]
    pub fn own(&self, index: usize) -> f64 {
        self.mean[index]
    }

    /// Mean of a trait.
    #[must_use]
    pub fn lifter(&self, index: usize) -> f64 {
        self.mean[OWN + index]
    }

    /// Level and the day's form together.
    #[must_use]
    pub fn level(&self) -> f64 {
        self.mean[LEVEL] + self.mean[DAY]
    }

    /// Means of the figures that shape fatigue on this lift.
    #[must_use]
    pub fn shape(&self) -> Shape {
        std::array::from_fn(|i| self.mean[SHAPE + i])
    }

    /// Variance of a figure of the lift.
    #[must_use]
    pub fn own_variance(&self, index: usize) -> f64 {
        self.cov[index][index]
    }

    /// The way along which a quantity with these slopes (by own figure, by trait) changes, and its
    /// standard deviation.
    #[must_use]
    pub fn way(&self, own: &[f64; OWN], lifter: &[f64; TRAITS]) -> (Way, f64) {
        let mut slope = [0.0; ALL];
        slope[..OWN].copy_from_slice(own);
        slope[OWN..].copy_from_slice(lifter);
        let mut step = self.cov.map(|line| dot(&line, &slope));
        let sd = dot(&step, &slope).max(1e-12).sqrt();
        for entry in &mut step {
            *entry /= sd;
        }
        (Way { step }, sd)
    }

    /// The belief after learning that the place on `way` has this mean and variance, in standard
    /// deviations from where it was: exact for what lies on the way, least squares for the rest.
    /// The level is never moved against the evidence.
    #[must_use]
    pub fn moved(&self, way: &Way, mean: f64, variance: f64) -> Self {
        let mut next = *self;
        for (i, step) in way.step.into_iter().enumerate() {
            next.mean[i] += mean * if i == LEVEL { step.max(0.0) } else { step };
            for (entry, other) in next.cov[i].iter_mut().zip(way.step) {
                *entry += (variance - 1.0) * (step * other);
            }
        }
        next
    }

    /// The same with more variance of a figure of the lift.
    #[must_use]
    pub fn wider(&self, index: usize, variance: f64) -> Self {
        let mut next = *self;
        next.cov[index][index] += variance;
        next
    }

    /// One Gaussian with mean and covariance of several with these weights, which add up to more
    /// than 0.
    #[must_use]
    pub fn blended(parts: &[(f64, &Self)]) -> Self {
        let total: f64 = parts.iter().map(|(weight, _)| weight).sum();
        let mut blend = Self {
            mean: [0.0; ALL],
            cov: [[0.0; ALL]; ALL],
        };
        for (weight, part) in parts {
            for (sum, mean) in blend.mean.iter_mut().zip(part.mean) {
                *sum += weight / total * mean;
            }
        }
        for (weight, part) in parts {
            let share = weight / total;
            let off: [f64; ALL] = std::array::from_fn(|i| part.mean[i] - blend.mean[i]);
            for (i, line) in blend.cov.iter_mut().enumerate() {
                for (j, sum) in line.iter_mut().enumerate() {
                    *sum += share * (part.cov[i][j] + off[i] * off[j]);
                }
            }
        }
        blend
    }

    /// The traits by themselves.
    #[must_use]
    pub fn traits(&self) -> Traits {
        let mut traits = Traits {
            mean: [0.0; TRAITS],
            cov: [[0.0; TRAITS]; TRAITS],
        };
        traits.mean.copy_from_slice(&self.mean[OWN..]);
        for t in 0..TRAITS {
            traits.cov[t].copy_from_slice(&self.cov[OWN + t][OWN..]);
        }
        traits
    }

    /// The lift given the traits.
    #[must_use]
    pub fn given(&self) -> Given {
        let traits = self.traits();
        let inverse = inverse(&traits.cov);
        let mut given = Given {
            base: [0.0; OWN],
            weight: [[0.0; TRAITS]; OWN],
            cov: [[0.0; OWN]; OWN],
        };
        for i in 0..OWN {
            let mut with_traits = [0.0; TRAITS];
            with_traits.copy_from_slice(&self.cov[i][OWN..]);
            given.weight[i] = times(&with_traits, &inverse);
            given.base[i] = self.mean[i] - dot(&given.weight[i], &traits.mean);
        }
        for i in 0..OWN {
            for j in 0..=i {
                let shared = dot(&given.weight[i], &self.cov[j][OWN..]);
                let left = self.cov[i][j] - shared;
                given.cov[i][j] = if i == j { left.max(1e-12) } else { left };
                given.cov[j][i] = given.cov[i][j];
            }
        }
        given
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// A row times a symmetric matrix.
fn times(row: &[f64; TRAITS], matrix: &[[f64; TRAITS]; TRAITS]) -> [f64; TRAITS] {
    std::array::from_fn(|t| dot(row, &matrix[t]))
}

/// Inverse of a symmetric positive matrix, by Gauss and Jordan; pivots stay positive, the small
/// floor is for rounding.
fn inverse(matrix: &[[f64; TRAITS]; TRAITS]) -> [[f64; TRAITS]; TRAITS] {
    let mut a = *matrix;
    let mut b = [[0.0; TRAITS]; TRAITS];
    for (i, row) in b.iter_mut().enumerate() {
        row[i] = 1.0;
    }
    for i in 0..TRAITS {
        let pivot = a[i][i].max(1e-12);
        for j in 0..TRAITS {
            a[i][j] /= pivot;
            b[i][j] /= pivot;
        }
        for other in (0..TRAITS).filter(|&other| other != i) {
            let factor = a[other][i];
            for j in 0..TRAITS {
                a[other][j] -= factor * a[i][j];
                b[other][j] -= factor * b[i][j];
            }
        }
    }
    b
}
