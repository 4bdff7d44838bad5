//! A message as it is learned from: its words, and its numbers as they stand to the load and the repetitions before.

use super::{Basis, Before};
use crate::domain::quantities::mass::Unit;
use crate::message::grammar::item::{Effort, Item, Spanned};
use crate::message::grammar::phrases::items;
use crate::message::grammar::scan::Scan;
use crate::message::intent::features::{gram, runs_of, value};
use crate::message::intent::model::Model;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

/// More numbers are not told apart by their order.
const MOST_NUMBERS: usize = 4;
/// Longer messages are not told apart by their length.
const MOST_WORDS: usize = 14;
/// All features of an example together count as much as so many. Chosen on held-out authors.
const WEIGHT: f32 = 10.0;

/// Stands for the name of an exercise among the words.
const NAME: &str = "name";

/// What a bar is loaded at.
const SIDES: [&str; 4] = ["side", "sides", "end", "ends"];

/// A number in a message.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Number {
    /// Its place among the words, and its token.
    pub at: usize,
    pub token: usize,
    /// What it is; minutes by the clock as seconds.
    pub value: f64,
}

/// A message with what it goes on from.
#[derive(Debug)]
pub(super) struct Seen<'m> {
    pub before: &'m Before,
    /// Its words; `#` for a number.
    words: Vec<&'m str>,
    /// The same, with what each number is like in place of it.
    shapes: Vec<String>,
    /// The token of each.
    tokens: Vec<usize>,
    glued: Vec<bool>,
    /// Words of which nothing is known that such messages are made of.
    strange: Vec<bool>,
    pub numbers: Vec<Number>,
    items: Vec<Spanned>,
    /// Units that are named behind numbers.
    pub units: Vec<Option<W>>,
}

impl<'m> Seen<'m> {
    pub(super) fn new(scan: &Scan<'m>, before: &'m Before) -> Self {
        let mut seen = Self {
            before,
            words: Vec::new(),
            shapes: Vec::new(),
            tokens: Vec::new(),
            glued: Vec::new(),
            strange: Vec::new(),
            numbers: Vec::new(),
            items: items(scan),
            units: Vec::new(),
        };
        let mut skipped = 0;
        for (at, token) in scan.tokens.iter().enumerate() {
            if at < skipped {
                continue;
            }
            if let Some(to) = seen.name_at(at) {
                seen.push(NAME, at, token.glued);
                skipped = to;
                continue;
            }
            let decimal = decimal(scan, at);
            skipped = decimal.map_or(at, |(_, to)| to);
            let number = match (token.kind, token.word.w) {
                _ if decimal.is_some() => decimal.map(|(value, _)| value),
                (Kind::Number, _) | (_, W::Numeral) => Some(token.value),
                (Kind::Word, W::One) => Some(1.0),
                (Kind::Word, W::Couple) => Some(2.0),
                (Kind::Word, _) => named_count(scan.text_at(at)),
                _ => None,
            };
            let word = match (number, token.kind) {
                (Some(_), Kind::Word) if named_count(scan.text_at(at)).is_some() => {
                    scan.text_at(at)
                }
                (Some(_), _) => "#",
                (_, Kind::Clock) => "clock",
                (_, Kind::Date) => "date",
                (_, Kind::Mark(Mark::Symbol | Mark::Laugh)) => "symbol",
                (_, Kind::Mark(mark)) => mark.written(),
                _ => scan.text_at(at),
            };
            seen.push(word, at, token.glued);
            let known = number.is_some()
                || token.word.roles.any(Roles::FILL)
                || token.word.roles.any(Roles::KNOWN);
            let place = seen.words.len() - 1;
            seen.strange[place] = token.kind == Kind::Word && !known;
            let unit = scan.w(skipped.max(at + 1));
            seen.units[place] = matches!(unit, W::Kg | W::Lb | W::K).then_some(unit);
            if let Some(value) = number {
                seen.shapes[place] = shape(value, before);
                seen.numbers.push(Number {
                    at: place,
                    token: at,
                    value,
                });
            }
        }
        seen
    }

