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
    #[must_use]
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
    #[must_use]
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
        }
    }

    /// The warning sign, if it is one; a word of a later version still is one.
    #[must_use]
    pub fn sign(&self) -> Option<WarningSign> {
        let word = self.sign.as_deref()?;
        Some(WarningSign::from_word(word).unwrap_or(WarningSign::Help))
    }

    /// The areas that it names.
    pub fn areas(&self) -> impl Iterator<Item = BodyArea> + '_ {
        let places = self.places.iter().filter_map(PlaceData::place);
        places.map(|place| place.area)
    }

    /// Whether it withholds anything: until the member takes it back, and after a warning sign until
    /// a coach lifts it whatever the member says.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.denied.is_none() || self.sign.is_some()
    }

    /// Whether it withholds everything: after a warning sign, after a blow to the head, and where
    /// nothing tells what hurts.
    #[must_use]
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
    #[must_use]
    pub fn withholds(&self, exercise: &Exercise, now: DateTime<Utc>) -> bool {
        if self.sign.is_some() || !self.is_open() {
            return self.withholds_all(now);
        }
        self.withholds_all(now)
            || self.exercise.as_deref() == Some(&exercise.name)
            || self.areas().any(|area| exercise.strains(area))
    }

    /// What is marked as cleared once it is lifted: keys of [`super::Desk::cleared`].
    #[must_use]
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

/// The key under which an area is marked as cleared.
#[must_use]
pub fn cleared_area(area: BodyArea) -> String {
    format!("in {}", area.word())
}

/// The question whether something hurts, while it stands unanswered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HurtAsked {
    /// The bot's reply that asks.
    pub reply: String,
    /// The report that a yes makes of it.
    pub report: Report,
}

/// What a member told of themselves that belongs to a licensed professional.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CautionTold {
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
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bot::state::Desk;
    use crate::config;

    #[test]
    fn locks_of_an_earlier_version_are_read_as_reports() {
        let old = r#"{"hurt": {"": {"body": "chest", "at": "2026-11-02T17:00:00Z", "red_flag": true},
            "back squat": {"body": "left knee", "at": "2026-11-03T17:00:00Z", "red_flag": false}},
            "cleared": {"": "2026-10-01T17:00:00Z"}}"#;
        let desk: Desk = serde_json::from_str(old).unwrap();
        let [chest, knee] = desk.hurt.as_slice() else {
            panic!("{:?}", desk.hurt);
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
        let again: Desk = serde_json::from_str(&serde_json::to_string(&desk).unwrap()).unwrap();
        assert_eq!(again, desk);
    }

    #[test]
    fn a_lock_without_a_name_and_place_held_everything_and_still_does() {
        let old =
            r#"{"hurt": {"": {"body": null, "at": "2026-11-02T17:00:00Z", "red_flag": false}}}"#;
        let desk: Desk = serde_json::from_str(old).unwrap();
        let now = desk.hurt[0].at;
        assert!(desk.hurt[0].withholds_all(now));
        assert_eq!(desk.hurt[0].clears(), [String::new()]);
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
