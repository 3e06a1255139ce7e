"""One experiment from its files to its pages, as far as it is not known already.

In: a bench, an experiment's folder, where pages go. Out: `Made`: the verdict, the summary and the pages, each kept in the
store. Only one experiment is held at a time; what is handed back is small.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.records.codec import Codec, codec_for
from sitegen.core.records.rows import Run
from sitegen.core.site.chart import Chart
from sitegen.core.site.content import ExperimentContent
from sitegen.core.site.page import Page
from sitegen.core.store import Store, StoredResult
from sitegen.ingest import ExperimentFolder
from sitegen.pipeline.inventory import digest_of
from sitegen.pipeline.parts import Parts, charts_of, parts_of
from sitegen.pipeline.shared import Bench
from sitegen.pipeline.tasks import Task
from sitegen.pipeline.verdicts import Verdict, read_and_judged, verdict_data
from sitegen.render import Listed, RunLink, RunSummary, pages_of, run_link_of, summary_of
from sitegen.write import Content, Staged, stage

if TYPE_CHECKING:
    from sitegen.render import Context


@dataclass(frozen=True, slots=True)
class Record:
    """What is kept of a summary: what links need, whether the author's text has links, and the summary as text."""

    run_link: RunLink
    linked: bool
    digest: str
    text: str

    @property
    def summary(self) -> RunSummary:
        """The summary itself."""
        return _BRIEF.decode(json.loads(self.text))

    @property
    def listed(self) -> Listed:
        """What lists need; the summary is read when it is asked for, and once."""
        return Listed(self.run_link, self.digest, cache(lambda: self.summary))


@dataclass(frozen=True, slots=True)
class Filed:
    """Pages that were made together, as they stand in an output, and what was found while they were made."""

    files: tuple[tuple[str, Content], ...]
    findings: tuple[Finding, ...] = ()
    charts: int = 0
    photos: int = 0


@dataclass(frozen=True, slots=True)
class Made:
    """What came of one experiment; no pages where it is held back, or where errors stop everything."""

    task: Task
    verdict: Verdict
    record: Record | None = None
    needs: str = ""
    filed: Filed | None = None
    staged: tuple[Staged, ...] = ()


@dataclass(frozen=True, slots=True)
class Pages:
    """The pages of one experiment in memory."""

    pages: tuple[Page, ...]
    findings: tuple[Finding, ...]
    record: Record
    charts: int = 0
    photos: int = 0


_BRIEF: Codec[RunSummary] = codec_for(RunSummary)
_OUTLINE: Codec[RunLink] = codec_for(RunLink)
_FINDINGS: Codec[tuple[Finding, ...]] = codec_for(tuple[Finding, ...])


def make(task: Task, bench: Bench, output: Path, *, judge_only: bool = False) -> Made:
    """Read, judge, measure, draw and render one experiment, and write its pages beside their places."""
    run, verdict = read_and_judged(task.folder, bench.journal_files, bench.today, bench.store)
    shown = run is not None and verdict.sound and verdict.public(bench.today) and not judge_only
    if run is None or not shown:
        made = Made(task, verdict)
    else:
        pages = make_pages(task.folder, run, bench)
        staged = tuple(stage(page, output) for page in pages.pages)
        filed = Filed(_contents(staged), pages.findings, pages.charts, pages.photos)
        made = Made(task, verdict, pages.record, needs_of(task, pages.record, bench), filed, staged)
    if task.untouched():
        keep(made, bench)
    return made


def keep(made: Made, bench: Bench) -> None:
    """Remember what came of an experiment."""
    bench.store.put(made.task.key, verdict_data(made.verdict))
    if made.record is not None and made.filed is not None:
        bench.store.put(record_key(made.task, bench), record_data(made.record))
        keep_filed(made.needs, made.filed, bench.store)


def make_pages(folder: ExperimentFolder, run: Run, bench: Bench) -> Pages:
    """The pages of a run, and its summary."""
    parts = parts_of(folder, run, bench)
    return filled(parts, charts_of(parts, bench), bench)


def filled(parts: Parts, charts: Sequence[Chart], bench: Bench) -> Pages:
    """The pages that show some parts, and their summary."""
    context: Context = bench.context.apart(findings := Findings())
    facts, photos = parts.facts, parts.photos
    summary = summary_of(facts, context.wording, photos.pictures)
    written = ExperimentContent(facts, tuple(charts), photos.pictures)
    pages = (*pages_of(context, written, summary, bench.store), *photos.pages)
    record = _record(summary, run_link_of(facts.run.setup))
    return Pages(pages, (*parts.faults, *findings), record, len(charts), len(photos.pictures))


def record_of(parts: Parts, bench: Bench) -> Record:
    """What is kept of an experiment whose pages are not made."""
    summary = summary_of(parts.facts, bench.context.wording, parts.photos.pictures)
    return _record(summary, run_link_of(parts.facts.run.setup))


def file_pages(
    pages: Sequence[Page], findings: Sequence[Finding], output: Path
) -> tuple[Filed, tuple[Staged, ...]]:
    """Pages written beside their places, and what is kept of them."""
    staged = tuple(stage(page, output) for page in pages)
    return Filed(_contents(staged), tuple(findings)), staged


def _contents(staged: Sequence[Staged]) -> tuple[tuple[str, Content], ...]:
    return tuple((one.address, one.content) for one in staged)


def needs_of(task: Task, record: Record, bench: Bench) -> str:
    """The key of an experiment's pages: all that they are made from."""
    around = bench.around(task.folder.id)
    near: list[object] = [(each.id, each.title) if each else None for each in (around.earlier, around.later)]
    near += [[each.id, each.title] if each else None for each in (around.before, around.after)]
    if around.before:
        near += [[around.before.started.isoformat(), around.before.setting]]
    taken = [old for old in record.run_link.was if old in bench.ids]
    links = bench.links if record.linked else ""
    return bench.store.key("pages", task.key, bench.look, near, taken, links)


def record_key(task: Task, bench: Bench) -> str:
    """The key of an experiment's summary."""
    return bench.store.key("pages", "summary", task.key, bench.terms)


def _record(summary: RunSummary, run_link: RunLink) -> Record:
    data = _BRIEF.encode(summary)
    return Record(
        run_link, summary.linked, digest_of(data), json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    )


def record_data(record: Record) -> dict[str, object]:
    """A summary as the store keeps it."""
    run_link = _OUTLINE.encode(record.run_link)
    return {"run_link": run_link, "linked": record.linked, "digest": record.digest, "summary": record.text}


def kept_record(kept: StoredResult | None) -> Record | None:
    """The summary of an entry, if there is one."""
    if kept is None:
        return None
    try:
        value = kept.value
        return Record(_OUTLINE.decode(value["run_link"]), value["linked"], value["digest"], value["summary"])
    except (KeyError, ValueError):
        return None


def keep_filed(needs: str, filed: Filed, store: Store) -> None:
    """Remember what came of some pages."""
    store.put(needs, {"filed": [filed.files, _FINDINGS.encode(filed.findings), filed.charts, filed.photos]})


def kept_filed(kept: StoredResult | None) -> Filed | None:
    """The pages of an entry, if there is one."""
    if kept is None:
        return None
    try:
        files, findings, charts, photos = kept.value["filed"]
        named = tuple([(str(address), (str(digest), int(size))) for address, (digest, size) in files])
        return Filed(named, _FINDINGS.decode(findings), int(charts), int(photos))
    except (KeyError, ValueError, TypeError):
        return None
