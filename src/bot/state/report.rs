//! Reports of pain as they are kept with a member until a coach lifts them.
//!
//! Each stands by itself, with its own words, places, sign and day: none overwrites another. What a
//! report withholds follows from what it says; nothing here is said to anybody.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Deserializer, Serialize};

use crate::domain::quantities::body::{BodyArea, Place, Side};
use crate::domain::quantities::catalogue::Exercise;
use crate::domain::quantities::warning::WarningSign;
use crate::message::reading::Hurt;

/// One report.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Report {
    /// Counts a member's reports, from 1; kept by none of the others.
    pub number: u32,
    /// When it was told.
    pub at: DateTime<Utc>,
    /// The member's message that tells it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub message: String,
    /// The channel that it was told in.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub channel: String,
    /// The bot's reply to it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub reply: String,
    /// The member's own words, shortened.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub words: String,
    /// The place or symptom, as written.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub body: Option<String>,
    /// The places that it names.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<PlaceData>,
    /// The warning sign, as [`WarningSign::word`] has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sign: Option<String>,
    /// The exercise that it is told of, or was at hand where no place was named, by name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exercise: Option<String>,
    /// When the member said that it was no injury.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub denied: Option<DateTime<Utc>>,
    /// Who told it, where that was not the member.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<Teller>,
}

/// Somebody of the team who tells of another's pain.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Teller {
    /// The channel's name for them.
    pub author: String,
    /// The name that they are shown by.
    pub name: String,
}

/// A place in words, as it is stored.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlaceData {
    /// As [`BodyArea::word`] has it.
    pub area: String,
    /// As [`Side::word`] has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side: Option<String>,
}

impl From<&Place> for PlaceData {
    fn from(place: &Place) -> Self {
        Self {
            area: place.area.word().to_owned(),
            side: place.side.map(|side| side.word().to_owned()),
        }
    }
}

impl PlaceData {
    /// The place; `None` where it is of a later version.
    pub fn place(&self) -> Option<Place> {
        Some(Place {
            area: BodyArea::from_word(&self.area)?,
            side: self.side.as_deref().and_then(Side::from_word),
        })
    }
}

/// Longest words kept, characters.
const LONGEST: usize = 300;

/// Loads are held back for this long while somebody else needs help.
const HELPS_FOR: TimeDelta = TimeDelta::hours(3);

impl Report {
    /// A report just read; `exercise` is what it is told of, by name.
    pub fn new(hurt: &Hurt, words: &str, exercise: Option<&str>, at: DateTime<Utc>) -> Self {
        Self {
            number: 0,
            at,
            message: String::new(),
            channel: String::new(),
            reply: String::new(),
            words: words.trim().chars().take(LONGEST).collect(),
            body: hurt.body.clone(),
            places: hurt.places.iter().map(PlaceData::from).collect(),
            sign: hurt.sign.map(|sign| sign.word().to_owned()),
            exercise: exercise.map(str::to_owned),
            denied: None,
            by: None,
        }
    }

    /// A warning sign without the pain that is told beside it, and that pain as a report of its own: a
    /// doctor's word on the chest opens no hurt back.
    pub fn apart(mut self) -> (Self, Option<Self>) {
        let Some(sign) = self.sign() else {
            return (self, None);
        };
        let is_of_sign = |place: &PlaceData| {
            let place = place.place();
            place.is_none_or(|place| covers(sign, place.area))
        };
        let (own, beside): (Vec<_>, Vec<_>) = self.places.drain(..).partition(is_of_sign);
        self.places = own;
        if beside.is_empty() {
            return (self, None);
        }
        let pain = Self {
            sign: None,
            body: None,
            reply: String::new(),
            places: beside,
            ..self.clone()
        };
        (self, Some(pain))
    }

    /// The report without the places that `gone` names; `None` where none is left.
    pub fn without(&self, gone: &[Place]) -> Option<Self> {
        let left = |place: &PlaceData| match place.place() {
            Some(place) => remaining(place, gone).map(|place| PlaceData::from(&place)),
            None => Some(place.clone()),
        };
        let places: Vec<PlaceData> = self.places.iter().filter_map(left).collect();
        (!places.is_empty()).then(|| Self {
            // As it was written, it may name what is gone.
            body: self.body.clone().filter(|_| places == self.places),
            places,
            ..self.clone()
        })
    }

    /// Whether it names one of these places.
    pub fn names(&self, places: &[Place]) -> bool {
        let mut own = self.places.iter().filter_map(PlaceData::place);
        own.any(|place| remaining(place, places) != Some(place))
    }

