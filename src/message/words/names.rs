//! Exercise and muscle names as people type them, and slips of the keyboard.
//!
//! Every name and alias of the catalogue goes into one tree of word symbols, with the usual short
//! forms, plurals and spellings in one or two words added. Which words make a message a set is not
//! decided here.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use crate::domain::quantities::catalogue::{Catalogue, Equipment, Exercise};
use crate::domain::quantities::id::{ExerciseId, MuscleId};

use super::compose::{Composed, Composer};
use super::likeness::{Counts, LONGEST, Wanted};
use super::token::{Kind, Mark, Token};
use super::vocabulary::{Roles, Vocabulary, W, Word};

/// Short forms that stand for a word of a name, or for two.
const SHORT_FORMS: &[(&str, &[&str])] = &[
    (
        "dumbbell",
        &["db", "dbs", "dumbell", "dumbbells", "dumb bell"],
    ),
    ("barbell", &["bb", "barbel", "bar bell"]),
    ("kettlebell", &["kb", "kettle bell"]),
    ("machine", &["mach"]),
    ("incline", &["inc", "incl"]),
    ("decline", &["dec", "decl"]),
    ("overhead", &["oh"]),
    ("extension", &["ext", "exts", "extn"]),
    ("triceps", &["tricep", "tri", "tris"]),
    ("tricep", &["triceps", "tri"]),
    ("biceps", &["bicep", "bi"]),
    ("bicep", &["biceps", "bi"]),
    ("lateral", &["lat"]),
    ("pulldown", &["pd", "pulldn", "pull down"]),
    ("pushdown", &["push down", "pushdn"]),
    ("pullover", &["pull over"]),
    ("deadlift", &["dl", "dead lift"]),
    ("romanian", &["romain", "roman"]),
    ("bulgarian", &["bulg"]),
    ("shoulder", &["shldr", "shoulders"]),
    ("standing", &["stand"]),
    ("seated", &["seat", "sitting"]),
    ("hamstring", &["ham"]),
    ("supported", &["supp"]),
    ("crusher", &["crushers"]),
    ("skullcrusher", &["skull crusher", "scullcrusher"]),
    ("delt", &["delts"]),
    ("kickback", &["kick back"]),
    ("press", &["pres"]),
    ("raise", &["raises"]),
    ("stiff", &["stiff"]),
    ("calf", &["calves", "calve"]),
    ("fly", &["flye", "flys"]),
    ("hyperextension", &["hyper"]),
    ("reverse", &["rev"]),
    ("single", &["one"]),
    ("bodyweight", &["bw"]),
];

/// Short forms that by themselves stand for parts of several names: pulldown and pushdown.
const MANIFOLD: &[&str] = &["pd", "raise", "raises"];

/// Verbs that name what was done.
const VERBS: &[(&str, &str)] = &[
    ("benched", "bench press"),
    ("squatted", "back squat"),
    ("squatting", "back squat"),
    ("deadlifted", "deadlift"),
    ("front squatted", "front squat"),
    ("hip thrusted", "hip thrust"),
    ("overhead pressed", "overhead press"),
    ("leg pressed", "leg press"),
    ("incline benched", "incline bench press"),
    ("curled", "barbell curl"),
];

/// More words than this are no name.
const LONGEST_NAME: usize = 9;
/// Names that are offered for an unknown one.
const OFFERED: usize = 3;

/// A name that looks less like an unknown one than this is not offered (by Jaro and Winkler's measure).
const LEAST_ALIKE: f64 = 0.6;

/// Names whose bound is this near to the highest are looked at first.
const LIKELY: f64 = 0.04;

/// Words that one slip may be mended to, at most.
const MOST_NEAR: usize = 4;

/// Spellings of one phrase that are entered at most; names have few words, so few are lost.
const VARIANTS: usize = 48;

/// Mixes one edge key; the tree is built from trusted lists.
#[derive(Clone, Copy, Debug, Default)]
struct EdgeHash(u64);

impl Hasher for EdgeHash {
    fn write(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.write_u64(u64::from(byte));
        }
    }

    fn write_u64(&mut self, key: u64) {
        let mixed = (self.0 ^ key).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        self.0 = mixed ^ (mixed >> 32);
    }

    fn finish(&self) -> u64 {
        self.0
    }
}

