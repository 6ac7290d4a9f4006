#!/usr/bin/env python3
"""Recomputes the due list from exported CSV files alone, and compares it with the program's own.

    anglestop export fleet > fleet.csv
    anglestop export schedules > schedules.csv
    anglestop export results > results.csv
    anglestop export calendars > calendars.csv
    anglestop export turnovers > turnovers.csv
    anglestop export folder register
    anglestop due --as-of 2026-09-01 --state all --format json > due.json
    python3 tests/oracles/due.py --as-of 2026-09-01 fleet.csv schedules.csv results.csv due.json calendars.csv \
        --units register/units.csv --households register/households.csv --turnovers turnovers.csv

Calendars may be left out where no schedule moves its dates, and units, households and turnovers where none asks who lives in a unit.

    python3 tests/oracles/due.py --cases tests/due_cases.csv

Exit 0 when every row agrees, 1 with the differences when one does not, 2 when a file cannot be read.

It shares no code with the program: occurrences, months and zones come from python-dateutil (2.8 or later), the
rest is written from the meaning:

- An item is one check at one fixture in service, or at one of its parts, that an active schedule in whose scope it
  lies asks for, unless results of the schedule are only recorded. A schedule's scope_kinds, scope_parts,
  scope_buildings and scope_tags are lists, empty for all. A scope with parts holds no check of the fixture itself.
- A check may be asked only under some policies for the base joint, and only in buildings at least so many years old,
  counted from 1 January of the year they were built. A check that is off until chosen is asked only when an active
  schedule of the packs "chosen" or "own" names it.
- A part without a date of its own came with its fixture. Ages are judged on the due date: nothing is due before the day
  a minimum age is reached, and what would be due after the day a maximum age is reached does not exist. Both
  bounds are inclusive; an unknown age counts as old.
- A check counts from the latest of: its last result (pass or fail) at the place, the day the part (else the fixture) was
  installed when the building was in the register by then, and the imported last-done day; on one day in that order.
- Calendar: due is the first occurrence o with o - early_days after that day, not before the building joined.
  From last done: one interval after it, not before the building joined.
- Never done: the first occurrence on or after the day the building joined; from last done, that day plus the
  unit's share (spread_ppm, in millionths, rounded down) of the days of one interval begun then.
- A building is closed on weekdays that are no working days, and from each day that a public holiday or a shut-down period begins on for
  its days. A schedule whose due date stays says nothing of that. Forward: the due date moves to the next day that is open; back: to the
  one before. A schedule that counts from the last time may wish for months: then only days in these months will do, and staying moves
  forward. What is in season stays in that season: where the direction leads out of it, the other one is taken. Nobody looks farther than 366 days; without a day that will do, closed days are left aside, then the months too.
- Back never goes before the first day that joining and ages allow, nor to less than half an interval (whole days, at least one) after
  the day it counts from; it goes forward then.
- The window moves with its due date. A calendar's occurrence o is satisfied by what is done from o - early_days on, or from the moved
  date - early_days when that is earlier. Occurrences are missed when the grace of their moved dates has ended.
- Not while vacant: nothing is due in a unit (a common area is none) that is not occupied. In an occupied one a date on which no household
  lives there is first moved to the next move-in, when one comes later; that day is then the first that back may go to. Later occurrences up
  to the moved date are missed as one.
- At turnover: due by the move-in of the unit's open turnover, from the day it was opened on, without grace and unmoved, unless it counts
  from that day or a later one; nothing otherwise. It was opened on the local day of the instant that the file names.
- Of several schedules: the earliest last day, then the earliest due date, then the first code.

Known differences of python-dateutil from RFC 5545 (WEEKLY with BYSETPOS in the first week) do not occur in rules that
schedules use here; such a rule would show up as a difference.
"""

import argparse
import bisect
import csv
import datetime
import functools
import json
import re
import sys
from collections import namedtuple

from dateutil import tz
from dateutil.relativedelta import relativedelta
from dateutil.rrule import rrulestr

