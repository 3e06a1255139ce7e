"""Reads written pages for tests: figures by name, tables, every text of an output folder."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib

__all__ = ["figures_on", "parse", "table_under", "words"]

_H = "{http://www.w3.org/1999/xhtml}"


def parse(path: Path) -> Element:
    """A page as a tree; a page that is not valid HTML fails here."""
    parser = html5lib.HTMLParser(html5lib.getTreeBuilder("etree"), strict=True)
    root: Element = parser.parse(path.read_text("utf-8"))
    return root


def words(node: Element) -> str:
    """The text of an element, with single spaces."""
    return " ".join("".join(node.itertext()).split())


def figures_on(path: Path) -> dict[str, set[str]]:
    """The texts shown for each figure of a page, by the figure's name."""
    found: dict[str, set[str]] = defaultdict(set)
    for node in parse(path).iter():
        name = node.get("data-figure")
        if name:
            found[name].add(words(node))
    return dict(found)


def table_under(path: Path, heading: str) -> list[list[str]]:
    """The rows of the first table in the section or figure whose heading is given."""
    for holder in parse(path).iter():
        heads = [child for child in holder if child.tag in (f"{_H}h2", f"{_H}h3")]
        if heads and words(heads[0]).startswith(heading):
            table = next(holder.iter(f"{_H}table"))
            return [
                [words(cell) for cell in row if cell.tag in (f"{_H}th", f"{_H}td")]
                for row in table.iter(f"{_H}tr")
            ]
    raise AssertionError(f"no section `{heading}` on {path.name}")
