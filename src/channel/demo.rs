//! A week of an invented rowing club, played through the very same service.
//!
//! The script stands in `config/demo.txt`. Bells ring on the way at the minute they are due, and at
//! the end the week's digest comes. Pictures are put into a folder, and told in words below.

use std::collections::BTreeMap;
use std::io::Write;

use anyhow::Context as _;
use chrono::{DateTime, Duration, NaiveDate, NaiveTime, TimeZone, Utc, Weekday};
use chrono_tz::Tz;

use super::gallery::Gallery;
use super::local::{shown, told};
use crate::bot::event::{Clock, Delete, Edit, Event, Message, Press};
use crate::bot::reply::{File, Outgoing, Reply};
use crate::jobs;
use crate::service::{Bot, Service};

const SCRIPT: &str = include_str!("../../config/demo.txt");
const TEAM: &str = "rowing-club";
const CHANNEL: &str = "winter-strength";
const COACH: &str = "Adair";
const ZONE: Tz = chrono_tz::Europe::Berlin;

/// Plays the week, puts its pictures into the gallery, and prints it.
///
/// # Errors
/// When the script or the database is broken, or the output cannot be written.
pub async fn play(
    service: &Service<Bot>,
    gallery: &Gallery,
    output: &mut impl Write,
    colour: bool,
) -> anyhow::Result<()> {
    let mut stage = Stage {
        service,
        gallery,
        output,
        colour,
        said: BTreeMap::new(),
        replies: Vec::new(),
    };
    let mut steps = Vec::new();
    for (number, line) in SCRIPT.lines().enumerate() {
        if !line.is_empty() && !line.starts_with('#') {
            let step = step(line).with_context(|| format!("line {} of the demo", number + 1))?;
            steps.push((number, step));
        }
    }
    // The script tells one member's session after another; they happen side by side.
    steps.sort_by_key(|(_, step)| step.at);
    for (number, step) in &steps {
        stage.play(*number, step).await?;
    }
    stage
        .ring_until(instant(Weekday::Sun, NaiveTime::MIN)? + Duration::days(1))
        .await
}

/// One line of the script.
struct Step<'a> {
    at: DateTime<Utc>,
    name: &'a str,
    action: Action<'a>,
}

enum Action<'a> {
    Say(&'a str),
    Edit(&'a str),
    Delete,
    Press(&'a str),
}

fn step(line: &str) -> anyhow::Result<Step<'_>> {
    let mut parts = line.splitn(3, ' ');
    let mut next = || parts.next().context("too short");
    let day: Weekday = next()?.parse().map_err(|_| anyhow::anyhow!("no weekday"))?;
    let time = NaiveTime::parse_from_str(next()?, "%H:%M")?;
    let rest = next()?;
    let cut = rest.find([':', '>']).context("no name")?;
    let (name, said) = (&rest[..cut], rest[cut + 1..].trim());
    let action = if rest[cut..].starts_with(':') {
        Action::Say(said)
    } else if said == "delete" {
        Action::Delete
    } else if let Some(text) = said.strip_prefix("edit ") {
        Action::Edit(text)
    } else {
        Action::Press(said.strip_prefix("press ").context("no such action")?)
    };
    Ok(Step {
        at: instant(day, time)?,
        name,
        action,
    })
}

/// The week of Monday 16 November 2026.
fn instant(day: Weekday, time: NaiveTime) -> anyhow::Result<DateTime<Utc>> {
    let monday = NaiveDate::from_ymd_opt(2026, 11, 16).context("a date")?;
    let date = monday + Duration::days(i64::from(day.num_days_from_monday()));
    let local = ZONE
        .from_local_datetime(&date.and_time(time))
        .single()
        .context("a local time")?;
    Ok(local.with_timezone(&Utc))
}

struct Stage<'a, W> {
    service: &'a Service<Bot>,
    gallery: &'a Gallery,
    output: &'a mut W,
    colour: bool,
    /// Each member's last message.
    said: BTreeMap<String, String>,
    /// Replies with buttons, latest last.
    replies: Vec<Reply>,
}

