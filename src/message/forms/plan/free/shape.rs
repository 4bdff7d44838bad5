//! What a line is before it is a sentence: labels, rows of a table, weeks of a progression.

use super::assemble::Assembled;
use super::lex::{Kind, Token};

/// What the columns of a table hold, from its head.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::message::forms::plan) struct Columns {
    columns: Vec<Column>,
    parted: Parted,
    /// What stands over the names where that is no word for them: `LOWER B`.
    pub(in crate::message::forms::plan) title: Option<String>,
}

impl Columns {
    /// Whether something other than the name heads the first column: the labels, where a row begins with one.
    pub(super) fn heads_labels(&self) -> bool {
        self.columns.first() == Some(&Column::Other) && self.columns.contains(&Column::Name)
    }

    pub(super) fn without_first(&self) -> Self {
        let mut rest = self.clone();
        rest.columns.drain(..1.min(rest.columns.len()));
        rest
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Column {
    Name,
    Sets,
    Reps,
    /// With the unit that the head names: `s`, `min`.
    Rest(&'static str),
    Rpe,
    Rir,
    /// With the unit that the head names: `kg`, `lb`.
    Load(&'static str),
    Tempo,
    Percent,
    Note,
    Other,
}

/// What stands between the cells of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Parted {
    Tab,
    Line,
    Gap,
    Comma,
    Semicolon,
    /// Single spaces, in the head of a table alone.
    Space,
}

impl Parted {
    fn cells(self, line: &str) -> Vec<String> {
        let line = line.trim();
        let parts: Vec<&str> = match self {
            Self::Tab => line.split('\t').collect(),
            Self::Line => {
                let inner = line.trim_start_matches('|').trim_end_matches('|');
                inner.split('|').collect()
            }
            Self::Gap => {
                let parts = line.split("  ");
                parts.filter(|part| !part.trim().is_empty()).collect()
            }
            Self::Comma => line.split(',').collect(),
            Self::Semicolon => line.split(';').collect(),
            Self::Space => line.split_whitespace().collect(),
        };
        parts.iter().map(|part| part.trim().to_owned()).collect()
    }
}

/// The cells of a row: parted by tabs, upright lines or wide gaps; or by commas or semicolons, where
/// numbers alone stand behind the name. `None` for a line that is no row.
fn cells(line: &str) -> Option<(Vec<String>, Parted)> {
    let line = line.trim();
    if line.contains('\t') {
        return Some((Parted::Tab.cells(line), Parted::Tab));
    }
    if line.contains('|') {
        return Some((Parted::Line.cells(line), Parted::Line));
    }
    let wide = Parted::Gap.cells(line);
    if wide.len() >= 3 {
        return Some((wide, Parted::Gap));
    }
    [(Parted::Comma, 3), (Parted::Semicolon, 6)]
        .into_iter()
        .find_map(|(parted, most)| {
            let cells = parted.cells(line);
            let named = cells
                .first()
                .is_some_and(|cell| !cell.contains(|c: char| c.is_ascii_digit()));
            let few = |cell: &str| cell.len() <= 3 && is_count(cell);
            let sets = few(cells.get(1)?);
            let list =
                |cell: &str| parted == Parted::Semicolon && is_count(&cell.replace(',', "/"));
            let reps = cells
                .get(2)
                .is_some_and(|cell| is_count(cell) || list(cell));
            let tight = parted == Parted::Comma && !line.contains(", ");
            let most = if tight { 6 } else { most };
            (named && sets && reps && cells.len() <= most).then_some((cells, parted))
        })
}

/// A number or a range, or words for as many as possible.
fn is_count(cell: &str) -> bool {
    let digits = cell.chars().filter(char::is_ascii_digit).count();
    let plain = |c: char| c.is_ascii_digit() || "-– /".contains(c);
    (digits > 0 && cell.chars().all(plain))
        || matches!(cell.to_lowercase().as_str(), "max" | "amrap" | "failure")
}

/// A number alone, decimals included.
fn is_number(cell: &str) -> bool {
    cell.replace(',', ".").parse::<f64>().is_ok()
}

/// What a column of this head holds.
fn column(head: &str) -> Column {
    let head = head.to_lowercase();
    let head = head.trim_matches(['*', ':', '#', '_', ' ']);
    // `Load (kg)`, `rest_s`: the word, and the unit that its numbers are in.
    let (word, unit) = head
        .split_once(['(', '_', '['])
        .map_or((head, ""), |(word, unit)| {
            (word.trim(), unit.trim_matches([')', ']', ' ', '.']))
        });
    let unit = match unit {
        "kg" | "kgs" => "kg",
        "lb" | "lbs" => "lb",
        "s" | "sec" | "secs" | "seconds" => "s",
        "min" | "mins" | "minutes" => "min",
        _ => "",
    };
    match word {
        "exercise" | "exercises" | "movement" | "lift" | "name" => Column::Name,
        "sets" | "set" => Column::Sets,
        "reps" | "rep" | "repetitions" | "reps/time" => Column::Reps,
        "rest" | "rest time" | "recovery" | "pause" => Column::Rest(unit),
        "rpe" => Column::Rpe,
        "rir" | "left" | "reps left" => Column::Rir,
        "kg" => Column::Load("kg"),
        "lb" | "lbs" => Column::Load("lb"),
        "load" | "weight" => Column::Load(unit),
        "tempo" => Column::Tempo,
        "%" | "% 1rm" | "%1rm" | "intensity" => Column::Percent,
        "note" | "notes" | "comment" | "comments" | "cue" | "cues" | "remarks" => Column::Note,
        _ => Column::Other,
    }
}

/// The columns that a line names, where it is the head of a table.
pub(in crate::message::forms::plan) fn columns(line: &str) -> Option<Columns> {
    let parted = [Parted::Tab, Parted::Line, Parted::Gap];
    let loose = [Parted::Comma, Parted::Semicolon, Parted::Space];
    let marked = |parted: &Parted| match parted {
        Parted::Tab => line.contains('\t'),
        Parted::Line => line.contains('|'),
        _ => true,
    };
    let split = |parted: Parted| (parted, parted.cells(line));
    let first = parted.into_iter().filter(marked).map(split);
    let mut ways = first.chain(loose.into_iter().map(split));
    let (parted, cells) = ways.find(|(_, cells)| cells.len() >= 3)?;
    let mut columns: Vec<Column> = cells.iter().map(|cell| column(cell)).collect();
    let known = columns
        .iter()
        .filter(|column| **column != Column::Other)
        .count();
    let counts = columns.contains(&Column::Sets) || columns.contains(&Column::Reps);
    let is_head = known >= 2 && counts && known * 2 > columns.len();
    let nameless = !columns.contains(&Column::Name);
    let mut title = None;
    if let Some(first) = columns.first_mut().filter(|_| nameless)
        && *first == Column::Other
    {
        *first = Column::Name;
        title = cells.first().filter(|cell| !cell.is_empty()).cloned();
    }
    is_head.then_some(Columns {
        columns,
        parted,
        title,
    })
}

/// Whether a line only rules off the head of a table.
pub(in crate::message::forms::plan) fn is_rule(line: &str) -> bool {
    line.contains('-')
        && line
            .chars()
            .all(|c| c.is_whitespace() || "|-:+=_".contains(c))
}

/// A row of a table as a sentence: `Back Squat, 4 x 6-8, rest 180s`.
pub(super) fn row(line: &str, columns: Option<&Columns>) -> Option<String> {
    let of_table = columns.and_then(|table| {
        let cells = table.parted.cells(line);
        let loose = matches!(table.parted, Parted::Comma | Parted::Semicolon);
        // A comma or a semicolon also stands in sentences: a row has as many cells as its head.
        let fits = match loose {
            true => cells.len() == table.columns.len(),
            false => table.parted != Parted::Space && cells.len() > 1,
        };
        fits.then_some(cells)
    });
    let cells = of_table.or_else(|| cells(line).map(|(cells, _)| cells))?;
    let headed = |place: usize| columns.and_then(|table| table.columns.get(place)).copied();
    let place_of = |wanted: Column| (0..cells.len()).find(|&place| headed(place) == Some(wanted));
    // `Exercise, Reps, Sets`: put together wherever they stand.
    let counts = place_of(Column::Sets).zip(place_of(Column::Reps));
    let counts = counts.and_then(|(sets, reps)| {
        let (of_sets, of_reps) = (cells.get(sets)?, cells.get(reps)?);
        (is_count(of_sets) && !of_reps.is_empty())
            .then(|| (sets, reps, format!("{of_sets} x {of_reps}")))
    });
    let mut out: Vec<String> = Vec::new();
    let mut sets: Option<String> = None;
    let mut counted = false;
    for (place, cell) in cells.iter().enumerate() {
        if cell.is_empty() || matches!(cell.as_str(), "-" | "–" | "—") {
            continue;
        }
        if let Some((of_sets, of_reps, both)) = &counts {
            if place == *of_sets.min(of_reps) {
                out.push(both.clone());
                counted = true;
                continue;
            }
            if place == *of_sets.max(of_reps) {
                continue;
            }
        }
        let bare = is_count(cell);
        let column = headed(place).unwrap_or(match place {
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
            Column::Rest(unit) if bare => out.push(format!("rest {cell} {unit}")),
            Column::Rest(_) => out.push(format!("rest {}", cell.trim_start_matches("rest"))),
            Column::Rpe if bare || is_number(cell) => out.push(format!("rpe {cell}")),
            Column::Rir if bare || is_number(cell) => out.push(format!("{cell} rir")),
            Column::Load(unit) if !unit.is_empty() && is_number(cell) => {
                out.push(format!("{cell} {unit}"));
            }
            Column::Tempo => out.push(format!("tempo {cell}")),
            Column::Percent if bare || is_number(cell) => out.push(format!("{cell}%")),
            Column::Note => out.push(format!("\"{}\"", cell.replace('"', "'"))),
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
            // `Circuit x3:` is a number of rounds.
            (Some('x' | 'X'), _) => continue,
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
        // `C  Deadlift`, `C Deadlift`: a letter by itself before a wide gap or a capital.
        let wide = length == 1
            && mark.is_some_and(char::is_whitespace)
            && (get(at + length + 1).is_some_and(char::is_whitespace)
                || get(at).is_some_and(|c| ('A'..='H').contains(&c))
                    && get(at + length + 1).is_some_and(char::is_uppercase));
        let closed = matches!(mark, Some(')' | '.' | ':'))
            && get(at + length + 1).is_some_and(char::is_whitespace);
        // `A1 bench`: without a mark only at the start, and only with a letter before its number.
        let lettered = group.is_some_and(char::is_alphabetic);
        // `A1 bench 3x10 A2 row 3x10`: behind the first of its letter.
        let goes_on = labels
            .last()
            .is_some_and(|(_, before, _)| lettered && *before == group);
        let open =
            wide || ((first || goes_on) && lettered && mark.is_some_and(char::is_whitespace));
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

/// A line as it is in each of the weeks that it tells apart, with the first of them, counted from the
/// first that is named; `None` for a line that tells none apart.
///
/// ```text
/// squat 4 sets, wk 1-3 10-12 reps, wk 4-6 8-10; rest 2 min      the label before
/// bench 3x10 (wk 1), 3x8 (wk 2)                                 the label behind, in brackets or not
/// ```
pub(super) fn weeks(line: &str) -> Option<Vec<(u32, String)>> {
    let tokens = super::lex::tokens(line);
    let labels = week_labels(line, &tokens);
    let [(first, behind), (second, _), ..] = labels.as_slice() else {
        return None;
    };
    let numbers = labels.iter().map(|(from, _)| {
        let number = tokens.get(from + 1)?;
        match number.kind {
            Kind::Number(value) => super::numbers::whole(value),
            Kind::Word | Kind::Sign(_) => None,
        }
    });
    let numbers: Vec<u32> = numbers.collect::<Option<_>>()?;
    let (lowest, rising) = (
        *numbers.first()?,
        numbers.windows(2).all(|two| two[0] < two[1]),
    );
    if !rising {
        return None;
    }
    let text = |from: usize, to: usize| {
        let start = tokens.get(from).map_or(line.len(), |token| token.start);
        let last = to.checked_sub(1).and_then(|last| tokens.get(last));
        let end = last.map_or(start, |token| token.end);
        let text = line.get(start..end.max(start)).unwrap_or_default();
        text.trim_matches([' ', ',', ';', '(', ')', '-', '–', '.'])
    };
    let bracket = |at: usize| {
        tokens
            .get(at)
            .is_some_and(|token| token.sign() == Some('('))
    };
    let trailing = first.checked_sub(1).is_some_and(bracket);
    let is_number =
        |at: &usize| matches!(tokens.get(*at).map(|one| one.kind), Some(Kind::Number(_)));
    let counted = (0..*first).find(is_number);
    let (_, end) = *labels.last()?;
    let label_behind = trailing || (counted.is_some() && end == tokens.len() && behind < second);
    let mut out = Vec::new();
    if label_behind {
        // The name, up to the first number, holds for all weeks.
        let head = text(0, counted?);
        let mut from = counted?;
        for ((label, behind), number) in labels.iter().zip(&numbers) {
            let part = text(from, label - usize::from(trailing));
            out.push((number - lowest + 1, format!("{head} {part}")));
            from = behind + usize::from(trailing);
        }
    } else {
        let (last, _) = *labels.last()?;
        let tail = (last..tokens.len())
            .find(|&at| tokens.get(at).is_some_and(|one| one.sign() == Some(';')));
        let tail = tail.unwrap_or(tokens.len());
        let head = text(0, *first);
        for (place, ((_, from), number)) in labels.iter().zip(&numbers).enumerate() {
            let to = labels.get(place + 1).map_or(tail, |(next, _)| *next);
            let parts = [text(*from, to), text(tail, tokens.len())];
            let parts = parts.into_iter().filter(|part| !part.is_empty());
            let parts = parts.collect::<Vec<_>>().join(", ");
            out.push((number - lowest + 1, format!("{head}, {parts}")));
        }
    }
    Some(out)
}

/// The tokens of the first week of a progression, with what holds for all weeks; and the words on
/// the other weeks.
pub(super) fn first_week(line: &str, tokens: Vec<Token>) -> (Vec<Token>, String) {
    let labels = week_labels(line, &tokens);
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
fn week_labels(line: &str, tokens: &[Token]) -> Vec<(usize, usize)> {
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
        // Words to the lifter, in quotation marks, are none.
        let quoted = tokens.get(at).is_some_and(|token| {
            let (before, after) = line.split_at_checked(token.start).unwrap_or((line, ""));
            before.matches('"').count() % 2 == 1 && after.contains('"')
        });
        if to > at && !quoted {
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
