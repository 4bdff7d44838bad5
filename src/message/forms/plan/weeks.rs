//! Progressions: which weeks a plan's text tells apart, by headings (`week 2`) or within its lines
//! (`wk 1-3 3x10, wk 4-6 3x8`). Weeks are counted from the first that is named.

use super::free;
use crate::domain::coaching::plan::MOST_WEEKS;

/// The weeks of a text.
pub(super) struct Weeks {
    /// For each line from the first heading on, the weeks of that heading; `None` for the heading
    /// itself and for lines that hold for all weeks.
    lines: Vec<Line>,
    /// Weeks behind the first from which on something else holds, in order.
    starts: Vec<u32>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Line {
    /// Holds in all weeks.
    Always,
    /// Only says which weeks the lines below are for.
    Heading,
    /// Holds from this week on, until another does.
    From(u32),
}

impl Weeks {
    /// Whether a line, by its place from 0, is of this week.
    pub(super) fn holds(&self, place: usize, week: u32) -> bool {
        let of = |line: &Line| match line {
            Line::From(from) => Some(*from),
            Line::Always | Line::Heading => None,
        };
        let latest = self.lines.iter().filter_map(of);
        let latest = latest.filter(|from| *from <= week).max();
        match self.lines.get(place) {
            Some(Line::Always) | None => true,
            Some(Line::Heading) => false,
            Some(Line::From(from)) => Some(*from) == latest,
        }
    }

    /// Weeks behind the first from which on something else holds, in order.
    pub(super) fn starts(&self) -> &[u32] {
        &self.starts
    }
}

/// The weeks of a text.
pub(super) fn of(text: &str) -> Weeks {
    let headings: Vec<Option<u32>> = text.lines().map(heading).collect();
    let first = headings.iter().flatten().min().copied();
    let mut open = Line::Always;
    let mut lines = Vec::new();
    let mut starts: Vec<u32> = Vec::new();
    for (line, heading) in text.lines().zip(headings) {
        if let Some(week) = heading {
            let week = week.saturating_sub(first.unwrap_or(week)) + 1;
            open = Line::From(week);
            starts.push(week);
            lines.push(Line::Heading);
            continue;
        }
        lines.push(open);
        starts.extend(free::week_starts(line));
    }
    starts.retain(|week| (2..=MOST_WEEKS).contains(week));
    starts.sort_unstable();
    starts.dedup();
    Weeks { lines, starts }
}

/// `week 2`, `## Weeks 3-4:`: the first week that a line by itself announces.
fn heading(line: &str) -> Option<u32> {
    let line = line.trim().trim_matches(['#', '*', '_', ' ', ':']);
    let lower = line.to_lowercase();
    let rest = ["weeks", "week", "wks", "wk"]
        .iter()
        .find_map(|word| lower.strip_prefix(word))?;
    let mut numbers = rest.trim().split(['-', '–']).map(str::trim);
    let week = numbers.next()?.parse().ok()?;
    let sound = numbers.all(|number| number.parse::<u32>().is_ok());
    sound.then_some(week)
}
