//! Lines of a plan as coaches write them, in no fixed order.
//!
//! A line is cut into tokens (`lex`); rows of tables and weeks of a progression are put into the
//! order of a sentence (`shape`); what its parts say is found (`facts`) and put together to exercises
//! (`assemble`). What is clear becomes an item, words are kept with it, and a number that fits
//! nowhere, a movement that is not known or a load of two readings is a fault that quotes the line.

mod assemble;
mod clauses;
mod counts;
mod details;
mod effort;
mod facts;
mod finish;
mod lex;
mod numbers;
mod said;
mod shape;
mod words;

use crate::message::words::variants::has;
pub(super) use assemble::Assembled;
pub(super) use shape::{Columns, columns, is_rule};

use super::{FaultKind, Language};
use crate::domain::coaching::plan::Seconds;
use crate::domain::quantities::effort::Rir;

/// The words that do not fit, and what is wrong with them.
pub(super) type Misfit = (String, FaultKind);

/// A line with its label, if it bears one.
#[derive(Clone, Debug)]
pub(super) struct Labelled {
    /// `A` of `A1.`: those of one letter with numbers are done in turn.
    pub group: Option<char>,
    pub read: Result<Assembled, Misfit>,
}

impl Labelled {
    /// Whether all of it is understood.
    pub(super) fn is_sound(&self) -> bool {
        self.read.as_ref().is_ok_and(|read| read.faults.is_empty())
    }
}

/// The weeks behind the first from which on a line holds something else, counted from 1.
pub(super) fn week_starts(line: &str) -> Vec<u32> {
    let weeks = shape::weeks(line).unwrap_or_default();
    weeks.into_iter().map(|(week, _)| week).skip(1).collect()
}

/// Reads a line as it is in this week, from 1; it may hold several labelled parts (`A1 … A2 …`).
/// `columns` are those of the table that it may be a row of.
pub(super) fn read(
    line: &str,
    columns: Option<&Columns>,
    week: u32,
    language: &Language<'_>,
) -> Vec<Labelled> {
    let weeks = shape::weeks(line).unwrap_or_default();
    let of_week = weeks.iter().rfind(|(from, _)| *from <= week);
    let line = of_week.map_or(line, |(_, line)| line.as_str());
    let mut parts = shape::labelled(line);
    if let [(None, text)] = parts.as_slice()
        && let Some(apart) = supersets_apart(text, language).or_else(|| names_apart(text, language))
    {
        parts = apart.into_iter().map(|part| (None, part)).collect();
    }
    let several = parts.len() > 1;
    // The label was the first cell of its row.
    let without = columns.map(Columns::without_first);
    let columns = match parts.first() {
        Some((Some(_), _)) if columns.is_some_and(Columns::heads_labels) => without.as_ref(),
        _ => columns,
    };
    parts
        .into_iter()
        .map(|(group, text)| Labelled {
            group,
            read: match several {
                true => sentence(&text, language),
                false => sentence(&shape::row(&text, columns).unwrap_or(text), language),
            },
        })
        .collect()
}

/// The parts between semicolons, where one of them is a superset by itself and the others are whole
/// without it: `bench 3x8; curls / pushdowns superset 3x12`.
fn supersets_apart(line: &str, language: &Language<'_>) -> Option<Vec<String>> {
    let parts: Vec<&str> = line.split(';').collect();
    let mut superset = false;
    for part in &parts {
        let tokens = lex::tokens(part);
        let scan = facts::Scan::new(&tokens, language.names);
        let facts = scan.facts();
        let count = |is: fn(&facts::Fact) -> bool| facts.iter().filter(|one| is(&one.fact)).count();
        let names = count(|fact| matches!(fact, facts::Fact::Name(_)));
        if names == 0 || count(|fact| matches!(fact, facts::Fact::SetsOf(..))) == 0 {
            return None;
        }
        superset |= names > 1 && count(|fact| *fact == facts::Fact::InTurn) > 0;
    }
    (superset && parts.len() > 1).then(|| parts.into_iter().map(str::to_owned).collect())
}

/// Whether a line names an exercise.
pub(super) fn names_one(line: &str, language: &Language<'_>) -> bool {
    let tokens = lex::tokens(line);
    let scan = facts::Scan::new(&tokens, language.names);
    let facts = scan.facts();
    facts
        .iter()
        .any(|one| matches!(one.fact, facts::Fact::Name(_)))
}

