"""A journal at one moment: every input of a build, each with its digest.

In: the journal as read, its theme, the files of its runs, links and summaries of the published runs. Out: `Snapshot`.
Build steps never see it: they read through `sitegen.pipeline.engine.inputs`, which records each dependency.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from sitegen import __version__
from sitegen.core.facts.across import RunArms
from sitegen.core.files.inside import files_below, paths_in
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.core.records.codec import codec_for
from sitegen.core.records.setup import Journal, Prices, Season
from sitegen.core.site.site_map import NEAREST, RunLink, SiteMap
from sitegen.core.store import Store
from sitegen.ingest import JournalFiles
from sitegen.ingest.library import Library
from sitegen.pipeline.engine.files import RunFiles, digest_of, folder_digest, text_digest
from sitegen.pipeline.engine.summaries import (
    decoded_arms,
    decoded_earlier,
    decoded_outlook,
    decoded_search,
    decoded_summary,
    earlier_part,
    outlook_part,
    searched_part,
    shown_part,
)

if TYPE_CHECKING:
    from sitegen.core.site.content import Site
    from sitegen.render import Context, EarlierRun, RunSummary, SearchedRun, Theme


DEFAULT_THEME = Journal("").theme

# Photos are encoded while pages are made, when a browser asks for one, or not at all: then pages know their sizes.
Encoding = Literal["now", "later", "never"]


def theme_of(journal_files: JournalFiles) -> tuple[Theme | None, tuple[Finding, ...]]:
    """The theme of a journal; None with a finding where there is none of its name."""
    from sitegen.render import find_theme  # noqa: PLC0415 - validating renders nothing

    journal, findings = journal_files.journal, Findings()
    theme = find_theme(journal.theme, journal_files.root / "look", journal.at("theme"), findings)
    return theme, tuple(findings)


def theme_where_needed(journal_files: JournalFiles) -> tuple[Theme | None, tuple[Finding, ...]]:
    """The theme for what draws nothing: None without a finding where it has nothing to find.

    The theme that journals have by default is there, and its own templates cannot fail.
    """
    if journal_files.journal.theme == DEFAULT_THEME and not has_own_templates(journal_files):
        return None, ()
    return theme_of(journal_files)


def has_own_templates(journal_files: JournalFiles) -> bool:
    """Whether the journal has a template of its own."""
    root = journal_files.root
    return any(path.suffix == ".html" for path in files_below(root / "look" / "templates", root))


@dataclass
class Settings:
    """What all runs of a journal share, with its digests. Validating does without a theme.

    `before` are the settings of the build before, whose templates are compiled.
    """

    journal_files: JournalFiles
    theme: Theme | None = None
    before: Settings | None = None

    @property
    def journal(self) -> Journal:
        """The settings of journal.yaml."""
        return self.journal_files.journal

    @cached_property
    def site(self) -> Site:
        """The site without its runs."""
        from sitegen.core.site.content import Site  # noqa: PLC0415 - as below
        from sitegen.measure import ACROSS, methods  # noqa: PLC0415 - only where pages are rendered

        return Site(
            journal=self.journal,
            source=Source("journal.yaml"),
            across=ACROSS,
            seasons=self.journal_files.seasons,
            texts=self.journal_files.pages,
            methods=methods(),
            products=self.journal_files.library.products,
            look=self.journal_files.root / "look",
            version=__version__,
        )

    @cached_property
    def context(self) -> Context:
        """The context that pages are given copies of; it knows no other page."""
        from sitegen.render import context_of  # noqa: PLC0415 - validating renders nothing

        assert self.theme is not None
        # Compiling templates takes 0.1 s. An environment sees an edited template by itself, but not a new one that goes
        # before it: so it is used again only where the same files are there.
        before, self.before = self.before, None  # settings of earlier builds are not kept for ever
        same = before is not None and before.templates == self.templates
        environment = before.context.environment if before is not None and same else None
        return context_of(self.site, self.theme, SiteMap(), Findings(), environment)

    @cached_property
    def has_own_templates(self) -> bool:
        """Whether the journal has a template of its own."""
        return has_own_templates(self.journal_files)

    @cached_property
    def has_note_templates(self) -> bool:
        """Whether the journal has a template of its own for notes."""
        root = self.journal_files.root
        return any(path.suffix == ".md" for path in paths_in(root / "look" / "notes", root))

    @cached_property
    def templates(self) -> tuple[str, ...]:
        """The template files of the theme and of the journal, as they were when this was first asked for."""
        theme = self.theme
        if theme is None:
            return ()
        paths = (path for folder in theme.folders for path in theme.files(folder, "templates"))
        return tuple(str(path) for path in paths if path.suffix == ".html")

    # Digests. Each covers what one question of `Inputs` can answer, and no more: a price that changes makes no page
    # again whose run has nothing to pay for.

    @cached_property
    def library_digest(self) -> str:
        """Stands for what reading a run depends on beside its files: the library, zone, units of mends, `ignore:`."""
        library = codec_for(Library).encode(self.journal_files.library)
        return digest_of([library, self.journal.timezone, self.journal.units, self.journal.ignore])

    @cached_property
    def wording_digest(self) -> str:
        """Stands for units, language and the words of the catalogue."""
        return digest_of([self.journal.units, self.journal.language, self.journal_files.catalogue.digest])

    @cached_property
    def note_templates_digest(self) -> str:
        """Stands for the journal's own templates of notes, and the address that notes name."""
        root = self.journal_files.root
        return digest_of([folder_digest(root / "look" / "notes", root), self.journal.address])

    @cached_property
    def prices_digest(self) -> str:
        """Stands for the journal's prices."""
        return digest_of(codec_for(Prices).encode(self.journal.prices))

    @cached_property
    def site_digest(self) -> str:
        """Stands for everything that each page is made with: settings, seasons, navigation, theme, words, library."""
        assert self.theme is not None
        # Titles of free pages stand in the navigation of every page; their texts are dependencies of their own.
        titles = [(page.name, page.markdown.lstrip().partition("\n")[0]) for page in self.journal_files.pages]
        # Where the site is written to shows on no page, nor do the lines on which settings stand.
        journal = codec_for(Journal).encode(replace(self.journal, output="", spans=()))
        seasons = codec_for(tuple[Season, ...]).encode(self.journal_files.seasons)
        root, look = self.journal_files.root, self.theme.look
        folders = [folder_digest(each, root if each == look else None) for each in self.theme.folders]
        words = [self.wording_digest, self.library_digest]
        return digest_of([__version__, journal, seasons, titles, folders, words])


