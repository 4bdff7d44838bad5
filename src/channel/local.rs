//! The terminal channel: a team in one window, with no account anywhere.
//!
//! Lines are messages of the member who speaks; a few plain words steer the window itself (see
//! [`Line`]). On a terminal a line can be edited while a bell rings above it; piped input is read
//! plainly. With a hand-wound clock time moves only by `+2:30`, so that a script plays the same
//! twice.

use std::collections::BTreeSet;
use std::io::{BufRead, IsTerminal, Write};
use std::path::PathBuf;
use std::sync::mpsc;

use anyhow::Context as _;
use chrono::{DateTime, TimeDelta, Utc};
use rustyline::error::ReadlineError;
use rustyline::{DefaultEditor, ExternalPrinter};
use tokio::sync::{mpsc as tokio_mpsc, oneshot};

use crate::bot::event::{Clock, Delete, Edit, Event, Message, Press};
use crate::bot::reply::{Button, Outgoing, Reply, Sign};
use crate::service::Service;

/// How a terminal channel is opened.
#[derive(Clone, Debug)]
pub struct Options {
    /// Who speaks at first.
    pub member: String,
    /// Members who are coaches.
    pub coaches: Vec<String>,
    /// The hand-wound clock's first time; `None` for the real clock.
    pub at: Option<DateTime<Utc>>,
    /// Where typed lines are remembered between runs.
    pub history: Option<PathBuf>,
    /// Colours may be used if standard output is a terminal.
    pub colour: bool,
}

/// The one team and channel of a terminal.
const TEAM: &str = "local";
const CHANNEL: &str = "terminal";

/// What a typed line means to the window.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Line<'a> {
    /// `as NAME`: who speaks from now on.
    As(&'a str),
    /// `NAME: message`, or just a message of the one who speaks.
    Message(Option<&'a str>, &'a str),
    /// `!2`: press the second button of the last reply that has buttons.
    Press(usize),
    /// `edit TEXT`: the speaker's last message now says this.
    Edit(&'a str),
    /// `delete`: the speaker's last message is gone.
    Delete,
    /// `+90` or `+2:30`: the hand-wound clock moves on, in seconds or minutes and seconds.
    Wait(u32),
    /// `quit`.
    Quit,
}

/// Reads a typed line. `is_word` tells whether the word before a colon is something other than a
/// name, such as an exercise.
#[must_use]
pub fn line<'a>(text: &'a str, is_word: impl Fn(&str) -> bool) -> Option<Line<'a>> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    let (first, rest) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let rest = rest.trim();
    Some(match first {
        "as" if is_name(rest) => Line::As(rest),
        "edit" if !rest.is_empty() => Line::Edit(rest),
        "delete" if rest.is_empty() => Line::Delete,
        "quit" | "exit" if rest.is_empty() => Line::Quit,
        _ => pressed(text).or_else(|| waited(text)).unwrap_or_else(|| spoken(text, is_word)),
    })
}

fn pressed(text: &str) -> Option<Line<'_>> {
    let number: usize = text.strip_prefix('!')?.parse().ok()?;
    number.checked_sub(1).map(Line::Press)
}

/// Longest step of the hand-wound clock: a year.
const LONGEST_WAIT_S: u32 = 366 * 24 * 3600;

fn waited(text: &str) -> Option<Line<'_>> {
    let time = text.strip_prefix('+')?;
    let seconds = match time.split_once(':') {
        None => time.parse().ok()?,
        Some((minutes, seconds)) => {
            let (minutes, seconds): (u32, u32) = (minutes.parse().ok()?, seconds.parse().ok()?);
            minutes.checked_mul(60)?.checked_add(seconds)?
        }
    };
    Some(Line::Wait(seconds)).filter(|_| seconds <= LONGEST_WAIT_S)
}

fn spoken<'a>(text: &'a str, is_word: impl Fn(&str) -> bool) -> Line<'a> {
    let named = text.split_once(':').filter(|(name, said)| {
        is_name(name) && said.starts_with(char::is_whitespace) && !is_word(name)
    });
    match named {
        Some((name, said)) => Line::Message(Some(name), said.trim()),
        None => Line::Message(None, text),
    }
}

