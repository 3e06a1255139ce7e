"""The charts and photos that the blocks of a recap place.

In: a run with its charts and pictures, a context. Out: `PlacedBlocks`, which the rest of the page leaves out, and the
markup of each block, made by the theme's macros. A block with an unknown name is a finding of an earlier stage; here it
stays as it is written.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from markupsafe import Markup

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.site.blocks import ALL_PHOTOS, Block, blocks_of, strip_files
from sitegen.core.site.chart import Chart
from sitegen.core.site.content import ExperimentContent, Picture
from sitegen.render.story.gallery import in_day_order
from sitegen.render.templates.context import Context

_PARTS = "parts.html"


@dataclass(frozen=True, slots=True)
class PlacedBlocks:
    """The charts (by name) and pictures (by file) that a recap places, each with its anchor."""

    charts: Mapping[str, str] = field(default_factory=dict)
    pictures: Mapping[str, str] = field(default_factory=dict)


def placed_blocks(content: ExperimentContent) -> PlacedBlocks:
    """The placed charts and pictures of an experiment that exist."""
    run, shown = content.facts.run, {picture.file for picture in content.pictures}
    drawn = {chart.name for chart in content.charts}
    charts: dict[str, str] = {}
    pictures: dict[str, str] = {}
    for block in blocks_of(run):
        if block.kind == "chart" and block.name in drawn:
            charts.setdefault(block.name, block.anchor)
        for file in _files(block, content.facts):
            if file in shown:
                pictures.setdefault(file, block.anchor)
    return PlacedBlocks(charts, pictures)


def _files(block: Block, facts: Facts) -> tuple[str, ...]:
    if block.kind == "photo":
        return (block.name,)
    return strip_files(block.name, facts.run) if block.kind == "strip" else ()


@dataclass(frozen=True, slots=True)
class BlockRenderer:
    """Renders the blocks of one recap; `chart` renders a chart as the rest of the page does."""

    context: Context
    content: ExperimentContent
    link: Callable[[str], str]
    chart: Callable[[Chart], Markup]

    def __call__(self, block: Block) -> Markup | None:
        """The markup of a block; None where its name is unknown."""
        return _MAKERS[block.kind](self, block)

    def _chart(self, block: Block) -> Markup | None:
        found = next((chart for chart in self.content.charts if chart.name == block.name), None)
        return None if found is None else self.chart(found)

    def _photo(self, block: Block) -> Markup | None:
        found = next((p for p in self.content.pictures if p.file == block.name), None)
        if found is None:
            return None
        words = ": ".join(filter(None, (found.caption, block.caption)))
        return self._part("placed_photo", replace(found, caption=words), block.anchor)

    def _strip(self, block: Block) -> Markup | None:
        files = strip_files(block.name, self.content.facts.run)
        pictures = in_day_order([p for p in self.content.pictures if p.file in files])
        if not pictures:
            return None
        return self._part(
            "placed_strip", pictures, block.anchor, _strip_words(block.name, self.content.facts)
        )

    def _part(self, macro: str, what: Picture | Sequence[Picture], *given: object) -> Markup:
        return self.context.call_macro(_PARTS, macro, what, self.link, *given)


_MAKERS: Mapping[str, Callable[[BlockRenderer, Block], Markup | None]] = {
    "chart": BlockRenderer._chart,
    "photo": BlockRenderer._photo,
    "strip": BlockRenderer._strip,
}


def _strip_words(name: str, facts: Facts) -> str:
    """The caption of a strip."""
    if name == ALL_PHOTOS:
        return tr("Day by day")
    if name in facts.run.setup.plant_ids:
        return tr("{plant}, day by day", plant=name)
    return tr("Group {group}, day by day", group=name)
