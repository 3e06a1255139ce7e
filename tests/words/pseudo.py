"""A language whose words cannot be mistaken: every message in marks, the author's own words in wide letters.

In: a journal, the messages of the site. Out: a copy of the journal in which whatever stands in plain letters on a page is
neither a message nor the author's.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import yaml
from babel.messages.catalog import Catalog

from sitegen.words.catalogues import catalogue_text

__all__ = ["CLOSE", "OPEN", "PSEUDO", "author_ids", "hebrew", "pseudo_catalogue", "pseudo_journal", "wide"]

PSEUDO = "en-XA"  # a tag for tests of this kind; numbers and dates stay as they are in English
OPEN, CLOSE = "⟦", "⟧"
_HEBREW = "אבגדהוזחטיכלמנסעפצקרשת"
_APART = re.compile(r"(\{\w+\}|</?[a-z][^<>]*>)")
_LETTERS = {ord(letter): ord(letter) + 0xFEE0 for letter in map(chr, range(0x21, 0x7F)) if letter.isalpha()}
# Keys whose values an author words freely, and those below which every text is one.
_WORDED = frozenset(
    [
        "title",
        "tagline",
        "name",
        "question",
        "before",
        "why",
        "disclosure",
        "text",
        "note",
        "alt",
        "what",
        "summary",
        "change",
        "result",
        "grade",
        "source",
        "by",
        "packed",
        "base_temperature_source",
    ]
)
_WORDED_BELOW = frozenset(
    ["prune", "trouble", "treat", "train", "clean", "lost", "end", "pollinate", "taste"]
)
_KEPT = re.compile(r"(?m)^```\w*\n[^\n]*\n|^```$|\{\{.*?\}\}|\]\([^)]*\)|<[^>]*>|https?://\S+|`[^`]*`")
_ROUGH_HARVEST = re.compile(r"[a-z]+(?: [a-z]+){2,}")  # of a run told from memory: `a few small heads`
_SCORE = re.compile(r"\d/5, ")
_FORMAL = re.compile(r"P\d+(?:-P?\d+)?|all|none|some|each|kept|cleared|about|day|\d.*")


def wide(text: str) -> str:
    """A text in wide letters."""
    return text.translate(_LETTERS)


def pseudo_catalogue(
    template: Catalog, say: Callable[[str], str] = lambda text: f"{OPEN}{text}{CLOSE}"
) -> str:
    """A catalogue with every message in marks; places and markup stay outside of them, so that values show."""
    catalog = Catalog(locale="en", charset="utf-8", fuzzy=False)
    for message in template:
        if message.id:
            given = message.id if isinstance(message.id, tuple) else (message.id,)
            marked = tuple(_marked(each, say) for each in given)
            catalog.add(message.id, marked if len(marked) > 1 else marked[0], context=message.context)
    return catalogue_text(catalog)


def _marked(message: str, say: Callable[[str], str]) -> str:
    parts = _APART.split(message)
    return "".join(part if _APART.fullmatch(part) or not part else say(part) for part in parts)


def hebrew(text: str) -> str:
    """A text in Hebrew letters: it says nothing, and runs from right to left."""
    return "".join(
        _HEBREW[ord(letter.lower()) % len(_HEBREW)] if letter.isalpha() else letter for letter in text
    )


def pseudo_journal(journal: Path, root: Path, template: Catalog) -> Path:
    """A copy of a journal in the language of marks, with the author's words in wide letters."""
    shutil.copytree(journal, root, ignore=shutil.ignore_patterns("output", "*.py", "drawing"))
    for path in root.rglob("*.yaml"):
        path.write_text(_widened(path.read_text("utf-8"), path.name), "utf-8")
    for path in root.rglob("*.md"):
        path.write_text(_but(_KEPT, path.read_text("utf-8")), "utf-8")
    head = root / "journal.yaml"
    head.write_text(re.sub(r"(?m)^language:.*$", f"language: {PSEUDO}", head.read_text("utf-8")), "utf-8")
    words = root / "look" / "words" / f"{PSEUDO}.po"
    words.parent.mkdir(parents=True, exist_ok=True)
    words.write_text(pseudo_catalogue(template), "utf-8")
    return root


def _but(kept: re.Pattern[str], text: str) -> str:
    parts, at = [], 0
    for match in kept.finditer(text):
        parts += [wide(text[at : match.start()]), match[0]]
        at = match.end()
    return "".join([*parts, wide(text[at:])])


def _widened(text: str, file: str) -> str:
    """A YAML text with the author's words in wide letters; each is put where it stood."""
    for start, end in sorted(_worded(yaml.compose(text), file), reverse=True):
        text = text[:start] + wide(text[start:end]) + text[end:]
    return text


def _worded(node: yaml.Node | None, file: str, below: str = "", key: str = "") -> Iterator[tuple[int, int]]:
    if isinstance(node, yaml.MappingNode):
        for name, value in node.value:
            inner = below or (name.value if name.value in _WORDED_BELOW else "")
            yield from _worded(value, file, inner, name.value)
    elif isinstance(node, yaml.SequenceNode):
        for value in node.value:
            yield from _worded(value, file, below, key)
    elif isinstance(node, yaml.ScalarNode) and _is_worded(node, file, below, key):
        skipped = len(match[0]) if (match := _SCORE.match(node.value)) else 0
        yield node.start_mark.index + skipped, node.end_mark.index


def _is_worded(node: yaml.ScalarNode, file: str, below: str, key: str) -> bool:
    if key in ("plants", "until", "product", "count"):
        return False
    if file == "gear.yaml" and key == "kind":
        return "system" in _line(node)
    if _SCORE.match(node.value):
        return True
    if key == "harvest" and _ROUGH_HARVEST.fullmatch(node.value):
        return True
    return key in _WORDED or (bool(below) and not _FORMAL.fullmatch(node.value))


def _line(node: yaml.ScalarNode) -> str:
    buffer = node.start_mark.buffer
    line = node.start_mark.line
    return "system" if buffer and "spots:" in buffer.splitlines()[line] else ""


def author_ids(journal: Path) -> set[str]:
    """Every id that a page shows as it is: of plants, groups and tubs."""
    found: set[str] = set()
    for path in journal.rglob("experiment.yaml"):
        head = yaml.load(path.read_text("utf-8"), yaml.BaseLoader)  # noqa: S506 - texts only
        plants = head.get("plants")
        found |= {
            *head.get("groups", {}),
            *head.get("tubs", {}),
            *(plants if isinstance(plants, list) else ()),
        }
    return found
