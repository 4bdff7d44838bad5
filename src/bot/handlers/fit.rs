//! Today's session in the minutes there are.

use std::collections::{BTreeMap, BTreeSet};

use chrono::Datelike as _;
use serde_json::{Value, json};

use super::work::Work;
use crate::bot::state::is_work;
use crate::bot::state::prescription::aim;
use crate::bot::text;
use crate::bot::text::fit::{FitView, Row};
use crate::domain::advice::fit::clock::{Timed, timetable};
use crate::domain::advice::fit::predict::{Coming, Foreseen, Outlook, changeover_s, leaves_breath};
use crate::domain::advice::fit::{
    Candidate, FEWEST_MINUTES, Fit, MOST_MINUTES, Need, Ready, Stretch, Taken, Task, best,
};
use crate::domain::advice::next_set::next_set;
use crate::domain::advice::session::{Progress, Session};
use crate::domain::coaching::plan::{Amount, Item};
use crate::domain::lifter::model::Lifter;
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::aim::Aim;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::domain::quantities::rack::Rack;
use crate::domain::quantities::status::TrainingStatus;

/// What more or less time would buy is told for so many minutes either way.
const EITHER_WAY: u32 = 15;

/// What is left of a session, ready to be chosen from.
struct Left {
    /// What is to come of each exercise, at hand first, then as planned.
    coming: Vec<Coming>,
    items: Vec<Item>,
    task: Task,
    /// Exercises that are left out because of pain.
    hurt: Vec<ExerciseId>,
}

