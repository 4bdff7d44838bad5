//! The terminal channel: a team in one window, with no account anywhere.
//!
//! Lines are messages of the member who speaks; a few plain words steer the window itself (see
//! [`Line`]). On a terminal a line can be edited while a bell rings above it; piped input is read
//! plainly. With a hand-wound clock time moves only by `+2:30`, so that a script plays the same
//! twice.

mod plan_lines;
mod screen;
mod start;

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::io::{BufRead, IsTerminal, Read, Write};
use std::path::PathBuf;
use std::thread::JoinHandle;

use anyhow::Context as _;
use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;
use rustyline::error::ReadlineError;
use rustyline::{DefaultEditor, ExternalPrinter};
use tokio::sync::{mpsc, oneshot};

pub use self::start::start_time;

use self::plan_lines::PlanLines;
use super::admit;
use super::gallery::{self, Gallery};
use crate::bot::event::{Clock, Delete, Edit, Event, Message, Press};
use crate::bot::reply::{Button, File, Outgoing, Reply, Sign};
use crate::bot::text::help::wrapped;
use crate::bot::text::shown_name;
use crate::jobs::{self, watch};
use crate::message::Reader;
use crate::message::forms::plan::weekday;
use crate::message::words::variants::List;
use crate::service::{Bot, Service};

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
    /// Where pictures are put.
    pub gallery: Gallery,
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
    /// `NAME: message`, or just a message of the one who speaks. A command may end in `< FILE`.
    Message(Option<&'a str>, &'a str),
    /// `!2`: press the second button of the last reply that has buttons.
    Press(usize),
    /// `edit TEXT`: the speaker's last message now says this.
    Edit(&'a str),
    /// `delete`: the speaker's last message is gone.
    Delete,
    /// `as` with what is no name, or `-5:00`: why nothing happens.
    Refused(&'static str),
    /// `+90`, `+2:30` or `+3:00:00`: the hand-wound clock moves on, in seconds, minutes or hours.
    Wait(u32),
    /// `quit`.
    Quit,
}

/// Reads a typed line. `is_word` tells whether the word before a colon is something other than a
/// name, such as an exercise.
pub fn line<'a>(text: &'a str, is_word: impl Fn(&str) -> bool) -> Option<Line<'a>> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    let (first, rest) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let rest = rest.trim();
    Some(match first {
        "as" if is_name(rest) => Line::As(rest),
        "as" if rest.split(' ').count() == 2 && rest.split(' ').all(is_name) => {
            Line::Refused(ONE_WORD)
        }
        "edit" if !rest.is_empty() => Line::Edit(rest),
        "delete" if rest.is_empty() => Line::Delete,
        "quit" | "exit" if rest.is_empty() => Line::Quit,
        _ => pressed(text)
            .or_else(|| waited(text))
            .or_else(|| is_wound_back(text).then_some(Line::Refused(NO_WAY_BACK)))
            .unwrap_or_else(|| spoken(text, is_word)),
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
    let parts = time.split(':').map(|part| part.parse::<u32>().ok());
    let parts: Vec<u32> = parts.collect::<Option<_>>()?;
    let add = |sum: u32, part: &u32| sum.checked_mul(60)?.checked_add(*part);
    let seconds = parts.iter().try_fold(0, add).filter(|_| parts.len() <= 3)?;
    Some(Line::Wait(seconds)).filter(|_| seconds <= LONGEST_WAIT_S)
}

/// Said to `as anna lena`.
const ONE_WORD: &str = "A name is one word here, like `as anna` or `as anna-lena`.";

/// Said to `-5:00`.
const NO_WAY_BACK: &str = "Time only goes forward: `+5:00` is five minutes on.";

/// `-5:00`, as somebody would write who wants the clock back.
fn is_wound_back(text: &str) -> bool {
    let time = text.strip_prefix('-').unwrap_or_default();
    time.contains(':') && time.chars().all(|c| c.is_ascii_digit() || c == ':')
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
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || c == '-' || c == '_')
}

/// Longest file that is taken as the text of a command, bytes.
const LONGEST_FILE: u64 = 16 * 1024 * 1024;

