//! Lists of phrases in short: `next|last one ?was, that time`.

use std::sync::OnceLock;

/// Every phrase of a list: of `a|b` one of both words, with `?` before what may be missing.
pub(crate) fn variants(list: &str) -> impl Iterator<Item = String> {
    list.split(", ").flat_map(|phrase| {
        phrase.split(' ').fold(vec![String::new()], |begun, part| {
            let may_be_missing = part.starts_with('?').then_some("");
            let words = part.trim_start_matches('?').split('|');
            let words: Vec<&str> = words.chain(may_be_missing).collect();
            let with = |begun: &String, word: &&str| match (begun.is_empty(), word.is_empty()) {
                (true, _) => (*word).to_owned(),
                (_, true) => begun.clone(),
                _ => format!("{begun} {word}"),
            };
            let both = begun.iter();
            both.flat_map(|begun| words.iter().map(move |word| with(begun, word)))
                .collect()
        })
    })
}

/// Whether a word is one of a list with spaces between: `each per a`.
pub(crate) fn has(list: &str, word: &str) -> bool {
    list.split(' ').any(|one| one == word)
}

/// The phrases of a list, put together at its first use.
pub(crate) struct List(&'static str, OnceLock<Vec<String>>);

impl List {
    pub(crate) const fn of(list: &'static str) -> Self {
        Self(list, OnceLock::new())
    }

    pub(crate) fn all(&self) -> &[String] {
        self.1.get_or_init(|| variants(self.0).collect())
    }

    /// Whether a text is one of them.
    pub(crate) fn has(&self, text: &str) -> bool {
        self.all().iter().any(|phrase| phrase == text)
    }
}

#[test]
fn words_are_put_together() {
    let all: Vec<String> = variants("?the last set|one, then").collect();
    let wanted = [
        "the last set",
        "the last one",
        "last set",
        "last one",
        "then",
    ];
    assert_eq!(all, wanted);
}