/// What a node of the tree stands for.
#[derive(Clone, Copy, Debug, Default)]
struct Meaning {
    exercise: Option<ExerciseId>,
    muscle: Option<MuscleId>,
}

/// The names of one catalogue, ready to be found in tokens.
#[derive(Clone, Debug)]
pub struct NameIndex {
    pub(crate) vocabulary: Vocabulary,
    edges: HashMap<u64, u32, BuildHasherDefault<EdgeHash>>,
    meanings: Vec<Meaning>,
    twins: Vec<Option<ExerciseId>>,
    spellings: Vec<Spelling>,
    composer: Composer,
    /// The text of each symbol.
    symbols: Vec<Box<str>>,
    /// The letters of the name of each exercise that is mapped.
    counts: Vec<(ExerciseId, Counts)>,
}

/// A word that slips are compared with.
#[derive(Clone, Debug)]
struct Spelling {
    text: Box<str>,
    letters: u32,
    word: Word,
}

/// Words that can stand in one name.
#[derive(Default)]
struct Run<'n> {
    words: Vec<&'n str>,
    /// The token after each word, and whether a bracket is open behind it.
    ends: Vec<(usize, bool)>,
    /// The words before which a comma or a bracket stands.
    cuts: Vec<usize>,
}

impl<'n> Run<'n> {
    fn push(&mut self, word: &'n str, to: usize, open: bool) {
        self.words.push(word);
        self.ends.push((to, open));
    }
}

/// A name found in tokens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Found<T> {
    /// What it names.
    pub id: T,
    /// The token after its last.
    pub to: usize,
}

impl NameIndex {
    /// Every word that the reader knows, with those of the names.
    pub(crate) const fn vocabulary(&self) -> &Vocabulary {
        &self.vocabulary
    }

    /// The index of `catalogue`. Takes some milliseconds: build it once.
    #[must_use]
    pub fn new(catalogue: &Catalogue) -> Self {
        Self::with_own(catalogue, &[])
    }

    /// The same with names of a lifter's own. What nobody has mapped is known by such a name alone.
    #[must_use]
    pub fn with_own(catalogue: &Catalogue, own: &[(String, ExerciseId)]) -> Self {
        let listed = || {
            catalogue
                .exercises()
                .filter(|(_, exercise)| exercise.is_mapped())
        };
        let mut index = Self {
            vocabulary: Vocabulary::default(),
            edges: HashMap::default(),
            meanings: vec![Meaning::default()],
            twins: Vec::new(),
            spellings: Vec::new(),
            composer: Composer::new(catalogue),
            symbols: Vec::new(),
            counts: listed()
                .map(|(id, exercise)| (id, Counts::of(&exercise.name)))
                .collect(),
        };
        index.enter_muscles(catalogue);
        // Names as listed go before spellings made from them, whoever's they are.
        for (id, exercise) in listed() {
            index.enter_exercise(&exercise.name, id);
        }
        for (id, exercise) in listed() {
            for alias in &exercise.aliases {
                index.enter_exercise(alias, id);
            }
        }
        for (verb, name) in VERBS {
            if let Some(id) = index.named(name) {
                index.enter_exercise(verb, id);
            }
        }
        for (name, id) in own {
            index.enter_exercise(name, *id);
        }
        for (id, exercise) in listed() {
            for name in std::iter::once(&exercise.name).chain(&exercise.aliases) {
                for variant in variants(name) {
                    index.enter_variant(&variant, id);
                }
            }
        }
        for (name, id) in own {
            for variant in variants(name) {
                index.enter_variant(&variant, *id);
            }
        }
        index.twins = catalogue
            .exercises()
            .map(|(_, exercise)| index.dumbbell_twin(exercise))
            .collect();
        for word in index.composer.words() {
            index.vocabulary.name_part(&word);
        }
        index.symbols = index.vocabulary.symbol_texts();
        index.spellings = index.list_spellings();
        index
    }

    fn enter_muscles(&mut self, catalogue: &Catalogue) {
        for (id, muscle) in catalogue.muscles() {
            for name in std::iter::once(&muscle.name).chain(&muscle.words) {
                let node = self.enter(name);
                if let Some(meaning) = self.meanings.get_mut(node as usize) {
                    meaning.muscle.get_or_insert(id);
                }
            }
        }
    }

