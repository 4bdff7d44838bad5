//! Labelled messages of our own through the reader: `tests/data/messages.jsonl`.
//!
//! One object a line: `{"id", "unit", "thread", "text", "expect"}`. Messages of one thread stand
//! together, in order, a minute apart; all others stand alone. `\n` in a text is two characters.
//! Every label follows the message language; the messages are invented.

#![expect(clippy::unwrap_used, reason = "a test that cannot be set up must fail")]

use std::collections::BTreeSet;

use chalkbell::channel::read::read_lines;
use chalkbell::config;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::message::Reader;
use serde::Deserialize;
use serde_json::Value;

const CORPUS: &str = include_str!("../data/messages.jsonl");

/// Messages written and labelled by people who had not seen the reader.
const OTHERS: &str = include_str!("../data/messages_of_others.jsonl");

/// Sets told in the middle of prose, and much chat that looks like training, by other hands again.
/// Not every set in prose is heard: the figures of its test only ever go down.
const PROSE: &str = include_str!("../data/messages_in_prose.jsonl");
/// Most messages in prose that may be misread.
const MOST_WRONG: usize = 37;
/// Most of its 600 lines of chat that may be taken for training.
const MOST_FALSE_ALARMS: usize = 5;

#[derive(Deserialize)]
struct Row {
    id: String,
    unit: String,
    thread: Option<String>,
    text: String,
    expect: Value,
}

fn rows() -> Vec<Row> {
    rows_of(CORPUS)
}

fn rows_of(corpus: &str) -> Vec<Row> {
    corpus
        .lines()
        .map(|line| serde_json::from_str(line).unwrap_or_else(|fault| panic!("{line}: {fault}")))
        .collect()
}

/// What `read` answers to some lines.
fn answers(reader: &Reader, lines: &[&str], unit: Unit, thread: bool) -> Vec<Value> {
    let input = lines.join("\n") + "\n";
    let mut output = Vec::new();
    read_lines(reader, input.as_bytes(), &mut output, unit, thread).unwrap();
    let text = String::from_utf8(output).unwrap();
    text.lines()
        .map(|line| without_readings(serde_json::from_str(line).unwrap()))
        .collect()
}

/// An answer without the readings that it hesitates between, and how sure it is: the labels name
/// neither.
fn without_readings(mut answer: Value) -> Value {
    if let Some(object) = answer.as_object_mut() {
        object.remove("readings");
        object.remove("sure");
    }
    answer
}

/// Equal as JSON, numbers by value: `80` and `80.0` are the same load.
fn same(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => {
            (a.as_f64().unwrap() - b.as_f64().unwrap()).abs() < 1e-6
        }
        (Value::Array(a), Value::Array(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        (Value::Object(a), Value::Object(b)) => {
            a.len() == b.len()
                && a.iter()
                    .all(|(key, value)| b.get(key).is_some_and(|b| same(value, b)))
        }
        _ => a == b,
    }
}

fn unit(row: &Row) -> Unit {
    Unit::from_symbol(&row.unit).unwrap()
}

/// Most labelled messages of our own that may be asked whether something hurts where they say it
/// plainly, or where nothing does, or be taken for a warning sign; and of others. Both may only fall.
const MOST_ASKED: usize = 16;
const MOST_OTHERS_ASKED: usize = 5;
const MOST_ASKED_IN_PROSE: usize = 5;

/// Whether a report is taken more seriously than it is labelled, and all else is as labelled: a small
/// mistake, as a question is.
fn too_serious(expected: &Value, got: &Value) -> bool {
    let mut calmer = got.clone();
    got["urgent"] == true && {
        calmer["urgent"] = false.into();
        same(expected, &calmer)
    }
}

/// Whether it is asked if something hurts, and all else is as labelled, but for the pain.
fn only_asked(expected: &Value, got: &Value) -> bool {
    let needs = got["needs"].as_array();
    let asked = needs.is_some_and(|needs| needs.iter().any(|need| need == "hurt"));
    let without = |value: &Value| {
        let mut value = value.clone();
        if let Some(object) = value.as_object_mut() {
            for key in ["kind", "body", "urgent"] {
                object.remove(key);
            }
            if let Some(needs) = object.get_mut("needs").and_then(Value::as_array_mut) {
                needs.retain(|need| need != "hurt");
            }
            object.retain(|_, value| value != &Value::Array(Vec::new()));
        }
        value
    };
    asked && same(&without(expected), &without(got))
}

/// A message that is not read as labelled.
struct Wrong {
    asked: bool,
    told: String,
    false_alarm: bool,
}

/// The messages that are not read as labelled.
fn wrong(rows: &[Row]) -> Vec<Wrong> {
    let reader = Reader::new(config::built_in());
    let mut wrong = Vec::new();
    let mut check = |row: &Row, got: &Value| {
        if !same(&row.expect, got) {
            let told = format!(
                "{} {}\n  want {}\n  got  {got}",
                row.id, row.text, row.expect
            );
            let false_alarm = row.expect["kind"] == "chatter";
            let asked = only_asked(&row.expect, got) || too_serious(&row.expect, got);
            wrong.push(Wrong {
                asked,
                told,
                false_alarm,
            });
        }
    };
    for row in rows.iter().filter(|row| row.thread.is_none()) {
        let got = answers(&reader, &[&row.text], unit(row), false);
        check(row, &got[0]);
    }
    let threads: BTreeSet<_> = rows.iter().filter_map(|row| row.thread.as_ref()).collect();
    for thread in threads {
        let rows: Vec<_> = rows
            .iter()
            .filter(|row| row.thread.as_ref() == Some(thread))
            .collect();
        let lines: Vec<_> = rows.iter().map(|row| row.text.as_str()).collect();
        let got = answers(&reader, &lines, unit(rows[0]), true);
        assert_eq!(got.len(), rows.len(), "thread {thread}");
        rows.iter().zip(&got).for_each(|(row, got)| check(row, got));
    }
    wrong
}

fn told(wrong: &[Wrong]) -> String {
    wrong
        .iter()
        .map(|one| one.told.as_str())
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn every_labelled_message_is_read_as_labelled() {
    let (asked, wrong): (Vec<_>, Vec<_>) = wrong(&rows()).into_iter().partition(|one| one.asked);
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), told(&wrong));
    assert!(
        asked.len() <= MOST_ASKED,
        "{}:\n{}",
        asked.len(),
        told(&asked)
    );
}

