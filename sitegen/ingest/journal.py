"""The folder of a journal: its files, and the records that all experiments share.

In: the folder. Out: `JournalFiles`: settings, seasons, library, free pages, catalogue and experiment folders.
Experiments are found but not read, so that they stream through one at a time.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.language.catalogue import ENGLISH, Catalogue
from sitegen.core.records.setup import Author, FreePage, Journal, Prices, Season
from sitegen.core.site.blocks import blocks_in
from sitegen.ingest.catalogues import read_catalogue
from sitegen.ingest.library import Library, read_crops, read_gear
from sitegen.ingest.setup.about import check_format
from sitegen.ingest.text_files import name_of, read_text
from sitegen.ingest.yaml.nodes import Mapping, Node, Scalar, check_id, expect_mapping
from sitegen.ingest.yaml.parser import parse
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields

_KNOWN_AT_TOP = {"journal.yaml", "gear.yaml", "crops.yaml", "seasons", "look", "output"}


@dataclass(frozen=True, slots=True)
class ExperimentFolder:
    """Where an experiment lies."""

    id: str
    season: str
    path: Path


@dataclass(frozen=True, slots=True)
class JournalFiles:
    """What every experiment shares."""

    root: Path
    journal: Journal
    seasons: tuple[Season, ...]
    library: Library
    pages: tuple[FreePage, ...]
    folders: tuple[ExperimentFolder, ...]
    catalogue: Catalogue = ENGLISH


def find_root(start: Path) -> Path | None:
    """The nearest folder, from `start` upwards, that holds journal.yaml."""
    folder = start.resolve()
    return next((f for f in (folder, *folder.parents) if (f / "journal.yaml").is_file()), None)


def load_yaml(path: Path, root: Path, findings: Findings) -> Node | None:
    """The nodes of one file."""
    text = read_text(path, root, findings)
    return None if text is None else parse(text, name_of(path, root), findings)


def load_table(path: Path, root: Path, table: str, findings: Findings) -> TypedFields | None:
    """One file against its table."""
    node = load_yaml(path, root, findings)
    mapping: Mapping | None = None if node is None else expect_mapping(node, path.name, findings)
    return None if mapping is None else read_fields(mapping, table, findings)


def read_journal_files(root: Path, findings: Findings) -> JournalFiles | None:
    """Everything but the experiments; None where journal.yaml cannot be read."""
    fields = load_table(root / "journal.yaml", root, "journal", findings)
    if fields is None:
        return None
    journal = _journal(fields)
    findings.units = journal.units
    library = _library(root, findings)
    seasons, folders = _seasons(root, findings)
    _report_strays(root, findings)
    journal = _journal(fields)
    catalogue = read_catalogue(root, journal, findings)
    return JournalFiles(root, journal, seasons, library, tuple(_pages(root, findings)), folders, catalogue)


def _journal(fields: TypedFields) -> Journal:
    check_format(fields)
    author, prices = fields.nested("author"), fields.nested("prices")
    return Journal(
        title=fields.text("title"),
        tagline=fields.text("tagline"),
        author=Author(author.text("name"), author.text("link")) if author else Author(),
        address=fields.text("address"),
        language=fields.text("language") or "en",
        units="us" if fields.choice("units") == "us" else "metric",
        licence=fields.text("licence"),
        theme=fields.text("theme") or "ledger",
        output=fields.text("output"),
        prices=Prices(prices.text("currency"), prices.price("electricity"), prices.price("water"))
        if prices
        else Prices(),
        timezone=fields.zone("timezone"),
        raw_html=fields.flag("raw_html"),
        spans=tuple((key, node.source) for key, node in fields.values.items()),
    )


def _library(root: Path, findings: Findings) -> Library:
    gear = root / "gear.yaml"
    crops = root / "crops.yaml"
    library = read_gear(load_yaml(gear, root, findings) if gear.exists() else None, findings)
    found = read_crops(load_yaml(crops, root, findings) if crops.exists() else None, findings)
    return Library(library.systems, library.lamps, library.products, found)


def _seasons(root: Path, findings: Findings) -> tuple[tuple[Season, ...], tuple[ExperimentFolder, ...]]:
    seasons: list[Season] = []
    folders: list[ExperimentFolder] = []
    seen: dict[str, str] = {}
    for folder in _folders(root / "seasons", root, findings):
        path = folder / "season.yaml"
        if not path.is_file():
            findings.add(
                "missing-file",
                Source(name_of(folder, root)),
                f"the season `{folder.name}` has no season.yaml",
                mend=f"write `{name_of(path, root)}` with `title: …`",
            )
            continue
        fields = load_table(path, root, "season", findings)
        if fields is not None:
            seasons.append(Season(folder.name, fields.text("title") or folder.name, fields.text("summary")))
        for inner in _folders(folder, root, findings):
            found = _experiment(inner, folder, root, seen, findings)
            if found is not None:
                folders.append(found)
    return tuple(seasons), tuple(folders)


def _experiment(
    inner: Path, season: Path, root: Path, seen: dict[str, str], findings: Findings
) -> ExperimentFolder | None:
    if not os.path.isfile(f"{inner}/experiment.yaml"):  # noqa: PTH113 - there are thousands
        findings.add(
            "missing-file",
            Source(name_of(inner, root)),
            f"`{inner.name}` has no experiment.yaml",
            mend=f"write `{name_of(inner / 'experiment.yaml', root)}`, or move the folder out of seasons/",
        )
        return None
    if inner.name in seen:
        findings.add(
            "duplicate-id",
            Source(name_of(inner / "experiment.yaml", root)),
            f"`{inner.name}` is also an experiment of {seen[inner.name]}",
            mend="rename one of the folders",
            found=inner.name,
        )
        return None
    seen[inner.name] = season.name
    return ExperimentFolder(inner.name, season.name, inner)


def _folders(parent: Path, root: Path, findings: Findings) -> Iterator[Path]:
    """Folders whose names can be ids, in order."""
    if not parent.is_dir():
        return
    with os.scandir(parent) as found:
        names = sorted(entry.name for entry in found if entry.is_dir())
    place = name_of(parent, root)
    for name in names:
        if not name.startswith((".", "_")) and check_id(Scalar(name, Source(f"{place}/{name}")), findings):
            yield parent / name


def _pages(root: Path, findings: Findings) -> Iterator[FreePage]:
    for path in sorted(root.glob("*.md")):
        text = read_text(path, root, findings)
        if text is not None:
            _report_blocks(text, path.name, findings)
            yield FreePage(path.stem, text, Source(path.name))


def _report_blocks(text: str, file: str, findings: Findings) -> None:
    """A free page is about no one experiment, so nothing could stand in its place."""
    for block in blocks_in(text, file):
        findings.add(
            "misplaced-block",
            block.source,
            f"a `{block.kind}` block stands in a free page",
            mend="move it into the recap.md of its experiment, or remove it",
            found=block.kind,
            expected="a recap",
        )


def _report_strays(root: Path, findings: Findings) -> None:
    """A misspelt file at the top would silently be left out."""
    for path in sorted(root.iterdir()):
        stray = path.suffix.lower() in (".yaml", ".yml") and path.name not in _KNOWN_AT_TOP
        if stray:
            findings.add(
                "stray-file",
                Source(path.name),
                f"nothing reads `{path.name}`",
                mend="rename it to journal.yaml, gear.yaml or crops.yaml, or move it elsewhere",
                found=path.name,
            )
