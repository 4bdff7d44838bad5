//! Week labels and the length of local weeks.

use chalkbell::domain::quantities::calendar::{TeamCalendar, Week};
use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc, Weekday};
use chrono_tz::Tz;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn utc(text: &str) -> DateTime<Utc> {
    text.replace('Z', ":00Z").parse().unwrap()
}

fn from_monday(zone: Tz) -> TeamCalendar {
    let week_start = Weekday::Mon;
    TeamCalendar { zone, week_start }
}

fn week_of(day: NaiveDate) -> Week {
    from_monday(Tz::UTC).week_of(day)
}

/// Checks days against their ISO week dates, year, week and weekday.
#[track_caller]
fn check(days: &[(&str, &str)]) {
    for &(day, published) in days {
        let number = date(day).weekday().number_from_monday();
        let found = format!("{}-{number}", week_of(date(day)));
        assert_eq!(found, published, "{day}");
    }
}

/// Source: ISO 8601:2004 / ISO 8601-1:2019, week dates.
#[test]
fn standards_own_example() {
    check(&[("1985-04-12", "1985-W15-5")]);
}

/// Source: Python Documentation, datetime, date.isocalendar.
#[test]
fn python_manual() {
    check(&[("2003-12-29", "2004-W01-1"), ("2004-01-04", "2004-W01-7")]);
}

/// Source: PostgreSQL Documentation, Date/Time Functions, week field.
#[test]
fn postgresql_manual() {
    check(&[
        ("2005-01-01", "2004-W53-6"),
        ("2006-01-01", "2005-W52-7"),
        ("2012-12-31", "2013-W01-1"),
    ]);
}

/// Source: Kuhn M. A summary of the international standard date and time notation. University of
/// Cambridge.
#[test]
fn summary_of_the_standard() {
    check(&[
        ("1996-12-30", "1997-W01-1"),
        ("1997-01-05", "1997-W01-7"),
        ("1999-12-27", "1999-W52-1"),
        ("2000-01-02", "1999-W52-7"),
    ]);
}

/// Source: ISO 8601 rule for defining week numbers (note).
#[test]
fn first_weeks_of_2013_to_2015() {
    check(&[
        ("2012-12-31", "2013-W01-1"),
        ("2013-12-30", "2014-W01-1"),
        ("2014-12-29", "2015-W01-1"),
        ("2015-01-04", "2015-W01-7"),
    ]);
}

/// Source: ISO 8601:2004 / ISO 8601-1:2019, week dates.
#[test]
fn last_day_of_2006() {
    check(&[("2006-12-31", "2006-W52-7")]);
}

/// Source: ISO 8601:2004 / ISO 8601-1:2019, week dates.
#[test]
fn monday_that_opens_2020() {
    check(&[("2019-12-30", "2020-W01-1")]);
}

/// Source: Hyndman R. calcal: calendrical calculations (R package manual).
#[test]
fn calcal_manual() {
    check(&[("2016-01-01", "2015-W53-5"), ("2025-06-03", "2025-W23-2")]);
}

/// Source: Vertica SQL Reference Manual, WEEK_ISO (week number alone; the year added).
#[test]
fn vertica_manual() {
    check(&[
        ("2016-01-03", "2015-W53-7"),
        ("2016-01-04", "2016-W01-1"),
        ("2014-12-29", "2015-W01-1"),
    ]);
}

/// Source: Azure Data Explorer manual, week_of_year (week number alone; the year added).
#[test]
fn kusto_manual() {
    check(&[
        ("2020-12-31", "2020-W53-4"),
        ("2020-06-15", "2020-W25-1"),
        ("1970-01-01", "1970-W01-4"),
        ("2000-01-01", "1999-W52-6"),
    ]);
}

/// Source: IBM Db2 SQL Reference, WEEK_ISO and DAYOFWEEK_ISO (week and weekday; the year added).
#[test]
fn db2_manual() {
    check(&[
        ("1997-12-28", "1997-W52-7"),
        ("1997-12-31", "1998-W01-3"),
        ("1998-01-01", "1998-W01-4"),
        ("1999-01-01", "1998-W53-5"),
        ("1999-01-04", "1999-W01-1"),
        ("1999-12-31", "1999-W52-5"),
        ("2000-01-01", "1999-W52-6"),
        ("2000-01-03", "2000-W01-1"),
    ]);
}

