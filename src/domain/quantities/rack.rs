//! What can be loaded: bars with pairs of discs, dumbbells and stacks in steps.
//!
//! A recommendation is rounded down to the rack, never up. What would be a good load is no business
//! of this module.

use std::sync::{Arc, OnceLock};

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
    /// The bar or a disc is heavier than any load offered.
    #[error("a bar or a disc above 500 kg is no part of a rack")]
    TooHeavy,
    /// Odd masses in such numbers that they can hardly be told apart.
    #[error("these discs make more than 5,000 different loads: list fewer odd ones")]
    TooManyLoads,
    /// The heaviest is lighter than the lightest, or further off than 500 steps.
    #[error("the heaviest must be at least the lightest, at most 500 steps away")]
    Steps,
}

/// Masses in equal steps from `first` to `last`, such as stacks in 2.5 kg steps; then, where
/// [`Steps::then`] says so, in wider steps, such as dumbbells in 1 kg steps to 10 kg and 2 kg steps
/// above.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Steps {
    first: Mass,
    step: Mass,
    last: Mass,
    wider: Option<(Mass, Mass)>,
}

impl Steps {
    /// Steps from `first` to at most `last`.
    ///
    /// # Errors
    /// [`RackError`] when a mass is not above zero or the steps number more than 500.
    pub fn new(first: Mass, step: Mass, last: Mass) -> Result<Self, RackError> {
        if first <= Mass::ZERO {
            return Err(RackError::NotPositive);
        }
        check_steps(first, step, last)?;
        Ok(Self {
            first,
            step,
            last,
            wider: None,
        })
    }

    /// The same, going on in steps of `step` to at most `last`.
    ///
    /// # Errors
    /// [`RackError`] when `step` is not above zero, `last` is under the last so far, or the steps
    /// number more than 500.
    pub fn then(self, step: Mass, last: Mass) -> Result<Self, RackError> {
        check_steps(self.last, step, last)?;
        Ok(Self {
            wider: Some((step, last)),
            ..self
        })
    }

    /// The masses, ascending.
    pub fn masses(self) -> impl Iterator<Item = Mass> {
        let fine = run(self.first, self.step, self.last);
        let wider = self
            .wider
            .map(|(step, last)| run(self.last, step, last).skip(1));
        fine.chain(wider.into_iter().flatten())
    }

    /// Lightest, (finest) step, heaviest. Built anew from these three, wider steps become fine.
    pub fn parts(self) -> (Mass, Mass, Mass) {
        let last = self.wider.map_or(self.last, |(_, last)| last);
        (self.first, self.step, last)
    }
}

fn check_steps(first: Mass, step: Mass, last: Mass) -> Result<(), RackError> {
    if step <= Mass::ZERO {
        return Err(RackError::NotPositive);
    }
    let span = (last - first).tenth_micrograms();
    if span < 0 || span / step.tenth_micrograms() > MOST_STEPS {
        return Err(RackError::Steps);
    }
    Ok(())
}

/// `first`, then `step` by `step` to at most `last`. The step is above zero: its makers checked.
fn run(first: Mass, step: Mass, last: Mass) -> impl Iterator<Item = Mass> {
    let count = (last - first).tenth_micrograms() / step.tenth_micrograms();
    (0..=count).map(move |n| first + step.times(n))
}

/// Discs of one mass: `pairs` of them, one disc of each pair on either side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Discs {
    /// Mass of one disc.
    pub mass: Mass,
    /// Pairs at hand, 1 to 20.
    pub pairs: u8,
}

impl Discs {
    const fn new(mass: Mass, pairs: u8) -> Self {
        Self { mass, pairs }
    }
}

/// Everything a member can load.
///
/// ```
/// use chalkbell::domain::quantities::catalogue::{Basis, Equipment};
/// use chalkbell::domain::quantities::mass::{Mass, Unit};
/// use chalkbell::domain::quantities::rack::Rack;
///
/// let rack = Rack::usual(Unit::Kg);
/// let load = rack.round_down(Mass::from_kg(83.9)?, Equipment::Barbell, Basis::Total);
/// assert_eq!(load, Some(Mass::from_kg(82.5)?));
/// let discs = rack.discs_per_side(Mass::from_kg(82.5)?).unwrap_or_default();
/// assert_eq!(discs, [Mass::from_kg(25.0)?, Mass::from_kg(5.0)?, Mass::from_kg(1.25)?]);
/// # Ok::<(), chalkbell::domain::quantities::mass::MassError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Rack {
    unit: Unit,
    bar: Mass,
    discs: Vec<Discs>,
    dumbbells: Steps,
    stack: Steps,
    /// What the bar, a plate machine and a belt can carry, ascending. Shared: a rack is cloned
    /// for every message, and never changes.
    bar_loads: Arc<[Mass]>,
    machine_loads: Arc<[Mass]>,
    belt_loads: Arc<[Mass]>,
}

