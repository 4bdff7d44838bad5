//! How much a name looks like some words, by Jaro and Winkler's measure, with the places of a letter as bits: to look
//! through all names takes less than to read a message.
//!
//! *Source*: Winkler WE 1990, String Comparator Metrics, from memory; the same as `strsim::jaro_winkler` to the last bit.

/// Words longer than this are not looked at.
pub(super) const LONGEST: usize = 48;
/// The measure from which letters that are the same at the start count, how many do, and how much.
const FROM_START: (f64, u32, f64) = (0.7, 4, 0.1);

/// How often each letter stands in a text, those that share a place counted together, and what else bounds its
/// likeness to another.
#[derive(Clone, Copy, Debug)]
pub(super) struct Counts {
    letters: [u8; 32],
    /// One by the count of letters.
    part: f64,
    /// The first four letters, by their last bits.
    start: u32,
}

impl Counts {
    pub(super) fn of(text: &str) -> Self {
        let (mut letters, mut start) = ([0_u8; 32], [0; 4]);
        let mut length = 0_u32;
        for (at, letter) in text.chars().enumerate() {
            let low = (letter as usize % 256).to_le_bytes()[0];
            let place = &mut letters[letter as usize % 32];
            *place = place.saturating_add(1);
            length += 1;
            if let Some(start) = start.get_mut(at) {
                *start = low;
            }
        }
        Self {
            letters,
            part: 1.0 / f64::from(length.max(1)),
            start: u32::from_le_bytes(start),
        }
    }

    /// How many letters both have.
    fn common(&self, other: &Self) -> u8 {
        let mut common = [0; 32];
        for (at, common) in common.iter_mut().enumerate() {
            *common = self.letters[at].min(other.letters[at]);
        }
        // No more than LONGEST letters.
        common.iter().fold(0, |sum: u8, one| sum.wrapping_add(*one))
    }
}

/// Words that names are compared with.
pub(super) struct Wanted {
    letters: Vec<char>,
    counts: Counts,
    /// The places of each letter of the ASCII, and of all others together.
    places: [u64; 129],
}

/// The place of a letter in [`Wanted::places`].
fn slot(letter: char) -> usize {
    (letter as usize).min(128)
}

impl Wanted {
    /// These words, the first [`LONGEST`] letters of them.
    pub(super) fn new(words: &str) -> Self {
        let letters: Vec<char> = words.chars().take(LONGEST).collect();
        let mut places = [0; 129];
        for (at, letter) in letters.iter().enumerate() {
            places[slot(*letter)] |= 1 << at;
        }
        Self {
            letters,
            counts: Counts::of(words),
            places,
        }
    }

    /// The places at which a letter stands.
    fn places_of(&self, letter: char) -> u64 {
        let places = self.places[slot(letter)];
        if letter.is_ascii() || places == 0 {
            return places;
        }
        let same = self
            .letters
            .iter()
            .enumerate()
            .filter(|(_, l)| **l == letter);
        same.fold(0, |places, (at, _)| places | 1 << at)
    }

    /// The most that [`Wanted::likeness`] can come to, with all common letters in the same order.
    pub(super) fn most_alike(&self, name: &Counts) -> f64 {
        let common = f64::from(self.counts.common(name));
        let jaro = (common * (self.counts.part + name.part) + 1.0) / 3.0;
        let (from, most, each) = FROM_START;
        let same = (self.counts.start ^ name.start).trailing_zeros() / 8;
        let start = if jaro < from {
            0.0
        } else {
            each * f64::from(same.min(most))
        };
        // A hair more, for rounding.
        jaro + start * (1.0 - jaro) + 1e-9
    }

    /// How much a name looks like them, 0 to 1.
    pub(super) fn likeness(&self, name: &str) -> f64 {
        let length = name.chars().count();
        if self.letters.is_empty() || length == 0 {
            return f64::from(u8::from(self.letters.len() == length));
        }
        let reach = (self.letters.len().max(length) / 2).saturating_sub(1);
        let mut taken = 0_u64;
        let mut met = [' '; LONGEST];
        let mut count = 0;
        for (at, letter) in name.chars().enumerate() {
            let places = self.places_of(letter) & !taken;
            if places == 0 {
                continue;
            }
            let below = |place: usize| {
                if place < 64 {
                    (1_u64 << place) - 1
                } else {
                    u64::MAX
                }
            };
            let near = places & below(at + reach + 1) & !below(at.saturating_sub(reach));
            if near != 0 {
                taken |= near & near.wrapping_neg();
                met[count] = letter;
                count += 1;
            }
        }
        if count == 0 {
            return 0.0;
        }
        let mut swapped = 0;
        let mut left = taken;
        for met in &met[..count] {
            swapped += usize::from(self.letters[left.trailing_zeros() as usize] != *met);
            left &= left - 1;
        }
        let matches = count as f64;
        let straight = (count - swapped / 2) as f64;
        let jaro =
            (matches / self.letters.len() as f64 + matches / length as f64 + straight / matches)
                / 3.0;
        let (from, most, each) = FROM_START;
        if jaro <= from {
            return jaro;
        }
        let pairs = self.letters.iter().zip(name.chars()).take(most as usize);
        let same = pairs.take_while(|(a, b)| **a == *b).count();
        jaro + each * same as f64 * (1.0 - jaro)
    }
}