# The columns of the exported files, by what they hold. Adapt them here.
COLUMNS = {
    "fleet": {
        "building": "building",
        "zone": "time_zone",
        "joined": "joined_on",
        "unit": "unit",
        "spread": "spread_ppm",
        "tag": "tag",
        "kind": "kind",
        "installed": "installed_on",
        "parts": "parts",  # wax_seal=2020-05-01;stop=2019-07-01~;supply_line_cold, or none
        "status": "status",  # may be missing; only in_service counts
        "built": "built_year",  # may be missing
        "joint": "base_joint",  # may be missing
    },
    "schedules": {
        "schedule": "schedule",
        "check": "check",
        "check_kinds": "check_kinds",
        "check_parts": "check_parts",
        "anchor": "anchor",
        "rule": "rule",
        "start": "start",
        "lead": "lead_days",
        "grace": "grace_days",
        "early": "early_days",
        "kinds": "scope_kinds",
        "parts": "scope_parts",
        "buildings": "scope_buildings",
        "tags": "scope_tags",
        "min_age": "scope_min_age_years",
        "max_age": "scope_max_age_years",
        "min_failures": "scope_min_failures",  # may be missing
        "on_closed": "on_closed_days",  # may be missing
        "season": "season_months",  # may be missing
        "vacancy": "vacancy",  # may be missing
        "active": "active",
        "recorded_only": "recorded_only",  # may be missing; yes makes nothing due
        "pack": "pack",  # may be missing
        "check_age": "check_building_age_years",  # may be missing
        "check_joint": "check_base_joint",  # may be missing
        "off": "off_until_chosen",  # may be missing
    },
    "results": {
        "building": "building",
        "unit": "unit",
        "tag": "tag",
        "part": "part",
        "check": "check",
        "outcome": "outcome",
        "done_at": "done_at",
        "done_on": "done_on",
    },
    "calendars": {
        "building": "building",
        "week": "working_days",
        "name": "name",
        "start": "start",
        "rule": "rule",
        "days": "days",
    },
    "units": {
        "building": "building",
        "unit": "unit",
        "unit_kind": "unit_kind",  # unit, or a common area, in which nobody lives
        "occupancy": "occupancy",  # only occupied is lived in
    },
    "households": {
        "building": "building",
        "unit": "unit",
        "moved_in": "moved_in_on",
        "moved_out": "moved_out_on",
    },
    "turnovers": {
        "building": "building",
        "unit": "unit",
        "move_in": "move_in_on",
        "stage": "stage",  # found, repaired, ready: open
        "opened_at": "opened_at",
        "opened_on": "opened_on",
    },
}
OPTIONAL = {"status", "built", "joint", "recorded_only", "pack", "check_age", "check_joint", "off", "min_failures", "on_closed", "season", "vacancy"}
LAST_DONE = "last_done:"  # last_done:CHECK or last_done:CHECK:PART, columns of the fleet

# What of a due row is compared; the rest of the row names it.
COMPARED = [
    "schedule", "anchor", "rule", "start", "lead_days", "grace_days", "early_days", "basis", "counts_from",
    "opens", "due", "last_day", "state", "days_overdue", "missed", "moved_from",
]
KEY = ["building", "unit", "fixture", "part", "check"]
SHOWN = 20  # differences printed

DAY = datetime.timedelta(days=1)
HORIZON_YEARS = 60  # of occurrences after the day asked about


class Unreadable(Exception):
    """A file does not hold what it should."""


# --- rules and intervals ---------------------------------------------------------------------------------------


class Calendar:
    """The occurrences of a rule from its start to the horizon, as sorted days."""

    def __init__(self, text, start, as_of):
        # The days are floating and the start is midnight, so an UNTIL in UTC is read as it stands.
        text = re.sub(r"(UNTIL=\d{8}T\d{6})Z", r"\1", text)
        rule = rrulestr(text, dtstart=datetime.datetime.combine(start, datetime.time()))
        end = datetime.datetime(max(as_of.year, start.year) + HORIZON_YEARS, 1, 1)
        self.days = []
        for instant in rule:
            if instant > end and len(self.days) > 1:
                break
            self.days.append(instant.date())

    def first(self, day):
        """The first occurrence on or after a day."""
        at = bisect.bisect_left(self.days, day)
        return self.days[at] if at < len(self.days) else None

    def between(self, first, last):
        return self.days[bisect.bisect_left(self.days, first):bisect.bisect_right(self.days, last)]

    def shortest_gap(self):
        return min(((b - a).days for a, b in zip(self.days, self.days[1:])), default=None)


