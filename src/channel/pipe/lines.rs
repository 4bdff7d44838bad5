//! Bytes to numbered lines, however they are cut up on the way, in bounded memory.

use std::collections::VecDeque;

/// The longest line, in bytes without its end. A chat message is some kilobytes at most.
pub const LONGEST_LINE: usize = 64 * 1024;

/// The longest line with a log to be taken over, in bytes: a year of a large team.
pub const LONGEST_IMPORT: usize = 16 * 1024 * 1024;

/// What a line with such a log holds in its first [`LONGEST_LINE`] bytes.
const IMPORT: &[u8] = b"\"/import";

/// A line that is not blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its number, from 1; blank lines count.
    pub number: u64,
    /// What it holds; `None` when that was longer than [`LONGEST_LINE`], or, with a log in it, than
    /// `LONGEST_IMPORT`.
    pub bytes: Option<Vec<u8>>,
}

/// Cuts a stream into lines. It holds the begun line, and the complete ones until they are taken:
/// never more than one line and one [`Lines::push`].
#[derive(Debug, Default)]
pub struct Lines {
    ready: VecDeque<Line>,
    begun: Vec<u8>,
    /// The begun line is too long and was given out as such; its rest is skipped.
    skipping: bool,
    /// How many lines ended so far.
    ended: u64,
}

impl Lines {
    /// Takes the next bytes of the stream.
    pub fn push(&mut self, mut bytes: &[u8]) {
        while let Some(end) = bytes.iter().position(|&byte| byte == b'\n') {
            let (line, rest) = bytes.split_at(end);
            self.add(line);
            self.end();
            bytes = rest.strip_prefix(b"\n").unwrap_or(rest);
        }
        self.add(bytes);
    }

    /// The stream is over: what it ended with is a line, too.
    pub fn finish(&mut self) {
        self.end();
    }

    /// Takes out up to `count` complete lines.
    pub fn take(&mut self, count: usize) -> Vec<Line> {
        let count = count.min(self.ready.len());
        self.ready.drain(..count).collect()
    }

    fn add(&mut self, part: &[u8]) {
        if self.skipping {
            return;
        }
        if self.begun.len() + part.len() > self.longest(part) {
            self.skipping = true;
            self.begun = Vec::new();
            self.give(None);
        } else {
            self.begun.extend_from_slice(part);
        }
    }

    /// How long the begun line may become.
    fn longest(&self, part: &[u8]) -> usize {
        if self.begun.len() + part.len() <= LONGEST_LINE {
            return LONGEST_LINE;
        }
        let more = LONGEST_LINE.saturating_sub(self.begun.len());
        let head = self.begun.iter().take(LONGEST_LINE);
        let head: Vec<u8> = head.chain(part.iter().take(more)).copied().collect();
        match head.windows(IMPORT.len()).any(|word| word == IMPORT) {
            true => LONGEST_IMPORT,
            false => LONGEST_LINE,
        }
    }

    fn end(&mut self) {
        let line = std::mem::take(&mut self.begun);
        if !self.skipping && !line.trim_ascii().is_empty() {
            self.give(Some(line));
        }
        self.skipping = false;
        self.ended += 1;
    }

    fn give(&mut self, bytes: Option<Vec<u8>>) {
        let number = self.ended + 1;
        self.ready.push_back(Line { number, bytes });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(pieces: &[&[u8]]) -> Vec<(u64, Option<Vec<u8>>)> {
        let mut lines = Lines::default();
        for piece in pieces {
            lines.push(piece);
        }
        lines.finish();
        let all = lines.take(usize::MAX);
        all.into_iter()
            .map(|line| (line.number, line.bytes))
            .collect()
    }

    fn text(number: u64, text: &str) -> (u64, Option<Vec<u8>>) {
        (number, Some(text.as_bytes().to_vec()))
    }

    #[test]
    fn line_is_put_together_from_pieces() {
        assert_eq!(cut(&[b"a", b"b\nc", b"\n"]), [text(1, "ab"), text(2, "c")]);
    }

    #[test]
    fn last_line_needs_no_end() {
        assert_eq!(cut(&[b"a\nb"]), [text(1, "a"), text(2, "b")]);
    }

    #[test]
    fn blank_lines_are_skipped_but_counted() {
        assert_eq!(cut(&[b"\n \t\r\na\n\n"]), [text(3, "a")]);
    }

    #[test]
    fn line_of_exactly_the_limit_passes_and_one_byte_more_does_not() {
        let longest = vec![b'x'; LONGEST_LINE];
        assert_eq!(cut(&[&longest, b"\n"]), [(1, Some(longest.clone()))]);
        assert_eq!(cut(&[&longest, b"x\n"]), [(1, None)]);
    }

    #[test]
    fn line_with_a_log_may_be_longer() {
        let mut log = b"{\"text\":\"/import\\n".to_vec();
        log.resize(3 * LONGEST_LINE, b'x');
        assert_eq!(
            cut(&[&log[..100], &log[100..], b"\n"]),
            [(1, Some(log.clone()))]
        );
        log.resize(LONGEST_IMPORT + 1, b'x');
        assert_eq!(cut(&[&log, b"\n"]), [(1, None)]);
    }

    #[test]
    fn long_line_is_given_out_once_before_it_ends_and_not_kept() {
        let mut lines = Lines::default();
        for _ in 0..100 {
            lines.push(&vec![b'x'; LONGEST_LINE]);
            assert!(lines.begun.capacity() <= 2 * LONGEST_LINE);
        }
        assert_eq!(
            lines.take(9),
            [Line {
                number: 1,
                bytes: None
            }]
        );
        lines.push(b"rest\nnext\n");
        let next = Line {
            number: 2,
            bytes: Some(b"next".to_vec()),
        };
        assert_eq!(lines.take(9), [next]);
    }
}
