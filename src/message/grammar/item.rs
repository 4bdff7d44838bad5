//! What the tokens of a message add up to, before it is known whether they make a set.

use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;

use crate::message::reading::{Day, Technique};

/// The item that holds token `at`: items follow each other without gaps.
pub(crate) fn item_at(items: &[Spanned], at: usize) -> Option<&Spanned> {
    let place = items.partition_point(|spanned| spanned.to <= at);
    items.get(place).filter(|spanned| spanned.from <= at)
}

/// A plus or minus written before a number.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Sign {
    /// None.
    #[default]
    None,
    /// `+20`, `bw+20`.
    Plus,
    /// `-15`.
    Minus,
}

/// A number that may be a load, repetitions or sets.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Num {
    /// The number, never negative.
    pub value: f64,
    /// A unit behind it.
    pub unit: Option<Unit>,
    /// A sign before it.
    pub sign: Sign,
    /// `30s`, `2x30`, `30 each hand`.
    pub per_hand: bool,
    /// `140 total`.
    pub total: bool,
    /// `assisted 15`.
    pub assisted: bool,
    /// Words say that it is a load: `down to 70`.
    pub load: bool,
    /// Words say that it is repetitions: `a triple`.
    pub reps: bool,
}

impl Num {
    /// Whether it can only be a load.
    pub(crate) fn is_load(&self) -> bool {
        self.unit.is_some()
            || self.per_hand
            || self.total
            || self.load
            || self.assisted
            || self.sign != Sign::None
            || self.value.fract() > 0.0
    }
}

/// An effort, with the sets it says it is for.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Effort {
    /// Reserve of one set, or of all that it stands behind.
    One(f64),
    /// One reserve for each set.
    Many(Vec<f64>),
    /// Off the scale.
    Bad,
}

/// What one of several sets was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct OneSet {
    /// Its place, from 1; 0 for the last.
    pub place: f64,
    /// Its repetitions; `None` where the last of them failed.
    pub reps: Option<f64>,
}

/// One phrase.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Item {
    /// An exercise.
    Name(ExerciseId),
    /// A number.
    Num(Num),
    /// The body alone.
    Body,
    /// The empty bar, plates by count: a load that no number gives.
    OpenLoad,
    /// `x`.
    Times,
    /// `@`.
    At,
    /// `at`, `with`.
    With,
    /// `for`.
    For,
    /// `of`.
    Of,
    /// `sets`.
    Sets,
    /// `reps`.
    Reps,
    /// `,`.
    Comma,
    /// `/` between numbers.
    Slash,
    /// `-` between numbers; true when glued to both.
    Dash(bool),
    /// `:`.
    Colon,
    /// `and`, `&`, `then`.
    And,
    /// The end of a sentence or of a line; true for a line.
    Break(bool),
    /// Reserve.
    Effort(Effort),
    /// Rest taken, seconds.
    Rest(u32),
    /// A length of time that may be rest, seconds.
    Duration(u32),
    /// A day.
    Day(Day),
    /// Warm-up.
    Warm,
    /// Work sets follow.
    Work,
    /// How it was done.
    Technique(Technique),
    /// Repetitions are per side.
    Side,
    /// The load is one hand's.
    PerHand,
    /// Load is taken off the body.
    Assisted,
    /// Load is hung on the body.
    Added,
    /// Failed this repetition.
    FailedAt(f64),
    /// `same`, `again`, `another`.
    Same,
    /// `more`.
    More,
    /// `last one`, `last set`.
    Last,
    /// `last two`, `last 3 sets`: what follows is of so many.
    LastFew(usize),
    /// `each`, `all`: an effort is for every set.
    Every,
    /// `twice`, `(x3)`: so many sets of what stands before.
    Repeat(f64),
    /// `6 on the last`, `second set only 7`.
    OneSet(OneSet),
    /// `set 2:`, `1)`.
    Label,
    /// A number that belongs to something else.
    Foreign,
    /// Another word.
    Word,
}

/// An item with its tokens.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Spanned {
    /// The item.
    pub item: Item,
    /// Its first token.
    pub from: usize,
    /// The token after its last.
    pub to: usize,
}