    /// A spelling made from a name gives way to a muscle: `lats` is no short `laterals`.
    fn enter_variant(&mut self, name: &str, id: ExerciseId) {
        let node = self.enter(name);
        if let Some(meaning) = self.meanings.get_mut(node as usize)
            && meaning.muscle.is_none()
        {
            meaning.exercise.get_or_insert(id);
        }
    }

    fn enter_exercise(&mut self, name: &str, id: ExerciseId) {
        let node = self.enter(name);
        if let Some(meaning) = self.meanings.get_mut(node as usize) {
            meaning.exercise.get_or_insert(id);
        }
    }

    /// The node of `name`, made where missing.
    fn enter(&mut self, name: &str) -> u32 {
        let mut node = 0;
        for piece in pieces(name) {
            let symbol = self.vocabulary.symbol(piece);
            let next = u32::try_from(self.meanings.len()).unwrap_or(u32::MAX);
            node = *self.edges.entry(edge(node, symbol)).or_insert(next);
            if node == next {
                self.meanings.push(Meaning::default());
            }
        }
        node
    }

    fn step(&self, node: u32, word: Word) -> Option<u32> {
        if word.symbol == 0 {
            return None;
        }
        self.edges.get(&edge(node, word.symbol)).copied()
    }

    /// The exercise with the longest name that starts at `from`, listed or put together.
    pub(crate) fn exercise_at(&self, tokens: &[Token], from: usize) -> Option<Found<ExerciseId>> {
        let listed = self.longest(tokens, from, |meaning| meaning.exercise);
        let end = listed.map_or(from, |found| found.to);
        self.composed_at(tokens, from, end).or(listed)
    }

    /// The longest name put together from the words at `from`, where it ends behind `end`.
    fn composed_at(&self, tokens: &[Token], from: usize, end: usize) -> Option<Found<ExerciseId>> {
        let run = self.run_at(tokens, from);
        // `assisted dip machine`: the machine helps, and does no other movement.
        let helped = from.checked_sub(1).and_then(|at| tokens.get(at));
        let helped = helped.is_some_and(|token| token.word.w == W::Assist);
        (1..=run.words.len()).rev().find_map(|count| {
            let (to, open) = *run.ends.get(count - 1)?;
            let words = run.words.get(..count)?;
            // An ordinary word by itself is a name only where it is listed as one.
            // What a movement is done with names none.
            let ordinary = count == 1
                && tokens.get(from).is_some_and(|token| {
                    token.word.roles.any(Roles::KNOWN)
                        || MANIFOLD.contains(&self.part_text(token))
                        || self.composer.is_thing(self.part_text(token))
                });
            // What stands behind a comma or in brackets belongs to the name as a whole.
            let cut = run.cuts.iter().any(|cut| *cut < count);
            let halved = cut && count < run.words.len() && !run.cuts.contains(&count);
            // `chest press pin 7`: a place on its stack.
            let placed = run.words.get(count - 1) == Some(&"pin")
                && tokens.get(to).is_some_and(|t| t.kind == Kind::Number);
            if placed || to < end || to == end && !helped || open || ordinary || halved {
                return None;
            }
            let unaided: Vec<&str>;
            let words = if helped {
                unaided = words
                    .iter()
                    .copied()
                    .filter(|word| *word != "machine")
                    .collect();
                &unaided
            } else {
                words
            };
            let Composed::Known(id) = self.composer.compose(words)? else {
                return None;
            };
            // What stands in brackets says it all the same.
            let in_brackets = tokens
                .get(to.checked_sub(1)?)
                .is_some_and(|token| token.is(Mark::Close));
            let cuts = run.cuts.iter().filter(|cut| **cut < count);
            let ends = cuts.clone().skip(1).chain(std::iter::once(&count));
            let goes_on = cuts
                .zip(ends)
                .all(|(from, to)| self.goes_on(words.get(*from..*to).unwrap_or_default()));
            let whole = in_brackets || !self.is_apart(words, id);
            (goes_on && whole).then_some(Found { id, to })
        })
    }

    /// Whether the last of these words is read apart from the name: how it is done (`bench paused`), where
    /// that makes no other movement of it, and words that join.
    fn is_apart(&self, words: &[&str], id: ExerciseId) -> bool {
        let Some((last, others)) = words.split_last() else {
            return false;
        };
        let manner = self.composer.is_manner(last) || matches!(*last, "bw" | "bodyweight");
        Composer::joins(last)
            || manner && self.composer.compose(others) == Some(Composed::Known(id))
            || manner && others.is_empty()
    }

