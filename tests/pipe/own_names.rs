//! Names of exercises of a lifter's own, through the whole program, on every engine.

use crate::support::club::Club;
use crate::support::engines::{Place, on_every_engine};

/// Runs a story on every engine that outlives the program.
fn on_every_database(story: impl Fn(&mut Club)) {
    on_every_engine(async |place: &Place| {
        if place.durable {
            story(&mut Club::at(&place.url));
        }
    });
}

#[test]
fn a_name_is_kept_counts_for_nothing_and_goes_along_when_a_coach_maps_it() {
    on_every_database(|club| {
        let kept = club.says(10, "17:00", "call this one swing thing");
        assert!(kept.contains("I keep `swing thing`"), "{kept}");
        let card = club.says(10, "17:02", "20x10, 2 left");
        assert!(card.contains("Wren, swing thing: "), "{card}");
        club.says(10, "17:05", "swing thing 22.5x8, 1 left");
        club.says(10, "17:08", "hammer curl 12x10, 1 left");
        let week = club.says(10, "18:00", "/week");
        assert!(week.contains("1 set counts"), "{week}");
        assert!(
            week.contains("2 under names that nobody has mapped"),
            "{week}"
        );
        club.restart();
        let history = club.history("swing thing");
        assert!(history.contains("22.5 kg × 8, 1 left"), "{history}");
        assert!(
            club.says(11, "18:01", "best swing thing?")
                .contains("Heaviest: 22.5 kg × 8")
        );
        // Somebody else's words, and another team's, do not know it.
        for other in ["ines", "other/wren"] {
            let other = club.posts(other, 11, "18:02", "/history swing thing");
            assert!(other.contains("I don't know `swing thing`"), "{other}");
        }
        let open = club.posts("marta*", 11, "18:03", "/attention");
        assert!(open.contains("1 exercise has a name"), "{open}");
        let names = club.posts("marta*", 11, "18:04", "/catalogue names");
        assert!(names.contains("Wren's `swing thing`"), "{names}");
        let mapped = club.posts("marta*", 11, "18:05", "swing thing is a kettlebell swing");
        assert!(
            mapped.contains("Wren's `swing thing` is kettlebell swing"),
            "{mapped}"
        );
        assert!(mapped.contains("Your coach says"), "{mapped}");
        let week = club.says(11, "18:06", "/week");
        assert!(
            week.contains("3 sets count") && week.contains("glutes"),
            "{week}"
        );
        assert!(!week.contains("nobody has mapped"), "{week}");
        let history = club.history("kettlebell swing");
        assert!(
            history.contains("20 kg × 10") && history.contains("22.5 kg × 8"),
            "{history}"
        );
        let next = club.says(12, "17:00", "swing thing 20x10, 2 left");
        assert!(next.contains("Wren, kettlebell swing: "), "{next}");
    });
}

/// What is believed after a mapping is what would have been learned had the sets been posted so.
#[test]
fn after_a_mapping_advice_is_as_if_the_sets_had_been_posted_so() {
    let posted = |name: &str| {
        let mut club = Club::begin();
        club.says(10, "17:00", "call this one boat pull");
        club.says(10, "17:02", &format!("{name} 60x10, 2 left"));
        club.says(10, "17:05", &format!("{name} 60x8, 1 left"));
        club.says(10, "17:06", "boat pull is a barbell row");
        club.says(12, "17:00", "what do I load on barbell row?")
    };
    let (own, row) = (posted("boat pull"), posted("barbell row"));
    assert!(own.contains("barbell row: open with"), "{own}");
    assert_eq!(own, row);
}

#[test]
fn an_unknown_name_can_be_kept_by_a_button_or_in_words_and_the_set_is_logged() {
    let mut club = Club::begin();
    let asked = club.says(10, "17:00", "wobbler pull 20x10, 2 left");
    assert!(asked.contains("I don't know `wobbler pull`"), "{asked}");
    let card = club.presses(10, "17:01", "My own exercise");
    assert!(card.contains("Wren, wobbler pull: "), "{card}");
    club.posts("ines", 10, "17:02", "wobbler pull 16x10");
    let card = club.posts("ines", 10, "17:03", "call it wobbler pull");
    assert!(card.contains("Ines, wobbler pull (ines): 16 kg"), "{card}");
    // Whose is meant is asked where two have one, and each is mapped by itself.
    let asked = club.posts("marta*", 10, "17:04", "wobbler pull is a hip thrust");
    assert!(asked.contains("Say whose"), "{asked}");
    club.posts(
        "marta*",
        10,
        "17:05",
        "/catalogue map ines's wobbler pull to hip thrust",
    );
    assert!(club.history("hip thrust").contains("no"), "Wren did none");
    let own = club.history("wobbler pull");
    assert!(own.contains("20 kg × 10"), "{own}");
    let kept = club.says(10, "17:06", "call this one zercher thing");
    assert!(kept.contains("If it is one of these"), "{kept}");
    let mapped = club.presses(10, "17:07", "zercher squat");
    assert!(
        mapped.contains("`zercher thing` is zercher squat"),
        "{mapped}"
    );
}

#[test]
fn a_member_maps_no_name_of_somebody_else() {
    let mut club = Club::begin();
    club.says(10, "17:00", "call this one boat pull");
    club.says(10, "17:02", "boat pull 60x10, 2 left");
    club.posts("ines", 10, "17:03", "hi");
    assert_eq!(
        club.posts("ines", 10, "17:04", "boat pull is a hip thrust"),
        ""
    );
    club.posts(
        "ines",
        10,
        "17:05",
        "/catalogue map wren's boat pull to hip thrust",
    );
    assert!(club.history("boat pull").contains("60 kg × 10"));
}

#[test]
fn chat_keeps_no_name() {
    let mut club = Club::begin();
    club.says(10, "17:00", "bench 60x10, 2 left");
    for chat in [
        "call it a day",
        "call that one luck",
        "let's call it friday",
        "call this one a win",
        "just call me",
        "boat pull is fun",
    ] {
        assert_eq!(club.says(10, "17:01", chat), "", "{chat}");
    }
    let names = club.says(10, "17:02", "/catalogue names");
    assert!(names.contains("No exercise has a name"), "{names}");
}

#[test]
fn names_go_out_with_the_export_and_are_erased() {
    on_every_database(|club| {
        club.says(10, "17:00", "call this one wobbler pull");
        club.says(10, "17:02", "wobbler pull 60x10, 2 left");
        club.says(10, "17:03", "/export");
        let files = club.last.iter().find_map(|line| line["files"].as_array());
        let path = files.and_then(|files| files.first()?["path"].as_str());
        let whole = std::fs::read_to_string(path.expect("a file")).expect("the export");
        assert!(whole.contains("names_of_own") && whole.contains("wobbler pull"));
        club.says(10, "17:04", "/forget");
        club.says(10, "17:04", "/forget everything");
        let asked = club.says(10, "17:05", "wobbler pull 60x10, 2 left");
        assert!(asked.contains("I don't know `wobbler pull`"), "{asked}");
        let names = club.posts("marta*", 10, "17:06", "/catalogue names");
        assert!(names.contains("No exercise has a name"), "{names}");
    });
}
