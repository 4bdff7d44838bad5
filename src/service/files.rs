//! The files of replies, in a folder of this program's own: written before the commit, since a reply
//! that is committed must find its files. What an event that was not stored left behind is removed
//! with what is old.

use std::fs;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::io::Write as _;
use std::os::unix::fs::{DirBuilderExt as _, OpenOptionsExt as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use crate::bot::reply::{File, Outgoing, Reply};
use crate::service::ServiceError;

/// A file is kept for so long after the newest was written: nobody asks for a reply again after that.
const KEPT: Duration = Duration::from_secs(24 * 3600);

/// The folder.
#[derive(Clone, Debug)]
pub(super) struct Files(PathBuf);

impl Default for Files {
    fn default() -> Self {
        let name = format!("chalkbell-files-{}", std::process::id());
        Self(std::env::temp_dir().join(name))
    }
}

impl Files {
    /// Files in this folder, which is made when the first is written.
    pub(super) const fn new(folder: PathBuf) -> Self {
        Self(folder)
    }

    /// Writes the files of these replies, and says in the replies where they lie.
    pub(super) fn put(&self, out: &mut [Outgoing]) -> Result<(), ServiceError> {
        for one in out {
            let (Outgoing::Reply(reply) | Outgoing::Update(reply)) = one else {
                continue;
            };
            for place in 0..reply.files.len() {
                let path = self.place_of(reply, place);
                let Some(file) = reply.files.get_mut(place) else {
                    continue;
                };
                if let Some(content) = file.content.take() {
                    self.write(&path, &content).map_err(|fault| {
                        tracing::error!(%fault, "a file of a reply cannot be written");
                        let folder = self.0.display();
                        ServiceError::Refused(format!(
                            "the folder {folder} for files cannot be written ({fault}); \
                             make room or mend its permissions"
                        ))
                    })?;
                    file.path = path.to_string_lossy().into_owned();
                }
            }
        }
        Ok(())
    }

    /// Removes the files of these replies.
    pub(super) fn remove(&self, out: &[Outgoing]) {
        for one in out {
            let (Outgoing::Reply(reply) | Outgoing::Update(reply)) = one else {
                continue;
            };
            for File { path, .. } in &reply.files {
                // Only what was written here: where a reply says its files lie is stored text.
                let path = Path::new(path);
                if path.parent() == Some(&self.0) {
                    drop(fs::remove_file(path));
                }
            }
        }
    }

    /// The same for the same file of the same reply, and nobody else's.
    fn place_of(&self, reply: &Reply, place: usize) -> PathBuf {
        let half = |salt: u8| {
            let mut hasher = DefaultHasher::new();
            (salt, &reply.team, &reply.id, place).hash(&mut hasher);
            hasher.finish()
        };
        let ending = reply.files.get(place).and_then(|file| {
            let (_, ending) = file.name.rsplit_once('.')?;
            let plain = ending.chars().all(|c| c.is_ascii_alphanumeric());
            (plain && ending.len() <= 8).then_some(ending)
        });
        let ending = ending.unwrap_or("file");
        self.0
            .join(format!("{:016x}{:016x}.{ending}", half(0), half(1)))
    }

    fn write(&self, path: &Path, content: &[u8]) -> std::io::Result<()> {
        fs::DirBuilder::new()
            .recursive(true)
            .mode(0o700)
            .create(&self.0)?;
        // Under another name first, so that a file is there whole or not at all.
        let half = path.with_extension("part");
        let mut file = fs::OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(true)
            .mode(0o600)
            .open(&half)?;
        file.write_all(content)?;
        let newest = file.metadata()?.modified()?;
        fs::rename(&half, path)?;
        self.remove_old(newest)
    }

    fn remove_old(&self, newest: SystemTime) -> std::io::Result<()> {
        for entry in fs::read_dir(&self.0)? {
            let entry = entry?;
            let written = entry.metadata().and_then(|about| about.modified());
            let age = written.ok().and_then(|at| newest.duration_since(at).ok());
            if age.is_some_and(|age| age > KEPT) {
                drop(fs::remove_file(entry.path()));
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reply(id: &str, content: Option<&[u8]>) -> Vec<Outgoing> {
        let file = File {
            name: "log.csv".to_owned(),
            content: content.map(<[u8]>::to_vec),
            ..File::default()
        };
        vec![Outgoing::Reply(Reply {
            id: id.to_owned(),
            files: vec![file],
            ..Reply::default()
        })]
    }

    fn path(out: &[Outgoing]) -> PathBuf {
        match out {
            [Outgoing::Reply(reply)] => PathBuf::from(&reply.files[0].path),
            other => panic!("no reply: {other:?}"),
        }
    }

    #[test]
    fn content_is_written_for_its_owner_alone_and_leaves_the_reply() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().expect("a folder");
        let files = Files::new(folder.path().join("files"));
        let mut out = reply("m1.1", Some(b"a,b"));
        files.put(&mut out).expect("written");
        let path = path(&out);
        assert_eq!(fs::read(&path).expect("there"), b"a,b");
        let mode = fs::metadata(&path).expect("there").permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
        let kept = serde_json::to_string(&out).expect("JSON");
        assert!(!kept.contains("content"), "{kept}");
        files.remove(&out);
        assert!(!path.exists());
    }

    #[test]
    fn nothing_outside_the_folder_is_removed() {
        let folder = tempfile::tempdir().expect("a folder");
        let outside = folder.path().join("mine.csv");
        fs::write(&outside, "x").expect("writable");
        let files = Files::new(folder.path().join("files"));
        let mut out = reply("m1.1", None);
        let [Outgoing::Reply(reply)] = out.as_mut_slice() else {
            panic!("no reply");
        };
        reply.files[0].path = outside.to_string_lossy().into_owned();
        files.remove(&out);
        assert!(outside.exists());
    }

    #[test]
    fn replies_of_other_ids_and_teams_have_files_of_their_own() {
        let folder = tempfile::tempdir().expect("a folder");
        let files = Files::new(folder.path().to_owned());
        let mut paths: Vec<PathBuf> = ["m1.1", "m1.2"]
            .map(|id| {
                let mut out = reply(id, Some(b"x"));
                files.put(&mut out).expect("written");
                path(&out)
            })
            .into();
        paths.dedup();
        assert_eq!(paths.len(), 2);
    }
}
