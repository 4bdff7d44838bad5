//! Pixels as a PNG file of at most 256 colours, a byte a pixel.
//!
//! A picture has a dozen colours and, on the edges of letters, some hundred mixtures of two of them.
//! The 256 that cover the most pixels are kept, and each of the others becomes the nearest of these:
//! that is a third of the bytes and of the time of a file in full colour, and nobody sees it.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use png::{BitDepth, ColorType, DeflateCompression, Encoder, Filter};
use tiny_skia::{Pixmap, PremultipliedColorU8};

use super::error::PictureError;

/// Colours of a file.
const COLOURS: usize = 256;

/// How hard a file is squeezed, 1 to 9: first quickly, since a digest has a thousand; what is then
/// large as hard as is worth the time.
const QUICKLY: u8 = 1;
const HARD: u8 = 4;
/// Bytes from which a file is large: half of what it may have.
const LARGE: usize = 100_000;

/// The file of these pixels, which are opaque.
///
/// # Errors
/// [`PictureError::File`].
pub fn png(pixmap: &Pixmap) -> Result<Vec<u8>, PictureError> {
    let (palette, pixels) = indexed(pixmap);
    let squeezed = |level| {
        squeezed(pixmap, &palette, &pixels, level)
            .map_err(|fault| PictureError::File(fault.to_string()))
    };
    match squeezed(QUICKLY)? {
        large if large.len() > LARGE => squeezed(HARD),
        small => Ok(small),
    }
}

fn squeezed(
    pixmap: &Pixmap,
    palette: &[u8],
    pixels: &[u8],
    level: u8,
) -> Result<Vec<u8>, png::EncodingError> {
    let mut file = Vec::with_capacity(LARGE);
    let mut encoder = Encoder::new(&mut file, pixmap.width(), pixmap.height());
    encoder.set_color(ColorType::Indexed);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_palette(palette);
    encoder.set_deflate_compression(DeflateCompression::Level(level));
    encoder.set_filter(Filter::NoFilter);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(pixels)?;
    writer.finish()?;
    Ok(file)
}

/// The same pixels for a terminal.
pub fn sixels(pixmap: &Pixmap) -> String {
    let (palette, pixels) = indexed(pixmap);
    let width = usize::try_from(pixmap.width()).unwrap_or(usize::MAX);
    super::sixel::sixels(width, &palette, &pixels)
}

type Rgb = [u8; 3];

/// The palette, three bytes a colour, and the place in it of each pixel's colour.
fn indexed(pixmap: &Pixmap) -> (Vec<u8>, Vec<u8>) {
    let runs = pixmap.pixels().chunk_by(|a, b| a == b);
    let run = |run: &[PremultipliedColorU8]| {
        let colour = run.first().map(|p| [p.red(), p.green(), p.blue()]);
        (colour.unwrap_or_default(), run.len())
    };
    let runs: Vec<(Rgb, usize)> = runs.map(run).collect();
    let mut counts: HashMap<Rgb, usize, Quickly> = HashMap::default();
    for (colour, pixels) in &runs {
        *counts.entry(*colour).or_default() += pixels;
    }
    let mut by_use: Vec<(Rgb, usize)> = counts.into_iter().collect();
    // Colours of the same use in an order of their own, so that every run makes the same file.
    by_use.sort_unstable_by_key(|&(colour, count)| (std::cmp::Reverse(count), colour));
    let kept = by_use.iter().take(COLOURS).map(|(colour, _)| *colour);
    let kept: Vec<Rgb> = kept.collect();
    let place = |(colour, _): &(Rgb, usize)| (*colour, nearest(&kept, *colour));
    let places: HashMap<Rgb, u8, Quickly> = by_use.iter().map(place).collect();
    let mut pixels = Vec::with_capacity(pixmap.pixels().len());
    for (colour, count) in runs {
        let place = places[&colour];
        pixels.resize(pixels.len() + count, place);
    }
    (kept.into_flattened(), pixels)
}

/// A picture has some fifty thousand runs of pixels, each looked up twice. The standard hash is made
/// against keys that somebody chose to clash; here they are our own colours.
#[derive(Clone, Copy, Default)]
struct Quick(u64);
type Quickly = BuildHasherDefault<Quick>;

impl Hasher for Quick {
    fn finish(&self) -> u64 {
        // The well-mixed upper bits are to count, too.
        self.0.rotate_left(32)
    }

    /// How long a key is, which is the same for all.
    fn write_usize(&mut self, _: usize) {}

    fn write(&mut self, bytes: &[u8]) {
        for byte in bytes {
            // Any odd number with its bits well mixed does.
            self.0 = (self.0.rotate_left(8) ^ u64::from(*byte)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        }
    }
}

/// The place of the kept colour that is nearest.
fn nearest(kept: &[Rgb], colour: Rgb) -> u8 {
    let distance = |other: &Rgb| {
        let parts = other.iter().zip(colour);
        let squares = parts.map(|(a, b)| u32::from(a.abs_diff(b)).pow(2));
        squares.sum::<u32>()
    };
    let places = (0u8..=u8::MAX).zip(kept);
    places
        .min_by_key(|(_, other)| distance(other))
        .map_or(0, |(place, _)| place)
}
