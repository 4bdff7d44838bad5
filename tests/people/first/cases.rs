//! Everyday conversations from `cases.txt`, played through the bot.

use chrono::{DateTime, Duration, TimeZone, Utc};

use crate::harness::{Answer, Bot, Pipe, Talk, advice, question};

/// One case: its name and its lines.
pub struct Case<'a> {
    pub name: &'a str,
    pub lines: Vec<&'a str>,
}

/// All cases, in order.
pub fn cases(text: &str) -> Vec<Case<'_>> {
    let mut cases: Vec<Case> = Vec::new();
    for line in text.lines().map(str::trim) {
        if let Some(name) = line.strip_prefix("= ") {
            cases.push(Case {
                name,
                lines: Vec::new(),
            });
        } else if let Some(case) = cases.last_mut()
            && !line.is_empty()
            && !line.starts_with('#')
        {
            case.lines.push(line);
        }
    }
    cases
}

/// A conversation under way.
struct Play<'a> {
    talk: Talk<'a>,
    start: DateTime<Utc>,
    now: DateTime<Utc>,
    last: Option<Answer>,
    faults: Vec<String>,
}

/// Plays a case; what was not as a good coach would have it.
pub fn play(bot: &mut dyn Bot, case: &Case, number: usize) -> Vec<String> {
    let start = Utc.with_ymd_and_hms(2026, 1, 5, 17, 0, 0).unwrap();
    let mut play = Play {
        talk: Talk {
            bot,
            author: format!("case{number}"),
            count: 0,
        },
        start,
        now: start,
        last: None,
        faults: Vec::new(),
    };
    play.talk
        .post(start - Duration::hours(1), "/experience 3 years");
    play.talk
        .post(start - Duration::hours(1), "/bodyweight 80kg");
    for line in &case.lines {
        play.line(line);
    }
    play.faults
}

