//! Whether a message reports sets that its writer did: learned over its words and what they stand for,
//! each with its place before, among or behind the numbers, over pairs in a row, and over the shape
//! that names, numbers and efforts make.
//!
//! Somebody else's set, a plan, a wish, a memory and a price are told apart by these weights alone; what
//! the numbers of a report mean is no business of theirs.

use std::str::FromStr;

use super::features::{gram, value};
use super::model::Model;
use super::train::{Example, Fit, fit_scaled};
use crate::message::NameIndex;
use crate::message::grammar::item::{Item, Spanned};
use crate::message::grammar::phrases::items;
use crate::message::grammar::scan::Scan;
use crate::message::words::token::{Kind, Mark, Token, tokenize};
use crate::message::words::vocabulary::{Roles, W};

/// The classes, in order.
const CLASSES: [&str; 2] = ["other", "report"];

/// How the model is fitted. Chosen on held-out authors.
const FIT: Fit = Fit {
    steps: 200,
    pull: 0.01,
    kept_from: 2,
    runs_from: 2,
    least: 0.15,
};

/// What a false log costs, in reports that are met with silence: those are posted again.
const FALSE_LOG: f32 = 5.0;

/// A message known to report sets, or to report none.
#[derive(Clone, Debug)]
pub struct Labelled {
    /// The message.
    pub text: String,
    /// Whether it reports sets of its writer's.
    pub reports: bool,
}

/// The decision.
#[derive(Clone, Debug, Default)]
pub(crate) struct Report {
    model: Model,
}

impl Report {
    /// By these weights; broken ones decide nothing.
    pub(crate) fn new(weights: &str) -> Self {
        Self {
            model: Model::from_str(weights).unwrap_or_default(),
        }
    }

    /// How likely the message reports sets, 0 to 1; one half where nothing was learned.
    pub(crate) fn likely(&self, scan: &Scan<'_>, items: &[Spanned]) -> f32 {
        let features = features(scan, items);
        let scale = scale(&features);
        let bias = self.model.scores();
        let mut sums = vec![0.0; bias.len()];
        for feature in features {
            self.model.add(feature, &mut sums);
        }
        let mut scores: Vec<f32> = bias.iter().zip(&sums).map(|(b, s)| b + scale * s).collect();
        self.model.probabilities(&mut scores);
        scores.last().copied().unwrap_or(0.5)
    }
}

/// Learns from `labelled`: the text of `report.weights`. The same messages in the same order give the
/// same weights. Takes some seconds.
#[must_use]
pub fn train(labelled: &[Labelled], names: &NameIndex) -> String {
    let example = |label: &Labelled| {
        let (features, may_be_sets) = of_text(&label.text, names, |scan, items| {
            let has = |is: fn(&Spanned) -> bool| items.iter().any(is);
            let named = has(|s| matches!(s.item, Item::Name(_)));
            let counted = has(|s| matches!(s.item, Item::Num(_)));
            (features(scan, items), named && counted)
        });
        Example {
            features,
            class: usize::from(label.reports),
            weight: match label.reports || !may_be_sets {
                true => 1.0,
                false => FALSE_LOG,
            },
        }
    };
    let examples: Vec<Example> = labelled.iter().map(example).collect();
    let model = fit_scaled(&CLASSES, &examples, |one| scale(&one.features), FIT);
    model.print(|_| String::new())
}

/// How likely `text` reports sets by `weights`, 0 to 1.
#[must_use]
pub fn likely(text: &str, weights: &str, names: &NameIndex) -> f32 {
    let report = Report::new(weights);
    of_text(text, names, |scan, items| report.likely(scan, items))
}

