"""The log as a whole: entries in the order of their days, each key handed to its reader.

In: the items under `log:` and the set-up. Out: `Rows`. The order of entries in the file does not change a result:
days do, and the file's order only within a day.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from sitegen.core.findings.examples import in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.format.entry import LOG_KEYS, LogKey
from sitegen.core.format.fields import Form
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import Deed, Entry, Event, Reading, Rows
from sitegen.core.records.setup import Setup
from sitegen.core.values.day import Day
from sitegen.ingest.library import Library
from sitegen.ingest.log import clips, deeds, picks, plants, readings, tubs
from sitegen.ingest.log import plants as stages
from sitegen.ingest.log.visit import Collected, Visit
from sitegen.ingest.values.plants import PlantNames
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar
from sitegen.ingest.yaml.parser import parse
from sitegen.ingest.yaml.typed_fields import TypedFields, is_misspelt, read_fields

# How the value of a key is read, by its form. What belongs to the entry itself (day, date, tell, private) has no record.
_READERS: dict[Form, Callable[[Node, LogKey, Visit], None]] = {
    Form.SEEDS: plants.read_sow,
    Form.SPROUTED: plants.read_sprouted,
    Form.LEAVE: plants.read_thin,
    Form.WHICH: plants.read_plants,
    Form.WATER: tubs.read_water,
    Form.DOSES: tubs.read_doses,
    Form.READING: readings.read_reading,
    Form.LIGHT: tubs.read_light,
    Form.ROUTINE: tubs.read_routine,
    Form.STOP: tubs.read_stop,
    Form.STAGES: stages.read_milestones,
    Form.DEED: deeds.read_deed,
    Form.TREATMENT: deeds.read_treat,
    Form.PICK: picks.read_harvest,
    Form.TALLY: picks.read_tally,
    Form.SCORE: deeds.read_taste,
    Form.PHOTOS: deeds.read_photos,
    Form.CLIPS: clips.read_clips,
    Form.TEXT: deeds.read_words,
    Form.LOST: plants.read_lost,
    Form.MOVES: plants.read_move,
    Form.END: plants.read_end,
}
# The keys in the order in which an entry is understood, each with its reader.
_READ = {key: _READERS[row.form] for key, row in LOG_KEYS.items() if row.record is not None}


class _Dated(NamedTuple):
    read: TypedFields
    day: Day


def read_log(
    read: TypedFields,
    setup: Setup,
    names: PlantNames,
    library: Library,
    photo_names: frozenset[str],
    findings: Findings,
) -> Rows:
    """All rows of the log of one experiment."""
    _report_no_entries(read, setup)
    dated = sorted(_dated(read, setup, findings), key=lambda item: _sort_key(item.day))
    rows = Collected(lamps={tub.id: tub.light for tub in setup.tubs if tub.light is not None})
    entries: list[Entry] = []
    tub_ids = tuple(tub.id for tub in setup.tubs)
    for index, item in enumerate(dated):
        visit = Visit(item.day, index, names, tub_ids, library, setup.crop, photo_names, rows, findings)
        before = len(rows.events)
        entries.append(_entry(item, index))
        _read_entry(item.read, visit)
        names = _names_after(names, rows.events[before:])
    return Rows(
        entries=tuple(entries),
        events=tuple(rows.events),
        readings=tuple(rows.readings),
        picks=tuple(rows.picks),
        tallies=tuple(rows.tallies),
        milestones=tuple(rows.milestones),
        lights=(*_lights_at_start(setup), *rows.lights),
        routines=tuple(_with_ends(rows)),
        photos=tuple(rows.photos),
    )


def _report_no_entries(read: TypedFields, setup: Setup) -> None:
    """A log without entries is that of a planned run, which has a start."""
    log = read.node("log")
    empty = isinstance(log, Items) and not log.items and not read.broken and not read.has("readings")
    if empty and isinstance(log, Items) and setup.start.date is None:
        mend = "write at least one entry under `log`, or for a planned run the date of its `start`"
        read.findings.add("no-log", log.source, "`log` holds no entry", mend=mend, expected="an entry")


def _sort_key(day: Day) -> int:
    """Days that begin together stay in the order of the file."""
    return day.key[0]


def _dated(read: TypedFields, setup: Setup, findings: Findings) -> Iterator[_Dated]:
    before: TypedFields | None = None
    for item in read.nested_list("log"):
        day = _day(item, before, setup, findings)
        before = item
        if day is not None:
            yield _Dated(item, day)


def day_of_entry(text: str, setup: Setup) -> Day | None:
    """The day of an entry that its file does not hold yet, by its text; None where it has none."""
    findings = Findings()  # told where the file is read with the entry
    node = parse(text, "", findings)
    entry = node.items[0] if isinstance(node, Items) and node.items else None
    if not isinstance(entry, Mapping):
        return None
    return _day(read_fields(entry, "entry", findings), None, setup, findings)


def _report_no_day(item: TypedFields, before: TypedFields | None, findings: Findings) -> None:
    """An entry that nothing dates: often a line of the entry above that was given a hyphen of its own."""
    if any(
        re.fullmatch(r"[\d-]+", key) or is_misspelt("day", [key]) or is_misspelt("date", [key])
        for key in item.unknown_keys
    ):
        return  # the key is misspelt, which is a finding already
    mend = "begin it with its day, such as `day: 26` or `date: 2025-10-19`"
    if before is not None and len(before.values) == 1:
        mend = "write a space instead of its `-`, so that it belongs to the entry above"
    message = "this entry says neither day nor date"
    findings.add("no-day", item.source.part(0, 1), message, mend=mend, expected="day | date")


def _day(item: TypedFields, before: TypedFields | None, setup: Setup, findings: Findings) -> Day | None:
    given = item.day("day") if item.has("day") else None
    if not item.has("date"):
        if not item.has("day"):
            _report_no_day(item, before, findings)
        return given
    date = item.date("date", setup.start.date)
    if date is None:
        return given
    reckoned = setup.start.day_of(date)
    if reckoned is None and given is None:
        message = "a date, but the start is unknown: its day cannot be counted"
        mend = "write `day:` instead, or give the `start`"
        item.report("date", "date-without-start", message, mend, found=str(date))
    if reckoned is None or given is None:
        return given or reckoned
    if given.last < reckoned.first or given.first > reckoned.last:
        message = f"day {given} and {date} disagree: {date} is day {reckoned}"
        mend = f"keep one of them: `day: {given}` or `date: {date}`"
        if _apart(item):
            mend += ", or write `- ` before the second to begin another entry with it"
        item.report("date", "day-and-date", message, mend, found=str(date), expected=f"day {given}")
    return given


def _apart(item: TypedFields) -> bool:
    """Whether other lines stand between the day and the date of an entry."""
    places = [list(item.values).index(key) for key in ("day", "date")]
    return abs(places[0] - places[1]) > 1 and item.at("day").line != item.at("date").line


def _entry(item: _Dated, index: int) -> Entry:
    return Entry(
        index=index,
        day=item.day,
        source=item.read.source.part(0, 1),
        tell=item.read.choice("tell"),
        private=item.read.has("private"),
    )


def _report_nothing(key: str, read: TypedFields) -> None:
    """`harvest: {}` says that something was written and lost."""
    node = read.values[key]
    if isinstance(node, Scalar) or (node.pairs if isinstance(node, Mapping) else node.items):
        return
    example = in_units(read.table.field(key).example, read.findings.units)
    mend = f"write it, such as `{key}: {example}`, or remove it"
    read.report(key, "wrong-type", f"`{key}` holds nothing", mend, found="nothing")


def _read_entry(read: TypedFields, visit: Visit) -> None:
    for key, node in read.values.items():
        if not isinstance(node, Scalar):
            _report_nothing(key, read)
    for key, reader in _READ.items():
        if key in read.values:
            reader(read.values[key], LOG_KEYS[key], visit)


def _names_after(names: PlantNames, events: list[Event]) -> PlantNames:
    """The names that hold after a visit's events: losses, resowings and moves count from there."""
    for event in events:
        if event.which is None:
            continue  # about plants that are not named
        if event.deed is Deed.LOST:
            names = names.without(event.which.ids)
        elif event.deed is Deed.SOW:
            names = names.resown(event.which.ids)
        elif event.deed is Deed.MOVE:
            names = names.moved(event.which.ids, event.tub)
    return names


def _lights_at_start(setup: Setup) -> Iterator[Light]:
    for tub in setup.tubs:
        if tub.light is not None:
            yield Light(Day.on(0), None, setup.at("light"), tub.id, tub.light)


def _with_ends(rows: Collected) -> Iterator[Routine]:
    """Each routine until the next of the same thing, or until it was stopped."""
    stops = [event for event in rows.events if event.deed is Deed.STOP]
    for routine in rows.routines:
        others = [other for other in rows.routines if other.tub == routine.tub]
        ends = [
            row.day for row in (*others, *stops) if row.what == routine.what and row.entry > routine.entry
        ]
        yield replace(routine, until=min(ends, default=None))


def merged_readings(rows: Rows, more: tuple[Reading, ...]) -> Rows:
    """Rows with the readings of spreadsheets, in the order of days."""
    both = sorted([*rows.readings, *more], key=lambda r: (_sort_key(r.day), r.entry is None))
    return replace(rows, readings=tuple(both))
