//! What can be loaded: bars with pairs of discs, dumbbells and stacks in steps.
//!
//! A recommendation is rounded down to the rack, never up.

use super::catalogue::{Basis, Equipment};
use super::mass::{Mass, Unit};

/// Why numbers describe no rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RackError {
    /// A mass that must be above zero is not.
    #[error("bars, discs and steps must weigh more than nothing")]
    NotPositive,
    /// No disc, or too many kinds or pairs.
    #[error("a rack has 1 to 20 kinds of discs, with 1 to 20 pairs each")]
    Discs,
    /// The heaviest is lighter than the lightest, or further off than 500 steps.
    #[error("the heaviest must be at least the lightest, at most 500 steps away")]
    Steps,
}

/// Masses in equal steps from `first` to `last`, such as dumbbells in 2 kg steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Steps {
    first: Mass,
    step: Mass,
    last: Mass,
}

impl Steps {
    /// Steps from `first` to `last`.
    ///
    /// # Errors
    /// [`RackError`] when a mass is not above zero or the steps number more than 500.
    pub fn new(first: Mass, step: Mass, last: Mass) -> Result<Self, RackError> {
        if first <= Mass::ZERO || step <= Mass::ZERO {
            return Err(RackError::NotPositive);
        }
        let span = (last - first).tenth_micrograms();
        if span < 0 || span / step.tenth_micrograms() > 500 {
            return Err(RackError::Steps);
        }
        Ok(Self { first, step, last })
    }

    /// The masses, ascending.
    pub fn masses(self) -> impl Iterator<Item = Mass> {
        let count = (self.last - self.first).tenth_micrograms() / self.step.tenth_micrograms();
        (0..=count).map(move |n| self.first + self.step.times(n))
    }

    /// Lightest, step, heaviest.
    #[must_use]
    pub const fn parts(self) -> (Mass, Mass, Mass) {
        (self.first, self.step, self.last)
    }
}

/// Discs of one mass: `pairs` of them, one disc of each pair on either side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Discs {
    /// Mass of one disc.
    pub mass: Mass,
    /// Pairs at hand, 1 to 20.
    pub pairs: u8,
}

/// Everything a member can load.
#[derive(Clone, Debug, PartialEq)]
pub struct Rack {
    unit: Unit,
    bar: Mass,
    discs: Vec<Discs>,
    dumbbells: Steps,
    stack: Steps,
    bar_loads: Vec<Mass>,
    pair_loads: Vec<Mass>,
}

/// Nothing above this is offered for a bar, machine or sled.
const HEAVIEST: Mass = Mass::from_grams(500_000);

impl Rack {
    /// A rack of this bar, these discs, dumbbells and stacks.
    ///
    /// # Errors
    /// [`RackError`] when the bar or a disc is not above zero, or kinds or pairs are out of range.
    pub fn new(
        unit: Unit,
        bar: Mass,
        mut discs: Vec<Discs>,
        dumbbells: Steps,
        stack: Steps,
    ) -> Result<Self, RackError> {
        if bar <= Mass::ZERO || discs.iter().any(|d| d.mass <= Mass::ZERO) {
            return Err(RackError::NotPositive);
        }
        if !(1..=20).contains(&discs.len()) || discs.iter().any(|d| !(1..=20).contains(&d.pairs)) {
            return Err(RackError::Discs);
        }
        discs.sort_by_key(|disc| std::cmp::Reverse(disc.mass));
        let pair_loads = pair_sums(&discs);
        let bar_loads = pair_loads.iter().map(|&sum| sum + bar).collect();
        Ok(Self {
            unit,
            bar,
            discs,
            dumbbells,
            stack,
            bar_loads,
            pair_loads,
        })
    }

