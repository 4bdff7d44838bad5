//! A team's days and weeks, across clock changes.
//!
//! A day runs from the first instant that the team's clocks show its date; a week is seven such
//! days from the team's own first weekday. Neither is a fixed number of hours. What `yesterday` or
//! `mon` means in a message is resolved elsewhere with [`most_recent`].

use std::fmt;

use chrono::{DateTime, Datelike, Days, MappedLocalTime, NaiveDate, NaiveDateTime, NaiveTime};
use chrono::{TimeZone, Utc, Weekday};
use chrono_tz::Tz;

/// How a team reckons days and weeks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TeamCalendar {
    /// The team's time zone.
    pub zone: Tz,
    /// The weekday on which its weeks begin.
    pub week_start: Weekday,
}

/// Seven days of a team's calendar.
///
/// Its label is `YYYY-Www`: the ISO 8601 year and week of its fourth day. For weeks from Monday the
/// fourth day is the Thursday that decides in ISO 8601, so this is the ISO week exactly. Weeks that
/// start on another day take the ISO week that holds the fourth of their seven days; no two of a
/// team's weeks share a label.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Week {
    start: NaiveDate,
}

impl Week {
    /// Its first day.
    pub const fn first_day(self) -> NaiveDate {
        self.start
    }

    /// Its last, seventh day.
    pub fn last_day(self) -> NaiveDate {
        later(self.start, 6)
    }

    /// Its label: `2026-W48`.
    pub fn label(self) -> String {
        self.to_string()
    }

    /// Whether `day` lies in it.
    pub fn contains(self, day: NaiveDate) -> bool {
        self.start <= day && day <= self.last_day()
    }

    /// Its seven days in order.
    pub fn days(self) -> impl Iterator<Item = NaiveDate> {
        self.start.iter_days().take(7)
    }

    /// The week before.
    #[must_use]
    pub fn previous(self) -> Self {
        let start = earlier(self.start, 7);
        Self { start }
    }

    /// The week after.
    #[must_use]
    pub fn next(self) -> Self {
        let start = later(self.start, 7);
        Self { start }
    }
}

impl fmt::Display for Week {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let fourth = later(self.start, 3).iso_week();
        write!(f, "{:04}-W{:02}", fourth.year(), fourth.week())
    }
}

impl TeamCalendar {
    /// The date that the team's clocks show at `instant`.
    pub fn day_of(self, instant: DateTime<Utc>) -> NaiveDate {
        instant.with_timezone(&self.zone).date_naive()
    }

    /// The week that `day` lies in.
    ///
    /// ```
    /// use chalkbell::domain::quantities::calendar::TeamCalendar;
    /// use chrono::{NaiveDate, Weekday};
    ///
    /// let calendar = TeamCalendar {
    ///     zone: chrono_tz::Europe::Berlin,
    ///     week_start: Weekday::Mon,
    /// };
    /// let day = NaiveDate::from_ymd_opt(2026, 12, 31).unwrap_or_default();
    /// assert_eq!(calendar.week_of(day).to_string(), "2026-W53");
    /// ```
    pub fn week_of(self, day: NaiveDate) -> Week {
        let since_start = day.weekday().days_since(self.week_start);
        let start = earlier(day, u64::from(since_start));
        Week { start }
    }

    /// The first instant of `day`: midnight, or, where the clocks leap over midnight, the instant of
    /// the leap.
    pub fn start_of(self, day: NaiveDate) -> DateTime<Utc> {
        self.instant_of(day, NaiveTime::MIN)
    }

    /// Noon of `day`: the time given to sets that were filed for a day without a time.
    pub fn noon_of(self, day: NaiveDate) -> DateTime<Utc> {
        let noon = NaiveTime::from_hms_opt(12, 0, 0).unwrap_or_default();
        self.instant_of(day, noon)
    }

    /// The first instant at which the team's clocks show `time` on `day`; where they leap over it,
    /// the instant of the leap.
    pub fn instant_of(self, day: NaiveDate, time: NaiveTime) -> DateTime<Utc> {
        let local = day.and_time(time);
        match self.zone.from_local_datetime(&local) {
            MappedLocalTime::Single(instant) => instant.to_utc(),
            MappedLocalTime::Ambiguous(one, other) => one.min(other).to_utc(),
            MappedLocalTime::None => self.leap_over(local),
        }
    }