def interval_of(text):
    """An ISO 8601 interval of whole days."""
    found = re.fullmatch(r"P(?:(\d+)Y)?(?:(\d+)M)?(?:(\d+)W)?(?:(\d+)D)?", text)
    if not found or not any(found.groups()):
        raise Unreadable(f"{text} is not an interval")
    years, months, weeks, days = (int(number or 0) for number in found.groups())
    # Months and years first, clamped to the month's last day, then weeks and days: what relativedelta does.
    return relativedelta(years=years, months=months, weeks=weeks, days=days)


# --- the meaning -----------------------------------------------------------------------------------------------

Timing = namedtuple("Timing", "calendar interval lead grace early")
History = namedtuple("History", "done installed imported joined spread")
Item = namedtuple("Item", "basis counts_from opens due last_day moved_from")
Moving = namedtuple("Moving", "on_closed season vacancy", defaults=["any"])
Unit = namedtuple("Unit", "vacant stays turnover", defaults=[False, (), None])
WEEKDAYS = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"]
FARTHEST = 366  # days that a due date moves at most


class Closed:
    """The days on which a building is closed, each of them in a set."""

    def __init__(self, week="", closings=(), as_of=None):
        self.week = set(week.split()) or set(WEEKDAYS)
        self.days = set()
        for start, rule, length in closings:
            begun = [start] if not rule else calendar_of(rule, start, as_of).days
            self.days.update(day + n * DAY for day in begun for n in range(length))

    def __contains__(self, day):
        return day in self.days or WEEKDAYS[day.weekday()] not in self.week


OPEN = Closed()
STAYS = Moving("stays", frozenset())
IN_USE = Unit()


def moved(day, floor, moving, closed):
    """Where a due date goes."""

    def in_season(one):
        return not moving.season or one.month in moving.season

    def will_do(one):
        return in_season(one) and (moving.on_closed == "stays" or one not in closed)

    for fits in (will_do, in_season):
        if moving.season and in_season(day):
            for step in ((-1, 1) if moving.on_closed == "back" else (1, -1)):
                one = day
                while in_season(one) and (step > 0 or one >= floor) and abs(one - day) <= FARTHEST * DAY:
                    if fits(one):
                        return one
                    one += step * DAY
        if moving.on_closed == "back":
            for n in range(FARTHEST + 1):
                if day - n * DAY < floor:
                    break
                if fits(day - n * DAY):
                    return day - n * DAY
        for n in range(FARTHEST + 1):
            if fits(day + n * DAY):
                return day + n * DAY
    return day


@functools.lru_cache(maxsize=None)
def calendar_of(rule, start, as_of):
    return Calendar(rule, start, as_of)


