//! Whether a message says that the day or the week is light on purpose: `light week`, `deload`, `easy day`.

use crate::message::words::variants::List;

/// A lighter time in one word.
const ALONE: [&str; 4] = ["deload", "deloading", "deloaded", "deloads"];
/// What is light, and how: `light week`, `easy session`.
const HOW: [&str; 5] = ["light", "lighter", "easy", "easier", "recovery"];
const WHAT: [&str; 7] = [
    "week", "day", "session", "workout", "today", "tonight", "training",
];
/// Of another time, or denied.
static NOT_NOW: List =
    List::of("after|last|next|no|not|since|before|yesterday|tomorrow|over|done|isn|wasn|was");

/// Whether a message says that training is light on purpose now.
pub(crate) fn is_light_on_purpose(text: &str) -> bool {
    let text = text.to_lowercase();
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    let named = words.iter().any(|word| ALONE.contains(word));
    let described = words
        .windows(2)
        .any(|pair| HOW.contains(&pair[0]) && WHAT.contains(&pair[1]));
    (named || described) && !words.iter().any(|word| NOT_NOW.has(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_light_day_is_told_from_a_light_set_and_from_another_week() {
        for text in [
            "light week, bench press 55x6, 6 left",
            "Deload: squat 90x5",
            "easy day today, rows 50x10",
            "going lighter today",
        ] {
            assert!(is_light_on_purpose(text), "{text}");
        }
        for text in [
            "bench 60x10, light",
            "80x8, that was easy",
            "after the deload squat 120x5",
            "last week was a light week, squat 120x5",
            "not a light day, 80x8",
            "easy, 80x8",
        ] {
            assert!(!is_light_on_purpose(text), "{text}");
        }
    }
}
