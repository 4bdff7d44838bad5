//! `chalkbell train`: labelled messages in, the weights of the reader's learned decisions out.
//!
//! A tool for whoever changes the reader; no member or operator needs it.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, bail};
use serde::Deserialize;
use serde::de::DeserializeOwned;

use crate::config;
use crate::domain::quantities::mass::Unit;
use crate::domain::quantities::rack::usual_bar;
use crate::domain::quantities::warning::WarningSign;
use crate::message::intent::carry_on::training::{
    self as carry_on, ALL, Conversation, Does, Line, Part as Fixed,
};
use crate::message::intent::carry_on::{Basis, CarryOn};
use crate::message::intent::pain::training::{self, Labelled, Want, Weights};
use crate::message::intent::report;
use crate::message::intent::talk::{self, Topic};
use crate::message::reading::Kind;
use crate::message::{Context as Reading, NameIndex, Reader};

/// Chat and sets that were labelled for other ends are how a channel mostly sounds, and few beside the reports.
const OTHER_WEIGHT: f32 = 5.0;

/// A line of `tests/data/pain/*.jsonl`, or of the reader's other labelled messages.
#[derive(Deserialize)]
struct Row {
    text: String,
    want: Option<String>,
    sign: Option<String>,
    topic: Option<String>,
    expect: Option<Expect>,
}

/// Of a reading only what is learned from.
#[derive(Deserialize)]
struct Expect {
    kind: String,
    urgent: Option<bool>,
    needs: Option<Vec<String>>,
    sets: Option<Vec<serde_json::Value>>,
}

/// A line of labelled messages that report sets or do not.
#[derive(Deserialize)]
struct ReportRow {
    text: String,
    /// What it is read as.
    expect: Option<Expect>,
    /// `sets`, `ask` or `chatter`; of chat `none`, of questions to the bot what they get.
    want: Option<String>,
    /// A question is as good an answer as silence.
    #[serde(default)]
    ok_ask: bool,
    /// Its sets, where it is labelled by them alone.
    sets: Option<Vec<serde_json::Value>>,
    /// It goes on from a message before.
    #[serde(default)]
    needs_previous: bool,
}

impl ReportRow {
    /// Whether it reports sets; `None` where that is open, or hangs on what was said before.
    fn reports(&self) -> Option<bool> {
        if self.needs_previous {
            return None;
        }
        if let Some(expect) = &self.expect {
            let needs = expect.needs.iter().flatten();
            let asked = expect.kind == "unclear" && needs.into_iter().any(|need| need != "hurt");
            return Some(asked || expect.sets.as_ref().is_some_and(|sets| !sets.is_empty()));
        }
        match self.want.as_deref() {
            Some("sets") => Some(true),
            Some("ask") => None,
            Some("chatter") if self.ok_ask => None,
            Some(_) => Some(false),
            // Holds are no sets as yet.
            None => self.sets.as_ref().and_then(|sets| {
                let counted = |set: &serde_json::Value| !set["reps"].is_null();
                sets.iter().all(counted).then_some(true)
            }),
        }
    }
}

/// A message that is labelled by what it is, or the first of a conversation.
#[derive(Deserialize)]
#[serde(untagged)]
enum ReportLine {
    Conversation {
        lines: Vec<TalkLine>,
    },
    Lesson {
        before: Vec<Vec<serde_json::Value>>,
        #[serde(flatten)]
        line: TalkLine,
    },
    Message(ReportRow),
}

impl ReportLine {
    /// Its messages that report sets, or none, whatever was said before.
    fn labels(self) -> Vec<(String, bool)> {
        let (lines, begins) = match self {
            Self::Message(row) => {
                let label = row.reports().map(|reports| (row.text, reports));
                return label.into_iter().collect();
            }
            Self::Conversation { lines } => (lines, true),
            Self::Lesson { before, line } => (vec![line], before.is_empty()),
        };
        let done = |does: &Vec<serde_json::Value>| does.first().is_some_and(|does| does == "set");
        let label = |(at, line): (usize, TalkLine)| {
            let reports = match line.does.as_slice() {
                [] => false,
                does if begins && at == 0 && does.iter().all(done) => true,
                _ => return None,
            };
            Some((line.text, reports))
        };
        lines.into_iter().enumerate().filter_map(label).collect()
    }
}

