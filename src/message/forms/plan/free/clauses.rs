//! A line cut into clauses: what stands together between two signs that part.

use super::facts::{Fact, Found};
use super::lex::Token;
use crate::message::words::variants::has;

/// What joins a clause to the one before it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Lead {
    Start,
    Comma,
    Stop,
    Open,
    Or,
    With,
}

/// Facts that stand together between two signs that part.
#[derive(Clone, Debug)]
pub(super) struct Clause {
    pub(super) lead: Lead,
    pub(super) facts: Vec<Found>,
    /// Whether the clause stands before a colon that heads the line.
    pub(super) head: bool,
}

/// The facts, where a name behind a word like `after` is a word, too: `4 sets of 8 after benching`.
pub(super) fn spoken_of(tokens: &[Token], found: &[Found]) -> Vec<Found> {
    let word = |one: &Found| tokens.get(one.from).map_or("", |token| token.text.as_str());
    let about = |one: Option<&Found>| {
        one.is_some_and(|one| one.fact == Fact::Word && has(ABOUT, word(one)))
    };
    let mut named = false;
    let mut out: Vec<Found> = Vec::new();
    for (at, one) in found.iter().enumerate() {
        let mut one = one.clone();
        if matches!(one.fact, Fact::Name(_)) {
            let counted =
                matches!(found.get(at + 1), Some(next) if matches!(next.fact, Fact::SetsOf(..)));
            match out.last_mut() {
                // `curls 3x12 straight into pushdowns 3x12`.
                Some(last) if counted && word(last) == "into" => last.fact = Fact::With,
                last if named && about(last.as_deref()) => one.fact = Fact::Word,
                _ => {}
            }
            named = true;
        }
        out.push(one);
    }
    out
}

/// Words before a name that is only spoken of.
pub(super) const ABOUT: &str = "\
    after before as from like into than instead same during until between";

pub(super) fn clauses(found: &[Found]) -> Vec<Clause> {
    let is_name = |found: &&Found| matches!(found.fact, Fact::Name(_));
    // A colon with every name behind it heads the line: what stands before holds for all of them.
    let head = found
        .iter()
        .position(|one| one.fact == Fact::Colon)
        .filter(|&at| {
            let (before, after) = found.split_at(at);
            !before.iter().any(|one| is_name(&one)) && after.iter().any(|one| is_name(&one))
        });
    let mut out: Vec<Clause> = Vec::new();
    let mut open = Clause {
        lead: Lead::Start,
        facts: Vec::new(),
        head: head.is_some(),
    };
    for (at, one) in found.iter().enumerate() {
        let lead = match one.fact {
            Fact::Comma | Fact::Colon | Fact::Close => Some(Lead::Comma),
            Fact::Stop => Some(Lead::Stop),
            Fact::Open => Some(Lead::Open),
            Fact::Or => Some(Lead::Or),
            Fact::With => Some(Lead::With),
            // `leg curl 3x10 superset leg extension 3x10`.
            Fact::InTurn if open.facts.iter().any(|one| is_name(&one)) => {
                open.facts.push(one.clone());
                Some(Lead::With)
            }
            // A second count of sets begins what follows, with the load before it where the first
            // had its load before it, too.
            Fact::SetsOf(..)
                if open
                    .facts
                    .iter()
                    .any(|f| matches!(f.fact, Fact::SetsOf(..))) =>
            {
                let load = |f: &Found| matches!(f.fact, Fact::Load(_));
                let first = open
                    .facts
                    .iter()
                    .position(|f| matches!(f.fact, Fact::SetsOf(..)));
                let led = open.facts.iter().position(load) < first;
                let takes = led && open.facts.last().is_some_and(load);
                let load = takes.then(|| open.facts.pop()).flatten();
                let next = Clause {
                    lead: Lead::Comma,
                    facts: load.into_iter().chain([one.clone()]).collect(),
                    head: open.head,
                };
                out.push(std::mem::replace(&mut open, next));
                continue;
            }
            _ => None,
        };
        let Some(lead) = lead else {
            open.facts.push(one.clone());
            continue;
        };
        // `or, if the bench is taken, …`: the comma joins nothing of its own.
        let or = open.facts.is_empty() && open.lead == Lead::Or && lead == Lead::Comma;
        let next = Clause {
            lead: if or { Lead::Or } else { lead },
            facts: Vec::new(),
            head: head.is_some_and(|colon| at < colon),
        };
        out.push(std::mem::replace(&mut open, next));
    }
    out.push(open);
    out.retain(|clause| !clause.facts.is_empty());
    out
}
