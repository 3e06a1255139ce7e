"""Broken journals as text files: files separated by `=== path`, and `=== findings` with the exact report.

In: a case file, and the small sound journal that all cases share. Out: `Case`, and its journal written to a folder.
A path may say its encoding: `=== seasons/spring/crate/recap.md | latin-1`, or be a link: `=== recap.md | link`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

__all__ = ["BASE", "BROKEN", "Case", "cases"]

BROKEN = Path(__file__).parent / "journals" / "broken"
BASE = BROKEN / "base"
_LINK = "link"
_MARK = re.compile(r"^=== (?P<name>[^|\n]+?)(?: \| (?P<encoding>\S+))?\n", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Case:
    """One broken journal: what differs from the sound one, and the report it gets."""

    name: str
    about: str
    files: tuple[tuple[str, bytes], ...]
    findings: str
    links: tuple[tuple[str, str], ...] = ()

    @property
    def code(self) -> str:
        """The code of finding that it is about; what follows a full stop tells cases of one code apart."""
        return self.name.partition(".")[0]

    def write(self, root: Path) -> Path:
        """The whole journal in a folder."""
        own = dict(self.files)
        for path in sorted(p for p in BASE.rglob("*") if p.is_file()):
            name = path.relative_to(BASE).as_posix()
            if not any(f"{mine}/".startswith(f"{name}/") for mine in own):
                own[name] = path.read_bytes()
        for name, content in own.items():
            target = root / name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
        for name, leads_to in self.links:
            (root / name).parent.mkdir(parents=True, exist_ok=True)
            (root / name).symlink_to(leads_to)
        return root


def read_case(path: Path) -> Case:
    """A case file."""
    text = path.read_text("utf-8")
    marks = list(_MARK.finditer(text))
    ends = [mark.start() for mark in marks[1:]] + [len(text)]
    parts = [(mark, text[mark.end() : end]) for mark, end in zip(marks, ends, strict=True)]
    return Case(
        path.stem,
        text[: marks[0].start()].strip(),
        tuple(
            (mark["name"], body.encode(mark["encoding"] or "utf-8"))
            for mark, body in parts
            if mark["name"] != "findings" and mark["encoding"] != _LINK
        ),
        next(body for mark, body in parts if mark["name"] == "findings"),
        tuple((mark["name"], body.strip()) for mark, body in parts if mark["encoding"] == _LINK),
    )


def cases() -> tuple[Case, ...]:
    """All broken journals, by name."""
    return tuple(read_case(path) for path in sorted(BROKEN.glob("*.txt")))