/// Hands each line of `files` to `take`, with its file; a fault names the line.
fn each_row<T: DeserializeOwned>(
    files: &[PathBuf],
    mut take: impl FnMut(&Path, T) -> anyhow::Result<()>,
) -> anyhow::Result<()> {
    for file in files {
        let text = fs::read_to_string(file).with_context(|| file.display().to_string())?;
        for (at, line) in text.lines().enumerate() {
            let place = || format!("{}:{}", file.display(), at + 1);
            let row = serde_json::from_str(line).with_context(place)?;
            take(file, row).with_context(place)?;
        }
    }
    Ok(())
}

/// Reads messages from `files` that are labelled by whether they report sets.
///
/// # Errors
/// When a file cannot be read, or a line is not labelled.
pub fn labelled_reports(files: &[PathBuf]) -> anyhow::Result<Vec<report::Labelled>> {
    let mut all = Vec::new();
    each_row(files, |_, line: ReportLine| {
        let labels = line.labels().into_iter();
        all.extend(labels.map(|(text, reports)| report::Labelled {
            text: text.replace("\\n", "\n"),
            reports,
        }));
        Ok(())
    })?;
    Ok(all)
}

/// Learns from `files` and writes `report.weights` into `folder`.
///
/// # Errors
/// When a file cannot be read or written.
pub fn train_reports(files: &[PathBuf], folder: &Path) -> anyhow::Result<()> {
    let names = NameIndex::new(&config::built_in());
    let weights = report::train(&labelled_reports(files)?, &names);
    let file = folder.join("report.weights");
    fs::write(&file, weights).with_context(|| file.display().to_string())
}

/// Reads labelled messages from `files`; a file's name is its author's.
///
/// # Errors
/// When a file cannot be read, or a line in it is not as described in `tests/data/pain/README.md`.
pub fn labelled(files: &[PathBuf]) -> anyhow::Result<Vec<Labelled>> {
    let mut all = Vec::new();
    each_row(files, |file, row: Row| {
        let author = file.file_stem().unwrap_or_default().to_string_lossy();
        let (want, weight) = want(&row)?;
        all.push(Labelled {
            author: author.to_string(),
            text: row.text.replace("\\n", "\n"),
            want,
            weight,
        });
        Ok(())
    })?;
    Ok(all)
}

fn want(row: &Row) -> anyhow::Result<(Want, f32)> {
    if let Some(expect) = &row.expect {
        let want = match (expect.kind.as_str(), expect.urgent) {
            ("hurt", Some(true)) => Want::Urgent(None),
            ("hurt", _) => Want::Hurt,
            _ => Want::Nothing,
        };
        return Ok((want, OTHER_WEIGHT));
    }
    let want = match row.want.as_deref() {
        // What only reports sets, or nothing, reports no pain.
        Some("none" | "sets" | "chatter") => Want::Nothing,
        Some("hurt") => Want::Hurt,
        Some("urgent") => Want::Urgent(row.sign.as_deref().and_then(|word| sign(word, &row.text))),
        _ => bail!("`want` is missing; write none, hurt or urgent"),
    };
    Ok((want, 1.0))
}

/// The sign of a label; the labels tell head from neck by the text, and call a limb `numb`.
fn sign(word: &str, text: &str) -> Option<WarningSign> {
    match word {
        "head_neck" if text.to_lowercase().contains("neck") => Some(WarningSign::Neck),
        "head_neck" => Some(WarningSign::Head),
        "numb" => Some(WarningSign::Limb),
        word => WarningSign::from_word(word),
    }
}

