//! What a phone shows: monospaced blocks are narrow, everything else is sentences and lists that wrap
//! by themselves; a list that is longer than a screen begins with what it comes to.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use crate::support::program::Program;
use chalkbell::bot::text::table::WIDTH;
use serde_json::{Value, json};
use tempfile::TempDir;

const MEMBERS: usize = 60;
const EXERCISE: &str = "long sled carry with both hands up";

/// As long as a name is shown, without blanks and with.
fn name(place: usize) -> String {
    match place % 3 {
        0 => format!("Wilhelmina-Charlotte-Josephine{place:02}"),
        1 => format!("Bartholomew van den Bergh {place:02}"),
        _ => format!("Ed{place:02}"),
    }
}

/// A team that lifts heavy and a lot, in pounds.
struct Club {
    program: Program,
    count: usize,
    _folder: TempDir,
}

impl Club {
    fn begin() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        Self {
            program: Program::start(&folder.path().join("log.sqlite")),
            count: 0,
            _folder: folder,
        }
    }

    /// Posts on a day of November 2026; all texts that come of it.
    fn says(&mut self, who: &str, day: &str, text: &str) -> Vec<String> {
        self.count += 1;
        let event = json!({
            "type": "message", "id": format!("m{}", self.count), "team": "club", "channel": "gym",
            "author": who.to_lowercase().replace(' ', "-"), "name": who, "coach": who == "Adair",
            "at": format!("2026-11-{day}:00Z"), "text": text,
        });
        self.gives(&event)
    }

    fn gives(&mut self, event: &Value) -> Vec<String> {
        let texts = self.program.answer(&event.to_string()).into_iter();
        let texts = texts.filter_map(|line| {
            let line: Value = serde_json::from_str(&line).expect("JSON");
            line["text"].as_str().map(str::to_owned)
        });
        texts.collect()
    }

    /// Everybody with four weeks of sets, one of them with far more than anybody does; a plan, a block and
    /// aims for most.
    fn filled() -> Self {
        let mut club = Self::begin();
        club.says("Adair", "01T08:00", "/settings unit lb");
        let add =
            format!("/catalogue add {EXERCISE} like barbell row target back helpers biceps, traps");
        club.says("Adair", "01T08:00", &add);
        for place in 0..MEMBERS {
            club.says(&name(place), "01T09:00", "/experience 4 years");
        }
        let mut log = "/import unlikely\nmember,date,time,exercise,load,unit,reps,left".to_owned();
        for place in 0..MEMBERS {
            for (week, monday) in [2, 9, 16, 23].into_iter().enumerate() {
                let times = if place == 0 { 9 } else { 2 };
                for set in 0..times {
                    for (at, exercise) in ["back squat", "bench press", EXERCISE].iter().enumerate()
                    {
                        for day in 0..if place == 0 { 6 } else { 1 } {
                            log.push_str(&format!(
                                "\n{},2026-11-{:02},{:02}:{:02},{exercise},{}.5,lb,{},{}",
                                name(place),
                                monday + day,
                                9 + at,
                                4 * set,
                                1002 + 5 * week,
                                7 + place % 20,
                                set % 3
                            ));
                        }
                    }
                }
            }
        }
        let told = club.says("Adair", "28T09:00", &log);
        assert!(told.concat().contains("Took over"), "{told:?}");
        let plan = format!(
            "/plan team from 2026-11-09\nmon \"upper and lower\": back squat or front squat 10x6-10 2rir \
             rest 2-3min \"a long word to the lifter: sit back, knees out; breathe\"; bench press 4x8-12 \
             1rir with {EXERCISE} 4x8-12 1rir\nwed: {EXERCISE} 4x8-12 75%; plank 3x30-45s each side"
        );
        club.says("Adair", "09T08:00", &plan);
        club.says(
            "Adair",
            "09T08:00",
            "/target team chest 10-14, back 59-60, quads 100",
        );
        club.says("Adair", "09T08:00", "/target team quads 58-60");
        club.says(
            "Adair",
            "09T08:00",
            "/block team from 2026-11-16 2rir; +1.5rir 50%; 1rir",
        );
        for place in 0..MEMBERS {
            club.says(&name(place), "27T10:00", "/digest line on");
            let sets = format!("back squat {}x8, 2 left", 1000 + place);
            club.says(&name(place), "27T10:01", &sets);
        }
        club
    }
}

