//! The numbers of one group: load, repetitions, sets, in every order that lifters write them.
//!
//! ```text
//! load × reps        80x10 · 80kg for 10 · 80 kilos, 10 reps · 10 @ 80kg · 10 reps with 80
//! sets × reps        3x10 80kg · 3x10 @ 80 · 3 sets of 10 at 80 · 80 3x10 · 80x10x3
//! lists              80x10, 9, 8 · 80: 10/9/8 · 80 for 12, 11 and 9
//! parts alone        80kg · 12 reps · x9
//! ```

use super::item::{Item, Num, Sign, Spanned};
use super::scan::Scan;
use super::token::Kind;
use super::vocabulary::{Roles, W};

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
pub(super) enum LoadPart {
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
pub(super) enum Open {
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
pub(super) struct Core {
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
    /// The load was taken over from the group before.
    pub inherited: bool,
    /// The first number of a pair, as sets: it was settled by a load elsewhere.
    pub said_reps: bool,
}

impl Core {
    /// Only repetitions.
    pub(super) fn of_reps(reps: f64) -> Self {
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
    pub(super) fn is_full(&self) -> bool {
        (self.load != LoadPart::None && !self.reps.is_empty()) && self.open != Open::Single
    }

    /// Whether it is a load without repetitions.
    pub(super) fn is_load_only(&self) -> bool {
        self.load != LoadPart::None && self.reps.is_empty()
    }

    /// Whether it is repetitions without a load.
    pub(super) fn is_reps_only(&self) -> bool {
        self.load == LoadPart::None && !self.reps.is_empty()
    }

    /// How many sets, as far as known.
    pub(super) fn sets(&self) -> usize {
        self.reps.len().max(1)
    }

    /// Makes it `count` sets of the same. Not when it is a list already.
    pub(super) fn repeat(&mut self, count: usize) -> bool {
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
    pub(super) fn settle_body_pair(&mut self) {
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
    pub(super) fn settle_as_reps(&mut self) {
        self.load = LoadPart::None;
        self.open = Open::None;
        self.said_reps = true;
    }

    /// Whether its load is surely more than so many repetitions.
    pub(super) fn exceeds(&self, reps: f64) -> bool {
        match self.load {
            LoadPart::Num(num) => {
                num.is_load() || num.value > 2.0 * reps || num.value > SURELY_LOAD
            }
            _ => true,
        }
    }

    /// Gives repetitions to a load.
    pub(super) fn set_reps(&mut self, reps: f64) {
        self.reps = vec![reps; self.count.unwrap_or(1)];
        if self.open == Open::Single {
            self.open = Open::None;
        }
    }

    /// Takes the load of the group before, where it has none: `80x10, then x9`.
    pub(super) fn inherit(&mut self, before: &Self) {
        if self.is_reps_only() && before.is_full() && self.open == Open::None {
            self.load = before.load;
            self.open = if before.open == Open::Pair {
                Open::Pair
            } else {
                Open::None
            };
            self.inherited = true;
        }
    }

    /// Joins another part of the same group: repetitions to a load or a load to repetitions.
    /// `led` says that a word like `with` or `at` stands before the other part.
    pub(super) fn merge(&mut self, other: &Self, led: bool) -> bool {
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
    pub(super) fn take_load(&mut self, num: Num) -> bool {
        if self.turn_to_reps(LoadPart::Num(num)) {
            return true;
        }
        if self.is_reps_only() {
            self.load = LoadPart::Num(num);
            return true;
        }
        self.open == Open::Pair && self.pair_to_sets(LoadPart::Num(num))
    }
}

/// `3x80kg x10` is sets × load × reps, `8x100kg x3` reps × load × sets; of small numbers either
/// may be either.
fn crossed(a: Num, load: Num, c: Num) -> Option<Core> {
    let (sets, reps) = if a.value >= 6.0 && c.value < a.value {
        (c.value, a.value)
    } else {
        (a.value, c.value)
    };
    let mut core = Core::full(LoadPart::Num(load), repeated(sets, &[reps])?);
    if a.value < 6.0 && c.value < a.value && c.value > 1.0 {
        core.open = Open::Crossed(a.value, c.value);
    }
    Some(core)
}

/// Whether a number behind a set of so many repetitions is as likely sets or reserve.
pub(super) fn is_tail(value: f64, reps: f64) -> bool {
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

pub(super) fn count(sets: f64) -> Option<usize> {
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
pub(super) fn is_far(value: f64, last: f64) -> bool {
    value > (2.0 * last).max(last + 10.0)
}

/// The numbers that start at item `at`, and the item after them.
/// `dumbbells` says that the exercise named before is done with a dumbbell in each hand.
pub(super) fn at(
    scan: &Scan<'_>,
    items: &[Spanned],
    at: usize,
    dumbbells: bool,
) -> Option<(Core, usize)> {
    let reader = CoreReader {
        scan,
        items,
        dumbbells,
    };
    match reader.item(at)? {
        Item::Body => Some(reader.behind_load(LoadPart::Body, at + 1)),
        Item::OpenLoad => Some(reader.behind_load(LoadPart::Open, at + 1)),
        Item::Times => reader.times_first(at),
        Item::Same => reader.same_first(at),
        Item::More => reader.more_sets(at),
        Item::Sets => reader.uncounted(at),
        Item::Num(num) => reader.number_first(at, *num),
        _ => None,
    }
}

/// Where the load of a list stands.
#[derive(Clone, Copy, PartialEq)]
enum Loads {
    /// Before it, or nowhere: `8 at 70` within it is a set of its own.
    Before,
    /// Behind it, if at all: `8, 8, 7 at 185`.
    Follow,
}

struct CoreReader<'c> {
    scan: &'c Scan<'c>,
    items: &'c [Spanned],
    dumbbells: bool,
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

    /// `x9`, `x 9, 8`, `x3 sets`.
    fn times_first(&self, at: usize) -> Option<(Core, usize)> {
        let value = self.plain(at + 1)?;
        if self.is(at + 2, &Item::Sets) {
            return Some((
                Core {
                    count_for_last: Some(count(value)?),
                    ..Core::default()
                },
                at + 3,
            ));
        }
        if self.is(at + 2, &Item::Times) {
            let next = self.plain(at + 3)?;
            // `x5 x5 x4` are three sets, `x8 x 3` three of one.
            if next > 5.0 || next + 1.0 >= value || self.is(at + 4, &Item::Times) {
                return Some((Core::of_reps(value), at + 2));
            }
            let sets = count(next)?;
            let core = Core {
                reps: vec![value; sets],
                said_reps: true,
                ..Core::default()
            };
            return Some((core, at + 4));
        }
        let (reps, to) = self.list(at + 1, Loads::Before)?;
        let core = Core {
            reps,
            said_reps: true,
            ..Core::default()
        };
        Some(self.with_load_behind(core, to))
    }

    /// `same, 9`, `again 9`, `another 8`.
    fn same_first(&self, at: usize) -> Option<(Core, usize)> {
        let mut from = at + 1;
        while from < at + 6
            && (matches!(
                self.item(from),
                Some(
                    Item::Comma
                        | Item::Times
                        | Item::For
                        | Item::Same
                        | Item::Colon
                        | Item::With
                        | Item::Of
                        | Item::Sets
                        | Item::Dash(_)
                )
            ) || self.same_word(from))
        {
            from += 1;
        }
        let value = self.plain(from)?;
        if self.is(from + 1, &Item::Times) || value > 100.0 {
            return None;
        }
        let (reps, to) = self.list(from, Loads::Before)?;
        Some((
            Core {
                reps,
                said_reps: true,
                ..Core::default()
            },
            to,
        ))
    }

    /// `same weight`, `same load`.
    fn same_word(&self, at: usize) -> bool {
        self.items.get(at).is_some_and(|s| {
            s.item == Item::Word
                && self.scan.token(s.from).is_some_and(|t| {
                    matches!(
                        self.scan.text.text_of(t),
                        "weight" | "load" | "one" | "bar" | "thing" | "as" | "before" | "here"
                    )
                })
        })
    }

    /// `100 for sets of 5`: how many sets is not said.
    fn uncounted(&self, at: usize) -> Option<(Core, usize)> {
        let counted = at.checked_sub(1).is_some_and(|at| self.num(at).is_some());
        self.plain(at + 2)
            .filter(|_| self.is(at + 1, &Item::Of) && !counted)?;
        Some((Core::of_reps(f64::NAN), at + 3))
    }

    /// Repetitions, or sets × reps, behind a load.
    fn behind_load(&self, load: LoadPart, at: usize) -> (Core, usize) {
        let mut from = at;
        while matches!(
            self.item(from),
            Some(Item::Times | Item::Colon | Item::Comma | Item::For | Item::Dash(false))
        ) && from < at + 2
        {
            from += 1;
        }
        if let Some(found) = self.sets_and_reps(load, from) {
            return found;
        }
        if self.plain(from).is_some()
            && let Some((reps, to)) = self.list(from, Loads::Before)
        {
            return (Core::full(load, reps), to);
        }
        (Core::full(load, Vec::new()), at)
    }

    /// `3x10`, `3 sets of 10` with a load known.
    fn sets_and_reps(&self, load: LoadPart, at: usize) -> Option<(Core, usize)> {
        let sets = self.plain(at)?;
        let from = if self.is(at + 1, &Item::Times) {
            at + 2
        } else if self.is(at + 1, &Item::Sets) {
            self.skip_of(at + 2)
        } else {
            return None;
        };
        self.plain(from)?;
        if self.is(from + 1, &Item::Times) {
            return None;
        }
        let (reps, to) = self.list(from, Loads::Before)?;
        let reps = repeated(sets, &reps)?;
        Some((Core::full(load, reps), to))
    }

    fn skip_of(&self, at: usize) -> usize {
        let skip = matches!(
            self.item(at),
            Some(
                Item::Of
                    | Item::Times
                    | Item::Comma
                    | Item::Colon
                    | Item::With
                    | Item::For
                    | Item::Dash(_)
                    | Item::At
            )
        );
        at + usize::from(skip)
    }

    fn number_first(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let next = at + 1;
        if a.reps {
            return self.listed_reps(at);
        }
        match self.item(next) {
            Some(Item::Num(noun)) if noun.reps && !a.is_load() && a.value <= 10.0 => {
                self.counted_noun(a, *noun, next + 1)
            }
            Some(Item::Times) => self.product(at, a),
            Some(Item::Sets) => self.sets_first(at, a),
            Some(Item::Reps) => self.listed_reps(at),
            Some(Item::More | Item::Same) if !a.is_load() => self.more(a, at),
            Some(Item::For) if self.num(next + 1).is_some() => self.load_for(a, next + 1),
            Some(Item::At | Item::With) => self.reps_at_load(at, a),
            Some(Item::Colon | Item::Dash(false)) if self.plain(next + 1).is_some() => {
                self.load_colon(a, next + 1)
            }
            _ => self.bare(at, a),
        }
    }

    /// `80x10`, `80x10x3`, `3x10`, `2x30 x 10`, `10x80kg`.
    fn product(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let b = self.num(at + 2)?;
        if self.is(at + 3, &Item::Times)
            && let Some(c) = self.num(at + 4)
        {
            return self.chain(at, a).or_else(|| self.triple(a, b, c, at));
        }
        let halved = b.value.fract() > 0.0 && (a.value - 2.0).abs() < 0.1;
        if b.unit.is_some() || b.per_hand || halved {
            return self.product_of_load(at, a, b);
        }
        if self.is(at + 3, &Item::Sets) {
            // `10 x 3 sets`
            let sets = count(b.value)?;
            return Some(self.with_load_behind(
                Core {
                    reps: vec![a.value; sets],
                    said_reps: true,
                    ..Core::default()
                },
                at + 4,
            ));
        }
        if let Some(found) = self.two_dumbbells(at, a, b) {
            return Some(found);
        }
        let (reps, to) = self.list(at + 2, Loads::Before)?;
        if a.is_load() {
            return Some(self.with_count(Core::full(LoadPart::Num(a), reps), to));
        }
        let core = Core {
            load: LoadPart::Num(a),
            reps,
            open: Open::Pair,
            ..Core::default()
        };
        if a.value <= MOST_SETS
            && let Some((load, end)) = self.load_behind(to, a.value)
        {
            let mut sets = core.clone();
            if sets.pair_to_sets(load) {
                return Some((sets, end));
            }
        }
        Some(self.with_count(core, to))
    }

    /// `2x16 for 12`, and, of dumbbells only, `2x14 8`.
    fn two_dumbbells(&self, at: usize, a: Num, b: Num) -> Option<(Core, usize)> {
        if a.is_load() || (a.value - 2.0).abs() > 0.1 {
            return None;
        }
        let led = self.is(at + 3, &Item::For);
        let from = at + 3 + usize::from(led);
        let reps = self.plain(from)?;
        let fits = reps <= SURELY_LOAD
            && reps.fract() == 0.0
            && !self.starts_group(from + 1)
            && (led || self.dumbbells);
        let (reps, to) = self.list(from, Loads::Before).filter(|_| fits)?;
        let load = LoadPart::Num(Num {
            per_hand: true,
            ..b
        });
        Some((Core::full(load, reps), to))
    }

    /// The second number is the load: `2x26kg for 9` is one of two dumbbells, `10x80kg` is reps ×
    /// load, `3x80kg x 10` is sets × load × reps.
    fn product_of_load(&self, at: usize, a: Num, b: Num) -> Option<(Core, usize)> {
        let mut from = at + 3;
        if matches!(self.item(from), Some(Item::For | Item::Comma))
            && self.plain(from + 1).is_some()
        {
            from += 1;
        }
        let pair = (a.value - 2.0).abs() < 0.1 && !a.is_load();
        if self.plain(from).is_some() && (pair || a.value <= 6.0) {
            let (reps, to) = self.list(from, Loads::Before)?;
            let load = LoadPart::Num(Num {
                per_hand: b.per_hand || pair,
                ..b
            });
            if pair {
                return Some(self.with_count(Core::full(load, reps), to));
            }
            return Some((Core::full(load, repeated(a.value, &reps)?), to));
        }
        if pair {
            let load = LoadPart::Num(Num {
                per_hand: true,
                ..b
            });
            return Some((Core::full(load, Vec::new()), at + 3));
        }
        Some(self.with_count(Core::full(LoadPart::Num(b), vec![a.value]), at + 3))
    }

    /// `100x8x7x6`, `100 x8 x7 x6`: longer than load × reps × sets, it lists repetitions.
    fn chain(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let mut reps = Vec::new();
        let mut to = at + 1;
        while reps.len() < LONGEST
            && self.is(to, &Item::Times)
            && let Some(value) = self.plain(to + 1)
        {
            reps.push(value);
            to += 2;
        }
        let long = reps.len() > 2 && reps.iter().all(|value| *value < a.value);
        long.then(|| (Core::full(LoadPart::Num(a), reps), to))
    }

    fn triple(&self, a: Num, b: Num, c: Num, at: usize) -> Option<(Core, usize)> {
        let mut to = at + 5;
        if matches!(self.item(to), Some(Item::Sets | Item::Reps)) {
            to += 1;
        }
        if c.is_load() {
            let reps = repeated(a.value, &[b.value])?;
            return Some((Core::full(LoadPart::Num(c), reps), to));
        }
        if (a.value - 2.0).abs() < 0.1 && !a.is_load() {
            let load = LoadPart::Num(Num {
                per_hand: true,
                ..b
            });
            let (reps, end) = self.list(at + 4, Loads::Before)?;
            return Some((Core::full(load, reps), end));
        }
        if b.is_load() {
            return Some((crossed(a, b, c)?, to));
        }
        if !a.is_load() && a.value <= 10.0 && b.value > SURELY_LOAD && c.value <= SURELY_LOAD {
            let reps = repeated(a.value, &[c.value])?;
            return Some((Core::full(LoadPart::Num(b), reps), to));
        }
        if !a.is_load() && a.value <= 10.0 && c.value > MOST_SETS {
            let reps = repeated(a.value, &[b.value])?;
            return Some((Core::full(LoadPart::Num(c), reps), to));
        }
        let reps = repeated(c.value, &[b.value])?;
        Some((Core::full(LoadPart::Num(a), reps), to))
    }

    /// `3 sets of 10 at 80`, `3 sets of 80x10`, `, 3 sets`.
    fn sets_first(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let sets = count(a.value)?;
        let from = self.skip_of(at + 2);
        let Some(b) = self.num(from) else {
            let core = Core {
                count_for_last: Some(sets),
                ..Core::default()
            };
            return Some((core, at + 2));
        };
        let joined = matches!(self.item(from + 1), Some(Item::Times | Item::For));
        if joined && let Some(c) = self.num(from + 2) {
            let (load, reps) = if c.is_load() {
                (c, b.value)
            } else {
                (b, c.value)
            };
            return Some((Core::full(LoadPart::Num(load), vec![reps; sets]), from + 3));
        }
        if b.is_load() {
            let (mut core, to) = self.behind_load(LoadPart::Num(b), from + 1);
            core.count = Some(sets);
            core.settle_single_list();
            return Some((core, to));
        }
        let (list, to) = self.list(from, Loads::Follow)?;
        // `4 sets, 185, 8 each`
        if let [load, reps] = list.as_slice()
            && *load > SURELY_LOAD
            && *load >= 2.0 * reps
        {
            let load = LoadPart::Num(Num {
                value: *load,
                ..Num::default()
            });
            return Some((Core::full(load, vec![*reps; sets]), to));
        }
        let reps = repeated(a.value, &list)?;
        Some(self.with_load_behind(
            Core {
                reps,
                said_reps: true,
                ..Core::default()
            },
            to,
        ))
    }

    /// `12 reps`, `5 reps, 5 reps, 4 reps at 95`, `a triple at 120`.
    fn listed_reps(&self, at: usize) -> Option<(Core, usize)> {
        let (reps, to) = self.list(at, Loads::Follow)?;
        let core = Core {
            reps,
            said_reps: true,
            ..Core::default()
        };
        Some(self.with_load_behind(core, to))
    }

    /// `three fives at 100`, `2 doubles`.
    fn counted_noun(&self, sets: Num, noun: Num, to: usize) -> Option<(Core, usize)> {
        let core = Core {
            reps: repeated(sets.value, &[noun.value])?,
            said_reps: true,
            ..Core::default()
        };
        Some(self.with_load_behind(core, to))
    }

    /// `9 more`, `9 again`; `3 more sets` is none; `245 again` is a load.
    fn more(&self, a: Num, at: usize) -> Option<(Core, usize)> {
        if self.is(at + 1, &Item::Same) && a.value > SURELY_LOAD {
            let load = LoadPart::Num(Num { load: true, ..a });
            return Some(self.behind_load(load, at + 2));
        }
        if self.is(at + 2, &Item::Sets) {
            let reps = self.plain(self.skip_of(at + 3))?;
            let core = Core {
                reps: vec![reps; count(a.value)?],
                said_reps: true,
                ..Core::default()
            };
            return Some((core, self.skip_of(at + 3) + 1));
        }
        if self.counts_something(at + 2) {
            return None;
        }
        let to = if self.is(at + 2, &Item::Reps) {
            at + 3
        } else {
            at + 2
        };
        Some((Core::of_reps(a.value), to))
    }

    /// `10 more minutes`, `2 more to go`: not repetitions.
    fn counts_something(&self, at: usize) -> bool {
        let Some(token) = self.items.get(at).and_then(|s| self.scan.token(s.from)) else {
            return false;
        };
        matches!(
            token.word.w,
            W::Min | W::Sec | W::Day | W::Week | W::Hour | W::To | W::Till | W::Of | W::Time
        )
    }

    /// `one more set, 8`.
    fn more_sets(&self, at: usize) -> Option<(Core, usize)> {
        let from = self.skip_of(at + 2);
        let one = self.is(at + 1, &Item::Sets)
            && self
                .items
                .get(at.checked_sub(1)?)
                .is_some_and(|s| self.scan.w(s.from) == W::One);
        let (reps, to) = self.list(from, Loads::Before).filter(|_| one)?;
        let core = Core {
            reps,
            said_reps: true,
            ..Core::default()
        };
        Some((core, to))
    }

    /// `80 for 10`, `80 for 12, 11 and 9`, `80 for 3x10`, `80 for 3 sets of 10`.
    fn load_for(&self, a: Num, at: usize) -> Option<(Core, usize)> {
        if let Some(found) = self.sets_and_reps(LoadPart::Num(a), at) {
            return Some(found);
        }
        self.plain(at)?;
        if self.is(at + 1, &Item::Times) || self.is(at + 1, &Item::Sets) {
            return None;
        }
        let (reps, to) = self.list(at, Loads::Before)?;
        Some(self.with_count(Core::full(LoadPart::Num(a), reps), to))
    }

    /// `10 @ 80`, `10 with 55`; what follows `@` without being a load is settled elsewhere.
    fn reps_at_load(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let b = self.num(at + 2);
        let load = b.filter(|b| !a.is_load() && (b.unit.is_some() || b.value > 10.0));
        if let Some(b) = load
            && !self.is(at + 3, &Item::Times)
        {
            return Some((Core::full(LoadPart::Num(b), vec![a.value]), at + 3));
        }
        if let Some(b) = b
            && self.is(at + 1, &Item::At)
            && !a.is_load()
            && a.value <= SURELY_LOAD
            && (5.0..=10.0).contains(&b.value)
            && !self.is(at + 3, &Item::Times)
        {
            let core = Core {
                open: Open::Two(a.value, b.value),
                reps: vec![a.value],
                ..Core::default()
            };
            return Some((core, at + 3));
        }
        self.bare(at, a)
    }

    /// `80: 10/9/8`, `80 - 10, 9`, `80: 3x10`; `80 - 10 - 3` has a number too many.
    fn load_colon(&self, a: Num, at: usize) -> Option<(Core, usize)> {
        if let Some(found) = self.sets_and_reps(LoadPart::Num(a), at) {
            return Some(found);
        }
        if self.is(at + 1, &Item::Times) {
            return None;
        }
        let (reps, to) = self.list(at, Loads::Before)?;
        let mut core = Core::full(LoadPart::Num(a), reps);
        if let [reps] = *core.reps.as_slice()
            && self.is(to, &Item::Dash(false))
            && let Some(last) = self.plain(to + 1).filter(|last| is_tail(*last, reps))
            && self.clause_ends(to + 2)
        {
            core.open = Open::Tail(last);
            return Some((core, to + 2));
        }
        Some((core, to))
    }

    /// A number with none of the joining words behind it.
    fn bare(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        if a.is_load() {
            return Some(self.load_then(at, a));
        }
        let next = at + 1;
        if let Some(found) = self.two_bare(at, a) {
            return Some(found);
        }
        let listed = matches!(
            self.item(next),
            Some(Item::Comma | Item::Slash | Item::And | Item::Dash(true))
        );
        if listed
            && let Some((reps, to)) = self.list(at, Loads::Follow)
            && reps.len() > 1
        {
            return Some(self.plain_list(a, reps, to));
        }
        let core = Core {
            load: LoadPart::Num(a),
            open: Open::Single,
            ..Core::default()
        };
        Some((core, next))
    }

    /// `80kg 10`, `80kg, 10, 9`, `82.5 3x8`.
    fn load_then(&self, at: usize, a: Num) -> (Core, usize) {
        let load = LoadPart::Num(a);
        let comma = usize::from(matches!(
            self.item(at + 1),
            Some(Item::Comma | Item::Dash(_) | Item::Slash)
        ));
        let from = at + 1 + comma;
        if let Some(found) = self.sets_and_reps(load, from)
            && found.0.reps.len() <= 10
        {
            return found;
        }
        let fits = self
            .plain(from)
            .is_some_and(|b| b.fract() == 0.0 && b <= 100.0)
            && !matches!(
                self.item(from + 1),
                Some(Item::Times | Item::Sets | Item::For)
            )
            && !self.noun_follows(from + 1);
        if fits && let Some((reps, to)) = self.list(from, Loads::Before) {
            return (Core::full(load, reps), to);
        }
        (Core::full(load, Vec::new()), at + 1)
    }

    /// Two bare numbers side by side: `80 3x10`, `80 10 9`, `8 10`, `10 80kg`.
    fn two_bare(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        if self.is(at + 1, &Item::Body) && !self.is(at + 2, &Item::Times) {
            return Some((Core::full(LoadPart::Body, vec![a.value]), at + 2));
        }
        let b = self.num(at + 1)?;
        if b.is_load() && b.value.fract() == 0.0 && !self.is(at + 2, &Item::Times) {
            return Some((Core::full(LoadPart::Num(b), vec![a.value]), at + 2));
        }
        if a.value > 10.0
            && let Some(found) = self.sets_and_reps(LoadPart::Num(a), at + 1)
        {
            return Some(found);
        }
        if matches!(
            self.item(at + 2),
            Some(Item::Times | Item::Sets | Item::Reps | Item::For | Item::At)
        ) {
            return None;
        }
        if self.noun_follows(at + 2) {
            return None;
        }
        let (mut reps, to) = self.list(at + 1, Loads::Follow)?;
        reps.insert(0, a.value);
        Some(self.plain_list(a, reps, to))
    }

    /// A bare list: a load before repetitions where the first is far larger, else open.
    fn plain_list(&self, a: Num, reps: Vec<f64>, to: usize) -> (Core, usize) {
        let rest = reps.get(1..).unwrap_or_default();
        let most = rest.iter().copied().fold(0.0, f64::max);
        if a.value > SURELY_LOAD && a.value >= 2.0 * most {
            let mut core = Core::full(LoadPart::Num(a), rest.to_vec());
            // `100/8/3`
            if let [reps, last] = *rest
                && is_tail(last, reps)
            {
                core.reps.pop();
                core.open = Open::Tail(last);
            }
            return (core, to);
        }
        // `8, 8, 7 at 185`
        if matches!(self.item(to), Some(Item::With | Item::At))
            && let Some((load, end)) = self.load_behind(to, 0.0)
        {
            return (Core::full(load, reps), end);
        }
        let open = match reps.as_slice() {
            [first, second] => Open::Two(*first, *second),
            _ => Open::None,
        };
        let core = Core {
            reps,
            open,
            ..Core::default()
        };
        (core, to)
    }

    /// A list of repetitions from `at`: `10, 9, 8`, `10/9/8`, `12, 11 and 9`, `10-9-8`, `10 9 8`.
    fn list(&self, at: usize, loads: Loads) -> Option<(Vec<f64>, usize)> {
        let first = self.plain(at)?;
        let mut reps = vec![first];
        let mut to = at + 1;
        if let Some(span) = self.span(first, to).or_else(|| self.doubt(to)) {
            return Some((vec![f64::NAN], span));
        }
        while reps.len() < LONGEST
            && let Some((value, end)) = self.next_reps(to, &reps, loads)
        {
            reps.push(value);
            to = end;
        }
        if self.is(to, &Item::Reps) {
            to += 1;
        }
        Some((reps, to))
    }

    /// `8-10` with nothing behind it is a span of repetitions: a plan's, or not known.
    fn span(&self, low: f64, at: usize) -> Option<usize> {
        let to = self
            .items
            .get(at)
            .is_some_and(|s| self.scan.w(s.from) == W::To);
        let high = (to || self.is(at, &Item::Dash(true)))
            && self.plain(at + 1).is_some_and(|high| high > low);
        (high && !self.is(at + 2, &Item::Dash(true))).then_some(at + 2)
    }

    /// `8 or 9`: not known which.
    fn doubt(&self, at: usize) -> Option<usize> {
        let or = self
            .items
            .get(at)
            .is_some_and(|s| self.scan.w(s.from) == W::Or);
        (or && self.plain(at + 1).is_some()).then_some(at + 2)
    }

    fn next_reps(&self, at: usize, so_far: &[f64], loads: Loads) -> Option<(f64, usize)> {
        // `5 reps, 5 reps`
        let after_word = self.is(at, &Item::Reps);
        let at = at + usize::from(after_word);
        let mut from = at;
        let mut joined = false;
        while from < at + 3 {
            match self.item(from) {
                Some(Item::Comma | Item::And) => joined = true,
                Some(Item::Slash | Item::Dash(true)) => joined = true,
                Some(Item::Times) if joined || from == at => {}
                _ => break,
            }
            from += 1;
        }
        let crossed = from > at && self.is(from - 1, &Item::Times);
        if crossed && !joined {
            // `80x10 x9`: only where spaces tell it from `80x10x9`; a triple was read before.
            return None;
        }
        let value = self.plain(from)?;
        let whole = value.fract() == 0.0 && value <= 100.0;
        let load_follows =
            self.starts_group(from + 1) && !(loads == Loads::Follow && self.leads_load(from + 1));
        if !whole || load_follows || self.noun_follows(from + 1) {
            return None;
        }
        let last = so_far.last().copied().unwrap_or_default();
        if loads == Loads::Before && so_far.len() == 1 && self.tail_ends(value, last, from + 1) {
            return None;
        }
        // Bare spaces join only what looks like the next set's repetitions.
        let like_last = value * 2.0 >= last && value <= last * 2.0;
        // `60-10, 80-8`: far more than the set before is the load of the next.
        let far = is_far(value, last);
        let plausible = if after_word {
            joined && like_last
        } else {
            joined && !far || like_last
        };
        plausible.then_some((value, from + 1))
    }

    /// `80x10, x3` and `80x10, 3`: one number that is far less, and nothing behind it.
    fn tail_ends(&self, value: f64, last: f64, to: usize) -> bool {
        is_tail(value, last)
            && matches!(self.item(to), None | Some(Item::Break(_) | Item::Comma))
            && self.num(to + 1).is_none()
    }

    /// `at 95` behind a list is the load of all of it.
    fn leads_load(&self, at: usize) -> bool {
        matches!(self.item(at), Some(Item::With | Item::At))
            && self
                .num(at + 1)
                .is_some_and(|num| num.unit.is_some() || num.value > 10.0)
            && !matches!(self.item(at + 2), Some(Item::Times | Item::For))
    }

    /// Whether the item makes the number before it the start of something else.
    fn starts_group(&self, at: usize) -> bool {
        matches!(
            self.item(at),
            Some(
                Item::Times
                    | Item::For
                    | Item::Sets
                    | Item::With
                    | Item::Foreign
                    | Item::Colon
                    | Item::More
            )
        ) && !(matches!(self.item(at), Some(Item::With)) && self.num(at + 1).is_none())
            || self.is(at, &Item::At)
                && self
                    .num(at + 1)
                    .is_some_and(|n| n.unit.is_some() || n.value > 10.0)
            || self
                .num(at)
                .is_some_and(|n| n.is_load() && n.unit.is_some())
    }

    /// A number directly followed by an unknown or a counted word is not repetitions: `10 people`.
    fn noun_follows(&self, at: usize) -> bool {
        self.items.get(at).is_some_and(|s| {
            matches!(s.item, Item::Word)
                && self
                    .scan
                    .token(s.from)
                    .is_some_and(|t| t.kind == Kind::Word && !t.word.roles.any(Roles::FILL))
        })
    }

    /// A load behind repetitions: `12 reps with 55`, `3x10 @ 80`, `3x10 80kg`.
    fn with_load_behind(&self, mut core: Core, to: usize) -> (Core, usize) {
        let to = if self.is(to, &Item::Reps) { to + 1 } else { to };
        match self.load_behind(to, 0.0) {
            Some((load, end)) => {
                core.load = load;
                (core, end)
            }
            None => (core, to),
        }
    }

    fn load_behind(&self, at: usize, sets: f64) -> Option<(LoadPart, usize)> {
        let led = matches!(
            self.item(at),
            Some(Item::At | Item::With | Item::Of | Item::For)
        );
        let comma = matches!(
            self.item(at),
            Some(Item::Comma | Item::Dash(false) | Item::Colon)
        );
        let from = at + usize::from(led || comma);
        if self.is(from, &Item::Body) && !self.is(from + 1, &Item::Times) {
            return Some((LoadPart::Body, from + 1));
        }
        let num = self.num(from)?;
        let takes = match self.item(from + 1) {
            Some(Item::Times | Item::Sets | Item::Reps | Item::For | Item::Colon) => false,
            Some(Item::Num(_)) if !num.is_load() => false,
            _ => true,
        };
        let by_words = num.unit.is_some() || num.per_hand || num.total || num.sign != Sign::None;
        let is_load = by_words
            || led && num.value > 10.0
            || !comma && num.value > 10.0f64.max(2.0 * sets) && num.value > 12.0;
        // `3x10 - 150`, `3x8 (225)`, `3x10, 150`: nothing else ends such a clause.
        let apart = comma
            && (1.0..=6.0).contains(&sets)
            && num.value > SURELY_LOAD
            && self.clause_ends(from + 1);
        let is_load = is_load || apart;
        let rpe = self.is(at, &Item::At) && !by_words && num.value <= 10.0;
        (takes && is_load && !rpe).then_some((LoadPart::Num(num), from + 1))
    }

    fn clause_ends(&self, at: usize) -> bool {
        matches!(
            self.item(at),
            None | Some(
                Item::Comma
                    | Item::Break(_)
                    | Item::Effort(_)
                    | Item::Rest(_)
                    | Item::Day(_)
                    | Item::Technique(_)
                    | Item::Side
                    | Item::Name(_)
            )
        )
    }

    /// `80x10 x3`, `80x10, 3 sets`, `80x10 for 3 sets`.
    fn with_count(&self, mut core: Core, to: usize) -> (Core, usize) {
        let skip = matches!(self.item(to), Some(Item::Comma | Item::For | Item::Times)) as usize;
        let sets = self
            .plain(to + skip)
            .filter(|_| self.is(to + skip + 1, &Item::Sets))
            .and_then(count);
        match sets {
            Some(sets) if core.reps.len() == 1 && !self.num_or_of(to + skip + 2) => {
                core.repeat(sets);
                (core, to + skip + 2)
            }
            _ => (core, to),
        }
    }

    fn num_or_of(&self, at: usize) -> bool {
        matches!(self.item(at), Some(Item::Of)) || self.num(at).is_some()
    }
}

impl Core {
    fn settle_single_list(&mut self) {
        if !self.reps.is_empty() {
            self.settle_single();
        }
    }

    /// `80 @ 8`, `10 reps @ 8`: the number behind `@` makes two readings, unless the first can
    /// only be a load (then it is RPE and repetitions are missing). Returns whether it did.
    pub(super) fn rival(&mut self, num: Num, body: bool) -> bool {
        if body || num.value < 5.0 || num.value.fract() != 0.0 {
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
