"""What stands under a heading of a sheet: a day, a plant, a reading with its unit, a weight, notes.

In: the text of a heading, in English or German. Out: `Heading`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.values.units import Dimension, spellings, unit_named
from sitegen.filing.words.phrases import words_in

D = Dimension


class Role(StrEnum):
    """What the cells of a column are."""

    DAY = "day"
    WEEK = "week"
    DATE = "date"
    TIME = "time"  # a date with a time of day
    CLOCK = "clock"  # a time of day beside a date
    PLANT = "plant"
    VALUE = "value"  # a value of the log's key `key`
    NAME = "name"  # the name of what is in the column of values
    ANY = "any"  # the value of what the column of names says
    UNIT = "unit"
    NOTE = "note"
    OTHER = "other"


_SAID = {
    Role.DAY: (
        "day|days|tag|tage|das|dap|dat|day number|day no|days after sowing|days after planting|"
        "days since sowing|tage nach aussaat|tag nr|age|alter|age days"
    ),
    Role.WEEK: "week|weeks|woche|wochen|kw seit aussaat",
    Role.DATE: "date|dates|datum|when|wann|date of visit|visit|measured on|gemessen am",
    Role.TIME: (
        "timestamp|time stamp|datetime|date time|date and time|zeitstempel|zeitpunkt|datum uhrzeit|"
        "datum zeit|datum und uhrzeit|recorded at|date time utc"
    ),
    Role.CLOCK: "time|zeit|uhrzeit|clock|time of day",
    Role.PLANT: (
        "plant|pflanze|plant id|plant no|plant number|pot|topf|spot|cup|becher|which|pflanze nr|id|plants|no|"
        "nr|tree"
    ),
    Role.NAME: "variable|parameter|measure|measurement|reading|trait|what|messgröße|größe|merkmal|was",
    Role.ANY: "value|wert|amount|messwert|result",
    Role.UNIT: "unit|units|einheit",
    Role.NOTE: (
        "note|notes|comment|comments|remark|remarks|observation|observations|notiz|notizen|bemerkung|"
        "bemerkungen|anmerkung|anmerkungen|kommentar|kommentare|beobachtung|beobachtungen|what happened|"
        "what i did|was getan|text|diary|log"
    ),
}
_SAID_OF_VALUES = {
    "height": "height|heights|höhe|hoehe|höhen|plant height|wuchshöhe|pflanzenhöhe|ht|tall|länge|laenge",
    "spread": "spread|width|breite|across|canopy width|durchmesser blätter",
    "leaves": (
        "leaves|leaf count|leaf number|leaves count|count of leaves|blätter|blaetter|blattzahl|blattanzahl|"
        "anzahl blätter|true leaves"
    ),
    "ec": "ec|conductivity|leitwert|leitfähigkeit|leitfaehigkeit|ec value",
    "ph": "ph|ph value|ph wert",
    "water_temperature": (
        "water temperature|water temp|solution temperature|solution temp|wassertemperatur|wasser temperatur|"
        "wasser temp|nutrient temp|reservoir temp|reservoir temperature|twater|t water"
    ),
    "air_temperature": (
        "air temperature|air temp|temperature|temp|lufttemperatur|luft temp|raumtemperatur|temperatur|"
        "room temp|room temperature|ambient temperature|tair|t air|t"
    ),
    "leaf_temperature": "leaf temperature|leaf temp|blatttemperatur",
    "humidity": (
        "humidity|rh|relative humidity|rel humidity|air humidity|luftfeuchte|luftfeuchtigkeit|feuchte|rf|"
        "rel luftfeuchte|relative luftfeuchtigkeit|hum"
    ),
    "ppfd": "ppfd|par",
    "lux": "lux|illuminance|beleuchtungsstärke",
    "harvest": (
        "harvest|harvested|weight|yield|pick|picked|fresh weight|fw|ernte|geerntet|gewicht|ertrag|"
        "frischgewicht|erntegewicht|harvest weight|picked weight|mass|masse|pick weight"
    ),
    "pieces": (
        "fruits|fruit count|number of fruits|pieces|stück|anzahl früchte|früchte|picks|heads|pods|fruit"
    ),
    "water": (
        "water|water added|wasser|topped up|top up|wasser nachgefüllt|nachgefüllt|gegossen|watered|refill"
    ),
}
_ROLES = {phrase: (role, "") for role, said in _SAID.items() for phrase in said.split("|")} | {
    phrase: (Role.VALUE, key) for key, said in _SAID_OF_VALUES.items() for phrase in said.split("|")
}
_FILLERS = words_in(
    "plant plants the of in no nr number fresh measured reading approx pflanze pflanzen der die des je pro per "
    "each a an at cm mm added"
)
DIMENSIONS: dict[str, Dimension] = {
    key: row.dimension
    for key, row in LOG_KEYS.items()
    if row.record is not None and row.dimension is not None
} | {"pieces": D.COUNT}
_UNIT_WORDS = {
    "celsius": "°C", "ºc": "°C", "°c": "°C", "grad": "°C", "grad c": "°C", "deg c": "°C", "fahrenheit": "°F", "°f": "°F",
    "deg f": "°F", "gramm": "g", "gr": "g", "gms": "g", "zoll": "in", '"': "in", "”": "in", "″": "in", "liter": "L",
    "centimeters": "cm", "centimetres": "cm", "zentimeter": "cm", "millimeter": "mm", "ms": "mS/cm", "ms/cm": "mS/cm",
    "µs": "µS/cm", "us": "µS/cm", "%rh": "%", "% rh": "%", "% rf": "%", "%rf": "%", "prozent": "%", "klx": "", "ltr": "L",
    "µmol": "µmol/m²/s", "umol": "µmol/m²/s", "µmol/m²s": "µmol/m²/s", "milliliter": "ml",
}  # fmt: skip
_ALL_UNITS = {name for dimension in set(DIMENSIONS.values()) for name in spellings(dimension)}
_IN_BRACKETS = re.compile(r"[(\[{]\s*+([^)\]}]*?)(?<!\s)\s*+[)\]}]")
_NUMBERED = re.compile(
    r"(?<![^\W\d_])(?:(?P<word>plant|pflanze|pfl|pot|topf|spot|cup|becher|tree|p)\.?|(?P<sign>nr|no|"
    r"#))[\s._#-]*(?P<number>\d{1,4})(?!\d)",
    re.IGNORECASE,
)
_WORD_AND_NUMBER = re.compile(r"(?P<word>[^\W\d_][^\d]*?)[\s._#-]*(?P<number>\d{1,4}|[A-Z])")
_LONGEST = 200  # characters; what is longer is a text, and its ways to end in a unit are too many to try


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading as understood: its role, the key of the log of its values, the unit of bare numbers, its plant."""

    text: str
    role: Role = Role.OTHER
    key: str = ""
    unit: str = ""
    plant: str = ""
    meant: str = ""  # what was taken for something: `Temp` for the air's
    rest: str = ""  # the words that remain

    @property
    def dimension(self) -> Dimension | None:
        """That of its values."""
        return DIMENSIONS.get(self.key)


