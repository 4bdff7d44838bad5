//! Items to atoms: the numbers of one exercise with what is said of each, and what stands between.

use crate::domain::quantities::mass::Unit;

use super::super::grammar::item::{Effort, Item, Num, Sign, Spanned};
use super::super::grammar::scan::Scan;
use super::super::reading::Technique;
use super::super::words::token::{Kind, Mark};
use super::super::words::vocabulary::{Roles, W};

/// Nobody does so many repetitions where a load is written. Common practice, no source.
pub(super) const SURELY_LOAD: f64 = 30.0;

/// Up to here a cross may stand before a number of sets. Common practice, no source.
pub(super) const MOST_COUNTED: f64 = 5.0;

/// From here on a number before a name is repetitions, `5 x pull-ups`; less may count sets. Common practice, no source.
const LEAST_REPS: f64 = 5.0;

/// Fewer repetitions are not told behind a number of sets that could be repetitions itself. Common practice, no source.
const LEAST_OF_SETS: f64 = 6.0;

/// More sets than this of one kind are not counted so: `five triples`. Common practice, no source.
const MOST_TIMES: f64 = 10.0;

/// What is said of a number beside it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Said {
    #[default]
    Nothing,
    Load,
    Reps,
    Sets,
}

/// A number of a line.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Number {
    pub num: Num,
    pub said: Said,
}

impl Number {
    /// A bare whole number can be repetitions or sets.
    pub(super) fn counts(&self) -> bool {
        let some = self.num.value > 0.0 || self.said == Said::Reps;
        self.said != Said::Load && self.num.value.fract() == 0.0 && some
    }

    /// Whether it can be a load.
    pub(super) fn loads(&self) -> bool {
        matches!(self.said, Said::Nothing | Said::Load)
    }
}

/// What joins two numbers of one group.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Joint {
    /// `x`, a colon.
    Times,
    /// `for`: repetitions follow.
    For,
    /// `@`, `at`, `with`: a load follows.
    At,
    /// `of`: repetitions follow.
    Of,
    /// Nothing stands between: one of the two says what it is.
    Beside,
}

/// What parts two numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Parting {
    Comma,
    Slash,
    Dash,
    Open,
    Close,
    Break,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Atom {
    Number(Number),
    Joint(Joint),
    Parting(Parting),
    /// `(x3)` behind a group.
    Repeat(f64),
    /// Reserve of the group before.
    Effort(f64),
    /// Reserve of the last of its sets alone.
    EffortOfLast(f64),
    /// So many repetitions failed behind the group before.
    Failed,
    /// `x 2 fails`: so many attempts that failed, or so many repetitions to failure.
    Attempts,
    /// Rest of the group before, seconds.
    Rest(u32),
    /// `again`: the set before once more.
    Again,
    /// The body alone.
    Body,
    /// `last one`: what follows is of the last set alone.
    Last,
    /// A warm-up: the group behind it, or, in brackets, all before it.
    Warm(bool),
    /// Warm-ups up to the next break.
    WarmRun,
    /// `= 21`: what the numbers before come to.
    Sum(f64),
}

/// The atoms of one exercise, with what is said of all its sets.
#[derive(Clone, Debug, Default)]
pub(super) struct Atoms {
    pub list: Vec<Atom>,
    /// The item behind each of them.
    pub ends: Vec<usize>,
    pub numbers: usize,
    pub side: bool,
    pub added: bool,
    pub assisted: bool,
    pub warm_up: bool,
    /// Dumbbells are named beside the numbers, or in the name.
    pub dumbbells: bool,
    /// The name says that it is done with one limb at a time.
    pub one_sided: bool,
    /// How all of them were done.
    pub technique: Option<Technique>,
    /// Words of which nothing harmless is known.
    pub strangers: usize,
    /// Words before the last number.
    pub words: usize,
    /// Words behind it.
    pub tail: usize,
}

impl Atoms {
    /// The item behind the atom before `to`.
    pub(super) fn end_of(&self, to: usize) -> usize {
        let last = to.checked_sub(1).and_then(|at| self.ends.get(at));
        last.copied().unwrap_or_default()
    }
}

/// Reads the items from `from` up to `to`, which stand behind a name. `None` where something there is
/// more than this grammar knows.
pub(super) fn atoms(
    scan: &Scan<'_>,
    items: &[Spanned],
    (from, to): (usize, usize),
    on_body: bool,
) -> Option<Atoms> {
    let mut cutter = Cutter {
        scan,
        items,
        from,
        to,
        on_body,
        last_number: items
            .iter()
            .rfind(|s| matches!(s.item, Item::Num(_) | Item::Name(_)))
            .map_or(0, |s| s.to),
        out: Atoms::default(),
    };
    let mut at = from;
    while at < to {
        at = cutter.take(at)?;
        let known = cutter.out.list.len();
        cutter.out.ends.resize(known, at);
    }
    while matches!(cutter.out.list.last(), Some(Atom::Parting(_))) {
        cutter.out.list.pop();
        cutter.out.ends.pop();
    }
    Some(cutter.out)
}

