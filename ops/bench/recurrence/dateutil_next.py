#!/usr/bin/python3
"""Asks python-dateutil what the benchmark asks everybody; Debian: python3-dateutil.

A line RULE TAB START TAB N, then N days; answers the nanoseconds taken and the first occurrence on or after each day.
"""

import sys
import time
from datetime import datetime

from dateutil.rrule import rrulestr

while line := sys.stdin.readline():
    text, start, asked = line.rstrip("\n").split("\t")
    rule = rrulestr(text, dtstart=datetime.fromisoformat(start))
    days = [datetime.fromisoformat(sys.stdin.readline().strip()) for _ in range(int(asked))]
    begun = time.perf_counter_ns()
    found = [rule.after(day, inc=True) for day in days]
    print(time.perf_counter_ns() - begun)
    for day in found:
        print(day.date())