def unit_of(text: str, dimension: Dimension | None = None) -> str:
    """The unit that a text is, as the format writes it; empty where it is none, or none of the dimension."""
    text = text.strip().rstrip(".")
    word = _UNIT_WORDS.get(text.lower(), text)
    dimensions = [dimension] if dimension else list(dict.fromkeys(DIMENSIONS.values()))
    for each in dimensions:
        for name in (word, word.lower(), word.upper()):
            if name and (unit := unit_named(name, each)):
                return unit.symbol
    return ""


@lru_cache(4096)
def heading_of(text: str) -> Heading:
    """What a heading says."""
    flat = " ".join(text.split())
    if not flat or len(flat) > _LONGEST:
        return Heading(text, rest=flat)
    bare, units = _without_brackets(flat)
    plant, bare = _plant_in(bare)
    role, key, unit, rest = _role_of(bare)
    for each in units:
        dimension = DIMENSIONS.get(key)
        unit = unit_of(each, dimension) or (unit_of(each) if not key else "") or unit
    meant = (
        key
        if key == "air_temperature" and not re.search(r"air|luft|ambient|room|raum", flat, re.IGNORECASE)
        else ""
    )
    return Heading(text, role, key, unit, plant, meant, rest)


def _without_brackets(text: str) -> tuple[str, list[str]]:
    units = [inner for inner in _IN_BRACKETS.findall(text) if unit_of(inner) or inner.lower() in _UNIT_WORDS]
    if not units:
        return text, []
    return _IN_BRACKETS.sub(lambda m: " " if m[1] in units else m[0], text).strip(), units


def _plant_in(text: str) -> tuple[str, str]:
    """The plant that a heading names by its number, and the rest."""
    match = _NUMBERED.search(text)
    if match is None:
        return "", text
    # `no 3` is a plant; `no of leaves` has no number, and `pH 7` is none either.
    return f"P{int(match['number'])}", f"{text[: match.start()]} {text[match.end() :]}".strip(" :,-_/")


def _role_of(text: str) -> tuple[Role, str, str, str]:
    """Role, key, unit and the words that nothing took."""
    if role := _ROLES.get(" ".join(_words(text))):
        return *role, "", ""
    for before, tail in _tails(text):
        role = _role_named(before)
        if role is not None and (unit := unit_of(tail, DIMENSIONS.get(role[1]))):
            return *role, unit, ""
    role = _role_named(text)
    return (*role, "", "") if role is not None else (Role.OTHER, "", "", text.strip(" #"))


def _tails(text: str) -> Iterator[tuple[str, str]]:
    """What may be a unit at the end, with what stands before it."""
    for pattern in (r"(.+?)[\s_,;:-]+(\S+ ?\S*)", r"(.+)[\s_,;:-]+(\S+)", r"([^/]+)/(.+)"):
        if match := re.fullmatch(pattern, text.strip()):
            yield match[1], match[2]


def _role_named(text: str) -> tuple[Role, str] | None:
    words = _words(text)
    return _ROLES.get(" ".join(words)) or _ROLES.get(" ".join(word for word in words if word not in _FILLERS))


def _words(text: str) -> list[str]:
    return [word.lower() for word in re.split(r"[\s_:;,/.()\[\]#-]+", text) if word]


def numbered_word(text: str) -> tuple[str, str] | None:
    """`Basil 2` → its word and its number."""
    match = _WORD_AND_NUMBER.fullmatch(" ".join(text.split()))
    return (match["word"].strip().lower(), match["number"]) if match else None
