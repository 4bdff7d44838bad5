//! Slips of the keyboard in exercise names: `benhc`, `inclien bench`, `sqaut`.
//!
//! A slip is mended only in a message with numbers, only where the word is no word that the
//! lexicon knows, and only when what it mends to names one exercise and no other.

use super::names::{NameIndex, is_name_word};
use super::token::{Kind, Mark, Tokens};
use super::vocabulary::{Roles, Word};

/// Words looked at in one message: slips are rare, long chat is not.
const MOST: usize = 4;

/// Mends slips in place. Returns whether it did.
pub(super) fn mend(tokens: &mut Tokens, names: &NameIndex) -> Option<()> {
    if !tokens.list.iter().any(|t| t.kind == Kind::Number) {
        return None;
    }
    let named = (0..tokens.list.len()).any(|at| names.exercise_at(&tokens.list, at).is_some());
    let mut looked = 0;
    let mut mended = None;
    for at in 0..tokens.list.len() {
        let Some(token) = tokens.list.get(at) else {
            break;
        };
        let unknown =
            token.kind == Kind::Word && token.word == Word::UNKNOWN && token.end - token.start >= 4;
        if !unknown || named && !beside_name_word(tokens, at) {
            continue;
        }
        looked += 1;
        if looked > MOST {
            break;
        }
        if let Some(word) = correction(tokens, names, at) {
            tokens.list[at].word = word;
            mended = Some(());
        }
    }
    mended
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

/// The one word that makes a name of the words around the slip.
fn correction(tokens: &Tokens, names: &NameIndex, at: usize) -> Option<Word> {
    let slip = tokens.list.get(at)?;
    let candidates = names.corrections(tokens.text_of(slip));
    let mut found = None;
    let mut list: Vec<_> = tokens
        .list
        .get(at.saturating_sub(4)..(at + 5).min(tokens.list.len()))?
        .to_vec();
    let place = at - at.saturating_sub(4);
    for word in candidates {
        list.get_mut(place)?.word = word;
        let Some((exercise, length)) = covering(&list, names, place) else {
            continue;
        };
        match found {
            Some((_, other, _)) if other == exercise => {}
            Some((_, _, best)) if best > length => {}
            Some((_, _, best)) if best == length => return None,
            _ => found = Some((word, exercise, length)),
        }
    }
    let (mut word, _, _) = found?;
    // A mended word is no grammar word: `lfet` does not become an effort.
    word.w = super::vocabulary::W::None;
    word.roles = word.roles.with(Roles::NAME);
    Some(word)
}

/// The longest name that covers `place`.
fn covering(
    list: &[super::token::Token],
    names: &NameIndex,
    place: usize,
) -> Option<(crate::domain::id::ExerciseId, usize)> {
    (0..=place)
        .filter_map(|from| {
            let found = names.exercise_at(list, from)?;
            (found.to > place).then_some((found.id, found.to - from))
        })
        .max_by_key(|(_, length)| *length)
}
