"""Which photos stand on cards, and whose colours those have."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, cast

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.site.content import Picture, PictureFile
from sitegen.core.site.page import Page
from sitegen.core.values.day import Day
from sitegen.notes.cards import Photo, look_of
from sitegen.photos import PhotoSet
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.notes import cards as module

if TYPE_CHECKING:
    from sitegen.render import Theme

SMALL, LARGE = (PictureFile(name, "image/webp", 3, 2) for name in ("small.webp", "large.webp"))
NAMED = Picture("a.jpg", "", (SMALL, LARGE), day=Day.on(3), plants=("P1", "P2"))
PAGES = (Page("small.webp", "image/webp", b"small"), Page("large.webp", "image/webp", b"large"))


def test_photos_of_named_plants_of_a_known_day() -> None:
    """The largest file of each that is there; of no plant, of no day, or without a file, there is none."""
    others = (
        replace(NAMED, plants=()),
        replace(NAMED, day=None),
        replace(NAMED, files=(LARGE, PictureFile("c", "", 1, 1))),
    )

    assert list(module._photos((*others, NAMED), PAGES)) == [Photo(("P1", "P2"), Day.on(3), b"large")]


@dataclass
class _Theme:
    """A theme with some style sheets."""

    files: dict[str, bytes] = field(default_factory=dict)

    def assets(self) -> dict[str, Page]:
        return {name: Page(name, "text/css", body) for name, body in self.files.items()}

    def stylesheets(self, assets: dict[str, Page]) -> tuple[str, ...]:
        assert set(assets) == set(self.files)
        return ("style.css", "look.css")


def test_the_colours_of_a_theme() -> None:
    """Of its style sheets in their order, the journal's own last; one that is not there, or no text, changes nothing."""
    style, own = ":root { --paper: #010203; --ink: #040506; }", ":root { --paper: #070809; }"
    both = {
        "look.css": own.encode(),
        "style.css": style.encode() + b"/* caf\xe9 */",
        "other.css": b":root { --ink: #000; }",
    }

    assert module.look_of_theme(cast("Theme", _Theme(both))) == look_of([style, own]) != look_of([style])
    assert module.look_of_theme(cast("Theme", _Theme({"look.css": own.encode()}))) == look_of([own])
    assert module.look_of_theme(cast("Theme", _Theme())) == look_of([])


class _Inputs:
    """What a run's steps made of it."""

    wording = "the wording"

    def __init__(self) -> None:
        self.finding = Finding("photo-broken", Source("a.jpg"), "odd")
        self.spoken = False
        self.made = {
            steps.photos: (PhotoSet((NAMED,), PAGES), (self.finding,)),
            steps.charts: "the charts",
            steps.facts: "the facts",
        }

    def part(self, make: object) -> object:
        return self.made[make]  # type: ignore[index]

    def speaking(self) -> _Inputs:
        return self

    def __enter__(self) -> None:
        self.spoken = True

    def __exit__(self, *_: object) -> None:
        self.spoken = False


def test_cards_are_made_from_all_of_a_run(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its facts, charts and photos, in the language of the journal; with what was found in its photos."""
    inputs = _Inputs()

    def made(*given: object) -> object:
        assert inputs.spoken
        return given

    monkeypatch.setattr(module, "cards_of", made)
    cards, findings = module.cards_of_run(cast("Inputs", inputs), cast("Theme", _Theme()))

    photo = Photo(("P1", "P2"), Day.on(3), b"large")
    assert cards == ("the facts", "the charts", (photo,), look_of([]), "the wording")  # type: ignore[comparison-overlap]
    assert findings == (inputs.finding,)