impl Work<'_> {
    /// Answers `/fit`.
    pub(crate) fn fit(&mut self, minutes: u32, pairs: Option<bool>) {
        let planned = self.held.clone();
        let usual = match self.held.plan().is_none() && !self.loaded.history.is_empty() {
            true => self.usual_plan(),
            false => None,
        };
        let by_usual = usual.is_some();
        if let Some(plan) = usual {
            // What is chosen from was not asked for, so nothing of it was loaded by name.
            self.model = self.learned();
            let first = self.view.calendar.week_of(self.view.today()).first_day();
            self.held.plan = Some((plan, first));
        }
        let fitted = self.fitted(minutes, pairs);
        self.held = planned;
        let fitted = fitted.map(|(text, data)| match by_usual {
            true => (format!("{}\n{text}", text::usual::FROM_USUAL), data),
            false => (text, data),
        });
        let fitted = fitted.map_err(
            |text| match by_usual && text == text::session::SESSION_DONE {
                true => text::usual::DONE.to_owned(),
                false => text,
            },
        );
        match fitted {
            Err(text) => self.tell(text),
            Ok((text, data)) => {
                let lines = std::iter::once(text).chain(self.not_tailored());
                let text = lines.collect::<Vec<_>>().join("\n");
                self.tell_with(text, Some(data), []);
            }
        }
    }

    fn fitted(&self, minutes: u32, pairs: Option<bool>) -> Result<(String, Value), String> {
        if !(FEWEST_MINUTES..=MOST_MINUTES).contains(&minutes) {
            return Err(text::fit::MINUTES.to_owned());
        }
        if let Some(withheld) = self.all_withheld() {
            return Err(withheld.to_owned());
        }
        if self.held.plan().is_none() {
            return Err(text::usual::NO_USUAL.to_owned());
        }
        let Some(session) = self.planned_session() else {
            return Err(self.rest_day(self.view.today().weekday()));
        };
        if session.is_done() {
            return Err(text::session::SESSION_DONE.to_owned());
        }
        let beginner = self.view.status() == TrainingStatus::Beginner;
        let left = self.left(&session, pairs.unwrap_or(!beginner));
        if left.coming.is_empty() {
            return Err(match left.hurt.is_empty() {
                true => text::fit::NOTHING_COUNTS.to_owned(),
                false => text::fit::all_hurt(&self.names(&left.hurt)),
            });
        }
        let within = |minutes: u32| Task {
            seconds: minutes * 60,
            ..left.task.clone()
        };
        let fit = best(&within(minutes));
        let other = |minutes: u32| {
            let fit = best(&within(minutes));
            (minutes, fit)
        };
        let less = minutes
            .checked_sub(EITHER_WAY)
            .filter(|&m| m >= FEWEST_MINUTES);
        let more =
            Some(minutes + EITHER_WAY).filter(|&m| m <= MOST_MINUTES && fit.sets() < left.all());
        let others = [less.map(other), more.map(other)];
        Ok(self.in_words(minutes, &left, &fit, &others))
    }

    /// What is still to do of a session, with the time that it takes and what it is needed for.
    fn left(&self, session: &Session, pairs: bool) -> Left {
        let at_hand = self.at_hand();
        let mut slots: Vec<&Vec<Progress>> = session.slots().iter().collect();
        let holds = |slot: &&Vec<Progress>| {
            slot.iter()
                .any(|one| Some(one.item.exercise) == at_hand && one.left() > 0)
        };
        // The station one stands at costs no changeover: it goes first.
        slots.sort_by_key(|slot| !holds(slot));
        let lifter = self.view.lifter();
        let rack = self.view.rack();
        let mut outlook = self.outlook(&lifter, &rack);
        let mut left = Left {
            coming: Vec::new(),
            items: Vec::new(),
            task: Task {
                needs: self.needs_left(),
                warm: self.warm(),
                pairs,
                ..Task::default()
            },
            hurt: Vec::new(),
        };
        for slot in slots {
            let before = left.coming.len();
            for one in slot.iter().filter(|one| one.left() > 0) {
                self.offer(one, at_hand, &mut outlook, &mut left);
            }
            if let [first, second] = left.task.candidates.get_mut(before..).unwrap_or_default() {
                (first.paired, second.paired) = (Some(before + 1), Some(before));
            }
        }
        left
    }

    fn outlook<'a>(&self, lifter: &'a Lifter<'a>, rack: &'a Rack) -> Outlook<'a> {
        Outlook {
            lifter,
            rack,
            unit: self.view.unit(),
            model: self.model.clone(),
            now: self.view.now,
        }
    }

    /// Adds what is left of an item to what can be chosen from.
    fn offer(
        &self,
        one: &Progress,
        at_hand: Option<ExerciseId>,
        outlook: &mut Outlook<'_>,
        left: &mut Left,
    ) {
        let id = one.item.exercise;
        if self.is_held(id) {
            left.hurt.push(id);
            return;
        }
        let coming = self.coming(one);
        let exercise = self.view.catalogue().exercise(id);
        let Some(target) = exercise.target else {
            return;
        };
        let foreseen = outlook.foresee(&coming);
        let Some(first) = foreseen.first() else {
            return;
        };
        let walk = changeover_s(exercise);
        let ready = match coming.run.iter().any(is_straight) {
            true if at_hand == Some(id) => Ready::default(),
            true => Ready {
                cold_s: walk,
                warm_s: walk,
            },
            false => outlook.ready(exercise, first.load),
        };
        let counts = one.item.can_count();
        let half_sets = |(muscle, part): (MuscleId, f64)| (muscle, halves(part));
        left.task.candidates.push(Candidate {
            target,
            halves: exercise
                .muscles()
                .filter(|_| counts)
                .map(half_sets)
                .collect(),
            works: exercise.muscles().map(|(muscle, _)| muscle).collect(),
            ready,
            sets: foreseen.iter().map(|set| set.time).collect(),
            may_pair: leaves_breath(exercise.class),
            paired: None,
        });
        left.coming.push(Coming {
            sets: u32::try_from(foreseen.len()).unwrap_or(coming.sets),
            ..coming
        });
        left.items.push(one.item.clone());
    }

    fn coming(&self, one: &Progress) -> Coming {
        let exercise = one.item.exercise;
        let default = Aim::default_for(self.view.catalogue().exercise(exercise).class);
        let advice = self.advise(exercise);
        let by_belief = self.ask(exercise, next_set);
        Coming {
            exercise,
            aim: aim(default, Some((&one.item, 0)), None, self.held.week()),
            sets: one.left(),
            // What the plan or a gate has made of it stands; the belief's own is made anew, as
            // tired as the lifter will be then.
            opening: advice.load.filter(|load| by_belief.load != Some(*load)),
            run: self.run(exercise),
        }
    }

    /// Where the muscles will stand without today's rest: what was done this week, and what later
    /// days of it are planned to bring.
    fn needs_left(&self) -> BTreeMap<MuscleId, Need> {
        let mut needs: BTreeMap<MuscleId, Need> = self
            .tally_in_bands(self.view)
            .muscles
            .iter()
            .map(|line| {
                let need = Need {
                    halves: halves(line.counted),
                    band: line.band,
                };
                (line.muscle, need)
            })
            .collect();
        for (item, sets) in self.planned_later() {
            let exercise = self.view.catalogue().exercise(item.exercise);
            for (muscle, part) in exercise.muscles() {
                if let Some(need) = needs.get_mut(&muscle) {
                    need.halves += halves(part) * sets;
                }
            }
        }
        needs
    }

    /// Items of later days of this week that count, with their sets; today's session is not among
    /// them, whatever its day.
    fn planned_later(&self) -> Vec<(Item, u32)> {
        let today = self.view.today();
        let week = self.view.calendar.week_of(today);
        let followed = self.followed();
        let later = today
            .iter_days()
            .skip(1)
            .take_while(|day| week.contains(*day));
        let plan = self.held.plan();
        let days = later.filter_map(|day| plan?.day(day.weekday()));
        let due = self.sessions_done();
        let numbered = plan.into_iter().flat_map(|plan| plan.days());
        let numbered = numbered.filter(|day| day.weekday().is_none()).skip(due);
        let items = days
            .chain(numbered)
            .filter(|day| Some(*day) != followed)
            .flat_map(|day| day.items());
        items
            .map(|item| {
                let sets = self.held.week().sets(item.sets.count());
                (item.clone(), item.counting(sets))
            })
            .filter(|(_, sets)| *sets > 0)
            .collect()
    }

    /// The target muscles of this session's work sets.
    fn warm(&self) -> BTreeSet<MuscleId> {
        let catalogue = self.view.catalogue();
        let work = self.session().iter().filter(|filed| is_work(filed));
        work.filter_map(|filed| catalogue.exercise(filed.set.exercise).target)
            .collect()
    }

    fn names(&self, exercises: &[ExerciseId]) -> Vec<&str> {
        exercises.iter().map(|&id| self.view.name_of(id)).collect()
    }

    // What is shown.

    fn in_words(
        &self,
        minutes: u32,
        left: &Left,
        fit: &Fit,
        others: &[Option<(u32, Fit)>; 2],
    ) -> (String, Value) {
        let times = timetable(&left.task, &fit.stretches);
        let rows = self.rows(left, &times);
        let difference = |other: &(u32, Fit)| {
            let (minutes, than) = other;
            text::fit::Other {
                minutes: *minutes,
                sets: than.sets(),
                changes: left.changes(fit, than, |id| self.view.name_of(id)),
            }
        };
        let others = others.iter().flatten().map(difference);
        let others: Vec<_> = others.filter(|one| !one.changes.is_empty()).collect();
        let left_out = left.changes(&left.whole(), fit, |id| self.view.name_of(id));
        let hurt = self.names(&left.hurt);
        let shown = FitView {
            minutes,
            seconds: fit.seconds,
            sets: fit.sets(),
            of: left.all(),
            rows: &rows,
            left_out: &left_out,
            others: &others,
            hurt: &hurt,
            own_pairs: fit.own_pairs > 0,
            better: better(fit),
        };
        (text::fit::fit(&shown), data(&shown))
    }

    /// The timetable's rows, with loads as the chosen sets in their order will want them.
    fn rows(&self, left: &Left, times: &[Timed]) -> Vec<Row<'_>> {
        let lifter = self.view.lifter();
        let rack = self.view.rack();
        let mut outlook = self.outlook(&lifter, &rack);
        let mut rows = Vec::new();
        for timed in times {
            for (place, taken) in timed.stretch.taken().enumerate() {
                rows.extend(self.row(left, timed, taken, place > 0, &mut outlook));
            }
        }
        rows
    }

    fn row(
        &self,
        left: &Left,
        timed: &Timed,
        taken: Taken,
        in_turn: bool,
        outlook: &mut Outlook<'_>,
    ) -> Option<Row<'_>> {
        let coming = left.coming.get(taken.candidate)?;
        let item = left.items.get(taken.candidate)?;
        let candidate = left.task.candidates.get(taken.candidate)?;
        let taken_sets = candidate.sets.get(..taken.sets)?;
        let foreseen = outlook.foresee(&Coming {
            sets: u32::try_from(taken.sets).ok()?,
            ..coming.clone()
        });
        let load = |set: Option<&Foreseen>| set.and_then(|set| set.load);
        let rests = || taken_sets.iter().skip(1).map(|set| set.rest_s);
        Some(Row {
            from_s: timed.from_s,
            exercise: self.view.name_of(coming.exercise),
            sets: taken.sets,
            amount: item.amount.clone(),
            load: load(foreseen.first()),
            last_load: load(foreseen.last()),
            rest_s: rests().min().zip(rests().max()),
            in_turn,
        })
    }
}

