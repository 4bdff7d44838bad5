//! Reports of pain and warning signs: how many are heard, by author, and how many are made up.
//!
//! `tests/data/pain/README.md` says who wrote the messages and how they are labelled. An author's
//! messages are scored by weights that were learned without that author.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test that cannot be set up must fail, and the scores are shown"
)]

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use chalkbell::channel::train::labelled;
use chalkbell::config;
use chalkbell::domain::mass::Unit;
use chalkbell::domain::warning::{Caution, WarningSign};
use chalkbell::message::intent::pain::training::{Labelled, Want, train};
use chalkbell::message::reading::{Correction, Kind, Reading};
use chalkbell::message::{Context, NameIndex, Reader};

/// Authors who teach the reader.
const TEACH: &[&str] = &[
    "one", "two", "four", "five", "six", "eight", "nine", "ten", "eleven", "sample", "plain",
    "talk", "chat",
];
/// Those of them who report.
const REPORTS: &[&str] = &["one", "two", "four", "five", "six", "eight", "nine", "ten"];
/// Other labelled messages that teach it what is no pain.
const OTHERS: &[&str] = &["messages", "messages_of_others", "messages_in_prose"];

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data")
}

fn data(name: &str) -> PathBuf {
    folder().join(format!("{name}.jsonl"))
}

fn of_author(author: &str) -> Vec<Labelled> {
    labelled(&[data(&format!("pain/{author}"))]).unwrap()
}

fn read(reader: &Reader, text: &str) -> Reading {
    reader.read(text, &Context::alone(Unit::Kg))
}

/// Shares of what was heard.
#[derive(Debug, Default)]
struct Score {
    /// Warning signs answered as such.
    urgent: f64,
    /// Pains answered or asked about.
    hurt: f64,
    /// Harmless messages answered.
    falsely: f64,
    /// Harmless messages asked about.
    asked: f64,
}

fn share(part: usize, whole: usize) -> f64 {
    let number = |count: usize| f64::from(u32::try_from(count).unwrap());
    number(part) / number(whole.max(1))
}

fn score(reader: &Reader, rows: &[Labelled]) -> Score {
    let count = |is: &dyn Fn(&Want) -> bool, got: &dyn Fn(&Reading) -> bool| {
        let of: Vec<_> = rows.iter().filter(|row| is(&row.want)).collect();
        let hits = of.iter().filter(|row| got(&read(reader, &row.text)));
        share(hits.count(), of.len())
    };
    let urgent = |want: &Want| matches!(want, Want::Urgent(_));
    let answered = |reading: &Reading| reading.hurt.is_some();
    let asked = |reading: &Reading| reading.may_hurt.is_some();
    Score {
        urgent: count(&urgent, &|r| r.hurt.as_ref().is_some_and(|h| h.urgent())),
        hurt: count(&|want| *want == Want::Hurt, &|r| answered(r) || asked(r)),
        falsely: count(&|want| *want == Want::Nothing, &answered),
        asked: count(&|want| *want == Want::Nothing, &asked),
    }
}

