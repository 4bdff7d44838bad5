//! The time at which the hand-wound clock starts, as people write it.

use chrono::{DateTime, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta, TimeZone as _, Utc};
use chrono_tz::Tz;

use super::waited;

/// How it is written.
const FORMS: &str = "write it like `2026-11-23 18:00`, `18:00`, `today`, `+2:30` (from now) or \
`2026-11-23T18:00:00+01:00`";

/// Reads a time: with its zone, or by the clocks of this machine.
///
/// # Errors
/// How it is written, for what is no time, and for an hour that the clocks leapt over.
pub fn start_time(text: &str) -> Result<DateTime<Utc>, String> {
    let zone = super::machine_zone().unwrap_or(Tz::UTC);
    at(text.trim(), super::now(), zone).ok_or_else(|| FORMS.to_owned())
}

fn at(text: &str, now: DateTime<Utc>, zone: Tz) -> Option<DateTime<Utc>> {
    if let Ok(time) = text.parse::<DateTime<Utc>>() {
        return Some(time);
    }
    if let Some(super::Line::Wait(seconds)) = waited(text) {
        return now.checked_add_signed(TimeDelta::seconds(i64::from(seconds)));
    }
    let today = now.with_timezone(&zone).date_naive();
    let time = |text: &str| {
        let forms = ["%H:%M", "%H:%M:%S"];
        forms
            .into_iter()
            .find_map(|form| NaiveTime::parse_from_str(text, form).ok())
    };
    let day = |text: &str| match text {
        "today" => Some(today),
        "yesterday" => today.pred_opt(),
        date => date.parse::<NaiveDate>().ok(),
    };
    let noon = NaiveTime::from_hms_opt(12, 0, 0)?;
    let local: NaiveDateTime = match text.split_once([' ', 'T']) {
        Some((first, second)) => day(first)?.and_time(time(second.trim())?),
        None => match (day(text), time(text)) {
            (Some(day), _) => day.and_time(noon),
            (None, time) => today.and_time(time?),
        },
    };
    let local = zone.from_local_datetime(&local).earliest()?;
    Some(local.with_timezone(&Utc))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_read_by_the_clocks_of_the_place() {
        let now: DateTime<Utc> = "2026-11-23T15:30:00Z".parse().unwrap();
        let zone: Tz = "Europe/Berlin".parse().unwrap();
        let cases = [
            ("2026-11-23T18:00:00+01:00", "2026-11-23T17:00:00Z"),
            ("2026-07-01 18:00", "2026-07-01T16:00:00Z"),
            ("2026-11-20T06:15:30", "2026-11-20T05:15:30Z"),
            ("18:00", "2026-11-23T17:00:00Z"),
            ("today", "2026-11-23T11:00:00Z"),
            ("yesterday 7:05", "2026-11-22T06:05:00Z"),
            ("+2:30", "2026-11-23T15:32:30Z"),
        ];
        for (text, wanted) in cases {
            let wanted: DateTime<Utc> = wanted.parse().unwrap();
            assert_eq!(at(text, now, zone), Some(wanted), "{text}");
        }
        for text in ["", "soon", "25:00", "2026-02-30", "2026-03-29 02:30"] {
            assert_eq!(at(text, now, zone), None, "{text}");
        }
    }
}
