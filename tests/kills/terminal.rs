//! The terminal channel on a terminal: a pseudo-terminal whose other end is played by the test.
#![expect(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::fs::File;
use std::io::{Read as _, Write as _};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use nix::pty::openpty;
use sixel_image::SixelImage;

/// Everything must come within this time; machines may be slow.
const PATIENCE: Duration = Duration::from_secs(60);

/// The program in a terminal that answers so when it is asked what it is.
struct Terminal {
    child: Child,
    keys: File,
    screen: Receiver<Vec<u8>>,
    /// What was shown and not looked at yet.
    shown: Vec<u8>,
    _folder: tempfile::TempDir,
}

const QUESTION: &str = "\u{1b}[c";

impl Terminal {
    fn open() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let pty = openpty(None, None).unwrap();
        let end = || Stdio::from(pty.slave.try_clone().unwrap());
        let child = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
            .args(["local", "--as", "ann", "--at", "2026-11-23T18:00:00Z"])
            .args([
                "--database",
                &format!("sqlite:{}", folder.path().join("club").display()),
            ])
            .args([
                "--pictures",
                &folder.path().join("pictures").display().to_string(),
            ])
            .env("TERM", "vt340")
            .env("TZ", "UTC")
            .stdin(end())
            .stdout(end())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let keys = File::from(pty.master);
        let (sender, screen) = channel();
        let mut output = keys.try_clone().unwrap();
        std::thread::spawn(move || {
            let mut piece = [0; 4096];
            while let Ok(count) = output.read(&mut piece) {
                if count == 0 || sender.send(piece[..count].to_vec()).is_err() {
                    break;
                }
            }
        });
        Self {
            child,
            keys,
            screen,
            shown: Vec::new(),
            _folder: folder,
        }
    }

    fn types(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).unwrap();
    }

    /// What is shown until this is.
    fn until(&mut self, text: &str) -> Vec<u8> {
        loop {
            let mut places = self.shown.windows(text.len());
            if let Some(place) = places.position(|part| part == text.as_bytes()) {
                return self.shown.drain(..place + text.len()).collect();
            }
            let more = self.screen.recv_timeout(PATIENCE);
            let so_far = String::from_utf8_lossy(&self.shown).into_owned();
            self.shown
                .extend(more.unwrap_or_else(|_| panic!("no {text:?} in {so_far:?}")));
        }
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The sixels in what was shown; `None` where there are none.
fn sixels(shown: &[u8]) -> Option<SixelImage> {
    let begin = shown.windows(2).position(|part| part == b"\x1bP")?;
    let end = shown.windows(2).rposition(|part| part == b"\x1b\\")?;
    Some(SixelImage::new(&shown[begin..end + 2]).unwrap())
}

fn week_in(mut terminal: Terminal, answer: &str) -> Option<SixelImage> {
    terminal.until(QUESTION);
    terminal.types(answer);
    terminal.until("> ");
    terminal.types("bench 80x10, 2 left\r");
    terminal.until("(filed)");
    terminal.until("> ");
    terminal.types("/week\r");
    terminal.until("(picture: ");
    let shown = terminal.until("> ");
    terminal.types("quit\r");
    sixels(&shown)
}

#[test]
fn pictures_are_shown_where_the_terminal_says_that_it_draws_sixels() {
    let image = week_in(Terminal::open(), "\u{1b}[?62;4;22c").unwrap();
    assert_eq!(image.pixels[0].len(), 600);
    let image = week_in(Terminal::open(), "\u{1b}[4;900;1440t\u{1b}[?62;4;22c").unwrap();
    assert_eq!(image.pixels[0].len(), 1200);
}

#[test]
fn pictures_are_only_saved_where_it_says_that_it_does_not() {
    assert!(week_in(Terminal::open(), "\u{1b}[?62;22c").is_none());
}

#[test]
fn nothing_typed_is_lost_to_a_terminal_that_does_not_answer() {
    let mut terminal = Terminal::open();
    terminal.until(QUESTION);
    terminal.types("bench 80x10, 2 left\nx9, 1");
    terminal.until("(filed)");
    terminal.until("x9, 1");
    terminal.types(" left\r");
    terminal.until("(filed)");
}
