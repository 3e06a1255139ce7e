"""The content of the site: everything that pages are made from.

In: nothing. Out: frozen records that the pipeline fills and `render` reads. Drafts and future publications are left out
before.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sitegen.core.facts.across import Across, RunArms
from sitegen.core.facts.method import Method
from sitegen.core.facts.tree import Facts
from sitegen.core.findings.source import Source
from sitegen.core.records.setup import FreePage, Journal, Product, Season
from sitegen.core.site.chart import Chart
from sitegen.core.values.day import Day


@dataclass(frozen=True, slots=True)
class PictureFile:
    """One size of a photo: its address relative to the site's root."""

    address: str
    media: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo in the sizes of the site: named as in the journal, its files from small to large, the fallback last.

    `placeholder` is its average colour as `#rrggbb`, for the time until it is loaded: an attribute of an SVG shape may
    hold it even where a policy forbids inline styles. `alt` is what the author wrote; `render` fills it where it
    is empty, and the `caption`.
    """

    file: str
    alt: str
    files: tuple[PictureFile, ...]
    caption: str = ""
    day: Day | None = None
    plants: tuple[str, ...] = ()
    shows: str = ""
    placeholder: str = ""

    @property
    def fallback(self) -> PictureFile:
        """The file for a browser that takes no other."""
        return self.files[-1]

    @property
    def by_media(self) -> tuple[tuple[str, tuple[PictureFile, ...]], ...]:
        """The files of each media type, in the order given."""
        kinds = dict.fromkeys(file.media for file in self.files)
        return tuple((kind, tuple(f for f in self.files if f.media == kind)) for kind in kinds)


@dataclass(frozen=True, slots=True)
class Download:
    """A data file beside an experiment's page."""

    address: str
    about: str = ""


@dataclass(frozen=True, slots=True)
class ExperimentContent:
    """The content of an experiment's page; `arms` is the run as others are compared with it."""

    facts: Facts
    charts: tuple[Chart, ...] = ()
    pictures: tuple[Picture, ...] = ()
    downloads: tuple[Download, ...] = ()
    arms: RunArms | None = None


@dataclass(frozen=True, slots=True)
class Site:
    """The content of one site. `look` is the journal's own folder of templates and assets, if any.

    `across` has the functions over several runs.
    """

    journal: Journal
    source: Source
    across: Across
    seasons: tuple[Season, ...] = ()
    experiments: tuple[ExperimentContent, ...] = ()
    texts: tuple[FreePage, ...] = ()
    methods: tuple[Method, ...] = ()
    products: tuple[Product, ...] = ()
    look: Path | None = None
    version: str = ""