    fn push(&mut self, word: &'m str, token: usize, glued: bool) {
        self.words.push(word);
        self.shapes.push(word.to_owned());
        self.tokens.push(token);
        self.glued.push(glued);
        self.strange.push(false);
        self.units.push(None);
    }

    /// The token behind the name of an exercise that begins at this one.
    fn name_at(&self, at: usize) -> Option<usize> {
        let is_name = |one: &&Spanned| one.from == at && matches!(one.item, Item::Name(_));
        self.items.iter().find(is_name).map(|one| one.to)
    }

    /// The reserves that the words tell, with their words and their numbers: `to failure`, `one in the tank`, `rpe 9`.
    pub(super) fn efforts(&self) -> impl DoubleEndedIterator<Item = (f64, usize, Option<Number>)> {
        self.items.iter().filter_map(|spanned| match &spanned.item {
            Item::Effort(Effort::One(rir)) => {
                let within = spanned.from..spanned.to;
                let number = (self.numbers.iter()).find(|one| within.contains(&one.token));
                let at = self
                    .tokens
                    .iter()
                    .position(|token| *token >= spanned.from)?;
                Some((*rir, number.map_or(at, |number| number.at), number.copied()))
            }
            _ => None,
        })
    }

    /// Whether `model` knows none of its words, or not where the only one stands: `gate 9`. Then nothing speaks for what
    /// it may mean.
    pub(super) fn is_unknown(&self, model: &Model) -> bool {
        let is_word = |at: &usize| self.words[*at].starts_with(char::is_alphabetic);
        let words: Vec<usize> = (0..self.words.len()).filter(is_word).collect();
        let known = |at: &usize| model.knows(gram(&["one", self.words[*at]]));
        let beside = |one: Option<usize>, other: Option<usize>| {
            model.knows(gram(&["words", self.word(one), self.word(other)]))
        };
        match words.as_slice() {
            [] => false,
            // A full stop ends a sentence and says no more of its place: `12. Finished.`
            [at] => {
                let stop = |place: &usize| self.word(Some(*place)) != ".";
                let before = (0..*at).rev().find(stop);
                let behind = (at + 1..=self.words.len()).find(stop);
                let placed = beside(before, Some(*at)) || beside(Some(*at), behind);
                !known(at) || !placed
            }
            all => !all.iter().any(known),
        }
    }

    /// Whether a word of which nothing is known, not by the model of roles either, stands behind a number, as what it
    /// counts.
    pub(super) fn counts_unknown(&self, number: Number, role: &Model) -> bool {
        let behind = number.at + 1;
        let word = self.word(Some(behind));
        let learned = ["+1", "+2", "+3", "-1", "-2", "-3"].iter();
        let mut learned = learned.map(|place| gram(&["beside", place, word]));
        self.strange.get(behind) == Some(&true)
            && !role.knows(gram(&["bag", word]))
            && !learned.any(|feature| role.knows(feature))
    }

    /// Whether it speaks of warming up, in any form of the word.
    pub(super) fn says_warm_up(&self) -> bool {
        let is_it = |word: &&str| *word == "wu" || word.starts_with("warm");
        self.words.iter().any(is_it)
    }

    /// The unit that the grammar takes a number to be in.
    pub(super) fn unit_of(&self, number: Number) -> Option<Unit> {
        match self.item_at(number.token)? {
            Item::Num(num) => num.unit,
            _ => None,
        }
    }

    fn item_at(&self, at: usize) -> Option<&Item> {
        let spanned = self
            .items
            .iter()
            .find(|item| (item.from..item.to).contains(&at));
        spanned.map(|spanned| &spanned.item)
    }

