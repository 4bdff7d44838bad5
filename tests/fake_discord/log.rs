//! What is logged, for a test that runs on one thread.

use std::sync::{Arc, Mutex};

/// The log.
#[derive(Clone, Default)]
pub struct Log(Arc<Mutex<Vec<u8>>>);

impl Log {
    /// Writes into it from the default level on.
    pub fn subscriber(&self) -> impl tracing::Subscriber + use<> {
        let log = self.clone();
        tracing_subscriber::fmt()
            .with_max_level(tracing::Level::INFO)
            .with_ansi(false)
            .with_writer(move || log.clone())
            .finish()
    }

    /// The lines that hold this.
    pub fn lines_with(&self, part: &str) -> Vec<String> {
        let bytes = self.0.lock().expect("nobody panicked");
        let text = String::from_utf8_lossy(&bytes);
        let lines = text.lines().filter(|line| line.contains(part));
        lines.map(str::to_owned).collect()
    }
}

impl std::io::Write for Log {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0
            .lock()
            .expect("nobody panicked")
            .extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}