    /// Whether words behind a comma or in brackets go on with a name: `seated`, `zercher`; those that name an
    /// exercise in full do not.
    fn goes_on(&self, words: &[&str]) -> bool {
        self.composer.only_tells_how(words)
            || match self.composer.compose(words) {
                Some(Composed::Known(id)) => self.composer.is_short_for(words, id),
                _ => true,
            }
    }

    /// The words from `from` on that can stand in one name.
    fn run_at(&self, tokens: &[Token], from: usize) -> Run<'_> {
        let mut run = Run::default();
        // `one` begins `one arm`. A thing before a word that joins is only told of: `used the belt on squat`.
        let first = tokens.get(from).map_or("", |token| self.part_text(token));
        let second = tokens
            .get(from + 1)
            .map_or("", |token| self.part_text(token));
        let thing = Composer::joins(second) && second != "one" && self.composer.is_thing(first);
        let joins = Composer::joins(first) && first != "one" || thing;
        if joins {
            return run;
        }
        let text = |at: usize| tokens.get(at).map_or("", |token| self.part_text(token));
        let is = |at: usize, mark| tokens.get(at).is_some_and(|token| token.is(mark));
        let (mut at, mut open) = (from, false);
        while let Some(token) = tokens.get(at).filter(|_| run.words.len() < LONGEST_NAME) {
            match token.kind {
                Kind::Mark(Mark::Minus) if at > from => at += 1,
                Kind::Mark(Mark::Slash) if run.words.last() == Some(&"w") => at += 1,
                // `clean & jerk`.
                Kind::Mark(Mark::And) if at > from => {
                    at += 1;
                    run.push("and", at, open);
                }
                Kind::Mark(Mark::Comma) if !open && at > from => {
                    run.cuts.push(run.words.len());
                    at += 1;
                }
                Kind::Mark(Mark::Open) if !open && at > from => {
                    run.cuts.push(run.words.len());
                    open = true;
                    at += 1;
                }
                Kind::Mark(Mark::Close) if open => {
                    open = false;
                    at += 1;
                    if let Some(end) = run.ends.last_mut() {
                        *end = (at, false);
                    }
                }
                Kind::Number => {
                    let behind = at + 1 + usize::from(is(at + 1, Mark::Minus));
                    let one = (token.value - 1.0).abs() < f64::EPSILON;
                    let two = (token.value - 2.0).abs() < f64::EPSILON;
                    match text(behind) {
                        word if one && is_limb(word) => {
                            run.push("one", at + 1, open);
                            at += 1;
                        }
                        word if two && is_limb(word) => {
                            run.push("two", at + 1, open);
                            at += 1;
                        }
                        // `45 leg press`, which says no more than that it is no horizontal one.
                        "leg" | "back" if (token.value - 45.0).abs() < f64::EPSILON => {
                            run.push("degree", at + 1, open);
                            at += 1;
                        }
                        // `2 inch deficit`, `8in box`.
                        "in" | "inch" | "inches" | "cm"
                            if matches!(
                                text(behind + 1),
                                "deficit" | "block" | "blocks" | "box" | "step" | "riser"
                            ) =>
                        {
                            at = behind + 1;
                        }
                        // `45° incline`, `2-board press`: which of them leaves the movement as it is.
                        "°" | "deg" | "degree" | "degrees" | "board" | "boards"
                            if !token.decimals =>
                        {
                            at = behind;
                        }
                        _ => break,
                    }
                }
                Kind::Word => {
                    let word = self.part_text(token);
                    // Load hung on or taken off is read apart from the name.
                    if word.is_empty() || matches!(token.word.w, W::Assist | W::Weighted) {
                        break;
                    }
                    at += 1;
                    run.push(word, at, open);
                }
                _ => break,
            }
        }
        run
    }

    /// Where, behind a name that ends before `to`, the words of names end, when one of them makes another
    /// movement of it: `bench off the floor`, `lat raise bent over`, `hollow hold, banded`.
    pub(crate) fn changed_behind(&self, tokens: &[Token], to: usize) -> Option<usize> {
        let (mut joined, mut changed, mut last) = (false, false, to);
        for (at, token) in tokens.iter().enumerate().skip(to) {
            let text = self.part_text(token);
            if Composer::joins(text) {
                joined = true;
            } else if token.kind == Kind::Word && self.composer.is_part(text) {
                changed |= self.composer.changes_behind(text, joined)
                    || matches!(text, "reverse" | "reversed" | "backward" | "backwards");
                last = at;
            } else if !(token.is(Mark::Comma) || token.is(Mark::Minus) && token.glued) {
                break;
            }
        }
        changed.then_some(last)
    }

    /// Whether a word makes another movement of the name it stands beside.
    pub(crate) fn changes_movement(&self, token: &Token) -> bool {
        let text = self.part_text(token);
        let ordinary = token.word.roles.any(Roles::KNOWN);
        !text.is_empty() && self.composer.changes(text, ordinary)
    }

    /// Whether a token may stand in a name that goes on behind it.
    pub(crate) fn may_stand(&self, token: &Token) -> bool {
        let joins = [
            Mark::Minus,
            Mark::Comma,
            Mark::Open,
            Mark::Close,
            Mark::Slash,
            Mark::And,
        ];
        let mark = joins.iter().any(|mark| token.is(*mark));
        mark || token.kind == Kind::Number || !self.part_text(token).is_empty()
    }

    /// The text of a token that can stand in a name; empty for all others.
    fn part_text(&self, token: &Token) -> &str {
        let symbol = usize::from(token.word.symbol);
        self.symbols.get(symbol).map_or("", |text| text)
    }

    /// The muscle with the longest name that starts at `from`.
    pub(crate) fn muscle_at(&self, tokens: &[Token], from: usize) -> Option<Found<MuscleId>> {
        self.longest(tokens, from, |meaning| meaning.muscle)
    }

    fn longest<T>(
        &self,
        tokens: &[Token],
        from: usize,
        pick: impl Fn(Meaning) -> Option<T>,
    ) -> Option<Found<T>> {
        let mut node = 0;
        let mut at = from;
        let mut found = None;
        while let Some(token) = tokens.get(at) {
            if token.is(Mark::Minus) && at > from && token.glued {
                at += 1;
                continue;
            }
            let Some(next) = self.step(node, self.word_of(token)) else {
                break;
            };
            node = next;
            at += 1;
            if let Some(id) = self.meanings.get(node as usize).and_then(|m| pick(*m)) {
                found = Some(Found { id, to: at });
            }
        }
        found
    }

    /// The word that a token is in a name: some hold a digit, as `toes 2 bar` and `trap 3 raise` do.
    fn word_of(&self, token: &Token) -> Word {
        let is = |digit: f64| (token.value - digit).abs() < f64::EPSILON;
        match token.kind {
            Kind::Number if !token.decimals && is(2.0) => self.vocabulary.word("2"),
            Kind::Number if !token.decimals && is(3.0) => self.vocabulary.word("3"),
            _ => token.word,
        }
    }

    /// The exercise with exactly this name, in any spelling that the index knows.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<ExerciseId> {
        let lower = name.to_lowercase();
        self.listed(&lower).or_else(|| {
            (!MANIFOLD.contains(&lower.as_str())).then_some(())?;
            let words: Vec<&str> = pieces(&lower).collect();
            match self.composer.compose(&words)? {
                Composed::Known(id) => Some(id),
                Composed::Unknown => None,
            }
        })
    }

    fn listed(&self, name: &str) -> Option<ExerciseId> {
        let mut node = 0;
        for piece in pieces(name) {
            node = self.step(node, self.vocabulary.word(piece))?;
        }
        self.meanings.get(node as usize)?.exercise
    }

    fn dumbbell_twin(&self, exercise: &Exercise) -> Option<ExerciseId> {
        if exercise.equipment != Equipment::Barbell {
            return None;
        }
        self.named(&exercise.name.replace("barbell", "dumbbell"))
            .filter(|_| exercise.name.contains("barbell"))
            .or_else(|| self.named(&format!("dumbbell {}", exercise.name)))
            .or_else(|| {
                let pressed = exercise.name.replace("bench press", "dumbbell press");
                self.named(&pressed).filter(|_| pressed != exercise.name)
            })
    }

    /// The same movement with dumbbells, where the catalogue has it.
    pub(crate) fn twin(&self, id: ExerciseId) -> Option<ExerciseId> {
        self.twins.get(id.index()).copied().flatten()
    }

    fn list_spellings(&self) -> Vec<Spelling> {
        let mut list: Vec<_> = self
            .vocabulary
            .names()
            .filter(|(text, word)| is_slip_target(text, *word))
            .map(|(text, word)| Spelling {
                text: text.into(),
                letters: letters(text),
                word,
            })
            .collect();
        list.sort_by(|a, b| {
            a.text
                .len()
                .cmp(&b.text.len())
                .then_with(|| a.text.cmp(&b.text))
        });
        list
    }

    /// The words of names that `slip` is nearest to, at most 4; none when the slip is too short
    /// or too far from all.
    pub(crate) fn corrections(&self, slip: &str) -> Vec<Word> {
        let limit = match slip.len() {
            0..=2 => return Vec::new(),
            3..=7 => 1,
            8..=16 => 2,
            _ => return Vec::new(),
        };
        let mask = letters(slip);
        let mut best = limit;
        let mut near: Vec<&Spelling> = Vec::new();
        let shortest = |length: usize| self.spellings.partition_point(|s| s.text.len() < length);
        let of_length =
            shortest(slip.len().saturating_sub(limit))..shortest(slip.len() + limit + 1);
        for spelling in self.spellings.get(of_length).unwrap_or_default() {
            let apart = spelling.text.len().abs_diff(slip.len());
            // Two slips in one word are believed only where it starts as the name does.
            let most = match differs_at_start(&spelling.text, slip) {
                true => best.min(1),
                false => best,
            };
            // Each slip adds, drops or swaps one letter, so it changes at most two bits.
            let differing = (spelling.letters ^ mask).count_ones() as usize;
            if apart > most || differing > 2 * most {
                continue;
            }
            let distance = strsim::osa_distance(&spelling.text, slip);
            if distance > most {
                continue;
            }
            if distance < best {
                near.clear();
                best = distance;
            }
            near.push(spelling);
        }
        // A wrong letter from the other end of the keyboard is the least likely slip.
        near.sort_by(|a, b| {
            let far = |spelling: &Spelling| is_far_key(&spelling.text, slip);
            far(a).cmp(&far(b)).then_with(|| a.text.cmp(&b.text))
        });
        if near
            .iter()
            .any(|spelling| !is_far_key(&spelling.text, slip))
        {
            near.retain(|spelling| !is_far_key(&spelling.text, slip));
        }
        near.into_iter().take(MOST_NEAR).map(|s| s.word).collect()
    }

    /// The one word of names of which a word of five letters or more, that is in no list, is a slip: `deadlfit`.
    pub(crate) fn mended(&self, slip: &str) -> Option<&str> {
        if slip.len() < 5 || self.vocabulary.word(slip) != Word::UNKNOWN {
            return None;
        }
        match self.corrections(slip).as_slice() {
            [word] => self
                .symbols
                .get(usize::from(word.symbol))
                .map(|text| &**text),
            _ => None,
        }
    }

    /// Whether a word of names has four letters, and is none of chat.
    pub(crate) fn is_short(&self, word: Word) -> bool {
        let text = self.symbols.get(usize::from(word.symbol));
        text.is_some_and(|text| text.len() == 4) && !word.roles.any(Roles::KNOWN)
    }

    /// Catalogue names nearest to unknown words, best first, at most 3: names that share parts
    /// with them, then names that look alike.
    #[must_use]
    pub fn nearest(&self, words: &str, catalogue: &Catalogue) -> Vec<ExerciseId> {
        let end = words
            .char_indices()
            .nth(LONGEST)
            .map_or(words.len(), |(at, _)| at);
        let words = words.get(..end).unwrap_or_default();
        let run: Vec<&str> = pieces(words).take(LONGEST_NAME).collect();
        let mut out = self.composer.nearest(&run, OFFERED);
        if out.len() < OFFERED {
            let alike = self.alike(words, OFFERED - out.len(), &out, catalogue);
            out.extend(alike);
        }
        out
    }

    /// Exercises that a few letters may be short for, likeliest first: `le`, `fp`, `tri`. The letters are the beginnings
    /// of words of a name, in order; the fewer words are left over, the likelier.
    pub(crate) fn short_for(&self, short: &str, catalogue: &Catalogue) -> Vec<ExerciseId> {
        let short: String = short.chars().filter(|c| c.is_alphanumeric()).collect();
        let mut found: Vec<(usize, usize, ExerciseId)> = catalogue
            .exercises()
            .filter(|(_, exercise)| exercise.is_mapped())
            .filter_map(|(id, exercise)| {
                let names = std::iter::once(&exercise.name).chain(&exercise.aliases);
                let best = names.enumerate().filter_map(|(place, name)| {
                    let words: Vec<&str> = pieces(name).flat_map(halves).collect();
                    // Its own name goes before what it is called as well.
                    Some((left_over(&short, &words)?, place.min(1) + words.len()))
                });
                best.min().map(|(left, words)| (left, words, id))
            })
            .collect();
        found.sort_unstable();
        found.into_iter().map(|(_, _, id)| id).collect()
    }

    /// The names that look most like these words, best first; most cannot reach the best by their letters alone.
    fn alike(
        &self,
        words: &str,
        most: usize,
        but: &[ExerciseId],
        catalogue: &Catalogue,
    ) -> Vec<ExerciseId> {
        let wanted = Wanted::new(words);
        let bounds = self.counts.iter().map(|(_, of)| wanted.most_alike(of));
        let bounds: Vec<f64> = bounds.collect();
        let likely = bounds.iter().copied().fold(0.0, f64::max) - LIKELY;
        let mut best: Vec<(f64, ExerciseId)> = Vec::with_capacity(most + 1);
        // The likely first, so that few of the others have to be looked at.
        for first in [true, false] {
            for (bound, (id, _)) in bounds.iter().zip(&self.counts) {
                let least = best.get(most - 1).map_or(LEAST_ALIKE, |last| last.0);
                if (*bound >= likely) != first || *bound <= least || but.contains(id) {
                    continue;
                }
                let score = wanted.likeness(&catalogue.exercise(*id).name);
                let before = |(of, other): &(f64, ExerciseId)| {
                    of.total_cmp(&score).reverse().then(other.cmp(id)).is_lt()
                };
                let place = best.partition_point(before);
                if score > LEAST_ALIKE && place < most {
                    best.insert(place, (score, *id));
                    best.truncate(most);
                }
            }
        }
        best.into_iter().map(|(_, id)| id).collect()
    }
}

