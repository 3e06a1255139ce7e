"""What a recap places by its blocks, and what the rest of the page therefore leaves out.

In: a run with its charts and pictures, a context. Out: `Placed`, and the markup that stands in place of a block, made by
the theme's own macros. A block that names nothing sound was found before; here it stays as it is written.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from markupsafe import Markup

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.site.blocks import ALL_PHOTOS, Block, blocks_of, strip_files
from sitegen.core.site.chart import Chart, NoChart, chart_named
from sitegen.core.site.content import ExperimentContent, Picture
from sitegen.render.story.pictures import in_order
from sitegen.render.templates.context import Context

_PARTS = "parts.html"


@dataclass(frozen=True, slots=True)
class Placed:
    """What stands in the recap: charts by name and pictures by file, each with its anchor."""

    charts: Mapping[str, str] = field(default_factory=dict)
    pictures: Mapping[str, str] = field(default_factory=dict)


def placed_by(written: ExperimentContent) -> Placed:
    """What the recap of an experiment places, of that which is there."""
    run, shown = written.facts.run, {picture.file for picture in written.pictures}
    drawn = {chart.name for chart in written.charts}
    charts: dict[str, str] = {}
    pictures: dict[str, str] = {}
    for block in blocks_of(run):
        if block.kind == "chart" and block.name in drawn:
            charts.setdefault(block.name, block.anchor)
        for file in _files(block, written.facts):
            if file in shown:
                pictures.setdefault(file, block.anchor)
    return Placed(charts, pictures)


def _files(block: Block, facts: Facts) -> tuple[str, ...]:
    if block.kind == "photo":
        return (block.name,)
    return strip_files(block.name, facts.run) if block.kind == "strip" else ()


@dataclass(frozen=True, slots=True)
class Placing:
    """Fills the blocks of one recap. `chart` makes a chart's markup as the rest of the page would."""

    context: Context
    written: ExperimentContent
    link: Callable[[str], str]
    chart: Callable[[Chart], Markup]

    def __call__(self, block: Block) -> Markup | None:
        """What stands in place of a block; None where it names nothing that is there."""
        return _MAKERS[block.kind](self, block)

    def _chart(self, block: Block) -> Markup | None:
        found = chart_named(self.written.charts, block.name)
        return None if isinstance(found, NoChart) else self.chart(found)

    def _photo(self, block: Block) -> Markup | None:
        found = next((p for p in self.written.pictures if p.file == block.name), None)
        if found is None:
            return None
        words = ": ".join(filter(None, (found.caption, block.caption)))
        return self._part("placed_photo", replace(found, caption=words), block.anchor)

    def _strip(self, block: Block) -> Markup | None:
        files = strip_files(block.name, self.written.facts.run)
        pictures = in_order([p for p in self.written.pictures if p.file in files])
        if not pictures:
            return None
        return self._part(
            "placed_strip", pictures, block.anchor, _strip_words(block.name, self.written.facts)
        )

    def _part(self, macro: str, what: Picture | Sequence[Picture], *given: object) -> Markup:
        return self.context.part(_PARTS, macro, what, self.link, *given)


_MAKERS: Mapping[str, Callable[[Placing, Block], Markup | None]] = {
    "chart": Placing._chart,
    "photo": Placing._photo,
    "strip": Placing._strip,
}


def _strip_words(name: str, facts: Facts) -> str:
    """Of whom a strip is."""
    if name == ALL_PHOTOS:
        return tr("Day by day")
    if name in facts.run.setup.plant_ids:
        return tr("{plant}, day by day", plant=name)
    return tr("Group {group}, day by day", group=name)
