//! The clauses of a message, and what words stand in each.

use super::scan::Scan;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

/// A run of tokens between marks.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Clause {
    /// First token.
    pub from: usize,
    /// Token after the last.
    pub to: usize,
    /// Counts sentences: clauses with only commas between share one.
    pub sentence: usize,
    /// The mark that ends it, if any.
    pub end: Option<Mark>,
}

/// Cuts a message into clauses; empty ones are left out.
pub(crate) fn clauses(scan: &Scan<'_>) -> Vec<Clause> {
    let mut out = Vec::with_capacity(8);
    let (mut from, mut sentence) = (0, 0);
    for at in 0..=scan.tokens.len() {
        let mark = match scan.token(at) {
            None => None,
            Some(token) => match token.kind {
                Kind::Mark(mark) if parts(scan, at, mark) => Some(mark),
                Kind::Word if token.word.w == W::But => Some(Mark::Comma),
                _ => continue,
            },
        };
        if at > from {
            out.push(Clause {
                from,
                to: at,
                sentence,
                end: mark,
            });
        } else if mark == Some(Mark::Question)
            && let Some(last) = out.last_mut()
        {
            // `how long!?` and `drop??` are questions too.
            last.end = mark;
        }
        from = at + 1;
        if mark.is_some_and(Mark::ends_sentence) {
            sentence += 1;
        }
    }
    out
}

/// Whether a mark divides clauses.
fn parts(scan: &Scan<'_>, at: usize, mark: Mark) -> bool {
    match mark {
        Mark::Colon | Mark::Open | Mark::Close => true,
        Mark::Comma => !(scan.glued(at) && scan.glued(at + 1) && scan.digits(at + 1).is_some()),
        Mark::Minus => !scan.glued(at) && !scan.glued(at + 1),
        mark => mark.ends_sentence(),
    }
}

/// Whether clauses are a remark of ordinary life behind what was said: a few words that neither
/// count, ask, plan nor speak of others. `scratch that, wrong chat` · `ready, playlist sorted`.
pub(crate) fn is_remark(scan: &Scan<'_>, clauses: &[Clause]) -> bool {
    let apart = Roles::OTHER
        .with(Roles::PLAN)
        .with(Roles::INTENT)
        .with(Roles::WHO)
        .with(Roles::MEASURE)
        .with(Roles::ROWING);
    let tokens = clauses.iter().flat_map(|c| c.from..c.to);
    let words = tokens
        .clone()
        .filter(|&at| scan.token(at).is_some_and(|token| token.kind == Kind::Word));
    words.count() <= LONGEST_REMARK
        && clauses.iter().all(|c| c.end != Some(Mark::Question))
        && tokens.filter_map(|at| scan.token(at)).all(|token| {
            let names_a_time = matches!(token.word.w, W::Weekday | W::Numeral | W::Tonight);
            match token.kind {
                Kind::Word => !token.word.roles.any(apart) && !names_a_time,
                Kind::Mark(_) => true,
                _ => false,
            }
        })
}

/// A remark of more words than this is the message itself.
const LONGEST_REMARK: usize = 8;

/// The grammar words of a clause, as a set.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Bag([u64; 4]);

impl Bag {
    /// The words from `from` up to `to`, but for tokens that `skip` names.
    pub(crate) fn of(
        scan: &Scan<'_>,
        from: usize,
        to: usize,
        skip: impl Fn(usize) -> bool,
    ) -> Self {
        let mut bag = Self::default();
        for at in (from..to).filter(|at| !skip(*at)) {
            bag.put(scan.w(at));
        }
        bag
    }

    pub(crate) fn put(&mut self, w: W) {
        let place = w as usize;
        if w != W::None
            && let Some(word) = self.0.get_mut(place / 64)
        {
            *word |= 1 << (place % 64);
        }
    }

    /// Whether it holds `w`.
    pub(crate) fn has(&self, w: W) -> bool {
        let place = w as usize;
        self.0
            .get(place / 64)
            .is_some_and(|word| word & (1 << (place % 64)) != 0)
    }

    /// Whether it holds all of `words`.
    pub(crate) fn all(&self, words: &[W]) -> bool {
        words.iter().all(|w| self.has(*w))
    }

    /// Whether it holds any of `words`.
    pub(crate) fn any(&self, words: &[W]) -> bool {
        words.iter().any(|w| self.has(*w))
    }
}

/// Whether every word from `from` up to `to` may play one of `roles`; numbers may stand where
/// `numbers` says so, and tokens that `known` names are taken as understood.
pub(crate) fn closed(
    scan: &Scan<'_>,
    (from, to): (usize, usize),
    roles: Roles,
    numbers: bool,
    known: impl Fn(usize) -> bool,
) -> bool {
    (from..to).all(|at| {
        let Some(token) = scan.token(at) else {
            return true;
        };
        match token.kind {
            Kind::Word => token.word.roles.any(roles) || known(at),
            Kind::Number | Kind::Clock | Kind::Date => numbers || known(at),
            Kind::Mark(Mark::Money | Mark::Percent) => false,
            Kind::Mark(_) => true,
        }
    })
}