    /// Whether another report tells of all the places of this one.
    pub fn is_within(&self, other: &Self) -> bool {
        let told: Vec<Place> = other.places.iter().filter_map(PlaceData::place).collect();
        !self.places.is_empty() && self.without(&told).is_none()
    }

    /// The warning sign, if it is one; a word of a later version still is one.
    pub fn sign(&self) -> Option<WarningSign> {
        let word = self.sign.as_deref()?;
        Some(WarningSign::from_word(word).unwrap_or(WarningSign::Help))
    }

    /// The areas that it names.
    pub fn areas(&self) -> impl Iterator<Item = BodyArea> + '_ {
        let places = self.places.iter().filter_map(PlaceData::place);
        places.map(|place| place.area)
    }

    /// Whether it withholds anything: until the member takes it back, and after a warning sign of their
    /// own until a coach lifts it whatever the member says.
    pub fn is_open(&self) -> bool {
        self.denied.is_none() || self.is_sign()
    }

    /// Whether coaches still see it.
    pub fn is_shown(&self, now: DateTime<Utc>) -> bool {
        self.is_open() || self.denied.is_some_and(|at| now - at < SHOWN_FOR)
    }

    /// Whether it is a warning sign of the member's own: a call for help for somebody else is none.
    pub fn is_sign(&self) -> bool {
        self.sign()
            .is_some_and(|sign| sign != WarningSign::Bystander)
    }

    /// Whether it withholds everything: after a warning sign, after a blow to the head, and where
    /// nothing tells what hurts.
    pub fn withholds_all(&self, now: DateTime<Utc>) -> bool {
        if !self.is_open() {
            return false;
        }
        match self.sign() {
            Some(WarningSign::Bystander) => now - self.at < HELPS_FOR,
            Some(_) => true,
            None => {
                self.areas().any(|area| area == BodyArea::Head)
                    || self.areas().next().is_none() && self.exercise.is_none()
            }
        }
    }

    /// Whether it withholds loads for this exercise.
    pub fn withholds(&self, exercise: &Exercise, now: DateTime<Utc>) -> bool {
        if self.sign.is_some() || !self.is_open() {
            return self.withholds_all(now);
        }
        self.withholds_all(now)
            || self.exercise.as_deref() == Some(&exercise.name)
            || self.areas().any(|area| exercise.strains(area))
    }

    /// What is marked as cleared once it is lifted: keys of [`super::MemberState::cleared`].
    pub fn clears(&self) -> Vec<String> {
        let areas = self.areas().flat_map(|area| area.parts());
        let areas = areas.map(|&area| cleared_area(area));
        let mut keys: Vec<String> = areas.chain(self.exercise.clone()).collect();
        if keys.is_empty() || self.sign.is_some() {
            keys = vec![String::new()];
        }
        keys
    }
}

/// What is left of a place once these are gone: of both knees without the left one, the right one.
fn remaining(place: Place, gone: &[Place]) -> Option<Place> {
    let parts = place.area.parts();
    let mut left = Some(place);
    for other in gone {
        let meets = other.area.parts().iter().any(|part| parts.contains(part));
        left = match (left, other.side) {
            (Some(one), Some(side @ (Side::Left | Side::Right))) if meets => match one.side {
                Some(Side::Both) => Some(Place {
                    side: Some(match side {
                        Side::Left => Side::Right,
                        _ => Side::Left,
                    }),
                    ..one
                }),
                Some(of) if of != side => Some(one),
                _ => None,
            },
            (_, _) if meets => None,
            (left, _) => left,
        };
    }
    left
}

/// Whether what is told of an area belongs to the sign; pain elsewhere is pain beside it. Common
/// practice, no source: where chest pain spreads, from memory of the sources of
/// [`crate::domain::quantities::warning`].
const fn covers(sign: WarningSign, area: BodyArea) -> bool {
    use BodyArea as Area;
    let in_limb = matches!(
        area,
        Area::UpperArm
            | Area::Forearm
            | Area::Wrist
            | Area::Hand
            | Area::Arm
            | Area::FrontThigh
            | Area::BackThigh
            | Area::Calf
            | Area::Shin
            | Area::Foot
            | Area::Leg
    );
    match sign {
        WarningSign::Overdose
        | WarningSign::Suicide
        | WarningSign::Bystander
        | WarningSign::Bleeding
        | WarningSign::Bone
        | WarningSign::Urine
        | WarningSign::Clot => true,
        WarningSign::Chest => matches!(
            area,
            Area::Chest
                | Area::Head
                | Area::Neck
                | Area::UpperArm
                | Area::Forearm
                | Area::Wrist
                | Area::Hand
                | Area::Arm
        ),
        WarningSign::Heart | WarningSign::Breath => matches!(area, Area::Chest),
        WarningSign::Allergy => matches!(area, Area::Head | Area::Neck | Area::Chest),
        WarningSign::Stroke => in_limb || matches!(area, Area::Head),
        WarningSign::Faint | WarningSign::Heat | WarningSign::Sugar => {
            matches!(area, Area::Head)
        }
        WarningSign::Neck => matches!(
            area,
            Area::Neck | Area::Head | Area::UpperBack | Area::LowerBack | Area::Back
        ),
        WarningSign::Head => matches!(area, Area::Head | Area::Neck),
        WarningSign::Limb => in_limb,
        WarningSign::Bladder => {
            in_limb
                || matches!(
                    area,
                    Area::LowerBack | Area::Back | Area::Groin | Area::Buttock | Area::Abdomen
                )
        }
        WarningSign::Help => false,
    }
}

