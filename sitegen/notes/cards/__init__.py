"""Cards: still images for the cut of an episode, in the theme's colours.

In: facts, charts, photos of the run, a look, the wording. Out: `Card`s in 16:9 and 9:16, each as SVG and as a transparent
PNG: one for each day, the total, the lead chart, before and after.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts
from sitegen.core.language.wording import Wording
from sitegen.core.site.chart import Chart, lead_of
from sitegen.notes.cards.kinds import Drawn, Photo, chart_card, day_cards, photo_card, total_card
from sitegen.notes.cards.look import FORMATS, Format, FormatName, Look, look_of
from sitegen.notes.cards.plate import png_of

__all__ = ["Card", "FormatName", "Look", "Photo", "cards_of", "look_of"]


@dataclass(frozen=True, slots=True)
class Card:
    """One picture: the name of its file without format and ending, its format, and it as SVG and as PNG."""

    name: str
    format: FormatName
    svg: str
    png: bytes

    @property
    def stem(self) -> str:
        """The name of its files without their ending: `day-098-16x9`."""
        return f"{self.name}-{self.format}"


def cards_of(
    facts: Facts, charts: Iterable[Chart], photos: Sequence[Photo], look: Look, wording: Wording
) -> tuple[Card, ...]:
    """All cards of a run, format by format."""
    lead = lead_of(charts, facts.run.setup.crop.kind)
    return tuple(
        Card(each.name, form.name, each.svg, png_of(each.svg))
        for form in FORMATS
        for each in _drawn(facts, lead, photos, look, form, wording)
    )


def _drawn(
    facts: Facts, lead: Chart | None, photos: Sequence[Photo], look: Look, form: Format, wording: Wording
) -> Iterator[Drawn]:
    yield from day_cards(facts, look, form, wording)
    yield from total_card(facts, look, form, wording)
    yield from chart_card(facts, lead, look, form)
    yield from photo_card(facts, photos, look, form, wording)