impl Play<'_> {
    fn line(&mut self, line: &str) {
        if let Some(rest) = line.strip_prefix("asked ") {
            self.sure(rest, true);
        } else if let Some(rest) = line.strip_prefix("quiet ") {
            self.sure(rest, false);
        } else if let Some(rest) = line.strip_prefix("open ") {
            self.open(rest);
        } else if let Some(rest) = line.strip_prefix("next: ") {
            self.next(rest);
        } else if let Some(rest) = line.strip_prefix("rest: ") {
            let rest_s = self.last.as_ref().map_or(-1.0, |said| said.rest_s);
            self.within("rest", Some(rest_s), rest);
        } else if let Some(range) = line.strip_prefix("expect: ") {
            let expect = self.last.as_ref().and_then(|said| said.expect);
            self.within("expects", expect.map(|said| said.0), range);
        } else if let Some(range) = line.strip_prefix("width: ") {
            let expect = self.last.as_ref().and_then(|said| said.expect);
            let width = expect.map(|said| f64::from(said.2) - f64::from(said.1));
            let silent = range.ends_with(",none") && width.is_none();
            if !silent {
                self.within("width", width, range.trim_end_matches(",none"));
            }
        } else {
            let (days, texts) = line.split_once(": ").unwrap();
            for day in days_of(days) {
                self.on(day);
                self.session(texts);
            }
        }
    }

    /// `16.4` is the evening of day 16.
    fn on(&mut self, day: f64) {
        #[expect(clippy::cast_possible_truncation, reason = "some months of minutes")]
        let minutes = (day * 24.0 * 60.0).round() as i64;
        self.now = self.now.max(self.start + Duration::minutes(minutes));
    }

    fn session(&mut self, texts: &str) {
        if let Some(texts) = texts.strip_prefix("together ") {
            self.now += Duration::minutes(40);
            self.post(&texts.replace(" | ", "\n"), Some(true));
            return;
        }
        for text in texts.split(" | ") {
            self.post(text, Some(true));
            self.now += Duration::minutes(3);
        }
    }

    /// Posts, answers a question with yes or no, and keeps the advice; whether it was asked.
    fn post(&mut self, text: &str, yes: Option<bool>) -> bool {
        let mut lines = self.talk.post(self.now, text);
        let asked = question(&lines);
        if let Some((reply, _)) = &asked {
            let button = if yes == Some(true) { "meant" } else { "drop" };
            self.now += Duration::seconds(5);
            lines = self.talk.press(self.now, reply, button);
        }
        self.last = Answer::of(advice(&lines)).or(self.last.take());
        asked.is_some()
    }

    fn sure(&mut self, rest: &str, to_be_asked: bool) {
        let (day, text) = rest.split_once(": ").unwrap();
        self.on(day.parse().unwrap());
        let (text, yes) = match text.strip_prefix("drop ") {
            Some(text) => (text, false),
            None => (text, true),
        };
        if self.post(text, Some(yes)) != to_be_asked {
            let was = if to_be_asked { "not asked" } else { "asked" };
            self.faults.push(format!("{was}: {text}"));
        }
        self.now += Duration::minutes(3);
    }

    fn open(&mut self, rest: &str) {
        let (day, rest) = rest.split_once(": ").unwrap();
        let (lift, range) = rest.split_once(" -> ").unwrap();
        self.on(day.parse().unwrap());
        let question = format!("what do I load on {lift}");
        let lines = self.talk.post(self.now, &question);
        self.last = Answer::of(advice(&lines));
        let load = self.last.as_ref().and_then(|said| said.kg);
        self.within("opens with", load, range);
    }

    fn next(&mut self, rest: &str) {
        let (decisions, range) = rest.split_once(' ').unwrap();
        let (decision, kg) = self.last.as_ref().map_or((String::new(), None), |said| {
            (said.decision.clone(), said.kg)
        });
        if !decisions.split(',').any(|one| one == decision) {
            self.faults.push(format!("{decision}, not {decisions}"));
        }
        // Who is done needs no load.
        if decision != "finish" {
            self.within("advised", kg, range);
        }
    }

    fn within(&mut self, what: &str, number: Option<f64>, range: &str) {
        let fits = match (range.split_once(".."), number) {
            (None, number) => number.is_none(),
            (Some((low, high)), Some(number)) => {
                let (low, high): (f64, f64) = (low.parse().unwrap(), high.parse().unwrap());
                (low - 0.01..=high + 0.01).contains(&number)
            }
            (Some(_), None) => false,
        };
        if !fits {
            self.faults.push(format!("{what} {number:?}, not {range}"));
        }
    }
}

/// `3`, `16.4`, or `0..12/3`.
fn days_of(text: &str) -> Vec<f64> {
    let Some((from, rest)) = text.split_once("..") else {
        return vec![text.parse().unwrap()];
    };
    let (to, step) = rest.split_once('/').unwrap();
    let (from, to): (i32, i32) = (from.parse().unwrap(), to.parse().unwrap());
    let days = (from..=to).step_by(step.parse().unwrap());
    days.map(f64::from).collect()
}

/// Of a hundred everyday conversations, as many as this go as a good coach would have it.
const RIGHT: usize = 98;

#[test]
fn everyday_conversations_go_as_a_good_coach_would_have_it() {
    let mut bot = Pipe::start();
    let mut cases = cases(include_str!("cases.txt"));
    cases.extend(self::cases(include_str!("more_cases.txt")));
    cases.extend(self::cases(include_str!("further_cases.txt")));
    let mut right = 0;
    for (number, case) in cases.iter().enumerate() {
        let faults = play(&mut bot, case, number);
        match faults.as_slice() {
            [] => right += 1,
            faults => println!("{}: {}", case.name, faults.join("; ")),
        }
    }
    println!("{right} of {} right", cases.len());
    assert!(cases.len() >= 60);
    assert!(100 * right >= RIGHT * cases.len());
}
