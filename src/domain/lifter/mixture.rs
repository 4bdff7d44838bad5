//! Several things that may be true of a lifter at once: a weak lifter, or a strong one whose set was
//! easy.
//!
//! Each component is one Gaussian over lift and lifter with a weight. A set splits every component by what
//! the set may have been ([`super::explanation`]); then what has become alike is put together, and
//! what has become unlikely is dropped, so that a belief stays as small as it was.
//!
//! *Source*: Gaussian sum filter with merging by moments, Alspach DL, Sorenson HW 1972, IEEE Trans
//! Automat Contr 17(4):439-448, from memory.

use super::gaussian::{DAY, Given, JointGaussian, LEVEL};

/// Most components that are kept.
pub(crate) const MOST: usize = 4;
/// A component under this weight is dropped.
pub(crate) const LEAST: f64 = 0.003;
/// Levels this near, in standard deviations of the wider component, are alike.
const ALIKE: f64 = 0.7;

/// One thing that may be true.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Component {
    /// Probability, 0 to 1.
    pub(crate) weight: f64,
    /// The lift and the lifter together.
    pub(crate) joint: JointGaussian,
    /// Whether the last set is taken to have been an easy one.
    pub(crate) easy: bool,
}

/// A component as a belief keeps it: the lift given the lifter's traits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Part {
    /// Probability, 0 to 1.
    pub(crate) weight: f64,
    /// The lift given the traits.
    pub(crate) given: Given,
    /// See [`Component::easy`].
    pub(crate) easy: bool,
}

/// Puts alike components together, drops unlikely ones, and lets weights add up to 1; likeliest first.
pub(crate) fn condensed(mut components: Vec<Component>) -> Vec<Component> {
    let total: f64 = components.iter().map(|component| component.weight).sum();
    for component in &mut components {
        component.weight /= total;
    }
    components.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    let mut kept: Vec<Component> = Vec::with_capacity(components.len());
    for component in components {
        if component.weight < LEAST && !kept.is_empty() {
            continue;
        }
        let alike = kept
            .iter_mut()
            .find(|other| other.easy == component.easy && distance(other, &component) < ALIKE);
        match alike {
            Some(other) => *other = together(other, &component),
            None => kept.push(component),
        }
    }
    while kept.len() > MOST {
        if let Some(last) = kept.pop() {
            let nearest = kept
                .iter_mut()
                .min_by(|a, b| distance(a, &last).total_cmp(&distance(b, &last)));
            if let Some(nearest) = nearest {
                *nearest = together(nearest, &last);
            }
        }
    }
    let total: f64 = kept.iter().map(|component| component.weight).sum();
    for component in &mut kept {
        component.weight /= total;
    }
    kept.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    kept
}

/// Distance of today's levels, in standard deviations of the wider.
fn distance(a: &Component, b: &Component) -> f64 {
    let level = |component: &Component| component.joint.own(LEVEL) + component.joint.own(DAY);
    let variance = |component: &Component| component.joint.own_variance(LEVEL);
    let spread = variance(a).max(variance(b)).max(1e-9).sqrt();
    (level(a) - level(b)).abs() / spread
}

fn together(a: &Component, b: &Component) -> Component {
    Component {
        weight: a.weight + b.weight,
        joint: JointGaussian::blended(&[(a.weight, &a.joint), (b.weight, &b.joint)]),
        easy: a.easy,
    }
}

/// The components as a belief keeps them.
pub(crate) fn parted(components: &[Component]) -> Vec<Part> {
    let parts = components.iter().map(|component| Part {
        weight: component.weight,
        given: component.joint.given(),
        easy: component.easy,
    });
    parts.collect()
}
