//! The text of targets: muscles with their weekly sets, parted by commas, `;` or new lines.
//!
//! ```text
//! chest 10-14, quads 12, shoulders 8-12, calves usual
//! ```
//!
//! A word of several muscles (`shoulders`) means each of them, as do regions (`legs`, `push`) and
//! `all`; `usual` goes back to the default band, alone that of every muscle. What stands later goes
//! before: `all 6-12, chest 10`.

use super::plan::{Fault, FaultKind};
use crate::domain::coaching::target::{BandError, MOST_WEEKLY_SETS, Targets};
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::MuscleId;

/// One change to a member's targets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// A muscle's band: fewest, most.
    Set(MuscleId, u32, u32),
    /// A muscle back to the default band.
    Usual(MuscleId),
    /// Every muscle back to it.
    AllUsual,
    /// So many more than the coach set for the muscle, or fewer.
    More(MuscleId, i32),
}

impl Change {
    /// Carries the change out.
    ///
    /// # Errors
    /// [`BandError`]; what [`read`] gives has none.
    pub fn apply(self, targets: &mut Targets) -> Result<(), BandError> {
        match self {
            Self::Set(muscle, low, high) => return targets.set(muscle, low, high),
            Self::Usual(muscle) => targets.reset(muscle),
            Self::AllUsual => *targets = Targets::default(),
            Self::More(muscle, more) => {
                if let Some(own) = targets.own(muscle) {
                    let [low, high] =
                        [own.low, own.high].map(|sets| sets.saturating_add_signed(more));
                    return targets.set(muscle, low, high);
                }
            }
        }
        Ok(())
    }
}

/// Reads changes to targets, in order.
///
/// # Errors
/// Every [`Fault`] of the text, in its order.
pub fn read(text: &str, catalogue: &Catalogue) -> Result<Vec<Change>, Vec<Fault>> {
    let mut changes = Vec::new();
    let mut faults = Vec::new();
    for (number, line) in text.lines().enumerate() {
        let pieces = line.split([',', ';']).map(str::trim);
        for piece in pieces.filter(|piece| !piece.is_empty() && !piece.starts_with('#')) {
            match one(piece, catalogue) {
                Ok(more) => changes.extend(more),
                Err((words, kind)) => faults.push(Fault {
                    line: number + 1,
                    words,
                    kind,
                }),
            }
        }
    }
    if faults.is_empty() {
        Ok(changes)
    } else {
        Err(faults)
    }
}

fn one(piece: &str, catalogue: &Catalogue) -> Result<Vec<Change>, (String, FaultKind)> {
    let piece = piece
        .to_lowercase()
        .replace(['–', '—'], "-")
        .replace(" - ", "-");
    if piece == "usual" {
        return Ok(vec![Change::AllUsual]);
    }
    let piece = in_numbers(&piece);
    let (name, said) = piece
        .rsplit_once(char::is_whitespace)
        .unwrap_or((&piece, ""));
    let (name, said) = match said {
        // `chest 10-14 sets`.
        "sets" | "set" => name.rsplit_once(char::is_whitespace).unwrap_or((name, "")),
        _ => (name, said),
    };
    let more: Option<i32> = said
        .starts_with(['+', '-'])
        .then(|| said.parse().ok())
        .flatten();
    if let Some(more) = more {
        let muscles = meant(name.trim(), catalogue);
        if !muscles.is_empty() {
            return Ok(muscles
                .into_iter()
                .map(|muscle| Change::More(muscle, more))
                .collect());
        }
    }
    let band = band(said);
    let name = if band.is_none() && said != "usual" {
        &piece
    } else {
        name
    };
    let name = name.trim().trim_end_matches(':');
    let muscles: Vec<MuscleId> = meant(name, catalogue);
    if muscles.is_empty() {
        let words = name.to_owned();
        return Err((words, FaultKind::UnknownMuscle(nearest(name, catalogue))));
    }
    match band {
        Some((low, high)) if low > high || high > MOST_WEEKLY_SETS => {
            Err((said.to_owned(), FaultKind::Band(BandError { low, high })))
        }
        Some((low, high)) => {
            let set = muscles.iter().map(|&muscle| Change::Set(muscle, low, high));
            Ok(set.collect())
        }
        None if said == "usual" => Ok(muscles.into_iter().map(Change::Usual).collect()),
        None => Err((piece.clone(), FaultKind::NoBand)),
    }
}

