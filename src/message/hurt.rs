//! Pain and warning signs, apart from effort and soreness.
//!
//! Only what is told as happening to the writer now: somebody else's, an old, a denied or a feared
//! pain is chatter. A sign that calls for medical help is marked as a red flag.
//! `told` is a clause with its places, `whose` tells whose hurt it is, `sign` finds warning signs
//! and `pain` the rest; the words they look for stand in `lexicon`.
//!
//! Source of the signs: ACSM's Guidelines for Exercise Testing and Prescription (signs and
//! symptoms); Finucane LM et al. 2020, J Orthop Sports Phys Ther 50(7):350-372 (spine); PAR-Q+
//! (loss of consciousness); general medical teaching on muscle breakdown, sudden headache and
//! numbness of one side. All from memory, as listed for the project.

mod pain;
mod place;
mod sign;
mod told;
mod whose;

use super::clause::Clause;
use super::item::{Item, Spanned};
use super::lexicon::pain::{DENIES, JOKES, OVER};
use super::reading::Hurt;
use super::scan::Scan;
use super::token::Mark;
use super::vocabulary::{Roles, W};
use told::Told;
use whose::Teller;

/// The places on the body that words name, in their order.
pub(crate) fn places_in(words: &str) -> Vec<crate::domain::body::Place> {
    place::places(words)
}

/// The first hurt that the message tells.
pub(super) fn hurt(scan: &Scan<'_>, items: &[Spanned], clauses: &[Clause]) -> Option<Hurt> {
    let joke = is_joke(scan);
    let all: Vec<Told> = clauses
        .iter()
        .map(|clause| Told::new(scan, items, clause, joke))
        .collect();
    // Each is looked at once, and not again for every other.
    let tellers: Vec<Teller> = all.iter().filter_map(Told::as_teller).collect();
    let (told, mut found) = all
        .iter()
        .filter(|told| !told.is_of_others(&tellers))
        .find_map(|told| Some((told, told.hurt()?)))?;
    if found.body.is_none() {
        // `my left knee doesn't feel right, sharp pain`: the place stands in the next clause.
        found.body = all
            .iter()
            .filter(|other| other.clause.sentence == told.clause.sentence)
            .find_map(Told::first_place);
    }
    found.places = found.body.as_deref().map(place::places).unwrap_or_default();
    found.exercise = items.iter().find_map(|spanned| match spanned.item {
        Item::Name(exercise) => Some(exercise),
        _ => None,
    });
    Some(found)
}

/// Laughter anywhere in the message.
fn is_joke(scan: &Scan<'_>) -> bool {
    scan.says(JOKES) || scan.tokens.iter().any(|token| token.is(Mark::Laugh))
}

impl Told<'_> {
    fn hurt(&self) -> Option<Hurt> {
        self.loss().or_else(|| {
            (!self.is_denied())
                .then(|| self.sign().or_else(|| self.pain()))
                .flatten()
        })
    }

    /// `no pain`, `doesn't hurt`, `pain free`, `pain's gone`.
    fn is_denied(&self) -> bool {
        // `sharp pain in my elbow and no, not from the beer` denies no pain.
        let last = self.tokens().rev().find(|&at| {
            self.token(at, |t| {
                t.word.w == W::Symptom || t.word.roles.any(Roles::PAIN)
            })
        });
        let reach = last.map_or(self.clause.to, |last| self.clause.to.min(last + 4));
        let deny = (self.clause.from..reach)
            .any(|at| matches!(self.w(at), W::No | W::Not) || self.is_one(at, DENIES));
        let good_now = self.bag.has(W::Good)
            && !self.bag.any(&[W::Not, W::No])
            && self.bag.any(&[W::Now, W::Again, W::Fully]);
        // `not good` and `not right` beside a pain deny nothing.
        let denies_good = self.tokens().any(|at| {
            matches!(self.w(at), W::Not | W::No | W::Feel)
                && matches!(self.w(at + 1), W::Good | W::Right)
        });
        self.says(OVER) || good_now || deny && !denies_good
    }
}