#[test]
fn messages_of_others_are_read_as_labelled() {
    let (asked, wrong): (Vec<_>, Vec<_>) = wrong(&rows_of(OTHERS))
        .into_iter()
        .partition(|one| one.asked);
    assert!(
        asked.len() <= MOST_OTHERS_ASKED,
        "{}:\n{}",
        asked.len(),
        told(&asked)
    );
    let alarms = wrong.iter().filter(|one| one.false_alarm).count();
    assert!(
        wrong.is_empty(),
        "{} wrong, {alarms} of them false alarms:\n{}",
        wrong.len(),
        told(&wrong)
    );
}

#[test]
fn sets_in_prose_are_heard_and_chat_is_left_alone() {
    let (asked, wrong): (Vec<_>, Vec<_>) = wrong(&rows_of(PROSE))
        .into_iter()
        .partition(|one| one.asked);
    assert!(
        asked.len() <= MOST_ASKED_IN_PROSE,
        "{}:\n{}",
        asked.len(),
        told(&asked)
    );
    let alarms = wrong.iter().filter(|one| one.false_alarm).count();
    assert!(
        wrong.len() <= MOST_WRONG && alarms <= MOST_FALSE_ALARMS,
        "{} wrong, {alarms} of them false alarms:\n{}",
        wrong.len(),
        told(&wrong)
    );
}

#[test]
fn the_corpus_is_wide_enough_to_mean_something() {
    let rows = rows();
    let of = |kind: &str| rows.iter().filter(|row| row.expect["kind"] == kind).count();
    assert!(rows.len() >= 250);
    assert!(of("chatter") >= 100, "precision needs chat to be tested on");
    for kind in [
        "sets",
        "unclear",
        "question",
        "readiness",
        "hurt",
        "correction",
    ] {
        assert!(of(kind) >= 20, "{kind}");
    }
}

/// Messages by fourteen imagined people, written by one who had not seen the reader, and names of
/// exercises by the same hand: `data/fresh/README.md`.
const FRESH: &str = concat!(
    include_str!("../data/fresh/messages.jsonl"),
    include_str!("../data/fresh/messages_held_out.jsonl")
);
const FRESH_NAMES: &str = include_str!("../data/fresh/names.jsonl");
/// Whose messages are not looked at.
const HELD_OUT: [&str; 5] = ["dov", "edie", "gwen", "moss", "nadia"];
/// Most of theirs, and of all others', that may be read otherwise than labelled.
const MOST_WRONG_HELD_OUT: usize = 10;
const MOST_WRONG_OF_OTHERS: usize = 19;
/// Most chatter of all of them that may be answered.
const MOST_FRESH_ALARMS: usize = 2;
/// Most names that may be read as another movement, or not at all.
const MOST_NAMES_WRONG: usize = 32;