/// The key under which an area is marked as cleared.
pub fn cleared_area(area: BodyArea) -> String {
    format!("in {}", area.word())
}

/// So long coaches see what was taken back, and questions that were not answered.
pub(crate) const SHOWN_FOR: TimeDelta = TimeDelta::days(7);
/// Reports kept of a member; the oldest without a warning sign give way.
pub(crate) const MOST: usize = 40;

/// The question whether something hurts, while it stands unanswered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HurtAsked {
    /// The bot's reply that asks.
    pub reply: String,
    /// The report that a yes makes of it.
    pub report: Report,
}

/// Reads stored questions, also as they were stored before: one, or none.
///
/// # Errors
/// The deserialiser's, where it is neither.
pub fn stored_questions<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<HurtAsked>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Stored {
        Questions(Vec<HurtAsked>),
        One(Option<Box<HurtAsked>>),
    }
    Ok(match Stored::deserialize(from)? {
        Stored::Questions(questions) => questions,
        Stored::One(one) => one.into_iter().map(|one| *one).collect(),
    })
}

/// A member can say for so long that a report was none.
pub const TAKEN_BACK_WITHIN: TimeDelta = TimeDelta::hours(1);

/// What a member told of themselves that belongs to a licensed professional.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedCaution {
    /// As [`crate::domain::quantities::warning::Caution::word`] has it.
    pub caution: String,
    /// When it was told last.
    pub at: DateTime<Utc>,
}

/// Reads stored reports, also as they were stored before: one lock for each exercise, by its name,
/// and one for all of them under the empty name.
///
/// # Errors
/// The deserialiser's, where it is neither.
pub fn stored<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Report>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Stored {
        Reports(Vec<Report>),
        Locks(BTreeMap<String, Lock>),
    }
    Ok(match Stored::deserialize(from)? {
        Stored::Reports(reports) => reports,
        Stored::Locks(locks) => (1..)
            .zip(locks)
            .map(|(number, (exercise, lock))| lock.report(number, exercise))
            .collect(),
    })
}

/// A lock as it was stored before.
#[derive(Deserialize)]
struct Lock {
    body: Option<String>,
    at: DateTime<Utc>,
    red_flag: bool,
}

impl Lock {
    fn report(self, number: u32, exercise: String) -> Report {
        let body = self.body.as_deref().unwrap_or_default();
        // The end of the words names the place: `left shoulder`, `lower back`.
        let named = |area: &BodyArea| body.trim_end_matches('s').ends_with(area.word());
        let area = BodyArea::ALL
            .into_iter()
            .filter(named)
            .max_by_key(|area| area.word().len());
        let places = area.map(|area| PlaceData {
            area: area.word().to_owned(),
            side: None,
        });
        Report {
            number,
            at: self.at,
            message: String::new(),
            channel: String::new(),
            reply: String::new(),
            words: body.to_owned(),
            places: places.into_iter().collect(),
            sign: self.red_flag.then(|| WarningSign::Help.word().to_owned()),
            exercise: Some(exercise).filter(|name| !name.is_empty()),
            body: self.body,
            denied: None,
            by: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bot::state::MemberState;
    use crate::config;

    #[test]
    fn locks_of_an_earlier_version_are_read_as_reports() {
        let old = r#"{"hurt": {"": {"body": "chest", "at": "2026-11-02T17:00:00Z", "red_flag": true},
            "back squat": {"body": "left knee", "at": "2026-11-03T17:00:00Z", "red_flag": false}},
            "cleared": {"": "2026-10-01T17:00:00Z"}}"#;
        let state: MemberState = serde_json::from_str(old).unwrap();
        let [chest, knee] = state.hurt.as_slice() else {
            panic!("{:?}", state.hurt);
        };
        let catalogue = config::built_in();
        let now = knee.at;
        for (_, exercise) in catalogue.exercises() {
            assert!(chest.withholds(exercise, now), "{}", exercise.name);
        }
        assert_eq!(chest.sign(), Some(WarningSign::Help));
        let of = |name| catalogue.exercise(catalogue.named(name).unwrap());
        assert!(knee.withholds(of("back squat"), now) && knee.withholds(of("lunge"), now));
        assert!(!knee.withholds(of("bench press"), now));
        let again: MemberState =
            serde_json::from_str(&serde_json::to_string(&state).unwrap()).unwrap();
        assert_eq!(again, state);
    }

