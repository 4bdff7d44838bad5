//! The text of a block: a week a line, or parted by `;`, each with its effort and its share of the
//! planned sets.
//!
//! ```text
//! 1-2: 2rir
//! 3: 1rir 110%
//! 4: +2rir 60%
//! ```
//!
//! `2rir` is the effort of all sets of that week, `+1rir` one more left than planned, `60%` the
//! share of the planned sets; what is left out stays as planned. Numbers of weeks may be left out.

use super::plan::{Fault, FaultKind, effort_at};
use crate::domain::coaching::block::{Block, BlockEffort, BlockError, BlockWeek, MOST_WEEKS};

/// Reads a block.
///
/// # Errors
/// Every [`Fault`] of the text, in its order.
pub fn read(text: &str) -> Result<Block, Vec<Fault>> {
    let text = &in_words(text);
    let mut weeks = Vec::new();
    let mut faults = Vec::new();
    for (number, line) in text.lines().enumerate() {
        let line = line.trim();
        if line.starts_with('#') {
            continue;
        }
        for piece in line
            .split(';')
            .map(str::trim)
            .filter(|piece| !piece.is_empty())
        {
            match piece_weeks(piece, weeks.len() + 1) {
                Ok((count, week)) => weeks.extend(std::iter::repeat_n(week, count)),
                Err((words, kind)) => faults.push(Fault {
                    line: number + 1,
                    words,
                    kind,
                }),
            }
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    Block::new(weeks).map_err(|error| {
        vec![Fault {
            line: 1,
            words: String::new(),
            kind: FaultKind::Block(error),
        }]
    })
}

/// What coaches write in short: `3 2 1 deload`, `3rir, 2rir, deload`, `wk1 3rir`.
fn in_words(text: &str) -> String {
    let lower = text.to_lowercase();
    let words = lower
        .split([' ', ',', ';', '\n'])
        .filter(|word| !word.is_empty());
    let plain = |word: &str| {
        word == "deload" || word == "then" || word.parse::<u8>().is_ok_and(|reps| reps <= 5)
    };
    // Numbers alone are what is left in reserve, week by week.
    let words: Vec<&str> = words.collect();
    if words.len() > 1 && words.iter().all(|word| plain(word)) {
        let weeks = words.iter().filter(|word| **word != "then");
        let weeks = weeks.map(|word| match *word {
            "deload" => DELOAD.to_owned(),
            reps => format!("{reps}rir"),
        });
        return weeks.collect::<Vec<_>>().join("; ");
    }
    let lines = lower.lines().map(|line| {
        let line = line.replace(" then ", "; ").replace("deload", DELOAD);
        // `3rir, 2rir`: a comma between two efforts parts weeks.
        let efforts = line.matches("rir").count() + line.matches("rpe").count();
        let line = match efforts > 1 && !line.contains(';') {
            true => line.replace(',', ";"),
            false => line,
        };
        match line
            .strip_prefix("wk")
            .and_then(|rest| rest.trim_start().split_once(' '))
        {
            Some((number, rest)) if number.parse::<u32>().is_ok() => {
                format!("week {number}: {rest}")
            }
            _ => line,
        }
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// A lighter week, as the bot proposes it.
const DELOAD: &str = "+2rir 60%";

type Misfit = (String, FaultKind);

/// How many weeks a piece stands for, and what they are like; `next` is the number that the first
/// of them must have.
fn piece_weeks(piece: &str, next: usize) -> Result<(usize, BlockWeek), Misfit> {
    let piece = piece.to_lowercase().replace('−', "-");
    let (count, rest) = match piece.split_once(':') {
        None => (1, piece.as_str()),
        Some((head, rest)) => (numbered(head.trim(), next)?, rest),
    };
    Ok((count, week(rest)?))
}

/// `3` or `3-5`, with `week` before it or not: how many weeks from `next` on.
fn numbered(head: &str, next: usize) -> Result<usize, Misfit> {
    let misfit = || (head.to_owned(), FaultKind::WeekNumber(next));
    let numbers = head
        .trim_start_matches("weeks")
        .trim_start_matches("week")
        .trim();
    let (first, last) = numbers.split_once('-').unwrap_or((numbers, numbers));
    let number = |text: &str| text.trim().parse::<usize>().map_err(|_| misfit());
    let (first, last) = (number(first)?, number(last)?);
    if first != next || last < first {
        return Err(misfit());
    }
    if last > MOST_WEEKS {
        return Err((head.to_owned(), FaultKind::Block(BlockError::Weeks(last))));
    }
    Ok(last - first + 1)
}

fn week(text: &str) -> Result<BlockWeek, Misfit> {
    let words: Vec<String> = text
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    let mut effort = None;
    let mut share = None;
    let mut rest = words.as_slice();
    while let [word, ..] = rest {
        let (used, twice) = match part(rest)? {
            Part::Effort(said, used) => (used, effort.replace(said).is_some()),
            Part::Share(said, used) => (used, share.replace(said).is_some()),
            Part::AsPlanned(used) => (used, false),
        };
        if twice {
            return Err((word.clone(), FaultKind::Twice));
        }
        rest = rest.get(used..).unwrap_or_default();
    }
    BlockWeek::new(effort.unwrap_or_default(), share.unwrap_or(100))
        .map_err(|error| (text.trim().to_owned(), FaultKind::Block(error)))
}

/// A part of a week, with the number of its words.
enum Part {
    Effort(BlockEffort, usize),
    Share(u32, usize),
    AsPlanned(usize),
}

fn part(words: &[String]) -> Result<Part, Misfit> {
    let word = |at: usize| words.get(at).map_or("", String::as_str);
    let first = word(0);
    if first == "as" && word(1) == "planned" {
        return Ok(Part::AsPlanned(2));
    }
    if let Some((share, used)) = share(words) {
        let share = share.ok_or_else(|| (first.to_owned(), FaultKind::Share))?;
        return Ok(Part::Share(share, used));
    }
    if let Some(sign @ ('+' | '-')) = first.chars().next() {
        let mut unsigned = words.to_vec();
        if let Some(word) = unsigned.first_mut() {
            word.remove(0);
        }
        let by = effort_at(&unsigned).and_then(|(rir, used)| Some((rir?, used)));
        let (by, used) = by.ok_or_else(|| (first.to_owned(), FaultKind::Effort))?;
        let by = if sign == '+' { by.reps() } else { -by.reps() };
        return Ok(Part::Effort(BlockEffort::Shifted(by), used));
    }
    match effort_at(words) {
        Some((Some(rir), used)) => Ok(Part::Effort(BlockEffort::At(rir), used)),
        Some((None, _)) => Err((first.to_owned(), FaultKind::Effort)),
        None if first.starts_with(|c: char| c.is_ascii_digit()) => {
            Err((first.to_owned(), FaultKind::BareNumber))
        }
        None => Err((first.to_owned(), FaultKind::UnknownWord(None))),
    }
}

/// `60%`, `60 %`, `60% of sets`; `None` within for a number that is none.
fn share(words: &[String]) -> Option<(Option<u32>, usize)> {
    let word = |at: usize| words.get(at).map_or("", String::as_str);
    let (number, mut used) = match word(0).strip_suffix('%') {
        Some(number) => (number, 1),
        None if word(1) == "%" => (word(0), 2),
        None => return None,
    };
    used += usize::from(word(used) == "of");
    used += usize::from(matches!(word(used), "sets" | "set"));
    Some((number.parse().ok(), used))
}

/// A block as text that [`read`] reads back as the same block; weeks alike share a line.
pub fn print(block: &Block) -> String {
    let mut lines = Vec::new();
    let mut first = 1;
    for run in block.weeks().chunk_by(|a, b| a == b) {
        let last = first + run.len() - 1;
        let number = if last > first {
            format!("{first}-{last}")
        } else {
            first.to_string()
        };
        let week = run.first().copied().unwrap_or_default();
        lines.push(format!("{number}: {}", print_week(week)));
        first = last + 1;
    }
    lines.join("\n")
}

/// A week of a block as text: `2rir 80%`, `as planned`.
pub fn print_week(week: BlockWeek) -> String {
    let effort = match week.effort() {
        BlockEffort::AsPlanned => String::new(),
        BlockEffort::At(rir) => format!("{}rir", rir.reps()),
        BlockEffort::Shifted(by) => format!("{by:+}rir"),
    };
    let share = match week.share() {
        100 => String::new(),
        share => format!("{share}%"),
    };
    match (effort.is_empty(), share.is_empty()) {
        (true, true) => "as planned".to_owned(),
        (false, true) => effort,
        (true, false) => share,
        (false, false) => format!("{effort} {share}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, expected: &str) {
        let block = read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}"));
        assert_eq!(print(&block), expected, "{text}");
        assert_eq!(read(expected), Ok(block), "{text}, again");
    }

    #[test]
    fn ways_of_writing_a_block() {
        check(
            "2rir; 1rir; 2rir; 4rir 50%",
            "1: 2rir\n2: 1rir\n3: 2rir\n4: 4rir 50%",
        );
        check(
            "1-3: 2 rir 100%\n# light\n4: 60% of sets, 4 left",
            "1-3: 2rir\n4: 4rir 60%",
        );
        check(
            "week 1: as planned\nweeks 2-3: +1rir",
            "1: as planned\n2-3: +1rir",
        );
        check("-1 rir 110 %; rpe 7.5 50%", "1: -1rir 110%\n2: 2.5rir 50%");
        check("as planned; as planned; 0%", "1-2: as planned\n3: 0%");
        check("to failure", "1: 0rir");
        check("+0.5rir", "1: +0.5rir");
    }

    #[test]
    fn blocks_in_short() {
        let long = read("3rir; 2rir; 1rir; +2rir 60%");
        for text in [
            "3 2 1 deload",
            "3rir, 2rir, 1rir, deload",
            "3 2 1 then deload",
        ] {
            assert_eq!(read(text), long, "{text}");
        }
        assert_eq!(read("wk1 3rir\nwk2 2rir"), read("3rir; 2rir"));
    }

    #[test]
    fn every_misfit_names_its_line_and_words() {
        let cases = [
            ("2rir\n3: 1rir", 2, "3", FaultKind::WeekNumber(2)),
            ("1-0: 1rir", 1, "1-0", FaultKind::WeekNumber(1)),
            ("first: 1rir", 1, "first", FaultKind::WeekNumber(1)),
            ("2rir; hard", 1, "hard", FaultKind::UnknownWord(None)),
            ("2rir 1rir", 1, "1rir", FaultKind::Twice),
            ("60% 70%", 1, "70%", FaultKind::Twice),
            ("2", 1, "2", FaultKind::BareNumber),
            ("11rir", 1, "11rir", FaultKind::Effort),
            ("+x", 1, "+x", FaultKind::Effort),
            ("half%", 1, "half%", FaultKind::Share),
            ("300%", 1, "300%", FaultKind::Block(BlockError::Share(300))),
            (
                "+6rir",
                1,
                "+6rir",
                FaultKind::Block(BlockError::Shift(6.0)),
            ),
            (
                "1-53: 2rir",
                1,
                "1-53",
                FaultKind::Block(BlockError::Weeks(53)),
            ),
            ("", 1, "", FaultKind::Block(BlockError::Weeks(0))),
        ];
        for (text, line, words, kind) in cases {
            let expected = Fault {
                line,
                words: words.to_owned(),
                kind,
            };
            assert_eq!(read(text), Err(vec![expected]), "{text}");
        }
    }
}