/// Learns from `files` and writes `pain.weights` and `pain_signs.weights` into `folder`; with the file of
/// public vectors of words also `pain.net`.
///
/// # Errors
/// When a file cannot be read or written.
pub fn train(
    files: &[PathBuf],
    words: Option<&Path>,
    folder: &Path,
    judge: &[PathBuf],
) -> anyhow::Result<()> {
    let names = NameIndex::new(&config::built_in());
    if files.is_empty() {
        let read = |name: &str| {
            let file = folder.join(name);
            fs::read_to_string(&file).with_context(|| file.display().to_string())
        };
        let weights = Weights {
            report: read("pain.weights")?,
            sign: read("pain_signs.weights")?,
            net: read("pain.net")?,
        };
        return judged_pain(&labelled(judge)?, &weights, &names);
    }
    let vectors = match words {
        Some(file) => fs::read_to_string(file).with_context(|| file.display().to_string())?,
        None => String::new(),
    };
    let weights = training::train(&labelled(files)?, &names, &vectors);
    if !judge.is_empty() {
        return judged_pain(&labelled(judge)?, &weights, &names);
    }
    let Weights { report, sign, net } = weights;
    for (name, text) in [
        ("pain.weights", report),
        ("pain_signs.weights", sign),
        ("pain.net", net),
    ] {
        if text.is_empty() {
            continue;
        }
        let file = folder.join(name);
        fs::write(&file, text).with_context(|| file.display().to_string())?;
    }
    Ok(())
}

/// Prints how each message is decided.
fn judged_pain(rows: &[Labelled], weights: &Weights, names: &NameIndex) -> anyhow::Result<()> {
    let mut out = std::io::stdout().lock();
    let decided = training::decided(rows, weights, names);
    for (row, decided) in rows.iter().zip(decided) {
        let want = match row.want {
            Want::Nothing => "none",
            Want::Hurt => "hurt",
            Want::Urgent(_) => "urgent",
        };
        let text = row.text.replace('\n', " ");
        writeln!(out, "{} {decided} {want} {text}", row.author)?;
    }
    Ok(())
}

/// What a line says of questions to the bot: a topic, chat, or nothing.
fn asks(row: &Row, reader: &Reader) -> anyhow::Result<Option<talk::Labelled>> {
    let text = row.text.replace("\\n", "\n");
    let topic = match row.topic.as_deref() {
        Some("chat") => None,
        Some(word) => match Topic::from_word(word) {
            Some(topic) => Some(topic),
            None => bail!("the topic `{word}` is unknown; `Topic::word` has the labels"),
        },
        // Labelled for another end: only what the reader holds to be chat is ever asked about.
        None => {
            let is_chat = row.want.as_deref() == Some("none")
                || row.expect.as_ref().is_some_and(|e| e.kind == "chatter");
            let reading = reader.read(&text, &Reading::alone(Unit::Kg));
            if !is_chat || reading.kind() != Kind::Chatter {
                return Ok(None);
            }
            None
        }
    };
    Ok(Some(talk::Labelled { text, topic }))
}

/// Prints how each message of `file` is decided.
fn judged(file: &Path, weights: &talk::Weights, reader: &Reader) -> anyhow::Result<()> {
    let text = fs::read_to_string(file).with_context(|| file.display().to_string())?;
    let mut out = std::io::stdout().lock();
    for line in text.lines() {
        let row: Row = serde_json::from_str(line)?;
        let decided = talk::decided(&row.text, weights, reader);
        let (likely, topic) = decided.unwrap_or_default();
        let topic = topic.map_or("-", Topic::word);
        let want = row.want.as_deref().or(row.topic.as_deref()).unwrap_or("-");
        writeln!(
            out,
            "{likely:.3} {topic} {want} {}",
            row.text.replace('\n', " ")
        )?;
    }
    Ok(())
}

/// Learns from `files` what asks the bot and writes `asks.weights` and `asks_about.weights` into
/// `folder`.
///
/// # Errors
/// When a file cannot be read or written, or a line has an unknown topic.
pub fn train_questions(files: &[PathBuf], folder: &Path, judge: &[PathBuf]) -> anyhow::Result<()> {
    let reader = Reader::new(config::built_in());
    let mut all = Vec::new();
    each_row(files, |_, row: Row| {
        all.extend(asks(&row, &reader)?);
        Ok(())
    })?;
    let weights = talk::train(&all, &reader);
    if !judge.is_empty() {
        let mut files = judge.iter();
        return files.try_for_each(|file| judged(file, &weights, &reader));
    }
    let talk::Weights { asks, topic } = weights;
    for (name, text) in [("asks.weights", asks), ("asks_about.weights", topic)] {
        let file = folder.join(name);
        fs::write(&file, text).with_context(|| file.display().to_string())?;
    }
    Ok(())
}

