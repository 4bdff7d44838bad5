//! Whether a message with groups in it reports training: what is left alone, and why.
//!
//! Whose set is told of, and when, is learned (`report`): a message that is no report by its weights is
//! left alone. Here stands what the numbers then lack: a movement that the catalogue does not know, a load
//! or repetitions alone among words of which nothing is known.

mod continued;
pub(crate) mod remark;
mod unknown;

use crate::domain::quantities::id::ExerciseId;

use crate::message::grammar::clause::Clause;
use crate::message::grammar::core::Open;
use crate::message::grammar::groups::{Group, Parsed};
use crate::message::grammar::item::{Item, Spanned, item_at};
use crate::message::grammar::scan::Scan;
use crate::message::grammar::sets::Filed;
use crate::message::reading::Need;
use crate::message::words::token::Kind;
use crate::message::words::vocabulary::Roles;

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
    /// The tokens of the sets, where all beside them is a remark.
    pub own: Option<(usize, usize)>,
    /// Tokens that were read as a question, a readiness or a hurt.
    pub other: &'j dyn Fn(usize) -> bool,
}

/// A message less likely than this reports no sets: somebody else's, a plan, a wish, a memory, a price.
/// A false log is worse than silence to a report, which is posted again.
const NO_REPORT: f32 = 0.3;

/// A message likelier than this reports sets, whatever words stand in it.
pub(crate) const SURELY_A_REPORT: f32 = 0.85;

/// Judges a message that has at least one group.
pub(crate) fn judge(case: &Case<'_>) -> Verdict {
    let strong = case.has_evidence();
    let mut unknown = None;
    if case.likely < NO_REPORT {
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
        let (own_from, own_to) = self.own.unwrap_or((from, to));
        (from.max(own_from)..to.min(own_to))
            .filter(|&at| self.is_stranger(at))
            .count()
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
        if self.is_foreign(group) {
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
        }
    }

    /// Its numbers belong to something else: `60kg x a lot`.
    fn is_foreign(&self, group: &Group) -> bool {
        let item = |at: usize| self.items.get(at).map(|s| &s.item);
        let listed = matches!(item(group.to + 1), Some(Item::Num(_)));
        match item(group.to) {
            Some(Item::Foreign) => true,
            Some(Item::Times) => !listed,
            _ => false,
        }
    }

    fn named(&self, group: &Group, span: &Span, strong: bool) -> Verdict {
        let name = self
            .parsed
            .segments
            .get(group.segment)
            .map_or(usize::MAX, |s| s.name_from);
        let from = span.clause.0;
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
        group.core.is_reps_only() && !self.filed.needs.contains(&Need::Load)
    }

    /// A name with a load or repetitions alone: asked about only when nothing else is said.
    fn partial(&self, group: &Group, span: &Span, strangers: usize, strong: bool) -> Verdict {
        let single = group.core.open == Open::Single;
        let bare = single && self.scan.tokens.len() <= 4;
        if self.slip && !strong && !bare {
            return Verdict::Chatter;
        }
        // A length of time beside one number may be anything's; an effort is a set's.
        let strong = strong && !(single && group.rir.is_empty());
        // What is surely a report is asked about.
        let asked = !self.filed.needs.is_empty() && self.likely > SURELY_A_REPORT;
        let most = if strong || asked { 2 } else { 0 };
        let told = self.before_while(span);
        let scene = if told < span.clause.1 {
            told
        } else {
            span.sentence.1
        };
        let outside = self.strangers(span.sentence.0, scene);
        if strangers > most || outside > most + 1 {
            return Verdict::Chatter;
        }
        Verdict::Training
    }

    fn text(&self, at: usize) -> &str {
        self.scan.text_at(at)
    }
}

/// A group's tokens, its clauses and its sentence.
#[derive(Clone, Copy, Debug)]
struct Span {
    from: usize,
    to: usize,
    clause: (usize, usize),
    sentence: (usize, usize),
}

/// The exercise that the message itself names for its last group, if any.
pub(crate) fn exercise_named(parsed: &Parsed) -> Option<ExerciseId> {
    parsed
        .segments
        .iter()
        .rev()
        .find_map(|segment| segment.exercise)
}
