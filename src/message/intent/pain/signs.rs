//! Warning signs by what their words mean: for each sign, concepts that stand together.
//!
//! These rules go before the learned decision: a sign that is told of the writer, now, and is not
//! denied is answered however it is worded. Sources: as listed in [`crate::domain::quantities::warning`].

use crate::domain::quantities::warning::WarningSign;
use crate::message::words::Concept::{self, *};
use crate::message::words::variants::List;
use crate::message::words::{Concepts, Marked};

use super::scope::{self, FAR, Scope};

/// Pain told plainly: a place and what is said of it, or an injury of oneself.
#[rustfmt::skip]
const PLAIN: &[Rule] = &[
    rule(WarningSign::Help, 3, &[&PLACES, &[Pain, Sharp, Buckled, Grumble]]),
    rule(WarningSign::Help, 3, &[&PLACES, &[Injury, Sound]]),
    rule(WarningSign::Help, 4, &[&PLACES, &[Swollen, Locked, Wound, Limp]]),
    rule(WarningSign::Help, 1, &[&[Hurt]]),
    // `my back just went`: what was learned has to tell it from a chest day that went well.
    rule(WarningSign::Help, 2, &[&PLACES, &[Went]]),
];

/// The number of the rule for an injury of oneself.
pub(super) const INJURY: u8 = 3;

/// Places, as a group of a rule.
const PLACES: [Concept; 14] = [
    Joint, Back, Neck, Head, Face, Chest, Limb, Hand, Calf, Muscle, Belly, Bone, Eyes, Throat,
];

/// Concepts of which one from each group stands within so many words of the others.
struct Rule {
    sign: WarningSign,
    groups: &'static [&'static [Concept]],
    /// Words between the first and the last, and whether they may be in different sentences.
    within: usize,
}

const fn rule(sign: WarningSign, within: usize, groups: &'static [&'static [Concept]]) -> Rule {
    Rule {
        sign,
        groups,
        within,
    }
}

