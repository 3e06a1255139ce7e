"""The author's recap: Markdown with values of the facts in it, and the charts and photos that its blocks place.

In: a recap, the facts, charts and pictures of a run, a context. Out: HTML, and a finding for each value that does not
exist; `PlacedBlocks`, which the rest of the page leaves out. `{{ facts.harvest.total }}` stands for the wording of a
figure. Only such paths are read; anything else of a template language is refused, and nothing is evaluated. A block
with an unknown name is a finding of an earlier stage; here it stays as it is written.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass, replace
from datetime import date
from typing import Any

from markupsafe import Markup, escape

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.tree import Facts, MilestoneFacts, PlantFacts, TubFacts
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import did_you_mean
from sitegen.core.site.blocks import ALL_PHOTOS, Block, blocks_of, recap_file, strip_files
from sitegen.core.site.chart import Chart
from sitegen.core.site.content import ExperimentContent, Picture
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.render.author_text.markdown import RenderBlock
from sitegen.render.author_text.text_html import AuthorText, text_html
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.story.days.gallery import in_day_order
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


_VALUE = re.compile(r"\{\{(?P<path>(?:(?!\{\{|\}\}).)*+)\}\}")
_STEP = re.compile(r"""(?<!\s)\s*+(?:\.\s*(\w+)|\[\s*(?:'([^']*)'|"([^"]*)"|(\d+))\s*\])""")
_PATH = re.compile(rf"facts(?:{_STEP.pattern})+")
_STATEMENT = re.compile(r"\{%(?:(?!\{%|%\}).)*+%\}|\{#(?:(?!\{#|#\}).)*+#\}")
# Private-use signs: they pass through Markdown untouched and cannot be typed by accident. On purpose they can: a number
# that no value has stays as it is.
_OPEN, _CLOSE = "\ue000", "\ue001"
_TOKEN = re.compile(f"{_OPEN}(\\d{{1,6}}){_CLOSE}")
_TAG = re.compile(r"<(?:[^<>\"']|\"[^\"]*\"|'[^']*')*>")
_BLOCKS = ("#", "```", "|", "<")  # lines that no paragraph goes on from
_HIDDEN = ("run", "axis", "id", "running")
Leaf = Figure | Quantity | Day | date | str | int


class _UnknownPathError(Exception):
    """A path that leads nowhere."""

    def __init__(self, message: str, mend: str, found: str) -> None:
        super().__init__(message)
        self.message, self.mend, self.found = message, mend, found


def recap_html(
    facts: Facts,
    book: FigureBook,
    findings: Findings,
    resolve: Callable[[str], str] | None = None,
    render_block: RenderBlock | None = None,
    *,
    raw: bool = False,
) -> Markup:
    """The recap as HTML; values that cannot be filled and blocks that cannot be rendered stay as written.

    `raw`: the journal takes HTML.
    """
    if not facts.run.recap.strip():
        return Markup("")
    author_text = AuthorText(facts.run.recap, recap_file(facts.run.setup), raw=raw)
    shown: list[Markup] = []
    lines = author_text.text.splitlines()

    def value(match: re.Match[str], source: Source) -> Markup | None:
        found = value_of(match, source, facts, findings)
        if found is None:
            return None
        if not isinstance(found, Figure):
            return escape(book.wording.say_in_sentence(found))
        begins = _begins_sentence(_text_before(match, lines[: source.line - author_text.line]))
        return book.show(found, facts, begins=begins, sentence=True)

    html = text_html(
        filled(author_text, value, findings, shown),
        author_text,
        findings,
        below=2,
        prefix="recap-",
        resolve=resolve,
        render_block=render_block,
    )
    within = _TAG.sub(lambda tag: _TOKEN.sub(lambda match: _plainly(_at(match, shown)), tag[0]), html)
    return Markup(_TOKEN.sub(lambda match: _at(match, shown), within))  # noqa: S704 # made by text_html


def _at(token: re.Match[str], shown: Sequence[Markup]) -> Markup:
    """The value of a token; the token itself where there is none."""
    return next(iter(shown[int(token[1]) :]), escape(token[0]))


def _plainly(value: Markup) -> str:
    """A value inside a tag, where no markup can stand: in a title, say."""
    return str(escape(value.striptags()))


ValueAt = Callable[[re.Match[str], Source], Markup | None]


def filled(text: AuthorText, value: ValueAt, findings: Findings, shown: list[Markup]) -> str:
    """A text with a token for each value; the markup of the value goes to `shown`."""
    lines = enumerate(text.text.splitlines(), start=text.line)
    return "\n".join(_filled(line, Source(text.file, n), value, findings, shown) for n, line in lines)


def _filled(line: str, source: Source, value: ValueAt, findings: Findings, shown: list[Markup]) -> str:
    for match in _STATEMENT.finditer(line):
        findings.add(
            "bad-template",
            source.part(match.start(), len(match[0])),
            "a recap takes values, no statements",
            mend="write a value, such as `{{ facts.harvest.total }}`",
            found=match[0],
            expected="a value of the facts",
        )

    def token(match: re.Match[str]) -> str:
        html = value(match, source)
        if html is None:
            return match[0]
        shown.append(html)
        return f"{_OPEN}{len(shown) - 1}{_CLOSE}"

    return _VALUE.sub(token, line)


def _text_before(match: re.Match[str], earlier: Sequence[str]) -> str:
    """The text before an expression: where it begins a line of a paragraph, the line before; nothing after a heading."""
    before = match.string[: match.start()]
    if before.strip() or not earlier or earlier[-1].lstrip().startswith(_BLOCKS):
        return before
    return earlier[-1]


def _begins_sentence(before: str) -> bool:
    plain = before.rstrip(" *_>#-")
    return plain == "" or plain.endswith((".", "?", "!"))


def value_of(match: re.Match[str], source: Source, facts: Facts, findings: Findings) -> Leaf | None:
    """The value of one expression, or a finding."""
    expression = match["path"].strip()
    place = source.part(match.start("path") + match["path"].find(expression), len(expression))
    try:
        return _resolved(_steps(expression), facts)
    except _UnknownPathError as unknown:
        offset = expression.rfind(unknown.found)
        narrow = place.part(max(0, offset), len(unknown.found)) if unknown.found else place
        findings.add(
            "bad-template",
            narrow,
            unknown.message,
            mend=unknown.mend,
            found=unknown.found,
            expected="a figure",
        )
        return None


def _steps(expression: str) -> tuple[str, ...]:
    """The names of a path; anything but a path is refused."""
    if not _PATH.fullmatch(expression):
        message = f"`{expression}` is not a path of the facts"
        raise _UnknownPathError(message, "write a value, such as `facts.harvest.total`", expression)
    return tuple("".join(filter(None, step.groups())) for step in _STEP.finditer(expression))


def _resolved(steps: tuple[str, ...], facts: Facts) -> Leaf:
    """The one value that a path leads to."""
    node: object = facts
    for step in steps:
        known = _children(node)
        if step not in known:
            where = "the facts" if node is facts else "that part of the facts"
            raise _UnknownPathError(f"`{step}` is not in {where}", did_you_mean(step, known), step)
        node = known[step]
    if isinstance(node, Leaf) and not isinstance(node, bool):
        return node
    raise _UnknownPathError(
        f"`{steps[-1]}` is not one value", did_you_mean(steps[-1], _children(node)), steps[-1]
    )


def _children(node: object) -> dict[str, Any]:
    """The parts that can follow one in a path: fields, and the keys of a table."""
    if isinstance(node, Facts):
        names = [field.name for field in fields(node)] + ["visits"]
        return {name: getattr(node, name) for name in names if name not in _HIDDEN}
    if isinstance(node, tuple):
        return {key: child for item in node for key, child in _keyed(item)}
    if is_dataclass(node) and not isinstance(node, (Figure, Quantity, Day)):
        return {field.name: getattr(node, field.name) for field in fields(node)}
    return {}


def _keyed(item: object) -> Iterator[tuple[str, object]]:
    if isinstance(item, Named):
        yield item.key, item.figure
    elif isinstance(item, MilestoneFacts):
        yield item.name, item
    elif isinstance(item, PlantFacts):
        yield item.plant, item
    elif isinstance(item, TubFacts):
        yield item.key, item
