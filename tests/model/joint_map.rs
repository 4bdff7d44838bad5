//! The joint map: what is held back after pain, exercise by exercise.
//!
//! `tests/data/joint_map.tsv` is the map as it was reviewed, each row with its ground. Beside it
//! stand laws that do not come from the map: which joints muscles cross (Standring S, Gray's
//! Anatomy, from memory), and what a physiotherapist keeps and holds back in the first days (common
//! practice, no source).

use std::collections::BTreeMap;

use chalkbell::config;
use chalkbell::domain::quantities::body::BodyArea;
use chalkbell::domain::quantities::catalogue::Exercise;

/// The reviewed rows: exercise, areas, ground.
fn rows() -> BTreeMap<&'static str, (Vec<&'static str>, &'static str)> {
    let lines = include_str!("../data/joint_map.tsv").lines();
    let rows = lines.filter(|line| !line.starts_with('#')).map(|line| {
        let cells: Vec<&str> = line.split('\t').collect();
        assert_eq!(cells.len(), 3, "{line}");
        (cells[0], (cells[1].split(", ").collect(), cells[2]))
    });
    rows.collect()
}

/// A copy of a built-in exercise.
#[expect(clippy::expect_used, reason = "a helper of tests may fail the test")]
fn exercise(name: &str) -> Exercise {
    let catalogue = config::built_in();
    let id = catalogue.named(name).expect("an exercise of the catalogue");
    catalogue.exercise(id).clone()
}

#[test]
fn the_map_is_the_one_that_was_reviewed() {
    let rows = rows();
    let catalogue = config::built_in();
    for (_, exercise) in catalogue.exercises() {
        let row = rows.get(exercise.name.as_str());
        assert!(
            row.is_some(),
            "{}: give it a movement in config/joint_map.toml and a reviewed row in \
             tests/data/joint_map.tsv",
            exercise.name
        );
        let Some((reviewed, ground)) = row else {
            continue;
        };
        let mut loads: Vec<&str> = exercise.loads.iter().map(|area| area.word()).collect();
        let mut reviewed = reviewed.clone();
        loads.sort_unstable();
        reviewed.sort_unstable();
        assert_eq!(loads, reviewed, "{}", exercise.name);
        assert!(
            ground.contains("anatomy") || ground.contains("no source"),
            "{}: {ground}",
            exercise.name
        );
    }
    assert_eq!(rows.len(), catalogue.exercises().count());
}

/// Areas over which each muscle pulls. Gray's Anatomy, origins and insertions, from memory. Back:
/// latissimus and rhomboids at the shoulder girdle. A helper may pull so little that a joint is
/// spared: only targets are judged.
const CROSSES: &[(&str, &[&str])] = &[
    ("chest", &["shoulder", "chest"]),
    ("back", &["upper back"]),
    ("traps", &["upper back", "neck"]),
    ("side delts", &["shoulder"]),
    ("front delts", &["shoulder"]),
    ("biceps", &["elbow", "upper arm"]),
    ("triceps", &["elbow", "upper arm"]),
    ("forearms", &["wrist", "forearm"]),
    ("lower back", &["lower back"]),
    ("abs", &["abdomen"]),
    ("glutes", &["hip", "buttock"]),
    ("quads", &["knee", "front of the thigh"]),
    ("hamstrings", &["back of the thigh"]),
    ("adductors", &["groin", "hip"]),
    ("abductors", &["hip"]),
    ("calves", &["ankle", "calf"]),
];

#[test]
fn a_target_muscle_loads_what_it_crosses() {
    let catalogue = config::built_in();
    for (_, exercise) in catalogue.exercises() {
        let target = &catalogue.muscle(exercise.target.unwrap()).name;
        let crossed = CROSSES.iter().find(|(muscle, _)| muscle == target);
        for area in crossed.into_iter().flat_map(|(_, areas)| *areas) {
            let area = BodyArea::from_word(area);
            assert!(
                area.is_some_and(|area| exercise.strains(area)),
                "{}: {target} crosses {area:?}",
                exercise.name
            );
        }
    }
}

