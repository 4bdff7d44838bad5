//! The numbers of one group: load, repetitions, sets, in every order that lifters write them.
//!
//! ```text
//! load × reps        80x10 · 80kg for 10 · 80 kilos, 10 reps · 10 @ 80kg · 10 reps with 80
//! sets × reps        3x10 80kg · 3x10 @ 80 · 3 sets of 10 at 80 · 80 3x10 · 80x10x3
//! lists              80x10, 9, 8 · 80: 10/9/8 · 80 for 12, 11 and 9
//! parts alone        80kg · 12 reps · x9
//! ```
//!
//! Here is what a group's numbers are and how two parts of them join; `run` reads them from items by
//! candidates, `orders` what goes on from the set before.

mod list;
mod orders;
mod run;

use super::evidence::Usual;
use super::item::{Item, Num, Sign, Spanned};
use super::scan::Scan;

pub(crate) use orders::at;

/// Loads are written above this where a bare number could also be repetitions.
const SURELY_LOAD: f64 = 30.0;
/// More sets than this are not written as a product.
const MOST_SETS: f64 = 20.0;
/// Up to here a number that stands alone behind a set may be sets or reserve.
const MOST_TAIL: f64 = 4.0;
/// Longest list of repetitions.
const LONGEST: usize = 30;

/// The load of a group.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) enum LoadPart {
    /// Not written.
    #[default]
    None,
    /// A number.
    Num(Num),
    /// The body alone.
    Body,
    /// Written, but not as a number.
    Open,
}

/// What is open about the numbers of a group.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) enum Open {
    /// Nothing.
    #[default]
    None,
    /// `20x8`: load × reps or sets × reps, by the exercise.
    Pair,
    /// `80`: load or repetitions.
    Single,
    /// `8 10`, `10 @ 8`: two readings, whatever the exercise.
    Two(f64, f64),
    /// `3x10 @ 8`: the number behind `@` is a load or an RPE.
    SetsAt(f64),
    /// `5x100kg x3`: sets × load × reps or reps × load × sets.
    Crossed(f64, f64),
    /// `100x8 3`: so many sets, one more set of so many, or so many in reserve.
    Tail(f64),
}

/// The numbers of one group.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Core {
    /// The load.
    pub load: LoadPart,
    /// Repetitions of each set; empty when missing. Not whole or not finite: to be asked about.
    pub reps: Vec<f64>,
    /// Number of sets, where said before repetitions were known.
    pub count: Option<usize>,
    /// What is open.
    pub open: Open,
    /// `3 sets` alone: so many of the group before.
    pub count_for_last: Option<usize>,
    /// The first number of a pair, as sets: it was settled by a load elsewhere.
    pub said_reps: bool,
    /// Another way to read it is nearly as likely.
    pub doubtful: bool,
    /// Said to go on from the set before: `x9`, `same, 9`, `9 more`.
    pub same: bool,
}

impl Core {
    /// Only repetitions.
    pub(crate) fn of_reps(reps: f64) -> Self {
        Self {
            reps: vec![reps],
            said_reps: true,
            ..Self::default()
        }
    }

    fn full(load: LoadPart, reps: Vec<f64>) -> Self {
        Self {
            load,
            reps,
            ..Self::default()
        }
    }

    /// Whether it has a load and repetitions, or a pair that may be both.
    pub(crate) fn is_full(&self) -> bool {
        (self.load != LoadPart::None && !self.reps.is_empty()) && self.open != Open::Single
    }

    /// Whether it is a load without repetitions.
    pub(crate) fn is_load_only(&self) -> bool {
        self.load != LoadPart::None && self.reps.is_empty()
    }

    /// Whether it is repetitions without a load.
    pub(crate) fn is_reps_only(&self) -> bool {
        self.load == LoadPart::None && !self.reps.is_empty()
    }

    /// How many sets, as far as known.
    pub(crate) fn sets(&self) -> usize {
        self.reps.len().max(1)
    }

    /// Makes it `count` sets of the same. Not when it is a list already.
    pub(crate) fn repeat(&mut self, count: usize) -> bool {
        match self.reps.as_slice() {
            [one] => {
                self.reps = vec![*one; count];
                self.open = if self.open == Open::Pair {
                    Open::None
                } else {
                    self.open
                };
                true
            }
            [] => {
                self.count = Some(count);
                true
            }
            list => list.len() == count,
        }
    }

