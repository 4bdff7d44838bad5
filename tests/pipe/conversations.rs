//! Recorded conversations through the whole program, by its pipe: what goes in stands in
//! `tests/data/pipe/NAME.in.jsonl`, what must come out in `NAME.out.jsonl`, read and reviewed.
//!
//! `CHALKBELL_BLESS=1 cargo test --test pipe conversations::` writes the outcomes anew.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::fs;
use std::io::{BufRead as _, Read as _, Write as _};
use std::path::{Path, PathBuf};

use crate::support::program::Program;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/pipe")
}

/// A line on which the program is killed without warning and started anew on the same database.
const KILL: &str = "# kill";

/// Plays a conversation and returns everything that came out. With `kills`, the program is killed
/// and started anew where the script says so.
fn play(script: &str, kills: bool) -> Vec<String> {
    let folder = tempfile::tempdir().expect("a folder");
    let database = folder.path().join("log.sqlite");
    let mut program = Program::start(&database);
    let mut out = Vec::new();
    for line in script.lines() {
        if line == KILL && kills {
            program.kill();
            program = Program::start(&database);
        } else if !line.is_empty() && !line.starts_with('#') {
            let answer = program.answer(line).into_iter();
            out.extend(answer.map(|line| {
                look_at_files(&line);
                anywhere(&line, folder.path())
            }));
        }
    }
    program.close();
    out
}

/// Every file that a line names lies there, whole, with words for it.
fn look_at_files(line: &str) {
    let line: serde_json::Value = serde_json::from_str(line).expect("JSON");
    for file in line["files"].as_array().into_iter().flatten() {
        let text = |key: &str| file[key].as_str().unwrap_or_default();
        let bytes = fs::read(text("path")).expect("a file where it is said to lie");
        assert!(bytes.starts_with(b"\x89PNG"), "{file}");
        assert!(bytes.len() <= 200_000, "{file}: {} bytes", bytes.len());
        assert!((1..=1024).contains(&text("alt").chars().count()), "{file}");
        assert!(file.get("figure").is_none(), "{file}");
    }
}

/// A line with its folder left open.
fn anywhere(line: &str, folder: &Path) -> String {
    line.replace(&folder.display().to_string(), "FOLDER")
}

/// Plays a conversation with all lines queued, so that they share commits; everything that came out.
fn play_queued(script: &str) -> Vec<String> {
    let folder = tempfile::tempdir().expect("a folder");
    let mut program = Program::start(&folder.path().join("log.sqlite"));
    let lines = script.lines().filter(|line| !line.starts_with('#'));
    let all = lines.collect::<Vec<_>>().join("\n");
    let mut input = program.input.take().expect("an open input");
    std::thread::scope(|scope| {
        scope.spawn(move || input.write_all(all.as_bytes()).expect("the program reads"));
        let lines = program.output.by_ref().lines();
        let out = lines.map(|line| anywhere(&line.expect("the program prints"), folder.path()));
        let out = out.collect();
        program.child.wait().expect("it ends");
        out
    })
}

fn check(name: &str) {
    let script = fs::read_to_string(folder().join(format!("{name}.in.jsonl"))).expect("a script");
    let path = folder().join(format!("{name}.out.jsonl"));
    let got = play(&script, true);
    #[expect(clippy::disallowed_methods, reason = "a switch of the test's own")]
    if std::env::var("CHALKBELL_BLESS").is_ok() {
        fs::write(&path, got.join("\n") + "\n").expect("a writable folder");
    }
    let expected = fs::read_to_string(&path).expect("a reviewed outcome");
    for (number, (got, expected)) in got.iter().zip(expected.lines()).enumerate() {
        assert_eq!(got, expected, "line {} of {}", number + 1, path.display());
    }
    assert_eq!(got.len(), expected.lines().count(), "{}", path.display());
    assert_eq!(got, play(&script, true), "the same again");
    assert_eq!(got, play(&script, false), "the same without being killed");
    assert_eq!(got, play_queued(&script), "the same with all lines queued");
}

#[test]
fn a_whole_session_is_answered_as_reviewed() {
    check("session");
}

#[test]
fn how_right_the_advice_was_is_told() {
    check("accuracy");
}

#[test]
fn a_name_alone_heads_the_sets_below_it_and_what_is_deleted_stays_so() {
    check("names");
}

#[test]
fn guards_ask_refuse_and_go_on() {
    check("guards");
}

#[test]
fn what_is_taken_back_is_as_it_was() {
    check("taken_back");
}

#[test]
fn an_open_question_is_answered_by_yes_and_no() {
    check("answers");
}

#[test]
fn a_second_member_and_a_second_team_stay_apart() {
    check("walls");
}

#[test]
fn plans_are_set_and_followed() {
    check("plans");
}

#[test]
fn plans_are_read_as_coaches_write_them() {
    check("coach_lines");
}

#[test]
fn sessions_are_fitted_into_the_minutes() {
    check("fit");
}

#[test]
fn coaches_see_the_week_and_members_do_not() {
    check("coach");
}

#[test]
fn a_newcomer_finds_the_way_from_the_first_hi() {
    check("newcomer");
}

#[test]
fn a_beginner_trains_for_three_weeks() {
    check("weeks_beginner");
}

#[test]
fn a_regular_trains_for_three_weeks() {
    check("weeks_regular");
}

#[test]
fn somebody_with_pounds_and_few_plates_trains_for_three_weeks() {
    check("weeks_pounds");
}

#[test]
fn a_terse_regular_is_answered_in_few_words() {
    check("regular");
}

#[test]
fn sets_on_the_way_up_are_known_by_the_top() {
    check("ways_up");
}

#[test]
fn a_newcomer_in_pounds_says_so_once() {
    check("pounds_shown");
}

#[test]
fn pounds_few_plates_and_a_hotel_are_understood() {
    check("pounds");
}

#[test]
fn a_beginners_load_goes_up_after_two_sessions() {
    check("beginner");
}

#[test]
fn weeks_lifts_and_teams_come_with_their_pictures() {
    check("pictures");
}

#[test]
fn bells_ring_move_stop_and_keep_quiet() {
    check("bells");
}

#[test]
fn the_week_is_put_before_all_and_before_each() {
    check("digest");
}
