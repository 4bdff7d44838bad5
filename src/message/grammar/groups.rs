//! Items to groups: a group is one `load × reps`, with its list of repetitions or its number of
//! sets, and what stands beside it.
//!
//! The exercise may stand before, behind, or lines above; that is settled here too. What a bare
//! pair of numbers means depends on the exercise and is settled in `file`; whether the message is
//! a report of training at all, in `judge`.

mod beside;
mod finish;
mod numbers;

use crate::domain::log::LimitingFactor;
use crate::domain::quantities::catalogue::{Basis, Catalogue};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;

use super::atom::is_one_sided;
use super::core::{self, Core};
use super::evidence::Usual;
use super::item::{Effort, Item, Spanned};
use super::scan::Scan;
use crate::message::reading::{Day, Habit, SetReading, Technique};
use crate::message::words::vocabulary::W;

/// What words say about the loads and sides of one exercise's sets.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Flags {
    /// Repetitions are per side.
    pub side: bool,
    /// One dumbbell's load.
    pub per_hand: bool,
    /// Load taken off the body.
    pub assisted: bool,
    /// Load hung on the body.
    pub added: bool,
    /// How they were done.
    pub technique: Option<Technique>,
}

impl Flags {
    fn join(&mut self, other: Self) {
        self.side |= other.side;
        self.per_hand |= other.per_hand;
        self.assisted |= other.assisted;
        self.added |= other.added;
        self.technique = other.technique.or(self.technique);
    }
}

/// The sets under one mention of an exercise.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Segment {
    /// The exercise, where named.
    pub exercise: Option<ExerciseId>,
    /// The name came behind the numbers.
    pub name_last: bool,
    /// What words say about its sets.
    pub flags: Flags,
    /// First token of the name.
    pub name_from: usize,
}

/// Sets of one load.
#[derive(Clone, Debug)]
pub(crate) struct Group {
    /// Place of its segment.
    pub segment: usize,
    /// Its numbers.
    pub core: Core,
    /// Reserve for each set; empty when nothing was said.
    pub rir: Vec<Option<f64>>,
    /// What gave out before the target muscle; true where in the last of its sets alone.
    pub gave_out: Option<(LimitingFactor, bool)>,
    /// An effort that is off the scale.
    pub bad_effort: bool,
    /// Rest before the sets, seconds.
    pub rest_s: Option<u32>,
    /// A warm-up.
    pub warm_up: bool,
    /// How done, where said of this group alone.
    pub technique: Option<Technique>,
    /// Day.
    pub day: Option<Day>,
    /// First item.
    pub from: usize,
    /// Item after its last.
    pub to: usize,
    /// Item after the last of its numbers.
    pub core_to: usize,
    /// Line of the message.
    pub line: usize,
}

/// Everything of a message that may be sets.
#[derive(Clone, Debug, Default)]
pub(crate) struct Parsed {
    /// Mentions of exercises.
    pub segments: Vec<Segment>,
    /// Groups in order.
    pub groups: Vec<Group>,
    /// Something was said that belongs only to sets: effort, rest, warm-up, sides.
    pub training_words: bool,
}

/// Longest line of sets that is read; beyond it nothing is a report of sets.
const MOST_GROUPS: usize = 60;

/// What is known beside the words.
#[derive(Clone, Copy)]
pub(crate) struct Known<'k> {
    pub catalogue: &'k Catalogue,
    pub unit: Unit,
    pub last: Option<&'k SetReading>,
    pub habits: &'k [Habit],
}

