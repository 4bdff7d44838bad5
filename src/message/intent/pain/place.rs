//! Where it hurts, as written and as areas of the body.

use super::signs::Found;
use crate::domain::quantities::body::{BodyArea, Place, Side};
use crate::message::words::token::{Kind, Mark, Tokens};
use crate::message::words::{Concept, Concepts, Marked, Unit};

/// The areas that words name; the first entry that holds a word is what it stands for.
#[rustfmt::skip]
const AREAS: &[(BodyArea, &str)] = &[
    (
        BodyArea::Head,
        "head skull face eye eyes ear nose jaw jaws tooth teeth temple forehead chin cheek noggin scalp",
    ),
    (BodyArea::Neck, "neck throat nape"),
    (
        BodyArea::Shoulder,
        "shoulder shoulders rotator cuff delt delts ac collarbone collarbones clavicle scapula shoulderblade labrum",
    ),
    (BodyArea::UpperArm, "bicep biceps tricep triceps"),
    (BodyArea::Elbow, "elbow elbows"),
    (BodyArea::Forearm, "forearm forearms"),
    (BodyArea::Wrist, "wrist wrists tfcc"),
    (BodyArea::Hand, "hand hands finger fingers thumb thumbs palm palms knuckle knuckles pinky"),
    (BodyArea::Arm, "arm arms"),
    (BodyArea::Chest, "chest pec pecs rib ribs sternum breastbone pectoral"),
    (BodyArea::UpperBack, "trap traps lat lats rhomboid rhomboids"),
    (BodyArea::LowerBack, "lumbar si sacrum sacroiliac tailbone coccyx ql lowerback"),
    (BodyArea::Back, "back spine disc"),
    (BodyArea::Abdomen, "abdomen stomach belly tummy ab abs oblique obliques hernia gut guts"),
    (BodyArea::Groin, "groin adductor adductors crotch"),
    (BodyArea::Hip, "hip hips abductor"),
    (BodyArea::Buttock, "glute glutes bum butt buttock piriformis"),
    (BodyArea::FrontThigh, "quad quads thigh thighs"),
    (BodyArea::BackThigh, "hamstring hamstrings hammy hammies ham hams"),
    (BodyArea::Knee, "knee knees kneecap kneecaps patella meniscus acl mcl pcl"),
    (BodyArea::Calf, "calf calves achilles achillies soleus"),
    (BodyArea::Shin, "shin shins tibia"),
    (BodyArea::Ankle, "ankle ankles"),
    (BodyArea::Foot, "foot feet toe toes heel heels sole arch plantar"),
    (BodyArea::Leg, "leg legs"),
];

/// Concepts that are places.
pub(super) const PLACES: Concepts = Concepts::of(&[
    Concept::Joint,
    Concept::Back,
    Concept::Neck,
    Concept::Head,
    Concept::Face,
    Concept::Throat,
    Concept::Eyes,
    Concept::Chest,
    Concept::Heart,
    Concept::Limb,
    Concept::Hand,
    Concept::Calf,
    Concept::Muscle,
    Concept::Belly,
    Concept::Saddle,
    Concept::Bone,
]);

/// Concepts of complaints: what is said of a place.
const COMPLAINTS: Concepts = Concepts::of(&[
    Concept::Pain,
    Concept::Sharp,
    Concept::Grumble,
    Concept::Injury,
    Concept::Sound,
    Concept::Went,
    Concept::Buckled,
    Concept::Swollen,
    Concept::Locked,
    Concept::Unable,
    Concept::Limp,
    Concept::Sore,
    Concept::Numb,
    Concept::Weak,
    Concept::Wound,
    Concept::Broke,
    Concept::Deformed,
    Concept::Tight,
    Concept::Blow,
    Concept::OddBeat,
    Concept::Racing,
    Concept::Leaks,
    Concept::Dark,
]);

/// Concepts of symptoms that have no place of their own.
const SYMPTOMS: Concepts = Concepts::of(&[
    Concept::Fainted,
    Concept::Dizzy,
    Concept::Dimmed,
    Concept::Headache,
    Concept::Breathless,
    Concept::Gushes,
    Concept::HeartAttack,
    Concept::Seizure,
    Concept::Sick,
    Concept::Urine,
]);

/// Nouns that make one symptom with the chest before them.
const CHEST_NOUNS: &[&str] = &["tightness", "pain", "pains", "pressure", "discomfort"];

/// A place or symptom as written.
pub(super) struct Body {
    /// The words.
    pub text: String,
    /// Its unit.
    pub unit: usize,
}

fn is_place(unit: &Unit) -> bool {
    unit.concepts.any(PLACES)
}