#[rustfmt::skip]
const RULES: &[Rule] = &[
    rule(WarningSign::Suicide, 1, &[&[Suicide]]),
    rule(
        WarningSign::Bystander, 16,
        &[&[Stranger, Other], &[Fainted, Unresponsive, Seizure], &[Near, Emergency]],
    ),
    rule(WarningSign::Bystander, 12, &[&[Unresponsive, Seizure], &[Emergency, Near]]),
    rule(WarningSign::Chest, 6, &[&[Chest], &[Tight, Pain, Sharp]]),
    rule(WarningSign::Chest, 12, &[&[Chest], &[Spreads, LeftArm]]),
    rule(WarningSign::Chest, 6, &[&[Heart], &[Pain, Sharp]]),
    rule(
        WarningSign::Chest, 12,
        &[&[Tight, Pain, Indigestion], &[Spreads, LeftArm], &[Breathless, Clammy, Sick, AtRest, Effort]],
    ),
    rule(WarningSign::Chest, 10, &[&[Indigestion], &[Spreads, LeftArm, Clammy]]),
    rule(WarningSign::Chest, 4, &[&[DownArm], &[Pain, Sharp, Tight, Dead]]),
    rule(WarningSign::Chest, 1, &[&[HeartAttack]]),
    rule(WarningSign::Heart, 6, &[&[Heart], &[OddBeat]]),
    rule(WarningSign::Heart, 1, &[&[Palpitations]]),
    rule(WarningSign::Heart, 14, &[&[Heart], &[Racing], &[AtRest, Long]]),
    rule(WarningSign::Breath, 1, &[&[NoAir]]),
    rule(WarningSign::Breath, 12, &[&[Breathless], &[AtRest, Long]]),
    rule(WarningSign::Breath, 8, &[&[Wheeze], &[Unable, Emergency, Still, Breath]]),
    rule(WarningSign::Faint, 1, &[&[Fainted]]),
    rule(WarningSign::Faint, 1, &[&[Dizzy]]),
    rule(WarningSign::Faint, 1, &[&[Seizure]]),
    rule(WarningSign::Stroke, 6, &[&[Face], &[Droops, Numb, Weak]]),
    rule(WarningSign::Stroke, 6, &[&[Speech], &[Slurred]]),
    rule(WarningSign::Stroke, 8, &[&[Headache], &[Worst]]),
    rule(WarningSign::Stroke, 1, &[&[Dimmed]]),
    rule(WarningSign::Head, 7, &[&[Blow], &[Head]]),
    rule(WarningSign::Head, 1, &[&[Concussion]]),
    rule(WarningSign::Head, 12, &[&[Head], &[Object], &[Confused, Sick, Dizzy]]),
    rule(WarningSign::Neck, 7, &[&[Blow], &[Neck, Throat]]),
    rule(WarningSign::Limb, 6, &[&[Numb, Weak], &[Limb, Hand]]),
    rule(WarningSign::Bladder, 10, &[&[Leaks], &[Urine, Saddle]]),
    rule(WarningSign::Bladder, 10, &[&[Numb], &[Saddle, Urine]]),
    rule(WarningSign::Urine, 1, &[&[DarkUrine]]),
    rule(WarningSign::Urine, 8, &[&[Urine], &[Dark]]),
    rule(WarningSign::Bone, 8, &[&[Deformed], &[Bone, Joint, Limb, Hand, Calf]]),
    rule(WarningSign::Bone, 4, &[&[Broke], &[Bone, Joint, Limb, Hand]]),
    rule(WarningSign::Clot, 12, &[&[Calf], &[Swollen], &[Hot, Long, Side, Still]]),
    rule(WarningSign::Clot, 8, &[&[Calf], &[Hot], &[Swollen, Pain, Sore, Locked, Tight]]),
    rule(WarningSign::Clot, 12, &[&[Limb], &[Swollen], &[Hot]]),
    rule(WarningSign::Heat, 25, &[&[Hot], &[Confused, NoSweat]]),
    rule(WarningSign::Allergy, 6, &[&[Throat], &[Closing]]),
    rule(WarningSign::Allergy, 5, &[&[Face, Eyes], &[Swollen, Closing]]),
    rule(WarningSign::Allergy, 12, &[&[Hives], &[Throat, Wheeze, Allergen, Swollen]]),
    rule(WarningSign::Allergy, 12, &[&[Allergen], &[Closing, Swollen, Hives, Wheeze]]),
    rule(WarningSign::Bleeding, 1, &[&[Gushes]]),
    rule(WarningSign::Bleeding, 10, &[&[Blood, Gash], &[Flows]]),
    rule(WarningSign::Bleeding, 8, &[&[Pregnant], &[Blood]]),
    rule(WarningSign::Bleeding, 14, &[&[Cloth], &[Soaked], &[Blood, Gash, Hand, Head, Bone, Throat]]),
];

/// A sign that was found, with whose and when.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Found {
    /// Which.
    pub sign: WarningSign,
    /// First unit.
    pub from: usize,
    /// Unit behind the last.
    pub to: usize,
    /// Whose it is, and when.
    pub scope: Scope,
}

impl Found {
    /// Whether it is to be answered: the writer's own, now, not denied, or somebody else's beside
    /// the writer.
    pub(crate) const fn holds(&self) -> bool {
        let scope = self.scope;
        match self.sign {
            WarningSign::Bystander => !scope.past && !scope.denied && !scope.supposed,
            _ => scope.is_own_now(),
        }
    }
}

/// All signs in a message, at most one for each rule and place.
pub(crate) fn signs(marked: &Marked) -> Vec<Found> {
    let mut found = Vec::new();
    for rule in RULES {
        if rule
            .groups
            .iter()
            .any(|group| !marked.concepts.any(Concepts::of(group)))
        {
            continue;
        }
        found.extend(of_rule(marked, rule));
    }
    found
}

/// Whether pain is told plainly, by the number of the rule, and whose.
pub(crate) fn plain(marked: &Marked) -> Vec<(u8, Found)> {
    let found = |(at, rule): (usize, &Rule)| Some((u8::try_from(at).ok()?, of_rule(marked, rule)?));
    PLAIN.iter().enumerate().filter_map(found).collect()
}

