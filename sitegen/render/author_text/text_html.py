"""The HTML of an author's text, with findings about raw HTML and pictures in it.

In: the text as it is to be shown, and as it was written. Out: HTML, and findings at the places of raw HTML and pictures.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from markdown_it.token import Token
from markupsafe import Markup

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.site.blocks import parser
from sitegen.render.author_text.markdown import Piece, RenderBlock, report_raw_html, report_removed, to_html


@dataclass(frozen=True, slots=True)
class AuthorText:
    """A text as it was written, the file and line that it begins at, and whether the journal takes its HTML."""

    text: str
    file: str
    line: int = 1
    raw: bool = False


def text_html(
    shown: str,
    source: AuthorText,
    findings: Findings,
    *,
    below: int,
    prefix: str,
    resolve: Callable[[str], str] | None,
    render_block: RenderBlock | None = None,
) -> Markup:
    """The HTML of a text; `shown` is the text with values filled in."""
    html, pictures = _pieces(source)
    (report_removed if source.raw else report_raw_html)(html, source.file, findings)
    _report_pictures(pictures, source.file, findings)
    return to_html(
        shown, below=below, prefix=prefix, resolve=resolve, render_block=render_block, raw=source.raw
    )


def _pieces(source: AuthorText) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """The raw HTML of a text, and its pictures."""
    if "<" not in source.text and "![" not in source.text:
        return (), ()
    lines = source.text.splitlines()
    html: list[Piece] = []
    pictures: list[Piece] = []
    for token in parser(raw=True).parse(source.text, {}):
        begin = token.map[0] if token.map else 0
        if token.type == "html_block":
            html.append(Piece(token.content.rstrip("\n"), source.line + begin, _indent(lines[begin]) + 1))
        for text, kind, line, column in _inline(token, lines, begin):
            (pictures if kind == "image" else html).append(Piece(text, source.line + line, column + 1))
    return tuple(html), tuple(pictures)


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def _inline(token: Token, lines: Sequence[str], begin: int) -> Iterator[tuple[str, str, int, int]]:
    """The HTML and the pictures in a paragraph, each sought from where the one before it ended."""
    line, column = begin, 0
    for child in token.children or ():
        if child.type not in ("html_inline", "image"):
            continue
        text = child.content if child.type == "html_inline" else f"![{child.content}]"
        sought = text.split("\n", 1)[0]
        while line < len(lines) and lines[line].find(sought, column) < 0:
            line, column = line + 1, 0
        if line == len(lines):
            line, column = begin, 0
            yield text, child.type, line, column
            continue
        at = lines[line].find(sought, column)
        column = at + len(sought)
        yield text, child.type, line, at


def _report_pictures(pictures: Sequence[Piece], file: str, findings: Findings) -> None:
    for piece in pictures:
        findings.add(
            "picture-left-out",
            Source(file, piece.line, piece.column, len(piece.text)),
            "a text shows no picture of its own; its words stand in its place",
            mend="put it into photos/ and place it by a `photo` block, or name it under `photo` in the log",
            found=piece.text,
        )
