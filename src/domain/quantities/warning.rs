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

use super::worded::worded;

worded! {
    /// A sign that calls for help now, not only for stopping an exercise; where a message names several, the words of
    /// the first are said.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
    pub enum WarningSign {
        /// Too much of a medicine was taken, on purpose or not.
        Overdose = "overdose",
        /// Thoughts of suicide or self-harm.
        Suicide = "suicide",
        /// Somebody beside the writer is in danger: collapsed, not breathing, trapped.
        Bystander = "bystander",
        /// Pain, pressure or tightness in the chest, also into arm, jaw or back.
        Chest = "chest",
        /// The heart races at rest, skips, flutters.
        Heart = "heart",
        /// Short of breath at rest, wheezing, blue lips.
        Breath = "breath",
        /// Throat closing, face swelling, hives after food, a sting or a medicine.
        Allergy = "allergy",
        /// One side of the face droops, slurred speech, one side weak, the worst headache at once, sight
        /// lost.
        Stroke = "stroke",
        /// Fainted, nearly fainted, dizzy, a seizure.
        Faint = "faint",
        /// Blood that does not stop, or comes where none should.
        Bleeding = "bleeding",
        /// A blow to the neck or the spine, or a neck that cannot be moved.
        Neck = "neck",
        /// A blow to the head.
        Head = "head",
        /// An arm, a leg, a hand or a foot is numb, weak or dead.
        Limb = "limb",
        /// Bladder or bowels out of control, numb between the legs.
        Bladder = "bladder",
        /// A bone that broke, a joint out of place.
        Bone = "bone",
        /// Hot, confused, no longer sweating.
        Heat = "heat",
        /// Blood sugar going low in somebody with diabetes.
        Sugar = "sugar",
        /// Dark urine after hard training.
        Urine = "urine",
        /// A calf or an arm that is hot, red and swollen and was not hurt in training.
        Clot = "clot",
        /// A call for help that names no sign.
        Help = "help",
    }
}

worded! {
    /// A fact about the writer that is no complaint, but on which a licensed professional decides
    /// before loads are of any use.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
    pub enum Caution {
        /// Under 18.
        Age = "age",
        /// Pregnant, or gave birth not long ago.
        Pregnancy = "pregnancy",
        /// A heart condition or high blood pressure.
        Heart = "heart",
        /// An operation not long ago.
        Operation = "operation",
        /// Alcohol, stimulants, steroids, strong painkillers.
        Drugs = "drugs",
        /// Not eating, purging, drying out.
        Eating = "eating",
        /// What a doctor or physiotherapist said on training.
        Doctor = "doctor",
        /// A fever.
        Fever = "fever",
        /// An illness, or the way back from one.
        Illness = "illness",
    }
}

impl Caution {
    /// Whether it keeps sets far from failure, so that no load goes up.
    pub const fn is_illness(self) -> bool {
        matches!(self, Self::Fever | Self::Illness)
    }
}
