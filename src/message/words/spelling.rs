//! Slips of the keyboard in exercise names: `benhc`, `inclien bench`, `sqaut`.
//!
//! A slip is mended only in a message with numbers, and only when what it mends to names one
//! exercise and no other. An ordinary word of chat is taken for a slip only beside words of names
//! with which it makes a longer name: `able curl` is a cable curl, `12 wings` are no swings.

use super::names::{NameIndex, is_name_word};
use super::token::{Kind, Mark, Token, Tokens};
use super::vocabulary::{Roles, W, Word};

/// Words looked at in one message: slips are rare, long chat is not.
const MOST: usize = 4;

/// Mends slips in place. Returns whether it did.
pub(crate) fn mend(tokens: &mut Tokens, names: &NameIndex) -> bool {
    if !tokens.list.iter().any(|t| t.kind == Kind::Number) || !tokens.list.iter().any(is_suspect) {
        return false;
    }
    let named = (0..tokens.list.len()).any(|at| names.exercise_at(&tokens.list, at).is_some());
    let mut looked = 0;
    let mut mended = false;
    for at in 0..tokens.list.len() {
        let Some(token) = tokens.list.get(at).filter(|t| is_suspect(t)) else {
            continue;
        };
        let beside = beside_name_word(tokens, at);
        let alone = is_no_word(token) && !named;
        if !(alone || beside) {
            continue;
        }
        looked += 1;
        if looked > MOST {
            break;
        }
        // A short or an ordinary word needs its neighbours to make a name of it.
        let least = if is_no_word(token) { 1 } else { 2 };
        if let Some(word) = correction(tokens, names, at, least) {
            tokens.list[at].word = word;
            mended = true;
        }
    }
    mended
}

/// A word of four letters or more that is in no list.
fn is_no_word(token: &Token) -> bool {
    token.word == Word::UNKNOWN && token.end - token.start >= 4
}

/// Whether a word may be a slip at all: it is in no list, or says something of the message but no more, such as the
/// `able` of `able curl` and the `old` of `dip old`.
fn is_suspect(token: &Token) -> bool {
    token.kind == Kind::Word
        && token.word.w == W::None
        && token.word.symbol == 0
        && token.end - token.start >= 3
}

/// Whether the word stands next to a word of names: `inclien bench`, `lat puldown`.
fn beside_name_word(tokens: &Tokens, at: usize) -> bool {
    let is = |at: Option<usize>| {
        at.and_then(|at| tokens.list.get(at))
            .is_some_and(is_name_word)
    };
    let after = tokens
        .list
        .get(at + 1)
        .map_or(at + 1, |t| if t.is(Mark::Minus) { at + 2 } else { at + 1 });
    is(at.checked_sub(1)) || is(Some(after))
}

/// The one word that makes a name, of `least` tokens or more, of the words around the slip.
fn correction(tokens: &Tokens, names: &NameIndex, at: usize, least: usize) -> Option<Word> {
    let slip = tokens.list.get(at)?;
    let candidates = names.corrections(tokens.text_of(slip));
    let mut found = None;
    let mut list: Vec<_> = tokens
        .list
        .get(at.saturating_sub(8)..(at + 9).min(tokens.list.len()))?
        .to_vec();
    let place = at - at.saturating_sub(8);
    for word in candidates {
        list.get_mut(place)?.word = word;
        let Some((exercise, length)) = covering(&list, names, place) else {
            continue;
        };
        // Many words are one slip from one of four letters.
        if length < least || length < 2 && names.is_short(word) {
            continue;
        }
        match found {
            Some((_, other, _)) if other == exercise => {}
            Some((_, _, best)) if best > length => {}
            Some((_, _, best)) if best == length => return None,
            _ => found = Some((word, exercise, length)),
        }
    }
    let (mut word, _, _) = found?;
    // A mended word is no grammar word: `lfet` does not become an effort.
    word.w = W::None;
    word.roles = word.roles.with(Roles::NAME);
    Some(word)
}

/// The longest name that covers `place`.
fn covering(
    list: &[Token],
    names: &NameIndex,
    place: usize,
) -> Option<(crate::domain::quantities::id::ExerciseId, usize)> {
    let parts = (0..place)
        .rev()
        .take_while(|&at| list.get(at).is_some_and(|t| names.may_stand(t)));
    std::iter::once(place)
        .chain(parts)
        .filter_map(|from| {
            let found = names.exercise_at(list, from)?;
            (found.to > place).then_some((found.id, found.to - from))
        })
        .min_by_key(|(_, length)| std::cmp::Reverse(*length))
}
