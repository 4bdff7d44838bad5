//! Where on the body something hurts.
//!
//! The areas follow those that injury records in sport use, so that a report means the same to a
//! coach and to whoever treats it; what lifters tell apart beyond them (front and back of the
//! thigh, groin, calf and shin) is split further. Which exercises load an area
//! stands with the exercise: [`super::catalogue::Exercise::strains`].
//! The words that people use are the reader's business.
//!
//! Source: Bahr R, Clarsen B, Derman W et al. 2020, IOC consensus statement: methods for recording
//! and reporting of epidemiological data on injury and illness in sport, Br J Sports Med
//! 54(7):372-389 (categories of body areas; from memory). The finer areas: common practice, no
//! source.

/// A part of the body that can be told to hurt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum BodyArea {
    /// Head and face: skull, eye, ear, nose, jaw, teeth.
    Head,
    /// Neck, throat.
    Neck,
    /// Shoulder: joint, cuff, deltoid, collarbone, shoulder blade.
    Shoulder,
    /// Upper arm: biceps, triceps.
    UpperArm,
    /// Elbow.
    Elbow,
    /// Forearm.
    Forearm,
    /// Wrist.
    Wrist,
    /// Hand: palm, fingers, thumb.
    Hand,
    /// The arm, no part of it named.
    Arm,
    /// Chest wall: pec, ribs, breastbone, side.
    Chest,
    /// Upper and middle back: between the shoulder blades, trapezius, lats.
    UpperBack,
    /// Lower back: lumbar spine, sacrum, tail bone.
    LowerBack,
    /// The back or the spine, no part of it named.
    Back,
    /// Belly, front and side of the trunk.
    Abdomen,
    /// Groin and inner thigh.
    Groin,
    /// Hip.
    Hip,
    /// Buttock: glutes, sciatic pain there.
    Buttock,
    /// Front of the thigh.
    FrontThigh,
    /// Back of the thigh.
    BackThigh,
    /// Knee.
    Knee,
    /// Calf and Achilles tendon.
    Calf,
    /// Shin.
    Shin,
    /// Ankle.
    Ankle,
    /// Foot: heel, sole, toes.
    Foot,
    /// The leg, no part of it named.
    Leg,
}

impl BodyArea {
    /// Every area, from the head down.
    pub const ALL: [Self; 25] = [
        Self::Head,
        Self::Neck,
        Self::Shoulder,
        Self::UpperArm,
        Self::Elbow,
        Self::Forearm,
        Self::Wrist,
        Self::Hand,
        Self::Arm,
        Self::Chest,
        Self::UpperBack,
        Self::LowerBack,
        Self::Back,
        Self::Abdomen,
        Self::Groin,
        Self::Hip,
        Self::Buttock,
        Self::FrontThigh,
        Self::BackThigh,
        Self::Knee,
        Self::Calf,
        Self::Shin,
        Self::Ankle,
        Self::Foot,
        Self::Leg,
    ];

    /// The word for it, for storage and for people: `shoulder`, `lower back`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Head => "head",
            Self::Neck => "neck",
            Self::Shoulder => "shoulder",
            Self::UpperArm => "upper arm",
            Self::Elbow => "elbow",
            Self::Forearm => "forearm",
            Self::Wrist => "wrist",
            Self::Hand => "hand",
            Self::Arm => "arm",
            Self::Chest => "chest",
            Self::UpperBack => "upper back",
            Self::LowerBack => "lower back",
            Self::Back => "back",
            Self::Abdomen => "abdomen",
            Self::Groin => "groin",
            Self::Hip => "hip",
            Self::Buttock => "buttock",
            Self::FrontThigh => "front of the thigh",
            Self::BackThigh => "back of the thigh",
            Self::Knee => "knee",
            Self::Calf => "calf",
            Self::Shin => "shin",
            Self::Ankle => "ankle",
            Self::Foot => "foot",
            Self::Leg => "leg",
        }
    }

    /// The area with this word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|area| area.word() == word)
    }

    /// The definite areas that it may be: itself, or the parts of an arm, a back or a leg of which
    /// no part was named.
    pub const fn parts(self) -> &'static [Self] {
        match self {
            Self::Arm => &[Self::UpperArm, Self::Elbow, Self::Forearm],
            Self::Back => &[Self::UpperBack, Self::LowerBack],
            Self::Leg => &[
                Self::FrontThigh,
                Self::BackThigh,
                Self::Knee,
                Self::Calf,
                Self::Shin,
            ],
            Self::Head => &[Self::Head],
            Self::Neck => &[Self::Neck],
            Self::Shoulder => &[Self::Shoulder],
            Self::UpperArm => &[Self::UpperArm],
            Self::Elbow => &[Self::Elbow],
            Self::Forearm => &[Self::Forearm],
            Self::Wrist => &[Self::Wrist],
            Self::Hand => &[Self::Hand],
            Self::Chest => &[Self::Chest],
            Self::UpperBack => &[Self::UpperBack],
            Self::LowerBack => &[Self::LowerBack],
            Self::Abdomen => &[Self::Abdomen],
            Self::Groin => &[Self::Groin],
            Self::Hip => &[Self::Hip],
            Self::Buttock => &[Self::Buttock],
            Self::FrontThigh => &[Self::FrontThigh],
            Self::BackThigh => &[Self::BackThigh],
            Self::Knee => &[Self::Knee],
            Self::Calf => &[Self::Calf],
            Self::Shin => &[Self::Shin],
            Self::Ankle => &[Self::Ankle],
            Self::Foot => &[Self::Foot],
        }
    }
}

/// Which side of the body.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// The left one.
    Left,
    /// The right one.
    Right,
    /// Both.
    Both,
}

impl Side {
    /// The word for it: `left`, `right`, `both`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Both => "both",
        }
    }

    /// The side with this word.
    pub fn from_word(word: &str) -> Option<Self> {
        [Self::Left, Self::Right, Self::Both]
            .into_iter()
            .find(|side| side.word() == word)
    }
}

/// An area of the body with its side, where one was named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place {
    /// The area.
    pub area: BodyArea,
    /// The side, where named.
    pub side: Option<Side>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_read_back() {
        for area in BodyArea::ALL {
            assert_eq!(BodyArea::from_word(area.word()), Some(area));
        }
        for side in [Side::Left, Side::Right, Side::Both] {
            assert_eq!(Side::from_word(side.word()), Some(side));
        }
        assert_eq!(BodyArea::from_word("knees"), None);
    }

    #[test]
    fn parts_are_definite() {
        for part in BodyArea::ALL.iter().flat_map(|area| area.parts()) {
            assert_eq!(part.parts(), [*part], "{part:?}");
        }
    }
}
