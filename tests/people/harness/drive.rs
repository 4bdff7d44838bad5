//! One person trains for weeks under the bot's advice.

use chrono::{DateTime, Duration, TimeZone, Utc};
use serde_json::Value;

use super::answer::{Answer, advice, question};
use super::pipe::Talk;
use super::{Attempt, Behaviour, Body, Bot, Dice, Lift, Part, Score, Situation, Written};

/// What a person trains, and how long.
#[derive(Clone, Debug)]
pub struct Course {
    pub lifts: Vec<Lift>,
    /// Lifts a session; they take turns.
    pub a_session: usize,
    pub sessions: usize,
    pub seed: u64,
    /// Messages sent before the first session, such as `/experience`.
    pub before: Vec<String>,
}

/// Walk from one exercise to the next, seconds.
const BETWEEN_LIFTS_S: f64 = 180.0;
/// Longest rest that one who knows the body would take, and the step of rests, seconds.
const LONGEST_S: u32 = 300;
const REST_STEP_S: u32 = 15;
/// Draws from which expectations are taken.
const DRAWS: usize = 60;
/// Sets that are ended so much sooner than asked are light on purpose, repetitions.
const ON_PURPOSE: f64 = 3.0;
/// Rests this far from the advised one, as a share, are asked about beforehand.
const AS_ADVISED: f64 = 0.2;

/// Trains and scores.
pub fn train(
    bot: &mut dyn Bot,
    name: &str,
    course: &Course,
    body: &mut dyn Body,
    habits: &mut dyn Behaviour,
) -> Score {
    let talk = Talk {
        bot,
        author: name.to_owned(),
        count: 0,
    };
    let start = Utc.with_ymd_and_hms(2026, 1, 5, 17, 0, 0).unwrap();
    let openings = vec![Vec::new(); course.lifts.len()];
    let mut drive = Drive {
        talk,
        body,
        habits,
        dice: Dice::new(course.seed),
        now: start,
        score: Score::default(),
        openings,
        own: vec![None; course.lifts.len()],
    };
    for text in &course.before {
        drive.talk.post(start - Duration::hours(1), text);
    }
    drive.weeks(course, start);
    drive.score
}

struct Drive<'a> {
    talk: Talk<'a>,
    body: &'a mut dyn Body,
    habits: &'a mut dyn Behaviour,
    dice: Dice,
    now: DateTime<Utc>,
    score: Score,
    /// By lift: day, load opened with, true maximum.
    openings: Vec<Vec<(u32, f64, f64)>>,
    /// By lift: the load that the person last did, kilograms.
    own: Vec<Option<f64>>,
}