/// A line of `tests/data/conversations/`, or a line of chat.
#[derive(Deserialize)]
#[serde(untagged)]
enum TalkRow {
    Conversation {
        unit: String,
        lines: Vec<TalkLine>,
    },
    Lesson {
        unit: String,
        before: Vec<Vec<serde_json::Value>>,
        #[serde(flatten)]
        line: TalkLine,
    },
    First(FirstRow),
    Chat {
        text: String,
        want: String,
    },
}

/// A message that is labelled with what it is read as by itself.
#[derive(Deserialize)]
struct FirstRow {
    unit: String,
    text: String,
    #[serde(default)]
    thread: Option<String>,
    expect: Option<Expect>,
    want: Option<String>,
    sets: Option<Vec<serde_json::Value>>,
}

impl FirstRow {
    /// What it does to the log; `None` where that is open, or no label of conversations says it.
    fn line(self) -> Option<TalkLine> {
        let sets = match (self.want.as_deref(), self.expect) {
            (Some("sets"), _) => self.sets?,
            (Some("chatter"), _) => Vec::new(),
            (None, Some(expect)) if self.thread.is_none() => match expect.kind.as_str() {
                "sets" => expect.sets?,
                "unclear" => return None,
                _ => Vec::new(),
            },
            _ => return None,
        };
        let name = |set: &serde_json::Value| match &set["exercise"] {
            serde_json::Value::Array(names) => names.first().cloned(),
            name => Some(name.clone()),
        };
        let does = |set: &serde_json::Value| {
            let basis = match set["basis"].as_str()? {
                "per_hand" => "each",
                "assisted" => "assist",
                basis @ ("total" | "added" | "body") => basis,
                _ => return None,
            };
            let unit = set["unit"].as_str();
            let same = unit.is_none_or(|unit| unit == self.unit);
            let first = sets.first().map(name) == Some(name(set));
            (same && first && !set["reps"].is_null()).then_some(())?;
            let [load, reps, rir] = ["load", "reps", "rir"].map(|part| set[part].clone());
            Some(vec![
                "set".into(),
                name(set)?,
                load,
                basis.into(),
                reps,
                rir,
            ])
        };
        Some(TalkLine {
            does: sets.iter().map(does).collect::<Option<_>>()?,
            text: self.text.replace("\\n", "\n"),
        })
    }
}

/// How much a line of chat counts beside a message of a conversation. Chosen on held-out authors.
const CHAT_WEIGHT: f32 = 0.25;

/// The same of a message that is labelled by itself.
const FIRST_WEIGHT: f32 = 0.4;

/// Longer chat without a number is like nothing that is said of sets.
const FEW_WORDS: usize = 4;

#[derive(Deserialize)]
struct TalkLine {
    text: String,
    does: Vec<Vec<serde_json::Value>>,
}

/// Reads conversations from `files`.
///
/// # Errors
/// When a file cannot be read, or a line in it is not as described in `tests/data/conversations/README.md`.
pub fn conversations(files: &[PathBuf]) -> anyhow::Result<Vec<Conversation>> {
    let mut all: Vec<Conversation> = Vec::new();
    each_row(files, |_, row: TalkRow| {
        let mut weight = 1.0;
        let (unit, lines) = match row {
            TalkRow::Conversation { unit, lines } => (unit, lines),
            TalkRow::Lesson { unit, before, line } => {
                let told = TalkLine {
                    text: String::new(),
                    does: before,
                };
                (unit, vec![told, line])
            }
            TalkRow::First(row) => {
                let unit = row.unit.clone();
                weight = FIRST_WEIGHT;
                match row.line() {
                    // Chat is chat behind a set, too.
                    Some(line) if line.does.is_empty() => {
                        all.extend(chat(&all, &line.text, "none"));
                        (unit, vec![line])
                    }
                    Some(line) => (unit, vec![line]),
                    None => return Ok(()),
                }
            }
            TalkRow::Chat { text, want } => {
                all.extend(chat(&all, &text, &want));
                return Ok(());
            }
        };
        let lines = lines.into_iter().map(|line| {
            let does = line.does.iter().map(|does| deed(does));
            Some(Line {
                does: does.collect::<Option<_>>()?,
                text: line.text,
            })
        });
        let lines: Option<Vec<Line>> = lines.collect();
        let unit = Unit::from_symbol(&unit).context("write kg or lb")?;
        all.push(Conversation {
            bar: usual_bar(unit),
            weight,
            lines: lines.context("a label is not known")?,
        });
        Ok(())
    })?;
    Ok(all)
}

