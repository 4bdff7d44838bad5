//! Pain and warning signs: no load is advised until a coach gives the word.
//!
//! Nothing here judges what is wrong: it stops, says plainly what to do, and leaves the rest to
//! people (`safety.json`: red flags; a chat bot clears and diagnoses nobody).

use super::file_sets::{Filed, Post};
use super::reply::{Outgoing, Reply};
use super::state::HurtLock;
use super::words;
use super::work::{Work, stop};
use crate::domain::catalogue::Catalogue;
use crate::domain::id::ExerciseId;
use crate::message::reading::{Hurt, Reading};

impl Work<'_> {
    /// Files what was done, locks the exercise (all of them on a red flag), and says what to do.
    pub(super) fn answer_hurt(&mut self, post: &Post, reading: &Reading, hurt: &Hurt) {
        let lifted = reading.sets.last().map(|set| set.exercise);
        let named = lifted.or_else(|| self.named_in(post.text));
        if !reading.sets.is_empty()
            && let Filed::NoSuchDay = self.file(post, &reading.sets, false)
        {
            self.say(words::NO_SUCH_DAY);
        }
        self.note_hurt(named, hurt);
    }

    /// Locks the exercise named, else the one at hand, else all, and says what to do.
    pub(super) fn note_hurt(&mut self, named: Option<ExerciseId>, hurt: &Hurt) {
        let exercise = named.or_else(|| self.at_hand());
        self.lock(exercise, hurt);
        self.cancel_bell();
        self.say_hurt(exercise, hurt);
    }

    /// The exercise that the words name ("pain on pushdowns"), the longest name first.
    fn named_in(&self, text: &str) -> Option<ExerciseId> {
        let between = |c: char| !(c.is_alphanumeric() || c == '-');
        let words: Vec<&str> = text
            .split(between)
            .filter(|word| !word.is_empty())
            .collect();
        let named = |count: usize| {
            let mut runs = words.windows(count);
            runs.find_map(|run| self.scene.reader.names().named(&run.join(" ")))
        };
        (1..=LONGEST_NAME).rev().find_map(named)
    }

    /// Whether pain holds advice on an exercise back: its own, a warning sign, or a hurt back that
    /// it loads too.
    pub(super) fn is_held(&self, exercise: ExerciseId) -> bool {
        let hurt = &self.member.desk.hurt;
        let own = hurt.contains_key("") || hurt.contains_key(self.scene.name_of(exercise));
        let back = || {
            hurt.values()
                .any(|lock| lock.body.as_deref().is_some_and(is_back))
        };
        own || loads_lower_back(self.scene.catalogue(), exercise) && back()
    }

    fn lock(&mut self, exercise: Option<ExerciseId>, hurt: &Hurt) {
        let name = exercise
            .filter(|_| !hurt.urgent())
            .map(|id| self.scene.name_of(id).to_owned());
        let lock = HurtLock {
            body: hurt.body.clone(),
            at: self.scene.now,
            red_flag: hurt.urgent(),
        };
        self.member.desk.hurt.insert(name.unwrap_or_default(), lock);
    }

    fn say_hurt(&mut self, exercise: Option<ExerciseId>, hurt: &Hurt) {
        let name = exercise
            .filter(|_| !hurt.urgent())
            .map(|id| self.scene.name_of(id));
        let text = words::hurt(&self.member.name, name, hurt);
        let catalogue = self.scene.catalogue();
        let unit = self.scene.unit();
        let advice = exercise.map(|id| words::advice_data(&stop(id), catalogue.exercise(id), unit));
        let reply = Reply {
            text,
            advice,
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }
}

/// Whether the place named is the back: what hurt it in one lift, others load as well. Common
/// practice, no source.
fn is_back(body: &str) -> bool {
    body.split_whitespace()
        .any(|word| matches!(word, "back" | "spine" | "disc"))
}

fn loads_lower_back(catalogue: &Catalogue, exercise: ExerciseId) -> bool {
    let lower_back = catalogue.muscle_named("lower back");
    let exercise = catalogue.exercise(exercise);
    let mut worked = std::iter::once(&exercise.target).chain(&exercise.helpers);
    worked.any(|&muscle| Some(muscle) == lower_back)
}

/// Words of the longest exercise name looked for in a pain message.
const LONGEST_NAME: usize = 4;
