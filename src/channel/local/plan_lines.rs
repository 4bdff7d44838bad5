//! A plan typed line by line: a window has no message of several lines, and a coach types the days
//! of a plan below its command, as they would be written elsewhere.

use std::borrow::Cow;

use crate::message::forms::plan::{day_word, day_words, nearest_day, weekday};

/// The plan that somebody is typing.
#[derive(Debug, Default)]
pub(super) struct PlanLines {
    speaker: String,
    /// The command, then a line for each day, or `for NAME:` above those of a member.
    lines: Vec<String>,
}

impl PlanLines {
    /// What a typed message is to be posted as: below `/plan`, a day is posted with the command and
    /// the days before it. A day that comes again takes the place of the first, so that a slip is
    /// mended by typing that line anew.
    pub(super) fn posted<'a>(&mut self, speaker: &str, text: &'a str) -> Cow<'a, str> {
        let first = text.split_whitespace().next();
        if first == Some("/plan") {
            speaker.clone_into(&mut self.speaker);
            self.lines = vec![text.to_owned()];
        } else if self.lines.is_empty() || self.speaker != speaker || !self.add(text) {
            self.lines.clear();
        } else {
            return Cow::Owned(self.lines.join("\n"));
        }
        Cow::Borrowed(text)
    }

    /// Why a line below the command is neither a day of the plan nor said by somebody: a slip in a
    /// day, which would else be taken for a name.
    pub(super) fn slip(&self, speaker: &str, line: &str) -> Option<String> {
        if self.lines.is_empty() || self.speaker != speaker {
            return None;
        }
        let (head, _) = line.split_once(':')?;
        let words: Vec<&str> = day_words(head).collect();
        let near = |word: &&str| weekday(word).or_else(|| nearest_day(word)).is_some();
        if !words.iter().all(near) {
            return None;
        }
        let slip = words.into_iter().find(|word| weekday(word).is_none())?;
        let meant = nearest_day(slip).map(day_word)?;
        Some(format!(
            "`{slip}` is no day: did you mean `{meant}`? Nothing was changed. To speak as {slip}, \
             write `as {slip}`."
        ))
    }

    /// Adds a line; false where it is none of a plan.
    fn add(&mut self, line: &str) -> bool {
        if is_whose(line) {
            self.lines.push(line.to_owned());
            return true;
        }
        let Some(days) = days(line) else { return false };
        let whose = self.lines.iter().rposition(|line| is_whose(line));
        let own = self.lines.iter_mut().skip(whose.unwrap_or_default() + 1);
        match own.into_iter().find(|old| self::days(old) == Some(days)) {
            Some(old) => line.clone_into(old),
            None => self.lines.push(line.to_owned()),
        }
        true
    }
}

/// Whether the lines below this one are of members that it names: `for ines, tomas:`.
fn is_whose(line: &str) -> bool {
    line.starts_with("for ") && line.ends_with(':')
}

/// The days before a line's colon; `None` where it begins with anything else.
fn days(line: &str) -> Option<&str> {
    let (days, _) = line.split_once(':')?;
    day_words(days)
        .all(|word| weekday(word).is_some())
        .then_some(days)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_below_the_command_are_posted_with_it() {
        let mut plan = PlanLines::default();
        let posted = [
            ("coach", "mon: squat 3x5", "mon: squat 3x5"),
            ("coach", "/plan ines", "/plan ines"),
            ("coach", "mon: squat 4x8", "/plan ines\nmon: squat 4x8"),
            (
                "coach",
                "tues and thurs: row 3x9",
                "/plan ines\nmon: squat 4x8\ntues and thurs: row 3x9",
            ),
            (
                "coach",
                "mon: squat 5x5",
                "/plan ines\nmon: squat 5x5\ntues and thurs: row 3x9",
            ),
            ("ines", "mon: squat 100x5", "mon: squat 100x5"),
            ("coach", "wed: row 3x9", "wed: row 3x9"),
        ];
        for (speaker, typed, expected) in posted {
            assert_eq!(plan.posted(speaker, typed), expected, "{typed}");
        }
    }

    #[test]
    fn a_slip_in_a_day_is_told_and_what_is_typed_stays() {
        let mut plan = PlanLines::default();
        assert_eq!(plan.slip("coach", "mno: squat 4x8"), None);
        let _ = plan.posted("coach", "/plan ines");
        let told = plan.slip("coach", "mno: squat 4x8").unwrap();
        assert!(told.contains("did you mean `mon`?"), "{told}");
        assert!(plan.slip("coach", "mon and xyzzy: squat 4x8").is_none());
        assert!(plan.slip("coach", "mon, teusday: squat 4x8").is_some());
        assert_eq!(plan.slip("coach", "tomas: squat 80x8"), None);
        assert_eq!(plan.slip("coach", "mon: squat 4x8"), None);
        assert_eq!(plan.slip("ines", "mno: squat 4x8"), None);
        assert_eq!(
            plan.posted("coach", "mon: squat 4x8"),
            "/plan ines\nmon: squat 4x8"
        );
    }

    #[test]
    fn a_day_belongs_to_the_members_named_above_it() {
        let mut plan = PlanLines::default();
        for typed in [
            "/plan next week",
            "for ines:",
            "mon: squat 4x8",
            "for tomas:",
        ] {
            let _ = plan.posted("coach", typed);
        }
        assert_eq!(
            plan.posted("coach", "mon: row 3x9"),
            "/plan next week\nfor ines:\nmon: squat 4x8\nfor tomas:\nmon: row 3x9"
        );
    }
}
