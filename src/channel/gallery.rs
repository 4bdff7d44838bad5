//! Where pictures are drawn, and put for channels that hand files out by their path: when the reply
//! is sent, after everything is stored. *Absent:* what a picture shows.
//!
//! A picture's file is named after its reply ([`picture_name`]), so a message that is answered again
//! finds the same file in the same place.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use tokio::sync::Semaphore;
use tokio::task::JoinSet;

use crate::bot::figure::Figure;
use crate::bot::reply::{Outgoing, Reply};
use crate::picture::{self, Picture};
use crate::service::files::picture_name;
use crate::store::atomic;
use crate::store::private::new_folder;

/// A folder for pictures; it is made when there is a first one.
#[derive(Clone, Debug, Default)]
pub struct Gallery {
    folder: Option<PathBuf>,
}

/// Why there is no picture.
#[derive(Debug, thiserror::Error)]
pub enum GalleryError {
    /// Nobody named a folder.
    #[error("there is no folder for pictures; name one with --pictures DIR")]
    NoFolder,
    /// It cannot be drawn.
    #[error(transparent)]
    Picture(#[from] picture::PictureError),
    /// It cannot be written.
    #[error("the folder for pictures cannot be written: {0}; name another with --pictures DIR")]
    Folder(#[from] io::Error),
    /// The program is ending, or has a fault.
    #[error("the drawing was broken off")]
    Broken,
}

/// Draws a picture.
///
/// # Errors
/// [`GalleryError::Picture`], [`GalleryError::Broken`].
pub async fn drawn(figure: Box<Figure>) -> Result<Picture, GalleryError> {
    beside(move || Ok(picture::draw(&figure)?)).await
}

/// Draws a picture for a terminal with so many pixels across; see [`picture::draw_inline`].
///
/// # Errors
/// As [`drawn`].
pub async fn drawn_inline(figure: Box<Figure>, room_px: u32) -> Result<String, GalleryError> {
    beside(move || Ok(picture::draw_inline(&figure, room_px)?)).await
}

/// Draws beside everything else. No more is drawn at once than there are processors: a digest has a
/// thousand pictures, and bells ring meanwhile.
async fn beside<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, GalleryError> + Send + 'static,
) -> Result<T, GalleryError> {
    static BOARDS: OnceLock<Semaphore> = OnceLock::new();
    let boards = BOARDS.get_or_init(|| {
        let processors = std::thread::available_parallelism();
        Semaphore::new(processors.map_or(1, Into::into))
    });
    let board = boards.acquire().await;
    let done = tokio::task::spawn_blocking(work).await;
    drop(board);
    done.unwrap_or(Err(GalleryError::Broken))
}

impl Gallery {
    /// Pictures go to this folder; without one, replies go without pictures.
    pub const fn new(folder: Option<PathBuf>) -> Self {
        Self { folder }
    }

    /// The folder.
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// Draws what the replies among these carry, several at once, and notes where it lies. What
    /// cannot be drawn is left out, with a line in the log: the words are there all the same.
    pub async fn hang(&self, outgoing: &mut [Outgoing]) {
        let mut drawing = JoinSet::new();
        for (of, one) in outgoing.iter_mut().enumerate() {
            for (name, figure, place) in to_draw(one) {
                let folder = self.folder.clone();
                drawing.spawn(async move { (of, place, put(folder, name, figure).await) });
            }
        }
        while let Some(done) = drawing.join_next().await {
            let Ok((of, place, put)) = done else { continue };
            let Some(Outgoing::Reply(reply) | Outgoing::Update(reply)) = outgoing.get_mut(of)
            else {
                continue;
            };
            match put {
                Ok(path) => {
                    if let Some(file) = reply.files.get_mut(place) {
                        file.path = path.display().to_string();
                    }
                }
                Err(fault) => tracing::warn!(%fault, "a picture is left out"),
            }
        }
        for one in outgoing {
            if let Outgoing::Reply(reply) | Outgoing::Update(reply) = one {
                reply
                    .files
                    .retain(|file| !file.is_picture() || !file.path.is_empty());
            }
        }
    }
}

/// The figures of a reply that are not drawn yet: what the file is called, and its place among the
/// files.
fn to_draw(one: &mut Outgoing) -> Vec<(String, Box<Figure>, usize)> {
    let (Outgoing::Reply(reply) | Outgoing::Update(reply)) = one else {
        return Vec::new();
    };
    let mut figures = Vec::new();
    for place in 0..reply.files.len() {
        let figure = reply
            .files
            .get_mut(place)
            .and_then(|file| file.figure.take());
        if let Some(figure) = figure {
            figures.push((name_of(reply, place, &figure), figure, place));
        }
    }
    figures
}

fn name_of(reply: &Reply, place: usize, figure: &Figure) -> String {
    let file = reply.files.get(place).cloned().unwrap_or_default();
    picture_name(reply, &file, figure)
}

async fn put(
    folder: Option<PathBuf>,
    name: String,
    figure: Box<Figure>,
) -> Result<PathBuf, GalleryError> {
    let folder = folder.ok_or(GalleryError::NoFolder)?;
    let work = move || {
        let picture = picture::draw(&figure)?;
        new_folder(&folder)?;
        let path = folder.join(name);
        atomic::write(&path, &picture.png)?;
        Ok(path)
    };
    beside(work).await
}
