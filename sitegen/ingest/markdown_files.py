"""Recaps and free pages, read safely: bounded in length, in lines, and in the markup of a paragraph.

In: the journal's folder and a path. Out: Markdown, or None and a finding. Reading Markdown takes time that grows with
the square of a paragraph's opening signs, so these are counted where a text is long; a short one is never parsed here.
"""

from __future__ import annotations

from pathlib import Path

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.site.blocks import parser
from sitegen.ingest.text_files import (
    MAX_BYTES,
    has_hidden,
    name_of,
    read_text,
    report_too_long,
    without_long_lines,
)

MAX_MARKDOWN = 100_000  # characters, some 60 printed pages
MAX_LINES = 5_000
MAX_PARAGRAPH = 10_000  # characters
MAX_VALUES = 1_000  # values of the facts: for each that is not there, the nearest that is is looked for
MAX_SIGNS = 500  # brackets that can begin a link, a footnote or an element, of one paragraph


def read_markdown(path: Path, root: Path, findings: Findings) -> str | None:
    """The text of a Markdown file, as `read_text`, where a page can be made of it in a short time.

    Without the lines and paragraphs that are longer than what is read: each is a finding, and so the rest has its own.
    """
    text = read_text(path, root, findings, longest=MAX_BYTES)
    if text is None:
        return None
    source = Source(name_of(path, root))
    text = without_long_lines(text, source, findings)
    lines = text.count("\n")
    if len(text) > MAX_MARKDOWN:
        report_too_long(findings, source, f"`{source.file}`", len(text), MAX_MARKDOWN)
        return None
    for what, count, most in (("lines", lines, MAX_LINES), ("values", text.count("{{"), MAX_VALUES)):
        if count > most:
            message = f"`{source.file}` has {count:,} {what}; at most {most:,} are read"
            findings.add("too-many-items", source, message, mend="shorten it, or divide it", found=str(count))
            return None
    if has_hidden(text, source.file, findings):
        return None
    may_be_long = len(text) > MAX_PARAGRAPH or _signs(text) > MAX_SIGNS
    return _without_long_paragraphs(text, source, findings) if may_be_long else text


def _signs(text: str) -> int:
    return text.count("[") + text.count("<")


def _without_long_paragraphs(text: str, source: Source, findings: Findings) -> str:
    """A text without each paragraph that is longer, or has more markup, than a page takes, which is a finding."""
    blocks = parser()
    with blocks.reset_rules():
        blocks.core.ruler.enableOnly(["normalize", "block"])
        tokens = blocks.parse(text, {})
    lines = text.split("\n")
    for token in tokens:
        if token.type != "inline" or token.map is None:
            continue
        first, end = token.map
        place, signs = Source(source.file, first + 1), _signs(token.content)
        if len(token.content) > MAX_PARAGRAPH:
            report_too_long(findings, place, "this paragraph", len(token.content), MAX_PARAGRAPH)
        elif signs > MAX_SIGNS:
            message = f"this paragraph has {signs:,} opening brackets; at most {MAX_SIGNS:,} are read"
            mend = "put an empty line between its parts"
            findings.add("too-many-items", place, message, mend=mend, found=str(signs))
        else:
            continue
        lines[first:end] = [""] * (end - first)
    return "\n".join(lines)