/// A piece whose number is said in words, as a number or a range: `quads at least 12 sets a week`, `chest 12+`, `back up to
/// 16`, `calves around 10`.
fn in_numbers(piece: &str) -> String {
    let mut words: Vec<&str> = piece.split_whitespace().collect();
    for weekly in [
        &["a", "week"][..],
        &["per", "week"],
        &["each", "week"],
        &["/", "week"],
        &["weekly"],
        &["/week"],
    ] {
        if words.ends_with(weekly) {
            words.truncate(words.len() - weekly.len());
        }
    }
    if matches!(words.last(), Some(&"sets" | &"set")) {
        words.pop();
    }
    let Some(last) = words.pop() else {
        return piece.to_owned();
    };
    let bare = last
        .trim_end_matches('+')
        .trim_start_matches(['~', '≥', '≤', '>', '<', '=']);
    let is_count = !bare.is_empty() && bare.chars().all(|c| c.is_ascii_digit());
    if !is_count {
        words.push(last);
        return words.join(" ");
    }
    let mut least = last.ends_with('+') || last.starts_with(['≥', '>']);
    let mut most = last.starts_with(['≤', '<']);
    while let Some(word) = words.last() {
        match *word {
            "least" | "min" | "minimum" | "over" | "from" => least = true,
            "most" | "max" | "maximum" | "under" | "to" => most = true,
            "at" | "up" | "about" | "around" | "roughly" | "approx" | "of" | ":" | "=" => {}
            _ => break,
        }
        words.pop();
    }
    let number = match (least, most) {
        (true, false) => format!("{bare}-{MOST_WEEKLY_SETS}"),
        (false, true) => format!("0-{bare}"),
        _ if last.starts_with('+') => last.to_owned(),
        _ => bare.to_owned(),
    };
    words.push(&number);
    words.join(" ")
}

/// The regions that plans are split by, and their muscles. Common practice, no source.
const REGIONS: &[(&str, &str)] = &[
    (
        "legs, leg, lower, lower body",
        "quads, hamstrings, glutes, calves",
    ),
    ("push, pushing", "chest, front delts, side delts, triceps"),
    ("pull, pulling", "back, rear delts, biceps"),
    ("arms", "biceps, triceps"),
    (
        "upper, upper body",
        "chest, back, side delts, rear delts, biceps, triceps",
    ),
];

/// The muscles that a word stands for: all that sets are planned for, those of a region, or those of
/// that name.
fn meant(name: &str, catalogue: &Catalogue) -> Vec<MuscleId> {
    if matches!(name, "all" | "everything" | "all muscles") {
        let planned = catalogue.muscles().filter(|(_, muscle)| muscle.planned);
        return planned.map(|(id, _)| id).collect();
    }
    let region = REGIONS
        .iter()
        .find(|(words, _)| words.split(", ").any(|word| word == name));
    let named = catalogue.muscles_named(name);
    match region {
        Some((_, muscles)) => {
            let muscles = muscles.split(", ");
            muscles
                .filter_map(|one| catalogue.muscle_named(one))
                .collect()
        }
        None => named.collect(),
    }
}

fn band(said: &str) -> Option<(u32, u32)> {
    let (low, high) = said.split_once('-').unwrap_or((said, said));
    Some((low.parse().ok()?, high.parse().ok()?))
}

