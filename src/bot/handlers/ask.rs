//! One short question about a set that cannot be filed yet, with the likely answers as buttons.

use super::log_sets::Post;
use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::Button;
use crate::bot::text;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::message::intent::own_name;
use crate::message::reading::{Draft, Need, SetReading, Unclear, is_far_lighter};

/// Buttons under one question, the one that leaves it out not counted.
const CHOICES: usize = 4;

/// Characters on a button: team channels take no more than 80.
const LONGEST_LABEL: usize = 80;

impl Work<'_> {
    /// Asks for the first thing that is missing.
    pub(crate) fn ask_about(&mut self, post: &Post, unclear: &Unclear) {
        let Some(&need) = unclear.needs.first() else {
            return;
        };
        if let Some(count) = unclear.all_or_none() {
            let all = ButtonId::Pick(0).labelled(format!("Log all {count}"));
            let none = ButtonId::Drop.labelled("Log none");
            self.question(post, text::many_sets(count), vec![all, none], false);
            return;
        }
        let draft = unclear.drafts.first();
        let (text, mut buttons) = match need {
            Need::Exercise => self.which_exercise(unclear),
            Need::Load => self.which_load(draft),
            Need::Reps => self.which_reps(draft),
            Need::Effort => which_effort(),
            Need::WhichReading => self.which_reading(unclear),
        };
        buttons.push(ButtonId::Drop.labelled("Not a set"));
        self.question(post, text, buttons, false);
    }

    fn which_exercise(&self, unclear: &Unclear) -> (String, Vec<Button>) {
        let mut choices: Vec<ExerciseId> = unclear.nearest.clone();
        let of_late = self
            .loaded
            .history
            .iter()
            .rev()
            .map(|filed| filed.set.exercise);
        if unclear.unknown_name.is_none() {
            choices.clear();
            choices.extend(of_late);
        }
        let done: Vec<ExerciseId> = (self.view.session().iter().rev())
            .map(|filed| filed.set.exercise)
            .collect();
        // What was done in this session first.
        choices.sort_by_key(|choice| {
            done.iter()
                .position(|done| done == choice)
                .unwrap_or(done.len())
        });
        let mut seen = Vec::new();
        choices.retain(|choice| {
            !seen.contains(choice) && {
                seen.push(*choice);
                true
            }
        });
        choices.truncate(CHOICES);
        let button = |&exercise: &ExerciseId| {
            let name = self.view.name_of(exercise);
            ButtonId::Exercise(name.to_owned()).labelled(name)
        };
        let mut buttons: Vec<Button> = choices.iter().map(button).collect();
        let name = unclear.unknown_name.as_deref().map(str::to_lowercase);
        let own = name.filter(|name| own_name::is_free(name, self.view.reader));
        let text = text::which_exercise(unclear.unknown_name.as_deref(), own.is_some());
        if let Some(name) = own {
            buttons.push(ButtonId::Own(name).labelled("My own exercise"));
        }
        (text, buttons)
    }

    /// The member's sets of the draft's exercise, latest first.
    fn earlier<'b>(&'b self, draft: Option<&Draft>) -> impl Iterator<Item = &'b LoggedSet> {
        let exercise = draft.and_then(|draft| draft.exercise);
        let sets = self.loaded.history.iter().rev().map(|filed| &filed.set);
        sets.filter(move |set| Some(set.exercise) == exercise)
    }

    fn which_load(&self, draft: Option<&Draft>) -> (String, Vec<Button>) {
        let mut buttons: Vec<Button> = Vec::new();
        for set in self
            .earlier(draft)
            .filter(|set| set.load.basis != Basis::Body)
        {
            let id = ButtonId::Load(set.load.mass, set.load.unit);
            let button = id.labelled(text::load(set.load));
            if buttons.iter().all(|other| other.id != button.id) && buttons.len() < CHOICES {
                buttons.push(button);
            }
        }
        let name = self.draft_name(draft);
        (
            format!("{name}: which load? Answer with the number, like `80`."),
            buttons,
        )
    }

    fn which_reps(&self, draft: Option<&Draft>) -> (String, Vec<Button>) {
        let last = self.earlier(draft).next().map_or(8, |set| set.reps);
        let first = last.saturating_sub(2).max(1);
        let buttons =
            (first..first + 5).map(|count| ButtonId::Reps(count).labelled(text::reps(count)));
        let name = self.draft_name(draft);
        let what = draft
            .and_then(|draft| draft.load)
            .map_or_else(String::new, |load| {
                format!(" {}", load.unit.with(text::trim2(load.amount)))
            });
        (format!("{name}{what}: how many reps?"), buttons.collect())
    }

    fn which_reading(&self, unclear: &Unclear) -> (String, Vec<Button>) {
        let of_late = self.earlier(unclear.drafts.first()).next();
        let likely = |sets: &[SetReading]| {
            !sets.iter().any(|set| {
                set.load.basis != Basis::Body
                    && of_late.is_some_and(|late| is_far_lighter(set.load.mass, late.load.mass))
            })
        };
        // What a reading lacks is asked for when it has been picked.
        let whole = unclear.readings.iter();
        let whole = whole.map(|sets| likely(sets).then(|| text::reading(sets)));
        let partial = unclear.partial.iter().map(|sets| Some(text::partial(sets)));
        let labels: Vec<(usize, String)> = whole
            .chain(partial)
            .enumerate()
            .filter_map(|(place, label)| Some((place, label?)))
            .take(CHOICES)
            .collect();
        let exercise = unclear.drafts.iter().find_map(|draft| draft.exercise);
        let exercise = exercise.or_else(|| Some(unclear.readings.first()?.first()?.exercise));
        let name = exercise.map_or("That", |id| self.view.name_of(id));
        let offered = unclear.readings.len() + unclear.partial.len();
        if let ([(place, label)], 1) = (labels.as_slice(), offered) {
            let yes = ButtonId::Pick(*place).labelled("Yes, log it");
            return (text::part_understood(name, label), vec![yes]);
        }
        let long = labels
            .iter()
            .any(|(_, label)| label.chars().count() > LONGEST_LABEL);
        let mut text = format!("{name}: which one do you mean?");
        if !long {
            let pick = |(place, label)| ButtonId::Pick(place).labelled(label);
            return (text, labels.into_iter().map(pick).collect());
        }
        let mut buttons = Vec::new();
        for (number, (place, label)) in (1..).zip(labels) {
            text.push_str(&format!("\n{number}: {label}"));
            buttons.push(ButtonId::Pick(place).labelled(number.to_string()));
        }
        (text, buttons)
    }

    fn draft_name(&self, draft: Option<&Draft>) -> &str {
        draft
            .and_then(|draft| draft.exercise)
            .map_or("That set", |id| self.view.name_of(id))
    }
}

fn which_effort() -> (String, Vec<Button>) {
    let mut buttons: Vec<_> = (0..4_u8)
        .map(|left| {
            let label = match left {
                0 => "To failure".to_owned(),
                _ => format!("{left} left"),
            };
            ButtonId::Left(Rir::new(f64::from(left)).ok()).labelled(label)
        })
        .collect();
    buttons.push(ButtonId::Left(None).labelled("Leave it open"));
    ("How many reps were left in you?".to_owned(), buttons)
}
