//! The data files in `config/` as typed values.
//!
//! The files are part of the binary, so that a start needs no file beside it. What stands in them
//! is checked here once; a fault is told with the file, the entry and what to change. Settings that
//! differ from one installation to the next are no business of this module.

pub mod priors;

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use serde::Deserialize;

use crate::domain::quantities::body::BodyArea;
use crate::domain::quantities::catalogue::{
    Basis, Catalogue, CatalogueError, Equipment, Exercise, Muscle, MuscleRole,
};
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::lift_class::LiftClass;

const MUSCLES: &str = include_str!("../config/muscles.toml");
const EXERCISES: &str = include_str!("../config/exercises.toml");
const JOINT_MAP: &str = include_str!("../config/joint_map.toml");
/// Weights of the decision whether a message asks the bot; `message::intent::model` reads them.
pub const ASKS: &str = include_str!("../config/asks.weights");
/// What it asks about.
pub const ASKS_ABOUT: &str = include_str!("../config/asks_about.weights");
/// Weights of the decision whether a message reports pain.
pub const PAIN: &str = include_str!("../config/pain.weights");
/// The network that weighs the same by the order of the words; `message::intent::net` reads it.
pub const PAIN_NET: &str = include_str!("../config/pain.net");
/// Weights of the decision which warning sign one is, where no rule says.
pub const PAIN_SIGNS: &str = include_str!("../config/pain_signs.weights");
/// Weights of what a message between sets does to the log; `message::intent::carry_on` reads them.
pub const CARRY_ON: &str = include_str!("../config/carry_on.weights");
/// The weights by which a report of sets is told from other messages.
pub const REPORT: &str = include_str!("../config/report.weights");

/// Why the data files cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum ConfigError {
    /// Not TOML, a key missing, or a key too many; the parser names the line.
    #[error("{file} cannot be read: {fault}")]
    Form {
        /// The file.
        file: &'static str,
        /// The parser's words, with the line.
        fault: Box<toml::de::Error>,
    },
    /// The file of learned figures cannot be used.
    #[error(
        "the file of learned figures: {what}; write it again with `chalkbell prior`, or unset CHALKBELL_PRIORS"
    )]
    Priors {
        /// What is wrong.
        what: String,
    },
    /// A word that is none of those allowed.
    #[error("{file}: `{entry}` has {key} = \"{word}\"; write one of {allowed}")]
    Word {
        /// The file.
        file: &'static str,
        /// The entry's name.
        entry: String,
        /// The key.
        key: &'static str,
        /// The word found.
        word: String,
        /// The words allowed.
        allowed: String,
    },
    /// A muscle that `config/muscles.toml` does not name.
    #[error(
        "{EXERCISES_FILE}: `{entry}` names the muscle `{muscle}`; add it to {MUSCLES_FILE} or write one that is there"
    )]
    UnknownMuscle {
        /// The exercise.
        entry: String,
        /// The word found.
        muscle: String,
    },
    /// An exercise of the joint map that `config/exercises.toml` does not name.
    #[error("{JOINT_MAP_FILE}: there is no exercise `{0}`; write one of {EXERCISES_FILE}")]
    UnknownExercise(String),
    /// An exercise that stands under two movements of the joint map.
    #[error("{JOINT_MAP_FILE}: `{0}` stands under two movements; keep one of them")]
    TwoMovements(String),
    /// A muscle that stands twice.
    #[error("{MUSCLES_FILE}: `{0}` stands twice; keep one of them")]
    MuscleTwice(String),
    /// More muscles than ids.
    #[error("{MUSCLES_FILE} has more than 255 muscles; join some of them")]
    TooManyMuscles,
    /// The catalogue refuses the exercise.
    #[error("{EXERCISES_FILE}: `{entry}`: {fault}; change or remove it")]
    Refused {
        /// The exercise.
        entry: String,
        /// Why.
        fault: CatalogueError,
    },
}

