"""What all experiments of a journal are made with, and the digests that stand for it in keys.

In: a journal as read, its files, a store. Out: `Bench`. It is made once in each process.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from sitegen import __version__
from sitegen.core.findings.finding import Finding, Findings, Source
from sitegen.core.records.codec import codec_for
from sitegen.core.records.setup import Journal, Season
from sitegen.core.site.content import Site
from sitegen.core.store import Store
from sitegen.ingest import JournalFiles
from sitegen.pipeline.digests import content_of_folder
from sitegen.pipeline.inventory import digest_of
from sitegen.render.pages.links import Neighbours, RunLink, neighbours

if TYPE_CHECKING:
    from sitegen.render import Context, Theme


def theme_of(journal_files: JournalFiles) -> tuple[Theme | None, tuple[Finding, ...]]:
    """The theme of a journal; None with a finding where there is none of its name."""
    from sitegen.render import find_theme  # noqa: PLC0415 - validating does without

    findings = Findings()
    theme = find_theme(
        journal_files.journal.theme, journal_files.root / "look", journal_files.journal.at("theme"), findings
    )
    return theme, tuple(findings)


@dataclass
class Bench:
    """A journal with all that its pages share; `run_links` are the experiments that have a page.

    `linked`: those that a text may name, where there are more of them. `before` is the context of the same journal and
    theme among other experiments, where it is known already.
    """

    journal_files: JournalFiles
    store: Store
    today: date
    theme: Theme
    run_links: tuple[RunLink, ...] = ()
    since: float = 0.0
    linked: tuple[RunLink, ...] = ()
    before: Context | None = None

    @cached_property
    def site(self) -> Site:
        """The site without its experiments."""
        from sitegen.measure import methods  # noqa: PLC0415 - validating does without

        return Site(
            journal=self.journal_files.journal,
            source=Source("journal.yaml"),
            seasons=self.journal_files.seasons,
            texts=self.journal_files.pages,
            methods=methods(),
            products=self.journal_files.library.products,
            look=self.journal_files.root / "look",
            version=__version__,
        )

    @cached_property
    def context(self) -> Context:
        """What templates are filled with."""
        from sitegen.render import context_of  # noqa: PLC0415 - validating does without

        if self.before is not None:
            return self.before.among(self.run_links)
        return context_of(self.site, self.theme, self.run_links, Findings(), self.linked)

    def knowing(self, run_links: Sequence[RunLink]) -> Bench:
        """The same among these experiments."""
        known = tuple(run_links)
        return Bench(
            self.journal_files, self.store, self.today, self.theme, known, self.since, before=self.before
        )

    def around(self, experiment: str) -> Neighbours:
        """The experiments sown before and after one."""
        return self._around.get(experiment, Neighbours())

    @cached_property
    def _around(self) -> dict[str, Neighbours]:
        return neighbours(self.run_links)

    @cached_property
    def look(self) -> str:
        """Stands for everything but experiments that a page is made from."""
        journal = codec_for(Journal).encode(replace(self.journal_files.journal, output=""))
        seasons = codec_for(tuple[Season, ...]).encode(self.journal_files.seasons)
        texts = [(page.name, page.markdown.lstrip().partition("\n")[0]) for page in self.journal_files.pages]
        folders = [content_of_folder(folder) for folder in self.theme.folders]
        dated, words = any(o.dated for o in self.run_links), self.journal_files.catalogue.digest
        return digest_of([__version__, journal, seasons, texts, folders, dated, words])

    @cached_property
    def links(self) -> str:
        """Stands for every page that a text can link to."""
        return digest_of([[o.id, o.crop, o.season, o.systems] for o in self.run_links])

    @cached_property
    def ids(self) -> frozenset[str]:
        """The experiments that have a page."""
        return frozenset(run_link.id for run_link in self.run_links)

    @cached_property
    def terms(self) -> str:
        """Stands for the part of the journal that summaries are made with."""
        journal = self.journal_files.journal
        kept = Journal("", units=journal.units, language=journal.language, prices=journal.prices)
        return digest_of([codec_for(Journal).encode(kept), self.journal_files.catalogue.digest])