/// The muscle whose name or other word looks most like this, if any does.
fn nearest(name: &str, catalogue: &Catalogue) -> Option<MuscleId> {
    let words = catalogue.muscles().flat_map(|(id, muscle)| {
        let names = std::iter::once(&muscle.name).chain(&muscle.words);
        names.map(move |word| (strsim::osa_distance(word, name), id))
    });
    let most = name.chars().count().div_ceil(3).min(3);
    words
        .min()
        .filter(|(distance, _)| *distance <= most)
        .map(|(_, id)| id)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    fn named(name: &str) -> MuscleId {
        config::built_in().muscle_named(name).unwrap()
    }

    #[test]
    fn ways_of_writing_targets() {
        let text = "Chest 10-14, quads 12\nupper back 10–16 sets; calves usual";
        let expected = [
            Change::Set(named("chest"), 10, 14),
            Change::Set(named("quads"), 12, 12),
            Change::Set(named("back"), 10, 16),
            Change::Usual(named("calves")),
        ];
        assert_eq!(read(text, &config::built_in()), Ok(expected.to_vec()));
        let all = read("usual", &config::built_in());
        assert_eq!(all, Ok(vec![Change::AllUsual]));
    }

    #[test]
    fn numbers_may_be_said_in_words() {
        for (text, low, high) in [
            ("quads at least 12", 12, MOST_WEEKLY_SETS),
            ("quads min 12", 12, MOST_WEEKLY_SETS),
            ("quads 12+", 12, MOST_WEEKLY_SETS),
            ("quads up to 16", 0, 16),
            ("quads max 16 sets", 0, 16),
            ("quads around 12", 12, 12),
            ("quads ~12", 12, 12),
            ("quads 14 a week", 14, 14),
            ("quads 10-14 sets per week", 10, 14),
            ("quads: 12 weekly", 12, 12),
        ] {
            let expected = vec![Change::Set(named("quads"), low, high)];
            assert_eq!(read(text, &config::built_in()), Ok(expected), "{text}");
        }
    }

    #[test]
    fn a_word_of_several_muscles_means_each() {
        let changes = read("shoulders 8-12", &config::built_in()).unwrap();
        assert_eq!(changes.len(), 3);
        let mut targets = Targets::default();
        for change in changes {
            change.apply(&mut targets).unwrap();
        }
        assert_eq!(targets.all().count(), 3);
    }

    #[test]
    fn all_and_regions_mean_each_of_their_muscles() {
        let catalogue = config::built_in();
        let mut targets = Targets::default();
        for change in read("all 6-12, legs 8-10; push 4, chest 10", &catalogue).unwrap() {
            change.apply(&mut targets).unwrap();
        }
        let of = |name| targets.own(named(name)).map(|band| (band.low, band.high));
        assert_eq!(of("back"), Some((6, 12)));
        assert_eq!(of("hamstrings"), Some((8, 10)));
        assert_eq!(of("triceps"), Some((4, 4)));
        assert_eq!(of("chest"), Some((10, 10)));
        assert_eq!(of("neck"), None);
        for (words, muscles) in REGIONS {
            for word in words.split(", ") {
                assert_eq!(
                    meant(word, &catalogue).len(),
                    muscles.split(", ").count(),
                    "{word}"
                );
            }
        }
    }

    #[test]
    fn every_misfit_names_its_line_and_words() {
        let quads = FaultKind::UnknownMuscle(Some(named("quads")));
        let cases = [
            ("chest 10-14\nqauds 12", 2, "qauds", quads),
            ("ego 12", 1, "ego", FaultKind::UnknownMuscle(None)),
            ("chest", 1, "chest", FaultKind::NoBand),
            (
                "chest 14-10",
                1,
                "14-10",
                FaultKind::Band(BandError { low: 14, high: 10 }),
            ),
            (
                "chest 10-100",
                1,
                "10-100",
                FaultKind::Band(BandError { low: 10, high: 100 }),
            ),
        ];
        for (text, line, words, kind) in cases {
            let expected = Fault {
                line,
                words: words.to_owned(),
                kind,
            };
            assert_eq!(
                read(text, &config::built_in()),
                Err(vec![expected]),
                "{text}"
            );
        }
    }
}