const MUSCLES_FILE: &str = "config/muscles.toml";
const EXERCISES_FILE: &str = "config/exercises.toml";
const JOINT_MAP_FILE: &str = "config/joint_map.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MuscleFile {
    muscle: Vec<MuscleEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MuscleEntry {
    name: String,
    words: Vec<String>,
    role: String,
    planned: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ExerciseFile {
    exercise: Vec<ExerciseEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ExerciseEntry {
    name: String,
    target: String,
    #[serde(default)]
    helpers: Vec<String>,
    equipment: String,
    basis: String,
    class: String,
    #[serde(default)]
    body_share: f64,
    #[serde(default)]
    timed: bool,
    #[serde(default)]
    aliases: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct JointMapFile {
    movement: Vec<MovementEntry>,
    more: Vec<MoreEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MovementEntry {
    name: String,
    loads: Vec<String>,
    #[expect(dead_code, reason = "for whoever reviews the map")]
    ground: String,
    exercises: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MoreEntry {
    loads: Vec<String>,
    #[expect(dead_code, reason = "for whoever reviews the map")]
    ground: String,
    exercises: Vec<String>,
}

/// The built-in catalogue, read from the data files afresh.
///
/// # Errors
/// [`ConfigError`] naming file, entry and remedy.
pub fn catalogue() -> Result<Catalogue, ConfigError> {
    read_catalogue(MUSCLES, EXERCISES, JOINT_MAP)
}

/// The built-in catalogue, read once and shared.
///
/// # Panics
/// Never in a build whose tests passed: the files are part of the binary, and a test reads them.
pub fn built_in() -> Arc<Catalogue> {
    static BUILT_IN: OnceLock<Arc<Catalogue>> = OnceLock::new();
    #[expect(clippy::expect_used, reason = "a test reads the very same bytes")]
    let shared = BUILT_IN.get_or_init(|| Arc::new(catalogue().expect("the data files are sound")));
    Arc::clone(shared)
}

/// A catalogue from the text of the files.
fn read_catalogue(
    muscles: &str,
    exercises: &str,
    joint_map: &str,
) -> Result<Catalogue, ConfigError> {
    let mut catalogue = Catalogue::new(read_muscles(muscles)?);
    let file: ExerciseFile = parse(EXERCISES_FILE, exercises)?;
    let mut loads = read_joint_map(joint_map)?;
    let known = |name: &String| file.exercise.iter().any(|entry| entry.name == *name);
    if let Some(unknown) = loads.keys().find(|name| !known(name)) {
        return Err(ConfigError::UnknownExercise(unknown.clone()));
    }
    for entry in file.exercise {
        // What nobody looked at may load anything.
        let loads = loads.remove(&entry.name).unwrap_or_else(definite_areas);
        let exercise = Exercise {
            loads,
            ..read_exercise(entry, &catalogue)?
        };
        let name = exercise.name.clone();
        let refused = |fault| ConfigError::Refused { entry: name, fault };
        catalogue.add(exercise).map_err(refused)?;
    }
    Ok(catalogue)
}

/// The areas that exercises load, by exercise.
fn read_joint_map(text: &str) -> Result<BTreeMap<String, Vec<BodyArea>>, ConfigError> {
    let file: JointMapFile = parse(JOINT_MAP_FILE, text)?;
    let mut loads: BTreeMap<String, Vec<BodyArea>> = BTreeMap::new();
    for movement in file.movement {
        let areas = areas(&movement.name, movement.loads)?;
        for exercise in movement.exercises {
            if loads.insert(exercise.clone(), areas.clone()).is_some() {
                return Err(ConfigError::TwoMovements(exercise));
            }
        }
    }
    for more in file.more {
        let areas = areas("more", more.loads)?;
        for exercise in more.exercises {
            let Some(loads) = loads.get_mut(&exercise) else {
                return Err(ConfigError::UnknownExercise(exercise));
            };
            loads.extend(
                areas
                    .iter()
                    .filter(|area| !loads.contains(area))
                    .copied()
                    .collect::<Vec<_>>(),
            );
        }
    }
    Ok(loads)
}

fn areas(entry: &str, words: Vec<String>) -> Result<Vec<BodyArea>, ConfigError> {
    let area = |word: String| {
        let definite = definite_areas();
        let found = BodyArea::from_word(&word).filter(|area| definite.contains(area));
        found.ok_or_else(|| {
            let allowed: Vec<_> = definite.iter().map(|area| area.word()).collect();
            wrong_word(JOINT_MAP_FILE, entry.to_owned(), "loads", word, &allowed)
        })
    };
    words.into_iter().map(area).collect()
}

/// Every area that has no parts of its own.
fn definite_areas() -> Vec<BodyArea> {
    let definite = |area: &BodyArea| area.parts() == [*area];
    BodyArea::ALL.into_iter().filter(definite).collect()
}

fn parse<'a, T: Deserialize<'a>>(file: &'static str, text: &'a str) -> Result<T, ConfigError> {
    toml::from_str(text).map_err(|fault| ConfigError::Form {
        file,
        fault: Box::new(fault),
    })
}

fn read_muscles(text: &str) -> Result<Vec<Muscle>, ConfigError> {
    let file: MuscleFile = parse(MUSCLES_FILE, text)?;
    if file.muscle.len() > 255 {
        return Err(ConfigError::TooManyMuscles);
    }
    let mut muscles: Vec<Muscle> = Vec::with_capacity(file.muscle.len());
    for entry in file.muscle {
        if muscles.iter().any(|known| known.name == entry.name) {
            return Err(ConfigError::MuscleTwice(entry.name));
        }
        let role = match entry.role.as_str() {
            "target" => MuscleRole::Target,
            "helper" => MuscleRole::Helper,
            _ => {
                return Err(wrong_word(
                    MUSCLES_FILE,
                    entry.name,
                    "role",
                    entry.role,
                    &["target", "helper"],
                ));
            }
        };
        muscles.push(Muscle {
            name: entry.name,
            words: entry.words,
            role,
            planned: entry.planned,
        });
    }
    Ok(muscles)
}

fn read_exercise(entry: ExerciseEntry, catalogue: &Catalogue) -> Result<Exercise, ConfigError> {
    let name = entry.name;
    let word =
        |key, word, allowed: &[&str]| wrong_word(EXERCISES_FILE, name.clone(), key, word, allowed);
    let equipment = Equipment::from_word(&entry.equipment).ok_or_else(|| {
        word(
            "equipment",
            entry.equipment,
            &Equipment::ALL.map(Equipment::word),
        )
    })?;
    let class = LiftClass::from_word(&entry.class)
        .ok_or_else(|| word("class", entry.class, &LiftClass::ALL.map(LiftClass::word)))?;
    let basis = Basis::from_word(&entry.basis)
        .filter(|basis| BARE_BASES.contains(basis))
        .ok_or_else(|| word("basis", entry.basis, &BARE_BASES.map(Basis::word)))?;
    let muscle = |muscle: String| muscle_named(catalogue, &name, muscle);
    let target = Some(muscle(entry.target)?);
    let helpers = entry
        .helpers
        .into_iter()
        .map(muscle)
        .collect::<Result<_, _>>()?;
    Ok(Exercise {
        aliases: entry.aliases,
        target,
        helpers,
        equipment,
        basis,
        class,
        body_share: entry.body_share,
        loads: Vec::new(),
        timed: entry.timed,
        name,
    })
}

/// What a bare number can mean.
const BARE_BASES: [Basis; 3] = [Basis::Total, Basis::PerHand, Basis::Body];

/// The muscle of exactly this name: a colloquial word will not do in the files.
fn muscle_named(
    catalogue: &Catalogue,
    entry: &str,
    muscle: String,
) -> Result<MuscleId, ConfigError> {
    let found = catalogue.muscles().find(|(_, known)| known.name == muscle);
    found
        .map(|(id, _)| id)
        .ok_or_else(|| ConfigError::UnknownMuscle {
            entry: entry.to_owned(),
            muscle,
        })
}

fn wrong_word(
    file: &'static str,
    entry: String,
    key: &'static str,
    word: String,
    allowed: &[&str],
) -> ConfigError {
    ConfigError::Word {
        file,
        entry,
        key,
        word,
        allowed: allowed.join(", "),
    }
}

#[cfg(test)]
mod tests;
