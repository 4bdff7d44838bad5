//! How a set felt, said behind it in one message.

use chrono::Duration;

use crate::bot::state::view::View;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::warning::WarningSign;
use crate::message::intent::feel::feel;
use crate::message::intent::talk::words_of;
use crate::message::reading::{Hurt, Reading};

/// A reading with how its last set felt, where that is said behind it and no effort is: `squat 30x10,
/// felt easy`.
pub(super) fn with_feel(mut reading: Reading, text: &str) -> Reading {
    let clauses = text.split([',', ';', '.', '!', '\n']).map(str::trim);
    let mut clauses = clauses.filter(|clause| !clause.is_empty());
    let (first, last) = (clauses.next(), clauses.next_back());
    let behind_clause = last.filter(|_| first.is_some()).and_then(feel);
    let behind_set = || feel(behind_number(text)?).filter(|_| reading.sets.len() == 1);
    if let Some(feel) = behind_clause.or_else(behind_set)
        && let Some(set) = reading.sets.last_mut()
        && set.rir.is_none()
        && !set.warm_up
        && set.reps > 0
    {
        set.rir = Rir::new(feel.leaves()).ok();
    }
    reading
}

/// The words behind the last number of a text.
fn behind_number(text: &str) -> Option<&str> {
    let last = text.rfind(|c: char| c.is_ascii_digit())?;
    text[last + 1..].split_once(' ').map(|(_, words)| words)
}

/// Right after a set whoever pants is not ready, whether sitting or lying: `sat on the bench, still out of breath`.
/// Breath that does not come, or another sign beside it, stays a warning sign at any time.
const AFTER_SET: Duration = Duration::minutes(5);
/// Words of breath that a set explains.
const WINDED: &str =
    "winded, puffing, puffed, panting, gassed, blowing, out of breath, breathing h";
/// Words beside them that a set does not explain.
const UNEXPLAINED: &str = "can't, cant, cannot, couldn't, won't, wont, not coming, hard to, struggl, wheez, \
    whistl, inhal, asthma, chest, dizz, faint, throat, tight, help, blue, scared, min";

/// The heart, and what is said of it when it beats fast.
const HEART: &str = "heart rate|heartrate|pulse|heart|hr|bpm";
const FAST: &str = "high, way up, up there, going like, through the roof, racing, pounding, thumping, hammering, fast";
/// At rest that is a sign.
const AT_REST: &str = "sitting, sat here, lying, at rest, resting, in bed, sofa, doing nothing, for no reason, won't come \
    down, wont come down, not coming down, skip, flutter, irregular, palpit, missed, missing, pain, hurt";

/// Limbs, and what a hard set leaves them like.
const LIMBS: &str = "legs|arms|quads|hammies|hamstrings|thighs|glutes|calves|triceps|biceps";
const SHAKY: &str = "wobbl, jelly, shaking, shaky, shook, trembl, quiver, spaghetti, noodle";
/// Beside them that is no effort: one side, a fall, no feeling.
const NO_EFFORT: &str = "numb, tingl, weak, left, right, one side, half, fell, fall, collaps, dizz, faint, light, black, \
    back, neck, head, can't, cant, cannot, won't, wont, gave, giving, gone, sudden, still, pins, hour, yesterday, since, \
    pain, hurt, sore, ache, face, speech, help, but, chest, sick, feel my";

/// A reading in which what the set before explains is no warning sign: breath, a fast heart, limbs that shake.
pub(super) fn spent(view: &View, mut reading: Reading, text: &str) -> Reading {
    let fresh = view
        .last()
        .is_some_and(|last| view.now - last.set.at <= AFTER_SET);
    if !fresh {
        return reading;
    }
    let low = text.to_lowercase();
    let says = |words: &str| words.split(", ").any(|word| low.contains(word));
    let words = words_of(text);
    let names = |list: &str| {
        words
            .iter()
            .any(|word| list.split('|').any(|one| one == word))
    };
    let heard = |sign: WarningSign| {
        let is = |hurt: &Hurt| hurt.sign == Some(sign);
        reading.hurt.as_ref().is_some_and(is) || reading.may_hurt.as_ref().is_some_and(is)
    };
    let (of_breath, of_limb) = (heard(WarningSign::Breath), heard(WarningSign::Limb));
    if of_breath && says(WINDED) && !says(UNEXPLAINED) {
        (reading.hurt, reading.may_hurt) = (None, None);
        let said = reading.readiness.get_or_insert_default();
        said.breath = said.breath.or(Some(false));
        return reading;
    }
    let told = reading.hurt.is_some() || reading.may_hurt.is_some();
    let plain = reading.sets.is_empty() && reading.unclear.is_none() && reading.caution.is_none();
    let beats = words
        .iter()
        .any(|word| BEATS.contains(&word.parse().unwrap_or(0)));
    if !told && plain && names(HEART) && (says(FAST) || beats) {
        if says(AT_REST) {
            reading.may_hurt = Some(Hurt {
                body: None,
                places: Vec::new(),
                sign: Some(WarningSign::Heart),
                exercise: None,
            });
        } else {
            reading.readiness.get_or_insert_default().breath = Some(false);
        }
    }
    let of_limbs = !told || of_limb;
    if of_limbs && plain && names(LIMBS) && says(SHAKY) && !says(NO_EFFORT) {
        (reading.hurt, reading.may_hurt) = (None, None);
        reading.readiness.get_or_insert_default().muscle = Some(false);
    }
    reading
}

/// Beats a minute of a heart at work.
const BEATS: std::ops::RangeInclusive<u32> = 120..=220;
