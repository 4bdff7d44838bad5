//! What can only be settled when the whole message is read: loads without repetitions, groups
//! without a name, supersets, days.

use super::{Group, MOST_GROUPS, Parsed, Parser, SaidDay};
use crate::message::grammar::item::{Item, Spanned};
use crate::message::grammar::scan::Scan;
use crate::message::reading::Technique;
use crate::message::words::token::Mark;

impl Parser<'_> {
    pub(super) fn finish(mut self) -> Parsed {
        let loose = std::mem::take(&mut self.loose);
        if let Some(segment) = self.out.segments.last_mut() {
            segment.flags.join(loose);
        }
        self.drop_stray_loads();
        self.name_the_unnamed();
        self.mark_supersets();
        self.set_days();
        self.repeat_rounds();
        self.out
    }

    /// `curl 30x10, pushdown 30x12, 3 rounds`: all of it so often. Sets that were counted already are said
    /// again, or it does not add up.
    fn repeat_rounds(&mut self) {
        let Some(rounds) = self.rounds else {
            return;
        };
        let counted = |group: &Group| group.core.reps.len() > 1;
        if self.out.groups.iter().any(counted) {
            let other = |group: &&mut Group| group.core.reps.len() != rounds;
            for group in self.out.groups.iter_mut().filter(other) {
                group.core.reps = vec![f64::NAN];
            }
            return;
        }
        let all = self.out.groups.len() * rounds;
        if all <= MOST_GROUPS {
            self.out.groups = self.out.groups.iter().cloned().cycle().take(all).collect();
        }
    }

    /// A load alone behind full groups of the same exercise is of the next set, or a remark:
    /// `80x10, 2 left, gonna try 82.5`.
    pub(super) fn drop_stray_loads(&mut self) {
        let full: Vec<usize> = self
            .out
            .groups
            .iter()
            .filter(|group| group.core.is_full())
            .map(|group| group.segment)
            .collect();
        let segments = &self.out.segments;
        let (scan, items) = (self.scan, self.items);
        self.out.groups.retain(|group| {
            let stray = group.core.is_load_only()
                && group.rir.is_empty()
                && !group.bad_effort
                && !stands_alone(scan, items, group);
            let unnamed = segments
                .get(group.segment)
                .is_some_and(|s| s.exercise.is_none());
            !(stray && (full.contains(&group.segment) || unnamed && !full.is_empty()))
        });
    }

    /// `60x10 bench, 50x12`: a group behind a name that came last is of that exercise, unless a
    /// name of its own followed.
    pub(super) fn name_the_unnamed(&mut self) {
        let mut named = None;
        for segment in &mut self.out.segments {
            named = segment.exercise.or(named);
            segment.exercise = named;
        }
    }

    /// A superset holds for its whole line, or, as a line of its own, for all below.
    pub(super) fn mark_supersets(&mut self) {
        for &(line, header) in &self.supersets {
            for group in &mut self.out.groups {
                if group.line == line || header && group.line > line {
                    group.technique = Some(Technique::Superset);
                }
            }
        }
    }

    /// A day holds for what follows it, and for its own line where it comes last.
    /// The day that is all of the last line.
    fn day_below(&self) -> Option<SaidDay> {
        let last = self.days.last().copied()?;
        let breaks = |s: &Spanned| s.item == Item::Break(true);
        let from = self.items.iter().rposition(breaks)? + 1;
        let mut own = self.items.get(from..)?.iter();
        let alone = own.all(|s| matches!(s.item, Item::Day(_) | Item::Comma | Item::Break(_)));
        (alone && last.at >= from).then_some(last)
    }

    pub(super) fn set_days(&mut self) {
        let of_line = |line: usize| self.days.iter().filter(move |day| day.line == line);
        let trailing: Vec<bool> = (0..=self.line)
            .map(|line| {
                let first = self.out.groups.iter().find(|g| g.line == line);
                let day = of_line(line).next();
                let behind = first.zip(day).is_some_and(|(g, day)| g.from < day.at);
                behind && of_line(line).count() > 1
            })
            .collect();
        // `bench 60x10`, and below it `yesterday`
        let below = self.day_below();
        for group in &mut self.out.groups {
            let before = self.days.iter().rfind(|day| day.at < group.from);
            let same_line = || self.days.iter().filter(|day| day.line == group.line);
            let said = match trailing.get(group.line) {
                // `bench 80x5 on monday, squat 100x5 on wednesday`
                Some(true) => same_line().find(|day| day.at > group.from).or(before),
                _ => before.or(same_line().next()).or(below.as_ref()),
            };
            group.day = said.and_then(|day| day.day);
        }
    }
}

/// Whether a load is all that its clause holds: `80x10, 82.5` and `80x10 then 90` lack repetitions,
/// `80x10, 82.5 next` speaks of what comes.
fn stands_alone(scan: &Scan<'_>, items: &[Spanned], group: &Group) -> bool {
    let before = group.from.checked_sub(1).and_then(|at| items.get(at));
    let opens = before.is_some_and(|s| matches!(s.item, Item::Comma | Item::And | Item::Break(_)));
    let behind = items.get(group.to);
    let ends = behind.is_none_or(|s| {
        matches!(s.item, Item::Comma | Item::And | Item::Break(_))
            && !scan.is(s.from, Mark::Question)
    });
    opens && ends
}
