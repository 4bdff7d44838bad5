//! What goes out, a JSON object a line.

use std::io;

use chrono::{DateTime, Utc};
use serde::Serialize;
use tokio::io::{AsyncWrite, AsyncWriteExt as _};
use tokio::sync::Mutex;

use super::read::BadLine;
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::service::ServiceError;

/// What goes out beside the bot's own messages.
#[derive(Serialize)]
#[serde(tag = "type", rename_all = "snake_case")]
enum Note<'a> {
    Error {
        line: u64,
        message: &'a str,
    },
    Done {
        id: Option<&'a str>,
        at: Option<DateTime<Utc>>,
    },
}

/// Where everything goes out: what comes of one line is never put between what comes of another.
pub(super) struct Output<W>(pub(super) Mutex<W>);

impl<W: AsyncWrite + Unpin> Output<W> {
    pub(super) async fn put_out(&self, bytes: &[u8]) -> io::Result<()> {
        let mut output = self.0.lock().await;
        output.write_all(bytes).await?;
        output.flush().await
    }
}

pub(super) fn put_fault(output: &mut Vec<u8>, line: u64, fault: &BadLine) -> io::Result<()> {
    let message = &fault.message;
    put(output, &Note::Error { line, message })?;
    let (id, at) = (fault.id.as_deref(), fault.at);
    put(output, &Note::Done { id, at })
}

pub(super) fn put_answers(
    output: &mut Vec<u8>,
    line: u64,
    event: &Event,
    answers: Result<Vec<Outgoing>, ServiceError>,
) -> io::Result<()> {
    match answers {
        Ok(answers) => {
            for answer in &answers {
                put(output, &answer.for_programs())?;
            }
        }
        Err(error) => {
            let message = &error.to_string();
            put(output, &Note::Error { line, message })?;
        }
    }
    let (id, at) = (event.id(), Some(event.at()));
    put(output, &Note::Done { id, at })
}

pub(super) fn put(output: &mut Vec<u8>, note: &impl Serialize) -> io::Result<()> {
    serde_json::to_writer(&mut *output, note)?;
    output.push(b'\n');
    Ok(())
}
