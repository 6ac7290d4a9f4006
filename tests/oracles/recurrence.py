#!/usr/bin/env python3
"""Writes recurrence_dateutil.csv: random day rules and the days python-dateutil finds for them.

    python3 tests/oracles/recurrence.py > tests/oracles/recurrence_dateutil.csv

The seed is fixed, so the file only changes with this script or with the library; the library's version is
in the first column of the last row. Needs python-dateutil (Debian: python3-dateutil) and nothing else.

Left out, because python-dateutil and RFC 5545 part there or the standard is not clear, and the program
refuses them or has cases of its own: BYDAY that mixes counted and plain days, BYWEEKNO without a day,
and WEEKLY with BYSETPOS (the first week is counted from the start there).
"""

import csv
import datetime
import itertools
import random
import sys

import dateutil
from dateutil.rrule import rrulestr

WEEKDAYS = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"]
SEED = 5545
RULES = 600
IMPOSSIBLE = 10  # rules without any day kept among them; each is slow to refuse
DAYS = 12
LAST = datetime.datetime(2150, 1, 1)


def pick(rng, values, most):
    return sorted(rng.sample(values, rng.randint(1, most)))


def join(name, values):
    return f"{name}={','.join(str(value) for value in values)}"


def random_rule(rng):
    frequency = rng.choice(["DAILY", "WEEKLY", "MONTHLY", "MONTHLY", "YEARLY", "YEARLY"])
    parts = [f"FREQ={frequency}"]
    if rng.random() < 0.5:
        parts.append(f"INTERVAL={rng.choice([2, 3, 4, 5, 6, 7, 10, 12, 18, 30, 90] if frequency != 'YEARLY' else [2, 3, 4, 5, 10])}")
    if rng.random() < 0.3:
        parts.append(join("BYMONTH", pick(rng, range(1, 13), 4)))
    days = None
    if frequency == "YEARLY" and rng.random() < 0.15:
        parts.append(join("BYWEEKNO", pick(rng, [*range(-53, 0), *range(1, 54)], 3)))
        days = pick(rng, WEEKDAYS, 2)
    elif frequency == "YEARLY" and rng.random() < 0.2:
        parts.append(join("BYYEARDAY", pick(rng, [*range(-366, 0), *range(1, 367)], 4)))
    elif frequency != "WEEKLY" and rng.random() < 0.35:
        parts.append(join("BYMONTHDAY", pick(rng, [*range(-31, 0), *range(1, 32)], 5)))
    if days is None and rng.random() < 0.5:
        counted = frequency in ("MONTHLY", "YEARLY") and rng.random() < 0.5
        if counted:
            ordinals = [1, 2, 3, 4, 5, -1, -2, -3, -4]
            days = [f"{rng.choice(ordinals)}{day}" for day in pick(rng, WEEKDAYS, 2)]
        else:
            days = pick(rng, WEEKDAYS, 5)
    if days:
        parts.append(join("BYDAY", days))
    narrowed = any(part.startswith("BY") for part in parts)
    if narrowed and frequency in ("MONTHLY", "YEARLY") and rng.random() < 0.3:
        parts.append(join("BYSETPOS", pick(rng, [1, 2, 3, -1, -2], 2)))
    if rng.random() < 0.2:
        parts.append(f"WKST={rng.choice(WEEKDAYS)}")
    if rng.random() < 0.15:
        parts.append(f"COUNT={rng.randint(1, 10)}")
    elif rng.random() < 0.15:
        parts.append(f"UNTIL={rng.randint(2026, 2040)}{rng.randint(1, 12):02}{rng.randint(1, 28):02}")
    return ";".join(parts)


def days_of(rule, start):
    found = rrulestr(rule, dtstart=start)
    within = itertools.takewhile(lambda instant: instant < LAST, found)
    return [instant.date() for instant in itertools.islice(within, DAYS)]


def main():
    rng = random.Random(SEED)
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["rule", "start", "days"])
    written = impossible = 0
    while written < RULES:
        rule = random_rule(rng)
        start = datetime.datetime(2019, 1, 1) + datetime.timedelta(days=rng.randint(0, 2500))
        days = days_of(rule, start)
        if not days:
            impossible += 1
            if impossible > IMPOSSIBLE:
                continue
        out.writerow([rule, start.date(), " ".join(map(str, days)) or "never before 2150"])
        written += 1
    out.writerow([f"python-dateutil {dateutil.__version__}", "", ""])


if __name__ == "__main__":
    main()
