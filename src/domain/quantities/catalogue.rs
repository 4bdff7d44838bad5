//! Exercises and muscles as data: what a lift trains, with what, and how its load is meant.
//!
//! The list itself stands in `config/`; a team can add its own. Names that people type are the
//! reader's business ([`crate::message`]); here they are only carried.

use super::worded::worded;
use std::collections::HashMap;
use std::sync::Arc;

use super::body::BodyArea;
use super::id::{ExerciseId, MuscleId};
use super::learned_priors::LearnedPriors;
use super::lift_class::LiftClass;

worded! {
    /// What one number of a load means.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Basis {
        /// The whole bar, stack or machine.
        Total = "total",
        /// One dumbbell (or kettlebell) of two, or the one in the working hand.
        PerHand = "per_hand",
        /// Hung on the body.
        Added = "added",
        /// Taken off the body by a machine or band.
        Assisted = "assisted",
        /// The body alone.
        Body = "body",
    }
}

worded! {
    /// What the load is made of, which decides what can be loaded.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Equipment {
        /// A bar with pairs of discs.
        Barbell = "barbell",
        /// Dumbbells or kettlebells in fixed steps.
        Dumbbell = "dumbbell",
        /// A stack with a pin: cables and selector machines.
        Stack = "stack",
        /// A machine or sled loaded with discs.
        PlateMachine = "plate_machine",
        /// The lifter's own body, with load hung on or taken off.
        Body = "body",
    }
}

/// What gives out, seen from the go-checks, when an exercise is not known: the big movers are
/// `Target`, the small ones that help in most lifts are `Helper`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MuscleRole {
    /// Quads, hamstrings, glutes, calves, chest, back, shoulders.
    Target,
    /// Lower back, grip, forearms, triceps, biceps.
    Helper,
}

/// A muscle group that sets are counted for.
#[derive(Clone, Debug, PartialEq)]
pub struct Muscle {
    /// The trade name, lower case: `quads`.
    pub name: String,
    /// Other words for it, lower case: `quad`, `quadriceps`.
    pub words: Vec<String>,
    /// Its role where no exercise is known.
    pub role: MuscleRole,
    /// Whether sets are usually planned for it by itself. Forearms and the like get theirs from
    /// other lifts; none of their own are missed.
    pub planned: bool,
}

/// One exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercise {
    /// The canonical trade name, lower case, singular.
    pub name: String,
    /// What people also call it, lower case.
    pub aliases: Vec<String>,
    /// The muscle meant to give out; `None` for a name of a lifter's own of which nobody has said yet
    /// what it stands for.
    pub target: Option<MuscleId>,
    /// Muscles that help, each counted half.
    pub helpers: Vec<MuscleId>,
    /// What the load is made of.
    pub equipment: Equipment,
    /// What a bare number means: `Total`, `PerHand` or `Body`.
    pub basis: Basis,
    /// Size and kind.
    pub class: LiftClass,
    /// Share of the body's mass that is lifted with each repetition, 0 to 1: a pull-up lifts about
    /// all of it, a push-up about 0.64. Zero where the body's mass does not matter to the load.
    pub body_share: f64,
    /// Areas of the body that it loads, as far as it matters to one that is hurt. Definite ones:
    /// see [`BodyArea::parts`].
    pub loads: Vec<BodyArea>,
    /// Held or carried for time rather than done in repetitions.
    pub timed: bool,
}

impl Exercise {
    /// Whether anybody has said what it is, so that its sets count.
    pub const fn is_mapped(&self) -> bool {
        self.target.is_some()
    }

    /// Whether it is held back while this area hurts. Of an arm, a back or a leg any part may be
    /// meant. After a blow to the head everything is, and so is always what nobody knows.
    pub fn strains(&self, area: BodyArea) -> bool {
        let known = self.is_mapped() && area != BodyArea::Head;
        !known || area.parts().iter().any(|part| self.loads.contains(part))
    }

    /// The part this exercise demands of `muscle`: 1 for the target, ½ for a helper, else 0.
    pub fn involvement(&self, muscle: MuscleId) -> f64 {
        if self.target == Some(muscle) {
            1.0
        } else if self.helpers.contains(&muscle) {
            0.5
        } else {
            0.0
        }
    }

    /// Every muscle it involves with its part, the target first.
    pub fn muscles(&self) -> impl Iterator<Item = (MuscleId, f64)> + '_ {
        let target = self.target.into_iter().map(|muscle| (muscle, 1.0));
        target.chain(self.helpers.iter().map(|&m| (m, 0.5)))
    }
}

