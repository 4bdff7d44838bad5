//! Whether a message with groups in it reports training: what is left alone, and why.
//!
//! A report is explained by its numbers, a name (or the set before), and words that go with
//! reports. Words that speak of other persons, of plans, wishes and memories, of buying and
//! measuring, or too many words of which nothing is known, make it chatter. Filing what was not a
//! set is worse than asking about one that was, and asking is worse than silence to chat.

mod continued;
mod unknown;

use crate::domain::quantities::id::ExerciseId;

use crate::message::grammar::clause::Clause;
use crate::message::grammar::core::{LoadPart, Open};
use crate::message::grammar::groups::{Group, Parsed};
use crate::message::grammar::item::{Item, Spanned, item_at};
use crate::message::grammar::scan::Scan;
use crate::message::grammar::sets::Filed;
use crate::message::reading::Need;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

/// What to make of the groups of a message.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Verdict {
    /// Training: sets, or a question about what they lack.
    Training,
    /// Training, of a movement that the catalogue lacks; the words that name it.
    UnknownName(String),
    /// Something else.
    Chatter,
}

/// A message as the judge sees it.
pub(crate) struct Case<'j> {
    pub scan: &'j Scan<'j>,
    pub items: &'j [Spanned],
    pub clauses: &'j [Clause],
    pub parsed: &'j Parsed,
    pub filed: &'j Filed,
    /// A set to carry on from is known.
    pub carry: bool,
    /// A name was found only by mending a slip.
    pub slip: bool,
    /// How likely it reports sets that its writer did.
    pub likely: f32,
    /// Tokens that were read as a question, a readiness or a hurt.
    pub other: &'j dyn Fn(usize) -> bool,
}

/// A message less likely than this reports no sets: somebody else's, a plan, a wish, a memory, a price.
/// A false log is worse than silence to a report, which is posted again.
const NO_REPORT: f32 = 0.25;

/// A message likelier than this reports sets, whatever words stand in it.
pub(crate) const SURELY_A_REPORT: f32 = 0.85;

/// Judges a message that has at least one group.
pub(crate) fn judge(case: &Case<'_>) -> Verdict {
    let strong = case.has_evidence();
    let mut unknown = None;
    if case.likely < NO_REPORT || !strong && case.is_list_without_loads() {
        return Verdict::Chatter;
    }
    for group in &case.parsed.groups {
        match case.group(group, strong) {
            Verdict::Chatter => return Verdict::Chatter,
            Verdict::UnknownName(name) => unknown = Some(name),
            Verdict::Training => {}
        }
    }
    unknown.map_or(Verdict::Training, Verdict::UnknownName)
}

