//! The program as a process of its own, spoken to over its pipe.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

const PROGRAM: &str = env!("CARGO_BIN_EXE_chalkbell");

/// A running `chalkbell pipe`.
pub struct Program {
    pub child: Child,
    pub input: Option<ChildStdin>,
    pub output: BufReader<ChildStdout>,
}

impl Program {
    /// Starts it on this database file.
    pub fn start(database: &Path) -> Self {
        let url = format!("sqlite:{}", database.display());
        Self::run(&url, &database.with_file_name("pictures"), Stdio::inherit())
    }

    /// Starts it on the database at this URL, with this folder for pictures; what it logs goes to
    /// `log`.
    pub fn run(url: &str, pictures: &Path, log: Stdio) -> Self {
        let mut child = Command::new(PROGRAM)
            .args(["pipe", "--database", url, "--pictures"])
            .arg(pictures)
            .env_remove("DATABASE_URL")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(log)
            .spawn()
            .expect("the program starts");
        let input = child.stdin.take();
        let output = BufReader::new(child.stdout.take().expect("a piped output"));
        Self {
            child,
            input,
            output,
        }
    }

    /// Sends one line and collects what comes back, up to its `done`.
    pub fn answer(&mut self, line: &str) -> Vec<String> {
        let input = self.input.as_mut().expect("an open input");
        writeln!(input, "{line}").expect("the program reads");
        let mut answer = Vec::new();
        loop {
            let mut text = String::new();
            let read = self
                .output
                .read_line(&mut text)
                .expect("the program prints");
            assert!(read > 0, "the program ended after {line}");
            answer.push(text.trim_end().to_owned());
            if text.contains(r#""type":"done""#) {
                return answer;
            }
        }
    }

    /// Ends it the hard way (SIGKILL on Unix).
    pub fn kill(mut self) {
        self.child.kill().expect("it runs");
        self.child.wait().expect("it ends");
    }

    /// Ends its input and waits for it.
    pub fn close(mut self) {
        drop(self.input.take());
        let ended = self.child.wait().expect("it ends");
        assert!(ended.success(), "{ended}");
    }
}
