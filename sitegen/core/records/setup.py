"""The set-up of an experiment, and the journal's records that all experiments share.

In: nothing. Out: frozen records that `ingest` fills and every later stage reads. References are resolved: a `Setup`
holds its crop, systems and lamps themselves. Those of which nobody makes a changed copy are named tuples: every
command imports this module, and making the class of one takes a quarter of the time.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal, NamedTuple

from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity


class Price(NamedTuple):
    """An amount of money for a quantity: `9.50 per 500 ml`."""

    amount: float
    per: Quantity


@dataclass(frozen=True, slots=True)
class Prices:
    """The prices of a journal, in one currency (ISO 4217)."""

    currency: str = ""
    electricity: Price | None = None
    water: Price | None = None


class Author(NamedTuple):
    """The author of the journal, as they want to be named."""

    name: str = ""
    link: str = ""


@dataclass(frozen=True, slots=True)
class Journal:
    """The journal's settings; `spans` are the places of those that are written."""

    title: str
    tagline: str = ""
    author: Author = Author()  # noqa: RUF009 - a named tuple
    address: str = ""
    language: str = "en"
    units: Literal["metric", "us"] = "metric"
    licence: str = ""
    theme: str = "ledger"
    output: str = ""
    prices: Prices = Prices()
    timezone: str = ""
    raw_html: bool = False
    ignore: tuple[str, ...] = ()
    spans: tuple[tuple[str, Source], ...] = ()

    def at(self, key: str) -> Source:
        """The place of a setting; the beginning of the file where it is not written."""
        return dict(self.spans).get(key, Source("journal.yaml"))


class Variety(NamedTuple):
    """One variety of a crop."""

    id: str
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Crop:
    """A crop and its varieties."""

    id: str
    name: str
    kind: str
    latin: str = ""
    base_temperature: Quantity | None = None
    base_temperature_source: str = ""
    price: Price | None = None
    varieties: tuple[Variety, ...] = ()


@dataclass(frozen=True, slots=True)
class System:
    """A growing system that is used again and again; `count` is how many of it its owner has."""

    id: str
    name: str
    kind: str = ""
    spots: int | None = None
    reservoir: Quantity | None = None
    footprint: tuple[Quantity, Quantity] | None = None
    headroom: Quantity | None = None
    count: int = 1


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp; `ppfd` is its photon flux density at `ppfd_at` below it.

    `lux_factor` is its illuminance [lux] for each µmol/m²/s, by `lux_source`.
    """

    id: str
    name: str
    power: Quantity | None = None
    ppfd: Quantity | None = None
    ppfd_at: Quantity | None = None
    lux_factor: float | None = None
    lux_source: str = ""


class Meter(NamedTuple):
    """A meter of conductivity; `scale` is its ppm for each mS/cm, None where it is not known."""

    id: str
    name: str
    scale: int | None = None


@dataclass(frozen=True, slots=True)
class Product:
    """A feed, acid, base or treatment."""

    id: str
    name: str
    kind: str
    dose: Quantity | None = None
    price: Price | None = None


class Season(NamedTuple):
    """A stretch of the year with its experiments."""

    id: str
    title: str
    summary: str = ""


class FreePage(NamedTuple):
    """A page that the author wrote: the name of its file without ending, and its Markdown."""

    name: str
    markdown: str
    source: Source


@dataclass(frozen=True, slots=True)
class Claims:
    """The claims for the seed: days counted from sowing or transplant, height, germination; `by` is who makes them."""

    days: Day | None = None
    counted_from: Literal["sowing", "transplant", ""] = ""
    height: Quantity | None = None
    germination: Quantity | None = None
    by: str = ""


@dataclass(frozen=True, slots=True)
class Seed:
    """The source of the seed, and its packet."""

    source: str = ""
    packed: str = ""
    claims: Claims = Claims()


@dataclass(frozen=True, slots=True)
class LampUse:
    """The setting of a lamp: the lamp, hours a day, distance above the plants.

    `on` is when it goes on: minutes after midnight, by the clock of the journal's zone.
    """

    lamp: Lamp | None = None
    hours: Quantity | None = None
    distance: Quantity | None = None
    off: bool = False
    on: int | None = None


@dataclass(frozen=True, slots=True)
class Tub:
    """One tub of an experiment, its system and its lamp at the start; a lone tub has the id ``tub``."""

    id: str
    system: System
    light: LampUse | None = None


@dataclass(frozen=True, slots=True)
class Plant:
    """The plant of one spot: a row of the plants table."""

    id: str
    spot: int
    tub: str
    variety: str
    groups: tuple[str, ...]
    source: Source


class Answer(NamedTuple):
    """The author's verdict, where there is one; `result` answers the question, `change` is the change for next time."""

    verdict: Literal["again", "not again", "undecided"] | None = None
    why: str = ""
    change: str = ""
    result: str = ""


