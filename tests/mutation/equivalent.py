"""Mutants declared equivalent: no test can tell them from the program.

In: a text file. Out: `Declared`, and those of them that no longer fit any change. A declaration names the file and the
function (`name#2`: the second of equal lines in it), the lines before and after, and the reason::

    package/folder/module.py function
    - before
    + after
    = reason
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.mutation.mutants import Source

MOST = 15  # declarations; more would hide missing tests


@dataclass(frozen=True)
class Declared:
    """A declaration: the identity of a mutant, and why nothing can tell it."""

    identity: tuple[str, str, str, str]
    reason: str


def declared(path: Path) -> list[Declared]:
    """The declarations of a file; none where there is no file."""
    if not path.exists():
        return []
    text = "\n".join(line for line in path.read_text("utf-8").splitlines() if not line.startswith("#"))
    found = [_read(block) for block in text.split("\n\n") if block.strip()]
    if len(found) > MOST:
        raise ValueError(f"{path}: {len(found)} mutants are declared equivalent; at most {MOST} may be")
    return found


def _read(block: str) -> Declared:
    head, *lines = block.strip().splitlines()
    signs = {line[0]: line[1:].strip() for line in lines}
    file, _, function = head.partition(" ")
    if signs.keys() != {"-", "+", "="} or not (function and signs["="]):
        raise ValueError(f"not a declaration: file and function, then lines with -, + and =:\n{block}")
    return Declared((file, function, signs["-"], signs["+"]), signs["="])


def outdated(declarations: Sequence[Declared], root: Path) -> Iterator[Declared]:
    """Those that fit no change of their file."""
    files = {declaration.identity[0] for declaration in declarations}
    known = {
        mutant.identity
        for file in files
        if (root / file).exists()
        for mutant in Source.read(root, root / file).mutants()
    }
    return (declaration for declaration in declarations if declaration.identity not in known)