    #[test]
    fn a_lock_without_a_name_and_place_held_everything_and_still_does() {
        let old =
            r#"{"hurt": {"": {"body": null, "at": "2026-11-02T17:00:00Z", "red_flag": false}}}"#;
        let state: MemberState = serde_json::from_str(old).unwrap();
        let now = state.hurt[0].at;
        assert!(state.hurt[0].withholds_all(now));
        assert_eq!(state.hurt[0].clears(), [String::new()]);
    }

    #[test]
    fn a_question_of_an_earlier_version_is_read_as_one_of_several() {
        let old = r#"{"hurt_asked": {"reply": "m1.1", "report":
            {"number": 0, "at": "2026-11-02T17:00:00Z", "words": "my shoulder is screwed"}}}"#;
        let state: MemberState = serde_json::from_str(old).unwrap();
        assert_eq!(state.hurt_asked.len(), 1);
        let again: MemberState =
            serde_json::from_str(&serde_json::to_string(&state).unwrap()).unwrap();
        assert_eq!(again, state);
    }

    fn told_of(places: &[(BodyArea, Option<Side>)], sign: Option<WarningSign>) -> Report {
        let places = places.iter();
        let hurt = Hurt {
            places: places.map(|&(area, side)| Place { area, side }).collect(),
            sign,
            ..Hurt::default()
        };
        Report::new(&hurt, "ow", None, DateTime::UNIX_EPOCH)
    }

    #[test]
    fn what_is_named_goes_and_the_rest_of_the_report_stays() {
        let both = told_of(
            &[
                (BodyArea::Shoulder, None),
                (BodyArea::Knee, Some(Side::Both)),
            ],
            None,
        );
        let place = |area, side| Place { area, side };
        let left = both
            .without(&[place(BodyArea::Knee, Some(Side::Left))])
            .unwrap();
        let areas: Vec<_> = left.places.iter().filter_map(PlaceData::place).collect();
        assert_eq!(
            areas,
            [
                place(BodyArea::Shoulder, None),
                place(BodyArea::Knee, Some(Side::Right))
            ]
        );
        let left = both.without(&[place(BodyArea::Shoulder, None)]).unwrap();
        assert_eq!(left.areas().collect::<Vec<_>>(), [BodyArea::Knee]);
        assert!(left.without(&[place(BodyArea::Leg, None)]).is_none());
        // The lower back is a part of the back.
        let back = told_of(&[(BodyArea::LowerBack, None)], None);
        assert!(back.names(&[place(BodyArea::Back, None)]));
        assert!(!back.names(&[place(BodyArea::UpperBack, None)]));
    }

    #[test]
    fn pain_beside_a_warning_sign_is_a_report_of_its_own() {
        let places = [
            (BodyArea::Chest, None),
            (BodyArea::Arm, Some(Side::Left)),
            (BodyArea::Back, None),
        ];
        let (sign, pain) = told_of(&places, Some(WarningSign::Chest)).apart();
        assert_eq!(
            sign.areas().collect::<Vec<_>>(),
            [BodyArea::Chest, BodyArea::Arm]
        );
        let pain = pain.unwrap();
        assert_eq!(pain.areas().collect::<Vec<_>>(), [BodyArea::Back]);
        assert_eq!(pain.sign(), None);
        let (same, none) = told_of(&places, None).apart();
        assert_eq!((same.places.len(), none), (3, None));
    }

    #[test]
    fn taking_a_report_back_opens_everything_but_after_a_warning_sign() {
        let at = DateTime::UNIX_EPOCH;
        let mut report = Report::new(&Hurt::default(), "ow", None, at);
        assert!(report.withholds_all(at));
        report.denied = Some(at);
        assert!(!report.withholds_all(at));
        report.sign = Some("chest".to_owned());
        assert!(report.withholds_all(at));
    }
}