/// The words that one is made of: `pushdown`, `face`.
fn halves(word: &str) -> impl Iterator<Item = &str> {
    let ends = ["down", "over", "back", "up", "lift", "thrust", "crusher"];
    let end = ends
        .iter()
        .find(|end| word.len() > end.len() && word.ends_with(**end));
    let (first, second) = word.split_at(word.len() - end.map_or(0, |end| end.len()));
    [first, second].into_iter().filter(|half| !half.is_empty())
}

/// How many of the words are left over where the letters are the beginnings of the others, in order; the first
/// word is never left over.
fn left_over(letters: &str, words: &[&str]) -> Option<usize> {
    let (first, rest) = words.split_first()?;
    let most = first
        .bytes()
        .zip(letters.bytes())
        .take_while(|(a, b)| a == b)
        .count();
    let of = |taken: usize| match letters.get(taken..)? {
        "" => Some(rest.len()),
        letters => (0..rest.len())
            .filter_map(|skip| Some(skip + left_over(letters, rest.get(skip..)?)?))
            .min(),
    };
    (1..=most).filter_map(of).min()
}

fn is_limb(word: &str) -> bool {
    matches!(word, "arm" | "leg" | "hand" | "arms" | "legged" | "armed")
}

/// Whether a slip may be mended to `text`. An abbreviation is no target: `bss` with a slip in it
/// cannot be told from a word.
fn is_slip_target(text: &str, word: Word) -> bool {
    let ordinary = word.roles.any(Roles::KNOWN);
    word.roles.any(Roles::NAME)
        && text.is_ascii()
        && (text.len() >= 5
            || text.len() >= 3 && ordinary
            || text.len() == 4 && text.contains(['a', 'e', 'i', 'o', 'u', 'y']))
}