/// A command with the text of a file below it, where it ends in `< FILE`: a whole team's plans are
/// written in an editor, not on a line.
///
/// # Errors
/// One sentence, when the file cannot be read as text.
fn with_file(text: &str) -> Result<Cow<'_, str>, String> {
    let Some((command, path)) = text.rsplit_once(" < ").filter(|_| text.starts_with('/')) else {
        return Ok(Cow::Borrowed(text));
    };
    let path = path.trim();
    let read = || {
        let mut file = std::fs::File::open(path)?.take(LONGEST_FILE + 1);
        let mut text = String::new();
        file.read_to_string(&mut text).map(|_| text)
    };
    match read() {
        Ok(text) if text.len() as u64 <= LONGEST_FILE => Ok(Cow::Owned(format!(
            "{}\n{}",
            command.trim_end(),
            text.trim_start_matches('\u{feff}')
        ))),
        Ok(_) => Err(format!(
            "{path} is too long for a command: sixteen megabytes at most."
        )),
        Err(fault) => Err(format!(
            "{path} cannot be read ({fault}). Name a text file."
        )),
    }
}

/// Words that stand before a colon without being anybody's name.
static NO_NAMES: List = List::of(
    "warm-up, warmup, work, correction, yesterday, today, note, set, target, plan, upper, lower, push, pull, \
     full, day, session, workout, top, main, accessory, finisher, superset, also, update, edit, ps",
);

/// Whether a word before a colon belongs to the message, as an exercise or a day does.
fn is_word(reader: &Reader, word: &str) -> bool {
    let word = word.to_lowercase();
    NO_NAMES.has(&word)
        || weekday(&word).is_some()
        || reader.names().named(&word).is_some()
        || reader.catalogue().muscle_named(&word).is_some()
}

/// Opens the channel and serves it until the input ends.
///
/// # Errors
/// When the terminal cannot be read or written, or the database fails at start.
pub async fn run(service: &Service<Bot>, options: Options) -> anyhow::Result<()> {
    let terminal = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    let mut window = Window::new(service, &options, terminal);
    window.welcome().await?;
    let (sender, mut lines) = mpsc::channel(1);
    let reader = if terminal {
        let screen = screen::ask();
        window.sixels = screen.sixels;
        let (reader, printer) = read_terminal(sender, options.history.clone(), screen.typed)?;
        window.printer = Some(printer);
        reader
    } else {
        read_plain(sender)
    };
    loop {
        let due = window.until_due();
        tokio::select! {
            typed = lines.recv() => {
                let Some((text, done)) = typed else { break };
                let goes_on = match text {
                    Some(text) => window.typed(&text).await?,
                    None => window.print(TOO_LONG, false).map(|()| true)?,
                };
                // The reader waits for this before it shows the next prompt.
                let _ = done.send(goes_on);
                if !goes_on {
                    break;
                }
            }
            due = due => {
                due?;
                window.time_passed().await?;
            }
        }
    }
    drop(lines);
    // It has nothing left to wait for, and saves the typed lines.
    let _ = reader.join();
    Ok(())
}

/// A line, `None` where it is too long, and whom to tell that it is answered.
type Typed = (Option<String>, oneshot::Sender<bool>);
type Printer = Box<dyn ExternalPrinter + Send>;

/// Reads lines with editing and history in a thread of its own; some may be typed already.
fn read_terminal(
    sender: mpsc::Sender<Typed>,
    history: Option<PathBuf>,
    typed: String,
) -> anyhow::Result<(JoinHandle<()>, Printer)> {
    let mut editor = DefaultEditor::new().context("the terminal cannot be opened")?;
    if let Some(path) = &history {
        // A first run has no history yet.
        let _ = editor.load_history(path);
    }
    let printer: Printer = Box::new(editor.create_external_printer()?);
    let reader = std::thread::spawn(move || {
        let (whole, begun) = typed.rsplit_once('\n').unwrap_or(("", &typed));
        let mut goes_on = whole
            .lines()
            .all(|line| hand_over(&sender, Some(line.to_owned())));
        let mut begun = Some(begun);
        while goes_on {
            let begun = begun.take().unwrap_or_default();
            match editor.readline_with_initial("> ", (begun, "")) {
                Ok(text) => {
                    let _ = editor.add_history_entry(&text);
                    goes_on = hand_over(&sender, Some(text));
                }
                Err(ReadlineError::Interrupted | ReadlineError::Eof) => break,
                Err(fault) => {
                    tracing::warn!(%fault, "the terminal can no longer be read");
                    break;
                }
            }
        }
        if let Some(path) = &history
            && let Err(fault) = editor.save_history(path)
        {
            tracing::warn!(%fault, "the typed lines could not be kept for the next run");
        }
    });
    Ok((reader, printer))
}

