//! What a line is before it is a sentence: labels, rows of a table, weeks of a progression.

use super::assemble::Assembled;
use super::lex::{Kind, Token};

/// What the columns of a table hold, from its head.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::message::plan) struct Columns(Vec<Column>);

#[derive(Clone, Copy, Debug, PartialEq)]
enum Column {
    Name,
    Sets,
    Reps,
    Rest,
    Rpe,
    Rir,
    Load,
    Tempo,
    Percent,
    Other,
}

/// The cells of a row: parted by tabs, upright lines or wide gaps; or by commas, where numbers alone
/// stand behind the name. `None` for a line that is no row.
fn cells(line: &str) -> Option<Vec<String>> {
    let trimmed = |parts: Vec<&str>| -> Vec<String> {
        parts.iter().map(|part| part.trim().to_owned()).collect()
    };
    let line = line.trim();
    if line.contains('\t') {
        return Some(trimmed(line.split('\t').collect()));
    }
    if line.contains('|') {
        let inner = line.trim_start_matches('|').trim_end_matches('|');
        return Some(trimmed(inner.split('|').collect()));
    }
    let wide: Vec<&str> = line
        .split("  ")
        .filter(|part| !part.trim().is_empty())
        .collect();
    if wide.len() >= 3 {
        return Some(trimmed(wide));
    }
    let commas: Vec<String> = trimmed(line.split(',').collect());
    let sets = commas
        .get(1)
        .is_some_and(|cell| cell.parse::<u32>().is_ok());
    let named = commas
        .first()
        .is_some_and(|cell| !cell.contains(|c: char| c.is_ascii_digit()));
    (sets && named && commas.len() == 3 && commas.get(2).is_some_and(|cell| is_count(cell)))
        .then_some(commas)
}

/// A number or a range, or words for as many as possible.
fn is_count(cell: &str) -> bool {
    let digits = cell.chars().filter(char::is_ascii_digit).count();
    let plain = |c: char| c.is_ascii_digit() || "-– /".contains(c);
    (digits > 0 && cell.chars().all(plain))
        || matches!(cell.to_lowercase().as_str(), "max" | "amrap" | "failure")
}

/// The columns that a line names, where it is the head of a table.
pub(in crate::message::plan) fn columns(line: &str) -> Option<Columns> {
    let cells = cells(line).or_else(|| {
        let words: Vec<String> = line.split_whitespace().map(str::to_owned).collect();
        (words.len() >= 3).then_some(words)
    })?;
    let of = |cell: &String| match cell.to_lowercase().trim_matches(['*', ':', '#']) {
        "exercise" | "exercises" | "movement" | "lift" | "name" => Column::Name,
        "sets" | "set" => Column::Sets,
        "reps" | "rep" | "repetitions" | "reps/time" => Column::Reps,
        "rest" | "rest (s)" | "rest time" | "recovery" => Column::Rest,
        "rpe" => Column::Rpe,
        "rir" | "left" | "reps left" => Column::Rir,
        "load" | "weight" | "kg" | "lb" => Column::Load,
        "tempo" => Column::Tempo,
        "%" | "% 1rm" | "%1rm" | "intensity" => Column::Percent,
        _ => Column::Other,
    };
    let columns: Vec<Column> = cells.iter().map(of).collect();
    let known = columns
        .iter()
        .filter(|column| **column != Column::Other)
        .count();
    let counts = columns.contains(&Column::Sets) || columns.contains(&Column::Reps);
    (known >= 2 && counts && known * 2 > columns.len()).then_some(Columns(columns))
}

/// Whether a line only rules off the head of a table.
pub(in crate::message::plan) fn is_rule(line: &str) -> bool {
    line.contains('-')
        && line
            .chars()
            .all(|c| c.is_whitespace() || "|-:+=_".contains(c))
}