impl Left {
    /// All sets that are left.
    fn all(&self) -> usize {
        self.task.candidates.iter().map(|one| one.sets.len()).sum()
    }

    /// Everything that is left, as a choice.
    fn whole(&self) -> Fit {
        let all = self.task.candidates.iter().enumerate();
        let stretches = all.map(|(candidate, one)| Stretch {
            first: Taken {
                candidate,
                sets: one.sets.len(),
            },
            second: None,
        });
        Fit {
            stretches: stretches.collect(),
            ..Fit::default()
        }
    }

    /// By exercise, how many sets more `than` has (less than zero: fewer), where they differ.
    fn changes<'a>(
        &self,
        from: &Fit,
        than: &Fit,
        name: impl Fn(ExerciseId) -> &'a str,
    ) -> Vec<(&'a str, i64)> {
        let count = |fit: &Fit, place: usize| i64::try_from(fit.sets_of(place)).unwrap_or(0);
        let all = self.coming.iter().enumerate();
        let change = all.map(|(place, coming)| {
            let change = count(than, place) - count(from, place);
            (name(coming.exercise), change)
        });
        change.filter(|(_, change)| *change != 0).collect()
    }
}

fn is_straight(set: &LoggedSet) -> bool {
    set.kind != SetKind::WarmUp
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a week's sets, in halves"
)]
fn halves(sets: f64) -> u32 {
    (2.0 * sets).round().max(0.0) as u32
}