/// One word of letters, digits and hyphens that starts with a letter.
fn is_name(text: &str) -> bool {
    text.starts_with(char::is_alphabetic)
        && text.chars().count() <= 24
        && text.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_')
}

/// Opens the channel and serves it until the input ends.
///
/// # Errors
/// When the terminal cannot be read or written, or the database fails.
pub async fn run(service: &mut Service, options: Options) -> anyhow::Result<()> {
    let terminal = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    let (sender, mut lines) = tokio_mpsc::channel(1);
    let mut window = Window::new(service, &options, terminal);
    window.welcome().await?;
    let printer = if terminal {
        read_terminal(sender, options.history.clone())?
    } else {
        read_plain(sender);
        None
    };
    window.printer = printer;
    loop {
        let due = window.next_due().await?;
        tokio::select! {
            typed = lines.recv() => {
                let Some((text, done)) = typed else { break };
                let goes_on = window.typed(&text).await?;
                // The reader waits for this before it shows the next prompt.
                let _ = done.send(goes_on);
                if !goes_on {
                    break;
                }
            }
            () = sleep(due) => window.ring().await?,
        }
    }
    window.save_nothing_more()
}

async fn sleep(wait: Option<std::time::Duration>) {
    match wait {
        Some(wait) => tokio::time::sleep(wait).await,
        None => std::future::pending().await,
    }
}

type Typed = (String, oneshot::Sender<bool>);
type Printer = Box<dyn ExternalPrinter + Send>;

/// Reads lines with editing and history in a thread of its own.
fn read_terminal(
    sender: tokio_mpsc::Sender<Typed>,
    history: Option<PathBuf>,
) -> anyhow::Result<Option<Printer>> {
    let mut editor = DefaultEditor::new().context("the terminal cannot be opened")?;
    if let Some(path) = &history {
        // A first run has no history yet.
        let _ = editor.load_history(path);
    }
    let printer: Printer = Box::new(editor.create_external_printer()?);
    std::thread::spawn(move || {
        loop {
            match editor.readline("> ") {
                Ok(text) => {
                    let _ = editor.add_history_entry(&text);
                    if !hand_over(&sender, text) {
                        break;
                    }
                }
                Err(ReadlineError::Interrupted | ReadlineError::Eof) => break,
                Err(fault) => {
                    tracing::warn!(%fault, "the terminal can no longer be read");
                    break;
                }
            }
        }
        if let Some(path) = &history {
            let _ = editor.save_history(path);
        }
    });
    Ok(Some(printer))
}

/// Reads piped lines in a thread of its own; broken UTF-8 is shown as such, not fatal.
fn read_plain(sender: tokio_mpsc::Sender<Typed>) {
    std::thread::spawn(move || {
        let mut input = std::io::stdin().lock();
        let mut bytes = Vec::new();
        while matches!(input.read_until(b'\n', &mut bytes), Ok(1..)) {
            let text = String::from_utf8_lossy(&bytes).into_owned();
            bytes.clear();
            if !hand_over(&sender, text) {
                break;
            }
        }
    });
}

/// Hands a line to the channel and waits until it is answered; false when it is over.
fn hand_over(sender: &tokio_mpsc::Sender<Typed>, text: String) -> bool {
    let (done, answered) = oneshot::channel();
    sender.blocking_send((text, done)).is_ok() && answered.blocking_recv().unwrap_or(false)
}

/// The window as it stands.
struct Window<'a> {
    service: &'a mut Service,
    options: &'a Options,
    terminal: bool,
    colour: bool,
    speaker: String,
    /// The hand-wound clock.
    clock: Option<DateTime<Utc>>,
    count: u64,
    /// Each speaker's last message.
    last: std::collections::BTreeMap<String, String>,
    /// The last reply with buttons, and for whom.
    buttons: Option<(String, String, Vec<Button>)>,
    printer: Option<Printer>,
}

impl<'a> Window<'a> {
    fn new(service: &'a mut Service, options: &'a Options, terminal: bool) -> Self {
        Self {
            service,
            options,
            terminal,
            colour: terminal && options.colour,
            speaker: options.member.clone(),
            clock: options.at,
            count: 0,
            last: std::collections::BTreeMap::new(),
            buttons: None,
            printer: None,
        }
    }
}
