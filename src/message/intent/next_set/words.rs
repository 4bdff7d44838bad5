//! The words that the next set is told with, as one table of phrases.

use std::sync::LazyLock;

use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::mass::Unit;
use crate::message::reading::SetReading;
use crate::message::words::variants::variants;

/// With what the sets were done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NextLoad {
    /// The load before.
    Same,
    /// So much more or less.
    Change(f64, Option<Unit>),
    /// This load; the one of each hand where that is said.
    To(f64, Option<Unit>, bool),
    /// A share of the one before.
    Share(f64),
    /// The body alone.
    Body,
}

/// A word, a number or what parts them.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Token {
    Word(String),
    Number(Number),
    /// A comma, a full stop, a dash or the like; what follows begins at this byte.
    Part(usize),
}

/// A number as it is written.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Number {
    pub value: f64,
    pub unit: Option<Unit>,
    /// `x9`.
    pub times: bool,
    /// `7th`.
    pub ordinal: bool,
    /// `26s`.
    pub many: bool,
    /// `70%`.
    pub percent: bool,
    /// `45sec`, `1 min`, as seconds.
    pub time: bool,
    /// `+2.5`, `-5`: 1 or -1, else 0.
    pub sign: f64,
}

/// What one phrase says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Phrase {
    /// Only sets are told so.
    Mark,
    /// It leaves open whether a set is told.
    Doubt,
    Filling,
    /// Like the set before.
    Same,
    Round,
    Load(NextLoad),
    SameLoad,
    /// Repetitions, and whether that is said.
    Reps(f64, bool),
    /// Failed, with so many done.
    Failed(f64),
    /// No repetition with this load.
    Attempt(NextLoad),
    Seconds(f64),
    /// So many more sets, and whether only that can be meant.
    Sets(u32, bool),
    /// So many sets, of which the repetitions follow.
    Listed(u32),
    /// So many in reserve.
    Left(f64),
}

/// What a phrase with a number makes of it.
#[derive(Clone, Copy)]
enum Rule {
    Mark,
    Same,
    Round,
    More,
    /// `2.5 more`, `5kg more`: of a load, since nobody does half a set.
    MoreLoad,
    Less,
    To,
    Hand,
    Share,
    Body,
    FailedAt,
    FailedOn,
    Sets,
    SetsPerhaps,
    SetsInAll,
    Listed,
    OneMore,
    /// `100 no go`: no repetition with that load.
    Attempt,
    /// `drop x10`: the next part of a drop set.
    DropReps,
    Left,
    Place,
}

/// A load that failed is no smaller share of the one before.
const LEAST_ATTEMPT: f64 = 0.8;

/// Phrases, `#` for a number: of those that begin alike the longest holds.
const PHRASES: &[(Rule, &str)] = &[
    (
        Rule::Mark,
        "again, same weight|load ?but, same ?again but, another ?one|set, got another, one more ?set, once more, \
         next|final|last one|set, this one|set|time, that time, then, got, hit, managed, squeezed ?out, \
         ground|grinded|cranked|eked|forced|pushed|banged|repped out, could only get|do|manage, ended up with",
    ),
    (Rule::Same, "same ?again, the same"),
    (Rule::OneMore, "did another ?one"),
    (Rule::Place, "set # ?was"),
    (
        Rule::Round,
        "round #, next|last|another round, ?second|third time through",
    ),
    (
        Rule::Less,
        "# less|lighter|off, took|take|stripped # off, ?went|came down #, dropped|minus #",
    ),
    (
        Rule::More,
        "# more on, plus #, # heavier, ?went up #, added ?another #, put|threw|stuck ?another # on, put # more on, \
         put|threw on ?another #, stuck on another #, bumped ?up #",
    ),
    (Rule::MoreLoad, "# more"),
    (
        Rule::To,
        "dropped|went|back|lower|lowered to #, ?went|back down|up to #",
    ),
    // With what the next set is to be done.
    (
        Rule::To,
        "gonna|ill|lets try|do|go ?to|for|at|with #, going to try|do|use #, going ?for|with|to #, going ?back down|up to #, \
         trying|attempting #, next|this one|set at|with|is #, next at|with|is #, # now, # next, now #, loaded ?up #, \
         putting # on, one more at|with #, drop|dropping to #",
    ),
    (
        Rule::Less,
        "dropping|taking|stripping # ?off, going|coming down #",
    ),
    (Rule::More, "adding ?another # ?more ?on, going up #"),
    (Rule::Hand, "# each ?hand"),
    (Rule::Share, "#%, #% of that"),
    (Rule::Body, "bw|bodyweight, body weight"),
    (Rule::FailedAt, "stuck|died|failed at #"),
    (
        Rule::FailedOn,
        "stuck|died|failed|pinned on #, missed|failed #",
    ),
    (Rule::Sets, "did # more ?sets, did # more of those|them"),
    (
        Rule::SetsPerhaps,
        "# more of those|them, # more sets, # more ?at same, # more ?sets like that, another # sets, \
         another # like that, did another #, finished other|last # sets, other # sets",
    ),
    (
        Rule::Listed,
        "next|last # ?sets ?were, final # sets, other #",
    ),
    (Rule::SetsInAll, "that was # sets, did that # times"),
    (Rule::DropReps, "drop #"),
    (
        Rule::Attempt,
        "# no go|lift, # nope|miss|missed|fail|failed, # stapled|buried me, # didnt|wouldnt move, # didnt go up, \
         failed ?at|on #, missed # ?lift, tried # ?and failed, tried # no go, tried # missed, couldnt lift|get #, \
         no go at|on #, no luck with #",
    ),
    (Rule::Left, "left #, # left"),
];

