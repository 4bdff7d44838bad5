//! The letters: two bundled faces, how wide a text is, and what of it can be drawn.
//!
//! The faces hold Latin, Greek, Cyrillic, Hebrew, Armenian and Georgian. Other scripts, signs and
//! shapes that are stacked on letters are left out; whoever has a name of nothing else is shown by
//! place. *Absent:* kerning, shaping.

use std::sync::OnceLock;

use skrifa::charmap::Charmap;
use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::outline::{DrawSettings, OutlineGlyphCollection, OutlinePen};
use skrifa::raw::ReadError;
use skrifa::{FontRef, GlyphId, MetadataProvider as _};

/// A weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// For most texts.
    Book,
    /// For what is read first.
    Bold,
}

/// A face, with what is asked of it for every letter.
pub struct Face {
    letters: Charmap<'static>,
    widths: GlyphMetrics<'static>,
    outlines: OutlineGlyphCollection<'static>,
    units_per_em: f32,
}

impl Face {
    fn parsed(bytes: &'static [u8]) -> Result<Self, ReadError> {
        let font = FontRef::new(bytes)?;
        let (size, location) = (Size::unscaled(), LocationRef::default());
        Ok(Self {
            letters: font.charmap(),
            widths: font.glyph_metrics(size, location),
            outlines: font.outline_glyphs(),
            units_per_em: f32::from(font.metrics(size, location).units_per_em),
        })
    }

    /// Whether a character can be drawn.
    fn has(&self, character: char) -> bool {
        self.letters.map(character).is_some()
    }

    /// A character's shape; that of none, where it has none.
    fn glyph(&self, character: char) -> GlyphId {
        self.letters.map(character).unwrap_or_default()
    }

    /// How far the next character stands behind this one, in units of the font.
    pub fn advance(&self, character: char) -> f32 {
        let advance = self.widths.advance_width(self.glyph(character));
        advance.unwrap_or_default()
    }

    /// Units of the font for one of its size.
    pub const fn units_per_em(&self) -> f32 {
        self.units_per_em
    }

    /// Draws a character's outline, in units of the font with y upwards.
    pub fn outline(&self, character: char, pen: &mut impl OutlinePen) {
        let Some(outline) = self.outlines.get(self.glyph(character)) else {
            return;
        };
        let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
        // A shape that cannot be read is left out; the bundled ones are all read by a test.
        let _ = outline.draw(settings, pen);
    }
}

/// A face.
pub fn face(weight: Weight) -> &'static Face {
    static FACES: OnceLock<[Face; 2]> = OnceLock::new();
    let [book, bold] = FACES.get_or_init(|| {
        [
            bundled(include_bytes!("../../config/fonts/DejaVuSansCondensed.ttf")),
            bundled(include_bytes!(
                "../../config/fonts/DejaVuSansCondensed-Bold.ttf"
            )),
        ]
    });
    match weight {
        Weight::Book => book,
        Weight::Bold => bold,
    }
}

#[expect(
    clippy::expect_used,
    reason = "the two files are part of the program, and every picture's test reads them"
)]
fn bundled(bytes: &'static [u8]) -> Face {
    Face::parsed(bytes).expect("a bundled font")
}

/// Width of a text of this size, in pixels.
pub fn width(text: &str, size: f32, weight: Weight) -> f32 {
    let face = face(weight);
    let units: f32 = text.chars().map(|c| face.advance(c)).sum();
    units * size / face.units_per_em()
}

/// Height of capital letters and digits, as a share of the size.
pub const CAPITALS: f32 = 0.73;
/// How far letters reach under the line, as a share of the size.
pub const DESCENT: f32 = 0.24;
/// How far letters with accents reach over the line, as a share of the size.
pub const ASCENT: f32 = 0.93;

/// What of a text can be drawn, in the order in which it is drawn: letters of right-to-left scripts
/// stand reversed. Empty where nothing can.
pub fn drawable(text: &str) -> String {
    let face = face(Weight::Book);
    let kept = |c: char| match c {
        c if c.is_whitespace() => Some(' '),
        c if c.is_control() || is_stacked(c) => None,
        c => face.has(c).then_some(c),
    };
    let kept: String = text.chars().filter_map(kept).collect();
    let words: Vec<&str> = kept.split(' ').filter(|word| !word.is_empty()).collect();
    if !words
        .iter()
        .any(|word| word.contains(char::is_alphanumeric))
    {
        return String::new();
    }
    in_drawing_order(&words)
}

