//! Bodies as they come: JSON, or a form with files. A form is refused where the platform refuses it.
//!
//! *reference#uploading-files* of the platform's documentation: each file is a part with a unique
//! name `files[n]` and a file name; `n` is the number by which `attachments` speaks of it; the limit
//! of size is for all files of a request together.

use std::collections::BTreeMap;

use serde_json::{Value, json};

/// The most that all files of a request may weigh in a community without boosts, bytes.
/// *interactions/receiving-and-responding*: `attachment_size_limit`.
pub const UPLOAD_LIMIT: usize = 10 * 1024 * 1024;

/// A body.
pub struct Form {
    /// Its JSON; `__uploaded` in the message tells how many files came with it.
    pub body: Value,
    /// Why it is refused.
    pub fault: Option<Fault>,
}

/// Why a body is refused.
pub struct Fault {
    pub status: u16,
    pub code: u64,
    pub why: String,
    /// It is not merely too large: whoever made it does not know the form.
    pub is_wrong: bool,
}

fn wrong(why: impl Into<String>) -> Fault {
    Fault {
        status: 400,
        code: 50_035,
        why: format!("Invalid Form Body: {}", why.into()),
        is_wrong: true,
    }
}

struct Part {
    name: String,
    file_name: Option<String>,
    bytes: Vec<u8>,
}

/// Reads a body of this content type.
pub fn read(kind: &str, bytes: &[u8], limit: usize) -> Form {
    let Some(boundary) = kind.strip_prefix("multipart/form-data; boundary=") else {
        let body = serde_json::from_slice(bytes).unwrap_or(Value::Null);
        return Form { body, fault: None };
    };
    let mut body = Value::Null;
    let mut fault = None;
    let mut files: BTreeMap<u64, Part> = BTreeMap::new();
    let mut weight = 0;
    for part in parts(bytes, boundary.trim_matches('"')) {
        if part.name == "payload_json" {
            body = serde_json::from_slice(&part.bytes).unwrap_or_default();
            continue;
        }
        weight += part.bytes.len();
        let number = part.name.strip_prefix("files[");
        let number = number.and_then(|rest| rest.strip_suffix(']')?.parse().ok());
        match number {
            None => fault = Some(wrong(format!("a part called {:?}", part.name))),
            Some(_) if part.file_name.as_deref().is_none_or(str::is_empty) => {
                fault = Some(wrong("a file without a name"));
            }
            Some(n) => {
                let name = part.name.clone();
                if files.insert(n, part).is_some() {
                    fault = Some(wrong(format!("the part {name} twice")));
                }
            }
        }
    }
    // The answer to an interaction holds its message one step further in.
    let at = match body.get("data").is_some_and(Value::is_object) {
        true => "/data",
        false => "",
    };
    if let Some(message) = body.pointer_mut(at) {
        let told = message["attachments"].as_array().cloned();
        fault = fault.or_else(|| unmatched(&files, told.as_deref().unwrap_or_default()));
        message["__uploaded"] = json!(files.len());
    }
    if fault.is_none() && weight > limit {
        fault = Some(Fault {
            status: 413,
            code: 40_005,
            why: "Request entity too large".to_owned(),
            is_wrong: false,
        });
    }
    Form { body, fault }
}

/// Files that nothing speaks of, and descriptions without a file.
fn unmatched(files: &BTreeMap<u64, Part>, told: &[Value]) -> Option<Fault> {
    let mut numbers = Vec::new();
    for one in told {
        let id = one["id"].as_str().and_then(|id| id.parse::<u64>().ok());
        let Some(id) = id.or(one["id"].as_u64()) else {
            return Some(wrong(format!("an attachment without a number: {one}")));
        };
        let Some(part) = files.get(&id) else {
            return Some(wrong(format!(
                "the attachment {id} has no part files[{id}]"
            )));
        };
        if numbers.contains(&id) || one["filename"].as_str() != part.file_name.as_deref() {
            return Some(wrong(format!("the attachment {id} is of another file")));
        }
        numbers.push(id);
    }
    let untold = files.keys().find(|n| !numbers.contains(n))?;
    Some(wrong(format!("nothing describes files[{untold}]")))
}

/// The parts of a form. *RFC 7578*, section 4, and *RFC 2046*, section 5.1.
fn parts(bytes: &[u8], boundary: &str) -> Vec<Part> {
    let line = format!("\r\n--{boundary}");
    let mut whole = b"\r\n".to_vec();
    whole.extend_from_slice(bytes);
    let mut parts = Vec::new();
    let mut rest = whole.as_slice();
    while let Some(begin) = find(rest, line.as_bytes()) {
        rest = &rest[begin + line.len()..];
        let end = find(rest, line.as_bytes()).unwrap_or(rest.len());
        let Some(head) = find(&rest[..end], b"\r\n\r\n") else {
            continue;
        };
        let head_text = String::from_utf8_lossy(&rest[..head]).into_owned();
        let value = |key: &str| {
            let after = head_text.split(&format!("{key}=\"")).nth(1)?;
            after.split('"').next().map(str::to_owned)
        };
        parts.push(Part {
            name: value(" name").unwrap_or_default(),
            file_name: value("filename"),
            bytes: rest[head + 4..end].to_vec(),
        });
    }
    parts
}

fn find(all: &[u8], part: &[u8]) -> Option<usize> {
    all.windows(part.len()).position(|window| window == part)
}
