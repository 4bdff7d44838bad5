//! Whether a message with groups in it reports training: what is left alone, and why.
//!
//! A report is explained by its numbers, a name (or the set before), and words that go with
//! reports. Words that speak of other persons, of plans, wishes and memories, of buying and
//! measuring, or too many words of which nothing is known, make it chatter. Filing what was not a
//! set is worse than asking about one that was, and asking is worse than silence to chat.

use crate::domain::id::ExerciseId;

use super::clause::Clause;
use super::core::{LoadPart, Open};
use super::file::Filed;
use super::item::{Item, Spanned, item_at};
use super::names::is_name_word;
use super::reading::Need;
use super::scan::Scan;
use super::sets::{Group, Parsed};
use super::token::{Kind, Mark};
use super::vocabulary::{Roles, W};

/// What to make of the groups of a message.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Verdict {
    /// Training: sets, or a question about what they lack.
    Training,
    /// Training, of a movement that the catalogue lacks; the words that name it.
    UnknownName(String),
    /// Something else.
    Chatter,
}

/// Words that, in the clause of the numbers or before it, mean that no set was done.
const AGAINST: Roles = Roles::OTHER
    .with(Roles::INTENT)
    .with(Roles::PLAN)
    .with(Roles::HYPO)
    .with(Roles::NEG)
    .with(Roles::PAST)
    .with(Roles::TRADE)
    .with(Roles::WHO)
    .with(Roles::ROWING);

/// A message as the judge sees it.
pub(super) struct Case<'j> {
    pub scan: &'j Scan<'j>,
    pub items: &'j [Spanned],
    pub clauses: &'j [Clause],
    pub parsed: &'j Parsed,
    pub filed: &'j Filed,
    /// A set to carry on from is known.
    pub carry: bool,
    /// A name was found only by mending a slip.
    pub slip: bool,
    /// Tokens that were read as a question, a readiness or a hurt.
    pub other: &'j dyn Fn(usize) -> bool,
}

