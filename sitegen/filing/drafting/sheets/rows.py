"""The rows of a table → values of the log, each with its day, its plants and its place.

In: a `SheetTable`, its columns, the day of each row. Out: `Record`s; whatever cannot be read is `Kept`.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.site.addresses import slug
from sitegen.core.values.units import Dimension
from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.dates import When, day_number
from sitegen.filing.drafting.days import day_zero
from sitegen.filing.drafting.records import Found, Kept, Record
from sitegen.filing.drafting.sheets.cells import Decimal, is_empty, value_and_words, value_of
from sitegen.filing.drafting.sheets.dated_columns import DatedColumn, add_dates, pick_day, row_notes
from sitegen.filing.drafting.sheets.headings import (
    DIMENSIONS,
    Heading,
    Role,
    heading_of,
    numbered_word,
    unit_of,
)
from sitegen.filing.drafting.sheets.tables import Column, SheetTable

_EVERY = ("all", "alle", "each", "every")


@dataclass(slots=True)
class RowReader:
    """Reads the rows of one table into `found`."""

    table: SheetTable
    columns: Sequence[Column]
    days: Mapping[int, When]
    decimal: Decimal
    found: Found
    choices: Choices
    skipped: frozenset[int] = frozenset()  # columns that a copy of the sheet already says
    dated: Sequence[DatedColumn] = ()  # other columns of dates

    def read(self) -> None:
        """All rows."""
        before: When | None = None
        filled: list[str] = []
        for row in range(self.table.first, self.table.last + 1):
            when = self.days.get(row)
            if when is None and before is not None and self._goes_on(row):
                when = before
                filled.append(self.table.grid.place(row, self.table.when.index))
            self._row(row, when)
            before = when or before
        plants = {row: self._plants(row) or self._only_plants(row) for row in self._dated_rows()}
        add_dates(self.table, self.dated, plants, self.found)
        if filled:
            shown = ", ".join(filled[:5]) + (" …" if len(filled) > 5 else "")
            self.choices.say(f"rows without a day ({shown}): of the day of the row above")

    def _dated_rows(self) -> Iterator[int]:
        """The rows that have a date beside their day."""
        yield from dict.fromkeys(row for each in self.dated for row in each.by_row)

    def _only_plants(self, row: int) -> tuple[str, ...]:
        """The plants whose columns have a value in a row, where no column names its plant."""
        return tuple(
            column.heading.plant
            for column in self.columns
            if column.heading.plant and not is_empty(self.table.grid.own(row, column.index))
        )

    def _goes_on(self, row: int) -> bool:
        """Whether a row without a day belongs to the day above: it names a plant of its own."""
        return not self.table.grid.own(row, self.table.when.index) and any(
            self.table.grid.own(row, column.index)
            for column in self.columns
            if column.heading.role in (Role.PLANT, Role.NAME)
        )

    def _row(self, row: int, when: When | None) -> None:
        if when is None:
            if not self._only_dates(row):
                self._keep_row(row)
            return
        if when.key == "date":
            self.found.look_at(dt.date.fromordinal(when.rank))
        plants = self._plants(row)
        weighed = False
        for column in self.columns:
            text = self.table.grid.own(row, column.index)
            if column.heading.role in (Role.DAY, Role.WEEK) and when.key == "date" and text:
                self._note_start(row, text, when, column)
            elif text and column.index not in self.skipped:
                picked = column.heading.key in ("harvest", "pieces") and not is_empty(text)
                weighed = weighed or picked
                day = (pick_day(self.dated, row) if picked else None) or when
                self._cell(row, column, text, day, plants)
        for day, text, place in row_notes(self.table, self.dated, row, when, weighed):
            self.found.records.append(Record(day, "note", plants, text, place))

    def _only_dates(self, row: int) -> bool:
        """Whether a row has nothing but the name of a plant and dates that the log holds."""
        told = {each.column.index for each in self.dated if row in each.by_row}
        named = {column.index for column in self.columns if column.heading.role is Role.PLANT}
        return bool(told) and all(
            is_empty(self.table.grid.own(row, column.index))
            for column in self.table.columns
            if column.index not in told | named
        )

    def _keep_row(self, row: int) -> None:
        """A row without a day: all its cells, in one line."""
        cells = [
            (self.table.grid.place(row, column.index), f"{column.text}: {text}" if column.text else text)
            for column in self.table.columns
            if (text := self.table.grid.own(row, column.index)) and not is_empty(text)
        ]
        if cells:
            self.found.kept.append(Kept(None, cells[0][0], "; ".join(text for _, text in cells)))

    def _note_start(self, row: int, text: str, when: When, column: Column) -> None:
        day = day_number(text)
        zero = (
            day_zero(dt.date.fromordinal(when.rank), day) if day and column.heading.role is Role.DAY else None
        )
        place = self.table.grid.place(row, column.index)
        if zero is not None:
            self.found.starts.append((zero, place))
        if zero is None or zero != self.found.starts[0][0]:
            self.found.kept.append(Kept(when, place, f"{column.text}: {text}"))

    def _cell(self, row: int, column: Column, text: str, when: When, plants: tuple[str, ...]) -> None:
        heading, place = column.heading, self.table.grid.place(row, column.index)
        if heading.role is Role.PLANT or self._is_of_value(row, column, text):
            return
        if heading.role is Role.NOTE:
            of = (heading.plant,) if heading.plant else plants
            self.found.records.append(Record(when, "note", of, text, place))
            return
        if is_empty(text):
            return
        if heading.role is Role.ANY:
            heading = self._named(row, heading)
        spanned = self._spanned(row, column)
        own = (heading.plant,) if heading.plant else plants
        value, words = None, ""
        if spanned is not None and heading.role is Role.VALUE:
            dimension = DIMENSIONS[heading.key]
            value = self._value(text, dimension, heading)
            if value is None:
                value, words = value_and_words(text, dimension, heading.unit, self.decimal)
        if value is None:
            whose = f"{', '.join(own)}: " if own and not heading.plant else ""
            name = heading.text if heading.role is not Role.ANY else column.text
            self.found.kept.append(Kept(when, place, f"{whose}{name}: {text}"))
            return
        if heading.key == "harvest" and re.fullmatch(r"0(?:\.0+)? \w+", value):
            self.choices.say(f"`0` under `{column.text}`: nothing was picked")
            return
        self.found.records.append(Record(when, heading.key, spanned or own, value, place))
        if words:
            self.choices.say("words beside a number in a cell are a note of its entry")
            what = "" if heading.key in ("harvest", "pieces") else f"{heading.key.replace('_', ' ')}: "
            self.found.records.append(Record(when, "note", spanned or own, f"{what}{words}", place))

    def _is_of_value(self, row: int, column: Column, text: str) -> bool:
        """Whether a cell names a value beside it, or its unit."""
        role = column.heading.role
        if role not in (Role.NAME, Role.UNIT) or column is not self._first(role):
            return False
        value = self._first(Role.ANY)
        beside = value is not None and not is_empty(self.table.grid.own(row, value.index))
        return beside and (role is Role.NAME or bool(unit_of(text)))

    def _first(self, role: Role) -> Column | None:
        return next((column for column in self.columns if column.heading.role is role), None)

    def _value(self, text: str, dimension: Dimension, heading: Heading) -> str | None:
        if heading.key == "ph" and (
            both := re.fullmatch(r"([\d.,]+)\s*(?:->|→|then|,\s+then|dann)\s*([\d.,]+)", text)
        ):
            before, after = (value_of(each, dimension, "", self.decimal) for each in both.groups())
            return f"{before}, then {after}" if before and after else None
        return value_of(text, dimension, heading.unit, self.decimal)

    def _spanned(self, row: int, column: Column) -> tuple[str, ...] | None:
        """The plants over which a merged cell lies; none where it is a cell alone; None where nothing can be said."""
        first, last = self.table.grid.range_of(row, column.index)
        if first == last:
            return ()
        if first[0] != last[0]:
            return None
        over = [each for each in self.columns if first[1] <= each.index <= last[1]]
        same = {(each.heading.key, each.heading.unit) for each in over}
        return (
            tuple(each.heading.plant for each in over) if len(same) == 1 and over[0].heading.plant else None
        )

    def _named(self, row: int, heading: Heading) -> Heading:
        """What a value is, by the cells beside it that name it and its unit."""
        names = [
            self.table.grid.own(row, column.index)
            for column in self.columns
            if column.heading.role is Role.NAME
        ]
        named = heading_of(names[0]) if names else heading
        units = [
            self.table.grid.own(row, column.index)
            for column in self.columns
            if column.heading.role is Role.UNIT
        ]
        unit = unit_of(units[0], named.dimension) if units else ""
        return Heading(named.text, named.role, named.key, unit or named.unit, named.plant)

    def _plants(self, row: int) -> tuple[str, ...]:
        """The plants that a row names; none where it names none."""
        found: list[str] = []
        for column in self.columns:
            if column.heading.role is Role.PLANT and (text := self.table.grid.cell(row, column.index)):
                found += plants_in(text)
        for plant in found:
            self.found.name_plant(plant)
        return tuple(found)


def plants_in(text: str) -> list[str]:
    """The plants that a cell names: `P1`, `1`, `Plant 1`, `P1-P3`, `Basil 2`; none for `all`."""
    if text.strip().lower() in _EVERY:
        return []
    if span := re.fullmatch(r"\D{0,7}?(\d{1,3})\s*[-–]\s*\D{0,7}?(\d{1,3})", text.strip()):
        return [f"P{number}" for number in range(int(span[1]), int(span[2]) + 1)]
    found = []
    for part in re.split(r"(?<!\s)\s*+(?:[,;&+]|\band\b|\bund\b)\s*+", text.strip()):
        if re.fullmatch(r"\d{1,3}", part):
            found.append(f"P{int(part)}")
        elif plant := heading_of(part).plant:
            found.append(plant)
        elif part:
            word = numbered_word(part)
            found.append(slug(f"{word[0]}-{word[1]}" if word else part))
    return [plant for plant in found if plant]
