//! Notes of coaches on members: for coaches alone, or shared with the member, as the coach says.

use super::work::Work;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::{MOST_NOTES, Note};
use crate::bot::text;
use crate::message::forms::command::NoteCommand;

/// Longest note, characters.
const LONGEST: usize = 500;

impl Work<'_> {
    /// Answers `/note`.
    pub(crate) fn note(&mut self, command: &NoteCommand) {
        if *command == NoteCommand::Own {
            let notes = self.member.state.notes.iter().filter(|note| note.shared);
            let notes: Vec<Note> = notes.cloned().collect();
            let text = text::notes::own(&notes, self.member.coach);
            self.tell(text);
            return;
        }
        if !self.is_coach() {
            return;
        }
        match command {
            NoteCommand::Own => {}
            NoteCommand::Show(name) => {
                if let Some(other) = self.named(name) {
                    let notes = Note::numbered(other.state.notes);
                    self.tell(text::notes::on(&other.name, &notes));
                }
            }
            NoteCommand::Keep {
                member,
                shared,
                text,
            } => self.keep_note(member, *shared, text),
            NoteCommand::Delete(name, number) => self.delete_note(name, *number),
        }
    }

    fn keep_note(&mut self, name: &str, shared: bool, text: &str) {
        let Some(mut other) = self.named(name) else {
            return;
        };
        let mut notes = Note::numbered(std::mem::take(&mut other.state.notes));
        let note = Note {
            day: self.view.today(),
            by: self.member.author.clone(),
            text: text.chars().take(LONGEST).collect(),
            number: Note::next_number(&notes),
            shared,
        };
        let cut = text.chars().count() > LONGEST;
        notes.push(note.clone());
        let over = notes.len().saturating_sub(MOST_NOTES);
        notes.drain(..over);
        other.state.notes = notes;
        self.tell(text::notes::kept(&other.name, &note, cut));
        if shared && other.id != self.member.id && !other.is_expected() {
            let reply = Reply {
                to: Some(other.author.clone()),
                private: true,
                text: text::notes::handed(&note),
                ..self.blank()
            };
            self.out.push(Outgoing::Reply(reply));
        }
        self.put_other(other);
    }

    fn delete_note(&mut self, name: &str, number: u32) {
        let Some(mut other) = self.named(name) else {
            return;
        };
        let mut notes = Note::numbered(std::mem::take(&mut other.state.notes));
        let before = notes.len();
        notes.retain(|note| note.number != number);
        if notes.len() == before {
            self.tell(text::notes::no_such(&other.name, number, &notes));
            return;
        }
        other.state.notes = notes;
        self.tell(text::notes::deleted(&other.name, number));
        self.put_other(other);
    }
}