/// Judges a message that has at least one group.
pub(super) fn judge(case: &Case<'_>) -> Verdict {
    let strong = case.has_evidence();
    let mut unknown = None;
    if case.is_planned() || !strong && case.is_list_without_loads() {
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

    /// A heading such as `plan for friday:` or `tomorrow:` above or before all numbers.
    fn is_planned(&self) -> bool {
        let Some(first) = self.parsed.groups.first() else {
            return false;
        };
        let start = self.token_of(first.from);
        self.clauses.iter().take_while(|c| c.to <= start).any(|c| {
            let plan = self.roles_in(c.from, c.to).any(Roles::PLAN);
            let intent = self
                .roles_in(c.from, c.to)
                .any(Roles::INTENT.with(Roles::HYPO).with(Roles::OTHER));
            let heads = matches!(c.end, Some(Mark::Colon | Mark::Line));
            heads && (plan || intent && c.end == Some(Mark::Colon))
        })
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

    /// The roles of the words left from `from` up to `to`.
    fn roles_in(&self, from: usize, to: usize) -> Roles {
        (from..to)
            .filter(|&at| self.is_left(at) && !self.is_modest(at))
            .filter_map(|at| self.scan.token(at))
            .fold(Roles::default(), |roles, token| {
                roles.with(token.word.roles)
            })
    }

    /// `could only do 80x6` was done; `as planned` too.
    fn is_modest(&self, at: usize) -> bool {
        let before = at.checked_sub(1).map_or("", |at| self.text(at));
        self.text(at) == "could" && self.text(at + 1) == "only"
            || self.text(at) == "planned" && before == "as"
    }

    /// Words left of which nothing harmless is known.
    fn strangers(&self, from: usize, to: usize) -> usize {
        (from..to).filter(|&at| self.is_stranger(at)).count()
    }

    fn is_stranger(&self, at: usize) -> bool {
        self.scan.token(at).is_some_and(|token| {
            token.kind == Kind::Word && self.is_left(at) && !token.word.roles.any(Roles::FILL)
        })
    }

    fn group(&self, group: &Group, strong: bool) -> Verdict {
        let named = self
            .parsed
            .segments
            .get(group.segment)
            .is_some_and(|segment| segment.exercise.is_some());
        let span = self.span(group);
        if self.is_foreign(group, &span) || self.is_asked(&span, strong) {
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
            || matches!(next, Some(Item::Times)) && !listed && !self.breaks_off(group)
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

    /// `bench 80x`: sent before it was finished.
    fn breaks_off(&self, group: &Group) -> bool {
        let named = group
            .from
            .checked_sub(1)
            .and_then(|at| self.items.get(at))
            .is_some_and(|s| matches!(s.item, Item::Name(_)));
        named && self.items.len() == group.to + 1
    }

    /// `bench 80x8?` asks; `bench 80x8, 1 left, drop?` tells and then asks.
    fn is_asked(&self, span: &Span, strong: bool) -> bool {
        span.ends == Some(Mark::Question)
            && !(strong
                && self
                    .scan
                    .token(span.clause.1)
                    .is_none_or(|_| self.ask_is_apart(span)))
    }

    /// The words between the group and the question mark are a question of their own.
    fn ask_is_apart(&self, span: &Span) -> bool {
        (span.to..span.clause.1).any(|at| (self.other)(at))
    }

    fn named(&self, group: &Group, span: &Span, strong: bool) -> Verdict {
        let name = self
            .parsed
            .segments
            .get(group.segment)
            .map_or(usize::MAX, |s| s.name_from);
        let from = span.clause.0;
        if self.speaks_against(span, strong, name) || self.is_told_of_another(span, name) {
            return Verdict::Chatter;
        }
        let strangers = self.strangers(from, span.clause.1);
        let full = group.core.is_full() || self.is_body_list(group);
        if !full {
            return self.partial(group, span, strangers, strong);
        }
        if self.is_single_body(group) && strangers > 0 && !strong {
            return Verdict::Chatter;
        }
        if let Some(word) = self.modifier(name) {
            return self.modified(word, name);
        }
        let most = if strong { 8 } else { 4 };
        if strangers > most {
            return Verdict::Chatter;
        }
        Verdict::Training
    }

    /// A list of repetitions on a body-weight movement needs no load.
    fn is_body_list(&self, group: &Group) -> bool {
        group.core.is_reps_only()
            && !matches!(group.core.open, Open::Two(..))
            && !self.filed.needs.contains(&Need::Load)
    }

    /// `push-ups 25`: one number makes a set only among words that go with sets.
    fn is_single_body(&self, group: &Group) -> bool {
        group.core.open == Open::Single
    }

    /// A name with a load or repetitions alone: asked about only when nothing else is said.
    fn partial(&self, group: &Group, span: &Span, strangers: usize, strong: bool) -> Verdict {
        let states = (span.clause.0..span.clause.1)
            .any(|at| matches!(self.scan.w(at), W::Is | W::Are) || self.text(at) == "goes");
        let bare = self.is_single_body(group) && self.scan.tokens.len() <= 4;
        if self.slip && !strong && !bare || self.is_place_or_time(group) || states {
            return Verdict::Chatter;
        }
        let most = if strong { 2 } else { 0 };
        let outside = self.strangers(span.sentence.0, span.sentence.1);
        if strangers > most || outside > most + 1 || !strong && self.holds_foreign(span) {
            return Verdict::Chatter;
        }
        Verdict::Training
    }

    fn holds_foreign(&self, span: &Span) -> bool {
        self.items.iter().any(|s| {
            span.sentence.0 <= s.from
                && s.from < span.sentence.1
                && matches!(s.item, Item::Foreign | Item::Duration(_))
        })
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

    /// Words against a set in its clause, before it in the sentence, or in what is said right
    /// after it.
    fn speaks_against(&self, span: &Span, strong: bool, name: usize) -> bool {
        let start = span.clause.0.min(name);
        // A spotter is named, but lifts nothing.
        let spotted = (span.sentence.0..span.sentence.1)
            .any(|at| matches!(self.text(at), "spot" | "spotted" | "spotting" | "spotter"));
        let ignore = if spotted {
            Roles::OTHER
        } else {
            Roles::default()
        };
        let roles_in = |from, to| self.roles_in(from, to).without(ignore);
        let clause = roles_in(start, span.to);
        if clause.any(AGAINST) {
            return true;
        }
        let tail_of_clause = roles_in(span.to, span.clause.1);
        let after = Roles::OTHER
            .with(Roles::PLAN)
            .with(Roles::TRADE)
            .with(Roles::WHO)
            .with(Roles::ROWING)
            .with(Roles::INTENT);
        let heavy = tail_of_clause.any(Roles::OTHER.with(Roles::PLAN));
        if tail_of_clause.any(after) && (heavy || !strong) {
            return true;
        }
        let lead = roles_in(span.sentence.0, start);
        let lead_kills = if strong {
            Roles::PLAN.with(Roles::HYPO)
        } else {
            AGAINST
        };
        let next = self.comes_next(span.sentence.0, span.from)
            || !strong && self.comes_next(span.to, span.clause.1);
        if next || self.is_habit_or_plan(span) || !strong && self.is_attempt(span) {
            return true;
        }
        if lead.any(lead_kills) || self.remembers(span.sentence.0, span.clause.1) {
            return true;
        }
        !strong && self.taken_back_after(span)
    }

    /// `I do 3x10`, `100 a day`, `for saturday: …`, `back then`, `almost did`: a habit, a plan or
    /// a memory.
    fn is_habit_or_plan(&self, span: &Span) -> bool {
        let (from, to) = (span.sentence.0, span.clause.1);
        (from..to).any(|at| {
            let next = self.scan.w(at + 1);
            match self.scan.w(at) {
                W::I => self.text(at + 1) == "do",
                W::A | W::Per | W::Each => {
                    matches!(next, W::Day | W::Week) && self.scan.w(at + 2) != W::Ago
                }
                W::For => matches!(next, W::Weekday | W::Tomorrow),
                W::Back => next == W::Then,
                W::Went => next == W::For,
                W::Is | W::Was => {
                    at > from && matches!(self.text(at - 1), "pb" | "pr" | "record" | "1rm")
                }
                W::Nearly => self
                    .scan
                    .token(at + 1)
                    .is_some_and(|t| t.word.roles.any(Roles::DID)),
                _ => false,
            }
        })
    }

    /// `tried bench 90x5`: whether it was done is not said.
    fn is_attempt(&self, span: &Span) -> bool {
        (span.sentence.0..span.from).any(|at| self.text(at) == "tried")
    }

    /// `nice 80x10`, `wow 120x5`: said to somebody else.
    fn is_praise(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            matches!(
                self.text(at),
                "nice"
                    | "wow"
                    | "great"
                    | "huge"
                    | "congrats"
                    | "congratulations"
                    | "awesome"
                    | "amazing"
                    | "impressive"
                    | "beast"
                    | "insane"
                    | "bravo"
                    | "respect"
            )
        })
    }

    /// `next session: deadlift 140x5`, `up next bench 80x8`: to be done. `next set` is under way.
    fn comes_next(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            self.scan.w(at) == W::Next
                && self.is_left(at)
                && !matches!(self.scan.w(at + 1), W::Sets | W::One)
        })
    }

    /// `last week`, `last year`, `when i was`: long ago, unless it is only compared with.
    fn remembers(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            let last = self.scan.w(at) == W::Last
                && (self.scan.w(at + 1) == W::Week
                    || matches!(
                        self.text(at + 1),
                        "month" | "time" | "year" | "season" | "summer" | "winter"
                    ))
                && self.is_left(at);
            let compared = (at.saturating_sub(4)..at).any(|i| {
                matches!(self.scan.w(i), W::Same | W::Like | W::From)
                    || matches!(
                        self.text(i),
                        "than" | "vs" | "as" | "beat" | "beats" | "matched" | "on"
                    )
            });
            let year = matches!(self.scan.w(at), W::In | W::From)
                && self
                    .scan
                    .digits(at + 1)
                    .is_some_and(|value| (1950.0..2100.0).contains(&value));
            year || last && !compared || self.scan.w(at) == W::Ago && self.is_left(at)
        })
    }

    fn text(&self, at: usize) -> &str {
        self.scan
            .token(at)
            .map(|t| self.scan.text.text_of(t))
            .unwrap_or_default()
    }

    /// `bench 90x8, tomorrow`, `squat 140x5, that's the goal`, `bench 100x5, he said`.
    fn taken_back_after(&self, span: &Span) -> bool {
        let tail = (span.clause.1, span.sentence.1);
        let roles = self.roles_in(tail.0, tail.1);
        let third = (tail.0..tail.1).any(|at| {
            self.is_left(at)
                && self.scan.w(at) != W::You
                && self
                    .scan
                    .token(at)
                    .is_some_and(|t| t.word.roles.any(Roles::OTHER))
        });
        let numbers = (tail.0..tail.1).any(|at| self.scan.digits(at).is_some());
        roles.any(Roles::PLAN)
            || third
            || roles.any(Roles::INTENT)
                && !numbers
                && self.strangers(tail.0, tail.1) < 3
                && self.roles_in(tail.0, tail.1).any(Roles::INTENT)
                && self.says_it(tail)
    }

    fn says_it(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            matches!(
                self.scan.w(at),
                W::It | W::That | W::This | W::Tomorrow | W::Tonight
            )
        })
    }

    /// `Mara hit 100x5`, `coach pulled 200x3`: a verb of doing with somebody else before it.
    fn is_told_of_another(&self, span: &Span, name: usize) -> bool {
        let owner = name != usize::MAX
            && name > span.sentence.0
            && self.scan.token(name - 1).is_some_and(|t| {
                t.possessive && self.is_left(name - 1) && !t.word.roles.any(Roles::FILL)
            });
        if owner {
            return true;
        }
        let end = span.to.max(if name == usize::MAX { 0 } else { name + 1 });
        (span.sentence.0..end).any(|at| {
            let Some(token) = self.scan.token(at) else {
                return false;
            };
            let verb = token.word.roles.any(Roles::DID) && token.kind == Kind::Word;
            let plural_name =
                token.word.roles.any(Roles::NAME) && self.text(at).ends_with('s') && at == name;
            (verb || plural_name) && self.has_subject(at, span.sentence.0, verb)
        })
    }

    /// Whether a noun that is not the writer stands before the verb at `at`.
    fn has_subject(&self, at: usize, from: usize, verb: bool) -> bool {
        let mut before = at;
        while before > from
            && verb
            && matches!(
                self.text(before - 1),
                "just"
                    | "also"
                    | "only"
                    | "actually"
                    | "finally"
                    | "then"
                    | "really"
                    | "even"
                    | "still"
                    | "again"
                    | "once"
            )
        {
            before -= 1;
        }
        if before == from {
            return false;
        }
        let Some(token) = self.scan.token(before - 1) else {
            return false;
        };
        let stranger = token.kind == Kind::Word
            && self.is_stranger(before - 1)
            && !token.word.roles.any(Roles::VARIANT.with(Roles::MOVE));
        if verb {
            return stranger && (token.possessive || !is_name_word(token));
        }
        stranger && (token.capital && !token.word.roles.any(Roles::KNOWN) || token.possessive)
    }

    /// A word right before the name that makes another movement of it, or of which nothing is
    /// known.
    fn modifier(&self, name: usize) -> Option<usize> {
        let mut at = name.checked_sub(1)?;
        if name == usize::MAX {
            return None;
        }
        if self.scan.is(at, Mark::Minus) && self.scan.glued(name) {
            at = at.checked_sub(1)?;
        }
        // `snatch grip rdl`: the word before `grip` says which.
        if self.text(at) == "grip" && self.text(at.checked_sub(1)?) == "snatch" {
            return Some(at - 1);
        }
        let token = self.scan.token(at)?;
        let other = token.word.roles.any(Roles::VARIANT)
            || !token.word.roles.any(Roles::KNOWN)
                && !token.possessive
                && token.end - token.start >= 3;
        (token.kind == Kind::Word && self.is_left(at) && other).then_some(at)
    }

    fn modified(&self, word: usize, name: usize) -> Verdict {
        let to = self.item_at(name).map_or(name + 1, |s| s.to);
        Verdict::UnknownName(self.words(word, to))
    }

    fn words(&self, from: usize, to: usize) -> String {
        let words: Vec<&str> = (from..to)
            .filter(|&at| self.scan.token(at).is_some_and(|t| t.kind == Kind::Word))
            .map(|at| self.text(at))
            .collect();
        words.join(" ")
    }

    /// Numbers without a name, carried on from the last set: every word must go with sets.
    fn carried(&self, group: &Group, span: &Span, strong: bool) -> Verdict {
        let (from, to) = span.sentence;
        let against = self.roles_in(from, span.clause.1);
        let strangers = self.strangers(from, to);
        let pair = group.core.is_full();
        let slack = usize::from(pair) + usize::from(strong && pair);
        // Another movement is named, only none that is known: not the last exercise again.
        if pair
            && self.names_a_movement(from, span.from)
            && let unknown @ Verdict::UnknownName(_) = self.nameless(group, span, strong)
        {
            return unknown;
        }
        if against.any(AGAINST)
            || self.is_habit_or_plan(span)
            || self.holds_foreign(span)
            || strangers > slack
            || self.is_told_of_another(span, usize::MAX)
            || self.remembers(from, to)
        {
            return Verdict::Chatter;
        }
        if self.comes_next(from, span.from) {
            return Verdict::Chatter;
        }
        if group.core.open == Open::Single && !strong && !self.goes_on(from, to) {
            return Verdict::Chatter;
        }
        if group.core.is_load_only() && group.core.open != Open::Single {
            return if strong {
                Verdict::Training
            } else {
                Verdict::Chatter
            };
        }
        if !strong && self.taken_back_after(span) {
            return Verdict::Chatter;
        }
        Verdict::Training
    }

    /// `then 8`, `got 8`, `8 that time`: a bare number that goes on from the last set.
    fn goes_on(&self, from: usize, to: usize) -> bool {
        to - from <= 4
            && (from..to).any(|at| {
                matches!(self.scan.w(at), W::Then | W::Got)
                    || self.scan.w(at) == W::Time
                        && matches!(self.scan.w(at.saturating_sub(1)), W::This | W::That)
            })
    }

    /// Numbers without a name and without a set before.
    fn nameless(&self, group: &Group, span: &Span, strong: bool) -> Verdict {
        let (from, to) = span.sentence;
        let rowing = group.core.reps.iter().any(|reps| *reps > 100.0);
        let lead = self.roles_in(from, span.clause.1);
        if lead.any(AGAINST)
            || self.holds_foreign(span)
            || rowing
            || self.remembers(from, to)
            || self.is_told_of_another(span, usize::MAX)
        {
            return Verdict::Chatter;
        }
        if !strong && self.taken_back_after(span) {
            return Verdict::Chatter;
        }
        let body_alone = group.core.load == LoadPart::Body
            && !self.items[group.from..group.to]
                .iter()
                .any(|s| s.item == Item::Times);
        if body_alone
            || self.comes_next(from, span.from)
            || self.is_habit_or_plan(span)
            || self.is_praise(from, span.from)
        {
            return Verdict::Chatter;
        }
        let strangers: Vec<usize> = (from..to).filter(|&at| self.is_stranger(at)).collect();
        if !group.core.is_full() {
            let said = group.core.is_reps_only() && group.core.said_reps;
            let fits = said && strangers.is_empty() && (strong || self.is_short(group));
            return if fits {
                Verdict::Training
            } else {
                Verdict::Chatter
            };
        }
        let moves = self.names_a_movement(from, span.from);
        self.unknown(&strangers, span, strong, moves, group)
    }

    /// Whether a word left over names a movement, or part of one: `boatman pull`.
    fn names_a_movement(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            self.is_left(at)
                && self.scan.token(at).is_some_and(|t| {
                    t.word.roles.any(Roles::MOVE.with(Roles::VARIANT))
                        || is_name_word(t) && !t.word.roles.any(Roles::FILL)
                })
        })
    }

    /// `x9` by itself is short for a set; `9 more` is not.
    fn is_short(&self, group: &Group) -> bool {
        let said = self.scan.tokens.len() == 2
            && self
                .items
                .last()
                .is_some_and(|s| s.item == Item::Reps || matches!(s.item, Item::Num(_)));
        said || matches!(
            self.items.get(group.from).map(|s| &s.item),
            Some(Item::Times)
        ) && self.scan.tokens.len() <= 4
    }

    fn unknown(
        &self,
        strangers: &[usize],
        span: &Span,
        strong: bool,
        moves: bool,
        group: &Group,
    ) -> Verdict {
        let written = match group.core.load {
            LoadPart::Num(num) => num.unit.is_some() || num.per_hand,
            _ => false,
        };
        if strangers.is_empty() && !moves {
            return Verdict::Training;
        }
        let before = strangers.iter().all(|at| *at < span.from);
        let fits = match (moves, strong || written) {
            (true, true) => strangers.len() <= 7,
            (true, false) => {
                strangers.len() <= 2 && before && self.is_contiguous(strangers, span.from)
            }
            (false, true) => {
                strong && strangers.len() <= 2 && before && self.is_contiguous(strangers, span.from)
            }
            (false, false) => false,
        };
        if !fits {
            return Verdict::Chatter;
        }
        let from = self.name_start(span.from);
        Verdict::UnknownName(self.words(from, span.from))
    }

    fn is_contiguous(&self, strangers: &[usize], to: usize) -> bool {
        let first = strangers.first().copied().unwrap_or(to);
        (first..to).all(|at| {
            self.scan
                .token(at)
                .is_some_and(|t| t.kind == Kind::Word || t.is(Mark::Minus) || t.is(Mark::Colon))
        })
    }

    /// Where the words that may be a name start, before the numbers.
    fn name_start(&self, to: usize) -> usize {
        let mut from = to;
        while from > 0
            && self.scan.token(from - 1).is_some_and(|t| {
                t.kind == Kind::Word
                    || t.is(Mark::Minus)
                    || from == to && (t.is(Mark::Comma) || t.is(Mark::Colon))
            })
        {
            from -= 1;
        }
        from
    }
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
pub(super) fn exercise_named(parsed: &Parsed) -> Option<ExerciseId> {
    parsed
        .segments
        .iter()
        .rev()
        .find_map(|segment| segment.exercise)
}