/// The tightest place where all groups of a rule stand; the first that is told of the writer now.
fn of_rule(marked: &Marked, rule: &Rule) -> Option<Found> {
    let units = &marked.units;
    let mut best: Option<Found> = None;
    let anchors = rule.groups.first()?;
    for at in 0..units.len() {
        if !units[at].concepts.any(Concepts::of(anchors)) || units[at].is(Lift) {
            continue;
        }
        let (mut from, mut to) = (at, at + 1);
        let all = rule.groups[1..].iter().all(|group| {
            let group = Concepts::of(group);
            let near = (0..=rule.within).find_map(|far| {
                let behind =
                    Some(at + far).filter(|&i| units.get(i).is_some_and(|u| u.concepts.any(group)));
                let before = at
                    .checked_sub(far)
                    .filter(|&i| units[i].concepts.any(group));
                // A word that stands for both groups is not two words.
                behind.or(before).filter(|&i| i != at)
            });
            if let Some(near) = near {
                from = from.min(near);
                to = to.max(near + 1);
            }
            near.is_some()
        });
        if !all {
            continue;
        }
        let one = Found {
            sign: rule.sign,
            from,
            to,
            scope: scope::scope(marked, from, to),
        };
        if is_harmless(marked, &one) {
            continue;
        }
        if one.holds() {
            return Some(one);
        }
        best.get_or_insert(one);
    }
    best
}

/// What goes dark, or falls, without anybody's head.
static LIGHTS: List = List::of(
    "power, fuse, fuses, light, lights, lamp, bulb, screen, tv, outage, projector, gym, cut",
);

/// Where one lies down of one's own accord, and what makes one.
static COMFORTS: List = List::of(
    "sofa, couch, bed, settee, hammock, beanbag, asleep, slept, sleep, laughing, drunk, pub, early, pillow, mat, \
     finish",
);

/// Cold numbs hands without harm.
static COLD: List = List::of("cold, freezing, frozen, ice, icy, snow, wind, winter");

/// What is opened where the air is bad.
static STUFFY: List = List::of("stuffy, door|doors, window|windows");

/// What one tells of oneself without a pronoun.
static TELLS: List = List::of("felt, feel, feeling, getting, nearly, almost, bit, went");

/// What is seen, spun or handed out with a clear head.
static SHOWS: List =
    List::of("planetarium, digits, class, camping, camp, flyers, leaflets, twins, cake");

/// A sign of which a word beside it makes something harmless.
fn is_harmless(marked: &Marked, found: &Found) -> bool {
    let units = &marked.units;
    let Some(first) = units.get(found.from) else {
        return false;
    };
    let near = found.from.saturating_sub(FAR)..units.len().min(found.to + FAR);
    let near = units.get(near).unwrap_or_default();
    let sentence = || near.iter().filter(|unit| unit.sentence == first.sentence);
    let says_any =
        |list: &dyn Fn(&str) -> bool| sentence().any(|unit| unit.text.split(' ').any(list));
    let says = |list: &List| says_any(&|word| list.has(word));
    let before = found.from.checked_sub(1).map(|at| &units[at]);
    // A word that is a sign by itself has to be the writer's: by a pronoun, by what stands around it,
    // or because nearly nothing does.
    let alone = found.to == found.from + 1 && !matches!(found.sign, WarningSign::Suicide);
    let framed = || {
        let frame = Concepts::of(&[Me, My, Onset, Lift, AtRest, Now, Still, Stops, Near, Advice]);
        sentence().count() <= 5 || says(&TELLS) || sentence().any(|unit| unit.concepts.any(frame))
    };
    if alone && !framed() {
        return true;
    }
    match found.sign {
        WarningSign::Faint if first.is(Fainted) => {
            let falls = first.text.starts_with("collaps");
            let of_part = before.is_some_and(|unit| {
                unit.clause == first.clause
                    && unit
                        .concepts
                        .any(Concepts::of(&[Joint, Back, Chest, Limb, Object, Gear]))
            });
            says(&COMFORTS) || says(&LIGHTS) || falls && (of_part || marked.laughs)
        }
        WarningSign::Faint => says(&SHOWS),
        WarningSign::Stroke if first.is(Dimmed) => says(&SHOWS),
        WarningSign::Breath if says(&COLD) || says(&STUFFY) => true,
        WarningSign::Breath if first.is(NoAir) => {
            let set = sentence().any(|unit| unit.is(Onset) || unit.is(Effort))
                && !first.text.contains("proper");
            marked.laughs
                || says_any(&|word| matches!(word, "yet" | "laughing" | "gimme" | "give"))
                || set
        }
        WarningSign::Limb => {
            says(&COLD) || marked.laughs && says_any(&|word| matches!(word, "legs" | "arms"))
        }
        WarningSign::Bleeding => {
            says_any(&|word| matches!(word, "callus" | "blister" | "blisters"))
        }
        _ => false,
    }
}
