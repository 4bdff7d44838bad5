"""Local days and ISO weeks of 200 random instants in random time zones, by Python's zoneinfo.

A second opinion on `domain::calendar`: another language, another reader of the IANA data. Needs the
standard library and the system's time zone data (made with release 2025b). Prints the table that is
kept beside it:

    python3 local_weeks.py > local_weeks.csv

Columns: the instant (UTC), the zone, the date that its clocks show, the ISO 8601 week of that date,
and the instant at which that week begins there. Every other instant lies within three hours of a local
Monday's midnight, where a wrong offset makes another week of it.
"""

import random
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo, available_timezones

FIRST = datetime(1995, 1, 1, tzinfo=timezone.utc)
DAYS = 365 * 42
ROWS = 200


def zones():
    """Names of places, and UTC; no aliases without a region, no copies kept for other programs."""
    regions = ("Africa", "America", "Antarctica", "Asia", "Atlantic", "Australia", "Europe", "Indian", "Pacific")
    return sorted(name for name in available_timezones() if name.split("/")[0] in regions) + ["UTC"]


def monday(day):
    return day - timedelta(days=day.weekday())


def midnight(day, zone):
    """The first instant of the day: of two midnights the first, of a midnight leapt over the leap."""
    local = datetime(day.year, day.month, day.day, tzinfo=zone, fold=0)
    return local.astimezone(timezone.utc)


def drawn(lots, place, zone):
    at = FIRST + timedelta(seconds=lots.randrange(DAYS * 86400))
    if place % 2 == 0:
        return at
    start = midnight(monday(at.astimezone(zone).date()), zone)
    return start + timedelta(seconds=lots.randrange(-3 * 3600, 3 * 3600))


def main():
    lots = random.Random(2026)
    names = zones()
    print("instant,zone,day,week,week_begins")
    for place in range(ROWS):
        name = lots.choice(names)
        zone = ZoneInfo(name)
        at = drawn(lots, place, zone)
        day = at.astimezone(zone).date()
        year, week, _ = day.isocalendar()
        begins = midnight(monday(day), zone)
        stamp = "%Y-%m-%dT%H:%M:%SZ"
        print(f"{at.strftime(stamp)},{name},{day},{year:04}-W{week:02},{begins.strftime(stamp)}")


if __name__ == "__main__":
    main()
