//! Where pictures are put for channels that hand files out by their path: they are drawn when the
//! reply is sent, after everything is stored. *Absent:* what a picture shows.
//!
//! A picture's file is named after its reply, so a message that is answered again finds the same
//! file in the same place.

use std::io;
use std::path::{Path, PathBuf};

use crate::bot::figure::Figure;
use crate::bot::reply::{File, Outgoing, Reply};
use crate::picture;

/// A folder for pictures; it is made when there is a first one.
#[derive(Clone, Debug, Default)]
pub struct Gallery {
    folder: Option<PathBuf>,
}

/// Why there is no picture.
#[derive(Debug, thiserror::Error)]
enum GalleryError {
    #[error("there is no folder for pictures; name one with --pictures DIR")]
    NoFolder,
    #[error(transparent)]
    Picture(#[from] picture::PictureError),
    #[error("the folder for pictures cannot be written: {0}; name another with --pictures DIR")]
    Folder(#[from] io::Error),
    #[error("the drawing was broken off")]
    Broken,
}

impl Gallery {
    /// Pictures go to this folder; without one, replies go without pictures.
    #[must_use]
    pub const fn new(folder: Option<PathBuf>) -> Self {
        Self { folder }
    }

    /// Draws what the replies among these carry, and notes where it lies. What cannot be drawn is
    /// left out, with a line in the log: the words are there all the same.
    pub async fn hang(&self, outgoing: &mut [Outgoing]) {
        for one in outgoing {
            if let Outgoing::Reply(reply) | Outgoing::Update(reply) = one {
                self.hang_reply(reply).await;
            }
        }
    }

    async fn hang_reply(&self, reply: &mut Reply) {
        let mut hung = Vec::new();
        for mut file in std::mem::take(&mut reply.files) {
            if let Some(figure) = file.figure.take() {
                match self
                    .put(own_name(&reply.team, &reply.id, &file), figure)
                    .await
                {
                    Ok(path) => file.path = path.display().to_string(),
                    Err(fault) => {
                        tracing::warn!(%fault, "a picture is left out");
                        continue;
                    }
                }
            }
            hung.push(file);
        }
        reply.files = hung;
    }

    async fn put(&self, name: String, figure: Box<Figure>) -> Result<PathBuf, GalleryError> {
        let folder = self.folder.clone().ok_or(GalleryError::NoFolder)?;
        let drawing = tokio::task::spawn_blocking(move || {
            let picture = picture::draw(&figure)?;
            Ok(written(&folder, &name, &picture.png)?)
        });
        drawing.await.unwrap_or(Err(GalleryError::Broken))
    }
}

/// Whoever is told of the file finds it whole: it gets its name when all of it is there.
fn written(folder: &Path, name: &str, bytes: &[u8]) -> io::Result<PathBuf> {
    std::fs::create_dir_all(folder)?;
    let path = folder.join(name);
    let begun = folder.join(format!(".{name}.{}", std::process::id()));
    std::fs::write(&begun, bytes)?;
    std::fs::rename(&begun, &path)?;
    Ok(path)
}

/// `week-2026-11-23-0123456789abcdef.png`: ids of teams and replies may hold what no file name may.
fn own_name(team: &str, reply: &str, file: &File) -> String {
    // FNV-1a, 64 bits: the same in every run.
    let bytes = team.bytes().chain([0]).chain(reply.bytes());
    let mixed = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3)
    });
    let stem = file.name.trim_end_matches(".png");
    let safe = |c: char| if c.is_alphanumeric() { c } else { '-' };
    let stem: String = stem.chars().map(safe).take(60).collect();
    format!("{stem}-{mixed:016x}.png")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn file_names_differ_by_team_and_reply_and_leave_no_folder() {
        let file = |name: &str| File {
            name: name.to_owned(),
            ..File::default()
        };
        let one = own_name("club", "m1.1", &file("week.png"));
        assert!(one.starts_with("week-") && one.ends_with(".png"), "{one}");
        assert_eq!(one, own_name("club", "m1.1", &file("week.png")));
        assert_ne!(one, own_name("clubm", "1.1", &file("week.png")));
        assert_ne!(one, own_name("club", "m1.2", &file("week.png")));
        let odd = own_name("club", "m1.1", &file("../../.ssh/x"));
        assert!(
            !odd.contains(['/', '\\', '.']) || odd.matches('.').count() == 1,
            "{odd}"
        );
    }
}