/// A line of chat behind the first set of one of the conversations before, each in turn.
fn chat(before: &[Conversation], text: &str, want: &str) -> Option<Conversation> {
    let text = text.replace("\\n", "\n");
    let numbered = text.contains(|c: char| c.is_ascii_digit());
    let short = text.split_whitespace().count() <= FEW_WORDS;
    (want == "none" && (numbered || short)).then_some(())?;
    let first = before.get(text.len() * 13 % before.len().max(1))?;
    let line = Line {
        text,
        does: Vec::new(),
    };
    Some(Conversation {
        bar: first.bar,
        weight: CHAT_WEIGHT,
        lines: vec![first.lines.first()?.clone(), line],
    })
}

/// A label: `["set", "bench press", 60, "total", 8, 1]`.
fn deed(label: &[serde_json::Value]) -> Option<Does> {
    let text = |at: usize| label.get(at)?.as_str().map(str::to_owned);
    let number = |at: usize| label.get(at).and_then(serde_json::Value::as_f64);
    let basis = |at: usize| match text(at).as_deref() {
        Some("each") => Basis::Hand,
        Some("added") => Basis::Hung,
        Some("assist") => Basis::Helped,
        Some("body") => Basis::Body,
        Some("pin") => Basis::Pin,
        _ => Basis::Total,
    };
    let which = || match label.get(1)? {
        serde_json::Value::Array(list) => list.iter().map(serde_json::Value::as_i64).collect(),
        serde_json::Value::Number(one) => Some(vec![one.as_i64()?]),
        _ => Some(vec![ALL]),
    };
    Some(match label.first()?.as_str()? {
        kind @ ("set" | "hold") => Does::Set {
            exercise: text(1)?,
            load: number(2),
            basis: basis(3),
            count: number(4)?,
            held: kind == "hold",
            rir: number(5),
        },
        "load" => Does::Load(text(1)?, number(2), basis(3)),
        "exercise" => Does::Exercise(text(1)?),
        "effort" => Does::Effort(which()?, number(2)),
        "delete" => Does::Delete(which()?),
        "fix" => {
            let part = match text(2)?.as_str() {
                "reps" | "seconds" => Fixed::Count,
                "load" => Fixed::Load,
                "rir" => Fixed::Left,
                _ => Fixed::Other,
            };
            Does::Fix(which()?, part, number(3))
        }
        _ => return None,
    })
}

/// Learns from `files` and writes `carry_on.weights` into `folder`; with files to judge prints instead how these are read.
///
/// # Errors
/// When a file cannot be read or written.
pub fn train_conversations(
    files: &[PathBuf],
    folder: &Path,
    judge: &[PathBuf],
) -> anyhow::Result<()> {
    let reader = Reader::new(config::built_in());
    let file = folder.join("carry_on.weights");
    if judge.is_empty() || !files.is_empty() {
        let weights = carry_on::train(&conversations(files)?, &reader);
        if judge.is_empty() {
            return fs::write(&file, weights).with_context(|| file.display().to_string());
        }
        return judge_conversations(&weights, judge, &reader);
    }
    let weights = fs::read_to_string(&file).with_context(|| file.display().to_string())?;
    judge_conversations(&weights, judge, &reader)
}

/// Prints how sure each reading is, whether it is right, and the message.
fn judge_conversations(weights: &str, files: &[PathBuf], reader: &Reader) -> anyhow::Result<()> {
    let weights = CarryOn::new(weights);
    let mut out = std::io::stdout().lock();
    for conversation in conversations(files)? {
        for (line, read, verdict) in carry_on::judge(&conversation, &weights, reader) {
            let sure = read.as_ref().map_or(0.0, |read| read.sure);
            let told = read.map(|read| read.told);
            writeln!(
                out,
                "{verdict:?}\t{sure:.2}\t{}\t{told:?}\t{:?}",
                line.text, line.does
            )?;
        }
    }
    Ok(())
}