struct Cutter<'c> {
    scan: &'c Scan<'c>,
    items: &'c [Spanned],
    from: usize,
    to: usize,
    /// The exercise is one of the body.
    on_body: bool,
    /// The token behind the last number or name of the message.
    last_number: usize,
    out: Atoms,
}

impl Cutter<'_> {
    fn item(&self, at: usize) -> Option<&Spanned> {
        self.items.get(at).filter(|_| at < self.to)
    }

    fn mark(&self, at: usize) -> Option<Mark> {
        let token = self.scan.token(self.item(at)?.from)?;
        match token.kind {
            Kind::Mark(mark) => Some(mark),
            _ => None,
        }
    }

    fn push(&mut self, atom: Atom) {
        // What stands before the first number parts nothing.
        if self.out.numbers > 0
            || matches!(
                atom,
                Atom::Number(_) | Atom::Body | Atom::Warm(false) | Atom::WarmRun
            )
        {
            self.out.list.push(atom);
        }
    }

    /// Takes the item at `at`; gives the next place.
    fn take(&mut self, at: usize) -> Option<usize> {
        let spanned = self.item(at)?.clone();
        match spanned.item {
            Item::Num(num) => return self.number(at, num),
            // `x10 x9 x8`, `bodyweight x10`: repetitions.
            Item::Times if self.out.numbers == 0 && self.num_follows(at) => {
                self.out.list.push(Atom::Joint(Joint::Times));
            }
            // `20kg x15 x15`: a list.
            Item::Times if self.lists_on(at) => self.push(Atom::Parting(Parting::Comma)),
            Item::Times => self.push(Atom::Joint(Joint::Times)),
            Item::For | Item::At | Item::With | Item::Of if !self.leads(at + 1) => {
                self.out.tail += 1;
            }
            // `10 of the 60`, `with the 24s`
            Item::At | Item::With | Item::Of if self.is_the(at + 1) => {
                let joint = match spanned.item {
                    Item::Of => Joint::Of,
                    _ => Joint::At,
                };
                self.push(Atom::Joint(joint));
                return Some(at + 2);
            }
            Item::For => self.push(Atom::Joint(Joint::For)),
            Item::At | Item::With if self.is_small(at + 1) => return None,
            Item::At | Item::With => self.push(Atom::Joint(Joint::At)),
            Item::Of if self.out.numbers == 0 && self.is_sets(at.wrapping_sub(1)) => {
                return self.set_of(at + 1);
            }
            Item::Of => self.push(Atom::Joint(Joint::Of)),
            // `3 sets: 70x8, 72.5x6, 75x4`
            Item::Colon if self.counts_what_follows(at) => {
                self.out.list.clear();
                self.out.ends.clear();
                self.out.numbers = 0;
            }
            Item::Colon if self.is_behind_words(at) => self.push(Atom::Parting(Parting::Break)),
            Item::Colon => self.push(Atom::Joint(Joint::Times)),
            Item::Slash => self.push(Atom::Parting(Parting::Slash)),
            Item::Dash(_) if self.is_span(at) => return None,
            Item::Dash(_) => self.push(Atom::Parting(Parting::Dash)),
            // `5 sets of 5, then 3 with 10 kg`: what comes then has a load of its own.
            Item::And if self.scan.w(spanned.from) == W::Then && self.loads_next(at + 1) => {
                self.push(Atom::Parting(Parting::Break));
            }
            Item::And => self.push(Atom::Parting(Parting::Comma)),
            Item::Comma => return self.comma(at),
            Item::Break(line) => self.end(at, line)?,
            // `60 kg, 10 reps, three times`
            Item::Repeat(count) => {
                if self.out.list.last() == Some(&Atom::Parting(Parting::Comma)) {
                    self.out.list.pop();
                }
                self.push(Atom::Repeat(count));
            }
            Item::Effort(Effort::One(_)) if self.failed_load(at).is_some() => {
                let num = self.failed_load(at)?;
                if self.out.numbers > 0 {
                    self.push(Atom::Parting(Parting::Comma));
                }
                self.push(Atom::Number(Number {
                    num,
                    said: Said::Load,
                }));
                self.out.numbers += 1;
                self.fail();
                return Some(at + 3);
            }
            Item::Effort(Effort::One(rir)) => self.effort(spanned.from, spanned.to, rir),
            Item::Rest(seconds) if self.out.numbers > 0 => self.push(Atom::Rest(seconds)),
            Item::Technique(technique) if technique.is_straight() => {
                self.out.technique = Some(technique);
            }
            // `same x8`: so many more at the same load.
            Item::Same if self.parts(at) && self.counts_on(at + 1) => {}
            Item::Same if self.parts(at) && !self.is_as(at + 1) => {
                self.push(Atom::Again);
                self.out.numbers += 1;
            }
            Item::Side => {
                self.out.side = true;
                // `20kg, 10 each leg`: so many on each side.
                if let Some(Atom::Number(number)) = self.out.list.last_mut()
                    && self.out.numbers > 1
                    && number.said == Said::Nothing
                    && number.num.value <= SURELY_LOAD
                {
                    number.said = Said::Reps;
                }
            }
            Item::Added => self.out.added = true,
            Item::Assisted => self.out.assisted = true,
            Item::Warm if self.mark(at.wrapping_sub(1)) == Some(Mark::Open) => {
                self.push(Atom::Warm(true));
            }
            Item::Warm if self.has_more_warm(at) => self.push(Atom::Warm(false)),
            Item::Warm if self.out.numbers == 0 && !self.has_lines(at) => {
                if self.has_parts(at) {
                    self.push(Atom::WarmRun);
                } else {
                    self.out.warm_up = true;
                }
            }
            Item::Body => return self.body(at),
            Item::Every | Item::Label => {}
            Item::Last => self.push(Atom::Last),
            // The name of all these numbers, behind some of them.
            Item::Name(_) => {
                self.out.dumbbells |= self.names_dumbbells(at);
                // `20 x push-ups`
                if let [Atom::Number(number), Atom::Joint(Joint::Times)] = self.out.list.as_slice()
                    && (self.on_body && number.num.value >= LEAST_REPS || !self.ends(at + 1))
                {
                    self.out.list.pop();
                }
                // `20 push-ups x 3`
                if let Some(Atom::Number(number)) = self.out.list.last_mut()
                    && self.on_body
                    && number.said == Said::Nothing
                {
                    number.said = Said::Reps;
                }
            }
            Item::Sets if self.out.numbers == 0 => {}
            Item::Word if self.scan.w(spanned.from) == W::RepNoun && self.out.numbers > 0 => {
                // `315 for triples`: nobody knows how many.
                if self.out.numbers == 1 && self.scan.text_at(spanned.from).ends_with('s') {
                    return None;
                }
                let value = self.scan.token(spanned.from)?.value;
                let reps = Num {
                    value,
                    reps: true,
                    ..Num::default()
                };
                return self.number(at, reps);
            }
            // `3 x max reps 9, 8, 7`
            Item::Word if self.is_most(at) => {
                self.out.list.pop();
                if let Some(Atom::Number(number)) = self.out.list.last_mut() {
                    number.said = Said::Sets;
                }
                let behind = |s: &Spanned| matches!(s.item, Item::Reps | Item::Colon);
                let behind = self.item(at + 1).is_some_and(behind);
                return Some(at + 1 + usize::from(behind));
            }
            Item::Word if self.is_judged(at).is_some() => {
                if self.is_judged(at)? {
                    self.push(Atom::Joint(Joint::Times));
                    self.push(Atom::Number(Number {
                        num: Num {
                            value: 1.0,
                            reps: true,
                            ..Num::default()
                        },
                        said: Said::Reps,
                    }));
                } else {
                    self.fail();
                }
            }
            Item::Word if self.is_missed(at) => self.effort(spanned.from, spanned.to, 0.0),
            Item::Word => self.word(spanned.from)?,
            _ => return None,
        }
        Some(at + 1)
    }

    fn num_follows(&self, at: usize) -> bool {
        let next = self.item(at + 1);
        next.is_some_and(|s| matches!(s.item, Item::Num(num) if !num.is_load()))
    }

    /// Whether a cross that is glued to the number behind it alone follows another such: too many
    /// for sets, that number counts repetitions as the one before does.
    fn lists_on(&self, at: usize) -> bool {
        let leads = |at: usize| {
            let cross = self.item(at).filter(|s| s.item == Item::Times);
            cross.is_some_and(|s| !self.scan.glued(s.from) && self.scan.glued(s.to))
        };
        let many = |at: usize| matches!(self.item(at).map(|s| &s.item), Some(Item::Num(n)) if n.value > MOST_COUNTED && !n.is_load());
        let before = at.checked_sub(2).is_some_and(leads);
        before && leads(at) && many(at - 1) && many(at + 1) && self.out.numbers > 1
    }

    /// Whether warm-ups are told one by one: `wu 60x8, wu 90x4, squat 115x5`.
    fn has_more_warm(&self, at: usize) -> bool {
        let warm = |at: usize| self.item(at).is_some_and(|s| s.item == Item::Warm);
        let own = (self.from..self.to).filter(|at| warm(*at)).count() > 1;
        let leads = matches!(
            self.item(at + 1).map(|s| &s.item),
            Some(Item::Num(_) | Item::Colon)
        );
        own && leads
    }

    /// `65 miss`, `200 x miss`: an attempt that failed.
    fn is_missed(&self, at: usize) -> bool {
        let missed = |s: &Spanned| {
            matches!(
                self.scan.text_at(s.from),
                "miss" | "xmiss" | "missed" | "nope"
            )
        };
        self.item(at).is_some_and(missed)
            && matches!(
                self.out.list.last(),
                Some(Atom::Number(_) | Atom::Joint(Joint::Times))
            )
    }

    /// `180 ok, 190 no`: an attempt at the load before, and whether it was lifted.
    fn is_judged(&self, at: usize) -> Option<bool> {
        let good = match self.item(at).map(|s| self.scan.text_at(s.from))? {
            "ok" | "yes" | "good" | "made" | "make" => true,
            "no" | "nope" | "miss" | "missed" | "fail" => false,
            _ => return None,
        };
        let ends = |s: &Spanned| matches!(s.item, Item::Comma | Item::Break(_) | Item::Num(_));
        let alone = match self.out.list.as_slice() {
            [Atom::Number(number)] | [.., Atom::Parting(_), Atom::Number(number)] => {
                number.loads() && number.num.value > SURELY_LOAD
            }
            _ => false,
        };
        (alone && self.item(at + 1).is_none_or(ends)).then_some(good)
    }

    /// The load before was tried once and not lifted.
    fn fail(&mut self) {
        self.push(Atom::Joint(Joint::Times));
        self.push(Atom::Number(Number {
            num: Num {
                reps: true,
                ..Num::default()
            },
            said: Said::Reps,
        }));
        self.push(Atom::Effort(0.0));
    }

    /// `failed at 120`: the load that was tried.
    fn failed_load(&self, at: usize) -> Option<Num> {
        let failed = self.item(at)?;
        let one = failed.to == failed.from + 1;
        let joined = matches!(
            self.item(at + 1).map(|s| &s.item),
            Some(Item::At | Item::With)
        );
        let Some(Item::Num(num)) = self.item(at + 2).map(|s| &s.item) else {
            return None;
        };
        let word = matches!(self.scan.w(failed.from), W::Failed | W::Failure);
        let alone = self.ends(at + 3);
        (one && word && joined && alone && num.value > SURELY_LOAD).then_some(*num)
    }

    /// Whether no number follows before a comma or an end.
    fn ends(&self, at: usize) -> bool {
        let next = self.item(at).map(|s| &s.item);
        !matches!(
            next,
            Some(Item::Num(_) | Item::Times | Item::For | Item::At | Item::With | Item::Slash)
        )
    }

    /// `3 x max`: as many as could be done, which follow.
    fn is_most(&self, at: usize) -> bool {
        let most = |s: &Spanned| matches!(self.scan.text_at(s.from), "max" | "amrap" | "maximum");
        self.item(at).is_some_and(most)
            && matches!(
                self.out.list.as_slice(),
                [Atom::Number(number), Atom::Joint(Joint::Times)] if number.counts()
            )
    }

    /// Whether so many sets as were counted, each of a load and repetitions, stand behind a colon.
    fn counts_what_follows(&self, at: usize) -> bool {
        let [Atom::Number(count)] = self.out.list.as_slice() else {
            return false;
        };
        count.said == Said::Sets && is_count_of_pairs(self.items, (at, self.to), count.num.value)
    }

    /// `with straps: 100x6`: a heading inside the line, which joins nothing.
    fn is_behind_words(&self, at: usize) -> bool {
        let before = at.checked_sub(1).and_then(|at| self.item(at));
        before.is_some_and(|s| s.item == Item::Word && self.scan.w(s.from) != W::RepNoun)
    }

    /// Whether a semicolon parts what stands behind `at`: `w/u 20x15, 40x8; 60x8`.
    fn has_parts(&self, at: usize) -> bool {
        (at..self.to).any(|at| self.mark(at) == Some(Mark::Semicolon))
    }

    /// Whether a line ends or `then` stands behind `at`: a warm-up may end there.
    fn has_lines(&self, at: usize) -> bool {
        let ends = |s: &Spanned| matches!(s.item, Item::Break(true) | Item::And);
        (at..self.to).any(|at| self.item(at).is_some_and(ends))
    }

    /// Whether repetitions follow: `x 8`, `for 8`, `8`.
    fn counts_on(&self, at: usize) -> bool {
        let item = |at: usize| self.item(at).map(|s| &s.item);
        let number = |at: usize| matches!(item(at), Some(Item::Num(num)) if !num.is_load());
        match item(at) {
            Some(Item::Times | Item::For) => number(at + 1),
            _ => number(at) && !matches!(item(at + 1), Some(Item::Times | Item::For | Item::At)),
        }
    }

    /// `same as last time` is no other set.
    fn is_as(&self, at: usize) -> bool {
        self.item(at)
            .is_some_and(|s| self.scan.text_at(s.from) == "as")
    }

    /// Whether a comma or more stands before the item at `at`, behind numbers.
    fn parts(&self, at: usize) -> bool {
        let before = at.checked_sub(1).and_then(|at| self.item(at));
        self.out.numbers > 0
            && before.is_some_and(|s| matches!(s.item, Item::Comma | Item::And | Item::Break(_)))
    }

    /// `3 with a 10 kg plate`: repetitions before their load.
    fn loads_next(&self, at: usize) -> bool {
        let item = |at: usize| self.item(at).map(|s| &s.item);
        matches!(item(at), Some(Item::Num(num)) if !num.is_load())
            && matches!(item(at + 1), Some(Item::At | Item::With))
            && (at + 2..at + 4).any(|at| matches!(item(at), Some(Item::Num(_))))
    }

    /// `the 24s`: an article before a number.
    fn is_the(&self, at: usize) -> bool {
        let the = |s: &Spanned| s.item == Item::Word && self.scan.w(s.from) == W::The;
        let number = self.item(at + 1).map(|s| &s.item);
        self.item(at).is_some_and(the) && matches!(number, Some(Item::Num(_)))
    }

    /// `goblet squat with the 24, 15 reps`, `row at 60`: a load. `with 3x12` may be anything.
    fn is_led_by_with(&self, at: usize) -> bool {
        let article = at.checked_sub(1).filter(|at| self.is_the(*at));
        let with = article.unwrap_or(at).checked_sub(1);
        let item = |at: usize| self.items.get(at).map(|s| &s.item);
        let named = with.and_then(|at| at.checked_sub(1)).and_then(item);
        let led = article.is_some() || matches!(named, Some(Item::Name(_)));
        let open = matches!(
            item(at + 1),
            Some(Item::Times | Item::And | Item::Sets | Item::Reps)
        );
        with.and_then(item) == Some(&Item::With) && led && !open
    }

    /// Whether a number follows: `for a laugh` joins nothing.
    fn leads(&self, at: usize) -> bool {
        if self.is_the(at) {
            return true;
        }
        let next = self.item(at).map(|s| &s.item);
        matches!(next, Some(Item::Num(_) | Item::Body | Item::Comma))
            || matches!(next, Some(Item::Word))
                && self
                    .item(at)
                    .is_some_and(|s| self.scan.w(s.from) == W::RepNoun)
    }

    /// `8-10`, `8 - 10 reps`: one number, not known exactly.
    fn is_span(&self, at: usize) -> bool {
        let glued = self.item(at).is_some_and(|s| s.item == Item::Dash(true));
        let counted = self.item(at + 2).is_some_and(|s| s.item == Item::Reps);
        if !glued && !counted {
            return false;
        }
        let count = |at: usize| match self.item(at).map(|s| &s.item) {
            Some(Item::Num(num)) if !num.is_load() && num.value <= 30.0 => Some(num.value),
            _ => None,
        };
        let dash = |at: usize| self.item(at).is_some_and(|s| s.item == Item::Dash(true));
        let longer = dash(at + 2) || at.checked_sub(2).is_some_and(dash);
        let low = at.checked_sub(1).and_then(count);
        !longer && low.zip(count(at + 1)).is_some_and(|(low, high)| low < high)
    }

    /// `@ 8`: an effort, or a load so light that it must be asked about.
    fn is_small(&self, at: usize) -> bool {
        matches!(self.item(at).map(|s| &s.item), Some(Item::Num(num)) if !num.is_load() && num.value <= 10.0)
    }

    fn end(&mut self, at: usize, line: bool) -> Option<()> {
        // `lbs. x 1`, `ea.`: the stop of a short form.
        let short = self.mark(at) == Some(Mark::Stop) && !line;
        let behind = at + 1 < self.to;
        match self.mark(at) {
            Some(Mark::Question) => None,
            _ if short && behind && self.out.numbers > 0 => {
                let joined = matches!(
                    self.item(at + 1).map(|s| &s.item),
                    Some(Item::Times | Item::Comma | Item::For | Item::At)
                );
                if !joined {
                    self.push(Atom::Parting(Parting::Break));
                }
                Some(())
            }
            _ => {
                self.push(Atom::Parting(Parting::Break));
                Some(())
            }
        }
    }

    /// A comma, a bracket, an equals sign.
    fn comma(&mut self, at: usize) -> Option<usize> {
        match self.mark(at) {
            Some(Mark::Open) => self.push(Atom::Parting(Parting::Open)),
            Some(Mark::Close) => {
                if let Some((sets, to)) = self.sets_behind(at) {
                    self.push(Atom::Repeat(sets));
                    return Some(to);
                }
                self.push(Atom::Parting(Parting::Close));
            }
            Some(Mark::Comma) => self.push(Atom::Parting(Parting::Comma)),
            // `5 x 1 = 5 reps`
            // `pull-ups = 9, 8, 6`
            Some(Mark::Other) if self.out.numbers == 0 => {}
            Some(Mark::Other) if self.out.numbers > 1 => {
                let Some(Item::Num(num)) = self.item(at + 1).map(|s| s.item.clone()) else {
                    return None;
                };
                self.push(Atom::Sum(num.value));
                self.out.numbers += 1;
                let counted = self.item(at + 2).is_some_and(|s| s.item == Item::Reps);
                return Some(at + 2 + usize::from(counted));
            }
            _ => return None,
        }
        Some(at + 1)
    }

    /// `(80x5) x3`: how many sets of what the brackets hold, and the place behind.
    fn sets_behind(&self, at: usize) -> Option<(f64, usize)> {
        let pair = matches!(
            self.out.list.as_slice(),
            [.., Atom::Number(_), Atom::Joint(_), Atom::Number(_)]
        );
        let crossed = self.item(at + 1).is_some_and(|s| s.item == Item::Times);
        let Some(Item::Num(num)) = self.item(at + 2).map(|s| &s.item) else {
            return None;
        };
        (pair && crossed && !num.is_load() && self.ends(at + 3)).then_some((num.value, at + 3))
    }

    fn number(&mut self, at: usize, num: Num) -> Option<usize> {
        let mut number = Number {
            num,
            said: Said::Nothing,
        };
        let mut to = at + 1;
        let whole = Num {
            value: num.value.trunc(),
            ..num
        };
        if whole.is_load() {
            number.said = Said::Load;
        } else if num.reps {
            number.said = Said::Reps;
        } else if self.out.numbers == 0 && self.is_led_by_with(at) {
            number.said = Said::Load;
        }
        match self.item(to).map(|s| &s.item) {
            Some(Item::Reps) => (number.said, to) = (Said::Reps, to + 1),
            Some(Item::Sets) => (number.said, to) = (Said::Sets, to + 1),
            // `315 for five triples`
            Some(Item::Num(noun)) if noun.reps && !num.is_load() && num.value <= MOST_TIMES => {
                number.said = Said::Sets;
            }
            _ => {}
        }
        if !num.value.is_finite() {
            return None;
        }
        let before = at.checked_sub(1).and_then(|at| self.item(at));
        let plus = before.is_some_and(|s| s.item == Item::And && self.scan.is(s.from, Mark::Plus));
        // `80x10 + 80x9`, `80x8 + 2 + 2`; `4+1` may be one more with help.
        let glued = |at: usize| self.item(at).is_some_and(|s| self.scan.glued(s.from));
        let is_plus = |at: usize| self.mark(at) == Some(Mark::Plus);
        let same = before_number(&self.out.list).is_some_and(|n| (n - num.value).abs() < 0.1);
        let one =
            plus && !same && glued(at - 1) && !is_plus(at + 1) && !is_plus(at.wrapping_sub(3));
        let goes_on = plus
            && !one
            && matches!(
                self.out.list.as_slice(),
                [.., Atom::Joint(Joint::Times) | Atom::Parting(Parting::Comma), Atom::Number(n), Atom::Parting(Parting::Comma)]
                    if n.num.sign == number.num.sign
            );
        if plus && number.said == Said::Load && self.out.numbers == 0 {
            number.num.sign = Sign::Plus;
            self.out.list.clear();
        }
        if matches!(
            self.out.list.last(),
            Some(Atom::Number(_) | Atom::Repeat(_))
        ) {
            let joint = match self.is_load_of_sets(&number, to) {
                true => Joint::At,
                false => Joint::Beside,
            };
            self.push(Atom::Joint(joint));
        }
        self.push(Atom::Number(number));
        self.out.numbers += 1;
        self.out.words += std::mem::take(&mut self.out.tail);
        // `(+2)` and sums joined by a plus are more than this grammar knows.
        (!plus || goes_on || number.num.sign == Sign::Plus).then_some(to)
    }

    /// `3x20 25`: a number by itself behind sets × repetitions is their load. Nobody writes a load as the second of
    /// three numbers with three repetitions; `2x24 12` are two dumbbells.
    fn is_load_of_sets(&self, load: &Number, to: usize) -> bool {
        let bare = |number: &Number| number.said == Said::Nothing;
        let (sets, reps) = match self.out.list.as_slice() {
            [
                Atom::Number(sets),
                Atom::Joint(Joint::Times),
                Atom::Number(reps),
            ] if bare(sets) && bare(reps) && bare(load) => (sets.num.value, reps.num.value),
            _ => return false,
        };
        let goes_on = matches!(
            self.item(to).map(|s| &s.item),
            Some(
                Item::Num(_)
                    | Item::Times
                    | Item::Slash
                    | Item::Dash(_)
                    | Item::For
                    | Item::At
                    | Item::With
            )
        );
        let listed = matches!(self.item(to + 1).map(|s| &s.item), Some(Item::Num(_)));
        let dumbbells = sets < 2.5 && load.num.value < reps;
        let counts =
            (2.0..=MOST_COUNTED).contains(&sets) && (LEAST_OF_SETS..=SURELY_LOAD).contains(&reps);
        counts && !self.on_body && !goes_on && !listed && !dumbbells
    }

    fn is_sets(&self, at: usize) -> bool {
        self.item(at).is_some_and(|s| s.item == Item::Sets)
    }

    /// `set of 40`: repetitions.
    fn set_of(&mut self, at: usize) -> Option<usize> {
        let Some(Item::Num(num)) = self.item(at).map(|s| s.item.clone()) else {
            return None;
        };
        self.number(
            at,
            Num {
                reps: !num.is_load(),
                ..num
            },
        )
    }

    /// The body alone; with its mass behind it in brackets or an equals sign, that mass is no load.
    fn body(&mut self, at: usize) -> Option<usize> {
        let mass = |at: usize| matches!(self.item(at).map(|s| &s.item), Some(Item::Num(num)) if num.unit.is_some());
        let told = matches!(self.mark(at + 1), Some(Mark::Open | Mark::Other)) && mass(at + 2);
        // `(bw 81)` behind the sets says what the body weighs.
        let aside = self.mark(at.wrapping_sub(1)) == Some(Mark::Open)
            && self.mark(at + 2) == Some(Mark::Close)
            && matches!(self.item(at + 1).map(|s| &s.item), Some(Item::Num(n)) if n.value > 30.0);
        if aside {
            return Some(at + 3);
        }
        self.push(Atom::Body);
        if told {
            let closed = self.mark(at + 3) == Some(Mark::Close);
            return Some(at + 3 + usize::from(closed));
        }
        Some(at + 1)
    }

    fn effort(&mut self, from: usize, to: usize, rir: f64) {
        // `2, 1 F`: one repetition more was tried and failed.
        let failed = rir <= 0.0
            && to == from + 1
            && matches!(self.scan.w(from), W::F | W::Failed | W::Failure);
        let bare = matches!(
            self.out.list.as_slice(),
            [.., Atom::Parting(_), Atom::Number(number)] if number.said == Said::Nothing && number.num.value <= 3.0
        );
        let crossed = matches!(self.scan.text_at(from), "xf" | "xmiss");
        let tried = |number: &Number| {
            number.said == Said::Load
                || number.said == Said::Nothing && number.num.value > SURELY_LOAD
        };
        // `90xF`, `65 miss`: so much was not lifted once.
        let attempt = match self.out.list.as_slice() {
            _ if crossed => matches!(self.out.list.last(), Some(Atom::Number(_))),
            _ if !failed && !self.scan.text_at(from).starts_with("miss") => false,
            [.., Atom::Number(_), Atom::Joint(Joint::Times)] => true,
            [Atom::Number(number)] | [.., Atom::Parting(_), Atom::Number(number)] => tried(number),
            _ => false,
        };
        if attempt {
            if let Some(Atom::Joint(_)) = self.out.list.last() {
                self.out.list.pop();
            }
            self.fail();
            return;
        }
        let plural = failed && self.scan.text_at(from).ends_with('s');
        if plural && matches!(self.out.list.last(), Some(Atom::Number(_))) {
            self.push(Atom::Attempts);
        } else if failed && bare {
            self.out.list.truncate(self.out.list.len() - 2);
            self.out.numbers -= 1;
            self.push(Atom::Failed);
        } else if self.is_of_last(from, failed) {
            self.push(Atom::EffortOfLast(rir));
        } else {
            self.push(Atom::Effort(rir));
        }
    }

    /// `10/9/8f`, `5,5,4@9`: what is glued to the last number of a list that falls is that number's, and a failure
    /// right behind it.
    fn is_of_last(&self, from: usize, failed: bool) -> bool {
        let list = match self.out.list.as_slice() {
            [list @ .., Atom::Parting(Parting::Open)] if failed => list,
            list if failed || self.scan.glued(from) => list,
            _ => return false,
        };
        match list {
            [
                ..,
                Atom::Number(before),
                Atom::Parting(_) | Atom::Joint(Joint::Beside),
                Atom::Number(last),
            ] => {
                before.counts()
                    && last.counts()
                    && last.num.value < before.num.value
                    && before.num.value <= SURELY_LOAD
            }
            _ => false,
        }
    }

    fn word(&mut self, at: usize) -> Option<()> {
        let token = self.scan.token(at)?;
        if token.kind != Kind::Word {
            return None;
        }
        self.out.tail += 1;
        self.out.dumbbells |= token.word.w == W::Dumbbell;
        // What is said behind all numbers changes none of them.
        if self.out.numbers > 0 && at >= self.last_number {
            self.out.strangers += usize::from(!token.word.roles.any(Roles::FILL));
            return Some(());
        }
        let open = matches!(
            token.word.w,
            W::Up | W::Down | W::To | W::Last | W::Next | W::Or | W::But
        );
        let ends = self.out.numbers > 0 && self.scan.digits(at + 1).is_some();
        if open || self.out.numbers == 0 && self.names_part(at) {
            return None;
        }
        self.out.strangers += usize::from(!token.word.roles.any(Roles::FILL));
        // A word right before a number may say what it counts.
        let harmless = matches!(self.scan.text_at(at), "only" | "just");
        (!ends || harmless || self.is_best(at)).then_some(())
    }

    fn names_dumbbells(&self, at: usize) -> bool {
        let dumbbell = |s: &Spanned| (s.from..s.to).any(|at| self.scan.w(at) == W::Dumbbell);
        self.item(at).is_some_and(dumbbell)
    }

    /// A word that makes another movement of the name.
    fn names_part(&self, at: usize) -> bool {
        self.scan
            .token(at)
            .is_some_and(|token| self.scan.names.changes_movement(token))
    }

    /// `PR 96`, `PB 100`.
    fn is_best(&self, at: usize) -> bool {
        matches!(self.scan.text_at(at), "pr" | "pb" | "prs" | "pbs")
    }
}