/// Source: von Hatzfeld H, Block U. ISOweek (R package manual).
#[test]
fn isoweek_manual() {
    check(&[
        ("1999-12-31", "1999-W52-5"),
        ("2000-12-31", "2000-W52-7"),
        ("2001-12-31", "2002-W01-1"),
        ("2002-12-31", "2003-W01-2"),
        ("2003-12-31", "2004-W01-3"),
        ("2004-12-31", "2004-W53-5"),
        ("2005-12-31", "2005-W52-6"),
        ("2006-12-31", "2006-W52-7"),
        ("2007-12-31", "2008-W01-1"),
        ("2008-12-31", "2009-W01-3"),
        ("2009-12-31", "2009-W53-4"),
        ("2010-12-31", "2010-W52-5"),
        ("2011-12-31", "2011-W52-6"),
    ]);
}

/// Source: CODESYS Util library manual, WeekOfYear.
#[test]
fn codesys_manual() {
    check(&[("2008-12-29", "2009-W01-1"), ("2010-01-03", "2009-W53-7")]);
}

/// Source: jiff (Rust crate) manual, ISOWeekDate.
#[test]
fn jiff_manual() {
    check(&[("1995-01-01", "1994-W52-7")]);
}

/// Source: ISO 8601:2004 / ISO 8601-1:2019, week dates (that these days form the published table
/// is from memory; every one follows from the rules).
#[test]
fn turn_of_year_table() {
    check(&[
        ("1977-01-01", "1976-W53-6"),
        ("1977-01-02", "1976-W53-7"),
        ("1977-12-31", "1977-W52-6"),
        ("1978-01-01", "1977-W52-7"),
        ("1978-01-02", "1978-W01-1"),
        ("1978-12-31", "1978-W52-7"),
        ("1979-01-01", "1979-W01-1"),
        ("1979-12-30", "1979-W52-7"),
        ("1979-12-31", "1980-W01-1"),
        ("1980-01-01", "1980-W01-2"),
        ("1980-12-28", "1980-W52-7"),
        ("1980-12-29", "1981-W01-1"),
        ("1980-12-30", "1981-W01-2"),
        ("1980-12-31", "1981-W01-3"),
        ("1981-01-01", "1981-W01-4"),
        ("1981-12-31", "1981-W53-4"),
        ("1982-01-01", "1981-W53-5"),
        ("1982-01-02", "1981-W53-6"),
        ("1982-01-03", "1981-W53-7"),
        ("2005-01-01", "2004-W53-6"),
        ("2005-01-02", "2004-W53-7"),
        ("2005-12-31", "2005-W52-6"),
        ("2007-01-01", "2007-W01-1"),
        ("2007-12-30", "2007-W52-7"),
        ("2007-12-31", "2008-W01-1"),
        ("2008-12-28", "2008-W52-7"),
        ("2008-12-29", "2009-W01-1"),
        ("2009-12-31", "2009-W53-4"),
        ("2010-01-03", "2009-W53-7"),
    ]);
}

/// Worked out by the rules of ISO 8601.
#[test]
fn turn_of_2026() {
    check(&[
        ("2026-11-25", "2026-W48-3"),
        ("2026-12-31", "2026-W53-4"),
        ("2027-01-03", "2026-W53-7"),
        ("2027-01-04", "2027-W01-1"),
    ]);
}

/// Source: ISO 8601-1:2019, week dates: week 1 holds the first Thursday of the year, and 4 January.
#[test]
fn week_one_holds_the_fourth_of_january() {
    for year in 1970..2100 {
        let fourth = NaiveDate::from_ymd_opt(year, 1, 4).unwrap();
        assert_eq!(week_of(fourth).to_string(), format!("{year}-W01"));
    }
}

/// Source: ISO 8601-1:2019, week dates: the calendar repeats after 400 years of 20,871 weeks, 71 of
/// them with 53 weeks; the long years of 2000 to 2059 are worked out by its rule.
#[test]
fn long_years_are_71_in_400() {
    // The 28th of December is always in the last week of its year.
    let in_year = |year, month, day| week_of(NaiveDate::from_ymd_opt(year, month, day).unwrap());
    let long = |year: &i32| in_year(*year, 12, 28).to_string().ends_with("-W53");
    assert_eq!((2000..2400).filter(long).count(), 71);
    let published = [2004, 2009, 2015, 2020, 2026, 2032, 2037, 2043, 2048, 2054];
    assert!((2000..2060).filter(long).eq(published));
    let first = in_year(2000, 1, 4).first_day();
    let after = in_year(2400, 1, 4).first_day();
    assert_eq!((after - first).num_weeks(), 20_871);
}