/// The same with every way to say each, as words.
static SPELT_OUT: LazyLock<Vec<(Vec<String>, Rule)>> = LazyLock::new(|| {
    let words = |phrase: String| phrase.split(' ').map(str::to_owned).collect();
    let rows = PHRASES.iter();
    rows.flat_map(|(rule, list)| variants(list).map(move |phrase| (words(phrase), *rule)))
        .collect()
});

/// Words that are harmless beside a set.
const FILLING: &str = "i the a an it that there me my at with of to for but kilos was were felt is on reps rep \
    so just now btw ok okay phew lol haha damn man um ugh argh oof wow nice sadly well and & weight set ones \
    only barely maybe reps! finish easily today time heavy solid good clean ugly make";

/// Words of those that leave a number beside them open: `only 6`, `and 6`.
const OPEN: &str = "made";

/// Numbers in words.
const SPELT: [&str; 12] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// Places in words.
const ORDINALS: [&str; 8] = [
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth",
];

/// Words that join what was done, and say no more than that a set was.
const VERBS: &str = "grabbed used took did got went";

/// A text as words and numbers.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::new();
    let mut at = 0;
    let mut sign = 0.0;
    let bytes = text.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    while let Some(c) = text.get(at..).and_then(|rest| rest.chars().next()) {
        let end = at + c.len_utf8();
        let of_word = |c: char| c.is_alphanumeric() || matches!(c, '\'' | '’' | '%');
        if of_word(c) || c == '&' {
            let mut to = end;
            while let Some(next) = text.get(to..).and_then(|rest| rest.chars().next()) {
                let decimal = matches!(next, '.' | ',') && digit(to - 1) && digit(to + 1);
                // `7x8` is two.
                let crossed =
                    matches!(next, 'x' | 'X' | '×') && digit(to - 1) && digit(to + next.len_utf8());
                if !(of_word(next) || decimal) || crossed {
                    break;
                }
                to += next.len_utf8();
            }
            push(&mut out, &text[at..to]);
            if let Some(Token::Number(number)) = out.last_mut() {
                number.sign = std::mem::take(&mut sign);
            }
            at = to;
            continue;
        }
        // `+2.5 x8`, `-5 x10`; between numbers it parts them.
        let led = text[..at]
            .chars()
            .next_back()
            .is_none_or(char::is_whitespace);
        let opens = led && digit(end) && !matches!(out.last(), Some(Token::Number(_)));
        let signed = match c {
            '+' if opens => 1.0,
            '-' | '−' | '–' if opens => -1.0,
            _ => 0.0,
        };
        if signed == 0.0 && !c.is_whitespace() {
            out.push(Token::Part(end));
        }
        sign = signed;
        at = end;
    }
    join_units(out)
}