    fn word(&self, at: Option<usize>) -> &str {
        match at {
            None => "^",
            Some(at) => self.words.get(at).copied().unwrap_or("$"),
        }
    }

    /// A word, or a number as it is written.
    pub(super) fn word_or_number(&self, at: Option<usize>) -> String {
        let number = self.numbers.iter().find(|number| Some(number.at) == at);
        number.map_or_else(
            || self.word(at).to_owned(),
            |number| number.value.to_string(),
        )
    }

    /// Whether no more than a word that joins repetitions with their load stands between these places.
    pub(super) fn is_joined(&self, from: usize, to: usize) -> bool {
        let joins = |word: &&str| matches!(*word, "at" | "with" | "on" | "@" | "x" | "of" | "reps");
        (self.words.get(from + 1..to)).is_some_and(|between| between.iter().all(joins))
    }

    /// Whether no word stands between these places.
    pub(super) fn is_beside(&self, one: usize, other: usize) -> bool {
        let between = self.words.get(one.min(other) + 1..one.max(other));
        let is_word = |word: &&str| word.starts_with(char::is_alphabetic) && word.len() > 1;
        between.is_some_and(|between| !between.iter().any(is_word))
    }

    /// Whether its first number is counted: `x60`.
    pub(super) fn begins_counted(&self) -> bool {
        let first = self.words.first().copied();
        matches!(first, Some("x" | "×")) && self.glued.get(1) == Some(&true)
    }

    /// Whether it says which repetition failed: `failed the 10th`.
    pub(super) fn fails_at(&self) -> bool {
        let mut items = self.items.iter();
        items.any(|spanned| matches!(spanned.item, Item::FailedAt(_)))
    }

    /// How many words it has.
    pub(super) const fn len(&self) -> usize {
        self.words.len()
    }

    fn shape(&self, at: Option<usize>) -> &str {
        match at {
            None => "^",
            Some(at) => self.shapes.get(at).map_or("$", String::as_str),
        }
    }

    /// What all its numbers are like, in order.
    fn row(&self) -> String {
        let shapes = self.numbers.iter().take(MOST_NUMBERS + 1);
        let shapes = shapes.map(|number| self.shape(Some(number.at)));
        shapes.collect::<Vec<_>>().join(" ")
    }