#[test]
fn fresh_messages_are_read_as_well_as_before() {
    let mut rows = rows_of(FRESH);
    // The labels name no readings, and no urgency where they were written without one.
    let labelled = |row: &Row, key: &str| row.expect.get(key).is_some();
    let reader = Reader::new(config::built_in());
    let mut wrong = [0, 0];
    let mut alarms = 0;
    let threads: BTreeSet<_> = rows.iter().filter_map(|row| row.thread.clone()).collect();
    let mut groups: Vec<Vec<Row>> = threads
        .iter()
        .map(|thread| {
            let of = rows.extract_if(.., |row| row.thread.as_ref() == Some(thread));
            of.collect()
        })
        .collect();
    groups.extend(rows.into_iter().map(|row| vec![row]));
    for group in &groups {
        let lines: Vec<_> = group.iter().map(|row| row.text.as_str()).collect();
        let in_thread = group[0].thread.is_some();
        let got = answers(&reader, &lines, unit(&group[0]), in_thread);
        for (row, mut got) in group.iter().zip(got) {
            for key in ["readings", "urgent", "caution"] {
                if !labelled(row, key) {
                    got.as_object_mut().unwrap().remove(key);
                }
            }
            let person = row.id.split('-').next().unwrap();
            if !same(&row.expect, &got) {
                wrong[usize::from(HELD_OUT.contains(&person))] += 1;
                alarms += usize::from(row.expect["kind"] == "chatter");
            }
        }
    }
    let [others, held_out] = wrong;
    println!("fresh messages: {others} and, held out, {held_out} wrong; {alarms} false alarms");
    assert!(held_out <= MOST_WRONG_HELD_OUT, "{held_out} held out");
    assert!(others <= MOST_WRONG_OF_OTHERS, "{others} of the others");
    assert!(alarms <= MOST_FRESH_ALARMS, "{alarms} false alarms");
}

#[test]
fn fresh_names_are_known_as_well_as_before() {
    #[derive(Deserialize)]
    struct Name {
        name: String,
        means: Vec<String>,
    }
    let reader = Reader::new(config::built_in());
    let mut wrong = 0;
    for line in FRESH_NAMES.lines() {
        let name: Name = serde_json::from_str(line).unwrap();
        let text = format!("{} 40x8", name.name);
        let got = answers(&reader, &[&text], Unit::Kg, false);
        let exercise = got[0]["sets"][0]["exercise"].as_str();
        let right = exercise.is_some_and(|known| name.means.iter().any(|one| one == known));
        wrong += usize::from(!right);
    }
    println!(
        "fresh names: {wrong} of {} wrong",
        FRESH_NAMES.lines().count()
    );
    assert!(wrong <= MOST_NAMES_WRONG, "{wrong} names");
}

/// Lines of training diaries by people from whom nothing was learned: `data/fresh/README.md`.
const DIARIES_HELD_OUT: &str = concat!(
    include_str!("../data/fresh/diaries_held_out.jsonl"),
    include_str!("../data/fresh/diaries_held_out_two.jsonl")
);

/// What a line of a diary is read as, and whether that is what it means: the same exercises, loads and repetitions.
fn read_diary(reader: &Reader, line: &str) -> (Value, bool) {
    #[derive(Deserialize)]
    struct Line {
        text: String,
        unit: String,
        want: String,
        sets: Vec<Value>,
    }
    let parts = |set: &Value| {
        let number = |key: &str| set[key].as_f64().map(|value| (value * 100.0).round());
        (number("load"), number("reps"))
    };
    let line: Line = serde_json::from_str(line).unwrap();
    let unit = Unit::from_symbol(&line.unit).unwrap();
    let mut output = Vec::new();
    let text = line.text.replace('\n', "\\n");
    read_lines(reader, text.as_bytes(), &mut output, unit, false).unwrap();
    let got: Value = serde_json::from_slice(&output).unwrap();
    let named = |set: &Value, name: &Value| {
        let names = set["exercise"].as_array();
        names.is_some_and(|names| names.contains(name))
    };
    let sets = got["sets"].as_array().cloned().unwrap_or_default();
    let right = line.want == "sets"
        && sets.len() == line.sets.len()
        && sets
            .iter()
            .zip(&line.sets)
            .all(|(got, want)| parts(got) == parts(want) && named(want, &got["exercise"]));
    (got, right)
}