/// Nothing above this is offered for a bar, machine or sled. Common practice, no source.
const HEAVIEST: Mass = Mass::from_grams(500_000);
/// Nothing above this is offered for a belt. Common practice, no source.
const HEAVIEST_BELT: Mass = Mass::from_grams(150_000);
/// Most steps of one size.
const MOST_STEPS: i64 = 500;
/// Most loads that a rack may make: a real one makes some two hundred, and odd masses in number
/// would make millions.
const MOST_LOADS: usize = 5_000;

impl Rack {
    /// A rack of this bar, these discs, dumbbells and stacks.
    ///
    /// # Errors
    /// [`RackError`] when the bar or a disc is not above zero, a disc is heavier than the heaviest
    /// load (500 kg), kinds or pairs are out of range, or they make more than 5,000 loads.
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
        let pairs_fit = discs.iter().all(|d| (1..=20).contains(&d.pairs));
        if !(1..=20).contains(&discs.len()) || !pairs_fit {
            return Err(RackError::Discs);
        }
        if bar.max(heaviest(&discs)) > HEAVIEST {
            return Err(RackError::TooHeavy);
        }
        discs.sort_by_key(|disc| std::cmp::Reverse(disc.mass));
        let pairs = sums(discs.iter().map(pair), HEAVIEST)?;
        // A belt holds discs one by one, both of a pair if need be.
        let singles = sums(discs.iter().map(single), HEAVIEST_BELT)?;
        let above_nothing = |loads: Vec<Mass>| loads.into_iter().skip(1).collect();
        Ok(Self {
            unit,
            bar,
            discs,
            dumbbells,
            stack,
            bar_loads: pairs.iter().map(|&sum| sum + bar).collect(),
            machine_loads: above_nothing(pairs),
            belt_loads: above_nothing(singles),
        })
    }

    /// A usual gym in `unit`: a 20 kg bar with discs from 25 to 1.25 kg, dumbbells in 1 kg steps to
    /// 10 kg and 2 kg steps to 60 kg, stacks in 2.5 kg steps; or a 45 lb bar with discs from 45 to
    /// 2.5 lb, dumbbells in 2.5 lb steps to 25 lb and 5 lb steps to 150 lb, stacks in 5 lb steps.
    ///
    /// *Source*: bar and kilogram discs: International Powerlifting Federation, Technical Rules
    /// Book (bar without collars; spring collars are left out of the written load). Pound discs and
    /// bar, dumbbells, stacks, and how many pairs: common practice, no source.
    pub fn usual(unit: Unit) -> Self {
        static USUAL: OnceLock<[Rack; 2]> = OnceLock::new();
        #[expect(
            clippy::expect_used,
            reason = "constants, built in a test for both units"
        )]
        let [kg, lb] = USUAL.get_or_init(|| {
            [
                usual_kg().expect("sound constants"),
                usual_lb().expect("sound constants"),
            ]
        });
        match unit {
            Unit::Kg | Unit::Pin => kg.clone(),
            Unit::Lb => lb.clone(),
        }
    }

    /// The unit its numbers are written in.
    pub const fn unit(&self) -> Unit {
        self.unit
    }

    /// The bar.
    pub const fn bar(&self) -> Mass {
        self.bar
    }

    /// The discs, heaviest first.
    pub fn discs(&self) -> &[Discs] {
        &self.discs
    }

    /// The dumbbells.
    pub const fn dumbbells(&self) -> Steps {
        self.dumbbells
    }

    /// The stacks.
    pub const fn stack(&self) -> Steps {
        self.stack
    }

    /// Every load that can be made for this equipment and basis, ascending. For
    /// [`Basis::Assisted`] it is the help, still ascending; [`Basis::Body`] has none.
    pub fn loads(&self, equipment: Equipment, basis: Basis) -> Vec<Mass> {
        match self.supply(equipment, basis) {
            Supply::Nothing => Vec::new(),
            Supply::Steps(steps) => steps.masses().collect(),
            Supply::Discs(loads) => loads.to_vec(),
        }
    }

    /// The nearest load that can be made and is no harder than `wanted`: the heaviest not above
    /// it, or, for [`Basis::Assisted`], the least help not below it. `None` when there is none.
    pub fn round_down(&self, wanted: Mass, equipment: Equipment, basis: Basis) -> Option<Mass> {
        match self.supply(equipment, basis) {
            Supply::Nothing => None,
            Supply::Steps(steps) if basis == Basis::Assisted => {
                steps.masses().find(|&help| help >= wanted)
            }
            Supply::Steps(steps) => steps.masses().take_while(|&load| load <= wanted).last(),
            Supply::Discs(loads) => {
                let above = loads.partition_point(|&load| load <= wanted);
                loads.get(above.checked_sub(1)?).copied()
            }
        }
    }

    fn supply(&self, equipment: Equipment, basis: Basis) -> Supply<'_> {
        match (basis, equipment) {
            (Basis::Body, _) => Supply::Nothing,
            (Basis::Assisted, _) => Supply::Steps(self.stack),
            (Basis::Added, _) => Supply::Discs(&self.belt_loads),
            (Basis::PerHand, _) | (Basis::Total, Equipment::Dumbbell) => {
                Supply::Steps(self.dumbbells)
            }
            (Basis::Total, Equipment::Stack | Equipment::Body) => Supply::Steps(self.stack),
            (Basis::Total, Equipment::Barbell) => Supply::Discs(&self.bar_loads),
            (Basis::Total, Equipment::PlateMachine) => Supply::Discs(&self.machine_loads),
        }
    }

    /// The discs on one side for exactly `total` on the bar, heaviest first, as many of the heavier
    /// as can be; none for the empty bar. `None` when it cannot be made.
    pub fn discs_per_side(&self, total: Mass) -> Option<Vec<Mass>> {
        let mut rest = total - self.bar;
        if rest < Mass::ZERO || rest > HEAVIEST {
            return None;
        }
        let mut chosen = Vec::new();
        for (n, disc) in self.discs.iter().enumerate() {
            // Greed alone fails on limited pairs: 30 a side of 25, 15 and 15 is no 25. So a disc
            // is taken only where the lighter ones can make up the rest.
            let lighter = sums(self.discs.iter().skip(n + 1).map(pair), rest).ok()?;
            let (mass, pairs) = pair(disc);
            let left = |count: i64| rest - mass.times(count);
            let fits = |count: &i64| lighter.binary_search(&left(*count)).is_ok();
            let count = (0..=pairs).rev().find(fits)?;
            chosen.extend((0..count).map(|_| disc.mass));
            rest = left(count);
        }
        (rest == Mass::ZERO).then_some(chosen)
    }
}

