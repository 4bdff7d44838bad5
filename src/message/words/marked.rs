//! A message as words with their concepts, cut into clauses and sentences, without its sets.
//!
//! Sets are taken out before anything is weighed, so that a set beside a report changes nothing
//! about the report.

use super::concept::{Concept, Concepts};
use super::lexicon::Lexicon;
use crate::message::words::token::{Kind, Mark, Token, Tokens};
use crate::message::words::variants::List;
use crate::message::words::vocabulary::{Roles, W, Word};

/// A word or phrase, a number or a mark that counts.
#[derive(Clone, Debug)]
pub(crate) struct Unit {
    /// First token.
    pub from: usize,
    /// Token after the last.
    pub to: usize,
    /// What it stands for.
    pub concepts: Concepts,
    /// The word, mended; of a phrase the whole, with spaces; of a number its shape.
    pub text: String,
    /// Counts clauses from 0.
    pub clause: u16,
    /// Counts sentences from 0.
    pub sentence: u16,
    /// A word in no list, or a given name: somebody, where a name stands.
    pub unknown: bool,
    /// It ended in `'s`.
    pub owner: bool,
}

impl Unit {
    /// Whether it stands for `concept`.
    pub(crate) fn is(&self, concept: Concept) -> bool {
        self.concepts.has(concept)
    }
}

/// A message's words without its sets.
#[derive(Clone, Debug, Default)]
pub(crate) struct Marked {
    /// The words, in order.
    pub units: Vec<Unit>,
    /// All concepts in it.
    pub concepts: Concepts,
    /// It asks.
    pub asks: bool,
    /// It laughs.
    pub laughs: bool,
}

/// What a place on the body is followed by as often as the first word of a figure of speech is.
const WHERE: &[&str] = &[
    "in", "on", "at", "to", "from", "again", "down", "over", "up", "out",
];

/// Places that figures of speech begin with.
const BODY: Concepts = Concepts::of(&[
    Concept::Back,
    Concept::Head,
    Concept::Neck,
    Concept::Face,
    Concept::Hand,
    Concept::Joint,
    Concept::Heart,
    Concept::Chest,
]);

impl Marked {
    /// Marks `tokens`. Linear in their number.
    pub(crate) fn new(tokens: &Tokens, lexicon: &Lexicon) -> Self {
        let skipped = sets(tokens);
        let words: Vec<_> = (0..tokens.list.len()).filter(|&at| !skipped[at]).collect();
        let mended: Vec<Option<String>> =
            words.iter().map(|&at| mend(tokens, at, lexicon)).collect();
        let mut marked = Self::default();
        let text = |place: usize| -> Option<&str> {
            let token = tokens.list.get(*words.get(place)?)?;
            match &mended[place] {
                Some(mended) => Some(mended),
                None if token.kind == Kind::Word => Some(tokens.text_of(token)),
                None => None,
            }
        };
        let (mut clause, mut sentence, mut place) = (0_u16, 0_u16, 0);
        while let Some(&at) = words.get(place) {
            let token = &tokens.list[at];
            match token.kind {
                Kind::Word => {
                    let word_at = |ahead: usize| {
                        // A phrase ends where a clause does; a dash inside one is passed over.
                        phrase_place(tokens, &words, place, ahead).and_then(text)
                    };
                    let mut found = lexicon.find(word_at);
                    let owned = marked.units.last().is_some_and(|unit| {
                        unit.is(Concept::My) && unit.clause == clause && unit.to == at
                    });
                    if owned
                        && found.is_some_and(|found| found.words == 2)
                        && word_at(1).is_some_and(|word| WHERE.contains(&word))
                    {
                        // `my back on the left`, not `back on track`.
                        let alone =
                            lexicon.find(|ahead| if ahead == 0 { text(place) } else { None });
                        found = alone.filter(|alone| alone.concepts.any(BODY)).or(found);
                    }
                    let count = found.map_or(1, |found| found.words);
                    let last = phrase_place(tokens, &words, place, count - 1).unwrap_or(place);
                    let whole: Vec<_> = (place..=last).filter_map(text).collect();
                    marked.put(Unit {
                        from: at,
                        to: words[last] + 1,
                        concepts: found.map_or(Concepts::NONE, |found| found.concepts),
                        text: whole.join(" "),
                        clause,
                        sentence,
                        unknown: found.is_none()
                            && (token.word.roles.any(Roles::OTHER)
                                || !token.word.roles.any(Roles::KNOWN)),
                        owner: token.possessive
                            || token.capital && text(place).is_some_and(|word| word.ends_with('s')),
                    });
                    place = last;
                }
                Kind::Number | Kind::Clock | Kind::Date => marked.put(Unit {
                    from: at,
                    to: at + 1,
                    concepts: of_number(tokens, at),
                    text: shape(token).to_owned(),
                    clause,
                    sentence,
                    unknown: false,
                    owner: false,
                }),
                Kind::Mark(mark) => {
                    marked.asks |= mark == Mark::Question;
                    marked.laughs |= mark == Mark::Laugh;
                    if ends_clause(token, mark) {
                        clause = clause.saturating_add(1);
                    }
                    if mark.ends_sentence() {
                        sentence = sentence.saturating_add(1);
                    }
                }
            }
            place += 1;
        }
        marked.laughs |= marked.concepts.has(Concept::Laughs);
        marked
    }