/// Whether the one letter in which two words of the same length differ is no neighbour of the one meant.
fn is_far_key(text: &str, slip: &str) -> bool {
    const ROWS: [&str; 3] = ["qwertyuiop", "asdfghjkl", "zxcvbnm"];
    let differing: Vec<_> = text
        .chars()
        .zip(slip.chars())
        .filter(|(a, b)| a != b)
        .collect();
    let &[(meant, typed)] = differing.as_slice() else {
        return false;
    };
    let place = |letter| {
        ROWS.iter()
            .enumerate()
            .find_map(|(row, keys)| Some((row, keys.find(letter)?)))
    };
    let (Some(meant), Some(typed)) = (place(meant), place(typed)) else {
        return false;
    };
    text.len() == slip.len() && (meant.0.abs_diff(typed.0) > 1 || meant.1.abs_diff(typed.1) > 1)
}

fn differs_at_start(a: &str, b: &str) -> bool {
    a.as_bytes().first() != b.as_bytes().first()
}

fn pieces(name: &str) -> impl Iterator<Item = &str> {
    name.split(|c: char| c.is_whitespace() || c == '-' || c == '/')
        .filter(|piece| !piece.is_empty())
}

fn edge(node: u32, symbol: u16) -> u64 {
    (u64::from(node) << 16) | u64::from(symbol)
}