    /// Settles `3x8` as sets × reps without a load, where the first number is that small.
    pub(crate) fn settle_body_pair(&mut self) {
        if let (Open::Pair, LoadPart::Num(first)) = (self.open, self.load)
            && first.value <= 5.0
            && let Some(reps) = repeated(first.value, &self.reps)
        {
            self.reps = reps;
            self.load = LoadPart::None;
            self.open = Open::None;
        }
    }

    /// Settles two bare numbers as repetitions of two sets.
    pub(crate) fn settle_as_reps(&mut self) {
        self.load = LoadPart::None;
        self.open = Open::None;
        self.said_reps = true;
    }

    /// Whether its load is surely more than so many repetitions.
    pub(crate) fn exceeds(&self, reps: f64) -> bool {
        match self.load {
            LoadPart::Num(num) => {
                num.is_load() || num.value > 2.0 * reps || num.value > SURELY_LOAD
            }
            _ => true,
        }
    }

    /// `20 push-ups x 3`: what seemed a load counts repetitions.
    pub(crate) fn turn_to_sets(&mut self, reps: f64, sets: usize) {
        self.load = LoadPart::None;
        self.reps = vec![reps; sets];
        self.open = Open::None;
        self.said_reps = true;
    }

    /// `2x18` before repetitions is two dumbbells. Returns whether it was.
    pub(crate) fn turn_to_dumbbells(&mut self, reps: &[f64]) -> bool {
        let (Open::Pair, LoadPart::Num(two), [each]) = (self.open, self.load, self.reps.as_slice())
        else {
            return false;
        };
        if two.is_load() || (two.value - 2.0).abs() > 0.1 {
            return false;
        }
        let each = Num {
            value: *each,
            per_hand: true,
            ..Num::default()
        };
        *self = Self::full(LoadPart::Num(each), reps.to_vec());
        true
    }

    /// Gives repetitions to a load.
    pub(crate) fn set_reps(&mut self, reps: f64) {
        self.reps = vec![reps; self.count.unwrap_or(1)];
        if self.open == Open::Single {
            self.open = Open::None;
        }
    }

    /// Takes the load of the group before, where it has none: `80x10, then x9`.
    pub(crate) fn inherit(&mut self, before: &Self) {
        if self.is_reps_only() && before.is_full() && self.open == Open::None {
            self.load = before.load;
            self.open = if before.open == Open::Pair {
                Open::Pair
            } else {
                Open::None
            };
        }
    }

    /// Joins another part of the same group: repetitions to a load or a load to repetitions.
    /// `led` says that a word like `with` or `at` stands before the other part.
    pub(crate) fn merge(&mut self, other: &Self, led: bool) -> bool {
        if self.is_load_only() && other.is_reps_only() && other.open == Open::None {
            self.reps.clone_from(&other.reps);
            self.settle_single();
            return true;
        }
        if self.is_load_only() && other.open == Open::Pair && self.takes_sets_of(other) {
            return true;
        }
        if led && other.is_load_only() && self.turn_to_reps(other.load) {
            return true;
        }
        if self.is_reps_only() && other.is_load_only() && (led || other.is_plain_load()) {
            self.load = other.load;
            self.open = Open::None;
            return true;
        }
        // `3x10 ... at 80kg` with a name between: the pair is sets × reps.
        if self.open == Open::Pair && other.is_load_only() && (led || other.is_plain_load()) {
            return self.pair_to_sets(other.load);
        }
        false
    }

    /// `did 8 on bench with 100`: a bare number before a load was repetitions.
    fn turn_to_reps(&mut self, load: LoadPart) -> bool {
        let (Open::Single, LoadPart::Num(reps), LoadPart::Num(num)) = (self.open, self.load, load)
        else {
            return false;
        };
        let apart = num.is_load() || num.value > 10.0;
        if !apart || reps.is_load() || reps.value > SURELY_LOAD || !self.reps.is_empty() {
            return false;
        }
        self.reps = vec![reps.value];
        self.load = load;
        self.open = Open::None;
        true
    }

    fn is_plain_load(&self) -> bool {
        matches!(self.load, LoadPart::Num(num) if num.is_load()) || self.load == LoadPart::Body
    }

    fn settle_single(&mut self) {
        if self.open == Open::Single {
            self.open = Open::None;
        }
        if let Some(count) = self.count.take()
            && let [one] = self.reps.as_slice()
        {
            self.reps = vec![*one; count];
        }
    }