/// Source: IANA Time Zone Database, release 2026: instants at which clocks change in 2026, and the
/// weeks from Monday worked out from it.
#[test]
fn local_weeks_of_2026_have_their_true_length() {
    let weeks = [
        (
            "Europe/Berlin",
            "2026-03-23",
            "2026-W13",
            "2026-03-22T23:00Z",
            "2026-03-29T22:00Z",
            10020,
        ),
        (
            "Europe/Berlin",
            "2026-10-19",
            "2026-W43",
            "2026-10-18T22:00Z",
            "2026-10-25T23:00Z",
            10140,
        ),
        (
            "Europe/Berlin",
            "2026-11-23",
            "2026-W48",
            "2026-11-22T23:00Z",
            "2026-11-29T23:00Z",
            10080,
        ),
        (
            "America/New_York",
            "2026-03-02",
            "2026-W10",
            "2026-03-02T05:00Z",
            "2026-03-09T04:00Z",
            10020,
        ),
        (
            "America/New_York",
            "2026-10-26",
            "2026-W44",
            "2026-10-26T04:00Z",
            "2026-11-02T05:00Z",
            10140,
        ),
        (
            "Australia/Sydney",
            "2026-03-30",
            "2026-W14",
            "2026-03-29T13:00Z",
            "2026-04-05T14:00Z",
            10140,
        ),
        (
            "Australia/Sydney",
            "2026-09-28",
            "2026-W40",
            "2026-09-27T14:00Z",
            "2026-10-04T13:00Z",
            10020,
        ),
        (
            "Australia/Lord_Howe",
            "2026-03-30",
            "2026-W14",
            "2026-03-29T13:00Z",
            "2026-04-05T13:30Z",
            10110,
        ),
        (
            "Australia/Lord_Howe",
            "2026-09-28",
            "2026-W40",
            "2026-09-27T13:30Z",
            "2026-10-04T13:00Z",
            10050,
        ),
        (
            "Asia/Kolkata",
            "2026-03-23",
            "2026-W13",
            "2026-03-22T18:30Z",
            "2026-03-29T18:30Z",
            10080,
        ),
    ];
    for (zone, monday, label, start, end, minutes) in weeks {
        let calendar = from_monday(zone.parse().unwrap());
        let week = calendar.week_of(date(monday));
        assert_eq!(week.to_string(), label, "{zone}");
        let starts = [week, week.next()].map(|week| calendar.start_of(week.first_day()));
        let bounds = (starts[0], starts[1]);
        assert_eq!(bounds, (utc(start), utc(end)), "{zone} {label}");
        assert_eq!(
            bounds.1 - bounds.0,
            TimeDelta::minutes(minutes),
            "{zone} {label}"
        );
    }
}

/// Source: IANA Time Zone Database, release 2026. At the instant of a change the offset differs from
/// that a second before: the noons of the two days around it are not 24 hours apart.
#[test]
fn noons_around_a_change_are_apart_by_the_change() {
    let changes = [
        ("Europe/Berlin", "2026-03-29T01:00Z", -60),
        ("Europe/Berlin", "2026-10-25T01:00Z", 60),
        ("America/New_York", "2026-03-08T07:00Z", -60),
        ("America/New_York", "2026-11-01T06:00Z", 60),
        ("Australia/Sydney", "2026-04-04T16:00Z", 60),
        ("Australia/Sydney", "2026-10-03T16:00Z", -60),
        ("Australia/Lord_Howe", "2026-04-04T15:00Z", 30),
        ("Australia/Lord_Howe", "2026-10-03T15:30Z", -30),
    ];
    for (zone, instant, minutes) in changes {
        let calendar = from_monday(zone.parse().unwrap());
        let day = calendar.day_of(utc(instant));
        let between = calendar.noon_of(day) - calendar.noon_of(day.pred_opt().unwrap());
        let expected = TimeDelta::hours(24) + TimeDelta::minutes(minutes);
        assert_eq!(between, expected, "{zone} {instant}");
    }
}

/// Source: Python 3.11, module `zoneinfo`, with IANA time zone data 2025b; the table is made by
/// `tests/data/calendar/local_weeks.py`.
#[test]
fn random_instants_in_random_zones_are_those_of_zoneinfo() {
    let table = include_str!("../data/calendar/local_weeks.csv");
    let mut rows = 0;
    for row in table.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let [instant, zone, day, week, begins] = cells[..] else {
            panic!("{row}");
        };
        let calendar = from_monday(zone.parse().unwrap());
        let found = calendar.day_of(instant.parse().unwrap());
        assert_eq!(found, date(day), "{row}");
        let found = calendar.week_of(found);
        assert_eq!(found.to_string(), week, "{row}");
        let start: DateTime<Utc> = begins.parse().unwrap();
        assert_eq!(calendar.start_of(found.first_day()), start, "{row}");
        rows += 1;
    }
    assert_eq!(rows, 200);
}