/// Rounds that a line by itself announces for those below it: `3 rounds of:`.
pub(super) fn announced_rounds(line: &str, language: &Language<'_>) -> Option<u32> {
    let tokens = lex::tokens(line);
    let scan = facts::Scan::new(&tokens, language.names);
    let facts = scan.facts();
    let mut rounds = None;
    for found in &facts {
        match found.fact {
            facts::Fact::Rounds((low, high)) if low >= high => rounds = numbers::whole(low),
            facts::Fact::InTurn | facts::Fact::Colon | facts::Fact::Rest(_) => {}
            facts::Fact::Word
                if tokens
                    .get(found.from)
                    .is_some_and(|t| t.is("of") || t.is("for")) => {}
            _ => return None,
        }
    }
    rounds
}

/// A line without the sets on the way up in its middle, and these: `squat: w/u 40x5, 60x3, then 3x5 at 90 kg`.
fn without_warm_up(text: &str, tokens: &[lex::Token]) -> Option<(String, String)> {
    let is = |at: usize, word: &str| tokens.get(at).is_some_and(|token| token.is(word));
    let starts = |at: usize| {
        is(at, "warmup")
            || is(at, "w") && is(at + 1, "/") && is(at + 2, "u")
            || is(at, "warm") && (is(at + 1, "up") || is(at + 1, "-") && is(at + 2, "up"))
    };
    let from = (1..tokens.len()).find(|&at| starts(at))?;
    let to = (from..tokens.len()).find(|&at| is(at, "then"))?;
    let counts = |token: &lex::Token| matches!(token.kind, lex::Kind::Number(_));
    tokens.get(from..to)?.iter().any(counts).then_some(())?;
    let (start, end, behind) = (
        tokens.get(from)?.start,
        tokens.get(to - 1)?.end,
        tokens.get(to)?.end,
    );
    let without = format!("{}{}", text.get(..start)?, text.get(behind..)?);
    Some((
        without,
        text.get(start..end)?
            .trim_end_matches([',', ';', ' '])
            .to_owned(),
    ))
}

/// A line without sets that are not to be done, and these words: `4x5 instead of 3x8`, `3x8 (not 3x10)`, `3x5 (was 3x8)`.
fn without_other_sets(
    text: &str,
    tokens: &[lex::Token],
    language: &Language<'_>,
) -> Option<(String, String)> {
    let is = |at: usize, words: &[&str]| {
        let token = tokens.get(at);
        token.is_some_and(|token| words.iter().any(|word| token.is(word)))
    };
    let scan = facts::Scan::new(tokens, language.names);
    (0..tokens.len()).find_map(|at| {
        let behind = match at {
            at if is(at, &["instead"]) && is(at + 1, &["of"]) => at + 2,
            at if is(at, &["rather"]) && is(at + 1, &["than"]) => at + 2,
            at if is(at, &["not", "was", "previously"]) => at + 1,
            _ => return None,
        };
        let Some((facts::Fact::SetsOf(..), to)) = scan.sets(behind) else {
            return None;
        };
        let open = at > 0 && is(at - 1, &["("]) && is(to, &[")"]);
        let (first, last) = match open {
            true => (at - 1, to),
            false => (at, to - 1),
        };
        let (start, end) = (tokens.get(first)?.start, tokens.get(last)?.end);
        let words = text.get(tokens.get(at)?.start..tokens.get(to - 1)?.end)?;
        let rest = format!("{}{}", text.get(..start)?, text.get(end..)?);
        Some((rest, words.to_owned()))
    })
}

/// The exercises of a line that has nothing between them, each with its sets: `squat 3x8 bench 3x8 row 3x8`.
fn names_apart(line: &str, language: &Language<'_>) -> Option<Vec<String>> {
    use facts::Fact;
    let tokens = lex::tokens(line);
    let scan = facts::Scan::new(&tokens, language.names);
    let facts = scan.facts();
    let mut starts: Vec<usize> = Vec::new();
    let mut whole = true;
    for (place, one) in facts.iter().enumerate() {
        match &one.fact {
            Fact::Name(_) => {
                let before = place.checked_sub(1).and_then(|before| facts.get(before));
                let parted = before.is_some_and(|before| {
                    !matches!(
                        before.fact,
                        Fact::SetsOf(..) | Fact::Load(_) | Fact::Effort(_) | Fact::Rest(_)
                    )
                });
                if parted || !whole {
                    return None;
                }
                starts.push(tokens.get(one.from)?.start);
                whole = false;
            }
            Fact::SetsOf(..) => whole = true,
            Fact::Load(_) | Fact::Effort(_) | Fact::Rest(_) => {}
            _ => return None,
        }
    }
    if !whole || starts.len() < 2 || starts.first() != Some(&0) {
        return None;
    }
    starts.push(line.len());
    let parts = starts
        .windows(2)
        .map(|pair| Some(line.get(pair[0]..pair[1])?.trim().to_owned()));
    parts.collect()
}

