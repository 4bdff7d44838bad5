//! How drawing fails.

/// Why a picture cannot be drawn. No figure that the bot makes leads here.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PictureError {
    /// No room for so many pixels.
    #[error("a picture of {0} by {1} pixels cannot be drawn")]
    Size(u32, u32),
    /// The file could not be put together.
    #[error("the picture cannot be written: {0}")]
    File(String),
}