/// The exercises and muscles of one team: the built-in list, then the team's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Catalogue {
    muscles: Arc<Vec<Muscle>>,
    exercises: Vec<Arc<Exercise>>,
    /// Every name and alias in its plain form. Shared until a team adds an exercise of its own.
    names: Arc<HashMap<String, ExerciseId>>,
    priors: Arc<LearnedPriors>,
}

/// The form in which names are compared: lower case, hyphens as spaces, single spaces.
pub fn plain_name(name: &str) -> String {
    let mut plain = String::with_capacity(name.len());
    for word in name.split(|c: char| c == '-' || c.is_whitespace()) {
        if !plain.is_empty() && !word.is_empty() {
            plain.push(' ');
        }
        plain.extend(word.chars().flat_map(char::to_lowercase));
    }
    plain
}

/// Why an exercise cannot be added.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CatalogueError {
    /// The name is empty.
    #[error("an exercise needs a name")]
    NoName,
    /// The name is taken, as a name or as an alias, hyphens and spaces alike; the holder is given.
    #[error("`{0}` already means {1}")]
    NameTaken(String, String),
    /// The share of the body's mass is not a number of 0 to 1.
    #[error("the share of the body's mass must lie between 0 and 1")]
    BodyShare,
    /// A helper is the target, or named twice.
    #[error("`{0}` names a muscle twice: each is target or helper once")]
    MuscleTwice(String),
    /// More exercises than ids (65,535).
    #[error("the catalogue is full")]
    Full,
}

impl Catalogue {
    /// A catalogue of these muscles, with no exercise yet.
    pub fn new(muscles: Vec<Muscle>) -> Self {
        Self {
            muscles: Arc::new(muscles),
            exercises: Vec::new(),
            names: Arc::default(),
            priors: Arc::default(),
        }
    }

    /// The same for a population of which this was learned.
    #[must_use]
    pub fn with_priors(self, priors: LearnedPriors) -> Self {
        Self {
            priors: Arc::new(priors),
            ..self
        }
    }

    /// What was learned of the population that the lifters are from.
    pub fn priors(&self) -> &LearnedPriors {
        &self.priors
    }

    /// Adds an exercise at the end, so that ids given out before stay valid.
    ///
    /// # Errors
    /// [`CatalogueError`] when a name or alias is empty or taken, a muscle stands twice, the body
    /// share is no share, or no id is left. The catalogue is then as before.
    pub fn add(&mut self, exercise: Exercise) -> Result<ExerciseId, CatalogueError> {
        check(&exercise)?;
        let id = u16::try_from(self.exercises.len()).map_err(|_| CatalogueError::Full)?;
        let mut plain_names = Vec::with_capacity(1 + exercise.aliases.len());
        for name in std::iter::once(&exercise.name).chain(&exercise.aliases) {
            let plain = plain_name(name);
            if plain.is_empty() {
                return Err(CatalogueError::NoName);
            }
            let holder = match self.names.get(&plain) {
                Some(&holder) => Some(&self.exercise(holder).name),
                None => plain_names.contains(&plain).then_some(&exercise.name),
            };
            if let Some(holder) = holder {
                return Err(CatalogueError::NameTaken(name.clone(), holder.clone()));
            }
            plain_names.push(plain);
        }
        let names = Arc::make_mut(&mut self.names);
        names.extend(plain_names.into_iter().map(|plain| (plain, ExerciseId(id))));
        self.exercises.push(Arc::new(exercise));
        Ok(ExerciseId(id))
    }

    /// Lets an exercise go by one more name; nothing where that name is taken.
    pub fn also_named(&mut self, name: &str, id: ExerciseId) {
        let names = Arc::make_mut(&mut self.names);
        names.entry(plain_name(name)).or_insert(id);
    }

    /// The exercise with this id.
    ///
    /// # Panics
    /// When the id came from another catalogue and lies past the end of this one.
    pub fn exercise(&self, id: ExerciseId) -> &Exercise {
        &self.exercises[id.index()]
    }

    /// The muscle with this id.
    ///
    /// # Panics
    /// When the id came from another catalogue and lies past the end of this one.
    pub fn muscle(&self, id: MuscleId) -> &Muscle {
        &self.muscles[id.index()]
    }

    /// All exercises with their ids.
    pub fn exercises(&self) -> impl Iterator<Item = (ExerciseId, &Exercise)> {
        (0u16..)
            .map(ExerciseId)
            .zip(self.exercises.iter().map(AsRef::as_ref))
    }

