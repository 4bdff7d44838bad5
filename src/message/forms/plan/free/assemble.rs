//! From what stands in a line to the exercises that it plans.

use super::clauses::{ABOUT, Clause, Lead, clauses, spoken_of};
use super::facts::{Amount, Fact, Found, Load, Span};
use super::lex::Token;
use super::words::{AFTER_A_NAME, BEFORE_A_NAME, FILLERS, SPEECH};
use super::{Language, Misfit};
use crate::domain::coaching::plan::Slot;
use crate::domain::quantities::id::ExerciseId;
use crate::message::forms::plan::FaultKind;
use crate::message::words::variants::has;

/// An exercise while it is put together.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft {
    pub(super) exercise: Option<ExerciseId>,
    pub(super) or: Vec<ExerciseId>,
    pub(super) sets: Option<Span>,
    pub(super) amount: Option<Amount>,
    pub(super) effort: Option<Span>,
    pub(super) load: Option<Load>,
    pub(super) hand: bool,
    pub(super) rest: Option<Span>,
    pub(super) side: bool,
    pub(super) notes: Vec<String>,
    /// Done in turn with the one before it.
    pub(super) joined: bool,
}

/// What a line comes to.
#[derive(Clone, Debug, Default)]
pub(in crate::message::forms::plan) struct Assembled {
    pub slots: Vec<Slot>,
    pub notes: Vec<String>,
    /// What does not fit, beside exercises that are whole without it.
    pub faults: Vec<Misfit>,
}

pub(super) fn assemble(
    line: &str,
    tokens: &[Token],
    found: &[Found],
    language: &Language<'_>,
) -> Result<Assembled, Misfit> {
    let mut build = Build {
        line,
        tokens,
        language,
        items: Vec::new(),
        shared: Draft::default(),
        rounds: None,
        in_turn: false,
        notes: Vec::new(),
        alternative: None,
        headed: false,
        singles: false,
        every: None,
        counted_rounds: None,
        faults: Vec::new(),
        for_all: None,
        then_waits: false,
    };
    let mut skips = false;
    for clause in clauses(&spoken_of(tokens, found)) {
        let named = clause
            .facts
            .iter()
            .any(|one| matches!(one.fact, Fact::Name(_)));
        // What follows a fault without a name of its own belongs to it.
        skips &= !named;
        if skips {
            continue;
        }
        let alternative = build.alternative.take();
        let whole = build.items.len();
        if let Err(misfit) = build.clause(&clause, alternative) {
            build.items.truncate(whole);
            if !build.stands_without(&clause, named, &misfit) {
                return Err(misfit);
            }
            build.faults.push(misfit);
            skips = true;
        }
    }
    build.finish()
}

pub(super) struct Build<'a> {
    pub(super) line: &'a str,
    pub(super) tokens: &'a [Token],
    pub(super) language: &'a Language<'a>,
    pub(super) items: Vec<Draft>,
    pub(super) shared: Draft,
    pub(super) rounds: Option<Span>,
    pub(super) in_turn: bool,
    pub(super) notes: Vec<String>,
    /// The alternative that the clause before this one named, and whether behind a stroke.
    pub(super) alternative: Option<(ExerciseId, bool)>,
    /// Whether the line has a head that counts for all its exercises.
    pub(super) headed: bool,
    /// Whether repetitions stand for a set each.
    pub(super) singles: bool,
    /// How long one round takes: `every 2 minutes`.
    pub(super) every: Option<f64>,
    /// `x 5` behind such a time.
    pub(super) counted_rounds: Option<Span>,
    pub(super) faults: Vec<Misfit>,
    /// The effort of `all 2 rir`.
    pub(super) for_all: Option<Span>,
    /// Whether an `or` or a condition has been read, and what is done then is still to come.
    pub(super) then_waits: bool,
}

