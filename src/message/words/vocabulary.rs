//! Words and what the reader knows of them: a grammar word each ([`W`]) and the roles they may
//! play in judging a message ([`Roles`]).
//!
//! The lists themselves stand in `lexicon`; names of exercises and muscles are added by `names`.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use super::{grammar_words, lookalikes};

/// The grammar word: what a recogniser matches on. Words of one meaning share one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(u8)]
pub(crate) enum W {
    #[default]
    None,
    A,
    About,
    Ache,
    Actually,
    Add,
    AddVerb,
    After,
    Again,
    Ago,
    All,
    Am,
    And,
    Another,
    Are,
    Assist,
    At,
    Back,
    Bar,
    Be,
    Before,
    Behind,
    Between,
    Bladder,
    Blood,
    Blow,
    Body,
    Both,
    Breath,
    Breathless,
    But,
    Bw,
    By,
    Can,
    Cant,
    Cardio,
    Catch,
    Change,
    Chest,
    Cluster,
    Collapsed,
    Conscious,
    Correction,
    Could,
    Couldnt,
    Couple,
    Dark,
    Day,
    Dead,
    Did,
    Did2,
    Do,
    Doing,
    Done,
    Down,
    Drop,
    Dropset,
    Dumbbell,
    E,
    Each,
    Elsewhere,
    Empty,
    Enough,
    F,
    Failed,
    Failure,
    Far,
    Feel,
    Fire,
    For,
    From,
    Fully,
    Gassed,
    Gave,
    Get,
    Giving,
    Go,
    Going,
    Gone,
    Good,
    Got,
    Had,
    Hand,
    Hard,
    Have,
    Head,
    Headache,
    Headed,
    Heart,
    Heavier,
    Heavy,
    Hour,
    Hundred,
    How,
    Hurt,
    I,
    In,
    Instead,
    Is,
    It,
    Just,
    K,
    Keen,
    Kg,
    Killing,
    L,
    Last,
    Later,
    Lb,
    Left,
    Less,
    Light,
    Lighter,
    Like,
    Limb,
    Load,
    Long,
    Longer,
    Look,
    Lung,
    M,
    Make,
    Many,
    Maybe,
    Me,
    Meant,
    Min,
    Minus,
    More,
    Morning,
    Much,
    My,
    Myself,
    Nearly,
    Need,
    Next,
    Night,
    No,
    Not,
    Nothing,
    Now,
    Numb,
    Number,
    Numeral,
    Of,
    Off,
    On,
    One,
    Or,
    Ordinal,
    Ouch,
    Out,
    Pain,
    Partials,
    PassedOut,
    Paused,
    Per,
    Plates,
    Plus,
    Put,
    R,
    Ready,
    Recovering,
    Remove,
    RepNoun,
    Reps,
    Reserve,
    Rest,
    Resting,
    Right,
    Rir,
    Rounds,
    Rpe,
    S,
    Saddle,
    Same,
    Scratch,
    Sec,
    Seeing,
    Sets,
    Sharp,
    Short,
    Should,
    Show,
    Side,
    So,
    Some,
    Something,
    Sore,
    Sorry,
    Spare,
    Spin,
    Stars,
    Start,
    Stay,
    Still,
    Strong,
    Super,
    Superset,
    Swollen,
    Symptom,
    Take,
    Tank,
    Tempo,
    Th,
    That,
    The,
    Then,
    There,
    This,
    Threw,
    Tight,
    Till,
    Time,
    To,
    Today,
    Tomorrow,
    Tonight,
    Too,
    Took,
    Total,
    Try,
    Tweaked,
    Twice,
    U,
    Undo,
    Unkeen,
    Up,
    Urine,
    Vision,
    Volume,
    Wi,
    Warm,
    Warmup,
    Was,
    Week,
    Weekday,
    Weight,
    Weighted,
    Went,
    What,
    When,
    Which,
    With,
    Work,
    Wrong,
    Yesterday,
    Yet,
    You,
}

/// Roles in judging what a message is, as a set of bits.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Roles(pub u32);

impl Roles {
    /// Harmless beside a set.
    pub(crate) const FILL: Self = Self(1);
    /// May stand in a question to the bot.
    pub(crate) const ASK: Self = Self(1 << 1);
    /// May stand in a word on readiness.
    pub(crate) const FIT: Self = Self(1 << 2);
    /// May stand in a correction.
    pub(crate) const FIX: Self = Self(1 << 3);
    /// Somebody else.
    pub(crate) const OTHER: Self = Self(1 << 4);
    /// Not done yet.
    pub(crate) const INTENT: Self = Self(1 << 5);
    /// Long ago, or a best.
    pub(crate) const PAST: Self = Self(1 << 6);
    /// Only in thought.
    pub(crate) const HYPO: Self = Self(1 << 7);
    /// Denied.
    pub(crate) const NEG: Self = Self(1 << 8);
    /// Buying, selling, lending, mending.
    pub(crate) const TRADE: Self = Self(1 << 9);
    /// A unit that no set is written in.
    pub(crate) const MEASURE: Self = Self(1 << 10);
    /// Asks the room.
    pub(crate) const WHO: Self = Self(1 << 11);
    /// A verb of having done a set.
    pub(crate) const DID: Self = Self(1 << 12);
    /// A word of movements and machines: a name may be built with it.
    pub(crate) const MOVE: Self = Self(1 << 13);
    /// Makes another movement of the name it stands before.
    pub(crate) const VARIANT: Self = Self(1 << 14);
    /// A plan or a target: what follows is not done yet.
    pub(crate) const PLAN: Self = Self(1 << 15);
    /// A place on the body.
    pub(crate) const PLACE: Self = Self(1 << 16);
    /// Part of a place's name: `left`, `lower`.
    pub(crate) const SIDE: Self = Self(1 << 17);
    /// Spent: `fried`, `toast`.
    pub(crate) const SPENT: Self = Self(1 << 18);
    /// In the lexicon at all: an ordinary word, no slip of a name.
    pub(crate) const KNOWN: Self = Self(1 << 19);
    /// Part of an exercise's or muscle's name.
    pub(crate) const NAME: Self = Self(1 << 20);
    /// Pain, whatever the place.
    pub(crate) const PAIN: Self = Self(1 << 21);
    /// Fine again.
    pub(crate) const WELL: Self = Self(1 << 22);
    /// Rowing on water or on the ergometer.
    pub(crate) const ROWING: Self = Self(1 << 23);
    /// An ordinary word that looks like a slip of a name and is none.
    pub(crate) const LOOKALIKE: Self = Self(1 << 24);
    /// A word for a person, to whom one may speak (`bench 80x8 mate`) or of whom (`my mate did`).
    pub(crate) const PERSON: Self = Self(1 << 25);