/// Whether exactly so many pairs of load and repetitions stand between two items.
pub(crate) fn is_count_of_pairs(items: &[Spanned], (from, to): (usize, usize), count: f64) -> bool {
    let items = items.get(from..to.min(items.len())).unwrap_or_default();
    let cross = |s: &&Spanned| s.item == Item::Times;
    let pairs = u32::try_from(items.iter().filter(cross).count()).map_or(0.0, f64::from);
    pairs > 1.0 && (pairs - count).abs() < 0.1
}

/// The last number of a list of atoms.
fn before_number(list: &[Atom]) -> Option<f64> {
    list.iter().rev().find_map(|atom| match atom {
        Atom::Number(number) => Some(number.num.value),
        _ => None,
    })
}

/// Whether an exercise is done with one side at a time. Common practice, no source.
pub(super) fn is_one_sided(name: &str) -> bool {
    const CALLED: &str = "split squat, lunge, step-up, pistol, suitcase, side plank, dumbbell row, kettlebell press, \
        kettlebell snatch, kettlebell clean, concentration curl, bird dog, dead bug, kickback, windmill, get-up";
    name.starts_with("single-")
        || name.starts_with("one-")
        || CALLED.split(", ").any(|called| name.contains(called))
}

/// The unit that the loads of a line have: the one written, else the member's own.
pub(super) fn unit_of(list: &[Atom], own: Unit) -> Unit {
    let written = |atom: &Atom| match atom {
        Atom::Number(number) => number.num.unit,
        _ => None,
    };
    list.iter().find_map(written).unwrap_or(own)
}
