//! What a word of the vocabulary is: which word the grammar knows it as, what it can stand for, and its value.

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