/// What a sentence says for all exercises, of effort and rest: `2 rir for all`, `Rest 2 min between sets unless noted`,
/// `Everything @ RPE 8`. `alone` says that it stands before any exercise.
pub(super) fn for_all(line: &str, alone: bool, language: &Language<'_>) -> Option<ForAll> {
    use facts::Fact;
    const ALL: &str = "all everything every everywhere throughout unless overall default otherwise";
    // `all sets 2 rir` counts no sets.
    let mut tokens = lex::tokens(line);
    tokens.retain(|token| !token.is("sets") && !token.is("set"));
    let is_all = |token: &lex::Token| has(ALL, &token.text);
    let says_all = tokens.iter().any(is_all);
    let scan = facts::Scan::new(&tokens, language.names);
    let (mut effort, mut rest, mut words) = (None, None, 0);
    for one in scan.facts() {
        match one.fact {
            Fact::Rest(span) if rest.is_none() => rest = Some(span),
            Fact::Effort(span) if effort.is_none() => effort = Some(span),
            Fact::Comma | Fact::Stop | Fact::Colon | Fact::With => {}
            Fact::Word => words += 1,
            _ => return None,
        }
    }
    let fits = says_all || alone && words == 0;
    if !fits || words > MOST_WORDS || effort.is_none() && rest.is_none() {
        return None;
    }
    let middle = |(low, high): facts::Span| (f64::midpoint(low, high) * 2.0).round() / 2.0;
    let seconds = |(low, high): facts::Span| {
        Seconds::rest(numbers::whole(low.round())?, numbers::whole(high.round())?).ok()
    };
    let said = ForAll {
        rir: effort.and_then(|span| Rir::new(middle(span)).ok()),
        rest: rest.and_then(seconds),
    };
    (said.rir.is_some() == effort.is_some() && said.rest.is_some() == rest.is_some())
        .then_some(said)
}

/// Words beside effort and rest in such a sentence.
const MOST_WORDS: usize = 8;

/// What is said for all exercises.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct ForAll {
    pub rir: Option<Rir>,
    pub rest: Option<Seconds>,
}

/// Whether a line says that its repetitions stand before its sets: `reps x sets`, `reps first, then sets`.
fn says_reps_first(tokens: &[lex::Token]) -> bool {
    let find = |word: &str| tokens.iter().position(|token| token.is(word));
    let (reps, sets) = (find("reps"), find("sets"));
    let near = reps
        .zip(sets)
        .filter(|(reps, sets)| reps < sets && sets - reps <= 4);
    near.is_some_and(|(reps, sets)| {
        let between = tokens.get(reps + 1..sets).unwrap_or_default();
        let is = |words: &'static str| move |token: &lex::Token| has(words, &token.text);
        between.iter().all(is("x by first then , /")) && between.iter().any(is("x by first"))
    })
}

fn sentence(text: &str, language: &Language<'_>) -> Result<Assembled, Misfit> {
    let all = lex::tokens(text);
    let start: String = all
        .iter()
        .take(3)
        .map(|token| token.text.as_str())
        .collect();
    let goes_on = all.iter().any(|token| token.is("then"));
    let warm_up = ["warmup", "warm-up"]
        .iter()
        .any(|word| start.starts_with(word));
    if warm_up && !goes_on {
        // Sets on the way up are no sets of the plan.
        let mut kept = Assembled::default();
        kept.keep(text);
        return Ok(kept);
    }
    if let Some((without, way_up)) = without_warm_up(text, &all) {
        let mut kept = sentence(&without, language)?;
        kept.keep(&way_up);
        return Ok(kept);
    }
    if let Some((without, other)) = without_other_sets(text, &all, language) {
        let mut kept = sentence(&without, language)?;
        kept.keep(&other);
        return Ok(kept);
    }
    let (tokens, later) = shape::first_week(text, all);
    let scan = facts::Scan {
        reps_first: says_reps_first(&tokens),
        ..facts::Scan::new(&tokens, language.names)
    };
    let mut assembled = assemble::assemble(text, &tokens, &scan.facts(), language)?;
    assembled.keep(&later);
    Ok(assembled)
}