class NotToldError(LookupError):
    """A step reads a run whose files its worker process was not told."""


@dataclass
class Snapshot:
    """All inputs of a build; `summaries` are those of published runs as text, as far as they are up to date."""

    settings: Settings
    store: Store
    today: date
    runs: dict[str, RunFiles]
    site_map: SiteMap = field(default_factory=SiteMap)
    summaries: Mapping[str, str] = field(default_factory=dict)
    encoding: Encoding = "now"
    is_worker: bool = False
    # Computed when a trace first asks: a digest of 300 summaries is not needed to make one page again. They are not
    # handed on when the snapshot is replaced by a later one, since any of them may differ there.
    _digests: dict[str, str] = field(init=False, default_factory=dict)

    def for_worker(self) -> Snapshot:
        """The same for another process."""
        # It compiles templates of its own, which cannot be sent, and is told the files of each run with the order.
        settings = Settings(self.settings.journal_files, self.settings.theme)
        site_map = replace(self.site_map)
        return replace(self, settings=settings, runs={}, site_map=site_map, is_worker=True)

    def learn(self, files: Mapping[str, RunFiles] | None = None, *, summaries: Mapping[str, str]) -> None:
        """Take in files of runs, and summaries that were made since: what rests on summaries has another digest now."""
        self.runs |= files or {}
        if summaries:
            self.summaries = {**self.summaries, **summaries}
            self._digests = {
                d: found for d, found in self._digests.items() if not d.startswith(_OF_SUMMARIES)
            }

    def digest(self, dependency: str) -> str:
        """The digest of an input; empty where there is no such input any more."""
        found = self._digests.get(dependency)
        if found is None:
            kind, _, name = dependency.partition(" ")
            found = self._digests[dependency] = _DIGESTS[kind](self, name)
        return found

    def holds(self, trace: Mapping[str, str]) -> bool:
        """Whether every input of a trace is what it was."""
        return all(self.digest(dependency) == digest for dependency, digest in trace.items())

    def _files(self, part: str, run: str) -> str:
        files = self.runs.get(run)
        if files is None and self.is_worker:
            raise NotToldError(run)
        return getattr(files, part) if files is not None else "absent"

    def _neighbours(self, run: str) -> str:
        around = self.site_map.neighbours(run)
        return text_digest(repr((around.earlier, around.later, around.after)))

    def arms(self) -> Iterator[RunArms]:
        """Every run that has a summary, as comparisons take it, in the order of the site map."""
        for link in self.site_map.links:
            found = decoded_arms(self.summaries[link.id]) if link.id in self.summaries else None
            if found is not None:
                yield found

    def decoded_summaries(self, *selection: str) -> list[RunSummary]:
        """Summaries of the runs whose field is a name (`season 2026-first`); of all without either."""
        return [decoded_summary(self.summaries[link.id]) for link in self.site_map.selected(*selection)]

    def decoded_nearest(self, run: str) -> list[EarlierRun]:
        """What the page of a run shows of the last few runs of its crop before it."""
        return [decoded_earlier(self.summaries[link.id]) for link in self._nearest(run)]

    def decoded_for_outlook(self, run: str, log: str) -> list[RunArms]:
        """What the outlook of a run reads of those before it that are no copies of `log`."""
        return [decoded_outlook(*parts) for parts in self._outlook_parts(run, log)]

    def _nearest(self, run: str) -> Sequence[RunLink]:
        return self.site_map.before(run)[-NEAREST:]

    def _outlook_parts(self, run: str, own: str) -> Iterator[tuple[str, str]]:
        """Of each earlier run a name of its log, and what an outlook reads.

        Copies share a name: it is none of the digests, which change with every entry.
        """
        names: dict[str, str] = {}
        for link in self.site_map.before(run):
            log, part = outlook_part(self.summaries.get(link.id, ""))
            if log not in ("", own):
                yield names.setdefault(log, f"log of {link.id}"), part

    def decoded_searches(self) -> list[SearchedRun]:
        """What is searched of each run."""
        return [decoded_search(self.summaries[link.id]) for link in self.site_map.links]

    def _shown_earlier(self, run: str) -> str:
        found = self.summaries
        return text_digest(repr([earlier_part(found.get(link.id, "")) for link in self._nearest(run)]))

    def _read_for_outlook(self, run_and_log: str) -> str:
        return text_digest(repr(list(self._outlook_parts(*run_and_log.split(" ")))))

    def _searched(self) -> str:
        found = self.summaries
        return text_digest(
            repr([(link.id, searched_part(found.get(link.id, ""))) for link in self.site_map.links])
        )

    def _summaries(self, selection: str) -> str:
        # A run whose summary is not made yet stands as None: a page that listed it is out of date then.
        selected, found = self.site_map.selected(*selection.split(" ", 1)), self.summaries
        shown = [(link.id, shown_part(found[link.id]) if link.id in found else None) for link in selected]
        return text_digest(repr(shown))

    def _text(self, name: str) -> str:
        return text_digest(repr([text for text in self.site_map.free if text.name == name]))


