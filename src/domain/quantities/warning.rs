//! Signs that call for medical help now, and facts that call for a licensed professional's advice.
//!
//! Nothing here judges what is wrong with anybody; a sign decides which fixed words are said
//! (`bot::text::hurt`) and that no load is advised. What counts as a sign is read in
//! [`crate::message`].
//!
//! Sources, from memory unless named otherwise: ACSM's Guidelines for Exercise Testing and
//! Prescription (chest, heart, breath, faintness; heat); Warburton DER et al. 2011, PAR-Q+, Health
//! Fit J Can 4(2):3-17 (loss of consciousness; the cautions on heart, operation, pregnancy);
//! Finucane LM et al. 2020, J Orthop Sports Phys Ther 50(7):350-372 (both legs, bladder, saddle);
//! general medical teaching on muscle breakdown (dark urine) and clots in a calf; general first-aid
//! teaching on the rest.

/// A sign that calls for help now, not only for stopping an exercise.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WarningSign {
    /// Too much of a medicine was taken, on purpose or not.
    Overdose,
    /// Thoughts of suicide or self-harm.
    Suicide,
    /// Somebody beside the writer is in danger: collapsed, not breathing, trapped.
    Bystander,
    /// Pain, pressure or tightness in the chest, also into arm, jaw or back.
    Chest,
    /// The heart races at rest, skips, flutters.
    Heart,
    /// Short of breath at rest, wheezing, blue lips.
    Breath,
    /// Throat closing, face swelling, hives after food, a sting or a medicine.
    Allergy,
    /// One side of the face droops, slurred speech, one side weak, the worst headache at once, sight
    /// lost.
    Stroke,
    /// Fainted, nearly fainted, dizzy, a seizure.
    Faint,
    /// Blood that does not stop, or comes where none should.
    Bleeding,
    /// A blow to the neck or the spine, or a neck that cannot be moved.
    Neck,
    /// A blow to the head.
    Head,
    /// An arm, a leg, a hand or a foot is numb, weak or dead.
    Limb,
    /// Bladder or bowels out of control, numb between the legs.
    Bladder,
    /// A bone that broke, a joint out of place.
    Bone,
    /// Hot, confused, no longer sweating.
    Heat,
    /// Blood sugar going low in somebody with diabetes.
    Sugar,
    /// Dark urine after hard training.
    Urine,
    /// A calf or an arm that is hot, red and swollen and was not hurt in training.
    Clot,
    /// A call for help that names no sign.
    Help,
}

impl WarningSign {
    /// Every sign, in the order in which the words of one go before those of another where a
    /// message names several.
    pub const ALL: [Self; 20] = [
        Self::Overdose,
        Self::Suicide,
        Self::Bystander,
        Self::Chest,
        Self::Heart,
        Self::Breath,
        Self::Allergy,
        Self::Stroke,
        Self::Faint,
        Self::Bleeding,
        Self::Neck,
        Self::Head,
        Self::Limb,
        Self::Bladder,
        Self::Bone,
        Self::Heat,
        Self::Sugar,
        Self::Urine,
        Self::Clot,
        Self::Help,
    ];

    /// The word for it in storage: `chest`, `bladder`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Overdose => "overdose",
            Self::Suicide => "suicide",
            Self::Bystander => "bystander",
            Self::Chest => "chest",
            Self::Heart => "heart",
            Self::Breath => "breath",
            Self::Allergy => "allergy",
            Self::Stroke => "stroke",
            Self::Faint => "faint",
            Self::Bleeding => "bleeding",
            Self::Neck => "neck",
            Self::Head => "head",
            Self::Limb => "limb",
            Self::Bladder => "bladder",
            Self::Bone => "bone",
            Self::Heat => "heat",
            Self::Sugar => "sugar",
            Self::Urine => "urine",
            Self::Clot => "clot",
            Self::Help => "help",
        }
    }

    /// The sign with this word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|sign| sign.word() == word)
    }
}

/// A fact about the writer that is no complaint, but on which a licensed professional decides
/// before loads are of any use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Caution {
    /// Under 18.
    Age,
    /// Pregnant, or gave birth not long ago.
    Pregnancy,
    /// A heart condition or high blood pressure.
    Heart,
    /// An operation not long ago.
    Operation,
    /// Alcohol, stimulants, steroids, strong painkillers.
    Drugs,
    /// Not eating, purging, drying out.
    Eating,
    /// What a doctor or physiotherapist said on training.
    Doctor,
    /// A fever.
    Fever,
    /// An illness, or the way back from one.
    Illness,
}

impl Caution {
    /// Every caution.
    pub const ALL: [Self; 9] = [
        Self::Age,
        Self::Pregnancy,
        Self::Heart,
        Self::Operation,
        Self::Drugs,
        Self::Eating,
        Self::Doctor,
        Self::Fever,
        Self::Illness,
    ];

    /// The word for it, as `read` prints it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Age => "age",
            Self::Pregnancy => "pregnancy",
            Self::Heart => "heart",
            Self::Operation => "operation",
            Self::Drugs => "drugs",
            Self::Eating => "eating",
            Self::Doctor => "doctor",
            Self::Fever => "fever",
            Self::Illness => "illness",
        }
    }

    /// Whether it keeps sets far from failure, so that no load goes up.
    pub const fn is_illness(self) -> bool {
        matches!(self, Self::Fever | Self::Illness)
    }

    /// The caution with this word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|caution| caution.word() == word)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_read_back() {
        for sign in WarningSign::ALL {
            assert_eq!(WarningSign::from_word(sign.word()), Some(sign));
        }
        for caution in Caution::ALL {
            assert_eq!(Caution::from_word(caution.word()), Some(caution));
        }
    }
}
