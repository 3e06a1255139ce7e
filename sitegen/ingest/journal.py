"""The folder of a journal: its files, and the records that all experiments share.

In: the folder. Out: `JournalFiles`: settings, seasons, library, free pages, catalogue and experiment folders.
Experiments are found but not read, so that they stream through one at a time.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from sitegen.core.files.file_names import is_litter, is_utf8
from sitegen.core.files.inside import leads_out
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.format import FORMAT, TABLES
from sitegen.core.format.versions import present_names
from sitegen.core.language.catalogue import ENGLISH, Catalogue
from sitegen.core.records.setup import Author, FreePage, Journal, Prices, Season
from sitegen.core.site.blocks import blocks_in
from sitegen.ingest.library import Library, read_crops, read_gear
from sitegen.ingest.listing import Listed, is_ignored
from sitegen.ingest.markdown_files import read_markdown
from sitegen.ingest.page_names import PageNames
from sitegen.ingest.text_files import MAX_BYTES, MAX_LINE, decoded, name_of, read_text
from sitegen.ingest.unread_files import Unread, is_draft, report_misnamed_experiment, report_unread
from sitegen.ingest.values.identifiers import parse_currency, parse_licence
from sitegen.ingest.yaml.nodes import Mapping, Node, Scalar, check_id, expect_mapping
from sitegen.ingest.yaml.older_format import upgraded, upgraded_by_id, version_of, with_format
from sitegen.ingest.yaml.parser import parse
from sitegen.ingest.yaml.typed_fields import TypedFields, read_fields


@dataclass(frozen=True, slots=True)
class ExperimentFolder:
    """The folder of an experiment."""

    id: str
    season: str
    path: Path


@dataclass(frozen=True, slots=True)
class JournalFiles:
    """The journal as read: everything that its experiments share."""

    root: Path
    journal: Journal
    seasons: tuple[Season, ...]
    library: Library
    pages: tuple[FreePage, ...]
    folders: tuple[ExperimentFolder, ...]
    catalogue: Catalogue = ENGLISH

    def folder(self, run: str) -> ExperimentFolder:
        """The folder of an experiment that there is."""
        return next(folder for folder in self.folders if folder.id == run)


def find_root(start: Path) -> Path | None:
    """The nearest folder, from `start` upwards, that holds journal.yaml."""
    folder = start.resolve()
    return next((f for f in (folder, *folder.parents) if (f / "journal.yaml").is_file()), None)


def load_yaml(
    path: Path, root: Path, findings: Findings, content: bytes | None = None, *, partly: bool = False
) -> Node | None:
    """The nodes of one file; of `content` where that is to be written there.

    Of a file that is not YAML, or has more than what is read, the rest where it is to be read `partly`.
    """
    name, longest = name_of(path, root), MAX_BYTES if partly else MAX_LINE
    if content is None:
        text = read_text(path, root, findings, longest=longest)
    else:
        text = decoded(content, Source(name), findings, longest)
    return None if text is None else parse(text, name, findings, partly=partly)


def load_table(
    path: Path, root: Path, table: str, findings: Findings, content: bytes | None = None
) -> TypedFields | None:
    """The fields of one file, by its table; a finding where its format is another one."""
    node = load_yaml(path, root, findings, content, partly=True)
    mapping: Mapping | None = None if node is None else expect_mapping(node, path.name, findings)
    if mapping is None:
        return None
    mapping = _in_present_format(mapping, table, findings)
    fields = read_fields(mapping, table, findings)
    version = fields.whole("format") if fields.table.has("format") else None
    if version not in (None, FORMAT):
        message = f"format {version} is not known; this version reads format {FORMAT}"
        mend = f"write `format: {FORMAT}`"
        fields.report("format", "format-version", message, mend, found=str(version), expected=str(FORMAT))
    return fields


def _in_present_format(mapping: Mapping, table: str, findings: Findings) -> Mapping:
    """The mapping of a file as the present format has it; a finding where the file is of an earlier one."""
    version = version_of(mapping) if TABLES[table].has("format") else None
    if version is None or version >= FORMAT or not mapping.pairs:
        return mapping
    said = next((pair.value.source for pair in mapping.pairs if pair.key.text == "format"), None)
    message = "the file does not say its format" if said is None else f"the file is of format {version}"
    findings.add(
        "older-format",
        said or mapping.pairs[0].key.source,
        f"{message}; it is read as format {version}, and this version writes format {FORMAT}",
        mend="run `sitegen validate --upgrade`, which rewrites it",
        found=str(version),
        expected=str(FORMAT),
    )
    found = upgraded(mapping, table, version)
    assert isinstance(found, Mapping)
    return with_format(found)


# What no finding about a run depends on. Without any other setting such findings could be false: about files that are
# ignored, units, days, words; a new setting counts as one of those until it is named here.
_OF_PAGES = frozenset(("title", "tagline", "author", "address", "licence", "prices"))


def read_shared_files(root: Path, findings: Findings) -> JournalFiles | None:
    """The settings and the library alone; None where journal.yaml cannot be read, or not what all runs need of it."""
    fields = load_table(root / "journal.yaml", root, "journal", findings)
    if fields is None:
        return None
    units = fields.node("units")  # before all else: later findings have examples in these units
    findings.units = "us" if isinstance(units, Scalar) and units.text == "us" else "metric"
    journal = _journal(fields)
    if not _OF_PAGES.issuperset(fields.broken):
        return None
    return JournalFiles(root, journal, (), _library(root, findings), (), ())


def read_journal_files(root: Path, findings: Findings) -> JournalFiles | None:
    """Everything but the experiments; None where journal.yaml cannot be read."""
    shared = read_shared_files(root, findings)
    if shared is None:
        return None
    journal = shared.journal
    seasons, folders = _seasons(root, journal, findings)
    output = (root / (journal.output or "output")).resolve()
    report_unread(Unread(root, journal.ignore, findings, not folders, output))
    from sitegen.ingest.catalogues import read_catalogue  # noqa: PLC0415 - an entry has no words of the site

    catalogue = read_catalogue(root, journal, findings)
    pages = tuple(_pages(root, journal, findings))
    return replace(shared, seasons=seasons, folders=folders, catalogue=catalogue, pages=pages)


def _journal(fields: TypedFields) -> Journal:
    author, prices = fields.nested("author"), fields.nested("prices")
    return Journal(
        title=fields.text("title"),
        tagline=fields.text("tagline"),
        author=Author(author.text("name"), author.link("link")) if author else Author(),
        address=fields.link("address"),
        language=fields.text("language") or "en",
        units="us" if fields.choice("units") == "us" else "metric",
        licence=parse_licence(fields.scalar("licence"), fields.findings),
        theme=fields.text("theme") or "ledger",
        output=fields.text("output"),
        prices=_prices(prices) if prices else Prices(),
        timezone=fields.zone("timezone"),
        raw_html=fields.flag("raw_html"),
        ignore=fields.texts("ignore"),
        spans=tuple((key, node.source) for key, node in fields.values.items()),
    )


def _prices(fields: TypedFields) -> Prices:
    currency = parse_currency(fields.scalar("currency"), fields.findings)
    return Prices(currency, fields.price("electricity"), fields.price("water"))


def _library(root: Path, findings: Findings) -> Library:
    gear, crops = (
        load_yaml(path, root, findings, partly=True) if path.exists() else None
        for path in (root / "gear.yaml", root / "crops.yaml")
    )
    if present_names(0):  # these files have no number of their own: they are of the journal's format
        journal = load_yaml(root / "journal.yaml", root, Findings())
        version = version_of(journal) if isinstance(journal, Mapping) else None
        if version is not None and version < FORMAT:
            gear = upgraded(gear, "gear", version) if gear is not None else None
            crops = upgraded_by_id(crops, "crop", version) if isinstance(crops, Mapping) else crops
    return replace(read_gear(gear, findings), crops=read_crops(crops, findings))


def _seasons(
    root: Path, journal: Journal, findings: Findings
) -> tuple[tuple[Season, ...], tuple[ExperimentFolder, ...]]:
    seasons: list[Season] = []
    folders: list[ExperimentFolder] = []
    seen: dict[str, str] = {}
    unread = Unread(root, journal.ignore, findings)
    names, run_names = PageNames(findings), PageNames(findings)
    for folder in _folders(root / "seasons", unread, names):
        path = folder / "season.yaml"
        if not path.is_file():
            message = f"the season `{folder.name}` has no season.yaml"
            mend = f"write `{name_of(path, root)}` with `title: …`"
            findings.add("missing-file", Source(name_of(folder, root)), message, mend=mend)
            continue
        fields = load_table(path, root, "season", findings)
        if fields is not None:
            seasons.append(Season(folder.name, fields.text("title") or folder.name, fields.text("summary")))
        for inner in _folders(folder, unread, run_names):
            found = _experiment(inner, folder, unread, seen)
            if found is not None:
                folders.append(found)
    return tuple(seasons), tuple(folders)


def _experiment(inner: Path, season: Path, unread: Unread, seen: dict[str, str]) -> ExperimentFolder | None:
    root, findings = unread.root, unread.findings
    if not os.path.isfile(f"{inner}/experiment.yaml"):  # noqa: PTH113 - there are thousands
        message = f"`{inner.name}` has no experiment.yaml"
        mend = f"write `{name_of(inner / 'experiment.yaml', root)}`, or move the folder out of seasons/"
        findings.add("missing-file", Source(name_of(inner, root)), message, mend=mend, found=inner.name)
        report_misnamed_experiment(inner, unread)
        return None
    if inner.name in seen:
        source = Source(name_of(inner / "experiment.yaml", root))
        message = f"`{inner.name}` is also an experiment of {seen[inner.name]}"
        mend = "rename one of the folders"
        findings.add("duplicate-id", source, message, mend=mend, found=inner.name)
        return None
    seen[inner.name] = season.name
    return ExperimentFolder(inner.name, season.name, inner)


def _folders(parent: Path, unread: Unread, names: PageNames) -> Iterator[Path]:
    """The folders whose names are valid ids that a page can be had under, in order."""
    if not parent.is_dir():
        return
    for item in unread.items(parent):
        if not item.is_folder or item.name.startswith("_"):
            continue
        name = Scalar(item.name, Source(item.place))
        if check_id(name, unread.findings) and names.take(name):
            yield item.path


def _pages(root: Path, journal: Journal, findings: Findings) -> Iterator[FreePage]:
    names = PageNames(findings)
    for path in sorted(root.glob("*.md")):
        if not path.exists() or not _is_page(path, root, journal):
            continue
        text = read_markdown(path, root, findings)
        if text is not None and names.take_text(path.name, path.stem):
            _report_blocks(text, path.name, findings)
            yield FreePage(path.stem, text, Source(path.name))


def _is_page(path: Path, root: Path, journal: Journal) -> bool:
    """Whether a file is meant for readers: hidden files, what editors leave behind and drafts of notes are not."""
    name = path.name
    if not is_utf8(name) or is_litter(name) or is_ignored(name, journal.ignore):
        return False
    # Behind a link that leads out nobody looks: that is told where the text is read.
    return leads_out(path, root) or not is_draft(Listed(name, name, path, is_folder=False))


def _report_blocks(text: str, file: str, findings: Findings) -> None:
    """Findings for blocks: a free page is about no experiment, so a block has nothing to place."""
    for block in blocks_in(text, file):
        message = f"a `{block.kind}` block stands in a free page"
        mend = "move it into the recap.md of its experiment, or remove it"
        findings.add(
            "misplaced-block", block.source, message, mend=mend, found=block.kind, expected="a recap"
        )
