//! `chalkbell read`: messages in, one JSON object a line out. Nothing is stored.

use std::io::{self, BufRead, Write};

use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;
use crate::message::forms::plan;
use crate::message::reading::{Correction, Kind, Part, Reading, SetReading, Unclear};
use crate::message::{Context, Habit, Reader, print};

/// Minutes for which follow-on forms hold: three hours.
const CARRY_MINUTES: usize = 180;

/// Reads each line of `input` as a message and prints what it was read as.
///
/// `\n` in a line, as two characters, stands for a newline. With `thread` the lines are one
/// member's messages, a minute apart. Broken UTF-8 is read with its faults replaced; every line
/// gets exactly one answer.
///
/// # Errors
/// When `input` cannot be read or `output` not be written.
pub fn read_lines(
    reader: &Reader,
    mut input: impl BufRead,
    mut output: impl Write,
    unit: Unit,
    thread: bool,
) -> io::Result<()> {
    let mut memory = Memory::default();
    let mut line = Vec::new();
    let mut minute = 0;
    loop {
        line.clear();
        if input.read_until(b'\n', &mut line)? == 0 {
            return output.flush();
        }
        let text = message(&line);
        let context = if thread {
            memory.context(unit, minute)
        } else {
            Context::alone(unit)
        };
        let reading = reader.read(&text, &context);
        serde_json::to_writer(&mut output, &print(&reading, reader.catalogue()))?;
        output.write_all(b"\n")?;
        if thread {
            if reading.kind() == Kind::Chatter
                && let Some(exercise) = reader.bare_name(&text)
            {
                memory.take_name(exercise, minute);
            } else {
                memory.take(reading, minute);
            }
        }
        minute += 1;
    }
}

/// Reads each line of `input` as a coach's plan, with `\n` as in [`read_lines`], and prints what was
/// understood of it: [`plan::wire`].
///
/// # Errors
/// When `input` cannot be read or `output` not be written.
pub fn read_plans(
    reader: &Reader,
    mut input: impl BufRead,
    mut output: impl Write,
    unit: Unit,
) -> io::Result<()> {
    let language = plan::Language {
        catalogue: reader.catalogue(),
        names: reader.names(),
        unit,
    };
    let mut line = Vec::new();
    loop {
        line.clear();
        if input.read_until(b'\n', &mut line)? == 0 {
            return output.flush();
        }
        let understood = plan::understand(&message(&line), &language);
        serde_json::to_writer(&mut output, &plan::wire(&understood, reader.catalogue()))?;
        output.write_all(b"\n")?;
    }
}

fn message(line: &[u8]) -> String {
    let line = line.strip_suffix(b"\n").unwrap_or(line);
    let line = line.strip_suffix(b"\r").unwrap_or(line);
    String::from_utf8_lossy(line).replace("\\n", "\n")
}

/// What one member's earlier lines left behind.
#[derive(Default)]
struct Memory {
    /// The sets of each message, with its minute.
    posts: Vec<(usize, Vec<SetReading>)>,
    /// The exercise that stood in a message of its own since, with its minute.
    named: Option<(usize, ExerciseId)>,
    pending: Option<Unclear>,
    habits: Vec<Habit>,
}

impl Memory {
    fn context(&self, unit: Unit, minute: usize) -> Context<'_> {
        let last = self
            .posts
            .last()
            .filter(|(at, _)| minute - at <= CARRY_MINUTES)
            .and_then(|(_, sets)| sets.last());
        Context {
            unit,
            last,
            named: self
                .named
                .filter(|(at, _)| minute - at <= CARRY_MINUTES)
                .map(|(_, id)| id),
            pending: self.pending.as_ref(),
            habits: &self.habits,
        }
    }

    /// A name alone: what was asked before it is left behind.
    fn take_name(&mut self, exercise: ExerciseId, minute: usize) {
        self.named = Some((minute, exercise));
        self.pending = None;
    }

    fn take(&mut self, reading: Reading, minute: usize) {
        match reading.correction {
            Some(Correction::Undo) => {
                self.posts.pop();
            }
            Some(Correction::Change {
                part, unit, now, ..
            }) => self.change(part, unit, now),
            Some(Correction::Set(load, reps, rir)) => {
                if let Some(last) = self.last_set() {
                    (last.load, last.reps) = (load, reps);
                    last.rir = rir.or(last.rir);
                }
            }
            None => {}
        }
        // Chat in between leaves a question open.
        if reading.kind() != Kind::Chatter {
            self.pending = reading.unclear;
        }
        if !reading.sets.is_empty() {
            self.named = None;
            self.posts.push((minute, reading.sets));
        }
        self.habits = Habit::all(self.posts.iter().flat_map(|(_, sets)| sets));
    }

    fn last_set(&mut self) -> Option<&mut SetReading> {
        self.posts.last_mut().and_then(|(_, sets)| sets.last_mut())
    }

    fn change(&mut self, part: Option<Part>, unit: Option<Unit>, now: f64) {
        let Some(last) = self.last_set() else {
            return;
        };
        if let Some(changed) = last.changed(part, unit, now) {
            *last = changed;
        }
    }
}
