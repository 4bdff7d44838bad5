//! Items to groups: a group is one `load × reps`, with its list of repetitions or its number of
//! sets, and what stands beside it.
//!
//! The exercise may stand before, behind, or lines above; that is settled here too. What a bare
//! pair of numbers means depends on the exercise and is settled in `file`; whether the message is
//! a report of training at all, in `judge`.

use crate::domain::catalogue::{Basis, Catalogue, Equipment};
use crate::domain::id::ExerciseId;

use super::core::{self, Core, LoadPart, Open};
use super::item::{Effort, Item, Spanned};
use super::reading::{Day, Technique};
use super::scan::Scan;
use super::token::Mark;
use super::vocabulary::W;

/// What words say about the loads and sides of one exercise's sets.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Flags {
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
pub(super) struct Segment {
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
pub(super) struct Group {
    /// Place of its segment.
    pub segment: usize,
    /// Its numbers.
    pub core: Core,
    /// Reserve for each set; empty when nothing was said.
    pub rir: Vec<Option<f64>>,
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
pub(super) struct Parsed {
    /// Mentions of exercises.
    pub segments: Vec<Segment>,
    /// Groups in order.
    pub groups: Vec<Group>,
    /// Something was said that belongs only to sets: effort, rest, warm-up, sides.
    pub training_words: bool,
}

/// Longest line of sets that is read; beyond it nothing is a report of sets.
const MOST_GROUPS: usize = 60;

/// Up to here a number behind `80x10 each side x` is sets.
const MOST_SETS_BEHIND: f64 = 6.0;

/// Reads `items` into groups.
pub(super) fn parse(scan: &Scan<'_>, items: &[Spanned], catalogue: &Catalogue) -> Parsed {
    let mut parser = Parser {
        catalogue,
        scan,
        items,
        out: Parsed::default(),
        current: None,
        loose: Flags::default(),
        warm: None,
        pending_effort: None,
        pending_rest: None,
        pending_count: None,
        last_only: false,
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
    day: Day,
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
    scan: &'p Scan<'p>,
    items: &'p [Spanned],
    out: Parsed,
    current: Option<usize>,
    loose: Flags,
    warm: Option<WarmFor>,
    pending_effort: Option<Effort>,
    pending_rest: Option<u32>,
    pending_count: Option<usize>,
    last_only: bool,
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
                day,
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
                }
            }
            Item::Last => self.last_only = true,
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
        self.last_only = false;
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
        if let Some(first) = self.unnamed_groups(at) {
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
    fn unnamed_groups(&self, at: usize) -> Option<usize> {
        let last = self.out.groups.len().checked_sub(1)?;
        let group = self.out.groups.get(last)?;
        let segment = self.out.segments.get(group.segment)?;
        if segment.exercise.is_none() {
            // `up 2.5 from monday, bench 82.5x8`: the first number is no part of the set.
            if group.core.is_load_only() && self.parted && self.numbers_follow(at + 1) {
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

    /// Numbers that may be a group.
    fn numbers(&mut self, at: usize) -> usize {
        let Some((mut core, to)) = core::at(self.scan, self.items, at, self.of_dumbbells()) else {
            return at + 1;
        };
        if let Some(count) = core
            .count_for_last
            .or_else(|| self.sets_behind(&core, at, to))
        {
            self.repeat(count, to);
            return to;
        }
        if self.goes_on(&core, at) {
            core.settle_as_reps();
        }
        if core.open == Open::Single && self.follows_full_group() && !self.loads_pair(&core, at) {
            return self.lone_number(&core, at, to);
        }
        if self.is_tail(&core, at) {
            return to;
        }
        if self.merge(&core, at, to) {
            return to;
        }
        self.open_group(core, at, to);
        to
    }

    /// So many sets: of the group before, or of the one to come.
    fn repeat(&mut self, count: usize, to: usize) {
        let current = self.current;
        let listed = current.is_some_and(|segment| self.sets_of(segment) == count);
        match self.out.groups.last_mut() {
            // `80x10, 80x9, 80x8, 3 sets` only says it again.
            Some(last) if Some(last.segment) == current => {
                if listed || last.core.repeat(count) {
                    last.to = to;
                }
                let sets = last.core.sets();
                if let [one] = last.rir.as_slice() {
                    last.rir = vec![*one; sets];
                }
            }
            _ => self.pending_count = Some(count),
        }
    }

    /// `80x10 each side x3`: behind a word for its repetitions a cross leads to a number of sets.
    fn sets_behind(&self, core: &Core, at: usize, to: usize) -> Option<usize> {
        let [sets] = core.reps.as_slice() else {
            return None;
        };
        let last = self
            .out
            .groups
            .last()
            .filter(|g| Some(g.segment) == self.current)?;
        let [reps] = last.core.reps.as_slice() else {
            return None;
        };
        let crossed = self.item(at) == Some(&Item::Times) && core.is_reps_only();
        let behind = at.checked_sub(1).and_then(|at| self.item(at));
        let of_reps = matches!(
            behind,
            Some(Item::Side | Item::Every | Item::Reps | Item::PerHand)
        ) || matches!(behind, Some(Item::Num(_)))
            && matches!(
                at.checked_sub(2).and_then(|at| self.item(at)),
                Some(Item::For)
            );
        let another = self.item(to) == Some(&Item::Times);
        let few = *sets <= MOST_SETS_BEHIND && sets + 1.0 < *reps;
        (crossed && of_reps && few && !another && last.core.is_full())
            .then(|| core::count(*sets))
            .flatten()
    }

    /// `80x10, then 9, 8`: two bare numbers behind a full group are repetitions.
    fn goes_on(&self, core: &Core, at: usize) -> bool {
        let led = at
            .checked_sub(1)
            .and_then(|at| self.item(at))
            .is_some_and(|item| matches!(item, Item::And | Item::Comma | Item::Label));
        matches!(core.open, Open::Two(a, b) if core.reps.len() == 2 && a.max(b) <= 30.0)
            && led
            && self.follows_full_group()
    }

    /// Whether the exercise named is done with a dumbbell in each hand.
    fn of_dumbbells(&self) -> bool {
        self.current_exercise().is_some_and(|id| {
            let exercise = self.catalogue.exercise(id);
            exercise.basis == Basis::PerHand
                || exercise.equipment == Equipment::Dumbbell
                || exercise.body_share > 0.0
        })
    }

    fn follows_full_group(&self) -> bool {
        self.out
            .groups
            .last()
            .is_some_and(|last| Some(last.segment) == self.current && last.core.is_full())
    }

    /// `3x8 bench 100`: the load of sets × reps stands behind the name.
    fn loads_pair(&self, core: &Core, at: usize) -> bool {
        let named = at > 0 && matches!(self.item(at - 1), Some(Item::Name(_)));
        let pair = self
            .out
            .groups
            .last()
            .is_some_and(|g| g.core.open == Open::Pair);
        let large = matches!(core.load, LoadPart::Num(num) if num.value > 30.0);
        named && pair && large
    }

    /// `100x8, x3`: far fewer than the set before are as likely sets. Marks the set before.
    fn is_tail(&mut self, core: &Core, at: usize) -> bool {
        let crossed = self.item(at) == Some(&Item::Times);
        let [value] = *core.reps.as_slice() else {
            return false;
        };
        if !crossed || !core.is_reps_only() || !self.follows_full_group() {
            return false;
        }
        self.mark_tail(value)
    }

    fn mark_tail(&mut self, value: f64) -> bool {
        let Some(last) = self.out.groups.last_mut() else {
            return false;
        };
        let [reps] = *last.core.reps.as_slice() else {
            return false;
        };
        if core::is_tail(value, reps)
            && matches!(last.core.open, Open::None | Open::Pair)
            && last.rir.is_empty()
        {
            last.core.open = Open::Tail(value);
            return true;
        }
        false
    }

    /// One bare number behind a full group: the next set's repetitions where an effort follows or
    /// `then` leads; else it belongs to something else (`seat on 4`).
    fn lone_number(&mut self, core: &Core, at: usize, to: usize) -> usize {
        let effort = matches!(self.item(to), Some(Item::Effort(_) | Item::FailedAt(_)));
        let before = at.checked_sub(1).and_then(|at| self.item(at));
        let led_by_for = before == Some(&Item::For);
        let then = matches!(before, Some(Item::And | Item::Label))
            || self.tells_reps(at, to) && !led_by_for;
        let own_line = before == Some(&Item::Break(true));
        let directly = self.out.groups.last().is_some_and(|g| g.to == at);
        let clause_ends = matches!(self.item(to), None | Some(Item::Break(_) | Item::Comma));
        let LoadPart::Num(num) = core.load else {
            return to;
        };
        let last = self.out.groups.last().and_then(|g| g.core.reps.last());
        if last.is_some_and(|last| core::is_far(num.value, *last)) {
            // A load; whether its repetitions are asked for is settled in the end.
            self.open_group(core.clone(), at, to);
        } else if effort || (then || own_line && num.value <= 30.0) && clause_ends {
            self.open_group(Core::of_reps(num.value), at, to);
        } else if clause_ends && (directly || led_by_for || before == Some(&Item::Comma)) {
            self.mark_tail(num.value);
        }
        to
    }

    fn open_group(&mut self, mut core: Core, at: usize, to: usize) {
        if let Some(last) = self.out.groups.last()
            && Some(last.segment) == self.current
        {
            if self.named_last() && self.parted && core.is_full() {
                // Of the same exercise unless a name of its own follows.
                self.open_segment(None, usize::MAX);
            } else {
                core.inherit(&last.core);
            }
        }
        if self.body_exercise() {
            core.settle_body_pair();
        }
        if let Some(count) = self.pending_count.take() {
            core.repeat(count);
        }
        let segment = self.segment();
        let loose = std::mem::take(&mut self.loose);
        if let Some(segment) = self.out.segments.get_mut(segment) {
            segment.flags.join(loose);
        }
        let effort = self.pending_effort.take();
        self.out.groups.push(Group {
            segment,
            core,
            rir: Vec::new(),
            bad_effort: false,
            rest_s: self.pending_rest.take(),
            warm_up: self.warm.is_some(),
            technique: None,
            day: None,
            from: at,
            to,
            core_to: to,
            line: self.line,
        });
        self.parted = false;
        if let Some(effort) = effort {
            self.effort(at, &effort);
        }
    }

    fn named_last(&self) -> bool {
        self.current
            .and_then(|place| self.out.segments.get(place))
            .is_some_and(|segment| segment.name_last)
    }

    /// A load and repetitions that stand apart are one group: `20 each hand, 12 reps`.
    fn merge(&mut self, core: &Core, at: usize, to: usize) -> bool {
        let current = self.current;
        let line = self.line;
        let led = at > 0
            && matches!(
                self.item(at - 1),
                Some(Item::With | Item::At | Item::For | Item::Of | Item::Word | Item::Name(_))
            );
        let told = self.tells_reps(at, to);
        let own_line = at > 0
            && matches!(self.item(at - 1), Some(Item::Break(true)))
            && matches!(self.item(to), None | Some(Item::Break(true)));
        let Some(last) = self.out.groups.last_mut() else {
            return false;
        };
        if Some(last.segment) != current {
            return false;
        }
        if let (Open::Single, LoadPart::Num(num)) = (core.open, core.load)
            && (told || own_line)
            && !num.is_load()
            && last.core.is_load_only()
            && last.core.exceeds(num.value)
        {
            last.core.set_reps(num.value);
            last.to = to;
            last.core_to = to;
            return true;
        }
        let close = last.line == line || last.line + 1 == line && last.core.is_load_only();
        if !close || !last.core.merge(core, led) {
            return false;
        }
        last.to = to;
        last.core_to = to;
        self.parted = false;
        true
    }

    /// `bench 90, only got 5`, `4 this time`, `225 bench for 6`, `1st set 8`: a bare number there is
    /// what was done.
    fn tells_reps(&self, at: usize, to: usize) -> bool {
        let word = at.checked_sub(1).and_then(|at| self.items.get(at));
        let led = word.is_some_and(|s| {
            matches!(
                s.item,
                Item::For | Item::Label | Item::Name(_) | Item::Colon
            )
        });
        let this_time = self.items.get(to).is_some_and(|s| {
            matches!(self.scan.w(s.from), W::This | W::That) && self.scan.w(s.from + 1) == W::Time
        });
        led || this_time
            || word.and_then(|s| self.scan.token(s.from)).is_some_and(|t| {
                matches!(
                    self.scan.text.text_of(t),
                    "got" | "only" | "managed" | "made" | "hit"
                )
            })
    }

    /// `failed the 9th`: eight done.
    fn failed(&mut self, at: usize, rep: f64) {
        self.out.training_words = true;
        let done = rep - 1.0;
        let current = self.current;
        let same_segment = |group: &Group| Some(group.segment) == current;
        if let Some(last) = self.out.groups.last_mut().filter(|g| same_segment(g)) {
            match last.core.reps.last_mut() {
                None => last.core.set_reps(done),
                Some(reps) if (*reps - rep).abs() < 0.1 => *reps = done,
                Some(reps) if (*reps - done).abs() < 0.1 => {}
                Some(reps) if done < *reps => last.core.reps.push(done),
                Some(reps) => *reps = f64::NAN,
            }
            last.to = at + 1;
            let sets = last.core.reps.len();
            last.rir.resize(sets, None);
            if let Some(rir) = last.rir.last_mut() {
                *rir = Some(0.0);
            }
            return;
        }
        self.open_group(Core::of_reps(done), at, at + 1);
        if let Some(last) = self.out.groups.last_mut() {
            last.rir = vec![Some(0.0)];
        }
    }

    /// `@ 8` behind a group: RPE, an effort to ask about, or one of two readings.
    fn at_sign(&mut self, at: usize) -> usize {
        let Some(Item::Num(num)) = self.item(at + 1).cloned() else {
            return at + 1;
        };
        let current = self.current;
        let body = self.body_exercise();
        let starts_pair = matches!(
            self.item(at + 2),
            Some(Item::Times | Item::For | Item::Colon)
        );
        if self.out.groups.is_empty() && (5.0..=10.0).contains(&num.value) && !starts_pair {
            let (effort, to) = rpe_list(self.items, at + 1);
            self.effort(at, &effort);
            return to;
        }
        let Some(last) = self.out.groups.last_mut() else {
            return at + 1;
        };
        let adjacent = last.to == at || last.to + 1 == at;
        if !adjacent || Some(last.segment) != current {
            return at + 1;
        }
        if num.is_load() && num.value.fract() == 0.0 || num.unit.is_some() || num.value > 10.0 {
            if last.core.take_load(num) {
                last.to = at + 2;
                return at + 2;
            }
            // A second load behind `@` is most likely an effort off the scale.
            let full = last.core.is_full() && num.unit.is_none();
            if full && !starts_pair {
                last.bad_effort = true;
                return at + 2;
            }
            return at + 1;
        }
        let (effort, to) = rpe_list(self.items, at + 1);
        if last.core.rival(num, body) {
            last.to = to;
            return to;
        }
        last.to = to;
        self.effort(at, &effort);
        to
    }

    fn body_exercise(&self) -> bool {
        self.current_exercise()
            .is_some_and(|id| self.catalogue.exercise(id).basis == Basis::Body)
    }

    fn effort(&mut self, at: usize, effort: &Effort) {
        self.out.training_words = true;
        let every = std::mem::take(&mut self.every) || self.every_follows(at + 1);
        let last_only = std::mem::take(&mut self.last_only);
        if self.out.groups.is_empty() {
            self.pending_effort = Some(effort.clone());
            return;
        }
        if let Some(last) = self.out.groups.last_mut() {
            last.to = last.to.max(at + 1);
        }
        match effort {
            Effort::Bad => {
                if let Some(last) = self.out.groups.last_mut() {
                    last.bad_effort = true;
                }
            }
            Effort::One(value) => self.spread(*value, every, last_only),
            Effort::Many(values) => self.deal(values),
        }
    }

    fn every_follows(&self, at: usize) -> bool {
        let skip = self
            .items
            .get(at)
            .is_some_and(|s| matches!(self.scan.w(s.from), W::On | W::In | W::For));
        matches!(self.item(at + usize::from(skip)), Some(Item::Every))
    }

    /// One effort: for the last group, for every group, or for the last set alone.
    fn spread(&mut self, value: f64, every: bool, last_only: bool) {
        let Some(segment) = self.out.groups.last().map(|g| g.segment) else {
            return;
        };
        if every {
            for group in self.out.groups.iter_mut().filter(|g| g.segment == segment) {
                group.rir = vec![Some(value); group.core.sets()];
            }
            return;
        }
        let Some(last) = self.out.groups.last_mut() else {
            return;
        };
        let sets = last.core.sets();
        if last_only {
            last.rir.resize(sets, None);
            if let Some(rir) = last.rir.last_mut() {
                *rir = Some(value);
            }
        } else {
            last.rir = vec![Some(value); sets];
        }
    }

    /// One effort for each set of the group, or of the exercise.
    fn deal(&mut self, values: &[f64]) {
        let Some(last) = self.out.groups.last_mut() else {
            return;
        };
        let sets = last.core.sets();
        if values.len() == sets {
            last.rir = values.iter().copied().map(Some).collect();
            return;
        }
        let segment = last.segment;
        if sets == 1 && values.len() == 2 && (values[0] - values[1]).abs() < 1.1 {
            last.rir = vec![values.last().copied()];
            return;
        }
        let all: usize = self.sets_of(segment);
        if all != values.len() {
            if let Some(last) = self.out.groups.last_mut() {
                last.bad_effort = true;
            }
            return;
        }
        let mut rest = values.iter().copied().map(Some);
        for group in self.out.groups.iter_mut().filter(|g| g.segment == segment) {
            group.rir = rest.by_ref().take(group.core.sets()).collect();
        }
    }

    fn sets_of(&self, segment: usize) -> usize {
        self.out
            .groups
            .iter()
            .filter(|g| g.segment == segment)
            .map(|g| g.core.sets())
            .sum()
    }

    /// Rest: of the group before, unless it opens a clause that a group follows.
    fn rest(&mut self, at: usize, seconds: u32) {
        self.out.training_words = true;
        let opens = at == 0
            || matches!(
                self.item(at - 1),
                Some(Item::Break(_) | Item::And | Item::Comma)
            );
        let follows = matches!(
            self.item(at + 1),
            Some(Item::Num(_) | Item::Name(_) | Item::Times)
        ) || matches!(self.item(at + 1), Some(Item::Colon | Item::Comma))
            && self.out.groups.is_empty();
        match self.out.groups.last_mut() {
            Some(last) if !(opens && follows) => {
                last.rest_s = Some(seconds);
                last.to = last.to.max(at + 1);
            }
            _ => self.pending_rest = Some(seconds),
        }
    }

    /// A length of time by itself behind a set is its rest.
    fn duration(&mut self, at: usize, seconds: u32) {
        let apart = |item: Option<&Item>| {
            matches!(
                item,
                None | Some(Item::Comma | Item::Break(_) | Item::Effort(_))
            )
        };
        let directly = self
            .out
            .groups
            .last()
            .is_some_and(|last| last.to == at && last.core.is_full());
        let alone = at > 0 && (directly || apart(self.item(at - 1))) && apart(self.item(at + 1));
        if let Some(last) = self.out.groups.last_mut()
            && alone
            && (15..=900).contains(&seconds)
            && last.rest_s.is_none()
        {
            last.rest_s = Some(seconds);
            last.to = last.to.max(at + 1);
        }
    }

    /// Warm-up: of the group directly before, of the rest of the line, or of a list below.
    fn warm(&mut self, at: usize) {
        self.out.training_words = true;
        let next = self.item(at + 1).cloned();
        let header = matches!(next, Some(Item::Colon | Item::Sets))
            || matches!(next, Some(Item::Break(true)));
        let line = self.line;
        let tail = matches!(next, None | Some(Item::Break(_) | Item::Comma | Item::And));
        let behind = self.out.groups.last_mut().filter(|g| g.line == line);
        if let Some(last) = behind
            && tail
            && last.to + 2 >= at
        {
            last.warm_up = true;
            let all_line = next.is_none() || matches!(next, Some(Item::Break(true)));
            let mut from = usize::MAX;
            for group in self.out.groups.iter_mut().rev() {
                // `20x10 40x8 60x5 warmup, 80x8`: so far as nothing parts them.
                if group.line != line || !all_line && group.to < from && from != usize::MAX {
                    break;
                }
                group.warm_up = true;
                from = group.from;
            }
            return;
        }
        let list = header && self.list_below(at + 1);
        self.warm = Some(if list { WarmFor::List } else { WarmFor::Line });
    }

    /// Whether nothing but a colon stands between a header and the end of its line.
    fn list_below(&self, at: usize) -> bool {
        self.items
            .iter()
            .skip(at)
            .map(|s| &s.item)
            .find(|item| !matches!(item, Item::Colon | Item::Sets | Item::Word))
            .is_some_and(|item| matches!(item, Item::Break(true)))
    }

    fn technique(&mut self, at: usize, technique: Technique) {
        self.out.training_words = true;
        let own_line =
            self.list_below(at + 1) && !self.out.groups.iter().any(|g| g.line == self.line);
        if technique == Technique::Superset {
            self.supersets.push((self.line, own_line));
            return;
        }
        if std::mem::take(&mut self.last_only)
            && let Some(last) = self.out.groups.last_mut()
        {
            last.technique = Some(technique);
            return;
        }
        self.flag(Flags {
            technique: Some(technique),
            ..Flags::default()
        });
    }

    fn finish(mut self) -> Parsed {
        let loose = std::mem::take(&mut self.loose);
        if let Some(segment) = self.out.segments.last_mut() {
            segment.flags.join(loose);
        }
        self.drop_stray_loads();
        self.name_the_unnamed();
        self.mark_supersets();
        self.set_days();
        self.out
    }

    /// A load alone behind full groups of the same exercise is of the next set, or a remark:
    /// `80x10, 2 left, gonna try 82.5`.
    fn drop_stray_loads(&mut self) {
        let full: Vec<usize> = self
            .out
            .groups
            .iter()
            .filter(|group| group.core.is_full())
            .map(|group| group.segment)
            .collect();
        let segments = &self.out.segments;
        let (scan, items) = (self.scan, self.items);
        self.out.groups.retain(|group| {
            let stray = group.core.is_load_only()
                && group.rir.is_empty()
                && !group.bad_effort
                && !stands_alone(scan, items, group);
            let unnamed = segments
                .get(group.segment)
                .is_some_and(|s| s.exercise.is_none());
            !(stray && (full.contains(&group.segment) || unnamed && !full.is_empty()))
        });
    }

    /// `60x10 bench, 50x12`: a group behind a name that came last is of that exercise, unless a
    /// name of its own followed.
    fn name_the_unnamed(&mut self) {
        let mut named = None;
        for segment in &mut self.out.segments {
            named = segment.exercise.or(named);
            segment.exercise = named;
        }
    }

    /// A superset holds for its whole line, or, as a line of its own, for all below.
    fn mark_supersets(&mut self) {
        for &(line, header) in &self.supersets {
            for group in &mut self.out.groups {
                if group.line == line || header && group.line > line {
                    group.technique = Some(Technique::Superset);
                }
            }
        }
    }

    /// A day holds for what follows it, and for its own line where it comes last.
    fn set_days(&mut self) {
        for group in &mut self.out.groups {
            let before = self.days.iter().rfind(|day| day.at < group.from);
            let behind = self.days.iter().find(|day| day.line == group.line);
            group.day = before.or(behind).map(|day| day.day);
        }
    }
}

/// Whether a load is all that its clause holds: `80x10, 82.5` and `80x10 then 90` lack repetitions,
/// `80x10, 82.5 next` speaks of what comes.
fn stands_alone(scan: &Scan<'_>, items: &[Spanned], group: &Group) -> bool {
    let before = group.from.checked_sub(1).and_then(|at| items.get(at));
    let opens = before.is_some_and(|s| matches!(s.item, Item::Comma | Item::And | Item::Break(_)));
    let behind = items.get(group.to);
    let ends = behind.is_none_or(|s| {
        matches!(s.item, Item::Comma | Item::And | Item::Break(_))
            && !scan.is(s.from, Mark::Question)
    });
    opens && ends
}

/// `8`, `8.5`, `8-9`, `8,9,10` behind `@`: reserve for the sets, or an effort off the scale.
fn rpe_list(items: &[Spanned], at: usize) -> (Effort, usize) {
    let value = |at: usize| match items.get(at).map(|s| &s.item) {
        Some(Item::Num(num)) if num.unit.is_none() => Some(num.value),
        _ => None,
    };
    let is = |at: usize, item: &Item| items.get(at).is_some_and(|s| s.item == *item);
    let Some(first) = value(at) else {
        return (Effort::Bad, at + 1);
    };
    if is(at + 1, &Item::Dash(true))
        && let Some(high) = value(at + 2)
    {
        return (super::effort::of_rpe(&[f64::midpoint(first, high)]), at + 3);
    }
    let mut list = vec![first];
    let mut to = at + 1;
    while (is(to, &Item::Comma) || is(to, &Item::Slash))
        && let Some(next) = value(to + 1).filter(|v| (5.0..=10.0).contains(v))
        && !is(to + 2, &Item::Times)
        && !is(to + 2, &Item::Reps)
    {
        list.push(next);
        to += 2;
    }
    (super::effort::of_rpe(&list), to)
}
