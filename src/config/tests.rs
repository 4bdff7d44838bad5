use std::collections::HashSet;

use super::*;
use crate::domain::quantities::catalogue::plain_name;

/// Our own spellings: what `read` and the pipe print for these movements.
const SPELLINGS: [&str; 77] = [
    "bench press",
    "incline bench press",
    "decline bench press",
    "close-grip bench press",
    "floor press",
    "dumbbell bench press",
    "incline dumbbell press",
    "machine chest press",
    "cable fly",
    "dumbbell fly",
    "pec deck",
    "push-up",
    "dip",
    "barbell row",
    "dumbbell row",
    "seated cable row",
    "chest-supported row",
    "t-bar row",
    "machine row",
    "inverted row",
    "lat pulldown",
    "pull-up",
    "chin-up",
    "straight-arm pulldown",
    "shrug",
    "face pull",
    "back extension",
    "deadlift",
    "sumo deadlift",
    "trap bar deadlift",
    "romanian deadlift",
    "stiff-leg deadlift",
    "good morning",
    "overhead press",
    "seated dumbbell press",
    "machine shoulder press",
    "push press",
    "lateral raise",
    "cable lateral raise",
    "front raise",
    "rear delt fly",
    "upright row",
    "barbell curl",
    "dumbbell curl",
    "hammer curl",
    "preacher curl",
    "incline curl",
    "cable curl",
    "triceps pushdown",
    "overhead triceps extension",
    "lying triceps extension",
    "wrist curl",
    "back squat",
    "front squat",
    "hack squat",
    "belt squat",
    "goblet squat",
    "split squat",
    "lunge",
    "step-up",
    "leg press",
    "leg extension",
    "lying leg curl",
    "seated leg curl",
    "nordic curl",
    "hip thrust",
    "glute bridge",
    "hip abduction",
    "hip adduction",
    "standing calf raise",
    "seated calf raise",
    "leg press calf raise",
    "crunch",
    "cable crunch",
    "sit-up",
    "hanging leg raise",
    "ab wheel rollout",
];

const ONE_MUSCLE: &str =
    "muscle = [{ name = \"quads\", words = [], role = \"target\", planned = true }]";

fn exercise_line(change: &str) -> String {
    let fields = [
        ("name", "\"back squat\""),
        ("target", "\"quads\""),
        ("equipment", "\"barbell\""),
        ("basis", "\"total\""),
        ("class", "\"squat\""),
    ];
    let key = change.split(' ').next().unwrap();
    let kept = fields.iter().filter(|(name, _)| *name != key);
    let mut lines: Vec<String> = kept
        .map(|(name, value)| format!("{name} = {value}"))
        .collect();
    lines.push(change.to_owned());
    format!("[[exercise]]\n{}\n", lines.join("\n"))
}

#[track_caller]
fn check_fault(exercises: &str, expected: &str) {
    let fault = read_catalogue(ONE_MUSCLE, exercises, NO_MAP)
        .unwrap_err()
        .to_string();
    assert_eq!(fault, expected);
}

#[track_caller]
fn exercise<'a>(catalogue: &'a Catalogue, name: &str) -> &'a Exercise {
    let id = catalogue
        .named(name)
        .unwrap_or_else(|| panic!("no exercise named {name}"));
    catalogue.exercise(id)
}

#[test]
fn shipped_files_load_with_at_least_130_exercises() {
    let catalogue = catalogue().unwrap();
    assert!(catalogue.exercises().count() >= 130);
    assert_eq!(*built_in(), catalogue);
}

#[test]
fn every_spelling_is_a_canonical_name() {
    let catalogue = built_in();
    for spelling in SPELLINGS {
        assert_eq!(exercise(&catalogue, spelling).name, spelling);
    }
}

#[test]
fn names_are_unique_with_hyphens_and_spaces_alike() {
    let catalogue = built_in();
    let mut seen = HashSet::new();
    for (_, exercise) in catalogue.exercises() {
        for name in std::iter::once(&exercise.name).chain(&exercise.aliases) {
            assert!(seen.insert(plain_name(name)), "{name} stands twice");
            assert_eq!(*name, name.trim().to_lowercase(), "{name} is not plain");
        }
    }
}

#[test]
fn every_muscle_is_the_target_of_some_exercise() {
    let catalogue = built_in();
    for (id, muscle) in catalogue.muscles() {
        let trained = catalogue
            .exercises()
            .any(|(_, exercise)| exercise.target == Some(id));
        assert!(trained, "nothing trains {}", muscle.name);
    }
}

#[test]
fn helpers_are_few_and_never_the_target() {
    for (_, exercise) in built_in().exercises() {
        assert!(
            exercise
                .target
                .is_some_and(|target| !exercise.helpers.contains(&target)),
            "{}",
            exercise.name
        );
        assert!(exercise.helpers.len() <= 5, "{}", exercise.name);
    }
}

