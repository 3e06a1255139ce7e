"""Every text of a journal that is published, or will be, with the files of the site that have it.

In: the journal's files. Out: `PublishedText`s, in the order of files. Files are read as they are: a run with errors has
texts too. Left out is what is never published: `private`, what nothing uses, names of files, questions of viewers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from sitegen.core.files.file_names import is_litter
from sitegen.core.files.inside import files_below
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.records.published_text import PublishedText
from sitegen.core.site.addresses import (
    ASSETS,
    HOME,
    SEARCH_INDEX,
    crop_page,
    experiment_page,
    free_page,
    record_page,
    season_page,
    system_page,
)
from sitegen.ingest.journal import ExperimentFolder, JournalFiles, load_yaml
from sitegen.ingest.text_files import name_of, read_text
from sitegen.ingest.yaml.nodes import Items, Node, Scalar
from sitegen.ingest.yaml.nodes import Mapping as MappingNode

# Keys whose values no file of the site has, ids, and what an author publishes on purpose: a link to oneself.
_NEVER = frozenset(
    (
        *("format", "private", "tell", "draft", "publish", "revised", "readings", "viewer_questions"),
        *("file", "link", "with", "was"),
    )
)
_SETTINGS = frozenset({"title", "tagline", "author", "name"})
_ALL_PAGES = (HOME, "every other page")
# Index pages, feeds and the search say the title of a run; of its other words as much as they have room for.
_IN_LISTS = ("title",)
_IN_RECORD = ("seed", "light", "tubs")
_TABLES = {"harvest": "picks", "from_now": "routines", "milestone": "milestones"}
_CODE = (".css", ".js", ".svg", ".txt")

Keys = tuple[str, ...]


def published_texts(files: JournalFiles, today: date) -> Iterator[PublishedText]:
    """The texts of the shared files, of the runs, of the free pages and of the look."""
    runs = [_Run(folder, files.root, today) for folder in files.folders]
    used = {word for run in runs for word in run.words}
    shown = {word for run in runs if not run.held_back for word in run.words}
    yield from _of_settings(files.root)
    for name in ("gear.yaml", "crops.yaml"):
        yield from _of_library(files.root / name, files.root, used, shown)
    for season in files.seasons:
        held_back = all(run.held_back for run in runs if run.season == season.id)
        for keys, scalar in _scalars(_node(files.root / "seasons" / season.id / "season.yaml", files.root)):
            if keys[-1] in ("title", "summary"):
                yield _text(scalar, (season_page(season.id), HOME, SEARCH_INDEX), held_back=held_back)
    for run in runs:
        yield from run.texts()
    for page in files.pages:
        yield PublishedText(page.markdown, page.source, (free_page(page.name), SEARCH_INDEX), whole_file=True)
    yield from _of_look(files.root)


def _node(path: Path, root: Path) -> Node | None:
    return load_yaml(path, root, Findings(), partly=True) if path.is_file() else None


def _scalars(node: Node | None, keys: Keys = ()) -> Iterator[tuple[Keys, Scalar]]:
    """Every text of some nodes, with the keys that lead to it."""
    if isinstance(node, Scalar):
        if keys and not node.absent:
            yield keys, node
    elif isinstance(node, Items):
        for item in node.items:
            yield from _scalars(item, keys)
    elif isinstance(node, MappingNode):
        for pair in node.pairs:
            yield from _scalars(pair.value, (*keys, pair.key.text))


def _text(scalar: Scalar, files: Sequence[str], *, held_back: bool = False) -> PublishedText:
    return PublishedText(scalar.text, scalar.source, tuple(files), held_back)


def _of_settings(root: Path) -> Iterator[PublishedText]:
    for keys, scalar in _scalars(_node(root / "journal.yaml", root)):
        if keys[0] in _SETTINGS and keys[-1] not in _NEVER:
            yield _text(scalar, _ALL_PAGES)


def _of_library(path: Path, root: Path, used: set[str], shown: set[str]) -> Iterator[PublishedText]:
    """The texts of gear or crops that a run names; held back where none does that is published."""
    for keys, scalar in _scalars(_node(path, root)):
        gear = path.name == "gear.yaml"
        names = keys[1:2] if gear else (keys[0], *(keys[2:3] if keys[1:2] == ("varieties",) else ()))
        if not all(name in used for name in names):
            continue
        own = (
            () if gear and keys[0] != "systems" else (system_page(names[0]) if gear else crop_page(names[0]),)
        )
        back = not all(name in shown for name in names)
        yield _text(scalar, (*own, "the pages and data of the runs with it"), held_back=back)


class _Run:
    """The texts of one run."""

    def __init__(self, folder: ExperimentFolder, root: Path, today: date) -> None:
        self._folder, self._root = folder, root
        self._scalars = tuple(_scalars(_node(folder.path / "experiment.yaml", root)))
        self.season = folder.season
        said = {keys[0]: scalar.text for keys, scalar in self._scalars if len(keys) == 1}
        self.held_back = said.get("draft") == "true" or said.get("publish", "") > today.isoformat()

    @property
    def words(self) -> Iterator[str]:
        """Whatever may name a thing of the library: keys and values."""
        for keys, scalar in self._scalars:
            yield from keys
            yield scalar.text

    def texts(self) -> Iterator[PublishedText]:
        """Those of its set-up and log, and its recap."""
        for keys, scalar in self._scalars:
            if not _NEVER.intersection(keys):
                yield _text(scalar, self._files_of(keys), held_back=self.held_back)
        path = self._folder.path / "recap.md"
        recap = read_text(path, self._root, Findings()) if path.is_file() else None
        if recap:
            source = Source(name_of(path, self._root))
            pages = (experiment_page(self._folder.id), SEARCH_INDEX)
            yield PublishedText(recap, source, pages, self.held_back, whole_file=True)

    def _files_of(self, keys: Keys) -> tuple[str, ...]:
        """The files of the site that have the value of a key."""
        run = self._folder.id
        page, record = experiment_page(run), record_page(run)
        if keys[0] != "log":
            shown = (record,) if keys[0] in _IN_RECORD else (page,)
            lists = (HOME, SEARCH_INDEX) if keys[0] in _IN_LISTS else ()
            return (*shown, *lists, f"data/{run}/datapackage.json")
        table = f"data/{run}/{_TABLES.get(keys[1], 'events') if len(keys) > 1 else 'events'}.csv"
        if "photo" in keys:
            return (page, record)
        if "clip" in keys:  # footage is on no page
            return (table,)
        return (page, record, table)


def _of_look(root: Path) -> Iterator[PublishedText]:
    """Styles, drawings and other text files of the look, which are published as they are."""
    home = root / "look" / "assets"
    for path in sorted(files_below(home, root)):
        place = path.relative_to(home)
        if path.suffix in _CODE and not any(map(is_litter, place.parts)):
            text = read_text(path, root, Findings())
            if text:
                source = Source(name_of(path, root))
                yield PublishedText(
                    text, source, (f"{ASSETS}/{place.as_posix()}",), whole_file=True, code=True
                )