/// An author with the least that is to be heard and the most that is to be made up: urgent as urgent, hurt
/// answered or asked about, harmless answered, harmless asked about.
type Row = (&'static str, [f64; 4]);

/// Authors who teach; each is scored by weights that were learned without the author.
const LEFT_OUT: &[Row] = &[
    ("one", [0.98, 0.97, 0.035, 0.075]),
    ("two", [0.93, 0.92, 0.05, 0.095]),
    ("four", [0.92, 0.95, 0.04, 0.095]),
    ("five", [0.89, 0.94, 0.045, 0.065]),
    ("six", [0.87, 0.88, 0.04, 0.045]),
    ("eight", [0.84, 0.87, 0.012, 0.042]),
    ("nine", [0.9, 0.95, 0.012, 0.047]),
    ("ten", [0.73, 0.87, 0.048, 0.095]),
    ("eleven", [0.89, 0.93, 0.032, 0.05]),
    ("sample", [0.82, 0.93, 0.02, 0.085]),
];

/// Authors from whom nothing was ever learned, scored by the weights as they are shipped.
const HELD_OUT: &[Row] = &[
    ("three", [0.9, 0.95, 0.05, 0.075]),
    ("seven", [0.86, 0.94, 0.028, 0.056]),
    ("twelve", [0.925, 0.935, 0.027, 0.045]),
];

/// Fails where a score is worse than it has been; better ones are to be written down.
fn at_least(&(author, [urgent, hurt, falsely, asked]): &Row, score: &Score) {
    println!("{author}: {score:.3?}");
    assert!(score.urgent >= urgent, "{author}: {score:?}");
    assert!(score.hurt >= hurt, "{author}: {score:?}");
    assert!(score.falsely <= falsely, "{author}: {score:?}");
    assert!(score.asked <= asked, "{author}: {score:?}");
}

/// Learns once for each author, the network, too: minutes each, and only in an optimised build.
/// `cargo test --release --test pain_heard -- --ignored --nocapture` prints the scores.
#[test]
#[ignore = "takes minutes; the figures of a change of what is learned"]
fn an_author_who_was_left_out_is_heard() {
    let names = NameIndex::new(&config::built_in());
    let vectors = fs::read_to_string(folder().join("words.vectors")).unwrap();
    let others: Vec<_> = OTHERS.iter().map(|name| data(name)).collect();
    let others = labelled(&others).unwrap();
    for row in LEFT_OUT {
        let taught = TEACH.iter().filter(|other| **other != row.0);
        let mut rows: Vec<_> = taught.flat_map(|other| of_author(other)).collect();
        rows.extend(others.iter().cloned());
        let weights = train(&rows, &names, &vectors);
        let reader = Reader::weighing(
            config::built_in(),
            &weights.report,
            &weights.sign,
            &weights.net,
        );
        at_least(row, &score(&reader, &of_author(row.0)));
    }
}

/// Wanted are 0.95, 0.92, 3 % and 8 %: warning signs as such are still missed.
#[test]
fn the_authors_held_out_are_heard() {
    let reader = Reader::new(config::built_in());
    for row in HELD_OUT {
        at_least(row, &score(&reader, &of_author(row.0)));
    }
}

/// Share of messages on which the shipped weights may decide otherwise than weights learned now: names
/// that the catalogue gained since then tell some sets apart that were words before.
const STALE: f64 = 0.01;

/// Share of what was learned that the shipped weights may decide otherwise than it is labelled.
const UNLEARNED: f64 = 0.05;

/// The network takes minutes to learn, so here the linear weights alone are learned anew; that the network
/// still fits is seen by how well both decide what they were taught.
#[test]
fn the_shipped_weights_decide_as_weights_learned_now_do() {
    let names = NameIndex::new(&config::built_in());
    let mut files: Vec<_> = TEACH
        .iter()
        .map(|name| data(&format!("pain/{name}")))
        .collect();
    files.sort();
    files.extend(OTHERS.iter().map(|name| data(name)));
    let rows = labelled(&files).unwrap();
    let weights = train(&rows, &names, "");
    let fresh = Reader::weighing(config::built_in(), &weights.report, &weights.sign, "");
    let linear = Reader::weighing(config::built_in(), config::PAIN, config::PAIN_SIGNS, "");
    let shipped = Reader::new(config::built_in());
    let decided = |reader: &Reader, text: &str| {
        let reading = read(reader, text);
        (reading.hurt.is_some(), reading.may_hurt.is_some())
    };
    let (mut differ, mut unlearned) = (0, 0);
    // A fifth says it as well.
    let rows: Vec<_> = rows.iter().step_by(5).collect();
    for row in &rows {
        differ += usize::from(decided(&fresh, &row.text) != decided(&linear, &row.text));
        let (hurt, asked) = decided(&shipped, &row.text);
        let right = if row.want == Want::Nothing {
            !hurt
        } else {
            hurt || asked
        };
        unlearned += usize::from(!right);
    }
    let remedy = "run `chalkbell train` as DEVELOPERS.md says";
    assert!(share(differ, rows.len()) <= STALE, "{differ}: {remedy}");
    assert!(
        share(unlearned, rows.len()) <= UNLEARNED,
        "{unlearned}: {remedy}"
    );
}

/// What each kind of report reads as: a sign, a pain (`hurt`), or a question (`asked`).
#[test]
fn reports_of_each_kind_are_heard() {
    let reader = Reader::new(config::built_in());
    let cases: &[(&str, &str, &str)] = &[
        ("signs", "a lot of chest pain", "chest"),
        ("signs", "chst pain", "chest"),
        ("signs", "should I keep going with chest pain?", "chest"),
        (
            "signs",
            "my chest hurts and it's going down my left arm",
            "chest",
        ),
        ("signs", "i think i'm having a heart attack", "chest"),
        ("signs", "think i'm concussed", "head"),
        ("signs", "bar came down on my neck", "neck"),
        ("signs", "I don't want to be here anymore", "suicide"),
        (
            "places and complaints, with slips",
            "tweaked my sholder",
            "hurt",
        ),
        (
            "places and complaints, with slips",
            "elbw is killing me",
            "hurt",
        ),
        ("events", "felt a pop in my knee", "hurt"),
        ("events", "knee buckled", "hurt"),
        ("events", "something went in my back", "hurt"),
        ("grumbles", "knee's cranky again", "hurt"),
        ("grumbles", "shoulder is dodgy today", "hurt"),
        ("no place", "injured myself, done for today", "hurt"),
        (
            "played down",
            "coach says it's nothing, but my knee hurts",
            "hurt",
        ),
    ];
    for (kind, text, expected) in cases {
        let reading = read(&reader, text);
        let got = match (&reading.hurt, &reading.may_hurt) {
            (Some(hurt), _) => hurt.sign.map_or("hurt", WarningSign::word),
            (None, Some(_)) => "asked",
            (None, None) => "nothing",
        };
        assert_eq!(got, *expected, "{kind}: {text}");
    }
}

#[test]
fn a_set_beside_a_report_silences_nothing() {
    let reader = Reader::new(config::built_in());
    let heard = |text: &str| {
        let reading = read(&reader, text);
        (reading.hurt.is_some(), reading.may_hurt.is_some())
    };
    for row in REPORTS.iter().flat_map(|author| of_author(author)) {
        if row.want == Want::Nothing || heard(&row.text) == (false, false) {
            continue;
        }
        let text = &row.text;
        for beside in [
            format!("bench 80x10, 2 left. {text}"),
            format!("{text}\nrow 60x9, 8, 8"),
            format!("squat 100x5 @8\n{text}"),
        ] {
            assert_eq!(heard(&beside), heard(text), "{beside}");
        }
    }
}

#[test]
fn a_report_is_heard_beside_a_correction_an_undo_and_a_question() {
    let reader = Reader::new(config::built_in());
    let undo = read(&reader, "undo, sharp pain in my shoulder");
    assert!(undo.hurt.is_some());
    let changed = read(&reader, "that was 7 not 8, sharp pain in my shoulder");
    assert!(changed.hurt.is_some());
    assert_eq!(changed.kind(), Kind::Hurt);
    let asked = read(&reader, "my knee hurts, what do I load on bench?");
    assert!(asked.hurt.is_some());
    let plain = read(&reader, "undo");
    assert_eq!(
        (plain.hurt, plain.correction),
        (None, Some(Correction::Undo))
    );
}

#[test]
fn a_set_alone_is_never_asked_about() {
    let reader = Reader::new(config::built_in());
    for text in [
        "shoulder press 40x10, 40x9, 40x7",
        "leg press 180x12, 11; lying leg curl 40x12, 10",
        "calf rasie 90x15",
        "back squat 100x5 2 left",
        "hip thrust 120x10 @9",
    ] {
        let reading = read(&reader, text);
        assert_eq!((reading.hurt, reading.may_hurt), (None, None), "{text}");
    }
}

#[test]
fn what_belongs_to_a_professional_is_pointed_out() {
    let reader = Reader::new(config::built_in());
    for (text, expected) in [
        (
            "im 15 can i still do the strength group",
            Some(Caution::Age),
        ),
        (
            "20 weeks pregnant, can i still deadlift",
            Some(Caution::Pregnancy),
        ),
        (
            "doc put me on blood pressure tablets last month",
            Some(Caution::Heart),
        ),
        (
            "hernia op was three weeks ago, bench 40x10",
            Some(Caution::Operation),
        ),
        ("still a bit hungover, bench 70x5", Some(Caution::Drugs)),
        (
            "havent eaten since tuesday to make weight",
            Some(Caution::Eating),
        ),
        ("my sister is pregnant", None),
        ("bench 80x10, 2 left", None),
    ] {
        assert_eq!(read(&reader, text).caution, expected, "{text}");
    }
}

#[test]
fn no_text_breaks_the_reader() {
    let reader = Arc::new(Reader::new(config::built_in()));
    let long = "my knee hurts, ".repeat(2000);
    let odd = [
        "",
        " ",
        "\u{0}",
        "’",
        "é".repeat(5000).as_str(),
        &long,
        "x".repeat(9000).as_str(),
    ]
    .map(str::to_owned);
    for text in &odd {
        let _ = read(&reader, text);
    }
    assert!(read(&reader, &long).hurt.is_some());
    let all = TEACH
        .iter()
        .map(|author| fs::read_to_string(data(&format!("pain/{author}"))).unwrap());
    for text in all {
        for line in text.lines() {
            // The raw line, cut at any place: broken JSON, quotes and escapes are text, too.
            let middle = line
                .char_indices()
                .nth(line.chars().count() / 2)
                .map_or(0, |(at, _)| at);
            let _ = read(&reader, &line[..middle]);
            let _ = read(&reader, &line[middle..]);
        }
    }
}

/// Lines of chat from which nothing was learned, by a hand that saw nothing of the reader: a question
/// or an answer to any of them is one too many.
#[test]
fn chat_that_was_held_out_is_mostly_left_alone() {
    let reader = Reader::new(config::built_in());
    let got = score(&reader, &of_author("chat_held_out"));
    println!("chat: {got:.3?}");
    assert!(got.falsely <= 0.002, "{got:?}");
    assert!(got.asked <= 0.014, "{got:?}");
}