/// By how many in a hundred a better choice could be better than one that is not proven best.
fn better(fit: &Fit) -> Option<u32> {
    let over = (fit.most - fit.worth) * 100;
    (!fit.proven).then(|| over.div_ceil(fit.worth.max(1)).max(1))
}

/// The numbers behind a timetable, for programs.
fn data(view: &FitView<'_>) -> Value {
    let row = |row: &Row<'_>| {
        let mut row_data = json!({
            "minute": row.from_s / 60,
            "exercise": row.exercise,
            "sets": row.sets,
            "reps": row.amount.reps().map(|reps| [reps.low(), reps.high()]),
            "load": row.load.map(text::amount),
            "unit": row.load.map(|load| load.unit.symbol()),
            "basis": row.load.map(|load| load.basis.word()),
            "rest_s": row.rest_s.map(|(_, most)| most),
            "in_turn": row.in_turn,
        });
        if let Amount::Time(time) = &row.amount {
            row_data["seconds"] = json!([time.low(), time.high()]);
        }
        row_data
    };
    let count =
        |(exercise, change): &(&str, i64)| json!({"exercise": exercise, "sets": change.abs()});
    let other =
        |other: &text::fit::Other<'_>| json!({"minutes": other.minutes, "sets": other.sets});
    json!({
        "minutes": view.minutes,
        "takes_s": view.seconds,
        "sets": view.sets,
        "of": view.of,
        "timetable": view.rows.iter().map(row).collect::<Vec<_>>(),
        "left_out": view.left_out.iter().map(count).collect::<Vec<_>>(),
        "others": view.others.iter().map(other).collect::<Vec<_>>(),
        "best": view.better.is_none(),
    })
}
