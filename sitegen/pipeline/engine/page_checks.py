"""The build steps that find what is wrong in texts and templates before a page is made.

In: `Inputs`. Out: findings. `validate` and `write` run the same steps; no chart is drawn, and no photo encoded.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding, Findings
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.inputs import Inputs

if TYPE_CHECKING:
    from sitegen.core.site.chart import Chart

PAGE = "page "  # begins the name of a page that the author wrote; a run's id has no space


def text_findings(inputs: Inputs) -> tuple[Finding, ...]:
    """What is wrong in the recap of a sound run, or in a free page: values, links, HTML, pictures."""
    if inputs.name.startswith(PAGE):
        return _free_page_findings(inputs.name.removeprefix(PAGE), inputs)
    run, _ = inputs.part(Inputs.records)
    text, _ = inputs.part(Inputs.recap)
    if run is None or not text.strip():
        return ()
    from sitegen.render import recap_findings  # noqa: PLC0415 - a run without a recap does without

    def facts() -> Facts:
        return inputs.part(steps.facts)

    return recap_findings(replace(run, recap=text), facts, inputs.others, raw=inputs.takes_html)


def _free_page_findings(name: str, inputs: Inputs) -> tuple[Finding, ...]:
    """What is wrong in a page that the author wrote."""
    from sitegen.render import page_findings  # noqa: PLC0415 - a journal without such pages does without

    return page_findings(inputs.others.text(name), inputs.others, raw=inputs.takes_html)


def template_findings(inputs: Inputs) -> tuple[Finding, ...]:
    """What is wrong in the journal's own templates, filled with the pages of a sound run."""
    from sitegen.core.site.content import ExperimentContent  # noqa: PLC0415 - as below
    from sitegen.render import fill_templates  # noqa: PLC0415 - a journal without templates does without

    text, _ = inputs.part(Inputs.recap)
    with inputs.speaking():
        pictures, faults = inputs.part(steps.photos)
        context = inputs.context(findings := Findings())
        measured = inputs.part(steps.facts)
        whole = replace(measured, run=replace(measured.run, recap=text))
        content = ExperimentContent(whole, inputs.part(undrawn_charts), pictures.pictures)
        fill_templates(context, content, inputs.part(steps.summary))
    return (*faults, *findings)


def undrawn_charts(inputs: Inputs) -> tuple[Chart, ...]:
    """Every chart that the facts have data for, with its words and its table, and no drawing."""
    from sitegen.core.site.chart import NO_DRAWING  # noqa: PLC0415 - as above
    from sitegen.plot import chart_of, charts_with_data  # noqa: PLC0415 - as above

    wording, found = inputs.wording, inputs.part(steps.facts)
    charts = charts_with_data(found, wording.units, wording.say, wording.say_in_sentence)
    return tuple(chart_of(chart.name, data, NO_DRAWING, NO_DRAWING, found.axis.end) for chart, data in charts)


def note_findings(inputs: Inputs) -> tuple[Finding, ...]:
    """What is wrong in the journal's own templates of notes, filled with drafts about a sound run."""
    from sitegen.pipeline.notes.templates import filled_templates  # noqa: PLC0415 - most journals have none

    with inputs.speaking():
        return filled_templates(inputs.note_templates, inputs.part(steps.kept_facts), inputs.wording)


STEPS: Mapping[str, Callable[[Inputs], tuple[Finding, ...]]] = {
    "texts": text_findings,
    "templates": template_findings,
    "notes": note_findings,
}
