#!/usr/bin/python3
"""Reads rules, answers with the days python-dateutil finds.

A line is: rule TAB start TAB later TAB last; the answer is: first days TAB days from `later` to `last`,
each list separated by blanks. At most 12 first days, none after 2060. A rule dateutil refuses is answered
with "refused". Needs python-dateutil (Debian: python3-dateutil) and nothing else.
"""

import datetime
import sys
import types

import dateutil.rrule

END = datetime.datetime(2060, 12, 31)
# The library looks for a day that never comes until the last year there is: let that be ours.
dateutil.rrule.datetime = types.SimpleNamespace(**vars(datetime))
dateutil.rrule.datetime.MAXYEAR = END.year


def midnight(text):
    return datetime.datetime.strptime(text, "%Y-%m-%d")


def answer(rule, start, later, last):
    try:
        found = dateutil.rrule.rrulestr(rule, dtstart=midnight(start))
    except ValueError:
        return "refused"
    later, last = midnight(later), midnight(last)
    first, window = [], []
    for instant in found:
        if instant > END or (len(first) == 12 and instant > last):
            break
        if len(first) < 12:
            first.append(instant.strftime("%Y-%m-%d"))
        if later <= instant <= last:
            window.append(instant.strftime("%Y-%m-%d"))
    return " ".join(first) + "\t" + " ".join(window)


for line in sys.stdin:
    print(answer(*line.rstrip("\n").split("\t")))
