//! Enumerations with a word for each of their kinds, written once: in files, in storage and before people.

/// Defines an enumeration with its words from one list: `ALL` in this order, `word` and `from_word`.
macro_rules! worded {
    ($(#[$of_all:meta])* pub enum $name:ident {
        $($(#[$of_one:meta])* $one:ident = $word:literal,)*
    }) => {
        $(#[$of_all])*
        pub enum $name { $($(#[$of_one])* $one,)* }

        impl $name {
            /// All of them, in order.
            pub const ALL: [Self; [$($word),*].len()] = [$(Self::$one),*];

            /// Its word.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$one => $word),* }
            }

            /// The one with this word.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                Self::ALL.into_iter().find(|one| one.word() == word)
            }
        }
    };
}
pub(crate) use worded;