fn letters(text: &str) -> u32 {
    text.bytes()
        .filter(u8::is_ascii_lowercase)
        .fold(0, |mask, byte| mask | 1 << (byte - b'a'))
}

/// Other spellings of a name: short forms, plurals, hyphened words in one.
fn variants(name: &str) -> Vec<String> {
    let units: Vec<&str> = name.split_whitespace().collect();
    let mut built = vec![String::new()];
    for (place, unit) in units.iter().enumerate() {
        let choices = spellings_of(unit, place + 1 == units.len());
        built = append_each(&built, &choices);
    }
    // Two letters alone are a word of talk: `oh, 19!` is no overhead press.
    built.retain(|variant| variant != name && variant.len() > 2);
    built
}

fn append_each(heads: &[String], tails: &[String]) -> Vec<String> {
    let mut out = Vec::new();
    for tail in tails {
        for head in heads {
            if out.len() >= VARIANTS {
                return out;
            }
            let space = if head.is_empty() { "" } else { " " };
            out.push(format!("{head}{space}{tail}"));
        }
    }
    out
}

fn spellings_of(unit: &str, last: bool) -> Vec<String> {
    let mut out = vec![unit.to_owned()];
    if unit.contains('-') {
        out.push(unit.replace('-', ""));
    }
    for (word, shorts) in SHORT_FORMS {
        if *word == unit {
            out.extend(shorts.iter().map(|&s| s.to_owned()));
        }
    }
    if last {
        let singular = out.clone();
        out.extend(singular.iter().filter_map(|word| plural(word)));
    }
    out
}