/// Longest piped line that is taken, bytes; a longer one is skipped whole, since what is cut off
/// might read as a set.
const LONGEST_LINE: u64 = 64 * 1024;

/// Said to a line that is skipped.
const TOO_LONG: &str = "Not logged: that line is too long. Post it in shorter messages.";

/// Reads piped lines in a thread of its own; broken UTF-8 is shown as such, not fatal.
fn read_plain(sender: mpsc::Sender<Typed>) -> JoinHandle<()> {
    std::thread::spawn(move || {
        let mut input = std::io::stdin().lock();
        while let Some(line) = piped_line(&mut input) {
            if !hand_over(&sender, line) {
                break;
            }
        }
    })
}

/// The next piped line, `None` inside where it is too long; `None` when the input is over.
fn piped_line(input: &mut impl BufRead) -> Option<Option<String>> {
    let mut piece = |bytes: &mut Vec<u8>| {
        bytes.clear();
        let read = input.by_ref().take(LONGEST_LINE).read_until(b'\n', bytes);
        // What cannot be read ends the input.
        read.unwrap_or_default() as u64 == LONGEST_LINE && !bytes.ends_with(b"\n")
    };
    let mut bytes = Vec::new();
    let mut goes_on = piece(&mut bytes);
    if !goes_on {
        let text = String::from_utf8_lossy(&bytes).into_owned();
        return Some(Some(text)).filter(|_| !bytes.is_empty());
    }
    while goes_on {
        goes_on = piece(&mut bytes);
    }
    Some(None)
}

/// Hands a line to the channel and waits until it is answered; false when it is over.
fn hand_over(sender: &mpsc::Sender<Typed>, text: Option<String>) -> bool {
    let (done, answered) = oneshot::channel();
    sender.blocking_send((text, done)).is_ok() && answered.blocking_recv().unwrap_or(false)
}

/// The zone of this machine's clocks: what `/etc/localtime` points to, or `/etc/timezone` names.
fn machine_zone() -> Option<Tz> {
    let pointed = std::fs::canonicalize("/etc/localtime").ok();
    let zone = pointed.as_deref().and_then(|file| {
        let (_, name) = file.to_str()?.rsplit_once("zoneinfo/")?;
        name.parse().ok()
    });
    zone.or_else(|| {
        let named = std::fs::read_to_string("/etc/timezone").ok()?;
        named.trim().parse().ok()
    })
}

#[expect(clippy::disallowed_methods, reason = "an adapter reads the clock")]
fn now() -> DateTime<Utc> {
    Utc::now()
}

/// The window as it stands.
struct Window<'a> {
    service: &'a Service<Bot>,
    options: &'a Options,
    terminal: bool,
    colour: bool,
    speaker: String,
    /// The hand-wound clock.
    clock: Option<DateTime<Utc>>,
    /// Messages so far, so that two within a millisecond differ.
    count: u64,
    /// Each speaker's last message.
    last: BTreeMap<String, String>,
    /// The last reply with buttons.
    buttons: Option<Reply>,
    plan: PlanLines,
    printer: Option<Printer>,
    /// Pixels across, where pictures can be shown here.
    sixels: Option<u32>,
    /// Something was due, and yet nothing came of it.
    idle: bool,
}

impl<'a> Window<'a> {
    fn new(service: &'a Service<Bot>, options: &'a Options, terminal: bool) -> Self {
        Self {
            service,
            options,
            terminal,
            colour: terminal && options.colour,
            speaker: options.member.clone(),
            clock: options.at,
            count: 0,
            last: BTreeMap::new(),
            buttons: None,
            plan: PlanLines::default(),
            printer: None,
            sixels: None,
            idle: false,
        }
    }