    /// What is known of the sets before, in short.
    fn state(&self) -> Vec<&'static str> {
        let before = self.before;
        let basis = match before.basis {
            Basis::Total => "total",
            Basis::Hand => "hand",
            Basis::Hung => "hung",
            Basis::Helped => "helped",
            Basis::Body => "body",
            Basis::Pin => "pin",
        };
        let done = match before.sets.len() {
            0 => "none done",
            1 => "one done",
            2 => "two done",
            _ => "more done",
        };
        vec![
            if before.named { "named" } else { "" },
            if before.announced { "announced" } else { "" },
            if before.held { "held" } else { "" },
            if before.rated { "rated" } else { "" },
            if before.in_turn.len() > 1 {
                "in turn"
            } else {
                ""
            },
            basis,
            done,
        ]
    }

    /// The features of the whole message.
    pub(super) fn whole(&self) -> Vec<u32> {
        let mut out = Vec::new();
        let count = self.words.len();
        let numbers = self.numbers.len().min(MOST_NUMBERS).to_string();
        let row = self.row();
        for shape in &self.shapes {
            out.push(gram(&["one", shape]));
        }
        for at in 0..=count {
            let before = at.checked_sub(1);
            out.push(gram(&["two", self.shape(before), self.shape(Some(at))]));
            out.push(gram(&["words", self.word(before), self.word(Some(at))]));
            if at < count {
                let (next, word) = (Some(at + 1), Some(at));
                out.push(gram(&[
                    "three",
                    self.shape(before),
                    self.shape(word),
                    self.shape(next),
                ]));
                out.push(gram(&[
                    "row",
                    self.word(before),
                    self.word(word),
                    self.word(next),
                ]));
            }
        }
        let strange = self.strange.iter().filter(|strange| **strange).count();
        let strange = strange.min(4).to_string();
        out.push(gram(&["strange", &strange]));
        out.push(gram(&[
            "strange",
            &strange,
            &numbers,
            &count.min(4).to_string(),
        ]));
        out.push(gram(&["numbers", &numbers]));
        out.push(gram(&["length", &count.min(MOST_WORDS).to_string()]));
        out.push(gram(&["all", &row]));
        let words = self
            .words
            .iter()
            .filter(|word| word.starts_with(char::is_alphabetic));
        out.push(gram(&[
            "letters",
            &words.clone().count().min(8).to_string(),
        ]));
        for state in self.state() {
            out.push(gram(&["state", state]));
            out.push(gram(&["first", state, self.shape(Some(0))]));
            out.push(gram(&["counted", state, &numbers]));
            out.push(gram(&["stands", state, &row]));
        }
        for spanned in &self.items {
            if let Some(name) = named(&spanned.item) {
                out.push(gram(&["item", name]));
            }
        }
        runs_of(words.copied(), |run| out.push(run));
        finished(out)
    }

    /// The features of one of its numbers.
    pub(super) fn number(&self, number: Number) -> Vec<u32> {
        let at = number.at;
        let own = self.shape(Some(at)).to_owned();
        let mut out = vec![gram(&["own", &own]), gram(&["named", self.word(Some(at))])];
        let place = |by: isize| at.checked_add_signed(by);
        for (name, by) in [
            ("-3", -3),
            ("-2", -2),
            ("-1", -1),
            ("+1", 1),
            ("+2", 2),
            ("+3", 3),
        ] {
            let word = self.word(place(by));
            out.push(gram(&["beside", name, word]));
            out.push(gram(&["beside own", name, word, &own]));
            out.push(gram(&["shape", name, self.shape(place(by))]));
        }
        for (name, one, other) in [("--", -2, -1), ("-+", -1, 1), ("++", 1, 2)] {
            let pair = [self.word(place(one)), self.word(place(other))];
            out.push(gram(&["pair", name, pair[0], pair[1]]));
            out.push(gram(&["pair own", name, pair[0], pair[1], &own]));
        }
        for (other, word) in self
            .words
            .iter()
            .enumerate()
            .filter(|(_, word)| **word != "#")
        {
            out.push(gram(&["bag", word]));
            out.push(gram(&[if other < at { "left" } else { "right" }, word]));
        }
        // Which way a load of each side goes, another word says.
        if self.words.iter().any(|word| SIDES.contains(word)) {
            out.push(gram(&["side"]));
            for word in &self.words {
                out.push(gram(&["side", word]));
            }
        }
        let index = self
            .numbers
            .iter()
            .position(|one| one.at == at)
            .unwrap_or(0);
        let index = index.min(MOST_NUMBERS).to_string();
        let count = self.numbers.len().min(MOST_NUMBERS).to_string();
        out.push(gram(&["place", &index, &count]));
        out.push(gram(&["all", &index, &self.row()]));
        let glued = |at: usize| self.glued.get(at).copied().unwrap_or(false);
        out.push(gram(&["glued", if glued(at) { "yes" } else { "no" }]));
        let next = self.word(Some(at + 1));
        out.push(gram(&[
            "behind",
            if glued(at + 1) { "yes" } else { "no" },
            next,
        ]));
        for state in self.state() {
            out.push(gram(&["state", state, &own]));
        }
        let strange = |at: Option<usize>| {
            at.and_then(|at| self.strange.get(at))
                .copied()
                .unwrap_or(false)
        };
        for (name, by) in [("-1", -1), ("+1", 1)] {
            if strange(place(by)) {
                out.push(gram(&["strange", name, &own]));
            }
        }
        let size = match number.value {
            small if small <= 12.0 => small.to_string(),
            _ => "more".to_owned(),
        };
        out.push(gram(&["size", &size]));
        if let Some(name) = self.item_at(number.token).and_then(named) {
            out.push(gram(&["item", name]));
        }
        finished(out)
    }
}

