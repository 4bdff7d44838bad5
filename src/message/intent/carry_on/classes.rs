//! What a message and its parts may be, with the names in the file of weights.

/// What a message does to the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Act {
    Nothing,
    Sets,
    Load,
    Exercise,
    Effort,
    Fix,
    Delete,
}

/// What a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    Reps,
    Seconds,
    /// A load; so much more, or less; the same on each side of a bar.
    Load,
    More,
    Less,
    SideMore,
    SideLess,
    Side,
    /// Pins of a stack.
    Pin,
    /// Repetitions left, and the scale of the trade.
    Left,
    Rpe,
    /// So many sets; so many in all, with those like the last that are logged.
    Count,
    Total,
    /// Which sets are meant: `the 2nd`, `first 2`; and by what they were: `the 40`.
    Which,
    Old,
    Other,
}

/// How the load changes where no number says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Change {
    Same,
    Up,
    Down,
    Body,
    Back,
    Other,
}

/// A class and its name in the file of weights.
pub(super) type Named<T> = (T, &'static str);

pub(super) const ACTS: [Named<Act>; 7] = [
    (Act::Nothing, "nothing"),
    (Act::Sets, "sets"),
    (Act::Load, "load"),
    (Act::Exercise, "exercise"),
    (Act::Effort, "effort"),
    (Act::Fix, "fix"),
    (Act::Delete, "delete"),
];

pub(super) const ROLES: [Named<Role>; 16] = [
    (Role::Reps, "reps"),
    (Role::Seconds, "seconds"),
    (Role::Load, "load"),
    (Role::More, "more"),
    (Role::Less, "less"),
    (Role::SideMore, "side_more"),
    (Role::SideLess, "side_less"),
    (Role::Side, "side"),
    (Role::Pin, "pin"),
    (Role::Left, "left"),
    (Role::Rpe, "rpe"),
    (Role::Count, "count"),
    (Role::Total, "total"),
    (Role::Which, "which"),
    (Role::Old, "old"),
    (Role::Other, "other"),
];

/// Whether a set is meant.
pub(super) const PICKS: [Named<bool>; 2] = [(false, "other"), (true, "meant")];

/// The reserve that the words tell where no number does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reserve {
    Unsaid,
    Zero,
    One,
    Two,
    Other,
    /// None was done: a failed attempt.
    Failed,
}

pub(super) const RESERVES: [Named<Reserve>; 6] = [
    (Reserve::Unsaid, "unsaid"),
    (Reserve::Zero, "zero"),
    (Reserve::One, "one"),
    (Reserve::Two, "two"),
    (Reserve::Other, "other"),
    (Reserve::Failed, "failed"),
];

pub(super) const CHANGES: [Named<Change>; 6] = [
    (Change::Same, "same"),
    (Change::Up, "up"),
    (Change::Down, "down"),
    (Change::Body, "body"),
    (Change::Back, "back"),
    (Change::Other, "other"),
];