    fn now(&self) -> DateTime<Utc> {
        self.clock.unwrap_or_else(now)
    }

    /// The two lines of a first run, and the team's zone, which the machine knows best.
    async fn welcome(&mut self) -> anyhow::Result<()> {
        if !self.service.is_new(TEAM).await? {
            return Ok(());
        }
        // A coach says it, and is one who can be told of pain from then on.
        let coach = self.options.coaches.first().cloned();
        if let (Some(zone), Some(coach)) = (machine_zone(), coach) {
            let text = format!("/settings zone {zone}");
            let event = self.message_event(&coach, true, &text);
            // A zone that is not known stays UTC.
            let _ = self.service.one(&event).await;
        }
        self.print(
            "Type a message and press Enter, like `bench 60x10, 2 left`.\n`hi` tells you what this is, \
             `as mara` speaks for somebody else, Ctrl-D leaves. What you post is kept.",
            false,
        )
    }

    /// Returns once something is due; never when time is moved by hand.
    fn until_due(&self) -> impl Future<Output = anyhow::Result<()>> + use<> {
        let (store, by_hand, idle) = (
            self.service.store().clone(),
            self.clock.is_some(),
            self.idle,
        );
        async move {
            if by_hand {
                std::future::pending::<()>().await;
            }
            Ok(watch::until_due(&store, Some(TEAM), now, idle).await?)
        }
    }

    /// What is due happens, above the line that is being typed.
    async fn time_passed(&mut self) -> anyhow::Result<()> {
        let event = Event::Clock(Clock {
            team: Some(TEAM.to_owned()),
            at: self.now(),
        });
        self.send(&event, true).await?;
        let next = self.service.store().next_due(Some(TEAM)).await?;
        self.idle = next.is_some_and(|due| due <= self.now());
        Ok(())
    }

    /// Answers a typed line; false when the channel is to close.
    async fn typed(&mut self, text: &str) -> anyhow::Result<bool> {
        let service = self.service;
        match line(text, |word| is_word(service.use_case().reader(), word)) {
            None => {}
            Some(Line::Quit) => return Ok(false),
            Some(Line::As(name)) => name.clone_into(&mut self.speaker),
            Some(Line::Message(name, said)) => {
                if let Some(why) = self.plan.slip(&self.speaker, text)
                    && !self.is_member(name).await?
                {
                    return self.print(&why, false).map(|()| true);
                }
                let name = name.unwrap_or(&self.speaker).to_owned();
                let text = self.plan.posted(&name, said);
                let text = match with_file(&text) {
                    Ok(text) => text,
                    Err(fault) => return self.print(&fault, false).map(|()| true),
                };
                let event = self.message_event(&name, self.is_coach(&name), &text);
                self.last
                    .insert(name, event.id().unwrap_or_default().to_owned());
                self.send(&event, false).await?;
            }
            Some(Line::Refused(why)) => self.print(why, false)?,
            Some(Line::Press(place)) => self.press(place).await?,
            Some(Line::Edit(text)) => self.change(Some(text)).await?,
            Some(Line::Delete) => self.change(None).await?,
            Some(Line::Wait(seconds)) => self.wind(seconds).await?,
        }
        Ok(true)
    }

    fn is_coach(&self, name: &str) -> bool {
        self.options
            .coaches
            .iter()
            .any(|coach| coach.eq_ignore_ascii_case(name))
    }

    /// Whether somebody of this name has posted here.
    async fn is_member(&self, name: Option<&str>) -> anyhow::Result<bool> {
        let Some(name) = name else { return Ok(false) };
        let mut tx = self.service.store().begin().await?;
        let team = tx.team(TEAM).await?;
        let member = tx.member(&team, &name.to_lowercase()).await?;
        tx.rollback().await?;
        Ok(member.is_some())
    }

