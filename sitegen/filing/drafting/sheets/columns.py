"""The columns of a table in full: whose each is, what it measures, in which unit.

In: a `SheetTable` with what stands around it. Out: `Read` columns; what no heading says is asked for or assumed.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from sitegen.core.site.addresses import slug
from sitegen.core.values.units import Dimension, units_of
from sitegen.filing.drafting.choices import Choices, Question
from sitegen.filing.drafting.sheets.cells import (
    Decimal,
    decimal_of,
    float_of,
    is_empty,
    value_and_words,
    value_of,
)
from sitegen.filing.drafting.sheets.headings import (
    DIMENSIONS,
    Heading,
    Role,
    heading_of,
    numbered_word,
    unit_of,
)
from sitegen.filing.drafting.sheets.tables import Column, SheetTable

_NO_TITLE = ("across", "t", "pick", "tall", "width")  # words that titles hold with another meaning
_ENOUGH = 2000  # rows
_UNITLESS = (Dimension.COUNT, Dimension.ACIDITY)
_USUAL: dict[Dimension, tuple[str, str]] = {
    Dimension.LENGTH: ("cm", "in"),
    Dimension.MASS: ("g", "oz"),
    Dimension.VOLUME: ("L", "gal"),
    Dimension.TEMPERATURE: ("°C", "°F"),
    Dimension.CONDUCTIVITY: ("mS/cm", "mS/cm"),
    Dimension.SHARE: ("%", "%"),
    Dimension.PHOTON_FLUX: ("µmol/m²/s", "µmol/m²/s"),
    Dimension.ILLUMINANCE: ("lux", "lux"),
}
# A number above which a bare value is taken for one in a smaller unit: no room is that warm, no solution that strong,
# nobody adds that much water at once; custom, no source.
_TOO_LARGE: dict[Dimension, tuple[float, str]] = {
    Dimension.TEMPERATURE: (50, "°F"),
    Dimension.CONDUCTIVITY: (20, "µS/cm"),
    Dimension.VOLUME: (40, "ml"),
}


@dataclass(frozen=True, slots=True)
class Around:
    """What stands around a table: texts that may say what it holds; the units of the journal."""

    texts: tuple[str, ...]
    units: Literal["metric", "us"]


def columns_read(table: SheetTable, around: Around, choices: Choices) -> tuple[Column, ...]:
    """The columns of a table, each with its role, plant, key and unit."""
    columns = [column for column in table.columns if column is not table.when]
    columns = list(_with_plants(table, columns, choices))
    columns = list(_with_keys(table, columns, around, choices))
    return tuple(_with_unit(table, column, around, choices) for column in columns)


def decimal_sign(table: SheetTable, choices: Choices) -> Decimal:
    """How the numbers of a table are written."""
    texts = (text for column in table.columns if column is not table.when for text in cells_of(table, column))
    sign, is_open = decimal_of(texts)
    if not is_open:
        return sign
    question = Question("decimal", "Is `1,234` a decimal number or a thousand?", ("point", "comma"), "point")
    chosen = choices.take(
        question,
        "decimal sign",
        "a comma before three digits was read as thousands",
        "say `--answer decimal=comma`",
    )
    return "comma" if chosen == "comma" else "point"


def cells_of(table: SheetTable, column: Column) -> Iterator[str]:
    """The filled cells of a column, of as many rows as show what it holds."""
    for row in range(table.first, min(table.last + 1, table.first + _ENOUGH)):
        text = table.grid.own(row, column.index)
        if text and not is_empty(text):
            yield text


def _with_plants(table: SheetTable, columns: list[Column], choices: Choices) -> Iterator[Column]:
    """Columns that are named as plants get them: `Basil 2` is P2 where all of them are called basil."""
    named = {
        column.index: found
        for column in columns
        if column.heading.role is Role.OTHER
        and not column.heading.plant
        and (found := numbered_word(column.heading.rest))
        and _is_numeric(table, column)
    }
    words = Counter(word for word, _ in named.values())
    for column in columns:
        if column.index not in named:
            yield column
            continue
        word, number = named[column.index]
        alike = len(words) == 1 and number.isdigit()
        plant = f"P{int(number)}" if alike else slug(f"{word}-{number}")
        choices.say(f"`{column.text}` is plant {plant}")
        yield replace(column, heading=replace(column.heading, plant=plant, rest=""))


def _is_numeric(table: SheetTable, column: Column) -> bool:
    """Whether most cells of a column are numbers."""
    texts = list(cells_of(table, column))
    return bool(texts) and sum(
        value_of(text, Dimension.LENGTH, "cm", "point") is not None for text in texts
    ) * 3 >= (2 * len(texts))


def _with_keys(
    table: SheetTable, columns: list[Column], around: Around, choices: Choices
) -> Iterator[Column]:
    """Columns of plants that do not say what they measure take it from a title, or from an answer."""
    open_ones = [column for column in columns if column.heading.role is Role.OTHER and column.heading.plant]
    known = any(column.heading.role in (Role.VALUE, Role.ANY) for column in columns)
    context = _said_around(around)
    if not open_ones and context and not known:
        numeric = [c for c in columns if c.heading.role is Role.OTHER and c.text and _is_numeric(table, c)]
        open_ones = [replace(c, heading=replace(c.heading, plant=slug(c.text), rest="")) for c in numeric]
        for column in open_ones:
            choices.say(f"`{column.text}` is plant {column.heading.plant}")
    if not open_ones:
        yield from columns
        return
    found = context or _asked(table, open_ones, choices)
    ready = {column.index: column for column in open_ones}
    for column in columns:
        mine = ready.get(column.index)
        if mine is None or found is None:
            yield mine or column
            continue
        heading = replace(mine.heading, role=Role.VALUE, key=found.key, unit=mine.heading.unit or found.unit)
        yield replace(mine, heading=heading)
    if context:
        names = _span_words([column.text for column in open_ones])
        choices.say(f"{names}: {context.key.replace('_', ' ')}, as `{context.text}` says")


def _span_words(names: list[str]) -> str:
    return f"`{names[0]}` to `{names[-1]}`" if len(names) > 2 else " and ".join(f"`{name}`" for name in names)


def _said_around(around: Around) -> Heading | None:
    """The reading that a title, the sheet's name or the file's name says."""
    for text in around.texts:
        whole = heading_of(text)
        if whole.role is Role.VALUE:
            return whole
        words = [word for word in re.split(r"[\s_,;:()\[\].-]+", text) if word]
        for word in words:
            part = heading_of(word)
            if (
                part.role is Role.VALUE
                and part.key not in ("water", "pieces")
                and word.lower() not in _NO_TITLE
            ):
                units = (unit_of(each, DIMENSIONS.get(part.key)) for each in words)
                return replace(part, text=text, unit=next(filter(None, units), ""))
    return None


def _by_own_units(table: SheetTable, columns: list[Column]) -> str:
    """What cells with units of their own show: lengths are heights, weights are picks; empty where they do not."""
    texts = [text for column in columns for text in cells_of(table, column)]
    for dimension, key in ((Dimension.LENGTH, "height"), (Dimension.MASS, "harvest")):
        for text in texts:
            if value := value_of(text, dimension, "", "point"):
                return f"{key} {re.sub(r'^.*?[0-9+] ', '', value).removesuffix(' by eye')}"
    return ""


def _asked(table: SheetTable, columns: list[Column], choices: Choices) -> Heading | None:
    names = _span_words([column.text for column in columns])
    options = ("height cm", "height in", "leaves", "harvest g", "nothing")
    shown = _by_own_units(table, columns)
    because = "since the cells that have a unit show it" if shown else "and their cells are kept as comments"
    question = Question("reading", f"What do the columns {names} hold?", options, shown or "nothing")
    answer = choices.take(
        question,
        f"what {names} hold",
        f"for no heading, title or name says it, {because}",
        "say it as `--answer 'reading=height cm'`",
    )
    heading = heading_of(answer)
    return heading if heading.role is Role.VALUE else None


def _with_unit(table: SheetTable, column: Column, around: Around, choices: Choices) -> Column:
    """A column of numbers that names no unit takes the usual one of the journal, which is said."""
    heading = column.heading
    if heading.meant:
        choices.say(f"`{column.text}` is the temperature of the air")
    dimension = heading.dimension
    if heading.role is not Role.VALUE or dimension is None or dimension in _UNITLESS or heading.unit:
        return column
    bare = [text for text in cells_of(table, column) if _value_in(text, dimension, "") is None]
    sizes = [
        float_of(number[0])
        for text in bare
        if (value := _value_in(text, dimension, _USUAL[dimension][0]))
        and (number := re.search(r"\d+(?:\.\d+)?", value))
    ]
    if not sizes:
        return column
    name = heading.text if len(table.columns) < 3 else column.text
    unit = choices.take(*_unit_question(heading, name, max(sizes), around, dimension))
    return replace(column, heading=replace(heading, unit=unit_of(unit, dimension)))


def _value_in(text: str, dimension: Dimension, unit: str) -> str | None:
    """The value of a cell, without the words beside it."""
    alone = value_of(text, dimension, unit, "point")
    return value_and_words(text, dimension, unit, "point")[0] if alone is None else alone


def _unit_question(
    heading: Heading, name: str, largest: float, around: Around, dimension: Dimension
) -> tuple[Question, str, str, str]:
    usual = _USUAL[dimension][around.units == "us"]
    because = f"the usual unit of a journal in {around.units} units, since no heading names one"
    if dimension in _TOO_LARGE and largest > _TOO_LARGE[dimension][0] and around.units == "metric":
        usual, because = (
            _TOO_LARGE[dimension][1],
            f"since no heading names one and the values reach {largest:g}",
        )
    options = tuple(unit.symbol for unit in units_of(dimension)[:4])
    label = name.split(" / ", maxsplit=1)[0] if heading.plant else name
    key = f"unit:{heading.key}"
    asked = f"`{label}` names no unit: which one are its numbers in?"
    return (
        Question(key, asked, options, usual),
        f"unit of {heading.key.replace('_', ' ')}",
        because,
        f"say it as `--answer {key}=UNIT`",
    )
