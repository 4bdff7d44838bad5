//! Answers to a message as a whole: filed sets, questions, readiness, the bell.

use super::log_sets::{Filed, Post};
use super::work::Work;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::{Bell, LogEntry, Rung, SaidAt, is_work};
use crate::bot::text;
use crate::domain::advice::next_set::{Advice, Decision, Reason, Trial, went_up, what_if};
use crate::domain::quantities::check::Check;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::status::TrainingStatus;
use crate::message::reading::{About, Hurt, Question, Readiness, Reading, SetReading, WhatIf};

impl Work<'_> {
    /// Answers a message with everything it holds.
    pub(crate) fn answer(&mut self, post: &Post, reading: &Reading) {
        // What hurts goes before everything, and holds whatever is said after it.
        let hurts = self.hear(reading, post.text, &reading.sets);
        self.answer_beside(post, reading);
        if hurts {
            self.stop_cards();
        }
    }

    /// Answers what a message says beside pain.
    fn answer_beside(&mut self, post: &Post, reading: &Reading) {
        if let Some(correction) = &reading.correction {
            self.correct(correction);
            return;
        }
        let urgent = reading.hurt.as_ref().is_some_and(Hurt::urgent);
        // `im 15, what do I load on bench?`: the number is no load, and no load is named.
        let of_caution = reading.caution.is_some() && reading.question.is_some();
        let unclear = reading.unclear.as_ref();
        if let Some(unclear) = unclear.filter(|_| !urgent && !of_caution) {
            self.ask_about(post, unclear);
        }
        self.note_readiness(reading.readiness.as_ref());
        if !reading.sets.is_empty() {
            self.file_and_answer(post, reading, false);
            return;
        }
        if reading.hurt.is_some() {
            return;
        }
        let ended = reading.ended_by.and_then(|ended| self.end_last(ended));
        let loads = |about| matches!(about, About::Load | About::Rest);
        if let Some(question) = &reading.question {
            // To whom a licensed professional was named, no load is named in the same breath.
            if reading.caution.is_none() || !loads(question.about) {
                self.answer_question(question);
            }
        } else if reading.readiness.is_some() && reading.may_hurt.is_none() {
            let lines: Vec<String> = ended.into_iter().map(|(_, line)| line).collect();
            self.answer_readiness(None, &lines);
        } else if let Some((set, line)) = ended {
            self.after_change(&[set], line);
        }
    }

    /// Files the sets of a reading and shows what comes next; `meant` vouches for its numbers.
    pub(crate) fn file_and_answer(&mut self, post: &Post, reading: &Reading, meant: bool) {
        self.file_all_and_answer(&[(post, reading)], meant);
    }

    /// The same with the sets of several posts, in order.
    pub(crate) fn file_all_and_answer(&mut self, posts: &[(&Post, &Reading)], meant: bool) {
        let Some((_, last)) = posts.last() else {
            return;
        };
        let sets: Vec<(&Post, &[SetReading])> = (posts.iter())
            .map(|(post, reading)| (*post, reading.sets.as_slice()))
            .collect();
        match self.file_all(&sets, meant) {
            Filed::Asked => {}
            Filed::NoSuchDay => self.say(text::NO_SUCH_DAY),
            Filed::Yes(live) => self.answer_filed(last, &live),
        }
    }

    fn answer_filed(&mut self, reading: &Reading, live: &[ExerciseId]) {
        if !live.is_empty() {
            self.member.state.failing.clear();
            self.note_readiness(reading.readiness.as_ref());
            self.cancel_bell();
        }
        let mut lines: Vec<String> = self.ended_early().into_iter().collect();
        lines.extend(self.returned());
        lines.extend(self.bests_noticed());
        lines.extend(self.first_words(live));
        let backdated = self.backdated_line();
        for (place, &exercise) in live.iter().enumerate() {
            let advice = self.advise_in_turn(exercise);
            let last = place + 1 == live.len();
            if advice.decision == Decision::Stop && self.is_told_to_stop(exercise) {
                continue;
            }
            if last {
                self.set_bell_in_turn(&advice, 0);
                let mut more = match self.turn_line(exercise) {
                    Some(line) => vec![line],
                    None => self.what_follows(&advice),
                };
                more.extend(lines.iter().cloned());
                let over = more.iter().any(|line| line == text::session::SESSION_DONE);
                self.show(&advice, &more);
                self.show_others_in_turn(live);
                if over {
                    self.end_of_plan();
                }
            } else {
                self.show(&advice, &[]);
            }
        }
        if let Some(line) = backdated {
            self.say(line);
        } else if live.is_empty() && !lines.is_empty() {
            self.say(lines.join("\n"));
        }
        let asked = reading.question.as_ref();
        if let Some(question) = asked.filter(|_| reading.hurt.is_none()) {
            // What next and how long are answered by the card.
            let answered = matches!(question.about, About::Load | About::Rest)
                && (question.what_if.is_none() || reading.caution.is_some())
                && !live.is_empty();
            if !answered {
                self.answer_question(question);
            }
        }
    }

    /// Whether this very event tells that an exercise stops, and no card stands that does not.
    fn is_told_to_stop(&self, exercise: ExerciseId) -> bool {
        let name = self.view.name_of(exercise);
        self.fresh_report.is_some() && self.view.card(name, &self.source.channel).is_none()
    }

    /// That a set just filed does not count, since something else gave out before its target.
    fn ended_early(&self) -> Option<String> {
        let early = |filed: &&LogEntry| filed.set.gave_out.is_some() && is_work(filed);
        let set = &self.filed_now().filter(early).last()?.set;
        let line = text::ended_by(set.gave_out, self.view.target_of(set.exercise));
        Some(line)
    }

    /// What is said once: the caution at first use, the thought on ascending loads, and a beginner's
    /// word on sets that are no straight ones.
    fn first_words(&mut self, live: &[ExerciseId]) -> Vec<String> {
        let mut lines = Vec::new();
        let ascending = live.iter().any(|&exercise| self.went_up(exercise));
        let beginner = self.view.status() == TrainingStatus::Beginner;
        let odd = beginner
            && self
                .filed_now()
                .any(|filed| is_work(filed) && !filed.set.kind.is_straight());
        let newcomer = self.is_newcomer();
        let state = &mut self.member.state;
        if odd && !state.told_straight {
            state.told_straight = true;
            lines.push(text::session::STRAIGHT_SETS_FIRST.to_owned());
        }
        if ascending && !state.told_ascending {
            state.told_ascending = true;
            lines.push(text::ASCENDING.to_owned());
        }
        if !state.greeted {
            state.greeted = true;
            if newcomer {
                lines.push(text::help::WELCOME_ON_CARD.to_owned());
            }
            lines.push(text::CAUTION.to_owned());
        }
        lines
    }

    /// Whether a work set just filed is a needless step up, which nothing told the lifter to make.
    fn went_up(&self, exercise: ExerciseId) -> bool {
        let advised_up =
            self.view.member.state.advised_up.as_deref() == Some(self.view.name_of(exercise));
        !advised_up && self.share_back(exercise).is_none() && self.ask(exercise, went_up)
    }

    /// `Filed under Monday 23 November: …`, when the sets just filed are of another day.
    fn backdated_line(&self) -> Option<String> {
        let today = self.view.today();
        let filed = self.changes.iter().rev().find_map(|change| match change {
            crate::bot::state::Change::Log(sets) => Some(sets),
            _ => None,
        })?;
        let old: Vec<_> = filed
            .iter()
            .filter(|f| f.set.day != today)
            .cloned()
            .collect();
        let day = old.first()?.set.day;
        Some(format!(
            "Logged under {}: {}",
            text::day(day),
            text::sets(&old, self.view.catalogue())
        ))
    }

    // Questions.

    /// Answers a question on load, rest, volume or the week.
    pub(crate) fn answer_question(&mut self, question: &Question) {
        match question.about {
            About::Volume => self.answer_volume(&question.muscles),
            About::Week => self.answer_week(),
            About::Load | About::Rest => {
                let Some(exercise) = question.exercise.or_else(|| self.next_up()) else {
                    self.say(match self.is_ill() {
                        true => text::hurt::NO_LOAD_AFTER_ILLNESS,
                        false => text::NO_SET_YET,
                    });
                    return;
                };
                let advice = match question.what_if {
                    Some(WhatIf {
                        load: None,
                        rest_s: None,
                        reps: Some(reps),
                        rir,
                        ..
                    }) => self.advise_for(exercise, reps, rir),
                    Some(trial) => self.try_out(exercise, &trial),
                    None => self.advise_in_turn(exercise),
                };
                self.reply_with(&advice);
            }
        }
    }

    /// A set in thought.
    fn try_out(&self, exercise: ExerciseId, trial: &WhatIf) -> Advice {
        let hurt = self.advise(exercise);
        if hurt.decision == Decision::Stop {
            return hurt;
        }
        let run = self.run(exercise);
        let last = run.last().map(|set| set.load);
        let load = trial.load.map(|load| match last {
            // A bare number is meant as the last set's was.
            Some(last) if !trial.basis_named => Load {
                basis: last.basis,
                ..load
            },
            _ => load,
        });
        let trial = Trial {
            load,
            rest_s: trial.rest_s,
            rir: trial.rir,
        };
        self.ask(exercise, |ask| what_if(ask, &trial))
    }

    /// Advice as a reply of its own, not on the card.
    pub(crate) fn reply_with(&mut self, advice: &Advice) {
        self.foretell(advice);
        let exercise = self.view.catalogue().exercise(advice.exercise);
        let elapsed = self.elapsed_s(&self.run(advice.exercise));
        let text = match advice.reason {
            Reason::Asked => format!("{}: {}", exercise.name, text::tried(advice)),
            _ => format!("{}: {}", exercise.name, text::advice(advice, elapsed)),
        };
        let untailored = self.not_tailored().filter(|_| advice.load.is_some());
        let text = std::iter::once(text)
            .chain(self.last_time_beside(advice))
            .chain(self.way_up(advice))
            .chain(untailored);
        let text = text.collect::<Vec<_>>().join("\n");
        let data = text::advice_data(advice, exercise, self.view.unit());
        let reply = Reply {
            text,
            advice: Some(data),
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// What was done last time, beside the load to open with.
    fn last_time_beside(&self, advice: &Advice) -> Option<String> {
        let opens = text::opens(advice.reason) && self.run(advice.exercise).is_empty();
        opens.then(|| self.last_time(advice.exercise)).flatten()
    }

    // Readiness.

    /// Notes which checks fail and which no longer do.
    fn note_readiness(&mut self, readiness: Option<&Readiness>) {
        let Some(said) = readiness else { return };
        for (check, state) in [
            (Check::Muscle, said.muscle),
            (Check::Helpers, said.helpers),
            (Check::Breath, said.breath),
            (Check::Drive, said.drive),
        ] {
            if let Some(ready) = state {
                self.note_check(check, ready);
            }
        }
    }

    fn note_check(&mut self, check: Check, ready: bool) {
        self.note_said(check, ready);
        let failing = &mut self.member.state.failing;
        failing.retain(|word| word != check.word());
        if !ready {
            failing.push(check.word().to_owned());
        }
    }

    /// Keeps a word on being ready for the log; said twice in one message it counts once.
    fn note_said(&mut self, check: Check, ready: bool) {
        let at = self.view.now;
        let said = &mut self.member.state.said;
        said.retain(|said| said.at != at || said.check != check.word());
        if said.len() < MOST_SAID {
            said.push(SaidAt {
                at,
                check: check.word().to_owned(),
                ready,
            });
        }
    }

    /// A card's button: ready, or a check that fails.
    pub(crate) fn press_check(&mut self, exercise: ExerciseId, failing: Option<Check>) {
        match failing {
            Some(check) => self.note_check(check, false),
            None => Check::ALL
                .into_iter()
                .for_each(|check| self.note_check(check, true)),
        }
        self.answer_readiness(Some(exercise), &[]);
    }

    /// Wait, naming which check fails, or the go-ahead; `more` is said below it.
    fn answer_readiness(&mut self, exercise: Option<ExerciseId>, more: &[String]) {
        let Some(exercise) = exercise.or_else(|| self.at_hand()) else {
            self.say(text::NO_SET_YET);
            return;
        };
        // What is said of a pair is said of the one whose turn it is.
        let round = self
            .round()
            .filter(|round| round.is_closed && round.holds(exercise));
        let exercise = round.map_or(exercise, |round| round.next);
        let advice = if self.failing().is_empty() {
            self.go_ahead(exercise)
        } else {
            self.advise_in_turn(exercise)
        };
        // Moved by a failing check, however often it was before, rung or not.
        let moved = match advice.decision {
            Decision::Wait => self.moved_before().saturating_add(1),
            _ => 0,
        };
        self.cancel_bell();
        if moved > MOST_MOVES {
            self.show(&advice, &[text::bells::ENOUGH.to_owned()]);
        } else {
            self.set_bell_in_turn(&advice, moved);
            self.show(&advice, more);
        }
    }

    fn moved_before(&self) -> u8 {
        let waits = self.view.bell.map(|bell| bell.moved);
        let rung = self.member.state.rung.as_ref().map(|rung| rung.moved);
        waits.or(rung).unwrap_or(0)
    }

    /// The lifter says that everything is ready: go now where the set would still count, with
    /// what this rest gives; the lifter knows the body better than any clock.
    fn go_ahead(&self, exercise: ExerciseId) -> Advice {
        let planned = self.advise_in_turn(exercise);
        let run = self.run(exercise);
        let elapsed = self.elapsed_s(&run);
        if run.is_empty() || planned.load.is_none() || elapsed >= planned.rest_s {
            return planned;
        }
        let trial = Trial {
            load: planned.load,
            rest_s: Some(elapsed),
            rir: None,
        };
        let now = self.ask(exercise, |ask| what_if(ask, &trial));
        let counts = now
            .expect
            .as_ref()
            .is_some_and(|expect| expect.median >= FEWEST_TO_GO);
        if !counts {
            return planned;
        }
        Advice {
            decision: planned.decision,
            reason: Reason::Ready,
            ..now
        }
    }

    // The bell.

    /// Rings: the one message that notifies.
    pub(crate) fn ring(&mut self, bell: &Bell) {
        self.cancel_bell();
        let Some(exercise) = self.view.catalogue().named(&bell.exercise) else {
            return;
        };
        let late = self.view.now - bell.due;
        let quiet = self.view.team.settings.is_quiet(self.view.now);
        if late >= LATEST_BELL || quiet || self.run(exercise).is_empty() || self.is_held(exercise) {
            return;
        }
        self.member.state.failing.clear();
        let advice = self.advise(exercise);
        let author = self.member.author.clone();
        let name = text::shown_name(&self.member.name);
        let data = text::advice_data(
            &advice,
            self.view.catalogue().exercise(exercise),
            self.view.unit(),
        );
        let rings = format!("{name}, {}: {}", bell.exercise, text::bells::bell(&advice));
        let untailored = self.not_tailored().filter(|_| advice.load.is_some());
        let lines = std::iter::once(rings).chain(untailored);
        let reply = Reply {
            text: lines.collect::<Vec<_>>().join("\n"),
            mentions: vec![author],
            private: self.member.profile.bell_private,
            buttons: self.card_buttons(&advice),
            advice: Some(data),
            ..self.blank()
        };
        self.member.state.rung = Some(Rung {
            reply: reply.id.clone(),
            channel: reply.channel.clone(),
            exercise: bell.exercise.clone(),
            moved: bell.moved,
        });
        self.out.push(Outgoing::Reply(reply));
    }
}

/// A set of fewer repetitions does not count (design: five to thirty).
const FEWEST_TO_GO: f64 = 5.0;

/// A bell is moved by failing checks so often at most.
const MOST_MOVES: u8 = 3;

/// No more is kept of what one lifter says between two sets.
const MOST_SAID: usize = 12;

/// A bell that is so late is of no use any more.
pub const LATEST_BELL: chrono::Duration = chrono::Duration::minutes(2);
