//! What words for a place on the body stand for.

use crate::domain::body::{BodyArea, Place, Side};

/// The areas that words name; the first entry that holds a word is what it stands for.
const AREAS: &[(BodyArea, &str)] = &[
    (
        BodyArea::Head,
        "head skull face eye eyes ear nose jaw tooth teeth temple",
    ),
    (BodyArea::Neck, "neck throat"),
    (
        BodyArea::Shoulder,
        "shoulder shoulders rotator cuff delt delts ac collarbone clavicle scapula",
    ),
    (BodyArea::UpperArm, "bicep biceps tricep triceps"),
    (BodyArea::Elbow, "elbow elbows"),
    (BodyArea::Forearm, "forearm forearms"),
    (BodyArea::Wrist, "wrist wrists"),
    (
        BodyArea::Hand,
        "hand hands finger fingers thumb thumbs palm",
    ),
    (BodyArea::Arm, "arm arms"),
    (
        BodyArea::Chest,
        "chest pec pecs rib ribs sternum breastbone",
    ),
    (BodyArea::UpperBack, "trap traps lat lats"),
    (BodyArea::LowerBack, "lumbar si sacrum tailbone coccyx"),
    (BodyArea::Back, "back spine disc"),
    (
        BodyArea::Abdomen,
        "abdomen stomach belly abs oblique obliques hernia",
    ),
    (BodyArea::Groin, "groin adductor adductors"),
    (BodyArea::Hip, "hip hips abductor"),
    (BodyArea::Buttock, "glute glutes bum butt piriformis"),
    (BodyArea::FrontThigh, "quad quads thigh thighs"),
    (
        BodyArea::BackThigh,
        "hamstring hamstrings hammy hammies ham hams",
    ),
    (BodyArea::Knee, "knee knees kneecap patella meniscus"),
    (BodyArea::Calf, "calf calves achilles"),
    (BodyArea::Shin, "shin shins"),
    (BodyArea::Ankle, "ankle ankles"),
    (BodyArea::Foot, "foot feet toe toes heel sole"),
    (BodyArea::Leg, "leg legs"),
];

/// The places that the words name, in their order: `left shoulder`, `lower back`.
pub(super) fn places(words: &str) -> Vec<Place> {
    let words = words.to_lowercase();
    let words: Vec<&str> = words.split([' ', '-']).collect();
    let side = words.iter().find_map(|word| Side::from_word(word));
    let mut found: Vec<Place> = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let holds = |list: &str| list.split_whitespace().any(|one| one == *word);
        let Some(&(area, _)) = AREAS.iter().find(|(_, list)| holds(list)) else {
            continue;
        };
        let before = at.checked_sub(1).and_then(|before| words.get(before));
        let area = match (area, before.copied()) {
            (BodyArea::Back, Some("lower" | "low")) => BodyArea::LowerBack,
            (BodyArea::Back, Some("upper" | "mid" | "middle")) => BodyArea::UpperBack,
            (BodyArea::Arm, Some("upper")) => BodyArea::UpperArm,
            _ => area,
        };
        let place = Place { area, side };
        if !found.contains(&place) {
            found.push(place);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_carry_area_and_side() {
        let place = |area, side| vec![Place { area, side }];
        let cases = [
            ("left shoulder", place(BodyArea::Shoulder, Some(Side::Left))),
            ("lower back", place(BodyArea::LowerBack, None)),
            ("back", place(BodyArea::Back, None)),
            ("both knees", place(BodyArea::Knee, Some(Side::Both))),
            ("dizzy", Vec::new()),
        ];
        for (words, expected) in cases {
            assert_eq!(places(words), expected, "{words}");
        }
    }
}
