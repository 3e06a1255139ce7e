"""The cards of a run, made from its facts, charts and photos in the colours of the journal's theme.

In: the inputs of a run, the theme. Out: `Card`s, and findings about photos that cannot be decoded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from sitegen.core.findings.finding import Finding
from sitegen.core.site.content import Picture
from sitegen.core.site.page import Page
from sitegen.notes.cards import Card, Look, Photo, cards_of, look_of
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.inputs import Inputs

if TYPE_CHECKING:
    from sitegen.render import Theme


def cards_of_run(inputs: Inputs, theme: Theme) -> tuple[tuple[Card, ...], tuple[Finding, ...]]:
    """All cards of a run that is sound."""
    photos, findings = inputs.part(steps.photos)
    charts, facts = inputs.part(steps.charts), inputs.part(steps.facts)
    with inputs.speaking():
        shown = tuple(_photos(photos.pictures, photos.pages))
        return cards_of(facts, charts, shown, look_of_theme(theme), inputs.wording), findings


def look_of_theme(theme: Theme) -> Look:
    """The colours and the face of a theme, with what the journal's own style sheet changes in them."""
    assets = theme.assets()
    names = (name for name in theme.stylesheets(assets) if name in assets)
    return look_of(assets[name].content.decode("utf-8", "replace") for name in names)


def _photos(pictures: Iterable[Picture], pages: Iterable[Page]) -> Iterator[Photo]:
    """The photos of plants that are named, of a known day."""
    files = {page.address: page for page in pages}
    for picture in pictures:
        if picture.plants and picture.day is not None and picture.fallback.address in files:
            yield Photo(picture.plants, picture.day, files[picture.fallback.address].content)