impl Drive<'_> {
    fn weeks(&mut self, course: &Course, start: DateTime<Utc>) {
        let mut day = 0;
        for session in 0..course.sessions {
            let again = session > 0 && self.habits.same_day(session);
            let off = match session {
                _ if again => 0,
                0 => 0,
                _ => self.habits.days_until(session - 1, &mut self.dice).max(1),
            };
            day += off;
            let begin = match again {
                true => self.now + Duration::hours(6),
                false => start + Duration::days(day.into()),
            };
            self.now = begin;
            let days = if again { 0.25 } else { f64::from(off) };
            self.body.new_day(days, &mut self.dice);
            let first = session * course.a_session;
            let afterwards = self.habits.posts_afterwards(session);
            let turns = || (first..first + course.a_session).map(|n| n % course.lifts.len());
            let places = self.habits.lifts(session);
            for place in places.unwrap_or_else(|| turns().collect()) {
                let at = Situation {
                    session,
                    day,
                    days_off: off,
                    set: 0,
                    advised_kg: None,
                    own_kg: 0.0,
                    asked: 1.0,
                };
                let lift = self.habits.equipment(session, &course.lifts[place]);
                self.lift(&lift, place, &at, afterwards);
            }
        }
        self.gains();
    }

    /// Gains from the third week to the last fortnight.
    fn gains(&mut self) {
        for openings in &self.openings {
            let Some(last) = openings.last().map(|opening| opening.0) else {
                continue;
            };
            let mean = |of: &dyn Fn(&&(u32, f64, f64)) -> bool| {
                let chosen: Vec<_> = openings.iter().filter(of).collect();
                let n = chosen.len() as f64;
                let loads = chosen.iter().map(|o| o.1.max(0.1).ln()).sum::<f64>() / n;
                let truth = chosen.iter().map(|o| o.2.ln()).sum::<f64>() / n;
                (n > 0.0).then_some((loads, truth))
            };
            let early = mean(&|o| (10..=24).contains(&o.0));
            let late = mean(&|o| o.0 + 14 > last && o.0 > 40);
            if let (Some(early), Some(late)) = (early, late) {
                self.score.load_gain += late.0 - early.0;
                self.score.true_gain += late.1 - early.1;
            }
        }
    }

    /// All sets of one lift.
    fn lift(&mut self, lift: &Lift, place: usize, at: &Situation, afterwards: bool) {
        self.now += seconds(BETWEEN_LIFTS_S);
        let question = format!("what do I load on {}", lift.name);
        let lines = match afterwards {
            true => Vec::new(),
            false => self.talk.post(self.now, &question),
        };
        let mut said = Answer::of(advice(&lines));
        let guess = match self.own[place] {
            Some(kg) => kg,
            None => self.body.one_rm(lift) * self.dice.log_normal(0.68, 0.08),
        };
        let mut at = Situation {
            own_kg: rounded(lift, guess),
            ..*at
        };
        let mut unsent: Vec<String> = Vec::new();
        let advised = said.as_ref().and_then(|said| said.kg);
        let known = advised.filter(|_| self.own[place].is_some());
        let opening = known.unwrap_or(at.own_kg);
        for warm_up in self.habits.warm_ups(&at, &mut self.dice) {
            let kg = rounded(lift, opening * warm_up.share);
            let most = self.body.attempt(lift, kg, 60.0, 0.0, &mut self.dice);
            let reps = warm_up.reps.min(most.reps.max(1));
            let left = f64::from(most.reps.saturating_sub(reps)) + most.left;
            let set = Attempt {
                reps,
                left,
                felt: left,
            };
            self.body.take(lift, kg, 60.0, &set);
            self.now += seconds(60.0 + 3.0 * f64::from(reps));
            let written = Written {
                kg,
                reps,
                left: None,
            };
            let text = self.habits.message(lift, &written, warm_up.marked);
            match afterwards {
                true => unsent.push(text),
                false => {
                    let lines = self.talk.post(self.now, &text);
                    self.answer_question(&lines, true);
                    said = Answer::of(advice(&lines)).or(said);
                }
            }
        }
        if said.is_some() && !afterwards {
            let lines = self.talk.post(self.now, &question);
            said = Answer::of(advice(&lines)).or(said);
        }
        let mut last: Option<f64> = None;
        for set in 0..self.habits.sets(at.session) {
            if set > 0 && said.as_ref().is_some_and(Answer::is_over) {
                break;
            }
            at.set = set;
            at.advised_kg = said.as_ref().and_then(|said| said.kg);
            at.asked = said.as_ref().map_or(1.0, |said| said.rir);
            if let (true, Some(last)) = (afterwards, last) {
                at.own_kg = last;
            }
            let (next, kg) = self.set(lift, place, &at, said, last, afterwards, &mut unsent);
            said = next;
            last = Some(kg);
        }
        if !unsent.is_empty() {
            self.now += seconds(30.0);
            let text = unsent.join("\n");
            let lines = self.talk.post(self.now, &text);
            self.answer_question(&lines, true);
        }
        self.own[place] = last;
    }

    #[expect(clippy::too_many_arguments, reason = "all of one set")]
    fn set(
        &mut self,
        lift: &Lift,
        place: usize,
        at: &Situation,
        said: Option<Answer>,
        last: Option<f64>,
        afterwards: bool,
        unsent: &mut Vec<String>,
    ) -> (Option<Answer>, f64) {
        // On the first day people take what they know that they can lift.
        let first_ever = at.set == 0 && self.own[place].is_none();
        let kg = match first_ever {
            true => at.own_kg,
            false => self.habits.load(at, &mut self.dice),
        };
        let kg = match at.advised_kg {
            Some(advised) if (advised - kg).abs() < 1e-9 => advised,
            _ => rounded(lift, kg),
        };
        let is_live = said.is_some() && !afterwards;
        let advised_rest = said.as_ref().map_or(150.0, |said| said.rest_s);
        let rest = match at.set {
            0 => BETWEEN_LIFTS_S,
            _ => self
                .habits
                .rest(advised_rest, &mut self.dice)
                .max(10.0)
                .round(),
        };
        let mut told = said.filter(|said| said.kg == Some(kg));
        let off = (rest - advised_rest).abs() > AS_ADVISED * advised_rest;
        if at.set > 0 && is_live && (told.is_none() || off) {
            let lines = self.talk.post(self.now, &format!("{kg} after {rest} s?"));
            told = Answer::of(advice(&lines)).filter(|said| said.kg == Some(kg));
        }
        let stop_at = self.habits.stop_at(at, &mut self.dice);
        let truth = self.expected(lift, kg, rest, stop_at);
        let knowing = match last {
            Some(last) if (last - kg).abs() < 1e-9 => self.knowing_rest(lift, kg, stop_at),
            _ => None,
        };
        let done = self.body.attempt(lift, kg, rest, stop_at, &mut self.dice);
        if at.set == 0 {
            let one_rm = self.body.one_rm(lift);
            let opened = at.advised_kg.unwrap_or(kg).max(lift.least_kg);
            self.openings[place].push((at.day, opened, one_rm));
        }
        self.body.take(lift, kg, rest, &done);
        self.now += seconds(rest + 3.5 * f64::from(done.reps));
        // What is light on purpose is no test of what was said for a hard set.
        let meant = (stop_at - at.asked).abs() < ON_PURPOSE;
        if let Some((median, low, high)) = told.filter(|_| meant).and_then(|said| said.expect) {
            let n = f64::from(done.reps);
            let counts = (5..=30).contains(&done.reps) && done.left < 3.5;
            let part = Part {
                sets: 1.0,
                error: (n - median).abs(),
                unavoidable: (n - truth).abs(),
                bias: n - median,
                held: yes((low..=high).contains(&done.reps)),
                width: f64::from(high - low),
                counted: yes(counts),
                rest: knowing.map_or(0.0, |_| advised_rest),
                knowing: knowing.unwrap_or(0.0),
            };
            if at.day < 7 {
                self.score.first_week.add(&part);
            }
            if at.day >= 14 {
                self.score.later.add(&part);
            }
            if at.days_off >= 21 {
                self.score.after_break.add(&part);
            }
        }
        (self.write(lift, &done, kg, afterwards, unsent), kg)
    }

    /// Posts what was done; the advice that comes back.
    fn write(
        &mut self,
        lift: &Lift,
        done: &Attempt,
        kg: f64,
        afterwards: bool,
        unsent: &mut Vec<String>,
    ) -> Option<Answer> {
        let truth = Written {
            kg,
            reps: done.reps,
            left: self.habits.report(done, &mut self.dice),
        };
        let slip = self.habits.slip(&truth, &mut self.dice);
        let written = slip.unwrap_or(truth);
        let text = self.habits.message(lift, &written, false);
        if afterwards {
            unsent.push(self.habits.message(lift, &truth, false));
            return None;
        }
        let mut lines = self.talk.post(self.now, &text);
        let asked = question(&lines).is_some();
        if slip.is_some() {
            self.score.slips += 1.0;
            self.score.slips_asked += yes(asked);
        }
        let answered = self.answer_question(&lines, slip.is_none());
        if slip.is_some() && asked {
            self.now += seconds(5.0);
            let again = self.habits.message(lift, &truth, false);
            lines = self.talk.post(self.now, &again);
            if let Some(more) = self.answer_question(&lines, true) {
                lines = more;
            }
        } else if let Some(answered) = answered {
            lines = answered;
        }
        Answer::of(advice(&lines))
    }

    /// Answers a question about numbers, if one was asked: true ones are meant, others left out.
    fn answer_question(&mut self, lines: &[Value], is_true: bool) -> Option<Vec<Value>> {
        self.score.true_sets += yes(is_true);
        let (reply, buttons) = question(lines)?;
        self.score.needless_questions += yes(is_true);
        let wanted = if is_true { "meant" } else { "drop" };
        let button = buttons.iter().find(|button| *button == wanted)?.clone();
        self.now += seconds(4.0);
        Some(self.talk.press(self.now, &reply, &button))
    }

    fn draws(&self, lift: &Lift, kg: f64, rest: f64, stop_at: f64) -> Vec<u32> {
        let mut dice = Dice::new(7);
        (0..DRAWS)
            .map(|_| self.body.attempt(lift, kg, rest, stop_at, &mut dice).reps)
            .collect()
    }

    /// Mean repetitions of the set over its chance.
    fn expected(&self, lift: &Lift, kg: f64, rest: f64, stop_at: f64) -> f64 {
        let draws = self.draws(lift, kg, rest, stop_at);
        draws.iter().copied().map(f64::from).sum::<f64>() / DRAWS as f64
    }

    /// The shortest rest with which a set has five repetitions nine times in ten and on average one
    /// less than wanted.
    fn knowing_rest(&self, lift: &Lift, kg: f64, stop_at: f64) -> Option<f64> {
        let reach = f64::from(lift.fewest.saturating_sub(1).max(5));
        let good = |rest: &u32| {
            let draws = self.draws(lift, kg, f64::from(*rest), stop_at);
            let five = draws.iter().filter(|reps| **reps >= 5).count();
            let mean = draws.iter().copied().map(f64::from).sum::<f64>() / DRAWS as f64;
            10 * five >= 9 * DRAWS && mean >= reach
        };
        let rests = (1..=LONGEST_S / REST_STEP_S).map(|step| step * REST_STEP_S);
        let found = rests.into_iter().find(good).unwrap_or(LONGEST_S);
        Some(f64::from(found))
    }
}

fn rounded(lift: &Lift, kg: f64) -> f64 {
    let steps = ((kg - lift.least_kg) / lift.step_kg).round().max(0.0);
    lift.least_kg + steps * lift.step_kg
}

fn seconds(seconds: f64) -> Duration {
    Duration::from_std(std::time::Duration::from_secs_f64(seconds.max(0.0))).unwrap()
}

fn yes(is: bool) -> f64 {
    f64::from(u8::from(is))
}
