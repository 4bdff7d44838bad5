//! Files that are there whole or not at all: written under another name beside their own, and named
//! when all of them is there.

use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::os::unix::fs::OpenOptionsExt as _;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

/// A file on its way. Dropped before it [is done](Half::done) it leaves nothing.
#[derive(Debug)]
pub struct Half {
    half: PathBuf,
    path: PathBuf,
}

impl Half {
    /// A file that is to be at `path`; nothing is written yet, nor is anything in its way.
    pub fn of(path: &Path) -> Self {
        static COUNT: AtomicU64 = AtomicU64::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let half = format!(".{name}.{}-{count}.part", std::process::id());
        let half = path.with_file_name(half);
        // Of a process that had the same number and was killed.
        drop(fs::remove_file(&half));
        Self {
            half,
            path: path.to_owned(),
        }
    }

    /// Where it is written to.
    pub fn place(&self) -> &Path {
        &self.half
    }

    /// Gives it its name, in place of whatever has it.
    ///
    /// # Errors
    /// When it cannot be renamed; then nothing is left of it.
    pub fn done(self) -> io::Result<()> {
        fs::rename(&self.half, &self.path)
    }

    /// The same where nothing has that name yet.
    ///
    /// # Errors
    /// When something has, or it cannot be named; then nothing is left of it.
    pub fn done_new(self) -> io::Result<()> {
        fs::hard_link(&self.half, &self.path)
    }
}

impl Drop for Half {
    fn drop(&mut self) {
        // Once it has its name there is nothing here.
        drop(fs::remove_file(&self.half));
    }
}

/// Writes a file for its owner alone to read.
///
/// # Errors
/// When it cannot be written; then what was there before still is.
pub fn write(path: &Path, content: &[u8]) -> io::Result<()> {
    let half = Half::of(path);
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .mode(0o600)
        .open(half.place())?;
    file.write_all(content)?;
    half.done()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_done_leaves_the_file_before_and_nothing_else() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("week.png");
        write(&path, b"one").expect("written");
        let half = Half::of(&path);
        fs::write(half.place(), b"tw").expect("written");
        drop(half);
        assert_eq!(fs::read(&path).expect("there"), b"one");
        write(&path, b"two").expect("written");
        assert_eq!(fs::read(&path).expect("there"), b"two");
        assert_eq!(fs::read_dir(folder.path()).expect("read").count(), 1);
    }

    #[test]
    fn what_is_to_be_new_takes_nobodys_name() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("copy.db");
        for content in ["one", "two"] {
            let half = Half::of(&path);
            fs::write(half.place(), content).expect("written");
            assert_eq!(half.done_new().is_ok(), content == "one");
            assert_eq!(fs::read(&path).expect("there"), b"one");
            assert_eq!(fs::read_dir(folder.path()).expect("read").count(), 1);
        }
    }

    #[test]
    fn several_may_write_the_same_at_once() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("week.png");
        let content = vec![7; 100_000];
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| write(&path, &content).expect("written"));
            }
        });
        assert_eq!(fs::read(&path).expect("there"), content);
        assert_eq!(fs::read_dir(folder.path()).expect("read").count(), 1);
    }
}
