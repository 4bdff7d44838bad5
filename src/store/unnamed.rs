//! Files without a name: whatever ends the program, nothing is left of them.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::os::fd::AsRawFd as _;
use std::os::unix::fs::OpenOptionsExt as _;
use std::path::{Path, PathBuf};

use nix::fcntl::{AT_FDCWD, AtFlags, OFlag};
use nix::unistd::linkat;

use super::private::new_file;

/// A file that is opened by its name, and whose name then goes.
#[derive(Debug)]
pub(super) struct Scratch {
    file: File,
    path: PathBuf,
}

impl Scratch {
    /// An empty file at `path`, for its owner alone.
    ///
    /// # Errors
    /// When it cannot be made.
    pub(super) fn at(path: &Path) -> io::Result<Self> {
        Ok(Self {
            file: new_file(path)?,
            path: path.to_owned(),
        })
    }

    /// Takes its name away: whoever has it open goes on writing to it.
    pub(super) fn hide(&self) {
        drop(fs::remove_file(&self.path));
    }

    /// Copies it to a new file at `path`, which gets its name when all of it is on the disk.
    ///
    /// # Errors
    /// When it cannot be written, or something has that name already.
    pub(super) fn copy_to(mut self, path: &Path) -> io::Result<()> {
        let folder = match path.parent() {
            Some(folder) if folder != Path::new("") => folder,
            _ => Path::new("."),
        };
        let mut options = OpenOptions::new();
        options.write(true).mode(0o600);
        let unnamed = options.custom_flags(OFlag::O_TMPFILE.bits()).open(folder);
        // Not every file system knows files without a name.
        let Ok(mut whole) = unnamed else {
            let mut half = new_file(&self.path_beside())?;
            let linked = io::copy(&mut self.file, &mut half)
                .and_then(|_| half.sync_all())
                .and_then(|()| fs::hard_link(self.path_beside(), path));
            drop(fs::remove_file(self.path_beside()));
            return linked;
        };
        io::copy(&mut self.file, &mut whole)?;
        whole.sync_all()?;
        let handle = format!("/proc/self/fd/{}", whole.as_raw_fd());
        let named = linkat(
            AT_FDCWD,
            handle.as_str(),
            AT_FDCWD,
            path,
            AtFlags::AT_SYMLINK_FOLLOW,
        );
        Ok(named?)
    }

    fn path_beside(&self) -> PathBuf {
        let mut name = self.path.as_os_str().to_owned();
        name.push("-whole");
        name.into()
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        // Gone already once SQLite has it open.
        self.hide();
    }
}
