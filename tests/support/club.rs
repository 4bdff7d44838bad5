//! A club whose members talk to the running program, each at a time of November 2026.

use serde_json::{Value, json};
use tempfile::TempDir;

use super::program::Program;

/// The running program with its members. Unless somebody is named, Wren speaks.
pub struct Club {
    program: Option<Program>,
    url: String,
    count: u32,
    /// All that came of the last event, as the pipe prints it.
    pub last: Vec<Value>,
    folder: TempDir,
}

impl Club {
    /// A club on a new database in a file.
    pub fn begin() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let url = format!("sqlite:{}", folder.path().join("log.sqlite").display());
        Self::over(folder, url)
    }

    /// A club on the database at this URL.
    pub fn at(url: &str) -> Self {
        Self::over(tempfile::tempdir().expect("a folder"), url.to_owned())
    }

    fn over(folder: TempDir, url: String) -> Self {
        let mut club = Self {
            program: None,
            url,
            count: 0,
            last: Vec::new(),
            folder,
        };
        club.start();
        club
    }

    fn start(&mut self) {
        let pictures = self.folder.path().join("pictures");
        let log = std::process::Stdio::inherit();
        self.program = Some(Program::run(&self.url, &pictures, log));
    }

    /// Where its database is.
    pub fn url(&self) -> &str {
        &self.url
    }

    /// Ends the program and starts it anew on what it stored.
    pub fn restart(&mut self) {
        if let Some(program) = self.program.take() {
            program.close();
        }
        self.start();
    }

    fn send(&mut self, event: &Value) -> String {
        let program = self.program.as_mut().expect("a running program");
        let out = program.answer(&event.to_string()).into_iter();
        self.last = out
            .map(|line| serde_json::from_str(&line).expect("JSON"))
            .collect();
        let texts = self.last.iter().filter_map(|line| line["text"].as_str());
        texts.collect::<Vec<_>>().join("\n")
    }

    /// Wren posts; all texts that come of it.
    pub fn says(&mut self, day: u32, time: &str, text: &str) -> String {
        self.posts("wren", day, time, text)
    }

    /// Somebody posts; a coach with a star behind the name, somebody of another team with the team
    /// before it: `marta*`, `other/wren`.
    pub fn posts(&mut self, who: &str, day: u32, time: &str, text: &str) -> String {
        self.count += 1;
        let (team, author) = who.split_once('/').unwrap_or(("club", who));
        let author = author.trim_end_matches('*');
        let mut name = author.to_owned();
        name.get_mut(..1).expect("a letter").make_ascii_uppercase();
        let event = json!({
            "type": "message", "id": format!("m{}", self.count), "team": team, "channel": "gym",
            "author": author, "name": name, "coach": who.ends_with('*'), "at": at(day, time), "text": text,
        });
        self.send(&event)
    }

    /// Wren presses the button with a label that begins so under the last replies.
    pub fn presses(&mut self, day: u32, time: &str, label: &str) -> String {
        self.press_of("wren", day, time, label)
    }

    /// The same of somebody else.
    pub fn press_of(&mut self, author: &str, day: u32, time: &str, label: &str) -> String {
        let button = self.last.iter().find_map(|line| {
            let buttons = line["buttons"].as_array()?;
            let button = buttons
                .iter()
                .find(|one| one["label"].as_str().is_some_and(|l| l.starts_with(label)))?;
            Some((line["id"].clone(), button["id"].clone()))
        });
        let (reply, button) = button.expect("such a button");
        let event = json!({
            "type": "press", "reply": reply, "team": "club", "author": author, "button": button,
            "at": at(day, time),
        });
        self.send(&event)
    }

    /// Time passes; all texts that come of it.
    pub fn passes(&mut self, day: u32, time: &str) -> String {
        self.send(&json!({ "type": "clock", "at": at(day, time) }))
    }

    /// Wren's history of something.
    pub fn history(&mut self, of: &str) -> String {
        self.says(13, "20:00", &format!("/history {of}"))
    }
}

fn at(day: u32, time: &str) -> String {
    let seconds = if time.len() > 5 { "" } else { ":00" };
    format!("2026-11-{day:02}T{time}{seconds}Z")
}
