//! Broken and mixed input through the pipe, and through the readers of plans, blocks, targets and logs.
//!
//! `cargo test --release --test reader fuzz_inputs:: -- --ignored --nocapture` goes on for half an hour and prints
//! how much was read. The short run is part of every test run. Nothing may panic: in the pipe, where
//! a panic is caught, no line may be answered as a fault of the program, and each line that is not
//! blank is done once.

#![expect(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::time::{Duration, Instant};

use crate::support::split_mix::SplitMix64;
use chalkbell::channel::pipe;
use chalkbell::config;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::message::NameIndex;
use chalkbell::message::forms::plan::Language;
use chalkbell::message::forms::{block, logbook, plan, target};
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;

/// One of these.
fn one_of<'a, T: ?Sized>(random: &mut SplitMix64, all: &[&'a T]) -> &'a T {
    all[random.below(all.len())]
}

const TEXTS: [&str; 18] = [
    "/plan bo\nmon: back squat 4x6-10 2rir; lying leg curl 3x10-15 1rir\nthu: bench press 4x8-12 1rir",
    "/plan for ines, bo:\nmon: squat 3x5-8 100 kg; bench + row 3x8\nfor all:\nsat: curl 2x12",
    "/plan next week\ntue: leg press 5x10-15 @8 rest 3:00",
    "/block bo\nweek 1: 2rir\nweek 2: 1rir 110%\nweek 3: 2rir\nweek 4: lighter",
    "/block\n1: +1rir 80%\n2: -1rir",
    "/target bo chest 10-20, back 12-18; quads off",
    "/target chest 10 20",
    "/import\nmember,date,exercise,load,reps\nbo,2026-01-05,bench press,62.5,8\nbo,2026-01-06,row,55 lb,10",
    "/import check\nmember;date;exercise;load;reps;rir;kind\n\"bo \"\"b\"\"\";05.01.2026;squat;80,5;5;1,5;warm-up",
    "bench press 80x10, 2 left",
    "squat 3x8 @ 100 kg, x9, 8 (fail)",
    "/rack discs 20x2 10 5 2.5",
    "/settings zone Europe/Berlin",
    "/catalogue add Boatman Pull like barbell row target back helpers biceps short bpull",
    "/fit 45 pairs",
    "/note bo sleeps badly",
    "82.5 after 90 s?",
    "my left knee hurts, 7/10",
];

const INSERTS: [&str; 34] = [
    "\n",
    ",",
    ";",
    "\"",
    ":",
    "x",
    "-",
    "–",
    "%",
    "+",
    "/",
    "@",
    "0",
    "9",
    "99999999999999999999",
    "-1",
    "1e400",
    "NaN",
    "\u{0}",
    "\u{202e}",
    "é",
    "Ω",
    "\u{1f3cb}",
    "\t",
    "\\",
    "{",
    "}",
    "[",
    "null",
    "kg",
    " lb",
    "rir",
    "2026-02-30",
    "for all:",
];

/// A text as it may come from anybody: parts taken out, doubled, swapped, cut and mixed in.
fn mutated(random: &mut SplitMix64, seed: &str) -> String {
    let mut text: Vec<char> = seed.chars().collect();
    for _ in 0..random.below(6) {
        let (a, b) = (random.below(text.len() + 1), random.below(text.len() + 1));
        let (from, to) = (a.min(b), a.max(b).min(a.min(b) + 12));
        match random.below(6) {
            0 => drop(text.drain(from..to)),
            1 => {
                let part = text[from..to].to_vec();
                drop(text.splice(to..to, part));
            }
            2 => text[from..to].reverse(),
            3 => text.truncate(text.len() - (to - from)),
            _ => drop(text.splice(from..from, one_of(random, &INSERTS).chars())),
        }
    }
    text.into_iter().collect()
}

/// What stands in a text, read by everything that reads what coaches write.
fn read_by_all(text: &str, language: &Language<'_>) {
    for part in plan::sections(text) {
        if let Ok(read) = plan::read(&part.text, language) {
            // What is read is printed, too.
            drop(plan::print(&read, language.catalogue));
        }
    }
    let whole = plan::read(text, language);
    drop(whole.map(|read| plan::print(&read, language.catalogue)));
    drop(block::read(text).map(|read| block::print(&read)));
    drop(target::read(text, language.catalogue));
    drop(logbook::read(text).map(|read| logbook::print(&read)));
}