/// Marks that are put on the letter before. Letters with accents of their own are no such pairs.
fn is_stacked(c: char) -> bool {
    matches!(c, '\u{300}'..='\u{36f}' | '\u{483}'..='\u{489}' | '\u{591}'..='\u{5c7}')
}

/// Words, with runs of Hebrew ones turned around and their letters reversed.
fn in_drawing_order(words: &[&str]) -> String {
    let runs = words.chunk_by(|a, b| is_leftward(a) == is_leftward(b));
    let mut drawn: Vec<String> = Vec::new();
    for run in runs {
        if run.first().is_some_and(|word| is_leftward(word)) {
            drawn.extend(run.iter().rev().map(|word| word.chars().rev().collect()));
        } else {
            drawn.extend(run.iter().map(|word| (*word).to_owned()));
        }
    }
    drawn.join(" ")
}

fn is_leftward(word: &str) -> bool {
    word.contains(|c| ('\u{5d0}'..='\u{5ea}').contains(&c))
}

/// A text that is at most so wide: shortened, with an ellipsis, where it is wider.
pub fn fitted(text: &str, size: f32, weight: Weight, room: f32) -> String {
    if width(text, size, weight) <= room {
        return text.to_owned();
    }
    let mut kept: String = text.to_owned();
    while kept.pop().is_some() {
        let short = format!("{}…", kept.trim_end());
        if width(&short, size, weight) <= room {
            return short;
        }
    }
    String::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_drawn_is_left_out() {
        let cases = [
            ("plain", "Ines", "Ines"),
            ("accents", "Zoë Ångström", "Zoë Ångström"),
            (
                "a sign behind",
                "Tomás \u{1f6a3}\u{200d}\u{2642}\u{fe0f}",
                "Tomás",
            ),
            (
                "stacked shapes",
                "Z\u{351}\u{36b}\u{343}a\u{32f}l\u{489}go",
                "Zalgo",
            ),
            ("signs alone", "\u{1f9a6}\u{1f9a6}", ""),
            ("a script that is not there", "山田", ""),
            ("punctuation alone", "...", ""),
            ("line breaks", " a\n\tb ", "a b"),
            ("cyrillic", "Юлия", "Юлия"),
            ("right to left", "דנה לוי", "יול הנד"),
            ("both ways", "Dana דנה", "Dana הנד"),
        ];
        for (label, text, expected) in cases {
            assert_eq!(drawable(text), expected, "{label}");
        }
    }

    #[test]
    fn a_long_text_is_shortened_to_its_room() {
        let name = "Wilhelmina Featherstonehaugh-Montgomery";
        let short = fitted(name, 26.0, Weight::Book, 160.0);
        assert!(
            short.starts_with("Wilhel") && short.ends_with('…'),
            "{short}"
        );
        assert!(width(&short, 26.0, Weight::Book) <= 160.0);
        assert_eq!(fitted("Ines", 26.0, Weight::Book, 160.0), "Ines");
        assert_eq!(fitted("Ines", 26.0, Weight::Book, 3.0), "");
    }

    /// Takes outlines and keeps nothing.
    struct Nothing;

    impl OutlinePen for Nothing {
        fn move_to(&mut self, _: f32, _: f32) {}
        fn line_to(&mut self, _: f32, _: f32) {}
        fn quad_to(&mut self, _: f32, _: f32, _: f32, _: f32) {}
        fn curve_to(&mut self, _: f32, _: f32, _: f32, _: f32, _: f32, _: f32) {}
        fn close(&mut self) {}
    }

    #[test]
    fn every_shape_of_the_bundled_faces_can_be_drawn() {
        for weight in [Weight::Book, Weight::Bold] {
            let face = face(weight);
            let (size, location) = (Size::unscaled(), LocationRef::default());
            let mut drawn = 0;
            for (_, outline) in face.outlines.iter() {
                let settings = DrawSettings::unhinted(size, location);
                assert!(outline.draw(settings, &mut Nothing).is_ok());
                drawn += 1;
            }
            assert!(drawn > 1000, "{drawn}");
        }
    }

    #[test]
    fn digits_are_all_of_one_width() {
        for weight in [Weight::Book, Weight::Bold] {
            let nought = width("0", 100.0, weight);
            for digit in '1'..='9' {
                assert!((width(&digit.to_string(), 100.0, weight) - nought).abs() < 0.01);
            }
        }
    }
}