/// Reads `items` into groups.
pub(crate) fn parse(scan: &Scan<'_>, items: &[Spanned], known: Known<'_>) -> Parsed {
    let mut parser = Parser {
        catalogue: known.catalogue,
        known,
        scan,
        items,
        out: Parsed::default(),
        current: None,
        loose: Flags::default(),
        warm: None,
        pending_effort: None,
        pending_rest: None,
        pending_count: None,
        rounds: None,
        goes_on: false,
        last_only: 0,
        every: false,
        line: 0,
        parted: true,
        days: Vec::new(),
        supersets: Vec::new(),
    };
    let mut at = 0;
    while at < items.len() && parser.out.groups.len() < MOST_GROUPS {
        at = parser.step(at).max(at + 1);
    }
    parser.finish()
}

/// A day, where it was said.
#[derive(Clone, Copy)]
struct SaidDay {
    at: usize,
    line: usize,
    /// `None` for today.
    day: Option<Day>,
}

/// How long warm-up holds.
#[derive(Clone, Copy, PartialEq)]
enum WarmFor {
    /// To the end of the line.
    Line,
    /// Until work sets are named, another exercise or the end.
    List,
}

struct Parser<'p> {
    catalogue: &'p Catalogue,
    known: Known<'p>,
    scan: &'p Scan<'p>,
    items: &'p [Spanned],
    out: Parsed,
    current: Option<usize>,
    loose: Flags,
    warm: Option<WarmFor>,
    pending_effort: Option<Effort>,
    pending_rest: Option<u32>,
    pending_count: Option<usize>,
    /// So often all of it was done in turn.
    rounds: Option<usize>,
    /// `another set of` the exercise that is named next.
    goes_on: bool,
    /// An effort to come is of so many sets, the last; 0 where none are named.
    last_only: usize,
    every: bool,
    line: usize,
    /// A comma or more stands between the last group and here.
    parted: bool,
    days: Vec<SaidDay>,
    supersets: Vec<(usize, bool)>,
}

