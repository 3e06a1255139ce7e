"""What is wrong in texts, found without a page: the same as while the page is made."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.wording import Wording
from sitegen.core.site.blocks import recap_file
from sitegen.core.site.site_map import SiteMap, run_link_of
from sitegen.render.author_text.links import Links
from sitegen.render.author_text.recap import recap_html, value_of
from sitegen.render.author_text.text_findings import every_path, recap_findings
from sitegen.render.numbers.figures import FigureBook
from tests.render.builders import facts, full_run

PAGE = "experiments/first-physalis.html"


def _rendered(text: str, *, raw: bool) -> tuple[Finding, ...]:
    measured, findings = facts(full_run(text)), Findings()
    setup = measured.run.setup
    links = Links(PAGE, SiteMap((run_link_of(measured.run),)), text, recap_file(setup), findings)
    recap_html(measured, FigureBook(Wording(), PAGE), findings, links, raw=raw)
    return tuple(findings)


@pytest.mark.parametrize("raw", [False, True])
@pytest.mark.parametrize(
    "text",
    [
        "It gave {{ facts.harvest.total }} and {{facts.harvest.totl}}, {{ facts.harvest }}.",
        "{% if facts %}{{ 7 * 7 }}{# no #}",
        "[here](first-physalis), [there](first-phisalis), [a value]({{ facts.harvest.total }}), [x](#recap-y)",
        "An <b>old</b> <script>alert()</script> bench, ![a tub](tub.jpg)\n\n<iframe src='x'></iframe>",
        "{{ facts.milestones.first_flower.first }}, {{ facts.milestones.first_flour.first }}",
        "```chart\nheight\n```\n\n{{ facts.plants.P1.height }}",
    ],
)
def test_the_same_is_found_as_on_the_page(text: str, raw: bool) -> None:
    """Values, statements, links, HTML and pictures: each finding, in the same order, at the same place."""
    measured = facts(full_run(text))
    others = SiteMap((run_link_of(measured.run),))

    assert recap_findings(measured.run, lambda: measured, others, raw=raw) == _rendered(text, raw=raw)


def test_a_run_is_measured_only_for_what_may_not_be_there() -> None:
    """A figure that all facts have needs no facts; a stage by its name does."""
    asked: list[str] = []
    run = facts(full_run()).run

    def measured() -> Facts:
        asked.append("asked")
        return facts(run)

    for text in (
        "{{ facts.harvest.total }} in {{ facts.length }}",
        "{{ facts.milestones.first_flower.first }}",
    ):
        assert recap_findings(replace(run, recap=text), measured, SiteMap(), raw=False) == ()
        asked.append(text)

    assert asked == [
        "{{ facts.harvest.total }} in {{ facts.length }}",
        "asked",
        "{{ facts.milestones.first_flower.first }}",
    ]


def test_every_path_is_a_value() -> None:
    """Each path that is taken to be there is a figure of the facts, also of a run with nothing in its log."""
    found = Findings()
    for path in every_path():
        match = re.search(r"(?P<path>.+)", path)
        assert match is not None
        assert value_of(match, Source("f"), facts(full_run()), found) is not None

    assert len(every_path()) > 40
    assert tuple(found) == ()
