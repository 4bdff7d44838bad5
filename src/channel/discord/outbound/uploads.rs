//! Files that go with a message.

use super::body::Body;
use super::escape::cut;
use crate::bot::reply::Reply;
use crate::bot::text::team_channel as words;
use crate::channel::discord::http::{RestError, Upload};
use crate::channel::discord::limits;
use crate::channel::gallery::drawn;

/// A message and the files that it speaks of, in the same order.
#[derive(Debug)]
pub(crate) struct Attached {
    pub(crate) body: Body,
    pub(crate) files: Vec<Upload>,
}

/// The message with those of its files that can be had: drawn, or read from where they lie. No two
/// have the same name.
pub(crate) async fn attach(body: &Body, reply: &Reply) -> Attached {
    let mut body = body.clone();
    let mut files: Vec<Upload> = Vec::new();
    if body.files.is_empty() {
        return Attached { body, files };
    }
    body.files.clear();
    for file in reply.files.iter().take(limits::FILES) {
        let bytes = match file.figure.clone() {
            Some(figure) => drawn(figure).await.ok().map(|picture| picture.png),
            None => {
                let path = file.path.clone();
                let reading = tokio::task::spawn_blocking(move || std::fs::read(path));
                reading.await.ok().and_then(Result::ok)
            }
        };
        let Some(bytes) = bytes else {
            tracing::warn!("a file of a reply cannot be had and is left out");
            continue;
        };
        let mut name = file.name.clone();
        if files.iter().any(|other| other.name == name) {
            name = format!("{}-{name}", files.len() + 1);
        }
        let alt = cut(&file.alt, limits::ALT_TEXT);
        body.files.push((name.clone(), alt));
        files.push(Upload { name, bytes });
    }
    Attached { body, files }
}

/// Whether a message may be refused because of its files. Without them it is tried once more.
pub(crate) const fn is_refused(error: &RestError) -> bool {
    match error {
        RestError::Refused { status, code, .. } => {
            matches!(*status, 400 | 403 | 413 | 415 | 422)
                && !matches!(*code, 50_001 | 50_007 | 40_060)
        }
        _ => false,
    }
}

/// The message without its files, and why they are missing.
pub(crate) fn without(body: &Body, error: &RestError) -> Body {
    let why = match (error.status(), error.code()) {
        (413, _) | (_, TOO_LARGE) => words::FILE_TOO_LARGE,
        (_, 50_013) => words::FILE_NOT_ALLOWED,
        _ => words::FILE_REFUSED,
    };
    let room = limits::CONTENT - why.chars().count() - 1;
    Body {
        content: format!("{}\n{why}", cut(&body.content, room)),
        files: Vec::new(),
        ..body.clone()
    }
}

/// Request entity too large. *topics/opcodes-and-status-codes#json-json-error-codes*.
const TOO_LARGE: u64 = 40_005;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bot::reply::File;
    use crate::channel::discord::outbound::body::of_reply;

    #[tokio::test]
    async fn files_that_can_be_had_are_spoken_of_in_their_order_and_none_is_called_as_another() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.csv");
        std::fs::write(&path, "x").expect("written");
        let file = |path: &std::path::Path, alt: &str| File {
            name: "log.csv".to_owned(),
            path: path.display().to_string(),
            alt: alt.to_owned(),
            ..File::default()
        };
        let reply = Reply {
            text: "your log".to_owned(),
            files: vec![
                file(&path, "one"),
                file(&folder.path().join("none"), "two"),
                file(&path, "three"),
            ],
            ..Reply::default()
        };
        let attached = attach(&of_reply(&reply)[0], &reply).await;
        let spoken: Vec<_> = attached.body.files.iter().map(|(name, _)| name).collect();
        assert_eq!(spoken, ["log.csv", "2-log.csv"]);
        assert!(attached.files.iter().map(|file| &file.name).eq(spoken));
        assert_eq!(attached.body.files[1].1, "three");
    }

    #[test]
    fn a_long_text_without_its_files_still_fits() {
        let reply = Reply {
            text: "a word ".repeat(280),
            ..Reply::default()
        };
        let error = RestError::Refused {
            status: 413,
            code: TOO_LARGE,
            message: String::new(),
            fields: Vec::new(),
        };
        let body = without(&of_reply(&reply)[0], &error);
        assert!(body.content.chars().count() <= limits::CONTENT);
        assert!(body.content.contains(words::FILE_TOO_LARGE));
    }
}
