"""Which words of a site are no messages: text, attributes and drawings of every page.

In: a site written from a pseudo journal. Out: what stands in plain letters, with its pages. As a module it prints that of
the demo: `python -m tests.words.leftovers [PART OF A PAGE'S ADDRESS]`.
"""

from __future__ import annotations

import calendar
import re
import shutil
import sys
import tempfile
from collections import defaultdict
from collections.abc import Collection, Iterator
from pathlib import Path
from xml.etree.ElementTree import Element

from sitegen.app.main import status_of
from sitegen.core.facts.method import parted
from sitegen.core.records.tables import PLANTS, TABLES
from sitegen.core.values.units import UNITS
from sitegen.measure.methods import methods
from sitegen.words.extraction import all_messages, catalogue_of
from tests.pages import parse
from tests.words.pseudo import CLOSE, OPEN, author_ids, pseudo_journal

__all__ = ["DEMO", "leftovers", "write_pseudo", "write_with"]

DEMO = Path(__file__).parents[2] / "content_demo"
# A description of a page may be cut inside a message.
_MARKED = re.compile(f"{OPEN}[^{OPEN}{CLOSE}]*(?:{CLOSE}|…$)")
_ATTRIBUTES = ("alt", "title", "aria-label", "aria-description", "placeholder", "label", "summary")
_META = ("description",)
_SILENT = ("script", "style", "code", "pre", "math")
_MONTHS = tuple(calendar.month_name)[1:]
_SYMBOLS = {part for unit in UNITS for part in re.split(r"[^A-Za-z]+", unit.symbol) if part} - {"days", "day"}
# Symbols and names that are the same in every language, and not the site's words.
_ALLOWED = {*_SYMBOLS, *_MONTHS, *(month[:3] for month in _MONTHS), "EUR", "pH", "EC", "VPD", "DLI", "PPFD"}
# Sources are quoted as they were published, without the note behind them.
_PUBLICATIONS = tuple(parted(reference)[0] for method in methods() for reference in method.references)
_TERMS = {each for table in (PLANTS, *TABLES) for c in table.columns for each in (table.term, c.term, c.name)}
_QUOTED = re.compile(
    r"https?://\S+|CC-BY-4.0|7 CFR 201.31|WebVTT|\((?:Atom|JSON)\)"
    r"|Singh and Dunn[^)]*|Papoutsoglou et al\..*|Hurlbert \(1984\)[^.]*"
)
_FILE = re.compile(r"[\w-]+\.(csv|xlsx|json|vtt|svg)")
_WORD = re.compile(r"[A-Za-z][A-Za-z'’-]+|[A-Za-z]{2,}")


def write_pseudo(root: Path, theme: str = "ledger", runs: Collection[str] = ()) -> Path:
    """The demo, or some of its runs, in the language of marks, written with a theme; its output."""
    journal = pseudo_journal(DEMO, root / "journal", catalogue_of(all_messages()))
    for path in journal.glob("seasons/*/*/"):
        if path.is_dir() and runs and path.name not in runs:
            shutil.rmtree(path)
    return write_with(journal, theme)


def write_with(journal: Path, theme: str) -> Path:
    """A journal written with a theme; what it draws is kept from one theme to the next."""
    head, site = journal / "journal.yaml", journal.parent / theme
    head.write_text(re.sub("(?m)^theme: .*", f"theme: {theme}", head.read_text("utf-8")), "utf-8")
    assert status_of(["write", str(journal), "-o", str(site), "--today", "2026-11-25"]) == 0
    return site


def leftovers(site: Path) -> dict[str, set[str]]:
    """Texts with plain words in them, and the pages that they stand on."""
    found: dict[str, set[str]] = defaultdict(set)
    ids = author_ids(DEMO)
    for path in sorted(site.rglob("*.html")):
        for text in _texts(parse(path)):
            rest = _rest(text, ids)
            if rest:
                found[rest].add(path.relative_to(site).as_posix())
    return dict(found)


def _texts(node: Element, silent: bool = False) -> Iterator[str]:
    name = str(node.tag).rpartition("}")[2]
    silent = silent or name in _SILENT or not isinstance(node.tag, str)  # a comment
    silent = silent or ("lang" in node.attrib and name != "html")  # a botanical name
    if not silent:
        yield node.text or ""
        yield from (node.get(attribute, "") for attribute in _ATTRIBUTES)
        if name == "meta" and node.get("name", node.get("property", "")).endswith(_META):
            yield node.get("content", "")
    for child in node:
        yield from _texts(child, silent)
        if not silent:
            yield child.tail or ""


def _rest(text: str, ids: set[str]) -> str:
    """What of a text is in plain letters and no symbol."""
    plain = " ".join(_MARKED.sub(" ", text).split())
    for publication in _PUBLICATIONS:
        plain = plain.replace(publication, "")
    plain = _FILE.sub(" ", _QUOTED.sub(" ", plain))
    words = [word for word in _WORD.findall(plain) if word not in _ALLOWED and word.lower() not in ids]
    return plain if words and plain not in _TERMS else ""


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        wanted = sys.argv[1] if len(sys.argv) > 1 else ""
        found = leftovers(write_pseudo(Path(folder)))
        for text, pages in sorted(found.items(), key=lambda item: (min(item[1]), item[0])):
            if any(wanted in page for page in pages):
                print(f"{min(pages)} ({len(pages)}): {text}")
