//! What happens once a week at a team's own hour: at which instant, and about which week.
//!
//! Which weeks were had already, and what happens then, is known elsewhere.

use chrono::{DateTime, Datelike as _, Days, NaiveTime, TimeDelta, Utc, Weekday};

use super::calendar::{TeamCalendar, Week};

/// How late it may still happen; later, that week goes without.
pub const LATEST: TimeDelta = TimeDelta::days(1);

/// A day of the week and a time on the team's clocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WeeklyHour {
    /// The day.
    pub weekday: Weekday,
    /// The time, to the minute.
    pub time: NaiveTime,
}

impl WeeklyHour {
    /// The instant at which it happens for `week`. On the last two days of a team's week it is
    /// about the week that is ending, on the other days about the one that ended. A time that the
    /// clocks leap over is the instant of the leap; of a time that comes twice it is the first.
    ///
    /// ```
    /// use chalkbell::domain::quantities::calendar::TeamCalendar;
    /// use chalkbell::domain::quantities::weekly::WeeklyHour;
    /// use chrono::{NaiveDate, NaiveTime, Weekday};
    ///
    /// let calendar = TeamCalendar { zone: chrono_tz::Europe::Berlin, week_start: Weekday::Mon };
    /// let week = calendar.week_of(NaiveDate::from_ymd_opt(2026, 3, 25).unwrap_or_default());
    /// let time = NaiveTime::from_hms_opt(2, 30, 0).unwrap_or_default();
    /// let hour = WeeklyHour { weekday: Weekday::Sun, time };
    /// // Clocks leap from 2:00 to 3:00 on that Sunday.
    /// assert_eq!(hour.of(week, calendar).to_rfc3339(), "2026-03-29T01:00:00+00:00");
    /// ```
    pub fn of(self, week: Week, calendar: TeamCalendar) -> DateTime<Utc> {
        let offset = self.weekday.days_since(week.first_day().weekday());
        let ends = offset >= 5;
        let days = Days::new(u64::from(offset) + if ends { 0 } else { 7 });
        let day = week.first_day().checked_add_days(days);
        calendar.instant_of(day.unwrap_or(week.last_day()), self.time)
    }

    /// The first week for which it has not happened by `now`.
    pub fn first(self, calendar: TeamCalendar, now: DateTime<Utc>) -> Week {
        let mut week = calendar.week_of(calendar.day_of(now)).previous().previous();
        while self.of(week, calendar) < now && week < week.next() {
            week = week.next();
        }
        week
    }

    /// The week for which it happens next, after the one labelled `last`, and the instant: not
    /// more than [`LATEST`] before `now`. So a week that an hour or a zone newly set has already
    /// passed over is still had, and none is had twice.
    pub fn next(
        self,
        last: &str,
        calendar: TeamCalendar,
        now: DateTime<Utc>,
    ) -> (Week, DateTime<Utc>) {
        let mut week = self.first(calendar, now - LATEST);
        // Labels are in the order of their weeks.
        while week.label().as_str() <= last && week < week.next() {
            week = week.next();
        }
        (week, self.of(week, calendar))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SUNDAY: WeeklyHour = WeeklyHour {
        weekday: Weekday::Sun,
        time: NaiveTime::MIN,
    };

    fn utc(text: &str) -> DateTime<Utc> {
        text.parse().unwrap()
    }

    fn calendar(zone: chrono_tz::Tz) -> TeamCalendar {
        let week_start = Weekday::Mon;
        TeamCalendar { zone, week_start }
    }

    fn at(weekday: Weekday, hour: u32) -> WeeklyHour {
        let time = NaiveTime::from_hms_opt(hour, 0, 0).unwrap();
        WeeklyHour { weekday, time }
    }

    #[test]
    fn last_two_days_are_about_their_own_week_and_others_about_the_one_before() {
        let calendar = calendar(chrono_tz::UTC);
        let week = calendar.week_of("2026-11-25".parse().unwrap());
        for (weekday, day) in [
            (Weekday::Sat, "2026-11-28T18:00:00Z"),
            (Weekday::Sun, "2026-11-29T18:00:00Z"),
            (Weekday::Mon, "2026-11-30T18:00:00Z"),
            (Weekday::Fri, "2026-12-04T18:00:00Z"),
        ] {
            assert_eq!(at(weekday, 18).of(week, calendar), utc(day), "{weekday}");
        }
    }

    #[test]
    fn hour_that_is_now_is_still_to_come() {
        let calendar = calendar(chrono_tz::UTC);
        let first = |now| at(Weekday::Sun, 18).first(calendar, utc(now)).label();
        assert_eq!(first("2026-11-29T18:00:00Z"), "2026-W48");
        assert_eq!(first("2026-11-29T18:00:01Z"), "2026-W49");
    }

    #[test]
    fn week_that_was_had_is_not_had_again_though_its_hour_comes_again() {
        // Had in Kiritimati; then the team goes to Honolulu, where it is still Saturday.
        let honolulu = calendar(chrono_tz::Pacific::Honolulu);
        let now = utc("2026-11-29T05:00:00Z");
        let (week, due) = at(Weekday::Sun, 18).next("2026-W48", honolulu, now);
        assert_eq!(week.label(), "2026-W49");
        assert_eq!(due, utc("2026-12-07T04:00:00Z"));
    }

    #[test]
    fn week_whose_hour_a_new_zone_has_passed_over_is_had_late() {
        // Sunday, 12:00 in Honolulu; in Kiritimati it is Monday, 12:00.
        let kiritimati = calendar(chrono_tz::Pacific::Kiritimati);
        let now = utc("2026-11-29T22:00:00Z");
        let (week, due) = at(Weekday::Sun, 18).next("2026-W47", kiritimati, now);
        assert_eq!(week.label(), "2026-W48");
        assert_eq!(due, utc("2026-11-29T04:00:00Z"));
    }

    #[test]
    fn week_that_is_more_than_a_day_late_goes_without() {
        let calendar = calendar(chrono_tz::UTC);
        let next = |now| at(Weekday::Sun, 18).next("2026-W47", calendar, utc(now)).0;
        assert_eq!(next("2026-11-30T18:00:00Z").label(), "2026-W48");
        assert_eq!(next("2026-11-30T18:00:01Z").label(), "2026-W49");
    }

    #[test]
    fn the_end_of_time_ends_the_search() {
        let calendar = calendar(chrono_tz::UTC);
        let _ = SUNDAY.next("2026-W48", calendar, DateTime::<Utc>::MAX_UTC - LATEST);
        let _ = SUNDAY.first(calendar, DateTime::<Utc>::MIN_UTC + LATEST + LATEST);
    }
}