class Chapter(NamedTuple):
    """A part of an episode: it begins at a second of it and lasts until the next part."""

    at: int
    title: str


class Episode(NamedTuple):
    """An episode about the experiment: a link, never an embed. `length` is in seconds; chapters require it."""

    title: str
    link: str = ""
    published: date | None = None
    until: Day | None = None
    length: int | None = None
    chapters: tuple[Chapter, ...] = ()


class ViewerQuestion(NamedTuple):
    """What a viewer asked about the run; `answer` is empty where the author has not answered yet."""

    asked: str
    answer: str
    source: Source


class Correction(NamedTuple):
    """A dated correction of a published page."""

    date: date
    text: str


class Memory(NamedTuple):
    """What is remembered of an earlier try: how much came of it, in the author's words and as a weight where it is one.

    `plants` is their number, None where it is not known; `varieties` are those of plants that are not told apart.
    """

    harvest_text: str = ""
    harvest: Quantity | None = None
    plants: Quantity | None = None
    varieties: tuple[str, ...] = ()


Compared = Literal["groups", "tubs", "varieties"]


class OtherDoses(NamedTuple):
    """One product that the log of another run has for a shared tub; `adjusts` where it is an acid or a base."""

    product: str
    amount: Quantity
    times: Quantity
    adjusts: bool = False


@dataclass(frozen=True, slots=True)
class OtherLog:
    """What the log of another run has of a tub that both share, in days of this run.

    It stood there from `since` to `until`: None where the days of the two cannot be compared, or it never left. `water`
    and `refills` are None where it logged none.
    """

    since: Day | None = None
    until: Day | None = None
    water: Quantity | None = None
    refills: Quantity | None = None
    changes: int = 0
    doses: tuple[OtherDoses, ...] = ()


@dataclass(frozen=True, slots=True)
class SharedTub:
    """A tub that holds plants of another run too.

    `log` is None until that run was read, and where it is not: it is held back.
    """

    tub: str
    run: str
    source: Source
    log: OtherLog | None = None


@dataclass(frozen=True, slots=True)
class Setup:
    """The set-up of an experiment: everything above its log; `products` are all those of the journal.

    `compare` is the kind of sets that the question is about, where the author names one. With `from_memory` it is told
    without a log: it may have no plants and no tubs.
    """

    id: str
    season: str
    source: Source
    title: str
    crop: Crop
    start: Start
    plants: tuple[Plant, ...]
    tubs: tuple[Tub, ...]
    question: str = ""
    groups: tuple[tuple[str, tuple[str, ...]], ...] = ()
    compare: Compared | None = None
    seed: Seed | None = None
    before: str = ""
    answer: Answer | None = None
    disclosure: str = ""
    episodes: tuple[Episode, ...] = ()
    corrections: tuple[Correction, ...] = ()
    publish: date | None = None
    draft: bool = False
    revised: date | None = None
    was: tuple[str, ...] = ()
    spans: tuple[tuple[str, Source], ...] = ()
    products: tuple[Product, ...] = ()
    shares: tuple[SharedTub, ...] = ()
    from_memory: Memory | None = None
    viewer_questions: tuple[ViewerQuestion, ...] = ()

    def at(self, key: str) -> Source:
        """The place of a key of the set-up; the beginning of the set-up where it is not written."""
        return dict(self.spans).get(key, self.source)

    @property
    def plant_ids(self) -> tuple[str, ...]:
        """All plants, in the order declared."""
        return tuple(plant.id for plant in self.plants)

    @property
    def variety_ids(self) -> tuple[str, ...]:
        """The varieties grown, in the order of their plants."""
        remembered = self.from_memory.varieties if self.from_memory else ()
        return tuple(dict.fromkeys([*(p.variety for p in self.plants if p.variety), *remembered]))

    def variety_name(self, variety: str) -> str:
        """A variety's name for a reader."""
        return next((v.name for v in self.crop.varieties if v.id == variety), variety)

    def tub(self, tub: str) -> Tub:
        """The tub with an id."""
        return next(t for t in self.tubs if t.id == tub)

    def members(self, group: str) -> tuple[str, ...]:
        """The plants of a group."""
        return dict(self.groups)[group]

    @property
    def dated(self) -> bool:
        """Whether every day has a calendar date."""
        return self.start.precision == "day"