impl<W: Write> Stage<'_, W> {
    async fn play(&mut self, number: usize, step: &Step<'_>) -> anyhow::Result<()> {
        self.ring_until(step.at).await?;
        let event = self.event(number, step)?;
        let (what, text) = match step.action {
            Action::Say(text) => (":", text),
            Action::Edit(text) => (" edits:", text),
            Action::Delete => (" deletes the last message", ""),
            Action::Press(label) => (" presses", label),
        };
        writeln!(
            self.output,
            "\n{} {}{what} {text}",
            stamp(step.at),
            step.name
        )?;
        self.send(&event).await
    }

    fn event(&mut self, number: usize, step: &Step<'_>) -> anyhow::Result<Event> {
        let author = step.name.to_lowercase();
        let (team, at) = (TEAM.to_owned(), step.at);
        let last = self.said.get(&author).cloned();
        Ok(match step.action {
            Action::Say(text) => {
                let id = format!("demo-{number}");
                self.said.insert(author.clone(), id.clone());
                Event::Message(Message {
                    id,
                    team,
                    channel: CHANNEL.to_owned(),
                    author,
                    name: step.name.to_owned(),
                    coach: step.name == COACH,
                    at,
                    text: text.to_owned(),
                })
            }
            Action::Edit(text) => {
                let id = last.context("nothing to edit")?;
                Event::Edit(Edit {
                    id,
                    team,
                    at,
                    text: text.to_owned(),
                })
            }
            Action::Delete => Event::Delete(Delete {
                id: last.context("nothing to delete")?,
                team,
                at,
            }),
            Action::Press(label) => {
                let theirs = self
                    .replies
                    .iter()
                    .rev()
                    .filter(|r| r.to.as_ref() == Some(&author));
                let found = theirs.flat_map(|r| r.buttons.iter().map(move |b| (r, b)));
                let (reply, button) = found
                    .into_iter()
                    .find(|(_, b)| b.label == label)
                    .context("no such button")?;
                let (reply, button) = (reply.id.clone(), button.id.clone());
                Event::Press(Press {
                    id: None,
                    reply,
                    team,
                    author,
                    button,
                    at,
                })
            }
        })
    }

    async fn next_due(&self) -> anyhow::Result<Option<DateTime<Utc>>> {
        Ok(self.service.store().next_due(Some(TEAM)).await?)
    }

    /// Lets everything happen that is due before `until`.
    async fn ring_until(&mut self, until: DateTime<Utc>) -> anyhow::Result<()> {
        while let Some(due) = self.next_due().await?.filter(|&due| due < until) {
            writeln!(self.output, "\n{} (time passes)", stamp(due))?;
            self.send(&Event::Clock(Clock {
                team: Some(TEAM.to_owned()),
                at: due,
            }))
            .await?;
        }
        Ok(())
    }

    async fn send(&mut self, event: &Event) -> anyhow::Result<()> {
        let mut out = jobs::one(self.service, event).await?;
        self.gallery.hang(&mut out).await;
        for one in out {
            // The buttons of cards are always the same; those of a question are its answers.
            let card =
                matches!(&one, Outgoing::Reply(r) | Outgoing::Update(r) if r.advice.is_some());
            let text = if card {
                told(&one, self.colour)
            } else {
                shown(&one, self.colour)
            };
            if !text.is_empty() {
                writeln!(self.output, "{text}")?;
            }
            if let Outgoing::Reply(reply) | Outgoing::Update(reply) = one {
                self.tell_pictures(&reply.files)?;
                if !reply.buttons.is_empty() {
                    self.replies.push(reply);
                }
            }
        }
        Ok(())
    }

    /// What the pictures say, for whoever does not open them.
    fn tell_pictures(&mut self, files: &[File]) -> anyhow::Result<()> {
        for file in files.iter().filter(|file| file.is_picture()) {
            writeln!(self.output, "  (it shows: {})", file.alt)?;
        }
        Ok(())
    }
}

fn stamp(at: DateTime<Utc>) -> String {
    at.with_timezone(&ZONE).format("%a %H:%M").to_string()
}