impl Parser<'_> {
    fn item(&self, at: usize) -> Option<&Item> {
        self.items.get(at).map(|spanned| &spanned.item)
    }

    /// Takes the item at `at`; returns the next place.
    fn step(&mut self, at: usize) -> usize {
        let Some(item) = self.item(at) else {
            return at + 1;
        };
        match item.clone() {
            Item::Name(id) => self.name(at, id),
            Item::Same if self.is_once_more(at) => self.once_more(at),
            Item::Num(_)
            | Item::Times
            | Item::Body
            | Item::OpenLoad
            | Item::Same
            | Item::More
            | Item::Sets => {
                return self.numbers(at);
            }
            Item::FailedAt(rep) => self.failed(at, rep),
            Item::At => return self.at_sign(at),
            Item::Effort(effort) => self.effort(at, &effort),
            Item::Rest(seconds) => self.rest(at, seconds),
            Item::Duration(seconds) => self.duration(at, seconds),
            Item::Day(day) => self.days.push(SaidDay {
                at,
                line: self.line,
                day: Some(day),
            }),
            Item::Word if self.is_today(at) => self.days.push(SaidDay {
                at,
                line: self.line,
                day: None,
            }),
            Item::Warm => self.warm(at),
            Item::Work => self.warm = None,
            Item::Technique(technique) => self.technique(at, technique),
            Item::Side => self.flag(Flags {
                side: true,
                ..Flags::default()
            }),
            Item::PerHand => self.flag(Flags {
                per_hand: true,
                ..Flags::default()
            }),
            Item::Assisted => self.flag(Flags {
                assisted: true,
                ..Flags::default()
            }),
            Item::Added => self.flag(Flags {
                added: true,
                ..Flags::default()
            }),
            Item::Repeat(sets) => {
                if let Some(count) = core::count(sets) {
                    self.repeat(count, at + 1);
                    self.doubt_what_is_repeated(at);
                }
            }
            Item::OneSet(one) => self.one_set(at, one),
            Item::Last => self.last_only = 1,
            Item::LastFew(count) => self.last_only = count,
            Item::Every if self.is_each_side(at) => self.flag(Flags {
                side: true,
                ..Flags::default()
            }),
            Item::Every => self.every = true,
            Item::Comma | Item::Colon | Item::Slash | Item::Dash(false) => self.parted = true,
            Item::And => self.and(at),
            Item::Break(line) => self.end_of(line),
            _ => {}
        }
        at + 1
    }

    fn end_of(&mut self, line: bool) {
        self.parted = true;
        self.last_only = 0;
        self.every = false;
        if line {
            self.line += 1;
            if self.warm == Some(WarmFor::Line) {
                self.warm = None;
            }
        }
    }

    /// `then` ends a warm-up in a line.
    fn and(&mut self, at: usize) {
        self.parted = true;
        let then = self
            .items
            .get(at)
            .is_some_and(|s| self.scan.w(s.from) == W::Then);
        if then && self.warm == Some(WarmFor::Line) && !self.out.groups.is_empty() {
            self.warm = None;
        }
    }

    fn flag(&mut self, flags: Flags) {
        self.out.training_words = true;
        match self
            .current
            .and_then(|place| self.out.segments.get_mut(place))
        {
            Some(segment) if !self.parted => segment.flags.join(flags),
            _ => self.loose.join(flags),
        }
    }

    fn segment(&mut self) -> usize {
        if let Some(place) = self.current {
            return place;
        }
        self.open_segment(None, 0)
    }

    fn open_segment(&mut self, exercise: Option<ExerciseId>, name_from: usize) -> usize {
        let place = self.out.segments.len();
        self.out.segments.push(Segment {
            exercise,
            name_last: false,
            flags: std::mem::take(&mut self.loose),
            name_from,
        });
        self.current = Some(place);
        place
    }

    /// A name: of the numbers just read, where they had none, else of those to come.
    fn name(&mut self, at: usize, id: ExerciseId) {
        let from = self.items.get(at).map_or(0, |s| s.from);
        if self.warm == Some(WarmFor::List) && self.current_exercise().is_some_and(|e| e != id) {
            self.warm = None;
        }
        self.goes_on = self.is_once_more_of(at);
        if let Some(first) = self.unnamed_groups(at, id) {
            let place = self.out.segments.len();
            let flags = self.out.groups.get(first).map(|g| g.segment);
            let flags = flags
                .and_then(|s| self.out.segments.get(s))
                .map(|s| s.flags);
            self.out.segments.push(Segment {
                exercise: Some(id),
                name_last: true,
                flags: flags.unwrap_or_default(),
                name_from: from,
            });
            for group in self.out.groups.iter_mut().skip(first) {
                group.segment = place;
            }
            self.current = Some(place);
            self.parted = false;
            return;
        }
        self.open_segment(Some(id), from);
        self.parted = true;
    }

    fn current_exercise(&self) -> Option<ExerciseId> {
        self.current
            .and_then(|place| self.out.segments.get(place))
            .and_then(|segment| segment.exercise)
    }

    /// The first group that the name at `at` belongs to, when it comes behind them.
    fn unnamed_groups(&self, at: usize, id: ExerciseId) -> Option<usize> {
        let last = self.out.groups.len().checked_sub(1)?;
        let group = self.out.groups.get(last)?;
        let segment = self.out.segments.get(group.segment)?;
        if segment.exercise.is_none() {
            // `up 2.5 from monday, bench 82.5x8`: the first number is no part of the set.
            if group.core.is_load_only() && self.parted && self.numbers_follow(at + 1) {
                return None;
            }
            // `x7, now ohp 40x8`, `x7, that's it for bench`: the set goes on from the last one.
            let last = self.known.last.filter(|_| group.core.same && self.parted);
            let led_on = at > 0
                && self
                    .items
                    .get(at - 1)
                    .is_some_and(|s| matches!(self.scan.w(s.from), W::Next | W::Now | W::Then));
            let other = led_on || self.pair_follows(at + 1);
            if last.is_some_and(|last| last.exercise == id || other) {
                return None;
            }
            let apart = self.parted || group.line != self.line;
            if group.core.is_full() && apart && self.numbers_follow(at + 1) {
                return None;
            }
            return self
                .out
                .groups
                .iter()
                .position(|g| g.segment == group.segment);
        }
        // `bench 80x10, 60x10 row`: a group of its own clause, and nothing to come for the name.
        let own_clause = self.out.groups.len() > 1
            && group.from > 0
            && matches!(
                self.item(group.from - 1),
                Some(Item::Comma | Item::And | Item::Break(_) | Item::Slash)
            );
        // `185x8 bench 135x10 row`: where the first name came last, so does the next.
        let own_clause = own_clause
            || segment.name_last
                && group.from > 0
                && matches!(self.item(group.from - 1), Some(Item::Name(_)));
        let adjacent = (group.to..at).all(|i| {
            matches!(
                self.item(i),
                Some(Item::Word | Item::Reps | Item::Effort(_) | Item::Of)
            )
        });
        let alone = !self.numbers_follow(at + 1);
        (own_clause && adjacent && alone && group.core.is_full()).then_some(last)
    }

    fn numbers_follow(&self, at: usize) -> bool {
        let skip = matches!(
            self.item(at),
            Some(Item::Colon | Item::With | Item::Dash(_))
        ) as usize;
        matches!(
            self.item(at + skip),
            Some(Item::Num(_) | Item::Times | Item::Body | Item::OpenLoad)
        ) || skip == 0 && matches!(self.item(at), Some(Item::Break(true)))
    }

    /// Whether a load and its repetitions stand at `at`.
    fn pair_follows(&self, at: usize) -> bool {
        matches!(self.item(at), Some(Item::Num(_)))
            && matches!(self.item(at + 1), Some(Item::Times | Item::For))
    }

    /// `step-ups 10 kg, 12 each`: so many on each side.
    fn is_each_side(&self, at: usize) -> bool {
        let before = at.checked_sub(1).and_then(|at| self.item(at));
        let named = self
            .current_exercise()
            .map(|id| self.catalogue.exercise(id));
        let ends = matches!(self.item(at + 1), None | Some(Item::Comma | Item::Break(_)));
        matches!(before, Some(Item::Num(_) | Item::Reps))
            && ends
            && named.is_some_and(|exercise| is_one_sided(&exercise.name))
    }

    fn is_today(&self, at: usize) -> bool {
        let word = self.items.get(at).map(|s| self.scan.w(s.from));
        word == Some(W::Today)
    }

    /// `another set of squats`, `same squat weight`: what follows the name goes on from the set before.
    fn is_once_more_of(&self, name: usize) -> bool {
        let before = self.items.get(..name).unwrap_or_default().iter().rev();
        before
            .map(|s| &s.item)
            .find(|item| !matches!(item, Item::Sets | Item::Of))
            .is_some_and(|item| *item == Item::Same)
    }

    fn named_last(&self) -> bool {
        self.current
            .and_then(|place| self.out.segments.get(place))
            .is_some_and(|segment| segment.name_last)
    }

    /// What the numbers at `at` are held against: the exercise named before them, or else the next
    /// one behind, or that of the set before.
    fn usual(&self, at: usize) -> Usual<'_> {
        let behind = || {
            let items = self.items.get(at..).unwrap_or_default();
            items.iter().find_map(|s| match s.item {
                Item::Name(id) => Some(id),
                _ => None,
            })
        };
        let Known {
            catalogue,
            unit,
            last,
            habits,
        } = self.known;
        let id = self
            .current_exercise()
            .or_else(behind)
            .or(last.map(|last| last.exercise));
        id.map_or(Usual::nothing(unit), |id| {
            Usual::of(catalogue.exercise(id), id, unit, last, habits)
        })
    }

    fn body_exercise(&self) -> bool {
        self.current_exercise()
            .is_some_and(|id| self.catalogue.exercise(id).basis == Basis::Body)
    }
}