    /// Whether it has any of `others`.
    pub(crate) const fn any(self, others: Self) -> bool {
        self.0 & others.0 != 0
    }

    /// This set but for `others`.
    pub(crate) const fn without(self, others: Self) -> Self {
        Self(self.0 & !others.0)
    }

    /// Both sets.
    pub(crate) const fn with(self, others: Self) -> Self {
        Self(self.0 | others.0)
    }
}

/// What is known of one word.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Word {
    /// Its grammar word.
    pub w: W,
    /// Its number, for number words, ordinals and weekdays (Monday is 0).
    pub value: u8,
    /// Its symbol in names; 0 for none.
    pub symbol: u16,
    /// Its roles.
    pub roles: Roles,
}

impl Word {
    /// A word of which nothing is known.
    pub(crate) const UNKNOWN: Self = Self {
        w: W::None,
        value: 0,
        symbol: 0,
        roles: Roles(0),
    };
}

/// FNV-1a over the bytes of a short word: the table is built from trusted lists, and a lookup must
/// cost no more than a few nanoseconds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ShortHash(u64);

impl Default for ShortHash {
    fn default() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }
}

impl Hasher for ShortHash {
    fn write(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }

    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 29)
    }
}

/// A map from short keys.
pub(crate) type ShortMap<K, V> = HashMap<K, V, BuildHasherDefault<ShortHash>>;

/// Every word that the reader knows.
#[derive(Clone, Debug)]
pub(crate) struct Vocabulary {
    words: ShortMap<Box<str>, Word>,
    symbols: u16,
}

impl Default for Vocabulary {
    fn default() -> Self {
        let mut vocabulary = Self {
            words: ShortMap::default(),
            symbols: 0,
        };
        // Number words first: the first grammar word of a text is the one that stays.
        for &(text, w, value, roles) in grammar_words::NUMBERS {
            vocabulary.learn(text, w, value, roles);
        }
        for &(list, w, roles) in grammar_words::WORDS {
            for text in list.split_whitespace() {
                vocabulary.learn(text, w, 0, roles);
            }
        }
        for text in lookalikes::LIST.split_whitespace() {
            let word = vocabulary.words.entry(text.into()).or_default();
            word.roles = word.roles.with(Roles::LOOKALIKE);
        }
        vocabulary
    }
}

impl Vocabulary {
    /// Longer words than this are no words: pasted noise is not hashed whole.
    const LONGEST: usize = 32;

    /// What is known of `text`, folded.
    pub(crate) fn word(&self, text: &str) -> Word {
        if text.len() > Self::LONGEST {
            return Word::UNKNOWN;
        }
        self.words.get(text).copied().unwrap_or(Word::UNKNOWN)
    }

    /// Adds to what is known of `text`: the first grammar word stays, roles are joined.
    fn learn(&mut self, text: &str, w: W, value: u8, roles: Roles) {
        let word = self.words.entry(text.into()).or_default();
        if word.w == W::None {
            word.w = w;
            word.value = value;
        }
        word.roles = word.roles.with(roles).with(Roles::KNOWN);
    }

    /// Gives `text` a symbol as part of names, but makes no name's word of it: `alternate`, `sitting`.
    pub(crate) fn name_part(&mut self, text: &str) {
        let before = self.word(text).roles;
        self.symbol(text);
        if let Some(word) = self.words.get_mut(text) {
            word.roles = before;
        }
    }

    /// The text of each symbol, by its number.
    pub(crate) fn symbol_texts(&self) -> Vec<Box<str>> {
        let mut out: Vec<Box<str>> = vec![Box::default(); usize::from(self.symbols) + 1];
        for (text, word) in &self.words {
            if word.symbol != 0
                && let Some(slot) = out.get_mut(usize::from(word.symbol))
            {
                slot.clone_from(text);
            }
        }
        out
    }

    /// The symbol of `text` as part of a name; given out on first call.
    pub(crate) fn symbol(&mut self, text: &str) -> u16 {
        let word = self.words.entry(text.into()).or_default();
        if word.symbol == 0 {
            self.symbols = self.symbols.saturating_add(1);
            word.symbol = self.symbols;
        }
        word.roles = word.roles.with(Roles::NAME);
        word.symbol
    }
}

impl Vocabulary {
    /// The words of names that are no ordinary short words, with what is known of them.
    pub(crate) fn names(&self) -> impl Iterator<Item = (&str, Word)> {
        self.words
            .iter()
            .filter(|(_, word)| word.symbol != 0)
            .map(|(text, word)| (text.as_ref(), *word))
    }
}
