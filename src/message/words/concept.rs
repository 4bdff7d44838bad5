//! The concepts that words stand for where a message is weighed: a place on the body, a complaint,
//! somebody else, the past. A word may stand for several.

/// Defines [`Concept`] and its names from one list.
macro_rules! concepts {
    ($($name:ident: $doc:literal),* $(,)?) => {
        /// What a word or phrase stands for.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        #[repr(u8)]
        pub(crate) enum Concept { $(#[doc = $doc] $name),* }

        impl Concept {
            /// All, in order.
            pub(crate) const ALL: &[Self] = &[$(Self::$name),*];
        }
    };
}

concepts! {
    Joint: "A joint: shoulder, knee.",
    Back: "The back or a part of it.",
    OwnBack: "A back that is plainly the writer's or a part of it.",
    Neck: "The neck.",
    Head: "The head.",
    Face: "The face or one side of it.",
    Throat: "Throat, tongue, lips.",
    Eyes: "Eyes and sight.",
    Chest: "The chest.",
    HeartAttack: "A heart attack, said so.",
    Heart: "The heart and its beat.",
    Limb: "A whole arm or leg.",
    Hand: "Hand, foot, fingers, toes.",
    Calf: "The lower leg.",
    Muscle: "A muscle or tendon.",
    Belly: "Belly and groin.",
    Saddle: "Between the legs.",
    Bone: "A bone.",
    Skin: "Skin and nails.",
    Side: "Left, right, both.",
    Pain: "Pain, told as such.",
    Sharp: "A quality that only pain has.",
    Grumble: "A complaint in everyday words.",
    Injury: "An injury, told as such.",
    Hurt: "An injury of oneself without a place.",
    Sound: "A noise or jerk inside: pop, snap.",
    Something: "Something that has no name.",
    Went: "It went, gave way.",
    Buckled: "A joint that gives way.",
    Swollen: "Swelling.",
    Locked: "Stiff, locked, cramped.",
    Unable: "Something cannot be done.",
    Moves: "A movement of the body.",
    Limp: "Limping, crutches, a splint.",
    Sore: "Sore, tender.",
    Numb: "Numb, tingling.",
    Weak: "Weak, without strength.",
    Dead: "Dead, heavy, gone.",
    Blood: "Blood.",
    Gushes: "Blood that does not stop.",
    Gash: "A wound that is deep.",
    Flows: "It flows and does not stop.",
    Cloth: "What blood is held with: a towel, a shirt.",
    Soaked: "Wet through, full.",
    Wound: "An open wound or a bruise.",
    Broke: "Broke, broken.",
    Deformed: "Bent or standing out where it should not.",
    Fainted: "Fainted, passed out.",
    Dizzy: "Dizzy, faint.",
    Dimmed: "Sight that fails.",
    Speech: "Speech and words.",
    Slurred: "Slurred, jumbled.",
    Droops: "A face that droops.",
    Headache: "Headache.",
    Worst: "The worst, sudden.",
    Breath: "Breath, breathing.",
    Breathless: "Short of breath.",
    NoAir: "No air comes.",
    Palpitations: "Palpitations, said so.",
    DarkUrine: "Dark urine, said so.",
    Wheeze: "Wheezing, gasping.",
    OddBeat: "A beat out of step.",
    Racing: "A fast beat.",
    AtRest: "Sitting, lying, at rest.",
    Tight: "Tight, pressing.",
    LeftArm: "The left arm, to which a heart hurts.",
    DownArm: "Pain down the left arm.",
    Concussion: "A concussion, said so.",
    Long: "Longer than effort explains.",
    Indigestion: "What people take a heart attack for.",
    Spreads: "It spreads.",
    Urine: "Urine.",
    Dark: "A dark colour.",
    Leaks: "Control lost, or nothing comes.",
    Hot: "Hot.",
    NoSweat: "Sweat that stopped.",
    Confused: "Confused.",
    Hives: "Hives, itching.",
    Closing: "Closing, thick.",
    Allergen: "What allergies answer to.",
    Suicide: "Thoughts of suicide or of harming oneself.",
    Despair: "Despair.",
    Seizure: "A seizure.",
    Emergency: "Help for an emergency.",
    Blow: "A blow.",
    Object: "A bar, a plate, what strikes.",
    Unresponsive: "Does not answer or move.",
    Sick: "Sick, vomiting.",
    Clammy: "Sweaty, grey, clammy.",
    Me: "The writer.",
    My: "The writer's.",
    Other: "Somebody else.",
    Stranger: "Somebody beside the writer.",
    Near: "Beside the writer.",
    Now: "Now.",
    Still: "Since, still.",
    Past: "Long ago.",
    Over: "It is over.",
    Not: "Denial.",
    Well: "Fine, good.",
    If: "In thought only.",
    General: "People in general, prevention.",
    Advice: "Asks what to do.",
    Effort: "Effort and its burn.",
    Doms: "Soreness of training.",
    Laughs: "Laughter.",
    Figure: "A figure of speech.",
    Gear: "Gear and things that break.",
    Lift: "An exercise or a session.",
    Onset: "The set or moment at which it began.",
    Stops: "Stops or leaves out training.",
    Fell: "A fall, a landing.",
    Extreme: "So much.",
    Slight: "A little.",
    Body: "The body as a whole.",
    Daily: "Daily activities of the body: stairs, socks, sleep.",
    Duration: "A span of time.",
    Health: "Doctors, physios, scans.",
    Treats: "Ice, tape, painkillers.",
    Minor: "Under 18.",
    Pregnant: "Pregnant.",
    HeartCondition: "A heart condition.",
    Operated: "An operation not long ago.",
    Drugs: "Alcohol, stimulants, steroids, strong painkillers.",
    Starved: "Not eating.",
    Flesh: "What else hurts: burn, cramp.",
    Object2: "Exams, wallets and other things that hurt in words only.",
}

/// A set of concepts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Concepts(u128);

impl Concepts {
    /// None.
    pub(crate) const NONE: Self = Self(0);

    /// These.
    pub(crate) const fn of(list: &[Concept]) -> Self {
        let mut bits = 0;
        let mut at = 0;
        while at < list.len() {
            bits |= 1 << list[at] as u8;
            at += 1;
        }
        Self(bits)
    }

    /// Whether `concept` is in it.
    pub(crate) const fn has(self, concept: Concept) -> bool {
        self.0 & (1 << concept as u8) != 0
    }

    /// Whether it shares any with `others`.
    pub(crate) const fn any(self, others: Self) -> bool {
        self.0 & others.0 != 0
    }

    /// Those that it shares with `others`.
    pub(crate) const fn and(self, others: Self) -> Self {
        Self(self.0 & others.0)
    }

    /// Both.
    pub(crate) const fn with(self, others: Self) -> Self {
        Self(self.0 | others.0)
    }

    /// Whether it is empty.
    pub(crate) const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The concepts in it, in order.
    pub(crate) fn iter(self) -> impl Iterator<Item = Concept> {
        let mut bits = self.0;
        std::iter::from_fn(move || {
            let at = bits.trailing_zeros() as usize;
            bits &= bits.wrapping_sub(1);
            Concept::ALL.get(at).copied()
        })
    }
}