    fn put(&mut self, unit: Unit) {
        self.concepts = self.concepts.with(unit.concepts);
        self.units.push(unit);
    }
}

/// The place in `words` of the word `ahead` words behind `place`, in the same run of words.
fn phrase_place(tokens: &Tokens, words: &[usize], place: usize, ahead: usize) -> Option<usize> {
    let mut at = place;
    for _ in 0..ahead {
        let next = tokens.list.get(*words.get(at + 1)?)?;
        at += match next.kind {
            Kind::Word => 1,
            Kind::Mark(Mark::Minus | Mark::And) => 2,
            _ => return None,
        };
        let here = *words.get(at)?;
        if tokens.list.get(here)?.kind != Kind::Word {
            return None;
        }
    }
    Some(at)
}

fn ends_clause(token: &Token, mark: Mark) -> bool {
    mark.ends_sentence()
        || matches!(mark, Mark::Comma | Mark::Colon | Mark::Open | Mark::Close)
        || mark == Mark::Minus && !token.glued
}

/// Minutes of which there are more than effort takes to pass.
const LONG_MINUTES: f64 = 5.0;

/// Ages, years, at which one lifts under somebody's care.
const AGES_OF_MINORS: std::ops::RangeInclusive<f64> = 8.0..=17.0;

/// What is counted in numbers that are no ages: `i'm 16 weeks pregnant`, `only 12 reps`.
const COUNTED: &[&str] = &[
    "week", "wk", "month", "day", "hour", "hr", "min", "sec", "rep", "set", "kg", "kilo", "lb",
    "pound", "stone", "km", "mile", "percent", "away", "out", "off", "short", "in", "into", "down",
    "up", "left", "of",
];

/// `15 min`, `2 hours`: longer than effort explains; `I'm 15`: under age.
fn of_number(tokens: &Tokens, at: usize) -> Concepts {
    let next = tokens.list.get(at + 1).map_or(W::None, |t| t.word.w);
    let value = tokens.list.get(at).map_or(0.0, |t| t.value);
    let long = next == W::Hour || next == W::Min && value >= LONG_MINUTES;
    let before = |back: usize| {
        let token = at.checked_sub(back).and_then(|at| tokens.list.get(at));
        token.map_or("", |token| tokens.text_of(token))
    };
    let is_age = matches!(before(1), "im" | "i" | "am" | "aged" | "only")
        && (before(1) != "only" || matches!(before(2), "im" | "i" | "am"));
    let after = tokens.list.get(at + 1).filter(|t| t.kind == Kind::Word);
    let counts = after.is_some_and(|token| {
        let word = tokens.text_of(token);
        COUNTED.iter().any(|counted| word.starts_with(counted))
    });
    if is_age && AGES_OF_MINORS.contains(&value) && !counts {
        Concepts::of(&[Concept::Minor])
    } else if long {
        Concepts::of(&[Concept::Long])
    } else {
        Concepts::NONE
    }
}

/// A number's shape.
fn shape(token: &Token) -> &'static str {
    match token.kind {
        Kind::Clock => "#clock",
        Kind::Date => "#date",
        _ if token.decimals => "#.#",
        _ if token.value < 10.0 => "#",
        _ if token.value < 100.0 => "##",
        _ if token.value < 1000.0 => "###",
        _ if (1900.0..2100.0).contains(&token.value) => "#year",
        _ => "####",
    }
}

/// The word that a token was to be: runs of a letter shortened, slips mended.
fn mend(tokens: &Tokens, at: usize, lexicon: &Lexicon) -> Option<String> {
    let token = tokens.list.get(at).filter(|t| t.kind == Kind::Word)?;
    let text = tokens.text_of(token);
    let known =
        token.word.roles.any(Roles::KNOWN) || token.word.w != W::None || token.word.symbol != 0;
    if known
        || text.len() < 3
        || text.len() > 32
        || lexicon.find(|at| (at == 0).then_some(text)).is_some()
    {
        return None;
    }
    for most in [2, 1] {
        let short = squeezed(text, most);
        if short != text && lexicon.find(|at| (at == 0).then_some(&short)).is_some() {
            return Some(short);
        }
    }
    lexicon.mended(text).map(str::to_owned)
}