impl Case<'_> {
    /// Effort, rest, warm-up, sides or technique were said: words of the floor.
    fn has_evidence(&self) -> bool {
        self.parsed.training_words || self.parsed.groups.iter().any(|g| g.rest_s.is_some())
    }

    /// `bench 4x8, squat 5x5, deadlift 3x5`: several exercises and not one load is a plan.
    fn is_list_without_loads(&self) -> bool {
        let several = self.parsed.groups.first().is_some_and(|first| {
            self.parsed
                .groups
                .iter()
                .any(|g| g.segment != first.segment)
        });
        several && self.filed.drafts.iter().all(|draft| draft.load.is_none())
    }

    fn token_of(&self, item: usize) -> usize {
        self.items
            .get(item)
            .map_or(self.scan.tokens.len(), |s| s.from)
    }

    fn end_of(&self, item: usize) -> usize {
        item.checked_sub(1)
            .and_then(|last| self.items.get(last))
            .map_or(0, |s| s.to)
    }

    /// Whether a token stands for itself: no phrase, name or answer took it.
    fn is_left(&self, at: usize) -> bool {
        let of_phrase = self.item_at(at).is_some_and(|s| {
            !matches!(
                s.item,
                Item::Word
                    | Item::Comma
                    | Item::With
                    | Item::And
                    | Item::More
                    | Item::Every
                    | Item::Of
                    | Item::For
            )
        });
        !of_phrase && !(self.other)(at)
    }

    fn item_at(&self, at: usize) -> Option<&Spanned> {
        item_at(self.items, at)
    }

    /// Words left of which nothing harmless is known.
    fn strangers(&self, from: usize, to: usize) -> usize {
        (from..to).filter(|&at| self.is_stranger(at)).count()
    }

    fn is_stranger(&self, at: usize) -> bool {
        self.scan.token(at).is_some_and(|token| {
            token.kind == Kind::Word
                && self.is_left(at)
                && !token.word.roles.any(Roles::FILL)
                && !is_drawn_out(self.scan.text.text_of(token))
        })
    }

    fn group(&self, group: &Group, strong: bool) -> Verdict {
        let named = self
            .parsed
            .segments
            .get(group.segment)
            .is_some_and(|segment| segment.exercise.is_some());
        let span = self.span(group);
        if self.is_held_for_time(group)
            || self.is_foreign(group, &span)
            || self.is_asked(&span, strong)
        {
            return Verdict::Chatter;
        }
        if named {
            self.named(group, &span, strong)
        } else if self.carry {
            self.carried(group, &span, strong)
        } else {
            self.nameless(group, &span, strong)
        }
    }

    /// `plank 3x60s`, `planks 3`: no repetitions were counted.
    fn is_held_for_time(&self, group: &Group) -> bool {
        let segment = self.parsed.segments.get(group.segment);
        let timed = segment
            .and_then(|segment| segment.exercise)
            .is_some_and(|id| self.scan.names.is_timed(id));
        let core = &group.core;
        let counted = match core.load {
            LoadPart::Num(num) => num.unit.is_some() || !num.per_hand && core.open != Open::Single,
            LoadPart::Body => true,
            _ => core.said_reps,
        };
        timed && !counted
    }

    /// The tokens of a group with its clauses around it.
    fn span(&self, group: &Group) -> Span {
        let from = self.token_of(group.from);
        let to = self.end_of(group.core_to).max(from);
        let first = self.clauses.iter().position(|c| c.to > from);
        let last = self.clauses.iter().rposition(|c| c.from < to);
        let (Some(first), Some(last)) = (first, last) else {
            return Span {
                from,
                to,
                clause: (from, to),
                sentence: (from, to),
                ends: None,
            };
        };
        let first = first.min(last);
        let clause = &self.clauses[first..=last];
        let sentence = clause.first().map_or(0, |c| c.sentence);
        let end_sentence = clause.last().map_or(0, |c| c.sentence);
        let start = self
            .clauses
            .iter()
            .find(|c| c.sentence == sentence)
            .map_or(from, |c| c.from);
        let end = self
            .clauses
            .iter()
            .rfind(|c| c.sentence == end_sentence)
            .map_or(to, |c| c.to);
        Span {
            from,
            to,
            clause: (
                clause.first().map_or(from, |c| c.from.min(from)),
                clause.last().map_or(to, |c| c.to.max(to)),
            ),
            sentence: (start.min(from), end.max(to)),
            ends: clause.last().and_then(|c| c.end),
        }
    }

    /// Its numbers belong to something else: a length, money, a time, a count of people.
    fn is_foreign(&self, group: &Group, span: &Span) -> bool {
        let next = self.items.get(group.to).map(|s| &s.item);
        let percent = matches!(next, Some(Item::At | Item::With))
            && self.items.get(group.to + 1).is_some_and(|s| {
                s.item == Item::Foreign && (s.from..s.to).any(|at| self.scan.is(at, Mark::Percent))
            });
        if percent {
            return true;
        }
        let listed = matches!(
            self.items.get(group.to + 1).map(|s| &s.item),
            Some(Item::Num(_))
        );
        let adjacent = matches!(next, Some(Item::Foreign))
            || matches!(next, Some(Item::Times)) && !listed
            || matches!(next, Some(Item::Duration(_))) && group.core.is_load_only();
        let before = group
            .from
            .checked_sub(1)
            .and_then(|at| self.items.get(at))
            .map(|s| &s.item);
        let money = matches!(before, Some(Item::Foreign))
            && self
                .scan
                .token(span.from.saturating_sub(1))
                .is_some_and(|t| t.is(Mark::Money));
        adjacent || money
    }

    /// `bench 80x8?` asks of a set that is only thought of; `bench 80x8, 1 left, drop?` and `bench
    /// 80x8 drop?` tell of one and then ask what comes.
    fn is_asked(&self, span: &Span, strong: bool) -> bool {
        span.ends == Some(Mark::Question)
            && !(strong && self.ask_is_apart(span))
            && !self.asks_what_comes(span)
    }

    /// The words between the group and the question mark are a question of their own.
    fn ask_is_apart(&self, span: &Span) -> bool {
        span.clause.1 >= self.scan.tokens.len()
            || (span.to..span.clause.1).any(|at| (self.other)(at))
    }

    /// Right behind the numbers a question opens that only makes sense once they are done: `drop?`,
    /// `how long?`, `what next?`. `next?`, `or drop?` and `too heavy?` ask about the numbers.
    fn asks_what_comes(&self, span: &Span) -> bool {
        let tail = span.to..span.clause.1;
        let own = |at: usize| (self.other)(at) && !self.is_named_at(at);
        let Some(first) = tail.clone().find(|&at| own(at)) else {
            return false;
        };
        let next = self.scan.w(first + 1);
        let opens = match self.scan.w(first) {
            W::Drop | W::Stay | W::Lighter | W::Heavier => true,
            W::How => matches!(next, W::Long | W::Much | W::Longer),
            W::What => matches!(next, W::Next | W::Now) || next == W::Do,
            W::Should | W::Can | W::Do => next == W::I,
            W::Go => matches!(next, W::Up | W::Down | W::Again | W::Heavier | W::Lighter),
            _ => false,
        };
        opens && tail.clone().all(|at| (self.other)(at) || at < first)
    }

    fn is_named_at(&self, at: usize) -> bool {
        self.item_at(at)
            .is_some_and(|s| matches!(s.item, Item::Name(_)))
    }

    fn named(&self, group: &Group, span: &Span, strong: bool) -> Verdict {
        let name = self
            .parsed
            .segments
            .get(group.segment)
            .map_or(usize::MAX, |s| s.name_from);
        let from = span.clause.0;
        if self.is_furniture(name) || self.is_sold_off(span) {
            return Verdict::Chatter;
        }
        let strangers = self.strangers(from, self.before_while(span));
        let full = group.core.is_full() || self.is_body_list(group);
        if !full || self.filed.needs.contains(&Need::Load) {
            return self.partial(group, span, strangers, strong);
        }
        if let Some(word) = self.modifier(name) {
            return self.modified(word, name);
        }
        if let Some(word) = self.modifier_behind(name) {
            return Verdict::UnknownName(self.words(name, word + 1));
        }
        let most = if strong { 8 } else { 4 };
        if strangers > most && self.likely < SURELY_A_REPORT {
            return Verdict::Chatter;
        }
        Verdict::Training
    }

    /// The end of the clause, or the word before which another scene is told: `25 press-ups while
    /// the kettle boiled`.
    fn before_while(&self, span: &Span) -> usize {
        (span.to..span.clause.1)
            .find(|&at| matches!(self.text(at), "while" | "whilst"))
            .unwrap_or(span.clause.1)
    }

    /// A list of repetitions on a body-weight movement needs no load.
    fn is_body_list(&self, group: &Group) -> bool {
        group.core.is_reps_only()
            && !matches!(group.core.open, Open::Two(..))
            && !self.filed.needs.contains(&Need::Load)
    }

    /// `push-ups 25`: one number makes a set only among words that go with sets.
    fn is_single(&self, group: &Group) -> bool {
        group.core.open == Open::Single
    }

    /// A name with a load or repetitions alone: asked about only when nothing else is said.
    fn partial(&self, group: &Group, span: &Span, strangers: usize, strong: bool) -> Verdict {
        let states = (span.clause.0..span.clause.1)
            .any(|at| matches!(self.scan.w(at), W::Is | W::Are) || self.text(at) == "goes");
        let bare = self.is_single(group) && self.scan.tokens.len() <= 4;
        let numbered = (span.sentence.0..span.from).any(|at| {
            matches!(self.scan.w(at), W::Day | W::Week) && self.scan.digits(at + 1).is_some()
        });
        if self.slip && !strong && !bare
            || self.is_place_or_time(group)
            || self.is_distance(group)
            || states
            || numbered
        {
            return Verdict::Chatter;
        }
        // A length of time beside one number may be anything's; an effort is a set's.
        let strong = strong && !(self.is_single(group) && group.rir.is_empty());
        let most = if strong { 2 } else { 0 };
        let told = self.before_while(span);
        let scene = if told < span.clause.1 {
            told
        } else {
            span.sentence.1
        };
        let outside = self.strangers(span.sentence.0, scene);
        if strangers > most || outside > most + 1 || !strong && self.holds_foreign(span) {
            return Verdict::Chatter;
        }
        Verdict::Training
    }

    /// `bench is 45 cm wide`: the thing, and its measures.
    fn is_furniture(&self, name: usize) -> bool {
        let Some(behind) = self.item_at(name).map(|s| s.to) else {
            return false;
        };
        let clause = self.clauses.iter().find(|c| c.from <= name && name < c.to);
        matches!(self.scan.w(behind), W::Is | W::Are)
            && clause.is_some_and(|c| {
                (behind..c.to)
                    .filter_map(|at| self.item_at(at))
                    .any(|s| s.item == Item::Foreign)
            })
    }

    fn holds_foreign(&self, span: &Span) -> bool {
        self.items.iter().any(|s| {
            span.sentence.0 <= s.from
                && s.from < span.sentence.1
                && matches!(s.item, Item::Foreign | Item::Duration(_))
        })
    }

    /// `5k row`: kilometres on the water or the ergometer.
    fn is_distance(&self, group: &Group) -> bool {
        let from = self.token_of(group.from);
        group.core.is_load_only()
            && self.scan.w(from + 1) == W::K
            && self.scan.token(from).is_some_and(|t| t.value <= 50.0)
            && (0..self.scan.tokens.len()).any(|at| matches!(self.text(at), "row" | "rows"))
    }

    /// `bench at 7`, `row 10`: a bare small number behind `at`, `till`, `by` is a time or a place.
    fn is_place_or_time(&self, group: &Group) -> bool {
        if group.core.open != Open::Single {
            return false;
        }
        let from = self.token_of(group.from);
        let led = from > 0
            && matches!(
                self.scan.w(from - 1),
                W::At
                    | W::Till
                    | W::By
                    | W::Before
                    | W::From
                    | W::After
                    | W::On
                    | W::In
                    | W::To
                    | W::Number
                    | W::Of
            );
        led && self.scan.token(from).is_some_and(|t| t.value <= 24.0)
    }

    fn text(&self, at: usize) -> &str {
        self.scan.text_at(at)
    }
}

/// `yesss`, `booooom`: a cry says nothing more.
fn is_drawn_out(word: &str) -> bool {
    word.as_bytes()
        .windows(3)
        .any(|three| matches!(three, [a, b, c] if a == b && b == c))
}

/// A group's tokens, its clauses and its sentence.
#[derive(Clone, Copy, Debug)]
struct Span {
    from: usize,
    to: usize,
    clause: (usize, usize),
    sentence: (usize, usize),
    ends: Option<Mark>,
}

/// The exercise that the message itself names for its last group, if any.
pub(crate) fn exercise_named(parsed: &Parsed) -> Option<ExerciseId> {
    parsed
        .segments
        .iter()
        .rev()
        .find_map(|segment| segment.exercise)
}