    /// The instant at which the clocks leap over `local`: found by halving, since zones publish no
    /// list of their leaps. Clocks are never more than a day off UTC, nor leap by more than one
    /// (zones that crossed the date line), so three days to either side hold it.
    fn leap_over(self, local: NaiveDateTime) -> DateTime<Utc> {
        const REACH_S: i64 = 3 * 24 * 3600;
        let at = |second| DateTime::from_timestamp(second, 0).unwrap_or(local.and_utc());
        let middle = local.and_utc().timestamp();
        let (mut before, mut after) = (middle - REACH_S, middle + REACH_S);
        while after - before > 1 {
            let half = i64::midpoint(before, after);
            if at(half).with_timezone(&self.zone).naive_local() < local {
                before = half;
            } else {
                after = half;
            }
        }
        at(after)
    }
}

/// The most recent `weekday` before the day `before`: one to seven days back.
///
/// ```
/// use chalkbell::domain::quantities::calendar::most_recent;
/// use chrono::{NaiveDate, Weekday};
///
/// let tuesday = NaiveDate::from_ymd_opt(2026, 3, 3).unwrap_or_default();
/// let last_tuesday = NaiveDate::from_ymd_opt(2026, 2, 24).unwrap_or_default();
/// assert_eq!(most_recent(Weekday::Tue, tuesday), last_tuesday);
/// ```
pub fn most_recent(weekday: Weekday, before: NaiveDate) -> NaiveDate {
    let yesterday = before.weekday().pred();
    let further = yesterday.days_since(weekday);
    earlier(before, u64::from(further) + 1)
}

/// The most recent date with this day and month, `today` or before; `None` where no month has that day.
///
/// ```
/// use chalkbell::domain::quantities::calendar::most_recent_date;
/// use chrono::NaiveDate;
///
/// let today = NaiveDate::from_ymd_opt(2026, 2, 3).unwrap();
/// let november = NaiveDate::from_ymd_opt(2025, 11, 23);
/// assert_eq!(most_recent_date(23, 11, today), november);
/// assert_eq!(most_recent_date(11, 23, today), None);
/// ```
pub fn most_recent_date(day: u32, month: u32, today: NaiveDate) -> Option<NaiveDate> {
    // The 29th of February comes back after eight years at most.
    (0..=8)
        .filter_map(|back| NaiveDate::from_ymd_opt(today.year() - back, month, day))
        .find(|date| *date <= today)
}

/// `days` later, or the last day that there is.
fn later(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_add_days(Days::new(days))
        .unwrap_or(NaiveDate::MAX)
}

/// `days` earlier, or the first day that there is.
fn earlier(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_sub_days(Days::new(days))
        .unwrap_or(NaiveDate::MIN)
}

/// Seconds from one moment to another, both in milliseconds since 1970; negative when the second is earlier.
#[expect(
    clippy::cast_precision_loss,
    reason = "milliseconds are far under 2^53"
)]
pub(crate) fn seconds_between(from_ms: i64, to_ms: i64) -> f64 {
    to_ms.saturating_sub(from_ms) as f64 / 1000.0
}

#[cfg(test)]
mod tests {
    use chrono::TimeDelta;

    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn utc(text: &str) -> DateTime<Utc> {
        text.parse().unwrap()
    }

    fn calendar(zone: Tz, week_start: Weekday) -> TeamCalendar {
        TeamCalendar { zone, week_start }
    }

    #[test]
    fn the_day_is_the_teams_not_utcs() {
        let late = utc("2026-03-01T22:30:00Z");
        let berlin = calendar(chrono_tz::Europe::Berlin, Weekday::Mon);
        let sydney = calendar(chrono_tz::Australia::Sydney, Weekday::Mon);
        let new_york = calendar(chrono_tz::America::New_York, Weekday::Mon);
        assert_eq!(berlin.day_of(late), date("2026-03-01"));
        assert_eq!(sydney.day_of(late), date("2026-03-02"));
        assert_eq!(
            new_york.day_of(utc("2026-03-01T04:59:59Z")),
            date("2026-02-28")
        );
    }

