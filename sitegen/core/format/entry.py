"""The keys of an entry of the log: one row for each key, with the data that all stages need about it.

In: nothing. Out: `LOG_KEYS`, `key_of` and `ENTRY_TABLE`. A row has the form of a value, the type of its records, and
their words: on a page, among the kinds of work, in findings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sitegen.core.format.fields import Field, Form, Subject, Table
from sitegen.core.language.catalogue import tr_c_noop, tr_noop
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import (
    Action,
    Addition,
    Clip,
    Deed,
    Ending,
    MilestoneRow,
    Photo,
    Pick,
    Reading,
    SeedlingCount,
    Sowing,
    Tally,
    Tasting,
    Thinning,
    Trouble,
    Watering,
)
from sitegen.core.values.units import Dimension

F = Form
D = Dimension
PLANTS, TUBS = Subject.PLANTS, Subject.TUBS


@dataclass(frozen=True, slots=True, kw_only=True)
class LogKey(Field):
    """A key of an entry: a field, its records and their words.

    All words are messages of the site, except `verb`, which is for findings.
    """

    record: type[Any] | None = None  # type of its records; None: the value belongs to the entry itself
    word: str = ""  # a reading's name; or an event: `Pruned`, followed by amount, description and plants
    sentences: tuple[str, ...] = ()  # of an event instead; the first whose places all have a value is used
    mark: str = ""  # drawn before a reading
    work: str = ""  # kind of work by hand
    lane: str = ""  # lane of an event on the scale of days
    noun: str = ""  # name of an event beside a later change
    verb: str = ""  # of an event: a plant that was lost cannot `be pruned`
    shortens: bool = False  # whether a plant may be less high after an event


def _reading(
    key: str, dimension: Dimension, about: str, example: str, word: str, mark: str = "growth"
) -> LogKey:
    """A measured value: of plants under the mark of growth, of a tub under any other."""
    return LogKey(
        key,
        F.READING,
        about,
        example,
        dimension=dimension,
        table="measured",
        subject=PLANTS if mark == "growth" else TUBS,
        record=Reading,
        word=word,
        mark=mark,
    )


# fmt: off
# One row a key: its form in the first line, then its record and the words of that.
_ROWS = (
    LogKey("day", F.DAY, "days since sowing: `26`, `33-38`, `about 36`, `before 40`", "26"),
    LogKey("date", F.DATE, "or the date", "2025-10-19"),
    LogKey("sow", F.SEEDS, "seeds sown", "3 a spot", table="sow", subject=PLANTS,
        record=Sowing, shortens=True),
    LogKey("sprouted", F.SPROUTED, "seedlings up so far", "16 of 18", subject=PLANTS,
        record=SeedlingCount, verb="sprout"),
    LogKey("thin_to", F.LEAVE, "leave at most so many in a spot", "1", subject=PLANTS,
        record=Thinning,
        sentences=(tr_noop("Thinned to {amount}: {spots}."), tr_noop("Thinned, number left not recorded: {spots}.")),
        work=tr_c_noop("work", "thinning"), verb="be thinned"),
    LogKey("transplant", F.WHICH, "from the seed tray into the tub", "all",
        record=Action, sentences=(tr_noop("Transplanted into the tub: {plants}."),),
        work=tr_c_noop("work", "transplanting"), verb="be transplanted", shortens=True),
    LogKey("water", F.WATER, "added; `filled`; `topped up`; `changed to 11 L`", "2 L", dimension=D.VOLUME, subject=TUBS,
        record=Watering, lane="water"),
    LogKey("feed", F.DOSES, "by product, a tub; `3 drops` stays as said", "{leaf-mix: 20 ml}", subject=TUBS,
        record=Addition, lane="feed"),
    LogKey("adjust", F.DOSES, "acids and bases by product, a tub", "{ph-down: 2 ml}", subject=TUBS,
        record=Addition),
    _reading("height", D.LENGTH, "to the topmost leaf unless said", "about 9 cm", tr_noop("height")),
    _reading("spread", D.LENGTH, "across the leaves", "20 cm", tr_noop("spread")),
    _reading("leaves", D.COUNT, "how many", "7", tr_noop("leaves")),
    _reading("count", D.COUNT, "of something else", "3 flowers", tr_noop("count")),
    _reading("ec", D.CONDUCTIVITY, "of the solution", "1.4 mS/cm", tr_noop("EC"), "feed"),
    _reading("ph", D.ACIDITY, "of the solution; before and after", "7.1, then 5.9", tr_noop("pH"), "feed"),
    _reading("water_temperature", D.TEMPERATURE, "of the solution", "21 C", tr_noop("water temperature"),
        "water"),
    _reading("air_temperature", D.TEMPERATURE, "beside the plants", "23 C", tr_noop("air temperature"),
        "light"),
    _reading("leaf_temperature", D.TEMPERATURE, "of a leaf", "22 C", tr_noop("leaf temperature"), "light"),
    _reading("humidity", D.SHARE, "beside the plants", "60 %", tr_noop("humidity"), "light"),
    _reading("ppfd", D.PHOTON_FLUX, "light at the plants, while the lamp is on", "210 umol/m2/s",
        tr_noop("light at the plants"), "light"),
    _reading("lux", D.ILLUMINANCE, "the same by a lux meter; see `lux_factor` of the lamp", "14000 lux",
        tr_noop("illuminance"), "light"),
    LogKey("light", F.LIGHT, "the lamp from now on; or `off`", "{hours: 16 h}", table="light", subject=TUBS,
        record=Light),
    LogKey("from_now", F.ROUTINE, "done from now on without an entry each time",
        "{feed: {leaf-mix: 20 ml, at: every refill}}", table="routine",
        record=Routine),
    LogKey("stop", F.STOP, "a routine that ends", "feed",
        record=Action, sentences=(tr_noop("No more {routine} from here on."),)),
    LogKey("milestone", F.STAGES, "plants by stage; `none` or `{P5: none}` says not yet",
        "{first_flower: 2 of 6}",
        record=MilestoneRow),
    LogKey("prune", F.DEED, "what was cut off", "{what: lower leaves, plants: some}", table="deed",
        subject=PLANTS,
        record=Action, word=tr_noop("Pruned"), work=tr_c_noop("work", "pruning"), noun=tr_noop("pruning"),
        verb="be pruned", shortens=True),
    LogKey("train", F.DEED, "tied, bent, staked", "tied to the string", table="deed", subject=PLANTS,
        record=Action, word=tr_noop("Trained"), work=tr_c_noop("work", "training"), noun=tr_noop("training"),
        verb="be trained", shortens=True),
    LogKey("pollinate", F.DEED, "how", "with a brush", table="deed", subject=PLANTS,
        record=Action, word=tr_noop("Pollinated by hand"), work=tr_c_noop("work", "pollinating"),
        verb="be pollinated"),
    LogKey("treat", F.TREATMENT, "with which product", "{product: soap, plants: P2}", table="deed",
        subject=PLANTS,
        record=Action,
        sentences=(tr_noop("Treated with {product}, {amount}: {plants}."),
                   tr_noop("Treated with {product}: {plants}."), tr_noop("Treated: {plants}.")),
        work=tr_c_noop("work", "treating"), noun=tr_noop("a treatment"), verb="be treated"),
    LogKey("clean", F.DEED, "what", "the pump", table="deed", subject=PLANTS,
        record=Action, word=tr_noop("Cleaned"), work=tr_c_noop("work", "cleaning")),
    LogKey("trouble", F.DEED, "what went wrong", "{what: tip burn, plants: 2 of 6, until: day 51}",
        table="trouble", subject=PLANTS,
        record=Trouble, lane="trouble", verb="have trouble", shortens=True),
    LogKey("harvest", F.PICK, "picked: weights, together unless said; several picks as a list, "
        "`[{plants: P1, weight: 38 g}, {plants: P2-P3, count: 9}]`", "{P1: 84 g, P4: unweighed}",
        dimension=D.MASS, table="pick", subject=PLANTS,
        record=Pick, work=tr_c_noop("work", "picking"), verb="be picked"),
    LogKey("total_so_far", F.TALLY, "everything picked up to now", "4.6 kg", dimension=D.MASS, subject=PLANTS,
        record=Tally),
    LogKey("taste", F.SCORE, "a score, and words; or only words", "4/5, crisp and mild",
        record=Tasting, word=tr_noop("Taste")),
    LogKey("photo", F.PHOTOS, "pictures in photos/", "[{file: first-cut.jpg, alt: A cut rosette}]",
        table="photo",
        record=Photo),
    LogKey("clip", F.CLIPS, "footage; one clip or several", "{what: the first cut, file: a12.mp4, at: 4:10}",
        table="clip", subject=PLANTS,
        record=Clip),
    LogKey("note", F.TEXT, "anything else", "roots white", record=Action),
    LogKey("private", F.TEXT, "never leaves the journal", "ask the club about calcium"),
    LogKey("tell", F.CHOICE, "in episode notes", "never", choices=("never", "always")),
    LogKey("lost", F.LOST, "plants that died or were taken out", "{P5: snapped while cutting}",
        subject=PLANTS,
        record=Action, sentences=(tr_noop("Lost {plants}: {what}."), tr_noop("Lost {plants}.")),
        lane="trouble", verb="be lost", shortens=True),
    LogKey("move", F.MOVES, "to another tub", "{P3: right}", subject=PLANTS,
        record=Action, sentences=(tr_noop("Moved to {tub}: {plants}."),), noun=tr_noop("a move"),
        verb="be moved"),
    LogKey("end", F.END, "the end, and what became of the plants", "{why: slow now, plants: kept}",
        table="end",
        record=Ending),
)
# fmt: on

LOG_KEYS: dict[str, LogKey] = {row.key: row for row in _ROWS}
ENTRY_TABLE = Table("entry", "an entry of the log: one visit", _ROWS)


def key_of(deed: Deed) -> LogKey:
    """The key of a kind of event: the one of its name, and `water` for a change of all water."""
    return LOG_KEYS[Deed.WATER if deed is Deed.CHANGE else deed]