/// Where the loads of some equipment come from.
enum Supply<'a> {
    Nothing,
    Steps(Steps),
    Discs(&'a [Mass]),
}

/// What a bar weighs where nobody says otherwise, in pounds for pounds, else in kilograms.
pub fn usual_bar(unit: Unit) -> f64 {
    let unit = match unit {
        Unit::Lb => Unit::Lb,
        Unit::Kg | Unit::Pin => Unit::Kg,
    };
    Rack::usual(unit).bar().amount(unit)
}

fn usual_kg() -> Result<Rack, RackError> {
    const fn grams(grams: i32) -> Mass {
        Mass::from_grams(grams)
    }
    let discs = [
        (25_000, 6),
        (20_000, 2),
        (15_000, 1),
        (10_000, 2),
        (5_000, 1),
        (2_500, 1),
        (1_250, 1),
    ];
    Rack::new(
        Unit::Kg,
        grams(20_000),
        discs
            .map(|(mass, pairs)| Discs::new(grams(mass), pairs))
            .into(),
        Steps::new(grams(1_000), grams(1_000), grams(10_000))?.then(grams(2_000), grams(60_000))?,
        Steps::new(grams(2_500), grams(2_500), grams(250_000))?,
    )
}

fn usual_lb() -> Result<Rack, RackError> {
    const HALF_LB: Mass = Mass::from_tenth_micrograms(4_535_923_700 / 2);
    const fn halves(count: i64) -> Mass {
        HALF_LB.times(count)
    }
    let discs = [(90, 8), (70, 1), (50, 1), (20, 2), (10, 1), (5, 1)];
    Rack::new(
        Unit::Lb,
        halves(90),
        discs
            .map(|(mass, pairs)| Discs::new(halves(mass), pairs))
            .into(),
        Steps::new(halves(5), halves(5), halves(50))?.then(halves(10), halves(300))?,
        Steps::new(halves(10), halves(10), halves(1_000))?,
    )
}

/// The heaviest disc.
fn heaviest(discs: &[Discs]) -> Mass {
    discs.iter().map(|disc| disc.mass).max().unwrap_or_default()
}

fn pair(disc: &Discs) -> (Mass, i64) {
    (disc.mass.times(2), i64::from(disc.pairs))
}

fn single(disc: &Discs) -> (Mass, i64) {
    (disc.mass, i64::from(disc.pairs) * 2)
}

/// All sums of these (mass, count) lots, ascending, from none at all up to `most`.
fn sums(lots: impl Iterator<Item = (Mass, i64)>, most: Mass) -> Result<Vec<Mass>, RackError> {
    let mut sums = vec![Mass::ZERO];
    for (mass, count) in lots {
        let before = sums.clone();
        for n in 1..=count {
            let with_more = before.iter().map(|&sum| sum + mass.times(n));
            sums.extend(with_more.take_while(|&sum| sum <= most));
        }
        sums.sort_unstable();
        sums.dedup();
        if sums.len() > MOST_LOADS {
            return Err(RackError::TooManyLoads);
        }
    }
    Ok(sums)
}

#[cfg(test)]
mod tests;
