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

pub(super) use assemble::Assembled;
pub(super) use shape::{Columns, columns, is_rule};

use super::{FaultKind, Language};

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
        && let Some(apart) = supersets_apart(text, language)
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

/// Whether a line says that its repetitions stand before its sets: `reps x sets`, `reps first, then sets`.
fn says_reps_first(tokens: &[lex::Token]) -> bool {
    let find = |words: &[&str]| {
        tokens
            .iter()
            .position(|token| words.contains(&token.text.as_str()))
    };
    let (reps, sets) = (find(&["reps"]), find(&["sets"]));
    let near = reps
        .zip(sets)
        .filter(|(reps, sets)| reps < sets && sets - reps <= 4);
    near.is_some_and(|(reps, sets)| {
        let between = tokens.get(reps + 1..sets).unwrap_or_default();
        between.iter().all(|token| {
            matches!(
                token.text.as_str(),
                "x" | "by" | "first" | "then" | "," | "/"
            )
        }) && between
            .iter()
            .any(|token| matches!(token.text.as_str(), "x" | "by" | "first"))
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
    let (tokens, later) = shape::first_week(text, all);
    let scan = facts::Scan {
        reps_first: says_reps_first(&tokens),
        ..facts::Scan::new(&tokens, language.names)
    };
    let mut assembled = assemble::assemble(text, &tokens, &scan.facts(), language)?;
    assembled.keep(&later);
    Ok(assembled)
}
