"""The one Markdown parser of the author's texts, and the blocks of a recap that place charts and photos.

In: Markdown. Out: a parser of CommonMark with tables, footnotes and definition lists, which passes over comments;
`Block`s with their places, the photos of a strip, the words of a text. Raw HTML is text unless asked for. Checks and
pages use the same parser, so that they agree on a text's structure. Whether the names in a block exist is not checked
here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from hashlib import blake2b
from itertools import pairwise, takewhile
from typing import TYPE_CHECKING

from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import tr_noop
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Setup
from sitegen.core.site.addresses import slug
from sitegen.core.site.comments import without_comments

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token


@lru_cache(maxsize=2)
def parser(*, raw: bool = False) -> MarkdownIt:
    """The parser; with `raw`, HTML is kept as HTML."""
    from markdown_it import MarkdownIt  # noqa: PLC0415 - a journal without recaps is checked without it
    from mdit_py_plugins.deflist import deflist_plugin  # noqa: PLC0415 - as above
    from mdit_py_plugins.footnote import footnote_plugin  # noqa: PLC0415 - as above

    made = MarkdownIt("commonmark", {"html": raw}).enable("table")
    valid = made.validateLink
    # The library would show such a link as text, in silence; here it is a link to no page, which is told.
    made.validateLink = lambda url: url.lower().startswith("file:") or valid(url)  # type: ignore[method-assign]
    return without_comments(made.use(footnote_plugin).use(deflist_plugin))


def plain_words(markdown: str) -> str:
    """The words of a text as a reader sees them: without its markup, its comments and its blocks."""
    if not markdown:
        return ""
    inline = [child for token in parser().parse(markdown) for child in token.children or ()]
    return " ".join(child.content for child in inline if child.type in _IN_WORDS)


def first_line(markdown: str) -> str:
    """The words of the first line of text that is no heading."""
    tokens = parser().parse(markdown)
    for before, token in pairwise(tokens):
        if before.type == "paragraph_open":
            line = takewhile(lambda child: child.type not in ("softbreak", "hardbreak"), token.children or ())
            words = "".join(child.content for child in line if child.type in _IN_WORDS).strip()
            if words:
                return words
    return ""


_IN_WORDS = ("text", "code_inline", "text_special")


# Each kind with its content, in the words of findings.
KINDS = {"chart": "the name of a chart", "photo": "a file of photos/", "strip": "a plant or a group"}
# Headings of a recap whose sections are the other part of its page, in English.
HEADINGS = (
    tr_noop("What went wrong"),
    tr_noop("What I would change"),
    tr_noop("What went wrong, what I would change"),
)
ALL_PHOTOS = "all"  # a strip of every photo, day by day
_HINT = re.compile(rf"[`~]{{3}}[ \t]*+(?:{'|'.join(KINDS)})\b")


@dataclass(frozen=True, slots=True)
class Block:
    """One block: `source` is the place of its info word, `at` that of its name (the info word where it has none).

    `caption` is for photos; `rest` is further text, which nothing reads.
    """

    kind: str
    name: str
    source: Source
    at: Source
    caption: str = ""
    rest: tuple[tuple[str, Source], ...] = ()

    @property
    def anchor(self) -> str:
        """The anchor of the placed thing; that of a photo says nothing of the name of its file."""
        if self.kind == "photo":
            return f"photo-{blake2b(self.name.encode('utf-8', 'replace'), digest_size=4).hexdigest()}"
        return f"{self.kind}-{slug(self.name) or 'one'}"


def kind_of(info: str) -> str:
    """The kind of block in the info string of a fence; empty for any other fence."""
    word = info.split(maxsplit=1)[0] if info.strip() else ""
    return word if word in KINDS else ""


def block_of(token: Token, lines: Sequence[str], file: str) -> Block:
    """The block of a fence."""
    assert token.map is not None  # every fence has its lines
    first = token.map[0]
    kind = kind_of(token.info)
    source = _span(lines[first], kind, Source(file, first + 1), after=lines[first].find(token.markup))
    inside = enumerate(token.content.splitlines(), start=first + 1)
    found = [
        (text, _span(lines[i], text, Source(file, i + 1))) for i, line in inside if (text := line.strip())
    ]
    more = [(word, _span(lines[first], word, Source(file, first + 1))) for word in token.info.split()[1:]]
    if not found:
        return Block(kind, "", source, source, rest=tuple(more))
    name, at = found[0]
    captions = 1 if kind == "photo" else 0
    caption = " ".join(text for text, _ in found[1 : 1 + captions])
    return Block(kind, name, source, at, caption, (*more, *found[1 + captions :]))


def _span(line: str, word: str, source: Source, after: int = 0) -> Source:
    return source.part(max(0, line.find(word, max(0, after))), len(word))


def blocks_in(text: str, file: str) -> tuple[Block, ...]:
    """Every block of a text, in its order."""
    if not _HINT.search(text):
        return ()
    from sitegen.core.site.blocks import parser  # noqa: PLC0415 - slow, and needed only for blocks

    lines = text.splitlines()
    tokens = parser().parse("\n".join(lines))
    return tuple(block_of(t, lines, file) for t in tokens if t.type == "fence" and kind_of(t.info))


def recap_file(setup: Setup) -> str:
    """The file of an experiment's recap."""
    file = setup.source.file
    return f"{file[: file.rfind('/') + 1]}recap.md"


def blocks_of(run: Run) -> tuple[Block, ...]:
    """The blocks of a run's recap."""
    return blocks_in(run.recap, recap_file(run.setup))


def strip_plants(name: str, setup: Setup) -> tuple[str, ...]:
    """The plants of a strip; none where the name is no plant and no group."""
    if name == ALL_PHOTOS:
        return setup.plant_ids
    if name in setup.plant_ids:
        return (name,)
    return dict(setup.groups).get(name, ())


def strip_files(name: str, run: Run) -> tuple[str, ...]:
    """The photos of a strip, in the order of their names: those that show its plants and no others."""
    if name == ALL_PHOTOS:
        return tuple(photo.file for photo in run.photo_files)
    plants = frozenset(strip_plants(name, run.setup))
    return tuple(photo.file for photo in run.photo_files if _among(_shown(photo.file, run), plants))


def _among(shown: tuple[str, ...], plants: frozenset[str]) -> bool:
    return bool(shown) and plants.issuperset(shown)


def _shown(file: str, run: Run) -> tuple[str, ...]:
    """The plants that the log says a photo shows."""
    line = next((row for row in run.rows.photos if row.file == file), None)
    return line.which.ids if line and line.which else ()