    /// A usual gym in `unit`: a 20 kg bar with discs from 25 to 1.25 kg, dumbbells in 2 kg steps,
    /// stacks in 2.5 kg steps; or a 45 lb bar with discs from 45 to 2.5 lb and 5 lb steps.
    /// Common gym practice (`lb_plates`, `dumbbell_steps`; IPF rule book for the kilogram discs).
    #[must_use]
    #[expect(
        clippy::expect_used,
        reason = "constants, built in a test for both units"
    )]
    pub fn usual(unit: Unit) -> Self {
        let mass = |amount: f64| Mass::new(amount, unit).expect("a constant in range");
        let disc = |amount: f64, pairs: u8| Discs {
            mass: mass(amount),
            pairs,
        };
        let (bar, discs, dumbbells, stack) = match unit {
            Unit::Kg => (
                mass(20.0),
                vec![
                    disc(25.0, 6),
                    disc(20.0, 2),
                    disc(15.0, 1),
                    disc(10.0, 2),
                    disc(5.0, 1),
                    disc(2.5, 1),
                    disc(1.25, 1),
                ],
                Steps::new(mass(1.0), mass(1.0), mass(60.0)),
                Steps::new(mass(2.5), mass(2.5), mass(250.0)),
            ),
            Unit::Lb => (
                mass(45.0),
                vec![
                    disc(45.0, 8),
                    disc(35.0, 1),
                    disc(25.0, 1),
                    disc(10.0, 2),
                    disc(5.0, 1),
                    disc(2.5, 1),
                ],
                Steps::new(mass(2.5), mass(2.5), mass(150.0)),
                Steps::new(mass(5.0), mass(5.0), mass(500.0)),
            ),
        };
        Self::new(
            unit,
            bar,
            discs,
            dumbbells.expect("constant"),
            stack.expect("constant"),
        )
        .expect("constant")
    }

    /// The unit its numbers are written in.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        self.unit
    }

    /// The bar.
    #[must_use]
    pub const fn bar(&self) -> Mass {
        self.bar
    }

    /// The discs, heaviest first.
    #[must_use]
    pub fn discs(&self) -> &[Discs] {
        &self.discs
    }

    /// The dumbbells.
    #[must_use]
    pub const fn dumbbells(&self) -> Steps {
        self.dumbbells
    }

    /// The stacks.
    #[must_use]
    pub const fn stack(&self) -> Steps {
        self.stack
    }

    /// Every load that can be made for this equipment and basis, ascending. For
    /// [`Basis::Assisted`] it is the help, still ascending; [`Basis::Body`] has none.
    #[must_use]
    pub fn loads(&self, equipment: Equipment, basis: Basis) -> Vec<Mass> {
        match (basis, equipment) {
            (Basis::Body, _) => Vec::new(),
            (Basis::Assisted, _) => self.stack.masses().collect(),
            // One disc (or dumbbell) hangs between the legs: single discs, not pairs, count.
            (Basis::Added, _) => self.pair_loads[1..]
                .iter()
                .map(|&pair| half(pair))
                .collect(),
            (Basis::PerHand, _) | (_, Equipment::Dumbbell) => self.dumbbells.masses().collect(),
            (_, Equipment::Stack | Equipment::Body) => self.stack.masses().collect(),
            (_, Equipment::Barbell) => self.bar_loads.clone(),
            (_, Equipment::PlateMachine) => self.pair_loads[1..].to_vec(),
        }
    }

    /// The heaviest load that can be made and is not above `wanted`; `None` when even the lightest
    /// is.
    #[must_use]
    pub fn round_down(&self, wanted: Mass, equipment: Equipment, basis: Basis) -> Option<Mass> {
        self.loads(equipment, basis)
            .into_iter()
            .rev()
            .find(|&load| load <= wanted)
    }

    /// The discs on one side for exactly `total` on the bar, heaviest first; `None` when it cannot
    /// be made.
    #[must_use]
    pub fn discs_per_side(&self, total: Mass) -> Option<Vec<Mass>> {
        let mut chosen = Vec::new();
        fill(&self.discs, half(total - self.bar), &mut chosen).then_some(chosen)
    }
}

fn half(mass: Mass) -> Mass {
    Mass::from_tenth_micrograms(mass.tenth_micrograms() / 2)
}

/// All sums of pairs, ascending, from none at all up to [`HEAVIEST`].
fn pair_sums(discs: &[Discs]) -> Vec<Mass> {
    let mut sums = vec![Mass::ZERO];
    for disc in discs {
        let pair = disc.mass.times(2);
        let before = sums.clone();
        for count in 1..=i64::from(disc.pairs) {
            let more = pair.times(count);
            sums.extend(
                before
                    .iter()
                    .map(|&sum| sum + more)
                    .filter(|&sum| sum <= HEAVIEST),
            );
        }
        sums.sort_unstable();
        sums.dedup();
    }
    sums
}

/// Fewest-first search, heaviest disc first, with a step back where greed fails.
fn fill(discs: &[Discs], rest: Mass, chosen: &mut Vec<Mass>) -> bool {
    if rest == Mass::ZERO {
        return true;
    }
    let Some((disc, lighter)) = discs.split_first() else {
        return false;
    };
    if rest < Mass::ZERO {
        return false;
    }
    let fits = rest.tenth_micrograms() / disc.mass.tenth_micrograms();
    for count in (0..=fits.min(i64::from(disc.pairs))).rev() {
        let length = chosen.len();
        chosen.extend((0..count).map(|_| disc.mass));
        if fill(lighter, rest - disc.mass.times(count), chosen) {
            return true;
        }
        chosen.truncate(length);
    }
    false
}