/// What stops and what stays while an area hurts. Common practice, no source, but for what is named
/// beside a row.
const KEPT_AND_HELD: &[(&str, &[&str], &[&str])] = &[
    (
        "knee",
        &[
            "back squat",
            "front squat",
            "leg press",
            "hack squat",
            "lunge",
            "split squat",
            "step-up",
            "leg extension",
            "lying leg curl",
            "jump squat",
            "pistol squat",
            "deadlift",
        ],
        &[
            "bench press",
            "barbell row",
            "pull-up",
            "overhead press",
            "barbell curl",
            "crunch",
        ],
    ),
    (
        "shoulder",
        &[
            "bench press",
            "incline bench press",
            "overhead press",
            "dip",
            "push-up",
            "lateral raise",
            "dumbbell fly",
            "lat pulldown",
            "pull-up",
            "upright row",
        ],
        &[
            "barbell row",
            "seated cable row",
            "back squat",
            "leg press",
            "barbell curl",
            "deadlift",
        ],
    ),
    (
        "elbow",
        &[
            "bench press",
            "barbell curl",
            "lying triceps extension",
            "pull-up",
            "dip",
            "barbell row",
        ],
        &[
            "back squat",
            "leg press",
            "leg extension",
            "lateral raise",
            "standing calf raise",
        ],
    ),
    (
        "wrist",
        &[
            "bench press",
            "push-up",
            "front squat",
            "barbell curl",
            "wrist curl",
            "power clean",
            // What pulls at the grip pulls at the wrist: all of it stops, or none.
            "barbell row",
            "lat pulldown",
            "deadlift",
            "romanian deadlift",
            "shrug",
            "farmer's walk",
        ],
        &[
            "back squat",
            "leg press",
            "leg extension",
            "hip thrust",
            "crunch",
        ],
    ),
    (
        "neck",
        &[
            "shrug",
            "overhead press",
            "back squat",
            "deadlift",
            "sit-up",
            "upright row",
            "barbell row",
            "pull-up",
            "plank",
        ],
        &[
            "leg press",
            "leg extension",
            "lying leg curl",
            "barbell curl",
            "seated calf raise",
        ],
    ),
    (
        "lower back",
        &[
            "deadlift",
            "romanian deadlift",
            "back squat",
            "barbell row",
            "good morning",
            "back extension",
            "overhead press",
            "leg press",
            "sit-up",
        ],
        &[
            "bench press",
            "lat pulldown",
            "chest-supported row",
            "leg extension",
            "belt squat",
            "lateral raise",
            "barbell curl",
        ],
    ),
    (
        "upper back",
        &["barbell row", "deadlift", "pull-up", "shrug", "back squat"],
        &["leg press", "leg extension", "bench press", "barbell curl"],
    ),
    (
        "hip",
        &[
            "back squat",
            "deadlift",
            "hip thrust",
            "lunge",
            "leg press",
            "hip abduction",
        ],
        &[
            "bench press",
            "barbell row",
            "leg extension",
            "standing calf raise",
            "overhead press",
        ],
    ),
    (
        "groin",
        &[
            "sumo deadlift",
            "back squat",
            "hip adduction",
            "side lunge",
            "cossack squat",
        ],
        &[
            "bench press",
            "lat pulldown",
            "leg extension",
            "lying leg curl",
        ],
    ),
    (
        "ankle",
        &[
            "back squat",
            "lunge",
            "standing calf raise",
            "jump squat",
            "step-up",
        ],
        &[
            "bench press",
            "lying leg curl",
            "leg extension",
            "barbell row",
            "hip thrust",
        ],
    ),
    (
        "calf",
        &["standing calf raise", "jump squat", "lunge"],
        &[
            "bench press",
            "barbell row",
            "leg extension",
            "romanian deadlift",
        ],
    ),
    (
        "back of the thigh",
        &[
            "romanian deadlift",
            "lying leg curl",
            "deadlift",
            "good morning",
            "nordic curl",
        ],
        &[
            "bench press",
            "leg extension",
            "standing calf raise",
            "pull-up",
        ],
    ),
    (
        "chest",
        &[
            "bench press",
            "dip",
            "dumbbell fly",
            "push-up",
            "chest-supported row",
            "plank",
        ],
        &["leg press", "back squat", "barbell row", "lateral raise"],
    ),
    // Bracing under load raises the pressure in the belly.
    (
        "abdomen",
        &[
            "deadlift",
            "back squat",
            "sit-up",
            "leg press",
            "overhead press",
        ],
        &[
            "leg extension",
            "barbell curl",
            "lateral raise",
            "lat pulldown",
        ],
    ),
    (
        "hand",
        &["deadlift", "pull-up", "bench press", "barbell curl"],
        &[
            "leg press",
            "leg extension",
            "belt squat",
            "standing calf raise",
            "back squat",
        ],
    ),
];

#[test]
fn what_stops_and_what_stays_is_what_a_physiotherapist_says() {
    for (area, held, kept) in KEPT_AND_HELD {
        let word = *area;
        let area = BodyArea::from_word(word);
        assert!(area.is_some(), "{word}");
        let Some(area) = area else { continue };
        for name in *held {
            assert!(
                exercise(name).strains(area),
                "{name} goes on with a hurt {word}"
            );
        }
        for name in *kept {
            assert!(
                !exercise(name).strains(area),
                "{name} stops with a hurt {word}"
            );
        }
    }
}

#[test]
fn a_back_of_which_no_part_is_named_holds_what_loads_either() {
    for name in ["deadlift", "barbell row", "pull-up", "leg press"] {
        assert!(exercise(name).strains(BodyArea::Back), "{name}");
    }
    assert!(!exercise("leg extension").strains(BodyArea::Back));
    assert!(exercise("leg extension").strains(BodyArea::Leg));
    assert!(exercise("lying triceps extension").strains(BodyArea::Arm));
}

#[test]
fn a_blow_to_the_head_holds_everything() {
    let catalogue = config::built_in();
    for (_, exercise) in catalogue.exercises() {
        assert!(exercise.strains(BodyArea::Head), "{}", exercise.name);
    }
}
