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

/// The last advice among lines.
pub fn advice(lines: &[Value]) -> Option<&Value> {
    let advice = lines.iter().rev().map(|line| &line["advice"]);
    advice.filter(|advice| advice.is_object()).next()
}

/// A question about numbers among lines: its reply's id and its buttons.
pub fn question(lines: &[Value]) -> Option<(String, Vec<String>)> {
    let asked = lines.iter().any(|line| line["as"] == "question");
    let reply = lines.iter().rev().find(|line| {
        line["type"] == "reply" && line["buttons"].as_array().is_some_and(|b| !b.is_empty())
    })?;
    let id = reply["id"].as_str()?.to_owned();
    let buttons = reply["buttons"].as_array()?.iter();
    let buttons = buttons.filter_map(|b| b["id"].as_str().map(str::to_owned));
    asked.then(|| (id, buttons.collect()))
}
