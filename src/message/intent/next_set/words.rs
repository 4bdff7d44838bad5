//! The words that the next set is told with, as one table of phrases.

use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::mass::Unit;
use crate::message::reading::SetReading;

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
const PHRASES: &[(&str, Rule)] = &[
    ("again", Rule::Mark),
    ("same again", Rule::Same),
    ("same", Rule::Same),
    ("the same", Rule::Same),
    ("same weight", Rule::Mark),
    ("same load", Rule::Mark),
    ("same again but", Rule::Mark),
    ("same but", Rule::Mark),
    ("same weight but", Rule::Mark),
    ("another", Rule::Mark),
    ("another one", Rule::Mark),
    ("did another", Rule::OneMore),
    ("did another one", Rule::OneMore),
    ("another set", Rule::Mark),
    ("got another", Rule::Mark),
    ("one more", Rule::Mark),
    ("one more set", Rule::Mark),
    ("once more", Rule::Mark),
    ("next one", Rule::Mark),
    ("next set", Rule::Mark),
    ("final one", Rule::Mark),
    ("final set", Rule::Mark),
    ("last one", Rule::Mark),
    ("last set", Rule::Mark),
    ("this set", Rule::Mark),
    ("this one", Rule::Mark),
    ("this time", Rule::Mark),
    ("that time", Rule::Mark),
    ("then", Rule::Mark),
    ("got", Rule::Mark),
    ("hit", Rule::Mark),
    ("managed", Rule::Mark),
    ("squeezed out", Rule::Mark),
    ("squeezed", Rule::Mark),
    ("ground out", Rule::Mark),
    ("grinded out", Rule::Mark),
    ("cranked out", Rule::Mark),
    ("eked out", Rule::Mark),
    ("forced out", Rule::Mark),
    ("pushed out", Rule::Mark),
    ("banged out", Rule::Mark),
    ("repped out", Rule::Mark),
    ("could only get", Rule::Mark),
    ("could only do", Rule::Mark),
    ("could only manage", Rule::Mark),
    ("ended up with", Rule::Mark),
    ("set #", Rule::Place),
    ("set # was", Rule::Place),
    ("round #", Rule::Round),
    ("next round", Rule::Round),
    ("last round", Rule::Round),
    ("another round", Rule::Round),
    ("second time through", Rule::Round),
    ("third time through", Rule::Round),
    ("time through", Rule::Round),
    ("# less", Rule::Less),
    ("# lighter", Rule::Less),
    ("# off", Rule::Less),
    ("took # off", Rule::Less),
    ("take # off", Rule::Less),
    ("stripped # off", Rule::Less),
    ("dropped #", Rule::Less),
    ("down #", Rule::Less),
    ("went down #", Rule::Less),
    ("came down #", Rule::Less),
    ("# more on", Rule::More),
    ("# more", Rule::MoreLoad),
    ("plus #", Rule::More),
    ("minus #", Rule::Less),
    ("# heavier", Rule::More),
    ("up #", Rule::More),
    ("went up #", Rule::More),
    ("added #", Rule::More),
    ("added another #", Rule::More),
    ("put # on", Rule::More),
    ("put # more on", Rule::More),
    ("put on #", Rule::More),
    ("put another # on", Rule::More),
    ("put on another #", Rule::More),
    ("threw on #", Rule::More),
    ("threw on another #", Rule::More),
    ("threw another # on", Rule::More),
    ("stuck # on", Rule::More),
    ("stuck another # on", Rule::More),
    ("stuck on another #", Rule::More),
    ("bumped #", Rule::More),
    ("bumped up #", Rule::More),
    ("dropped to #", Rule::To),
    ("went to #", Rule::To),
    ("went down to #", Rule::To),
    ("went up to #", Rule::To),
    ("down to #", Rule::To),
    ("up to #", Rule::To),
    ("back to #", Rule::To),
    ("back down to #", Rule::To),
    ("back up to #", Rule::To),
    ("lower to #", Rule::To),
    ("lowered to #", Rule::To),
    ("# each", Rule::Hand),
    ("# each hand", Rule::Hand),
    ("#% of that", Rule::Share),
    ("#%", Rule::Share),
    ("bw", Rule::Body),
    ("bodyweight", Rule::Body),
    ("body weight", Rule::Body),
    ("stuck at #", Rule::FailedAt),
    ("died at #", Rule::FailedAt),
    ("failed at #", Rule::FailedAt),
    ("died on #", Rule::FailedOn),
    ("missed #", Rule::FailedOn),
    ("failed #", Rule::FailedOn),
    ("failed on #", Rule::FailedOn),
    ("pinned on #", Rule::FailedOn),
    ("stuck on #", Rule::FailedOn),
    ("did # more", Rule::Sets),
    ("# more of those", Rule::SetsPerhaps),
    ("# more of them", Rule::SetsPerhaps),
    ("did # more of those", Rule::Sets),
    ("did # more of them", Rule::Sets),
    ("did # more sets", Rule::Sets),
    ("# more sets", Rule::SetsPerhaps),
    ("# more same", Rule::SetsPerhaps),
    ("# more at same", Rule::SetsPerhaps),
    ("# more like that", Rule::SetsPerhaps),
    ("# more sets like that", Rule::SetsPerhaps),
    ("another # like that", Rule::SetsPerhaps),
    ("another # sets", Rule::SetsPerhaps),
    ("did another #", Rule::SetsPerhaps),
    ("finished other # sets", Rule::SetsPerhaps),
    ("finished last # sets", Rule::SetsPerhaps),
    ("other # sets", Rule::SetsPerhaps),
    ("next #", Rule::Listed),
    ("next # were", Rule::Listed),
    ("next # sets", Rule::Listed),
    ("next # sets were", Rule::Listed),
    ("last #", Rule::Listed),
    ("last # were", Rule::Listed),
    ("last # sets", Rule::Listed),
    ("last # sets were", Rule::Listed),
    ("final # sets", Rule::Listed),
    ("other #", Rule::Listed),
    ("that was # sets", Rule::SetsInAll),
    ("did that # times", Rule::SetsInAll),
    ("drop #", Rule::DropReps),
    ("# no go", Rule::Attempt),
    ("# no lift", Rule::Attempt),
    ("# nope", Rule::Attempt),
    ("# miss", Rule::Attempt),
    ("# missed", Rule::Attempt),
    ("# fail", Rule::Attempt),
    ("# failed", Rule::Attempt),
    ("# stapled me", Rule::Attempt),
    ("# buried me", Rule::Attempt),
    ("# didnt move", Rule::Attempt),
    ("# wouldnt move", Rule::Attempt),
    ("# didnt go up", Rule::Attempt),
    ("failed #", Rule::Attempt),
    ("failed at #", Rule::Attempt),
    ("failed on #", Rule::Attempt),
    ("missed #", Rule::Attempt),
    ("missed # lift", Rule::Attempt),
    ("tried # and failed", Rule::Attempt),
    ("tried # failed", Rule::Attempt),
    ("tried # no go", Rule::Attempt),
    ("tried # missed", Rule::Attempt),
    ("couldnt lift #", Rule::Attempt),
    ("couldnt get #", Rule::Attempt),
    ("no go at #", Rule::Attempt),
    ("no go on #", Rule::Attempt),
    ("no luck with #", Rule::Attempt),
    ("left #", Rule::Left),
    ("# left", Rule::Left),
];

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
    let found = PHRASES
        .iter()
        .filter_map(|(phrase, rule)| {
            let (number, to) = stands(read, at, phrase)?;
            Some((said(*rule, number, read, to, last)?, to))
        })
        .max_by_key(|(_, to)| *to);
    found.or_else(|| one(read, at, last))
}

/// Whether a phrase stands at `at`; its number, and the token after it. Harmless words may stand between its own.
fn stands(read: &[Token], at: usize, phrase: &str) -> Option<(Option<Number>, usize)> {
    let (mut number, mut at) = (None, at);
    for (place, word) in phrase.split(' ').enumerate() {
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
