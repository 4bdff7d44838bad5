//! Several things that may be true of a lifter at once: a weak lifter, or a strong one whose set was
//! easy.
//!
//! Each strand is one Gaussian over lift and lifter with a weight. A set splits every strand by what
//! the set may have been ([`super::explanation`]); then what has become alike is put together, and
//! what has become unlikely is dropped, so that a belief stays as small as it was.
//!
//! *Source*: Gaussian sum filter with merging by moments, Alspach DL, Sorenson HW 1972, IEEE Trans
//! Automat Contr 17(4):439-448, from memory.

use super::joint::{DAY, Given, Joint, LEVEL, Traits};

/// Most strands that are kept.
pub(super) const MOST: usize = 4;
/// A strand under this weight is dropped.
const LEAST: f64 = 0.003;
/// Levels this near, in standard deviations of the wider strand, are alike.
const ALIKE: f64 = 0.7;

/// One thing that may be true.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Strand {
    /// Probability, 0 to 1.
    pub(super) weight: f64,
    /// The lift and the lifter together.
    pub(super) joint: Joint,
    /// Whether the last set is taken to have been an easy one.
    pub(super) easy: bool,
}

/// A strand as a belief keeps it: the lift given the lifter's traits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Part {
    /// Probability, 0 to 1.
    pub(super) weight: f64,
    /// The lift given the traits.
    pub(super) given: Given,
    /// See [`Strand::easy`].
    pub(super) easy: bool,
}

/// Puts alike strands together, drops unlikely ones, and lets weights add up to 1; likeliest first.
pub(super) fn condensed(mut strands: Vec<Strand>) -> Vec<Strand> {
    let total: f64 = strands.iter().map(|strand| strand.weight).sum();
    for strand in &mut strands {
        strand.weight /= total;
    }
    strands.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    let mut kept: Vec<Strand> = Vec::with_capacity(strands.len());
    for strand in strands {
        if strand.weight < LEAST && !kept.is_empty() {
            continue;
        }
        let alike = kept
            .iter_mut()
            .find(|other| other.easy == strand.easy && distance(other, &strand) < ALIKE);
        match alike {
            Some(other) => *other = together(other, &strand),
            None => kept.push(strand),
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
    let total: f64 = kept.iter().map(|strand| strand.weight).sum();
    for strand in &mut kept {
        strand.weight /= total;
    }
    kept.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    kept
}

/// Distance of today's levels, in standard deviations of the wider.
fn distance(a: &Strand, b: &Strand) -> f64 {
    let level = |strand: &Strand| strand.joint.own(LEVEL) + strand.joint.own(DAY);
    let variance = |strand: &Strand| strand.joint.own_variance(LEVEL);
    let spread = variance(a).max(variance(b)).max(1e-9).sqrt();
    (level(a) - level(b)).abs() / spread
}

fn together(a: &Strand, b: &Strand) -> Strand {
    Strand {
        weight: a.weight + b.weight,
        joint: Joint::blended(&[(a.weight, &a.joint), (b.weight, &b.joint)]),
        easy: a.easy,
    }
}

/// The strands as a belief keeps them, and the traits by themselves.
pub(super) fn parted(strands: &[Strand]) -> (Vec<Part>, Traits) {
    let parts = strands.iter().map(|strand| Part {
        weight: strand.weight,
        given: strand.joint.parted().0,
        easy: strand.easy,
    });
    let all: Vec<(f64, &Joint)> = strands.iter().map(|s| (s.weight, &s.joint)).collect();
    let traits = Joint::blended(&all).parted().1;
    (parts.collect(), traits)
}