/// A row of a table as a sentence: `Back Squat, 4 x 6-8, rest 180s`.
pub(super) fn row(line: &str, columns: Option<&Columns>) -> Option<String> {
    let cells = cells(line)?;
    let mut out: Vec<String> = Vec::new();
    let mut sets: Option<String> = None;
    let mut counted = false;
    for (place, cell) in cells.iter().enumerate() {
        if cell.is_empty() {
            continue;
        }
        let bare = is_count(cell);
        let column = columns
            .and_then(|Columns(columns)| columns.get(place))
            .copied();
        let column = column.unwrap_or(match place {
            0 => Column::Name,
            _ if bare && sets.is_none() && !counted => Column::Sets,
            _ if !counted && sets.is_some() => Column::Reps,
            _ => Column::Other,
        });
        match column {
            Column::Sets if bare => sets = Some(cell.clone()),
            Column::Reps if sets.is_some() => {
                let sets = sets.take().unwrap_or_default();
                counted = true;
                // `10 reps` and `3 sets` in words need no sign between them.
                out.push(format!("{sets} x {cell}"));
            }
            Column::Rest if bare => out.push(format!("rest {cell}")),
            Column::Rest => out.push(format!("rest {}", cell.trim_start_matches("rest"))),
            Column::Rpe if bare => out.push(format!("rpe {cell}")),
            Column::Rir if bare => out.push(format!("{cell} rir")),
            Column::Tempo => out.push(format!("tempo {cell}")),
            Column::Percent if bare => out.push(format!("{cell}%")),
            // A number below no head says nothing of what it counts.
            Column::Other if bare && place > 0 => out.push(format!("[{cell}?]")),
            _ => out.push(cell.clone()),
        }
    }
    if let Some(sets) = sets {
        out.push(format!("{sets} sets"));
    }
    (out.len() > 1).then(|| out.join(", "))
}

/// The labelled parts of a line: `A1. bench 3x8` is one, `A1) … A2) …` are two; bullets and numbers
/// at the start are taken off.
pub(super) fn labelled(line: &str) -> Vec<(Option<char>, String)> {
    let chars: Vec<(usize, char)> = line.char_indices().collect();
    let get = |at: usize| chars.get(at).map(|(_, c)| *c);
    // Where labels stand: the byte of their letter, the letter, the byte behind them.
    let mut labels: Vec<(usize, Option<char>, usize)> = Vec::new();
    for at in 0..chars.len() {
        let free =
            at == 0 || get(at - 1).is_some_and(|c| c.is_whitespace() || c == ',' || c == ';');
        let first = chars
            .get(..at)
            .unwrap_or_default()
            .iter()
            .all(|(_, c)| c.is_whitespace());
        // `A1`, `1a`, and at the start `A`: of `A1` the letter says what belongs together.
        let (group, length) = match (get(at).filter(|_| free), get(at + 1)) {
            (Some(letter), Some(digit))
                if letter.is_ascii_alphabetic() && digit.is_ascii_digit() =>
            {
                (Some(letter.to_ascii_uppercase()), 2)
            }
            (Some(digit), Some(letter))
                if digit.is_ascii_digit() && letter.is_ascii_alphabetic() =>
            {
                (Some(digit), 2)
            }
            (Some(letter), _) if letter.is_ascii_alphabetic() && first => (None, 1),
            _ => continue,
        };
        let mark = get(at + length);
        let closed = matches!(mark, Some(')' | '.' | ':'))
            && get(at + length + 1).is_some_and(char::is_whitespace);
        // `A1 bench`: without a mark only at the start, and only with a letter before its number.
        let lettered = group.is_some_and(char::is_alphabetic);
        let open = first && lettered && mark.is_some_and(char::is_whitespace);
        if closed || open {
            let behind = at + length + usize::from(closed);
            let end = chars.get(behind).map_or(line.len(), |(byte, _)| *byte);
            let start = chars.get(at).map_or(0, |(byte, _)| *byte);
            labels.push((start, group, end));
        }
    }
    if labels.is_empty() {
        return vec![(None, unbulleted(line).to_owned())];
    }
    let mut out = Vec::new();
    let first = labels.first().map_or(0, |(start, _, _)| *start);
    let before = line.get(..first).unwrap_or_default();
    if !before.trim().is_empty() {
        out.push((None, unbulleted(before).to_owned()));
    }
    for (place, (_, letter, from)) in labels.iter().enumerate() {
        let to = labels
            .get(place + 1)
            .map_or(line.len(), |(start, _, _)| *start);
        let text = line.get(*from..to).unwrap_or_default();
        let text = text.trim().trim_end_matches([',', ';']);
        out.push((*letter, text.to_owned()));
    }
    out
}

/// Without `-`, `*`, `•`, `1.`, `2)` at the start.
fn unbulleted(line: &str) -> &str {
    let line = line.trim();
    let bullet = line.strip_prefix(['-', '*', '•', '–']);
    let line = bullet
        .filter(|rest| rest.starts_with(char::is_whitespace))
        .map_or(line, str::trim);
    let digits = line.find(|c: char| !c.is_ascii_digit()).unwrap_or(0);
    let rest = line.get(digits..).unwrap_or_default();
    let rest = rest
        .strip_prefix(['.', ')'])
        .filter(|rest| digits > 0 && rest.starts_with(char::is_whitespace));
    rest.map_or(line, str::trim)
}

