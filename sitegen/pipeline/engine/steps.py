"""The build steps: the check, the summary and the pages of one run, and each index page.

In: `Inputs`. Out: the step's result. A step reads nothing but its inputs, so its trace names everything that it was
made from. Functions without a result of their own in the store are intermediate: `Inputs.part` keeps them in memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from sitegen.core.facts.across import RunArms
from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.core.records.log_digest import log_digest
from sitegen.core.records.rows import Run
from sitegen.core.site.blocks import KINDS, blocks_of
from sitegen.core.site.site_map import RunLink, run_link_of
from sitegen.core.values.day import DateRange
from sitegen.pipeline.engine.inputs import Inputs

if TYPE_CHECKING:
    from sitegen.core.site.chart import Chart
    from sitegen.core.site.page import Page
    from sitegen.photos import PhotoSet
    from sitegen.render import IndexPage, RunSummary, SearchedRun


@dataclass(frozen=True, slots=True)
class Check:
    """Findings of reading and judging one run, and the dates on which they stay the same.

    `entries` counts its log, which `log` is a digest of and `log_at` the place of; `link` is what other pages need to
    name it.
    """

    findings: tuple[Finding, ...]
    validity: DateRange = DateRange()  # noqa: RUF009 - frozen
    entries: int = 0
    draft: bool = False
    publish: date | None = None
    link: RunLink | None = None
    log: str = ""
    log_at: Source | None = None

    @property
    def sound(self) -> bool:
        """Whether it can be published."""
        return self.link is not None and not _errors(self.findings)

    def public(self, today: date) -> bool:
        """Whether it is published by a day: drafts are not, and `publish` holds back until its date."""
        return not self.draft and (self.publish is None or self.publish <= today)

    def shown_as_on(self, today: date) -> DateRange:
        """The dates on which it is published, or held back, as on a day."""
        if self.publish is None or self.draft:
            return DateRange()
        if self.publish <= today:
            return DateRange(since=self.publish)
        return DateRange(until=self.publish - timedelta(days=1))


@dataclass(frozen=True, slots=True)
class Rendered:
    """Pages and files that were made together, and findings of making them."""

    pages: tuple[Page, ...]
    findings: tuple[Finding, ...] = ()
    charts: int = 0
    photos: int = 0


def _errors(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    return tuple(finding for finding in findings if finding.is_error)


def check(inputs: Inputs) -> Check:
    """Read and judge a run."""
    run, found = inputs.part(Inputs.records)
    if run is None:
        return Check(found)
    from sitegen.judge.record import holds  # noqa: PLC0415 - what takes checks from the store does without

    return Check(
        (*inputs.part(records_findings), *inputs.part(recap_findings)),
        holds(run, inputs.today),
        len(run.rows.entries),
        run.setup.draft,
        run.setup.publish,
        run_link_of(run),
        log_digest(run.rows),
        run.rows.entries[0].source if run.rows.entries else None,
    )


def records_findings(inputs: Inputs) -> tuple[Finding, ...]:
    """Findings in everything but the recap."""
    run, found = inputs.part(Inputs.records)
    if run is None:
        return found
    from sitegen.judge import judge  # noqa: PLC0415 - what takes checks from the store does without
    from sitegen.judge.causes import judge_causes  # noqa: PLC0415 - as above

    more = (*judge(run, inputs.today), *_shared_findings(run, inputs))
    # Records that could not be read are missing from the run: warnings about their absence would be false.
    all_found = (*found, *(_errors(more) if _errors(found) else more))
    return (*judge_causes(run, all_found, inputs.today), *all_found)


def _shared_findings(run: Run, inputs: Inputs) -> tuple[Finding, ...]:
    if not run.setup.shares:
        return ()
    from sitegen.judge import judge_shares  # noqa: PLC0415 - most runs share no tub

    return judge_shares(run, inputs.part(other_runs), inputs.run_ids())


def other_runs(inputs: Inputs) -> Mapping[str, Run | None]:
    """The runs that a run shares tubs with, by id; None where one cannot be read."""
    run, _ = inputs.part(Inputs.records)
    assert run is not None
    return {share.run: inputs.records_of(share.run) for share in run.setup.shares if share.run != run.id}


def records_with_others(inputs: Inputs) -> Run:
    """A run that can be read, with what logs of other runs that a reader finds have of the tubs that it shares."""
    from sitegen.measure import with_other_logs  # noqa: PLC0415 - most checks do without

    run, _ = inputs.part(Inputs.records)
    assert run is not None  # only sound runs are measured
    if not run.setup.shares:
        return run
    beside = {share.run for share in run.setup.shares} - {run.id}
    return with_other_logs(run, {other: inputs.public_records_of(other) for other in sorted(beside)})


def recap_findings(inputs: Inputs) -> tuple[Finding, ...]:
    """Findings in the recap."""
    # Apart from the records, so that an edit of the text judges only the text.
    run, unread = inputs.part(Inputs.records)
    text, found = inputs.part(Inputs.recap)
    if run is None or not text:
        return found
    from sitegen.judge import judge_recap  # noqa: PLC0415 - what takes checks from the store does without

    whole = replace(run, recap=text)
    more = judge_recap(whole, inputs.today)
    found = (*found, *(_errors(more) if _errors((*unread, *found)) else more))
    sound = not _errors((*inputs.part(records_findings), *found))
    return (*found, *_missing_charts(whole, inputs, sound=sound))


def _missing_charts(run: Run, inputs: Inputs, *, sound: bool) -> Iterator[Finding]:
    """A finding for each block of the recap whose chart the run has no data for; nothing is drawn."""
    asked = [block for block in blocks_of(run) if block.kind == "chart" and block.name]
    if not asked:
        return
    from sitegen.core.site.chart import CHARTS, missing_chart  # noqa: PLC0415 - as below
    from sitegen.plot import charts_with_data  # noqa: PLC0415 - only a recap that places charts needs it

    # A run with errors is not measured: then only names that no run could have are found.
    drawn = [each.name for each, _ in charts_with_data(inputs.part(facts), "metric", str)] if sound else []
    for block in asked:
        if block.name not in drawn and (sound or block.name not in CHARTS):
            message, mend = missing_chart(block.name, drawn)
            yield Finding("unknown-chart", block.at, message, mend, block.name, KINDS["chart"])


def facts(inputs: Inputs) -> Facts:
    """Everything computed from a run that can be read."""
    # Without the recap: an edit of the text measures nothing again.
    from sitegen.measure import measure  # noqa: PLC0415 - most checks do without

    return measure(inputs.part(records_with_others), inputs.prices)


@dataclass(frozen=True, slots=True)
class KeptFacts:
    """The facts of a run and the run as others are compared with it, so that telling it measures nothing.

    Without the samples of sensors, which the facts of days are made from: there may be 100,000 of them.
    """

    facts: Facts
    arms: RunArms


def kept_facts(inputs: Inputs) -> KeptFacts:
    """What commands that print keep of a run."""
    from sitegen.measure import run_arms  # noqa: PLC0415 - most checks do without

    found = inputs.part(facts)
    rows = found.run.rows
    exports = tuple(replace(each, times=(), values=()) for each in rows.exports)
    shorter = replace(found, run=replace(found.run, rows=replace(rows, exports=exports)))
    return KeptFacts(shorter, run_arms(found))


def photos(inputs: Inputs) -> tuple[PhotoSet, tuple[Finding, ...]]:
    """The photos of a run, and findings of decoding them."""
    from sitegen.photos import PROCESSES, process_all  # noqa: PLC0415 - checks do without

    run, _ = inputs.part(Inputs.records)
    assert run is not None
    one = PROCESSES[inputs.encoding]
    return process_all(run, inputs.folder.path / "photos", inputs.store, one)


def charts(inputs: Inputs) -> tuple[Chart, ...]:
    """Every chart that the facts have data for."""
    from sitegen.plot import draw  # noqa: PLC0415 - checks do without

    with inputs.speaking():
        wording = inputs.wording
        found = inputs.part(facts)
        return draw(
            found, units=wording.units, say=wording.say, sentence=wording.say_in_sentence, store=inputs.store
        )


def summary(inputs: Inputs) -> RunSummary:
    """What index pages show of a run."""
    from sitegen.measure import run_arms  # noqa: PLC0415 - most checks do without
    from sitegen.render import summary_of  # noqa: PLC0415 - checks do without

    measured = inputs.part(facts)
    return summary_of(measured, inputs.part(photos)[0].pictures, run_arms(measured))


def searched(inputs: Inputs) -> SearchedRun:
    """What the search knows of a run."""
    from sitegen.render import searched_run  # noqa: PLC0415 - checks do without

    text, _ = inputs.part(Inputs.recap)
    with inputs.speaking():
        run = inputs.part(facts).run
        return searched_run(inputs.part(summary), replace(run, recap=text), inputs.wording)


def run_pages(inputs: Inputs) -> Rendered:
    """The page of a run, its data, photos and the pages at its earlier addresses."""
    from sitegen.core.site.content import ExperimentContent  # noqa: PLC0415 - as below
    from sitegen.render import pages_of  # noqa: PLC0415 - checks do without

    text, _ = inputs.part(Inputs.recap)
    with inputs.speaking():
        pictures, faults = inputs.part(photos)
        drawn = inputs.part(charts)
        context = inputs.context(findings := Findings())
        measured = inputs.part(facts)
        whole = replace(measured, run=replace(measured.run, recap=text))
        written = ExperimentContent(whole, drawn, pictures.pictures)
        shown = inputs.part(summary)
        made = pages_of(context, written, shown, inputs.store, pictures.pages)
        pages = (*made, *pictures.pages)
    return Rendered(pages, (*faults, *findings), len(drawn), len(pictures.pictures))


def rendered_index(page: IndexPage, inputs: Inputs) -> Rendered:
    """An index page, or files that are made together."""
    with inputs.speaking():
        context = inputs.context(findings := Findings())
        pages = tuple(page.make(context))
    return Rendered(pages, tuple(findings))
