//! The letters: two bundled faces, how wide a text is, and what of it can be drawn.
//!
//! The faces hold Latin, Greek, Cyrillic, Hebrew, Armenian and Georgian. Other scripts, signs and
//! marks that are stacked on letters are left out; whoever has a name of nothing else is shown by
//! place. *Absent:* kerning, shaping.

use std::sync::OnceLock;

use ttf_parser::Face;

/// A weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// For most texts.
    Book,
    /// For what is read first.
    Bold,
}

/// A face.
#[must_use]
pub fn face(weight: Weight) -> &'static Face<'static> {
    static FACES: OnceLock<[Face<'static>; 2]> = OnceLock::new();
    let [book, bold] = FACES.get_or_init(|| {
        [
            parsed(include_bytes!("../../config/fonts/DejaVuSansCondensed.ttf")),
            parsed(include_bytes!(
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
fn parsed(bytes: &'static [u8]) -> Face<'static> {
    Face::parse(bytes, 0).expect("a bundled font")
}

/// Width of a text of this size, in pixels.
#[must_use]
pub fn width(text: &str, size: f32, weight: Weight) -> f32 {
    let face = face(weight);
    let advance = |c| {
        let glyph = face.glyph_index(c).unwrap_or_default();
        f32::from(face.glyph_hor_advance(glyph).unwrap_or_default())
    };
    let units: f32 = text.chars().map(advance).sum();
    units * size / f32::from(face.units_per_em())
}

/// Height of capital letters and digits, as a share of the size.
pub const CAPITALS: f32 = 0.73;
/// How far letters reach under the line, as a share of the size.
pub const DESCENT: f32 = 0.24;
/// How far letters with accents reach over the line, as a share of the size.
pub const ASCENT: f32 = 0.93;

/// What of a text can be drawn, in the order in which it is drawn: letters of right-to-left scripts
/// stand reversed. Empty where nothing can.
#[must_use]
pub fn drawable(text: &str) -> String {
    let face = face(Weight::Book);
    let kept = |c: char| match c {
        c if c.is_whitespace() => Some(' '),
        c if c.is_control() || is_stacked(c) => None,
        c => face.glyph_index(c).map(|_| c),
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
#[must_use]
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
                "stacked marks",
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