/// Runs of one letter cut to `most`; the first only cuts runs of three or more.
fn squeezed(text: &str, most: usize) -> String {
    let mut out = String::with_capacity(text.len());
    let mut run = (None, 0);
    for c in text.chars() {
        run = if run.0 == Some(c) {
            (Some(c), run.1 + 1)
        } else {
            (Some(c), 1)
        };
        if run.1 <= most {
            out.push(c);
        }
    }
    out
}

/// Words of a lift's name before its numbers, with those that join them.
const LONGEST_NAME: usize = 7;

/// Movements that are done on something: `calf raise on leg press`, `curls with the rope`.
static MOVEMENTS: List = List::of(
    "raise|raises|press|presses|curl|curls|row|rows|squat|squats|extension|extensions|fly|flys|flyes|flies\
     |shrug|shrugs|pushdown|pushdowns|pulldown|pulldowns|lunge|lunges|crunch|crunches|kickback|kickbacks\
     |thrust|thrusts|abduction|adduction|pushup|pushups|dip|dips",
);

/// Where the movement stands that what begins at `from` is done on, or with.
fn linked_movement(tokens: &Tokens, from: usize) -> Option<usize> {
    let text = |at: usize| {
        tokens
            .list
            .get(at)
            .map_or("", |token| tokens.text_of(token))
    };
    let the = usize::from(from > 0 && matches!(text(from - 1), "the" | "a" | "my"));
    let link = from.checked_sub(1 + the)?;
    let movement = link.checked_sub(1)?;
    let joins = matches!(
        text(link),
        "on" | "with" | "off" | "from" | "in" | "against"
    );
    (joins && MOVEMENTS.has(text(movement))).then_some(movement)
}

/// Which tokens are a set's: `bench 80x10, 9, 2 left`.
fn sets(tokens: &Tokens) -> Vec<bool> {
    let list = &tokens.list;
    let mut out = vec![false; list.len()];
    let number = |at: usize| list.get(at).is_some_and(|t| t.kind == Kind::Number);
    let mark = |at: usize, mark: Mark| list.get(at).is_some_and(|t| t.is(mark));
    let w = |at: usize| list.get(at).map_or(W::None, |t| t.word.w);
    let unit = |at: usize| matches!(w(at), W::Kg | W::Lb | W::K);
    let mut at = 0;
    while at < list.len() {
        if !number(at) {
            at += 1;
            continue;
        }
        let mut to = at + 1;
        if unit(to) {
            to += 1;
        }
        let paired = mark(to, Mark::Times)
            || mark(to, Mark::At)
            || w(to) == W::For
                && number(to + 1)
                && w(to + 2) != W::Min
                && w(to + 2) != W::Week
                && w(to + 2) != W::Day
            || mark(to, Mark::Colon) && number(to + 1);
        if !(paired && number(to + 1)) {
            at += 1;
            continue;
        }
        to += 2;
        // What follows the pair: more numbers, units, marks between them, efforts.
        loop {
            if unit(to)
                || matches!(w(to), W::Reps | W::Sets | W::Each | W::Rir | W::Rpe | W::R)
                    && !mark(to, Mark::Comma)
            {
                to += 1;
            } else if number(to) && matches!(w(to + 1), W::Left | W::Rir | W::Reserve) {
                to += 2;
            } else if number(to)
                && w(to + 1) == W::In
                && w(to + 2) == W::The
                && w(to + 3) == W::Tank
            {
                to += 4;
            } else if number(to) {
                to += 1;
            } else if mark(to, Mark::Comma)
                && number(to + 1)
                && matches!(w(to + 2), W::Left | W::Rir | W::Reserve)
            {
                to += 3;
            } else if (mark(to, Mark::Times)
                || mark(to, Mark::At)
                || mark(to, Mark::Slash)
                || mark(to, Mark::Comma)
                || mark(to, Mark::Plus))
                && number(to + 1)
                && !matches!(w(to + 2), W::Min | W::Week | W::Day | W::Hour)
            {
                to += 2;
            } else {
                break;
            }
        }
        // The lift's name in front, and `set 3:`.
        let mut from = at;
        while from > 0 && at - from < LONGEST_NAME {
            if let Some(moved) = linked_movement(tokens, from) {
                from = moved;
                continue;
            }
            let before = &list[from - 1];
            // A slip in a name is no word: `calf rasie 90x15`.
            let names = before.kind == Kind::Word
                && (before.word.symbol != 0 && before.word.w != W::Left
                    || before.word.roles.any(Roles::MOVE)
                    || before.word == Word::UNKNOWN);
            let glue = before.is(Mark::Minus) && from >= 2 && list[from - 2].word.symbol != 0;
            if !(names || glue || before.is(Mark::Colon)) {
                break;
            }
            from -= 1;
        }
        for skipped in out.iter_mut().take(to).skip(from) {
            *skipped = true;
        }
        at = to;
    }
    out
}