/// The place that is told to hurt, with its side as written; else the symptom.
pub(super) fn body(
    tokens: &Tokens,
    marked: &Marked,
    sign: Option<&Found>,
    urgent: bool,
) -> Option<Body> {
    let units = &marked.units;
    let palpitates = |unit: &Unit| unit.text.starts_with("palp");
    if let Some(at) = units.iter().position(palpitates) {
        return Some(Body {
            text: written(tokens, units[at].from, units[at].to),
            unit: at,
        });
    }
    if let Some(symptom) = symptom(tokens, marked, sign) {
        return Some(symptom);
    }
    let range = sign.map_or(0..units.len(), |sign| sign.from..sign.to);
    let anchor = range
        .clone()
        .find(|&at| units[at].concepts.any(COMPLAINTS) && !is_place(&units[at]));
    let of_range = |places: &mut dyn Iterator<Item = usize>| {
        let places: Vec<_> = places.filter(|&at| is_place(&units[at])).collect();
        anchor.map_or_else(
            || places.first().copied(),
            |anchor| nearest(&places, anchor),
        )
    };
    let Some(at) = of_range(&mut range.clone()).or_else(|| of_range(&mut (0..units.len()))) else {
        let symptom = (0..units.len()).find(|&at| urgent && units[at].concepts.any(SYMPTOMS))?;
        return Some(named(tokens, units, symptom));
    };
    let mut text = with_side(tokens, marked, at);
    if units[at].is(Concept::Chest)
        && let Some(noun) = units
            .get(at + 1)
            .filter(|next| CHEST_NOUNS.contains(&next.text.as_str()))
    {
        text = format!("{text} {}", noun.text);
    }
    Some(Body { text, unit: at })
}

/// The place nearest behind what is said of it, but the one right before goes first.
fn nearest(places: &[usize], anchor: usize) -> Option<usize> {
    let behind = places.iter().copied().find(|&at| at > anchor);
    let before = places.iter().copied().rfind(|&at| at < anchor);
    let close = before.filter(|&at| anchor - at <= 3 && behind.is_none_or(|b| b - anchor > 3));
    close.or(behind).or(before)
}

/// A symptom without a place: `dizzy`, `passed out`, `headache`.
fn symptom(tokens: &Tokens, marked: &Marked, sign: Option<&Found>) -> Option<Body> {
    let units = &marked.units;
    let at = match sign {
        Some(sign) => {
            let found = (sign.from..sign.to).find(|&at| units[at].concepts.any(SYMPTOMS))?;
            // The plain word for it goes before a way to tell it: `woke up on the floor, blacked out`.
            let same = |at: &usize| units[*at].concepts == units[found].concepts;
            let length = |at: usize| units[at].text.split(' ').count();
            if length(found) <= 2 {
                found
            } else {
                (0..units.len()).filter(same).min_by_key(|&at| length(at))?
            }
        }
        None => {
            let placed = units.iter().any(is_place);
            (0..units.len()).find(|&at| {
                units[at].is(Concept::Headache) || units[at].is(Concept::Sick) && !placed
            })?
        }
    };
    Some(named(tokens, units, at))
}

/// A symptom by the word for it.
fn named(tokens: &Tokens, units: &[Unit], at: usize) -> Body {
    let unit = &units[at];
    let written = written(tokens, unit.from, unit.to);
    let word = |needle: &str| unit.text.split(' ').find(|word| word.starts_with(needle));
    let text = if word("blood").is_some() {
        "blood".to_owned()
    } else if unit.is(Concept::Breathless) || unit.is(Concept::Urine) {
        match word("breathe").or_else(|| word("breathi")) {
            Some(_) => "breathing".to_owned(),
            None if word("breath").is_some() => "breath".to_owned(),
            None => written,
        }
    } else if let Some(sense) = word("vision").or_else(|| word("conscious")) {
        sense.to_owned()
    } else {
        written
            .trim_start_matches("everything ")
            .trim_start_matches("all ")
            .trim_start_matches("room is ")
            .to_owned()
    };
    Body { text, unit: at }
}

/// The tokens as written; a dash stays between two words.
fn written(tokens: &Tokens, from: usize, to: usize) -> String {
    let mut out = String::new();
    for token in tokens.list.get(from..to).unwrap_or_default() {
        if token.kind != Kind::Word {
            out.push_str(if token.is(Mark::Minus) { "-" } else { "" });
            continue;
        }
        if !out.is_empty() && !out.ends_with('-') {
            out.push(' ');
        }
        out.push_str(tokens.text_of(token));
    }
    out
}

/// The place as written with what belongs to it before: `left shoulder`, `bicep tendon`.
fn with_side(tokens: &Tokens, marked: &Marked, at: usize) -> String {
    let units = &marked.units;
    let mut from = at;
    while let Some(before) = from.checked_sub(1).filter(|&before| {
        let unit = &units[before];
        unit.clause == units[at].clause
            && (unit.concepts == Concepts::of(&[Concept::Side])
                || is_place(unit) && !unit.is(Concept::Back)
                || matches!(
                    unit.text.as_str(),
                    "lower" | "upper" | "inner" | "outer" | "front" | "rear" | "mid"
                ))
    }) {
        from = before;
    }
    let mut to = at;
    while units.get(to + 1).is_some_and(|next| {
        is_place(next)
            && next.clause == units[at].clause
            && next.from == units[to].to
            && !next.is(Concept::Heart)
    }) {
        to += 1;
    }
    let text = written(tokens, units[from].from, units[to].to);
    only_place(&text).unwrap_or(text)
}