/// The tokens of the first week of a progression, with what holds for all weeks; and the words on
/// the other weeks.
pub(super) fn first_week(line: &str, tokens: Vec<Token>) -> (Vec<Token>, String) {
    let labels = week_labels(&tokens);
    let text = |from: usize, to: usize| {
        let start = tokens.get(from).map_or(line.len(), |token| token.start);
        let end = tokens
            .get(to.saturating_sub(1))
            .map_or(start, |token| token.end);
        line.get(start..end).unwrap_or_default().to_owned()
    };
    let Some(&(first, behind)) = labels.first() else {
        return (tokens, String::new());
    };
    let part = |from: usize, to: usize| tokens.get(from..to).unwrap_or_default().to_vec();
    let trailing = first > 0
        && tokens
            .get(first - 1)
            .is_some_and(|token| token.sign() == Some('('));
    let Some(&(second, _)) = labels.get(1) else {
        // One week alone is named: that is a word on the whole line.
        let from = first - usize::from(trailing);
        let to = behind + usize::from(trailing);
        let mut rest = part(0, from);
        rest.extend(part(to, tokens.len()));
        return (rest, text(first, behind));
    };
    let (_, end) = labels.last().copied().unwrap_or((first, behind));
    let numbers = part(0, first)
        .iter()
        .any(|token| matches!(token.kind, Kind::Number(_)));
    if !trailing && numbers && end == tokens.len() && behind < second {
        // `3x10 week 1, 3x8 week 2`.
        return (
            part(0, first),
            format!("{}; then {}", text(first, behind), text(behind, end)),
        );
    }
    if trailing {
        let later = (behind + 1).min(tokens.len());
        return (
            part(0, first - 1),
            format!(
                "{}; then {}",
                text(first, behind),
                text(later, tokens.len())
            ),
        );
    }
    let (last, _) = labels.last().copied().unwrap_or((second, second));
    let tail = (last..tokens.len()).find(|&at| {
        tokens
            .get(at)
            .is_some_and(|token| token.sign() == Some(';'))
    });
    let tail = tail.unwrap_or(tokens.len());
    let mut week = part(0, first);
    week.extend(part(behind, second));
    while week
        .last()
        .is_some_and(|token| matches!(token.sign(), Some(',' | ';' | '-')))
    {
        week.pop();
    }
    let later = text(second, tail);
    let named = text(first, behind);
    week.extend(part(tail, tokens.len()));
    (week, format!("{named}; then {later}"))
}

/// `wk 1-3`, `week 2:`, `W0-4`, `10's week`: from their first token to behind their last.
fn week_labels(tokens: &[Token]) -> Vec<(usize, usize)> {
    let is = |at: usize, words: &[&str]| {
        tokens
            .get(at)
            .is_some_and(|token| words.contains(&token.text.as_str()))
    };
    let number = |at: usize| {
        tokens
            .get(at)
            .is_some_and(|token| matches!(token.kind, Kind::Number(_)))
    };
    let glued = |at: usize| tokens.get(at).is_some_and(|token| token.glued);
    let dash = |at: usize| {
        tokens
            .get(at)
            .is_some_and(|token| token.sign() == Some('-'))
    };
    let mut out = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let word = is(at, &["wk", "wks", "week", "weeks"]) || (is(at, &["w"]) && glued(at + 1));
        let mut to = at;
        if word && number(at + 1) {
            to = at + 2;
            if dash(to) && glued(to) && number(to + 1) && glued(to + 1) {
                to += 2;
            }
        } else if number(at) && is(at + 1, &["'"]) && is(at + 2, &["s"]) && is(at + 3, &["week"]) {
            to = at + 4;
        }
        if to > at {
            to += usize::from(is(to, &[":"]) || dash(to));
            if is(to, &["taper", "deload"]) {
                to += 1;
                to += usize::from(is(to, &[":"]));
            }
            out.push((at, to));
            at = to;
        } else {
            at += 1;
        }
    }
    out
}

impl Assembled {
    /// Keeps words with the first exercise, or with the line where it has none.
    pub(super) fn keep(&mut self, words: &str) {
        if words.is_empty() {
            return;
        }
        let Some(slot) = self.slots.first_mut() else {
            self.notes.push(words.to_owned());
            return;
        };
        *slot = slot.noted(words);
    }
}
