//! The demo's week counted again from its raw messages, by a method that knows nothing of the
//! reader, and held against the table that the coach gets at the end.

#![expect(clippy::expect_used, reason = "helpers of tests may fail the test")]

use std::collections::BTreeMap;
use std::path::Path;

use chalkbell::channel::demo;
use chalkbell::channel::gallery::Gallery;
use chalkbell::config;
use chalkbell::domain::quantities::catalogue::Catalogue;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;

const SCRIPT: &str = include_str!("../../config/demo.txt");

/// What the demo's lifters call their lifts.
const LIFTS: &[(&str, &str)] = &[
    ("bench", "bench press"),
    ("row", "barbell row"),
    ("lat raises", "lateral raise"),
    ("sqaut", "back squat"),
    ("squat", "back squat"),
    ("leg curl", "lying leg curl"),
    ("calf raise", "standing calf raise"),
    ("pull-ups", "pull-up"),
    ("dips", "dip"),
    ("hammer curl", "hammer curl"),
    ("trap bar deadlift", "trap bar deadlift"),
    ("leg press", "leg press"),
    ("front squat", "front squat"),
    ("rdl", "romanian deadlift"),
    ("crunch", "crunch"),
    ("incline db press", "incline dumbbell press"),
    ("lat pd", "lat pull-down"),
    ("pushdown", "triceps pushdown"),
    ("chin-ups", "chin-up"),
    ("push-ups", "push-up"),
    ("seated cable row", "seated cable row"),
];

/// How messages begin that hold no set.
const NO_SETS: &[&str] = &[
    "/",
    "evening",
    "how",
    "still",
    "ready",
    "see you",
    "+15 after",
    "sharp",
    "that was",
    "show",
    "tomas,",
];

/// The sets of a message: the numbers that are left once loads, efforts and rests are struck out.
fn reps(text: &str) -> usize {
    let text = text.split(" after ").next().unwrap_or(text);
    let mut words: Vec<&str> = text.split([' ', ',']).filter(|w| !w.is_empty()).collect();
    // `2 left` goes with its number; `r1` and `f` are no numbers; `@ 10` is a reps count here.
    while let Some(place) = words.iter().position(|word| *word == "left") {
        words.drain(place - 1..=place);
    }
    // `down to 55`: a load.
    if let Some(place) = words.iter().position(|word| *word == "to") {
        words.remove(place + 1);
    }
    let number = |word: &str| word.parse::<u32>().is_ok();
    let set = |word: &&&str| {
        let word = word.trim_end_matches('x');
        match word.split_once('x') {
            Some((_, reps)) => number(reps),
            None => number(word) && !word.starts_with('+'),
        }
    };
    // `+10 x 9` and `16s x 12`: the load is no number by itself. `12 @ 10`: two numbers, one set.
    let at = words.iter().filter(|word| **word == "@").count();
    words.iter().filter(set).count() - at
}

/// Counted sets by member and lift.
fn by_hand() -> BTreeMap<String, BTreeMap<&'static str, usize>> {
    let mut counted: BTreeMap<String, BTreeMap<&str, usize>> = BTreeMap::new();
    let mut current: BTreeMap<&str, &str> = BTreeMap::new();
    let mut last: BTreeMap<&str, (&str, usize)> = BTreeMap::new();
    for line in SCRIPT
        .lines()
        .filter(|l| !l.is_empty() && !l.starts_with('#'))
    {
        let rest = line.splitn(3, ' ').nth(2).expect("day, time, the rest");
        let cut = rest.find([':', '>']).expect("a name");
        let (name, said) = (&rest[..cut], rest[cut + 1..].trim());
        let lower = said.to_lowercase();
        let member = counted.entry(name.to_owned()).or_default();
        // Edits and buttons change numbers, not how many sets there are.
        if rest[cut..].starts_with('>') || NO_SETS.iter().any(|no| lower.starts_with(no)) {
            continue;
        }
        if lower == "undo" {
            let (lift, sets) = last.remove(name).expect("something to undo");
            *member.entry(lift).or_default() -= sets;
            continue;
        }
        let text = lower.strip_prefix("yesterday: ").unwrap_or(&lower);
        let named = LIFTS.iter().find(|(called, _)| text.starts_with(called));
        let mut sets = text;
        if let Some((called, lift)) = named {
            current.insert(name, lift);
            sets = &text[called.len()..];
        }
        if sets.trim_start().starts_with("wu") {
            continue;
        }
        let lift = current.get(name).expect("a lift");
        let sets = reps(sets);
        *member.entry(lift).or_default() += sets;
        last.insert(name, (lift, sets));
    }
    counted
}