fn of_text<T>(text: &str, names: &NameIndex, make: impl Fn(&Scan<'_>, &[Spanned]) -> T) -> T {
    let tokens = tokenize(text, names.vocabulary());
    let scan = Scan::new(&tokens, names);
    make(&scan, &items(&scan))
}

/// Long messages have more features, and no more to say by them.
fn scale(features: &[u32]) -> f32 {
    let squares: f32 = features.iter().map(|&f| value(f) * value(f)).sum();
    squares.max(1.0).sqrt().recip()
}

/// Where a token stands to the numbers of the message.
#[derive(Clone, Copy)]
struct Zones {
    /// The first sentence with numbers begins here, and its first number.
    start: usize,
    first: usize,
    /// Behind the last number, and behind its sentence.
    last: usize,
    end: usize,
}

impl Zones {
    fn of(scan: &Scan<'_>, items: &[Spanned]) -> Option<Self> {
        let number = |s: &&Spanned| matches!(s.item, Item::Num(_));
        let first = items.iter().find(number)?.from;
        let last = items.iter().rfind(number)?.to;
        let ends = |at: &usize| scan.token(*at).is_some_and(ends_sentence);
        let count = scan.tokens.len();
        Some(Self {
            start: (0..first).rev().find(ends).map_or(0, |at| at + 1),
            first,
            last,
            end: (last..count).find(ends).unwrap_or(count),
        })
    }

    const fn name(self, at: usize) -> &'static str {
        if at < self.start {
            "earlier"
        } else if at < self.first {
            "before"
        } else if at < self.last {
            "among"
        } else if at < self.end {
            "behind"
        } else {
            "later"
        }
    }
}

fn ends_sentence(token: &Token) -> bool {
    matches!(
        token.kind,
        Kind::Mark(Mark::Stop | Mark::Bang | Mark::Question | Mark::Line | Mark::Semicolon)
    )
}

/// What a word may stand for, as far as it says whose set is told of, and when.
const ROLES: [(&str, Roles); 17] = [
    ("other", Roles::OTHER),
    ("intent", Roles::INTENT),
    ("past", Roles::PAST),
    ("thought", Roles::HYPO),
    ("denied", Roles::NEG),
    ("trade", Roles::TRADE),
    ("measure", Roles::MEASURE),
    ("who", Roles::WHO),
    ("did", Roles::DID),
    ("movement", Roles::MOVE),
    ("variant", Roles::VARIANT),
    ("plan", Roles::PLAN),
    ("rowing", Roles::ROWING),
    ("person", Roles::PERSON),
    ("harmless", Roles::FILL),
    ("known", Roles::KNOWN),
    ("pain", Roles::PAIN),
];

/// So many words beside names and numbers leave a message bare.
const FEW_WORDS: usize = 2;

/// Counts of words are told apart up to here.
const MOST_COUNTED: usize = 8;