    fn message_event(&mut self, name: &str, coach: bool, text: &str) -> Event {
        self.count += 1;
        let at = self.now();
        Event::Message(Message {
            id: format!("t{}-{}", at.timestamp_millis(), self.count),
            team: TEAM.to_owned(),
            channel: CHANNEL.to_owned(),
            author: name.to_lowercase(),
            name: name.to_owned(),
            coach,
            at,
            // A line holds one message: a written-out break stands for a real one.
            text: text.replace("\\n", "\n"),
        })
    }

    async fn press(&mut self, place: usize) -> anyhow::Result<()> {
        let pressed = self.buttons.as_ref().and_then(|reply| {
            let button = reply.buttons.get(place)?;
            Some(Press {
                id: None,
                reply: reply.id.clone(),
                team: TEAM.to_owned(),
                author: self.speaker.to_lowercase(),
                button: button.id.clone(),
                at: self.now(),
            })
        });
        match pressed {
            Some(press) => self.send(&Event::Press(press), false).await,
            None => self.print(
                "There is no such button. `!1` presses the first of the last ones shown.",
                false,
            ),
        }
    }

    /// The speaker's last message gets a new text, or goes.
    async fn change(&mut self, text: Option<&str>) -> anyhow::Result<()> {
        let Some(id) = self.last.get(&self.speaker).cloned() else {
            return self.print("There is no message of yours in this window yet. Post one first, like `bench 60x10, 2 left`.", false);
        };
        let (team, at) = (TEAM.to_owned(), self.now());
        let event = match text {
            Some(text) => Event::Edit(Edit {
                id,
                team,
                at,
                text: text.to_owned(),
            }),
            None => Event::Delete(Delete { id, team, at }),
        };
        self.send(&event, false).await
    }

    /// Moves the hand-wound clock on; whatever is due by then happens on the way.
    async fn wind(&mut self, seconds: u32) -> anyhow::Result<()> {
        let Some(clock) = self.clock else {
            return self.print(
                "The clock is the real one here. To move it by hand, start with `--at 18:00`.",
                false,
            );
        };
        let until = clock + TimeDelta::seconds(i64::from(seconds));
        let mut before = None;
        loop {
            let next = self.service.store().next_due(Some(TEAM)).await?;
            // What did not go away is held by another process.
            let Some(due) = next.filter(|&due| due <= until && next != before) else {
                break;
            };
            before = next;
            self.clock = Some(due.max(clock));
            let event = Event::Clock(Clock {
                team: Some(TEAM.to_owned()),
                at: self.now(),
            });
            self.send(&event, false).await?;
        }
        self.clock = Some(until);
        Ok(())
    }

    /// Carries an event out and prints what comes of it.
    async fn send(&mut self, event: &Event, ringing: bool) -> anyhow::Result<()> {
        let mut event = event.clone();
        if let Err(fault) = admit(&mut event) {
            return self.print(&format!("Not logged: {fault}."), ringing);
        }
        let mut out = match jobs::one(self.service, &event).await {
            Ok(out) => out,
            Err(fault) => return self.print(&format!("Not logged: {fault}"), ringing),
        };
        let pictures = self.pictures(&out).await;
        self.options.gallery.hang(&mut out).await;
        let mut text = String::new();
        for (one, picture) in out.iter().zip(&pictures) {
            let shown = shown(one, self.colour);
            for part in [&shown, picture] {
                if !part.is_empty() && !text.is_empty() {
                    text.push('\n');
                }
                text.push_str(part);
            }
            if let Outgoing::Reply(reply) | Outgoing::Update(reply) = one {
                self.keep_buttons(reply);
            }
        }
        let rings = out
            .iter()
            .any(|one| matches!(one, Outgoing::Reply(r) if !r.mentions.is_empty()));
        if rings && self.terminal {
            text.push('\u{7}');
        }
        if text.is_empty() {
            Ok(())
        } else {
            self.print(&text, ringing)
        }
    }

    /// The pictures of each, as the terminal takes them; nothing where it takes none.
    async fn pictures(&self, out: &[Outgoing]) -> Vec<String> {
        let mut pictures = vec![String::new(); out.len()];
        let Some(room_px) = self.sixels else {
            return pictures;
        };
        for (one, picture) in out.iter().zip(&mut pictures) {
            let (Outgoing::Reply(reply) | Outgoing::Update(reply)) = one else {
                continue;
            };
            for figure in reply.files.iter().filter_map(|file| file.figure.clone()) {
                match gallery::drawn_inline(figure, room_px).await {
                    Ok(drawn) => picture.push_str(&drawn),
                    Err(fault) => tracing::warn!(%fault, "a picture is not shown"),
                }
            }
        }
        pictures
    }