#[test]
fn diaries_and_first_messages_by_many_more_people_are_read_as_well_as_before() {
    // Of 136 lines with sets each; when they were new 125 and 121 were right by a scorer that also takes units and
    // questions into account. Every second author of each was not looked at until they were counted again.
    for (text, least) in [
        (include_str!("../data/fresh/diaries_of_clubs.jsonl"), 127),
        (include_str!("../data/fresh/diaries_of_many.jsonl"), 129),
        // First messages by forty more, of 155 with sets.
        (
            include_str!("../data/fresh/first_messages_held_out.jsonl"),
            147,
        ),
    ] {
        let reader = Reader::new(config::built_in());
        let right = text
            .lines()
            .filter(|line| read_diary(&reader, line).1)
            .count();
        println!("{right} of {} diary lines", text.lines().count());
        assert!(right >= least, "{right}");
    }
}

/// Of readings that are held 95 % sure at least so many are right.
const RIGHT_WHERE_SURE: f64 = 0.93;

#[test]
fn readings_that_are_held_sure_are_right() {
    let reader = Reader::new(config::built_in());
    // Up to 80, 90, 95 and 100 % sure: right, and all.
    let mut table = [[0_u32; 2]; 4];
    for line in DIARIES_HELD_OUT.lines() {
        let (got, right) = read_diary(&reader, line);
        let Some(sure) = got["sure"].as_f64() else {
            continue;
        };
        let bin = [0.8, 0.9, 0.95]
            .iter()
            .filter(|least| sure >= **least)
            .count();
        table[bin][0] += u32::from(right);
        table[bin][1] += 1;
    }
    println!("right, of all, up to 80, 90, 95, 100 % sure: {table:?}");
    let [right, all] = table[3];
    assert!(all >= 50, "{all} are too few to tell");
    let share = f64::from(right) / f64::from(all);
    assert!(share >= RIGHT_WHERE_SURE, "{right} of {all}");
}

/// First messages, with what each is read as in short.
const FIRST: &str = include_str!("../data/first.tsv");

/// `bench press: 60x10@2 60x8w`: the sets of an answer, or the first of what is asked; else its kind.
fn in_short(answer: &Value) -> String {
    let kind = answer["kind"].as_str().unwrap();
    if !matches!(kind, "sets" | "unclear") {
        return kind.to_owned();
    }
    let mut out: Vec<String> = Vec::new();
    let asked = !answer["needs"].is_null();
    out.extend((asked && kind == "unclear").then(|| "asked".to_owned()));
    let offered = answer["readings"].get(0).unwrap_or(&Value::Null);
    let sets = answer["sets"].as_array().or(offered.as_array());
    let mut before = "";
    for set in sets.into_iter().flatten() {
        let exercise = set["exercise"].as_str().unwrap();
        if exercise != std::mem::replace(&mut before, exercise) {
            out.push(format!("{exercise}:"));
        }
        let basis = match set["basis"].as_str().unwrap() {
            "per_hand" => "/h",
            "per_side" => "/s",
            "added" => "+",
            "assisted" => "-",
            "body" => "bw",
            _ => "",
        };
        let number = |key: &str| set[key].as_f64().map_or(String::new(), |n| n.to_string());
        let (reps, held) = match set["seconds"].is_null() {
            true => (number("reps"), ""),
            false => (number("seconds"), "s"),
        };
        let left = set["rir"]
            .as_f64()
            .map_or(String::new(), |rir| format!("@{rir}"));
        let is = |key: &str, mark| if set[key] == true { mark } else { "" };
        let (warm, side) = (is("warm_up", "w"), is("per_side", "/"));
        let day = set["day"]
            .as_str()
            .map_or(String::new(), |day| format!("({day})"));
        out.push(format!(
            "{}{basis}x{reps}{held}{left}{warm}{side}{day}",
            number("load")
        ));
    }
    out.extend((asked && kind == "sets").then(|| "asked".to_owned()));
    out.join(" ")
}

#[test]
fn first_messages_are_read_in_other_wordings() {
    let reader = Reader::new(config::built_in());
    let rows = FIRST.lines().filter(|line| !line.starts_with('#'));
    let rows: Vec<(&str, &str)> = rows.map(|line| line.split_once('\t').unwrap()).collect();
    let texts: Vec<&str> = rows.iter().map(|(text, _)| *text).collect();
    let mut output = Vec::new();
    let input = texts.join("\n") + "\n";
    read_lines(&reader, input.as_bytes(), &mut output, Unit::Kg, false).unwrap();
    let output = String::from_utf8(output).unwrap();
    let answers = output
        .lines()
        .map(|line| in_short(&serde_json::from_str(line).unwrap()));
    let wrong: Vec<String> = (rows.iter().zip(answers))
        .filter(|((_, want), got)| want != got)
        .map(|((text, want), got)| format!("{text}\n  want {want}\n  got  {got}"))
        .collect();
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
