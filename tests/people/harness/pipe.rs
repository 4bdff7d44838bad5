//! The bot as programs see it: lines in, lines out.

use chrono::{DateTime, Utc};
use serde_json::{Value, json};

use crate::program::Program;

/// Something that answers the pipe's events.
pub trait Bot {
    /// Every line that comes out for one line.
    fn tell(&mut self, line: &Value) -> Vec<Value>;
}

/// A running `chalkbell pipe` on a database of its own.
pub struct Pipe {
    program: Program,
    _folder: tempfile::TempDir,
}

impl Pipe {
    pub fn start() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let program = Program::start(&folder.path().join("log.sqlite"));
        Self {
            program,
            _folder: folder,
        }
    }
}

impl Bot for Pipe {
    fn tell(&mut self, line: &Value) -> Vec<Value> {
        let lines = self.program.answer(&line.to_string());
        let parsed = lines.iter().map(|line| serde_json::from_str(line).unwrap());
        parsed.collect()
    }
}

/// A person at the bot: names, ids, times.
pub struct Talk<'a> {
    pub bot: &'a mut dyn Bot,
    pub author: String,
    pub count: usize,
}

impl Talk<'_> {
    /// Posts a text; what came out.
    pub fn post(&mut self, at: DateTime<Utc>, text: &str) -> Vec<Value> {
        self.count += 1;
        let author = &self.author;
        self.bot.tell(&json!({
            "type": "message", "id": format!("{author}-{}", self.count), "team": author,
            "channel": "gym", "author": author, "name": author, "coach": false,
            "at": at.to_rfc3339(), "text": text,
        }))
    }

    /// Presses a button.
    pub fn press(&mut self, at: DateTime<Utc>, reply: &str, button: &str) -> Vec<Value> {
        self.count += 1;
        let author = &self.author;
        self.bot.tell(&json!({
            "type": "press", "id": format!("{author}-{}", self.count), "team": author,
            "reply": reply, "author": author, "button": button, "at": at.to_rfc3339(),
        }))
    }
}
