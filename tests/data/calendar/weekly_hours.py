"""Prints the table weekly_hours.tsv: at which instants a weekly hour comes in some zones.

A second opinion on the program's own reckoning, by Python's standard library alone:

    python3 tests/data/calendar/weekly_hours.py > tests/data/calendar/weekly_hours.tsv

Columns: zone, weekday, local time, ISO week that it is about, instant in UTC. An hour on Saturday or
Sunday is about its own week, on other days about the week before. A time that the clocks leap over is
the first instant after the leap, of a time that comes twice the first counts.
"""

from datetime import date, datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo

DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]

CASES = [
    # A year of Sundays, 18:00.
    ("Europe/Berlin", "sun", "18:00", 2026),
    ("America/New_York", "sun", "18:00", 2026),
    ("Asia/Kolkata", "sun", "18:00", 2026),
    ("Australia/Lord_Howe", "sun", "18:00", 2026),
    ("Pacific/Apia", "sun", "18:00", 2026),
    ("Pacific/Kiritimati", "sun", "18:00", 2026),
    # The hour that is leapt over and the one that comes twice.
    ("Europe/Berlin", "sun", "02:30", 2026),
    ("America/New_York", "sun", "01:30", 2026),
    ("America/New_York", "sun", "02:30", 2026),
    ("Australia/Lord_Howe", "sun", "02:15", 2026),
    ("Australia/Lord_Howe", "sun", "01:45", 2026),
    # On a day of the week after, and days that never were: Apia had no Friday 30 December 2011,
    # Kiritimati no Saturday 31 December 1994.
    ("Europe/Berlin", "mon", "07:00", 2026),
    ("Pacific/Apia", "fri", "18:00", 2011),
    ("Pacific/Kiritimati", "sat", "18:00", 1994),
]


def instant(local, zone):
    """The first instant at which the zone's clocks show `local`, or leap over it."""
    found = local.replace(tzinfo=zone, fold=0).astimezone(timezone.utc)
    shows = lambda at: at.astimezone(zone).replace(tzinfo=None)
    if shows(found) == local:
        return found
    at = found - timedelta(days=2)
    while shows(at) < local:
        at += timedelta(minutes=1)
    return at


def main():
    for name, weekday, hour, year in CASES:
        zone = ZoneInfo(name)
        day = date(year, 1, 1)
        while DAYS[day.weekday()] != weekday:
            day += timedelta(days=1)
        while day.year == year:
            about = day if day.weekday() >= 5 else day - timedelta(days=7)
            iso = about.isocalendar()
            at = instant(datetime.combine(day, time.fromisoformat(hour)), zone)
            stamp = at.strftime("%Y-%m-%dT%H:%M:%SZ")
            print(name, weekday, hour, f"{iso[0]:04}-W{iso[1]:02}", stamp, sep="\t")
            day += timedelta(days=7)


main()
