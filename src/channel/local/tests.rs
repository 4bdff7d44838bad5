//! What typed lines mean, and how replies look.

use super::*;

fn read(text: &str) -> Option<Line<'_>> {
    line(text, |word| word == "bench")
}

#[test]
fn lines_steer_the_window_or_are_said() {
    let cases = [
        ("as mara", Some(Line::As("mara"))),
        ("as anna lena", Some(Line::Refused(ONE_WORD))),
        ("-5:00", Some(Line::Refused(NO_WAY_BACK))),
        ("-15 x 8", Some(Line::Message(None, "-15 x 8"))),
        ("as if I could", Some(Line::Message(None, "as if I could"))),
        (
            "mara: squat 100x5",
            Some(Line::Message(Some("mara"), "squat 100x5")),
        ),
        ("bench: 80x10", Some(Line::Message(None, "bench: 80x10"))),
        ("80: 10/9/8", Some(Line::Message(None, "80: 10/9/8"))),
        ("see you 7:30", Some(Line::Message(None, "see you 7:30"))),
        ("!2", Some(Line::Press(1))),
        ("!0", Some(Line::Message(None, "!0"))),
        ("edit bench 80x9", Some(Line::Edit("bench 80x9"))),
        ("delete", Some(Line::Delete)),
        (
            "delete my last set pls",
            Some(Line::Message(None, "delete my last set pls")),
        ),
        ("+90", Some(Line::Wait(90))),
        ("+2:30", Some(Line::Wait(150))),
        ("+3:00:00", Some(Line::Wait(10_800))),
        ("+1:2:3:4", Some(Line::Message(None, "+1:2:3:4"))),
        ("+20 x 8", Some(Line::Message(None, "+20 x 8"))),
        ("+99999999999", Some(Line::Message(None, "+99999999999"))),
        ("quit", Some(Line::Quit)),
        ("  ", None),
    ];
    for (text, expected) in cases {
        assert_eq!(read(text), expected, "{text}");
    }
}

#[test]
fn a_reply_shows_text_and_numbered_buttons() {
    let button = |label: &str| Button {
        id: "x".to_owned(),
        label: label.to_owned(),
    };
    let reply = Reply {
        text: "one\n```\ntable\n```".to_owned(),
        buttons: vec![button("Ready"), button("Undo")],
        ..Reply::default()
    };
    let text = shown(&Outgoing::Reply(reply), false);
    assert_eq!(text, "  one\n  table\n  [!1 Ready | !2 Undo]");
}

#[test]
fn a_message_taken_back_shows_nothing() {
    assert_eq!(shown(&Outgoing::Update(Reply::default()), false), "");
}

#[test]
fn a_command_takes_its_text_from_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("winter plans.txt");
    std::fs::write(&path, "\u{feff}for ines:\nmon: squat 4x8\n").unwrap();
    let typed = format!("/plan next week < {}", path.display());
    let expected = "/plan next week\nfor ines:\nmon: squat 4x8\n";
    assert_eq!(with_file(&typed).as_deref(), Ok(expected));
    let chat = "bench < squat";
    assert_eq!(with_file(chat).as_deref(), Ok(chat));
    let missing = format!("/plan < {}", folder.path().join("none.txt").display());
    assert!(with_file(&missing).is_err_and(|fault| fault.contains("Name a text file")));
}

#[test]
fn a_piped_line_too_long_is_skipped_whole() {
    let limit = usize::try_from(LONGEST_LINE).unwrap();
    let long = format!("{}squat 100x5", "a".repeat(2 * limit));
    let mut input = format!("bench 80x8\n{long}\n\nx9").into_bytes();
    input.push(0xff);
    let mut input = input.as_slice();
    let lines: Vec<_> = std::iter::from_fn(|| piped_line(&mut input)).collect();
    let said = |text: &str| Some(text.to_owned());
    let expected = [said("bench 80x8\n"), None, said("\n"), said("x9\u{fffd}")];
    assert_eq!(lines, expected);
}
