"""What the documents promise about the project itself."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parent.parent
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
README = (ROOT / "README.md").read_text("utf-8")


def libraries(*extras: str) -> set[str]:
    """The names of what is installed beside the project."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    needed = [*project["dependencies"], *(n for e in extras for n in project["optional-dependencies"][e])]
    return {re.match(r"[\w.-]+", name)[0].removesuffix("-python") for name in needed}


def test_every_library_has_its_reason() -> None:
    """Each library has a row that says why, and no row is left of one that went."""
    table = DEVELOPERS.partition("## Why these libraries")[2].partition("Tests only:")[0]
    rows = [line.split("|")[1] for line in table.splitlines() if line.startswith("| ")][2:]
    named = {name.strip() for row in rows for name in re.sub(r"\(.*?\)", "", row).split(",")}

    assert named == libraries("heic")


def test_every_library_of_the_tests_is_named() -> None:
    """The list of what only tests need is whole; types for a checker go without saying."""
    listed = DEVELOPERS.partition("Tests only:")[2].partition("\n\n")[0]

    assert [
        n for n in sorted(libraries("test") - libraries("heic")) if n not in listed and "types-" not in n
    ] == []


def test_the_way_back_from_a_package_is_told() -> None:
    """Both documents name `--from` and where results are kept."""
    for text in (README, DEVELOPERS):
        assert "--from" in text
        assert "SITEGEN_CACHE" in text
    assert "MIAPPE 1.1" in README


def test_a_build_has_few_concepts() -> None:
    """What a reader must know of a build fits into a table of at most 15 rows, and the document on four screens."""
    table = DEVELOPERS.partition("| concept | meaning |")[2].partition("\n\n")[0]

    assert len(table.splitlines()) - 2 <= 15
    assert len(DEVELOPERS.splitlines()) <= 240
