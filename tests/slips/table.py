"""The table of slips, and the journal that each is made in.

In: `slips.txt`, whose head says its form, and the journals of `sound/`. Out: `Slip`, and the files with and without it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

__all__ = ["FILES", "HELD", "HERE", "Mark", "Slip", "slips", "sound", "with_text"]

HERE = Path(__file__).parent
HELD = HERE / "held.txt"
_SPRING = "seasons/2026-spring"
_RADISH = f"{_SPRING}/radish-two-depths"
FILES = {
    "radish": ("hallway", f"{_RADISH}/experiment.yaml"),
    "widths": ("hallway", f"{_RADISH}/widths.csv"),
    "air": ("hallway", f"{_RADISH}/air.csv"),
    "basil": ("hallway", f"{_SPRING}/basil-in-a-tub/experiment.yaml"),
    "season": ("hallway", f"{_SPRING}/season.yaml"),
    "chili": ("landing", "seasons/2025-winter/chili-by-the-stairs/experiment.yaml"),
    **{
        f"{journal} {name}": (journal, f"{name}.yaml")
        for journal in ("hallway", "landing")
        for name in ("journal", "gear", "crops")
    },
}
_HEAD = re.compile(r"\[(?P<kind>[^\n]+)\] (?P<file>[a-z ]+)")
_OUTCOME = re.compile(r"= (?P<outcome>accept|mend|advice)(?:: (?P<names>.+))?")


@dataclass(frozen=True, slots=True)
class Mark:
    """A text that a finding may mark: from `start` on, in the journal's file as it is with the slip."""

    file: str
    start: int
    width: int


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip: what stands in a file, what was typed instead, and what was meant; `names` are what advice must name."""

    line: int
    kind: str
    name: str
    stands: str
    typed: str
    meant: str
    marked: tuple[str, ...]
    outcome: str
    names: tuple[str, ...] = ()

    @property
    def journal(self) -> str:
        """The journal that it is made in."""
        return FILES[self.name][0]

    @property
    def file(self) -> str:
        """The file that it is made in, within the journal."""
        return FILES[self.name][1]

    @property
    def id(self) -> str:
        """The slip by its file and its line."""
        return f"{self.name} - {self.title}"

    @property
    def title(self) -> str:
        """The slip in a line."""
        typed = self.typed.strip().replace("\n", " / ").replace("\t", "⇥").replace("\xa0", "⍽")
        return f"{self.kind}: {typed}"

    def marks(self) -> tuple[Mark, ...]:
        """The places that a finding may mark."""
        return tuple(self._mark(text) for text in self.marked)

    def _mark(self, text: str) -> Mark:
        other, _, rest = text.partition(": ")
        slipped = with_text(self, self.typed)
        if other in FILES and rest:
            file = FILES[other][1]
            content = slipped if file == self.file else (sound(self.journal) / file).read_text("utf-8")
            return Mark(file, _once(content, rest, self), len(rest))
        # Where the text stands in the slip twice, such as a line and its copy, the later one is meant.
        within = self.typed.rfind(text)
        if within < 0:
            return Mark(self.file, _once(slipped, text, self), len(text))
        start = _once((sound(self.journal) / self.file).read_text("utf-8"), self.stands, self)
        return Mark(self.file, start + within, len(text))


def sound(journal: str) -> Path:
    """The folder of a journal without a slip."""
    return HERE / "sound" / journal


def with_text(slip: Slip, text: str) -> str:
    """The slip's file with a text in the place of what stands there."""
    content = (sound(slip.journal) / slip.file).read_text("utf-8")
    start = _once(content, slip.stands, slip)
    return content[:start] + text + content[start + len(slip.stands) :]


def _once(content: str, text: str, slip: Slip) -> int:
    if content.count(text) != 1:
        raise ValueError(f"slips.txt:{slip.line}: `{text}` stands {content.count(text)} times in the file")
    return content.index(text)


@cache
def slips() -> tuple[Slip, ...]:
    """All slips, in the order of the table."""
    found: list[Slip] = []
    lines = (HERE / "slips.txt").read_text("utf-8").splitlines()
    starts = [number for number, line in enumerate(lines) if line.startswith("[")]
    for start, end in zip(starts, [*starts[1:], len(lines)], strict=True):
        found.append(_slip(start + 1, lines[start:end]))
    return tuple(found)


def _slip(number: int, lines: list[str]) -> Slip:
    head = _HEAD.fullmatch(lines[0])
    outcomes = [match for line in lines if (match := _OUTCOME.fullmatch(line))]
    if head is None or len(outcomes) != 1:
        raise ValueError(f"slips.txt:{number}: a slip has a head and one outcome")

    def under(sign: str) -> list[str]:
        return [
            line[2:].replace("⇥", "\t").replace("⍽", "\xa0")
            for line in lines[1:]
            if line.startswith(f"{sign} ")
        ]

    stands = "\n".join(under("-"))
    names = tuple((outcomes[0]["names"] or "").split(" | ")) if outcomes[0]["names"] else ()
    return Slip(
        number,
        head["kind"],
        head["file"],
        stands,
        "\n".join(under("+")),
        "\n".join(under("~")) or stands,
        tuple(under("^")),
        outcomes[0]["outcome"],
        names,
    )
