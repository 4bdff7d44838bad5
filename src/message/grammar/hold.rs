//! Sets held or carried for time: `plank 45s`, `3 x 60s side plank`, `farmer carry 40 s with 32 kg`,
//! `hollow hold 20/20/20 sec`.

use crate::domain::quantities::catalogue::{Basis, Catalogue};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;

use super::super::grammar::groups::Flags;
use super::super::grammar::item::{Effort, Item, Num, Sign, Spanned};
use super::super::grammar::scan::Scan;
use super::super::grammar::sets;
use super::super::reading::{Day, Draft, DraftLoad, whole_seconds};
use super::super::words::token::{Kind, Mark};
use super::super::words::vocabulary::{Roles, W};

/// Nobody holds longer, seconds. Common practice, no source.
const LONGEST_S: f64 = 1800.0;
/// Fewer by themselves may be repetitions, seconds.
const FEWEST_BARE_S: f64 = 15.0;
/// More sets than this are not in one line.
const MOST_SETS: usize = 20;
/// More words of which nothing is known beside the numbers make a story.
const MOST_STRANGERS: usize = 3;

/// The holds of a message, where it is a line of them, with the words of which nothing is known.
pub(crate) fn holds(
    scan: &Scan<'_>,
    items: &[Spanned],
    catalogue: &Catalogue,
    unit: Unit,
) -> Option<(Vec<Draft>, usize)> {
    let timed = |s: &Spanned| match s.item {
        Item::Name(id) => catalogue.exercise(id).timed.then_some(id),
        _ => None,
    };
    let names = items.iter().filter(|s| matches!(s.item, Item::Name(_)));
    let ids: Option<Vec<ExerciseId>> = names.map(timed).collect();
    let [id] = ids?.as_slice().try_into().ok()?;
    let mut line = Hold::of(scan, items, id, catalogue.exercise(id).basis == Basis::Body);
    for at in 0..items.len() {
        line.take(at)?;
    }
    let strangers = line.strangers;
    Some((line.sets(catalogue, unit)?, strangers))
}

struct Hold<'h> {
    scan: &'h Scan<'h>,
    items: &'h [Spanned],
    id: ExerciseId,
    /// The body alone is held.
    on_body: bool,
    /// How often and how long, in order.
    groups: Vec<(usize, f64)>,
    /// A count of sets that stands before its time.
    count: Option<usize>,
    /// Bare numbers that wait for a unit behind them.
    waiting: Vec<f64>,
    load: Option<Num>,
    rir: Option<f64>,
    rest_s: Option<u32>,
    day: Option<Day>,
    side: bool,
    warm_up: bool,
    assisted: bool,
    strangers: usize,
}

impl<'h> Hold<'h> {
    const fn of(scan: &'h Scan<'h>, items: &'h [Spanned], id: ExerciseId, on_body: bool) -> Self {
        Self {
            scan,
            items,
            id,
            on_body,
            groups: Vec::new(),
            count: None,
            waiting: Vec::new(),
            load: None,
            rir: None,
            rest_s: None,
            day: None,
            side: false,
            warm_up: false,
            assisted: false,
            strangers: 0,
        }
    }

    /// Whether a bare number can be nothing but seconds: the only one, one of a list, one behind a time.
    fn is_alone(&self, at: usize, num: &Num) -> bool {
        let behind = at.checked_sub(1).and_then(|before| self.item(before));
        let parts =
            |item: Option<&Item>| matches!(item, Some(Item::Comma | Item::Slash | Item::And));
        let counted =
            num.reps || behind == Some(&Item::Times) || self.item(at + 1) == Some(&Item::Reps);
        let before = self.groups.last().map(|(_, seconds)| *seconds);
        let listed = match before {
            Some(before) => parts(behind) || num.value <= before,
            None => !matches!(self.item(at + 1), Some(Item::Num(next)) if next.value > num.value),
        };
        let least = before.map_or(FEWEST_BARE_S, |before| before / 2.0);
        self.on_body && !counted && listed && num.value >= least && num.value.fract() == 0.0
    }