impl Build<'_> {
    /// Whether the exercises before a faulty clause are whole without it: one that is done in turn with it, or of
    /// which it speaks, is not.
    fn stands_without(&self, clause: &Clause, named: bool, (_, fault): &Misfit) -> bool {
        let unknown = matches!(fault, FaultKind::UnknownExercise(_));
        let apart = matches!(clause.lead, Lead::Comma | Lead::Stop);
        let own = self
            .items
            .iter()
            .all(|item| item.sets.is_some() && item.amount.is_some());
        let shared = self.shared.sets.is_some() || self.shared.amount.is_some();
        (named || unknown) && apart && own && !shared && !self.in_turn && self.rounds.is_none()
    }

    pub(super) fn text(&self, from: usize, to: usize) -> &str {
        let start = self.tokens.get(from).map_or(0, |token| token.start);
        let end = self
            .tokens
            .get(to.saturating_sub(1))
            .map_or(0, |token| token.end);
        self.line.get(start..end).unwrap_or_default()
    }

    pub(super) fn text_of(&self, facts: &[Found]) -> &str {
        match (facts.first(), facts.last()) {
            (Some(first), Some(last)) => self.text(first.from, last.to),
            _ => "",
        }
    }

    pub(super) fn misfit(&self, found: &Found, kind: FaultKind) -> Misfit {
        (self.text(found.from, found.to).to_owned(), kind)
    }

    pub(super) fn word(&self, found: &Found) -> &str {
        self.tokens
            .get(found.from)
            .map_or("", |token| token.text.as_str())
    }

    /// Words of a clause that say something.
    pub(super) fn content(&self, clause: &Clause) -> usize {
        let words = clause.facts.iter().filter(|found| found.fact == Fact::Word);
        words
            .filter(|found| {
                let word = self.word(found);
                word.chars().any(char::is_alphabetic) && !has(FILLERS, word)
            })
            .count()
    }

    pub(super) fn says(&self, clause: &Clause, words: &str) -> bool {
        let said = |found: &Found| found.fact == Fact::Word && has(words, self.word(found));
        clause.facts.iter().any(said)
    }

    pub(super) fn clause(
        &mut self,
        clause: &Clause,
        alternative: Option<(ExerciseId, bool)>,
    ) -> Result<(), Misfit> {
        for found in &clause.facts {
            match &found.fact {
                Fact::InTurn => self.in_turn = true,
                Fact::Rounds(rounds) => self.rounds = Some(*rounds),
                Fact::NoEffort => return Err(self.misfit(found, FaultKind::Effort)),
                _ => {}
            }
        }
        let counts = |found: &Found| {
            matches!(
                found.fact,
                Fact::SetsOf(..) | Fact::Sets(_) | Fact::Amount(_)
            )
        };
        let counted = clause.facts.iter().any(counts);
        let name = clause
            .facts
            .iter()
            .position(|one| matches!(one.fact, Fact::Name(_)));
        let begun = self
            .items
            .last()
            .is_some_and(|item| item.sets.is_some() || item.amount.is_some());
        if let (None, Some((other, stroke))) = (name, alternative)
            && counted
            && begun
        {
            // `5 x 3 or power snatch, 6 x 2`: sets of the other exercise.
            if stroke {
                let words = self.line.trim().to_owned();
                return Err((words, FaultKind::TwoExercises));
            }
            self.sets_of_alternative(clause, other);
            return Ok(());
        }
        self.headed |= clause.head && counted;
        // `or, if the bench is taken, glute bridge 4x15`, `when that is easy, 2x10`: what is done then stands
        // behind the words.
        let only = |found: &Found| matches!(found.fact, Fact::Word | Fact::Name(_));
        let words = clause.facts.iter().all(only) && (name.is_none() || self.is_aside(clause));
        let waits = match clause.lead {
            Lead::Or => words,
            Lead::Comma | Lead::Stop => words && self.says(clause, "if when once ?"),
            Lead::Start | Lead::Open | Lead::With => false,
        };
        if begun && waits {
            self.note(self.text_of(&clause.facts).to_owned());
            self.then_waits = true;
            return Ok(());
        }
        let waited =
            std::mem::take(&mut self.then_waits) && matches!(clause.lead, Lead::Comma | Lead::Stop);
        if waited && name.is_none() && counted {
            self.note(self.text_of(&clause.facts).to_owned());
            return Ok(());
        }
        let lead = if waited { Lead::Or } else { clause.lead };
        match (name, lead) {
            (None, _) => self.nameless(clause, false),
            (Some(_), _) if clause.head => self.nameless(clause, false),
            (Some(at), Lead::With) if !self.items.is_empty() => {
                let full = clause
                    .facts
                    .iter()
                    .any(|one| matches!(one.fact, Fact::SetsOf(..)));
                if begun && full {
                    return self.named(clause, at, true);
                }
                // `curls superset with pushdowns 3x12`: both, as often.
                if self.in_turn && !begun {
                    return self.alternative(clause, at);
                }
                self.aside(clause, at, "with")
            }
            // `squat/bench/deadlift`: all of them as likely as any.
            (Some(_), Lead::Or)
                if self.behind_slash(clause)
                    && self.items.last().is_some_and(|item| !item.or.is_empty()) =>
            {
                Err((self.line.trim().to_owned(), FaultKind::TwoExercises))
            }
            (Some(at), Lead::Or) if !self.items.is_empty() => {
                if begun && counted && self.in_turn {
                    return self.named(clause, at, true);
                }
                let whole = |one: &Found| matches!(one.fact, Fact::SetsOf(..) | Fact::Sets(_));
                let spaced = clause
                    .facts
                    .first()
                    .is_some_and(|one| !self.is_glued(one.from));
                let all = self.items.iter().all(|item| item.sets.is_some());
                if begun
                    && self.behind_slash(clause)
                    && spaced
                    && all
                    && clause.facts.iter().any(whole)
                {
                    // `crunch 3x15 / plank 3x30 s`: one after the other.
                    return self.named(clause, at, false);
                }
                if begun && counted && self.behind_slash(clause) {
                    let words = self.line.trim().to_owned();
                    return Err((words, FaultKind::TwoExercises));
                }
                if begun && counted {
                    self.note(format!("or {}", self.text_of(&clause.facts)));
                    return Ok(());
                }
                self.alternative(clause, at)
            }
            (Some(at), Lead::Open) if !self.items.is_empty() && !counted => {
                // `romanian deadlift (RDL)`: the same once more.
                let id = clause.facts.get(at).map(|one| &one.fact);
                let own = self.items.last().and_then(|item| item.exercise);
                if id != own.map(Fact::Name).as_ref() {
                    self.note(self.text_of(&clause.facts).to_owned());
                }
                Ok(())
            }
            // `Bar must touch the bench.`: a sentence, and no exercise.
            (Some(_), _)
                if begun
                    && !counted
                    && (self.is_aside(clause)
                        || self.content(clause) > 1 && !self.in_turn_so_far()) =>
            {
                self.note(self.text_of(&clause.facts).to_owned());
                Ok(())
            }
            (Some(at), _) => self.named(clause, at, false),
        }
    }

    /// Whether a clause stands behind a stroke rather than the word `or`.
    fn behind_slash(&self, clause: &Clause) -> bool {
        let first = clause.facts.first().and_then(|one| one.from.checked_sub(1));
        first.is_some_and(|at| self.tokens.get(at).is_some_and(|token| token.is("/")))
    }

    fn is_glued(&self, at: usize) -> bool {
        self.tokens.get(at).is_some_and(|token| token.glued)
    }

    /// Whether a clause with a name speaks of it without planning it.
    pub(super) fn is_aside(&self, clause: &Clause) -> bool {
        self.says(clause, ABOUT) || self.says(clause, "use start if keep when")
    }

    pub(super) fn note(&mut self, words: String) {
        let words = words.trim_matches(|c: char| c.is_whitespace() || ",;:-–—\"".contains(c));
        if words.is_empty() {
            return;
        }
        match self.items.last_mut() {
            Some(item) => item.notes.push(words.to_owned()),
            None => self.notes.push(words.to_owned()),
        }
    }

    /// A name that goes with the exercise before it without being one more: its words are kept, the
    /// rest is said of that exercise.
    pub(super) fn aside(&mut self, clause: &Clause, at: usize, lead: &str) -> Result<(), Misfit> {
        let (before, name) = clause.facts.split_at(at);
        let Some((name, after)) = name.split_first() else {
            return Ok(());
        };
        self.note(format!("{lead} {}", self.text(name.from, name.to)));
        self.beside(clause, before, after)
    }

    /// What stands before and behind the name of a clause.
    fn beside(&mut self, clause: &Clause, before: &[Found], after: &[Found]) -> Result<(), Misfit> {
        let rest = Clause {
            facts: [before, after].concat(),
            ..clause.clone()
        };
        self.nameless(&rest, true)
    }

    pub(super) fn alternative(&mut self, clause: &Clause, at: usize) -> Result<(), Misfit> {
        let stroke = self.behind_slash(clause);
        let (before, name) = clause.facts.split_at(at);
        let Some((found, after)) = name.split_first() else {
            return Ok(());
        };
        if let (Fact::Name(id), Some(item)) = (&found.fact, self.items.last_mut())
            && item.exercise != Some(*id)
            && !item.or.contains(id)
        {
            item.or.push(*id);
            self.alternative = Some((*id, stroke));
        }
        self.beside(clause, before, after)
    }

    /// Sets of its own make words of an alternative: one item has one count.
    pub(super) fn sets_of_alternative(&mut self, clause: &Clause, other: ExerciseId) {
        let name = self.language.catalogue.exercise(other).name.clone();
        let words = format!("or {name} {}", self.text_of(&clause.facts));
        if let Some(item) = self.items.last_mut() {
            item.or.retain(|id| *id != other);
            item.notes.push(words);
        }
    }

    /// A clause with the name of a new exercise.
    pub(super) fn named(&mut self, clause: &Clause, at: usize, joined: bool) -> Result<(), Misfit> {
        let (before, name) = clause.facts.split_at(at);
        let Some((found, after)) = name.split_first() else {
            return Ok(());
        };
        let Fact::Name(id) = found.fact else {
            return Ok(());
        };
        // A word beside a name may make another movement of it: `oblique`, `front foot raised`.
        let run = before.iter().rev().take_while(|one| one.fact == Fact::Word);
        if let Some(word) = run.filter(|one| !self.is_harmless(one)).last() {
            let words = self.text(word.from, found.to).to_owned();
            return Err(self.unknown(words));
        }
        // With words of speech behind it, it is a sentence: `rear delt fly depending on the day`.
        let run = || after.iter().take_while(|one| one.fact == Fact::Word);
        let speech = |one: &Found| {
            let word = self.word(one);
            has(FILLERS, word) || has(SPEECH, word)
        };
        let sentence = run().skip(1).any(speech);
        if let Some(word) = after
            .first()
            .filter(|one| self.is_strange(one) && !sentence)
        {
            let words = self.text(found.from, word.to).to_owned();
            return Err(self.unknown(words));
        }
        if let Some(second) = after.iter().find(|one| matches!(one.fact, Fact::Name(_))) {
            let words = self.text(found.from, second.to).to_owned();
            return Err((words, FaultKind::TwoExercises));
        }
        // `7 bench press 3x8`: the number of the exercise in the list.
        let ordinal = matches!(
            before,
            [Found {
                fact: Fact::Amount(Amount::Reps(_)),
                from: 0,
                ..
            }]
        );
        let counted = after
            .iter()
            .any(|one| matches!(one.fact, Fact::SetsOf(..) | Fact::Sets(_)));
        let before = if ordinal && counted { &[] } else { before };
        // `tonight it's squats`: nothing for the lifter to read.
        let speech = |one: &Found| one.fact == Fact::Word && has(SPEECH, self.word(one));
        let told = before
            .iter()
            .rposition(|one| !speech(one))
            .map_or(0, |at| at + 1);
        let before = before.get(..told).unwrap_or_default();
        self.items.push(Draft {
            exercise: Some(id),
            joined,
            ..Draft::default()
        });
        let name = self.text(found.from, found.to).to_lowercase();
        if is_one_sided(&name)
            && let Some(item) = self.items.last_mut()
        {
            item.side = true;
        }
        self.beside(clause, before, after)
    }

    /// Whether a word behind a name may make another movement of it: `romanian lift`.
    fn is_strange(&self, found: &Found) -> bool {
        let word = self.word(found);
        found.fact == Fact::Word
            && word.chars().any(char::is_alphabetic)
            && !has(FILLERS, word)
            && !has(SPEECH, word)
            && !has(BEFORE_A_NAME, word)
            && !has(AFTER_A_NAME, word)
    }

    pub(super) fn is_harmless(&self, found: &Found) -> bool {
        let word = self.word(found);
        has(BEFORE_A_NAME, word) || has(SPEECH, word) || !word.chars().any(char::is_alphabetic)
    }

    pub(super) fn unknown(&self, words: String) -> Misfit {
        let nearest = self
            .language
            .names
            .nearest(&words.to_lowercase(), self.language.catalogue);
        (words, FaultKind::UnknownExercise(nearest))
    }
}

fn is_one_sided(name: &str) -> bool {
    let mut words = name.split([' ', '-']);
    words.any(|word| matches!(word, "single" | "sl" | "unilateral"))
        || name.starts_with("one")
        || name.starts_with("1-")
        || name.starts_with("1 ")
}