#[test]
fn body_basis_goes_with_body_equipment_and_a_share() {
    for (_, exercise) in built_in().exercises() {
        let body = exercise.basis == Basis::Body;
        assert_eq!(
            body,
            exercise.equipment == Equipment::Body,
            "{}",
            exercise.name
        );
        assert!(!body || exercise.body_share > 0.0, "{}", exercise.name);
    }
}

#[test]
fn per_hand_basis_goes_with_dumbbells_alone() {
    for (_, exercise) in built_in().exercises() {
        let per_hand = exercise.basis == Basis::PerHand;
        assert!(
            !per_hand || exercise.equipment == Equipment::Dumbbell,
            "{}",
            exercise.name
        );
        let named_so = exercise.name.contains("dumbbell ");
        assert!(!named_so || per_hand, "{}", exercise.name);
    }
}

/// The bare names are fixed by the message language; the others are common practice, no source.
#[test]
fn short_names_mean_what_lifters_mean() {
    let meant = [
        ("squat", "back squat"),
        ("bench", "bench press"),
        ("row", "barbell row"),
        ("curl", "barbell curl"),
        ("leg curl", "lying leg curl"),
        ("calf raise", "standing calf raise"),
        ("leg ext", "leg extension"),
        ("bp", "bench press"),
        ("ohp", "overhead press"),
        ("rdl", "romanian deadlift"),
        ("db row", "dumbbell row"),
        ("lat pd", "lat pulldown"),
        ("db press", "dumbbell bench press"),
        ("bulgarians", "split squat"),
        ("incline", "incline bench press"),
        ("cgbp", "close-grip bench press"),
        ("chins", "chin-up"),
        ("nordics", "nordic curl"),
        ("Press-Ups", "push-up"),
        ("pull ups", "pull-up"),
        ("skullcrushers", "lying triceps extension"),
        ("seated db press", "seated dumbbell press"),
        ("cable rows", "seated cable row"),
        ("walking lunges", "lunge"),
    ];
    let catalogue = built_in();
    for (short, name) in meant {
        assert_eq!(exercise(&catalogue, short).name, name, "{short}");
    }
}

/// The message language: dumbbell movements by nature are `per_hand`, a goblet squat is `total`,
/// and these five only where the words say so.
#[test]
fn bare_numbers_follow_the_message_language() {
    let catalogue = built_in();
    let bases = [
        (
            Basis::PerHand,
            [
                "hammer curl",
                "lateral raise",
                "dumbbell row",
                "dumbbell fly",
            ]
            .as_slice(),
        ),
        (
            Basis::PerHand,
            &["incline curl", "rear delt fly", "seated dumbbell press"],
        ),
        (
            Basis::Total,
            &[
                "goblet squat",
                "shrug",
                "front raise",
                "lunge",
                "split squat",
                "step-up",
            ],
        ),
        (
            Basis::Total,
            &[
                "t-bar row",
                "leg press",
                "preacher curl",
                "triceps pushdown",
            ],
        ),
        (
            Basis::Body,
            &[
                "pull-up",
                "dip",
                "push-up",
                "nordic curl",
                "back extension",
                "sit-up",
            ],
        ),
    ];
    for (basis, names) in bases {
        for name in names {
            assert_eq!(exercise(&catalogue, name).basis, basis, "{name}");
        }
    }
}

/// Push-up share: Ebben et al. 2011 (from memory). Pull-up and dip: common practice, no source.
#[test]
fn body_shares_are_those_of_their_sources() {
    let catalogue = built_in();
    for (name, share) in [
        ("push-up", 0.64),
        ("pull-up", 1.0),
        ("dip", 1.0),
        ("back squat", 0.0),
    ] {
        let found = exercise(&catalogue, name).body_share;
        assert!((found - share).abs() < f64::EPSILON, "{name}");
    }
}

/// Common practice, no source.
#[test]
fn targets_and_helpers_are_the_trades() {
    let catalogue = built_in();
    let muscles = [
        (
            "bench press",
            "chest",
            ["triceps", "front delts"].as_slice(),
        ),
        (
            "back squat",
            "quads",
            &["glutes", "adductors", "lower back"],
        ),
        (
            "romanian deadlift",
            "hamstrings",
            &["glutes", "lower back", "forearms"],
        ),
        ("lat pulldown", "back", &["biceps", "forearms"]),
        ("leg extension", "quads", &[]),
    ];
    for (name, target, helpers) in muscles {
        let exercise = exercise(&catalogue, name);
        assert_eq!(
            catalogue.muscle(exercise.target.unwrap()).name,
            target,
            "{name}"
        );
        let found: Vec<_> = exercise
            .helpers
            .iter()
            .map(|&id| &catalogue.muscle(id).name)
            .collect();
        assert_eq!(found, helpers, "{name}");
    }
}