    fn item(&self, at: usize) -> Option<&'h Item> {
        self.items.get(at).map(|s| &s.item)
    }

    fn take(&mut self, at: usize) -> Option<()> {
        let spanned = self.items.get(at)?;
        let behind_times = at > 0 && self.item(at - 1) == Some(&Item::Times);
        match &spanned.item {
            // `2 min of lying there`
            Item::Duration(_) if self.item(at + 1) == Some(&Item::Of) => return None,
            Item::Duration(seconds) => self.time(f64::from(*seconds)),
            Item::Foreign => {
                let token = self.scan.token(spanned.from)?;
                (token.kind == Kind::Clock).then_some(())?;
                self.time(token.value);
            }
            // `45s`
            Item::Num(num) if self.is_seconds(spanned, num) => self.time(num.value),
            Item::Num(num) if num.is_load() => {
                self.load.replace(*num).is_none().then_some(())?;
            }
            Item::Num(num) if behind_times && !self.groups.is_empty() => {
                self.groups.last_mut()?.0 = whole(num.value)?;
            }
            Item::Num(num) if matches!(self.item(at + 1), Some(Item::Times | Item::Sets)) => {
                self.is_time(at + 2).then_some(())?;
                self.count = Some(whole(num.value)?);
            }
            Item::Repeat(count) => self.groups.last_mut()?.0 = whole(*count)?,
            // `plank 60s, again` is another, `plank 45s again` is one.
            Item::Same => {
                let parted = at > 0 && matches!(self.item(at - 1), Some(Item::Comma | Item::And));
                if let Some(last) = self.groups.last().copied()
                    && parted
                    && !self.is_time(at + 1)
                {
                    self.groups.push((1, last.1));
                }
            }
            // `20/20/20 sec`
            Item::Num(num) if self.waiting.len() < MOST_SETS && self.is_listed(at) => {
                self.waiting.push(num.value);
            }
            // `plank 60`
            Item::Num(num) if self.is_alone(at, num) => self.time(num.value),
            Item::Num(_) => return None,
            Item::Effort(Effort::One(rir)) => self.rir = Some(*rir),
            Item::Rest(seconds) => self.rest_s = Some(*seconds),
            Item::Day(day) => self.day = Some(*day),
            Item::Side => self.side = true,
            Item::Warm => self.warm_up = true,
            Item::Assisted => self.assisted = true,
            Item::Break(_) if self.scan.is(spanned.from, Mark::Question) => return None,
            Item::Word => {
                let roles = self.scan.token(spanned.from)?.word.roles;
                self.strangers += usize::from(!roles.any(Roles::FILL));
            }
            Item::Name(_)
            | Item::Times
            | Item::At
            | Item::With
            | Item::For
            | Item::Of
            | Item::Sets
            | Item::Comma
            | Item::Slash
            | Item::Dash(_)
            | Item::Colon
            | Item::And
            | Item::Break(_)
            | Item::Added
            | Item::Body
            | Item::Every
            | Item::Label => {}
            _ => return None,
        }
        Some(())
    }

    /// Whether a time stands at `at`, or one behind `of` or a name.
    fn is_time(&self, at: usize) -> bool {
        match self.items.get(at) {
            Some(s) => match &s.item {
                Item::Num(num) => self.is_seconds(s, num),
                Item::Foreign | Item::Duration(_) => true,
                Item::Of | Item::Name(_) => self.is_time(at + 1),
                _ => false,
            },
            None => false,
        }
    }

    /// Whether a bare number is one of a list that ends in a time.
    fn is_listed(&self, at: usize) -> bool {
        let parts = matches!(
            self.item(at + 1),
            Some(Item::Slash | Item::Comma | Item::Dash(_))
        );
        let bare = matches!(self.item(at + 2), Some(Item::Num(num)) if !num.is_load());
        parts && (self.is_time(at + 2) || bare && self.is_listed(at + 2))
    }

    /// A time; the bare numbers before it are times, too: `20/20/20 sec`.
    fn time(&mut self, seconds: f64) {
        let count = self.count.take().unwrap_or(1);
        let all = self.waiting.drain(..).chain([seconds]);
        self.groups.extend(all.map(|seconds| (count, seconds)));
    }

    /// `45s` is no pair of dumbbells where time is what counts.
    fn is_seconds(&self, spanned: &Spanned, num: &Num) -> bool {
        num.per_hand
            && num.unit.is_none()
            && spanned.to == spanned.from + 2
            && self.scan.w(spanned.from + 1) == W::S
    }

    fn sets(self, catalogue: &Catalogue, unit: Unit) -> Option<Vec<Draft>> {
        let count: usize = self.groups.iter().map(|(count, _)| count).sum();
        let fits = (1..=MOST_SETS).contains(&count)
            && self.waiting.is_empty()
            && self.strangers <= MOST_STRANGERS
            && self
                .groups
                .iter()
                .all(|(_, s)| (1.0..=LONGEST_S).contains(s));
        if !fits {
            return None;
        }
        let exercise = catalogue.exercise(self.id);
        let flags = Flags {
            assisted: self.assisted,
            ..Flags::default()
        };
        let load = match self.load {
            Some(num) => Some(DraftLoad {
                amount: num.value,
                unit: num.unit.unwrap_or(unit),
                basis: Some(match sets::basis(&num, exercise, &flags) {
                    Basis::Total if exercise.body_share > 0.0 => Basis::Added,
                    basis => basis,
                }),
            }),
            None if exercise.basis == Basis::Body => Some(DraftLoad {
                amount: 0.0,
                unit,
                basis: Some(Basis::Body),
            }),
            None => None,
        };
        let minus = self.load.is_some_and(|num| num.sign == Sign::Minus);
        if minus && exercise.basis != Basis::Body {
            return None;
        }
        let draft = |seconds: f64| {
            Some(Draft {
                exercise: Some(self.id),
                load,
                seconds: Some(whole_seconds(seconds.round())?),
                rir: self.rir.and_then(|rir| Rir::new(rir).ok()),
                rest_s: self.rest_s,
                warm_up: self.warm_up,
                per_side: self.side,
                day: self.day,
                ..Draft::default()
            })
        };
        let groups = self.groups.iter();
        groups
            .flat_map(|(count, seconds)| std::iter::repeat_n(draft(*seconds), *count))
            .collect()
    }
}

/// A number of sets.
fn whole(value: f64) -> Option<usize> {
    (1..=MOST_SETS).find(|count| {
        u32::try_from(*count).is_ok_and(|count| (f64::from(count) - value).abs() < 1e-6)
    })
}