def timing_of(anchor, rule, start, lead, grace, early, as_of):
    if anchor == "last_done":
        return Timing(None, interval_of(rule), lead, grace, lead if early is None else early)
    calendar = calendar_of(rule, start, as_of)
    if early is None:
        gap = calendar.shortest_gap()
        early = lead if gap is None else max(lead, gap // 2)
    return Timing(calendar, None, lead, grace, early)


def counts_from(history):
    installed = history.installed if history.installed and history.installed >= history.joined else None
    facts = [("done", history.done), ("installed", installed), ("imported", history.imported)]
    known = [(day, -order, basis) for order, (basis, day) in enumerate(facts) if day]
    if not known:
        return "joined", history.joined
    day, _, basis = max(known)
    return basis, day


def lived_in(day, unit):
    if any(start <= day and (end is None or day < end) for start, end in unit.stays):
        return day
    return min((start for start, _ in unit.stays if start > day), default=day)


def at_turnover(history, earliest, unit):
    basis, day = counts_from(history)
    if unit.turnover is None:
        return None
    opened, move_in = unit.turnover
    if (basis != "joined" and day >= opened) or move_in < max(history.joined, earliest or history.joined):
        return None
    return Item(basis, day, min(opened, move_in), move_in, move_in, None)


def item_of(timing, history, earliest=None, moving=STAYS, closed=OPEN, unit=IN_USE):
    """The next item; `earliest` is the first day that ages allow."""
    if moving.vacancy == "at_turnover":
        return at_turnover(history, earliest, unit)
    if moving.vacancy == "not_while_vacant" and unit.vacant:
        return None

    def goes_to(origin, floor):
        wanted = lived_in(origin, unit) if moving.vacancy == "not_while_vacant" else origin
        return moved(wanted, max(floor, wanted) if wanted > origin else floor, moving, closed)

    basis, day = counts_from(history)
    earliest = floor = max(history.joined, earliest or history.joined)
    if timing.calendar:
        after = earliest
        while True:
            origin = timing.calendar.first(after)
            if origin is None:
                return None
            due = goes_to(origin, floor)
            if basis == "joined" or min(origin, due) - timing.early * DAY > day:
                break
            after = origin + DAY
    else:
        if basis == "joined":
            span = (history.joined + timing.interval - history.joined).days
            origin = max(earliest, history.joined + span * history.spread // 1_000_000 * DAY)
        else:
            end = day + timing.interval
            origin = max(earliest, end)
            floor = max(earliest, day + max(1, (end - day).days // 2) * DAY)
        due = goes_to(origin, floor)
    opens, last_day = due - timing.lead * DAY, due + timing.grace * DAY
    return Item(basis, day, opens, due, last_day, origin if origin != due else None)


def state_of(item, as_of):
    if as_of < item.opens:
        return "later"
    if as_of < item.due:
        return "in_window"
    return "due" if as_of <= item.last_day else "overdue"


def days_overdue(item, as_of):
    return max(0, (as_of - item.last_day).days)


def missed(timing, item, as_of, moving=STAYS, closed=OPEN):
    if as_of <= item.last_day:
        return 0
    if timing.interval or moving.vacancy == "at_turnover":
        return 1
    first = item.moved_from or item.due
    if moving.vacancy == "not_while_vacant":
        first = max(first, item.due)
    later = (day for day in timing.calendar.between(first, as_of + FARTHEST * DAY) if day > first)
    return 1 + sum(moved(day, datetime.date.min, moving, closed) + timing.grace * DAY < as_of for day in later)


# --- the files -------------------------------------------------------------------------------------------------


def day_of(text):
    return datetime.date.fromisoformat(text) if text else None


def number_of(text):
    return int(text) if text else None


def truth_of(text):
    return text.strip().lower() in ("true", "yes", "1")


def plain(text):
    """A cell without the apostrophe that keeps a spreadsheet from reading it as a formula."""
    return text[1:] if len(text) > 1 and text[0] == "'" and text[1] in "=+-@\t\r\n'" else text


def rows_of(path, kind):
    """The rows of a file by our own words; whatever else it holds stays under None."""
    columns = COLUMNS[kind]
    with open(path, encoding="utf-8-sig", newline="") as file:
        reader = csv.DictReader(file, strict=True)
        missing = [name for word, name in columns.items() if word not in OPTIONAL and name not in (reader.fieldnames or [])]
        if missing:
            raise Unreadable(f"{path} has no column {', '.join(missing)}")
        for row in reader:
            cells = {name: plain(cell or "") for name, cell in row.items() if name}
            yield {**{word: cells.get(name, "") for word, name in columns.items()}, None: cells}


def parts_of(text):
    parts = {}
    for part in filter(None, (part.strip() for part in text.split(";"))):
        kind, _, installed = part.partition("=")
        if kind != "none":
            parts[kind] = day_of(installed.rstrip("~"))  # an estimate counts like a date
    return parts


def local_day(row, zones, at="done_at", on="done_on"):
    """The day of an instant, in the building's zone; the file's own day must agree."""
    zone = zones.get(row["building"])
    if zone is None:
        raise Unreadable(f"a row names building {row['building']}, which the fleet does not have")
    instant = datetime.datetime.fromisoformat(row[at].replace("Z", "+00:00"))
    if instant.tzinfo is None:
        instant = instant.replace(tzinfo=tz.UTC)
    day = instant.astimezone(zone).date()
    if row[on] and day_of(row[on]) != day:
        raise Unreadable(f"{row[at]} is {day} in the zone of {row['building']}, and the file says {row[on]}")
    return day


def last_results(path, zones, as_of):
    last = {}
    for row in rows_of(path, "results"):
        if row["outcome"] not in ("pass", "fail"):
            continue
        key = (row["building"], row["unit"], row["tag"], row["part"], row["check"])
        day = local_day(row, zones)
        if day <= as_of:
            last[key] = max(day, last.get(key, day))
    return last


def failed_days(path, zones, as_of):
    """The days on which each check failed at each place."""
    failed = {}
    for row in rows_of(path, "results"):
        if row["outcome"] == "fail":
            day = local_day(row, zones)
            if day <= as_of:
                key = (row["building"], row["unit"], row["tag"], row["part"], row["check"])
                failed.setdefault(key, []).append(day)
    return failed


def moving_of(on_closed, season, vacancy):
    return Moving(on_closed or "stays", frozenset(int(month) for month in season.split()), vacancy or "any")


def calendars_of(path, as_of):
    """The closed days by building."""
    rows = {}
    for row in rows_of(path, "calendars"):
        week, closings = rows.setdefault(row["building"], (row["week"], []))
        if row["name"]:
            closings.append((day_of(row["start"]), row["rule"], int(row["days"] or 1)))
    return {building: Closed(week, closings, as_of) for building, (week, closings) in rows.items()}


def units_of(lived, zones):
    """Who lives in each unit when; a common area, and a unit of which nothing is known, is in use."""
    known = {}
    for row in rows_of(lived.units, "units") if lived.units else ():
        if row["unit_kind"] == "unit":
            known[row["building"], row["unit"]] = Unit(row["occupancy"] != "occupied", [])
    for row in rows_of(lived.households, "households") if lived.households else ():
        unit = known.get((row["building"], row["unit"]), IN_USE)
        if unit is not IN_USE:
            unit.stays.append((day_of(row["moved_in"]), day_of(row["moved_out"])))
    for row in rows_of(lived.turnovers, "turnovers") if lived.turnovers else ():
        place = row["building"], row["unit"]
        if row["stage"] in ("found", "repaired", "ready") and place in known:
            if known[place].turnover:
                raise Unreadable(f"two turnovers of {row['building']} {row['unit']} are open")
            opened = local_day(row, zones, "opened_at", "opened_on")
            known[place] = known[place]._replace(turnover=(opened, day_of(row["move_in"])))
    return known


class Schedule:
    """One check of one schedule."""

    def __init__(self, row, as_of):
        self.code, self.check = row["schedule"], row["check"]
        self.check_kinds, self.check_parts = set(row["check_kinds"].split()), set(row["check_parts"].split())
        self.check_age, self.check_joint = number_of(row["check_age"]), set(row["check_joint"].split())
        self.off, self.chooses = truth_of(row["off"]), row["pack"] in ("chosen", "own", "")
        self.kinds, self.parts = set(row["kinds"].split()), set(row["parts"].split())
        self.buildings, self.tags = set(row["buildings"].split()), set(row["tags"].split())
        self.min_age, self.max_age = number_of(row["min_age"]), number_of(row["max_age"])
        self.min_failures = number_of(row["min_failures"])
        self.anchor, self.rule, self.start = row["anchor"], row["rule"], day_of(row["start"])
        self.moving = moving_of(row["on_closed"], row["season"], row["vacancy"])
        self.active, self.recorded_only = truth_of(row["active"]), truth_of(row["recorded_only"])
        self.timing = timing_of(
            self.anchor, self.rule, self.start, int(row["lead"]), int(row["grace"]), number_of(row["early"]), as_of
        )

    def takes(self, fixture):
        def within(scope, value):
            return not scope or value in scope

        of_check = within(self.check_kinds, fixture["kind"]) and within(self.check_joint, fixture["joint"])
        of_scope = within(self.kinds, fixture["kind"]) and within(self.buildings, fixture["building"])
        return of_check and of_scope and within(self.tags, fixture["tag"])

    def places(self, parts):
        """The parts the check is done at; the empty word is the fixture itself."""
        if not self.check_parts:
            return [] if self.parts else [""]
        return [part for part in parts if part in self.check_parts and (not self.parts or part in self.parts)]

    def earliest(self, fixture, installed):
        """The first day that the ages of the building and of what is checked allow."""
        days = []
        if self.check_age is not None and fixture["built"]:
            days.append(datetime.date(int(fixture["built"]) + self.check_age, 1, 1))
        if self.min_age is not None and installed:
            days.append(installed + relativedelta(years=self.min_age))
        return max(days, default=None)

    def allows(self, due, installed):
        """Whether the maximum age allows a due date."""
        return self.max_age is None or (installed is not None and due <= installed + relativedelta(years=self.max_age))


    def failed_enough(self, failed, history):
        """Whether it failed often enough in the 24 months before the day that it counts from."""
        if self.min_failures is None:
            return True
        day = counts_from(history)[1]
        return sum(day - relativedelta(months=24) < one <= day for one in failed) >= self.min_failures


def schedules_of(path, as_of):
    """The schedules that ask for something."""
    active = [schedule for schedule in (Schedule(row, as_of) for row in rows_of(path, "schedules")) if schedule.active]
    chosen = {schedule.check for schedule in active if schedule.chooses}
    return [
        schedule
        for schedule in active
        if not schedule.recorded_only and (not schedule.off or schedule.check in chosen)
    ]


def installed_on(fixture, part, parts):
    """When what is checked was installed; a part without a date came with its fixture."""
    return parts.get(part) or day_of(fixture["installed"])


def history_of(fixture, part, installed, check, last, as_of):
    place = (fixture["building"], fixture["unit"], fixture["tag"], part, check)
    column = LAST_DONE + check + (f":{part}" if part else "")
    known = lambda day: day if day and day <= as_of else None
    imported = day_of(fixture[None].get(column, ""))
    spread = int(fixture["spread"] or 0)
    return History(last.get(place), known(installed), known(imported), day_of(fixture["joined"]), spread)


def recompute(fleet_path, schedules_path, results_path, as_of, calendars_path, lived):
    fleet = [row for row in rows_of(fleet_path, "fleet") if row["kind"] and row["status"] in ("", "in_service")]
    zones = {row["building"]: tz.gettz(row["zone"]) for row in rows_of(fleet_path, "fleet")}
    for building, zone in zones.items():
        if zone is None:
            raise Unreadable(f"the time zone of building {building} is not known")
    schedules = schedules_of(schedules_path, as_of)
    by_kind = {kind: [s for s in schedules if kind in s.check_kinds or not s.check_kinds] for kind in {row["kind"] for row in fleet}}
    closed = calendars_of(calendars_path, as_of) if calendars_path else {}
    units = units_of(lived, zones)
    last = last_results(results_path, zones, as_of)
    failed = failed_days(results_path, zones, as_of)
    shown = {}
    for fixture in fleet:
        parts = parts_of(fixture["parts"])
        for schedule in by_kind[fixture["kind"]]:
            if not schedule.takes(fixture):
                continue
            for part in schedule.places(parts):
                installed = installed_on(fixture, part, parts)
                history = history_of(fixture, part, installed, schedule.check, last, as_of)
                earliest, days = schedule.earliest(fixture, installed), closed.get(fixture["building"], OPEN)
                unit = units.get((fixture["building"], fixture["unit"]), IN_USE)
                item = item_of(schedule.timing, history, earliest, schedule.moving, days, unit)
                key = (fixture["building"], fixture["unit"], fixture["tag"], part, schedule.check)
                if item is None or not schedule.allows(item.due, installed):
                    continue
                if not schedule.failed_enough(failed.get(key, []), history):
                    continue
                order = (item.last_day, item.due, schedule.code.encode())
                if key not in shown or order < shown[key][0]:
                    shown[key] = (order, schedule, item)
    return {key: row_of(schedule, item, as_of, closed.get(key[0], OPEN)) for key, (_, schedule, item) in shown.items()}


def row_of(schedule, item, as_of, closed):
    timing = schedule.timing
    return {
        "schedule": schedule.code,
        "anchor": schedule.anchor,
        "rule": schedule.rule,
        "start": str(schedule.start) if timing.calendar else None,
        "lead_days": timing.lead,
        "grace_days": timing.grace,
        "early_days": timing.early,
        "basis": item.basis,
        "counts_from": str(item.counts_from),
        "opens": str(item.opens),
        "due": str(item.due),
        "last_day": str(item.last_day),
        "state": state_of(item, as_of),
        "days_overdue": days_overdue(item, as_of),
        "missed": missed(timing, item, as_of, schedule.moving, closed),
        "moved_from": str(item.moved_from) if item.moved_from else None,
    }


def differences(expected, path):
    with open(path, encoding="utf-8") as file:
        rows = json.load(file)
    found = {}
    for row in rows:
        key = tuple(row[name] or "" for name in KEY)
        if key in found:
            yield f"{name_of(key)}: stands in the list twice"
        found[key] = row
    for key in sorted(expected.keys() - found.keys()):
        yield f"{name_of(key)}: is not in the list (due {expected[key]['due']}, {expected[key]['state']})"
    for key in sorted(found.keys() - expected.keys()):
        yield f"{name_of(key)}: is in the list and nothing asks for it"
    for key in sorted(expected.keys() & found.keys()):
        for name in COMPARED:
            if expected[key][name] != found[key].get(name):
                yield f"{name_of(key)}: {name} is {found[key].get(name)}, recomputed {expected[key][name]}"


def name_of(key):
    return " / ".join(filter(None, key))


# --- the table of cases ----------------------------------------------------------------------------------------


def closed_of_case(row, as_of):
    """Closings stand between bars, each as its name, first day, rule and days between at signs."""
    closings = (text.split("@") for text in row["closings"].split("|") if text)
    return Closed(row["working_days"], [(day_of(start), rule, int(days)) for _, start, rule, days in closings], as_of)


def unit_of_case(row):
    """Households stand between bars, each as move-in and move-out; a turnover as the day it was opened and that of its move-in."""
    pairs = lambda text: [tuple(day_of(day) for day in pair.split("/")) for pair in text.split("|") if pair]
    return Unit(row["vacant"] == "yes", pairs(row["households"]), next(iter(pairs(row["turnover"])), None))


def case_differences(path):
    with open(path, encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file, strict=True):
            as_of, start = day_of(row["as_of"]), day_of(row["start"])
            anchor = "calendar" if start else "last_done"
            lead, grace = int(row["lead_days"]), int(row["grace_days"])
            timing = timing_of(anchor, row["anchor"], start, lead, grace, number_of(row["early_days"]), as_of)
            days = (day_of(row[name]) for name in ("done", "installed", "imported", "joined"))
            moving = moving_of(row["on_closed_days"], row["season_months"], row["vacancy"])
            closed, unit = closed_of_case(row, as_of), unit_of_case(row)
            item = item_of(timing, History(*days, int(row["spread_ppm"])), None, moving, closed, unit)
            names = ("basis", "counts_from", "opens", "due", "last_day", "state", "days_overdue", "missed", "moved_from")
            found = {name: "" for name in names}
            if item:
                found = {name: str(value or "") for name, value in item._asdict().items()}
                found["state"] = state_of(item, as_of)
                found["days_overdue"] = str(days_overdue(item, as_of))
                found["missed"] = str(missed(timing, item, as_of, moving, closed))
            for name, value in found.items():
                if value != row[name]:
                    yield f"{row['case']}: {name} is {row[name]}, recomputed {value}"


def main():
    parser = argparse.ArgumentParser(description="Recomputes the due list from exported files and compares.")
    parser.add_argument("--cases", metavar="FILE", help="check a table of cases instead")
    parser.add_argument("--as-of", type=datetime.date.fromisoformat, metavar="DATE")
    for name in ("units", "households", "turnovers"):
        parser.add_argument(f"--{name}", metavar="FILE", help=f"{name} as exported")
    parser.add_argument("files", nargs="*", metavar="fleet.csv schedules.csv results.csv due.json calendars.csv")
    asked = parser.parse_args()
    if not asked.cases and (len(asked.files) not in (4, 5) or asked.as_of is None):
        parser.error("give --as-of and the files: fleet, schedules, results, the due list and perhaps calendars")
    try:
        if asked.cases:
            found = list(case_differences(asked.cases))
            compared = "the table of cases"
        else:
            fleet, schedules, results, listed, calendars = (asked.files + [None])[:5]
            expected = recompute(fleet, schedules, results, asked.as_of, calendars, asked)
            found = list(differences(expected, listed))
            compared = f"{len(expected)} due items"
    except (Unreadable, OSError, ValueError, KeyError, csv.Error) as error:
        print(f"due.py: {type(error).__name__}: {error}", file=sys.stderr)
        sys.exit(2)
    for line in found[:SHOWN]:
        print(line)
    if len(found) > SHOWN:
        print(f"and {len(found) - SHOWN} more")
    print(f"{compared}: {len(found)} differences" if found else f"{compared}: no difference")
    sys.exit(1 if found else 0)


if __name__ == "__main__":
    main()
