"""The types of the format's tables: a key with its value form and subject, and the keys of one mapping.

In: nothing. Out: `Form`, `Subject`, `Field`, `Table`, `table`. The tables themselves are in `core.format`.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from sitegen.core.format.spelling import meant
from sitegen.core.values.units import Dimension


class Form(StrEnum):
    """The form in which a value is written."""

    TEXT = "text"
    FLAG = "true or false"
    WHOLE = "a whole number"
    PIECES = "a whole number, or `some`"
    NUMBER = "a number"
    ID = "an id"
    IDS = "ids"
    PATTERNS = "patterns of file names"
    CHOICE = "one of some words"
    DATE = "a date"
    CLOCK = "minutes and seconds"
    TIME = "a time of day"
    START = "a date, a month, or `unknown`"
    DAY = "a day"
    QUANTITY = "a quantity"
    SIZE = "two lengths"
    FLUX = "a photon flux density at a distance"
    DOSE = "a dose"
    PRICE = "a price"
    ZONE = "a time zone"
    WHICH = "plants"
    PLANTS = "a number of plants, or their names"
    GROUPS = "names for sets of plants"
    VARIETIES = "a variety, or varieties by plants"
    TABLE = "a mapping"
    TABLES = "mappings"
    NAMED = "mappings by id"
    SEEDS = "seeds"
    SPROUTED = "seedlings"
    LEAVE = "plants to leave"
    READING = "a reading"
    DOSES = "doses by product"
    WATER = "water"
    PICK = "a pick"
    SPOILT = "a number, or a number and a weight"
    TALLY = "a running tally"
    STAGES = "plants by milestone"
    DEED = "what was done"
    TREATMENT = "what was done with a product"
    CLIPS = "footage"
    LOST = "plants, with what happened"
    MOVES = "tubs by plant"
    LIGHT = "a lamp's setting"
    ROUTINE = "what is done from now on"
    STOP = "routines that end"
    SCORE = "a score and words"
    PHOTOS = "photos"
    COLUMNS = "what each column holds"
    END = "why it ended"


class Subject(StrEnum):
    """The kind of subject that a value belongs to."""

    NONE = ""
    PLANTS = "plants"
    TUBS = "tubs"


@dataclass(frozen=True, slots=True)
class Field:
    """One key: its value form, its purpose, and an example as written in a file."""

    key: str
    form: Form
    about: str
    example: str = ""
    dimension: Dimension | None = None
    choices: tuple[str, ...] = ()
    table: str = ""
    required: bool = False
    subject: Subject = Subject.NONE


@dataclass(frozen=True, slots=True)
class Table:
    """The keys of one mapping, in the order of the reference."""

    name: str
    about: str
    fields: tuple[Field, ...]
    by_key: Mapping[str, Field] = dataclasses.field(init=False, repr=False, compare=False)
    required: tuple[Field, ...] = dataclasses.field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "by_key", {field.key: field for field in self.fields})
        object.__setattr__(self, "required", tuple(field for field in self.fields if field.required))

    @property
    def keys(self) -> tuple[str, ...]:
        """The names of the keys."""
        return tuple(self.by_key)

    def field(self, key: str) -> Field:
        """The field with a key."""
        return self.by_key[key]

    def has(self, key: str) -> bool:
        """Whether the table has a key."""
        return key in self.by_key

    def meant(self, word: str) -> str:
        """The key that a word spells, in any case and with any sign between its parts; empty where it is none."""
        return word if word in self.by_key else meant(word, self.by_key)


def table(name: str, about: str, *fields: Field) -> Table:
    """A table of some fields."""
    return Table(name, about, fields)
