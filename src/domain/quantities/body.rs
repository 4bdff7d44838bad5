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

use super::worded::worded;

worded! {
    /// A part of the body that can be told to hurt, from the head down.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
    pub enum BodyArea {
        /// Head and face: skull, eye, ear, nose, jaw, teeth.
        Head = "head",
        /// Neck, throat.
        Neck = "neck",
        /// Shoulder: joint, cuff, deltoid, collarbone, shoulder blade.
        Shoulder = "shoulder",
        /// Upper arm: biceps, triceps.
        UpperArm = "upper arm",
        /// Elbow.
        Elbow = "elbow",
        /// Forearm.
        Forearm = "forearm",
        /// Wrist.
        Wrist = "wrist",
        /// Hand: palm, fingers, thumb.
        Hand = "hand",
        /// The arm, no part of it named.
        Arm = "arm",
        /// Chest wall: pec, ribs, breastbone, side.
        Chest = "chest",
        /// Upper and middle back: between the shoulder blades, trapezius, lats.
        UpperBack = "upper back",
        /// Lower back: lumbar spine, sacrum, tail bone.
        LowerBack = "lower back",
        /// The back or the spine, no part of it named.
        Back = "back",
        /// Belly, front and side of the trunk.
        Abdomen = "abdomen",
        /// Groin and inner thigh.
        Groin = "groin",
        /// Hip.
        Hip = "hip",
        /// Buttock: glutes, sciatic pain there.
        Buttock = "buttock",
        /// Front of the thigh.
        FrontThigh = "front of the thigh",
        /// Back of the thigh.
        BackThigh = "back of the thigh",
        /// Knee.
        Knee = "knee",
        /// Calf and Achilles tendon.
        Calf = "calf",
        /// Shin.
        Shin = "shin",
        /// Ankle.
        Ankle = "ankle",
        /// Foot: heel, sole, toes.
        Foot = "foot",
        /// The leg, no part of it named.
        Leg = "leg",
    }
}

impl BodyArea {
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
            itself => {
                const ALL: &[BodyArea] = &BodyArea::ALL;
                ALL.split_at(itself as usize).1.split_at(1).0
            }
        }
    }
}

worded! {
    /// Which side of the body.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
    pub enum Side {
        /// The left one.
        Left = "left",
        /// The right one.
        Right = "right",
        /// Both.
        Both = "both",
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
    fn parts_are_definite() {
        for part in BodyArea::ALL.iter().flat_map(|area| area.parts()) {
            assert_eq!(part.parts(), [*part], "{part:?}");
        }
    }
}
