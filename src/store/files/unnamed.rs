//! Files without a name: whatever ends the program, nothing is left of them.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::os::fd::AsRawFd as _;
use std::os::unix::fs::OpenOptionsExt as _;
use std::path::Path;

use nix::fcntl::{AT_FDCWD, AtFlags, OFlag};
use nix::unistd::linkat;

use crate::store::files::atomic::Half;
use crate::store::files::private::new_file;

/// A file that is opened by its name, and whose name then goes, at the latest with it.
#[derive(Debug)]
pub(in crate::store) struct Scratch {
    file: File,
    half: Half,
}

impl Scratch {
    /// An empty file in the folder of `path`, for its owner alone.
    ///
    /// # Errors
    /// When it cannot be made.
    pub(in crate::store) fn beside(path: &Path) -> io::Result<Self> {
        let half = Half::of(path);
        Ok(Self {
            file: new_file(half.place())?,
            half,
        })
    }

    /// Where it is, until it is hidden.
    pub(in crate::store) fn place(&self) -> &Path {
        self.half.place()
    }

    /// Takes its name away: whoever has it open goes on writing to it.
    pub(in crate::store) fn hide(&self) {
        drop(fs::remove_file(self.half.place()));
    }

    /// Copies it to a new file at `path`, which gets its name when all of it is on the disk.
    ///
    /// # Errors
    /// When it cannot be written, or something has that name already.
    pub(in crate::store) fn copy_to(mut self, path: &Path) -> io::Result<()> {
        let folder = match path.parent() {
            Some(folder) if folder != Path::new("") => folder,
            _ => Path::new("."),
        };
        let mut options = OpenOptions::new();
        options.write(true).mode(0o600);
        let unnamed = options.custom_flags(OFlag::O_TMPFILE.bits()).open(folder);
        // Not every file system knows files without a name.
        let Ok(mut whole) = unnamed else {
            let half = Half::of(path);
            let mut file = new_file(half.place())?;
            io::copy(&mut self.file, &mut file)?;
            file.sync_all()?;
            return half.done_new();
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
}