    #[test]
    fn weeks_from_sunday_take_the_label_of_their_wednesday() {
        let calendar = calendar(chrono_tz::UTC, Weekday::Sun);
        // Sunday 4 January 2026 opens the week whose Wednesday, the 7th, lies in ISO week 2.
        let week = calendar.week_of(date("2026-01-04"));
        assert_eq!(week.to_string(), "2026-W02");
        assert_eq!(week.previous().to_string(), "2026-W01");
        assert_eq!(calendar.week_of(date("2026-01-03")), week.previous());
    }

    #[test]
    fn no_two_weeks_share_a_label_whatever_day_they_begin_on() {
        let mut week_start = Weekday::Mon;
        for _ in 0..7 {
            week_start = week_start.succ();
            let calendar = calendar(chrono_tz::UTC, week_start);
            let mut week = calendar.week_of(date("2020-01-01"));
            let mut before = String::new();
            for _ in 0..400 {
                let label = week.to_string();
                assert!(before < label, "{week_start} {label}");
                assert!(week.days().all(|day| calendar.week_of(day) == week));
                week = week.next();
                before = label;
            }
        }
    }

    /// IANA time zone data: Santiago's clocks leap from 24:00 on Saturday 5 September 2026 to 1:00.
    #[test]
    fn a_day_without_midnight_starts_at_the_leap() {
        let santiago = calendar(chrono_tz::America::Santiago, Weekday::Sun);
        let start = santiago.start_of(date("2026-09-06"));
        assert_eq!(start, utc("2026-09-06T04:00:00Z"));
        assert_eq!(santiago.day_of(start), date("2026-09-06"));
        let before = start - TimeDelta::seconds(1);
        assert_eq!(santiago.day_of(before), date("2026-09-05"));
    }

    /// IANA time zone data: Havana's clocks go from 1:00 back to 0:00 on Sunday 1 November 2026.
    #[test]
    fn a_day_with_two_midnights_starts_at_the_first() {
        let havana = calendar(chrono_tz::America::Havana, Weekday::Sun);
        assert_eq!(
            havana.start_of(date("2026-11-01")),
            utc("2026-11-01T04:00:00Z")
        );
    }

    /// IANA time zone data: Apia had no 30 December 2011.
    #[test]
    fn a_day_that_never_was_is_empty() {
        let apia = calendar(chrono_tz::Pacific::Apia, Weekday::Mon);
        let leap = utc("2011-12-30T10:00:00Z");
        assert_eq!(apia.start_of(date("2011-12-30")), leap);
        assert_eq!(apia.noon_of(date("2011-12-30")), leap);
        assert_eq!(apia.start_of(date("2011-12-31")), leap);
    }

    #[test]
    fn noon_is_noon_on_both_sides_of_a_change() {
        let berlin = calendar(chrono_tz::Europe::Berlin, Weekday::Mon);
        assert_eq!(
            berlin.noon_of(date("2026-03-28")),
            utc("2026-03-28T11:00:00Z")
        );
        assert_eq!(
            berlin.noon_of(date("2026-03-29")),
            utc("2026-03-29T10:00:00Z")
        );
    }

    #[test]
    fn a_time_leapt_over_is_the_leap() {
        let berlin = calendar(chrono_tz::Europe::Berlin, Weekday::Mon);
        let time = NaiveTime::from_hms_opt(2, 30, 0).unwrap();
        let found = berlin.instant_of(date("2026-03-29"), time);
        assert_eq!(found, utc("2026-03-29T01:00:00Z"));
    }

    #[test]
    fn the_most_recent_weekday_is_one_to_seven_days_back() {
        let wednesday = date("2026-03-04");
        let expected = [
            (Weekday::Tue, "2026-03-03"),
            (Weekday::Mon, "2026-03-02"),
            (Weekday::Sun, "2026-03-01"),
            (Weekday::Thu, "2026-02-26"),
            (Weekday::Wed, "2026-02-25"),
        ];
        for (weekday, day) in expected {
            assert_eq!(most_recent(weekday, wednesday), date(day), "{weekday}");
        }
    }

    #[test]
    fn the_ends_of_time_do_not_panic() {
        let calendar = calendar(chrono_tz::UTC, Weekday::Wed);
        for day in [NaiveDate::MIN, NaiveDate::MAX] {
            let week = calendar.week_of(day);
            let _ = (
                week.to_string(),
                week.next(),
                week.previous(),
                week.last_day(),
            );
            let _ = most_recent(Weekday::Fri, day);
        }
    }
}