/// The message language names the roles of the large and the small muscles.
#[test]
fn muscle_words_lead_to_role_and_name() {
    let catalogue = built_in();
    let words = [
        ("hams", "hamstrings", MuscleRole::Target),
        ("grip", "forearms", MuscleRole::Helper),
        ("lats", "back", MuscleRole::Target),
        ("lower back", "lower back", MuscleRole::Helper),
        ("triceps", "triceps", MuscleRole::Helper),
        ("quads", "quads", MuscleRole::Target),
        ("core", "abs", MuscleRole::Target),
    ];
    for (word, name, role) in words {
        let muscle = catalogue.muscle(catalogue.muscle_named(word).unwrap());
        assert_eq!((muscle.name.as_str(), muscle.role), (name, role), "{word}");
    }
    assert_eq!(catalogue.muscles_named("shoulders").count(), 3);
}

/// Common practice, no source.
#[test]
fn small_helpers_have_no_sets_planned_by_themselves() {
    let catalogue = built_in();
    let unplanned = catalogue.muscles().filter(|(_, muscle)| !muscle.planned);
    let names: Vec<_> = unplanned.map(|(_, muscle)| muscle.name.as_str()).collect();
    let expected = [
        "traps",
        "front delts",
        "forearms",
        "lower back",
        "abs",
        "adductors",
        "abductors",
        "rotator cuff",
        "hip flexors",
        "tibialis",
        "neck",
    ];
    assert_eq!(names, expected);
}

#[test]
fn muscle_words_of_several_muscles_are_those_of_the_shoulder_alone() {
    let catalogue = built_in();
    for (_, muscle) in catalogue.muscles() {
        for word in std::iter::once(&muscle.name).chain(&muscle.words) {
            let several = catalogue.muscles_named(word).count() > 1;
            assert!(!several || muscle.name.ends_with("delts"), "{word}");
        }
    }
}

#[test]
fn a_wrong_word_is_told_with_entry_and_choices() {
    check_fault(
        &exercise_line("basis = \"added\""),
        "config/exercises.toml: `back squat` has basis = \"added\"; write one of total, per_hand, body",
    );
    check_fault(
        &exercise_line("equipment = \"rope\""),
        "config/exercises.toml: `back squat` has equipment = \"rope\"; write one of barbell, dumbbell, \
         stack, plate_machine, body",
    );
}

#[test]
fn an_unknown_muscle_is_told_with_the_remedy() {
    check_fault(
        &exercise_line("helpers = [\"wings\"]"),
        "config/exercises.toml: `back squat` names the muscle `wings`; add it to config/muscles.toml \
         or write one that is there",
    );
}

#[test]
fn a_name_taken_is_told_with_its_holder() {
    let twice = exercise_line("") + &exercise_line("name = \"back-squat\"");
    check_fault(
        &twice,
        "config/exercises.toml: `back-squat`: `back-squat` already means back squat; change or remove it",
    );
}

#[test]
fn a_share_above_one_is_refused() {
    check_fault(
        &exercise_line("body_share = 1.5"),
        "config/exercises.toml: `back squat`: the share of the body's mass must lie between 0 and 1; \
         change or remove it",
    );
}

#[test]
fn a_key_too_many_is_told_with_its_line() {
    let fault = read_catalogue(ONE_MUSCLE, &exercise_line("sets = 3"), NO_MAP).unwrap_err();
    assert!(fault.to_string().contains("line 7"), "{fault}");
}

/// A joint map of nothing.
const NO_MAP: &str = "movement = []\nmore = []";

fn movement(exercise: &str, area: &str) -> String {
    format!(
        "[[movement]]\nname = \"m\"\nloads = [\"{area}\"]\nground = \"g\"\nexercises = \
         [\"{exercise}\"]\n"
    )
}

#[test]
fn a_joint_map_names_exercises_and_areas_that_there_are_and_each_exercise_once() {
    let with = |map: &str| {
        read_catalogue(
            MUSCLES,
            EXERCISES,
            &format!("{map}\n[[more]]\nloads = []\nground = \"g\"\nexercises = []"),
        )
    };
    let unknown = with(&movement("bench pres", "shoulder"));
    assert!(matches!(unknown, Err(ConfigError::UnknownExercise(name)) if name == "bench pres"));
    let twice = movement("bench press", "shoulder") + &movement("bench press", "elbow");
    assert!(matches!(with(&twice), Err(ConfigError::TwoMovements(_))));
    for area in ["knees", "leg", "back"] {
        let fault = with(&movement("bench press", area));
        assert!(matches!(fault, Err(ConfigError::Word { .. })), "{area}");
    }
}

#[test]
fn an_exercise_without_a_movement_counts_as_loading_everything() {
    let catalogue = read_catalogue(MUSCLES, EXERCISES, NO_MAP).unwrap();
    for (_, exercise) in catalogue.exercises() {
        assert!(BodyArea::ALL.iter().all(|&area| exercise.strains(area)));
    }
}
