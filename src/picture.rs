//! The bot's figures as pictures: PNG, the same on every machine.
//!
//! A [`Figure`] is first laid out as a [`layout::Layout`], a list of shapes with their places, which
//! tests can look at; `ink` then draws the shapes and computes nothing. Sheets are 1200 pixels wide,
//! twice the width of a phone, so a text of 26 pixels is read as one of 13. Pictures stand on their
//! own opaque ground and so look the same under a dark and a light theme; `palette` says why its
//! colours are what they are. Words come from [`crate::bot::text::picture`]. *Absent:* files and
//! folders (that is the channels' business), numbers of any kind but places.

pub mod axis;
mod error;
mod file;
pub mod font;
pub mod layout;
mod lift;
pub mod palette;
mod render;
mod sixel;
mod team;
mod week;

use crate::bot::figure::Figure;
use crate::bot::text::picture as words;
use layout::Layout;

pub use error::PictureError;

/// A picture, with what it says in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// The file's bytes, PNG; 200 kB at most.
    pub png: Vec<u8>,
    /// The text alternative, at most 1024 characters.
    pub alt: String,
}

/// Draws a figure.
///
/// Takes some ten milliseconds: call it where nobody waits for a set to be filed.
///
/// # Errors
/// [`PictureError`].
pub fn draw(figure: &Figure) -> Result<Picture, PictureError> {
    let png = file::png(&render::inked(&layout(figure), 1.0)?)?;
    let alt = words::alt(figure);
    Ok(Picture { png, alt })
}

/// Draws a figure for a terminal that takes sixels: as wide as a picture where there are
/// so many pixels, else half as wide.
///
/// # Errors
/// [`PictureError::Size`].
pub fn draw_inline(figure: &Figure, room_px: u32) -> Result<String, PictureError> {
    let whole = f64::from(room_px) >= f64::from(layout::WIDTH);
    let times = if whole { 1.0 } else { 0.5 };
    Ok(file::sixels(&render::inked(&layout(figure), times)?))
}

/// A figure laid out.
pub fn layout(figure: &Figure) -> Layout {
    match figure {
        Figure::Week(figure) => week::layout(figure),
        Figure::Lift(figure) => lift::layout(figure),
        Figure::Team(figure) => team::layout(figure),
    }
}