/// A number of repetitions by its name.
fn named_count(word: &str) -> Option<f64> {
    Some(match word {
        "single" => 1.0,
        "double" => 2.0,
        "triple" => 3.0,
        "twice" => 2.0,
        "thrice" => 3.0,
        "dozen" => 12.0,
        _ => return None,
    })
}

/// `87,5`: a decimal, and the token behind it; `8,7` are two sets.
fn decimal(scan: &Scan<'_>, at: usize) -> Option<(f64, usize)> {
    let (value, to) = scan.comma_decimal(at)?;
    let listed = scan.is(to, Mark::Comma) && scan.glued(to);
    let quarter = (value * 4.0).fract() == 0.0 && value.fract() != 0.0;
    (quarter && !listed).then_some((value, to))
}

pub(super) fn finished(mut features: Vec<u32>) -> Vec<u32> {
    features.sort_unstable();
    features.dedup();
    features
}

/// How much each feature of an example counts.
pub(super) fn scale(features: &[u32]) -> f32 {
    let squares: f32 = features.iter().map(|&f| value(f) * value(f)).sum();
    WEIGHT * squares.max(1.0).sqrt().recip()
}

/// The probabilities of the classes of `model`.
pub(super) fn probabilities(model: &Model, features: &[u32]) -> Vec<f32> {
    let scale = scale(features);
    let bias = model.scores();
    let mut sums = vec![0.0; bias.len()];
    for &feature in features {
        model.add(feature, &mut sums);
    }
    let mut scores: Vec<f32> = bias.iter().zip(&sums).map(|(b, s)| b + scale * s).collect();
    model.probabilities(&mut scores);
    scores
}

/// Whether two loads or counts are the same, but for rounding.
pub(super) fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.02
}

/// What the grammar takes a phrase for, where that may help.
const fn named(item: &Item) -> Option<&'static str> {
    Some(match item {
        Item::Name(_) => "name",
        Item::Effort(_) => "effort",
        Item::Rest(_) => "rest",
        Item::Duration(_) => "duration",
        Item::Day(_) => "day",
        Item::Warm => "warm",
        Item::FailedAt(_) => "failed",
        Item::Same => "same",
        Item::More => "more",
        Item::Last => "last",
        Item::OneSet(_) => "one set",
        Item::Foreign => "foreign",
        Item::Repeat(_) => "repeat",
        _ => return None,
    })
}

/// How a number stands to what was done before.
fn shape(value: f64, before: &Before) -> String {
    let mut out = String::from("<");
    if let Some(load) = before.load.filter(|load| *load > 0.0) {
        let share = value / load;
        out.push_str(match share {
            _ if (share - 1.0).abs() < 1e-6 => "=L",
            _ if (0.75..=1.3).contains(&share) => "~L",
            _ if (0.45..=1.75).contains(&share) => "L?",
            _ => "",
        });
    }
    // In turn, of whichever exercise it is nearest to.
    let turns = before
        .in_turn
        .iter()
        .copied()
        .filter(|_| before.in_turn.len() > 1);
    let last = before.sets.last().map(|(_, reps)| *reps);
    let apart = turns.chain(last).map(|reps| (value - reps).abs());
    if let Some(apart) = apart.min_by(f64::total_cmp) {
        out.push_str(match apart {
            _ if apart < 1e-6 => "=R",
            _ if apart <= 2.0 => "~R",
            _ if apart <= 5.0 && value >= 3.0 => "R?",
            _ => "",
        });
    }
    out.push(match value {
        _ if value <= 4.0 => 's',
        _ if value <= 30.0 => 'm',
        _ => 'b',
    });
    if value.fract() != 0.0 {
        out.push('f');
    }
    out.push('>');
    out
}