fn push(out: &mut Vec<Token>, word: &str) {
    let low: String = word
        .to_lowercase()
        .chars()
        .filter(|c| !matches!(c, '\'' | '’'))
        .collect();
    let digits = low.trim_start_matches(['x', '×']);
    let times = digits.len() < low.len();
    let end = digits
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .unwrap_or(digits.len());
    let (number, behind) = digits.split_at(end);
    let value = number.replace(',', ".").parse::<f64>().ok();
    let spelt = SPELT.iter().zip(1u32..).find(|(spelt, _)| **spelt == low);
    let ordinal = ORDINALS
        .iter()
        .zip(1u32..)
        .find(|(spelt, _)| **spelt == low);
    let plain = |value: f64| Number {
        value,
        times,
        ..Number::default()
    };
    let number = match (value, behind) {
        (Some(value), "") => plain(value),
        (Some(value), "kg" | "kgs" | "kilos") => Number {
            unit: Some(Unit::Kg),
            ..plain(value)
        },
        (Some(value), "lb" | "lbs") => Number {
            unit: Some(Unit::Lb),
            ..plain(value)
        },
        (Some(value), "s") => Number {
            many: true,
            ..plain(value)
        },
        (Some(value), "%") => Number {
            percent: true,
            ..plain(value)
        },
        (Some(value), "sec" | "secs") => Number {
            time: true,
            ..plain(value)
        },
        (Some(value), "min" | "mins") => Number {
            time: true,
            ..plain(value * 60.0)
        },
        (Some(value), "st" | "nd" | "rd" | "th") => Number {
            ordinal: true,
            ..plain(value)
        },
        (None, _) if ordinal.is_some() => Number {
            ordinal: true,
            ..plain(ordinal.map_or(0.0, |(_, value)| f64::from(value)))
        },
        (None, _) if spelt.is_some() && low != "one" => {
            plain(spelt.map_or(0.0, |(_, value)| f64::from(value)))
        }
        _ => {
            out.push(Token::Word(low));
            return;
        }
    };
    out.push(Token::Number(number));
}

/// Units that stand as words of their own behind their numbers.
fn join_units(read: Vec<Token>) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::new();
    for token in read {
        if let (Some(Token::Number(number)), Token::Word(word)) = (out.last_mut(), &token) {
            match word.as_str() {
                "kg" | "kgs" | "kilo" | "kilos" => {
                    number.unit = Some(Unit::Kg);
                    continue;
                }
                "lb" | "lbs" | "pounds" => {
                    number.unit = Some(Unit::Lb);
                    continue;
                }
                "sec" | "secs" | "seconds" => {
                    number.time = true;
                    continue;
                }
                "min" | "mins" | "minute" => {
                    (number.time, number.value) = (true, number.value * 60.0);
                    continue;
                }
                _ => {}
            }
        }
        out.push(token);
    }
    out
}

/// The phrase that begins at `at`, and the token after it.
pub(super) fn phrase_at(read: &[Token], at: usize, last: &SetReading) -> Option<(Phrase, usize)> {
    let found = (SPELT_OUT.iter())
        .filter_map(|(phrase, rule)| {
            let (number, to) = stands(read, at, phrase)?;
            Some((said(*rule, number, read, to, last)?, to))
        })
        .max_by_key(|(_, to)| *to);
    found.or_else(|| one(read, at, last))
}

/// Whether a phrase stands at `at`; its number, and the token after it. Harmless words may stand between its own.
fn stands(read: &[Token], at: usize, phrase: &[String]) -> Option<(Option<Number>, usize)> {
    let (mut number, mut at) = (None, at);
    for (place, word) in phrase.iter().map(String::as_str).enumerate() {
        while place > 0
            && matches!(read.get(at), Some(Token::Word(own)) if own != word && matches!(own.as_str(), "it" | "the" | "a" | "by" | "my"))
        {
            at += 1;
        }
        match (word, read.get(at)?) {
            ("#", Token::Number(found)) if !found.percent => number = Some(*found),
            ("#%", Token::Number(found)) if found.percent => number = Some(*found),
            (word, Token::Word(own)) if own == word => {}
            // `second time through`
            (word, Token::Number(found))
                if found.ordinal
                    && ORDINALS
                        .get(place_of(found))
                        .is_some_and(|own| *own == word) => {}
            _ => return None,
        }
        at += 1;
    }
    Some((number, at))
}

fn place_of(number: &Number) -> usize {
    (0..ORDINALS.len())
        .find(|at| {
            u32::try_from(at + 1).is_ok_and(|place| (f64::from(place) - number.value).abs() < 1e-9)
        })
        .unwrap_or(usize::MAX)
}

