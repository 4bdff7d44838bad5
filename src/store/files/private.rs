//! Files and folders that their owner alone can read, whatever the umask says.

use std::fs::{self, DirBuilder, File, OpenOptions, Permissions};
use std::io;
use std::os::unix::fs::{DirBuilderExt as _, OpenOptionsExt as _, PermissionsExt as _};
use std::path::{Path, PathBuf};

/// What everybody but the owner may do.
const OF_OTHERS: u32 = 0o077;

/// A new, empty file.
///
/// # Errors
/// When there is one already, or it cannot be made.
pub(in crate::store) fn new_file(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options
        .read(true)
        .write(true)
        .create_new(true)
        .mode(0o600)
        .open(path)
}

/// Makes the database file where it is missing, and takes it, its journals and what the umask of an
/// earlier run allowed from everybody but the owner. SQLite gives its journals the file's own mode.
///
/// # Errors
/// When the file can be neither made nor changed.
pub(in crate::store) fn own_file(path: &Path) -> io::Result<()> {
    match new_file(path) {
        Err(error) if error.kind() != io::ErrorKind::AlreadyExists => return Err(error),
        _ => {}
    }
    for ending in ["", "-wal", "-shm", "-journal"] {
        let mut name = path.as_os_str().to_owned();
        name.push(ending);
        close_to_others(&PathBuf::from(name))?;
    }
    Ok(())
}

/// Makes a folder of this program's own where it is missing, and closes it to others.
///
/// # Errors
/// When it can be neither made nor changed.
pub fn own_folder(path: &Path) -> io::Result<()> {
    new_folder(path)?;
    close_to_others(path)
}

/// Makes a folder for its owner alone where it is missing; one that is there stays as it is.
///
/// # Errors
/// When it cannot be made.
pub fn new_folder(path: &Path) -> io::Result<()> {
    DirBuilder::new().recursive(true).mode(0o700).create(path)
}

fn close_to_others(path: &Path) -> io::Result<()> {
    let mode = match fs::metadata(path) {
        Ok(about) => about.permissions().mode(),
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(error),
    };
    if mode & OF_OTHERS == 0 {
        return Ok(());
    }
    fs::set_permissions(path, Permissions::from_mode(mode & !OF_OTHERS))
}