/// `back` of `put my back out`: the words from the first to the last that name a place or a side.
fn only_place(text: &str) -> Option<String> {
    const WITH: &[&str] = &[
        "left", "right", "both", "lower", "upper", "low", "mid", "middle",
    ];
    let words: Vec<&str> = text.split(' ').collect();
    let names = |word: &&str| {
        let last = word.rsplit('-').next().unwrap_or(word);
        AREAS
            .iter()
            .any(|(_, list)| list.split_whitespace().any(|one| one == last))
    };
    let last = words.iter().rposition(names)?;
    let first = words
        .iter()
        .position(|word| names(word) || WITH.contains(word))?;
    // `bicep tendon`, `rotator cuff` keep what belongs to them.
    let last = if matches!(
        words.get(last + 1),
        Some(&"tendon" | &"muscle" | &"joint" | &"flexor")
    ) {
        last + 1
    } else {
        last
    };
    Some(words.get(first..=last)?.join(" "))
}

/// The places that hurt, first the one at `body`, then those of clauses with a complaint.
pub(super) fn places(marked: &Marked, body: Option<usize>) -> Vec<Place> {
    let units = &marked.units;
    let complaining = clauses(marked, |unit| {
        unit.concepts.any(COMPLAINTS) && !is_place(unit)
    });
    let others = (0..units.len())
        .filter(|&at| is_place(&units[at]) && complaining.binary_search(&units[at].clause).is_ok());
    let mut found = Vec::new();
    for at in body.into_iter().chain(others) {
        if let Some(place) = place(marked, at)
            && !found.contains(&place)
        {
            found.push(place);
        }
    }
    found
}

/// The places that a few words name, in their order: `left shoulder`, `lower back`.
pub(crate) fn places_in(words: &str) -> Vec<Place> {
    let words = words.to_lowercase();
    let words: Vec<&str> = words.split([' ', '-']).collect();
    let mut found = Vec::new();
    for at in 0..words.len() {
        let around = &words[at.saturating_sub(2)..=at];
        if let Some(area) = area(words[at], around) {
            let place = Place {
                area,
                side: side(around),
            };
            if !found.contains(&place) {
                found.push(place);
            }
        }
    }
    found
}

/// The area that a word names, by the words before it.
fn area(word: &str, around: &[&str]) -> Option<BodyArea> {
    let holds = |list: &str| list.split_whitespace().any(|one| one == word);
    let (area, _) = AREAS.iter().find(|(_, list)| holds(list))?;
    let says = |options: &[&str]| around.iter().any(|word| options.contains(word));
    Some(match area {
        BodyArea::Back if says(&["lower", "low"]) => BodyArea::LowerBack,
        BodyArea::Back if says(&["upper", "mid", "middle"]) => BodyArea::UpperBack,
        BodyArea::Arm if says(&["upper"]) => BodyArea::UpperArm,
        BodyArea::Leg if says(&["lower"]) => BodyArea::Calf,
        area => *area,
    })
}

/// The last side that is named.
fn side(words: &[&str]) -> Option<Side> {
    words.iter().rev().find_map(|word| match *word {
        "left" | "lt" => Some(Side::Left),
        "right" | "rite" | "rt" => Some(Side::Right),
        "both" => Some(Side::Both),
        _ => None,
    })
}

fn place(marked: &Marked, at: usize) -> Option<Place> {
    let unit = marked.units.get(at)?;
    let mut words: Vec<&str> = Vec::new();
    let first = (0..at)
        .rev()
        .take(2)
        .take_while(|&before| marked.units[before].clause == unit.clause)
        .last()
        .unwrap_or(at);
    for unit in &marked.units[first..=at] {
        words.extend(unit.text.split(' '));
    }
    let area = unit.text.split(' ').find_map(|word| area(word, &words))?;
    let side = side(&words);
    Some(Place { area, side })
}

/// The clauses with such a unit, in order.
fn clauses(marked: &Marked, is: impl Fn(&Unit) -> bool) -> Vec<u16> {
    let with = marked.units.iter().filter(|unit| is(unit));
    let mut clauses: Vec<_> = with.map(|unit| unit.clause).collect();
    clauses.dedup();
    clauses
}

/// The tokens of clauses in which the body is told of, as ranges.
pub(super) fn told(marked: &Marked) -> Vec<(usize, usize)> {
    let about = PLACES.with(COMPLAINTS).with(SYMPTOMS);
    let mut out: Vec<(usize, usize)> = Vec::new();
    let mut last = None;
    let telling = clauses(marked, |unit| unit.concepts.any(about));
    for unit in &marked.units {
        if telling.binary_search(&unit.clause).is_err() {
            continue;
        }
        match out.last_mut() {
            Some(range) if last == Some(unit.clause) => range.1 = unit.to,
            _ => out.push((unit.from, unit.to)),
        }
        last = Some(unit.clause);
    }
    out
}