fn said(
    rule: Rule,
    number: Option<Number>,
    read: &[Token],
    to: usize,
    last: &SetReading,
) -> Option<Phrase> {
    let plain = number.filter(|number| !number.ordinal && !number.times && !number.time);
    let count = || {
        let value = plain
            .filter(|number| number.unit.is_none() && !number.many)?
            .value;
        (1..=9u32).find(|count| (f64::from(*count) - value).abs() < 1e-9)
    };
    let load = |number: Number, sign: f64| {
        Phrase::Load(NextLoad::Change(number.value * sign, number.unit))
    };
    Some(match rule {
        Rule::Mark => Phrase::Mark,
        Rule::Same => Phrase::Same,
        Rule::Round => Phrase::Round,
        Rule::More => load(plain.filter(|number| !number.many)?, 1.0),
        Rule::MoreLoad => {
            let of_load = |number: &Number| number.unit.is_some() || number.value.fract() > 0.0;
            load(plain.filter(of_load)?, 1.0)
        }
        Rule::Less => load(plain.filter(|number| !number.many)?, -1.0),
        Rule::To => Phrase::Load(NextLoad::To(plain?.value, plain?.unit, false)),
        Rule::Hand => Phrase::Load(NextLoad::To(plain?.value, plain?.unit, true)),
        Rule::Share => Phrase::Load(NextLoad::Share(number?.value / 100.0)),
        Rule::Body => Phrase::Load(NextLoad::Body),
        Rule::DropReps => Phrase::Reps(number.filter(|number| number.times)?.value, true),
        Rule::Attempt => {
            let number = plain.filter(|number| !number.many)?;
            let unit = number.unit.unwrap_or(last.load.unit);
            let near = last.load.mass.amount(unit) * LEAST_ATTEMPT;
            // `failed 8` is of the repetitions.
            (number.value >= near && near > 0.0 && number.value > f64::from(last.reps)).then_some(
                Phrase::Attempt(NextLoad::To(number.value, number.unit, false)),
            )?
        }
        Rule::FailedAt => Phrase::Failed(plain?.value),
        Rule::FailedOn => Phrase::Failed(number.filter(|number| number.ordinal)?.value - 1.0),
        Rule::Listed => Phrase::Listed(count()?),
        Rule::OneMore => Phrase::Sets(1, false),
        Rule::Sets => Phrase::Sets(count()?, true),
        Rule::SetsPerhaps => Phrase::Sets(count()?, false),
        Rule::SetsInAll => Phrase::Sets(count()?.checked_sub(1).filter(|more| *more > 0)?, false),
        Rule::Left => {
            // `3 left` by itself is of the set before.
            (number?.unit.is_none() && plain?.value <= 5.0 && (to > 2 || read.len() > to))
                .then_some(())?;
            Phrase::Left(plain?.value)
        }
        Rule::Place => Phrase::Mark,
    })
}

/// One word or number by itself.
fn one(read: &[Token], at: usize, last: &SetReading) -> Option<(Phrase, usize)> {
    let is = |list: &str, word: &str| list.split_whitespace().any(|known| known == word);
    let word = |at: usize| match read.get(at) {
        Some(Token::Word(word)) => word.as_str(),
        _ => "",
    };
    match read.get(at)? {
        Token::Word(own) if own == "twice" => Some((Phrase::Sets(1, false), at + 1)),
        Token::Word(own) if is(OPEN, own) => Some((Phrase::Doubt, at + 1)),
        Token::Word(own) if is(FILLING, own) || is(VERBS, own) => Some((Phrase::Filling, at + 1)),
        Token::Word(_) | Token::Part(_) => None,
        Token::Number(number) => {
            // `3rd: 6`, `third one 4`, `second set was 4`
            if number.ordinal {
                let led = matches!(word(at + 1), "one" | "set");
                let parted = matches!(read.get(at + 1), Some(Token::Part(_)));
                return (led || parted).then_some((Phrase::Mark, at + 1 + usize::from(led)));
            }
            if number.time || number.many && last.seconds.is_some() {
                return Some((Phrase::Seconds(number.value), at + 1));
            }
            if number.percent {
                return None;
            }
            // What hangs on the body is told whole: `+10` on dips.
            if number.sign != 0.0 {
                let hangs = matches!(
                    last.load.basis,
                    Basis::Added | Basis::Assisted | Basis::Body
                );
                let by = NextLoad::Change(number.value * number.sign, number.unit);
                return (!hangs).then_some((Phrase::Load(by), at + 1));
            }
            let load = |per_hand: bool| NextLoad::To(number.value, number.unit, per_hand);
            if number.unit.is_some() || number.many || number.value.fract() > 0.0 {
                return Some((Phrase::Load(load(number.many)), at + 1));
            }
            // `80 again`, `82.5x6`
            let before = last.load.mass.amount(last.load.unit);
            let is_load = (number.value - before).abs() < 1e-9 && number.value > 0.0;
            let crossed = matches!(read.get(at + 1), Some(Token::Number(next)) if next.times);
            if crossed {
                return Some((Phrase::Load(load(false)), at + 1));
            }
            let more = matches!(word(at + 1), "again" | "once" | "more" | "for");
            let later = read
                .iter()
                .skip(at + 1)
                .any(|token| matches!(token, Token::Number(_)));
            if is_load && more && later {
                return Some((Phrase::SameLoad, at + 1));
            }
            let counted = number.times || matches!(word(at + 1), "reps" | "rep");
            Some((Phrase::Reps(number.value, counted), at + 1))
        }
    }
}
