"""What all pages of a preview share: the journal, its theme, and what stands for both.

In: a journal as read, its theme. Out: `Ground`. Its `look` leaves out what is in the assets: a page that differs only in
the address of a style sheet need not be made again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from hashlib import blake2b
from pathlib import Path

from sitegen import __version__
from sitegen.core.findings.finding import Findings
from sitegen.core.records.codec import codec_for
from sitegen.core.records.setup import Journal, Season
from sitegen.core.site.page import Page
from sitegen.core.store import Store
from sitegen.ingest import JournalFiles
from sitegen.pipeline.inventory import digest_of
from sitegen.pipeline.shared import Bench
from sitegen.render import Context, Theme, context_of
from sitegen.render.templates.themes import INLINE


@dataclass(frozen=True, slots=True)
class Ground:
    """A bench that knows no experiments yet; `look` stands for everything but assets, `templates` are their names."""

    bench: Bench
    look: str
    templates: tuple[str, ...]
    assets: Mapping[str, Page]

    @property
    def places(self) -> dict[str, str]:
        """Where each asset stands, by its plain name."""
        return {name: page.address for name, page in self.assets.items()}

    @property
    def context(self) -> Context:
        """What templates are filled with, without experiments."""
        return self.bench.context


def ground_of(
    journal_files: JournalFiles, theme: Theme, store: Store, today: date, last: Ground | None
) -> Ground:
    """The ground of a journal; templates that were compiled for the last one are not compiled again."""
    templates = tuple(_names(theme))
    same = last is not None and last.templates == templates
    bench = Bench(journal_files, store, today, theme)
    environment = last.context.environment if last is not None and same else None
    context = context_of(bench.site, theme, (), Findings(), environment=environment)
    bench = Bench(journal_files, store, today, theme, before=context)
    return Ground(bench, _look(journal_files, theme, context.assets), templates, context.assets)


def _names(theme: Theme) -> Iterator[str]:
    for folder in theme.templates:
        yield from sorted(str(path) for path in folder.rglob("*.html"))


def _look(journal_files: JournalFiles, theme: Theme, assets: Mapping[str, Page]) -> str:
    journal = codec_for(Journal).encode(replace(journal_files.journal, output=""))
    seasons = codec_for(tuple[Season, ...]).encode(journal_files.seasons)
    texts = [(page.name, page.markdown.lstrip().partition("\n")[0]) for page in journal_files.pages]
    folders = [_content(folder) for folder in theme.folders]
    return digest_of(
        [__version__, journal, seasons, texts, folders, sorted(assets), journal_files.catalogue.digest]
    )


def _content(folder: Path) -> str:
    found = blake2b(digest_size=16)
    for path in _shaping(folder):
        found.update(f"{path.relative_to(folder).as_posix()}\n".encode())
        found.update(path.read_bytes())
    return found.hexdigest()


def _shaping(folder: Path) -> Iterable[Path]:
    """The files whose content is set into pages."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return (path for path in files if path.parent.name != "assets" or path.name == INLINE)