fn texts(until: impl Fn(u64) -> bool) -> u64 {
    let mut random = SplitMix64(11);
    let catalogue = config::built_in();
    let names = NameIndex::new(&catalogue);
    let language = Language {
        catalogue: &catalogue,
        names: &names,
        unit: Unit::Kg,
    };
    let mut count = 0;
    while until(count) {
        let seed = one_of(&mut random, &TEXTS);
        // Without the word of the command, as the readers get it.
        let seed = seed.split_once('\n').map_or(seed, |(_, rest)| rest);
        read_by_all(&mutated(&mut random, seed), &language);
        count += 1;
    }
    count
}

/// A line for the pipe: an event, its text or itself broken, or bytes.
fn line(random: &mut SplitMix64, number: usize) -> Vec<u8> {
    let at = format!(
        "2026-0{}-1{}T1{}:{:02}:00Z",
        1 + random.below(3),
        random.below(9),
        random.below(9),
        random.below(60)
    );
    let seed = one_of(random, &TEXTS);
    let text = mutated(random, seed);
    let (team, author) = (
        one_of(random, &["t", "u", ""]),
        one_of(random, &["ines", "bo", "coach"]),
    );
    let earlier = format!("{}", random.below(number + 1));
    let mut line = match random.below(10) {
        0 => {
            serde_json::json!({"type": "edit", "id": earlier, "team": team, "at": at, "text": text})
        }
        1 => serde_json::json!({"type": "delete", "id": earlier, "team": team, "at": at}),
        2 => serde_json::json!({"type": "press", "reply": format!("{earlier}.1"), "team": team,
            "author": author, "button": one_of(random, &["yes", "no", "go", "wait"]), "at": at}),
        3 => serde_json::json!({"type": "clock", "at": at}),
        _ => serde_json::json!({"type": "message", "id": number.to_string(), "team": team,
            "channel": "c", "author": author, "name": author, "coach": author == "coach", "at": at,
            "text": text}),
    }
    .to_string();
    if random.below(5) == 0 {
        line = mutated(random, &line);
    }
    let mut line = line.into_bytes();
    if random.below(20) == 0 {
        let place = random.below(line.len() + 1);
        let byte = u8::try_from(random.below(256)).unwrap();
        line.insert(place, byte);
    }
    line
}

/// So many lines through a pipe of its own.
async fn through_a_pipe(random: &mut SplitMix64, count: usize) {
    let store = Store::open("sqlite::memory:").await.unwrap();
    let service = Service::new(store, Bot::new(config::built_in()));
    let mut input = Vec::new();
    for number in 0..count {
        input.extend(line(random, number));
        input.push(b'\n');
    }
    let mut output = Vec::new();
    pipe::run(&service, input.as_slice(), &mut output)
        .await
        .unwrap();
    let output = String::from_utf8(output).unwrap();
    let mut done = 0;
    for line in output.lines() {
        assert!(
            !line.contains("a fault in the program"),
            "{line}\n{}",
            String::from_utf8_lossy(&input)
        );
        let note: serde_json::Value = serde_json::from_str(line).unwrap();
        done += usize::from(note["type"] == "done");
    }
    let blank = |line: &&[u8]| line.trim_ascii().is_empty();
    let lines = input.split(|byte| *byte == b'\n');
    assert_eq!(done, lines.filter(|line| !blank(line)).count());
    service.close().await;
}

fn pipes(until: impl Fn(u64) -> bool) -> u64 {
    const LINES: usize = 200;
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .unwrap();
    let mut random = SplitMix64(13);
    let mut count = 0;
    while until(count) {
        runtime.block_on(through_a_pipe(&mut random, LINES));
        count += u64::try_from(LINES).unwrap();
    }
    count
}

#[test]
fn texts_of_coaches_are_read_without_a_panic() {
    texts(|count| count < 2_000);
}

#[test]
fn pipe_answers_whatever_comes_without_a_fault_of_its_own() {
    pipes(|count| count < 400);
}

/// A quarter of an hour, on the clock of the machine.
fn long() -> impl Fn(u64) -> bool {
    #[expect(clippy::disallowed_methods, reason = "it ends after a time")]
    let end = Instant::now() + Duration::from_secs(15 * 60);
    #[expect(clippy::disallowed_methods, reason = "it ends after a time")]
    move |_| Instant::now() < end
}

#[test]
#[ignore = "takes a quarter of an hour"]
fn texts_of_coaches_are_read_without_a_panic_for_long() {
    println!("{} texts", texts(long()));
}

#[test]
#[ignore = "takes a quarter of an hour"]
fn pipe_answers_whatever_comes_without_a_fault_of_its_own_for_long() {
    println!("{} lines", pipes(long()));
}