# The kinds below whose digest rests on summaries.
_OF_SUMMARIES = ("summaries", "nearest", "for_outlook", "searched")

# How the digest of each kind of input is computed; a kind that is not listed cannot be read.
_DIGESTS: Mapping[str, Callable[[Snapshot, str], str]] = {
    "library": lambda snapshot, _: snapshot.settings.library_digest,
    "wording": lambda snapshot, _: snapshot.settings.wording_digest,
    "raw_html": lambda snapshot, _: str(snapshot.settings.journal.raw_html),
    "note_templates": lambda snapshot, _: snapshot.settings.note_templates_digest,
    "prices": lambda snapshot, _: snapshot.settings.prices_digest,
    "site": lambda snapshot, _: snapshot.settings.site_digest,
    "records": lambda snapshot, run: snapshot._files("records", run),
    "recap": lambda snapshot, run: snapshot._files("recap", run),
    "neighbours": Snapshot._neighbours,
    "summaries": Snapshot._summaries,
    "nearest": Snapshot._shown_earlier,
    "for_outlook": Snapshot._read_for_outlook,
    "searched": lambda snapshot, _: snapshot._searched(),
    "text": Snapshot._text,
    "address": lambda snapshot, name: snapshot.site_map.address(name) or "",
    "published": lambda snapshot, run: str(snapshot.site_map.published(run)),
    # In their order: a finding lists the first of them.
    "names": lambda snapshot, _: digest_of(list(snapshot.site_map.names())),
    "has_feed": lambda snapshot, _: str(snapshot.site_map.has_feed()),
    "title": lambda snapshot, run: snapshot.site_map.title(run),
    "reached": lambda snapshot, day: str(date.fromisoformat(day) <= snapshot.today),
    "run_ids": lambda snapshot, _: digest_of([f.id for f in snapshot.settings.journal_files.folders]),
    "runs": lambda snapshot, _: text_digest(repr(snapshot.site_map.links)),
    "texts": lambda snapshot, _: text_digest(repr(snapshot.site_map.free)),
}