/// The features of a message, each once.
fn features(scan: &Scan<'_>, items: &[Spanned]) -> Vec<u32> {
    let zones = Zones::of(scan, items);
    let mut row: Vec<&str> = Vec::with_capacity(scan.tokens.len());
    let mut shape: Vec<&str> = Vec::new();
    let mut out = Vec::with_capacity(8 * scan.tokens.len());
    let (mut words, mut strangers) = (0_usize, 0_usize);
    // Beside bare numbers one word says all: `squat 100x5 later`.
    let mut alone = Vec::new();
    for spanned in items {
        let zone = zones.map_or("none", |zones| zones.name(spanned.from));
        shape.extend(shape_of(&spanned.item));
        match phrase(&spanned.item) {
            Some(phrase) => row.push(phrase),
            None => row.extend((spanned.from..spanned.to).map(|at| symbol(scan, at))),
        }
        if matches!(spanned.item, Item::Name(_)) {
            out.push(gram(&["zone", zone, "name"]));
            continue;
        }
        for at in spanned.from..spanned.to {
            let Some(token) = scan.token(at) else {
                continue;
            };
            if token.kind == Kind::Word || matches!(token.kind, Kind::Mark(_)) {
                out.push(gram(&["zone", zone, symbol(scan, at)]));
                alone.push(gram(&["alone", zone, symbol(scan, at)]));
            }
            if token.kind != Kind::Word || !stands_alone(&spanned.item) {
                continue;
            }
            words += 1;
            let roles = ROLES.iter().filter(|(_, role)| token.word.roles.any(*role));
            for (name, _) in roles {
                out.push(gram(&["role", zone, name]));
                alone.push(gram(&["alone role", zone, name]));
            }
            if !token.word.roles.any(Roles::FILL) {
                strangers += 1;
                out.push(gram(&["role", zone, "stranger"]));
            }
            if token.possessive {
                out.push(gram(&["role", zone, "owner"]));
            }
        }
    }
    if words <= FEW_WORDS {
        out.append(&mut alone);
    }
    for length in 1..=2 {
        out.extend(row.windows(length).map(gram));
    }
    for length in 1..=3 {
        let shapes = shape.windows(length);
        out.extend(shapes.map(|shapes| gram(&["shape", &shapes.concat()])));
    }
    for (what, count) in [("words", words), ("strangers", strangers)] {
        out.push(gram(&[what, &count.min(MOST_COUNTED).to_string()]));
    }
    if zones.is_some_and(|zones| scan.is(zones.end, Mark::Question)) {
        out.push(gram(&["asked", ""]));
    }
    out.sort_unstable();
    out.dedup();
    out
}

/// A phrase that is learned as one, whatever its words are.
const fn phrase(item: &Item) -> Option<&'static str> {
    match item {
        Item::Name(_) => Some("<name>"),
        Item::Effort(_) => Some("<effort>"),
        Item::Rest(_) => Some("<rest>"),
        Item::Day(_) => Some("<day>"),
        _ => None,
    }
}

/// What an item adds to the shape of a message.
fn shape_of(item: &Item) -> Option<&'static str> {
    match item {
        Item::Num(num) if num.is_load() => Some("L"),
        Item::Num(num) if num.value > 20.0 => Some("B"),
        Item::Num(_) => Some("n"),
        Item::Times => Some("x"),
        Item::Name(_) => Some("N"),
        Item::Effort(_) => Some("E"),
        Item::Foreign => Some("F"),
        _ => None,
    }
}

/// Whether the words of an item stand for themselves.
const fn stands_alone(item: &Item) -> bool {
    matches!(
        item,
        Item::Word | Item::More | Item::Every | Item::Of | Item::For | Item::With | Item::And
    )
}

/// A token as it is learned: a word itself, a number by its size.
fn symbol<'m>(scan: &Scan<'m>, at: usize) -> &'m str {
    let Some(token) = scan.token(at) else {
        return "";
    };
    let next = scan.token(at + 1);
    let unit = |token: &Token| matches!(token.word.w, W::Kg | W::Lb | W::K);
    match token.kind {
        // `I've got bench 80x8 today` is to come, `I got bench 80x8 today` is done.
        Kind::Word if scan.short_have(at) && token.word.w == W::I => "ive",
        Kind::Word => scan.text_at(at),
        Kind::Number if next.is_some_and(unit) => "#load",
        Kind::Number if token.value <= 5.0 => "#5",
        Kind::Number if token.value <= 20.0 => "#20",
        Kind::Number if token.value < 40.0 => "#40",
        Kind::Number => "#more",
        Kind::Clock => "#clock",
        Kind::Date => "#date",
        Kind::Mark(mark) => match mark {
            Mark::Times => "*",
            Mark::At => "@",
            Mark::Plus => "+",
            Mark::Minus => "-",
            Mark::Comma => ",",
            Mark::Stop => ".",
            Mark::Colon => ":",
            Mark::Slash => "/",
            Mark::Line => "line",
            Mark::Question => "?",
            Mark::Bang => "!",
            Mark::Open => "(",
            Mark::Close => ")",
            Mark::Money => "money",
            Mark::Percent => "%",
            _ => "mark",
        },
    }
}