    /// `80kg ... 3x10`: the pair behind a load is sets × reps.
    fn takes_sets_of(&mut self, pair: &Self) -> bool {
        let LoadPart::Num(first) = pair.load else {
            return false;
        };
        let sets = first.value;
        let load_large = match self.load {
            LoadPart::Num(num) => num.is_load() || num.value > sets,
            _ => true,
        };
        if first.is_load() || sets > 10.0 || !load_large {
            return false;
        }
        let Some(reps) = repeated(sets, &pair.reps) else {
            return false;
        };
        self.reps = reps;
        self.open = Open::None;
        true
    }

    /// Settles a pair as sets × reps with this load.
    fn pair_to_sets(&mut self, load: LoadPart) -> bool {
        let LoadPart::Num(first) = self.load else {
            return false;
        };
        let Some(reps) = repeated(first.value, &self.reps) else {
            return false;
        };
        self.load = load;
        self.reps = reps;
        self.open = Open::None;
        true
    }

    /// Takes a load written behind `@`.
    pub(crate) fn take_load(&mut self, num: Num) -> bool {
        if self.turn_to_reps(LoadPart::Num(num)) {
            return true;
        }
        if self.is_reps_only() {
            self.load = LoadPart::Num(num);
            return true;
        }
        self.open == Open::Pair && self.pair_to_sets(LoadPart::Num(num))
    }

    /// `80 @ 8`, `10 reps @ 8`: the number behind `@` makes two readings, unless the first can
    /// only be a load (then it is RPE and repetitions are missing). Returns whether it did.
    pub(crate) fn rival(&mut self, num: Num, body: bool) -> bool {
        let single = self.open == Open::Single;
        if body && !single || num.value < 5.0 || num.value.fract() != 0.0 {
            return false;
        }
        match (&self.load, self.open, self.reps.as_slice()) {
            (LoadPart::Num(load), Open::Single, []) if load.value <= SURELY_LOAD => {
                self.open = Open::Two(load.value, num.value);
                self.reps = vec![load.value];
                self.load = LoadPart::None;
                true
            }
            (LoadPart::Num(sets), Open::Pair, reps) if sets.value <= 5.0 => {
                let Some(reps) = repeated(sets.value, reps) else {
                    return false;
                };
                self.reps = reps;
                self.load = LoadPart::None;
                self.open = Open::SetsAt(num.value);
                true
            }
            (LoadPart::None, Open::None, [reps]) => {
                self.open = Open::Two(*reps, num.value);
                true
            }
            _ => false,
        }
    }
}

/// Whether a number behind a set of so many repetitions is as likely sets or reserve.
pub(crate) fn is_tail(value: f64, reps: f64) -> bool {
    value.fract() == 0.0 && value <= MOST_TAIL && 2.0 * value <= reps
}

/// `sets` times the same repetitions; a list under `sets ×` must have as many.
fn repeated(sets: f64, reps: &[f64]) -> Option<Vec<f64>> {
    let count = count(sets)?;
    match reps {
        [one] => Some(vec![*one; count]),
        list if list.len() == count => Some(list.to_vec()),
        _ => None,
    }
}

/// A number of sets, 1 to 20.
pub(crate) fn count(sets: f64) -> Option<usize> {
    if sets.fract() != 0.0 || !(1.0..=MOST_SETS).contains(&sets) {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 1 to 20 by the line above"
    )]
    Some(sets as usize)
}

/// Whether repetitions are far more than those of the set before: then they are a load.
pub(crate) fn is_far(value: f64, last: f64) -> bool {
    value > (2.0 * last).max(last + 10.0)
}

/// The items of a message, to be read as numbers of groups.
struct CoreReader<'c> {
    scan: &'c Scan<'c>,
    items: &'c [Spanned],
    dumbbells: bool,
    usual: &'c Usual<'c>,
}

impl CoreReader<'_> {
    fn item(&self, at: usize) -> Option<&Item> {
        self.items.get(at).map(|spanned| &spanned.item)
    }

    fn num(&self, at: usize) -> Option<Num> {
        match self.item(at) {
            Some(Item::Num(num)) => Some(*num),
            _ => None,
        }
    }

    fn is(&self, at: usize, item: &Item) -> bool {
        self.item(at) == Some(item)
    }

    /// A number that can be repetitions: bare.
    fn plain(&self, at: usize) -> Option<f64> {
        self.num(at)
            .filter(|num| {
                num.unit.is_none()
                    && num.sign == Sign::None
                    && !num.per_hand
                    && !num.load
                    && !num.total
            })
            .map(|num| num.value)
    }
}