/// 1 for the target, ½ for helpers.
fn sum(catalogue: &Catalogue, lifts: &BTreeMap<&str, usize>, muscle: &str) -> f64 {
    let sums = lifts.iter().map(|(lift, sets)| {
        let lift = catalogue.named(lift).expect(lift);
        let muscle = catalogue.muscle_named(muscle).expect("a muscle");
        let sets = u32::try_from(*sets).expect("few sets");
        f64::from(sets) * catalogue.exercise(lift).involvement(muscle)
    });
    sums.sum()
}

/// What the demo prints, with its pictures in this folder.
fn played(pictures: &Path) -> String {
    let play = async {
        let store = Store::open("sqlite::memory:").await.expect("a store");
        let service = Service::new(store, Bot::new(config::built_in()));
        let gallery = Gallery::new(Some(pictures.to_owned()));
        let mut output = Vec::new();
        let played = demo::play(&service, &gallery, &mut output, false);
        played.await.expect("it plays");
        String::from_utf8(output).expect("text")
    };
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build();
    runtime.expect("a runtime").block_on(play)
}

/// Lines about pictures, which may be longer than a window is wide.
fn of_picture(line: &str) -> bool {
    line.starts_with("  (picture: ") || line.starts_with("  (it shows: ")
}

#[test]
fn it_ends_with_the_digest_and_its_pictures() {
    let folder = tempfile::tempdir().expect("a folder");
    let shown = played(folder.path());
    let (_, end) = shown
        .split_once("\nSun 18:00 (time passes)\n")
        .expect("a digest");
    for part in [
        "The team's week, Monday 16",
        "training without a plan",
        "(to ines alone)",
        "Next week: week 1",
    ] {
        assert!(end.contains(part), "{part} in {end}");
    }
    let lines: Vec<&str> = shown.lines().collect();
    let mut drawn = Vec::new();
    for (line, below) in lines.iter().zip(&lines[1..]) {
        let Some(path) = line.strip_prefix("  (picture: ") else {
            continue;
        };
        let path = Path::new(path.trim_end_matches(')'));
        let bytes = std::fs::read(path).expect("it lies there");
        assert!(bytes.starts_with(b"\x89PNG"), "{line}");
        assert!(below.starts_with("  (it shows: "), "{below}");
        drawn.push(
            path.file_name()
                .and_then(|name| name.to_str())
                .expect("a name"),
        );
    }
    for kind in ["week-2026-11-16-", "bench-press-", "team-2026-11-16-"] {
        assert!(
            drawn.iter().any(|name| name.starts_with(kind)),
            "{kind}: {drawn:?}"
        );
    }
    assert_eq!(end.matches("  (picture: ").count(), 4, "{end}");
    assert_eq!(shown, played(folder.path()), "the same again");
}

#[test]
fn the_coachs_table_is_what_a_count_by_hand_comes_to() {
    let folder = tempfile::tempdir().expect("a folder");
    let shown = played(folder.path());
    let catalogue = config::built_in();
    let lines: Vec<&str> = shown.lines().collect();
    for asked in ["/attention", "/week Ines", "/team"] {
        let told = lines.iter().skip_while(|line| !line.ends_with(asked));
        for line in told.take_while(|line| !line.is_empty() && !of_picture(line)) {
            assert!(line.chars().count() <= 80, "{asked}: {line}");
        }
    }
    let team = lines.iter().rposition(|line| line.ends_with("/team"));
    let told: Vec<&str> = lines[team.expect("asked") + 1..]
        .iter()
        .take_while(|line| !line.is_empty() && !of_picture(line))
        .map(|line| line.trim())
        .collect();
    let told = told.join(" ");
    let by_hand = by_hand();
    let mut rows = 0;
    // `- Bao, 13 sets: chest 3, back 3.`; a muscle without a set is left out.
    for row in told.split(" - ").skip(1) {
        let (head, muscles) = row.trim_end_matches('.').split_once(": ").expect("muscles");
        let name = head.split(',').next().expect("a name");
        let lifts = by_hand.get(name).expect("a member");
        let told: BTreeMap<&str, f64> = muscles
            .split(", ")
            .map(|one| {
                let (muscle, sets) = one.rsplit_once(' ').expect("muscle and sets");
                (muscle, sets.parse().expect(one))
            })
            .collect();
        assert!(told.len() >= 5, "{row}");
        for (_, muscle) in catalogue.muscles() {
            let muscle = muscle.name.as_str();
            let expected = sum(&catalogue, lifts, muscle);
            let told = told.get(muscle).copied().unwrap_or_default();
            assert!((told - expected).abs() < 0.01, "{row}: {muscle} {expected}");
        }
        rows += 1;
    }
    assert_eq!(rows, 4);
}