fn plural(word: &str) -> Option<String> {
    if word.len() < 2 || word.ends_with('s') && !word.ends_with("ss") {
        return None;
    }
    let stem = word.strip_suffix('y');
    Some(match stem {
        Some(stem) if word.ends_with("fly") => format!("{stem}yes"),
        Some(stem) => format!("{stem}ies"),
        None if word.ends_with("ss") || word.ends_with("ch") => format!("{word}es"),
        None => format!("{word}s"),
    })
}

/// Whether a token is a word of some name.
pub(crate) fn is_name_word(token: &Token) -> bool {
    token.kind == Kind::Word && token.word.roles.any(Roles::NAME)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    /// All names compared letter by letter.
    fn compared(words: &str, catalogue: &Catalogue) -> Vec<ExerciseId> {
        let mut all: Vec<(f64, ExerciseId)> = catalogue
            .exercises()
            .map(|(id, exercise)| (strsim::jaro_winkler(words, &exercise.name), id))
            .filter(|(score, _)| *score > LEAST_ALIKE)
            .collect();
        all.sort_by(|a, b| b.0.total_cmp(&a.0));
        all.into_iter().take(OFFERED).map(|(_, id)| id).collect()
    }

    #[test]
    fn names_that_are_left_out_by_their_letters_are_not_among_the_most_alike() {
        let catalogue = config::built_in();
        let index = NameIndex::new(&catalogue);
        let slips = catalogue.exercises().flat_map(|(_, exercise)| {
            let name = &exercise.name;
            let turned: String = name.chars().rev().collect();
            let half = name.chars().step_by(2).collect();
            [name.replace('e', "o"), format!("x{name}y"), turned, half]
        });
        let made_up = ["banana", "zzz", "", "öäü ß", "moon walk 3000", "a"];
        for words in slips.chain(made_up.map(str::to_owned)) {
            let found = index.alike(&words, OFFERED, &[], &catalogue);
            assert_eq!(found, compared(&words, &catalogue), "{words}");
        }
    }
}