/// What is wrong with a text on a phone.
fn faults(text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    for (place, part) in text.split("```").enumerate() {
        for line in part.lines() {
            let inside = place % 2 == 1;
            if inside && line.chars().count() > WIDTH {
                faults.push(format!("{} columns: {line}", line.chars().count()));
            }
            // Columns that stand in no block would be shown in letters of all widths.
            if !inside && line.trim_start().contains("   ") {
                faults.push(format!("columns outside a block: {line}"));
            }
        }
    }
    faults
}

#[test]
fn no_table_is_wider_than_a_phone() {
    let mut club = Club::filled();
    let (first, other) = (name(0), name(1));
    let mut texts: Vec<(String, String)> = Vec::new();
    let of_coach = [
        "/team".to_owned(),
        "/team last week".to_owned(),
        "/attention".to_owned(),
        "/digest".to_owned(),
        "/accuracy".to_owned(),
        "/plan team".to_owned(),
        "/plan template heavy like Ed02".to_owned(),
        "/plan template heavy".to_owned(),
        "/settings".to_owned(),
        "/help".to_owned(),
        "/import".to_owned(),
        format!("/week {first}"),
        format!("/week {other}"),
        format!("/week {first} last week"),
        format!("/review {first} 8 weeks"),
        format!("/review {other}"),
        format!("/accuracy {other}"),
        format!("/plan {other}"),
        format!("/block {other}"),
        format!("/target {other}"),
        format!("/note {other} heels up"),
        "/catalogue press".to_owned(),
    ];
    for text in of_coach {
        for reply in club.says("Adair", "28T10:00", &text) {
            texts.push((text.clone(), reply));
        }
    }
    let of_member = [
        "/week".to_owned(),
        "/week last week".to_owned(),
        "/volume".to_owned(),
        "/today".to_owned(),
        "/today mon".to_owned(),
        "/fit 180".to_owned(),
        "/fit 45 pairs".to_owned(),
        "/history".to_owned(),
        "/history back squat".to_owned(),
        format!("/history {EXERCISE}"),
        "/best".to_owned(),
        format!("/best {EXERCISE}"),
        "progress?".to_owned(),
        "/accuracy".to_owned(),
        "/plan".to_owned(),
        "/block".to_owned(),
        "/target".to_owned(),
        "/review".to_owned(),
        "/summary".to_owned(),
        "/rack".to_owned(),
        "/warmup back squat".to_owned(),
        format!("/next {EXERCISE} why"),
        "/help".to_owned(),
    ];
    for who in [&first, &other] {
        for text in &of_member {
            for reply in club.says(who, "28T11:00", text) {
                texts.push((text.clone(), reply));
            }
        }
    }
    let sunday = json!({"type": "clock", "at": "2026-11-29T18:00:30Z"});
    let digests = club.gives(&sunday);
    assert!(digests.concat().contains("The team's week"), "{digests:?}");
    texts.extend(digests.into_iter().map(|text| ("digest".to_owned(), text)));

    let blocks = texts.iter().filter(|(_, text)| text.contains("```"));
    assert!(blocks.count() >= 10, "hardly any tables");
    let bad: Vec<String> = texts
        .iter()
        .flat_map(|(asked, text)| {
            let faults = faults(text).into_iter();
            faults.map(move |fault| format!("{asked}: {fault}"))
        })
        .collect();
    assert!(bad.is_empty(), "{}", bad.join("\n"));

    let all: String = texts.iter().map(|(_, text)| text.as_str()).collect();
    assert!(all.contains("216"), "three digits are among the sets");
    let team: String = texts
        .iter()
        .filter(|(asked, _)| asked == "/team")
        .map(|(_, text)| text.as_str())
        .collect();
    for place in 0..MEMBERS {
        assert!(team.contains(&name(place)), "{} is whole", name(place));
    }
    let first_line = team.lines().next().unwrap_or_default();
    assert!(first_line.contains("60 members"), "{first_line}");
}

#[test]
fn a_wide_line_and_columns_outside_a_block_are_found_out() {
    let wide = format!("Title\n```\n{}\n```", "x".repeat(WIDTH + 1));
    assert_eq!(faults(&wide).len(), 1);
    assert_eq!(faults("Ann       mon, thu").len(), 1);
    assert!(faults("Ann: mon, thu\n```\nback    3  4\n```").is_empty());
}
