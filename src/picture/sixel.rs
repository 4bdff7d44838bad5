//! Pixels as characters that many terminals draw: sixels.
//!
//! A sixel is a column of six pixels of one colour, written as one character. A band of six rows is
//! gone over once for each colour that is in it.
//!
//! ```text
//! ESC P 0;1;0 q  "1;1;WIDTH;HEIGHT         begin, pixels as high as wide
//! #N;2;R;G;B                               colour N, in per cent
//! #N ...!12~... $                          colour N's sixels: a run of twelve full ones; back to the left
//! -                                        the next band
//! ESC \                                    the end
//! ```
//!
//! *Source*: Digital Equipment Corporation, *VT330/VT340 Programmer Reference Manual, volume 2:
//! Graphics Programming* (EK-VT3XX-GP-002, 1988), chapter 14 (from memory).

use std::fmt::Write as _;

/// Rows of a band.
const ROWS: usize = 6;
/// The character of an empty sixel; of one with the rows of `bits`, the character so many further on.
const EMPTY: u8 = b'?';
/// Shorter runs are as short when written out.
const SHORTEST_RUN: usize = 4;

/// An image of this width; `pixels` name colours by their place in `palette`, three bytes each.
pub fn sixels(width: usize, palette: &[u8], pixels: &[u8]) -> String {
    let width = width.max(1);
    let height = pixels.len() / width;
    let mut text = format!("\u{1b}P0;1;0q\"1;1;{width};{height}");
    for (place, colour) in palette.chunks_exact(3).enumerate() {
        let per_cent = |byte: &u8| (u32::from(*byte) * 100 + 127) / 255;
        let parts: Vec<String> = colour.iter().map(|b| per_cent(b).to_string()).collect();
        put(&mut text, format_args!("#{place};2;{}", parts.join(";")));
    }
    for band in pixels.chunks(width * ROWS) {
        put_band(&mut text, width, band);
    }
    text.push_str("\u{1b}\\");
    text
}

fn put(text: &mut String, what: std::fmt::Arguments<'_>) {
    // Writing to a text does not fail.
    let _ = text.write_fmt(what);
}

fn put_band(text: &mut String, width: usize, band: &[u8]) {
    let mut used = [false; 256];
    for &colour in band {
        if let Some(used) = used.get_mut(usize::from(colour)) {
            *used = true;
        }
    }
    let colours = (0..=u8::MAX).filter(|&colour| used.get(usize::from(colour)) == Some(&true));
    for (place, colour) in colours.enumerate() {
        if place > 0 {
            text.push('$');
        }
        put(text, format_args!("#{colour}"));
        let column = |x: usize| {
            let rows = band.iter().skip(x).step_by(width).enumerate();
            let bits = rows.filter(|(_, pixel)| **pixel == colour);
            bits.fold(0u8, |bits, (row, _)| bits | 1 << row)
        };
        let columns: Vec<u8> = (0..width).map(column).collect();
        put_runs(text, &columns);
    }
    text.push('-');
}

/// Columns, without the empty ones at the end.
fn put_runs(text: &mut String, columns: &[u8]) {
    let end = columns
        .iter()
        .rposition(|&bits| bits != 0)
        .map_or(0, |last| last + 1);
    let seen = &columns[..end];
    for run in seen.chunk_by(|a, b| a == b) {
        let sixel = char::from(EMPTY + run.first().copied().unwrap_or_default());
        match run.len() {
            long if long >= SHORTEST_RUN => put(text, format_args!("!{long}{sixel}")),
            short => text.extend(std::iter::repeat_n(sixel, short)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sixel_image::{SixelColor, SixelImage};

    #[test]
    fn a_band_is_written_colour_by_colour_with_runs() {
        // Two colours: the first column of the first, five columns of the other.
        let pixels: Vec<u8> = [0, 1, 1, 1, 1, 1].repeat(6);
        let text = sixels(6, &[0, 0, 0, 255, 255, 255], &pixels);
        assert_eq!(
            text,
            "\u{1b}P0;1;0q\"1;1;6;6#0;2;0;0;0#1;2;100;100;100#0~$#1?!5~-\u{1b}\\"
        );
    }

    /// Read back by `sixel-image`, a library of others.
    #[test]
    fn what_is_written_is_read_back_pixel_by_pixel() {
        let (width, height) = (37, 20);
        let palette: Vec<u8> = (0..3 * 5).map(|n| n * 17).collect();
        let mixed = |n: usize| u8::try_from((n * n / 7 + n / 50) % 5).expect("small");
        let pixels: Vec<u8> = (0..width * height).map(mixed).collect();
        let text = sixels(width, &palette, &pixels);
        let image = SixelImage::new(text.as_bytes()).expect("it is sixels");
        for (n, pixel) in pixels.iter().enumerate() {
            let read = &image.pixels[n / width][n % width];
            assert!(read.on, "{n}");
            assert_eq!(read.color, u16::from(*pixel), "{n}");
        }
        for place in 0..5u8 {
            let SixelColor::Rgb(r, g, b) = image.color_registers[&u16::from(place)] else {
                panic!("no colour {place}");
            };
            for (part, read) in [r, g, b].into_iter().enumerate() {
                let byte = f64::from(palette[usize::from(place) * 3 + part]);
                assert!((f64::from(read) - byte / 2.55).abs() <= 0.5, "{place}");
            }
        }
    }
}