    /// All muscles with their ids.
    pub fn muscles(&self) -> impl Iterator<Item = (MuscleId, &Muscle)> {
        (0u8..).map(MuscleId).zip(self.muscles.iter())
    }

    /// The exercise whose canonical name or alias is `name`, compared by [`plain_name`]. Slips of
    /// the keyboard are the reader's business.
    pub fn named(&self, name: &str) -> Option<ExerciseId> {
        self.names.get(&plain_name(name)).copied()
    }

    /// The muscle whose name or other word is exactly `name`; the first in the list where the word
    /// belongs to several (`shoulders`).
    pub fn muscle_named(&self, name: &str) -> Option<MuscleId> {
        self.muscles_named(name).next()
    }

    /// Every muscle whose name or other word is exactly `name`: one for `quads`, three heads for
    /// `shoulders`.
    pub fn muscles_named(&self, name: &str) -> impl Iterator<Item = MuscleId> {
        self.muscles()
            .filter(move |(_, muscle)| {
                muscle.name == name || muscle.words.iter().any(|w| w == name)
            })
            .map(|(id, _)| id)
    }
}

/// What must hold for an exercise by itself.
fn check(exercise: &Exercise) -> Result<(), CatalogueError> {
    if !(0.0..=1.0).contains(&exercise.body_share) {
        return Err(CatalogueError::BodyShare);
    }
    let mut seen: Vec<MuscleId> = exercise.target.into_iter().collect();
    let twice = |&muscle: &MuscleId| {
        let known = seen.contains(&muscle);
        seen.push(muscle);
        known
    };
    if exercise.helpers.iter().any(twice) {
        return Err(CatalogueError::MuscleTwice(exercise.name.clone()));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quads() -> Vec<Muscle> {
        vec![Muscle {
            name: "quads".to_owned(),
            words: Vec::new(),
            role: MuscleRole::Target,
            planned: true,
        }]
    }

    fn exercise(name: &str, aliases: &[&str]) -> Exercise {
        Exercise {
            name: name.to_owned(),
            aliases: aliases.iter().map(|&alias| alias.to_owned()).collect(),
            target: Some(MuscleId(0)),
            helpers: Vec::new(),
            equipment: Equipment::Barbell,
            basis: Basis::Total,
            class: LiftClass::Squat,
            body_share: 0.0,
            loads: Vec::new(),
            timed: false,
        }
    }

    #[test]
    fn plain_names_are_alike_in_case_hyphens_and_spaces() {
        for name in [
            "lat pull-down",
            " Lat  Pull Down ",
            "LAT-PULL-DOWN",
            "lat pull - down",
        ] {
            assert_eq!(plain_name(name), "lat pull down", "{name}");
        }
        assert_eq!(plain_name(" - "), "");
    }

    #[test]
    fn a_refused_exercise_leaves_the_catalogue_as_it_was() {
        let mut catalogue = Catalogue::new(quads());
        let squat = catalogue.add(exercise("sled squat", &["sled"])).unwrap();
        let before = catalogue.clone();
        let taken = |name: &str, holder: &str| {
            Err(CatalogueError::NameTaken(
                name.to_owned(),
                holder.to_owned(),
            ))
        };
        let held = catalogue.add(exercise("sled push", &["shove", "Sled"]));
        assert_eq!(held, taken("Sled", "sled squat"));
        let twice = catalogue.add(exercise("sled push", &["shove", "shove"]));
        assert_eq!(twice, taken("shove", "sled push"));
        assert_eq!(
            catalogue.add(exercise(" ", &[])),
            Err(CatalogueError::NoName)
        );
        let helped = Exercise {
            helpers: vec![MuscleId(0)],
            ..exercise("sled push", &[])
        };
        let muscle_twice = Err(CatalogueError::MuscleTwice("sled push".to_owned()));
        assert_eq!(catalogue.add(helped), muscle_twice);
        let share = Exercise {
            body_share: f64::NAN,
            ..exercise("sled push", &[])
        };
        assert_eq!(catalogue.add(share), Err(CatalogueError::BodyShare));
        assert_eq!(catalogue, before);
        assert_eq!(catalogue.named("Sled-Squat"), Some(squat));
        assert_eq!(catalogue.named("shove"), None);
    }

    #[test]
    fn a_teams_own_exercise_leaves_the_shared_list_alone() {
        let shared = Catalogue::new(quads());
        let mut own = shared.clone();
        own.add(exercise("sled squat", &[])).unwrap();
        assert!(own.named("sled squat").is_some());
        assert_eq!(shared.named("sled squat"), None);
    }
}