    fn keep_buttons(&mut self, reply: &Reply) {
        if !reply.buttons.is_empty() {
            self.buttons = Some(reply.clone());
        }
    }

    /// Prints, above the line that is being typed if `over_prompt`.
    fn print(&mut self, text: &str, over_prompt: bool) -> anyhow::Result<()> {
        match &mut self.printer {
            Some(printer) if over_prompt => printer.print(format!("{text}\n"))?,
            _ => {
                let mut output = std::io::stdout().lock();
                writeln!(output, "{text}")?;
                output.flush()?;
            }
        }
        Ok(())
    }
}

/// One outgoing thing as lines of text; empty for a message that was taken back.
pub fn shown(out: &Outgoing, colour: bool) -> String {
    let (Outgoing::Reply(reply) | Outgoing::Update(reply)) = out else {
        return told(out, colour);
    };
    let text = told(out, colour);
    if text.is_empty() || reply.buttons.is_empty() {
        return text;
    }
    // A label is not broken.
    let label = |(n, button): (usize, &Button)| {
        let label = button.label.replace(' ', "\u{a0}");
        format!("!{}\u{a0}{label}", n + 1)
    };
    let labels: Vec<_> = reply.buttons.iter().enumerate().map(label).collect();
    let line = wrapped(&format!("[{}]", labels.join(" | ")), COLUMNS);
    let line = line.replace('\u{a0}', " ").replace('\n', "\n  ");
    format!("{text}\n{}", dim(format!("  {line}"), colour))
}

/// Columns of text beside the indentation: what a terminal of 80 shows.
const COLUMNS: usize = 78;

/// The same without buttons.
pub fn told(out: &Outgoing, colour: bool) -> String {
    match out {
        Outgoing::Mark(mark) => dim(format!("  ({})", sign(mark.sign)), colour),
        Outgoing::Reply(reply) | Outgoing::Update(reply) => {
            // A monospaced block needs no fence where everything is monospaced.
            let mut is_table = false;
            let lines = reply.text.lines().filter_map(|line| {
                let fence = line == "```";
                is_table ^= fence;
                let line = match is_table {
                    true => line.to_owned(),
                    false => wrapped(line, COLUMNS).replace('\n', "\n  "),
                };
                (!fence).then_some(line)
            });
            let lines = for_one(reply).into_iter().chain(lines);
            let lines = lines.map(|line| format!("  {line}"));
            let files = reply.files.iter().filter_map(file_line);
            lines.chain(files).collect::<Vec<_>>().join(
                "
",
            )
        }
    }
}

/// Where a file lies; nothing of a picture that is not drawn.
fn file_line(file: &File) -> Option<String> {
    match (file.is_picture(), file.path.is_empty()) {
        (_, true) => None,
        (true, false) => Some(format!("  (picture: {})", file.path)),
        (false, false) => {
            let alt = file.alt.trim_end_matches('.');
            Some(format!("  {alt}: {}", file.path))
        }
    }
}

/// Says whom something is for, where it comes unasked and is for one member alone: in one window
/// that cannot be seen from where it stands.
fn for_one(reply: &Reply) -> Option<String> {
    let to = reply.to.as_deref()?;
    let unasked = reply.private && reply.answers.is_none() && !reply.text.is_empty();
    unasked.then(|| format!("(to {} alone)", shown_name(to)))
}

fn dim(text: String, colour: bool) -> String {
    if colour {
        format!("\u{1b}[2m{text}\u{1b}[0m")
    } else {
        text
    }
}

const fn sign(sign: Sign) -> &'static str {
    match sign {
        Sign::Filed => "filed",
        Sign::Corrected => "corrected",
        Sign::Removed => "taken out",
        Sign::Question => "one question",
    }
}

#[cfg(test)]
mod tests;
